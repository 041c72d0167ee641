//! In which order the pieces go up on site.

use super::tables::{On, SAME};
use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::{plain, stacked};
use crate::joinery::{Fixing, OnWall, is_set_on_site, too_wide_to_set};
use crate::model::{PieceId, Scribe, Stock};
use crate::problem::wording::count;

/// From this mass, kg, two people lift (guideline figure of the British Health and Safety
/// Executive for a man lifting at waist height, from memory).
const HEAVY: f64 = 25.0;
/// A piece over this width is unwieldy for one, whatever it weighs, mm (common practice, no
/// source).
const WIDE: f64 = 1200.0;
/// Over this height nobody works without something to stand on, mm (common practice, no
/// source).
const HIGH: f64 = 1800.0;
/// A piece whose underside is this near to the top of another rests on it, mm.
const RESTS: f64 = 2.0;
/// Cubic millimetres to the cubic metre.
const CUBIC_METRE: f64 = 1e9;

/// In which order it is done on site: what hangs highest first, so that nobody leans over
/// what stands already, but what rests on another piece after that; what is scribed last
/// (common practice, no source).
pub(super) fn order(on: &On<'_>) -> Table {
    let mut table =
        Table::new("On site, in this order", vec![Column::figures("Step"), Column::words("What is done")]);
    let mut say = |text: String| {
        let step = (table.rows.len() + 1).to_string();
        table.rows.push(Row::Cells(vec![plain(step), stacked(&text)]));
    };
    // What is scribed and built in is in the way until it is scribed.
    let before: Vec<usize> = on
        .pieces
        .iter()
        .filter_map(|at| too_wide_to_set(on.job, on.worked, at))
        .flat_map(|found| found.parts)
        .collect();
    for one in on.job.scribes.iter().filter(|one| before.contains(&one.part.0)) {
        say(scribed(on, one, true));
    }
    let pieces = in_turn(on.pieces);
    for (at, stands) in pieces.iter().enumerate() {
        let later = pieces.get(at + 1..).unwrap_or_default();
        for text in raised(on, stands, later) {
            say(text);
        }
    }
    for one in on.job.scribes.iter().filter(|one| !before.contains(&one.part.0)) {
        say(scribed(on, one, false));
    }
    table
}

/// The pieces in their turn: the highest first, each after what it rests on.
fn in_turn(pieces: &[OnWall]) -> Vec<&OnWall> {
    let mut left: Vec<&OnWall> = pieces.iter().collect();
    left.sort_by(|a, b| b.low.y.total_cmp(&a.low.y).then(a.low.x.total_cmp(&b.low.x)));
    let mut turn = Vec::new();
    while !left.is_empty() {
        // Nothing rests on itself round about, so there is always one.
        let next = left.iter().position(|one| !left.iter().any(|other| rests_on(one, other)));
        turn.push(left.remove(next.unwrap_or(0)));
    }
    turn
}

/// Whether one piece stands over another along the wall.
fn is_over(one: &OnWall, other: &OnWall) -> bool {
    one.piece != other.piece
        && one.low.x < other.high.x - SAME
        && other.low.x < one.high.x - SAME
        && one.low.y > other.high.y - RESTS
}

/// Whether one piece stands on top of another.
fn rests_on(one: &OnWall, other: &OnWall) -> bool {
    is_over(one, other) && one.low.y < other.high.y + RESTS
}

/// What is done with one piece, before those that come later.
fn raised(on: &On<'_>, stands: &OnWall, later: &[&OnWall]) -> Vec<String> {
    let name = on.name(stands.piece);
    let fixings: Vec<&Fixing> = on.fixed.iter().filter(|fixing| fixing.piece == stands.piece).collect();
    let holes: usize = fixings.iter().map(|fixing| fixing.at.len()).sum();
    let level = fixings.iter().flat_map(|fixing| &fixing.at).map(|at| at.y).reduce(f64::max);
    let is_wide = stands.high.x - stands.low.x > WIDE;
    let (kilos, off) = lifted(on, stands.piece, is_wide);
    let two = kilos.is_some_and(|kilos| kilos > HEAVY) || is_wide;
    let bare = if off { " with its doors and drawers off" } else { "" };
    let weighs = kilos.map_or(String::new(), |kilos| format!(", {}{bare}", on.look.words().mass(kilos)));
    let lifted = if two {
        format!("{weighs}, two people")
    } else if off {
        weighs
    } else {
        String::new()
    };
    let steps =
        if stands.high.y > HIGH && stands.low.y > SAME { "; work from steps, not from a stool" } else { "" };
    // Why it goes first, and why it does not.
    let under: Vec<&str> =
        later.iter().filter(|other| is_over(stands, other)).map(|other| on.name(other.piece)).collect();
    let free = match under.as_slice() {
        [] => String::new(),
        [first, ..] => format!(", before {first} stands under it and is in the way"),
    };
    let rests = on.pieces.iter().find(|other| rests_on(stands, other));
    let onto = rests.map_or(String::new(), |other| format!(" on {}, which carries it", on.name(other.piece)));
    let wall = on.wall_half(stands.piece).and_then(|part| on.worked.parts.get(part));
    let mut said = match (wall, level) {
        (Some(wall), Some(level)) => vec![
            format!("Mark the level line for {name}, {} over the floor, right along.", on.length(level)),
            format!("Fix {} along it, level: {}.", wall.name, count(holes, "fixing", "fixings")),
            format!("Hang {name} on it{lifted}{free}{steps}."),
        ],
        (None, Some(level)) if stands.low.y > SAME && rests.is_none() => vec![
            format!("Mark the level line for {name}, {} over the floor.", on.length(level)),
            format!("Fix {name} on it: {}{lifted}{free}{steps}.", count(holes, "fixing", "fixings")),
        ],
        (_, Some(_)) => vec![format!(
            "Stand {name} level{onto} and fix it back: {}{lifted}.",
            count(holes, "fixing", "fixings")
        )],
        (_, None) if rests.is_some() => vec![format!("Set {name} level{onto}{lifted}{steps}.")],
        (_, None) => vec![format!("Set {name} level in its place{lifted}{free}{steps}.")],
    };
    if off {
        said.push(format!("Hang the doors and put in the drawers of {name} again, and set their gaps."));
    }
    said
}

/// What a piece weighs as it is lifted, kg, `None` where a stock does not say what it weighs;
/// and whether its doors and drawers are off for that, as they are where it is heavy or wide.
fn lifted(on: &On<'_>, piece: PieceId, is_wide: bool) -> (Option<f64>, bool) {
    let whole = mass(on, piece, &[]);
    let joints = on.worked.joints.iter().filter(|joint| joint.opens.is_some());
    let leaves = joints.filter_map(|joint| joint.parts.first().copied());
    let of_piece = |part: &usize| on.worked.parts.get(*part).is_some_and(|part| part.piece == piece);
    let off: Vec<usize> = leaves.filter(of_piece).flat_map(|leaf| on.worked.moving_with(leaf)).collect();
    let light = whole.is_none_or(|kilos| kilos <= HEAVY) && !is_wide;
    if off.is_empty() || light { (whole, false) } else { (mass(on, piece, &off), true) }
}

/// Mass of a piece without what stays on the wall and what is taken `off` it, kg; `None` where
/// a stock does not say what it weighs.
fn mass(on: &On<'_>, piece: PieceId, off: &[usize]) -> Option<f64> {
    let wall = on.wall_half(piece);
    let own = on.worked.parts.iter().enumerate();
    let own = own.filter(|(i, part)| part.piece == piece && Some(*i) != wall && !off.contains(i));
    own.map(|(_, part)| {
        let density = on.job.stock.get(part.stock.0).and_then(Stock::mean_density)?;
        Some(part.solid.true_volume() * density / CUBIC_METRE)
    })
    .sum()
}

/// What is done with an edge that is scribed, before its piece is set or after.
fn scribed(on: &On<'_>, one: &Scribe, before: bool) -> String {
    let name = on.worked.parts.get(one.part.0).map_or("", |part| part.name.as_str());
    let (side, left) = (one.side.name(), on.length(one.allow));
    if before {
        return format!(
            "Take the shape of the wall on the {side} with a board held to it, and scribe {name} before it is set: \
             {left} is left on it."
        );
    }
    let gaps: Vec<String> = one.gap.iter().map(|mm| on.length(*mm)).collect();
    let fills = match gaps.as_slice() {
        [] => String::new(),
        [all] => format!(" It fills a gap of {all}."),
        gaps => format!(" It fills gaps of {}, told from the floor up.", gaps.join(", ")),
    };
    let fixed = if is_set_on_site(on.worked, one.part.0) { ", then fix it" } else { "" };
    format!(
        "Scribe {name} to the wall on the {side}: {left} is left on it; take it off to the line{fixed}.{fills}"
    )
}
