//! A step of the assembly: facts, of which `wording` makes the sentences.

use crate::geometry::DVec3;
use crate::joinery::CutKind;

/// What a step is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum StepKind {
    /// Lippings are glued to their parts.
    Lip,
    /// Parts are joined to what stands.
    Join,
    /// Cuts that had to wait for the glue-up are made.
    Cut,
}

/// One step: some parts join what already stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Lipping, joining or cutting.
    pub kind: StepKind,
    /// What is done.
    pub done: Done,
    /// Parts that come in, or are cut: indices into `WorkedJob::parts`. Each
    /// part of the piece is added once over all steps.
    pub adds: Vec<usize>,
    /// For each of `adds` the way it moves in, piece coordinates, unit; `None`
    /// for a first part, to which others come.
    pub ways: Vec<Option<DVec3>>,
    /// Parts already standing that they join.
    pub onto: Vec<usize>,
    /// Those of `onto` that come in with the step as a group made up before,
    /// with their way in, piece coordinates, unit.
    pub together: Vec<(usize, DVec3)>,
    /// Joints closed in this step: indices into `WorkedJob::joints`.
    pub joints: Vec<usize>,
    /// Glued, or dry.
    pub glued: bool,
    /// Outside diagonal of the front to measure when clamped, mm.
    pub diagonal: Option<f64>,
    /// What else to watch.
    pub watch: Vec<Watch>,
}

/// What is done in a step. Parts are indices into `WorkedJob::parts`.
#[derive(Clone, Debug, PartialEq)]
pub enum Done {
    /// Lippings are glued on.
    Lip {
        /// The parts they are glued to.
        parts: Vec<usize>,
    },
    /// Cuts that had to wait are made.
    Cut {
        /// Their kinds, each once.
        kinds: Vec<CutKind>,
        /// The parts they are made in.
        parts: Vec<usize>,
    },
    /// The first parts are set up, to which others come.
    SetUp {
        /// The parts.
        parts: Vec<usize>,
    },
    /// A group made up before is put in whole, joined to nothing.
    PutIn {
        /// The group and its way.
        whole: Coming,
    },
    /// A strip is fixed to the wall and the piece hung on it.
    Hang {
        /// The strip.
        wall: Vec<usize>,
        /// The way the piece moves, piece coordinates, unit.
        way: DVec3,
    },
    /// Parts are joined to what stands.
    Join {
        /// Folded, glued or dry.
        how: How,
        /// What comes, by its way in; nothing where only groups made up before come
        /// together.
        coming: Vec<Coming>,
        /// What it comes to.
        to: Vec<usize>,
    },
}

/// Parts that come in along one way.
#[derive(Clone, Debug, PartialEq)]
pub struct Coming {
    /// The parts: indices into `WorkedJob::parts`.
    pub parts: Vec<usize>,
    /// The way they move, piece coordinates, unit.
    pub way: DVec3,
}

/// How parts are joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// Folded up out of one panel and glued.
    Folded,
    /// Glued.
    Glued,
    /// Dry.
    Dry,
}

/// What to have in mind at a step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Watch {
    /// Parts come in together, as they were made up before.
    MadeUpBefore {
        /// The parts: indices into `WorkedJob::parts`.
        parts: Vec<usize>,
    },
    /// Lippings are trimmed flush before joints are cut.
    TrimFlush,
    /// The glue cures before the cut.
    LetCure,
    /// Folds are taped outside, the glue goes into the V grooves.
    TapeFolds,
    /// Layers are pressed between cauls and trimmed together.
    PressLayers,
    /// A panel is left dry in its groove to move.
    PanelMoves,
    /// What comes in is finished before, and is not glued.
    FinishFirst,
    /// Wedges are driven from outside and sawn off.
    DriveWedges,
    /// Wedges within are driven as the joint closes, which is then for good.
    FoxedForGood,
}
