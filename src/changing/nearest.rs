//! A size that cannot be: what would make it possible, and the nearest that can be.
//!
//! Nothing here knows why a size is refused: the script is run with other values, and
//! what comes through is offered. So it holds for every rule of a type, of the user's
//! own script and of the joints alike.

use rayon::prelude::*;

use crate::examine;
use crate::measure::{Unit, number, read_length};
use crate::model::{SizeDecl, SizeKind};
use crate::problem::{Problem, wording};
use crate::script::{Request, declared};

/// Finest step a size is sought in: tenths of a millimetre, thirty-seconds of an inch.
const TENTH: f64 = 0.1;
const THIRTY_SECOND: f64 = 25.4 / 32.0;

/// Most values tried for what would make a size possible.
const MOST_TRIED: usize = 40;

/// Most ways named.
const MOST_NAMED: usize = 3;

/// How often the way to a size is halved: a thousand million steps.
const HALVINGS: usize = 30;

/// A size that cannot be, with the nearest that can.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Nearest {
    /// Its name.
    pub name: String,
    /// The value asked for.
    pub asked: String,
    /// The nearest that can be made, as `--set` takes it.
    pub value: String,
}

/// Whether a request can be made.
fn can_be(request: &Request) -> bool {
    examine(request).worked.is_some()
}

/// A request with one value set otherwise.
fn with(request: &Request, name: &str, value: &str) -> Request {
    let mut changed = request.clone();
    changed.settings.retain(|(known, _)| known != name);
    changed.settings.push((name.to_owned(), value.to_owned()));
    changed
}

/// The nearest sizes that can be, for a request that cannot: one of its sizes is changed,
/// the first with which the rest stands. `None` where it is none of its sizes.
pub fn nearest(request: &Request) -> Option<Nearest> {
    let known = declared(request);
    let unit = known.unit.unwrap_or(Unit::Mm);
    request.settings.iter().find_map(|(name, asked)| {
        let decl = known.sizes.iter().find(|decl| decl.name == *name)?;
        let value = nearest_of(request, decl, asked, unit)?;
        Some(Nearest { name: name.clone(), asked: asked.clone(), value })
    })
}

/// The nearest value of one size.
fn nearest_of(request: &Request, decl: &SizeDecl, asked: &str, unit: Unit) -> Option<String> {
    let (good, bad, step) = match &decl.kind {
        SizeKind::Length { default, .. } => {
            let step = if unit == Unit::Inch { THIRTY_SECOND } else { TENTH };
            (*default, read_length(asked, unit).ok()?, step)
        }
        SizeKind::Count { default, .. } => (*default as f64, asked.trim().parse().ok()?, 1.0),
        SizeKind::Choice { .. } | SizeKind::YesNo { .. } => return None,
    };
    let text = |value: f64| match decl.kind {
        SizeKind::Count { .. } => number(value, 0).replace('−', "-"),
        _ if unit == Unit::Inch => format!("{} in", number(value / unit.in_mm(), 5).replace('−', "-")),
        _ => format!("{} mm", number(value, 1).replace('−', "-")),
    };
    let holds = |value: f64| can_be(&with(request, &decl.name, &text(value)));
    if !holds(good) {
        return None;
    }
    // Whole steps from the default: the last that holds, and the first that does not.
    let (mut last, mut first) = (0.0_f64, ((bad - good).abs() / step).ceil());
    let toward = (bad - good).signum() * step;
    for _ in 0..HALVINGS {
        if first - last <= 1.0 {
            break;
        }
        let middle = f64::midpoint(last, first).floor();
        if holds(good + middle * toward) {
            last = middle;
        } else {
            first = middle;
        }
    }
    Some(text(good + last * toward))
}

/// What is said of a size that cannot be: what else would make it possible, and the
/// nearest. `None` where the settings are not to blame.
pub fn advice(request: &Request) -> Option<Problem> {
    if request.settings.is_empty() {
        return None;
    }
    let near = nearest(request)?;
    let ways = ways(request);
    let as_asked = match ways.len() {
        0 => String::new(),
        _ => format!("as asked with {}; or ", wording::one_of(ways.iter().map(String::as_str))),
    };
    let message = format!("`{}` cannot be `{}` as the rest stands", near.name, near.asked);
    let help =
        format!("it can be made {as_asked}with `{}={}`, which `--nearest` takes", near.name, near.value);
    Some(Problem::advice("size-could-be", message).help(help))
}

/// Other settings with which all sizes can be as they are asked for: `dividers=1`.
fn ways(request: &Request) -> Vec<String> {
    let free = |decl: &SizeDecl| !request.settings.iter().any(|(name, _)| *name == decl.name);
    let mut tries: Vec<(String, String)> = Vec::new();
    let known = declared(request).sizes;
    // Counts first: one more divider is what a maker thinks of before another design.
    for counts in [true, false] {
        for decl in known.iter().filter(|decl| free(decl)) {
            if counts == matches!(decl.kind, SizeKind::Count { .. }) {
                tries.extend(others(decl).into_iter().map(|value| (decl.name.clone(), value)));
            }
        }
    }
    tries.truncate(MOST_TRIED);
    let works = |(name, value): &(String, String)| can_be(&with(request, name, value));
    let found: Vec<bool> = tries.par_iter().map(works).collect();
    let good = tries.into_iter().zip(found).filter(|(_, good)| *good);
    good.map(|((name, value), _)| format!("{name}={value}")).take(MOST_NAMED).collect()
}

/// Other values of a declaration that are tried.
fn others(decl: &SizeDecl) -> Vec<String> {
    match &decl.kind {
        SizeKind::Count { default, from, to } => {
            let within = |value: &i64| {
                from.is_none_or(|from| *value >= from) && to.is_none_or(|to| *value <= to) && *value >= 0
            };
            [default + 1, default - 1].iter().filter(|value| within(value)).map(i64::to_string).collect()
        }
        SizeKind::Length { to, .. } => to.iter().map(|to| format!("{} mm", number(*to, 3))).collect(),
        SizeKind::Choice { default, among } => among.iter().filter(|one| *one != default).cloned().collect(),
        SizeKind::YesNo { default } => vec![if *default { "no" } else { "yes" }.into()],
    }
}

/// The request with the nearest sizes that can be, and what was taken; as it was where
/// it can be made, or no size is to blame.
pub fn settle(request: Request) -> (Request, Vec<Nearest>) {
    let (mut request, mut taken) = (request, Vec::new());
    // More than one size may be to blame; each is settled once.
    for _ in 0..request.settings.len() {
        if can_be(&request) {
            break;
        }
        let Some(near) = nearest(&request) else { break };
        request = with(&request, &near.name, &near.value);
        taken.push(near);
    }
    (request, taken)
}
