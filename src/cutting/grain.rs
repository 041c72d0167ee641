//! Which way parts follow one another whose grain runs on from one to the next.

use crate::joinery::WorkedPart;

/// Whether the parts of a run follow one another along their grain, as the
/// sides and top of a case do, or side by side across it, as doors do. Read
/// from where they stand: seen from one, the next lies further off in the
/// direction the run goes.
pub(super) fn runs_along(members: &[(usize, &WorkedPart)]) -> bool {
    let centre = |part: &WorkedPart| part.at.point(0.5 * part.size);
    let (mut along, mut across) = (0.0, 0.0);
    for pair in members.windows(2) {
        let (a, b) = (pair[0].1, pair[1].1);
        let step = centre(b) - centre(a);
        for part in [a, b] {
            along += part.at.local_dir(step).x.abs();
            across += part.at.local_dir(step).y.abs();
        }
    }
    along >= across
}
