//! The guide: ten lessons for whoever never wrote a script, and the examples that `start`
//! writes: the script of each lesson, and a whole cabinet to copy and alter.

use super::grid::{add, paragraph};
use super::html::{escaped, head, said};
use crate::measure::Unit;

/// The lessons, as they stand on a Markdown page.
const LESSONS: &str = include_str!("lessons.md");

/// A whole cabinet, the first script of the README, in each unit.
const CABINET: &str = "hall_cabinet";

/// How the Markdown page begins, by which an earlier one is known again.
pub(super) const TITLE: &str = "# Ten lessons\n";

/// The title of the HTML page, by which an earlier one is known again.
pub(super) const PAGE_TITLE: &str = "Ten lessons in rodwright scripts";

/// What stands in the lessons, in order.
enum Block<'a> {
    /// The title of all.
    Title(&'a str),
    /// The head of a lesson: its number, the name of its example, its title.
    Lesson { number: &'a str, name: &'a str, title: &'a str },
    /// A paragraph in one line.
    Text(String),
    /// A script or a picture drawn in letters; kept as it is set.
    Set { text: &'a str, is_script: bool },
}

/// The lessons as blocks.
fn blocks() -> Vec<Block<'static>> {
    let mut blocks = Vec::new();
    // Between fences every other stretch is set, and begins with its language.
    for (at, stretch) in LESSONS.split("```").enumerate() {
        if at % 2 == 1 {
            let (language, text) = stretch.split_once('\n').unwrap_or(("", stretch));
            blocks.push(Block::Set { text, is_script: language == "rhai" });
        } else {
            blocks.extend(stretch.split("\n\n").map(str::trim).filter(|text| !text.is_empty()).map(flowing));
        }
    }
    blocks
}

/// A head or a paragraph.
fn flowing(text: &str) -> Block<'_> {
    let lesson = text.strip_prefix("## ").and_then(|head| {
        let (named, title) = head.split_once(": ")?;
        let (number, name) = named.split_once(' ')?;
        Some(Block::Lesson { number, name, title })
    });
    let title = || text.strip_prefix("# ").map(Block::Title);
    lesson.or_else(title).unwrap_or_else(|| Block::Text(text.replace('\n', " ")))
}

/// The guide on a terminal.
pub(super) fn text() -> String {
    let set =
        |text: &str| text.lines().map(|line| format!("  {line}").trim_end().to_owned() + "\n").collect();
    let shown: Vec<String> = blocks()
        .iter()
        .map(|block| match block {
            Block::Title(title) => format!("{title}\n"),
            Block::Lesson { number, name, title } => format!("{number}  {title}  ({name})\n"),
            Block::Text(text) => paragraph(text, 0),
            Block::Set { text, .. } => set(text),
        })
        .collect();
    shown.join("\n")
}

/// The guide as a page: Markdown, or HTML where `for_browser`.
pub(super) fn page(for_browser: bool) -> String {
    if !for_browser {
        return LESSONS.to_owned();
    }
    let mut page = head(PAGE_TITLE, "");
    for block in blocks() {
        match block {
            Block::Title(title) => add(&mut page, format_args!("<h1>{}</h1>\n", escaped(title))),
            Block::Lesson { number, name, title } => {
                let title = said(title);
                add(&mut page, format_args!("<h2 id=\"{name}\">{number} {title} <code>{name}</code></h2>\n"));
            }
            Block::Text(text) => add(&mut page, format_args!("<p>{}</p>\n", said(&text))),
            Block::Set { text, .. } => add(&mut page, format_args!("<pre>{}</pre>\n", escaped(text))),
        }
    }
    page + "</body>\n</html>\n"
}

/// Names of the examples there are in a unit: the cabinet, and the lessons, which are in mm.
pub(in crate::cli) fn examples(unit: Unit) -> Vec<&'static str> {
    let lessons = scripts().into_iter().map(|(name, _)| name).filter(|_| unit == Unit::Mm);
    std::iter::once(CABINET).chain(lessons).collect()
}

/// The script of an example, in a unit it is there in.
pub(in crate::cli) fn example(name: &str, unit: Unit) -> Option<&'static str> {
    match unit {
        Unit::Inch => (name == CABINET).then_some(include_str!("cabinet_in.rhai")),
        Unit::Mm if name == CABINET => Some(include_str!("cabinet_mm.rhai")),
        Unit::Mm => scripts().into_iter().find(|(lesson, _)| *lesson == name).map(|(_, script)| script),
    }
}

/// The script of each lesson by its name.
fn scripts() -> Vec<(&'static str, &'static str)> {
    let mut lesson = "";
    let mut scripts = Vec::new();
    for block in blocks() {
        match block {
            Block::Lesson { name, .. } => lesson = name,
            Block::Set { text, is_script: true } => scripts.push((lesson, text)),
            Block::Title(_) | Block::Text(_) | Block::Set { .. } => {}
        }
    }
    scripts
}
