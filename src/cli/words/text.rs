//! The reference on a terminal: lines of at most a hundred characters.

use super::entry::{Entry, Part, Row};
use super::grid::{WIDTH, add, grid, paragraph};
use crate::problem::wording;

/// Every word of some chapters on a line of its own.
pub(super) fn list(parts: &[Part]) -> String {
    let mut text = String::new();
    for part in parts {
        let names = part.entries.iter().map(|e| e.name.chars().count());
        let wide = names.max().unwrap_or(0);
        text += part.title;
        text.push('\n');
        for entry in &part.entries {
            let message = clause(&entry.says, WIDTH.saturating_sub(wide + 4));
            text += format!("  {:wide$}  {message}", entry.name).trim_end();
            text.push('\n');
        }
        text.push('\n');
    }
    text + "`rodwright words NAME` tells all about a word\n"
}

/// What fits of a sentence on a line: its first clause, or as many words of that
/// as there is room for and a sign that there is more.
fn clause(message: &str, room: usize) -> String {
    if message.chars().count() <= room {
        return message.to_owned();
    }
    let first = message.split([';', ':']).next().unwrap_or(message);
    let first = first.split(". ").next().unwrap_or(first);
    if first.chars().count() <= room {
        return first.to_owned();
    }
    let mut short = String::new();
    for word in first.split_whitespace() {
        if short.chars().count() + word.chars().count() + 3 > room {
            break;
        }
        if !short.is_empty() {
            short.push(' ');
        }
        short += word;
    }
    short.trim_end_matches(',').to_owned() + " …"
}

/// The whole entry of one word.
pub(super) fn entry(entry: &Entry) -> String {
    let mut text = format!("{}\n\n{}", entry.written, paragraph(&sentence(&entry.says), 0));
    if !entry.arguments.is_empty() {
        text.push('\n');
        text += &table(["argument", "takes", "can be", "", ""], &entry.arguments);
    }
    if !entry.options.is_empty() {
        text.push('\n');
        text += &table(["option", "takes", "can be", "left out", "what it is"], &entry.options);
    }
    if !entry.kinds.is_empty() {
        text.push('\n');
        for (name, message) in &entry.kinds {
            text += &paragraph(&format!("{name}: {message}"), 2);
        }
    }
    if !entry.rule.is_empty() {
        text.push('\n');
        text += &paragraph(&format!("Rule: {}", entry.rule), 0);
    }
    text += "\nExample:\n";
    for line in entry.example.lines() {
        add(&mut text, format_args!("  {line}\n"));
    }
    text
}

/// Arguments or options in columns.
fn table(head: [&str; 5], rows: &[Row]) -> String {
    let mut all = vec![head.to_vec()];
    all.extend(rows.iter().map(|r| vec![&*r.name, r.takes, &*r.range, &*r.left_out, &*r.says]));
    grid(&all, 2)
}

/// A sentence as it begins and ends where it stands by itself.
pub(super) fn sentence(message: &str) -> String {
    if message.is_empty() { String::new() } else { wording::capital(message) + "." }
}
