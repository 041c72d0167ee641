//! From the cutting list to the layouts of each section of solid timber.

use super::layouts::{
    Alike, SheetCutting, StickCutting, StickMember, StickRow, in_unit_of, tenths, together,
};
use super::needs::pieces;
use super::sheet_jobs::runs_along;
use super::sticks::{StickJob, StickLayout, StickPart, StickPlan, StickStock, cut_sticks};
use super::{CutRow, CuttingList};
use crate::geometry::{DVec3, trig};
use crate::joinery::{CutKind, Stage, WorkedJob, WorkedPart};
use crate::machining::ends::slope;
use crate::model::{BOARD_LENGTH, Job, Stock, StockId, StockKind};
use crate::problem::Problem;

/// Something to cut as one length.
pub(super) struct Length {
    pub(super) stock: StockId,
    pub(super) member: StickMember,
    /// Sawn thickness it comes from and width ripped for it, mm.
    pub(super) section: (f64, f64),
    /// Least sawn thickness it can come from, mm.
    pub(super) need: f64,
    /// Said where it has to be bought and no board is thick enough.
    pub(super) thin: Option<Problem>,
    pub(super) part: StickPart,
    /// Slope of its steepest end from square, degrees.
    slope: f64,
    /// Whether it has the same section either way up when it is cut off.
    plain: bool,
}

/// The layouts of every section.
pub(super) fn cut_boards(
    job: &Job,
    worked: &WorkedJob,
    list: &CuttingList,
    problems: &mut Vec<Problem>,
) -> (Vec<SheetCutting>, Vec<StickCutting>) {
    let mut lengths = Vec::new();
    let mut taken = vec![0_usize; list.parts.len()];
    for run in runs(job, worked, list) {
        for &row in &run {
            taken[row] += 1;
        }
        lengths.extend(run_length(job, worked, list, &run));
    }
    let parts = list.parts.iter().enumerate().map(|(i, row)| (StickRow::Part(i), row, taken[i]));
    let lippings = list.lippings.iter().enumerate().map(|(i, row)| (StickRow::Lipping(i), row, 0));
    for (which, row, taken) in parts.chain(lippings) {
        lengths.extend(one_length(job, worked, which, row, taken));
    }
    let boards = super::board_jobs::cut_on_hand(job, &mut lengths);
    problems.extend(lengths.iter_mut().filter_map(|length| length.thin.take()));
    (boards, sections(job, worked, list, lengths, problems))
}

/// Grain runs of solid parts that follow one another along their grain, as
/// rows of the list, one for each copy. Parts side by side of one board are
/// left to the maker's eye.
fn runs(job: &Job, worked: &WorkedJob, list: &CuttingList) -> Vec<Vec<usize>> {
    let mut all = Vec::new();
    for run in &job.grain_runs {
        let members: Vec<(usize, &WorkedPart)> =
            run.parts.iter().filter_map(|part| Some((part.0, worked.parts.get(part.0)?))).collect();
        let solid =
            |stock: StockId| matches!(job.stock.get(stock.0).map(|s| &s.kind), Some(StockKind::Board { .. }));
        let Some((_, first)) = members.first() else { continue };
        let one = members.iter().all(|(_, part)| part.stock == first.stock && part.piece == first.piece);
        if !one || !solid(first.stock) || !runs_along(&members) {
            continue;
        }
        let row = |index: &usize| list.parts.iter().position(|row| row.which.contains(index));
        let rows: Vec<usize> = members.iter().filter_map(|(index, _)| row(index)).collect();
        all.extend(std::iter::repeat_n(rows, pieces(job, first.piece.0)));
    }
    all
}

/// The rough size of a row.
fn rough(row: &CutRow) -> [f64; 3] {
    row.rough.unwrap_or([row.length, row.width, row.thickness])
}

/// A run as one length.
fn run_length(job: &Job, worked: &WorkedJob, list: &CuttingList, rows: &[usize]) -> Option<Length> {
    let members: Vec<&CutRow> = rows.iter().map(|&row| &list.parts[row]).collect();
    let first = members.first()?;
    let kerfs = job.cutting.kerf * (members.len() as f64 - 1.0);
    let size = members.iter().map(|row| rough(row)).fold([kerfs, 0.0, 0.0], |all, [long, wide, thick]| {
        [all[0] + long, f64::max(all[1], wide), f64::max(all[2], thick)]
    });
    let stock = worked.parts.get(first.which[0])?.stock;
    let Section { size: section, need, thin, staves } = section(job, stock, first, size, false)?;
    let names: Vec<&str> = members.iter().map(|row| row.name.as_str()).collect();
    let part = StickPart {
        id: names.join(", "),
        length: tenths(size[0]),
        mitres: [0, 0],
        quantity: staves_of(1, staves),
    };
    let rows = rows.iter().map(|&row| StickRow::Part(row)).collect();
    let member = StickMember { rows, staves };
    Some(Length { stock, member, section, need, thin, part, slope: 0.0, plain: false })
}

/// How many lengths so many parts of so many staves take.
fn staves_of(quantity: usize, staves: usize) -> u32 {
    u32::try_from(quantity * staves).unwrap_or(u32::MAX)
}

/// A row of the list as a length, less those cut in runs.
fn one_length(job: &Job, worked: &WorkedJob, which: StickRow, row: &CutRow, taken: usize) -> Option<Length> {
    let part = worked.parts.get(row.which[0])?;
    let quantity = row.quantity.checked_sub(taken).filter(|n| *n > 0)?;
    let size = rough(row);
    let lipping = matches!(which, StickRow::Lipping(_));
    let Section { size: section, need, thin, staves } = section(job, part.stock, row, size, lipping)?;
    // A lipping is glued on square and overlong; its ends are cut with the panel.
    let ends = if lipping { [None, None] } else { [-DVec3::X, DVec3::X].map(|way| slope(part, way)) };
    let mitres = ends.map(|end| end.map_or(0, |end| tenths(end.long - end.short).max(0)));
    let slope = ends.iter().flatten().fold(0.0_f64, |most, end| most.max(end.angle));
    let part_of = StickPart {
        id: row.name.clone(),
        length: tenths(size[0]),
        mitres,
        quantity: staves_of(quantity, staves),
    };
    let member = StickMember { rows: vec![which], staves };
    Some(Length { stock: part.stock, member, section, need, thin, part: part_of, slope, plain: plain(part) })
}

/// Whether a part is a plain bar when it is cut to length: nothing but its ends
/// is worked before the glue-up along its length.
fn plain(part: &WorkedPart) -> bool {
    let profile = |kind| {
        matches!(
            kind,
            CutKind::Rebate | CutKind::Groove | CutKind::Chamfer | CutKind::RoundOver | CutKind::Taper
        )
    };
    !part.cuts.iter().any(|cut| cut.stage == Stage::Loose && profile(cut.kind))
}

/// The section of board a row is cut from.
struct Section {
    /// Sawn thickness and width ripped, mm.
    size: (f64, f64),
    /// Least sawn thickness, mm.
    need: f64,
    /// That no board to be had is so thick.
    thin: Option<Problem>,
    /// How many staves are glued up to its width.
    staves: usize,
}

/// The section of board a row is cut from. `None` for what does not come from
/// boards.
fn section(
    job: &Job,
    stock: StockId,
    row: &CutRow,
    [_, wide, thick]: [f64; 3],
    lipping: bool,
) -> Option<Section> {
    let stock = job.stock.get(stock.0)?;
    let StockKind::Board { thick: sawn, .. } = &stock.kind else { return None };
    let class = |finished: f64| sawn.iter().copied().find(|t| *t + 1e-6 >= finished + job.cutting.planing);
    // A lipping is ripped off the edge of a board as thick as it is wide.
    if lipping && let Some(board) = class(row.width) {
        let need = row.width + job.cutting.planing;
        return Some(Section { size: (board, thick), need, thin: None, staves: 1 });
    }
    let need = row.thickness + job.cutting.planing;
    let class = class(row.thickness);
    let thickest = sawn.last().filter(|_| class.is_none());
    let thin = thickest.map(|thickest| too_thin(job, stock, row, *thickest));
    let board = class.unwrap_or(need);
    let staves = stock.staves(row.width, job.cutting.width);
    if staves == 1 {
        return Some(Section { size: (board, wide), need, thin, staves });
    }
    let section = (board, row.width / staves as f64 + job.cutting.width);
    Some(Section { size: section, need, thin, staves })
}

/// No board is thick enough.
fn too_thin(job: &Job, stock: &Stock, row: &CutRow, thickest: f64) -> Problem {
    let style = crate::measure::LengthStyle::of(job.unit);
    let show = |mm: f64| style.text(mm);
    let need = row.thickness + job.cutting.planing;
    let says = format!(
        "the thickest `{}` is {}; `{}` needs {} with planing",
        stock.name,
        show(thickest),
        row.name,
        show(need)
    );
    Problem::warning("too-thin", says)
        .at(stock.origin)
        .part(row.name.clone())
        .help("name a thicker board in `thick`, or glue the part up of two")
}

/// Groups lengths by section and lays each section out.
fn sections(
    job: &Job,
    worked: &WorkedJob,
    list: &CuttingList,
    lengths: Vec<Length>,
    problems: &mut Vec<Problem>,
) -> Vec<StickCutting> {
    let mut groups: Vec<Vec<Length>> = Vec::new();
    for length in lengths {
        let alike = |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).abs() < 0.05 && (a.1 - b.1).abs() < 0.05;
        match groups.iter_mut().find(|g| g[0].stock == length.stock && alike(g[0].section, length.section)) {
            Some(group) => group.push(length),
            None => groups.push(vec![length]),
        }
    }
    groups.sort_by(|a, b| {
        let key = |g: &[Length]| (g[0].stock, g[0].section);
        let ((s, p), (t, q)) = (key(a), key(b));
        s.cmp(&t).then(q.0.total_cmp(&p.0)).then(q.1.total_cmp(&p.1))
    });
    groups.into_iter().filter_map(|group| cut_section(job, worked, list, group, problems)).collect()
}

/// The layouts of one section.
fn cut_section(
    job: &Job,
    worked: &WorkedJob,
    list: &CuttingList,
    group: Vec<Length>,
    problems: &mut Vec<Problem>,
) -> Option<StickCutting> {
    let (stock, (thick, width)) = group.first().map(|first| (first.stock, first.section))?;
    let declared = job.stock.get(stock.0)?;
    let steepest = group.iter().fold(0.0_f64, |most, length| most.max(length.slope));
    let (_, lean) = trig::sin_cos(steepest.to_radians());
    let may_turn_over = group.iter().all(|length| length.plain);
    let (members, parts): (Vec<StickMember>, Vec<StickPart>) =
        group.into_iter().map(|length| (length.member, length.part)).unzip();
    let task = StickJob {
        parts,
        sticks: board_lengths(declared),
        kerf: tenths(job.cutting.kerf / lean.max(0.1)),
        end_trim: tenths(job.cutting.end_trim),
        may_turn_over,
    };
    let plan = match cut_sticks(&task, &|| false) {
        Ok(plan) => plan,
        Err(bad) => {
            let says = format!("`{}` is not laid out: {}", declared.name, bad.message);
            problems.push(Problem::warning("no-layout", says).at(declared.origin).help(bad.help));
            return None;
        }
    };
    problems.extend(left_out((job, worked), list, declared, &members, &plan));
    let layouts: Vec<Alike<StickLayout>> = together(plan.layouts.clone(), |a, b| a == b);
    Some(StickCutting { stock, name: declared.name.clone(), thick, width, job: task, members, plan, layouts })
}

/// The lengths of board to be had.
fn board_lengths(stock: &Stock) -> Vec<StickStock> {
    let StockKind::Board { lengths, longest, .. } = &stock.kind else { return Vec::new() };
    let usual = [longest.unwrap_or(BOARD_LENGTH)];
    let lengths = if lengths.is_empty() { &usual[..] } else { lengths };
    let stick = |length: &f64| StickStock {
        id: format!("{length}"),
        length: tenths(*length),
        count: None,
        // A longer board costs as much more as it is longer.
        cost: tenths(*length),
    };
    lengths.iter().map(stick).collect()
}

/// What found no place, in words.
fn left_out(
    (job, worked): (&Job, &WorkedJob),
    list: &CuttingList,
    stock: &Stock,
    members: &[StickMember],
    plan: &StickPlan,
) -> Vec<Problem> {
    let say = |gap: &super::sticks::UnplacedStick| {
        let row = members.get(gap.part).and_then(|member| member.rows.first()?.of(list));
        let times = if gap.quantity > 1 { format!(", {} times", gap.quantity) } else { String::new() };
        let says =
            format!("`{}`: {}{times}; it stands on no layout", stock.name, in_unit_of(job, &gap.reason));
        let mut problem = Problem::warning("no-place", says).help(gap.advice.join("; or "));
        if let Some(row) = row {
            problem = problem.part(row.name.clone());
            if let Some(part) = worked.parts.get(row.which[0]) {
                problem = problem.at(part.origin);
            }
        }
        problem
    };
    plan.unplaced.iter().map(say).collect()
}
