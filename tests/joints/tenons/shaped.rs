//! Tenons on faces that are shaped, of edges, and at angles that cannot be chopped: by
//! closed forms, and what is said. `UPDATE=1` writes the messages anew.

use rodwright::geometry::{DVec3, trig};
use rodwright::joinery::WorkedJob;
use rodwright::solid::Standing;

use crate::support::golden::golden;
use crate::support::joints::{good, near, warned, worked};
use crate::support::said::called;

/// A job in ash with what is asked.
fn job(rest: &str) -> String {
    format!(
        "job(\"Test\", #{{ unit: \"mm\" }});\nlet ash = board_stock(\"Ash\", #{{ thick: [20, 27, 34, 54, 65] }});\n\
         piece(\"Piece\");\n{rest}\n"
    )
}

/// A leg tapered on its right by 20 over 600, and a rail that ends where its box does.
fn tapered(options: &str) -> String {
    job(&format!(
        "let leg = board(\"Leg\", ash, #{{ x: [0, 50], y: [0, 50], z: [0, 700], grain: \"z\" }});\n\
         taper(leg, \"right\", #{{ by: 20, toward: \"bottom\", start: 100 }});\n\
         let rail = board(\"Rail\", ash, #{{ x: [50, 400], y: [15, 35], z: [100, 160], grain: \"x\" }});\n\
         mortise_tenon(rail, leg, #{{ {options} }});"
    ))
}

/// A post with a recess 15 deep on its right between the heights 200 and 400, whose upper
/// end slopes over 50, and a rail between two heights that ends at `x`.
fn recessed((low, high): (f64, f64), x: f64, options: &str) -> String {
    job(&format!(
        "let post = board(\"Post\", ash, #{{ x: [0, 60], y: [0, 40], z: [0, 700], grain: \"z\" }});\n\
         outline(post, \"front\", #{{ points: [[0, 0], [700, 0], [700, 60], [450, 60], [400, 45], [200, 45], [200, 60], [0, 60]] }});\n\
         let rail = board(\"Rail\", ash, #{{ x: [{x:?}, 400], y: [10, 30], z: [{low:?}, {high:?}], grain: \"x\" }});\n\
         mortise_tenon(rail, post, #{{ {options} }});"
    ))
}

/// A board that comes with its edge to the face of a shelf, `by` degrees off square.
fn edgeways(by: f64) -> String {
    job(&format!(
        "let shelf = board(\"Shelf\", ash, #{{ x: [0, 600], y: [0, 300], z: [0, 54], grain: \"x\" }});\n\
         let back = board(\"Back\", ash, #{{ x: [100, 500], y: [140, 160], z: [54, 254], grain: \"x\", \
         turn: #{{ axis: \"x\", by: {by:?}, about: [0, 150, 54] }} }});\n\
         mortise_tenon(back, shelf);"
    ))
}

/// A seat with a corner cut off between points, and a splayed leg under that corner.
fn clipped(points: &str) -> String {
    job(&format!(
        "let seat = board(\"Seat\", ash, #{{ x: [0, 400], y: [0, 300], z: [420, 460], grain: \"x\", face: \"top\" }});\n\
         outline(seat, \"top\", #{{ points: [[100, 0], [400, 0], [400, 300], [0, 300], [0, 120], [{points}]] }});\n\
         let leg = board(\"Leg\", ash, #{{ x: [30, 70], y: [30, 70], z: [0, 420], grain: \"z\", splay: 5 }});\n\
         mortise_tenon(leg, seat);"
    ))
}

/// Messages and helps of a script, without excerpts.
fn problem(text: &str) -> String {
    let (_, problems) = worked("test", text, &[]);
    let said = problems.lines().filter(|l| l.starts_with("error") || l.contains("= help"));
    said.map(|l| l.trim_start().to_owned() + "\n").collect()
}

/// Area on which two parts touch along a direction, mm2.
fn touching(job: &WorkedJob, normal: DVec3) -> f64 {
    let stand = |i: usize| Standing::new(&job.parts[i].solid, &job.parts[i].at);
    let all = stand(1).contacts(&stand(0));
    all.iter().filter(|c| c.normal.dot(normal).abs() > 1.0 - 1e-6).map(|c| c.area).sum()
}

/// The shoulders lie on the taper, and the mortise is as deep as said along the rail.
#[test]
fn a_tenon_stands_on_the_taper_of_a_leg() {
    let job = good(&tapered("depth: 15"));
    let slope = trig::atan2(20.0, 600.0);
    let (sin, cos) = trig::sin_cos(slope);
    // A sixth of the rail is more than 6, and a third of 20 is nearest to a chisel of 6.
    let tenon = 48.0 * 6.0;
    near(touching(&job, DVec3::new(cos, 0.0, -sin)), (60.0 * 20.0 - tenon) / cos);
    let leg = 50.0 * 50.0 * 700.0 - 0.5 * 20.0 * 600.0 * 50.0;
    near(job.parts[0].solid.volume(), leg - tenon * 17.0);
    // At half its height the rail is 470 under the start of the taper.
    let long = 350.0 + 20.0 * 470.0 / 600.0;
    near(job.parts[1].solid.volume(), 1200.0 * long + tenon * 15.0);
    assert!(called(&job, 0).contains("1.91° off square"), "{}", called(&job, 0));
}

/// It goes through to the far side and ends flush there.
#[test]
fn a_through_tenon_on_a_taper_ends_flush() {
    let job = good(&tapered("through: true"));
    let tip =
        job.parts[1].solid.points.iter().map(|p| job.parts[1].at.point(*p).x).fold(f64::INFINITY, f64::min);
    near(tip, 0.0);
    let leg = 50.0 * 50.0 * 700.0 - 0.5 * 20.0 * 600.0 * 50.0;
    near(job.parts[0].solid.volume(), leg - 48.0 * 6.0 * (50.0 - 20.0 * 470.0 / 600.0));
}

/// In a recess the tenon is an ordinary one, set out from the bottom of that; on its slope
/// it leans by that.
#[test]
fn a_tenon_stands_in_a_recess_and_on_its_slope() {
    let whole = 60.0 * 40.0 * 700.0 - 15.0 * 200.0 * 40.0 - 0.5 * 15.0 * 50.0 * 40.0;
    let job = good(&recessed((260.0, 320.0), 45.0, "depth: 20"));
    near(job.parts[0].solid.volume(), whole - 48.0 * 6.0 * 22.0);
    near(touching(&job, DVec3::X), 60.0 * 20.0 - 48.0 * 6.0);
    assert!(!called(&job, 0).contains("lean"), "{}", called(&job, 0));
    let job = good(&recessed((408.0, 442.0), 50.0, "depth: 20, shoulder: 5"));
    near(job.parts[0].solid.volume(), whole - 24.0 * 6.0 * 22.0);
    assert!(called(&job, 0).contains("16.7° off square"), "{}", called(&job, 0));
}

/// A mortise along an edge leans as the board does; a tenon across the grain is warned of.
#[test]
fn an_edge_is_tenoned_at_an_angle() {
    let said = warned(&edgeways(15.0));
    assert!(said.contains("tenon-across-grain"), "{said}");
}

#[test]
fn tenons_that_cannot_be_chopped_name_what_would_do() {
    let flat = edgeways(70.0).replace("z: [54, 254]", "z: [54, 94]");
    let cases = [
        ("an edge that leans too far", problem(&edgeways(40.0))),
        ("flatter than can be sawn", problem(&flat)),
        ("out of the wood of an outline", problem(&clipped("50, 100"))),
        ("out of the wood of a hollow outline", problem(&clipped("50, 100], [40, 60"))),
        ("too deep behind a taper", problem(&tapered("depth: 40"))),
        ("a haunch on a taper", problem(&tapered("haunch: \"top\""))),
    ];
    golden(file!(), &cases);
}
