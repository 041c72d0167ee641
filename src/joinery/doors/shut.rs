//! How a door or a drawer's front stands in its case when it is shut.

use crate::geometry::{DVec3, Interval};
use crate::joinery::bench::meet::{Rect, TOUCH, meeting, shared};
use crate::joinery::bench::row::{Ends, SetOut};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::NOISE;
use crate::model::Work;
use crate::problem::Problem;

/// Words that hang a door on the part named second.
const HINGES: [&str; 2] = ["butt_hinges", "cup_hinges"];
/// Widest gap between a leaf and the case part it passes, mm.
const GAP: f64 = 8.0;

/// A leaf, shut, and the case part it passes or shuts against. Piece
/// coordinates, mm.
pub(in crate::joinery) struct Shut {
    /// The door or front.
    pub(in crate::joinery) leaf: usize,
    /// The case part.
    pub(in crate::joinery) case: usize,
    /// Out of the leaf's front.
    pub(in crate::joinery) out: DVec3,
    /// Out of the case part, towards the leaf.
    pub(in crate::joinery) normal: DVec3,
    /// Along the stretch both share.
    pub(in crate::joinery) run: DVec3,
    /// That stretch along `run`.
    pub(in crate::joinery) span: Interval,
    /// The leaf's back, along `out`.
    pub(in crate::joinery) back: f64,
    /// The case part's face, along `normal`.
    pub(in crate::joinery) face: f64,
    /// Space between them.
    pub(in crate::joinery) gap: f64,
    /// The leaf passes the part edge to face; else its back shuts against it.
    pub(in crate::joinery) passes: bool,
    /// Which way along `run` the free edge of a hinged leaf is; none where it is
    /// not hinged at an end of the run.
    pub(in crate::joinery) free: Option<f64>,
}

/// A leaf that does not run along what it shuts against.
pub(in crate::joinery) fn askew(bench: &Bench<'_>, work: &Work, (leaf, case): (usize, usize)) -> Problem {
    let (first, second) = (bench.name(leaf), bench.name(case));
    let message =
        format!("`{first}` stands askew to `{second}`: `{}` wants edges that run alike", work.word.name);
    bench
        .error(work, "not-square", message, &[leaf, case])
        .help("draw the leaf shut, and lean it as what it shuts against leans")
}

/// How the first part of a work stands to the second; a problem where they are
/// apart or in one another.
pub(in crate::joinery) fn shut(bench: &Bench<'_>, work: &Work) -> Result<Shut, Problem> {
    let (leaf, case) = bench.pair(work)?;
    let (door, wall) = (&bench.placed[leaf], &bench.placed[case]);
    if !bench.are_square(leaf, case) {
        return Err(askew(bench, work, (leaf, case)));
    }
    let m = meeting(door, wall);
    if m.gap < -TOUCH {
        return Err(bench.crossing(work, leaf, case, m));
    }
    let found = shared(door, wall, m.normal, m.face).filter(|_| m.gap < GAP);
    let Some(Rect { along, .. }) = found else {
        return Err(bench.apart(work, leaf, case, m));
    };
    // A door whose edge looks at the case swings past it; one whose face does, shuts on
    // it.
    let passes = door.at.z.dot(m.normal).abs() < 0.5;
    let apart = door.at.z.dot(door.centre() - wall.centre());
    let out = if !passes {
        m.normal
    } else if apart < 0.0 {
        -door.at.z
    } else {
        door.at.z
    };
    let run = if passes { out.cross(m.normal) } else { along };
    Ok(Shut {
        leaf,
        case,
        out,
        normal: m.normal,
        run,
        span: door.span(run).common(wall.span(run)),
        back: door.reach(out).0,
        face: m.face,
        gap: m.gap.max(0.0),
        passes,
        free: free(bench, leaf, run),
    })
}

/// How far off the middle of a leaf its frame must stand, as a share of the leaf's width,
/// to be beside it: a part it only crosses tells nothing of the hinged edge.
const BESIDE: f64 = 0.3;

/// Which way along `run` the free edge of a leaf is.
fn free(bench: &Bench<'_>, leaf: usize, run: DVec3) -> Option<f64> {
    let hung = bench
        .job
        .works
        .iter()
        .find(|w| HINGES.contains(&w.word.name) && w.part(0).is_some_and(|p| p.0 == leaf))?;
    let frame = bench.placed.get(hung.part(1)?.0)?;
    let door = &bench.placed[leaf];
    let (lo, hi) = door.reach(run);
    let toward = run.dot(frame.centre() - door.centre());
    (toward.abs() > BESIDE * (hi - lo)).then(|| -toward.signum())
}

impl Shut {
    /// Places along `run` of `count` fittings `inset` from the ends; of one, from
    /// the free edge, or in the middle. A problem where they stand nearer than
    /// `apart` to one another.
    pub(in crate::joinery) fn places(
        &self,
        bench: &Bench<'_>,
        work: &Work,
        (count, inset): (u32, f64),
        apart: f64,
    ) -> Result<Vec<f64>, Problem> {
        let Interval { from: low, to: high } = self.span;
        // The ends count for the outermost on either side, so two insets go off the run.
        let room = high - low - 2.0 * inset;
        if inset < 0.5 * apart - NOISE || room < f64::from(count.max(1) - 1) * apart - NOISE {
            let each = bench.mm(apart);
            let what = if count > 1 {
                format!("{count} fittings of {each}")
            } else {
                format!("a fitting of {each}")
            };
            let message = format!(
                "{what}, {} from the ends: no room on the {} that `{}` and `{}` share",
                bench.mm(inset),
                bench.mm((high - low).max(0.0)),
                bench.name(self.leaf),
                bench.name(self.case)
            );
            return Err(bench
                .error(work, "does-not-fit", message, &[self.leaf, self.case])
                .help("ask for fewer or shorter ones, or change `inset`"));
        }
        Ok(match (count, self.free) {
            // Without hinges both ends are alike, so one stands in the middle.
            (0 | 1, None) => vec![self.span.middle()],
            // At the free edge, where the least force holds the door and the stop does
            // not strain its hinges.
            (0 | 1, Some(way)) if way > 0.0 => vec![high - inset],
            (0 | 1, Some(_)) => vec![low + inset],
            _ => {
                let row = SetOut { length: high - low, count, ends: Ends::Asked(inset), apart };
                row.places(bench).into_iter().map(|at| self.span.middle() + at).collect()
            }
        })
    }

    /// The point on the case part's face behind the leaf's back by `behind`, at
    /// `along`.
    pub(in crate::joinery) fn behind(&self, along: f64, behind: f64) -> DVec3 {
        self.normal * self.face + self.out * (self.back - behind) + self.run * along
    }
}
