//! Part sheets: every part by itself, sized so that it can be made from its
//! drawing alone.

mod cell;
mod centres;
mod feature;
mod frame;
mod heading;
mod pack;
mod sizes;
mod symbols;
mod view;
mod wording;

use cell::{Cell, Prepared, Subject};

use super::{Look, Scale, SheetBody};
use crate::joinery::{Hand, WorkedJob};
use crate::model::Job;

/// The part sheets of a job: parts of one shape drawn once, a mirror pair once
/// as its left, in the order of their numbers.
pub fn part_sheets(job: &Job, worked: &WorkedJob, look: &Look) -> Vec<SheetBody> {
    let mut subjects: Vec<Subject<'_>> = Vec::new();
    for (index, part) in worked.parts.iter().enumerate() {
        let subject = Subject { job, worked, index, part, look };
        match subjects.iter_mut().find(|s| s.part.number == part.number) {
            None => subjects.push(subject),
            Some(known) if part.hand == Hand::Left && known.part.hand != Hand::Left => *known = subject,
            Some(_) => {}
        }
    }
    subjects.sort_by_key(|s| s.part.number);
    let cells: Vec<Cell> = subjects.into_iter().map(|s| fitted(s, look)).collect();
    pack::sheets(cells, look)
}

/// A part at the scale that serves best: the largest of the series, up to full
/// size, at which it shares a sheet with others; where it cannot be shared and
/// still be read, the smallest at which it is legible and has room.
fn fitted(subject: Subject<'_>, look: &Look) -> Cell {
    let room = pack::room(look);
    let shares = |cell: &Cell| {
        let (w, h) = (cell.bounds.width(), cell.bounds.height());
        (w <= room.width() * 0.49 && h <= room.height() * 0.64)
            || (w <= room.width() && h <= room.height() * 0.47)
    };
    let mut roomy: Option<Cell> = None;
    let mut nearest: Option<(f64, Scale)> = None;
    let prepared = cell::prepare(subject);
    for scale in super::series(look).iter().filter(|s| s.factor <= 1.0 + 1e-9) {
        // A blank that is too large by itself need not be drawn to know it.
        let size = subject.part.size * scale.factor;
        let last = scale.smaller(look).is_none();
        if !last && (size.x > room.width() || size.y > room.height()) {
            continue;
        }
        if roomy.is_some() && !legible(&prepared, *scale) {
            break;
        }
        let over = pack::overrun(cell::least(&prepared, *scale), look);
        if over > 0.0 {
            if nearest.is_none_or(|n| over < n.0) {
                nearest = Some((over, *scale));
            }
            continue;
        }
        let cell = cell::draw(&prepared, *scale);
        // What would be jammed reads better with more of a sheet to itself.
        if shares(&cell) && !(cell.strained && roomy.is_some()) {
            return cell;
        }
        if shares(&cell) {
            break;
        }
        let over = pack::overrun(cell.bounds, look);
        if over <= 0.0 {
            roomy = Some(cell);
        } else if nearest.is_none_or(|n| over < n.0) {
            nearest = Some((over, *scale));
        }
    }
    // The series ends in a scale at which any blank is small, so one was drawn.
    roomy.unwrap_or_else(|| cell::draw(&prepared, nearest.map_or_else(|| smallest(look), |n| n.1)))
}

/// The smallest scale of the series.
fn smallest(look: &Look) -> Scale {
    super::series(look).last().copied().unwrap_or(Scale { factor: 0.001, name: "1:1000" })
}

/// Least length of the main view on paper, mm, and of anything in it that is
/// drawn with two lines (ISO 128-2: lines at least 0.7 mm apart).
const LEAST: (f64, f64) = (50.0, 0.7);

/// Whether a part can still be read at `scale`.
fn legible(prepared: &Prepared<'_>, scale: Scale) -> bool {
    let part = prepared.subject.part;
    let fine = prepared.features.iter().map(feature::Feature::finest).fold(part.size.z, f64::min);
    part.size.x * scale.factor >= LEAST.0 && fine * scale.factor >= LEAST.1
}
