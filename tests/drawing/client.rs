//! The sheet for the client: that it opens the set where it is asked for, and shows the
//! piece lit, with its grain.

use rodwright::assembly::assembly_orders;
use rodwright::cutting::shop_lists;
use rodwright::drawing::{Look, Paper, Profile, draw};
use rodwright::joinery::WorkedJob;
use rodwright::machining::Machined;
use rodwright::measure::Unit;
use rodwright::model::Job;
use rodwright::paper::lint::judge_set;
use rodwright::paper::{Ink, Role, Sheet};

use crate::support::pieces::cabinet;
use crate::support::scripts::{made, request};

fn set(job: &Job, worked: &WorkedJob, look: &Look) -> Vec<Sheet> {
    let machined = Machined::new(job, worked);
    let orders = assembly_orders(job, worked).0;
    draw(&machined, &shop_lists(&machined).0, &orders, look).0
}

fn asked(paper: Paper, unit: Unit, profile: Profile) -> Look {
    Look { client: true, ..Look::new(paper, unit, profile) }
}

fn words(sheet: &Sheet) -> String {
    let texts = sheet.marks.iter().filter_map(|mark| match &mark.ink {
        Ink::Text(text) => Some(text.reading()),
        Ink::Stroke { .. } | Ink::Fill { .. } => None,
    });
    texts.collect::<Vec<_>>().join(" ")
}

#[test]
fn it_opens_the_set_where_it_is_asked_for_and_nowhere_else() {
    let (job, worked) = cabinet();
    for (paper, unit, profile) in [
        (Paper::A3, Unit::Mm, Profile::Iso),
        (Paper::A4, Unit::Mm, Profile::Iso),
        (Paper::Letter, Unit::Inch, Profile::Asme),
    ] {
        let look = asked(paper, unit, profile);
        let with = set(&job, &worked, &look);
        let without = set(&job, &worked, &Look { client: false, ..look.clone() });
        assert_eq!(with.len(), without.len() + 1, "{paper:?}");
        assert!(with[0].title.ends_with("for the client"), "{}", with[0].title);
        assert!(without.iter().all(|sheet| !sheet.title.contains("for the client")));
        let found: Vec<String> = judge_set(&with).iter().map(|found| format!("{found:?}")).collect();
        assert!(found.is_empty(), "{paper:?}: {found:#?}");
        let said = words(&with[0]);
        for word in ["wide", "high", "deep", "Materials", "Finish"] {
            assert!(said.contains(word), "{paper:?}: no {word} in {said}");
        }
    }
}

/// A job of one board, its grain level or upright.
fn board(grain: &str, x: f64, z: f64) -> (Job, WorkedJob) {
    made(&format!(
        r#"job("Board", #{{ unit: "mm" }});
let oak = board_stock("Oak", #{{ thick: [60], species: "white ash" }});
piece("Board");
board("Board", oak, #{{ x: [0, {x:?}], y: [0, 40], z: [0, {z:?}], grain: "{grain}" }});"#
    ))
}

/// Lengths of the figure's strokes on the sheet: all, and those within 15 degrees of
/// upright.
fn strokes(sheet: &Sheet) -> (f64, f64) {
    let mut sums = (0.0, 0.0);
    for mark in sheet.marks.iter().filter(|mark| mark.role == Role::Hatch) {
        let Ink::Stroke { path, .. } = &mark.ink else { continue };
        for line in path.segments() {
            let (from, to) = (kurbo::ParamCurve::start(&line), kurbo::ParamCurve::end(&line));
            let long = (to - from).hypot();
            sums.0 += long;
            if (to.x - from.x).abs() < long * libm::sin(15.0_f64.to_radians()) {
                sums.1 += long;
            }
        }
    }
    sums
}

/// Upright lines stay upright in two-point perspective, so strokes along upright grain
/// stand, and none does where the grain runs level.
#[test]
fn the_figure_follows_the_grain() {
    let look = asked(Paper::A3, Unit::Mm, Profile::Iso);
    for (grain, x, z) in [("z", 300.0, 800.0), ("x", 800.0, 300.0)] {
        let (job, worked) = board(grain, x, z);
        let (all, upright) = strokes(&set(&job, &worked, &look)[0]);
        assert!(all > 300.0, "{grain}: {all:.0} mm of strokes");
        let share = upright / all;
        let right = if grain == "z" { share > 0.95 } else { share < 0.05 };
        assert!(right, "{grain}: {share:.2} of the strokes are upright");
    }
}

/// The light comes from the upper left: of a board that stands, the top is lightest, then
/// the front, and the right side is darkest; its shadow on the floor is lighter still
/// than that side.
#[test]
fn faces_are_toned_by_light() {
    let (job, worked) = board("z", 300.0, 800.0);
    let sheet = &set(&job, &worked, &asked(Paper::A3, Unit::Mm, Profile::Iso))[0];
    let mut tones: Vec<(f64, f32)> = Vec::new();
    for mark in sheet.marks.iter().filter(|mark| mark.role == Role::Hatch) {
        if let Ink::Fill { path, grey } = &mark.ink {
            tones.push((kurbo::Shape::bounding_box(path).y0, *grey));
        }
    }
    // The shadow, front, top and right side: four tones, none of them black or white.
    assert_eq!(tones.len(), 4, "{tones:?}");
    assert!(tones.iter().all(|(_, grey)| (0.5..1.0).contains(grey)), "{tones:?}");
    let top = tones.iter().map(|t| t.0).fold(f64::INFINITY, f64::min);
    let lightest = tones.iter().copied().max_by(|a, b| a.1.total_cmp(&b.1)).unwrap();
    assert!((lightest.0 - top).abs() < 1e-6, "the top is not lightest: {tones:?}");
    let mut greys: Vec<f32> = tones.iter().map(|t| t.1).collect();
    greys.sort_by(f32::total_cmp);
    greys.dedup();
    assert_eq!(greys.len(), 4, "two faces of one tone: {tones:?}");
}

/// Names of nearly the greatest length find a place, on further sheets if need be.
#[test]
fn long_words_run_on() {
    let name = "Cupboard for the reading room ".repeat(6);
    let text = format!(
        r#"job("{name}", #{{ unit: "mm", client: "{name}", place: "{name}" }});
let oak = board_stock("{name}", #{{ thick: [60], species: "white ash" }});
piece("{name}");
for i in 0..40 {{ board("{name} " + i, oak, #{{ x: [0, 300 + i], y: [40 * i, 40 * i + 40], z: [0, 800], grain: "z" }}); }}
for i in 0..30 {{ count("choice_" + i, 3, #{{ from: 1, to: 9, says: "{name}" }}); }}"#
    );
    // That the boards are held by nothing is said, and is no error.
    let (job, worked) = rodwright::examine(&request("long", text)).worked.unwrap();
    let look = asked(Paper::A4, Unit::Mm, Profile::Iso);
    let sheets = set(&job, &worked, &look);
    let own: Vec<Sheet> = sheets.into_iter().filter(|sheet| sheet.title.contains("for the client")).collect();
    assert!(!own.is_empty());
    for sheet in &own {
        for mark in sheet.marks.iter().filter(|mark| mark.role != Role::Frame) {
            let bounds = mark.bounds();
            assert!(sheet.space.inflate(0.4, 0.4).union(bounds) == sheet.space.inflate(0.4, 0.4), "{mark:?}");
        }
    }
}
