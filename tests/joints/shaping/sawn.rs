//! Parts sawn to the face of a neighbour, by closed forms.

use rodwright::geometry::{DVec3, trig};

use crate::support::joints::{near, worked};
use crate::support::lot::Lot;

/// A top that slopes by `by` degrees about x = 300 at a height of 400, and a divider of
/// 18 under it from `from`, drawn `high`.
fn under(by: f64, from: f64, high: f64, gap: f64) -> String {
    format!(
        "job(\"Test\"); let ply = sheet_stock(\"Ash plywood\", #{{ thick: 18 }}); piece(\"Case\");\n\
         let top = panel(\"Top\", ply, #{{ x: [0, 600], y: [0, 300], z: [400, 418], grain: \"x\", \
         turn: #{{ axis: \"y\", by: {by:?}, about: [300, 0, 400] }} }});\n\
         let divider = panel(\"Divider\", ply, #{{ x: [{from:?}, {:?}], y: [0, 300], z: [0, {high:?}], grain: \"z\" }});\n\
         trim_to(divider, top, #{{ gap: {gap:?} }});\n",
        from + 18.0
    )
}

/// The under face of the top runs through (300, 400) and falls to the right by tan of the
/// turn. A divider reaches it at its middle on the mean height: volume is 300 × 18 × that.
/// Its blank is as long as the longer side, and a gap square to the face takes its length
/// over the cosine.
#[test]
fn ends_sawn_to_a_neighbour_follow_its_face() {
    for seed in 0..40 {
        let mut lot = Lot(seed);
        let by = lot.between(-35.0, 35.0);
        let (from, high) = (lot.between(100.0, 480.0), lot.between(250.0, 460.0));
        let gap = if seed % 3 == 0 { lot.between(1.0, 12.0) } else { 0.0 };
        let (job, problems) = worked("test", &under(by, from, high, gap), &[]);
        assert_eq!(problems, "", "seed {seed}");
        let (tan, cos) = (trig::tan(by.to_radians()), trig::sin_cos(by.to_radians()).1);
        // Turned about y, z goes towards x: the top falls to the right.
        let at = |x: f64| 400.0 - (x - 300.0) * tan - gap / cos;
        let divider = &job.parts[1];
        near(divider.solid.volume(), 300.0 * 18.0 * at(from + 9.0));
        near(divider.size.x, at(from).max(at(from + 18.0)));
        let normal = divider.solid.faces.iter().map(|f| divider.at.dir(f.plane.normal));
        let slope = DVec3::new(tan * cos, 0.0, cos);
        assert!(by.abs() < 0.1 || normal.into_iter().any(|n| n.dot(slope) > 1.0 - 1e-9), "seed {seed}");
    }
}

/// A dowel at the top of a leg enters the face that tapers farther down: the wood that is left
/// is the leg's, 50 less the hole, however slight the taper.
#[test]
fn a_taper_below_a_hole_takes_nothing_of_its_wood() {
    for by in [6, 12, 24] {
        let text = format!(
            "job(\"Test\"); let ash = board_stock(\"Ash\"); piece(\"Table\");\n\
             let leg = board(\"Leg\", ash, #{{ x: [0, 50], y: [0, 50], z: [0, 700], grain: \"z\" }});\n\
             let rail = board(\"Rail\", ash, #{{ x: [50, 500], y: [6, 36], z: [680, 700], grain: \"x\" }});\n\
             dowels(rail, leg, #{{ dowel: \"8x30\" }});\n\
             taper(leg, \"right\", #{{ by: {by}, toward: \"bottom\", start: 152 }});\n"
        );
        assert_eq!(worked("test", &text, &[]).1, "", "{by}");
    }
}
