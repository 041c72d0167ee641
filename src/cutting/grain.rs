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

/// Whether the grain of one part of a run lies with the line to its neighbours, or across
/// it; `None` where that line runs through its thickness or as much one way as the other.
pub(super) fn runs_with(members: &[(usize, &WorkedPart)], index: usize) -> Option<bool> {
    let at = members.iter().position(|(part, _)| *part == index)?;
    let centre = |part: &WorkedPart| part.at.point(0.5 * part.size);
    let own = members[at].1;
    let near = [at.checked_sub(1), Some(at + 1)];
    let steps = near.into_iter().flatten().filter_map(|next| members.get(next));
    let (mut along, mut across) = (0.0, 0.0);
    for (_, next) in steps {
        let step = own.at.local_dir(centre(next) - centre(own));
        along += step.x.abs();
        across += step.y.abs();
    }
    let most = f64::max(along, across);
    (most > PLAINLY * f64::min(along, across) + PLAINLY).then_some(along > across)
}

/// How many times further a neighbour lies one way than the other before it is plain which
/// way a run goes; and how far at least, mm.
const PLAINLY: f64 = 2.0;
