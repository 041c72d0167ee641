//! The order of assembly: executed step by step, nothing runs into anything.

use proptest::prelude::*;
use rodwright::assembly::{Done, Order, StepKind, assembly_orders};
use rodwright::geometry::DVec3;
use rodwright::joinery::{Cut, Stage, WorkedJob};
use rodwright::solid::Standing;
use rodwright::wording::assembly::done;

use crate::support::assert_near;
use crate::support::golden::{golden, without_places};
use crate::support::pieces::{Bench, cabinet, frame};
use crate::support::scripts::request;

/// Plays an order forward: what a step adds must be able to leave, against its
/// way in, everything that stands and does not come along; every part is added
/// once. A group made up apart only has to be free of what it is joined to.
fn execute(worked: &WorkedJob, order: &Order) {
    let standing: Vec<Standing> = worked.parts.iter().map(|p| Standing::new(&p.solid, &p.at)).collect();
    let mut added: Vec<usize> = Vec::new();
    for step in order.steps.iter().filter(|step| step.kind == StepKind::Join) {
        for (part, way) in step.adds.iter().zip(&step.ways) {
            assert!(!added.contains(part), "`{}` is added twice", worked.parts[*part].name);
            added.push(*part);
            let Some(way) = way else { continue };
            for other in step.onto.iter().filter(|other| !step.adds.contains(other)) {
                assert!(
                    !standing[*part].is_blocked_by(&standing[*other], -*way),
                    "`{}` runs into `{}`",
                    worked.parts[*part].name,
                    worked.parts[*other].name
                );
            }
        }
    }
    added.sort_unstable();
    assert_eq!(added, (0..worked.parts.len()).collect::<Vec<_>>());
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
            cut.extend(&step.onto);
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
    let says: Vec<String> = orders[0].steps.iter().map(|step| done(&worked, &step.done)).collect();
    assert_eq!(
        says,
        [
            "Glue the lippings to Top, Left side, Right side, Bottom, Divider and Shelf",
            "Glue Divider down from above to Bottom",
            "Glue Shelf from the left to Divider",
            "Glue Left side from the left and Right side from the right to Bottom and Shelf",
            "Fit Back down from above to Left side, Right side and Bottom",
            "Glue Top down from above to Left side, Right side, Divider and Back",
        ]
    );
    // Pythagoras on the outside: 900 × 420.
    assert_near(orders[0].steps[5].diagonal.unwrap(), 993.177_2, 1e-3);
}

#[test]
fn a_tenoned_mitred_frame_closes_as_two_halves() {
    // Each corner only opens square to its mitre, so no single member of the
    // frame can go in last; two halves can.
    let (job, worked) = frame();
    let (orders, problems) = assembly_orders(&job, &worked);
    assert!(problems.is_empty(), "{problems:?}");
    let steps = &orders[0].steps;
    execute(&worked, &orders[0]);
    let cut = steps.iter().position(|step| step.kind == StepKind::Cut).unwrap();
    let glass = steps.iter().position(|step| step.adds.contains(&4)).unwrap();
    let backing = steps.iter().position(|step| step.adds.contains(&5)).unwrap();
    assert!(steps[..cut].iter().all(|step| step.glued), "the frame is glued before the rebate is cut");
    assert!(cut < glass && glass < backing, "rebate, then glass, then backing");
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
    golden(file!(), &[("three boards", without_places(&problems))]);
}

/// A carcase with shelves housed or tenoned between two sides, and a back.
fn carcase(shelves: usize, width: f64, tenoned: bool, back: bool) -> (rodwright::model::Job, WorkedJob) {
    let (h, d, t) = (900.0, 300.0, 18.0);
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
            prop_assert!(last.adds.contains(&(worked.parts.len() - 1)), "the back goes on last");
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
    let step = orders[0].steps.iter().find(|step| step.adds.contains(&back)).unwrap();
    let place = step.adds.iter().position(|part| *part == back).unwrap();
    assert_eq!(step.ways[place], Some(DVec3::NEG_Y));
}

/// A piece on a cleat is screwed to its strip in the shop, and hung on the strip of
/// the wall last of all (common practice, no source).
#[test]
fn what_hangs_on_a_cleat_is_hung_last() {
    for script in ["periodicals_cabinet", "window_wall"] {
        let (job, worked) = crate::support::sets::worked(script, &[]);
        let (orders, problems) = assembly_orders(&job, &worked);
        assert!(problems.is_empty(), "{problems:?}");
        let hung = orders
            .iter()
            .find(|order| order.steps.iter().any(|step| matches!(step.done, Done::Hang { .. })))
            .unwrap();
        let [.., screwed, last] = hung.steps.as_slice() else { panic!("{script}: too few steps") };
        let [screwed, hung] = [screwed, last].map(|step| done(&worked, &step.done));
        assert!(
            hung.starts_with("Fix Cleat on the wall to the wall, level, and hang the rest on it"),
            "{hung}"
        );
        assert!(
            screwed.starts_with("Fit Cleat on the ") && screwed.ends_with("to Hanging rail"),
            "{screwed}"
        );
        assert_eq!(last.adds.len(), 1);
    }
}
