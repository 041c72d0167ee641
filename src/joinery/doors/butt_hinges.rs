//! Butt hinges: both leaves let in, the knuckle outside.
//!
//! Where the leaves lie follows from how the parts stand: an inset door shuts
//! against the inside of its frame, a lid lies on its back; the knuckle stands at
//! the faces that are flush.

use super::cup_hinges::usual_count;
use crate::geometry::{Corner, DVec2, DVec3, Outline, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::{Rect, TOUCH, meeting, shared, side_of};
use crate::joinery::bench::opening::Opening;
use crate::joinery::bench::opening::QUARTER;
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::bench::worked::Insert;
use crate::joinery::facts::doors::DoorFitting;
use crate::joinery::facts::item::{Fastener, Ironmongery, sizes};
use crate::joinery::facts::{self, Facts};
use crate::model::{OptionKind, OptionSpec, Side, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

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
            default: "50 mm and 14 mm, 63 mm and 17 mm over 800 mm of height, 38 mm and 11 mm in thin parts",
            says: "length of the hinge and how far a leaf reaches in from the face, such as \"50x14\"",
        },
        OptionSpec {
            key: "knuckle",
            kind: OptionKind::Length { min: 2.0, max: 20.0 },
            default: "5.5 mm",
            says: "thickness of the hinge when shut: the diameter of its knuckle",
        },
        OptionSpec {
            key: "thick",
            kind: OptionKind::Length { min: 0.5, max: 6.0 },
            default: "2 mm",
            says: "thickness of one leaf",
        },
        OptionSpec {
            key: "screw",
            kind: OptionKind::Pair,
            default: "3 mm and 16 mm",
            says: "diameter and length of the screws, such as \"3x16\"",
        },
        OptionSpec {
            key: "screws",
            kind: OptionKind::Count { min: 2, max: 5 },
            default: "3, in leaves shorter than 45 mm 2",
            says: "screws in one leaf",
        },
        OptionSpec {
            key: "count",
            kind: OptionKind::Count { min: 1, max: 8 },
            default: "by the door's height and weight, as for cup hinges",
            says: "how many hinges",
        },
        OptionSpec {
            key: "from_end",
            kind: OptionKind::Length { min: 5.0, max: 1000.0 },
            default: "the hinge's length, at most an eighth of the door's height",
            says: "from the ends of the door to the outer hinges",
        },
        OptionSpec {
            key: "opens",
            kind: OptionKind::Side,
            default: "the side where both faces are flush, the front before the back",
            says: "the side of the piece where the knuckle stands",
        },
        OptionSpec {
            key: "swing",
            kind: OptionKind::Angle { min: 20.0, max: 180.0 },
            default: "90°",
            says: "how far the door opens: it is drawn so, and nothing may be in its way",
        },
    ],
    says: "hangs a door or lid on butt hinges let into both parts: the first part is the door, the second what carries it",
    rule: "recess in each part half of what the shut hinge is thicker than the gap; the outer hinges their own length \
           from the ends (common practice, no source)",
    example: "butt_hinges(door, side, #{ leaf: \"50x14\", count: 2 });",
};

/// Pilot hole as a share of the screw's diameter.
const PILOT: f64 = 0.7;
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
    span: (f64, f64),
}

/// The hinge, mm.
struct Hinge {
    long: f64,
    wide: f64,
    knuckle: f64,
    deep: f64,
    screw: (f64, f64),
    screws: u32,
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
        cut(bench, work, &hung, &hinge, &places, &mut made)?;
        let middle = 0.5 * (hung.span.0 + hung.span.1);
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
            pilot: PILOT * hinge.screw.0,
        }));
        Ok(vec![made])
    }
}

/// How door and frame stand; a problem where no hinge can join them.
fn hung(bench: &Bench<'_>, work: &Work, door: usize, frame: usize) -> Result<Hung, Problem> {
    let (leaf, wall) = (&bench.placed[door], &bench.placed[frame]);
    let m = meeting(leaf, wall);
    if m.gap < -TOUCH {
        return Err(bench.crossing(work, door, frame, m));
    }
    let Some(Rect { along: run, .. }) = shared(leaf, wall, m.normal, m.face) else {
        let says = format!("`{}` does not shut against a face of `{}`", bench.name(door), bench.name(frame));
        return Err(bench
            .error(work, "parts-do-not-meet", says, &[door, frame])
            .help("name the door first, then the part that it shuts against or lies on"));
    };
    let across = run.cross(m.normal);
    let apart = |way: DVec3| (leaf.reach(way).1 - wall.reach(way).1).abs();
    let out = match work.options.sides("opens").and_then(|s| s.first().copied()) {
        Some(side) if side.normal().dot(across).abs() > 0.999 => side.normal(),
        Some(side) => {
            let says = format!(
                "the knuckle of `{}` cannot stand to the {}: there is no edge of the hinge there",
                bench.name(door),
                side.name()
            );
            let sides = [side_of(across).name(), side_of(-across).name()];
            return Err(bench
                .error(work, "no-such-edge", says, &[door, frame])
                .help(format!("write `opens: \"{}\"` or \"{}\"", sides[0], sides[1])));
        }
        None => {
            let first = if across.dot(Side::Front.normal()) < -0.5 { -across } else { across };
            if apart(-first) < apart(first) - TOUCH { -first } else { first }
        }
    };
    if apart(out) > FLUSH + TOUCH {
        let says = format!(
            "`{}` and `{}` are {} out of flush at the {}, where the knuckle stands",
            bench.name(door),
            bench.name(frame),
            bench.mm(apart(out)),
            side_of(out).name()
        );
        return Err(bench
            .error(work, "not-flush", says, &[door, frame])
            .help("bring both faces into one plane, or name another side with `opens`"));
    }
    let (a, b) = (leaf.reach(run), wall.reach(run));
    Ok(Hung {
        door,
        frame,
        normal: m.normal,
        run,
        out,
        face: m.face,
        gap: m.gap.max(0.0),
        front: (leaf.reach(out).1, wall.reach(out).1),
        span: (a.0.max(b.0), a.1.min(b.1)),
    })
}

/// The hinge worked out; a problem where it finds no wood or the gap is not its.
fn hinge(bench: &Bench<'_>, work: &Work, hung: &Hung) -> Result<Hinge, Problem> {
    let height = hung.span.1 - hung.span.0;
    let room = |part: usize| {
        let (low, high) = bench.placed[part].reach(hung.out);
        high - low
    };
    let thin = room(hung.door).min(room(hung.frame));
    let usual = match height {
        _ if thin < 14.0 + WALL => (38.0, 11.0),
        h if h > 800.0 && thin > 17.0 + WALL => (63.0, 17.0),
        _ => (50.0, 14.0),
    };
    let (long, wide) = work.options.pair("leaf").unwrap_or(usual);
    if wide > thin - WALL + 1e-6 {
        let part = if room(hung.door) <= room(hung.frame) { hung.door } else { hung.frame };
        let says = format!(
            "a leaf {} wide leaves {} of `{}`, which is {} thick there; it needs {}",
            bench.mm(wide),
            bench.mm((thin - wide).max(0.0)),
            bench.name(part),
            bench.mm(thin),
            bench.mm(WALL)
        );
        return Err(bench.error(work, "breaks-through", says, &[part]).help(format!(
            "use a narrower hinge with `leaf`: {} at most",
            bench.mm((thin - WALL).max(0.0))
        )));
    }
    let knuckle = work.options.number("knuckle").unwrap_or(5.5);
    let thick = work.options.number("thick").unwrap_or(2.0);
    let most = knuckle - 2.0 * thick;
    if hung.gap > most + TOUCH {
        let says = format!(
            "`{}` stands {} from `{}`: a hinge {} thick shut, with leaves of {}, fills {} at most",
            bench.name(hung.door),
            bench.mm(hung.gap),
            bench.name(hung.frame),
            bench.mm(knuckle),
            bench.mm(thick),
            bench.mm(most.max(0.0))
        );
        return Err(bench
            .error(work, "wrong-clearance", says, &[hung.door, hung.frame])
            .help("make the gap less, or use a hinge with a thicker `knuckle`"));
    }
    let screw = work.options.pair("screw").unwrap_or((3.0, 16.0));
    let screws = work.options.count("screws").unwrap_or(if long < 45.0 { 2 } else { 3 });
    Ok(Hinge { long, wide, knuckle, deep: 0.5 * (knuckle - hung.gap), screw, screws })
}

/// Middles of the hinges along the run.
fn places(bench: &Bench<'_>, work: &Work, hung: &Hung, hinge: &Hinge) -> Result<Vec<f64>, Problem> {
    let height = hung.span.1 - hung.span.0;
    let count = work.options.count("count").unwrap_or_else(|| usual_count(bench, hung.door, height));
    if count == 1 && height > hinge.long - TOUCH {
        return Ok(vec![0.5 * (hung.span.0 + hung.span.1)]);
    }
    let from_end = work.options.number("from_end").unwrap_or_else(|| hinge.long.min(0.125 * height));
    let first = from_end + 0.5 * hinge.long;
    let pitch = (height - 2.0 * first) / f64::from(count.max(2) - 1);
    if pitch < hinge.long + WALL - 1e-6 {
        let says = format!(
            "{count} hinges of {}, {} from the ends of `{}`, have no room on {}",
            bench.mm(hinge.long),
            bench.mm(from_end),
            bench.name(hung.door),
            bench.mm(height)
        );
        return Err(bench
            .error(work, "does-not-fit", says, &[hung.door])
            .help("ask for fewer or shorter hinges, or make `from_end` less"));
    }
    Ok((0..count).map(|k| hung.span.0 + first + pitch * f64::from(k)).collect())
}

/// Recesses and pilot holes, with what is bought.
fn cut(
    bench: &Bench<'_>,
    work: &Work,
    hung: &Hung,
    hinge: &Hinge,
    places: &[f64],
    made: &mut Made,
) -> Result<(), Problem> {
    let (thick, length) = hinge.screw;
    let (mut bodies, mut heads) = (Vec::new(), Vec::new());
    // Each part: its face at the gap, the way into it, its face at the knuckle.
    let door = (hung.door, hung.face + hung.gap, hung.normal, hung.front.0);
    let frame = (hung.frame, hung.face, -hung.normal, hung.front.1);
    for &at in places {
        for (part, face, into, front) in [door, frame] {
            let start = hung.normal * face + hung.out * front + hung.run * at;
            let Some(frame) = Placement::looking(start, into, hung.run) else { continue };
            let away = -hung.out.dot(frame.y).signum();
            let across = (-BEYOND * away, hinge.wide * away);
            let low = DVec3::new(-0.5 * hinge.long, across.0.min(across.1), -BEYOND);
            let high = DVec3::new(0.5 * hinge.long, across.0.max(across.1), hinge.deep);
            let shape = Prism::block(frame, low, high);
            made.cuts.push(Sawn { part, kind: CutKind::Notch, shape });
            let pitch = 0.72 * hinge.long / f64::from(hinge.screws.max(2) - 1);
            for k in 0..hinge.screws {
                let along = pitch * f64::from(k) - 0.36 * hinge.long;
                let mouth = start - hung.out * (0.5 * hinge.wide) + hung.run * along;
                let Some(shape) = Prism::hole(mouth, into, hinge.deep + length - 2.0, PILOT * thick) else {
                    continue;
                };
                let left = bench.wall_round(part, &shape);
                if left < 1.0 - 1e-6 {
                    let says = format!(
                        "a screw {} × {} of a hinge leaves {} of `{}`",
                        bench.figure(thick),
                        bench.figure(length),
                        bench.mm(left.max(0.0)),
                        bench.name(part)
                    );
                    return Err(bench
                        .error(work, "breaks-through", says, &[part])
                        .help("use shorter screws with `screw`"));
                }
                heads.extend(Placement::looking(mouth + into * hinge.deep, into, hung.run));
                made.cuts.push(Sawn { part, kind: CutKind::FittingHole, shape });
            }
        }
        let pin = hung.normal * (hung.face + 0.5 * hung.gap) + hung.out * hung.front.0 + hung.run * at;
        bodies.extend(Placement::from_axes(pin, hung.out, hung.run.cross(hung.out)));
    }
    made.inserts.extend(listed(hinge, bodies, heads));
    Ok(())
}

/// The hinges and their screws, where they stand.
fn listed(hinge: &Hinge, bodies: Vec<Placement>, heads: Vec<Placement>) -> [Insert; 2] {
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
