//! Butt hinges: both leaves let in, the knuckle outside.
//!
//! Where the leaves lie follows from how the parts stand: an inset door shuts
//! against the inside of its frame, a lid lies on its back; the knuckle stands at
//! the faces that are flush.

use super::shut;
use super::weighed::usual_count;
use crate::geometry::{Corner, DVec2, DVec3, Interval, Outline, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::{Rect, TOUCH, meeting, shared, side_of};
use crate::joinery::bench::opening::Opening;
use crate::joinery::bench::opening::QUARTER;
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::row::{Ends, SetOut};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::bench::tolerance::{LOOKS, NOISE};
use crate::joinery::bench::worked::Insert;
use crate::joinery::facts::doors::DoorFitting;
use crate::joinery::facts::item::{Fastener, Ironmongery, sizes};
use crate::joinery::facts::{self, Facts};
use crate::measure::{INCH, Unit};
use crate::model::{OptionKind, OptionSpec, Side, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;
use crate::timber::numbered::drills;
use crate::timber::screws::SOFT;

/// The word `butt_hinges`.
pub(in crate::joinery) struct ButtHinges;

/// What `butt_hinges` says of itself.
static WORD: Word = Word {
    name: "butt_hinges",
    args: PAIR,
    options: &[
        OptionSpec {
            key: "leaf",
            kind: OptionKind::Pair,
            default: &[
                Usual::Pair(USUAL.long, USUAL.wide),
                Usual::Words(", "),
                Usual::Pair(LARGE.long, LARGE.wide),
                Usual::Words(" over "),
                Usual::Length(HIGH_DOOR),
                Usual::Words(" of height, "),
                Usual::Pair(SMALL.long, SMALL.wide),
                Usual::Words(" in thin parts"),
            ],
            says: "length of the hinge and how far a leaf reaches in from the face, such as \"50x14\"",
        },
        OptionSpec {
            key: "knuckle",
            kind: OptionKind::Length { min: 2.0, max: 20.0 },
            default: &[Usual::Length(KNUCKLE)],
            says: "thickness of the hinge when shut: the diameter of its knuckle",
        },
        OptionSpec {
            key: "thick",
            kind: OptionKind::Length { min: 0.5, max: 6.0 },
            default: &[Usual::Length(LEAF)],
            says: "thickness of one leaf",
        },
        OptionSpec {
            key: "screw",
            kind: OptionKind::Pair,
            default: &[Usual::Pair(SCREW.0, SCREW.1)],
            says: "diameter and length of the screws, such as \"3x16\"",
        },
        OptionSpec {
            key: "screws",
            kind: OptionKind::Count { min: 2, max: 5 },
            default: &[
                Usual::Count(SCREWS),
                Usual::Words(", in leaves shorter than "),
                Usual::Length(SHORT),
                Usual::Words(" "),
                Usual::Count(FEW_SCREWS),
            ],
            says: "screws in one leaf",
        },
        OptionSpec {
            key: "count",
            kind: OptionKind::Count { min: 1, max: 8 },
            default: &[Usual::Words("by the door's height and weight, as for cup hinges")],
            says: "how many hinges",
        },
        OptionSpec {
            key: "from_end",
            kind: OptionKind::Length { min: 5.0, max: 1000.0 },
            default: &[Usual::Words("the hinge's length, at most an eighth of the door's height")],
            says: "from the ends of the door to the outer hinges",
        },
        OptionSpec {
            key: "opens",
            kind: OptionKind::Side,
            default: &[Usual::Words("the side where both faces are flush, the front before the back")],
            says: "the side of the piece where the knuckle stands",
        },
        OptionSpec {
            key: "swing",
            kind: OptionKind::Angle { min: 20.0, max: 180.0 },
            default: &[Usual::Angle(QUARTER)],
            says: "how far the door opens: it is drawn so, and nothing may be in its way",
        },
    ],
    says: "hangs a door or lid on butt hinges let into both parts: the first part is the door, the second what carries it",
    rule: "recess in each part half of what the shut hinge is thicker than the gap; the outer hinges their own length \
           from the ends (common practice, no source)",
    example: "butt_hinges(door, side, #{ leaf: \"50x14\", count: 2 });",
};

/// The usual hinges by what they need (common practice, no source): a wide one for high
/// doors, a narrow one where the parts are thin.
const USUAL: Leaf = Leaf { long: 50.0, wide: 14.0 };
/// See `USUAL`.
const LARGE: Leaf = Leaf { long: 63.0, wide: 17.0 };
/// See `USUAL`.
const SMALL: Leaf = Leaf { long: 38.0, wide: 11.0 };
/// The same three, usual, large and small, as they are sold by the inch, their screws in the
/// middle on a mark of a rule (common practice, no source).
const INCH_LEAVES: [Leaf; 3] = [
    Leaf { long: 2.0 * INCH, wide: 0.625 * INCH },
    Leaf { long: 2.5 * INCH, wide: 0.75 * INCH },
    Leaf { long: 1.5 * INCH, wide: 0.5 * INCH },
];
/// Height of a door from which large hinges are taken where the wood allows, mm.
const HIGH_DOOR: f64 = 800.0;
/// Thickness of a usual hinge when shut, and of one of its leaves, mm.
const KNUCKLE: f64 = 5.5;
/// See `KNUCKLE`.
const LEAF: f64 = 2.0;
/// Both as they are sold by the inch: the gap they ask for is 1/16 in.
const INCH_KNUCKLE: (f64, f64) = (0.25 * INCH, 3.0 / 32.0 * INCH);
/// The usual screws: diameter and length, mm.
const SCREW: (f64, f64) = (3.0, 16.0);
/// Screws of a leaf, and of a short one.
const SCREWS: u32 = 3;
/// See `SCREWS`.
const FEW_SCREWS: u32 = 2;
/// Leaves shorter than this are held by two screws rather than three, mm.
const SHORT: f64 = 45.0;
/// Furthest of the outer hinges from the ends, as a share of the door's height.
const END_SHARE: f64 = 0.125;
/// From the first screw of a leaf to its last, as a share of its length.
const SCREW_SPAN: f64 = 0.72;
/// Steps of the same in a job in inches, mm: of two and of three screws each stands on a
/// sixteenth.
const SPAN_STEP: f64 = INCH / 8.0;
/// Least wood round a screw's pilot hole, mm: it splits thinner wood.
const ROUND_SCREW: f64 = 1.0;
/// How much shorter than its screw a pilot hole is, mm: the point draws itself in.
const POINT: f64 = 2.0;
/// The same in a job in inches.
const INCH_POINT: f64 = INCH / 8.0;
/// How far faces may be out of flush at the knuckle, mm.
const FLUSH: f64 = 0.5;
/// How far a recess is cut past the faces it opens, mm.
const BEYOND: f64 = 1.0;

/// Door and frame, piece coordinates.
struct Hung {
    door: usize,
    frame: usize,
    /// Out of the frame, towards the door.
    normal: DVec3,
    /// Along the hinges.
    run: DVec3,
    /// To the knuckle.
    out: DVec3,
    /// The frame's face along `normal`, and the gap to the door.
    face: f64,
    gap: f64,
    /// The face at the knuckle along `out`, door's and frame's.
    front: (f64, f64),
    /// What both share along `run`.
    span: Interval,
}

/// A leaf: length of the hinge, and how far it reaches in from the face, mm.
struct Leaf {
    long: f64,
    wide: f64,
}

/// What of a hinge is let into one of the parts.
struct LetIn {
    part: usize,
    /// The part's face at the gap, along the way out of the frame.
    face: f64,
    /// Into the part.
    into: DVec3,
    /// The part's face at the knuckle.
    front: f64,
}

/// The hinge, mm.
struct Hinge {
    long: f64,
    wide: f64,
    knuckle: f64,
    deep: f64,
    screw: (f64, f64),
    screws: u32,
    /// Thickness of a leaf, mm.
    thick: f64,
    /// From the first screw of a leaf to its last, mm.
    span: f64,
}

impl Joinery for ButtHinges {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (door, frame) = bench.pair(work)?;
        let hung = hung(bench, work, door, frame)?;
        let hinge = hinge(bench, work, &hung)?;
        let places = places(bench, work, &hung, &hinge)?;
        let mut made = Made { parts: vec![door, frame], ..Made::default() };
        made.cuts = cut(bench, work, &hung, &hinge, &places)?;
        made.inserts.extend(listed(&hung, &hinge, &places));
        let middle = hung.span.middle();
        // The pin stands half before the faces and half way across the gap.
        let about = hung.normal * (hung.face + 0.5 * hung.gap)
            + hung.out * (hung.front.0.max(hung.front.1) + 0.5 * hinge.knuckle)
            + hung.run * middle;
        let blank = &bench.placed[door];
        let size = |along: DVec3| blank.reach(along).1 - blank.reach(along).0;
        // A door's free edge comes out to the knuckle's side, a lid's up from
        // what it lies on.
        let toward = if size(hung.out) > size(hung.normal) { hung.normal } else { hung.out };
        made.opens = Some(Opening::Swings {
            about,
            axis: hung.run,
            toward,
            by: work.options.number("swing").unwrap_or(QUARTER),
        });
        made.ways_in = vec![toward];
        made.facts = Facts::Doors(DoorFitting::ButtHinges(facts::doors::ButtHinges {
            count: places.len(),
            long: hinge.long,
            wide: hinge.wide,
            deep: hinge.deep,
            open: side_of(hung.out),
            pilot: drills(hinge.screw.0, SOFT).pilot,
        }));
        Ok(vec![made])
    }
}

/// How door and frame stand; a problem where no hinge can join them.
fn hung(bench: &Bench<'_>, work: &Work, door: usize, frame: usize) -> Result<Hung, Problem> {
    let (leaf, wall) = (&bench.placed[door], &bench.placed[frame]);
    if !bench.are_square(door, frame) {
        return Err(shut::askew(bench, work, (door, frame)));
    }
    let m = meeting(leaf, wall);
    if m.gap < -TOUCH {
        return Err(bench.crossing(work, door, frame, m));
    }
    let Some(Rect { along: run, .. }) = shared(leaf, wall, m.normal, m.face) else {
        let message =
            format!("`{}` does not shut against a face of `{}`", bench.name(door), bench.name(frame));
        return Err(bench
            .error(work, "parts-do-not-meet", message, &[door, frame])
            .help("name the door first, then the part that it shuts against or lies on"));
    };
    let out = knuckle_side(bench, work, (door, frame), run.cross(m.normal))?;
    let apart = |way: DVec3| (leaf.reach(way).1 - wall.reach(way).1).abs();
    // The knuckle bears on both faces: out of flush it would bind or twist the leaves.
    if apart(out) > FLUSH + TOUCH {
        let message = format!(
            "`{}` and `{}` are {} out of flush at the {}, where the knuckle stands",
            bench.name(door),
            bench.name(frame),
            bench.mm(apart(out)),
            side_of(out).name()
        );
        return Err(bench
            .error(work, "not-flush", message, &[door, frame])
            .help("bring both faces into one plane, or name another side with `opens`"));
    }
    Ok(Hung {
        door,
        frame,
        normal: m.normal,
        run,
        out,
        face: m.face,
        gap: m.gap.max(0.0),
        front: (leaf.reach(out).1, wall.reach(out).1),
        span: leaf.span(run).common(wall.span(run)),
    })
}

/// Where the knuckle stands: at the side asked for, else where door and frame are flush,
/// in front before behind.
fn knuckle_side(
    bench: &Bench<'_>,
    work: &Work,
    (door, frame): (usize, usize),
    across: DVec3,
) -> Result<DVec3, Problem> {
    let (leaf, wall) = (&bench.placed[door], &bench.placed[frame]);
    let apart = |way: DVec3| (leaf.reach(way).1 - wall.reach(way).1).abs();
    match work.options.sides("opens").and_then(|s| s.first().copied()) {
        Some(side) if side.normal().dot(across).abs() > LOOKS => Ok(side.normal()),
        Some(side) => {
            let message = format!(
                "the knuckle of `{}` cannot stand to the {}: there is no edge of the hinge there",
                bench.name(door),
                side.name()
            );
            let sides = [side_of(across).name(), side_of(-across).name()];
            Err(bench
                .error(work, "no-such-edge", message, &[door, frame])
                .help(format!("write `opens: \"{}\"` or \"{}\"", sides[0], sides[1])))
        }
        None => {
            // In front, unless the faces behind are nearer flush.
            let first = if across.dot(Side::Front.normal()) < -0.5 { -across } else { across };
            Ok(if apart(-first) < apart(first) - TOUCH { -first } else { first })
        }
    }
}

/// The hinge worked out; a problem where it finds no wood or the gap is not its.
fn hinge(bench: &Bench<'_>, work: &Work, hung: &Hung) -> Result<Hinge, Problem> {
    let Leaf { long, wide } = leaf(bench, work, hung)?;
    let usual = match bench.job.unit {
        Unit::Mm => (KNUCKLE, LEAF),
        Unit::Inch => INCH_KNUCKLE,
    };
    let knuckle = work.options.number("knuckle").unwrap_or(usual.0);
    let thick = work.options.number("thick").unwrap_or(usual.1);
    // Shut, two leaves and this gap fill the knuckle; more gap leaves the leaves above
    // the wood.
    let most = knuckle - 2.0 * thick;
    if hung.gap > most + TOUCH {
        let message = format!(
            "`{}` stands {} from `{}`: a hinge {} thick shut, with leaves of {}, fills {} at most",
            bench.name(hung.door),
            bench.beside(hung.gap, most.max(0.0)),
            bench.name(hung.frame),
            bench.mm(knuckle),
            bench.mm(thick),
            bench.beside(most.max(0.0), hung.gap)
        );
        return Err(bench
            .error(work, "wrong-clearance", message, &[hung.door, hung.frame])
            .help("make the gap less, or use a hinge with a thicker `knuckle`"));
    }
    let screw = work.options.pair("screw").unwrap_or_else(|| bench.usual_screw(SCREW));
    let screws = work.options.count("screws").unwrap_or(if long < SHORT { FEW_SCREWS } else { SCREWS });
    // What the shut hinge is thicker than the gap is let in, half in each part.
    let share = SCREW_SPAN * long;
    let span = if bench.job.unit == Unit::Inch { (share / SPAN_STEP).round() * SPAN_STEP } else { share };
    Ok(Hinge { long, wide, knuckle, thick, deep: 0.5 * (knuckle - hung.gap), screw, screws, span })
}

/// The leaf asked for or the usual one; a problem where the thinner part has no wood
/// behind it.
fn leaf(bench: &Bench<'_>, work: &Work, hung: &Hung) -> Result<Leaf, Problem> {
    let height = hung.span.length();
    let room = |part: usize| {
        let (low, high) = bench.placed[part].reach(hung.out);
        high - low
    };
    let thin = room(hung.door).min(room(hung.frame));
    // Thin parts come before high doors: a large leaf finds no wood in them.
    let [usual, large, small] = match bench.job.unit {
        Unit::Mm => [USUAL, LARGE, SMALL],
        Unit::Inch => INCH_LEAVES,
    };
    let usual = match height {
        _ if thin < usual.wide + WALL => small,
        h if h > HIGH_DOOR && thin > large.wide + WALL => large,
        _ => usual,
    };
    let leaf = work.options.pair("leaf").map_or(usual, |(long, wide)| Leaf { long, wide });
    if leaf.wide <= thin - WALL + NOISE {
        return Ok(leaf);
    }
    // The thinner of the two is named, since it is the one to change.
    let part = if room(hung.door) <= room(hung.frame) { hung.door } else { hung.frame };
    let message = format!(
        "a leaf {} wide leaves {} of `{}`, which is {} thick there; it needs {}",
        bench.mm(leaf.wide),
        bench.beside((thin - leaf.wide).max(0.0), WALL),
        bench.name(part),
        bench.mm(thin),
        bench.beside(WALL, (thin - leaf.wide).max(0.0))
    );
    Err(bench
        .error(work, "breaks-through", message, &[part])
        .help(format!("use a narrower hinge with `leaf`: {} at most", bench.mm((thin - WALL).max(0.0)))))
}

/// Middles of the hinges along the run.
fn places(bench: &Bench<'_>, work: &Work, hung: &Hung, hinge: &Hinge) -> Result<Vec<f64>, Problem> {
    let height = hung.span.length();
    let count = work.options.count("count").unwrap_or_else(|| usual_count(bench, hung.door, hung.run));
    // One alone stands in the middle: there is no end to measure from.
    if count == 1 && height > hinge.long - TOUCH {
        return Ok(vec![hung.span.middle()]);
    }
    let from_end = work.options.number("from_end").unwrap_or_else(|| hinge.long.min(END_SHARE * height));
    let first = from_end + 0.5 * hinge.long;
    let pitch = (height - 2.0 * first) / f64::from(count.max(2) - 1);
    if pitch < hinge.long + WALL - NOISE {
        let message = format!(
            "{count} hinges of {}, {} from the ends of `{}`, have no room on {}",
            bench.mm(hinge.long),
            bench.mm(from_end),
            bench.name(hung.door),
            bench.mm(height)
        );
        return Err(bench
            .error(work, "does-not-fit", message, &[hung.door])
            .help("ask for fewer or shorter hinges, or make `from_end` less"));
    }
    let middle = hung.span.middle();
    let ends =
        if work.options.number("from_end").is_some() { Ends::Asked(first) } else { Ends::Chosen(first) };
    let row = SetOut { length: height, count, ends, apart: hinge.long + WALL };
    Ok(row.places(bench).into_iter().map(|at| middle + at).collect())
}

impl Hung {
    /// Door and frame as what the leaves are let into.
    fn both(&self) -> [LetIn; 2] {
        [
            LetIn { part: self.door, face: self.face + self.gap, into: self.normal, front: self.front.0 },
            LetIn { part: self.frame, face: self.face, into: -self.normal, front: self.front.1 },
        ]
    }

    /// The arris of a part that a leaf is let into, `at` along the run.
    fn arris(&self, leaf: &LetIn, at: f64) -> DVec3 {
        self.normal * leaf.face + self.out * leaf.front + self.run * at
    }

    /// Where the screws of a leaf leave the face, from the hinge's middle `at`.
    fn screws(&self, hinge: &Hinge, leaf: &LetIn, at: f64) -> Vec<DVec3> {
        let start = self.arris(leaf, at) - self.out * (0.5 * hinge.wide);
        let pitch = hinge.span / f64::from(hinge.screws.max(2) - 1);
        let along = |k: u32| pitch * f64::from(k) - 0.5 * hinge.span;
        (0..hinge.screws).map(|k| start + self.run * along(k)).collect()
    }
}

/// Recesses and pilot holes.
fn cut(
    bench: &Bench<'_>,
    work: &Work,
    hung: &Hung,
    hinge: &Hinge,
    places: &[f64],
) -> Result<Vec<Sawn>, Problem> {
    let (thick, length) = hinge.screw;
    let point = if bench.job.unit == Unit::Inch { INCH_POINT } else { POINT };
    let mut cuts = Vec::new();
    for &at in places {
        for leaf in hung.both() {
            let LetIn { part, into, .. } = leaf;
            let Some(shape) = recess(hung, hinge, &leaf, at) else { continue };
            cuts.push(Sawn { part, kind: CutKind::Notch, shape });
            for mouth in hung.screws(hinge, &leaf, at) {
                let pilot = Prism::hole(mouth, into, hinge.deep + length - point, drills(thick, SOFT).pilot);
                let Some(shape) = pilot else { continue };
                let left = bench.wall_with_lippings(part, &shape);
                if left < ROUND_SCREW - NOISE {
                    let message = format!(
                        "a screw {} × {} of a hinge leaves {} of `{}`",
                        bench.figure(thick),
                        bench.figure(length),
                        bench.mm(left.max(0.0)),
                        bench.name(part)
                    );
                    return Err(bench
                        .error(work, "breaks-through", message, &[part])
                        .help("use shorter screws with `screw`"));
                }
                cuts.push(Sawn { part, kind: CutKind::FittingHole, shape });
            }
        }
    }
    Ok(cuts)
}

/// The recess for a leaf, open to the gap and to the knuckle.
fn recess(hung: &Hung, hinge: &Hinge, leaf: &LetIn, at: f64) -> Option<Prism> {
    let frame = Placement::looking(hung.arris(leaf, at), leaf.into, hung.run)?;
    // The frame is right-handed for door and frame alike, so its y looks to the knuckle
    // in one and away in the other.
    let away = -hung.out.dot(frame.y).signum();
    let across = (-BEYOND * away, hinge.wide * away);
    let low = DVec3::new(-0.5 * hinge.long, across.0.min(across.1), -BEYOND);
    let high = DVec3::new(0.5 * hinge.long, across.0.max(across.1), hinge.deep);
    Some(Prism::block(frame, low, high))
}

/// The hinges and their screws, where they stand.
fn listed(hung: &Hung, hinge: &Hinge, places: &[f64]) -> [Insert; 2] {
    let (mut bodies, mut heads) = (Vec::new(), Vec::new());
    for &at in places {
        for leaf in hung.both() {
            // Their heads lie flush in the leaf, which lies on the floor of its recess.
            let screws = hung.screws(hinge, &leaf, at).into_iter();
            heads.extend(screws.filter_map(|mouth| {
                Placement::looking(mouth + leaf.into * (hinge.deep - hinge.thick), leaf.into, hung.run)
            }));
        }
        // The pin lies half way across the gap, since each part takes half of the hinge.
        let pin = hung.normal * (hung.face + 0.5 * hung.gap) + hung.out * hung.front.0 + hung.run * at;
        bodies.extend(Placement::from_axes(pin, hung.out, hung.run.cross(hung.out)));
    }
    let half = 0.5 * hinge.knuckle;
    let closed = [
        Corner::straight(-hinge.wide, -half),
        Corner::rising(0.0, -half, half),
        Corner::straight(0.0, half),
        Corner::straight(-hinge.wide, half),
    ];
    let outline = Outline::arced(&closed);
    let body = outline.map(|outline| Prism {
        at: Placement::IDENTITY,
        outline,
        from: -0.5 * hinge.long,
        to: 0.5 * hinge.long,
    });
    let (thick, length) = hinge.screw;
    let outline = Outline::circle(DVec2::ZERO, 0.5 * thick);
    let screw = Prism { at: Placement::IDENTITY, outline, from: 0.0, to: length };
    [
        Insert {
            item: Ironmongery::ButtHinge(sizes([hinge.long, hinge.wide, hinge.knuckle])).into(),
            at: bodies,
            body,
        },
        Insert { item: Fastener::Screw(sizes([thick, length])).into(), at: heads, body: Some(screw) },
    ]
}
