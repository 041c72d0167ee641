//! Where two parts meet, found from their boxes.

use super::blank::Blank;
use super::seen::Bench;
use super::tolerance::{LEVEL, NOISE, TURNED};
use crate::geometry::DVec3;
use crate::model::{Side, Work};
use crate::problem::Problem;

/// Faces nearer than this touch, mm: under what a plane iron takes, over what
/// rounding of inch sizes leaves.
pub(in crate::joinery) const TOUCH: f64 = 0.02;

/// The word that cuts a step in which other parts lie.
const REBATE: &str = "rebate";

/// How two boxes stand to one another along the direction that keeps them
/// furthest apart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::joinery) struct Meeting {
    /// Out of the second part, towards the first; unit, piece coordinates.
    pub(in crate::joinery) normal: DVec3,
    /// Space between them, mm; negative where they overlap.
    pub(in crate::joinery) gap: f64,
    /// The second part's face: its distance along `normal`.
    pub(in crate::joinery) face: f64,
}

/// A rectangle on a meeting plane, shared by both parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::joinery) struct Rect {
    /// Its middle.
    pub(in crate::joinery) centre: DVec3,
    /// Along its longer side, unit.
    pub(in crate::joinery) along: DVec3,
    /// Along its shorter side, unit.
    pub(in crate::joinery) across: DVec3,
    /// Longer side, mm.
    pub(in crate::joinery) length: f64,
    /// Shorter side, mm.
    pub(in crate::joinery) width: f64,
}

/// The two parts of a joint, in the order its word names them.
#[derive(Clone, Copy, Debug)]
pub(in crate::joinery) struct Pair {
    /// The first.
    pub(in crate::joinery) a: usize,
    /// The second.
    pub(in crate::joinery) b: usize,
}

impl Pair {
    /// Both of them.
    pub(in crate::joinery) fn parts(self) -> [usize; 2] {
        [self.a, self.b]
    }
}

/// How `a` stands to `b`. Of equal directions the faces of `b` come first.
pub(in crate::joinery) fn meeting(a: &Blank, b: &Blank) -> Meeting {
    let mut best: Option<Meeting> = None;
    // Boxes stand apart along an axis of one of them, so the widest gap over all of
    // these is how they meet; `b` first, since joints are cut square to the part that is
    // named as the one to join to.
    for blank in [b, a] {
        for axis in (0..3).map(|i| blank.axis(i)) {
            for normal in [axis, -axis] {
                let face = b.reach(normal).1;
                let gap = a.reach(normal).0 - face;
                if best.is_none_or(|m| gap > m.gap + NOISE) {
                    best = Some(Meeting { normal, gap, face });
                }
            }
        }
    }
    best.unwrap_or(Meeting { normal: DVec3::X, gap: 0.0, face: 0.0 })
}

/// The rectangle two boxes share, looked at along `normal`, on the plane at
/// `face`. `None` if they share none or no edge of both runs that way.
pub(in crate::joinery) fn shared(a: &Blank, b: &Blank, normal: DVec3, face: f64) -> Option<Rect> {
    let n = a.axis_along(normal)?;
    b.axis_along(normal)?;
    let (u, v) = (a.axis((n + 1) % 3), a.axis((n + 2) % 3));
    let range = |along: DVec3| {
        let ((alo, ahi), (blo, bhi)) = (a.reach(along), b.reach(along));
        (alo.max(blo), ahi.min(bhi))
    };
    let (ru, rv) = (range(u), range(v));
    let (lu, lv) = (ru.1 - ru.0, rv.1 - rv.0);
    // Parts that touch along an arris share nothing to be joined on.
    if lu < TOUCH || lv < TOUCH {
        return None;
    }
    let centre = u * (0.5 * (ru.0 + ru.1)) + v * (0.5 * (rv.0 + rv.1)) + normal * face;
    let rect = Rect { centre, along: u, across: v, length: lu, width: lv };
    // Rows of inserts run the longer way, so that is always called along.
    Some(if lu >= lv { rect } else { Rect { along: v, across: u, length: lv, width: lu, ..rect } })
}

/// The side of the piece a direction looks to, nearest.
pub(in crate::joinery) fn side_of(direction: DVec3) -> Side {
    let mut best = Side::Left;
    for side in Side::ALL {
        if side.normal().dot(direction) > best.normal().dot(direction) + TURNED {
            best = side;
        }
    }
    best
}

/// Points a run so that it begins in front, or else below, or else left.
pub(in crate::joinery) fn front_part(run: DVec3) -> f64 {
    [Side::Back, Side::Top, Side::Right]
        .iter()
        .map(|s| run.dot(s.normal()))
        .find(|d| d.abs() > LEVEL)
        .unwrap_or(1.0)
}

impl Bench<'_> {
    /// Parts that touch face to face as placed; else an error with the gap.
    pub(in crate::joinery) fn touching(&self, work: &Work, a: usize, b: usize) -> Result<Meeting, Problem> {
        let m = meeting(&self.placed[a], &self.placed[b]);
        if m.gap > TOUCH {
            return Err(self.apart(work, a, b, m));
        }
        if m.gap < -TOUCH {
            return Err(self.crossing(work, a, b, m));
        }
        Ok(m)
    }

    /// `parts-do-not-meet`.
    pub(in crate::joinery) fn apart(&self, work: &Work, a: usize, b: usize, m: Meeting) -> Problem {
        let (from, to) = (side_of(-m.normal).name(), side_of(m.normal).name());
        let gap = self.mm(m.gap);
        let (first, second) = (self.name(a), self.name(b));
        let message = format!(
            "`{first}` and `{second}` do not meet: the {from} of `{first}` is {gap} from the {to} of `{second}`"
        );
        let help = match self.stands_against(a, b, &m) {
            Some(other) => format!(
                "on that side `{first}` stands against `{}`: name that one, or let `{first}` reach {gap} further",
                self.name(other)
            ),
            None => format!("let `{first}` reach {gap} further, or place it with `between`"),
        };
        self.error(work, "parts-do-not-meet", message, &[a, b]).help(help)
    }

    /// The part that stands in the way of one that is to meet another: to end the first at it
    /// with `between` once more would change nothing.
    fn stands_against(&self, a: usize, b: usize, m: &Meeting) -> Option<usize> {
        let piece = |i: usize| self.job.parts.get(i).map(|part| part.piece);
        let meets = |other: &usize| {
            let [one, its] = [&self.placed[a], &self.placed[*other]];
            let met = meeting(one, its);
            met.gap.abs() < TOUCH
                && met.normal.dot(m.normal) > TURNED
                && shared(one, its, met.normal, met.face).is_some()
        };
        (0..self.placed.len()).filter(|i| ![a, b].contains(i) && piece(*i) == piece(a)).find(meets)
    }

    /// `parts-cross`.
    pub(in crate::joinery) fn crossing(&self, work: &Work, a: usize, b: usize, m: Meeting) -> Problem {
        let (first, second) = (self.name(a), self.name(b));
        let message = format!(
            "`{first}` and `{second}` stand {} into one another, but `{}` joins parts that touch",
            self.mm(-m.gap),
            work.word.name
        );
        let problem = self.error(work, "parts-cross", message, &[a, b]);
        // What lies in a rebate is in the member's box, but not in its wood.
        if self.is_rebated(b) {
            return problem.help(format!(
                "`{second}` has a rebate: name `{first}` among the parts of that `rebate`, after what it holds, and leave this \
                 `{}` out",
                work.word.name
            ));
        }
        problem.help(format!("end `{first}` at the {} of `{second}`", side_of(m.normal).name()))
    }

    /// Whether a rebate is cut in a part.
    fn is_rebated(&self, part: usize) -> bool {
        let cut =
            |work: &Work| work.word.name == REBATE && work.part(1).is_some_and(|member| member.0 == part);
        self.job.works.iter().any(cut)
    }

    /// The rectangle where the grown parts meet on the plane of `m`.
    pub(in crate::joinery) fn contact(
        &self,
        work: &Work,
        a: usize,
        b: usize,
        m: Meeting,
    ) -> Result<Rect, Problem> {
        // Grown, not placed: what stands on the rectangle must meet wood after joints
        // and lippings have moved the faces.
        shared(&self.grown[a], &self.grown[b], m.normal, m.face).ok_or_else(|| {
            let message =
                format!("`{}` and `{}` meet only along an edge or a corner", self.name(a), self.name(b));
            self.error(work, "parts-do-not-meet", message, &[a, b])
                .help("let a whole face of one stand against the other, square to it")
        })
    }
}

/// What housings, grooves and rebates share: parts let into a member.
impl Bench<'_> {
    /// The member that parts are let into: the second argument.
    pub(in crate::joinery) fn member(&self, work: &Work) -> Result<usize, Problem> {
        self.part(work, 1)
    }

    /// The parts let in: the first argument, each checked against the member.
    pub(in crate::joinery) fn held(&self, work: &Work, member: usize) -> Result<Vec<usize>, Problem> {
        self.part(work, 0)?;
        let held: Vec<usize> = work.parts.iter().take(1).flatten().map(|p| p.0).collect();
        for &part in &held {
            if part >= self.placed.len() {
                // No such part: the problem is that of an argument that is missing.
                self.part(work, usize::MAX)?;
            }
            self.check_pair(work, part, member)?;
        }
        Ok(held)
    }

    /// How a part that is let in stands to its member as placed: touching it, or
    /// already reaching in, square to it.
    pub(in crate::joinery) fn let_in(
        &self,
        work: &Work,
        part: usize,
        member: usize,
    ) -> Result<Meeting, Problem> {
        let m = meeting(&self.placed[part], &self.placed[member]);
        if m.gap > TOUCH {
            return Err(self.apart(work, part, member, m));
        }
        let square = |i: usize| self.placed[i].axis_along(m.normal).is_some();
        if square(part) && square(member) {
            return Ok(m);
        }
        let message = format!("`{}` does not meet `{}` squarely", self.name(part), self.name(member));
        Err(self.error(work, "not-square", message, &[part, member]).help(format!(
            "`{}` is cut square to the face; at any lean `dowels` and `loose_tenons` join an end to a face, `housing` lets \
             it in, and `mitre` joins two ends",
            work.word.name
        )))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Placement;

    /// Which way a row runs on a square must not hang on rounding.
    #[test]
    fn what_two_posts_share_runs_along_its_longer_side_and_a_square_along_the_first() {
        let at = |x: f64| Placement { origin: DVec3::X * x, x: DVec3::X, y: DVec3::Y, z: DVec3::Z };
        let run = |width: f64, thick: f64| {
            let post = |x: f64| Blank { at: at(x), size: DVec3::new(100.0, width, thick) };
            shared(&post(0.0), &post(100.0), DVec3::X, 100.0)
                .map(|rect| (rect.along, rect.length, rect.width))
        };
        assert_eq!(run(50.0, 40.0), Some((DVec3::Y, 50.0, 40.0)));
        assert_eq!(run(40.0, 50.0), Some((DVec3::Z, 50.0, 40.0)));
        assert_eq!(run(50.0, 50.0), Some((DVec3::Y, 50.0, 50.0)));
    }
}
