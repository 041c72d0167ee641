//! Ends of leaning parts sawn level: the foot of a splayed leg.

use crate::geometry::DVec3;
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Growth, Joinery, Made, Sawn};
use crate::joinery::bench::meet::TOUCH;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::ONE_WAY;
use crate::model::{Arg, OptionKind, OptionSpec, Takes, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `level`.
pub(in crate::joinery) struct Level;

/// What `level` says of itself.
static WORD: Word = Word {
    name: "level",
    args: &[Arg { name: "parts", takes: Takes::Parts }],
    options: &[
        OptionSpec {
            key: "end",
            kind: OptionKind::Choice(&["bottom", "top"]),
            default: &[Usual::Text("bottom")],
            says: "which end is sawn",
        },
        OptionSpec {
            key: "at",
            kind: OptionKind::Length { min: -10_000.0, max: 10_000.0 },
            default: &[Usual::Length(0.0), Usual::Words(": the floor")],
            says: "height of the cut in the piece",
        },
    ],
    says: "saws an end of parts that lean level, of boards on edge an edge, and lengthens or shortens them to it",
    rule: "gauge and blade follow from the lean; the part is as long as its long point (geometry)",
    example: "level(leg);",
};

/// Furthest an end may be from the cut, mm.
const FAR: f64 = 400.0;

/// An end to be sawn level.
struct End {
    part: usize,
    /// Along the part, out of that end.
    out: DVec3,
    /// Up or down, out of that end.
    normal: DVec3,
    /// The cut along `normal`.
    at: f64,
    /// What the part grows by to its long point.
    by: f64,
}

impl Joinery for Level {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn shapes(&self) -> bool {
        true
    }

    fn grow(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Growth>, Problem> {
        let ends = ends(bench, work)?;
        Ok(ends.iter().map(|e| Growth { part: e.part, toward: e.out, by: e.by, lipping: None }).collect())
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let mut made = Vec::new();
        for end in ends(bench, work)? {
            // Square ends need no more than their length.
            if end.out.dot(end.normal) > ONE_WAY {
                continue;
            }
            let cuts: Vec<Sawn> = Prism::half_space(end.normal * end.at, end.normal)
                .map(|shape| Sawn { part: end.part, kind: CutKind::Bevel, shape })
                .into_iter()
                .collect();
            made.push(Made { parts: vec![end.part], cuts, shaping: true, ..Made::default() });
        }
        Ok(made)
    }
}

/// The ends asked for.
fn ends(bench: &Bench<'_>, work: &Work) -> Result<Vec<End>, Problem> {
    bench.part(work, 0)?;
    let top = work.options.text("end") == Some("top");
    // Both ends of a leg are asked for by heights of the piece, however it leans.
    let height = work.options.number("at").unwrap_or(0.0);
    let normal = if top { DVec3::Z } else { DVec3::NEG_Z };
    let at = height * normal.z;
    let parts = work.parts.iter().take(1).flatten().map(|p| p.0).filter(|p| *p < bench.placed.len());
    parts.map(|part| end(bench, work, part, (normal, at))).collect()
}

/// The end of one part.
fn end(bench: &Bench<'_>, work: &Work, part: usize, (normal, at): (DVec3, f64)) -> Result<End, Problem> {
    let blank = &bench.placed[part];
    let name = bench.name(part);
    // A board on edge, such as the side of a hopper, has an edge sawn in place of an end.
    let i = usize::from(blank.at.x.dot(normal).abs() < blank.at.y.dot(normal).abs());
    let out = if blank.axis(i).dot(normal) < 0.0 { -blank.axis(i) } else { blank.axis(i) };
    let steep = out.dot(normal);
    if steep < 0.5 {
        let message = format!("`{name}` has no end or edge to saw level: it lies nearer level than upright");
        return Err(bench
            .error(work, "no-such-edge", message, &[part])
            .help("stand it on end or on edge, or saw it with `bevel`"));
    }
    // Down the length at the corners of its section.
    let centre = blank.centre();
    let corners = [(-0.5, -0.5), (-0.5, 0.5), (0.5, -0.5), (0.5, 0.5)];
    let reach = corners.into_iter().map(|(y, z)| {
        let (j, k) = ((i + 1) % 3, (i + 2) % 3);
        let p = centre + blank.axis(j) * (y * blank.size[j]) + blank.axis(k) * (z * blank.size[k]);
        (at - normal.dot(p)) / steep
    });
    // The long point sets the length of the blank; the short one must still be on it.
    let (short, long) = reach.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), r| (a.min(r), b.max(r)));
    let by = long - 0.5 * blank.size[i];
    if by.abs() > FAR || short < -0.5 * blank.size[i] + TOUCH {
        let message =
            format!("the end of `{name}` is {} from where it would be sawn level", bench.mm(by.abs()));
        return Err(bench
            .error(work, "parts-do-not-meet", message, &[part])
            .help("write the height of the cut with `at`, or place the part nearer to it"));
    }
    Ok(End { part, out, normal, at, by })
}
