//! A step of the assembly: facts, of which `wording` makes the sentences.

use crate::geometry::DVec3;
use crate::joinery::CutKind;

/// What a step is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum StepKind {
    /// Panels are glued up of several boards, before anything is cut on them.
    GlueUp,
    /// Lippings are glued to their parts.
    Lip,
    /// Parts are joined to what stands.
    Join,
    /// Cuts that had to wait for the glue-up are made.
    Cut,
    /// What cannot be reached later, or would soil glass, is finished now.
    Finish,
    /// Handles, feet, clips and what else is fitted to parts that stand.
    Fit,
}

/// One straight move: some parts join what already stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Motion {
    /// Parts that come in: indices into `WorkedJob::parts`.
    pub adds: Vec<usize>,
    /// For each of `adds` the way it moves in, piece coordinates, unit; `None`
    /// for a first part, to which others come.
    pub ways: Vec<Option<DVec3>>,
    /// Parts that it comes to, and those that come in as a group made up before.
    pub onto: Vec<usize>,
    /// Those of `onto` that come in with the move as a group made up before,
    /// with their way in, piece coordinates, unit.
    pub together: Vec<(usize, DVec3)>,
    /// Joints closed by it: indices into `WorkedJob::joints`.
    pub joints: Vec<usize>,
    /// Glued, or dry.
    pub glued: bool,
    /// How what comes in is let in beside its place, where the way in is only the last of its
    /// move: pressed on from inside, as no straight move from without brings it there.
    pub from_inside: Option<FromInside>,
}

impl Motion {
    /// The ways that what comes in is seen to come, unit: of what is pressed on from inside the
    /// way it is let in.
    pub(super) fn let_in(&self) -> Vec<DVec3> {
        let inside = self.from_inside.map(|inside| inside.way);
        let own = self.ways.iter().flatten().map(|way| inside.unwrap_or(*way));
        own.chain(self.together.iter().map(|(_, way)| *way)).collect()
    }
}

/// How something is let in beside its place before it is pressed on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FromInside {
    /// The way it is let in, piece coordinates, unit.
    pub way: DVec3,
    /// How far off its place it is let in, mm.
    pub clear: f64,
}

/// One step: what is done at one time, and clamped at once where it is glued.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Lipping, joining, cutting, finishing or fitting.
    pub kind: StepKind,
    /// The moves it is made of, in their order.
    pub motions: Vec<Motion>,
    /// Parts that it works on besides those that come in: what is lipped, cut,
    /// finished or fitted. Indices into `WorkedJob::parts`.
    pub works: Vec<usize>,
    /// Of the panels that a first step glues up, of how many boards each; of no other step.
    pub staved: Vec<Staved>,
    /// Parts that stand round what is fitted, to be seen with it.
    pub stands: Vec<usize>,
    /// Joints that are whole after it: indices into `WorkedJob::joints`. Each joint of
    /// the piece is in one step, so what they need is counted once.
    pub joints: Vec<usize>,
    /// Glued, or dry.
    pub glued: bool,
    /// Ways of parts that close all together round a ring, piece coordinates, unit;
    /// empty where they come one after another.
    pub round: Vec<(usize, DVec3)>,
    /// Kinds of the cuts of a cutting step, each once.
    pub cuts: Vec<CutKind>,
    /// How it is clamped, where it is glued.
    pub clamping: Option<Clamping>,
    /// What to measure before the glue sets.
    pub check: Option<Check>,
    /// What else to watch.
    pub watch: Vec<Watch>,
    /// How the work lies for it.
    pub turned: Turned,
    /// The same done again to like parts: five drawers are told once.
    pub again: Vec<Repeat>,
}

/// A panel glued up of several boards edge to edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Staved {
    /// The panel: an index into `WorkedJob::parts`.
    pub part: usize,
    /// How many boards, as the layouts cut them.
    pub boards: usize,
}

/// A like step, told with another.
#[derive(Clone, Debug, PartialEq)]
pub struct Repeat {
    /// Its moves.
    pub motions: Vec<Motion>,
    /// What it works on.
    pub works: Vec<usize>,
    /// The joints that are whole after it.
    pub joints: Vec<usize>,
}

impl Watch {
    /// Whether it is done before anything else of its step.
    pub fn comes_first(&self) -> bool {
        matches!(
            self,
            Self::FinishInside { .. } | Self::FinishHidden { .. } | Self::FinishRest | Self::TakenOff { .. }
        )
    }
}

impl Step {
    /// A step in the making.
    pub(super) fn empty(kind: StepKind) -> Self {
        Self {
            kind,
            motions: Vec::new(),
            works: Vec::new(),
            staved: Vec::new(),
            stands: Vec::new(),
            joints: Vec::new(),
            glued: false,
            round: Vec::new(),
            cuts: Vec::new(),
            clamping: None,
            check: None,
            watch: Vec::new(),
            turned: Turned::Upright,
            again: Vec::new(),
        }
    }

    /// Parts that come in, those of repeats left out. Each part of the piece comes in
    /// once over all steps and their repeats.
    pub fn adds(&self) -> impl Iterator<Item = usize> {
        self.motions.iter().flat_map(|one| one.adds.iter().copied())
    }

    /// Parts that come in, those of repeats too.
    pub fn all_adds(&self) -> impl Iterator<Item = usize> {
        self.all_motions().flat_map(|one| one.adds.iter().copied())
    }

    /// Parts that it works on, those of repeats too.
    pub fn all_works(&self) -> impl Iterator<Item = usize> {
        self.works.iter().chain(self.again.iter().flat_map(|again| &again.works)).copied()
    }

    /// All moves, those of repeats after the first.
    pub fn all_motions(&self) -> impl Iterator<Item = &Motion> {
        self.motions.iter().chain(self.again.iter().flat_map(|again| &again.motions))
    }

    /// All joints that are whole after it, those of repeats too.
    pub fn all_joints(&self) -> impl Iterator<Item = usize> {
        self.joints.iter().chain(self.again.iter().flat_map(|again| &again.joints)).copied()
    }

    /// Parts that stand before the step, or come in with it made up before.
    pub fn onto(&self) -> Vec<usize> {
        let adds: Vec<usize> = self.adds().collect();
        let mut onto: Vec<usize> = self.motions.iter().flat_map(|one| one.onto.iter().copied()).collect();
        onto.sort_unstable();
        onto.dedup();
        onto.retain(|part| !adds.contains(part));
        onto
    }

    /// Parts that are set dry in their places while the glue of the step sets.
    pub fn set_dry(&self) -> impl Iterator<Item = usize> {
        let dry = self.watch.iter().filter_map(|watch| match watch {
            Watch::Staged { dry } => Some(dry),
            _ => None,
        });
        dry.flatten().copied()
    }

    /// Parts that come in with the step in groups made up before.
    pub fn together(&self) -> Vec<usize> {
        let adds: Vec<usize> = self.adds().collect();
        let mut parts: Vec<usize> =
            self.motions.iter().flat_map(|one| one.together.iter().map(|(part, _)| *part)).collect();
        parts.sort_unstable();
        parts.dedup();
        parts.retain(|part| !adds.contains(part));
        parts
    }
}

/// How a glue-up is clamped.
#[derive(Clone, Debug, PartialEq)]
pub struct Clamping {
    /// The clamps, direction by direction.
    pub clamps: Vec<Clamps>,
    /// Glued joints that are closed.
    pub joints: usize,
    /// Time it takes to spread and close them, minutes.
    pub takes: f64,
}

/// Clamps that press along one direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clamps {
    /// What they are.
    pub kind: ClampKind,
    /// How many.
    pub count: usize,
    /// What they reach over: length between the jaws, or girth of a band, mm.
    pub length: f64,
    /// The direction they press along, piece coordinates, unit; across a band the
    /// direction it does not run in.
    pub along: DVec3,
    /// Whether flat bearers (cauls) spread the pressure over a wide joint.
    pub cauls: bool,
    /// Whether they stand on both sides of tenons that are wedged from outside.
    pub astride: bool,
}

/// Kinds of clamps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ClampKind {
    /// Bar clamps.
    Bar,
    /// Bar clamps on blocks sawn to an angle, degrees, so that they press square.
    OnBlocks(f64),
    /// A band round all, with blocks at the corners.
    Band,
    /// A clamp at each corner of mitres that go not all the way round, on blocks glued on
    /// for it.
    Corners,
    /// The connectors in the joint draw it together.
    Connectors,
}

/// Two diagonals to compare before the glue sets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Check {
    /// Corners of parts that stand at this step, in order round, piece coordinates, mm.
    pub corners: [DVec3; 4],
    /// Length of the diagonal from the first corner, and from the second, mm.
    pub diagonals: [f64; 2],
    /// The direction the four are seen square from, unit, towards the viewer.
    pub toward: DVec3,
}

/// How the work lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Turned {
    /// As it will stand, seen from the front.
    Upright,
    /// Its back to the maker.
    Back,
    /// Feet up.
    FeetUp,
}

/// What to have in mind at a step.
#[derive(Clone, Debug, PartialEq)]
pub enum Watch {
    /// Of several panels each is glued up by itself.
    OneByOne,
    /// The boards of a panel are laid with their rings turned about.
    Rings,
    /// A panel is flat before its glue sets.
    Flat,
    /// It is planed and cut to size when its glue has cured.
    PlaneWhenCured,
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
    /// One of sheet is left dry too: it needs no glue, and hardly moves.
    PanelDry,
    /// Panels are finished before they are shut in their grooves: a bare strip shows when
    /// they shrink.
    FinishInside {
        /// The panels.
        parts: Vec<usize>,
    },
    /// It shuts in a room that a brush does not come to afterwards: the inside is finished
    /// before.
    FinishHidden {
        /// The parts round it.
        parts: Vec<usize>,
    },
    /// Squeezed glue would run into what takes another part later, or onto finished faces.
    Squeezed {
        /// Parts with such cuts.
        parts: Vec<usize>,
        /// Kinds of the cuts, each once.
        cuts: Vec<CutKind>,
        /// Whether faces by the joints are finished already.
        finished: bool,
    },
    /// The frame is laid flat and sighted across for wind.
    Wind,
    /// It is let down on a flat surface, and must not rock.
    Feet,
    /// It takes longer than the glue stays open.
    TooLong,
    /// Nothing that stands holds what comes in yet, and it rests on nothing.
    Prop {
        /// What is propped.
        parts: Vec<usize>,
    },
    /// No clamp of a shop reaches over it: how far it would have to, mm.
    LongReach(f64),
    /// The glue does not stay open for all that goes on here: the rest follows when this has
    /// set.
    Staged {
        /// What of the rest is set dry in its place meanwhile: what is glued then.
        dry: Vec<usize>,
    },
    /// What was set dry to hold what is glued already is taken off again.
    TakenOff {
        /// It.
        parts: Vec<usize>,
    },
    /// It is scribed and fixed where the piece stands, not in the shop.
    OnSite,
    /// A drawer is run in and out before its front is screwed on.
    RunDrawer,
    /// What is lifted in is heavy.
    Heavy {
        /// Its mass, kg, without what is taken off.
        kg: f64,
        /// Whether two people lift it even so.
        two: bool,
        /// Whether its doors and drawers are taken off for that.
        taken_off: bool,
    },
    /// What comes in is finished before, and is not glued.
    FinishFirst,
    /// All that is still bare is finished before: what follows is fitted to the finished
    /// piece, or takes it out of the shop.
    FinishRest,
    /// Wedges are driven from outside and sawn off.
    DriveWedges,
    /// Wedges within are driven as the joint closes, which is then for good.
    FoxedForGood,
}
