//! Mortise and tenon: a tenon sawn on the end of a rail, a mortise that takes it.

use super::lean::Lean;
use super::leaning_tenon;
use super::tenon_pegs::{self, pegged};
use super::tenon_size::{SHOULDER, SHOULDER_SHARE, Tenon, set_out};
use super::tenon_wedges::{self, wedged};
use crate::geometry::{DVec3, Interval, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Growth, Joinery, Made, Sawn};
use crate::joinery::bench::meet::{Pair, TOUCH};
use crate::joinery::bench::plane::{OFFSET, TOWARD};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::{PAIR, Tie};
use crate::joinery::bench::tolerance::NOISE;
use crate::joinery::facts::Facts;
use crate::joinery::facts::tenons::{Haunch, Mortised, Pegs, Tenoned, Wedges};
use crate::joinery::facts::traits::Traits;
use crate::model::{OptionKind, OptionSpec, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `mortise_tenon`.
pub(in crate::joinery) struct MortiseTenon;

/// Lengths of a tenon.
const SIZE: OptionKind = OptionKind::Length { min: 1.0, max: 500.0 };

/// What `mortise_tenon` says of itself.
static WORD: Word = Word {
    name: "mortise_tenon",
    args: PAIR,
    options: &[
        OptionSpec {
            key: "thickness",
            kind: SIZE,
            default: &[Usual::Words(
                "the chisel nearest a third of the thinner of the two parts, measured across the tenon",
            )],
            says: "how thick the tenon is, and how wide the mortise",
        },
        OptionSpec {
            key: "width",
            kind: SIZE,
            default: &[Usual::Words("what the shoulders leave of the rail")],
            says: "how wide the tenon is, along the mortise",
        },
        OptionSpec {
            key: "shoulder",
            kind: OptionKind::Length { min: 0.0, max: 300.0 },
            default: &[
                Usual::Length(SHOULDER),
                Usual::Words(", a sixth of the rail where it is narrower than "),
                Usual::Bare(SHOULDER * SHOULDER_SHARE),
            ],
            says: "what is cut away at either edge of the tenon, in place of `width`",
        },
        OptionSpec {
            key: "depth",
            kind: SIZE,
            default: &[Usual::Words(
                "two thirds of the part with the mortise, less where that would meet the mortise of another rail from the side",
            )],
            says: "how long the tenon is; the rail grows by as much",
        },
        OptionSpec {
            key: "through",
            kind: OptionKind::YesNo,
            default: &[Usual::YesNo(false), Usual::Words(": the mortise stops inside")],
            says: "lets the tenon show on the far face, flush with it",
        },
        OptionSpec {
            key: "haunch",
            kind: OptionKind::Side,
            default: &[Usual::Words("no haunch")],
            says: "the side of the piece on which the tenon is cut back to a haunch, so that the end of the part \
                   with the mortise keeps its wood",
        },
        OptionSpec {
            key: "haunch_width",
            kind: SIZE,
            default: &[Usual::Words("a third of the rail")],
            says: "how far in from the rail's edge the haunch reaches",
        },
        OptionSpec {
            key: "haunch_depth",
            kind: SIZE,
            default: &[Usual::Words("as much as the tenon is thick")],
            says: "how far the haunch is let in",
        },
        tenon_pegs::TWIN,
        tenon_pegs::PEGS,
        tenon_pegs::PEG,
        tenon_pegs::DRAWBORE,
        tenon_wedges::WEDGES,
        tenon_wedges::WEDGE,
        tenon_wedges::FOXED,
        OFFSET,
        TOWARD,
    ],
    says: "lengthens the first part by a tenon and cuts a mortise for it in the second",
    rule: "tenon a third of the thickness, to a chisel; two thirds of the way in; haunch a third of the width \
           and as long as the tenon is thick; the mortise runs along the grain; 2 mm of room at its bottom; \
           wedges in kerfs two thirds of the tenon deep, an eighth of that thick, and the mortise opened by what they \
           spread the tenon (common practice, no source); the shoulders of a part that leans follow from its lean (geometry)",
    example: "mortise_tenon(rail, leg, #{ haunch: \"top\" });",
};

impl Joinery for MortiseTenon {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { is_tenoned: true, ..Traits::default() }
    }

    fn ties(&self) -> &'static [Tie] {
        tenon_wedges::TIES
    }

    fn grow(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Growth>, Problem> {
        let (rail, member) = bench.pair(work)?;
        if let Some(lean) = Lean::of(bench, work, (rail, member))? {
            return leaning_tenon::grow(bench, work, &lean);
        }
        let (tenon, _) = set_out(bench, work, (rail, member))?;
        // A gap that counts as touching is bridged too, so that the shoulder still
        // closes.
        let by = tenon.depth + tenon.gap;
        Ok(vec![Growth { part: rail, toward: -tenon.out, by, lipping: None }])
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (rail, member) = bench.pair(work)?;
        if let Some(lean) = Lean::of(bench, work, (rail, member))? {
            return leaning_tenon::work(bench, work, &lean);
        }
        let (tenon, warnings) = set_out(bench, work, (rail, member))?;
        let mut made = Made {
            parts: vec![rail, member],
            glued: true,
            ways_in: vec![tenon.out],
            warnings,
            ..Made::default()
        };
        // Only for what shaping took: the boxes were looked at when the tenon was set out.
        in_wood(bench, work, (rail, member), &tenon)?;
        made.cuts.extend(shoulders(bench, &tenon, rail));
        made.cuts.extend(mortises(&tenon, member));
        let pegs = pegged(bench, work, &tenon, Pair { a: rail, b: member }, &mut made)?;
        let wedges = wedged(bench, work, &tenon, Pair { a: rail, b: member }, &mut made)?;
        made.facts = Facts::Tenons(Tenoned::Mortised(facts(&tenon, pegs, wedges)));
        Ok(vec![made])
    }
}

/// Refuses a tenon or mortise that an outline or slope leaves without wood.
fn in_wood(
    bench: &Bench<'_>,
    work: &Work,
    (rail, member): (usize, usize),
    tenon: &Tenon,
) -> Result<(), Problem> {
    let shaped = |part: usize| bench.real.get(part).and_then(Option::as_ref);
    let refused = |what: &str, part: usize, by: f64, shorter: &str| {
        let message = format!(
            "{what} reaches {} out of the wood that shaping leaves of `{}` there",
            bench.mm(by),
            bench.name(part)
        );
        bench.error(work, "breaks-through", message, &[rail, member]).help(format!(
            "make the tenon {shorter}narrower with `width`, move it with `offset` and `toward`, or leave more wood there",
        ))
    };
    if shaped(member).is_some() {
        let cuts = mortises(tenon, member);
        let wall = |shape: &Prism| {
            if tenon.through {
                bench.wall_beside(member, shape)
            } else {
                bench.wall_behind(member, shape, tenon.out)
            }
        };
        let least = cuts.iter().map(|cut| wall(&cut.shape)).fold(f64::INFINITY, f64::min);
        if least < -TOUCH {
            let shorter = if tenon.through { "" } else { "shorter with `depth` or " };
            return Err(refused("the mortise", member, -least, shorter));
        }
    }
    if shaped(rail).is_some() {
        // The tenon goes on from the section just before its shoulders.
        let root = Interval::between(tenon.face, tenon.face + ROOT);
        let roots = tenon.cheeks().into_iter().filter_map(|thick| tenon.brick(tenon.wide, thick, root));
        let least = roots.map(|root| bench.wall_beside(rail, &root)).fold(f64::INFINITY, f64::min);
        if least < -TOUCH {
            return Err(refused("the tenon", rail, -least, ""));
        }
    }
    Ok(())
}

/// How far before the shoulders a tenon is looked at, mm.
const ROOT: f64 = 1.0;

/// What is sawn off the rail's end: cheeks, then edges.
fn shoulders(bench: &Bench<'_>, tenon: &Tenon, rail: usize) -> Vec<Sawn> {
    let whole = &bench.placed[rail];
    let (wide, thick) = (whole.span(tenon.along), whole.span(tenon.across));
    let between = |from: f64, to: f64| Interval { from, to };
    // From the very end of the blank, which another joint may have made longer.
    let end = bench.grown[rail].reach(tenon.out).0.min(tenon.tip());
    let mut cuts = Vec::new();
    let mut saw = |along: Interval, across: Interval, to: f64| {
        // A bare-faced tenon has no cheek to saw on that side.
        if along.length() > NOISE && across.length() > NOISE && to - end > NOISE {
            let shape = tenon.brick(along, across, between(end, to));
            cuts.extend(shape.map(|shape| Sawn { part: rail, kind: CutKind::Shoulder, shape }));
        }
    };
    saw(wide, between(thick.from, tenon.thick.from), tenon.face);
    saw(wide, between(tenon.thick.to, thick.to), tenon.face);
    if let Some(space) = tenon.between {
        // The haunch is of two as well.
        let all = tenon.haunch.map_or(tenon.wide, |haunch| tenon.wide.hull(haunch.wide));
        saw(all, space, tenon.face);
    }
    let edges = [(between(wide.from, tenon.wide.from), false), (between(tenon.wide.to, wide.to), true)];
    for (edge, high) in edges {
        let haunch = tenon.haunch.as_ref().filter(|h| h.high == high);
        saw(edge, thick, haunch.map_or(tenon.face, |h| tenon.face - h.depth));
    }
    cuts
}

/// The mortise and the shallower one for the haunch.
fn mortises(tenon: &Tenon, member: usize) -> Vec<Sawn> {
    // A through mortise has no bottom, and so no room for glue under the tenon.
    let bottom = if tenon.through { tenon.tip() } else { tenon.tip() - tenon.spare };
    let cheeks = tenon.cheeks();
    let out = Interval { from: bottom, to: tenon.face };
    let mut shapes: Vec<_> = cheeks.iter().map(|thick| tenon.brick(tenon.wide, *thick, out)).collect();
    if let Some(haunch) = &tenon.haunch {
        let out = Interval { from: tenon.face - haunch.depth - tenon.spare, to: tenon.face };
        shapes.extend(cheeks.iter().map(|thick| tenon.brick(haunch.wide, *thick, out)));
    }
    let shapes = shapes.into_iter().flatten();
    shapes.map(|shape| Sawn { part: member, kind: CutKind::Mortise, shape }).collect()
}

/// What the joint is, in figures.
fn facts(tenon: &Tenon, pegs: Option<Pegs>, wedges: Option<Wedges>) -> Mortised {
    Mortised {
        thick: tenon.one_thick(),
        width: tenon.wide.length(),
        length: tenon.depth,
        deep: (!tenon.through).then_some(tenon.depth + tenon.spare),
        apart: tenon.between.map(Interval::length),
        haunch: tenon
            .haunch
            .as_ref()
            .map(|haunch| Haunch { width: haunch.wide.length(), deep: haunch.depth + tenon.spare }),
        pegs,
        wedges,
    }
}

impl Tenon {
    /// How far in the tenon ends, along `out`.
    pub(in crate::joinery) fn tip(&self) -> f64 {
        self.face - self.depth
    }

    /// A box between places along the mortise, across it and out of the member.
    pub(in crate::joinery) fn brick(
        &self,
        along: Interval,
        across: Interval,
        out: Interval,
    ) -> Option<Prism> {
        let at = Placement::looking(DVec3::ZERO, self.out, self.along)?;
        // The frame is right-handed, so its y may run against `across`.
        let across = if at.y.dot(self.across) > 0.0 { across } else { across.turned() };
        let low = DVec3::new(along.from, across.from, out.from);
        Some(Prism::block(at, low, DVec3::new(along.to, across.to, out.to)))
    }
}
