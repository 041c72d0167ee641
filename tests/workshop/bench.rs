//! Channels, mortises and holes by the printed settings, each measured from the printed
//! face, held against the part of the model: just within a cut there must be no wood,
//! just beyond it there must be.

use rodwright::geometry::{DVec2, DVec3};
use rodwright::joinery::{PartSource, WorkedJob, WorkedPart};
use rodwright::solid::{Body, Prism};
use serde_json::Value;

use super::papers::{Papers, SETTINGS, drawn, items, number, text};

/// How far within and beyond a cut is probed, mm.
const PROBE: f64 = 0.4;

/// A cut: a box in the coordinates of the part as it lies on the bench.
#[derive(Clone, Debug)]
struct Pocket {
    low: [f64; 3],
    high: [f64; 3],
}

/// How many cuts were held against the model, and everything that is wrong.
pub(crate) fn faults(papers: &Papers, worked: &WorkedJob) -> (usize, Vec<String>) {
    let mut faults = Vec::new();
    let mut judged = 0;
    let works = papers.list(SETTINGS, "works");
    let set_ups = papers.list(SETTINGS, "set_ups");
    for (work, told) in works.iter().enumerate() {
        let mark = drawn(&text(&told["mark"]));
        let Some(index) = worked.parts.iter().position(|part| part.mark() == mark && flat(part)) else {
            continue;
        };
        let made = MadeUp::of(worked, index);
        let (mut pockets, mut all) = (Vec::new(), true);
        for set_up in &set_ups {
            for turn in items(&set_up["turns"]) {
                for one in
                    items(&turn["uses"]).iter().filter(|one| one["work"].as_u64() == u64::try_from(work).ok())
                {
                    if straight_trim(set_up) {
                        continue;
                    }
                    match pockets_of(set_up, &turn, one, made.size) {
                        Some(Ok(more)) => pockets.extend(more),
                        Some(Err(why)) => faults.push(format!("{mark} {}: {why}", text(&told["name"]))),
                        None => all = false,
                    }
                }
            }
        }
        for pocket in &pockets {
            judged += 1;
            if let Some(why) = made.judge(pocket, &pockets, all) {
                faults.push(format!("{mark} {}: {why}", text(&told["name"])));
            }
        }
        // Every pocket of the model is made, where the settings are all of the kinds
        // that are judged here.
        if all {
            faults.extend(made.missing(&pockets).map(|why| format!("{mark} {}: {why}", text(&told["name"]))));
        }
    }
    (judged, faults)
}

fn flat(part: &WorkedPart) -> bool {
    matches!(part.body, Body::Prism(_)) && matches!(part.source, PartSource::Part(_))
}

/// Trimming, which is judged elsewhere.
fn straight_trim(set_up: &Value) -> bool {
    matches!(text(&set_up["task"]).as_str(), "rip" | "crosscut" | "straighten" | "square-end")
}

/// Axis and far side of a face.
fn face(name: &str) -> Option<(usize, bool)> {
    Some(match name {
        "near-end" => (0, false),
        "far-end" => (0, true),
        "edge" => (1, false),
        "far-edge" => (1, true),
        "marked" => (2, false),
        "back" => (2, true),
        _ => return None,
    })
}

/// Distances as written.
fn distances(value: &Value) -> Vec<f64> {
    if let Some(each) = value["each"].as_array() {
        return each.iter().map(number).collect();
    }
    let row = &value["row"];
    let (first, last, pitch) = (number(&row["first"]), number(&row["last"]), number(&row["pitch"]));
    if !(first.is_finite() && last.is_finite() && pitch > 0.0) {
        return Vec::new();
    }
    let steps = ((last - first) / pitch).round() as usize;
    (0..=steps).map(|step| first + step as f64 * pitch).collect()
}

/// A span measured from a face.
fn from(face: (usize, bool), size: [f64; 3], low: f64, high: f64) -> (f64, f64) {
    if face.1 { (size[face.0] - high, size[face.0] - low) } else { (low, high) }
}

/// The pockets a set-up makes in one part; `None` for settings that are not judged.
fn pockets_of(
    set_up: &Value,
    turn: &Value,
    one: &Value,
    size: [f64; 3],
) -> Option<Result<Vec<Pocket>, String>> {
    let setting = &set_up["setting"];
    let (across, along) = match text(&setting["what"]).as_str() {
        "channel" => (number(&setting["width"]), None),
        "mortise" => (number(&setting["width"]), Some(number(&setting["length"]))),
        "bore" => (number(&setting["diameter"]), Some(number(&setting["diameter"]))),
        _ => return None,
    };
    let trimmed = text(&one["state"]) == "trimmed" && !set_up["later"].as_bool().unwrap_or(false);
    if text(&turn["against"]["what"]) != "fence" || !trimmed || set_up["fence"].is_null() {
        return None;
    }
    let named = |key: &str| -> Vec<(usize, bool)> {
        items(&turn["against"][key]).iter().filter_map(|name| face(&text(name))).collect()
    };
    let mut all = Vec::new();
    for against in named("faces") {
        for into in named("from") {
            if against.0 == into.0 {
                return Some(Err("the cutter goes in from the face at the fence".into()));
            }
            let run = 3 - against.0 - into.0;
            let depth = match &setting["depth"] {
                Value::String(_) => size[into.0],
                depth => number(&depth["to"]),
            };
            let spans: Vec<(f64, f64)> = if let Some(along) = along {
                let middle = |stop: &Value| -> Vec<(f64, f64)> {
                    let Some(end) = face(&text(&stop["face"])) else { return Vec::new() };
                    let spans = distances(&stop["distances"]).into_iter();
                    spans.map(|at| from(end, size, at - along / 2.0, at + along / 2.0)).collect()
                };
                items(&turn["stops"]).iter().flat_map(middle).collect()
            } else {
                let (mut low, mut high) = (-1.0, size[run] + 1.0);
                for stop in items(&turn["stopped"]) {
                    let (end, gaps) = (face(&text(&stop["face"]))?, distances(&stop["distances"]));
                    let gap = *gaps.first()?;
                    if end.1 { high = size[run] - gap } else { low = gap }
                }
                vec![(low, high)]
            };
            for distance in distances(&set_up["fence"]) {
                let span = match text(&set_up["fence_to"]).as_str() {
                    "middle" => (distance - across / 2.0, distance + across / 2.0),
                    _ => (distance, distance + across),
                };
                for run_span in &spans {
                    let mut pocket = Pocket { low: [0.0; 3], high: [0.0; 3] };
                    let beyond = if depth >= size[into.0] { depth + 1.0 } else { depth };
                    let put = [
                        (against.0, from(against, size, span.0, span.1)),
                        (into.0, from(into, size, -1.0, beyond)),
                        (run, *run_span),
                    ];
                    for (axis, (low, high)) in put {
                        (pocket.low[axis], pocket.high[axis]) = (low, high);
                    }
                    all.push(pocket);
                }
            }
        }
    }
    Some(Ok(all))
}

/// A part of the model with its lippings on, as it lies on the bench.
struct MadeUp<'a> {
    part: &'a WorkedPart,
    /// By how much the lippings at its origin shift it.
    shift: DVec3,
    size: [f64; 3],
}

impl<'a> MadeUp<'a> {
    fn of(worked: &'a WorkedJob, index: usize) -> Self {
        let part = &worked.parts[index];
        let (mut low, mut high) = (DVec3::ZERO, part.size);
        for lipping in &worked.parts {
            if matches!(lipping.source, PartSource::Lipping { of, .. } if of == index) {
                let corners =
                    [DVec3::ZERO, lipping.size].map(|corner| part.at.local_point(lipping.at.point(corner)));
                // A lipping longer than its panel, where another meets it, does not
                // lengthen it.
                for axis in 1..3 {
                    low[axis] = low[axis].min(corners[0][axis].min(corners[1][axis]));
                    high[axis] = high[axis].max(corners[0][axis].max(corners[1][axis]));
                }
                let across = (corners[0] - corners[1]).abs();
                if across.x < across.y.min(across.z).max(1.0) || across.x < lipping.size.z + 0.01 {
                    low.x = low.x.min(corners[0].x.min(corners[1].x));
                    high.x = high.x.max(corners[0].x.max(corners[1].x));
                }
            }
        }
        Self { part, shift: low, size: (high - low).to_array() }
    }

    /// Whether the model has cut the wood away at a place of the bench; `None` outside
    /// the part or in its lippings.
    fn cut_away(&self, at: [f64; 3]) -> Option<bool> {
        let place = DVec3::from_array(at) + self.shift;
        let within = (0..3).all(|axis| place[axis] > 0.02 && place[axis] < self.part.size[axis] - 0.02);
        within.then(|| self.part.cuts.iter().any(|cut| holds(&cut.shape, place)))
    }

    /// What is wrong with a pocket. `all` says whether every cut of the part is known, so
    /// that beyond a pocket nothing else may have been cut.
    fn judge(&self, pocket: &Pocket, others: &[Pocket], all: bool) -> Option<String> {
        let clip = |axis: usize| (pocket.low[axis].max(0.0), pocket.high[axis].min(self.size[axis]));
        let middle: [f64; 3] = [0, 1, 2].map(|axis| f64::midpoint(clip(axis).0, clip(axis).1));
        for axis in 0..3 {
            let (low, high) = clip(axis);
            if high - low < 2.0 * PROBE {
                continue;
            }
            for (edge, inward) in [(pocket.low[axis], 1.0), (pocket.high[axis], -1.0)] {
                let mut inside = middle;
                inside[axis] = (edge + inward * PROBE).clamp(low + PROBE, high - PROBE);
                if self.cut_away(inside) == Some(false) {
                    return Some(format!("a cut at {inside:.1?} is not in the model: {pocket:.1?}"));
                }
                let mut beyond = middle;
                beyond[axis] = edge - inward * PROBE;
                let other = others.iter().any(|other| holds_box(other, beyond));
                if all && !other && self.cut_away(beyond) == Some(true) {
                    return Some(format!("the model is cut on to {beyond:.1?}: {pocket:.1?}"));
                }
            }
        }
        None
    }

    /// Cuts of the model that no pocket makes, by their middles: mitres, shapes and what
    /// trims an end lie partly outside the part and are left to others.
    fn missing(&self, pockets: &[Pocket]) -> Option<String> {
        self.part.cuts.iter().find_map(|cut| {
            let (low, high) = bounds(&cut.shape)?;
            let mut middle = [0.0; 3];
            for axis in 0..3 {
                let (from, to) = (low[axis].max(0.0), high[axis].min(self.part.size[axis]));
                if to - from < 2.0 * PROBE {
                    return None;
                }
                middle[axis] = f64::midpoint(from, to) - self.shift[axis];
            }
            let pocket_like = self.cut_away(middle) == Some(true);
            let made = pockets.iter().any(|pocket| holds_box(pocket, middle));
            (pocket_like && !made).then(|| format!("nothing makes the {} at {middle:.1?}", cut.kind.name()))
        })
    }
}

fn holds_box(pocket: &Pocket, at: [f64; 3]) -> bool {
    (0..3).all(|axis| at[axis] > pocket.low[axis] && at[axis] < pocket.high[axis])
}

/// Corners of the box round a prism.
fn bounds(prism: &Prism) -> Option<(DVec3, DVec3)> {
    let points = prism.outline.rings.iter().flat_map(|ring| &ring.points);
    let solid = points.flat_map(|point| [prism.from, prism.to].map(|z| prism.at.point(point.extend(z))));
    solid.fold(None, |all, point| {
        Some(all.map_or((point, point), |(low, high): (DVec3, DVec3)| (low.min(point), high.max(point))))
    })
}

/// Whether a prism holds a place, by counting crossings of its outline.
fn holds(prism: &Prism, place: DVec3) -> bool {
    let local = prism.at.local_point(place);
    if local.z <= prism.from || local.z >= prism.to {
        return false;
    }
    let q = DVec2::new(local.x, local.y);
    let mut inside = false;
    for ring in &prism.outline.rings {
        for (index, a) in ring.points.iter().enumerate() {
            let b = ring.points[(index + 1) % ring.points.len()];
            if (a.y > q.y) != (b.y > q.y) && q.x < a.x + (q.y - a.y) / (b.y - a.y) * (b.x - a.x) {
                inside = !inside;
            }
        }
    }
    inside
}
