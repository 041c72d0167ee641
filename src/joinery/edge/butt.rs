//! Butt joints: one part stands against another.

use crate::joinery::bench::made::{Joinery, Made};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::facts::Facts;
use crate::joinery::facts::edge::EdgeJoint;
use crate::joinery::facts::traits::{TakesUp, Traits};
use crate::joinery::meeting::trim::Trim;
use crate::model::{Word, Work};
use crate::problem::Problem;

/// The word `butt`.
pub(in crate::joinery) struct Butt;

/// What `butt` says of itself.
static WORD: Word = Word {
    name: "butt",
    args: PAIR,
    options: &[],
    says: "glues a part that stands against another; nothing is cut",
    rule: "",
    example: "butt(plinth, bottom);",
};

impl Joinery for Butt {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { takes_up: TakesUp::Meeting, ..Traits::default() }
    }

    fn trims(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Trim>, Problem> {
        bench.trim_to_meet(work)
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (a, b) = bench.pair(work)?;
        bench.met(work, a, b)?;
        Ok(vec![Made {
            parts: vec![a, b],
            glued: true,
            facts: Facts::Edge(EdgeJoint::Butted),
            ..Made::default()
        }])
    }
}
