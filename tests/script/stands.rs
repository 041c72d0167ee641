//! Parts that stand any way: turned several times, leaning besides, along a line between
//! others, and spaces that end at faces which lean. Places by closed forms.

use rodwright::geometry::{DVec3, trig};
use rodwright::model::Part;
use rodwright::problem::render_all;
use rodwright::script::evaluate;
use rodwright::solid::{Body, Prism, Standing, carve};

use super::jobs::request;
use crate::support::assert_near;
use crate::support::lot::Lot;

/// The parts of a piece of oak and ply that must have no problem.
fn parts(text: &str) -> Vec<Part> {
    let text = format!(
        "job(\"Stand\");\nlet oak = board_stock(\"Oak\", #{{ thick: [27, 54] }});\nlet ply = sheet_stock(\"Ply\", #{{ thick: 18 }});\n\
         piece(\"Stand\");\n{text}"
    );
    let evaluated = evaluate(&request("stand", &text, &[]));
    assert_eq!(render_all(&evaluated.problems, &evaluated.sources), "");
    evaluated.job.unwrap().parts
}

/// Sine, cosine and tangent of an angle in degrees.
fn angle(degrees: f64) -> (f64, f64, f64) {
    let (sin, cos) = trig::sin_cos(degrees.to_radians());
    (sin, cos, sin / cos)
}

/// The corners of a part where it stands.
fn corners(part: &Part) -> Vec<DVec3> {
    let share = |i: u8, bit: u8| f64::from((i >> bit) & 1);
    (0..8).map(|i| part.at.point(DVec3::new(share(i, 0), share(i, 1), share(i, 2)) * part.size)).collect()
}

/// From where to where a part reaches along a direction.
fn reach(part: &Part, along: DVec3) -> (f64, f64) {
    let all = corners(part).into_iter().map(|p| p.dot(along));
    all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
}

#[track_caller]
fn near(found: DVec3, expected: DVec3) {
    assert!(found.distance(expected) < 1e-6, "{found}, not {expected}");
}

#[test]
fn between_ends_that_splay_there_is_room_as_far_as_they_are_apart_at_that_height() {
    let made = parts(
        "let left = board(\"Left\", oak, #{ x: [100, 127], y: [0, 400], z: [0, 900], grain: \"z\", splay: -8 });\n\
         let right = board(\"Right\", oak, #{ x: [1100, 1127], y: [0, 400], z: [0, 900], grain: \"z\", splay: 8 });\n\
         board(\"Seat\", oak, #{ x: between(left, right), y: [0, 400], z: [420, 447], grain: \"x\" });\n\
         board(\"Rail\", oak, #{ x: [against(left), 500], y: [0, 27], z: [100, 160], grain: \"x\" });\n\
         ",
    );
    // The middle of the end goes out by the tangent; its face stands half its thickness
    // over the cosine beside that. The seat's top is nearest.
    let (_, cos, tan) = angle(8.0);
    let face = |z: f64| 113.5 - (900.0 - z) * tan + 13.5 / cos;
    let (low, high) = reach(&made[2], DVec3::X);
    assert_near(low, face(447.0), 1e-6);
    assert_near(high, 1227.0 - face(447.0), 1e-6);
    assert_near(reach(&made[3], DVec3::X).0, face(160.0), 1e-6);
}

#[test]
fn turned_alike_two_parts_keep_the_distance_they_are_written_with() {
    let turn = "turn: #{ axis: \"x\", by: -12, about: [0, 380, 447] }";
    let made = parts(&format!(
        "let low = board(\"Low rail\", oak, #{{ x: [0, 600], y: [380, 407], z: [447, 500], grain: \"x\", {turn} }});\n\
         let top = board(\"Top rail\", oak, #{{ x: [0, 600], y: [380, 407], z: [800, 860], grain: \"x\", {turn} }});\n\
         board(\"Splat\", oak, #{{ x: [200, 320], y: [380, 407], z: between(low, top), grain: \"z\", {turn} }});\n\
         board(\"Level\", oak, #{{ x: [400, 427], y: [392, 402], z: between(low, top), grain: \"z\" }});\n"
    ));
    assert_near(made[2].size.x, 300.0, 1e-9);
    assert_near(made[2].at.x.dot(made[0].at.y).abs(), 1.0, 1e-12);
    // The low rail's top falls to the front by the tangent: its back arris, 27 along it,
    // is highest, or what of it lies over the upright one.
    let (sin, cos, tan) = angle(-12.0);
    let front = DVec3::new(0.0, 380.0 - 53.0 * sin, 447.0 + 53.0 * cos);
    let highest = [392.0, 402.0].map(|y| front.z + (y - front.y) * tan).into_iter().fold(f64::MIN, f64::max);
    assert_near(reach(&made[3], DVec3::Z).0, highest, 1e-6);
}

#[test]
fn turns_follow_one_another_about_named_places() {
    // Tipped on its back about its own bottom front edge, then a third of a turn about z.
    let made = parts(
        "board(\"One\", oak, #{ x: [100, 200], y: [50, 77], z: [0, 400], grain: \"z\",\n\
             turn: [#{ axis: \"x\", by: 90, about: \"bottom front\" }, #{ axis: \"z\", by: 120, about: [0, 0, 0] }] });\n\
         let seat = board(\"Seat\", oak, #{ x: [0, 400], y: [0, 300], z: [400, 427], grain: \"x\" });\n\
         board(\"Two\", oak, #{ x: [0, 100], y: [300, 327], z: [427, 800], grain: \"z\",\n\
             turn: [#{ axis: \"width\", by: -10, about: \"bottom\" }, #{ axis: \"length\", by: 180, about: #{ of: seat, at: \"back top\" } }] });\n\
         board(\"Three\", oak, #{ x: [0, 100], y: [0, 27], z: [0, 300], grain: \"z\", turn: #{ axis: [1, 1, 0], by: 180, about: [0, 0, 0] } });\n",
    );
    // By 90 degrees about x what stood up lies to the front: from y = 50 to -350; then all
    // is turned about z.
    let (sin, cos, _) = angle(120.0);
    let turned = |x: f64, y: f64, z: f64| DVec3::new(x * cos - y * sin, x * sin + y * cos, z);
    let found = corners(&made[0]);
    for expected in [turned(100.0, 50.0, 0.0), turned(200.0, -350.0, 27.0), turned(100.0, -350.0, 0.0)] {
        assert!(found.iter().any(|p| p.distance(expected) < 1e-6), "{expected} is not of {found:?}");
    }
    // About its own width, which runs along x, and then half a turn about its length: it
    // leans by as much still.
    assert_near(made[2].at.x.dot(DVec3::Z).abs(), angle(10.0).1, 1e-9);
    // Half a turn about the diagonal changes x for y and turns z over.
    let (low, high) = (reach(&made[3], DVec3::X), reach(&made[3], DVec3::Z));
    assert!(
        low.0.abs() < 1e-6 && (low.1 - 27.0).abs() < 1e-6 && (high.0 + 300.0).abs() < 1e-6,
        "{low:?} {high:?}"
    );
}

#[test]
fn a_leg_may_be_turned_and_lean_besides() {
    let made = parts(
        "board(\"Leg\", oak, #{ x: [500, 540], y: [0, 40], z: [0, 420], grain: \"z\",\n\
             turn: #{ axis: \"z\", by: 45, about: [520, 20, 0] }, splay: 5, rake: 4 });\n",
    );
    // Its foot goes out by the tangents, whichever way its faces look.
    let leg = &made[0];
    let way = DVec3::new(-angle(5.0).2, -angle(4.0).2, 1.0).normalize();
    assert_near(leg.at.x.dot(way).abs(), 1.0, 1e-12);
    near(
        leg.at.point(DVec3::new(if leg.at.x.z > 0.0 { 420.0 } else { 0.0 }, 20.0, 20.0)),
        DVec3::new(520.0, 20.0, 420.0),
    );
    let face = leg.at.z.with_z(0.0).normalize();
    assert!((face.x.abs() - 0.5_f64.sqrt()).abs() < 0.01, "{face}");
}

#[test]
fn a_brace_runs_along_its_line_from_face_to_face() {
    let made = parts(
        "let left = board(\"Left\", oak, #{ x: [0, 27], y: [0, 60], z: [0, 900], grain: \"z\" });\n\
         let right = board(\"Right\", oak, #{ x: [600, 627], y: [0, 60], z: [0, 900], grain: \"z\" });\n\
         board(\"Brace\", oak, #{ runs: #{ from: left, to: right, through: [300, 30, 400], toward: [3, 0, 4], wide: 50, thick: 20 } });\n\
         board(\"Rolled\", oak, #{ runs: #{ from: [27, 30, 100], to: [600, 30, 100], wide: 50, thick: 20, roll: 90 } });\n\
         panel(\"Post\", ply, #{ runs: #{ from: [100, 10, 0], to: [100, 10, 500], wide: 90 } });\n\
         board(\"Back\", oak, #{ runs: #{ from: right, to: left, through: [300, 30, 800], toward: [-1, 0, 0], wide: 50, thick: 20 } });\n",
    );
    // 573 between the faces is 955 along a line of 3 in 4; its lower corner is cut short
    // by 25 times 4/3 at either end.
    let brace = &made[2];
    assert_near(brace.size.x, 573.0 / 0.6 - 2.0 * 25.0 * 4.0 / 3.0, 1e-5);
    near(DVec3::new(brace.size.y, brace.size.z, 0.0), DVec3::new(50.0, 20.0, 0.0));
    near(brace.at.point(0.5 * brace.size), DVec3::new(313.5, 30.0, 400.0 + 13.5 * 4.0 / 3.0));
    assert_near(brace.at.x.dot(DVec3::new(0.6, 0.0, 0.8)).abs(), 1.0, 1e-12);
    // It ends at the faces, in no part of them.
    let (low, high) = reach(brace, DVec3::X);
    assert!((low - 27.0).abs() < 1e-5 && (high - 600.0).abs() < 1e-5, "{low} {high}");
    // Rolled by a quarter its width lies level.
    assert_eq!(reach(&made[3], DVec3::Z), (90.0, 110.0));
    assert_eq!(reach(&made[4], DVec3::X), (55.0, 145.0));
    assert_eq!((made[5].size.x, reach(&made[5], DVec3::X)), (573.0, (27.0, 600.0)));
}

/// A part where it stands, longer by so much at both ends.
fn standing(part: &Part, longer: f64) -> Standing {
    let more = DVec3::X * longer;
    let body = Body::Prism(Prism::cuboid(-more, part.size + more));
    Standing::new(&carve(&body, &[]).unwrap(), &part.at)
}

/// Two ends that lean and are turned by lot, and what runs between them, by its space or
/// along a line: it stands in neither, and 30 longer it must come out of both by just as
/// much. That is asked of the solids, which know nothing of how it was placed.
#[test]
fn what_is_placed_between_leaning_parts_by_lot_just_reaches_them() {
    let (mut spaces, mut lines) = (0, 0);
    for seed in 0..120 {
        let mut lot = Lot(9000 + seed);
        let mut turn = |about: &str| {
            let (x, y, z) = (lot.between(1.0, 4.0), lot.between(-4.0, 4.0), lot.between(-4.0, 4.0));
            let (one, two) = (lot.between(-9.0, 9.0), lot.between(-9.0, 9.0));
            format!(
                "turn: [#{{ axis: [{x:?}, {y:?}, {z:?}], by: {one:?}, about: \"{about}\" }}, #{{ axis: \"length\", by: {two:?}, about: \"middle\" }}]"
            )
        };
        let (left, right, own) = (turn("bottom"), turn("top back"), turn("middle"));
        let (splay, rake) = (lot.between(-9.0, 9.0), lot.between(-9.0, 9.0));
        let (low, y) = (lot.between(150.0, 400.0), lot.between(60.0, 160.0));
        let roll = lot.between(-90.0, 90.0);
        let placed = match seed % 3 {
            0 => format!(
                "x: between(left, right), y: [{y:?}, {:?}], z: [{low:?}, {:?}], grain: \"x\"",
                y + 60.0,
                low + 22.0
            ),
            // Turned itself, it is measured as it lies.
            1 => format!(
                "x: between(left, right), y: [{y:?}, {:?}], z: [{low:?}, {:?}], grain: \"x\", {}",
                y + 60.0,
                low + 22.0,
                own.replace("length", "x"),
            ),
            _ => format!(
                "runs: #{{ from: left, to: right, through: [300, 130, {low:?}], toward: [1, {:?}, {:?}], wide: 60, thick: 22, roll: {roll:?} }}",
                0.1 - 0.2 * lot.share(),
                0.3 - 0.6 * lot.share(),
            ),
        };
        let made = parts(&format!(
            "let left = board(\"Left\", oak, #{{ x: [0, 27], y: [-200, 460], z: [-200, 760], grain: \"z\", {left}, splay: {splay:?} }});\n\
             let right = board(\"Right\", oak, #{{ x: [600, 627], y: [-200, 460], z: [-200, 760], grain: \"z\", {right}, rake: {rake:?} }});\n\
             board(\"Between\", oak, #{{ {placed} }});\n"
        ));
        let between = &made[2];
        for end in &made[..2] {
            let middle = |p: &Part| p.at.point(0.5 * p.size);
            let along = between.at.x * (middle(between) - middle(end)).dot(between.at.x).signum();
            let end = standing(end, 0.0);
            assert_eq!(standing(between, 0.0).interferes(&end), None, "{seed}: {placed}");
            let by = standing(between, 30.0).way_out(&end, along);
            assert!((by - 30.0).abs() < 1e-3, "{seed}: 30 longer it comes out by {by}: {placed}");
        }
        if seed % 3 == 2 { lines += 1 } else { spaces += 1 }
    }
    assert_eq!((spaces, lines), (80, 40));
}
