//! Twin tenons, and pegs across a tenon that hold it or draw it home.

use super::tenon_size::Tenon;
use crate::geometry::{Interval, Placement};
use crate::joinery::bench::corner::stock;
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Made, Sawn};
use crate::joinery::bench::meet::Pair;
use crate::joinery::bench::pocket::{WALL, third};
use crate::joinery::bench::row::{Ends, SetOut};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::NOISE;
use crate::joinery::bench::worked::Insert;
use crate::joinery::facts::item::{Wooden, sizes};
use crate::joinery::facts::tenons::Pegs;
use crate::joinery::hanging::hanging_cleat::rod;
use crate::model::{OptionKind, OptionSpec, Usual, Work};
use crate::problem::{Problem, wording};
use crate::solid::Prism;

/// The option `twin`.
pub(in crate::joinery) const TWIN: OptionSpec = OptionSpec {
    key: "twin",
    kind: OptionKind::YesNo,
    default: &[Usual::YesNo(false), Usual::Words(": one tenon")],
    says: "cuts two tenons side by side, as far apart as each is thick; each is then the chisel nearest a fifth \
           of the thinner part",
};

/// The option `pegs`.
pub(in crate::joinery) const PEGS: OptionSpec = OptionSpec {
    key: "pegs",
    kind: OptionKind::Count { min: 1, max: 6 },
    default: &[Usual::Words("no pegs")],
    says: "how many pegs go across the tenon, right through the second part",
};

/// The option `peg`.
pub(in crate::joinery) const PEG: OptionSpec = OptionSpec {
    key: "peg",
    kind: OptionKind::Length { min: 3.0, max: 25.0 },
    default: &[
        Usual::Length(PEG_SIZE),
        Usual::Words(", "),
        Usual::Bare(THIN_PEG),
        Usual::Words(" where the tenon is under "),
        Usual::Bare(NARROW),
        Usual::Words(" wide"),
    ],
    says: "diameter of the pegs",
};

/// The option `drawbore`.
pub(in crate::joinery) const DRAWBORE: OptionSpec = OptionSpec {
    key: "drawbore",
    kind: OptionKind::Length { min: 0.0, max: 3.0 },
    default: &[Usual::Length(0.0), Usual::Words(": the holes are in line")],
    says: "how much nearer the shoulder the holes in the tenon are, so that the pegs draw it home",
};

/// A tenon narrower than this takes thinner pegs, mm (common practice, no source).
const NARROW: f64 = 40.0;

/// Diameters of the usual pegs: in a tenon narrower than that, and in others, mm.
const THIN_PEG: f64 = 6.0;
/// See `THIN_PEG`.
const PEG_SIZE: f64 = 8.0;
/// How many diameters from the shoulder a peg goes in at least (common practice, no
/// source).
const INSET: f64 = 1.5;
/// Most that holes are out of line, as a share of the diameter.
const BENDS: f64 = 0.25;

/// How large a tenon is that pegs go across, mm.
pub(in crate::joinery) struct TenonSize {
    /// Along the mortise.
    pub(in crate::joinery) wide: f64,
    /// From its shoulders to its end, along it.
    pub(in crate::joinery) deep: f64,
}

/// The pegs across a tenon, mm.
pub(in crate::joinery) struct Row {
    count: u32,
    /// Diameter.
    pub(in crate::joinery) thick: f64,
    /// How much nearer the shoulder the tenon's holes are.
    pub(in crate::joinery) draw: f64,
    /// From the shoulder.
    pub(in crate::joinery) inset: f64,
}

impl Row {
    /// Places along a tenon `wide`, from its middle: each peg in the middle of its share.
    pub(in crate::joinery) fn places(&self, bench: &Bench<'_>, wide: f64) -> Vec<f64> {
        SetOut { length: wide, count: self.count, ends: Ends::Shares, apart: self.thick }.places(bench)
    }

    /// The pegs as an item of the rail's wood, where they sit.
    pub(in crate::joinery) fn listed(
        &self,
        bench: &Bench<'_>,
        rail: usize,
        long: f64,
        at: Vec<Placement>,
    ) -> Insert {
        let wood = stock(bench, rail).map(|s| s.name.clone());
        let item = Wooden::Peg(sizes([self.thick, long]), wood).into();
        Insert { item, at, body: Some(rod(self.thick, long)) }
    }

    /// What is said of them.
    pub(in crate::joinery) fn facts(&self) -> Pegs {
        let draw = (self.draw > 0.0).then_some(self.draw);
        Pegs { count: self.count as usize, thick: self.thick, inset: self.inset, draw }
    }
}

impl Tenon {
    /// From and to of each tenon along `across`.
    pub(in crate::joinery) fn cheeks(&self) -> Vec<Interval> {
        match self.between {
            Some(between) => vec![
                Interval { from: self.thick.from, to: between.from },
                Interval { from: between.to, to: self.thick.to },
            ],
            None => vec![self.thick],
        }
    }

    /// How thick one tenon is, mm.
    pub(in crate::joinery) fn one_thick(&self) -> f64 {
        self.cheeks().first().map_or(0.0, |cheek| cheek.length())
    }
}

/// Bores for the pegs a joint asks for and lists them; `None` if it asks for none.
pub(in crate::joinery) fn pegged(
    bench: &Bench<'_>,
    work: &Work,
    tenon: &Tenon,
    pair: Pair,
    made: &mut Made,
) -> Result<Option<Pegs>, Problem> {
    let size = TenonSize { wide: tenon.wide.length(), deep: tenon.depth };
    let Some(pegs) = row_of(bench, work, &size, pair)? else { return Ok(None) };
    let Pair { a: rail, b: member } = pair;
    let Row { thick, draw, inset, .. } = pegs;
    let mut at = Vec::new();
    let whole = bench.placed[member].reach(tenon.across);
    let over = bench.placed[rail].reach(tenon.across);
    let middle = tenon.wide.middle();
    for place in pegs.places(bench, size.wide) {
        let along = middle + place;
        let on = |out: f64, across: f64| tenon.out * out + tenon.along * along + tenon.across * across;
        let sunk = tenon.face - inset;
        // The tenon's hole is nearer the shoulder by the draw: the peg, driven through
        // both, pulls it home.
        let bores = [(member, on(sunk, whole.0), whole), (rail, on(sunk + draw, over.0), over)];
        for (part, start, (from, to)) in bores {
            let shape = Prism::hole(start, tenon.across, to - from, thick);
            made.cuts.extend(shape.map(|shape| Sawn { part, kind: CutKind::PegHole, shape }));
        }
        at.extend(Placement::looking(on(sunk, whole.0), tenon.across, tenon.along));
    }
    made.inserts.push(pegs.listed(bench, rail, whole.1 - whole.0, at));
    Ok(Some(pegs.facts()))
}

/// The pegs asked for across a tenon; `None` if none are.
pub(in crate::joinery) fn row_of(
    bench: &Bench<'_>,
    work: &Work,
    size: &TenonSize,
    pair: Pair,
) -> Result<Option<Row>, Problem> {
    let Some(count) = work.options.count("pegs") else {
        return stray(bench, work, &pair.parts()).map_or(Ok(None), Err);
    };
    let pegs = row(work, size, count);
    room(bench, work, size, pair, &pegs)?;
    Ok(Some(pegs))
}

/// Options of pegs where there are none.
fn stray(bench: &Bench<'_>, work: &Work, parts: &[usize]) -> Option<Problem> {
    let key = ["peg", "drawbore"].into_iter().find(|key| work.options.number(key).is_some())?;
    let message = format!("`{key}` is given, but there are no pegs");
    Some(bench.error(work, "missing-option", message, parts).help("add `pegs` with how many there are"))
}

/// The pegs asked for, or the usual ones.
fn row(work: &Work, size: &TenonSize, count: u32) -> Row {
    // A thick peg takes too much of a narrow tenon.
    let narrow = size.wide < NARROW;
    let thick = work.options.number("peg").unwrap_or(if narrow { THIN_PEG } else { PEG_SIZE });
    let draw = work.options.number("drawbore").unwrap_or(0.0);
    Row { count, thick, draw, inset: (INSET * thick).max(third(size.deep)) }
}

/// Whether the pegs find wood on all sides.
fn room(bench: &Bench<'_>, work: &Work, size: &TenonSize, pair: Pair, pegs: &Row) -> Result<(), Problem> {
    let Pair { a: rail, b: member } = pair;
    let Row { count, thick, draw, inset } = *pegs;
    let wide = size.wide;
    // As much as it is thick: with less the wood behind it shears out along the grain.
    let behind = size.deep - inset - 0.5 * thick;
    if behind < thick - NOISE {
        let message = format!(
            "a peg of {} leaves {} of the tenon behind it; it needs {}",
            bench.mm(thick),
            bench.mm(behind.max(0.0)),
            bench.mm(thick)
        );
        return Err(bench
            .error(work, "breaks-through", message, &[rail, member])
            .help("make `peg` less or the tenon longer"));
    }
    if draw > BENDS * thick + NOISE {
        let message =
            format!("a peg of {} does not bend round holes {} out of line", bench.mm(thick), bench.mm(draw));
        return Err(bench
            .error(work, "does-not-fit", message, &[rail, member])
            .help(format!("`drawbore` may be {} at most", bench.mm(BENDS * thick))));
    }
    // A wall on either side of each, so that they do not split the tenon between them.
    let need = f64::from(count) * (thick + 2.0 * WALL);
    if need <= wide + NOISE {
        return Ok(());
    }
    let message = format!(
        "{} of {} need {}, but the tenon is {} wide",
        wording::count(count as usize, "peg", "pegs"),
        bench.mm(thick),
        bench.mm(need),
        bench.mm(wide)
    );
    Err(bench.error(work, "does-not-fit", message, &[rail, member]).help("use fewer or thinner pegs"))
}
