//! The tables beside the wall: what is taped out, drilled and hung, what opens how far.

use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::{length_text, plain, stacked};
use crate::drawing::page::look::Look;
use crate::geometry::DVec3;
use crate::joinery::{Fixing, OnWall, WorkedJob, burden};
use crate::measure::force::force;
use crate::measure::number;
use crate::model::{Job, PieceId, Site, Truth};

/// Places nearer than this are one, mm.
pub(super) const SAME: f64 = 0.05;
/// Forces are told in steps of so many N: they are estimates.
const STEP: f64 = 10.0;

/// What the tables tell of.
#[derive(Clone, Copy)]
pub(super) struct On<'a> {
    pub(super) job: &'a Job,
    pub(super) worked: &'a WorkedJob,
    pub(super) site: &'a Site,
    pub(super) pieces: &'a [OnWall],
    pub(super) fixed: &'a [Fixing],
    pub(super) look: &'a Look,
}

/// All of them, those without rows too.
pub(super) fn tables(on: &On<'_>) -> [Table; 6] {
    [tape(on), measured(on), drill(on), super::order::order(on), opened(on), before(on)]
}

impl On<'_> {
    pub(super) fn name(&self, piece: PieceId) -> &str {
        self.job.pieces.get(piece.0).map_or("", |piece| piece.name.as_str())
    }

    pub(super) fn length(&self, mm: f64) -> String {
        length_text(self.look, mm)
    }

    /// The half of a cleat that is fixed to the wall before its piece is hung.
    pub(super) fn wall_half(&self, piece: PieceId) -> Option<usize> {
        let hooked =
            self.worked.joints.iter().filter(|joint| joint.traits.hooks_on && !joint.ways_in.is_empty());
        let mut walls = hooked.filter_map(|joint| joint.parts.first().copied());
        walls.find(|part| self.worked.parts.get(*part).is_some_and(|part| part.piece == piece))
    }

    /// What one fixing at a height over the floor carries; nothing for a piece that stands.
    fn carries(&self, fixing: &Fixing, level: f64) -> String {
        let Some(stands) = self.pieces.iter().find(|stands| stands.piece == fixing.piece) else {
            return String::new();
        };
        if stands.low.y < SAME {
            return String::new();
        }
        let burden = burden(self.job, self.worked, fixing.piece, self.wall_half(fixing.piece));
        let all: usize =
            self.fixed.iter().filter(|one| one.piece == fixing.piece).map(|one| one.at.len()).sum();
        let of = |all_of: f64| force(self.job.unit, (all_of / all.max(1) as f64 / STEP).ceil() * STEP);
        let pull = burden.pull(level - stands.shift.z);
        let down = of(burden.weight());
        if pull.is_finite() { format!("{down} down, {} out", of(pull)) } else { format!("{down} down") }
    }
}

/// How far doors and drawers reach into the room, and beside their piece, when they stand
/// open.
fn opened(on: &On<'_>) -> Table {
    let columns = vec![
        Column::words("Open"),
        Column::figures("Off the wall"),
        Column::figures("From the left"),
        Column::figures("To"),
    ];
    let mut table = Table::new("What opens reaches", columns);
    let mut done: Vec<Vec<usize>> = Vec::new();
    for joint in &on.worked.joints {
        let (Some(leaf), Some(opening)) = (joint.parts.first(), joint.opens) else { continue };
        let moving = on.worked.moving_with(*leaf);
        let Some(part) = on.worked.parts.get(*leaf) else { continue };
        let Some(stands) = on.pieces.iter().find(|stands| stands.piece == part.piece) else { continue };
        if done.contains(&moving) {
            continue;
        }
        let parts = moving.iter().filter_map(|part| on.worked.parts.get(*part));
        let points: Vec<DVec3> =
            parts.flat_map(|part| part.solid.points.iter().map(|p| part.at.point(*p))).collect();
        let (low, high) = reach(points.iter().copied());
        let pose = opening.pose((low + high) * 0.5, 1.0);
        let (low, high) = reach(points.iter().map(|p| pose.point(*p) + stands.shift));
        let cells = [-low.y, low.x, high.x].map(|mm| stacked(&on.length(mm)));
        table.rows.push(Row::Cells(std::iter::once(plain(part.name.clone())).chain(cells).collect()));
        done.push(moving);
    }
    table
}

/// The box round some points.
fn reach(points: impl Iterator<Item = DVec3>) -> (DVec3, DVec3) {
    points.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), p| (low.min(p), high.max(p)))
}

/// Where to tape the pieces out: their corners from the left end and the floor.
fn tape(on: &On<'_>) -> Table {
    let On { job, pieces, look, .. } = *on;
    let columns = vec![
        Column::words("Piece"),
        Column::figures("Left side"),
        Column::figures("Right side"),
        Column::figures("Underside"),
        Column::figures("Top"),
    ];
    let mut table = Table::new("To tape out", columns);
    for stands in pieces {
        let name = job.pieces.get(stands.piece.0).map_or("", |piece| piece.name.as_str());
        let places = [stands.low.x, stands.high.x, stands.low.y, stands.high.y];
        let mut cells = vec![plain(name)];
        cells.extend(places.map(|mm| stacked(&length_text(look, mm))));
        table.rows.push(Row::Cells(cells));
    }
    table
}

/// How the wall is out of true, and what runs along it, as the script tells it.
fn measured(on: &On<'_>) -> Table {
    let truth = &on.site.truth;
    let mut table =
        Table::new("As measured", vec![Column::words("Of the wall"), Column::figures("Measured")]);
    let mut row = |what: &str, how: String| table.rows.push(Row::Cells(vec![plain(what), stacked(&how)]));
    let heights = ["Width at the floor", "Width half way up", "Width at the ceiling"];
    for (what, wide) in heights.into_iter().zip(&truth.widths) {
        row(what, on.length(*wide));
    }
    if !truth.widths.is_empty() {
        row("Left end", "taken as plumb".into());
    }
    if truth.lean > SAME {
        row("Leans into the room, at the ceiling", on.length(truth.lean));
    } else if truth.lean < -SAME {
        row("Leans back, at the ceiling", on.length(-truth.lean));
    }
    let pair = |[one, other]: [f64; 2]| format!("{}, {}", on.length(one), on.length(other));
    if let Some(ends) = truth.ceiling {
        row("Ceiling at the left end, the right", pair(ends));
    }
    if let Some([high, deep]) = truth.skirting {
        row("Skirting", format!("{} × {}", on.length(high), on.length(deep)));
    }
    if let Some(ends) = truth.corners {
        let tried = on.length(Truth::TRIED);
        row(&format!("Corners close in, {tried} before it: left, right"), pair(ends));
    }
    if let Some([dry, damp]) = on.site.air {
        row("Air over the year", format!("{} to {} %", number(dry, 0), number(damp, 0)));
    }
    table
}

/// Where the pieces are fixed to the wall: each height once.
fn drill(on: &On<'_>) -> Table {
    let On { job, fixed, look, .. } = *on;
    let columns = vec![
        Column::words("Fixings of"),
        Column::figures(look.words().of_each()),
        Column::words("What"),
        Column::figures("Over the floor"),
        Column::words("From the left"),
        Column::words("Each carries, about"),
    ];
    let mut table = Table::new("Fixings to drill", columns);
    for fixing in fixed {
        let name = job.pieces.get(fixing.piece.0).map_or("", |piece| piece.name.as_str());
        let mut levels: Vec<(f64, Vec<f64>)> = Vec::new();
        for at in &fixing.at {
            match levels.iter_mut().find(|(level, _)| (*level - at.y).abs() < SAME) {
                Some((_, along)) => along.push(at.x),
                None => levels.push((at.y, vec![at.x])),
            }
        }
        levels.sort_by(|a, b| a.0.total_cmp(&b.0));
        for (level, along) in levels {
            let places: Vec<String> = along.iter().map(|x| length_text(look, *x)).collect();
            table.rows.push(Row::Cells(vec![
                plain(name),
                plain(along.len().to_string()),
                stacked(&look.words().item(&fixing.item)),
                stacked(&length_text(look, level)),
                stacked(&places.join(", ")),
                plain(on.carries(fixing, level)),
            ]));
        }
    }
    table
}

/// What to look at before anything is drilled (common practice, no source).
fn before(on: &On<'_>) -> Table {
    let On { site, .. } = *on;
    let mut table = Table::new("Before drilling", vec![Column::words("See that")]);
    let built = match &site.build {
        Some(build) => {
            format!("The wall is told to be built of {build}: try it, and use fixings made for it.")
        }
        None => "Find out what the wall is built of, and use fixings made for it.".into(),
    };
    let studs = site.truth.studs.map(|[first, apart]| {
        let show = |mm: f64| length_text(on.look, mm);
        format!(
            "Studs are told to stand {} apart, the first {} from the left end: find each.",
            show(apart),
            show(first)
        )
    });
    let message = [
        "Heights count from the floor, places from the left end of the wall. Mark each height level right along first."
            .into(),
        "Measure the wall anew at the floor, half way up and at the ceiling; the least width counts.".into(),
        built,
        "Look for cables, pipes and studs. Let a competent person judge fixings and load; local codes come first."
            .into(),
    ];
    table.rows.extend(message.into_iter().chain(studs).map(|text: String| Row::Cells(vec![plain(text)])));
    table
}
