//! The machine settings as CSV and JSON. Lengths are millimetres, angles degrees.

use super::{VERSION, csv};
use crate::cutting::{Settings, Worked};
use crate::machining::setup::SetUp;
use crate::output::file::File;
use crate::output::number::heads;
use crate::output::writer::{Finished, Writer};
use crate::wording::Words;
use crate::wording::setups::machine;

/// What the JSON file holds.
#[derive(serde::Serialize)]
struct Written<'a> {
    /// The version of what the files hold.
    version: u32,
    /// The parts, which `work` of a use counts from 0.
    works: &'a [Worked],
    /// The set-ups in order.
    set_ups: &'a [SetUp],
}

/// Writes `-settings.csv` and `-settings.json`.
pub(in crate::output) struct SettingsFiles;

impl Writer for SettingsFiles {
    fn code(&self) -> &'static str {
        "lists"
    }

    fn makes(&self) -> &'static str {
        "the settings"
    }

    fn files(&self, set: &Finished<'_>) -> Result<Vec<File>, String> {
        let settings = &set.lists.settings;
        if settings.set_ups.is_empty() {
            return Ok(Vec::new());
        }
        let written = Written { version: VERSION, works: &settings.works, set_ups: &settings.set_ups };
        let json = serde_json::to_string_pretty(&written).unwrap_or_default() + "\n";
        Ok(vec![
            File::text("-settings.csv", csv::write(&rows(settings, set.words))),
            File::text("-settings.json", json),
        ])
    }
}

/// A row for each set-up.
pub(super) fn rows(settings: &Settings, words: Words) -> Vec<Vec<String>> {
    let head = ["machine", "cut", "set mm", "fence mm", "against", "stop to the middle mm", "parts"];
    let mut rows = vec![heads(words, &head)];
    for setup in &settings.set_ups {
        let row = words.settings_row(settings, setup);
        let machine = machine(setup.machine, setup.later);
        rows.push(vec![machine, row.task, row.set, row.fence, row.against, row.stops, row.parts]);
    }
    rows
}
