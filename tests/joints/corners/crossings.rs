//! Halvings and bridles: two parts drawn through one another share what both
//! fill. Volumes are closed forms of what each loses.

use rodwright::joinery::WorkedJob;
use rodwright::solid::Standing;

use crate::support::golden::golden;
use crate::support::joints::{boards, clear_of_one_another, good, near, problem, removed, worked};
use crate::support::lot::Lot;
use crate::support::said::called;

/// Rails `a` along x and `b` along y of 60 and 40 wide, 24 thick; `a` begins and
/// `b` ends so far from the crossing as said.
fn rails(a: [f64; 2], b: [f64; 2], works: &str) -> String {
    boards([a, [0.0, 60.0], [0.0, 24.0]], [[0.0, 40.0], b, [0.0, 24.0]], ["x", "y"], works)
}

/// The three ways two rails cross.
const CROSS: ([f64; 2], [f64; 2]) = ([-200.0, 300.0], [-150.0, 400.0]);
const TEE: ([f64; 2], [f64; 2]) = ([-200.0, 300.0], [0.0, 400.0]);
const CORNER: ([f64; 2], [f64; 2]) = ([0.0, 300.0], [0.0, 400.0]);

/// What both keep is what was drawn, once.
fn shares(job: &WorkedJob, both: f64) {
    let drawn: f64 = job.parts.iter().map(|p| p.size.element_product()).sum();
    let kept: f64 = job.parts.iter().map(|p| p.solid.volume()).sum();
    near(kept, drawn - both);
    clear_of_one_another(job);
}

/// Area on which the two parts touch, mm2.
fn touching(job: &WorkedJob) -> f64 {
    let standing = |k: usize| Standing::new(&job.parts[k].solid, &job.parts[k].at);
    standing(0).contacts(&standing(1)).iter().map(|c| c.area).sum()
}

#[test]
fn halvings_take_half_of_each() {
    for (kind, (a, b)) in [("cross", CROSS), ("tee", TEE), ("corner", CORNER)] {
        let job = good(&rails(a, b, "halving(a, b);"));
        assert_eq!(called(&job, 0), format!("{kind} halving, 12 mm deep in both"));
        near(removed(&job, 0), 60.0 * 40.0 * 12.0);
        near(removed(&job, 1), 60.0 * 40.0 * 12.0);
        shares(&job, 60.0 * 40.0 * 24.0);
        // The list has them as long as drawn.
        near(job.parts[0].size.x, a[1] - a[0]);
        // Half-way up they lie on one another; beside it shoulders meet sides.
        let ends = if kind == "cross" {
            2.0 * 60.0 + 2.0 * 40.0
        } else if kind == "tee" {
            2.0 * 60.0 + 40.0
        } else {
            60.0 + 40.0
        };
        near(touching(&job), 60.0 * 40.0 + 12.0 * ends);
    }
}

#[test]
fn the_first_lies_over_the_second() {
    let job = good(&rails(CROSS.0, CROSS.1, "halving(a, b, #{ depth: 8 });"));
    near(removed(&job, 0), 60.0 * 40.0 * 8.0);
    near(removed(&job, 1), 60.0 * 40.0 * 16.0);
    // Seen from below the first keeps the lower side.
    let job = good(&rails(CROSS.0, CROSS.1, "halving(a, b, #{ depth: 8, over: \"bottom\" });"));
    near(removed(&job, 0), 60.0 * 40.0 * 8.0);
    let cut = &job.parts[0].cuts[0].shape;
    let z: Vec<f64> = rodwright::joinery::corners(cut).iter().map(|p| job.parts[0].at.point(*p).z).collect();
    near(z.iter().copied().fold(f64::INFINITY, f64::min), 16.0);
    // A thin rail goes over where it lies flush, from whichever side that is.
    let flush = rails(CROSS.0, CROSS.1, "halving(a, b);").replacen("z: [0.0, 24.0]", "z: [0.0, 10.0]", 1);
    let job = good(&flush);
    near(removed(&job, 0), 60.0 * 40.0 * 5.0);
    near(removed(&job, 1), 60.0 * 40.0 * 5.0);
}

#[test]
fn crossed_panels_are_halved_along_their_width() {
    let text = boards(
        [[0.0, 500.0], [0.0, 200.0], [90.0, 102.0]],
        [[240.0, 252.0], [0.0, 200.0], [0.0, 300.0]],
        ["x", "z"],
        "halving(a, b);",
    );
    let job = good(&text);
    near(removed(&job, 0), 12.0 * 12.0 * 100.0);
    near(removed(&job, 1), 12.0 * 12.0 * 100.0);
}

#[test]
fn rails_that_cross_askew_are_halved_on_the_slant() {
    // At 60 degrees two rails of 60 and 40 share a rhomboid of 60 x 40 / sin 60.
    let text = rails([-300.0, 300.0], [-300.0, 300.0], "halving(a, b);")
        .replace("grain: \"y\"", "grain: \"y\", turn: #{ axis: \"z\", by: 30, about: [20, 30, 0] }");
    let job = good(&text);
    let both = 60.0 * 40.0 / (0.75_f64).sqrt();
    near(removed(&job, 0), both * 12.0);
    near(removed(&job, 1), both * 12.0);
    shares(&job, both * 24.0);
}

#[test]
fn bridles_sit_astride() {
    // A third of 24 is 8. At a corner the second is forked, at a tee the one
    // that ends.
    for (kind, (a, b)) in [("tee", TEE), ("corner", CORNER)] {
        for works in ["bridle(a, b);", "bridle(a, b, #{ thickness: 10, offset: 2, toward: \"top\" });"] {
            let job = good(&rails(a, b, works));
            let thick = if works.contains("10") { 10.0 } else { 8.0 };
            assert_eq!(called(&job, 0), format!("{kind} bridle, tongue {thick} mm"));
            near(removed(&job, 0), 60.0 * 40.0 * (24.0 - thick));
            near(removed(&job, 1), 60.0 * 40.0 * thick);
            shares(&job, 60.0 * 40.0 * 24.0);
        }
    }
    let job = good(&rails(TEE.0, TEE.1, "bridle(b, a);"));
    near(removed(&job, 0), 60.0 * 40.0 * 16.0);
    assert_eq!(job.joints[0].parts, [1, 0]);
}

#[test]
fn crossings_by_lot_share_what_both_fill() {
    let mut made = 0;
    for seed in 300..380 {
        let mut lot = Lot(seed);
        let (wa, wb) = (lot.between(20.0, 150.0), lot.between(20.0, 150.0));
        let (ta, tb) = (lot.between(10.0, 60.0), lot.between(10.0, 60.0));
        let equal = lot.of(2) == 0;
        let tb = if equal { ta } else { tb };
        let low = if lot.of(2) == 0 { 0.0 } else { ta - tb };
        let far = |lot: &mut Lot| if lot.of(2) == 0 { 0.0 } else { -lot.between(20.0, 300.0) };
        let (from_a, from_b) = (far(&mut lot), far(&mut lot));
        let bridled = lot.of(2) == 0;
        let mut options = Vec::new();
        if lot.of(3) == 0 {
            let (key, most) = if bridled { ("thickness", 20.0) } else { ("depth", 40.0) };
            options.push(format!("{key}: {}", lot.between(3.0, most)));
        }
        if !bridled && lot.of(3) == 0 {
            options.push(format!("over: \"{}\"", ["top", "bottom"][lot.of(2)]));
        }
        let word = if bridled { "bridle" } else { "halving" };
        let mut text = boards(
            [[from_a, wb + 300.0], [0.0, wa], [0.0, ta]],
            [[0.0, wb], [from_b, wa + 250.0], [low, low + tb]],
            ["x", "y"],
            &format!("{word}(a, b, #{{ {} }});", options.join(", ")),
        );
        if lot.of(3) == 0 {
            let turn = format!(
                ", turn: #{{ axis: \"x\", by: {:?}, about: [0, 0, 0] }} }});",
                lot.between(-60.0, 60.0)
            );
            text = text
                .replace(" });\nlet b", &format!("{turn}\nlet b"))
                .replace(&format!(" }});\n{word}"), &format!("{turn}\n{word}"));
        } else if !bridled && from_a < 0.0 && from_b < 0.0 && lot.of(2) == 0 {
            let turn = format!(
                "grain: \"y\", turn: #{{ axis: \"z\", by: {:?}, about: [{:?}, {:?}, 0] }}",
                lot.between(-15.0, 15.0),
                wb / 2.0,
                wa / 2.0
            );
            text = text.replace("grain: \"y\"", &turn);
        }
        let (job, problems) = worked("test", &text, &[]);
        if problems.contains("error[") {
            let codes = ["does-not-fit", "too-little-left", "tenon-too-thick", "no-corner", "no-such-edge"];
            assert!(codes.iter().any(|c| problems.contains(c)), "{text}{problems}");
            continue;
        }
        made += 1;
        let slant = text.split("axis: \"z\", by: ").nth(1).map_or(1.0, |t| {
            let by: f64 = t.split(',').next().unwrap().parse().unwrap();
            rodwright::geometry::trig::sin_cos(by.to_radians()).1
        });
        let high = ta.min(low + tb) - low.max(0.0);
        shares(&job, wa * wb / slant * high);
        // The two sides lie on one another over all of their floors.
        assert!(touching(&job) > wa * wb - 1e-3, "{text}");
    }
    assert!(made >= 40, "only {made} of 80 could be made");
}

#[test]
fn crossings_that_cannot_be_made_are_said_with_figures() {
    let said = |at: ([f64; 2], [f64; 2]), works: &str| problem(&rails(at.0, at.1, works));
    let apart = ([45.0, 300.0], [0.0, 400.0]);
    let touch = ([40.0, 300.0], [0.0, 400.0]);
    let proud = |works: &str| rails(CROSS.0, CROSS.1, works).replacen("z: [0.0, 24.0]", "z: [-5.0, 30.0]", 1);
    let tilted = rails(CROSS.0, CROSS.1, "halving(a, b);")
        .replace("grain: \"y\"", "grain: \"y\", turn: #{ axis: \"y\", by: 20, about: [20, 0, 12] }");
    let cases = [
        ("apart", said(apart, "halving(a, b);")),
        ("halving that only touches", said(touch, "halving(a, b);")),
        ("bridle that only touches", said(touch, "bridle(a, b);")),
        ("proud below", problem(&proud("halving(a, b);"))),
        ("proud above", problem(&proud("halving(b, a, #{ over: \"top\" });"))),
        ("tilted", problem(&tilted)),
        (
            "tilted and laid over",
            problem(&tilted.replace("halving(a, b)", "halving(a, b, #{ over: \"top\" })")),
        ),
        ("too deep", said(CROSS, "halving(a, b, #{ depth: 22 });")),
        ("too shallow", said(CROSS, "halving(a, b, #{ depth: 2 });")),
        ("as deep as the part", said(CROSS, "halving(a, b, #{ depth: 30 });")),
        ("bridle where neither ends", said(CROSS, "bridle(a, b);")),
        ("tongue too thick", said(CORNER, "bridle(a, b, #{ thickness: 20 });")),
        ("tongue moved too far", said(CORNER, "bridle(a, b, #{ offset: 7, toward: \"top\" });")),
        ("tongue moved along", said(CORNER, "bridle(a, b, #{ offset: 7, toward: \"left\" });")),
        ("offset without a side", said(CORNER, "bridle(a, b, #{ offset: 2 });")),
        ("joined to itself", said(CORNER, "bridle(a, a);")),
    ];
    golden(file!(), &cases);
}
