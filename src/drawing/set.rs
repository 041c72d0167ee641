//! The set: sheets collected, numbered, framed and titled.

use rayon::prelude::*;

use crate::assembly::Order;
use crate::cutting::ShopLists;
use crate::drawing::page::gather::gather;
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::Plate;
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::drawing::page::title_block::{self, SheetFields};
use crate::drawing::page::{frame, strip};
use crate::drawing::sheets::client::client_sheets;
use crate::drawing::sheets::general::arrangement as general;
use crate::drawing::sheets::layout::pages as layout_sheet;
use crate::drawing::sheets::lists::{buying as buying_sheet, cutting_list};
use crate::drawing::sheets::notes::{finishing, pages as notes};
use crate::drawing::sheets::parts::end_letters::MEANING;
use crate::drawing::sheets::settings;
use crate::drawing::sheets::{assembly as assembly_sheet, detail, exploded, section, site as site_sheet};
use crate::joinery::WorkedJob;
use crate::machining::Machined;
use crate::model::{Job, PieceId};
use crate::paper::{Sheet, join_lines, merge_close};
use crate::problem::Problem;

/// Draws the whole set of a job: general arrangement and section of each piece,
/// part sheets, cutting list, layouts, assembly order. Problems are about what could not
/// be drawn legibly.
pub fn draw(
    machined: &Machined<'_>,
    lists: &ShopLists,
    orders: &[Order],
    look: &Look,
) -> (Vec<Sheet>, Vec<Problem>) {
    draw_kinds(machined, lists, orders, (look, &|_| true))
}

/// Draws the sheets of a set that are of chosen kinds, numbered among themselves; an
/// index names only those.
pub fn draw_kinds(
    machined: &Machined<'_>,
    lists: &ShopLists,
    orders: &[Order],
    (look, chosen): (&Look, &dyn Fn(SheetKind) -> bool),
) -> (Vec<Sheet>, Vec<Problem>) {
    let Machined { job, worked, .. } = *machined;
    let mut problems: Vec<Problem> = Vec::new();
    let with_parts: Vec<PieceId> = (0..job.pieces.len())
        .map(PieceId)
        .filter(|piece| worked.parts.iter().any(|part| part.piece == *piece))
        .collect();
    if with_parts.is_empty() {
        problems.push(
            Problem::warning(
                "nothing-to-draw",
                format!("`{}` has no parts, so there is no sheet", job.head.title),
            )
            .help("declare a piece and give it parts with `panel` or `board`"),
        );
        return (Vec::new(), problems);
    }
    let kinds = kinds(worked, orders, look);
    let (mut of_pieces, (rest, (templates, found))) = rayon::join(
        || of_pieces(job, worked, &with_parts, look),
        || {
            rayon::join(
                || kinds.par_iter().map(|kind| kind.draw(machined, lists, look)).collect::<Vec<_>>(),
                || crate::drawing::sheets::template::pages::template_sheets(machined, look),
            )
        },
    );
    problems.append(&mut of_pieces.problems);
    problems.extend(found);
    let noted = notes::notes(job, worked, &lists.list, look, of_pieces.noted);
    let mut bodies = in_order(of_pieces, &kinds, rest, noted);
    bodies.extend(templates);
    if look.client {
        bodies.splice(0..0, client_sheets(job, worked, &lists.list, look));
    }
    bodies.retain(|body| chosen(body.kind));
    (finish(job, gather(bodies, look), look), problems)
}

/// All but the templates in the order of the set: what shows whole pieces, then the
/// further kinds, the notes after the lists.
fn in_order(
    of_pieces: OfPieces,
    kinds: &[Kind<'_>],
    drawn: Vec<Vec<SheetBody>>,
    mut noted: Vec<SheetBody>,
) -> Vec<SheetBody> {
    let mut bodies = of_pieces.arrangements;
    let (lists_of_pieces, sections): (Vec<_>, Vec<_>) =
        of_pieces.sections.into_iter().partition(|body| body.kind == SheetKind::Notes);
    bodies.extend(sections);
    bodies.extend(of_pieces.details);
    noted.extend(lists_of_pieces);
    for (kind, drawn) in kinds.iter().zip(drawn) {
        bodies.extend(drawn);
        // Notes that the arrangement has no room for stand in the white of the lists.
        if matches!(kind, Kind::Buying) {
            bodies.append(&mut noted);
        }
    }
    bodies
}

/// The sheets that show whole pieces.
#[derive(Default)]
struct OfPieces {
    arrangements: Vec<SheetBody>,
    sections: Vec<SheetBody>,
    details: Vec<SheetBody>,
    /// Whether every arrangement carries the notes of its piece.
    noted: bool,
    problems: Vec<Problem>,
}

/// General arrangement, section and joint details of each piece. The letters of
/// details run on from piece to piece.
fn of_pieces(job: &Job, worked: &WorkedJob, pieces: &[PieceId], look: &Look) -> OfPieces {
    let mut all = OfPieces { noted: true, ..OfPieces::default() };
    let mut letters = 0;
    for piece in pieces {
        let mut details = detail::details(job, worked, *piece, look, letters);
        letters += details.len();
        // What the section cuts is marked there, the rest on the arrangement.
        let sections = match section::section(job, worked, *piece, look, &mut details) {
            Ok(sheets) => sheets,
            Err(problem) => {
                all.problems.push(problem);
                Vec::new()
            }
        };
        let opening = look.opening();
        let opens = all.arrangements.is_empty();
        let on = if opens { &opening } else { look };
        match general::general(job, worked, *piece, on, &mut details) {
            Ok(mut sheets) => {
                if let Some(first) = sheets.first_mut() {
                    first.opens = opens;
                }
                all.noted &= sheets.first().is_some_and(|sheet| sheet.noted);
                all.arrangements.extend(sheets);
            }
            Err(problem) => {
                all.noted = false;
                all.problems.push(problem);
            }
        }
        all.details.extend(detail::sheets(job, worked, &details, (*piece, look)));
        all.sections.extend(sections);
    }
    all
}

/// The sheets that follow those of whole pieces. None of them looks at another,
/// so they are drawn side by side.
enum Kind<'a> {
    Apart(&'a Order),
    Parts,
    CuttingList,
    Layouts,
    Buying,
    Finishing(&'a [Order]),
    Settings,
    Assembly(&'a Order),
    Site,
    Survey,
}

/// The kinds in the order of the set.
fn kinds<'a>(worked: &WorkedJob, orders: &'a [Order], look: &Look) -> Vec<Kind<'a>> {
    let of_all = [
        Kind::Parts,
        Kind::CuttingList,
        Kind::Layouts,
        Kind::Settings,
        Kind::Buying,
        Kind::Finishing(orders),
    ];
    // A piece of one part has nothing to put together.
    let parts = |order: &&Order| order.steps.iter().map(|step| step.all_adds().count()).sum::<usize>() > 1;
    let many = |order: &&Order| parts(order) && !exploded::few(worked, order);
    let apart = orders.iter().filter(many).map(Kind::Apart);
    let assembly = orders.iter().filter(parts).map(Kind::Assembly);
    let survey = look.survey.then_some(Kind::Survey);
    apart.chain(of_all).chain(assembly).chain([Kind::Site]).chain(survey).collect()
}

impl Kind<'_> {
    fn draw(&self, machined: &Machined<'_>, lists: &ShopLists, look: &Look) -> Vec<SheetBody> {
        let Machined { job, worked, .. } = *machined;
        match self {
            Self::Apart(order) => exploded::exploded(job, worked, order, look),
            Self::Parts => crate::drawing::sheets::parts::part_sheets(machined, look),
            Self::CuttingList => cutting_list::cutting_list(&lists.list, look),
            Self::Layouts => layout_sheet::layout_sheets(&lists.list, &lists.layouts, look),
            Self::Buying => buying_sheet::buying_sheets(&lists.buying, look),
            Self::Finishing(orders) => finishing::finishing(job, worked, orders, look),
            Self::Settings => settings::settings_sheets(&lists.settings, look),
            Self::Assembly(order) => assembly_sheet::assembly_sheets(job, worked, order, look),
            Self::Site => site_sheet::site_sheet(job, worked, look),
            Self::Survey => site_sheet::survey_sheet(look),
        }
    }
}

/// Numbers, frames and titles the sheets.
pub(in crate::drawing) fn finish(job: &Job, bodies: Vec<SheetBody>, look: &Look) -> Vec<Sheet> {
    let of = bodies.len();
    let tolerance = tolerance(look);
    let with_ends = format!("{tolerance} {MEANING}");
    let (width, height) = look.paper.size();
    let sheet = |(i, body): (usize, SheetBody)| {
        let mut plate = Plate::new(look);
        let on = if body.opens { look.opening() } else { look.clone() };
        frame::draw(&mut plate, &on);
        let room = on.room();
        let fields = SheetFields {
            title: &body.title,
            document_type: body.kind.document_type(),
            scale: body.scale.map_or("", |scale| scale.name),
            number: i + 1,
            of,
            // Where ends are named, the letters that mark them are said.
            tolerance: if body.ends { &with_ends } else { tolerance },
        };
        let block = if body.opens { title_block::draw } else { strip::draw };
        block(&mut plate, look, &job.head, &fields, room.block);
        let mut marks = body.marks;
        merge_close(&mut marks);
        join_lines(&mut marks);
        plate.marks.extend(marks);
        // All sheets of a set are held at once.
        plate.marks.shrink_to_fit();
        Sheet {
            number: (i + 1).to_string(),
            title: body.title,
            bookmarks: body.bookmarks,
            width,
            height,
            space: room.space,
            paper: look.paper.name(),
            marks: plate.marks,
            full_size: body.full_size,
        }
    };
    bodies.into_par_iter().enumerate().map(sheet).collect()
}

/// The general tolerance note: ISO 2768-1 class c, made for metal and usable
/// elsewhere by note; a thirty-second of an inch on ASME sheets (common
/// practice, no source).
fn tolerance(look: &Look) -> &'static str {
    if notes::by_iso(look) {
        "General tolerances ISO 2768-1 c."
    } else {
        "Unless noted ±1/32″, angles ±0.5°."
    }
}
