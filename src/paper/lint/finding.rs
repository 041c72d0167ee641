//! What a rule finds, and the least heights of text that rules go by.

use kurbo::Point;

use crate::measure::{LengthStyle, Unit, near};
use crate::problem::Problem;

/// Something on a sheet that a drafter would mend.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The rule: `D04`, `height`, ...
    pub rule: &'static str,
    /// The sheet's number.
    pub sheet: String,
    /// Where on it, mm.
    pub at: Point,
    /// What is wrong.
    pub message: String,
}

/// Least height of text on sheets of A4 to A1, mm (ISO 3098 sizes; common
/// office practice for notes on small sheets).
pub const LEAST_TEXT: f64 = 2.5;

/// Least height of the names of fields in a title block, mm: the smallest size
/// of ISO 3098.
pub const LEAST_LABEL: f64 = 1.8;

/// The rule of letters that the lettering lacks.
pub const LACKS: &str = "character";

/// Takes a finding.
pub(super) type Add<'a> = dyn FnMut(&'static str, Point, String) + 'a;

impl Finding {
    /// As a problem, on one of `several` sheets: nothing is wrong with the script.
    #[must_use]
    pub fn problem(&self, several: usize, unit: Unit) -> Problem {
        let sheet = if several > 1 { format!("sheet {}", self.sheet) } else { "the sheet".into() };
        let [x, y] = [self.at.x, self.at.y].map(|mm| LengthStyle::of(unit).text(near(unit, mm.round())));
        Problem::warning(
            "unclean-sheet",
            format!("{sheet}, {x} from the left and {y} from the top: {}", self.message),
        )
        .help("the piece is right, but its drawing is not clear there: try a larger `--paper`")
    }
}
