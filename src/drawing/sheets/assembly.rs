//! Assembly order: one picture and a few lines for each step, several to a
//! sheet (one diagram for each major step, the way of attachment seen: Heiser
//! et al. 2004; the same viewpoint throughout: Agrawala et al. 2003).

use kurbo::{BezPath, Point, Rect};
use rayon::prelude::*;

use crate::assembly::{Order, Step, StepKind};
use crate::drawing::kit::project::{self, ITEM_COLUMN, OnSheet, ViewPens, extent};
use crate::drawing::kit::words::{length_text, stacked, unmarked, wrap};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate, base_lines};
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::geometry::{DVec2, DVec3};
use crate::joinery::{Item, WorkedJob, WorkedJoint, WorkedPart};
use crate::model::Job;
use crate::paper::{Mark, Pen, Role, Run, Weight, dash};
use crate::problem::wording;
use crate::solid::{Camera, HiddenLines, ViewLine, Viewed, view};
use crate::wording::Words;
use crate::wording::assembly;

/// White inside a cell, from its upper edge to the foot of its number, and under and
/// over its words, mm; under them in text heights.
const PAD: f64 = 3.0;
const NUMBER_DROP: f64 = 10.0;
const UNDER_TEXT: f64 = 0.6;
const OVER_TEXT: f64 = 4.0;
/// White over the picture, mm: beside the number of the step, else below it.
const HEADS: [f64; 2] = [2.0, 10.0];
/// How far new parts are moved out, as a share of what is seen: a lipping stays near
/// its edge, since it only goes straight on.
const OUT: f64 = 0.3;
const OUT_LIP: f64 = 0.08;
/// Lengths look about this much shorter in the picture than its diagonal does.
const FORESHORTENED: f64 = 0.7;

/// Least width and height of a step's cell, mm.
const CELL: (f64, f64) = (84.0, 98.0);
/// White between cells, mm.
const GUTTER: f64 = 6.0;
/// Most standing parts that a picture shows. Of more, only the neighbourhood of
/// what comes in is drawn: the rest would be too small to read.
const MANY: usize = 24;
/// Cap height of captions, mm.
const TEXT: f64 = 2.5;

/// How many cells of `size` go along `room`, gutters between; at least one.
fn cells_along(room: f64, size: f64) -> usize {
    (1..=12).take_while(|n| f64::from(*n) * (size + GUTTER) <= room + GUTTER).count().max(1)
}

/// Letters of a mark that has room beside a picture, and what one like `10 R` needs more, mm.
const SHORT_MARK: usize = 3;
/// See `SHORT_MARK`.
const LONG_MARK: f64 = 3.0;
/// Most parts of a group made up before that are all numbered where it comes in.
const NUMBERED: usize = 6;

/// The sheets of one piece's order.
pub(in crate::drawing) fn assembly_sheets(
    job: &Job,
    worked: &WorkedJob,
    order: &Order,
    look: &Look,
) -> Vec<SheetBody> {
    let area = look.room().above();
    let columns = cells_along(area.width(), CELL.0).min(4);
    let rows = cells_along(area.height(), CELL.1);
    let name = job.pieces.get(order.piece.0).map_or("", |p| p.name.as_str());
    let captions: Vec<Vec<String>> = order.steps.iter().map(|step| caption(worked, step, look)).collect();
    let mut sheets = Vec::new();
    for (page, steps) in order.steps.chunks(columns * rows).enumerate() {
        // Cells of a sheet that is not full are larger.
        let used_rows = steps.len().div_ceil(columns).min(rows).max(1);
        // Rows of even length, and never one step across a whole sheet.
        let used_columns = steps.len().div_ceil(used_rows).clamp(columns.min(2), columns);
        let first = page * columns * rows;
        let cell_of = |(i, step): (usize, &Step)| {
            let mut plate = Plate::new(look);
            let cell = cell(area, (used_columns, used_rows), i);
            let lines = &captions[first + i];
            draw(&mut plate, worked, &StepCell { step, number: first + i + 1, lines, at: cell });
            plate.marks
        };
        let cells: Vec<Vec<Mark>> = steps.par_iter().enumerate().map(cell_of).collect();
        sheets.push(SheetBody {
            marks: cells.into_iter().flatten().collect(),
            bookmarks: Vec::new(),
            ..SheetBody::new(SheetKind::Assembly, format!("{name}: assembly order"))
        });
    }
    sheets
}

/// The rectangle of cell `i` in an even grid.
fn cell(area: Rect, (columns, rows): (usize, usize), i: usize) -> Rect {
    let width = (area.width() - GUTTER * (columns - 1) as f64) / columns as f64;
    let height = (area.height() - GUTTER * (rows - 1) as f64) / rows as f64;
    let x = area.x0 + (i % columns) as f64 * (width + GUTTER);
    let y = area.y0 + (i / columns) as f64 * (height + GUTTER);
    Rect::new(x, y, x + width, y + height)
}

/// The lines under a picture, not yet wrapped: first what is done.
fn caption(worked: &WorkedJob, step: &Step, look: &Look) -> Vec<String> {
    let mut lines = vec![format!("{}.", assembly::done(worked, &step.done))];
    let parts = if step.kind == StepKind::Cut { &step.onto } else { &step.adds };
    let mut named: Vec<String> = Vec::new();
    for part in parts.iter().filter_map(|p| worked.parts.get(*p)) {
        let lipping = matches!(part.source, crate::joinery::PartSource::Lipping { .. });
        // Lippings stand on their parts once they are glued.
        if lipping && step.kind != StepKind::Lip {
            continue;
        }
        let text = format!("{} {}", part.mark(), part.name);
        if !named.contains(&text) {
            named.push(text);
        }
    }
    if !named.is_empty() {
        lines.push(format!("Parts: {}", named.join(", ")));
    }
    lines.extend(inserts(worked, step, look.words()));
    if step.kind == StepKind::Join {
        let joints = joints(worked, step, look.words());
        if !joints.is_empty() {
            lines.push(format!("Joints: {joints}"));
        }
        lines.push(if step.glued { "Glued.".into() } else { "Dry, no glue.".into() });
    }
    if let Some(diagonal) = step.diagonal {
        lines.push(format!("Measure both outside diagonals: {} each.", length_text(look, diagonal)));
    }
    if standing(worked, step).1 {
        lines.push("Of what stands, only the parts near by are drawn.".into());
    }
    for watch in &step.watch {
        lines.push(wording::capital(&assembly::watch(worked, watch)) + ".");
    }
    lines.iter().map(|line| unmarked(line)).collect()
}

/// Joints of the step, like ones counted.
fn joints(worked: &WorkedJob, step: &Step, words: Words) -> String {
    let mut counted: Vec<(String, usize)> = Vec::new();
    for joint in step.joints.iter().filter_map(|j| worked.joints.get(*j)) {
        let called = words.called(worked, joint);
        match counted.iter_mut().find(|c| c.0 == called) {
            Some(known) => known.1 += 1,
            None => counted.push((called, 1)),
        }
    }
    let counted: Vec<String> = counted
        .into_iter()
        .map(|(called, n)| if n > 1 { format!("{n} times {called}") } else { called })
        .collect();
    counted.join("; ")
}

/// What has to be put in beforehand.
fn inserts(worked: &WorkedJob, step: &Step, words: Words) -> Option<String> {
    let mut counted: Vec<(&Item, usize)> = Vec::new();
    for insert in step.joints.iter().filter_map(|j| worked.joints.get(*j)).flat_map(|j| &j.inserts) {
        match counted.iter_mut().find(|c| *c.0 == insert.item) {
            Some(known) => known.1 += insert.at.len(),
            None => counted.push((&insert.item, insert.at.len())),
        }
    }
    let ready: Vec<String> =
        counted.into_iter().map(|(item, n)| format!("{n} × {}", words.item(item))).collect();
    (!ready.is_empty()).then(|| format!("Have ready: {}", ready.join(", ")))
}

/// One step with its cell.
struct StepCell<'a> {
    step: &'a Step,
    /// Its number among the steps, from 1.
    number: usize,
    /// What is to be done.
    lines: &'a [String],
    /// Where it stands.
    at: Rect,
}

/// Writes what is to be done at the foot of a cell; gives the top of it.
fn foot(plate: &mut Plate, lines: &[String], inner: Rect) -> f64 {
    let mut wrapped: Vec<(Vec<Run>, Weight)> = Vec::new();
    for (i, line) in lines.iter().enumerate() {
        let weight = if i == 0 { Weight::SemiBold } else { Weight::Regular };
        let lines = wrap(line, TEXT, weight, inner.width());
        wrapped.extend(lines.iter().map(|line| (stacked(line), weight)));
    }
    let (lines, weights): (Vec<Vec<Run>>, Vec<Weight>) = wrapped.into_iter().unzip();
    let below = base_lines(&lines);
    // White below the last line and above the first.
    let foot = inner.y1 - UNDER_TEXT * TEXT;
    let top = foot - TEXT * (below.last().copied().unwrap_or(0.0) + 1.0);
    for ((line, weight), below) in lines.into_iter().zip(weights).zip(below) {
        plate.runs(
            (inner.x0, top + TEXT * (1.0 + below)),
            line,
            Lettering { weight, ..Lettering::note(TEXT) },
        );
    }
    top
}

/// One step in its cell: a rule above, number, picture, caption at the foot.
fn draw(plate: &mut Plate, worked: &WorkedJob, cell: &StepCell<'_>) {
    let StepCell { step, number, lines, at } = *cell;
    plate.rect(at, plate.narrow, Role::Table);
    let first = plate.marks.len();
    let how = Lettering::title(Lettering::GREAT);
    plate.text((at.x0 + PAD, at.y0 + NUMBER_DROP), number.to_string(), how);
    let inner = at.inflate(-PAD, -PAD);
    let top = foot(plate, lines, inner);
    let number = plate.marks.get(first).map_or(Rect::ZERO, Mark::bounds).inflate(0.5, 0.5);
    let before = plate.marks.len();
    let Some(picture) = Picture::of(worked, step) else { return };
    // Beside the number of the step, unless something would come to stand on it.
    for head in HEADS {
        plate.marks.truncate(before);
        let area = Rect::new(inner.x0, inner.y0 + head, inner.x1, top - OVER_TEXT);
        picture.put(plate, worked, step, area);
        let drawn = plate.marks.iter().skip(before);
        let on_it =
            |mark: &Mark| mark.role == Role::ItemNumber && !mark.bounds().intersect(number).is_zero_area();
        if !drawn.into_iter().any(on_it) {
            break;
        }
    }
}

/// What is seen of a step: standing parts in place, new parts moved out against
/// their way in.
struct Picture {
    /// The lines, full size.
    lines: Vec<ViewLine>,
    /// Flow lines, from and to.
    flows: Vec<(DVec2, DVec2)>,
    /// The lower left corner of it all.
    low: DVec2,
    /// The upper right corner.
    high: DVec2,
}

impl Picture {
    /// That of a step; none where there is nothing to see.
    fn of(worked: &WorkedJob, step: &Step) -> Option<Self> {
        let reach = reach(worked, step);
        let camera = Camera::isometric();
        let mut items: Vec<Viewed<'_>> = Vec::new();
        let mut flows: Vec<(DVec2, DVec2)> = Vec::new();
        let mut place = |index: usize, way: Option<DVec3>| {
            let Some(part) = worked.parts.get(index) else { return };
            let away = way.map_or(DVec3::ZERO, |way| -way * reach);
            items.push(Viewed { solid: &part.solid, at: part.at.moved(away), tag: index });
            if away != DVec3::ZERO {
                let ends = |p: DVec3| (camera.project(p), camera.project(p + away));
                flows.extend(flow(worked, step, index).into_iter().map(ends));
            }
        };
        standing(worked, step).0.into_iter().for_each(|p| place(p, None));
        step.together.iter().for_each(|(p, way)| place(*p, Some(*way)));
        step.adds.iter().zip(&step.ways).for_each(|(p, way)| place(*p, *way));
        let (mut low, mut high) = (DVec2::INFINITY, DVec2::NEG_INFINITY);
        for item in &items {
            if let Some((a, b)) = item.solid.bounds() {
                // Corners of the part's own box, so that slanting parts fit too.
                for i in 0..8_u8 {
                    let pick = |bit: u8, a: f64, b: f64| if i & bit == 0 { a } else { b };
                    let corner = DVec3::new(pick(1, a.x, b.x), pick(2, a.y, b.y), pick(4, a.z, b.z));
                    let at = camera.project(item.at.point(corner));
                    low = low.min(at);
                    high = high.max(at);
                }
            }
        }
        // Flow lines may end where the part that they belong to will stand.
        for end in flows.iter().flat_map(|(from, to)| [*from, *to]) {
            low = low.min(end);
            high = high.max(end);
        }
        let size = high - low;
        let lines = (size.x > 0.0 && size.y > 0.0).then(|| view(&items, camera, HiddenLines::Drop))?;
        Some(Self { lines, flows, low, high })
    }

    /// Draws it as large as its place: standing parts in narrow lines, new parts
    /// heavier, thin flow lines between.
    fn put(&self, plate: &mut Plate, worked: &WorkedJob, step: &Step, area: Rect) {
        let size = self.high - self.low;
        let numbered = numbered(worked, step);
        let marks = numbered.iter().filter_map(|p| worked.parts.get(*p)).map(WorkedPart::mark);
        let long = marks.map(|mark| mark.chars().count()).max().unwrap_or(0) > SHORT_MARK;
        let column = ITEM_COLUMN + if long { LONG_MARK } else { 0.0 };
        let room = (area.width() - 2.0 * column, area.height());
        let factor = (room.0 / size.x).min(room.1 / size.y);
        if factor <= 0.0 {
            return;
        }
        let (w, h) = (size.x * factor, size.y * factor);
        let corner = Point::new(area.center().x - w / 2.0, area.center().y - h / 2.0);
        let on = OnSheet::at_corner(self.low, self.high, corner, factor);
        for (from, to) in &self.flows {
            let mut path = BezPath::new();
            path.move_to(on.point(*from));
            path.line_to(on.point(*to));
            plate.stroke(path, Pen { width: plate.narrow * Plate::FINE, dash: dash::CENTRE }, Role::Centre);
        }
        let pens = ViewPens {
            visible: plate.narrow * Plate::FINE,
            hidden: plate.narrow,
            role: Role::Pictorial,
            view: 0,
        };
        let heavy = plate.wide;
        let new = |tag: usize| (step.adds.contains(&tag) || comes(step, tag)).then_some(heavy);
        project::put(plate, &self.lines, worked, on, pens, new);
        let numbers = project::items(&self.lines, worked, on, &numbered);
        project::number(plate, &numbers, on.rect(self.low, self.high), area, 0);
    }
}

/// The parts of a step that are numbered in its picture.
fn numbered(worked: &WorkedJob, step: &Step) -> Vec<usize> {
    let shown = if step.kind == StepKind::Cut { &step.onto } else { &step.adds };
    let lipping = |p: usize| {
        let source = worked.parts.get(p).map(|part| &part.source);
        matches!(source, Some(crate::joinery::PartSource::Lipping { .. }))
    };
    let joined = |p: &usize| {
        step.joints.iter().filter_map(|j| worked.joints.get(*j)).any(|joint| joint.parts.contains(p))
    };
    // A whole piece that is hung is known by what hangs it.
    let few = step.together.len() <= NUMBERED;
    let moved = step.together.iter().map(|(p, _)| *p).filter(|p| few || joined(p));
    shown.iter().copied().chain(moved).filter(|p| step.kind == StepKind::Lip || !lipping(*p)).collect()
}

/// Whether a part that stands comes in with the step, in a group made up before.
fn comes(step: &Step, part: usize) -> bool {
    step.together.iter().any(|(moved, _)| *moved == part)
}

/// The parts that stay where they are in the picture of a step, and whether
/// others stand that it leaves out: where many stand, only those that the step
/// joins something to and, if that leaves room, what is joined to them.
fn standing(worked: &WorkedJob, step: &Step) -> (Vec<usize>, bool) {
    let all = || step.onto.iter().copied().filter(|p| !step.adds.contains(p) && !comes(step, *p));
    if step.kind != StepKind::Join || all().count() <= MANY {
        return (all().collect(), false);
    }
    let mark = |joined: &mut Vec<bool>, joint: &WorkedJoint| {
        for part in &joint.parts {
            if let Some(it) = joined.get_mut(*part) {
                *it = true;
            }
        }
    };
    let mut near = vec![false; worked.parts.len()];
    step.joints.iter().filter_map(|j| worked.joints.get(*j)).for_each(|joint| mark(&mut near, joint));
    let is = |marked: &[bool], p: usize| marked.get(p) == Some(&true);
    let mut around = near.clone();
    for joint in worked.joints.iter().filter(|joint| joint.parts.iter().any(|p| is(&near, *p))) {
        mark(&mut around, joint);
    }
    let shown: Vec<usize> = all().filter(|p| is(&around, *p)).collect();
    if shown.len() <= MANY { (shown, true) } else { (all().filter(|p| is(&near, *p)).collect(), true) }
}

/// How far new parts are moved out: a third of what the picture shows, mm.
fn reach(worked: &WorkedJob, step: &Step) -> f64 {
    let still = standing(worked, step).0;
    let moved = step.together.iter().map(|(p, _)| p).chain(&step.adds);
    let parts = still.iter().chain(moved).filter_map(|p| worked.parts.get(*p));
    let Some((low, high)) = project::bounds(parts) else { return 0.0 };
    let share = if step.kind == StepKind::Lip { OUT_LIP } else { OUT };
    let (a, b) = extent(Camera::isometric(), low, high);
    (b - a).length() * share * FORESHORTENED
}

/// Points of a part that flow lines start from: where its inserts sit, else the
/// middle of its box.
fn flow(worked: &WorkedJob, step: &Step, index: usize) -> Vec<DVec3> {
    let mut points: Vec<DVec3> = Vec::new();
    for joint in step.joints.iter().filter_map(|j| worked.joints.get(*j)) {
        if joint.parts.contains(&index) {
            let mut at: Vec<DVec3> =
                joint.inserts.iter().flat_map(|i| &i.at).map(|place| place.origin).collect();
            // The outer two of a row say enough.
            if at.len() > 2 {
                at = vec![at[0], at[at.len() - 1]];
            }
            points.extend(at);
        }
    }
    // Of a group only what is joined to the rest tells where it goes.
    let alone = step.adds.contains(&index) || step.joints.is_empty();
    if points.is_empty() && step.kind != StepKind::Lip && alone {
        let part = worked.parts.get(index).map(std::slice::from_ref).unwrap_or_default();
        points.extend(project::bounds(part.iter()).map(|(low, high)| (low + high) * 0.5));
    }
    points
}
