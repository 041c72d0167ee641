//! What a joint cuts, in figures that can be worked by hand: boxes in the coordinates
//! of the piece, cuts that are alike in one line.

use std::fmt::Write as _;

use rodwright::geometry::DVec3;
use rodwright::joinery::{WorkedJob, WorkedPart};

use super::joints::worked;

/// From and to along the three axes of the piece, thousandths of a millimetre.
type Spans = [(i64, i64); 3];

/// The spans of a box given by any corners of it.
fn spans(corners: impl Iterator<Item = DVec3>) -> Spans {
    let (low, high) =
        corners.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), p| (low.min(p), high.max(p)));
    [0, 1, 2].map(|i| ((low[i] * 1000.0).round() as i64, (high[i] * 1000.0).round() as i64))
}

/// The spans of a part as it is cut from its blank.
fn blank(part: &WorkedPart) -> Spans {
    spans([DVec3::ZERO, part.size].into_iter().map(|p| part.at.point(p)))
}

/// The box round what a cut takes of its blank.
fn taken(part: &WorkedPart, cut: usize) -> Option<Spans> {
    let shape = &part.cuts[cut].shape;
    let (low, high) = shape.outline.bounds()?;
    let corners = [shape.from, shape.to].into_iter().flat_map(|z| {
        [(low.x, low.y), (low.x, high.y), (high.x, low.y), (high.x, high.y)]
            .map(|(x, y)| shape.at.point(DVec3::new(x, y, z)))
    });
    let within = corners.map(|p| part.at.point(p.clamp(DVec3::ZERO, part.size)));
    Some(spans(within))
}

/// `x 18..24 y 0..300 z 400..418`; where cuts differ along an axis, all their spans.
fn line(all: &[Spans]) -> String {
    let mut text = String::new();
    for (i, axis) in ["x", "y", "z"].into_iter().enumerate() {
        let mut along: Vec<(i64, i64)> = all.iter().map(|spans| spans[i]).collect();
        along.sort_unstable();
        along.dedup();
        let figure = |thousandths: i64| thousandths as f64 / 1000.0;
        let _ = write!(text, " {axis}");
        for (from, to) in along {
            let _ = write!(text, " {}..{}", figure(from), figure(to));
        }
    }
    text
}

/// What is cut from a part: its blank first, then a line for each kind and size of cut,
/// with how many there are, in the order of their names and sizes.
pub(crate) fn cuts(job: &WorkedJob, part: usize) -> Vec<String> {
    let part = &job.parts[part];
    let mut all: Vec<(&str, [i64; 3], Spans)> = (0..part.cuts.len())
        .filter_map(|k| {
            let spans = taken(part, k)?;
            Some((part.cuts[k].kind.name(), spans.map(|(from, to)| to - from), spans))
        })
        .collect();
    all.sort_unstable();
    let alike = all.chunk_by(|a, b| (a.0, a.1) == (b.0, b.1));
    let lines = alike.map(|group| {
        let places: Vec<Spans> = group.iter().map(|cut| cut.2).collect();
        let count = if group.len() > 1 { format!("{} ", group.len()) } else { String::new() };
        format!("{count}{}{}", group[0].0, line(&places))
    });
    [format!("blank{}", line(&[blank(part)]))].into_iter().chain(lines).collect()
}

/// A script, and what it cuts from its parts `a` and `b`. A blank that is not named is
/// as it was drawn, which is looked at where something grows.
pub(crate) struct Case<'c> {
    pub(crate) script: String,
    pub(crate) a: &'c [&'c str],
    pub(crate) b: &'c [&'c str],
}

/// Compares the cuts of all cases with what was worked by hand.
#[track_caller]
pub(crate) fn check(cases: &[Case<'_>]) {
    let mut wrong = String::new();
    for case in cases {
        let (job, problems) = worked("test", &case.script, &[]);
        let works = case.script.lines().last().unwrap_or_default();
        if problems.contains("error[") {
            let _ = writeln!(wrong, "{works}\n{problems}");
            continue;
        }
        for (part, wanted) in [case.a, case.b].into_iter().enumerate() {
            let mut found = cuts(&job, part);
            if !wanted.first().is_some_and(|line| line.starts_with("blank")) {
                found.remove(0);
            }
            if found != wanted {
                let _ = writeln!(wrong, "{works}\n  part {part}\n  wanted {wanted:#?}\n  found {found:#?}");
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

/// A pair of scripts about a bound, and the code of the problem: nothing is wrong with
/// the first, which stands on the bound, and the second, which is a step past it, has
/// that problem.
pub(crate) type Bound = (String, String, &'static str);

/// Looks on both sides of each bound.
#[track_caller]
pub(crate) fn bounds(cases: &[Bound]) {
    let mut wrong = String::new();
    for (on, past, code) in cases {
        let code = format!("[{code}]");
        let (_, problems) = worked("test", on, &[]);
        if problems.contains("error[") || problems.contains(&code) {
            let _ = writeln!(wrong, "should stand: {}\n{problems}", on.lines().last().unwrap_or_default());
        }
        let (_, problems) = worked("test", past, &[]);
        if !problems.contains(&code) {
            let _ = writeln!(
                wrong,
                "should be refused with {code}: {}\n{problems}",
                past.lines().last().unwrap_or_default()
            );
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

/// A bound of an option: `works` with `on` and with `past` in place of `@`.
pub(crate) fn bound(
    script: impl Fn(&str) -> String,
    works: &str,
    [on, past]: [&str; 2],
    code: &'static str,
) -> Bound {
    (script(&works.replace('@', on)), script(&works.replace('@', past)), code)
}
