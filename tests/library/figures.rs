//! Figures of the library's pieces against handbooks and lists worked by hand.

use std::f64::consts::PI;

use rodwright::cutting::cutting_list;
use rodwright::examine;
use rodwright::problem::render_all;
use rodwright::script::furniture;

use crate::library::made::{asked, request};

/// A row of a list: name, how many, and length, width and thickness.
type Piece = (&'static str, usize, [f64; 3]);

/// Finished sizes by name, and how many, as a maker lists them with pencil and paper
/// from the overall sizes: the lengths that tenons, housings and grooves add are
/// worked out beside each.
const LISTS: &[(&str, &str, &[Piece])] = &[
    // Lippings of 6 off the depth; shelves 6 into either side; back 9 over both
    // sides and from the bottom's underside up.
    (
        "bookcase",
        "width: 900, height: 1100, depth: 280, shelves: 2, back: \"rebate\"",
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
            ("Cleat", 2, [1200.0 - 80.0 - 108.0 - 20.0, 34.0, 20.0]),
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
    // The shelf 4 into either side, a quarter of 18 in whole millimetres, and 18 short of the
    // depth, for the back; the back 5.5 into grooves of 6.
    (
        "case",
        "width: 800, height: 600, depth: 350",
        &[
            ("Left side", 2, [600.0, 344.0, 18.0]),
            ("Bottom", 2, [764.0, 344.0, 18.0]),
            ("Shelf", 1, [764.0 + 8.0, 350.0 - 18.0 - 6.0, 18.0]),
            ("Back", 1, [564.0 + 11.0, 764.0 + 11.0, 6.0]),
        ],
    ),
    // The rail behind the back, 18 and 19 from the wall; the cleat is sawn out of
    // 19 mm and grows down by its bevel of 45 degrees.
    (
        "wall_case",
        "width: 900, height: 480, depth: 310, doors: \"none\"",
        &[
            ("Hanging rail", 1, [864.0, 100.0, 18.0]),
            ("Cleat on the case", 1, [820.0, 50.0 + 19.0, 19.0]),
            ("Cleat on the wall", 1, [820.0, 60.0, 19.0]),
            ("Shelf", 1, [864.0 + 8.0, 310.0 - 38.0 - 6.0 - 6.0, 18.0]),
        ],
    ),
    // Gaps of 2 leave 396 by 596; tenons of 40 into stiles of 60; the panel 7 into
    // grooves of 8.
    (
        "door",
        "width: 400, height: 600",
        &[
            ("left stile", 2, [596.0, 60.0, 22.0]),
            ("top rail", 1, [276.0 + 80.0, 60.0, 22.0]),
            ("bottom rail", 1, [276.0 + 80.0, 75.0, 22.0]),
            ("panel", 1, [461.0 + 14.0, 276.0 + 14.0, 6.0]),
        ],
    ),
    // Lapped dovetails leave 5 of the front; the back 3 into either side; the bottom
    // 4.5 into grooves of 5, 12 up and 6 thick, to the ends of the sides.
    (
        "drawer",
        "width: 420, depth: 400, height: 120",
        &[
            ("Drawer front", 1, [420.0, 120.0, 20.0]),
            ("Left drawer side", 2, [400.0 - 5.0, 120.0, 12.0]),
            ("Drawer back", 1, [396.0 + 6.0, 120.0 - 8.0 - 18.0, 12.0]),
            ("Drawer bottom", 1, [396.0 + 9.0, 400.0 - 20.0 + 4.5, 6.0]),
        ],
    ),
    // Four fronts of (620 - 36 - 5 x 3) / 4, 2 narrower than the opening of 444.
    (
        "drawer_bank",
        "width: 480, height: 620, depth: 420, drawers: 4",
        &[
            ("Left side", 2, [620.0, 414.0, 18.0]),
            ("Drawer front", 4, [442.0, 142.25, 20.0]),
            ("Runner", 8, [350.0, 16.0, 6.0]),
        ],
    ),
    // Overlay fronts of 480 - 3; (620 - 4 x 3) / 4 high. Between them frames of 20: rails 6
    // into either side, runners with tenons of 12 between rails of 50 before the back at 402.
    (
        "drawer_bank",
        "width: 480, height: 620, depth: 420, drawers: 4, fronts: \"overlay\", between: \"frames\"",
        &[
            ("Overlay front", 4, [477.0, 152.0, 20.0]),
            ("Frame rail", 6, [444.0 + 12.0, 50.0, 20.0]),
            ("Frame runner", 6, [402.0 - 100.0 + 24.0, 40.0, 20.0]),
        ],
    ),
    // The front 1 clear of both sides of the opening; bought runners take 12.7, runners of
    // wood reach 5 into the drawer.
    (
        "drawer_bank",
        "width: 480, height: 620, depth: 420, drawers: 4, corners: \"housed\", runs_on: \"bought runners\"",
        &[
            ("Drawer front", 4, [442.0, 142.25, 20.0]),
            ("Drawer back", 4, [444.0 - 25.4 - 28.0 + 6.0, 118.25, 14.0]),
        ],
    ),
    // Skins of 9 behind edges of 12; arms go through a rail of 30.
    (
        "floating_shelf",
        "length: 900, depth: 220, height: 50",
        &[
            ("Left end", 2, [220.0, 50.0, 12.0]),
            ("Front edge", 1, [900.0, 50.0, 12.0]),
            ("Top", 2, [876.0, 208.0, 9.0]),
            ("Wall rail", 1, [872.0, 32.0, 30.0]),
            ("Arm", 2, [124.0 + 30.0, 32.0, 26.0]),
        ],
    ),
    // Tenons of 12: those of two rails stop 2 short of one another in a leg of 38.
    (
        "stool",
        "width: 360, depth: 320, height: 450",
        &[
            ("leg", 4, [426.0, 38.0, 38.0]),
            ("Front rail", 2, [330.0 - 76.0 + 24.0, 60.0, 20.0]),
            ("Left low rail", 2, [290.0 - 76.0 + 24.0, 36.0, 20.0]),
            ("Seat", 1, [360.0, 320.0, 24.0]),
        ],
    ),
    // The bottom goes 5.5 into grooves of 6, a third of the sides in whole millimetres.
    (
        "chest",
        "length: 960, depth: 440, height: 480",
        &[
            ("Front", 2, [960.0, 460.0, 20.0]),
            ("Left end", 2, [440.0, 460.0, 20.0]),
            ("Bottom", 1, [920.0 + 11.0, 400.0 + 11.0, 9.0]),
            ("Plinth front", 1, [992.0, 90.0, 16.0]),
            ("Lid", 1, [1000.0, 460.0, 20.0]),
        ],
    ),
    // Tenons of 22 at both ends.
    (
        "face_frame",
        "width: 800, height: 700",
        &[("Left stile", 2, [700.0, 45.0, 20.0]), ("Top rail", 2, [800.0 - 90.0 + 44.0, 50.0, 20.0])],
    ),
    // The bearer stands between the front and a back that is 20 in.
    (
        "plinth",
        "width: 800, depth: 300, height: 90",
        &[
            ("Plinth front", 1, [800.0, 90.0, 20.0]),
            ("Plinth left end", 2, [300.0, 90.0, 20.0]),
            ("Plinth back", 1, [760.0, 90.0, 20.0]),
            ("Plinth bearer", 1, [240.0, 90.0, 20.0]),
        ],
    ),
    // Between legs of 50 with 2 mm of room; slats of at most 120, 6 apart, between boards of
    // 22 that stand 6 in.
    (
        "planter",
        "width: 700, depth: 360",
        &[("Batten", 2, [596.0, 30.0, 22.0]), ("Slat", 5, [304.0, (596.0 - 24.0) / 5.0, 18.0])],
    ),
    // Backs overlap by 18; ends stand beside one and lose 8 to their lipping; stiles begin 18
    // behind the ends' faces and go on to their backs, 20 farther; rails with tenons of 22.
    (
        "corner_case",
        "wall: 600, height: 800, depth: 180",
        &[
            ("Left back", 1, [800.0, 600.0, 18.0]),
            ("Right back", 1, [800.0, 582.0, 18.0]),
            ("Left end", 2, [800.0, 180.0 - 18.0 - 8.0, 18.0]),
            ("Left stile", 2, [800.0, 45.0 + 20.0, 20.0]),
            ("Bottom rail", 2, [402.0 * std::f64::consts::SQRT_2 - 90.0 + 44.0, 45.0, 20.0]),
            ("Shelf", 3, [564.0, 564.0, 18.0]),
        ],
    ),
    // The top falls 4 in 9, and a length along it is 1.09432 of one across. Sides go 6 into
    // its 18, at their corner nearer the high end.
    (
        "sloping_case",
        "width: 900, height: 900, low: 500, depth: 350",
        &[
            ("Top", 1, [900.0 * 1.094_320 + 30.0, 344.0, 18.0]),
            ("Left side", 1, [900.0 - 12.0 * 1.094_320, 344.0, 18.0]),
            ("Right side", 1, [900.0 - 12.0 * 1.094_320 - 882.0 * 4.0 / 9.0, 344.0, 18.0]),
            ("Shelf", 2, [423.0 + 8.0, 350.0 - 6.0 - 6.0, 18.0]),
        ],
    ),
    // Front legs under a seat of 20; back legs out of the rake, the bow and their own 38.
    // Tenons of 12 in front legs, of 9 in back ones, of 14 for low rails. Front and back
    // rails are 23 thick, for the slots of the seat's screws.
    (
        "chair",
        "width: 440, depth: 420, seat: 450, height: 860",
        &[
            ("front leg", 2, [430.0, 38.0, 38.0]),
            ("back leg", 2, [860.0, 90.0 + 6.0 + 38.0, 38.0]),
            ("Front rail", 1, [440.0 - 76.0 + 24.0, 60.0, 23.0]),
            ("Left rail", 2, [420.0 - 76.0 + 12.0 + 9.0, 60.0, 20.0]),
            ("Left low rail", 2, [420.0 - 76.0 + 28.0, 36.0, 16.0]),
            ("Seat", 1, [452.0, 424.0, 20.0]),
        ],
    ),
    // A side is as wide as twice its distance from the middle by tan 22.5 degrees; ledges
    // that far before it; the floor out of a square of its corners, 131 / cos 22.5 degrees.
    (
        "stand",
        "sides: 8, across: 300, height: 480, lean: 0",
        &[
            ("Side", 8, [480.0, 300.0 * 0.414_214, 18.0]),
            ("Ledge", 8, [2.0 * 112.0 * 0.414_214, 30.0, 18.0]),
            ("Floor", 1, [2.0 * 131.0 / 0.923_880, 2.0 * 131.0 / 0.923_880, 9.0]),
        ],
    ),
    // Blanks for the lathe are square and as thick as the turning.
    ("turned_leg", "height: 420, diameter: 42", &[("Leg", 1, [420.0, 42.0, 42.0])]),
    ("post", "height: 900, diameter: 60", &[("Post", 1, [900.0, 60.0, 60.0])]),
    ("knob", "diameter: 34, reach: 28, deep: 14", &[("Knob", 1, [42.0, 34.0, 34.0])]),
];

/// Masses of whole pieces against volumes worked by hand: what a tenon fills its mortise
/// lost. Densities are 1000 G x 1.12 with G of the Wood Handbook (FPL-GTR-190), Table
/// 5-3a: ash 0.60, oak 0.68, maple 0.63, beech 0.64; plywood 680 kg/m3, common practice, no source;
/// glass 2500 kg/m3, MIL-HDBK-1013/12.
#[test]
fn whole_pieces_weigh_what_a_hand_calculation_says() {
    let ash = 672.0e-9;
    let oak = 761.6e-9;
    let beech = 716.8e-9;
    let ply = 680.0e-9;
    let cases = [
        (
            "table",
            "length: 1200, width: 700, height: 740",
            ash * (1200.0 * 700.0 * 24.0
                + 4.0 * 54.0 * 54.0 * 716.0
                + 2.0 * 90.0 * 22.0 * (1012.0 + 512.0)
                + 2.0 * 34.0 * 20.0 * 992.0),
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
        (
            "case",
            "width: 800, height: 600, depth: 350",
            // Sides, top and bottom, shelf, the back as far as it is seen; lippings of oak.
            ply * (2.0 * (600.0 + 764.0) * 344.0 * 18.0 + 764.0 * 326.0 * 18.0 + 764.0 * 564.0 * 6.0)
                + oak * 6.0 * 18.0 * (2.0 * 600.0 + 3.0 * 764.0),
        ),
        (
            "turned_leg",
            "height: 420, diameter: 42, foot: 22",
            // Two cut cones: 22 to 42 over three quarters of the height, 42 to 37.8 above.
            beech * PI / 12.0
                * (315.0 * (22.0 * 22.0 + 22.0 * 42.0 + 42.0 * 42.0)
                    + 105.0 * (42.0 * 42.0 + 42.0 * 37.8 + 37.8 * 37.8)),
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

/// Heights people sit and work at. Table 710 to 780, leg room of 610 or more under the
/// top and 300 to 340 from seat to top: GOST 13025.3-85, by a secondary source; counter
/// 889 to 914: general reference; seat 430 to 460: common practice, from memory.
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
    for (name, key) in [("bench", "height"), ("stool", "height"), ("chair", "seat")] {
        let (seat, low, high) = usual(name, key);
        assert!((430.0..=460.0).contains(&seat) && low <= 430.0 && high >= 460.0, "{name}");
        assert!((300.0..=340.0).contains(&(table - seat)), "{name}: {} from seat to top", table - seat);
    }
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn cutting_sizes_are_those_worked_by_hand() {
        for (name, options, rows) in LISTS {
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
                let all: Vec<_> =
                    list.parts.iter().map(|r| (r.name.clone(), r.quantity, sizes_of(r))).collect();
                assert!(
                    found.iter().any(|r| near(r)) && number == *count,
                    "{name} `{part}` {size:?}: {all:#?}"
                );
            }
        }
    }
}

/// What `words` says a type gives is what it gives: each name can be asked for.
#[test]
fn types_give_their_parts_by_the_names_told() {
    let mut told = 0;
    for made in furniture().iter().filter(|made| !made.gives.is_empty()) {
        let module = made.module;
        let options = match module {
            "case" | "drawer_bank" | "sloping_case" => "stands: \"on a plinth\"",
            "floating_shelf" => "build: \"laminated\"",
            _ => "",
        };
        let text = format!(
            "job(\"A\");\nimport \"{module}\" as t;\npiece(\"A\");\nlet made = t::make(#{{ {options} }});\n\
             for name in {:?} {{ if !(name in made) {{ refuse(name, \"is not given\", \"\"); }} }}\n",
            made.gives
        );
        let done = examine(&request("a", &text, Vec::new()));
        let said = render_all(&done.problems, &done.sources);
        assert!(!said.contains("error"), "{module}: {said}");
        told += 1;
    }
    assert!(told > 15, "{told} types tell what they give");
}

/// Between rails that stand 14 back behind legs of 40 a runner is 14 thicker: with 1 of room
/// beside the drawer and 5 let into it 20 wide. It runs as far as its rail, from 40 on; the drawer
/// begins at 6, is 350 deep, and 10 are left at its back: to 346, 306 long.
#[test]
fn runners_reach_rails_that_stand_back_and_end_at_legs() {
    let text = "job(\"A\");\nimport \"drawer\" as drawer;\nlet oak = board_stock(\"Oak\");\npiece(\"A\", #{ hung: false });\n\
        let legs = [];\nfor x in [0, 410] { for y in [0, 360] { legs += board(\"Leg\", oak, #{ x: [x, x + 40], y: [y, y + 40], z: [0, 580], grain: \"z\" }); } }\n\
        let left = board(\"Left\", oak, #{ x: [6, 26], y: between(legs[0], legs[1]), z: [440, 580], grain: \"y\" });\n\
        let right = board(\"Right\", oak, #{ x: [424, 444], y: between(legs[2], legs[3]), z: [440, 580], grain: \"y\" });\n\
        for leg in [legs[0], legs[1]] { mortise_tenon(left, leg, #{ haunch: \"top\" }); }\n\
        for leg in [legs[2], legs[3]] { mortise_tenon(right, leg, #{ haunch: \"top\" }); }\n\
        let low = board(\"Low\", oak, #{ x: between(legs[0], legs[2]), y: [6, 36], z: [440, 460], grain: \"x\" });\n\
        for leg in [legs[0], legs[2]] { mortise_tenon(low, leg); }\n\
        moved(40, 6, 461, || drawer::make(#{ width: 370, depth: 350, height: 100, sides: [left, right] }));\n";
    let done = examine(&request("a", text, Vec::new()));
    assert_eq!(render_all(&done.problems, &done.sources), "");
    let worked = done.worked.unwrap().1;
    let runners: Vec<[f64; 2]> = worked
        .parts
        .iter()
        .filter(|part| part.name == "Runner")
        .map(|part| [part.size.x, part.size.y])
        .collect();
    assert_eq!(runners.len(), 2);
    // From 40 of the legs to 10 before 356, where the drawer ends.
    let right = |[long, thick]: &[f64; 2]| (long - 306.0).abs() < 1e-9 && (thick - 20.0).abs() < 1e-9;
    assert!(runners.iter().all(right), "{runners:?}");
    // The drawer stands at 461 and is 100 high: runners 16 high reach from 503 to 519. The
    // grooves hang on their upper edges, half a millimetre of play below, and shut against
    // their front ends: flush, neither proud nor deep.
    let side = worked.parts.iter().find(|part| part.name == "Left drawer side").unwrap();
    let reach = |axis: usize, cut: &rodwright::joinery::Cut| {
        let all = rodwright::joinery::corners(&cut.shape).into_iter().map(|p| side.at.point(p)[axis]);
        all.fold((f64::MAX, f64::MIN), |(a, b), at| (a.min(at), b.max(at)))
    };
    let near = |(a, b): (f64, f64), (c, d): (f64, f64)| (a - c).abs() < 1e-9 && (b - d).abs() < 1e-9;
    let groove =
        side.cuts.iter().find(|cut| near(reach(2, cut), (502.5, 519.0))).expect("a groove for the runner");
    assert!((reach(1, groove).0 - 40.0).abs() < 1e-9, "{:?}", reach(1, groove));
    // Sides of 12 keep 12 - 5.5 - 3 where the back is housed in them.
    assert!((reach(0, groove).1 - 41.0 - 5.5).abs() < 1e-9, "{:?}", reach(0, groove));
}
