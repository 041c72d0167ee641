//! Two boards and what is made of them, for the tests of joints.

use std::sync::Arc;

use rodwright::geometry::trig;
use rodwright::joinery::{self, CutKind, WorkedJob};
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
pub(crate) fn script(name: &str, settings: &[(&str, &str)]) -> WorkedJob {
    let text = std::fs::read_to_string(format!("scripts/{name}.rhai")).unwrap();
    let (job, problems) = worked(name, &text, settings);
    assert_eq!(problems, "", "{name} {settings:?}");
    job
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

/// A rail `a` of 400 by 90 by 40 against the right of which a leg `b` of 80 by 60 stands,
/// tenoned.
pub(crate) fn rail_and_leg(options: &str) -> String {
    boards(
        [[0.0, 400.0], [10.0, 50.0], [570.0, 660.0]],
        [[400.0, 480.0], [0.0, 60.0], [0.0, 700.0]],
        ["x", "z"],
        &format!("mortise_tenon(a, b, #{{ {options} }});"),
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

/// Message and help of the only problem of a script, without its excerpt.
pub(crate) fn problem(text: &str) -> String {
    let (_, problems) = worked("test", text, &[]);
    assert!(problems.ends_with("1 error\n"), "{problems}");
    let said = problems.lines().filter(|l| l.starts_with("error") || l.contains("= help"));
    said.map(|l| l.trim_start().to_owned() + "\n").collect()
}

/// Messages and help of the warnings of a script that has no error, without excerpts.
pub(crate) fn warned(text: &str) -> String {
    let (job, problems) = worked("test", text, &[]);
    assert!(!job.joints.is_empty() && !problems.contains("error["), "{problems}");
    let said = problems.lines().filter(|l| l.starts_with("warning[") || l.contains("= help"));
    said.map(|l| l.trim_start().to_owned() + "\n").collect()
}

/// Middles of the bores of a kind in a part, in piece coordinates.
pub(crate) fn middles(job: &WorkedJob, part: usize, kind: CutKind) -> Vec<[f64; 3]> {
    let part = &job.parts[part];
    let cuts = part.cuts.iter().filter(|cut| cut.kind == kind);
    cuts.map(|cut| part.at.point(cut.shape.at.origin).to_array().map(|v| (v * 1e6).round() / 1e6)).collect()
}
