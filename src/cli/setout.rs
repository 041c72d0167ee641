//! `setout`: the whole set, written to a folder.

use std::path::{Path, PathBuf};

use super::args::{Appearance, Known, Script, Setout};
use super::{Ended, Terminal, cut_list, write_all};
use crate::changing::{self, Before};
use crate::cutting::price_list;
use crate::model::{Sold, Word};
use crate::problem::{Problem, wording};
use crate::revision::{self, SavedJob};
use crate::script::{Request, declared};
use crate::source::Sources;
use crate::{Choices, File, Set, set_out_after, set_out_together};

/// Runs `setout`.
pub(super) fn run(given: &Setout, words: &'static [&'static Word], terminal: &mut Terminal<'_>) -> Ended {
    let requests = match requests(given, words, terminal) {
        Ok(requests) => requests,
        Err(ended) => return ended,
    };
    let choices = match choices(&given.look, terminal) {
        Ok(choices) => Choices { client: given.client, also: given.also.clone(), ..choices },
        Err(ended) => return ended,
    };
    let scripts = std::iter::once(&given.script.script).chain(&given.more);
    let stem = scripts.map(|script| stem(script)).collect::<Vec<_>>().join("+");
    let folder = given.out.clone().unwrap_or_else(|| PathBuf::from(&stem));
    let set = match requests.as_slice() {
        [request] => {
            let before = match before(&given.known, &folder.join(format!("{stem}-job.json")), terminal) {
                Ok(before) => before,
                Err(ended) => return ended,
            };
            at_work(&choices, terminal, || set_out_after(request, &choices, &before))
        }
        several => at_work(&choices, terminal, || set_out_together(several, &choices)),
    };
    terminal.problems(&set.problems, &set.sources);
    let ended = Ended::of(&set.problems);
    if set.files.is_empty() {
        if let [request] = requests.as_slice() {
            could_be(request, ended, terminal);
        }
        return ended;
    }
    match deliver(&folder, &stem, set.files, terminal) {
        Ended::Done => ended,
        other => other,
    }
}

/// Sets out; how long a search that is asked for has gone on is said on a terminal.
fn at_work(choices: &Choices, terminal: &mut Terminal<'_>, work: impl FnOnce() -> Set) -> Set {
    match choices.effort {
        Some(times) if times > 1 => {
            terminal.watched(&format!("searching {times} times as long for cheaper layouts"), work)
        }
        _ => work(),
    }
}

/// Says what would make sizes possible that cannot be, where they are to blame.
pub(super) fn could_be(request: &Request, ended: Ended, terminal: &mut Terminal<'_>) {
    if ended == Ended::Problems
        && let Some(problem) = changing::advice(request)
    {
        terminal.problems(&[problem], &Sources::default());
    }
}

/// What is known of the set before: by the job file that is named, else by that of the
/// set that is written over, which must not forget what is cut.
fn before(known: &Known, usual: &Path, terminal: &mut Terminal<'_>) -> Result<Before, Ended> {
    let file = known.since.clone().or_else(|| usual.is_file().then(|| usual.to_owned()));
    let saved = file.map(|file| saved_job(&file, terminal)).transpose()?;
    let ticked = known.cut.as_ref().map(|file| cut_list::read(file, terminal)).transpose()?;
    let any = |saved: &SavedJob| saved.states.iter().any(|state| !state.cut.is_empty());
    // Without parts that are cut there is nothing to keep of the set before.
    let saved = saved.filter(|saved| known.since.is_some() || ticked.is_some() || any(saved));
    Ok(Before { saved, ticked })
}

/// The job file at a path; what is wrong with it is on the terminal.
pub(super) fn saved_job(file: &Path, terminal: &mut Terminal<'_>) -> Result<SavedJob, Ended> {
    let name = file.display().to_string();
    let (problem, ended) = match super::loader::read_script(file, LONGEST_JOB) {
        Ok(text) => match revision::read(&name, &text) {
            Ok(saved) => return Ok(saved),
            Err(problem) => (problem, Ended::Problems),
        },
        Err(why) => {
            let problem = Problem::error("unreadable-file", format!("`{name}` cannot be read: {why}"))
                .help("give the path of the `NAME-job.json` that `setout` wrote");
            (problem, Ended::Files)
        }
    };
    terminal.problems(&[problem], &Sources::default());
    Err(ended)
}

/// The longest job file, bytes: a few scripts of the greatest length.
const LONGEST_JOB: usize = 20_000_000;

/// The scripts to set out. A value set from outside goes to each that declares its name,
/// and to all where none does, so that it is said.
fn requests(
    given: &Setout,
    words: &'static [&'static Word],
    terminal: &mut Terminal<'_>,
) -> Result<Vec<Request>, Ended> {
    let scripts = std::iter::once(&given.script.script).chain(&given.more);
    let asked = scripts.map(|script| Script {
        script: script.clone(),
        set: given.script.set.clone(),
        nearest: given.script.nearest,
    });
    let mut requests = asked
        .map(|script| super::request::request(&script, words, terminal))
        .collect::<Result<Vec<_>, _>>()?;
    if requests.len() > 1 {
        let declares = |request: &Request| -> Vec<String> {
            declared(request).sizes.into_iter().map(|size| size.name).collect()
        };
        let names: Vec<Vec<String>> = requests.iter().map(declares).collect();
        for (request, own) in requests.iter_mut().zip(&names) {
            request
                .settings
                .retain(|(name, _)| own.contains(name) || !names.iter().flatten().any(|n| n == name));
        }
    }
    Ok(requests)
}

/// What is chosen about the look, and the price list; one that cannot be read is a
/// problem on the terminal.
pub(super) fn choices(look: &Appearance, terminal: &mut Terminal<'_>) -> Result<Choices, Ended> {
    let sold = match &look.prices {
        Some(file) => prices(file, terminal)?,
        None => Vec::new(),
    };
    Ok(Choices {
        sold,
        also: Vec::new(),
        near: look.near,
        effort: look.effort,
        paper: look.paper,
        unit: look.units,
        profile: look.profile,
        date: look.date.clone(),
        finest: look.finest,
        feet: look.feet,
        survey: look.survey,
        client: false,
        labels: look.labels,
        label_lippings: look.label_lippings,
    })
}

/// The longest price list, bytes: more is some other file.
const LONGEST_LIST: usize = 4_000_000;

/// What a price list tells.
fn prices(file: &Path, terminal: &mut Terminal<'_>) -> Result<Vec<Sold>, Ended> {
    let name = file.display().to_string();
    let text = super::loader::read_script(file, LONGEST_LIST).map_err(|why| {
        let problem = Problem::error("unreadable-file", format!("`{name}` cannot be read: {why}"))
            .help("give the path of a price list, a TOML file");
        terminal.problems(&[problem], &Sources::default());
        Ended::Files
    })?;
    let (sold, problems) = price_list(&name, &text);
    if !problems.is_empty() {
        terminal.problems(&problems, &Sources::default());
    }
    match Ended::of(&problems) {
        Ended::Done => Ok(sold),
        ended => Err(ended),
    }
}

/// The name files are given: the script's without its ending. A name of dots alone, as
/// `...rhai` leaves, would be a folder that is there, often the one above.
pub(super) fn stem(script: &Path) -> String {
    let stem = script.file_stem().map(|s| s.to_string_lossy().into_owned()).unwrap_or_default();
    let plain = stem.chars().any(|c| c != '.') && stem != ".rhai";
    if plain { stem } else { "set".into() }
}

/// Writes the files of a set under the script's name and prints what was written.
/// Each file comes named by what follows the script's name: `.pdf`, `-01.svg`.
pub(super) fn deliver(folder: &Path, stem: &str, files: Vec<File>, terminal: &mut Terminal<'_>) -> Ended {
    let files: Vec<File> =
        files.into_iter().map(|f| File { name: format!("{stem}{}", f.name), ..f }).collect();
    if let Err(error) = write_all(folder, &files) {
        let path = error.path.display();
        let problem = Problem::error("unwritable-file", format!("`{path}` cannot be written: {}", error.why))
            .help(error.help("choose another folder with `--out`, or make room in this one"));
        terminal.problems(&[problem], &Sources::default());
        return Ended::Files;
    }
    for old in left_over(folder, stem, &files) {
        terminal.say(&format!("`{old}` is from an earlier run and not of this set\n"));
    }
    let count = wording::count(files.len(), "file", "files");
    let drawings = folder.join(format!("{stem}.pdf"));
    terminal.answer(&format!(
        "{count} written to {}\nall sheets are in {}\n",
        folder.display(),
        drawings.display()
    ));
    if terminal.failed() { Ended::Files } else { Ended::Done }
}

/// Sheets of an earlier, longer set under the same name, sorted. They are never
/// deleted, only named: the next person to open the folder may take them for
/// part of this set.
fn left_over(folder: &Path, stem: &str, files: &[File]) -> Vec<String> {
    let sheet = |name: &str| {
        let number =
            name.strip_prefix(stem).and_then(|n| n.strip_prefix('-')).and_then(|n| n.strip_suffix(".svg"));
        number.is_some_and(|n| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit()))
    };
    let Ok(entries) = std::fs::read_dir(folder) else { return Vec::new() };
    let mut old: Vec<String> = entries
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| sheet(name) && files.iter().all(|f| f.name != *name))
        .collect();
    old.sort();
    old
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_set_is_delivered_and_an_older_sheet_is_named() {
        let folder = tempfile::tempdir().unwrap();
        for name in ["shelf-09.svg", "shelf-mine.svg", "other-01.svg"] {
            std::fs::write(folder.path().join(name), "old").unwrap();
        }
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let files = vec![File { name: "-01.svg".into(), bytes: b"new".to_vec() }];
        let ended = deliver(folder.path(), "shelf", files, &mut Terminal::new(&mut out, &mut err));
        assert_eq!(ended, Ended::Done);
        assert_eq!(
            String::from_utf8(err).unwrap(),
            "`shelf-09.svg` is from an earlier run and not of this set\n"
        );
        assert_eq!(std::fs::read(folder.path().join("shelf-01.svg")).unwrap(), b"new");
        assert_eq!(std::fs::read(folder.path().join("shelf-09.svg")).unwrap(), b"old");
    }

    #[test]
    fn a_folder_that_is_a_file_is_a_problem() {
        let folder = tempfile::tempdir().unwrap();
        let taken = folder.path().join("taken");
        std::fs::write(&taken, "").unwrap();
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let files = vec![File { name: ".pdf".into(), bytes: Vec::new() }];
        assert_eq!(deliver(&taken, "shelf", files, &mut Terminal::new(&mut out, &mut err)), Ended::Files);
        let said = String::from_utf8(err).unwrap();
        assert_eq!(
            said,
            format!(
                "error[unwritable-file]: `{}` cannot be written: a file is where a folder should be\n = help: nothing was \
                 changed; choose another folder with `--out`, or make room in this one\n\n1 error\n",
                taken.display()
            )
        );
    }

    #[test]
    fn files_are_named_after_the_script_and_never_after_dots() {
        let names = [
            ("a/shelf.rhai", "shelf"),
            ("v1.2.rhai", "v1.2"),
            ("...rhai", "set"),
            (".rhai", "set"),
            ("..", "set"),
        ];
        for (script, name) in names {
            assert_eq!(stem(Path::new(script)), name, "{script}");
        }
    }
}
