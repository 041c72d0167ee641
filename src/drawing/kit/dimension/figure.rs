//! Figures: what stands on a dimension line.

use crate::drawing::page::look::Look;
use crate::measure::ShownLength;
use crate::paper::{Fixes, Run, Shows, Text};

/// The figure of one size.
#[derive(Clone, Debug, Default)]
pub(in crate::drawing) struct Figure {
    /// As printed.
    pub(in crate::drawing) runs: Vec<Run>,
    /// The exact model value of the (last) length printed, mm or degrees.
    pub(in crate::drawing) value: f64,
    /// What the numbers printed fix, in reading order.
    pub(in crate::drawing) fixes: Fixes,
}

impl Figure {
    /// A length as the set shows it.
    pub(in crate::drawing) fn length(look: &Look, value: f64, fixes: Fixes) -> Self {
        Self { runs: length_runs(look, value), value, fixes }
    }

    /// An overall size of a piece: in feet and inches where the set asks.
    pub(in crate::drawing) fn overall(look: &Look, value: f64) -> Self {
        Self { runs: shown_runs(look.overall_style().show(value)), value, fixes: Fixes::Nothing }
    }

    /// The width of a cutter, in the unit that it is made to.
    pub(in crate::drawing) fn cutter(look: &Look, value: f64) -> Self {
        Self { runs: bit_runs(look, value), value, fixes: Fixes::Nothing }
    }

    /// In brackets: an auxiliary size that nothing depends on (ISO 129-1).
    pub(in crate::drawing) fn bracketed(mut self) -> Self {
        self.runs.insert(0, Run::Plain("(".into()));
        self.runs.push(Run::Plain(")".into()));
        self.fixes = Fixes::Nothing;
        self
    }

    /// Whether it is in brackets.
    pub(in crate::drawing) fn is_bracketed(&self) -> bool {
        matches!(self.runs.first(), Some(Run::Plain(text)) if text.starts_with('('))
    }

    /// Width on the sheet at `height`, mm.
    pub(super) fn width(&self, height: f64) -> f64 {
        Text::new(kurbo::Point::ZERO, self.runs.clone(), height).width()
    }

    /// Whether its brackets or letters reach below the foot of its figures, where the heads
    /// of a dimension line stand.
    pub(super) fn reaches_down(&self) -> bool {
        self.runs.iter().any(|run| matches!(run, Run::Plain(text) if text.contains(['(', ')', 'q'])))
    }

    /// What its text shows, as part of dimension `number`.
    pub(super) fn shows(&self, number: u32) -> Shows {
        Shows { dimension: number, value: Some(self.value), fixes: self.fixes.clone(), ..Shows::default() }
    }
}

/// A length as the set shows it.
pub(in crate::drawing) fn length_runs(look: &Look, mm: f64) -> Vec<Run> {
    shown_runs(look.style().show(mm))
}

/// The diameter of a drill, as lists and settings tell it: in inches by the sixty-fourth, or
/// in the millimetres that it is made to.
pub(in crate::drawing) fn bit_runs(look: &Look, mm: f64) -> Vec<Run> {
    let words = look.words();
    if words.is_metric_bit(mm) { vec![Run::Plain(words.bit(mm))] } else { shown_runs(words.drill(mm)) }
}

/// A shown length with its fraction stacked.
fn shown_runs(shown: ShownLength) -> Vec<Run> {
    let mut runs = Vec::new();
    if !shown.whole.is_empty() {
        runs.push(Run::Plain(shown.whole));
    }
    if let Some((num, den)) = shown.fraction {
        runs.push(Run::Fraction { num, den });
    }
    if !shown.after.is_empty() {
        runs.push(Run::Plain(shown.after.into()));
    }
    runs
}
