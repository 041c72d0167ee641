//! The command line: the only place that reads and writes files, knows the
//! clock and prints.
//!
//! Comes in: arguments. Goes out: files, text on the terminal, and an exit
//! code: 0 done, 1 problems in the script or job, 2 wrong use of the command
//! line, 3 files could not be read or written.

mod args;
mod check;
mod files;
mod licences;
mod loader;
mod setout;
mod sizes;
mod start;
mod terminal;
mod words;

use std::ffi::OsString;
use std::path::Path;
use std::sync::Arc;

use clap::Parser;

pub use files::{WriteError, write_all};
pub use loader::Folder;
pub use terminal::Terminal;

use crate::model::Word;
use crate::problem::{Problem, Severity};
use crate::script::{Limits, Request};
use args::{Command, Line};

/// How a command ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// Done.
    Done,
    /// The script or job has errors.
    Problems,
    /// The command line is wrong.
    WrongUse,
    /// A file could not be read or written.
    Files,
}

impl Ended {
    /// The exit code.
    pub fn code(self) -> u8 {
        match self {
            Self::Done => 0,
            Self::Problems => 1,
            Self::WrongUse => 2,
            Self::Files => 3,
        }
    }

    /// Done, or problems if any is an error.
    fn of(problems: &[Problem]) -> Self {
        let wrong = problems.iter().any(|p| p.severity == Severity::Error);
        if wrong { Self::Problems } else { Self::Done }
    }
}

/// Runs one command line (its first word is the program's name) with the words
/// of joinery.
pub fn run(
    line: impl IntoIterator<Item = OsString>,
    words: &'static [&'static Word],
    terminal: &mut Terminal<'_>,
) -> Ended {
    let line = match Line::try_parse_from(line) {
        Ok(line) => line,
        Err(error) if error.use_stderr() => {
            terminal.say(&error.to_string());
            return Ended::WrongUse;
        }
        // Help and version are asked for: they are the answer.
        Err(error) => {
            terminal.answer(&error.to_string());
            return Ended::Done;
        }
    };
    let Some(command) = line.command else {
        terminal.answer(&licences::text());
        return if terminal.failed() { Ended::Files } else { Ended::Done };
    };
    match command {
        Command::Setout(given) => setout::run(&given, words, terminal),
        Command::Check(given) => check::run(&given, words, terminal),
        Command::Sizes(given) => sizes::run(&given, words, terminal),
        Command::Start(given) => start::run(&given, terminal),
        Command::Words(given) => words::run(&given, words, terminal),
    }
}

/// What to evaluate for a script on disk with its `--set` values; a script
/// that cannot be read is said on the terminal.
fn request(
    script: &args::Script,
    words: &'static [&'static Word],
    terminal: &mut Terminal<'_>,
) -> Result<Request, Ended> {
    let limits = Limits::default();
    let name = script.script.display().to_string();
    match loader::read_script(&script.script, limits.text) {
        Ok(text) => Ok(Request {
            name,
            text,
            settings: script.set.clone(),
            loader: Arc::new(Folder::of_script(&script.script, limits.text)),
            words,
            limits,
        }),
        Err(why) => {
            let problem = Problem::error("unreadable-file", format!("`{name}` cannot be read: {why}"))
                .help(hint(&script.script));
            terminal.problems(&[problem], &crate::source::Sources::default());
            Err(Ended::Files)
        }
    }
}

/// What to do about a script that cannot be read.
fn hint(script: &Path) -> String {
    let with_ending = script.with_extension("rhai");
    if script.extension().is_none() && with_ending.is_file() {
        return format!("did you mean `{}`?", with_ending.display());
    }
    "give the path of a script, such as `scripts/low_bookcase.rhai`".into()
}
