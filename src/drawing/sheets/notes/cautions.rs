//! Cautions: where the work, the material or the piece in use can hurt someone.
//!
//! Each is printed only where the job calls for it, and none is a substitute
//! for the law or for a competent person's judgement; the last one says so.

use crate::cutting::CuttingList;
use crate::drawing::kit::project::bounds;
use crate::drawing::kit::words::{length_text, unmarked};
use crate::drawing::page::look::Look;
use crate::joinery::{CutKind, Opening, WorkedJob, WorkedPart};
use crate::measure::{INCH, Unit};
use crate::model::{Job, PieceId, StockKind};
use crate::solid::Body;
use crate::wording::Words;

/// Under this length, mm, a solid part is not surfaced by itself: 12 in, a
/// common rule of workshops.
pub(in crate::drawing) const SHORT: f64 = 305.0;
/// From this mass, kg, two people lift a part (guideline figure of the British
/// health and safety authority for lifting at knuckle height).
const HEAVY: f64 = 25.0;
/// From this height, mm, furniture that stands free is held to stability tests
/// in the United States (16 CFR 1261: 27 in).
const TALL: f64 = 686.0;
/// Woods whose dust is known to cause asthma, by parts of their names.
const SENSITISING: [&str; 4] = ["redcedar", "red cedar", "iroko", "wenge"];

/// Metals that are inlaid as powder, by parts of their names.
const METALS: [&str; 6] = ["metal", "brass", "bronze", "copper", "alumin", "tin powder"];

/// The cautions of a job, from the saw to the wall.
pub(in crate::drawing) fn cautions(
    job: &Job,
    worked: &WorkedJob,
    list: &CuttingList,
    look: &Look,
) -> Vec<String> {
    let mut message: Vec<String> = Vec::new();
    message.extend(at_machines(job, worked, look));
    message.extend(sensitising(job));
    message.extend(short(job, worked, list, look));
    message.extend(narrow(job, worked, list, look));
    message.extend(bevelled(worked));
    message.extend(heavy(job, worked, list, look.words()));
    if uses(job, worked, |k| matches!(k, StockKind::Glass { .. })) {
        message.push(
            "Glass: edges ground, handled with gloves. In doors, in shelves and tops, and wherever a person can fall \
             against it, use toughened or laminated safety glass as the local code asks."
                .into(),
        );
    }
    if job.stock.iter().any(|stock| stock.name.to_lowercase().contains("mirror")) {
        message.push("Mirror: with a safety backing film, so that it holds together if it breaks.".into());
    }
    message.extend(finishing(job));
    message.extend(lids(job, worked));
    message.extend(tall(job, worked, look));
    message.extend(hung(job, worked, list, look.words()));
    message.extend(high_up(job, worked, look));
    message.extend(on_walls(job, worked));
    message.push(
        "These drawings are a setting-out aid. Local codes come first; let a competent or licensed person judge \
         fixings, glass, electrical work and anything people climb, lean on or walk under."
            .into(),
    );
    message
}

/// Where anything may come onto a wall: a piece that hangs, one that stands before a wall which
/// was measured, or one so high that it is to be fixed to one.
fn on_walls(job: &Job, worked: &WorkedJob) -> Option<String> {
    let fixed = |i: usize| {
        let reach = bounds(worked.parts.iter().filter(|p| p.piece == PieceId(i)));
        let off_floor = |low: f64| job.pieces.get(i).and_then(|piece| piece.floor).unwrap_or(low) > 0.0;
        hangs(job, worked, PieceId(i))
            || reach.is_some_and(|(low, high)| off_floor(low.z) || high.z - low.z >= TALL)
    };
    let fixed = job.site.is_some() || (0..job.pieces.len()).any(fixed);
    fixed.then(|| {
        "Where a piece hangs on a wall or is fixed to one: into studs or solid masonry, never into wall board alone, \
         with anchors rated for piece and load. Look for cables and pipes before drilling."
            .into()
    })
}

/// Of the finish: rags, air, hands.
fn finishing(job: &Job) -> Option<String> {
    Some(if job.finish.as_ref()?.heats() {
        "Rags with oil, or with another finish that hardens in air, can set themselves on fire within hours: spread \
         them out singly to dry, or keep them under water in a closed metal tin. Follow the maker's instructions for \
         the finish."
            .into()
    } else {
        "Follow the maker's instructions for the finish: ventilation, gloves, drying times, disposal.".into()
    })
}

/// Cosine under which a hinge lies level, so that what it holds falls shut.
const LEVEL: f64 = 0.5;

/// Lids that fall shut.
fn lids(job: &Job, worked: &WorkedJob) -> Option<String> {
    let mut names: Vec<&str> = Vec::new();
    for joint in &worked.joints {
        let level = matches!(joint.opens, Some(Opening::Swings { axis, .. }) if axis.z.abs() < LEVEL);
        let part = joint.parts.first().and_then(|part| worked.parts.get(*part));
        let piece = part.and_then(|part| job.pieces.get(part.piece.0)).map(|piece| piece.name.as_str());
        names.extend(piece.filter(|name| level && !names.contains(name)));
    }
    (!names.is_empty()).then(|| {
        format!(
            "{}: a lid that falls can hurt, and a child can be shut in: fit a stay that holds it at any angle, leave a \
             gap for fingers and air, and no catch that locks by itself.",
            names.join(", ")
        )
    })
}

/// Of the machines and the bench: sawing, turning, resin.
fn at_machines(job: &Job, worked: &WorkedJob, look: &Look) -> Vec<String> {
    let mut message: Vec<String> = Vec::new();
    if worked.parts.iter().any(|p| is_wood(job, p.stock.0)) {
        message.push(
            "Work with guard and riving knife set; use a push stick for the last 300 mm (12 in) of a cut. Extract \
             the dust and wear a mask: dust of hardwoods can cause cancer, that of any wood asthma. Guard ears and \
             eyes; clamp what is routed or drilled."
                .replace("300 mm (12 in)", &about(look, 300.0)),
        );
    }
    if worked.parts.iter().any(|p| matches!(p.body, Body::Turning(_))) {
        message.push(
            "At the lathe wear a face shield and no gloves, loose sleeves or rings; turn the work by hand before \
             switching on, and bring the rest up only when it stands still."
                .into(),
        );
    }
    if worked.parts.iter().any(is_metal_filled) {
        message.push(
            "Fine metal powder burns: keep it from sparks and flames, wear a mask, and do not take it up with a \
             vacuum cleaner that may spark."
                .into(),
        );
    }
    if worked.parts.iter().any(|p| !p.fills.is_empty()) {
        message.push(
            "Resin and glue for inlays: gloves and fresh air while it is mixed and sets, and a mask for its dust when \
             it is turned; follow its maker's safety sheet."
                .into(),
        );
    }
    message
}

/// Whether metal powder is laid into a part.
pub(in crate::drawing) fn is_metal_filled(part: &WorkedPart) -> bool {
    part.fills.iter().any(|fill| METALS.iter().any(|name| fill.what.to_lowercase().contains(name)))
}

/// A length of a rule of thumb in the unit of the set, as round in inches as in
/// millimetres: `300 mm`, `12″`.
fn about(look: &Look, mm: f64) -> String {
    let round = match look.unit {
        Unit::Mm => mm,
        Unit::Inch => (mm / INCH).round() * INCH,
    };
    unmarked(&look.style().text(round))
}

/// Whether a stock is worked as wood.
fn is_wood(job: &Job, stock: usize) -> bool {
    let kind = job.stock.get(stock).map(|s| &s.kind);
    matches!(kind, Some(StockKind::Sheet { .. } | StockKind::Board { .. } | StockKind::Blank { .. }))
}

/// Whether any part is made of such a stock.
fn uses(job: &Job, worked: &WorkedJob, kind: impl Fn(&StockKind) -> bool) -> bool {
    worked.parts.iter().filter_map(|p| job.stock.get(p.stock.0)).any(|s| kind(&s.kind))
}

/// Woods that make people allergic.
fn sensitising(job: &Job) -> Option<String> {
    let mut names: Vec<&str> = Vec::new();
    for stock in &job.stock {
        let species = match &stock.kind {
            StockKind::Board { species, .. } | StockKind::Blank { species, .. } => {
                species.as_deref().unwrap_or("")
            }
            StockKind::Sheet { .. } | StockKind::Glass { .. } | StockKind::Bought => "",
        };
        let text = format!("{} {species}", stock.name).to_lowercase();
        if SENSITISING.iter().any(|wood| text.contains(wood)) && !names.contains(&stock.name.as_str()) {
            names.push(&stock.name);
        }
    }
    let woods = names.join(", ");
    (!names.is_empty()).then(|| {
        format!("{woods}: the dust sensitises; who has once reacted reacts to traces. Keep it out of the air and off the skin.")
    })
}

/// Solid parts too short to be surfaced safely.
fn short(job: &Job, worked: &WorkedJob, list: &CuttingList, look: &Look) -> Option<String> {
    let solid = |which: &[usize]| {
        let stock = which.first().and_then(|p| worked.parts.get(*p)).and_then(|p| job.stock.get(p.stock.0));
        matches!(stock.map(|s| &s.kind), Some(StockKind::Board { .. }))
    };
    let rows = list.parts.iter().chain(&list.lippings);
    let marks: Vec<&str> =
        rows.filter(|r| r.length < SHORT && solid(&r.which)).map(|r| r.mark.as_str()).collect();
    let (part, is) = if marks.len() == 1 { ("Part", "is") } else { ("Parts", "are") };
    (!marks.is_empty()).then(|| {
        format!(
            "{part} {} {is} shorter than {}: surface and plane them as part of a longer piece, then cut to length.",
            marks.join(", "),
            about(look, SHORT.min(300.0))
        )
    })
}

/// Narrower than this, mm, a strip is sawn with a push block: the hand would pass too near
/// the blade (common practice, no source).
pub(in crate::drawing) const NARROW: f64 = 40.0;

/// Solid parts so narrow that the hand comes near the blade.
fn narrow(job: &Job, worked: &WorkedJob, list: &CuttingList, look: &Look) -> Option<String> {
    let solid = |which: &[usize]| {
        let stock = which.first().and_then(|p| worked.parts.get(*p)).and_then(|p| job.stock.get(p.stock.0));
        matches!(stock.map(|s| &s.kind), Some(StockKind::Board { .. }))
    };
    let rows = list.parts.iter().chain(&list.lippings);
    let marks: Vec<&str> =
        rows.filter(|r| r.width < NARROW && solid(&r.which)).map(|r| r.mark.as_str()).collect();
    let (part, is) = if marks.len() == 1 { ("Part", "is") } else { ("Parts", "are") };
    (!marks.is_empty()).then(|| {
        format!(
            "{part} {} {is} narrower than {}: rip from a wide board with a push block over the fence, and plane in a \
             carrier, never freehand.",
            marks.join(", "),
            about(look, NARROW)
        )
    })
}

/// Cuts with the blade tilted.
fn bevelled(worked: &WorkedJob) -> Option<String> {
    let tilted = |cut: &crate::joinery::Cut| matches!(cut.kind, CutKind::Bevel | CutKind::Mitre);
    worked.parts.iter().any(|part| part.cuts.iter().any(tilted)).then(|| {
        "Bevels and mitres: tilt the blade away from the fence, so that the offcut lies free and is not thrown; stop \
         the saw before it is taken away, and hold narrow work in a jig."
            .into()
    })
}

/// Over this height of a piece over the floor nobody works at it standing, mm (common
/// practice, no source).
const OVERHEAD: f64 = 1800.0;

/// Pieces that are fixed or hung higher than one reaches from the floor.
fn high_up(job: &Job, worked: &WorkedJob, look: &Look) -> Option<String> {
    let top = |(i, piece): (usize, &crate::model::Piece)| {
        let (low, high) = bounds(worked.parts.iter().filter(|p| p.piece == PieceId(i)))?;
        let floor = piece.floor.unwrap_or(low.z);
        let top = floor + high.z - low.z;
        (floor > 0.0 && top > OVERHEAD).then(|| format!("{} ({} high)", piece.name, length_text(look, top)))
    };
    let names: Vec<String> = job.pieces.iter().enumerate().filter_map(top).collect();
    (!names.is_empty()).then(|| {
        format!(
            "{}: work from steps that stand firm, never from a stool or a chair; someone else hands up what is heavy.",
            names.join(", ")
        )
    })
}

/// What one person should not lift: parts, and whole pieces.
fn heavy(job: &Job, worked: &WorkedJob, list: &CuttingList, words: Words) -> Option<String> {
    let mut marks: Vec<String> = list
        .parts
        .iter()
        .filter_map(|r| r.mass.filter(|kg| *kg > HEAVY).map(|kg| format!("{} ({})", r.mark, words.mass(kg))))
        .collect();
    for (i, piece) in job.pieces.iter().enumerate() {
        let kilos = mass_of(worked, list, PieceId(i)).filter(|kilos| *kilos > HEAVY);
        marks.extend(kilos.map(|kilos| format!("{} ({})", piece.name, words.mass(kilos))));
    }
    (!marks.is_empty()).then(|| format!("Heavy: {}. Two people lift.", marks.join(", ")))
}

/// What a piece weighs, kg, the half of a cleat that stays on the wall left out; `None` where
/// a stock does not say what it weighs.
fn mass_of(worked: &WorkedJob, list: &CuttingList, piece: PieceId) -> Option<f64> {
    let on_wall = |part: &usize| {
        let walls = worked.joints.iter().filter(|j| j.traits.hooks_on && !j.ways_in.is_empty());
        walls.filter_map(|joint| joint.parts.first()).any(|wall| wall == part)
    };
    let rows = list.parts.iter().chain(&list.lippings);
    let own = |r: &crate::cutting::CutRow| {
        let here = |p: &&usize| worked.parts.get(**p).is_some_and(|part| part.piece == piece) && !on_wall(p);
        r.which.iter().filter(here).count()
    };
    rows.map(|r| (own(r), r.mass))
        .filter(|(n, _)| *n > 0)
        .try_fold(0.0, |sum, (n, kg)| Some(sum + kg? * f64::from(u32::try_from(n).ok()?)))
}

/// Whether a piece hangs on a wall, as its script says or by what hangs it.
fn hangs(job: &Job, worked: &WorkedJob, piece: PieceId) -> bool {
    let here = |p: &usize| worked.parts.get(*p).is_some_and(|p| p.piece == piece);
    let said = job.pieces.get(piece.0).is_some_and(|piece| piece.hung == Some(true));
    said || worked.joints.iter().any(|j| j.traits.hangs_on_wall && j.parts.iter().any(here))
}

/// Pieces that hang on a wall, with what they weigh empty.
fn hung(job: &Job, worked: &WorkedJob, list: &CuttingList, words: Words) -> Option<String> {
    let mass = |piece: PieceId| mass_of(worked, list, piece);
    let pieces = job.pieces.iter().enumerate().filter(|(i, _)| hangs(job, worked, PieceId(*i)));
    let names: Vec<String> = pieces
        .map(|(i, piece)| match mass(PieceId(i)) {
            Some(kg) => format!("{} ({} empty)", piece.name, words.mass(kg)),
            None => piece.name.clone(),
        })
        .collect();
    (!names.is_empty()).then(|| {
        format!(
            "{}: hangs on the wall. Wall and fixings must carry it with all that is put in or on it, each fixing in a \
             stud or in solid masonry; try them by hand before it is loaded.",
            names.join(", ")
        )
    })
}

/// Pieces that stand tall enough to tip.
fn tall(job: &Job, worked: &WorkedJob, look: &Look) -> Option<String> {
    let names: Vec<String> = job
        .pieces
        .iter()
        .enumerate()
        .filter_map(|(i, piece)| {
            let (low, high) = bounds(worked.parts.iter().filter(|p| p.piece == PieceId(i)))?;
            let size = high - low;
            let tips = size.z >= TALL && size.z > 1.5 * size.x.min(size.y);
            tips.then(|| format!("{} ({} high)", piece.name, length_text(look, size.z)))
        })
        .collect();
    (!names.is_empty()).then(|| {
        format!(
            "{}: a tall piece can tip when it is climbed, or when drawers stand open. If it stands free, fix it to the \
             wall.",
            names.join(", ")
        )
    })
}
