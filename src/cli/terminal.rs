//! Text for the person at the terminal. A reader who has gone away is no
//! failure: the work is done all the same. Whatever a script, a path or a list
//! holds, no character gets here that steers a terminal or turns a line round.

use std::io::{ErrorKind, Write};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::time::{Duration, Instant};

use crate::problem::{Problem, folded, render_all, seen};
use crate::source::Sources;

/// Where answers and remarks go.
pub struct Terminal<'a> {
    /// Answers: what was asked for.
    out: &'a mut dyn Write,
    /// Remarks: problems and progress.
    err: &'a mut (dyn Write + Send),
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
    pub fn new(out: &'a mut dyn Write, err: &'a mut (dyn Write + Send)) -> Self {
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

    /// Does work that takes long. On a terminal it is said each second, in one line that is
    /// wiped out at the end, how long it has gone on.
    pub(super) fn watched<T>(&mut self, what: &str, work: impl FnOnce() -> T) -> T {
        if self.columns.is_none() { work() } else { watched(self.err, (what, EACH), work) }
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

/// How often progress is said.
const EACH: Duration = Duration::from_secs(1);

/// Does work, and says `each` so often on `err` how many times that has gone by.
fn watched<T>(err: &mut (dyn Write + Send), (what, each): (&str, Duration), work: impl FnOnce() -> T) -> T {
    std::thread::scope(|scope| {
        // The work holds the sending end, and so ends the watch however it ends itself.
        let (_at_work, over) = channel::<()>();
        scope.spawn(move || {
            let (begun, mut shown) = (Instant::now(), String::new());
            while over.recv_timeout(each) == Err(RecvTimeoutError::Timeout) {
                shown = format!("{what}, {} s", begun.elapsed().as_secs());
                let _nobody_to_tell = write!(err, "\r{shown}").and_then(|()| err.flush());
            }
            if !shown.is_empty() {
                let _nobody_to_tell = write!(err, "\r{:1$}\r", "", shown.len()).and_then(|()| err.flush());
            }
        });
        work()
    })
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

    /// Long work is watched, its line wiped out by as many blanks; on no terminal nothing is
    /// said.
    #[test]
    fn long_work_says_how_long_it_has_gone_on() {
        let mut err = Vec::new();
        let nap = || std::thread::sleep(Duration::from_millis(60));
        watched(&mut err, ("searching", Duration::from_millis(5)), nap);
        let said = String::from_utf8(err).unwrap();
        let blank = format!("\r{}\r", " ".repeat("searching, 0 s".len()));
        assert!(said.starts_with("\rsearching, 0 s") && said.ends_with(&blank), "{said:?}");
        let (mut out, mut err) = (Vec::new(), Vec::new());
        assert_eq!(Terminal::new(&mut out, &mut err).watched("searching", || 7), 7);
        assert!(err.is_empty());
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
