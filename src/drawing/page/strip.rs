//! The title block of every sheet but the first: the same fields as a strip along the
//! foot, so that the paper is left to what is drawn. Who drew and who approved the set
//! stands on its first sheet.

use kurbo::Rect;

use super::block::FOOT_ROW;
use super::look::Look;
use super::plate::{Lettering, Plate};
use super::scale::series;
use super::title_block::{BESIDE_NAME, projection_symbol};
use super::title_block::{NAME, OVER_NAME, PAD, PADS, SheetFields, VALUE, dimensions_in, field};
use crate::drawing::kit::words::{elide, shrink, text_width};
use crate::geometry::tolerance::HAIR;
use crate::model::JobHead;
use crate::paper::{Role, Weight};

/// Widths of the fields, mm: those that hold figures only as long as they are.
const OWNER: f64 = 38.0;
const NUMBER: f64 = 26.0;
const REVISION: f64 = 13.0;
const DATE: f64 = 23.0;
const SHEET: f64 = 17.0;
const SCALE: f64 = 18.0;
const SYMBOL: f64 = 16.0;
/// The unit and the tolerances, where all stands in one row: as long as the longest, so
/// that it is not torn over two lines.
const TOLERANCE: f64 = 88.0;
/// Heights of what the sheet shows, the best first, mm.
const SHOWS: &[f64] = &[Lettering::MIDDLE, Lettering::SMALL];
/// From the top of a row to the base line of the title of the job, mm.
const OVER_JOB: f64 = 3.3;

/// From the foot of a row to the base line of what the sheet shows, mm: as low as leaves
/// its descenders above the rule, clear of the title of the job.
const UNDER_TITLE: f64 = 1.4;

/// One field of the strip.
#[derive(Clone, Copy)]
enum Field {
    Owner,
    Title,
    Number,
    Revision,
    Date,
    Sheet,
    Scale,
    Symbol,
    Tolerance,
}

/// Draws the strip of one sheet into `block`, in one row or two.
pub(in crate::drawing) fn draw(
    plate: &mut Plate,
    look: &Look,
    head: &JobHead,
    sheet: &SheetFields<'_>,
    block: Rect,
) {
    use Field::{Date, Number, Owner, Revision, Scale, Sheet, Symbol, Title, Tolerance};
    plate.rect(block, plate.wide, Role::Table);
    let scale = scale_field(look);
    let fixed = |field: Field| match field {
        Owner => OWNER,
        Number => NUMBER,
        Revision => REVISION,
        Date => DATE,
        Sheet => SHEET,
        Scale => scale,
        Symbol => SYMBOL,
        Tolerance => TOLERANCE,
        Title => 0.0,
    };
    let one = [Owner, Title, Number, Revision, Date, Sheet, Scale, Symbol, Tolerance];
    let two = [vec![Title, Sheet, Scale, Symbol], vec![Owner, Number, Revision, Date, Tolerance]];
    let rows = if block.height() > FOOT_ROW + PAD { two.to_vec() } else { vec![one.to_vec()] };
    let mut y = block.y0;
    for (i, row) in rows.iter().enumerate() {
        // What is longest takes what the others leave.
        let rest = |field: &Field| match field {
            Title => true,
            Tolerance => i > 0,
            _ => false,
        };
        let taken: f64 = row.iter().filter(|f| !rest(f)).map(|f| fixed(*f)).sum();
        let mut x = block.x0;
        for field in row {
            let wide = if rest(field) { block.width() - taken } else { fixed(*field) };
            let rect = Rect::new(x, y, x + wide, y + FOOT_ROW);
            if x > block.x0 {
                plate.line((x, y), (x, rect.y1), plate.narrow, Role::Table);
            }
            one_field(plate, look, (head, sheet), *field, rect);
            x += wide;
        }
        y += FOOT_ROW;
        if i + 1 < rows.len() {
            plate.line((block.x0, y), (block.x1, y), plate.narrow, Role::Table);
        }
    }
}

/// Width of the field of the scale, mm: as long as the longest of the series, so that none
/// is shortened and the strip is alike on all sheets.
fn scale_field(look: &Look) -> f64 {
    series(look)
        .iter()
        .map(|one| text_width(one.name, VALUE, Weight::Regular) + PADS + HAIR)
        .fold(SCALE, f64::max)
}

/// Fills in one field.
fn one_field(
    plate: &mut Plate,
    look: &Look,
    (head, sheet): (&JobHead, &SheetFields<'_>),
    which: Field,
    rect: Rect,
) {
    let of = |text: &Option<String>| text.clone().unwrap_or_default();
    let (name, value) = match which {
        Field::Title => return title(plate, head, sheet, rect),
        Field::Symbol => return projection_symbol(plate, look.profile.projection(), rect.center()),
        Field::Owner => ("Owner", of(&head.owner)),
        Field::Number => ("Number", of(&head.number)),
        Field::Revision => ("Revision", of(&head.revision)),
        Field::Date => ("Date of issue", of(&look.date)),
        Field::Sheet => ("Sheet", format!("{} / {}", sheet.number, sheet.of)),
        Field::Scale => ("Scale", sheet.scale.to_owned()),
        Field::Tolerance => (dimensions_in(look), sheet.tolerance.to_owned()),
    };
    field(plate, rect, name, &value);
}

/// The title of the job, and below it what the sheet shows.
fn title(plate: &mut Plate, head: &JobHead, sheet: &SheetFields<'_>, rect: Rect) {
    plate.text((rect.x0 + PAD, rect.y0 + OVER_NAME + NAME), "Title", Lettering::note(NAME).role(Role::Table));
    let left = rect.x0 + PAD + text_width("Title", NAME, Weight::Regular) + BESIDE_NAME;
    let job = elide(&head.title, Lettering::SMALL, Weight::SemiBold, rect.x1 - PAD - left);
    plate.text((left, rect.y0 + OVER_JOB), job, Lettering::title(Lettering::SMALL));
    // A stacked fraction is taller than its line and would reach the title of the job.
    let heights = if sheet.title.contains('/') { SHOWS.get(1..).unwrap_or(SHOWS) } else { SHOWS };
    let (height, lines) = shrink(sheet.title, Weight::Regular, heights, 1, rect.width() - PADS);
    for line in lines {
        plate.text((rect.x0 + PAD, rect.y1 - UNDER_TITLE), line, Lettering::note(height).role(Role::Title));
    }
}
