//! Mouldings: a profile of lines and arcs run along arrises of a part.

use super::bevel::arris;
use super::outline::simple;
use crate::geometry::{Corner, DVec2, DVec3, Edge, Outline, Placement, trig};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::face::{PartFace, part_face, shaped};
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::{TOUCH, side_of};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::{ON_SIDE, Tie};
use crate::joinery::bench::tolerance::NOISE;
use crate::joinery::shaping::arris::EDGES;
use crate::model::{OptionKind, OptionSpec, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `mould`.
pub(in crate::joinery) struct Mould;

/// Lengths of a profile.
const SIZE: OptionKind = OptionKind::Length { min: 1.0, max: 200.0 };

/// What `mould` says of itself.
static WORD: Word = Word {
    name: "mould",
    args: ON_SIDE,
    options: &[
        OptionSpec {
            key: "shape",
            kind: OptionKind::Choice(&["ovolo", "cavetto", "ogee"]),
            default: &[Usual::Words("drawn by `profile`")],
            says: "a usual shape: a quarter round, a hollow quarter, or a hollow over a round",
        },
        OptionSpec {
            key: "width",
            kind: SIZE,
            default: &[Usual::Length(WIDTH)],
            says: "how far in from the edge a usual shape reaches on the side",
        },
        OptionSpec {
            key: "depth",
            kind: SIZE,
            default: &[Usual::Words("as much as `width`")],
            says: "how far down from the side it reaches on the edge",
        },
        OptionSpec {
            key: "fillet",
            kind: OptionKind::Length { min: 0.0, max: 50.0 },
            default: &[Usual::Length(0.0), Usual::Words(": none")],
            says: "height and width of the square steps a usual shape begins and ends with",
        },
        OptionSpec {
            key: "profile",
            kind: OptionKind::Points,
            default: &[Usual::Words("one of the usual `shape`s")],
            says: "the profile as corners [in from the edge, down from the side], from the side, where the second is 0, to the \
                   edge, where the first is 0; `rise` above 0 swells out of the wood, below 0 is a hollow",
        },
        EDGES,
    ],
    says: "runs a moulding on the arrises of a side; where two of them meet, it is mitred round the corner",
    rule: "a quarter of a circle, less where it is not as wide as deep (geometry); run in several passes, the ends across the grain first, so that the long edges clean \
           up their breakout (common practice, no source)",
    example: "mould(top, \"top\", #{ shape: \"ovolo\", width: 12, fillet: 2, edges: [\"front\", \"left\", \"right\"] });",
};

/// Width of a usual shape, mm.
const WIDTH: f64 = 12.0;

impl Joinery for Mould {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn ties(&self) -> &'static [Tie] {
        &[
            Tie::Either("shape", "profile"),
            Tie::Needs("width", &["shape"]),
            Tie::Needs("depth", &["shape"]),
            Tie::Needs("fillet", &["shape"]),
        ]
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let face = part_face(bench, work)?;
        let profile = profile(bench, work, &face)?;
        let outline = waste(&profile).ok_or_else(|| crossed(bench, work, &face))?;
        let Some((_, size)) = outline.bounds() else { return Ok(Vec::new()) };
        let ways = ways(bench, work, &face, size)?;
        let cuts = face.on_arrises(bench, work, &ways, |way| run(&face, way, &outline))?;
        Ok(shaped(face.part, cuts))
    }
}

/// The profile asked for, from the side to the edge.
fn profile(bench: &Bench<'_>, work: &Work, face: &PartFace) -> Result<Vec<Corner>, Problem> {
    let Some(drawn) = work.options.points("profile") else {
        let Some(shape) = work.options.text("shape") else {
            let message = "`mould` is given neither a `shape` nor a `profile`".to_owned();
            return Err(bench
                .error(work, "missing-option", message, &[face.part])
                .help("name a `shape`, such as \"ovolo\", or draw a `profile`"));
        };
        return usual(bench, work, face, shape);
    };
    let ends = drawn.first().zip(drawn.last()).filter(|_| drawn.len() > 1);
    let good = ends.is_some_and(|(first, last)| {
        first.at.y.abs() < TOUCH && first.at.x > TOUCH && last.at.x.abs() < TOUCH && last.at.y > TOUCH
    });
    let inside = drawn.iter().all(|corner| corner.at.min_element() > -TOUCH);
    if good && inside {
        return Ok(drawn.to_vec());
    }
    let message = if inside {
        "the profile does not run from the side to the edge".to_owned()
    } else {
        "the profile runs out of the wood: a corner of it is less than 0".to_owned()
    };
    Err(bench.error(work, "bad-outline", message, &[face.part]).help(
        "begin with [width, 0] on the side and end with [0, depth] on the edge: `profile: [[12, 0], [12, 2], [2, 12], [0, 12]]`",
    ))
}

/// A usual shape between its fillets.
fn usual(bench: &Bench<'_>, work: &Work, face: &PartFace, shape: &str) -> Result<Vec<Corner>, Problem> {
    let number = |key| work.options.number(key);
    let width = number("width").unwrap_or(WIDTH);
    let depth = number("depth").unwrap_or(width);
    let fillet = number("fillet").unwrap_or(0.0);
    if fillet > width.min(depth) - 1.0 + NOISE {
        let message = format!(
            "fillets of {} leave nothing of a moulding {} × {}",
            bench.mm(fillet),
            bench.figure(width),
            bench.mm(depth)
        );
        return Err(bench.error(work, "nothing-left", message, &[face.part]).help("make `fillet` less"));
    }
    let (from, to) = (DVec2::new(width, fillet), DVec2::new(fillet, depth));
    // As much of a circle as begins along the side or ends along the edge, whichever is
    // nearer the chord: a quarter where it is as wide as deep. Its middle stands off its
    // chord by half of that times the tangent of a quarter of what it turns.
    let chord = from.distance(to);
    let slope = trig::atan2(to.y - from.y, from.x - to.x);
    let turns = slope.min(std::f64::consts::FRAC_PI_2 - slope);
    let quarter = 0.5 * trig::tan(0.5 * turns);
    let mut corners = Vec::new();
    if fillet > 0.0 {
        corners.push(Corner::straight(width, 0.0));
    }
    match shape {
        "ogee" => {
            let middle = 0.5 * (from + to);
            corners.push(Corner::rising(from.x, from.y, -0.5 * chord * quarter));
            corners.push(Corner::rising(middle.x, middle.y, 0.5 * chord * quarter));
        }
        "cavetto" => corners.push(Corner::rising(from.x, from.y, -chord * quarter)),
        _ => corners.push(Corner::rising(from.x, from.y, chord * quarter)),
    }
    corners.push(Corner::straight(to.x, to.y));
    if fillet > 0.0 {
        corners.push(Corner::straight(0.0, depth));
    }
    Ok(corners)
}

/// What the cutter takes: all between the profile and the arris, which lies at nought.
fn waste(profile: &[Corner]) -> Option<Outline> {
    let mut ring = vec![Corner::straight(0.0, 0.0)];
    let last = profile.len().saturating_sub(1);
    ring.extend(profile.iter().enumerate().map(|(i, corner)| match corner.edge {
        // Back to the arris is straight, whatever is said of the last corner.
        _ if i == last => Corner::straight(corner.at.x, corner.at.y),
        // What swells out of the wood is a hollow of the waste.
        Edge::Rise(rise) => Corner::rising(corner.at.x, corner.at.y, -rise),
        _ => *corner,
    }));
    Outline::arced(&ring).filter(|outline| outline.rings.iter().all(simple))
}

/// The profile crosses itself.
fn crossed(bench: &Bench<'_>, work: &Work, face: &PartFace) -> Problem {
    let message = format!("the profile run on `{}` crosses itself or takes nothing", bench.name(face.part));
    bench
        .error(work, "bad-outline", message, &[face.part])
        .help("list its corners in order from the side to the edge")
}

/// One arris, its waste swept along the part.
fn run(face: &PartFace, way: DVec3, outline: &Outline) -> Option<Sawn> {
    let out = face.side.normal();
    // x runs in from the edge on the side, y down from the side on the edge.
    let at = Placement::from_axes(arris(&face.whole, out, way), -way, -out)?;
    let (lo, hi) = face.whole.reach(at.z);
    let middle = at.z.dot(at.origin);
    let shape = Prism { at, outline: outline.clone(), from: lo - middle - 1.0, to: hi - middle + 1.0 };
    Some(Sawn { part: face.part, kind: CutKind::Moulding, shape })
}

/// The arrises asked for, as ways from the side to its neighbours; an error where the
/// profile is too large for the part.
fn ways(bench: &Bench<'_>, work: &Work, face: &PartFace, size: DVec2) -> Result<Vec<DVec3>, Problem> {
    let ways = face.arrises(bench, work)?;
    for way in &ways {
        let rooms = [(size.x, face.room_from(*way, &ways), "wide"), (size.y, face.thick, "deep")];
        for (wants, room, what) in rooms {
            if wants > room - TOUCH {
                let message = format!(
                    "a moulding {} {what} is too much for the arris to the {} of `{}`, which has {}",
                    bench.mm(wants),
                    side_of(*way).name(),
                    bench.name(face.part),
                    bench.mm(room)
                );
                return Err(bench
                    .error(work, "nothing-left", message, &[face.part])
                    .help("make it less, or the part larger"));
            }
        }
    }
    Ok(ways)
}
