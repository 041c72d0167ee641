//! Money by worked examples from first principles, and by whole numbers of pence.

use std::fmt::Write as _;

use rodwright::estimate::{Currency, Decimal, MINUTES, Profit, Rates, read, starter};
use rodwright::quoting::worked_out;

use crate::support::scripts::request;

/// One shelf sawn from one sheet at 50.00.
const SHELF: &str = "job(\"Shelf\", #{ unit: \"mm\" });\n\
    let ply = sheet_stock(\"Birch plywood\", #{ thick: 18, sheet: [2440, 1220], grain: \"length\", price: 50.0 });\n\
    piece(\"Shelf\");\n\
    panel(\"Board\", ply, #{ x: [0, 800], y: [0, 250], z: [0, 18], grain: \"x\" });\n";

/// Rates with no minutes but 20 for setting out and 10 for a part of a sheet.
fn rates(profit: &str, more: &str) -> Rates {
    let mut text = format!("currency = \"GBP\"\nhourly = 30.0\n{more}\n[profit]\n{profit}\n");
    text +=
        "[allow]\nwaste = 10\n[overhead]\nlabour = 20\nmaterials = 10\n[tax]\nname = \"VAT\"\npercent = 20\n";
    let mut table = "";
    for row in MINUTES {
        if row.table != table {
            table = row.table;
            writeln!(text, "[minutes.{table}]").unwrap();
        }
        let minutes = match row.line().as_str() {
            "job.setting_out" => 20,
            "part.sheet" => 10,
            _ => 0,
        };
        writeln!(text, "{} = {minutes}", row.key).unwrap();
    }
    let (rates, problems, _) = read("rates.toml", &text);
    assert_eq!(problems, [], "{text}");
    rates.unwrap()
}

fn amount(text: &str) -> Decimal {
    text.parse().unwrap()
}

/// Worked by hand: sheet 50.00, spoilt 10 % 5.00; 20 and 10 minutes at 30.00 an hour
/// 10.00 and 5.00; overhead 20 % of 15.00 and 10 % of 55.00 is 3.00 and 5.50: cost 78.50.
/// A markup of 25 % is 19.625, paid as 19.63; VAT 20 % of 98.13 is 19.626, paid as 19.63.
#[test]
fn a_price_is_what_pencil_and_paper_make_it() {
    let (worked, _) = worked_out(&request("shelf", SHELF.into()), &rates("markup = 25", ""), 1);
    let price = worked.unwrap().estimate.price;
    let sums = [price.materials, price.waste, price.labour, price.overhead, price.cost];
    assert_eq!(sums, ["50", "5", "15", "8.5", "78.5"].map(amount));
    assert_eq!(
        [price.profit, price.net, price.tax, price.total],
        ["19.63", "98.13", "19.63", "117.76"].map(amount)
    );
}

/// A margin m of the price is a markup m / (1 - m) of the cost: 20 % is 25 %, and 50 %
/// doubles the cost.
#[test]
fn a_margin_is_a_share_of_the_price() {
    let net = |profit: &str| {
        let (worked, _) = worked_out(&request("shelf", SHELF.into()), &rates(profit, ""), 1);
        worked.unwrap().estimate.price.net
    };
    assert_eq!(net("margin = 20"), net("markup = 25"));
    assert_eq!(net("margin = 50"), amount("157.00"));
    assert_eq!(net("markup = 0"), amount("78.50"));
}

/// 98.125 to the nearest 5 is 100, up to the next 5 is 100; 78.50 is 80 and 80; up to the
/// next 25 is 100.
#[test]
fn prices_are_rounded_as_the_rule_says() {
    let net = |profit: &str, rounding: &str| {
        let more = format!("[rounding]\n{rounding}\n");
        let (worked, _) = worked_out(&request("shelf", SHELF.into()), &rates(profit, &more), 1);
        let price = worked.unwrap().estimate.price;
        assert_eq!(price.net, price.cost + price.profit + price.rounding);
        price.net
    };
    assert_eq!(net("markup = 25", "to = 5\nway = \"nearest\""), amount("100"));
    assert_eq!(net("markup = 0", "to = 5\nway = \"nearest\""), amount("80"));
    assert_eq!(net("markup = 0", "to = 25\nway = \"nearest\""), amount("75"));
    assert_eq!(net("markup = 0", "to = 25\nway = \"up\""), amount("100"));
}

/// Thirds of 117.76: 33 % is 38.86, 33 % again, and the last has what is left, 40.04.
#[test]
fn stages_come_to_the_total() {
    let stage = |what: &str, percent: &str| format!("[[stages]]\nwhat = \"{what}\"\npercent = {percent}\n");
    let more = [stage("with the order", "33"), stage("half way", "33"), stage("at the end", "34")].concat();
    let (worked, _) = worked_out(&request("shelf", SHELF.into()), &rates("markup = 25", &more), 1);
    let price = worked.unwrap().estimate.price;
    let stages: Vec<Decimal> = price.stages.iter().map(|stage| stage.amount).collect();
    assert_eq!(stages, ["38.86", "38.86", "40.04"].map(amount));
    assert_eq!(stages.iter().sum::<Decimal>(), price.total);
}

/// Against whole numbers: pence times thousandths, rounded half away from nought.
#[test]
fn rounding_agrees_with_whole_numbers_of_pence() {
    let pounds = Currency::named("GBP").unwrap();
    let mut lot: i128 = 7;
    for _ in 0..2000 {
        lot = (lot * 6_364_136_223_846_793_005 + 1_442_695_040_888_963_407) % (1 << 64);
        let (pence, thousandths) = (lot % 1_000_000, (lot >> 32) % 1_000_000);
        let exact = pence * thousandths;
        let (whole, rest) = (exact / 1000, exact % 1000);
        let wanted = whole + i128::from(rest * 2 >= 1000);
        let product = Decimal::from_i128_with_scale(pence, 2) * Decimal::from_i128_with_scale(thousandths, 3);
        assert_eq!(
            pounds.round(product),
            Decimal::from_i128_with_scale(wanted, 2),
            "{pence} × {thousandths}"
        );
    }
}

/// Each column of a whole cabinet, read from the figures as they are printed.
#[test]
fn columns_add_up_as_printed() {
    let text = std::fs::read_to_string("scripts/periodicals_cabinet.rhai").unwrap();
    let rates = std::fs::read_to_string("scripts/rates.toml").unwrap();
    let rates = read("scripts/rates.toml", &rates).0.unwrap();
    let estimate = worked_out(&request("cabinet", text), &rates, 1).0.unwrap().estimate;
    let shown = |value: Decimal| amount(&rates.currency.figure(value).replace(',', "").replace('−', "-"));
    let price = &estimate.price;
    let goods: Decimal = estimate.goods.iter().map(|line| shown(line.cost)).sum();
    assert_eq!(goods, shown(price.materials) + shown(price.fittings));
    for line in &estimate.goods {
        assert_eq!(
            shown(line.cost),
            rates.currency.round(line.quantity * line.price.unwrap()),
            "{}",
            line.name
        );
    }
    assert_eq!(estimate.hours.iter().map(|line| shown(line.cost)).sum::<Decimal>(), shown(price.labour));
    assert_eq!(estimate.hours.iter().map(|line| line.minutes).sum::<Decimal>(), price.minutes);
    let bought =
        [price.materials, price.fittings, price.waste, price.sundries].map(shown).iter().sum::<Decimal>();
    assert_eq!(bought + shown(price.labour) + shown(price.overhead), shown(price.cost));
    assert_eq!(shown(price.net) + shown(price.tax), shown(price.total));
    assert!(estimate.hours.len() > 15 && estimate.goods.len() > 3);
}

/// Set-ups, setting out and the way there are paid once, however many are made.
#[test]
fn a_second_one_needs_no_set_up_of_its_own() {
    let text = std::fs::read_to_string("scripts/periodicals_cabinet.rhai").unwrap();
    let rates = std::fs::read_to_string("scripts/rates.toml").unwrap();
    let rates = read("scripts/rates.toml", &rates).0.unwrap();
    let hours =
        |count| worked_out(&request("cabinet", text.clone()), &rates, count).0.unwrap().estimate.hours;
    let (one, two) = (hours(1), hours(2));
    assert_eq!(one.len(), two.len());
    for (one, two) in one.iter().zip(&two) {
        let once = ["job.", "set_up.", "install.visit"].iter().any(|begin| one.line.starts_with(begin));
        // Areas are rounded to a hundredth each, those sanded once for each grit.
        let twice = (one.count + one.count - two.count).abs() <= amount("0.05");
        assert!(
            if once { one.count == two.count } else { twice },
            "{} {} {}",
            one.line,
            one.count,
            two.count
        );
    }
}

#[test]
fn the_starter_is_read_without_a_word_and_says_every_usual_figure() {
    let (rates, problems, _) = read("rates.toml", &starter());
    assert_eq!(problems, []);
    let rates = rates.unwrap();
    assert_eq!(rates.profit, Profit::Markup(amount("20")));
    for row in MINUTES {
        assert_eq!(rates.minutes.get(&row.line()), Some(&amount(row.usual)), "{}", row.line());
    }
}
