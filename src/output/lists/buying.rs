//! The buying list as CSV, in the unit of the job, and JSON, in millimetres.

use super::{VERSION, csv};
use crate::cutting::{BuyLine, BuyingList, Group, Nearby, Note};
use crate::output::file::File;
use crate::output::number::{heads, length, short};
use crate::output::writer::{Finished, Writer};
use crate::wording::Words;

/// The list as it is written.
#[derive(serde::Serialize)]
struct Written<'a> {
    version: u32,
    lines: Vec<Line<'a>>,
    nearby: Vec<Near<'a>>,
}

/// A size near by that saves.
#[derive(serde::Serialize)]
struct Near<'a> {
    size: &'a str,
    now: f64,
    instead: f64,
    saves: String,
    money: Option<f64>,
}

impl<'a> Near<'a> {
    fn of(near: &'a Nearby, words: Words) -> Self {
        let Nearby { size, now, instead, money, .. } = near;
        Self { size, now: *now, instead: *instead, saves: words.nearby(near).1, money: *money }
    }
}

/// One line as it is written.
#[derive(serde::Serialize)]
struct Line<'a> {
    group: Group,
    what: String,
    size: &'a [f64],
    quantity: f64,
    unit: &'static str,
    note: String,
    price: Option<f64>,
    /// Boards of solid timber: how many of what length and width, mm.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    boards: Vec<Board>,
    #[serde(skip_serializing_if = "Option::is_none")]
    code: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    holds: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    needed: Option<f64>,
}

/// Boards of one size.
#[derive(serde::Serialize)]
struct Board {
    count: usize,
    length: f64,
    width: f64,
}

/// The boards a line of solid timber is for.
fn boards(line: &BuyLine) -> Vec<Board> {
    let Some(Note::Boards(note)) = &line.note else { return Vec::new() };
    let board = |(count, [length, width]): &(usize, [f64; 2])| Board {
        count: *count,
        length: *length,
        width: *width,
    };
    note.sizes.iter().map(board).collect()
}

impl<'a> Line<'a> {
    /// A line in words.
    fn of(line: &'a BuyLine, words: Words) -> Self {
        Self {
            group: line.group,
            what: words.goods(&line.what),
            size: &line.size,
            quantity: line.quantity,
            unit: line.unit.sign(),
            note: words.line_remark(line),
            boards: boards(line),
            code: line.code.as_deref(),
            holds: line.pack.map(|pack| pack.holds),
            needed: line.pack.map(|pack| pack.needed),
            price: line.price,
        }
    }
}

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
        let written = Written {
            version: VERSION,
            lines: buying.lines.iter().map(|line| Line::of(line, set.words)).collect(),
            nearby: buying.nearby.iter().map(|near| Near::of(near, set.words)).collect(),
        };
        let json = serde_json::to_string_pretty(&written).unwrap_or_default() + "\n";
        Ok(vec![
            File::text("-buying-list.csv", csv::write(&rows(buying, set.words))),
            File::text("-buying-list.json", json),
        ])
    }
}

/// The list as rows, heads first.
pub(super) fn rows(buying: &BuyingList, words: Words) -> Vec<Vec<String>> {
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
    let mut rows = vec![heads(words, &head)];
    for line in &buying.lines {
        // A single size is a thickness.
        let size: Vec<String> = line.size.iter().map(|mm| length(words, *mm)).collect();
        let [long, wide, thick] = match size.as_slice() {
            [thick] => [String::new(), String::new(), thick.clone()],
            [long, wide] => [long.clone(), wide.clone(), String::new()],
            [long, wide, thick, ..] => [long.clone(), wide.clone(), thick.clone()],
            [] => Default::default(),
        };
        let ordered = words.ordered(line);
        rows.push(vec![
            line.group.name().into(),
            words.goods(&line.what),
            long,
            wide,
            thick,
            quantity(ordered.quantity),
            ordered.unit.into(),
            ordered.price.map(short).unwrap_or_default(),
            ordered.cost.map(|cost| format!("{cost:.2}")).unwrap_or_default(),
            words.line_remark(line),
        ]);
    }
    for near in &buying.nearby {
        let (change, saves) = words.nearby(near);
        let mut row = vec![String::new(); HEADS];
        // What would be saved is no line of the order: it stands under no head of sums.
        (row[0], row[1], row[HEADS - 1]) = (NEARBY.into(), change, saves);
        rows.push(row);
    }
    rows
}

/// How many columns the list has.
const HEADS: usize = 10;

/// The heading of sizes near by.
const NEARBY: &str = "Sizes near by that save";

/// A quantity with up to four decimals: boards are counted in ten thousandths of a cubic
/// metre.
fn quantity(amount: f64) -> String {
    crate::measure::number(amount, 4)
}
