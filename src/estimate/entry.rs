//! Entries of the rates file, one by one: what kind they are, in what range.

use std::ops::Range;

use rust_decimal::Decimal;
use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

use crate::problem::{Problem, nearest, wording};
use crate::source::{SourceId, Span};

/// What a number may be.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits {
    /// The least.
    pub(super) least: Decimal,
    /// Whether the least itself is too little.
    pub(super) above: bool,
    /// The most.
    pub(super) most: Decimal,
    /// What is said of a number that is not so.
    pub(super) help: &'static str,
}

/// Most decimals of a rate: more is the noise of some other program.
const DECIMALS: u32 = 6;

impl Limits {
    /// A rate that cannot be nothing.
    pub(super) const ABOVE_NOUGHT: Self =
        Self { least: Decimal::ZERO, above: true, most: millions(10), help: "write a number above 0" };
    /// A price: nothing for what the client brings.
    pub(super) const PRICE: Self = Self {
        least: Decimal::ZERO,
        above: false,
        most: millions(10),
        help: "write 0 or more: 0 is for what the client brings",
    };
    /// Minutes.
    pub(super) const MINUTES: Self = Self {
        least: Decimal::ZERO,
        above: false,
        most: thousands(100),
        help: "write minutes, 0 or more, at most 100000",
    };
    /// Per cent on top of something.
    pub(super) const SHARE: Self = Self {
        least: Decimal::ZERO,
        above: false,
        most: thousands(1),
        help: "write per cent, 0 to 1000: 20.0 is a fifth",
    };
    /// Per cent of a price that is not all of it.
    pub(super) const MARGIN: Self = Self {
        least: Decimal::ZERO,
        above: false,
        most: Decimal::from_parts(95, 0, 0, false, 0),
        help: "a margin is a share of the price, 0 to 95: at 100 the job would cost nothing; for more than that write \
               a `markup`",
    };
}

const fn thousands(n: u32) -> Decimal {
    Decimal::from_parts(n * 1000, 0, 0, false, 0)
}

const fn millions(n: u32) -> Decimal {
    Decimal::from_parts(n * 1_000_000, 0, 0, false, 0)
}

/// A key with its value.
#[derive(Clone, Copy, Debug)]
pub(super) struct Entry<'t, 'i> {
    /// The key.
    pub(super) key: &'t str,
    /// Its value.
    pub(super) value: &'t DeValue<'i>,
    /// Where the key stands.
    pub(super) span: Span,
    /// Where the value stands.
    at: Span,
}

/// The entries of a table, in the order of the file.
#[derive(Clone, Debug, Default)]
pub(super) struct Entries<'t, 'i> {
    /// The keys before them, with a point: `minutes.cut`.
    path: String,
    /// The entries.
    pub(super) list: Vec<Entry<'t, 'i>>,
}

impl<'t, 'i> Entries<'t, 'i> {
    /// The entry of a key.
    pub(super) fn get(&self, key: &str) -> Option<Entry<'t, 'i>> {
        self.list.iter().find(|entry| entry.key == key).copied()
    }
}

/// Reads entries and keeps what is wrong with them.
#[derive(Debug, Default)]
pub(super) struct Reader {
    /// What is wrong.
    pub(super) problems: Vec<Problem>,
}

fn span(range: Range<usize>) -> Span {
    Span { source: SourceId(0), start: range.start, end: range.end }
}

/// A table as a heading of the file.
fn heading(path: &str) -> String {
    if path.is_empty() { "the rates file".into() } else { format!("`[{path}]`") }
}

impl Reader {
    /// What is wrong with the text as such.
    pub(super) fn syntax(&mut self, message: &str, at: Option<Range<usize>>) {
        let message = format!("the rates cannot be read: {}", message.lines().next().unwrap_or_default());
        let problem = Problem::error("rates-not-read", message).help(
            "names with spaces stand in quotation marks, texts too: `\"Ash plywood\" = 96.00`; `rodwright start \
             --rates` shows a whole file",
        );
        self.problems.push(match at {
            Some(range) => problem.place(span(range), ""),
            None => problem,
        });
    }

    /// The entries of a table, of which those not known are problems.
    pub(super) fn entries<'t, 'i>(
        &mut self,
        table: &'t DeTable<'i>,
        path: &str,
        known: &[&str],
    ) -> Entries<'t, 'i> {
        let entries = any(table, path);
        for entry in entries.list.iter().filter(|entry| !known.contains(&entry.key)) {
            let here = heading(path);
            let all = format!("{here} knows {}", wording::all_of(known.iter().copied()));
            let help = match nearest(entry.key, known.iter().copied()) {
                Some(near) => format!("did you mean `{near}`? {all}"),
                None => all,
            };
            let message = format!("{here} has no `{}`", entry.key);
            self.problems.push(Problem::error("unknown-rate", message).place(entry.span, "").help(help));
        }
        entries
    }

    /// The table of a key with keys that are known; empty where it is not there.
    pub(super) fn table<'t, 'i>(
        &mut self,
        of: &Entries<'t, 'i>,
        key: &str,
        known: &[&str],
    ) -> Entries<'t, 'i> {
        let (table, path) = self.inner(of, key);
        table.map(|table| self.entries(table, &path, known)).unwrap_or_default()
    }

    /// The table of a key with any names as keys.
    pub(super) fn free<'t, 'i>(&mut self, of: &Entries<'t, 'i>, key: &str) -> Entries<'t, 'i> {
        let (table, path) = self.inner(of, key);
        table.map(|table| any(table, &path)).unwrap_or_default()
    }

    fn inner<'t, 'i>(&mut self, of: &Entries<'t, 'i>, key: &str) -> (Option<&'t DeTable<'i>>, String) {
        let path = if of.path.is_empty() { key.to_owned() } else { format!("{}.{key}", of.path) };
        let table = match of.get(key) {
            Some(Entry { value: DeValue::Table(table), .. }) => Some(table),
            Some(entry) => {
                let help = format!("give it a heading of its own, `[{path}]`, with its keys below");
                self.wrong(entry, "a table", &help);
                None
            }
            None => None,
        };
        (table, path)
    }

    /// The tables of a list of them.
    pub(super) fn tables<'t, 'i>(&mut self, entry: Entry<'t, 'i>) -> Vec<(&'t DeTable<'i>, Span)> {
        let help = format!("write each under a heading of its own, `[[{}]]`", entry.key);
        let DeValue::Array(list) = entry.value else {
            self.wrong(entry, "a list of tables", &help);
            return Vec::new();
        };
        let mut all = Vec::new();
        for one in list {
            match one.get_ref() {
                DeValue::Table(table) => all.push((table, span(one.span()))),
                _ => self.wrong(entry, "a list of tables", &help),
            }
        }
        all
    }

    /// The number of a key within limits.
    pub(super) fn number(&mut self, of: &Entries<'_, '_>, key: &str, limits: Limits) -> Option<Decimal> {
        self.number_of(&of.get(key)?, limits)
    }

    /// The number of an entry within limits, exactly as it is written.
    pub(super) fn number_of(&mut self, entry: &Entry<'_, '_>, limits: Limits) -> Option<Decimal> {
        let text = match entry.value {
            DeValue::Integer(number) if number.radix() == 10 => number.as_str(),
            DeValue::Float(number) => number.as_str(),
            _ => {
                self.wrong(*entry, "a number", "write it without a sign of currency or per cent: 12.50");
                return None;
            }
        };
        let number: Option<Decimal> = text.replace('_', "").parse().ok();
        let within = |number: &Decimal| {
            let low = if limits.above { *number > limits.least } else { *number >= limits.least };
            low && *number <= limits.most && number.normalize().scale() <= DECIMALS
        };
        let good = number.filter(within);
        if good.is_none() {
            let message = format!("`{}` cannot be {text}", entry.key);
            self.problems.push(Problem::error("bad-rate", message).place(entry.at, "").help(limits.help));
        }
        good
    }

    /// The whole number of a key within a range.
    pub(super) fn whole(&mut self, of: &Entries<'_, '_>, key: &str, range: (i64, i64)) -> Option<i64> {
        let entry = of.get(key)?;
        let number: Option<i64> = match entry.value {
            DeValue::Integer(number) if number.radix() == 10 => number.as_str().parse().ok(),
            _ => None,
        };
        let good = number.filter(|number| (range.0..=range.1).contains(number));
        if good.is_none() {
            self.wrong(entry, "a whole number", &format!("write {} to {}", range.0, range.1));
        }
        good
    }

    /// The text of a key.
    pub(super) fn text(&mut self, of: &Entries<'_, '_>, key: &str) -> Option<String> {
        let entry = of.get(key)?;
        let text = entry.value.as_str().map(tidy);
        if text.as_ref().is_none_or(String::is_empty) {
            self.wrong(entry, "a text", "write it between quotation marks");
            return None;
        }
        text
    }

    /// The texts of a key.
    pub(super) fn texts(&mut self, of: &Entries<'_, '_>, key: &str) -> Vec<String> {
        let Some(entry) = of.get(key) else { return Vec::new() };
        let list = entry.value.as_array().map(|list: &DeArray<'_>| {
            list.iter()
                .map(|one: &Spanned<DeValue<'_>>| one.get_ref().as_str().map(tidy))
                .collect::<Option<Vec<_>>>()
        });
        let Some(texts) = list.flatten() else {
            self.wrong(entry, "a list of texts", "write `[\"one\", \"another\"]`");
            return Vec::new();
        };
        texts.into_iter().filter(|text| !text.is_empty()).collect()
    }

    /// Which of some names a key says.
    pub(super) fn one_of(&mut self, of: &Entries<'_, '_>, key: &str, names: &[&str]) -> Option<usize> {
        let entry = of.get(key)?;
        let found = entry.value.as_str().and_then(|text| names.iter().position(|name| *name == text));
        if found.is_none() {
            let all = format!("it can be {}", wording::one_of(names.iter().copied()));
            let near = entry.value.as_str().and_then(|text| nearest(text, names.iter().copied()));
            let help = near.map_or_else(|| all.clone(), |near| format!("did you mean `{near}`? {all}"));
            let message = format!("`{key}` cannot be that");
            self.problems.push(Problem::error("bad-rate", message).place(entry.at, "").help(help));
        }
        found
    }

    /// A number that must be there.
    pub(super) fn needed(
        &mut self,
        of: &Entries<'_, '_>,
        key: &str,
        limits: Limits,
        what: &str,
    ) -> Option<Decimal> {
        self.missing(of, key, what, None);
        self.number(of, key, limits)
    }

    /// The same of a table that begins at `at`.
    pub(super) fn needed_at(
        &mut self,
        of: &Entries<'_, '_>,
        key: &str,
        limits: Limits,
        (what, at): (&str, Span),
    ) -> Option<Decimal> {
        self.missing(of, key, what, Some(at));
        self.number(of, key, limits)
    }

    /// A text that must be there, and where it stands.
    pub(super) fn needed_text(
        &mut self,
        of: &Entries<'_, '_>,
        key: &str,
        what: &str,
    ) -> Option<(String, Span)> {
        self.missing(of, key, what, None);
        let at = of.get(key)?.at;
        self.text(of, key).map(|text| (text, at))
    }

    /// The same of a table that begins at `at`.
    pub(super) fn needed_text_at(
        &mut self,
        of: &Entries<'_, '_>,
        key: &str,
        what: &str,
        at: Span,
    ) -> Option<(String, Span)> {
        self.missing(of, key, what, Some(at));
        self.needed_text(of, key, what)
    }

    fn missing(&mut self, of: &Entries<'_, '_>, key: &str, what: &str, at: Option<Span>) {
        if of.get(key).is_some() {
            return;
        }
        let message = format!("{} needs `{key}`: {what}", heading(&of.path));
        let problem = Problem::error("missing-rate", message)
            .help("`rodwright start --rates` prints a whole file with every key explained");
        // A key that is missed twice is said once.
        let problem = at
            .or(of.list.first().map(|entry| entry.span))
            .map_or(problem.clone(), |at| problem.place(at, ""));
        if !self.problems.contains(&problem) {
            self.problems.push(problem);
        }
    }

    /// An entry of another kind than its key takes.
    fn wrong(&mut self, entry: Entry<'_, '_>, takes: &str, help: &str) {
        let message = format!("`{}` takes {takes}", entry.key);
        self.problems.push(Problem::error("bad-rate", message).place(entry.at, "").help(help));
    }
}

/// One line without the white at its ends.
fn tidy(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The entries of a table, whatever their keys, in the order of the file: a table read
/// by its hash order would print its problems so.
fn any<'t, 'i>(table: &'t DeTable<'i>, path: &str) -> Entries<'t, 'i> {
    let entry = |(key, value): (&'t Spanned<_>, &'t Spanned<DeValue<'i>>)| Entry {
        key: AsRef::<str>::as_ref(key.get_ref()),
        value: value.get_ref(),
        span: span(key.span()),
        at: span(value.span()),
    };
    let mut list: Vec<Entry<'t, 'i>> = table.iter().map(entry).collect();
    list.sort_by_key(|entry| entry.span.start);
    Entries { path: path.to_owned(), list }
}
