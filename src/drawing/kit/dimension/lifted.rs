//! Figures lifted off a crowded row onto storeys, each with a leader to its size.

use super::row::{Set, Stand};
use crate::geometry::tolerance::HAIR;

/// White between lifted figures of one storey, mm.
const BETWEEN_LIFTED: f64 = 1.5;
/// How far inside its figure a leader must meet it, mm.
const MEETS: f64 = 0.3;
/// White between a lifted figure and a leader, mm: at best, and where its own leader would
/// otherwise no longer meet it.
const OFF_LEADER: f64 = 0.8;
const CLOSE: f64 = 0.3;

/// Raises lifted figures that would stand on one another, from whichever end of the row
/// leaves fewer of them in the way of a leader, the uppermost leaning away where that helps.
pub(super) fn storeys(texts: &mut Vec<Set>) {
    let ways = [(false, false), (true, false), (false, true), (true, true)];
    // With figures less far aside more of them have room.
    let offs = [OFF_LEADER, CLOSE].into_iter().flat_map(|off| ways.map(|(end, leans)| (end, leans, off)));
    let raised = offs.map(|(from_end, leans, off)| {
        let mut tried = texts.clone();
        raise(&mut tried, from_end);
        if leans {
            lean_away(&mut tried);
        }
        give_way(&mut tried, off);
        tried
    });
    let struck = |tried: &[Set], off: f64| (0..tried.len()).filter(|i| in_the_way(tried, *i, off)).count();
    let best = raised.min_by_key(|tried| (struck(tried, CLOSE), struck(tried, OFF_LEADER)));
    if let Some(best) = best {
        *texts = best;
    }
}

/// Slides figures that none stands above away from those whose storeys their leaders pass.
fn lean_away(texts: &mut [Set]) {
    let seen: Vec<(u8, f64, f64)> = texts
        .iter()
        .filter_map(|text| lifted_at(text).map(|(storey, from)| (storey, from, text.extent)))
        .collect();
    for text in texts.iter_mut() {
        let Some((storey, from)) = lifted_at(text) else { continue };
        let near = |other: f64, extent: f64| (other - from).abs() < f64::midpoint(extent, text.extent);
        let beside = || seen.iter().filter(|(_, other, extent)| near(*other, *extent));
        if storey < 2 || beside().any(|(other, ..)| *other > storey) {
            continue;
        }
        let away: f64 =
            beside().filter(|(other, ..)| *other < storey).map(|(_, other, _)| from - other).sum();
        let apart = text.extent / 2.0 - MEETS - HAIR;
        text.along = if away < 0.0 { from - apart } else { from + apart };
    }
}

/// Each lifted figure onto the lowest storey that is free, in the order of the row or from
/// its end: a leader then crosses the fewest figures.
fn raise(texts: &mut [Set], from_end: bool) {
    let mut taken: Vec<(u8, f64, f64)> = Vec::new();
    let mut order: Vec<usize> = (0..texts.len()).collect();
    if from_end {
        order.reverse();
    }
    for i in order {
        let Some(text) = texts.get_mut(i) else { continue };
        let Stand::Lifted { from, .. } = text.stand else { continue };
        let (low, high) = (text.along - text.extent / 2.0, text.along + text.extent / 2.0);
        let mut storey = 1;
        while taken
            .iter()
            .any(|(s, from, to)| *s == storey && *to + BETWEEN_LIFTED > low && *from - BETWEEN_LIFTED < high)
        {
            storey += 1;
        }
        text.stand = Stand::Lifted { storey, from };
        taken.push((storey, low, high));
    }
}

/// The storey of a lifted figure and where its leader begins.
fn lifted_at(text: &Set) -> Option<(u8, f64)> {
    match text.stand {
        Stand::Lifted { storey, from } => Some((storey, from)),
        _ => None,
    }
}

/// From the row to the first storey, as a share of what lies between storeys: at least.
const TO_FIRST: f64 = 0.25;

/// From where to where leaders run where they pass the storey of a figure on their way up.
fn passing_leaders(texts: &[Set], of: usize, storey: u8) -> Vec<(f64, f64)> {
    let others = texts.iter().enumerate().filter(|(j, _)| *j != of);
    let low = f64::from(storey) - 1.0 + TO_FIRST;
    others
        .filter_map(|(_, other)| lifted_at(other).map(|(s, from)| (s, from, other.along)))
        .filter(|(s, ..)| *s > storey)
        .map(|(s, from, to)| {
            // A leader that leans is still near where it begins on a low storey.
            let whole = f64::from(s) - 1.0 + TO_FIRST;
            let at = |up: f64| from + (to - from) * (up / whole).min(1.0);
            let (a, b) = (at(low), at(low + 1.0));
            (a.min(b), a.max(b))
        })
        .collect()
}

/// Whether a lifted figure stands in the way of a leader, which keeps `off` it.
fn in_the_way(texts: &[Set], of: usize, off: f64) -> bool {
    let Some((text, (storey, _))) = texts.get(of).and_then(|text| Some((text, lifted_at(text)?))) else {
        return false;
    };
    let free = text.extent / 2.0 + off - HAIR;
    let leaders = passing_leaders(texts, of, storey);
    leaders.iter().any(|(low, high)| text.along >= low - free && text.along <= high + free)
}

/// Slides lifted figures aside that the leader of one on a higher storey would run
/// through by `off`, as far as their own leaders still meet them.
fn give_way(texts: &mut [Set], off: f64) {
    // From the highest storey down: a leader leans where its figure has slid.
    let mut order: Vec<usize> = (0..texts.len()).collect();
    order.sort_by_key(|i| std::cmp::Reverse(texts.get(*i).and_then(lifted_at).map(|(storey, _)| storey)));
    for i in order {
        let Some((text, (storey, from))) = texts.get(i).and_then(|t| Some((t.clone(), lifted_at(t)?))) else {
            continue;
        };
        if !in_the_way(texts, i, off) {
            continue;
        }
        let half = text.extent / 2.0;
        let leaders = passing_leaders(texts, i, storey);
        let clear = |along: f64, off: f64| {
            let free = half + off - HAIR;
            leaders.iter().all(|(low, high)| along < low - free || along > high + free)
        };
        let apart = |along: f64| {
            let others = texts.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, other)| other);
            let mut beside = others.filter(|other| lifted_at(other).is_some_and(|(s, _)| s == storey));
            beside.all(|other| (other.along - along).abs() > half + other.extent / 2.0 + OFF_LEADER)
        };
        let beside = |off: f64| {
            let places = leaders.iter().flat_map(|(low, high)| [low - half - off, high + half + off]);
            places
                .filter(|along| (along - from).abs() < half - MEETS && clear(*along, off) && apart(*along))
                // The least way aside, so that the figure is still read as that of its
                // size.
                .min_by(|a, b| (a - text.along).abs().total_cmp(&(b - text.along).abs()))
        };
        let close = || in_the_way(texts, i, CLOSE).then(|| beside(CLOSE)).flatten();
        let found = beside(off).or_else(close);
        if let (Some(along), Some(text)) = (found, texts.get_mut(i)) {
            text.along = along;
        }
    }
}
