//! The buying list as CSV and JSON. Lengths are millimetres.

use super::csv;
use super::number::short;
use crate::File;
use crate::cutting::BuyingList;

/// The files of the list; none where nothing is bought.
pub(super) fn files(buying: &BuyingList) -> Vec<File> {
    if buying.lines.is_empty() {
        return Vec::new();
    }
    let json = serde_json::to_string_pretty(buying).unwrap_or_default() + "\n";
    vec![
        File { name: "-buying-list.csv".into(), bytes: csv::write(&rows(buying)).into_bytes() },
        File { name: "-buying-list.json".into(), bytes: json.into_bytes() },
    ]
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
