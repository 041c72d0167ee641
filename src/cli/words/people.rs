//! What makers and their clients call pieces, what is put on them, and the writing of a
//! script, where the words have other names or none.

use super::topics::Topic;

/// More of what [`topics`](super::topics::topics) finds.
pub(super) const MORE: &[Topic] = &[
    Topic {
        asked: &["face_frame_door", "face_frame_doors", "doors_in_a_face_frame", "door_in_a_face_frame"],
        says: "a `case` with `front: \"face frame\"` takes no doors of its own. Stand a `door` in the frame, which it gives as \
               `face`: `moved` to where `span` tells that its `left` and `right` stile and its `rails` end, with the stiles as \
               `sides` and `hinges: \"butt\"`",
        words: &["door::make", "case::make", "span", "moved", "face_frame::make"],
    },
    Topic {
        asked: &["wooden_foot", "wooden_feet", "bun_foot", "bun_feet", "block_feet", "case_on_feet"],
        says: "wooden feet are `board`s under the bottom, held from above by `screws` or `loose_tenons`, with the case `moved` \
               up by their height; `levelling_feet` are bought ones, and a `plinth` stands all round",
        words: &["board", "moved", "screws", "loose_tenons", "levelling_feet", "plinth::make"],
    },
    Topic {
        asked: &[
            "hinge_side",
            "handing",
            "left_hand_door",
            "right_hand_door",
            "left_hand",
            "right_hand",
            "hung_left",
            "hung_right",
            "hung_on_the_left",
            "hung_on_the_right",
            "door_swing",
        ],
        says: "one `door` alone hangs on the first of its `sides`: name the right part first, and it hangs on the right. A \
               door of your own hangs on the part that `cup_hinges` or `butt_hinges` name",
        words: &["door::make", "cup_hinges", "butt_hinges"],
    },
    Topic {
        asked: &["plate_groove", "plate_rail", "picture_groove", "empty_groove"],
        says: "a groove that nothing stands in is a `slot` with a `depth`; a `groove` is cut for a panel that lies in it",
        words: &["slot", "groove"],
    },
    Topic {
        asked: &["toolbox", "tool_box", "tool_tote", "tote", "carrying_handle", "broom_handle"],
        says: "a box to carry is four `board`s with a `panel` in a `groove` for its bottom; the ends stand higher by an \
               `outline`, and a rod lies in a `hole` of each",
        words: &["outline", "hole", "turned", "groove", "box::make"],
    },
    Topic {
        asked: &["unlipped", "no_lipping", "bare_edge", "bare_edges", "raw_edge", "raw_edges"],
        says: "the library lips the front edges of sheets, thinner by `lipping`; parts of your own, `panel` and `housing`, \
               stay bare unless a `lipping` is asked for",
        words: &["panel", "lipping", "housing"],
    },
    Topic {
        asked: &["keyhole", "keyhole_slot", "keyhole_plate", "screw_to_wall", "wall_screws"],
        says: "there is no word for keyhole slots. A piece hangs on a bevelled `hanging_cleat`, a shelf on a \
               `wall_bracket` or as `floating_shelf`, a frame by `frame_clips`; screws through a rail into the wall are a \
               `hole` for the shank and a wider, shallower one for the plug, bought as a `fitting` of the rail, and the piece is \
               told `hung: true`",
        words: &["hanging_cleat", "wall_bracket", "frame_clips", "hole", "fitting", "floating_shelf::make"],
    },
    Topic {
        asked: &[
            "pigeonhole",
            "pigeonholes",
            "pigeon_hole",
            "pigeon_holes",
            "letter_rack",
            "mail_sorter",
            "egg_crate",
            "cubby",
            "cubbies",
            "cubbyhole",
            "cubbyholes",
            "cube_shelf",
            "openings",
        ],
        says: "openings side by side and over one another are made of shelves and dividers that pass through one another: \
               each drawn whole, and `halving` cuts both halfway where they cross. The outer ends stand in a `housing` of the \
               case, and a thin back in a `groove` holds all square",
        words: &["halving", "housing", "groove", "for", "case::make"],
    },
    Topic {
        asked: &[
            "hidden_fixing",
            "hidden_fixings",
            "invisible_fixing",
            "invisible_fixings",
            "hidden_bracket",
            "invisible_bracket",
            "hidden_hanging",
            "no_screws_seen",
        ],
        says: "nothing is seen of a shelf on a `wall_bracket`, whose rods stand in bores from behind, of a piece that hangs \
               on a `hanging_cleat` behind its back, and of a frame on `frame_clips`; a screw that must come from the front \
               is hidden by its `plug`",
        words: &["wall_bracket", "hanging_cleat", "frame_clips", "screws", "floating_shelf::make"],
    },
    Topic {
        asked: &["shelf_lip", "lip_on_a_shelf", "lip_on_shelf", "front_lip", "retaining_lip", "upstand"],
        says: "a lip that stands up before a shelf is a `board` drawn against its front edge: glued on by `butt`, or by a \
               `loose_tongue`, stopped at its ends so that it does not show. A strip as thick as a panel that only hides \
               its edge is a `lipping`",
        words: &["board", "butt", "loose_tongue", "lipping"],
    },
    Topic {
        asked: &["mirror_door", "mirror_in_a_door", "door_with_a_mirror", "mirrored_door"],
        says: "a `door` of the style `glazed` takes `glass: \"mirror\"`, or a `glass_stock` of your own; a `case` and a \
               `wall_case` as well",
        words: &["door::make", "case::make", "wall_case::make", "glass_stock"],
    },
    Topic {
        asked: &["mirror_clip", "mirror_clips", "mirror_on_a_board", "mirror_plate"],
        says: "a mirror is `glass_stock` told so, a `pane` in the rebates of a frame, held by `beads` or `glass_points`; the \
               board behind one, or its frame, hangs by `frame_clips`. Clips that grip its edge are a `fitting`",
        words: &["glass_stock", "pane", "beads", "glass_points", "frame_clips", "fitting"],
    },
    Topic {
        asked: &["nail", "nails", "pin", "pins_and_nails", "nailed"],
        says: "there is no word for nails: parts are held by `screws` or glue. `beads` bring their pins, and shelves lie on \
               `shelf_pins`",
        words: &["screws", "beads", "shelf_pins", "butt"],
    },
    Topic {
        asked: &["door_catch", "magnetic_catch", "ball_catch", "touch_catch", "door_bolt"],
        says: "a door that does not shut by its hinges, as cup hinges do, is held by a `catch_plate` on the part of the case \
               that it passes or shuts against, such as the top or a `stop` behind it",
        words: &["catch_plate", "stop", "cup_hinges", "door::make"],
    },
    Topic {
        asked: &["base_cabinet", "kitchen_cabinet", "base_unit", "kitchen_unit", "vanity"],
        says: "a base cabinet is a `case` on a plinth, which stands back and leaves room for toes; a drawer over its doors is a \
               `drawer` in an opening between two parts of your own. Its top is left to you",
        words: &["case::make", "plinth::make", "drawer::make", "door::make"],
    },
    Topic {
        asked: &["medicine_cabinet", "bathroom_cabinet", "mirror_cabinet", "shallow_cabinet", "key_cabinet"],
        says: "a shallow cabinet is a `case` from 150 mm deep, or of your own parts, screwed or hung to the wall, with a `door` before it or \
               between its sides; a `glazed` door takes a mirror for its glass",
        words: &["case::make", "door::make", "glass_stock", "shelf_pins"],
    },
    Topic {
        asked: &["shoe_bench", "hall_bench", "pew"],
        says: "`stool` makes a bench on four legs with rails, `bench` one on board ends with a stretcher; slats below run \
               between rails of your own",
        words: &["stool::make", "bench::make", "board", "housing"],
    },
    Topic {
        asked: &["coffee_table", "low_table", "occasional_table", "dining_table", "kitchen_table"],
        says: "`table` makes one on straight or tapered legs; legs that lean out are a `stool` with a wider top, or boards of your \
               own with `splay` and `rake`, the rails between them leaning by the same",
        words: &["table::make", "stool::make", "board", "mortise_tenon"],
    },
    Topic {
        asked: &[
            "mdf",
            "chipboard",
            "fibreboard",
            "particle_board",
            "hardboard",
            "blockboard",
            "plywood",
            "melamine",
        ],
        says: "every board bought in sheets is a `sheet_stock`, with the name you give it: \"MDF\" with `grain: \"none\"`. \
               Types of the library know some by name",
        words: &["sheet_stock", "panel", "stock::sheets"],
    },
    Topic {
        asked: &["wall_hung", "hung_on_the_wall", "wall_mounted", "hang_on_wall", "hanging_cabinet"],
        says: "a piece that hangs is told `hung: true` by `piece`, and hangs by a `hanging_cleat` behind its back; `wall_case`, \
               and what stands `hung` of the library, bring theirs",
        words: &["piece", "hanging_cleat", "wall_case::make", "hang::cleat", "wall_bracket"],
    },
    Topic {
        asked: &["low_shelf", "lower_shelf", "under_shelf", "shelf_under_a_table", "shelf_between_legs"],
        says: "a shelf low between legs lies on rails of your own `between` the legs, which a `table` gives as `legs`: front \
               left, front right, back left, back right; hold it by `buttons` or `screws` in slots, for it moves",
        words: &["table::make", "between", "mortise_tenon", "buttons", "screws"],
    },
    Topic {
        asked: &["mitre_key", "mitre_keys", "key_in_mitre", "keyed_mitre", "splined_mitre"],
        says: "a strip across a mitre is a `loose_tongue` after `mitre`; keys sawn in from outside when the glue has set are not \
               drawn, and a `note` tells of them",
        words: &["mitre", "loose_tongue", "note"],
    },
    Topic {
        asked: &["hook", "hooks", "coat_hook", "coat_hooks", "key_hook", "key_hooks", "cup_hook"],
        says: "hooks bought are a `fitting` of the board that they are screwed to, one for each place; pegs are `turned`, with a \
               `spigot` in it",
        words: &["fitting", "turned", "spigot", "for"],
    },
    Topic {
        asked: &["open_shelves_over_a_base", "built_ins", "fitted_furniture", "chimney_breast"],
        says: "a base and what stands on it are two pieces: `piece` begins each, told its height over the floor by `floor`. Strips that \
               are scribed to the walls are boards of your own with `scribe`",
        words: &["piece", "site", "scribe", "bookcase::make", "case::make"],
    },
    Topic {
        asked: &["hidden_screw", "hidden_screws", "plugged", "plugged_screw", "plugged_screws"],
        says: "a screw between parts is hidden by `plug`, the diameter of the plug over its head; from behind, \
               `pocket_screws` do not show",
        words: &["screws", "pocket_screws", "loose_tenons"],
    },
    Topic {
        asked: &["corner_shelf", "corner_cabinet", "corner_cupboard"],
        says: "what stands in a corner of two walls is a `corner_case`; a shelf there is an `outline` of its corners on a \
               ledge or `wall_bracket`",
        words: &["corner_case::make", "outline", "wall_bracket"],
    },
    Topic {
        asked: &["inset", "inset_door", "inset_doors", "doors_inside", "flush_door", "flush_doors"],
        says: "a `case` and a `wall_case` have their doors inside by `doors_set: \"between\"`. One of your own is a `door` on \
               butt hinges between its `sides`, put into the opening by `moved`; keep \
               shelves behind it by its thickness and 2 more, and let it shut against a `stop` with a `catch_plate`. \
               `inset` of a joint is how far its fittings stand in from an end",
        words: &[
            "case::make",
            "wall_case::make",
            "door::make",
            "moved",
            "butt_hinges",
            "stop",
            "catch_plate",
        ],
    },
    Topic {
        asked: &["splayed", "splayed_legs", "staked", "staked_legs", "milking_stool"],
        says: "`stool` makes a stool or bench whose legs lean out by its `splay`; legs of your own lean by `splay` and `rake` \
               of `board`, both ends are sawn by `level`, and rails run `between` them",
        words: &["stool::make", "board", "level", "between", "mortise_tenon"],
    },
    Topic {
        asked: &["fixed_shelf", "fixed_shelves"],
        says: "a fixed shelf is a `panel` `between` the sides, let into them by a `housing`; one that moves lies on \
               `shelf_pins`",
        words: &["housing", "panel", "shelf_pins"],
    },
    Topic {
        asked: &["coat_rack", "coat_rail", "hook_rail", "peg_rail", "hooks_on_wall"],
        says: "pegs are `turned` and stand with a `spigot` in a board, one for each place of a loop; the board is told \
               `hung: true` and has a `hole` for each wall screw",
        words: &["turned", "spigot", "for", "hole", "floating_shelf::make"],
    },
    Topic {
        asked: &["dresser", "sideboard", "commode"],
        says: "drawers one over another in a case are a `drawer_bank`; on legs, a `table` takes one drawer with `drawer`; any \
               other opening takes a `drawer` between two parts",
        words: &["drawer_bank::make", "table::make", "drawer::make", "case::make"],
    },
    Topic {
        asked: &["wardrobe", "closet", "armoire"],
        says: "a tall `case` with doors; a hanging rail is a rod, `turned` or a `board`, in a `hole` of either side",
        words: &["case::make", "door::make", "turned", "hole"],
    },
    Topic {
        asked: &["cutting_board", "chopping_board", "butcher_block", "kneading_board"],
        says: "a wide `board` of solid wood is glued up of staves by itself, and lists and layouts say of how many; its ends \
               are held flat by breadboard ends, a `tongue` or `mortise_tenon` left to move",
        words: &["board", "tongue", "mortise_tenon", "board_stock"],
    },
    Topic {
        asked: &["picture_frame", "photo_frame", "mirror_frame"],
        says: "a `frame` is mitred round a picture or pane, with its rebate, glass and back; it hangs by `frame_clips`",
        words: &["frame::make", "mitre", "glass_points", "frame_clips"],
    },
    Topic {
        asked: &["spacer", "spacers", "shim", "shims", "packer", "packers", "packing"],
        says: "packing between two parts is a `board` of its own, glued by `butt` or held by `screws`; a strip left to fit on \
               site is cut wide with `scribe`",
        words: &["board", "butt", "screws", "scribe"],
    },
    Topic {
        asked: &["glue_block", "corner_block", "brace", "braces", "gusset", "knee"],
        says: "a block or brace is a `board`, its slope cut by `bevel` or drawn by `outline`, glued by `butt` or held by `screws`",
        words: &["board", "bevel", "outline", "butt", "screws"],
    },
    Topic {
        asked: &["brad", "brads", "panel_pin", "panel_pins"],
        says: "pins hold `beads` and the blocks of a `stop`; a back in a rebate is held by `screws`",
        words: &["beads", "stop", "screws"],
    },
    Topic {
        asked: &["apron", "mullion", "mullions", "muntin_bar", "glazing_bar"],
        says: "a rail under a top, or a bar between panes or panels, is a `board` `between` two others with a \
               `mortise_tenon` at each end; a `door` brings bars with `bars_up` and `bars_across`",
        words: &["board", "mortise_tenon", "halving", "door::make"],
    },
    Topic {
        asked: &[
            "stain",
            "stained",
            "varnish",
            "varnished",
            "oil",
            "oiled",
            "wax",
            "waxed",
            "paint",
            "painted",
            "lacquer",
        ],
        says: "what is put on is told once for the job by `finish`, with its `coats` and what a litre covers",
        words: &["finish"],
    },
    Topic {
        asked: &["bullnose", "bull_nose", "roundover", "round_edge", "rounded_edge"],
        says: "an arris is rounded by `round_over`; both arrises of an edge, each with half its thickness, make it half round",
        words: &["round_over", "mould"],
    },
    Topic {
        asked: &["round_corner", "round_corners", "rounded_corner", "rounded_corners", "fillet"],
        says: "a corner seen on a side is rounded by an `outline` with an arc from one straight to the next",
        words: &["outline"],
    },
    Topic {
        asked: &["template", "templates", "full_size", "stencil", "jig", "jigs"],
        says: "parts with an `outline` are drawn in full size by themselves, over as many pages as they need, with check bars; \
               jigs are not drawn",
        words: &["outline"],
    },
    Topic {
        asked: &["cable", "cable_hole", "grommet", "vent", "vents", "ventilation", "cable_slot"],
        says: "cables and air pass by a `hole`, a `slot`, or a `notch` in an edge",
        words: &["hole", "slot", "notch"],
    },
    Topic {
        asked: &["existing", "stands_there", "already_there", "fridge", "appliance", "radiator"],
        says: "what is in the room already is an `obstacle` on the wall of the `site`, from where to where: `check` then says \
               what has no room, and sheets of the wall show it",
        words: &["site", "obstacle"],
    },
    Topic {
        asked: &[
            "soft_close",
            "damper",
            "push_to_open",
            "gas_strut",
            "gas_spring",
            "lid_stay",
            "lid_stays",
            "stay",
            "stays",
        ],
        says: "stays and dampers are a `fitting` with a name of your own, such as \"lid stay\": choose one by the weight of \
               the lid, which `check` and the cautions tell, and screw it on by its maker's paper",
        words: &["fitting", "butt_hinges", "cup_hinges", "chest::make"],
    },
    Topic {
        asked: &["bowtie", "butterfly", "butterfly_key", "dutchman", "inlay", "stringing"],
        says: "there is no word for keys and inlays let into a face: draw the key as an `outline` of its own, and name it in a \
               `note` where it is let in",
        words: &["outline", "note"],
    },
    Topic {
        asked: &["slab", "live_edge", "waney_edge", "natural_edge"],
        says: "an edge as it grew is drawn as an `outline` with arcs, near enough for lists and layouts",
        words: &["board", "outline", "board_stock"],
    },
    Topic {
        asked: &["cabriole", "carved", "carving", "sculpted"],
        says: "nothing is drawn carved: a leg is straight, `taper`ed, drawn by `outline` or `turned`",
        words: &["taper", "outline", "turned", "turned_leg::make"],
    },
    Topic {
        asked: &["loop", "loops", "repeating", "array", "arrays", "several", "many"],
        says: "what comes several times is written once in a loop: `for i in 0..4 { … }` counts from 0 to 3, `for side in \
               [left, right] { … }` takes each in turn; lesson 6 of `rodwright words --guide` shows one",
        words: &["for"],
    },
    Topic {
        asked: &[
            "variable",
            "variables",
            "name_it",
            "remember",
            "comment",
            "comments",
            "function",
            "functions",
        ],
        says: "`let width = 800;` keeps a size under a name, `//` begins a remark that nothing reads, and a type of your own is a \
               `fn`; `rodwright words --guide` tells it in ten lessons",
        words: &["let"],
    },
];
