//! Numbers as makers mean them: `5/8` is 0.625, angles are degrees, and every
//! machine gives the same digits.

use rhai::{Dynamic, Engine, EvalAltResult, FLOAT, INT, Position};

/// A result the engine can carry.
type Outcome<T> = Result<T, Box<EvalAltResult>>;

/// Gives the engine our division, powers and functions of numbers.
pub(in crate::script) fn register(engine: &mut Engine) {
    engine
        .register_fn("/", |a: INT, b: INT| divide(a as FLOAT, b as FLOAT))
        .register_fn("/", |a: INT, b: FLOAT| divide(a as FLOAT, b))
        .register_fn("/", |a: FLOAT, b: INT| divide(a, b as FLOAT))
        .register_fn("/", divide)
        .register_fn("/=", |a: &mut Dynamic, b: Dynamic| -> Outcome<()> {
            let (Some(top), Some(bottom)) = (number(a), number(&b)) else {
                return Err(failure("only numbers can be divided"));
            };
            *a = divide(top, bottom)?;
            Ok(())
        })
        .register_fn("**", |a: INT, b: INT| power(a as FLOAT, b as FLOAT))
        .register_fn("**", |a: INT, b: FLOAT| power(a as FLOAT, b))
        .register_fn("**", |a: FLOAT, b: INT| power(a, b as FLOAT))
        .register_fn("**", power);
    for (name, function) in FUNCTIONS {
        engine.register_fn(*name, |a: INT| function(a as FLOAT).and_then(whole));
        engine.register_fn(*name, |a: FLOAT| function(a).and_then(whole));
    }
    for (name, pick) in PICKS {
        engine.register_fn(*name, |a: INT, b: INT| whole(pick(a as FLOAT, b as FLOAT)));
        engine.register_fn(*name, |a: INT, b: FLOAT| whole(pick(a as FLOAT, b)));
        engine.register_fn(*name, |a: FLOAT, b: INT| whole(pick(a, b as FLOAT)));
        engine.register_fn(*name, |a: FLOAT, b: FLOAT| whole(pick(a, b)));
    }
}

/// A function of one number.
type Function = fn(FLOAT) -> Outcome<FLOAT>;

/// Functions of one number; angles in degrees.
const FUNCTIONS: &[(&str, Function)] = &[
    ("floor", |x| Ok(x.floor())),
    ("ceiling", |x| Ok(x.ceil())),
    ("round", |x| Ok(x.round())),
    ("abs", |x| Ok(x.abs())),
    ("sqrt", |x| if x < 0.0 { Err(failure("a negative number has no square root")) } else { Ok(x.sqrt()) }),
    ("sin", |x| Ok(libm::sin(x.to_radians()))),
    ("cos", |x| Ok(libm::cos(x.to_radians()))),
    ("tan", |x| Ok(libm::tan(x.to_radians()))),
    ("asin", |x| arc(x, libm::asin)),
    ("acos", |x| arc(x, libm::acos)),
    ("atan", |x| Ok(libm::atan(x).to_degrees())),
];

/// A function of two numbers that cannot fail.
type Pick = fn(FLOAT, FLOAT) -> FLOAT;

/// Functions of two numbers.
const PICKS: &[(&str, Pick)] = &[("min", FLOAT::min), ("max", FLOAT::max)];

/// An angle in degrees from a sine or cosine.
fn arc(x: FLOAT, function: fn(FLOAT) -> FLOAT) -> Outcome<FLOAT> {
    if x.abs() > 1.0 {
        return Err(failure("no angle has that sine or cosine: it must be -1 to 1"));
    }
    Ok(function(x).to_degrees())
}

/// Division that never truncates; a whole result stays usable as a position
/// in a list.
fn divide(a: FLOAT, b: FLOAT) -> Outcome<Dynamic> {
    if b == 0.0 {
        return Err(failure("this divides by zero"));
    }
    whole(a / b)
}

/// A power with the same digits everywhere.
fn power(a: FLOAT, b: FLOAT) -> Outcome<Dynamic> {
    whole(libm::pow(a, b))
}

/// Up to here f64 holds every whole number: 2^53 is 9.007e15.
const WHOLE: f64 = 9.0e15;

/// The number as a whole one where it is.
fn whole(value: FLOAT) -> Outcome<Dynamic> {
    if !value.is_finite() {
        return Err(failure("this gives no finite number"));
    }
    #[allow(clippy::cast_possible_truncation, reason = "the branch holds only whole numbers that fit")]
    if value.fract() == 0.0 && value.abs() < WHOLE {
        return Ok(Dynamic::from_int(value as INT));
    }
    Ok(Dynamic::from_float(value))
}

/// A number of either kind.
pub(in crate::script) fn number(value: &Dynamic) -> Option<FLOAT> {
    let value = value.flatten_clone();
    value.as_float().ok().or_else(|| value.as_int().ok().map(|n| n as FLOAT))
}

/// An arithmetic failure; the engine adds the place.
#[allow(clippy::unnecessary_box_returns, reason = "the engine carries its errors boxed")]
fn failure(message: &str) -> Box<EvalAltResult> {
    EvalAltResult::ErrorArithmetic(message.into(), Position::NONE).into()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::script::vocabulary::language::NUMBERS;

    #[test]
    fn every_function_of_numbers_is_in_the_reference() {
        for name in FUNCTIONS.iter().map(|f| f.0).chain(PICKS.iter().map(|f| f.0)) {
            assert!(NUMBERS.iter().any(|saying| saying.name == name), "{name}");
        }
    }
}
