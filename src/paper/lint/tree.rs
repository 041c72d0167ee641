//! Rules for what sizes fix together: all of it, and nothing twice.
//!
//! The sizes along one axis are the edges of a graph whose nodes are faces and
//! centres; a complete set without a closed chain is a spanning tree
//! (Todd 1989, Dori 1992; ISO 129-1: each size once).

use std::collections::BTreeMap;

use kurbo::Point;

use super::finding::Add;
use super::rows::{Figure, Row, SAME_PLACE};
use super::scene::Scene;
use super::sizes::numbers;
use crate::geometry::tolerance::HAIR;
use crate::paper::Role;
use crate::paper::fixes::{Axis, Fixes, PlaceId};

/// What the sizes of one axis of a part join.
#[derive(Default)]
struct Graph {
    /// Places, each with the group it is joined to.
    group: BTreeMap<PlaceId, usize>,
    /// The sheet on which the first size stands, and where.
    at: Option<(usize, Point)>,
    /// How often the overall size is shown.
    overall: usize,
}

impl Graph {
    /// The group of a place, its own until something joins it.
    fn of(&mut self, place: PlaceId) -> usize {
        let fresh = self.group.len();
        *self.group.entry(place).or_insert(fresh)
    }

    /// Joins two places; whether they were apart before.
    fn join(&mut self, a: PlaceId, b: PlaceId) -> bool {
        let (from, to) = (self.of(a), self.of(b));
        for group in self.group.values_mut().filter(|g| **g == from) {
            *group = to;
        }
        from != to
    }

    /// Whether everything hangs together.
    fn whole(&self) -> bool {
        let mut groups = self.group.values();
        let first = groups.next();
        groups.all(|g| Some(g) == first)
    }
}

/// The axis and the places of what a size fixes.
fn places(fixes: &Fixes) -> Option<(Axis, &[Vec<PlaceId>])> {
    match fixes {
        Fixes::Chain { axis, places } => Some((*axis, places)),
        Fixes::Nothing | Fixes::Cuts(_) | Fixes::OnWall { .. } => None,
    }
}

/// Whether a length is the wood left between what is cut from one end and from the other:
/// a rail is marked out by it, from shoulder to shoulder.
fn between_shoulders(chain: &[Vec<PlaceId>]) -> bool {
    let all = |place: Option<&Vec<PlaceId>>, is: fn(&PlaceId) -> bool| {
        place.is_some_and(|place| !place.is_empty() && place.iter().all(is))
    };
    all(chain.first(), |id| matches!(id, PlaceId::High(_)))
        && all(chain.last(), |id| matches!(id, PlaceId::Low(_)))
}

/// D01, D02, D13 and D15 for the sizes of each part on all its sheets: along each axis they
/// make one tree with the datum, its length, width and thickness are among them once each,
/// and what is not evenly spaced hangs on the datum, not on a neighbour. `add` is told the
/// sheet as well.
pub(super) fn of_parts(scenes: &[Scene<'_>], add: &mut dyn FnMut(usize, &'static str, Point, String)) {
    let mut parts: BTreeMap<&str, BTreeMap<Axis, Graph>> = BTreeMap::new();
    let sizes = || {
        scenes.iter().enumerate().flat_map(|(sheet, scene)| {
            scene.words.iter().filter_map(move |words| {
                let mark = scene.mark(words.mark);
                let (axis, chain) = places(&mark.shows.fixes).filter(|_| mark.role == Role::DimensionText)?;
                Some(((sheet, words.text), mark.shows.part.as_str(), axis, chain))
            })
        })
    };
    // What stands in one line is one place.
    for (_, part, axis, chain) in sizes() {
        let graph = parts.entry(part).or_default().entry(axis).or_default();
        for same in chain.iter().flat_map(|place| place.windows(2)) {
            graph.join(same[0], same[1]);
        }
    }
    for ((sheet, text), part, axis, chain) in sizes() {
        let graph = parts.entry(part).or_default().entry(axis).or_default();
        graph.at.get_or_insert((sheet, text.at));
        graph.overall +=
            usize::from(chain.len() == 2 && chain.iter().flatten().any(|place| *place == PlaceId::End));
        let from_datum = chain.iter().flatten().any(|place| *place == PlaceId::Datum);
        if chain.len() == 2 && !from_datum && !between_shoulders(chain) {
            let message = format!("`{}` of part {part} starts from no datum", text.reading());
            add(sheet, "D15", text.at, message);
        }
        for pair in chain.windows(2) {
            let [from, to] = pair else { continue };
            let (Some(a), Some(b)) = (from.first(), to.first()) else { continue };
            if !graph.join(*a, *b) {
                let message = format!(
                    "`{}` follows from other sizes of part {part} along {}",
                    text.reading(),
                    axis.letter()
                );
                add(sheet, "D02", text.at, message);
            }
        }
    }
    for (part, axes) in &parts {
        complete(part, axes, add);
    }
}

/// D01 and D13 of one part.
fn complete(
    part: &str,
    axes: &BTreeMap<Axis, Graph>,
    add: &mut dyn FnMut(usize, &'static str, Point, String),
) {
    let Some(first) = axes.values().find_map(|graph| graph.at) else { return };
    for (axis, name) in [(Axis::X, "length"), (Axis::Y, "width"), (Axis::Z, "thickness")] {
        let Some(graph) = axes.get(&axis) else {
            add(first.0, "D13", first.1, format!("the {name} of part {part} is not shown"));
            continue;
        };
        let (sheet, at) = graph.at.unwrap_or(first);
        if graph.overall != 1 {
            add(sheet, "D13", at, format!("the {name} of part {part} is shown {} times", graph.overall));
        }
        if !graph.whole() {
            let message = format!("sizes of part {part} along {} do not hang together", axis.letter());
            add(sheet, "D01", at, message);
        }
    }
}

/// D02 and D20 for what is drawn: the figures of rows beside one view close no
/// ring but with one in brackets, and that is the sum of the others as shown.
pub(super) fn closed(rows: &[Row<'_>], add: &mut Add<'_>) {
    let mut views: Vec<Vec<&Row<'_>>> = Vec::new();
    for row in rows {
        let known = views.iter_mut().find(|view| view.iter().any(|other| row.of_one_view(other)));
        match known {
            Some(view) => view.push(row),
            None => views.push(vec![row]),
        }
    }
    for view in views {
        let mut links: Vec<Figure<'_>> = view.iter().flat_map(|row| row.figures.iter().copied()).collect();
        // What is in brackets comes last: it closes the ring.
        links.sort_by_key(Figure::auxiliary);
        let mut kept: Vec<Figure<'_>> = Vec::new();
        let others: Vec<Figure<'_>> = links.iter().copied().filter(|link| !link.auxiliary()).collect();
        for link in links {
            match path(&kept, (link.from, link.to), 0.0, &|_| true) {
                None => kept.push(link),
                // What a part's sizes fix is known by name: `of_parts` judges them.
                Some(_) if !link.auxiliary() && !link.fixes.is_nothing() => {}
                Some(_) if !link.auxiliary() => {
                    let message = format!("`{}` closes a chain of sizes", link.words.text.reading());
                    add("D02", link.words.text.at, message);
                }
                Some(_) => sums(&link, &others, add),
            }
        }
    }
}

/// Goes along `links` from one place to another, each at most once; gives the first
/// sum of their figures as shown, mm, that is `right`.
fn path(links: &[Figure<'_>], (from, to): (f64, f64), sum: f64, right: &dyn Fn(f64) -> bool) -> Option<f64> {
    if (from - to).abs() < SAME_PLACE && right(sum) {
        return Some(sum);
    }
    links.iter().enumerate().find_map(|(i, link)| {
        let shown = numbers(&link.words.text.reading()).last().copied().unwrap_or_default();
        let (next, by) = match ((link.from - from).abs() < SAME_PLACE, (link.to - from).abs() < SAME_PLACE) {
            (true, _) => (link.to, shown),
            (false, true) => (link.from, -shown),
            (false, false) => return None,
        };
        let others = links.iter().enumerate().filter(|(j, _)| *j != i);
        let rest: Vec<Figure<'_>> = others.map(|(_, link)| *link).collect();
        path(&rest, (next, to), sum + by, right)
    })
}

/// D20: a closing size in brackets is the sum of what it closes, as shown. At a
/// small scale two places may fall together; then one of the ways round will do.
fn sums(link: &Figure<'_>, others: &[Figure<'_>], add: &mut Add<'_>) {
    let reading = link.words.text.reading();
    let shown = numbers(&reading).first().copied().unwrap_or_default();
    let right = |sum: f64| (shown - sum.abs()).abs() <= HAIR;
    if path(others, (link.from, link.to), 0.0, &right).is_none() {
        add("D20", link.words.text.at, format!("`{reading}` is not the sum of the sizes beside it"));
    }
}

/// D13: nothing stands outside an overall size, one that reaches as far as any
/// row beside it.
pub(super) fn outermost(scene: &Scene<'_>, rows: &[Row<'_>], add: &mut Add<'_>) {
    for row in rows {
        let Some(figure) = row.figures.first().filter(|_| row.figures.len() == 1) else { continue };
        if !figure.fixes.is_overall() {
            continue;
        }
        let Some(foot) = super::hidden::foot(scene, row, figure.from) else { continue };
        let away = (row.at - foot).signum();
        let beyond = rows.iter().find(|other| {
            row.of_one_view(other)
                && other.number != row.number
                && (other.at - row.at) * away > SAME_PLACE
                && (other.at - foot) * away > 0.0
        });
        if beyond.is_some() {
            let message =
                format!("`{}` is an overall size and not the outermost", figure.words.text.reading());
            add("D13", figure.words.text.at, message);
        }
    }
}
