//! Scales: the series, how they read, and choosing one.

use super::look::Look;
use crate::geometry::tolerance::NOISE;
use crate::measure::Unit;

/// Paper mm per model mm, from one of the series.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// Paper size of 1 mm of the model.
    pub factor: f64,
    /// How it reads: `1:10`, `1 1/2″ = 1′-0″`.
    pub name: &'static str,
}

/// ISO 5455, large to small: 1, 2, 5 and their tenfold.
const METRIC: &[Scale] = &[
    Scale { factor: 50.0, name: "50:1" },
    Scale { factor: 20.0, name: "20:1" },
    Scale { factor: 10.0, name: "10:1" },
    Scale { factor: 5.0, name: "5:1" },
    Scale { factor: 2.0, name: "2:1" },
    Scale { factor: 1.0, name: "1:1" },
    Scale { factor: 1.0 / 2.0, name: "1:2" },
    Scale { factor: 1.0 / 5.0, name: "1:5" },
    Scale { factor: 1.0 / 10.0, name: "1:10" },
    Scale { factor: 1.0 / 20.0, name: "1:20" },
    Scale { factor: 1.0 / 50.0, name: "1:50" },
    Scale { factor: 1.0 / 100.0, name: "1:100" },
    Scale { factor: 1.0 / 200.0, name: "1:200" },
    Scale { factor: 1.0 / 500.0, name: "1:500" },
    Scale { factor: 1.0 / 1000.0, name: "1:1000" },
];

/// The scale rule's inches to the foot, large to small, with the enlargements
/// of ASME practice in front.
const IMPERIAL: &[Scale] = &[
    Scale { factor: 8.0, name: "8:1" },
    Scale { factor: 4.0, name: "4:1" },
    Scale { factor: 2.0, name: "2:1" },
    Scale { factor: 1.0, name: "full size" },
    Scale { factor: 1.0 / 2.0, name: "6″ = 1′-0″" },
    Scale { factor: 1.0 / 4.0, name: "3″ = 1′-0″" },
    Scale { factor: 1.0 / 8.0, name: "1 1/2″ = 1′-0″" },
    Scale { factor: 1.0 / 12.0, name: "1″ = 1′-0″" },
    Scale { factor: 1.0 / 16.0, name: "3/4″ = 1′-0″" },
    Scale { factor: 1.0 / 24.0, name: "1/2″ = 1′-0″" },
    Scale { factor: 1.0 / 32.0, name: "3/8″ = 1′-0″" },
    Scale { factor: 1.0 / 48.0, name: "1/4″ = 1′-0″" },
    Scale { factor: 1.0 / 64.0, name: "3/16″ = 1′-0″" },
    Scale { factor: 1.0 / 96.0, name: "1/8″ = 1′-0″" },
    Scale { factor: 1.0 / 128.0, name: "3/32″ = 1′-0″" },
    Scale { factor: 1.0 / 192.0, name: "1/16″ = 1′-0″" },
    Scale { factor: 1.0 / 384.0, name: "1/32″ = 1′-0″" },
];

/// The series `look` draws with, large to small: inches to the foot for inch
/// drawings, else ISO 5455.
pub fn series(look: &Look) -> &'static [Scale] {
    match look.unit {
        Unit::Inch => IMPERIAL,
        Unit::Mm => METRIC,
    }
}

/// What serves where a series should be empty, which none is.
const LEAST: Scale = Scale { factor: 0.001, name: "1:1000" };

/// The smallest scale of the series of `look`.
pub(in crate::drawing) fn smallest(look: &Look) -> Scale {
    series(look).last().copied().unwrap_or(LEAST)
}

impl Scale {
    /// The largest scale of the series of `look`, not above `most`, for which
    /// `fits` says yes; `None` if even the smallest does not fit.
    pub fn largest(look: &Look, most: f64, fits: impl Fn(Scale) -> bool) -> Option<Self> {
        series(look).iter().copied().filter(|s| s.factor <= most * (1.0 + NOISE)).find(|s| fits(*s))
    }

    /// The next smaller scale of the series, if there is one.
    pub fn smaller(self, look: &Look) -> Option<Self> {
        series(look).iter().copied().find(|s| s.factor < self.factor * (1.0 - NOISE))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::page::look::Paper;
    use crate::drawing::page::profile::Profile;

    #[test]
    fn the_metric_series_is_iso_5455() {
        // ISO 5455: 1, 2 and 5 times powers of ten; as given in public tables.
        for scale in METRIC {
            let (a, b) = scale.name.split_once(':').unwrap();
            let (a, b): (f64, f64) = (a.parse().unwrap(), b.parse().unwrap());
            assert!((scale.factor - a / b).abs() < 1e-12, "{}", scale.name);
            let mut n = a.max(b);
            while n >= 10.0 {
                n /= 10.0;
            }
            assert!([1.0, 2.0, 5.0].contains(&n), "{} is not of the series", scale.name);
        }
        assert!(METRIC.windows(2).all(|w| w[0].factor > w[1].factor));
    }

    #[test]
    fn inches_to_the_foot_are_their_ratio() {
        // Architect's scale: n inches to the foot is n / 12; arithmetic.
        let mut seen = 0;
        for scale in IMPERIAL {
            let Some((inches, foot)) = scale.name.split_once("″ = ") else { continue };
            assert_eq!(foot, "1′-0″");
            let value: f64 = inches
                .split(' ')
                .map(|word| match word.split_once('/') {
                    Some((n, d)) => n.parse::<f64>().unwrap() / d.parse::<f64>().unwrap(),
                    None => word.parse().unwrap(),
                })
                .sum();
            assert!((scale.factor - value / 12.0).abs() < 1e-12, "{}", scale.name);
            seen += 1;
        }
        assert_eq!(seen, 13);
        assert!(IMPERIAL.windows(2).all(|w| w[0].factor > w[1].factor));
    }

    #[test]
    fn the_largest_that_fits_is_taken() {
        let look = Look::new(Paper::A3, Unit::Mm, Profile::Iso);
        let scale = Scale::largest(&look, 1.0, |s| 900.0 * s.factor <= 200.0).unwrap();
        assert_eq!(scale.name, "1:5");
        assert_eq!(scale.smaller(&look).unwrap().name, "1:10");
        let look = Look::new(Paper::Letter, Unit::Inch, Profile::Asme);
        let scale = Scale::largest(&look, 1.0, |s| 900.0 * s.factor <= 120.0).unwrap();
        assert_eq!(scale.name, "1 1/2″ = 1′-0″");
        assert!(Scale::largest(&look, 1.0, |_| false).is_none());
    }
}
