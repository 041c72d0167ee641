//! Twin and pegged tenons: what is cut comes out as boxes and cylinders, pegs
//! pass through both parts, and what cannot be done is said with figures.

use rodwright::joinery::{CutKind, WorkedJob};

use crate::support::golden::golden;
use crate::support::joints::{
    boards, clear_of_one_another, good, near, problem, rail_and_leg, removed, round, worked,
};
use crate::support::lot::Lot;
use crate::support::said::{called, item, setting};

#[test]
fn twin_tenons_are_a_fifth_each() {
    let job = good(&rail_and_leg("twin: true"));
    // 40 / 5 is an 8 chisel; two thirds of 80 is 53; shoulders of 6.
    assert_eq!(called(&job, 0), "mortises and twin tenons 8 × 78, 53 mm long");
    assert_eq!(setting(&job, 0), "two, 8 mm apart: mortise 8 × 78, 55 mm deep");
    near(removed(&job, 0), 53.0 * (90.0 * 40.0 - 2.0 * 8.0 * 78.0));
    near(removed(&job, 1), 2.0 * 8.0 * 78.0 * 55.0);
    // A haunch is let in as far as one of them is thick.
    let job =
        good(&rail_and_leg("twin: true, haunch: \"top\"").replace("660.0", "700.0").replace("570", "610"));
    near(removed(&job, 1), 2.0 * 8.0 * (54.0 * 55.0 + 30.0 * 10.0));
}

#[test]
fn pegs_go_through_both_parts() {
    let job = good(&rail_and_leg("pegs: 2"));
    let joint = &job.joints[0];
    // A third of a tenon of 53 is more than one and a half pegs of 8.
    assert_eq!(called(&job, 0), "mortise and tenon 12 × 78, 53 mm long, 2 pegs");
    assert_eq!(setting(&job, 0), "mortise 12 × 78, 55 mm deep; peg holes ⌀ 8, 17.7 mm from the face");
    let pegs = &joint.inserts[0];
    assert_eq!((item(pegs).as_str(), pegs.at.len()), ("peg ⌀ 8 × 60, riven, of Pine", 2));
    // The mortise has taken 12 of the 60 that a hole is long.
    near(removed(&job, 1), 12.0 * 78.0 * 55.0 + 2.0 * round(8.0) * 48.0);
    near(removed(&job, 0), 53.0 * (90.0 * 40.0 - 12.0 * 78.0) + 2.0 * round(8.0) * 12.0);
}

/// Centres of the peg holes of a part, in the piece.
fn holes(job: &WorkedJob, part: usize) -> Vec<[f64; 3]> {
    let part = &job.parts[part];
    let bores = part.cuts.iter().filter(|c| c.kind == CutKind::PegHole);
    bores.map(|c| part.at.point(c.shape.at.origin).to_array()).collect()
}

#[test]
fn drawn_bores_stand_nearer_the_shoulder() {
    let job = good(&rail_and_leg("pegs: 1, peg: 10, drawbore: 1.5"));
    let (rail, leg) = (holes(&job, 0), holes(&job, 1));
    near(leg[0][0], 400.0 + 53.0 / 3.0);
    near(rail[0][0], 400.0 + 53.0 / 3.0 - 1.5);
    near(rail[0][2], leg[0][2]);
    assert!(setting(&job, 0).ends_with(", in the tenon 1.5 mm nearer the shoulder"));
}

#[test]
fn pegged_and_twin_tenons_by_lot() {
    let mut made = 0;
    for seed in 500..560 {
        let mut lot = Lot(seed);
        let thick = lot.between(20.0, 70.0);
        let (wide, leg) = (lot.between(40.0, 200.0), lot.between(30.0, 110.0));
        let deep = lot.between(thick, 110.0);
        let inset = lot.between(0.0, deep - thick);
        let mut options = vec![format!("twin: {}", lot.of(2) == 0)];
        let pegs = lot.of(4);
        if pegs > 0 {
            options.push(format!("pegs: {pegs}, peg: {}", lot.between(5.0, 12.0)));
            if lot.of(2) == 0 {
                options.push(format!("drawbore: {}", lot.between(0.5, 2.0)));
            }
        }
        options.extend((lot.of(3) == 0).then(|| "through: true".to_owned()));
        options.extend((lot.of(3) == 0).then(|| "haunch: \"top\"".to_owned()));
        options.extend((lot.of(3) == 0).then(|| format!("thickness: {}", lot.between(5.0, 14.0))));
        let text = boards(
            [[0.0, 400.0], [inset, inset + thick], [660.0 - wide, 660.0]],
            [[400.0, 400.0 + leg], [0.0, deep], [0.0, 700.0]],
            ["x", "z"],
            &format!("mortise_tenon(a, b, #{{ {} }});", options.join(", ")),
        );
        made += usize::from(stands(&text, pegs));
    }
    assert!(made >= 25, "only {made} of 60 could be made");
}

/// The mortises of the leg: into it, across the tenon and along it, mm.
fn mortises(job: &WorkedJob) -> Vec<[f64; 3]> {
    let leg = &job.parts[1];
    let cut = leg.cuts.iter().filter(|c| c.kind == CutKind::Mortise);
    let extent = |c: &rodwright::joinery::Cut, axis: usize| {
        let all = rodwright::joinery::corners(&c.shape);
        let on = all.iter().map(|p| leg.at.point(*p).to_array()[axis]);
        let (low, high) = on.fold((f64::MAX, f64::MIN), |(l, h), v| (l.min(v), h.max(v)));
        high - low
    };
    cut.map(|c| [0, 1, 2].map(|axis| extent(c, axis))).collect()
}

/// Works a joint by lot: tenons fill their mortises but for the room at the
/// bottom, holes lie in wood and in line. False where it was refused.
fn stands(text: &str, pegs: usize) -> bool {
    let (job, problems) = worked("test", text, &[]);
    if problems.contains("error[") {
        let codes = ["breaks-through", "tenon-too-thick", "tenon-too-wide", "does-not-fit"];
        assert!(codes.iter().any(|c| problems.contains(c)), "{text}{problems}");
        return false;
    }
    clear_of_one_another(&job);
    let boxes = mortises(&job);
    let main = boxes.iter().map(|b| b[0]).fold(0.0, f64::max);
    let full = |b: &&[f64; 3]| b[0] > main - 1e-6;
    let spare = |b: &[f64; 3]| {
        if called(&job, 0).starts_with("through") && full(&b) { 0.0 } else { 2.0 }
    };
    assert_eq!(boxes.iter().filter(full).count(), if text.contains("twin: true") { 2 } else { 1 });
    let cheeks: f64 = boxes.iter().filter(full).map(|b| b[1]).sum();
    let bore = holes(&job, 1);
    assert_eq!((bore.len(), holes(&job, 0).len()), (pegs, pegs));
    let peg =
        text.split("peg: ").nth(1).map_or(0.0, |t| t.split([',', ' ']).next().unwrap().parse().unwrap());
    let hole = round(peg) * pegs as f64;
    let [rail, leg] = [&job.parts[0], &job.parts[1]];
    let held: f64 = boxes.iter().map(|b| b[1] * b[2] * (b[0] - spare(b))).sum();
    near(rail.solid.volume() - 400.0 * rail.size.y * rail.size.z, held - hole * cheeks);
    let taken: f64 = boxes.iter().map(|b| b[0] * b[1] * b[2]).sum();
    let deep = leg.at.dir(leg.size).y.abs();
    near(removed(&job, 1), taken + hole * (deep - cheeks));
    // A peg stands square to the cheeks and finds both holes within its bend.
    let pairs = bore.iter().zip(holes(&job, 0));
    for (one, other) in pairs {
        assert!((one[0] - other[0]).abs() <= 0.25 * peg + 1e-6 && (one[2] - other[2]).abs() < 1e-3);
    }
    true
}

#[test]
fn pegs_that_cannot_be_set_are_said_with_figures() {
    let said = |options: &str| problem(&rail_and_leg(options));
    let cases = [
        ("peg without pegs", said("peg: 8")),
        ("drawbore without pegs", said("drawbore: 1")),
        ("too little tenon behind", said("pegs: 1, depth: 20, peg: 10")),
        ("peg too stiff", said("pegs: 1, peg: 6, drawbore: 2")),
        ("too many pegs", said("pegs: 6, peg: 10")),
        ("twins too thick", said("twin: true, thickness: 14")),
        ("thin shoulder of twins", said("twin: true, thickness: 13")),
    ];
    golden(file!(), &cases);
}
