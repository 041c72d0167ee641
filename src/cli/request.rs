//! What to evaluate: a script on disk with the values set on the command line.

use std::path::Path;
use std::sync::Arc;

use super::args::Script;
use super::ended::Ended;
use super::loader::{self, Folder};
use super::terminal::Terminal;
use crate::changing::{Nearest, settle};
use crate::model::Word;
use crate::problem::Problem;
use crate::script::{Limits, Request};

/// What to evaluate for a script on disk with its `--set` values; a script
/// that cannot be read is a problem on the terminal.
pub(super) fn request(
    script: &Script,
    words: &'static [&'static Word],
    terminal: &mut Terminal<'_>,
) -> Result<Request, Ended> {
    if let Some(problem) = set_twice(&script.set) {
        terminal.problems(&[problem], &crate::source::Sources::default());
        return Err(Ended::WrongUse);
    }
    let limits = Limits::default();
    let name = script.script.display().to_string();
    match loader::read_script(&script.script, limits.script) {
        Ok(text) => {
            let request = Request {
                name,
                text,
                settings: script.set.clone(),
                loader: Arc::new(Folder::of_script(&script.script, limits.script)),
                words,
                limits,
            };
            Ok(if script.nearest { nearest(request, terminal) } else { request })
        }
        Err(why) => {
            let problem = Problem::error("unreadable-file", format!("`{name}` cannot be read: {why}"))
                .help(hint(&script.script));
            terminal.problems(&[problem], &crate::source::Sources::default());
            Err(Ended::Files)
        }
    }
}

/// A size that is set twice: only one of the two can be meant.
fn set_twice(set: &[(String, String)]) -> Option<Problem> {
    let (at, (name, second)) = set
        .iter()
        .enumerate()
        .find(|(at, (name, _))| set.iter().take(*at).any(|(other, _)| other == name))?;
    let first = set.iter().take(at).find(|(other, _)| other == name).map_or("", |(_, value)| value);
    let problem =
        Problem::error("set-twice", format!("`{name}` is set twice: to `{first}` and to `{second}`"));
    Some(problem.help("leave out one `--set` of the two"))
}

/// A request with sizes that can be made; what was taken is on the terminal.
fn nearest(request: Request, terminal: &mut Terminal<'_>) -> Request {
    let (request, taken) = settle(request);
    for near in taken {
        let Nearest { name, asked, value } = near;
        terminal.say(&format!("`{name}` cannot be `{asked}`: `{value}` is taken, the nearest that can be\n"));
    }
    request
}

/// What to do about a script that cannot be read.
fn hint(script: &Path) -> String {
    let with_ending = script.with_extension("rhai");
    if script.extension().is_none() && with_ending.is_file() {
        return format!("did you mean `{}`?", with_ending.display());
    }
    "give the path of a script, such as `scripts/low_bookcase.rhai`".into()
}
