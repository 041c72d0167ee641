//! rodwright: from a short joinery script to shop drawings, lists and an
//! assembly order. The modules stand in reading order, which is dependency
//! order: each uses only those above it.

pub mod assembly;
pub mod checks;
pub mod cli;
pub mod cutting;
pub mod drawing;
pub mod geometry;
pub mod joinery;
pub mod measure;
pub mod model;
pub mod output;
pub mod paper;
pub mod problem;
pub mod script;
pub mod solid;
pub mod source;
pub mod timber;

use assembly::Order;
use cutting::ShopLists;
use drawing::{LabelGrid, Look, Paper, Profile};
use joinery::WorkedJob;
use measure::Unit;
use model::{Job, Word};
use paper::Sheet;
use problem::{Problem, Severity};
use rayon::prelude::*;
use script::Request;
use source::Sources;

/// The joints, shapings and fittings a script can use.
pub fn words() -> &'static [&'static Word] {
    joinery::words()
}

/// What is chosen about the look of a set; what is left out follows the job.
#[derive(Clone, Debug, Default)]
pub struct Choices {
    /// Paper: A3 where not said, tabloid in inches.
    pub paper: Option<Paper>,
    /// Unit of the figures: the script's where not said.
    pub unit: Option<Unit>,
    /// Drawing practice: ISO where not said, ASME in inches.
    pub profile: Option<Profile>,
    /// Date of issue, `YYYY-MM-DD`.
    pub date: Option<String>,
    /// Finest inch fraction, one of [`Look::FINEST`]: 32 where not said.
    pub finest: Option<u32>,
    /// Overall sizes in feet and inches.
    pub feet: bool,
    /// Columns and rows of the label paper, A4 or letter by the paper of the
    /// set; `None` for the usual one.
    pub labels: Option<(usize, usize)>,
}

/// A file to write.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct File {
    /// Its name; in a [`Set`] what follows the script's name: `.pdf`, `-01.svg`.
    pub name: String,
    /// What it holds.
    pub bytes: Vec<u8>,
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

impl Choices {
    /// The grid of the labels of a set that looks like `look`.
    fn label_grid(&self, look: &Look) -> LabelGrid {
        let series = look.paper.series();
        let asked = self.labels.and_then(|(columns, rows)| LabelGrid::new(series, columns, rows));
        asked.unwrap_or_else(|| LabelGrid::usual(series))
    }

    /// The look of the set of `job`.
    pub fn look(&self, job: &Job) -> Look {
        let unit = self.unit.unwrap_or(job.unit);
        let (paper, profile) = match unit {
            Unit::Mm => (Paper::A3, Profile::Iso),
            Unit::Inch => (Paper::Tabloid, Profile::Asme),
        };
        let paper = self.paper.unwrap_or(paper);
        let look = Look::new(paper, unit, self.profile.unwrap_or(profile));
        let finest = self.finest.unwrap_or(look.finest);
        Look { date: self.date.clone(), finest, feet: self.feet, ..look }
    }
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

/// The first half of the pipeline: a script becomes worked parts.
pub fn examine(request: &Request) -> Examined {
    examine_in(request, None)
}

/// As [`examine`], with joints worded in `unit` where it is not the script's:
/// what stands on a sheet is all in the unit of the sheet.
fn examine_in(request: &Request, unit: Option<Unit>) -> Examined {
    let evaluated = script::evaluate(request);
    let (sources, mut problems) = (evaluated.sources, evaluated.problems);
    let wrong = |problems: &[Problem]| problems.iter().any(|p| p.severity == Severity::Error);
    let Some(mut job) = evaluated.job.filter(|_| !wrong(&problems)) else {
        return Examined { sources, problems, worked: None };
    };
    job.unit = unit.unwrap_or(job.unit);
    let (worked, found) = joinery::work(&job);
    problems.extend(found);
    // What joinery could not make would only trip the checks again.
    if !wrong(&problems) {
        problems.extend(checks::check(&job, &worked));
    }
    let worked = (!wrong(&problems)).then_some((job, worked));
    Examined { sources, problems, worked }
}

/// The whole pipeline: a script becomes a drawing set.
pub fn set_out(request: &Request, choices: &Choices) -> Set {
    let Examined { sources, mut problems, worked } = examine_in(request, choices.unit);
    let Some((job, worked)) = worked else { return Set { sources, problems, files: Vec::new() } };
    let look = choices.look(&job);
    let mut drawn = draw(&job, &worked, &look);
    problems.append(&mut drawn.problems);
    let spoilt = problems.iter().any(|p| p.severity == Severity::Error);
    let grid = choices.label_grid(&look);
    let labels = || drawing::labels(&job, &worked, &drawn.lists.list, &look, &grid);
    let files = if spoilt { Vec::new() } else { files(&job, &drawn, labels, &mut problems) };
    Set { sources, problems, files }
}

/// The whole pipeline but the writers: everything found in a script, its job and
/// the sheets of its set, which are judged as a checker in a drawing office
/// would.
pub fn look_over(request: &Request, choices: &Choices) -> (Vec<Problem>, Sources) {
    let Examined { sources, mut problems, worked } = examine_in(request, choices.unit);
    if let Some((job, worked)) = worked {
        let drawn = draw(&job, &worked, &choices.look(&job));
        let several = drawn.sheets.len();
        problems.extend(drawn.problems);
        problems.extend(paper::lint::judge_set(&drawn.sheets).iter().map(|found| unclean(found, several)));
    }
    (problems, sources)
}

/// A finding on a sheet as a problem: nothing is wrong with the script.
fn unclean(found: &paper::lint::Finding, several: usize) -> Problem {
    let sheet = if several > 1 { format!("sheet {}", found.sheet) } else { "the sheet".into() };
    Problem::warning(
        "unclean-sheet",
        format!(
            "{sheet}, {:.0} mm from the left and {:.0} mm from the top: {}",
            found.at.x, found.at.y, found.says
        ),
    )
    .help("the piece is right, but its drawing is not clear there: try a larger `--paper`")
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
    let ((orders, mut problems), (lists, found)) =
        rayon::join(|| assembly::assembly_orders(job, worked), || cutting::shop_lists(job, worked));
    problems.extend(found);
    let (sheets, found) = drawing::draw(job, worked, &lists, &orders, look);
    problems.extend(found);
    Drawn { sheets, lists, orders, problems }
}

/// The files of a set.
///
/// No kind of file waits for another, nor for the labels.
fn files(
    job: &Job,
    drawn: &Drawn,
    labels: impl Fn() -> Vec<Sheet> + Sync,
    problems: &mut Vec<Problem>,
) -> Vec<File> {
    let info = output::pdf::Info {
        title: job.head.title.clone(),
        author: job.head.owner.clone().unwrap_or_default(),
        subject: job.head.number.as_ref().map(|n| format!("Drawing set {n}")).unwrap_or_default(),
    };
    let of_labels = output::pdf::Info { title: format!("{}: labels", info.title), ..info.clone() };
    let svg = |(i, sheet): (usize, &Sheet)| File {
        name: format!("-{:02}.svg", i + 1),
        bytes: output::svg::write(sheet).into_bytes(),
    };
    let of_labels = || {
        let labels = labels();
        (!labels.is_empty()).then(|| output::pdf::write(&labels, &of_labels))
    };
    let ((pdf, svgs), (labels, lists)): ((_, Vec<File>), _) = rayon::join(
        || {
            rayon::join(
                || output::pdf::write(&drawn.sheets, &info),
                || drawn.sheets.par_iter().enumerate().map(svg).collect(),
            )
        },
        || rayon::join(of_labels, || output::lists::files(&job.head.title, &drawn.lists)),
    );
    let labels = labels.map(|labels| one_pdf("-labels.pdf", labels));
    let lists = lists.map_err(|why| Problem::error("lists", format!("the lists could not be made: {why}")));
    let made = [Some(one_pdf(".pdf", pdf)), labels, Some(Ok(svgs)), Some(lists)];
    all_or_none(made.into_iter().flatten(), problems)
}

/// A PDF as the files it is, or why it could not be made.
fn one_pdf<E: std::fmt::Display>(name: &str, made: Result<Vec<u8>, E>) -> Result<Vec<File>, Problem> {
    match made {
        Ok(bytes) => Ok(vec![File { name: name.into(), bytes }]),
        Err(why) => Err(Problem::error("pdf", format!("the PDF could not be made: {why}"))),
    }
}

/// All files of a set, or none and what went wrong with each kind: half a set in a
/// folder is soon taken for the whole.
fn all_or_none(
    made: impl IntoIterator<Item = Result<Vec<File>, Problem>>,
    problems: &mut Vec<Problem>,
) -> Vec<File> {
    let (mut files, mut whole) = (Vec::new(), true);
    for kind in made {
        match kind {
            Ok(some) => files.extend(some),
            Err(problem) => {
                whole = false;
                problems.push(problem);
            }
        }
    }
    if whole { files } else { Vec::new() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_set_is_whole_or_has_no_files() {
        let file = |name: &str| File { name: name.into(), bytes: Vec::new() };
        let good = || [one_pdf::<String>(".pdf", Ok(Vec::new())), Ok(vec![file("-01.svg"), file("-02.svg")])];
        let mut problems = Vec::new();
        assert_eq!(all_or_none(good(), &mut problems), [".pdf", "-01.svg", "-02.svg"].map(file));
        assert_eq!(problems, []);
        // The lists fail last, when all the rest is made; the labels fail before them.
        let lists = Err(Problem::error("lists", "the lists could not be made: a name is too long"));
        let labels = one_pdf("-labels.pdf", Err("a letter is missing"));
        assert_eq!(all_or_none(good().into_iter().chain([labels, lists]), &mut problems), []);
        assert_eq!(problems.iter().map(|p| p.code).collect::<Vec<_>>(), ["pdf", "lists"]);
        let set = Set { problems, ..Set::default() };
        assert!(set.has_errors());
    }
}
