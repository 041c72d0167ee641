//! The whole tool, timed: one cabinet, and how the time grows with the parts.
//!
//! `cargo bench --bench setout` times the steps and then prints the
//! ratios that DEVELOPERS.md holds the program to.

#![allow(clippy::print_stdout, reason = "a bench prints its figures")]

use std::fmt::Write as _;
use std::hint::black_box;
use std::sync::Arc;
use std::time::{Duration, Instant};

#[path = "timer.rs"]
mod timer;

use rodwright::assembly::assembly_orders;
use rodwright::checks;
use rodwright::script::{Limits, NoModules, Request};
use rodwright::{Choices, draw, examine, script, set_out};
use timer::time;

const SIDEBOARD: &str = include_str!("../drawing/families/cases/sideboard.rhai");
const CABINET: &str = include_str!("../../scripts/periodicals_cabinet.rhai");

fn request(name: &str, text: String) -> Request {
    Request {
        name: name.into(),
        text,
        settings: Vec::new(),
        loader: Arc::new(NoModules),
        words: rodwright::words(),
        limits: Limits::default(),
    }
}

/// A run of `bays` open cases standing side by side as one piece: each has two
/// sides, a top, a bottom and two housed shelves, no two bays of one width.
fn run_of_bays(bays: usize) -> String {
    let mut text = String::from(
        "job(\"Run of bays\", #{ unit: \"mm\" });\n\
         let ply = sheet_stock(\"Ply\", #{ thick: 18, sheet: [2440, 1220], grain: \"length\" });\n\
         piece(\"Run\");\nlet x = 0;\n",
    );
    for i in 0..bays {
        let width = 90 + i;
        let _ = write!(
            text,
            "let l = panel(\"L{i}\", ply, #{{ x: [x, x + 18], y: [0, 250], z: [0, 700], grain: \"z\" }});\n\
             let r = panel(\"R{i}\", ply, #{{ x: [x + {width} - 18, x + {width}], y: [0, 250], z: [0, 700], grain: \"z\" }});\n\
             for z in [0, 220, 450, 682] {{\n\
             let b = panel(\"B{i}-\" + z, ply, #{{ x: between(l, r), y: [0, 250], z: [z, z + 18], grain: \"x\" }});\n\
             housing(b, l, #{{ depth: 6 }}); housing(b, r, #{{ depth: 6 }}); }}\n\
             x += {width};\n"
        );
    }
    text
}

fn median(mut run: impl FnMut(), times: usize) -> Duration {
    let mut all: Vec<Duration> = (0..times)
        .map(|_| {
            let start = Instant::now();
            run();
            start.elapsed()
        })
        .collect();
    all.sort();
    all[times / 2]
}

fn main() {
    let choices = Choices::default();
    let cabinet = request("periodicals_cabinet.rhai", CABINET.into());
    time("script of the cabinet", || script::evaluate(&cabinet));
    time("cabinet worked and checked", || examine(&cabinet));
    time("cabinet set out", || set_out(&cabinet, &choices));

    let whole = median(|| drop(black_box(set_out(&cabinet, &choices))), 9);
    let script_only = median(|| drop(black_box(script::evaluate(&cabinet))), 9);
    println!(
        "cabinet: {whole:?}, of which the script {:.1} %",
        100.0 * script_only.as_secs_f64() / whole.as_secs_f64()
    );
    sideboard(&choices);
    growth(&choices);
    drawing_growth(&choices);
    planning(&choices);
}

/// A sideboard of some forty parts, its whole set in all its files: under 250 ms,
/// the PDF under 400 kB, each sheet as SVG under 300 kB.
fn sideboard(choices: &Choices) {
    let mut asked = request("sideboard.rhai", SIDEBOARD.into());
    asked.settings = [("bays", "5"), ("width", "2100")].map(|(name, to)| (name.into(), to.into())).into();
    let set = set_out(&asked, choices);
    let parts = examine(&asked).worked.map_or(0, |(_, worked)| worked.parts.len());
    assert!(parts >= 40, "{parts} parts");
    let largest = |ending: &str| {
        let sizes = set.files.iter().filter(|f| f.name.ends_with(ending)).map(|f| f.bytes.len());
        sizes.max().unwrap_or(usize::MAX)
    };
    let (pdf, svg) = (largest(".pdf"), largest(".svg"));
    let time = median(|| drop(black_box(set_out(&asked, choices))), 15);
    println!("sideboard, {parts} parts: {time:?}; PDF {} kB, largest SVG {} kB", pdf / 1000, svg / 1000);
    assert!(pdf < 400_000 && svg < 300_000, "files too large");
    assert!(time < Duration::from_millis(250), "the sideboard takes {time:?}");
}

/// A run of bays as a request; it must set out without an error.
fn bays(count: usize, choices: &Choices) -> Request {
    let run = request("bays.rhai", run_of_bays(count));
    let set = set_out(&run, choices);
    assert!(!set.has_errors(), "{:?}", set.problems);
    run
}

/// Ten times the parts may cost fifteen times the time.
fn growth(choices: &Choices) {
    let (few, many) = (bays(3, choices), bays(30, choices));
    let small = median(|| drop(black_box(set_out(&few, choices))), 9);
    let large = median(|| drop(black_box(set_out(&many, choices))), 5);
    let ratio = large.as_secs_f64() / small.as_secs_f64();
    println!("18 parts: {small:?}; 180 parts: {large:?}; ten times the parts cost {ratio:.1} times the time");
    assert!(ratio <= 15.0, "ten times the parts cost {ratio:.1} times the time");
}

/// The drawing stage may grow as the power 1.3 of the parts, from 20 to 400.
fn drawing_growth(choices: &Choices) {
    let time = |count: usize| {
        let worked = examine(&bays(count, choices)).worked;
        let (job, worked) = worked.expect("a run of bays has no errors");
        let look = choices.look(&job);
        median(|| drop(black_box(draw(&job, &worked, &look))), 5)
    };
    // Six parts to a bay: 24 and 402 parts.
    let (small, large) = (time(4), time(67));
    let power = libm::log(large.as_secs_f64() / small.as_secs_f64()) / libm::log(402.0 / 24.0);
    println!("drawing alone, 24 parts: {small:?}; 402 parts: {large:?}; power {power:.2} of the parts");
    assert!(power <= 1.3, "the drawing stage grows as the power {power:.2} of the parts");
}

/// An order of 60 parts is found in 100 ms, of 400 in a second; 60 parts are checked in 10 ms.
fn planning(choices: &Choices) {
    for (count, most) in [(10, 100), (66, 1000)] {
        let worked = examine(&bays(count, choices)).worked;
        let (job, worked) = worked.expect("a run of bays has no errors");
        let order = median(|| drop(black_box(assembly_orders(&job, &worked))), 5);
        let checked = median(|| drop(black_box(checks::check(&job, &worked))), 5);
        println!("{} parts: order {order:?}, checks {checked:?}", worked.parts.len());
        assert!(order < Duration::from_millis(most), "the order takes {order:?}");
        assert!(count > 10 || checked < Duration::from_millis(10), "the checks take {checked:?}");
    }
}
