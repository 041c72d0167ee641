//! What of a cut its note prints, so that no row has to.

use crate::geometry::DVec3;
use crate::joinery::CutKind;
use crate::machining::feature::{Feature, Form, SAME, axis_side};

/// Whether a cut is placed by its centre on an axis.
pub(in crate::drawing::sheets::parts) fn centred(kind: CutKind, round: f64) -> bool {
    round > 0.0
        || matches!(
            kind,
            CutKind::Mortise
                | CutKind::ConnectorPocket
                | CutKind::AccessHole
                | CutKind::ScrewHole
                | CutKind::ScrewPocket
                | CutKind::Counterbore
                | CutKind::Countersink
                | CutKind::HingeCup
                | CutKind::FittingHole
                | CutKind::Slot
                | CutKind::Hole
                | CutKind::DowelHole
                | CutKind::PegHole
                | CutKind::Kerf
                | CutKind::BiscuitSlot
        )
}

/// The in-plane axes whose extent the note of a pocket prints, the smaller
/// extent first.
pub(in crate::drawing::sheets::parts) fn printed_axes(feature: &Feature, size: DVec3) -> Vec<usize> {
    let Form::Pocket { min, max, entry, round } = &feature.form else { return Vec::new() };
    // Its note says how far it is cut back, however wide it is, so that no row does.
    if feature.haunch {
        return vec![0];
    }
    let (across, _) = axis_side(*entry);
    let mut axes: Vec<usize> = (0..3).filter(|i| *i != across).collect();
    axes.sort_by(|a, b| (max[*a] - min[*a]).total_cmp(&(max[*b] - min[*b])).then(b.cmp(a)));
    let full = |i: usize| min[i] < SAME && max[i] > size[i] - SAME;
    let both = centred(feature.kind, *round)
        || matches!(feature.kind, CutKind::Notch | CutKind::FingerSocket | CutKind::Moulding);
    if !both {
        axes.truncate(1);
    }
    // The lines of shoulders have a row of their own.
    axes.retain(|i| !(full(*i) || feature.in_line && *i == 0));
    axes
}
