//! The machine settings as CSV and JSON. Lengths are millimetres, angles degrees.

use super::csv;
use crate::File;
use crate::cutting::{Settings, ShopLists, Worked};
use crate::machining::setup::SetUp;
use crate::measure::Unit;
use crate::wording::Words;
use crate::wording::setups::machine;

/// What the JSON file holds.
#[derive(serde::Serialize)]
struct Written<'a> {
    /// The parts, which `work` of a use counts from 0.
    works: &'a [Worked],
    /// The set-ups in order.
    set_ups: &'a [SetUp],
}

/// The files of the settings; none where nothing is set.
pub(super) fn files(lists: &ShopLists) -> Vec<File> {
    let settings = &lists.settings;
    if settings.set_ups.is_empty() {
        return Vec::new();
    }
    let written = Written { works: &settings.works, set_ups: &settings.set_ups };
    let json = serde_json::to_string_pretty(&written).unwrap_or_default() + "\n";
    vec![
        File { name: "-settings.csv".into(), bytes: csv::write(&rows(settings)).into_bytes() },
        File { name: "-settings.json".into(), bytes: json.into_bytes() },
    ]
}

/// A row for each set-up.
pub(super) fn rows(settings: &Settings) -> Vec<Vec<String>> {
    let head = ["machine", "cut", "set mm", "fence mm", "against", "stop to the middle mm", "parts"];
    let mut rows = vec![head.map(String::from).to_vec()];
    let words = Words::of(Unit::Mm);
    for setup in &settings.set_ups {
        let row = words.settings_row(settings, setup);
        let machine = machine(setup.machine, setup.later);
        rows.push(vec![machine, row.task, row.set, row.fence, row.against, row.stops, row.parts]);
    }
    rows
}
