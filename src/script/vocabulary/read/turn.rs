//! Turns of a part and the line it runs along, as a script writes them.

use super::values::{AXES, FARTHEST, LEAST, Read, axis_of, choice, fault, fault_help, plain, wrong_type};
use crate::geometry::DVec3;
use crate::model::{OptionValue, PartId, RunEnd, Runs, Side, Turn, TurnAxis, TurnPoint};
use crate::problem::{nearest, wording};
use crate::script::run::Run;
use crate::script::value::{Map, PartRef, Value, describe, short};

/// How a turn is written.
const TURN: &str = "#{ axis: \"x\", by: 10, about: [0, 0, 0] }";
/// How a line is written.
const RUNS: &str = "#{ from: left, to: right, through: [0, 20, 300], toward: [1, 0, 0.2], wide: 60 }";
/// The ways of a part that it may be turned about.
const OWN: [&str; 3] = ["length", "width", "thickness"];
/// A whole turn, degrees: what is more is a slip.
const WHOLE: f64 = 360.0;
/// Turns too small to mean would leave faces that are nearly but not quite flush, which
/// no joint can meet, degrees.
const LEAST_TURN: f64 = 0.01;

impl Run {
    /// A turn out of the square, or a list of them.
    pub(in crate::script) fn turns(&self, value: &Value) -> Read<OptionValue> {
        let list = match value.list() {
            Some(list) => list.iter().map(|one| self.turn(one)).collect::<Read<Vec<Turn>>>()?,
            None => vec![self.turn(value)?],
        };
        Ok(OptionValue::Turns(list))
    }

    /// One turn.
    fn turn(&self, value: &Value) -> Read<Turn> {
        let Some(map) = value.map() else {
            return wrong_type(&format!("a turn such as {TURN}, or a list of them"), value);
        };
        if let Some(key) = map.keys().find(|k| !["axis", "by", "about"].contains(&k.as_str())) {
            let message = format!("has no key `{}`", short(key));
            return fault_help("unknown-option", message, "a turn has `axis`, `by` and `about`".into());
        }
        let (Some(axis), Some(by)) = (map.get("axis"), map.get("by")) else {
            return fault("missing-option", "needs `axis` and `by`".into());
        };
        let axis = self.axis(axis)?;
        let OptionValue::Number(by) = plain(by, -WHOLE, WHOLE, "an angle in degrees", "°")? else {
            return wrong_type("an angle in degrees", by);
        };
        if by != 0.0 && by.abs() < LEAST_TURN {
            return fault("out-of-range", "is less than a hundredth of a degree".into());
        }
        let about = match map.get("about") {
            None => TurnPoint::At(self.shift),
            Some(about) => self.about(about)?,
        };
        Ok(Turn { axis, by, about })
    }

    /// `"x"`, `"length"` or `[1, 0, 1]`.
    fn axis(&self, value: &Value) -> Read<TurnAxis> {
        if value.list().is_some() {
            return Ok(TurnAxis::Way(self.way(value, "axis")?));
        }
        let OptionValue::Text(axis) = choice(value, &[AXES, OWN].concat())? else {
            return wrong_type("an axis", value);
        };
        Ok(match axis.as_str() {
            "length" => TurnAxis::Length,
            "width" => TurnAxis::Width,
            "thickness" => TurnAxis::Thickness,
            _ => TurnAxis::Way([DVec3::X, DVec3::Y, DVec3::Z][axis_of(&axis)]),
        })
    }

    /// A direction `[x, y, z]` of any length, made unit.
    fn way(&self, value: &Value, key: &str) -> Read<DVec3> {
        let Some(way) = self.three(value)?.and_then(DVec3::try_normalize) else {
            return fault("wrong-type", format!("needs a direction such as [1, 0, 0.2] in `{key}`"));
        };
        Ok(way)
    }

    /// Three lengths; `None` if the value is no list of three.
    fn three(&self, value: &Value) -> Read<Option<DVec3>> {
        match value.list() {
            Some([x, y, z]) => Ok(Some(DVec3::new(self.length(x)?, self.length(y)?, self.length(z)?))),
            _ => Ok(None),
        }
    }

    /// A point of the piece, `"front bottom"` of the part itself, or `#{ of: part, at:
    /// "front bottom" }`.
    fn about(&self, value: &Value) -> Read<TurnPoint> {
        if let Some(text) = value.text() {
            return Ok(TurnPoint::Of(sides(text)?));
        }
        if let Some(map) = value.map() {
            let known = map.keys().all(|key| ["of", "at"].contains(&key.as_str()));
            if let (true, Some(Value::Part(part)), Some(at)) =
                (known, map.get("of"), map.get("at").and_then(Value::text))
            {
                let part = part.0.ok_or(None)?;
                return Ok(TurnPoint::At(self.point_of(part, sides(at)?)));
            }
        }
        match self.three(value)? {
            Some(point) => Ok(TurnPoint::At(point + self.shift)),
            None => fault_help(
                "wrong-type",
                "needs a point [x, y, z] in `about`".into(),
                "`about` is a point of the piece, [x, y, z]; an edge or corner of the part itself, \"front bottom\"; or \
                 of another, #{ of: seat, at: \"back top\" }"
                    .into(),
            ),
        }
    }

    /// A point of a part where it stands: on each axis of its space -1 at the low
    /// side, 0 in the middle, 1 at the high side.
    fn point_of(&self, part: PartId, share: DVec3) -> DVec3 {
        let Some((low, high)) = self.spaces.get(part.0) else { return self.shift };
        let pose = self.marks.get(part.0).map(|asked| asked.pose.clone()).unwrap_or_default();
        pose.of(crate::geometry::Placement::IDENTITY).point(within((*low, *high), share))
    }

    /// A line a part runs along.
    pub(in crate::script) fn runs(&self, value: &Value) -> Read<OptionValue> {
        const KEYS: [&str; 7] = ["from", "to", "through", "toward", "wide", "thick", "roll"];
        let Some(map) = value.map() else { return wrong_type(&format!("a line such as {RUNS}"), value) };
        if let Some(key) = map.keys().find(|k| !KEYS.contains(&k.as_str())) {
            let takes = format!("a line has {}", wording::all_of(KEYS));
            let help = match nearest(key, KEYS) {
                Some(near) => format!("did you mean `{near}`? {takes}"),
                None => takes,
            };
            return fault_help("unknown-option", format!("has no key `{}`", short(key)), help);
        }
        let (Some(from), Some(to), Some(wide)) = (map.get("from"), map.get("to"), map.get("wide")) else {
            return fault_help(
                "missing-option",
                "needs `from`, `to` and `wide`".into(),
                format!("it is written {RUNS}"),
            );
        };
        let size = |value: &Value| self.length_in(value, LEAST, FARTHEST);
        let runs = Runs {
            from: self.end(from, "from")?,
            to: self.end(to, "to")?,
            through: map.get("through").map(|v| self.middle_point(v, "through")).transpose()?,
            toward: map.get("toward").map(|v| self.way(v, "toward")).transpose()?,
            wide: size(wide)?,
            thick: map.get("thick").map(size).transpose()?,
            roll: match map.get("roll") {
                None => 0.0,
                Some(roll) => match plain(roll, -WHOLE, WHOLE, "an angle in degrees", "°")? {
                    OptionValue::Number(by) => by,
                    _ => 0.0,
                },
            },
        };
        one_line(map, &runs)?;
        Ok(OptionValue::Runs(runs))
    }

    /// An end of a line: a part whose face it ends on, or a point.
    fn end(&self, value: &Value, key: &str) -> Read<RunEnd> {
        match value {
            Value::Part(PartRef(Some(part))) => Ok(RunEnd::On(part.0)),
            Value::Part(PartRef(None)) => Err(None),
            _ => self.middle_point(value, key).map(RunEnd::At),
        }
    }

    /// A point of the middle line, piece coordinates.
    fn middle_point(&self, value: &Value, key: &str) -> Read<DVec3> {
        match self.three(value)? {
            Some(point) => Ok(point + self.shift),
            None => fault_help(
                "wrong-type",
                format!("has {} in `{key}`", describe(value)),
                "an end is a part, on whose face the line ends, or a point [x, y, z] of the middle line"
                    .into(),
            ),
        }
    }
}

/// Refuses a line that is said twice or not at all.
fn one_line(map: &Map, runs: &Runs) -> Read<()> {
    let points = usize::from(matches!(runs.from, RunEnd::At(_)))
        + usize::from(matches!(runs.to, RunEnd::At(_)))
        + usize::from(runs.through.is_some());
    let said = points + usize::from(runs.toward.is_some());
    if points == 0 || said < 2 {
        return fault_help(
            "missing-option",
            "does not say on which line the part runs".into(),
            "give two points of its middle line, or one in `through` and its way in `toward`".into(),
        );
    }
    if said > 2 {
        let given = ["from", "to", "through", "toward"]
            .into_iter()
            .filter(|key| map.get(*key).is_some_and(|value| !matches!(value, Value::Part(_))));
        return fault_help(
            "contradictory",
            format!("says its line more than once, by {}", wording::all_of(given)),
            "two points of the middle line are enough, or one and its way".into(),
        );
    }
    Ok(())
}

/// `"front bottom"` as a point of a space: an axis no side is named on counts as its
/// middle.
fn sides(text: &str) -> Read<DVec3> {
    let mut share = DVec3::ZERO;
    for word in text.split_whitespace().filter(|word| *word != "middle") {
        let Some(side) = Side::from_name(word) else {
            let help = "write the sides it lies on, such as \"bottom\", \"front bottom\" or \"left front bottom\"; \
                        \"middle\" is the middle of the part";
            return fault_help("unknown-choice", format!("cannot be about `{}`", short(text)), help.into());
        };
        share += side.normal();
    }
    if share.abs().max_element() > 1.0 || (share == DVec3::ZERO && text.trim() != "middle") {
        return fault_help(
            "unknown-choice",
            format!("cannot be about `{}`", short(text)),
            "name each side once, and not two that look opposite ways".into(),
        );
    }
    Ok(share)
}

/// A point of a space: on each axis -1 at its low side, 0 in the middle, 1 at its high
/// side.
pub(in crate::script) fn within((low, high): (DVec3, DVec3), share: DVec3) -> DVec3 {
    0.5 * (low + high) + 0.5 * share * (high - low)
}
