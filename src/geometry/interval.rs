//! A stretch of a line.

/// From one place to another along some direction, mm. Empty where it ends before it
/// begins.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Interval {
    /// Where it begins.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

impl Interval {
    /// A single place.
    #[must_use]
    pub fn at(place: f64) -> Self {
        Self { from: place, to: place }
    }

    /// Between two places, whichever comes first.
    #[must_use]
    pub fn between(a: f64, b: f64) -> Self {
        Self { from: a.min(b), to: a.max(b) }
    }

    /// The least that holds all of some places; `None` if there are none.
    pub fn of(places: impl IntoIterator<Item = f64>) -> Option<Self> {
        places.into_iter().map(Self::at).reduce(Self::hull)
    }

    /// From end to end; below zero if it is empty.
    #[must_use]
    pub fn length(self) -> f64 {
        self.to - self.from
    }

    /// Half way.
    #[must_use]
    pub fn middle(self) -> f64 {
        f64::midpoint(self.from, self.to)
    }

    /// The least that holds both.
    #[must_use]
    pub fn hull(self, other: Self) -> Self {
        Self { from: self.from.min(other.from), to: self.to.max(other.to) }
    }

    /// What is in both; empty where they lie apart.
    #[must_use]
    pub fn common(self, other: Self) -> Self {
        Self { from: self.from.max(other.from), to: self.to.min(other.to) }
    }

    /// Whether the two share more than an end.
    #[must_use]
    pub fn meets(self, other: Self) -> bool {
        self.from < other.to && self.to > other.from
    }

    /// Whether a place is in it, its ends included.
    #[must_use]
    pub fn holds(self, place: f64) -> bool {
        self.from <= place && place <= self.to
    }

    /// The same seen from the other way.
    #[must_use]
    pub fn turned(self) -> Self {
        Self { from: -self.to, to: -self.from }
    }

    /// Longer by as much at either end.
    #[must_use]
    pub fn grown(self, by: f64) -> Self {
        Self { from: self.from - by, to: self.to + by }
    }

    /// Moved along.
    #[must_use]
    pub fn moved(self, by: f64) -> Self {
        Self { from: self.from + by, to: self.to + by }
    }
}

#[cfg(test)]
mod tests {
    use super::Interval;

    #[test]
    fn intervals_join_and_overlap() {
        let (a, b) = (Interval::between(5.0, 1.0), Interval::between(3.0, 9.0));
        assert_eq!(a, Interval { from: 1.0, to: 5.0 });
        assert_eq!(a.hull(b), Interval { from: 1.0, to: 9.0 });
        assert_eq!(a.common(b), Interval { from: 3.0, to: 5.0 });
        assert!(a.meets(b) && !a.meets(Interval::between(5.0, 6.0)));
        assert!(a.holds(5.0) && !a.holds(5.1) && a.holds(1.0) && !a.holds(0.9));
        assert_eq!(Interval::of([2.0, -1.0, 0.5]), Some(Interval { from: -1.0, to: 2.0 }));
        assert_eq!(Interval::of([]), None);
        assert!(a.common(Interval::at(7.0)).length() < 0.0);
        assert_eq!(a.moved(1.0), Interval { from: 2.0, to: 6.0 });
        assert_eq!(a.grown(0.5), Interval { from: 0.5, to: 5.5 });
        assert_eq!(a.turned(), Interval { from: -5.0, to: -1.0 });
        assert!((a.middle() - 3.0).abs() < 1e-12);
    }
}
