//! What the language can say that is no word.

/// Something the language can say that is no [`Word`](crate::model::Word): it takes no options, or
/// takes more than values and parts.
#[derive(Debug)]
pub struct Saying {
    /// Its name.
    pub name: &'static str,
    /// How it is written.
    pub written: &'static str,
    /// One sentence: what it does.
    pub says: &'static str,
    /// A line or lines showing it.
    pub example: &'static str,
}
