//! What later stages may ask of a joint without knowing its word.

/// Traits of a joint; none by default.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[allow(clippy::struct_excessive_bools, reason = "each is a question of its own that a later stage asks")]
pub struct Traits {
    /// Holds its piece to the wall.
    pub hangs_on_wall: bool,
    /// Its first part is fixed to the wall before the piece, made up, is hooked on.
    pub hooks_on: bool,
    /// Stands its piece on the floor, however high the parts begin.
    pub stands_on_floor: bool,
    /// Glues layers face to face, which are trimmed together.
    pub is_layered: bool,
    /// Folds a panel along a groove.
    pub folds: bool,
    /// Covers an edge with a strip that is worked before it is glued on.
    pub lips: bool,
    /// Leaves a panel free to move in its groove.
    pub frees_panel: bool,
    /// A tenon of one part stands in the other.
    pub is_tenoned: bool,
    /// A round of one part stands in a bore of the other, which its word holds to be wood.
    pub stands_in_bore: bool,
    /// Is drawn together from loose, so that any move that closes it will do.
    pub is_drawn_together: bool,
    /// Stands before the face of its part, for a hand to open it by.
    pub is_handle: bool,
    /// Its first part comes to rest against it without being held.
    pub rests_without_holding: bool,
    /// Holds what is put in when the piece is finished, and may have to come out again.
    pub waits_for_finish: bool,
    /// Is something bought that goes on when the piece stands, of which nothing is drawn.
    pub goes_on_last: bool,
    /// What it takes up where its two parts meet.
    pub takes_up: TakesUp,
}

/// What a joint takes up of the place where its two parts meet, so that another
/// between the same two may not go there.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum TakesUp {
    /// Nothing that others want.
    #[default]
    Nothing,
    /// It is the way in which they meet; their faces stay free.
    Meeting,
    /// The same, on a slope that may hold a tongue.
    Slope,
    /// It is the way in which they meet, and one is let into the other, so that no
    /// face is left for what is sunk into both.
    LetIn,
    /// The same, but its tongue may also lie in a slope.
    Tongue,
    /// Both faces, into which it is sunk.
    Faces,
}
