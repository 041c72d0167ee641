//! The cutting list, sorted as a shop cuts.

use std::collections::BTreeSet;

use super::folded::folded_panels;
use super::needs::pieces;
use super::rows::{CutRow, CuttingList, LaterCut, Lipped, Scribed};
use super::{end_cuts, inlaid, needs};
use crate::joinery::{Hand, PartSource, WorkedJob, WorkedPart};
use crate::machining::ends::{EndCuts, tidy};
use crate::machining::later;
use crate::machining::rough::{layer, rough};
use crate::machining::sawn::{FromBoard, from_board, staves};
use crate::model::{Job, StockKind};

/// The cutting list of the job.
pub fn cutting_list(job: &Job, worked: &WorkedJob) -> CuttingList {
    let (mut parts, mut lippings) = gathered(job, worked);
    for row in parts.iter_mut().chain(&mut lippings) {
        complete(job, worked, row);
    }
    sort(&mut parts, worked);
    sort(&mut lippings, worked);
    let folded = folded_panels(job, worked, &parts);
    for row in &mut parts {
        // What is cut only as a piece of a panel has no rough size of its own.
        if row.which.iter().all(|i| folded.iter().any(|panel| panel.row.which.contains(i))) {
            row.rough = None;
        }
    }
    CuttingList { parts, lippings, folded, needs: needs(job, worked) }
}

/// The parts and the lippings of a job, each kind in one row.
fn gathered(job: &Job, worked: &WorkedJob) -> (Vec<CutRow>, Vec<CutRow>) {
    let (mut parts, mut lippings) = (Vec::new(), Vec::new());
    for (index, part) in worked.parts.iter().enumerate() {
        let rows: &mut Vec<CutRow> = if lipping_of(part).is_some() { &mut lippings } else { &mut parts };
        match rows.iter_mut().find(|row| belongs(row, part, worked)) {
            Some(row) => {
                row.quantity += pieces(job, part.piece.0);
                row.which.push(index);
            }
            None => rows.push(new_row(job, worked, index, part)),
        }
    }
    (parts, lippings)
}

/// What a row has of all its parts together: their names, the largest rough size, every
/// cut that waits, what they are glued to.
fn complete(job: &Job, worked: &WorkedJob, row: &mut CutRow) {
    row.name = together(row.which.iter().map(|i| named(worked, *i)));
    row.rough =
        row.which.iter().filter_map(|i| rough(job, worked, *i)).map(|size| size.map(tidy)).reduce(larger);
    for one in row.which.iter().flat_map(|i| scribed(job, *i)) {
        if !row.scribed.contains(&one) {
            row.scribed.push(one);
        }
    }
    let cut = |i: &usize| job.already_cut.get(i).map(|cut| (*cut).min(pieces(job, worked.parts[*i].piece.0)));
    row.cut = row.which.iter().filter_map(cut).sum();
    row.after_glue_up = later(worked, &row.which).into_iter().map(LaterCut::Cut).collect();
    if row.which.iter().any(|i| layer(job, *i).is_some_and(|over| over > 0.0)) {
        row.after_glue_up.insert(0, LaterCut::Trim);
    }
    let of = row.which.iter().filter_map(|i| lipping_of(&worked.parts[*i]));
    let of: Vec<&str> = of.filter_map(|i| worked.parts.get(i)).map(|p| p.name.as_str()).collect();
    row.of = (!of.is_empty()).then(|| together(of.into_iter().map(|name| (name, ""))));
}

/// The part a lipping is glued to.
fn lipping_of(part: &WorkedPart) -> Option<usize> {
    match part.source {
        PartSource::Lipping { of, .. } => Some(of),
        PartSource::Part(_) => None,
    }
}

fn belongs(row: &CutRow, part: &WorkedPart, worked: &WorkedJob) -> bool {
    let first = &worked.parts[row.which[0]];
    first.number == part.number && first.hand == part.hand && first.stock == part.stock
}

fn new_row(job: &Job, worked: &WorkedJob, index: usize, part: &WorkedPart) -> CutRow {
    let staves = staves(job, worked, index);
    CutRow {
        mark: part.mark(),
        number: part.number,
        name: part.name.clone(),
        quantity: pieces(job, part.piece.0),
        stock: job.stock.get(part.stock.0).map_or_else(String::new, |s| s.name.clone()),
        length: tidy(part.size.x),
        width: tidy(part.size.y),
        thickness: tidy(part.size.z),
        rough: None,
        sawn: job
            .stock
            .get(part.stock.0)
            .and_then(|stock| from_board(job, stock, [part.size.y, part.size.z], lipping_of(part).is_some()))
            .map(FromBoard::axis),
        ends: ends(worked, part),
        compound: Vec::new(),
        lipped: lipped(worked, index),
        after_glue_up: Vec::new(),
        of: None,
        inlaid: inlaid::inlaid(part),
        chucking: turned(job, part).then_some(job.cutting.chucking).filter(|more| *more > 0.0),
        staves: staves.map(|staves| staves.count),
        stave_width: staves.map(|staves| tidy(staves.wide)),
        mass: density(job, part).and_then(|d| inlaid::mass(part, d)).map(tidy),
        scribed: Vec::new(),
        cut: 0,
        remark: part.remark.clone(),
        which: vec![index],
    }
}

/// The sloping ends of a part, near and far as its sheet and settings have them: the right of
/// a mirror pair is the mirror image of the left with its marks.
fn ends(worked: &WorkedJob, part: &WorkedPart) -> Option<EndCuts> {
    let own = end_cuts(part)?;
    let left = worked.drawn(part).filter(|_| part.hand == Hand::Right).and_then(|i| worked.parts.get(i));
    let marked = left.and_then(end_cuts).filter(|left| left.near == own.far && left.far == own.near);
    Some(marked.unwrap_or(own))
}

/// Whether a part is turned from a blank.
fn turned(job: &Job, part: &WorkedPart) -> bool {
    matches!(job.stock.get(part.stock.0).map(|s| &s.kind), Some(StockKind::Blank { .. }))
}

/// The edges of a part that are scribed.
fn scribed(job: &Job, index: usize) -> Vec<Scribed> {
    let own = job.scribes.iter().filter(|scribe| scribe.part.0 == index);
    own.map(|scribe| Scribed { side: scribe.side, allow: scribe.allow }).collect()
}

/// The larger of two rough sizes in every direction.
fn larger(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [0, 1, 2].map(|axis| a[axis].max(b[axis]))
}

/// Density of a part's stock, kg/m3, if the script gives it.
fn density(job: &Job, part: &WorkedPart) -> Option<f64> {
    job.stock.get(part.stock.0)?.mean_density()
}

fn lipped(worked: &WorkedJob, index: usize) -> Vec<Lipped> {
    worked
        .parts
        .iter()
        .filter_map(|lipping| match lipping.source {
            PartSource::Lipping { of, side } if of == index => {
                Some(Lipped { side, thick: tidy(lipping.size.z), mark: lipping.mark() })
            }
            _ => None,
        })
        .collect()
}

/// By stock as the script declares it, then thickness and length falling, then
/// width falling, number and hand.
fn sort(rows: &mut [CutRow], worked: &WorkedJob) {
    rows.sort_by(|a, b| {
        let (p, q) = (&worked.parts[a.which[0]], &worked.parts[b.which[0]]);
        (p.stock.cmp(&q.stock))
            .then(b.thickness.total_cmp(&a.thickness))
            .then(b.length.total_cmp(&a.length))
            .then(b.width.total_cmp(&a.width))
            .then(a.number.cmp(&b.number))
            .then(p.hand.cmp(&q.hand))
    });
}

/// The name of a part, without what a lipping is called after its panel, and that.
fn named(worked: &WorkedJob, index: usize) -> (&str, &str) {
    let part = &worked.parts[index];
    let alone = |of: &usize| worked.parts.iter().filter(|p| lipping_of(p) == Some(*of)).count() == 1;
    // A lipping on one of several lipped sides is called after its side besides.
    let panel = lipping_of(part).filter(alone).and_then(|of| worked.parts.get(of));
    panel.and_then(|panel| part.name.split_at_checked(panel.name.len())).unwrap_or((&part.name, ""))
}

/// Letters of the names of a row, beyond which more of them are only counted. A row of some
/// dozen parts is far below it; one of thousands of loose parts would carry all their names
/// into each cut, label and file, and nobody reads them there.
const NAMED: usize = 400;

/// Names put together: equal ones once, `Shelf 1` and `Shelf 2` as
/// `Shelf 1, 2`, and their lippings as `Shelf 1, 2 lipping`; of very many the first and how
/// many more there are.
fn together<'n>(names: impl Iterator<Item = (&'n str, &'n str)>) -> String {
    let mut groups: Vec<(&str, &str, Vec<&str>)> = Vec::new();
    let mut known: BTreeSet<(&str, &str, &str)> = BTreeSet::new();
    let (mut letters, mut more) = (0, 0);
    for (name, last) in names {
        let (stem, tail) = match name.rsplit_once(' ') {
            Some((stem, tail)) if !tail.is_empty() && tail.bytes().all(|b| b.is_ascii_digit()) => {
                (stem, tail)
            }
            _ => (name, ""),
        };
        if !known.insert((stem, last, tail)) {
            continue;
        }
        if letters > NAMED {
            more += 1;
            continue;
        }
        letters += tail.len();
        if let Some(group) = groups.iter_mut().find(|group| (group.0, group.1) == (stem, last)) {
            group.2.push(tail);
        } else {
            letters += stem.len() + last.len();
            groups.push((stem, last, vec![tail]));
        }
    }
    let named: Vec<String> = groups
        .iter()
        .map(|(stem, last, tails)| {
            let tails: Vec<&str> = tails.iter().copied().filter(|t| !t.is_empty()).collect();
            if tails.is_empty() {
                format!("{stem}{last}")
            } else {
                format!("{stem} {}{last}", tails.join(", "))
            }
        })
        .collect();
    let named = named.join(", ");
    if more == 0 { named } else { format!("{named} and {more} more") }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A hundred names of eleven letters are 1,100: the first 37 are the first to have more
    /// than 400 between them (36 have 396), so 63 are counted.
    #[test]
    fn of_very_many_names_the_first_stand_in_a_row_and_the_rest_are_counted() {
        let names: Vec<String> = (100..200).map(|n| format!("Peg 100-{n}")).collect();
        assert_eq!(names[0].len(), 11);
        let all = together(names.iter().chain(&names).map(|name| (name.as_str(), "")));
        assert_eq!(all, format!("{} and 63 more", names[..37].join(", ")));
        let few = together(names[..37].iter().map(|name| (name.as_str(), "")));
        assert_eq!(few, names[..37].join(", "));
    }

    /// Numbers of one stem count for their own letters only: `Peg` and 133 numbers of
    /// three are 402, with 132 of them 399.
    #[test]
    fn numbers_of_one_name_are_counted_like_names() {
        let names: Vec<String> = (100..300).map(|n| format!("Peg {n}")).collect();
        let all = together(names.iter().map(|name| (name.as_str(), "")));
        let numbers: Vec<String> = (100..233).map(|n| n.to_string()).collect();
        assert_eq!(all, format!("Peg {} and 67 more", numbers.join(", ")));
    }
}
