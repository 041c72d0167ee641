//! The details of a piece: which joints are one, and the letter of each.

use super::place::Place;
use super::sizes::{Size, Window};
use super::{place, sizes};
use crate::drawing::page::look::Look;
use crate::geometry::Interval;
use crate::geometry::tolerance::{MOSTLY, STEPS};
use crate::joinery::{Item, WorkedJob, WorkedPart};
use crate::model::{Job, PieceId, StockKind};

/// A cut that ends nearer to a side than this runs out of it, mm.
const RUNS_OUT: f64 = 0.1;

/// One detail: a distinct joint with every place it is found at.
#[derive(Clone, Debug)]
pub(in crate::drawing) struct Detail {
    /// Its letter; two beyond the first 23.
    pub(in crate::drawing) letter: String,
    /// Where it is found, in the order of the joints; never empty.
    pub(super) places: Vec<Place>,
    /// Index of the place drawn.
    pub(super) shown: usize,
    /// Whether its circle stands on a sheet.
    pub(super) marked: bool,
}

impl Detail {
    /// Indices of the joints it stands for.
    pub(super) fn joints(&self) -> impl Iterator<Item = usize> {
        self.places.iter().flat_map(|place| place.joints.iter().copied())
    }

    /// The place drawn.
    pub(super) fn drawn(&self) -> Option<&Place> {
        self.places.get(self.shown)
    }
}

/// The details of a piece; letters go on after `before` others.
pub(in crate::drawing) fn details(
    job: &Job,
    worked: &WorkedJob,
    piece: PieceId,
    look: &Look,
    before: usize,
) -> Vec<Detail> {
    let mut found: Vec<(Key, Detail)> = Vec::new();
    for place in place::places(worked, piece, look) {
        let key = key(job, worked, &place);
        if let Some((_, detail)) = found.iter_mut().find(|(known, _)| *known == key) {
            detail.places.push(place);
            continue;
        }
        let letter = letter(before + found.len());
        found.push((key, Detail { letter, places: vec![place], shown: 0, marked: false }));
    }
    found.into_iter().map(|(_, detail)| detail).collect()
}

/// The joints of a job by the detail that shows them: its letter and indices
/// into [`WorkedJob::joints`], in the order of the letters.
pub fn joint_details(job: &Job, worked: &WorkedJob, look: &Look) -> Vec<(String, Vec<usize>)> {
    let mut list: Vec<(String, Vec<usize>)> = Vec::new();
    for piece in (0..job.pieces.len()).map(PieceId) {
        let details = details(job, worked, piece, look, list.len());
        list.extend(details.into_iter().map(|d| (d.letter.clone(), d.joints().collect())));
    }
    list
}

/// Letter `n` of the details of a job, counted from 0. `A` stands at the
/// section; I and O read as figures, and Q as O.
fn letter(n: usize) -> String {
    const LETTERS: &[u8] = b"BCDEFGHJKLMNPRSTUVWXYZ";
    let one = |i: usize| LETTERS.get(i).map_or('Z', |b| char::from(*b));
    let (round, at) = (n / LETTERS.len(), n % LETTERS.len());
    if round == 0 { one(at).to_string() } else { format!("{}{}", one((round - 1) % LETTERS.len()), one(at)) }
}

/// What makes two joints the same one: words, what is let in, and for each part
/// its stock and the sizes seen in the cut, turned and mirrored as it may be.
#[derive(Clone, Debug, PartialEq)]
struct Key {
    words: Vec<&'static str>,
    inserts: Vec<Item>,
    parts: Vec<PartKey>,
}

/// One part in a [`Key`].
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct PartKey {
    stock: usize,
    /// Thickness, hundredths of a mm.
    thick: i64,
    /// On how many sides its cuts run out of it.
    open: usize,
    /// Whether the cut shows solid wood across its grain.
    end_grain: bool,
    /// Its sizes, hundredths of a mm, rising.
    sizes: Vec<i64>,
}

fn key(job: &Job, worked: &WorkedJob, place: &Place) -> Key {
    let joints = || place.joints.iter().filter_map(|j| worked.joints.get(*j));
    let mut words: Vec<&'static str> = joints().map(|j| j.word).collect();
    words.sort_unstable();
    let mut inserts: Vec<Item> = joints().flat_map(|j| &j.inserts).map(|i| i.item.clone()).collect();
    inserts.sort_unstable();
    inserts.dedup();
    let window = Window::of(worked, place);
    let all = sizes::sizes(worked, place, &window);
    let mut parts: Vec<PartKey> =
        place.parts.iter().filter_map(|p| part_key(job, worked, place, &all, *p)).collect();
    parts.sort();
    Key { words, inserts, parts }
}

fn part_key(job: &Job, worked: &WorkedJob, place: &Place, all: &[Size], index: usize) -> Option<PartKey> {
    let part: &WorkedPart = worked.parts.get(index)?;
    let mut sizes: Vec<i64> =
        all.iter().filter(|s| s.part == index).map(|s| hundredths(s.to - s.from)).collect();
    sizes.sort_unstable();
    let solid = job.stock.get(part.stock.0).is_some_and(|s| matches!(s.kind, StockKind::Board { .. }));
    Some(PartKey {
        stock: part.stock.0,
        thick: hundredths(part.size.z),
        open: open(place, part),
        end_grain: solid && part.at.x.dot(place.camera.toward()).abs() > MOSTLY,
        sizes,
    })
}

/// On how many sides of the cut part the cuts of a joint run out.
fn open(place: &Place, part: &WorkedPart) -> usize {
    let (Some(x), Some(y)) = (place.span(part, 0), place.span(part, 1)) else { return 0 };
    let out = |cut: Interval, own: Interval| {
        usize::from(cut.from < own.from + RUNS_OUT) + usize::from(cut.to > own.to - RUNS_OUT)
    };
    sizes::own_cuts(place, part)
        .filter_map(|cut| place::seen_cut(part, &cut.shape, place.camera, place.level()))
        .map(|(cx, cy)| out(cx, x) + out(cy, y))
        .sum()
}

#[expect(clippy::cast_possible_truncation, reason = "sizes of furniture are far inside i64")]
fn hundredths(mm: f64) -> i64 {
    (mm * STEPS).round() as i64
}
