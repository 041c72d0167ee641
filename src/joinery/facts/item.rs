//! What joints need besides the parts, by its sizes: bought, turned or cut in the
//! shop.

use super::thread::Thread;

/// A size of an item, mm. Sizes are one where they differ by less than a millionth
/// of a mm, which is the noise of sums: items of one size are counted together, and
/// figures on sheets look no closer either.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Size(i64);

/// Steps of a [`Size`] in a millimetre.
const STEPS: f64 = 1e6;

impl Size {
    /// A size from millimetres.
    pub fn of(mm: f64) -> Self {
        #[allow(clippy::cast_possible_truncation, reason = "a finite float saturates, and no size is near")]
        let steps = (mm * STEPS).round() as i64;
        Self(steps)
    }

    /// The size in millimetres.
    pub fn mm(self) -> f64 {
        self.0 as f64 / STEPS
    }
}

/// A loose thing that a joint needs.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Item {
    /// As the script names it.
    Named(String),
    /// Cut from wood.
    Wooden(Wooden),
    /// A screw or what else holds parts together.
    Fastener(Fastener),
    /// A fitting of a door or drawer.
    Ironmongery(Ironmongery),
    /// What hangs, holds or carries a piece.
    Support(Support),
}

/// What is cut from wood.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Wooden {
    /// A loose tenon: thickness, width, length.
    LooseTenon([Size; 3]),
    /// A dowel: diameter, length.
    Dowel([Size; 2]),
    /// A biscuit.
    Biscuit(BiscuitSize),
    /// A loose tongue: thickness, width, length.
    LooseTongue([Size; 3]),
    /// A riven peg: diameter, length; of the same wood as its joint unless named.
    Peg([Size; 2], Option<String>),
    /// A face grain plug: diameter, length; of the same wood as its part unless
    /// named.
    Plug([Size; 2], Option<String>),
    /// A wedge: thickness at its head, width, length; of the same wood as its joint
    /// unless named.
    Wedge([Size; 3], Option<String>),
    /// The same, driven by the bottom of its mortise.
    FoxedWedge([Size; 3], Option<String>),
    /// A block that stops a door: length, thickness, height.
    StopBlock([Size; 3]),
    /// A button: length, width and thickness of its block; thickness and length of
    /// its tongue.
    Button([Size; 3], [Size; 2]),
}

/// Screws and what else holds parts together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fastener {
    /// A screw: diameter, length.
    Screw([Size; 2]),
    /// A screw with a round head and a washer, for a slot: diameter, length.
    WashedScrew([Size; 2]),
    /// A screw for a pocket: diameter, length.
    PocketScrew([Size; 2]),
    /// A pin: diameter, length.
    Pin([Size; 2]),
    /// A bolt from behind: diameter, length; with what it holds.
    Bolt([Size; 2], Handle),
    /// A clamping connector.
    ClampingConnector,
    /// A pin that carries a shelf: diameter.
    ShelfPin(Size),
    /// A nut with a thread in and a thread out: diameter and length of its bore.
    InsertNut(Thread, [Size; 2]),
}

/// Fittings of doors and drawers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Ironmongery {
    /// A cup hinge: diameter of its cup.
    CupHinge(Size, Arm),
    /// The plate of a cup hinge: height.
    HingePlate(Size),
    /// A butt hinge: length and width of a leaf, thickness shut.
    ButtHinge([Size; 3]),
    /// A knob.
    Knob,
    /// A pull: distance between its bolts.
    Pull(Size),
    /// A magnetic catch screwed on: length, depth.
    MagneticCatch([Size; 2]),
    /// A magnetic catch let into a bore: diameter, depth.
    BoredMagnet([Size; 2]),
    /// A ball catch: diameter, depth.
    BallCatch([Size; 2]),
    /// One side of a pair of runners: length.
    Runner(Size),
}

/// What hangs, holds or carries a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Support {
    /// A glazing point.
    GlazingPoint,
    /// A pair of clips that hang a frame.
    FrameClips,
    /// A levelling foot with its insert: diameter and length of its bore.
    LevellingFoot(Thread, [Size; 2]),
    /// A rod of a bracket, let into the wall: diameter, length in the shelf and
    /// length in the wall.
    WallRod([Size; 3]),
    /// A rod of a bracket, on a plate: diameter, length; length, height and
    /// thickness of the plate.
    PlateRod([Size; 2], [Size; 3]),
    /// What is sold to fix things to a wall: diameter, if it matters.
    WallFixing(Option<Size>),
    /// A screw that goes through the piece into the wall.
    WallScrew,
}

/// Sizes that biscuits are sold in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BiscuitSize {
    /// 47 × 15 mm.
    No0,
    /// 53 × 19 mm.
    No10,
    /// 56 × 23 mm.
    No20,
}

/// Arms of cup hinges, by how the door lies to the side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Arm {
    /// The door shuts between the sides.
    Inset,
    /// The door covers half of a side.
    HalfOverlay,
    /// The door covers a side.
    FullOverlay,
}

/// What a door or drawer is opened by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Handle {
    /// On one bolt.
    Knob,
    /// On two bolts.
    Pull,
}

impl Item {
    /// Whether it draws its joint together, so that no clamp is needed.
    pub fn draws_together(&self) -> bool {
        matches!(self, Self::Fastener(Fastener::ClampingConnector))
    }

    /// Whether it is a screw driven through one part into another.
    pub fn is_screw(&self) -> bool {
        let Self::Fastener(item) = self else { return false };
        matches!(item, Fastener::Screw(_) | Fastener::WashedScrew(_) | Fastener::PocketScrew(_))
    }

    /// Whether it holds its parts without play, in a round hole.
    pub fn holds_fast(&self) -> bool {
        matches!(self, Self::Fastener(Fastener::Screw(_) | Fastener::PocketScrew(_)))
    }

    /// Whether a shelf lies on it, loose.
    pub fn carries_loose(&self) -> bool {
        matches!(self, Self::Fastener(Fastener::ShelfPin(_)))
    }

    /// Whether it slides in one of its parts, so that they move against one another.
    pub fn slides(&self) -> bool {
        matches!(self, Self::Wooden(Wooden::Button(..)))
    }

    /// Diameter and length of a screw, mm; `None` for what is none.
    pub fn screw(&self) -> Option<(f64, f64)> {
        match self {
            Self::Fastener(Fastener::Screw([wide, long])) => Some((wide.mm(), long.mm())),
            _ => None,
        }
    }

    /// Whether it is used by the handful, so that shops seldom price it one by one:
    /// what is cut from wood, and fasteners but for connectors, which are dear.
    pub fn is_sundry(&self) -> bool {
        match self {
            Self::Wooden(_) => true,
            Self::Fastener(item) => !matches!(item, Fastener::ClampingConnector),
            Self::Named(_) | Self::Ironmongery(_) | Self::Support(_) => false,
        }
    }

    /// Whether it is glued in all over.
    pub fn is_glued(&self) -> bool {
        matches!(
            self,
            Self::Wooden(
                Wooden::LooseTenon(_) | Wooden::Dowel(_) | Wooden::Biscuit(_) | Wooden::LooseTongue(_)
            )
        )
    }

    /// Whether it is a strip in grooves of two parts.
    pub fn is_strip(&self) -> bool {
        matches!(self, Self::Wooden(Wooden::LooseTongue(_)))
    }

    /// Whether it is driven into a tenon to spread it.
    pub fn is_wedge(&self) -> bool {
        matches!(self, Self::Wooden(Wooden::Wedge(..) | Wooden::FoxedWedge(..)))
    }

    /// Whether it is a plug, which is glued in though its joint is dry.
    pub fn is_plug(&self) -> bool {
        matches!(self, Self::Wooden(Wooden::Plug(..)))
    }

    /// Whether it is a pair of which one half goes to the piece, the other to the wall.
    pub fn is_pair(&self) -> bool {
        matches!(self, Self::Support(Support::FrameClips))
    }

    /// Whether it is within its joint, which never comes apart again.
    pub fn is_foxed(&self) -> bool {
        matches!(self, Self::Wooden(Wooden::FoxedWedge(..)))
    }
}

impl From<Wooden> for Item {
    fn from(item: Wooden) -> Self {
        Self::Wooden(item)
    }
}

impl From<Fastener> for Item {
    fn from(item: Fastener) -> Self {
        Self::Fastener(item)
    }
}

impl From<Ironmongery> for Item {
    fn from(item: Ironmongery) -> Self {
        Self::Ironmongery(item)
    }
}

impl From<Support> for Item {
    fn from(item: Support) -> Self {
        Self::Support(item)
    }
}

/// Length and width of biscuits, the smallest first, mm (common practice, no source).
const LENSES: [(f64, f64); 3] = [(47.0, 15.0), (53.0, 19.0), (56.0, 23.0)];

impl BiscuitSize {
    /// The number it is sold by.
    pub fn number(self) -> u32 {
        match self {
            Self::No0 => 0,
            Self::No10 => 10,
            Self::No20 => 20,
        }
    }

    /// Length and width, mm (common practice, no source).
    pub fn lens(self) -> (f64, f64) {
        match self {
            Self::No0 => LENSES[0],
            Self::No10 => LENSES[1],
            Self::No20 => LENSES[2],
        }
    }
}

/// Sizes from millimetres.
pub fn sizes<const N: usize>(mm: [f64; N]) -> [Size; N] {
    mm.map(Size::of)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn noise_of_sums_makes_no_other_size() {
        assert_eq!(Size::of(0.1 + 0.2), Size::of(0.3));
        assert_ne!(Size::of(0.3), Size::of(0.300_01));
        assert!((Size::of(2.381_25).mm() - 2.381_25).abs() < 1e-12);
    }
}
