//! What is to be cut from sticks, and what a stick plan is. Every length is a
//! whole number of 0.1 mm.

/// A kind of part, cut one or more times.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StickPart {
    /// The caller's own name for it.
    pub id: String,
    /// Length between its outermost points (long points, where ends are
    /// mitred).
    pub length: i64,
    /// How far the short point lies behind the long point, at the first end
    /// and at the second; 0 is a square end.
    pub mitres: [i64; 2],
    /// How many are needed.
    pub quantity: u32,
}

/// A kind of stick, to buy or on hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StickStock {
    /// The caller's own name for it.
    pub id: String,
    /// Bare length.
    pub length: i64,
    /// How many there are; `None` when any number can be bought.
    pub count: Option<u32>,
    /// What one costs, in any small unit of money.
    pub cost: i64,
}

/// Everything the cutting of sticks has to respect.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StickJob {
    /// The kinds of part, all of one section.
    pub parts: Vec<StickPart>,
    /// The kinds of stick.
    pub sticks: Vec<StickStock>,
    /// What a cut takes along the stick. A mitring cut takes more than the
    /// blade is wide; give the most that occurs.
    pub kerf: i64,
    /// Taken off both ends of every stick first.
    pub end_trim: i64,
    /// Whether parts may be turned over, so that a long point lies beside a
    /// short point. A moulded or rebated section may not.
    pub may_turn_over: bool,
}

/// One part on a stick.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StickPiece {
    /// Which part, as a place in [`StickJob::parts`].
    pub part: usize,
    /// Where its first outermost point lies, from the end of the bare stick.
    pub at: i64,
    /// Whether its long edge lies on the far side of the stick.
    pub turned_over: bool,
    /// By how much its first end reaches past the end of the part before it,
    /// less the kerf: the saving of nested mitres.
    pub nested: i64,
}

/// One stick with its parts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StickLayout {
    /// Which kind of stick, as a place in [`StickJob::sticks`].
    pub stick: usize,
    /// The parts in order along the stick.
    pub pieces: Vec<StickPiece>,
    /// Length left over at the far end, inside the trim.
    pub offcut: i64,
}

/// A part for which there is no place, and what would help.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnplacedStick {
    /// Which, as a place in [`StickJob::parts`].
    pub part: usize,
    /// How many of it.
    pub quantity: usize,
    /// Its name.
    pub name: String,
    /// Why it has no place.
    pub why: StickWhy,
    /// What would help.
    pub advice: Vec<&'static str>,
}

/// Why a part has no place on any stick.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StickWhy {
    /// There is no stick at all.
    NoStick,
    /// All sticks to be had are full.
    UsedUp,
    /// It is so much longer than the longest stick is inside its trims.
    TooLong(i64),
}

impl UnplacedStick {
    /// Why it has no place, as a sentence without a stop; lengths as `length` shows
    /// them.
    pub fn reason(&self, length: impl Fn(i64) -> String) -> String {
        let name = &self.name;
        match self.why {
            StickWhy::NoStick => format!("there is no stick for part `{name}`"),
            StickWhy::UsedUp => format!("the sticks on hand are used up before part `{name}` is cut"),
            StickWhy::TooLong(over) => {
                format!("part `{name}` is {} too long for the longest stick inside its trims", length(over))
            }
        }
    }
}

/// The answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StickPlan {
    /// The sticks to cut.
    pub layouts: Vec<StickLayout>,
    /// Parts without a place; empty when all are cut.
    pub unplaced: Vec<UnplacedStick>,
    /// What the sticks cost.
    pub cost: i64,
    /// No plan for the parts that fit can cost less than this.
    pub bound: i64,
    /// Whether the plan is proven to be the cheapest.
    pub proven: bool,
}
