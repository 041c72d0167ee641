//! The order as the trade sells it: whole packs, prices, order codes.

use super::buy_line::{Bought, BuyLine, BuyingList, Group, Measure, Pack};
use super::tolerance::{SAME, WHOLE};
use super::units::{CUBIC_METRES, PER_CENT, SQUARE_METRES, THOUSAND};
use crate::model::{Per, Sold, Told};
use crate::problem::{Problem, nearest};

/// Packs of one size tried at the most beyond as many as go in: smaller ones may do the
/// rest for less.
const FEWER: usize = 6;

impl BuyingList {
    /// Prices and packs put to the lines; `name` says what a line is called. Told is what
    /// names nothing on the list, what is told twice, and what cannot be reckoned.
    pub fn price(&mut self, sold: &[Sold], name: &dyn Fn(&Bought) -> String) -> Vec<Problem> {
        let mut problems = twice(sold);
        let mut used = vec![false; sold.len()];
        let lines = std::mem::take(&mut self.lines);
        for line in &lines {
            let names = [called(&line.what).map(plain), Some(plain(&name(&line.what)))];
            let of_it = |entry: &Sold| names.iter().flatten().any(|known| *known == plain(&entry.name));
            let found: Vec<usize> = (0..sold.len()).filter(|at| of_it(&sold[*at])).collect();
            for at in &found {
                used[*at] = true;
            }
            let entries: Vec<&Sold> = found.iter().map(|at| &sold[*at]).collect();
            if entries.is_empty() || line.group == Group::FromTheShop {
                self.lines.push(line.clone());
            } else {
                self.lines.extend(sold_as(line, &entries, &mut problems));
            }
        }
        let known: Vec<String> = lines.iter().map(|line| name(&line.what)).collect();
        let unused = sold.iter().zip(&used).filter(|(_, used)| !**used);
        problems.extend(unused.map(|(entry, _)| not_bought(entry, &known)));
        problems
    }
}

/// What a line is called without regard to the part it is for.
fn called(what: &Bought) -> Option<&str> {
    match what {
        Bought::Stock(name) | Bought::Finish(name) | Bought::Ready { stock: name, .. } => Some(name),
        _ => None,
    }
}

/// A name without what people write differently: capitals, blanks, the sign between two
/// sizes.
fn plain(name: &str) -> String {
    let letters = name.chars().filter(|c| !c.is_whitespace()).flat_map(char::to_lowercase);
    letters.map(|c| if c == '×' { 'x' } else { c }).collect()
}

/// The same name and pack told more than once: the last would count.
fn twice(sold: &[Sold]) -> Vec<Problem> {
    let same = |a: &Sold, b: &Sold| plain(&a.name) == plain(&b.name) && a.pack == b.pack;
    let again = |(at, entry): &(usize, &Sold)| sold[..*at].iter().any(|before| same(before, entry));
    let twice = sold.iter().enumerate().filter(again);
    let message = |entry: &Sold| {
        let pack = entry.pack.map(|holds| format!(" in packs of {holds}")).unwrap_or_default();
        format!("how `{}`{pack} is sold is told twice; the last counts", entry.name)
    };
    let help = "keep one of the two; sizes of pack that differ may all stand";
    twice.map(|(_, entry)| placed(Problem::warning("sold-twice", message(entry)).help(help), entry)).collect()
}

/// Something told of that is not on the list.
fn not_bought(entry: &Sold, known: &[String]) -> Problem {
    let message = format!("nothing on the buying list is called `{}`", entry.name);
    let help = match nearest(&entry.name, known.iter().map(String::as_str)) {
        Some(near) => format!("did you mean `{near}`? Names are those of the buying list"),
        None => "names are those of the buying list; leave it out if nothing of it is bought".into(),
    };
    placed(Problem::advice("not-bought", message).help(help), entry)
}

/// A problem at the place where a price is told.
fn placed(mut problem: Problem, entry: &Sold) -> Problem {
    match &entry.told {
        Told::Script(origin) => problem.at(*origin),
        Told::List(file, line) => {
            problem.message = format!("{file}, line {line}: {}", problem.message);
            problem
        }
    }
}

/// A line as it is sold: in packs, or by the unit.
fn sold_as(line: &BuyLine, entries: &[&Sold], problems: &mut Vec<Problem>) -> Vec<BuyLine> {
    // Of what is told twice the last counts.
    let mut packs: Vec<(&Sold, f64)> = Vec::new();
    for entry in entries {
        let Some(holds) = entry.pack.filter(|holds| *holds > 0.0) else { continue };
        packs.retain(|(_, known)| (known - holds).abs() > WHOLE);
        packs.push((entry, holds));
    }
    packs.sort_by(|a, b| b.1.total_cmp(&a.1));
    if packs.is_empty() {
        let Some(entry) = entries.last() else { return vec![line.clone()] };
        return vec![by_the_unit(line, entry, problems)];
    }
    let counts = cover(line.quantity, &packs);
    let in_packs = packs.iter().zip(counts).filter(|(_, count)| *count > 0);
    let line = |((entry, holds), count): (&(&Sold, f64), usize)| BuyLine {
        quantity: count as f64,
        unit: Measure::Packs,
        pack: Some(Pack { holds: *holds, of: line.unit, needed: line.quantity }),
        price: entry.price,
        code: entry.code.clone(),
        ..line.clone()
    };
    in_packs.map(line).collect()
}

/// What one costs where the price is for a length, an area or a volume, to the cent, so
/// that the cost is the price as printed by the quantity.
fn by_the_unit(line: &BuyLine, entry: &Sold, problems: &mut Vec<Problem>) -> BuyLine {
    let each = match (entry.per, line.size.as_slice()) {
        (Per::One, _) => Some(1.0),
        _ if line.unit != Measure::Pieces => None,
        (Per::Metre, [long, ..]) => Some(long / THOUSAND),
        (Per::SquareMetre, [long, wide, ..]) => Some(long * wide * SQUARE_METRES),
        (Per::CubicMetre, [long, wide, thick]) => Some(long * wide * thick * CUBIC_METRES),
        _ => None,
    };
    let mut line = BuyLine { code: entry.code.clone(), ..line.clone() };
    match (each, entry.price) {
        (Some(each), Some(price)) if entry.per == Per::One => line.price = Some(price * each),
        (Some(each), Some(price)) => line.price = Some(libm::round(price * each * PER_CENT) / PER_CENT),
        (None, Some(_)) => {
            let message =
                format!("`{}` has no size that a price per {} goes by", entry.name, entry.per.name());
            let help = "leave `per` out: the price is then of one of what the buying list counts";
            problems.push(placed(Problem::warning("price-per", message).help(help), entry));
        }
        (_, None) => {}
    }
    line
}

/// How many of each pack, the largest first: the cheapest that hold enough, of those
/// alike the ones with the least over, then the fewest.
fn cover(quantity: f64, packs: &[(&Sold, f64)]) -> Vec<usize> {
    let Some(((entry, holds), rest)) = packs.split_first() else { return Vec::new() };
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a count of packs, at least 0"
    )]
    let most = libm::ceil((quantity - SAME) / holds).clamp(0.0, 1.0e6) as usize;
    if rest.is_empty() {
        return vec![most];
    }
    let tried = most.saturating_sub(FEWER)..=most;
    let mut best: Option<((f64, f64, usize), Vec<usize>)> = None;
    for count in tried {
        let more = cover(quantity - count as f64 * holds, rest);
        let mut counts = vec![count];
        counts.extend(more);
        let of = |what: &dyn Fn(&Sold, f64) -> f64| -> f64 {
            packs.iter().zip(&counts).map(|((entry, holds), n)| what(entry, *holds) * *n as f64).sum()
        };
        // Where a price is not known, what a pack holds stands for it.
        let priced = entry.price.is_some() && rest.iter().all(|(entry, _)| entry.price.is_some());
        let cost = of(&|entry, holds| if priced { entry.price.unwrap_or(0.0) } else { holds });
        let key = (cost, of(&|_, holds| holds), counts.iter().sum());
        if best.as_ref().is_none_or(|(known, _)| {
            key.0 < known.0 - WHOLE || (key.0 <= known.0 + WHOLE && (key.1, key.2) < (known.1, known.2))
        }) {
            best = Some((key, counts));
        }
    }
    best.map(|(_, counts)| counts).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Packs worked by hand: the cheapest, of those alike the least over, then the fewest.
    #[test]
    fn packs_are_taken_as_a_buyer_would() {
        let sold = |pack: f64, price: Option<f64>| Sold {
            name: "Oil".into(),
            pack: Some(pack),
            price,
            per: Per::One,
            code: None,
            told: Told::List("list".into(), 1),
        };
        let counts = |quantity: f64, packs: &[(f64, Option<f64>)]| {
            let all: Vec<Sold> = packs.iter().map(|(pack, price)| sold(*pack, *price)).collect();
            cover(quantity, &all.iter().map(|one| (one, one.pack.unwrap())).collect::<Vec<_>>())
        };
        let priced = |pack: f64, price: f64| (pack, Some(price));
        // Two small ones at 1 hold more than one large at 10, and cost less.
        assert_eq!(counts(3.0, &[priced(3.0, 10.0), priced(2.0, 1.0)]), [0, 2]);
        assert_eq!(counts(3.0, &[priced(3.0, 1.5), priced(2.0, 1.0)]), [1, 0]);
        // 6 either way, with nothing over: the fewer.
        assert_eq!(counts(3.0, &[priced(2.0, 4.0), priced(1.0, 2.0)]), [1, 1]);
        // 4 either way: the one with less over.
        assert_eq!(counts(3.0, &[priced(4.0, 4.0), priced(3.0, 4.0)]), [0, 1]);
        // Without a price what they hold stands for it.
        assert_eq!(counts(5.0, &[(4.0, None), (1.0, None)]), [1, 1]);
        assert_eq!(counts(5.0, &[priced(4.0, 1.0), (1.0, None)]), [1, 1]);
        assert_eq!((counts(8.0, &[priced(4.0, 1.0)]), counts(8.1, &[priced(4.0, 1.0)])), (vec![2], vec![3]));
    }
}
