//! The seam of an edge or end of one board against another, along which a
//! tongue runs.

use super::blank::Blank;
use super::corner;
use super::cut_kind::CutKind;
use super::made::Sawn;
use super::meet::{Meeting, Pair, TOUCH, front_part};
use super::pocket::third;
use super::seen::Bench;
use super::tolerance::{ASKEW, NOISE};
use crate::geometry::{DVec3, Interval, Placement};
use crate::model::{OptionKind, OptionSpec, Usual, Work};
use crate::problem::Problem;
use crate::solid::Prism;
use corner::BEYOND;

/// Least wood beside and behind a tongue or its groove, mm (common practice, no
/// source).
pub(in crate::joinery) const CHEEK: f64 = 2.0;

/// The option that moves a tongue out of the middle.
pub(in crate::joinery) const OFFSET: OptionSpec = OptionSpec {
    key: "offset",
    kind: OptionKind::Length { min: 0.0, max: 300.0 },
    default: &[Usual::Length(0.0), Usual::Words(": in the middle of where the boards meet")],
    says: "how far from the middle the tongue stands, towards the side `toward`",
};
/// Which way it is moved.
pub(in crate::joinery) const TOWARD: OptionSpec = OptionSpec {
    key: "toward",
    kind: OptionKind::Side,
    default: &[Usual::Words("needed with `offset`")],
    says: "the side of the piece the tongue is moved to",
};

/// Whether the boards stay free.
pub(in crate::joinery) const DRY: OptionSpec = OptionSpec {
    key: "dry",
    kind: OptionKind::YesNo,
    default: &[Usual::YesNo(false), Usual::Words(": glued")],
    says: "left without glue, so that the boards can move",
};

/// Where two boards meet, and the tongue between them.
#[derive(Clone, Copy, Debug)]
pub(in crate::joinery) struct Seam {
    /// How they stand to one another.
    pub(in crate::joinery) m: Meeting,
    /// Along the seam, from front, bottom or left.
    pub(in crate::joinery) run: DVec3,
    /// Through the thickness of the first board.
    pub(in crate::joinery) across: DVec3,
    /// The stretch both share along `run`.
    pub(in crate::joinery) along: Interval,
    /// The stretch both share along `across`.
    pub(in crate::joinery) shared: Interval,
}

/// The seam of two boards; errors where none of the first's edges or ends
/// stands against the second.
pub(in crate::joinery) fn seam(bench: &Bench<'_>, work: &Work, a: usize, b: usize) -> Result<Seam, Problem> {
    bench.stand_square(work, Pair { a, b }, &format!("`{}` is cut square to the edge", work.word.name))?;
    let m = bench.touching(work, a, b)?;
    let (first, second) = (&bench.grown[a], &bench.grown[b]);
    let across = first.at.z;
    if across.dot(m.normal).abs() > 0.5 {
        let message =
            format!("`{}` meets `{}` with its face, not with an edge or end", bench.name(a), bench.name(b));
        return Err(bench
            .error(work, "no-such-edge", message, &[a, b])
            .help(format!("name the board first whose edge stands against the other: `{}`", bench.name(b))));
    }
    let run = m.normal.cross(across);
    // From the front, bottom or left, whichever board is named first: stops and rows
    // are then told from the end the maker stands at.
    let run = if front_part(run) < 0.0 { -run } else { run };
    let both = |way: DVec3| first.span(way).common(second.span(way));
    let (along, shared) = (both(run), both(across));
    if along.length() < TOUCH || shared.length() < TOUCH {
        let message =
            format!("`{}` and `{}` meet only along an edge or a corner", bench.name(a), bench.name(b));
        return Err(bench
            .error(work, "parts-do-not-meet", message, &[a, b])
            .help("let a whole edge of one stand against the other, square to it"));
    }
    Ok(Seam { m, run, across, along, shared })
}

/// Where a groove lies in a seam, from and to, mm.
#[derive(Clone, Copy, Debug)]
pub(in crate::joinery) struct GrooveAt {
    /// Along the seam.
    pub(in crate::joinery) stretch: Interval,
    /// Its sides across the seam, those of the tongue.
    pub(in crate::joinery) tongue: Interval,
    /// Out of the first board.
    pub(in crate::joinery) deep: Interval,
}

impl Seam {
    /// Thickness that both boards share, mm.
    pub(in crate::joinery) fn thick(&self) -> f64 {
        self.shared.length()
    }

    /// The two sides of a tongue `thick` along `across`, moved as `offset` asks;
    /// an error where it leaves no cheek beside it.
    pub(in crate::joinery) fn tongue(
        &self,
        bench: &Bench<'_>,
        work: &Work,
        thick: f64,
        (a, b): (usize, usize),
    ) -> Result<Interval, Problem> {
        let offset = work.options.number("offset").unwrap_or(0.0);
        let side = work.options.sides("toward").and_then(|s| s.first().copied());
        let lean = side.map_or(0.0, |s| s.normal().dot(self.across));
        if offset > 0.0 && lean.abs() < ASKEW {
            let help = "name a side in `toward` that a face of the board looks to";
            let message = format!("an offset of {} does not say towards which face", bench.mm(offset));
            return Err(bench.error(work, "missing-option", message, &[a, b]).help(help));
        }
        // Of `toward` only the sign counts: it says which side, `offset` says how far.
        let middle = self.shared.middle() + if offset > 0.0 { offset * lean.signum() } else { 0.0 };
        let tongue = Interval { from: middle - 0.5 * thick, to: middle + 0.5 * thick };
        let cheek = (tongue.from - self.shared.from).min(self.shared.to - tongue.to);
        if cheek > CHEEK - NOISE {
            return Ok(tongue);
        }
        let message = format!(
            "a tongue {} thick leaves {} beside it where `{}` and `{}` meet on {}",
            bench.mm(thick),
            bench.mm(cheek.max(0.0)),
            bench.name(a),
            bench.name(b),
            bench.mm(self.thick())
        );
        // The tongue grows at both sides of its middle, so an offset costs twice.
        let most = self.thick() - 2.0 * CHEEK - 2.0 * offset;
        let help = if most > CHEEK {
            format!(
                "make it at most {}; a third of the thickness is {}",
                bench.mm(most),
                bench.mm(third(self.thick()))
            )
        } else {
            "make `offset` less, or use thicker boards".into()
        };
        Err(bench.error(work, "breaks-through", message, &[a, b]).help(help))
    }

    /// A box between two places along the seam, two across it, and two out of
    /// the second board's face (`deep`, negative into the second).
    pub(in crate::joinery) fn block(&self, along: Interval, across: Interval, deep: Interval) -> Prism {
        let at = Placement {
            origin: DVec3::ZERO,
            x: self.run,
            y: self.m.normal,
            z: self.run.cross(self.m.normal),
        };
        let turned = at.z.dot(self.across) < 0.0;
        let z = if turned { across.turned() } else { across };
        let min = DVec3::new(along.from, self.m.face + deep.from, z.from);
        let max = DVec3::new(along.to, self.m.face + deep.to, z.to);
        Prism::block(at, min, max)
    }

    /// The shared stretch along the seam, reaching out where `part` ends with it.
    pub(in crate::joinery) fn stretch(&self, part: &Blank) -> Interval {
        let (lo, hi) = part.reach(self.run);
        // Where the board ends with the seam its groove runs out, and no web is left
        // standing.
        let low = if lo > self.along.from - TOUCH { BEYOND } else { 0.0 };
        let high = if hi < self.along.to + TOUCH { BEYOND } else { 0.0 };
        Interval { from: self.along.from - low, to: self.along.to + high }
    }

    /// A groove in a board, `deep` of it: a problem if that goes through.
    pub(in crate::joinery) fn groove(
        &self,
        bench: &Bench<'_>,
        work: &Work,
        part: usize,
        at: GrooveAt,
    ) -> Result<Sawn, Problem> {
        let GrooveAt { stretch, tongue, deep } = at;
        // The cut reaches out past the face; no fence or bit is set to that.
        let depth = deep.length() - BEYOND;
        let (lo, hi) = bench.grown[part].reach(self.m.normal);
        if depth < hi - lo - CHEEK + NOISE {
            let shape = self.block(stretch, tongue, deep);
            return Ok(Sawn { part, kind: CutKind::Groove, shape });
        }
        let message = format!(
            "a groove {} deep goes through `{}`, which is {} there",
            bench.mm(depth),
            bench.name(part),
            bench.mm(hi - lo)
        );
        let help =
            format!("at most {} leaves {} behind it", bench.mm((hi - lo - CHEEK).max(0.0)), bench.mm(CHEEK));
        Err(bench.error(work, "breaks-through", message, &[part]).help(help))
    }

    /// Ways the second board may come: straight on, and along the seam where
    /// its groove is open.
    pub(in crate::joinery) fn ways_in(&self, second: &Blank, stopped: bool) -> Vec<DVec3> {
        let mut ways = vec![self.m.normal];
        let (lo, hi) = second.reach(self.run);
        if !stopped && hi < self.along.to + TOUCH {
            ways.push(self.run);
        }
        if !stopped && lo > self.along.from - TOUCH {
            ways.push(-self.run);
        }
        ways
    }
}
