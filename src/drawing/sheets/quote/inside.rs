//! The shop's own estimate: every line with what it comes from.

use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::plain;
use crate::drawing::page::gather::gather_few;
use crate::drawing::page::look::Look;
use crate::drawing::page::sheet_body::SheetKind;
use crate::drawing::set::finish;
use crate::drawing::sheets::lists::cutting_list::flow;
use crate::estimate::{Decimal, Estimate, GoodsLine, HourLine, Rates};
use crate::model::Job;
use crate::paper::Sheet;
use crate::wording::quote::sums;

/// One of the things offered, as the shop reckons it.
#[derive(Clone, Copy, Debug)]
pub struct Reckoned<'a> {
    /// What it is called among others; empty where it stands alone.
    pub title: &'a str,
    /// What it costs the shop.
    pub estimate: &'a Estimate,
}

/// The sheets of estimates, each with its materials, hours and sums together.
pub fn inside_sheets(job: &Job, offers: &[Reckoned<'_>], rates: &Rates, look: &Look) -> Vec<Sheet> {
    let bodies = offers.iter().flat_map(|offer| {
        let title =
            if offer.title.is_empty() { "Estimate".into() } else { format!("Estimate: {}", offer.title) };
        let estimate = offer.estimate;
        let tables = [goods(estimate, rates), hours(estimate, rates), together(estimate, rates)];
        let tables: Vec<Table> = tables.into_iter().filter(|table| !table.rows.is_empty()).collect();
        gather_few(flow(&tables, SheetKind::Estimate, &title, look), look)
    });
    finish(job, bodies.collect(), look)
}

fn goods(estimate: &Estimate, rates: &Rates) -> Table {
    let columns = vec![
        Column::words("What"),
        Column::figures("Quantity"),
        Column::words("Unit"),
        Column::figures("Price"),
        Column::figures("Cost"),
    ];
    let mut table = Table::new(format!("Materials and fittings, {}", rates.currency.code), columns);
    let row = |line: &GoodsLine| {
        let price = line.price.map_or_else(|| "set by hand".into(), |price| price.normalize().to_string());
        Row::Cells(vec![
            plain(line.name.clone()),
            plain(line.quantity.normalize().to_string()),
            plain(line.unit),
            plain(price),
            plain(rates.currency.figure(line.cost)),
        ])
    };
    table.rows.extend(estimate.goods.iter().map(row));
    let sum: Decimal = estimate.goods.iter().map(|line| line.cost).sum();
    table.rows.push(Row::Heading(format!("Together {}", rates.currency.figure(sum))));
    table
}

fn hours(estimate: &Estimate, rates: &Rates) -> Table {
    let columns = vec![
        Column::words("Rate"),
        Column::words("For"),
        Column::figures("Count"),
        Column::figures("Minutes each"),
        Column::figures("Minutes"),
        Column::figures("Cost"),
    ];
    let title = format!("Hours at {} an hour", rates.currency.show(rates.hourly));
    let mut table = Table::new(title, columns);
    let row = |line: &HourLine| {
        let each = if line.overruled { "by hand".into() } else { line.each.normalize().to_string() };
        Row::Cells(vec![
            plain(line.line.clone()),
            plain(line.says),
            plain(line.count.normalize().to_string()),
            plain(each),
            plain(line.minutes.normalize().to_string()),
            plain(rates.currency.figure(line.cost)),
        ])
    };
    table.rows.extend(estimate.hours.iter().map(row));
    let (minutes, labour) =
        (estimate.price.minutes.normalize(), rates.currency.figure(estimate.price.labour));
    table.rows.push(Row::Heading(format!("Together {minutes} minutes, {labour}")));
    table
}

fn together(estimate: &Estimate, rates: &Rates) -> Table {
    let columns = vec![Column::words("Sum"), Column::figures(rates.currency.code)];
    let mut table = Table::new("Price", columns);
    for (name, amount, _) in sums(&estimate.price, rates) {
        table.rows.push(Row::Cells(vec![plain(name), plain(rates.currency.figure(amount))]));
    }
    table
}
