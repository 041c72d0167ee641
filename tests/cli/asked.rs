//! What people who never read a word list ask for: each is answered with our word and how it is
//! done, or plainly that there is none.

use std::ffi::OsString;

use rodwright::cli::{Ended, Terminal, run};

/// What is asked for, what the answer says of it, and the word it names first.
const ASKED: &[(&str, &str, &str)] = &[
    ("curve", "`rise` says", "outline"),
    ("arch", "`rise` says", "outline"),
    ("chair", "A chair: ", ""),
    ("face frame", "A face frame: ", ""),
    ("slope", "`bevel`", "board"),
    ("sloping", "`sloping_case`", "board"),
    ("skirting", "told to `site`", "site"),
    ("baseboard", "told to `site`", "site"),
    ("toe kick", "`plinth`", "case::make"),
    ("Toe-kicks", "`plinth`", "case::make"),
    ("breadboard end", "`dry: true`", "tongue"),
    ("breadboard ends", "`slots: true`", "tongue"),
    ("cathedral", "`arch` of `door`", "door::make"),
    ("dado", "is a `housing`", "housing"),
    ("dadoes", "is a `housing`", "housing"),
    ("rabbet", "is a `rebate`", "rebate"),
    ("biscuit slot", "saws the slots", "biscuits"),
    ("pocket hole", "bores the pockets", "pocket_screws"),
    ("knock down", "There is no word for cams", "screws"),
    ("cam", "There is no word for cams", "screws"),
    ("bead", "`beads`", "beads"),
    ("moulding", "`mould`", "mould"),
    ("crown", "`mould`", "mould"),
    ("wedge", "`wedges`", "mortise_tenon"),
    ("scribe", "to be scribed to the wall", ""),
    ("scribing", "left wide by `scribe`", "scribe"),
    ("hexagon", "`outline` of its corners", "outline"),
    ("heights", "a list of them", "drawer_bank::make"),
    ("face frame doors", "with the stiles as `sides`", "door::make"),
    ("wooden feet", "with the case `moved` up", "board"),
    ("hung on the right", "the first of its `sides`", "door::make"),
    ("plate groove", "is a `slot` with a `depth`", "slot"),
    ("toolbox", "a rod lies in a `hole`", "outline"),
    ("unlipped", "stay bare", "panel"),
    ("hinges", "`cup_hinges`", "cup_hinges"),
    ("drawer slides", "`runners`", "runners"),
    ("cabinet", "`case` makes a cabinet", "case::make"),
    ("raised panel", "`mould` on its face", "mould"),
    ("edge banding", "is a `lipping`", "lipping"),
    ("veneer", "There is no word for veneering", "sheet_stock"),
    ("sliding doors", "There is no word for doors that slide", "door::make"),
    ("casters", "Castors are a `fitting`", "fitting"),
    ("lock", "A lock is a `fitting`", "fitting"),
    ("picture ledge", "stands up as a lip", "board"),
    ("a boot rack of slats", "made again and again", "board"),
    ("hinged lid", "`opens` names the side", "butt_hinges"),
    ("recess", "told to `site`", "site"),
    ("a drawer in the desk I have", "rails behind legs too", "table::make"),
    ("nightstand", "`drawer: 100`", "table::make"),
    ("bedside table", "`drawer: 100`", "table::make"),
    ("step", "two sides", "board"),
    ("a tread", "`housing`", "board"),
    ("toy box", "hinged lid", "chest::make"),
    ("toys", "hinged lid", "chest::make"),
    ("hand hole", "`slot` right through", "slot"),
    ("handle hole", "`slot` right through", "slot"),
    ("rod", "`turned` part of one diameter", "turned"),
    ("dowel rods", "`turned` part of one diameter", "turned"),
    ("tray", "`finger_joint`", "finger_joint"),
    ("bench", "A bench: ", ""),
    ("stool", "A stool or bench: ", ""),
    ("shelf pins", "Lays a shelf on pins", ""),
    ("wall fixing", "`hanging_cleat`", "hanging_cleat"),
    ("how do I cut a curved rail?", "`rise` says", "outline"),
    ("a cabinet with a toe kick", "`plinth`", "case::make"),
];

/// Asks as typed: each word of a question by itself, as a shell gives them.
fn answer(asked: &str) -> String {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let line = ["rodwright", "words"].into_iter().chain(asked.split(' ')).map(OsString::from);
    let ended = run(line, rodwright::words(), &mut Terminal::new(&mut out, &mut err));
    let (out, err) = (String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap());
    assert_eq!((ended, err.as_str()), (Ended::Done, ""), "{asked}");
    out
}

#[test]
fn what_people_ask_for_is_answered() {
    for (asked, says, first) in ASKED {
        let found = answer(asked);
        let flowing = found.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flowing.contains(says), "{asked}: {found}");
        let list = found.split("Words for it\n").nth(1).unwrap_or_default();
        let named = list.split_whitespace().next().unwrap_or_default();
        assert_eq!(named, *first, "{asked}: {found}");
    }
}
