//! What is made up of some parts, by the name a maker has for it: the left door, the
//! plinth, a frame, the carcass.

use super::Telling;
use crate::geometry::DVec3;
use crate::joinery::{Opening, PartSource, WorkedPart};
use crate::problem::wording::{and_list, count};

/// Words that say where a part is and not what it is of.
const PLACES: [&str; 8] = ["left", "right", "front", "back", "top", "bottom", "upper", "lower"];

/// Fewest parts that a name of their own is looked for.
const FEWEST: usize = 3;
/// Most names that are compared: no made-up unit has more, and the whole of a large piece
/// has none in common.
const COMPARED: usize = 40;

/// A part wider than this is a panel, one up to it a member of a frame, mm (common practice,
/// no source).
const PANEL: f64 = 150.0;
/// Thinner than this it is a back or a pane and makes no carcass of a frame, mm.
const THIN: f64 = 10.0;
/// Depth of a body, as a share of its lesser side, up to which it is flat: a frame.
const FLAT: f64 = 0.3;
/// Width over thickness of a board, over which it is no rail.
const BOARD: f64 = 3.0;
/// Panels that a carcass has at least.
const PANELS: usize = 3;
/// Most words of the name of a piece that it is called by in a sentence.
const WORDS: usize = 2;

/// Share of a direction over which a hinge stands upright.
const UPRIGHT: f64 = 0.9;

/// What some parts are made up to.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Called {
    /// Its name, without an article.
    pub(super) name: String,
    /// Whether it is a word for such things, which takes an article, and not a name that the
    /// script gives.
    pub(super) common: bool,
    /// Words of it that the names of its parts begin with, or have in them.
    said: Vec<String>,
}

impl Called {
    fn plain(name: impl Into<String>) -> Self {
        Self { name: name.into(), common: true, said: Vec::new() }
    }

    /// `the left door`.
    pub(super) fn the(&self) -> String {
        if self.common { format!("the {}", self.name) } else { self.name.clone() }
    }

    /// What it and others like it are each: the left door and the right one a door.
    pub(super) fn each(&self, others: &[Option<Self>]) -> Option<String> {
        let mut words: Vec<&str> = self.name.split(' ').collect();
        for other in others {
            let theirs: Vec<&str> = other.as_ref()?.name.split(' ').collect();
            let same = words.iter().rev().zip(theirs.iter().rev()).take_while(|(a, b)| a == b).count();
            words = words.split_off(words.len() - same);
        }
        (!words.is_empty()).then(|| words.join(" "))
    }
}

impl Telling<'_> {
    /// What some parts are, if a maker has a name for it.
    pub(super) fn called(&self, parts: &[usize]) -> Option<Called> {
        self.by_name(parts).or_else(|| self.by_shape(parts, false))
    }

    /// The same of what stands closed, so that it is a carcass or the whole piece.
    pub(super) fn called_whole(&self, parts: &[usize]) -> Option<Called> {
        self.by_name(parts).or_else(|| self.piece(parts)).or_else(|| self.by_shape(parts, true))
    }

    /// What the script names, what most of the parts say that they are of, or what opens.
    fn by_name(&self, parts: &[usize]) -> Option<Called> {
        let said = || by_words(&self.listed(parts));
        self.of_script(parts).or_else(said).or_else(|| self.leaf(parts))
    }

    /// A unit that the script names.
    fn of_script(&self, group: &[usize]) -> Option<Called> {
        let named = self.job.order.units.iter().find(|unit| {
            let inside = |part: &usize| group.contains(part);
            unit.parts.iter().all(|part| inside(&part.0)) && self.listed(group).len() == unit.parts.len()
        });
        named.map(|unit| Called { common: false, ..Called::plain(&unit.name) })
    }

    /// What opens.
    fn leaf(&self, group: &[usize]) -> Option<Called> {
        let (opens, leaf) = self.worked.joints.iter().find_map(|joint| {
            let leaf = joint.parts.first().filter(|part| group.contains(part))?;
            Some((joint.opens?, *leaf))
        })?;
        // A case with its doors in is no door.
        let moving = self.worked.moving_with(leaf);
        let is_own = |part: &&usize| {
            let part = self.worked.parts.get(**part);
            part.is_some_and(|part| matches!(part.source, PartSource::Part(_)))
        };
        if !group.iter().filter(is_own).all(|part| moving.contains(part)) {
            return None;
        }
        Some(match opens {
            Opening::Slides { .. } => Called::plain("drawer"),
            Opening::Swings { axis, .. } if axis.z.abs() > UPRIGHT => Called::plain("door"),
            Opening::Swings { .. } => {
                Called { common: false, ..Called::plain(format!("{}{LEAF_MADE_UP}", self.names(&[leaf]))) }
            }
        })
    }

    /// The piece, where these are all its parts and its name is short.
    fn piece(&self, parts: &[usize]) -> Option<Called> {
        let piece = self.worked.parts.get(*parts.first()?)?.piece;
        let is_own = |part: &WorkedPart| part.piece == piece && matches!(part.source, PartSource::Part(_));
        let whole = (0..self.worked.parts.len()).filter(|part| is_own(&self.worked.parts[*part]));
        let name = &self.job.pieces.get(piece.0)?.name;
        let is_word = |word: &str| word.len() > 2 && word.chars().all(|c| c.is_ascii_alphabetic());
        let short = name.split(' ').count() <= WORDS && name.split(' ').all(is_word);
        (short && whole.into_iter().all(|part| parts.contains(&part)))
            .then(|| Called::plain(name.to_lowercase()))
    }

    /// A flat frame of narrow parts; where it is closed a carcass of panels, or a box.
    fn by_shape(&self, parts: &[usize], closed: bool) -> Option<Called> {
        let own: Vec<&WorkedPart> = parts.iter().filter_map(|part| self.worked.parts.get(*part)).collect();
        let panels =
            own.iter().filter(|part| part.size.z >= THIN && part.size.y.min(part.size.x) > PANEL).count();
        let flat = is_flat(&own);
        let boards = own.iter().all(|part| part.size.y.min(part.size.x) > BOARD * part.size.z);
        let shallow = own.iter().any(|part| part.size.z < THIN);
        if own.len() < FEWEST {
            None
        } else if flat && panels == 0 {
            let place = most_said(&self.listed(parts)).map(|place| format!("{place} ")).unwrap_or_default();
            Some(Called::plain(format!("{place}frame")))
        } else if !flat && panels >= PANELS && closed {
            Some(Called::plain("carcass"))
        } else if !flat && boards && shallow && closed {
            Some(Called::plain("box"))
        } else {
            None
        }
    }

    /// Some parts in a heading: by their names, those of one kind counted where they are
    /// many or each stands for like ones.
    pub(super) fn in_heading(&self, parts: &[usize], of: Option<&Called>, each: bool) -> Vec<String> {
        let named = self.listed(parts);
        let short = |name: &String| of.map_or_else(|| name.clone(), |of| shortened(name, of));
        let kinds: Vec<String> = named.iter().filter_map(|name| words(name).pop()).collect();
        let one_kind = kinds.len() >= FEWEST && kinds.iter().all(|kind| Some(kind) == kinds.first());
        if named.len() <= IN_HEADING && !each && !one_kind {
            return named.iter().map(short).collect();
        }
        let mut counted: Vec<(String, String, usize)> = Vec::new();
        for part in parts.iter().filter_map(|part| self.worked.parts.get(*part)) {
            let Some(kind) = words(&part.name).pop() else { continue };
            if !matches!(part.source, PartSource::Part(_)) {
                continue;
            }
            match counted.iter_mut().find(|(known, ..)| *known == kind) {
                Some(known) => known.2 += 1,
                None => counted.push((kind, short(&part.name), 1)),
            }
        }
        let said = |(kind, name, n): (String, String, usize)| match (n, each) {
            (1, false) => name,
            (1, true) => without_place(&name),
            (n, _) => format!("{n} {}", several(&kind)),
        };
        let mut said: Vec<String> = counted.into_iter().map(said).collect();
        if said.len() > IN_HEADING {
            let more = said.len() + 1 - IN_HEADING;
            said.truncate(IN_HEADING - 1);
            said.push(count(more, "kind of part", "kinds of parts"));
        }
        said
    }

    /// Names of what comes in, those of several parts with their number.
    pub(super) fn counted(&self, parts: &[usize]) -> String {
        let own = |part: &&WorkedPart| matches!(part.source, PartSource::Part(_));
        let of = |name: &String| {
            let all = parts.iter().filter_map(|part| self.worked.parts.get(*part)).filter(own);
            match all.filter(|part| part.name == *name).count() {
                0 | 1 => name.clone(),
                n => format!("{n} × {name}"),
            }
        };
        and_list(&self.listed(parts).iter().map(of).collect::<Vec<String>>())
    }

    /// What a step works on: the unit, where it is one, else its parts.
    pub(super) fn worked_on(&self, parts: &[usize], others: &[Vec<usize>]) -> String {
        let names = self.listed(parts);
        let Some(called) = self.called(parts).filter(|_| names.len() > FEWEST) else {
            return and_list(&names);
        };
        if others.is_empty() {
            return called.the();
        }
        let theirs: Vec<Option<Called>> = others.iter().map(|parts| self.called(parts)).collect();
        called.each(&theirs).map_or_else(|| and_list(&names), |each| format!("each {each}"))
    }
}

/// Most parts named in the heading of a step.
const IN_HEADING: usize = 6;

/// Behind the name of a lid or flap.
pub(super) const LEAF_MADE_UP: &str = ", made up";

/// Whether some parts lie in one plane: along the piece, or as the first of them stands.
fn is_flat(parts: &[&WorkedPart]) -> bool {
    let Some(first) = parts.first() else { return false };
    let points: Vec<DVec3> =
        parts.iter().flat_map(|part| part.solid.points.iter().map(|p| part.at.point(*p))).collect();
    let span = |along: DVec3| {
        let at = points.iter().map(|p| along.dot(*p));
        let (low, high) = at.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), at| (l.min(at), h.max(at)));
        high - low
    };
    let axes = [[DVec3::X, DVec3::Y, DVec3::Z], [first.at.x, first.at.y, first.at.z]];
    axes.into_iter().any(|axes| {
        let mut size = axes.map(span);
        size.sort_by(f64::total_cmp);
        size[0] < FLAT * size[1]
    })
}

/// The words of a name, small, without the numbers at its end.
fn words(name: &str) -> Vec<String> {
    let mut words: Vec<String> = name.split_whitespace().map(str::to_lowercase).collect();
    while words.len() > 1 && words.last().is_some_and(|word| word.chars().all(|c| c.is_ascii_digit())) {
        words.pop();
    }
    words
}

/// What most of some names say they are of: `plinth` of Plinth front, Plinth left and Plinth
/// right; `drawer` of Drawer front and Left drawer side.
fn by_words(names: &[String]) -> Option<Called> {
    if names.len() < FEWEST || names.len() > COMPARED {
        return None;
    }
    let all: Vec<Vec<String>> = names.iter().map(|name| words(name)).collect();
    // A block or two with names of their own do not make another thing of it.
    let most = |have: usize| have >= FEWEST && 4 * have >= 3 * all.len();
    let is_place = |word: &String| PLACES.contains(&word.as_str());
    let longest = all.iter().map(Vec::len).max().unwrap_or(0);
    for long in (1..longest).rev() {
        for name in all.iter().filter(|name| name.len() > long) {
            let start = &name[..long];
            let have = all.iter().filter(|other| other.len() > long && other.starts_with(start)).count();
            if most(have) && !start.iter().all(is_place) {
                return Some(Called { said: start.to_vec(), ..Called::plain(start.join(" ")) });
            }
        }
    }
    let inside = |word: &String| {
        all.iter().filter(|name| name.split_last().is_some_and(|(_, of)| of.contains(word))).count()
    };
    let mut candidates = all.iter().flat_map(|name| name.split_last().map_or(&[][..], |(_, of)| of));
    let word = candidates.find(|word| !is_place(word) && most(inside(word)))?;
    Some(Called { said: vec![word.clone()], ..Called::plain(word) })
}

/// The word of place that over half of some names have; `None` where two have it.
fn most_said(names: &[String]) -> Option<&'static str> {
    let all: Vec<Vec<String>> = names.iter().map(|name| words(name)).collect();
    let have = |place: &&str| {
        2 * all.iter().filter(|name| name.iter().any(|word| word == place)).count() > all.len()
    };
    let mut found = PLACES.into_iter().filter(have);
    found.next().filter(|_| found.next().is_none())
}

/// A name without what is said of the unit already: `left stile` of the left door.
fn shortened(name: &str, of: &Called) -> String {
    let small: Vec<String> = name.split_whitespace().map(str::to_lowercase).collect();
    let rest: Vec<String> = if of.said.is_empty() {
        return name.to_owned();
    } else if small.starts_with(&of.said) {
        small[of.said.len()..].to_vec()
    } else if let [only] = of.said.as_slice() {
        small.iter().filter(|word| *word != only).cloned().collect()
    } else {
        return name.to_owned();
    };
    if rest.is_empty() { name.to_owned() } else { rest.join(" ") }
}

/// A name without words of place and numbers: each of a pair has its own.
fn without_place(name: &str) -> String {
    let all = words(name);
    let rest: Vec<&str> = all.iter().map(String::as_str).filter(|word| !PLACES.contains(word)).collect();
    if rest.is_empty() { all.join(" ") } else { rest.join(" ") }
}

/// Several of a kind.
pub(super) fn several(kind: &str) -> String {
    if let Some(stem) = kind.strip_suffix("shelf") {
        format!("{stem}shelves")
    } else if kind.ends_with("glass") || kind.ends_with('x') || kind.ends_with("ch") {
        format!("{kind}es")
    } else {
        format!("{kind}s")
    }
}

#[cfg(test)]
mod tests {
    use super::{Called, by_words, most_said, several, shortened, without_place};

    fn names(list: &[&str]) -> Vec<String> {
        list.iter().map(|name| (*name).to_owned()).collect()
    }

    /// Two drawers with numbers: of each its sides, its front and its back.
    #[test]
    fn what_each_of_several_has_is_named_without_its_number() {
        assert_eq!(without_place("front 1"), "front");
        assert_eq!(without_place("Left side 2"), "side");
        assert_eq!(without_place("Back"), "back");
    }

    fn called(list: &[&str]) -> Option<String> {
        by_words(&names(list)).map(|called| called.name)
    }

    #[test]
    fn parts_say_what_they_are_of() {
        let door = ["Left door left stile", "Left door top rail", "Left door right stile"];
        assert_eq!(called(&door).as_deref(), Some("left door"));
        let drawer = ["Drawer front", "Left drawer side", "Drawer back", "Overlay front"];
        assert_eq!(called(&drawer).as_deref(), Some("drawer"));
        let plinth = ["Corner block", "Plinth front", "Plinth back", "Plinth left end"];
        assert_eq!(called(&plinth).as_deref(), Some("plinth"));
        // Rails are no unit, nor what is on the left, nor numbers.
        assert_eq!(called(&["Front rail", "Back rail", "Low rail"]), None);
        assert_eq!(called(&["Left side", "Left leg", "Left rail"]), None);
        assert_eq!(called(&["Side 1", "Side 2", "Side 3"]), None);
        assert_eq!(called(&["Plinth front", "Plinth back"]), None);
    }

    #[test]
    fn a_frame_is_where_most_of_it_is() {
        assert_eq!(most_said(&names(&["Front left leg", "Left rail", "Back left leg"])), Some("left"));
        assert_eq!(
            most_said(&names(&["Left back leg", "Crest", "Back rail", "Right back leg"])),
            Some("back")
        );
        assert_eq!(most_said(&names(&["Left stile", "Top rail", "Right stile", "Bottom rail"])), None);
    }

    #[test]
    fn names_are_short_within_their_unit() {
        let door = by_words(&names(&["Left door left stile", "Left door head", "Left door foot"])).unwrap();
        assert_eq!(shortened("Left door left stile", &door), "left stile");
        assert_eq!(shortened("Glass", &door), "Glass");
        let right = by_words(&names(&["Right door head", "Right door foot", "Right door panel"]));
        assert_eq!(door.each(&[right]).as_deref(), Some("door"));
        assert_eq!(door.each(&[Some(Called::plain("plinth"))]), None);
        assert_eq!(several("shelf"), "shelves");
    }
}
