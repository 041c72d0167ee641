//! How a step is clamped and measured, as sentences.

use super::Telling;
use super::telling::ALONG;
use crate::assembly::{Check, ClampKind, Clamps, Step, StepKind};
use crate::geometry::DVec3;
use crate::measure::number;
use crate::model::Glue;
use crate::problem::wording::count;

/// Diagonals nearer than this are one, mm: less than a tape shows.
const ONE_LENGTH: f64 = 0.05;

impl Telling<'_> {
    /// How a glued step is clamped, and how long it takes.
    pub(super) fn clamping(&self, step: &Step) -> Vec<String> {
        let Some(clamping) = &step.clamping else { return Vec::new() };
        let clamps: Vec<String> = clamping.clamps.iter().map(|one| self.clamps(step, one)).collect();
        let glue = &self.job.order.glue;
        let clamps =
            if clamps.is_empty() { String::new() } else { format!(" Clamps: {}.", clamps.join("; ")) };
        vec![
            format!("Glued, dry fit first.{clamps}"),
            format!(
                "{}: about {} min, {}; {} in the clamps.",
                count(clamping.joints, "joint", "joints"),
                number(clamping.takes, 0),
                open(glue),
                clamped(glue),
            ),
        ]
    }

    /// `4 bars over 900 mm, left to right, with cauls`.
    fn clamps(&self, step: &Step, one: &Clamps) -> String {
        // What is glued up flat on the bench has no place in the piece yet.
        let along = if step.kind == StepKind::GlueUp { "across the boards" } else { line(one.along) };
        let length = self.words.length(one.length);
        let cauls = if one.cauls { ", on cauls" } else { "" };
        let astride = if one.astride { ", one on each side of a wedged tenon, clear of it" } else { "" };
        let bars = count(one.count, "bar", "bars");
        match one.kind {
            ClampKind::Bar => format!("{bars} over {length}, {along}{cauls}{astride}"),
            ClampKind::OnBlocks(lean) => {
                format!(
                    "{bars} over {length}, {}, on blocks sawn to {}°{astride}",
                    line(one.along),
                    number(lean, 1)
                )
            }
            ClampKind::Band => {
                let bands = count(one.count, "band", "bands");
                format!("{bands} round {length}, blocks at the corners")
            }
            ClampKind::Corners => {
                let corners = count(one.count, "corner", "corners");
                format!("one at each of {corners}, on blocks glued on for it")
            }
            ClampKind::Connectors => "none, the connectors draw it together".into(),
        }
    }

    /// What to measure.
    pub(super) fn check(&self, check: &Check) -> String {
        let [a, b] = check.diagonals.map(|mm| self.words.length(mm));
        if (check.diagonals[0] - check.diagonals[1]).abs() < ONE_LENGTH {
            format!("Diagonals as drawn: {a} each.")
        } else {
            format!("Diagonals as drawn: {a} and {b}.")
        }
    }
}

/// Open time, said to be assumed where it is.
fn open(glue: &Glue) -> String {
    let name = glue.name.as_ref().map_or_else(|| "glue".to_owned(), Clone::clone);
    let assumed = if glue.open.is_none() || glue.rate.is_none() { " (assumed)" } else { "" };
    format!("{name} stays open {}{assumed}", number(glue.open(), 0))
}

/// Time in the clamps.
pub(super) fn clamped(glue: &Glue) -> String {
    let assumed = if glue.clamped.is_none() { " (assumed)" } else { "" };
    format!("{} min{assumed}", number(glue.clamped(), 0))
}

/// A line that clamps press along: `left to right`.
fn line(along: DVec3) -> &'static str {
    if along.x.abs() > ALONG {
        "left to right"
    } else if along.y.abs() > ALONG {
        "front to back"
    } else if along.z.abs() > ALONG {
        "top to bottom"
    } else {
        "square across the joint"
    }
}
