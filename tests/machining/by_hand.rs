//! Machines set for joints of two parts, worked by hand from where their cuts lie.

use std::fmt::Write as _;

use rodwright::geometry::trig;
use rodwright::machining::Machined;
use rodwright::machining::places::Distances;
use rodwright::machining::setting::{Setting, Task};
use rodwright::machining::setup::{From, SetUp, set_ups};

use crate::support::joints::{boards, shelf_and_side};
use crate::support::scripts::request;

/// The set-ups of one part of a script.
fn of_part(script: &str, part: usize) -> Vec<SetUp> {
    let (job, worked) = rodwright::examine(&request("test", script.into())).worked.unwrap();
    set_ups(&[Machined::new(&job, &worked).operations(part).to_vec()])
}

fn distances(all: &Distances) -> String {
    match all {
        Distances::Each(each) => format!("{each:?}"),
        Distances::Row { first, last, pitch } => format!("{first}..{last} by {pitch}"),
    }
}

fn places(name: &str, from: &[From]) -> String {
    let all: Vec<String> = from.iter().map(|one| distances(&one.distances)).collect();
    if all.is_empty() { String::new() } else { format!("; {name} {}", all.join(" and ")) }
}

/// `housing Channel { width: 18.0, depth: To(6.0) }; fence [382.0]`, for cuts alone.
fn lines(script: &str, part: usize) -> Vec<String> {
    let cuts = of_part(script, part).into_iter().filter_map(|setup| {
        let Task::Cut(kind) = setup.task else { return None };
        let fence = setup.fence.as_ref().map(|fence| format!("; fence {}", distances(fence)));
        let turn = &setup.turns[0];
        let (stops, stopped) = (places("stops", &turn.stops), places("stopped", &turn.stopped));
        Some(format!("{} {:?}{}{stops}{stopped}", kind.name(), setup.setting, fence.unwrap_or_default()))
    });
    cuts.collect()
}

/// A script, a part of it, and its cuts.
type Case<'c> = (String, usize, &'c [&'c str]);

#[track_caller]
fn check(cases: &[Case<'_>]) {
    let mut wrong = String::new();
    for (script, part, wanted) in cases {
        let found = lines(script, *part);
        if found != *wanted {
            let works = script.lines().last().unwrap_or_default();
            let _ = writeln!(wrong, "{works} part {part}\n  wanted {wanted:#?}\n  found {found:#?}");
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

/// A strip of 600 by 80 by 20, and one clear of it.
fn strip(works: &str) -> String {
    boards(
        [[0.0, 600.0], [0.0, 80.0], [0.0, 20.0]],
        [[0.0, 600.0], [200.0, 280.0], [0.0, 20.0]],
        ["x", "x"],
        works,
    )
}

/// The side and the front of a box 120 high, 18 and 20 thick.
fn side_and_front(works: &str) -> String {
    boards(
        [[0.0, 18.0], [0.0, 400.0], [0.0, 120.0]],
        [[0.0, 500.0], [0.0, 20.0], [0.0, 120.0]],
        ["y", "x"],
        works,
    )
}

#[test]
fn channels_and_mortises_are_set_from_their_faces() {
    let s = shelf_and_side;
    // With its face mark inwards and its edge mark in front the near end of a side to the
    // right is its top: 800 less 418.
    check(&[
        (
            s("housing(a, b, #{ depth: 6 });"),
            1,
            &["housing Channel { width: 18.0, depth: To(6.0) }; fence [382.0]"],
        ),
        (
            s("housing(a, b, #{ depth: 6, stop: 12 });"),
            1,
            &["housing Channel { width: 18.0, depth: To(6.0) }; fence [382.0]; stopped [12.0]"],
        ),
        // The middle, 409 up, is 391 under the top; 75 from either edge.
        (
            s("loose_tenons(a, b, #{ tenon: \"8x40\" });"),
            1,
            &[
                "mortise Mortise { width: 8.0, length: 40.0, depth: To(15.0) }; fence [391.0]; stops [75.0] and [75.0]",
            ],
        ),
        (
            s("loose_tenons(a, b, #{ tenon: \"8x40\" });"),
            0,
            &[
                "mortise Mortise { width: 8.0, length: 40.0, depth: To(27.0) }; fence [9.0]; stops [75.0] and [75.0]",
            ],
        ),
        // 30 and 150 from one edge and 30 from the other; in the shelf a row.
        (
            s("dowels(a, b, #{ dowel: \"8x30\", count: 3 });"),
            1,
            &[
                "dowel hole Bore { diameter: 8.0, depth: To(15.0) }; fence [30.0, 150.0]; stops [391.0]",
                "dowel hole Bore { diameter: 8.0, depth: To(15.0) }; fence [30.0]; stops [391.0]",
            ],
        ),
        (
            s("dowels(a, b, #{ dowel: \"8x30\", count: 3 });"),
            0,
            &["dowel hole Bore { diameter: 8.0, depth: To(17.0) }; fence [9.0]; stops 30..270 by 120"],
        ),
    ]);
}

#[test]
fn slopes_and_arrises_are_set_by_their_angles() {
    check(&[
        (
            strip("bevel(a, \"front\", #{ angle: 30, long: \"top\" });"),
            0,
            &["bevel Tilt { angle: 30.0, fence: Some(80.0) }"],
        ),
        (
            strip("bevel(a, \"front\", #{ angle: 45, long: \"top\" });"),
            0,
            &["bevel Tilt { angle: 45.0, fence: Some(80.0) }"],
        ),
        // More than a blade tilts: stood up, and what is wanting to a quarter.
        (strip("bevel(a, \"front\", #{ angle: 46, long: \"top\" });"), 0, &["bevel Stood { angle: 44.0 }"]),
        (
            strip("bevel(a, \"right\", #{ angle: 30, long: \"top\" });"),
            0,
            &["bevel Tilt { angle: 30.0, fence: None }"],
        ),
        (strip("bevel(a, \"right\", #{ angle: 30, long: \"back\" });"), 0, &["bevel Gauge { angle: 30.0 }"]),
        (
            strip("chamfer(a, \"top\", #{ width: 3, edges: \"front\" });"),
            0,
            &["chamfer Arris { sides: [3.0] }"],
        ),
        (
            strip("round_over(a, \"top\", #{ radius: 6, edges: \"front\" });"),
            0,
            &["round-over Round { radius: 6.0 }"],
        ),
        // 12 off over 480 of 600 is atan(0.025).
        (
            strip("taper(a, \"back\", #{ by: 12, toward: \"right\", start: 120 });"),
            0,
            &["taper TaperJig { angle: 1.4321, off: 12.0, over: 480.0 }"],
        ),
    ]);
}

#[test]
fn sockets_of_a_corner_are_set_by_width_and_depth() {
    check(&[
        (
            side_and_front("finger_joint(a, b, #{ width: 20 });"),
            0,
            &["finger socket Finger { width: 20.0, depth: 20.0 }"],
        ),
        (
            side_and_front("finger_joint(a, b, #{ width: 20 });"),
            1,
            &[
                "finger socket Finger { width: 10.0, depth: 18.0 }",
                "finger socket Finger { width: 20.0, depth: 18.0 }",
            ],
        ),
        // Pins of 9, one in seven over 20.
        (
            side_and_front("dovetails(a, b, #{ count: 3, pin: 9, half_pin: 9 });"),
            0,
            &["pin socket Flared { narrow: 9.0, ratio: 7.0, depth: 20.0 }"],
        ),
        // Tails of 28 less twice a seventh of 20.
        (
            side_and_front("dovetails(a, b, #{ count: 3, pin: 9, half_pin: 9 });"),
            1,
            &["tail socket Flared { narrow: 22.2857, ratio: 7.0, depth: 18.0 }"],
        ),
    ]);
}

#[test]
fn parts_beyond_a_fence_or_stop_are_sawn_along_a_guide() {
    let tasks = |long: f64, wide: f64| {
        let text = boards(
            [[0.0, long], [0.0, wide], [0.0, 20.0]],
            [[0.0, 600.0], [0.0, 80.0], [100.0, 120.0]],
            ["x", "x"],
            "",
        );
        of_part(&text, 0).iter().map(|setup| setup.task).collect::<Vec<_>>()
    };
    // A fence reaches 900, a stop 2400; wider than 800 no part is pushed past a blade.
    assert_eq!(tasks(600.0, 800.0), [Task::Rip, Task::Crosscut]);
    assert_eq!(tasks(600.0, 800.1), [Task::Rip, Task::SquareEnd]);
    assert_eq!(tasks(600.0, 900.0), [Task::Rip, Task::SquareEnd]);
    assert_eq!(tasks(600.0, 900.1), [Task::Straighten, Task::SquareEnd]);
    assert_eq!(tasks(2400.0, 80.0), [Task::Rip, Task::Crosscut]);
    assert_eq!(tasks(2400.1, 80.0), [Task::Rip, Task::SquareEnd]);
}

/// The mitres of sides that lean, along the grain, against the published formulas: D. L.
/// Snyder and B. Gottesman, "Compound-Angle Joinery" (2015). For n sides that lean `t` from
/// upright, off the edge arctan(sin t tan(180/n)), the blade arcsin(cos t sin(180/n)). What
/// is over 45 degrees is sawn on the edge: the same plane with width and thickness changed.
#[test]
fn mitres_of_leaning_sides_are_sawn_in_a_jig_by_the_published_angles() {
    for (n, t) in [(3, 6.0), (4, 3.0), (5, 12.0), (6, 6.0), (8, 4.0), (12, 15.0)] {
        let script = format!(
            "job(\"Stand\", #{{ unit: \"mm\" }});\nimport \"stand\" as stand;\npiece(\"Stand\");\n\
             let made = stand::make(#{{ sides: {n}, lean: {t}, across: 420 }});"
        );
        let (half, lean) = (std::f64::consts::PI / f64::from(n), f64::to_radians(t));
        let asin = |sine: f64| trig::atan2(sine, (1.0 - sine * sine).sqrt());
        let (sin, cos) = trig::sin_cos(lean);
        let edge = trig::atan2(sin * trig::tan(half), 1.0);
        let blade = asin(cos * trig::sin_cos(half).0);
        let stood = blade.to_degrees() > 45.0;
        let wanted = if stood {
            // Across the thickness for so much along, and the rest of a unit vector.
            let ((up, flat), (x, y)) = (trig::sin_cos(blade), trig::sin_cos(edge));
            [trig::atan2(flat * x, up), asin(flat * y)]
        } else {
            [edge, blade]
        }
        .map(f64::to_degrees);
        let found = of_part(&script, 0).into_iter().find_map(|setup| match setup.setting {
            Setting::RakedEdge { angle, off, over, blade, on_edge } => {
                Some((angle, off, over, blade, on_edge))
            }
            _ => None,
        });
        let (angle, off, over, blade, on_edge) =
            found.unwrap_or_else(|| panic!("no raked edge of {n} at {t}"));
        assert_eq!(on_edge, stood, "{n} sides at {t}");
        assert!(
            (angle - wanted[0]).abs() < 0.01 && (blade - wanted[1]).abs() < 0.01,
            "{n}: {angle} {blade} {wanted:?}"
        );
        assert!((off - over * trig::tan(wanted[0].to_radians())).abs() < 0.1, "{n}: {off} over {over}");
    }
}

/// A door of 400 by 600 lipped all round by 6 is lipped before it is bored: its cups stand 5 and
/// half of 35 from the finished edge, as it covers 18 of its side, their middles 94 from either
/// end, and each runs 1 on into the lipping, whose strip is plain till then.
#[test]
fn a_lipped_door_is_bored_from_its_finished_edges() {
    let script = r#"
job("Door", #{ unit: "mm" });
let ply = sheet_stock("Ply", #{ thick: 18, sheet: [2440, 1220], grain: "length" });
let oak = board_stock("Oak", #{ thick: [27] });
piece("Door");
let door = panel("Door", ply, #{ x: [6, 394], y: [-20, -2], z: [6, 594], grain: "z", face: "front" });
let side = panel("Side", ply, #{ x: [0, 18], y: [0, 300], z: [0, 600], grain: "z" });
lipping(door, ["left", "right", "top", "bottom"], oak, #{ thick: 6 });
cup_hinges(door, side, #{ count: 2, from_end: 94 });
"#;
    let (job, worked) = rodwright::examine(&request("test", script.into())).worked.unwrap();
    let machined = Machined::new(&job, &worked);
    let cups: Vec<String> =
        lines(script, 0).into_iter().filter(|line| line.starts_with("hinge cup")).collect();
    assert_eq!(
        cups,
        ["hinge cup Bore { diameter: 35.0, depth: To(13.0) }; fence [22.5]; stops [94.0] and [94.0]"]
    );
    let cut =
        |part: usize| worked.parts[part].cuts.iter().filter(|cut| cut.kind.name() == "hinge cup").count();
    let lips: Vec<usize> = (2..worked.parts.len()).filter(|part| cut(*part) > 0).collect();
    let [lip] = lips.as_slice() else { panic!("{lips:?}") };
    assert_eq!(cut(*lip), 2);
    let strip = machined.on_the_bench(*lip).unwrap();
    assert!(strip.cuts.iter().all(|cut| cut.kind.name() == "mitre"));
    let gone = strip.solid.volume() - worked.parts[*lip].solid.volume();
    // Two segments of a circle 1 high on a chord of 11.66, of facets a little less than
    // 7.76 each (two thirds of chord times height: 7.78), 13 deep.
    assert!(gone > 0.9 * 26.0 * 7.76 && gone < 26.0 * 7.76, "{gone}");
}
