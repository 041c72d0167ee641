//! What is said of rates that are wrong.

use rodwright::estimate::read;
use rodwright::problem::render_all;

use crate::support::golden::golden;

/// The least that rates must say.
const LEAST: &str = "currency = \"GBP\"\nhourly = 38.00\n[profit]\nmarkup = 20\n";

fn said(text: &str) -> String {
    let (rates, problems, sources) = read("rates.toml", text);
    assert_eq!(rates.is_none(), !problems.is_empty(), "{text}");
    render_all(&problems, &sources)
}

#[test]
fn what_is_wrong_is_said_with_its_place() {
    let with = |more: &str| said(&format!("{LEAST}{more}"));
    let cases = [
        ("no file of this kind", said("hourly = 38.00\nAsh plywood = 96.00\n")),
        ("nothing in it", said("")),
        ("keys that are not known", with("[minutes.cut]\nmortice = 3\n[overheads]\nlabour = 20\n")),
        ("an unknown currency", said("currency = \"GPB\"\nhourly = 38\n[profit]\nmarkup = 20\n")),
        (
            "nothing and less",
            said("currency = \"EUR\"\nhourly = 0\n[profit]\nmarkup = -5\n[prices]\n\"Ash\" = -2900.0\n"),
        ),
        (
            "numbers that are none",
            with("[allow]\nwaste = \"5 %\"\nsundries = nan\n[overhead]\nlabour = 1e9\n"),
        ),
        ("profit said twice", said("currency = \"GBP\"\nhourly = 38\n[profit]\nmarkup = 25\nmargin = 20\n")),
        ("a margin of everything", said("currency = \"GBP\"\nhourly = 38\n[profit]\nmargin = 100\n")),
        (
            "stages of less than the total",
            with(
                "[[stages]]\nwhat = \"with the order\"\npercent = 40\n[[stages]]\nwhat = \"at the end\"\npercent = 40.5\n",
            ),
        ),
        ("a stage without its share", with("[[stages]]\nwhat = \"with the order\"\n")),
        ("a rounding that cannot be paid", with("[rounding]\nto = 0.005\nway = \"upp\"\n")),
        (
            "what a price is for",
            with("[prices]\n\"Ash\" = { price = 2900.0, per = \"m³\" }\n\"Oak\" = { cost = 3 }\n"),
        ),
        (
            "texts and tables",
            with("[text]\nterms = \"Cash\"\n[shop]\nname = 4\nlines = [1]\n[tax]\nname = \"VAT\"\n"),
        ),
        (
            "a table that is none",
            said("currency = \"GBP\"\nhourly = 38\nminutes = 4\nstages = 3\nvalid_days = 0\nprofit = 20\n"),
        ),
    ];
    golden(file!(), &cases);
}
