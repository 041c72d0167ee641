//! In words: the lists of the shop, with remarks of the cutting list and lines of the
//! order.

use super::Words;
use crate::cutting::{Bought, CutRow, EndCuts, Inlaid, InlayKind, LaterCut, Note};
use crate::measure::number;
use crate::problem::wording::{capital, count};

/// Two slopes nearer than this are one, degrees: half of what is shown.
const SAME_SLOPE: f64 = 0.05;

/// Steps of a degree that slopes are shown in.
const TENTHS: f64 = 10.0;

impl Words {
    /// The remark column of a row: sloping ends, cuts that wait, what is
    /// inlaid, what is for the chuck, the remark of the script.
    pub fn remarks(self, row: &CutRow) -> String {
        let mut all: Vec<String> = Vec::new();
        all.extend(row.ends.as_ref().map(|ends| self.ends(ends)));
        all.extend(row.staves.map(|staves| self.staved(staves, row.width)));
        all.extend(row.after_glue_up.iter().map(|cut| self.later(*cut)));
        all.extend(row.inlaid.iter().map(|inlaid| self.inlaid(inlaid)));
        let chuck = |more| format!("{} of its rough length to chuck it", self.figure(more));
        all.extend(row.chucking.map(chuck));
        all.extend(row.remark.clone());
        all.join("; ")
    }

    /// `glued up of 5 boards 144 wide`.
    pub fn staved(self, staves: usize, width: f64) -> String {
        format!("glued up of {staves} boards {} wide", self.figure(width / staves as f64))
    }

    /// `rebate after glue-up`.
    pub fn later(self, cut: LaterCut) -> String {
        format!("{} after glue-up", cut.name())
    }

    /// `45° both ends, long point 900, short point 864`.
    fn ends(self, ends: &EndCuts) -> String {
        let slope = |angle: f64| format!("{}°", (angle * TENTHS).round() / TENTHS);
        let which = match (ends.near, ends.far) {
            (Some(a), Some(b)) if (a - b).abs() < SAME_SLOPE => format!("{} both ends", slope(a)),
            (Some(a), Some(b)) => format!("{} near end, {} far end", slope(a), slope(b)),
            (Some(a), None) => format!("{} near end", slope(a)),
            (None, Some(b)) => format!("{} far end", slope(b)),
            (None, None) => return String::new(),
        };
        let (long, short) = (self.figure(ends.long_point), self.figure(ends.short_point));
        format!("{which}, long point {long}, short point {short}")
    }

    /// `2 rings 6 wide, 3 deep, black resin`.
    fn inlaid(self, inlaid: &Inlaid) -> String {
        let (width, depth) = (self.figure(inlaid.width), self.figure(inlaid.depth));
        let (many, size) = match inlaid.kind {
            InlayKind::Ring => (count(inlaid.count, "ring", "rings"), format!("{width} wide, {depth} deep")),
            InlayKind::Hollow => {
                (count(inlaid.count, "hollow", "hollows"), format!("⌀ {width}, {depth} deep"))
            }
        };
        format!("{many} {size}, {}", inlaid.what)
    }

    /// What a line of the order is.
    pub fn goods(self, what: &Bought) -> String {
        match what {
            Bought::Stock(name) | Bought::Finish(name) => name.clone(),
            Bought::Fitting(item) => self.item(item),
            Bought::Ready { stock, mark, name } => format!("{stock} for {mark} {name}"),
            Bought::Glue => "Wood glue".into(),
            Bought::Filling(what) => format!("{}, to inlay", capital(what)),
            Bought::Disc { grit } => format!("disc Ø 150 mm, grit {grit}"),
            Bought::RubbingSheet { grit } => format!("sheet 230 × 280 mm, grit {grit}, between coats"),
        }
    }

    /// How the quantity of a line of the order comes about.
    pub fn note(self, note: Option<&Note>) -> String {
        match note {
            None => String::new(),
            Some(Note::Boards { feet, waste, about }) => {
                let about = about.map(|(count, size)| self.about(count, size)).unwrap_or_default();
                format!("{} board feet; {} % waste in it{about}", number(*feet, 1), number(*waste, 1))
            }
            Some(Note::Glued { area, spread }) => {
                format!("{} m² of joints at {} g/m²", number(*area, 2), number(*spread, 0))
            }
            Some(Note::Coats { area, coats, coverage }) => {
                let coats = count(*coats as usize, "coat", "coats");
                let covers = match coverage {
                    Some(coverage) => format!(" at {} m² a litre", number(*coverage, 1)),
                    None => "; by what its maker says a litre covers".into(),
                };
                format!("{} m², {coats}{covers}", number(*area, 2))
            }
            Some(Note::Sanded { area, each }) => {
                format!("{} m², one for each {} m²", number(*area, 2), number(*each, 2))
            }
            Some(Note::Inlays { count: n, volume, waste, density, stated }) => {
                let inlays = count(*n, "inlay", "inlays");
                let memory = if *stated { "" } else { " from memory" };
                let weighed = density.map(|density| format!("; {} kg/m³{memory}", number(density, 0)));
                format!(
                    "{inlays}, {} cm³; {} % waste in it{}",
                    number(*volume, 1),
                    number(*waste, 1),
                    weighed.unwrap_or_default()
                )
            }
        }
    }

    /// `; about 5 of 2400 mm × 150 mm`.
    fn about(self, count: f64, [length, width]: [f64; 2]) -> String {
        format!("; about {} of {} × {}", number(count, 0), self.length(length), self.length(width))
    }
}
