//! The space a part fills, end by end, and the faces of others that it ends at.

use super::values::{AXES, GRID, LEAST, Read, axis_of, fault, fault_help, wrong_type};
use crate::geometry::{DVec3, Interval, Placement, extent_within};
use crate::model::{OptionKind, OptionValue, PartId, TurnAxis, TurnPoint, Word};
use crate::script::pose::{Beside, Pose, Spin};
use crate::script::run::Run;
use crate::script::value::{Against, Between, Map, PartRef, Value};
use crate::script::vocabulary::read::turn::within;

/// Looks at a space that hangs on itself before it counts as settled; each is nearer by
/// the sine of the lean, and lengths are kept to a millionth of a mm.
const MOST_LOOKS: u32 = 40;

/// Where a part reaches from and to on an axis, and where its middle is, mm.
#[derive(Clone, Copy, Debug)]
struct Faces {
    low: f64,
    high: f64,
    middle: f64,
}

impl Run {
    /// Works out where a part stands, as far as its options say, before its space is
    /// read: a space that ends at a leaning face depends on the other two.
    pub(in crate::script) fn stand_beside(&mut self, word: &Word, map: &Map) {
        self.beside = Beside::default();
        let turned = word.options.iter().any(|o| o.kind == OptionKind::Turn);
        // Where nothing leans, every face is the same wherever one stands.
        if !turned || !(map.contains_key("turn") || self.marks.iter().any(|m| !m.pose.is_square())) {
            return;
        }
        // The first look takes the whole faces where a space is not known yet; and what is
        // turned about a place of its own moves a little with its space.
        for _ in 0..MOST_LOOKS {
            let before = self.beside.clone();
            let spans: Vec<Option<Interval>> = AXES
                .iter()
                .map(|axis| self.span(map.get(*axis)?, axis_of(axis)).ok())
                .map(|span| span.map(|(from, to)| Interval { from, to }))
                .collect();
            for (axis, span) in spans.into_iter().enumerate() {
                self.beside.within[axis] = span;
            }
            self.beside.own = self.own_pose(map);
            if self.beside == before {
                break;
            }
        }
    }

    /// How a part is turned, as far as that is known before it is made: about its own
    /// length, width or thickness its space does not change.
    fn own_pose(&self, map: &Map) -> Pose {
        let mut pose = Pose::default();
        let Some(Ok(turns)) = map.get("turn").map(|value| self.turns(value)) else { return pose };
        let OptionValue::Turns(turns) = turns else { return pose };
        for turn in turns {
            let (TurnAxis::Way(axis), Some(about)) = (turn.axis, self.known(&pose, turn.about)) else {
                return Pose::default();
            };
            pose.spins.push(Spin { axis, by: turn.by, about });
        }
        pose
    }

    /// A point that a part is turned about, if its space is known so far.
    fn known(&self, pose: &Pose, about: TurnPoint) -> Option<DVec3> {
        match about {
            TurnPoint::At(point) => Some(point),
            TurnPoint::Of(share) => {
                let [Some(x), Some(y), Some(z)] = self.beside.within else { return None };
                let space = (DVec3::new(x.from, y.from, z.from), DVec3::new(x.to, y.to, z.to));
                Some(pose.of(Placement::IDENTITY).point(within(space, share)))
            }
        }
    }

    /// From where to where a whole part reaches on an axis, mm, as places are counted inside
    /// `moved`.
    pub(in crate::script) fn reach_of(&mut self, part: PartId, axis: usize) -> (f64, f64) {
        // What the part before was made beside is nothing to a part asked after by itself.
        self.beside = Beside::default();
        let Faces { low, high, .. } = self.faces(part, axis);
        let shift = self.shift.to_array()[axis];
        (low - shift, high - shift)
    }

    /// Where a part reaches from and to on an axis, where the part in hand stands.
    fn faces(&self, part: PartId, axis: usize) -> Faces {
        let (low, high) = self.space(part, axis);
        let square = Faces { low, high, middle: f64::midpoint(low, high) };
        let (Some(asked), Some(space)) = (self.marks.get(part.0), self.spaces.get(part.0)) else {
            return square;
        };
        // Turned alike, the two stand square to one another.
        if asked.pose == self.beside.own {
            return square;
        }
        let frame = self.beside.own.of(Placement::IDENTITY);
        let at = asked.pose.of(Placement::IDENTITY.moved(space.0)).seen_from(&frame);
        let size = space.1 - space.0;
        let Some(found) = reach(&at, size, axis, self.beside.within) else { return square };
        let plain = |place: f64| (place * GRID).round() / GRID;
        Faces { low: plain(found.from), high: plain(found.to), middle: at.point(0.5 * size)[axis] }
    }

    /// The space on one axis, mm, rising.
    pub(in crate::script) fn span(&self, value: &Value, axis: usize) -> Read<(f64, f64)> {
        let (a, b) = if let Value::Between(Between(a, b)) = value {
            self.between(*a, *b, axis)?
        } else if let Some([a, b]) = value.list() {
            self.ends(a, b, axis)?
        } else {
            return wrong_type("two places [from, to] or between(a, b)", value);
        };
        if b - a < LEAST {
            let message = if a - b >= LEAST {
                format!("runs backwards, from {} to {}", self.show(a), self.show(b))
            } else {
                format!("is empty: it runs from {} to {}", self.show(a), self.show(b))
            };
            return fault_help(
                "empty-space",
                message,
                "write the lower place first and leave room for the part".into(),
            );
        }
        Ok((a, b))
    }

    /// The space between two parts on an axis.
    fn between(&self, a: PartRef, b: PartRef, axis: usize) -> Read<(f64, f64)> {
        let (PartRef(Some(a)), PartRef(Some(b))) = (a, b) else { return Err(None) };
        let (one, two) = (self.faces(a, axis), self.faces(b, axis));
        let gap = if one.middle <= two.middle { (one.high, two.low) } else { (two.high, one.low) };
        if gap.1 - gap.0 < LEAST {
            let (name, other) = (self.name(a), self.name(b));
            let message =
                format!("has no space: `{name}` and `{other}` do not stand apart along {}", AXES[axis]);
            return fault_help(
                "no-space-between",
                message,
                "name two parts with room between them on this axis".into(),
            );
        }
        Ok(gap)
    }

    /// Two ends, each a length or the face of a part.
    fn ends(&self, a: &Value, b: &Value, axis: usize) -> Read<(f64, f64)> {
        let against = |value: &Value| match value {
            Value::Against(at) => Some(*at),
            _ => None,
        };
        let (low, high) = (against(a), against(b));
        let middle = |a: Against| self.middle(a.part, axis);
        match (low, high) {
            (None, None) => Ok((self.place(a, axis)?, self.place(b, axis)?)),
            (Some(low), None) => {
                let high = self.place(b, axis)?;
                Ok((self.face(low, high, axis)?, high))
            }
            (None, Some(high)) => {
                let low = self.place(a, axis)?;
                Ok((low, self.face(high, low, axis)?))
            }
            (Some(low), Some(high)) => {
                Ok((self.face(low, middle(high)?, axis)?, self.face(high, middle(low)?, axis)?))
            }
        }
    }

    /// A place on an axis of the piece, mm.
    fn place(&self, value: &Value, axis: usize) -> Read<f64> {
        Ok(self.length(value)? + self.shift.to_array()[axis])
    }

    /// The middle of a part on an axis.
    fn middle(&self, part: PartRef, axis: usize) -> Read<f64> {
        Ok(self.faces(part.0.ok_or(None)?, axis).middle)
    }

    /// The face of a part on the side of `other`, or the one asked for.
    fn face(&self, at: Against, other: f64, axis: usize) -> Read<f64> {
        let Faces { low, high, middle } = self.faces(at.part.0.ok_or(None)?, axis);
        match at.side {
            None => Ok(if other >= middle { high } else { low }),
            Some(side) => {
                let along = side.normal().to_array()[axis];
                if along == 0.0 {
                    let message =
                        format!("cannot lie against the {} of a part along {}", side.name(), AXES[axis]);
                    return fault("wrong-side", message);
                }
                Ok(if along > 0.0 { high } else { low })
            }
        }
    }
}

/// From where to where a part that leans reaches along an axis, where another stands;
/// where that stands beside it altogether, as far over as it does reach.
pub(in crate::script) fn reach(
    at: &Placement,
    size: DVec3,
    axis: usize,
    stands: [Option<Interval>; 3],
) -> Option<Interval> {
    let held = |other: usize| {
        let whole = extent_within(at, size, other, [None; 3])?;
        let stands = stands[other]?;
        let common = whole.common(stands);
        let near = stands.middle().clamp(whole.from, whole.to);
        Some(if common.length() >= 0.0 { common } else { Interval::at(near) })
    };
    let nearest = [held(0), held(1), held(2)];
    [stands, nearest, [None; 3]].into_iter().find_map(|within| extent_within(at, size, axis, within))
}
