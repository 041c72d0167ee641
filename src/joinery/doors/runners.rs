//! Drawer runners: a pair of rails at the sides of a drawer, one member on the
//! drawer, one on the case.

use crate::geometry::{DVec3, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::TOUCH;
use crate::joinery::bench::opening::Opening;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::bench::worked::{CuttingPlane, Insert};
use crate::joinery::facts::Facts;
use crate::joinery::facts::bore::Bore;
use crate::joinery::facts::doors::{DoorFitting, Runner};
use crate::joinery::facts::item::{Ironmongery, Size};
use crate::model::{OptionKind, OptionSpec, Side, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `runners`.
pub(in crate::joinery) struct Runners;

/// What `runners` says of itself.
static WORD: Word = Word {
    name: "runners",
    args: PAIR,
    options: &[
        OptionSpec {
            key: "long",
            kind: OptionKind::Length { min: 150.0, max: 1000.0 },
            default: &[
                Usual::Words("the longest on sale that the drawer's side takes: "),
                Usual::Bare(SHORTEST),
                Usual::Words(" to "),
                Usual::Sold(LONGEST),
                Usual::Words(" in steps of "),
                Usual::Sold(LENGTHS_APART),
            ],
            says: "length of the runner shut",
        },
        OptionSpec {
            key: "clearance",
            kind: OptionKind::Length { min: 3.0, max: 30.0 },
            default: &[Usual::Length(CLEARANCE)],
            says: "space the runner needs between drawer and case: its maker's figure",
        },
        OptionSpec {
            key: "height",
            kind: OptionKind::Length { min: 5.0, max: 500.0 },
            default: &[Usual::Words("the middle of the drawer's side")],
            says: "from the lower edge of the drawer's side to the middle of the runner",
        },
        OptionSpec {
            key: "first",
            kind: OptionKind::Length { min: 20.0, max: 120.0 },
            default: &[Usual::Sold(FIRST)],
            says: "from the front of the runner to its first hole in the case",
        },
    ],
    says: "lets a drawer run on a runner: the first part is the drawer's side, the second the side of the case",
    rule: "12.7 mm (1/2 in) of space at each side, up to 0.8 mm more and none less; holes in the case 5 mm, the first \
           37 mm from the front, the others multiples of 32 mm behind it (common practice, from memory; the runner \
           maker's sheet comes first)",
    example: "runners(drawer_side, side, #{ long: 400 });",
};

/// Lengths on sale, mm, longest first.
const LONG: &[f64] = &[
    LONGEST,
    LONGEST - LENGTHS_APART,
    LONGEST - 2.0 * LENGTHS_APART,
    LONGEST - 3.0 * LENGTHS_APART,
    SHORTEST + 3.0 * LENGTHS_APART,
    SHORTEST + 2.0 * LENGTHS_APART,
    SHORTEST + LENGTHS_APART,
    SHORTEST,
];
/// See `LONG`.
const LONGEST: f64 = 600.0;
/// See `LONG`.
const LENGTHS_APART: f64 = 50.0;
/// How much more space than its own a runner bears, mm.
const MORE: f64 = 0.8;
/// Space a runner takes at either side of a drawer, mm: half an inch.
const CLEARANCE: f64 = 12.7;
/// The shortest of `LONG`, mm.
const SHORTEST: f64 = 250.0;
/// The holes in the case: of a system row.
const CASE_HOLE: Bore = Bore { wide: 5.0, deep: 12.0 };
/// The pilot holes in the drawer.
const PILOT: Bore = Bore { wide: 2.5, deep: 9.0 };
/// Least wood left under either, mm.
const UNDER: f64 = 1.0;
/// From the front of the case to the first hole, mm: that of a system row.
const FIRST: f64 = 37.0;
/// From the last hole to the end of the runner at least, mm.
const LAST: f64 = 20.0;
/// From the ends of the runner to the outer pilot holes, mm.
const PILOT_INSET: f64 = 35.0;
/// Steps of the rows of holes in the case, mm.
const STEP: f64 = 32.0;
/// Half the height a runner takes, mm.
const HALF_HIGH: f64 = 23.0;

/// Drawer and case, piece coordinates.
struct Run {
    drawer: usize,
    case: usize,
    /// Out of the drawer's side towards the case's.
    outward: DVec3,
    /// Out of the case along the drawer's side: the way it is drawn.
    front: DVec3,
    /// Upwards.
    up: DVec3,
    long: f64,
}

impl Joinery for Runners {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (drawer, case) = bench.pair(work)?;
        let run = run(bench, work, drawer, case)?;
        let (side, wall) = (&bench.placed[drawer], &bench.placed[case]);
        let space = wall.reach(run.outward).0 - side.reach(run.outward).1;
        let clearance = work.options.number("clearance").unwrap_or(CLEARANCE);
        // Too little and the drawer jams, too much and the runner hangs in the air.
        if space < clearance - TOUCH || space > clearance + MORE + TOUCH {
            return Err(wrong_space(bench, work, &run, space, clearance));
        }
        let (low, high) = side.reach(run.up);
        let at = low + work.options.number("height").unwrap_or(0.5 * (high - low));
        // The runner may stand out over the drawer's side, but on the case all of it
        // must find wood.
        if at > high || wall.reach(run.up).0 > at - HALF_HIGH || wall.reach(run.up).1 < at + HALF_HIGH {
            let message = format!(
                "a runner {} above the lower edge of `{}` has no room on `{}`: it is {} high",
                bench.mm(at - low),
                bench.name(drawer),
                bench.name(case),
                bench.mm(2.0 * HALF_HIGH)
            );
            return Err(bench
                .error(work, "does-not-fit", message, &[drawer, case])
                .help("change `height`, or leave more of the case above and below"));
        }
        let made = made(bench, work, &run, at)?;
        Ok(vec![made])
    }
}

/// How the drawer's side stands to the case's, and how long the runner is.
fn run(bench: &Bench<'_>, work: &Work, drawer: usize, case: usize) -> Result<Run, Problem> {
    let (side, wall) = (&bench.placed[drawer], &bench.placed[case]);
    let thin = side.axis(2);
    let outward = if thin.dot(wall.centre() - side.centre()) < 0.0 { -thin } else { thin };
    let long_axis = side.axis(0);
    // To the front of the piece where the side runs that way; else as its grain was
    // drawn.
    let front = if long_axis.dot(Side::Front.normal()) < -TOUCH { -long_axis } else { long_axis };
    let up = outward.cross(front);
    let up = if up.dot(Side::Top.normal()) < 0.0 { -up } else { up };
    if wall.axis_along(outward) != Some(2) || wall.axis_along(front).is_none() {
        let message =
            format!("`{}` does not stand beside `{}`, face to face", bench.name(drawer), bench.name(case));
        return Err(bench
            .error(work, "not-square", message, &[drawer, case])
            .help("name the side of the drawer first, then the side of the case it runs along"));
    }
    // The runner begins at the front of the drawer's side and ends in the case.
    let begin = side.reach(front).1.min(wall.reach(front).1);
    let room = (begin - side.reach(front).0).min(begin - wall.reach(front).0);
    let asked = work.options.number("long");
    // The longest that fits: it carries the drawer furthest out.
    let long = asked.or_else(|| LONG.iter().copied().find(|long| *long <= room + TOUCH));
    if let Some(long) = long.filter(|long| *long <= room + TOUCH) {
        return Ok(Run { drawer, case, outward, front, up, long });
    }
    let message = format!(
        "`{}` and `{}` have {} beside one another, too little for a runner of {}",
        bench.name(drawer),
        bench.name(case),
        bench.mm(room.max(0.0)),
        bench.mm(asked.unwrap_or(SHORTEST))
    );
    Err(bench
        .error(work, "does-not-fit", message, &[drawer, case])
        .help("use a shorter runner with `long`, or make the drawer longer"))
}

/// The drawer is too wide or too narrow for its runners.
fn wrong_space(bench: &Bench<'_>, work: &Work, run: &Run, space: f64, clearance: f64) -> Problem {
    let message = format!(
        "between `{}` and `{}` there is {}; the runner needs {}, up to {} more",
        bench.name(run.drawer),
        bench.name(run.case),
        bench.mm(space),
        bench.mm(clearance),
        bench.mm(MORE)
    );
    bench.error(work, "wrong-clearance", message, &[run.drawer, run.case]).help(format!(
        "make the drawer {} {} than the opening: {} at each side",
        bench.mm(2.0 * clearance),
        "narrower",
        bench.mm(clearance)
    ))
}

/// Refuses sides that the screws of a runner would come out of.
fn thick_enough(bench: &Bench<'_>, work: &Work, run: &Run) -> Result<(), Problem> {
    let (side, wall) = (bench.placed[run.drawer].size.z, bench.placed[run.case].size.z);
    if PILOT.deep <= side - UNDER + TOUCH && CASE_HOLE.deep <= wall - UNDER + TOUCH {
        return Ok(());
    }
    let message = format!(
        "`{}` is {} thick and `{}` {}: the screws of a runner need {} and {}",
        bench.name(run.drawer),
        bench.mm(side),
        bench.name(run.case),
        bench.mm(wall),
        bench.mm(PILOT.deep + UNDER),
        bench.mm(CASE_HOLE.deep + UNDER)
    );
    Err(bench.error(work, "breaks-through", message, &[run.drawer, run.case]).help("use thicker stock there"))
}

/// Holes in both, and what is bought.
fn made(bench: &Bench<'_>, work: &Work, run: &Run, at: f64) -> Result<Made, Problem> {
    let (side, wall) = (&bench.placed[run.drawer], &bench.placed[run.case]);
    let (outer, inner) = (side.reach(run.outward).1, wall.reach(run.outward).0);
    thick_enough(bench, work, run)?;
    let begin = side.reach(run.front).1.min(wall.reach(run.front).1);
    let first = work.options.number("first").unwrap_or(FIRST);
    let place = |across: f64, back: f64| run.outward * across + run.front * (begin - back) + run.up * at;
    // The first hole, the last that the runner reaches, and one between them.
    let most = ((run.long - first - LAST) / STEP).floor().max(1.0);
    let in_case = [0.0, (0.5 * most).floor(), most].map(|k| first + STEP * k);
    let in_drawer = [PILOT_INSET, 0.5 * run.long, run.long - PILOT_INSET];
    let mut made = Made { parts: vec![run.drawer, run.case], ways_in: vec![run.front], ..Made::default() };
    let mut bore = |part, start, along, hole: Bore| {
        let shape = Prism::hole(start, along, hole.deep, hole.wide);
        made.cuts.extend(shape.map(|shape| Sawn { part, kind: CutKind::FittingHole, shape }));
    };
    for back in in_case {
        bore(run.case, place(inner, back), run.outward, CASE_HOLE);
    }
    for back in in_drawer {
        bore(run.drawer, place(outer, back), -run.outward, PILOT);
    }
    let item = Ironmongery::Runner(Size::of(run.long)).into();
    let middle = Placement::looking(place(outer, 0.5 * run.long), run.outward, run.front);
    made.inserts.push(Insert { item, at: middle.into_iter().collect(), body: None });
    made.facts = Facts::Doors(DoorFitting::Runner(Runner {
        long: run.long,
        case_hole: CASE_HOLE,
        case_at: in_case,
        drawer_pilot: PILOT,
    }));
    // Across the runner, through its first hole: along it there is little to see.
    made.shown_by = Some(CuttingPlane { point: place(inner, in_case[0]), toward: run.front });
    // A full extension: as far as it is long.
    made.opens = Some(Opening::Slides { toward: run.front, by: run.long });
    Ok(made)
}
