//! The order of assembly: executed step by step, nothing runs into anything.

use proptest::prelude::*;
use rodwright::assembly::{Step, StepKind, Watch, assembly_orders, clamps_for};
use rodwright::geometry::DVec3;
use rodwright::joinery::{Cut, Stage, WorkedJob};
use rodwright::measure::Unit;
use rodwright::model::{Before, Job, PartId};
use rodwright::wording::Words;
use rodwright::wording::assembly::Telling;

use super::play::{both_ends_at_once, execute, units_by_themselves};
use crate::support::assert_near;
use crate::support::golden::{golden, without_places};
use crate::support::pieces::{Bench, cabinet, frame, origin};
use crate::support::scripts::request;

/// How a step is told.
fn told(job: &Job, worked: &WorkedJob, step: &Step) -> String {
    Telling { job, worked, words: Words::of(Unit::Mm) }.title(step)
}

/// Of a pair of glazed doors in one piece the first is glazed before the second is glued
/// up, so that its rebates must not wait for those of the other.
#[test]
fn each_of_a_pair_is_rebated_before_its_glass_goes_in() {
    let text = "import \"door\" as door;\njob(\"Doors\");\npiece(\"Doors\");\n\
                door::make(#{ width: 900, height: 620, style: \"glazed\", pair: true });\n";
    let (job, worked) = rodwright::examine(&request("doors", text.to_owned())).worked.unwrap();
    let (orders, problems) = assembly_orders(&job, &worked);
    assert!(problems.is_empty(), "{problems:?}");
    let mut cut: Vec<usize> = Vec::new();
    let mut closed = 0;
    for step in &orders[0].steps {
        if step.kind == StepKind::Cut {
            cut.extend(&step.works);
        }
        for joint in &step.joints {
            let waits = |c: &Cut| c.joint == Some(*joint) && c.stage == Stage::AfterGlueUp;
            let parts = worked.joints[*joint].parts.iter();
            for part in parts.filter(|part| worked.parts[**part].cuts.iter().any(waits)) {
                closed += 1;
                assert!(cut.contains(part), "`{}` is not rebated yet", worked.parts[*part].name);
            }
        }
    }
    // Four parts of either frame.
    assert_eq!(closed, 8);
}

#[test]
fn the_cabinet_goes_together_back_before_top() {
    let (job, worked) = cabinet();
    let (orders, problems) = assembly_orders(&job, &worked);
    assert!(problems.is_empty(), "{problems:?}");
    execute(&worked, &orders[0]);
    // Pythagoras on the outside: 900 × 420.
    let last = orders[0].steps.iter().rev().find_map(|step| step.check).unwrap();
    assert_near(last.diagonals[0], 993.177_2, 1e-3);
    assert_near(last.diagonals[1], 993.177_2, 1e-3);
}

#[test]
fn a_mitred_frame_closes_all_corners_at_once() {
    // Each corner only opens square to its mitre, so no single member of the frame can go
    // in last; all four can, each straight in from its own side.
    let (job, worked) = frame();
    let (orders, problems) = assembly_orders(&job, &worked);
    assert!(problems.is_empty(), "{problems:?}");
    let steps = &orders[0].steps;
    execute(&worked, &orders[0]);
    let glued: Vec<&Step> = steps.iter().filter(|step| step.glued).collect();
    let [ring] = glued.as_slice() else { panic!("{} glue-ups", glued.len()) };
    assert_eq!(ring.round.len(), 4);
    for joint in ring.joints.iter().map(|j| &worked.joints[*j]) {
        let of = |part: usize| ring.round.iter().find(|(p, _)| *p == part).unwrap().1;
        let relative = (of(joint.parts[1]) - of(joint.parts[0])).normalize();
        assert!(joint.ways_in[0].dot(relative).abs() > 1.0 - 1e-6, "{relative} {:?}", joint.ways_in);
    }
    let place = |kind: StepKind| steps.iter().position(|step| step.kind == kind).unwrap();
    let adds = |part: usize| steps.iter().position(|step| step.adds().any(|p| p == part)).unwrap();
    let order = [0, place(StepKind::Cut), place(StepKind::Finish), adds(4), adds(5)];
    assert!(order.windows(2).all(|w| w[0] < w[1]), "glue, rebate, finish, glass, backing: {order:?}");
    let check = ring.check.unwrap();
    assert_near(check.diagonals[0], (487.0_f64 * 487.0 + 661.0 * 661.0).sqrt(), 1e-6);
}

#[test]
fn parts_that_lock_one_another_are_named() {
    // Three boards, each of which may only come to the next along another axis.
    let mut b = Bench::new("Lock", "Lock");
    let one = b.part("First", 0, [[0.0, 18.0], [0.0, 100.0], [0.0, 100.0]], 2);
    let two = b.part("Second", 0, [[18.0, 36.0], [0.0, 100.0], [0.0, 100.0]], 2);
    let three = b.part("Third", 0, [[36.0, 54.0], [0.0, 100.0], [0.0, 100.0]], 2);
    for (first, second, way) in [(one, two, DVec3::X), (two, three, DVec3::Y), (three, one, DVec3::Z)] {
        let joint = b.joint("loose_tenons", first, second, &[way], true);
        b.inserts(joint, "loose tenon 8 × 40", &[[18.0, 50.0, 50.0]]);
    }
    let (job, worked) = b.done();
    let (orders, problems) = assembly_orders(&job, &worked);
    assert!(orders.is_empty());
    // A key that slides in from the right along a base, and a stop set down behind it: the
    // stop cannot be there first.
    let mut b = Bench::new("Key", "Key");
    let base = b.part("Base", 0, [[0.0, 200.0], [0.0, 100.0], [0.0, 20.0]], 0);
    let key = b.part("Key", 0, [[20.0, 100.0], [0.0, 100.0], [20.0, 40.0]], 0);
    let stop = b.part("Stop", 0, [[100.0, 120.0], [0.0, 100.0], [20.0, 60.0]], 1);
    for (second, way, at) in
        [(key, DVec3::NEG_X, [60.0, 50.0, 20.0]), (stop, DVec3::NEG_Z, [110.0, 50.0, 20.0])]
    {
        let joint = b.joint("loose_tenons", base, second, &[way], true);
        b.inserts(joint, "loose tenon 8 × 40", &[at]);
    }
    let before = Before { first: vec![PartId(stop)], then: vec![PartId(key)], origin: origin() };
    b.job.order.before = vec![before.clone()];
    let (key_job, key_worked) = b.done();
    let (_, once) = assembly_orders(&key_job, &key_worked);
    let mut twice_job = key_job.clone();
    twice_job.order.before.push(before);
    let (_, twice) = assembly_orders(&twice_job, &key_worked);
    let (job, worked) = cabinet();
    let (orders, _) = assembly_orders(&job, &worked);
    let told: Vec<String> = orders[0].steps.iter().map(|step| told(&job, &worked, step)).collect();
    golden(
        file!(),
        &[
            ("three boards", without_places(&problems)),
            ("a stop before its key", without_places(&once)),
            ("the same twice", without_places(&twice)),
            ("the cabinet", told.join("\n")),
        ],
    );
}

/// A carcase with shelves housed or tenoned between two sides, and a back.
pub(crate) fn carcase(shelves: usize, width: f64, tenoned: bool, back: bool) -> (Job, WorkedJob) {
    let (h, d, t) = (900.0_f64.max(25.0 * shelves as f64 + 80.0), 300.0, 18.0);
    let mut b = Bench::new("Carcase", "Carcase");
    let left = b.part("Left", 0, [[0.0, t], [0.0, d], [0.0, h]], 2);
    let right = b.part("Right", 0, [[width - t, width], [0.0, d], [0.0, h]], 2);
    for i in 0..shelves {
        let z = 40.0 + (h - 80.0) * i as f64 / shelves as f64;
        let reach = if tenoned { t } else { t - 6.0 };
        let name = format!("Shelf {i}");
        let shelf = b.part(&name, 0, [[reach, width - reach], [0.0, d - 6.0], [z, z + t]], 0);
        for (side, x) in [(left, [t - 6.0, t + 1.0]), (right, [width - t - 1.0, width - t + 6.0])] {
            let ways = if side == left { [DVec3::NEG_X] } else { [DVec3::X] };
            let ways: &[DVec3] = if tenoned { &ways } else { &[] };
            let joint = b.joint("housing", side, shelf, ways, true);
            if tenoned {
                b.inserts(joint, "loose tenon 8 × 40", &[[x[0], d / 2.0, z + t / 2.0]]);
            } else {
                let channel = crate::support::pieces::cuboid(x, [-1.0, d + 1.0], [z, z + t]);
                b.cut(side, rodwright::joinery::CutKind::Housing, channel, Some(joint), Stage::Loose);
            }
        }
    }
    if back {
        let panel = b.part("Back", 1, [[0.0, width], [d, d + 6.0], [0.0, h]], 2);
        b.joint("screws", panel, left, &[], false);
        b.joint("screws", panel, right, &[], false);
    }
    b.done()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]
    #[test]
    fn random_carcases_go_together(
        shelves in 1_usize..7,
        width in 300.0..1500.0_f64,
        tenoned in any::<bool>(),
        back in any::<bool>(),
    ) {
        let (job, worked) = carcase(shelves, width, tenoned, back);
        let (orders, problems) = assembly_orders(&job, &worked);
        prop_assert!(problems.is_empty(), "{:?}", problems);
        execute(&worked, &orders[0]);
        if back {
            let last = orders[0].steps.last().unwrap();
            prop_assert!(last.adds().any(|part| part == worked.parts.len() - 1), "the back goes on last");
        }
    }
}

#[test]
fn a_rebated_back_is_laid_in_from_behind() {
    // It would slide down from above too, but the trade lays it in (common
    // practice, no source).
    let (job, worked) = crate::support::sets::worked("low_bookcase", &[]);
    let (orders, problems) = assembly_orders(&job, &worked);
    assert!(problems.is_empty(), "{problems:?}");
    let back = worked.parts.iter().position(|part| part.name == "Back").unwrap();
    let motions = orders[0].steps.iter().flat_map(Step::all_motions);
    let motion = motions.filter(|one| one.adds.contains(&back)).last().unwrap();
    let place = motion.adds.iter().position(|part| *part == back).unwrap();
    assert_eq!(motion.ways[place], Some(DVec3::NEG_Y));
}

/// A piece on a cleat is screwed to its strip in the shop, and hung on the strip of
/// the wall last of all (common practice, no source).
#[test]
fn what_hangs_on_a_cleat_is_hung_last() {
    for script in ["periodicals_cabinet", "window_wall"] {
        let (job, worked) = crate::support::sets::worked(script, &[]);
        let (orders, problems) = assembly_orders(&job, &worked);
        assert!(problems.is_empty(), "{problems:?}");
        let said = |step: &Step| told(&job, &worked, step);
        let hung =
            orders.iter().find(|order| order.steps.iter().any(|step| said(step).contains("hang the rest")));
        let [.., screwed, last] = hung.unwrap().steps.as_slice() else { panic!("{script}: too few steps") };
        let [screwed, hung] = [screwed, last].map(said);
        assert!(
            hung.starts_with("Fix Cleat on the wall to the wall, level, and hang the rest on it"),
            "{hung}"
        );
        assert!(
            screwed.starts_with("Fit Cleat on the ") && screwed.ends_with("to Hanging rail"),
            "{screwed}"
        );
        assert_eq!(last.adds().count(), 1);
    }
}

/// The scripts of the reading room, played forward; how many steps each takes.
#[test]
fn every_script_goes_together_in_few_steps() {
    for script in crate::support::sets::scripts() {
        let (job, worked) = crate::support::sets::worked(&script, &[]);
        let (orders, problems) = assembly_orders(&job, &worked);
        assert!(problems.is_empty(), "{script}: {problems:?}");
        for order in &orders {
            execute(&worked, order);
            both_ends_at_once(&job, &worked, order);
            units_by_themselves(&worked, order);
            // One of them glues up the wide boards, before all else.
            assert!(order.steps.len() <= 13, "{script}: {} steps", order.steps.len());
        }
    }
}

/// 25 square inches at 150 psi take 9 clamps of 420 lb and 8 of 470 lb (a trade magazine,
/// worked out again).
#[test]
fn clamps_are_counted_as_the_trade_magazine_does() {
    let (area, pressure, pound) = (25.0 * 25.4 * 25.4, 150.0 * 0.006_894_757, 4.448_222);
    assert_eq!(clamps_for(area, pressure, 420.0 * pound), 9);
    assert_eq!(clamps_for(area, pressure, 470.0 * pound), 8);
    assert_eq!(clamps_for(0.0, pressure, 0.0), 1);
}

/// A chair is glued as a front frame and a back frame, then all its side rails together
/// between them (common practice, no source); a stool likewise.
#[test]
fn a_chair_is_glued_in_three_goes() {
    for (script, side_rails) in [("reading_chair", 4), ("readers_stool", 4)] {
        let (job, worked) = crate::support::sets::worked(script, &[]);
        let (orders, _) = assembly_orders(&job, &worked);
        assert!(both_ends_at_once(&job, &worked, &orders[0]) > side_rails, "{script}");
        let glued: Vec<&Step> = orders[0]
            .steps
            .iter()
            .filter(|step| step.glued && step.joints.iter().any(|j| worked.joints[*j].traits.is_tenoned))
            .collect();
        let goes: usize = glued.iter().map(|step| 1 + step.again.len()).sum();
        assert_eq!(
            goes,
            3,
            "{script}: {:?}",
            glued.iter().map(|s| told(&job, &worked, s)).collect::<Vec<_>>()
        );
        assert_eq!(glued.last().unwrap().adds().count(), side_rails, "{script}");
    }
}

/// The end frames of a table are each a clamping of their own, told once, and the long
/// rails close between them together.
#[test]
fn a_table_is_glued_in_two_goes() {
    let (job, worked) = crate::support::sets::worked("reading_table", &[]);
    let (orders, _) = assembly_orders(&job, &worked);
    let glued: Vec<&Step> = orders[0]
        .steps
        .iter()
        .filter(|step| step.glued && step.joints.iter().any(|j| worked.joints[*j].traits.is_tenoned))
        .collect();
    let [ends, rails] = glued.as_slice() else { panic!("{} glue-ups", glued.len()) };
    assert_eq!((ends.again.len(), ends.adds().count()), (1, 3));
    assert_eq!(rails.adds().count(), 2);
    // The frame is measured across the tops of its legs.
    let check = rails.check.unwrap();
    assert_eq!(check.toward, DVec3::Z);
    assert!(rails.watch.contains(&Watch::Feet));
}

/// A top of 900 by 500 by 25 of boards at most 200 wide, 195 of which is left when jointed,
/// is three boards. Each seam is 912.5 by 25 in the rough: 22,812 mm2 at 1.46 `MPa` over
/// 9,000 N a bar is 3.7, so four bars, over 500 and the 5 left on. Two ends of 300 wide are
/// two boards each.
#[test]
fn panels_are_glued_up_of_their_boards_first() {
    let text = "job(\"Top\", #{ unit: \"mm\" });\n\
                let ash = board_stock(\"Ash\", #{ thick: [34], lengths: [2000], widest: 200 });\n\
                piece(\"Bench\");\n\
                let top = board(\"Top\", ash, #{ x: [0, 900], y: [0, 500], z: [400, 425], grain: \"x\" });\n\
                let left = board(\"Left end\", ash, #{ x: [50, 75], y: [100, 400], z: [0, 400], grain: \"z\" });\n\
                let right = board(\"Right end\", ash, #{ x: [825, 850], y: [100, 400], z: [0, 400], grain: \"z\" });\n\
                housing(left, top, #{ depth: 8 });\nhousing(right, top, #{ depth: 8 });\n";
    let (job, worked) = rodwright::examine(&request("top", text.to_owned())).worked.unwrap();
    let (orders, problems) = assembly_orders(&job, &worked);
    assert!(problems.is_empty(), "{problems:?}");
    let first = &orders[0].steps[0];
    assert_eq!(first.kind, StepKind::GlueUp);
    let telling = Telling { job: &job, worked: &worked, words: Words::of(Unit::Mm) };
    let lines = telling.lines(first);
    assert_eq!(lines[0], "Glue up Top of 3 boards; Left end and Right end of 2 boards each.");
    assert!(
        lines.iter().any(|line| line.contains("4 bars over 505 mm, across the boards, on cauls")),
        "{lines:#?}"
    );
    assert!(lines.iter().any(|line| line.starts_with("2 joints: ")), "{lines:#?}");
    assert!(lines.iter().any(|line| line.contains("rings of every second one")), "{lines:#?}");
    assert!(lines.iter().any(|line| line.contains("plane it to thickness and only then cut")), "{lines:#?}");
    let rows = rodwright::wording::assembly::rows(telling, &orders);
    let boards: Vec<usize> = rows[0].boards.iter().map(|one| one.boards).collect();
    assert_eq!((rows[0].kind.as_str(), boards), ("glue-up", vec![3, 2, 2]));
    // The layouts cut as many.
    let list = rodwright::cutting::cutting_list(&job, &worked);
    let staves = list.parts.iter().map(|row| row.staves.unwrap_or(1) * row.quantity).sum::<usize>();
    assert_eq!(staves, 7);
}
