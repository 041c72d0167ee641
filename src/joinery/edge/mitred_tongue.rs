//! A loose tongue in a mitre: grooves square to the slope of both parts.

use super::stops::Stops;
use crate::geometry::{DVec2, DVec3, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Made, Sawn};
use crate::joinery::bench::plane::Plane;
use crate::joinery::bench::pocket::third;
use crate::joinery::bench::seam::CHEEK;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::NOISE;
use crate::joinery::bench::worked::Insert;
use crate::joinery::corners::compound;
use crate::joinery::facts::Facts;
use crate::joinery::facts::edge::{self as facts, EdgeJoint};
use crate::joinery::facts::item::{Wooden, sizes};
use crate::measure::near;
use crate::model::Work;
use crate::problem::Problem;
use crate::solid::Prism;

/// How far the grooves run out of the ends, mm.
const BEYOND: f64 = 1.0;
/// How far towards the inside of the mitre a tongue stands, as a share of half of
/// what is free on the slope (common practice, no source).
const INWARD: f64 = 0.6;

/// The middle of a part lies no farther inside than this across a frame that lies flat, mm.
const LEVEL: f64 = 0.5;

/// A groove for it, sunk from the slope.
struct Slot {
    part: usize,
    centre: DVec3,
    into: DVec3,
    /// Along the mitre.
    along: DVec3,
}

/// The tongue, mm.
struct Strip {
    thick: f64,
    width: f64,
    slack: f64,
    long: f64,
    stops: Stops,
}

/// Grooves in both parts of a mitre, and the strip in them.
pub(in crate::joinery) fn tongued(
    bench: &Bench<'_>,
    work: &Work,
    (a, b): (usize, usize),
) -> Result<Vec<Made>, Problem> {
    let plane = bench.meeting_plane(work, (a, b), "a tongue")?;
    let strip = strip(bench, work, &plane, (a, b))?;
    let shift = plane.rect.along * (0.5 * (strip.stops.low - strip.stops.high));
    let centre = middle(bench, work, &plane, &strip, a) + shift;
    let deep = 0.5 * strip.width + strip.slack;
    let mut made = Made {
        parts: vec![a, b],
        glued: !work.options.yes("dry"),
        ways_in: vec![-plane.out],
        ..Made::default()
    };
    for (part, into) in [(a, -plane.out), (b, plane.out)] {
        let slot = Slot { part, centre, into, along: plane.rect.along };
        room(bench, work, &strip, &slot)?;
        // At an end where it does not stop the groove runs out.
        let out = if strip.stops.both() { 0.0 } else { BEYOND + slant(bench, (a, b), &plane) };
        let [low, high] = [strip.stops.low, strip.stops.high].map(|stop| if stop > 0.0 { 0.0 } else { out });
        let slot = Slot { centre: centre + plane.rect.along * (0.5 * (high - low)), ..slot };
        let long = strip.long + low + high;
        let shape = slot.sunk(DVec3::new(long, strip.thick, deep));
        made.cuts.extend(shape.map(|shape| Sawn { part, kind: CutKind::Groove, shape }));
    }
    let half = 0.5 * DVec3::new(strip.long, strip.thick, strip.width);
    made.inserts.push(Insert {
        item: Wooden::LooseTongue(sizes([strip.thick, strip.width, strip.long])).into(),
        at: Placement::looking(centre, plane.out, plane.rect.along).into_iter().collect(),
        body: Some(Prism::cuboid(-half, half)),
    });
    made.facts =
        Facts::Edge(EdgeJoint::MitredTongue(facts::Strip { thick: strip.thick, width: strip.width, deep }));
    Ok(vec![made])
}

/// How much longer than the rectangle on it a mitre that leans is, whose ends slant, mm.
fn slant(bench: &Bench<'_>, (a, b): (usize, usize), plane: &Plane) -> f64 {
    let Some(patch) = compound::leans(bench, a, b).then(|| bench.patch(a, b)).flatten() else { return 0.0 };
    let along = |p: &DVec2| patch.frame.point(p.extend(0.0)).dot(plane.rect.along);
    let all = patch.rings.iter().flatten().map(along);
    let (low, high) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), t| (lo.min(t), hi.max(t)));
    (high - low - plane.rect.length).max(0.0)
}

impl Slot {
    /// The groove: `size` along, across and deep.
    fn sunk(&self, size: DVec3) -> Option<Prism> {
        let at = Placement::looking(self.centre, self.into, self.along)?;
        let corner = DVec3::new(0.5 * size.x, 0.5 * size.y, 0.0);
        Some(Prism::block(at, -corner, corner + DVec3::Z * size.z))
    }
}

/// The strip asked for, or that of the trade; errors where the slope has no room.
fn strip(bench: &Bench<'_>, work: &Work, plane: &Plane, (a, b): (usize, usize)) -> Result<Strip, Problem> {
    let slope = plane.rect.width;
    // Of the thickness of the parts, which the slope is longer than.
    let third = near(bench.job.unit, third(bench.placed[a].size.z.min(bench.placed[b].size.z)));
    let (thick, width) = work.options.pair("tongue").unwrap_or((third, 2.0 * third));
    let stops = Stops::asked(work, plane.rect.along);
    let long = plane.rect.length - stops.taken();
    let (first, second) = (bench.name(a), bench.name(b));
    if long < 2.0 * CHEEK {
        return Err(stops.refused(bench, work, (a, b), plane.rect.length));
    }
    let (message, help) = if width < 2.0 * CHEEK {
        (
            format!("a tongue {} wide lies only {} in each board", bench.mm(width), bench.mm(0.5 * width)),
            "write thickness first: \"4x12\"",
        )
    } else if thick + 2.0 * CHEEK > slope + NOISE {
        let message = format!(
            "a tongue {} thick has no room on the mitre of `{first}` and `{second}`, which is {} wide",
            bench.mm(thick),
            bench.mm(slope)
        );
        (message, "use a thinner `tongue`")
    } else {
        let slack = bench.slack(work);
        return Ok(Strip { thick, width, slack, long, stops });
    };
    Err(bench.error(work, "does-not-fit", message, &[a, b]).help(help))
}

/// Where the tongue stands on the slope: as asked, else nearer the inside, where a
/// groove has most wood before it. Across the thickness of a frame that lies flat no
/// side is the inner one, and it stands in the middle.
fn middle(bench: &Bench<'_>, work: &Work, plane: &Plane, strip: &Strip, part: usize) -> DVec3 {
    if work.options.number("offset").is_some_and(|by| by > 0.0) {
        return plane.rect.centre;
    }
    let free = 0.5 * (plane.rect.width - strip.thick);
    let inward = bench.placed[part].centre() - plane.rect.centre;
    // The middles of both parts lie on the inside of the corner.
    let across = plane.rect.across;
    if inward.dot(across).abs() < LEVEL {
        return plane.rect.centre;
    }
    let way = if inward.dot(across) < 0.0 { -across } else { across };
    plane.rect.centre + way * (INWARD * free)
}

/// Refuses a groove that comes through its part or leaves less than a cheek.
fn room(bench: &Bench<'_>, work: &Work, strip: &Strip, slot: &Slot) -> Result<(), Problem> {
    let part = slot.part;
    let deep = 0.5 * strip.width + strip.slack;
    // Its ends may be open: what counts is round its middle.
    let long = (0.5 * strip.long).min(strip.thick);
    let shape = slot.sunk(DVec3::new(long, strip.thick, deep));
    let left = shape.map_or(0.0, |shape| bench.wall_round(part, &shape));
    if left >= CHEEK - NOISE {
        return Ok(());
    }
    let message = format!(
        "a groove {} deep in the mitre leaves {} of `{}`; it needs {}",
        bench.mm(deep),
        bench.mm(left.max(0.0)),
        bench.name(part),
        bench.mm(CHEEK)
    );
    Err(bench
        .error(work, "breaks-through", message, &[part])
        .help("use a narrower `tongue`, or move it to the inside of the mitre with `offset` and `toward`"))
}
