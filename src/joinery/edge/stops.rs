//! How far a strip between two parts stops from the ends of where they meet.

use crate::geometry::{DVec3, Interval};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::{LENGTH, Tie};
use crate::model::{OptionSpec, Usual, Work};
use crate::problem::Problem;

/// Stop from both ends.
pub(in crate::joinery) const STOP: OptionSpec = OptionSpec {
    key: "stop",
    kind: LENGTH,
    default: &[Usual::Length(0.0), Usual::Words(": the grooves run through")],
    says: "how far from both ends the grooves and the strip stop",
};

/// Stop from the farther end, where that differs.
pub(in crate::joinery) const FAR_STOP: OptionSpec = OptionSpec {
    key: "far_stop",
    kind: LENGTH,
    default: &[Usual::Words("as `stop`")],
    says: "how far they stop from the end towards the back, the right or the top, where that is not as far, such as \
           before a back in its groove",
};

/// The second is nothing without the first.
pub(in crate::joinery) const STOPS: &[Tie] = &[Tie::Needs("far_stop", &["stop"])];

/// How far a strip stops from the low and the high end of the line it runs along, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::joinery) struct Stops {
    /// From where the line begins.
    pub(in crate::joinery) low: f64,
    /// From where it ends.
    pub(in crate::joinery) high: f64,
}

impl Stops {
    /// The same from both ends.
    pub(in crate::joinery) fn even(stop: f64) -> Self {
        Self { low: stop, high: stop }
    }

    /// As asked for a strip that runs along `run`, unit.
    pub(in crate::joinery) fn asked(work: &Work, run: DVec3) -> Self {
        let stop = work.options.number("stop").unwrap_or(0.0);
        let far = work.options.number("far_stop").unwrap_or(stop);
        // The far end is that towards the back, the right or the top.
        let forward = run.element_sum() >= 0.0;
        if forward { Self { low: stop, high: far } } else { Self { low: far, high: stop } }
    }

    /// Whether it stops at all.
    pub(in crate::joinery) fn any(self) -> bool {
        self.low > 0.0 || self.high > 0.0
    }

    /// Whether it stops at both ends.
    pub(in crate::joinery) fn both(self) -> bool {
        self.low > 0.0 && self.high > 0.0
    }

    /// What both take together, mm.
    pub(in crate::joinery) fn taken(self) -> f64 {
        self.low + self.high
    }

    /// A groove of a stretch that runs out at an end where the strip does not stop.
    pub(in crate::joinery) fn groove(self, whole: Interval, out: Interval) -> Interval {
        let left = self.of(whole);
        let from = if self.low > 0.0 { left.from } else { out.from };
        Interval { from, to: if self.high > 0.0 { left.to } else { out.to } }
    }

    /// What is left of a stretch.
    pub(in crate::joinery) fn of(self, whole: Interval) -> Interval {
        Interval { from: whole.from + self.low, to: whole.to - self.high }
    }

    /// As facts tell it: the nearer stop and the farther, mm; `None` where it runs through.
    pub(in crate::joinery) fn told(self, run: DVec3) -> Option<[f64; 2]> {
        let both = if run.element_sum() >= 0.0 { [self.low, self.high] } else { [self.high, self.low] };
        self.any().then_some(both)
    }

    /// A strip of which nothing is left between parts that meet on `whole` mm.
    pub(in crate::joinery) fn refused(
        self,
        bench: &Bench<'_>,
        work: &Work,
        (a, b): (usize, usize),
        whole: f64,
    ) -> Problem {
        let stops = if (self.low - self.high).abs() > 0.0 {
            format!("{} and {} from its ends", bench.mm(self.low), bench.mm(self.high))
        } else {
            format!("{} from both ends", bench.mm(self.low))
        };
        let message = format!(
            "a tongue stopped {stops} leaves nothing where `{}` and `{}` meet on {}",
            bench.name(a),
            bench.name(b),
            bench.mm(whole)
        );
        bench.error(work, "does-not-fit", message, &[a, b]).help("make `stop` less")
    }
}
