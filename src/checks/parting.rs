//! What keeps two cuts of one part from one another: which of them moves which way by how
//! much, or is let in less deep, and the option that does it.

use super::measuring::{TOUCH, range, side_of};
use crate::geometry::DVec3;
use crate::joinery::{Cut, CutKind, WorkedJob, WorkedPart, corners};
use crate::measure::LengthStyle;
use crate::model::{Job, OptionKind, OptionSpec, Side, Word};
use crate::problem::wording;

/// Most ways that a message offers: more are not read.
const OFFERED: usize = 3;

/// Share of its depth that a cut let in less deep keeps at the least: less holds nothing.
const KEPT: f64 = 0.4;

/// Share of the width of a rail that a shoulder takes at the most (common practice, no source).
const BROADEST: f64 = 1.0 / 3.0;

/// Options that say where along the run of a joint its cuts stand.
const ALONG: [&str; 8] = ["along", "at", "up", "inset", "from_end", "setback", "spacing", "count"];
/// Of these, what says nothing of the middle one of a row, which stands still.
const SPREAD: [&str; 3] = ["inset", "from_end", "spacing"];
/// Options that say where across its run they stand, besides `offset` with `toward`.
const ACROSS: [&str; 7] = ["along", "across", "at", "edge", "down", "setback", "inset"];
/// Options of which half goes into either part.
const HALVED: [&str; 2] = ["tenon", "dowel"];
/// Options that say how deep, or that bring what is let in.
const DEEP: [&str; 5] = ["depth", "screw", "leaf", "size", "pin"];

/// Two cuts of one part, with what is told of them.
#[derive(Clone, Copy)]
pub(super) struct Pair<'a> {
    pub(super) job: &'a Job,
    pub(super) worked: &'a WorkedJob,
    pub(super) part: &'a WorkedPart,
    /// Both of them.
    pub(super) cuts: [&'a Cut; 2],
}

/// How far two cuts stand in one another and along which line, as a maker looks at the piece.
pub(super) struct Apart {
    /// What both take along the line on which they are parted soonest, mm.
    pub(super) by: f64,
    /// `from left to right`.
    pub(super) line: &'static str,
}

/// One way to part them.
struct Way {
    /// The nearer the front, the sooner it is offered.
    rank: u8,
    by: f64,
    text: String,
}

impl Pair<'_> {
    /// How far they stand in one another on the line of the least move that would part them,
    /// whether it can be made or not.
    pub(super) fn apart(&self) -> Apart {
        let mut best = (f64::INFINITY, DVec3::X);
        // What runs right through on a line is not moved out of the way along it.
        let through = |way: DVec3| self.cuts.iter().any(|cut| self.open(cut, way) == (true, true));
        for way in ways().into_iter().filter(|way| !through(*way)) {
            let by = self.clears(0, way);
            if by < best.0 - TOUCH {
                best = (by, way);
            }
        }
        let way = best.1;
        let [(a, b), (c, d)] = self.cuts.map(|cut| range(&corners(&cut.shape), way));
        let (from, to) = self.blank(way);
        let by = b.min(d).min(to) - a.max(c).max(from);
        Apart { by, line: line(side_of(self.part.at.dir(way))) }
    }

    /// What parts them, the best first, each `named` as the message names them; empty if
    /// nothing does that one of them alone can do.
    pub(super) fn ways(&self, named: [&str; 2]) -> Vec<String> {
        let mut found: Vec<Way> = [0, 1]
            .into_iter()
            .flat_map(|moved| ways().into_iter().map(move |way| (moved, way)))
            .filter_map(|(moved, way)| {
                let name = named.get(moved)?;
                self.less_deep(moved, way, name)
                    .or_else(|| self.shouldered(moved, way))
                    .or_else(|| self.aside(moved, way, name))
            })
            .collect();
        found.sort_by(|a, b| a.rank.cmp(&b.rank).then(a.by.total_cmp(&b.by)));
        found.into_iter().take(OFFERED).map(|way| way.text).collect()
    }

    /// How far cut `moved` goes along `way`, part coordinates, until it is clear of the other.
    fn clears(&self, moved: usize, way: DVec3) -> f64 {
        let [mine, other] = self.ordered(moved);
        let (lo, _) = range(&corners(&mine.shape), way);
        let (_, hi) = range(&corners(&other.shape), way);
        hi.min(self.blank(way).1) - lo.max(self.blank(way).0)
    }

    /// The cut that moves, then the other.
    fn ordered(&self, moved: usize) -> [&Cut; 2] {
        let [a, b] = self.cuts;
        if moved == 0 { [a, b] } else { [b, a] }
    }

    /// Where the blank begins and ends along `way`.
    fn blank(&self, way: DVec3) -> (f64, f64) {
        let (a, b) = (way.dot(DVec3::ZERO), way.dot(self.part.size));
        (a.min(b), a.max(b))
    }

    /// Whether a cut is open where `way` leaves the blank, and at the other end.
    fn open(&self, cut: &Cut, way: DVec3) -> (bool, bool) {
        let ((lo, hi), (from, to)) = (range(&corners(&cut.shape), way), self.blank(way));
        (hi > to - TOUCH, lo < from + TOUCH)
    }

    /// The way to the face a cut is let in from: along its sweep where that is open at one end,
    /// else along the least of what it takes, as a channel is.
    fn mouth(&self, cut: &Cut) -> Option<DVec3> {
        let open = || ways().into_iter().filter(|way| self.open(cut, *way) == (true, false));
        let swept = open().find(|way| cut.shape.at.z.dot(*way).abs() > 0.5);
        let takes = |way: &DVec3| {
            let (lo, hi) = range(&corners(&cut.shape), *way);
            hi - lo
        };
        swept.or_else(|| open().min_by(|a, b| takes(a).total_cmp(&takes(b))))
    }

    /// What asked for a cut: its word, of which the options are known.
    fn word(&self, cut: &Cut) -> Option<&'static Word> {
        self.job.works.iter().find(|work| work.origin == cut.origin).map(|work| work.word)
    }

    /// Let in less deep: `way` leads to the face it is let in from.
    fn less_deep(&self, moved: usize, way: DVec3, named: &str) -> Option<Way> {
        let [mine, _] = self.ordered(moved);
        if self.mouth(mine) != Some(way) {
            return None;
        }
        let by = self.clears(moved, way);
        let depth = self.blank(way).1 - range(&corners(&mine.shape), way).0;
        let word = self.word(mine)?;
        let has = |key: &&&str| word.options.iter().any(|o| o.key == **key);
        if depth - by < KEPT * depth {
            return None;
        }
        let style = LengthStyle::of(self.job.unit);
        let less = style.text(by);
        let text = if let Some(key) = HALVED.iter().find(has) {
            format!("let the {named} in {less} less deep, with a `{key}` {} shorter", style.text(2.0 * by))
        } else {
            match *DEEP.iter().find(has)? {
                "depth" => format!("let the {named} in {less} less deep, by `depth`"),
                key => format!("let the {named} in {less} less deep, with a smaller `{key}`"),
            }
        };
        Some(Way { rank: 1, by, text })
    }

    /// A mortise that ends sooner, since its tenon gets a broader shoulder at the edges: `way`
    /// leads from the other cut to what is left of it.
    fn shouldered(&self, moved: usize, way: DVec3) -> Option<Way> {
        let [mine, _] = self.ordered(moved);
        let word = self.word(mine)?;
        let asked = word.options.iter().any(|o| o.key == "shoulder");
        // Along its length, square to how it is let in.
        let deep = self.mouth(mine)?;
        let long = |way: DVec3| {
            let (lo, hi) = range(&corners(&mine.shape), way);
            hi - lo
        };
        let mut square = [DVec3::X, DVec3::Y, DVec3::Z].into_iter().filter(|a| a.dot(deep).abs() < 0.5);
        let is_length = way.dot(deep).abs() < 0.5 && square.all(|other| long(other) < long(way) + TOUCH);
        if mine.kind != CutKind::Mortise || !asked || !is_length {
            return None;
        }
        let by = self.clears(moved, way);
        let other = self.others(mine).next()?;
        let (edge, far) = self.of_other(other, way);
        let (from, to) = range(&corners(&mine.shape), way);
        let shoulder = from + by - edge;
        let fits =
            edge < from + TOUCH && to - from - by > KEPT * (to - from) && shoulder < BROADEST * (far - edge);
        fits.then(|| {
            let least = LengthStyle::of(self.job.unit).text(shoulder);
            let text =
                format!("give the `{}` of `{}` a `shoulder` of at least {least}", word.name, other.name);
            Way { rank: 0, by, text }
        })
    }

    /// Moved aside along `way`.
    fn aside(&self, moved: usize, way: DVec3, named: &str) -> Option<Way> {
        let [mine, _] = self.ordered(moved);
        // What runs out on this line, or is let in along it, does not move along it.
        if self.open(mine, way) != (false, false) {
            return None;
        }
        let by = self.clears(moved, way);
        let room = self.room(mine, way);
        let toward = side_of(self.part.at.dir(way));
        let far = LengthStyle::of(self.job.unit).text(by);
        let to = to_the(toward);
        let keys = self.placed_by(mine, way, toward).filter(|_| by < room && self.is_free(mine, way * by));
        if let Some(keys) = keys {
            return Some(Way { rank: 0, by, text: format!("move the {named} {far} {to}, by {keys}") });
        }
        let other = self.others(mine).next()?;
        // A part moved past the edge of the one it is let into hangs in the air.
        let within = self.blank(way).1 - self.of_other(other, way).1;
        (by < within).then(|| Way {
            rank: 2,
            by,
            text: format!("move `{}` and with it the {named} {far} {to}", other.name),
        })
    }

    /// The parts a cut's joint relates besides this one.
    fn others(&self, cut: &Cut) -> impl Iterator<Item = &WorkedPart> {
        let joint = cut.joint.and_then(|j| self.worked.joints.get(j));
        let parts = joint.into_iter().flat_map(|j| j.parts.iter());
        parts.filter_map(|p| self.worked.parts.get(*p)).filter(|p| !std::ptr::eq(*p, self.part))
    }

    /// How far a cut can move along `way` before it leaves its part, or the other part of its
    /// joint, mm.
    fn room(&self, cut: &Cut, way: DVec3) -> f64 {
        let (_, hi) = range(&corners(&cut.shape), way);
        let ends = self.others(cut).map(|other| self.of_other(other, way).1);
        ends.fold(self.blank(way).1, f64::min) - hi
    }

    /// Where the blank of another part begins and ends along `way`.
    fn of_other(&self, other: &WorkedPart, way: DVec3) -> (f64, f64) {
        let blank = corners(&crate::solid::Prism::cuboid(DVec3::ZERO, other.size));
        let here: Vec<DVec3> = blank.iter().map(|p| self.part.at.local_point(other.at.point(*p))).collect();
        range(&here, way)
    }

    /// Whether a cut moved by `shift` comes into no other cut of the part that is not its own
    /// joint's and that it was clear of.
    fn is_free(&self, cut: &Cut, shift: DVec3) -> bool {
        let stands = corners(&cut.shape);
        let moved: Vec<DVec3> = stands.iter().map(|p| *p + shift).collect();
        let own = |other: &Cut| (other.joint, other.origin) == (cut.joint, cut.origin);
        let shares = |points: &[DVec3], other: &Cut| {
            let taken = corners(&other.shape);
            [DVec3::X, DVec3::Y, DVec3::Z].into_iter().all(|axis| {
                let ((a, b), (c, d)) = (range(points, axis), range(&taken, axis));
                b.min(d) - a.max(c) > TOUCH
            })
        };
        let mut rest = self.part.cuts.iter().filter(|other| !own(other));
        rest.all(|other| !shares(&moved, other) || shares(&stands, other))
    }

    /// Whether a cut stands in the middle of a row of its joint along `way`, whatever spaces
    /// the others.
    fn is_middle(&self, cut: &Cut, way: DVec3) -> bool {
        let middle = |one: &Cut| {
            let (lo, hi) = range(&corners(&one.shape), way);
            f64::midpoint(lo, hi)
        };
        let alike = |one: &&Cut| (one.joint, one.origin, one.kind) == (cut.joint, cut.origin, cut.kind);
        let row: Vec<f64> = self.part.cuts.iter().filter(alike).map(middle).collect();
        let (low, high) =
            row.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), at| (l.min(*at), h.max(*at)));
        high - low > TOUCH && (middle(cut) - f64::midpoint(low, high)).abs() < TOUCH
    }

    /// The options that move a cut along `way`, as a message names them; `None` if no option
    /// of its word does.
    fn placed_by(&self, cut: &Cut, way: DVec3, toward: Side) -> Option<String> {
        let word = self.word(cut)?;
        // A number of holes up or down the side is no place, and what insets a row along its
        // run does not move it across.
        let asks = |key: &str| word.options.iter().any(|o| o.key == key);
        let is_place = |o: &OptionSpec| o.key == "count" || !matches!(o.kind, OptionKind::Count { .. });
        let has = |key: &&&str| word.options.iter().any(|o| o.key == **key && is_place(o));
        // A shaping joins nothing and so has no run: any of what places it may be meant.
        let along_run = self.others(cut).next().is_some_and(|other| {
            let shared = |axis: DVec3| {
                let ((a, b), (c, d)) = (self.blank(axis), self.of_other(other, axis));
                b.min(d) - a.max(c)
            };
            let deep = cut.shape.at.z;
            let beside = [DVec3::X, DVec3::Y, DVec3::Z].into_iter().filter(|a| a.dot(deep).abs() < 0.5);
            beside.map(shared).all(|length| length < shared(way) + TOUCH)
        });
        let keys = if along_run { &ALONG[..] } else { &ACROSS[..] };
        if !along_run && has(&&"offset") {
            return Some(format!("`offset` with `toward: \"{}\"`", toward.name()));
        }
        let of_run = |key: &str| key == "inset" && (asks("spacing") || asks("setback"));
        let still = along_run && self.is_middle(cut, way);
        let upright = matches!(toward, Side::Bottom | Side::Top);
        let moves = |key: &&str| match *key {
            "setback" => matches!(toward, Side::Front | Side::Back),
            "down" => upright,
            key if along_run => !still || !SPREAD.contains(&key),
            _ => !of_run(key),
        };
        let keys: Vec<&str> = keys.iter().filter(has).copied().filter(moves).collect();
        // Another number moves all of a row, and none by a distance that can be told.
        (keys != ["count"] && !keys.is_empty()).then(|| wording::one_of(keys))
    }
}

/// The six ways along the axes of a part.
fn ways() -> [DVec3; 6] {
    [DVec3::X, DVec3::NEG_X, DVec3::Y, DVec3::NEG_Y, DVec3::Z, DVec3::NEG_Z]
}

/// The line a side lies on, in words.
fn line(side: Side) -> &'static str {
    match side {
        Side::Left | Side::Right => "from left to right",
        Side::Front | Side::Back => "from front to back",
        Side::Bottom | Side::Top => "from bottom to top",
    }
}

/// A move towards a side, in words.
fn to_the(side: Side) -> &'static str {
    match side {
        Side::Left => "to the left",
        Side::Right => "to the right",
        Side::Front => "to the front",
        Side::Back => "to the back",
        Side::Bottom => "down",
        Side::Top => "up",
    }
}
