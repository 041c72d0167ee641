//! rodwright: from a short joinery script to shop drawings, lists and an
//! assembly order. The modules stand in reading order, which is dependency
//! order: each uses only those above it.

pub mod measure;
pub mod source;
pub mod problem;
pub mod geometry;
pub mod solid;
pub mod paper;
pub mod timber;
pub mod model;
pub mod script;
pub mod joinery;
pub mod machining;
pub mod checks;
pub mod cutting;
pub mod assembly;
pub mod estimate;
pub mod revision;
pub mod wording;
pub mod drawing;
pub mod exchange;
pub mod output;
pub mod quoting;
pub mod changing;
pub mod nearby;
pub mod cli;

use assembly::Order;
use changing::Before;
use cutting::{Nearby, ShopLists};
use drawing::Look;
use exchange::Exchange;
use joinery::WorkedJob;
use machining::Machined;
use model::{Job, Word};
use output::Finished;
use paper::Sheet;
use paper::lint::{Finding, LACKS};
use problem::{Problem, Severity};
use revision::{LeftOver, SavedJob, Standing, saved_layouts};
use script::Request;
use source::Sources;

pub use drawing::{Also, Choices};
pub use output::File;

/// The joints, shapings and fittings a script can use.
pub fn words() -> &'static [&'static Word] {
    joinery::words()
}

/// A drawing set with everything found on the way.
#[derive(Debug, Default)]
pub struct Set {
    /// All script texts.
    pub sources: Sources,
    /// Everything found, stage by stage.
    pub problems: Vec<Problem>,
    /// The files; none where an error spoils them.
    pub files: Vec<File>,
}

impl Set {
    /// Whether anything found is an error.
    pub fn has_errors(&self) -> bool {
        self.problems.iter().any(|p| p.severity == Severity::Error)
    }
}

/// A job with every joint worked, and everything found on the way.
#[derive(Debug, Default)]
pub struct Examined {
    /// All script texts.
    pub sources: Sources,
    /// Everything found, stage by stage.
    pub problems: Vec<Problem>,
    /// The job and its worked parts; none where an error spoils them.
    pub worked: Option<(Job, WorkedJob)>,
}

/// The first half of the pipeline: a script becomes worked parts. All that is found
/// is in the unit of the script, whatever unit its sheets are to be in.
pub fn examine(request: &Request) -> Examined {
    examine_together(std::slice::from_ref(request))
}

/// The same of several scripts, whose jobs are made one.
pub fn examine_together(requests: &[Request]) -> Examined {
    let (mut sources, mut problems, mut jobs) = (Sources::default(), Vec::new(), Vec::new());
    for request in requests {
        let mut evaluated = script::evaluate(request);
        let before = sources.list.len();
        sources.list.append(&mut evaluated.sources.list);
        problems.extend(evaluated.problems.into_iter().map(|problem| problem.after(before)));
        jobs.extend(evaluated.job.map(|job| (job, before)));
    }
    let wrong = |problems: &[Problem]| problems.iter().any(|p| p.severity == Severity::Error);
    let whole = if wrong(&problems) { None } else { Some(model::together(jobs)) };
    let job = whole.and_then(|(job, differ)| {
        problems.extend(differ);
        job
    });
    let Some(job) = job else {
        return Examined { sources, problems, worked: None };
    };
    let (worked, found) = joinery::work(&job);
    problems.extend(problem::fold(found));
    // What joinery could not make would only trip the checks again; but joints that are made and
    // run into one another stay so, and are told along with the rest.
    let found =
        if wrong(&problems) { checks::collisions(&job, &worked) } else { checks::check(&job, &worked) };
    problems.extend(problem::fold(found));
    let worked = (!wrong(&problems)).then_some((job, worked));
    Examined { sources, problems, worked }
}

/// The whole pipeline: a script becomes a drawing set.
pub fn set_out(request: &Request, choices: &Choices) -> Set {
    set_out_after(request, choices, &Before::default())
}

/// The same for a job of which there was a set before, and parts may be cut.
pub fn set_out_after(request: &Request, choices: &Choices, before: &Before) -> Set {
    let Examined { sources, mut problems, worked } = examine(request);
    let Some((mut job, worked)) = worked else { return Set { sources, problems, files: Vec::new() } };
    let account = changing::account(request, &sources, (&job, &worked), before);
    problems.extend(account.problems);
    job.already_cut = account.there;
    choices.give(&mut job);
    let near = near(request, choices, &job, &mut problems);
    if choices.client {
        script::mark_idle(request, &mut job);
    }
    let job = revision::offer(&revision::without(&job, &account.left.spent), &account.left.spares);
    let kept = Some((account.saved, account.left));
    let files = write_set((&job, &worked), choices, near, kept, &mut problems);
    Set { sources, problems, files }
}

/// The same of several scripts as one job: one buying list, layouts cut together. What is
/// cut already and sizes near by are for a single script.
pub fn set_out_together(requests: &[Request], choices: &Choices) -> Set {
    if let [request] = requests {
        return set_out(request, choices);
    }
    let Examined { sources, mut problems, worked } = examine_together(requests);
    let Some((mut job, worked)) = worked else { return Set { sources, problems, files: Vec::new() } };
    choices.give(&mut job);
    let files = write_set((&job, &worked), choices, Vec::new(), None, &mut problems);
    Set { sources, problems, files }
}

/// Most sheets of a set: crowded ones take a little more than 1 MB each with all they are
/// drawn from, and no run may take 500 MB.
const SHEETS: usize = 450;

/// What is said of a set of so many sheets; `None` if it can be written.
pub fn too_many_sheets(sheets: usize) -> Option<Problem> {
    (sheets > SHEETS).then(|| refused(&format!("{sheets} sheets")))
}

/// A set that is too large.
fn refused(size: &str) -> Problem {
    let message = format!("the set comes to {size}; the most that is set out at once is {SHEETS}");
    let help = "make several jobs of it, each with its own script; a larger `--paper` takes more to a sheet";
    Problem::error("too-many-sheets", message).help(help)
}

/// What is said of a job whose part sheets alone are far too many, before all of them are
/// drawn: of five thousand unlike parts that takes minutes, and all memory.
fn far_too_many(job: &Job, worked: &WorkedJob, look: &Look) -> Option<Problem> {
    let mut numbers: Vec<_> = worked.parts.iter().map(|part| part.number).collect();
    numbers.sort_unstable();
    numbers.dedup();
    if numbers.len() <= SHEETS {
        return None;
    }
    let sounded = drawing::sounding(&Machined::new(job, worked), look);
    // A sounding is near enough to refuse what is a quarter over.
    (sounded * 4 > SHEETS * 5).then(|| refused(&format!("about {sounded} sheets of parts alone")))
}

/// The second half of a set: drawn and written; no files where an error spoils them.
fn write_set(
    (job, worked): (&Job, &WorkedJob),
    choices: &Choices,
    near: Vec<Nearby>,
    kept: Option<(SavedJob, LeftOver)>,
    problems: &mut Vec<Problem>,
) -> Vec<File> {
    let look = choices.look(job);
    if let Some(problem) = far_too_many(job, worked, &look) {
        problems.push(problem);
        return Vec::new();
    }
    let mut drawn = draw_telling(job, worked, &look, near);
    problems.append(&mut drawn.problems);
    problems.extend(too_many_sheets(drawn.sheets.len()));
    if problems.iter().any(|p| p.severity == Severity::Error) {
        return Vec::new();
    }
    let grid = choices.label_grid(&look);
    let labels = || drawing::labels(job, worked, &drawn.lists.list, &look, &grid);
    let telling = wording::assembly::Telling { job, worked, words: look.words() };
    let order = wording::assembly::rows(telling, &drawn.orders);
    let exchange = shapes(job, worked, &drawn.orders, choices, &look);
    let saved = kept.map(|(mut saved, left)| {
        if let Some(state) = saved.states.last_mut() {
            state.laid = saved_layouts(Standing { job, worked }, &drawn.lists, &left);
        }
        saved
    });
    let finished = Finished {
        exchange: &exchange,
        head: &job.head,
        sheets: &drawn.sheets,
        labels: &labels,
        lists: &drawn.lists,
        order: &order,
        saved: saved.as_ref(),
        words: look.words(),
    };
    // What a checker would find on the sheets is said here as `check` says it; it is looked
    // for while the files are written.
    let several = drawn.sheets.len();
    let ((files, found), judged) =
        rayon::join(|| output::files(&finished), || paper::lint::judge_set(&drawn.sheets));
    problems.extend(found);
    problems.extend(told(job, &judged, several));
    files
}

/// What was found on the sheets, as problems; letters that the lettering lacks are one.
fn told(job: &Job, judged: &[Finding], several: usize) -> Vec<Problem> {
    let letters = drawing::lacking_letters(job);
    let others = judged.iter().filter(|found| letters.is_none() || found.rule != LACKS);
    let mut problems: Vec<Problem> = others.map(|found| found.problem(several, job.unit)).collect();
    problems.extend(letters);
    problems
}

/// What is asked for besides the set, for other programs.
fn shapes(job: &Job, worked: &WorkedJob, orders: &[Order], choices: &Choices, look: &Look) -> Exchange {
    let mut shapes = Exchange::default();
    if choices.also.contains(&Also::Dxf) {
        shapes.flats = exchange::flat_parts(&Machined::new(job, worked), look.words());
    }
    if choices.also.contains(&Also::Gltf) {
        shapes.models = exchange::models(job, worked, orders);
    }
    shapes
}

/// The whole pipeline but the writers: everything found in a script, its job and
/// the sheets of its set, which are judged as a checker in a drawing office
/// would.
pub fn look_over(request: &Request, choices: &Choices) -> (Vec<Problem>, Sources) {
    let Examined { sources, mut problems, worked } = examine(request);
    if let Some((mut job, worked)) = worked {
        choices.give(&mut job);
        let near = near(request, choices, &job, &mut problems);
        let look = choices.look(&job);
        if let Some(problem) = far_too_many(&job, &worked, &look) {
            problems.push(problem);
            return (problems, sources);
        }
        let drawn = draw_telling(&job, &worked, &look, near);
        let several = drawn.sheets.len();
        problems.extend(drawn.problems);
        match too_many_sheets(several) {
            // Nobody reads what is unclear on a thousand sheets.
            Some(problem) => problems.push(problem),
            None => problems.extend(told(&job, &paper::lint::judge_set(&drawn.sheets), several)),
        }
    }
    (problems, sources)
}

/// The second half: worked parts become sheets.
#[derive(Debug, Default)]
pub struct Drawn {
    /// The sheets.
    pub sheets: Vec<Sheet>,
    /// The lists and layouts of the shop.
    pub lists: ShopLists,
    /// The order of assembly of each piece.
    pub orders: Vec<Order>,
    /// What was found on the way.
    pub problems: Vec<Problem>,
}

/// Sizes near by that save, where they are asked for; each is advice too.
fn near(request: &Request, choices: &Choices, job: &Job, problems: &mut Vec<Problem>) -> Vec<Nearby> {
    let Some(percent) = choices.near else { return Vec::new() };
    let (near, advice) = nearby::nearby(request, choices, job, percent);
    problems.extend(advice);
    near
}

/// Plans the assembly of worked parts and draws the set.
pub fn draw(job: &Job, worked: &WorkedJob, look: &Look) -> Drawn {
    draw_telling(job, worked, look, Vec::new())
}

/// The same, with sizes near by on the buying list.
fn draw_telling(job: &Job, worked: &WorkedJob, look: &Look, near: Vec<Nearby>) -> Drawn {
    let machined = Machined::new(job, worked);
    let ((orders, mut problems), (lists, found)) =
        rayon::join(|| assembly::assembly_orders(job, worked), || cutting::shop_lists(&machined));
    problems.extend(found);
    let mut lists = lists;
    // Things are named in the unit of the script, whatever that of its sheets.
    let words = wording::Words::of(job.unit);
    problems.extend(lists.buying.price(&job.sold, &|what| words.goods(what)));
    lists.buying.nearby = near;
    let (sheets, found) = drawing::draw(&machined, &lists, &orders, look);
    problems.extend(found);
    Drawn { sheets, lists, orders, problems }
}
