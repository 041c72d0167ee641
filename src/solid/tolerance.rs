//! Every tolerance of the kernel, in mm, with its reason. Pieces up to 5 m.

/// Steps of the integer grid in one mm (2^24). Finer costs time; coarser than
/// 2^17 leaves gaps between faces.
pub(crate) const GRID: f64 = 16_777_216.0;

/// No corner may lie further from the part's origin than this, mm: far beyond
/// any piece and the half spaces cut from it, far inside the grid's range.
pub(crate) const FAR: f64 = 100_000.0;

/// How near a point must be to a plane to count as on it, and how near two
/// points must be to count as one. Script arithmetic errs by 1e-12 and real
/// differences are over 1e-2, so only the values between are ambiguous: when a
/// part does not close with the first pair, the next are tried in turn.
pub(crate) const LADDER: &[(f64, f64)] =
    &[(1e-5, 2e-5), (1e-5, 1e-4), (1e-4, 1e-3), (1e-3, 5e-3), (1e-6, 2e-5), (1e-3, 2e-2)];

/// Boxes this near one another are tried against each other: above every step
/// of the ladder.
pub(crate) const NEAR: f64 = 0.05;

/// Two unit normals closer than this (1 - cosine) are one direction.
pub(crate) const PARALLEL: f64 = 1e-6;

/// Hidden lines: a point this near an edge of a face in the view counts as on it.
pub(crate) const ON_LINE: f64 = 5e-4;

/// Hidden lines: a face hides only what lies further behind it than this.
pub(crate) const DEPTH: f64 = 2e-3;

/// Hidden lines: shorter pieces are not drawn.
pub(crate) const LEAST_SEGMENT: f64 = 2e-3;

/// Faces this near one another touch.
pub(crate) const CONTACT_GAP: f64 = 0.02;

/// A contact or overlap narrower than this is none.
pub(crate) const LEAST_WIDTH: f64 = 0.02;

/// What hangs together and is thinner than this is no piece of wood, mm: it is left where
/// two cuts all but meet, and goes with the saw.
pub(crate) const SLIVER: f64 = 0.02;

/// In motion, a face blocks if it lies ahead, or behind by no more than this:
/// faces in contact block too.
pub(crate) const MOTION_GAP: f64 = 5e-3;

/// Finished parts that enter one another by less than this only touch.
pub(crate) const PENETRATION: f64 = 0.01;

/// Sections: a corner this near the cutting plane lies on it, so that a face which only
/// touches the plane is kept or dropped whole.
pub(crate) const ON_PLANE: f64 = 1e-5;

/// Hidden lines: cells of the search are no smaller, so that a drawing that is a mere
/// line still has cells.
pub(crate) const LEAST_CELL: f64 = 1e-3;

/// A direction with a share of an axis below this is far enough from it to make a frame
/// with; and a face that follows an axis by less reaches along it.
pub(crate) const ASKEW: f64 = 0.9;
