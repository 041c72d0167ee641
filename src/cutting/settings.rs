//! The machine settings of a job: the operations of every row of the list, put
//! together by set-ups.

use rayon::prelude::*;

use super::{CutRow, CuttingList, FoldedPanel};
use crate::joinery::{Machine, WorkedJob};
use crate::machining::Machined;
use crate::machining::operation::{Extent, Operation, Reach, State, To};
use crate::machining::setting::{Against, Setting, Task};
use crate::machining::setup::{SetUp, set_ups};

/// All set-ups of a job.
#[derive(Clone, Debug, Default)]
pub struct Settings {
    /// The set-ups, machine by machine, those after a glue-up last.
    pub set_ups: Vec<SetUp>,
    /// What they work on.
    pub works: Vec<Worked>,
}

/// A row of the list as set-ups name it.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Worked {
    /// Its mark: `1 L`.
    pub mark: String,
    /// Its name: `Left side`.
    pub name: String,
    /// Name of its first part: of a folded panel, the one at its free edge.
    #[serde(skip)]
    pub first: String,
    /// How many, for all pieces made.
    pub quantity: usize,
}

/// The settings of a job.
pub(super) fn settings(machined: &Machined<'_>, list: &CuttingList) -> Settings {
    let worked = machined.worked;
    let of_row = |row: &CutRow| {
        let first = row.which.first().copied();
        (work(worked, row), first.map_or_else(Vec::new, |index| machined.operations(index).to_vec()))
    };
    // Each row by itself: a lipped part is made up with its lippings, which takes time.
    let parts: Vec<_> = list.parts.par_iter().map(of_row).collect();
    let folded = list.folded.iter().map(|panel| (work(worked, &panel.row), folds(panel)));
    let lippings = list.lippings.iter().map(of_row);
    let (works, operations): (Vec<_>, Vec<_>) = parts.into_iter().chain(folded).chain(lippings).unzip();
    Settings { set_ups: set_ups(&operations), works }
}

fn work(worked: &WorkedJob, row: &CutRow) -> Worked {
    let first = row.which.first().and_then(|index| worked.parts.get(*index));
    Worked {
        mark: row.mark.clone(),
        name: row.name.clone(),
        first: first.map_or_else(String::new, |part| part.name.clone()),
        quantity: row.quantity,
    }
}

/// The V grooves of a panel: cutter or blade, depth and fence of each.
fn folds(panel: &FoldedPanel) -> Vec<Operation> {
    let axis = usize::from(!panel.along_grain);
    let size = [panel.row.length, panel.row.width][axis];
    let one = |fold: &super::FoldLine| Operation {
        state: State::Rough,
        machine: Machine::SawAngled,
        later: false,
        task: Task::VGroove,
        setting: Setting::VGroove { angle: fold.angle, depth: fold.depth, skin: panel.skin },
        against: Against::FreeEdge { end: panel.along_grain },
        // From one free edge all of them: the panel is never turned.
        fence: Some(Reach {
            at: Extent { axis, low: fold.at, high: fold.at, size },
            to: To::Point,
            one_fence: true,
        }),
        along: None,
        stopped: None,
        long: None,
    };
    panel.folds.iter().map(one).collect()
}
