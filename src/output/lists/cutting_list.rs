//! The cutting list as CSV and JSON. Lengths of the CSV are in the unit of the job, those of
//! the JSON in millimetres.

use super::{VERSION, csv};
use crate::cutting::{CutRow, CuttingList, FoldedPanel};
use crate::measure::Unit;
use crate::output::file::File;
use crate::output::number::{self, heads, short};
use crate::output::writer::{Finished, Writer};
use crate::wording::Words;

/// Writes `-cutting-list.csv` and `-cutting-list.json`, and `-fittings.csv` where the
/// joints need any.
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
        let mut files = vec![
            File::text("-cutting-list.csv", csv::write(&rows(list, set.words))),
            File::text("-cutting-list.json", json),
        ];
        if !list.needs.is_empty() {
            files.push(File::text("-fittings.csv", csv::write(&fittings(list, set.words))));
        }
        Ok(files)
    }
}

/// The cutting list as JSON has it.
#[derive(serde::Serialize)]
struct Listed<'a> {
    version: u32,
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
        let (parts, lippings, folded) = (&list.parts, &list.lippings, &list.folded);
        Self { version: VERSION, parts, lippings, folded, needs: needs.collect() }
    }
}

/// The cutting list: parts, folded panels, lippings, grouped by stock as they are cut.
pub(super) fn rows(list: &CuttingList, words: Words) -> Vec<Vec<String>> {
    let each = if words.lengths.unit == Unit::Mm { "kg each" } else { "lb each" };
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
        "along edge mm",
        "lipped",
        "after glue-up",
        each,
        "remark",
    ];
    let mut rows = vec![heads(words, &head)];
    rows.extend(list.parts.iter().map(|row| cells("part", row, words)));
    rows.extend(list.folded.iter().map(|panel| cells("folded panel", &panel.row, words)));
    rows.extend(list.lippings.iter().map(|row| cells("lipping", row, words)));
    rows
}

/// What the joints need, apart from the wood: one row for each thing and joint.
pub(super) fn fittings(list: &CuttingList, words: Words) -> Vec<Vec<String>> {
    let mut rows = vec![["name", "quantity", "joint", "remark"].map(String::from).to_vec()];
    rows.extend(list.needs.iter().map(|need| {
        let places = need.places.join("; ");
        vec![words.item(&need.item), need.quantity.to_string(), need.joint.to_owned(), places]
    }));
    rows
}

fn cells(kind: &str, row: &CutRow, words: Words) -> Vec<String> {
    let length = |v: f64| number::length(words, v);
    let rough = |axis: usize| row.rough.map(|size| length(size[axis])).unwrap_or_default();
    // Of ends cut parallel no point is longer than another.
    let points = row.ends.as_ref().map(|ends| match ends.edge {
        Some(edge) => [String::new(), String::new(), length(edge)],
        None => [length(ends.long_point), length(ends.short_point), String::new()],
    });
    let [long_point, short_point, edge] = points.unwrap_or_default();
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
        long_point,
        short_point,
        edge,
        lipped.join("; "),
        row.after_glue_up.iter().map(|cut| cut.name()).collect::<Vec<_>>().join("; "),
        row.mass.map(|kilos| short(words.weight(kilos).0)).unwrap_or_default(),
        words.other_remarks(row),
    ]
}
