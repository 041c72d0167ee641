//! Fewer, fuller sheets: what does not need a sheet of its own goes into the white of one
//! that is begun already.
//!
//! Every kind of sheet hands on bodies laid out from the corner of an empty sheet. Here
//! each is taken as one block, as large as its ink, and moved to the first place that
//! takes it, on a sheet it may share; a table that can be set narrower is tried so too.

use kurbo::{Rect, Vec2};

use super::cells::Cells;
use super::index;
use super::look::Look;
use super::sheet_body::{SheetBody, SheetKind};
use crate::paper::Role;

/// White kept round ink of a sheet that is drawn already, mm.
const ROUND: f64 = 6.0;
/// The index lists the sheets it stands among, so that its own length may shift them:
/// after so many rounds what is left over is but a row.
const ROUNDS: usize = 4;

/// Gathers bodies on sheets, in order, with the index before the first notes.
pub(in crate::drawing) fn gather(mut bodies: Vec<SheetBody>, look: &Look) -> Vec<SheetBody> {
    let mut shapes: Vec<Vec<Rect>> = bodies.iter().map(shapes_of).collect();
    let mut titles: Vec<String> = bodies.iter().map(|body| body.title.clone()).collect();
    let at = bodies.iter().position(|body| body.kind == SheetKind::Notes).unwrap_or(bodies.len());
    for round in 0..=ROUNDS {
        let index = index::body(&titles, look);
        let index_shapes = shapes_of(&index);
        if round == 0 {
            bodies.insert(at, index);
            shapes.insert(at, index_shapes);
        } else if let Some((body, known)) = bodies.get_mut(at).zip(shapes.get_mut(at)) {
            (*body, *known) = (index, index_shapes);
        }
        let again: Vec<String> =
            placed(&bodies, &shapes, look).iter().map(|sheet| title(&bodies, sheet)).collect();
        if again == titles {
            break;
        }
        titles = again;
    }
    let sheets = placed(&bodies, &shapes, look);
    merged(bodies, sheets)
}

/// What is on a sheet.
struct Gathered {
    members: Vec<Member>,
    cells: Cells,
}

/// A body on a sheet.
#[derive(Clone, Copy)]
struct Member {
    /// Its place in the set.
    body: usize,
    /// Which of its shapes: its own, then those narrower.
    shape: usize,
    /// How far it is moved.
    by: Vec2,
}

/// The box of all ink of a body, and those of its narrower shapes.
fn shapes_of(body: &SheetBody) -> Vec<Rect> {
    std::iter::once(body).chain(&body.narrower).map(ink).collect()
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
fn placed(bodies: &[SheetBody], shapes: &[Vec<Rect>], look: &Look) -> Vec<Gathered> {
    let mut sheets: Vec<Gathered> = Vec::new();
    for (i, (body, shapes)) in bodies.iter().zip(shapes).enumerate() {
        let stays = body.kind.stays() || body.opens;
        // What runs on never comes before its beginning.
        let begun = sheets.iter().rposition(|sheet| {
            let mut others = sheet.members.iter().filter_map(|member| bodies.get(member.body));
            others.any(|other| other.title == body.title && other.kind == body.kind && body.runs_on)
        });
        let from = begun.unwrap_or(0);
        let found = sheets.iter_mut().enumerate().skip(from).filter(|_| !stays).find_map(|(s, sheet)| {
            let hosts = || sheet.members.iter().filter_map(|member| bodies.get(member.body));
            if !hosts().all(|host| host.takes(body)) || !scales(hosts(), body) {
                return None;
            }
            let cells = &mut sheet.cells;
            shapes.iter().enumerate().find_map(|(shape, ink)| {
                let by = put(cells, body, *ink)?;
                Some((s, Member { body: i, shape, by }))
            })
        });
        if let Some((s, member)) = found {
            if let Some(sheet) = sheets.get_mut(s) {
                sheet.members.push(member);
            }
            continue;
        }
        let mut cells = Cells::of(look, body.opens);
        let mut by = Vec2::ZERO;
        let ink = shapes.first().copied().unwrap_or_default();
        // Views that stand as they project on one another leave white between them.
        if stays || body.kind.is_spread() {
            for seen in drawn(body) {
                cells.mark(seen.inflate(ROUND, ROUND));
            }
        } else if let Some(moved) = put(&mut cells, body, ink) {
            // What fills its sheet is spread over it already.
            let room = look.room().above();
            let full = ink.width() > FULL * room.width() && ink.height() > FULL * room.height();
            by = if full { Vec2::ZERO } else { moved };
        } else {
            cells.mark(ink);
        }
        sheets.push(Gathered { members: vec![Member { body: i, shape: 0, by }], cells });
    }
    sheets
}

/// Puts a block on the first place that takes it; gives how far it is moved. Beside a
/// layout with its cuts is white that a list may use.
fn put(cells: &mut Cells, body: &SheetBody, ink: Rect) -> Option<Vec2> {
    if body.kind != SheetKind::Layout {
        return Some(cells.take(ink)? - ink.origin());
    }
    let by = cells.find(ink)? - ink.origin();
    for seen in drawn(body) {
        cells.mark((seen + by).inflate(ROUND, ROUND));
    }
    Some(by)
}

/// Share of both sides of the paper that a block takes which fills it.
const FULL: f64 = 0.9;

/// Whether a body may stand beside some others for its scale: one that is printed nowhere
/// but in the title block has to be that of all.
fn scales<'a>(mut hosts: impl Iterator<Item = &'a SheetBody>, body: &SheetBody) -> bool {
    let own = |body: &SheetBody| if body.kind.prints_scales() { None } else { body.scale };
    own(body).is_none_or(|scale| hosts.all(|host| own(host).is_none_or(|other| other == scale)))
}

/// The title of a sheet: what its bodies show, each once.
fn title(bodies: &[SheetBody], sheet: &Gathered) -> String {
    let mut titles: Vec<&str> = Vec::new();
    for body in sheet.members.iter().filter_map(|member| bodies.get(member.body)) {
        // Notes need no mention where something else is looked for.
        let guest = body.kind == SheetKind::Notes && !titles.is_empty();
        if !titles.contains(&body.title.as_str()) && !guest {
            titles.push(&body.title);
        }
    }
    titles.join("; ")
}

/// The bodies of the sheets.
fn merged(bodies: Vec<SheetBody>, sheets: Vec<Gathered>) -> Vec<SheetBody> {
    let titles: Vec<String> = sheets.iter().map(|sheet| title(&bodies, sheet)).collect();
    let mut bodies: Vec<Option<SheetBody>> = bodies.into_iter().map(Some).collect();
    let mut taken = |member: Member| {
        let mut body = bodies.get_mut(member.body).and_then(Option::take)?;
        if let Some(narrower) = member.shape.checked_sub(1)
            && narrower < body.narrower.len()
        {
            body.marks = body.narrower.swap_remove(narrower).marks;
        }
        if member.by != Vec2::ZERO {
            body.moved(member.by);
        }
        Some(body)
    };
    let one = |(sheet, title): (Gathered, String)| {
        let mut members = sheet.members.into_iter();
        let mut host = members.next().and_then(&mut taken)?;
        for guest in members.filter_map(&mut taken) {
            host.join(guest);
        }
        host.title = title;
        Some(host)
    };
    sheets.into_iter().zip(titles).filter_map(one).collect()
}
