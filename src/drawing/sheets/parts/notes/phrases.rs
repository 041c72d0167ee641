//! Phrases of notes put together from words, lengths and angles.

use crate::drawing::kit::dimension::figure::{bit_runs, length_runs};
use crate::drawing::page::look::Look;
use crate::drawing::page::profile::Profile;
use crate::drawing::sheets::parts::chosen::PartNote;
use crate::geometry::tolerance::HAIR;
use crate::measure::{INCH, MILLIONTHS, Unit};
use crate::paper::{Fixes, Run};

/// The last figure shown of a length, mm.
const GRAIN: f64 = 0.1;

/// The finest step shown, mm.
pub(in crate::drawing::sheets::parts) fn grain(look: &Look) -> f64 {
    match look.unit {
        Unit::Mm => GRAIN,
        Unit::Inch => INCH / f64::from(look.finest.max(1)),
    }
}

/// A length as rounded when shown, mm. Noise below a millionth is not looked
/// at, as in [`crate::measure::number`].
pub(in crate::drawing::sheets::parts) fn shown(look: &Look, mm: f64) -> f64 {
    let snapped = (mm * MILLIONTHS).round() / MILLIONTHS;
    // Multiplied as the figure is: a tenth has no exact form to divide by.
    let per = 1.0 / grain(look);
    (snapped * per).round() / per
}

/// `3 × 64 (= 192)`; by ASME `3X 64 (= 192)`. A pitch that adds up to the total
/// only before it is rounded is not said: `3 equal = 200`, to be stepped off.
pub(in crate::drawing::sheets::parts) fn even(look: &Look, steps: usize, pitch: f64, total: f64) -> Vec<Run> {
    let mut words = Words::default();
    let printed = shown(look, pitch);
    let exact = (printed * steps as f64 - shown(look, total)).abs() < HAIR
        && (printed - pitch).abs() * (steps as f64) < grain(look) / 2.0;
    if !exact {
        words.say(&format!("{steps} equal = ")).length(look, total);
        return words.runs;
    }
    let times = if look.profile == Profile::Asme { format!("{steps}X ") } else { format!("{steps} × ") };
    words.say(&times).length(look, pitch).say(" (= ").length(look, total).say(")");
    words.runs
}

/// Text being put together.
#[derive(Debug, Default)]
pub(in crate::drawing::sheets::parts) struct Words {
    /// So far.
    pub(in crate::drawing::sheets::parts) runs: Vec<Run>,
}

impl Words {
    /// Adds plain words.
    pub(in crate::drawing::sheets::parts) fn say(&mut self, words: &str) -> &mut Self {
        if let Some(Run::Plain(last)) = self.runs.last_mut() {
            last.push_str(words);
        } else {
            self.runs.push(Run::Plain(words.into()));
        }
        self
    }

    /// Adds a length.
    pub(in crate::drawing::sheets::parts) fn length(&mut self, look: &Look, mm: f64) -> &mut Self {
        self.all(length_runs(look, mm))
    }

    /// Adds the diameter of a drill.
    pub(in crate::drawing::sheets::parts) fn bit(&mut self, look: &Look, mm: f64) -> &mut Self {
        self.all(bit_runs(look, mm))
    }

    /// Adds runs, plain ones to what is plain already.
    fn all(&mut self, runs: Vec<Run>) -> &mut Self {
        for run in runs {
            match run {
                Run::Plain(p) => {
                    self.say(&p);
                }
                Run::Fraction { .. } => self.runs.push(run),
            }
        }
        self
    }

    /// Adds an angle in degrees, to a tenth.
    pub(in crate::drawing::sheets::parts) fn angle(&mut self, degrees: f64) -> &mut Self {
        self.say(&crate::measure::angle(degrees))
    }
}

/// An empty note.
pub(in crate::drawing::sheets::parts) fn blank() -> PartNote {
    PartNote { at: Vec::new(), phrases: Vec::new(), value: None, fixes: Fixes::Nothing, cuts: Vec::new() }
}
