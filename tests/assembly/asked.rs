//! What the script asks of the order, and awkward pieces: each has an order, or is refused
//! for the right reason. `UPDATE=1` writes the messages anew.

use std::sync::Arc;

use rodwright::assembly::{Order, Step, StepKind, Watch, assembly_orders};
use rodwright::cutting::coats;
use rodwright::joinery::WorkedJob;
use rodwright::measure::Unit;
use rodwright::model::Job;
use rodwright::problem::render_all;
use rodwright::script::{Limits, NoModules, Request};
use rodwright::wording::Words;
use rodwright::wording::assembly::Telling;

use super::order::carcase;
use super::play::execute;
use crate::library::made::started;
use crate::support::assert_near;
use crate::support::golden::golden;

/// Two stiles and two rails, tenoned, and what is asked besides.
pub(super) fn frame(more: &str) -> String {
    format!(
        "job(\"Test\", #{{ unit: \"mm\" }});\nlet pine = board_stock(\"Pine\", #{{ thick: [27, 34], species: \"ponderosa pine\" }});\n\
         piece(\"Frame\");\n\
         let left = board(\"Left\", pine, #{{ x: [0, 60], y: [0, 22], z: [0, 600], grain: \"z\" }});\n\
         let right = board(\"Right\", pine, #{{ x: [340, 400], y: [0, 22], z: [0, 600], grain: \"z\" }});\n\
         let top = board(\"Top\", pine, #{{ x: between(left, right), y: [0, 22], z: [540, 600], grain: \"x\" }});\n\
         let foot = board(\"Foot\", pine, #{{ x: between(left, right), y: [0, 22], z: [0, 60], grain: \"x\" }});\n\
         for stile in [left, right] {{ mortise_tenon(top, stile, #{{ haunch: \"top\" }}); mortise_tenon(foot, stile, #{{ haunch: \"bottom\" }}); }}\n{more}\n"
    )
}

/// A frame butted round a panel in grooves, and what is asked besides.
pub(super) fn butted(more: &str) -> String {
    let text = frame(&format!(
        "let field = board(\"Field\", pine, #{{ x: between(left, right), y: [8, 14], z: between(foot, top), grain: \"z\" }});\n\
         for member in [left, right, top, foot] {{ groove(field, member, #{{ depth: 8, slack: 2 }}); }}\n{more}"
    ));
    let (head, rest) = text.split_once("for stile in").unwrap();
    let (_, rest) = rest.split_once('\n').unwrap();
    format!("{head}for stile in [left, right] {{ butt(top, stile); butt(foot, stile); }}\n{rest}")
}

/// A box with a block in it that no side is open for once it is whole.
pub(super) fn boxed(more: &str) -> String {
    format!(
        "job(\"Test\", #{{ unit: \"mm\" }});\nlet pine = board_stock(\"Pine\", #{{ thick: [27, 80] }});\nlet ply = sheet_stock(\"Birch plywood\", #{{ thick: 20 }});\npiece(\"Box\");\n\
         let left = panel(\"Left\", ply, #{{ x: [0, 20], y: [20, 180], z: [20, 180], grain: \"y\" }});\n\
         let right = panel(\"Right\", ply, #{{ x: [280, 300], y: [20, 180], z: [20, 180], grain: \"y\" }});\n\
         let front = panel(\"Front\", ply, #{{ x: [0, 300], y: [0, 20], z: [20, 180], grain: \"x\" }});\n\
         let back = panel(\"Back\", ply, #{{ x: [0, 300], y: [180, 200], z: [20, 180], grain: \"x\" }});\n\
         let foot = panel(\"Foot\", ply, #{{ x: [0, 300], y: [0, 200], z: [0, 20], grain: \"x\" }});\n\
         let lid = panel(\"Lid\", ply, #{{ x: [0, 300], y: [0, 200], z: [180, 200], grain: \"x\" }});\n\
         let block = board(\"Block\", pine, #{{ x: [40, 260], y: [40, 160], z: [20, 90], grain: \"x\" }});\n\
         for side in [left, right] {{ butt(front, side); butt(back, side); }}\n\
         for side in [left, right, front, back] {{ butt(foot, side); butt(lid, side); }}\nscrews(foot, block, #{{ screw: \"4x45\" }});\n{more}\n"
    )
}

/// A drawer on runners in an open case, its show front screwed on.
pub(super) const DRAWER: &str = "job(\"Test\", #{ unit: \"mm\" });\nlet ply = sheet_stock(\"Birch plywood\", #{ thick: 18 });\n\
    let oak = board_stock(\"Oak\", #{ thick: [27], species: \"white oak\" });\npiece(\"Drawers\");\n\
    let left = panel(\"Left\", ply, #{ x: [0, 18], y: [0, 400], z: [0, 400], grain: \"z\" });\n\
    let right = panel(\"Right\", ply, #{ x: [482, 500], y: [0, 400], z: [0, 400], grain: \"z\" });\n\
    let bottom = panel(\"Bottom\", ply, #{ x: between(left, right), y: [0, 400], z: [0, 18], grain: \"x\" });\n\
    for side in [left, right] { loose_tenons(bottom, side, #{ tenon: \"8x40\", count: 3 }); }\n\
    let a = board(\"Drawer left\", oak, #{ x: [30.7, 42.7], y: [0, 380], z: [200, 320], grain: \"y\" });\n\
    let b = board(\"Drawer right\", oak, #{ x: [457.3, 469.3], y: [0, 380], z: [200, 320], grain: \"y\" });\n\
    let c = board(\"Drawer front\", oak, #{ x: between(a, b), y: [0, 20], z: [200, 320], grain: \"x\" });\n\
    let d = board(\"Drawer back\", oak, #{ x: between(a, b), y: [360, 380], z: [200, 320], grain: \"x\" });\n\
    for end in [c, d] { for side in [a, b] { dowels(end, side, #{ count: 2 }); } }\n\
    runners(a, left, #{ long: 350 });\nrunners(b, right, #{ long: 350 });\n\
    let show = board(\"Show front\", oak, #{ x: [2, 498], y: [-20, 0], z: [190, 330], grain: \"x\" });\n\
    screws(c, show, #{ screw: \"4x30\", count: 4 });\n";

/// The order of a script as it is told, and what is said of it.
pub(super) fn told(text: &str) -> String {
    let examined = rodwright::examine(&Request {
        name: "asked.rhai".into(),
        text: text.into(),
        settings: Vec::new(),
        loader: Arc::new(NoModules),
        words: rodwright::words(),
        limits: Limits::default(),
    });
    let mut problems = examined.problems;
    let mut said = String::new();
    if let Some((job, worked)) = examined.worked {
        let (orders, found) = assembly_orders(&job, &worked);
        problems.extend(found);
        said = orders.iter().map(|order| steps(&job, &worked, order)).collect();
    }
    let found = render_all(&problems, &examined.sources);
    said + found.as_str()
}

/// The headings of the steps of an order.
fn steps(job: &Job, worked: &WorkedJob, order: &Order) -> String {
    let telling = Telling { job, worked, words: Words::of(Unit::Mm) };
    let lines = order.steps.iter().enumerate();
    let lines: Vec<String> = lines.map(|(i, step)| format!("{} {}\n", i + 1, telling.title(step))).collect();
    lines.concat()
}

#[test]
fn what_is_asked_is_kept_or_refused() {
    let cases = [
        ("a frame", frame("")),
        ("a half of it by itself", frame("subassembly(\"Half\", [left, top]);")),
        ("the foot before the top", frame("before(foot, top);")),
        ("the top before the foot", frame("before(top, foot);")),
        ("a unit that cannot go in whole", frame("subassembly(\"Both stiles\", [left, right]);")),
        ("the stiles before the rails", frame("before([left, right], [top, foot]);")),
        ("the frame before its panel", butted("before([left, right, top, foot], field);")),
        (
            "twice the same",
            butted("before([left, right, top, foot], field);\nbefore([top, foot, left, right], field);"),
        ),
        ("round and round", frame("before(top, foot);\nbefore(foot, top);")),
        ("round in three", frame("before(top, foot);\nbefore(foot, left);\nbefore(left, top);")),
        ("before itself", frame("before(top, [foot, top]);")),
        ("a drawer with a show front", DRAWER.to_owned()),
        ("a unit of one", frame("subassembly(\"One\", [left]);")),
        ("a unit of what is nowhere", frame("subassembly(\"Half\", [left, middle]);")),
        ("a unit of a name", frame("subassembly(\"Half\", [left, \"Top\"]);")),
        (
            "a unit of two pieces",
            frame(
                "piece(\"Other\");\nlet peg = board(\"Peg\", pine, #{ x: [0, 20], y: [0, 20], z: [0, 90] });\nsubassembly(\"Both\", [left, peg]);",
            ),
        ),
        (
            "before what is in another piece",
            frame(
                "piece(\"Other\");\nlet peg = board(\"Peg\", pine, #{ x: [0, 20], y: [0, 20], z: [0, 90] });\nbefore(left, peg);",
            ),
        ),
        ("a block shut in a box", boxed("")),
        ("the lid before the block", boxed("before(lid, block);")),
        ("the block after the box", boxed("subassembly(\"Box\", [left, right, front, back, foot, lid]);")),
        ("a show front before its drawer", format!("{DRAWER}before(show, [a, b, c, d]);")),
        ("a drawer before its case", format!("{DRAWER}before([a, b, c, d], [left, right]);")),
        ("glue that is open for one corner", frame("glue(\"Quick glue\", #{ open: 4 });")),
        ("two glues", frame("glue(\"White glue\");\nglue(\"Hide glue\", #{ open: 2 });")),
        ("a glue that sets before it is spread", frame("glue(\"Hide glue\", #{ open: 0 });")),
    ];
    let found: Vec<(&str, String)> = cases.iter().map(|(name, text)| (*name, told(text))).collect();
    golden(file!(), &found);
}

/// A wall of shelves is glued in as many goes as the glue asks for: none takes longer than
/// it stays open, but for the side that closes all at once, which says so.
#[test]
fn what_the_glue_does_not_wait_for_is_glued_in_stages() {
    let (mut job, worked) = carcase(14, 900.0, true, false);
    job.order.glue.open = Some(7.0);
    let (orders, problems) = assembly_orders(&job, &worked);
    assert!(problems.is_empty(), "{problems:?}");
    execute(&worked, &orders[0]);
    let glued: Vec<&Step> = orders[0].steps.iter().filter(|step| step.glued).collect();
    // Five joints in 5 + 2 minutes: 14 shelves into one side in three goes.
    assert!(glued.len() > 2, "{}", glued.len());
    for step in &glued {
        let clamping = step.clamping.as_ref().unwrap();
        let alone = step.motions.len() == 1;
        assert!(clamping.takes <= 7.0 || alone, "{clamping:?}");
        assert_eq!(clamping.takes > 7.0, step.watch.contains(&Watch::TooLong));
    }
    assert!(
        glued
            .iter()
            .filter(|step| step.watch.iter().any(|watch| matches!(watch, Watch::Staged { .. })))
            .count()
            >= 2
    );
    // With time enough it is one glue-up.
    job.order.glue.open = Some(60.0);
    let (orders, _) = assembly_orders(&job, &worked);
    assert_eq!(orders[0].steps.iter().filter(|step| step.glued).count(), 1);
}

/// Faces are measured without the walls of mortises: a stile of 600 × 60 × 22 with a mortise
/// in its edge at each end.
#[test]
fn what_is_finished_of_a_part_is_its_outside() {
    let done = rodwright::examine(&crate::support::scripts::request("frame", frame("finish(\"Oil\");")));
    let (job, worked) = done.worked.unwrap();
    let found = coats(&job, &worked)[0].unwrap();
    assert_near(found.faces[0], 600.0 * 60.0, 1.0);
    assert_near(found.faces[1], 600.0 * 60.0, 1.0);
    let edges = 2.0 * 600.0 * 22.0 + 2.0 * 60.0 * 22.0;
    let mortises = edges - found.faces[2];
    // Two mortises open in its edge, where the shoulders of the rails round them are masked;
    // and their haunches leave its ends open by 10 × 8.
    assert!(mortises > 400.0 && mortises < 2.0 * 60.0 * 22.0, "{mortises}");
    assert_near(found.masked + mortises, 2.0 * 60.0 * 22.0 + 2.0 * 10.0 * 8.0, 1.0);
}

/// What a box shuts in is finished before; a frame and a case that is open in front are not
/// shut.
#[test]
fn the_inside_of_what_is_shut_is_finished_first() {
    let hidden = |text: String| {
        let done = rodwright::examine(&crate::support::scripts::request("shut", text));
        let (job, worked) = done.worked.unwrap();
        let (orders, _) = assembly_orders(&job, &worked);
        let steps: Vec<Step> = orders.into_iter().flat_map(|order| order.steps).collect();
        steps
            .iter()
            .filter(|step| step.watch.iter().any(|one| matches!(one, Watch::FinishHidden { .. })))
            .count()
    };
    let glued = boxed("finish(\"Oil\");");
    assert_eq!(hidden(glued.clone()), 1);
    assert_eq!(hidden(frame("finish(\"Oil\");")), 0);
    // Without its lid a hand goes in.
    let open = glued.lines().filter(|line| !line.starts_with("let lid")).collect::<Vec<&str>>().join("\n");
    assert_eq!(hidden(open.replace("butt(lid, side); ", "")), 0);
}

/// What hangs is finished before its cleat, its doors and knobs go on, and before it goes to the
/// wall; a frame, before its glass and not once more; what stands free and takes nothing at the end, last.
#[test]
fn the_rest_is_finished_before_what_is_fitted_last() {
    let orders = |text: String| {
        let done = rodwright::examine(&crate::support::scripts::request("rest", text));
        let (job, worked) = done.worked.unwrap();
        assembly_orders(&job, &worked).0.remove(0).steps
    };
    let rests = |steps: &[Step]| {
        let bare = |step: &&Step| step.watch.contains(&Watch::FinishRest);
        (steps.iter().position(|step| bare(&step)), steps.iter().filter(bare).count())
    };
    let hung = orders(started("wall_case", "mm"));
    let (at, count) = rests(&hung);
    let fits = hung.iter().rposition(|step| step.glued).unwrap() + 1;
    assert_eq!((at, count), (Some(fits), 1));
    assert!(fits < hung.iter().position(|step| step.kind == StepKind::Fit).unwrap());
    assert!(hung[fits + 1..].iter().all(|step| !step.glued));
    assert_eq!(rests(&orders(started("frame", "mm"))).1, 0);
    assert_eq!(rests(&orders(frame("finish(\"Oil\");"))).1, 0);
}
