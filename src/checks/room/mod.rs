//! What the room leaves: the wall, what is lifted onto it, what is scribed to it.

mod corners;
mod lifts;
mod scribed;
mod studs;
mod wall;

use crate::joinery::WorkedJob;
use crate::model::Job;
use crate::problem::Problem;

/// Everything that the room has against a job.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let mut found = wall::check(job, worked);
    found.extend(corners::check(job, worked));
    found.extend(lifts::check(job, worked));
    found.extend(studs::check(job, worked));
    found.extend(scribed::check(job, worked));
    found
}
