//! The template of a turned part: its profile, whole where the paper holds its
//! diameter and half where it does not.

use kurbo::{BezPath, Point, Rect};

use super::ink::Template;
use super::tile::Grid;
use crate::drawing::kit::dimension::ink::pen;
use crate::drawing::page::look::Look;
use crate::geometry::DVec3;
use crate::geometry::tolerance::HAIR;
use crate::joinery::{FillShape, WorkedPart};
use crate::paper::{LEAST_GAP, Mark, Pen, Role, Shows, dash};
use crate::solid::{Station, Transition, Turning};

/// Control length of a quarter ellipse as one cubic, in semi-axes; the curve
/// leaves the ellipse by less than three parts in ten thousand (closed form,
/// known of old).
const KAPPA: f64 = 0.552_284_749_8;
/// How far the axis runs past the ends, mm.
const PAST: f64 = 3.0;

/// The template of a turning; none for a plain cylinder or taper, which a rule
/// and a straight edge set out.
pub(in crate::drawing) fn profile(
    turning: &Turning,
    part: &WorkedPart,
    look: &Look,
    grid: &impl Fn(Rect) -> Grid,
) -> Option<Template> {
    let plain = turning.stations.windows(2).all(|w| w[0].then == Transition::Straight);
    if plain && turning.stations.len() < 3 {
        return None;
    }
    // Part x runs to the right whichever way the stations count.
    let along = |s: &Station| turning.at.point(DVec3::Z * s.along).x;
    let stations: Vec<(f64, Station)> = turning.stations.iter().map(|s| (along(s), *s)).collect();
    let greatest = stations.iter().map(|(_, s)| s.diameter).fold(0.0, f64::max) / 2.0;
    let (low, high) = stations.iter().fold((f64::MAX, f64::MIN), |(l, h), (x, _)| (l.min(*x), h.max(*x)));
    let whole = Rect::new(low, -greatest, high, greatest);
    let half = Rect { y1: 0.0, ..whole };
    let is_whole = grid(whole).count() <= grid(half).count();
    let shows = Shows { view: 1, part: part.mark(), ..Shows::default() };
    let outline = Mark::stroke(outline(&stations, is_whole)?, pen(look.wide()), Role::Outline);
    let mut marks = vec![outline.showing(shows.clone())];
    let axis = Pen { width: look.narrow(), dash: dash::CENTRE };
    marks.push(Mark::line(Point::new(low - PAST, 0.0), Point::new(high + PAST, 0.0), axis, Role::Centre));
    marks.extend(station_lines(&stations, is_whole, look));
    marks.extend(ring_edges(turning, part, is_whole, look));
    let message =
        if is_whole { "whole profile about the axis" } else { "half profile; the chain line is the axis" };
    Some(Template {
        marks,
        content: if is_whole { whole } else { half },
        mark: part.mark(),
        name: part.name.clone(),
        seen: "profile",
        several: false,
        says: vec![message.into(), "thin lines: stations, with the diameters of the part drawing".into()],
        grain_up: Some(false),
        names: Vec::new(),
        label: None,
    })
}

/// The profile above the axis and, if it is to be whole, below it.
fn outline(stations: &[(f64, Station)], is_whole: bool) -> Option<BezPath> {
    let (first, last) = (stations.first()?, stations.last()?);
    let mut path = BezPath::new();
    let begin = if is_whole { first.1.diameter / 2.0 } else { 0.0 };
    for side in [-1.0, 1.0] {
        if side > 0.0 && !is_whole {
            break;
        }
        path.move_to((first.0, side * first.1.diameter / 2.0));
        for pair in stations.windows(2) {
            band(&mut path, &pair[0], &pair[1], side);
        }
    }
    // The ends, square to the axis.
    for (x, diameter, from) in [
        (first.0, first.1.diameter, begin),
        (last.0, last.1.diameter, if is_whole { last.1.diameter / 2.0 } else { 0.0 }),
    ] {
        if diameter > HAIR {
            path.move_to((x, -diameter / 2.0));
            path.line_to((x, from));
        }
    }
    Some(path)
}

/// One band of the profile: a line, or the quarter of an ellipse that a cove or
/// bead is.
fn band(path: &mut BezPath, a: &(f64, Station), b: &(f64, Station), side: f64) {
    let (x0, x1) = (a.0, b.0);
    let (y0, y1) = (side * a.1.diameter / 2.0, side * b.1.diameter / 2.0);
    let (dx, dy) = ((x1 - x0) * KAPPA, (y1 - y0) * KAPPA);
    match a.1.then {
        Transition::Straight | Transition::Fillet => path.line_to((x1, y1)),
        Transition::Cove | Transition::Bead if a.1.leaves_flat(&b.1) => {
            path.curve_to((x0 + dx, y0), (x1, y1 - dy), (x1, y1));
        }
        Transition::Cove | Transition::Bead => {
            path.curve_to((x0, y0 + dy), (x1 - dx, y1), (x1, y1));
        }
    }
}

/// Thin lines across the profile at the stations between its ends.
fn station_lines(stations: &[(f64, Station)], is_whole: bool, look: &Look) -> Vec<Mark> {
    let inner = stations.get(1..stations.len().saturating_sub(1)).unwrap_or_default();
    let mut drawn: Vec<f64> = Vec::new();
    let mut marks = Vec::new();
    for (x, station) in inner {
        // Two stations at one place are a shoulder, which its outline shows.
        let shoulder = stations.iter().filter(|(other, _)| (other - x).abs() < LEAST_GAP).count() > 1;
        if shoulder || station.diameter < 2.0 || drawn.iter().any(|d| (d - x).abs() < LEAST_GAP) {
            continue;
        }
        drawn.push(*x);
        let r = station.diameter / 2.0;
        let foot = if is_whole { r } else { 0.0 };
        marks.push(Mark::line(Point::new(*x, -r), Point::new(*x, foot), pen(look.narrow()), Role::Symbol));
    }
    marks
}

/// Lines across the profile at the edges of inlaid rings.
fn ring_edges(turning: &Turning, part: &WorkedPart, is_whole: bool, look: &Look) -> Vec<Mark> {
    let edges = part.fills.iter().flat_map(|fill| match fill.shape {
        FillShape::Ring { from, to, .. } => vec![from, to],
        FillShape::Hollow { .. } => Vec::new(),
    });
    edges
        .filter_map(|at| {
            let r = turning.radius(at)?;
            let x = turning.at.point(DVec3::Z * at).x;
            let foot = if is_whole { r } else { 0.0 };
            Some(Mark::line(Point::new(x, -r), Point::new(x, foot), pen(look.narrow()), Role::Symbol))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use kurbo::{ParamCurve, Shape};

    use super::*;

    /// A cove and a bead are quarters of a circle where they are as long as they
    /// are high; every point lies at the radius from the centre.
    #[test]
    fn coves_and_beads_are_quarter_rounds() {
        for (then, centre) in
            [(Transition::Cove, Point::new(0.0, -30.0)), (Transition::Bead, Point::new(20.0, -10.0))]
        {
            let station = |along: f64, diameter: f64| (along, Station { along, diameter, then });
            let mut path = BezPath::new();
            path.move_to((0.0, -10.0));
            band(&mut path, &station(0.0, 20.0), &station(20.0, 60.0), -1.0);
            for segment in path.segments() {
                for i in 0..=10 {
                    let p = segment.eval(f64::from(i) / 10.0);
                    assert!((p.distance(centre) - 20.0).abs() < 0.006, "{then:?} {p:?}");
                }
            }
            assert!((path.bounding_box().y0 + 30.0).abs() < 1e-6);
        }
    }
}
