//! Part numbers of a crowded piece: pictures of its stretches, two to a sheet,
//! where the picture of the general arrangement cannot carry them all.

use std::fmt::Write as _;

use kurbo::{Point, Rect};

use crate::drawing::kit::project::{self, ITEM_COLUMN, OnSheet, ViewPens};
use crate::drawing::kit::zones::{Most, Zone, zones};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate};
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::geometry::DVec2;
use crate::joinery::WorkedJob;
use crate::paper::Role;
use crate::solid::{Camera, HiddenLines, Viewed, view};

/// Most different numbers round the picture of a general arrangement: more
/// leaders than this are no longer followed by eye (common practice, no source).
pub(in crate::drawing) const MOST_NUMBERS: usize = 30;
/// What one picture of a stretch shows: twelve numbers at each side.
const MOST: Most = Most { parts: 60, marks: 24 };
/// White between the two pictures of a sheet, mm.
const GUTTER: f64 = 10.0;
/// Height of the line that says which stretch a picture shows, mm.
const SAYS: f64 = 3.5;

/// The sheets that carry the numbers of the parts `among` of the piece `name`.
pub(in crate::drawing) fn numbered(
    name: &str,
    worked: &WorkedJob,
    among: &[usize],
    look: &Look,
) -> Vec<SheetBody> {
    let zones = zones(worked, among, MOST);
    let area = look.room().above();
    let pages = zones.len().div_ceil(2);
    let sheet = |(page, zones): (usize, &[Zone])| {
        let mut plate = Plate::new(look);
        for ((i, zone), cell) in (1..).zip(zones).zip(cells(area, zones.len())) {
            plate.text((cell.x0, cell.y0 + SAYS), zone.message(look), Lettering::title(SAYS));
            draw(&mut plate, worked, zone, Rect { y0: cell.y0 + 2.0 * SAYS + 2.0, ..cell }, i);
        }
        let mut title = format!("{name}: part numbers");
        if pages > 1 {
            let _ = write!(title, ", sheet {} of {pages}", page + 1);
        }
        SheetBody { marks: plate.marks, ..SheetBody::new(SheetKind::GeneralArrangement, title) }
    };
    zones.chunks(2).enumerate().map(sheet).collect()
}

/// The places of one or two pictures: beside one another, on upright paper one
/// above the other.
fn cells(area: Rect, count: usize) -> Vec<Rect> {
    if count < 2 {
        return vec![area];
    }
    let (w, h) = ((area.width() - GUTTER) / 2.0, (area.height() - GUTTER) / 2.0);
    if area.width() > area.height() {
        vec![Rect { x1: area.x0 + w, ..area }, Rect { x0: area.x1 - w, ..area }]
    } else {
        vec![Rect { y1: area.y0 + h, ..area }, Rect { y0: area.y1 - h, ..area }]
    }
}

/// One stretch, as large as its place, with its numbers.
fn draw(plate: &mut Plate, worked: &WorkedJob, zone: &Zone, area: Rect, number: u16) {
    let camera = Camera::isometric();
    let (mut low, mut high) = (DVec2::INFINITY, DVec2::NEG_INFINITY);
    let mut items: Vec<Viewed<'_>> = Vec::new();
    for (tag, part) in zone.parts.iter().filter_map(|p| Some((*p, worked.parts.get(*p)?))) {
        items.push(Viewed { solid: &part.solid, at: part.at, tag });
        for point in &part.solid.points {
            let at = camera.project(part.at.point(*point));
            low = low.min(at);
            high = high.max(at);
        }
    }
    let size = high - low;
    let factor = ((area.width() - 2.0 * ITEM_COLUMN) / size.x).min(area.height() / size.y);
    if !(factor.is_finite() && factor > 0.0) {
        return;
    }
    let corner = Point::new(area.center().x - size.x * factor / 2.0, area.center().y - size.y * factor / 2.0);
    let on = OnSheet::at_corner(low, high, corner, factor);
    let lines = view(&items, camera, HiddenLines::Drop);
    let pens = ViewPens {
        visible: plate.wide * Plate::LIGHT,
        hidden: plate.narrow,
        role: Role::Pictorial,
        view: number,
    };
    project::put(plate, &lines, worked, on, pens, |_| None);
    let numbers = project::items(&lines, worked, on, &zone.parts);
    project::number(plate, &numbers, on.rect(low, high), area, number);
}
