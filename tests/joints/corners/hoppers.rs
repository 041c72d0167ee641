//! Boxes, hoppers and columns of n sides at any slope, against the published formulas
//! of the compound mitre: D. L. Snyder and B. Gottesman, "Compound-Angle Joinery" (2015).
//! For n sides that lean `t` from upright, half a corner turns 180/n, and
//! gauge = arctan(sin t tan(180/n)), blade = arcsin(cos t sin(180/n)).

use rodwright::geometry::{DVec3, Placement, trig};
use rodwright::joinery::{self, WorkedJob};
use rodwright::model::Job;
use rodwright::script::evaluate;
use rodwright::solid::Standing;

use crate::support::said::setting;
use crate::support::scripts::request;

/// Across the flats of the foot over two, thickness, height of the sides, mm.
const SIZE: [f64; 3] = [200.0, 24.0, 180.0];

/// `n` sides that lean out by `t` degrees, mitred all round, with what else is asked of
/// neighbours and of all. The script stands them upright; here they are leant and turned.
fn hopper(n: usize, t: f64, grain: &str, neighbours: &str, all: &str) -> (Job, WorkedJob, String) {
    let [inner, thick, high] = SIZE;
    let half = inner * trig::tan(std::f64::consts::PI / n as f64);
    let text = format!(
        "job(\"Hopper\", #{{ unit: \"mm\" }}); let oak = board_stock(\"Oak\", #{{ thick: [27, 34] }}); piece(\"Hopper\");\n\
         let side = [];\nfor k in 0..{n} {{ side.push(board(`Side ${{k}}`, oak, #{{ x: [{:?}, {:?}], \
         y: [{:?}, {:?}], z: [0, {high:?}], grain: \"{grain}\" }})); }}\n\
         for k in 0..{n} {{ let a = side[k]; let b = side[(k + 1) % {n}]; mitre(a, b); {neighbours} }}\n{all}\n",
        -half,
        half,
        -inner,
        thick - inner
    );
    let evaluated = evaluate(&request("hopper", text));
    let mut job = evaluated.job.unwrap();
    for (k, part) in job.parts.iter_mut().enumerate() {
        // Leant about its outer lower edge, whose foot stays, then turned about the middle.
        let foot = DVec3::new(0.0, -inner, 0.0);
        let (s, c) = trig::sin_cos(t.to_radians());
        let lean =
            Placement { origin: foot, x: DVec3::X, y: DVec3::new(0.0, c, s), z: DVec3::new(0.0, -s, c) };
        let upright = Placement { origin: foot, ..Placement::IDENTITY };
        let (s, c) = trig::sin_cos(std::f64::consts::TAU * k as f64 / n as f64);
        let turn = Placement {
            origin: DVec3::ZERO,
            x: DVec3::new(c, s, 0.0),
            y: DVec3::new(-s, c, 0.0),
            z: DVec3::Z,
        };
        part.at = part.at.seen_from(&upright).within(&lean).within(&turn);
    }
    let (worked, problems) = joinery::work(&job);
    let said: Vec<String> = problems.iter().map(|p| format!("{}: {}", p.code, p.message)).collect();
    (job, worked, said.join("\n"))
}

/// The figures of a text.
fn figures(text: &str) -> Vec<f64> {
    text.split(|c: char| !(c.is_ascii_digit() || c == '.')).filter_map(|w| w.parse().ok()).collect()
}

/// Gauge and blade as published, degrees.
fn published(n: usize, t: f64) -> [f64; 2] {
    let half = std::f64::consts::PI / n as f64;
    let (sin, cos) = trig::sin_cos(t.to_radians());
    let gauge = trig::atan2(sin * trig::tan(half), 1.0).to_degrees();
    let b = cos * trig::sin_cos(half).0;
    [gauge, trig::atan2(b, (1.0 - b * b).sqrt()).to_degrees()]
}

/// All mitres close, and no two sides share wood.
fn close(worked: &WorkedJob, n: usize, what: &str) {
    let standing: Vec<Standing> = worked.parts.iter().map(|p| Standing::new(&p.solid, &p.at)).collect();
    for i in 0..n {
        for j in i + 1..n {
            assert_eq!(standing[i].interferes(&standing[j]), None, "{what}: sides {i} and {j} cross");
            let next = j == i + 1 || (i == 0 && j == n - 1);
            let touch: f64 = standing[i].contacts(&standing[j]).iter().map(|c| c.area).sum();
            assert_eq!(touch > 1.0, next, "{what}: sides {i} and {j} touch on {touch}");
        }
    }
}

#[test]
fn hoppers_of_three_to_twelve_sides_follow_the_published_formulas() {
    for n in 3..=12 {
        for t in [5.0, 12.5, 20.0, 33.0, 45.0, 60.0] {
            let what = format!("{n} sides, {t}°");
            let (_, worked, said) = hopper(n, t, "x", "", "");
            assert_eq!(said, "", "{what}");
            let [gauge, blade] = published(n, t);
            for joint in 0..n {
                let found = figures(&setting(&worked, joint));
                assert!((found[0] - gauge).abs() < 0.01, "{what}: {found:?} for a gauge of {gauge}");
                assert!((found[1] - blade).abs() < 0.01, "{what}: {found:?} for a blade of {blade}");
            }
            close(&worked, n, &what);
        }
    }
}

/// Rims and feet lie level: every side's lowest and highest faces, and the wood that is
/// left is the ring between them, by n times the prism of one side.
#[test]
fn rims_and_feet_are_sawn_level() {
    for (n, t) in [(3, 20.0), (5, 12.0), (6, 30.0), (8, 8.0), (12, 45.0)] {
        let high = 90.0;
        let all = format!("level(side, #{{ at: 10 }}); level(side, #{{ end: \"top\", at: {high:?} }});");
        let (_, worked, said) = hopper(n, t, "x", "", &all);
        let what = format!("{n} sides, {t}°");
        assert_eq!(said, "", "{what}");
        close(&worked, n, &what);
        let [inner, thick, _] = SIZE;
        // Level cuts of a wall `thick` square to its slope are thick / cos t wide; at height
        // z its outer face is inner + z tan t from the middle, and a regular polygon of
        // that inner radius has n tan(180/n) r² of area.
        let (tan, cos) = (trig::tan(f64::to_radians(t)), trig::sin_cos(f64::to_radians(t)).1);
        let area = |r: f64| n as f64 * trig::tan(std::f64::consts::PI / n as f64) * r * r;
        let ring = |z: f64| area(inner + z * tan) - area(inner + z * tan - thick / cos);
        // A quadratic in z: Simpson's rule is exact.
        let (low, middle, top) = (ring(10.0), ring(0.5 * (10.0 + high)), ring(high));
        let expected = (high - 10.0) / 6.0 * (low + 4.0 * middle + top);
        let found: f64 = worked.parts.iter().map(|p| p.solid.volume()).sum();
        assert!((found - expected).abs() < 1e-6 * expected, "{what}: {found} for {expected}");
    }
}

/// Splines and loose tenons stand in the mitres of a hopper: all of each in wood.
#[test]
fn splines_and_loose_tenons_stand_in_leaning_mitres() {
    for (n, t) in [(4, 15.0), (6, 20.0), (8, 10.0)] {
        for words in [
            "loose_tongue(a, b, #{ tongue: \"3x8\" });",
            "loose_tenons(a, b, #{ tenon: \"5x16\", count: 2 });",
        ] {
            let (_, worked, said) = hopper(n, t, "x", words, "");
            let what = format!("{n} sides, {t}°, {words}");
            assert_eq!(said, "", "{what}");
            close(&worked, n, &what);
            assert_eq!(worked.joints.iter().filter(|j| !j.inserts.is_empty()).count(), n, "{what}");
        }
    }
}

/// Staves with their grain up, mitred along their edges: a tapered column.
#[test]
fn staves_of_a_tapered_column_close() {
    for n in [5, 6, 8, 12] {
        for t in [0.0, 3.0, 8.0] {
            let what = format!("{n} staves, {t}°");
            let (_, worked, said) = hopper(n, t, "z", "", "");
            assert_eq!(said, "", "{what}");
            close(&worked, n, &what);
        }
    }
}
