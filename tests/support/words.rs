//! Words standing in for joinery where a test is about the script engine only.

use rodwright::model::{Arg, OptionKind, OptionSpec, Takes, Word};

/// Two parts.
const PAIR: &[Arg] = &[Arg { name: "a", takes: Takes::Part }, Arg { name: "b", takes: Takes::Part }];
/// Parts and a part.
const MANY: &[Arg] = &[Arg { name: "parts", takes: Takes::Parts }, Arg { name: "to", takes: Takes::Part }];

/// An option that may be left out.
const fn option(key: &'static str, kind: OptionKind) -> OptionSpec {
    OptionSpec { key, kind, default: "by rule", says: "" }
}

/// A word with its options.
const fn word(name: &'static str, args: &'static [Arg], options: &'static [OptionSpec]) -> Word {
    Word { name, args, options, says: "a joint", rule: "", example: "" }
}

/// Any length of joinery.
const LENGTH: OptionKind = OptionKind::Length { min: 0.0, max: 500.0 };

/// The stand-in words.
pub(crate) const WORDS: &[&Word] = &[
    &word("butt", PAIR, &[]),
    &word("mitre", PAIR, &[option("connectors", OptionKind::Count { min: 0, max: 20 })]),
    &word(
        "loose_tenons",
        PAIR,
        &[
            OptionSpec {
                key: "tenon",
                kind: OptionKind::Pair,
                default: "",
                says: "thickness and length of the tenon",
            },
            option("count", OptionKind::Count { min: 1, max: 50 }),
        ],
    ),
    &word("housing", PAIR, &[option("depth", LENGTH), option("stop", LENGTH)]),
    &word("groove", PAIR, &[option("depth", LENGTH), option("slack", LENGTH)]),
    &word("rebate", MANY, &[option("lap", LENGTH), option("depth", LENGTH), option("clearance", LENGTH)]),
    &word("screws", PAIR, &[option("screw", OptionKind::Pair), option("spacing", LENGTH)]),
    &word(
        "lipping",
        &[
            Arg { name: "parts", takes: Takes::Parts },
            Arg { name: "sides", takes: Takes::Value(OptionKind::Sides) },
            Arg { name: "stock", takes: Takes::Value(OptionKind::Stock) },
        ],
        &[option("thick", LENGTH), option("corner", OptionKind::Choice(&["butted", "mitred"]))],
    ),
];
