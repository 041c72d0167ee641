//! Fewer, fuller sheets: what does not need a sheet of its own goes into the white of one
//! that is begun already.
//!
//! Every kind of sheet hands on bodies laid out from the corner of an empty sheet. Here
//! each is taken as one block, as large as its ink, and moved to the first place that
//! takes it, on a sheet it may share. The paper is looked at in cells of a few
//! millimetres: finer cells would place no table better, and cost time on A0.

use kurbo::{Rect, Vec2};

use super::index;
use super::look::Look;
use super::sheet_body::{SheetBody, SheetKind};
use crate::paper::Role;

/// Side of a cell, mm.
const CELL: f64 = 4.0;
/// White kept between blocks, mm: two tables are told apart by it.
const GAP: f64 = 8.0;
/// What the lines round a block take of its size, mm: a table as wide as the paper has room
/// on it.
const LINE: f64 = 1.0;
/// White kept round ink of a sheet that is drawn already, mm.
const ROUND: f64 = 6.0;
/// The index lists the sheets it stands among, so that its own length may shift them:
/// after so many rounds what is left over is but a row.
const ROUNDS: usize = 4;

/// Gathers bodies on sheets, in order, with the index before the first notes.
pub(in crate::drawing) fn gather(bodies: Vec<SheetBody>, look: &Look) -> Vec<SheetBody> {
    let inks: Vec<Rect> = bodies.iter().map(ink).collect();
    let mut titles: Vec<String> = bodies.iter().map(|body| body.title.clone()).collect();
    let at = bodies.iter().position(|body| body.kind == SheetKind::Notes).unwrap_or(bodies.len());
    let mut with = Vec::new();
    let mut sheets = Vec::new();
    for _ in 0..ROUNDS {
        let index = index::body(&titles, look);
        let index_ink = ink(&index);
        with.clone_from(&inks);
        with.insert(at, index_ink);
        let mut all: Vec<&SheetBody> = bodies.iter().collect();
        all.insert(at, &index);
        sheets = placed(&all, &with, look);
        let again: Vec<String> = sheets.iter().map(|sheet| title(&all, sheet)).collect();
        if again == titles {
            let mut bodies = bodies;
            bodies.insert(at, index);
            return merged(bodies, sheets);
        }
        titles = again;
    }
    let mut bodies = bodies;
    bodies.insert(at, index::body(&titles, look));
    merged(bodies, sheets)
}

/// What is on a sheet: bodies by their place in the set, and how far each is moved.
struct Gathered {
    members: Vec<(usize, Vec2)>,
    cells: Cells,
}

/// All ink of a body.
fn ink(body: &SheetBody) -> Rect {
    let mut bounds = body.marks.iter().map(crate::paper::Mark::bounds);
    bounds.next().map_or(Rect::ZERO, |first| bounds.fold(first, |all, one| all.union(one)))
}

/// What is drawn on a body that stays where it is: each view whole, since the white
/// inside its outlines is no place for a table, and whatever stands by itself.
fn drawn(body: &SheetBody) -> Vec<Rect> {
    let mut views: Vec<(u16, Rect)> = Vec::new();
    let mut boxes = Vec::new();
    for mark in &body.marks {
        let bounds = mark.bounds();
        let outline = matches!(mark.role, Role::Outline | Role::Pictorial);
        match (outline, views.iter_mut().find(|(view, _)| *view == mark.shows.view)) {
            (false, _) => boxes.push(bounds),
            (true, Some((_, all))) => *all = all.union(bounds),
            (true, None) => views.push((mark.shows.view, bounds)),
        }
    }
    boxes.extend(views.into_iter().map(|(_, all)| all));
    boxes
}

/// Which bodies share each sheet.
fn placed(bodies: &[&SheetBody], inks: &[Rect], look: &Look) -> Vec<Gathered> {
    let mut sheets: Vec<Gathered> = Vec::new();
    for (i, (body, ink)) in bodies.iter().zip(inks).enumerate() {
        let room = if body.opens { look.opening() } else { look.clone() }.room().above();
        let block = Rect::from_origin_size(room.origin(), (ink.width(), ink.height()));
        let found = if body.kind.stays() || body.opens {
            None
        } else {
            sheets.iter_mut().enumerate().find_map(|(s, sheet)| {
                let all = sheet.members.iter().filter_map(|(m, _)| bodies.get(*m));
                let welcome = all.clone().all(|host| host.kind.shares(body.kind)) && scales(all, body);
                welcome.then(|| sheet.cells.take(block)).flatten().map(|corner| (s, corner))
            })
        };
        if let Some((s, corner)) = found {
            if let Some(sheet) = sheets.get_mut(s) {
                sheet.members.push((i, corner - ink.origin()));
            }
            continue;
        }
        let mut cells = Cells::of(look, body.opens);
        let mut by = Vec2::ZERO;
        if body.kind.stays() || body.opens {
            drawn(body).into_iter().for_each(|box_| cells.mark(box_.inflate(ROUND, ROUND)));
        } else if let Some(corner) = cells.take(block) {
            // What fills its sheet is spread over it already.
            let full = ink.width() > FULL * room.width() && ink.height() > FULL * room.height();
            by = if full { Vec2::ZERO } else { corner - ink.origin() };
        } else {
            cells.mark(*ink);
        }
        sheets.push(Gathered { members: vec![(i, by)], cells });
    }
    sheets
}

/// Share of both sides of the paper that a block takes which fills it.
const FULL: f64 = 0.9;

/// Whether a body may stand beside some others for its scale: one that is printed nowhere
/// but in the title block has to be that of all.
fn scales<'a>(hosts: impl Iterator<Item = &'a &'a SheetBody>, body: &SheetBody) -> bool {
    let own = |body: &SheetBody| if body.kind.prints_scales() { None } else { body.scale };
    let mut others = hosts.filter_map(|host| own(host));
    own(body).is_none_or(|scale| others.all(|other| other == scale))
}

/// The title of a sheet: what its bodies show, each once.
fn title(bodies: &[&SheetBody], sheet: &Gathered) -> String {
    let mut titles: Vec<&str> = Vec::new();
    for body in sheet.members.iter().filter_map(|(i, _)| bodies.get(*i)) {
        let guest = body.kind == SheetKind::Notes && titles.first().is_some();
        if !titles.contains(&body.title.as_str()) && !guest {
            titles.push(&body.title);
        }
    }
    titles.join("; ")
}

/// The bodies of the sheets.
fn merged(bodies: Vec<SheetBody>, sheets: Vec<Gathered>) -> Vec<SheetBody> {
    let views: Vec<&SheetBody> = bodies.iter().collect();
    let titles: Vec<String> = sheets.iter().map(|sheet| title(&views, sheet)).collect();
    let mut bodies: Vec<Option<SheetBody>> = bodies.into_iter().map(Some).collect();
    let one = |(sheet, title): (Gathered, String)| {
        let mut members = sheet.members.into_iter();
        let (first, by) = members.next()?;
        let mut host = bodies.get_mut(first).and_then(Option::take)?;
        if by != Vec2::ZERO {
            host.moved(by);
        }
        for (i, by) in members {
            let Some(mut guest) = bodies.get_mut(i).and_then(Option::take) else { continue };
            guest.moved(by);
            host.join(guest);
        }
        host.title = title;
        Some(host)
    };
    sheets.into_iter().zip(titles).filter_map(one).collect()
}

/// Which cells of the paper are taken, row by row.
struct Cells {
    area: Rect,
    columns: usize,
    rows: usize,
    taken: Vec<bool>,
}

impl Cells {
    /// An empty sheet.
    fn of(look: &Look, opens: bool) -> Self {
        let look = if opens { look.opening() } else { look.clone() };
        let (room, above) = (look.room(), look.room().above());
        // Beside the whole block there is room down to the foot.
        let area = Rect { y1: room.beside().y1.max(above.y1), ..above };
        let [columns, rows] = [area.width(), area.height()].map(|side| cells((side + GAP) / CELL));
        let mut cells = Self { area, columns, rows, taken: vec![false; columns * rows] };
        cells.mark(room.block);
        cells
    }

    /// Marks what a box takes.
    fn mark(&mut self, what: Rect) {
        let from = |at: f64| cells((at / CELL).max(0.0));
        let to = |at: f64, most: usize| cells((at / CELL).ceil().max(0.0)).min(most);
        let (x0, y0) = (from(what.x0 - self.area.x0), from(what.y0 - self.area.y0));
        let x1 = to(what.x1 - self.area.x0, self.columns);
        let y1 = to(what.y1 - self.area.y0, self.rows);
        for y in y0..y1 {
            let row = self.taken.get_mut(y * self.columns + x0.min(x1)..y * self.columns + x1);
            row.into_iter().for_each(|row| row.fill(true));
        }
    }

    /// Takes the first place for a block, from the top down; gives its corner.
    fn take(&mut self, block: Rect) -> Option<kurbo::Point> {
        let [wide, high] =
            [block.width(), block.height()].map(|side| cells(((side - LINE + GAP) / CELL).ceil()));
        if wide > self.columns || high > self.rows {
            return None;
        }
        // For each cell how many free ones stand under one another up to it.
        let mut deep = vec![0_usize; self.columns];
        for y in 0..self.rows {
            let mut run = 0;
            for (x, deep) in deep.iter_mut().enumerate() {
                let taken = self.taken.get(y * self.columns + x).copied().unwrap_or(true);
                *deep = if taken { 0 } else { *deep + 1 };
                run = if *deep >= high { run + 1 } else { 0 };
                if run >= wide {
                    let at = |cell: usize| cell as f64 * CELL;
                    let corner = self.area.origin() + Vec2::new(at(x + 1 - wide), at(y + 1 - high));
                    let white = Rect::from_origin_size(corner, (at(wide), at(high)));
                    self.mark(white);
                    return Some(corner);
                }
            }
        }
        None
    }
}

/// So many whole cells.
fn cells(count: f64) -> usize {
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "no paper has a million cells, and less than none is none"
    )]
    let whole = count.clamp(0.0, 1e6) as usize;
    whole
}
