//! The script run against the joinery vocabulary.
//!
//! Comes in: the script's text, settings from outside, a [`Loader`] for the
//! modules beside it, the words joinery offers. Goes out: an [`Evaluated`]
//! with the job and every problem found. The only module that names rhai; it
//! knows nothing of solids and drawings. Scripts reach no file, clock, network or
//! chance.

mod american;
mod arithmetic;
mod bounded;
mod declared;
mod engine;
mod failure;
mod marks;
mod modules;
mod origin;
mod read;
mod read_corners;
mod read_stations;
mod read_stock;
mod reference;
mod run;
mod takes;
mod text;
mod value;
mod words;

pub use reference::{Chapter, Furniture, Saying, chapters, furniture};
pub use takes::{Take, TakeKind};

use std::sync::{Arc, Mutex};

use crate::model::{Job, SizeDecl, Word};
use crate::problem::Problem;
use crate::source::Sources;

/// What to evaluate.
#[derive(Clone)]
pub struct Request {
    /// The name the script is shown under: the path as typed.
    pub name: String,
    /// Its text.
    pub text: String,
    /// Values for declared sizes, name and text, as `--set` gives them.
    pub settings: Vec<(String, String)>,
    /// Reads modules beside the script.
    pub loader: Arc<dyn Loader>,
    /// Joints, shapings and fittings.
    pub words: &'static [&'static Word],
    /// How much a script may do.
    pub limits: Limits,
}

/// What evaluating gave.
#[derive(Debug, Default)]
pub struct Evaluated {
    /// All texts read, the script first.
    pub sources: Sources,
    /// The job, if the script ran to its end; spoilt parts and works are left
    /// out and each has a problem of severity error.
    pub job: Option<Job>,
    /// Everything found, in the order found.
    pub problems: Vec<Problem>,
}

/// What can be changed from outside.
#[derive(Debug, Default)]
pub struct Declared {
    /// All texts read, the script first.
    pub sources: Sources,
    /// The title of the job, if it states one.
    pub title: String,
    /// The unit plain numbers are in.
    pub unit: Option<crate::measure::Unit>,
    /// The declarations in script order.
    pub sizes: Vec<SizeDecl>,
    /// What could not be read.
    pub problems: Vec<Problem>,
}

/// The world outside a script: modules beside it, and patience.
pub trait Loader: Send + Sync {
    /// The text of the module at `path`, which is relative to the script's
    /// folder, has `/` between its parts and no `..` part. The loader must
    /// refuse what a link leads out of that folder.
    fn read(&self, path: &str) -> Result<String, LoadError>;

    /// Whether the script has run too long. Asked now and then.
    fn time_is_up(&self) -> bool {
        false
    }
}

/// Why a module could not be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LoadError {
    /// There is no such file.
    NotFound,
    /// A link leads out of the script's folder.
    Outside,
    /// It is larger than [`Limits::text`].
    TooLarge,
    /// It is not UTF-8 text.
    NotText,
    /// The system refused, in its own words.
    Unreadable(String),
}

/// A loader for scripts that stand alone.
#[derive(Clone, Copy, Debug)]
pub struct NoModules;

impl Loader for NoModules {
    fn read(&self, _path: &str) -> Result<String, LoadError> {
        Err(LoadError::NotFound)
    }
}

/// How much a script may do. The same script meets the same limit everywhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Steps of the engine.
    pub operations: u64,
    /// Calls inside calls.
    pub calls: usize,
    /// Entries of a list or map.
    pub entries: usize,
    /// Bytes of a text value or a script.
    pub text: usize,
    /// Bytes that the words of a script hand over in all: names, notes, lists.
    pub data: usize,
    /// Parts of a job.
    pub parts: usize,
    /// Joints, shapings and fittings of a job.
    pub works: usize,
    /// Problems collected before evaluating stops.
    pub problems: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            operations: 20_000_000,
            calls: 64,
            entries: 10_000,
            text: 1_000_000,
            data: 20_000_000,
            parts: 5_000,
            works: 20_000,
            problems: 100,
        }
    }
}

/// Stack of the thread a script runs on: rhai takes 11-13 kB for each call in
/// release builds and far more in debug builds.
const STACK: usize = 64 << 20;

/// Runs a script. Never panics and never runs for ever, whatever the text.
pub fn evaluate(request: &Request) -> Evaluated {
    on_wide_stack(|| engine::evaluate(request))
}

/// Reads what a script lets be changed, without running the rest of it.
pub fn declared(request: &Request) -> Declared {
    on_wide_stack(|| declared::declared(request))
}

/// Our word for one of the American trade, where there is one.
pub fn british(word: &str) -> Option<&'static str> {
    american::ours(word)
}

/// The words of the language itself, beside those joinery offers.
pub fn own_words() -> Vec<&'static Word> {
    words::own().map(|(word, _)| word).collect()
}

/// Runs `job` on a thread with room for deep calls; here if no thread can be
/// had: the limit on calls fits a usual stack too.
fn on_wide_stack<T: Send>(job: impl FnOnce() -> T + Send) -> T {
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
