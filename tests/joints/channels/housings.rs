//! Housings, grooves and rebates. Volumes are closed forms of boxes.

use crate::support::joints::{boards, good, near, removed, shelf_and_side};

#[test]
fn a_housing_takes_a_channel_and_the_shelf_grows_into_it() {
    let job = good(&shelf_and_side("housing(a, b, #{ depth: 6 });"));
    near(removed(&job, 1), 18.0 * 300.0 * 6.0);
    near(removed(&job, 0), 0.0);
    near(job.parts[0].size.x, 606.0);
    let job = good(&shelf_and_side("housing(a, b, #{ depth: 6, stop: 12 });"));
    near(removed(&job, 1), 18.0 * 288.0 * 6.0);
    near(removed(&job, 0), 18.0 * 12.0 * 6.0);
    // A third of 18 where nothing is said.
    near(good(&shelf_and_side("housing(a, b, #{ });")).parts[0].size.x, 606.0);
}

#[test]
fn a_groove_leaves_its_slack() {
    let job = good(&shelf_and_side("groove(a, b, #{ depth: 8, slack: 0.5 });"));
    near(removed(&job, 1), 18.0 * 300.0 * 8.0);
    near(job.parts[0].size.x, 607.5);
}

#[test]
fn a_rebate_takes_the_corner_the_part_lies_in() {
    let text = boards(
        [[18.0, 618.0], [0.0, 300.0], [782.0, 800.0]],
        [[618.0, 636.0], [0.0, 300.0], [0.0, 800.0]],
        ["x", "z"],
        "rebate(a, b, #{ lap: 10 });",
    );
    let job = good(&text);
    near(removed(&job, 1), 10.0 * 300.0 * 18.0);
    near(job.parts[0].size.x, 610.0);
}
