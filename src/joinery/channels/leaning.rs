//! Channels for parts that lean: their walls lean with the part, their bottom lies as
//! deep as the part's end, which is sawn to it.

use crate::geometry::{DVec2, DVec3, Outline, Placement};
use crate::joinery::bench::corner::BEYOND;
use crate::joinery::bench::meet::{Pair, TOUCH, front_part, side_of};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::{NOISE, TURNED};
use crate::joinery::meeting::sawing::{Fit, Refused};
use crate::joinery::meeting::trim::Trim;
use crate::model::{Side, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// A channel across a face for a part that leans to it.
#[derive(Clone, Copy, Debug)]
pub(in crate::joinery) struct Slot {
    /// Out of the member's face.
    pub(in crate::joinery) normal: DVec3,
    /// The member's face along it.
    pub(in crate::joinery) face: f64,
    /// Along the channel, from front, bottom or left; in the face.
    pub(in crate::joinery) run: DVec3,
    /// Through the part's thickness.
    pub(in crate::joinery) through: DVec3,
    /// The part's two faces along `through`.
    pub(in crate::joinery) walls: (f64, f64),
    /// From and to of the part's section along `run`, between face and bottom.
    pub(in crate::joinery) span: (f64, f64),
    /// From and to of the member along `run`, on the line of the channel's middle.
    pub(in crate::joinery) member: (f64, f64),
}

/// Whether a part that is let into a member leans to it, so that neither is read off
/// the other's box.
pub(in crate::joinery) fn leans(bench: &Bench<'_>, part: usize, member: usize) -> bool {
    !bench.are_plain(part, member) && !bench.are_square(part, member)
}

/// How a part that leans is sawn to stand `deep` in a face of its member, where `deep`
/// follows from how thick that is there.
pub(in crate::joinery) fn let_in(
    bench: &Bench<'_>,
    work: &Work,
    pair: Pair,
    deep: impl Fn(f64) -> Result<f64, Problem>,
) -> Result<Trim, Problem> {
    let refused = |why: Refused| bench.refused(work, pair, why);
    let found = bench.sawn_to(pair, Fit::LetIn { deep: 0.0 }).map_err(refused)?;
    let thick = thick_behind(bench, &found);
    bench.sawn_to(pair, Fit::LetIn { deep: deep(thick)? }).map_err(refused)
}

/// Wood of the member behind the face, along the part's middle, square to the face, mm.
pub(in crate::joinery) fn thick_behind(bench: &Bench<'_>, trim: &Trim) -> f64 {
    let middle = on_face(bench, trim);
    exit(bench, trim.to, middle, -trim.face.normal)
}

/// Where the middle line of the part meets the face.
fn on_face(bench: &Bench<'_>, trim: &Trim) -> DVec3 {
    let centre = bench.placed[trim.part].centre();
    centre - trim.into * (trim.face.distance(centre) / trim.face.normal.dot(trim.into))
}

/// How far it is from a point in or on a part along a way out of it, mm.
fn exit(bench: &Bench<'_>, part: usize, from: DVec3, way: DVec3) -> f64 {
    let Some(real) = bench.as_it_is(part) else { return 0.0 };
    let ahead = real.planes().into_iter().filter(|plane| plane.normal.dot(way) > TURNED);
    let off = ahead.map(|plane| (-plane.distance(from) / plane.normal.dot(way)).max(0.0));
    off.fold(f64::INFINITY, f64::min)
}

/// Refuses a channel that cuts its member in two or leaves it no wall on a side where
/// what is let in must be held.
pub(in crate::joinery) fn holds(
    bench: &Bench<'_>,
    work: &Work,
    trim: &Trim,
    channel: Option<&Prism>,
    cheek: f64,
) -> Result<(), Problem> {
    let (part, member) = (bench.name(trim.part), bench.name(trim.to));
    let left = bench.as_it_is(trim.to).zip(channel).and_then(|(real, shape)| real.less(shape));
    if left.is_some() && cheek > TOUCH {
        return Ok(());
    }
    let message = if left.is_some() {
        format!("the channel for `{part}` leaves no wood of `{member}` beside it to hold it")
    } else {
        format!("the channel for `{part}` would cut `{member}` in two")
    };
    Err(bench.error(work, "breaks-through", message, &[trim.part, trim.to]).help(format!(
        "move `{part}` in from the edge of `{member}`, make `depth` less, or stand it against the face with `butt` or \
         `dowels`, which saw it to that too"
    )))
}

/// How far a channel's wall is from the nearer edge of its member, square to the channel
/// on the face, mm, and the side that edge looks to.
pub(in crate::joinery) fn nearer_edge(bench: &Bench<'_>, trim: &Trim, slot: &Slot) -> (f64, Side) {
    let inside = on_face(bench, trim) - slot.normal * NOISE;
    let cross = slot.run.cross(slot.normal);
    let off = |way: DVec3| (exit(bench, trim.to, inside, way) - 0.5 * slot.wide()).max(0.0);
    let (one, other) = (off(cross), off(-cross));
    if one < other { (one, side_of(cross)) } else { (other, side_of(-cross)) }
}

impl Slot {
    /// The channel of a part that is sawn by `trim`.
    pub(in crate::joinery) fn of(bench: &Bench<'_>, trim: &Trim) -> Self {
        let blank = &bench.placed[trim.part];
        let (normal, face, through) = (trim.face.normal, trim.face.offset, blank.at.z);
        let run = normal.cross(through).normalize_or_zero();
        let run = if front_part(run) < 0.0 { -run } else { run };
        let sides = if trim.into.dot(blank.at.x).abs() > 0.5 { blank.at.y } else { blank.at.x };
        let (side, thick) = (blank.reach(sides), blank.reach(through));
        // The corners of the part's section on the face and on the channel's bottom.
        let mut span = (f64::INFINITY, f64::NEG_INFINITY);
        for (s, t) in [(side.0, thick.0), (side.0, thick.1), (side.1, thick.0), (side.1, thick.1)] {
            let line = sides * s + through * t;
            for height in [face, face - trim.deep] {
                let at = line + trim.into * ((height - normal.dot(line)) / normal.dot(trim.into));
                span = (span.0.min(run.dot(at)), span.1.max(run.dot(at)));
            }
        }
        let middle = on_face(bench, trim);
        let at = run.dot(middle);
        // A hair under the face, where the way along it is in the wood.
        let inside = middle - normal * NOISE;
        let member = (at - exit(bench, trim.to, inside, -run), at + exit(bench, trim.to, inside, run));
        Self { normal, face, run, through, walls: thick, span, member }
    }

    /// Square to the channel in the face.
    fn cross(&self) -> DVec3 {
        self.run.cross(self.normal)
    }

    /// How wide the channel is on the face, mm, for walls so far apart.
    pub(in crate::joinery) fn wide(&self) -> f64 {
        (self.walls.1 - self.walls.0) / self.through.dot(self.cross()).abs()
    }

    /// A bar along the channel between two planes along `through`, from one height
    /// along the normal to another, between two places along the run.
    pub(in crate::joinery) fn bar(
        &self,
        walls: (f64, f64),
        heights: (f64, f64),
        span: (f64, f64),
    ) -> Option<Prism> {
        let cross = self.cross();
        let at = Placement { origin: DVec3::ZERO, x: cross, y: self.normal, z: self.run };
        let (across, up) = (self.through.dot(cross), self.through.dot(self.normal));
        let corner = |wall: f64, height: f64| DVec2::new((wall - up * height) / across, height);
        let mut ring = vec![
            corner(walls.0, heights.0),
            corner(walls.1, heights.0),
            corner(walls.1, heights.1),
            corner(walls.0, heights.1),
        ];
        if across < 0.0 {
            ring.reverse();
        }
        let is_there = across.abs() > TURNED && span.1 - span.0 > TOUCH;
        is_there.then(|| Prism { at, outline: Outline::polygon(ring), from: span.0, to: span.1 })
    }

    /// The channel between two places along it, `deep` mm, run out where the member ends
    /// with it.
    pub(in crate::joinery) fn channel(&self, deep: f64, span: (f64, f64)) -> Option<Prism> {
        let low = if span.0 < self.member.0 + TOUCH { self.member.0.min(span.0) - BEYOND } else { span.0 };
        let high = if span.1 > self.member.1 - TOUCH { self.member.1.max(span.1) + BEYOND } else { span.1 };
        self.bar(self.walls, (self.face - deep, self.face + BEYOND), (low, high))
    }
}
