//! What later stages may ask of a joint without knowing its word.

/// Traits of a joint; none by default.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[allow(clippy::struct_excessive_bools, reason = "each is a question of its own that a later stage asks")]
pub struct Traits {
    /// Holds its piece to the wall.
    pub hangs_on_wall: bool,
    /// Glues layers face to face, which are trimmed together.
    pub is_layered: bool,
}
