//! What a joint is called on a sheet, and how a machine is set for it.

mod channels;
mod corners;
mod doors;
mod edge;
mod hanging;
mod inserts;
mod naming;
mod tenons;
mod turning;

pub use naming::Naming;

use super::Words;
use crate::joinery::Facts;
use crate::joinery::facts::bore::Bore;

/// How parts are named in a sentence: by their index in the worked job.
pub(super) type Named<'a> = &'a dyn Fn(usize) -> String;

impl Words {
    /// One line for drawings and steps: `3 loose tenons 8 × 22 × 40`; empty where the
    /// word itself is enough. Parts that differ in a figure are named by `named`.
    pub fn summary(self, facts: &Facts, named: Named<'_>) -> String {
        match facts {
            Facts::Unstated => String::new(),
            Facts::Channels(facts) => channels::summary(self, facts, named),
            Facts::Corners(facts) => corners::summary(self, facts),
            Facts::Doors(facts) => doors::summary(self, facts),
            Facts::Edge(facts) => edge::summary(self, facts),
            Facts::Hanging(facts) => hanging::summary(self, facts),
            Facts::Inserts(facts) => inserts::summary(self, facts),
            Facts::Tenons(facts) => tenons::summary(self, facts),
            Facts::Turning(facts) => turning::summary(self, facts),
        }
    }

    /// One line for the machine: `channel 18 wide, 6 deep`. Parts that differ in
    /// a figure are named by `named`.
    pub fn setting(self, facts: &Facts, named: Named<'_>) -> String {
        match facts {
            Facts::Unstated => String::new(),
            Facts::Channels(facts) => channels::setting(self, facts, named),
            Facts::Corners(facts) => corners::setting(self, facts, named),
            Facts::Doors(facts) => doors::setting(self, facts, named),
            Facts::Edge(facts) => edge::setting(self, facts, named),
            Facts::Hanging(facts) => hanging::setting(self, facts, named),
            Facts::Inserts(facts) => inserts::setting(self, facts, named),
            Facts::Tenons(facts) => tenons::setting(self, facts, named),
            Facts::Turning(facts) => turning::setting(self, facts, named),
        }
    }
}

/// Figures that differ by less than this are one, mm or degrees: less than is shown
/// of them.
const SAME: f64 = 0.005;

/// Whether two figures read as one.
fn alike(a: f64, b: f64) -> bool {
    (a - b).abs() < SAME
}

/// `⌀ 2.8 × 14 mm deep`.
fn bore(words: Words, bore: Bore) -> String {
    format!("⌀ {} × {} deep", words.bit(bore.wide), words.length(bore.deep))
}
