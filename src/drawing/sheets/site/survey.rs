//! A blank sheet to measure the room by, to take along: every row says which figure of
//! `site` or `obstacle` it becomes.

use kurbo::{Point, Rect};

use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::{length_text, plain, stacked};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate};
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::measure::{INCH, Unit};
use crate::paper::{Anchor, Role};

/// Share of the area that the picture of the wall takes, across.
const PICTURE: f64 = 0.36;
/// The wall in the picture: height to width.
const SHAPE: f64 = 0.62;
/// White round it and between it and the table, mm.
const WHITE: f64 = 12.0;
/// From an end of the wall to the lines up it, as a share of its width.
const IN: f64 = 0.06;
/// Room before a letter, mm.
const BESIDE: f64 = 2.0;
/// Sides of the triangle that tries a corner: 3, 4 and 5 of this, mm and in.
const TRIANGLE: (f64, f64) = (200.0, 8.0);

/// A row: letter of the picture, what is measured, what it becomes in the script.
type Asked = (&'static str, &'static str, &'static str);

/// What is measured.
const ROWS: [Asked; 19] = [
    ("A", "width at the floor, over the skirting", "widths, first"),
    ("B", "width half way up", "widths, second"),
    ("C", "width at the ceiling", "widths, third"),
    ("D", "height at the left end", "ceiling, first"),
    ("E", "height at the right end", "ceiling, second"),
    ("F, G", "diagonals: they differ where the wall is out of square", "check of A to E"),
    ("", "plumb line from the ceiling: how much nearer the wall is at the top", "lean"),
    ("", "floor: how much it falls from left to right", "feet, plinth"),
    ("", "skirting: height and depth", "skirting"),
    ("", "first stud from the left end; from stud to stud", "studs"),
    ("", "built of what; where it sounds hollow", "build"),
    ("", "window or door 1: left, right, sill, head", "obstacle"),
    ("", "window or door 2: left, right, sill, head", "obstacle"),
    ("", "sockets and switches: left, right, lower, upper edge", "obstacle"),
    ("", "radiators and pipes: left, right, lower, upper edge, depth", "obstacle"),
    ("", "what opens towards it: doors, windows, drawers, and how far", "left, floor"),
    ("", "deepest piece that stairs, doors and lift let through", "size of pieces"),
    ("", "cables and pipes in the wall: looked for with what, found where", "fixings"),
    ("", "measured by, on", ""),
];

/// The sheet.
pub(in crate::drawing) fn survey_sheet(look: &Look) -> Vec<SheetBody> {
    let area = look.room().above();
    let mut plate = Plate::new(look);
    let wide = PICTURE * area.width();
    let wall = Rect::new(
        area.x0 + WHITE,
        area.y0 + WHITE,
        area.x0 + wide - WHITE,
        area.y0 + WHITE + (wide - 2.0 * WHITE) * SHAPE,
    );
    picture(&mut plate, wall, look);
    let table = table(look);
    let beside = area.width() - wide;
    let set = table.set(look.small(), beside);
    if set.full_height() > area.height() || set.squeezed() {
        // On narrow paper the picture stands alone over the table.
        let top = wall.y1 + 2.0 * WHITE;
        let set = table.set(look.small(), area.width());
        set.draw(&mut plate, Point::new(area.x0, top), 0, f64::MAX);
    } else {
        set.draw(&mut plate, Point::new(area.x0 + wide, area.y0), 0, f64::MAX);
    }
    vec![SheetBody { marks: plate.marks, ..SheetBody::new(SheetKind::Site, "Room: to measure on site") }]
}

/// The wall with the letters of what is measured.
fn picture(plate: &mut Plate, wall: Rect, look: &Look) {
    let narrow = plate.narrow;
    plate.rect(wall, plate.wide, Role::Outline);
    let middle = wall.center();
    let step = IN * wall.width();
    let lettering = Lettering::note(look.small());
    // Letters stand outside the wall, where no line of it runs through them.
    let beside = wall.x1 + BESIDE;
    let half = 0.5 * look.small();
    for (y, letter) in [(wall.y1 - step, "A"), (middle.y, "B"), (wall.y0 + step, "C")] {
        plate.line((wall.x0, y), (wall.x1, y), narrow, Role::Centre);
        plate.text((beside, y + half), letter, lettering);
    }
    for (x, letter) in [(wall.x0 + step, "D"), (wall.x1 - step, "E")] {
        plate.line((x, wall.y0), (x, wall.y1), narrow, Role::Centre);
        plate.text((x, wall.y0 - BESIDE), letter, lettering.anchored(Anchor::Middle));
    }
    plate.line((wall.x0, wall.y0), (wall.x1, wall.y1), narrow, Role::Centre);
    plate.text((beside, wall.y1 + BESIDE + 2.0 * half), "F", lettering);
    plate.line((wall.x0, wall.y1), (wall.x1, wall.y0), narrow, Role::Centre);
    plate.text((beside, wall.y0 - BESIDE), "G", lettering);
}

/// The rows with room to write in.
fn table(look: &Look) -> Table {
    let unit = match look.unit {
        Unit::Mm => "Measured, mm",
        Unit::Inch => "Measured, in",
    };
    let columns =
        vec![Column::words(""), Column::words("What"), Column::words(unit), Column::words("In the script")];
    let mut table = Table::new("To measure on site, with steel rule and level", columns);
    for (letter, what, becomes) in ROWS {
        let cells = [letter, what, ROOM, becomes].map(plain);
        table.rows.push(Row::Cells(cells.to_vec()));
    }
    let side = match look.unit {
        Unit::Mm => TRIANGLE.0,
        Unit::Inch => TRIANGLE.1 * INCH,
    };
    let [a, b, c] = [3.0, 4.0, 5.0].map(|n| length_text(look, n * side));
    let corner = format!(
        "corner, left and right: {a} along the wall, {b} along its neighbour: the third side is {c} where it is square"
    );
    let at = table.rows.len().saturating_sub(1);
    table.rows.insert(at, Row::Cells(vec![plain(""), stacked(&corner), plain(ROOM), plain("corners")]));
    table
}

/// Room to write a figure in.
const ROOM: &str = "                              ";
