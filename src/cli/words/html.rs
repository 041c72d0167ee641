//! The reference as one HTML page that can be searched: whole in itself, so that it can
//! be read without a network.

use rayon::prelude::*;

use super::entry::{Entry, Part, Row};
use super::grid::add;
use super::kinds;
use super::picture::picture;
use super::text::sentence;
use crate::model::Word;

/// The title of the page, by which an earlier one is known again.
pub(super) const TITLE: &str = "Words of a rodwright script";

/// Looks of every page made here.
const LOOKS: &str = "\
body { font: 16px/1.45 sans-serif; max-width: 60em; margin: 1em auto; padding: 0 1em; }
pre { background: #f2f0ea; padding: .6em; overflow-x: auto; }
";

/// Looks of the tables and of the search: entries that lack a word asked for are hidden,
/// and chapters without an entry left.
const MORE_LOOKS: &str = "\
table { border-collapse: collapse; } td, th { border: 1px solid #bbb; padding: .2em .5em; text-align: left; vertical-align: top; }
#search { position: sticky; top: 0; background: #fff; padding: .5em 0; } input { font: inherit; width: 100%; box-sizing: border-box; }
";

/// How a page of this title begins, by which an earlier one is known again.
pub(super) fn start(title: &str) -> String {
    format!("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<title>{title}</title>\n")
}

/// The head of a page, with looks beyond those of every page.
pub(super) fn head(title: &str, more: &str) -> String {
    let start = start(title);
    format!(
        "{start}<meta charset=\"utf-8\"/>\n<meta name=\"viewport\" content=\"width=device-width\"/>\n\
         <style>\n{LOOKS}{more}</style>\n</head>\n<body>\n"
    )
}

/// The script of the search, at the end of the page.
const SEARCH: &str = r#"<script>
const field = document.querySelector("input");
const entries = [...document.querySelectorAll("article")].map(e => [e, e.textContent.toLowerCase()]);
const chapters = [...document.querySelectorAll("section")];
function look() {
  const asked = field.value.toLowerCase().split(/\s+/).filter(w => w);
  for (const [e, text] of entries) e.hidden = !asked.every(w => text.includes(w));
  for (const c of chapters) c.hidden = !c.querySelector("article:not([hidden])");
}
field.addEventListener("input", look);
</script>
</body>
</html>
"#;

/// The whole page.
pub(super) fn page(parts: &[Part], words: &'static [&'static Word]) -> String {
    let mut text = format!("{}<h1>{TITLE}</h1>\n", head(TITLE, MORE_LOOKS));
    text += "<p>Made by <code>rodwright words --page</code> from the data the program checks scripts against. A word is \
             written with its arguments in order and then a map of options, <code>#{ key: value }</code>; lengths are in \
             the unit of the script, their ranges here in mm.</p>\n";
    text += "<p id=\"search\"><input type=\"search\" placeholder=\"search: mitre, lipping door, ...\" aria-label=\"search\"/></p>\n<nav>\n";
    for part in parts {
        let names: Vec<String> =
            part.entries.iter().map(|e| format!("<a href=\"#{0}\">{0}</a>", escaped(&e.name))).collect();
        add(&mut text, format_args!("<p>{}: {}</p>\n", escaped(part.title), names.join(" ")));
    }
    text += "</nav>\n";
    for part in parts {
        add(&mut text, format_args!("<section>\n<h2>{}</h2>\n", escaped(part.title)));
        // Each example is a small job of its own, so they are drawn side by side.
        let entries: Vec<String> = part.entries.par_iter().map(|one| entry(one, words)).collect();
        text += &entries.concat();
        text += "</section>\n";
    }
    text += &values();
    text + SEARCH
}

/// One word.
fn entry(entry: &Entry, words: &'static [&'static Word]) -> String {
    let name = escaped(&entry.name);
    let mut text = format!("<article id=\"{name}\">\n<h3>{name}</h3>\n");
    add(
        &mut text,
        format_args!("<pre>{}</pre>\n<p>{}</p>\n", escaped(&entry.written), said(&sentence(&entry.says))),
    );
    text += &table(&["argument", "takes", "can be"], &entry.arguments);
    text += &table(&["option", "takes", "can be", "left out", "what it is"], &entry.options);
    if !entry.rule.is_empty() {
        add(&mut text, format_args!("<p>Rule: {}.</p>\n", said(entry.rule)));
    }
    if !entry.also.is_empty() {
        add(
            &mut text,
            format_args!("<p>Asked for also as: {}.</p>\n", said(&entry.also.join(", ").replace('_', " "))),
        );
    }
    text += "<p>Example:</p>\n";
    text += &picture(&entry.name, &entry.example, words).unwrap_or_default();
    add(&mut text, format_args!("<pre>{}</pre>\n</article>\n", escaped(&entry.example)));
    text
}

/// Rows under their heads, or nothing if there are none.
fn table(head: &[&str], rows: &[Row]) -> String {
    if rows.is_empty() {
        return String::new();
    }
    let mut text = format!("<table>\n<tr><th>{}</th></tr>\n", head.join("</th><th>"));
    for row in rows {
        let name = format!("<code>{}</code>", escaped(&row.name));
        let cells = [name, escaped(row.takes), said(&row.range), said(&row.left_out), said(&row.says)];
        let shown = cells.get(..head.len()).unwrap_or_default();
        add(&mut text, format_args!("<tr><td>{}</td></tr>\n", shown.join("</td><td>")));
    }
    text + "</table>\n"
}

/// The kinds of values.
fn values() -> String {
    let mut text =
        "<h2>What options take</h2>\n<table>\n<tr><th>takes</th><th>how it is written</th></tr>\n".to_owned();
    for kind in kinds::ALL {
        let (name, told) = (escaped(kinds::name(kind)), said(&kinds::told(kind)));
        add(&mut text, format_args!("<tr><td>{name}</td><td>{told}</td></tr>\n"));
    }
    text + "</table>\n"
}

/// Text whose backticks stand round script.
pub(super) fn said(text: &str) -> String {
    let mut shown = String::new();
    for (i, piece) in escaped(text).split('`').enumerate() {
        if i > 0 {
            shown += if i % 2 == 1 { "<code>" } else { "</code>" };
        }
        shown += piece;
    }
    // A backtick without its other one.
    if text.matches('`').count() % 2 == 1 { shown + "</code>" } else { shown }
}

/// Text in which nothing is taken for marks of the page.
pub(super) fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_of_the_page_are_kept_out_of_the_text() {
        assert_eq!(said("a < `b & c` \"d\""), "a &lt; <code>b &amp; c</code> &quot;d&quot;");
        assert_eq!(said("a `b"), "a <code>b</code>");
    }
}
