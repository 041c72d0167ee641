//! Two boards at random sizes, places and angles, with each joining word in turn: made,
//! or refused with a reason. What is made is closed, shares no wood, touches on the
//! plane it should, and what stands in it stands in wood on both sides, held by volumes
//! alone. `ONLY=word` looks at one word, `TRIES=3000` at so many cases over all words,
//! `SAYS=1` prints what was refused and why, `PAIRS=file` writes the made ones for the
//! independent library (`tests/data/solids/make_leaning.py`).

use std::collections::BTreeMap;
use std::io::Write as _;

use rodwright::geometry::{DVec3, Outline, Placement, trig};
use rodwright::joinery::{CutKind, WorkedJob, WorkedPart};
use rodwright::model::Job;
use rodwright::problem::{Problem, Severity};
use rodwright::script::evaluate;
use rodwright::solid::{Body, Prism, Standing, carve};

use crate::support::lot::Lot;
use crate::support::scripts::request;
use crate::support::solids::is_closed;

/// The words, and how each is written of a part and the member it meets.
const WORDS: &[(&str, &str)] = &[
    ("butt", "butt(part, member);"),
    ("screws", "screws(member, part, #{ screw: \"5x60\" });"),
    ("screws", "screws(part, member, #{ screw: \"5x60\" });"),
    ("dowels", "dowels(part, member);"),
    ("housing", "housing(part, member);"),
    ("groove", "groove(part, member);"),
    ("biscuits", "biscuits(part, member);"),
    ("loose_tenons", "loose_tenons(part, member, #{ tenon: \"5x30\" });"),
    ("mortise_tenon", "mortise_tenon(part, member);"),
    ("mitre", "mitre(part, member);"),
    ("rebate", "rebate(part, member);"),
    ("tongue", "tongue(part, member);"),
    ("loose_tongue", "loose_tongue(part, member);"),
    ("bridle", "bridle(part, member);"),
    ("halving", "halving(part, member);"),
    ("finger_joint", "finger_joint(part, member);"),
    ("dovetails", "dovetails(part, member);"),
    ("pocket_screws", "pocket_screws(part, member);"),
    ("laminate", "laminate([part, member]);"),
    ("butt_hinges", "butt_hinges(part, member);"),
    ("cup_hinges", "cup_hinges(part, member);"),
    ("buttons", "buttons(member, part);"),
    ("trim_to", "trim_to(part, member);"),
];

/// Words whose parts are kept apart by a gap or by what moves between them.
const APART: [&str; 3] = ["butt_hinges", "cup_hinges", "buttons"];

/// What shapes a member that stands as it was drawn.
const SHAPES: &[&str] = &[
    "taper(member, \"top\", #{ by: THICK, toward: \"right\" });",
    "taper(member, \"back\", #{ by: WIDE, toward: \"left\", start: 40 });",
    "bevel(member, \"right\", #{ angle: 30, long: \"bottom\" });",
    "outline(member, \"top\", #{ points: [[0, 0], [LONG, 0], [LONG, ALL], [180, ALL], [120, WIDE], [0, WIDE]] });",
    "outline(member, \"top\", #{ points: [[30, 0], [LONG, 0], #{ at: [LONG, ALL], rise: -8 }, [0, ALL]] });",
];

/// Where the part stands to the member.
#[derive(Clone, Copy, Debug)]
struct Meets {
    /// Degrees off square to the face.
    lean: f64,
    /// Whether the part comes with its edge, not its end.
    edgeways: bool,
    /// From the face to the middle of the end, mm; less than nought inside.
    gap: f64,
    /// Out of the face.
    normal: DVec3,
    /// Whether its end lies on the face when it is sawn to it, so that it can be glued there.
    must: bool,
}

/// A direction drawn by lot.
fn direction(lot: &mut Lot) -> DVec3 {
    let z = 2.0 * lot.share() - 1.0;
    let (sin, cos) = trig::sin_cos(std::f64::consts::TAU * lot.share());
    let r = (1.0 - z * z).max(0.0).sqrt();
    DVec3::new(r * cos, r * sin, z)
}

/// Two boards as the script places them, then stood by lot.
fn case(work: &str, lot: &mut Lot) -> (Job, Meets) {
    let member = [lot.between(250.0, 900.0), lot.between(50.0, 300.0), lot.between(15.0, 60.0)];
    let part = [lot.between(150.0, 600.0), lot.between(30.0, 250.0), lot.between(10.0, 40.0)];
    let board = |name: &str, size: [f64; 3]| {
        format!(
            "let {name} = board(\"{name}\", ash, #{{ x: [0, {:?}], y: [0, {:?}], z: [0, {:?}], grain: \"x\" }});\n",
            size[0],
            size[1].max(size[2] + 1.0),
            size[2]
        )
    };
    let deep = member[1].max(member[2] + 1.0);
    let shape = if lot.of(4) == 0 { SHAPES[lot.of(SHAPES.len())] } else { "" };
    let sizes = [("THICK", 0.4 * member[2]), ("WIDE", 0.6 * deep), ("LONG", member[0]), ("ALL", deep)];
    let drawn =
        sizes.iter().fold(shape.to_owned(), |text, (name, size)| text.replace(name, &format!("{size:?}")));
    let text = format!(
        "job(\"By lot\", #{{ unit: \"mm\" }});\nlet ash = board_stock(\"Ash\", #{{ thick: [20, 34, 41, 54, 65, 80] }});\n\
         piece(\"Piece\");\n{}{}{drawn}\n{work}\n",
        board("member", member),
        board("part", part)
    );
    let mut job = evaluate(&request("by lot", text)).job.unwrap();
    let meets = stand(&mut job, lot, work.starts_with("mitre"), shape.is_empty());
    (job, meets)
}

/// Stands the member anyhow, and the part with an end or edge near a face of it.
fn stand(job: &mut Job, lot: &mut Lot, is_corner: bool, is_plain: bool) -> Meets {
    let whole = Placement::looking(DVec3::ZERO, direction(lot), direction(lot)).unwrap();
    // What is shaped keeps its sides, by which its words name them.
    let whole = if lot.of(3) == 0 || !is_plain { job.parts[0].at } else { whole };
    job.parts[0].at = whole;
    let size = job.parts[0].size;
    // Mostly a face, at times an edge or an end; a corner is made of two ends.
    let (axis, up) = ([2, 2, 2, 1, 0][if is_corner { 4 } else { lot.of(5) }], lot.of(2) == 0);
    let mut normal = [whole.x, whole.y, whole.z][axis];
    let mut mouth = size * DVec3::new(lot.share(), lot.share(), lot.share());
    mouth[axis] = if up { size[axis] } else { 0.0 };
    normal = if up { normal } else { -normal };
    let lean = if lot.of(4) == 0 { 0.0 } else { lot.between(1.0, 75.0) };
    let side = [whole.x, whole.y, whole.z][(axis + 1) % 3];
    let turn = if lot.of(2) == 0 { 90.0 * lot.of(4) as f64 } else { lot.between(0.0, 360.0) };
    let (sin, cos) = trig::sin_cos(turn.to_radians());
    let flat = side * cos + normal.cross(side) * sin;
    let (sin, cos) = trig::sin_cos(lean.to_radians());
    // Out of the part's end, into the member.
    let into = -normal * cos + flat * sin;
    let hint = if lot.of(3) == 0 { direction(lot) } else { [normal.cross(flat), side, whole.x][lot.of(3)] };
    let gap = if lot.of(2) == 0 { 0.0 } else { lot.between(-25.0, 25.0) };
    let edgeways = lot.of(5) == 0;
    let frame = Placement::looking(DVec3::ZERO, into, hint).unwrap();
    let at = if edgeways {
        Placement::from_axes(DVec3::ZERO, frame.x, frame.z).unwrap()
    } else {
        Placement::from_axes(DVec3::ZERO, frame.z, frame.x).unwrap()
    };
    let part = &mut job.parts[1];
    let end = if edgeways {
        DVec3::new(0.5 * part.size.x, part.size.y, 0.5 * part.size.z)
    } else {
        DVec3::new(part.size.x, 0.5 * part.size.y, 0.5 * part.size.z)
    };
    part.at = at.moved(whole.point(mouth) + normal * gap - at.dir(end));
    // The middle of the end lies before the face; sawn, it slants by less than the part is long.
    let slant = (part.size.y + part.size.z) * trig::tan(lean.to_radians());
    let must = is_plain && !edgeways && (1.0..=50.0).contains(&lean) && slant + gap.abs() < 0.9 * part.size.x;
    Meets { lean, edgeways, gap, normal, must }
}

/// What a part is of which only saw cuts are made: no holes, mortises, channels.
fn sawn(part: &WorkedPart) -> Vec<Prism> {
    let saws = [CutKind::Bevel, CutKind::Mitre, CutKind::Outline, CutKind::Taper];
    part.cuts.iter().filter(|c| saws.contains(&c.kind)).map(|c| c.shape.clone()).collect()
}

/// How much of `shape` (piece coordinates) lies in the part less `cuts`, mm3.
fn inside(part: &WorkedPart, cuts: &[Prism], shape: &Prism) -> f64 {
    let before = carve(&part.body, cuts).unwrap().volume();
    let mut more = cuts.to_vec();
    more.push(shape.seen_from(&part.at));
    before - carve(&part.body, &more).map_or(0.0, |s| s.volume())
}

/// What is wrong with two parts that were joined.
fn faults(worked: &WorkedJob) -> Vec<String> {
    let mut wrong = Vec::new();
    let [a, b] = [&worked.parts[0], &worked.parts[1]];
    for part in [a, b] {
        if !(part.solid.volume() > 0.0 && is_closed(&part.solid)) {
            wrong.push(format!("`{}` is not closed", part.name));
        }
    }
    let (first, second) = (Standing::new(&a.solid, &a.at), Standing::new(&b.solid, &b.at));
    if let Some(deep) = first.interferes(&second) {
        wrong.push(format!("they share wood on {deep:.1} mm2"));
    }
    let word = worked.joints.first().map_or("", |joint| joint.word);
    let area = first.contacts(&second).iter().map(|c| c.area).sum::<f64>();
    if area < 1.0 && !worked.joints.is_empty() && !APART.contains(&word) {
        wrong.push("they do not touch".into());
    }
    if word == "mortise_tenon" {
        wrong.extend(loose(&first, &second));
    }
    for insert in worked.joints.iter().flat_map(|j| &j.inserts) {
        let Some(body) = &insert.body else { continue };
        for at in &insert.at {
            let shape = slimmer(body).within(at);
            let volume = shape.outline.area() * (shape.to - shape.from);
            let whole: Vec<Prism> = part_cuts(a);
            let left: f64 = inside(a, &whole, &shape) + inside(b, &part_cuts(b), &shape);
            let held: f64 = inside(a, &sawn(a), &shape) + inside(b, &sawn(b), &shape);
            if !worked.joints[0].word.contains("screws") && left > 1e-6 * volume {
                wrong.push(format!("{left:.3} mm3 of an insert are not cut out for it"));
            }
            if (held - volume).abs() > 5e-6 * volume {
                wrong.push(format!("{:.3} mm3 of an insert stand in the open", volume - held));
            }
        }
    }
    wrong
}

/// A tenon that does not touch its mortise on four cheeks and its shoulders.
fn loose(member: &Standing, rail: &Standing) -> Option<String> {
    let mut ways: Vec<DVec3> = Vec::new();
    for contact in member.contacts(rail) {
        if ways.iter().all(|way| way.dot(contact.normal) < 1.0 - 1e-9) {
            ways.push(contact.normal);
        }
    }
    (ways.len() < 5).then(|| format!("the tenon touches its mortise on {} sides only", ways.len()))
}

/// A round peg a hair slimmer: its facets may be turned to those of its hole.
fn slimmer(body: &Prism) -> Prism {
    let mut slim = body.clone();
    if let [arc] = body.outline.arcs.as_slice() {
        slim.outline = Outline::circle(arc.centre, 0.99 * arc.radius);
    }
    slim
}

fn part_cuts(part: &WorkedPart) -> Vec<Prism> {
    part.cuts.iter().map(|c| c.shape.clone()).collect()
}

/// A message without its figures, to count by.
fn kind_of(problem: &Problem) -> String {
    let text: String = problem.message.chars().map(|c| if c.is_ascii_digit() { '0' } else { c }).collect();
    let mut plain = format!("{}: {text}", problem.code);
    for _ in 0..6 {
        plain = plain.replace("00", "0").replace("0.0", "0").replace("-0", "0");
    }
    for side in ["left", "right", "front", "back", "bottom", "top"] {
        plain = plain.replace(&format!(" {side} "), " SIDE ");
    }
    plain
}

/// A prism as the independent library reads it.
fn json(prism: &Prism) -> String {
    let ring = |outline: &Outline| {
        let rings: Vec<String> = outline
            .rings
            .iter()
            .map(|r| {
                let points: Vec<String> = r.points.iter().map(|p| format!("[{:?},{:?}]", p.x, p.y)).collect();
                format!("[{}]", points.join(","))
            })
            .collect();
        format!("[{}]", rings.join(","))
    };
    format!(
        "{{\"at\":{},\"rings\":{},\"from\":{:?},\"to\":{:?}}}",
        frame(&prism.at),
        ring(&prism.outline),
        prism.from,
        prism.to
    )
}

/// A placement as twelve figures.
fn frame(at: &Placement) -> String {
    let all: Vec<String> =
        [at.origin, at.x, at.y, at.z].iter().flat_map(DVec3::to_array).map(|v| format!("{v:?}")).collect();
    format!("[{}]", all.join(","))
}

/// A part as the independent library reads it.
fn part_json(part: &WorkedPart) -> String {
    let Body::Prism(_) = &part.body else { panic!("flat parts only") };
    let cuts: Vec<String> = part.cuts.iter().map(|c| json(&c.shape)).collect();
    format!(
        "{{\"size\":[{:?},{:?},{:?}],\"at\":{},\"cuts\":[{}],\"volume\":{:?}}}",
        part.size.x,
        part.size.y,
        part.size.z,
        frame(&part.at),
        cuts.join(","),
        part.solid.volume()
    )
}

/// A job worked, and looked over where it could be.
fn looked_over(job: &Job) -> (WorkedJob, Vec<Problem>) {
    let (worked, mut problems) = rodwright::joinery::work(job);
    if problems.iter().all(|p| p.severity != Severity::Error) {
        problems.extend(rodwright::checks::check(job, &worked));
    }
    (worked, problems)
}

/// Tries so many cases of each word.
fn by_lot(tries: usize) {
    let only = std::env::var("ONLY").ok();
    let says = std::env::var("SAYS").is_ok();
    let mut pairs = std::env::var("PAIRS").ok().map(|path| std::fs::File::create(path).unwrap());
    let mut wrong = Vec::new();
    for (k, (word, work)) in WORDS.iter().enumerate() {
        if only.as_ref().is_some_and(|o| o != word) {
            continue;
        }
        let mut refused: BTreeMap<String, (usize, u64)> = BTreeMap::new();
        let mut made = 0;
        for seed in 0..tries as u64 {
            let mut lot = Lot(seed + 100_000 * (k as u64 + 1));
            let (job, meets) = case(work, &mut lot);
            let (worked, problems) = looked_over(&job);
            let Meets { lean, edgeways, gap, normal, must } = meets;
            let what =
                format!("{work} seed {seed}: {lean}°, edgeways {edgeways}, {gap} from the face at {normal}");
            let errors: Vec<&Problem> = problems.iter().filter(|p| p.severity == Severity::Error).collect();
            for problem in &errors {
                refused.entry(kind_of(problem)).or_insert((0, seed)).0 += 1;
                if ["no-body", "nothing-left", "does-not-close", "falls-apart"].contains(&problem.code) {
                    wrong.push(format!("{what}: {}", problem.message));
                }
            }
            if *word == "butt" && must && !errors.is_empty() {
                wrong.push(format!("{what}: refused, but its end lies on the face"));
            }
            if errors.is_empty() {
                made += 1;
                wrong.extend(faults(&worked).into_iter().map(|said| format!("{what}: {said}")));
                if let Some(file) = &mut pairs {
                    let [a, b] = [&worked.parts[0], &worked.parts[1]].map(part_json);
                    writeln!(file, "{{\"work\":\"{word}\",\"parts\":[{a},{b}]}}").unwrap();
                }
            }
        }
        if says {
            let mut out = std::io::stderr();
            writeln!(out, "{work}: {made} of {tries} made").unwrap();
            for (kind, (count, seed)) in refused {
                writeln!(out, "   {count:4} {kind} (seed {seed})").unwrap();
            }
        }
    }
    assert!(wrong.is_empty(), "{} wrong\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn boards_at_any_lean_are_joined_or_refused() {
    by_lot(std::env::var("TRIES").ok().map_or(6, |n| n.parse::<usize>().unwrap().div_ceil(WORDS.len())));
}

/// Cases that long runs found wrong: tenons with a corner before the face, joints on a face of
/// less than a square millimetre.
const ONCE_WRONG: &[(&str, &[u64])] = &[
    ("mortise_tenon", &[125, 396, 411, 423, 550, 577, 657, 684, 803, 838, 853, 948]),
    ("butt", &[888]),
    ("mitre", &[296, 392, 990]),
];

#[test]
fn cases_once_wrong_are_made_rightly_or_refused() {
    for (word, seeds) in ONCE_WRONG {
        let (k, (_, work)) = (0..).zip(WORDS).find(|(_, (known, _))| known == word).unwrap();
        for seed in *seeds {
            let (job, _) = case(work, &mut Lot(seed + 100_000 * (k + 1)));
            let (worked, problems) = looked_over(&job);
            if problems.iter().all(|p| p.severity != Severity::Error) {
                assert_eq!(faults(&worked), Vec::<String>::new(), "{work} seed {seed}");
            }
        }
    }
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;
    use crate::joints::lot::by_lot::{LOOKS, faults as drawn_faults};

    /// Cases that are not yet drawn as they should be, by work and seed, each with what is wrong:
    /// faults of the sheets to be mended, not of the test. One that is mended is struck off.
    const NOT_YET: &[(&str, &[u64], &str)] = &[
        (
            "screws(member, part",
            &[1, 6],
            "a hole square to a leaning end is not placed from its inner corner",
        ),
        ("screws(part, member", &[34, 52, 62], "holes of leaning ends: not drawn, or without their corner"),
        ("dowels(part", &[1], "holes square to a leaning end are placed from no corner, or another"),
        ("housing(part", &[0], "what is sunk askew to a face has no mitre to be placed in"),
        ("groove(part", &[5, 6], "what is sunk askew to a face has no mitre to be placed in"),
        ("biscuits(part", &[12], "the slot's depth is not told square to its face"),
        ("loose_tenons(part", &[0, 1, 4], "mortises of leaning ends: not drawn, twice, or without corner"),
        ("bridle(part", &[7, 12], "a slot askew to its part is sized by its depth alone"),
        ("halving(part", &[0, 6], "a slot askew to its part is sized by its depth alone"),
    ];

    /// Some of what is made, on paper: no finding of the lint, and every part comes back.
    #[test]
    fn boards_at_any_lean_are_drawn_and_come_back() {
        let only = std::env::var("ONLY").ok();
        let tries = std::env::var("TRIES").ok().map_or(3, |n| n.parse().unwrap());
        let mut wrong = Vec::new();
        for (k, (word, work)) in WORDS.iter().enumerate() {
            if only.as_ref().is_some_and(|o| o != word) {
                continue;
            }
            let mut drawn = 0;
            for seed in 0..40 * tries as u64 {
                let mut lot = Lot(seed + 100_000 * (k as u64 + 1));
                let (job, meets) = case(work, &mut lot);
                let (worked, problems) = looked_over(&job);
                if problems.iter().any(|p| p.severity == Severity::Error) {
                    continue;
                }
                let found = drawn_faults(&job, &worked, LOOKS[drawn % LOOKS.len()]);
                let known =
                    NOT_YET.iter().any(|(of, seeds, _)| work.starts_with(of) && seeds.contains(&seed));
                if known && found.is_empty() {
                    wrong.push(format!("{work} seed {seed} is mended: strike it off"));
                }
                let found = if known { Vec::new() } else { found };
                wrong.extend(found.into_iter().map(|said| format!("{work} seed {seed} {meets:?}: {said}")));
                drawn += 1;
                if drawn == tries {
                    break;
                }
            }
        }
        assert!(wrong.is_empty(), "{} wrong\n{}", wrong.len(), wrong.join("\n"));
    }
}
