//! When what is finished, as lines.

use super::Telling;
use crate::assembly::{Order, StepKind, Watch};
use crate::cutting::{BETWEEN_COATS, Coated, GRITS, coated};
use crate::joinery::PartSource;
use crate::measure::{Unit, number};
use crate::model::Finish;
use crate::problem::wording::count;
use crate::wording::Words;

/// What is finished when, over an order, and where `each` is asked for what of each part; nothing where the job has no finish. The first
/// line is a heading.
pub fn finishing(telling: Telling<'_>, order: &Order, each: bool) -> Vec<String> {
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
            if let Watch::FinishInside { parts } | Watch::FinishHidden { parts } = watch {
                lines
                    .push(format!("Before step {step_number}, which shuts it in: {}.", telling.names(parts)));
            }
        }
    }
    if each {
        lines.extend(by_part(telling, order));
    }
    lines.push("After the last step: all else, inside as outside; bare on one face a board cups.".into());
    lines
}

/// Square millimetres to the square metre.
const SQUARE_METRE: f64 = 1e6;
/// Less than this is no face to finish, m².
const LITTLE: f64 = 0.005;

/// What is finished of each part, face by face, and how much it takes in all; like parts
/// once.
fn by_part(telling: Telling<'_>, order: &Order) -> Vec<String> {
    let Some(finish) = &telling.job.finish else { return Vec::new() };
    let mut rows: Vec<(String, Coated, usize)> = Vec::new();
    let mut all = 0.0;
    for (index, part) in telling.worked.parts.iter().enumerate().filter(|(_, part)| part.piece == order.piece)
    {
        let Some(coated) = coated(telling.job, telling.worked, index) else { continue };
        all += (coated.faces.iter().sum::<f64>() - coated.masked).max(0.0) / SQUARE_METRE;
        // Lippings are finished with the parts they are on.
        if matches!(part.source, PartSource::Lipping { .. }) {
            continue;
        }
        let name = format!("{} {}", part.mark(), part.name);
        match rows.iter_mut().find(|(known, ..)| *known == name) {
            Some(row) => row.2 += 1,
            None => rows.push((name, coated, 1)),
        }
    }
    // In one paragraph: a line for each part would take a sheet of its own.
    let each: Vec<String> =
        rows.iter().filter_map(|(name, coated, n)| row(name, coated, *n, telling.words)).collect();
    let metric = telling.words.lengths.unit == Unit::Mm;
    let unit = if metric { "m²" } else { "sq ft" };
    let mut lines = Vec::new();
    if !each.is_empty() {
        lines.push(format!(
            "Of each, {unit}: face side, back side, edges and ends; what is glued is masked. {}.",
            each.join("; ")
        ));
    }
    let litres = all * f64::from(finish.coats) / finish.coverage.unwrap_or(Finish::COVERAGE);
    lines.push(format!(
        "In all {}, {}: about {}.",
        if metric { format!("{} m²", number(all, 1)) } else { telling.words.area(all) },
        count(finish.coats as usize, "coat", "coats"),
        telling.words.liquid(litres)
    ));
    lines
}

/// `3 Shelf (2) 0.12, 0.12, 0.02, masked 0.03` for one of them; nothing for what is too small to be
/// told of.
fn row(name: &str, coated: &Coated, n: usize, words: Words) -> Option<String> {
    let show = |area: f64| number(words.square(area / SQUARE_METRE), 2);
    let [face, back, edges] = coated.faces;
    if face + back + edges < LITTLE * SQUARE_METRE {
        return None;
    }
    let several = if n > 1 { format!(" ({n})") } else { String::new() };
    let over = if back > 0.0 {
        format!("{}, {}, {}", show(face), show(back), show(edges))
    } else {
        format!("{} all over", show(face + edges))
    };
    let masked = coated.masked;
    let mask =
        if masked > LITTLE * SQUARE_METRE { format!(", masked {}", show(masked)) } else { String::new() };
    Some(format!("{name}{several} {over}{mask}"))
}
