//! `site` and `obstacle`: the wall a job goes to.

use super::call::Call;
use super::spec::{length_to, option, value};
use crate::measure::{INCH, Unit, near, number};
use crate::model::{Arg, Job, Obstacle, OptionKind, REQUIRED, Scribe, Side, Site, Takes, Truth, Usual, Word};
use crate::problem::Problem;
use crate::script::run::Run;
use crate::script::value::Value;

/// Relative humidity of air that people live in, per cent.
const AIR: OptionKind = OptionKind::Ratio { min: 5.0, max: 95.0 };

pub(in crate::script) static SITE: Word = Word {
    name: "site",
    args: &[value("name", OptionKind::Text)],
    options: &[
        option(
            "width",
            length_to(100_000.0),
            &[Usual::Words("the greatest of `widths`")],
            "from the left end of the wall to its right",
        ),
        option("height", length_to(100_000.0), REQUIRED, "from the floor to the ceiling"),
        option(
            "depth",
            length_to(100_000.0),
            &[Usual::Words("no recess")],
            "of a recess: from its back wall to the front of the walls beside it",
        ),
        option(
            "build",
            OptionKind::Text,
            &[Usual::Words("unknown")],
            "what the wall is built of, such as `brick, plastered`",
        ),
        option(
            "widths",
            OptionKind::Lengths,
            &[Usual::Words("as `width`")],
            "its width at the floor, half way up and at the ceiling, where it stands between two others",
        ),
        option(
            "lean",
            OptionKind::Length { min: -500.0, max: 500.0 },
            &[Usual::Length(0.0)],
            "how far it leans into the room at the ceiling, by a plumb line; less than 0 where it leans back",
        ),
        option(
            "ceiling",
            OptionKind::Lengths,
            &[Usual::Words("as `height`")],
            "height of a sloping ceiling at its left end and at its right",
        ),
        option(
            "skirting",
            OptionKind::Lengths,
            &[Usual::Words("none")],
            "height and depth of the skirting at its foot",
        ),
        option(
            "studs",
            OptionKind::Lengths,
            &[Usual::Words("unknown")],
            "from its left end to the middle of the first stud, and from stud to stud: fixings are held against them",
        ),
        option(
            "corners",
            OptionKind::Lengths,
            &[Usual::Words("square, or none")],
            "how much the walls at its left end and its right close in 600 mm before it; less than 0 where they open out",
        ),
        option(
            "driest",
            AIR,
            &[Usual::Words("unknown")],
            "relative humidity of the room's air in its driest season, per cent: solid wood is given room by it",
        ),
        option("dampest", AIR, &[Usual::Words("unknown")], "the same in its dampest season"),
    ],
    says: "names the wall the job goes to; a sheet then shows the pieces on it, where to tape them out and how high \
           their fixings are. `piece` says where each stands: `left` and `floor`",
    rule: "site sizes, sizes of the furniture and the space left between them stand in rows of their own (common \
           practice, no source). Wood takes the moisture of the air at 20 °C (FPL-RN-0268); else 3 points either way are \
           reckoned with",
    example: "site(\"North wall\", #{ width: 3200, height: 2500, build: \"brick, plastered\" });",
};

/// Keeps the wall.
pub(in crate::script) fn site(run: &mut Run, call: &Call) -> Value {
    if let Some(before) = &run.job.site {
        let before = before.origin.user;
        run.report(
            Problem::error("site-twice", "`site` is said twice")
                .at(call.origin)
                .place(before, "first said here")
                .help("a set shows one wall; write a script for each"),
        );
        return Value::Nothing;
    }
    let size = |key| call.options.number(key).filter(|mm| *mm > 0.0);
    let widest = || call.options.lengths("widths")?.iter().copied().reduce(f64::max).filter(|mm| *mm > 0.0);
    let (Some(width), Some(height)) = (size("width").or_else(widest), size("height")) else {
        run.report(
            Problem::error("site-without-size", "`site` says no width and height that could hold furniture")
                .at(call.origin)
                .help("measure the wall: `site(\"North wall\", #{ width: 3200, height: 2500 })`"),
        );
        return Value::Nothing;
    };
    let truth = match truth(call) {
        Ok(truth) => truth,
        Err(wrong) => {
            run.report(Problem::error("wall-out-of-true", wrong).at(call.origin).help(
                "measure it so: `widths: [1200, 1196, 1186]` at floor, half way up and ceiling, `ceiling: [2400, 2380]`, `skirting: [120, 15]` and `studs: [150, 400]`",
            ));
            return Value::Nothing;
        }
    };
    let air = ["driest", "dampest"].map(|key| call.options.number(key));
    let air = match air {
        [None, None] => None,
        [Some(dry), Some(damp)] if dry < damp => Some([dry, damp]),
        _ => {
            run.report(
                Problem::error(
                    "air-of-room",
                    "`driest` and `dampest` of `site` go together, the first the less",
                )
                .at(call.origin)
                .help("say both, as a hygrometer shows them over the year: `driest: 30, dampest: 65`"),
            );
            return Value::Nothing;
        }
    };
    run.job.site = Some(Site {
        name: call.options.text("name").unwrap_or_default().to_owned(),
        width,
        height,
        depth: call.options.number("depth").filter(|mm| *mm > 0.0),
        build: call.options.text("build").map(str::to_owned),
        truth,
        air,
        origin: call.origin,
    });
    Value::Nothing
}

/// How the wall is out of true, or what is wrong with how that is said.
fn truth(call: &Call) -> Result<Truth, String> {
    let all = |key: &str| call.options.lengths(key).map(<[f64]>::to_vec).unwrap_or_default();
    let (widths, ceiling) = (all("widths"), all("ceiling"));
    let (skirting, studs, corners) = (all("skirting"), all("studs"), all("corners"));
    let wrong = |key: &str, list: &[f64], count: usize| {
        (!list.is_empty() && (list.len() != count || list.iter().any(|mm| *mm <= 0.0))).then(|| {
            let given: Vec<String> = list.iter().map(|mm| number(*mm, 1)).collect();
            format!("`{key}` of `site` takes {count} lengths, each over 0, and has [{}] mm", given.join(", "))
        })
    };
    let faults = [
        wrong("widths", &widths, 3),
        wrong("ceiling", &ceiling, 2),
        wrong("skirting", &skirting, 2),
        wrong("studs", &studs, 2),
        // Corners may open out as well as close in, so that only their count can be wrong.
        (!corners.is_empty() && corners.len() != 2)
            .then(|| format!("`corners` of `site` takes 2 lengths, and has {}", corners.len())),
    ];
    if let Some(fault) = faults.into_iter().flatten().next() {
        return Err(fault);
    }
    Ok(Truth {
        widths,
        lean: call.options.number("lean").unwrap_or(0.0),
        ceiling: <[f64; 2]>::try_from(ceiling).ok(),
        skirting: <[f64; 2]>::try_from(skirting).ok(),
        studs: <[f64; 2]>::try_from(studs).ok(),
        corners: <[f64; 2]>::try_from(corners).ok(),
    })
}

pub(in crate::script) static OBSTACLE: Word = Word {
    name: "obstacle",
    args: &[value("name", OptionKind::Text)],
    options: &[
        option(
            "x",
            OptionKind::Span,
            REQUIRED,
            "from where to where, from the left end of the wall: `[from, to]`",
        ),
        option("z", OptionKind::Span, REQUIRED, "the same over the floor"),
    ],
    says: "tells of something on the wall of `site` that furniture keeps clear of: a window, a door, a socket",
    rule: "",
    example: "obstacle(\"Window\", #{ x: [900, 2100], z: [850, 2100] });",
};

/// Keeps what is on the wall.
pub(in crate::script) fn obstacle(run: &mut Run, call: &Call) -> Value {
    let span = |key: &str| match call.options.lengths(key) {
        Some([from, to]) if to > from => Some((*from, *to)),
        _ => None,
    };
    let (Some(x), Some(z)) = (span("x"), span("z")) else {
        run.report(
            Problem::error("obstacle-without-size", "`obstacle` does not say where on the wall it is")
                .at(call.origin)
                .help("say both ways: `obstacle(\"Window\", #{ x: [900, 2100], z: [850, 2100] })`"),
        );
        return Value::Nothing;
    };
    let name = call.options.text("name").unwrap_or_default().to_owned();
    run.job.obstacles.push(Obstacle { name, x, z, origin: call.origin });
    Value::Nothing
}

/// What is left on an edge to scribe where nothing is said, mm (common practice, no source).
const SCRIBED: f64 = 12.0;

pub(in crate::script) static SCRIBE: Word = Word {
    name: "scribe",
    args: &[Arg { name: "part", takes: Takes::Part }, value("side", OptionKind::Side)],
    options: &[
        option(
            "allow",
            length_to(100.0),
            &[Usual::Length(SCRIBED)],
            "what is left on it, to be taken off to the line",
        ),
        option(
            "gap",
            OptionKind::Lengths,
            &[Usual::Words("it fills none")],
            "widths of the gap that the part fills, as measured from floor to ceiling",
        ),
    ],
    says: "leaves an edge or end of a part wide, to be scribed to the wall, floor or ceiling on site: it is drawn as it \
           is then, cut wider, and the strip beyond the line is taken off",
    rule: "12 mm is left, or what the wall is out of true and 3 mm more (common practice, no source)",
    example: "scribe(filler, \"left\", #{ allow: 12, gap: [38, 42, 47] });",
};

/// Keeps an edge to be scribed.
pub(in crate::script) fn scribe(run: &mut Run, call: &Call) -> Value {
    let part = call.parts.first().and_then(|parts| parts.first()).copied();
    let side = call.options.sides("side").and_then(|sides| sides.first()).copied();
    if let (Some(part), Some(side)) = (part, side) {
        let told = call.options.number("allow");
        let allow = told.unwrap_or_else(|| near(run.job.unit, SCRIBED));
        let gap = call.options.lengths("gap").map(<[f64]>::to_vec).unwrap_or_default();
        if let Some(wrong) = gap.iter().find(|mm| **mm <= 0.0) {
            let message = format!("a width of `gap` of `scribe` is {} mm", number(*wrong, 1));
            run.report(
                Problem::error("wall-out-of-true", message)
                    .at(call.origin)
                    .help("measure the gap at floor, half way up and ceiling: `gap: [38, 42, 47]`"),
            );
            return Value::Nothing;
        }
        run.job.order.scribed.push(part);
        run.job.scribes.push(Scribe { part, side, allow, told: told.is_some(), gap, origin: call.origin });
    }
    Value::Nothing
}

/// Left on an edge beyond what the wall is out of true, mm (common practice, no source).
const MORE: f64 = 3.0;

/// Where the script does not say what is left to scribe: what is usual, or more where the
/// wall is out of true by more, wherever in the script it is told of.
pub(in crate::script) fn leave_enough(job: &mut Job) {
    let Some(truth) = job.site.as_ref().map(|site| &site.truth) else { return };
    let range = |all: &[f64]| {
        let (low, high) =
            all.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), mm| (l.min(*mm), h.max(*mm)));
        (high - low).max(0.0)
    };
    let (aside, behind, above) =
        (range(&truth.widths), truth.lean.abs(), truth.ceiling.map_or(0.0, |c| range(&c)));
    let step = if job.unit == Unit::Inch { INCH / 8.0 } else { 1.0 };
    for one in job.scribes.iter_mut().filter(|one| !one.told && one.gap.is_empty()) {
        let out = match one.side {
            Side::Left | Side::Right => aside,
            Side::Back => behind,
            Side::Top => above,
            _ => 0.0,
        };
        if out > 0.0 {
            one.allow = one.allow.max(((out + MORE) / step).ceil() * step);
        }
    }
}
