//! Letters of the script that the lettering of the sheets lacks.

use crate::model::Job;
use crate::paper::{Weight, lettering};
use crate::problem::{Problem, wording};
use crate::source::Origin;

/// One finding for all of them, whatever names hold them; `None` if none is lacking.
pub fn lacking_letters(job: &Job) -> Option<Problem> {
    let mut letters: Vec<char> = Vec::new();
    let mut names: Vec<&str> = Vec::new();
    let mut places: Vec<Origin> = Vec::new();
    for (what, text, origin) in texts(job) {
        let lacking = lettering::missing(text, Weight::Regular);
        if lacking.is_empty() {
            continue;
        }
        let new = lacking.into_iter().filter(|c| !letters.contains(c)).collect::<Vec<_>>();
        letters.extend(new);
        let name = what.unwrap_or(text);
        if !names.contains(&name) {
            names.push(name);
        }
        places.extend(origin);
    }
    let shown: Vec<String> = letters.iter().map(|c| format!("{c} (U+{:04X})", u32::from(*c))).collect();
    let shown: Vec<&str> = shown.iter().map(String::as_str).collect();
    let message = format!(
        "the lettering of the sheets lacks {} of {}; each stands there as a crossed box",
        wording::some_of(&shown),
        wording::some_of(&names)
    );
    let problem = places.first().map(|at| Problem::warning("lacking-letters", message.clone()).at(*at));
    let problem = problem.unwrap_or_else(|| Problem::warning("lacking-letters", message));
    let problem = job
        .parts
        .iter()
        .filter(|part| names.contains(&part.name.as_str()))
        .fold(problem, |problem, part| problem.part(&part.name));
    (!letters.is_empty()).then(|| {
        problem.help(
            "write them in letters of the lettering: Latin with its accents, Greek, Cyrillic; the lists (CSV, JSON and workbook) \
             keep all letters",
        )
    })
}

/// What the script writes on sheets: what to call it, where it is not its own name; the
/// text; and where it is written, if that is known.
fn texts(job: &Job) -> impl Iterator<Item = (Option<&'static str>, &str, Option<Origin>)> {
    let head = &job.head;
    let fields = [&head.number, &head.owner, &head.client, &head.place, &head.drawn_by, &head.checked_by];
    let fields = fields.into_iter().flatten().chain([&head.title]);
    let fields = fields.map(|text| (None, text.as_str(), None));
    let pieces = job.pieces.iter().map(|piece| (None, piece.name.as_str(), Some(piece.origin)));
    let parts = job.parts.iter().map(|part| (None, part.name.as_str(), Some(part.origin)));
    let stock = job.stock.iter().map(|stock| (None, stock.name.as_str(), Some(stock.origin)));
    let notes = job.notes.iter().map(|note| (Some("note"), note.text.as_str(), Some(note.origin)));
    let site = job.site.iter().map(|site| (None, site.name.as_str(), Some(site.origin)));
    let obstacles = job.obstacles.iter().map(|one| (None, one.name.as_str(), Some(one.origin)));
    pieces.chain(parts).chain(stock).chain(notes).chain(site).chain(obstacles).chain(fields)
}
