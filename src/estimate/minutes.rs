//! Minutes that work takes: what can be set in the rates file, with the usual figure.
//!
//! The table is the one place: the starter is written from it, keys of the file are
//! checked against it, and the lines of an estimate are named by it.

/// Minutes of one kind of work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MinuteRow {
    /// Its table in the file: `cut` stands under `[minutes.cut]`.
    pub table: &'static str,
    /// Its key there.
    pub key: &'static str,
    /// Minutes where the file does not say.
    pub usual: &'static str,
    /// What it is for.
    pub says: &'static str,
}

const fn row(table: &'static str, key: &'static str, usual: &'static str, says: &'static str) -> MinuteRow {
    MinuteRow { table, key, usual, says }
}

/// All rows. The minutes are a small shop's with hand-fed machines (common practice, no
/// source): every shop measures its own.
pub const MINUTES: &[MinuteRow] = &[
    row("job", "setting_out", "60", "drawings read, timber ordered, once for each job"),
    row("part", "sheet", "4", "a part sawn out of a sheet"),
    row("part", "solid", "10", "a part of solid timber sawn out, planed and thicknessed"),
    row("part", "stave", "5", "a board more in a part glued up edge to edge"),
    row("part", "blank", "6", "a blank sawn out and centred for the lathe"),
    row("part", "lipping", "8", "a lipping glued on and trimmed flush"),
    row("set_up", "saw", "5", "fence or stop of the saw set"),
    row("set_up", "angled_saw", "12", "blade tilted or mitre fence turned, with a trial cut"),
    row("set_up", "grooving", "12", "grooving cutter set, with a trial cut"),
    row("set_up", "mortising", "10", "mortiser set"),
    row("set_up", "fine_saw", "2", "fine saw, with its gauge"),
    row("set_up", "biscuits", "5", "biscuit cutter set"),
    row("set_up", "sockets", "25", "finger or dovetail jig set, with a trial joint"),
    row("set_up", "drilling", "6", "drill set"),
    row("set_up", "router", "10", "router set, with a template where one is needed"),
    row("set_up", "lathe", "10", "lathe set up"),
    row("cut", "rip", "1", "sawn to width"),
    row("cut", "crosscut", "1", "sawn to length"),
    row("cut", "straighten", "3", "an edge straightened by a guided saw"),
    row("cut", "square_end", "3", "an end squared by a guided saw"),
    row("cut", "mitre", "2", "a mitre"),
    row("cut", "bevel", "2", "a bevel"),
    row("cut", "taper", "3", "a taper"),
    row("cut", "chamfer", "1.5", "a chamfer, sanded"),
    row("cut", "round-over", "1.5", "a rounded arris, sanded"),
    row("cut", "mortise", "2", "a mortise or a pocket of a loose tenon"),
    row("cut", "open_mortise", "3", "a mortise open at an end"),
    row("cut", "housing", "3", "a housing"),
    row("cut", "groove", "2", "a groove"),
    row("cut", "rebate", "2", "a rebate"),
    row("cut", "shoulder", "2", "a shoulder"),
    row("cut", "halving", "4", "half of a crossing"),
    row("cut", "hole", "1", "a hole"),
    row("cut", "slot", "3", "a slot"),
    row("cut", "notch", "5", "a notch"),
    row("cut", "outline", "15", "a curved outline, sawn and cleaned up"),
    row("cut", "connector_pocket", "2", "a pocket of a connector"),
    row("cut", "access_hole", "1", "an access hole"),
    row("cut", "screw_hole", "0.5", "a screw hole"),
    row("cut", "screw_pocket", "1", "a sloping pocket of a screw"),
    row("cut", "counterbore", "0.5", "a counterbore"),
    row("cut", "dowel_hole", "0.5", "a dowel hole"),
    row("cut", "peg_hole", "1", "a peg hole"),
    row("cut", "biscuit_slot", "0.5", "a biscuit slot"),
    row("cut", "finger_socket", "1", "a socket between fingers"),
    row("cut", "pin_socket", "6", "a socket of a dovetail pin"),
    row("cut", "tail_socket", "6", "a socket of a dovetail"),
    row("cut", "hinge_cup", "2", "a bore for a hinge cup"),
    row("cut", "fitting_hole", "1", "a hole for a fitting"),
    row("cut", "fold_groove", "6", "a V groove that a panel is folded at"),
    row("cut", "profile", "25", "a profile turned"),
    row("cut", "ring", "6", "a ring turned and filled"),
    row("cut", "hollow", "6", "a hollow turned and filled"),
    row("cut", "other", "3", "any other cut"),
    row("assembly", "step", "12", "a step of the assembly: dry fit, glue, clamp, measure"),
    row("assembly", "part", "3", "a part brought in"),
    row("assembly", "fitting", "6", "a hinge, runner, handle or bracket fitted"),
    row("assembly", "fixing", "0.5", "a screw, dowel, tenon or other insert put in"),
    row("finish", "sand", "8", "a square metre sanded with one grit"),
    row("finish", "coat", "10", "a square metre of one coat"),
    row("finish", "rub_down", "4", "a square metre rubbed down between coats"),
    row("install", "visit", "60", "the way there and back, once for each job"),
    row("install", "piece", "30", "a piece carried in, levelled and fixed"),
];

impl MinuteRow {
    /// Its name in an estimate and among what can be overruled: `cut.mortise`.
    pub fn line(&self) -> String {
        format!("{}.{}", self.table, self.key)
    }
}
