//! One finding: how much it matters, what is wrong, where, and what to do.

use crate::source::{Origin, SourceId, Span};

/// How much a finding matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Worth knowing; nothing is wrong.
    Advice,
    /// The piece can be made, but look at this first.
    Warning,
    /// What is asked for cannot be made or drawn.
    Error,
}

/// One finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// How much it matters.
    pub severity: Severity,
    /// A stable short name, kebab case, such as `parts-do-not-meet`.
    pub code: &'static str,
    /// What is wrong: lower case, no full stop, names in backticks, sizes with unit.
    pub message: String,
    /// What to do about it, if something can be said.
    pub help: Option<String>,
    /// Where: the first is where it was asked for, the others have a label of
    /// what stands there.
    pub places: Vec<Place>,
    /// Names of the parts concerned.
    pub parts: Vec<String>,
}

/// A place in the script that a problem points at.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// The stretch of text.
    pub span: Span,
    /// What is said under it; may be empty.
    pub label: String,
}

impl Problem {
    fn new(severity: Severity, code: &'static str, message: impl Into<String>) -> Self {
        Self { severity, code, message: message.into(), help: None, places: Vec::new(), parts: Vec::new() }
    }
    /// A finding that stops the output it spoils.
    pub fn error(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(Severity::Error, code, message)
    }
    /// A finding to look at before cutting.
    pub fn warning(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(Severity::Warning, code, message)
    }
    /// A finding worth knowing.
    pub fn advice(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(Severity::Advice, code, message)
    }
    /// With what to do about it.
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }
    /// Pointing at where the word was written: the user's line first, then the
    /// library's.
    pub fn at(mut self, origin: Origin) -> Self {
        self.places.push(Place { span: origin.user, label: String::new() });
        if let Some(span) = origin.library {
            self.places.push(Place { span, label: "asked for here in the furniture library".into() });
        }
        self
    }
    /// Pointing at one more stretch of script.
    pub fn place(mut self, span: Span, label: impl Into<String>) -> Self {
        self.places.push(Place { span, label: label.into() });
        self
    }
    /// With its places in texts that come after `before` others.
    pub(crate) fn after(mut self, before: usize) -> Self {
        // A run reads some dozens of texts.
        let shift = u32::try_from(before).unwrap_or(u32::MAX);
        for place in &mut self.places {
            place.span.source = SourceId(place.span.source.0.saturating_add(shift));
        }
        self
    }

    /// Concerning the part called `name`.
    pub fn part(mut self, name: impl Into<String>) -> Self {
        self.parts.push(name.into());
        self
    }
}
