//! Tenons that lean: their shoulders, ends and mortises.

use super::faces::{SAME, axis_side, face_on};
use super::outlines::{axis_of, bounds, cuts_blank, flats, is_rectangle};
use crate::geometry::{DVec3, trig};
use crate::machining::tolerance::{ALONG, ENDS, NO_LEAN, STRAIGHT};
use crate::model::Face;
use crate::solid::Prism;

/// A cut of a tenon that leans. Part coordinates, mm, degrees.
#[derive(Clone, Debug)]
pub(crate) enum Leaning {
    /// One side of a tenon whose shoulder line is askew to the part.
    Shoulder(Shoulder),
    /// The end of such a tenon, sawn parallel to its shoulders.
    End(End),
    /// A square mortise that leans.
    Mortise(Mortise),
    /// A housing or groove whose walls lean.
    Channel(Channel),
}

/// See [`Leaning::End`].
#[derive(Clone, Debug)]
pub(crate) struct End {
    /// Whether it is at the far end.
    pub(crate) far: bool,
    /// A point of the plane, and its normal out of what is cut away.
    pub(crate) plane: (DVec3, DVec3),
    /// From the shoulders, along the part.
    pub(crate) apart: f64,
    /// The middle of the part's section on it.
    pub(crate) middle: DVec3,
}

/// See [`Leaning::Shoulder`].
#[derive(Clone, Debug)]
pub(crate) struct Shoulder {
    /// Whether it is at the far end.
    pub(crate) far: bool,
    /// The face it is sawn in from.
    pub(crate) side: Face,
    /// How deep.
    pub(crate) deep: f64,
    /// The corner of the blank's section where the shoulder is nearest the end.
    pub(crate) long: DVec3,
    /// How far that is from the end.
    pub(crate) from_end: f64,
    /// Mitre gauge off square, and tilt of the blade off upright with the part
    /// on its face.
    pub(crate) gauge: f64,
    pub(crate) blade: f64,
    /// The middle of the shoulder line on `side`.
    pub(crate) middle: DVec3,
    /// A point of the shoulder line's plane, and its normal out of what is cut
    /// away.
    pub(crate) plane: (DVec3, DVec3),
}

/// See [`Leaning::Mortise`].
#[derive(Clone, Debug)]
pub(crate) struct Mortise {
    /// Where its middle line enters.
    pub(crate) centre: DVec3,
    /// Unit, into the wood.
    pub(crate) into: DVec3,
    /// Unit, along its longer side.
    pub(crate) along: DVec3,
    /// Sides of its section.
    pub(crate) length: f64,
    pub(crate) width: f64,
    /// Along its middle line.
    pub(crate) depth: f64,
    /// Whether it comes out behind.
    pub(crate) through: bool,
    /// The face it is cut from.
    pub(crate) entry: Face,
}

/// See [`Leaning::Channel`].
#[derive(Clone, Debug)]
pub(crate) struct Channel {
    /// What it is called.
    pub(crate) name: &'static str,
    /// The face it is cut from.
    pub(crate) entry: Face,
    /// The axis across it.
    pub(crate) across: usize,
    /// Where it lies on the part: on `across` its mouth.
    pub(crate) low: DVec3,
    pub(crate) high: DVec3,
    /// Square to the face.
    pub(crate) depth: f64,
    /// What its walls lean off square to the face, degrees.
    pub(crate) lean: f64,
    /// The side they lean to, going in.
    pub(crate) toward: Face,
    /// Of the part.
    pub(crate) size: DVec3,
}

/// A bar along an axis with a bottom square to one of the others and two leaning walls.
pub(crate) fn channel(shape: &Prism, size: DVec3, name: &'static str) -> Option<Leaning> {
    let run = axis_of(shape.at.z)?;
    let sides: Vec<_> = flats(shape).into_iter().skip(2).collect();
    let (mut bottom, mut walls) = (None, Vec::new());
    for (point, normal) in sides {
        match axis_of(normal) {
            Some(axis) if cuts_blank(point, normal, size) => bottom = Some((point, normal, axis)),
            Some(_) => {}
            None => walls.push((point, normal)),
        }
    }
    let (floor, into, deep) = bottom?;
    let [(p, n), (q, m)] = walls.as_slice() else { return None };
    let across = 3 - run - deep;
    let far = into[deep] < 0.0;
    let face = if far { size[deep] } else { 0.0 };
    // Where a wall meets the face.
    let mouth = |at: &DVec3, out: &DVec3| at[across] + out[deep] * (at[deep] - face) / out[across];
    let (one, other) = (mouth(p, n), mouth(q, m));
    let (from, to) = bounds(shape);
    let (mut low, mut high) = (from.max(DVec3::ZERO), to.min(size));
    (low[across], high[across]) = (one.min(other), one.max(other));
    let slope = -n[deep] * into[deep].signum() / n[across];
    let lean = trig::atan2(slope.abs(), 1.0).to_degrees();
    Some(Leaning::Channel(Channel {
        name,
        entry: face_on(deep, far),
        across,
        low,
        high,
        depth: (floor[deep] - face).abs(),
        lean,
        toward: face_on(across, slope > 0.0),
        size,
    }))
}

/// A wedge between a cheek and a shoulder line askew to the part.
pub(crate) fn shoulder(shape: &Prism, size: DVec3) -> Option<Leaning> {
    let (mut cheek, mut line) = (None, None);
    for (point, normal) in flats(shape).into_iter().filter(|(p, n)| cuts_blank(*p, *n, size)) {
        let place = match axis_of(normal) {
            Some(1 | 2) => &mut cheek,
            Some(_) => return None,
            None => &mut line,
        };
        if place.replace((point, normal)).is_some() {
            return None;
        }
    }
    let ((at_cheek, toward), (point, normal)) = (cheek?, line.filter(|(_, n)| n.x.abs() > ENDS)?);
    let axis = axis_of(toward)?;
    // The cutter lies against its outward normal.
    let (side_far, far) = (toward[axis] < 0.0, normal.x < 0.0);
    let deep = if side_far { size[axis] - at_cheek[axis] } else { at_cheek[axis] };
    let at = |y: f64, z: f64| {
        let x = point.x + (normal.y * (point.y - y) + normal.z * (point.z - z)) / normal.x;
        DVec3::new(x, y, z)
    };
    let corners = [at(0.0, 0.0), at(size.y, 0.0), at(0.0, size.z), at(size.y, size.z)];
    let reach = |p: &DVec3| if far { p.x } else { -p.x };
    let long = corners.into_iter().max_by(|p, q| reach(p).total_cmp(&reach(q)))?;
    let mut middle = size / 2.0;
    middle[axis] = if side_far { size[axis] } else { 0.0 };
    Some(Leaning::Shoulder(Shoulder {
        far,
        side: face_on(axis, side_far),
        deep,
        long,
        from_end: if far { size.x - long.x } else { long.x },
        gauge: saw(normal).0,
        blade: saw(normal).1,
        middle: at(middle.y, middle.z),
        plane: (point, normal),
    }))
}

/// An end sawn askew to the part within a tenon: its blank's corners are gone.
pub(crate) fn end(shape: &Prism, size: DVec3) -> Option<Leaning> {
    let mut askew = flats(shape).into_iter().filter(|(point, normal)| cuts_blank(*point, *normal, size));
    let (point, normal) = askew.next().filter(|(_, n)| axis_of(*n).is_none() && n.x.abs() > ENDS)?;
    if askew.next().is_some() {
        return None;
    }
    let half = size / 2.0;
    let x = point.x + (normal.y * (point.y - half.y) + normal.z * (point.z - half.z)) / normal.x;
    let middle = DVec3::new(x, half.y, half.z);
    Some(Leaning::End(End { far: normal.x < 0.0, plane: (point, normal), apart: 0.0, middle }))
}

/// A square pocket sunk askew from before a face.
pub(crate) fn mortise(shape: &Prism, size: DVec3) -> Option<Leaning> {
    if !is_rectangle(&shape.outline) {
        return None;
    }
    let (low, high) = shape.outline.bounds()?;
    let (middle, span) = ((low + high) / 2.0, high - low);
    let start = shape.at.point(DVec3::new(middle.x, middle.y, shape.from));
    let into = shape.at.z;
    let (mut enters, mut leaves) = ((f64::NEG_INFINITY, Face::Marked), f64::INFINITY);
    for axis in (0..3).filter(|a| into[*a].abs() > STRAIGHT) {
        let (a, b) = (-start[axis] / into[axis], (size[axis] - start[axis]) / into[axis]);
        let near = a.min(b);
        if near > enters.0 {
            enters = (near, face_on(axis, into[axis] < 0.0));
        }
        leaves = leaves.min(a.max(b));
    }
    let (t, entry) = enters;
    let long = shape.to - shape.from;
    if t < -SAME || t > long || leaves < t {
        return None;
    }
    let lying = span.x >= span.y;
    Some(Leaning::Mortise(Mortise {
        centre: start + into * t,
        into,
        along: if lying { shape.at.x } else { shape.at.y },
        length: span.max_element(),
        width: span.min_element(),
        depth: long - t,
        through: leaves < long - SAME,
        entry,
    }))
}

impl Leaning {
    /// The face of the blank a drawing shows it from.
    pub(crate) fn seen_on(&self) -> Face {
        match self {
            Self::Shoulder(_) | Self::End(_) => Face::Marked,
            Self::Mortise(m) => m.entry,
            Self::Channel(c) => c.entry,
        }
    }

    /// The finest thing of it that is drawn with two lines, mm.
    pub(crate) fn finest(&self) -> f64 {
        match self {
            Self::Shoulder(_) | Self::End(_) => f64::MAX,
            Self::Mortise(m) => m.width,
            Self::Channel(c) => c.high[c.across] - c.low[c.across],
        }
    }

    /// Whether one note describes both: mortises alike but for their place, or
    /// shoulders on one line.
    pub(crate) fn alike(&self, other: &Self) -> bool {
        let close = |a: f64, b: f64| (a - b).abs() < SAME;
        match (self, other) {
            (Self::Shoulder(a), Self::Shoulder(b)) => {
                a.far == b.far
                    && (a.long - b.long).length() < SAME
                    && close(a.gauge, b.gauge)
                    && close(a.blade, b.blade)
            }
            (Self::Mortise(a), Self::Mortise(b)) => {
                a.entry == b.entry
                    && (a.into - b.into).length() < NO_LEAN
                    && a.along.dot(b.along).abs() > ALONG
                    && close(a.length, b.length)
                    && close(a.width, b.width)
                    && close(a.depth, b.depth)
                    && a.through == b.through
            }
            (Self::Channel(a), Self::Channel(b)) => {
                let wide = |c: &Channel| c.high[c.across] - c.low[c.across];
                a.entry == b.entry
                    && (a.across, a.toward, a.name) == (b.across, b.toward, b.name)
                    && close(wide(a), wide(b))
                    && close(a.depth, b.depth)
                    && close(a.lean, b.lean)
            }
            _ => false,
        }
    }

    /// Where its middle stands on an axis, and what lies there on the other.
    pub(crate) fn places(&self, axis: usize, other: usize) -> Vec<(f64, char, (f64, f64))> {
        match self {
            Self::Mortise(m) => vec![(m.centre[axis], 'c', (m.centre[other], m.centre[other]))],
            Self::Channel(c) if axis == c.across => {
                vec![(0.5 * (c.low[axis] + c.high[axis]), 'c', (c.low[other], c.high[other]))]
            }
            // Along its run it is as long as the part, or stopped.
            Self::Channel(c) if axis != axis_side(c.entry).0 => {
                let lies = (c.low[other], c.high[other]);
                let low = (c.low[axis] > SAME).then_some((c.low[axis], 'a', lies));
                low.into_iter()
                    .chain((c.high[axis] < c.size[axis] - SAME).then_some((c.high[axis], 'b', lies)))
                    .collect()
            }
            Self::Shoulder(_) | Self::End(_) | Self::Channel(_) => Vec::new(),
        }
    }

    /// Its middle and half its section along its sides, in a view on `face`.
    pub(crate) fn cross(&self, face: Face) -> Option<(DVec3, f64)> {
        match self {
            Self::Mortise(m) if axis_side(m.entry).0 == axis_side(face).0 => Some((m.centre, 0.5 * m.length)),
            _ => None,
        }
    }

    /// Places a leader may touch.
    pub(crate) fn targets(&self) -> Vec<DVec3> {
        match self {
            Self::Shoulder(s) => vec![s.middle],
            Self::End(e) => vec![e.middle],
            Self::Channel(c) => {
                let mut at = 0.5 * (c.low + c.high);
                let (axis, far) = axis_side(c.entry);
                at[axis] = if far { c.high[axis] } else { c.low[axis] };
                [c.low[c.across], c.high[c.across]]
                    .map(|wall| {
                        let mut p = at;
                        p[c.across] = wall;
                        p
                    })
                    .to_vec()
            }
            Self::Mortise(m) => {
                // Where the middles of its sides come out at the face.
                let (axis, _) = axis_side(m.entry);
                let out = |p: DVec3| p + m.into * ((m.centre[axis] - p[axis]) / m.into[axis]);
                let across = m.into.cross(m.along);
                let ways = [(m.along, m.length), (across, m.width)];
                ways.into_iter()
                    .flat_map(|(way, long)| [0.5, -0.5].map(|t| out(m.centre + way * (t * long))))
                    .collect()
            }
        }
    }
}

impl Mortise {
    /// How far it leans off square to its face, and how far the line it leans
    /// along is off the length of the part (off the width, in an end), degrees.
    pub(crate) fn resultant(&self) -> (f64, f64) {
        let (axis, _) = axis_side(self.entry);
        let (i, j) = across(axis);
        let flat = DVec3::new(self.into[i], self.into[j], 0.0);
        let lean = trig::atan2(flat.length(), self.into[axis].abs()).to_degrees();
        (lean, trig::atan2(flat.y.abs(), flat.x.abs()).to_degrees())
    }

    /// How far its sides are turned from where leaning alone would bring those
    /// of a mortise square to the part, degrees.
    pub(crate) fn turned(&self) -> f64 {
        let (axis, _) = axis_side(self.entry);
        let mut straight = DVec3::ZERO;
        straight[axis] = self.into[axis].signum();
        let mut side = DVec3::ZERO;
        side[across(axis).0] = 1.0;
        // The least turn that brings `straight` to `into`, by Rodrigues' formula.
        let about = straight.cross(self.into);
        let cos = straight.dot(self.into);
        let side = side * cos + about.cross(side) + about * (about.dot(side) / (1.0 + cos));
        let share = side.dot(self.along).abs();
        let off = trig::acos(share.min(1.0)).to_degrees();
        off.min(QUARTER - off)
    }
}

/// A quarter turn, degrees.
const QUARTER: f64 = 90.0;

/// Mitre gauge off square and tilt of the blade off upright for a cut with this
/// normal, the part lying on its face; degrees.
pub(crate) fn saw(normal: DVec3) -> (f64, f64) {
    let gauge = trig::atan2(normal.y.abs(), normal.x.abs()).to_degrees();
    (gauge, trig::atan2(normal.z.abs(), normal.truncate().length()).to_degrees())
}

/// The other two axes, the longer way of the part first.
pub(crate) fn across(axis: usize) -> (usize, usize) {
    [(1, 2), (0, 2), (0, 1)][axis.min(2)]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: it leans 3 in 5 along the part, so that 10 across is 12.5 at the face.
    #[test]
    fn leaders_touch_a_leaning_mortise_where_its_sides_come_out() {
        let mortise = Leaning::Mortise(Mortise {
            centre: DVec3::new(100.0, 30.0, 0.0),
            into: DVec3::new(0.6, 0.0, 0.8),
            along: DVec3::Y,
            length: 40.0,
            width: 10.0,
            depth: 15.0,
            through: false,
            entry: Face::Marked,
        });
        let by_hand = [[100.0, 50.0, 0.0], [100.0, 10.0, 0.0], [93.75, 30.0, 0.0], [106.25, 30.0, 0.0]];
        for (target, place) in mortise.targets().into_iter().zip(by_hand) {
            assert!(target.distance(place.into()) < 1e-9, "{target} is not {place:?}");
        }
    }

    /// By hand: a mortise that leans 30 degrees, its cutter begun 10 before the face it
    /// goes in by: 10 / cos 30 of it lies before the wood.
    #[test]
    fn a_leaning_mortise_is_cut_from_the_face_it_enters() {
        use crate::geometry::{DVec2, Outline, Placement};
        let size = DVec3::new(100.0, 60.0, 20.0);
        let (sin, cos) = trig::sin_cos(30.0_f64.to_radians());
        for (z, down, entry) in [(-10.0, cos, Face::Marked), (30.0, -cos, Face::Back)] {
            for (long, through) in [(25.0, false), (40.0, true)] {
                let at = Placement::looking(DVec3::new(40.0, 30.0, z), DVec3::new(sin, 0.0, down), DVec3::Y);
                let outline = Outline::rect(DVec2::new(-5.0, -3.0), DVec2::new(5.0, 3.0));
                let shape = Prism { at: at.unwrap(), outline, from: 0.0, to: long };
                let Some(Leaning::Mortise(found)) = mortise(&shape, size) else { panic!("{shape:?}") };
                assert_eq!((found.entry, found.through), (entry, through));
                assert!((found.depth - (long - 10.0 / cos)).abs() < 1e-9, "{found:?}");
                assert!((found.length - 10.0).abs() < 1e-9 && (found.width - 6.0).abs() < 1e-9);
                assert!(found.along.y.abs() > 0.999);
                let face = if entry == Face::Back { 20.0 } else { 0.0 };
                assert!((found.centre - DVec3::new(40.0 + 10.0 * sin / cos, 30.0, face)).length() < 1e-9);
            }
        }
        // One that ends before the wood, or misses it, is none.
        let at = Placement::looking(DVec3::new(40.0, 30.0, -10.0), DVec3::new(sin, 0.0, cos), DVec3::Y);
        let outline = Outline::rect(DVec2::new(-5.0, -3.0), DVec2::new(5.0, 3.0));
        let short = Prism { at: at.unwrap(), outline, from: 0.0, to: 11.0 };
        assert!(mortise(&short, size).is_none());
    }
}
