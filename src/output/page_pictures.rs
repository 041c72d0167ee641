//! Each sheet of a set as an SVG.

use rayon::prelude::*;

use super::file::File;
use super::svg;
use super::writer::{Finished, Writer};
use crate::paper::Sheet;

/// Writes `-01.svg` and so on.
pub(super) struct PagePictures;

impl Writer for PagePictures {
    fn code(&self) -> &'static str {
        "svg"
    }

    fn makes(&self) -> &'static str {
        "the SVG"
    }

    fn files(&self, set: &Finished<'_>) -> Result<Vec<File>, String> {
        let one = |(i, sheet): (usize, &Sheet)| File::text(&format!("-{:02}.svg", i + 1), svg::write(sheet));
        Ok(set.sheets.par_iter().enumerate().map(one).collect())
    }
}
