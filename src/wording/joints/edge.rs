//! In words: edge joints and lippings.

use super::Named;
use crate::geometry::tolerance::NOISE;
use crate::joinery::facts::edge::{EdgeJoint, Lipped, Strip};
use crate::measure::angle;
use crate::wording::Words;

/// What it is called.
pub(super) fn summary(words: Words, facts: &EdgeJoint) -> String {
    match facts {
        EdgeJoint::Butted => "butted and glued".into(),
        EdgeJoint::Lipped(lipped) => lipped_summary(words, lipped),
        EdgeJoint::Layered { .. } => "glued face to face".into(),
        EdgeJoint::Tongued(tongue) => {
            format!("tongue {} × {}", words.figure(tongue.thick), words.length(tongue.long))
        }
        EdgeJoint::LooseTongue { strip, stopped: Some([near, far]) } => {
            let differs = (near - far).abs() > NOISE;
            let far = if differs { format!(" and {}", words.length(*far)) } else { String::new() };
            format!("{}, stopped {}{far}", loose_tongue(words, strip), words.length(*near))
        }
        EdgeJoint::LooseTongue { strip, stopped: None } => loose_tongue(words, strip),
        EdgeJoint::MitredTongue(strip) => format!("{} in the mitre", loose_tongue(words, strip)),
    }
}

/// How it is set.
pub(super) fn setting(words: Words, facts: &EdgeJoint, _named: Named<'_>) -> String {
    match facts {
        EdgeJoint::Butted => String::new(),
        EdgeJoint::Lipped(lipped) => {
            format!("strip {} × {}", words.figure(lipped.thick), words.length(lipped.width))
        }
        EdgeJoint::Layered { oversize } if *oversize > 0.0 => {
            format!("{} over on every edge, trimmed together", words.length(*oversize))
        }
        EdgeJoint::Layered { .. } => "layers cut to size".into(),
        EdgeJoint::Tongued(tongue) => format!(
            "groove {} wide, {} deep; tongue {} long",
            words.figure(tongue.thick),
            words.figure(tongue.deep),
            words.length(tongue.long)
        ),
        EdgeJoint::LooseTongue { strip, .. } => grooves(words, strip),
        EdgeJoint::MitredTongue(strip) => format!("{}, square to the mitre", grooves(words, strip)),
    }
}

/// `6 mm lipping, front, 0.5 mm proud, bevelled 10°`.
fn lipped_summary(words: Words, facts: &Lipped) -> String {
    let mut text = format!("{} lipping, {}", words.length(facts.thick), facts.side.name());
    if let Some(proud) = facts.proud {
        text = format!("{text}, {} proud", words.length(proud));
    }
    if let Some(bevel) = facts.bevel {
        text = format!("{text}, bevelled {}", angle(bevel));
    }
    text
}

/// `loose tongue 6 × 18 mm`.
fn loose_tongue(words: Words, strip: &Strip) -> String {
    format!("loose tongue {} × {}", words.figure(strip.thick), words.length(strip.width))
}

/// `grooves 6 wide, 9.5 mm deep`.
fn grooves(words: Words, strip: &Strip) -> String {
    format!("grooves {} wide, {} deep", words.figure(strip.thick), words.length(strip.deep))
}
