//! The whole tool, timed: one cabinet, and how the time grows with the parts.
//!
//! `cargo bench --bench setout` times with criterion and then prints the
//! ratios that DEVELOPERS.md holds the program to.

#![allow(clippy::print_stdout, clippy::format_push_string, reason = "a bench prints its ratios")]

use std::hint::black_box;
use std::sync::Arc;
use std::time::{Duration, Instant};

use criterion::Criterion;
use rodwright::script::{Limits, NoModules, Request};
use rodwright::{Choices, examine, script, set_out};

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
        let width = 160 + 3 * i;
        text.push_str(&format!(
            "let l = panel(\"L{i}\", ply, #{{ x: [x, x + 18], y: [0, 250], z: [0, 700], grain: \"z\" }});\n\
             let r = panel(\"R{i}\", ply, #{{ x: [x + {width} - 18, x + {width}], y: [0, 250], z: [0, 700], grain: \"z\" }});\n\
             for z in [0, 220, 450, 682] {{\n\
             let b = panel(\"B{i}-\" + z, ply, #{{ x: between(l, r), y: [0, 250], z: [z, z + 18], grain: \"x\" }});\n\
             housing(b, l, #{{ depth: 6 }}); housing(b, r, #{{ depth: 6 }}); }}\n\
             x += {width};\n"
        ));
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
    let mut criterion = Criterion::default().configure_from_args().sample_size(10);
    criterion.bench_function("script of the cabinet", |b| b.iter(|| black_box(script::evaluate(&cabinet))));
    criterion.bench_function("cabinet worked and checked", |b| b.iter(|| black_box(examine(&cabinet))));
    criterion.bench_function("cabinet set out", |b| b.iter(|| black_box(set_out(&cabinet, &choices))));
    criterion.final_summary();

    let whole = median(|| drop(black_box(set_out(&cabinet, &choices))), 9);
    let script_only = median(|| drop(black_box(script::evaluate(&cabinet))), 9);
    println!(
        "cabinet: {whole:?}, of which the script {:.1} %",
        100.0 * script_only.as_secs_f64() / whole.as_secs_f64()
    );
    let few = request("few.rhai", run_of_bays(3));
    let many = request("many.rhai", run_of_bays(30));
    for set in [set_out(&few, &choices), set_out(&many, &choices)] {
        assert!(!set.has_errors(), "{:?}", set.problems);
    }
    let (small, large) = (
        median(|| drop(black_box(set_out(&few, &choices))), 5),
        median(|| drop(black_box(set_out(&many, &choices))), 3),
    );
    println!(
        "18 parts: {small:?}; 180 parts: {large:?}; ten times the parts cost {:.1} times the time",
        large.as_secs_f64() / small.as_secs_f64()
    );
}
