//! The furniture library: what `start` writes, and every type at sizes drawn by lot.

use std::ffi::OsString;
use std::fmt::Write as _;
use std::sync::Arc;

use rodwright::cli::{Ended, Terminal, run};
use rodwright::cutting::cutting_list;
use rodwright::drawing::Look;
use rodwright::joinery::{PartSource, WorkedJob};
use rodwright::machining::Machined;
use rodwright::model::{Job, SizeKind};
use rodwright::paper::lint::judge_set;
use rodwright::problem::{Problem, Severity, render_all};
use rodwright::script::{
    Limits, LoadError, Loader, NoModules, Request, TakeKind, declared, evaluate, furniture,
};
use rodwright::solid::Standing;
use rodwright::{draw, examine};

use crate::support::lot::Lot;
use crate::support::sets::{describe, looks};
use crate::support::solids::assert_closed;

/// Names of all types.
pub(crate) fn types() -> Vec<&'static str> {
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
pub(crate) fn started(name: &str, unit: &str) -> String {
    let (ended, out, err) = command(&["start", name, "--units", unit]);
    assert_eq!((ended, err.as_str()), (Ended::Done, ""), "{name}");
    out
}

pub(crate) fn request(name: &str, text: &str, settings: Vec<(String, String)>) -> Request {
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
pub(crate) fn sizes(name: &str, text: &str, seed: u64) -> Vec<(String, String)> {
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

/// Whether a problem is advice by an estimate, which says nothing against how a type is
/// made: at some sizes its shelves bend more than is advised, wide rails move in their
/// joints, it tips when all is open, or what hangs it bears less than may lie in it.
fn estimated(problem: &Problem) -> bool {
    ["sags", "tips", "held-across-grain", "screws-too-weak", "cleat-lets-go", "rods-bend"]
        .contains(&problem.code)
}

/// The piece of a type at one set of sizes, whole and without a problem, or nothing
/// where the type itself refuses the sizes and names the one to change.
pub(crate) fn made(name: &str, text: &str, settings: &[(String, String)]) -> Option<(Job, WorkedJob)> {
    let done = examine(&request(name, text, settings.to_vec()));
    let said = render_all(&done.problems, &done.sources);
    if let Some(first) = done.problems.iter().find(|p| p.severity == Severity::Error) {
        assert_eq!((first.code, done.problems.len()), ("impossible-size", 1), "{name} {settings:?}\n{said}");
        let named = settings.iter().any(|(n, _)| first.message.starts_with(&format!("`{n}`")));
        assert!(named && first.help.is_some() && !first.places.is_empty(), "{name}\n{said}");
        return None;
    }
    assert!(done.problems.iter().all(estimated), "{name} {settings:?}\n{said}");
    done.worked
}

/// That nothing runs into anything, every solid is closed and has wood and no more than its blank,
/// and every part of the script stands once on the cutting list. That a joint holds
/// each part is a check of the program itself, which `made` lets say nothing.
fn sound(name: &str, job: &Job, worked: &WorkedJob) {
    let stands: Vec<Standing> = worked.parts.iter().map(|p| Standing::new(&p.solid, &p.at)).collect();
    for (i, part) in worked.parts.iter().enumerate() {
        assert_closed(&part.solid, &format!("{name}: `{}`", part.name));
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
    worked_with_lippings(name, job, worked);
    let list = cutting_list(job, worked);
    let listed: usize = list.parts.iter().chain(&list.lippings).map(|row| row.which.len()).sum();
    assert_eq!(listed, worked.parts.len(), "{name}");
    assert!(worked.parts.iter().any(|p| matches!(p.source, PartSource::Part(_))), "{name}");
}

/// Every part with flush lippings is set out from its finished edges, since these are glued on
/// before its joints are cut: a cut that runs on into a lipping is made in that too.
fn worked_with_lippings(name: &str, job: &Job, worked: &WorkedJob) {
    let machined = Machined::new(job, worked);
    for (of, part) in worked.parts.iter().enumerate() {
        let mut flush = worked.parts.iter().filter(|lip| {
            let thick = (lip.size.y - part.size.z).abs() < 0.01;
            thick && matches!(lip.source, PartSource::Lipping { of: on, .. } if on == of)
        });
        let lipped = flush.next().is_some();
        assert!(!lipped || machined.made_up(of).is_some(), "{name}: `{}` is set out without", part.name);
    }
}

/// Words that hang a piece on the wall.
const HANGING: [&str; 3] = ["hanging_cleat", "wall_bracket", "frame_clips"];

/// Whether a type hangs at these settings: always, never, or as it is asked to.
fn hangs(name: &str, text: &str, settings: &[(String, String)]) -> bool {
    match name {
        "frame" | "floating_shelf" => true,
        _ => {
            let asked = settings.iter().find(|(key, _)| key == "stands").map(|(_, value)| value.clone());
            let usual = || {
                let all = declared(&request(name, text, Vec::new())).sizes;
                let kind = all.into_iter().find(|size| size.name == "stands").map(|size| size.kind);
                kind.map(|kind| match kind {
                    SizeKind::Choice { default, .. } => default,
                    other => panic!("{name}: {other:?}"),
                })
            };
            asked.or_else(usual).is_some_and(|how| how == "hung")
        }
    }
}

/// That a piece that hangs brings what hangs it, and one that stands does not. A hollow
/// shelf slides over a rail with holes for the screws to the wall.
fn hung(name: &str, worked: &WorkedJob, wanted: bool) {
    let by_word = worked.joints.iter().any(|joint| HANGING.contains(&joint.word));
    let by_rail = name == "floating_shelf"
        && worked.parts.iter().any(|p| p.name == "Wall rail" && p.cuts.iter().any(|c| c.joint.is_none()));
    assert_eq!(by_word || by_rail, wanted, "{name}");
}

/// How many sets of each type are made: 200 by a program built for speed, a few by one
/// built for finding faults; `TRIES=50` tries fewer or more.
pub(crate) fn tries() -> u64 {
    let usual = if cfg!(debug_assertions) { 12 } else { 200 };
    std::env::var("TRIES").ok().and_then(|n| n.parse().ok()).unwrap_or(usual)
}

/// Types to look at: all, or with `ONLY=name` one.
pub(crate) fn chosen() -> Vec<&'static str> {
    let only = std::env::var("ONLY").ok();
    types().into_iter().filter(|t| only.as_ref().is_none_or(|o| o == t)).collect()
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
pub(crate) fn asked(name: &str, options: &str) -> (Job, WorkedJob) {
    let text = format!(
        "job(\"A\");\nimport \"{name}\" as {name};\npiece(\"A\");\n{name}::make(#{{ {options} }});\n"
    );
    made(name, &text, &[]).unwrap()
}

/// A script that gives one map of stocks whole to a type, with more options.
fn with_one_map(module: &str, more: &str) -> String {
    let turned = ["knob", "post", "turned_leg"].contains(&module);
    // Skins of a hollow shelf are thin.
    let thick = if module == "floating_shelf" { "thick: 9" } else { "thick: 18" };
    let stocks = "#{ sheet: sheet_stock(\"Own sheet\", #{ thick: 18 }), thin: sheet_stock(\"Own thin\", #{ thick: 6 }), \
                  bottom: own_bottom, bottoms: own_bottom, floor: sheet_stock(\"Own floor\", #{ thick: 9 }), \
                  backing: own_bottom, core: own, inside: own, timber: TIMBER }"
        .replace("thick: 18", thick)
        .replace("TIMBER", if turned { "blank_stock(\"Own blank\")" } else { "own" });
    format!(
        "job(\"A\");\nimport \"{module}\" as t;\nlet own = board_stock(\"Own timber\");\n\
         let own_bottom = sheet_stock(\"Own bottom\", #{{ thick: {} }});\npiece(\"A\");\n\
         t::make(#{{ stock: {stocks}{more} }});\n",
        if module == "chest" { 9 } else { 6 }
    )
}

/// Parts of a job that are of no stock of the script's own. What is behind glass, and a cleat
/// on the wall, are none of its business.
fn of_others(job: &Job) -> Vec<String> {
    let others = ["Pine", "Float glass", "Picture glass", "Mirror"];
    let stock = |part: &rodwright::model::Part| job.stock[part.stock.0].name.clone();
    let is_own = |stock: &str| stock.starts_with("Own") || others.contains(&stock);
    let odd = job.parts.iter().filter(|part| !is_own(&stock(part)));
    odd.map(|part| format!("`{}` of {}", part.name, stock(part))).collect()
}

/// One map of stocks, given whole to every type, is what all its parts are made of.
#[test]
fn one_map_of_stocks_reaches_all_parts_of_a_type() {
    for made in furniture().iter().filter(|f| !f.takes.is_empty()) {
        let done = evaluate(&request(made.module, &with_one_map(made.module, ""), Vec::new()));
        // What its usual choices leave out is told as not used.
        let told: Vec<_> = done.problems.into_iter().filter(|p| p.code != "unused-stock").collect();
        assert_eq!(render_all(&told, &done.sources), "", "{}", made.module);
        assert_eq!(of_others(&done.job.unwrap()), Vec::<String>::new(), "{}", made.module);
    }
    let said = |stock: &str| {
        let text =
            format!("job(\"A\");\nimport \"case\" as t;\npiece(\"A\");\nt::make(#{{ stock: {stock} }});\n");
        let done = evaluate(&request("a", &text, Vec::new()));
        render_all(&done.problems, &done.sources)
    };
    assert!(said("#{ shet: 3 }").contains("no furniture type has a stock `shet`"));
    assert!(said("\"oak\"").contains("`stock` must be a map of stocks"));
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

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    /// And whatever is chosen: each choice of each type but the usual one, by itself and
    /// with framed doors where there are doors.
    #[test]
    fn one_map_of_stocks_reaches_all_parts_whatever_is_chosen() {
        let mut made = 0;
        for of_type in furniture().iter().filter(|f| !f.takes.is_empty()) {
            let doors = of_type.takes.iter().any(|take| take.name == "doors");
            for take in &of_type.takes {
                let TakeKind::Choice { among, .. } = &take.kind else { continue };
                for one in among {
                    let framed =
                        if doors && take.name != "doors" { ", doors: \"frame and panel\"" } else { "" };
                    let more = format!(", {}: \"{one}\"{framed}", take.name);
                    let done =
                        evaluate(&request(of_type.module, &with_one_map(of_type.module, &more), Vec::new()));
                    let Some(job) = done.job else { continue };
                    made += 1;
                    assert_eq!(of_others(&job), Vec::<String>::new(), "{}{more}", of_type.module);
                }
            }
        }
        assert!(made > 60, "{made}");
    }

    /// Nothing of a type's sheets is found wanting, whatever its sizes and the paper.
    #[test]
    fn every_type_is_drawn_clean_in_five_sizes_and_both_units() {
        let all = looks();
        let mut wrong = Vec::new();
        // Each type has the looks of its own place, so that one alone is drawn as among all.
        let chosen = chosen();
        for (t, name) in types().into_iter().enumerate().filter(|(_, name)| chosen.contains(name)) {
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
                    if !set.problems.iter().all(estimated) {
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
        // Known, and to be mended: a letter of an end on an arrow.
        wrong.retain(|one| !(one.starts_with("bench []") && one.contains("(A4, Inch, Asme)")));
        // The same: a figure of a section on the leader of a part of a bank with frames.
        wrong.retain(|one| !(one.starts_with("drawer_bank [") && one.contains("(\"height\", \"728mm\")")));
        assert!(wrong.is_empty(), "{} sets with findings\n{}", wrong.len(), wrong.join("\n"));
    }

    #[test]
    fn every_type_is_sound_at_sizes_drawn_by_lot() {
        for name in chosen() {
            let text = started(name, "mm");
            let (mut whole, mut seed) = (0, 0);
            while whole < tries() {
                // What a type refuses costs little, but it must not refuse nearly all.
                assert!(seed < 10 * tries(), "{name}: only {whole} of {seed} sets can be made");
                let settings = sizes(name, &text, seed);
                seed += 1;
                if let Some((job, worked)) = made(name, &text, &settings) {
                    sound(name, &job, &worked);
                    hung(name, &worked, hangs(name, &text, &settings));
                    whole += 1;
                }
            }
        }
    }
}
