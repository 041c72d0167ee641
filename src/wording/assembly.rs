//! What is done in a step of the assembly, and what to watch, as sentences without a
//! stop.

use crate::assembly::{Coming, Done, How, Watch};
use crate::geometry::DVec3;
use crate::joinery::{PartSource, WorkedJob};
use crate::problem::wording::and_list;

/// Share of a way, unit, from which it counts as coming from that side: under it, it
/// would be drawn along the other axes.
const FROM: f64 = 0.1;

/// What is done.
pub fn done(worked: &WorkedJob, done: &Done) -> String {
    match done {
        Done::Lip { parts } => format!("Glue the lippings to {}", names(worked, parts)),
        Done::Cut { kinds, parts } => {
            let kinds: Vec<String> = kinds.iter().map(|kind| format!("the {}", kind.name())).collect();
            format!("Cut {} on {}", and_list(&kinds), names(worked, parts))
        }
        Done::SetUp { parts } => format!("Set up {}", names(worked, parts)),
        Done::PutIn { whole } => format!("Put in {}", coming(worked, whole)),
        Done::Hang { wall, way } => {
            let wall = names(worked, wall);
            format!("Fix {wall} to the wall, level, and hang the rest on it {}", direction(*way))
        }
        Done::Join { how, coming: parts, to } => {
            let verb = match how {
                How::Folded => "Fold up and glue",
                How::Glued => "Glue",
                How::Dry => "Fit",
            };
            let parts: Vec<String> = parts.iter().map(|one| coming(worked, one)).collect();
            let to = names(worked, to);
            match (parts.is_empty(), to.is_empty()) {
                (true, _) => format!("{verb} the made-up groups together: {to}"),
                (false, true) => format!("{verb} {}", and_list(&parts)),
                (false, false) => format!("{verb} {} to {to}", and_list(&parts)),
            }
        }
    }
}

/// What to watch.
pub fn watch(worked: &WorkedJob, watch: &Watch) -> String {
    match watch {
        Watch::MadeUpBefore { parts } => {
            format!("{} come in together, as made up before", names(worked, parts))
        }
        Watch::TrimFlush => "trim flush before cutting joints".into(),
        Watch::LetCure => "let the glue cure first".into(),
        Watch::TapeFolds => {
            "tape the outside of the folds and spread glue in the V grooves before folding".into()
        }
        Watch::PressLayers => {
            "spread glue on one face, press between flat cauls, and trim the layers together when it has cured"
                .into()
        }
        Watch::PanelMoves => "no glue in the groove: the panel must move".into(),
        Watch::DriveWedges => {
            "glue the wedges and drive them in turn, a little each, until they sound solid; saw them off flush when the \
             glue has cured"
                .into()
        }
        Watch::FoxedForGood => {
            "try the joint dry without its wedges; with them it closes once and does not come apart again".into()
        }
        Watch::FinishFirst => {
            "finish the piece and the beads first; pin the beads and do not glue them, so that they come out again"
                .into()
        }
    }
}

/// `Shelf 1 and Shelf 2 from the left`.
fn coming(worked: &WorkedJob, coming: &Coming) -> String {
    format!("{} {}", names(worked, &coming.parts), direction(coming.way))
}

/// Names of parts, lippings left out, each once.
fn names(worked: &WorkedJob, parts: &[usize]) -> String {
    let mut names: Vec<String> = Vec::new();
    for part in parts.iter().filter_map(|p| worked.parts.get(*p)) {
        if matches!(part.source, PartSource::Part(_)) && !names.contains(&part.name) {
            names.push(part.name.clone());
        }
    }
    and_list(&names)
}

/// Where something that moves along `way` comes from: `from the left`.
fn direction(way: DVec3) -> String {
    let mut from: Vec<String> = Vec::new();
    let axes =
        [(way.x, "the left", "the right"), (way.y, "the front", "the back"), (way.z, "below", "above")];
    for (share, positive, negative) in axes {
        if share > FROM {
            from.push(positive.into());
        } else if share < -FROM {
            from.push(negative.into());
        }
    }
    match from.as_slice() {
        [only] if only == "above" => "down from above".into(),
        [only] if only == "below" => "up from below".into(),
        _ => format!("from {}", and_list(&from)),
    }
}
