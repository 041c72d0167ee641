//! Text for the person at the terminal. A reader who has gone away is no
//! failure: the work is done all the same. Whatever a script, a path or a list
//! holds, no character gets here that steers a terminal or turns a line round.

use std::io::{ErrorKind, Write};

use crate::problem::{Problem, folded, render_all, seen};
use crate::source::Sources;

/// Where answers and remarks go.
pub struct Terminal<'a> {
    /// Answers: what was asked for.
    out: &'a mut dyn Write,
    /// Remarks: problems and progress.
    err: &'a mut dyn Write,
    /// Whether an answer could not be written, for another reason than a
    /// reader that has gone away.
    failed: Option<std::io::Error>,
    /// Columns that remarks are folded to; `None` where nobody reads them on a terminal.
    columns: Option<usize>,
}

impl std::fmt::Debug for Terminal<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Terminal").field("failed", &self.failed).finish_non_exhaustive()
    }
}

impl<'a> Terminal<'a> {
    /// A terminal that answers on `out` and remarks on `err`.
    pub fn new(out: &'a mut dyn Write, err: &'a mut dyn Write) -> Self {
        Self { out, err, failed: None, columns: None }
    }

    /// The same with remarks folded to so many columns.
    #[must_use]
    pub fn folding(self, columns: Option<usize>) -> Self {
        Self { columns, ..self }
    }

    /// Prints what was asked for.
    pub fn answer(&mut self, text: &str) {
        let result = self.out.write_all(seen(text).as_bytes()).and_then(|()| self.out.flush());
        match result {
            Err(error) if error.kind() != ErrorKind::BrokenPipe => self.failed = Some(error),
            _ => (),
        }
    }

    /// Prints a remark. If that fails, nothing is left to print the failure on.
    pub fn say(&mut self, text: &str) {
        let text = self.columns.map_or_else(|| seen(text), |columns| folded(&seen(text), columns));
        let _nobody_to_tell = self.err.write_all(text.as_bytes()).and_then(|()| self.err.flush());
    }

    /// Prints problems.
    pub fn problems(&mut self, problems: &[Problem], sources: &Sources) {
        self.say(&render_all(problems, sources));
    }

    /// Whether an answer could not be written; prints that once.
    pub fn failed(&mut self) -> bool {
        let Some(error) = self.failed.take() else { return false };
        let why = super::files::why(&error);
        self.say(&format!("error[unwritable-output]: the answer cannot be written: {why}\n"));
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn remarks_are_folded_to_the_columns_of_a_terminal_and_answers_are_not() {
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let mut terminal = Terminal::new(&mut out, &mut err).folding(Some(40));
        let text = "a sentence that is longer than forty columns are wide\n";
        terminal.answer(text);
        terminal.say(text);
        assert_eq!(String::from_utf8(out).unwrap(), text);
        let folded = "a sentence that is longer than forty\n    columns are wide\n";
        assert_eq!(String::from_utf8(err).unwrap(), folded);
    }

    #[test]
    fn nothing_steers_the_terminal() {
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let mut terminal = Terminal::new(&mut out, &mut err);
        terminal.answer("red \u{1b}[31m\tname\n");
        terminal.say("read \u{202e}backwards\n");
        assert_eq!(String::from_utf8(out).unwrap(), "red \u{fffd}[31m\tname\n");
        assert_eq!(String::from_utf8(err).unwrap(), "read \u{fffd}backwards\n");
    }
}
