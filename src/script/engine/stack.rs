//! The thread a script runs on.

use std::sync::Mutex;

/// Stack of the thread a script runs on: rhai takes 11-13 kB for each call in
/// release builds and far more in debug builds.
const STACK: usize = 64 << 20;

/// Runs `job` on a thread with room for deep calls; here if no thread can be
/// had: the limit on calls fits a usual stack too.
pub(in crate::script) fn on_wide_stack<T: Send>(job: impl FnOnce() -> T + Send) -> T {
    let job = Mutex::new(Some(job));
    let take = || job.lock().ok().and_then(|mut job| job.take());
    let done = std::thread::scope(|scope| {
        let run = || take().map(|job| job());
        match std::thread::Builder::new().stack_size(STACK).spawn_scoped(scope, run) {
            Ok(thread) => match thread.join() {
                Ok(done) => done,
                Err(panic) => std::panic::resume_unwind(panic),
            },
            Err(_no_thread) => None,
        }
    });
    match (done, take()) {
        (Some(done), _) => done,
        (None, Some(job)) => job(),
        (None, None) => unreachable!("the job is taken only to be run"),
    }
}
