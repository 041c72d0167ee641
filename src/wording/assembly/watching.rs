//! What to have in mind at a step, as sentences without a stop.

use super::Telling;
use crate::assembly::Watch;
use crate::joinery::CutKind;
use crate::measure::number;
use crate::problem::wording::and_list;

impl Telling<'_> {
    /// What to watch.
    pub fn watch(&self, watch: &Watch) -> String {
        let glue = &self.job.order.glue;
        match watch {
            Watch::OneByOne => "one panel after the other, each in clamps of its own".into(),
            Watch::Rings => {
                "lay the boards for figure and for grain that planes one way, the rings of every second one turned over, and mark a triangle across them; joint the edges in pairs, one face in and one face out"
                    .into()
            }
            Watch::Flat => {
                "bars in turn below and above; before the glue sets it must lie flat under a straightedge, with no wind"
                    .into()
            }
            Watch::PlaneWhenCured => {
                "when the glue has cured, plane it to thickness and only then cut it to size".into()
            }
            Watch::TrimFlush => "trim flush before cutting joints".into(),
            Watch::LetCure => {
                let assumed = if glue.cured.is_none() { ", assumed" } else { "" };
                format!("let the glue cure first ({} h{assumed})", number(glue.cured(), 0))
            }
            Watch::TapeFolds => {
                "tape the outside of the folds and spread glue in the V grooves before folding".into()
            }
            Watch::PressLayers => {
                "spread glue on one face, press between flat cauls, and trim the layers together when it has cured"
                    .into()
            }
            Watch::DriveWedges => {
                "glue the wedges and drive them in turn, a little each, until they sound solid; saw them off flush when \
                 the glue has cured"
                    .into()
            }
            Watch::FoxedForGood => {
                "try the joint dry without its wedges; with them it closes once and does not come apart again".into()
            }
            Watch::FinishFirst => {
                // With a finish of the job it stands beside a step before.
                let first =
                    if self.job.finish.is_some() { "" } else { "finish the piece and the beads first; " };
                format!("{first}pin the beads and do not glue them, so that they come out again")
            }
            Watch::FinishRest => "finish first all that is still bare".into(),
            Watch::PanelDry => "no glue in the groove".into(),
            Watch::PanelMoves => "no glue in the groove: the panel must move".into(),
            Watch::FinishInside { parts } => {
                format!("finish before it comes in: {}", self.names(parts))
            }
            Watch::Squeezed { parts, cuts, finished } => self.squeezed(parts, cuts, *finished),
            Watch::Wind => "lay it flat and sight across it: no wind".into(),
            Watch::Feet => "stand it on a flat surface before the glue sets: it must not rock".into(),
            Watch::TooLong => {
                "longer than the glue stays open: use a slower glue, or glue it in two goes or with a helper".into()
            }
            Watch::FinishHidden { .. } => {
                "finish the inside first, glue faces masked: a brush does not reach it once this is closed".into()
            }
            Watch::Prop { parts } => {
                format!("nothing holds {} yet: prop it until the rest is in", self.names(parts))
            }
            Watch::LongReach(far) => format!(
                "no bar clamp reaches {}: couple two end to end, or draw it together with a band and wedges",
                self.words.figure(*far)
            ),
            Watch::Staged { dry } => {
                let dry = self.names(dry);
                format!(
                    "the glue is not open long enough for more: set {dry} in place dry, to hold this square, and glue it when this has set"
                )
            }
            Watch::TakenOff { parts } => {
                format!("take {} off again, which was set dry", self.names(parts))
            }
            Watch::OnSite => {
                "on site, when the piece stands in its place: scribe to the wall, take the waste off to the line, then fix".into()
            }
            Watch::RunDrawer => {
                "run the drawer in and out first, and set the front by even gaps before it is screwed".into()
            }
            Watch::Heavy { kg, two, taken_off } => {
                let mass = self.words.mass(*kg);
                match (taken_off, two) {
                    (false, _) => format!("about {mass}: two people lift"),
                    (true, true) => format!(
                        "take its doors and drawers off and put them back after: about {mass} without them, two people lift"
                    ),
                    (true, false) => {
                        format!("take its doors and drawers off and put them back after: about {mass} without them")
                    }
                }
            }
        }
    }

    /// Where squeezed glue does harm (common practice, no source).
    fn squeezed(&self, parts: &[usize], cuts: &[CutKind], finished: bool) -> String {
        let kinds: Vec<String> = cuts.iter().map(|kind| kind.name().to_owned()).collect();
        let out = (!parts.is_empty()).then(|| {
            let kinds = and_list(&kinds);
            format!("wipe squeezed glue out of the {kinds} of {} before it sets", self.names(parts))
        });
        let off = finished
            .then(|| "let what squeezes onto finished faces set to a skin, and lift it off".to_owned());
        out.into_iter().chain(off).collect::<Vec<String>>().join("; ")
    }
}
