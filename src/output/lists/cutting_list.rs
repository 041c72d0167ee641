//! The cutting list as CSV and JSON. Lengths are millimetres whatever the drawings use.

use super::csv;
use crate::cutting::{CutRow, CuttingList, FoldedPanel};
use crate::output::file::File;
use crate::output::number::short;
use crate::output::writer::{Finished, Writer};
use crate::wording::Words;

/// Writes `-cutting-list.csv` and `-cutting-list.json`.
pub(in crate::output) struct CuttingListFiles;

impl Writer for CuttingListFiles {
    fn code(&self) -> &'static str {
        "lists"
    }

    fn makes(&self) -> &'static str {
        "the lists"
    }

    fn files(&self, set: &Finished<'_>) -> Result<Vec<File>, String> {
        let list = &set.lists.list;
        let json = serde_json::to_string_pretty(&Listed::of(list, set.words)).unwrap_or_default() + "\n";
        Ok(vec![
            File::text("-cutting-list.csv", csv::write(&rows(list, set.words))),
            File::text("-cutting-list.json", json),
        ])
    }
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
pub(super) fn rows(list: &CuttingList, words: Words) -> Vec<Vec<String>> {
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
    let length = |v: f64| short(v);
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
