//! What to lay out before the first step: every part and every fitting, with a box to
//! tick.

use kurbo::Rect;

use crate::assembly::{Order, StepKind};
use crate::drawing::kit::words::{plain, unmarked, wrap};
use crate::drawing::page::plate::{Lettering, Plate};
use crate::joinery::PartSource;
use crate::paper::{Role, Weight};
use crate::wording::assembly::{Telling, finishing};

/// Cap height of entries, from one to the next, and the side of a box to tick, mm.
const TEXT: f64 = 2.5;
const PITCH: f64 = 4.2;
const BOX: f64 = 2.6;
/// From the upper edge of a cell to its heading, and from there to the first entry, mm.
const HEAD: f64 = 8.0;
const FIRST: f64 = 6.0;
/// White at the sides of a cell, and between a box and its entry, mm.
const PAD: f64 = 3.0;
const AFTER_BOX: f64 = 1.8;

/// One entry, or a line of what is said under them.
struct Entry {
    text: String,
    kind: Kind,
}

/// What stands before an entry, and how it is lettered.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// A box to tick.
    Tick,
    /// White as wide as a box: what goes on from the line above.
    Under,
    /// Nothing: a heading.
    Heading,
    /// Nothing: a line.
    Line,
}

/// Entries of one cell.
pub(super) struct Ready {
    entries: Vec<Entry>,
    /// Whether entries stand in a cell before it.
    goes_on: bool,
}

/// The entries of an order and what is finished when, in cells as large as `room`.
pub(super) fn ready(telling: Telling<'_>, order: &Order, room: Rect) -> Vec<Ready> {
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a small whole number above nothing"
    )]
    let fit = libm::floor((room.height() - HEAD - FIRST) / PITCH).max(1.0) as usize;
    let width = room.width() - 2.0 * PAD;
    let ticks = entries(telling, order).iter().map(|text| to_tick(text, width)).collect();
    packed(ticks, finished(telling, order, width), fit)
}

/// Blocks of entries, and after them what is finished when, in cells of `fit` lines.
fn packed(mut blocks: Vec<Vec<Entry>>, finished: Vec<Entry>, fit: usize) -> Vec<Ready> {
    // What is finished when is read as one, so that it goes on in a cell only where none holds it.
    if finished.len() > fit {
        blocks.extend(finished.into_iter().map(|line| vec![line]));
    } else {
        blocks.push(finished);
    }
    let mut cells: Vec<Ready> = Vec::new();
    for block in blocks {
        match cells.last_mut() {
            Some(cell) if cell.entries.len() + block.len() <= fit => cell.entries.extend(block),
            _ => cells.push(Ready { entries: block, goes_on: !cells.is_empty() }),
        }
    }
    cells.retain(|cell| !cell.entries.is_empty());
    cells
}

/// The lines of one entry, its step never cut off: a box before the first.
fn to_tick(text: &str, width: f64) -> Vec<Entry> {
    let lines = wrap(text, TEXT, Weight::Regular, width - BOX - AFTER_BOX).into_iter();
    let kind = |i: usize| if i == 0 { Kind::Tick } else { Kind::Under };
    lines.enumerate().map(|(i, text)| Entry { text, kind: kind(i) }).collect()
}

/// The lines of what is finished when, under their heading.
fn finished(telling: Telling<'_>, order: &Order, width: f64) -> Vec<Entry> {
    let mut all = Vec::new();
    for (i, line) in finishing(telling, order).iter().enumerate() {
        let (kind, weight) =
            if i == 0 { (Kind::Heading, Weight::SemiBold) } else { (Kind::Line, Weight::Regular) };
        let lines = wrap(&unmarked(line), TEXT, weight, width);
        all.extend(lines.into_iter().map(|text| Entry { text, kind }));
    }
    all
}

/// Of each part the first step, from 0, that needs it: one made up of boards or lipped is on the
/// bench before it is joined to anything.
fn first_needed(parts: usize, order: &Order) -> Vec<Option<usize>> {
    let mut first = vec![None; parts];
    for (i, step) in order.steps.iter().enumerate() {
        let made_up = matches!(step.kind, StepKind::GlueUp | StepKind::Lip);
        let on_bench = step.all_works().filter(|_| made_up);
        for part in on_bench.chain(step.all_adds()) {
            if let Some(one) = first.get_mut(part) {
                one.get_or_insert(i);
            }
        }
    }
    first
}

/// Every part and every fitting with the step that first needs it.
fn entries(telling: Telling<'_>, order: &Order) -> Vec<String> {
    let worked = telling.worked;
    let first = first_needed(worked.parts.len(), order);
    let mut found: Vec<(u32, String, usize, Vec<usize>)> = Vec::new();
    let mut items: Vec<(String, usize, Vec<usize>)> = Vec::new();
    for (i, step) in order.steps.iter().enumerate() {
        for (at, part) in step.all_adds().filter_map(|at| worked.parts.get(at).map(|part| (at, part))) {
            // Lippings lie ready with the step that glues them.
            if matches!(part.source, PartSource::Lipping { .. }) && step.kind != StepKind::Lip {
                continue;
            }
            let text = format!("{} {}", part.mark(), part.name);
            let needed = first.get(at).copied().flatten().unwrap_or(i) + 1;
            match found.iter_mut().find(|(_, known, ..)| *known == text) {
                Some(known) => {
                    known.2 += 1;
                    known.3.push(needed);
                }
                None => found.push((part.number, text, 1, vec![needed])),
            }
        }
        let joints: Vec<usize> = step.all_joints().collect();
        for (text, n) in counted(telling, &joints) {
            match items.iter_mut().find(|(known, ..)| *known == text) {
                Some(known) => {
                    known.1 += n;
                    known.2.push(i + 1);
                }
                None => items.push((text, n, vec![i + 1])),
            }
        }
    }
    found.sort_by(|a, b| a.0.cmp(&b.0).then_with(|| a.1.cmp(&b.1)));
    let several = |text: String, n: usize| if n > 1 { format!("{text} ({n})") } else { text };
    let parts = found.into_iter().map(|(_, text, n, at)| (several(text, n), at));
    let items = items.into_iter().map(|(text, n, at)| (format!("{n} × {text}"), at));
    parts.chain(items).map(|(text, at)| entry(&text, at)).collect()
}

/// What some joints need, with how many.
fn counted(telling: Telling<'_>, joints: &[usize]) -> Vec<(String, usize)> {
    let mut found: Vec<(String, usize)> = Vec::new();
    let inserts = joints.iter().filter_map(|j| telling.worked.joints.get(*j)).flat_map(|j| &j.inserts);
    for insert in inserts {
        let text = telling.words.item(&insert.item);
        match found.iter_mut().find(|(known, _)| *known == text) {
            Some(known) => known.1 += insert.at.len(),
            None => found.push((text, insert.at.len())),
        }
    }
    found
}

/// `1 L Front left leg (2): step 3`.
fn entry(text: &str, mut at: Vec<usize>) -> String {
    at.sort_unstable();
    at.dedup();
    let steps: Vec<String> = at.iter().map(ToString::to_string).collect();
    let word = if at.len() == 1 { "step" } else { "steps" };
    format!("{text}: {word} {}", steps.join(", "))
}

impl Ready {
    /// Draws it in its cell.
    pub(super) fn draw(&self, plate: &mut Plate, at: Rect) {
        plate.rect(at, plate.narrow, Role::Table);
        // A cell that begins with a heading needs none over it.
        let headed = self.entries.first().is_some_and(|entry| entry.kind == Kind::Heading);
        if !headed {
            let lines = self.entries.first().is_some_and(|entry| entry.kind == Kind::Line);
            let title = match (self.goes_on, lines) {
                (true, true) => "Finishing, on",
                (true, false) => "Parts and fittings, on",
                (false, _) => "Lay out parts and fittings",
            };
            plate.text((at.x0 + PAD, at.y0 + HEAD), title, Lettering::title(Lettering::MIDDLE));
        }
        let first = at.y0 + HEAD + if headed { 0.0 } else { FIRST };
        for (i, entry) in self.entries.iter().enumerate() {
            let foot = first + PITCH * i as f64;
            let x = at.x0 + PAD;
            let (indent, weight) = match entry.kind {
                Kind::Tick | Kind::Under => (BOX + AFTER_BOX, Weight::Regular),
                Kind::Heading => (0.0, Weight::SemiBold),
                Kind::Line => (0.0, Weight::Regular),
            };
            if entry.kind == Kind::Tick {
                plate.rect(Rect::new(x, foot - BOX, x + BOX, foot), plate.narrow, Role::Table);
            }
            let lettering = Lettering { weight, ..Lettering::note(TEXT) };
            plate.runs((x + indent, foot), plain(entry.text.clone()), lettering);
        }
    }
}
