//! The set: sheets collected, numbered, framed and titled.

use super::plate::Plate;
use super::title_block::{self, SheetFields};
use super::{
    Look, SheetBody, assembly_sheet, buying_sheet, cutting_list, detail, exploded, frame, general, index,
    layout_sheet, notes, section, settings_sheet,
};
use crate::assembly::Order;
use crate::cutting::ShopLists;
use crate::joinery::WorkedJob;
use crate::model::{Job, PieceId};
use crate::paper::{Sheet, merge_close};
use crate::problem::Problem;

/// Draws the whole set of a job: general arrangement and section of each piece,
/// part sheets, cutting list, layouts, assembly order. Problems are about what could not
/// be drawn legibly.
pub fn draw(
    job: &Job,
    worked: &WorkedJob,
    lists: &ShopLists,
    orders: &[Order],
    look: &Look,
) -> (Vec<Sheet>, Vec<Problem>) {
    let mut bodies: Vec<SheetBody> = Vec::new();
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
    let (mut sections, mut of_joints): (Vec<SheetBody>, Vec<SheetBody>) = (Vec::new(), Vec::new());
    let mut letters = 0;
    for piece in &with_parts {
        let mut details = detail::details(job, worked, *piece, look, letters);
        letters += details.len();
        // What the section cuts is marked there, the rest on the arrangement.
        match section::section(job, worked, *piece, look, &mut details) {
            Ok(sheets) => sections.extend(sheets),
            Err(problem) => problems.push(problem),
        }
        match general::general(job, worked, *piece, look, &mut details) {
            Ok(body) => bodies.push(body),
            Err(problem) => problems.push(problem),
        }
        let name = job.pieces.get(piece.0).map_or("", |p| p.name.as_str());
        of_joints.extend(detail::sheets(job, worked, &details, name, look));
    }
    // The notes follow the general arrangements.
    let after = bodies.len();
    bodies.append(&mut sections);
    bodies.append(&mut of_joints);
    bodies.extend(orders.iter().filter_map(|order| exploded::exploded(job, worked, order, look)));
    bodies.extend(super::part_sheets(job, worked, look));
    bodies.extend(cutting_list::cutting_list(&lists.list, look));
    bodies.extend(layout_sheet::layout_sheets(&lists.list, &lists.layouts, look));
    bodies.extend(buying_sheet::buying_sheets(&lists.buying, look));
    bodies.extend(settings_sheet::settings_sheets(job, worked, &lists.list, look));
    for order in orders {
        bodies.extend(assembly_sheet::assembly_sheets(job, worked, order, look));
    }
    let (templates, found) = super::template_sheet::template_sheets(job, worked, look);
    bodies.extend(templates);
    problems.extend(found);
    let noted = bodies.first().is_some_and(|body| body.noted);
    index::put(&mut bodies, after, look, |index| {
        notes::notes(job, worked, &lists.list, look, (index, noted))
    });
    (finish(job, bodies, look), problems)
}

/// Numbers, frames and titles the sheets.
fn finish(job: &Job, bodies: Vec<SheetBody>, look: &Look) -> Vec<Sheet> {
    let of = bodies.len();
    let tolerance = tolerance(look);
    let room = look.room();
    let (width, height) = look.paper.size();
    let sheet = |(i, body): (usize, SheetBody)| {
        let mut plate = Plate::new(look);
        frame::draw(&mut plate, look);
        let fields = SheetFields {
            title: &body.title,
            document_type: body.kind.document_type(),
            scale: body.scale.map_or("", |scale| scale.name),
            number: i + 1,
            of,
            tolerance,
        };
        title_block::draw(&mut plate, look, &job.head, &fields, room.block);
        let mut marks = body.marks;
        merge_close(&mut marks);
        plate.marks.extend(marks);
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
    bodies.into_iter().enumerate().map(sheet).collect()
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
