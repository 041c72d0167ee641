//! The setting out of a mortise and tenon: where it stands, how large it is, and
//! what of that the parts cannot take.

use crate::geometry::{DVec3, Interval};
use crate::joinery::bench::blank::Blank;
use crate::joinery::bench::meet::{Meeting, Pair, Rect, TOUCH, shared, side_of};
use crate::joinery::bench::pocket::{WALL, third};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::{MOSTLY, NEARER, NOISE};
use crate::joinery::tenons::chisels::chisel;
use crate::measure::{down, near};
use crate::model::{StockKind, Work};
use crate::problem::Problem;

/// Room at the bottom of a mortise for glue, mm (common practice, no source).
pub(in crate::joinery) const SPARE: f64 = 2.0;
/// Narrowest shoulder that can be sawn and planed, mm (common practice, no
/// source).
const LEAST_SHOULDER: f64 = 2.0;
/// Shoulder at the edges where nothing is said, mm.
pub(in crate::joinery) const SHOULDER: f64 = 6.0;
/// The same as a part of a narrow rail: one in so many of its width.
pub(in crate::joinery) const SHOULDER_SHARE: f64 = 6.0;
/// How much of the thinner part twin tenons are: one in so many each, with as much
/// between them.
const TWIN_SHARE: f64 = 5.0;
/// How many times its thickness a mortise ends from the end of its member, where that does
/// not split out.
const FROM_END: f64 = 1.5;
/// Cosine to the grain from which a tenon holds: further off it is more across the grain than
/// along it.
const ALONG: f64 = NEARER;
/// A contact so many times longer across the member's grain than along it takes
/// its mortise across.
pub(in crate::joinery) const LONG: f64 = 4.0;

/// A tenon where it stands: places in mm along three unit directions of the
/// piece.
#[derive(Clone, Debug)]
pub(in crate::joinery) struct Tenon {
    /// Out of the member, towards the rail.
    pub(in crate::joinery) out: DVec3,
    /// Along the mortise.
    pub(in crate::joinery) along: DVec3,
    /// Across it, through the tenon's thickness.
    pub(in crate::joinery) across: DVec3,
    /// The member's face, along `out`.
    pub(in crate::joinery) face: f64,
    /// Space left between the parts as placed, under what counts as touching.
    pub(in crate::joinery) gap: f64,
    /// Where it lies along `along`.
    pub(in crate::joinery) wide: Interval,
    /// Where it lies along `across`.
    pub(in crate::joinery) thick: Interval,
    /// Length of the tenon from its shoulders.
    pub(in crate::joinery) depth: f64,
    /// Room at the bottom of the mortise for glue.
    pub(in crate::joinery) spare: f64,
    /// It goes right through.
    pub(in crate::joinery) through: bool,
    /// The haunch, if there is one.
    pub(in crate::joinery) haunch: Option<Haunch>,
    /// The space between twin tenons, along `across`.
    pub(in crate::joinery) between: Option<Interval>,
}

/// What is left of the tenon beside it.
#[derive(Clone, Copy, Debug)]
pub(in crate::joinery) struct Haunch {
    /// It stands at the high end of `wide`, else at the low end.
    pub(in crate::joinery) high: bool,
    /// Where it lies along the mortise.
    pub(in crate::joinery) wide: Interval,
    /// How far it is let in.
    pub(in crate::joinery) depth: f64,
}

/// The two parts and where they meet.
struct Place<'a> {
    bench: &'a Bench<'a>,
    work: &'a Work,
    rail: usize,
    member: usize,
    m: Meeting,
    /// Along the mortise and across it.
    along: DVec3,
    across: DVec3,
    /// What both share on the face along the mortise.
    wide: Interval,
    /// What they share across it.
    thick: Interval,
}

impl Place<'_> {
    /// Room at the bottom of a mortise for glue, by the rule of the job's unit.
    fn spare(&self) -> f64 {
        near(self.bench.job.unit, SPARE)
    }

    /// A size where none is said, as the rule of the job's unit shows it and no more.
    fn down(&self, size: f64) -> f64 {
        down(self.bench.job.unit, size)
    }
}

/// The space between twin tenons that fill `thick` together.
fn twin_space(work: &Work, thick: Interval) -> Option<Interval> {
    // Two tenons and what is between them are alike, so that one chisel cuts all.
    let third = third(thick.length());
    work.options.yes("twin").then_some(Interval { from: thick.from + third, to: thick.to - third })
}

/// Sets a tenon out and checks it; with warnings.
pub(in crate::joinery) fn set_out(
    bench: &Bench<'_>,
    work: &Work,
    (rail, member): (usize, usize),
) -> Result<(Tenon, Vec<Problem>), Problem> {
    let place = place(bench, work, (rail, member))?;
    // Depth before section: a haunch asks how long the tenon is.
    let (depth, through) = depth(&place)?;
    let Section { wide, thick, high } = section(&place)?;
    let haunch = high.map(|high| haunch(&place, high, (wide, thick), depth)).transpose()?;
    let Meeting { normal: out, face, gap } = place.m;
    let (along, across) = (place.along, place.across);
    let between = twin_space(work, thick);
    let gap = gap.max(0.0);
    let tenon = Tenon {
        out,
        along,
        across,
        face,
        gap,
        wide,
        thick,
        depth,
        spare: place.spare(),
        through,
        haunch,
        between,
    };
    walls(&place, &tenon)?;
    let warnings = grain(bench, work, Pair { a: rail, b: member }, out)
        .into_iter()
        .chain(short_grain(&place, &tenon))
        .collect();
    Ok((tenon, warnings))
}

/// Where the parts meet, squarely and face to face.
fn place<'a>(
    bench: &'a Bench<'a>,
    work: &'a Work,
    (rail, member): (usize, usize),
) -> Result<Place<'a>, Problem> {
    let m = bench.let_in(work, rail, member)?;
    if m.gap < -TOUCH {
        return Err(bench.crossing(work, rail, member, m));
    }
    let (a, b) = (&bench.placed[rail], &bench.placed[member]);
    let Some(rect) = shared(a, b, m.normal, m.face) else {
        bench.contact(work, rail, member, m)?;
        return Err(bench.apart(work, rail, member, m));
    };
    let (along, across) = directions(bench, member, b, &rect);
    let range = |way: DVec3| a.span(way).common(b.span(way));
    let (wide, thick) = (range(along), range(across));
    Ok(Place { bench, work, rail, member, m, along, across, wide, thick })
}

/// Along the mortise and across it: along the grain of a solid member, unless
/// the parts meet on far more across it; else along the longer side.
fn directions(bench: &Bench<'_>, member: usize, blank: &Blank, rect: &Rect) -> (DVec3, DVec3) {
    let grain = blank.axis(0);
    let solid = matches!(kind(bench, member), Some(StockKind::Board { .. }));
    let across_grain = rect.across.dot(grain).abs() > MOSTLY;
    if solid && across_grain && rect.length < LONG * rect.width {
        (rect.across, rect.along)
    } else {
        (rect.along, rect.across)
    }
}

/// What a part is cut from.
fn kind<'a>(bench: &'a Bench<'_>, part: usize) -> Option<&'a StockKind> {
    let part = bench.job.parts.get(part)?;
    bench.job.stock.get(part.stock.0).map(|s| &s.kind)
}

/// Length of the tenon, and whether it goes through.
fn depth(place: &Place<'_>) -> Result<(f64, bool), Problem> {
    let Place { bench, work, rail, member, m, .. } = place;
    let thick = m.face - bench.placed[*member].reach(m.normal).0;
    let asked = work.options.number("depth");
    if work.options.yes("through") {
        if asked.is_some() {
            let message = "a through tenon is as long as its mortise, but `depth` is given too".to_owned();
            return Err(bench
                .error(work, "contradiction", message, &[*rail, *member])
                .help("leave out `depth` or `through`"));
        }
        return Ok((thick, true));
    }
    // A wall behind the mortise, and room in front of it for the glue that the tenon
    // drives before it.
    let spare = place.spare();
    let most = thick - WALL - spare;
    // By the rule: the stop of a mortiser is not set finer, and the wall gains by it.
    let usual = || third(2.0 * thick).min(most).min(short_of_others(place, third(2.0 * thick)));
    let depth = asked.unwrap_or_else(|| place.down(usual()));
    if depth <= most + NOISE && depth >= 1.0 {
        return Ok((depth, false));
    }
    if most < 1.0 {
        let message = format!(
            "`{}` is {} thick: no tenon can stop in it and leave {} of wood behind",
            bench.name(*member),
            bench.mm(thick),
            bench.mm(WALL)
        );
        return Err(bench
            .error(work, "breaks-through", message, &[*rail, *member])
            .help("let it through with `through: true`"));
    }
    let message = format!(
        "a tenon {} long needs {} of `{}`, with {} of room and {} of wood behind it, but that is {} thick",
        bench.mm(depth),
        bench.mm(depth + spare + WALL),
        bench.name(*member),
        bench.mm(spare),
        bench.mm(WALL),
        bench.mm(thick)
    );
    let help = format!("make `depth` {} or less, or let it through with `through: true`", bench.mm(most));
    Err(bench.error(work, "breaks-through", message, &[*rail, *member]).help(help))
}

/// Wood left between a mortise and the cheek of another that it stops short of, mm (common
/// practice, no source).
pub(super) const BETWEEN: f64 = 1.0;

/// The longest tenon that stops short of those let into the member from the side, where two
/// rails meet in a leg: as long as one of its own would be, they would run into one another.
fn short_of_others(place: &Place<'_>, own: f64) -> f64 {
    let Place { bench, work, member, m, .. } = place;
    let Ok(mine) = section(place) else { return f64::INFINITY };
    let mut most = f64::INFINITY;
    for other in &bench.job.works {
        let into = other.parts.get(1).is_some_and(|parts| parts.iter().any(|part| part.0 == *member));
        if !into
            || other.word.name != work.word.name
            || other.origin == work.origin && other.parts == work.parts
        {
            continue;
        }
        let Some(rail) = other.parts.first().and_then(|parts| parts.first()) else { continue };
        let Ok(theirs) = self::place(bench, other, (rail.0, *member)) else { continue };
        let Ok(cut) = section(&theirs) else { continue };
        // Only such as stand square to it and have their cheeks across its way meet it.
        if theirs.across.dot(m.normal).abs() < MOSTLY || theirs.along.dot(place.along).abs() < MOSTLY {
            continue;
        }
        let cheeks = if theirs.across.dot(m.normal) > 0.0 { cut.thick } else { cut.thick.turned() };
        let wide = if theirs.along.dot(place.along) > 0.0 { cut.wide } else { cut.wide.turned() };
        let deep = bench.placed[*member].span(theirs.m.normal).length();
        let reach = other.options.number("depth").unwrap_or(third(2.0 * deep)) + theirs.spare();
        let whole = other.options.yes("through");
        let in_from = if theirs.m.normal.dot(place.across) > 0.0 {
            Interval { from: theirs.m.face - reach, to: theirs.m.face }
        } else {
            Interval { from: -theirs.m.face, to: reach - theirs.m.face }
        };
        let apart = wide.common(mine.wide).length() < TOUCH
            || !whole && in_from.common(mine.thick).length() < TOUCH
            || m.face - own - place.spare() > cheeks.to;
        if !apart {
            most = most.min(m.face - cheeks.to - place.spare() - BETWEEN);
        }
    }
    // Where nothing is left the cuts are said to run into one another.
    if most < 1.0 { f64::INFINITY } else { most }
}

/// Where a tenon lies along and across the mortise, and on which end of its
/// width the haunch is, if there is one.
struct Section {
    wide: Interval,
    thick: Interval,
    high: Option<bool>,
}

/// Width and thickness of the tenon and where they lie.
fn section(place: &Place<'_>) -> Result<Section, Problem> {
    let Place { bench, work, rail, member, .. } = place;
    let high = haunch_side(place)?;
    let thick = |part: usize| bench.placed[part].span(place.across).length();
    let thinner = thick(*rail).min(thick(*member));
    // Twin tenons and the space between them are each as thick.
    let twin = work.options.yes("twin");
    let usual = if twin { thinner / TWIN_SHARE } else { third(thinner) };
    let one = work.options.number("thickness").unwrap_or_else(|| chisel(bench.job.unit, usual));
    let thick = if twin { one + 2.0 * one } else { one };
    let mut wide = edges(place, high)?;
    let middle = place.thick.middle();
    let mut cheeks = Interval { from: middle - 0.5 * thick, to: middle + 0.5 * thick };
    if let Some(offset) = work.options.number("offset").filter(|by| *by > 0.0) {
        let toward = bench.toward(work, offset, &[*rail, *member])?;
        let rect = Rect {
            centre: DVec3::ZERO,
            along: place.along,
            across: place.across,
            // Only its ways are asked for.
            length: 0.0,
            width: 0.0,
        };
        let (lengthwise, sign) = bench.on_the_face(work, &rect, toward, (*rail, *member))?;
        let by = sign * offset;
        if lengthwise {
            wide = wide.moved(by);
        } else {
            cheeks = cheeks.moved(by);
        }
    }
    inside(place, cheeks, place.across, "thick", "thickness")?;
    inside(place, wide, place.along, "wide", "width")?;
    Ok(Section { wide, thick: cheeks, high })
}

/// Where a tenon lies along the mortise, before any offset.
fn edges(place: &Place<'_>, high: Option<bool>) -> Result<Interval, Problem> {
    let Place { bench, work, rail, member, wide, .. } = place;
    let room = wide.length();
    let (width, shoulder) = (work.options.number("width"), work.options.number("shoulder"));
    if width.is_some() && shoulder.is_some() {
        let message = "`width` and `shoulder` both say how wide the tenon is".to_owned();
        return Err(bench
            .error(work, "contradiction", message, &[*rail, *member])
            .help("leave out one of them"));
    }
    let usual = near(bench.job.unit, SHOULDER);
    let shoulder = shoulder.unwrap_or_else(|| place.down(usual.min(room / SHOULDER_SHARE)));
    let cut = |end: bool| {
        if high == Some(end) {
            work.options.number("haunch_width").unwrap_or_else(|| place.down(third(room)))
        } else {
            shoulder
        }
    };
    // Shoulders at both ends unless the width is said, then in the middle.
    let Some(width) = width else {
        return Ok(Interval { from: wide.from + cut(false), to: wide.to - cut(true) });
    };
    let from = match high {
        // Beside a haunch the tenon begins where that ends.
        Some(true) => wide.to - cut(true) - width,
        Some(false) => wide.from + cut(false),
        None => wide.middle() - 0.5 * width,
    };
    Ok(Interval { from, to: from + width })
}

/// The end of the tenon's width the haunch stands at.
fn haunch_side(place: &Place<'_>) -> Result<Option<bool>, Problem> {
    let Place { bench, work, rail, member, .. } = place;
    let Some(side) = work.options.sides("haunch").and_then(|s| s.first()) else {
        let stray = ["haunch_width", "haunch_depth"].into_iter().find(|k| work.options.number(k).is_some());
        let Some(key) = stray else { return Ok(None) };
        let message = format!("`{key}` is given, but there is no haunch");
        return Err(bench
            .error(work, "missing-option", message, &[*rail, *member])
            .help("add `haunch` with the side of the piece it is on"));
    };
    let lean = side.normal().dot(place.along);
    if lean.abs() > NEARER {
        return Ok(Some(lean > 0.0));
    }
    let message = format!(
        "a haunch at the {} would not lie in line with the mortise in `{}`, which runs from {} to {}",
        side.name(),
        bench.name(*member),
        side_of(-place.along).name(),
        side_of(place.along).name()
    );
    Err(bench
        .error(work, "no-such-edge", message, &[*rail, *member])
        .help("name one of the two sides the mortise runs to"))
}

/// The haunch at one end of the tenon.
fn haunch(
    place: &Place<'_>,
    high: bool,
    (tenon, thick): (Interval, Interval),
    depth: f64,
) -> Result<Haunch, Problem> {
    let Place { bench, work, rail, member, .. } = place;
    let one = if work.options.yes("twin") { third(thick.length()) } else { thick.length() };
    // A square, as deep as the tenon is thick, but no more than half as long as that.
    let deep = work.options.number("haunch_depth").unwrap_or_else(|| place.down(one.min(0.5 * depth)));
    let wide = if high {
        Interval { from: tenon.to, to: place.wide.to }
    } else {
        Interval { from: place.wide.from, to: tenon.from }
    };
    if deep < depth - place.spare() && wide.length() > LEAST_SHOULDER {
        return Ok(Haunch { high, wide, depth: deep });
    }
    let message = if deep >= depth - place.spare() {
        format!("a haunch {} deep is as long as its tenon, {}", bench.mm(deep), bench.mm(depth))
    } else {
        format!("the tenon leaves {} for a haunch", bench.mm(wide.length().max(0.0)))
    };
    Err(bench
        .error(work, "does-not-fit", message, &[*rail, *member])
        .help("make `haunch_depth` less and `haunch_width` more"))
}

/// Refuses a tenon that reaches out of its rail or leaves it a sliver of a
/// shoulder.
fn inside(place: &Place<'_>, tenon: Interval, way: DVec3, what: &str, key: &str) -> Result<(), Problem> {
    let Place { bench, work, rail, member, .. } = place;
    let whole = bench.placed[*rail].span(way);
    let (low, high) = (tenon.from - whole.from, whole.to - tenon.to);
    let sliver = |s: f64| s > TOUCH && s < LEAST_SHOULDER - NOISE;
    let size = tenon.length();
    let least = low.min(high);
    if size >= 1.0 && least > -TOUCH && !sliver(low) && !sliver(high) {
        return Ok(());
    }
    let (name, room) = (bench.name(*rail), bench.mm(whole.length()));
    let message = if size < 1.0 {
        format!("nothing is left of the tenon on `{name}`, which is {room} {what}")
    } else if least <= -TOUCH {
        format!(
            "a tenon {} {what} reaches {} out of `{name}`, which is {room} {what} there",
            bench.mm(size),
            bench.mm(-least)
        )
    } else {
        format!(
            "a tenon {} {what} leaves a shoulder of {} on `{name}`, which is {room} {what}: too little to saw",
            bench.mm(size),
            bench.mm(if sliver(low) { low } else { high })
        )
    };
    let help = if what == "thick" {
        let third = chisel(bench.job.unit, third(whole.length()));
        format!(
            "a third of it is {}; set `{key}` and `offset` so that either shoulder has {} or none",
            bench.mm(third),
            bench.mm(LEAST_SHOULDER)
        )
    } else {
        format!(
            "set `{key}`, `shoulder` or `offset` so that either shoulder has {} or none",
            bench.mm(LEAST_SHOULDER)
        )
    };
    let code = if what == "thick" { "tenon-too-thick" } else { "tenon-too-wide" };
    Err(bench.error(work, code, message, &[*rail, *member]).help(help))
}

/// Refuses a mortise that would leave its cheeks or ends too thin.
fn walls(place: &Place<'_>, tenon: &Tenon) -> Result<(), Problem> {
    let Place { bench, work, rail, member, .. } = place;
    let blank = &bench.placed[*member];
    let (across, along) = (blank.span(place.across), blank.span(place.along));
    let sides = [
        (tenon.thick.from - across.from, -place.across, "beside"),
        (across.to - tenon.thick.to, place.across, "beside"),
        (tenon.wide.from - along.from, -place.along, "beyond"),
        (along.to - tenon.wide.to, place.along, "beyond"),
    ];
    let thin = sides.into_iter().filter(|(left, ..)| *left < WALL - NOISE).min_by(|a, b| a.0.total_cmp(&b.0));
    let Some((left, way, word)) = thin else { return Ok(()) };
    let side = side_of(way).name();
    let name = bench.name(*member);
    let message = if left < TOUCH {
        format!("the mortise comes out of the {side} of `{name}`")
    } else {
        format!(
            "the mortise leaves {} of `{name}` {word} it at the {side}; it needs {}",
            bench.beside(left, WALL),
            bench.beside(WALL, left)
        )
    };
    let help = if word == "beside" {
        "make `thickness` less, or move the tenon away with `offset` and `toward`".to_owned()
    } else {
        format!("cut the tenon back with `haunch: \"{side}\"` or with more `shoulder`")
    };
    Err(bench.error(work, "breaks-through", message, &[*rail, *member]).help(help))
}

/// A tenon across the grain of its rail breaks off; a mortise in end grain holds
/// no glue.
pub(in crate::joinery) fn grain(
    bench: &Bench<'_>,
    work: &Work,
    Pair { a: rail, b: member }: Pair,
    out: DVec3,
) -> Option<Problem> {
    let runs = |part: usize| {
        let solid = matches!(kind(bench, part), Some(StockKind::Board { .. }));
        solid.then(|| bench.placed[part].axis(0).dot(out).abs())
    };
    // Checked before the mortise: a tenon that breaks off is the worse of the two.
    if runs(rail).is_some_and(|along| along <= ALONG) {
        let message = format!("the tenon runs across the grain of `{}` and may break off", bench.name(rail));
        return Some(
            bench
                .warning(work, "tenon-across-grain", message, &[rail])
                .help("turn the grain, or use `loose_tenons` or `dowels`"),
        );
    }
    if runs(member).is_some_and(|along| along > MOSTLY) {
        let message = format!(
            "the mortise is cut in the end grain of `{}`, where glue holds little",
            bench.name(member)
        );
        return Some(
            bench
                .warning(work, "mortise-in-end-grain", message, &[member])
                .help("name the part that ends against the other first"),
        );
    }
    None
}

/// A mortise close to the end of its member may split out.
fn short_grain(place: &Place<'_>, tenon: &Tenon) -> Option<Problem> {
    let Place { bench, work, member, .. } = place;
    let blank = &bench.placed[*member];
    if blank.axis(0).dot(place.along).abs() < MOSTLY
        || !matches!(kind(bench, *member), Some(StockKind::Board { .. }))
    {
        return None;
    }
    let ends = blank.span(place.along);
    let left = [(tenon.wide.from - ends.from, -place.along), (ends.to - tenon.wide.to, place.along)];
    let (left, way) = left.into_iter().min_by(|a, b| a.0.total_cmp(&b.0))?;
    let least = FROM_END * tenon.one_thick();
    if left >= least - NOISE {
        return None;
    }
    let side = side_of(way).name();
    let message = format!(
        "the mortise ends {} from the {side} end of `{}`, which may split out there; {} would hold",
        bench.mm(left),
        bench.name(*member),
        bench.mm(least)
    );
    Some(bench.warning(work, "short-grain", message, &[*member]).help(wood_at_the_end(
        place,
        side,
        least - left,
    )))
}

/// What leaves a mortise `short` mm more wood at the end of its member, where the rail is wide
/// enough for it.
fn wood_at_the_end(place: &Place<'_>, side: &str, short: f64) -> String {
    let Place { bench, work, .. } = place;
    let room = place.wide.length();
    let cut = |given: Option<f64>, usual: f64| given.unwrap_or_else(|| place.down(usual));
    let shoulder =
        cut(work.options.number("shoulder"), near(bench.job.unit, SHOULDER).min(room / SHOULDER_SHARE));
    let usual = place.down(third(room));
    let haunched = work.options.sides("haunch").is_some_and(|sides| !sides.is_empty());
    let now = if haunched { cut(work.options.number("haunch_width"), third(room)) } else { shoulder };
    // To whole figures of a rule, and not less than is short.
    let step = near(bench.job.unit, 1.0).max(NOISE);
    let needed = ((now + short - NOISE) / step).ceil() * step;
    if room - needed - shoulder < room * LEAST_OF_RAIL {
        return format!(
            "a rail of {} is too narrow for a haunch there: hold it by `dowels`, or leave a horn to saw off after the glue-up",
            bench.mm(room)
        );
    }
    let more = if haunched || usual < needed {
        format!(", haunch_width: {}", bench.in_script(needed))
    } else {
        String::new()
    };
    let or_shoulder = if haunched {
        String::new()
    } else {
        format!(", give it a `shoulder` of {}", bench.in_script(needed))
    };
    format!(
        "cut the tenon back with `haunch: \"{side}\"{more}`{or_shoulder}, or leave a horn to saw off after the glue-up"
    )
}

/// As much of a rail's width its tenon keeps beside a haunch (common practice, no source).
const LEAST_OF_RAIL: f64 = 0.4;
