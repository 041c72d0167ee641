//! When no scale of the series brings a piece onto the paper.

use crate::drawing::page::look::Look;
use crate::problem::Problem;

/// The problem that a piece is too large for the paper.
pub(in crate::drawing) fn too_small(name: &str, look: &Look) -> Problem {
    Problem::error(
        "does-not-fit-paper",
        format!("`{name}` does not fit {} paper at any scale of the series", look.paper.name()),
    )
    .help("choose a larger paper with `--paper`")
}
