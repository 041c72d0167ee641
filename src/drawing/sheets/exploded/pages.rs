//! The sheets of parts drawn apart: list of parts, picture, flow lines.

use kurbo::{Point, Rect};
use std::fmt::Write as _;

use super::apart::{Apart, Flow, taken_apart};
use crate::assembly::{Motion, Order, Step};
use crate::drawing::kit::flow::{self, FLOWS};
use crate::drawing::kit::project::{self, ITEM_COLUMN, OnSheet, ViewPens};
use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::plain;
use crate::drawing::kit::zones::{Most, Zone, zones};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate};
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::geometry::tolerance::HAIR;
use crate::geometry::{DVec2, Placement};
use crate::joinery::{WorkedJob, WorkedPart};
use crate::model::Job;
use crate::paper::Role;
use crate::solid::{Camera, HiddenLines, Solid, ViewLine, Viewed, view};

/// Most of the width that the list of parts takes.
const LIST: f64 = 0.34;
/// White round the picture and its numbers, mm.
const ROUND: f64 = 4.0;
/// White between the list of parts and the picture, mm.
const CLEAR: f64 = 8.0;
/// By how much the picture must gain for the list to stand at the foot.
const LARGER: f64 = 1.1;
/// Height of the line that says which stretch is shown, mm.
const SAYS: f64 = 3.5;

/// What one picture shows before the piece is taken apart in stretches.
const MOST: Most = Most { parts: 48, marks: 36 };

/// The sheets of one piece's parts drawn apart: one, or one for each stretch of
/// a piece of many parts; none for a piece of one part.
pub(in crate::drawing) fn exploded(
    job: &Job,
    worked: &WorkedJob,
    order: &Order,
    look: &Look,
) -> Vec<SheetBody> {
    let all: Vec<usize> = order.steps.iter().flat_map(Step::all_adds).collect();
    let zones = zones(worked, &all, MOST);
    let name = job.pieces.get(order.piece.0).map_or("", |p| p.name.as_str());
    let of = zones.len();
    let sheet = |(i, zone): (usize, &Zone)| {
        let whole = of == 1;
        let (apart, flows) =
            if whole { taken_apart(worked, order) } else { taken_apart(worked, &within(order, &zone.parts)) };
        if apart.is_empty() || (whole && apart.len() < 2) {
            return None;
        }
        let mut plate = Plate::new(look);
        let mut area = look.room().above();
        let mut title = format!("{name}: parts apart");
        if !whole {
            plate.text((area.x0, area.y0 + SAYS), zone.message(look), Lettering::title(SAYS));
            let _ = write!(title, ", sheet {} of {of}", i + 1);
        }
        area = put_list(&mut plate, worked, &apart, (area, look));
        if !whole {
            area.y0 += 2.0 * SAYS + 2.0;
        }
        draw(&mut plate, worked, &apart, &flows, area);
        Some(SheetBody { marks: plate.marks, ..SheetBody::new(SheetKind::Exploded, title) })
    };
    zones.iter().enumerate().filter_map(sheet).collect()
}

/// Most part numbers of a piece whose parts are drawn apart before its first step: more
/// would stand too close beside a picture of that size.
const FEW: usize = 12;

/// Whether the parts of a piece are few enough to be drawn apart beside its steps.
pub(in crate::drawing) fn few(worked: &WorkedJob, order: &Order) -> bool {
    let all: Vec<usize> = order.steps.iter().flat_map(Step::all_adds).collect();
    let mut marks: Vec<String> =
        all.iter().filter_map(|p| worked.parts.get(*p)).map(WorkedPart::mark).collect();
    marks.sort_unstable();
    marks.dedup();
    marks.len() <= FEW && zones(worked, &all, MOST).len() == 1
}

/// The parts of a piece drawn apart, with their list, in some place on a sheet.
pub(in crate::drawing) fn beside_steps(
    plate: &mut Plate,
    worked: &WorkedJob,
    order: &Order,
    (area, look): (Rect, &Look),
) {
    let (apart, flows) = taken_apart(worked, order);
    let area = put_list(plate, worked, &apart, (area, look));
    draw(plate, worked, &apart, &flows, area);
}

/// An order with nothing but some parts, given rising.
fn within(order: &Order, parts: &[usize]) -> Order {
    let is = |part: &usize| parts.binary_search(part).is_ok();
    let motion = |one: &Motion| {
        let (adds, ways) =
            one.adds.iter().copied().zip(one.ways.iter().copied()).filter(|(part, _)| is(part)).unzip();
        let together = one.together.iter().copied().filter(|(part, _)| is(part)).collect();
        let onto = one.onto.iter().copied().filter(is).collect();
        Motion { adds, ways, onto, together, ..one.clone() }
    };
    let step = |step: &Step| {
        let motions = step.all_motions().map(motion).collect();
        Step { motions, again: Vec::new(), ..step.clone() }
    };
    Order { piece: order.piece, steps: order.steps.iter().map(step).collect() }
}

/// The list of parts, at the right or at the foot, whichever leaves the picture the
/// larger; gives what is left for that.
fn put_list(plate: &mut Plate, worked: &WorkedJob, apart: &[Apart], (area, look): (Rect, &Look)) -> Rect {
    let table = list(worked, apart);
    let set = table.set(look.small(), area.width() * LIST);
    let (wide, high) = (set.width(), set.full_height());
    if high > area.height() || wide > area.width() * LIST + HAIR {
        return area;
    }
    let aside = Rect::new(area.x0, area.y0, area.x1 - wide - CLEAR, area.y1);
    let over = Rect::new(area.x0, area.y0, area.x1, area.y1 - high - CLEAR);
    let larger = extent(worked, apart).is_some_and(|(low, high)| {
        let factor = |area: Rect| factor(high - low, area);
        factor(over) > LARGER * factor(aside)
    });
    let at = if larger { Point::new(area.x0, area.y1 - high) } else { Point::new(area.x1 - wide, area.y0) };
    set.draw(plate, at, 0, area.y1);
    if larger { over } else { aside }
}

/// The list of parts: numbers, how many, names.
fn list(worked: &WorkedJob, apart: &[Apart]) -> Table {
    let columns = vec![Column::figures("No."), Column::figures("Qty"), Column::words("Part")];
    let mut table = Table::new("Parts", columns);
    let mut rows: Vec<(&WorkedPart, Vec<&str>, usize)> = Vec::new();
    for part in apart.iter().filter_map(|a| worked.parts.get(a.part)) {
        match rows.iter_mut().find(|(known, ..)| known.mark() == part.mark()) {
            Some((_, names, n)) => {
                *n += 1;
                if !names.contains(&part.name.as_str()) {
                    names.push(&part.name);
                }
            }
            None => rows.push((part, vec![&part.name], 1)),
        }
    }
    rows.sort_by(|a, b| a.0.number.cmp(&b.0.number).then_with(|| a.0.mark().cmp(&b.0.mark())));
    for (part, names, n) in rows {
        table.rows.push(Row::Cells(vec![plain(part.mark()), plain(n.to_string()), plain(all_names(&names))]));
    }
    table
}

/// Most names of one shape that are all listed: of more the first and how many others.
const NAMES: usize = 3;

/// What parts of one shape are called, each name once: `Left end, Right end`.
fn all_names(names: &[&str]) -> String {
    if names.len() <= NAMES {
        return names.join(", ");
    }
    let (first, rest) = names.split_at(NAMES - 1);
    format!("{} and {} more", first.join(", "), rest.len())
}

/// The corners of the parts as they are drawn, isometric, at full size.
fn extent(worked: &WorkedJob, apart: &[Apart]) -> Option<(DVec2, DVec2)> {
    let camera = Camera::isometric();
    let (mut low, mut high) = (DVec2::INFINITY, DVec2::NEG_INFINITY);
    for Apart { part, by } in apart {
        let Some(part) = worked.parts.get(*part) else { continue };
        let at = part.at.moved(*by);
        for point in &part.solid.points {
            let p = camera.project(at.point(*point));
            low = low.min(p);
            high = high.max(p);
        }
    }
    let size = high - low;
    (size.x > 0.0 && size.y > 0.0).then_some((low, high))
}

/// How large a picture of `size` can be in its place, with part numbers at its
/// sides.
fn factor(size: DVec2, area: Rect) -> f64 {
    let (wide, tall) = (area.width() - 2.0 * (ITEM_COLUMN + ROUND), area.height() - ROUND);
    (wide / size.x).min(tall / size.y)
}

/// The picture, as large as its place.
fn draw(plate: &mut Plate, worked: &WorkedJob, apart: &[Apart], flows: &[Flow], area: Rect) {
    let camera = Camera::isometric();
    let mut items: Vec<Viewed<'_>> = Vec::new();
    for Apart { part: tag, by } in apart {
        let Some(part) = worked.parts.get(*tag) else { continue };
        items.push(Viewed { solid: &part.solid, at: part.at.moved(*by), tag: *tag });
    }
    let Some((low, high)) = extent(worked, apart) else { return };
    let size = high - low;
    let factor = factor(size, area);
    if !(factor.is_finite() && factor > 0.0) {
        return;
    }
    let corner = area.center() - kurbo::Vec2::new(size.x, size.y) * (factor / 2.0);
    let on = OnSheet::at_corner(low, high, corner, factor);
    let needles: Vec<(Solid, Placement)> =
        flows.iter().filter_map(|one| flow::needle(one.from, one.until)).collect();
    let tags: Vec<usize> = items.iter().map(|item| item.tag).collect();
    items.extend((0..).zip(&needles).map(|(i, (solid, at))| Viewed { solid, at: *at, tag: FLOWS + i }));
    let (of_flows, lines): (Vec<ViewLine>, Vec<ViewLine>) =
        view(&items, camera, HiddenLines::Drop).into_iter().partition(|line| line.tag >= FLOWS);
    flow::put(plate, &of_flows, on);
    let pens =
        ViewPens { visible: plate.wide * Plate::LIGHT, hidden: plate.narrow, role: Role::Pictorial, view: 1 };
    project::put(plate, &lines, worked, on, pens, |_| None);
    let numbers = project::items(&lines, worked, on, &tags);
    project::number(plate, &numbers, on.rect(low, high), area, 1);
}

#[cfg(test)]
mod tests {
    use super::all_names;

    /// One shape under two names is listed under both.
    #[test]
    fn parts_of_one_shape_are_listed_by_all_their_names() {
        assert_eq!(all_names(&["Left end", "Right end"]), "Left end, Right end");
        assert_eq!(all_names(&["Bottom", "Shelf", "Top"]), "Bottom, Shelf, Top");
        assert_eq!(all_names(&["A", "B", "C", "D"]), "A, B and 2 more");
    }
}
