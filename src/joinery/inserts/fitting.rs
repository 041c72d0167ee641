//! Fittings bought by name: what goes on a part without a cut that the drawings show.

use crate::geometry::{DVec3, Placement};
use crate::joinery::bench::made::{Joinery, Made};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::worked::Insert;
use crate::joinery::facts::Facts;
use crate::joinery::facts::inserts::{Fitted, Inserted};
use crate::joinery::facts::item::Item;
use crate::joinery::facts::traits::Traits;
use crate::model::{Arg, OptionKind, OptionSpec, Takes, Usual, Word, Work};
use crate::problem::Problem;

/// The word `fitting`.
pub(in crate::joinery) struct Fitting;

/// What `fitting` says of itself.
static WORD: Word = Word {
    name: "fitting",
    args: &[
        Arg { name: "part", takes: Takes::Part },
        Arg { name: "name", takes: Takes::Value(OptionKind::Text) },
    ],
    options: &[OptionSpec {
        key: "count",
        kind: OptionKind::Count { min: 1, max: 200 },
        default: &[Usual::Count(1)],
        says: "how many of them on the part",
    }],
    says: "puts something bought on a part, by a name of your own: a lid stay, a lock, castors, screws and plugs for \
           the wall; it comes on the buying list and into the order, and what is bored or cut for it is told besides",
    rule: "none",
    example: "fitting(lid, \"lid stay\", #{ count: 2 });",
};

impl Joinery for Fitting {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { goes_on_last: true, ..Traits::default() }
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let part = bench.part(work, 0)?;
        let name = work.options.text("name").unwrap_or_default().trim();
        if name.is_empty() {
            let message = format!("the fitting on `{}` has no name", bench.name(part));
            return Err(bench
                .error(work, "no-name", message, &[part])
                .help("name it as it is asked for in the shop, such as `\"lid stay\"`"));
        }
        let count = work.options.count("count").unwrap_or(1) as usize;
        // Where on the part its maker or the bench says: only how many there are is known.
        let place = Placement::looking(bench.placed[part].centre(), DVec3::Z, DVec3::X);
        let at: Vec<Placement> = place.into_iter().cycle().take(count).collect();
        let facts = Fitted { count, name: name.to_owned() };
        Ok(vec![Made {
            parts: vec![part],
            glued: false,
            inserts: vec![Insert { item: Item::Named(name.to_owned()), at, body: None }],
            facts: Facts::Inserts(Inserted::Fitted(facts)),
            ..Made::default()
        }])
    }
}
