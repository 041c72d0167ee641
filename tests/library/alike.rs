//! Every type makes the same parts in a script in inches as in one in millimetres: nothing
//! of a type may hang on how a length is rounded.

use std::collections::BTreeMap;

use rodwright::examine;

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
