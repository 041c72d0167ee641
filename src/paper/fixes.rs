//! What the figures of a size or note fix: the drawing writes it with the ink, the
//! lint and whoever makes the part again from its sheet read it. A value, so that
//! neither has to take a sentence apart.

use std::collections::BTreeSet;

/// An axis of what is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Axis {
    /// Along its length.
    X,
    /// Along its width.
    Y,
    /// Along its thickness.
    Z,
}

impl Axis {
    /// All of them, in order.
    pub const ALL: [Self; 3] = [Self::X, Self::Y, Self::Z];

    /// The axis of a component: 0 x, 1 y, 2 z and whatever is beyond.
    #[must_use]
    pub fn of(index: usize) -> Self {
        match index {
            0 => Self::X,
            1 => Self::Y,
            _ => Self::Z,
        }
    }

    /// Its component: 0, 1 or 2.
    #[must_use]
    pub fn index(self) -> usize {
        match self {
            Self::X => 0,
            Self::Y => 1,
            Self::Z => 2,
        }
    }

    /// Its letter.
    #[must_use]
    pub fn letter(self) -> char {
        match self {
            Self::X => 'x',
            Self::Y => 'y',
            Self::Z => 'z',
        }
    }
}

/// One side of the box round what is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct BoxSide {
    /// The axis it is square to.
    pub axis: Axis,
    /// Whether it is the side away from the datum.
    pub far: bool,
}

/// A place along an axis that a size reaches to. Cuts go by their number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PlaceId {
    /// The side of the box that sizes start from.
    Datum,
    /// The side opposite.
    End,
    /// The middle of a cut.
    Centre(usize),
    /// The side of a cut towards the datum.
    Low(usize),
    /// The side of a cut away from the datum.
    High(usize),
    /// A corner of the shape of a cut, by its number.
    Corner(usize, usize),
}

/// A cut that a note is about.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct NotedCut {
    /// Its number.
    pub cut: usize,
    /// The side it is cut from.
    pub from: BoxSide,
    /// The narrower bore that goes on from it, where the note gives both.
    pub bore: Option<usize>,
    /// The sides it stands against, where several that are alike stand against
    /// different ones.
    pub against: Vec<BoxSide>,
}

/// Where the extent of a cut lies on its axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Against {
    /// Wherever other sizes fix it.
    Free,
    /// Against the datum.
    Datum,
    /// Against the side opposite.
    End,
}

/// What one number of a note is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fact {
    /// How many there are, at each end or in each face where the note gives both.
    Count,
    /// Both extents of a quarter round; no `Extent` follows.
    Arris,
    /// How far it reaches along an axis; of a quarter round no number of its own.
    Extent(Axis, Against),
    /// How deep, square to the side it is cut from.
    Depth,
    /// How deep along its own middle line.
    Sunk,
    /// Diameter.
    Diameter,
    /// The lesser side of what is sunk askew, or the diameter of a further bore.
    Width,
    /// The greater side of what is sunk askew.
    Length,
    /// Radius of the ends of a slot.
    Radius,
    /// Radius of the arc with this number in its outline.
    Arc(usize),
    /// From the inner corner of the slope it is sunk into.
    FromInner,
    /// Angle off square.
    Angle,
    /// Mitre gauge off square.
    Gauge,
    /// Tilt of the blade off upright.
    Blade,
    /// Depth of a shoulder sawn in along an axis.
    Shoulder(Axis),
    /// From the end to a shoulder line askew, at its long point.
    FromEnd,
    /// From shoulders to an end parallel to them.
    Apart,
    /// The lesser side of a socket that leans.
    LeanWidth,
    /// The greater side of a socket that leans.
    LeanLength,
    /// How far it leans along an axis, degrees.
    Lean(Axis),
    /// How far its sides are turned, degrees.
    Turned,
    /// Width of a flared socket along an axis, at its narrow side, with how many of
    /// its sides lean beyond that.
    Flank(usize, Axis),
    /// The slope of those sides: two numbers, one in the other.
    Slope,
    /// From the narrow to the wide side of a flared socket.
    Rise(Axis),
}

/// What the numbers of a note fix of some cuts that are alike.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Noted {
    /// The cuts.
    pub cuts: Vec<NotedCut>,
    /// What the numbers are, in reading order.
    pub facts: Vec<Fact>,
}

impl Noted {
    /// Whether it tells of round holes square to a face, and of nothing else: what is bored
    /// askew says more than that, and goes into no table.
    #[must_use]
    pub fn is_of_holes(&self) -> bool {
        let square = |fact: &Fact| matches!(fact, Fact::Count | Fact::Diameter | Fact::Depth);
        let Self { facts, .. } = self;
        facts.contains(&Fact::Diameter) && facts.iter().all(square)
    }

    /// Whether it only says which cuts are meant.
    #[must_use]
    pub fn only_names(&self) -> bool {
        let Self { facts, .. } = self;
        facts.is_empty()
    }
}

/// What a size on the sheet of a wall measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measures {
    /// The wall, or what was on it before.
    Wall,
    /// A piece.
    Furniture,
    /// What is left between pieces, or between a piece and an end of the wall.
    Left,
}

/// More holes than this, placed by more figures than this, go by numbers into a table
/// (common practice, no source); more than the second would fill a sheet with rows.
pub const MANY_HOLES: usize = 8;
/// Most holes that are numbered.
pub const MOST_NUMBERED: usize = 60;
/// Places of an even row, which is stepped off in one go: no table serves better.
const EVEN_ROW: usize = 3;

/// Whether one figure sets out an even row.
#[must_use]
pub fn is_even_row(fixes: &Fixes) -> bool {
    matches!(fixes, Fixes::Chain { places, .. } if places.len() >= EVEN_ROW)
}

/// Whether a figure runs from the datum to the middle of one of `holes`.
#[must_use]
pub fn places_from_datum(fixes: &Fixes, holes: &BTreeSet<usize>) -> bool {
    let Fixes::Chain { places, .. } = fixes else { return false };
    let [from, to] = &places[..] else { return false };
    let of_them = |place: &PlaceId| matches!(place, PlaceId::Centre(cut) if holes.contains(cut));
    from[..] == [PlaceId::Datum] && to.iter().any(of_them)
}

/// What the figures of a dimension fix.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fixes {
    /// Nothing that is known by name.
    #[default]
    Nothing,
    /// The lengths from place to place along one axis; one figure gives a single
    /// length, or an even pitch. The places of one list stand in one line.
    Chain {
        /// The axis.
        axis: Axis,
        /// The places, in the order the size goes.
        places: Vec<Vec<PlaceId>>,
    },
    /// Cuts, each list of facts from the same numbers.
    Cuts(Vec<Noted>),
    /// A stretch of a wall.
    OnWall {
        /// What it measures.
        measures: Measures,
        /// Whether it runs up the wall.
        up: bool,
        /// Where it begins, hundredths of a millimetre from the datum.
        from: i64,
        /// Where it ends, the same.
        to: i64,
    },
}

impl Fixes {
    /// One length from the datum to what stands at some places in one line.
    #[must_use]
    pub fn from_datum(axis: Axis, to: Vec<PlaceId>) -> Self {
        Self::Chain { axis, places: vec![vec![PlaceId::Datum], to] }
    }

    /// The overall size along an axis.
    #[must_use]
    pub fn overall(axis: Axis) -> Self {
        Self::from_datum(axis, vec![PlaceId::End])
    }

    /// Facts of cuts that are named later, by [`Fixes::of`].
    #[must_use]
    pub fn facts(facts: Vec<Fact>) -> Self {
        Self::Cuts(vec![Noted { cuts: Vec::new(), facts }])
    }

    /// The same facts of these cuts. Without facts the note gives only in words what
    /// they are.
    #[must_use]
    pub fn of(self, cuts: &[NotedCut]) -> Self {
        let mut noted = match self {
            Self::Cuts(noted) => noted,
            Self::Nothing | Self::Chain { .. } | Self::OnWall { .. } => {
                vec![Noted { cuts: Vec::new(), facts: Vec::new() }]
            }
        };
        for one in &mut noted {
            one.cuts = cuts.to_vec();
        }
        Self::Cuts(noted)
    }

    /// Whether nothing is known of it.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        *self == Self::Nothing
    }

    /// Whether it is an overall size.
    #[must_use]
    pub fn is_overall(&self) -> bool {
        match self {
            Self::Chain { places, .. } => {
                matches!(&places[..], [from, to] if from[..] == [PlaceId::Datum] && to[..] == [PlaceId::End])
            }
            Self::Nothing | Self::Cuts(_) | Self::OnWall { .. } => false,
        }
    }

    /// The cuts whose middles it places.
    #[must_use]
    pub fn centres(&self) -> Vec<usize> {
        let Self::Chain { places, .. } = self else { return Vec::new() };
        let centre = |place: &PlaceId| if let PlaceId::Centre(cut) = place { Some(*cut) } else { None };
        places.iter().flatten().filter_map(centre).collect()
    }

    /// Whether it reaches to the middle of a cut, which is no edge.
    #[must_use]
    pub fn reaches_a_centre(&self) -> bool {
        match self {
            Self::Chain { places, .. } => {
                places.iter().flatten().any(|place| matches!(place, PlaceId::Centre(_)))
            }
            Self::Nothing | Self::Cuts(_) | Self::OnWall { .. } => false,
        }
    }
}
