//! The last phase: with the cost settled, push what is left over together. A
//! place as large as the offcut aimed at is held free as if it were one more
//! part, and the search works until it and all the parts are in; then it aims
//! higher.

use super::panel::{Kind, Panel};
use super::search::{Found, Search};
use super::shop::{Block, Content, area, weight};
use super::state::State;

/// How many sizes the steps are shared between, and the fewest and the most
/// steps for one.
const TRIES: u64 = 24;
const TRY: (u64, u64) = (50, 600);
/// Shapes tried for one area.
const SHAPES: usize = 4;
/// The least share of the way to the bound worth aiming at.
const LEAST: f64 = 0.03;

/// Enlarges the largest useful rest of the best plan, at no more cost.
pub(super) fn enlarge(search: &mut Search<'_>, steps: u64, useful: i32) {
    let last = search.steps.saturating_add(steps);
    let each = (steps / TRIES).clamp(TRY.0, TRY.1);
    let (mut share, mut turn, mut failures) = (0.5, 0, 0);
    while share > LEAST && search.steps < last && !search.stopped {
        let now = largest(&search.best, useful);
        let reached = match goal(search, now, share, turn % SHAPES) {
            Some(size) if size[0].min(size[1]) >= useful && area(size) > now => {
                hold_free(search, size, each.min(last - search.steps), useful)
            }
            _ => false,
        };
        failures = if reached { 0 } else { failures + 1 };
        // A shape that did is tried again at once.
        turn += usize::from(!reached);
        if failures == SHAPES {
            failures = 0;
            share /= 2.0;
        }
    }
}

/// The largest useful rest of a plan, as an area.
fn largest(plan: &Found, useful: i32) -> i64 {
    plan.panels.iter().map(|panel| panel.largest_rest(useful)).max().unwrap_or(0)
}

/// The size to aim at: so large a share of the way from what there is to all
/// that is left over, in one of the shapes.
fn goal(search: &Search<'_>, now: i64, share: f64, shape: usize) -> Option<[i32; 2]> {
    let kinds = &search.state.shop.kinds;
    let panels = &search.best.panels;
    let kind = kinds.get(panels.iter().max_by_key(|panel| kinds[panel.kind].area)?.kind)?;
    let waste: i64 = panels.iter().map(|panel| panel.waste).sum();
    let most = waste.min(kind.area);
    let wanted = now as f64 + (most - now) as f64 * share;
    let [long, wide] = kind.size.map(f64::from);
    let like = |of: [f64; 2]| {
        let grow = (wanted / (of[0] * of[1])).sqrt();
        [(of[0] * grow).min(long), (of[1] * grow).min(wide)]
    };
    let size = match shape {
        0 => [wanted / wide, wide],
        1 => [long, wanted / long],
        2 => like(rest_now(panels, now).unwrap_or([1.0, 1.0])),
        _ => like([long, wide]),
    };
    Some(size.map(whole))
}

/// The size of the rest that is the largest now.
fn rest_now(panels: &[Panel], now: i64) -> Option<[f64; 2]> {
    let mut rests = panels.iter().flat_map(|panel| &panel.rests);
    Some(rests.find(|rest| area(rest.size) == now)?.size.map(f64::from))
}

/// A side in whole tenths.
#[allow(clippy::cast_possible_truncation, reason = "no longer than a sheet")]
fn whole(side: f64) -> i32 {
    side.floor() as i32
}

/// Searches for a plan in which a place of this size stays free, and keeps it.
fn hold_free(search: &mut Search<'_>, size: [i32; 2], steps: u64, useful: i32) -> bool {
    let mut shop = search.state.shop.clone();
    let place = u32::try_from(shop.blocks.len()).unwrap_or(u32::MAX);
    let weight = weight(area(size));
    let content = Content::Parts(vec![usize::MAX]);
    shop.blocks.push(Block { size, may_turn: false, area: area(size), weight, run: None, content });
    let mut state = State::new(&shop);
    state.adopt(&search.best.panels, &[place]);
    state.limit = search.best.cost;
    let mut inner = search.with(state);
    let reached = inner.reach(search.steps + steps);
    (search.steps, search.stopped) = (inner.steps, inner.stopped);
    search.random = inner.random.clone();
    if !reached {
        return false;
    }
    for index in 0..inner.state.panels.len() {
        let held =
            |node: &super::panel::Node| matches!(node.kind, Kind::Block { block, .. } if block == place);
        let found = inner.state.panels[index].nodes.iter().position(held);
        if let Some(link) = found.and_then(|at| u32::try_from(at).ok()) {
            inner.state.take(index, link);
        }
    }
    inner.state.out.retain(|&block| block != place);
    inner.keep();
    let larger = inner.best.out.is_empty()
        && inner.best.cost <= search.best.cost
        && largest(&inner.best, useful) > largest(&search.best, useful);
    if larger {
        search.best = Found { stopped: search.best.stopped, ..inner.best };
    }
    larger
}
