//! Threads of inserts and feet, metric and by the inch, with the bores for their inserts.

use super::bore::Bore;
use crate::measure::{INCH, Unit};

/// A thread of an insert or a foot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Thread {
    /// 4 mm.
    M4,
    /// 5 mm.
    M5,
    /// 6 mm.
    M6,
    /// 8 mm.
    M8,
    /// 10 mm.
    M10,
    /// No. 8, 32 threads to the inch.
    No8,
    /// No. 10, 24 threads to the inch.
    No10,
    /// A quarter of an inch, 20 threads to the inch.
    Quarter,
    /// Five sixteenths, 18 threads to the inch.
    FiveSixteenths,
    /// Three eighths, 16 threads to the inch.
    ThreeEighths,
}

impl Thread {
    /// All of them: the metric ones, then those by the inch, the thinnest first.
    pub const ALL: [Self; 10] = [
        Self::M4,
        Self::M5,
        Self::M6,
        Self::M8,
        Self::M10,
        Self::No8,
        Self::No10,
        Self::Quarter,
        Self::FiveSixteenths,
        Self::ThreeEighths,
    ];

    /// The thread of a name such as `M6` or `1/4-20`; `None` if there is none.
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|thread| thread.name() == name)
    }

    /// The name it is sold by.
    pub const fn name(self) -> &'static str {
        match self {
            Self::M4 => "M4",
            Self::M5 => "M5",
            Self::M6 => "M6",
            Self::M8 => "M8",
            Self::M10 => "M10",
            Self::No8 => "8-32",
            Self::No10 => "10-24",
            Self::Quarter => "1/4-20",
            Self::FiveSixteenths => "5/16-18",
            Self::ThreeEighths => "3/8-16",
        }
    }

    /// Diameter of its bolt, mm: a metric thread is named by it (ISO 261), one by the inch
    /// too or by its number (ASME B1.1, coarse threads, from memory).
    pub fn bolt(self) -> f64 {
        match self {
            Self::M4 => 4.0,
            Self::M5 => 5.0,
            Self::M6 => 6.0,
            Self::M8 => 8.0,
            Self::M10 => 10.0,
            Self::No8 => 0.164 * INCH,
            Self::No10 => 0.190 * INCH,
            Self::Quarter => INCH / 4.0,
            Self::FiveSixteenths => 5.0 / 16.0 * INCH,
            Self::ThreeEighths => 3.0 / 8.0 * INCH,
        }
    }

    /// The usual bore in wood for an insert with this thread, mm (common practice, no source;
    /// the insert's maker comes first).
    pub const fn bore(self) -> Bore {
        let (wide, deep) = match self {
            Self::M4 => (6.0, 10.0),
            Self::M5 => (7.0, 12.0),
            Self::M6 => (8.0, 15.0),
            Self::M8 => (10.0, 18.0),
            Self::M10 => (12.0, 22.0),
            Self::No8 => (0.25 * INCH, 0.375 * INCH),
            Self::No10 => (0.3125 * INCH, 0.5 * INCH),
            Self::Quarter => (0.375 * INCH, 0.625 * INCH),
            Self::FiveSixteenths => (0.5 * INCH, 0.75 * INCH),
            Self::ThreeEighths => (0.5625 * INCH, 0.875 * INCH),
        };
        Bore { wide, deep }
    }

    /// The one that a shop in `unit` takes where a metric shop takes this.
    pub fn of(self, unit: Unit) -> Self {
        match (unit, self) {
            (Unit::Mm, _) => self,
            (Unit::Inch, Self::M4) => Self::No8,
            (Unit::Inch, Self::M5) => Self::No10,
            (Unit::Inch, Self::M6) => Self::Quarter,
            (Unit::Inch, Self::M8) => Self::FiveSixteenths,
            (Unit::Inch, Self::M10) => Self::ThreeEighths,
            (Unit::Inch, by_the_inch) => by_the_inch,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_is_found_by_its_name_and_goes_into_its_bore() {
        for thread in Thread::ALL {
            assert_eq!(Thread::named(thread.name()), Some(thread));
            assert!(thread.bore().wide > thread.bolt() + 0.5, "{}", thread.name());
        }
    }

    /// ASME B1.1, from memory: a numbered thread is 0.060 and 0.013 for each number thick.
    #[test]
    fn numbered_threads_are_as_thick_as_their_number_says() {
        for (thread, number) in [(Thread::No8, 8.0), (Thread::No10, 10.0)] {
            assert!((thread.bolt() / INCH - (0.060 + 0.013 * number)).abs() < 1e-9);
        }
    }

    #[test]
    fn an_inch_shop_takes_one_by_the_inch_of_about_the_same_thickness() {
        for thread in Thread::ALL {
            assert!((thread.of(Unit::Inch).bolt() - thread.bolt()).abs() < 0.5, "{}", thread.name());
            assert!(!thread.of(Unit::Inch).name().starts_with('M'));
        }
    }
}
