//! `sold`: packs, prices and order codes of what is bought.

use super::call::{Call, Does};
use super::spec::{AMOUNT, option, value};
use crate::model::{OptionKind, Per, Sold, Told, Usual, Word};
use crate::script::run::Run;
use crate::script::value::Value;

/// The words.
pub(in crate::script) const WORDS: &[(&Word, Does)] =
    &[(&SOLD, Does { act: sold, spoilt: || Value::Nothing })];

/// The least a pack can hold.
const LEAST_PACK: f64 = 0.001;

static SOLD: Word = Word {
    name: "sold",
    args: &[value("name", OptionKind::Text)],
    options: &[
        option(
            "pack",
            OptionKind::Ratio { min: LEAST_PACK, max: 1.0e6 },
            &[Usual::Words("sold by the unit")],
            "how many are in a box, or how many litres or kilograms in a tin; said again for each size sold",
        ),
        option("price", AMOUNT, &[Usual::Words("unknown")], "price of a pack, or of what `per` says"),
        option(
            "per",
            OptionKind::Choice(&Per::NAMES),
            &[Usual::Words("one")],
            "what the price is for where it is not sold in packs: one of what the buying list counts, a metre, square \
             metre or cubic metre",
        ),
        option("code", OptionKind::Text, &[Usual::Words("none")], "what you order it by"),
    ],
    says: "says how something on the buying list is sold, by the name it has there",
    rule: "a price list with the same four can be given on the command line",
    example: "sold(\"Wood glue\", #{ pack: 0.75, price: 9.80, code: \"G-75\" });",
};

fn sold(run: &mut Run, call: &Call) -> Value {
    run.job.sold.push(Sold {
        name: call.options.text("name").unwrap_or_default().to_owned(),
        pack: call.options.number("pack"),
        price: call.options.number("price"),
        per: call.options.text("per").and_then(Per::named).unwrap_or_default(),
        code: call.options.text("code").map(str::to_owned),
        told: Told::Script(call.origin),
    });
    Value::Nothing
}
