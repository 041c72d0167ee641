//! What a cell of a part sheet is drawn from, and what comes of it.

use kurbo::Rect;

use super::chosen::ViewSizes;
use super::thin::WayLine;
use crate::drawing::page::look::{Look, Paper};
use crate::drawing::page::plate::Lettering;
use crate::drawing::page::scale::Scale;
use crate::joinery::{Hand, WorkedJob, WorkedPart};
use crate::machining::feature::Feature;
use crate::model::Job;
use crate::paper::Mark;

/// One part drawn, its origin anywhere.
#[derive(Clone, Debug)]
pub(super) struct Cell {
    /// The ink.
    pub(super) marks: Vec<Mark>,
    /// The box round it.
    pub(super) bounds: Rect,
    /// Its scale; none for a table.
    pub(super) scale: Option<Scale>,
    /// Number and name, for the bookmark.
    pub(super) title: String,
    /// Dimension numbers used: 1 to this.
    pub(super) dimensions: u32,
    /// Views used: 1 to this.
    pub(super) views: u16,
    /// Whether a larger scale would read better.
    pub(super) strained: bool,
    /// Whether its length is broken.
    pub(super) broken: bool,
}

/// What a cell is drawn from.
#[derive(Clone, Copy)]
pub(super) struct Subject<'a> {
    /// The job.
    pub(super) job: &'a Job,
    /// Its parts.
    pub(super) worked: &'a WorkedJob,
    /// Index of the part drawn.
    pub(super) index: usize,
    /// The part drawn.
    pub(super) part: &'a WorkedPart,
    /// The look of the set.
    pub(super) look: &'a Look,
    /// What of it stands in another cell before.
    pub(super) further: Further,
}

/// What of a part found no room with the rest, which stands in a cell before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Further {
    /// Nothing: this is the first cell of the part.
    No,
    /// Views.
    Views,
    /// Sizes of a view that is drawn once more for them.
    Sizes,
}

/// Height of figures and notes on part sheets, mm: the least ISO 3098 height for
/// dimensions on A4 to A1 (as given in public tables), since many parts share a
/// sheet; the set's own height on larger paper than A3, where there is room.
pub(super) fn text_height(look: &Look) -> f64 {
    match look.paper {
        Paper::A4 | Paper::A3 | Paper::Letter | Paper::Tabloid => Lettering::SMALL,
        Paper::A2 | Paper::A1 | Paper::A0 | Paper::C | Paper::D | Paper::E => look.text(),
    }
}

/// What is the same at every scale.
pub(super) struct Prepared<'a> {
    /// What is drawn.
    pub(super) subject: Subject<'a>,
    /// Its cuts as a drawing describes them.
    pub(super) features: Vec<Feature>,
    /// Its views with their sizes.
    pub(super) chosen: Vec<ViewSizes>,
    /// The lines of each view, full size.
    pub(super) lines: Vec<Vec<WayLine>>,
}

/// How many of each hand all pieces need.
pub(super) fn off(subject: Subject<'_>) -> Vec<(Hand, u32)> {
    let mut counts: Vec<(Hand, u32)> = Vec::new();
    for part in subject.worked.parts.iter().filter(|p| p.number == subject.part.number) {
        let times = subject.job.pieces.get(part.piece.0).map_or(1, |p| p.count.max(1));
        match counts.iter_mut().find(|(h, _)| *h == part.hand) {
            Some((_, n)) => *n += times,
            None => counts.push((part.hand, times)),
        }
    }
    counts.sort_unstable();
    counts
}
