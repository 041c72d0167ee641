//! Notes on leaders, put where the paper is white.
//!
//! Placing labels well is a search (Christensen et al. 1995): every free place
//! on a grid is a candidate, judged by leader length, ink crossed and growth
//! of the drawing; the cheapest is taken, the note becomes ink for the next.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use kurbo::{Point, Rect};

use super::white::White;
use super::{Manner, ink};
use crate::paper::{Fixes, Mark, Role, Run, Shows, Text};

/// A note about one place of a view.
#[derive(Clone, Debug)]
pub(in crate::drawing) struct Callout {
    /// Places it may point at, best first.
    pub(in crate::drawing) at: Vec<Point>,
    /// Its lines of text.
    pub(in crate::drawing) lines: Vec<Vec<Run>>,
    /// Model value of its last number, if it has any.
    pub(in crate::drawing) value: Option<f64>,
    /// What its numbers fix, in reading order over all lines.
    pub(in crate::drawing) fixes: Fixes,
}

/// A place for a note.
#[derive(Clone, Copy, Debug)]
struct Spot {
    /// Box of the text.
    text: Rect,
    /// Where the leader points.
    target: Point,
    /// Where the leader leaves the text.
    tail: Point,
    /// Less is better.
    cost: f64,
}

/// A place that may be tried, with what it costs before its leader is looked at.
#[derive(Clone, Copy, Debug)]
struct Candidate {
    cost: f64,
    /// Which target.
    rank: usize,
    /// Upper left corner of the text.
    corner: Point,
}

/// The cheapest is the greatest, as a heap gives the greatest first; of equal
/// cost the first target's, the uppermost, the leftmost.
impl Ord for Candidate {
    fn cmp(&self, other: &Self) -> Ordering {
        let cost = other.cost.total_cmp(&self.cost);
        let down = other.corner.y.total_cmp(&self.corner.y);
        let right = other.corner.x.total_cmp(&self.corner.x);
        cost.then(other.rank.cmp(&self.rank)).then(down).then(right)
    }
}

impl PartialOrd for Candidate {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Candidate {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Candidate {}

/// Puts every note on white paper in `white` and draws it. A note that finds no
/// place near what it points at goes below everything drawn: none is ever left
/// out. Whether all found a place near.
pub(in crate::drawing) fn callouts(
    notes: &[Callout],
    white: &mut White,
    within: Rect,
    manner: &Manner,
    number: &mut u32,
    marks: &mut Vec<Mark>,
) -> bool {
    let mut near = true;
    for note in notes {
        let found = best(note, white, within, manner);
        near &= found.is_some();
        let Some(spot) = found.or_else(|| below(note, white, marks, manner)) else { continue };
        *number += 1;
        let drawn = draw(note, &spot, manner, *number);
        white.cover(&drawn);
        white.fill(spot.text.inflate(1.0, 1.0));
        white.sum();
        marks.extend(drawn);
    }
    near
}

/// Base line to base line of a note: ISO 3098 asks for 1.4 text heights at least.
fn pitch(manner: &Manner) -> f64 {
    (1.5 * manner.text).max(manner.tall() + 0.5)
}

/// Width and height of the note's text.
fn size(note: &Callout, manner: &Manner) -> (f64, f64) {
    let width = note.lines.iter().map(|l| width(l, manner)).fold(0.0, f64::max);
    let lines = note.lines.len().max(1) as f64;
    (width, manner.tall() + pitch(manner) * (lines - 1.0))
}

/// Width of a line.
fn width(line: &[Run], manner: &Manner) -> f64 {
    Text::new(Point::ZERO, line.to_vec(), manner.text).width()
}

/// How far from its target a note is looked for, and in what steps, mm.
const REACH: f64 = 66.0;
const STEP: f64 = 2.2;
/// What a line crossed by a leader costs, as mm of its length: a leader over a
/// neighbouring view is worse than a note a little farther out.
const CROSSING: f64 = 9.0;
/// Least sine of the angle between a leader and level or upright: 15 degrees.
const LEAN: f64 = 0.258_9;
/// From this sine on a leader runs as hatching does: 41 degrees.
const STEEP: f64 = 0.656;
/// Most targets tried for one note.
const TARGETS: usize = 6;

/// The cheapest place. Every candidate's cost without what its leader crosses
/// is known at once; they are tried in that order until none left can beat the
/// best found. A first look at few of them tells what need not be looked at.
fn best(note: &Callout, white: &White, within: Rect, manner: &Manner) -> Option<Spot> {
    let size = size(note, manner);
    let targets = some(&note.at);
    let mut most = f64::INFINITY;
    for (rank, target) in targets.iter().enumerate() {
        around(*target, size, (COARSE, REACH + size.0), |text| {
            let spot = judge(text, *target, within, white, manner).filter(|s| s.cost + (rank as f64) < most);
            if let Some(cost) = spot.and_then(|s| whole_cost(&s, s.cost + rank as f64, white)) {
                most = most.min(cost);
            }
        });
    }
    // A candidate is its target and corner; most are never looked at again, so
    // they are kept in a heap and their spots worked out when they come up.
    let mut candidates: Vec<Candidate> = Vec::new();
    for (rank, target) in targets.iter().enumerate() {
        around(*target, size, (1, most - rank as f64), |text| {
            if least_run(text, *target, manner) + rank as f64 > most {
                return;
            }
            let corner = Point::new(text.x0, text.y0);
            candidates.extend(
                judge(text, *target, within, white, manner)
                    .map(|s| Candidate { cost: s.cost + rank as f64, rank, corner })
                    .filter(|candidate| candidate.cost <= most),
            );
        });
    }
    let mut candidates = BinaryHeap::from(candidates);
    let mut best: Option<Spot> = None;
    while let Some(Candidate { cost, rank, corner }) = candidates.pop() {
        if best.is_some_and(|b| b.cost <= cost) {
            break;
        }
        let text = Rect::new(corner.x, corner.y, corner.x + size.0, corner.y + size.1);
        let spot = targets.get(rank).and_then(|target| judge(text, *target, within, white, manner));
        let Some((spot, cost)) = spot.and_then(|s| Some((s, whole_cost(&s, cost, white)?))) else {
            continue;
        };
        if best.is_none_or(|b| cost < b.cost) {
            best = Some(Spot { cost, ..spot });
        }
    }
    best
}

/// How many steps apart places lie that are looked at first.
const COARSE: usize = 4;

/// Every `nth` place, each way, of a text of `size` within reach of a target, whose
/// leader can be no longer than `most`.
fn around(target: Point, (w, h): (f64, f64), (nth, most): (usize, f64), mut see: impl FnMut(Rect)) {
    // A leader leaves its text at the height of its first line, beside it.
    let (up, across) = (most + h, most + LANDING + 1.0);
    let mut row = 0;
    let mut y = target.y - REACH;
    while y <= target.y + REACH {
        if row % nth == 0 && (y - target.y).abs() <= up {
            let (mut column, mut x) = (0, target.x - REACH - w);
            while x <= target.x + REACH {
                let near = (x - target.x).abs() <= across || (x + w - target.x).abs() <= across;
                if near && column % nth == 0 {
                    see(Rect::new(x, y, x + w, y + h));
                }
                x += STEP;
                column += 1;
            }
        }
        y += STEP;
        row += 1;
    }
}

/// No leader from a text to its target is shorter, and no place cheaper, mm.
fn least_run(text: Rect, target: Point, manner: &Manner) -> f64 {
    let (left, right) = tails(text, manner);
    let across = (target.x - left.x).abs().min((target.x - right.x).abs());
    across.max((target.y - left.y).abs())
}

/// What a place costs with the lines that its leader crosses; none where the
/// text would stand on something.
fn whole_cost(spot: &Spot, cost: f64, white: &White) -> Option<f64> {
    if !white.free(spot.text.inflate(1.2, 1.0)) {
        return None;
    }
    // The leader may touch what it points at.
    let towards = spot.tail - spot.target;
    let start = spot.target + towards * (1.5 / towards.hypot().max(1.5));
    // A bend on the line or head of a size would be read as part of it.
    let bend = Rect::from_center_size(spot.tail, (1.2, 1.2));
    let touching = if white.free(bend) { 0.0 } else { TOUCHING };
    Some(cost + touching + CROSSING * white.crossed(start, spot.tail) as f64)
}

/// What a leader costs that bends on other ink, mm.
const TOUCHING: f64 = 25.0;

/// A place under all that is drawn, its leader over as little as can be; none
/// only for a note that points at nothing.
fn below(note: &Callout, white: &White, marks: &[Mark], manner: &Manner) -> Option<Spot> {
    let (w, h) = size(note, manner);
    let foot = marks.iter().map(|m| m.bounds().y1).reduce(f64::max)? + 4.0;
    let mut spots = Vec::new();
    for target in some(&note.at) {
        let top = foot.max(target.y + manner.arrow + 3.0);
        for step in -30_i32..=30 {
            let x = target.x + 2.0 * STEP * f64::from(step);
            let text = Rect::new(x, top, x + w, top + h);
            let (left, right) = tails(text, manner);
            let tail = if x > target.x { left } else { right };
            let run = tail - target;
            let lean = run.x.abs().min(run.y.abs()) / run.hypot();
            let mistaken = if lean < LEAN { 60.0 } else { along_hatching(lean, target, white) };
            let cost = run.hypot() + mistaken + CROSSING * white.crossed(target, tail) as f64;
            spots.push(Spot { text, target, tail, cost });
        }
    }
    spots.into_iter().min_by(|a, b| a.cost.total_cmp(&b.cost))
}

/// Where a leader may leave a text, to its left or right, at the height of its
/// first line.
fn tails(text: Rect, manner: &Manner) -> (Point, Point) {
    let middle = text.y0 + manner.above - manner.text / 2.0;
    (Point::new(text.x0 - 1.0 - LANDING, middle), Point::new(text.x1 + 1.0 + LANDING, middle))
}

/// How far a leader runs level beside its text, mm.
const LANDING: f64 = 2.0;

/// At most [`TARGETS`] of some places, spread over them.
fn some(at: &[Point]) -> Vec<Point> {
    let step = at.len().div_ceil(TARGETS).max(1);
    at.iter().copied().step_by(step).collect()
}

/// Where the leader of a text at `text` would run, and what it costs.
fn judge(text: Rect, target: Point, within: Rect, white: &White, manner: &Manner) -> Option<Spot> {
    let (left, right) = tails(text, manner);
    let tail = if target.distance(left) <= target.distance(right) { left } else { right };
    // A leader must not run back under its own text.
    let inside = if tail == left { target.x > text.x0 - 1.5 } else { target.x < text.x1 + 1.5 };
    let run = tail - target;
    let length = run.hypot();
    // Leaders along the lines of the drawing are mistaken for them: 15 degrees
    // at least from level and upright.
    let lean = run.x.abs().min(run.y.abs()) / length;
    if inside || length < manner.arrow + 3.0 || lean < LEAN {
        return None;
    }
    let flat = along_hatching(lean, target, white);
    let grown = text.union(within);
    let growth = (grown.width() - within.width()) + (grown.height() - within.height());
    Some(Spot { text, target, tail, cost: length + flat + 2.5 * growth })
}

/// What a leader costs that may be mistaken for hatching, which runs at 45
/// degrees, mm: in a section more than the way through it.
fn along_hatching(lean: f64, target: Point, white: &White) -> f64 {
    match lean > STEEP {
        true if white.solid(target) => 800.0,
        true => 12.0,
        false => 0.0,
    }
}

/// The ink of a note.
fn draw(note: &Callout, spot: &Spot, manner: &Manner, number: u32) -> Vec<Mark> {
    let plain = Shows { dimension: number, ..Shows::default() };
    let towards = (spot.target - spot.tail).normalize();
    let starts = spot.tail.x < spot.text.x0;
    let landing = Point::new(if starts { spot.text.x0 - 1.0 } else { spot.text.x1 + 1.0 }, spot.tail.y);
    let mut marks = vec![
        ink::line(spot.target, spot.tail, manner, Role::Leader, &plain),
        ink::line(spot.tail, landing, manner, Role::Leader, &plain),
        ink::arrow(spot.target, towards, manner, &plain),
    ];
    for (i, line) in note.lines.iter().enumerate() {
        let base = spot.text.y0 + manner.above + pitch(manner) * i as f64;
        // Several lines keep to the side the leader comes from.
        let x = if starts { spot.text.x0 } else { spot.text.x1 - width(line, manner) };
        let shows = Shows {
            value: if i == 0 { note.value } else { None },
            fixes: if i == 0 { note.fixes.clone() } else { Fixes::Nothing },
            ..plain.clone()
        };
        marks.push(
            Mark::text(Text::new(Point::new(x, base), line.clone(), manner.text), Role::DimensionText)
                .showing(shows),
        );
    }
    marks
}
