//! The machine settings of a job: the operations of every row of the list, put
//! together by set-ups.

use rayon::prelude::*;

use super::{CompoundEnd, CutRow, CuttingList, FoldedPanel};
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
        let operations = |index| machined.operations(machined.told_by(index)).to_vec();
        (work(worked, row), first.map_or_else(Vec::new, operations))
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

/// The ends of a work that lean two ways, as its set-ups have them, the near end first.
pub(super) fn compound_ends(settings: &Settings, work: usize) -> Vec<CompoundEnd> {
    let mut ends: Vec<CompoundEnd> = Vec::new();
    for set_up in &settings.set_ups {
        let Setting::Compound { gauge, blade, on_edge } = set_up.setting else { continue };
        for turn in set_up.turns.iter().filter(|turn| turn.uses.iter().any(|one| one.work == work)) {
            if let Against::LongPoint { made, .. } = turn.against
                && !ends.iter().any(|known| known.end == made)
            {
                ends.push(CompoundEnd { end: made, gauge, blade, on_edge });
            }
        }
    }
    ends.sort_by_key(|one| one.end);
    ends
}
