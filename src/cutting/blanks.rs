//! Whether the blanks to be had hold what is turned from them.

use super::CuttingList;
use super::tolerance::SAME;
use crate::joinery::WorkedJob;
use crate::measure::LengthStyle;
use crate::model::{Job, StockKind};
use crate::problem::Problem;

/// A warning for each row of the list that no blank is thick or long enough for.
pub(super) fn too_small(job: &Job, worked: &WorkedJob, list: &CuttingList) -> Vec<Problem> {
    let style = LengthStyle::of(job.unit);
    let show = |mm: f64| style.text(mm);
    let mut found = Vec::new();
    for row in &list.parts {
        let Some(part) = row.which.first().and_then(|index| worked.parts.get(*index)) else { continue };
        let Some(stock) = job.stock.get(part.stock.0) else { continue };
        let (StockKind::Blank { square, longest, .. }, Some([long, thick, _])) = (&stock.kind, row.rough)
        else {
            continue;
        };
        let thickest = square.last().copied().filter(|most| thick > most + SAME);
        let longest = longest.filter(|most| long > most + SAME);
        let (what, has, needs, rest) = match (thickest, longest) {
            (Some(most), _) => ("thickest", most, thick, job.cutting.width),
            (None, Some(most)) => ("longest", most, long, job.cutting.chucking),
            (None, None) => continue,
        };
        let message = format!(
            "the {what} blank of `{}` is {}; `{}` needs {}, with {} left on",
            stock.name,
            show(has),
            row.name,
            show(needs),
            show(rest)
        );
        let help = if what == "thickest" {
            "name a thicker blank in `square`, glue one up, or turn the part thinner"
        } else {
            "name a longer blank in `longest`, or make the part of two, one with a spigot"
        };
        found.push(
            Problem::warning("blank-too-small", message)
                .at(part.origin)
                .place(stock.origin.user, "the stock")
                .part(row.name.clone())
                .help(help),
        );
    }
    found
}
