//! Full-size templates: which parts are worth one, and what is drawn on it.
//!
//! A part gets a template where a rule and a square do not set it out: a curved
//! or many-sided outline, a turned profile, a face with many holes. Most parts
//! get none.

use kurbo::{Affine, BezPath, Point, Rect, Shape};

use super::ink::Template;
use super::label::Label;
use super::tile::{Grid, clip};
use super::turned::profile;
use crate::drawing::kit::dimension::callout::Callout;
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::Plate;
use crate::drawing::sheets::parts::drawn_parts;
use crate::drawing::sheets::parts::full_size::{self, on_template};
use crate::geometry::DVec3;
use crate::geometry::tolerance::NOISE;
use crate::joinery::{Cut, CutKind, Hand, WorkedJob, WorkedPart};
use crate::machining::Machined;
use crate::model::{Face, Grain, Job, StockKind};
use crate::paper::{Fixes, Ink, Mark, Pen, Role, Run, dash};
use crate::solid::Body;

/// A direction slopes where more than one of its shares is above this.
const SLOPES: f64 = 0.01;
/// A shape reaches an end that is this near, mm.
const AT_END: f64 = 0.005;
/// A template that keeps this share of the whole is the whole.
const WHOLE: f64 = 0.98;

/// From this many drilled holes a face is marked out faster from a template
/// than with a rule (common practice, no source).
const MANY_HOLES: usize = 8;
/// White kept round a drilling pattern where the rest of the face is left out,
/// mm.
const ROUND_PATTERN: f64 = 15.0;

/// The templates of a job, in the order of part numbers.
pub(in crate::drawing) fn templates(
    machined: &Machined<'_>,
    look: &Look,
    grid: impl Fn(Rect) -> Grid,
) -> Vec<Template> {
    let Machined { job, worked, .. } = *machined;
    let mut all = Vec::new();
    for (index, part) in drawn_parts(machined) {
        let before = all.len();
        if let (Body::Turning(turning), Some(raw)) = (&part.body, worked.parts.get(index)) {
            // Turned before it is cut: the profile is that of the blank.
            if let Some(worth) = profile(turning, raw, look, &grid) {
                all.push(worth);
            }
        }
        let shaped = shaped_faces(&part);
        let whole = |face: &Face| {
            let mut template = flat(job, &part, *face, look);
            datums(&mut template, &part, *face, look);
            template
        };
        all.extend(shaped.iter().map(whole));
        all.extend(moulded(&part).map(|(face, cut)| section(job, &part, face, cut, look)));
        let drilled = drilled_faces(&part).into_iter().filter(|f| !shaped.contains(f));
        all.extend(drilled.map(|face| pattern(job, &part, face, look)));
        if let Some(other) = other_hand(worked, &part) {
            for template in all.iter_mut().skip(before) {
                template.says.push(format!("turn the paper over for {other}"));
            }
        }
        let several = all.len() - before > 1;
        for template in all.iter_mut().skip(before) {
            template.several = several;
            turn_if_better(template, &grid);
        }
    }
    all
}

/// The mirror image of a part, as printed, if the job has it.
fn other_hand(worked: &WorkedJob, part: &WorkedPart) -> Option<String> {
    let same = worked.parts.iter().filter(|p| p.number == part.number);
    let mut other = same.filter(|p| p.hand != part.hand && p.hand != Hand::None);
    other.next().map(WorkedPart::mark)
}

/// The faces that a part's shaped outlines are seen on: square to the way they
/// are cut.
fn shaped_faces(part: &WorkedPart) -> Vec<Face> {
    let mut faces: Vec<(Face, usize)> = Vec::new();
    for cut in part.cuts.iter().filter(|cut| cut.kind == CutKind::Outline) {
        let Some(face) = seen_on(cut.shape.at.z) else { continue };
        let weight = shaped_edges(cut);
        match faces.iter_mut().find(|f| f.0 == face) {
            Some(known) => known.1 += weight,
            None => faces.push((face, weight)),
        }
    }
    // One sloping edge is set out from its two ends.
    faces.into_iter().filter(|f| f.1 >= 2).map(|f| f.0).collect()
}

/// The first moulding of a part and the face its section is seen on, along it.
fn moulded(part: &WorkedPart) -> Option<(Face, &Cut)> {
    part.cuts
        .iter()
        .filter(|cut| cut.kind == CutKind::Moulding)
        .find_map(|cut| Some((seen_on(cut.shape.at.z)?, cut)))
}

/// The template of a moulding's section: what of the end or edge lies round it.
fn section(job: &Job, part: &WorkedPart, face: Face, cut: &Cut, look: &Look) -> Template {
    let mut template = flat(job, part, face, look);
    let Some((low, high)) = cut.shape.outline.bounds() else { return template };
    let corners = [low, high].map(|p| cut.shape.at.point(p.extend(0.0)));
    let places = corners.map(|p| on_template(part, face, p));
    let round = Rect::from_points(places[0], places[1]).inflate(ROUND_PATTERN, ROUND_PATTERN);
    template.content = round.intersect(template.content);
    crop(&mut template);
    template.label = None;
    template.names.clear();
    template.seen = "moulding";
    template.says =
        vec!["section of the moulding".into(), "hold the cutters and the run piece against it".into()];
    template
}

/// How much of an outline is neither straight along the part nor straight
/// across it: two for an arc, one for a sloping edge.
fn shaped_edges(cut: &Cut) -> usize {
    let outline = &cut.shape.outline;
    let mut count = 0;
    for ring in &outline.rings {
        for (i, edge) in ring.edges.iter().enumerate() {
            let (a, b) = (ring.points[i], ring.points[(i + 1) % ring.points.len()]);
            let along = cut.shape.at.dir(DVec3::new(b.x - a.x, b.y - a.y, 0.0));
            let slopes = along.abs().to_array().iter().filter(|d| **d > SLOPES).count() > 1;
            count += if edge.is_some() { 2 } else { usize::from(slopes) };
        }
    }
    count
}

/// The face on which something swept along `axis` is seen; none if it is
/// askew.
fn seen_on(axis: DVec3) -> Option<Face> {
    let axis = axis.abs();
    [(axis.z, Face::Marked), (axis.y, Face::Edge), (axis.x, Face::NearEnd)]
        .into_iter()
        .find(|(along, _)| *along > 1.0 - NOISE)
        .map(|(_, face)| face)
}

/// Faces with many drilled holes.
fn drilled_faces(part: &WorkedPart) -> Vec<Face> {
    let faces = part.cuts.iter().filter(|cut| cut.kind == CutKind::Hole).filter_map(|cut| entry(part, cut));
    let mut counted: Vec<(Face, usize)> = Vec::new();
    for face in faces {
        match counted.iter_mut().find(|c| c.0 == face) {
            Some(known) => known.1 += 1,
            None => counted.push((face, 1)),
        }
    }
    counted.into_iter().filter(|c| c.1 >= MANY_HOLES).map(|c| c.0).collect()
}

/// The face a hole is bored from; a hole that goes through counts for the
/// marked one.
fn entry(part: &WorkedPart, cut: &Cut) -> Option<Face> {
    let into = cut.shape.at.z;
    let face = seen_on(into)?;
    let axis = (0..3).find(|i| into[*i].abs() > 0.5)?;
    let ends = [cut.shape.from, cut.shape.to].map(|d| cut.shape.at.point(DVec3::Z * d)[axis]);
    let (low, high) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
    match (low < AT_END, high > part.size[axis] - AT_END, face) {
        (true, _, face) => Some(face),
        (false, true, Face::Marked) => Some(Face::Back),
        (false, true, Face::Edge) => Some(Face::FarEdge),
        (false, true, _) => Some(Face::FarEnd),
        (false, false, _) => None,
    }
}

/// The template of a whole face.
fn flat(job: &Job, part: &WorkedPart, face: Face, look: &Look) -> Template {
    let (marks, content) = full_size::full_size(part, face, look);
    Template {
        label: Some(Label::new(part, face)),
        marks,
        content,
        mark: part.mark(),
        name: part.name.clone(),
        seen: face.name(),
        several: false,
        says: vec![format!("{} up", face.name())],
        grain_up: grain_up(job, part, face),
        names: full_size::names(part, face, look),
    }
}

/// The template of a drilling pattern: the holes, and the face's edges from
/// the nearer end and side on.
fn pattern(job: &Job, part: &WorkedPart, face: Face, look: &Look) -> Template {
    let mut template = flat(job, part, face, look);
    let whole = template.content;
    let holes = template
        .marks
        .iter()
        .filter(|mark| mark.role == Role::Centre)
        .map(Mark::bounds)
        .reduce(|a, b| a.union(b))
        .map_or(whole, |b| b.inflate(ROUND_PATTERN, ROUND_PATTERN));
    let span = |low: f64, high: f64, a: f64, b: f64| {
        if a - low <= high - b { (low, b.min(high)) } else { (a.max(low), high) }
    };
    let (x0, x1) = span(whole.x0, whole.x1, holes.x0, holes.x1);
    let (y0, y1) = span(whole.y0, whole.y1, holes.y0, holes.y1);
    template.content = Rect::new(x0, y0, x1, y1);
    if template.content.area() < whole.area() * WHOLE {
        crop(&mut template);
        template.says.push("drilling pattern; the rest of the face is not drawn".into());
    } else {
        template.says.push("drilling pattern".into());
    }
    template.label = None;
    datums(&mut template, part, face, look);
    template
}

/// How far outside what is wanted of a template the line of a datum may still be, mm.
const SEEN: f64 = 3.0;
/// Where along a datum its name may stand, in shares of it, the best first.
const NAMED_AT: [f64; 7] = [0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92];

/// Draws the datums of a face on its edges, since the line is laid on the edge of the wood, as
/// far as those are on the template, and names them.
fn datums(template: &mut Template, part: &WorkedPart, face: Face, look: &Look) {
    let pen = Pen { width: look.wide() * Plate::LIGHT, dash: dash::CENTRE };
    let border = template.content.inflate(SEEN, SEEN);
    for (line, name) in full_size::datums(part, face) {
        let mut path = BezPath::new();
        path.move_to(line.p0);
        path.line_to(line.p1);
        let path = clip(&path, border);
        if path.elements().is_empty() {
            continue;
        }
        let box_of = Shape::bounding_box(&path);
        // At several places, so that every tile that the line runs over has its name.
        let (from, to) = (box_of.origin(), Point::new(box_of.x1, box_of.y1));
        let at: Vec<Point> = NAMED_AT.iter().map(|share| from.lerp(to, *share)).collect();
        template.marks.push(Mark::stroke(path, pen, Role::Symbol));
        template.names.push(Callout {
            at,
            lines: vec![vec![Run::Plain(name.into())]],
            value: None,
            fixes: Fixes::Nothing,
            spare: false,
        });
    }
}

/// Cuts off what of a template lies beyond its content.
fn crop(template: &mut Template) {
    // A line on the border is wanted, so the border lies outside its pen.
    let border = template.content.inflate(1.0, 1.0);
    for mark in &mut template.marks {
        if let Ink::Stroke { path, .. } = &mut mark.ink {
            *path = clip(path, border);
        }
    }
    template.marks.retain(|mark| !mark.bounds().is_zero_area() || mark.bounds().width() > 0.0);
}

/// Whether the grain runs up the sheet in the view on `face`; none without a
/// grain, or where it runs to the viewer.
fn grain_up(job: &Job, part: &WorkedPart, face: Face) -> Option<bool> {
    let grained = match job.stock.get(part.stock.0).map(|s| &s.kind)? {
        StockKind::Sheet { grain, .. } => *grain != Grain::None,
        StockKind::Board { .. } | StockKind::Blank { .. } => true,
        StockKind::Glass { .. } | StockKind::Bought => false,
    };
    (grained && !matches!(face, Face::NearEnd | Face::FarEnd)).then_some(false)
}

/// Turns a template a quarter where it takes fewer tiles so.
fn turn_if_better(template: &mut Template, grid: &impl Fn(Rect) -> Grid) {
    let quarter = Affine::new([0.0, 1.0, -1.0, 0.0, 0.0, 0.0]);
    let turned = quarter.transform_rect_bbox(template.content);
    if grid(turned).count() >= grid(template.content).count() {
        return;
    }
    for mark in &mut template.marks {
        if let Ink::Stroke { path, .. } = &mut mark.ink {
            path.apply_affine(quarter);
        }
    }
    template.content = turned;
    template.grain_up = template.grain_up.map(|up| !up);
    for at in template.names.iter_mut().flat_map(|name| &mut name.at) {
        *at = quarter * *at;
    }
    template.label = template.label.take().map(Label::turned);
}
