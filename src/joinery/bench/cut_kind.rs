//! What a cut is called, what it is made with and what it goes through: one line
//! for each kind, so that a new kind of cut is added here alone.

/// What a cut is, in the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CutKind {
    /// Saw cut at an angle through an end or edge: mitre or bevel.
    Mitre,
    /// Angled saw cut of the shaping word.
    Bevel,
    /// Long narrow cut from an edge line: taper.
    Taper,
    /// Small bevel along an arris.
    Chamfer,
    /// Rounded arris.
    RoundOver,
    /// Profile run along an arris.
    Moulding,
    /// Pocket for a tenon.
    Mortise,
    /// Channel across the grain that takes a board.
    Housing,
    /// Channel that takes a panel or tongue.
    Groove,
    /// Step along an arris.
    Rebate,
    /// Round hole, drilled.
    Hole,
    /// Hole with round ends.
    Slot,
    /// Piece cut out at an edge.
    Notch,
    /// Outside of a shaped outline.
    Outline,
    /// Pocket of a clamping connector.
    ConnectorPocket,
    /// Access hole of a clamping connector.
    AccessHole,
    /// Clearance or pilot hole of a screw.
    ScrewHole,
    /// Shoulder that leaves a tenon, tongue or pin.
    Shoulder,
    /// Square space between fingers.
    FingerSocket,
    /// Space between dovetails that takes a pin.
    PinSocket,
    /// Space between pins that takes a dovetail.
    TailSocket,
    /// Sloping bore in which a screw's head goes under.
    ScrewPocket,
    /// Wider bore over a screw that a plug closes.
    Counterbore,
    /// Cone over a screw that its head lies flush in; bored here as wide as the head and as deep
    /// as the cone.
    Countersink,
    /// Hole bored for a dowel.
    DowelHole,
    /// Slot sawn for a biscuit.
    BiscuitSlot,
    /// Bore for the cup of a hinge.
    HingeCup,
    /// Hole for a screw, pin or bolt of a fitting.
    FittingHole,
    /// Half of the wood taken out where two parts cross.
    Halving,
    /// Mortise open at an end, which leaves a fork.
    OpenMortise,
    /// Hole bored for a peg across a tenon.
    PegHole,
    /// Saw cut down a tenon that a wedge goes into.
    Kerf,
}

/// A machine, or a way of using it, in the order a job passes them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Machine {
    /// Saw with its blade upright: parts brought to their finished size.
    SawSquare,
    /// Saw with the blade tilted or the mitre fence turned.
    SawAngled,
    /// Grooving cutter: grooves, housings, rebates, shoulders.
    Grooving,
    /// Mortiser: pockets of loose tenons.
    Mortising,
    /// Small round cutter that sinks slots for biscuits.
    Biscuits,
    /// Fingers and dovetails.
    Sockets,
    /// Fine saw, by hand or a band.
    FineSaw,
    /// Drill.
    Drilling,
    /// Router: arrises, outlines, notches, slots.
    Router,
    /// Lathe: profiles, inlaid rings.
    Lathe,
}

/// Whether a cut goes on through a lipping it meets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Lipping {
    /// It is made through panel and lipping in one go.
    Through,
    /// It stays in the panel: sunk from a face, well inside.
    Panel,
}

use Lipping::{Panel, Through};

/// What is known of a kind of cut.
struct Row {
    name: &'static str,
    machine: Machine,
    lipping: Lipping,
}

const fn row(name: &'static str, machine: Machine, lipping: Lipping) -> Row {
    Row { name, machine, lipping }
}

impl CutKind {
    /// The table.
    const fn row(self) -> Row {
        match self {
            Self::Mitre => row("mitre", Machine::SawAngled, Through),
            Self::Bevel => row("bevel", Machine::SawAngled, Through),
            Self::Taper => row("taper", Machine::SawAngled, Through),
            Self::Chamfer => row("chamfer", Machine::Router, Through),
            Self::RoundOver => row("round-over", Machine::Router, Through),
            Self::Moulding => row("moulding", Machine::Router, Through),
            Self::Mortise => row("mortise", Machine::Mortising, Panel),
            Self::Housing => row("housing", Machine::Grooving, Through),
            Self::Groove => row("groove", Machine::Grooving, Through),
            Self::Rebate => row("rebate", Machine::Grooving, Through),
            Self::Hole => row("hole", Machine::Drilling, Through),
            Self::Slot => row("slot", Machine::Router, Through),
            Self::Notch => row("notch", Machine::Router, Through),
            Self::Outline => row("outline", Machine::Router, Through),
            Self::ConnectorPocket => row("connector pocket", Machine::Mortising, Panel),
            Self::AccessHole => row("access hole", Machine::Drilling, Panel),
            Self::ScrewHole => row("screw hole", Machine::Drilling, Panel),
            Self::Shoulder => row("shoulder", Machine::Grooving, Through),
            Self::FingerSocket => row("finger socket", Machine::Sockets, Through),
            Self::PinSocket => row("pin socket", Machine::Sockets, Through),
            Self::TailSocket => row("tail socket", Machine::Sockets, Through),
            Self::ScrewPocket => row("screw pocket", Machine::Drilling, Panel),
            Self::Counterbore => row("counterbore", Machine::Drilling, Panel),
            Self::Countersink => row("countersink", Machine::Drilling, Panel),
            Self::DowelHole => row("dowel hole", Machine::Drilling, Panel),
            Self::BiscuitSlot => row("biscuit slot", Machine::Biscuits, Panel),
            Self::HingeCup => row("hinge cup", Machine::Drilling, Through),
            Self::FittingHole => row("fitting hole", Machine::Drilling, Through),
            Self::Halving => row("halving", Machine::Grooving, Through),
            Self::OpenMortise => row("open mortise", Machine::Mortising, Through),
            Self::PegHole => row("peg hole", Machine::Drilling, Panel),
            Self::Kerf => row("kerf", Machine::FineSaw, Through),
        }
    }

    /// Its name in lists and on steps.
    pub fn name(self) -> &'static str {
        self.row().name
    }

    /// What it is made with.
    pub fn machine(self) -> Machine {
        self.row().machine
    }

    /// Whether what it leaves is a face of the part that is seen and finished, and no wall
    /// within it.
    pub fn gives_faces(self) -> bool {
        matches!(
            self,
            Self::Mitre
                | Self::Bevel
                | Self::Taper
                | Self::Chamfer
                | Self::RoundOver
                | Self::Moulding
                | Self::Rebate
                | Self::Notch
                | Self::Outline
        )
    }

    /// Whether a cut in a panel goes on through its lippings.
    pub fn passes_lippings(self) -> bool {
        self.row().lipping == Through
    }
}
