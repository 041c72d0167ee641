//! What joints see of the job, and what they hand back.

use super::blank::Blank;
use super::pocket::SLACK;
use crate::geometry::Plane;
use crate::joinery::meeting::real::Real;
use crate::joinery::meeting::trim::Trim;
use crate::measure::{LengthStyle, Unit, in_script, near};
use crate::model::{Job, PartId, Side, Stock, StockId, StockKind, Work};
use crate::problem::Problem;
use crate::timber::Species;
use crate::timber::numbered::{Drills, drills, gauged_instead_of, instead_of};
use crate::timber::screws::SOFT;

/// The job with its blanks.
pub(in crate::joinery) struct Bench<'a> {
    /// The job as stated.
    pub(in crate::joinery) job: &'a Job,
    /// Blanks as the script placed them, one for each part.
    pub(in crate::joinery) placed: Vec<Blank>,
    /// Blanks with joints added and lippings taken off; the same as `placed`
    /// while parts grow.
    pub(in crate::joinery) grown: Vec<Blank>,
    /// Lippings, in the order asked for.
    pub(in crate::joinery) lips: Vec<Lip>,
    /// Parts that are shaped or sawn to a neighbour, as they are; `None` for boxes.
    pub(in crate::joinery) real: Vec<Option<Real>>,
    /// Ends sawn to a neighbour, in the order asked for.
    pub(in crate::joinery) trims: Vec<Trim>,
}

/// A lipping: a part that a joint brings.
#[derive(Clone, Debug)]
pub(in crate::joinery) struct Lip {
    /// The part it is glued to.
    pub(in crate::joinery) of: usize,
    /// The side of the piece it looks to.
    pub(in crate::joinery) side: Side,
    /// What it is cut from.
    pub(in crate::joinery) stock: StockId,
    /// Its box.
    pub(in crate::joinery) blank: Blank,
    /// The sloping edge it lies along, where that is none of the panel's box.
    pub(in crate::joinery) slope: Option<Plane>,
    /// Index into [`Job::works`] of what asked for it.
    pub(in crate::joinery) asked: usize,
}

impl Bench<'_> {
    /// The part called for argument `arg`, as an index.
    pub(in crate::joinery) fn part(&self, work: &Work, arg: usize) -> Result<usize, Problem> {
        let PartId(i) = work.part(arg).ok_or_else(|| self.nothing(work))?;
        // A number without a part is as good as none: the script is told so in place of
        // a panic.
        if i < self.placed.len() { Ok(i) } else { Err(self.nothing(work)) }
    }

    /// Two parts that must be of one piece and not the same.
    pub(in crate::joinery) fn pair(&self, work: &Work) -> Result<(usize, usize), Problem> {
        let (a, b) = (self.part(work, 0)?, self.part(work, 1)?);
        self.check_pair(work, a, b)?;
        Ok((a, b))
    }

    /// Refuses a part joined to itself or to one of another piece.
    pub(in crate::joinery) fn check_pair(&self, work: &Work, a: usize, b: usize) -> Result<(), Problem> {
        if a == b {
            let message = format!("`{}` joins `{}` to itself", work.word.name, self.name(a));
            return Err(self.error(work, "joined-to-itself", message, &[a]).help("name two parts"));
        }
        // Pieces may be drawn where they overlap, so coordinates alone do not say that
        // parts belong together.
        let piece = |i: usize| self.job.parts.get(i).map(|p| p.piece);
        if piece(a) == piece(b) {
            return Ok(());
        }
        let message = format!("`{}` and `{}` belong to different pieces", self.name(a), self.name(b));
        Err(self.error(work, "different-pieces", message, &[a, b]).help("join parts of one piece"))
    }

    /// Name of a part.
    pub(in crate::joinery) fn name(&self, part: usize) -> &str {
        self.job.parts.get(part).map_or("part", |p| p.name.as_str())
    }

    /// A length with its unit, as the job shows lengths.
    pub(in crate::joinery) fn mm(&self, length: f64) -> String {
        LengthStyle::of(self.job.unit).text(length)
    }

    /// A length as a script of the job has it, to be copied.
    pub(in crate::joinery) fn in_script(&self, length: f64) -> String {
        in_script(self.job.unit, length)
    }

    /// The same of one length held against another, finer where both would read alike.
    pub(in crate::joinery) fn beside(&self, length: f64, other: f64) -> String {
        LengthStyle::of(self.job.unit).beside(length, other)
    }

    /// The holes for a screw of a diameter that goes into a part, mm.
    pub(in crate::joinery) fn drills(&self, part: usize, wide: f64) -> Drills {
        let stock = self.job.parts.get(part).and_then(|part| self.job.stock.get(part.stock.0));
        drills(wide, wood(stock).0)
    }

    /// The screw that is usual where none is asked for, diameter and length, mm: in a job
    /// in inches one that is sold by its number.
    pub(in crate::joinery) fn usual_screw(&self, metric: (f64, f64)) -> (f64, f64) {
        if self.job.unit == Unit::Inch { instead_of(metric) } else { metric }
    }

    /// The pin that is usual where none is asked for, diameter and length, mm: in a job in
    /// inches one that is sold by its gauge.
    pub(in crate::joinery) fn usual_pin(&self, metric: (f64, f64)) -> (f64, f64) {
        if self.job.unit == Unit::Inch { gauged_instead_of(metric) } else { metric }
    }

    /// A length that the work asks for, or the usual one as a shop of the job's unit sets it
    /// out, mm.
    pub(in crate::joinery) fn length(&self, work: &Work, key: &str, usual: f64) -> f64 {
        work.options.number(key).unwrap_or_else(|| self.own(usual))
    }

    /// Two lengths that the work asks for, or the usual ones, mm.
    pub(in crate::joinery) fn two(&self, work: &Work, key: &str, usual: (f64, f64)) -> (f64, f64) {
        work.options.pair(key).unwrap_or_else(|| (self.own(usual.0), self.own(usual.1)))
    }

    /// A length told in millimetres as a shop of the job's unit sets it out, mm.
    pub(in crate::joinery) fn own(&self, mm: f64) -> f64 {
        near(self.job.unit, mm)
    }

    /// Room left beyond what stands in a channel, mm, as the work asks or as is usual.
    pub(in crate::joinery) fn slack(&self, work: &Work) -> f64 {
        self.length(work, "slack", SLACK)
    }

    /// A length without its unit.
    pub(in crate::joinery) fn figure(&self, length: f64) -> String {
        let text = self.mm(length);
        text.strip_suffix(" mm").unwrap_or(&text).to_owned()
    }

    /// The sizes something is bought by, `4.5 × 30`: in inches where all are whole
    /// fractions of one, else as it is sold, in millimetres: a screw of 4.5 mm is
    /// not to be had as one of 3/16 in.
    pub(in crate::joinery) fn bought(&self, sizes: &[f64]) -> String {
        let own = LengthStyle::of(self.job.unit);
        let metric = own.unit == Unit::Mm;
        let style = if sizes.iter().any(|size| own.show(*size).rounded) { LengthStyle::MM } else { own };
        let figures: Vec<String> = sizes.iter().map(|size| style.show(*size).to_string()).collect();
        let unit = if style.unit == Unit::Mm && !metric { " mm" } else { "" };
        format!("{}{unit}", figures.join(" × "))
    }

    /// An error of one work about some parts.
    pub(in crate::joinery) fn error(
        &self,
        work: &Work,
        code: &'static str,
        message: String,
        parts: &[usize],
    ) -> Problem {
        parts.iter().fold(Problem::error(code, message).at(work.origin), |p, i| p.part(self.name(*i)))
    }

    /// A warning of one work about some parts.
    pub(in crate::joinery) fn warning(
        &self,
        work: &Work,
        code: &'static str,
        message: String,
        parts: &[usize],
    ) -> Problem {
        parts.iter().fold(Problem::warning(code, message).at(work.origin), |p, i| p.part(self.name(*i)))
    }

    /// A work without the parts its word needs.
    fn nothing(&self, work: &Work) -> Problem {
        let message = format!("`{}` is given no part to work on", work.word.name);
        self.error(work, "missing-argument", message, &[]).help("give it a part, or a list with parts in it")
    }
}

/// Specific gravity of a stock, and whether it is softwood.
pub fn wood(stock: Option<&Stock>) -> (f64, bool) {
    let species = stock.and_then(|stock| match &stock.kind {
        StockKind::Board { species, .. } | StockKind::Blank { species, .. } => {
            species.as_deref().and_then(Species::named)
        }
        _ => None,
    });
    species.map_or((SOFT, false), |species| (species.gravity, species.softwood()))
}
