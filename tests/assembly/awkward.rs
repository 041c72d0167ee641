//! Twenty-four pieces that cannot be, or that only look so: each is refused for the reason
//! that a maker would find, with the parts that are in one another's way, or goes together.

use super::asked::{DRAWER, boxed, butted, frame, told};

/// What comes of a piece.
enum Comes {
    /// It goes together in so many steps.
    Goes(usize),
    /// It is refused or warned of under a code, and these are named with it.
    Said(&'static str, &'static [&'static str]),
}
use Comes::{Goes, Said};

/// A board by its name and the space it fills: x, y, z.
type Bit = (&'static str, [[u32; 2]; 3]);

/// A piece of boards of plywood and what joins them.
fn bits(parts: &[Bit], joints: &str) -> String {
    let part = |(name, [x, y, z]): &Bit| {
        let long = [("x", x), ("y", y), ("z", z)].into_iter().max_by_key(|(_, span)| span[1] - span[0]);
        let grain = long.unwrap().0;
        format!(
            "let {} = board(\"{name}\", pine, #{{ x: {x:?}, y: {y:?}, z: {z:?}, grain: \"{grain}\" }});\n",
            name.to_lowercase()
        )
    };
    let parts: String = parts.iter().map(part).collect();
    format!(
        "job(\"Test\", #{{ unit: \"mm\" }});\nlet pine = board_stock(\"Pine\", #{{ thick: [27, 54], species: \"ponderosa pine\" }});\n\
         piece(\"Awkward\");\n{parts}{joints}\n"
    )
}

/// Three boards at a corner, each with its end against the next.
const CORNER: [Bit; 3] = [
    ("Top", [[20, 300], [0, 300], [280, 300]]),
    ("Side", [[0, 20], [20, 300], [0, 300]]),
    ("Front", [[0, 300], [0, 20], [0, 280]]),
];

/// Four boards, each with its end against the side of the next.
const WHIRL: [Bit; 4] = [
    ("Left", [[0, 20], [0, 100], [0, 280]]),
    ("Top", [[0, 280], [0, 100], [280, 300]]),
    ("Right", [[280, 300], [0, 100], [20, 300]]),
    ("Foot", [[20, 300], [0, 100], [0, 20]]),
];

/// An apron before two sides, a block on it, a shelf over that.
const APRON: [Bit; 5] = [
    ("Left", [[0, 20], [20, 300], [0, 400]]),
    ("Right", [[480, 500], [20, 300], [0, 400]]),
    ("Apron", [[0, 500], [0, 20], [0, 100]]),
    ("Block", [[200, 300], [0, 20], [100, 200]]),
    ("Shelf", [[20, 480], [0, 300], [200, 220]]),
];

/// A shelf between two posts.
const SHELF: [Bit; 3] = [
    ("Left", [[0, 20], [0, 200], [0, 400]]),
    ("Right", [[480, 500], [0, 200], [0, 400]]),
    ("Shelf", [[20, 480], [0, 200], [200, 220]]),
];

/// Dowels between pairs of parts.
fn dowels(pairs: &[(&str, &str)]) -> String {
    let line = |(a, b): &(&str, &str)| format!("dowels({a}, {b}, #{{ count: 2 }});\n");
    pairs.iter().map(line).collect()
}

/// Whether a line tells a step, and not a line of the script.
fn is_step(line: &str) -> bool {
    let words = line.trim_start_matches(|c: char| c.is_ascii_digit());
    words.len() < line.len() && words.trim_start().starts_with(|c: char| c.is_ascii_uppercase())
}

/// The pieces and what comes of them.
fn pieces() -> Vec<(&'static str, String, Comes)> {
    let corner = [("top", "side"), ("side", "front"), ("front", "top")];
    let whirl = [("left", "top"), ("top", "right"), ("right", "foot"), ("foot", "left")];
    let apron = [
        ("apron", "left"),
        ("apron", "right"),
        ("shelf", "left"),
        ("shelf", "right"),
        ("block", "apron"),
        ("block", "shelf"),
    ];
    let both = [("shelf", "left"), ("shelf", "right")];
    let mut longer = SHELF;
    longer[2].1[0] = [20, 488];
    let mut short = SHELF;
    short[2].1[0] = [20, 476];
    let mut block = APRON;
    block[3].1[2] = [100, 190];
    vec![
        (
            "three that go round a corner",
            bits(&CORNER, &dowels(&corner)),
            Said("no-assembly-order", &["Top", "Side", "Front"]),
        ),
        (
            "the same with one of them plain",
            bits(&CORNER, &(dowels(&corner[..2]) + "butt(front, top);")),
            Goes(1),
        ),
        ("four that go round", bits(&WHIRL, &dowels(&whirl)), Goes(2)),
        (
            "an apron, a block and a shelf",
            bits(&APRON, &dowels(&apron)),
            Said("no-assembly-order", &["Block", "Shelf"]),
        ),
        (
            "the same with the block screwed on",
            bits(&APRON, &(dowels(&apron[..5]) + "screws(shelf, block, #{ screw: \"4x40\" });")),
            Goes(3),
        ),
        (
            "the block too low",
            bits(&block, &dowels(&apron)),
            Said("parts-do-not-meet", &["Block", "Shelf", "10 mm"]),
        ),
        ("a shelf in dowels", bits(&SHELF, &dowels(&both)), Goes(1)),
        (
            "its sides before it",
            bits(&SHELF, &(dowels(&both) + "before([left, right], shelf);")),
            Said("before-cannot-be", &["Left", "Right", "Shelf"]),
        ),
        (
            "its sides one unit",
            bits(&SHELF, &(dowels(&both) + "subassembly(\"Sides\", [left, right]);")),
            Said("unit-not-whole", &["Sides", "Shelf"]),
        ),
        ("a shelf too long", bits(&longer, &dowels(&both)), Said("parts-cross", &["Shelf", "Right", "8 mm"])),
        (
            "a shelf too short",
            bits(&short, &dowels(&both)),
            Said("parts-do-not-meet", &["Shelf", "Right", "4 mm"]),
        ),
        ("a shelf held at one end", bits(&SHELF, &dowels(&both[..1])), Said("held-by-nothing", &["Right"])),
        ("a shelf joined twice", bits(&SHELF, &(dowels(&both) + "butt(shelf, left);")), Goes(1)),
    ]
}

/// The same where the script asks for an order, or boxes and drawers are concerned.
fn asked() -> Vec<(&'static str, String, Comes)> {
    vec![
        (
            "both stiles of a frame a unit",
            frame("subassembly(\"Stiles\", [left, right]);"),
            Said("unit-not-whole", &["Stiles", "Top", "Foot"]),
        ),
        (
            "stiles before rails",
            frame("before([left, right], [top, foot]);"),
            Said("before-cannot-be", &["Left", "Right", "Top", "Foot"]),
        ),
        (
            "a frame before its panel",
            butted("before([left, right, top, foot], field);"),
            Said("before-cannot-be", &["Field"]),
        ),
        (
            "rails round and round",
            frame("before(top, foot);\nbefore(foot, top);"),
            Said("order-goes-round", &["Top"]),
        ),
        ("a rail before itself", frame("before(top, top);"), Said("no-order-asked", &["Top"])),
        ("a unit of one", frame("subassembly(\"One\", [left]);"), Said("no-unit", &["One"])),
        ("a block shut in a box", boxed(""), Goes(4)),
        (
            "the block after the box",
            boxed("subassembly(\"Box\", [left, right, front, back, foot, lid]);"),
            Said("unit-not-whole", &["Box", "Block"]),
        ),
        (
            "a drawer before its case",
            format!("{DRAWER}before([a, b, c, d], [left, right]);"),
            Said("before-cannot-be", &["Drawer front", "Left", "Right"]),
        ),
        (
            "a drawer behind a rail",
            format!(
                "{DRAWER}let rail = panel(\"Rail\", ply, #{{ x: [0, 500], y: [-18, 0], z: [180, 250], grain: \"x\" }});\nfor side in [left, right] {{ butt(rail, side); }}"
            ),
            Said("parts-cross", &["Rail", "Show front"]),
        ),
        (
            "three tenons through one place",
            frame(
                "let more = board(\"More\", pine, #{ x: between(left, right), y: [0, 22], z: [520, 580], grain: \"x\" });\nmortise_tenon(more, left);",
            ),
            Said("parts-cross", &["More", "Top"]),
        ),
    ]
}

#[test]
fn awkward_pieces_are_refused_for_their_reason_or_go_together() {
    let mut wrong = Vec::new();
    for (name, script, comes) in pieces().into_iter().chain(asked()) {
        let text = told(&script);
        let right = match comes {
            Goes(steps) => {
                let glued = text.lines().filter(|line| is_step(line)).count();
                !text.contains("error[") && glued == steps
            }
            Said(code, names) => {
                let said = text.lines().find(|line| line.contains(&format!("[{code}]")));
                let cure = text.contains("= help: ");
                cure && said.is_some_and(|line| names.iter().all(|name| line.contains(name)))
            }
        };
        if !right {
            wrong.push(format!("{name}:\n{text}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
