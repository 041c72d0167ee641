//! One form for everything in the reference: words of the vocabulary, what the
//! language says besides, and functions of the furniture library.

use super::kinds;
use crate::model::{Takes, Word};
use crate::script::{self, Furniture, Saying};

/// A chapter of the reference with its entries.
#[derive(Debug)]
pub(super) struct Part {
    /// Its title.
    pub(super) title: &'static str,
    /// Its entries, in reading order.
    pub(super) entries: Vec<Entry>,
}

/// One word and all there is to say about it.
#[derive(Clone, Debug, Default)]
pub(super) struct Entry {
    /// Its name; of a library function with its module: `case::sides_through`.
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
    /// A script line or lines showing it; of a library function how it is
    /// brought in and written.
    pub(super) example: String,
}

/// One argument or option.
#[derive(Clone, Debug)]
pub(super) struct Row {
    /// Its name.
    pub(super) name: &'static str,
    /// The kind of value it takes.
    pub(super) takes: &'static str,
    /// What it can be; empty where the kind says all.
    pub(super) range: String,
    /// What happens when it is left out.
    pub(super) left_out: &'static str,
    /// What it is.
    pub(super) says: &'static str,
}

impl Entry {
    /// Whether this is its name. Case and joiners do not count, and a library
    /// function is known without its module too.
    pub(super) fn is_called(&self, asked: &str) -> bool {
        let (name, asked) = (plain(&self.name), plain(asked));
        name == asked || name.rsplit_once("::").is_some_and(|(_, function)| function == asked)
    }

    /// Whether the name or the text of it contains what was asked for.
    pub(super) fn speaks_of(&self, asked: &str) -> bool {
        let asked = plain(asked);
        let rows = self.arguments.iter().chain(&self.options);
        let texts = [self.name.as_str(), &self.written, &self.says, self.rule];
        texts
            .into_iter()
            .chain(rows.flat_map(|r| [r.name, r.says, r.left_out]))
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
        Row { name: arg.name, takes, range, left_out: "", says: "" }
    });
    let options = word.options.iter().map(|option| Row {
        name: option.key,
        takes: kinds::name(option.kind),
        range: kinds::range(option.kind),
        left_out: if option.default.is_empty() { "must be given" } else { option.default },
        says: option.says,
    });
    let values = word.args.iter().filter_map(|arg| match arg.takes {
        Takes::Value(kind) => Some(kind),
        Takes::Part | Takes::Parts => None,
    });
    let mut told: Vec<(&'static str, String)> = Vec::new();
    for kind in values.chain(word.options.iter().map(|o| o.kind)) {
        if let Some(says) = kinds::explained(kind)
            && told.iter().all(|(name, _)| *name != kinds::name(kind))
        {
            told.push((kinds::name(kind), says));
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
        example: word.example.into(),
    }
}

/// What the language says besides.
fn of_saying(saying: &Saying) -> Entry {
    Entry {
        name: saying.name.into(),
        written: saying.written.into(),
        says: saying.says.into(),
        example: saying.example.into(),
        ..Entry::default()
    }
}

/// A function of the library.
fn of_furniture(function: &Furniture) -> Entry {
    let (module, name) = (function.module, &function.name);
    let written = format!("{module}::{name}({})", function.arguments.join(", "));
    Entry {
        name: format!("{module}::{name}"),
        says: bare(&function.says),
        example: format!("import \"{module}\" as {module};\nlet made = {written};"),
        written,
        ..Entry::default()
    }
}

/// A text of sentences as the words have theirs: small at the beginning,
/// without the last stop.
fn bare(text: &str) -> String {
    let text = text.trim().trim_end_matches('.');
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}
