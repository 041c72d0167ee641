//! The set: sheets collected, numbered, framed and titled.

use super::plate::Plate;
use super::table::{Column, Row, Table};
use super::title_block::{self, SheetFields};
use super::words::plain;
use super::{
    Look, Profile, SheetBody, assembly_sheet, buying_sheet, cutting_list, frame, general, layout_sheet,
    section, settings_sheet,
};
use crate::assembly::Order;
use crate::cutting::ShopLists;
use crate::joinery::WorkedJob;
use crate::measure::Unit;
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
    for piece in &with_parts {
        match general::general(job, worked, *piece, look) {
            Ok(body) => bodies.push(body),
            Err(problem) => problems.push(problem),
        }
    }
    for piece in &with_parts {
        match section::section(job, worked, *piece, look) {
            Ok(sheets) => bodies.extend(sheets),
            Err(problem) => problems.push(problem),
        }
    }
    bodies.extend(super::part_sheets(job, worked, look));
    bodies.extend(cutting_list::cutting_list(job, &lists.list, look));
    bodies.extend(layout_sheet::layout_sheets(&lists.list, &lists.layouts, look));
    bodies.extend(buying_sheet::buying_sheets(&lists.buying, look));
    bodies.extend(settings_sheet::settings_sheets(job, worked, &lists.list, look));
    for order in orders {
        bodies.extend(assembly_sheet::assembly_sheets(job, worked, order, look));
    }
    (finish(job, bodies, look), problems)
}

/// Numbers, frames and titles the sheets.
fn finish(job: &Job, mut bodies: Vec<SheetBody>, look: &Look) -> Vec<Sheet> {
    index(&mut bodies, look);
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
    match (look.profile, look.unit) {
        (Profile::Iso | Profile::Uk, _) | (Profile::Asme, Unit::Mm) => "General tolerances ISO 2768-1 c.",
        (Profile::Asme, Unit::Inch) => "Unless noted ±1/32″, angles ±0.5°.",
    }
}

/// Puts the sheet index into the place the first sheet keeps free, if it fits.
fn index(bodies: &mut [SheetBody], look: &Look) {
    let mut table = Table::new("Sheets", vec![Column::figures("Sheet"), Column::words("Shows")]);
    for (i, body) in bodies.iter().enumerate() {
        table.rows.push(Row::Cells(vec![plain((i + 1).to_string()), plain(body.title.clone())]));
    }
    let Some((first, free)) = bodies.first_mut().and_then(|body| body.free.map(|free| (body, free))) else {
        return;
    };
    let set = table.set(2.5, free.width());
    if set.full_height() > free.height() {
        return;
    }
    let mut plate = Plate::new(look);
    set.draw(&mut plate, (free.x0, free.y1 - set.full_height()).into(), 0, free.y1);
    first.marks.append(&mut plate.marks);
}
