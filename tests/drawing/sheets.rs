//! The sheets round the part drawings: general arrangement, section, lists,
//! assembly order; frame, title block and numbers.

use rodwright::assembly::assembly_orders;
use rodwright::cutting::shop_lists;
use rodwright::drawing::{Look, Paper, Profile, draw};
use rodwright::machining::Machined;
use rodwright::measure::Unit;
use rodwright::paper::{Ink, Role, Sheet};

use crate::support::pieces::{cabinet, frame};
use crate::support::scripts::request;

/// Papers, units and profiles every set is held to.
fn looks() -> Vec<(&'static str, Look)> {
    vec![
        ("a3", Look::new(Paper::A3, Unit::Mm, Profile::Iso)),
        ("a4", Look::new(Paper::A4, Unit::Mm, Profile::Uk)),
        ("letter", Look::new(Paper::Letter, Unit::Inch, Profile::Asme)),
        ("tabloid", Look::new(Paper::Tabloid, Unit::Inch, Profile::Asme)),
    ]
}

fn sets() -> Vec<(String, Vec<Sheet>)> {
    let mut sets = Vec::new();
    for (piece, (job, worked)) in [("cabinet", cabinet()), ("frame", frame())] {
        for (name, look) in looks() {
            let (orders, problems) = assembly_orders(&job, &worked);
            assert!(problems.is_empty(), "{piece}: {problems:?}");
            let machined = Machined::new(&job, &worked);
            let (lists, _) = shop_lists(&machined);
            let (sheets, problems) = draw(&machined, &lists, &orders, &look);
            assert!(problems.is_empty(), "{piece} {name}: {problems:?}");
            sets.push((format!("{piece}-{name}"), sheets));
        }
    }
    sets
}

/// Writes the sheets as SVG where `RODWRIGHT_LOOK` names a folder, to be looked
/// at; always checks that nothing lies outside the frame.
#[test]
fn every_mark_lies_inside_the_frame() {
    let folder = std::env::var("RODWRIGHT_LOOK").ok();
    for (name, sheets) in sets() {
        assert!(sheets.len() >= 4, "{name}");
        for sheet in &sheets {
            if let Some(folder) = &folder {
                std::fs::write(
                    format!("{folder}/{name}-{:0>2}.svg", sheet.number),
                    rodwright::output::svg::write(sheet),
                )
                .unwrap();
            }
            for mark in sheet.marks.iter().filter(|m| m.role != Role::Frame) {
                let bounds = mark.bounds();
                let inside = sheet.space.inflate(0.3, 0.3);
                assert!(
                    inside.union(bounds) == inside,
                    "{name} sheet {}: {:?} {bounds:?} {:?}",
                    sheet.number,
                    mark.role,
                    match &mark.ink {
                        Ink::Text(text) => text.reading(),
                        _ => String::new(),
                    }
                );
            }
        }
    }
}

/// The isometric view by its closed form: edges of a cube in true length, at 30
/// degrees to level and upright, its outline a regular hexagon (ISO 5456-3).
#[test]
fn a_cube_in_isometric_is_a_regular_hexagon_of_true_edges() {
    let camera = rodwright::solid::Camera::isometric();
    let at =
        |v: rodwright::geometry::DVec3| (camera.right.dot(v) * camera.zoom, camera.up.dot(v) * camera.zoom);
    let (x, y, z) = (
        at(rodwright::geometry::DVec3::X),
        at(rodwright::geometry::DVec3::Y),
        at(rodwright::geometry::DVec3::Z),
    );
    let (cos, sin) = (3.0_f64.sqrt() / 2.0, 0.5);
    for (axis, (across, up)) in [("x", x), ("y", y), ("z", z)] {
        assert!(((across * across + up * up).sqrt() - 1.0).abs() < 1e-12, "{axis} is not in true length");
        let wanted = if axis == "z" { (0.0, 1.0) } else { (cos, sin) };
        assert!((across.abs() - wanted.0).abs() < 1e-12 && (up.abs() - wanted.1).abs() < 1e-12, "{axis}");
    }
    // Seen from the front, right and above.
    assert!(x.0 > 0.0 && x.1 < 0.0 && y.0 > 0.0 && y.1 > 0.0 && z.1 > 0.0, "{x:?} {y:?} {z:?}");
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;
    use crate::support::sets::{scripts, worked};

    /// Most sheets of each set on A3. A set that grows is one that nobody leafs through:
    /// twenty sheets for a small cabinet were the fault (no source; the bars are ours). Views
    /// from behind that are turned end for end took a sheet more of three sets, the step that
    /// glues up wide boards one more of five, layouts of less timber with more cuts one of two.
    const MOST: [(&str, usize); 14] = [
        ("atlas_bookcase", 11),
        ("blanket_chest", 13),
        ("card_box", 7),
        ("corner_bookcase", 14),
        ("low_bookcase", 9),
        ("notice_frame", 7),
        ("periodicals_cabinet", 14),
        ("porch_bench", 10),
        ("readers_stool", 12),
        ("reading_chair", 23),
        ("reading_table", 9),
        ("specimen_cupboard", 26),
        ("splayed_settle", 8),
        ("window_wall", 28),
    ];

    #[test]
    fn sets_are_of_few_sheets() {
        for script in scripts() {
            let (job, parts) = worked(&script, &[]);
            let count =
                |paper| rodwright::draw(&job, &parts, &Look::new(paper, Unit::Mm, Profile::Iso)).sheets.len();
            let most = MOST.iter().find(|(name, _)| script.contains(name)).expect("a bar for each script").1;
            let on_a3 = count(Paper::A3);
            assert!(on_a3 <= most, "{script}: {on_a3} sheets on A3, {most} at most");
        }
    }

    /// Sizes whose sheets were once reported as unclean: figures on leaders and heads, a size
    /// that follows from others, numbers on figures.
    #[test]
    fn sizes_once_unclean_are_drawn_clear() {
        let inches = |paper| Look::new(paper, Unit::Inch, Profile::Asme);
        let cases = [
            (
                "in",
                "drawer_bank",
                "width: 30.75, depth: 17.5, height: 24, drawers: 4, fronts: \"overlay\", between: \"frames\", \
                 handles: \"knobs\", stands: \"hung\"",
                inches(Paper::Letter),
            ),
            (
                "in",
                "chest",
                "length: 45, depth: 19.25, height: 21, corners: \"dovetails\", plinth: 3.75",
                inches(Paper::Letter),
            ),
            (
                "mm",
                "stool",
                "width: 350, depth: 330, height: 405, leg: 45, splay: 7, thick: 20, low: 165",
                Look::new(Paper::A4, Unit::Mm, Profile::Iso),
            ),
        ];
        for (unit, kind, sizes, look) in cases {
            let text = format!(
                "job(\"Once\", #{{ unit: \"{unit}\" }});\nimport \"{kind}\" as kind;\npiece(\"Once\");\n\
                 kind::make(#{{ {sizes} }});\n"
            );
            let examined = rodwright::examine(&request("once.rhai", text));
            let (job, parts) = examined.worked.unwrap_or_else(|| panic!("{kind}: {:?}", examined.problems));
            let found = rodwright::paper::lint::judge_set(&rodwright::draw(&job, &parts, &look).sheets);
            assert!(found.is_empty(), "{kind}: {found:?}");
        }
    }

    #[test]
    fn what_runs_on_follows_its_beginning() {
        for script in scripts() {
            let (job, parts) = worked(&script, &[]);
            for paper in [Paper::A4, Paper::A3] {
                let sheets = rodwright::draw(&job, &parts, &Look::new(paper, Unit::Mm, Profile::Iso)).sheets;
                let titles = |sheet: &Sheet| -> Vec<String> {
                    let texts = sheet.marks.iter().filter_map(|mark| match &mark.ink {
                        Ink::Text(text) if mark.role == Role::Title => Some(text.reading()),
                        _ => None,
                    });
                    texts.collect()
                };
                let mut begun: Vec<String> = Vec::new();
                for title in sheets.iter().flat_map(titles) {
                    if let Some(stem) = title.strip_suffix(" (continued)") {
                        assert!(begun.iter().any(|known| known == stem), "{script} {paper:?}: {title}");
                    }
                    begun.push(title);
                }
            }
        }
    }
}

#[test]
fn a_plan_leaves_out_a_top_only_where_something_stands_under_it() {
    let plan = |text: &str| {
        let set = rodwright::set_out(&request("plan.rhai", text.into()), &rodwright::Choices::default());
        assert!(!set.files.is_empty(), "{text}");
        let sheets = set.files.iter().filter(|file| file.name.ends_with(".svg"));
        sheets.filter(|file| String::from_utf8_lossy(&file.bytes).contains("Seen without the top")).count()
    };
    // A board with its breadboard ends lies beside them: nothing is under it.
    let ends = r#"
job("Kneading board");
let maple = board_stock("Maple", #{ thick: [27], species: "hard maple" });
piece("Board");
let top = board("Top", maple, #{ x: [70, 930], y: [0, 500], z: [0, 27], grain: "x" });
for at in [[0, 70], [930, 1000]] {
    let end = board(`End ${at[0]}`, maple, #{ x: at, y: [0, 500], z: [0, 27], grain: "y" });
    tongue(top, end, #{ dry: true });
}
"#;
    assert_eq!(plan(ends), 0);
    assert_eq!(plan(include_str!("../../scripts/reading_table.rhai")), 1);
}

/// A stool whose legs lean both ways, on the smallest paper: its leg, in a cell with all its
/// views and notes, once had room at 1:384 alone. And its legs, cut parallel at top and foot,
/// have no long point: by hand, each edge is 17 times the root of 1 + 2 tan² 6°, 17 3/16.
#[test]
fn a_leaning_leg_is_drawn_to_be_read_and_told_along_its_edges() {
    let text = r#"
job("Stool", #{ unit: "in" });
import "stool" as stool;
piece("Stool");
stool::make(#{ width: 14, depth: 13, height: 18, leg: 2, splay: 6, thick: 1, low: 5 });
"#;
    let (job, parts) =
        rodwright::examine(&request("stool.rhai", text.into())).worked.expect("a stool that can be made");
    let look = Look::new(Paper::Letter, Unit::Inch, Profile::Asme);
    let sheets = rodwright::draw(&job, &parts, &look).sheets;
    let mut scales = 0;
    for sheet in sheets.iter().filter(|sheet| sheet.title.starts_with("Parts")) {
        for mark in &sheet.marks {
            let Ink::Text(text) = &mark.ink else { continue };
            let reading = text.reading();
            let Some((inches, _)) = reading.split_once("″ = 1′-0″") else { continue };
            assert!(!inches.contains("/16") && !inches.contains("/32") && inches != "1/8", "{reading}");
            scales += 1;
        }
    }
    assert!(scales > 5, "{scales}");
    let says = |what: &str| {
        sheets.iter().filter(|sheet| sheet.title.contains("Cutting list")).any(|sheet| {
            sheet.marks.iter().any(|m| matches!(&m.ink, Ink::Text(text) if text.reading().contains(what)))
        })
    };
    assert!(says("parallel, 17 3/16") && !says("long point"));
}
