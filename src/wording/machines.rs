//! What to take care of at each machine, said beside its settings.

use crate::joinery::Machine;

/// What to take care of at a machine (common practice, no source).
pub fn care(machine: Machine) -> &'static str {
    match machine {
        Machine::SawSquare => {
            "guard and riving knife set, a push stick at the end of a cut, ears and eyes guarded"
        }
        Machine::SawAngled => {
            "blade tilted from the fence, offcuts left till it stands, narrow work in a jig"
        }
        Machine::Grooving => "a push block over the cutter, nothing short or narrow freehand",
        Machine::Mortising | Machine::Biscuits => "work clamped, ears and eyes guarded",
        Machine::Drilling => "work clamped, not held; no gloves, hair and sleeves away",
        Machine::Sockets | Machine::Router => {
            "work clamped, fed against the cutter; small parts while they are long"
        }
        Machine::FineSaw => "work in the vice or against a fence",
        Machine::Lathe => "face shield, no gloves; turned by hand before it is switched on",
    }
}
