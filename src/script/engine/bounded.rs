//! Functions of the language held to the bounds of a script while they work.
//!
//! The engine looks at a value only when a function has given it. What grows by
//! a product (a text put in place of every letter of another, a list for every
//! entry of a list) would by then have taken all the memory there is, so these
//! are made here anew and count first. Functions that wait are switched off.

use rhai::{
    Array, Dynamic, Engine, EvalAltResult, FLOAT, FnPtr, FuncRegistration, INT, ImmutableString, Map,
    NativeCallContext, Position,
};

use crate::script::request::Limits;

/// A result the engine can carry.
type Outcome<T> = Result<T, Box<EvalAltResult>>;

/// Functions of the engine that a script does not have: there is nothing to wait for, and
/// time spent asleep is counted by no bound; a script that left early would look whole;
/// and nobody need list the engine's inside.
pub(in crate::script) const SWITCHED_OFF: [&str; 3] = ["sleep", "exit", "get_fn_metadata_list"];

/// Gives the engine the bounded functions in place of its own.
pub(in crate::script) fn register(engine: &mut Engine, limits: Limits) {
    switch_off(engine);
    texts(engine, limits.text);
    engine.register_fn("pad", move |list: &mut Array, to: INT, with: Dynamic| {
        lengthen(list, to, &with, limits)
    });
    pure("map").register_into_engine(
        engine,
        move |context: NativeCallContext<'_>, list: &mut Array, by: FnPtr| {
            mapped(&context, list, &by, limits)
        },
    );
    pure("map").register_into_engine(
        engine,
        move |context: NativeCallContext<'_>, map: &mut Map, by: FnPtr| {
            mapped_map(&context, map, &by, limits)
        },
    );
    pure("zip").register_into_engine(
        engine,
        move |context: NativeCallContext<'_>, list: &mut Array, other: Array, by: FnPtr| {
            zipped(&context, list, other, &by, limits)
        },
    );
}

/// A function that changes nothing, so that it works on constants too.
fn pure(name: &str) -> FuncRegistration {
    FuncRegistration::new(name).with_purity(true)
}

/// Makes the functions that are switched off fail as words that do not exist.
fn switch_off(engine: &mut Engine) {
    for name in SWITCHED_OFF {
        let unknown = move || -> Outcome<()> {
            Err(EvalAltResult::ErrorFunctionNotFound(name.into(), Position::NONE).into())
        };
        engine.register_fn(name, unknown);
        engine.register_fn(name, move |_: INT| unknown());
        engine.register_fn(name, move |_: FLOAT| unknown());
        engine.register_fn(name, move |_: &str| unknown());
        engine.register_fn(name, move |_: &str, _: INT| unknown());
        engine.register_fn(name, move |_: Dynamic| unknown());
    }
}

/// The functions that make texts longer.
fn texts(engine: &mut Engine, most: usize) {
    engine
        .register_fn("replace", move |text: &mut ImmutableString, find: &str, by: &str| {
            replace(text, find, by, most)
        })
        .register_fn("replace", move |text: &mut ImmutableString, find: &str, by: char| {
            replace(text, find, by.encode_utf8(&mut [0; 4]), most)
        })
        .register_fn("replace", move |text: &mut ImmutableString, find: char, by: &str| {
            replace(text, find.encode_utf8(&mut [0; 4]), by, most)
        })
        .register_fn("replace", move |text: &mut ImmutableString, find: char, by: char| {
            replace(text, find.encode_utf8(&mut [0; 4]), by.encode_utf8(&mut [0; 4]), most)
        })
        .register_fn("pad", move |text: &mut ImmutableString, to: INT, with: &str| pad(text, to, with, most))
        .register_fn("pad", move |text: &mut ImmutableString, to: INT, with: char| {
            pad(text, to, with.encode_utf8(&mut [0; 4]), most)
        });
}

/// Puts `by` in place of every `find`.
fn replace(text: &mut ImmutableString, find: &str, by: &str, most: usize) -> Outcome<()> {
    if text.is_empty() {
        return Ok(());
    }
    let places = text.matches(find).count();
    let kept = text.len() - places * find.len();
    if kept.saturating_add(places.saturating_mul(by.len())) > most {
        return Err(too_long());
    }
    *text = text.replace(find, by).into();
    Ok(())
}

/// Makes a text `to` letters long, where it is shorter, by `with` again and
/// again. With nothing, it stays as it is.
fn pad(text: &mut ImmutableString, to: INT, with: &str, most: usize) -> Outcome<()> {
    let missing = usize::try_from(to).unwrap_or(0).saturating_sub(text.chars().count());
    if missing > most {
        return Err(too_long());
    }
    // A letter takes at most four bytes.
    let added: String = with.chars().cycle().take(missing).collect();
    if text.len() + added.len() > most {
        return Err(too_long());
    }
    text.make_mut().push_str(&added);
    Ok(())
}

/// Makes a list `to` entries long, where it is shorter.
fn lengthen(list: &mut Array, to: INT, with: &Dynamic, limits: Limits) -> Outcome<()> {
    let missing = usize::try_from(to).unwrap_or(0).saturating_sub(list.len());
    if missing == 0 {
        return Ok(());
    }
    let mut held = Held::default();
    for entry in list.iter() {
        held.add(entry, 1);
    }
    held.add(with, missing);
    held.within(limits)?;
    list.resize(list.len() + missing, with.clone());
    Ok(())
}

/// What `by` gives for each entry of a list.
fn mapped(context: &NativeCallContext<'_>, list: &mut Array, by: &FnPtr, limits: Limits) -> Outcome<Array> {
    let mut held = Held::default();
    let mut made = Array::new();
    for (at, entry) in (0 as INT..).zip(list.iter_mut()) {
        let value = by.call_raw_with_extra_args("map", context, Some(entry), [], [at.into()], Some(0))?;
        held.add(&value, 1);
        held.within(limits)?;
        made.push(value);
    }
    Ok(made)
}

/// What `by` gives for each key of a map and what it holds.
fn mapped_map(context: &NativeCallContext<'_>, map: &mut Map, by: &FnPtr, limits: Limits) -> Outcome<Map> {
    let mut held = Held::default();
    let mut made = Map::new();
    for (key, entry) in map.iter_mut() {
        let name = Dynamic::from(ImmutableString::from(key.as_str()));
        let value = by.call_raw_with_extra_args("map", context, Some(entry), [name], [], Some(1))?;
        held.add(&value, 1);
        held.within(limits)?;
        made.insert(key.clone(), value);
    }
    Ok(made)
}

/// What `by` gives for each entry of two lists, pair by pair.
fn zipped(
    context: &NativeCallContext<'_>,
    list: &mut Array,
    other: Array,
    by: &FnPtr,
    limits: Limits,
) -> Outcome<Array> {
    let mut held = Held::default();
    let mut made = Array::new();
    for (at, (one, two)) in (0 as INT..).zip(list.iter().zip(other)) {
        let pair = [one.clone(), two];
        let value = by.call_raw_with_extra_args("zip", context, None, pair, [at.into()], None)?;
        held.add(&value, 1);
        held.within(limits)?;
        made.push(value);
    }
    Ok(made)
}

/// What a list or map holds, with all that is in it.
#[derive(Clone, Copy, Debug, Default)]
struct Held {
    /// Entries of lists and maps.
    entries: usize,
    /// Bytes of texts.
    text: usize,
}

impl Held {
    /// A value `times` over.
    fn add(&mut self, value: &Dynamic, times: usize) {
        let one = Self::of(value);
        self.entries = self.entries.saturating_add(one.entries.saturating_mul(times));
        self.text = self.text.saturating_add(one.text.saturating_mul(times));
    }

    /// One entry and what is in it.
    fn of(value: &Dynamic) -> Self {
        let mut held = Self { entries: 1, text: 0 };
        if let Some(list) = value.read_lock::<Array>() {
            list.iter().for_each(|entry| held.add(entry, 1));
        } else if let Some(map) = value.read_lock::<Map>() {
            map.values().for_each(|entry| held.add(entry, 1));
        } else if let Ok(text) = value.as_immutable_string_ref() {
            held.text = text.len();
        }
        held
    }

    /// An error where it is more than a value may hold.
    fn within(self, limits: Limits) -> Outcome<()> {
        if self.text > limits.text {
            return Err(too_long());
        }
        if self.entries > limits.entries {
            return Err(too_large("Size of array/BLOB"));
        }
        Ok(())
    }
}

/// The error of a text that grows too long.
#[allow(clippy::unnecessary_box_returns, reason = "the engine carries its errors boxed")]
fn too_long() -> Box<EvalAltResult> {
    too_large("Length of string")
}

/// The engine's own error of a value that grows too large; it adds the place.
#[allow(clippy::unnecessary_box_returns, reason = "the engine carries its errors boxed")]
fn too_large(what: &str) -> Box<EvalAltResult> {
    EvalAltResult::ErrorDataTooLarge(what.into(), Position::NONE).into()
}
