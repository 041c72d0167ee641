//! Notes on leaders, put where the paper is white.
//!
//! Placing labels well is a search (Christensen et al. 1995): every free place
//! on a grid is a candidate, judged by leader length, ink crossed and growth
//! of the drawing; the cheapest is taken, the note becomes ink for the next.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use kurbo::{Point, Rect, Vec2};

use super::white::{WORDS, White};
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
    /// Whether it is left out where no place is near that keeps its leader off words: what it
    /// says stands on another sheet too.
    pub(in crate::drawing) spare: bool,
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
/// out but a spare one. Whether all found a place near.
pub(in crate::drawing) fn callouts(
    notes: &[Callout],
    white: &mut White,
    within: Rect,
    manner: &Manner,
    number: &mut u32,
    marks: &mut Vec<Mark>,
) -> bool {
    let mut near = true;
    let plain = manner;
    for note in notes {
        let stacked = note.lines.iter().flatten().any(|run| matches!(run, Run::Fraction { .. }));
        let manner = &if stacked { plain.with_fractions() } else { *plain };
        let found = best(note, white, within, manner).filter(|spot| !note.spare || spot.cost < STRUCK);
        near &= found.is_some();
        let under = || if note.spare { None } else { below(note, white, marks, manner) };
        let Some(spot) = found.or_else(under) else { continue };
        *number += 1;
        let drawn = draw(note, &spot, (manner, white), *number);
        // With white round it, so that the leader of a later note does not graze it; first,
        // since words are to count as words.
        white.fill(spot.text.inflate(1.0, 1.0));
        white.cover(&drawn);
        white.sum();
        marks.extend(drawn);
    }
    near
}

/// Base line to base line of a note in text heights, and the least white between the
/// ink of two lines, mm.
const PITCH: f64 = 1.5;
const BETWEEN_LINES: f64 = 0.5;

/// Base line to base line of a note: ISO 3098 asks for 1.4 text heights at least.
fn pitch(manner: &Manner) -> f64 {
    (PITCH * manner.text).max(manner.tall() + BETWEEN_LINES)
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
/// What a place costs at the least whose leader runs through words, mm: a spare note is left
/// out sooner.
const STRUCK: f64 = CROSSING * WORDS as f64;
/// Least sine of the angle between a leader and level or upright: 15 degrees.
const LEAN: f64 = 0.258_9;
/// From this sine on a leader runs as hatching does: 41 degrees.
const STEEP: f64 = 0.656;
/// White round a text at its sides, and above and below it, mm.
const ROUND_TEXT: (f64, f64) = (1.2, 1.0);
/// Where a leader touches what it points at it crosses nothing, mm.
const AT_TARGET: f64 = 1.5;
/// White looked for round the bend of a leader, mm both ways.
const BEND: f64 = 1.2;
/// From the lowest ink, or the target, to a note under everything, mm.
const UNDER: f64 = 4.0;
const UNDER_TARGET: f64 = 3.0;
/// What a leader costs that runs nearly level or upright, mm: only where nothing else
/// is left.
const FLAT: f64 = 60.0;
/// A leader is at least this much longer than its head, mm.
const LEAST_SHAFT: f64 = 3.0;
/// A leader may begin this far over the side of its own text, mm.
const OVER_SIDE: f64 = 1.5;
/// What each mm costs by which a note makes the cell grow: more than the same length
/// of leader, since every cell of its row grows with it.
const GROWTH: f64 = 2.5;
/// What a leader along the hatching costs, mm: in a section nearly everything, in a
/// plain view a detour.
const ALONG_HATCH: f64 = 800.0;
const ALONG_PLAIN: f64 = 12.0;
/// What a leader costs that runs along a line of the hatching, mm: more than any way through
/// what is filled.
const ALONG_LINE: f64 = 50_000.0;
/// Most targets tried for one note.
const TARGETS: usize = 6;

/// The cheapest place. Every candidate's cost without what its leader crosses
/// is known at once; they are tried in that order until none left can beat the
/// best found. A first look at few of them tells what need not be looked at.
fn best(note: &Callout, white: &White, within: Rect, manner: &Manner) -> Option<Spot> {
    let size = size(note, manner);
    let targets = some(&note.at);
    let most = first_look(&targets, size, white, within, manner);
    // A candidate is its target and corner; most are never looked at again, so
    // they are kept in a heap and their spots worked out when they come up.
    let mut candidates: Vec<Candidate> = Vec::new();
    for (rank, target) in targets.iter().enumerate() {
        around(*target, size, Search { nth: 1, most: most - rank as f64 }, |text| {
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
        // What a leader crosses only adds to this, so none that follows can be cheaper.
        if best.is_some_and(|b| b.cost <= cost) {
            break;
        }
        let text = Rect::new(corner.x, corner.y, corner.x + size.0, corner.y + size.1);
        // Worked out again and not kept: most candidates are never looked at, and there
        // are thousands.
        let spot = targets.get(rank).and_then(|target| judge(text, *target, within, white, manner));
        let Some((spot, cost)) = spot.and_then(|s| Some((s, whole_cost(&s, cost, (white, manner))?))) else {
            continue;
        };
        if best.is_none_or(|b| cost < b.cost) {
            best = Some(Spot { cost, ..spot });
        }
    }
    best
}

/// What the best of few places costs, widely spaced: no place that costs more need be
/// looked at, and most of the others do.
fn first_look(targets: &[Point], size: (f64, f64), white: &White, within: Rect, manner: &Manner) -> f64 {
    let mut most = f64::INFINITY;
    for (rank, target) in targets.iter().enumerate() {
        around(*target, size, Search { nth: COARSE, most: REACH + size.0 }, |text| {
            let spot = judge(text, *target, within, white, manner).filter(|s| s.cost + (rank as f64) < most);
            if let Some(cost) = spot.and_then(|s| whole_cost(&s, s.cost + rank as f64, (white, manner))) {
                most = most.min(cost);
            }
        });
    }
    most
}

/// How many steps apart places lie that are looked at first.
const COARSE: usize = 4;

/// Which places are looked at: every `nth` each way, with leaders no longer than `most`.
#[derive(Clone, Copy)]
struct Search {
    nth: usize,
    most: f64,
}

/// The places searched for a text of some size within reach of a target.
fn around(target: Point, size: (f64, f64), search: Search, mut see: impl FnMut(Rect)) {
    let ((w, h), Search { nth, most }) = (size, search);
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
fn whole_cost(spot: &Spot, cost: f64, (white, manner): (&White, &Manner)) -> Option<f64> {
    if !white.free(spot.text.inflate(ROUND_TEXT.0, ROUND_TEXT.1)) {
        return None;
    }
    // The leader may touch what it points at.
    let towards = spot.tail - spot.target;
    let start = spot.target + towards * (AT_TARGET / towards.hypot().max(AT_TARGET));
    // A bend on the line or head of a size would be read as part of it.
    let bend = Rect::from_center_size(spot.tail, (BEND, BEND));
    let touching = if white.free(bend) { 0.0 } else { TOUCHING };
    let mistaken = if white.along_hatching(spot.target, spot.tail) { ALONG_LINE } else { 0.0 };
    // A figure close by what is pointed at would stand on the head.
    let back = spot.target + towards * (manner.arrow / towards.hypot().max(manner.arrow));
    let aside = Vec2::new(-towards.y, towards.x) * (manner.half / towards.hypot().max(manner.half));
    let sides = [back + aside, back - aside];
    let headed =
        if sides.into_iter().any(|side| white.meets_words(spot.target, side)) { STRUCK } else { 0.0 };
    Some(cost + touching + mistaken + headed + CROSSING * white.crossed(start, spot.tail) as f64)
}

/// What a leader costs that bends on other ink, mm.
const TOUCHING: f64 = 25.0;

/// A place under all that is drawn, its leader over as little as can be; none
/// only for a note that points at nothing.
fn below(note: &Callout, white: &White, marks: &[Mark], manner: &Manner) -> Option<Spot> {
    let (w, h) = size(note, manner);
    let foot = marks.iter().map(|m| m.bounds().y1).reduce(f64::max)? + UNDER;
    let mut spots = Vec::new();
    for target in some(&note.at) {
        let top = foot.max(target.y + manner.arrow + UNDER_TARGET);
        // Wide enough for any sheet; a long leader under everything is poor, but a note
        // left out is worse.
        for step in -30_i32..=30 {
            let x = target.x + 2.0 * STEP * f64::from(step);
            let text = Rect::new(x, top, x + w, top + h);
            let (left, right) = tails(text, manner);
            let tail = if x > target.x { left } else { right };
            let run = tail - target;
            let lean = run.x.abs().min(run.y.abs()) / run.hypot();
            let mistaken = if lean < LEAN { FLAT } else { along_hatching(lean, target, white) };
            let along = if white.along_hatching(target, tail) { ALONG_LINE } else { 0.0 };
            let cost = run.hypot() + mistaken + along + CROSSING * white.crossed(target, tail) as f64;
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
    let inside = if tail == left { target.x > text.x0 - OVER_SIDE } else { target.x < text.x1 + OVER_SIDE };
    let run = tail - target;
    let length = run.hypot();
    // Leaders along the lines of the drawing are mistaken for them: 15 degrees
    // at least from level and upright.
    let lean = run.x.abs().min(run.y.abs()) / length;
    if inside || length < manner.arrow + LEAST_SHAFT || lean < LEAN {
        return None;
    }
    let flat = along_hatching(lean, target, white);
    let grown = text.union(within);
    // Both ways add up: a note at a corner makes the cell wider and higher.
    let growth = (grown.width() - within.width()) + (grown.height() - within.height());
    Some(Spot { text, target, tail, cost: length + flat + GROWTH * growth })
}

/// What a leader costs that may be mistaken for hatching, which runs at 45
/// degrees, mm: in a section more than the way through it.
fn along_hatching(lean: f64, target: Point, white: &White) -> f64 {
    match lean > STEEP {
        true if white.solid(target) => ALONG_HATCH,
        true => ALONG_PLAIN,
        false => 0.0,
    }
}

/// A leader whose end has white round it this wide ends in a face, in a dot this large, mm.
const ON_LINE: f64 = 1.0;
const DOT: f64 = 1.0;

/// The ink of a note.
fn draw(note: &Callout, spot: &Spot, (manner, white): (&Manner, &White), number: u32) -> Vec<Mark> {
    let plain = Shows { dimension: number, ..Shows::default() };
    let towards = (spot.target - spot.tail).normalize();
    let starts = spot.tail.x < spot.text.x0;
    let landing = Point::new(if starts { spot.text.x0 - 1.0 } else { spot.text.x1 + 1.0 }, spot.tail.y);
    let mut marks = vec![
        ink::line(spot.target, spot.tail, manner, Role::Leader, &plain),
        ink::line(spot.tail, landing, manner, Role::Leader, &plain),
        // At an edge a leader ends in a head, within a face in a dot (ISO 128-22).
        if white.free(Rect::from_center_size(spot.target, (ON_LINE, ON_LINE))) {
            ink::dot(spot.target, DOT, &plain)
        } else {
            ink::arrow(spot.target, towards, manner, &plain)
        },
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::page::look::{Look, Paper};
    use crate::drawing::page::profile::Profile;
    use crate::measure::Unit;
    use crate::paper::{Ink, Pen, dash};

    /// Whether the leader of a note on `target` of a face 60 square ends in a dot.
    fn ends_in_a_dot(target: Point) -> bool {
        let area = Rect::new(0.0, 0.0, 160.0, 120.0);
        let mut white = White::new(area);
        let pen = Pen { width: 0.5, dash: dash::SOLID };
        let corners = [(50.0, 30.0), (110.0, 30.0), (110.0, 90.0), (50.0, 90.0), (50.0, 30.0)];
        let sides = corners.windows(2);
        white.ink(
            &sides.map(|s| Mark::line(s[0].into(), s[1].into(), pen, Role::Outline)).collect::<Vec<_>>(),
        );
        let note = Callout {
            at: vec![target],
            lines: vec![vec![Run::Plain("groove".into())]],
            value: None,
            fixes: Fixes::Nothing,
            spare: false,
        };
        let manner = Manner::of(&Look::new(Paper::A4, Unit::Mm, Profile::Iso));
        let mut marks = Vec::new();
        assert!(callouts(&[note], &mut white, area, &manner, &mut 0, &mut marks));
        let end = marks.iter().find(|mark| mark.role == Role::Arrow).expect("an end");
        let Ink::Fill { path, .. } = &end.ink else { panic!("{end:?}") };
        // A head is three straight sides.
        path.elements().len() > 4
    }

    #[test]
    fn a_leader_ends_in_a_head_at_an_edge_and_in_a_dot_in_a_face() {
        assert!(!ends_in_a_dot(Point::new(80.0, 30.0)));
        assert!(ends_in_a_dot(Point::new(80.0, 60.0)));
    }
}
