//! Pieces by lot: every one goes together, and its order can be played forward.

use std::time::Instant;

use rodwright::assembly::{StepKind, Watch, assembly_orders};
use rodwright::geometry::DVec3;
use rodwright::joinery::WorkedJob;
use rodwright::model::Job;

use super::order::carcase;
use super::play::{both_ends_at_once, execute, units_by_themselves};
use crate::library::made::{asked, chosen, made, sizes, started, tries};
use crate::support::lot::Lot;
use crate::support::pieces::Bench;

/// Blocks in the cells of a room of 3 × 3 × 2, next to one another, joined along ways drawn
/// by lot: most along the line they stand in, some across it.
fn blocks(seed: u64) -> (Job, WorkedJob) {
    let mut lot = Lot(seed);
    let mut b = Bench::new("Blocks", "Blocks");
    let mut cells: Vec<([usize; 3], usize)> = Vec::new();
    for cell in 0..18 {
        let at = [cell % 3, cell / 3 % 3, cell / 9];
        if lot.of(3) == 0 {
            continue;
        }
        let span = |axis: usize| [100.0 * at[axis] as f64, 100.0 * (at[axis] + 1) as f64];
        let part = b.part(&format!("Block {cell}"), 0, [span(0), span(1), span(2)], 0);
        let beside: Vec<([usize; 3], usize)> = cells
            .iter()
            .copied()
            .filter(|(other, _)| (0..3).map(|axis| other[axis].abs_diff(at[axis])).sum::<usize>() == 1)
            .collect();
        for (other, first) in beside {
            let line = (0..3).map(|axis| other[axis] as f64 - at[axis] as f64).collect::<Vec<f64>>();
            let way = DVec3::new(line[0], line[1], line[2]);
            let across = [DVec3::X, DVec3::NEG_Y, DVec3::Z][lot.of(3)];
            let ways = if lot.of(4) == 0 { across } else { way };
            let joint = b.joint("loose_tenons", first, part, &[ways], lot.of(2) == 0);
            let middle = |axis: usize| 50.0 * (other[axis] + at[axis] + 1) as f64;
            b.inserts(joint, "loose tenon 8 × 40", &[[middle(0), middle(1), middle(2)]]);
        }
        cells.push((at, part));
    }
    b.done()
}

/// Where a member stands, and for a rail the axis it runs along and its row; none for a post.
type Member = ([usize; 2], Option<(usize, usize)>);

/// Posts in two rows of two or three with rails tenoned between neighbours, one to three
/// over one another along each line, all in an order drawn by lot.
fn rails(seed: u64) -> (Job, WorkedJob) {
    let mut lot = Lot(seed);
    let mut b = Bench::new("Rails", "Rails");
    let bays = 1 + lot.of(2);
    let rows = [1 + lot.of(3), 1 + lot.of(3)];
    let posts: Vec<[usize; 2]> = (0..=bays).flat_map(|x| [[x, 0], [x, 1]]).collect();
    let start = |step: usize| 400.0 * step as f64;
    // A part is a post, or a rail from a post to the next along an axis.
    let mut parts: Vec<Member> = posts.iter().map(|at| (*at, None)).collect();
    for at in &posts {
        for axis in 0..2 {
            let next = [at[0] + usize::from(axis == 0), at[1] + usize::from(axis == 1)];
            if posts.contains(&next) {
                parts.extend((0..rows[axis]).map(|row| (*at, Some((axis, row)))));
            }
        }
    }
    for place in (1..parts.len()).rev() {
        parts.swap(place, lot.of(place + 1));
    }
    let mut made: Vec<usize> = Vec::new();
    for (number, (at, rail)) in parts.iter().enumerate() {
        let mut span =
            [[start(at[0]), start(at[0]) + 40.0], [start(at[1]), start(at[1]) + 40.0], [0.0, 450.0]];
        if let Some((axis, row)) = rail {
            for (across, along) in span.iter_mut().enumerate().take(2) {
                *along = if across == *axis {
                    [along[1], along[0] + 400.0]
                } else {
                    [along[0] + 10.0, along[1] - 10.0]
                };
            }
            let z = 330.0 - 130.0 * *row as f64 + 30.0 * *axis as f64;
            span[2] = [z, z + 50.0];
        }
        made.push(b.part(&format!("Part {number}"), 0, span, 0));
    }
    for (place, (at, rail)) in parts.iter().enumerate() {
        let Some((axis, row)) = rail else { continue };
        for end in 0..2 {
            let mut meets = *at;
            meets[*axis] += end;
            let post = parts.iter().position(|one| *one == (meets, None)).unwrap();
            let way = [[DVec3::X, DVec3::NEG_X], [DVec3::Y, DVec3::NEG_Y]][*axis][end];
            let joint = b.joint("mortise_tenon", made[place], made[post], &[way], true);
            let mut middle =
                [start(at[0]) + 20.0, start(at[1]) + 20.0, 355.0 - 130.0 * *row as f64 + 30.0 * *axis as f64];
            middle[*axis] += if end == 0 { 20.0 } else { 380.0 };
            b.inserts(joint, "dowel 10 × 40", &[middle]);
        }
    }
    b.done()
}

/// No clamping glues one rail alone into one post when its other end has to be closed
/// later, although both could close together.
#[test]
fn rails_between_posts_close_at_both_ends_at_once() {
    let mut looked_at = 0;
    for seed in 0..60 {
        let (mut job, worked) = rails(seed);
        job.order.glue.open = Some(120.0);
        let (orders, problems) = assembly_orders(&job, &worked);
        assert!(problems.is_empty(), "{seed}: {problems:?}");
        execute(&worked, &orders[0]);
        looked_at += both_ends_at_once(&job, &worked, &orders[0]);
    }
    assert!(looked_at > 500, "{looked_at}");
}

/// What a help names as the lock: the two parts of one joint.
fn lock(worked: &WorkedJob, help: &str) -> Option<usize> {
    let (_, rest) = help.split_once(" between ")?;
    let (names, _) = rest.split_once(" is the lock")?;
    worked.joints.iter().position(|joint| {
        joint.parts.iter().all(|part| names.contains(&format!("`{}`", worked.parts[*part].name)))
    })
}

/// Each of a thousand heaps of blocks has an order that can be played forward, or is
/// refused with the parts that lock one another; and a lock that is named frees it.
fn have_an_order_or_a_lock(seeds: std::ops::Range<u64>) -> [usize; 3] {
    let mut counts = [0; 3];
    for seed in seeds {
        let (job, mut worked) = blocks(seed);
        if worked.parts.is_empty() {
            continue;
        }
        let (orders, problems) = assembly_orders(&job, &worked);
        if let [order] = orders.as_slice() {
            execute(&worked, order);
            counts[0] += 1;
            continue;
        }
        let [problem] = problems.as_slice() else { panic!("{seed}: {problems:?}") };
        assert_eq!(problem.code, "no-assembly-order", "{seed}");
        assert!(
            problem.message.matches('`').count() >= 6,
            "{seed}: two parts are not named: {}",
            problem.message
        );
        let help = problem.help.as_deref().unwrap();
        counts[1] += 1;
        if let Some(joint) = lock(&worked, help) {
            counts[2] += 1;
            worked.joints[joint].ways_in.clear();
            let (orders, problems) = assembly_orders(&job, &worked);
            assert!(orders.len() == 1, "{seed}: `{help}` frees nothing: {problems:?}");
        }
    }
    counts
}

#[test]
fn heaps_by_lot_have_an_order_or_a_named_lock() {
    let [made, refused, named] = have_an_order_or_a_lock(0..40);
    assert!(made > 10 && refused > 5 && named > 0, "{made} {refused} {named}");
}

/// A plinth is made up by itself, with doors before the case too, and drawers are run in
/// before their show fronts are screwed on.
#[test]
fn what_stands_on_a_plinth_is_glued_beside_it() {
    for (name, options) in [
        ("wall_case", "stands: \"on a plinth\", doors: \"lipped\""),
        ("case", "stands: \"on a plinth\", doors: \"glazed\", width: 500"),
        ("drawer_bank", "stands: \"on a plinth\", fronts: \"overlay\", drawers: 2"),
    ] {
        let (job, worked) = asked(name, options);
        let (orders, problems) = assembly_orders(&job, &worked);
        assert!(problems.is_empty(), "{name}: {problems:?}");
        execute(&worked, &orders[0]);
        assert!(both_ends_at_once(&job, &worked, &orders[0]) > 0, "{name}");
        assert!(units_by_themselves(&worked, &orders[0]) > 1, "{name}");
        let steps = &orders[0].steps;
        let comes = |part: &str| {
            let of_name = |p: usize| worked.parts[p].name == part;
            steps.iter().rposition(|step| step.all_adds().chain(step.together()).any(of_name))
        };
        if let (Some(front), Some(drawer)) = (comes("Overlay front"), comes("Left drawer side")) {
            assert!(front > drawer, "{front} {drawer}");
            assert!(steps[front].watch.contains(&Watch::RunDrawer));
            // The heads of its bolts lie behind it.
            let knobs = steps.iter().position(|step| step.kind == StepKind::Fit);
            assert!(knobs.is_some_and(|knobs| knobs < front), "{knobs:?} {front}");
        }
    }
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn a_thousand_heaps_have_an_order_or_a_named_lock() {
        let [made, refused, named] = have_an_order_or_a_lock(40..1040);
        eprintln!("{made} in order, {refused} refused, {named} with the joint that locks them");
        assert!(made > 250 && refused > 100 && named > 20);
    }

    #[test]
    fn types_at_any_size_go_together() {
        for name in chosen() {
            let text = started(name, "mm");
            for seed in 0..tries() {
                let settings = sizes(name, &text, seed);
                let Some((job, worked)) = made(name, &text, &settings) else { continue };
                let (orders, problems) = assembly_orders(&job, &worked);
                assert!(problems.is_empty(), "{name} {settings:?}: {problems:?}");
                for order in &orders {
                    execute(&worked, order);
                    // Not yet: at one size of many the bottom of a case under a slope is closed on
                    // its sides one after the other, with one shelf between.
                    if name != "sloping_case" {
                        both_ends_at_once(&job, &worked, order);
                    }
                    units_by_themselves(&worked, order);
                }
            }
        }
    }

    /// Unoptimised a plan takes some ten times as long as it may: this is here to be read
    /// with `--nocapture`, and fails only where the time grows out of all proportion.
    #[test]
    fn many_parts_take_no_more_than_their_time() {
        let mut times = Vec::new();
        for shelves in [57, 397] {
            let (job, worked) = carcase(shelves, 900.0, true, true);
            let start = Instant::now();
            let (orders, problems) = assembly_orders(&job, &worked);
            times.push(start.elapsed().as_secs_f64());
            let start = Instant::now();
            let _ = rodwright::checks::check(&job, &worked);
            eprintln!("checks of {} parts {:.3} s", shelves + 3, start.elapsed().as_secs_f64());
            assert!(problems.is_empty() && orders.len() == 1);
        }
        eprintln!("60 parts {:.3} s, 400 parts {:.3} s", times[0], times[1]);
        assert!(times[1] < 200.0 * times[0].max(0.01), "{times:?}");
    }
}
