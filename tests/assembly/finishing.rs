//! What is finished before what, what is fitted to the finished piece, and what the steps say
//! of cuts, screws and lippings. Figures by hand from the scripts.

use rodwright::assembly::assembly_orders;
use rodwright::measure::Unit;
use rodwright::wording::Words;
use rodwright::wording::assembly::{Telling, finish_table, finishing};

use super::pressing::{lines, sample, says, step};
use crate::library::made::started;
use crate::support::scripts::request;

/// Where the first step stands that says so, and where the first whose heading begins so.
fn place(steps: &[Vec<String>], words: &str) -> usize {
    let found = steps.iter().position(|lines| lines.iter().any(|line| line.starts_with(words)));
    found.unwrap_or_else(|| panic!("nothing says `{words}`: {steps:#?}"))
}

/// When each part of a script is finished.
fn when(text: String) -> Vec<(String, String)> {
    let (job, worked) = rodwright::examine(&request("when", text)).worked.unwrap();
    let (orders, _) = assembly_orders(&job, &worked);
    let telling = Telling { job: &job, worked: &worked, words: Words::of(Unit::Mm) };
    let rows = finish_table(telling, &orders).unwrap().rows;
    rows.into_iter().map(|row| (row.name, row.when)).collect()
}

/// Of a bank of drawers all is glued, then all is finished, then runners, knobs and drawers
/// go in; what slides is waxed, and nothing is finished after the last step (common practice,
/// no source).
#[test]
fn all_is_finished_before_the_first_fitting() {
    let text = started("drawer_bank", "mm");
    let steps = lines(text.clone());
    let finish = place(&steps, "Finish first all that is still bare");
    for later in ["Fit 8 × Runner", "Fit 1 × knob", "Fit the 4 drawers"] {
        assert!(place(&steps, later) >= finish, "{later}: {steps:#?}");
    }
    let glued = steps.iter().rposition(|lines| lines.iter().any(|line| line.starts_with("Glued"))).unwrap();
    assert!(glued < finish, "{steps:#?}");
    assert!(says(step(&steps, "Fit the 4 drawers"), &["Wax what slides"]));
    let when = when(text);
    assert!(when.iter().all(|(_, when)| when != "last"), "{when:?}");
    assert!(when.iter().all(|(name, _)| name != "Runner"), "{when:?}");
    let table = sample("reading_table.rhai");
    assert!(says(step(&table, "Fit Top"), &["Finish first all that is still bare"]), "{table:#?}");
}

/// The backing of a frame, the beads of a door and a top that is screwed on hide faces: each
/// is finished before it comes in. The pane of the cupboard's second door as its first.
#[test]
fn what_hides_a_face_is_finished_before_it_comes_in() {
    let frame = sample("notice_frame.rhai");
    assert!(says(step(&frame, "Fit Backing"), &["Finish before it comes in: Backing"]), "{frame:#?}");
    // Nothing is left to finish after the last step, and the box does not say so.
    let (job, worked) = crate::support::sets::worked("notice_frame", &[]);
    let (orders, _) = assembly_orders(&job, &worked);
    let telling = Telling { job: &job, worked: &worked, words: Words::of(Unit::Mm) };
    let told = finishing(telling, &orders[0]);
    assert!(!says(&told, &["After the last step"]), "{told:#?}");
    let cupboard = sample("specimen_cupboard.rhai");
    assert!(says(step(&cupboard, "Fit Top"), &["Finish before it comes in: Top"]), "{cupboard:#?}");
    let beads = step(&cupboard, "Fit 4 × Left door glass bead");
    assert!(place(&cupboard, "Finish first all that") < place(&cupboard, &beads[0]), "{cupboard:#?}");
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts/specimen_cupboard.rhai");
    let when = when(std::fs::read_to_string(path).unwrap());
    assert!(when.iter().all(|(_, when)| when != "last"), "{when:?}");
}

/// Four members on tenons in their mitres go together as two halves and these as one: no
/// member goes in between two others.
#[test]
fn a_ring_on_tenons_is_closed_by_halves() {
    let frame = sample("notice_frame.rhai");
    let ring = step(&frame, "Glue up the frame: Left stile, Foot, Head and Right stile.");
    let order: Vec<&str> = ring.iter().filter_map(|line| line.get(..3)).collect();
    for letter in ["a  ", "b  ", "c  "] {
        assert!(order.contains(&letter), "{ring:#?}");
    }
    assert!(says(ring, &["c  Right stile with Head", "Foot and Left stile"]), "{ring:#?}");
}

/// The rebate of the frame is 8 wide and 12 deep, of its clips four pilot holes of 2.5 go 16
/// deep; the arch of the doors rises 45 more.
#[test]
fn what_is_cut_after_the_glue_up_is_told_with_its_size() {
    let frame = sample("notice_frame.rhai");
    let cut = step(&frame, "Cut the rebate and the fitting holes on the frame");
    assert!(says(cut, &["Rebate 8 mm wide, 12 mm deep from the back."]), "{cut:#?}");
    assert!(says(cut, &["4 holes ⌀ 2.5 mm, 16 mm deep."]), "{cut:#?}");
    let cupboard = sample("specimen_cupboard.rhai");
    let cut = step(&cupboard, "Cut the rebate on each door");
    assert!(says(cut, &["; 53 mm wide, 12 mm deep on Left door top rail"]), "{cut:#?}");
    // Between its glue-up and its pane a door in the opening is fitted to it.
    assert!(says(cut, &["try it in its opening"]), "{cut:#?}");
}

/// A step says once that it is dry, and glues nothing to a back; a top in slots is screwed in
/// its middle row first and stands over as it is drawn, 18 and 40.
#[test]
fn dry_steps_say_so_once_and_how_a_top_lies() {
    let cupboard = sample("specimen_cupboard.rhai");
    let back = step(&cupboard, "Fit Back");
    assert!(says(back, &["Dry, no glue"]) && !says(back, &["No glue in the groove"]), "{back:#?}");
    assert!(!step(&cupboard, "Glue Right side")[0].contains("Back"));
    let top = step(&cupboard, "Fit Top");
    assert!(
        says(top, &["stands 18 mm over in front, flush at the back and 18 mm over at either end"]),
        "{top:#?}"
    );
    assert!(says(top, &["row in round holes first", "not hard"]), "{top:#?}");
    let table = sample("reading_table.rhai");
    let top = step(&table, "Fit Top");
    assert!(says(top, &["It stands 40 mm over all round."]), "{top:#?}");
    assert!(says(top, &["Set the screws in the middle of their slots"]), "{top:#?}");
}

/// Lippings are held and cure before they are trimmed; those of two doors are mitred, of the
/// case's corners only the case.
#[test]
fn lippings_are_held_and_mitred_ones_told() {
    let steps = lines(started("wall_case", "mm"));
    let lip = step(&steps, "Glue the lippings");
    assert!(says(lip, &["tape pulled tight", "cure before it is trimmed"]), "{lip:#?}");
    assert!(!says(step(&sample("specimen_cupboard.rhai"), "Glue the lippings"), &["mitred"]));
}
