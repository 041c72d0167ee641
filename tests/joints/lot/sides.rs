//! What touches and what is gone, by closed forms, for the words that have no test
//! by lot in a file of their own: twenty settings each from `tests/joints/lot/by_lot.txt`.
//! Two sides match where their planes lie within 0.001 mm of one another and touch
//! on the area that plane geometry says. Derived beside each.

use std::panic::{AssertUnwindSafe, catch_unwind};

use rodwright::geometry::{DVec3, Edge, trig};
use rodwright::joinery::{CutKind, WorkedJob};
use rodwright::model::{Job, Options, Work};
use rodwright::problem::Severity;
use rodwright::solid::{Solid, Standing};

use crate::joints::lot::by_lot::{Family, families, setting};
use crate::support::joints::{near, round};
use crate::support::lot::Lot;
use crate::support::scripts::request;

/// One setting, worked.
struct Set<'a> {
    job: &'a Job,
    worked: &'a WorkedJob,
    work: &'a Work,
}

/// What holds of a setting; it panics where it does not.
type Holds = fn(&Set);

/// The words and what holds of each.
const FORMS: &[(&str, Holds)] = &[
    ("butt", butt),
    ("mitre", mitre),
    ("loose_tenons", loose_tenons),
    ("rebate", rebate),
    ("lipping", lipping),
    ("glass_points", glass_points),
    ("spigot", spigot),
    ("outline", outline),
    ("taper", taper),
    ("bevel", bevel),
    ("chamfer", chamfer),
    ("round_over", round_over),
    ("hole", hole),
    ("slot", slot),
    ("notch", notch),
];

#[test]
fn sides_match_and_cuts_take_what_they_should_by_lot() {
    let families = families();
    let mut wrong = Vec::new();
    for (word, form) in FORMS {
        let mine = families.iter().filter(|f| f.word == *word && f.held_by.starts_with("joints_match::"));
        for (k, family) in mine.enumerate() {
            let good = |seed: &u64| tried(family, 777 + seed + 5000 * k as u64, *form);
            match catch_unwind(AssertUnwindSafe(|| (0..2000).filter(good).take(25).count())) {
                Ok(made) if made >= 20 => {}
                Ok(made) => wrong.push(format!("{word}: only {made} settings could be made")),
                Err(said) => {
                    let said = said.downcast_ref::<String>().cloned().unwrap_or_default();
                    wrong.push(format!("{word}: {said}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    for family in families.iter().filter(|f| f.held_by.starts_with("joints_match::")) {
        assert!(FORMS.iter().any(|(word, _)| *word == family.word), "nothing holds `{}`", family.word);
    }
}

/// Whether a setting could be made; what holds of it is looked at.
fn tried(family: &Family, seed: u64, form: Holds) -> bool {
    let (text, _) = setting(family, &mut Lot(seed));
    let done = rodwright::examine(&request("by lot", text.clone()));
    if done.problems.iter().any(|p| p.severity == Severity::Error) {
        return false;
    }
    let (job, worked) = done.worked.unwrap();
    let work = job.works.iter().rev().find(|w| w.word.name == family.word).unwrap();
    if let Err(said) = catch_unwind(AssertUnwindSafe(|| form(&Set { job: &job, worked: &worked, work }))) {
        let said = said.downcast_ref::<String>().cloned().unwrap_or_default();
        panic!("{said}\n{text}");
    }
    true
}

impl Set<'_> {
    fn options(&self) -> &Options {
        &self.work.options
    }

    fn number(&self, key: &str) -> Option<f64> {
        self.work.options.number(key)
    }

    /// Corners of the space the script gave a part.
    fn space(&self, part: usize) -> [DVec3; 2] {
        let part = &self.job.parts[part];
        let (a, b) = (part.at.origin, part.at.point(part.size));
        [a.min(b), a.max(b)]
    }

    /// Its size along x, y, z of the piece.
    fn size(&self, part: usize) -> DVec3 {
        let [low, high] = self.space(part);
        high - low
    }

    /// Area on which two parts touch, mm2; their planes within 0.001 mm.
    fn touching(&self, a: usize, b: usize) -> f64 {
        let stands = |i: usize| Standing::new(&self.worked.parts[i].solid, &self.worked.parts[i].at);
        let contacts = stands(a).contacts(&stands(b));
        for contact in &contacts {
            assert!(self.lie_together(a, b, contact.normal), "planes are apart along {}", contact.normal);
        }
        contacts.iter().map(|c| c.area).sum()
    }

    /// Whether a plane of `a` that looks along `out` has one of `b` on it that looks
    /// the other way.
    fn lie_together(&self, a: usize, b: usize, out: DVec3) -> bool {
        let (of_a, of_b) = (offsets(self.worked, a, out), offsets(self.worked, b, -out));
        of_a.iter().any(|p| of_b.iter().any(|q| (p + q).abs() < 0.001))
    }

    /// What is gone from the space of a part, mm3.
    fn gone(&self, part: usize) -> f64 {
        self.size(part).element_product() - self.worked.parts[part].solid.volume()
    }
}

/// How far along `out` the faces of a part lie that look that way.
fn offsets(worked: &WorkedJob, part: usize, out: DVec3) -> Vec<f64> {
    let part = &worked.parts[part];
    let solid: &Solid = &part.solid;
    let faces = solid.faces.iter().filter(|f| part.at.dir(f.plane.normal).dot(out) > 1.0 - 1e-7);
    faces.map(|f| part.at.point(f.plane.normal * f.plane.offset).dot(out)).collect()
}

/// Equal to a share of `b`, for what has facets in place of a round.
fn about(a: f64, b: f64, share: f64) {
    assert!((a - b).abs() <= share * b.abs(), "{a} is not about {b}");
}

/// A part that only stands against another touches on what both have there.
fn butt(set: &Set) {
    let (plinth, bottom) = (set.size(1), set.size(0));
    near(set.touching(0, 1), plinth.x * plinth.y);
    near(set.gone(0), 0.0);
    near(set.gone(1), 0.0);
    assert!(plinth.x < bottom.x);
}

/// Two sheets of thickness t meet on t √2 by their length, less two pockets' mouths:
/// 50 by 7 with round ends.
fn mitre(set: &Set) {
    let (t, d) = (set.size(0).x, set.size(0).y);
    let pockets = f64::from(set.options().count("connectors").unwrap_or(0));
    let mouth = 43.0 * 7.0 + round(7.0);
    near(set.touching(0, 1), t * d * 2.0_f64.sqrt() - pockets * mouth);
    if pockets == 0.0 {
        near(set.gone(0), 0.5 * t * t * d);
        near(set.gone(1), 0.5 * t * t * d);
    }
    let mouths = |part: usize| {
        let part = &set.worked.parts[part];
        let cuts = part.cuts.iter().filter(|c| c.kind == CutKind::ConnectorPocket);
        cuts.map(|c| part.at.point(c.shape.at.origin)).collect::<Vec<_>>()
    };
    for (p, q) in mouths(0).iter().zip(mouths(1)) {
        assert!(p.distance(q) < 0.001, "{p} is not over {q}");
    }
    keys_reach(set, pockets as usize);
}

/// The hole of each key leads from the middle of its pocket, half as deep as that, out
/// of the inside of the first part, clear of the second, and with wood between it and
/// the mitre.
fn keys_reach(set: &Set, pockets: usize) {
    let side = &set.worked.parts[0];
    let [low, high] = set.space(1);
    let outer = DVec3::new(0.0, 0.0, high.z);
    let normal = DVec3::new(1.0, 0.0, 1.0).normalize();
    let keys: Vec<_> = side.cuts.iter().filter(|c| c.kind == CutKind::AccessHole).collect();
    assert_eq!(keys.len(), pockets);
    for key in keys {
        let bottom = side.at.point(key.shape.at.point(DVec3::Z * key.shape.to));
        let out = -side.at.dir(key.shape.at.z);
        near(normal.dot(outer - bottom), 4.5);
        assert!(normal.dot(out).abs() < 1e-9, "it runs into the mitre");
        let face = set.size(0).x;
        let mouth = bottom + out * ((face - bottom.x) / out.x);
        // The slanting mouth is 6 √2 high: its upper edge stays under the corner.
        assert!(mouth.z + 3.0 * 2.0_f64.sqrt() < low.z, "{mouth} is under `Top`");
        assert!(out.x > 0.0 && out.z < 0.0);
    }
}

/// Mortises stand over one another, and both together are 2 mm deeper than the tenon
/// is long.
fn loose_tenons(set: &Set) {
    let (thick, long) = set.options().pair("tenon").unwrap();
    let joint = &set.worked.joints[0];
    let cuts = |i: usize| {
        let part = &set.worked.parts[joint.parts[i]];
        let cuts = part.cuts.iter().filter(|c| c.kind == CutKind::Mortise);
        cuts.map(|c| (part.at.point(c.shape.at.origin), c.shape.to - c.shape.from, c.shape.outline.clone()))
            .collect::<Vec<_>>()
    };
    let (a, b) = (cuts(0), cuts(1));
    assert_eq!(a.len(), b.len());
    assert_eq!(a.len(), joint.inserts[0].at.len());
    for ((p, deep, shape), (q, deeper, other)) in a.iter().zip(&b) {
        assert!(p.distance(*q) < 0.001, "{p} is not over {q}");
        near(deep + deeper, long + 2.0);
        near(shape.area(), other.area());
        let (low, high) = shape.bounds().unwrap();
        let (low2, high2) = other.bounds().unwrap();
        assert!((high - low).abs_diff_eq(high2 - low2, 0.001));
        near((high - low).min_element(), thick);
    }
    // All that is gone from both is the mortises: half a tenon each way or less.
    let area = a.first().map_or(0.0, |(_, _, shape)| shape.area());
    near(set.gone(0) + set.gone(1), a.len() as f64 * area * (long + 2.0));
}

/// The step is as wide as the part laps over and its room, as deep as the part is
/// thick; the part lies on it with its whole lap.
fn rebate(set: &Set) {
    let (side, back) = (set.size(0), set.size(1));
    let lap = set.number("lap").unwrap_or(0.5 * side.x);
    let room = set.number("clearance").unwrap_or(0.0);
    let depth = set.number("depth").unwrap_or(back.y);
    near(set.gone(0), (lap + room) * depth * side.z);
    near(-set.gone(1), lap * back.y * back.z);
    let bed = if depth - back.y < 0.001 { lap * side.z } else { 0.0 };
    let shoulder = if room < 0.001 { back.y * side.z } else { 0.0 };
    near(set.touching(0, 1), bed + shoulder);
}

/// Panel and strips fill the space of the panel, but for what a bevel, a chamfer
/// takes and what stands proud; each strip lies on its whole edge.
fn lipping(set: &Set) {
    let whole = set.size(0);
    let (t, thick) = (whole.z, set.number("thick").unwrap_or(6.0));
    let proud = set.number("proud").unwrap_or(0.0);
    let strips: Vec<usize> = (1..set.worked.parts.len()).collect();
    let core = &set.worked.parts[0];
    let volume: f64 = set.worked.parts.iter().map(|p| p.solid.volume()).sum();
    let inner = (core.at.point(core.size) - core.at.origin).abs();
    for &strip in &strips {
        // Along the front it is the panel's length, at its ends its width.
        let size = set.worked.parts[strip].size;
        let along = set.worked.parts[strip].at.x.abs();
        let edge = inner.dot(along).min(size.x);
        near(set.touching(0, strip), edge * t);
    }
    // Around a panel: what is outside it, as high as the strips are.
    let ring = whole.x * whole.y - inner.x * inner.y;
    near(inner.x * inner.y * t + ring * (t + 2.0 * proud), volume + shaped(set, &strips, thick));
}

/// What bevels and chamfers take off strips. At a mitred corner they meet, and each
/// is as much shorter as it is deep.
fn shaped(set: &Set, strips: &[usize], thick: f64) -> f64 {
    let mut taken = 0.0;
    for &strip in strips {
        let part = &set.worked.parts[strip];
        let wide = part.size.y;
        let mitres = part.cuts.iter().filter(|c| c.kind == CutKind::Mitre).count() as f64;
        // A triangle `deep` by `high`, its long side on the outer face; a mitre
        // takes a third of its depth off its length.
        let wedge = |deep: f64, high: f64| 0.5 * deep * high * (part.size.x - mitres * deep / 3.0);
        if let Some(angle) = set.number("bevel") {
            taken += wedge(wide * trig::tan(angle.to_radians()), wide);
        }
        if let Some(chamfer) = set.number("chamfer") {
            assert!(chamfer < thick);
            taken += 2.0 * wedge(chamfer, chamfer);
        }
    }
    taken
}

/// Points lie on the back of the pane, begin at its edge and reach through the room
/// beside it into the shoulder.
fn glass_points(set: &Set) {
    let [low, high] = set.space(0);
    let [_, behind] = set.space(1);
    let points = &set.worked.joints[1].inserts[0].at;
    let body = set.worked.joints[1].inserts[0].body.as_ref().unwrap();
    assert!(points.len() >= 2);
    for at in points {
        near(at.origin.x, high.x - 8.0);
        near(at.z.x, -1.0);
        assert!(body.to > 1.5 && body.from < 0.0, "it holds the pane and stands in the wood");
        near(at.origin.y, behind.y);
        assert!(at.origin.z > low.z && at.origin.z < high.z);
        let room = set.number("spacing").unwrap_or(150.0) + 1e-6;
        let near_one = points.iter().any(|q| q != at && (q.origin.z - at.origin.z).abs() <= room);
        assert!(near_one, "points stand more than {room} apart");
    }
}

/// The bore lies over the spigot's axis, is a polygon of 32 sides round its circle
/// (n r² tan(π / n)) and as deep as it or 2 mm deeper; the shoulder, a polygon of 48
/// corners, touches on what the bore leaves.
fn spigot(set: &Set) {
    let rodwright::model::Form::Turned(stations) = &set.job.parts[1].form else { panic!() };
    let [shoulder, end] = [stations[1], stations[3]];
    let (t, r) = (set.size(0).z, 0.5 * end.diameter);
    let long = end.along - shoulder.along;
    let deep = if long > t - 0.001 { t } else { long + set.number("room").unwrap_or(2.0) };
    let bored = 32.0 * r * r * trig::tan(std::f64::consts::PI / 32.0);
    near(set.gone(0), bored * deep);
    let [low, high] = set.space(1);
    let seat = &set.worked.parts[0];
    let cut = &seat.cuts[0].shape;
    let mouth = seat.at.point(cut.at.point(DVec3::Z * cut.from));
    let axis = 0.5 * (low + high);
    assert!((mouth - axis).truncate().length() < 0.001, "{mouth} is not on the axis at {axis}");
    near(mouth.z, shoulder.along);
    let facets = 24.0 * trig::sin_cos(std::f64::consts::TAU / 48.0).0;
    let whole = facets * (0.5 * shoulder.diameter).powi(2);
    about(set.touching(0, 1), whole - bored, 1e-3);
}

/// The area of a polygon with arcs: shoelace and segments, which hold
/// r² / 2 (θ - sin θ) with θ = 4 atan(2 rise / chord), r = chord / (2 sin(θ / 2)).
/// The corners run counter-clockwise, so that the outside is to the right.
fn outline(set: &Set) {
    let points = set.options().points("points").unwrap();
    let (mut area, mut rounds) = (0.0, 0.0);
    for (p, q) in points.iter().zip(points.iter().cycle().skip(1)) {
        let (a, b) = (p.at, q.at);
        area += 0.5 * (a.x * b.y - b.x * a.y);
        let chord = a.distance(b);
        let rise = match p.edge {
            Edge::Straight => 0.0,
            Edge::Rise(rise) => rise,
            Edge::Through(point) => {
                // Over the middle of the chord it is the middle of the arc.
                near(point.distance(a), point.distance(b));
                (point - a).perp_dot(b - a) / chord
            }
        };
        if rise != 0.0 {
            let turn = 4.0 * trig::atan2(2.0 * rise, chord);
            let radius = chord / (2.0 * trig::sin_cos(0.5 * turn).0);
            let segment = 0.5 * radius * radius * (turn - trig::sin_cos(turn).0);
            area += segment;
            rounds += segment.abs();
        }
    }
    let t = set.size(0).y;
    let left = set.worked.parts[0].solid.volume() / t;
    assert!((left - area).abs() <= 0.02 * rounds + 1e-6 * area, "{left} is not {area}");
}

/// A long triangle: `by` at the thin end, nothing where it begins.
fn taper(set: &Set) {
    let size = set.size(0);
    let run = size.z - set.number("start").unwrap_or(0.0);
    near(set.gone(0), 0.5 * set.number("by").unwrap() * run * size.x);
}

/// A triangle as high as the panel is thick.
fn bevel(set: &Set) {
    let size = set.size(0);
    let way = set.options().sides("long").unwrap()[0].normal();
    assert!(way.z.abs() > 0.5);
    // The edge it was asked for on: the one that is no longer upright.
    let lean = trig::tan(set.number("angle").unwrap().to_radians());
    let per = 0.5 * size.z * size.z * lean;
    let gone = set.gone(0);
    assert!((gone - per * size.x).abs() < 1e-3 || (gone - per * size.y).abs() < 1e-3, "{gone}: {per}");
}

/// Lengths of the arrises asked for, and how many corners two of them share.
fn arrises(set: &Set) -> (f64, f64) {
    let size = set.size(0);
    let long = |side: &rodwright::model::Side| size.dot(DVec3::ONE - side.normal().abs() - DVec3::Z);
    match set.options().sides("edges") {
        None => (2.0 * (size.x + size.y), 4.0),
        Some(sides) => {
            let meet = sides.len() == 2 && sides[0].normal().dot(sides[1].normal()).abs() < 0.5;
            (sides.iter().map(long).sum(), f64::from(u8::from(meet)))
        }
    }
}

/// Half a square along each arris; where two meet, both take w³ / 3: the squares
/// of what is left of w at each depth.
fn chamfer(set: &Set) {
    let wide = set.number("width").unwrap();
    let (long, corners) = arrises(set);
    near(set.gone(0), 0.5 * wide * wide * long - corners * wide.powi(3) / 3.0);
}

/// A square less a quarter of a circle of 32 facets along each arris; where two meet, both take the sum of
/// (r - √(r² - u²))² over u from 0 to r, r³ (5/3 - π/2).
fn round_over(set: &Set) {
    let radius = set.number("radius").unwrap();
    let (long, corners) = arrises(set);
    let quarter = radius * radius - 0.25 * round(2.0 * radius);
    let both = radius.powi(3) * (5.0 / 3.0 - std::f64::consts::FRAC_PI_2);
    about(set.gone(0), quarter * long - corners * both, 0.001);
}

/// Cylinders of 32 facets.
fn hole(set: &Set) {
    let size = set.size(0);
    let count = set.options().lengths("along").map_or(1, <[f64]>::len) as f64;
    let deep = set.number("depth").unwrap_or(size.x);
    near(set.gone(0), count * round(set.number("diameter").unwrap()) * deep);
}

/// A box and the two halves of a cylinder.
fn slot(set: &Set) {
    let wide = set.number("width").unwrap();
    let ends = set.options().lengths("along").unwrap();
    let deep = set.number("depth").unwrap_or(set.size(0).y);
    near(set.gone(0), ((ends[1] - ends[0] - wide) * wide + round(wide)) * deep);
}

/// A box.
fn notch(set: &Set) {
    let size = set.size(0);
    let span = |key: &str, whole: f64| set.options().lengths(key).map_or(whole, |s| s[1] - s[0]);
    near(set.gone(0), span("x", size.x) * span("y", size.y) * span("z", size.z));
}
