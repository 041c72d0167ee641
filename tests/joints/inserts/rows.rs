//! Dowels and biscuits: rows of inserts in holes and slots of both parts. Sizes
//! and spacings are the trade's (common practice, no source).

use rodwright::geometry::{DVec3, trig};
use rodwright::joinery::WorkedJob;

use crate::support::golden::golden;
use crate::support::joints::{boards, good, near, problem, removed, round, shelf_and_side, worked};
use crate::support::lot::Lot;
use crate::support::said::{called, item};

/// The middles of the mouths of a part's cuts for joint `j`, piece coordinates.
fn mouths(job: &WorkedJob, part: usize, j: usize) -> Vec<DVec3> {
    let part = &job.parts[part];
    let mine = part.cuts.iter().filter(|c| c.joint == Some(j));
    mine.map(|c| part.at.point(c.shape.at.origin)).collect()
}

/// Both sides of every joint lie over one another, to a thousandth of a mm, and
/// there is an insert for each.
fn sides_match(job: &WorkedJob) {
    for (j, joint) in job.joints.iter().enumerate() {
        let (a, b) = (mouths(job, joint.parts[0], j), mouths(job, joint.parts[1], j));
        assert_eq!((a.len(), b.len()), (joint.inserts[0].at.len(), joint.inserts[0].at.len()));
        for ((p, q), at) in a.iter().zip(&b).zip(&joint.inserts[0].at) {
            assert!(p.distance(*q) < 0.001 && p.distance(at.origin) < 0.001, "{p} is not over {q}");
        }
    }
}

#[test]
fn dowels_stand_in_a_row_with_half_in_each_part() {
    let job = good(&shelf_and_side("dowels(a, b, #{ dowel: \"8x30\", count: 3 });"));
    assert_eq!(called(&job, 0), "3 dowels 8 × 30");
    // 18 less a wall of 3 and 1 to spare leave 14 in the side, 16 in the shelf.
    near(removed(&job, 1), 3.0 * round(8.0) * 15.0);
    near(removed(&job, 0), 3.0 * round(8.0) * 17.0);
    let y: Vec<f64> = mouths(&job, 1, 0).iter().map(|p| p.y).collect();
    y.iter().zip([30.0, 150.0, 270.0]).for_each(|(a, b)| near(*a, b));
    sides_match(&job);
}

#[test]
fn dowels_left_to_the_trade() {
    // 18 x 0.45 is 8.1; five diameters long; 240 in steps of no more than 100.
    let job = good(&shelf_and_side("dowels(a, b);"));
    assert_eq!(called(&job, 0), "4 dowels 8 × 40");
    let y: Vec<f64> = mouths(&job, 0, 0).iter().map(|p| p.y).collect();
    y.iter().zip([30.0, 110.0, 190.0, 270.0]).for_each(|(a, b)| near(*a, b));
    // Nearest 0.45 of the thickness among what is sold.
    for (thick, dowel) in [(12.0, "6 × 30"), (20.0, "8 × 40"), (22.0, "10 × 50"), (27.0, "12 × 60")] {
        let text = boards(
            [[0.0, 400.0], [0.0, 100.0], [0.0, thick]],
            [[400.0, 480.0], [0.0, 100.0], [-200.0, 200.0]],
            ["x", "z"],
            "dowels(a, b);",
        );
        assert_eq!(called(&good(&text), 0), format!("2 dowels {dowel}"));
    }
}

/// A maker sets a row out with a rule: places that the script leaves open are whole
/// millimetres from the end it is set out from, an even whole number apart (42 + 2 × 84,
/// not 41.8 and 83.7: common practice, no source).
#[test]
fn places_that_a_joint_chooses_are_whole() {
    let whole = |at: f64| (at - at.round()).abs() < 1e-6;
    for depth in [251.0, 252.0, 317.0, 318.0] {
        for works in [
            "dowels(a, b, #{ dowel: \"8x30\", count: 3 });",
            "dowels(a, b);",
            "biscuits(a, b, #{ size: \"20\" });",
            "loose_tenons(a, b, #{ tenon: \"8x30\", count: 3 });",
            "screws(b, a, #{ screw: \"3.5x40\", count: 4 });",
        ] {
            let text = boards(
                [[0.0, 600.0], [0.0, depth], [0.0, 18.0]],
                [[600.0, 620.0], [0.0, depth], [-200.0, 220.0]],
                ["x", "z"],
                works,
            );
            let job = good(&text);
            let at: Vec<f64> = job.joints[0].inserts[0].at.iter().map(|place| place.origin.y).collect();
            assert!(at.iter().all(|y| whole(*y)), "{depth} {works} {at:?}");
            let gaps: Vec<f64> = at.windows(2).map(|pair| pair[1] - pair[0]).collect();
            assert!(gaps.iter().all(|gap| (gap - gaps[0]).abs() < 1e-6), "{depth} {works} {at:?}");
            // The ends differ by what does not share out, a millimetre at most.
            let (first, last) = (at[0], depth - at[at.len() - 1]);
            assert!((first - last).abs() < 1.0 + 1e-6, "{depth} {works} {at:?}");
        }
    }
}

/// What the cutter of 100 mm takes in a slot so deep: the segment of a circle
/// below a chord, 4 thick, mm3 (r2 (t - sin t) / 2 for its angle t).
fn segment(depth: f64) -> f64 {
    let half = trig::acos((50.0 - depth) / 50.0);
    4.0 * 2500.0 * (half - 0.5 * trig::sin_cos(2.0 * half).0)
}

#[test]
fn biscuits_lie_in_slots_of_the_cutter() {
    let text = shelf_and_side("biscuits(a, b, #{ size: \"20\", count: 3 });");
    let job = good(&text);
    assert_eq!(called(&job, 0), "3 biscuits size 20");
    assert_eq!(item(&job.joints[0].inserts[0]), "biscuit 20, 56 × 23 mm");
    for part in [0, 1] {
        // Facets of the arc take a little less than the arc.
        let gone = removed(&job, part) / (3.0 * segment(12.3));
        assert!(gone > 0.985 && gone < 1.0, "{gone}");
        // Both are as deep as they should be, to the last corner.
        let part = &job.parts[part];
        let (low, high) = part.cuts[0].shape.outline.bounds().unwrap();
        near(high.y - low.y, 12.3);
        near(high.x - low.x, 2.0 * (12.3_f64 * (100.0 - 12.3)).sqrt());
    }
    let y: Vec<f64> = mouths(&job, 1, 0).iter().map(|p| p.y).collect();
    y.iter().zip([50.0, 150.0, 250.0]).for_each(|(a, b)| near(*a, b));
    sides_match(&job);
    // Left to the trade: the largest that leaves 3 mm behind it.
    for (thick, size) in [(18.0, "20"), (14.0, "10"), (11.0, "0")] {
        let text = shelf_and_side("biscuits(a, b);").replace("636.0]", &format!("{:?}]", 618.0 + thick));
        assert_eq!(called(&good(&text), 0), format!("3 biscuits size {size}"));
    }
}

#[test]
fn biscuits_by_lot_match() {
    let mut made = 0;
    for seed in 400..460 {
        let mut lot = Lot(seed);
        let (text, thick) = joint_by_lot(&mut lot);
        let mut options = Vec::new();
        if lot.of(2) == 0 {
            options.push(format!("size: \"{}\"", [0, 10, 20][lot.of(3)]));
        }
        match lot.of(3) {
            0 => options.push(format!("count: {}", 1 + lot.of(4))),
            1 => options.push(format!("spacing: {}", lot.between(60.0, 250.0))),
            _ => {}
        }
        if lot.of(3) == 0 {
            options.push(format!("offset: {}, toward: \"top\"", lot.between(0.5, thick / 8.0)));
        }
        made += usize::from(stands(&text, &format!("biscuits(a, b, #{{ {} }});", options.join(", "))));
    }
    assert!(made >= 30, "only {made} of 60 could be made");
}

/// A board of any size against the face or the edge of another, some of them
/// turned out of the square together, and its thickness.
fn joint_by_lot(lot: &mut Lot) -> (String, f64) {
    let thick = lot.between(14.0, 40.0);
    let (deep, long) = (lot.between(60.0, 500.0), lot.between(80.0, 900.0));
    let other = lot.between(16.0, 90.0);
    let from = lot.between(0.0, 40.0);
    let text = boards(
        [[0.0, long], [from, from + deep], [0.0, thick]],
        [[long, long + other], [0.0, 40.0 + deep], [-200.0, 220.0]],
        ["x", "z"],
        "",
    );
    if lot.of(3) > 0 {
        return (text, thick);
    }
    let by = lot.between(-80.0, 80.0);
    let turned = format!(", turn: #{{ axis: \"y\", by: {by:?}, about: [0, 0, 0] }} }});\n");
    (
        text.replace(" });\nlet b", &format!("{turned}let b")).replace(" });\n\n", &format!("{turned}\n")),
        thick,
    )
}

/// Works a joint by lot: solids close, the parts stand clear of one another and
/// the joint's sides match. False where it was refused with a reason.
fn stands(text: &str, works: &str) -> bool {
    let text = format!("{text}{works}\n");
    let (job, problems) = worked("test", &text, &[]);
    if !problems.is_empty() {
        let codes =
            ["does-not-fit", "breaks-through", "inserts-collide", "too-near-the-edge", "no-such-edge"];
        assert!(codes.iter().any(|c| problems.contains(c)), "{text}{problems}");
        return false;
    }
    let job = {
        drop(job);
        good(&text)
    };
    sides_match(&job);
    true
}

#[test]
fn inserts_that_do_not_fit_are_said_with_figures() {
    let said = |works: &str| problem(&shelf_and_side(works));
    let apart = shelf_and_side("dowels(a, b);")
        .replace("618.0], y: [0.0, 300.0], z: [400", "615.0], y: [0.0, 300.0], z: [400");
    let thin = shelf_and_side("dowels(a, b);").replace("[400.0, 418.0]", "[400.0, 410.0]");
    let cases = [
        ("apart", problem(&apart)),
        ("no room for any dowel", problem(&thin)),
        ("dowel too thick", said("dowels(a, b, #{ dowel: \"16x40\" });")),
        ("dowel too short", said("dowels(a, b, #{ dowel: \"8x12\" });")),
        ("too many dowels", said("dowels(a, b, #{ dowel: \"8x40\", count: 30 });")),
        ("dowels near the end", said("dowels(a, b, #{ dowel: \"8x40\", inset: 5 });")),
        ("dowels past one another", said("dowels(a, b, #{ dowel: \"8x40\", inset: 160 });")),
        ("dowel too long", said("dowels(a, b, #{ dowel: \"8x700\" });")),
        ("offset without a side", said("dowels(a, b, #{ offset: 2 });")),
        ("offset too far", said("dowels(a, b, #{ offset: 8, toward: \"top\" });")),
        ("offset along the row", said("dowels(a, b, #{ offset: 8, toward: \"right\" });")),
        ("joined to itself", said("dowels(a, a);")),
        ("too many biscuits", said("biscuits(a, b, #{ size: \"20\", count: 5 });")),
        ("biscuits near the end", said("biscuits(a, b, #{ size: \"20\", inset: 20 });")),
        (
            "biscuit through a thin side",
            problem(&shelf_and_side("biscuits(a, b, #{ size: \"20\" });").replace("636.0]", "633.0]")),
        ),
        (
            "edge too thin for a biscuit",
            problem(&shelf_and_side("biscuits(a, b);").replace("418.0]", "408.0]")),
        ),
        (
            "board too narrow for a biscuit",
            problem(&shelf_and_side("biscuits(a, b);").replace("y: [0.0, 300.0]", "y: [0.0, 50.0]")),
        ),
    ];
    golden(file!(), &cases);
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn dowels_by_lot_match() {
        let mut made = 0;
        for seed in 0..60 {
            let mut lot = Lot(seed);
            let (text, thick) = joint_by_lot(&mut lot);
            let mut options = Vec::new();
            if lot.of(2) == 0 {
                options.push(format!("dowel: \"{}x{}\"", 6 + 2 * lot.of(3), 30 + 5 * lot.of(5)));
            }
            match lot.of(3) {
                0 => options.push(format!("count: {}", 1 + lot.of(5))),
                1 => options.push(format!("spacing: {}", lot.between(30.0, 200.0))),
                _ => {}
            }
            if lot.of(3) == 0 {
                options.push(format!("offset: {}, toward: \"top\"", lot.between(0.5, thick / 8.0)));
            }
            made += usize::from(stands(&text, &format!("dowels(a, b, #{{ {} }});", options.join(", "))));
        }
        assert!(made >= 40, "only {made} of 60 could be made");
    }
}
