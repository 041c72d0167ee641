//! What a type of the library refuses: every option out of its range, and every
//! combination of sizes that cannot be made, with the size to change and its bound at
//! the line that asked. `UPDATE=1 cargo test --test suite library_bounds` writes the
//! golden text anew; read it before it is kept.

use std::collections::BTreeSet;
use std::fs;

use rodwright::examine;
use rodwright::problem::render_all;
use rodwright::script::{TakeKind, furniture};

use crate::library::made::{request, types};
use crate::support::golden::golden;

/// A part for options that take one.
const ONE: &str =
    "panel(\"A\", sheet_stock(\"P\", #{ thick: 18 }), #{ x: [0, 18], y: [0, 400], z: [0, 200] })";

/// What is said of a type asked for with these options, which stand on line 4.
fn said(name: &str, options: &str) -> String {
    let at = |x: f64| ONE.replace("x: [0, 18]", &format!("x: [{x}, {}]", x + 18.0));
    let options = options
        .replace("FAR", &format!("[{}, {}]", at(-18.0), at(520.0)))
        .replace("BACK", &format!("[{}, {}]", at(-32.0), at(434.0)))
        .replace("TWO", &format!("[{}, {}]", at(-18.0), at(420.0)))
        .replace("ONE", ONE);
    let text = format!("job(\"A\");\nimport \"{name}\" as t;\npiece(\"A\");\nt::make(#{{ {options} }});\n");
    let done = examine(&request("a", &text, Vec::new()));
    render_all(&done.problems, &done.sources)
}

/// A length or count as messages have it.
fn figure(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').replace('-', "−")
}

/// Sizes each in its range that together cannot be made, and the three a newcomer is
/// first to try: a door of 40 mm, five drawers in 200 mm, a shelf longer than any sheet.
const IMPOSSIBLE: &[(&str, &str)] = &[
    ("case", "front: \"face frame\", doors: \"plain\""),
    ("case", "front: \"face frame\", stands: \"on a plinth\", height: 300, shelves: 0"),
    ("chair", "height: 740, seat: 460"),
    ("chair", "height: 760, seat: 450, rake: 100"),
    ("stand", "sides: 12, across: 200"),
    ("corner_case", "wall: 450, depth: 220"),
    ("corner_case", "height: 500, shelves: 3"),
    ("sloping_case", "width: 600, dividers: 3"),
    ("sloping_case", "width: 1500, dividers: 0"),
    ("sloping_case", "width: 1300, height: 1400, low: 700, dividers: 2"),
    ("sloping_case", "low: 880"),
    ("sloping_case", "height: 2000"),
    ("door", "panel: \"solid\", arch: 30"),
    ("case", "stands: \"on feet\", depth: 200"),
    ("table", "width: 700, held: \"slotted screws\""),
    ("table", "top: \"panel\", held: \"buttons\""),
    ("door", "style: \"glazed\", thick: 20, bars_up: 1"),
    ("door", "style: \"glazed\", arch: 20, bars_up: 1"),
    ("door", "style: \"glazed\", width: 300, bars_up: 3"),
    ("door", "style: \"glazed\", height: 330, bars_across: 4"),
    ("door", "width: 40"),
    ("door", "style: \"glazed\", width: 230, arch: 90"),
    ("drawer", "sides: ONE"),
    ("drawer", "runs_on: \"bought runners\", sides: TWO"),
    ("drawer", "runs_on: \"bought runners\", corners: \"housed\", depth: 250, sides: TWO"),
    ("drawer", "thick: 10, sides: TWO"),
    ("drawer", "runs_on: \"bought runners\", corners: \"housed\", sides: BACK"),
    ("drawer", "sides: FAR"),
    ("drawer", "begins: 120, ends: 150, depth: 320, sides: TWO"),
    ("table", "drawer: 40"),
    ("table", "drawer: 100, length: 1400"),
    ("table", "drawer: 100, width: 330, length: 500, overhang: 60, leg: 40"),
    ("drawer_bank", "runs_on: \"bought runners\""),
    ("drawer_bank", "runs_on: \"bought runners\", corners: \"housed\", depth: 280"),
    ("drawer_bank", "fronts: \"overlay\", heights: [200, 70]"),
    ("drawer_bank", "heights: [290, 290, 290, 290, 290]"),
    ("drawer_bank", "drawers: 5, height: 200"),
    ("bookcase", "width: 3100"),
    ("floating_shelf", "length: 2600"),
    ("bench", "length: 400, inset: 150"),
    ("bench", "height: 300, low: 250"),
    ("bench", "length: 2000, inset: 0"),
    ("bookcase", "height: 400, shelves: 6"),
    ("bookcase", "width: 300, dividers: 1"),
    ("bookcase", "width: 1800"),
    ("bookcase", "width: 1190, height: 2000, dividers: 1"),
    ("bookcase", "stands: \"hung\", back: \"rebate\""),
    ("bookcase", "stands: \"hung\", height: 1400"),
    ("bookcase", "stands: \"hung\", depth: 200"),
    ("bookcase", "doors: \"plain\", width: 1500, dividers: 1"),
    ("bookcase", "doors: \"plain\", height: 2250"),
    ("bookcase", "doors: \"glazed\", height: 450, shelves: 0"),
    ("bookcase", "doors: \"plain\", width: 1380, height: 560, dividers: 1, shelves: 1"),
    ("box", "height: 70, finger: 16"),
    ("case", "width: 400, dividers: 2"),
    ("case", "height: 300, shelves: 3"),
    ("case", "width: 1000"),
    ("case", "width: 1300, height: 1300, dividers: 1"),
    ("case", "stands: \"hung\", back: \"none\""),
    ("case", "shelves_on: \"pins\", behind: 50, depth: 150"),
    ("case", "corners: \"mitred\", thick: 15"),
    ("case", "corners: \"mitred\", depth: 150"),
    ("case", "doors: \"plain\", width: 1500, dividers: 1"),
    ("case", "doors: \"glazed\", height: 400"),
    ("case", "doors: \"plain\", width: 1380, height: 500, dividers: 1"),
    ("case", "doors: \"lipped\", doors_set: \"between\", depth: 150"),
    ("case", "doors: \"lipped\", doors_set: \"between\", thick: 16"),
    ("case", "doors: \"lipped\", doors_set: \"between\", width: 1500, dividers: 1"),
    ("case", "doors: \"lipped\", doors_set: \"between\", width: 630, height: 420"),
    ("wall_case", "width: 400, dividers: 2"),
    ("wall_case", "back: \"rebate\""),
    ("door", "width: 150"),
    ("door", "width: 1400"),
    ("door", "height: 150"),
    ("door", "height: 240, handles: \"pulls\""),
    ("door", "pair: true, style: \"plain\", width: 800"),
    ("drawer_bank", "height: 350, drawers: 6"),
    ("drawer_bank", "height: 800, drawers: 2"),
    ("drawer_bank", "stands: \"hung\", back: \"rebate\""),
    ("drawer_bank", "stands: \"hung\", depth: 500"),
    ("face_frame", "width: 250, bays: 3"),
    ("face_frame", "height: 250, rows: 4"),
    ("face_frame", "joint: \"pocket screws\", width: 250"),
    ("face_frame", "joint: \"pocket screws\", width: 800, bays: 2, height: 250"),
    ("floating_shelf", "build: \"laminated\", height: 40, edge: 20"),
    ("floating_shelf", "height: 40, sheet: sheet_stock(\"Oak plywood\", #{ thick: 18 })"),
    ("frame", "chamfer: 0.2"),
    ("knob", "spigot: 16, diameter: 20"),
    ("post", "shaft: 60, diameter: 50"),
    ("post", "height: 500, base: 250, head: 200"),
    ("planter", "width: 300, leg: 70"),
    ("planter", "depth: 280, leg: 70"),
    ("planter", "height: 250, feet: 150"),
    ("stool", "height: 300, low: 300"),
    ("stool", "splay: 1"),
    ("stool", "splay: 8, leg: 36"),
    ("stool", "splay: 12, leg: 40"),
    ("table", "drawer_width: 400"),
    ("table", "drawer: 100, drawer_width: 100"),
    ("table", "drawer: 100, drawer_width: 900"),
    ("bookcase", "strips: 20"),
    ("bookcase", "strips: 40, plinth: 45"),
    ("bookcase", "strips: 40, stands: \"hung\""),
    ("frame", "holds: \"mirror\", thick: 18"),
    ("table", "width: 350, overhang: 120"),
    ("table", "length: 500, overhang: 120, leg: 75"),
    ("table", "taper: 1"),
    ("table", "taper: 24, leg: 40"),
    ("turned_leg", "foot: 60, diameter: 28"),
];

/// The reasons for which the scripts of the library refuse sizes: the last text of each
/// such call.
fn reasons() -> BTreeSet<String> {
    let mut all = BTreeSet::new();
    for entry in fs::read_dir("stdlib").unwrap() {
        let text = fs::read_to_string(entry.unwrap().path()).unwrap();
        for line in text.lines().filter(|l| !l.trim_start().starts_with("//")) {
            if ["at_least(", "at_most(", "refuse("].iter().any(|call| line.contains(call)) {
                let end = line.rfind("\");").unwrap();
                let whole = line[..end].replace("\\\"", "\u{1}");
                let start = whole.rfind('"').unwrap() + 1;
                all.insert(whole[start..].replace('\u{1}', "\""));
            }
        }
    }
    all
}

#[test]
fn what_cannot_be_made_is_refused_with_the_size_to_change() {
    let mut all = Vec::new();
    for (name, options) in IMPOSSIBLE {
        let found = said(name, options);
        assert!(found.contains("--> a.rhai:4:") && found.ends_with("1 error\n"), "{name} {options}\n{found}");
        // The first lines of the message: what, where, and what to do.
        let told =
            |mark: &str| found.lines().find(|l| l.contains(mark)).unwrap_or_default().trim().to_owned();
        all.push((format!("{name} #{{ {options} }}"), format!("{}\n{}\n", told("error["), told("= help"))));
    }
    let missing: Vec<_> = reasons()
        .into_iter()
        .filter(|why| !all.iter().any(|(_, text)| text.contains(why.as_str())))
        .collect();
    assert!(missing.is_empty(), "no case is refused for {missing:#?}");
    let named: BTreeSet<&str> = IMPOSSIBLE.iter().map(|(name, _)| *name).collect();
    let free: Vec<&str> = types().into_iter().filter(|t| !named.contains(t)).collect();
    // These can be made at any sizes in their ranges.
    assert_eq!(free, ["chest", "plinth"]);
    golden(file!(), &all);
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn every_option_of_every_type_has_its_bounds() {
        let mut tried = 0;
        for made in furniture().iter().filter(|f| !f.takes.is_empty()) {
            for take in &made.takes {
                let (key, module) = (&take.name, made.module);
                let cases: Vec<(String, Vec<String>)> = match &take.kind {
                    TakeKind::Length { from, to, .. } => {
                        let both = vec![format!("{} mm", figure(*from)), format!("{} mm", figure(*to))];
                        vec![(format!("{}", from - 1.0), both.clone()), (format!("{}", to + 1.0), both)]
                    }
                    TakeKind::Count { from, to, .. } => {
                        let both = vec![from.to_string(), to.to_string()];
                        let below = from.checked_sub(1).map(|less| (less.to_string(), both.clone()));
                        below.into_iter().chain([((to + 1).to_string(), both)]).collect()
                    }
                    TakeKind::Choice { among, .. } | TakeKind::Stock { among, .. } => {
                        vec![("\"papier mache\"".to_owned(), among.clone())]
                    }
                    TakeKind::YesNo { .. } => {
                        vec![("\"maybe\"".to_owned(), vec!["true or false".to_owned()])]
                    }
                    TakeKind::Lengths { from, .. } => {
                        vec![(format!("[{}, {}]", from - 1.0, from), vec![format!("{} mm", figure(*from))])]
                    }
                    TakeKind::Parts => vec![("7".to_owned(), vec!["part".to_owned()])],
                };
                for (value, wanted) in cases {
                    let found = said(module, &format!("{key}: {value}"));
                    let whole = found.contains(&format!("`{key}`"))
                        && wanted.iter().all(|w| found.contains(w.as_str()))
                        && found.contains("--> a.rhai:4:")
                        && found.ends_with("1 error\n")
                        && !found.contains("stdlib/");
                    assert!(whole, "{module} {key}: {value}, which lacks one of {wanted:?}\n{found}");
                    tried += 1;
                }
            }
        }
        assert!(tried > 200, "{tried}");
    }
}
