//! Which sizes a part is made from.
//!
//! For every axis of every view a graph is built: nodes are faces and centres,
//! edges the sizes shown. Every node hangs on the datum (near end, face edge,
//! face side) by exactly one path, so that nothing is missing and nothing said
//! twice (Todd 1989, Dori 1992: a spanning tree).
//!
//! What each figure fixes stands beside its ink ([`Fixes`]); the rebuild test reads
//! it with the numbers as printed and nothing else. A chain of more than two places
//! prints `n × p (= total)` or `n equal = total`.

use std::collections::BTreeSet;

use super::chosen::{AxisRow, PartNote, Place, ViewSizes};
use super::holes::due;
use super::notes::arrises;
use super::notes::group::{faces_both, group};
use super::notes::printed::{centred, printed_axes};
use super::notes::{phrases, wording};
use crate::drawing::kit::dimension::Form as RowForm;
use crate::drawing::kit::dimension::figure::Figure;
use crate::drawing::page::look::Look;
use crate::geometry::DVec3;
use crate::geometry::tolerance::HAIR;
use crate::joinery::{CutKind, WorkedPart};
use crate::machining::feature::section_corner;
use crate::machining::feature::{Feature, Form, SAME, axis_side, shoulder_end};
use crate::model::Face;
use crate::paper::fixes::{Axis, Fixes, PlaceId};

/// A node of the graph of one axis.
#[derive(Clone, Debug)]
struct Node {
    /// Part coordinate.
    at: f64,
    /// What stands there.
    names: Vec<PlaceId>,
    /// Where those lie on the other axis.
    lies: Vec<(f64, f64)>,
    /// Group of equal cuts, for rows.
    group: usize,
}

/// Chooses the views of a part and the sizes in each.
pub(super) fn choose(part: &WorkedPart, features: &[Feature], look: &Look) -> Vec<ViewSizes> {
    let views = views(part, features, &BTreeSet::new(), look);
    let due = due::due(&views, features);
    if due.is_empty() { views } else { self::views(part, features, &due, look) }
}

/// The views with the sizes in each, but of the cuts `by_number`, which are sized in a table.
fn views(
    part: &WorkedPart,
    features: &[Feature],
    by_number: &BTreeSet<usize>,
    look: &Look,
) -> Vec<ViewSizes> {
    let size = part.size;
    let both = ends_alike(features, size);
    let mut views = Vec::new();
    let mut seen = Vec::new();
    for face in [Face::Marked, Face::Edge, Face::FarEdge, Face::Back, Face::NearEnd, Face::FarEnd] {
        let shown = |f: &&Feature| {
            let mate = f.form.seen_on(size) == Face::Back && features.iter().any(|g| faces_both(f, g));
            if mate { face == Face::Marked } else { shown_on(f, size, both) == face }
        };
        let here: Vec<&Feature> = features.iter().filter(shown).collect();
        if here.is_empty() && !matches!(face, Face::Marked | Face::Edge) {
            continue;
        }
        let sized: Vec<&Feature> = here.iter().filter(|f| !by_number.contains(&f.cut)).copied().collect();
        let cuts = here.iter().map(|f| f.cut).collect();
        views.push(ViewSizes { cuts, ..view(part, features, &sized, face, look) });
        seen.push(here);
    }
    for (view, holes) in views.iter_mut().zip(due::number(seen.into_iter(), by_number)) {
        view.numbered = holes;
    }
    arrises::told_once(&mut views, features, size);
    views
}

/// The view a feature is sized in.
fn shown_on(feature: &Feature, size: DVec3, both_ends: bool) -> Face {
    match feature.form.seen_on(size) {
        Face::FarEnd if both_ends => Face::NearEnd,
        face => face,
    }
}

/// Whether the far end carries exactly what the near end does, so that one
/// view serves both.
fn ends_alike(features: &[Feature], size: DVec3) -> bool {
    let on = |face: Face| features.iter().filter(move |f| f.form.seen_on(size) == face);
    let far: Vec<&Feature> = on(Face::FarEnd).collect();
    !far.is_empty()
        && far.len() == on(Face::NearEnd).filter(|f| !matches!(f.form, Form::Slope { .. })).count()
        && far.iter().all(|f| on(Face::NearEnd).any(|n| opposite(n, f)))
}

/// Whether two cuts in opposite ends are alike.
fn opposite(near: &Feature, far: &Feature) -> bool {
    let close = |a: f64, b: f64| (a - b).abs() < SAME;
    if near.kind != far.kind || near.stage != far.stage {
        return false;
    }
    match (&near.form, &far.form) {
        (Form::Pocket { min: a, max: b, round: r, .. }, Form::Pocket { min: c, max: d, round: s, .. }) => {
            close(a.y, c.y)
                && close(a.z, c.z)
                && close(b.y, d.y)
                && close(b.z, d.z)
                && close(b.x - a.x, d.x - c.x)
                && close(*r, *s)
        }
        (
            Form::Hole { centre: a, diameter: d, depth: p, .. },
            Form::Hole { centre: b, diameter: e, depth: q, .. },
        ) => close(a.y, b.y) && close(a.z, b.z) && close(*d, *e) && close(*p, *q),
        (Form::Flared(a), Form::Flared(b)) => {
            a.alike(b) && close(a.min.y, b.min.y) && close(a.min.z, b.min.z) && close(a.widths.0, b.widths.0)
        }
        _ => false,
    }
}

/// The sizes of one view.
fn view(part: &WorkedPart, all: &[Feature], here: &[&Feature], face: Face, look: &Look) -> ViewSizes {
    let size = part.size;
    let groups = group(here, size);
    let (across, _) = axis_side(face);
    let mut rows = Vec::new();
    for axis in (0..3).filter(|a| *a != across) {
        let other = 3 - across - axis;
        let nodes = nodes(here, &groups, axis, other, size);
        rows.extend(rows_of(axis, nodes, size, look));
        if overall_here(face, axis) {
            rows.push(overall(axis, other, size, look));
        }
    }
    if face == Face::Marked {
        rows.extend(shoulders(all, size, look));
    }
    if face == Face::Edge {
        rows.extend(short_points(all, size, look));
    }
    let mut notes: Vec<PartNote> =
        groups.iter().filter_map(|g| wording::note(part, here, g, face, look)).collect();
    notes.extend(wording::radii(here, look));
    ViewSizes { face, rows, notes, cuts: Vec::new(), numbered: Vec::new() }
}

/// Whether a blank's size along `axis` is shown in the view on `face`.
fn overall_here(face: Face, axis: usize) -> bool {
    (face == Face::Marked && axis < 2) || (face == Face::Edge && axis == 2)
}

/// The whole of the blank along one axis.
fn overall(axis: usize, other: usize, size: DVec3, look: &Look) -> AxisRow {
    let lies = vec![(0.0, size[other])];
    let place = |at| Place { at, lies: lies.clone() };
    AxisRow {
        axis,
        stops: vec![place(0.0), place(size[axis])],
        figures: vec![Some(Figure::length(look, size[axis], Fixes::overall(Axis::of(axis))))],
        form: RowForm::Chain,
        outermost: true,
    }
}

/// The near tenon, and from its shoulders to those of the far one: what is marked out
/// first, and the length that the frame comes out by.
fn shoulders(all: &[Feature], size: DVec3, look: &Look) -> Option<AxisRow> {
    let at = |far: bool| {
        let mut names = Vec::new();
        let mut place: Option<Place> = None;
        for feature in all.iter().filter(|f| f.in_line && shoulder_end(f, size) == Some(far)) {
            let Form::Pocket { min, max, .. } = &feature.form else { continue };
            let (x, name) =
                if far { (min.x, PlaceId::Low(feature.cut)) } else { (max.x, PlaceId::High(feature.cut)) };
            names.push(name);
            place.get_or_insert_with(|| Place { at: x, lies: Vec::new() }).lies.push((min.y, max.y));
        }
        place.map(|place| (place, names))
    };
    let ((near, first), (far, last)) = (at(false)?, at(true)?);
    let between = Fixes::Chain { axis: Axis::X, places: vec![first.clone(), last] };
    Some(AxisRow {
        axis: 0,
        figures: vec![
            Some(Figure::length(look, near.at, Fixes::from_datum(Axis::X, first))),
            Some(Figure::length(look, far.at - near.at, between)),
        ],
        stops: vec![Place { at: 0.0, lies: vec![(0.0, size.y)] }, near, far],
        form: RowForm::Chain,
        outermost: false,
    })
}

/// Length between short points of mitred ends, bracketed: it follows from the
/// long points and the angle, but is what the maker checks with a rule.
fn short_points(all: &[Feature], size: DVec3, look: &Look) -> Option<AxisRow> {
    let (mut low, mut high) = ((0.0, 0.0), (size.x, 0.0));
    let mut found = false;
    for feature in all {
        let Form::Slope { along: 1, ends, .. } = &feature.form else { continue };
        let [a, b] = if ends[0].x < ends[1].x { *ends } else { [ends[1], ends[0]] };
        if b.x < size.x / 2.0 && b.x > low.0 {
            low = (b.x, b.z);
            found = true;
        } else if a.x > size.x / 2.0 && a.x < high.0 {
            high = (a.x, a.z);
            found = true;
        }
    }
    found.then(|| AxisRow {
        axis: 0,
        stops: vec![
            Place { at: low.0, lies: vec![(low.1, low.1)] },
            Place { at: high.0, lies: vec![(high.1, high.1)] },
        ],
        figures: vec![Some(Figure::length(look, high.0 - low.0, Fixes::Nothing).bracketed())],
        form: RowForm::Chain,
        outermost: false,
    })
}

/// Nodes of one axis, merged where they stand in one line, rising.
fn nodes(here: &[&Feature], groups: &[Vec<usize>], axis: usize, other: usize, size: DVec3) -> Vec<Node> {
    let mut nodes: Vec<Node> = Vec::new();
    for (group, members) in groups.iter().enumerate() {
        for feature in members.iter().filter_map(|i| here.get(*i)) {
            for (at, name, lies) in places(feature, axis, other, size) {
                let known = nodes.iter_mut().find(|n| (n.at - at).abs() < SAME);
                match known {
                    Some(node) => {
                        node.names.push(name);
                        node.lies.push(lies);
                    }
                    None => nodes.push(Node { at, names: vec![name], lies: vec![lies], group }),
                }
            }
        }
    }
    nodes.retain(|n| n.at > SAME);
    nodes.sort_by(|a, b| a.at.total_cmp(&b.at));
    nodes
}

/// Places of a cut that an axis must fix, each with what it is and where it
/// lies on the other axis.
fn places(feature: &Feature, axis: usize, other: usize, size: DVec3) -> Vec<(f64, PlaceId, (f64, f64))> {
    if let Form::Shape { corners, .. } = &feature.form {
        return corner_places((feature.cut, corners), axis, other, size);
    }
    let places: Vec<(f64, char, (f64, f64))> = match &feature.form {
        Form::Pocket { .. } => pocket_places(feature, axis, other, size),
        Form::Hole { centre, diameter, .. } => {
            let r = diameter / 2.0;
            vec![(centre[axis], 'c', (centre[other] - r, centre[other] + r))]
        }
        Form::Flared(socket) => socket
            .place(size)
            .filter(|_| axis == socket.run)
            .map(|(at, mark)| (at, mark, (socket.min[other], socket.max[other])))
            .into_iter()
            .collect(),
        Form::SlopedBore(bore) if bore.into[axis].abs() < HAIR => {
            vec![(bore.centre[axis], 'c', (bore.centre[other], bore.centre[other]))]
        }
        // Along the mitre it is sunk into, its place is given from the inner
        // corner; other directions are foreshortened.
        Form::Askew { centre, into, from_inner, .. } if from_inner.is_none() || into[axis].abs() < HAIR => {
            vec![(centre[axis], 'c', (centre[other], centre[other]))]
        }
        Form::Leaning(leaning) => leaning.places(axis, other),
        Form::Slope { along, ends, .. } if *along != axis && *along != other => {
            slope_places(feature.kind, *ends, axis, other, size)
        }
        // Where its line meets the ends, if that is not the corner of the blank.
        Form::Raked(raked) if axis == 1 && other == 0 => ['a', 'b']
            .into_iter()
            .zip(&raked.line)
            .filter(|(_, at)| at.y > SAME && at.y < size.y - SAME)
            .map(|(mark, at)| (at.y, mark, (at.x, at.x)))
            .collect(),
        Form::Askew { .. }
        | Form::Raked(_)
        | Form::Slope { .. }
        | Form::Compound { .. }
        | Form::Shape { .. }
        | Form::SlopedBore(_) => Vec::new(),
    };
    let named = |mark: char| match mark {
        'a' => PlaceId::Low(feature.cut),
        'b' => PlaceId::High(feature.cut),
        _ => PlaceId::Centre(feature.cut),
    };
    places.into_iter().map(|(at, mark, lies)| (at, named(mark), lies)).collect()
}

/// Those of a pocket: its middle or its sides, as far as they are not at a face and
/// its note does not print its extent.
fn pocket_places(feature: &Feature, axis: usize, other: usize, size: DVec3) -> Vec<(f64, char, (f64, f64))> {
    let Form::Pocket { min, max, round, .. } = &feature.form else { return Vec::new() };
    if feature.in_line && axis == 0 {
        return Vec::new();
    }
    let (low, high) = (min[axis], max[axis]);
    let (inner_low, inner_high) = (low > SAME, high < size[axis] - SAME);
    let lies = (min[other], max[other]);
    let printed = printed_axes(feature, size).contains(&axis);
    match (inner_low, inner_high) {
        (true, true) if centred(feature.kind, *round) => vec![(f64::midpoint(low, high), 'c', lies)],
        (true, true) if printed => vec![(low, 'a', lies)],
        (true, true) => vec![(low, 'a', lies), (high, 'b', lies)],
        (true, false) if !printed => vec![(low, 'a', lies)],
        (false, true) if !printed => vec![(high, 'b', lies)],
        _ => Vec::new(),
    }
}

/// Places of the corners of a shape, but those on the border of the blank.
fn corner_places(
    (cut, corners): (usize, &[DVec3]),
    axis: usize,
    other: usize,
    size: DVec3,
) -> Vec<(f64, PlaceId, (f64, f64))> {
    let inner = |p: &DVec3| p[axis] > SAME && p[axis] < size[axis] - SAME;
    corners
        .iter()
        .enumerate()
        .filter(|(_, p)| inner(p))
        .map(|(i, p)| (p[axis], PlaceId::Corner(cut, i), (p[other], p[other])))
        .collect()
}

/// Places where a slope leaves the blank, unless at a corner or printed with
/// it: a slope from a corner is fixed by its angle, a chamfer by its legs.
fn slope_places(
    kind: CutKind,
    ends: [DVec3; 2],
    axis: usize,
    other: usize,
    size: DVec3,
) -> Vec<(f64, char, (f64, f64))> {
    // A mitre or bevel from a corner is told by its angle; a taper from one says how
    // much it takes at its thin end.
    let told = kind != CutKind::Taper && ends.iter().any(|e| section_corner(*e, axis, other, size));
    if kind == CutKind::Chamfer || told {
        return Vec::new();
    }
    let inner = |e: &DVec3| e[axis] > SAME && e[axis] < size[axis] - SAME;
    ends.iter()
        .zip(['a', 'b'])
        .filter(|(e, _)| inner(e))
        .map(|(e, mark)| (e[axis], mark, (e[other], e[other])))
        .collect()
}

/// Rows that hang every node on the datum once.
fn rows_of(axis: usize, nodes: Vec<Node>, size: DVec3, look: &Look) -> Vec<AxisRow> {
    let mut rows = Vec::new();
    let mut open: Vec<Node> = nodes;
    open.retain(|n| n.at < size[axis] - SAME);
    let count = open.len();
    while let Some(run) = even_run(&open) {
        let members: Vec<Node> = run.iter().filter_map(|i| open.get(*i)).cloned().collect();
        rows.push(even_row(axis, &members, look));
        let mut index = 0;
        open.retain(|_| {
            index += 1;
            !run.contains(&(index - 1))
        });
    }
    if open.len() >= 3 {
        rows.push(running_row(axis, &open, look));
        return rows;
    }
    for node in &open {
        // The datum of a single size lies where the cut lies.
        let datum = Place { at: 0.0, lies: node.lies.clone() };
        rows.push(AxisRow {
            axis,
            stops: vec![datum, place(node)],
            figures: vec![Some(Figure::length(
                look,
                node.at,
                Fixes::from_datum(Axis::of(axis), node.names.clone()),
            ))],
            form: RowForm::Chain,
            outermost: false,
        });
    }
    debug_assert!(rows.len() <= count, "no more rows than nodes");
    rows
}

/// A node as a stop.
fn place(node: &Node) -> Place {
    Place { at: node.at, lies: node.lies.clone() }
}

/// Three or more nodes of one group at an even pitch; the longest such run first.
fn even_run(nodes: &[Node]) -> Option<Vec<usize>> {
    let mut best: Option<Vec<usize>> = None;
    for i in 0..nodes.len() {
        for j in i + 1..nodes.len() {
            let (Some(a), Some(b)) = (nodes.get(i), nodes.get(j)) else { continue };
            if a.group != b.group {
                continue;
            }
            let pitch = b.at - a.at;
            let mut run = vec![i, j];
            while let Some(next) = (0..nodes.len()).find(|k| {
                nodes.get(*k).is_some_and(|n| {
                    n.group == a.group && (n.at - a.at - pitch * run.len() as f64).abs() < SAME
                })
            }) {
                run.push(next);
            }
            if run.len() >= 3 && best.as_ref().is_none_or(|b| b.len() < run.len()) {
                best = Some(run);
            }
        }
    }
    best
}

/// `first`, then `n × pitch (= total)` or `n equal = total`.
fn even_row(axis: usize, members: &[Node], look: &Look) -> AxisRow {
    let (first, last) = (&members[0], &members[members.len() - 1]);
    let steps = members.len() - 1;
    let total = last.at - first.at;
    let places = members.iter().map(|node| node.names.clone()).collect();
    let even = Figure {
        runs: phrases::even(look, steps, total / steps as f64, total),
        value: total,
        fixes: Fixes::Chain { axis: Axis::of(axis), places },
    };
    AxisRow {
        axis,
        stops: vec![Place { at: 0.0, lies: first.lies.clone() }, place(first), place(last)],
        figures: vec![
            Some(Figure::length(look, first.at, Fixes::from_datum(Axis::of(axis), first.names.clone()))),
            Some(even),
        ],
        form: RowForm::Chain,
        outermost: false,
    }
}

/// All nodes from the datum on one line.
fn running_row(axis: usize, nodes: &[Node], look: &Look) -> AxisRow {
    let lies = nodes.iter().flat_map(|n| n.lies.iter().copied()).collect();
    let mut stops = vec![Place { at: 0.0, lies }];
    let mut figures = Vec::new();
    for node in nodes {
        stops.push(place(node));
        let fixes = Fixes::from_datum(Axis::of(axis), node.names.clone());
        figures.push(Some(Figure::length(look, node.at, fixes)));
    }
    AxisRow { axis, stops, figures, form: RowForm::Running, outermost: false }
}
