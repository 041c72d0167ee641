//! How a part stands: turned, leaning, or placed along a line between others.

use super::call::Call;
use super::read::spans::reach;
use super::read::turn::within;
use crate::geometry::{DVec3, Interval, Placement, trig};
use crate::model::{RunEnd, Runs, Stock, StockId, TurnAxis, TurnPoint};
use crate::problem::Problem;
use crate::script::pose::{Pose, Spin};
use crate::script::run::Run;

/// How a part lies in the space it is written for.
#[derive(Clone, Copy, Debug)]
pub(in crate::script) struct Lies {
    /// The corners of the space.
    pub(in crate::script) space: (DVec3, DVec3),
    /// The axes of length, width and thickness.
    pub(in crate::script) axes: [usize; 3],
    /// Where the coordinates of the space come to lie, if it is placed along a line.
    pub(in crate::script) stood: Option<Placement>,
}

/// A part placed along a line: its space as it would lie square at the origin, and
/// where that comes to stand.
#[derive(Clone, Copy, Debug)]
pub(in crate::script) struct Line {
    /// The corners of the space.
    pub(in crate::script) space: (DVec3, DVec3),
    /// Where the coordinates of the space come to lie.
    pub(in crate::script) at: Placement,
}

/// The pose a call asks for: its line, its turns, then its lean.
pub(in crate::script) fn pose(call: &Call, lies: &Lies) -> Pose {
    let mut pose = Pose { stood: lies.stood, spins: Vec::new() };
    for turn in call.options.turns("turn") {
        let now = pose.of(Placement::IDENTITY);
        let own = |i: usize| now.dir([DVec3::X, DVec3::Y, DVec3::Z][lies.axes[i].min(2)]);
        let axis = match turn.axis {
            TurnAxis::Way(way) => way,
            TurnAxis::Length => own(0),
            TurnAxis::Width => own(1),
            TurnAxis::Thickness => own(2),
        };
        let about = match turn.about {
            TurnPoint::At(point) => point,
            TurnPoint::Of(share) => now.point(within(lies.space, share)),
        };
        pose.spins.push(Spin { axis, by: turn.by, about });
    }
    let lean = lean(call, pose.of(Placement::IDENTITY).point(within(lies.space, DVec3::Z)));
    pose.spins.extend(lean);
    pose
}

/// The lean of `splay` and `rake` about the middle of the part's top: the foot goes out
/// by the tangents of both, and the part leans by the resultant of the two.
fn lean(call: &Call, about: DVec3) -> Option<Spin> {
    let angle = |key| call.options.number(key).unwrap_or(0.0);
    let (splay, rake) = (angle("splay"), angle("rake"));
    if splay == 0.0 && rake == 0.0 {
        return None;
    }
    let out = DVec3::new(trig::tan(splay.to_radians()), trig::tan(rake.to_radians()), 0.0);
    let by = trig::atan2(out.length(), 1.0).to_degrees();
    // Square to the way the foot goes; it goes there from straight down.
    Some(Spin { axis: DVec3::new(out.y, -out.x, 0.0).normalize_or_zero(), by, about })
}

/// Shorter than this a part along a line is none, mm.
const LEAST: f64 = 0.1;

/// A part along the line it is asked to run; what is wrong is reported.
pub(in crate::script) fn along_a_line(
    run: &mut Run,
    call: &Call,
    stock: StockId,
    name: &str,
) -> Option<Line> {
    let runs = call.options.runs("runs")?;
    let besides = ["x", "y", "z", "grain"].into_iter().find(|key| call.options.0.contains_key(key));
    if let Some(key) = besides {
        let at = run.key_origin(call.origin, key);
        run.report(
            Problem::error("contradictory", format!("`{name}` runs along a line, and has `{key}` besides"))
                .at(at)
                .help("leave out one of them: along a line the grain runs its length, and `wide` and `thick` are its section")
                .part(name),
        );
        return None;
    }
    let at = run.key_origin(call.origin, "runs");
    let fixed = run.job.stock.get(stock.0).and_then(Stock::fixed_thickness);
    let Some(thick) = runs.thick.or(fixed) else {
        run.report(
            Problem::error("missing-option", format!("`runs` of `{}` needs `thick`", call.word.name))
                .at(at)
                .help("say how thick the part is: its stock has no one thickness")
                .part(name),
        );
        return None;
    };
    let middle = middle_line(&runs)?;
    let rolled = rolled(&runs, middle)?;
    let section = DVec3::new(0.0, thick, runs.wide);
    let ends =
        [(runs.from, 1.0), (runs.to, -1.0)].map(|(end, way)| ends_at(run, end, &rolled, (section, way)));
    let missed = [runs.from, runs.to].into_iter().zip(ends).find_map(|(end, found)| match (end, found) {
        (RunEnd::On(part), None) => Some(part),
        _ => None,
    });
    if let Some(part) = missed {
        let other = run.job.parts.get(part).map_or("", |p| &p.name).to_owned();
        run.report(
            Problem::error(
                "misses-the-part",
                format!("the line of `{name}` runs past `{other}` and meets no face of it"),
            )
            .at(at)
            .help("let `through` and `toward` lead to it, or end the part at a point [x, y, z]")
            .part(name)
            .part(other),
        );
        return None;
    }
    let (Some(from), Some(to)) = (ends[0], ends[1]) else { return None };
    if to - from < LEAST {
        let long = run.show(to - from);
        run.report(
            Problem::error(
                "empty-space",
                format!("`{name}` has no length: from end to end of its line are {long}"),
            )
            .at(at)
            .help("name the ends in the order the line runs, with room between them")
            .part(name),
        );
        return None;
    }
    Some(Line { space: (DVec3::X * from - 0.5 * section, DVec3::X * to + 0.5 * section), at: rolled })
}

/// A point of the middle line and its way.
fn middle_line(runs: &Runs) -> Option<(DVec3, DVec3)> {
    let point = |end: RunEnd| match end {
        RunEnd::At(point) => Some(point),
        RunEnd::On(_) => None,
    };
    let (from, to) = (point(runs.from), point(runs.to));
    let start = from.or(runs.through).or(to)?;
    let between = || {
        let end = to.or(runs.through.filter(|_| from.is_some()))?;
        (end - start).try_normalize()
    };
    Some((start, runs.toward.or_else(between)?))
}

/// The line as a frame: x along it, z the width, upright unless it is rolled. Of an
/// upright line the width looks to the left and right.
fn rolled(runs: &Runs, (start, way): (DVec3, DVec3)) -> Option<Placement> {
    /// So near to upright a line has no side that is up.
    const UPRIGHT: f64 = 1e-9;
    let flat = way - DVec3::Z * way.z;
    let up = if flat.length() < UPRIGHT { DVec3::X } else { DVec3::Z };
    let width = (up - way * up.dot(way)).try_normalize()?;
    let at = Placement::from_axes(start, way, width.cross(way))?;
    let spins = vec![Spin { axis: way, by: runs.roll, about: start }];
    Some(if runs.roll == 0.0 { at } else { Pose { stood: None, spins }.of(at) })
}

/// How far along the line a part of a section ends, mm; `None` if it misses the part
/// named. Short of the face altogether, so that it may be cut to it.
fn ends_at(run: &Run, end: RunEnd, line: &Placement, (section, way): (DVec3, f64)) -> Option<f64> {
    let part = match end {
        RunEnd::At(point) => return Some(line.local_point(point).x),
        RunEnd::On(part) => part,
    };
    let (space, asked) = (run.spaces.get(part)?, run.marks.get(part)?);
    let at = asked.pose.of(Placement::IDENTITY.moved(space.0)).seen_from(line);
    let across = |axis: usize| Some(Interval { from: -0.5 * section[axis], to: 0.5 * section[axis] });
    let size = space.1 - space.0;
    // The middle line decides whether the part is met at all.
    crate::geometry::extent_within(&at, size, 0, [None, Some(Interval::at(0.0)), Some(Interval::at(0.0))])?;
    let met = reach(&at, size, 0, [None, across(1), across(2)])?;
    Some(if way > 0.0 { met.to } else { met.from })
}
