//! Sizes near by that save, in words.

use super::Words;
use crate::cutting::{Nearby, Saved};
use crate::measure::money;
use crate::problem::wording::{and_list, count};

impl Words {
    /// What is changed, and what that saves: `width 880 mm instead of 900 mm`, `saves 1
    /// sheet of Birch plywood, 18 mm thick: 96.00`.
    pub fn nearby(self, near: &Nearby) -> (String, String) {
        let change =
            format!("{} {} instead of {}", near.size, self.length(near.instead), self.length(near.now));
        let saves: Vec<String> = near.saves.iter().map(|saved| self.saved(saved)).collect();
        // Less than a cent is nothing: the layout is another, and the volume the same.
        let worth =
            near.money.filter(|worth| *worth > LEAST_MONEY).map(|worth| format!(": {}", money(worth)));
        (change, format!("saves {}{}", and_list(&saves), worth.unwrap_or_default()))
    }

    fn saved(self, saved: &Saved) -> String {
        let (one, many) = if saved.boards { ("board", "boards") } else { ("sheet", "sheets") };
        let thick = if saved.boards { "sawn" } else { "thick" };
        format!("{} of {}, {} {thick}", count(saved.fewer, one, many), saved.stock, self.length(saved.thick))
    }
}

/// The least sum worth telling.
const LEAST_MONEY: f64 = 0.005;
