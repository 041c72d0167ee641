//! In words: what is offered to a client, and the lines of the shop's own estimate.

use super::Words;
use crate::cutting::{Bought, BuyLine, CutRow, CuttingList};
use crate::estimate::{Currency, Decimal, Price, Profit, Rates, Tax, Way};
use crate::geometry::DVec3;
use crate::joinery::{Item, WorkedJob};
use crate::measure::{Unit, days_after, number};
use crate::model::{Job, JobHead, PieceId, SizeKind, SizeValue, StockKind};
use crate::problem::wording::{and_list, capital, count};

/// Most parts named for one material; a client reads no longer list.
const NAMED: usize = 6;

/// Two thicknesses nearer than this are one, mm.
const SAME: f64 = 0.05;

/// A job as a client is told of it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Description {
    /// Each piece with its overall sizes.
    pub sizes: Vec<String>,
    /// Each material with what is made of it.
    pub materials: Vec<String>,
    /// Fittings that are seen or used.
    pub fittings: Vec<String>,
    /// The finish.
    pub finish: String,
    /// What was chosen where the script leaves a choice.
    pub choices: Vec<String>,
}

impl Words {
    /// A job as a client is told of it.
    pub fn described(self, job: &Job, worked: &WorkedJob, list: &CuttingList) -> Description {
        let pieces = (0..job.pieces.len()).filter_map(|index| self.overall(job, worked, PieceId(index)));
        let mut materials = self.materials(job, &list.parts, "");
        materials.extend(self.materials(job, &list.lippings, "edges lipped with "));
        Description {
            sizes: pieces.collect(),
            materials,
            fittings: self.fittings(list),
            finish: finish(job),
            choices: self.choices(job),
        }
    }

    /// `Cabinet: 900 mm wide, 420 mm high, 300 mm deep, 2 off`.
    fn overall(self, job: &Job, worked: &WorkedJob, piece: PieceId) -> Option<String> {
        let declared = job.pieces.get(piece.0)?;
        let own = worked.parts.iter().filter(|part| part.piece == piece);
        let points = own.flat_map(|part| part.solid.points.iter().map(|point| part.at.point(*point)));
        let (low, high) = points.fold(None, |found: Option<(DVec3, DVec3)>, p| {
            Some(found.map_or((p, p), |(low, high)| (low.min(p), high.max(p))))
        })?;
        let size = (high - low).to_array().map(|mm| self.length(mm));
        let many = if declared.count > 1 { format!(", {} off", declared.count) } else { String::new() };
        Some(format!("{}: {} wide, {} high, {} deep{many}", declared.name, size[0], size[2], size[1]))
    }

    /// Materials with the parts made of each: `Ash plywood, 18 mm: top, sides`.
    fn materials(self, job: &Job, rows: &[CutRow], before: &str) -> Vec<String> {
        let mut groups: Vec<(&str, f64, Vec<&CutRow>)> = Vec::new();
        for row in rows {
            let sheet = job.stock.iter().any(|s| s.name == row.stock && s.fixed_thickness().is_some());
            let thick = if sheet { row.thickness } else { 0.0 };
            match groups.iter_mut().find(|g| g.0 == row.stock && (g.1 - thick).abs() < SAME) {
                Some(group) => group.2.push(row),
                None => groups.push((&row.stock, thick, vec![row])),
            }
        }
        let line = |(stock, thick, rows): &(&str, f64, Vec<&CutRow>)| {
            let size = if *thick > 0.0 { format!(", {}", self.length(*thick)) } else { String::new() };
            if !before.is_empty() {
                return capital(&format!("{before}{stock}"));
            }
            format!("{stock}{size}: {}", parts(rows))
        };
        let mut lines: Vec<String> = groups.iter().map(line).collect();
        lines.dedup();
        lines
    }

    /// What was chosen: choices that show, and lengths that are not as the script has them.
    fn choices(self, job: &Job) -> Vec<String> {
        let told = |value: &&SizeValue| match (&value.decl.kind, value.number) {
            (SizeKind::Length { default, .. }, Some(mm)) => (mm - default).abs() > SAME,
            (SizeKind::Length { .. }, None) => false,
            // What there is none of is not missed in a list of what there is.
            (SizeKind::Count { .. }, count) => count.is_some_and(|count| count > 0.0),
            (SizeKind::Choice { .. }, _) => !value.idle && shows(value, job),
            // What is not asked for need not be mentioned.
            (SizeKind::YesNo { .. }, _) => value.text.as_deref() != Some("no"),
        };
        let line = |value: &SizeValue| format!("{}: {}", Self::size_name(value), self.size_text(value));
        job.sizes.iter().filter(told).map(|value| capital(&line(value))).collect()
    }

    /// What of the fittings a client sees or uses.
    fn fittings(self, list: &CuttingList) -> Vec<String> {
        let mut found: Vec<(&Item, usize)> = Vec::new();
        for need in &list.needs {
            if !matches!(need.item, Item::Ironmongery(_) | Item::Support(_)) {
                continue;
            }
            match found.iter_mut().find(|(item, _)| **item == need.item) {
                Some(known) => known.1 += need.quantity,
                None => found.push((&need.item, need.quantity)),
            }
        }
        found.iter().map(|(item, n)| format!("{n} × {}", self.item(item))).collect()
    }

    /// A line of the buying list by its name with its size, in millimetres whatever the
    /// unit of the sheets: prices of a rates file are found by it.
    pub fn goods_name(line: &BuyLine) -> String {
        let words = Self::of(Unit::Mm);
        // The stock comes first and a comma after it: a price of glass is for all panes.
        let name = match &line.what {
            Bought::Ready { stock, mark, name } => format!("{stock}, {mark} {name}"),
            other => words.goods(other),
        };
        if line.size.is_empty() { name } else { format!("{name} {}", words.bought(&line.size)) }
    }

    /// A declared size with its value, as a client reads it: `width 900 mm`.
    pub fn size_value(self, value: &SizeValue) -> String {
        format!("{} {}", Self::size_name(value), self.size_text(value))
    }

    /// The name of a declared size, as a client reads it: `shelves on`.
    pub fn size_name(value: &SizeValue) -> String {
        value.decl.name.replace('_', " ")
    }

    /// The value of a declared size, as a client reads it: `900 mm`.
    pub fn size_text(self, value: &SizeValue) -> String {
        match (&value.decl.kind, value.number, &value.text) {
            (SizeKind::Length { .. }, Some(mm), _) => self.length(mm),
            (_, Some(value), _) => number(value, 0),
            (_, None, Some(text)) => text.replace('_', " "),
            (_, None, None) => String::new(),
        }
    }
}

/// Whether a client need be told of a choice: not of what there is none of, of a material,
/// which stands with what is made of it, or of what follows another choice.
fn shows(value: &SizeValue, job: &Job) -> bool {
    let Some(text) = &value.text else { return false };
    let material = job.stock.iter().any(|stock| stock.name.eq_ignore_ascii_case(text));
    !material && text != "none" && !text.starts_with("as the ")
}

/// The parts of some rows: `top, left side and 3 more parts`.
fn parts(rows: &[&CutRow]) -> String {
    let mut names: Vec<String> = Vec::new();
    for row in rows {
        let name = row.name.to_lowercase();
        if !names.contains(&name) {
            names.push(name);
        }
    }
    if names.len() > NAMED + 1 {
        let more = names.split_off(NAMED).len();
        names.push(count(more, "more part", "more parts"));
    }
    and_list(&names)
}

/// For whom a job is, and where it is to stand: the place in the words of the script.
pub fn whom(head: &JobHead) -> String {
    let client = head.client.as_ref().map(|client| format!("For {client}"));
    let place = head.place.as_ref().map(|place| capital(place));
    client.into_iter().chain(place).collect::<Vec<_>>().join(". ")
}

/// The finish with its coats.
fn finish(job: &Job) -> String {
    let all_glass = job.stock.iter().all(|stock| matches!(stock.kind, StockKind::Glass { .. }));
    match &job.finish {
        Some(finish) => format!("{}, {}", finish.what, count(finish.coats as usize, "coat", "coats")),
        None if all_glass => String::new(),
        None => "Unfinished: it is left to the client".into(),
    }
}

/// `VAT 20 %`.
pub fn tax(tax: &Tax) -> String {
    format!("{} {} %", tax.name, tax.per_cent.normalize())
}

/// How long a quote holds: until a day where its date is given.
pub fn validity(rates: &Rates, date: Option<&str>) -> String {
    let days = count(rates.valid_days as usize, "day", "days");
    match date.and_then(|date| days_after(date, rates.valid_days)) {
        Some(until) => format!("This quotation holds until {until} ({days} from its date)."),
        None => format!("This quotation holds for {days} from its date."),
    }
}

/// How amounts are rounded, in one sentence.
pub fn rounding(rates: &Rates) -> String {
    let (least, to) = (rates.currency.least(), rates.rounding.to);
    let show = |amount| rates.currency.show(amount);
    let way = match rates.rounding.way {
        Way::Nearest => "to the nearest",
        Way::Up => "up to the next",
    };
    if to == least {
        return format!("Each amount is rounded {way} {}, halves up.", show(least));
    }
    format!(
        "The price before tax is rounded {way} {}, other amounts to {}, halves up.",
        show(to),
        show(least)
    )
}

/// What one more of the same costs less than the first.
pub fn saving(currency: &Currency, alone: Decimal, two: Decimal) -> Option<String> {
    let saved = alone + alone - two;
    (saved > Decimal::ZERO).then(|| {
        format!(
            "One alone is {} before tax; a second of the same made with it saves {}.",
            currency.show(alone),
            currency.show(saved)
        )
    })
}

/// The sums of an estimate with their names, cost first.
pub fn sums(price: &Price, rates: &Rates) -> Vec<(String, Decimal, bool)> {
    let per = |name: &str, per_cent: Decimal| format!("{name} {} %", per_cent.normalize());
    let profit = match rates.profit {
        Profit::Markup(p) => format!("Markup, {} % of the cost", p.normalize()),
        Profit::Margin(p) => format!("Margin, {} % of the price", p.normalize()),
    };
    let mut all = vec![
        ("Materials".to_owned(), price.materials, false),
        ("Inserts and fittings".to_owned(), price.fittings, false),
        (per("Spoilt material", rates.waste), price.waste, false),
        (per("Sundries", rates.sundries), price.sundries, false),
        ("Labour".to_owned(), price.labour, false),
        (
            format!(
                "Overhead, {} % of labour and {} % of materials",
                rates.on_labour.normalize(),
                rates.on_materials.normalize()
            ),
            price.overhead,
            false,
        ),
        ("Cost".to_owned(), price.cost, true),
        (profit, price.profit, false),
        ("Rounding".to_owned(), price.rounding, false),
        ("Price before tax".to_owned(), price.net, true),
    ];
    if let Some(with) = &rates.tax {
        all.push((tax(with), price.tax, false));
        all.push(("Price with tax".to_owned(), price.total, true));
    }
    all
}
