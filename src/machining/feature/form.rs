//! What a cut is, as a drawing or a machine sees it.

use super::faces::{face_on, nearest_face};
use super::flared::Flared;
use super::leaning::Leaning;
use super::raked::Raked;
use super::sloped_bore::SlopedBore;
use crate::geometry::DVec3;
use crate::geometry::tolerance::HAIR;
use crate::joinery::{CutKind, Stage};
use crate::model::Face;

/// One cut, as a drawing describes it. Part coordinates, mm.
#[derive(Clone, Debug)]
pub(crate) struct Feature {
    /// Index into [`WorkedPart::cuts`](crate::joinery::WorkedPart::cuts).
    pub(crate) cut: usize,
    /// What it is.
    pub(crate) kind: CutKind,
    /// When it is made.
    pub(crate) stage: Stage,
    /// Its form.
    pub(crate) form: Form,
    /// Whether it is a shoulder in the line that a tenon on its end stands out from, the
    /// other end having one too: that line is sized once for all.
    pub(crate) in_line: bool,
    /// Whether it is a shoulder that ends nearer to its end than others there: what it leaves
    /// of the tenon is a haunch.
    pub(crate) haunch: bool,
}

/// The form of a cut where it meets the blank.
#[derive(Clone, Debug)]
pub(crate) enum Form {
    /// A box: mortise, channel, step, notch.
    Pocket {
        /// Least corner inside the blank.
        min: DVec3,
        /// Greatest corner inside the blank.
        max: DVec3,
        /// The face it is cut from.
        entry: Face,
        /// Radius of its round ends, 0 if square.
        round: f64,
    },
    /// A round hole square to a face.
    Hole {
        /// Its centre on the face.
        centre: DVec3,
        /// The face it is bored from.
        entry: Face,
        /// Diameter.
        diameter: f64,
        /// Depth; the whole thickness if through.
        depth: f64,
        /// Whether it comes out behind.
        through: bool,
    },
    /// A flat cut askew to the blank in two of its axes.
    Slope {
        /// The axis of the blank it lies along.
        along: usize,
        /// The two places, in the blank's cross-section, where the cut leaves it.
        ends: [DVec3; 2],
        /// A point of what is cut away, which shows its side.
        away: DVec3,
    },
    /// An end sawn at an angle both ways: a compound mitre.
    Compound {
        /// Whether it is the far end.
        far: bool,
        /// The corner of the blank's cross-section where the end stays longest.
        long: DVec3,
        /// Mitre gauge off square, degrees.
        gauge: f64,
        /// Tilt of the blade off upright with the part on its face, degrees.
        blade: f64,
        /// The middle of the cut's trace on the marked face.
        middle: DVec3,
    },
    /// A long edge sawn aslant both ways: the mitre of a side that leans.
    Raked(Raked),
    /// A round hole or a pocket with round ends, sunk askew to the faces: into a
    /// mitre.
    Askew {
        /// The middle of its mouth.
        centre: DVec3,
        /// Unit vector into the material.
        into: DVec3,
        /// Unit vector along its length.
        along: DVec3,
        /// Length; the diameter of a hole.
        length: f64,
        /// Width; the diameter of a hole.
        width: f64,
        /// Depth.
        depth: f64,
        /// From the inner corner of the mitre it is sunk into, along the mitre.
        from_inner: Option<f64>,
    },
    /// A cut of a tenon that leans.
    Leaning(Leaning),
    /// A socket with leaning sides.
    Flared(Flared),
    /// A pocket of a pocket screw, with its bore.
    SlopedBore(SlopedBore),
    /// Anything else, swept square to a face.
    Shape {
        /// The face it is cut from.
        entry: Face,
        /// Depth; the whole thickness if through.
        depth: f64,
        /// Whether it comes out behind.
        through: bool,
        /// Its corners on the face: where straight edges and arcs meet.
        corners: Vec<DVec3>,
        /// Its arcs: a point in the middle of each, and the radius.
        arcs: Vec<(DVec3, f64)>,
    },
}

impl Form {
    /// The face of the blank a drawing shows it from.
    pub(crate) fn seen_on(&self, size: DVec3) -> Face {
        match self {
            Self::Pocket { entry, .. } | Self::Hole { entry, .. } | Self::Shape { entry, .. } => *entry,
            Self::Leaning(leaning) => leaning.seen_on(),
            Self::Raked(raked) => raked.seen_on(size),
            Self::Flared(socket) => socket.entry,
            Self::SlopedBore(bore) => bore.entry,
            Self::Slope { along: 0, .. } => Face::NearEnd,
            Self::Slope { along: 1, .. } => Face::Edge,
            Self::Compound { .. } | Self::Slope { .. } => Face::Marked,
            // Square to the face that the mitre runs along, so that the one place which
            // its note cannot give, across the slope, is a size of the view.
            Self::Askew { into, from_inner: Some(_), .. } if into.z.abs() < HAIR => face_on(1, into.y < 0.0),
            Self::Askew { into, from_inner: Some(_), .. } if into.y.abs() < HAIR => face_on(2, into.z < 0.0),
            Self::Askew { centre, .. } => nearest_face(*centre, size),
        }
    }
}

impl Feature {
    /// The finest thing of it that is drawn with two lines, mm.
    pub(crate) fn finest(&self) -> f64 {
        match &self.form {
            Form::Pocket { min, max, .. } => (*max - *min).min_element(),
            Form::Hole { diameter, .. } => *diameter,
            Form::Askew { width, .. } => *width,
            Form::Leaning(leaning) => leaning.finest(),
            Form::Flared(socket) => socket.widths.0.min(socket.widths.1),
            Form::SlopedBore(bore) => bore.diameter,
            Form::Slope { .. } | Form::Compound { .. } | Form::Raked(_) | Form::Shape { .. } => f64::MAX,
        }
    }
}
