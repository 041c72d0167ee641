//! What a running script has made so far.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use crate::geometry::DVec3;
use crate::measure::{LengthStyle, Unit};
use crate::model::{Cutting, Job, JobHead, OrderAsked, PartId};
use crate::problem::{Problem, Severity};
use crate::script::asked::Asked;
use crate::script::given::Given;
use crate::script::pose::Beside;
use crate::script::request::{Limits, Request};
use crate::script::text;
use crate::source::{Origin, Source, Sources};

/// The greatest length that is shown in plain figures, mm: what is more is a slip.
const PLAIN: f64 = 1.0e7;

/// The run shared between the words of one engine.
pub(in crate::script) type Shared = Rc<RefCell<Run>>;

/// What a running script has made so far.
#[derive(Debug)]
#[expect(clippy::struct_excessive_bools, reason = "each says by itself what has been said already")]
pub(in crate::script) struct Run {
    /// The job.
    pub(in crate::script) job: Job,
    /// For each part, the two corners of the space it fills in its piece, mm.
    pub(in crate::script) spaces: Vec<(DVec3, DVec3)>,
    /// For each part, the marks the script asks for.
    pub(in crate::script) marks: Vec<Asked>,
    /// Texts read.
    pub(in crate::script) sources: Sources,
    /// Everything found.
    pub(in crate::script) problems: Vec<Problem>,
    /// By the place of an error in `problems`, how many more like it were not kept.
    unsaid: BTreeMap<usize, usize>,
    /// Values from outside, by name.
    pub(in crate::script) settings: Vec<(String, String)>,
    /// Names of `settings` that some declaration took.
    pub(in crate::script) taken: BTreeSet<String>,
    /// Stocks that types of the library were given, each once.
    pub(in crate::script) given: Vec<Given>,
    /// Whether `job` has been said.
    pub(in crate::script) job_said: bool,
    /// Whether any other word has been said.
    pub(in crate::script) begun: bool,
    /// Whether words now run inside `after_glue_up`.
    pub(in crate::script) after_glue_up: bool,
    /// How much the script may do.
    pub(in crate::script) limits: Limits,
    /// The unit of plain numbers where the word now running was written; the
    /// job's where it is `None`.
    numbers: Option<Unit>,
    /// How far parts now made stand from where they are written, mm.
    pub(in crate::script) shift: DVec3,
    /// What is known of the part now being placed.
    pub(in crate::script) beside: Beside,
    /// Whether the numbers of the word now running are counts.
    pub(in crate::script) counted: bool,
    /// Whether a word has ended the script; the reason is reported.
    pub(in crate::script) ended: bool,
    /// Bytes that words have handed over so far.
    pub(in crate::script) data: usize,
}

impl Run {
    /// A run that has made nothing.
    pub(in crate::script) fn new(request: &Request) -> Self {
        let source =
            Source { name: request.name.clone(), text: request.text.as_str().into(), library: false };
        Self {
            job: empty_job(),
            spaces: Vec::new(),
            marks: Vec::new(),
            sources: Sources { list: vec![source] },
            problems: Vec::new(),
            unsaid: BTreeMap::new(),
            settings: request.settings.clone(),
            taken: BTreeSet::new(),
            given: Vec::new(),
            job_said: false,
            begun: false,
            after_glue_up: false,
            limits: request.limits,
            numbers: None,
            shift: DVec3::ZERO,
            beside: Beside::default(),
            counted: false,
            ended: false,
            data: 0,
        }
    }

    /// Keeps a problem, once: a loop says the same thing many times. Of
    /// problems that differ only in what they name, one place has at most three, of errors
    /// two; how many more there were is counted.
    pub(in crate::script) fn report(&mut self, problem: Problem) {
        let alike = |p: &&Problem| {
            p.severity == problem.severity && p.code == problem.code && p.places == problem.places
        };
        let same_place = self.problems.iter().filter(alike).count();
        let wrong = problem.severity == Severity::Error;
        let most = if wrong { SAID_AT_ONE_PLACE - 1 } else { SAID_AT_ONE_PLACE };
        let crowded = !problem.places.is_empty() && same_place >= most;
        if self.problems.contains(&problem) {
            return;
        }
        if !crowded {
            self.problems.push(problem);
        } else if wrong && let Some(first) = self.problems.iter().position(|p| alike(&p)) {
            *self.unsaid.entry(first).or_default() += 1;
        }
    }

    /// Takes all problems out; of errors that one line makes again and again the first is
    /// told, with their number.
    pub(in crate::script) fn take_problems(&mut self) -> Vec<Problem> {
        let mut problems = std::mem::take(&mut self.problems);
        // From the last on, so that what stands before keeps its place.
        for (first, unsaid) in std::mem::take(&mut self.unsaid).into_iter().rev() {
            let Some(problem) = problems.get_mut(first) else { continue };
            problem.message = format!("{} (and {} more like it from this line)", problem.message, unsaid + 1);
            let (code, places) = (problem.code, problem.places.clone());
            let second = problems.iter().skip(first + 1).position(|p| p.code == code && p.places == places);
            if let Some(second) = second {
                problems.remove(first + 1 + second);
            }
        }
        problems
    }

    /// Whether so much is wrong that the rest would only repeat it.
    pub(in crate::script) fn too_many_problems(&self) -> bool {
        self.problems.len() >= self.limits.problems
    }

    /// Whether the job has grown past the limits of a script.
    pub(in crate::script) fn too_large(&self) -> bool {
        self.job.parts.len() > self.limits.parts
            || self.piece_too_large()
            || self.too_much_work()
            || self.job.notes.len() > self.limits.notes
            || self.data > self.limits.data
    }

    /// Whether there is more to be drawn than memory is kept for: parts and what is cut in them.
    pub(in crate::script) fn too_much_work(&self) -> bool {
        self.job.parts.len() + self.job.works.len() > self.limits.works
    }

    /// Whether the last piece has too many parts: those of a piece follow one another.
    pub(in crate::script) fn piece_too_large(&self) -> bool {
        let piece = |part: &crate::model::Part| part.piece;
        let before = self.job.parts.len().checked_sub(self.limits.in_piece + 1);
        let first = before.and_then(|at| self.job.parts.get(at)).map(piece);
        first.is_some() && first == self.job.parts.last().map(piece)
    }

    /// The unit of plain numbers: in the furniture library always mm, so that a
    /// type is the same in a script of inches.
    pub(in crate::script) fn unit(&self) -> Unit {
        self.numbers.unwrap_or(self.job.unit)
    }

    /// Plain numbers are now read as they are meant at `at`.
    pub(in crate::script) fn numbers_of(&mut self, at: Origin) {
        self.numbers = at.library.map(|_| Unit::Mm);
    }

    /// Plain numbers are now read in `unit`.
    pub(in crate::script) fn numbers_in(&mut self, unit: Unit) {
        self.numbers = Some(unit);
    }

    /// A length in mm as the script's author would write it, with its unit.
    pub(in crate::script) fn show(&self, mm: f64) -> String {
        match self.job.unit {
            _ if mm.abs() > PLAIN => format!("{mm:e} mm"),
            Unit::Mm => format!("{} mm", crate::measure::number(mm, 3)),
            Unit::Inch => LengthStyle { finest: 64, ..LengthStyle::INCH }.text(mm),
        }
    }

    /// The name of a part.
    pub(in crate::script) fn name(&self, part: PartId) -> &str {
        self.job.parts.get(part.0).map_or("", |p| &p.name)
    }

    /// The space a part fills on an axis (0 x, 1 y, 2 z), mm.
    pub(in crate::script) fn space(&self, part: PartId, axis: usize) -> (f64, f64) {
        self.spaces
            .get(part.0)
            .map_or((0.0, 0.0), |(low, high)| (low.to_array()[axis], high.to_array()[axis]))
    }

    /// The place to point at for a key of the option map of a call: in the
    /// text the call stands in.
    pub(in crate::script) fn key_origin(&self, at: Origin, key: &str) -> Origin {
        let call = at.library.unwrap_or(at.user);
        let Some(source) = self.sources.get(call.source) else { return at };
        let whole = text::call(&source.text, call.start);
        let Some(found) = text::key(&source.text, whole, key) else { return at };
        let span = crate::source::Span { start: found.start, end: found.end, ..call };
        if at.library.is_some() { Origin { library: Some(span), ..at } } else { Origin { user: span, ..at } }
    }
}

/// Problems of one code kept for one place of the script.
const SAID_AT_ONE_PLACE: usize = 3;

/// A job with nothing in it.
fn empty_job() -> Job {
    Job {
        head: JobHead::default(),
        unit: Unit::Mm,
        sizes: Vec::new(),
        stock: Vec::new(),
        pieces: Vec::new(),
        parts: Vec::new(),
        works: Vec::new(),
        grain_runs: Vec::new(),
        already_cut: BTreeMap::new(),
        cutting: Cutting::default(),
        order: OrderAsked::default(),
        load: None,
        site: None,
        obstacles: Vec::new(),
        scribes: Vec::new(),
        notes: Vec::new(),
        finish: None,
        sold: Vec::new(),
    }
}
