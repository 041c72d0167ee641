//! What a quotation says, block by block.

use super::offer::QuoteSheet;
use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::plain;
use crate::drawing::page::look::Look;
use crate::estimate::{Stage, StageSum};
use crate::wording::quote::{rounding, tax, validity};

/// A block of a quotation.
#[derive(Debug)]
pub(super) enum Block {
    /// A heading with paragraphs.
    Text(&'static str, Vec<String>),
    /// A heading with short lines, two abreast where they fit.
    Pairs(&'static str, Vec<String>),
    /// A heading with points, each behind a dash.
    Points(&'static str, Vec<String>),
    /// A heading with amounts at the right, the last set out as their sum; kept whole.
    Sum(String, Vec<(String, String)>, bool),
    /// A heading with a table, kept whole.
    Table(String, Table),
    /// What the client signs, kept whole.
    Sign(Vec<String>),
}

/// The blocks of a quotation in reading order; none is empty.
pub(super) fn blocks(quote: &QuoteSheet<'_>, look: &Look) -> Vec<Block> {
    let Some(first) = quote.offers.first() else { return Vec::new() };
    let described = &first.described;
    let mut all = vec![
        Block::Text("Overall sizes", described.sizes.clone()),
        Block::Text("Materials", described.materials.clone()),
        Block::Text("Fittings", described.fittings.clone()),
        Block::Text("Finish", vec![described.finish.clone()]),
        Block::Pairs("Choices made", described.choices.clone()),
        prices(quote),
        Block::Text("", after_price(quote)),
    ];
    if quote.offers.len() == 1 && !first.sum.stages.is_empty() {
        all.push(stages(quote));
    }
    if quote.offers.len() > 1 && !first.sum.stages.is_empty() {
        all.push(Block::Points("Payment", shares(quote)));
    }
    all.push(Block::Points("In the price", included(quote)));
    all.push(Block::Points("Not in the price", excluded(quote)));
    all.push(Block::Points("To be settled before work begins", quote.open.clone()));
    let mut terms = vec![validity(quote.rates, look.date.as_deref())];
    terms.extend(quote.rates.terms.iter().cloned());
    all.push(Block::Points("Terms", terms));
    all.push(Block::Sign(sign(quote)));
    let full = |block: &Block| match block {
        Block::Text(_, lines) | Block::Pairs(_, lines) | Block::Points(_, lines) => {
            lines.iter().any(|line| !line.is_empty())
        }
        Block::Sum(..) | Block::Table(..) | Block::Sign(_) => true,
    };
    all.retain(full);
    all
}

/// The price: of one offer line by line, of several side by side.
fn prices(quote: &QuoteSheet<'_>) -> Block {
    let currency = quote.rates.currency;
    let many = if quote.count > 1 { format!(", {} off made together", quote.count) } else { String::new() };
    let head = format!("Price in {}{many}", currency.name);
    if let [only] = quote.offers.as_slice() {
        let mut rows = vec![("Price before tax".to_owned(), currency.figure(only.sum.net))];
        if let Some(with) = &quote.rates.tax {
            rows.push((tax(with), currency.figure(only.sum.tax)));
        } else {
            rows.clear();
        }
        rows.push(("Total to pay".to_owned(), currency.show(only.sum.total)));
        return Block::Sum(head, rows, true);
    }
    let money = |amount| plain(currency.figure(amount));
    let mut columns = vec![Column::figures(""), Column::words("Option"), Column::figures("Price")];
    if let Some(with) = &quote.rates.tax {
        columns.extend([Column::figures(&tax(with)), Column::figures("Total")]);
    }
    let mut table = Table::new("", columns);
    for (at, offer) in quote.offers.iter().enumerate() {
        let title = [offer.title.as_str(), offer.differs.as_str()];
        let title: Vec<&str> = title.into_iter().filter(|text| !text.is_empty()).collect();
        let mut cells = vec![plain((at + 1).to_string()), plain(title.join(": ")), money(offer.sum.net)];
        if quote.rates.tax.is_some() {
            cells.extend([money(offer.sum.tax), money(offer.sum.total)]);
        }
        table.rows.push(Row::Cells(cells));
    }
    Block::Table(head, table)
}

/// What is said under the price.
fn after_price(quote: &QuoteSheet<'_>) -> Vec<String> {
    let mut lines: Vec<String> = quote.saving.iter().cloned().collect();
    if quote.rates.tax.is_none() {
        lines.push("No tax is charged.".into());
    }
    lines.push(rounding(quote.rates));
    lines
}

/// What is paid when.
fn stages(quote: &QuoteSheet<'_>) -> Block {
    let currency = quote.rates.currency;
    let row = |stage: &StageSum| {
        (format!("{} % {}", stage.per_cent.normalize(), stage.what), currency.figure(stage.amount))
    };
    let first = quote.offers.iter().take(1).flat_map(|offer| &offer.sum.stages);
    Block::Sum("Payment".into(), first.map(row).collect(), false)
}

/// The stages as shares, where several prices stand side by side.
fn shares(quote: &QuoteSheet<'_>) -> Vec<String> {
    let of = |stage: &Stage| format!("{} % {}", stage.per_cent.normalize(), stage.what);
    quote.rates.stages.iter().map(of).collect()
}

fn included(quote: &QuoteSheet<'_>) -> Vec<String> {
    let mut all = vec!["All work and materials named here, made to the drawings".to_owned()];
    if quote.installed {
        all.push("Delivery and installation".into());
    }
    all.extend(quote.rates.includes.iter().cloned());
    all
}

fn excluded(quote: &QuoteSheet<'_>) -> Vec<String> {
    let mut all = Vec::new();
    if !quote.installed {
        all.push("Delivery and installation".to_owned());
    }
    all.extend(quote.rates.excludes.iter().cloned());
    all
}

/// What is written above the lines to sign on.
fn sign(quote: &QuoteSheet<'_>) -> Vec<String> {
    let mut what = String::from("I accept this quotation");
    if let Some(revision) = &quote.head.revision {
        what += ", revision ";
        what += revision;
        what += ",";
    }
    what += if quote.offers.len() > 1 { " for option" } else { " and ask for the work to begin." };
    let mut lines = vec![what];
    if quote.offers.len() > 1 {
        lines.push("Option".into());
    }
    lines.extend(["Name", "Signature", "Date"].map(String::from));
    lines
}
