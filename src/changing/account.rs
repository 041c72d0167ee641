//! Which parts of a job are cut already, from the job file of the set before and the
//! shop's list, and what a change since has done to them.

use std::collections::BTreeMap;

use crate::examine;
use crate::joinery::{PartSource, WorkedJob};
use crate::model::Job;
use crate::problem::wording::and_list;
use crate::problem::{Problem, Severity};
use crate::revision::{
    CutPart, Fate, Kept, LeftOver, Pair, SavedJob, SavedState, Standing, Ticked, compare, keep, left_over,
    made_otherwise, ticked,
};
use crate::script::Request;
use crate::source::Sources;
use crate::wording::Words;
use crate::wording::change::{lost_part, to_do};

/// What is known of the sets before.
#[derive(Clone, Debug, Default)]
pub struct Before {
    /// The job file of the set before.
    pub saved: Option<SavedJob>,
    /// The shop's list of what is cut, with its name: of the set before, where there is
    /// one.
    pub ticked: Option<(String, Vec<Ticked>)>,
}

/// What is there of a job.
#[derive(Debug)]
pub struct Account {
    /// Parts that are there, with how many of each, by their place among the worked
    /// parts.
    pub there: BTreeMap<usize, usize>,
    /// The job file of the set that is made now, without its layouts.
    pub saved: SavedJob,
    /// What is left of the sheets and boards that cut parts came from.
    pub left: LeftOver,
    /// What was found on the way.
    pub problems: Vec<Problem>,
}

/// Takes stock before a set is made.
pub fn account(
    request: &Request,
    sources: &Sources,
    (job, worked): (&Job, &WorkedJob),
    before: &Before,
) -> Account {
    let now = Standing { job, worked };
    let mut current = SavedState::of(request, sources, (job, worked));
    let mut problems = Vec::new();
    let marked = marked(now);
    current.cut.clone_from(&marked);
    let mut states = before.saved.clone().map_or_else(Vec::new, |saved| saved.states);
    if states.is_empty()
        && let Some((file, list)) = &before.ticked
    {
        let (cut, found) = ticked(file, list, (job, worked));
        problems.extend(found);
        add(&mut current.cut, &with_lippings(worked, cut));
    }
    let mut there: BTreeMap<usize, usize> = BTreeMap::new();
    take(&mut there, now, &current.cut);
    let last = states.len().saturating_sub(1);
    let laid = states.last().map(|state| state.laid.clone()).unwrap_or_default();
    // Whatever becomes of it, what is cut came out of its sheet.
    let mut sawn = marked;
    for (at, state) in states.iter_mut().enumerate() {
        let list = before.ticked.as_ref().filter(|_| at == last);
        if state.cut.is_empty() && list.is_none() && at != last {
            continue;
        }
        if state.is_of(&current) {
            if let Some((file, list)) = list {
                let (cut, found) = ticked(file, list, (job, worked));
                problems.extend(found);
                add(&mut state.cut, &with_lippings(worked, cut));
            }
            add(&mut current.cut, &state.cut);
            add(&mut sawn, &state.cut);
            take(&mut there, now, &state.cut);
            state.cut.clear();
        } else if !state.cut.is_empty() || list.is_some() {
            let seen = earlier(request, state, list, now);
            problems.extend(seen.problems);
            add(&mut sawn, &seen.cut);
            for (part, count) in seen.there {
                there.entry(part).and_modify(|known| *known = (*known).max(count)).or_insert(count);
            }
        }
    }
    // A part that is ticked on a later set is cut as that set has it.
    let mut later: Vec<String> = current.cut.iter().map(|one| one.part.clone()).collect();
    for state in states.iter_mut().rev() {
        let own: Vec<String> = state.cut.iter().map(|one| one.part.clone()).collect();
        state.cut.retain(|one| !later.contains(&one.part));
        later.extend(own);
    }
    states.retain(|state| !state.cut.is_empty());
    states.push(current);
    let left = left_over(&laid, &sawn, &job.cutting);
    problems.extend(told(job, &left));
    Account { there, saved: SavedJob::new(states), left, problems }
}

/// That what is to be cut is laid out on what is left, with its sizes: on the layouts
/// these are pieces from the shop.
fn told(job: &Job, left: &LeftOver) -> Vec<Problem> {
    let words = Words::of(job.unit);
    let mut all = Vec::new();
    for stock in &job.stock {
        let own = left.spares.iter().filter(|spare| spare.is_of(stock));
        let sizes: Vec<String> = own.map(|spare| spare.size.map(|mm| words.figure(mm)).join(" × ")).collect();
        if sizes.is_empty() {
            continue;
        }
        let message = format!("left of `{}` that is cut: {}", stock.name, and_list(&sizes));
        let help = "write their sizes on them: the layouts have them as pieces from the shop, and take them where that \
                    saves buying";
        all.push(Problem::advice("left-of-cut", message).at(stock.origin).help(help));
    }
    all
}

/// What the script itself marks as cut.
fn marked(now: Standing<'_>) -> Vec<CutPart> {
    let named = |(index, count): (&usize, &usize)| {
        now.part(*index).map(|part| CutPart { part: part.name.clone(), count: *count })
    };
    with_lippings(now.worked, now.job.already_cut.iter().filter_map(named).collect())
}

/// Some parts with the lippings glued to them.
pub(super) fn with_lippings(worked: &WorkedJob, cut: Vec<CutPart>) -> Vec<CutPart> {
    let mut all = cut;
    for part in &worked.parts {
        let PartSource::Lipping { of, .. } = part.source else { continue };
        let panel = worked.parts.get(of).and_then(|panel| all.iter().find(|one| one.part == panel.name));
        if let Some(count) = panel.map(|panel| panel.count)
            && !all.iter().any(|one| one.part == part.name)
        {
            all.push(CutPart { part: part.name.clone(), count });
        }
    }
    all
}

/// Adds cut parts to others; of one part the greater count holds.
fn add(all: &mut Vec<CutPart>, more: &[CutPart]) {
    for one in more {
        match all.iter_mut().find(|known| known.part == one.part) {
            Some(known) => known.count = known.count.max(one.count),
            None => all.push(one.clone()),
        }
    }
}

/// Marks parts of the job as it is now as there.
fn take(there: &mut BTreeMap<usize, usize>, now: Standing<'_>, cut: &[CutPart]) {
    for one in cut {
        let mut left = one.count;
        for index in (0..now.worked.parts.len()).filter(|i| now.part(*i).is_some_and(|p| p.name == one.part))
        {
            let some = left.min(now.made(index));
            left -= some;
            if some > 0 {
                there.insert(index, some);
            }
        }
    }
}

/// What is left of an earlier state.
#[derive(Default)]
struct Seen {
    there: Vec<(usize, usize)>,
    cut: Vec<CutPart>,
    problems: Vec<Problem>,
}

/// Looks at what was cut of an earlier state; what is lost is taken off its list.
fn earlier(
    request: &Request,
    state: &mut SavedState,
    list: Option<&(String, Vec<Ticked>)>,
    now: Standing<'_>,
) -> Seen {
    let was = examine(&state.request(request.words, request.limits));
    let mut seen = Seen::default();
    let Some((job, worked)) = was.worked else {
        seen.problems.push(no_longer(state, &was.problems));
        return seen;
    };
    seen.problems.extend(made_otherwise(state, &job, &worked));
    if let Some((file, list)) = list {
        let (cut, found) = ticked(file, list, (&job, &worked));
        seen.problems.extend(found);
        add(&mut state.cut, &with_lippings(&worked, cut));
    }
    seen.cut.clone_from(&state.cut);
    let old = Standing { job: &job, worked: &worked };
    let pairs = compare(old, now);
    let kept = keep(old, &state.cut, &pairs);
    seen.problems.extend(warnings(old, now, &pairs, &kept));
    let lost: Vec<&str> = names(old, &pairs, &kept);
    state.cut.retain(|one| !lost.contains(&one.part.as_str()));
    seen.there = kept.there;
    seen
}

/// The names of parts that are lost altogether.
fn names<'a>(old: Standing<'a>, pairs: &[Pair], kept: &Kept) -> Vec<&'a str> {
    let whole = kept.lost.iter().filter(|(at, _)| !kept.trimmed.iter().any(|(other, _)| other == at));
    whole.filter_map(|(at, _)| Some(old.part(pairs.get(*at)?.old?)?.name.as_str())).collect()
}

/// That a saved script gives no job any more.
fn no_longer(state: &SavedState, problems: &[Problem]) -> Problem {
    let first = problems.iter().find(|problem| problem.severity == Severity::Error);
    let why = first.map_or_else(String::new, |problem| format!(": {}", problem.message));
    Problem::error("job-damaged", format!("the script saved from `{}` gives no job any more{why}", state.script))
        .help("the file was edited, or the program has changed since: tick what is cut on a list for the script as it is")
}

/// A warning for each cut part that the change touches. Lippings are told with the part
/// they are glued to.
fn warnings(old: Standing<'_>, now: Standing<'_>, pairs: &[Pair], kept: &Kept) -> Vec<Problem> {
    let words = Words::of(now.job.unit);
    let mut all = Vec::new();
    let panel = |pair: &Pair| {
        let part = old.part(pair.old?)?;
        matches!(part.source, PartSource::Part(_)).then_some(part)
    };
    for (at, _) in &kept.trimmed {
        let Some((pair, part)) = pairs.get(*at).and_then(|pair| Some((pair, panel(pair)?))) else { continue };
        let Fate::Trimmed(trim) = &pair.fate else { continue };
        let message = format!("`{}` is cut already and changes", part.name);
        let problem = Problem::warning("cut-part-changed", message).part(part.name.clone());
        let new = pair.new.and_then(|new| now.part(new));
        all.push(match new {
            Some(new) => problem.at(new.origin).help(to_do(words, (now, new), trim)),
            None => problem,
        });
    }
    for (at, _) in &kept.lost {
        let Some((pair, part)) = pairs.get(*at).and_then(|pair| Some((pair, panel(pair)?))) else { continue };
        let why = lost_part(words, &pair.fate);
        let message = format!("`{}` is cut already and of no use now: {why}", part.name);
        let new = pair.new.and_then(|new| now.part(new));
        let problem = Problem::warning("cut-part-lost", message).part(part.name.clone());
        let laid = "it is laid out anew; `compare` says what else can be got from the old one";
        all.push(match new {
            Some(new) => problem.at(new.origin).help(laid),
            None => problem.help("`compare` says what else can be got from it"),
        });
    }
    all
}
