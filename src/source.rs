//! Script texts and places in them.

use std::sync::Arc;

/// Which text of a [`Sources`] a place lies in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SourceId(pub u32);

/// One script text.
#[derive(Clone, Debug)]
pub struct Source {
    /// The name shown to the reader: the path as typed, or `stdlib/case.rhai`.
    pub name: String,
    /// The whole text.
    pub text: Arc<str>,
    /// Whether the text belongs to the furniture library in the program.
    pub library: bool,
}

/// All script texts of one run, in the order they were read; the user's own
/// script is the first.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    /// The texts.
    pub list: Vec<Source>,
}

/// A stretch of one text, in bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The text.
    pub source: SourceId,
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

/// Where a part, joint, cut or problem was asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Origin {
    /// The line of the user's own script.
    pub user: Span,
    /// The line of the furniture library, when the word stands in a type.
    pub library: Option<Span>,
}

impl Sources {
    /// The text `id` names, if it is one of these.
    pub fn get(&self, id: SourceId) -> Option<&Source> {
        self.list.get(id.0 as usize)
    }

    /// Line and column of the start of `span`, both from 1; columns count
    /// characters.
    pub fn line_column(&self, span: Span) -> Option<(usize, usize)> {
        let before = self.get(span.source)?.text.get(..span.start)?;
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().map_or(0, |l| l.chars().count()) + 1;
        Some((line, column))
    }
}
