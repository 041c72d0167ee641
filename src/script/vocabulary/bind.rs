//! Words bound to the engine.

use std::any::TypeId;

use rhai::{Dynamic, Engine, EvalAltResult, NativeCallContext, Position};

use super::call::{Call, Does};
use super::chapters::own;
use super::check::check;
use super::{library, order, parts};
use crate::model::{Word, Work};
use crate::script::engine::failure::{reported, stop};
use crate::script::engine::run::{Run, Shared};

/// Binds all words.
pub(in crate::script) fn register(engine: &mut Engine, run: &Shared, joinery: &'static [&'static Word]) {
    for (word, does) in own() {
        bind(engine, run, word, does);
    }
    for word in joinery {
        bind(engine, run, word, Does { act: add_work, spoilt: || Dynamic::UNIT });
    }
    parts::register_places(engine);
    order::register_after(engine, run);
    library::register_types(engine, run);
}

/// Calls with up to this many arguments more than the word takes reach the
/// word, so that it can say what is too much.
const SPARE: usize = 3;

/// Binds one word for every number of arguments.
fn bind(engine: &mut Engine, run: &Shared, word: &'static Word, does: Does) {
    for n in 0..=word.args.len() + SPARE {
        let run = run.clone();
        engine.register_raw_fn(word.name, vec![TypeId::of::<Dynamic>(); n], move |context, args| {
            let values: Vec<Dynamic> = args.iter().map(|a| a.flatten_clone()).collect();
            perform(&mut run.borrow_mut(), &context, word, does, &values)
        });
    }
}

/// Checks a call and does it.
fn perform(
    run: &mut Run,
    context: &NativeCallContext,
    word: &'static Word,
    does: Does,
    values: &[Dynamic],
) -> Result<Dynamic, Box<EvalAltResult>> {
    let origin = run.origin(context);
    run.numbers_of(origin);
    run.counted = library::are_counts(values);
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
fn add_work(run: &mut Run, call: &Call) -> Dynamic {
    run.job.works.push(Work {
        word: call.word,
        parts: call.parts.clone(),
        options: call.options.clone(),
        after_glue_up: run.after_glue_up,
        origin: call.origin,
    });
    Dynamic::UNIT
}
