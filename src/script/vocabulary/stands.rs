//! How a part stands: turned, leaning, or placed along a line between others.

use super::call::Call;
use super::read::spans::reach;
use super::read::turn::within;
use crate::geometry::{DVec3, Interval, Placement, extent_within, trig};
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
    let fixed = run.job.stock.get(stock.0).and_then(Stock::fixed_thickness);
    let besides = ["x", "y", "z", "grain"].into_iter().find(|key| call.options.0.contains_key(key));
    let at = run.key_origin(call.origin, besides.unwrap_or("runs"));
    let line = match (besides, runs.thick.or(fixed)) {
        (Some(key), _) => Err(contradictory(key, name)),
        (None, None) => {
            Err(Problem::error("missing-option", format!("`runs` of `{}` needs `thick`", call.word.name))
                .help("say how thick the part is: its stock has no one thickness"))
        }
        (None, Some(thick)) => line(run, &runs, thick, name),
    };
    line.map_err(|problem| run.report(problem.at(at).part(name))).ok()
}

/// A part that is placed twice.
fn contradictory(key: &str, name: &str) -> Problem {
    Problem::error("contradictory", format!("`{name}` runs along a line, and has `{key}` besides")).help(
        "leave out one of them: along a line the grain runs its length, and `wide` and `thick` are its section",
    )
}

/// The line of a part of a thickness.
fn line(run: &Run, runs: &Runs, thick: f64, name: &str) -> Result<Line, Problem> {
    let section = DVec3::new(0.0, thick, runs.wide);
    let Some(rolled) = middle_line(runs).and_then(|middle| rolled(runs, &middle)) else {
        return Err(no_length(run, 0.0, name));
    };
    let end = |end: RunEnd, begins: bool| {
        ends_at(run, end, &rolled, section).map(|met| if begins { met.to } else { met.from }).ok_or(end)
    };
    let missed = |end: RunEnd| match end {
        RunEnd::On(part) => misses(run.job.parts.get(part).map_or("", |p| &p.name), name),
        RunEnd::At(_) => no_length(run, 0.0, name),
    };
    let (from, to) = (end(runs.from, true).map_err(missed)?, end(runs.to, false).map_err(missed)?);
    if to - from < LEAST {
        return Err(no_length(run, to - from, name));
    }
    Ok(Line { space: (DVec3::X * from - 0.5 * section, DVec3::X * to + 0.5 * section), at: rolled })
}

/// A line that leads past the part it is to end on.
fn misses(other: &str, name: &str) -> Problem {
    Problem::error(
        "misses-the-part",
        format!("the line of `{name}` runs past `{other}` and meets no face of it"),
    )
    .help("let `through` and `toward` lead to it, or end the part at a point [x, y, z]")
    .part(other)
}

/// A line without length.
fn no_length(run: &Run, long: f64, name: &str) -> Problem {
    let long = run.show(long);
    Problem::error("empty-space", format!("`{name}` has no length: from end to end of its line are {long}"))
        .help("name the ends in the order the line runs, with room between them")
}

/// A point of a line and its way.
struct Middle {
    start: DVec3,
    way: DVec3,
}

/// A point of the middle line and its way.
fn middle_line(runs: &Runs) -> Option<Middle> {
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
    Some(Middle { start, way: runs.toward.or_else(between)? })
}

/// The line as a frame: x along it, z the width, upright unless it is rolled. Of an
/// upright line the width looks to the left and right.
fn rolled(runs: &Runs, middle: &Middle) -> Option<Placement> {
    /// So near to upright a line has no side that is up.
    const UPRIGHT: f64 = 1e-9;
    let Middle { start, way } = *middle;
    let flat = way - DVec3::Z * way.z;
    let up = if flat.length() < UPRIGHT { DVec3::X } else { DVec3::Z };
    let width = (up - way * up.dot(way)).try_normalize()?;
    let at = Placement::from_axes(start, way, width.cross(way))?;
    let spins = vec![Spin { axis: way, by: runs.roll, about: start }];
    Some(if runs.roll == 0.0 { at } else { Pose { stood: None, spins }.of(at) })
}

/// From where to where along the line an end of a part of a section lies: a point, or
/// the part it ends on, so that it stops short of the face altogether and may be cut to
/// it; `None` if the line misses that part.
fn ends_at(run: &Run, end: RunEnd, line: &Placement, section: DVec3) -> Option<Interval> {
    let part = match end {
        RunEnd::At(point) => return Some(Interval::at(line.local_point(point).x)),
        RunEnd::On(part) => part,
    };
    let (space, asked) = (run.spaces.get(part)?, run.marks.get(part)?);
    let at = asked.pose.of(Placement::IDENTITY.moved(space.0)).seen_from(line);
    let across = |axis: usize| Some(Interval { from: -0.5 * section[axis], to: 0.5 * section[axis] });
    let size = space.1 - space.0;
    // The middle line decides whether the part is met at all.
    let middle = Some(Interval::at(0.0));
    extent_within(&at, size, 0, [None, middle, middle])?;
    reach(&at, size, 0, [None, across(1), across(2)])
}
