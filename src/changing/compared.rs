//! Two jobs held against each other: what becomes of each part, what is lost, what can be
//! got out of what is left.

use crate::assembly::{self, Order};
use crate::cutting::{self, ShopLists};
use crate::drawing::Choices;
use crate::estimate::{Decimal, Rates, line_cost};
use crate::joinery::WorkedJob;
use crate::machining::Machined;
use crate::model::Job;
use crate::problem::{Problem, Severity};
use crate::quoting::{Found, worked_out};
use crate::revision::{
    CutPart, Kept, Lost, Pair, Salvage, SavedState, Standing, Ticked, compare, keep, lost, made_otherwise,
    offer, salvaged, spares, ticked, values,
};
use crate::script::Request;
use crate::wording::Words;
use crate::wording::change::{ChangeRow, change_row, come_off};
use crate::{Examined, examine};

use super::account::with_lippings;

/// A job as it was.
#[derive(Clone)]
pub enum Earlier {
    /// By its job file.
    Saved(Vec<SavedState>),
    /// By its script.
    Script(Box<Request>),
}

/// What is asked of a comparison.
pub struct CompareRequest<'a> {
    /// The job as it was.
    pub before: &'a Earlier,
    /// The job as it is.
    pub now: &'a Request,
    /// The shop's list of what is cut, with its name.
    pub ticked: Option<&'a (String, Vec<Ticked>)>,
    /// The shop's rates.
    pub rates: Option<&'a Rates>,
    /// The look of its sheets.
    pub choices: &'a Choices,
}

/// A job with all its lists.
#[derive(Debug)]
pub struct Whole {
    /// The job.
    pub job: Job,
    /// Its worked parts.
    pub worked: WorkedJob,
    /// Its lists.
    pub lists: ShopLists,
    /// Its orders of assembly.
    pub orders: Vec<Order>,
}

/// What a comparison has found.
#[derive(Debug)]
pub struct Change {
    /// The job as it was.
    pub old: Whole,
    /// The job as it is; what is cut of it is known to it.
    pub new: Whole,
    /// What becomes of each part.
    pub pairs: Vec<Pair>,
    /// What is cut of the job as it was.
    pub cut: Vec<CutPart>,
    /// What is kept and lost of that.
    pub kept: Kept,
    /// What that was worth.
    pub lost: Lost,
    /// New parts that can be cut from lost ones and from offcuts.
    pub salvage: Vec<Salvage>,
    /// A row for each part, in words.
    pub rows: Vec<ChangeRow>,
    /// What the client pays before and after, where there are rates.
    pub totals: Option<(Decimal, Decimal)>,
}

/// A comparison, and what was found on the way: of the job as it was, as it is, and of
/// the rates.
pub fn compared(asked: &CompareRequest<'_>) -> (Option<Change>, Vec<Found>) {
    let request = match asked.before {
        Earlier::Saved(states) => {
            let last = states.last();
            last.map_or_else(|| asked.now.clone(), |state| state.request(asked.now.words, asked.now.limits))
        }
        Earlier::Script(request) => (**request).clone(),
    };
    let (was, is) = rayon::join(|| examine(&request), || examine(asked.now));
    let mut found = vec![of("as it was", &was, Severity::Error), of("", &is, Severity::Warning)];
    let (Some((old_job, old_worked)), Some((job, worked))) = (was.worked, is.worked) else {
        return (None, found);
    };
    let mut problems = Vec::new();
    let cut = cut(asked, (&old_job, &old_worked), &mut problems);
    let wrong = problems.iter().any(|problem| problem.severity == Severity::Error);
    found.push(Found { problems, ..Found::default() });
    if wrong {
        return (None, found);
    }
    let old_standing = Standing { job: &old_job, worked: &old_worked };
    let pairs = compare(old_standing, Standing { job: &job, worked: &worked });
    let kept = keep(old_standing, &cut, &pairs);
    let mut job = job;
    // Marks in the script are for the job as it is; here the list and the job file tell.
    job.already_cut = kept.there.iter().copied().collect();
    let (old, new) = rayon::join(|| whole(old_job, old_worked), || whole(job, worked));
    let totals = asked.rates.and_then(|rates| {
        let total = |request: &Request| worked_out(request, rates, 1);
        let ((before, [_, more]), (after, [_, still])) = rayon::join(|| total(&request), || total(asked.now));
        found.extend([Found { option: "as it was".into(), ..more }, still].map(unpriced));
        Some((before?.estimate.price.total, after?.estimate.price.total))
    });
    let salvage = salvage(&old, &new, &pairs, (&kept, &cut));
    let lost = worth(&old, &pairs, &kept, asked.rates);
    let words = Words::of(new.job.unit);
    let row = |(at, pair): (usize, &Pair)| {
        let row = change_row(words, (old.standing(), new.standing()), (pair, cut_of(&kept, at, pair)));
        if kept.lost.iter().any(|(lost, _)| *lost == at) { come_off(row, &pair.fate) } else { row }
    };
    let rows = pairs.iter().enumerate().map(row).collect();
    (Some(Change { old, new, pairs, cut, kept, lost, salvage, rows, totals }), found)
}

/// What stands against a price, as a warning: the comparison holds without it.
fn unpriced(found: Found) -> Found {
    let soft = |problem: Problem| Problem { severity: Severity::Warning, ..problem };
    Found { problems: found.problems.into_iter().map(soft).collect(), ..found }
}

/// What was found in a job, from a severity on: what was to be looked at in the old one
/// is of no use now.
fn of(option: &str, examined: &Examined, least: Severity) -> Found {
    Found {
        option: option.into(),
        sources: examined.sources.clone(),
        problems: examined.problems.iter().filter(|one| one.severity >= least).cloned().collect(),
    }
}

/// What is cut of the job as it was.
fn cut(
    asked: &CompareRequest<'_>,
    (job, worked): (&Job, &WorkedJob),
    problems: &mut Vec<Problem>,
) -> Vec<CutPart> {
    let mut all: Vec<CutPart> = Vec::new();
    if let Earlier::Saved(states) = asked.before {
        problems.extend(states.last().and_then(|state| made_otherwise(state, job, worked)));
        // What was cut for an earlier set still and was of use in this one counts for it.
        all.extend(states.iter().flat_map(|state| state.cut.iter().cloned()));
    }
    if let Some((file, list)) = asked.ticked {
        let (more, found) = ticked(file, list, (job, worked));
        problems.extend(found);
        all.extend(more);
    }
    let named = |(index, count): (&usize, &usize)| {
        worked.parts.get(*index).map(|part| CutPart { part: part.name.clone(), count: *count })
    };
    all.extend(job.already_cut.iter().filter_map(named));
    let mut once: Vec<CutPart> = Vec::new();
    for one in with_lippings(worked, all) {
        match once.iter_mut().find(|known| known.part == one.part) {
            Some(known) => known.count = known.count.max(one.count),
            None => once.push(one),
        }
    }
    once
}

/// How many of a pair are cut.
fn cut_of(kept: &Kept, at: usize, pair: &Pair) -> usize {
    let of = |list: &[(usize, usize)], place: usize| {
        list.iter().filter(|(known, _)| *known == place).map(|(_, count)| *count).sum::<usize>()
    };
    pair.new.map_or(0, |new| of(&kept.there, new)) + of(&kept.lost, at)
}

impl Whole {
    /// The job with its worked parts.
    pub fn standing(&self) -> Standing<'_> {
        Standing { job: &self.job, worked: &self.worked }
    }
}

/// A job with its lists.
fn whole(job: Job, worked: WorkedJob) -> Whole {
    let machined = Machined::new(&job, &worked);
    let (orders, lists) =
        rayon::join(|| assembly::assembly_orders(&job, &worked).0, || cutting::shop_lists(&machined).0);
    drop(machined);
    Whole { job, worked, lists, orders }
}

/// What can be cut from lost parts and from the offcuts of sheets that are in pieces.
fn salvage(old: &Whole, new: &Whole, pairs: &[Pair], (kept, cut): (&Kept, &[CutPart])) -> Vec<Salvage> {
    let lost: Vec<(usize, usize)> =
        kept.lost.iter().filter_map(|(at, count)| Some((pairs.get(*at)?.old?, *count))).collect();
    let spares = spares(old.standing(), &lost, cut, &old.lists);
    if spares.is_empty() {
        return Vec::new();
    }
    let job = offer(&new.job, &spares);
    let lists = cutting::shop_lists(&Machined::new(&job, &new.worked)).0;
    salvaged(Standing { job: &job, worked: &new.worked }, &lists, &spares)
}

/// What the lost parts were worth.
fn worth(old: &Whole, pairs: &[Pair], kept: &Kept, rates: Option<&Rates>) -> Lost {
    let parts: Vec<(usize, usize)> =
        kept.lost.iter().filter_map(|(at, count)| Some((pairs.get(*at)?.old?, *count))).collect();
    let cost = |line: &cutting::BuyLine| line_cost(line, &Words::goods_name(line), rates);
    let values = values(&old.lists.buying.lines, &cost);
    lost((old.standing(), &Machined::new(&old.job, &old.worked)), &parts, &values, rates)
}
