//! Glue-ups closed and pressed: which way a joint closes, what the jaws of a clamp are over,
//! what is measured of what stands then. Figures by hand from the scripts.

use std::fs;
use std::path::Path;

use rodwright::assembly::assembly_orders;
use rodwright::measure::Unit;
use rodwright::wording::Words;
use rodwright::wording::assembly::Telling;

use crate::support::scripts::request;

/// The lines of every step of a script.
pub(super) fn lines(text: String) -> Vec<Vec<String>> {
    let (job, worked) = rodwright::examine(&request("test", text)).worked.unwrap();
    let (orders, problems) = assembly_orders(&job, &worked);
    assert!(problems.is_empty(), "{problems:?}");
    let telling = Telling { job: &job, worked: &worked, words: Words::of(Unit::Mm) };
    orders.iter().flat_map(|order| &order.steps).map(|step| telling.lines(step)).collect()
}

/// The lines of every step of a script of the samples.
pub(super) fn sample(name: &str) -> Vec<Vec<String>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts").join(name);
    lines(fs::read_to_string(path).unwrap())
}

/// The step whose heading begins so.
pub(super) fn step<'l>(steps: &'l [Vec<String>], heading: &str) -> &'l [String] {
    let found = steps.iter().find(|lines| lines[0].starts_with(heading));
    found.unwrap_or_else(|| panic!("nothing begins with `{heading}`: {steps:#?}"))
}

/// Whether one of some lines has all of these in it.
pub(super) fn says(lines: &[String], words: &[&str]) -> bool {
    lines.iter().any(|line| words.iter().all(|word| line.contains(word)))
}

/// A lip 1200 long is pressed straight onto its tongue and not slid along it: 18 and 92 make
/// 110 between the jaws. A front with its sides in channels is drawn home onto them, over the
/// 400 of the drawer's depth (common practice, no source).
#[test]
fn a_glued_joint_closes_as_a_clamp_presses_it() {
    let lip = lines(
        "job(\"Ledge\", #{ unit: \"mm\" });\nlet oak = board_stock(\"Oak\", #{ thick: [27, 34] });\npiece(\"Ledge\");\n\
         let shelf = board(\"Shelf\", oak, #{ x: [0, 1200], y: [18, 110], z: [0, 26], grain: \"x\" });\n\
         let lip = board(\"Lip\", oak, #{ x: [0, 1200], y: [0, 18], z: [0, 51], grain: \"x\" });\n\
         tongue(shelf, lip);\n"
            .into(),
    );
    let glued = step(&lip, "Glue Lip from the front to Shelf");
    assert!(says(glued, &["over 110 mm, front to back"]), "{glued:#?}");
    // Two boards at a corner are no ring.
    assert!(!says(glued, &["Diagonals"]), "{glued:#?}");
    let drawer = lines(
        "import \"drawer\" as drawer;\njob(\"D\", #{ unit: \"mm\" });\npiece(\"D\");\n\
         drawer::make(#{ width: 400, depth: 400, height: 120, corners: \"housed\" });\n"
            .into(),
    );
    let glued = step(&drawer, "Glue up the drawer");
    assert!(says(glued, &["Drawer front from the front to Left drawer side"]), "{glued:#?}");
    assert!(says(glued, &["over 400 mm, front to back"]), "{glued:#?}");
}

/// Between the jaws is what lies in the line of the joint: under the bottom of the cupboard
/// its plinth, 40 and 22, not the back that stands above it; on the rail of the table its
/// cleat, 22 and 34, not the legs that stand 6 proud at its ends.
#[test]
fn jaws_are_over_what_lies_in_the_line_of_the_joint() {
    let cupboard = sample("specimen_cupboard.rhai");
    let first = step(&cupboard, "Glue up Left side");
    assert!(
        says(first, &["bars over 860 mm, left to right", "bars over 62 mm, top to bottom"]),
        "{first:#?}"
    );
    let table = sample("reading_table.rhai");
    let cleats = step(&table, "Glue 2 × Cleat");
    assert!(says(cleats, &["bars over 56 mm, front to back"]), "{cleats:#?}");
}

/// The stretcher of the bench is wedged through its ends: a bar in line with it would sit on
/// the ends of the tenons, where the wedges go in (common practice, no source).
#[test]
fn clamps_stand_clear_of_wedged_tenons() {
    let bench = sample("porch_bench.rhai");
    let glued = step(&bench, "Glue up the bench");
    assert!(
        says(glued, &["2 bars over 940 mm, left to right, one on each side of a wedged tenon, clear of it"]),
        "{glued:#?}"
    );
}

/// The cupboard is 860 wide and 878 high without its top, whether its right side is dry or
/// glued; the ends of the bench stand 940 apart outside and 410 high under the seat.
#[test]
fn what_closes_is_measured_over_all_that_stands() {
    let cupboard = sample("specimen_cupboard.rhai");
    // sqrt(860² + 878²) = 1229.0; sqrt(940² + 410²) = 1025.5.
    for heading in ["Glue up Left side", "Glue Right side"] {
        let glued = step(&cupboard, heading);
        assert!(says(glued, &["Diagonals as drawn: 1229 mm each"]), "{glued:#?}");
        assert!(says(glued, &["must not rock"]), "{glued:#?}");
    }
    let bench = sample("porch_bench.rhai");
    let glued = step(&bench, "Glue up the bench");
    assert!(says(glued, &["Diagonals as drawn: 1025.5 mm each"]), "{glued:#?}");
    assert!(says(glued, &["must not rock"]), "{glued:#?}");
}

/// What holds the first half of a case square while its glue sets is the other side, dry:
/// not the back, which comes when that is off again.
#[test]
fn what_is_set_dry_is_named_and_taken_off_again() {
    let cupboard = sample("specimen_cupboard.rhai");
    let first = step(&cupboard, "Glue up Left side");
    assert!(says(first, &["set Right side in place dry"]), "{first:#?}");
    let back = step(&cupboard, "Fit Back");
    assert!(says(back, &["Take Right side off again"]), "{back:#?}");
    assert!(!says(step(&cupboard, "Glue Right side"), &["off again"]));
}
