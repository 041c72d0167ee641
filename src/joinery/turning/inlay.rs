//! Rings inlaid round turned parts, hollows filled in their ends.

use crate::geometry::{DVec3, Placement};
use crate::joinery::bench::fill::{Fill, FillShape};
use crate::joinery::bench::made::{Joinery, Made};
use crate::joinery::bench::pocket::WALL;
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::PART;
use crate::joinery::bench::tolerance::{NEARER, NOISE};
use crate::model::{Form, OptionKind, OptionSpec, REQUIRED, Side, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Turning;
use crate::timber::{RESIN, filling};

/// The word `rings`.
pub(in crate::joinery) struct Rings;
/// The word `hollow`.
pub(in crate::joinery) struct Hollow;

/// What it is filled with.
const FILL: OptionSpec = OptionSpec {
    key: "fill",
    kind: OptionKind::Text,
    default: &[Usual::Text(FILLING)],
    says: "what it is filled with, such as \"black resin\"",
};
/// Density of the filling.
const DENSITY: OptionSpec = OptionSpec {
    key: "density",
    kind: OptionKind::Ratio { min: 50.0, max: 25_000.0 },
    default: &[
        Usual::Bare(RESIN),
        Usual::Words(
            " for `resin`, also with `casting`, `epoxy`, `clear` or a plain colour before it, else unknown",
        ),
    ],
    says: "density of the filling in kg/m3, as its maker gives it",
};
/// What is lost of it.
const WASTE: OptionSpec = OptionSpec {
    key: "waste",
    kind: OptionKind::Ratio { min: 0.0, max: 300.0 },
    default: &[Usual::Bare(LOST)],
    says: "per cent of filling over and above, for what stands proud and stays in the cup",
};

/// What `rings` says of itself.
static RINGS: Word = Word {
    name: "rings",
    args: PART,
    options: &[
        OptionSpec {
            key: "at",
            kind: OptionKind::Lengths,
            default: REQUIRED,
            says: "from where the stations count to the middle of each ring",
        },
        OptionSpec {
            key: "width",
            kind: OptionKind::Length { min: 1.5, max: 200.0 },
            default: &[Usual::Length(RING.0)],
            says: "width of the groove",
        },
        OptionSpec {
            key: "depth",
            kind: OptionKind::Length { min: 0.5, max: 200.0 },
            default: &[Usual::Length(RING.1)],
            says: "depth of the groove, from its lower edge",
        },
        FILL,
        DENSITY,
        WASTE,
    ],
    says: "inlays rings round a turned part: grooves turned, filled and turned flush",
    rule: "half the diameter stays as a core, 3 mm of wood beside a ring, the profile falls no more across it than \
           half its depth, 25 per cent of filling to waste (common practice, no source); density of resin from memory",
    example: "rings(post, #{ at: [120, 140], width: 6, depth: 3, fill: \"black resin\" });",
};

/// What `hollow` says of itself.
static HOLLOW: Word = Word {
    name: "hollow",
    args: PART,
    options: &[
        OptionSpec {
            key: "end",
            kind: OptionKind::Side,
            default: &[Usual::Words("the end where the stations stop")],
            says: "the side of the piece the end looks to",
        },
        OptionSpec {
            key: "diameter",
            kind: OptionKind::Length { min: 3.0, max: 1000.0 },
            default: &[Usual::Words("half the diameter of the end")],
            says: "diameter of the hollow",
        },
        OptionSpec {
            key: "depth",
            kind: OptionKind::Length { min: 0.5, max: 500.0 },
            default: &[Usual::Length(HOLLOW_DEPTH)],
            says: "depth of the hollow",
        },
        FILL,
        DENSITY,
        WASTE,
    ],
    says: "hollows an end of a turned part and fills it flush",
    rule: "3 mm of wood round it, no deeper than half the part is long, 25 per cent of filling to waste (common \
           practice, no source); density of resin from memory",
    example: "hollow(post, #{ end: \"top\", diameter: 30, depth: 8, fill: \"black resin\" });",
};

/// What a ring or hollow is filled with where nothing is said.
const FILLING: &str = "resin";
/// The usual ring: width and depth, mm.
const RING: (f64, f64) = (6.0, 3.0);
/// Depth of the usual hollow, mm.
const HOLLOW_DEPTH: f64 = 6.0;
/// Filling that is lost in mixing and trimming, per cent.
const LOST: f64 = 25.0;
/// Area of a circle as a share of pi and the square of its diameter.
const CIRCLE: f64 = 0.25;

/// A ring on a part, mm.
struct Ring<'a> {
    part: usize,
    turning: &'a Turning,
    /// Along the axis.
    from: f64,
    to: f64,
    depth: f64,
}

impl Joinery for Rings {
    fn word(&self) -> &'static Word {
        &RINGS
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let part = bench.part(work, 0)?;
        let turning = turning(bench, work, part, "ring")?;
        let (width, depth) = ring_size(bench, work);
        let mut fills = Vec::new();
        // Those of works before this one; the later of two that collide is the one
        // refused.
        let mut taken = earlier(bench, work, part);
        let places = work.options.lengths("at").unwrap_or_default();
        if places.is_empty() {
            let message = "`at` names no place for a ring".to_owned();
            return Err(bench
                .error(work, "missing-option", message, &[part])
                .help("write the distances to the middles of the rings: `at: [120, 140]`"));
        }
        for at in places {
            let (from, to) = (at - 0.5 * width, at + 0.5 * width);
            let least = fits(bench, work, &Ring { part, turning: &turning, from, to, depth })?;
            if let Some(other) = taken.iter().find(|o| o.0 < to + WALL - NOISE && o.1 > from - WALL + NOISE) {
                return Err(collide(bench, work, part, (from, to), *other));
            }
            // Rings of this work count against one another as well.
            taken.push((from, to));
            // By the thinnest place: the groove is turned to one diameter all along.
            let core = least - depth;
            // What is turned away: the profile less the core that is left.
            let volume = turning.volume(from, to) - std::f64::consts::PI * core * core * width;
            fills.push((part, fill(work, FillShape::Ring { from, to, depth }, volume)));
        }
        Ok(vec![Made { parts: vec![part], fills, shaping: true, ..Made::default() }])
    }
}

impl Joinery for Hollow {
    fn word(&self) -> &'static Word {
        &HOLLOW
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let part = bench.part(work, 0)?;
        let turning = turning(bench, work, part, "hollow")?;
        let far = end(bench, work, part)?;
        let long = turning.stations.last().map_or(0.0, |s| s.along);
        let at = if far { long } else { 0.0 };
        let whole = 2.0 * turning.radius(at).unwrap_or_default();
        let depth = bench.length(work, "depth", HOLLOW_DEPTH);
        let diameter = work.options.number("diameter").unwrap_or(0.5 * whole);
        let (from, to) = if far { (long - depth, long) } else { (0.0, depth) };
        // The thinnest on the way down, not the end: a part may taper towards its
        // middle.
        let thin = turning.radii(from, to).map_or(0.0, |(least, _)| least);
        let wall = thin - 0.5 * diameter;
        if depth > 0.5 * long + NOISE || wall < WALL - NOISE {
            let message = if wall < WALL - NOISE {
                format!(
                    "a hollow of {} leaves {} of `{}` round it, which is {} thick there; it needs {}",
                    bench.mm(diameter),
                    bench.mm(wall.max(0.0)),
                    bench.name(part),
                    bench.mm(2.0 * thin),
                    bench.mm(WALL)
                )
            } else {
                format!(
                    "a hollow {} deep takes more than half of `{}`, which is {} long",
                    bench.mm(depth),
                    bench.name(part),
                    bench.mm(long)
                )
            };
            return Err(bench
                .error(work, "breaks-through", message, &[part])
                .help("make `diameter` or `depth` less"));
        }
        let volume = CIRCLE * std::f64::consts::PI * diameter * diameter * depth;
        let fills = vec![(part, fill(work, FillShape::Hollow { far, diameter, depth }, volume))];
        Ok(vec![Made { parts: vec![part], fills, shaping: true, ..Made::default() }])
    }
}

/// Width and depth asked for.
fn ring_size(bench: &Bench<'_>, work: &Work) -> (f64, f64) {
    (bench.length(work, "width", RING.0), bench.length(work, "depth", RING.1))
}

/// The profile of a part; an error where it has none.
fn turning(bench: &Bench<'_>, work: &Work, part: usize, what: &str) -> Result<Turning, Problem> {
    if let Some(Form::Turned(stations)) = bench.job.parts.get(part).map(|p| &p.form) {
        return Ok(Turning { at: Placement::IDENTITY, stations: stations.clone() });
    }
    let message = format!("`{}` is not turned, but a {what} is cut on the lathe", bench.name(part));
    Err(bench.error(work, "not-turned", message, &[part]).help("make the part with `turned`"))
}

/// Where rings asked for before stand on a part: from and to.
fn earlier(bench: &Bench<'_>, work: &Work, part: usize) -> Vec<(f64, f64)> {
    let before = bench.job.works.iter().take_while(|other| !std::ptr::eq(*other, work));
    let here = before.filter(|w| w.word.name == RINGS.name && bench.part(w, 0).ok() == Some(part));
    here.flat_map(|w| {
        let half = 0.5 * ring_size(bench, w).0;
        let places = w.options.lengths("at").unwrap_or_default();
        places.iter().map(move |at| (at - half, at + half)).collect::<Vec<_>>()
    })
    .collect()
}

/// Refuses a ring that runs off the part, goes too deep or lies on too steep a
/// slope; gives the least radius across it, mm.
fn fits(bench: &Bench<'_>, work: &Work, ring: &Ring<'_>) -> Result<f64, Problem> {
    let Ring { part, turning, from, to, depth } = *ring;
    let name = bench.name(part);
    let long = turning.stations.last().map_or(0.0, |s| s.along);
    let middle = f64::midpoint(from, to);
    let Some((least, most)) =
        turning.radii(from, to).filter(|_| from >= WALL - NOISE && to <= long - WALL + NOISE)
    else {
        let message = format!(
            "a ring {} wide at {} leaves less than {} to the end of `{name}`, which is {} long",
            bench.mm(to - from),
            bench.mm(middle),
            bench.mm(WALL),
            bench.mm(long)
        );
        return Err(bench.error(work, "runs-off", message, &[part]).help(format!(
            "keep `at` from {} to {}",
            bench.mm(WALL + 0.5 * (to - from)),
            bench.mm(long - WALL - 0.5 * (to - from))
        )));
    };
    let core = 2.0 * (least - depth);
    if core < least - NOISE {
        let message = format!(
            "a ring {} deep at {} leaves a core of {} in `{name}`, which is {} thick there; it needs half of that",
            bench.mm(depth),
            bench.mm(middle),
            bench.mm(core.max(0.0)),
            bench.mm(2.0 * least)
        );
        return Err(bench
            .error(work, "breaks-through", message, &[part])
            .help(format!("make `depth` {} or less", bench.mm(0.5 * least))));
    }
    if most - least > 0.5 * depth + NOISE {
        let message = format!(
            "`{name}` is {} thick at one edge of the ring at {} and {} at the other: a parting tool cuts square to the \
             axis, and the groove would be {} deep here and {} there",
            bench.mm(2.0 * most),
            bench.mm(middle),
            bench.mm(2.0 * least),
            bench.mm(depth + most - least),
            bench.mm(depth)
        );
        return Err(bench
            .error(work, "ring-on-slope", message, &[part])
            .help("move the ring to where the profile is straighter, or make it narrower or deeper"));
    }
    Ok(least)
}

/// Longer than any part, mm: no message speaks of more.
const HUGE: f64 = 1e9;

/// Two rings too near to one another.
fn collide(bench: &Bench<'_>, work: &Work, part: usize, here: (f64, f64), other: (f64, f64)) -> Problem {
    let middle = |ring: (f64, f64)| bench.mm(f64::midpoint(ring.0, ring.1));
    let apart = (here.0.max(other.0) - here.1.min(other.1)).max(-HUGE);
    let message = if apart < -NOISE {
        format!(
            "the rings at {} and {} of `{}` overlap by {}",
            middle(other),
            middle(here),
            bench.name(part),
            bench.mm(-apart)
        )
    } else {
        format!(
            "the rings at {} and {} of `{}` leave {} of wood between them; it needs {}",
            middle(other),
            middle(here),
            bench.name(part),
            bench.mm(apart.max(0.0)),
            bench.mm(WALL)
        )
    };
    bench
        .error(work, "rings-collide", message, &[part])
        .help(format!("set them {} further apart, or make them narrower", bench.mm(WALL - apart)))
}

/// Whether the end asked for is the far one.
fn end(bench: &Bench<'_>, work: &Work, part: usize) -> Result<bool, Problem> {
    let axis: DVec3 = bench.placed.get(part).map_or(DVec3::X, |blank| blank.axis(0));
    let Some(side) = work.options.sides("end").and_then(|s| s.first()) else { return Ok(true) };
    let lean = side.normal().dot(axis);
    if lean.abs() > NEARER {
        return Ok(lean > 0.0);
    }
    let message = format!("`{}` has no end to the {}", bench.name(part), side.name());
    let [near, far] = [-axis, axis].map(|way| nearest(way).name());
    Err(bench.error(work, "no-such-end", message, &[part]).help(format!("its ends look to {near} and {far}")))
}

/// The side of the piece a direction looks to.
fn nearest(way: DVec3) -> Side {
    crate::joinery::bench::meet::side_of(way)
}

/// The filling of a shape as the options say.
fn fill(work: &Work, shape: FillShape, volume: f64) -> Fill {
    let what = work.options.text("fill").unwrap_or(FILLING).to_owned();
    let stated = work.options.number("density");
    // What the script says comes first; the table knows only fillings by their very
    // names.
    let usual = filling(&what);
    Fill {
        shape,
        what,
        density: stated.or(usual),
        stated: stated.is_some(),
        waste: work.options.number("waste").unwrap_or(LOST),
        volume,
        origin: work.origin,
    }
}
