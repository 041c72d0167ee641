//! Set-ups worked by hand.

use std::sync::Arc;

use super::operation::{State, To};
use super::places::Distances;
use super::setting::{Against, Depth, Setting, Task};
use super::setup::{SetUp, set_ups};
use super::{Machined, later};
use crate::joinery::{CutKind, WorkedJob};
use crate::model::{Face, Job};
use crate::script::{Limits, NoModules, Request};

fn job(text: &str) -> (Job, WorkedJob) {
    let request = Request {
        name: "test".into(),
        text: text.into(),
        settings: Vec::new(),
        loader: Arc::new(NoModules),
        words: crate::words(),
        limits: Limits::default(),
    };
    let examined = crate::examine(&request);
    examined.worked.unwrap_or_else(|| panic!("{:?}", examined.problems))
}

/// The set-ups of all parts of a script, each part a work of its own.
fn all(text: &str) -> Vec<SetUp> {
    let (job, worked) = job(text);
    let machined = Machined::new(&job, &worked);
    let works: Vec<_> = (0..worked.parts.len()).map(|index| machined.operations(index).to_vec()).collect();
    set_ups(&works)
}

fn of(list: &[SetUp], kind: CutKind) -> Vec<&SetUp> {
    list.iter().filter(|setup| setup.task == Task::Cut(kind)).collect()
}

/// A side 250 deep lipped 6 on its front, a shelf 18 thick housed 6 deep in it, its
/// underside 200 up, stopped 12 behind the front.
const LIPPED: &str = r#"
job("Shelf", #{ unit: "mm" });
let ply = sheet_stock("Ply", #{ thick: 18, sheet: [2440, 1220], grain: "length" });
let oak = board_stock("Oak", #{ thick: [27], lengths: [2400] });
piece("Shelf");
let side  = panel("Side",  ply, #{ x: [0, 18],   y: [0, 250], z: [0, 600], grain: "z" });
let shelf = panel("Shelf", ply, #{ x: [18, 600], y: [0, 250], z: [200, 218], grain: "x" });
housing(shelf, side, #{ depth: 6, stop: 12 });
lipping(side, "front", oak, #{ thick: 6 });
"#;

/// By hand: the finished edge is that of the lipping, so the housing stops 12 from it
/// and not 6, which is how far it stops from the panel under it.
#[test]
fn a_lipped_side_is_worked_from_its_lipping() {
    let list = all(LIPPED);
    let housings = of(&list, CutKind::Housing);
    assert_eq!(housings.len(), 1, "{housings:#?}");
    let housing = housings[0];
    assert_eq!(housing.setting, Setting::Channel { width: 18.0, depth: Depth::To(6.0) });
    assert_eq!(housing.fence, Some(Distances::Each(vec![200.0])));
    let turn = &housing.turns[0];
    let stop: Vec<_> = turn.stopped.iter().map(|from| (from.face, from.distances.clone())).collect();
    let twelve = Distances::Each(vec![12.0]);
    assert!(stop == [(Face::Edge, twelve.clone())] || stop == [(Face::FarEdge, twelve)], "{stop:?}");
    assert_eq!(turn.uses[0].state, State::Trimmed);
    // Trimmed before, off the lipping, to the whole depth.
    let rip = list.iter().find(|setup| setup.task == Task::Rip).unwrap();
    assert_eq!(rip.setting, Setting::Size { size: 250.0 });
    assert!(matches!(rip.turns[0].against, Against::Lipping { .. }));
    assert_eq!(rip.turns[0].uses[0].state, State::Lipped);
}

/// By hand: a housing as wide as its side runs out at both edges, one that ends 40 short
/// of the back stops there and nowhere else.
#[test]
fn a_housing_stops_only_where_it_does_not_run_out() {
    let case = |shelf: &str| {
        format!(
            r#"
job("Shelf", #{{ unit: "mm" }});
let ply = sheet_stock("Ply", #{{ thick: 18, sheet: [2440, 1220], grain: "length" }});
piece("Shelf");
let side  = panel("Side",  ply, #{{ x: [0, 18],   y: [0, 250], z: [0, 600], grain: "z" }});
let shelf = panel("Shelf", ply, #{{ x: [18, 600], y: {shelf}, z: [200, 218], grain: "x" }});
housing(shelf, side, #{{ depth: 6 }});
"#
        )
    };
    let stops = |shelf: &str| {
        let list = all(&case(shelf));
        let housing = of(&list, CutKind::Housing)[0];
        housing.turns[0].stopped.iter().map(|from| from.distances.clone()).collect::<Vec<_>>()
    };
    assert_eq!(stops("[0, 250]"), []);
    assert_eq!(stops("[0, 210]"), [Distances::Each(vec![40.0])]);
    assert_eq!(stops("[30, 250]"), [Distances::Each(vec![30.0])]);
}

/// By hand: two mirrored sides with three shelves each are one set-up, fence 80, 280
/// and 480 from the end that stands down.
#[test]
fn housings_of_a_mirror_pair_are_one_set_up() {
    let list = all(r#"
job("Case", #{ unit: "mm" });
let ply = sheet_stock("Ply", #{ thick: 18, sheet: [2440, 1220], grain: "length" });
piece("Case");
let left  = panel("Left",  ply, #{ x: [0, 18],    y: [0, 250], z: [0, 618], grain: "z" });
let right = panel("Right", ply, #{ x: [782, 800], y: [0, 250], z: [0, 618], grain: "z" });
for z in [80, 280, 480] {
    let shelf = panel("Shelf", ply, #{ x: [18, 782], y: [0, 240], z: [z, z + 18], grain: "x" });
    housing(shelf, left,  #{ depth: 6, stop: 12 });
    housing(shelf, right, #{ depth: 6, stop: 12 });
}
"#);
    let housings = of(&list, CutKind::Housing);
    assert_eq!(housings.len(), 1, "{housings:#?}");
    assert_eq!(housings[0].fence, Some(Distances::Row { first: 80.0, last: 480.0, pitch: 200.0 }));
    assert_eq!(housings[0].cuts(), 6);
    let fences: Vec<_> = housings[0]
        .turns
        .iter()
        .map(|turn| match &turn.against {
            Against::Fence { faces, .. } => faces.clone(),
            other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(fences.len(), 2);
    assert!(fences.contains(&vec![Face::NearEnd]) && fences.contains(&vec![Face::FarEnd]));
}

/// By hand: two rails 60 wide with a loose tenon each into a side 600 long, their
/// middles 70 from its ends: one set-up with both stops.
#[test]
fn mortises_have_stops_from_the_nearer_end() {
    let list = all(r#"
job("Side", #{ unit: "mm" });
let oak = board_stock("Oak", #{ thick: [27], lengths: [2400] });
piece("Side");
let side = board("Side", oak, #{ x: [0, 22], y: [0, 90], z: [0, 600], grain: "z" });
let low  = board("Low rail", oak, #{ x: [22, 600], y: [0, 22], z: [40, 100], grain: "x" });
let high = board("High rail", oak, #{ x: [22, 600], y: [0, 22], z: [500, 560], grain: "x" });
loose_tenons(low, side, #{ tenon: "8x40", count: 1 });
loose_tenons(high, side, #{ tenon: "8x40", count: 1 });
"#);
    let side: Vec<_> =
        of(&list, CutKind::Mortise).into_iter().filter(|s| s.turns[0].uses[0].work == 0).collect();
    assert_eq!(side.len(), 1, "{side:#?}");
    assert_eq!(side[0].fence_to, To::Middle);
    let stops: Vec<_> =
        side[0].turns[0].stops.iter().map(|from| (from.face, from.distances.clone())).collect();
    let seventy = || Distances::Each(vec![70.0]);
    assert_eq!(stops, [(Face::NearEnd, seventy()), (Face::FarEnd, seventy())]);
    assert_eq!(side[0].cuts(), 2);
}

/// By hand: the floor of a rebate for a back lies 6 before a side's back edge, which is its far
/// edge: the pilots, 10 of a screw of 16 beyond the back, are bored from there, in the middle of
/// a lap of 9. A countersink for a screw of 3.5 is 7 wide, and half of what it is wider deep.
#[test]
fn pilots_in_a_rebate_are_bored_from_its_open_side() {
    let list = all(r#"
job("Case", #{ unit: "mm" });
let ply = sheet_stock("Ply", #{ thick: 18, sheet: [2440, 1220] });
let thin = sheet_stock("Thin ply", #{ thick: 6, sheet: [2440, 1220] });
piece("Case");
let left = panel("Left", ply, #{ x: [0, 18], y: [0, 300], z: [0, 400], grain: "z" });
let back = panel("Back", thin, #{ x: [18, 400], y: [294, 300], z: [0, 400], grain: "z" });
rebate(back, left, #{ lap: 9 });
screws(back, left, #{ screw: "3.5x16", count: 3, countersunk: true });
"#);
    let pilots: Vec<_> =
        of(&list, CutKind::ScrewHole).into_iter().filter(|s| s.turns[0].uses[0].work == 0).collect();
    assert_eq!(pilots.len(), 1, "{pilots:#?}");
    assert!(
        matches!(pilots[0].setting, Setting::Bore { depth: Depth::To(deep), .. } if (deep - 10.0).abs() < 1e-9)
    );
    assert_eq!(pilots[0].fence, Some(Distances::Each(vec![4.5])));
    let Against::Fence { from, .. } = &pilots[0].turns[0].against else { panic!("{pilots:#?}") };
    assert_eq!(*from, [Face::FarEdge]);
    let sunk = of(&list, CutKind::Countersink);
    assert!(
        matches!(sunk[0].setting, Setting::Bore { diameter, depth: Depth::To(deep) }
            if (diameter - 7.0).abs() < 1e-9 && (deep - 1.75).abs() < 1e-9),
        "{sunk:#?}"
    );
}

/// By hand: a leg 54 square tapers to 40 over 616, off two faces: 1.3 degrees in a
/// jig, where no blade tilts by 88.7.
#[test]
fn a_taper_is_set_by_its_jig() {
    let list = all(r#"
job("Leg", #{ unit: "mm" });
let oak = board_stock("Oak", #{ thick: [66], lengths: [2400] });
piece("Leg");
let leg = board("Leg", oak, #{ x: [0, 54], y: [0, 54], z: [0, 716], grain: "z" });
taper(leg, "right", #{ by: 14, toward: "bottom", start: 100 });
taper(leg, "back", #{ by: 14, toward: "bottom", start: 100 });
"#);
    let tapers = of(&list, CutKind::Taper);
    assert!(!tapers.is_empty());
    for taper in tapers {
        let Setting::TaperJig { angle, off, over } = taper.setting else { panic!("{taper:#?}") };
        assert!((angle - 1.3).abs() < 0.005 && (off - 14.0).abs() < 1e-9 && (over - 616.0).abs() < 1e-9);
        assert!(matches!(taper.turns[0].against, Against::Taper { narrow: Face::NearEnd, .. }));
    }
}

/// By hand: a bevel of 60 degrees is more than a blade tilts, so the part stands and
/// the blade tilts by 30.
#[test]
fn a_steep_bevel_is_cut_stood_up() {
    let list = all(r#"
job("Strip", #{ unit: "mm" });
let oak = board_stock("Oak", #{ thick: [27], lengths: [2400] });
piece("Strip");
let strip = board("Strip", oak, #{ x: [0, 600], y: [0, 80], z: [0, 20], grain: "x" });
bevel(strip, "front", #{ angle: 60, long: "top" });
"#);
    let bevels = of(&list, CutKind::Bevel);
    assert_eq!(bevels.len(), 1, "{list:#?}");
    assert_eq!(bevels[0].setting, Setting::Stood { angle: 30.0 });
    let tilts = list.iter().filter_map(|setup| match setup.setting {
        Setting::Tilt { angle, .. } | Setting::Stood { angle } | Setting::Compound { blade: angle, .. } => {
            Some(angle)
        }
        _ => None,
    });
    assert!(tilts.into_iter().all(|angle| angle <= 45.05));
}

/// By hand: 10 off an edge of a panel 1000 wide is more than a fence reaches; an end
/// of it is squared along a guide too.
#[test]
fn what_is_beyond_the_fence_is_straightened() {
    let list = all(r#"
job("Top", #{ unit: "mm" });
let oak = board_stock("Oak", #{ thick: [34], lengths: [2400] });
piece("Top");
let top = board("Top", oak, #{ x: [0, 1800], y: [0, 1000], z: [0, 28], grain: "x" });
"#);
    let tasks: Vec<_> = list.iter().map(|setup| setup.task).collect();
    assert_eq!(tasks, [Task::Straighten, Task::SquareEnd]);
    for setup in &list {
        assert!(matches!(setup.setting, Setting::Off { off, .. } if off > 0.0), "{setup:#?}");
        assert_eq!(setup.turns[0].against, Against::Guide);
    }
}

/// A slot as deep as its board is thick goes through, whichever face it is named from;
/// one that leaves a millimetre does not.
#[test]
fn a_slot_as_deep_as_its_board_goes_through() {
    let deep = |side: &str, depth: f64| {
        let list = all(&format!(
            r#"
job("Strip", #{{ unit: "mm" }});
let oak = board_stock("Oak", #{{ thick: [27], lengths: [2400] }});
piece("Strip");
let strip = board("Strip", oak, #{{ x: [0, 600], y: [0, 80], z: [0, 20], grain: "x" }});
slot(strip, "{side}", #{{ along: [100, 180], width: 8, depth: {depth} }});
"#
        ));
        match of(&list, CutKind::Slot)[0].setting {
            Setting::Channel { depth, .. }
            | Setting::Mortise { depth, .. }
            | Setting::ByDrawing { depth } => depth,
            ref other => panic!("{other:?}"),
        }
    };
    for side in ["top", "bottom"] {
        assert_eq!(deep(side, 20.0), Depth::Through);
        assert_eq!(deep(side, 19.0), Depth::To(19.0));
    }
}

/// What the list and the steps say is cut later is what the operations leave for later,
/// and stands last among them.
#[test]
fn what_waits_for_a_glue_up_is_last_in_the_sequence() {
    let (job, worked) = job(r#"
job("Frame", #{ unit: "mm" });
let oak = board_stock("Oak", #{ thick: [27], lengths: [2400] });
piece("Frame");
let left = board("Left", oak, #{ x: [0, 50],   y: [0, 20], z: [0, 600], grain: "z" });
let rail = board("Rail", oak, #{ x: [50, 350], y: [0, 20], z: [500, 560], grain: "x" });
mortise_tenon(rail, left);
hole(left, "front", #{ diameter: 10, along: 100, depth: 8 });
after_glue_up(|| { chamfer(left, "front", #{ width: 3 }); });
"#);
    assert_eq!(later(&worked, &[0]), [CutKind::Chamfer]);
    assert_eq!(later(&worked, &[1]), []);
    let list = Machined::new(&job, &worked).operations(0).to_vec();
    let waiting: Vec<bool> = list.iter().map(|operation| operation.later).collect();
    assert!(waiting.is_sorted() && waiting.contains(&true), "{list:#?}");
    let kinds = list
        .iter()
        .filter(|o| o.later)
        .all(|o| o.task == Task::Cut(CutKind::Chamfer) && o.state == State::GluedUp);
    assert!(kinds, "{list:#?}");
}

/// What the bench works of a notch, as text: `notch Channel { .. }; fence [30.0]`.
fn notches(of: [[f64; 2]; 3], cut: &str) -> Vec<String> {
    let [x, y, z] = of;
    let text = format!(
        "job(\"Rack\", #{{ unit: \"mm\" }});\n\
         let oak = board_stock(\"Oak\", #{{ thick: [27, 34, 52] }});\npiece(\"Rack\");\n\
         let rail = board(\"Rail\", oak, #{{ x: {x:?}, y: {y:?}, z: {z:?}, grain: \"x\" }});\n\
         notch(rail, #{{ {cut} }});"
    );
    of_kind(&all(&text), CutKind::Notch)
}

fn of_kind(list: &[SetUp], kind: CutKind) -> Vec<String> {
    of(list, kind).iter().map(|setup| format!("{:?}", setup.setting)).collect()
}

/// A notch that opens no edge is a window: it is set up as any other, from whichever side
/// the piece's axes have it swept.
#[test]
fn a_window_in_the_middle_of_a_board_is_set_up() {
    let thick = [0.0, 22.0];
    let upright = notches([[0.0, 1100.0], thick, [0.0, 120.0]], "x: [800, 840], z: [40, 70]");
    let flat = notches([[0.0, 1100.0], [0.0, 120.0], thick], "x: [800, 840], y: [40, 70]");
    assert_eq!(upright.len(), 1, "{upright:?}");
    assert_eq!(flat.len(), 1, "{flat:?}");
    assert!(upright[0].contains("Through"), "{upright:?}");
}

/// In a leg that leans a level notch lies askew: it is marked corner by corner on the face it
/// is seen square from, and no cutter is set to a mitre there is none of.
#[test]
fn a_level_notch_in_a_leg_that_leans_is_marked_by_its_drawing() {
    let text = "job(\"Rack\", #{ unit: \"mm\" });\n\
         let oak = board_stock(\"Oak\", #{ thick: [52] });\npiece(\"Rack\");\n\
         let leg = board(\"Leg\", oak, #{ x: [0, 40], y: [0, 40], z: [0, 400], grain: \"z\", splay: 8 });\n\
         notch(leg, #{ x: [-20, 80], y: [0, 15], z: [300, 330] });";
    assert_eq!(of_kind(&all(text), CutKind::Notch), ["ByDrawing { depth: To(15.0) }"]);
}

/// No cut that takes wood from a blank is without a form that a sheet can size, in any of
/// the pieces of the joint families.
#[test]
fn every_cut_of_the_families_is_read() {
    let mut folders = vec![std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/drawing/families")];
    let mut scripts = Vec::new();
    while let Some(folder) = folders.pop() {
        for path in std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
            if path.is_dir() { folders.push(path) } else { scripts.push(path) }
        }
    }
    let (mut cuts, mut unread) = (0, Vec::new());
    for path in scripts.iter().filter(|path| path.extension().is_some_and(|ending| ending == "rhai")) {
        let (_, worked) = job(&std::fs::read_to_string(path).unwrap());
        for part in &worked.parts {
            let read = super::feature::read(part);
            for (index, cut) in part.cuts.iter().enumerate().filter(|(_, cut)| takes_wood(cut, part.size)) {
                cuts += 1;
                // The bore of a pocket screw is read with its pocket.
                let bored = cut.kind == CutKind::ScrewHole
                    && read.iter().any(|f| matches!(f.form, super::feature::Form::SlopedBore(_)));
                if !bored && !read.iter().any(|feature| feature.cut == index) {
                    unread.push(format!("{}: {:?} of {}", path.display(), cut.kind, part.name));
                }
            }
        }
    }
    assert!(cuts > 500, "{cuts}");
    assert!(unread.is_empty(), "{unread:#?}");
}

/// Whether the box round a cut reaches into the blank.
fn takes_wood(cut: &crate::joinery::Cut, size: crate::geometry::DVec3) -> bool {
    let (low, high) = super::feature::outlines::bounds(&cut.shape);
    (0..3).all(|axis| low[axis] < size[axis] - 0.5 && high[axis] > 0.5)
}
