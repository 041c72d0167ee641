//! The buying list as CSV and JSON. Lengths are millimetres.

use super::csv;
use crate::cutting::BuyingList;
use crate::output::file::File;
use crate::output::number::short;
use crate::output::writer::{Finished, Writer};

/// Writes `-buying-list.csv` and `-buying-list.json`.
pub(in crate::output) struct BuyingListFiles;

impl Writer for BuyingListFiles {
    fn code(&self) -> &'static str {
        "lists"
    }

    fn makes(&self) -> &'static str {
        "the lists"
    }

    fn files(&self, set: &Finished<'_>) -> Result<Vec<File>, String> {
        let buying = &set.lists.buying;
        if buying.lines.is_empty() {
            return Ok(Vec::new());
        }
        let json = serde_json::to_string_pretty(buying).unwrap_or_default() + "\n";
        Ok(vec![
            File::text("-buying-list.csv", csv::write(&rows(buying))),
            File::text("-buying-list.json", json),
        ])
    }
}

/// The list as rows, heads first.
pub(super) fn rows(buying: &BuyingList) -> Vec<Vec<String>> {
    let head = [
        "group",
        "what",
        "length mm",
        "width mm",
        "thickness mm",
        "quantity",
        "unit",
        "price",
        "cost",
        "remark",
    ];
    let mut rows = vec![head.map(String::from).to_vec()];
    for line in &buying.lines {
        // A single size is a thickness.
        let size: Vec<String> = line.size.iter().map(|mm| short(*mm)).collect();
        let [long, wide, thick] = match size.as_slice() {
            [thick] => [String::new(), String::new(), thick.clone()],
            [long, wide] => [long.clone(), wide.clone(), String::new()],
            [long, wide, thick, ..] => [long.clone(), wide.clone(), thick.clone()],
            [] => Default::default(),
        };
        rows.push(vec![
            line.group.name().into(),
            line.what.clone(),
            long,
            wide,
            thick,
            quantity(line.quantity),
            line.unit.into(),
            line.price.map(short).unwrap_or_default(),
            line.cost().map(|cost| format!("{cost:.2}")).unwrap_or_default(),
            line.note.clone(),
        ]);
    }
    rows
}

/// A quantity with up to five decimals: small boards are hundred thousandths
/// of a cubic metre.
fn quantity(amount: f64) -> String {
    crate::measure::number(amount, 5)
}
