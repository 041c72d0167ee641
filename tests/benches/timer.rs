//! Times a piece of work.

use std::hint::black_box;
use std::time::{Duration, Instant};

/// How long a piece of work is done before it is timed, so that memory and caches
/// are as they will be.
const WARM_UP: Duration = Duration::from_millis(500);

/// How long it is timed, at least ten times over.
const TIMED: Duration = Duration::from_secs(2);

/// Prints the middle of the times that a piece of work takes, and the quarters
/// below and above it.
pub(crate) fn time<T>(name: &str, mut work: impl FnMut() -> T) {
    let begun = Instant::now();
    while begun.elapsed() < WARM_UP {
        black_box(work());
    }
    let (begun, mut times) = (Instant::now(), Vec::new());
    while times.len() < 10 || begun.elapsed() < TIMED {
        let start = Instant::now();
        black_box(work());
        times.push(start.elapsed());
    }
    times.sort();
    let at = |quarter: usize| times[(times.len() - 1) * quarter / 4];
    println!("{name}: {:?} ({:?} to {:?}, {} times)", at(2), at(1), at(3), times.len());
}
