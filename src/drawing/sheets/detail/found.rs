//! The details of a piece: which joints are one, and the letter of each.

use super::place::Place;
use super::{place, sizes};
use crate::drawing::page::look::Look;
use crate::geometry::Interval;
use crate::geometry::tolerance::{MOSTLY, STEPS};
use crate::joinery::{Item, WorkedJob, WorkedPart};
use crate::model::{Job, PieceId, StockKind};
use crate::wording::{Naming, Words};

/// A cut that ends nearer to a side than this runs out of it, mm.
const RUNS_OUT: f64 = 0.1;

/// A cut farther from a side than this is somewhere in the middle of its part, mm.
const NEARBY: f64 = 40.0;

/// Added before sizes are rounded to hundredths: sixteenths of an inch, 9.525 mm, lie just
/// between two, and the same size reckoned from either side would fall on both.
const OFF_HALF: f64 = 0.013;

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

    /// What it is headed by before its scale: its letter, or none that would be looked for
    /// in vain where no view had room for its circle.
    pub(super) fn heading(&self) -> &str {
        if self.marked { &self.letter } else { "Detail" }
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
        let key = key(job, worked, &place, look.words());
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

/// What makes two joints the same one: what is said of them, what is let in, and for each
/// part its stock and the cuts seen, turned and mirrored as they may be.
#[derive(Clone, Debug, PartialEq)]
struct Key {
    /// What each is called and how it is set: a haunched tenon is no plain one, however
    /// like their plans.
    said: Vec<[String; 2]>,
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
    /// The lesser of its sides in the cut, hundredths of a mm.
    side: i64,
    /// Its cuts from its corner: from and to across, from and to up, hundredths of a mm.
    cuts: Vec<[i64; 4]>,
}

fn key(job: &Job, worked: &WorkedJob, place: &Place, words: Words) -> Key {
    let joints = || place.joints.iter().filter_map(|j| worked.joints.get(*j));
    let mut said: Vec<[String; 2]> =
        joints().map(|j| [words.called(worked, j), words.setting_of(worked, j, Naming::InTurn)]).collect();
    said.sort_unstable();
    let mut inserts: Vec<Item> = joints().flat_map(|j| &j.inserts).map(|i| i.item.clone()).collect();
    inserts.sort_unstable();
    inserts.dedup();
    let mut parts: Vec<PartKey> =
        place.parts.iter().filter_map(|p| part_key(job, worked, place, *p)).collect();
    parts.sort();
    Key { said, inserts, parts }
}

fn part_key(job: &Job, worked: &WorkedJob, place: &Place, index: usize) -> Option<PartKey> {
    let part: &WorkedPart = worked.parts.get(index)?;
    let side = [0, 1].iter().filter_map(|axis| place.span(part, *axis)).map(|span| span.to - span.from);
    let solid = job.stock.get(part.stock.0).is_some_and(|s| matches!(s.kind, StockKind::Board { .. }));
    Some(PartKey {
        stock: part.stock.0,
        thick: hundredths(part.size.z),
        open: open(place, part),
        end_grain: solid && part.at.x.dot(place.camera.toward()).abs() > MOSTLY,
        side: hundredths(side.fold(f64::MAX, f64::min)),
        cuts: cuts(place, part),
    })
}

/// The cuts of a joint in a part as the least of the eight ways it may be turned and
/// mirrored.
fn cuts(place: &Place, part: &WorkedPart) -> Vec<[i64; 4]> {
    let (Some(x), Some(y)) = (place.span(part, 0), place.span(part, 1)) else { return Vec::new() };
    let within = |cut: Interval, own: Interval| (cut.from.max(own.from), cut.to.min(own.to));
    let seen: Vec<[(f64, f64); 2]> = sizes::own_cuts(place, part)
        .filter_map(|cut| place::seen_cut(part, &cut.shape, place.camera, place.level()))
        .map(|(cx, cy)| [within(cx, x), within(cy, y)])
        .collect();
    let from_side = |(from, to): (f64, f64), own: Interval, mirrored: bool| {
        let (from, to) =
            if mirrored { (own.to - to, own.to - from) } else { (from - own.from, to - own.from) };
        // How wide a top reaches beyond its cleat makes no other joint.
        let past = (from - NEARBY).max(0.0);
        (hundredths(from - past), hundredths(to - past))
    };
    let way = |n: usize| {
        let one = |[cx, cy]: &[(f64, f64); 2]| {
            let across = from_side(*cx, x, n & 1 > 0);
            let up = from_side(*cy, y, n & 2 > 0);
            let (a, b) = if n & 4 > 0 { (up, across) } else { (across, up) };
            [a.0, a.1, b.0, b.1]
        };
        let mut cuts: Vec<[i64; 4]> = seen.iter().map(one).collect();
        cuts.sort_unstable();
        cuts
    };
    (0..8).map(way).min().unwrap_or_default()
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
    (mm * STEPS + OFF_HALF).round() as i64
}
