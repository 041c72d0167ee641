//! Writes changes into the text of a file, each behind its switch, so that one build
//! holds all of them.

use std::fmt::Write as _;
use std::ops::Range;

use crate::sites::{Change, Site};

/// The variable that says which change is made.
pub(crate) const SWITCH: &str = "MUTANT";

/// The variable that names a folder, in which a file is made for each change whose
/// place is come by.
pub(crate) const REACHED: &str = "MUTANTS_REACHED";

/// The module that the changed crate gets besides its own.
pub(crate) const SWITCHES: &str = r#"//! Which change is made.
use std::path::PathBuf;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, Ordering::Relaxed};

static MADE: OnceLock<usize> = OnceLock::new();
static FOLDER: OnceLock<Option<PathBuf>> = OnceLock::new();
static SEEN: [AtomicBool; 65536] = [const { AtomicBool::new(false) }; 65536];

pub(crate) fn on(change: usize) -> bool {
    if let Some(folder) = FOLDER.get_or_init(|| std::env::var_os("MUTANTS_REACHED").map(PathBuf::from)) {
        if !SEEN[change].load(Relaxed) && !SEEN[change].swap(true, Relaxed) {
            let _ = std::fs::write(folder.join(change.to_string()), "");
        }
    }
    *MADE.get_or_init(|| std::env::var("MUTANT").ok().and_then(|v| v.parse().ok()).unwrap_or(0)) == change
}
"#;

/// The text of a file with all of `sites`, which are in this file and have a number
/// each, behind their switches. No two may be of the same expression.
pub(crate) fn rewrite(text: &str, sites: &[(usize, &Site)]) -> String {
    let mut sorted = sites.to_vec();
    sorted.sort_by_key(|(_, site)| (site.span.start, usize::MAX - site.span.end));
    part(text, 0..text.len(), &sorted)
}

/// The text of a range, with the changes of the expressions in it.
fn part(text: &str, range: Range<usize>, sites: &[(usize, &Site)]) -> String {
    let mut out = String::new();
    let mut at = range.start;
    for (number, site) in sites {
        if site.span.start < at || site.span.end > range.end {
            continue;
        }
        out += &text[at..site.span.start];
        let within: Vec<(usize, &Site)> =
            sites.iter().filter(|(other, _)| other != number).copied().collect();
        // The brackets are found again where the compiler does not accept a change.
        let _ = write!(out, "/*{{{number}*/{}/*{number}}}*/", switched(text, *number, site, &within));
        at = site.span.end;
    }
    out + &text[at..range.end]
}

/// Both ways of one expression. Sides are in brackets: `x as usize >= y` turned round
/// would begin a generic argument.
fn switched(text: &str, number: usize, site: &Site, within: &[(usize, &Site)]) -> String {
    let on = format!("crate::mutants::on({number})");
    match &site.change {
        Change::Operator { left, right, from, to } => {
            let (left, right) = (part(text, left.clone(), within), part(text, right.clone(), within));
            format!("(if {on} {{ (({left}) {to} ({right})) }} else {{ (({left}) {from} ({right})) }})")
        }
        Change::Method { name, from, to } => {
            let before = part(text, site.span.start..name.start, within);
            let after = part(text, name.end..site.span.end, within);
            format!("(if {on} {{ ({before}{to}{after}) }} else {{ ({before}{from}{after}) }})")
        }
        Change::Negation => format!("({on} != ({}))", part(text, site.span.clone(), within)),
    }
}

/// The number of the change that bytes of a changed text belong to: the innermost one
/// around their start, else the first among them.
pub(crate) fn number_at(text: &str, bytes: Range<usize>) -> Option<usize> {
    let mut open = Vec::new();
    let mut at = 0;
    while let Some(found) = text[at..].find("/*").map(|i| at + i) {
        let Some(end) = text[found..].find("*/").map(|i| found + i) else { break };
        let mark = &text[found + 2..end];
        let opens = mark.strip_prefix('{').and_then(|n| n.parse::<usize>().ok());
        let closes = mark.strip_suffix('}').and_then(|n| n.parse::<usize>().ok());
        if found >= bytes.start && !open.is_empty() || found >= bytes.end {
            break;
        }
        open.extend(opens);
        if closes.is_some() {
            open.pop();
        }
        at = end;
    }
    open.pop()
}
