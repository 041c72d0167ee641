//! From a script and the shop's rates to a quotation: the pipeline of `quote`.
//!
//! Each thing offered runs through the pipeline by itself, side by side; a job with an
//! error, or with a material without a price, is never quoted.

use rayon::prelude::*;

use crate::assembly::{self, Order};
use crate::cutting::{self, ShopLists};
use crate::drawing::{
    self, Choices, Look, Offered, QuoteSheet, Reckoned, SheetKind, Sum, inside_sheets, quote_sheets,
};
use crate::estimate::{Basis, Estimate, Rates, estimate, goods_of};
use crate::exchange::Exchange;
use crate::joinery::WorkedJob;
use crate::machining::Machined;
use crate::model::Job;
use crate::output::{self, File, Finished, Info, pdf};
use crate::problem::{Problem, Severity};
use crate::script::{Request, mark_idle};
use crate::source::Sources;
use crate::wording::Words;
use crate::wording::assembly::{Telling, rows};
use crate::wording::quote::saving;
use crate::{Examined, examine};

/// What is asked of a quotation.
pub struct QuoteRequest<'a> {
    /// The script with its settings.
    pub request: &'a Request,
    /// The look of its sheets.
    pub choices: &'a Choices,
    /// The shop's rates.
    pub rates: &'a Rates,
    /// What else is offered beside it: a title, and settings on top of the script's.
    pub options: &'a [(String, Vec<(String, String)>)],
    /// How many are made of each.
    pub count: u32,
    /// Drawings that go with it.
    pub with: &'a [SheetKind],
    /// Whether the shop's own estimate is wanted too.
    pub inside: bool,
    /// Codes of warnings that need not be settled with the client.
    pub accept: &'a [String],
}

/// What was found in one of the things offered, or in the rates.
#[derive(Debug, Default)]
pub struct Found {
    /// The option it is about; empty for the first, and for the rates.
    pub option: String,
    /// The texts that the problems point into.
    pub sources: Sources,
    /// The problems.
    pub problems: Vec<Problem>,
}

/// A quotation with what was found on the way.
#[derive(Debug, Default)]
pub struct Quoted {
    /// What was found.
    pub found: Vec<Found>,
    /// The files; none where an error spoils them.
    pub files: Vec<File>,
    /// The total of each thing offered, in words, for the terminal.
    pub totals: Vec<(String, String)>,
}

impl Quoted {
    /// Whether anything found is an error.
    pub fn has_errors(&self) -> bool {
        self.found.iter().flat_map(|found| &found.problems).any(|p| p.severity == Severity::Error)
    }
}

/// A job with all its lists, without a price.
pub struct Listed {
    job: Job,
    worked: WorkedJob,
    orders: Vec<Order>,
    lists: ShopLists,
}

/// One thing offered, worked through.
pub struct Worked {
    /// The job with its lists.
    pub listed: Listed,
    /// Its estimate.
    pub estimate: Estimate,
}

impl Listed {
    /// The files of its lists.
    pub fn files(&self, choices: &Choices) -> (Vec<File>, Vec<Problem>) {
        let look = choices.look(&self.job);
        let telling = Telling { job: &self.job, worked: &self.worked, words: look.words() };
        output::list_files(&Finished {
            head: &self.job.head,
            sheets: &[],
            labels: &Vec::new,
            lists: &self.lists,
            order: &rows(telling, &self.orders),
            exchange: &Exchange::default(),
            saved: None,
            words: look.words(),
        })
    }
}

/// Works a script through to its lists, `count` off each piece; nothing where an error
/// spoils them.
pub fn listed(request: &Request, count: u32) -> (Option<Listed>, Found) {
    let Examined { sources, mut problems, worked } = examine(request);
    let found = |problems| Found { option: String::new(), sources, problems };
    let Some((mut job, worked)) = worked else { return (None, found(problems)) };
    // The client pays for all of it, whatever of it is cut by now.
    job.already_cut.clear();
    for piece in &mut job.pieces {
        piece.count = piece.count.saturating_mul(count);
    }
    let machined = Machined::new(&job, &worked);
    let ((orders, more), (lists, still)) =
        rayon::join(|| assembly::assembly_orders(&job, &worked), || cutting::shop_lists(&machined));
    problems.extend(more);
    problems.extend(still);
    let mut lists = lists;
    let words = Words::of(job.unit);
    problems.extend(lists.buying.price(&job.sold, &|what| words.goods(what)));
    let spoilt = problems.iter().any(|p| p.severity == Severity::Error);
    ((!spoilt).then_some(Listed { job, worked, orders, lists }), found(problems))
}

/// Works a script through to its estimate. What is found comes in two lots: of the
/// script, and of the rates.
pub fn worked_out(request: &Request, rates: &Rates, count: u32) -> (Option<Worked>, [Found; 2]) {
    let of_rates = |problems| Found { option: String::new(), sources: rates.sources.clone(), problems };
    let (listed, found) = listed(request, count);
    let Some(listed) = listed else { return (None, [found, of_rates(Vec::new())]) };
    let (estimate, against) =
        estimate(&basis((&listed.job, &listed.worked), &listed.lists, &listed.orders), rates);
    let spoilt = against.iter().any(|p| p.severity == Severity::Error);
    ((!spoilt).then_some(Worked { listed, estimate }), [found, of_rates(against)])
}

/// What an estimate is made from.
fn basis<'a>(
    (job, worked): (&'a Job, &'a WorkedJob),
    lists: &'a ShopLists,
    orders: &'a [Order],
) -> Basis<'a> {
    let goods = goods_of(&lists.buying.lines, &Words::goods_name);
    Basis { job, worked, lists, orders, goods }
}

/// The whole pipeline: a script and rates become a quotation.
pub fn quote(asked: &QuoteRequest<'_>) -> Quoted {
    let mut requests = vec![(String::new(), asked.request.clone())];
    for (title, settings) in asked.options {
        let mut request = asked.request.clone();
        // What an option sets comes before what is set for all.
        request.settings.retain(|(name, _)| !settings.iter().any(|(own, _)| own == name));
        request.settings.extend(settings.iter().cloned());
        requests.push((title.clone(), request));
    }
    let run = |(title, request): &(String, Request)| {
        let (mut worked, found) = worked_out(request, asked.rates, asked.count);
        if let Some(worked) = &mut worked {
            mark_idle(request, &mut worked.listed.job);
        }
        (worked, found.map(|found| Found { option: title.clone(), ..found }))
    };
    let all: Vec<_> = requests.par_iter().with_max_len(1).map(run).collect();
    let (mut worked, mut found) = (Vec::new(), Vec::new());
    for (one, lots) in all {
        worked.extend(one);
        found.extend(lots);
    }
    let mut quoted = Quoted { found: without_repeats(found), ..Quoted::default() };
    if worked.len() < requests.len() {
        return quoted;
    }
    let titles: Vec<String> = requests.into_iter().map(|(title, _)| title).collect();
    match files(asked, &worked, (&titles, &quoted.found)) {
        Ok(files) => quoted.files = files,
        Err(why) => {
            let problem = Problem::error("pdf", format!("the PDF could not be made: {why}"));
            quoted.found.push(Found { problems: vec![problem], ..Found::default() });
        }
    }
    let total = |(title, one): (&String, &Worked)| {
        (title.clone(), asked.rates.currency.show(one.estimate.price.total))
    };
    quoted.totals = titles.iter().zip(&worked).map(total).collect();
    quoted
}

/// What an option shares with the first is told once.
fn without_repeats(found: Vec<Found>) -> Vec<Found> {
    let mut kept: Vec<Found> = Vec::new();
    for mut one in found {
        one.problems.retain(|problem| !kept.iter().any(|have| have.problems.contains(problem)));
        if !one.problems.is_empty() {
            kept.push(one);
        }
    }
    kept
}

/// The client's file, and the shop's where it is wanted.
fn files(
    asked: &QuoteRequest<'_>,
    worked: &[Worked],
    (titles, found): (&[String], &[Found]),
) -> Result<Vec<File>, String> {
    let Some(first) = worked.first() else { return Ok(Vec::new()) };
    let look = asked.choices.look(&first.listed.job);
    let number = first.listed.job.head.number.as_ref().map(|n| format!(" {n}")).unwrap_or_default();
    let info = Info { subject: format!("Quotation{number}"), ..Info::of(&first.listed.job.head) };
    let mut sheets = quote_sheets(&sheet(asked, worked, titles, found), &look);
    if !asked.with.is_empty() {
        let machined = Machined::new(&first.listed.job, &first.listed.worked);
        let chosen = |kind| asked.with.contains(&kind);
        sheets.extend(
            drawing::draw_kinds(&machined, &first.listed.lists, &first.listed.orders, (&look, &chosen)).0,
        );
    }
    let mut files = vec![File { name: "-quote.pdf".into(), bytes: pdf::write(&sheets, &info)? }];
    if asked.inside {
        let reckoned: Vec<Reckoned<'_>> = titles
            .iter()
            .zip(worked)
            .map(|(title, one)| Reckoned { title, estimate: &one.estimate })
            .collect();
        let sheets = inside_sheets(&first.listed.job, &reckoned, asked.rates, &look);
        let info = Info { subject: format!("Estimate{number}, not for the client"), ..info };
        files.push(File { name: "-inside.pdf".into(), bytes: pdf::write(&sheets, &info)? });
    }
    Ok(files)
}

/// The quotation as the client's sheet knows it.
fn sheet<'a>(
    asked: &QuoteRequest<'a>,
    worked: &'a [Worked],
    titles: &[String],
    found: &[Found],
) -> QuoteSheet<'a> {
    // Option 0 is there: files are only made of what was worked through.
    let first = &worked[0];
    let look = asked.choices.look(&first.listed.job);
    let offers = titles.iter().zip(worked).map(|(title, one)| offer(title, one, first, &look)).collect();
    let installed =
        first.estimate.hours.iter().any(|line| line.line.starts_with("install.") && !line.minutes.is_zero());
    QuoteSheet {
        head: &first.listed.job.head,
        rates: asked.rates,
        offers,
        count: asked.count,
        saving: saved(asked, first),
        open: open_points(found, asked.accept),
        installed,
    }
}

fn offer<'a>(title: &str, one: &'a Worked, first: &Worked, look: &Look) -> Offered<'a> {
    let words = look.words();
    let first_says = |name: &str| first.listed.job.sizes.iter().find(|known| known.decl.name == name);
    let differs: Vec<String> = one
        .listed
        .job
        .sizes
        .iter()
        .filter(|size| {
            let known = first_says(&size.decl.name);
            known.is_none_or(|known| (known.number, &known.text) != (size.number, &size.text))
        })
        .map(|size| words.size_value(size))
        .collect();
    let price = &one.estimate.price;
    Offered {
        title: if title.is_empty() { "As drawn".into() } else { title.to_owned() },
        differs: differs.join(", "),
        job: &one.listed.job,
        worked: &one.listed.worked,
        described: words.described(&one.listed.job, &one.listed.worked, &one.listed.lists.list),
        sum: Sum { net: price.net, tax: price.tax, total: price.total, stages: price.stages.clone() },
    }
}

/// What a second of the same saves, where several are made.
fn saved(asked: &QuoteRequest<'_>, first: &Worked) -> Option<String> {
    if asked.count < 2 {
        return None;
    }
    let net = |times: u32| {
        let mut job = first.listed.job.clone();
        for piece in &mut job.pieces {
            piece.count = piece.count / asked.count * times;
        }
        let machined = Machined::new(&job, &first.listed.worked);
        let lists = cutting::shop_lists(&machined).0;
        estimate(&basis((&job, &first.listed.worked), &lists, &first.listed.orders), asked.rates).0.price.net
    };
    let (alone, two) = rayon::join(|| net(1), || net(2));
    saving(asked.rates.currency, alone, two)
}

/// Warnings that the client should know of: each once, without those acknowledged.
fn open_points(found: &[Found], accept: &[String]) -> Vec<String> {
    let mut points: Vec<String> = Vec::new();
    for problem in found.iter().flat_map(|found| &found.problems) {
        let told = crate::problem::wording::capital(&problem.message.replace('`', ""));
        let open = problem.severity == Severity::Warning && !accept.iter().any(|code| code == problem.code);
        if open && !points.contains(&told) {
            points.push(told);
        }
    }
    points
}
