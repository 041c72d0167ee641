//! Reading a job critically before anything is cut: what makes no sense is a bad
//! job.

use super::model::{BadJob, SheetJob};
use super::shop::run_size;

/// Longest length the search counts with: 100 m.
const LONGEST: i64 = 1_000_000;
/// Most parts in one job.
const MOST_PARTS: u64 = 100_000;

fn bad<T>(message: String, help: &str) -> Result<T, BadJob> {
    Err(BadJob { message, help: help.to_owned() })
}

/// A length in mm as people read it.
pub(crate) fn mm(length: i64) -> String {
    if length % 10 == 0 {
        format!("{} mm", length / 10)
    } else {
        format!("{}.{} mm", length / 10, length.abs() % 10)
    }
}

/// Finds what makes no sense in a job.
pub(super) fn check(job: &SheetJob) -> Result<(), BadJob> {
    if !(0..=LONGEST).contains(&job.kerf) {
        return bad(
            format!("the kerf is {}", mm(job.kerf)),
            "give the width of the saw cut, for example 3.2 mm",
        );
    }
    if job.levels == Some(0) {
        return bad(
            "no cut is allowed at all".to_owned(),
            "allow at least two levels of cuts: rips, then crosscuts",
        );
    }
    check_parts(job)?;
    check_runs(job)?;
    check_sheets(job)
}

fn check_parts(job: &SheetJob) -> Result<(), BadJob> {
    for part in &job.parts {
        if part.size.iter().any(|side| !(1..=LONGEST).contains(side)) {
            return bad(
                format!("part `{}` is {} by {}", part.id, mm(part.size[0]), mm(part.size[1])),
                "give a length and a width above nothing and below 100 m",
            );
        }
    }
    let total: u64 = job.parts.iter().map(|part| u64::from(part.quantity)).sum();
    if total > MOST_PARTS {
        return bad(format!("{total} parts are too many for one order"), "split the order");
    }
    Ok(())
}

fn check_runs(job: &SheetJob) -> Result<(), BadJob> {
    let mut used = vec![0_u64; job.parts.len()];
    for (index, run) in job.runs.iter().enumerate() {
        if run.parts.is_empty() {
            return bad(format!("grain run `{}` has no parts", run.id), "name its parts in order");
        }
        for &part in &run.parts {
            let Some(count) = used.get_mut(part) else {
                return bad(
                    format!("grain run `{}` names a part that is not in the order", run.id),
                    "name only parts of this order",
                );
            };
            *count += 1;
            if *count > u64::from(job.parts[part].quantity) {
                return bad(
                    format!("grain runs use part `{}` more often than it is needed", job.parts[part].id),
                    "raise its quantity or take it out of a run",
                );
            }
        }
        if run.gap.is_some_and(|gap| gap < job.kerf || gap > LONGEST) {
            return bad(
                format!("the parts of grain run `{}` lie closer than the {} kerf", run.id, mm(job.kerf)),
                "leave at least the kerf between them",
            );
        }
        if run_size(job, index).iter().any(|&side| side > LONGEST) {
            return bad(format!("grain run `{}` is longer than 100 m", run.id), "split the run");
        }
    }
    Ok(())
}

fn check_sheets(job: &SheetJob) -> Result<(), BadJob> {
    for sheet in &job.sheets {
        if sheet.size.iter().any(|side| !(1..=LONGEST).contains(side)) {
            return bad(
                format!("sheet `{}` is {} by {}", sheet.id, mm(sheet.size[0]), mm(sheet.size[1])),
                "give a length and a width above nothing and below 100 m",
            );
        }
        if !(0..=1_000_000_000_000).contains(&sheet.cost) {
            return bad(
                format!("sheet `{}` has an impossible price", sheet.id),
                "give a price of nothing or more",
            );
        }
        let [left, right, low, high] = sheet.trim;
        if sheet.trim.iter().any(|side| !(0..=LONGEST).contains(side))
            || left + right >= sheet.size[0]
            || low + high >= sheet.size[1]
        {
            return bad(format!("the trim of sheet `{}` leaves nothing of it", sheet.id), "trim less");
        }
    }
    Ok(())
}
