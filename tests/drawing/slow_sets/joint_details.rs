//! A detail of every joint and fitting, as it stands on the sheets of furniture:
//! `output-samples/joint_details`, written with the other samples.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use rodwright::drawing::{Look, Paper, Profile, joint_details};
use rodwright::measure::Unit;
use rodwright::output::{pdf, svg};
use rodwright::paper::{Ink, Sheet};
use rodwright::{draw, examine};

use crate::support::scripts::{request, scripts_in};

/// Words that shape one part: they join nothing and have no detail.
const SHAPING: [&str; 14] = [
    "fitting",
    "trim_to",
    "mould",
    "rings",
    "hollow",
    "outline",
    "taper",
    "bevel",
    "level",
    "chamfer",
    "round_over",
    "hole",
    "slot",
    "notch",
];

/// A sheet of details and the words it shows.
struct Shown {
    sheet: Sheet,
    words: BTreeSet<&'static str>,
}

/// The sheets of details of one script.
fn sheets(script: &Path) -> Vec<Shown> {
    let done = examine(&request("sample", fs::read_to_string(script).unwrap()));
    let Some((job, worked)) = done.worked else { panic!("{} has problems", script.display()) };
    let look = Look::new(Paper::A3, Unit::Mm, Profile::Iso);
    let drawn = draw(&job, &worked, &look);
    let details = joint_details(&job, &worked, &look);
    let shows = |sheet: &Sheet| {
        // The title of a detail is its letter and its scale.
        let titled = |letter: &str| {
            sheet.marks.iter().any(|mark| match &mark.ink {
                Ink::Text(text) => text.reading().split_once(' ').is_some_and(|(first, scale)| {
                    first == letter && scale.trim_start().starts_with(|c: char| c.is_ascii_digit())
                }),
                _ => false,
            })
        };
        let here = details.iter().filter(|(letter, _)| titled(letter));
        here.flat_map(|(_, joints)| joints).map(|j| worked.joints[*j].word).collect()
    };
    let all = drawn.sheets.into_iter().filter(|s| s.title.contains("details"));
    all.map(|sheet| Shown { words: shows(&sheet), sheet }).collect()
}

/// As few sheets as show every word, each time the one that shows most that is
/// not shown yet.
fn chosen() -> (Vec<Sheet>, BTreeSet<&'static str>) {
    let names = ["scripts", "tests/drawing/families"].into_iter().flat_map(scripts_in);
    let all: Vec<Shown> = names.flat_map(|name| sheets(&name)).collect();
    let (mut taken, mut shown) = (BTreeSet::new(), BTreeSet::new());
    loop {
        let news = |at: usize| all[at].words.difference(&shown).count();
        let best = (0..all.len()).rev().max_by_key(|at| news(*at)).filter(|at| news(*at) > 0);
        let Some(best) = best else { break };
        taken.insert(best);
        shown.extend(all[best].words.iter().copied());
    }
    let kept = all.into_iter().enumerate().filter(|(at, _)| taken.contains(at));
    (kept.map(|(_, shown)| shown.sheet).collect(), shown)
}

/// The sheets are what the program makes today, and leave no word out.
/// `UPDATE=1` makes them anew.
#[test]
fn output_samples_show_every_joint() {
    let (sheets, shown) = chosen();
    let missing: Vec<&str> = rodwright::words()
        .iter()
        .map(|w| w.name)
        .filter(|name| !SHAPING.contains(name) && !shown.contains(name))
        .collect();
    assert!(missing.is_empty(), "no sample shows a detail of {missing:?}");
    let info =
        pdf::Info { title: "Joint details".into(), author: "Marram Workshop".into(), subject: String::new() };
    let mut files = vec![("joint_details.pdf".to_owned(), pdf::write(&sheets, &info).unwrap())];
    for (at, sheet) in sheets.iter().enumerate() {
        files.push((format!("joint_details-{:02}.svg", at + 1), svg::write(sheet).into_bytes()));
    }
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("output-samples/joint_details");
    if std::env::var_os("UPDATE").is_some() {
        fs::create_dir_all(&folder).unwrap();
        for old in fs::read_dir(&folder).unwrap() {
            fs::remove_file(old.unwrap().path()).unwrap();
        }
        for (name, bytes) in &files {
            fs::write(folder.join(name), bytes).unwrap();
        }
    }
    for (name, bytes) in &files {
        let kept = fs::read(folder.join(name)).unwrap_or_default();
        assert!(kept == *bytes, "{name} is not what the program makes; run with UPDATE=1");
    }
    assert_eq!(fs::read_dir(&folder).unwrap().count(), files.len(), "a file is no longer made");
}
