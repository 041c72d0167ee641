//! Butt joints: one part stands against another.

use crate::joinery::bench::made::{Joinery, Made};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PAIR;
use crate::joinery::facts::Facts;
use crate::joinery::facts::edge::EdgeJoint;
use crate::joinery::facts::traits::{TakesUp, Traits};
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

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let (a, b) = bench.pair(work)?;
        let m = bench.touching(work, a, b)?;
        bench.contact(work, a, b, m)?;
        Ok(vec![Made {
            parts: vec![a, b],
            glued: true,
            facts: Facts::Edge(EdgeJoint::Butted),
            ..Made::default()
        }])
    }
}
