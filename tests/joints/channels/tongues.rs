//! Tongues, loose tongues and shouldered housings. Volumes are closed forms of
//! boxes; proportions are common practice, no source.

use rodwright::geometry::DVec3;
use rodwright::joinery::WorkedJob;

use crate::support::golden::golden;
use crate::support::joints::{
    boards, clear_of_one_another, good, near, problem, removed, shelf_and_side, worked,
};
use crate::support::lot::Lot;
use crate::support::said::{called, item};

/// Two boards 600 high, 100 and 140 wide, edge to edge, as thick as said.
fn edges(thick: (f64, f64), works: &str) -> String {
    boards(
        [[0.0, 100.0], [0.0, thick.0], [0.0, 600.0]],
        [[100.0, 240.0], [0.0, thick.1], [0.0, 600.0]],
        ["z", "z"],
        works,
    )
}

#[test]
fn a_tongue_is_a_third_thick_and_as_deep() {
    let job = good(&edges((18.0, 18.0), "tongue(a, b);"));
    assert_eq!(called(&job, 0), "tongue 6 × 6 mm");
    // The list has the board with its tongue.
    near(job.parts[0].size.y, 106.0);
    near(removed(&job, 0), 2.0 * 6.0 * 6.0 * 600.0);
    near(removed(&job, 1), 6.0 * 6.5 * 600.0);
    // The boards slide together, or along one another.
    assert_eq!(job.joints[0].ways_in.len(), 3);
    assert!(job.joints[0].glued);
    assert!(!good(&edges((18.0, 18.0), "tongue(a, b, #{ dry: true });")).joints[0].glued);
}

#[test]
fn a_tongue_stands_off_the_middle_and_in_a_thicker_board() {
    // The middle of the 15 shared is at 7.5; 1 towards the front makes 6.5.
    let works = "tongue(a, b, #{ thick: 5, depth: 8, slack: 0, offset: 1, toward: \"front\" });";
    let job = good(&edges((15.0, 20.0), works));
    near(removed(&job, 0), 10.0 * 8.0 * 600.0);
    near(removed(&job, 1), 5.0 * 8.0 * 600.0);
    let mut y: Vec<f64> = job.parts[1].solid.points.iter().map(|p| job.parts[1].at.point(*p).y).collect();
    y.sort_by(f64::total_cmp);
    y.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    assert_eq!(y, [0.0, 4.0, 9.0, 20.0]);
}

#[test]
fn a_tongue_stays_within_a_shorter_board() {
    let text = edges((18.0, 18.0), "tongue(a, b);").replacen("z: [0.0, 600.0]", "z: [-50.0, 700.0]", 1);
    let job = good(&text);
    // Beside the tongue over 750, and all of it over 50 and 100.
    near(removed(&job, 0), 6.0 * (12.0 * 750.0 + 6.0 * 150.0));
    near(removed(&job, 1), 6.0 * 6.5 * 600.0);
}

#[test]
fn a_loose_tongue_lies_half_in_each_board() {
    let job = good(&edges((18.0, 18.0), "loose_tongue(a, b);"));
    assert_eq!(item(&job.joints[0].inserts[0]), "loose tongue 6 × 18 × 600");
    for part in 0..2 {
        near(removed(&job, part), 6.0 * 9.5 * 600.0);
    }
    near(job.parts[0].size.y, 100.0);
    let job = good(&edges((18.0, 18.0), "loose_tongue(a, b, #{ tongue: \"4x20\", stop: 30, slack: 1 });"));
    near(removed(&job, 0), 4.0 * 11.0 * 540.0);
    assert_eq!(item(&job.joints[0].inserts[0]), "loose tongue 4 × 20 × 540");
    let place = job.joints[0].inserts[0].at[0];
    assert!(place.origin.abs_diff_eq(DVec3::new(100.0, 9.0, 300.0), 1e-9));
    assert_eq!(job.joints[0].ways_in.len(), 1);
}

#[test]
fn a_tongue_in_the_mitre_of_a_flat_frame_stands_in_the_middle_of_its_thickness() {
    // No side of a frame that lies flat is the inner one: 10 of 20 from either face.
    let frame = |thick: f64| {
        boards(
            [[0.0, 40.0], [0.0, thick], [0.0, 400.0]],
            [[0.0, 400.0], [0.0, thick], [0.0, 40.0]],
            ["z", "x"],
            "mitre(a, b); loose_tongue(a, b, #{ tongue: \"4x20\" });",
        )
    };
    for thick in [18.0, 20.0] {
        let job = good(&frame(thick));
        let tongue = job.joints.iter().flat_map(|joint| &joint.inserts).next().unwrap();
        near(tongue.at[0].origin.y, thick / 2.0);
    }
    // In the corner of a case it stands towards the inside, where there is wood before it.
    let case = boards(
        [[0.0, 20.0], [0.0, 300.0], [0.0, 400.0]],
        [[0.0, 400.0], [0.0, 300.0], [0.0, 20.0]],
        ["z", "x"],
        "mitre(a, b); loose_tongue(a, b, #{ tongue: \"4x12\" });",
    );
    let job = good(&case);
    let tongue = job.joints.iter().flat_map(|joint| &joint.inserts).next().unwrap();
    assert!(tongue.at[0].origin.x > 12.0 && tongue.at[0].origin.z > 12.0);
}

#[test]
fn a_shoulder_thins_the_end_that_is_let_in() {
    let job = good(&shelf_and_side("housing(a, b, #{ depth: 6, shoulder: 5 });"));
    near(removed(&job, 0), 5.0 * 6.0 * 300.0);
    near(removed(&job, 1), 13.0 * 6.0 * 300.0);
    near(job.parts[0].size.x, 606.0);
    assert_eq!(called(&job, 0), "housed 6 mm deep, shouldered 5 mm");
    // On top, so that the shelf bears on all of its lower face.
    let top = |job: &WorkedJob| {
        let b = &job.parts[1];
        let z = b.solid.points.iter().map(|p| b.at.point(*p).z).filter(|z| *z > 1.0 && *z < 799.0);
        z.fold((f64::INFINITY, 0.0_f64), |(lo, hi), z| (lo.min(z), hi.max(z)))
    };
    assert_eq!(top(&job), (400.0, 413.0));
    let job = good(&shelf_and_side("housing(a, b, #{ depth: 6, shoulder: 5, shoulder_on: \"bottom\" });"));
    assert_eq!(top(&job), (405.0, 418.0));
    // Stopped: the notch takes the whole thickness, the shoulder the rest.
    let job = good(&shelf_and_side("housing(a, b, #{ depth: 6, shoulder: 5, stop: 12 });"));
    near(removed(&job, 0), 18.0 * 6.0 * 12.0 + 5.0 * 6.0 * 288.0);
    near(removed(&job, 1), 13.0 * 6.0 * 288.0);
}

/// Two boards by lot, edge to edge or end to face, turned some way.
fn seam_by_lot(lot: &mut Lot, works: &str) -> String {
    let (ta, tb) = (lot.between(10.0, 40.0), lot.between(10.0, 40.0));
    let (wide, long) = (lot.between(50.0, 300.0), lot.between(100.0, 900.0));
    let off = if lot.of(2) == 0 { lot.between(0.0, 3.0) } else { 0.0 };
    let start = if lot.of(3) == 0 { lot.between(1.0, 20.0) } else { 0.0 };
    let a = [[0.0, wide], [off, off + ta], [0.0, long]];
    // Its edge against an edge, or against a face of the other.
    let b = if lot.of(2) == 0 {
        [[wide, wide + lot.between(40.0, 200.0)], [0.0, tb], [start, long]]
    } else {
        [[wide, wide + tb], [-30.0, 60.0], [start, long]]
    };
    let order = [[0, 1, 2], [2, 0, 1], [1, 2, 0]][lot.of(3)];
    let turn = |s: [[f64; 2]; 3]| {
        let mut out = s;
        (0..3).for_each(|i| out[order[i]] = s[i]);
        out
    };
    let grain = ["x", "y", "z"][order[2]];
    boards(turn(a), turn(b), [grain, grain], works)
}

/// Works boards by lot: false where refused for want of wood.
fn stands_the_trial(lot: &mut Lot, works: &str) -> Option<WorkedJob> {
    let text = seam_by_lot(lot, works);
    let (job, problems) = worked("test", &text, &[]);
    if problems.contains("error[") {
        let codes = ["breaks-through", "does-not-fit"];
        assert!(codes.iter().any(|c| problems.contains(c)), "{text}{problems}");
        return None;
    }
    clear_of_one_another(&job);
    Some(job)
}

#[test]
fn tongues_by_lot_fill_their_grooves() {
    let mut made = 0;
    for seed in 200..250 {
        let mut lot = Lot(seed);
        let (depth, slack) = (lot.between(3.0, 12.0), [0.0, 0.5, 1.0][lot.of(3)]);
        let works = match lot.of(3) {
            0 => format!("tongue(a, b, #{{ depth: {depth:.1}, slack: {slack:.1} }});"),
            1 => format!(
                "tongue(a, b, #{{ thick: {:.1}, depth: {depth:.1}, slack: {slack:.1} }});",
                lot.between(3.0, 9.0)
            ),
            _ => format!("tongue(a, b, #{{ depth: {depth:.1}, slack: {slack:.1}, dry: true }});"),
        };
        let Some(job) = stands_the_trial(&mut lot, &works) else { continue };
        made += 1;
        // Of the growth, the shoulders leave the tongue.
        let a = &job.parts[0];
        let tongue = depth * a.size.z * a.size.x - removed(&job, 0);
        near(tongue * (depth + slack) / depth, removed(&job, 1));
    }
    assert!(made >= 35, "only {made} of 50 could be made");
}

#[test]
fn loose_tongues_by_lot_lie_in_both_grooves() {
    let mut made = 0;
    for seed in 300..350 {
        let mut lot = Lot(seed);
        let stop = if lot.of(2) == 0 { lot.between(0.0, 30.0) } else { 0.0 };
        let slack = [0.0, 0.5, 1.0][lot.of(3)];
        let works = if lot.of(3) == 0 {
            format!("loose_tongue(a, b, #{{ slack: {slack:.1}, stop: {stop:.1} }});")
        } else {
            format!(
                "loose_tongue(a, b, #{{ tongue: \"{}x{}\", slack: {slack:.1}, stop: {stop:.1} }});",
                3 + lot.of(6),
                8 + lot.of(16)
            )
        };
        let Some(job) = stands_the_trial(&mut lot, &works) else { continue };
        made += 1;
        let size: Vec<f64> = item(&job.joints[0].inserts[0])
            .trim_start_matches("loose tongue ")
            .split(" × ")
            .map(|n| n.parse().unwrap())
            .collect();
        // Shown to a tenth, so compared to what a tenth of it makes.
        for part in 0..2 {
            let gone = removed(&job, part);
            let strip = size[0] * (0.5 * size[1] + slack) * size[2];
            assert!((gone - strip).abs() < 0.05 * strip, "{gone} is not {strip}");
        }
        near(removed(&job, 0), removed(&job, 1));
    }
    assert!(made >= 30, "only {made} of 50 could be made");
}

/// A side and a top mitred together, as thick and deep as said.
fn mitred(thick: f64, deep: f64, works: &str) -> String {
    boards(
        [[0.0, thick], [0.0, deep], [0.0, 400.0]],
        [[0.0, 500.0], [0.0, deep], [400.0 - thick, 400.0]],
        ["z", "x"],
        &format!("mitre(a, b);\n{works}"),
    )
}

#[test]
fn loose_tongues_by_lot_lie_square_in_a_mitre() {
    let mut made = 0;
    for seed in 350..410 {
        let mut lot = Lot(seed);
        let (thick, deep) = (lot.between(12.0, 30.0), lot.between(100.0, 400.0));
        let (strip, wide) = (lot.between(3.0, 8.0), lot.between(8.0, 20.0));
        let slack = [0.0, 0.5, 1.0][lot.of(3)];
        let stop = if lot.of(2) == 0 { lot.between(0.0, 30.0) } else { 0.0 };
        let works = format!(
            "loose_tongue(a, b, #{{ tongue: [{strip:?}, {wide:?}], slack: {slack:?}, stop: {stop:?} }});"
        );
        let text = mitred(thick, deep, &works);
        if worked("test", &text, &[]).1.contains("error") {
            assert!(
                problem(&text).contains("breaks-through") || problem(&text).contains("does-not-fit"),
                "{text}"
            );
            continue;
        }
        made += 1;
        let (job, bare) = (good(&text), good(&mitred(thick, deep, "")));
        // A box from the slope into each part, wherever on the slope it begins.
        let groove = strip * (0.5 * wide + slack) * (deep - 2.0 * stop);
        for part in 0..2 {
            near(removed(&job, part) - removed(&bare, part), groove);
        }
        // The strip lies in both grooves, half in each, across the plane x + z = 400.
        let insert = &job.joints[1].inserts[0];
        let (at, body) = (insert.at[0], insert.body.clone().unwrap());
        near(at.origin.x + at.origin.z, 400.0);
        near(at.z.x.abs(), std::f64::consts::FRAC_1_SQRT_2);
        near(body.to - body.from, wide);
    }
    assert!(made >= 30, "only {made} of 60 could be made");
}

#[test]
fn shouldered_housings_by_lot_fit() {
    for seed in 400..430 {
        let mut lot = Lot(seed);
        let thick = lot.between(12.0, 40.0);
        let (shelf, side) = (lot.between(100.0, 500.0), lot.between(14.0, 40.0));
        let depth = lot.between(3.0, 10.0);
        let shoulder = lot.between(1.0, thick - 5.0);
        let stop = if lot.of(2) == 0 { lot.between(2.0, 30.0) } else { 0.0 };
        let on = ["top", "bottom"][lot.of(2)];
        let text = boards(
            [[0.0, 500.0], [0.0, shelf], [300.0, 300.0 + thick]],
            [[500.0, 500.0 + side], [0.0, shelf], [0.0, 900.0]],
            ["x", "z"],
            &format!(
                "housing(a, b, #{{ depth: {depth:.1}, shoulder: {shoulder:.1}, shoulder_on: \"{on}\", stop: {stop:.1} }});"
            ),
        );
        let job = good(&text);
        let channel = (thick - shoulder) * depth * (shelf - stop);
        near(removed(&job, 1), channel);
        near(thick * depth * shelf - removed(&job, 0), channel);
    }
}

#[test]
fn tongues_that_cannot_be_made_are_said_with_figures() {
    let plain = |works: &str| problem(&edges((18.0, 18.0), works));
    let face = boards(
        [[0.0, 100.0], [0.0, 18.0], [0.0, 600.0]],
        [[0.0, 100.0], [18.0, 36.0], [0.0, 600.0]],
        ["z", "z"],
        "tongue(a, b);",
    );
    let apart = edges((18.0, 18.0), "tongue(a, b);").replace("x: [0.0, 100.0]", "x: [0.0, 92.0]");
    let cases = [
        ("the face meets", problem(&face)),
        ("apart", problem(&apart)),
        (
            "one in the other",
            problem(&apart.replace("92.0]", "110.0]").replace("tongue(a", "loose_tongue(a")),
        ),
        ("tongue too thick", plain("tongue(a, b, #{ thick: 15 });")),
        ("tongue too long for its own part", plain("tongue(b, a, #{ depth: 99 });")),
        ("tongue through the other", problem(&shelf_and_side("tongue(a, b, #{ depth: 17 });"))),
        ("offset without a side", plain("tongue(a, b, #{ offset: 3 });")),
        ("offset too far", plain("tongue(a, b, #{ offset: 5, toward: \"front\" });")),
        (
            "loose tongue through the board",
            problem(&shelf_and_side("loose_tongue(a, b, #{ tongue: \"6x40\" });")),
        ),
        ("loose tongue hardly in", plain("loose_tongue(a, b, #{ tongue: \"18x3\" });")),
        ("stopped away to nothing", plain("loose_tongue(a, b, #{ stop: 300 });")),
        // 140 x tan 30 = 80.8 of the seam have no wood beside them.
        (
            "loose tongue past a sloping end",
            plain("bevel(b, \"top\", #{ angle: 30, long: \"right\" }); loose_tongue(a, b);"),
        ),
        (
            "pocket screws past a sloping end",
            plain("bevel(b, \"top\", #{ angle: 60, long: \"right\" }); pocket_screws(a, b, #{ count: 6 });"),
        ),
        ("through in a mitre", problem(&mitred(18.0, 200.0, "loose_tongue(a, b, #{ tongue: \"6x40\" });"))),
        ("stopped away in a mitre", problem(&mitred(18.0, 200.0, "loose_tongue(a, b, #{ stop: 99 });"))),
        (
            "too thick for a mitre",
            problem(&mitred(18.0, 200.0, "loose_tongue(a, b, #{ tongue: \"24x8\" });")),
        ),
        ("hardly in a mitre", problem(&mitred(18.0, 200.0, "loose_tongue(a, b, #{ tongue: \"8x3\" });"))),
        (
            "rebate beside its member",
            problem(&boards(
                [[9.0, 600.0], [280.0, 286.0], [0.0, 400.0]],
                [[0.0, 18.0], [0.0, 280.0], [0.0, 400.0]],
                ["z", "z"],
                "rebate(a, b, #{ lap: 9 });",
            )),
        ),
        ("housing named the wrong way round", problem(&shelf_and_side("housing(b, a);"))),
        ("shoulder takes the whole", problem(&shelf_and_side("housing(a, b, #{ shoulder: 16 });"))),
        (
            "shoulder on no face",
            problem(&shelf_and_side("housing(a, b, #{ shoulder: 4, shoulder_on: \"left\" });")),
        ),
    ];
    golden(file!(), &cases);
    // What the message advises works.
    good(&edges(
        (18.0, 18.0),
        "bevel(b, \"top\", #{ angle: 30, long: \"right\" }); loose_tongue(a, b, #{ stop: 81 });",
    ));
}
