//! Numbers beside a picture, each on the side and at the edge where its leader crosses
//! least of what it does not name.

use kurbo::{Point, Rect};

use super::project::{BESIDE, ITEM, Item, OnSheet, PITCH, number_at};
use crate::drawing::page::plate::Plate;
use crate::joinery::{WorkedJob, WorkedPart};
use crate::solid::ViewLine;

/// What a leader that crosses another part is worse by, as long as one so much longer, mm.
const ACROSS: f64 = 60.0;
/// The same for each line that it crosses, its own part's too.
const OVER: f64 = 9.0;
/// The same where it would stand on a number that has its place, so that one of them is
/// pushed aside.
const PUSHED: f64 = 20.0;
/// Share of its longest line over which a line of a part is one of its edges.
const LONG: f64 = 0.5;
/// Most edges of a part that are tried.
const EDGES: usize = 8;
/// Shares of an edge at which a leader may end.
const AT: [f64; 3] = [0.5, 0.25, 0.75];
/// Nearer than this to the end of a leader a line is not crossed but met, mm.
const MET: f64 = 0.3;

/// A line of the picture on the sheet.
struct Drawn {
    a: Point,
    b: Point,
    tag: usize,
}

/// A place for a number.
#[derive(Clone, Copy)]
struct Spot {
    at: Point,
    left: bool,
    cost: f64,
}

/// Numbers parts of a picture that fills `picture`, in columns no higher than `room`.
pub(in crate::drawing) fn number(
    plate: &mut Plate,
    (lines, on): (&[ViewLine], OnSheet),
    worked: &WorkedJob,
    tags: &[usize],
    (picture, room): (Rect, Rect),
) {
    let drawn: Vec<Drawn> = lines
        .iter()
        .filter(|line| !line.kind.is_hidden())
        .map(|line| Drawn { a: on.point(line.a), b: on.point(line.b), tag: line.tag })
        .collect();
    let mut parts: Vec<&WorkedPart> = tags.iter().filter_map(|tag| worked.parts.get(*tag)).collect();
    parts.sort_by(|a, b| a.number.cmp(&b.number).then_with(|| a.mark().cmp(&b.mark())));
    parts.dedup_by(|a, b| a.mark() == b.mark());
    let fits = |count: usize| (count as f64 - 1.0) * PITCH + ITEM <= room.height();
    let mut placed: [Vec<Item>; 2] = [Vec::new(), Vec::new()];
    for mark in parts.iter().map(|part| part.mark()) {
        let of_mark =
            |tag: usize| tags.contains(&tag) && worked.parts.get(tag).is_some_and(|part| part.mark() == mark);
        let full = [true, false].map(|left| !fits(placed[usize::from(!left)].len() + 1));
        let picker = Picker { drawn: &drawn, picture, placed: &placed, full };
        let Some(spot) = picker.best(&of_mark) else { continue };
        placed[usize::from(!spot.left)].push(Item { mark, at: spot.at });
    }
    let [left, right] = &placed;
    number_at(plate, (left, right), (picture, room), 0);
}

/// Looks for the best place of a number.
struct Picker<'p> {
    drawn: &'p [Drawn],
    picture: Rect,
    placed: &'p [Vec<Item>; 2],
    /// Whether the column at the left, and at the right, takes no more.
    full: [bool; 2],
}

impl Picker<'_> {
    fn best(&self, of_mark: &dyn Fn(usize) -> bool) -> Option<Spot> {
        let mut own: Vec<&Drawn> = self.drawn.iter().filter(|line| of_mark(line.tag)).collect();
        let length = |line: &Drawn| line.a.distance(line.b);
        own.sort_by(|a, b| length(b).total_cmp(&length(a)));
        let longest = own.first().map_or(0.0, |line| length(line));
        own.retain(|line| length(line) > LONG * longest);
        own.truncate(EDGES);
        let mut best: Option<Spot> = None;
        for line in own {
            for share in AT {
                let at = line.a.lerp(line.b, share);
                for left in [true, false].into_iter().filter(|left| !self.full[usize::from(!left)]) {
                    let cost = self.cost(at, left, of_mark);
                    if best.is_none_or(|best| cost < best.cost) {
                        best = Some(Spot { at, left, cost });
                    }
                }
            }
        }
        best
    }

    /// How bad a level leader from a side to a point is, mm.
    fn cost(&self, at: Point, left: bool, of_mark: &dyn Fn(usize) -> bool) -> f64 {
        let from = if left { self.picture.x0 - BESIDE } else { self.picture.x1 + BESIDE };
        let (low, high) = (from.min(at.x - MET), from.max(at.x + MET));
        let (low, high) = if left { (low, at.x - MET) } else { (at.x + MET, high) };
        let mut others: Vec<usize> = Vec::new();
        let mut over = 0;
        for line in self.drawn {
            // Half open, so that a corner of two lines counts once.
            if (line.a.y > at.y) == (line.b.y > at.y) {
                continue;
            }
            let x = line.a.x + (line.b.x - line.a.x) * (at.y - line.a.y) / (line.b.y - line.a.y);
            if x < low || x > high {
                continue;
            }
            over += 1;
            if !of_mark(line.tag) && !others.contains(&line.tag) {
                others.push(line.tag);
            }
        }
        let near = |item: &&Item| (item.at.y - at.y).abs() < PITCH;
        let pushed = self.placed[usize::from(!left)].iter().filter(near).count();
        ACROSS * others.len() as f64 + OVER * f64::from(over) + PUSHED * pushed as f64 + (at.x - from).abs()
    }
}
