//! Parts cut from sticks: the job checked, the search run, the plan written out.

use super::model::{StickJob, StickLayout, StickPart, StickPiece, StickPlan, StickWhy, UnplacedStick};
use super::search::search;
use super::shop::{Filled, Kind, Shop, setback};
use crate::cutting::sheets::{BadJob, mm};

/// Longest length counted with: 100 m.
const LONGEST: i64 = 1_000_000;

/// Cuts the parts from sticks, with so many steps of a search where quick plans are not
/// proven the cheapest ([`crate::cutting::sheets::Effort::steps`]). `stop` is asked now
/// and then and ends the search early. A part without a place is listed with the reason and advice.
pub fn cut_sticks(job: &StickJob, steps: u64, stop: &dyn Fn() -> bool) -> Result<StickPlan, BadJob> {
    check(job)?;
    let whole = Shop::new(job);
    let mut shop = whole.clone();
    let fits = |kind: &Kind| whole.sticks.iter().any(|stick| Shop::fits(kind, stick));
    shop.kinds.retain(fits);
    let found = search(&shop, steps, stop);
    let mut copies: Vec<std::vec::IntoIter<usize>> =
        shop.kinds.iter().map(|kind| kind.copies.clone().into_iter()).collect();
    let layouts: Vec<StickLayout> = found.sticks.iter().map(|filled| lay(job, filled, &mut copies)).collect();
    let mut left = vec![0_usize; job.parts.len()];
    copies.into_iter().flatten().for_each(|part| left[part] += 1);
    let hopeless = whole.kinds.iter().filter(|kind| !fits(kind));
    hopeless.flat_map(|kind| &kind.copies).for_each(|&part| left[part] += 1);
    let unplaced: Vec<UnplacedStick> = left
        .iter()
        .enumerate()
        .filter(|(_, quantity)| **quantity > 0)
        .map(|(part, &quantity)| explain(job, part, quantity))
        .collect();
    let free = job.sticks.iter().all(|stick| stick.cost == 0);
    let all_in = found.left.iter().all(|&n| n == 0);
    Ok(StickPlan {
        layouts,
        unplaced,
        cost: if free { 0 } else { found.cost },
        bound: if free { 0 } else { found.bound },
        proven: all_in && found.cost <= found.bound,
    })
}

/// Lays the parts of one stick in order, the largest set-backs first, each
/// second one turned over where that saves length.
fn lay(job: &StickJob, filled: &Filled, copies: &mut [std::vec::IntoIter<usize>]) -> StickLayout {
    let mut parts = Vec::new();
    for (kind, &n) in filled.pattern.iter().enumerate() {
        parts.extend(copies[kind].by_ref().take(n as usize));
    }
    parts.sort_by_key(|&part| std::cmp::Reverse((setback(job, part), job.parts[part].length)));
    let mut pieces: Vec<StickPiece> = Vec::new();
    let mut at = job.end_trim;
    let mut before = 0;
    for part in parts {
        let own = setback(job, part);
        let nested = if pieces.is_empty() { 0 } else { own.min(before) };
        let turned_over = nested > 0 && pieces.last().is_some_and(|piece| !piece.turned_over);
        at -= nested;
        pieces.push(StickPiece { part, at, turned_over, nested });
        at += job.parts[part].length + job.kerf;
        before = own;
    }
    let end = job.sticks[filled.stick].length - job.end_trim;
    StickLayout { stick: filled.stick, pieces, offcut: (end - at).max(0) }
}

/// Why a part has no place, and what would help.
fn explain(job: &StickJob, part: usize, quantity: usize) -> UnplacedStick {
    let StickPart { id, length, .. } = &job.parts[part];
    let usable = job.sticks.iter().filter(|stick| stick.count != Some(0));
    let longest = usable.map(|stick| stick.length - 2 * job.end_trim).max();
    let (why, advice) = match longest {
        None => (StickWhy::NoStick, vec!["buy sticks of this section"]),
        Some(longest) if *length > longest => (
            StickWhy::TooLong(length - longest),
            vec!["buy a longer stick", "make it of two pieces with a scarf joint"],
        ),
        Some(_) => (StickWhy::UsedUp, vec!["more sticks of this section"]),
    };
    UnplacedStick { part, quantity, name: id.clone(), why, advice }
}

/// Finds what makes no sense in a job.
fn check(job: &StickJob) -> Result<(), BadJob> {
    let bad = |message: String, help: &str| Err(BadJob { message, help: help.to_owned() });
    if !(0..=LONGEST).contains(&job.kerf) || !(0..=LONGEST).contains(&job.end_trim) {
        return bad("the kerf or the end trim is no length".to_owned(), "give lengths of nothing or more");
    }
    for part in &job.parts {
        if !(1..=LONGEST).contains(&part.length) {
            return bad(
                format!("part `{}` is {} long", part.id, mm(part.length)),
                "give a length above nothing and below 100 m",
            );
        }
        if part.mitres.iter().any(|&back| !(0..=part.length).contains(&back)) {
            return bad(
                format!("the short point of part `{}` lies beyond its other end", part.id),
                "give the distance from long point to short point at each end",
            );
        }
    }
    for stick in &job.sticks {
        if !(1..=LONGEST).contains(&stick.length) || !(0..=1_000_000_000_000).contains(&stick.cost) {
            return bad(
                format!("stick `{}` has an impossible length or price", stick.id),
                "give a length below 100 m and a price of nothing or more",
            );
        }
    }
    if job.parts.iter().map(|part| u64::from(part.quantity)).sum::<u64>() > 100_000 {
        return bad("the order has too many parts".to_owned(), "split the order");
    }
    Ok(())
}
