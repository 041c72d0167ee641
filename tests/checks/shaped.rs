//! Checks see parts as they are cut: what joints sink into shaped, turned and leaning
//! parts stays in their wood, and what clears is no clash. `UPDATE=1` writes the
//! messages anew.

use super::findings::found;
use crate::support::golden::golden;

/// What is found of a piece of oak.
fn said(text: &str) -> String {
    let head = "job(\"Test\", #{ unit: \"mm\" });\nlet oak = board_stock(\"Oak\", #{ thick: [27, 34, 54, 65] });\n\
                let elm = blank_stock(\"Elm\");\npiece(\"Piece\");\n";
    found("test", &format!("{head}{text}\n"), Vec::new())
}

/// A crest 440 long and 60 wide over two legs; its outline, whose corners are counted from
/// the edge mark, which looks up; and more.
fn crest(points: &str, more: &str) -> String {
    format!(
        "let crest = board(\"Crest\", oak, #{{ x: [0, 440], y: [0, 27], z: [400, 460], grain: \"x\" }});\n\
         let left = board(\"Left leg\", oak, #{{ x: [0, 40], y: [0, 27], z: [0, 400], grain: \"z\" }});\n\
         let right = board(\"Right leg\", oak, #{{ x: [400, 440], y: [0, 27], z: [0, 400], grain: \"z\" }});\n\
         outline(crest, \"front\", #{{ points: {points} }});\n{more}"
    )
}

/// A rail tenoned into a post, and its outline.
fn rail(outline: &str) -> String {
    format!(
        "let post = board(\"Post\", oak, #{{ x: [0, 54], y: [0, 54], z: [0, 400], grain: \"z\" }});\n\
         let rail = board(\"Rail\", oak, #{{ x: [54, 400], y: [13, 40], z: [200, 280], grain: \"x\" }});\n\
         mortise_tenon(rail, post);\noutline(rail, \"front\", #{{ points: {outline} }});"
    )
}

/// A rail dowelled to a turned leg, at a height.
fn leg(low: f64) -> String {
    let high = low + 60.0;
    format!(
        "let leg = turned(\"Leg\", elm, #{{ from: [0, 0, 0], along: \"z\", stations: [[0, 24], [300, 60], [400, 60]] }});\n\
         let rail = board(\"Rail\", oak, #{{ x: [30, 300], y: [-13, 14], z: [{low:?}, {high:?}], grain: \"x\" }});\n\
         dowels(rail, leg, #{{ dowel: \"8x40\", count: 2 }});"
    )
}

/// Sides of a stand of six turned about its middle, `by` degrees each, the last mitred to
/// the first as well.
fn ring(by: f64) -> String {
    format!(
        "let sides = [];\nfor k in 0..6 {{ sides.push(board(\"Side \" + k, oak, #{{ x: [-100, 100], y: [-173.2, -146.2], z: [0, 160], grain: \"x\",\n\
             turn: #{{ axis: \"z\", by: {by:?} * k, about: [0, 0, 0] }} }})); }}\n\
         for k in 0..6 {{ mitre(sides[k], sides[(k + 1) % 6]); }}"
    )
}

/// What turning and shaping leave that cannot be made.
fn bad_input() -> [(&'static str, String); 2] {
    let board = |name: &str, spans: &str, more: &str| {
        format!("let {name} = board(\"{name}\", oak, #{{ {spans}, grain: \"x\"{more} }});\n")
    };
    let turned = |by: f64| format!(", turn: #{{ axis: \"z\", by: {by:?}, about: [40, 0, 0] }}");
    let flat = board("shelf", "x: [0, 400], y: [0, 200], z: [0, 27]", "");
    [
        (
            "parts turned into one another",
            format!("{flat}{}", board("lid", "x: [40, 400], y: [150, 300], z: [0, 27]", &turned(20.0))),
        ),
        ("sides that do not close", ring(52.0)),
    ]
}

/// Two legs tenoned into a crest, 30 deep.
const TENONS: &str =
    "mortise_tenon(left, crest, #{ depth: 30 });\nmortise_tenon(right, crest, #{ depth: 30 });";

#[test]
fn what_leaves_the_wood_of_a_shaped_part_is_said_with_figures() {
    let cases = [
        // 15 and what the arch rises over 6 mm of its 440 are left over the mortise, 32 deep.
        (
            "mortises deeper than an arch leaves",
            crest("[[0, 60], [0, 45], #{ at: [0, 45], rise: 20 }, [440, 45], [440, 60]]", TENONS),
        ),
        // 20 are left of 60, at the top.
        ("mortises in the air", crest("[[0, 20], [0, 0], [440, 0], [440, 20]]", TENONS)),
        // The rail is 40 wide at its shoulder, its tenon from 6 to 74 of 80.
        ("a tenon without a shoulder to stand on", rail("[[0, 0], [346, 0], [346, 80], [100, 80], [0, 40]]")),
        // Where the leg is 36 thick, the rail ends 12 before it.
        ("dowels before a turned leg", leg(100.0)),
    ];
    let bad = bad_input();
    let all = cases.into_iter().chain(bad).map(|(name, text)| (name, said(&text)));
    golden(file!(), &all.collect::<Vec<_>>());
    for (what, sound) in [
        (
            "an arch higher than the mortises",
            crest("[[0, 60], [0, 20], #{ at: [0, 20], rise: 15 }, [440, 20], [440, 60]]", TENONS),
        ),
        (
            "hollow in the middle",
            rail("[[0, 0], [346, 0], [346, 80], #{ at: [300, 80], rise: -20 }, [60, 80], [0, 80]]"),
        ),
        ("dowels where the leg is thick", leg(320.0)),
    ] {
        let found = said(&sound);
        assert!(!found.contains("error["), "{what}: {found}");
    }
}

/// Six sides of a stand round a shelf that is cut to a hexagon: its corners reach past
/// the sides' boxes, but not into them.
#[test]
fn a_hexagonal_shelf_clears_its_sides_and_says_by_how_much_it_does_not() {
    let stand = |flat: f64| {
        let (r, x) = (flat / 3.0_f64.sqrt() * 2.0, flat / 3.0_f64.sqrt());
        format!(
            "let shelf = board(\"Shelf\", oak, #{{ x: [-{r:?}, {r:?}], y: [-{flat:?}, {flat:?}], z: [60, 87], grain: \"x\" }});\n\
             outline(shelf, \"top\", #{{ points: [[{:?}, 0], [{:?}, 0], [{:?}, {flat:?}], [{:?}, {:?}], [{:?}, {:?}], [0, {flat:?}]] }});\n\
             for k in 0..6 {{ board(\"Side \" + k, oak, #{{ x: [-70, 70], y: [-177, -150], z: [0, 160], grain: \"x\",\n\
                 turn: #{{ axis: \"z\", by: 60 * k, about: [0, 0, 0] }} }}); }}",
            r - x,
            r + x,
            2.0 * r,
            r + x,
            2.0 * flat,
            r - x,
            2.0 * flat,
        )
    };
    let clear = said(&stand(150.0));
    assert!(!clear.contains("parts-cross"), "{clear}");
    let tight = said(&stand(150.5));
    assert!(tight.contains("runs 0.5 mm into") && tight.contains("and 5 more"), "{tight}");
}

/// The handle of a tote: a rod 24 thick in ends of 18 that are sawn to a neck `corner` from
/// either edge, 30 below their top.
fn tote(corner: f64, from: f64, long: f64) -> String {
    let far = 200.0 - corner;
    format!(
        "let left = board(\"Left end\", oak, #{{ x: [0, 18], y: [0, 200], z: [0, 300], grain: \"z\" }});\n\
         let right = board(\"Right end\", oak, #{{ x: [482, 500], y: [0, 200], z: [0, 300], grain: \"z\" }});\n\
         for end in [left, right] {{ outline(end, \"left\", #{{ points: [[0, 0], [150, 0], [200, {corner:?}], [300, {corner:?}], [300, {far:?}], [200, {far:?}], [150, 200], [0, 200]] }}); }}\n\
         let rod = turned(\"Handle\", elm, #{{ from: [{from:?}, 100, 270], along: \"x\", stations: [[0, 24], [{long:?}, 24]] }});\n\
         spigot(rod, left); spigot(rod, right);"
    )
}

/// A rod of one thickness needs no shoulder: it is held in both ends, be they sawn to a shape
/// or not, and be it let in or through.
#[test]
fn a_rod_is_held_in_ends_that_are_shaped() {
    for (from, long) in [(0.0, 500.0), (6.0, 488.0)] {
        assert_eq!(said(&tote(75.0, from, long)), "", "{from}");
    }
    // A neck of 22 has no wood beside a rod of 24.
    let thin = said(&tote(89.0, 6.0, 488.0));
    assert!(thin.contains("[breaks-through]") && thin.contains("beside it"), "{thin}");
}
