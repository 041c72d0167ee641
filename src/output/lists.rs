//! The lists as CSV, JSON and a workbook.

use super::{csv, xlsx};
use crate::File;
use crate::cutting::{CutRow, CuttingList, FoldedPanel, ShopLists};
use crate::wording::Words;

/// The list files of a set. Lengths in columns of their own are millimetres whatever
/// the drawings use; what joints need is named by `words`.
///
/// # Errors
/// Says why the workbook could not be made; that is a fault of this program.
pub fn files(title: &str, lists: &ShopLists, words: Words) -> Result<Vec<File>, String> {
    let list = &lists.list;
    let cutting = cutting_rows(list, words);
    let mut sheets = vec![xlsx::Sheet { name: "Cutting list", rows: cutting.clone() }];
    if !lists.buying.lines.is_empty() {
        sheets.push(xlsx::Sheet { name: "Buying list", rows: super::buying::rows(&lists.buying, words) });
    }
    if !lists.settings.set_ups.is_empty() {
        sheets.push(xlsx::Sheet { name: "Settings", rows: super::settings::rows(&lists.settings) });
    }
    let json = serde_json::to_string_pretty(&Listed::of(list, words)).unwrap_or_default() + "\n";
    let mut files = vec![
        File { name: "-cutting-list.csv".into(), bytes: csv::write(&cutting).into_bytes() },
        File { name: "-cutting-list.json".into(), bytes: json.into_bytes() },
    ];
    files.push(File { name: "-lists.xlsx".into(), bytes: xlsx::write(title, &sheets)? });
    files.extend(super::layouts::files(list, &lists.layouts));
    files.extend(super::buying::files(&lists.buying, words));
    files.extend(super::settings::files(lists));
    Ok(files)
}

/// The cutting list as JSON has it.
#[derive(serde::Serialize)]
struct Listed<'a> {
    parts: &'a [CutRow],
    lippings: &'a [CutRow],
    #[serde(skip_serializing_if = "<[FoldedPanel]>::is_empty")]
    folded: &'a [FoldedPanel],
    needs: Vec<Needed<'a>>,
}

/// What the joints need.
#[derive(serde::Serialize)]
struct Needed<'a> {
    what: String,
    quantity: usize,
    joint: &'static str,
    places: &'a [String],
}

impl<'a> Listed<'a> {
    /// A list in words.
    fn of(list: &'a CuttingList, words: Words) -> Self {
        let needs = list.needs.iter().map(|need| Needed {
            what: words.item(&need.item),
            quantity: need.quantity,
            joint: need.joint,
            places: &need.places,
        });
        Self { parts: &list.parts, lippings: &list.lippings, folded: &list.folded, needs: needs.collect() }
    }
}

/// The cutting list: parts, then lippings, then what the joints need.
fn cutting_rows(list: &CuttingList, words: Words) -> Vec<Vec<String>> {
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
        let mut row =
            vec!["fitting".into(), String::new(), words.item(&need.item), need.quantity.to_string()];
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
