//! Mitres: two parts cut to meet on the plane from inner to outer corner.

use super::compound;
use crate::geometry::trig;
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::Pair;
use crate::joinery::bench::mitre_plane::{MitrePlane, mitre_plane};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::bench::tolerance::ONE_WAY;
use crate::joinery::facts::Facts;
use crate::joinery::facts::corners::{CompoundSaw, CornerJoint, Mitred};
use crate::joinery::facts::traits::{TakesUp, Traits};
use crate::joinery::inserts::connector;
use crate::joinery::meeting::trim::Trim;
use crate::model::{OptionKind, OptionSpec, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `mitre`.
pub(in crate::joinery) struct Mitre;

/// What `mitre` says of itself.
pub(in crate::joinery) static WORD: Word = Word {
    name: "mitre",
    args: PAIR,
    options: &[OptionSpec {
        key: "connectors",
        kind: OptionKind::Count { min: 0, max: 20 },
        default: &[Usual::Count(CONNECTORS), Usual::Words(": glued")],
        says: "number of clamping connectors let into the mitre",
    }],
    says: "cuts both parts to meet on the plane through their inner and outer corner",
    rule: "both parts are drawn out to the outer corner, so that they overlap there, and the mitre takes off what is too \
           much; the plane runs from corner to corner, so that faces of unequal thickness also meet; boards that slope grow to \
           the long points of their compound mitre (geometry)",
    example: "mitre(left, top, #{ connectors: 3 });",
};

/// Connectors where nothing is said: the mitre is glued.
const CONNECTORS: u32 = 0;

impl Joinery for Mitre {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { is_drawn_together: true, takes_up: TakesUp::Slope, ..Traits::default() }
    }

    fn trims(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Trim>, Problem> {
        let (a, b) = bench.pair(work)?;
        // Square parts are drawn to the corner; others grow to their long points.
        if bench.are_square(a, b) {
            return Ok(Vec::new());
        }
        let plane = if compound::leans(bench, a, b) {
            compound::compound(bench, work, a, b)?.plane
        } else {
            mitre_plane(bench, work, a, b)?
        };
        compound::sawn_to(bench, work, (a, b), &plane).map(Vec::from)
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (a, b) = bench.pair(work)?;
        if compound::leans(bench, a, b) {
            return compounded(bench, work, a, b);
        }
        let plane = mitre_plane(bench, work, a, b)?;
        // What is not square was sawn before.
        let mut made = if bench.are_square(a, b) { sawn(&plane, a, b) } else { glued(bench, work, a, b)? };
        let (sa, sb) = (saw_angle(&plane, plane.away_a), saw_angle(&plane, plane.away_b));
        let n = work.options.count("connectors").unwrap_or(CONNECTORS);
        let wanted = connector::Wanted { pair: Pair { a, b }, count: n };
        let connectors =
            if n > 0 { Some(connector::let_in(bench, work, &plane, wanted, &mut made)?) } else { None };
        let flat = [a, b].into_iter().all(|part| bench.placed[part].at.z.dot(plane.line).abs() > ONE_WAY);
        made.facts = Facts::Corners(CornerJoint::Mitred(Mitred { saws: [sa, sb], flat, connectors }));
        Ok(vec![made])
    }
}

/// Both parts, sawn before, glued together; an error where they pass beside one another.
fn glued(bench: &Bench<'_>, work: &Work, a: usize, b: usize) -> Result<Made, Problem> {
    if bench.patch(a, b).is_some() {
        return Ok(Made { parts: vec![a, b], glued: true, ..Made::default() });
    }
    let (first, second) = (bench.name(a), bench.name(b));
    let message =
        format!("`{first}` and `{second}` would be sawn to one plane, but lie beside one another on it");
    Err(bench
        .error(work, "parts-do-not-meet", message, &[a, b])
        .help("let both reach over the same stretch of the corner, or join them by `butt` or `dowels`"))
}

/// Both parts cut to the plane.
pub(in crate::joinery) fn sawn(plane: &MitrePlane, a: usize, b: usize) -> Made {
    let mut made = Made { parts: vec![a, b], glued: true, ..Made::default() };
    for (part, out) in [(a, plane.normal), (b, -plane.normal)] {
        if let Some(shape) = Prism::half_space(plane.inner, out) {
            made.cuts.push(Sawn { part, kind: CutKind::Mitre, shape });
        }
    }
    made
}

/// Two sloping boards mitred where their faces meet.
fn compounded(bench: &Bench<'_>, work: &Work, a: usize, b: usize) -> Result<Vec<Made>, Problem> {
    if work.options.count("connectors").is_some_and(|n| n > 0) {
        let message = "clamping connectors are let into square mitres, but these boards slope".to_owned();
        return Err(bench
            .error(work, "contradiction", message, &[a, b])
            .help("leave out `connectors` and glue the mitre"));
    }
    let found = compound::compound(bench, work, a, b)?;
    let mut made = glued(bench, work, a, b)?;
    let saw = |part: usize, (gauge, blade): (f64, f64)| CompoundSaw { part, gauge, blade };
    let [first, second] = found.saws;
    made.facts = Facts::Corners(CornerJoint::CompoundMitre([saw(a, first), saw(b, second)]));
    Ok(vec![made])
}

/// How far the saw leans from square to a part that runs off along `away`,
/// degrees.
fn saw_angle(plane: &MitrePlane, away: crate::geometry::DVec3) -> f64 {
    trig::acos(plane.normal.dot(away).abs()).to_degrees()
}
