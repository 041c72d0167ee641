//! The furniture library: what `start` writes, every type at sizes drawn by lot, and
//! figures of whole pieces against handbooks and lists worked by hand.

use std::ffi::OsString;
use std::fmt::Write as _;
use std::sync::Arc;

use rodwright::cli::{Ended, Terminal, run};
use rodwright::cutting::cutting_list;
use rodwright::drawing::Look;
use rodwright::joinery::{PartSource, WorkedJob};
use rodwright::model::{Job, SizeKind};
use rodwright::paper::lint::judge_set;
use rodwright::problem::{Severity, render_all};
use rodwright::script::{Limits, LoadError, Loader, NoModules, Request, declared, evaluate, furniture};
use rodwright::solid::Standing;
use rodwright::{draw, examine};

use crate::sets::{describe, looks};
use crate::support::lot::Lot;

/// Names of all types.
fn types() -> Vec<&'static str> {
    furniture().iter().filter(|f| !f.takes.is_empty()).map(|f| f.module).collect()
}

/// Runs a command line.
fn command(line: &[&str]) -> (Ended, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let line = ["rodwright"].iter().chain(line).map(OsString::from);
    let ended = run(line, rodwright::words(), &mut Terminal::new(&mut out, &mut err));
    (ended, String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap())
}

/// The script `start` writes for a type.
fn started(name: &str, unit: &str) -> String {
    let (ended, out, err) = command(&["start", name, "--units", unit]);
    assert_eq!((ended, err.as_str()), (Ended::Done, ""), "{name}");
    out
}

fn request(name: &str, text: &str, settings: Vec<(String, String)>) -> Request {
    Request {
        name: format!("{name}.rhai"),
        text: text.into(),
        settings,
        loader: Arc::new(NoModules),
        words: rodwright::words(),
        limits: Limits::default(),
    }
}

/// Values in the ranges of a script; the first set are its defaults.
fn sizes(name: &str, text: &str, seed: u64) -> Vec<(String, String)> {
    if seed == 0 {
        return Vec::new();
    }
    let mut lot = Lot(seed * 7919);
    let all = declared(&request(name, text, Vec::new())).sizes;
    let drawn = |kind: &SizeKind, lot: &mut Lot| match kind {
        SizeKind::Length { from, to, .. } => {
            let (from, to) = (from.unwrap(), to.unwrap());
            format!("{}mm", lot.between(from, to).clamp(from, to))
        }
        SizeKind::Count { from, to, .. } => {
            let (from, to) = (from.unwrap(), to.unwrap());
            (from + i64::try_from(lot.of(usize::try_from(to - from + 1).unwrap())).unwrap()).to_string()
        }
        SizeKind::Choice { among, .. } => among[lot.of(among.len())].clone(),
        SizeKind::YesNo { .. } => ["yes", "no"][lot.of(2)].into(),
    };
    all.iter().map(|size| (size.name.clone(), drawn(&size.kind, &mut lot))).collect()
}

/// The piece of a type at one set of sizes, whole and without a problem, or nothing
/// where the type itself refuses the sizes and names the one to change.
fn made(name: &str, text: &str, settings: &[(String, String)]) -> Option<(Job, WorkedJob)> {
    let done = examine(&request(name, text, settings.to_vec()));
    let said = render_all(&done.problems, &done.sources);
    if let Some(first) = done.problems.iter().find(|p| p.severity == Severity::Error) {
        assert_eq!((first.code, done.problems.len()), ("impossible-size", 1), "{name} {settings:?}\n{said}");
        let named = settings.iter().any(|(n, _)| first.message.starts_with(&format!("`{n}`")));
        assert!(named && first.help.is_some() && !first.places.is_empty(), "{name}\n{said}");
        return None;
    }
    assert!(done.problems.is_empty(), "{name} {settings:?}\n{said}");
    done.worked
}

/// That nothing runs into anything, every solid has wood and no more than its blank,
/// and every part of the script stands once on the cutting list. That a joint holds
/// each part is a check of the program itself, which `made` lets say nothing.
fn sound(name: &str, job: &Job, worked: &WorkedJob) {
    let stands: Vec<Standing> = worked.parts.iter().map(|p| Standing::new(&p.solid, &p.at)).collect();
    for (i, part) in worked.parts.iter().enumerate() {
        let volume = part.solid.volume();
        let blank = part.size.x * part.size.y * part.size.z;
        assert!(
            volume > 0.0 && volume <= blank * (1.0 + 1e-6),
            "{name}: `{}` {volume} of {blank}",
            part.name
        );
        for j in i + 1..worked.parts.len() {
            let apart = part.piece != worked.parts[j].piece || stands[i].interferes(&stands[j]).is_none();
            assert!(apart, "{name}: `{}` runs into `{}`", part.name, worked.parts[j].name);
        }
    }
    let list = cutting_list(job, worked);
    let listed: usize = list.parts.iter().chain(&list.lippings).map(|row| row.which.len()).sum();
    assert_eq!(listed, worked.parts.len(), "{name}");
    assert!(worked.parts.iter().any(|p| matches!(p.source, PartSource::Part(_))), "{name}");
}

/// How many sets of each type are tried: 200 by a program built for speed, a few by one
/// built for finding faults; `TRIES=50` tries fewer or more.
fn tries() -> u64 {
    let usual = if cfg!(debug_assertions) { 12 } else { 200 };
    std::env::var("TRIES").ok().and_then(|n| n.parse().ok()).unwrap_or(usual)
}

/// Types to look at: all, or with `ONLY=name` one.
fn chosen() -> Vec<&'static str> {
    let only = std::env::var("ONLY").ok();
    types().into_iter().filter(|t| only.as_ref().is_none_or(|o| o == t)).collect()
}

#[test]
fn every_type_is_sound_at_sizes_drawn_by_lot() {
    for name in chosen() {
        let text = started(name, "mm");
        let mut whole = 0;
        for seed in 0..tries() {
            if let Some((job, worked)) = made(name, &text, &sizes(name, &text, seed)) {
                sound(name, &job, &worked);
                whole += 1;
            }
        }
        assert!(whole * 4 > tries(), "{name}: only {whole} of {} sets can be made", tries());
    }
}

/// Nothing of a type's sheets is found wanting, whatever its sizes and the paper.
#[test]
fn every_type_is_drawn_clean_in_five_sizes_and_both_units() {
    let all = looks();
    let mut wrong = Vec::new();
    for (t, name) in chosen().into_iter().enumerate() {
        for (u, unit) in ["mm", "in"].into_iter().enumerate() {
            let text = started(name, unit);
            let (mut drawn, mut seed) = (0, 0);
            while drawn < 5 {
                assert!(seed < 60, "{name}: too many sizes cannot be made");
                let settings = sizes(name, &text, seed);
                seed += 1;
                let Some((job, worked)) = made(name, &text, &settings) else { continue };
                let look: &Look = &all[(5 * t + 3 * u + drawn) % all.len()];
                let set = draw(&job, &worked, look);
                let at = (look.paper, look.unit, look.profile);
                if !set.problems.is_empty() {
                    wrong.push(format!("{name} {settings:?} {at:?}: {:?}", set.problems));
                }
                let found = judge_set(&set.sheets);
                if !found.is_empty() {
                    wrong.push(format!("{name} {settings:?} {at:?}: {}", describe(&found)));
                }
                drawn += 1;
            }
        }
    }
    assert!(wrong.is_empty(), "{} sets with findings\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn start_writes_a_script_and_spares_files() {
    let (ended, out, _) = command(&["start", "--list"]);
    assert_eq!(ended, Ended::Done);
    for name in types() {
        let line = out.lines().find(|l| l.split_whitespace().next() == Some(name));
        assert!(line.is_some_and(|l| l.len() > name.len() + 4), "{name}");
        assert!(started(name, "mm").starts_with("// A"), "{name}");
    }
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("new/mine.rhai");
    let path = path.to_str().unwrap();
    assert_eq!(command(&["start", "bench", "--out", path]).0, Ended::Done);
    assert_eq!(std::fs::read_to_string(path).unwrap(), started("bench", "mm"));
    let (ended, out, err) = command(&["start", "stool", "--out", path]);
    assert_eq!((ended, out.as_str()), (Ended::Files, ""));
    assert!(err.contains("there is a file of that name") && err.contains("`--overwrite`"), "{err}");
    assert_eq!(std::fs::read_to_string(path).unwrap(), started("bench", "mm"));
    assert_eq!(command(&["start", "stool", "--out", path, "--overwrite"]).0, Ended::Done);
    assert_eq!(std::fs::read_to_string(path).unwrap(), started("stool", "mm"));
    let (ended, _, err) = command(&["start", "bokcase"]);
    assert_eq!(ended, Ended::WrongUse);
    assert!(err.contains("did you mean `bookcase`?"), "{err}");
    assert_eq!(command(&["start"]).0, Ended::WrongUse);
    assert_eq!(command(&["start", "bench", "--overwrite"]).0, Ended::WrongUse);
}

/// A file beside the script that has the name of a type.
struct Beside;

impl Loader for Beside {
    fn read(&self, path: &str) -> Result<String, LoadError> {
        if path == "stool.rhai" { Ok("fn make(asked) { asked }".into()) } else { Err(LoadError::NotFound) }
    }
}

/// A job beside the script that has the name of a type.
struct Started;

impl Loader for Started {
    fn read(&self, path: &str) -> Result<String, LoadError> {
        if path == "stool.rhai" {
            Ok("// A stool.\njob(\"Stool\");\n".into())
        } else {
            Err(LoadError::NotFound)
        }
    }
}

#[test]
fn a_file_that_shadows_a_type_must_be_named_whole() {
    let text = |import: &str| {
        format!("job(\"A\");\nimport \"{import}\" as stool;\npiece(\"A\");\nstool::make(#{{}});\n")
    };
    let of = |import: &str| {
        let request = Request { loader: Arc::new(Beside), ..request("main", &text(import), Vec::new()) };
        let done = evaluate(&request);
        render_all(&done.problems, &done.sources)
    };
    let refused = of("stool");
    assert!(
        refused.contains("`stool` is a furniture type of the library and a file beside the script"),
        "{refused}"
    );
    assert!(refused.contains("`import \"stool.rhai\"`"), "{refused}");
    // A job of its own under that name is no module.
    let job = Request { loader: Arc::new(Started), ..request("main", &text("stool"), Vec::new()) };
    let done = evaluate(&job);
    assert!(done.problems.is_empty(), "{}", render_all(&done.problems, &done.sources));
    // The file itself makes nothing, which is all that is wrong with it.
    let own = of("stool.rhai");
    assert!(own.contains("the piece `A` has no parts") && own.contains("1 error"), "{own}");
}

/// The job of a type asked for with these options.
fn asked(name: &str, options: &str) -> (Job, WorkedJob) {
    let text = format!(
        "job(\"A\");\nimport \"{name}\" as {name};\npiece(\"A\");\n{name}::make(#{{ {options} }});\n"
    );
    made(name, &text, &[]).unwrap()
}

/// The types have functions of the same names, and use one another.
#[test]
fn types_do_not_disturb_one_another_in_one_job() {
    let mut text = String::from("job(\"All\");\n");
    for name in types() {
        writeln!(text, "import \"{name}\" as t_{name};").unwrap();
    }
    let there_and_back = || types().into_iter().chain(types().into_iter().rev());
    for (i, name) in there_and_back().enumerate() {
        writeln!(text, "piece(\"{name} {i}\");\nt_{name}::make(#{{}});").unwrap();
    }
    let done = evaluate(&request("all", &text, Vec::new()));
    assert_eq!(render_all(&done.problems, &done.sources), "");
    let job = done.job.unwrap();
    let parts = |piece: usize| -> Vec<(&str, rodwright::geometry::DVec3)> {
        job.parts.iter().filter(|p| p.piece.0 == piece).map(|p| (p.name.as_str(), p.size)).collect()
    };
    let last = there_and_back().count() - 1;
    for i in 0..types().len() {
        assert_eq!(parts(i), parts(last - i), "{}", types()[i]);
    }
}

/// A row of a list: name, how many, and length, width and thickness.
type Piece = (&'static str, usize, [f64; 3]);

/// Finished sizes by name, and how many, as a maker lists them with pencil and paper
/// from the overall sizes: the lengths that tenons, housings and grooves add are
/// worked out beside each.
#[test]
fn cutting_sizes_are_those_worked_by_hand() {
    let cases: &[(&str, &str, &[Piece])] = &[
        // Lippings of 6 off the depth; shelves 6 into either side; back 9 over both
        // sides and from the bottom's underside up.
        (
            "bookcase",
            "width: 900, height: 1100, depth: 280, shelves: 2",
            &[
                ("Left side", 2, [1100.0, 274.0, 18.0]),
                ("Bottom", 4, [864.0 + 12.0, 274.0 - 6.0, 18.0]),
                ("Back", 1, [1020.0, 864.0 + 18.0, 6.0]),
                ("Plinth", 1, [864.0, 80.0, 20.0]),
            ],
        ),
        // Members reach 6.5 less than the sheet on either side, then their face of 40.
        (
            "frame",
            "sheet_width: 420, sheet_height: 594",
            &[
                ("Head", 2, [420.0 - 13.0 + 80.0, 40.0, 22.0]),
                ("Left stile", 2, [594.0 - 13.0 + 80.0, 40.0, 22.0]),
                ("Glass", 1, [594.0, 420.0, 2.0]),
                ("Backing", 1, [594.0, 420.0, 6.0]),
            ],
        ),
        // Tenons of 23 leave 3 between those of two rails in a leg of 54.
        (
            "table",
            "length: 1200, width: 700, height: 740",
            &[
                ("leg", 4, [716.0, 54.0, 54.0]),
                ("Front rail", 2, [1200.0 - 80.0 - 108.0 + 46.0, 90.0, 22.0]),
                ("Left rail", 2, [700.0 - 80.0 - 108.0 + 46.0, 90.0, 22.0]),
                ("Top", 1, [1200.0, 700.0, 24.0]),
            ],
        ),
        // Ends 10 into the seat, rails 20 into the ends, the stretcher through both.
        (
            "bench",
            "length: 1100, depth: 320, height: 450",
            &[
                ("Seat", 1, [1100.0, 320.0, 30.0]),
                ("Left end", 2, [430.0, 270.0, 30.0]),
                ("Front rail", 2, [800.0 + 40.0, 70.0, 20.0]),
                ("Stretcher", 1, [800.0 + 60.0, 70.0, 24.0]),
            ],
        ),
        // The bottom goes 4.5 into grooves of 5 in all four sides, the lid reaches 3 over them.
        (
            "box",
            "length: 320, width: 220, height: 140",
            &[
                ("Front", 2, [320.0, 128.0, 12.0]),
                ("Left end", 2, [220.0, 128.0, 12.0]),
                ("Bottom", 1, [296.0 + 9.0, 196.0 + 9.0, 6.0]),
                ("Lid", 1, [326.0, 226.0, 12.0]),
            ],
        ),
    ];
    for (name, options, rows) in cases {
        let (job, worked) = asked(name, options);
        let list = cutting_list(&job, &worked);
        for (part, count, size) in *rows {
            let found: Vec<_> = list.parts.iter().filter(|r| r.name.contains(part)).collect();
            assert!(!found.is_empty(), "{name}: no `{part}`");
            let sizes_of = |r: &rodwright::cutting::CutRow| [r.length, r.width, r.thickness];
            let near = |r: &rodwright::cutting::CutRow| {
                sizes_of(r).iter().zip(size).all(|(a, b)| (a - b).abs() < 0.01)
            };
            let number: usize = list.parts.iter().filter(|r| near(r)).map(|r| r.quantity).sum();
            let all: Vec<_> = list.parts.iter().map(|r| (r.name.clone(), r.quantity, sizes_of(r))).collect();
            assert!(found.iter().any(|r| near(r)) && number == *count, "{name} `{part}` {size:?}: {all:#?}");
        }
    }
}

/// Masses of whole pieces against volumes worked by hand: what a tenon fills its mortise
/// lost. Densities are 1000 G x 1.12 with G of the Wood Handbook (FPL-GTR-190), Table
/// 5-3a: ash 0.60, oak 0.68, maple 0.63; plywood 680 kg/m3, common practice, no source;
/// glass 2500 kg/m3, MIL-HDBK-1013/12.
#[test]
fn whole_pieces_weigh_what_a_hand_calculation_says() {
    let ash = 672.0e-9;
    let oak = 761.6e-9;
    let cases = [
        (
            "table",
            "length: 1200, width: 700, height: 740",
            ash * (1200.0 * 700.0 * 24.0
                + 4.0 * 54.0 * 54.0 * 716.0
                + 2.0 * 90.0 * 22.0 * (1012.0 + 512.0)
                + 2.0 * 20.0 * 20.0 * 992.0),
        ),
        (
            "bench",
            "length: 1100, depth: 320, height: 450, feet: false",
            oak * (1100.0 * 320.0 * 30.0
                + 2.0 * 270.0 * 30.0 * 420.0
                + 2.0 * 70.0 * 20.0 * 800.0
                + 70.0 * 24.0 * 800.0),
        ),
        (
            "frame",
            "sheet_width: 420, sheet_height: 594",
            // Members on their middle lines less a rebate of 9.5 by 12, glass 2, ply 6.
            ash * (2.0 * (447.0 + 621.0) * 40.0 * 22.0 - 2.0 * (423.0 + 597.0 - 19.0) * 9.5 * 12.0)
                + 420.0 * 594.0 * (2.0 * 2500.0e-9 + 6.0 * 680.0e-9),
        ),
    ];
    for (name, options, by_hand) in cases {
        let (job, worked) = asked(name, options);
        let list = cutting_list(&job, &worked);
        let rows = || list.parts.iter().chain(&list.lippings);
        let mass: f64 = rows().map(|r| r.mass.unwrap() * r.quantity as f64).sum();
        assert!((mass / by_hand - 1.0).abs() < 0.01, "{name}: {mass} kg, by hand {by_hand}");
    }
}

/// Heights people sit and work at. Table 710 to 780 and leg room of 610 or more under
/// the top: GOST 13025.3-85; counter 889 to 914: general reference; seat 430 to 460:
/// common practice, from memory.
#[test]
fn usual_heights_are_those_in_common_use() {
    let usual = |name: &str, key: &str| {
        let all = furniture();
        let made = all.iter().find(|f| f.module == name && !f.takes.is_empty()).unwrap();
        match made.takes.iter().find(|t| t.name == key).unwrap().kind {
            rodwright::script::TakeKind::Length { usual, from, to } => (usual, from, to),
            ref other => panic!("{name} {key}: {other:?}"),
        }
    };
    let (table, low, high) = usual("table", "height");
    assert!((710.0..=780.0).contains(&table) && low <= 710.0 && high >= 914.0);
    assert!(table - usual("table", "thick").0 - usual("table", "rail").0 >= 610.0);
    for name in ["bench", "stool"] {
        let (seat, low, high) = usual(name, "height");
        assert!((430.0..=460.0).contains(&seat) && low <= 430.0 && high >= 460.0, "{name}");
    }
}
