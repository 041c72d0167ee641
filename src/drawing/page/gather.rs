//! Fewer, fuller sheets: what does not need a sheet of its own goes into the white of one
//! that is begun already.
//!
//! Every kind of sheet hands on bodies laid out from the corner of an empty sheet. Here
//! each is taken as one block, as large as its ink, and moved to the first place that
//! takes it, on a sheet it may share; a table that can be set narrower is tried so too.

use kurbo::Vec2;
use rayon::prelude::*;

use super::index;
use super::look::Look;
use super::placing::{Block, Gathered, Member, Set};
use super::sheet_body::{SheetBody, SheetKind};

/// The index lists the sheets it stands among, so that its own length may shift them:
/// after so many rounds what is left over is but a row.
const ROUNDS: usize = 4;

/// Gathers bodies on sheets, in order, with the index before the first notes.
pub(in crate::drawing) fn gather(mut bodies: Vec<SheetBody>, look: &Look) -> Vec<SheetBody> {
    let mut shapes: Vec<Vec<Block>> = bodies.par_iter().map(Block::shapes).collect();
    let mut titles: Vec<String> = bodies.iter().map(|body| body.title.clone()).collect();
    let at = bodies.iter().position(|body| body.kind == SheetKind::Notes).unwrap_or(bodies.len());
    let mut sheets = Vec::new();
    for round in 0..=ROUNDS + 1 {
        let index = index::body(&titles, look);
        let index_shapes = Block::shapes(&index);
        if round == 0 {
            bodies.insert(at, index);
            shapes.insert(at, index_shapes);
        } else if let Some((body, known)) = bodies.get_mut(at).zip(shapes.get_mut(at)) {
            (*body, *known) = (index, index_shapes);
        }
        sheets = Set { bodies: &bodies, shapes: &shapes, look }.sheets();
        let again: Vec<String> = sheets.iter().map(|sheet| title(&bodies, sheet)).collect();
        if again == titles {
            break;
        }
        titles = again;
    }
    merged(bodies, sheets)
}

/// Gathers bodies on sheets, in order, without an index: a paper of a sheet or two is
/// looked through faster than an index is read.
pub(in crate::drawing) fn gather_few(bodies: Vec<SheetBody>, look: &Look) -> Vec<SheetBody> {
    let shapes: Vec<Vec<Block>> = bodies.iter().map(Block::shapes).collect();
    let sheets = Set { bodies: &bodies, shapes: &shapes, look }.sheets();
    merged(bodies, sheets)
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
