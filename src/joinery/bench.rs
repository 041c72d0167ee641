//! What joints see of the job, and what they hand back.

use super::blank::Blank;
use super::fill::Fill;
use super::ties::Tie;
use super::{CutKind, CuttingPlane, Insert, Opening};
use crate::geometry::DVec3;
use crate::measure::{LengthStyle, Unit};
use crate::model::{Job, PartId, Side, StockId, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// One word of the vocabulary and what it does to parts.
pub(super) trait Joinery: Sync {
    /// The word as data.
    fn word(&self) -> &'static Word;

    /// Options of the word that hang on one another.
    fn ties(&self) -> &'static [Tie] {
        &[]
    }

    /// What the blanks of its parts gain or lose before anything is cut.
    fn grow(&self, _bench: &Bench<'_>, _work: &Work) -> Result<Vec<Growth>, Problem> {
        Ok(Vec::new())
    }

    /// Where the parts meet and what is cut from each, in piece coordinates.
    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem>;
}

/// The job with its blanks.
pub(super) struct Bench<'a> {
    /// The job as stated.
    pub(super) job: &'a Job,
    /// Blanks as the script placed them, one for each part.
    pub(super) placed: Vec<Blank>,
    /// Blanks with joints added and lippings taken off; the same as `placed`
    /// while parts grow.
    pub(super) grown: Vec<Blank>,
    /// Lippings, in the order asked for.
    pub(super) lips: Vec<Lip>,
}

/// A lipping: a part that a joint brings.
#[derive(Clone, Debug)]
pub(super) struct Lip {
    /// The part it is glued to.
    pub(super) of: usize,
    /// The side of the piece it looks to.
    pub(super) side: Side,
    /// What it is cut from.
    pub(super) stock: StockId,
    /// Its box.
    pub(super) blank: Blank,
    /// Index into [`Job::works`] of what asked for it.
    pub(super) asked: usize,
}

/// A change of a blank before anything is cut.
#[derive(Clone, Copy, Debug)]
pub(super) struct Growth {
    /// The part.
    pub(super) part: usize,
    /// The face that moves looks this way, piece coordinates.
    pub(super) toward: DVec3,
    /// How far out it moves, mm.
    pub(super) by: f64,
    /// Set where a lipping of this stock takes the place of what goes: `by` is
    /// then negative, and the lipping as thick.
    pub(super) lipping: Option<(Side, StockId)>,
}

/// One joint, in piece coordinates.
#[derive(Clone, Debug, Default)]
pub(super) struct Made {
    /// Parts it relates: indices of parts, then lippings counted on from them.
    pub(super) parts: Vec<usize>,
    /// What is cut.
    pub(super) cuts: Vec<Sawn>,
    /// What is filled in its parts, with the part.
    pub(super) fills: Vec<(usize, Fill)>,
    /// What it needs besides.
    pub(super) inserts: Vec<Insert>,
    /// Directions the second part may come along.
    pub(super) ways_in: Vec<DVec3>,
    /// Glued, or dry.
    pub(super) glued: bool,
    /// One line for drawings.
    pub(super) says: String,
    /// One line for the machine.
    pub(super) setting: String,
    /// The plane a detail shows it by, if the usual one tells little.
    pub(super) shown_by: Option<CuttingPlane>,
    /// How the first part opens, where the joint lets it.
    pub(super) opens: Option<Opening>,
    /// True for shaping of a part itself: no joint is listed.
    pub(super) shaping: bool,
    /// What to look at before cutting; the joint is made all the same.
    pub(super) warnings: Vec<Problem>,
}

/// One cut.
#[derive(Clone, Debug)]
pub(super) struct Sawn {
    /// The part it is cut from.
    pub(super) part: usize,
    /// What it is.
    pub(super) kind: CutKind,
    /// Its shape in piece coordinates.
    pub(super) shape: Prism,
}

impl Bench<'_> {
    /// The part called for argument `arg`, as an index.
    pub(super) fn part(&self, work: &Work, arg: usize) -> Result<usize, Problem> {
        let PartId(i) = work.part(arg).ok_or_else(|| self.nothing(work))?;
        if i < self.placed.len() { Ok(i) } else { Err(self.nothing(work)) }
    }

    /// Two parts that must be of one piece and not the same.
    pub(super) fn pair(&self, work: &Work) -> Result<(usize, usize), Problem> {
        let (a, b) = (self.part(work, 0)?, self.part(work, 1)?);
        self.check_pair(work, a, b)?;
        Ok((a, b))
    }

    /// Refuses a part joined to itself or to one of another piece.
    pub(super) fn check_pair(&self, work: &Work, a: usize, b: usize) -> Result<(), Problem> {
        if a == b {
            let says = format!("`{}` joins `{}` to itself", work.word.name, self.name(a));
            return Err(self.error(work, "joined-to-itself", says, &[a]).help("name two parts"));
        }
        let piece = |i: usize| self.job.parts.get(i).map(|p| p.piece);
        if piece(a) == piece(b) {
            return Ok(());
        }
        let says = format!("`{}` and `{}` belong to different pieces", self.name(a), self.name(b));
        Err(self.error(work, "different-pieces", says, &[a, b]).help("join parts of one piece"))
    }

    /// Name of a part.
    pub(super) fn name(&self, part: usize) -> &str {
        self.job.parts.get(part).map_or("part", |p| p.name.as_str())
    }

    /// A length with its unit, as the job shows lengths.
    pub(super) fn mm(&self, length: f64) -> String {
        LengthStyle::of(self.job.unit).text(length)
    }

    /// A length without its unit.
    pub(super) fn figure(&self, length: f64) -> String {
        let text = self.mm(length);
        text.strip_suffix(" mm").unwrap_or(&text).to_owned()
    }

    /// The sizes something is bought by, `4.5 × 30`: in inches where all are whole
    /// fractions of one, else as it is sold, in millimetres: a screw of 4.5 mm is
    /// not to be had as one of 3/16 in.
    pub(super) fn bought(&self, sizes: &[f64]) -> String {
        let own = LengthStyle::of(self.job.unit);
        let metric = own.unit == Unit::Mm;
        let style = if sizes.iter().any(|size| own.show(*size).rounded) { LengthStyle::MM } else { own };
        let figures: Vec<String> = sizes.iter().map(|size| style.show(*size).to_string()).collect();
        let unit = if style.unit == Unit::Mm && !metric { " mm" } else { "" };
        format!("{}{unit}", figures.join(" × "))
    }

    /// An error of one work about some parts.
    pub(super) fn error(&self, work: &Work, code: &'static str, says: String, parts: &[usize]) -> Problem {
        parts.iter().fold(Problem::error(code, says).at(work.origin), |p, i| p.part(self.name(*i)))
    }

    /// A warning of one work about some parts.
    pub(super) fn warning(&self, work: &Work, code: &'static str, says: String, parts: &[usize]) -> Problem {
        parts.iter().fold(Problem::warning(code, says).at(work.origin), |p, i| p.part(self.name(*i)))
    }

    /// A work without the parts its word needs.
    fn nothing(&self, work: &Work) -> Problem {
        let says = format!("`{}` is given no part to work on", work.word.name);
        self.error(work, "missing-argument", says, &[]).help("give it a part, or a list with parts in it")
    }
}
