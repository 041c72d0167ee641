//! The settings of whole jobs: from faces that are there, and every cut in them.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use rodwright::geometry::DVec3;
use rodwright::joinery::{Cut, Hand, PartSource, WorkedJob, WorkedPart, corners, lies_as_drawn};
use rodwright::machining::Machined;
use rodwright::machining::operation::State;
use rodwright::machining::setting::{Against, Setting};
use rodwright::model::{Face, Job};
use rodwright::script::{Limits, NoModules, Request};
use rodwright::{Choices, examine, set_out};

fn request(path: &Path) -> Request {
    Request {
        name: path.display().to_string(),
        text: std::fs::read_to_string(path).unwrap(),
        settings: Vec::new(),
        loader: Arc::new(NoModules),
        words: rodwright::words(),
        limits: Limits::default(),
    }
}

fn scripts() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts");
    let mut list: Vec<PathBuf> = std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    list.retain(|path| path.extension().is_some_and(|e| e == "rhai"));
    list.sort();
    list
}

fn jobs() -> Vec<(String, Job, WorkedJob)> {
    scripts()
        .iter()
        .map(|path| {
            let (job, worked) = examine(&request(path)).worked.unwrap();
            (path.display().to_string(), job, worked)
        })
        .collect()
}

/// A part and its lippings are one blank when joints are cut: its volume is theirs,
/// and its finished size is that of the panel and the lippings on it.
#[test]
fn lipped_parts_are_made_up_before_they_are_worked() {
    let mut lipped = 0;
    for (name, job, worked) in jobs() {
        let machined = Machined::new(&job, &worked);
        for (index, part) in worked.parts.iter().enumerate() {
            let lips: Vec<_> = worked
                .parts
                .iter()
                .filter(|lip| matches!(lip.source, PartSource::Lipping { of, .. } if of == index))
                .collect();
            if lips.is_empty() {
                assert!(machined.made_up(index).is_none());
                continue;
            }
            lipped += 1;
            let whole =
                machined.made_up(index).unwrap_or_else(|| panic!("{name}: {} is not made up", part.name));
            let volume = part.solid.volume() + lips.iter().map(|lip| lip.solid.volume()).sum::<f64>();
            assert!((whole.solid.volume() - volume).abs() < 1e-6 * volume, "{name}: {}", part.name);
            assert!(whole.size.cmpge(part.size - 1e-9).all() && whole.size != part.size);
        }
    }
    assert!(lipped > 6, "{lipped}");
}

/// Every loose cut of a lipped part waits until it is lipped and trimmed, no blade
/// tilts over 45 degrees, and every fence has a face against it.
#[test]
fn nothing_is_worked_from_what_is_not_there() {
    for (name, job, worked) in jobs() {
        let machined = Machined::new(&job, &worked);
        for index in 0..worked.parts.len() {
            let whole = machined.made_up(index).is_some();
            for operation in machined.operations(index) {
                let lipped = matches!(operation.state, State::Lipped | State::Trimmed | State::GluedUp);
                assert!(!whole || lipped, "{name}: {operation:?}");
                if let Setting::Tilt { angle, .. } | Setting::Stood { angle } = operation.setting {
                    assert!(angle <= 45.05, "{name}: {operation:?}");
                }
                if let Some(reach) = operation.fence {
                    assert!(reach.at.low >= -0.01 && reach.at.high <= reach.at.size + 0.01, "{operation:?}");
                }
            }
        }
        let text = set_out(&request(Path::new(&name)), &Choices::default());
        let json = text.files.iter().find(|file| file.name == "-settings.json").unwrap();
        let settings: serde_json::Value = serde_json::from_slice(&json.bytes).unwrap();
        for setup in settings["set_ups"].as_array().unwrap() {
            for turn in setup["turns"].as_array().unwrap() {
                let fenced = turn["against"]["what"] == "fence";
                assert!(!fenced || !turn["against"]["faces"].as_array().unwrap().is_empty(), "{setup}");
                assert!(!turn["uses"].as_array().unwrap().is_empty(), "{setup}");
            }
        }
    }
}

/// The side of the low bookcase by pencil and paper. It is 290 deep over a lipping of
/// 6, the shelves are housed 6 deep and stop 12 behind the front; their undersides are
/// at 90 and then every (850 - 90 - 18) / 3 = 247.33; the plinth's mortises lie 50
/// behind the front (40 + half of 20) and, in whole millimetres, 23 and 67 up.
#[test]
fn the_side_of_the_low_bookcase_is_set_from_its_finished_edge() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts/low_bookcase.rhai");
    let set = set_out(&request(&path), &Choices::default());
    let json = set.files.iter().find(|file| file.name == "-settings.json").unwrap();
    let settings: serde_json::Value = serde_json::from_slice(&json.bytes).unwrap();
    let all = settings["set_ups"].as_array().unwrap();
    let housing: Vec<_> = all.iter().filter(|setup| setup["task"]["cut"] == "housing").collect();
    assert_eq!(housing.len(), 1, "two mirrored sides are one set-up");
    let row = &housing[0]["fence"]["row"];
    let near = |value: &serde_json::Value, figure: f64| (value.as_f64().unwrap() - figure).abs() < 0.01;
    assert!(near(&row["first"], 90.0) && near(&row["last"], 832.0) && near(&row["pitch"], 247.33), "{row}");
    let stopped = &housing[0]["turns"][0]["stopped"];
    assert_eq!(stopped[0]["distances"]["each"], serde_json::json!([12.0]));
    // The right side is the mirror image of the left with its marks: both are told in one turn.
    let turns = housing[0]["turns"].as_array().unwrap();
    assert_eq!((turns.len(), turns[0]["uses"].as_array().unwrap().len()), (1, 2));
    let mortise = all.iter().find(|setup| setup["task"]["cut"] == "mortise").unwrap();
    assert_eq!(mortise["fence"]["each"], serde_json::json!([50.0]));
    assert_eq!(mortise["turns"][0]["stops"][0]["distances"]["each"], serde_json::json!([23.0, 67.0]));
    let state = &mortise["turns"][0]["uses"][0]["state"];
    assert_eq!(state, "trimmed");
}

/// The fence face of a cut is one the made-up part has.
#[test]
fn faces_against_fences_are_the_finished_ones() {
    for (_, job, worked) in jobs() {
        let machined = Machined::new(&job, &worked);
        for index in 0..worked.parts.len() {
            for operation in machined.operations(index) {
                if let Against::Lipping { face } = operation.against {
                    assert!(matches!(face, Face::Edge | Face::FarEdge | Face::NearEnd | Face::FarEnd));
                    assert_eq!(operation.state, State::Lipped);
                }
            }
        }
    }
}

/// The four legs of a table, all of one number: each, turned to lie as the first is drawn, or as
/// the mirror image of that from left to right, has its mortises where the drawing has them.
#[test]
fn every_leg_lies_as_the_first_is_drawn() {
    let text = crate::library::made::started("table", "mm");
    let (job, worked) = examine(&crate::support::scripts::request("table", text)).worked.unwrap();
    let legs: Vec<usize> = (0..4).collect();
    let drawn = legs.iter().map(|i| &worked.parts[*i]).find(|leg| leg.hand == Hand::Left).unwrap();
    let middle = |part: &WorkedPart, cut: &Cut| {
        let points = corners(&cut.shape);
        points.iter().sum::<DVec3>() / points.len() as f64 - 0.5 * part.size
    };
    let wanted: Vec<DVec3> = drawn.cuts.iter().map(|cut| middle(drawn, cut)).collect();
    let mut turned = 0;
    for leg in legs.iter().map(|i| &worked.parts[*i]) {
        let turn = lies_as_drawn(drawn, leg).unwrap();
        turned += usize::from(turn != DVec3::ONE);
        let image = if leg.hand == Hand::Right { DVec3::new(-1.0, 1.0, 1.0) } else { DVec3::ONE };
        for cut in &leg.cuts {
            let lies = middle(leg, cut) * turn * image;
            assert!(wanted.iter().any(|at| at.distance(lies) < 1e-6), "{}: {lies} {wanted:?}", leg.name);
        }
    }
    assert!(turned > 0);
    // Both hands are set as the left is.
    let machined = Machined::new(&job, &worked);
    let right = legs.iter().copied().find(|i| worked.parts[*i].hand == Hand::Right).unwrap();
    assert_eq!(worked.parts[machined.told_by(right)].name, drawn.name);
}
