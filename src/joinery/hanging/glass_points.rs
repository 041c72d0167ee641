//! Glazing points: what holds a pane in its rebate.

use crate::geometry::{DVec2, DVec3, Outline, Placement};
use crate::joinery::bench::made::{Joinery, Made};
use crate::joinery::bench::meet::side_of;
use crate::joinery::bench::row::{self, Named, Row};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::{NOISE, PARALLEL};
use crate::joinery::bench::worked::Insert;
use crate::joinery::channels::rebate;
use crate::joinery::facts::Facts;
use crate::joinery::facts::hanging::{Hanging, Points};
use crate::joinery::facts::item::{Item, Support};
use crate::model::{Arg, OptionKind, OptionSpec, Side, Takes, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `glass_points`.
pub(in crate::joinery) struct GlassPoints;

/// What `glass_points` says of itself.
static WORD: Word = Word {
    name: "glass_points",
    args: &[Arg { name: "pane", takes: Takes::Part }, Arg { name: "frame", takes: Takes::Parts }],
    options: &[
        OptionSpec {
            key: "side",
            kind: OptionKind::Side,
            default: &[Usual::Text("back")],
            says: "the side of the piece the rebate is open to",
        },
        OptionSpec {
            key: "spacing",
            kind: OptionKind::Length { min: 30.0, max: 600.0 },
            default: &[Usual::Length(ROW.spacing)],
            says: "greatest distance between points",
        },
        OptionSpec {
            key: "inset",
            kind: OptionKind::Length { min: 0.0, max: 500.0 },
            default: &[Usual::Length(ROW.inset), Usual::Words(", a quarter of a short side")],
            says: "from the corners to the outer points",
        },
        OptionSpec {
            key: "point",
            kind: OptionKind::Text,
            default: &[Usual::Words("glazing point")],
            says: "what is used, as it is bought",
        },
    ],
    says: "holds a pane, or a picture's back, in the rebates of a frame by points driven into the shoulder of the rebate \
           behind it; the rebates are cut by `rebate`",
    rule: "points at most 150 mm apart and 50 mm from the corners, at least two to a side; 4 mm of rebate behind the \
           pane (common practice, no source)",
    example: "rebate(glass, stile, #{ lap: 8, clearance: 1.5 });\nglass_points(glass, stile, #{ spacing: 150 });",
};

/// Least rebate behind the pane, mm.
const BEHIND: f64 = 4.0;
/// Length of a point and how much of it goes into the wood, mm, for pictures.
const POINT: (f64, f64) = (12.0, 6.0);

/// Width and thickness of a point, mm, for pictures.
const POINT_SIZE: (f64, f64) = (8.0, 1.0);
/// How points are set out, mm: from the ends as a hammer needs room to drive them.
const ROW: Row = Row { spacing: 150.0, inset: 50.0, apart: 20.0, edge: 10.0 };
/// Least that a pane lies in its rebate, mm.
const LAP: f64 = 1.0;

impl Joinery for GlassPoints {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let pane = bench.part(work, 0)?;
        bench.part(work, 1)?;
        let frame: Vec<usize> = work.parts.get(1).into_iter().flatten().map(|p| p.0).collect();
        let side = work.options.sides("side").and_then(|s| s.first().copied()).unwrap_or(Side::Back);
        let out = side.normal();
        if bench.placed[pane].at.z.dot(out).abs() < PARALLEL {
            let message = format!("the {} is no face of `{}`", side.name(), bench.name(pane));
            return Err(bench
                .error(work, "no-such-edge", message, &[pane])
                .help("write `side` with the side the rebate is open to"));
        }
        let mut at = Vec::new();
        for &member in frame.iter().filter(|m| **m < bench.placed.len()) {
            bench.check_pair(work, pane, member)?;
            at.extend(points(bench, work, pane, member, out)?);
        }
        let named = work.options.text("point").map(|name| Item::Named(name.to_owned()));
        let item = named.unwrap_or_else(|| Support::GlazingPoint.into());
        let outline =
            Outline::rect(DVec2::new(-0.5 * POINT_SIZE.0, 0.0), DVec2::new(0.5 * POINT_SIZE.0, POINT_SIZE.1));
        let body = Prism { at: Placement::IDENTITY, outline, from: -(POINT.0 - POINT.1), to: POINT.1 };
        let mut parts = frame;
        parts.push(pane);
        let spacing = work.options.number("spacing").unwrap_or(ROW.spacing);
        Ok(vec![Made {
            parts,
            ways_in: vec![-out],
            facts: Facts::Hanging(Hanging::Points(Points { count: at.len(), spacing })),
            inserts: vec![Insert { item, at, body: Some(body) }],
            ..Made::default()
        }])
    }
}

/// A pane in one member of its frame.
struct Held {
    pane: usize,
    member: usize,
    /// Out of the face the rebate is open to.
    out: DVec3,
    /// From the pane into the member.
    into: DVec3,
}

/// The points along one member: x along it, z into its wood, y away from the pane.
fn points(
    bench: &Bench<'_>,
    work: &Work,
    pane: usize,
    member: usize,
    out: DVec3,
) -> Result<Vec<Placement>, Problem> {
    let (glass, wood) = (&bench.grown[pane], &bench.placed[member]);
    // The member lies to that side of the pane of which most is clear of it.
    let edges = [glass.at.x, -glass.at.x, glass.at.y, -glass.at.y];
    let clear = |way: DVec3| glass.reach(way).1 - wood.reach(way).1;
    let best = |best: DVec3, way: DVec3| if clear(way) > clear(best) + NOISE { way } else { best };
    let into = -edges.into_iter().fold(glass.at.x, best);
    let held = Held { pane, member, out, into };
    in_a_rebate(bench, work, &held)?;
    behind(bench, work, &held)?;
    let run = out.cross(into);
    let ((glo, ghi), (wlo, whi)) = (glass.reach(run), wood.reach(run));
    let (lo, hi) = (glo.max(wlo), ghi.min(whi));
    let places = row::places(bench, work, &ROW, hi - lo, &Named { one: "point", many: "points" })?;
    // Points lie on the pane's back, at its edge.
    let edge = into * glass.reach(into).1 + out * glass.reach(out).1;
    let at = places.into_iter().map(|p| {
        let origin = edge + run * (0.5 * (lo + hi) + p);
        Placement { origin, x: out.cross(into), y: out, z: into }
    });
    Ok(at.collect())
}

/// Refuses a pane that lies in no rebate of the member, or in one that is open to the
/// other side.
fn in_a_rebate(bench: &Bench<'_>, work: &Work, held: &Held) -> Result<(), Problem> {
    let Held { pane, member, out, into } = *held;
    let (glass, wood) = (&bench.grown[pane], &bench.placed[member]);
    let beyond = wood.reach(into).1 - glass.reach(into).1;
    // Without a lap the pane would fall through, without wood beyond it a point finds no
    // hold.
    let lap = glass.reach(into).1 - wood.reach(into).0;
    if lap < LAP || beyond < POINT.1 {
        let message = format!(
            "`{}` does not lie in a rebate of `{}`: it laps {} and {} of wood stand beyond",
            bench.name(pane),
            bench.name(member),
            bench.mm(lap.max(0.0)),
            bench.mm(beyond.max(0.0))
        );
        return Err(bench.error(work, "not-in-a-rebate", message, &[pane, member]).help(format!(
            "cut the rebate first: `rebate(pane, member, #{{ lap: 8 }})`; points need {} to hold in",
            bench.mm(POINT.1)
        )));
    }
    // Drawn sizes alone do not tell which way a rebate is open; a point on its shut
    // side would be driven into the shoulder.
    if let Some(open) = rebate::open_to(bench, pane, member).filter(|open| open.dot(out) < 0.0) {
        let side = side_of(open).name();
        let message = format!(
            "the rebate of `{}` for `{}` is open to the {side}: points on the {} find no shoulder",
            bench.name(member),
            bench.name(pane),
            side_of(out).name()
        );
        return Err(bench
            .error(work, "not-in-a-rebate", message, &[pane, member])
            .help(format!("write `side: \"{side}\"`, or set the pane nearer to the other side")));
    }
    Ok(())
}

/// Refuses a rebate too shallow to hide the points.
fn behind(bench: &Bench<'_>, work: &Work, held: &Held) -> Result<(), Problem> {
    let Held { pane, member, out, .. } = *held;
    let behind = bench.placed[member].reach(out).1 - bench.grown[pane].reach(out).1;
    if behind < BEHIND - NOISE {
        let message = format!(
            "the rebate of `{}` stands {} behind `{}`; points need {}",
            bench.name(member),
            bench.mm(behind.max(0.0)),
            bench.name(pane),
            bench.mm(BEHIND)
        );
        return Err(bench
            .error(work, "does-not-fit", message, &[pane, member])
            .help("set the pane further in, or use a bead"));
    }
    Ok(())
}
