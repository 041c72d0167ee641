//! Several jobs as one, so that they are cut and bought together.
//!
//! All that refers to something by its place in a list is moved on by what comes before.
//! Stocks of one name are one stock, which is what jobs are put together for; what a job
//! has only one of must be the same in all.

use super::{
    Cutting, Glue, Job, JobHead, OptionValue, Options, PartId, PieceId, Stock, StockId, StockKind, Told,
};
use crate::problem::Problem;
use crate::source::{Origin, SourceId, Span};

/// One job of all; their texts must stand one after another. `before` says for each how
/// many texts stand before its own. `None` where there are none, or where they cannot be
/// made together, which is said.
pub fn together(jobs: Vec<(Job, usize)>) -> (Option<Job>, Vec<Problem>) {
    let mut problems = Vec::new();
    let several = jobs.len() > 1;
    let mut whole: Option<Job> = None;
    for (mut job, before) in jobs {
        move_origins(&mut job, before);
        if several {
            // A wall is drawn for one job: two would stand on it together.
            (job.site, job.obstacles) = (None, Vec::new());
        }
        match &mut whole {
            None => whole = Some(job),
            Some(first) => {
                problems.extend(differences(first, &job));
                add(first, job, &mut problems);
            }
        }
    }
    let whole = whole.filter(|_| problems.is_empty());
    (whole, problems)
}

/// An origin whose texts come after others.
fn moved(origin: &mut Origin, before: usize) {
    let on = |span: &mut Span| {
        // A run reads some dozens of texts.
        let shift = u32::try_from(before).unwrap_or(u32::MAX);
        span.source = SourceId(span.source.0.saturating_add(shift));
    };
    on(&mut origin.user);
    origin.library.iter_mut().for_each(on);
}

/// Every place in the texts of a job, moved on.
fn move_origins(job: &mut Job, before: usize) {
    let told = job.sold.iter_mut().filter_map(|sold| match &mut sold.told {
        Told::Script(origin) => Some(origin),
        Told::List(..) => None,
    });
    let order = &mut job.order;
    let asked = order.units.iter_mut().map(|unit| &mut unit.origin);
    let asked = asked.chain(order.before.iter_mut().map(|before| &mut before.origin));
    let all = job
        .sizes
        .iter_mut()
        .map(|size| &mut size.decl.origin)
        .chain(job.stock.iter_mut().map(|stock| &mut stock.origin))
        .chain(job.pieces.iter_mut().map(|piece| &mut piece.origin))
        .chain(job.parts.iter_mut().map(|part| &mut part.origin))
        .chain(job.works.iter_mut().map(|work| &mut work.origin))
        .chain(job.grain_runs.iter_mut().map(|run| &mut run.origin))
        .chain(job.notes.iter_mut().map(|note| &mut note.origin))
        .chain(job.finish.iter_mut().map(|finish| &mut finish.origin))
        .chain(told)
        .chain(asked);
    all.for_each(|origin| moved(origin, before));
}

/// What both jobs say of a thing, and do not say alike.
fn differ<T: PartialEq>(a: &T, b: &T, unsaid: &T) -> bool {
    a != b && a != unsaid && b != unsaid
}

/// What two jobs have one of each, and not the same. What only one of them says holds for
/// both.
fn differences(first: &Job, job: &Job) -> Vec<Problem> {
    let finish = |job: &Job| job.finish.as_ref().map(|f| (f.what.clone(), f.coats, f.coverage));
    let found = [
        (first.unit != job.unit, "the unit they are written in", "write both in one unit"),
        (
            differ(&first.cutting, &job.cutting, &Cutting::usual(first.unit)),
            "what they say with `cutting`",
            "say the same in both",
        ),
        (
            differ(&finish(first), &finish(job), &None),
            "their finish",
            "give both one finish, or set them out apart",
        ),
        (
            differ(&first.order.glue, &job.order.glue, &Glue::default()),
            "what they say of the `glue`",
            "say the same in both",
        ),
        (differ(&first.load, &job.load, &None), "their `shelf_load`", "say the same in both"),
    ];
    let said = found.into_iter().filter(|(differ, _, _)| *differ);
    said.map(|(_, what, help)| {
        let message = format!("`{}` and `{}` differ in {what}", first.head.title, job.head.title);
        Problem::error("jobs-differ", message).help(help)
    })
    .collect()
}

/// Adds a job to the first.
fn add(first: &mut Job, mut job: Job, problems: &mut Vec<Problem>) {
    let (parts, pieces) = (first.parts.len(), first.pieces.len());
    let stocks: Vec<StockId> =
        std::mem::take(&mut job.stock).into_iter().map(|stock| known(first, stock, problems)).collect();
    let stock = |id: StockId| stocks.get(id.0).copied().unwrap_or(id);
    let on = |part: &mut PartId| part.0 += parts;
    for part in &mut job.parts {
        part.piece.0 += pieces;
        part.stock = stock(part.stock);
    }
    for work in &mut job.works {
        work.parts.iter_mut().flatten().for_each(on);
        of_stock(&mut work.options, &stock);
    }
    job.grain_runs.iter_mut().flat_map(|run| &mut run.parts).for_each(on);
    job.order.units.iter_mut().flat_map(|unit| &mut unit.parts).for_each(on);
    let before =
        job.order.before.iter_mut().flat_map(|before| before.first.iter_mut().chain(&mut before.then));
    before.for_each(on);
    about(&mut job, pieces);
    for piece in &mut job.pieces {
        // Two jobs may each have a case, and sheets name pieces.
        if first.pieces.iter().any(|known| known.name == piece.name) {
            piece.name = format!("{}: {}", job.head.title, piece.name);
        }
    }
    job.sold.retain(|sold| {
        let same = |known: &super::Sold| super::Sold { told: sold.told.clone(), ..known.clone() } == *sold;
        !first.sold.iter().any(same)
    });
    first.head = both(&first.head, &job.head);
    first.sizes.append(&mut job.sizes);
    first.pieces.append(&mut job.pieces);
    first.parts.append(&mut job.parts);
    first.works.append(&mut job.works);
    first.grain_runs.append(&mut job.grain_runs);
    first.notes.append(&mut job.notes);
    first.finish = first.finish.take().or(job.finish);
    first.load = first.load.or(job.load);
    if first.cutting == Cutting::usual(first.unit) {
        first.cutting = job.cutting;
    }
    if first.order.glue == Glue::default() {
        first.order.glue = job.order.glue;
    }
    first.sold.append(&mut job.sold);
    first.order.units.append(&mut job.order.units);
    first.order.before.append(&mut job.order.before);
}

/// Notes of one job are about its own pieces, where they name none.
fn about(job: &mut Job, pieces: usize) {
    let own: Vec<PieceId> = (0..job.pieces.len()).map(|at| PieceId(at + pieces)).collect();
    for note in &mut job.notes {
        note.pieces.iter_mut().for_each(|piece| piece.0 += pieces);
        if note.pieces.is_empty() {
            note.pieces.clone_from(&own);
        }
    }
}

/// A stock among those of the first job; one of the same name must be the same stuff.
/// Sheets of one name may be of several thicknesses, each a stock.
fn known(first: &mut Job, stock: Stock, problems: &mut Vec<Problem>) -> StockId {
    let thick = Stock::fixed_thickness;
    let same = |known: &Stock| known.name == stock.name && thick(known) == thick(&stock);
    let Some((at, known)) = first.stock.iter_mut().enumerate().find(|(_, known)| same(known)) else {
        first.stock.push(stock);
        return StockId(first.stock.len() - 1);
    };
    let mut kind = stock.kind;
    if let (StockKind::Board { thick, .. }, StockKind::Board { thick: other, .. }) =
        (&mut known.kind, &mut kind)
    {
        // What either is sawn to may be bought for both.
        thick.append(other);
        thick.sort_by(f64::total_cmp);
        thick.dedup();
        other.clone_from(thick);
    }
    if known.kind != kind {
        let message = format!("the stock `{}` is not the same in both jobs", known.name);
        problems.push(
            Problem::error("jobs-differ", message)
                .at(stock.origin)
                .place(known.origin.user, "the other")
                .help("name them apart, or give both the same sizes and prices"),
        );
    }
    StockId(at)
}

fn of_stock(options: &mut Options, stock: &impl Fn(StockId) -> StockId) {
    for value in options.0.values_mut() {
        if let OptionValue::Stock(id) = value {
            *id = stock(*id);
        }
    }
}

/// The title block of both: what differs is left out.
fn both(a: &JobHead, b: &JobHead) -> JobHead {
    let same = |a: &Option<String>, b: &Option<String>| a.clone().filter(|_| a == b);
    // What departs from the brief is told of either.
    let mut departs: Vec<String> = a.departs.iter().chain(&b.departs).cloned().collect();
    departs.dedup();
    JobHead {
        title: format!("{} + {}", a.title, b.title),
        number: same(&a.number, &b.number),
        owner: same(&a.owner, &b.owner),
        client: same(&a.client, &b.client),
        place: same(&a.place, &b.place),
        drawn_by: same(&a.drawn_by, &b.drawn_by),
        checked_by: same(&a.checked_by, &b.checked_by),
        departs: (!departs.is_empty()).then(|| departs.join("; ")),
        approved_by: same(&a.approved_by, &b.approved_by),
        revision: None,
        status: same(&a.status, &b.status),
        revisions: Vec::new(),
    }
}
