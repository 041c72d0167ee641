//! Set-ups: operations of several parts that share one setting, gathered so that each
//! setting is made once.

use super::feature::{SAME, face_on};
use super::operation::{Operation, Reach, State, To};
use super::places::{ends, off_fence, stops};
use super::setting::{Against, Setting, Task};
use crate::joinery::Machine;

pub use super::places::{Distances, From};

/// One setting of one machine.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct SetUp {
    /// The machine.
    pub machine: Machine,
    /// Whether it waits until after a glue-up.
    pub later: bool,
    /// What is done.
    pub task: Task,
    /// What is set.
    pub setting: Setting,
    /// How far off the fence, one after the other, mm.
    pub fence: Option<Distances>,
    /// What those distances are measured to.
    pub fence_to: To,
    /// The ways round parts lie: those of a mirror pair lie the other way.
    pub turns: Vec<Turn>,
}

/// Parts that lie one way.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Turn {
    /// What lies against the fence.
    pub against: Against,
    /// Stops to the middle of each cut.
    pub stops: Vec<From>,
    /// Where channels stop before they run out.
    pub stopped: Vec<From>,
    /// The parts.
    pub uses: Vec<Use>,
}

/// A part worked by a set-up.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Use {
    /// Which of the works given to [`set_ups`].
    pub work: usize,
    /// How the part is before.
    pub state: State,
    /// How many cuts it gets.
    pub cuts: usize,
    /// Length its mitres make, long point to long point, mm.
    pub long: Option<f64>,
}

/// The set-ups of works, each the operations of one row of parts alike: machine by
/// machine, those after a glue-up last.
pub fn set_ups(works: &[Vec<Operation>]) -> Vec<SetUp> {
    let mut list: Vec<SetUp> = Vec::new();
    for (work, operations) in works.iter().enumerate() {
        for choice in of_part(work, operations) {
            // The other of a mirror pair is set as the first, from its other end.
            let fits = choice.iter().find_map(|(setup, turn)| {
                let at = list.iter().position(|have| have.serves(setup, turn))?;
                Some((at, turn.clone()))
            });
            match fits {
                Some((at, turn)) => list[at].take(turn),
                None => list.extend(
                    choice.into_iter().next().map(|(setup, turn)| SetUp { turns: vec![turn], ..setup }),
                ),
            }
        }
    }
    // Stable, so that within a machine set-ups keep the order of the parts.
    list.sort_by_key(|setup| (setup.later, setup.machine));
    let mut sorted = alike_together(list);
    // Trimming is done width before length, and the fence is moved one way only.
    sorted.sort_by(|a, b| {
        let key = |setup: &SetUp| (setup.later, setup.machine, trimming(setup.task));
        key(a).cmp(&key(b)).then(trimmed_to(&b.setting).total_cmp(&trimmed_to(&a.setting)))
    });
    sorted.iter_mut().for_each(SetUp::join_turns);
    sorted
}

/// The order of trimming: edges before ends.
fn trimming(task: Task) -> u8 {
    match task {
        Task::Straighten => 0,
        Task::Rip => 1,
        Task::SquareEnd => 2,
        Task::Crosscut => 3,
        Task::Cut(_) | Task::VGroove | Task::Profile | Task::Ring | Task::Hollow => 4,
    }
}

/// The size a part is trimmed to, mm; 0 for all other work, which keeps its order.
fn trimmed_to(setting: &Setting) -> f64 {
    match setting {
        Setting::Size { size } => *size,
        Setting::Off { left, .. } => *left,
        _ => 0.0,
    }
}

/// Orders set-ups so that those with one cutter follow one another.
fn alike_together(list: Vec<SetUp>) -> Vec<SetUp> {
    let mut groups: Vec<Vec<SetUp>> = Vec::new();
    for setup in list {
        match groups.iter_mut().find(|group| group.first().is_some_and(|first| first.same_cutter(&setup))) {
            Some(group) => group.push(setup),
            None => groups.push(vec![setup]),
        }
    }
    groups.into_iter().flatten().collect()
}

/// Ways to set one run of cuts, the usual one first: a set-up without turns, and
/// its turn.
type Choice = Vec<(SetUp, Turn)>;

/// The operations of one part that share a cutter and the face it goes in from.
fn of_part(work: usize, operations: &[Operation]) -> Vec<Choice> {
    let mut groups: Vec<Vec<&Operation>> = Vec::new();
    for operation in operations {
        match groups.iter_mut().find(|group| group.first().is_some_and(|first| one_run(first, operation))) {
            Some(group) => group.push(operation),
            None => groups.push(vec![operation]),
        }
    }
    groups.iter().flat_map(|group| by_fence(work, group)).collect()
}

/// Whether two operations of a part belong to one run of cuts.
fn one_run(a: &Operation, b: &Operation) -> bool {
    let axis = |operation: &Operation| operation.fence.map(|reach| (reach.at.axis, reach.one_fence));
    let along = |operation: &Operation| operation.along.map(|lies| lies.axis);
    let end = |operation: &Operation| operation.stopped.map(ends).unwrap_or_default();
    a.machine == b.machine
        && a.later == b.later
        && a.task == b.task
        && a.setting == b.setting
        && a.against == b.against
        && a.long == b.long
        && axis(a) == axis(b)
        && along(a) == along(b)
        && end(a) == end(b)
}

/// Splits a run by the face against the fence, and by what stops go with each
/// distance: distances with the same stops are one set-up.
fn by_fence(work: usize, run: &[&Operation]) -> Vec<Choice> {
    let Some(first) = run.first() else { return Vec::new() };
    let Some(reach) = first.fence else { return vec![vec![entry(work, run, None)]] };
    let far_of = |operation: &Operation| operation.fence.is_some_and(nearer_far);
    if reach.one_fence {
        // From the near end, where a drawing has its datum too; a panel to be
        // folded keeps its free edge at the fence.
        let ways: &[bool] = if reach.to == To::Point { &[false] } else { &[false, true] };
        return vec![ways.iter().map(|far| entry(work, run, Some(*far))).collect()];
    }
    let side = |far| run.iter().copied().filter(|o| far_of(o) == far).collect::<Vec<_>>();
    let sides = [false, true].map(|far| (far, side(far))).into_iter().filter(|(_, list)| !list.is_empty());
    let mut all = Vec::new();
    for (far, list) in sides {
        let lots = by_stops(by_distance(list, far));
        all.extend(lots.into_iter().map(|lot| vec![entry(work, &lot, Some(far))]));
    }
    all
}

/// Operations that stand as far from the fence.
fn by_distance(list: Vec<&Operation>, far: bool) -> Vec<Vec<&Operation>> {
    let mut lots: Vec<(f64, Vec<&Operation>)> = Vec::new();
    for operation in list {
        let Some(distance) = operation.fence.map(|reach| reach.distance(far)) else { continue };
        match lots.iter_mut().find(|(known, _)| (known - distance).abs() < SAME) {
            Some((_, lot)) => lot.push(operation),
            None => lots.push((distance, vec![operation])),
        }
    }
    lots.into_iter().map(|(_, lot)| lot).collect()
}

/// Lots with the same stops as one: only the fence is moved between them.
fn by_stops(lots: Vec<Vec<&Operation>>) -> Vec<Vec<&Operation>> {
    let mut joined: Vec<Vec<&Operation>> = Vec::new();
    for lot in lots {
        let stops = stops_of(&lot);
        match joined.iter_mut().find(|have| stops_of(have) == stops) {
            Some(have) => have.extend(lot),
            None => joined.push(lot),
        }
    }
    joined
}

/// Whether a cut stands nearer the face opposite the origin's.
fn nearer_far(reach: Reach) -> bool {
    reach.distance(true) < reach.distance(false) - SAME
}

/// Stops of some cuts.
fn stops_of(list: &[&Operation]) -> Vec<From> {
    let mut middles: Vec<_> = list.iter().filter_map(|operation| operation.along).collect();
    middles.sort_by(|a, b| a.middle().total_cmp(&b.middle()));
    middles.dedup_by(|a, b| (a.middle() - b.middle()).abs() < SAME);
    stops(&middles)
}

/// Some operations of a part that share fence distances and stops.
fn entry(work: usize, list: &[&Operation], far: Option<bool>) -> (SetUp, Turn) {
    // `list` is never empty: it is made of at least one operation.
    let first = list[0];
    let reaches: Vec<Reach> = list.iter().filter_map(|operation| operation.fence).collect();
    let mut against = first.against.clone();
    if let (Against::Fence { faces, .. }, Some(far), Some(reach)) = (&mut against, far, first.fence) {
        *faces = vec![face_on(reach.at.axis, far)];
    }
    let setup = SetUp {
        machine: first.machine,
        later: first.later,
        task: first.task,
        setting: first.setting.clone(),
        fence: far.map(|far| off_fence(&reaches, far)),
        fence_to: first.fence.map_or(To::Side, |reach| reach.to),
        turns: Vec::new(),
    };
    let turn = Turn {
        against,
        stops: stops_of(list),
        stopped: first.stopped.map(ends).unwrap_or_default(),
        uses: vec![Use { work, state: first.state, cuts: list.len(), long: first.long }],
    };
    (setup, turn)
}

/// Distances, whichever end they are from.
fn measures(list: &[From]) -> Vec<&Distances> {
    let mut all: Vec<&Distances> = list.iter().map(|from| &from.distances).collect();
    let first = |distances: &Distances| match distances {
        Distances::Each(all) => all.first().copied().unwrap_or(0.0),
        Distances::Row { first, .. } => *first,
    };
    all.sort_by(|a, b| first(a).total_cmp(&first(b)));
    all
}

impl SetUp {
    /// Whether the cutter is the same.
    fn same_cutter(&self, other: &Self) -> bool {
        self.machine == other.machine
            && self.later == other.later
            && self.task == other.task
            && self.setting == other.setting
    }

    /// Whether `turn` of `other` needs nothing set anew.
    fn serves(&self, other: &Self, turn: &Turn) -> bool {
        self.same_cutter(other)
            && self.fence == other.fence
            && self.fence_to == other.fence_to
            && self.turns.first().is_some_and(|first| {
                measures(&first.stops) == measures(&turn.stops)
                    && measures(&first.stopped) == measures(&turn.stopped)
                    && kind(&first.against) == kind(&turn.against)
            })
    }

    /// Takes a turn in.
    fn take(&mut self, turn: Turn) {
        let same = |have: &&mut Turn| {
            have.against == turn.against && have.stops == turn.stops && have.stopped == turn.stopped
        };
        let Some(have) = self.turns.iter_mut().find(same) else {
            self.turns.push(turn);
            return;
        };
        for one in turn.uses {
            match have.uses.iter_mut().find(|known| known.work == one.work && known.long == one.long) {
                Some(known) => known.cuts += one.cuts,
                None => have.uses.push(one),
            }
        }
    }

    /// Makes turns of the same parts one, where they differ only in what lies
    /// against the fence, or only in where the cutter goes in.
    fn join_turns(&mut self) {
        for same in [Same::From, Same::Faces] {
            let mut list: Vec<Turn> = Vec::new();
            for turn in std::mem::take(&mut self.turns) {
                match list.iter_mut().find_map(|have| Some((have.with(&turn, same)?, have))) {
                    Some((joined, have)) => {
                        have.against = joined;
                        have.uses
                            .iter_mut()
                            .zip(&turn.uses)
                            .for_each(|(known, more)| known.cuts += more.cuts);
                    }
                    None => list.push(turn),
                }
            }
            self.turns = list;
        }
    }

    /// How many cuts it makes.
    pub fn cuts(&self) -> usize {
        self.turns.iter().flat_map(|turn| &turn.uses).map(|one| one.cuts).sum()
    }
}

/// In what two turns must agree to be one.
#[derive(Clone, Copy)]
enum Same {
    From,
    Faces,
}

/// Ways to hold a part that are not one and the same.
fn kind(against: &Against) -> std::mem::Discriminant<Against> {
    std::mem::discriminant(against)
}

impl Turn {
    /// What lies against the fence for this and another turn of the same parts.
    fn with(&self, other: &Self, same: Same) -> Option<Against> {
        let works = |turn: &Self| turn.uses.iter().map(|one| (one.work, one.cuts)).collect::<Vec<_>>();
        if works(self) != works(other) || self.stops != other.stops || self.stopped != other.stopped {
            return None;
        }
        let (Against::Fence { faces, from }, Against::Fence { faces: f, from: g }) =
            (&self.against, &other.against)
        else {
            return None;
        };
        let (mut faces, mut from) = (faces.clone(), from.clone());
        match same {
            Same::From if from == *g => faces.extend(f),
            Same::Faces if faces == *f => from.extend(g),
            Same::From | Same::Faces => return None,
        }
        Some(Against::Fence { faces, from })
    }
}
