//! Sizes near by with which a sheet or a board fewer is bought.
//!
//! Each declared length is moved, down and up, by no more than it may be; where that saves
//! anything, halving finds how little is enough. Every trial works the script anew, so this
//! is done only where it is asked for, and bounded: a few dozen trials at most.

use rayon::prelude::*;

use crate::cutting::{BuyingList, Group, Nearby, Saved, ShopLists, shop_lists};
use crate::machining::Machined;
use crate::measure::{Unit, number};
use crate::model::{Job, SizeKind, SizeValue};
use crate::problem::{Problem, Severity};
use crate::script::Request;
use crate::wording::Words;
use crate::{Choices, examine};

/// Most sizes that are tried: a script with more has few that matter.
const MOST_SIZES: usize = 12;

/// How finely sizes are tried: whole millimetres, sixteenths of an inch.
const FINE: [f64; 2] = [1.0, 25.4 / 16.0];

/// A hundredth.
const PER_CENT: f64 = 100.0;

/// The sizes of a job that save something near by, and each as advice. `percent` says how
/// near.
pub fn nearby(request: &Request, choices: &Choices, job: &Job, percent: f64) -> (Vec<Nearby>, Vec<Problem>) {
    let Some(now) = Trial::of(request, choices) else { return (Vec::new(), Vec::new()) };
    let lengths = job.sizes.iter().filter(|size| matches!(size.decl.kind, SizeKind::Length { .. }));
    let lengths: Vec<&SizeValue> = lengths.take(MOST_SIZES).collect();
    let search = Search { request, choices, unit: job.unit, now: &now };
    let found: Vec<(&SizeValue, Nearby)> = lengths
        .par_iter()
        .with_max_len(1)
        .flat_map(|size| search.size(size, percent).into_iter().map(|near| (*size, near)).collect::<Vec<_>>())
        .collect();
    let words = Words::of(job.unit);
    let advice = |(size, near): &(&SizeValue, Nearby)| {
        let (change, saves) = words.nearby(near);
        Problem::advice("near-size", format!("a size near by: {change} {saves}"))
            .at(size.decl.origin)
            .help(format!("try `--set \"{}={}\"`", near.size, text(near.instead, job.unit)))
    };
    let problems = found.iter().map(advice).collect();
    (found.into_iter().map(|(_, near)| near).collect(), problems)
}

/// Decimals of a size: those of a sixteenth of an inch.
const DECIMALS: usize = 4;

/// A length as it is typed after `--set`.
fn text(mm: f64, unit: Unit) -> String {
    number(mm / unit.in_mm(), DECIMALS).replace('−', "-")
}

/// What is bought with one set of sizes.
struct Trial {
    bought: Vec<Saved>,
    warnings: usize,
    /// What sheets and boards cost; `None` where one has no price.
    cost: Option<f64>,
}

impl Trial {
    /// Works a script through to its lists; `None` where it cannot be made.
    fn of(request: &Request, choices: &Choices) -> Option<Self> {
        let examined = examine(request);
        let (mut job, worked) = examined.worked?;
        choices.give(&mut job);
        let (mut lists, mut problems) = shop_lists(&Machined::new(&job, &worked));
        let words = Words::of(job.unit);
        problems.extend(lists.buying.price(&job.sold, &|what| words.goods(what)));
        problems.extend(examined.problems);
        let of = |severity| problems.iter().filter(move |p| p.severity == severity).count();
        let sound = of(Severity::Error) == 0;
        sound.then(|| Self {
            bought: bought(&lists),
            warnings: of(Severity::Warning),
            cost: cost(&lists.buying),
        })
    }

    /// What is saved with `other`: something, and nothing else is bought more of, nor is
    /// there more to warn of.
    fn saved(&self, other: &Self) -> Option<Vec<Saved>> {
        let same = |a: &Saved, b: &Saved| a.stock == b.stock && a.thick.total_cmp(&b.thick).is_eq();
        let count = |all: &[Saved], one: &Saved| {
            all.iter().filter(|other| same(one, other)).map(|other| other.fewer).sum::<usize>()
        };
        let more = other.bought.iter().any(|one| one.fewer > count(&self.bought, one));
        if more || other.warnings > self.warnings {
            return None;
        }
        let fewer = |one: &Saved| Saved { fewer: one.fewer - count(&other.bought, one), ..one.clone() };
        let saved: Vec<Saved> = self.bought.iter().map(fewer).filter(|one| one.fewer > 0).collect();
        (!saved.is_empty()).then_some(saved)
    }
}

/// How many sheets and boards of each stock are to be bought.
fn bought(lists: &ShopLists) -> Vec<Saved> {
    let all = lists.layouts.sheets.iter().chain(&lists.layouts.boards);
    all.map(|cutting| Saved {
        stock: cutting.name.clone(),
        thick: cutting.thick,
        boards: cutting.boards,
        fewer: cutting.used().filter(|(_, size)| !size.on_hand).map(|(count, _)| count).sum(),
    })
    .collect()
}

fn cost(buying: &BuyingList) -> Option<f64> {
    let wood = buying.lines.iter().filter(|line| matches!(line.group, Group::Sheets | Group::Boards));
    wood.map(crate::cutting::BuyLine::cost).sum()
}

/// What trials are held against.
struct Search<'a> {
    request: &'a Request,
    choices: &'a Choices,
    unit: Unit,
    now: &'a Trial,
}

impl Search<'_> {
    /// The least change of a size that saves, either way.
    fn size(&self, size: &SizeValue, percent: f64) -> Option<Nearby> {
        let now = size.number?;
        let SizeKind::Length { from, to, .. } = size.decl.kind else { return None };
        let step = FINE[usize::from(self.unit == Unit::Inch)];
        let reach = now.abs() * percent / PER_CENT;
        let room = |end: Option<f64>| end.map_or(reach, |end| (end - now).abs().min(reach));
        let ways = [(-step, room(from)), (step, room(to))];
        // Of two that save, the one that changes the piece less.
        let found = ways.into_iter().filter_map(|(step, room)| self.way(size, now, step, room));
        found.min_by(|a, b| (a.instead - now).abs().total_cmp(&(b.instead - now).abs()))
    }

    /// The least number of steps one way that saves, by halving: between one that does not
    /// and one that does.
    fn way(&self, size: &SizeValue, now: f64, step: f64, room: f64) -> Option<Nearby> {
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a share of a size in steps"
        )]
        let most = (room / step.abs()).clamp(0.0, f64::from(u16::MAX)) as u32;
        let (mut low, mut high) = (0, most);
        let mut best = self.with(size, now, now + step * f64::from(most)).filter(|_| most > 0)?;
        while high - low > 1 {
            let middle = low.midpoint(high);
            match self.with(size, now, now + step * f64::from(middle)) {
                Some(near) => (best, high) = (near, middle),
                None => low = middle,
            }
        }
        Some(best)
    }

    /// What a size saves, if it does.
    fn with(&self, size: &SizeValue, now: f64, instead: f64) -> Option<Nearby> {
        let mut request = self.request.clone();
        request.settings.retain(|(name, _)| *name != size.decl.name);
        request.settings.push((size.decl.name.clone(), text(instead, self.unit)));
        let trial = Trial::of(&request, self.choices)?;
        let saves = self.now.saved(&trial)?;
        let money = self.now.cost.zip(trial.cost).map(|(now, then)| now - then);
        Some(Nearby { size: size.decl.name.clone(), now, instead, saves, money })
    }
}
