//! Cuts that lean, dovetails and fingers: what the saw or gauge is set to by the printed
//! settings, held against the surfaces of the model, whose angles are reckoned here anew.

#![allow(clippy::disallowed_methods, reason = "a reader that reckons by itself; nothing it finds is written")]

use rodwright::geometry::DVec3;
use rodwright::joinery::{Cut, PartSource, WorkedJob, WorkedPart};
use rodwright::solid::{Body, Prism};
use serde_json::Value;

use super::papers::{Papers, SETTINGS, drawn, items, number, text};

/// Angles nearer than this are one, degrees; lengths, mm.
const ANGLE: f64 = 0.06;
const LENGTH: f64 = 0.11;

/// Settings that are judged here.
pub(crate) const KINDS: [&str; 9] = [
    "gauge",
    "tilt",
    "stood",
    "compound",
    "leaning-shoulder",
    "leaning-channel",
    "leaning-mortise",
    "flared",
    "finger",
];

/// How many settings were held against the model, and everything that is wrong.
pub(crate) fn faults(papers: &Papers, worked: &WorkedJob) -> (usize, Vec<String>) {
    let works = papers.list(SETTINGS, "works");
    let (mut judged, mut faults) = (0, Vec::new());
    for set_up in papers.list(SETTINGS, "set_ups") {
        let what = text(&set_up["setting"]["what"]);
        if !KINDS.contains(&what.as_str()) {
            continue;
        }
        for turn in items(&set_up["turns"]) {
            for one in items(&turn["uses"]) {
                let told = one["work"].as_u64().and_then(|at| works.get(at as usize));
                let mark = told.map(|told| drawn(&text(&told["mark"]))).unwrap_or_default();
                let Some(part) = worked.parts.iter().find(|part| part.mark() == mark && bare(worked, part))
                else {
                    continue;
                };
                judged += 1;
                if !part.cuts.iter().any(|cut| makes(cut, part, &set_up["setting"], &turn["against"])) {
                    faults.push(format!("{mark} {}: nothing is so: {}", part.name, set_up["setting"]));
                }
            }
        }
    }
    (judged, faults)
}

/// Whether a part is flat and has no lippings, so that it lies as the model has it.
fn bare(worked: &WorkedJob, part: &WorkedPart) -> bool {
    let lipped = |other: &WorkedPart| match other.source {
        PartSource::Lipping { of, .. } => worked.parts[of].mark() == part.mark(),
        PartSource::Part(_) => false,
    };
    let own = matches!(part.source, PartSource::Part(_)) && matches!(part.body, Body::Prism(_));
    own && !worked.parts.iter().any(lipped)
}

/// Flat sides of a cutter: a point of each and its normal.
fn flats(prism: &Prism) -> Vec<(DVec3, DVec3)> {
    let mut all: Vec<(DVec3, DVec3)> =
        [prism.from, prism.to].map(|z| (prism.at.point(DVec3::Z * z), prism.at.z)).to_vec();
    for ring in &prism.outline.rings {
        for (a, b) in ring.points.iter().zip(ring.points.iter().cycle().skip(1)) {
            let out = DVec3::new(b.y - a.y, a.x - b.x, 0.0).normalize_or_zero();
            all.push((prism.at.point(a.extend(prism.from)), prism.at.dir(out)));
        }
    }
    all
}

fn axis(name: &str) -> Option<usize> {
    Some(match name {
        "near-end" | "far-end" => 0,
        "edge" | "far-edge" => 1,
        "marked" | "back" => 2,
        _ => return None,
    })
}

fn near(told: &Value, angle: f64) -> bool {
    (number(told) - angle).abs() < ANGLE
}

fn same(told: &Value, length: f64) -> bool {
    (number(told) - length).abs() < LENGTH
}

/// Mitre gauge off square and blade off upright that saw a plane across a part lying with
/// its `up` axis upright.
fn saw(normal: DVec3, up: usize) -> (f64, f64) {
    let side = 3 - up;
    let gauge = normal[side].abs().atan2(normal.x.abs()).to_degrees();
    (gauge, normal[up].abs().atan2(normal.x.hypot(normal[side])).to_degrees())
}

/// Whether a cut of the model is what a setting makes.
fn makes(cut: &Cut, part: &WorkedPart, setting: &Value, against: &Value) -> bool {
    let what = text(&setting["what"]);
    let leans = |normal: &DVec3| normal.abs().max_element() < 1.0 - 1e-7;
    let normals = || flats(&cut.shape).into_iter().map(|flat| flat.1);
    let made = axis(&text(&against["made"])).unwrap_or(0);
    let off = |normal: DVec3| normal[made].abs().clamp(0.0, 1.0).acos().to_degrees();
    match what.as_str() {
        "gauge" => normals().filter(leans).any(|n| near(&setting["angle"], saw(n, 2).0) && n.z.abs() < 1e-6),
        "tilt" => normals().filter(leans).any(|n| near(&setting["angle"], off(n))),
        "stood" => normals()
            .filter(leans)
            .any(|n| near(&setting["angle"], off(n)) || near(&setting["angle"], 90.0 - off(n))),
        "compound" => {
            let up = if setting["on_edge"] == true { 1 } else { 2 };
            normals().any(|n| {
                let (gauge, blade) = saw(n, up);
                near(&setting["gauge"], gauge) && near(&setting["blade"], blade)
            })
        }
        "leaning-shoulder" => normals().any(|n| {
            [1, 2].iter().any(|up| {
                let (gauge, blade) = saw(n, *up);
                near(&setting["gauge"], gauge) && near(&setting["blade"], blade)
            })
        }),
        "leaning-channel" => channel(&cut.shape, part, setting, against),
        "leaning-mortise" => mortise(&cut.shape, setting, against),
        "flared" => flared(&cut.shape, part.size, setting),
        _ => finger(&cut.shape, part.size, setting),
    }
}

/// A channel: two walls that lean, so far apart at its mouth, and a floor so deep.
fn channel(shape: &Prism, part: &WorkedPart, setting: &Value, against: &Value) -> bool {
    let from: Vec<usize> = items(&against["from"]).iter().filter_map(|name| axis(&text(name))).collect();
    let Some(entry) = from.first().copied() else { return false };
    let all = flats(shape);
    let lean = |normal: DVec3| normal[entry].abs().asin().to_degrees();
    let walls: Vec<&(DVec3, DVec3)> = all
        .iter()
        .filter(|flat| near(&setting["lean"], lean(flat.1)) && number(&setting["lean"]) > ANGLE)
        .collect();
    let wide = walls.iter().any(|a| {
        walls.iter().any(|b| {
            let apart = (a.1.dot(b.0) - a.1.dot(a.0)).abs();
            same(&setting["width"], apart / lean(a.1).to_radians().cos())
        })
    });
    let deep = all.iter().filter(|flat| flat.1[entry].abs() > 1.0 - 1e-9).any(|flat| {
        let place = flat.0[entry];
        same(&setting["depth"], place) || same(&setting["depth"], part.size[entry] - place)
    });
    wide && deep
}

/// A mortise whose middle line leans.
fn mortise(shape: &Prism, setting: &Value, against: &Value) -> bool {
    let Some(entry) = axis(&text(&against["face"])) else { return false };
    let lean = shape.at.z[entry].abs().clamp(0.0, 1.0).acos().to_degrees();
    let Some((low, high)) = shape.outline.bounds() else { return false };
    let size = high - low;
    near(&setting["lean"], lean)
        && same(&setting["width"], size.min_element())
        && same(&setting["length"], size.max_element())
}

/// The box of a cutter within the blank.
fn within(shape: &Prism, size: DVec3) -> (DVec3, DVec3) {
    let points = shape.outline.rings.iter().flat_map(|ring| &ring.points);
    let both = points.flat_map(|p| [shape.from, shape.to].map(|z| shape.at.point(p.extend(z))));
    let (low, high) = both.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(l, h), p| (l.min(p), h.max(p)));
    (low.max(DVec3::ZERO), high.min(size))
}

/// A socket with leaning sides: its narrow width, its slope and its depth from the end.
fn flared(shape: &Prism, size: DVec3, setting: &Value) -> bool {
    let [ring] = shape.outline.rings.as_slice() else { return false };
    let points: Vec<DVec3> = ring.points.iter().map(|p| shape.at.point(p.extend(shape.from))).collect();
    if points.len() != 4 {
        return false;
    }
    // The axis swept is that of the prism; it widens along one of the others.
    let swept = (0..3).find(|axis| shape.at.z[*axis].abs() > 1.0 - 1e-9).unwrap_or(3);
    let (low, high) = within(shape, size);
    (0..3).filter(|rise| *rise != swept).any(|rise| {
        let Some(run) = (0..3).find(|run| *run != swept && *run != rise) else { return false };
        // Where the two sides that join the levels stand at a level.
        let sides: Vec<(DVec3, DVec3)> = (0..4)
            .map(|i| (points[i], points[(i + 1) % 4]))
            .filter(|(a, b)| (a[rise] - b[rise]).abs() > 1e-6)
            .collect();
        let [one, other] = sides.as_slice() else { return false };
        let place = |side: &(DVec3, DVec3), level: f64| {
            let share = (level - side.0[rise]) / (side.1[rise] - side.0[rise]);
            (side.0[run] + (side.1[run] - side.0[run]) * share).clamp(0.0, size[run])
        };
        let wide = |level: f64| (place(one, level) - place(other, level)).abs();
        let narrow = wide(low[rise]).min(wide(high[rise]));
        let slope = [one, other].iter().any(|side| {
            let ratio = ((side.1[rise] - side.0[rise]) / (side.1[run] - side.0[run])).abs();
            (number(&setting["ratio"]) - ratio).abs() < 0.02
        });
        slope && same(&setting["narrow"], narrow) && same(&setting["depth"], high.x - low.x)
    })
}

fn finger(shape: &Prism, size: DVec3, setting: &Value) -> bool {
    let (low, high) = within(shape, size);
    same(&setting["width"], high.y - low.y) && same(&setting["depth"], high.x - low.x)
}
