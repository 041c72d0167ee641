//! What is to be cut from sheets, and what a layout is. Every length is a
//! whole number of 0.1 mm; x runs along the sheet's length (its grain), y
//! across it; places are measured from the sheet's lower left corner.

/// A direction on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// Along the length of the sheet, which is its grain.
    X,
    /// Across the sheet.
    Y,
}

impl Axis {
    /// The direction square to this one.
    pub fn other(self) -> Self {
        match self {
            Self::X => Self::Y,
            Self::Y => Self::X,
        }
    }

    /// Its place in a pair `[x, y]`.
    pub fn index(self) -> usize {
        match self {
            Self::X => 0,
            Self::Y => 1,
        }
    }
}

/// A kind of part, cut one or more times.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetPart {
    /// The caller's own name for it.
    pub id: String,
    /// Size along x and y when not turned.
    pub size: [i64; 2],
    /// How many are needed, those in runs included.
    pub quantity: u32,
    /// Whether it may be turned a quarter, because its grain is free.
    pub may_turn: bool,
}

/// Parts cut from one strip, in order, so that the grain runs on from each to
/// the next. A run lies as one: it is turned only if all its parts may turn,
/// and is never reversed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GrainRun {
    /// The caller's own name for it.
    pub id: String,
    /// Its parts in order, as places in [`SheetJob::parts`]; each mention uses
    /// up one of that part's quantity.
    pub parts: Vec<usize>,
    /// The direction in which the parts follow one another, before turning.
    pub axis: Axis,
    /// Distance between neighbours, at least a kerf; `None` is one kerf.
    pub gap: Option<i64>,
}

/// A kind of sheet, to buy or on hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetStock {
    /// The caller's own name for it.
    pub id: String,
    /// Bare size along x and y.
    pub size: [i64; 2],
    /// How many there are; `None` when any number can be bought.
    pub count: Option<u32>,
    /// What one costs, in any small unit of money. An offcut on hand costs
    /// little or nothing, so that it is used first.
    pub cost: i64,
    /// Taken off the edges first: at low x, high x, low y, high y.
    pub trim: [i64; 4],
}

/// Everything the layout has to respect.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetJob {
    /// The kinds of part.
    pub parts: Vec<SheetPart>,
    /// The grain runs among them.
    pub runs: Vec<GrainRun>,
    /// The kinds of sheet.
    pub sheets: Vec<SheetStock>,
    /// Width of the saw cut.
    pub kerf: i64,
    /// How many levels of cuts may lie above a part, the last trimming cut
    /// counted; `None` is no limit.
    pub levels: Option<u8>,
    /// An offcut is worth keeping when both its sides are at least this long.
    pub useful_offcut: i64,
}

/// How long to search, and from which seed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Steps of taking out and putting back while looking for a cheaper plan.
    pub steps: u64,
    /// Steps spent afterwards on a larger offcut at the same cost.
    pub offcut_steps: u64,
    /// Seed of the generator: another seed is another search.
    pub seed: u64,
    /// Searches made side by side, each of so many steps and from a seed of its own; the
    /// cheapest plan counts. At least one is made.
    pub searches: u32,
}

impl Default for Effort {
    fn default() -> Self {
        Self { steps: 60_000, offcut_steps: 15_000, seed: 1, searches: 1 }
    }
}

/// A part's place in a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RunPlace {
    /// Which run, as a place in [`SheetJob::runs`].
    pub run: usize,
    /// Which of the run's parts, counted from 0.
    pub member: usize,
}

/// What a rectangle of the sheet is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum What {
    /// A finished part.
    Part {
        /// Which, as a place in [`SheetJob::parts`].
        part: usize,
        /// Whether it lies turned a quarter.
        turned: bool,
        /// Its place in a grain run, if it is in one.
        run: Option<RunPlace>,
    },
    /// What is left over.
    Offcut,
    /// Cut further, right across, into pieces that follow one another along
    /// `along`, with a kerf between neighbours.
    Divided {
        /// The direction in which the pieces follow one another.
        along: Axis,
        /// The pieces from low to high.
        pieces: Vec<Piece>,
    },
}

/// A rectangle of the sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// Its corner nearest the sheet's lower left corner.
    pub at: [i64; 2],
    /// Its size along x and y.
    pub size: [i64; 2],
    /// What becomes of it.
    pub what: What,
}

/// One sheet with its cuts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetLayout {
    /// Which kind of sheet, as a place in [`SheetJob::sheets`].
    pub sheet: usize,
    /// The sheet inside its trims, cut up.
    pub usable: Piece,
}

/// A part, or a run, for which there is no place, and what would help.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unplaced {
    /// The parts that stay uncut, as places in [`SheetJob::parts`].
    pub parts: Vec<usize>,
    /// The run they form, if they do.
    pub run: Option<usize>,
    /// What it is with its name: "part `shelf`".
    pub what: String,
    /// Why it has no place.
    pub why: Why,
    /// What would help, best first.
    pub advice: Vec<&'static str>,
}

/// Why something has no place on any sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Why {
    /// There is no sheet at all.
    NoSheet,
    /// All sheets to be had are full.
    UsedUp,
    /// More levels of cuts than are allowed would be needed.
    TooManyLevels {
        /// The levels allowed.
        allowed: u32,
    },
    /// It is larger than the sheet it misses least.
    TooLarge {
        /// By how much it is too long, and too wide; nought where it is not.
        by: [i64; 2],
        /// That sheet.
        sheet: String,
    },
}

impl Unplaced {
    /// Why it has no place, as a sentence without a stop; lengths as `length` shows
    /// them.
    pub fn reason(&self, length: impl Fn(i64) -> String) -> String {
        let name = &self.what;
        match &self.why {
            Why::NoSheet => format!("there is no sheet for {name}"),
            Why::UsedUp => format!("the sheets on hand are used up before {name} is cut"),
            Why::TooManyLevels { allowed } => {
                format!("{name} cannot be cut out within {allowed} levels of cuts")
            }
            Why::TooLarge { by, sheet } => {
                let by = match by {
                    [long, 0] => format!("{} too long", length(*long)),
                    [0, wide] => format!("{} too wide", length(*wide)),
                    [long, wide] => format!("{} too long and {} too wide", length(*long), length(*wide)),
                };
                format!("{name} is {by} for sheet `{sheet}` inside its trims")
            }
        }
    }
}

/// The answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetPlan {
    /// The sheets to cut.
    pub layouts: Vec<SheetLayout>,
    /// Parts without a place; empty when all are cut.
    pub unplaced: Vec<Unplaced>,
    /// What the sheets cost.
    pub cost: i64,
    /// No plan for the placed parts can cost less than this.
    pub bound: i64,
    /// Whether the plan is proven to be the cheapest.
    pub proven: bool,
    /// Steps of search taken.
    pub steps: u64,
    /// Whether the caller's stop ended the search before its steps were spent.
    pub stopped: bool,
}

/// A job that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadJob {
    /// What is wrong, in the words of the trade.
    pub message: String,
    /// What to do about it.
    pub help: String,
}
