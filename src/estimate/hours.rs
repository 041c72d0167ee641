//! Hours: what the lists, set-ups and steps of a job ask for, line by line.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::basis::Basis;
use super::minutes::{MINUTES, MinuteRow};
use super::money::{printed, to_tenth};
use super::rates::Rates;
use crate::assembly::{Step, StepKind};
use crate::cutting::{Bought, CutRow, Note};
use crate::joinery::{Machine, PartSource};
use crate::machining::Machined;
use crate::machining::operation::Operation;
use crate::machining::setting::Task;
use crate::model::StockKind;

/// One line of hours.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HourLine {
    /// Its name: `cut.mortise`.
    pub line: String,
    /// What it is for.
    pub says: &'static str,
    /// How many, or how many square metres.
    pub count: Decimal,
    /// Minutes each.
    pub each: Decimal,
    /// Minutes in all, to a tenth; set by hand where it is overruled.
    pub minutes: Decimal,
    /// What they cost.
    pub cost: Decimal,
    /// Whether the rates file sets the minutes by hand.
    pub overruled: bool,
}

/// Minutes of an hour.
const HOUR: Decimal = Decimal::from_parts(60, 0, 0, false, 0);

/// Decimals of areas.
const AREA: usize = 2;

/// The lines of hours of a job, in the order of the table; nothing for work it has none
/// of.
pub(super) fn hours(basis: &Basis<'_>, rates: &Rates) -> Vec<HourLine> {
    let counts = counts(basis);
    let line = |row: &MinuteRow| {
        let name = row.line();
        let count = counts.get(name.as_str()).copied().filter(|count| !count.is_zero())?;
        let each = rates.minutes(&name);
        let set = rates.overrules.iter().find(|over| over.minutes && over.line == name);
        let minutes = set.map_or_else(|| to_tenth(count * each), |over| over.amount);
        let cost = rates.currency.round(minutes * rates.hourly / HOUR);
        Some(HourLine { line: name, says: row.says, count, each, minutes, cost, overruled: set.is_some() })
    };
    MINUTES.iter().filter_map(line).collect()
}

/// How often each kind of work comes, by `table.key`.
#[derive(Default)]
struct Counts(BTreeMap<String, Decimal>);

impl Counts {
    fn add(&mut self, table: &str, key: &str, count: Decimal) {
        *self.0.entry(format!("{table}.{key}")).or_default() += count;
    }

    fn add_times(&mut self, table: &str, key: &str, count: usize) {
        self.add(table, key, Decimal::from(count));
    }
}

fn counts(basis: &Basis<'_>) -> BTreeMap<String, Decimal> {
    let mut counts = Counts::default();
    counts.add_times("job", "setting_out", 1);
    parts(basis, &mut counts);
    machines(basis, &mut counts);
    steps(basis, &mut counts);
    needs(basis, &mut counts);
    surfaces(basis, &mut counts);
    counts.add_times("install", "visit", 1);
    let pieces = basis.job.pieces.iter().map(|piece| piece.count as usize).sum();
    counts.add_times("install", "piece", pieces);
    counts.0
}

/// Parts and lippings made ready.
fn parts(basis: &Basis<'_>, counts: &mut Counts) {
    let kind = |row: &CutRow| basis.job.stock.iter().find(|stock| stock.name == row.stock).map(|s| &s.kind);
    for row in &basis.lists.list.parts {
        let key = match kind(row) {
            Some(StockKind::Sheet { .. }) => "sheet",
            Some(StockKind::Board { .. }) => "solid",
            Some(StockKind::Blank { .. }) => "blank",
            Some(StockKind::Glass { .. } | StockKind::Bought) | None => continue,
        };
        counts.add_times("part", key, row.quantity);
        counts.add_times(
            "part",
            "stave",
            row.quantity * row.staves.map_or(0, |staves| staves.saturating_sub(1)),
        );
    }
    let lippings = basis.lists.list.lippings.iter().map(|row| row.quantity).sum();
    counts.add_times("part", "lipping", lippings);
}

/// Minutes that one part of a job takes to be made ready and cut, set-ups not counted:
/// what is lost with it.
pub fn part_minutes(machined: &Machined<'_>, index: usize, rates: &Rates) -> Decimal {
    let Some(part) = machined.worked.parts.get(index) else { return Decimal::ZERO };
    let kind = machined.job.stock.get(part.stock.0).map(|stock| &stock.kind);
    let ready = match (part.source, kind) {
        (PartSource::Lipping { .. }, _) => "part.lipping",
        (_, Some(StockKind::Sheet { .. })) => "part.sheet",
        (_, Some(StockKind::Board { .. })) => "part.solid",
        (_, Some(StockKind::Blank { .. })) => "part.blank",
        (_, Some(StockKind::Glass { .. } | StockKind::Bought) | None) => return Decimal::ZERO,
    };
    let cut = |operation: &Operation| rates.minutes(&format!("cut.{}", task(operation.task)));
    rates.minutes(ready) + machined.operations(index).iter().map(cut).sum::<Decimal>()
}

/// Set-ups, each once however many parts it serves, and the cuts made with them.
fn machines(basis: &Basis<'_>, counts: &mut Counts) {
    let settings = &basis.lists.settings;
    for set_up in &settings.set_ups {
        counts.add_times("set_up", machine(set_up.machine), 1);
        let cuts = set_up
            .turns
            .iter()
            .flat_map(|turn| &turn.uses)
            .map(|one| one.cuts * settings.works.get(one.work).map_or(1, |work| work.quantity));
        counts.add_times("cut", &task(set_up.task), cuts.sum());
    }
}

fn machine(machine: Machine) -> &'static str {
    match machine {
        Machine::SawSquare => "saw",
        Machine::SawAngled => "angled_saw",
        Machine::FineSaw => "fine_saw",
        Machine::Grooving => "grooving",
        Machine::Mortising => "mortising",
        Machine::Biscuits => "biscuits",
        Machine::Sockets => "sockets",
        Machine::Drilling => "drilling",
        Machine::Router => "router",
        Machine::Lathe => "lathe",
    }
}

/// The key of a task: that of its cut, `other` for a cut the table does not know.
fn task(task: Task) -> String {
    let key = match task {
        Task::Rip => "rip".to_owned(),
        Task::Crosscut => "crosscut".to_owned(),
        Task::Straighten => "straighten".to_owned(),
        Task::SquareEnd => "square_end".to_owned(),
        Task::VGroove => "fold_groove".to_owned(),
        Task::Profile => "profile".to_owned(),
        Task::Ring => "ring".to_owned(),
        Task::Hollow => "hollow".to_owned(),
        Task::Cut(kind) => kind.name().replace(' ', "_"),
    };
    let known = MINUTES.iter().any(|row| row.table == "cut" && row.key == key);
    if known { key } else { "other".to_owned() }
}

/// Steps of the assembly. Lippings are counted with the parts; what hangs a piece is
/// done where it is installed.
fn steps(basis: &Basis<'_>, counts: &mut Counts) {
    for order in basis.orders {
        let times = basis.job.pieces.get(order.piece.0).map_or(1, |piece| piece.count as usize);
        let hangs =
            |joint: usize| basis.worked.joints.get(joint).is_some_and(|joint| joint.traits.hangs_on_wall);
        let bench = |step: &&Step| step.kind != StepKind::Lip && !step.all_joints().any(hangs);
        for step in order.steps.iter().filter(bench) {
            // What is told once for like units is done for each.
            counts.add_times("assembly", "step", times * (1 + step.again.len()));
            if step.kind == StepKind::Join {
                counts.add_times("assembly", "part", times * step.all_adds().count());
            }
        }
    }
}

/// Inserts and fittings put in.
fn needs(basis: &Basis<'_>, counts: &mut Counts) {
    for need in &basis.lists.list.needs {
        let key = if need.item.is_sundry() { "fixing" } else { "fitting" };
        counts.add_times("assembly", key, need.quantity);
    }
}

/// Areas sanded, coated and rubbed down between coats.
fn surfaces(basis: &Basis<'_>, counts: &mut Counts) {
    for line in &basis.lists.buying.lines {
        match (&line.what, &line.note) {
            (Bought::Disc { .. }, Some(Note::Sanded { area, .. })) => {
                counts.add("finish", "sand", printed(*area, AREA));
            }
            (Bought::RubbingSheet { .. }, Some(Note::Sanded { area, .. })) => {
                counts.add("finish", "rub_down", printed(*area, AREA));
            }
            (Bought::Finish(_), Some(Note::Coats { area, coats, .. })) => {
                counts.add("finish", "coat", printed(*area, AREA) * Decimal::from(*coats));
            }
            _ => {}
        }
    }
}
