//! What housings, grooves and rebates share: parts let into a member.

use super::meet::{Meeting, TOUCH, meeting};
use super::seen::Bench;
use crate::model::Work;
use crate::problem::Problem;

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
        let says = format!("`{}` does not meet `{}` squarely", self.name(part), self.name(member));
        Err(self.error(work, "not-square", says, &[part, member]).help(format!(
            "`{}` is cut square to the face; turn one of the parts, or use `mitre`",
            work.word.name
        )))
    }
}
