//! What is said beside a step of what can hurt there, and what of each part is finished when.

use std::fs;
use std::path::Path;

use rodwright::assembly::assembly_orders;
use rodwright::measure::Unit;
use rodwright::wording::Words;
use rodwright::wording::assembly::{FinishTable, Telling, finish_table};

use super::asked::frame;
use crate::support::scripts::request;

/// The lines of every step of a script of the samples, piece by piece.
fn steps(name: &str) -> Vec<Vec<String>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts").join(name);
    let done = rodwright::examine(&request(name, fs::read_to_string(path).unwrap()));
    let (job, worked) = done.worked.unwrap();
    let (orders, _) = assembly_orders(&job, &worked);
    let telling = Telling { job: &job, worked: &worked, words: Words::of(Unit::Mm) };
    orders.iter().flat_map(|order| &order.steps).map(|step| telling.lines(step)).collect()
}

/// Which caution stands beside the steps whose heading begins so, and beside no other.
#[test]
fn cautions_stand_beside_their_step() {
    let cases = [
        ("notice_frame.rhai", "Put in Glass", "Glass: gloves on"),
        ("notice_frame.rhai", "Cut the rebate", "Clamp it down to be cut"),
        ("notice_frame.rhai", "Finish", "Spread its rags out"),
        ("notice_frame.rhai", "Fix 2 × pair of frame clips", "Fixings in studs"),
        ("periodicals_cabinet.rhai", "Fix Cleat on the wall", "Fixings in studs"),
        ("blanket_chest.rhai", "Fit Lid", "It falls shut"),
        ("window_wall.rhai", "Fix Cleat on the wall", "Work from steps"),
    ];
    for (script, heading, caution) in cases {
        let steps = steps(script);
        let found: Vec<&String> = steps
            .iter()
            .filter(|lines| lines.iter().any(|line| line.starts_with(caution)))
            .filter_map(|lines| lines.first())
            .collect();
        assert!(!found.is_empty(), "{script}: nobody says `{caution}`");
        assert!(found.iter().all(|title| title.starts_with(heading)), "{script}: {caution}: {found:?}");
    }
}

/// What is finished of a script.
fn table(text: String) -> Option<FinishTable> {
    let (job, worked) = rodwright::examine(&request("frame", text)).worked.unwrap();
    let (orders, _) = assembly_orders(&job, &worked);
    finish_table(Telling { job: &job, worked: &worked, words: Words::of(Unit::Mm) }, &orders)
}

/// A frame by hand: stiles of 600 × 60 × 22, rails of 280 × 60 × 22 between them. Of a stile
/// 0.036 m² are its face side and its back side; of two rails their shoulders are glued.
#[test]
fn what_is_finished_is_told_by_part_and_face() {
    assert!(table(frame("")).is_none(), "nothing is finished");
    let found = table(frame("finish(\"Oil\", #{ coats: 2, coverage: 10 });")).unwrap();
    let [stiles, ..] = found.rows.as_slice() else { panic!("{found:?}") };
    assert_eq!((stiles.name.as_str(), stiles.when.as_str()), ("Left", "last"));
    assert_eq!(stiles.areas[..2], ["0.04", "0.04"]);
    // All faces: stiles 2 × (2 × 0.036 + 0.0290), rails 2 × (2 × 0.0168 + 0.0123), less
    // about 4 × 60 × 22 on both sides of their joints.
    let all = 2.0 * (0.072 + 0.029) + 2.0 * (0.0336 + 0.0123) - 8.0 * 0.00132;
    let told: f64 = found.in_all[0].trim_end_matches(" m²").parse().unwrap();
    assert!((told - all).abs() < 0.015, "{told} {all}");
    // Two coats at ten to the litre.
    let litres: f64 = found.in_all[1].trim_end_matches(" litres").parse().unwrap();
    assert!((litres - 0.2 * told).abs() < 0.05, "{litres}");
}

/// A panel is finished before the step in which it comes in: from then on it is half covered.
#[test]
fn a_panel_is_finished_before_it_is_shut_in() {
    let found = table(super::asked::butted("finish(\"Oil\");")).unwrap();
    let when = |name: &str| found.rows.iter().find(|row| row.name == name).map(|row| row.when.clone());
    assert_eq!(when("Field"), Some("before 2".into()));
    assert_eq!(when("Left"), Some("last".into()));
}

/// Squeezed glue fills a rebate that takes the back later, and spoils what is finished; the
/// joints of a table stand by nothing of the kind (common practice, no source).
#[test]
fn squeezed_glue_is_wiped_out_of_what_takes_a_part_later() {
    let said = |name: &str| {
        let lines = steps(name).into_iter().flatten();
        lines.filter(|line| line.to_lowercase().contains("squeeze")).collect::<Vec<String>>()
    };
    let bookcase = said("low_bookcase.rhai");
    let first = bookcase.first().map(String::as_str).unwrap_or_default();
    assert!(
        first.starts_with("Wipe squeezed glue out of the rebate of ") && first.contains("Left side"),
        "{first}"
    );
    assert_eq!(said("reading_table.rhai"), Vec::<String>::new());
    let cupboard = said("specimen_cupboard.rhai").join("\n");
    assert!(cupboard.contains("finished faces") && cupboard.contains("out of the groove of"), "{cupboard}");
}

/// What a step says of its figures, by hand: the cupboard is 860 wide, and its bars reach over the
/// side that stands; the cleat of the cabinet on the wall begins where the script has it; one half
/// of a clip is on the frame.
#[test]
fn clamps_cleats_and_clips_are_told_as_they_are() {
    let all = |name: &str| steps(name).into_iter().flatten().collect::<Vec<String>>().join("\n");
    let cupboard = all("specimen_cupboard.rhai");
    assert!(cupboard.contains("bars over 860 mm, left to right"), "{cupboard}");
    assert!(!cupboard.contains("bars over 845 mm"), "{cupboard}");
    let (_, worked) = crate::support::sets::worked("periodicals_cabinet", &[]);
    let top = |name: &str| {
        let part = worked.parts.iter().find(|part| part.name == name).unwrap();
        part.solid.points.iter().map(|p| part.at.point(*p).z).fold(f64::NEG_INFINITY, f64::max)
    };
    let under = top("Top") - top("Cleat on the wall");
    let cabinet = all("periodicals_cabinet.rhai");
    assert!(
        cabinet.contains(&format!("stands {under:.0} mm below the top of the piece")),
        "{under} {cabinet}"
    );
    let frame = all("notice_frame.rhai");
    assert!(frame.contains("one half to Head, the other to the wall"), "{frame}");
    assert!(frame.contains("leaves the corners round"), "{frame}");
}
