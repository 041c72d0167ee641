//! Corners of an outline as a script writes them.

use super::values::{Read, fault_help, wrong_type};
use crate::geometry::{Corner, DVec2, Edge, rise_through};
use crate::model::OptionValue;
use crate::problem::nearest;
use crate::script::run::Run;
use crate::script::value::{Value, describe, short};

/// How a corner is written.
const WRITTEN: &str = "a corner is [x, y], or #{ at: [x, y], rise: 12 } where an arc leaves it";

/// The keys of a corner that an arc leaves.
const KEYS: [&str; 3] = ["at", "rise", "through"];

impl Run {
    /// Corners `[x, y]`, `#{ at: [x, y], rise: 12 }` or `#{ at: [x, y], through:
    /// [x, y] }`.
    pub(in crate::script) fn corners(&self, value: &Value) -> Read<OptionValue> {
        let wants = "a list of at least three corners [x, y], or of two with an arc from each to the other";
        let Some(list) = value.list() else {
            return wrong_type(wants, value);
        };
        let corners = list.iter().map(|c| self.corner(c)).collect::<Read<Vec<Corner>>>()?;
        // Two half rounds make a disc.
        let is_round = corners.len() == 2 && corners.iter().all(|c| !matches!(c.edge, Edge::Straight));
        if corners.len() < 3 && !is_round {
            return wrong_type(wants, value);
        }
        for (corner, next) in corners.iter().zip(corners.iter().cycle().skip(1)) {
            if let Edge::Through(point) = corner.edge
                && rise_through(corner.at, point, next.at).is_none()
            {
                let [from, by, to] = [corner.at, point, next.at].map(|p| self.show_point(p));
                return fault_help(
                    "no-arc",
                    format!("has an arc from {from} through {by} to {to}, which lie in one line"),
                    "take a point off that line, or leave the edge straight: [x, y]".into(),
                );
            }
        }
        Ok(OptionValue::Points(corners))
    }

    /// Places on a face: `[along, across]`, or a list of such.
    pub(in crate::script) fn places(&self, value: &Value) -> Read<OptionValue> {
        let wants = "a list of places [along, across]";
        let Some(list) = value.list().filter(|list| !list.is_empty()) else {
            return wrong_type(wants, value);
        };
        // One place may stand by itself.
        let one = list.len() == 2 && list.iter().all(|end| end.list().is_none());
        let all = if one { std::slice::from_ref(value) } else { list };
        let place = |place: &Value| match place.list() {
            Some([x, y]) => {
                Ok(Corner { at: DVec2::new(self.length(x)?, self.length(y)?), edge: Edge::Straight })
            }
            _ => wrong_type(wants, place),
        };
        all.iter().map(place).collect::<Read<Vec<Corner>>>().map(OptionValue::Points)
    }

    /// One corner and the edge that leaves it.
    fn corner(&self, value: &Value) -> Read<Corner> {
        let Some(map) = value.map() else {
            let at = self.point(value, "a corner")?;
            return Ok(Corner { at, edge: Edge::Straight });
        };
        if let Some(key) = map.keys().find(|k| !KEYS.contains(&k.as_str())) {
            let takes = "a corner has `at`, and for an arc `rise` or `through`";
            let help = match nearest(key, KEYS) {
                Some(near) => format!("did you mean `{near}`? {takes}"),
                None => takes.into(),
            };
            return fault_help("unknown-option", format!("has a corner with the key `{}`", short(key)), help);
        }
        let Some(at) = map.get("at") else {
            return fault_help(
                "missing-option",
                "has a corner without `at`".into(),
                "write where it is: #{ at: [x, y], rise: 12 }".into(),
            );
        };
        let at = self.point(at, "a point for `at`")?;
        let edge = match (map.get("rise"), map.get("through")) {
            (None, None) => Edge::Straight,
            (Some(rise), None) => Edge::Rise(self.length(rise)?),
            (None, Some(point)) => Edge::Through(self.point(point, "a point for `through`")?),
            (Some(_), Some(_)) => {
                return fault_help(
                    "contradictory",
                    "has a corner with both `rise` and `through`".into(),
                    "say one: `rise` is how far the arc stands off the straight line, `through` a point of it".into(),
                );
            }
        };
        Ok(Corner { at, edge })
    }

    /// A point `[x, y]`, mm, where one is wanted.
    fn point(&self, value: &Value, wanted: &str) -> Read<DVec2> {
        match value.list() {
            Some([x, y]) => Ok(DVec2::new(self.length(x)?, self.length(y)?)),
            _ => fault_help(
                "wrong-type",
                format!("has {} where {wanted} is wanted", describe(value)),
                WRITTEN.into(),
            ),
        }
    }

    /// A point as the script's author would write it.
    fn show_point(&self, point: DVec2) -> String {
        format!("[{}, {}]", self.show(point.x), self.show(point.y))
    }
}
