//! The papers of a set as a stranger would read them: the written files, nothing else.

use std::collections::BTreeMap;

use serde_json::Value;

/// The JSON files of a set, by what follows the script's name.
#[derive(Clone)]
pub(crate) struct Papers(pub(crate) BTreeMap<String, Value>);

/// The lists the workshop works from.
pub(crate) const BUYING: &str = "-buying-list.json";
pub(crate) const CUTTING: &str = "-cutting-list.json";
pub(crate) const LAYOUTS: &str = "-layouts.json";
pub(crate) const ORDER: &str = "-order.json";
pub(crate) const SETTINGS: &str = "-settings.json";

impl Papers {
    /// The papers among the files of a set.
    pub(crate) fn of(files: &[rodwright::File]) -> Self {
        let json = files.iter().filter(|file| file.name.ends_with(".json"));
        Self(json.map(|file| (file.name.clone(), serde_json::from_slice(&file.bytes).unwrap())).collect())
    }

    /// What a list holds under a key; empty where there is no such list.
    pub(crate) fn list(&self, file: &str, key: &str) -> Vec<Value> {
        self.0.get(file).map(|list| items(&list[key])).unwrap_or_default()
    }

    /// Rows of the cutting list: parts, folded panels, lippings.
    pub(crate) fn rows(&self) -> Vec<Row> {
        let row = |kind: Kind| move |value: &Value| Row::read(kind, value);
        let parts = self.list(CUTTING, "parts");
        let folded: Vec<Value> =
            self.list(CUTTING, "folded").iter().map(|panel| panel["row"].clone()).collect();
        let lippings = self.list(CUTTING, "lippings");
        let of = |list: &[Value], kind: Kind| list.iter().map(row(kind)).collect::<Vec<_>>();
        [of(&parts, Kind::Part), of(&folded, Kind::Folded), of(&lippings, Kind::Lipping)].concat()
    }
}

/// What a row is of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Kind {
    Part,
    Folded,
    Lipping,
}

/// A row of the cutting list.
#[derive(Clone, Debug)]
pub(crate) struct Row {
    pub(crate) kind: Kind,
    pub(crate) mark: String,
    pub(crate) name: String,
    pub(crate) quantity: usize,
    pub(crate) stock: String,
    /// Length, width, thickness.
    pub(crate) size: [f64; 3],
    pub(crate) rough: Option<[f64; 3]>,
    pub(crate) staves: usize,
    pub(crate) stave_width: Option<f64>,
    /// Thicknesses of the lippings it gets.
    pub(crate) lipped: Vec<f64>,
    /// Whether it has sloping ends.
    pub(crate) sloping: bool,
    /// Whether it is turned, so that its ends are parted off.
    pub(crate) turned: bool,
    /// Whether anything is cut after a glue-up.
    pub(crate) later: bool,
}

impl Row {
    fn read(kind: Kind, value: &Value) -> Self {
        let rough: Vec<f64> = items(&value["rough"]).iter().map(number).collect();
        Self {
            kind,
            mark: text(&value["mark"]),
            name: text(&value["name"]),
            quantity: count(&value["quantity"]),
            stock: text(&value["stock"]),
            size: ["length", "width", "thickness"].map(|key| number(&value[key])),
            rough: rough.try_into().ok(),
            staves: value["staves"].as_u64().map_or(1, |n| usize::try_from(n).unwrap()),
            stave_width: value["stave_width"].as_f64(),
            lipped: items(&value["lipped"]).iter().map(|one| number(&one["thick"])).collect(),
            sloping: !value["ends"].is_null(),
            turned: !value["chucking"].is_null(),
            later: !items(&value["after_glue_up"]).is_empty(),
        }
    }
}

pub(crate) fn items(value: &Value) -> Vec<Value> {
    value.as_array().cloned().unwrap_or_default()
}

pub(crate) fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or(f64::NAN)
}

pub(crate) fn count(value: &Value) -> usize {
    // A count may be written as a figure with a point.
    let n = number(value);
    if n.is_finite() && n >= 0.0 { n.round() as usize } else { 0 }
}

pub(crate) fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}

/// The mark of what is drawn: of a mirror pair the left, which the right is made to the mirror
/// image of, marks and all.
pub(crate) fn drawn(mark: &str) -> String {
    mark.strip_suffix(" R").map_or_else(|| mark.to_owned(), |number| format!("{number} L"))
}

/// Two lengths that are one at the bench, mm: layouts are in tenths, rounded up.
pub(crate) fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < 0.11
}
