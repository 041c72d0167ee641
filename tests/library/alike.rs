//! Every type makes the same parts in a script in inches as in one in millimetres: nothing
//! of a type may hang on how a length is rounded.

use std::collections::BTreeMap;

use rodwright::examine;
use rodwright::joinery::WorkedPart;

use crate::library::made::{request, started, types};

/// Names of the parts that `start` and some settings make of a type, and how many of each.
fn parts(name: &str, unit: &str, settings: &[(String, String)]) -> BTreeMap<String, usize> {
    let done = examine(&request(name, &started(name, unit), settings.to_vec()));
    let (_, worked) = done.worked.unwrap();
    let mut found = BTreeMap::new();
    for part in &worked.parts {
        *found.entry(part.name.clone()).or_default() += 1;
    }
    found
}

#[test]
fn a_type_makes_the_same_parts_in_inches() {
    for name in types() {
        // How many slats or pickets there are may hang on how they share a length evenly.
        let names = |unit| parts(name, unit, &[]).into_keys().collect::<Vec<String>>();
        assert_eq!(names("in"), names("mm"), "{name}");
    }
}

#[test]
fn a_frame_has_its_glass_or_mirror_in_inches() {
    for (holds, pane) in [("picture", "Glass"), ("notice", "Glass"), ("mirror", "Mirror")] {
        let asks = [("holds".to_owned(), holds.to_owned())];
        for unit in ["mm", "in"] {
            assert_eq!(parts("frame", unit, &asks).get(pane), Some(&1), "{holds} in {unit}");
        }
    }
}

/// The four legs of a table differ in pairs: a left and a right one in front, and behind. In
/// inches sums of their places are off by the last bit, and neither side of a square leg is
/// the thinner one by that.
#[test]
fn legs_of_a_table_are_mirror_images_in_either_unit() {
    for (unit, size) in [
        ("mm", "1370, width: 610, height: 750, drawer: 100"),
        ("in", "54, width: 24, height: 29.5, drawer: 4"),
    ] {
        let text = format!(
            "job(\"Desk\", #{{ unit: \"{unit}\" }});\nimport \"table\" as table;\npiece(\"Desk\");\n\
             table::make(#{{ length: {size}, drawer_width: {} }});\n",
            if unit == "in" { 20 } else { 500 }
        );
        let (_, worked) = examine(&request("desk", &text, Vec::new())).worked.unwrap();
        let legs: Vec<String> =
            worked.parts.iter().filter(|part| part.name.ends_with(" leg")).map(WorkedPart::mark).collect();
        assert_eq!(legs, ["1 L", "1 R", "2 L", "2 R"], "{unit}");
    }
}
