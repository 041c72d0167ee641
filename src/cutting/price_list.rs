//! A price list: a TOML file of what things are sold in and at what price.

use crate::model::{Per, Sold, Told};
use crate::problem::Problem;

/// The file.
#[derive(serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct List {
    #[serde(default)]
    sold: Vec<toml::Spanned<Entry>>,
}

/// One thing sold.
#[derive(serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct Entry {
    name: String,
    pack: Option<f64>,
    price: Option<f64>,
    per: Option<String>,
    code: Option<String>,
}

/// What a price list looks like.
const LOOKS: &str = "a price list is TOML: for each thing a line `[[sold]]`, then `name = \"Wood glue\"`, `pack = 0.75`, \
                     `price = 9.80`, and, where told, `per = \"m2\"` and `code = \"...\"`";

/// What a price list tells; `file` is its name. Entries that make no sense are told of
/// and left out; a file that is no price list gives nothing.
pub fn price_list(file: &str, text: &str) -> (Vec<Sold>, Vec<Problem>) {
    // Some editors begin a text with a mark of its encoding.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let list: List = match toml::from_str(text) {
        Ok(list) => list,
        Err(error) => {
            let line = error.span().map_or(1, |span| line_of(text, span.start));
            let help = if text.contains(';') && !text.contains("[[sold]]") {
                format!("this looks like the table of a spreadsheet; {LOOKS}")
            } else {
                LOOKS.into()
            };
            let message = format!("{file}, line {line}: {}", error.message().replace('\n', "; "));
            return (Vec::new(), vec![Problem::error("bad-price-list", message).help(help)]);
        }
    };
    let (mut sold, mut problems) = (Vec::new(), Vec::new());
    for entry in list.sold {
        let line = line_of(text, entry.span().start);
        match read(entry.into_inner(), Told::List(file.into(), line)) {
            Ok(entry) => sold.push(entry),
            Err(why) => {
                let message = format!("{file}, line {line}: {why}; it is left out");
                problems.push(Problem::warning("bad-price", message).help(LOOKS));
            }
        }
    }
    (sold, problems)
}

/// The line, from 1, of a place in a text.
fn line_of(text: &str, at: usize) -> usize {
    text.bytes().take(at).filter(|byte| *byte == b'\n').count() + 1
}

/// An entry whose figures make sense, or why they do not.
fn read(entry: Entry, told: Told) -> Result<Sold, String> {
    let Entry { name, pack, price, per, code } = entry;
    if pack.is_some_and(|holds| !holds.is_finite() || holds <= 0.0) {
        return Err(format!("a pack of `{name}` holds nothing"));
    }
    if price.is_some_and(|price| !price.is_finite() || price < 0.0) {
        return Err(format!("the price of `{name}` is less than nothing"));
    }
    let per = match per {
        None => Per::One,
        Some(per) => {
            let names = crate::problem::wording::one_of(Per::NAMES);
            Per::named(&per).ok_or_else(|| format!("`per` of `{name}` is `{per}`; it can be {names}"))?
        }
    };
    Ok(Sold { name, pack, price, per, code, told })
}
