//! When what is finished, as lines.

use super::Telling;
use crate::assembly::{Order, StepKind, Watch};
use crate::cutting::{BETWEEN_COATS, GRITS};
use crate::measure::number;
use crate::problem::wording::count;

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
    lines.push("Keep it off faces that are glued: mask them.".into());
    for (i, step) in order.steps.iter().enumerate() {
        let step_number = i + 1;
        if step.kind == StepKind::Finish {
            let works: Vec<usize> = step.all_works().collect();
            lines.push(format!("Step {step_number}, before the glass: {}.", telling.names(&works)));
        }
        for watch in &step.watch {
            if let Watch::FinishInside { parts } = watch {
                lines
                    .push(format!("Before step {step_number}, which shuts it in: {}.", telling.names(parts)));
            }
        }
    }
    lines.push("After the last step: all else, inside as outside; bare on one face a board cups.".into());
    lines
}
