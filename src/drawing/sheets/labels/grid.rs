//! Label papers: how many labels stand on a sheet, and where.

use kurbo::Rect;

use crate::drawing::page::look::PaperSeries;
use crate::geometry::tolerance::NOISE;

/// A sheet of labels in columns and rows, and what has one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LabelGrid {
    series: PaperSeries,
    columns: usize,
    rows: usize,
    /// Whether lippings have labels too.
    pub(super) lippings: bool,
}

/// Columns and rows of a paper on sale, then in mm: width and height of a label,
/// left and upper margin, gap between columns.
type Known = (usize, usize, [f64; 5]);

/// Label papers in common use (common practice, no source; from memory). Any
/// other grid divides the sheet evenly.
const A4: &[Known] = &[
    (2, 4, [99.1, 67.7, 4.65, 13.1, 2.5]),
    (2, 7, [99.1, 38.1, 4.65, 15.15, 2.5]),
    (3, 7, [63.5, 38.1, 7.25, 15.15, 2.5]),
    (3, 8, [70.0, 37.0, 0.0, 0.5, 0.0]),
];

/// The same on US letter paper, upright.
const LETTER: &[Known] = &[
    (2, 5, [101.6, 50.8, 3.97, 12.7, 4.76]),
    (2, 10, [101.6, 25.4, 3.97, 12.7, 4.76]),
    (3, 10, [66.675, 25.4, 4.7625, 12.7, 3.175]),
];

/// Width and height of the papers, upright, mm: ISO 216, and 8.5 × 11 in.
const A4_PAPER: (f64, f64) = (210.0, 297.0);
const LETTER_PAPER: (f64, f64) = (215.9, 279.4);

/// Labels smaller than this cannot hold a number, a name and a size, mm.
const LEAST: (f64, f64) = (50.0, 25.0);

impl LabelGrid {
    /// The grid used where none is asked for: 3 × 8 on A4, 2 × 5 on letter, as
    /// fractions need room.
    pub fn usual(series: PaperSeries) -> Self {
        let (columns, rows) = if series == PaperSeries::Iso { (3, 8) } else { (2, 5) };
        Self { series, columns, rows, lippings: false }
    }

    /// A grid of so many columns and rows on A4 or on letter; `None` if its
    /// labels are too small to be read.
    pub fn new(series: PaperSeries, columns: usize, rows: usize) -> Option<Self> {
        let grid = Self { series, columns, rows, lippings: false };
        let first = grid.places().next()?;
        (first.width() >= LEAST.0 - NOISE && first.height() >= LEAST.1 - NOISE).then_some(grid)
    }

    /// The same grid with a label for each lipping too, or without.
    #[must_use]
    pub fn with_lippings(self, lippings: bool) -> Self {
        Self { lippings, ..self }
    }

    /// Labels on a sheet.
    pub fn count(&self) -> usize {
        self.columns * self.rows
    }

    /// Width and height of the paper, upright, mm.
    pub fn paper(&self) -> (f64, f64) {
        match self.series {
            PaperSeries::Iso => A4_PAPER,
            PaperSeries::Asme => LETTER_PAPER,
        }
    }

    /// Its name.
    pub fn paper_name(&self) -> &'static str {
        match self.series {
            PaperSeries::Iso => "A4",
            PaperSeries::Asme => "letter",
        }
    }

    /// Where the labels stand, row by row, sheet mm.
    pub fn places(&self) -> impl Iterator<Item = Rect> + use<> {
        let known: &[Known] = match self.series {
            PaperSeries::Iso => A4,
            PaperSeries::Asme => LETTER,
        };
        let (columns, rows) = (self.columns, self.rows);
        let (width, height) = self.paper();
        let found = known.iter().find(|k| (k.0, k.1) == (columns, rows)).map(|k| k.2);
        let [wide, high, left, top, gap] =
            found.unwrap_or([width / columns as f64, height / rows as f64, 0.0, 0.0, 0.0]);
        (0..rows).flat_map(move |row| {
            (0..columns).map(move |column| {
                let at = (left + column as f64 * (wide + gap), top + row as f64 * high);
                Rect::from_origin_size(at, (wide, high))
            })
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_stand_on_their_paper_and_clear_of_one_another() {
        for (series, columns, rows) in [
            (PaperSeries::Iso, 3, 8),
            (PaperSeries::Iso, 3, 7),
            (PaperSeries::Iso, 2, 7),
            (PaperSeries::Iso, 2, 4),
            (PaperSeries::Iso, 1, 5),
            (PaperSeries::Asme, 3, 10),
            (PaperSeries::Asme, 2, 10),
            (PaperSeries::Asme, 2, 5),
        ] {
            let grid = LabelGrid::new(series, columns, rows).unwrap();
            let paper = Rect::from_origin_size((0.0, 0.0), grid.paper()).inflate(0.01, 0.01);
            let places: Vec<Rect> = grid.places().collect();
            assert_eq!(places.len(), grid.count());
            for (i, a) in places.iter().enumerate() {
                assert_eq!(paper.union(*a), paper, "{columns} x {rows}");
                for b in &places[..i] {
                    assert!(a.inflate(-0.01, -0.01).intersect(*b).is_zero_area());
                }
            }
        }
    }

    #[test]
    fn labels_too_small_to_read_are_refused() {
        assert_eq!(LabelGrid::new(PaperSeries::Iso, 5, 13), None);
        assert_eq!(LabelGrid::new(PaperSeries::Iso, 0, 8), None);
        assert_eq!(LabelGrid::new(PaperSeries::Iso, 3, 0), None);
    }
}
