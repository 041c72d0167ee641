//! Pieces by lot: every one goes together, and its order can be played forward.

use std::time::Instant;

use rodwright::assembly::assembly_orders;

use super::order::carcase;
use super::play::execute;
use crate::library::made::{chosen, made, sizes, started, tries};

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn types_at_any_size_go_together() {
        for name in chosen() {
            let text = started(name, "mm");
            for seed in 0..tries() {
                let settings = sizes(name, &text, seed);
                let Some((job, worked)) = made(name, &text, &settings) else { continue };
                let (orders, problems) = assembly_orders(&job, &worked);
                assert!(problems.is_empty(), "{name} {settings:?}: {problems:?}");
                for order in &orders {
                    execute(&worked, order);
                }
            }
        }
    }

    /// Unoptimised a plan takes some ten times as long as it may: this is here to be read
    /// with `--nocapture`, and fails only where the time grows out of all proportion.
    #[test]
    fn many_parts_take_no_more_than_their_time() {
        let mut times = Vec::new();
        for shelves in [57, 397] {
            let (job, worked) = carcase(shelves, 900.0, true, true);
            let start = Instant::now();
            let (orders, problems) = assembly_orders(&job, &worked);
            times.push(start.elapsed().as_secs_f64());
            assert!(problems.is_empty() && orders.len() == 1);
        }
        eprintln!("60 parts {:.3} s, 400 parts {:.3} s", times[0], times[1]);
        assert!(times[1] < 200.0 * times[0].max(0.01), "{times:?}");
    }
}
