//! Splayed and raked legs: tenons that lean, feet sawn level. Angles against
//! closed forms derived here. `UPDATE=1` writes the messages anew.

use rodwright::geometry::{DVec3, trig};
use rodwright::joinery::{CutKind, WorkedJob};
use rodwright::solid::Standing;

use crate::support::golden::golden;
use crate::support::joints::{clear_of_one_another, near, problem, worked};
use crate::support::lot::Lot;
use crate::support::said::{called, setting};

/// A leg of `leg` by `deep` under a seat `thick`, 420 high, that leans by `a`
/// seen from the front and `b` seen from the side.
fn leg_and_seat((a, b): (f64, f64), (leg, deep): (f64, f64), thick: f64, works: &str) -> String {
    let (x, y) = (0.5 * leg, 0.5 * deep);
    format!(
        "job(\"Test\", #{{ unit: \"mm\" }});\nlet ash = board_stock(\"Ash\", #{{ thick: [41, 54] }});\npiece(\"Stool\");\n\
         let seat = board(\"seat\", ash, #{{ x: [-200, 200], y: [-150, 150], z: [420, {:?}], grain: \"x\", face: \"bottom\" }});\n\
         let leg = board(\"leg\", ash, #{{ x: [{:?}, {x:?}], y: [{:?}, {y:?}], z: [0, 420], grain: \"z\", splay: {a:?}, rake: {b:?} }});\n\
         {works}\n",
        420.0 + thick,
        -x,
        -y,
    )
}

/// The figures of a text.
fn figures(text: &str) -> Vec<f64> {
    text.split(|c: char| !(c.is_ascii_digit() || c == '.')).filter_map(|w| w.parse().ok()).collect()
}

#[test]
fn the_resultant_of_splay_and_rake_follows_the_closed_form() {
    // Derived here: a leg that drops h goes out by h tan a seen from the front
    // and by h tan b seen from the side, so by h √(tan² a + tan² b) in all:
    // tan² r = tan² a + tan² b, along a line tan b / tan a off the length.
    for (a, b) in [(8.0, 5.0), (10.0, 7.0), (12.5, 12.5), (15.0, 2.0), (3.0, 20.0)] {
        let text = leg_and_seat((a, b), (36.0, 36.0), 40.0, "mortise_tenon(leg, seat);\nlevel(leg);");
        let (job, problems) = worked("test", &text, &[]);
        assert_eq!(problems, "");
        let tan = |d: f64| trig::tan(f64::to_radians(d));
        let r = trig::atan2((tan(a) * tan(a) + tan(b) * tan(b)).sqrt(), 1.0).to_degrees();
        let said = *figures(&called(&job, 0)).last().unwrap();
        assert!((said - r).abs() < 0.006, "{a}, {b}: {} is not {r}", called(&job, 0));
        // Seen from the front and from the side the leg leans by what was asked.
        let leg = &job.parts[1];
        let down = if leg.at.x.z < 0.0 { leg.at.x } else { -leg.at.x };
        near(down.x / -down.z, tan(a));
        near(down.y / -down.z, tan(b));
        // The shoulder is level: its normal has the shares of the upright along the
        // leg and across it. The gauge is the angle of the first two, the blade
        // that of the third to both; cos r = cos g cos b, whatever way the leg's
        // faces are turned.
        let set = figures(&setting(&job, 0));
        let (gauge, blade) = (set[0], set[1]);
        let cos = |d: f64| trig::sin_cos(f64::to_radians(d)).1;
        assert!((cos(gauge) * cos(blade) - cos(r)).abs() < 1e-4, "{}", setting(&job, 0));
        let local = leg.at.local_dir(DVec3::Z);
        assert!((tan(gauge) - (local.y / local.x).abs()).abs() < 2e-4);
        // From the floor to the seat along the leg's middle: 420 / cos r, and the
        // foot's long point by half the section's reach besides.
        let reach = 18.0 * (local.y.abs() + local.z.abs()) / local.x.abs();
        let depth = figures(&called(&job, 0))[2];
        near(leg.size.x, 420.0 / cos(r) + depth + reach);
        let foot = leg.solid.points.iter().map(|p| leg.at.point(*p).z).fold(f64::INFINITY, f64::min);
        near(foot, 0.0);
    }
}

#[test]
fn leaning_tenons_by_lot_fill_their_mortises() {
    let mut made = 0;
    for seed in 1200..1240 {
        let mut lot = Lot(seed);
        let lean = |lot: &mut Lot| if lot.of(4) == 0 { 0.0 } else { lot.between(-18.0, 18.0) };
        let (a, b) = (lean(&mut lot), lean(&mut lot));
        let section = (lot.between(26.0, 60.0), lot.between(26.0, 60.0));
        let thick = lot.between(24.0, 50.0);
        let option = match lot.of(4) {
            0 => "through: true".to_owned(),
            1 => format!("depth: {:?}", lot.between(10.0, 26.0)),
            2 => format!("thickness: {:?}, shoulder: {:?}", lot.between(10.0, 20.0), lot.between(2.0, 5.0)),
            _ => String::new(),
        };
        if a == 0.0 && b == 0.0 {
            continue;
        }
        let works = format!("mortise_tenon(leg, seat, #{{ {option} }});\nlevel(leg);");
        let text = leg_and_seat((a, b), section, thick, &works);
        let (job, problems) = worked("test", &text, &[]);
        if problems.contains("error[") {
            let codes = ["breaks-through", "tenon-too-thick", "tenon-too-wide"];
            assert!(codes.iter().any(|c| problems.contains(c)), "{text}{problems}");
            continue;
        }
        made += 1;
        stands(&job, option.contains("through"), &text);
    }
    assert!(made >= 25, "only {made} of 40 could be made");
}

/// Seat and leg touch at the shoulders and at all four cheeks and nowhere run
/// into one another; the tenon fills its mortise but for 2 mm at its bottom.
fn stands(job: &WorkedJob, through: bool, text: &str) {
    clear_of_one_another(job);
    let [seat, leg] = [&job.parts[0], &job.parts[1]];
    let mortise = seat.cuts.iter().find(|c| c.kind == CutKind::Mortise).unwrap();
    let (lo, hi) = mortise.shape.outline.bounds().unwrap();
    let area = (hi - lo).element_product();
    let taken = seat.size.element_product() - seat.solid.volume();
    // What stands above the seat's underside is tenon.
    let under = 420.0;
    let standing = |k: usize| Standing::new(&job.parts[k].solid, &job.parts[k].at);
    let touching = standing(0).contacts(&standing(1));
    let drawn: f64 = touching.iter().map(|c| c.area).sum();
    let steep = leg.at.x.z.abs();
    let thick = seat.size.z;
    // A slant prism has the volume of a right one as long as its middle line.
    let middle = if through { thick / steep } else { taken / area };
    near(taken, area * middle);
    let depth = if through { middle } else { middle - 2.0 };
    let said = figures(&called(job, 0))[2];
    assert!((said - depth).abs() < 0.06, "{said} is not {depth}: {text}");
    // Cheeks of the tenon on those of the mortise: round the section along its
    // middle line; shoulders: the leg's section less the tenon's, on the slant.
    let cheeks = 2.0 * (hi.x - lo.x + hi.y - lo.y) * depth;
    let shoulders = (leg.size.y * leg.size.z - area) / steep;
    assert!(
        (drawn - cheeks - shoulders).abs() < 0.01 * (cheeks + shoulders),
        "touch on {drawn}, not on {cheeks} and {shoulders}: {text}"
    );
    // The leg below the seat is a slant prism from floor to shoulder.
    let points = leg.solid.points.iter().map(|p| leg.at.point(*p).z);
    let (low, high) = points.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), z| (a.min(z), b.max(z)));
    near(low, 0.0);
    if through {
        near(high, under + thick);
    }
    near(leg.solid.volume(), leg.size.y * leg.size.z * under / steep + area * depth);
}

#[test]
fn rails_tenoned_into_leaning_legs_by_lot() {
    // An apron, level, between two legs that lean: its shoulders are sawn to their
    // faces.
    let mut made = 0;
    for seed in 1240..1266 {
        let mut lot = Lot(seed);
        let (a, b) = (lot.between(2.0, 14.0), lot.between(0.0, 12.0));
        let (leg, high, thick) = (lot.between(36.0, 60.0), lot.between(50.0, 90.0), lot.between(18.0, 28.0));
        let text = format!(
            "job(\"Test\", #{{ unit: \"mm\" }});\nlet ash = board_stock(\"Ash\", #{{ thick: [41, 54] }});\npiece(\"Table\");\n\
             let left = board(\"left\", ash, #{{ x: [0, {leg:?}], y: [0, {leg:?}], z: [0, 700], grain: \"z\", splay: {:?}, rake: {:?} }});\n\
             let right = board(\"right\", ash, #{{ x: [600, {:?}], y: [0, {leg:?}], z: [0, 700], grain: \"z\", splay: {a:?}, rake: {:?} }});\n\
             let apron = board(\"apron\", ash, #{{ x: [{leg:?}, 600], y: [{:?}, {:?}], z: [{:?}, 660], grain: \"x\", face: \"front\" }});\n\
             for post in [left, right] {{ mortise_tenon(apron, post); level(post); }}\n",
            -a,
            -b,
            600.0 + leg,
            -b,
            0.5 * (leg - thick),
            0.5 * (leg + thick),
            660.0 - high,
        );
        let (job, problems) = worked("test", &text, &[]);
        if problems.contains("error[") {
            assert!(problems.contains("[breaks-through]"), "{text}{problems}");
            continue;
        }
        made += 1;
        clear_of_one_another(&job);
        assert_eq!(job.joints.len(), 2);
        // A mirror pair: the settings of both ends are one.
        assert_eq!(setting(&job, 0), setting(&job, 1));
        for post in [0, 1] {
            let touching = Standing::new(&job.parts[2].solid, &job.parts[2].at)
                .contacts(&Standing::new(&job.parts[post].solid, &job.parts[post].at));
            assert!(touching.len() >= 5, "{} faces touch: {text}", touching.len());
        }
    }
    assert!(made >= 20, "only {made} of 26 could be made");
}

#[test]
fn leaning_parts_that_cannot_be_joined_are_said_with_figures() {
    let said = |works: &str| problem(&leg_and_seat((10.0, 7.0), (36.0, 36.0), 36.0, works));
    let tenon = |options: &str| said(&format!("mortise_tenon(leg, seat, #{{ {options} }});"));
    let usual = leg_and_seat((10.0, 7.0), (36.0, 36.0), 36.0, "mortise_tenon(leg, seat);");
    let cases = [
        ("haunch", tenon("haunch: \"left\"")),
        ("mortise too deep", tenon("depth: 40")),
        ("a corner that does not enter", tenon("depth: 5")),
        ("depth of a through tenon", tenon("depth: 20, through: true")),
        ("no shoulder", tenon("thickness: 40")),
        ("thin shoulder", tenon("thickness: 34")),
        ("width and shoulder", tenon("width: 20, shoulder: 4")),
        ("leans too far", problem(&usual.replace("splay: 10.0", "splay: 40"))),
        ("far from the seat", problem(&usual.replace("z: [0, 420], grain", "z: [0, 220], grain"))),
        ("at the edge of the seat", problem(&usual.replace("x: [-200, 200]", "x: [-18, 200]"))),
        ("nothing to level", said("level(seat);")),
        ("level far off", said("level(leg, #{ at: 900 });")),
        ("level no end", said("level(leg, #{ end: \"left\" });")),
    ];
    golden(file!(), &cases);
}

#[test]
fn pegs_of_a_leaning_tenon_lie_as_far_in_along_it_and_draw_it_home() {
    let works = "mortise_tenon(leg, seat, #{ depth: 40, pegs: 1, peg: 8, drawbore: 1.5 });\nlevel(leg);";
    let (job, problems) = worked("test", &leg_and_seat((8.0, 0.0), (36.0, 36.0), 54.0, works), &[]);
    assert_eq!(problems, "");
    // A third of 40 is more than one and a half pegs of 8.
    let said = setting(&job, 0);
    assert!(
        said.ends_with("; peg holes ⌀ 8, 13.3 mm from the face, in the tenon 1.5 mm nearer the shoulder"),
        "{said}"
    );
    let hole = |part: usize| {
        let part = &job.parts[part];
        let cut = part.cuts.iter().find(|cut| cut.kind == CutKind::PegHole).unwrap();
        part.at.point(cut.shape.at.origin)
    };
    let (seat, leg) = (hole(0), hole(1));
    // Along the leg, which leans 8 degrees, and not straight up from the face.
    let (sin, cos) = trig::sin_cos(8.0_f64.to_radians());
    near(seat.z - 420.0, 40.0 / 3.0 * cos);
    near(seat.z - leg.z, 1.5 * cos);
    near((seat.x - leg.x).abs(), 1.5 * sin);
    // Leaning both ways, it would come out askew.
    let askew = leg_and_seat((8.0, 6.0), (36.0, 36.0), 54.0, works);
    assert!(problem(&askew).contains("a peg square to its cheeks would come out askew"));
}
