//! A part as it is worked before it is joined: its box less what shapes it and what
//! is sawn off its ends.

use std::cell::OnceCell;

use crate::geometry::{DVec3, Plane};
use crate::joinery::bench::blank::Blank;
use crate::joinery::bench::tolerance::{NOISE, ONE_WAY, TURNED};
use crate::model::{Form, Part};
use crate::solid::{Body, CarveProblem, Prism, Solid, carve, is_flat, plane_of};

/// A face that looks along the way out of a hole by more than this, 20 degrees off, is that
/// of its mouth or runs on from it, as a taper does: its plane is near the mouth far from the
/// face itself, and says nothing of the wood left.
const MOUTH: f64 = 0.94;

/// A part with its true faces.
#[derive(Clone, Debug)]
pub(in crate::joinery) struct Real {
    /// What it is cut from.
    pub(in crate::joinery) blank: Blank,
    /// What is cut away, part coordinates.
    cuts: Vec<Prism>,
    /// What is left, worked out when it is first asked for: most parts that are shaped are
    /// joined where their boxes meet.
    left: OnceCell<Left>,
}

/// What the cuts leave of a part.
#[derive(Clone, Debug)]
struct Left {
    /// Part coordinates; empty where it does not close.
    solid: Solid,
    /// Whether no face looks at another, so that its planes alone say what is in it.
    is_convex: bool,
}

impl Real {
    /// A flat part cut from `blank`, less `cuts` (piece coordinates). `None` for what
    /// comes from the lathe.
    pub(in crate::joinery) fn of(part: &Part, blank: Blank, cuts: &[Prism]) -> Option<Self> {
        if part.form != Form::Flat {
            return None;
        }
        Some(Self::cut(blank, cuts.iter().map(|cut| cut.seen_from(&blank.at)).collect()))
    }

    /// The blank less `cuts` (part coordinates).
    fn cut(blank: Blank, cuts: Vec<Prism>) -> Self {
        Self { blank, cuts, left: OnceCell::new() }
    }

    /// What is left of it.
    fn left(&self) -> &Left {
        self.left.get_or_init(|| {
            let solid = carve(&body(&self.blank), &self.cuts).unwrap_or_default();
            let behind = |p: &DVec3| solid.faces.iter().all(|f| f.plane.distance(*p) < NOISE);
            let is_convex = solid.points.iter().all(behind);
            Left { solid, is_convex }
        })
    }

    /// What is left, part coordinates; empty where it does not close.
    pub(in crate::joinery) fn solid(&self) -> &Solid {
        &self.left().solid
    }

    /// The same part longer by `by` towards `toward` (never shorter), and sawn along
    /// `cut`, piece coordinates.
    pub(in crate::joinery) fn sawn(&self, toward: DVec3, by: f64, cut: Option<&Prism>) -> Option<Self> {
        let blank = self.blank.grown(toward, by.max(0.0))?;
        let whole = self.cuts.iter().map(|c| c.within(&self.blank.at));
        let cuts = whole.chain(cut.cloned()).map(|c| c.seen_from(&blank.at)).collect();
        Some(Self::cut(blank, cuts))
    }

    /// In how many pieces its cuts leave it, where that is more than one: a straight cut
    /// across a hollow parts what is shaped.
    pub(in crate::joinery) fn falls_apart(&self) -> Option<usize> {
        match carve(&body(&self.blank), &self.cuts) {
            Err(CarveProblem::FallsApart { pieces }) => Some(pieces),
            _ => None,
        }
    }

    /// Its flat faces, piece coordinates.
    pub(in crate::joinery) fn planes(&self) -> Vec<Plane> {
        self.solid().faces.iter().filter(|f| is_flat(f)).map(|f| plane_of(f, &self.blank.at)).collect()
    }

    /// The plane by which a line from a point in or on it along `way` leaves it: of its
    /// faces, or of its box where they look at one another.
    pub(in crate::joinery) fn way_out(&self, from: DVec3, way: DVec3) -> Option<Plane> {
        let of_face = |f| plane_of(f, &self.blank.at);
        let all: Vec<Plane> = if self.left().is_convex {
            self.solid().faces.iter().map(of_face).collect()
        } else {
            self.blank.planes().to_vec()
        };
        let off = |plane: &Plane| -plane.distance(from) / plane.normal.dot(way);
        let ahead = all.into_iter().filter(|plane| plane.normal.dot(way) > TURNED);
        ahead.min_by(|p, q| off(p).total_cmp(&off(q)))
    }

    /// Whether a plain saw cut made a face, and no outline.
    pub(in crate::joinery) fn is_cut_flat(&self, face: &Plane) -> bool {
        let from = |cut: &Prism| {
            let cut = cut.within(&self.blank.at);
            cut.at.z.dot(face.normal) > ONE_WAY
                && face.distance(cut.at.point(DVec3::Z * cut.from)).abs() < NOISE
        };
        self.cuts.iter().any(from)
    }

    /// Least distance from any of `points` to a face, mm, negative where one lies
    /// outside; `None` where faces look at one another, so that distances from planes do
    /// not tell. Faces that look along `but` do not count.
    pub(in crate::joinery) fn wall(&self, points: &[DVec3], but: DVec3) -> Option<f64> {
        self.wall_but(points, &[but])
    }

    /// The same where faces that look along any of several directions do not count.
    pub(in crate::joinery) fn wall_but(&self, points: &[DVec3], but: &[DVec3]) -> Option<f64> {
        if !self.left().is_convex {
            return None;
        }
        let planes = self.solid().faces.iter().map(|f| plane_of(f, &self.blank.at));
        let counts = planes.filter(|plane| but.iter().all(|way| plane.normal.dot(*way) < MOUTH));
        let each = counts.flat_map(|plane| points.iter().map(move |p| -plane.distance(*p)));
        Some(each.fold(f64::INFINITY, f64::min))
    }

    /// What is left when one more shape (piece coordinates) is cut from it; `None` where
    /// that falls apart.
    pub(in crate::joinery) fn less(&self, shape: &Prism) -> Option<Solid> {
        let mut cuts = self.cuts.clone();
        cuts.push(shape.seen_from(&self.blank.at));
        carve(&body(&self.blank), &cuts).ok()
    }

    /// How much of a shape (piece coordinates) is not wood, mm3.
    pub(in crate::joinery) fn open(&self, shape: &Prism) -> f64 {
        // What is cut away altogether leaves no solid: then all of the part was in it.
        let left = self.less(shape).map_or(0.0, |solid| solid.volume());
        shape.outline.area() * (shape.to - shape.from) - (self.solid().volume() - left)
    }
}

/// The box a part is cut from, part coordinates.
fn body(blank: &Blank) -> Body {
    Body::Prism(Prism::cuboid(DVec3::ZERO, blank.size))
}
