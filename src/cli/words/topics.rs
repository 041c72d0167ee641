//! What makers ask for by other names than the words have: `arch` is an `outline`, a
//! `moulding` is run by `mould`. A search finds the word by them.

use super::entry::plain;

/// Something asked for, and the words that do it.
pub(super) struct Topic {
    /// What it may be called, as text is compared: small, one word.
    pub(super) asked: &'static [&'static str],
    /// How it is done, a sentence that begins small and has no stop.
    pub(super) says: &'static str,
    /// The words, the nearest first.
    pub(super) words: &'static [&'static str],
}

/// All topics. A test holds that every word named is there.
pub(super) const TOPICS: &[Topic] = &[
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
        says: "a part that leans is placed with `splay`, `rake` or `turn`; an end or edge is sawn to a slope by `bevel`, a side \
               by `taper`, an end to a neighbour's face by `trim_to`; `sloping_case` stands under a stair or eaves",
        words: &["board", "panel", "bevel", "taper", "level", "trim_to", "sloping_case::make"],
    },
    Topic {
        asked: &["scribe", "scribed", "scribing", "cope", "coped", "filler", "fillers"],
        says: "an edge that is cut to the wall on site is left wide by `scribe`, a filler too; a part is cut round what it \
               stands against by `outline` along its edge, or by `notch` at a corner; `level` saws feet to the floor",
        words: &["scribe", "outline", "notch", "level"],
    },
    Topic {
        asked: &["hexagon", "hexagonal", "octagon", "octagonal", "polygon", "pentagon", "sided", "n_sided"],
        says: "a part of many sides is an `outline` of its corners; boards round it are placed with `turn` about z and meet in \
               a `mitre`, whose angle follows from how they stand, with a `loose_tongue` in it; `stand` does all that",
        words: &["outline", "mitre", "loose_tongue", "board", "stand::make"],
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
        asked: &["heights"],
        says: "a bank of drawers takes a list of them",
        words: &["drawer_bank::make"],
    },
];

/// The topic that something asked for names.
pub(super) fn topic(asked: &str) -> Option<&'static Topic> {
    let asked = plain(asked);
    TOPICS.iter().find(|topic| topic.asked.contains(&asked.as_str()))
}

/// What a word may be asked for as, of all topics that lead to it.
pub(super) fn also(word: &str) -> Vec<&'static str> {
    let mine = TOPICS.iter().filter(|topic| topic.words.contains(&word));
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
        for topic in TOPICS {
            for word in topic.words {
                assert!(names.contains(word), "`{word}`, for {:?}", topic.asked);
            }
        }
    }

    #[test]
    fn no_two_topics_are_asked_for_alike() {
        let mut asked: Vec<&str> = TOPICS.iter().flat_map(|t| t.asked).copied().collect();
        let all = asked.len();
        asked.sort_unstable();
        asked.dedup();
        assert_eq!(asked.len(), all);
        assert!(asked.iter().all(|one| plain(one) == *one));
    }
}
