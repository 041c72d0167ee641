//! Words bound to the engine.

use std::any::TypeId;

use rhai::{Dynamic, Engine, EvalAltResult, NativeCallContext, Position};

use super::convert::{dynamic, value};
use super::failure::{reported, stop};
use super::functions::{register_after, register_places, register_types};
use super::origin::origin;
use crate::model::{Word, Work};
use crate::script::run::{Run, Shared};
use crate::script::value::Value;
use crate::script::vocabulary::call::{Call, Does};
use crate::script::vocabulary::chapters::own;
use crate::script::vocabulary::check::check;
use crate::script::vocabulary::library::are_counts;

/// Binds all words.
pub(in crate::script) fn register(engine: &mut Engine, run: &Shared, joinery: &'static [&'static Word]) {
    for (word, does) in own() {
        bind(engine, run, word, does);
    }
    for word in joinery {
        bind(engine, run, word, Does { act: add_work, spoilt: || Value::Nothing });
    }
    register_places(engine);
    register_after(engine, run);
    register_types(engine, run);
}

/// Calls with up to this many arguments more than the word takes reach the
/// word, so that it can say what is too much.
const SPARE: usize = 3;

/// Binds one word for every number of arguments.
fn bind(engine: &mut Engine, run: &Shared, word: &'static Word, does: Does) {
    for n in 0..=word.args.len() + SPARE {
        let run = run.clone();
        engine.register_raw_fn(word.name, vec![TypeId::of::<Dynamic>(); n], move |context, args| {
            let values: Vec<Value> = args.iter().map(|one| value(one)).collect();
            perform(&mut run.borrow_mut(), &context, word, does, &values).map(dynamic)
        });
    }
}

/// Checks a call and does it.
fn perform(
    run: &mut Run,
    context: &NativeCallContext,
    word: &'static Word,
    does: Does,
    values: &[Value],
) -> Result<Value, Box<EvalAltResult>> {
    let origin = origin(&run.sources, context);
    run.numbers_of(origin);
    run.counted = are_counts(values);
    let call = check(run, word, values, origin);
    let made = match call {
        Some(call) => {
            run.data += call.bytes();
            (does.act)(run, &call)
        }
        None => (does.spoilt)(),
    };
    run.begun = true;
    if run.ended {
        return Err(EvalAltResult::ErrorRuntime(reported(), Position::NONE).into());
    }
    if run.too_many_problems() || run.too_large() {
        return Err(stop(run, origin));
    }
    Ok(made)
}

/// A joinery word becomes a work of the job.
fn add_work(run: &mut Run, call: &Call) -> Value {
    run.job.works.push(Work {
        word: call.word,
        parts: call.parts.clone(),
        options: call.options.clone(),
        after_glue_up: run.after_glue_up,
        origin: call.origin,
    });
    Value::Nothing
}
