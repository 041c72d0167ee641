//! What a word does to parts, and what it hands back.

use super::cut_kind::CutKind;
use super::fill::Fill;
use super::opening::Opening;
use super::seen::Bench;
use super::takes::Tie;
use super::worked::{CuttingPlane, Insert};
use crate::geometry::DVec3;
use crate::joinery::facts::Facts;
use crate::joinery::facts::traits::Traits;
use crate::joinery::meeting::trim::Trim;
use crate::model::{Part, Side, StockId, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// One word of the vocabulary and what it does to parts.
pub(in crate::joinery) trait Joinery: Sync {
    /// The word as data.
    fn word(&self) -> &'static Word;

    /// What later stages may ask of its joints.
    fn traits(&self) -> Traits {
        Traits::default()
    }

    /// Options of the word that hang on one another.
    fn ties(&self) -> &'static [Tie] {
        &[]
    }

    /// Parts it makes itself, of the boards of the job: they stand as its last part
    /// argument when it is worked. Blanks are laid out without them by then.
    fn bring(&self, _bench: &Bench<'_>, _work: &Work) -> Result<Vec<Part>, Problem> {
        Ok(Vec::new())
    }

    /// Whether what it cuts gives a part faces that others are joined on: outlines,
    /// slopes, sawn ends.
    fn shapes(&self) -> bool {
        false
    }

    /// Ends that are sawn to a neighbour before anything else is done.
    fn trims(&self, _bench: &Bench<'_>, _work: &Work) -> Result<Vec<Trim>, Problem> {
        Ok(Vec::new())
    }

    /// What the blanks of its parts gain or lose before anything is cut.
    fn grow(&self, _bench: &Bench<'_>, _work: &Work) -> Result<Vec<Growth>, Problem> {
        Ok(Vec::new())
    }

    /// Where the parts meet and what is cut from each, in piece coordinates.
    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem>;
}

/// A change of a blank before anything is cut.
#[derive(Clone, Copy, Debug)]
pub(in crate::joinery) struct Growth {
    /// The part.
    pub(in crate::joinery) part: usize,
    /// The face that moves looks this way, piece coordinates.
    pub(in crate::joinery) toward: DVec3,
    /// How far out it moves, mm.
    pub(in crate::joinery) by: f64,
    /// Set where a lipping of this stock takes the place of what goes: `by` is
    /// then negative, and the lipping as thick.
    pub(in crate::joinery) lipping: Option<(Side, StockId)>,
}

/// One joint, in piece coordinates.
#[derive(Clone, Debug, Default)]
pub(in crate::joinery) struct Made {
    /// Parts it relates: indices of parts, then lippings counted on from them.
    pub(in crate::joinery) parts: Vec<usize>,
    /// What is cut.
    pub(in crate::joinery) cuts: Vec<Sawn>,
    /// What is filled in its parts, with the part.
    pub(in crate::joinery) fills: Vec<(usize, Fill)>,
    /// What it needs besides.
    pub(in crate::joinery) inserts: Vec<Insert>,
    /// Directions the second part may come along.
    pub(in crate::joinery) ways_in: Vec<DVec3>,
    /// Glued, or dry.
    pub(in crate::joinery) glued: bool,
    /// What it is, in figures.
    pub(in crate::joinery) facts: Facts,
    /// The plane a detail shows it by, if the usual one tells little.
    pub(in crate::joinery) shown_by: Option<CuttingPlane>,
    /// How the first part opens, where the joint lets it.
    pub(in crate::joinery) opens: Option<Opening>,
    /// True for shaping of a part itself: no joint is listed.
    pub(in crate::joinery) shaping: bool,
    /// What to look at before cutting; the joint is made all the same.
    pub(in crate::joinery) warnings: Vec<Problem>,
}

/// One cut.
#[derive(Clone, Debug)]
pub(in crate::joinery) struct Sawn {
    /// The part it is cut from.
    pub(in crate::joinery) part: usize,
    /// What it is.
    pub(in crate::joinery) kind: CutKind,
    /// Its shape in piece coordinates.
    pub(in crate::joinery) shape: Prism,
}
