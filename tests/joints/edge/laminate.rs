//! Layers glued face to face: areas are length by width, and what is left on
//! them twice their oversize (common practice, no source).

use std::fmt::Write as _;

use rodwright::assembly::{Watch, assembly_orders};
use rodwright::cutting::{Group, LaterCut, cutting_list, shop_lists};
use rodwright::joinery::WorkedJob;
use rodwright::machining::Machined;
use rodwright::solid::Standing;

use crate::support::golden::golden;
use crate::support::joints::{clear_of_one_another, near, problem, worked};
use crate::support::lot::Lot;
use crate::support::said::{called, setting};
use crate::support::scripts::made;

/// Layers of plywood `thick`, each on the last, and what is done with them.
fn pile(thick: &[f64], [long, wide]: [f64; 2], works: &str) -> String {
    let mut text = String::from(
        "job(\"Test\", #{ unit: \"mm\" });\nlet pine = board_stock(\"Pine\", #{ thick: [27, 34] });\n",
    );
    for (i, t) in thick.iter().enumerate() {
        let size = "sheet: [3050, 1525], grain: \"length\"";
        writeln!(text, "let ply{i} = sheet_stock(\"Ply {t} mm\", #{{ thick: {t:?}, {size} }});").unwrap();
    }
    text += "piece(\"Piece\");\n";
    let mut z = 0.0;
    for (i, t) in thick.iter().enumerate() {
        let spans = format!("x: [0.0, {long:?}], y: [0.0, {wide:?}], z: [{z:?}, {:?}]", z + t);
        writeln!(text, "let l{i} = panel(\"l{i}\", ply{i}, #{{ {spans}, grain: \"x\" }});").unwrap();
        z += t;
    }
    text + works + "\n"
}

/// Area on which two parts touch, mm2.
fn touching(job: &WorkedJob, a: usize, b: usize) -> f64 {
    let stands = |i: usize| Standing::new(&job.parts[i].solid, &job.parts[i].at);
    stands(a).contacts(&stands(b)).iter().map(|c| c.area).sum()
}

#[test]
fn layers_are_cut_over_size_and_glued_all_over() {
    let (job, worked) = made(&pile(&[18.0, 12.0, 18.0], [900.0, 300.0], "laminate([l0, l1, l2]);"));
    let (lists, problems) = shop_lists(&Machined::new(&job, &worked));
    assert!(problems.is_empty());
    // 5 on every edge; two glue lines of 0.9 by 0.3 m at 180 g/m2.
    for row in &lists.list.parts {
        let rough = row.rough.unwrap();
        near(rough[0], 910.0);
        near(rough[1], 310.0);
        assert_eq!(row.after_glue_up, [LaterCut::Trim]);
    }
    let glue = lists.buying.lines.iter().find(|l| l.group == Group::Glue).unwrap();
    // Ordered up to the next twentieth of a kilogram.
    let need = 2.0 * 0.27 * 0.18;
    assert!((need..need + 0.05).contains(&glue.quantity), "{glue:?}");
    assert_eq!(called(&worked, 0), "glued face to face");
    assert_eq!(setting(&worked, 0), "5 mm over on every edge, trimmed together");
}

#[test]
fn layers_are_glued_up_before_anything_is_joined_to_them() {
    // An edge named first, and a block that it is glued to.
    let works = "let edge = board(\"edge\", pine, #{ x: [0, 900], y: [-12, 0], z: [0, 54], grain: \"x\" });\n\
                 for l in [l0, l1, l2] { butt(edge, l); }\nlaminate([l0, l1, l2], #{ oversize: 8 });";
    let (job, worked) = made(&pile(&[18.0, 18.0, 18.0], [900.0, 300.0], works));
    let (orders, problems) = assembly_orders(&job, &worked);
    assert!(problems.is_empty());
    let steps = &orders[0].steps;
    let edge = worked.parts.iter().position(|p| p.name == "edge").unwrap();
    let last = steps.last().unwrap();
    assert_eq!(last.adds().collect::<Vec<_>>(), [edge]);
    assert!(steps[0].watch.contains(&Watch::PressLayers), "{:?}", steps[0]);
    let list = cutting_list(&job, &worked);
    near(list.parts.iter().find(|r| r.name.starts_with('l')).unwrap().rough.unwrap()[0], 916.0);
}

#[test]
fn layers_by_lot_lie_flat_on_one_another() {
    for seed in 0..24 {
        let mut lot = Lot(seed);
        let count = 2 + lot.of(4);
        let thick: Vec<f64> = (0..count).map(|_| lot.between(3.0, 40.0)).collect();
        let size = [lot.between(60.0, 1200.0), lot.between(40.0, 600.0)];
        let over = lot.between(0.0, 20.0);
        let names: Vec<String> = (0..count).map(|i| format!("l{i}")).collect();
        let mut text =
            pile(&thick, size, &format!("laminate([{}], #{{ oversize: {over:?} }});", names.join(", ")));
        if lot.of(3) == 0 {
            text = text.replace(
                "grain: \"x\" }",
                &format!(
                    "grain: \"x\", turn: #{{ axis: \"y\", by: {:?}, about: [0, 0, 0] }} }}",
                    lot.between(-40.0, 40.0)
                ),
            );
        }
        let (job, worked) = made(&text);
        clear_of_one_another(&worked);
        for joint in &worked.joints {
            let area = touching(&worked, joint.parts[0], joint.parts[1]);
            assert!((area - size[0] * size[1]).abs() < 1e-6 * area, "{text}");
        }
        let whole: f64 = worked.parts.iter().map(|p| p.solid.volume()).sum();
        near(whole, size[0] * size[1] * thick.iter().sum::<f64>());
        for row in &cutting_list(&job, &worked).parts {
            near(row.rough.unwrap()[0], size[0] + 2.0 * over);
        }
    }
}

#[test]
fn layers_that_cannot_be_glued_are_said() {
    let two = |works: &str| pile(&[18.0, 18.0], [900.0, 300.0], works);
    let apart = two("laminate([l0, l1]);").replace("[18.0, 36.0]", "[20.0, 38.0]");
    let beside = two("laminate([l0, l1]);")
        .replace("y: [0.0, 300.0], z: [18.0, 36.0]", "y: [300.0, 600.0], z: [0.0, 18.0]");
    let crossing = two("")
        + "let a = board(\"a\", pine, #{ x: [0, 900], y: [0, 300], z: [36, 58], grain: \"x\" });\n\
           let b = board(\"b\", pine, #{ x: [0, 900], y: [0, 300], z: [58, 80], grain: \"y\" });\n\
           laminate([l0, l1, a, b]);\n";
    let (job, said) = worked("test", &crossing, &[]);
    assert_eq!(job.joints.len(), 3);
    let said: String = said
        .lines()
        .filter(|l| l.starts_with("warning[") || l.contains("= help"))
        .map(|l| l.trim_start().to_owned() + "\n")
        .collect();
    let cases = [
        ("one layer", problem(&two("laminate([l0]);"))),
        ("one layer twice", problem(&two("laminate([l0, l0]);"))),
        ("apart", problem(&apart)),
        ("beside one another", problem(&beside)),
        ("oversize out of range", problem(&two("laminate([l0, l1], #{ oversize: 80 });"))),
        ("grain crosses", said),
    ];
    golden(file!(), &cases);
}
