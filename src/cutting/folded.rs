//! Panels that are grooved and folded into several parts.

use super::grain::runs_along;
use super::needs::pieces;
use super::rows::{CutRow, CuttingList, FoldLine, FoldedPanel};
use crate::geometry::{DVec3, trig};
use crate::joinery::{WorkedJob, WorkedPart, Wrap, wraps};
use crate::machining::ends::{slope, tidy};
use crate::machining::rough::rough;
use crate::model::{Job, StockId};

/// The panels of a job, those of one stock and of the same parts together.
pub(super) fn folded_panels(job: &Job, worked: &WorkedJob, rows: &[CutRow]) -> Vec<FoldedPanel> {
    let mut list: Vec<FoldedPanel> = Vec::new();
    for wrap in wraps(job) {
        let Some(panel) = panel(job, worked, rows, &wrap) else { continue };
        match list.iter_mut().find(|have| alike(have, &panel)) {
            Some(have) => {
                have.row.quantity += panel.row.quantity;
                have.row.which.extend(panel.row.which);
            }
            None => list.push(panel),
        }
    }
    list
}

/// Whether two panels are cut and grooved alike for parts of the same numbers.
fn alike(one: &FoldedPanel, other: &FoldedPanel) -> bool {
    let same = |a: &CutRow, b: &CutRow| (&a.mark, &a.name, a.rough) == (&b.mark, &b.name, b.rough);
    same(&one.row, &other.row) && one.folds == other.folds
}

impl CuttingList {
    /// How many of the parts `which` are cut with others as one panel, for all
    /// pieces made.
    pub(super) fn folded_of(&self, job: &Job, worked: &WorkedJob, which: &[usize]) -> usize {
        let in_panel = |index: &&usize| self.folded.iter().any(|panel| panel.row.which.contains(*index));
        let made = |index: &usize| worked.parts.get(*index).map_or(0, |part| pieces(job, part.piece.0));
        which.iter().filter(in_panel).map(made).sum()
    }
}

/// A strip of parts that are folded from one panel.
struct Strip<'a> {
    /// Its parts in order, with their places in the job: two at the least.
    members: Vec<(usize, &'a WorkedPart)>,
    /// Whether it follows the grain.
    along_grain: bool,
}

impl<'a> Strip<'a> {
    /// The strip of a fold; `None` where a part of it is spoilt.
    fn of(worked: &'a WorkedJob, wrap: &Wrap) -> Option<Self> {
        let members: Option<Vec<(usize, &WorkedPart)>> =
            wrap.parts.iter().map(|index| Some((*index, worked.parts.get(*index)?))).collect();
        let members = members?;
        Some(Self { along_grain: runs_along(&members), members })
    }

    /// The axis of its parts that it follows (0 along their grain, 1 across it), and the
    /// other.
    fn axes(&self) -> (usize, usize) {
        if self.along_grain { (0, 1) } else { (1, 0) }
    }

    /// Its grooves, and its length between the finished ends of its first part and its
    /// last, mm.
    fn folds(&self, skin: f64) -> (Vec<FoldLine>, f64) {
        let (along, _) = self.axes();
        let mut folds = Vec::new();
        let (mut at, mut loss) = (0.0, 0.0);
        for pair in self.members.windows(2) {
            let (a, b) = (pair[0].1, pair[1].1);
            let tilt = slope(a, toward(a, b, along)).map_or(0.0, |end| end.angle);
            // The groove's point lies a skin inside the corner of both parts.
            let (sin, cos) = trig::sin_cos(tilt.to_radians());
            let inside = skin * sin / cos;
            at += a.size[along];
            folds.push(FoldLine {
                at: tidy(at - loss - inside),
                angle: tidy(2.0 * tilt),
                depth: tidy(a.size.z - skin),
            });
            loss += 2.0 * inside;
        }
        let last = self.members.last().map_or(0.0, |(_, part)| part.size[along]);
        (folds, at + last - loss)
    }
}

/// The panel of one fold; `None` where a part of it is spoilt.
fn panel(job: &Job, worked: &WorkedJob, rows: &[CutRow], wrap: &Wrap) -> Option<FoldedPanel> {
    let strip = Strip::of(worked, wrap)?;
    let first = strip.members.first()?.1;
    let (folds, whole) = strip.folds(wrap.skin);
    let rough = rough_size(job, worked, &strip, whole)?;
    let marks = |index: &usize| rows.iter().find(|row| row.which.contains(index)).map(|row| &*row.mark);
    let names: Vec<String> = strip.members.iter().map(|(_, part)| part.name.clone()).collect();
    let (_, across) = strip.axes();
    let wide = strip.members.iter().map(|(_, part)| part.size[across]).fold(0.0, f64::max);
    let [length, width] = if strip.along_grain { [whole, wide] } else { [wide, whole] };
    let row = CutRow {
        mark: wrap.parts.iter().filter_map(marks).collect::<Vec<_>>().join(" + "),
        number: 0,
        name: names.join(" + "),
        quantity: pieces(job, first.piece.0),
        stock: stock_name(job, first.stock),
        length: tidy(length),
        width: tidy(width),
        thickness: tidy(first.size.z),
        rough: Some(rough.map(tidy)),
        sawn: None,
        ends: None,
        compound: Vec::new(),
        lipped: Vec::new(),
        after_glue_up: Vec::new(),
        of: None,
        inlaid: Vec::new(),
        chucking: None,
        staves: None,
        stave_width: None,
        mass: None,
        scribed: Vec::new(),
        cut: 0,
        remark: None,
        which: wrap.parts.clone(),
    };
    Some(FoldedPanel { row, names, along_grain: strip.along_grain, folds, skin: wrap.skin })
}

/// Name of a stock.
fn stock_name(job: &Job, stock: StockId) -> String {
    job.stock.get(stock.0).map_or_else(String::new, |s| s.name.clone())
}

/// Which way part `b` of a strip lies from part `a`, in coordinates of `a`: along
/// its axis `along`.
fn toward(a: &WorkedPart, b: &WorkedPart, along: usize) -> DVec3 {
    let step = b.at.point(0.5 * b.size) - a.at.point(0.5 * a.size);
    let sign = if a.at.local_dir(step)[along] < 0.0 { -1.0 } else { 1.0 };
    [DVec3::X, DVec3::Y][along.min(1)] * sign
}

/// Length, width and thickness that the panel is first cut to, mm: what mitres
/// take at its free ends, and what its parts are given across the strip.
fn rough_size(job: &Job, worked: &WorkedJob, strip: &Strip<'_>, whole: f64) -> Option<[f64; 3]> {
    let (members, (along, across)) = (&strip.members, strip.axes());
    let mut size = [0.0, 0.0, members.first()?.1.size.z];
    size[along] = whole;
    for (one, next) in
        [(members.first()?, members.get(1)?), (members.last()?, members.get(members.len() - 2)?)]
    {
        let free = -toward(one.1, next.1, along);
        if slope(one.1, free).is_some() {
            size[along] += job.cutting.mitre;
        }
    }
    for (index, _) in members {
        size[across] = rough(job, worked, *index)?[across].max(size[across]);
    }
    Some(size)
}
