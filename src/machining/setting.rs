//! What a machine is set to, and what lies against its fence: typed, in mm and
//! degrees.

use crate::joinery::CutKind;
use crate::model::Face;

/// What an operation does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Task {
    /// Sawn to width by the fence.
    Rip,
    /// Sawn to length by a stop.
    Crosscut,
    /// An edge straightened where the part is wider than a fence reaches.
    Straighten,
    /// An end squared where the part is longer than a stop reaches, or too wide
    /// to be pushed past a blade.
    SquareEnd,
    /// A cut of a joint or shape.
    Cut(CutKind),
    /// A V groove that a panel is folded at.
    VGroove,
    /// The profile of a turned part.
    Profile,
    /// A groove round a turned part that is filled.
    Ring,
    /// A hollow in the end of a turned part that is filled.
    Hollow,
}

/// How far in.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Depth {
    /// Right through.
    Through,
    /// So deep, mm.
    To(f64),
}

/// What the machine is set to, besides where the cut lies. Lengths in mm, angles
/// in degrees.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[serde(rename_all = "kebab-case", tag = "what")]
pub enum Setting {
    /// Fence or stop at the finished size.
    Size {
        /// The size.
        size: f64,
    },
    /// So much taken off by a guided saw.
    Off {
        /// How much.
        off: f64,
        /// What is left.
        left: f64,
    },
    /// A cutter for grooves, housings, rebates and shoulders.
    Channel {
        /// Its width.
        width: f64,
        /// Its depth.
        depth: Depth,
    },
    /// A mortiser.
    Mortise {
        /// Across.
        width: f64,
        /// Along, over round ends.
        length: f64,
        /// Its depth.
        depth: Depth,
    },
    /// A drill.
    Bore {
        /// Diameter.
        diameter: f64,
        /// Its depth.
        depth: Depth,
    },
    /// A cutter that rounds an arris.
    Round {
        /// Its radius.
        radius: f64,
    },
    /// A cutter that takes an arris off: how much on each face.
    Arris {
        /// On the one face, then on the other where it differs.
        sides: Vec<f64>,
    },
    /// The mitre fence off square.
    Gauge {
        /// Degrees.
        angle: f64,
    },
    /// The blade off upright, at most 45.
    Tilt {
        /// Degrees.
        angle: f64,
        /// Fence to the long point where it is ripped.
        fence: Option<f64>,
    },
    /// The blade off upright with the part stood on its end or edge against a tall
    /// fence: for cuts that lean more than a blade tilts.
    Stood {
        /// Degrees of the blade.
        angle: f64,
    },
    /// A jig that holds a part askew while its edge is sawn with the blade tilted.
    RakedEdge {
        /// Off the edge, degrees.
        angle: f64,
        /// Taken off at the narrow end, mm.
        off: f64,
        /// Over which length, mm.
        over: f64,
        /// Tilt of the blade, degrees.
        blade: f64,
        /// The part stands on its edge, else it lies on its face.
        on_edge: bool,
    },
    /// A jig that holds a part askew.
    TaperJig {
        /// Degrees.
        angle: f64,
        /// What it takes off.
        off: f64,
        /// Over which length.
        over: f64,
    },
    /// Mitre fence and blade both.
    Compound {
        /// Fence off square.
        gauge: f64,
        /// Blade off upright.
        blade: f64,
        /// Whether the part stands on its edge rather than lying on its face.
        on_edge: bool,
    },
    /// A socket between fingers.
    Finger {
        /// Its width.
        width: f64,
        /// Its depth from the end.
        depth: f64,
    },
    /// A socket of a dovetail.
    Flared {
        /// Width at its narrow side.
        narrow: f64,
        /// One in this.
        ratio: f64,
        /// Depth.
        depth: f64,
    },
    /// The sloping pocket of a screw.
    SlopedBore {
        /// Diameter.
        diameter: f64,
        /// To the face.
        angle: f64,
        /// From the end to the shoulder along the bore.
        seat: f64,
    },
    /// A shoulder that leans.
    LeaningShoulder {
        /// Depth.
        depth: f64,
        /// Fence off square.
        gauge: f64,
        /// Blade off upright.
        blade: f64,
    },
    /// The end of a tenon that leans.
    LeaningEnd {
        /// Fence off square.
        gauge: f64,
        /// Blade off upright.
        blade: f64,
    },
    /// A mortise that leans.
    LeaningMortise {
        /// Across.
        width: f64,
        /// Along.
        length: f64,
        /// Its depth along its middle.
        depth: Depth,
        /// Off square to its face.
        lean: f64,
    },
    /// A channel whose walls lean.
    LeaningChannel {
        /// Across its mouth.
        width: f64,
        /// Square to its face.
        depth: f64,
        /// Off square to its face.
        lean: f64,
    },
    /// A hole that slants in from a face.
    Slanting {
        /// Diameter.
        diameter: f64,
        /// To the face.
        angle: f64,
        /// Depth along it.
        depth: f64,
    },
    /// A pocket or hole square to a mitre.
    InMitre {
        /// Across; the diameter of a hole.
        width: f64,
        /// Along; the diameter of a hole.
        length: f64,
        /// Depth.
        depth: f64,
        /// From the inner corner along the mitre to its middle; none of a groove along it.
        from_inner: Option<f64>,
        /// Of one that runs along the slope: how far its middle lies from a face.
        from_face: Option<(f64, Face)>,
    },
    /// An outline cut to its drawing.
    ByDrawing {
        /// Its depth.
        depth: Depth,
    },
    /// A V groove.
    VGroove {
        /// Angle of the V.
        angle: f64,
        /// Depth.
        depth: f64,
        /// What is left under it; nothing where it goes through to the tape.
        skin: f64,
    },
    /// The diameters of a drawing.
    Diameters {
        /// Whether several must be alike.
        matched: bool,
    },
    /// Something inlaid on the lathe.
    Inlay {
        /// Width of a ring, diameter of a hollow.
        width: f64,
        /// Depth.
        depth: f64,
        /// What it is filled with, as the script names it.
        fill: String,
    },
}

/// What lies against the fence, on the table or at the jig.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[serde(rename_all = "kebab-case", tag = "what")]
pub enum Against {
    /// A square end.
    SquareEnd,
    /// A planed edge.
    PlanedEdge,
    /// The lipping on a face, trimmed already.
    Lipping {
        /// The face.
        face: Face,
    },
    /// A saw guided along a line, nothing against a fence.
    Guide,
    /// Faces against the fence, and those the cutter goes in from.
    Fence {
        /// Against the fence, in turn.
        faces: Vec<Face>,
        /// Where the cutter goes in, in turn.
        from: Vec<Face>,
    },
    /// The end stood down, spaced by the drawing.
    EndDown,
    /// The end up, spaced by the drawing.
    EndUp,
    /// A jig on a face.
    Jig {
        /// The face.
        face: Face,
    },
    /// A jig on the inside face, beside the mitre.
    BesideMitre,
    /// The mitre itself, cutter square to it.
    Mitre,
    /// The end or edge that is made, with the faces its long point is on.
    LongPoint {
        /// What is made.
        made: Face,
        /// The long point: on one face, or on a face at an edge.
        on: Vec<Face>,
    },
    /// Two faces an arris lies between.
    Arris {
        /// The faces.
        faces: Vec<Face>,
    },
    /// The face the cutter goes in from, marked out.
    From {
        /// The face.
        face: Face,
    },
    /// The face towards the blade, with the end that is narrow.
    Taper {
        /// The face.
        face: Face,
        /// The narrow end.
        narrow: Face,
    },
    /// The face a shoulder is sawn in from, and how far from which end.
    Shoulder {
        /// The face.
        face: Face,
        /// From the end, mm.
        from_end: f64,
        /// The end.
        end: Face,
    },
    /// An end so far from the shoulders.
    FromShoulders {
        /// The end.
        end: Face,
        /// mm.
        apart: f64,
    },
    /// The face a leaning mortise is cut from, along a line so far off the length.
    LeaningFrom {
        /// The face.
        face: Face,
        /// Degrees.
        line: f64,
    },
    /// The free end or edge of a folded panel, taped face down.
    FreeEdge {
        /// Whether it is an end rather than an edge.
        end: bool,
    },
    /// Between centres or in the chuck.
    Lathe,
    /// A parting tool.
    PartingTool,
    /// A gouge, or a drill in the tailstock.
    Gouge,
}
