//! Details, each at the scale that serves it.

use rayon::prelude::*;

use kurbo::Rect;

use super::Detail;
use super::draw::{self, Drawn, Source};
use crate::drawing::kit::hatch::Leans;
use crate::drawing::page::look::Look;
use crate::drawing::page::scale::{Scale, series};
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::geometry::tolerance::NOISE;
use crate::joinery::WorkedJob;
use crate::model::{Job, PieceId};

/// Least white between two details, mm.
const GAP: f64 = 14.0;

/// On narrow paper a detail may take this much rather than half the width, mm.
const LEAST_HALF: f64 = 120.0;

/// A detail with its scale.
struct Set {
    drawn: Drawn,
    scale: Scale,
    bookmark: String,
}

/// The details of one piece, each a block by itself.
pub(in crate::drawing) fn sheets(
    job: &Job,
    worked: &WorkedJob,
    details: &[Detail],
    (piece, look): (PieceId, &Look),
) -> Vec<SheetBody> {
    let name = job.pieces.get(piece.0).map_or("", |p| p.name.as_str());
    let area = look.room().above();
    let leans = &Leans::of(worked, piece);
    let from = Source { job, worked, look, leans };
    let body = |detail: &Detail| {
        // Each is the only view of its block; those of a sheet are counted as it is made.
        let set = from.set(detail, area, 1)?;
        let bounds = set.drawn.bounds;
        Some(SheetBody {
            scale: Some(set.scale),
            marks: draw::at(&set.drawn, area.origin() - bounds.origin()),
            bookmarks: vec![(set.bookmark, area.origin())],
            full_size: (set.scale.factor - 1.0).abs() < NOISE,
            ..SheetBody::new(SheetKind::Detail, format!("{name}: joint details"))
        })
    };
    details.par_iter().filter_map(body).collect()
}

impl Source<'_> {
    /// A detail at the largest scale, 1:1 or less, that leaves room for another
    /// beside it; failing that, that fits at all.
    fn set(&self, detail: &Detail, area: Rect, view: u16) -> Option<Set> {
        let look = self.look;
        let half = ((area.width() - GAP) / 2.0).max(LEAST_HALF).min(area.width());
        let scales = || series(look).iter().copied().filter(|s| s.factor <= 1.0 + NOISE);
        let at = |scale: Scale| {
            let drawn = draw::draw(self, detail, scale, view)?;
            Some(Set {
                drawn,
                scale,
                bookmark: if detail.marked {
                    format!("Detail {}", detail.letter)
                } else {
                    "Detail".to_owned()
                },
            })
        };
        let fits = |set: &Set, width: f64| {
            set.drawn.bounds.width() <= width && set.drawn.bounds.height() <= area.height()
        };
        // Only the two largest scales are worth half a sheet; smaller ones are the last resort.
        let preferred = scales().take(2).filter_map(at).find(|set| fits(set, half));
        preferred.or_else(|| scales().filter_map(at).find(|set| fits(set, area.width())))
    }
}
