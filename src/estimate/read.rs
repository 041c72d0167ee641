//! The rates file read: every key checked, every fault with its place.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use toml::de::{DeTable, DeValue};

use super::currency::{CURRENCIES, Currency};
use super::entry::{Entries, Limits, Reader};
use super::minutes::MINUTES;
use super::money::PER_CENT;
use super::rates::{Overrule, Per, PriceOf, Profit, Rates, Rounding, Shop, Stage, Tax, Way};
use crate::problem::{Problem, Severity, nearest, wording};
use crate::source::Sources;

/// Tables and keys at the top of the file.
const TOP: [&str; 13] = [
    "currency",
    "hourly",
    "valid_days",
    "shop",
    "prices",
    "allow",
    "minutes",
    "overhead",
    "profit",
    "tax",
    "rounding",
    "stages",
    "text",
];
/// The one more that most shops need only now and then.
const OVERRULE: &str = "overrule";

/// Days a quote holds where the file does not say (common practice, no source).
const VALID_DAYS: u32 = 30;

/// Most days a quote may hold.
const MOST_DAYS: i64 = 3650;

/// The rates of a file called `name`. Problems point into the sources that come with
/// them; there are no rates where one of them is an error.
pub fn read(name: &str, text: &str) -> (Option<Rates>, Vec<Problem>, Sources) {
    // A byte order mark is what some editors begin every text with.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let sources = Rates::sources_of(name, text);
    let mut reader = Reader::default();
    let (table, faults) = DeTable::parse_recoverable(text);
    if let Some(fault) = faults.first() {
        reader.syntax(fault.message(), fault.span());
        return (None, reader.problems, sources);
    }
    let rates = whole(&mut reader, table.get_ref(), &sources);
    let wrong = reader.problems.iter().any(|p| p.severity == Severity::Error);
    (rates.filter(|_| !wrong), reader.problems, sources)
}

fn whole(reader: &mut Reader, table: &DeTable<'_>, sources: &Sources) -> Option<Rates> {
    let known: Vec<&str> = TOP.iter().copied().chain([OVERRULE]).collect();
    let top = reader.entries(table, "", &known);
    let currency = currency(reader, &top);
    let hourly = reader.needed(&top, "hourly", Limits::ABOVE_NOUGHT, "what an hour of work is charged at");
    let valid_days = reader.whole(&top, "valid_days", (1, MOST_DAYS)).and_then(|n| u32::try_from(n).ok());
    let allow = reader.table(&top, "allow", &["waste", "sundries"]);
    let overhead = reader.table(&top, "overhead", &["labour", "materials"]);
    let text = reader.table(&top, "text", &["includes", "excludes", "terms"]);
    let [waste, sundries] = ["waste", "sundries"].map(|key| reader.number(&allow, key, Limits::SHARE));
    let [on_labour, on_materials] =
        ["labour", "materials"].map(|key| reader.number(&overhead, key, Limits::SHARE));
    let [includes, excludes, terms] = ["includes", "excludes", "terms"].map(|key| reader.texts(&text, key));
    let profit = profit(reader, &top);
    // All that can be said is said at once: nothing is given up at the first fault.
    let (shop, prices, minutes) = (shop(reader, &top), prices(reader, &top), minutes(reader, &top));
    let tax = tax(reader, &top);
    let rounding = currency.map(|currency| rounding(reader, &top, currency));
    let (stages, overrules) = (stages(reader, &top), overrules(reader, &top));
    Some(Rates {
        currency: currency?,
        hourly: hourly?,
        valid_days: valid_days.unwrap_or(VALID_DAYS),
        shop,
        prices,
        waste: waste.unwrap_or_default(),
        sundries: sundries.unwrap_or_default(),
        minutes,
        on_labour: on_labour.unwrap_or_default(),
        on_materials: on_materials.unwrap_or_default(),
        profit: profit?,
        tax,
        rounding: rounding?,
        stages,
        includes,
        excludes,
        terms,
        overrules,
        sources: sources.clone(),
    })
}

fn currency(reader: &mut Reader, top: &Entries<'_, '_>) -> Option<&'static Currency> {
    let (code, span) = reader.needed_text(top, "currency", "the code of the currency, such as \"GBP\"")?;
    let found = Currency::named(&code);
    if found.is_none() {
        let codes = || CURRENCIES.iter().map(|known| known.code);
        let all = format!("the codes known are {}", wording::all_of(codes()));
        let help = match nearest(&code, codes()) {
            Some(near) => format!("did you mean `{near}`? {all}"),
            None => all,
        };
        let message = format!("there is no currency `{code}` among those known");
        reader.problems.push(Problem::error("unknown-currency", message).place(span, "").help(help));
    }
    found
}

fn shop(reader: &mut Reader, top: &Entries<'_, '_>) -> Shop {
    let table = reader.table(top, "shop", &["name", "lines"]);
    Shop { name: reader.text(&table, "name"), lines: reader.texts(&table, "lines") }
}

/// `"Oak" = 12.50`, or `"Oak" = { price = 12.50, per = "m2" }`.
fn prices(reader: &mut Reader, top: &Entries<'_, '_>) -> Vec<PriceOf> {
    let table = reader.free(top, "prices");
    let mut all = Vec::new();
    for entry in &table.list {
        let path = format!("prices.{}", entry.key);
        let (price, per) = match entry.value {
            DeValue::Table(inner) => {
                let inner = reader.entries(inner, &path, &["price", "per"]);
                let price = reader.needed(&inner, "price", Limits::PRICE, "the price of one");
                let names = Per::ALL.map(|(_, name)| name);
                let per = reader.one_of(&inner, "per", &names);
                (price, per.and_then(|at| Per::ALL.get(at)).map(|(per, _)| *per))
            }
            _ => (reader.number_of(entry, Limits::PRICE), None),
        };
        all.extend(price.map(|price| PriceOf { name: entry.key.to_owned(), price, per, span: entry.span }));
    }
    all
}

fn minutes(reader: &mut Reader, top: &Entries<'_, '_>) -> BTreeMap<String, Decimal> {
    let mut names: Vec<&str> = MINUTES.iter().map(|row| row.table).collect();
    names.dedup();
    let outer = reader.table(top, "minutes", &names);
    let mut all = BTreeMap::new();
    for name in names {
        let keys: Vec<&str> = MINUTES.iter().filter(|row| row.table == name).map(|row| row.key).collect();
        let table = reader.table(&outer, name, &keys);
        for key in keys {
            let found = reader.number(&table, key, Limits::MINUTES);
            all.extend(found.map(|minutes| (format!("{name}.{key}"), minutes)));
        }
    }
    all
}

fn profit(reader: &mut Reader, top: &Entries<'_, '_>) -> Option<Profit> {
    let table = reader.table(top, "profit", &["markup", "margin"]);
    let help = "write `markup = 25.0` (per cent of the cost) or `margin = 20.0` (per cent of the price) under \
                `[profit]`: these two come to the same price";
    let (markup, margin) = (table.get("markup"), table.get("margin"));
    match (markup, margin) {
        (Some(_), None) => Some(Profit::Markup(reader.number(&table, "markup", Limits::SHARE)?)),
        (None, Some(_)) => Some(Profit::Margin(reader.number(&table, "margin", Limits::MARGIN)?)),
        (Some(one), Some(other)) => {
            let problem = Problem::error("two-profits", "profit is given both as a markup and as a margin");
            reader.problems.push(problem.place(one.span, "").place(other.span, "and here").help(help));
            None
        }
        (None, None) => {
            // What stands there but is no table is told already.
            let told = top.get("profit").is_some_and(|entry| entry.value.as_table().is_none());
            if !told {
                reader.problems.push(Problem::error("missing-rate", "the rates say no profit").help(help));
            }
            None
        }
    }
}

fn tax(reader: &mut Reader, top: &Entries<'_, '_>) -> Option<Tax> {
    top.get("tax")?;
    let table = reader.table(top, "tax", &["name", "percent"]);
    let name = reader.text(&table, "name").unwrap_or_else(|| "Tax".into());
    let per_cent = reader.needed(&table, "percent", Limits::SHARE, "the tax, per cent of the price")?;
    (!per_cent.is_zero()).then_some(Tax { name, per_cent })
}

fn rounding(reader: &mut Reader, top: &Entries<'_, '_>, currency: &Currency) -> Rounding {
    let table = reader.table(top, "rounding", &["to", "way"]);
    let least = Decimal::new(1, currency.digits);
    let to = reader.number(&table, "to", Limits::ABOVE_NOUGHT);
    let way = reader.one_of(&table, "way", &["nearest", "up"]);
    let to = to.filter(|to| {
        let payable = (*to % least).is_zero();
        if let Some(entry) = table.get("to").filter(|_| !payable) {
            let message = format!("a price cannot be rounded to {to}: the least that can be paid is {least}");
            reader.problems.push(
                Problem::error("bad-rate", message)
                    .place(entry.span, "")
                    .help(format!("write a multiple of {least}")),
            );
        }
        payable
    });
    Rounding { to: to.unwrap_or(least), way: if way == Some(1) { Way::Up } else { Way::Nearest } }
}

fn stages(reader: &mut Reader, top: &Entries<'_, '_>) -> Vec<Stage> {
    let Some(entry) = top.get("stages") else { return Vec::new() };
    let mut all = Vec::new();
    for (table, span) in reader.tables(entry) {
        let table = reader.entries(table, "stages", &["what", "percent"]);
        let what = reader.needed_text_at(&table, "what", "when it is due", span);
        let limits = Limits { most: PER_CENT, ..Limits::ABOVE_NOUGHT };
        let per_cent = reader.needed_at(&table, "percent", limits, ("its share of the total", span));
        all.extend(what.zip(per_cent).map(|((what, _), per_cent)| Stage { what, per_cent }));
    }
    let sum: Decimal = all.iter().map(|stage| stage.per_cent).sum();
    let clean = !reader.problems.iter().any(|p| p.severity == Severity::Error);
    if clean && sum != PER_CENT {
        let message = format!("the stages of payment come to {} % and not to 100 %", sum.normalize());
        let left = PER_CENT - sum;
        let help = if left.is_sign_positive() {
            format!("{} % of the total would never be asked for: add a stage, or raise one", left.normalize())
        } else {
            format!("{} % too much would be asked for: lower one", left.abs().normalize())
        };
        reader
            .problems
            .push(Problem::error("stages-do-not-add-up", message).place(entry.span, "").help(help));
    }
    all
}

fn overrules(reader: &mut Reader, top: &Entries<'_, '_>) -> Vec<Overrule> {
    let outer = reader.table(top, OVERRULE, &["minutes", "cost"]);
    let mut all = Vec::new();
    for (name, minutes, limits) in [("minutes", true, Limits::MINUTES), ("cost", false, Limits::PRICE)] {
        for entry in &reader.free(&outer, name).list {
            let amount = reader.number_of(entry, limits);
            all.extend(amount.map(|amount| Overrule {
                line: entry.key.to_owned(),
                amount,
                minutes,
                span: entry.span,
            }));
        }
    }
    all
}
