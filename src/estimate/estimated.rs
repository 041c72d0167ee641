//! The estimate of a job.

use super::basis::Basis;
use super::goods::{GoodsLine, priced};
use super::hours::{HourLine, hours};
use super::minutes::{MINUTES, MinuteRow};
use super::price::{Price, price};
use super::rates::{Overrule, Rates};
use crate::problem::{Problem, nearest};

/// An estimate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Estimate {
    /// Materials and fittings.
    pub goods: Vec<GoodsLine>,
    /// Hours.
    pub hours: Vec<HourLine>,
    /// The sums.
    pub price: Price,
}

/// The estimate of a job, and what stands against it.
pub fn estimate(basis: &Basis<'_>, rates: &Rates) -> (Estimate, Vec<Problem>) {
    let (goods, mut problems) = priced(&basis.goods, rates);
    let hours = hours(basis, rates);
    problems.extend(unknown_lines(basis, rates));
    let price = price(&goods, &hours, rates);
    (Estimate { goods, hours, price }, problems)
}

/// Overrules of lines there are not. A line that other jobs have and this one has not is
/// no slip where it is one of hours.
fn unknown_lines(basis: &Basis<'_>, rates: &Rates) -> Vec<Problem> {
    let problem = |over: &Overrule| {
        let lines: Vec<String> = MINUTES.iter().map(MinuteRow::line).collect();
        let goods: Vec<String> = basis.goods.iter().map(|goods| goods.name.clone()).collect();
        let (known, kind) = if over.minutes { (lines, "hours") } else { (goods, "materials") };
        if known.contains(&over.line) {
            return None;
        }
        let near = nearest(&over.line, known.iter().map(String::as_str));
        let help = match near {
            Some(near) => format!("did you mean `{near}`?"),
            None => "`quote --inside` prints the names of all lines".into(),
        };
        let message = format!("there is no line `{}` among the {kind} of this job", over.line);
        Some(Problem::error("unknown-line", message).place(over.span, "set by hand here").help(help))
    };
    rates.overrules.iter().filter_map(problem).collect()
}
