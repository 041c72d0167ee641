//! When what is finished, as lines.

use super::Telling;
use crate::assembly::{Order, StepKind, Watch};
use crate::cutting::{BETWEEN_COATS, Coated, GRITS, coats};
use crate::joinery::{PartSource, WorkedJoint};
use crate::measure::number;
use crate::model::{Finish, PieceId};
use crate::problem::wording::count;
use crate::wording::Words;

/// What is finished when, over an order; nothing where the job has no finish. The first
/// line is a heading.
pub fn finishing(telling: Telling<'_>, order: &Order) -> Vec<String> {
    let Some(finish) = &telling.job.finish else { return Vec::new() };
    let mut lines =
        vec![format!("Finishing: {}, {}", finish.what, count(finish.coats as usize, "coat", "coats"))];
    let grits = GRITS.map(|grit| grit.to_string()).join(", ");
    let between = if finish.coats > 1 { format!("; {BETWEEN_COATS} between coats") } else { String::new() };
    lines.push(format!("Sand with the grain, grit {grits}{between}."));
    lines.push(match finish.dries {
        Some(hours) => format!("Next coat after {} h.", number(hours, 1)),
        None => "Time between coats as its maker says.".into(),
    });
    if finish.heats() {
        lines.push(
            "Rags with it can set themselves on fire: spread them out to dry, or keep them under water."
                .into(),
        );
    }
    lines.push("Keep it off faces that are glued: mask them.".into());
    for (i, step) in order.steps.iter().enumerate() {
        let step_number = i + 1;
        if step.kind == StepKind::Finish {
            let works: Vec<usize> = step.all_works().collect();
            lines.push(format!("Step {step_number}, before the glass: {}.", telling.names(&works)));
        }
        for watch in &step.watch {
            let (how, parts) = match watch {
                Watch::FinishInside { parts } => ("in which it comes in", parts),
                Watch::FinishHidden { parts } => ("which shuts it in", parts),
                _ => continue,
            };
            lines.push(format!("Before step {step_number}, {how}: {}.", telling.names(parts)));
        }
    }
    let last = match rest(order) {
        Some(at) => Some(format!("Before step {at}")),
        None => is_left(telling, order).then(|| "After the last step".to_owned()),
    };
    lines.extend(
        last.map(|last| format!("{last}: all else, inside as outside; bare on one face a board cups.")),
    );
    if telling.worked.joints.iter().any(WorkedJoint::slides_on_wood) {
        lines.push("Runners, and what slides on them: wax, no other finish where they touch.".into());
    }
    lines
}

/// Whether something of a piece is finished only when all is done.
fn is_left(telling: Telling<'_>, order: &Order) -> bool {
    let Telling { job, worked, .. } = telling;
    worked.parts.iter().zip(coats(job, worked)).enumerate().any(|(index, (part, coated))| {
        let own = part.piece == order.piece && matches!(part.source, PartSource::Part(_));
        own && coated.is_some() && when(order, index) == LAST
    })
}

/// Square millimetres to the square metre.
const SQUARE_METRE: f64 = 1e6;
/// Less than this is no face to finish, m².
const LITTLE: f64 = 0.005;

/// What a drawer slides on and is narrower than this is a runner, mm; else it is a part of
/// the case (common practice, no source).
const RUNNER: f64 = 80.0;

/// What is finished of like parts of one piece, face by face.
#[derive(Clone, Debug, PartialEq)]
pub struct FinishRow {
    /// The piece.
    pub piece: PieceId,
    /// Their number.
    pub mark: String,
    /// Their name.
    pub name: String,
    /// How many they are.
    pub count: usize,
    /// When: at which step, or at the end.
    pub when: String,
    /// Of each, of the marked face, the one behind it, edges and ends, and what of these
    /// is glued and masked, m² or square feet; empty where there is none.
    pub areas: [String; 4],
}

/// What is finished in all.
#[derive(Clone, Debug, PartialEq)]
pub struct FinishTable {
    /// Rows, piece by piece.
    pub rows: Vec<FinishRow>,
    /// Surface that takes the finish, and how much that takes: `3.3 m²`, `0.6 litres`.
    pub in_all: [String; 2],
}

/// What is finished of each part and when; `None` where the job has no finish or nothing
/// takes it.
pub fn finish_table(telling: Telling<'_>, orders: &[Order]) -> Option<FinishTable> {
    let Telling { job, worked, words } = telling;
    let finish = job.finish.as_ref()?;
    let mut rows: Vec<FinishRow> = Vec::new();
    let mut all = 0.0;
    for ((index, part), coated) in worked.parts.iter().enumerate().zip(coats(job, worked)) {
        let Some(coated) = coated else { continue };
        let made = job.pieces.get(part.piece.0).map_or(1, |piece| piece.count);
        all += coated.open() / SQUARE_METRE * f64::from(made);
        // Lippings are finished with the parts they are on.
        if matches!(part.source, PartSource::Lipping { .. }) {
            continue;
        }
        // What a drawer runs on is waxed.
        let runs = |joint: &&WorkedJoint| joint.slides_on_wood() && joint.parts.last() == Some(&index);
        if worked.joints.iter().find(runs).is_some_and(|_| part.size.y.min(part.size.x) < RUNNER) {
            continue;
        }
        let Some(areas) = areas(&coated, words) else { continue };
        let order = orders.iter().find(|order| order.piece == part.piece);
        let when = order.map_or_else(|| LAST.to_owned(), |order| when(order, index));
        let (mark, name) = (part.mark(), part.name.clone());
        let like = |row: &&mut FinishRow| {
            row.piece == part.piece && row.mark == mark && row.name == name && row.when == when
        };
        match rows.iter_mut().find(like) {
            Some(row) => row.count += 1,
            None => rows.push(FinishRow { piece: part.piece, mark, name, count: 1, when, areas }),
        }
    }
    let litres = all * f64::from(finish.coats) / finish.coverage.unwrap_or(Finish::usual_coverage(job.unit));
    (!rows.is_empty()).then(|| FinishTable { rows, in_all: [words.area(all), words.liquid(litres)] })
}

/// When most is finished.
const LAST: &str = "last";

/// The step before which the rest is finished, counted from one; `None` where that is last.
fn rest(order: &Order) -> Option<usize> {
    let bare = |watch: &Watch| matches!(watch, Watch::FinishRest);
    order.steps.iter().position(|step| step.watch.iter().any(bare)).map(|at| at + 1)
}

/// When a part of an order is finished: before the step that shuts it in, in the step that
/// comes before its glass, before what is fitted last, or last.
fn when(order: &Order, part: usize) -> String {
    let shut = |watch: &Watch| match watch {
        Watch::FinishInside { parts } | Watch::FinishHidden { parts } => parts.contains(&part),
        _ => false,
    };
    for (i, step) in order.steps.iter().enumerate() {
        if step.kind == StepKind::Finish && step.all_works().any(|work| work == part) {
            return format!("at {}", i + 1);
        }
        if step.watch.iter().any(shut) {
            return format!("before {}", i + 1);
        }
    }
    rest(order).map_or_else(|| LAST.to_owned(), |at| format!("before {at}"))
}

/// The areas of one part as they are printed; nothing for what is too small to be told of.
fn areas(coated: &Coated, words: Words) -> Option<[String; 4]> {
    let [face, back, edges] = coated.faces;
    if face + back + edges < LITTLE * SQUARE_METRE {
        return None;
    }
    Some([face, back, edges, coated.masked].map(|area| {
        if area > LITTLE * SQUARE_METRE {
            format!("{:.2}", words.square(area / SQUARE_METRE))
        } else {
            String::new()
        }
    }))
}
