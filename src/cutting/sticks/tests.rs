//! Each step of the search for sticks against trying all, on jobs so small that all can
//! be tried.

use super::knapsack::{Level, Offer, fill, fill_above};
use super::model::{StickJob, StickPart, StickStock};
use super::program::{Pool, Program};
use super::rest::Rest;
use super::shop::{Filled, Shop};
use super::subset::common;
use super::sums::Sums;
use crate::cutting::sheets::seeded::Seeded;

fn job(parts: &[(i64, i64, u32)], sticks: &[(i64, Option<u32>, i64)]) -> StickJob {
    let part = |&(length, mitre, quantity): &(i64, i64, u32)| StickPart {
        id: "part".into(),
        length,
        mitres: [mitre; 2],
        quantity,
    };
    let stick = |&(length, count, cost): &(i64, Option<u32>, i64)| StickStock {
        id: "stick".into(),
        length,
        count,
        cost,
    };
    StickJob {
        parts: parts.iter().map(part).collect(),
        sticks: sticks.iter().map(stick).collect(),
        kerf: 0,
        end_trim: 0,
        may_turn_over: true,
    }
}

fn rest(shop: &Shop) -> Rest<'_> {
    let stock = shop.sticks.iter().map(|stick| stick.count).collect();
    Rest { shop, need: shop.demand(), stock, done: Vec::new() }
}

/// Against every choice of at most three of each of four lengths.
#[test]
fn the_best_filling_is_what_trying_all_finds() {
    let mut random = Seeded::new(3);
    for _ in 0..200 {
        let mut number = |most: usize| i64::try_from(1 + random.below(most)).unwrap();
        let offers: Vec<Offer> = (0..4)
            .map(|kind| Offer {
                kind,
                need: number(40),
                worth: number(400) as f64 / 8.0,
                most: u32::try_from(number(3)).unwrap(),
            })
            .collect();
        let room = number(120);
        let mut most = 0.0_f64;
        for choice in 0..256_u32 {
            let taken = |at: usize| choice >> (2 * at) & 3;
            let used: i64 = offers.iter().map(|o| i64::from(taken(o.kind)) * o.need).sum();
            if used <= room && offers.iter().all(|o| taken(o.kind) <= o.most) {
                most = most.max(offers.iter().map(|o| f64::from(taken(o.kind)) * o.worth).sum());
            }
        }
        let best = fill(offers.clone(), room, 100_000);
        assert!((best.worth - most).abs() < 1e-9, "{offers:?} in {room}: {best:?}, not {most}");
        assert!(best.ceiling - best.worth < 1e-9);
        let used: i64 = best.taken.iter().map(|&(kind, n)| i64::from(n) * offers[kind].need).sum();
        assert!(used <= room, "{best:?}");
        // Rounded to a grid it says no less, and finds the same; above what none is worth it
        // finds none.
        let grid = [Level { cells: 17, looks: 100_000 }];
        let on_grid = fill_above(offers.clone(), room, most / 2.0, &grid);
        assert!((on_grid.worth - most).abs() < 1e-9, "{offers:?} in {room}: {on_grid:?}, not {most}");
        assert!(fill_above(offers.clone(), room, most + 1.0, &grid).taken.is_empty());
        let short = [Level { cells: 17, looks: 1 }];
        assert!(fill_above(offers.clone(), room, 0.0, &short).ceiling >= most - 1e-9);
        // Cut short it still says what no filling is worth more than.
        assert!(fill(offers, room, 2).ceiling >= most - 1e-9);
    }
}

/// A part as long as the stick leaves no room and fits.
#[test]
fn a_stick_may_be_filled_to_its_end() {
    let shop = Shop::new(&job(&[(1000, 0, 1)], &[(1000, None, 1)]));
    let mut plan = rest(&shop);
    plan.fill_all(None);
    assert!(plan.finished());
    assert_eq!(plan.done, [Filled { stick: 0, pattern: vec![1] }]);
}

/// What is cut already is not cut again; the longest still needed is always taken.
#[test]
fn sticks_are_filled_with_what_is_still_needed() {
    let shop = Shop::new(&job(&[(700, 0, 1), (600, 0, 1), (300, 0, 1)], &[(1000, None, 1)]));
    let mut plan = rest(&shop);
    assert!(plan.take(&Filled { stick: 0, pattern: vec![1, 0, 1] }));
    assert!(!plan.take(&Filled { stick: 0, pattern: vec![1, 0, 1] }), "both are cut");
    plan.fill_all(None);
    assert_eq!(plan.done[1], Filled { stick: 0, pattern: vec![0, 1, 0] });
    plan.give_back(&Filled { stick: 0, pattern: vec![0, 1, 0] });
    assert_eq!((plan.needed(1), plan.left()), (1, 600));
}

/// By hand: mitred parts nest, so a stick is shorter by one set-back only; a square
/// part beside them must not be given that room too.
#[test]
fn a_set_back_is_kept_once_to_a_stick() {
    let shop = Shop::new(&job(&[(400, 50, 2), (250, 0, 1)], &[(1000, None, 1)]));
    // Two mitred ones take 350 each and 50 once; 250 more is all that is left.
    let mut plan = rest(&shop);
    plan.fill_all(None);
    assert_eq!(plan.done, [Filled { stick: 0, pattern: vec![2, 1] }]);
    let longer = Shop::new(&job(&[(400, 50, 2), (251, 0, 1)], &[(1000, None, 1)]));
    let mut plan = rest(&longer);
    plan.fill_all(None);
    assert_eq!(plan.done.len(), 2);
    let mut plan = rest(&longer);
    plan.best_fit(0);
    assert_eq!((plan.finished(), plan.done.len()), (true, 2));
}

/// Strong duality (G. Dantzig, Linear Programming and Extensions, 1963): sticks that cut
/// all that is needed, and cost what the bound proves, are the optimum of the program.
#[test]
fn the_program_is_solved_to_its_optimum() {
    let mut random = Seeded::new(5);
    for case in 0..60 {
        let mut number = |least: i64, most: usize| least + i64::try_from(random.below(most)).unwrap();
        let parts: Vec<(i64, i64, u32)> = (0..4)
            .map(|_| {
                (
                    number(150, 500),
                    if case % 3 == 0 { number(0, 60) } else { 0 },
                    1 + u32::try_from(number(0, 9)).unwrap(),
                )
            })
            .collect();
        let few = u32::try_from(number(1, 3)).unwrap();
        let sticks = [(1000, None, 100), (1300, Some(few), 90), (700, None, 75)];
        let shop = Shop::new(&job(&parts, &sticks[..=(case % 3)]));
        let (plan, mut pool) = (rest(&shop), Pool::default());
        let (stock, demand) = (&plan.stock, &plan.need);
        let solved = Program::new(&plan, &pool).solve(&mut pool, &|_| false);
        for (kind, &needed) in demand.iter().enumerate() {
            let cut: f64 = solved.used.iter().map(|(filled, n)| f64::from(filled.pattern[kind]) * n).sum();
            assert!(cut > f64::from(needed) - 1e-6, "{parts:?}: {solved:?}");
        }
        for (at, count) in stock.iter().enumerate() {
            let used: f64 = solved.used.iter().filter(|(f, _)| f.stick == at).map(|(_, n)| n).sum();
            assert!(count.is_none_or(|most| used < f64::from(most) + 1e-6), "{parts:?}: {solved:?}");
        }
        let cost: f64 = solved.used.iter().map(|(f, n)| shop.sticks[f.stick].cost as f64 * n).sum();
        assert!((cost - solved.bound).abs() < 1e-4, "{parts:?}: {cost} is not {}", solved.bound);
        // Columns of one program serve the next.
        let mut again = Program::new(&plan, &pool);
        again.warm(&solved);
        let again = again.solve(&mut pool, &|_| false);
        assert!((again.bound - solved.bound).abs() < 1e-4);
    }
}

/// By hand: ten parts of 300, three to a stick. One stick for 10 is there, the others
/// cost 15: three of it, and seven at 5 each.
#[test]
fn a_stick_of_which_there_is_one_is_used_once() {
    let shop = Shop::new(&job(&[(300, 0, 10)], &[(1000, Some(1), 10), (1000, None, 15)]));
    let solved = Program::new(&rest(&shop), &Pool::default()).solve(&mut Pool::default(), &|_| false);
    assert!((solved.bound - 45.0).abs() < 1e-6, "{solved:?}");
}

/// By hand: of sticks for 6 and for 10 no plan costs 14, 8 or 4; noise is not rounded up.
#[test]
fn bounds_are_rounded_up_to_what_sticks_come_to() {
    let shop = Shop::new(&job(&[(300, 0, 10)], &[(1000, None, 6), (1500, None, 10)]));
    let sums = Sums::new(&shop, 30);
    let up = |bound: f64| sums.up(bound);
    assert_eq!([up(0.0), up(1.0), up(6.1), up(12.000_000_1), up(12.1), up(16.0)], [0, 6, 10, 12, 16, 16]);
    // Beyond what was looked through, to the next even number.
    assert_eq!(up(30.5), 32);
}

#[test]
fn divisors_by_euclid() {
    assert_eq!([common(12, 18), common(18, 12), common(7, 0), common(0, 7), common(35, 64)], [6, 6, 7, 7, 1]);
}
