//! A worked job looked over, check by check.

use super::{
    apart, bears, clash, collide, cross_grain, fittings, hung, in_wood, inlaid, opening, room, runs_out,
    shelves, shuts, swings, tips, twice, unjoined,
};
use crate::joinery::WorkedJob;
use crate::model::Job;
use crate::problem::{Problem, Severity};

/// Joints that run into one another, of a job of which something else could not be made.
pub fn collisions(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    collide::check(job, worked, &twice::pairs(worked))
}

/// Looks a worked job over, check by check.
pub fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let doubled = twice::pairs(worked);
    let mut found: Vec<Problem> = doubled.iter().map(|pair| twice::told(worked, *pair)).collect();
    let (clashes, collisions) =
        rayon::join(|| clash::check(job, worked), || collide::check(job, worked, &doubled));
    found.extend(clashes);
    found.extend(collisions);
    found.extend(in_wood::check(job, worked));
    found.extend(fittings::check(worked));
    // What leaves the wood leaves nothing to touch either: that is said once.
    let apart = apart::check(worked);
    let is_told =
        |one: &Problem| found.iter().any(|p| p.severity == Severity::Error && p.places == one.places);
    let apart: Vec<Problem> = apart.into_iter().filter(|one| !is_told(one)).collect();
    found.extend(apart);
    found.extend(unjoined::check(job, worked));
    found.extend(runs_out::check(job, worked));
    found.extend(inlaid::check(job, worked));
    found.extend(hung::check(job, worked));
    found.extend(opening::check(job, worked));
    found.extend(room::check(job, worked));
    found.extend(bears::check(job, worked));
    found.extend(swings::check(job, worked));
    found.extend(shuts::check(worked));
    found.extend(shelves::sags::check(job, worked));
    found.extend(shelves::loose::check(job, worked));
    found.extend(cross_grain::check(job, worked));
    found.extend(tips::check(job, worked));
    found
}
