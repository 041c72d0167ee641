//! Heights of the level members of a view and how far they reach over: what stands on the
//! floor, how high a rail hangs over it, how high it is itself.

use kurbo::Rect;

use super::sizes::{Link, Measured, SAME, Shown, across_a_view, apart, chain, members_by};
use crate::drawing::kit::dimension::{Beside, Sizes};
use crate::drawing::kit::project::bounds;
use crate::drawing::page::look::Look;
use crate::geometry::{DVec3, tolerance::NOISE};
use crate::joinery::{PartSource, WorkedJob, WorkedPart};
use crate::model::PieceId;

/// What is left over a level by less is flush with it, mm: nobody sets out a height to less
/// (common practice, no source).
const FLUSH: f64 = 0.5;
/// A member this high is a rail, a plinth or a front and is asked for by its height; a
/// board is told by its thickness, mm (common practice, no source).
const TALL: f64 = 30.0;
/// A post is thinner than this share of its height both ways: its like stand at the corners.
const POST: f64 = 0.3;
/// A plinth is lower than this share of its piece.
const LOW: f64 = 0.3;
/// A board lies on what stands this near under it, mm: it may be let in a little.
const NEXT: f64 = 12.0;

/// A level member: from and to, mm, and whether that is one part's height.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Level {
    from: f64,
    to: f64,
    whole: bool,
    /// Whether its height is told.
    told: bool,
}

impl Level {
    fn new(from: f64, to: f64) -> Self {
        Self { from, to, whole: true, told: to - from > TALL }
    }
}

/// Members rising: what lies within another is part of it, a rail under a top stands apart
/// from it.
fn levels(rising: Vec<(f64, f64)>) -> Vec<Level> {
    let mut found: Vec<Level> = Vec::new();
    for (from, to) in rising {
        let next = Level::new(from, to);
        match found.last_mut() {
            Some(last) if from < last.to - SAME => {
                last.whole &= to <= last.to + SAME || (from - last.from).abs() < SAME;
                last.to = last.to.max(to);
                last.told = last.whole && last.to - last.from > TALL;
            }
            Some(last) if from < last.to + SAME && !last.told && !next.told => {
                (last.to, last.whole) = (to, false);
            }
            _ => found.push(next),
        }
    }
    found
}

/// The links of a chain from the floor at `low` through some levels up to `high`, none where
/// it would be the overall size alone.
fn links(levels: &[Level], (low, high): (f64, f64)) -> Vec<Link> {
    let mut links: Vec<Link> = Vec::new();
    let mut at = low;
    for level in levels {
        if level.from > at + SAME {
            links.push(Link { from: at, to: level.from, shown: Shown::Size });
        }
        links.push(Link { from: level.from, to: level.to, shown: Shown::if_wanted(level.told) });
        at = level.to;
    }
    if at < high - FLUSH {
        links.push(Link { from: at, to: high, shown: Shown::Size });
    }
    let from = links.iter().position(|link| link.shown.is_any()).unwrap_or(links.len());
    let to = links.iter().rposition(|link| link.shown.is_any()).map_or(from, |last| last + 1);
    let links: Vec<Link> = links.drain(from..to).collect();
    match &links[..] {
        [one] if one.from < low + FLUSH && one.to > high - FLUSH => Vec::new(),
        _ => links,
    }
}

/// Sizes that stand on a view already, and how lengths are shown there.
struct Told<'a> {
    /// From and to, mm, and how long it is shown to be.
    spans: Vec<(f64, f64, f64)>,
    /// A length as its figure has it.
    shown: &'a dyn Fn(f64) -> f64,
}

impl<'a> Told<'a> {
    /// The overall size of a view.
    fn overall((low, high): (f64, f64), look: &Look, shown: &'a dyn Fn(f64) -> f64) -> Self {
        Self { spans: vec![(low, high, look.overall_style().as_shown(high - low))], shown }
    }

    /// With the sizes of another row.
    fn with(mut self, links: &[Link]) -> Self {
        let sizes = links.iter().filter(|link| link.shown == Shown::Size);
        self.spans.extend(sizes.map(|link| (link.from, link.to, (self.shown)(link.to - link.from))));
        self
    }
}

/// Sets in brackets what follows from the sizes that are told already and from one another,
/// the longest rather than others: places that are joined by sizes need no further one between
/// them, but left open it would be a span that the maker has to work out.
fn close(mut links: Vec<Link>, told: &Told<'_>) -> Vec<Link> {
    let mut joined = Joined::default();
    for (from, to, shown) in &told.spans {
        joined.join((*from, *to), *shown);
    }
    let mut shown: Vec<&mut Link> = links.iter_mut().filter(|link| link.shown.is_any()).collect();
    shown.sort_by(|a, b| (a.to - a.from).total_cmp(&(b.to - b.from)).then(a.from.total_cmp(&b.from)));
    for link in shown {
        let long = (told.shown)(link.to - link.from);
        link.shown = joined.join((link.from, link.to), long).map_or(Shown::Size, Shown::Aside);
    }
    links
}

/// Places that sizes join, in groups, each with how far it is from the first of its group as
/// figures show it.
#[derive(Default)]
struct Joined(Vec<Vec<(f64, f64)>>);

impl Joined {
    /// The group of a place, and where in it that is shown.
    fn find(&self, place: f64) -> Option<(usize, f64)> {
        self.0.iter().enumerate().find_map(|(i, group)| {
            let known = group.iter().find(|(at, _)| (at - place).abs() < SAME);
            known.map(|(_, shown)| (i, *shown))
        })
    }

    /// Joins two places by a size; gives what is shown between them where they are joined
    /// already.
    fn join(&mut self, (from, to): (f64, f64), long: f64) -> Option<f64> {
        let (first, last) = (self.find(from), self.find(to));
        if let Some(((a, at_from), (b, at_to))) = first.zip(last)
            && a == b
        {
            return Some(at_to - at_from);
        }
        // Both groups as seen from `from`, as one.
        let mut whole: Vec<(f64, f64)> = Vec::new();
        for (place, found, at) in [(from, first, 0.0), (to, last, long)] {
            let group = found.and_then(|(group, shown)| Some((self.0.get_mut(group)?, shown)));
            match group {
                Some((group, shown)) => {
                    whole.extend(group.drain(..).map(|(place, other)| (place, other - shown + at)));
                }
                None => whole.push((place, at)),
            }
        }
        self.0.push(whole);
        None
    }
}

/// The heights of a front view at its left: of level members rising, from the floor to the top.
pub(super) fn of_front(
    rising: Vec<(f64, f64)>,
    ends: (f64, f64),
    (view, to_sheet, look): (Rect, &dyn Fn(f64) -> f64, &Look),
) -> Option<Sizes> {
    let shown = |mm: f64| look.style().as_shown(mm);
    let links = close(links(&levels(rising), ends), &Told::overall(ends, look, &shown));
    chain(&links, Beside::Left, view, to_sheet, look)
}

/// Whether a part is an upright post.
fn is_post(worked: &WorkedPart) -> bool {
    let Some((a, b)) = bounds(std::iter::once(worked)) else { return false };
    let size = b - a;
    size.x < POST * size.z && size.y < POST * size.z
}

/// Whether the sides of a part are square to the piece: of what leans a box says nothing.
pub(super) fn is_square(part: &WorkedPart) -> bool {
    [DVec3::X, DVec3::Y].iter().all(|axis| {
        let way = part.at.dir(*axis).abs();
        way.max_element() > 1.0 - NOISE
    })
}

/// The rows of a side view of a piece on posts: clear between them and how far the top
/// reaches over, and rails at heights that the front has none at.
pub(super) fn of_side(
    worked: &WorkedJob,
    piece: PieceId,
    (low, high): (DVec3, DVec3),
    (view, on, look): (Rect, &Side<'_>, &Look),
) -> Vec<Sizes> {
    let posts = apart(members_by(worked, piece, (1, 2), &|part| is_post(part) && is_square(part)));
    if posts.len() < 2 {
        return Vec::new();
    }
    let mut rows = Vec::new();
    rows.extend(across_a_view(&posts, (low.y, high.y), on.across, (view, on.y, look)));
    let front = levels(members_by(worked, piece, (2, 0), &|_| true));
    let side = levels(members_by(worked, piece, (2, 1), &|_| true));
    let seen = |level: &Level| front.iter().any(|one| (one.from - level.from).abs() < SAME && one.told);
    if side.iter().any(|level| level.told && !seen(level)) {
        let (ends, shown) = ((low.z, high.z), |mm: f64| look.style().as_shown(mm));
        let links = close(links(&side, ends), &Told::overall(ends, look, &shown));
        rows.extend(chain(&links, Beside::Right, view, on.z, look));
    }
    rows
}

/// How a side view or a section lies on the sheet.
pub(in crate::drawing) struct Side<'a> {
    /// Where its depth stands.
    pub(in crate::drawing) across: Beside,
    /// A place from front to back on the sheet.
    pub(in crate::drawing) y: &'a dyn Fn(f64) -> f64,
    /// A height on the sheet.
    pub(in crate::drawing) z: &'a dyn Fn(f64) -> f64,
}

/// Each thickness told once, where it first stands; what is taller than a board is thick
/// every time, since between two short sizes it would be a span without a figure.
fn thicknesses_once(levels: &mut [Level]) {
    let mut told: Vec<f64> = Vec::new();
    for level in levels {
        let thick = level.to - level.from;
        let known = || told.iter().any(|known| (known - thick).abs() < SAME);
        level.told = level.whole && (thick > TALL || !known());
        told.push(thick);
    }
}

/// The clear heights of a section at its left, with each thickness once.
///
/// What opens has sizes of its own.
pub(in crate::drawing) fn heights_cut(
    Measured { worked, piece, moving }: Measured<'_>,
    (low, high): (DVec3, DVec3),
    (view, on, look): (Rect, &Side<'_>, &Look),
) -> Option<Sizes> {
    let still = |part: &WorkedPart| is_square(part) && !moving.iter().any(|one| one.moves(part));
    let mut up = levels(members_by(worked, piece, (2, 0), &still));
    thicknesses_once(&mut up);
    let (ends, shown) = ((low.z, high.z), |mm: f64| look.style().as_shown(mm));
    let links = close(links(&up, ends), &Told::overall(ends, look, &shown));
    chain(&links, Beside::Left, view, on.z, look)
}

/// The links of the depths of a section: doors and the gap behind them, posts, a back and how
/// far it is let in.
fn deep_links(Measured { worked, piece, moving }: Measured<'_>, ends: (f64, f64)) -> Vec<Link> {
    // Of a drawer the front stands there; its box is set out on its own sheets.
    let within = |part: &WorkedPart| moving.iter().any(|one| one.moves(part) && !one.is_faced_by(part));
    let wanted = |part: &WorkedPart| is_square(part) && !within(part);
    let mut deep = levels(members_by(worked, piece, (1, 2), &wanted));
    thicknesses_once(&mut deep);
    if deep.is_empty() { Vec::new() } else { links(&deep, ends) }
}

/// The clear depths of a section with what stands upright between them.
pub(in crate::drawing) fn depths_cut(
    of: Measured<'_>,
    (low, high): (DVec3, DVec3),
    (view, on, look): (Rect, &Side<'_>, &Look),
) -> Option<Sizes> {
    let (ends, shown) = ((low.y, high.y), |mm: f64| look.style().as_shown(mm));
    let links = close(deep_links(of, ends), &Told::overall(ends, look, &shown));
    chain(&links, on.across, view, on.y, look)
}

/// How far a plinth is set back under the board that lies on it, and how thick it is; of
/// parts that the plane at `x` cuts.
pub(in crate::drawing) fn set_back(
    (worked, piece): (&WorkedJob, PieceId),
    ((low, high), x): ((DVec3, DVec3), f64),
    (view, on, look): (Rect, &Side<'_>, &Look),
) -> Option<Sizes> {
    let cut = || {
        let own = worked.parts.iter().filter(|part| part.piece == piece && is_square(part));
        own.filter_map(|part| bounds(std::iter::once(part))).filter(|(a, b)| a.x < x && x < b.x)
    };
    // What is taller stands among the depths.
    let plinth = |(a, b): &(DVec3, DVec3)| {
        let tall = b.z - a.z;
        b.y - a.y < tall && tall < LOW * (high.z - low.z) && a.z < low.z + SAME
    };
    let (a, b) = cut().filter(plinth).min_by(|one, other| one.0.y.total_cmp(&other.0.y))?;
    let front = cut().filter(|one| (one.0.z - b.z).abs() < NEXT).map(|one| one.0.y).reduce(f64::min)?;
    let link = |from, to| Link { from, to, shown: Shown::Size };
    (a.y > front + SAME)
        .then(|| chain(&[link(front, a.y), link(a.y, b.y)], on.across, view, on.y, look))
        .flatten()
}

/// Where the rails lie that the plane at `x` cuts, from front to back, and how thick they are;
/// those that the depths above tell of are left out.
pub(in crate::drawing) fn rails_cut(
    Measured { worked, piece, moving }: Measured<'_>,
    ((low, high), x): ((DVec3, DVec3), f64),
    (view, on, look): (Rect, &Side<'_>, &Look),
) -> Option<Sizes> {
    let told = members_by(worked, piece, (1, 2), &is_square);
    let is_told = |a: f64, b: f64| told.iter().any(|(c, d)| (a - c).abs() < SAME && (b - d).abs() < SAME);
    let still = |part: &&WorkedPart| {
        let own = part.piece == piece && matches!(part.source, PartSource::Part(_)) && is_square(part);
        own && !moving.iter().any(|one| one.moves(part))
    };
    let cut = worked.parts.iter().filter(still).filter_map(|part| bounds(std::iter::once(part)));
    // On edge, and not a post seen from beside.
    let rail = |(a, b): &(DVec3, DVec3)| a.x < x && x < b.x && b.z - a.z > TALL.max(b.y - a.y);
    let mut deep: Vec<(f64, f64)> =
        cut.filter(rail).map(|(a, b)| (a.y, b.y)).filter(|(a, b)| !is_told(*a, *b)).collect();
    deep.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    // What overlaps another has no clear place beside it.
    deep.dedup_by(|next, last| next.0 < last.1 - SAME);
    let levels: Vec<Level> =
        deep.iter().map(|(from, to)| Level { told: true, ..Level::new(*from, *to) }).collect();
    if levels.is_empty() {
        return None;
    }
    let (ends, shown) = ((low.y, high.y), |mm: f64| look.style().as_shown(mm));
    let overall = || Told::overall(ends, look, &shown);
    let above = close(deep_links(Measured { worked, piece, moving }, ends), &overall());
    let links = close(links(&levels, ends), &overall().with(&above));
    chain(&links, on.across, view, on.y, look)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(links: &[Link]) -> Vec<f64> {
        links.iter().filter(|link| link.shown == Shown::Size).map(|link| link.to - link.from).collect()
    }

    /// Those in brackets.
    fn aside(links: &[Link]) -> Vec<f64> {
        let rest = links.iter().filter_map(|link| match link.shown {
            Shown::Aside(rest) => Some(rest),
            Shown::Size | Shown::Not => None,
        });
        rest.collect()
    }

    fn told(spans: &[(f64, f64)]) -> Told<'static> {
        let spans = spans.iter().map(|(from, to)| (*from, *to, (to - from).round())).collect();
        Told { spans, shown: &|mm| mm.round() }
    }

    /// A table 740 high: rails of 90 under a top of 24 leave 626 for the knees.
    #[test]
    fn knee_room_and_rail_of_a_table() {
        let found = levels(vec![(626.0, 716.0), (696.0, 716.0), (716.0, 740.0)]);
        assert_eq!(shown(&links(&found, (0.0, 740.0))), [626.0, 90.0]);
    }

    /// A rail that a shelf is let into is not as high as both together.
    #[test]
    fn what_overlaps_has_no_height_of_its_own() {
        let found = levels(vec![(0.0, 90.0), (80.0, 98.0)]);
        assert_eq!(shown(&links(&found, (0.0, 400.0))), [302.0]);
    }

    /// A lid 460 deep over a front that stands back 20 and a plinth of 16 before it: with the 4
    /// before the plinth said, its 16 and the 440 behind it follow.
    #[test]
    fn what_another_row_tells_is_in_brackets() {
        let row = links(&[Level { told: true, ..Level::new(440.0, 456.0) }], (0.0, 460.0));
        let row = close(row, &told(&[(0.0, 460.0), (440.0, 460.0)]));
        assert_eq!(shown(&row), [4.0]);
        assert_eq!(aside(&row), [440.0, 16.0]);
    }

    /// Three of 33.4 in 100.2: shown as 33, 33 and 100, so that what is left is shown as 34.
    #[test]
    fn what_is_in_brackets_adds_up_as_shown() {
        let found = levels(vec![(33.4, 66.8)]);
        let row = close(links(&found, (0.0, 100.2)), &told(&[(0.0, 100.2)]));
        assert_eq!(aside(&row), [34.0]);
    }

    /// A frame 500 high of two rails of 60: the opening between follows from the rest
    /// and is not left for the maker to work out.
    #[test]
    fn a_closed_chain_has_its_largest_in_brackets() {
        let found = levels(vec![(0.0, 60.0), (440.0, 500.0)]);
        let row = close(links(&found, (0.0, 500.0)), &told(&[(0.0, 500.0)]));
        assert_eq!(shown(&row), [60.0, 60.0]);
        assert_eq!(aside(&row), [380.0]);
    }
}
