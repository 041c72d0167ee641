//! Rows of sizes read back from the ink: dimension lines with the places they
//! reach to, and the figures between those.

use std::collections::BTreeMap;

use kurbo::{PathEl, Point, Shape, Vec2};

use super::scene::{Scene, Words};
use crate::geometry::tolerance::HAIR;
use crate::paper::{Fixes, Ink, Role};

/// Places nearer than this on paper are one, mm.
pub(super) const SAME_PLACE: f64 = 0.03;

/// A place a dimension line reaches to.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Stop {
    /// Sheet coordinate along the line, mm.
    pub(super) at: f64,
    /// The ways its arrow heads fly: +1 where their tips point to rising
    /// coordinates.
    pub(super) heads: Vec<f64>,
    /// Whether a dot stands there.
    pub(super) dot: bool,
}

/// A figure and the places it stands between.
#[derive(Clone, Copy, Debug)]
pub(super) struct Figure<'a> {
    /// The text.
    pub(super) words: &'a Words<'a>,
    /// Sheet coordinate it measures from, mm.
    pub(super) from: f64,
    /// Sheet coordinate it measures to, mm.
    pub(super) to: f64,
    /// What it fixes, where that is known by name.
    pub(super) fixes: &'a Fixes,
}

impl Figure<'_> {
    /// Whether it stands in brackets: an auxiliary size (ISO 129-1).
    pub(super) fn auxiliary(&self) -> bool {
        self.words.text.reading().starts_with('(')
    }
}

/// A row of sizes on one dimension line, which runs across or up the sheet.
#[derive(Debug)]
pub(super) struct Row<'a> {
    /// Number of the part it belongs to; empty for none.
    pub(super) part: &'a str,
    /// The view it measures; 0 where that is not known.
    pub(super) view: u16,
    /// Its dimension number.
    pub(super) number: u32,
    /// Whether its line runs up the sheet.
    pub(super) upright: bool,
    /// Sheet coordinate across the line, mm.
    pub(super) at: f64,
    /// Whether every stretch of the line lies there.
    pub(super) straight: bool,
    /// Stretches of the line, rising.
    pub(super) lines: Vec<(f64, f64)>,
    /// Where it reaches, rising.
    pub(super) stops: Vec<Stop>,
    /// The circle that running sizes start from.
    pub(super) origin: Option<f64>,
    /// Its figures.
    pub(super) figures: Vec<Figure<'a>>,
}

impl Row<'_> {
    /// From the lowest to the highest of its line.
    pub(super) fn reach(&self) -> (f64, f64) {
        self.lines.iter().fold((f64::MAX, f64::MIN), |(l, h), (a, b)| (l.min(*a), h.max(*b)))
    }

    /// From the first to the last place its figures measure.
    pub(super) fn reach_of_figures(&self) -> (f64, f64) {
        let both = self.figures.iter().map(|f| (f.from.min(f.to), f.from.max(f.to)));
        both.fold((f64::MAX, f64::MIN), |(l, h), (from, to)| (l.min(from), h.max(to)))
    }

    /// A place on the sheet.
    pub(super) fn point(&self, along: f64) -> Point {
        if self.upright { Point::new(self.at, along) } else { Point::new(along, self.at) }
    }

    /// Whether two rows measure one view the same way.
    pub(super) fn of_one_view(&self, other: &Row<'_>) -> bool {
        let shared = self.part == other.part && self.view == other.view && self.upright == other.upright;
        // Views without a number have theirs in the hundreds of their sizes.
        shared && self.number / 100 == other.number / 100
    }

    /// Whether two rows run the same way and beside one another.
    pub(super) fn beside(&self, other: &Row<'_>) -> bool {
        let (a, b) = (self.reach(), other.reach());
        self.upright == other.upright && a.0 < b.1 && b.0 < a.1
    }
}

/// An arrow head: its tip and the way it flies; nothing for dots.
pub(super) fn head(path: &kurbo::BezPath) -> Option<(Point, Vec2)> {
    let corners: Vec<Point> = path
        .elements()
        .iter()
        .filter_map(|e| match e {
            PathEl::MoveTo(p) | PathEl::LineTo(p) => Some(*p),
            PathEl::QuadTo(..) | PathEl::CurveTo(..) | PathEl::ClosePath => None,
        })
        .collect();
    let curved = path.elements().iter().any(|e| matches!(e, PathEl::QuadTo(..) | PathEl::CurveTo(..)));
    match (&corners[..], curved) {
        ([tip, a, b], false) => Some((*tip, *tip - a.midpoint(*b))),
        _ => None,
    }
}

/// All rows of a sheet whose lines run across or up it.
pub(super) fn rows<'a>(scene: &'a Scene<'a>) -> Vec<Row<'a>> {
    let mut rows: BTreeMap<(&str, u32), Row<'a>> = BTreeMap::new();
    for piece in &scene.pieces {
        let mark = scene.mark(piece.mark);
        let run = piece.b - piece.a;
        let level = run.x.abs().min(run.y.abs()) < HAIR;
        if mark.role != Role::Dimension || !level {
            continue;
        }
        let upright = run.y.abs() > run.x.abs();
        let (at, a, b) =
            if upright { (piece.a.x, piece.a.y, piece.b.y) } else { (piece.a.y, piece.a.x, piece.b.x) };
        let shows = &mark.shows;
        let row = rows.entry((shows.part.as_str(), shows.dimension)).or_insert_with(|| Row {
            part: &shows.part,
            view: shows.view,
            number: shows.dimension,
            upright,
            at,
            straight: true,
            lines: Vec::new(),
            stops: Vec::new(),
            origin: None,
            figures: Vec::new(),
        });
        row.straight &= row.upright == upright && (row.at - at).abs() < SAME_PLACE;
        row.lines.push((a.min(b), a.max(b)));
    }
    heads(scene, &mut rows);
    figures(scene, &mut rows);
    rows.into_values().collect()
}

/// Gives the rows their stops.
fn heads<'a>(scene: &'a Scene<'a>, rows: &mut BTreeMap<(&'a str, u32), Row<'a>>) {
    for mark in scene.sheet.marks.iter().filter(|m| m.role == Role::Arrow && m.is_finite()) {
        let Some(row) = rows.get_mut(&(mark.shows.part.as_str(), mark.shows.dimension)) else { continue };
        let along = |p: Point| if row.upright { p.y } else { p.x };
        let (at, flies) = match &mark.ink {
            Ink::Text(_) => continue,
            Ink::Stroke { path, .. } => {
                row.origin = Some(along(path.bounding_box().center()));
                (along(path.bounding_box().center()), None)
            }
            Ink::Fill { path, .. } => match head(path) {
                Some((tip, way)) => (along(tip), Some(if row.upright { way.y } else { way.x }.signum())),
                None => (along(path.bounding_box().center()), None),
            },
        };
        let dot = flies.is_none() && matches!(mark.ink, Ink::Fill { .. });
        match row.stops.iter_mut().find(|s| (s.at - at).abs() < SAME_PLACE) {
            Some(stop) => {
                stop.heads.extend(flies);
                stop.dot |= dot;
            }
            None => row.stops.push(Stop { at, heads: flies.into_iter().collect(), dot }),
        }
    }
    for row in rows.values_mut() {
        row.stops.sort_by(|a, b| a.at.total_cmp(&b.at));
        row.lines.sort_by(|a, b| a.0.total_cmp(&b.0));
    }
}

/// Gives the rows their figures: numbers run on from that of the row, one for
/// each stretch, of running sizes one for each stop after the first.
fn figures<'a>(scene: &'a Scene<'a>, rows: &mut BTreeMap<(&'a str, u32), Row<'a>>) {
    for words in &scene.words {
        let mark = scene.mark(words.mark);
        let (part, number) = (mark.shows.part.as_str(), mark.shows.dimension);
        if mark.role != Role::DimensionText || number == 0 {
            continue;
        }
        let Some(((owner, first), row)) = rows.range_mut(..=(part, number)).next_back() else { continue };
        if *owner != part {
            continue;
        }
        let Ok(index) = usize::try_from(number - first) else { continue };
        let ends = match row.origin {
            None => row.stops.get(index).zip(row.stops.get(index + 1)).map(|(a, b)| (a.at, b.at)),
            Some(origin) => {
                let mut others: Vec<f64> = row.stops.iter().map(|s| s.at).collect();
                others.sort_by(|a, b| (a - origin).abs().total_cmp(&(b - origin).abs()));
                others.get(index + 1).map(|to| (origin.min(*to), origin.max(*to)))
            }
        };
        if let Some((from, to)) = ends {
            row.figures.push(Figure { words, from, to, fixes: &scene.mark(words.mark).shows.fixes });
        }
    }
}
