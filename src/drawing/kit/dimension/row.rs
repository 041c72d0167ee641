//! One row of sizes laid along its line: where arrows, dots and figures go.

use super::figure::Figure;
use super::lifted::storeys;
use super::{Form, Manner, Sizes};

/// From a figure beside its size to the head outside, mm: where heads stand outside its
/// line, and where figures stand in the line, beyond the two heads.
const BESIDE: f64 = 1.5;
const BESIDE_HEADS: f64 = 1.0;
/// The shaft of a head between the head and a figure in the line, mm.
const SHAFT: f64 = 2.0;
/// From a head to the figure that slides up to it, mm.
const AT_HEAD: f64 = 0.5;
/// A figure longer than this outside its row strains the drawing, mm.
const LONG: f64 = 20.0;
/// White from the line to the first storey of lifted figures, and between storeys, mm.
const TO_STOREY: f64 = 1.5;
const BETWEEN_STOREYS: f64 = 1.2;
/// Shorter bits of a line are not drawn, mm.
const BIT: f64 = 0.2;
/// Running figures from base line to base line in text heights, and the least white
/// between their ink, mm.
const PITCH: f64 = 1.4;
const BETWEEN_RUNNING: f64 = 0.6;
/// Running figures farther from their places than this many text heights strain the
/// drawing.
const STRAY: f64 = 3.0;

/// A row laid along its line. Distances are sheet mm: `along` the line as the
/// sheet coordinate rises, `out` away from the line away from the view.
#[derive(Clone, Debug, Default)]
pub(super) struct Laid {
    /// Figures in the order of [`Sizes::figures`], only those there are.
    pub(super) texts: Vec<Set>,
    /// Arrow heads: tip, and +1 or -1 for the way they fly.
    pub(super) arrows: Vec<(f64, f64)>,
    /// Dots between short sizes.
    pub(super) dots: Vec<f64>,
    /// The circle at the origin of running sizes.
    pub(super) origin: Option<f64>,
    /// Stretches of the dimension line.
    pub(super) lines: Vec<(f64, f64)>,
    /// All of it along the line.
    pub(super) reach: (f64, f64),
    /// Room taken towards the view.
    pub(super) inward: f64,
    /// Room taken away from the view.
    pub(super) outward: f64,
    /// How far the storeys of lifted figures lie apart.
    pub(super) storey: f64,
    /// Whether figures stand so far from their places, or so far outside the
    /// row, that a larger scale would read better.
    pub(super) strained: bool,
}

/// A figure set on the row.
#[derive(Clone, Debug)]
pub(super) struct Set {
    /// Index into [`Sizes::figures`]; `None` for the nought of running sizes.
    pub(super) figure: Option<usize>,
    /// Middle of the figure along the line.
    pub(super) along: f64,
    /// Extent along the line.
    pub(super) extent: f64,
    /// How far it may slide, both ends, for the middle; equal if fixed.
    pub(super) slide: (f64, f64),
    /// How it stands.
    pub(super) stand: Stand,
}

/// How a figure stands to its line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Stand {
    /// On the line: above it, or in a break of it by ASME.
    On,
    /// Lifted away from the view onto storey 1, 2 ... with a leader from here
    /// along the line.
    Lifted {
        /// Which storey.
        storey: u8,
        /// Where the leader starts.
        from: f64,
    },
    /// At the end of the extension line at this place (running sizes).
    AtEnd {
        /// The extension line.
        from: f64,
    },
}

/// What figures need.
struct Room {
    /// Extent along the line of each figure.
    along: Vec<f64>,
    /// Extent across it.
    across: Vec<f64>,
}

/// Lays `sizes` along its line; a single short size has its figure beside its
/// higher end if `high`.
///
/// Running figures keep between `limits` where they can.
pub(super) fn lay(sizes: &Sizes, manner: &Manner, limits: (f64, f64), high: bool) -> Laid {
    match sizes.form {
        Form::Chain => chain(sizes, manner, high),
        Form::Running => running(sizes, manner, limits),
    }
}

/// Extents of the figures of a chain.
fn room(sizes: &Sizes, manner: &Manner) -> Room {
    let flat = manner.horizontal && !sizes.side.across();
    let widths = sizes.figures.iter().map(|f| f.as_ref().map_or(0.0, |f| f.width(manner.text)));
    let (mut along, mut across) = (Vec::new(), Vec::new());
    for w in widths {
        along.push(if flat { manner.tall() } else { w });
        across.push(if flat { w } else { manner.tall() });
    }
    Room { along, across }
}

/// A chain of sizes.
fn chain(sizes: &Sizes, manner: &Manner, high: bool) -> Laid {
    let mut laid = Laid::default();
    let stops: Vec<f64> = sizes.stops.iter().map(|s| s.at).collect();
    let (Some(&first), Some(&last)) = (stops.first(), stops.last()) else { return laid };
    let room = room(sizes, manner);
    heads(sizes, &stops, &room, manner, &mut laid);
    let links = stops.len() - 1;
    for i in 0..links {
        let (Some(Some(figure)), Some(&a), Some(&b)) = (sizes.figures.get(i), stops.get(i), stops.get(i + 1))
        else {
            continue;
        };
        let extent = room.along.get(i).copied().unwrap_or(0.0);
        let (clear, past) = (clear_within(figure, b - a, manner), past(figure, manner));
        let fits = extent + 2.0 * clear <= b - a;
        let beside = extent / 2.0 + past;
        let (along, slide, stand) = if fits {
            // A figure in a break of the line slides between the heads.
            let heads = manner.horizontal && b - a >= extent + 2.0 * (manner.arrow + SHAFT);
            let half = extent / 2.0 + if heads { manner.arrow + AT_HEAD } else { clear };
            (f64::midpoint(a, b), (a + half, b - half), Stand::On)
        // At the ends of a row there is paper beside it; figures between two sizes can
        // only go up.
        } else if i + 1 == links && (links > 1 || high) {
            (b + beside, (b + beside, b + beside), Stand::On)
        } else if i == 0 {
            (a - beside, (a - beside, a - beside), Stand::On)
        } else {
            let middle = f64::midpoint(a, b);
            (middle, (middle, middle), Stand::Lifted { storey: 1, from: middle })
        };
        laid.texts.push(Set { figure: Some(i), along, extent, slide, stand });
    }
    storeys(&mut laid.texts);
    laid.strained = laid.texts.iter().any(|t| {
        matches!(t.stand, Stand::Lifted { .. }) || (t.along < first || t.along > last) && t.extent > LONG
    });
    lines(sizes, manner, (first, last), &mut laid);
    depth(sizes, manner, &room, &mut laid);
    laid
}

/// White between a figure in its size and the ends: what reaches down keeps clear of the
/// heads within.
fn clear_within(figure: &Figure, long: f64, manner: &Manner) -> f64 {
    let heads_within = !manner.horizontal && long >= Manner::SHORT;
    if heads_within && figure.reaches_down() { manner.arrow } else { Manner::CLEAR }
}

/// From a size to its figure beside it: what reaches down keeps clear of the head
/// outside.
fn past(figure: &Figure, manner: &Manner) -> f64 {
    match manner.horizontal {
        true => 2.0 * manner.arrow + BESIDE_HEADS,
        false if figure.reaches_down() => manner.arrow + Manner::CLEAR,
        false => BESIDE,
    }
}

/// Arrows and dots of a chain. An arrow between a short and a long size stands
/// in the long one and serves both.
fn heads(sizes: &Sizes, stops: &[f64], room: &Room, manner: &Manner, laid: &mut Laid) {
    let links = stops.len().saturating_sub(1);
    let state = |i: usize| -> Option<bool> {
        // `Some(true)`: long enough to carry its arrows inside.
        let (a, b) = (stops.get(i)?, stops.get(i + 1)?);
        sizes.figures.get(i)?.as_ref()?;
        let extent = room.along.get(i).copied().unwrap_or(0.0);
        let needs = if manner.horizontal { extent + 2.0 * (manner.arrow + SHAFT) } else { Manner::SHORT };
        Some(b - a >= needs.max(2.0 * manner.arrow + 1.0))
    };
    // Beyond the ends of the row there is always room. In a long stretch without a figure a
    // head would be read as that of the stretch.
    let room_at = |link: Option<usize>| {
        let ends = link.and_then(|i| Some((stops.get(i)?, stops.get(i + 1)?)));
        ends.is_none_or(|(a, b)| b - a >= 2.0 * manner.arrow + 1.0 && b - a < Manner::SHORT)
    };
    for (i, &at) in stops.iter().enumerate() {
        let before = if i == 0 { None } else { state(i - 1) };
        let after = if i < links { state(i) } else { None };
        match (before, after) {
            (Some(true), Some(true)) => laid.arrows.extend([(at, 1.0), (at, -1.0)]),
            (Some(true), _) => laid.arrows.push((at, 1.0)),
            (_, Some(true)) => laid.arrows.push((at, -1.0)),
            // Outside, unless what lies there has no room for a head either.
            (None, Some(false)) if room_at(i.checked_sub(1)) => laid.arrows.push((at, 1.0)),
            (Some(false), None) if room_at(Some(i)) => laid.arrows.push((at, -1.0)),
            (Some(false), _) | (None, Some(false)) => laid.dots.push(at),
            (None, None) => {}
        }
    }
    dots_round_gaps(sizes, stops, laid);
}

/// Dots in place of heads that stand outside two short sizes on both sides of a stretch
/// without a figure, where they would be read as those of the stretch: the short sizes
/// have dots at their other ends.
fn dots_round_gaps(sizes: &Sizes, stops: &[f64], laid: &mut Laid) {
    for (gap, ends) in stops.windows(4).enumerate() {
        let &[before, from, to, after] = ends else { continue };
        if sizes.figures.get(gap + 1).is_some_and(Option::is_some) {
            continue;
        }
        let flies = |at: f64, way: f64| laid.arrows.contains(&(at, way));
        if flies(from, -1.0) && flies(to, 1.0) && !flies(before, 1.0) && !flies(after, -1.0) {
            laid.arrows.retain(|head| *head != (from, -1.0) && *head != (to, 1.0));
            laid.dots.extend([from, to]);
        }
    }
}

/// Stretches of the line: between the stops, tails of outside arrows, under
/// figures that stand beside, and breaks for figures that stand in it.
fn lines(sizes: &Sizes, manner: &Manner, ends: (f64, f64), laid: &mut Laid) {
    let (mut low, mut high) = ends;
    for (tip, flies) in &laid.arrows {
        // Line goes on one arrow length behind an outside arrow.
        let tail = tip - flies * 2.0 * manner.arrow;
        low = low.min(tail);
        high = high.max(tail);
    }
    if manner.horizontal {
        broken(sizes, manner, (low, high), laid);
    } else {
        for text in laid.texts.iter().filter(|t| t.stand == Stand::On) {
            low = low.min(text.along - text.extent / 2.0);
            high = high.max(text.along + text.extent / 2.0);
        }
        laid.lines.push((low, high));
    }
    laid.reach = laid
        .texts
        .iter()
        .fold((low, high), |(l, h), t| (l.min(t.along - t.extent / 2.0), h.max(t.along + t.extent / 2.0)));
}

/// Breaks the line afresh after figures have slid.
pub(super) fn rebreak(sizes: &Sizes, manner: &Manner, laid: &mut Laid) {
    let ends = laid.lines.iter().fold(None, |all: Option<(f64, f64)>, (a, b)| {
        Some(all.map_or((*a, *b), |(l, h)| (l.min(*a), h.max(*b))))
    });
    if let Some(ends) = ends {
        laid.lines.clear();
        broken(sizes, manner, ends, laid);
    }
}

/// The line of a row whose figures stand in it; where arrows are outside and
/// the figure inside, the line between is left out.
fn broken(sizes: &Sizes, manner: &Manner, (low, high): (f64, f64), laid: &mut Laid) {
    let mut gaps: Vec<(f64, f64)> = Vec::new();
    for text in laid.texts.iter().filter(|t| t.stand == Stand::On) {
        let half = text.extent / 2.0 + 1.0;
        let (mut a, mut b) = (text.along - half, text.along + half);
        let link = text.figure.and_then(|i| Some((sizes.stops.get(i)?.at, sizes.stops.get(i + 1)?.at)));
        if let Some((from, to)) = link
            && text.along > from
            && text.along < to
            // Bits of line too short for a head look like a third figure; none is
            // clearer.
            && to - from < text.extent + 2.0 * (manner.arrow + SHAFT)
        {
            (a, b) = (from, to);
        }
        gaps.push((a, b));
    }
    gaps.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut at = low;
    for (a, b) in gaps {
        if a - at > BIT {
            laid.lines.push((at, a));
        }
        at = at.max(b);
    }
    if high - at > BIT {
        laid.lines.push((at, high));
    }
}

/// Room the row takes on both sides of its line.
fn depth(sizes: &Sizes, manner: &Manner, room: &Room, laid: &mut Laid) {
    let outwards = sizes.side.outward() < 0.0;
    laid.inward = manner.half;
    laid.outward = manner.over;
    let across = |text: &Set| text.figure.and_then(|i| room.across.get(i)).copied().unwrap_or(manner.tall());
    // Figures that read level beside an upright row are as wide as they are long: all of a
    // row keep to the widest, or one of the second storey would stand on that of the first.
    let lifted_ones = laid.texts.iter().filter(|text| matches!(text.stand, Stand::Lifted { .. }));
    laid.storey = lifted_ones.map(across).fold(0.0, f64::max) + BETWEEN_STOREYS;
    for text in &laid.texts {
        let across = across(text);
        match text.stand {
            Stand::On if manner.horizontal => {
                laid.inward = laid.inward.max(across / 2.0);
                laid.outward = laid.outward.max(across / 2.0);
            }
            Stand::On if outwards => laid.outward = laid.outward.max(across + Manner::LIFT),
            Stand::On => laid.inward = laid.inward.max(across + Manner::LIFT),
            Stand::Lifted { storey, .. } => {
                laid.outward = laid.outward.max(lifted((storey, laid.storey), across, sizes, manner).1);
            }
            Stand::AtEnd { .. } => {}
        }
    }
}

/// Nearest and farthest distance from the line of a figure lifted to a storey, storeys
/// `apart` from one another.
pub(super) fn lifted((storey, apart): (u8, f64), across: f64, sizes: &Sizes, manner: &Manner) -> (f64, f64) {
    // Figures on the line stand on its outer side above and left of a view.
    let taken =
        if sizes.side.outward() < 0.0 || manner.horizontal { manner.tall() + Manner::LIFT } else { 0.0 };
    let near = taken + TO_STOREY + f64::from(storey - 1) * apart;
    (near, near + across)
}

/// Running sizes from the first stop.
fn running(sizes: &Sizes, manner: &Manner, limits: (f64, f64)) -> Laid {
    let mut laid = Laid::default();
    let Some(origin) = sizes.stops.first().map(|s| s.at) else { return laid };
    laid.origin = Some(origin);
    let mut places: Vec<(f64, Option<usize>)> = vec![(origin, None)];
    places.extend(
        sizes
            .stops
            .iter()
            .skip(1)
            .enumerate()
            .filter(|(i, _)| matches!(sizes.figures.get(*i), Some(Some(_))))
            .map(|(i, s)| (s.at, Some(i))),
    );
    places.sort_by(|a, b| a.0.total_cmp(&b.0));
    let low = places.first().map_or(origin, |p| p.0);
    let high = places.last().map_or(origin, |p| p.0);
    let spots = spread(
        &places.iter().map(|p| p.0).collect::<Vec<_>>(),
        (manner.text * PITCH).max(manner.tall() + BETWEEN_RUNNING),
        limits,
    );
    for ((at, figure), along) in places.iter().zip(spots) {
        laid.strained |= (along - at).abs() > STRAY * manner.text;
        laid.texts.push(Set {
            figure: *figure,
            along,
            extent: manner.tall(),
            slide: (along, along),
            stand: Stand::AtEnd { from: *at },
        });
    }
    running_heads(&places, origin, manner, &mut laid);
    laid.lines.push((low, high));
    laid.reach = laid
        .texts
        .iter()
        .fold((low, high), |(l, h), t| (l.min(t.along - t.extent / 2.0), h.max(t.along + t.extent / 2.0)));
    let widest = sizes.figures.iter().flatten().map(|f| f.width(manner.text)).fold(manner.text, f64::max);
    laid.inward = manner.half;
    laid.outward = manner.over + 1.0 + widest;
    laid
}

/// The head of each running size, which flies away from the origin; a dot where the place
/// before it is too near for a head.
fn running_heads(places: &[(f64, Option<usize>)], origin: f64, manner: &Manner, laid: &mut Laid) {
    for (i, (at, figure)) in places.iter().enumerate() {
        if figure.is_none() {
            continue;
        }
        let away = (at - origin).signum();
        let inner = if away > 0.0 { i.checked_sub(1) } else { Some(i + 1) };
        let gap = inner.and_then(|j| places.get(j)).map_or(f64::MAX, |p| (at - p.0).abs());
        if gap >= manner.arrow + AT_HEAD {
            laid.arrows.push((*at, away));
        } else {
            laid.dots.push(*at);
        }
    }
}

/// Moves rising places apart until neighbours are `pitch` apart, each group
/// staying centred on its own places, then between `limits` as far as it goes.
pub(super) fn spread(places: &[f64], pitch: f64, limits: (f64, f64)) -> Vec<f64> {
    // Groups of (sum of wanted first places, members); merged while they touch.
    let mut groups: Vec<(f64, usize)> = Vec::new();
    for place in places {
        groups.push((*place, 1));
        while let [.., (a, n), (b, m)] = groups[..] {
            let (first, next) = (a / n as f64, b / m as f64);
            if next - first >= n as f64 * pitch {
                break;
            }
            groups.truncate(groups.len() - 2);
            groups.push((a + b - m as f64 * n as f64 * pitch, n + m));
        }
    }
    let mut out = Vec::with_capacity(places.len());
    for (sum, n) in groups {
        let first = sum / n as f64;
        out.extend((0..n).map(|i| first + i as f64 * pitch));
    }
    // Push down from the low limit, then up from the high one, which wins: the
    // figures then reach past the low limit only if there is no room for all.
    let mut least = limits.0;
    for at in &mut out {
        *at = at.max(least);
        least = *at + pitch;
    }
    let mut most = limits.1;
    for at in out.iter_mut().rev() {
        *at = at.min(most);
        most = *at - pitch;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::super::{Beside, Stop};
    use super::*;
    use crate::drawing::page::look::{Look, Paper};
    use crate::drawing::page::profile::Profile;
    use crate::measure::Unit;
    use crate::paper::{Fixes, Run};

    /// An upright row at the left of a view, sheet mm from place to place.
    fn upright(ends: &[f64], figures: &[Option<&str>]) -> (Sizes, Manner) {
        let figure =
            |text: &str| Figure { runs: vec![Run::Plain(text.into())], value: 0.0, fixes: Fixes::Nothing };
        let sizes = Sizes {
            side: Beside::Left,
            stops: ends.iter().map(|at| Stop { at: *at, foot: 0.0 }).collect(),
            figures: figures.iter().map(|text| text.map(figure)).collect(),
            form: Form::Chain,
            outermost: false,
        };
        (sizes, Manner::of(&Look::new(Paper::Letter, Unit::Inch, Profile::Asme)))
    }

    /// Rails of 5 on paper over and under an opening of 30: with heads in the opening it
    /// would be a size without a figure.
    #[test]
    fn short_sizes_on_both_sides_of_a_gap_end_in_dots() {
        let (sizes, manner) =
            upright(&[0.0, 4.0, 9.0, 39.0, 44.0, 48.0], &[Some("1"), Some("2"), None, Some("2"), Some("1")]);
        let laid = lay(&sizes, &manner, (0.0, 48.0), false);
        assert!(laid.arrows.iter().all(|(at, _)| *at < 1.0 || *at > 47.0), "{laid:?}");
        assert!([9.0, 39.0].iter().all(|at| laid.dots.contains(at)), "{laid:?}");
    }

    /// A narrow figure on the second storey stands clear of a wide one on the first.
    #[test]
    fn storeys_are_as_far_apart_as_the_widest_figure_needs() {
        let names = [Some("1"), Some("1234567"), Some("1"), Some("12"), Some("1")];
        let (sizes, manner) = upright(&[0.0, 3.0, 5.0, 7.0, 9.0, 12.0], &names);
        let laid = lay(&sizes, &manner, (0.0, 12.0), false);
        let storeys: Vec<u8> = laid
            .texts
            .iter()
            .filter_map(|t| match t.stand {
                Stand::Lifted { storey, .. } => Some(storey),
                Stand::On | Stand::AtEnd { .. } => None,
            })
            .collect();
        assert_eq!(storeys, [1, 2, 3]);
        let wide = |i: usize| sizes.figures[i].as_ref().unwrap().width(manner.text);
        let (_, first) = lifted((1, laid.storey), wide(1), &sizes, &manner);
        let (second, _) = lifted((2, laid.storey), wide(2), &sizes, &manner);
        assert!(second > first, "{first} {second}");
    }

    /// A drawer's gap of 0.5 on paper, its bottom of 1 and the case's of 1.6 under one another,
    /// with stacked fractions; and a rail of 4, a gap of 0.2 and a rail of 4: no leader runs
    /// through a figure on its way.
    #[test]
    fn lifted_figures_keep_off_the_leaders_of_others() {
        let rows = [[0.0, 18.4, 18.93, 19.99, 21.58, 27.93], [0.0, 18.4, 22.4, 22.6, 26.6, 40.0]];
        for stops in rows {
            let (sizes, manner) = upright(&stops, &[Some("8"), Some("4"), Some("2"), Some("3"), Some("9")]);
            let manner = manner.with_fractions();
            let laid = lay(&sizes, &manner, (0.0, 40.0), false);
            let up = |storey| lifted((storey, laid.storey), laid.storey - BETWEEN_STOREYS, &sizes, &manner);
            for lower in &laid.texts {
                for upper in &laid.texts {
                    let (Stand::Lifted { storey: low, .. }, Stand::Lifted { storey: high, from }) =
                        (lower.stand, upper.stand)
                    else {
                        continue;
                    };
                    let ((near, far), (whole, _)) = (up(low), up(high));
                    let at = |up: f64| from + (upper.along - from) * (up / whole).min(1.0);
                    let (a, b) = (at(near).min(at(far)), at(near).max(at(far)));
                    let half = lower.extent / 2.0 + 0.05;
                    let clear = a > lower.along + half || b < lower.along - half;
                    assert!(high <= low || clear, "{lower:?} {upper:?}");
                }
            }
        }
    }

    #[test]
    fn places_far_apart_stay_and_close_ones_part_about_their_middle() {
        let wide = (-100.0, 100.0);
        assert_eq!(spread(&[0.0, 10.0], 5.0, wide), vec![0.0, 10.0]);
        assert_eq!(spread(&[10.0, 10.0], 4.0, wide), vec![8.0, 12.0]);
        assert_eq!(spread(&[0.0, 1.0, 2.0], 5.0, wide), vec![-4.0, 1.0, 6.0]);
        assert_eq!(spread(&[0.0, 1.0, 2.0], 5.0, (-1.0, 20.0)), vec![-1.0, 4.0, 9.0]);
        assert_eq!(spread(&[9.0, 10.0], 5.0, (0.0, 10.0)), vec![5.0, 10.0]);
    }
}
