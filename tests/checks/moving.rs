//! What hangs, and what opens: pieces without hanging, doors and drawers that meet
//! something on their way.

use rodwright::problem::render_all;

use crate::support::golden::golden;
use crate::support::scripts::request;

/// All that is found in a script of ash and plywood.
fn found(body: &str) -> String {
    let text = format!(
        "job(\"Test\", #{{ unit: \"mm\" }});\nlet ash = board_stock(\"Ash\");\n\
         let ply = sheet_stock(\"Ash plywood\", #{{ thick: 18 }});\n{body}\n"
    );
    let mut done = rodwright::examine(&request("test", text));
    // Of these doors it is told where they go, not what they shut against.
    done.problems.retain(|problem| problem.code != "shuts-on-nothing");
    render_all(&done.problems, &done.sources)
}

/// The codes of what is found, in order.
fn codes(body: &str) -> Vec<String> {
    let said = found(body);
    said.split(['\n']).filter_map(|l| Some(l.split_once('[')?.1.split_once("]: ")?.0.to_owned())).collect()
}

/// A board as a piece of its own, its lower edge at `z`.
fn shelf(options: &str, z: i32, more: &str) -> String {
    format!(
        "piece(\"Shelf\"{options});\nlet shelf = board(\"Shelf\", ash, #{{ x: [0, 900], y: [0, 220], z: [{z}, {}], grain: \"x\" }});\n{more}",
        z + 40
    )
}

#[test]
fn what_floats_or_is_said_to_hang_needs_its_hanging() {
    let said = found(&shelf("", 1400, ""));
    assert!(
        said.contains(
            "warning[hung-by-nothing]: `Shelf` begins 1400 mm above the floor, and nothing hangs it"
        ),
        "{said}"
    );
    assert!(
        said.contains(
            "hang it with `hanging_cleat`, `wall_bracket` or `frame_clips`, or stand it on height 0"
        ),
        "{said}"
    );
    let said = found(&shelf(", #{ hung: true }", 0, ""));
    assert!(said.contains("`Shelf` is said to hang on the wall, and nothing hangs it"), "{said}");
    for (options, z, more) in [
        ("", 0, ""),
        ("", 1400, "wall_bracket(shelf, \"back\");"),
        ("", 1400, "frame_clips(shelf, \"back\");"),
        (", #{ hung: true }", 0, "wall_bracket(shelf, \"back\");"),
        (", #{ hung: false }", 1400, ""),
        ("", 20, ""),
        ("", 200, "levelling_feet(shelf);"),
        (", #{ hung: true }", 0, "hole(shelf, \"back\", #{ diameter: 6, along: [80, 820] });"),
        // Another piece under it, whose top it stands on.
        ("", 400, "piece(\"Below\"); board(\"Base\", ash, #{ x: [0, 900], y: [0, 220], z: [0, 400] });"),
    ] {
        assert_eq!(found(&shelf(options, z, more)), "", "{options} {z} {more}");
    }
    // A hole that stops in the wood, or that goes through from the top, fixes nothing.
    for more in ["diameter: 6, depth: 20", "diameter: 6"] {
        let side = if more.contains("depth") { "back" } else { "top" };
        let hole = format!("hole(shelf, \"{side}\", #{{ {more} }});");
        assert_eq!(codes(&shelf(", #{ hung: true }", 0, &hole)), ["hung-by-nothing"], "{hole}");
    }
}

/// A case of two sides and a bottom, with a door hung inset on the left: as thick as
/// `thick`, and `gap` short of the right side.
fn door(thick: f64, gap: f64, more: &str) -> String {
    format!(
        "piece(\"Case\");\n\
         let left = board(\"Left\", ash, #{{ x: [0, 20], y: [0, 200], z: [0, 400], grain: \"z\" }});\n\
         let right = board(\"Right\", ash, #{{ x: [220, 240], y: [0, 200], z: [0, 400], grain: \"z\" }});\n\
         let bottom = board(\"Bottom\", ash, #{{ x: [20, 220], y: [0, 200], z: [0, 20], grain: \"x\" }});\n\
         dowels(bottom, left); dowels(bottom, right);\n\
         let door = board(\"Door\", ash, #{{ x: [21, {:?}], y: [0, {thick:?}], z: [22, 398], grain: \"z\", face: \"front\" }});\n\
         butt_hinges(door, left);\n{more}",
        220.0 - gap
    )
}

#[test]
fn a_thick_door_needs_a_wider_gap_at_its_free_edge() {
    // The free edge's back corner goes round the knuckle, 2.75 before the front and
    // half the gap of 1 beside the door, on a radius of √(a² + b²): with a = 198.5 -
    // gap .. and b = thick + 2.75 it comes √(a² + b²) - a beyond the edge.
    for thick in [18.0, 26.0, 34.0] {
        let edge = |gap: f64| 220.0 - gap - 20.5;
        let beyond = |gap: f64| libm::hypot(edge(gap), thick + 2.75) - edge(gap);
        let least = beyond(1.0);
        assert_eq!(found(&door(thick, least + 0.3, "")), "", "{thick} with {least}");
        let said = found(&door(thick, least - 0.3, ""));
        assert!(
            said.contains("warning[door-catches]: `Door` meets `Right` when `Door` has opened"),
            "{thick} with {least}: {said}"
        );
    }
}

#[test]
fn what_stands_before_a_door_is_met_at_its_angle() {
    // A post 40 before the door at 140 of its 198: met when the front face comes
    // there, sin a = 40 / 140 and more.
    let post = "let post = board(\"Post\", ash, #{ x: [150, 170], y: [-80, -60], z: [0, 400], grain: \"z\" });\n\
                let foot = board(\"Foot\", ash, #{ x: [150, 170], y: [-60, 0], z: [0, 20], grain: \"y\" });\n\
                dowels(foot, post); dowels(foot, bottom);";
    let said = found(&door(18.0, 2.0, post));
    let angle: f64 = said.split("has opened ").nth(1).unwrap().split(' ').next().unwrap().parse().unwrap();
    // The nearest corner of the post to the knuckle's line stands at (149.5, 57.25)
    // from it; the door's front is 2.75 behind that line.
    let exact =
        libm::atan2(57.25, 149.5).to_degrees() - libm::asin(2.75 / libm::hypot(149.5, 57.25)).to_degrees();
    assert!((angle - exact).abs() < 8.0, "{angle}, not {exact}\n{said}");
    assert_eq!(codes(&door(18.0, 2.0, post)), ["door-catches"], "{said}");
}

/// A case with a drawer side on a runner, 13 from the left, and more.
fn drawer(more: &str) -> String {
    format!(
        "piece(\"Case\");\n\
         let left = panel(\"Left\", ply, #{{ x: [0, 18], y: [0, 480], z: [0, 400], grain: \"z\" }});\n\
         let drawer = board(\"Drawer side\", ash, #{{ x: [31, 43], y: [20, 470], z: [100, 220], grain: \"y\" }});\n\
         runners(drawer, left);\n{more}"
    )
}

#[test]
fn a_drawer_comes_out_past_open_doors_and_not_past_rails() {
    assert_eq!(found(&drawer("")), "");
    let rail = "let rail = board(\"Rail\", ash, #{ x: [18, 400], y: [0, 18], z: [200, 240], grain: \"x\" });\ndowels(rail, left);";
    let said = found(&drawer(rail));
    assert!(
        said.contains("warning[drawer-catches]: `Drawer side` meets `Rail` when it is drawn out 3 mm"),
        "{said}"
    );
    // Under the rail it comes out.
    assert_eq!(found(&drawer(&rail.replace("[200, 240]", "[230, 270]"))), "");
    // Behind an overlay door it comes out when that is open; behind an inset door,
    // which open stands 18 into the opening, it does not.
    let overlay = "let door = panel(\"Door\", ply, #{ x: [2, 398], y: [-20, -2], z: [2, 398], grain: \"z\" });\ncup_hinges(door, left);";
    assert_eq!(found(&drawer(overlay)), "");
    let inset = "let door = panel(\"Door\", ply, #{ x: [19.5, 398], y: [0, 18], z: [2, 398], grain: \"z\" });\ncup_hinges(door, left);";

    let said = found(&drawer(inset));
    assert!(said.contains("`Drawer side` meets `Door`, open, when it is drawn out"), "{said}");
}

#[test]
fn a_handle_in_the_way_is_named() {
    // The open door's front stands 23.25 from the left, its knob 25 out of that:
    // beyond the outside of the left side, along which a wing comes forward.
    let wing = "let wing = board(\"Wing\", ash, #{ x: [-18, 0], y: [-220, 200], z: [0, 400], grain: \"z\" });\n\
                screws(wing, left, #{ screw: \"4x30\" });\n";
    assert_eq!(found(&door(18.0, 2.0, wing)), "");
    let said = found(&door(18.0, 2.0, &format!("{wing}knob(door, #{{ right: 40 }});")));
    assert!(
        said.contains("warning[door-catches]: the knob of `Door` meets `Wing` when `Door` has opened"),
        "{said}"
    );
}

#[test]
fn a_door_is_looked_at_as_far_as_it_swings() {
    // Open by a quarter it stands beside the wing; opening further it comes up against
    // it when its front, 23.25 - 2.75 from the left side's outside, has turned as far
    // as the wing's end is away: at once beyond 90 degrees by little more than
    // atan(20.5 / 220).
    let wing = "let wing = board(\"Wing\", ash, #{ x: [-18, 0], y: [-220, 200], z: [0, 400], grain: \"z\" });\n\
                screws(wing, left, #{ screw: \"4x30\" });\n";
    let swings = |by: u32| {
        let text = door(18.0, 2.0, wing);
        found(
            &text.replace("butt_hinges(door, left)", &format!("butt_hinges(door, left, #{{ swing: {by} }})")),
        )
    };
    assert_eq!(swings(90), "");
    let said = swings(120);
    let angle: f64 = said.split("has opened ").nth(1).unwrap().split(' ').next().unwrap().parse().unwrap();
    assert!((90.0..108.0).contains(&angle), "{said}");
    // A post 60 before the door and 60 beside its hinge is met at 40 degrees and more.
    let post = "let post = board(\"Post\", ash, #{ x: [60, 80], y: [-80, -60], z: [0, 400], grain: \"z\" });\n\
                let foot = board(\"Foot\", ash, #{ x: [60, 80], y: [-60, 0], z: [0, 20], grain: \"y\" });\n\
                dowels(foot, post); dowels(foot, bottom);";
    let short =
        door(18.0, 2.0, post).replace("butt_hinges(door, left)", "butt_hinges(door, left, #{ swing: 30 })");
    assert_eq!(found(&short), "");
}

#[test]
fn what_hangs_by_nothing_and_what_catches_is_said_with_figures() {
    let rail = "let rail = board(\"Rail\", ash, #{ x: [18, 400], y: [0, 18], z: [200, 240], grain: \"x\" });\ndowels(rail, left);";
    let cases = [
        ("high above the floor", found(&shelf("", 1400, ""))),
        ("said to hang", found(&shelf(", #{ hung: true }", 0, ""))),
        ("door too thick for its gap", found(&door(34.0, 1.0, ""))),
        ("drawer behind a rail", found(&drawer(rail))),
    ];
    golden(file!(), &cases);
}
