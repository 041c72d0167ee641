//! One command line: parsed, then run.

use std::ffi::OsString;

use clap::Parser;

use super::args::{Command, Line};
use super::ended::Ended;
use super::terminal::Terminal;
use super::{check, compare, licences, quote, setout, sizes, start, table, words};
use crate::model::Word;

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
        Command::Quote(given) => quote::run(&given, words, terminal),
        Command::Table(given) => table::run(&given, words, terminal),
        Command::Compare(given) => compare::run(&given, words, terminal),
        Command::Check(given) => check::run(&given, words, terminal),
        Command::Sizes(given) => sizes::run(&given, words, terminal),
        Command::Start(given) => start::run(&given, terminal),
        Command::Words(given) => words::run(&given, words, terminal),
    }
}
