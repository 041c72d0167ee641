//! The order of assembly as CSV, in the unit of the job, and JSON, in millimetres. Times are
//! minutes.

use super::{VERSION, csv};
use crate::measure::number;
use crate::output::file::File;
use crate::output::number::{heads, length};
use crate::output::writer::{Finished, Writer};
use crate::wording::Words;
use crate::wording::assembly::{StepPart, StepRow};

/// What the JSON file holds.
#[derive(serde::Serialize)]
struct Written<'a> {
    /// The version of what the files hold.
    version: u32,
    /// The steps of all pieces in order.
    steps: &'a [StepRow<'a>],
}

/// Writes `-order.csv` and `-order.json`.
pub(in crate::output) struct OrderFiles;

impl Writer for OrderFiles {
    fn code(&self) -> &'static str {
        "lists"
    }

    fn makes(&self) -> &'static str {
        "the order of assembly"
    }

    fn files(&self, set: &Finished<'_>) -> Result<Vec<File>, String> {
        if set.order.is_empty() {
            return Ok(Vec::new());
        }
        let written = Written { version: VERSION, steps: set.order };
        let json = serde_json::to_string_pretty(&written).map_err(|e| e.to_string())? + "\n";
        Ok(vec![
            File::text("-order.csv", csv::write(&rows(set.order, set.words))),
            File::text("-order.json", json),
        ])
    }
}

/// A row for each step.
fn rows(order: &[StepRow<'_>], words: Words) -> Vec<Vec<String>> {
    let head =
        ["piece", "step", "times", "what", "parts", "fittings", "glued", "minutes", "diagonals mm", "more"];
    let mut rows = vec![heads(words, &head)];
    let list = |parts: &[StepPart]| {
        let parts: Vec<String> = parts.iter().map(|part| format!("{} {}", part.mark, part.name)).collect();
        parts.join("; ")
    };
    for step in order {
        rows.push(vec![
            step.piece.clone(),
            step.step.to_string(),
            step.times.to_string(),
            step.says.clone(),
            list(&step.parts),
            step.fittings.join("; "),
            if step.glued { "yes" } else { "no" }.into(),
            step.minutes.map_or_else(String::new, |minutes| number(minutes, 1)),
            step.diagonals
                .map_or_else(String::new, |[a, b]| format!("{} {}", length(words, a), length(words, b))),
            step.lines.iter().skip(1).cloned().collect::<Vec<_>>().join(" "),
        ]);
    }
    rows
}
