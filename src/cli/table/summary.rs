//! The summary of a table: a line for each row, written as the rows are done, so that
//! nothing else of them has to be kept.

use super::rows::{Ready, Rows};
use super::work::{Asked, Outcome};
use crate::estimate::{Decimal, Rates};
use crate::output::csv_text;

/// Most rows whose problems are kept for the terminal; the summary has all.
const PRINTED: usize = 20;

/// What came of the rows that are done.
pub(super) struct Summary<'a> {
    table: &'a Rows,
    rates: Option<&'a Rates>,
    /// The lines, heads first, as CSV: the row as it was given, what came of it, its price.
    pub(super) text: String,
    /// How many rows are done and listed.
    pub(super) rows: usize,
    /// How many were done rightly.
    pub(super) good: usize,
    /// How many an earlier run had made just so.
    pub(super) kept: usize,
    /// Whether files of any could not be written.
    pub(super) unwritten: bool,
    /// The first rows with problems, each with these.
    pub(super) wrong: Vec<(&'a Ready, Vec<String>)>,
}

impl<'a> Summary<'a> {
    /// That of a table none of whose rows is done.
    pub(super) fn of(table: &'a Rows, rates: Option<&'a Rates>) -> Self {
        let mut heads: Vec<String> = vec!["row".into(), "name".into()];
        heads.extend(table.own().map(ToString::to_string));
        heads.push("done".into());
        if let Some(rates) = rates {
            let code = rates.currency.code;
            heads.extend([format!("price {code}"), format!("tax {code}"), format!("total {code}")]);
        }
        heads.extend(["warnings".into(), "problems".into()]);
        Self {
            table,
            rates,
            text: csv_text(&[heads]),
            rows: 0,
            good: 0,
            kept: 0,
            unwritten: false,
            wrong: Vec::new(),
        }
    }

    /// Takes a row that is done.
    pub(super) fn take(&mut self, row: &'a Ready, one: Outcome) {
        self.text += &csv_text(&[self.cells(row, &one)]);
        self.rows += 1;
        self.good += usize::from(one.good());
        self.kept += usize::from(one.kept);
        self.unwritten |= one.unwritten;
        if !one.good() && self.wrong.len() < PRINTED {
            self.wrong.push((row, one.problems));
        }
    }

    fn cells(&self, row: &Ready, one: &Outcome) -> Vec<String> {
        let set = |head: &std::sync::Arc<str>| {
            row.settings.iter().find(|(name, _)| name == head).map(|(_, v)| v.clone()).unwrap_or_default()
        };
        let mut cells = vec![row.number.to_string(), row.name.clone()];
        cells.extend(self.table.own().map(set));
        cells.push(if one.good() { "yes" } else { "no" }.into());
        if self.rates.is_some() {
            let amount = |of: fn(&Asked) -> Decimal| {
                one.price.as_ref().map(|price| of(price).to_string()).unwrap_or_default()
            };
            cells.extend([amount(|p| p.net), amount(|p| p.tax), amount(|p| p.total)]);
        }
        cells.extend([one.warnings.join(" "), one.problems.join("; ")]);
        cells
    }
}
