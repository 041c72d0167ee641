//! What every writer makes.

/// A file to write.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct File {
    /// Its name; in a set what follows the script's name: `.pdf`, `-01.svg`.
    pub name: String,
    /// What it holds.
    pub bytes: Vec<u8>,
}

impl File {
    /// A file of text.
    pub(super) fn text(name: &str, text: String) -> Self {
        Self { name: name.into(), bytes: text.into_bytes() }
    }
}
