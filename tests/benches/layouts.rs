//! Layout benchmarks. `cargo bench --bench layouts -- table` prints classes x
//! ours, bound, best known, library; without `table` it times single jobs.
//! Data, papers and figures: see `tests/data/layouts/README.md`.
#![allow(missing_docs, clippy::unwrap_used, clippy::print_stdout, reason = "a bench prints its table")]

#[path = "../cutting/checker.rs"]
#[allow(dead_code, reason = "shared with the tests")]
mod layouts_checker;
#[path = "../cutting/instances.rs"]
#[allow(dead_code, reason = "shared with the tests")]
mod layouts_data;
#[path = "layouts_table.rs"]
mod layouts_table;
#[path = "timer.rs"]
mod timer;

use rodwright::cutting::sheets::{Effort, lay_out};

fn main() {
    // Cargo adds flags of its own.
    let words: Vec<String> = std::env::args().filter(|word| !word.starts_with("--")).collect();
    if let Some(at) = words.iter().position(|word| word == "table") {
        layouts_table::print(&words[at + 1..]);
        return;
    }
    if let Some(lines) = layouts_data::lines("furniture_dev_sheets") {
        let job = layouts_data::furniture_job(&lines[0]);
        let first = Effort { steps: 0, offcut_steps: 0, seed: 1, searches: 1 };
        timer::time("kitchen, first answer", || lay_out(&job, first, &|| false));
        timer::time("kitchen, settled", || lay_out(&job, Effort::default(), &|| false));
    }
}
