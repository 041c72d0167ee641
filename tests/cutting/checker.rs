//! An independent checker of sheet layouts. It shares no code with the solver
//! and works on bare rectangles; the tree it is given is only walked for what
//! it claims.

use rodwright::cutting::sheets::{Axis, Becomes, CutSequence, Fence, Piece, SheetJob, SheetPlan, What};
use rodwright::cutting::sticks::{StickJob, StickPlan};

/// A part as it lies on a sheet.
#[derive(Clone, Debug)]
pub(crate) struct Lying {
    pub(crate) part: usize,
    pub(crate) turned: bool,
    pub(crate) run: Option<(usize, usize)>,
    pub(crate) at: [i64; 2],
    pub(crate) size: [i64; 2],
    pub(crate) levels: usize,
}

/// All parts of a piece; `levels` counts the divided pieces above each.
fn parts_of(piece: &Piece, levels: usize, found: &mut Vec<Lying>) {
    match &piece.what {
        What::Part { part, turned, run } => found.push(Lying {
            part: *part,
            turned: *turned,
            run: run.map(|place| (place.run, place.member)),
            at: piece.at,
            size: piece.size,
            levels,
        }),
        What::Offcut => {}
        What::Divided { pieces, .. } => {
            for inner in pieces {
                parts_of(inner, levels + 1, found);
            }
        }
    }
}

/// The parts on each sheet of a plan.
pub(crate) fn sheets_of(plan: &SheetPlan) -> Vec<(usize, Vec<Lying>)> {
    plan.layouts
        .iter()
        .map(|layout| {
            let mut found = Vec::new();
            parts_of(&layout.usable, 0, &mut found);
            (layout.sheet, found)
        })
        .collect()
}

/// Everything wrong with a plan; empty when it is right.
pub(crate) fn faults(job: &SheetJob, plan: &SheetPlan) -> Vec<String> {
    let mut faults = Vec::new();
    let sheets = sheets_of(plan);
    check_counts(job, plan, &sheets, &mut faults);
    check_stock(job, plan, &sheets, &mut faults);
    for (number, (sheet, parts)) in sheets.iter().enumerate() {
        let mut say = |text: String| faults.push(format!("sheet {}: {text}", number + 1));
        check_sheet(job, *sheet, parts, &mut say);
        check_runs(job, parts, &mut say);
    }
    faults
}

fn check_counts(job: &SheetJob, plan: &SheetPlan, sheets: &[(usize, Vec<Lying>)], faults: &mut Vec<String>) {
    let mut left: Vec<i64> = job.parts.iter().map(|part| i64::from(part.quantity)).collect();
    let mut runs = vec![0_usize; job.runs.len()];
    for part in sheets.iter().flat_map(|(_, parts)| parts) {
        left[part.part] -= 1;
        if let Some((run, _)) = part.run {
            runs[run] += 1;
        }
    }
    for gap in &plan.unplaced {
        gap.parts.iter().for_each(|&part| left[part] -= 1);
        if let Some(run) = gap.run {
            runs[run] += gap.parts.len();
        }
        if gap.reason(|tenths| tenths.to_string()).is_empty() || gap.advice.is_empty() {
            faults.push("a part is left out without a word".to_owned());
        }
    }
    for (part, left) in job.parts.iter().zip(left) {
        if left != 0 {
            faults.push(format!("part {} is cut {left} times too few", part.id));
        }
    }
    for (run, count) in job.runs.iter().zip(runs) {
        if count != run.parts.len() {
            faults.push(format!("run {} has {count} parts", run.id));
        }
    }
}

fn check_stock(job: &SheetJob, plan: &SheetPlan, sheets: &[(usize, Vec<Lying>)], faults: &mut Vec<String>) {
    let mut cost = 0;
    for (index, sheet) in job.sheets.iter().enumerate() {
        let used = sheets.iter().filter(|(kind, _)| *kind == index).count();
        cost += sheet.cost * i64::try_from(used).unwrap();
        if sheet.count.is_some_and(|count| used > count as usize) {
            faults.push(format!("{used} sheets of {} are used", sheet.id));
        }
    }
    if cost != plan.cost {
        faults.push(format!("cost is {cost}, not {}", plan.cost));
    }
    if plan.unplaced.is_empty() && plan.cost < plan.bound {
        faults.push(format!("cost {} is below the bound {}", plan.cost, plan.bound));
    }
    if plan.proven && plan.cost != plan.bound {
        faults.push("proven, but not at the bound".to_owned());
    }
}

fn check_sheet(job: &SheetJob, sheet: usize, parts: &[Lying], say: &mut dyn FnMut(String)) {
    let sheet = &job.sheets[sheet];
    let [left, right, low, high] = sheet.trim;
    let [least, most] = [[left, low], [sheet.size[0] - right, sheet.size[1] - high]];
    for part in parts {
        let wanted = &job.parts[part.part];
        let [x, y] = wanted.size;
        if part.turned && !wanted.may_turn {
            say(format!("part {} lies across its grain", wanted.id));
        }
        if part.size != if part.turned { [y, x] } else { [x, y] } {
            say(format!("part {} is {:?}", wanted.id, part.size));
        }
        for axis in 0..2 {
            if part.at[axis] < least[axis] || part.at[axis] + part.size[axis] > most[axis] {
                say(format!("part {} lies in the trim", wanted.id));
            }
        }
        if job.levels.is_some_and(|levels| part.levels > usize::from(levels)) {
            say(format!("part {} needs {} levels", wanted.id, part.levels));
        }
    }
    for (index, a) in parts.iter().enumerate() {
        for b in &parts[index + 1..] {
            let apart = (0..2).any(|axis| {
                b.at[axis] - (a.at[axis] + a.size[axis]) >= job.kerf
                    && b.at[axis] >= a.at[axis] + a.size[axis]
                    || a.at[axis] - (b.at[axis] + b.size[axis]) >= job.kerf
                        && a.at[axis] >= b.at[axis] + b.size[axis]
            });
            if !apart {
                say(format!("parts at {:?} and {:?} are not a kerf apart", a.at, b.at));
            }
        }
    }
    let boxes: Vec<[i64; 4]> = parts
        .iter()
        .map(|part| [part.at[0], part.at[1], part.at[0] + part.size[0], part.at[1] + part.size[1]])
        .collect();
    if !sawn(&boxes, job.kerf) {
        say("the parts cannot be sawn apart with cuts right across".to_owned());
    }
}

/// Whether cuts right across, a kerf wide, can separate these rectangles.
fn sawn(boxes: &[[i64; 4]], kerf: i64) -> bool {
    if boxes.len() <= 1 {
        return true;
    }
    for axis in 0..2 {
        let mut order = boxes.to_vec();
        order.sort_unstable_by_key(|rect| rect[axis]);
        let mut groups: Vec<Vec<[i64; 4]>> = Vec::new();
        let mut reach = i64::MIN;
        for rect in order {
            let clear = reach > i64::MIN && rect[axis] >= reach + kerf;
            match groups.last_mut() {
                Some(group) if !clear => group.push(rect),
                _ => groups.push(vec![rect]),
            }
            reach = reach.max(rect[axis + 2]);
        }
        if groups.len() > 1 {
            return groups.iter().all(|group| sawn(group, kerf));
        }
    }
    false
}

fn check_runs(job: &SheetJob, parts: &[Lying], say: &mut dyn FnMut(String)) {
    for (index, run) in job.runs.iter().enumerate() {
        let mut members: Vec<&Lying> =
            parts.iter().filter(|part| part.run.is_some_and(|(of, _)| of == index)).collect();
        if members.is_empty() {
            continue;
        }
        members.sort_by_key(|part| part.run);
        let named: Vec<usize> = members.iter().map(|part| part.part).collect();
        if named != run.parts {
            say(format!("run {} has the wrong parts or order", run.id));
            continue;
        }
        // Square parts look the same turned or not, so the whole decides.
        let turned = members.iter().any(|part| part.turned);
        if members.iter().any(|part| part.turned != turned) {
            say(format!("run {} is turned in part", run.id));
        }
        let axis = if turned { run.axis.other() } else { run.axis };
        let (along, across) = if axis == Axis::X { (0, 1) } else { (1, 0) };
        let gap = run.gap.unwrap_or(job.kerf);
        for pair in members.windows(2) {
            if pair[1].at[along] != pair[0].at[along] + pair[0].size[along] + gap {
                say(format!("the parts of run {} do not follow one another", run.id));
            }
            if pair[1].at[across] != pair[0].at[across] {
                say(format!("the parts of run {} are not on one strip", run.id));
            }
        }
    }
}

/// Makes the cuts one after another on a bare panel and compares what lies on
/// the bench in the end with the parts of the layout.
pub(crate) fn saw(bare: [i64; 2], kerf: i64, cuts: &CutSequence, wanted: &[Lying]) -> Vec<String> {
    let mut faults = Vec::new();
    let Some(first) = cuts.panels.first() else {
        return vec!["no panel".to_owned()];
    };
    if first.size != bare {
        faults.push("the first panel is not the sheet".to_owned());
    }
    let mut bench: Vec<Option<([i64; 2], [i64; 2])>> = vec![None; cuts.panels.len()];
    bench[0] = Some(([0, 0], bare));
    for (number, cut) in cuts.cuts.iter().enumerate() {
        let Some((at, size)) = bench[cut.panel].take() else {
            faults.push(format!("cut {number}: panel {} is not there", cut.panel));
            continue;
        };
        let along = usize::from(cut.axis == Axis::Y);
        if cuts.panels[cut.panel].becomes != Becomes::CutUp {
            faults.push(format!("cut {number}: through a finished piece"));
        }
        let blade = match cut.fence {
            Fence::Low => cut.distance,
            Fence::High => size[along] - cut.distance - kerf,
        };
        if cut.distance <= 0 || cut.distance >= size[along] {
            faults.push(format!("cut {number}: the blade misses the panel"));
        }
        let (mut low, mut high) = ((at, size), (at, size));
        low.1[along] = blade.max(0);
        high.0[along] += blade + kerf;
        high.1[along] = (size[along] - blade - kerf).max(0);
        for (made, name) in [(low, cut.low), (high, cut.high)] {
            match name {
                Some(panel) => bench[panel] = Some(made),
                None if made.1[along] > 0 => faults.push(format!("cut {number}: a piece is lost")),
                None => {}
            }
        }
    }
    let mut parts: Vec<(usize, [i64; 2], [i64; 2])> = Vec::new();
    for (panel, lies) in cuts.panels.iter().zip(&bench) {
        if let (Some((at, size)), Becomes::Part(part)) = (lies, panel.becomes) {
            parts.push((part, *at, *size));
        }
        if let (Some(_), Becomes::CutUp) = (lies, panel.becomes) {
            faults.push("a panel is never cut".to_owned());
        }
    }
    let mut expected: Vec<_> = wanted.iter().map(|part| (part.part, part.at, part.size)).collect();
    parts.sort_unstable();
    expected.sort_unstable();
    if parts != expected {
        faults.push("the cuts do not end in the parts of the layout".to_owned());
    }
    faults
}

/// Everything wrong with a stick plan.
pub(crate) fn stick_faults(job: &StickJob, plan: &StickPlan) -> Vec<String> {
    let mut faults = Vec::new();
    let mut left: Vec<i64> = job.parts.iter().map(|part| i64::from(part.quantity)).collect();
    let mut cost = 0;
    for layout in &plan.layouts {
        let stick = &job.sticks[layout.stick];
        cost += stick.cost;
        let mut before: Option<[i64; 2]> = None;
        for piece in &layout.pieces {
            let part = &job.parts[piece.part];
            left[piece.part] -= 1;
            // The outline's two edges: near side, far side.
            let [first, second] = part.mitres;
            let (long, short) =
                ([piece.at, piece.at + part.length], [piece.at + first, piece.at + part.length - second]);
            let edges = if piece.turned_over { [short, long] } else { [long, short] };
            if piece.turned_over && !job.may_turn_over {
                faults.push(format!("part {} is turned over", part.id));
            }
            if piece.at < job.end_trim || piece.at + part.length > stick.length - job.end_trim {
                faults.push(format!("part {} lies in the trim", part.id));
            }
            if let Some(ends) = before
                && edges.iter().zip(ends).any(|(edge, end)| edge[0] - end < job.kerf)
            {
                faults.push(format!("part {} is not a kerf from its neighbour", part.id));
            }
            before = Some([edges[0][1], edges[1][1]]);
        }
    }
    for gap in &plan.unplaced {
        left[gap.part] -= i64::try_from(gap.quantity).unwrap();
        if gap.reason(|tenths| tenths.to_string()).is_empty() || gap.advice.is_empty() {
            faults.push("a part is left out without a word".to_owned());
        }
    }
    for (part, left) in job.parts.iter().zip(left) {
        if left != 0 {
            faults.push(format!("part {} is cut {left} times too few", part.id));
        }
    }
    for (index, stick) in job.sticks.iter().enumerate() {
        let used = plan.layouts.iter().filter(|layout| layout.stick == index).count();
        if stick.count.is_some_and(|count| used > count as usize) {
            faults.push(format!("{used} sticks of {} are used", stick.id));
        }
    }
    if cost != plan.cost || (plan.unplaced.is_empty() && plan.cost < plan.bound) {
        faults.push(format!("cost {cost}, said {}, bound {}", plan.cost, plan.bound));
    }
    faults
}
