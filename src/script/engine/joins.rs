//! Text beside a number or a text: `"Shelf " + 3` makes a name, but `"60 1/2" + 3` would
//! make 60 1/23 of a length, so a text that alone is a length is never joined to a number,
//! nor two such texts, nor is one compared with a number.

use rhai::{Dynamic, Engine, EvalAltResult, FLOAT, INT, ImmutableString, Position};

use super::failure::{joined_length, wrong_value_of};
use crate::measure::{Unit, read_length};
use crate::script::value::short;

/// A result the engine can carry.
type Outcome = Result<ImmutableString, Box<EvalAltResult>>;

/// Gives the engine `+` and `+=` of texts and numbers.
pub(in crate::script) fn register(engine: &mut Engine) {
    engine
        .register_fn("+", |text: ImmutableString, number: INT| after(&text, Dynamic::from_int(number)))
        .register_fn("+", |text: ImmutableString, number: FLOAT| after(&text, Dynamic::from_float(number)))
        .register_fn("+", |number: INT, text: ImmutableString| before(Dynamic::from_int(number), &text))
        .register_fn("+", |number: FLOAT, text: ImmutableString| before(Dynamic::from_float(number), &text))
        .register_fn("+=", |text: &mut ImmutableString, number: INT| {
            after(text, Dynamic::from_int(number)).map(|joined| *text = joined)
        })
        .register_fn("+=", |text: &mut ImmutableString, number: FLOAT| {
            after(text, Dynamic::from_float(number)).map(|joined| *text = joined)
        });
    for sign in ["-", "*", "/"] {
        engine
            .register_fn(sign, |text: ImmutableString, number: INT| reckoned(&text, &number.to_string()))
            .register_fn(sign, |text: ImmutableString, number: FLOAT| reckoned(&text, &number.to_string()))
            .register_fn(sign, |number: INT, text: ImmutableString| reckoned(&text, &number.to_string()))
            .register_fn(sign, |number: FLOAT, text: ImmutableString| reckoned(&text, &number.to_string()));
    }
    of_texts(engine);
    for sign in ["<", "<=", ">", ">="] {
        engine
            .register_fn(sign, |text: ImmutableString, number: INT| compared(&text, &number.to_string()))
            .register_fn(sign, |text: ImmutableString, number: FLOAT| compared(&text, &number.to_string()))
            .register_fn(sign, |number: INT, text: ImmutableString| compared(&text, &number.to_string()))
            .register_fn(sign, |number: FLOAT, text: ImmutableString| compared(&text, &number.to_string()));
    }
}

/// Gives the engine `+`, `+=` and `-` of two texts. The language's own `-` takes letters
/// out: 30 1/2 less 1/2 would be 30 and a blank.
fn of_texts(engine: &mut Engine) {
    engine
        .register_fn("+", |one: ImmutableString, two: ImmutableString| -> Outcome {
            both(&one, &two).map(|()| format!("{one}{two}").into())
        })
        .register_fn("+=", |one: &mut ImmutableString, two: ImmutableString| -> Result<(), _> {
            both(one, &two).map(|()| one.make_mut().push_str(&two))
        })
        .register_fn("-", |one: ImmutableString, two: ImmutableString| -> Outcome {
            both(&one, &two).map(|()| one.replace(two.as_str(), "").into())
        });
}

/// An error where both texts are lengths.
fn both(one: &str, two: &str) -> Result<(), Box<EvalAltResult>> {
    if read_length(two, Unit::Mm).is_ok() { joined(one, &format!("`{two}`").into()) } else { Ok(()) }
}

/// A text is neither more nor less than a number: the language would say no, unseen.
fn compared(text: &str, number: &str) -> Result<bool, Box<EvalAltResult>> {
    Err(EvalAltResult::ErrorRuntime(joined_length(text, number), Position::NONE).into())
}

/// A text that is a length, or is none, in a sum.
fn reckoned(text: &str, number: &str) -> Outcome {
    joined(text, &number.into())?;
    Err(EvalAltResult::ErrorRuntime(
        wrong_value_of(
            format!("a text, `{}`, does not work in a sum with {number}", short(text)),
            "a length to work with is a number, not a text: `60 + 1/2`, `mm(18)`, `inch(3/4)`",
        ),
        Position::NONE,
    )
    .into())
}

/// A number put behind a text.
#[allow(clippy::needless_pass_by_value, reason = "rhai hands values over")]
fn after(text: &ImmutableString, number: Dynamic) -> Outcome {
    joined(text, &number).map(|()| format!("{text}{number}").into())
}

/// A number put before a text.
#[allow(clippy::needless_pass_by_value, reason = "rhai hands values over")]
fn before(number: Dynamic, text: &ImmutableString) -> Outcome {
    joined(text, &number).map(|()| format!("{number}{text}").into())
}

/// An error where the text alone is a length.
fn joined(text: &str, number: &Dynamic) -> Result<(), Box<EvalAltResult>> {
    match read_length(text, Unit::Mm) {
        Ok(_) => {
            Err(EvalAltResult::ErrorRuntime(joined_length(text, &number.to_string()), Position::NONE).into())
        }
        Err(_) => Ok(()),
    }
}
