//! The summary of a table: a line for each row.

use super::rows::Rows;
use super::work::Outcome;
use crate::estimate::{Price, Rates};

/// The summary as CSV: the row as it was given, what came of it, its price.
pub(super) fn summary(table: &Rows, outcomes: &[Outcome], rates: Option<&Rates>) -> String {
    let own: Vec<&String> = table.heads.iter().filter(|head| *head != "name").collect();
    let mut heads: Vec<String> = vec!["row".into(), "name".into()];
    heads.extend(own.iter().map(|head| (*head).clone()));
    heads.push("done".into());
    if let Some(rates) = rates {
        let code = rates.currency.code;
        heads.extend([format!("price {code}"), format!("tax {code}"), format!("total {code}")]);
    }
    heads.extend(["warnings".into(), "problems".into()]);
    let mut rows = vec![heads];
    for (row, one) in table.list.iter().zip(outcomes) {
        let cell = |head: &&String| {
            row.settings.iter().find(|(name, _)| name == *head).map(|(_, v)| v.clone()).unwrap_or_default()
        };
        let mut cells = vec![row.number.to_string(), row.name.clone()];
        cells.extend(own.iter().map(cell));
        cells.push(if one.good() { "yes" } else { "no" }.into());
        if rates.is_some() {
            let amount = |of: fn(&Price) -> crate::estimate::Decimal| {
                one.price.as_ref().map(|price| of(price).to_string()).unwrap_or_default()
            };
            cells.extend([amount(|p| p.net), amount(|p| p.tax), amount(|p| p.total)]);
        }
        cells.extend([one.warnings.join(" "), one.problems.join("; ")]);
        rows.push(cells);
    }
    crate::output::csv_text(&rows)
}
