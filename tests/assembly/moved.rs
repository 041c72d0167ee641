//! How parts are moved as a maker would move them: pressed on from inside, a frame straight onto
//! its glue, what is shut in first; what is lifted. Figures by hand from the scripts.

use rodwright::assembly::{StepKind, Watch, assembly_orders};

use super::play::{execute, is_let_in};
use super::pressing::{lines, sample, says, step};
use crate::library::made::started;
use crate::support::scripts::request;
use rodwright::solid::Standing;

/// Where a step stands whose heading begins so.
fn place(steps: &[Vec<String>], heading: &str) -> usize {
    let found = steps.iter().position(|lines| lines[0].starts_with(heading));
    found.unwrap_or_else(|| panic!("nothing begins with `{heading}`: {steps:#?}"))
}

/// The bevelled stiles of a corner case are wider behind than before, so that its frame never
/// comes in from the front; slid down 1500 mm over its glue it would wipe it off. It is glued up
/// first, the end pressed onto its stile, and the shelves come to both from behind.
#[test]
fn a_frame_is_pressed_onto_its_glue_and_not_slid_down_it() {
    let steps = sample("corner_bookcase.rhai");
    assert!(!steps.iter().any(|lines| lines[0].contains("frame down from above")), "{steps:#?}");
    let frame = place(&steps, "Glue up the frame");
    let end = place(&steps, "Glue Left end from the front to Left stile");
    let shelves = place(&steps, "Glue Bottom, 3 × Shelf and Top from the back");
    assert!(frame < end && end < shelves, "{steps:#?}");
    // One between the sides of its case still slides in from the front, over the 20 mm of its
    // stiles.
    let (job, worked) = crate::support::sets::worked("corner_bookcase", &[]);
    let (orders, _) = assembly_orders(&job, &worked);
    execute(&worked, &orders[0]);
}

/// Cleats inside the rails of a table, the ledges of a stand and the blocks in the corners of a
/// plinth are pressed on from inside; they are let in from above, where the work is open, 330 mm
/// and more off the other rail.
#[test]
fn strips_are_pressed_on_from_inside() {
    for (steps, heading) in [
        (sample("reading_table.rhai"), "Glue 2 × Cleat from inside to Front rail and Back rail"),
        (sample("readers_stool.rhai"), "Glue 2 × Cleat from inside to Front rail and Back rail"),
        (lines(started("stand", "mm")), "Fit 6 × Ledge from inside"),
        (lines(started("plinth", "mm")), "Glue 2 × Corner block from inside to Plinth front"),
    ] {
        place(&steps, heading);
    }
    let (job, worked) = crate::support::sets::worked("reading_table", &[]);
    let (orders, _) = assembly_orders(&job, &worked);
    let motions = orders[0].steps.iter().flat_map(|step| &step.motions);
    let inside: Vec<_> = motions.filter_map(|one| Some((one, one.from_inside?))).collect();
    assert_eq!(inside.len(), 2);
    let mut pressed = Vec::new();
    for (one, inside) in inside {
        assert!(inside.way.z < -0.999, "{inside:?}");
        let (part, way) = (one.adds[0], one.ways[0].unwrap());
        assert!(way.y.abs() > 0.999, "{way}");
        pressed.push(way.y > 0.0);
        for other in &one.onto {
            let other = Standing::new(&worked.parts[*other].solid, &worked.parts[*other].at);
            assert!(is_let_in(&worked, (part, way), &inside, &other));
        }
        // A hand fits between, and the rail opposite is not run into.
        assert!(inside.clear > 29.0 && inside.clear < 330.0, "{inside:?}");
    }
    pressed.sort_unstable();
    assert_eq!(pressed, [false, true]);
}

/// A top over an open frame is laid face down to be screwed; one over the top of a case is
/// screwed from within it.
#[test]
fn a_top_over_an_open_frame_is_laid_face_down() {
    let words = &["go in from below", "face down on a blanket"];
    assert!(says(step(&sample("reading_table.rhai"), "Fit Top"), words));
    assert!(says(step(&sample("readers_stool.rhai"), "Fit Seat"), words));
    let cupboard = sample("specimen_cupboard.rhai");
    let top = step(&cupboard, "Fit Top");
    assert!(says(top, &["The screws go in from below."]), "{top:#?}");
}

/// A hollow shelf is made up by itself and slid over its rail when that is on the wall: its
/// screws are behind the front edge, between top, bottom and ends, and nobody reaches them after.
#[test]
fn a_rail_that_is_shut_in_is_fixed_before() {
    let steps = lines(started("floating_shelf", "mm"));
    let screws = place(&steps, "Fit 2 × screw for the wall");
    let over =
        steps.iter().position(|lines| lines[0].starts_with("Fit ") && lines[0].contains("from the front to"));
    assert_eq!(over, Some(screws + 1), "{steps:#?}");
    assert_eq!(over, Some(steps.len() - 1), "{steps:#?}");
    assert!(!steps.iter().any(|lines| says(lines, &["prop it"])), "{steps:#?}");
    // Its spacer is glued to a skin, not put into the air between arms.
    assert!(steps.iter().any(|lines| says(lines, &["Glue Spacer up from below to Top"])), "{steps:#?}");
    let text = started("floating_shelf", "mm");
    let (job, worked) = rodwright::examine(&request("shelf", text)).worked.unwrap();
    let (orders, _) = assembly_orders(&job, &worked);
    execute(&worked, &orders[0]);
}

/// The divider of a case under a roof is pressed down on a sloping end: 24 degrees, as its top.
#[test]
fn a_clamp_on_a_sloping_end_takes_a_block() {
    let steps = lines(started("sloping_case", "mm"));
    let divider = step(&steps, "Glue Divider down from above to Bottom");
    assert!(says(divider, &["top to bottom, on blocks sawn to 24"]), "{divider:#?}");
    // A shelf with a corner cut off has a square edge left for the jaw.
    let corner = sample("corner_bookcase.rhai");
    let back = step(&corner, "Glue Right back from the back");
    assert!(says(back, &["front to back, on cauls"]), "{back:#?}");
}

/// A wall case 1200 wide and 900 high is hung when its doors are fitted, and lifted without them:
/// of 18 mm at 700 kg/m3 both weigh some 13 kg.
#[test]
fn what_is_lifted_is_told_without_its_doors() {
    let text = "job(\"C\", #{ unit: \"mm\" });\nlet ply = sheet_stock(\"Ply\", #{ thick: 18, sheet: [2440, 1220], grain: \"length\", density: 700 });\n\
                import \"wall_case\" as wall_case;\npiece(\"C\");\n\
                wall_case::make(#{ width: 1200, height: 900, shelves: 0, dividers: 1, sheet: ply });\n";
    let (job, worked) = rodwright::examine(&request("c", text.into())).worked.unwrap();
    let (orders, problems) = assembly_orders(&job, &worked);
    assert!(problems.is_empty(), "{problems:?}");
    let hung = orders[0].steps.last().unwrap();
    assert_eq!(hung.kind, StepKind::Join);
    let heavy = hung.watch.iter().find_map(|watch| match watch {
        Watch::Heavy { kg, taken_off, .. } => Some((*kg, *taken_off)),
        _ => None,
    });
    let opens: Vec<usize> = worked.joints.iter().filter(|j| j.opens.is_some()).map(|j| j.parts[0]).collect();
    let doors: f64 = (0..worked.parts.len())
        .filter(|part| opens.iter().any(|leaf| worked.moving_with(*leaf).contains(part)))
        .map(|part| worked.parts[part].solid.volume() * 700.0 / 1e9)
        .sum();
    let Some((kg, true)) = heavy else { panic!("{heavy:?} {doors}") };
    assert!(doors > 12.0 && doors < 15.0, "{doors}");
    let told = hung.together();
    let all: f64 = told
        .iter()
        .map(|part| {
            let stock = &job.stock[worked.parts[*part].stock.0];
            worked.parts[*part].solid.volume() * stock.mean_density().unwrap() / 1e9
        })
        .sum();
    assert!((all - kg) > doors - 1.0, "{all} {kg} {doors}");
}

/// A case 260 wide leaves 224 between its sides, too little for a driver and a hand: its runners
/// are screwed on before it closes. In one of 480 they wait for the finished case.
#[test]
fn runners_beyond_reach_go_on_before_the_case_closes() {
    let bank = |wide: u32| {
        lines(format!(
            "import \"drawer_bank\" as drawer_bank;\njob(\"B\", #{{ unit: \"mm\" }});\npiece(\"B\");\n\
             drawer_bank::make(#{{ width: {wide} }});\n"
        ))
    };
    let runner = |steps: &[Vec<String>]| {
        let fits = |lines: &Vec<String>| lines[0].starts_with("Fit") && lines[0].contains("Runner ");
        steps.iter().position(fits).unwrap_or_else(|| panic!("{steps:#?}"))
    };
    let glued = |steps: &[Vec<String>]| {
        let closes = |lines: &Vec<String>| lines[0].starts_with("Glue") && says(lines, &["Right side"]);
        steps.iter().rposition(closes).unwrap_or_else(|| panic!("{steps:#?}"))
    };
    let narrow = bank(260);
    assert!(runner(&narrow) < glued(&narrow), "{narrow:#?}");
    let wide = bank(480);
    assert!(runner(&wide) > glued(&wide), "{wide:#?}");
}
