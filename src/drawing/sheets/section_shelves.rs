//! What a section says of shelves beside their heights: how thick they are, their lipping and
//! how far they stand back from the front edges of the sides.

use kurbo::{Point, Rect};

use super::general::sizes::{is_member, is_upright};
use crate::drawing::kit::dimension::Manner;
use crate::drawing::kit::dimension::callout::{Callout, callouts};
use crate::drawing::kit::dimension::white::White;
use crate::drawing::kit::opening::Opens;
use crate::drawing::kit::project::{OnSheet, bounds};
use crate::drawing::kit::words::{length_text, stacked};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::Plate;
use crate::geometry::DVec3;
use crate::geometry::tolerance::HAIR;
use crate::joinery::{PartSource, WorkedJob, WorkedPart};
use crate::model::PieceId;
use crate::paper::Fixes;
use crate::solid::Camera;

/// A note stands this near to the section, mm.
const NEAR: f64 = 55.0;
/// A lipping is narrower than this from front to back, mm: a wider one is a rail.
const LIPPING: f64 = 40.0;
/// Nearer than this two faces are flush, mm.
const FLUSH: f64 = 0.05;
/// Where along a shelf a note may point, from its front edge back, in shares.
const POINTS: [f64; 3] = [0.12, 0.25, 0.4];

/// The piece that is cut, and where.
pub(super) struct CutThrough<'a> {
    pub(super) worked: &'a WorkedJob,
    pub(super) piece: PieceId,
    /// The plane, piece mm.
    pub(super) x: f64,
    pub(super) on: OnSheet,
    /// The box round the section.
    pub(super) rect: Rect,
    /// What opens: a shelf behind a door is set back from the sides all the same.
    pub(super) moving: &'a [Opens],
}

/// A board that lies, made up with its lippings.
struct Shelf {
    low: DVec3,
    high: DVec3,
    /// The lipping at its front, mm.
    lipping: Option<f64>,
}

impl CutThrough<'_> {
    fn own(&self) -> impl Iterator<Item = (usize, &WorkedPart)> {
        self.worked.parts.iter().enumerate().filter(|(_, part)| part.piece == self.piece)
    }

    /// The box of a part with what is glued to its edges, and the lipping at its front.
    fn made_up(&self, index: usize) -> Option<Shelf> {
        let (low, high) = bounds(self.worked.parts.get(index).into_iter())?;
        let mut shelf = Shelf { low, high, lipping: None };
        let glued = |part: &WorkedPart| matches!(part.source, PartSource::Lipping { of, .. } if of == index);
        for (_, lipping) in self.own().filter(|(_, part)| glued(part)) {
            let Some((a, b)) = bounds(std::iter::once(lipping)) else { continue };
            if a.y < shelf.low.y && b.y - a.y < LIPPING {
                shelf.lipping = Some(b.y - a.y);
            }
            shelf.low = shelf.low.min(a);
            shelf.high = shelf.high.max(b);
        }
        Some(shelf)
    }

    /// The boards that lie and are cut, from the top down; the bottom of a drawer is none.
    fn shelves(&self) -> Vec<Shelf> {
        let drawn_out = |part: &WorkedPart| self.moving.iter().any(|one| one.slides() && one.moves(part));
        let lies = |(_, part): &(usize, &WorkedPart)| {
            is_member(part, (2, 1))
                && !drawn_out(part)
                && bounds(std::iter::once(*part)).is_some_and(|(a, b)| a.x < self.x && self.x < b.x)
        };
        let shelves = self.own().filter(lies).filter_map(|(index, _)| self.made_up(index));
        let mut found: Vec<Shelf> = shelves.filter(|shelf| !self.is_behind_a_front(shelf)).collect();
        found.sort_by(|a, b| b.high.z.total_cmp(&a.high.z));
        found
    }

    /// Whether a front that stays stands before a board: a bottom within a chest is set back
    /// from nothing that is seen.
    fn is_behind_a_front(&self, shelf: &Shelf) -> bool {
        let stays = |part: &WorkedPart| !self.moving.iter().any(|one| one.moves(part));
        let before = |(a, b): (DVec3, DVec3)| {
            let middle = 0.5 * (shelf.low.z + shelf.high.z);
            a.y < shelf.low.y - FLUSH
                && b.y < shelf.low.y + LIPPING
                && a.z < middle
                && middle < b.z
                && a.x < self.x
                && self.x < b.x
                && b.z - a.z > b.y - a.y
        };
        self.own()
            .filter(|(_, part)| stays(part) && matches!(part.source, PartSource::Part(_)))
            .any(|(_, part)| bounds(std::iter::once(part)).is_some_and(before))
    }

    /// Where the front edges of the sides stand.
    fn front(&self) -> Option<f64> {
        let sides = self.own().filter(|(_, part)| is_upright(part)).filter_map(|(i, _)| self.made_up(i));
        sides.map(|side| side.low.y).reduce(f64::min)
    }

    /// What is said of a shelf, line by line; `None` where its height in the section says all.
    fn says(&self, shelf: &Shelf, look: &Look) -> Option<Vec<String>> {
        let back = self.front().map(|front| shelf.low.y - front).filter(|back| *back > FLUSH);
        if back.is_none() && shelf.lipping.is_none() {
            return None;
        }
        let thick = format!("{} thick", length_text(look, shelf.high.z - shelf.low.z));
        let lipping = shelf.lipping.map(|mm| format!("lipping {}", length_text(look, mm)));
        let back = back.map(|mm| format!("set back {}", length_text(look, mm)));
        let made: Vec<String> = std::iter::once(thick).chain(lipping).collect();
        Some(std::iter::once(made.join(", ")).chain(back).collect())
    }
}

/// Says of each kind of shelf once how it is made up and set back; `number` is above those of
/// all sizes.
pub(super) fn shelves_told(plate: &mut Plate, cut: &CutThrough<'_>, look: &Look) {
    let mut told: Vec<(Vec<String>, Vec<Point>)> = Vec::new();
    for shelf in cut.shelves() {
        let Some(says) = cut.says(&shelf, look) else { continue };
        let at = |y: f64, z: f64| cut.on.point(Camera::LEFT.project(DVec3::new(cut.x, y, z)));
        let deep = shelf.high.y - shelf.low.y;
        let points = POINTS.iter().flat_map(|share| {
            let y = shelf.low.y + deep * share;
            [at(y, shelf.high.z), at(y, shelf.low.z)]
        });
        if !told.iter().any(|(known, _)| *known == says) {
            told.push((says, points.collect()));
        }
    }
    if told.is_empty() {
        return;
    }
    let room = look.room();
    let mut white = White::new(cut.rect.inflate(NEAR, NEAR).intersect(room.space));
    white.ink(&plate.marks);
    white.fill(room.block);
    white.sum();
    let mut number = plate.marks.iter().map(|mark| mark.shows.dimension).max().unwrap_or(0);
    for (says, at) in told {
        let lines = says.iter().map(|line| stacked(line)).collect();
        // Its lippings stand on the details too: better there alone than a leader through a figure.
        let note = Callout { at, lines, value: None, fixes: Fixes::Nothing, spare: true };
        let within = cut.rect.inflate(HAIR, HAIR);
        callouts(&[note], &mut white, within, &Manner::of(look), &mut number, &mut plate.marks);
    }
}
