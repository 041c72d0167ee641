//! What makers ask for by other names than the words have: `arch` is an `outline`, a
//! `moulding` is run by `mould`. A search finds the word by them.

use super::entry::plain;
use super::people::MORE;

/// Something asked for, and the words that do it.
pub(super) struct Topic {
    /// What it may be called, as text is compared: small, one word.
    pub(super) asked: &'static [&'static str],
    /// How it is done, a sentence that begins small and has no stop.
    pub(super) says: &'static str,
    /// The words, the nearest first.
    pub(super) words: &'static [&'static str],
}

/// Topics of joints and shapes; [`MORE`] has those of pieces and scripts.
const TOPICS: &[Topic] = &[
    Topic {
        asked: &["arch", "arched", "arches", "curve", "curved", "curves", "arc", "bow", "bowed", "camber"],
        says: "an arched or curved edge is an `outline`: where an arc leaves a corner, `rise` says how far its middle \
               stands off the straight line",
        words: &["outline", "round_over", "turned"],
    },
    Topic {
        asked: &["bead", "glazing", "glaze", "glazed"],
        says: "glass or a panel is held in its rebate by `beads`, mitred and pinned, or by `glass_points`; a bead on a turned \
               part is a station",
        words: &["beads", "glass_points", "rebate", "turned"],
    },
    Topic {
        asked: &[
            "moulding",
            "mouldings",
            "molding",
            "moulded",
            "profile",
            "ovolo",
            "ogee",
            "cornice",
            "crown",
            "scotia",
        ],
        says: "a moulding is run on the edges of a part by `mould`, its profile drawn with lines and arcs",
        words: &["mould", "round_over", "chamfer", "beads"],
    },
    Topic {
        asked: &["wedge", "wedges", "wedged", "foxed", "fox"],
        says: "a through tenon is wedged with `wedges`, one that stops inside with `foxed` besides",
        words: &["mortise_tenon"],
    },
    Topic {
        asked: &[
            "slope", "sloping", "slopes", "sloped", "lean", "leaning", "slant", "tilt", "angled", "askew",
        ],
        says: "a part that leans is placed with `splay`, `rake` or `turn`; a joint finds the leaning face by itself, and tenons \
               that meet in a leaning leg need a `depth` that lets them pass; they take neither wedges nor a haunch. `stool` brings legs \
               that lean out by its `splay`. An end or edge is sawn to a slope by `bevel`, a side \
               by `taper`, an end to a neighbour's face by `trim_to`; `sloping_case` stands under a stair or eaves",
        words: &[
            "board",
            "panel",
            "mortise_tenon",
            "bevel",
            "taper",
            "level",
            "trim_to",
            "stool::make",
            "sloping_case::make",
        ],
    },
    Topic {
        asked: &["scribe", "scribed", "scribing", "cope", "coped", "filler", "fillers"],
        says: "an edge that is cut to the wall on site is left wide by `scribe`: draw the part as it is where the gap is \
               narrowest, and `allow` is what is left on it besides. A strip that is only screwed, or glued flat by \
               `butt`, is scribed and fixed on site, last; `bookcase` brings such `strips`. A part is cut round what it \
               stands against by `outline` along its edge, or by `notch` at a corner; `level` saws feet to the floor",
        words: &["scribe", "bookcase::make", "outline", "notch", "level"],
    },
    Topic {
        asked: &["hexagon", "hexagonal", "octagon", "octagonal", "polygon", "pentagon", "sided", "n_sided"],
        says: "a part of many sides is an `outline` of its corners; boards round it are placed with `turn` about z and meet in \
               a `mitre`, whose angle follows from how they stand, with a `loose_tongue` in it; `stand` does all that",
        words: &["outline", "mitre", "loose_tongue", "board", "stand::make"],
    },
    Topic {
        asked: &["overlay", "full_overlay", "half_overlay"],
        says: "doors lie before the edges of a `case` on cup hinges, or are set between its sides on butt hinges by \
               `doors_set: \"between\"`; one of your own is a `door` with `sides` and `hinges`. Between the sides it \
               shuts against blocks, which `stop` fixes, or a catch",
        words: &[
            "case::make",
            "wall_case::make",
            "door::make",
            "stop",
            "catch_plate",
            "cup_hinges",
            "butt_hinges",
        ],
    },
    Topic {
        asked: &["nominal", "undersized", "actual"],
        says: "a sheet that measures less than it is sold by has both: `thick: 23/32, called: 3/4`. Parts, housings and \
               grooves go by what it measures, the order by what it is called",
        words: &["sheet_stock"],
    },
    Topic {
        asked: &["disc", "disk", "circle", "circular", "semicircle"],
        says: "a disc is an `outline` of two corners with half rounds between them, each with a `rise` of half of its width",
        words: &["outline", "turned"],
    },
    Topic {
        asked: &["bend", "bending", "bent", "lamination", "steam"],
        says: "nothing is drawn bent: curves are sawn by `outline`, and a `lipping` runs straight; layers are glued flat by `laminate`",
        words: &["outline", "lipping", "laminate"],
    },
    Topic {
        asked: &["countersink", "countersunk", "counterbore", "counterbored", "plugs"],
        says: "heads of `screws` are sunk with `countersunk`, `counterbore` or `plug`",
        words: &["screws"],
    },
    Topic {
        asked: &["movement", "swell", "swelling", "shrink", "shrinking"],
        says: "solid wood is left free to move by `groove` with `move`, by `buttons`, or by `screws` with `slots`",
        words: &["groove", "buttons", "screws"],
    },
    Topic {
        asked: &["peg", "pegged", "drawbored", "draw_bore", "trenail"],
        says: "a tenon is pegged with `pegs`, and drawn home with `drawbore`",
        words: &["mortise_tenon"],
    },
    Topic {
        asked: &["cathedral", "cathedral_door"],
        says: "the plain arch of a framed door is `arch` of `door`; a head of hollows and rounds is an `outline` of its rail \
               with several corners, `rise` below 0 where it is hollow",
        words: &["door::make", "outline"],
    },
    Topic {
        asked: &["skirting", "skirting_board", "baseboard", "base_board"],
        says: "the skirting of a room is told to `site`, which then finds what has no room before it; a side is cut round it \
               by `notch`, and what stands under a case is a `plinth`",
        words: &["site", "notch", "plinth::make"],
    },
    Topic {
        asked: &["toe_kick", "kick", "kickboard", "kick_board", "toe_space", "toe_recess"],
        says: "a case stands on a set-back `plinth`, which `case` brings with `stands: \"on a plinth\"`; where its sides run to \
               the floor, `notch` takes their front corners off and a `panel` or `board` stands between them",
        words: &["case::make", "plinth::make", "notch"],
    },
    Topic {
        asked: &["breadboard", "breadboard_end", "bread_board", "clamped_end"],
        says: "a board across the end of a solid top is drawn on by a `tongue` with `dry: true`, and held by `screws` through \
               it with `slots: true`: round in the middle, slotted towards both edges, so that the top can move",
        words: &["tongue", "screws"],
    },
    Topic {
        asked: &["ledge", "ledges", "picture_ledge", "picture_shelf", "picture_rail", "gallery"],
        says: "a ledge is a `board` before another that is screwed to the wall through `hole`s, with a third glued before it \
               by `butt` that stands up as a lip; `floating_shelf` makes one without a lip",
        words: &["board", "butt", "hole", "floating_shelf::make"],
    },
    Topic {
        asked: &["slat", "slats", "slatted", "rack", "racks", "boot_rack", "shoe_rack", "wine_rack"],
        says: "slats are one `board` made again and again by `for i in 0..5 { … }`, each a step further, and each let in by \
               `housing` or held by `screws`",
        words: &["board", "housing", "screws", "for"],
    },
    Topic {
        asked: &["lid", "lids", "hinged_lid", "flap", "flaps", "seat_lid", "hatch"],
        says: "a lid or flap is a `board` or `panel` on `butt_hinges`, where `opens` names the side its knuckles stand on, \
               `\"back\"` or `\"top\"`; battens keep a solid one flat by `screws` with `slots`; `chest` brings a lid",
        words: &["butt_hinges", "screws", "chest::make"],
    },
    Topic {
        asked: &[
            "recess",
            "recesses",
            "alcove",
            "alcoves",
            "niche",
            "nook",
            "window_seat",
            "fitted",
            "built_in",
        ],
        says: "a recess is told to `site` by its `depth` and its width at floor, half way up and ceiling; its left end is taken \
               as plumb, and what it narrows by as gone on the right. `piece` stands in it by `left` and `floor`. Make the \
               piece as wide as the recess is where it is narrowest, with strips at its sides that are left wide by \
               `scribe` and fixed last: `bookcase` brings them by `strips`",
        words: &["site", "piece", "scribe", "bookcase::make"],
    },
    Topic {
        asked: &["desk", "between_legs", "under_desk", "pencil_drawer", "writing_table"],
        says: "`table` makes a desk, with a drawer between its front legs by `drawer: 100`, and one in the middle of the front \
               by its `drawer_width` besides; a `drawer` by itself fits between \
               any two parts named as its `sides`, rails behind legs too; for a desk that is there already make its legs \
               or sides as parts of a piece, or give the drawer's own width",
        words: &["table::make", "drawer::make", "runners"],
    },
    Topic {
        asked: &[
            "nightstand",
            "night_stand",
            "night_table",
            "bedside",
            "bedside_table",
            "bedside_cabinet",
            "side_table",
            "end_table",
            "hall_table",
            "console_table",
        ],
        says: "`table` makes a small one too, with a drawer between its front legs by `drawer: 100` and tapered legs by \
               `taper`; with sides of sheet it is a `drawer_bank` or a `case`",
        words: &["table::make", "drawer::make", "drawer_bank::make", "case::make"],
    },
    Topic {
        asked: &["step", "step_stool", "tread", "stair", "ladder", "library_step"],
        says: "a step stool is two sides, each a `board` sawn by `outline`, with treads let into them by `housing` or on them \
               by `screws`, and a rail between them at the back so that it does not rack; what people stand on has to be \
               judged by a competent person",
        words: &["board", "housing", "screws", "outline", "stool::make"],
    },
    Topic {
        asked: &["toy", "toy_box", "toy_chest", "blanket_box"],
        says: "`chest` makes a box with a hinged lid, `box` a small one whose lid lifts off; of your own it is four `board`s \
               with `finger_joint` or `dovetails` at the corners and a `panel` in a `groove` for a floor. A hinged lid over \
               children's fingers needs a stay that holds it, a `fitting`, and air holes",
        words: &["chest::make", "box::make", "finger_joint", "groove", "hole"],
    },
    Topic {
        asked: &["tray", "serving_tray", "caddy", "crate"],
        says: "a tray is four `board`s with `finger_joint` or `dovetails` at the corners and a `panel` in a `groove` for a \
               floor; it is carried by a `slot` in either end",
        words: &["finger_joint", "dovetails", "groove", "slot", "box::make"],
    },
    Topic {
        asked: &[
            "hand_hole",
            "handhole",
            "handle_hole",
            "hand_grip",
            "handgrip",
            "grip",
            "finger_hole",
            "hand_slot",
        ],
        says: "a hole for the hand is a `slot` right through, 100 to 120 mm long and 30 to 35 wide, its edges rounded by \
               `round_over`; `along` says from where to where it runs with the grain, `across` how far from the marked edge",
        words: &["slot", "hole", "outline", "round_over"],
    },
    Topic {
        asked: &["rod", "dowel_rod", "round_bar", "clothes_rail", "hanging_rod", "towel_rail", "spindle"],
        says: "a rod is a `turned` part of one diameter, `stations: [[0, 25], [600, 25]]`, drawn as far into the parts it \
               stands in as it goes, where `spigot` bores for it; a bought one is a `blank_stock` of that name; rods in a \
               wall that carry a shelf are `wall_bracket`",
        words: &["turned", "spigot", "hole", "wall_bracket"],
    },
    Topic {
        asked: &[
            "wall_fixing",
            "wall_screw",
            "wall_plug",
            "wall_anchor",
            "anchor",
            "fix_to_wall",
            "tip_over",
        ],
        says: "a piece hangs by `hanging_cleat`, a shelf by `wall_bracket`, both on the list with their wall fixings; `site` \
               with `studs` holds them against the studs; a `hole` in a back rail takes a screw of your own, which a \
               `fitting` buys. What holds in the wall is for you to judge, by wall and load",
        words: &["hanging_cleat", "wall_bracket", "site", "hole", "fitting"],
    },
    Topic {
        asked: &["shelf_support", "shelf_pin"],
        says: "a loose shelf lies on `shelf_pins` in rows of holes; types have it with `shelves_on: \"pins\"`",
        words: &["shelf_pins", "case::make", "bookcase::make"],
    },
    Topic {
        asked: &["dado", "trench", "dado_joint"],
        says: "a channel that takes the end of a board is a `housing`, with `stop` where it ends short of the front; one \
               along the edge of a panel is a `groove`",
        words: &["housing", "groove"],
    },
    Topic { asked: &["rabbet", "rabbeted"], says: "a step along an edge is a `rebate`", words: &["rebate"] },
    Topic {
        asked: &["biscuit", "biscuit_slot", "biscuit_joint", "plate_joint"],
        says: "`biscuits` saws the slots in both parts and counts the biscuits",
        words: &["biscuits"],
    },
    Topic {
        asked: &["pocket", "pocket_hole", "pocket_screw"],
        says: "`pocket_screws` bores the pockets in the first part and screws it to the second",
        words: &["pocket_screws"],
    },
    Topic {
        asked: &["knock_down", "knockdown", "flat_pack", "flatpack", "cam", "cam_lock", "demountable"],
        says: "there is no word for cams. What is to come apart is held by `screws`, by clamping connectors in a `mitre`, or \
               by a bolt into an `insert_nut`; bores for a fitting of your own are `hole`s, and a `note` names it",
        words: &["screws", "mitre", "insert_nut", "hole", "note"],
    },
    Topic {
        asked: &["hinge", "hinged"],
        says: "doors hang on `cup_hinges` or `butt_hinges`; `door` brings them where it is told its `sides`",
        words: &["cup_hinges", "butt_hinges", "door::make"],
    },
    Topic {
        asked: &["slide", "drawer_slide", "drawer_runner", "glide"],
        says: "a drawer runs on bought `runners`, or `slides` on wood; `drawer` brings its own where it is told its `sides`",
        words: &["runners", "slides", "drawer::make"],
    },
    Topic {
        asked: &["cabinet", "cupboard", "carcass", "carcase"],
        says: "`case` makes a cabinet of sheet, with doors or open, and `wall_case` one that hangs; whatever is made, `piece` \
               begins it",
        words: &["case::make", "wall_case::make", "corner_case::make", "piece"],
    },
    Topic {
        asked: &["raised_panel", "fielded", "fielded_panel"],
        says: "a panel is fielded by `mould` on its face, its profile drawn, such as \
               `profile: [[35, 0], [35, 3], [0, 12]]` in mm: 35 wide, a step of 3, thinner by 12 at the edge",
        words: &["mould", "groove"],
    },
    Topic {
        asked: &["edging", "edge_banding", "edge_band", "edgeband", "banding"],
        says: "a strip of solid wood on the edges of a panel is a `lipping`",
        words: &["lipping"],
    },
    Topic {
        asked: &["veneer", "veneered"],
        says: "there is no word for veneering. Sheets bought veneered are a `sheet_stock` of that name, their edges covered by \
               a `lipping`",
        words: &["sheet_stock", "lipping"],
    },
    Topic {
        asked: &["upholstery", "cushion"],
        says: "nothing soft is drawn: leave room for it, and say it in a `note`",
        words: &["note"],
    },
    Topic {
        asked: &["worktop", "countertop", "tabletop", "table_top", "bench_top", "workbench"],
        says: "a solid top is one wide `board`, which the layouts glue up of staves, held by `buttons` so that it can move; \
               one of sheet is a `panel` with `lipping`",
        words: &["board", "buttons", "panel", "lipping", "table::make"],
    },
    Topic {
        asked: &["castor", "caster", "wheel"],
        says: "castors are a `fitting` on the part they are fixed under; bore for them with `hole`; adjustable feet are \
               `levelling_feet`",
        words: &["fitting", "hole", "levelling_feet"],
    },
    Topic {
        asked: &["tambour", "sliding_door", "roll_front"],
        says: "there is no word for doors that slide or roll; doors are hinged",
        words: &["door::make"],
    },
    Topic {
        asked: &["lock", "latch"],
        says: "a lock is a `fitting` on its part: let it in by `notch` and `hole`; `catch_plate` holds a door shut",
        words: &["fitting", "catch_plate", "notch", "hole"],
    },
    Topic {
        asked: &["spline", "feather"],
        says: "a strip in grooves of both parts is a `loose_tongue`; short slips in mortises are `loose_tenons`",
        words: &["loose_tongue", "loose_tenons"],
    },
    Topic {
        asked: &["miter", "mitered"],
        says: "two parts that meet on a slant are joined by a `mitre`; a single end is sawn by `bevel`",
        words: &["mitre", "folded_mitre", "bevel"],
    },
    Topic {
        asked: &["half_lap", "lap_joint", "cross_lap"],
        says: "two parts that cross, each cut away by half, are joined by `halving`",
        words: &["halving"],
    },
    Topic {
        asked: &["french_cleat"],
        says: "a piece is hung on two bevelled rails by `hanging_cleat`; `wall_case` brings one",
        words: &["hanging_cleat", "wall_case::make"],
    },
    Topic {
        asked: &["adjustable_shelf", "adjustable_shelves", "shelf_peg", "loose_shelf", "loose_shelves"],
        says: "a shelf lies on `shelf_pins` in rows of holes; types have it with `shelves_on: \"pins\"`",
        words: &["shelf_pins", "case::make", "bookcase::make"],
    },
    Topic {
        asked: &["handle"],
        says: "doors and drawers are opened by a `knob` or a `pull`; types take `handles`",
        words: &["knob", "pull"],
    },
    Topic {
        asked: &["leg"],
        says: "a leg is a square `board`, tapered by `taper`, leaned by `splay` and `rake`, or it is `turned`",
        words: &["board", "taper", "turned", "turned_leg::make", "table::make"],
    },
    Topic {
        asked: &["copy", "copies", "repeat", "twice", "duplicate"],
        says: "the same piece several times is `piece` with `count`; parts made several times are made by `for`, by a word of \
               your own with `fn`, or further along with `moved`",
        words: &["piece", "for", "fn", "moved"],
    },
    Topic {
        asked: &["wide_board", "edge_joint", "glue_up"],
        says: "a `board` wider than the boards to be had is glued up of staves on its layout, unasked; `tongue`, `dowels` or \
               `biscuits` join boards that you place yourself",
        words: &["board", "tongue", "dowels", "biscuits"],
    },
    Topic {
        asked: &["species", "timber", "timbers", "wood", "woods"],
        says: "`species` of a stock is one of the table, for weight, movement and stiffness: American basswood, American beech, \
               black cherry, black walnut, Douglas fir, eastern white pine, Engelmann spruce, hard maple, loblolly pine, \
               longleaf pine, northern red oak, ponderosa pine, quaking aspen, red alder, red maple, red spruce, shortleaf \
               pine, Sitka spruce, slash pine, western red cedar, white ash, white fir, white oak, yellow birch, yellow \
               poplar; for short alder, ash, aspen, basswood, beech, birch, cedar, cherry, fir, maple, oak, pine, poplar, red \
               oak, spruce, tulipwood, walnut; of another timber write `density`",
        words: &["board_stock", "blank_stock"],
    },
    Topic {
        asked: &["heights"],
        says: "a bank of drawers takes a list of them",
        words: &["drawer_bank::make"],
    },
];

/// All topics. A test holds that every word named is there.
fn all() -> impl Iterator<Item = &'static Topic> {
    TOPICS.iter().chain(MORE)
}

/// The topic that something asked for names, of one or of several.
pub(super) fn topic(asked: &str) -> Option<&'static Topic> {
    let asked = plain(asked);
    let one = |many: &str| all().find(|topic| topic.asked.contains(&many));
    one(&asked).or_else(|| one(asked.strip_suffix('s')?)).or_else(|| one(asked.strip_suffix("es")?))
}

/// The topics that the words of a question name, each once: `how do I cut an arch` asks for an arch.
pub(super) fn topics(asked: &str) -> Vec<&'static Topic> {
    let asked: Vec<&str> = asked.split(|c: char| !c.is_alphanumeric()).collect();
    let mut found: Vec<&'static Topic> = Vec::new();
    // Two words beside one another say more than each: a toe kick is no toe.
    for length in [2, 1] {
        for topic in asked.windows(length).filter_map(|some| topic(&some.join("_"))) {
            if !found.iter().any(|one| std::ptr::eq(*one, topic)) {
                found.push(topic);
            }
        }
    }
    found
}

/// What a word may be asked for as, of all topics that lead to it.
pub(super) fn also(word: &str) -> Vec<&'static str> {
    let mine = all().filter(|topic| topic.words.contains(&word));
    mine.flat_map(|topic| topic.asked.iter().copied()).collect()
}

#[cfg(test)]
mod tests {
    use super::super::entry::parts;
    use super::*;

    #[test]
    fn every_topic_leads_to_words_there_are() {
        let parts = parts(crate::words());
        let names: Vec<&str> = parts.iter().flat_map(|p| &p.entries).map(|e| e.name.as_str()).collect();
        for topic in all() {
            for word in topic.words {
                assert!(names.contains(word), "`{word}`, for {:?}", topic.asked);
            }
        }
    }

    /// What the topic lists is the table itself.
    #[test]
    fn the_species_told_are_those_of_the_table() {
        let (full, short) = topic("species").unwrap().says.split_once("; for short ").unwrap();
        let short = short.split_once(';').unwrap().0;
        let full = full.split_once(": ").unwrap().1;
        let names = |text: &'static str| text.split(", ").collect::<Vec<_>>();
        assert_eq!(names(full), crate::timber::SPECIES.iter().map(|s| s.name).collect::<Vec<_>>());
        assert_eq!(names(short), crate::timber::SHORT.iter().map(|s| s.0).collect::<Vec<_>>());
    }

    #[test]
    fn no_two_topics_are_asked_for_alike() {
        let mut asked: Vec<&str> = all().flat_map(|t| t.asked).copied().collect();
        let all = asked.len();
        asked.sort_unstable();
        asked.dedup();
        assert_eq!(asked.len(), all);
        assert!(asked.iter().all(|one| plain(one) == *one));
    }
}
