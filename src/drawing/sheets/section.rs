//! Section A-A: a vertical cut through the piece from front to back.

use kurbo::{BezPath, Line, Point, Rect};

use super::detail::Detail;
use super::detail::circle::{View, circles};
use super::general::too_small::too_small;
use super::lists::cutting_list::flow;
use super::section_shelves::{CutThrough, shelves_told};
use super::section_sizes::{Placed, Subject};
use crate::drawing::kit::hatch::{self, Hatch, Leans, Of};
use crate::drawing::kit::opening::opens;
use crate::drawing::kit::project::{self, Item, OnSheet, ViewPens, bounds, standing};
use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::{on_sheet, plain};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate};
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::geometry::{DVec2, DVec3};
use crate::joinery::{Cut, WorkedJob, WorkedPart};
use crate::model::{Job, PieceId};
use crate::paper::{Anchor, Pen, Role, Shows, dash};
use crate::problem::Problem;
use crate::solid::{Body, Camera, CutRegion, Viewed, section as cut};
use crate::wording::{Naming, Words};

/// Width on paper below which a cut part is blackened, mm (ISO 128-50 from
/// memory: thin parts solid).
const THIN: f64 = 1.0;

/// A part counts as running across where it reaches at least this share of its height
/// and depth: of an upright the cut would show only a side.
const ACROSS: f64 = 0.25;
/// A turning whose axis lies within this share of the width from the middle stands in
/// the middle.
const MIDDLE: f64 = 0.02;
/// Cuts narrower than this share of the stretch are bores and mortises, which the cut
/// can miss by moving aside.
const NARROW: f64 = 0.2;
/// White kept to them, mm.
const ROUND_BORE: f64 = 1.0;
/// How far aside the cut is tried, in shares of the stretch, the nearest first.
const ASIDE: [f64; 8] = [0.06, 0.1, 0.14, 0.18, -0.06, -0.1, -0.14, -0.18];
/// From the middle of the title to the scale beside it, mm.
const SCALE_ASIDE: f64 = 11.0;

/// Line to line of what is filled in, mm: at 45 degrees whatever it is (the general
/// hatch of ISO 128-50, from memory), closer than wood.
const FILL_HATCH: f64 = 0.9;
const FILL_ANGLE: f64 = 45.0;

/// Where the piece is cut: the x of piece coordinates that meets most parts
/// across, and of those the widest stretch's middle; `None` without parts.
/// Uprights that the cut would only split along their length do not count:
/// they would hide what is joined to them.
pub(in crate::drawing) fn plane(worked: &WorkedJob, piece: PieceId) -> Option<f64> {
    if let Some(axis) = turned_middle(worked, piece) {
        return Some(axis);
    }
    let reaches: Vec<(DVec3, DVec3)> = worked
        .parts
        .iter()
        .filter(|part| part.piece == piece)
        .filter_map(|part| bounds(std::iter::once(part)))
        .collect();
    let spans: Vec<(f64, f64)> = reaches.iter().map(|(low, high)| (low.x, high.x)).collect();
    let across: Vec<bool> = reaches
        .iter()
        .map(|(low, high)| {
            let size = *high - *low;
            size.x >= ACROSS * size.y.max(size.z)
        })
        .collect();
    let mut borders: Vec<f64> = spans.iter().flat_map(|s| [s.0, s.1]).collect();
    borders.sort_by(f64::total_cmp);
    borders
        .windows(2)
        .filter(|pair| pair[1] - pair[0] > 0.5)
        .map(|pair| {
            let x = f64::midpoint(pair[0], pair[1]);
            let met = spans.iter().zip(&across).filter(|(s, across)| **across && s.0 < x && x < s.1).count();
            (met, pair[1] - pair[0], x)
        })
        .max_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(b.2.total_cmp(&a.2)))
        .map(|(_, wide, x)| beside_bores(worked, piece, x, wide))
}

/// The axis of a turned part that stands in the middle of its piece: a turning is
/// cut through its axis (common practice, no source).
fn turned_middle(worked: &WorkedJob, piece: PieceId) -> Option<f64> {
    let own = || worked.parts.iter().filter(|part| part.piece == piece);
    let (low, high) = bounds(own())?;
    let middle = f64::midpoint(low.x, high.x);
    own()
        .filter(|part| matches!(part.body, Body::Turning(_)))
        .filter_map(|part| bounds(std::iter::once(part)))
        .map(|(a, b)| f64::midpoint(a.x, b.x))
        .find(|axis| (axis - middle).abs() < MIDDLE * (high.x - low.x))
}

/// Off the middle `x` of a stretch `wide` across, so that the cut misses an insert
/// or a centre line there: where it goes through fewest bores and mortises.
fn beside_bores(worked: &WorkedJob, piece: PieceId, x: f64, wide: f64) -> f64 {
    let narrow: Vec<(f64, f64)> = worked
        .parts
        .iter()
        .filter(|part| part.piece == piece)
        .flat_map(|part| part.cuts.iter().filter_map(|cut| reach(part, cut)))
        .filter(|(low, high)| high - low < NARROW * wide)
        .collect();
    let met =
        |at: f64| narrow.iter().filter(|(low, high)| low - ROUND_BORE < at && at < high + ROUND_BORE).count();
    ASIDE.map(|share| x + wide * share).into_iter().min_by_key(|at| met(*at)).unwrap_or(x)
}

/// From where to where a cut reaches along x of the piece.
fn reach(part: &WorkedPart, cut: &Cut) -> Option<(f64, f64)> {
    let (low, high) = cut.shape.outline.bounds()?;
    let corners = [low, DVec2::new(high.x, low.y), high, DVec2::new(low.x, high.y)];
    let along = corners.iter().flat_map(|c| [c.extend(cut.shape.from), c.extend(cut.shape.to)]);
    let all = along.map(|point| part.at.point(cut.shape.at.point(point)).x);
    Some(all.fold((f64::MAX, f64::MIN), |(l, h), x| (l.min(x), h.max(x))))
}

/// What the section of a piece is called: A, and A2 that of the second piece of a
/// job, since details take the letters that follow.
pub(in crate::drawing) fn letter(piece: PieceId) -> String {
    if piece.0 == 0 { "A".to_owned() } else { format!("A{}", piece.0 + 1) }
}

/// The sheet of the section, and one of its joints where they do not go beside it.
pub(in crate::drawing) fn section(
    job: &Job,
    worked: &WorkedJob,
    piece: PieceId,
    look: &Look,
    details: &mut [Detail],
) -> Result<Vec<SheetBody>, Problem> {
    let name = job.pieces.get(piece.0).map_or("", |p| p.name.as_str());
    let all = bounds(worked.parts.iter().filter(|p| p.piece == piece));
    let (Some((low, high)), Some(x)) = (all, plane(worked, piece)) else {
        return Err(Problem::warning("nothing-to-draw", format!("`{name}` has no parts to cut")));
    };
    let mut table = constructions(worked, piece, look.words());
    if job.pieces.len() > 1 {
        table.title = format!("{name}: constructions");
    }
    let moving = opens(worked, piece);
    let Some(placed) = (Subject { worked, piece, x, corners: (low, high), look, moving: &moving }).placed()
    else {
        return Err(too_small(name, look));
    };
    let Placed { scale, on, rect, past, .. } = placed;
    let leans = &Leans::of(worked, piece);
    let shot = Shot { job, worked, piece, at: DVec3::new(x, 0.0, 0.0), on, rect, past, leans };
    let letter = letter(piece);
    let mut plate = whole(&shot, &letter, placed, look);
    mark_details(&mut plate, &shot, details, look);
    // After the circles, which have fewer places.
    shelves_told(&mut plate, &CutThrough { worked, piece, x, on, rect, moving: &moving }, look);
    let mut bodies = vec![SheetBody {
        scale: Some(scale),
        marks: plate.marks,
        ..SheetBody::new(SheetKind::Section, format!("{name}: section {letter}-{letter}"))
    }];
    // The constructions are a list, and stand with the lists: beside the section is room
    // for the details that are marked on it.
    if !table.rows.is_empty() {
        bodies.extend(flow(&[table], SheetKind::Notes, "Notes", look));
    }
    Ok(bodies)
}

/// The section with its sizes and title.
fn whole(shot: &Shot<'_>, letter: &str, placed: Placed, look: &Look) -> Plate {
    let mut plate = Plate::new(look);
    draw(&mut plate, shot);
    plate.marks.extend(placed.sizes);
    let title = Lettering::title(Lettering::LARGE).anchored(Anchor::Middle);
    let middle = shot.rect.center().x;
    plate.text((middle, placed.title), format!("{letter}-{letter}"), title);
    let beside = (middle + SCALE_ASIDE, placed.title);
    plate.text(beside, placed.scale.name, Lettering::note(look.small()));
    plate
}

/// The circles of the details whose joints the section cuts.
fn mark_details(plate: &mut Plate, shot: &Shot<'_>, details: &mut [Detail], look: &Look) {
    let camera = Camera::LEFT;
    let cut_here = |parts: &[usize], level: f64| cuts(shot.worked, camera, parts, level);
    let views = [View { camera, on: shot.on, level: Some(camera.toward().dot(shot.at)) }];
    circles(plate, details, &cut_here, &views, look.room().space, &[look.room().block]);
}

/// Whether a cut at `level` along the line of sight goes through every one of
/// some parts.
fn cuts(worked: &WorkedJob, camera: Camera, parts: &[usize], level: f64) -> bool {
    let through = |part: &WorkedPart| {
        let sight = camera.toward();
        let mut along = part.solid.points.iter().map(|p| sight.dot(part.at.point(*p)));
        let Some(first) = along.next() else { return false };
        let (low, high) = along.fold((first, first), |(a, b), d| (a.min(d), b.max(d)));
        low < level && level < high
    };
    parts.iter().filter_map(|p| worked.parts.get(*p)).all(through)
}

/// A piece cut through, as it lies on the sheet.
struct Shot<'a> {
    job: &'a Job,
    worked: &'a WorkedJob,
    piece: PieceId,
    /// A point of the plane it is cut in.
    at: DVec3,
    on: OnSheet,
    /// The box round it.
    rect: Rect,
    /// How far sizes above it and below it reach past its right side.
    past: f64,
    /// How end grain is hatched.
    leans: &'a Leans,
}

/// What lies beyond, what is cut, and item numbers.
fn draw(plate: &mut Plate, shot: &Shot<'_>) {
    let Shot { worked, piece, at, on, rect, .. } = *shot;
    let items = standing(worked, piece);
    let found = cut(&items, at, Camera::LEFT);
    let pens = ViewPens { visible: plate.narrow, hidden: plate.narrow, role: Role::Outline, view: 1 };
    let rings = |region: &CutRegion| -> Vec<Vec<Point>> {
        region.rings.iter().map(|ring| ring.iter().map(|p| on.point(*p)).collect()).collect()
    };
    project::put(plate, &found.beyond, worked, on, pens, |_| None);
    let mut numbers: Vec<Item> = Vec::new();
    let mut before = Before::default();
    for region in &found.regions {
        let Some(part) = worked.parts.get(region.tag) else { continue };
        let rings = rings(region);
        let around = hatch::bounds(&rings);
        cut_part(plate, shot, region.tag, &rings, &mut before);
        if !numbers.iter().any(|item| item.mark == part.mark()) {
            numbers.push(Item { mark: part.mark(), at: around.center() });
        }
    }
    // A column higher than the section rises beside the sizes above it and below it.
    let higher = project::column_height(numbers.len()) > rect.height();
    let right = Rect { x1: rect.x1 + if higher { shot.past } else { 0.0 }, ..rect };
    project::number_right(plate, &numbers, right, 1);
}

/// What has been drawn of the parts before.
#[derive(Default)]
struct Before {
    /// Their boxes and hatches.
    drawn: Vec<(Rect, Hatch)>,
    /// Their sides, each with its part's number.
    sides: Vec<(String, Line)>,
}

/// One part that is cut: hatched, or where it is thin black.
fn cut_part(plate: &mut Plate, shot: &Shot<'_>, index: usize, rings: &[Vec<Point>], before: &mut Before) {
    let Some(part) = shot.worked.parts.get(index) else { return };
    let Before { drawn, sides } = before;
    let outline = hatch::outline(rings);
    let around = hatch::bounds(rings);
    let shows = Shows { view: 1, part: part.mark(), ..Shows::default() };
    if around.width().min(around.height()) < THIN {
        // Its two sides are one line.
        plate.fill(outline.clone(), 0.0, Role::Hatch);
        plate.stroke_of(outline, Pen { width: plate.narrow, dash: dash::SOLID }, Role::Hatch, shows);
        return;
    }
    let of = Of { part, index, stock: shot.job.stock.get(part.stock.0), leans: shot.leans };
    let hatch = hatch::of(of, Camera::LEFT, shot.on.factor, around, drawn);
    hatched(plate, rings, hatch, &filled(part, shot.at, shot.on), &shows);
    drawn.push((around, hatch));
    let pen = Pen { width: plate.wide * Plate::CUT, dash: dash::SOLID };
    let own = once(sides, &part.mark(), rings).unwrap_or(outline);
    let (own, solid) = hatch::lips(&own, rings).unwrap_or((own, BezPath::new()));
    if !solid.elements().is_empty() {
        plate.fill(solid, 0.0, Role::Hatch);
    }
    plate.stroke_of(own, pen, Role::CutOutline, shows);
}

/// The hatch of a cut part. What is filled is no wood: it leaves the hatch of that.
fn hatched(plate: &mut Plate, rings: &[Vec<Point>], hatch: Hatch, filled: &[Vec<Vec<Point>>], shows: &Shows) {
    let pen = Pen { width: plate.narrow * Plate::FINE, dash: dash::SOLID };
    let wood: Vec<Vec<Point>> = rings.iter().chain(filled.iter().flatten()).cloned().collect();
    plate.stroke_of(hatch::lines(&wood, hatch), pen, Role::Hatch, shows.clone());
    for fill in filled {
        let close = Hatch { angle: FILL_ANGLE, spacing: FILL_HATCH };
        plate.stroke_of(hatch::lines(fill, close), pen, Role::Hatch, shows.clone());
    }
}

/// What the cut shows of the rings and hollows filled in a turned part, each in
/// rings on the sheet.
fn filled(part: &WorkedPart, at: DVec3, on: OnSheet) -> Vec<Vec<Vec<Point>>> {
    let Body::Turning(turning) = &part.body else { return Vec::new() };
    let solids: Vec<_> = part.fills.iter().filter_map(|fill| fill.solid(turning)).collect();
    let regions = solids
        .iter()
        .flat_map(|solid| cut(&[Viewed { solid, at: part.at, tag: 0 }], at, Camera::LEFT).regions);
    let ring = |ring: &Vec<DVec2>| ring.iter().map(|p| on.point(*p)).collect();
    regions.map(|region| region.rings.iter().map(ring).collect()).collect()
}

/// What is left of an outline where parts of the same number, such as layers on one
/// another, have drawn some of its sides already; `None` where they have not. Its
/// sides are added to `drawn`.
fn once(drawn: &mut Vec<(String, Line)>, mark: &str, rings: &[Vec<Point>]) -> Option<BezPath> {
    let sides = rings.iter().flat_map(|ring| {
        let next = ring.iter().cycle().skip(1);
        ring.iter().zip(next).map(|(a, b)| Line::new(*a, *b))
    });
    let sides: Vec<Line> = sides.collect();
    let mut path = BezPath::new();
    let mut shared = false;
    for side in &sides {
        let left = drawn.iter().filter(|(of, _)| of == mark).fold(vec![*side], |left, (_, other)| {
            left.into_iter().flat_map(|piece| beyond(piece, *other)).collect()
        });
        shared |= left.as_slice() != [*side];
        for piece in left {
            path.move_to(piece.p0);
            path.line_to(piece.p1);
        }
    }
    drawn.extend(sides.into_iter().map(|side| (mark.to_owned(), side)));
    shared.then_some(path)
}

/// What of a line lies beside another that runs along it.
fn beyond(line: Line, other: Line) -> Vec<Line> {
    /// Nearer than this two lines are one, mm of paper.
    const SAME: f64 = 0.01;
    let along = line.p1 - line.p0;
    let long = along.hypot();
    if long < SAME {
        return Vec::new();
    }
    let dir = along / long;
    let (p, q) = (other.p0 - line.p0, other.p1 - line.p0);
    let (from, to) = (dir.dot(p).min(dir.dot(q)), dir.dot(p).max(dir.dot(q)));
    if dir.cross(p).abs() > SAME || dir.cross(q).abs() > SAME || to < SAME || from > long - SAME {
        return vec![line];
    }
    let at = |s: f64| line.p0 + dir * s;
    let ends = [(0.0, from), (to, long)];
    ends.into_iter().filter(|(a, b)| b - a > SAME).map(|(a, b)| Line::new(at(a), at(b))).collect()
}

/// The joints of the piece in words: like ones together.
fn constructions(worked: &WorkedJob, piece: PieceId, words: Words) -> Table {
    let columns = vec![Column::words("Joint"), Column::words("Between"), Column::words("Setting")];
    let mut table = Table::new("Constructions", columns);
    let mut rows: Vec<(String, Vec<String>, String)> = Vec::new();
    for joint in &worked.joints {
        let marks: Vec<String> = joint
            .parts
            .iter()
            .filter_map(|p| worked.parts.get(*p))
            .filter(|part| part.piece == piece)
            .map(WorkedPart::mark)
            .collect();
        if marks.is_empty() {
            continue;
        }
        let called = words.called(worked, joint);
        let pair = marks.join(" + ");
        let setting = words.setting_of(worked, joint, Naming::InTurn);
        match rows.iter_mut().find(|row| row.0 == called && row.2 == setting) {
            Some(row) if !row.1.contains(&pair) => row.1.push(pair),
            Some(_) => {}
            None => rows.push((called, vec![pair], setting)),
        }
    }
    for (called, pairs, setting) in rows {
        table.rows.push(Row::Cells(vec![on_sheet(&called), plain(pairs.join(", ")), on_sheet(&setting)]));
    }
    table
}
