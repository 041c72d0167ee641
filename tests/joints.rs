//! Joints find their places and cut both parts. Volumes are closed forms of plane
//! geometry, derived beside each. `UPDATE=1` writes the messages anew.

use std::sync::Arc;

use rodwright::geometry::{DVec3, trig};
use rodwright::joinery::{self, WorkedJob};
use rodwright::problem::render_all;
use rodwright::script::{Limits, NoModules, Request, evaluate};
use rodwright::solid::Standing;

/// A script worked: its parts and joints, and its problems as the maker reads
/// them.
pub(crate) fn worked(name: &str, text: &str, settings: &[(&str, &str)]) -> (WorkedJob, String) {
    let evaluated = evaluate(&Request {
        name: name.into(),
        text: text.into(),
        settings: settings.iter().map(|(n, v)| ((*n).into(), (*v).into())).collect(),
        loader: Arc::new(NoModules),
        words: joinery::words(),
        limits: Limits::default(),
    });
    let mut problems = evaluated.problems;
    let (job, more) = evaluated.job.as_ref().map(joinery::work).unwrap_or_default();
    problems.extend(more);
    (job, render_all(&problems, &evaluated.sources))
}

/// A script of the project, worked without a problem.
fn script(name: &str, settings: &[(&str, &str)]) -> WorkedJob {
    let text = std::fs::read_to_string(format!("scripts/{name}.rhai")).unwrap();
    let (job, problems) = worked(name, &text, settings);
    assert_eq!(problems, "", "{name} {settings:?}");
    job
}

#[test]
fn the_three_scripts_are_worked() {
    for (name, settings) in [
        ("periodicals_cabinet", &[][..]),
        ("periodicals_cabinet", &[("tongue", "12"), ("width", "1211.3")]),
        ("low_bookcase", &[]),
        ("low_bookcase", &[("inches", "yes"), ("housing", "through"), ("shelves", "4"), ("height", "1300")]),
        ("notice_frame", &[]),
        ("notice_frame", &[("glass", "no"), ("face", "60")]),
    ] {
        let job = script(name, settings);
        assert!(!job.joints.is_empty());
        for part in &job.parts {
            let (low, high) = part.solid.bounds().unwrap();
            // No part is larger than its blank, and none is wasted.
            assert!(low.abs().max_element() < 1e-6, "{name}: {} begins at {low}", part.name);
            assert!((high - part.size).abs().max_element() < 1e-6, "{name}: {} ends at {high}", part.name);
            assert!(part.number > 0);
        }
        clear_of_one_another(&job);
    }
}

/// No two parts of a job stand in one another, as cut.
pub(crate) fn clear_of_one_another(job: &WorkedJob) {
    let standing: Vec<Standing> = job.parts.iter().map(|p| Standing::new(&p.solid, &p.at)).collect();
    for (i, a) in job.parts.iter().enumerate() {
        for (j, b) in job.parts.iter().enumerate().skip(i + 1) {
            let deep = standing[i].interferes(&standing[j]);
            assert_eq!(deep, None, "{} and {} cross", a.name, b.name);
        }
    }
}

/// Two boards of a script: `a` and `b` in pine from a box each, then `works`.
pub(crate) fn boards(a: [[f64; 2]; 3], b: [[f64; 2]; 3], grain: [&str; 2], works: &str) -> String {
    let span = |r: [f64; 2]| format!("[{:?}, {:?}]", r[0], r[1]);
    let board = |name: &str, s: [[f64; 2]; 3], grain: &str| {
        let (x, y, z) = (span(s[0]), span(s[1]), span(s[2]));
        format!("let {name} = board(\"{name}\", pine, #{{ x: {x}, y: {y}, z: {z}, grain: \"{grain}\" }});\n")
    };
    format!(
        "job(\"Test\", #{{ unit: \"mm\" }});\nlet pine = board_stock(\"Pine\", #{{ thick: [27, 34] }});\n\
         piece(\"Piece\");\n{}{}{works}\n",
        board("a", a, grain[0]),
        board("b", b, grain[1])
    )
}

/// A shelf of 600 between nothing and the side `b` that stands to its right.
pub(crate) fn shelf_and_side(works: &str) -> String {
    boards(
        [[18.0, 618.0], [0.0, 300.0], [400.0, 418.0]],
        [[618.0, 636.0], [0.0, 300.0], [0.0, 800.0]],
        ["x", "z"],
        works,
    )
}

/// The job of a script without problems.
pub(crate) fn good(text: &str) -> WorkedJob {
    let (job, problems) = worked("test", text, &[]);
    assert_eq!(problems, "", "{text}");
    clear_of_one_another(&job);
    job
}

/// What the cuts take from a part, mm3.
pub(crate) fn removed(job: &WorkedJob, part: usize) -> f64 {
    let part = &job.parts[part];
    part.size.element_product() - part.solid.volume()
}

/// Area of a circle of 32 facets, the corners on it: n/2 r2 sin(2 pi / n).
pub(crate) fn round(diameter: f64) -> f64 {
    16.0 * (0.5 * diameter).powi(2) * trig::sin_cos(std::f64::consts::TAU / 32.0).0
}

/// Equal to a ten-thousandth of a cubic millimetre in a thousand.
pub(crate) fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-6 * b.abs().max(1000.0), "{a} is not {b}");
}

#[test]
fn a_housing_takes_a_channel_and_the_shelf_grows_into_it() {
    let job = good(&shelf_and_side("housing(a, b, #{ depth: 6 });"));
    near(removed(&job, 1), 18.0 * 300.0 * 6.0);
    near(removed(&job, 0), 0.0);
    near(job.parts[0].size.x, 606.0);
    let job = good(&shelf_and_side("housing(a, b, #{ depth: 6, stop: 12 });"));
    near(removed(&job, 1), 18.0 * 288.0 * 6.0);
    near(removed(&job, 0), 18.0 * 12.0 * 6.0);
    // A third of 18 where nothing is said.
    near(good(&shelf_and_side("housing(a, b, #{ });")).parts[0].size.x, 606.0);
}

#[test]
fn a_groove_leaves_its_slack() {
    let job = good(&shelf_and_side("groove(a, b, #{ depth: 8, slack: 0.5 });"));
    near(removed(&job, 1), 18.0 * 300.0 * 8.0);
    near(job.parts[0].size.x, 607.5);
}

#[test]
fn a_rebate_takes_the_corner_the_part_lies_in() {
    let text = boards(
        [[18.0, 618.0], [0.0, 300.0], [782.0, 800.0]],
        [[618.0, 636.0], [0.0, 300.0], [0.0, 800.0]],
        ["x", "z"],
        "rebate(a, b, #{ lap: 10 });",
    );
    let job = good(&text);
    near(removed(&job, 1), 10.0 * 300.0 * 18.0);
    near(job.parts[0].size.x, 610.0);
}

#[test]
fn mortises_lie_over_one_another() {
    let job = good(&shelf_and_side("loose_tenons(a, b, #{ tenon: \"8x40\", count: 3 });"));
    let stadium = |width: f64, thick: f64| (width - thick) * thick + round(thick);
    // 18 thick less 3 of wall: 15 deep; the other 26 + 1 deep in the shelf.
    near(removed(&job, 1), 3.0 * stadium(40.0, 8.0) * 15.0);
    near(removed(&job, 0), 3.0 * stadium(40.0, 8.0) * 27.0);
    mouths_meet(&job, 3);
    for (name, settings) in [("low_bookcase", &[("width", "1011.3")][..]), ("notice_frame", &[])] {
        mouths_meet(&script(name, settings), 1);
    }
}

/// Every mortise of a tenon joint has its mouth on one of the other part, and
/// there are at least `least` pairs.
fn mouths_meet(job: &WorkedJob, least: usize) {
    let mut pairs = 0;
    for (j, joint) in job.joints.iter().enumerate().filter(|(_, j)| j.word == "loose_tenons") {
        let mouths = |part: usize| {
            let part = &job.parts[part];
            let mine = part.cuts.iter().filter(move |c| c.joint == Some(j));
            mine.map(|c| part.at.point(c.shape.at.origin)).collect::<Vec<_>>()
        };
        let (a, b) = (mouths(joint.parts[0]), mouths(joint.parts[1]));
        assert_eq!(a.len(), b.len());
        for (p, q) in a.iter().zip(&b) {
            assert!(p.distance(*q) < 0.001, "{p} is not over {q}");
            pairs += 1;
        }
        assert_eq!(joint.inserts[0].at.len(), a.len());
    }
    assert!(pairs >= least);
}

#[test]
fn a_mitre_makes_long_and_short_points() {
    // Square and equal: the short point is one thickness behind the long one.
    let corner = |thick: f64, works: &str| {
        boards(
            [[0.0, 20.0], [0.0, 100.0], [0.0, 400.0]],
            [[0.0, 600.0], [0.0, 100.0], [400.0 - thick, 400.0]],
            ["z", "x"],
            works,
        )
    };
    for thick in [20.0, 30.0] {
        let job = good(&corner(thick, "mitre(a, b);"));
        near(removed(&job, 0), 0.5 * 20.0 * thick * 100.0);
        near(removed(&job, 1), 0.5 * 20.0 * thick * 100.0);
        let mut along: Vec<f64> =
            job.parts[0].solid.points.iter().map(|p| (p.x * 1e6).round() / 1e6).collect();
        along.sort_by(f64::total_cmp);
        along.dedup();
        // Both ends of one and the short point of the other: 0, 400 - t, 400.
        let short = if along[1] > 200.0 { along[2] - along[1] } else { along[1] - along[0] };
        assert_eq!(along.len(), 3);
        near(short, thick);
    }
    let job = good(&corner(20.0, "mitre(a, b, #{ connectors: 1 });"));
    assert_eq!(job.joints[0].inserts[0].at.len(), 1);
    let pocket = (50.0 - 7.0) * 7.0 + round(7.0);
    near(removed(&job, 1), 0.5 * 20.0 * 20.0 * 100.0 + pocket * 9.0);
}

#[test]
fn screws_stand_in_a_row() {
    let text = boards(
        [[0.0, 600.0], [300.0, 306.0], [0.0, 400.0]],
        [[0.0, 600.0], [0.0, 300.0], [100.0, 118.0]],
        ["x", "x"],
        "screws(a, b, #{ screw: \"3.5x16\", spacing: 150 });",
    );
    let job = good(&text);
    // 520 between the outer screws: four gaps of 130, five screws.
    assert_eq!(job.joints[0].says, "5 screws 3.5 × 16");
    near(removed(&job, 0), 5.0 * round(3.5) * 6.0);
    near(removed(&job, 1), 5.0 * round(0.7 * 3.5) * 10.0);
}

#[test]
fn lippings_keep_the_size_of_the_whole() {
    for (corner, last) in [("butted", 294.0 * 6.0), ("mitred", 300.0 * 6.0 - 36.0)] {
        let works = format!(
            "lipping(a, [\"front\", \"left\", \"back\"], pine, #{{ thick: 6, corner: \"{corner}\" }});"
        );
        let job = good(&shelf_and_side(&works));
        assert!(job.parts[0].size.abs_diff_eq(DVec3::new(594.0, 288.0, 18.0), 1e-9));
        let volume: f64 =
            job.parts.iter().filter(|p| p.name.starts_with('a')).map(|p| p.solid.volume()).sum();
        near(volume, 600.0 * 300.0 * 18.0);
        let left = job.parts.iter().find(|p| p.name == "a left lipping").unwrap();
        near(left.solid.volume(), last * 18.0);
    }
}

#[test]
fn lippings_are_bevelled_and_stand_proud() {
    // Over the shelf of 18 by 4 each way the strip is 26 wide; a bevel of a takes a
    // triangle of 26 by 26 tan a off its outer face.
    let strip = |options: &str| {
        let text = shelf_and_side(&format!("lipping(a, \"front\", pine, #{{ thick: 12{options} }});"));
        let (job, problems) = worked("test", &text, &[]);
        assert_eq!(problems, "", "{text}");
        let lip = job.parts.iter().find(|p| p.name == "a lipping").unwrap().clone();
        (lip.solid.volume(), lip.size, lip.at)
    };
    let (volume, size, at) = strip(", proud: 4");
    near(volume, 600.0 * 26.0 * 12.0);
    assert!(size.abs_diff_eq(DVec3::new(600.0, 26.0, 12.0), 1e-9), "{size}");
    let low = at.point(DVec3::ZERO).z.min(at.point(size).z);
    near(low, 396.0);
    for (wide, options) in [(18.0, ""), (26.0, ", proud: 4")] {
        let (volume, ..) = strip(&format!("{options}, bevel: 15"));
        near(volume, 600.0 * (wide * 12.0 - 0.5 * wide * wide * trig::tan(15.0_f64.to_radians())));
    }
    near(strip(", bevel: 15, long: \"top\"").0, strip(", bevel: 15, long: \"bottom\"").0);
}

#[test]
fn shaping_takes_what_geometry_says() {
    let size = 600.0 * 300.0 * 18.0;
    let quarter = 4.0 * 36.0 - round(12.0);
    for (works, gone) in [
        (
            "hole(a, \"top\", #{ diameter: 10, along: [100, 200], across: 50, depth: 12 });",
            2.0 * round(10.0) * 12.0,
        ),
        ("slot(a, \"top\", #{ along: [100, 140], width: 8 });", (32.0 * 8.0 + round(8.0)) * 18.0),
        ("notch(a, #{ x: [18, 68], y: [0, 20] });", 50.0 * 20.0 * 18.0),
        ("bevel(a, \"left\", #{ angle: 45, long: \"top\" });", 0.5 * 18.0 * 18.0 * 300.0),
        ("taper(a, \"front\", #{ by: 30, toward: \"left\", start: 100 });", 0.5 * 500.0 * 30.0 * 18.0),
        ("chamfer(a, \"top\", #{ width: 3, edges: \"front\" });", 0.5 * 9.0 * 600.0),
        (
            "round_over(a, \"top\", #{ radius: 6, edges: [\"front\", \"back\"] });",
            2.0 * 0.25 * quarter * 600.0,
        ),
        (
            "outline(a, \"top\", #{ points: [[0, 0], [600, 0], [600, 300], #{ at: [300, 300], rise: 50 }, [200, 300], [0, 300]] });",
            -1.0,
        ),
        (
            "outline(a, \"top\", #{ points: [[0, 0], [600, 0], [600, 100], [0, 300]] });",
            0.5 * 600.0 * 200.0 * 18.0,
        ),
    ] {
        let (job, problems) = worked("test", &shelf_and_side(works), &[]);
        if gone < 0.0 {
            // The arc to the outside leaves the part.
            assert!(problems.starts_with("error[off-the-part]"), "{problems}");
            continue;
        }
        assert_eq!(problems, "", "{works}");
        assert!(job.joints.is_empty());
        let left = job.parts[0].solid.volume();
        assert!(
            (size - left - gone).abs() < 1e-6 * gone.max(1000.0),
            "{works}: {} is not {gone}",
            size - left
        );
    }
}

#[test]
fn boards_of_a_hexagon_mitre_at_thirty_degrees() {
    // Regular hexagon of outer side 300, boards 20 thick: 30 degrees off square.
    let mut text = String::from(
        "job(\"Six\", #{ unit: \"mm\" });\nlet pine = board_stock(\"Pine\", #{ thick: [27] });\npiece(\"Six\");\nlet all = [];\n",
    );
    text += "for k in -1..2 { all += board(\"Board \" + k, pine, #{ x: [-150, 150], y: [0, 100], z: [150 * sqrt(3.0) - 20, \
             150 * sqrt(3.0)], grain: \"x\", turn: #{ axis: \"y\", by: 60 * k, about: [0, 0, 0] } }); }\n\
             for k in 0..2 { mitre(all[k], all[k + 1]); }\n";
    let job = good(&text);
    for (i, part) in job.parts.iter().enumerate() {
        // A wedge at each mitred end: half of 20 by 20 tan 30.
        let wedge = 0.5 * 20.0 * 20.0 * trig::tan(std::f64::consts::PI / 6.0) * 100.0;
        near(removed(&job, i), if i == 1 { 2.0 * wedge } else { wedge });
        assert_eq!(part.number, if i == 1 { 2 } else { 1 });
    }
    assert_eq!(job.joints[0].says, "mitred 30°");
}

#[test]
fn mirror_images_share_a_number() {
    let job = script("low_bookcase", &[]);
    let marks: Vec<String> = job.parts.iter().take(6).map(joinery::WorkedPart::mark).collect();
    assert_eq!(marks, ["1 L", "1 R", "2", "2", "2", "2"]);
    // Bottom and top are the same as they lie, so that they share one solid.
    assert!(Arc::ptr_eq(&job.parts[2].solid, &job.parts[5].solid));
}

/// Message and help of the only problem of a script, without its excerpt.
pub(crate) fn problem(text: &str) -> String {
    let (_, problems) = worked("test", text, &[]);
    assert!(problems.ends_with("1 error\n"), "{problems}");
    let said = problems.lines().filter(|l| l.starts_with("error") || l.contains("= help"));
    said.map(|l| l.trim_start().to_owned() + "\n").collect()
}

#[test]
fn what_cannot_be_made_is_said_with_figures() {
    let apart = boards(
        [[18.0, 615.0], [0.0, 300.0], [400.0, 418.0]],
        [[618.0, 636.0], [0.0, 300.0], [0.0, 800.0]],
        ["x", "z"],
        "housing(a, b, #{ depth: 6 });",
    );
    let crossing = apart.replace("615.0", "625.0").replace("housing(a, b, #{ depth: 6 })", "butt(a, b)");
    let cases = [
        problem(&apart),
        problem(&crossing),
        problem(&shelf_and_side("housing(a, b, #{ depth: 18 });")),
        problem(&shelf_and_side("groove(a, b, #{ depth: 4, slack: 5 });")),
        problem(&shelf_and_side("loose_tenons(a, b, #{ tenon: \"14x40\" });")),
        problem(&shelf_and_side("loose_tenons(a, b, #{ tenon: \"8x40\", count: 20 });")),
        problem(&shelf_and_side("screws(b, a, #{ screw: \"4x16\" });")),
        problem(&shelf_and_side("mitre(a, b);")),
        problem(&shelf_and_side("lipping(a, \"top\", pine, #{ thick: 6 });")),
        problem(&shelf_and_side("lipping(a, \"front\", pine, #{ thick: 6, bevel: 45 });")),
        problem(&shelf_and_side("lipping(a, \"front\", pine, #{ bevel: 5, chamfer: 2 });")),
        problem(&shelf_and_side("lipping(a, \"front\", pine, #{ bevel: 5, long: \"front\" });")),
        problem(&shelf_and_side("lipping(a, \"front\", pine, #{ long: \"top\" });")),
        problem(&shelf_and_side("lipping(a, \"front\", pine, #{ thick: 90 });").replace("300.0]", "60.0]")),
        problem(&shelf_and_side("lipping(a, \"front\", pine, #{ thick: 3, chamfer: 5 });")),
        problem(&shelf_and_side("lipping(a, [\"front\", \"front\"], pine);")),
        problem(&shelf_and_side("hole(a, \"top\", #{ diameter: 20, along: [5], across: 50 });")),
        problem(&shelf_and_side("notch(a, #{ x: [200, 260] });")),
        problem(&shelf_and_side("butt(a, a);")),
    ];
    golden("tests/joints_problems.txt", &cases);
}

/// Compares messages with a golden file; `UPDATE=1` writes it anew.
pub(crate) fn golden(path: &str, cases: &[String]) {
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(path, cases.join("\n")).unwrap();
    }
    let golden = std::fs::read_to_string(path).unwrap_or_default();
    assert_eq!(cases.join("\n"), golden);
}
