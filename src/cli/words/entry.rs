//! One form for everything in the reference: words of the vocabulary, the rest of the
//! language, and functions of the furniture library.

use std::borrow::Cow;

use super::kinds;
use super::topics::also;
use crate::model::{Takes, Word};
use crate::problem::wording;
use crate::script::{self, Furniture, Saying, Take, TakeKind};

/// A chapter of the reference with its entries.
#[derive(Debug)]
pub(super) struct Part {
    /// Its title.
    pub(super) title: &'static str,
    /// Its entries, in reading order.
    pub(super) entries: Vec<Entry>,
}

/// One word and everything the reference has about it.
#[derive(Clone, Debug, Default)]
pub(super) struct Entry {
    /// Its name; of a library function with its module: `case::make`.
    pub(super) name: String,
    /// How it is written.
    pub(super) written: String,
    /// What it does, a sentence that begins small and has no stop.
    pub(super) says: String,
    /// What stands before the options, in order.
    pub(super) arguments: Vec<Row>,
    /// The options.
    pub(super) options: Vec<Row>,
    /// Kinds of values that need a sentence of their own, with that sentence.
    pub(super) kinds: Vec<(&'static str, String)>,
    /// The rule its defaults come from; empty if they need none.
    pub(super) rule: &'static str,
    /// What makers may ask for it as.
    pub(super) also: Vec<&'static str>,
    /// A script line or lines showing it; of a library function how it is
    /// brought in and written.
    pub(super) example: String,
}

/// One argument or option.
#[derive(Clone, Debug)]
pub(super) struct Row {
    /// Its name.
    pub(super) name: Cow<'static, str>,
    /// The kind of value it takes.
    pub(super) takes: &'static str,
    /// What it can be; empty where the kind is enough.
    pub(super) range: String,
    /// What happens when it is left out.
    pub(super) left_out: Cow<'static, str>,
    /// What it is.
    pub(super) says: Cow<'static, str>,
}

impl Entry {
    /// Whether this is its name. Case and joiners do not count; a furniture type
    /// is known by its module alone.
    pub(super) fn is_called(&self, asked: &str) -> bool {
        let (name, asked) = (plain(&self.name), plain(asked));
        name == asked || name.rsplit_once("::") == Some((&*asked, "make"))
    }

    /// Whether the name or the text of it contains what was asked for.
    pub(super) fn speaks_of(&self, asked: &str) -> bool {
        let asked = plain(asked);
        let rows = self.arguments.iter().chain(&self.options);
        let texts = [self.name.as_str(), &self.written, &self.says, self.rule];
        texts
            .into_iter()
            .chain(self.also.iter().copied())
            .chain(rows.flat_map(|r| [&*r.name, &*r.says, &*r.left_out]))
            .any(|text| plain(text).contains(&asked))
    }
}

/// Text to compare: lower case, one kind of joiner.
pub(super) fn plain(text: &str) -> String {
    text.trim().to_lowercase().replace(['-', ' '], "_")
}

/// The whole reference.
pub(super) fn parts(joinery: &[&'static Word]) -> Vec<Part> {
    let mut parts: Vec<Part> = script::chapters(joinery)
        .into_iter()
        .map(|chapter| Part {
            title: chapter.title,
            entries: chapter
                .words
                .iter()
                .map(|word| of_word(word))
                .chain(chapter.sayings.iter().map(of_saying))
                .collect(),
        })
        .filter(|part| !part.entries.is_empty())
        .collect();
    let furniture = script::furniture().iter().map(of_furniture).collect();
    parts.push(Part { title: "Furniture of the library", entries: furniture });
    parts
}

/// A word of the vocabulary.
fn of_word(word: &'static Word) -> Entry {
    let arguments = word.args.iter().map(|arg| {
        let (takes, range) = match arg.takes {
            Takes::Part => ("part", String::new()),
            Takes::Parts => ("part or list of parts", String::new()),
            Takes::Value(kind) => (kinds::name(kind), kinds::range(kind)),
        };
        Row { name: arg.name.into(), takes, range, left_out: "".into(), says: "".into() }
    });
    let options = word.options.iter().map(|option| Row {
        name: option.key.into(),
        takes: kinds::name(option.kind),
        range: kinds::range(option.kind),
        left_out: if option.default.is_empty() { "must be given".into() } else { option.left_out().into() },
        says: option.says.into(),
    });
    let values = word.args.iter().filter_map(|arg| match arg.takes {
        Takes::Value(kind) => Some(kind),
        Takes::Part | Takes::Parts => None,
    });
    let mut told: Vec<(&'static str, String)> = Vec::new();
    for kind in values.chain(word.options.iter().map(|o| o.kind)) {
        if let Some(message) = kinds::explained(kind)
            && told.iter().all(|(name, _)| *name != kinds::name(kind))
        {
            told.push((kinds::name(kind), message));
        }
    }
    Entry {
        name: word.name.into(),
        written: word.written(),
        says: word.says.into(),
        arguments: arguments.collect(),
        options: options.collect(),
        kinds: told,
        rule: word.rule,
        also: also(word.name),
        example: word.example.into(),
    }
}

/// Something of the language that is no word with options.
fn of_saying(saying: &Saying) -> Entry {
    Entry {
        name: saying.name.into(),
        written: saying.written.into(),
        says: saying.says.into(),
        example: saying.example.into(),
        ..Entry::default()
    }
}

/// A function of the library; a type has its options as a word has.
fn of_furniture(function: &Furniture) -> Entry {
    let (module, name) = (function.module, &function.name);
    let arguments =
        if function.takes.is_empty() { function.arguments.join(", ") } else { "#{ … }".to_owned() };
    let called = format!("{module}::{name}");
    Entry {
        also: also(&called),
        name: called,
        written: format!("{module}::{name}({arguments})"),
        says: with_parts(function),
        options: function.takes.iter().map(of_take).chain(shared_stock(function)).collect(),
        example: function.example.clone(),
        ..Entry::default()
    }
}

/// What a type is, and the names by which it gives its parts.
fn with_parts(function: &Furniture) -> String {
    let says = bare(&function.says);
    let Some(first) = function.gives.first() else { return says };
    let names = wording::all_of(function.gives.iter().map(String::as_str));
    format!("{says}. It gives its parts by the names {names}, such as `made.{first}`")
}

/// The map of stocks that a type takes besides, where it is made of any.
fn shared_stock(function: &Furniture) -> Option<Row> {
    let stocks = function.takes.iter().filter(|take| matches!(take.kind, TakeKind::Stock { .. }));
    let names: Vec<&str> = stocks.map(|take| take.name.as_str()).collect();
    let first = names.first()?;
    Some(Row {
        name: "stock".into(),
        takes: "map",
        range: names.join(", "),
        left_out: "none".into(),
        says: format!(
            "stocks of your own by those names, such as `#{{ {first}: my_stock }}`; one map can be given to several types"
        )
        .into(),
    })
}

/// An option of a furniture type.
fn of_take(take: &Take) -> Row {
    let length = |mm: f64| crate::measure::number(mm, 1);
    let listed = |among: &[String]| among.iter().map(|a| format!("\"{a}\"")).collect::<Vec<_>>().join(", ");
    let (takes, range, left_out) = match &take.kind {
        TakeKind::Length { usual, from, to } => {
            ("length", format!("{} to {} mm", length(*from), length(*to)), format!("{} mm", length(*usual)))
        }
        TakeKind::Count { usual, from, to } => ("whole number", format!("{from} to {to}"), usual.to_string()),
        TakeKind::Choice { usual, among } => ("one of", listed(among), usual.clone()),
        TakeKind::YesNo { usual } => ("yes or no", "true, false".to_owned(), usual.to_string()),
        TakeKind::Stock { usual, among } => ("stock or one of", listed(among), usual.clone()),
        TakeKind::Lengths { from, to } => {
            ("list of lengths", format!("each {} to {} mm", length(*from), length(*to)), "none".to_owned())
        }
        TakeKind::Parts => ("part or list of parts", String::new(), "none".to_owned()),
    };
    Row {
        name: take.name.clone().into(),
        takes,
        range,
        left_out: left_out.into(),
        says: take.says.clone().into(),
    }
}

/// A text of sentences as the words have theirs: small at the beginning,
/// without the last stop.
fn bare(text: &str) -> String {
    let text = text.trim().trim_end_matches('.');
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}
