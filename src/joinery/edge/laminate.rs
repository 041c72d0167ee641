//! Laminated build-up: layers glued face to face into one thick piece.

use crate::joinery::bench::corner;
use crate::joinery::bench::made::{Joinery, Made};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::MOSTLY;
use crate::joinery::facts::Facts;
use crate::joinery::facts::edge::EdgeJoint;
use crate::joinery::facts::traits::{TakesUp, Traits};
use crate::measure::near;
use crate::model::{Arg, Job, OptionKind, OptionSpec, StockKind, Takes, Usual, Word, Work};
use crate::problem::Problem;

/// The word `laminate`.
pub(in crate::joinery) struct Laminate;

/// Left on every edge of a layer where nothing is said, mm (common practice, no
/// source).
const OVERSIZE: f64 = 5.0;

/// What `laminate` says of itself.
static WORD: Word = Word {
    name: "laminate",
    args: &[Arg { name: "layers", takes: Takes::Parts }],
    options: &[OptionSpec {
        key: "oversize",
        kind: OptionKind::Length { min: 0.0, max: 50.0 },
        default: &[Usual::Length(OVERSIZE)],
        says: "left on every edge of each layer, and trimmed off all of them together when the glue has cured",
    }],
    says: "glues layers face to face into one thick piece; they are named in the order in which they lie, and glued \
           up before anything else is joined to them",
    rule: "5 mm on every edge, because layers slip in the press; grain of solid layers one way (common practice, no \
           source)",
    example: "laminate([lower, upper], #{ oversize: 6 });",
};

/// Layers that are glued up and then trimmed together.
#[derive(Clone, Debug, PartialEq)]
pub struct Layers {
    /// In the order in which they lie: indices of parts.
    pub parts: Vec<usize>,
    /// Left on every edge until they are glued, mm.
    pub oversize: f64,
}

/// Everything that is laminated, in script order.
pub fn laminated(job: &Job) -> Vec<Layers> {
    let works = job.works.iter().filter(|work| work.word.name == WORD.name);
    works.map(|work| Layers { parts: named(work), oversize: oversize(job, work) }).collect()
}

/// The layers in order.
fn named(work: &Work) -> Vec<usize> {
    work.parts.first().into_iter().flatten().map(|part| part.0).collect()
}

/// What is left on every edge, mm.
fn oversize(job: &Job, work: &Work) -> f64 {
    work.options.number("oversize").unwrap_or_else(|| near(job.unit, OVERSIZE))
}

impl Joinery for Laminate {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { is_layered: true, takes_up: TakesUp::Meeting, ..Traits::default() }
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        bench.part(work, 0)?;
        let layers: Vec<usize> = named(work).into_iter().filter(|i| *i < bench.placed.len()).collect();
        if layers.len() < 2 {
            return Err(bench
                .error(work, "too-few-parts", "`laminate` needs two layers or more".into(), &layers)
                .help("name the layers in the order in which they lie: `[lower, upper]`"));
        }
        corner::wooden(bench, work, &layers)?;
        let mut list = Vec::new();
        for pair in layers.windows(2) {
            if let [a, b] = *pair {
                list.push(glued(bench, work, a, b)?);
            }
        }
        Ok(list)
    }
}

/// Two layers that lie on one another.
fn glued(bench: &Bench<'_>, work: &Work, a: usize, b: usize) -> Result<Made, Problem> {
    bench.check_pair(work, a, b)?;
    let face_to_face = || {
        let message = format!("`{}` and `{}` do not lie face to face", bench.name(a), bench.name(b));
        bench
            .error(work, "not-face-to-face", message, &[a, b])
            .help("layers lie with their faces on one another; join an edge with `butt` or `tongue`")
    };
    if bench.placed[a].axis_along(bench.placed[b].at.z) != Some(2) {
        return Err(face_to_face());
    }
    let m = bench.touching(work, a, b)?;
    if [a, b].into_iter().any(|part| bench.placed[part].axis_along(m.normal) != Some(2)) {
        return Err(face_to_face());
    }
    bench.contact(work, a, b, m)?;
    let mut made = Made { parts: vec![a, b], glued: true, ..Made::default() };
    made.facts = Facts::Edge(EdgeJoint::Layered { oversize: oversize(bench.job, work) });
    made.warnings.extend(crosses(bench, work, a, b));
    Ok(made)
}

/// Solid layers whose grain crosses pull the glue line apart as they move.
fn crosses(bench: &Bench<'_>, work: &Work, a: usize, b: usize) -> Option<Problem> {
    let solid = |part: usize| {
        let stock = bench.job.stock.get(bench.job.parts.get(part)?.stock.0)?;
        matches!(stock.kind, StockKind::Board { .. }).then_some(())
    };
    solid(a)?;
    solid(b)?;
    // Layers whose grain runs alike move alike.
    if bench.placed[a].at.x.dot(bench.placed[b].at.x).abs() > MOSTLY {
        return None;
    }
    let message = format!("the grain of `{}` crosses that of `{}`", bench.name(a), bench.name(b));
    Some(bench.warning(work, "grain-crosses", message, &[a, b]).help(
        "solid layers move across their grain and pull the glue line apart: lay them one way, or use plywood",
    ))
}
