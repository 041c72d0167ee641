//! Mortise and tenon: both sides match, volumes are boxes. Proportions are the
//! trade's: a third, two thirds, a third (common practice, no source).

use rodwright::joinery::WorkedJob;

use crate::support::golden::golden;
use crate::support::joints::{boards, good, near, problem, removed, warned, worked};
use crate::support::lot::Lot;
use crate::support::said::{called, setting};

/// A rail `a` of 400 by 90 by 22 against the right of which a leg `b` of 45
/// stands; the rail's top is `below` under that of the leg.
fn rail_and_leg(below: f64, works: &str) -> String {
    boards(
        [[0.0, 400.0], [10.0, 32.0], [610.0 - below, 700.0 - below]],
        [[400.0, 445.0], [0.0, 45.0], [0.0, 700.0]],
        ["x", "z"],
        works,
    )
}

#[test]
fn a_third_and_two_thirds() {
    // 22 / 3 is nearest an 8 chisel; 45 x 2 / 3 is 30; shoulders of 6.
    let job = good(&rail_and_leg(40.0, "mortise_tenon(a, b);"));
    assert_eq!(called(&job, 0), "mortise and tenon 8 × 78, 30 mm long");
    assert_eq!(setting(&job, 0), "mortise 8 × 78, 32 mm deep");
    // The cutting list has the tenon in it.
    near(job.parts[0].size.x, 430.0);
    near(removed(&job, 0), 30.0 * (90.0 * 22.0 - 78.0 * 8.0));
    near(removed(&job, 1), 78.0 * 8.0 * 32.0);
}

#[test]
fn a_haunch_keeps_the_end_of_the_leg() {
    let job = good(&rail_and_leg(0.0, "mortise_tenon(a, b, #{ haunch: \"top\" });"));
    // A third of 90 is haunched, as deep as the tenon is thick; 6 below it.
    assert_eq!(called(&job, 0), "haunched mortise and tenon 8 × 54, 30 mm long");
    near(removed(&job, 0), 30.0 * 90.0 * 22.0 - 8.0 * (54.0 * 30.0 + 30.0 * 8.0));
    near(removed(&job, 1), 8.0 * (54.0 * 32.0 + 30.0 * 10.0));
    let asked = "mortise_tenon(a, b, #{ haunch: \"top\", haunch_width: 25, haunch_depth: 12, width: 50 });";
    let job = good(&rail_and_leg(0.0, asked));
    near(removed(&job, 1), 8.0 * (50.0 * 32.0 + 25.0 * 14.0));
}

#[test]
fn a_through_tenon_fills_its_mortise() {
    let job = good(&rail_and_leg(40.0, "mortise_tenon(a, b, #{ through: true, shoulder: 10 });"));
    near(job.parts[0].size.x, 445.0);
    near(removed(&job, 1), 70.0 * 8.0 * 45.0);
    near(removed(&job, 0), 45.0 * (90.0 * 22.0 - 70.0 * 8.0));
}

#[test]
fn the_mortise_runs_along_the_grain() {
    // A rail lying flat: the mortise is as long as it is thick, less shoulders.
    let text = boards(
        [[0.0, 400.0], [0.0, 54.0], [300.0, 327.0]],
        [[400.0, 445.0], [0.0, 60.0], [0.0, 700.0]],
        ["x", "z"],
        "mortise_tenon(a, b);",
    );
    // A third of 54 is 18, between chisels of 16 and 20; shoulders 27 / 6 in whole
    // millimetres, 4.
    assert_eq!(called(&good(&text), 0), "mortise and tenon 16 × 19, 30 mm long");
    // A wide shelf takes its mortise across, along its own width.
    let text = boards(
        [[0.0, 400.0], [20.0, 220.0], [300.0, 327.0]],
        [[400.0, 427.0], [0.0, 240.0], [0.0, 700.0]],
        ["x", "z"],
        "mortise_tenon(a, b);",
    );
    assert_eq!(called(&good(&text), 0), "mortise and tenon 8 × 188, 18 mm long");
}

#[test]
fn offsets_move_the_tenon() {
    let works = "mortise_tenon(a, b, #{ offset: 3, toward: \"front\", thickness: 8 });";
    let job = good(&rail_and_leg(40.0, works));
    let (low, high) = cheeks(&job);
    near(low, 10.0 + 7.0 - 3.0);
    near(high, 10.0 + 15.0 - 3.0);
    // Barefaced: flush with the front of the rail.
    let job = good(&rail_and_leg(40.0, &works.replace("offset: 3", "offset: 7")));
    near(cheeks(&job).0, 10.0);
    near(removed(&job, 0), 30.0 * (90.0 * 22.0 - 78.0 * 8.0));
}

/// By hand: a tenon 60 wide in the middle of a rail 90 high, moved up by 3.
#[test]
fn offsets_along_the_mortise_move_both_its_ends() {
    let moved = |by: f64, way: &str| {
        let works = format!("mortise_tenon(a, b, #{{ offset: {by}, toward: \"{way}\", width: 60 }});");
        mortise_on(&good(&rail_and_leg(40.0, &works)), 2)
    };
    let square = mortise_on(&good(&rail_and_leg(40.0, "mortise_tenon(a, b, #{ width: 60 });")), 2);
    for (way, sign) in [("top", 1.0), ("bottom", -1.0)] {
        let (low, high) = moved(3.0, way);
        near(low, square.0 + 3.0 * sign);
        near(high, square.1 + 3.0 * sign);
    }
    near(square.1 - square.0, 60.0);
}

/// From and to of the mortise on y of the piece.
fn cheeks(job: &WorkedJob) -> (f64, f64) {
    mortise_on(job, 1)
}

/// From and to of the mortise on an axis of the piece.
fn mortise_on(job: &WorkedJob, axis: usize) -> (f64, f64) {
    let leg = &job.parts[1];
    let shape = &leg.cuts[0].shape;
    let all: Vec<f64> = rodwright::joinery::corners(shape).iter().map(|p| leg.at.point(*p)[axis]).collect();
    (all.iter().copied().fold(f64::INFINITY, f64::min), all.iter().copied().fold(f64::NEG_INFINITY, f64::max))
}

#[test]
fn mortises_by_lot_take_their_tenons() {
    let mut made = 0;
    for seed in 200..280 {
        let mut lot = Lot(seed);
        let (thick, deep) = (lot.between(12.0, 60.0), lot.between(25.0, 200.0));
        let leg = (lot.between(25.0, 90.0), lot.between(thick, 100.0));
        let inset = lot.between(0.0, leg.1 - thick);
        let top = if lot.of(2) == 0 { 700.0 } else { lot.between(400.0, 690.0) };
        let mut options = Vec::new();
        if lot.of(2) == 0 {
            options.push("haunch: \"top\"".to_owned());
        }
        match lot.of(4) {
            0 => options.push("through: true".into()),
            1 => options.push(format!("depth: {}", lot.between(8.0, 60.0))),
            _ => {}
        }
        match lot.of(4) {
            0 => options.push(format!("thickness: {}", lot.between(4.0, 20.0))),
            1 => options.push(format!("width: {}", lot.between(10.0, 120.0))),
            2 => options.push(format!("shoulder: {}", lot.between(0.0, 20.0))),
            _ => {}
        }
        if lot.of(4) == 0 {
            options.push(format!("offset: {}, toward: \"back\"", lot.between(0.5, 6.0)));
        }
        let mut text = boards(
            [[0.0, 400.0], [inset, inset + thick], [top - deep, top]],
            [[400.0, 400.0 + leg.0], [0.0, leg.1], [0.0, 700.0]],
            ["x", "z"],
            &format!("mortise_tenon(a, b, #{{ {} }});", options.join(", ")),
        );
        if lot.of(3) == 0 {
            let turned = format!(
                " , turn: #{{ axis: \"y\", by: {:?}, about: [0, 0, 0] }} }});",
                lot.between(-9.0, 9.0)
            );
            text = text
                .replace(" });\nlet b", &format!("{turned}\nlet b"))
                .replace(" });\nmortise", &format!("{turned}\nmortise"));
        }
        made += usize::from(stands(&text));
    }
    assert!(made >= 45, "only {made} of 80 could be made");
}

/// Works a joint by lot: the tenon fills its mortise but for the room at its
/// bottom, to a thousandth of a mm all round. False where it was refused.
fn stands(text: &str) -> bool {
    let (job, problems) = worked("test", text, &[]);
    if problems.contains("error[") {
        let codes = ["breaks-through", "tenon-too-thick", "tenon-too-wide", "does-not-fit", "no-such-edge"];
        assert!(codes.iter().any(|c| problems.contains(c)), "{text}{problems}");
        return false;
    }
    crate::support::joints::clear_of_one_another(&job);
    // The rail keeps its drawn box and its tenon and haunch; of the mortises the
    // tenon leaves nothing but 2 mm at the bottom of each.
    let [rail, leg] = [&job.parts[0], &job.parts[1]];
    let drawn = 400.0 * rail.size.y * rail.size.z;
    let tenon = rail.solid.volume() - drawn;
    let boxes: Vec<(f64, f64)> = leg
        .cuts
        .iter()
        .map(|c| {
            let (lo, hi) = c.shape.outline.bounds().unwrap();
            ((hi - lo).element_product(), c.shape.to - c.shape.from)
        })
        .collect();
    let spare = if called(&job, 0).starts_with("through") { 0.0 } else { 2.0 };
    let held: f64 = boxes
        .iter()
        .enumerate()
        .map(|(k, (area, deep))| area * (deep - if k == 0 { spare } else { 2.0 }))
        .sum();
    near(tenon, held);
    let taken: f64 = boxes.iter().map(|(area, deep)| area * deep).sum();
    near(removed(&job, 1), taken);
    // Cheeks lie on cheeks: what touches is both sides and the ends, and no gap
    // is wider than a thousandth.
    let standing = |k: usize| rodwright::solid::Standing::new(&job.parts[k].solid, &job.parts[k].at);
    let touching: f64 = standing(0).contacts(&standing(1)).iter().map(|c| c.area).sum();
    assert!(touching > 2.0 * boxes[0].0 / 20.0, "{touching}");
    true
}

#[test]
fn tenons_that_cannot_be_made_are_said_with_figures() {
    let said =
        |options: &str| problem(&rail_and_leg(40.0, &format!("mortise_tenon(a, b, #{{ {options} }});")));
    let apart = rail_and_leg(40.0, "mortise_tenon(a, b);").replace("400.0], y: [10", "395.0], y: [10");
    let crossing = rail_and_leg(40.0, "mortise_tenon(a, b);").replace("400.0], y: [10", "430.0], y: [10");
    let thin = boards(
        [[0.0, 400.0], [0.0, 22.0], [0.0, 90.0]],
        [[400.0, 405.0], [0.0, 45.0], [-100.0, 700.0]],
        ["x", "z"],
        "mortise_tenon(a, b);",
    );
    let flush = boards(
        [[0.0, 400.0], [0.0, 22.0], [0.0, 90.0]],
        [[400.0, 445.0], [0.0, 45.0], [-100.0, 700.0]],
        ["x", "z"],
        "mortise_tenon(a, b, #{ offset: 7, toward: \"front\", thickness: 8 });",
    );
    let cases = [
        ("apart", problem(&apart)),
        ("one in the other", problem(&crossing)),
        ("thicker than the rail", said("thickness: 24")),
        ("thin shoulder", said("thickness: 20")),
        ("wider than the rail", said("width: 95")),
        ("nothing left", said("shoulder: 45")),
        ("mortise too deep", said("depth: 42")),
        ("leg too thin", problem(&thin)),
        ("out of the front", problem(&flush)),
        ("depth of a through tenon", said("through: true, depth: 30")),
        ("width and shoulder", said("width: 60, shoulder: 8")),
        ("haunch across the mortise", said("haunch: \"front\"")),
        ("haunch width without a haunch", said("haunch_width: 30")),
        ("haunch as long as the tenon", said("haunch: \"top\", haunch_depth: 29")),
        ("offset without a side", said("offset: 4")),
        ("offset too far", said("offset: 12, toward: \"front\"")),
        ("out of the top", problem(&rail_and_leg(0.0, "mortise_tenon(a, b, #{ shoulder: 0 });"))),
        ("short grain", warned(&rail_and_leg(0.0, "mortise_tenon(a, b);"))),
        (
            "tenon across the grain",
            warned(&rail_and_leg(40.0, "mortise_tenon(a, b);").replace("grain: \"x\"", "grain: \"z\"")),
        ),
        (
            "mortise in end grain",
            warned(&rail_and_leg(40.0, "mortise_tenon(a, b);").replace("grain: \"z\"", "grain: \"x\"")),
        ),
    ];
    golden(file!(), &cases);
}
