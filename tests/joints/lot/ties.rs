//! Options that exclude one another, or say nothing without another: every such pair
//! of every word is refused, with what to leave out. `UPDATE=1` writes the messages
//! anew.

use rodwright::problem::{Severity, render_all};

use crate::joints::lot::by_lot::{drawn, families};
use crate::support::golden::{golden, without_places};
use crate::support::lot::Lot;
use crate::support::scripts::request;

/// Words with two options each that do not go together.
const PAIRS: &[(&str, &str)] = &[
    ("loose_tenons", "tenon: \"8x40\", toward: \"front\""),
    ("loose_tenons", "tenon: \"8x40\", offset: 2"),
    ("dowels", "count: 3, spacing: 60"),
    ("dowels", "toward: \"top\""),
    ("dowels", "offset: 2"),
    ("biscuits", "count: 2, spacing: 90"),
    ("biscuits", "toward: \"top\""),
    ("biscuits", "offset: 2"),
    ("mortise_tenon", "width: 40, shoulder: 5"),
    ("mortise_tenon", "through: true, depth: 20"),
    ("mortise_tenon", "haunch_width: 20"),
    ("mortise_tenon", "haunch_depth: 10"),
    ("mortise_tenon", "peg: 8"),
    ("mortise_tenon", "drawbore: 1"),
    ("mortise_tenon", "wedge: \"3x6\""),
    ("mortise_tenon", "foxed: true"),
    ("mortise_tenon", "through: true, wedges: 2, pegs: 1"),
    ("mortise_tenon", "foxed: true, wedges: 1, through: true"),
    ("mortise_tenon", "toward: \"front\""),
    ("mortise_tenon", "offset: 2"),
    ("bridle", "toward: \"front\""),
    ("bridle", "offset: 2"),
    ("housing", "shoulder_on: \"top\""),
    ("groove", "season: 3"),
    ("groove", "move: true, gap: 3, slack: 1"),
    ("screws", "screw: \"4x45\", count: 2, spacing: 90"),
    ("screws", "screw: \"4x45\", plug_depth: 6"),
    ("screws", "screw: \"4x45\", toward: \"top\""),
    ("screws", "screw: \"4x45\", offset: 2"),
    ("screws", "screw: \"4x45\", staggered: true"),
    ("screws", "screw: \"4x45\", edge: 12"),
    ("screws", "screw: \"4x45\", move: 2"),
    ("screws", "screw: \"4x45\", slots: true, plug: 10"),
    ("screws", "screw: \"4x45\", countersunk: true, counterbore: \"10x5\""),
    ("dovetails", "kind: \"through\", lap: 5"),
    ("tongue", "toward: \"front\""),
    ("tongue", "offset: 2"),
    ("loose_tongue", "toward: \"front\""),
    ("loose_tongue", "offset: 2"),
    ("loose_tongue", "far_stop: 20"),
    ("mould", "shape: \"ovolo\", profile: [[8, 0], [4, 4], [0, 8]]"),
    ("mould", "profile: [[8, 0], [4, 4], [0, 8]], width: 9"),
    ("lipping", "bevel: 5, chamfer: 2"),
    ("lipping", "long: \"top\""),
    ("catch_plate", "kind: \"ball\", body: \"46x14\""),
    ("catch_plate", "kind: \"magnetic\", bore: \"8x14\""),
    ("knob", "left: 40, right: 40"),
    ("pull", "top: 40, bottom: 40"),
    ("insert_nut", "side: \"top\", front: 8, back: 8"),
    ("wall_bracket", "count: 2, spacing: 300"),
    ("frame_clips", "count: 2, spacing: 300"),
    ("buttons", "count: 2, spacing: 300"),
    ("buttons", "move: 3, season: 3"),
    ("buttons", "by: \"slotted screws\", button: \"25x45\""),
    ("buttons", "by: \"slotted screws\", tongue: \"9x10\""),
    ("buttons", "by: \"slotted screws\", down: 12"),
];

#[test]
fn options_that_do_not_go_together_are_refused() {
    let families = families();
    let mut cases = Vec::new();
    for (word, options) in PAIRS {
        let family = families.iter().find(|f| f.word == *word).unwrap();
        let body = drawn(&family.body, &mut Lot(7)).replace("WORK", &format!(", #{{ {options} }}"));
        let text = format!("job(\"Ties\", #{{ unit: \"mm\" }});\npiece(\"Piece\");\n{body}");
        let done = rodwright::examine(&request("ties", text));
        let said = done.problems.iter().find(|p| p.severity == Severity::Error);
        let said = said.unwrap_or_else(|| panic!("`{word}` takes {options}")).clone();
        let told = render_all(std::slice::from_ref(&said), &done.sources);
        assert!(told.contains(&format!("{word}(")), "no line: {told}");
        cases.push((format!("{word} #{{ {options} }}"), without_places(&[said])));
    }
    golden(file!(), &cases);
}

/// Every pair that the words themselves name as hanging together stands above.
#[test]
fn every_word_with_such_options_is_tried() {
    for word in rodwright::words() {
        let takes = |key: &str| word.options.iter().any(|o| o.key == key);
        for (a, b) in [("toward", "offset"), ("count", "spacing")] {
            if takes(a) && takes(b) {
                let tried = PAIRS.iter().any(|(w, o)| *w == word.name && o.contains(&format!("{a}:")));
                assert!(tried, "`{a}` and `{b}` of `{}` are not tried", word.name);
            }
        }
    }
}
