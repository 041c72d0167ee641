//! The job file: what a set was made from, so that a later change can be held against
//! it.
//!
//! It holds scripts and settings, from which the parts are made again with everything
//! that hangs on them, and of each part a few figures, which show whether they still come
//! out as they were printed. Parts that are cut keep the state they were cut from, however
//! often the job changes after.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::SavedLayouts;
use super::tolerance::{SAME, SAVED};
use crate::joinery::WorkedJob;
use crate::model::{Job, Word};
use crate::problem::{Problem, wording};
use crate::script::{Limits, LoadError, Loader, Request};
use crate::source::Sources;

/// The version of what is written; one more for every change that an older program
/// would read wrongly.
const VERSION: u64 = 2;

/// The first version, which knew no layouts; it is read still.
const WITHOUT_LAYOUTS: u64 = 1;

/// A job file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SavedJob {
    /// Its version.
    pub version: u64,
    /// What was made, oldest first: earlier states while parts cut from them are in
    /// use, and the one the set beside the file was made from.
    pub states: Vec<SavedState>,
}

/// A job as it was set out once.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SavedState {
    /// The name of the script's file.
    pub script: String,
    /// The texts of the script and of the modules beside it, the script first.
    pub texts: Vec<SavedText>,
    /// Values set from outside.
    pub settings: Vec<SavedSetting>,
    /// The parts as they came out.
    pub parts: Vec<SavedPart>,
    /// What is cut already.
    pub cut: Vec<CutPart>,
    /// How its parts were laid out: what is cut of them stays where it was.
    #[serde(default)]
    pub laid: SavedLayouts,
}

/// A text.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SavedText {
    /// Its path beside the script.
    pub name: String,
    /// The text.
    pub text: String,
}

/// A value set from outside.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SavedSetting {
    /// The name of the size.
    pub name: String,
    /// The value as it was written.
    pub value: String,
}

/// A part as it came out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SavedPart {
    /// Its name.
    pub name: String,
    /// Its piece.
    pub piece: String,
    /// What it is cut from.
    pub stock: String,
    /// Part number with its hand.
    pub mark: String,
    /// Length, width, thickness, mm.
    pub size: [f64; 3],
    /// Volume, mm³.
    pub volume: f64,
    /// Flat and round faces.
    pub faces: usize,
}

/// A part that is cut already.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CutPart {
    /// Its name.
    pub part: String,
    /// How many are cut.
    pub count: usize,
}

impl SavedJob {
    /// A file of these states.
    pub fn new(states: Vec<SavedState>) -> Self {
        Self { version: VERSION, states }
    }

    /// The file as it is written.
    ///
    /// # Errors
    /// The reason why it cannot be; that is a fault of this program.
    pub fn text(&self) -> Result<String, String> {
        serde_json::to_string_pretty(self).map(|text| text + "\n").map_err(|e| e.to_string())
    }
}

impl SavedState {
    /// The state of a job just worked; nothing of it is cut.
    pub fn of(request: &Request, sources: &Sources, (job, worked): (&Job, &WorkedJob)) -> Self {
        let file = Path::new(&request.name).file_name();
        let script = file.map_or_else(|| request.name.clone(), |name| name.to_string_lossy().into_owned());
        let own = sources.list.iter().filter(|source| !source.library);
        let mut texts: Vec<SavedText> = own
            .map(|source| SavedText { name: source.name.clone(), text: source.text.to_string() })
            .collect();
        // A path as typed would make two sets differ that are the same.
        if let Some(first) = texts.first_mut() {
            first.name.clone_from(&script);
        }
        let settings = request
            .settings
            .iter()
            .map(|(name, value)| SavedSetting { name: name.clone(), value: value.clone() });
        Self {
            script,
            texts,
            settings: settings.collect(),
            parts: parts(job, worked),
            cut: Vec::new(),
            laid: SavedLayouts::default(),
        }
    }

    /// What makes the job again.
    pub fn request(&self, words: &'static [&'static Word], limits: Limits) -> Request {
        let (first, rest) =
            self.texts.split_first().map_or((None, &[][..]), |(first, rest)| (Some(first), rest));
        Request {
            name: self.script.clone(),
            text: first.map_or_else(String::new, |text| text.text.clone()),
            settings: self.settings.iter().map(|one| (one.name.clone(), one.value.clone())).collect(),
            loader: Arc::new(Texts(rest.iter().map(|one| (one.name.clone(), one.text.clone())).collect())),
            words,
            limits,
        }
    }

    /// Whether two states are of one script with the same settings.
    pub fn is_of(&self, other: &Self) -> bool {
        self.texts == other.texts && self.settings == other.settings
    }
}

/// Modules that were saved with a script.
struct Texts(BTreeMap<String, String>);

impl Loader for Texts {
    fn read(&self, path: &str) -> Result<String, LoadError> {
        self.0.get(path).cloned().ok_or(LoadError::NotFound)
    }
}

/// A figure as it is saved, to thousandths.
fn kept(mm: f64) -> f64 {
    const THOUSANDTHS: f64 = 1000.0;
    (mm * THOUSANDTHS).round() / THOUSANDTHS
}

fn parts(job: &Job, worked: &WorkedJob) -> Vec<SavedPart> {
    let one = |part: &crate::joinery::WorkedPart| SavedPart {
        name: part.name.clone(),
        piece: job.pieces.get(part.piece.0).map_or_else(String::new, |piece| piece.name.clone()),
        stock: job.stock.get(part.stock.0).map_or_else(String::new, |stock| stock.name.clone()),
        mark: part.mark(),
        size: part.size.to_array().map(kept),
        volume: part.solid.volume().round(),
        faces: part.solid.faces.len(),
    };
    worked.parts.iter().map(one).collect()
}

/// Reads a job file called `name`.
///
/// # Errors
/// What is wrong with it and what can be done.
pub fn read(name: &str, text: &str) -> Result<SavedJob, Problem> {
    let damaged = |why: String| {
        Problem::error("job-damaged", format!("`{name}` is no whole job file: {why}")).help(
            "take the file that `setout` wrote, from a copy if you have one; or give the script as it was instead",
        )
    };
    let value: serde_json::Value = serde_json::from_str(text).map_err(|e| damaged(e.to_string()))?;
    match value.get("version").and_then(serde_json::Value::as_u64) {
        Some(WITHOUT_LAYOUTS | VERSION) => {}
        Some(other) => {
            let message =
                format!("`{name}` is a job file of version {other}; this program reads version {VERSION}");
            return Err(Problem::error("job-version", message).help(if other > VERSION {
                "it was written by a newer program: use that one"
            } else {
                "set out the script as it was once more, which writes it anew"
            }));
        }
        None => return Err(damaged("it does not say its version".into())),
    }
    let saved: SavedJob = serde_json::from_value(value).map_err(|e| damaged(e.to_string()))?;
    if saved.states.is_empty() || saved.states.iter().any(|state| state.texts.is_empty()) {
        return Err(damaged("it holds no script".into()));
    }
    Ok(saved)
}

/// That parts come out otherwise today than when the file was written.
pub fn made_otherwise(state: &SavedState, job: &Job, worked: &WorkedJob) -> Option<Problem> {
    let today = parts(job, worked);
    let same = |a: &SavedPart, b: &SavedPart| {
        a.name == b.name
            && a.stock == b.stock
            && a.faces == b.faces
            && a.size.iter().zip(b.size).all(|(a, b)| (a - b).abs() < SAME)
            && (a.volume - b.volume).abs() <= SAVED * a.volume.abs().max(b.volume.abs())
    };
    let mut names: Vec<&str> = Vec::new();
    for (at, was) in state.parts.iter().enumerate() {
        if !today.get(at).is_some_and(|now| same(was, now)) && !names.contains(&was.name.as_str()) {
            names.push(&was.name);
        }
    }
    if names.is_empty() && today.len() == state.parts.len() {
        return None;
    }
    let which = match names.len() {
        0 => "parts that were not there".to_owned(),
        1..=MOST_NAMES => wording::all_of(names.iter().copied()),
        n => wording::count(n, "part", "parts"),
    };
    let message = format!("the saved script gives other parts now than when it was set out: {which}");
    Some(Problem::warning("made-otherwise", message).help(
        "the program has changed since, or the file was edited: measure what is cut before you rely on this",
    ))
}

/// Most names in a sentence.
const MOST_NAMES: usize = 3;
