//! What the joints need besides the parts: tenons, connectors, screws.

use crate::joinery::{Item, WorkedJob};
use crate::model::Job;

/// One thing to have ready before assembly.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Need {
    /// What it is.
    pub item: Item,
    /// How many in all, for all pieces made.
    pub quantity: usize,
    /// The word that needs it.
    pub joint: &'static str,
    /// Where it goes: `Bottom to Left side`.
    pub places: Vec<String>,
}

/// Everything the joints of the job need, in the order it is first asked for.
pub fn needs(job: &Job, worked: &WorkedJob) -> Vec<Need> {
    let mut list: Vec<Need> = Vec::new();
    for joint in &worked.joints {
        let names: Vec<&str> =
            joint.parts.iter().filter_map(|p| worked.parts.get(*p)).map(|p| p.name.as_str()).collect();
        let made =
            joint.parts.first().and_then(|p| worked.parts.get(*p)).map_or(1, |p| pieces(job, p.piece.0));
        let place = names.join(" to ");
        for insert in &joint.inserts {
            let quantity = insert.at.len() * made;
            match list.iter_mut().find(|need| need.item == insert.item && need.joint == joint.word) {
                Some(need) => {
                    need.quantity += quantity;
                    if !need.places.contains(&place) {
                        need.places.push(place.clone());
                    }
                }
                None => list.push(Need {
                    item: insert.item.clone(),
                    quantity,
                    joint: joint.word,
                    places: vec![place.clone()],
                }),
            }
        }
    }
    list
}

/// How many of piece `piece` are made.
pub(super) fn pieces(job: &Job, piece: usize) -> usize {
    job.pieces.get(piece).map_or(1, |p| p.count as usize)
}
