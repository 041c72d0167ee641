//! Boards that slope: compound mitres against closed forms derived here.

use rodwright::geometry::trig;
use rodwright::solid::Standing;

use crate::support::joints::worked;
use crate::support::lot::Lot;
use crate::support::said::setting;

/// Two sides of a tray, square in plan, that lean out by `a` and `b` degrees.
fn tray(a: f64, b: f64, (thick, high): (f64, f64), option: &str) -> String {
    format!(
        "job(\"Tray\"); let oak = board_stock(\"Oak\"); piece(\"Tray\");\n\
         let f = board(\"Front\", oak, #{{ x: [0, 420], y: [0, {thick}], z: [0, {high}], grain: \"x\", \
         turn: #{{ axis: \"x\", by: {a}, about: [0, 0, 0] }} }});\n\
         let l = board(\"Left\", oak, #{{ x: [0, {thick}], y: [0, 280], z: [0, {high}], grain: \"y\", \
         turn: #{{ axis: \"y\", by: {}, about: [0, 0, 0] }} }});\n\
         mitre(f, l{option});\n",
        -b
    )
}

/// The figures of a text.
fn figures(text: &str) -> Vec<f64> {
    text.split(|c: char| !(c.is_ascii_digit() || c == '.')).filter_map(|w| w.parse().ok()).collect()
}

#[test]
fn saw_angles_follow_the_closed_form() {
    // Derived here: a side leaning out by t has its run along x, its width along
    // (0, -sin t, cos t) and its face square to both. The corner of a square
    // plan is mitred in the plane x = y, whose normal (1, -1, 0)/√2 has the
    // shares 1/√2 along the run, sin t/√2 along the width and cos t/√2 through
    // the face. The gauge is the angle of the first two, tan g = sin t; the
    // blade that of the third to the rest, sin b = cos t/√2. An upright side
    // gives 0° and 45°, a flat frame 45° and 0°.
    for t in [5.0, 12.5, 20.0, 33.0, 45.0] {
        let (job, problems) = worked("tray", &tray(t, t, (10.0, 60.0), ""), &[]);
        assert_eq!(problems, "");
        let found = figures(&setting(&job, 0));
        let (sin, cos) = trig::sin_cos(f64::to_radians(t));
        let gauge = trig::atan2(sin, 1.0).to_degrees();
        let b = cos / 2.0_f64.sqrt();
        let blade = trig::atan2(b, (1.0 - b * b).sqrt()).to_degrees();
        assert!((found[0] - gauge).abs() < 0.006, "{t}: {found:?} for a gauge of {gauge}");
        assert!((found[1] - blade).abs() < 0.006, "{t}: {found:?} for a blade of {blade}");
        // The corner of the top edge goes out by high sin t, so the long point
        // does: the blank is longer by that much.
        assert!((job.parts[0].size.x - 420.0 - 60.0 * sin).abs() < 1e-6, "{t}: {}", job.parts[0].size.x);
    }
}

#[test]
fn sloping_boards_by_lot_meet_and_do_not_overlap() {
    for seed in 0..24 {
        let mut lot = Lot(seed);
        let mut draw = |from: f64, to: f64| lot.between(from, to);
        let (a, b) = (draw(2.0, 50.0), draw(2.0, 50.0));
        let (thick, high) = (draw(6.0, 25.0), draw(40.0, 120.0));
        let text = tray(a, b, (thick, high), "");
        let (job, problems) = worked("tray", &text, &[]);
        assert_eq!(problems, "", "seed {seed}");
        let parts = &job.parts[..2];
        let stand = |i: usize| Standing::new(&parts[i].solid, &parts[i].at);
        let shared = stand(0).interferes(&stand(1));
        assert_eq!(shared, None, "seed {seed}");
        assert!(!stand(0).contacts(&stand(1)).is_empty(), "seed {seed}: the mitre does not close");
        for part in parts {
            let sawn = part.solid.faces.iter().filter(|f| f.from.cutter == Some(0)).count();
            assert_eq!(sawn, 1, "seed {seed}: `{}` is sawn once", part.name);
        }
    }
}

#[test]
fn connectors_and_ends_that_miss_the_corner_are_refused() {
    let (_, says) = worked("tray", &tray(20.0, 20.0, (10.0, 60.0), ", #{ connectors: 2 }"), &[]);
    assert!(says.contains("clamping connectors are let into square mitres"), "{says}");
    let far = tray(20.0, 20.0, (10.0, 60.0), "").replace("x: [0, 420]", "x: [300, 720]");
    let (_, says) = worked("tray", &far, &[]);
    assert!(says.contains("from the corner where it would be mitred"), "{says}");
}
