//! Stick plans against the independent checker, exhaustive search, and
//! published optima.

use crate::cutting::checker::stick_faults;
use crate::cutting::instances::{lines, stick_job};
use rodwright::cutting::sticks::{StickJob, StickPart, StickPlan, StickStock, cut_sticks};

/// Steps of a search as the usual effort asks for them.
const STEPS: u64 = 4_000;

fn solve(job: &StickJob) -> StickPlan {
    cut_sticks(job, STEPS, &|| false).unwrap()
}

fn part(id: &str, length: i64, mitre: i64, quantity: u32) -> StickPart {
    StickPart { id: id.to_owned(), length, mitres: [mitre; 2], quantity }
}

fn stick(length: i64, count: Option<u32>, cost: i64) -> StickStock {
    StickStock { id: format!("stick of {length}"), length, count, cost }
}

/// A search ended at once still gives a plan that holds.
#[test]
fn a_search_that_is_stopped_gives_a_plan() {
    for line in lines("furniture_dev_sticks").unwrap().iter().step_by(4) {
        let job = stick_job(line);
        let plan = cut_sticks(&job, STEPS, &|| true).unwrap();
        assert_eq!(stick_faults(&job, &plan), Vec::<String>::new(), "{}", line["name"]);
        assert!(plan.unplaced.is_empty(), "{}", line["name"]);
    }
}

#[test]
fn mitred_frames_nest_to_the_last_tenth() {
    // Four parts of 500 mm with 40 mm set back at both ends and a kerf of 4 mm
    // take 4 x 500 + 3 x 4 - 3 x 40 = 1892 mm when each second is turned over.
    let mut job = StickJob {
        parts: vec![part("stile", 5000, 400, 8)],
        sticks: vec![stick(18920, None, 10)],
        kerf: 40,
        end_trim: 0,
        may_turn_over: true,
    };
    let plan = solve(&job);
    assert_eq!(stick_faults(&job, &plan), Vec::<String>::new());
    assert_eq!((plan.layouts.len(), plan.proven), (2, true));
    assert_eq!(plan.layouts[0].offcut, 0);
    job.sticks[0].length -= 1;
    assert_eq!(solve(&job).layouts.len(), 3);
    job.sticks[0].length += 1;
    job.may_turn_over = false;
    let plan = solve(&job);
    assert_eq!(stick_faults(&job, &plan), Vec::<String>::new());
    assert_eq!(plan.layouts.len(), 3);
    job.may_turn_over = true;
    job.parts.push(part("square", 3000, 0, 3));
    job.parts.push(part("bead", 2500, 150, 3));
    assert_eq!(stick_faults(&job, &solve(&job)), Vec::<String>::new());
}

#[test]
fn checker_finds_damaged_sticks() {
    let job = StickJob {
        parts: vec![part("rail", 5000, 400, 4), part("cleat", 2000, 0, 3)],
        sticks: vec![stick(12000, Some(9), 10)],
        kerf: 40,
        end_trim: 100,
        may_turn_over: true,
    };
    let plan = solve(&job);
    assert_eq!(stick_faults(&job, &plan), Vec::<String>::new());
    let spoil: [fn(&mut StickPlan); 6] = [
        |plan| plan.layouts[0].pieces[1].at -= 1,
        |plan| plan.layouts[0].pieces[1].turned_over ^= true,
        |plan| plan.layouts[0].pieces[0].at -= 1,
        |plan| plan.layouts[0].pieces[0].part = 1,
        |plan| plan.cost -= 1,
        |plan| plan.layouts.truncate(1),
    ];
    for (number, spoil) in spoil.into_iter().enumerate() {
        let mut plan = plan.clone();
        spoil(&mut plan);
        assert!(!stick_faults(&job, &plan).is_empty(), "damage {number} unnoticed");
    }
}

/// The least cost by trying every share-out of at most seven parts.
fn cheapest(job: &StickJob) -> i64 {
    let lengths: Vec<i64> =
        job.parts.iter().flat_map(|part| vec![part.length; part.quantity as usize]).collect();
    let full = (1_usize << lengths.len()) - 1;
    let price = |set: usize| -> Option<i64> {
        let chosen = (0..lengths.len()).filter(|at| set >> at & 1 == 1);
        let total: i64 = chosen.map(|at| lengths[at] + job.kerf).sum::<i64>() - job.kerf;
        let fits = job.sticks.iter().filter(|stick| total <= stick.length - 2 * job.end_trim);
        fits.map(|stick| stick.cost).min()
    };
    let prices: Vec<Option<i64>> = (0..=full).map(price).collect();
    let mut least = vec![0; full + 1];
    for set in 1..=full {
        least[set] = i64::MAX;
        let mut part = set;
        while part > 0 {
            if let Some(price) = prices[part]
                && least[set ^ part] < i64::MAX
            {
                least[set] = least[set].min(price + least[set ^ part]);
            }
            part = (part - 1) & set;
        }
    }
    least[full]
}

/// Against the cheapest of all share-outs.
fn cases_equal_exhaustive_search(cases: std::ops::Range<u64>) {
    let mut state = 99_u64 + cases.start;
    let mut below = |n: u64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        i64::try_from((state >> 33) % n).unwrap()
    };
    for case in cases {
        let mut job = StickJob {
            parts: (0..7).map(|_| part("p", 100 + below(800), 0, 1)).collect(),
            sticks: vec![stick(1000, None, 100)],
            kerf: below(20),
            end_trim: below(20),
            may_turn_over: false,
        };
        if case % 2 == 0 {
            job.sticks.push(stick(1400, None, 130));
        }
        let plan = solve(&job);
        assert_eq!(stick_faults(&job, &plan), Vec::<String>::new());
        if plan.unplaced.is_empty() {
            let exact = cheapest(&job);
            assert!(plan.bound <= exact, "{job:?}");
            assert_eq!(plan.cost, exact, "{job:?}");
        }
    }
}

#[test]
fn a_few_cases_equal_exhaustive_search() {
    cases_equal_exhaustive_search(0..10);
}

#[test]
fn sticks_that_do_not_do_are_told() {
    let mut job = StickJob {
        parts: vec![part("long", 20000, 0, 2), part("short", 3000, 0, 9)],
        sticks: vec![stick(12000, Some(1), 0)],
        kerf: 30,
        end_trim: 0,
        may_turn_over: false,
    };
    let plan = solve(&job);
    assert_eq!(stick_faults(&job, &plan), Vec::<String>::new());
    assert!(
        plan.unplaced[0].reason(|tenths| format!("{} mm", tenths / 10)).contains("800 mm too long"),
        "{:?}",
        plan.unplaced
    );
    assert!(
        plan.unplaced[1].reason(|tenths| format!("{} mm", tenths / 10)).contains("used up"),
        "{:?}",
        plan.unplaced
    );
    job.sticks.clear();
    assert_eq!(stick_faults(&job, &solve(&job)), Vec::<String>::new());
    job.parts[0].length = 0;
    assert!(cut_sticks(&job, STEPS, &|| false).is_err());
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn small_cases_equal_exhaustive_search() {
        cases_equal_exhaustive_search(10..40);
    }

    /// The easy sets come out at their published optimum: Scholl, Klein and Juergens
    /// 1997 (set 1), Schwerin and Waescher 1997.
    #[test]
    fn easy_published_sets_come_out_at_their_optimum() {
        for set in ["1d_scholl1_72", "1d_schwerin40"] {
            for line in lines(set).unwrap().iter().step_by(4) {
                let job = stick_job(line);
                let plan = solve(&job);
                assert_eq!(stick_faults(&job, &plan), Vec::<String>::new());
                assert_eq!(plan.cost, line["opt"].as_i64().unwrap(), "{set} {}", line["name"]);
            }
        }
    }

    /// Five thousand parts of forty lengths: all are cut, and the plan is proven.
    #[test]
    fn five_thousand_parts_come_from_sticks() {
        let job = StickJob {
            parts: (0..40).map(|at| part("p", 3_000 + 137 * at, 0, 125)).collect(),
            sticks: vec![stick(24_000, None, 240), stick(30_000, None, 300)],
            kerf: 32,
            end_trim: 100,
            may_turn_over: true,
        };
        let plan = solve(&job);
        assert_eq!(stick_faults(&job, &plan), Vec::<String>::new());
        assert!(plan.unplaced.is_empty());
        assert!(plan.cost - plan.bound <= 300, "{} against {}", plan.cost, plan.bound);
    }

    #[test]
    fn triplets_of_falkenauer_are_filled_without_a_gap() {
        // Falkenauer 1996; the optimum is a third of the number of parts.
        for line in lines("1d_falkenauer_t60_t120").unwrap().iter().step_by(3) {
            let job = stick_job(line);
            let plan = solve(&job);
            assert_eq!(stick_faults(&job, &plan), Vec::<String>::new());
            let known = line["opt"].as_i64().unwrap();
            assert_eq!((plan.cost, plan.bound), (known, known), "{}", line["name"]);
        }
    }

    /// Where the parts were cut from full sticks the optimum is known; everywhere
    /// the plan is proven to be the cheapest.
    #[test]
    fn furniture_sticks_are_proven_the_cheapest() {
        for line in lines("furniture_dev_sticks").unwrap() {
            let job = stick_job(&line);
            let plan = solve(&job);
            assert_eq!(stick_faults(&job, &plan), Vec::<String>::new(), "{}", line["name"]);
            assert!(plan.proven, "{}: {} against {}", line["name"], plan.cost, plan.bound);
            if let Some(known) = line["known_opt_cost"].as_i64() {
                assert_eq!(plan.cost, known, "{}", line["name"]);
            }
        }
    }
}
