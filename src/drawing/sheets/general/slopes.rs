//! How far off upright or level stands what leans or slopes, said on the views that see it:
//! a bevel is set to an angle, not to two widths.

use kurbo::Point;

use crate::drawing::kit::dimension::Manner;
use crate::drawing::kit::dimension::callout::{Callout, callouts};
use crate::drawing::kit::dimension::white::White;
use crate::drawing::kit::project::OnSheet;
use crate::drawing::kit::words::plain;
use crate::drawing::page::look::{Look, Room};
use crate::drawing::page::plate::Plate;
use crate::geometry::tolerance::HAIR;
use crate::geometry::trig;
use crate::geometry::{DVec2, DVec3};
use crate::joinery::WorkedJob;
use crate::measure::angle;
use crate::paper::Fixes;
use crate::solid::{Body, Camera, LineKind, Surface, ViewLine};

/// A line shorter than this on paper, or than this share of its piece, is a chamfer, a
/// dovetail or a mitre and not what the piece slopes by, mm.
const SHORT: f64 = 12.0;
const SHARE: f64 = 0.15;
/// Slopes that differ by less are one, degrees: less than a bevel is set to.
const SAME: f64 = 0.05;
/// What a cut slopes by less than this is a taper, which goes by its two widths, degrees
/// (common practice, no source).
const TAPER: f64 = 2.0;
/// A mitre, degrees: it is seen to be one.
const MITRE: f64 = 45.0;
/// Most slopes said of one view.
const MOST: usize = 4;
/// Where along a line a note may point, in shares from its end.
const POINTS: [f64; 3] = [0.5, 0.3, 0.7];

/// A slope of a view.
#[derive(Clone, Debug)]
pub(super) struct Slope {
    /// Degrees off upright or level, whichever is nearer.
    degrees: f64,
    /// Whether off upright.
    upright: bool,
    /// Where on the sheet a note may point.
    at: Vec<Point>,
}

impl Slope {
    /// The slope of a line; `None` for one that is upright, level or a mitre.
    fn of(a: DVec2, b: DVec2) -> Option<Self> {
        let run = (b - a).abs();
        let upright = run.y > run.x;
        let degrees = trig::atan2(run.min_element(), run.max_element()).to_degrees();
        let slopes = degrees > SAME && (degrees - MITRE).abs() > SAME;
        slopes.then_some(Self { degrees, upright, at: Vec::new() })
    }

    fn is(&self, other: &Self) -> bool {
        self.upright == other.upright && (self.degrees - other.degrees).abs() < SAME
    }

    /// As a maker sets it.
    fn words(&self) -> String {
        format!("{} off {}", angle(self.degrees), if self.upright { "upright" } else { "level" })
    }
}

/// What slopes in a view that `camera` sees, each slope once: straight arrises, and the axes of
/// what is turned.
pub(super) fn slopes(
    worked: &WorkedJob,
    lines: &[ViewLine],
    (camera, on): (Camera, OnSheet),
    long: f64,
) -> Vec<Slope> {
    let least = (SHORT / on.factor).max(SHARE * long);
    let mut found: Vec<(Slope, f64)> = Vec::new();
    let mut add = |slope: Slope, (a, b): (DVec2, DVec2)| {
        let at = POINTS.map(|share| on.point(a + (b - a) * share));
        let run = a.distance(b);
        match found.iter_mut().find(|(known, _)| known.is(&slope)) {
            // Of like slopes the longest is pointed at.
            Some((known, length)) if run > *length + HAIR => (known.at, *length) = (at.to_vec(), run),
            Some(_) => {}
            None => found.push((Slope { at: at.to_vec(), ..slope }, run)),
        }
    };
    let round = |line: &ViewLine| line.faces.iter().any(|face| matches!(face.surface, Surface::Round { .. }));
    for line in lines.iter().filter(|line| line.kind == LineKind::Visible && !round(line)) {
        let cut = line.faces.iter().any(|face| face.cutter.is_some());
        let turned = worked.parts.get(line.tag).is_none_or(|part| matches!(part.body, Body::Turning(_)));
        let Some(slope) = Slope::of(line.a, line.b).filter(|_| !turned) else { continue };
        if line.a.distance(line.b) > least && !(cut && slope.degrees < TAPER) {
            add(slope, (line.a, line.b));
        }
    }
    let mut seen: Vec<usize> = lines.iter().map(|line| line.tag).collect();
    seen.dedup();
    for part in seen.iter().filter_map(|tag| worked.parts.get(*tag)) {
        let Body::Turning(_) = &part.body else { continue };
        let middle = part.size * 0.5;
        let ends =
            [0.0, part.size.x].map(|x| camera.project(part.at.point(DVec3::new(x, middle.y, middle.z))));
        if let Some(slope) = Slope::of(ends[0], ends[1]).filter(|_| ends[0].distance(ends[1]) > least) {
            add(slope, (ends[0], ends[1]));
        }
    }
    found.truncate(MOST);
    found.into_iter().map(|(slope, _)| slope).collect()
}

/// Says the slopes beside the views, where the paper is white; `number` is that of the last
/// size.
pub(super) fn put_slopes(
    plate: &mut Plate,
    slopes: &[Slope],
    white: &mut White,
    look: &Look,
    number: &mut u32,
) {
    // Where titles begin too, clear of the centring marks.
    let within = look.room().space.inset(-Room::MARGIN);
    for slope in slopes {
        let note = Callout {
            at: slope.at.clone(),
            lines: vec![plain(slope.words())],
            value: Some(slope.degrees),
            fixes: Fixes::Nothing,
            // An angle is said nowhere else.
            spare: false,
        };
        // Without other marks there is no place under them all: a note that is not near is
        // none.
        let mut marks = Vec::new();
        callouts(&[note], white, within, &Manner::of(look), number, &mut marks);
        plate.marks.extend(marks);
    }
}
