//! The order of assembly as rows of a list.

use super::Telling;
use crate::assembly::{Motion, Order, Staved, Step};
use crate::geometry::DVec3;
use crate::joinery::WorkedJob;

/// A step as a row.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct StepRow<'a> {
    /// The piece.
    pub piece: String,
    /// Its number among the steps of the piece, from 1.
    pub step: usize,
    /// What it is: `glue-up`, `lip`, `join`, `cut`, `finish` or `fit`.
    pub kind: String,
    /// How often it is done: to like parts each time.
    pub times: usize,
    /// What is done, in a sentence.
    pub says: String,
    /// All lines that stand on the sheet.
    pub lines: Vec<String>,
    /// Parts that come in, over all times; each part of the piece stands in one row.
    pub parts: Vec<StepPart>,
    /// Parts that are worked on.
    pub works: Vec<StepPart>,
    /// Panels that are glued up of boards, and of how many.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub boards: Vec<OfBoards>,
    /// Fittings that go in, over all times, with their number.
    pub fittings: Vec<String>,
    /// Whether it is glued.
    pub glued: bool,
    /// Joints closed and time they take, minutes; none where nothing is glued.
    pub minutes: Option<f64>,
    /// Diagonals to measure, mm.
    pub diagonals: Option<[f64; 2]>,
    /// The moves in their order.
    pub moves: Vec<Move<'a>>,
}

/// A part as the cutting list knows it.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct StepPart {
    /// Its number with its hand: `1 L`.
    pub mark: String,
    /// Its name.
    pub name: String,
}

/// A panel that is glued up of several boards.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct OfBoards {
    /// Its number with its hand.
    pub mark: String,
    /// Its name.
    pub name: String,
    /// Of how many boards.
    pub boards: usize,
}

/// One move of a step, of all its times. Of a thousand parts each may come to all before
/// it: their names are those of the parts, not copies.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Move<'a> {
    /// Names of the parts that come in, in the order of `ways`.
    pub adds: Vec<&'a str>,
    /// For each the way it comes, unit, in piece coordinates; none for a first part.
    pub ways: Vec<Option<[f64; 3]>>,
    /// Names of what comes in made up before.
    pub together: Vec<&'a str>,
    /// For each of them the way it comes.
    pub together_ways: Vec<[f64; 3]>,
    /// Names of what they come to.
    pub onto: Vec<&'a str>,
    /// Whether it is glued.
    pub glued: bool,
    /// Of what is pressed on from inside: how it is let in beside its place before.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from_inside: Option<LetIn>,
}

/// How something is let in beside its place before it is pressed on.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct LetIn {
    /// The way it is let in, unit, in piece coordinates.
    pub way: [f64; 3],
    /// How far off its place, mm.
    pub clear: f64,
}

/// The rows of all orders.
pub fn rows<'a>(telling: Telling<'a>, orders: &[Order]) -> Vec<StepRow<'a>> {
    let of_order = |order: &Order| {
        let piece = telling.job.pieces.get(order.piece.0).map_or("", |piece| piece.name.as_str()).to_owned();
        let steps = order.steps.iter().enumerate();
        steps.map(move |(i, step)| row(telling, &piece, i + 1, step)).collect::<Vec<_>>()
    };
    orders.iter().flat_map(of_order).collect()
}

fn row<'a>(telling: Telling<'a>, piece: &str, number: usize, step: &Step) -> StepRow<'a> {
    let worked = telling.worked;
    let joints: Vec<usize> = step.all_joints().collect();
    let kind = serde_json::to_value(step.kind).ok();
    StepRow {
        piece: piece.to_owned(),
        step: number,
        kind: kind.and_then(|kind| kind.as_str().map(str::to_owned)).unwrap_or_default(),
        times: step.again.len() + 1,
        says: telling.title(step),
        lines: telling.lines(step),
        parts: parts(worked, step.all_adds()),
        works: parts(worked, step.all_works()),
        boards: step.staved.iter().filter_map(|one| of_boards(worked, one)).collect(),
        fittings: telling.items(&joints),
        glued: step.glued,
        minutes: step.clamping.as_ref().map(|clamping| clamping.takes),
        diagonals: step.check.map(|check| check.diagonals),
        moves: step.all_motions().map(|one| move_of(worked, one)).collect(),
    }
}

fn of_boards(worked: &WorkedJob, one: &Staved) -> Option<OfBoards> {
    let part = worked.parts.get(one.part)?;
    Some(OfBoards { mark: part.mark(), name: part.name.clone(), boards: one.boards })
}

fn move_of<'a>(worked: &'a WorkedJob, one: &Motion) -> Move<'a> {
    // No direction is written with a zero that has a sign.
    let plain = |way: &DVec3| (*way + DVec3::ZERO).to_array();
    let made_up = |part: &usize| one.together.iter().any(|(member, _)| member == part);
    Move {
        adds: names(worked, one.adds.iter().copied()),
        ways: one.ways.iter().map(|way| way.as_ref().map(plain)).collect(),
        together: names(worked, one.together.iter().map(|(part, _)| *part)),
        together_ways: one.together.iter().map(|(_, way)| plain(way)).collect(),
        onto: names(worked, one.onto.iter().copied().filter(|part| !made_up(part))),
        glued: one.glued,
        from_inside: one.from_inside.map(|inside| LetIn { way: plain(&inside.way), clear: inside.clear }),
    }
}

fn parts(worked: &WorkedJob, parts: impl Iterator<Item = usize>) -> Vec<StepPart> {
    let parts = parts.filter_map(|part| worked.parts.get(part));
    parts.map(|part| StepPart { mark: part.mark(), name: part.name.clone() }).collect()
}

fn names(worked: &WorkedJob, parts: impl Iterator<Item = usize>) -> Vec<&str> {
    parts.filter_map(|part| worked.parts.get(part)).map(|part| part.name.as_str()).collect()
}
