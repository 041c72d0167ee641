//! The cutting list as CSV and JSON.

use super::csv;
use crate::File;
use crate::cutting::{CutRow, CuttingList, ShopLists};

/// The list files of a set. Lengths are millimetres whatever the drawings use.
pub fn files(lists: &ShopLists) -> Vec<File> {
    let list = &lists.list;
    let json = serde_json::to_string_pretty(list).unwrap_or_default() + "\n";
    let mut files = vec![
        File { name: "-cutting-list.csv".into(), bytes: cutting_csv(list).into_bytes() },
        File { name: "-cutting-list.json".into(), bytes: json.into_bytes() },
    ];
    files.extend(super::layouts::files(list, &lists.layouts));
    files.extend(super::buying::files(&lists.buying));
    files
}

/// The cutting list: parts, then lippings, then what the joints need.
fn cutting_csv(list: &CuttingList) -> String {
    let head = [
        "kind",
        "number",
        "name",
        "quantity",
        "stock",
        "length mm",
        "width mm",
        "thickness mm",
        "rough length mm",
        "rough width mm",
        "rough thickness mm",
        "long point mm",
        "short point mm",
        "lipped",
        "after glue-up",
        "kg each",
        "remark",
    ];
    let mut rows = vec![head.map(String::from).to_vec()];
    rows.extend(list.parts.iter().map(|row| cells("part", row)));
    rows.extend(list.lippings.iter().map(|row| cells("lipping", row)));
    for need in &list.needs {
        let mut row = vec!["fitting".into(), String::new(), need.what.clone(), need.quantity.to_string()];
        row.resize(head.len() - 1, String::new());
        row.push(need.places.join("; "));
        rows.push(row);
    }
    csv::write(&rows)
}

fn cells(kind: &str, row: &CutRow) -> Vec<String> {
    let length = |v: f64| super::number::short(v);
    let rough = |axis: usize| row.rough.map(|size| length(size[axis])).unwrap_or_default();
    let points = row.ends.as_ref().map(|e| (length(e.long_point), length(e.short_point))).unwrap_or_default();
    let lipped: Vec<String> =
        row.lipped.iter().map(|l| format!("{} {} ({})", l.side.name(), length(l.thick), l.mark)).collect();
    vec![
        kind.into(),
        row.mark.clone(),
        row.name.clone(),
        row.quantity.to_string(),
        row.stock.clone(),
        length(row.length),
        length(row.width),
        length(row.thickness),
        rough(0),
        rough(1),
        rough(2),
        points.0,
        points.1,
        lipped.join("; "),
        row.after_glue_up.join("; "),
        row.mass.map(length).unwrap_or_default(),
        row.remark.clone().unwrap_or_default(),
    ]
}
