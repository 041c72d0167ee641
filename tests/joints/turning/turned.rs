//! Turned work: volumes against the formulas of cones and tori, rings and hollows
//! on drawings and lists, and what cannot be turned said with figures.

use std::f64::consts::PI;

use rodwright::cutting::{Bought, cutting_list, shop_lists};
use rodwright::drawing::{Look, Paper, Profile, part_sheets};
use rodwright::geometry::Placement;
use rodwright::joinery::{FillShape, WorkedJob};
use rodwright::machining::Machined;
use rodwright::measure::Unit;
use rodwright::model::Job;
use rodwright::paper::Ink;
use rodwright::solid::{Station, Transition, Turning};
use rodwright::wording::Words;

use crate::support::golden::{golden, without_places};
use crate::support::joints::{good, problem, worked};
use crate::support::lot::Lot;
use crate::support::scripts::request;

/// A job with one turned part, `post`, of these stations, then `works`.
fn post(stations: &str, works: &str) -> String {
    format!(
        "job(\"Test\", #{{ unit: \"mm\" }});\nlet ash = blank_stock(\"Ash\", #{{ density: 680 }});\n\
         piece(\"Piece\", #{{ count: 2 }});\nlet post = turned(\"Post\", ash, #{{ from: [40, 40, 0], along: \"z\", \
         stations: {stations} }});\n{works}\n"
    )
}

/// The job and what is made of it.
fn made(text: &str) -> (Job, WorkedJob) {
    rodwright::examine(&request("test", text.into())).worked.unwrap()
}

fn turning(stations: &[(f64, f64, Transition)]) -> Turning {
    let station = |s: &(f64, f64, Transition)| Station { along: s.0, diameter: s.1, then: s.2 };
    Turning { at: Placement::IDENTITY, stations: stations.iter().map(station).collect() }
}

#[track_caller]
fn near(a: f64, b: f64) {
    assert!((a - b).abs() <= 1e-9 * b.abs().max(1.0), "{a} is not {b}");
}

use Transition::{Bead, Cove, Straight};

/// Frustum of a cone: pi h (R2 + R r + r2) / 3 (Euclid, Elements XII, by its pyramid).
#[test]
fn cylinders_and_tapers_are_frustums() {
    let leg = turning(&[(0.0, 24.0, Straight), (300.0, 40.0, Straight), (400.0, 40.0, Straight)]);
    let cone = PI * 300.0 * (144.0 + 12.0 * 20.0 + 400.0) / 3.0;
    near(leg.volume(0.0, 400.0), cone + PI * 400.0 * 100.0);
    // Half of the taper ends at a radius of 16.
    near(leg.volume(0.0, 150.0), PI * 150.0 * (144.0 + 12.0 * 16.0 + 256.0) / 3.0);
    near(leg.radius(150.0).unwrap(), 16.0);
    assert_eq!(leg.radius(401.0), None);
}

/// A fillet keeps its diameter and ends in a square step, a spigot is a shoulder and
/// a cylinder: cylinders and one frustum add up.
#[test]
fn fillets_step_square_and_tapers_run_on() {
    let stations = "[[0, 20], [25, 20], [25, 36, \"fillet\"], [29, 30, \"taper\"], [129, 24, \"straight\"], \
                    [140, 24, \"fillet\"], [146, 24]]";
    let (job, worked) = made(&post(stations, ""));
    let rodwright::model::Form::Turned(made_of) = &job.parts[0].form else { panic!() };
    let places: Vec<(f64, f64)> = made_of.iter().map(|s| (s.along, s.diameter)).collect();
    let at =
        [(0.0, 20.0), (25.0, 20.0), (25.0, 36.0), (29.0, 36.0), (29.0, 30.0), (129.0, 24.0), (140.0, 24.0)];
    assert_eq!(places[..7], at);
    let exact =
        PI * (25.0 * 100.0 + 4.0 * 324.0 + 100.0 * (225.0 + 15.0 * 12.0 + 144.0) / 3.0 + 17.0 * 144.0);
    let turning = turning(&made_of.iter().map(|s| (s.along, s.diameter, s.then)).collect::<Vec<_>>());
    near(turning.volume(0.0, 146.0), exact);
    let share = worked.parts[0].solid.volume() / exact;
    assert!((0.996..0.9985).contains(&share), "{share}");
}

/// A half round turned about an axis: its area times the way of its centre, which
/// lies 4 a / (3 pi) from its diameter (Pappus of Alexandria, Collection VII).
#[test]
fn beads_and_coves_are_halves_of_a_torus() {
    let (r, a) = (15.0, 6.0);
    let half = 0.5 * PI * a * a;
    let centre = 4.0 * a / (3.0 * PI);
    let bead = turning(&[(0.0, 2.0 * r, Bead), (a, 2.0 * (r + a), Bead), (2.0 * a, 2.0 * r, Straight)]);
    near(bead.volume(0.0, 2.0 * a), PI * r * r * 2.0 * a + 2.0 * PI * (r + centre) * half);
    near(bead.volume(a, 2.0 * a), 0.5 * bead.volume(0.0, 2.0 * a));
    let cove = turning(&[(0.0, 2.0 * r, Cove), (a, 2.0 * (r - a), Cove), (2.0 * a, 2.0 * r, Straight)]);
    near(cove.volume(0.0, 2.0 * a), PI * r * r * 2.0 * a - 2.0 * PI * (r - centre) * half);
    // Parts of a band add up to it.
    near(cove.volume(0.0, 2.0) + cove.volume(2.0, 7.0) + cove.volume(7.0, 12.0), cove.volume(0.0, 12.0));
}

/// The solid of 48 facets keeps its corners on the true profile.
#[test]
fn solids_come_near_the_formulas_from_inside() {
    let stations = "[[0, 40], [60, 40, \"cove\"], [75, 28], [200, 34, \"bead\"], [212, 44, \"bead\"], [224, 34], [300, 34]]";
    let job = good(&post(stations, ""));
    let whole = turning(&[
        (0.0, 40.0, Straight),
        (60.0, 40.0, Cove),
        (75.0, 28.0, Straight),
        (200.0, 34.0, Bead),
        (212.0, 44.0, Bead),
        (224.0, 34.0, Straight),
        (300.0, 34.0, Straight),
    ])
    .volume(0.0, 300.0);
    let share = job.parts[0].solid.volume() / whole;
    // A polygon of 48 corners has 0.99715 of its circle.
    assert!((0.994..0.9985).contains(&share), "{share}");
    // What is weighed is the true round.
    near(job.parts[0].solid.true_volume(), whole);
}

#[test]
fn a_ring_on_a_cylinder_takes_its_formula() {
    let (job, worked) = made(&post(
        "[[0, 60], [400, 60]]",
        "rings(post, #{ at: [100, 120], width: 6, depth: 3, fill: \"black resin\", density: 1100, waste: 20 });",
    ));
    let part = &worked.parts[0];
    assert_eq!(part.fills.len(), 2);
    // pi w t (2 r - t).
    let ring = PI * 6.0 * 3.0 * (2.0 * 30.0 - 3.0);
    for fill in &part.fills {
        near(fill.volume, ring);
    }
    let (lists, problems) = shop_lists(&Machined::new(&job, &worked));
    assert!(problems.is_empty());
    let row = &lists.list.parts[0];
    assert_eq!(
        Words::of(Unit::Mm).remarks(row),
        "2 rings 6 wide, 3 deep, black resin; 40 of its rough length to chuck it"
    );
    assert_eq!(row.rough, Some([440.0, 65.0, 65.0]));
    // Turned truly round, not to facets.
    let mass = (PI * 30.0 * 30.0 * 400.0 - 2.0 * ring) * 680e-9 + 2.0 * ring * 1100e-9;
    assert!((row.mass.unwrap() - mass).abs() <= 5.1e-4);
    // Two pieces, two rings each, a fifth over: rounded up to the gram.
    let line = lists
        .buying
        .lines
        .iter()
        .find(|l| matches!(&l.what, Bought::Filling(what) if what == "black resin"))
        .unwrap();
    let kg = 4.0 * ring * 1.2 * 1100e-9;
    assert!(line.quantity >= kg && line.quantity < kg + 0.001, "{} {kg}", line.quantity);
    let note = Words::of(Unit::Mm).note(line.note.as_ref());
    assert_eq!((line.unit.sign(), note.as_str()), ("kg", "4 inlays, 12.9 cm³; 20 % waste in it; 1100 kg/m³"));
}

#[test]
fn rings_on_a_taper_and_hollows_take_theirs() {
    let (_, worked) = made(&post(
        "[[0, 40], [300, 60]]",
        "rings(post, #{ at: 150, width: 12, depth: 4 });\nhollow(post, #{ diameter: 30, depth: 8, fill: \"brass\" });",
    ));
    let [ring, hollow] = [&worked.parts[0].fills[0], &worked.parts[0].fills[1]];
    let (a, b) = (20.0 + 10.0 * 144.0 / 300.0, 20.0 + 10.0 * 156.0 / 300.0);
    near(ring.volume, PI * 12.0 * ((a * a + a * b + b * b) / 3.0 - (a - 4.0) * (a - 4.0)));
    assert!((ring.density == Some(1100.0)) && !ring.stated);
    near(hollow.volume, PI * 225.0 * 8.0);
    assert_eq!(hollow.density, None);
    assert!(matches!(hollow.shape, FillShape::Hollow { far: true, .. }));
}

/// Posts by lot with rings by lot: what is filled has its formula, the shape of the
/// part stays, and parts that differ only in rings are numbered apart.
#[test]
fn rings_by_lot() {
    let mut kept = 0;
    for seed in 900..950 {
        let mut lot = Lot(seed);
        let (d, top) = (lot.between(24.0, 110.0), lot.between(24.0, 110.0));
        let stations = format!("[[0, {d:?}], [250, {d:?}], [600, {top:?}]]");
        let count = 1 + lot.of(4);
        let (width, depth) = (lot.between(1.5, 20.0), lot.between(0.5, 16.0));
        let at: Vec<f64> = (0..count).map(|_| lot.between(5.0, 590.0)).collect();
        let works = format!("rings(post, #{{ at: {at:?}, width: {width:?}, depth: {depth:?} }});");
        let (job, problems) = worked("test", &post(&stations, &works), &[]);
        if problems.contains("error[") {
            let codes = ["breaks-through", "rings-collide", "runs-off", "ring-on-slope"];
            assert!(codes.iter().any(|c| problems.contains(c)), "{works}{problems}");
            continue;
        }
        kept += 1;
        let plain = good(&post(&stations, ""));
        let part = &job.parts[0];
        near(part.solid.volume(), plain.parts[0].solid.volume());
        assert_eq!(part.fills.len(), count);
        let radius = |x: f64| if x < 250.0 { 0.5 * d } else { 0.5 * (d + (top - d) * (x - 250.0) / 350.0) };
        for (fill, at) in part.fills.iter().zip(&at) {
            // By the sum of a thousand slices.
            let (from, to) = (at - 0.5 * width, at + 0.5 * width);
            let core = radius(from).min(radius(to)) - depth;
            let slice =
                |k: u32| radius(from + (to - from) * (f64::from(k) + 0.5) / 1000.0).powi(2) - core * core;
            let sum: f64 = (0..1000).map(slice).sum::<f64>() * PI * (to - from) / 1000.0;
            assert!((fill.volume - sum).abs() < 1e-5 * sum, "{} {sum}", fill.volume);
            assert!(core >= 0.5 * (core + depth) - 1e-9);
        }
        let both = format!(
            "{works}\nturned(\"Other\", ash, #{{ from: [240, 40, 0], along: \"z\", stations: {stations} }});"
        );
        let job = good(&post(&stations, &both));
        assert_eq!(job.parts.iter().map(|p| p.number).collect::<Vec<_>>(), [1, 2]);
    }
    assert!(kept >= 20, "only {kept} of 50 could be made");
}

/// The profile read back from the table of diameters is the profile.
#[test]
fn the_table_of_diameters_makes_the_post() {
    let stations = "[[0, 64], [150, 64, \"cove\"], [170, 44], [430, 50], [740, 42, \"cove\"], [756, 60], [842, 60, \"bead\"], [866, 30]]";
    let works = "rings(post, #{ at: [60, 84], width: 8, depth: 4 });";
    let (job, worked) = made(&post(stations, works));
    let look = Look::new(Paper::A3, Unit::Mm, Profile::Iso);
    let mut rows: Vec<(f64, f64, f64, String)> = Vec::new();
    for (k, sheet) in part_sheets(&Machined::new(&job, &worked), &look).iter().enumerate() {
        for mark in sheet.marks.iter().filter(|m| m.shows.part == "1") {
            let Ink::Text(text) = &mark.ink else { continue };
            let key = k as f64 * 1e4 + (text.at.y * 10.0).round();
            rows.push((key, text.at.x, text.at.y, text.reading()));
        }
    }
    rows.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut found: Vec<(f64, f64, String)> = Vec::new();
    for row in rows.chunk_by(|a, b| (a.0 - b.0).abs() < 0.5) {
        let cells: Vec<&str> = row.iter().map(|r| r.3.as_str()).collect();
        let [at, diameter, says] = cells.as_slice() else { continue };
        let Some(Ok(diameter)) = diameter.strip_prefix("⌀ ").map(str::parse) else { continue };
        found.push((at.parse().unwrap(), diameter, (*says).to_owned()));
    }
    // Rings by their edges, 4 either side of 60 and 84, to a core of 56.
    let edges: Vec<(f64, &str)> =
        found.iter().filter(|r| r.2.starts_with("inlay")).map(|r| (r.0, r.2.as_str())).collect();
    assert_eq!(
        edges,
        [
            (56.0, "inlay 1: groove to ⌀ 56, resin"),
            (64.0, "inlay 1 ends"),
            (80.0, "inlay 2: groove to ⌀ 56, resin"),
            (88.0, "inlay 2 ends"),
        ]
    );
    let read: Vec<(f64, f64, Transition)> = found
        .iter()
        .filter(|r| !r.2.starts_with("inlay"))
        .map(|r| {
            let then = match r.2.as_str() {
                "cove" => Cove,
                "bead" => Bead,
                "cylinder" | "taper" | "shoulder" | "right end" => Straight,
                other => panic!("{other}"),
            };
            (r.0, r.1, then)
        })
        .collect();
    let drawn = turning(&[
        (0.0, 64.0, Straight),
        (150.0, 64.0, Cove),
        (170.0, 44.0, Straight),
        (430.0, 50.0, Straight),
        (740.0, 42.0, Cove),
        (756.0, 60.0, Straight),
        (842.0, 60.0, Bead),
        (866.0, 30.0, Straight),
    ]);
    assert_eq!(turning(&read).stations, drawn.stations);
}

/// What a job says though it is made all the same.
fn warned(text: &str) -> String {
    let (job, worked) = made(text);
    let (_, problems) = shop_lists(&Machined::new(&job, &worked));
    without_places(&problems)
}

/// Bores into round sides by lot: closed, and as deep as asked below the side.
#[test]
fn bores_in_round_sides_by_lot() {
    for seed in 300..330 {
        let mut lot = Lot(seed);
        let d = lot.between(30.0, 120.0);
        let bore = lot.between(4.0, 0.5 * d);
        let depth = lot.between(0.3 * d, 0.7 * d);
        let at = lot.between(bore, 400.0 - bore);
        let side = ["left", "right", "front", "back"][lot.of(4)];
        let stations = format!("[[0, {d:?}], [400, {d:?}]]");
        let works = format!(
            "hole(post, \"{side}\", #{{ diameter: {bore:?}, along: [{at:?}], across: {:?}, depth: {depth:?} }});",
            0.5 * d
        );
        let whole = good(&post(&stations, "")).parts[0].solid.volume();
        let taken = whole - good(&post(&stations, &works)).parts[0].solid.volume();
        // The bore is of 32 corners; its mouth is lower at the sides than in the
        // middle, by less than the height of the bow.
        let area = crate::support::joints::round(bore);
        let bow = 0.5 * d - (0.25 * (d * d - bore * bore)).sqrt() + 0.0022 * 0.5 * d;
        assert!(taken < area * depth && taken > area * (depth - bow), "{works} {taken} {}", area * depth);
    }
}

/// What is found on the finished job.
fn checked(works: &str) -> String {
    let problems = rodwright::examine(&request("test", post("[[0, 60], [400, 60]]", works))).problems;
    without_places(&problems)
}

#[test]
fn cuts_clear_of_inlays_are_let_be() {
    // Beside the ring; along the axis inside its core.
    for hole in [
        "hole(post, \"front\", #{ diameter: 10, along: [120], across: 30, depth: 20 });",
        "hole(post, \"bottom\", #{ diameter: 20, along: [30], across: 30, depth: 150 });",
    ] {
        let said = checked(&format!("rings(post, #{{ at: 100, depth: 6 }});\nhollow(post, #{{}});\n{hole}"));
        assert_eq!(said, "", "{hole}");
    }
}

#[test]
fn what_cannot_be_turned_is_said_with_figures() {
    let said = |works: &str| problem(&post("[[0, 60], [150, 60], [300, 30], [400, 30]]", works));
    let flat =
        post("[[0, 60], [400, 60]]", "").replace("turned(", "board(").replace("blank_stock(", "board_stock(");
    let flat = flat.replace(
        "from: [40, 40, 0], along: \"z\", stations: [[0, 60], [400, 60]]",
        "x: [0, 60], y: [0, 60], z: [0, 400]",
    );
    let small = |options: &str| {
        post("[[0, 60], [400, 60]]", "").replace("density: 680", &format!("density: 680, {options}"))
    };
    let profile = |stations: &str| problem(&post(stations, ""));
    let cases = [
        ("no length", profile("[[0, 60], [0, 40]]")),
        ("taper that keeps its diameter", profile("[[0, 60], [100, 60, \"taper\"], [200, 60]]")),
        ("fillet without length", profile("[[0, 60], [100, 60, \"fillet\"], [100, 50], [200, 50]]")),
        ("no such form", profile("[[0, 60], [100, 60, \"ogee\"], [200, 50]]")),
        ("stations out of order", profile("[[0, 60], [100, 60], [80, 50]]")),
        ("rings nowhere", said("rings(post, #{ at: [] });")),
        ("ring off the near end", said("rings(post, #{ at: 2 });")),
        ("ring off the far end", said("rings(post, #{ at: 398 });")),
        ("ring too deep for the neck", said("rings(post, #{ at: 350, depth: 9 });")),
        ("ring deeper than the post", said("rings(post, #{ at: 50, depth: 40 });")),
        ("rings overlap", said("rings(post, #{ at: [50, 54] });")),
        ("rings too near", said("rings(post, #{ at: 50 });\nrings(post, #{ at: 58 });")),
        ("ring on a taper", said("rings(post, #{ at: 220, width: 20 });")),
        ("hollow too wide", said("hollow(post, #{ diameter: 26 });")),
        ("hollow too deep", said("hollow(post, #{ end: \"bottom\", diameter: 20, depth: 220 });")),
        ("hollow at no end", said("hollow(post, #{ end: \"front\" });")),
        ("ring on a board", problem(&format!("{flat}rings(post, #{{ at: 50 }});\n"))),
        ("hollow in a board", problem(&format!("{flat}hollow(post, #{{}});\n"))),
        ("blank of no thickness", problem(&small("square: [0, 40]"))),
        (
            "hole through a ring",
            checked(
                "rings(post, #{ at: 100 });\nhole(post, \"front\", #{ diameter: 10, along: [104], across: 30, depth: 20 });",
            ),
        ),
        (
            "hole through a hollow",
            checked(
                "hollow(post, #{});\nhole(post, \"top\", #{ diameter: 10, along: [30], across: 30, depth: 20 });",
            ),
        ),
        ("no blank thick enough", warned(&small("square: [50, 40]"))),
        ("no blank long enough", warned(&small("square: 80, longest: 420"))),
    ];
    let seat = |top: f64, stations: &str, works: &str| {
        let text = post(stations, "").replace("piece(", "let elm = board_stock(\"Elm\");\npiece(");
        let board = "let seat = board(\"Seat\", elm, #{ x: [0, 300], y: [0, 300], z: [400, TOP] });\n";
        format!("{text}{}{works}\n", board.replace("TOP", &format!("{top:?}")))
    };
    let leg = "[[0, 30], [400, 36], [400, 24], [430, 24]]";
    let standing = |works: &str| seat(436.0, leg, works);
    let cases = [
        &cases[..],
        &[("spigot of a board", problem(&standing("spigot(seat, post);"))),
("spigot in itself", problem(&standing("spigot(post, post);"))),
("spigot in what is turned", problem(&(seat(436.0, leg, "") + "let rail = turned(\"Rail\", ash, #{ from: [0, 40, 430], along: \"x\", stations: [[0, 60], [300, 60]] });\nspigot(post, rail);\n"))),
("no spigot", problem(&seat(436.0, "[[0, 30], [400, 36]]", "spigot(post, seat);"))),
("tapered spigot", problem(&seat(436.0, "[[0, 30], [400, 36], [430, 24]]", "spigot(post, seat);"))),
("spigot to the bottom", problem(&seat(434.0, leg, "spigot(post, seat);"))),
("spigot at the edge", problem(&standing("spigot(post, seat);").replace("x: [0, 300]", "x: [27, 300]"))),
("tenon on a turned part", problem(&seat(436.0, "[[0, 30], [400, 36]]", "mortise_tenon(post, seat);"))),
("proud spigot", crate::support::joints::warned(&seat(425.0, leg, "spigot(post, seat);"))),
("short spigot", crate::support::joints::warned(&seat(436.0, "[[0, 30], [400, 36], [400, 24], [420, 24]]", "spigot(post, seat);")))],
    ]
    .concat();
    golden(file!(), &cases);
    // The least blank that holds it.
    let (job, worked) = made(&small("square: [80, 50, 65]"));
    assert_eq!(cutting_list(&job, &worked).parts[0].rough, Some([440.0, 65.0, 65.0]));
}
