//! `grain_run`, `already_cut`, `after_glue_up`, `subassembly`, `before` and `glue`: in what order things
//! are cut and put together.

use super::call::{Call, Does};
use super::saying::Saying;
use super::spec::{option, value};
use crate::model::{Arg, Before, Glue, GrainRun, Load, OptionKind, PartId, Takes, UnitAsked, Usual, Word};
use crate::problem::{Problem, wording};
use crate::script::run::Run;
use crate::script::value::Value;

/// The words bound in the usual way.
pub(in crate::script) const WORDS: &[(&Word, Does)] = &[
    (&GRAIN_RUN, Does { act: grain_run, spoilt: || Value::Nothing }),
    (&ALREADY_CUT, Does { act: already_cut, spoilt: || Value::Nothing }),
    (&SUBASSEMBLY, Does { act: subassembly, spoilt: || Value::Nothing }),
    (&BEFORE, Does { act: before, spoilt: || Value::Nothing }),
    (&SHELF_LOAD, Does { act: shelf_load, spoilt: || Value::Nothing }),
    (&GLUE, Does { act: glue, spoilt: || Value::Nothing }),
];

static GRAIN_RUN: Word = Word {
    name: "grain_run",
    args: &[Arg { name: "parts", takes: Takes::Parts }],
    options: &[],
    says: "cuts the parts from one strip in this order, so that the figure runs on",
    rule: "",
    example: "grain_run([left, top, right]);",
};

/// `after_glue_up`, bound by itself.
pub(in crate::script) const AFTER: &[Saying] = &[Saying {
    name: "after_glue_up",
    written: "after_glue_up(|| { … })",
    says: "the joints and cuts in it are made when the parts are glued together",
    example: "after_glue_up(|| chamfer(top, \"top\", #{ width: 3, edges: \"front\" }));",
}];

fn grain_run(run: &mut Run, call: &Call) -> Value {
    let parts = call.parts.first().cloned().unwrap_or_default();
    if parts.len() < 2 {
        run.report(
            Problem::error("too-few-parts", "`grain_run` needs two parts or more")
                .at(call.origin)
                .help("list the parts in the order the figure runs through them"),
        );
        return Value::Nothing;
    }
    run.job.grain_runs.push(GrainRun { parts, origin: call.origin });
    Value::Nothing
}

static ALREADY_CUT: Word = Word {
    name: "already_cut",
    args: &[Arg { name: "parts", takes: Takes::Parts }],
    options: &[],
    says: "marks parts that are cut: they are kept, and only the rest is laid out",
    rule: "lippings go with the part they are glued to",
    example: "already_cut([left, right]);",
};

fn already_cut(run: &mut Run, call: &Call) -> Value {
    for part in call.parts.first().into_iter().flatten() {
        let piece = run.job.parts.get(part.0).and_then(|part| run.job.pieces.get(part.piece.0));
        let made = piece.map_or(1, |piece| piece.count as usize);
        run.job.already_cut.insert(part.0, made);
    }
    Value::Nothing
}

static SUBASSEMBLY: Word = Word {
    name: "subassembly",
    args: &[value("name", OptionKind::Text), Arg { name: "parts", takes: Takes::Parts }],
    options: &[],
    says: "makes the parts up by themselves, to go in whole under this name",
    rule: "doors, drawers, plinths and other glued units are found without it",
    example: "subassembly(\"Side frame\", [left, rail]);",
};

fn subassembly(run: &mut Run, call: &Call) -> Value {
    let parts = call.parts.first().cloned().unwrap_or_default();
    let name = call.options.text("name").unwrap_or_default().to_owned();
    let wrong = if parts.len() < 2 {
        Some("has one part: a unit is made up of two or more".to_owned())
    } else {
        apart(run, &parts).map(|other| format!("has parts of two pieces: {other}"))
    };
    if let Some(wrong) = wrong {
        run.report(
            Problem::error("no-unit", format!("the unit `{name}` {wrong}"))
                .at(call.origin)
                .help("list two parts or more of one piece"),
        );
        return Value::Nothing;
    }
    run.job.order.units.push(UnitAsked { name, parts, origin: call.origin });
    Value::Nothing
}

/// Two parts of a list that are of two pieces, as a message names them.
fn apart(run: &Run, parts: &[PartId]) -> Option<String> {
    let piece = |part: &PartId| run.job.parts.get(part.0).map(|p| p.piece);
    let first = parts.first()?;
    let other = parts.iter().find(|part| piece(part) != piece(first))?;
    Some(wording::all_of([run.name(*first), run.name(*other)]))
}

static BEFORE: Word = Word {
    name: "before",
    args: &[Arg { name: "first", takes: Takes::Parts }, Arg { name: "then", takes: Takes::Parts }],
    options: &[],
    says: "puts the first parts in before the others",
    rule: "",
    example: "before(left, rail);",
};

fn before(run: &mut Run, call: &Call) -> Value {
    let of = |arg: usize| call.parts.get(arg).cloned().unwrap_or_default();
    let (first, then) = (of(0), of(1));
    let all: Vec<PartId> = first.iter().chain(&then).copied().collect();
    let both = first.iter().find(|part| then.contains(part));
    let wrong = match both {
        Some(part) => Some(format!("`{}` cannot go in before itself", run.name(*part))),
        None => {
            apart(run, &all).map(|other| format!("{other} are of two pieces, each with an order of its own"))
        }
    };
    if let Some(wrong) = wrong {
        run.report(
            Problem::error("no-order-asked", wrong)
                .at(call.origin)
                .help("name parts of one piece, each once: `before(back, top)`"),
        );
        return Value::Nothing;
    }
    run.job.order.before.push(Before { first, then, origin: call.origin });
    Value::Nothing
}

static GLUE: Word = Word {
    name: "glue",
    args: &[value("name", OptionKind::Text)],
    options: &[
        option(
            "open",
            OptionKind::Ratio { min: 1.0, max: 240.0 },
            &[Usual::Bare(Glue::OPEN)],
            "minutes from spreading until all must be together",
        ),
        option(
            "clamped",
            OptionKind::Ratio { min: 1.0, max: 2880.0 },
            &[Usual::Bare(Glue::CLAMPED)],
            "minutes in the clamps",
        ),
        option(
            "cured",
            OptionKind::Ratio { min: 0.1, max: 336.0 },
            &[Usual::Bare(Glue::CURED)],
            "hours until it may be worked or loaded",
        ),
        option(
            "rate",
            OptionKind::Ratio { min: 0.05, max: 60.0 },
            &[Usual::Bare(Glue::RATE)],
            "minutes you take to spread one joint and bring it together",
        ),
    ],
    says: "names the glue, so that each glue-up is held against its open time",
    rule: "white glue is open 10 to 20 minutes, in clamps 30 to 90, cured in 24 hours (a supplier's sheet); a minute \
           for a joint is common practice, no source",
    example: "glue(\"Slow white glue\", #{ open: 20, clamped: 90 });",
};

fn glue(run: &mut Run, call: &Call) -> Value {
    if run.job.order.glue.name.is_some() {
        run.report(
            Problem::error("glue-twice", "`glue` is said twice")
                .at(call.origin)
                .help("name one glue: every glue-up is reckoned with it"),
        );
        return Value::Nothing;
    }
    run.job.order.glue = Glue {
        name: call.options.text("name").map(str::to_owned),
        open: call.options.number("open"),
        clamped: call.options.number("clamped"),
        cured: call.options.number("cured"),
        rate: call.options.number("rate"),
    };
    Value::Nothing
}

static SHELF_LOAD: Word = Word {
    name: "shelf_load",
    args: &[value("class", OptionKind::Choice(&["books", "general", "light"]))],
    options: &[],
    says: "says what shelves and tops bear, so that each is held against what it bends",
    rule: "books 50 and all else 40 lb to the square foot, bending by a 144th of the span at most (Architectural \
           Woodwork Standards, 2009); light 15 lb to the square foot (ANSI/KCMA A161.1)",
    example: "shelf_load(\"books\");",
};

fn shelf_load(run: &mut Run, call: &Call) -> Value {
    run.job.load = match call.options.text("class") {
        Some("books") => Some(Load::Books),
        Some("light") => Some(Load::Light),
        _ => Some(Load::General),
    };
    Value::Nothing
}
