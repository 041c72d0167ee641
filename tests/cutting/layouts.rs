//! Sheet layouts against an independent checker, exhaustive search of small
//! cases, bounds worked out here, and published figures.

use crate::cutting::checker::{faults, saw, sheets_of};
use crate::cutting::instances::{furniture_job, library, lines, plain_job};
use rodwright::cutting::sheets::{
    Axis, Becomes, Effort, GrainRun, Piece, SheetJob, SheetPart, SheetPlan, SheetStock, What, cut_sequence,
    lay_out,
};

const QUICK: Effort = Effort { steps: 1_500, offcut_steps: 500, seed: 1, searches: 1 };

fn solve(job: &SheetJob, effort: Effort) -> SheetPlan {
    lay_out(job, effort, &|| false).unwrap()
}

/// Everything wrong with a plan, its printed cuts executed too.
fn all_faults(job: &SheetJob, plan: &SheetPlan) -> Vec<String> {
    let mut found = faults(job, plan);
    for (layout, (sheet, parts)) in plan.layouts.iter().zip(sheets_of(plan)) {
        let cuts = cut_sequence(job, layout);
        found.extend(saw(job.sheets[sheet].size, job.kerf, &cuts, &parts));
    }
    found
}

/// A job with runs, both grains, trims and a kerf.
fn bench_job() -> SheetJob {
    let part = |id: &str, x, y, quantity, may_turn| SheetPart {
        id: id.to_owned(),
        size: [x, y],
        quantity,
        may_turn,
    };
    SheetJob {
        parts: vec![
            part("side", 4500, 4000, 2, false),
            part("top", 12000, 4000, 1, false),
            part("shelf", 11600, 3800, 2, false),
            part("drawer front", 5900, 1600, 3, false),
            part("back", 11800, 5000, 1, true),
            part("loose", 3000, 1234, 5, true),
            part("low front", 5900, 1400, 1, false),
        ],
        runs: vec![
            GrainRun { id: "carcase".into(), parts: vec![0, 1, 0], axis: Axis::X, gap: None },
            GrainRun { id: "fronts".into(), parts: vec![3, 6, 3, 3], axis: Axis::Y, gap: Some(60) },
        ],
        sheets: vec![
            SheetStock {
                id: "sheet".into(),
                size: [25000, 12500],
                count: None,
                cost: 9000,
                trim: [100, 50, 20, 80],
            },
            SheetStock { id: "offcut".into(), size: [12500, 9000], count: Some(1), cost: 100, trim: [0; 4] },
        ],
        kerf: 32,
        levels: Some(4),
        useful_offcut: 1500,
    }
}

#[test]
fn runs_kerf_trims_and_offcuts_hold() {
    let job = bench_job();
    let plan = solve(&job, QUICK);
    assert!(plan.unplaced.is_empty(), "{:?}", plan.unplaced);
    assert_eq!(all_faults(&job, &plan), Vec::<String>::new());
    assert!(plan.layouts.iter().any(|layout| layout.sheet == 1), "the offcut on hand is used");
}

#[test]
fn furniture_jobs_pass_the_checker() {
    let all = lines("furniture_dev_sheets").unwrap();
    for line in all.iter().step_by(4) {
        let job = furniture_job(line);
        let plan = solve(&job, Effort { steps: 300, offcut_steps: 100, seed: 3, searches: 1 });
        assert_eq!(all_faults(&job, &plan), Vec::<String>::new(), "{}", line["name"]);
        if let Some(known) = line["known_opt_cost"].as_i64() {
            // Optimum by construction: the parts were cut from full sheets.
            assert!(plan.cost >= known, "{}: better than the optimum", line["name"]);
            assert!(plan.bound <= known, "{}: bound above the optimum", line["name"]);
        }
        let area: i64 =
            job.parts.iter().map(|part| part.size[0] * part.size[1] * i64::from(part.quantity)).sum();
        let cut: i64 =
            plan.layouts.iter().map(|layout| job.sheets[layout.sheet].size.iter().product::<i64>()).sum();
        assert!(area <= cut);
    }
}

#[test]
fn same_seed_same_bytes_shuffled_and_doubled_input() {
    let job = bench_job();
    let plan = solve(&job, QUICK);
    assert_eq!(plan, solve(&job, QUICK));
    let mut turned = job.clone();
    turned.parts.reverse();
    for run in &mut turned.runs {
        run.parts.iter_mut().for_each(|part| *part = 6 - *part);
    }
    let other = solve(&turned, QUICK);
    assert_eq!(all_faults(&turned, &other), Vec::<String>::new());
    let mut twice = job.clone();
    twice.kerf *= 2;
    twice.useful_offcut *= 2;
    twice.parts.iter_mut().for_each(|part| part.size = part.size.map(|side| side * 2));
    twice.runs.iter_mut().for_each(|run| run.gap = run.gap.map(|gap| gap * 2));
    for sheet in &mut twice.sheets {
        sheet.size = sheet.size.map(|side| side * 2);
        sheet.trim = sheet.trim.map(|side| side * 2);
    }
    let doubled = solve(&twice, QUICK);
    assert_eq!(all_faults(&twice, &doubled), Vec::<String>::new());
    assert_eq!(doubled.cost, plan.cost);
    // Without the last phase, whose aims are whole tenths, even the places are.
    let plain = Effort { offcut_steps: 0, ..QUICK };
    let places = |job: &SheetJob, scale: i64| -> Vec<Vec<[i64; 3]>> {
        let plan = solve(job, plain);
        let place = |part: &crate::cutting::checker::Lying| {
            [i64::try_from(part.part).unwrap(), part.at[0] / scale, part.at[1] / scale]
        };
        sheets_of(&plan).iter().map(|(_, parts)| parts.iter().map(place).collect()).collect()
    };
    assert_eq!(places(&twice, 2), places(&job, 1));
}

#[test]
fn shuffled_orders_are_laid_out_as_soundly() {
    let all = lines("furniture_dev_sheets").unwrap();
    let mut state = 7_usize;
    for line in all.iter().step_by(29) {
        let job = furniture_job(line);
        let mut shuffled = job.clone();
        // Where each part went.
        let mut to: Vec<usize> = (0..job.parts.len()).collect();
        for at in (1..to.len()).rev() {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            to.swap(at, (state >> 33) % (at + 1));
        }
        for (from, part) in job.parts.iter().enumerate() {
            shuffled.parts[to[from]] = part.clone();
        }
        for run in &mut shuffled.runs {
            run.parts.iter_mut().for_each(|part| *part = to[*part]);
        }
        let effort = Effort { steps: 300, offcut_steps: 100, seed: 3, searches: 1 };
        let (plan, other) = (solve(&job, effort), solve(&shuffled, effort));
        assert_eq!(all_faults(&shuffled, &other), Vec::<String>::new(), "{}", line["name"]);
        assert_eq!(other.bound, plan.bound, "{}", line["name"]);
        assert_eq!(other.unplaced.len(), plan.unplaced.len(), "{}", line["name"]);
    }
}

/// Changes the first part for which `damage` says it did.
fn damaged(plan: &SheetPlan, damage: &dyn Fn(&mut Piece) -> bool) -> SheetPlan {
    fn walk(piece: &mut Piece, damage: &dyn Fn(&mut Piece) -> bool) -> bool {
        if matches!(piece.what, What::Part { .. }) {
            return damage(piece);
        }
        if let What::Divided { pieces, .. } = &mut piece.what {
            return pieces.iter_mut().any(|inner| walk(inner, damage));
        }
        false
    }
    let mut plan = plan.clone();
    assert!(plan.layouts.iter_mut().any(|layout| walk(&mut layout.usable, damage)), "nothing was damaged");
    plan
}

#[test]
fn checker_finds_every_kind_of_damage() {
    let job = bench_job();
    let plan = solve(&job, QUICK);
    let finds = |plan: &SheetPlan, word: &str| {
        let found = all_faults(&job, plan);
        assert!(found.iter().any(|fault| fault.contains(word)), "{word}: {found:?}");
    };
    finds(
        &damaged(&plan, &|piece| {
            piece.at[0] -= 200;
            true
        }),
        "",
    );
    finds(
        &damaged(&plan, &|piece| {
            piece.size[0] += 1;
            true
        }),
        "is [",
    );
    finds(
        &damaged(&plan, &|piece| {
            piece.at = [-1, 0];
            true
        }),
        "trim",
    );
    finds(
        &damaged(&plan, &|piece| match &mut piece.what {
            What::Part { part, turned, .. } if *part == 2 => {
                *turned = true;
                piece.size.swap(0, 1);
                true
            }
            _ => false,
        }),
        "grain",
    );
    finds(
        &damaged(&plan, &|piece| match &mut piece.what {
            What::Part { part, .. } if *part == 5 => {
                *part = 4;
                true
            }
            _ => false,
        }),
        "too few",
    );
    finds(
        &damaged(&plan, &|piece| match &mut piece.what {
            What::Part { run: Some(place), .. } if place.run == 0 => {
                place.member = 2 - place.member;
                place.member != 1
            }
            _ => false,
        }),
        "run carcase",
    );
    finds(
        &damaged(&plan, &|piece| match &piece.what {
            What::Part { run: Some(place), .. } if place.run == 1 && place.member == 1 => {
                piece.at[0] += 5;
                true
            }
            _ => false,
        }),
        "run fronts",
    );
    finds(
        &damaged(&plan, &|piece| match &mut piece.what {
            What::Part { run, .. } if run.is_some() => {
                *run = None;
                true
            }
            _ => false,
        }),
        "run ",
    );
    let mut cheap = plan.clone();
    cheap.cost -= 1;
    finds(&cheap, "cost is");
    let mut short = plan.clone();
    short.layouts.pop();
    finds(&short, "too few");
    let mut stock = plan.clone();
    let offcut = plan.layouts.iter().find(|layout| layout.sheet == 1).unwrap();
    stock.layouts.push(offcut.clone());
    finds(&stock, "2 sheets of offcut");
    let mut levels = job.clone();
    levels.levels = Some(1);
    assert!(all_faults(&levels, &plan).iter().any(|fault| fault.contains("levels")));
    let mut kerf = job.clone();
    kerf.kerf += 1;
    assert!(all_faults(&kerf, &plan).iter().any(|fault| fault.contains("kerf apart")));
}

#[test]
fn checker_knows_the_pinwheel_and_a_wrong_cut() {
    // Four rectangles round a square: the smallest layout no saw can make.
    let job = bench_job();
    let plan = solve(&job, QUICK);
    let layout = &plan.layouts[0];
    let parts = &sheets_of(&plan)[0].1;
    let right = cut_sequence(&job, layout);
    let sheet = job.sheets[layout.sheet].size;
    assert_eq!(saw(sheet, job.kerf, &right, parts), Vec::<String>::new());
    for number in 0..right.cuts.len() {
        let mut wrong = right.clone();
        wrong.cuts[number].distance += 7;
        assert!(!saw(sheet, job.kerf, &wrong, parts).is_empty(), "cut {number} moved unnoticed");
        let mut lost = right.clone();
        lost.cuts.remove(number);
        let only_trim = right.panels[right.cuts[number].panel].becomes == Becomes::CutUp;
        assert!(
            !only_trim || !saw(sheet, job.kerf, &lost, parts).is_empty(),
            "cut {number} left out unnoticed"
        );
    }
    let corners: [([i64; 2], [i64; 2]); 4] =
        [([0, 0], [3, 2]), ([3, 0], [2, 3]), ([2, 3], [3, 2]), ([0, 2], [2, 3])];
    let pinwheel = SheetJob {
        parts: vec![SheetPart { id: "vane".into(), size: [3, 2], quantity: 4, may_turn: true }],
        runs: Vec::new(),
        sheets: vec![SheetStock { id: "s".into(), size: [5, 5], count: None, cost: 1, trim: [0; 4] }],
        kerf: 0,
        levels: None,
        useful_offcut: 1,
    };
    let vane = |(at, size): ([i64; 2], [i64; 2])| Piece {
        at,
        size,
        what: What::Part { part: 0, turned: size != [3, 2], run: None },
    };
    let mut plan = solve(&pinwheel, QUICK);
    assert_eq!(plan.layouts.len(), 2, "the saw needs a second sheet");
    plan.layouts.truncate(1);
    plan.cost = 1;
    plan.bound = 1;
    plan.layouts[0].usable.what =
        What::Divided { along: Axis::X, pieces: corners.into_iter().map(vane).collect() };
    assert!(faults(&pinwheel, &plan).iter().any(|fault| fault.contains("right across")));
}

#[test]
fn nothing_is_dropped_without_a_word() {
    let mut job = bench_job();
    job.parts[2].size = [26000, 3800];
    let plan = solve(&job, QUICK);
    assert_eq!(plan.unplaced.len(), 2);
    let gap = &plan.unplaced[0];
    assert_eq!(
        gap.reason(|tenths| format!("{} mm", tenths / 10)),
        "part `shelf` is 115 mm too long for sheet `sheet` inside its trims"
    );
    assert!(gap.advice.iter().any(|advice| advice.contains("two pieces")));
    assert_eq!(all_faults(&job, &plan), Vec::<String>::new());
    job.parts[2].size = [3800, 13000];
    let plan = solve(&job, QUICK);
    assert!(plan.unplaced[0].advice[0].contains("grain"), "{:?}", plan.unplaced[0]);
    let mut none = bench_job();
    none.sheets.clear();
    let plan = solve(&none, QUICK);
    assert_eq!(all_faults(&none, &plan), Vec::<String>::new());
    assert_eq!(plan.unplaced.iter().map(|gap| gap.parts.len()).sum::<usize>(), 15);
    let mut few = bench_job();
    few.sheets.remove(0);
    let plan = solve(&few, QUICK);
    assert!(!plan.unplaced.is_empty());
    assert_eq!(all_faults(&few, &plan), Vec::<String>::new());
    let mut wide = bench_job();
    wide.kerf = 5000;
    wide.runs.clear();
    let plan = solve(&wide, QUICK);
    assert_eq!(all_faults(&wide, &plan), Vec::<String>::new());
}

#[test]
fn senseless_jobs_are_refused_in_words() {
    type Spoil = fn(&mut SheetJob);
    let spoil: [(&str, Spoil); 7] = [
        ("price", |job| job.sheets[0].cost = -1),
        ("kerf", |job| job.kerf = -1),
        ("no cut is allowed", |job| job.levels = Some(0)),
        ("leaves nothing", |job| job.sheets[0].trim = [20000, 20000, 0, 0]),
        ("closer than", |job| job.runs[0].gap = Some(1)),
        ("more often", |job| job.parts[0].quantity = 1),
        ("part `top`", |job| job.parts[1].size[0] = 0),
    ];
    for (word, spoil) in spoil {
        let mut job = bench_job();
        spoil(&mut job);
        let bad = lay_out(&job, QUICK, &|| false).unwrap_err();
        assert!(bad.message.contains(word), "{bad:?}");
    }
}

/// Whether parts fit one sheet with cuts right across: every way of dividing
/// the set in two with one cut, down to single parts. Exponential; for at most
/// six parts.
fn fits_one(sheet: [i64; 2], parts: &[[i64; 2]], may_turn: bool) -> bool {
    if parts.is_empty() {
        return true;
    }
    if let [only] = parts {
        let fits = |size: [i64; 2]| size[0] <= sheet[0] && size[1] <= sheet[1];
        return fits(*only) || (may_turn && fits([only[1], only[0]]));
    }
    if parts.iter().map(|part| part[0] * part[1]).sum::<i64>() > sheet[0] * sheet[1] {
        return false;
    }
    for mask in 1..(1_u32 << parts.len()) - 1 {
        let (mut low, mut high) = (Vec::new(), Vec::new());
        for (index, part) in parts.iter().enumerate() {
            if mask >> index & 1 == 1 { low.push(*part) } else { high.push(*part) }
        }
        for axis in 0..2 {
            for cut in 1..sheet[axis] {
                let (mut a, mut b) = (sheet, sheet);
                a[axis] = cut;
                b[axis] = sheet[axis] - cut;
                if fits_one(a, &low, may_turn) && fits_one(b, &high, may_turn) {
                    return true;
                }
            }
        }
    }
    false
}

/// The fewest sheets, by trying every way of sharing the parts out.
fn fewest(sheet: [i64; 2], parts: &[[i64; 2]], may_turn: bool) -> usize {
    let full = (1_usize << parts.len()) - 1;
    let choose = |set: usize| -> Vec<[i64; 2]> {
        parts.iter().enumerate().filter(|(index, _)| set >> index & 1 == 1).map(|(_, part)| *part).collect()
    };
    let fits: Vec<bool> = (0..=full).map(|set| fits_one(sheet, &choose(set), may_turn)).collect();
    let mut need = vec![usize::MAX; full + 1];
    need[0] = 0;
    for set in 1..=full {
        let mut part = set;
        while part > 0 {
            if fits[part] && need[set ^ part] < usize::MAX {
                need[set] = need[set].min(1 + need[set ^ part]);
            }
            part = (part - 1) & set;
        }
    }
    need[full]
}

#[test]
fn small_cases_equal_exhaustive_search() {
    let mut state = 12345_u64;
    let mut below = |n: u64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        i64::try_from((state >> 33) % n).unwrap()
    };
    for case in 0..30 {
        let sheet = [7, 6];
        let parts: Vec<[i64; 2]> = (0..5).map(|_| [1 + below(6), 1 + below(5)]).collect();
        let may_turn = case % 2 == 0;
        let job = SheetJob {
            parts: parts
                .iter()
                .map(|&size| SheetPart { id: "p".into(), size, quantity: 1, may_turn })
                .collect(),
            runs: Vec::new(),
            sheets: vec![SheetStock { id: "s".into(), size: sheet, count: None, cost: 1, trim: [0; 4] }],
            kerf: 0,
            levels: None,
            useful_offcut: 1,
        };
        let plan = solve(&job, Effort { steps: 3_000, offcut_steps: 0, seed: 1, searches: 1 });
        assert_eq!(all_faults(&job, &plan), Vec::<String>::new());
        let exact = i64::try_from(fewest(sheet, &parts, may_turn)).unwrap();
        assert_eq!(plan.cost, exact, "{parts:?}");
        assert!(plan.bound <= exact);
    }
}

#[test]
fn published_classes_stay_between_bound_and_library() {
    // Berkey and Wang 1987, Martello and Vigo 1998, which may not be passed on;
    // our own furniture set is checked above in any case.
    let Some(all) = lines("2d_class_500") else {
        eprintln!("SKIPPED: the published classes are not on this machine");
        return;
    };
    for line in all.iter().step_by(41) {
        let job = plain_job(line, false, None);
        let plan = solve(&job, Effort { steps: 400, offcut_steps: 0, seed: 1, searches: 1 });
        assert_eq!(all_faults(&job, &plan), Vec::<String>::new(), "{}", line["name"]);
        let sheet: i64 = job.sheets[0].size.iter().product();
        let area: i64 =
            job.parts.iter().map(|part| part.size[0] * part.size[1] * i64::from(part.quantity)).sum();
        assert!(plan.bound / 100 >= (area + sheet - 1) / sheet, "bound below the area bound");
    }
}

/// The figures kept of the general library are whole, and no class of them is
/// below the best-known guillotine sums of Gardeyn and Wauters (EJOR 2022), which
/// would mean that some plan of it cannot be cut.
#[test]
fn figures_of_the_general_library_are_whole() {
    let best = [
        [997, 124, 697, 121, 893, 110, 825, 833, 2130, 503],
        [972, 124, 675, 119, 862, 109, 756, 759, 2119, 491],
    ];
    for (turn, best) in [false, true].into_iter().zip(best) {
        for (class, best) in (1..).zip(best) {
            let sizes = [20, 40, 60, 80, 100].into_iter();
            let names = sizes.flat_map(|n| (1..=10).map(move |k| format!("CLASS{class:02}_{n:03}_{k:02}")));
            let sum: i64 = names.map(|name| library(&name, turn)[0]).sum();
            assert!((best..best + best / 5 + 2).contains(&sum), "class {class}: {sum} against {best}");
        }
    }
}

#[test]
fn five_thousand_parts_are_laid_out() {
    let mut job = bench_job();
    job.parts[5].quantity = 5_000;
    let plan = solve(&job, Effort { steps: 20, offcut_steps: 0, seed: 1, searches: 1 });
    assert_eq!(faults(&job, &plan), Vec::<String>::new());
    let stopped = lay_out(&job, Effort::default(), &|| true).unwrap();
    assert!(stopped.stopped);
    assert_eq!(faults(&job, &stopped), Vec::<String>::new());
}

/// Two searches side by side are never dearer than the first of them, and give the same
/// plan each time, whichever is done first.
#[test]
fn searches_side_by_side_are_no_dearer_and_repeat() {
    let (mut alone, mut both) = (0, 0);
    let two = ["mixed-dev-3", "oneoff-dev-2"].map(serde_json::Value::from);
    for line in lines("furniture_dev_sheets").unwrap().iter().filter(|line| two.contains(&line["name"])) {
        let job = furniture_job(line);
        let effort = Effort { steps: 1_000, offcut_steps: 50, seed: 1, searches: 1 };
        let pair = Effort { searches: 3, ..effort };
        let (one, more) = (solve(&job, effort), solve(&job, pair));
        assert!(more.cost <= one.cost, "{}", line["name"]);
        assert_eq!(all_faults(&job, &more), Vec::<String>::new(), "{}", line["name"]);
        assert_eq!(more, solve(&job, pair), "{}", line["name"]);
        (alone, both) = (alone + one.cost, both + more.cost);
    }
    assert!(both < alone, "{both} {alone}: the others find nothing");
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    /// On each of the ten classes never more sheets than the best of the modes of a
    /// general packing library (rectpack 0.2.2) that a saw can cut, turned or not, on
    /// instances drawn here by the rules of Berkey and Wang (1987) and Martello and
    /// Vigo (1998).
    #[test]
    fn no_class_takes_more_sheets_than_a_general_library() {
        let all = lines("2d_classes_by_rule").unwrap();
        assert_eq!(all.len(), 20);
        for turn in [false, true] {
            for class in all.chunks(2) {
                let (mut ours, mut library) = (0, 0);
                for line in class {
                    let job = plain_job(line, turn, Some(4));
                    let plan = solve(&job, Effort { steps: 6_000, offcut_steps: 0, seed: 1, searches: 1 });
                    assert_eq!(all_faults(&job, &plan), Vec::<String>::new(), "{}", line["name"]);
                    ours += i64::try_from(plan.layouts.len()).unwrap();
                    library += line["library"][usize::from(turn)].as_i64().unwrap();
                }
                assert!(ours <= library, "{}: {ours} sheets, the library {library}", class[0]["name"]);
            }
        }
    }
}
