//! The part sheets of a job: which parts are drawn, how large, and on which sheet.

use kurbo::Rect;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::sync::Arc;

use super::breaks::breaks;
use super::cell::prepare;
use super::room::divide;
use super::stretches::Breaks;
use super::subject::{Cell, Further, Prepared, Subject};
use super::{cell, pack, strips, turned};
use crate::drawing::page::look::Look;
use crate::drawing::page::scale::Scale;
use crate::drawing::page::sheet_body::SheetBody;
use crate::geometry::tolerance::NOISE;
use crate::joinery::{Hand, WorkedPart};
use crate::machining::Machined;
use crate::machining::feature;
use crate::solid::{Body, Solid};

/// The part sheets of a job: parts of one shape drawn once, a mirror pair once
/// as its left, in the order of their numbers.
pub fn part_sheets(machined: &Machined<'_>, look: &Look) -> Vec<SheetBody> {
    let finished = drawn_parts(machined);
    let (alone, mut cells) = first_cells(machined, &finished.iter().collect::<Vec<_>>(), look);
    let alone: Vec<&Prepared<'_>> = alone.iter().collect();
    fewer(&alone, &mut cells, look);
    // After all are drawn: only then is it known which has a sheet to itself.
    for at in pack::alone(&cells, look) {
        if let Some(smaller) = alone.get(at).and_then(|own| joined(own, &cells, at, look))
            && let Some(cell) = cells.get_mut(at)
        {
            *cell = smaller;
        }
    }
    // What has a sheet to itself anyway may fill it, and fine work may be drawn
    // larger where its sheet still holds all the rest.
    let grown: Vec<(usize, Cell)> = pack::together(&cells, look)
        .par_iter()
        .flat_map(|sheet| match sheet.as_slice() {
            [at] => alone
                .get(*at)
                .and_then(|own| Some((*at, largest(own, cells.get(*at)?, look)?)))
                .into_iter()
                .collect(),
            _ => larger(&alone, &cells, sheet, look),
        })
        .collect();
    for (at, larger) in grown {
        if let Some(cell) = cells.get_mut(at) {
            *cell = larger;
        }
    }
    pack::sheets(cells, look)
}

/// Some parts as they are drawn first: those that are drawn by themselves, and their cells,
/// after which come the tables of strips.
fn first_cells<'a>(
    machined: &'a Machined<'a>,
    parts: &[&'a (usize, WorkedPart)],
    look: &'a Look,
) -> (Vec<Prepared<'a>>, Vec<Cell>) {
    let Machined { job, worked, .. } = *machined;
    let subject = |(index, part): &'a (usize, WorkedPart)| Subject {
        job,
        worked,
        index: *index,
        part,
        look,
        further: Further::No,
    };
    let prepared: Vec<Prepared<'_>> = parts.par_iter().map(|part| prepare(subject(part))).collect();
    let (tables, taken) = strips::tables(&prepared, look);
    let alone: Vec<Prepared<'_>> =
        prepared.into_iter().zip(taken).filter(|(_, taken)| !taken).map(|(p, _)| p).collect();
    let drawn: Vec<Vec<(Prepared<'_>, Cell)>> = alone.into_par_iter().map(|p| in_room(p, look)).collect();
    let (alone, mut cells): (Vec<Prepared<'_>>, Vec<Cell>) = drawn.into_iter().flatten().unzip();
    cells.extend(tables);
    (alone, cells)
}

/// How many parts a sounding draws.
const SOUNDED: usize = 120;

/// How many part sheets a job comes to at least, judged by some of its parts, spread over
/// all: whether it is worth to draw them.
pub fn sounding(machined: &Machined<'_>, look: &Look) -> usize {
    let finished = drawn_parts(machined);
    let each = finished.len().div_ceil(SOUNDED).max(1);
    let some: Vec<&(usize, WorkedPart)> = finished.iter().step_by(each).collect();
    let (_, cells) = first_cells(machined, &some, look);
    // The last of them is seldom full.
    pack::together(&cells, look).len().saturating_sub(1) * each
}

/// The parts that are drawn, finished, with their places among the worked
/// parts: one of each number, of a mirror pair the left, in the order of their
/// numbers.
pub(in crate::drawing) fn drawn_parts(machined: &Machined<'_>) -> Vec<(usize, WorkedPart)> {
    let worked = machined.worked;
    let mut by_number: BTreeMap<_, usize> = BTreeMap::new();
    for (index, part) in worked.parts.iter().enumerate() {
        let known = by_number.entry(part.number).or_insert(index);
        if part.hand == Hand::Left && worked.parts[*known].hand != Hand::Left {
            *known = index;
        }
    }
    let drawn: Vec<usize> = by_number.into_values().collect();
    drawn.into_par_iter().map(|d| (d, finished_part(machined, d))).collect()
}

/// Worked part `index` as it is drawn: joints are cut with the lippings on, so a lipped
/// part is drawn and sized so, and a lipping without them.
pub(crate) fn finished_part(machined: &Machined<'_>, index: usize) -> WorkedPart {
    finished(machined.on_the_bench(index).unwrap_or(&machined.worked.parts[index]))
}

/// The part with its blank cut down to the box round what is left of it, so
/// that sizes are those of the finished part and start at its own corner.
fn finished(part: &WorkedPart) -> WorkedPart {
    let mut part = part.clone();
    let Some((low, high)) = part.solid.bounds() else { return part };
    let same = low.length() < feature::SAME && (high - part.size).length() < feature::SAME;
    if same || !(high - low).is_finite() {
        return part;
    }
    part.size = high - low;
    part.at.origin = part.at.point(low);
    for cut in &mut part.cuts {
        cut.shape.at = cut.shape.at.moved(-low);
    }
    match &mut part.body {
        Body::Prism(body) => body.at = body.at.moved(-low),
        Body::Turning(body) => body.at = body.at.moved(-low),
    }
    let mut solid = Solid::clone(&part.solid);
    for point in &mut solid.points {
        *point -= low;
    }
    for face in &mut solid.faces {
        face.plane.offset -= face.plane.normal.dot(low);
    }
    part.solid = Arc::new(solid);
    part
}

/// A part with its cell; where no sheet holds all its views with their figures, the view
/// of the face side with a cell of its own and the others with another, and so on until
/// each has room at a scale that shows something. A view that is too crowded by itself is drawn again for half its sizes.
fn in_room<'a>(prepared: Prepared<'a>, look: &Look) -> Vec<(Prepared<'a>, Cell)> {
    let holds =
        |own: &Prepared<'_>, cell: &Cell| pack::overrun(cell.bounds, look) <= 0.0 && !speck(own, cell);
    let whole = shortened(&prepared, fitted(&prepared, look), look);
    if holds(&prepared, &whole) {
        return vec![(prepared, whole)];
    }
    let (mut open, mut done) = (vec![(prepared, whole)], Vec::new());
    while let Some((own, cell)) = open.pop() {
        if holds(&own, &cell) || !divide::can_be(&own) {
            // There are many figures, or there would have been room for all the views.
            let roomy = Some(&cell).filter(|cell| cell.strained).and_then(|cell| largest(&own, cell, look));
            done.push((own, roomy.unwrap_or(cell)));
            continue;
        }
        let [first, rest] = divide::divided(own);
        for half in [rest, first] {
            let cell = shortened(&half, fitted(&half, look), look);
            open.push((half, cell));
        }
    }
    done
}

/// A cell shares its sheet where it takes less than half the width and about two thirds
/// of the height, or the whole width and less than half the height: then another goes
/// beside it or under it.
const HALF: f64 = 0.49;
const TALL: f64 = 0.64;
const FLAT: f64 = 0.47;
/// A broken view may take this much of the height.
const ROOMY: f64 = 0.6;
/// A little less than a quarter, so that a scale of just a quarter still counts.
const QUARTER: f64 = 0.24;

/// A part at the scale that serves best: the largest of the series, up to full
/// size, at which it shares a sheet with others; where it cannot be shared and
/// still be read, the smallest at which it is legible and has room.
fn fitted(prepared: &Prepared<'_>, look: &Look) -> Cell {
    let room = pack::room(look);
    let shares = |cell: &Cell| {
        let (w, h) = (cell.bounds.width(), cell.bounds.height());
        (w <= room.width() * HALF && h <= room.height() * TALL)
            || (w <= room.width() && h <= room.height() * FLAT)
    };
    let mut roomy: Option<Cell> = None;
    let mut nearest: Option<(f64, Scale)> = None;
    for scale in crate::drawing::page::scale::series(look).iter().filter(|s| s.factor <= 1.0 + NOISE) {
        // A blank that is too large by itself need not be drawn to know it.
        let size = prepared.subject.part.size * scale.factor;
        let last = scale.smaller(look).is_none();
        if !last && (size.x > room.width() || size.y > room.height()) {
            continue;
        }
        // Smaller still is no better, once one that can be read has room.
        if roomy.is_some() && !legible(prepared, *scale) {
            break;
        }
        let views = cell::views(prepared, *scale, Breaks::default());
        // Views too large already need no notes, which take most of the time.
        let over = pack::overrun(views.bounds, look);
        if over > 0.0 {
            if nearest.is_none_or(|n| over < n.0) {
                nearest = Some((over, *scale));
            }
            continue;
        }
        let cell = cell::finish(prepared, views);
        // What would be jammed or a mere streak reads better with more of a sheet to itself.
        let jammed = cell.strained || streak(prepared, *scale);
        // Sharing beats size, since a maker turns fewer sheets; but not at the price of
        // figures that touch.
        if shares(&cell) && !(jammed && roomy.is_some()) {
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
    roomy.unwrap_or_else(|| {
        cell::draw(prepared, nearest.map_or_else(|| smallest(look), |n| n.1), Breaks::default())
    })
}

/// Least width of a slender part on paper that is drawn whole, mm.
const SLIM: f64 = 14.0;

/// A slender part that `whole` shows too slim to read, broken in its length at
/// the smallest larger scale that makes it wide enough, or at the largest there
/// is room for; else as it is.
fn shortened(prepared: &Prepared<'_>, whole: Cell, look: &Look) -> Cell {
    let part = prepared.subject.part;
    let wide = part.size.y.max(part.size.z);
    let Some(now) = whole.scale.filter(|s| wide * s.factor < SLIM) else { return whole };
    let room = pack::room(look);
    let mut best = whole;
    for scale in crate::drawing::page::scale::series(look).iter().rev() {
        if scale.factor <= now.factor + NOISE || scale.factor > 1.0 + NOISE {
            continue;
        }
        let breaks = breaks(prepared, scale.factor);
        if breaks.is_empty() {
            continue;
        }
        let cell = cell::draw(prepared, *scale, breaks);
        let (w, h) = (cell.bounds.width(), cell.bounds.height());
        // What can hardly be read otherwise may have a sheet to itself.
        let roomy = w <= room.width() && h <= room.height() * ROOMY;
        let held = roomy || streak(prepared, now) && pack::overrun(cell.bounds, look) <= 0.0;
        // A larger picture with jammed figures reads worse than a slim one without.
        if !held || cell.strained && !best.strained {
            continue;
        }
        best = cell;
        if wide * scale.factor >= SLIM {
            break;
        }
    }
    best
}

/// Scales that all parts of a set may be held to for the sake of fewer sheets; at a
/// smaller one the joints of most are no longer read at arm's length.
const HELD: [f64; 3] = [0.5, 0.2, 0.1];
/// The same of parts that nothing is cut into: their length and width are all there is.
const PLAIN: f64 = 0.1;

/// Draws cells smaller where all then go on fewer sheets: first those of parts without a
/// cut, then all that are larger than the rest.
fn fewer(alone: &[&Prepared<'_>], cells: &mut Vec<Cell>, look: &Look) {
    let count = |cells: &[Cell]| pack::count(&cells.iter().map(|cell| cell.bounds).collect::<Vec<_>>(), look);
    let mut least = count(cells);
    let mut now = cells.clone();
    let mut best: Option<Vec<Cell>> = None;
    for (plain, most) in [(true, PLAIN), (false, HELD[0]), (false, HELD[1]), (false, HELD[2])] {
        if least < 2 {
            break;
        }
        let smaller: Vec<Option<Cell>> = alone
            .par_iter()
            .zip(&now)
            .map(|(own, cell)| held(own, cell, most, look).filter(|_| !plain || own.features.is_empty()))
            .collect();
        for (cell, smaller) in now.iter_mut().zip(smaller) {
            if let Some(smaller) = smaller {
                *cell = smaller;
            }
        }
        let sheets = count(&now);
        if sheets < least {
            least = sheets;
            best = Some(now.clone());
        }
    }
    if let Some(best) = best {
        *cells = best;
    }
}

/// A cell at no more than a scale, where it can still be read so; one that is broken is
/// drawn whole.
fn held(prepared: &Prepared<'_>, cell: &Cell, most: f64, look: &Look) -> Option<Cell> {
    let now = cell.scale.filter(|now| now.factor > most + NOISE)?;
    let series = crate::drawing::page::scale::series(look).iter();
    // Of a plain part only the sizes are read, and they are printed.
    let plain = prepared.features.is_empty();
    let long = |s: &Scale| prepared.subject.part.size.x * s.factor >= LEAST.0;
    let reads = |s: &Scale| if plain { long(s) } else { legible(prepared, *s) && !streak(prepared, *s) };
    let scale = series
        .filter(|s| s.factor < now.factor - NOISE && s.factor > most - NOISE && reads(s))
        .min_by(|a, b| a.factor.total_cmp(&b.factor))?;
    let smaller = cell::draw(prepared, *scale, Breaks::default());
    let less = |a: &Cell, b: &Cell| a.bounds.area() < b.bounds.area();
    (!smaller.strained && less(&smaller, cell)).then_some(smaller)
}

/// The cell at `at`, that has a sheet to itself, a little smaller, where it then
/// finds room on a sheet with others.
fn joined(prepared: &Prepared<'_>, cells: &[Cell], at: usize, look: &Look) -> Option<Cell> {
    let now = cells.get(at).filter(|cell| !cell.broken)?.scale?;
    let mut bounds: Vec<Rect> = cells.iter().map(|cell| cell.bounds).collect();
    let before = pack::count(&bounds, look);
    // At most to a quarter: a part that was large must stay so.
    let scales = crate::drawing::page::scale::series(look)
        .iter()
        .filter(|s| s.factor < now.factor - NOISE && s.factor > now.factor * QUARTER);
    for scale in scales {
        if !legible(prepared, *scale) || streak(prepared, *scale) {
            return None;
        }
        let cell = cell::draw(prepared, *scale, Breaks::default());
        if cell.strained {
            return None;
        }
        *bounds.get_mut(at)? = cell.bounds;
        // Smaller only for a whole sheet saved: else the part would be shrunk for
        // nothing.
        if pack::count(&bounds, look) < before {
            return Some(cell);
        }
    }
    None
}

/// Least size on paper of what is cut into a part, mm: finer work is drawn larger
/// where there is room for it.
const FINE: f64 = 2.5;

/// The cells of a sheet whose work is fine at a larger scale, in order, as far as
/// the sheet still holds them all.
fn larger(alone: &[&Prepared<'_>], cells: &[Cell], sheet: &[usize], look: &Look) -> Vec<(usize, Cell)> {
    let mut bounds: Vec<Rect> =
        sheet.iter().map(|at| cells.get(*at).map_or(Rect::ZERO, |cell| cell.bounds)).collect();
    let mut grown = Vec::new();
    for (place, at) in sheet.iter().enumerate() {
        let Some((own, cell)) = alone.get(*at).zip(cells.get(*at)) else { continue };
        let Some(now) = cell.scale.filter(|now| !cell.broken && finest(own) * now.factor < FINE) else {
            continue;
        };
        let holds = |with: Rect| {
            let others = bounds.iter().enumerate();
            let all: Vec<Rect> = others.map(|(i, known)| if i == place { with } else { *known }).collect();
            pack::count(&all, look) == 1
        };
        let mut best: Option<Cell> = None;
        let scales = crate::drawing::page::scale::series(look).iter().rev();
        for scale in scales.filter(|s| s.factor > now.factor + NOISE && s.factor < 1.0 + NOISE) {
            let views = cell::views(own, *scale, Breaks::default());
            // Views are quick and notes are not: most scales fail on the views alone.
            if !holds(views.bounds) {
                break;
            }
            let tried = cell::finish(own, views);
            if !holds(tried.bounds) {
                break;
            }
            best = Some(tried);
            if finest(own) * scale.factor >= FINE {
                break;
            }
        }
        if let Some((best, known)) = best.zip(bounds.get_mut(place)) {
            *known = best.bounds;
            grown.push((*at, best));
        }
    }
    grown
}

/// The finest thing cut into a part, mm; far more where nothing is.
fn finest(prepared: &Prepared<'_>) -> f64 {
    prepared.features.iter().map(feature::Feature::finest).fold(f64::MAX, f64::min)
}

/// A part at the largest scale, up to full size, at which a sheet holds it; none
/// if that is no larger than `cell`.
fn largest(prepared: &Prepared<'_>, cell: &Cell, look: &Look) -> Option<Cell> {
    let now = cell.scale?.factor;
    let fits = |bounds| pack::overrun(bounds, look) <= 0.0;
    crate::drawing::page::scale::series(look)
        .iter()
        .filter(|s| s.factor <= 1.0 + NOISE && s.factor > now + NOISE)
        .map(|s| cell::views(prepared, *s, Breaks::default()))
        .filter(|views| fits(views.bounds))
        .map(|views| cell::finish(prepared, views))
        .find(|larger| fits(larger.bounds))
}

/// The smallest scale of the series.
fn smallest(look: &Look) -> Scale {
    crate::drawing::page::scale::smallest(look)
}

/// Least length of the main view on paper, mm, and of anything in it that is
/// drawn with two lines (ISO 128-2: lines at least 0.7 mm apart).
const LEAST: (f64, f64) = (50.0, 0.7);

/// Whether a part that has more to tell than its size is drawn too short to show it: views
/// that have room only so are divided.
fn speck(prepared: &Prepared<'_>, cell: &Cell) -> bool {
    /// Least length or width on paper, mm: half of what is read without effort, since a part
    /// in two cells takes more paper and more leafing.
    const LEAST: f64 = 24.0;
    let told = !prepared.features.is_empty() && !cell.broken;
    let Some(scale) = cell.scale.filter(|scale| told && scale.factor < 1.0 - NOISE) else { return false };
    let size = prepared.subject.part.size;
    // Figures jammed round a mere streak tell of nothing that can be seen.
    size.x.max(size.y) * scale.factor < LEAST || cell.strained && streak(prepared, scale)
}

/// Whether a part that has more to tell than its size would be drawn as a streak.
fn streak(prepared: &Prepared<'_>, scale: Scale) -> bool {
    /// Least width on paper of a part with cuts, mm.
    const LEAST: f64 = 8.0;
    let size = prepared.subject.part.size;
    !prepared.features.is_empty() && size.y.max(size.z) * scale.factor < LEAST
}

/// Whether a part can still be read at `scale`.
fn legible(prepared: &Prepared<'_>, scale: Scale) -> bool {
    let part = prepared.subject.part;
    let fine = prepared.features.iter().map(feature::Feature::finest).fold(part.size.z, f64::min);
    let fine = fine.min(turned::finest(part) * LEAST.1 / turned::HATCHED);
    part.size.x * scale.factor >= LEAST.0 && fine * scale.factor >= LEAST.1
}
