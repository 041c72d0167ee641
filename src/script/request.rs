//! What is asked of a script, what it may do, and what running it gives.

use std::sync::Arc;

use crate::measure::Unit;
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

impl Request {
    /// What asks for no script: for what the language and the library are by themselves.
    pub(in crate::script) fn of_nothing() -> Self {
        Self {
            name: String::new(),
            text: String::new(),
            settings: Vec::new(),
            loader: Arc::new(NoModules),
            words: &[],
            limits: Limits::default(),
        }
    }
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
    pub unit: Option<Unit>,
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
    /// It is larger than [`Limits::script`].
    TooLarge,
    /// It is not UTF-8 text.
    NotText,
    /// The system refused, in its own words.
    Unreadable(String),
}

/// A loader for scripts that stand alone.
#[derive(Clone, Copy, Debug)]
pub struct NoModules;

/// How much a script may do. The same script meets the same limit everywhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Steps of the engine.
    pub operations: u64,
    /// Calls inside calls.
    pub calls: usize,
    /// Entries of a list or map.
    pub entries: usize,
    /// Bytes of a script.
    pub script: usize,
    /// Bytes of a text value.
    pub text: usize,
    /// About the bytes that all variables hold at a time.
    pub held: usize,
    /// Notes of a job.
    pub notes: usize,
    /// Things a script prints.
    pub printed: usize,
    /// Bytes that the words of a script hand over in all: names, notes, lists.
    pub data: usize,
    /// Parts of a job.
    pub parts: usize,
    /// Parts of one piece: its order of assembly says for each what stands already.
    pub in_piece: usize,
    /// Parts, joints, shapings and fittings of a job, together.
    pub works: usize,
    /// Problems collected before evaluating stops.
    pub problems: usize,
}

impl Loader for NoModules {
    fn read(&self, _path: &str) -> Result<String, LoadError> {
        Err(LoadError::NotFound)
    }
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            operations: 20_000_000,
            calls: 64,
            entries: 10_000,
            script: 1_000_000,
            text: 20_000,
            held: 50_000_000,
            notes: 200,
            printed: 50,
            data: 20_000_000,
            parts: 5_000,
            in_piece: 1_000,
            works: 8_000,
            problems: 100,
        }
    }
}
