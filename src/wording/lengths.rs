//! Lengths in sentences, in the unit of the sheet.

use crate::measure::{LengthStyle, ShownLength, Unit, number};
use crate::timber::numbered;

/// Drills are sold by this part of an inch.
const DRILLS: u32 = 64;
/// What is made to half millimetres is off them by no more, mm.
const MADE_TO: f64 = 1e-6;

/// How a sheet words lengths.
#[derive(Clone, Copy, Debug)]
pub struct Words {
    /// The style of its lengths.
    pub lengths: LengthStyle,
}

impl Words {
    /// The usual words of a sheet in `unit`.
    pub fn of(unit: Unit) -> Self {
        Self { lengths: LengthStyle::of(unit) }
    }

    /// A length with its unit: `600 mm`, `23 5/8″`.
    pub fn length(self, mm: f64) -> String {
        self.lengths.text(mm)
    }

    /// A length without its unit, beside others that have it.
    pub fn figure(self, mm: f64) -> String {
        self.lengths.show(mm).to_string()
    }

    /// A screw, by diameter and length or by its number: `4 × 30`, `#8 × 1 1/4″`.
    pub fn screw(self, [thick, long]: [f64; 2]) -> String {
        match numbered::number(thick) {
            // A number goes with inches, whatever the sheet is in.
            Some(number) => format!("#{number} × {}", Self::of(Unit::Inch).bought(&[long])),
            None => self.bought(&[thick, long]),
        }
    }

    /// The diameter of a drill or of what is sold by it: in inches by the sixty-fourth as
    /// drills are, in millimetres where it is made to them.
    pub fn bit(self, mm: f64) -> String {
        if self.lengths.unit == Unit::Mm {
            return self.figure(mm);
        }
        if self.is_metric_bit(mm) { format!("{} mm", number(mm, 1)) } else { self.drill(mm).to_string() }
    }

    /// Whether a drill is made to half millimetres and to no sixty-fourth, in a job in inches.
    pub fn is_metric_bit(self, mm: f64) -> bool {
        let halves = mm * 2.0;
        self.lengths.unit == Unit::Inch && self.drill(mm).rounded && (halves - halves.round()).abs() < MADE_TO
    }

    /// The diameter of a drill by the sixty-fourth, or in the millimetres of the job.
    pub fn drill(self, mm: f64) -> ShownLength {
        LengthStyle { finest: DRILLS, ..self.lengths }.show(mm)
    }

    /// The sizes something is bought by, `4.5 × 30`: in inches where all are whole
    /// fractions of one, else as it is sold, in millimetres: a screw of 4.5 mm is
    /// not to be had as one of 3/16 in.
    pub fn bought(self, sizes: &[f64]) -> String {
        let metric = self.lengths.unit == Unit::Mm;
        let odd = sizes.iter().any(|size| self.lengths.show(*size).rounded);
        let style = if odd { LengthStyle::MM } else { self.lengths };
        let figures: Vec<String> = sizes.iter().map(|size| style.show(*size).to_string()).collect();
        let unit = if style.unit == Unit::Mm && !metric { " mm" } else { "" };
        format!("{}{unit}", figures.join(" × "))
    }
}
