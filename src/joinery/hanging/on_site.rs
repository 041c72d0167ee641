//! Which parts can be left off until the piece stands in its place.

use super::on_wall::OnWall;
use crate::joinery::bench::tolerance::NEARER;
use crate::joinery::bench::worked::{PartSource, WorkedJob, WorkedJoint};
use crate::model::{Job, Scribe, Side};

/// Whether a part, by its index into [`WorkedJob::parts`], is joined so plainly that it may
/// be fixed when the piece stands already: by flat faces, glued or screwed, and by nothing
/// that is let into another part (common practice, no source). Its own lippings count as
/// part of it; what nothing joins is set on site too.
pub fn is_set_on_site(worked: &WorkedJob, part: usize) -> bool {
    let is_lipping = |index: &usize| {
        worked.parts.get(*index).is_some_and(|p| matches!(p.source, PartSource::Lipping { .. }))
    };
    let ties = |joint: &WorkedJoint| {
        // What opens on it is hung on it, and comes with it.
        joint.opens.is_none()
            && joint.parts.contains(&part)
            && joint.parts.iter().filter(|other| !is_lipping(other)).count() > 1
    };
    let cuts =
        |joint: usize| worked.parts.iter().any(|part| part.cuts.iter().any(|cut| cut.joint == Some(joint)));
    worked.joints.iter().enumerate().filter(|(_, joint)| ties(joint)).all(|(index, joint)| {
        let screwed = !joint.glued
            && joint.inserts.iter().all(|insert| insert.item.is_screw() || insert.item.is_plug());
        let flat = if joint.inserts.is_empty() { !cuts(index) } else { screwed };
        flat && !joint.traits.is_layered && !joint.traits.lips
    })
}

/// A piece that does not go between its walls before it is scribed.
#[derive(Clone, Debug, PartialEq)]
pub struct TooWide {
    /// Its parts that are scribed to the walls at its sides and cannot come last: indices
    /// into [`WorkedJob::parts`], the left one first.
    pub parts: Vec<usize>,
    /// How wide it is with what is left on them, mm.
    pub wide: f64,
    /// How far apart the walls stand where they are nearest, mm.
    pub room: f64,
}

/// Whether a piece is too wide for its wall as long as the strips to be scribed are left on
/// those of its parts that cannot be fixed last.
pub fn too_wide_to_set(job: &Job, worked: &WorkedJob, place: &OnWall) -> Option<TooWide> {
    let site = job.site.as_ref()?;
    let of = |side: Side| {
        let here = move |one: &&Scribe| {
            let piece = worked.parts.get(one.part.0).map(|part| part.piece);
            one.side == side && piece == Some(place.piece) && !is_set_on_site(worked, one.part.0)
        };
        job.scribes.iter().filter(here)
    };
    let sides = [Side::Left, Side::Right];
    let left_on = |side: Side| of(side).map(|one| one.allow).fold(0.0, f64::max);
    let wide = place.high.x - place.low.x + sides.into_iter().map(left_on).sum::<f64>();
    let (room, _) = site.narrowest(place.low.y, place.high.y);
    let mut parts: Vec<usize> = sides.into_iter().flat_map(of).map(|one| one.part.0).collect();
    parts.dedup();
    (!parts.is_empty() && wide > room + NEARER).then_some(TooWide { parts, wide, room })
}
