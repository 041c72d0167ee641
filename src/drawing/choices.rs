//! What may be chosen about the look of a set, and what follows where it is not.

use super::page::look::{Look, Paper};
use super::page::profile::Profile;
use super::sheets::labels::grid::LabelGrid;
use crate::measure::Unit;
use crate::model::{Job, Sold};

/// What is chosen about the look of a set; what is left out follows the job.
#[derive(Clone, Debug, Default)]
#[expect(clippy::struct_excessive_bools, reason = "each asks for something by itself")]
pub struct Choices {
    /// Paper: A3 where not said, tabloid in inches.
    pub paper: Option<Paper>,
    /// Unit of the figures: the script's where not said.
    pub unit: Option<Unit>,
    /// Drawing practice: ISO where not said, ASME in inches.
    pub profile: Option<Profile>,
    /// Date of issue, `YYYY-MM-DD`.
    pub date: Option<String>,
    /// Finest inch fraction, one of [`Look::FINEST`]: 32 where not said.
    pub finest: Option<u32>,
    /// Overall sizes in feet and inches.
    pub feet: bool,
    /// Whether a blank sheet to measure the room by is in the set.
    pub survey: bool,
    /// A sheet for the client before all others.
    pub client: bool,
    /// Columns and rows of the label paper, A4 or letter by the paper of the
    /// set; `None` for the usual one.
    pub labels: Option<(usize, usize)>,
    /// A label for each lipping too.
    pub label_lippings: bool,
    /// How what is bought is sold, by a price list; the script's own word comes after.
    pub sold: Vec<Sold>,
    /// How many times as long as usual layouts are searched.
    pub effort: Option<u32>,
    /// How near sizes are looked for that save a sheet or board, per cent; `None` where
    /// nobody asks.
    pub near: Option<f64>,
    /// What else is written for other programs.
    pub also: Vec<Also>,
}

/// What may be written besides the set, for other programs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Also {
    /// Flat parts as DXF.
    Dxf,
    /// The piece as glTF.
    Gltf,
}

impl Choices {
    /// Gives a job what is chosen about its buying and its layouts.
    pub fn give(&self, job: &mut Job) {
        job.sold.splice(0..0, self.sold.iter().cloned());
        job.cutting.effort = self.effort.unwrap_or(job.cutting.effort);
    }

    /// The grid of the labels of a set that looks like `look`.
    #[must_use]
    pub fn label_grid(&self, look: &Look) -> LabelGrid {
        let series = look.paper.series();
        let asked = self.labels.and_then(|(columns, rows)| LabelGrid::new(series, columns, rows));
        asked.unwrap_or_else(|| LabelGrid::usual(series)).with_lippings(self.label_lippings)
    }

    /// The look of the set of `job`.
    #[must_use]
    pub fn look(&self, job: &Job) -> Look {
        let unit = self.unit.unwrap_or(job.unit);
        let (paper, profile) = match unit {
            Unit::Mm => (Paper::A3, Profile::Iso),
            Unit::Inch => (Paper::Tabloid, Profile::Asme),
        };
        let paper = self.paper.unwrap_or(paper);
        let look = Look::new(paper, unit, self.profile.unwrap_or(profile));
        let finest = self.finest.unwrap_or(look.finest);
        Look {
            date: self.date.clone(),
            finest,
            feet: self.feet,
            client: self.client,
            survey: self.survey,
            ..look
        }
    }
}
