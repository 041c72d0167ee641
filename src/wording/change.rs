//! In words: what becomes of parts that change.

use super::Words;
use crate::joinery::CutKind;
use crate::joinery::WorkedPart;
use crate::problem::wording::{and_list, count};
use crate::revision::{Fate, Lost, Off, Pair, Salvage, Standing, Trim, Unfit};

/// What is to be done to a cut part: `take 80 mm off the far end; to be cut: housing with
/// Shelf; true as cut: mitre with Top`.
pub fn to_do(words: Words, (now, part): (Standing<'_>, &WorkedPart), trim: &Trim) -> String {
    let mut all: Vec<String> = Vec::new();
    if !trim.off.is_empty() {
        let off: Vec<String> = trim.off.iter().map(|off| sawn(words, *off)).collect();
        all.push(format!("take {}", and_list(&off)));
    }
    if trim.turned {
        all.push("turn it round: face and edge mark lie otherwise".into());
    }
    if trim.lipping_off {
        all.push("a lipping comes off with that".into());
    }
    if trim.plugs > 0 {
        all.push(format!("plug {}", count(trim.plugs, "hole", "holes")));
    }
    if trim.hidden > 0 {
        all.push(format!(
            "{} out of sight in the joints",
            count(trim.hidden, "old cut stays", "old cuts stay")
        ));
    }
    let mut anew = joints((now, part), &trim.joints);
    anew.extend(trim.shapings.iter().map(|kind| kind.name().to_owned()));
    if !anew.is_empty() {
        all.push(format!("to be cut: {}", and_list(&anew)));
    }
    if !trim.keeps.is_empty() {
        all.push(format!("true as cut: {}", and_list(&joints((now, part), &trim.keeps))));
    }
    all.join("; ")
}

/// `80 mm off the far end`.
fn sawn(words: Words, off: Off) -> String {
    format!("{} off the {}", words.length(off.by), off.face.name())
}

/// Joints with the parts they are to, those of one word together: `housing with Shelf 1
/// and Shelf 2`.
fn joints((now, own): (Standing<'_>, &WorkedPart), which: &[usize]) -> Vec<String> {
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    for joint in which.iter().filter_map(|joint| now.worked.joints.get(*joint)) {
        let name = joint.word.replace('_', " ");
        let at = groups.iter().position(|(known, _)| *known == name).unwrap_or_else(|| {
            groups.push((name, Vec::new()));
            groups.len() - 1
        });
        for part in joint.parts.iter().filter_map(|part| now.part(*part)) {
            if let Some((_, parts)) = groups.get_mut(at)
                && !std::ptr::eq(part, own)
                && !parts.contains(&part.name)
            {
                parts.push(part.name.clone());
            }
        }
    }
    groups.into_iter().map(|(name, parts)| format!("{name} with {}", and_list(&parts))).collect()
}

/// Why a part is of no use as it is.
pub fn lost_part(words: Words, fate: &Fate) -> String {
    match fate {
        Fate::Remade(why) => unfit(words, why),
        Fate::Dropped => "there is none any more".into(),
        // Fewer are made than are cut.
        Fate::Unchanged | Fate::Renamed | Fate::Trimmed(_) | Fate::New => "fewer are needed".into(),
    }
}

/// Why a new part cannot be got from the old one.
pub fn unfit(words: Words, why: &Unfit) -> String {
    match why {
        Unfit::OtherStock => "it is of another material or thickness".into(),
        Unfit::Larger { axis, by } => {
            let way = ["longer", "wider", "thicker"].get(*axis).copied().unwrap_or("larger");
            format!("it is {} {way}", words.length(*by))
        }
        Unfit::OtherShape => "it is of another shape".into(),
        Unfit::Cuts(kinds) if kinds.is_empty() => "it is of another shape".into(),
        Unfit::Cuts(kinds) => {
            let names: Vec<String> = kinds.iter().map(|kind: &CutKind| kind.name().to_owned()).collect();
            format!("the old {} would show where there is wood now", and_list(&names))
        }
    }
}

/// A part in a table of changes.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct ChangeRow {
    /// Its name; the old and the new one where they differ.
    pub part: String,
    /// Its number with its hand, as the new drawings have it; as the old ones where it is
    /// dropped.
    pub mark: String,
    /// How many are made now.
    pub quantity: usize,
    /// Length, width and thickness as they were.
    pub was: String,
    /// Length, width and thickness as they are.
    pub now: String,
    /// How many are cut already.
    pub cut: usize,
    /// What becomes of it, in a word.
    pub fate: &'static str,
    /// What is to be done.
    pub what: String,
}

/// The row of a pair, of which so many are cut.
pub fn change_row(
    words: Words,
    (old, new): (Standing<'_>, Standing<'_>),
    (pair, cut): (&Pair, usize),
) -> ChangeRow {
    let before = pair.old.and_then(|index| old.part(index));
    let after = pair.new.and_then(|index| new.part(index));
    let size = |part: Option<&WorkedPart>| {
        part.map_or_else(String::new, |part| part.size.to_array().map(|mm| words.figure(mm)).join(" × "))
    };
    let part = match (before, after) {
        (Some(a), Some(b)) if a.name != b.name => format!("{}, now {}", a.name, b.name),
        (Some(one), _) | (None, Some(one)) => one.name.clone(),
        (None, None) => String::new(),
    };
    let (fate, mut what) = match &pair.fate {
        Fate::Unchanged => ("unchanged", String::new()),
        Fate::Renamed => ("renamed", String::new()),
        Fate::Trimmed(trim) if cut > 0 => {
            ("trim", after.map_or_else(String::new, |part| to_do(words, (new, part), trim)))
        }
        Fate::Remade(why) if cut > 0 => ("make anew", unfit(words, why)),
        Fate::Trimmed(_) | Fate::Remade(_) => ("other size", String::new()),
        Fate::New => ("new", String::new()),
        Fate::Dropped if cut > 0 => ("dropped", "keep it for something else".into()),
        Fate::Dropped => ("dropped", String::new()),
    };
    if pair.old.is_some() && pair.new.is_some() && pair.had != pair.has {
        let many = format!("{} instead of {}", pair.has, pair.had);
        what = if what.is_empty() { many } else { format!("{many}; {what}") };
    }
    ChangeRow {
        part,
        mark: after.or(before).map_or_else(String::new, WorkedPart::mark),
        quantity: pair.has,
        was: size(before),
        now: size(after),
        cut,
        fate,
        what,
    }
}

/// What has been lost, in a sentence; `money` as the shop writes it.
pub fn lost_sentence(lost: &Lost, money: Option<String>) -> String {
    if lost.parts == 0 {
        return "Nothing that is cut is lost.".into();
    }
    let mut what: Vec<String> = Vec::new();
    if !lost.sheet.is_zero() {
        what.push(format!("{} m² of sheet", lost.sheet.round_dp(2).normalize()));
    }
    if !lost.solid.is_zero() {
        what.push(format!("{} m³ of timber", lost.solid.normalize()));
    }
    what.extend(money);
    if !lost.minutes.is_zero() {
        what.push(format!("{} minutes at the machines", lost.minutes.round_dp(0).normalize()));
    }
    let parts = count(lost.parts, "cut part is", "cut parts are");
    let mut all = format!("{parts} lost: {}.", and_list(&what));
    if !lost.unpriced.is_empty() {
        all = format!("{all} {} has no price.", and_list(&lost.unpriced));
    }
    all
}

/// What is cut from a spare, in two cells: what it is, and the parts.
pub fn salvage_cells(words: Words, one: &Salvage) -> [String; 2] {
    let [long, wide] = one.spare.size.map(|mm| words.figure(mm));
    let from = match &one.spare.part {
        Some(part) => format!("{part} as cut: {long} × {wide} of it is free"),
        None => format!("offcut of {}, {long} × {wide}", one.spare.stock),
    };
    let mut counted: Vec<(&str, usize)> = Vec::new();
    for part in &one.parts {
        match counted.iter_mut().find(|(known, _)| known == part) {
            Some((_, count)) => *count += 1,
            None => counted.push((part, 1)),
        }
    }
    let each = |(name, count): (&str, usize)| match count {
        1 => name.to_owned(),
        _ => format!("{count} × {name}"),
    };
    [from, and_list(&counted.into_iter().map(each).collect::<Vec<_>>())]
}

/// The row of a cut part that would serve, but is lost with the part it is glued to.
pub fn come_off(row: ChangeRow, fate: &Fate) -> ChangeRow {
    match fate {
        Fate::Unchanged | Fate::Renamed | Fate::Trimmed(_) if row.quantity > 0 && row.what.is_empty() => {
            ChangeRow { fate: "make anew", what: "it comes off with the part it is glued to".into(), ..row }
        }
        _ => row,
    }
}
