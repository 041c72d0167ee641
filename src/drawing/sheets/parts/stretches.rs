//! The stretches of a part's length that its views leave out.

/// Gap between the two sides of a break, mm on paper.
pub(super) const GAP: f64 = 2.4;

/// How far from a break a note points that belongs in it, mm on paper.
const PULL: f64 = 2.0;

/// A stretch of the length left out of the views, mm of the part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Break {
    /// Where it begins.
    pub(super) from: f64,
    /// Where it ends.
    pub(super) to: f64,
}

/// The stretches left out of the views of a part, rising.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Breaks {
    /// At most three.
    pub(super) of: [Option<Break>; 3],
}

impl Breaks {
    /// Distance on paper of a place on the length from the start of the part,
    /// at `factor`.
    pub(super) fn placed(&self, at: f64, factor: f64) -> f64 {
        let mut left_out = 0.0;
        for one in self.of.iter().flatten() {
            let lost = (one.to - one.from) * factor - GAP;
            if at >= one.to {
                left_out += lost;
            } else if at > one.from {
                // Nothing is drawn in there: a note is told which side to point at.
                let near = at - one.from < one.to - at;
                let side = if near { one.from * factor - PULL } else { one.to * factor - lost + PULL };
                return side - left_out;
            }
        }
        at * factor - left_out
    }

    /// Whether there is none.
    pub(super) fn is_empty(&self) -> bool {
        self.of.iter().all(Option::is_none)
    }
}
