//! Wedged and foxed tenons. What is opened is a triangle at either end of the mortise,
//! as thick as the tenon. `UPDATE=1` writes the messages anew.

use crate::support::golden::golden;
use crate::support::joints::{
    boards, clear_of_one_another, good, near, problem, rail_and_leg, removed, worked,
};
use crate::support::lot::Lot;
use crate::support::said::{called, item, setting};

#[test]
fn wedges_open_the_mortise_by_what_they_spread_the_tenon() {
    let job = good(&rail_and_leg("through: true, wedges: 2"));
    // Two thirds of 80 is 53; an eighth of that to half a millimetre is 6.5; a kerf of 1
    // leaves 5.5 that each spreads, and as much at either end. A sixth of 78 is 13.
    assert_eq!(called(&job, 0), "through mortise and tenon 12 × 78, 80 mm long, 2 wedges");
    assert_eq!(
        setting(&job, 0),
        "mortise 12 × 78, through; either end opened 5.5 mm at the far face; kerfs 1 wide, 53 deep, 13 mm from the \
         tenon's edges; glue the wedges, drive them in turn and saw them off flush"
    );
    near(removed(&job, 0), 80.0 * (90.0 * 40.0 - 12.0 * 78.0) + 2.0 * 53.0 * 12.0);
    near(removed(&job, 1), 12.0 * 78.0 * 80.0 + 2.0 * (0.5 * 5.5 * 53.0 * 12.0));
    let wedges = &job.joints[0].inserts[0];
    assert_eq!((item(wedges).as_str(), wedges.at.len()), ("wedge 6.5 × 12 × 53, of Pine", 2));
    // Their heads lie in the far face, 13 from the edges of a tenon from 576 to 654.
    for at in &wedges.at {
        near(at.origin.x, 480.0);
        near((at.origin.z - 615.0).abs(), 26.0);
        near(at.y.x, -1.0);
    }
    let one = good(&rail_and_leg("through: true, wedges: 1, wedge: \"4x10\""));
    assert!(
        setting(&one, 0)
            .contains("opened 1.5 mm at the far face; kerf 1 wide, 53 deep, in the middle of the tenon")
    );
    near(removed(&one, 1), 12.0 * 78.0 * 80.0 + 2.0 * (0.5 * 1.5 * 53.0 * 12.0));
}

#[test]
fn a_foxed_mortise_is_opened_within() {
    let job = good(&rail_and_leg("foxed: true, wedges: 2"));
    assert_eq!(called(&job, 0), "mortise and tenon 12 × 78, 53 mm long, 2 foxed wedges");
    // Kerfs 35 deep, wedges 4.5 at the head that spread 3.5; the slope falls 3.5 on the 37
    // from there to the bottom, 2 beyond the tenon.
    let long = (3.5_f64 * 3.5 + 37.0 * 37.0).sqrt();
    let tan = 3.5 / 37.0;
    // The cutter is square to the slope, reaches 1 past the mortise's end at the bottom, and
    // stops where its inner side is there: what it takes besides the mortise is a right
    // triangle whose long side is the slope.
    let wide = 3.5 * long / 37.0 + 1.0;
    let side = long - wide * tan;
    near(removed(&job, 1), 12.0 * 78.0 * 55.0 + 2.0 * (0.5 * side * side * tan * 12.0));
    // A wedge is 3 shorter than its room, so that it draws before it lands.
    let wedges = &job.joints[0].inserts[0];
    assert_eq!(item(wedges), "foxed wedge 4.5 × 12 × 34, of Pine");
    near(wedges.at[0].origin.x, 455.0);
}

#[test]
fn wedged_tenons_by_lot() {
    let mut made = 0;
    for seed in 700..760 {
        let mut lot = Lot(seed);
        let (thick, wide, deep) =
            (lot.between(20.0, 60.0), lot.between(45.0, 160.0), lot.between(30.0, 100.0));
        let twin = lot.of(3) == 0;
        let (foxed, count) = (lot.of(3) == 0, 1 + lot.of(3));
        let how = if foxed { "foxed" } else { "through" };
        let text = boards(
            [[0.0, 400.0], [0.0, thick], [300.0, 300.0 + wide]],
            [[400.0, 400.0 + deep], [0.0, thick], [0.0, 700.0]],
            ["x", "z"],
            &format!("mortise_tenon(a, b, #{{ {how}: true, wedges: {count}, twin: {twin} }});"),
        );
        let (job, problems) = worked("test", &text, &[]);
        if problems.contains("error[") {
            let known = ["does-not-fit", "breaks-through", "tenon-too-thick"];
            assert!(known.iter().any(|code| problems.contains(code)), "{problems}");
            continue;
        }
        made += 1;
        clear_of_one_another(&job);
        let tenons = if twin { 2 } else { 1 };
        assert_eq!(job.joints[0].inserts[0].at.len(), count * tenons, "{text}");
        // Not a shaving of the tenon is lost but its kerfs and shoulders.
        let plain = text.replace(&format!(", wedges: {count}"), "").replace("foxed: true, ", "");
        let plain = good(&plain);
        let kerfs = removed(&job, 0) - removed(&plain, 0);
        assert!(kerfs > 0.0 && removed(&job, 1) > removed(&plain, 1), "{text}");
    }
    assert!(made >= 25, "only {made} of 60 could be made");
}

#[test]
fn wedges_that_cannot_be_are_said_with_figures() {
    let said = |options: &str| problem(&rail_and_leg(options));
    // A rail far broader than thick stands across the grain of a board.
    let across = boards(
        [[0.0, 400.0], [100.0, 124.0], [0.0, 200.0]],
        [[400.0, 440.0], [0.0, 600.0], [-50.0, 250.0]],
        ["x", "y"],
        "mortise_tenon(a, b, #{ through: true, wedges: 2 });",
    );
    let cases = [
        ("wider than its mortise", said("through: true, wedges: 2, wedge: \"4x14\"")),
        ("too thin", said("through: true, wedges: 1, wedge: \"1.2x10\"")),
        ("too steep", said("through: true, wedges: 1, wedge: \"12x10\"")),
        ("nowhere to drive it", said("wedges: 2")),
        ("too many", said("through: true, wedges: 6, width: 30")),
        ("near the end", problem(&rail_and_leg("through: true, wedges: 3").replace("700.0", "661.0"))),
        ("across the grain", problem(&across)),
    ];
    golden(file!(), &cases);
}
