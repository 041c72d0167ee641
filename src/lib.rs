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
pub mod cli;

use assembly::Order;
use changing::Before;
use cutting::ShopLists;
use drawing::Look;
use exchange::Exchange;
use joinery::WorkedJob;
use machining::Machined;
use model::{Job, Word};
use output::Finished;
use paper::Sheet;
use problem::{Problem, Severity};
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
    let evaluated = script::evaluate(request);
    let (sources, mut problems) = (evaluated.sources, evaluated.problems);
    let wrong = |problems: &[Problem]| problems.iter().any(|p| p.severity == Severity::Error);
    let Some(job) = evaluated.job.filter(|_| !wrong(&problems)) else {
        return Examined { sources, problems, worked: None };
    };
    let (worked, found) = joinery::work(&job);
    problems.extend(problem::fold(found));
    // What joinery could not make would only trip the checks again.
    if !wrong(&problems) {
        problems.extend(problem::fold(checks::check(&job, &worked)));
    }
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
    job.sold.splice(0..0, choices.sold.iter().cloned());
    let look = choices.look(&job);
    let mut drawn = draw(&job, &worked, &look);
    problems.append(&mut drawn.problems);
    let spoilt = problems.iter().any(|p| p.severity == Severity::Error);
    let grid = choices.label_grid(&look);
    if spoilt {
        return Set { sources, problems, files: Vec::new() };
    }
    let labels = || drawing::labels(&job, &worked, &drawn.lists.list, &look, &grid);
    let telling = wording::assembly::Telling { job: &job, worked: &worked, words: look.words() };
    let order = wording::assembly::rows(telling, &drawn.orders);
    let exchange = shapes(&job, &worked, &drawn.orders, choices, &look);
    let finished = Finished {
        exchange: &exchange,
        head: &job.head,
        sheets: &drawn.sheets,
        labels: &labels,
        lists: &drawn.lists,
        order: &order,
        saved: Some(&account.saved),
        words: look.words(),
    };
    let (files, found) = output::files(&finished);
    problems.extend(found);
    Set { sources, problems, files }
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
        job.sold.splice(0..0, choices.sold.iter().cloned());
        let drawn = draw(&job, &worked, &choices.look(&job));
        let several = drawn.sheets.len();
        problems.extend(drawn.problems);
        problems.extend(paper::lint::judge_set(&drawn.sheets).iter().map(|found| found.problem(several)));
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

/// Plans the assembly of worked parts and draws the set.
pub fn draw(job: &Job, worked: &WorkedJob, look: &Look) -> Drawn {
    let machined = Machined::new(job, worked);
    let ((orders, mut problems), (lists, found)) =
        rayon::join(|| assembly::assembly_orders(job, worked), || cutting::shop_lists(&machined));
    problems.extend(found);
    let mut lists = lists;
    // Things are named in the unit of the script, whatever that of its sheets.
    let words = wording::Words::of(job.unit);
    problems.extend(lists.buying.price(&job.sold, &|what| words.goods(what)));
    let (sheets, found) = drawing::draw(&machined, &lists, &orders, look);
    problems.extend(found);
    Drawn { sheets, lists, orders, problems }
}
