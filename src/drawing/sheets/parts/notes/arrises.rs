//! Chamfers and round-overs that run round a face, said once.

use std::collections::BTreeMap;

use crate::drawing::sheets::parts::chosen::ViewSizes;
use crate::geometry::DVec3;
use crate::geometry::tolerance::STEPS;
use crate::joinery::CutKind;
use crate::machining::feature::{Feature, Form, SAME};
use crate::model::Face;
use crate::paper::Run;
use crate::paper::fixes::{Fixes, Noted};

/// The faces at the four arrises of the marked face and of the back.
const ROUND: [Face; 4] = [Face::Edge, Face::FarEdge, Face::NearEnd, Face::FarEnd];

/// One worked arris of a broad face.
struct Arris {
    /// The cut.
    cut: usize,
    /// The face it runs round.
    of: Face,
    /// The face beside it.
    at: Face,
    /// What goes from either face, mm, the smaller first.
    legs: (f64, f64),
    /// The kind of cut.
    kind: CutKind,
}

/// Puts into one note what is worked alike on all arrises of a broad face, or on
/// all but one. The first of their notes says it; the others fall away, and with
/// them views that told nothing else.
pub(in crate::drawing::sheets::parts) fn told_once(
    views: &mut Vec<ViewSizes>,
    features: &[Feature],
    size: DVec3,
) {
    let mut sets: BTreeMap<(u8, u8, i64, i64), Vec<Arris>> = BTreeMap::new();
    for one in features.iter().filter_map(|feature| arris(feature, size)) {
        let key = (
            u8::from(one.of == Face::Back),
            match one.kind {
                CutKind::Chamfer => 1,
                CutKind::Moulding => 2,
                _ => 0,
            },
            hundredths(one.legs.0),
            hundredths(one.legs.1),
        );
        sets.entry(key).or_default().push(one);
    }
    for set in sets.into_values() {
        let told = |face: Face| set.iter().filter(|arris| arris.at == face).count();
        let missing: Vec<Face> = ROUND.into_iter().filter(|face| told(*face) == 0).collect();
        let once = ROUND.into_iter().all(|face| told(face) <= 1);
        let Some(first) = set.first().filter(|_| once && missing.len() < 2) else { continue };
        let mut words = format!("all round the {}", first.of.name());
        if let Some(face) = missing.first() {
            words.extend([" but at the ", face.name()]);
        }
        gather(views, &set.iter().map(|arris| arris.cut).collect::<Vec<_>>(), &words);
    }
    views.retain(|view| {
        let sizes = !view.rows.is_empty() || !view.notes.is_empty() || !view.numbered.is_empty();
        matches!(view.face, Face::Marked | Face::Edge) || sizes
    });
}

/// The arris of a broad face that a cut works along its whole length.
fn arris(feature: &Feature, size: DVec3) -> Option<Arris> {
    let (low, high) = match (&feature.form, feature.kind) {
        (Form::Pocket { min, max, .. }, CutKind::RoundOver | CutKind::Moulding) => (*min, *max),
        (Form::Slope { ends, along, .. }, CutKind::Chamfer) => {
            let (mut low, mut high) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
            (low[*along], high[*along]) = (0.0, size[*along]);
            (low, high)
        }
        _ => return None,
    };
    let at_end = |axis: usize| match (low[axis] < SAME, high[axis] > size[axis] - SAME) {
        (true, false) => Some(false),
        (false, true) => Some(true),
        _ => None,
    };
    let of = if at_end(2)? { Face::Back } else { Face::Marked };
    let (axis, at) = match (at_end(0), at_end(1)) {
        (Some(far), None) => (0, if far { Face::FarEnd } else { Face::NearEnd }),
        (None, Some(far)) => (1, if far { Face::FarEdge } else { Face::Edge }),
        _ => return None,
    };
    let (a, b) = (high[axis] - low[axis], high.z - low.z);
    Some(Arris { cut: feature.cut, of, at, legs: (a.min(b), a.max(b)), kind: feature.kind })
}

/// Joins the notes of some cuts into the first of them, which says `words` more.
fn gather(views: &mut [ViewSizes], cuts: &[usize], words: &str) {
    let belongs = |own: &[usize]| !own.is_empty() && own.iter().all(|cut| cuts.contains(cut));
    let noted: Vec<Noted> = views
        .iter()
        .flat_map(|view| &view.notes)
        .filter(|note| belongs(&note.cuts))
        .filter_map(|note| if let Fixes::Cuts(noted) = &note.fixes { Some(noted.clone()) } else { None })
        .flatten()
        .collect();
    let mut said = false;
    for view in views {
        view.notes.retain_mut(|note| {
            if !belongs(&note.cuts) {
                return true;
            }
            if said {
                return false;
            }
            said = true;
            note.phrases.push(vec![Run::Plain(words.to_owned())]);
            note.fixes = Fixes::Cuts(noted.clone());
            true
        });
    }
}

#[expect(clippy::cast_possible_truncation, reason = "sizes of furniture are far inside i64")]
fn hundredths(mm: f64) -> i64 {
    (mm * STEPS).round() as i64
}
