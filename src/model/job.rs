//! The job, its pieces and parts, and the works asked of them.

use std::collections::BTreeMap;

use super::{
    Cutting, Obstacle, Options, OrderAsked, Revision, Scribe, Side, Site, Sold, Stock, StockId, Word,
};
use crate::geometry::{DVec3, Placement};
use crate::measure::{PINT, SQUARE_FOOT, Unit};
use crate::solid::Station;
use crate::source::Origin;

/// Index into [`Job::parts`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PartId(pub usize);

/// Index into [`Job::pieces`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PieceId(pub usize);

/// One script, evaluated.
#[derive(Clone, Debug)]
pub struct Job {
    /// Title and what else the title block asks for.
    pub head: JobHead,
    /// The script's own unit.
    pub unit: Unit,
    /// Declared sizes and choices with their values, in script order.
    pub sizes: Vec<SizeValue>,
    /// Materials.
    pub stock: Vec<Stock>,
    /// Pieces of furniture.
    pub pieces: Vec<Piece>,
    /// Parts of all pieces, in script order.
    pub parts: Vec<Part>,
    /// Joints, shapings and fittings, in script order.
    pub works: Vec<Work>,
    /// Parts whose figure runs on from one to the next.
    pub grain_runs: Vec<GrainRun>,
    /// Parts that are cut already, with how many of each: indices into the worked parts,
    /// which begin with those of the script.
    pub already_cut: BTreeMap<usize, usize>,
    /// The wall it goes to, if the script tells of it.
    pub site: Option<Site>,
    /// What else is on that wall.
    pub obstacles: Vec<Obstacle>,
    /// Edges scribed to that wall, in script order.
    pub scribes: Vec<Scribe>,
    /// Notes for the drawings.
    pub notes: Vec<Note>,
    /// Finishing.
    pub finish: Option<Finish>,
    /// How the shop cuts.
    pub cutting: Cutting,
    /// How what is bought is sold.
    pub sold: Vec<Sold>,
    /// What is said of the order of work.
    pub order: OrderAsked,
    /// What shelves and tops bear, if said.
    pub load: Option<Load>,
}

/// Fields of the title block (ISO 7200).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct JobHead {
    /// Title of the job.
    pub title: String,
    /// Drawing number.
    pub number: Option<String>,
    /// The shop: legal owner.
    pub owner: Option<String>,
    /// Who it is for.
    pub client: Option<String>,
    /// Where it goes.
    pub place: Option<String>,
    /// Who drew it.
    pub drawn_by: Option<String>,
    /// Who checked it.
    pub checked_by: Option<String>,
    /// What departs from the brief.
    pub departs: Option<String>,
    /// Who approved it.
    pub approved_by: Option<String>,
    /// Revision letter: as said, else that of the last revision listed.
    pub revision: Option<String>,
    /// Document status: `for approval`.
    pub status: Option<String>,
    /// What was changed when, oldest first.
    pub revisions: Vec<Revision>,
}

/// What shelves and tops bear.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Load {
    /// Books, schools, libraries.
    Books,
    /// All else.
    General,
    /// Crockery and clothes.
    Light,
}

impl Load {
    /// One pound to the square foot, N/mm2.
    pub const PSF: f64 = 4.788_026e-5;

    /// What it is to the area, N/mm2: 50, 40 and 15 lb to the square foot (Architectural
    /// Woodwork Standards, 2009, section 10; ANSI/KCMA A161.1).
    pub fn pressure(self) -> f64 {
        match self {
            Self::Books => 50.0 * Self::PSF,
            Self::General => 40.0 * Self::PSF,
            Self::Light => 15.0 * Self::PSF,
        }
    }
}

/// One thing of furniture.
#[derive(Clone, Debug)]
pub struct Piece {
    /// Its name.
    pub name: String,
    /// How many are made.
    pub count: u32,
    /// Whether it hangs on the wall, if the script says so.
    pub hung: Option<bool>,
    /// From the left end of the wall to its left side, mm, if the script says so.
    pub left: Option<f64>,
    /// From the floor to its underside, mm, if the script says so.
    pub floor: Option<f64>,
    /// Where it was declared.
    pub origin: Origin,
}

/// One thing cut from stock, as placed in its piece.
#[derive(Clone, Debug)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// The piece it belongs to.
    pub piece: PieceId,
    /// What it is cut from.
    pub stock: StockId,
    /// Part coordinates in piece coordinates.
    pub at: Placement,
    /// Length (along the grain), width, thickness as placed, mm: the space the
    /// script said it fills, before joints lengthen it or lippings thin it.
    pub size: DVec3,
    /// Flat or turned.
    pub form: Form,
    /// The side of the piece the face mark looks to.
    pub face: Side,
    /// The side of the piece the edge mark looks to.
    pub edge: Side,
    /// Remark for the cutting list.
    pub remark: Option<String>,
    /// Where it was made.
    pub origin: Origin,
}

/// Form of a part's body.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// A rectangular body that fills `size`.
    Flat,
    /// Turned about part x through the middle of width and thickness; stations
    /// measured along x.
    Turned(Vec<Station>),
}

/// A piece that begins higher than this stands on nothing, mm: more than the feet,
/// castors and gaps that a script may leave out.
pub const FLOATS: f64 = 150.0;

/// One use of a word: a joint, shaping or fitting.
#[derive(Clone, Debug)]
pub struct Work {
    /// The word.
    pub word: &'static Word,
    /// For each part argument of the word in order, the part or parts given.
    pub parts: Vec<Vec<PartId>>,
    /// Value arguments and options, checked against the word.
    pub options: Options,
    /// Made after this glue-up, where the script says `after_glue_up`.
    pub after_glue_up: bool,
    /// Where it was written.
    pub origin: Origin,
}

/// Parts cut from one strip in this order so that the figure runs on.
#[derive(Clone, Debug)]
pub struct GrainRun {
    /// In order.
    pub parts: Vec<PartId>,
    /// Where it was written.
    pub origin: Origin,
}

/// A note for the drawings.
#[derive(Clone, Debug)]
pub struct Note {
    /// The text.
    pub text: String,
    /// The pieces it is about; none for the whole job.
    pub pieces: Vec<PieceId>,
    /// Where it was written.
    pub origin: Origin,
}

impl Note {
    /// Whether it belongs on the drawing of a piece.
    pub fn is_about(&self, piece: PieceId) -> bool {
        self.pieces.is_empty() || self.pieces.contains(&piece)
    }
}

/// Finishing of the job.
#[derive(Clone, Debug)]
pub struct Finish {
    /// What, in words.
    pub what: String,
    /// Number of coats.
    pub coats: u32,
    /// Square metres that a litre covers once, if given.
    pub coverage: Option<f64>,
    /// Hours until the next coat, if given.
    pub dries: Option<f64>,
    /// Where it was written.
    pub origin: Origin,
}

/// Finishes that do not heat up while they dry, by parts of their names: whatever else is
/// taken for one that may.
const COOL: [&str; 4] = ["water", "soap", "shellac", "milk paint"];

impl Finish {
    /// What a litre covers once where the script does not say, m² (common practice, no
    /// source).
    pub const COVERAGE: f64 = 12.0;

    /// The same in a job in `unit`: 60 square feet a pint in a shop that works in inches
    /// (common practice, no source).
    pub fn usual_coverage(unit: Unit) -> f64 {
        if unit == Unit::Inch { 60.0 * SQUARE_FOOT / PINT } else { Self::COVERAGE }
    }

    /// Whether rags with it may set themselves on fire while they dry: of every finish that
    /// is not known to stay cool.
    pub fn heats(&self) -> bool {
        let what = self.what.to_lowercase();
        what.contains("oil") || !COOL.iter().any(|name| what.contains(name))
    }
}

/// Something that can be changed from outside.
#[derive(Clone, Debug, PartialEq)]
pub struct SizeDecl {
    /// Its name.
    pub name: String,
    /// What it takes and its default.
    pub kind: SizeKind,
    /// One sentence, may be empty.
    pub says: String,
    /// Where it is declared.
    pub origin: Origin,
}

/// Kinds of declared sizes. Lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub enum SizeKind {
    /// A length.
    Length {
        /// Value when nothing else is said.
        default: f64,
        /// Least.
        from: Option<f64>,
        /// Greatest.
        to: Option<f64>,
    },
    /// A whole number.
    Count {
        /// Value when nothing else is said.
        default: i64,
        /// Least.
        from: Option<i64>,
        /// Greatest.
        to: Option<i64>,
    },
    /// One of some texts.
    Choice {
        /// Value when nothing else is said.
        default: String,
        /// What may be chosen.
        among: Vec<String>,
    },
    /// Yes or no.
    YesNo {
        /// Value when nothing else is said.
        default: bool,
    },
}

/// A declared size and its value in this run, as shown to people: `900 mm`,
/// `3`, `oak`, `yes`.
#[derive(Clone, Debug, PartialEq)]
pub struct SizeValue {
    /// The declaration.
    pub decl: SizeDecl,
    /// A length in mm, or a count.
    pub number: Option<f64>,
    /// A choice, or `yes`/`no`.
    pub text: Option<String>,
    /// Whether it changes nothing as the others stand, such as knobs without doors; known
    /// only where a client is told of choices.
    pub idle: bool,
}

impl Work {
    /// The first part given for part argument `arg`. Words check the count, so
    /// it is there for any argument the word declares.
    pub fn part(&self, arg: usize) -> Option<PartId> {
        self.parts.get(arg)?.first().copied()
    }
}
