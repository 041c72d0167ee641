//! The reference as one Markdown page.

use super::entry::{Entry, Part, Row};
use super::grid::add;
use super::kinds;
use super::text::sentence;

/// How the page begins, by which an earlier one is known again.
pub(super) const TITLE: &str = "# Words of a rodwright script\n";

/// The whole page.
pub(super) fn page(parts: &[Part]) -> String {
    let mut text = format!(
        "{TITLE}\nMade by `rodwright words --page` from the data the program checks scripts against. A word is written \
         with its arguments in order and then a map of options, `#{{ key: value }}`; lengths are in the unit of \
         the script, their ranges here in mm.\n\n"
    );
    for part in parts {
        let names: Vec<String> =
            part.entries.iter().map(|e| format!("[`{0}`](#{1})", e.name, anchor(&e.name))).collect();
        add(&mut text, format_args!("- {}: {}\n", part.title, names.join(" ")));
    }
    text += "- [What options take](#what-options-take)\n";
    for part in parts {
        add(&mut text, format_args!("\n## {}\n", part.title));
        for one in &part.entries {
            text += &entry(one);
        }
    }
    text + values().as_str()
}

/// One word.
fn entry(entry: &Entry) -> String {
    let mut text = format!("\n### {}\n\n", entry.name);
    text += &block(&entry.written);
    add(&mut text, format_args!("\n{}\n", escaped(&sentence(&entry.says))));
    text += &table(["argument", "takes", "can be"], &entry.arguments, |r| {
        vec![code(&r.name), r.takes.into(), escaped(&r.range)]
    });
    text += &table(["option", "takes", "can be", "left out", "what it is"], &entry.options, |r| {
        vec![code(&r.name), r.takes.into(), escaped(&r.range), escaped(&r.left_out), escaped(&r.says)]
    });
    if !entry.rule.is_empty() {
        add(&mut text, format_args!("\nRule: {}.\n", escaped(entry.rule)));
    }
    if !entry.also.is_empty() {
        add(
            &mut text,
            format_args!("\nAsked for also as: {}.\n", escaped(&entry.also.join(", ").replace('_', " "))),
        );
    }
    text += "\nExample:\n\n";
    text + block(&entry.example).as_str()
}

/// The kinds of values.
fn values() -> String {
    let mut text = "\n## What options take\n\n| takes | how it is written |\n|---|---|\n".to_owned();
    for kind in kinds::ALL {
        add(&mut text, format_args!("| {} | {} |\n", kinds::name(kind), escaped(&kinds::told(kind))));
    }
    text
}

/// A table, or nothing if it has no rows.
fn table<const N: usize>(head: [&str; N], rows: &[Row], cells: impl Fn(&Row) -> Vec<String>) -> String {
    if rows.is_empty() {
        return String::new();
    }
    let mut text = format!("\n| {} |\n|{}\n", head.join(" | "), "---|".repeat(N));
    for row in rows {
        add(&mut text, format_args!("| {} |\n", cells(row).join(" | ")));
    }
    text
}

/// Script text in a block.
fn block(script: &str) -> String {
    format!("```rhai\n{script}\n```\n")
}

/// Script text in a line.
fn code(name: &str) -> String {
    format!("`{name}`")
}

/// Text in which nothing outside backticks is taken for marks of the page.
fn escaped(text: &str) -> String {
    let mut shown = String::new();
    let mut in_code = false;
    for letter in text.chars() {
        in_code ^= letter == '`';
        // A bar ends a cell even between backticks.
        if letter == '|' || (!in_code && matches!(letter, '*' | '_' | '<' | '[' | ']' | '#')) {
            shown.push('\\');
        }
        shown.push(letter);
    }
    shown
}

/// What a heading is linked by: its letters, digits, `_` and `-`, small.
fn anchor(name: &str) -> String {
    name.to_lowercase().chars().filter(|c| c.is_alphanumeric() || matches!(c, '_' | '-')).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_of_the_page_are_kept_out_of_the_text() {
        assert_eq!(escaped("a*b `c_d` [2, 3]|"), "a\\*b `c_d` \\[2, 3\\]\\|");
        assert_eq!(anchor("case::make"), "casemake");
    }
}
