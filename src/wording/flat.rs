//! What stands beside a flat part that another machine is to cut.

use super::Words;
use crate::joinery::CutKind;
use crate::model::Face;
use crate::problem::wording::count;

impl Words {
    /// Which face of a part is seen: `seen on the marked face, edge mark above`.
    pub fn flat_face(self, face: Face) -> String {
        match face {
            Face::Back => "seen on the back, edge mark below".into(),
            _ => "seen on the marked face, edge mark above".into(),
        }
    }

    /// How many are made, of what: `2 off, Birch plywood, 18 mm thick`.
    pub fn flat_stock(self, off: u32, stock: &str, thick: f64) -> String {
        format!("{off} off, {stock}, {} thick", self.length(thick))
    }

    /// Cuts that a flat drawing cannot show: `not in this file: 4 cuts (dowel hole)`.
    pub fn not_flat(self, kind: CutKind, cuts: usize, later: bool) -> String {
        let after = if later { ", after the glue-up" } else { "" };
        format!(
            "not in this file{after}: {} ({}); see its part sheet",
            count(cuts, "cut", "cuts"),
            kind.name()
        )
    }
}
