//! Mitres: two parts cut to meet on the plane from inner to outer corner.

use super::CutKind;
use super::bench::{Bench, Joinery, Made, Sawn};
use super::connector;
use super::mitre_plane::{MitrePlane, mitre_plane};
use super::registry::PAIR;
use crate::geometry::trig;
use crate::measure::angle;
use crate::model::{OptionKind, OptionSpec, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `mitre`.
pub(super) struct Mitre;

/// What `mitre` says of itself.
pub(super) static WORD: Word = Word {
    name: "mitre",
    args: PAIR,
    options: &[OptionSpec {
        key: "connectors",
        kind: OptionKind::Count { min: 0, max: 20 },
        default: "0: glued",
        says: "number of clamping connectors let into the mitre",
    }],
    says: "cuts both parts to meet on the plane through their inner and outer corner",
    rule: "the plane runs from corner to corner, so that faces of unequal thickness also meet (geometry)",
    example: "mitre(left, top, #{ connectors: 3 });",
};

impl Joinery for Mitre {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (a, b) = bench.pair(work)?;
        let plane = mitre_plane(bench, work, a, b)?;
        let mut made = Made { parts: vec![a, b], glued: true, ..Made::default() };
        for (part, out) in [(a, plane.normal), (b, -plane.normal)] {
            if let Some(shape) = Prism::half_space(plane.inner, out) {
                made.cuts.push(Sawn { part, kind: CutKind::Mitre, shape });
            }
        }
        let (sa, sb) = (saw_angle(&plane, plane.away_a), saw_angle(&plane, plane.away_b));
        made.says = format!("mitred {}", angle(sa));
        made.setting = if (sa - sb).abs() < 0.005 {
            format!("saw tilted {}", angle(sa))
        } else {
            format!("saw tilted {} and {}", angle(sa), angle(sb))
        };
        let n = work.options.count("connectors").unwrap_or(0);
        if n > 0 {
            connector::let_in(bench, work, &plane, (a, b), n, &mut made)?;
        }
        Ok(vec![made])
    }
}

/// How far the saw leans from square to a part that runs off along `away`,
/// degrees.
fn saw_angle(plane: &MitrePlane, away: crate::geometry::DVec3) -> f64 {
    trig::acos(plane.normal.dot(away).abs()).to_degrees()
}
