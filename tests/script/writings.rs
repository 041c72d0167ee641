//! Ways in which people write a length, in quotes and without, and what each gives in a
//! job in inches and in one in millimetres: the length, or the words that say how it is
//! written. An inch is 25.4 mm exactly (international yard and pound agreement, 1959).

use rodwright::measure::{LengthStyle, Unit};
use rodwright::script::evaluate;

use super::jobs::request;
use crate::support::golden::golden;

/// Lengths in quotes: fractions, foot and inch marks, dashes, printers' signs, units.
const QUOTED: &[&str] = &[
    "58 1/2",
    "58-1/2",
    "58–1/2",
    "58½",
    "58 ½",
    "58 1⁄2",
    "58.5",
    "58.5 in",
    "58.5in.",
    "58 1/2 inches",
    "58 1/2″",
    "58 1/2”",
    "58 1/2''",
    "58 - 1/2",
    "58 -1/2",
    "-1/2",
    "−1/2",
    "5/8",
    "⅝",
    "1 5/8 in",
    "9/8",
    "1 9/8",
    "5/0",
    "1/2/3",
    "5'",
    "5’",
    "5′",
    "5 ft",
    "5 feet 6 inches",
    "5' 0 1/2",
    "5'-0 1/2",
    "5' - 0 1/2",
    "5'6",
    "1 1/2 ft",
    "5' 6'",
    "18 mm",
    "1.8cm",
    "0.5 m",
    "18 1/2 mm",
    "1,5",
    "1 2 3/4",
    "6x5/8",
    "#8",
    "half",
    "",
    "60",
    "1e3",
];

/// Lengths without quotes, as someone writes them who has never written a script.
const BARE: &[&str] = &[
    "58 1/2",
    "58+1/2",
    "58 + 1/2",
    "5/8",
    "5/8\"",
    "58½",
    "5' 0 1/2\"",
    "5'",
    "3/4in",
    "3/4 in",
    "18mm",
    "18 mm",
    "2 ft 6 in",
    "“5/8”",
    "7 3/8″",
    "inch(5/8)",
    "mm(18)",
    "1,5",
];

/// Sums in which a text stands beside a number or another text.
const SUMS: &[&str] = &[
    "\"60 1/2\" + 3",
    "3 + \"60 1/2\"",
    "\"60 1/2\" + \"1/2\"",
    "\"60 1/2\" - \"1/2\"",
    "\"60 1/2\" - 1/2",
    "\"60\" * 2",
    "60 - \"3/4\"",
    "\"3/4 in\" / 2",
    "if \"60 1/2\" > 50 { 4 } else { 5 }",
    "\"Shelf \" + 3",
    "\"5' \" + \"6\"",
];

/// What one writing gives: the length in the job's unit, or the first problem.
fn given(writing: &str, unit: Unit) -> String {
    let text = format!(
        "job(\"T\", #{{ unit: \"{}\", owner: \"M\" }});\nlet s = sheet_stock(\"Ply\", #{{ thick: \"3/4 in\", sheet: [\"48 in\", \"96 in\"], grain: \
         \"length\" }});\npiece(\"P\");\nlet wide = {writing};\npanel(\"S\", s, #{{ x: [0, wide], y: [0, \"9 in\"], z: [0, \"3/4 in\"], grain: \"x\" }});\n",
        unit.name()
    );
    let found = evaluate(&request("t", &text, &[]));
    if let Some(problem) = found.problems.first() {
        let cure = problem.help.as_deref().map(|help| format!("\n      = {help}")).unwrap_or_default();
        return format!("{}{cure}", problem.message);
    }
    let job = found.job.expect("a job without a problem is there");
    LengthStyle::of(unit).text(job.parts[0].size.x)
}

#[test]
fn every_writing_gives_its_length_or_says_how_it_is_written() {
    let quoted = QUOTED.iter().map(|text| format!("\"{text}\"")).collect::<Vec<_>>();
    let all = |among: &[&str]| among.iter().map(|text| (*text).to_owned()).collect::<Vec<_>>();
    let cases: Vec<(&str, String)> =
        [("in quotes", quoted), ("without quotes", all(BARE)), ("in sums", all(SUMS))]
            .into_iter()
            .map(|(name, writings)| {
                let row = |writing: &String| {
                    let [inches, mm] = [Unit::Inch, Unit::Mm].map(|unit| given(writing, unit));
                    let both = if inches == mm {
                        format!("  {inches}")
                    } else {
                        format!("  in: {inches}\n  mm: {mm}")
                    };
                    format!("{writing}\n{both}\n")
                };
                (name, writings.iter().map(row).collect())
            })
            .collect();
    golden(file!(), &cases);
}
