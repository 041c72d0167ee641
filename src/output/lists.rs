//! The lists as CSV, JSON and a workbook.

use super::{csv, xlsx};
use crate::File;
use crate::cutting::{CutRow, CuttingList, ShopLists};
use crate::wording::Words;

/// The list files of a set. Lengths are millimetres whatever the drawings use; where a
/// remark has one in a sentence, it is as `words` have it.
///
/// # Errors
/// Says why the workbook could not be made; that is a fault of this program.
pub fn files(title: &str, lists: &ShopLists, words: Words) -> Result<Vec<File>, String> {
    let list = &lists.list;
    let cutting = cutting_rows(list);
    let mut sheets = vec![xlsx::Sheet { name: "Cutting list", rows: cutting.clone() }];
    if !lists.buying.lines.is_empty() {
        sheets.push(xlsx::Sheet { name: "Buying list", rows: super::buying::rows(&lists.buying, words) });
    }
    let json = serde_json::to_string_pretty(list).unwrap_or_default() + "\n";
    let mut files = vec![
        File { name: "-cutting-list.csv".into(), bytes: csv::write(&cutting).into_bytes() },
        File { name: "-cutting-list.json".into(), bytes: json.into_bytes() },
    ];
    files.push(File { name: "-lists.xlsx".into(), bytes: xlsx::write(title, &sheets)? });
    files.extend(super::layouts::files(list, &lists.layouts));
    files.extend(super::buying::files(&lists.buying, words));
    Ok(files)
}

/// The cutting list: parts, then lippings, then what the joints need.
fn cutting_rows(list: &CuttingList) -> Vec<Vec<String>> {
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
    rows.extend(list.folded.iter().map(|panel| cells("folded panel", &panel.row)));
    rows.extend(list.lippings.iter().map(|row| cells("lipping", row)));
    for need in &list.needs {
        let mut row = vec!["fitting".into(), String::new(), need.what.clone(), need.quantity.to_string()];
        row.resize(head.len() - 1, String::new());
        row.push(need.places.join("; "));
        rows.push(row);
    }
    rows
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
        row.after_glue_up.iter().map(|cut| cut.name()).collect::<Vec<_>>().join("; "),
        row.mass.map(length).unwrap_or_default(),
        row.remark.clone().unwrap_or_default(),
    ]
}
