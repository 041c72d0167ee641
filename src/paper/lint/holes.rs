//! Rules for the holes of parts.

use std::collections::{BTreeMap, BTreeSet};

use kurbo::Point;

use super::finding::Add;
use super::scene::Scene;
use crate::paper::fixes::{Fixes, MANY_HOLES, MOST_NUMBERED, Noted, is_even_row, places_from_datum};
use crate::paper::{Mark, Role};

/// D26: more than eight holes that no even row places are not placed by more than
/// eight figures round the views: a table by numbers is read without losing the line.
pub(super) fn in_a_table(scene: &Scene<'_>, add: &mut Add<'_>) {
    let mut parts: BTreeMap<&str, Vec<(&Mark, Point)>> = BTreeMap::new();
    for words in &scene.words {
        let mark = scene.mark(words.mark);
        if mark.role == Role::DimensionText && !mark.shows.part.is_empty() {
            parts.entry(&mark.shows.part).or_default().push((mark, words.text.at));
        }
    }
    for (part, figures) in parts {
        let fixes = || figures.iter().map(|(mark, _)| &mark.shows.fixes);
        let in_rows: BTreeSet<usize> = fixes().filter(|f| is_even_row(f)).flat_map(Fixes::centres).collect();
        let loose: BTreeSet<usize> = fixes().flat_map(bored).filter(|cut| !in_rows.contains(cut)).collect();
        if loose.len() <= MANY_HOLES || loose.len() > MOST_NUMBERED {
            continue;
        }
        let told = figures
            .iter()
            .filter(|(mark, _)| mark.shows.view > 0 && places_from_datum(&mark.shows.fixes, &loose));
        let told: Vec<_> = told.collect();
        if let (true, Some((_, at))) = (told.len() > MANY_HOLES, told.first()) {
            let message = format!(
                "{} figures place {} holes of part {part}: a table holds them",
                told.len(),
                loose.len()
            );
            add("D26", *at, message);
        }
    }
}

/// The holes that a note tells of.
fn bored(fixes: &Fixes) -> Vec<usize> {
    let Fixes::Cuts(noted) = fixes else { return Vec::new() };
    let holes = noted.iter().filter(|one| one.is_of_holes());
    holes.flat_map(|one| one.cuts.iter().map(|cut| cut.cut)).collect()
}

/// D27: each number of a hole stands in a view and in a table.
pub(super) fn both_ways(scene: &Scene<'_>, add: &mut Add<'_>) {
    let mut shown: BTreeMap<(&str, String), (bool, bool, Point)> = BTreeMap::new();
    for words in &scene.words {
        let mark = scene.mark(words.mark);
        let named = matches!(&mark.shows.fixes, Fixes::Cuts(noted)
            if noted.iter().all(Noted::only_names));
        if mark.role != Role::Symbol || !named {
            continue;
        }
        for number in words.text.reading().split(", ") {
            let key = (mark.shows.part.as_str(), number.to_owned());
            let known = shown.entry(key).or_insert((false, false, words.text.at));
            if mark.shows.view > 0 {
                known.0 = true;
            } else {
                known.1 = true;
            }
        }
    }
    for ((part, number), (in_view, in_table, at)) in shown {
        if in_view != in_table {
            let lacks = if in_view { "in no table" } else { "in no view" };
            add("D27", at, format!("hole {number} of part {part} stands {lacks}"));
        }
    }
}
