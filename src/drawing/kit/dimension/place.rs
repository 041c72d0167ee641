//! Bands: which row of sizes goes how far from its view, and its ink.

use kurbo::{Point, Rect, Vec2};

use super::banded::Banded;
use super::figure::Figure;
use super::row::{self, Laid, Stand};
use super::{Beside, Manner, Sizes, Stop, ink, slide};
use crate::drawing::page::profile::Profile;
use crate::paper::{Anchor, Fixes, Mark, Role, Run, Shows, Text};

/// Places nearer than this are one, mm of paper.
const SAME: f64 = 0.02;
/// How far inside a line a place must be for its extension line to cross it, mm.
const WITHIN: f64 = 0.2;
/// White between the rows of one band, mm.
const BETWEEN: f64 = 1.5;
/// A row reaches past the corner of the view where it goes this far beyond, mm; the
/// first line then stands this far from what is drawn there.
const PAST_CORNER: f64 = 6.0;
const CLEAR_OF_CORNER: f64 = 3.0;
/// White between a lifted figure and its leader, mm.
const UNDER_LIFTED: f64 = 0.6;
/// Shorter bits of extension lines are not drawn, mm; nor is a slant for less.
const BIT: f64 = 0.3;
/// How far the slant to a figure that had to part runs on, mm.
const SLANT: f64 = 0.8;

/// Dimensions drawn.
#[derive(Debug, Default)]
pub(in crate::drawing) struct Placed {
    /// The ink.
    pub(in crate::drawing) marks: Vec<Mark>,
    /// The view and everything drawn round it.
    pub(in crate::drawing) bounds: Rect,
    /// Whether a larger scale would read better.
    pub(in crate::drawing) strained: bool,
}

/// Draws `rows` round `view`. Dimension numbers go on from `number`.
pub(in crate::drawing) fn place(view: Rect, rows: &[Sizes], manner: &Manner, number: &mut u32) -> Placed {
    let mut placed = Placed { bounds: view, ..Placed::default() };
    for side in Beside::ALL {
        let rows: Vec<&Sizes> = rows.iter().filter(|r| r.side == side && r.stops.len() > 1).collect();
        if !rows.is_empty() {
            place_side(&Edge { view, side, manner }, &rows, number, &mut placed);
        }
    }
    placed
}

/// One side of a view, and how sizes are drawn beside it.
struct Edge<'a> {
    view: Rect,
    side: Beside,
    manner: &'a Manner,
}

/// Draws the rows of one side.
fn place_side(edge: &Edge<'_>, rows: &[&Sizes], number: &mut u32, placed: &mut Placed) {
    let Edge { view, side, manner } = *edge;
    // Figures that part keep clear of the rows on the sides next to this one.
    let past = Profile::FIRST_BAND / 2.0 - 1.0;
    let limits =
        if side.across() { (view.x0 - past, view.x1 + past) } else { (view.y0 - past, view.y1 + past) };
    let banded = bands(rows, manner, limits, number);
    placed.strained |= banded.iter().any(|b| b.laid.strained);
    let first = first_offset(&banded, (view, side), placed);
    let offsets = offsets(&banded, first);
    let mut texts = Vec::new();
    for row in &banded {
        let line = side.border(view) + side.outward() * offsets.get(row.band).copied().unwrap_or_default();
        texts.extend(draw(row, line, manner, &mut placed.marks));
    }
    extensions(edge, &banded, &offsets, &texts, &mut placed.marks);
    placed.bounds = placed.marks.iter().map(Mark::bounds).fold(placed.bounds, |all, b| all.union(b));
}

/// Gives every row the innermost band that is free and outside all shorter rows
/// it overlaps; rows change places where fewer extension lines then cross a
/// dimension line (ASME Y14.5: shorter sizes inside, crossings least).
fn bands<'a>(rows: &[&'a Sizes], manner: &Manner, limits: (f64, f64), number: &mut u32) -> Vec<Banded<'a>> {
    let mut order: Vec<&Sizes> = rows.to_vec();
    let span = |s: &Sizes| {
        let (low, high) = s.stops.iter().fold((f64::MAX, f64::MIN), |(l, h), p| (l.min(p.at), h.max(p.at)));
        high - low
    };
    // Shorter inside is right mostly, and a good beginning for what follows.
    order.sort_by(|a, b| a.outermost.cmp(&b.outermost).then(span(a).total_cmp(&span(b))));
    let mut best = in_order(&order, manner, limits, *number);
    let mut least = crossings(&best);
    // Each change lessens the crossings, so this ends.
    while least > 0 {
        // The first move that helps, not the best: rows are few, and the shortest move
        // disturbs least.
        let moved = moves(&order).into_iter().find_map(|(from, to)| {
            let mut changed = order.clone();
            let row = changed.remove(from);
            changed.insert(to, row);
            let tried = in_order(&changed, manner, limits, *number);
            let count = crossings(&tried);
            (count < least).then_some((changed, tried, count))
        });
        let Some((changed, tried, count)) = moved else { break };
        (order, best, least) = (changed, tried, count);
    }
    let figures: usize = rows.iter().map(|sizes| sizes.figures.len()).sum();
    *number += u32::try_from(figures).unwrap_or(0);
    best
}

/// From where to where a row may move, the shortest moves first: no farther than
/// three places, and never past one that is to stand outermost.
fn moves(order: &[&Sizes]) -> Vec<(usize, usize)> {
    let mut moves = Vec::new();
    for way in 1..=3 {
        for low in 0..order.len().saturating_sub(way) {
            let high = low + way;
            let ends = order.get(low).zip(order.get(high));
            if ends.is_some_and(|(a, b)| a.outermost == b.outermost) {
                moves.push((high, low));
                if way > 1 {
                    moves.push((low, high));
                }
            }
        }
    }
    moves
}

/// Bands for rows taken in this order, their figures out of one another's way.
fn in_order<'a>(
    order: &[&'a Sizes],
    manner: &Manner,
    limits: (f64, f64),
    mut number: u32,
) -> Vec<Banded<'a>> {
    let mut banded: Vec<Banded<'_>> = Vec::new();
    for &sizes in order {
        let (laid, band) = [true, false]
            .into_iter()
            .map(|high| row::lay(sizes, manner, limits, high))
            .map(|laid| (least_band(&laid, sizes, &banded), laid))
            // The figure of a short size goes beside whichever end keeps the row nearer
            // to the view.
            .min_by_key(|(band, _)| *band)
            .map(|(band, laid)| (laid, band))
            .unwrap_or_default();
        banded.push(Banded { sizes, laid, band, number: number + 1 });
        number += u32::try_from(sizes.figures.len()).unwrap_or(0);
    }
    slide::clear(&mut banded, manner);
    slide::stagger(&mut banded, manner);
    banded
}

/// How many extension lines cross the line of a row nearer to the view.
fn crossings(banded: &[Banded<'_>]) -> usize {
    let pairs = banded.iter().flat_map(|a| banded.iter().map(move |b| (a, b)));
    pairs.filter(|(inner, outer)| inner.band < outer.band).map(|(inner, outer)| struck(inner, outer)).sum()
}

/// How many places of `outer` lie in the line of `inner` and at none of its own:
/// there an extension line crosses it.
fn struck(inner: &Banded<'_>, outer: &Banded<'_>) -> usize {
    let own = |at: f64| inner.sizes.stops.iter().any(|s| (s.at - at).abs() < SAME);
    let inside = |at: f64| inner.laid.lines.iter().any(|(a, b)| at > a + WITHIN && at < b - WITHIN);
    outer.sizes.stops.iter().filter(|s| inside(s.at) && !own(s.at)).count()
}

/// The innermost band for a row after those already placed.
fn least_band(laid: &Laid, sizes: &Sizes, placed: &[Banded<'_>]) -> usize {
    let (low, high) = laid.reach;
    let clear = BETWEEN;
    placed
        .iter()
        .filter(|p| sizes.outermost || (p.laid.reach.0 < high + clear && low < p.laid.reach.1 + clear))
        .map(|p| p.band + 1)
        .max()
        .unwrap_or(0)
}

/// Distance of the first line from the view: more than usual where rows left
/// and right of it reach past its corner and a row here reaches there too.
fn first_offset(banded: &[Banded<'_>], (view, side): (Rect, Beside), placed: &Placed) -> f64 {
    if !side.across() {
        return Profile::FIRST_BAND;
    }
    let past = |drawn: Rect| if side == Beside::Above { view.y0 - drawn.y0 } else { drawn.y1 - view.y1 };
    // Only where a row here reaches that far: else every view would stand off its sizes
    // for nothing.
    let aside = banded
        .iter()
        .any(|b| b.laid.reach.0 < view.x0 - PAST_CORNER || b.laid.reach.1 > view.x1 + PAST_CORNER);
    // A figure may stand nearer to the corner than that, where the tail of a head outside
    // its size already meets it.
    let meets = |row: &Banded<'_>, mark: &Mark| {
        let (low, high) = row.laid.reach;
        let seen = mark.bounds();
        past(seen) + Manner::CLEAR > Profile::FIRST_BAND - row.laid.inward
            && low < seen.x1 + Manner::CLEAR
            && high > seen.x0 - Manner::CLEAR
    };
    let met = banded.iter().any(|row| placed.marks.iter().any(|mark| meets(row, mark)));
    if !aside && !met {
        return Profile::FIRST_BAND;
    }
    let inward = banded.iter().filter(|row| row.band == 0).map(|row| row.laid.inward).fold(0.0, f64::max);
    let past = past(placed.bounds);
    let off = past + CLEAR_OF_CORNER;
    let first = if off > Profile::FIRST_BAND { off + inward } else { Profile::FIRST_BAND };
    // A figure that stands above its line reaches back to the corner.
    if met { first.max(past + Manner::CLEAR + inward) } else { first }
}

/// Distance of each band's line from the view.
fn offsets(banded: &[Banded<'_>], first: f64) -> Vec<f64> {
    let count = banded.iter().map(|b| b.band + 1).max().unwrap_or(0);
    let most = |band: usize, get: fn(&Laid) -> f64| {
        banded.iter().filter(|b| b.band == band).map(|b| get(&b.laid)).fold(0.0, f64::max)
    };
    let mut offsets = Vec::with_capacity(count);
    let mut at = 0.0;
    for band in 0..count {
        let inward = most(band, |l| l.inward);
        at = if band == 0 {
            first.max(inward + 2.0)
        } else {
            at + Profile::NEXT_BAND.max(most(band - 1, |l| l.outward) + inward + 1.0)
        };
        offsets.push(at);
    }
    offsets
}

/// The point `along` a line and `across` it.
fn point(side: Beside, along: f64, across: f64) -> Point {
    if side.across() { Point::new(along, across) } else { Point::new(across, along) }
}

/// Draws line, arrows and figures of a row whose line stands at `line`; gives
/// the boxes of its figures.
fn draw(row: &Banded<'_>, line: f64, manner: &Manner, marks: &mut Vec<Mark>) -> Vec<Rect> {
    let side = row.sizes.side;
    let shows = Shows { dimension: row.number, ..Shows::default() };
    for (a, b) in &row.laid.lines {
        marks.push(ink::line(point(side, *a, line), point(side, *b, line), manner, Role::Dimension, &shows));
    }
    let flight = if side.across() { Vec2::new(1.0, 0.0) } else { Vec2::new(0.0, 1.0) };
    for (tip, way) in &row.laid.arrows {
        marks.push(ink::arrow(point(side, *tip, line), flight * *way, manner, &shows));
    }
    for at in &row.laid.dots {
        marks.push(ink::dot(point(side, *at, line), 1.0, &shows));
    }
    if let Some(at) = row.laid.origin {
        marks.push(ink::origin(point(side, at, line), manner, &shows));
    }
    figures(row, line, manner, marks)
}

/// Draws the figures of a row; gives their boxes.
fn figures(row: &Banded<'_>, line: f64, manner: &Manner, marks: &mut Vec<Mark>) -> Vec<Rect> {
    let side = row.sizes.side;
    let nought = Figure { runs: vec![Run::Plain("0".into())], value: 0.0, fixes: Fixes::Nothing };
    let mut boxes = Vec::new();
    for set in &row.laid.texts {
        let figure = match set.figure {
            None => &nought,
            Some(i) => match row.sizes.figures.get(i) {
                Some(Some(figure)) => figure,
                _ => continue,
            },
        };
        // The nought belongs to no one size of its row.
        let number = set.figure.map_or(0, |i| row.number + u32::try_from(i).unwrap_or(0));
        let text = figure_text(figure, set, line, row, manner);
        if let Stand::Lifted { from, .. } = set.stand {
            let (near, _) = lifted_span(figure, set, row, manner);
            let end = point(side, set.along, line + side.outward() * (near - UNDER_LIFTED));
            marks.push(ink::line(
                point(side, from, line),
                end,
                manner,
                Role::Leader,
                &Shows { dimension: number, ..Shows::default() },
            ));
        }
        boxes.push(text.bounds());
        marks.push(Mark::text(text, Role::DimensionText).showing(figure.shows(number)));
    }
    boxes
}

/// Near and far distance of a lifted figure.
fn lifted_span(figure: &Figure, set: &row::Set, row: &Banded<'_>, manner: &Manner) -> (f64, f64) {
    let sizes = row.sizes;
    let across =
        if manner.horizontal && !sizes.side.across() { figure.width(manner.text) } else { manner.tall() };
    let Stand::Lifted { storey, .. } = set.stand else { return (0.0, 0.0) };
    row::lifted((storey, row.laid.storey), across, sizes, manner)
}

/// The text of a figure.
fn figure_text(figure: &Figure, set: &row::Set, line: f64, row: &Banded<'_>, manner: &Manner) -> Text {
    let side = row.sizes.side;
    let h = manner.text;
    let text = |at: Point| Text::new(at, figure.runs.clone(), h).anchored(Anchor::Middle);
    match set.stand {
        Stand::On if manner.horizontal => {
            let middle = point(side, set.along, line);
            text(middle + Vec2::new(0.0, manner.drop()))
        }
        Stand::On if side.across() => text(Point::new(set.along, line - Manner::LIFT - manner.below)),
        Stand::On => text(Point::new(line - Manner::LIFT - manner.below, set.along)).turned(Text::UPRIGHT),
        Stand::Lifted { .. } => {
            let (near, far) = lifted_span(figure, set, row, manner);
            let middle = point(side, set.along, line + side.outward() * f64::midpoint(near, far));
            if side.across() || manner.horizontal {
                text(middle + Vec2::new(0.0, manner.drop()))
            } else {
                text(middle + Vec2::new(manner.drop(), 0.0)).turned(Text::UPRIGHT)
            }
        }
        Stand::AtEnd { .. } => {
            let near = line + side.outward() * (manner.over + 1.0);
            let at = point(side, set.along + manner.drop(), near);
            let anchor = match side {
                Beside::Above | Beside::Right => Anchor::Start,
                Beside::Below | Beside::Left => Anchor::End,
            };
            let turn = if side.across() { Text::UPRIGHT } else { 0.0 };
            text(at).anchored(anchor).turned(turn)
        }
    }
}

/// Extension lines: one for each place on a side, from the nearest to the view
/// to the farthest band that needs it, broken at figures it would strike.
fn extensions(
    edge: &Edge<'_>,
    banded: &[Banded<'_>],
    offsets: &[f64],
    texts: &[Rect],
    marks: &mut Vec<Mark>,
) {
    let Edge { view, side, manner } = *edge;
    let out = side.outward();
    let mut lines: Vec<(Stop, f64, u32)> = Vec::new();
    for row in banded {
        let line = side.border(view) + out * offsets.get(row.band).copied().unwrap_or_default();
        for stop in &row.sizes.stops {
            let end = line + out * manner.over;
            if let Some((known, far, _)) = lines.iter_mut().find(|(s, _, _)| (s.at - stop.at).abs() < SAME) {
                *far = if out > 0.0 { far.max(end) } else { far.min(end) };
                known.foot = if out > 0.0 { known.foot.min(stop.foot) } else { known.foot.max(stop.foot) };
            } else {
                lines.push((*stop, end, row.number));
            }
        }
        jogs(row, line, manner, marks);
    }
    for (stop, end, number) in lines {
        let shows = Shows { dimension: number, ..Shows::default() };
        let start = stop.foot + out * manner.gap;
        for (a, b) in clear_of(side, stop.at, (start, end), texts) {
            marks.push(ink::line(
                point(side, stop.at, a),
                point(side, stop.at, b),
                manner,
                Role::Extension,
                &shows,
            ));
        }
    }
}

/// Short slants from extension lines to running figures that had to part.
fn jogs(row: &Banded<'_>, line: f64, manner: &Manner, marks: &mut Vec<Mark>) {
    let side = row.sizes.side;
    let shows = Shows { dimension: row.number, ..Shows::default() };
    for set in &row.laid.texts {
        let Stand::AtEnd { from } = set.stand else { continue };
        if (from - set.along).abs() > BIT {
            let a = point(side, from, line + side.outward() * manner.over);
            let b = point(side, set.along, line + side.outward() * (manner.over + SLANT));
            marks.push(ink::line(a, b, manner, Role::Extension, &shows));
        }
    }
}

/// Parts of the extension line at `at` from `ends.0` to `ends.1` that keep
/// clear of figures.
fn clear_of(side: Beside, at: f64, ends: (f64, f64), texts: &[Rect]) -> Vec<(f64, f64)> {
    let (low, high) = (ends.0.min(ends.1), ends.0.max(ends.1));
    let mut gaps: Vec<(f64, f64)> = texts
        .iter()
        .map(|r| r.inflate(0.5, 0.5))
        .filter_map(|r| {
            let ((a0, a1), (c0, c1)) =
                if side.across() { ((r.x0, r.x1), (r.y0, r.y1)) } else { ((r.y0, r.y1), (r.x0, r.x1)) };
            (at > a0 && at < a1 && c0 < high && c1 > low).then_some((c0, c1))
        })
        .collect();
    // Rising, so that figures over one another make one break.
    gaps.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut parts = Vec::new();
    let mut from = low;
    for (a, b) in gaps {
        if a - from > BIT {
            parts.push((from, a));
        }
        from = from.max(b);
    }
    if high - from > BIT {
        parts.push((from, high));
    }
    parts
}
