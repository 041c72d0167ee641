//! The table: classes x ours, bound, best known, general library.

use crate::layouts_checker::{faults, saw, sheets_of, stick_faults};
use crate::layouts_data::{furniture_job, library, lines, plain_job, stick_job};
use rodwright::cutting::boards::lay_on_boards;
use rodwright::cutting::sheets::{Effort, SheetJob, SheetPart, SheetPlan, SheetStock, cut_sequence, lay_out};
use rodwright::cutting::sticks::cut_sticks;
use std::collections::BTreeMap;
use std::sync::OnceLock;
use std::time::{Duration, Instant};

/// Sum of sheets per class 1 to 10 by Gardeyn and Wauters (EJOR 2022), not
/// turned and turned.
const BEST_KNOWN: [[i64; 10]; 2] = [
    [997, 124, 697, 121, 893, 110, 825, 833, 2130, 503],
    [972, 124, 675, 119, 862, 109, 756, 759, 2119, 491],
];

/// What sums may come to at the most. They are held to where the whole of a published set
/// is solved in as many seconds as they were set for.
mod most {
    /// Shop jobs, settled in half a second each, and with five seconds.
    pub(super) const SHOP: [i64; 2] = [850_000, 848_000];
    /// How many of them there are.
    pub(super) const SHOP_JOBS: usize = 54;
    /// Sheets of the ten classes, parts not turned and turned, in a second each.
    pub(super) const CLASSES: [i64; 2] = [7254, 7003];
    /// The same in ten seconds each.
    pub(super) const CLASSES_LONG: [i64; 2] = [7240, 6990];
    /// Sticks of the published sets, in five seconds each: 2 over the optimum of the
    /// hardest, the others none over what they were.
    pub(super) const STICKS: [(&str, i64); 8] = [
        ("1d_hard28", 1974),
        ("1d_scholl3_10", 562),
        ("1d_falkenauer_u120_u250", 3013),
        ("1d_falkenauer_t60_t120", 1200),
        ("1d_scholl1_72", 7772),
        ("1d_scholl2_48", 2029),
        ("1d_schwerin40", 798),
        ("1d_waescher17", 296),
    ];
    /// Milliseconds to the first answer for sixty solid parts, optimised.
    pub(super) const FIRST_ANSWER: i64 = 50;
    /// Jobs of the shop's own sticks that are proven to cost the least.
    pub(super) const SHOP_STICKS: usize = 18;
    /// Seconds for the classes, for the classes with effort, for the sticks.
    pub(super) const SECONDS: [f64; 3] = [1.0, 10.0, 5.0];
}

/// Steps that settle a shop job in half a second, and that take up to five seconds.
const SHOP_STEPS: [u64; 2] = [100_000, 500_000];

/// Sticks of the shop, and the steps with which they are set out.
const SHOP_STICKS: &str = "furniture_dev_sticks";
const USUAL_STEPS: u64 = 4_000;

struct Run {
    limit: Duration,
    every: usize,
    skip: usize,
    faults: usize,
    /// Classes in which the general library needs fewer sheets.
    worse: usize,
    /// Sums that come to more than they may.
    missed: usize,
}

impl Run {
    fn solve(&mut self, job: &SheetJob) -> SheetPlan {
        self.solve_with(job, Effort { steps: u64::MAX, offcut_steps: 0, seed: 1, searches: 1 }, self.limit)
    }

    /// With so many steps of two searches side by side, so that the phase for the largest
    /// offcut is reached however slow the machine is.
    fn settle(&mut self, job: &SheetJob, steps: u64) -> SheetPlan {
        self.solve_with(job, Effort { steps, searches: 2, ..Effort::default() }, Duration::MAX)
    }

    /// Holds a sum to what it may come to at the most, where the whole set is solved.
    fn hold(&mut self, what: &str, found: i64, most: i64) {
        if self.every == 1 && self.skip == 0 {
            self.hold_any(what, found, most);
        }
    }

    /// Holds a figure that is not of a whole set.
    fn hold_any(&mut self, what: &str, found: i64, most: i64) {
        let word = if found <= most { "HELD" } else { "MISSED" };
        println!("{word} {what}: {found}, at most {most}");
        self.missed += usize::from(found > most);
    }

    /// Whether each instance has as many seconds, or more.
    fn has(&self, seconds: f64) -> bool {
        self.limit >= Duration::from_secs_f64(seconds)
    }

    fn solve_with(&mut self, job: &SheetJob, effort: Effort, limit: Duration) -> SheetPlan {
        let begun = busy();
        let plan = lay_out(job, effort, &|| busy().saturating_sub(begun) > limit).unwrap();
        let mut found = faults(job, &plan);
        for (layout, (sheet, parts)) in plan.layouts.iter().zip(sheets_of(&plan)) {
            let cuts = cut_sequence(job, layout);
            found.extend(saw(job.sheets[sheet].size, job.kerf, &cuts, &parts));
        }
        for fault in &found {
            println!("FAULT {fault}");
        }
        self.faults += found.len();
        plan
    }
}

/// Time this thread has spent on a core, where the system tells it, so that
/// other work on the machine does not count; else time on the wall.
fn busy() -> Duration {
    static START: OnceLock<Instant> = OnceLock::new();
    let start = START.get_or_init(Instant::now);
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok();
    let nanos = told.and_then(|text| text.split(' ').next()?.parse().ok());
    nanos.map_or_else(|| start.elapsed(), Duration::from_nanos)
}

/// Prints the tables named: `table [SECONDS [EVERY [set ...]]]`. Without
/// EVERY each fifth instance is solved, with `FULL=1` in the environment each.
pub(crate) fn print(words: &[String]) {
    let seconds: f64 = words.first().map_or(1.0, |word| word.parse().unwrap());
    let sample = if std::env::var_os("FULL").is_some() { 1 } else { 5 };
    let every: usize = words.get(1).map_or(sample, |word| word.parse().unwrap());
    println!("{seconds} s of one core each; every {every}. instance");
    let skip: usize = std::env::var("SKIP").map_or(0, |word| word.parse().unwrap());
    let mut run =
        Run { limit: Duration::from_secs_f64(seconds), every, skip, faults: 0, worse: 0, missed: 0 };
    let sets = words.get(2..).unwrap_or_default();
    let wants = |set: &str| sets.is_empty() || sets.iter().any(|word| word == set);
    for (set, turn, levels) in
        [("og", false, None), ("rg", true, None), ("og4", false, Some(4)), ("rg4", true, Some(4))]
    {
        if wants(set) {
            classes(&mut run, set, turn, levels);
        }
    }
    if wants("a43") {
        total(&mut run, "2d_furniture_A43");
    }
    if wants("m15") {
        total(&mut run, "2d_vsbpp_M15");
    }
    if wants("dev") {
        for (steps, most) in SHOP_STEPS.into_iter().zip(most::SHOP) {
            furniture(&mut run, steps, most);
        }
    }
    if wants("speed") {
        speed(&mut run);
        solid(&mut run);
    }
    if wants("sticks") {
        sticks(&mut run);
    }
    println!(
        "checker errors: {}; classes worse than the library: {}; sums over the most: {}",
        run.faults, run.worse, run.missed
    );
    if run.faults + run.worse + run.missed > 0 {
        std::process::exit(1);
    }
}

fn classes(run: &mut Run, set: &str, turn: bool, levels: Option<u8>) {
    let Some(lines) = lines("2d_class_500") else {
        println!("SKIPPED {set}: 2d_class_500 is not on this machine");
        return;
    };
    let mut sums: BTreeMap<usize, [i64; 6]> = BTreeMap::new();
    let mut steps = 0;
    for line in lines.iter().skip(run.skip).step_by(run.every) {
        let name = line["name"].as_str().unwrap();
        let class: usize = name[5..7].parse().unwrap();
        let plan = run.solve(&plain_job(line, turn, levels));
        let sum = sums.entry(class).or_default();
        let price = line["bins"][0][3].as_i64().unwrap();
        let [cut, free] = library(name, turn);
        let found = [plan.cost / price, plan.bound / price, i64::from(plan.proven), 1, cut, free];
        sum.iter_mut().zip(found).for_each(|(sum, one)| *sum += one);
        steps += plan.steps;
    }
    println!(
        "| {set} class | instances | ours | bound | proven | library, by saw | not by saw | best known, all 50 |"
    );
    println!("|---|---|---|---|---|---|---|---|");
    let mut all = [0; 6];
    let show = |class: &str, sum: &[i64; 6], best: i64| {
        let [ours, bound, proven, count, cut, free] = sum;
        println!("| {class} | {count} | {ours} | {bound} | {proven} | {cut} | {free} | {best} |");
    };
    for (class, sum) in &sums {
        show(&class.to_string(), sum, BEST_KNOWN[usize::from(turn)][class - 1]);
        (0..6).for_each(|at| all[at] += sum[at]);
        if sum[0] > sum[4] {
            println!("WORSE {set} class {class}: {} sheets, the library {}", sum[0], sum[4]);
            run.worse += 1;
        }
    }
    show("all", &all, BEST_KNOWN[usize::from(turn)].iter().sum());
    println!("our steps {steps}");
    for (seconds, most) in most::SECONDS.into_iter().zip([most::CLASSES, most::CLASSES_LONG]) {
        if run.has(seconds) && levels.is_none() {
            run.hold(&format!("sheets {set} in {seconds} s"), all[0], most[usize::from(turn)]);
        }
    }
}

fn total(run: &mut Run, set: &str) {
    let Some(lines) = lines(set) else {
        println!("SKIPPED {set}: it is not on this machine");
        return;
    };
    let (mut cost, mut bound, mut sheets, mut out, mut steps) = (0, 0, 0, 0, 0);
    for line in lines.iter().skip(run.skip).step_by(run.every) {
        let plan = run.solve(&plain_job(line, false, None));
        cost += plan.cost;
        bound += plan.bound;
        sheets += plan.layouts.len();
        out += plan.unplaced.len();
        steps += plan.steps;
    }
    println!("{set}: sheets {sheets} cost {cost} bound {bound} left out {out} steps {steps}");
}

fn furniture(run: &mut Run, steps: u64, most: i64) {
    let Some(lines) = lines("furniture_dev_sheets") else {
        println!("SKIPPED furniture_dev_sheets: it is not on this machine");
        return;
    };
    let mut families: BTreeMap<String, [i64; 5]> = BTreeMap::new();
    let (mut shares, mut times) = (0.0, Vec::new());
    for line in lines.iter().skip(run.skip).step_by(run.every) {
        let job = furniture_job(line);
        let begun = Instant::now();
        let plan = run.settle(&job, steps);
        times.push(begun.elapsed().as_secs_f64());
        let sum = families.entry(line["family"].as_str().unwrap().to_owned()).or_default();
        sum[0] += plan.cost;
        sum[1] += plan.bound;
        sum[2] += line["known_opt_cost"].as_i64().unwrap_or(plan.cost);
        sum[3] += i64::try_from(plan.unplaced.len()).unwrap();
        sum[4] += i64::from(plan.proven);
        shares += largest_share(&job, &plan);
    }
    println!("furniture: family cost bound known(or ours) left-out proven");
    let mut all = [0; 5];
    for (family, sum) in &families {
        println!("{family:>14} {sum:?}");
        (0..5).for_each(|at| all[at] += sum[at]);
    }
    let (mean, longest) =
        (times.iter().sum::<f64>() / times.len() as f64, times.iter().fold(0.0_f64, |a, b| a.max(*b)));
    println!(
        "all {all:?} mean largest offcut {:.3} of a sheet, up to {steps} steps, mean {mean:.2} s, longest {longest:.2} s",
        shares / times.len() as f64
    );
    if lines.len() == most::SHOP_JOBS {
        run.hold(&format!("shop jobs, {steps} steps"), all[0], most);
    }
}

/// How soon an order of about a hundred parts, with kerf, grain and runs, has
/// its first answer and is settled.
fn speed(run: &mut Run) {
    let Some(lines) = lines("furniture_dev_sheets") else {
        println!("SKIPPED speed: furniture_dev_sheets is not on this machine");
        return;
    };
    let jobs = lines.iter().map(|line| (line["name"].as_str().unwrap(), furniture_job(line)));
    let parts = |job: &SheetJob| job.parts.iter().map(|part| part.quantity).sum::<u32>();
    for (name, job) in jobs.filter(|(_, job)| (80..=130).contains(&parts(job))).take(6) {
        let begun = busy();
        let first =
            lay_out(&job, Effort { steps: 0, offcut_steps: 0, seed: 1, searches: 1 }, &|| false).unwrap();
        let soon = busy().saturating_sub(begun);
        let begun = Instant::now();
        let settled = run.settle(&job, SHOP_STEPS[0]);
        let whole = begun.elapsed();
        println!(
            "{name}, {} parts, {} runs: first answer {:.0} ms at {}, settled {:.2} s at {} (bound {})",
            parts(&job),
            job.runs.len(),
            soon.as_secs_f64() * 1000.0,
            first.cost,
            whole.as_secs_f64(),
            settled.cost,
            settled.bound
        );
    }
}

/// How soon sixty solid parts of thirty sizes have their first answer, on nine kinds of board of 2.4
/// to 3.6 m by 150 to 250 mm.
fn solid(run: &mut Run) {
    let part = |at: i64| SheetPart {
        id: format!("part {at}"),
        // Two numbers without a common divisor with thirty: no two sizes are alike.
        size: [3_000 + at * 7_919 % 9_000, 450 + at * 613 % 900],
        quantity: 2,
        may_turn: false,
    };
    let board = |at: i64| SheetStock {
        id: format!("board {at}"),
        size: [24_000 + at % 3 * 6_000, 1_500 + at / 3 * 500],
        count: None,
        cost: (24 + at % 3 * 6) * (15 + at / 3 * 5),
        trim: [200, 200, 0, 0],
    };
    let job = SheetJob {
        parts: (0..30).map(part).collect(),
        runs: Vec::new(),
        sheets: (0..9).map(board).collect(),
        kerf: 32,
        levels: Some(4),
        useful_offcut: 1_500,
    };
    let first = Effort { steps: 0, offcut_steps: 0, seed: 1, searches: 1 };
    let mut times: Vec<i64> = (0..5)
        .map(|_| {
            let begun = busy();
            let plan = lay_on_boards(&job, first).unwrap().plan;
            run.faults += faults(&job, &plan).len() + plan.unplaced.len();
            i64::try_from(busy().saturating_sub(begun).as_millis()).unwrap()
        })
        .collect();
    times.sort_unstable();
    run.hold_any("ms to the first answer for 60 solid parts", times[2], most::FIRST_ANSWER);
}

/// The largest offcut of a plan as a share of the job's largest sheet.
fn largest_share(job: &SheetJob, plan: &SheetPlan) -> f64 {
    use rodwright::cutting::sheets::{Piece, What};
    fn largest(piece: &Piece, least: i64) -> i64 {
        match &piece.what {
            What::Offcut if piece.size.iter().min().unwrap() >= &least => piece.size[0] * piece.size[1],
            What::Divided { pieces, .. } => {
                pieces.iter().map(|piece| largest(piece, least)).max().unwrap_or(0)
            }
            _ => 0,
        }
    }
    let area = job.sheets.iter().map(|sheet| sheet.size[0] * sheet.size[1]).max().unwrap();
    let most = plan.layouts.iter().map(|layout| largest(&layout.usable, job.useful_offcut)).max();
    most.unwrap_or(0) as f64 / area as f64
}

/// One-dimensional sets: sticks ours, bound, known optimum.
fn sticks(run: &mut Run) {
    for set in [
        SHOP_STICKS,
        "1d_falkenauer_u120_u250",
        "1d_falkenauer_t60_t120",
        "1d_scholl1_72",
        "1d_scholl2_48",
        "1d_scholl3_10",
        "1d_schwerin40",
        "1d_waescher17",
        "1d_hard28",
    ] {
        let Some(lines) = lines(set) else {
            println!("SKIPPED {set}: it is not on this machine");
            continue;
        };
        let (mut cost, mut bound, mut known, mut proven, mut count) = (0, 0, 0, 0, 0);
        let mut false_proofs = 0;
        let begun = busy();
        for line in lines.iter().skip(run.skip).step_by(run.every) {
            let start = busy();
            let limit = run.limit;
            let job = stick_job(line);
            // The shop's own as they are set out, the others as long as there is time.
            let steps = if set == SHOP_STICKS { USUAL_STEPS } else { u64::MAX };
            let plan = cut_sticks(&job, steps, &|| busy().saturating_sub(start) > limit).unwrap();
            let found = stick_faults(&job, &plan);
            for fault in &found {
                println!("FAULT {fault}");
            }
            run.faults += found.len();
            if std::env::var("EACH").is_ok() && !plan.proven {
                println!(
                    "{} {} of {}, {:.2} s",
                    line["name"],
                    plan.cost,
                    plan.bound,
                    busy().saturating_sub(start).as_secs_f64()
                );
            }
            false_proofs += usize::from(line["opt"].as_i64().is_some_and(|opt| plan.bound > opt));
            cost += plan.cost;
            bound += plan.bound;
            known += line["opt"].as_i64().or(line["known_opt_cost"].as_i64()).unwrap_or(plan.cost);
            proven += usize::from(plan.proven);
            count += 1;
        }
        let each = busy().saturating_sub(begun).as_secs_f64() / f64::from(count);
        println!(
            "{set}: ours {cost} bound {bound} known {known} proven {proven} of {count}, {each:.3} s each"
        );
        let held = most::STICKS.into_iter().find(|(name, _)| *name == set && run.has(most::SECONDS[2]));
        if let Some((_, most)) = held {
            run.hold(&format!("sticks of {set}"), cost, most);
        }
        if set == SHOP_STICKS {
            let open = i64::try_from(most::SHOP_STICKS.saturating_sub(proven)).unwrap();
            run.hold("shop sticks not proven", open, 0);
        }
        let false_proofs = i64::try_from(false_proofs).unwrap();
        run.hold(&format!("bounds of {set} over the optimum"), false_proofs, 0);
    }
}
