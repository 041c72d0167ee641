//! What must hold of a plan of sheets after every step of the search, whatever it does.

use super::model::{SheetJob, SheetPart, SheetStock};
use super::panel::{Kind, NONE, Panel};
use super::search::{Search, Terms};
use super::shop::{Shop, area};
use super::state::State;
use std::sync::atomic::AtomicBool;

/// A search by itself that nothing ends.
fn terms(seed: u64, done: &AtomicBool) -> Terms<'_> {
    Terms { seed, place: 0, stop: &|| false, done }
}

/// Parts of a small case, some of which may be turned; two kinds of sheet, of one of
/// which there are two.
fn job(kerf: i64) -> SheetJob {
    let part = |(size, quantity, may_turn)| SheetPart { id: "part".into(), size, quantity, may_turn };
    let sheet = |size, count, cost| SheetStock { id: "sheet".into(), size, count, cost, trim: [10; 4] };
    SheetJob {
        parts: [
            ([700, 300], 6, false),
            ([500, 180], 9, true),
            ([310, 120], 14, true),
            ([900, 90], 5, false),
            ([250, 240], 8, false),
        ]
        .map(part)
        .to_vec(),
        runs: Vec::new(),
        sheets: vec![sheet([2000, 1000], None, 100), sheet([1200, 600], Some(2), 30)],
        kerf,
        levels: Some(4),
        useful_offcut: 100,
    }
}

/// How much narrower a strip could be: what the narrowest slack of its pieces allows.
fn spare(panel: &Panel, strip: u32) -> i32 {
    let (mut least, mut child) = (i32::MAX, panel.node(strip).first);
    while child != NONE {
        let piece = panel.node(child);
        least = least.min(if let Kind::Strip { slack, .. } = piece.kind { slack } else { 0 });
        child = piece.next;
    }
    least
}

/// What lies on a sheet, each as its place in the shop. Pieces fill their strips: along
/// a strip they and its slack are as long as it is, across it all are as wide.
fn lying(shop: &Shop, panel: &Panel) -> Vec<u32> {
    let (mut found, mut covered) = (Vec::new(), 0);
    let mut next = vec![0];
    while let Some(link) = next.pop() {
        let node = panel.node(link);
        match node.kind {
            Kind::Block { block, turned } => {
                assert_eq!(node.size, shop.blocks[block as usize].lying(turned));
                assert!(!turned || shop.blocks[block as usize].may_turn);
                covered += area(node.size);
                found.push(block);
            }
            Kind::Strip { axis, slack } => {
                let mut length = 0;
                let mut child = node.first;
                while child != NONE {
                    let piece = panel.node(child);
                    assert_eq!(
                        (piece.parent, piece.size[axis.other().index()]),
                        (link, node.size[axis.other().index()])
                    );
                    length += piece.size[axis.index()];
                    if let Kind::Strip { axis: across, .. } = piece.kind {
                        assert_eq!(across, axis.other());
                    }
                    next.push(child);
                    child = piece.next;
                }
                assert!(slack >= 0 && length > 0);
                assert_eq!(length + slack, node.size[axis.index()]);
            }
            Kind::Empty => assert_eq!(link, 0),
            Kind::Free => panic!("a node that is not in use hangs in the sheet"),
        }
    }
    assert_eq!(covered + panel.waste, shop.kinds[panel.kind].area);
    found
}

fn holds(state: &State<'_>) {
    let shop = state.shop;
    let open = || state.panels.iter().filter(|panel| panel.open);
    let mut all = state.out.clone();
    open().for_each(|panel| all.extend(lying(shop, panel)));
    for (index, block) in shop.blocks.iter().enumerate() {
        assert_eq!(all.iter().filter(|one| **one as usize == index).count(), block.count());
    }
    for (index, kind) in shop.kinds.iter().enumerate() {
        assert!(open().filter(|panel| panel.kind == index).count() <= kind.count);
    }
    assert_eq!(state.cost, open().map(|panel| shop.kinds[panel.kind].cost).sum::<i64>());
}

#[test]
fn every_step_leaves_a_plan_that_can_be_cut() {
    let done = AtomicBool::new(false);
    for kerf in [0, 32] {
        let shop = Shop::new(&job(kerf));
        let mut search = Search::new(&shop, terms(3, &done));
        holds(&search.state);
        for step in 0..300 {
            search.step(step % 10 == 9);
            holds(&search.state);
            if step % 3 == 0 {
                search.state.undo();
                holds(&search.state);
            }
        }
    }
}

/// Where something is taken out of a strip, what is left sets how wide it is, so that the
/// room comes free at once.
#[test]
fn a_strip_is_no_wider_than_what_is_left_in_it() {
    let shop = Shop::new(&job(0));
    let (mut narrowed, done) = (0, AtomicBool::new(false));
    for seed in 0..12 {
        let search = Search::new(&shop, terms(seed, &done));
        let mut state = search.state.clone();
        for index in 0..state.panels.len() {
            for link in 1..u32::try_from(state.panels[index].nodes.len()).unwrap() {
                let node = *state.panels[index].node(link);
                if !matches!(node.kind, Kind::Block { .. }) || node.parent == 0 {
                    continue;
                }
                let before = state.panels[index].node(node.parent).size;
                state.begin();
                state.take(index, link);
                let strip = state.panels[index].node(node.parent);
                if strip.first != NONE && matches!(strip.kind, Kind::Strip { .. }) {
                    assert_eq!(spare(&state.panels[index], node.parent), 0);
                    narrowed += u32::from(strip.size != before);
                }
                holds(&state);
                state.undo();
                holds(&state);
            }
        }
    }
    assert!(narrowed > 0);
}

/// By hand: 20 parts of 500 by 500 and no kerf fill five sheets of 1000 by 1000 to the
/// last; the first plans find that already.
#[test]
fn the_first_plan_is_no_worse_than_rows() {
    let mut job = job(0);
    job.parts = vec![SheetPart { id: "part".into(), size: [500, 500], quantity: 20, may_turn: false }];
    job.sheets.truncate(1);
    (job.sheets[0].size, job.sheets[0].trim) = ([1000, 1000], [0; 4]);
    let (shop, done) = (Shop::new(&job), AtomicBool::new(false));
    let search = Search::new(&shop, terms(1, &done));
    assert_eq!((search.best.cost, search.best.out.len()), (500, 0));
    assert!(search.best.panels.iter().all(|panel| panel.waste == 0 && panel.largest_rest(1) == 0));
}

/// The usable sheet is 20 less than the whole either way; saw cuts at its edges take
/// nothing of it.
#[test]
fn a_part_as_large_as_the_sheet_fits() {
    let fits = |size| {
        let part = SheetPart { id: "part".into(), size, quantity: 1, may_turn: false };
        let sheet =
            SheetStock { id: "sheet".into(), size: [2000, 1000], count: None, cost: 100, trim: [10; 4] };
        let shop = Shop::new(&SheetJob { parts: vec![part], sheets: vec![sheet], ..job(30) });
        shop.fits(&shop.blocks[0], &shop.kinds[0])
    };
    assert!(fits([1980, 980]) && !fits([1981, 980]) && !fits([1980, 981]));
}
