//! One detail: the cut, what is let in, sizes, part numbers and words.

use kurbo::{BezPath, Point, Rect, Vec2};

use super::Detail;
use super::broken::{apart, edges_inside, freehand, inside, lines_inside};
use super::heads::{heads, of_screw, with_cones};
use super::place::{Place, lippings};
use super::sizes::{Size, Window, sizes};
use crate::drawing::kit::dimension::callout::{Callout, callouts};
use crate::drawing::kit::dimension::figure::Figure;
use crate::drawing::kit::dimension::white::White;
use crate::drawing::kit::dimension::{Beside, Form, Manner, Sizes, Stop, place};
use crate::drawing::kit::hatch::{self, Hatch, Leans, Of};
use crate::drawing::kit::project::{self, Item, OnSheet};
use crate::drawing::kit::words::{stacked, unmarked, wrap};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate, base_lines};
use crate::drawing::page::scale::Scale;
use crate::geometry::DVec2;
use crate::geometry::tolerance::HAIR;
use crate::joinery::{self, WorkedJob, WorkedPart};
use crate::model::Job;
use crate::paper::{Anchor, Fixes, Mark, Pen, Role, Run, Shows, Weight, dash};
use crate::solid::{Body, CutRegion, Prism, Viewed, carve, cut_regions, section};
use crate::wording::{Naming, Words};

/// How far beyond all that is hatched the outside reaches, mm.
const BEYOND: f64 = 10.0;
/// Lines of hatching longer than this share of the longest hold the end of a leader
/// well.
const LONG: f64 = 0.45;
/// How far round a detail notes may go, mm: sideways and up and down.
const REACH: (f64, f64) = (80.0, 60.0);
/// Places nearer than this are one, mm.
const SAME: f64 = 0.02;
/// White over the title, and under the words below it, mm.
const OVER_TITLE: f64 = 5.0;
const UNDER_WORDS: f64 = 1.5;
/// The words are as wide as the picture, but between these, mm.
const WORDS_WIDE: (f64, f64) = (60.0, 76.0);

/// Width on paper below which a cut part is blackened, mm.
const THIN: f64 = 1.0;
/// Cap height of the words, mm.
const WORDS: f64 = 2.5;
/// Cap height of the title, mm.
const TITLE: f64 = 5.0;

/// A detail drawn by itself, its ink about the origin.
pub(super) struct Drawn {
    /// The ink.
    pub(super) marks: Vec<Mark>,
    /// All of it.
    pub(super) bounds: Rect,
}

/// Tags of inserts among the items cut.
const INSERTS: usize = usize::MAX / 2;

/// What details are drawn from.
pub(super) struct Source<'a> {
    pub(super) job: &'a Job,
    pub(super) worked: &'a WorkedJob,
    pub(super) look: &'a Look,
    /// How end grain is hatched.
    pub(super) leans: &'a Leans,
}

/// Draws a detail at `scale`, as view number `view` of its sheet.
pub(super) fn draw(from: &Source<'_>, detail: &Detail, scale: Scale, view: u16) -> Option<Drawn> {
    let Source { job, worked, look, leans } = *from;
    let shown = detail.drawn()?;
    let window = Window::of(worked, shown);
    let on = OnSheet::at_corner(window.low, window.high, Point::ZERO, scale.factor);
    let rect = on.rect(window.low, window.high);
    let mut plate = Plate::new(look);
    let shot = Shot { job, worked, shown, on, rect, view, leans };
    let found = cut(&mut plate, &shot);
    let manner = Manner::of(look);
    let list = sizes(worked, shown, &window);
    let mut number = 100 * u32::from(view);
    let rows = rows(&list, &window, on, look);
    let placed = place(rect, &rows, &manner, &mut number);
    plate.marks.extend(placed.marks);
    let beside = around(&plate.marks, rect).x1.max(rect.x1);
    project::number_right(&mut plate, &found.items, Rect { x1: beside, ..rect }, view);
    let let_in: Vec<(String, Point)> =
        found.inserts.iter().map(|(item, at)| (look.words().item(item), *at)).collect();
    note_inserts(&mut plate, &let_in, rect, &manner, &mut number);
    let picture = around(&plate.marks, rect);
    let title = format!("{}  {}", detail.heading(), scale.name);
    words(&mut plate, &shot, &title, lines(worked, detail, shown, look.words()), picture);
    // On a sheet that several share, the title tells whose letter and scale a view has.
    for title in plate.marks.iter_mut().filter(|mark| mark.role == Role::Title) {
        title.shows.view = view;
    }
    let bounds = around(&plate.marks, picture);
    Some(Drawn { marks: plate.marks, bounds })
}

fn around(marks: &[Mark], rect: Rect) -> Rect {
    marks.iter().map(Mark::bounds).fold(rect, |all, b| all.union(b))
}

/// Closed rings on the sheet.
type Rings = [Vec<Point>];

/// What the cut shows, for notes.
#[derive(Default)]
struct Found {
    /// Part numbers and where they point.
    items: Vec<Item>,
    /// What is let in and a place in it, each kind once.
    inserts: Vec<(joinery::Item, Point)>,
}

/// The place drawn, as it lies on the sheet.
struct Shot<'a> {
    job: &'a Job,
    worked: &'a WorkedJob,
    shown: &'a Place,
    on: OnSheet,
    /// The box of what is shown.
    rect: Rect,
    /// The number of its view.
    view: u16,
    /// How end grain is hatched.
    leans: &'a Leans,
}

impl Shot<'_> {
    /// What a mark of some part shows.
    fn shows(&self, part: String) -> Shows {
        Shows { view: self.view, part, ..Shows::default() }
    }
}

/// The cut parts, hatched; what is let in, not hatched; what lies beyond.
fn cut(plate: &mut Plate, shot: &Shot<'_>) -> Found {
    let Shot { worked, shown, on, rect, .. } = *shot;
    let drawn = shown.parts.iter().copied().chain(lippings(worked, shown));
    let parts: Vec<_> =
        drawn.filter_map(|p| worked.parts.get(p).map(|part| (p, part, with_cones(part)))).collect();
    let items: Vec<Viewed<'_>> = parts
        .iter()
        .map(|(tag, part, cones)| Viewed {
            solid: cones.as_ref().unwrap_or(&part.solid),
            at: part.at,
            tag: *tag,
        })
        .collect();
    let seen = section(&items, shown.point, shown.camera);
    let area = vec![freehand(rect)];
    let mut beyond = BezPath::new();
    let inserts = insert_rings(worked, shown, on);
    let taken: Vec<Vec<Point>> = inserts.iter().flat_map(|(_, rings)| rings.iter().cloned()).collect();
    let mut cuts: Vec<Vec<Point>> = seen.regions.iter().flat_map(|region| on_sheet(region, on)).collect();
    cuts.extend(taken.iter().cloned());
    for line in &seen.beyond {
        for (a, b) in apart(on.point(line.a), on.point(line.b), &cuts) {
            inside(&area, a, b, &mut beyond);
        }
    }
    // What is let in stands before what lies beyond.
    let beyond = if taken.is_empty() { beyond } else { outside(&beyond, &taken) };
    // Each line stands by itself, so that close ones can give way.
    plate.stroke_of(loose(&beyond), pen(plate.narrow), Role::Outline, shot.shows(String::new()));
    let mut found =
        Found { items: cut_parts(plate, shot, &seen.regions, &area, &taken), inserts: Vec::new() };
    let_in(plate, shot, inserts, &area, &mut found.inserts);
    found
}

/// The cut parts; gives their numbers.
fn cut_parts(
    plate: &mut Plate,
    shot: &Shot<'_>,
    regions: &[CutRegion],
    area: &Rings,
    taken: &Rings,
) -> Vec<Item> {
    let (worked, on) = (shot.worked, shot.on);
    let mut items = Vec::new();
    let mut drawn: Vec<(Rect, Hatch)> = Vec::new();
    let mut outlined: Vec<(String, Vec<Vec<Point>>)> = Vec::new();
    for region in regions {
        let Some(part) = worked.parts.get(region.tag) else { continue };
        let rings = on_sheet(region, on);
        // Like parts share a number, and a line where they meet.
        let before: Vec<Vec<Point>> = outlined
            .iter()
            .filter(|(mark, _)| *mark == part.mark())
            .flat_map(|(_, known)| known.iter().cloned())
            .collect();
        outlined.push((part.mark(), rings.clone()));
        let index = region.tag;
        let region = Region { index, rings: &rings, area, taken, before: &before };
        if let Some(at) = cut_part(plate, shot, part, &region, &mut drawn) {
            items.push(Item { mark: part.mark(), at });
        }
    }
    items
}

/// What is let in, not hatched; each kind is added once to `named`, with a place in it.
fn let_in(
    plate: &mut Plate,
    shot: &Shot<'_>,
    inserts: Vec<(joinery::Item, Vec<Vec<Point>>)>,
    area: &Rings,
    named: &mut Vec<(joinery::Item, Point)>,
) {
    let mut before: Vec<Vec<Point>> = Vec::new();
    for (item, rings) in inserts {
        let line = alone(&rings, area, &before);
        before.extend(rings.iter().cloned());
        let around = hatch::bounds(&rings);
        // The two sides of what is thin are one line.
        let thin = around.width().min(around.height()) < THIN;
        let role = if thin { Role::Hatch } else { Role::CutOutline };
        plate.stroke_of(line, pen(plate.wide), role, shot.shows(String::new()));
        let at = around.center();
        if !named.iter().any(|(known, _)| *known == item) {
            named.push((item, at));
        }
    }
}

fn pen(width: f64) -> Pen {
    Pen { width, dash: dash::SOLID }
}

/// The lines of a path, each a path piece of its own.
fn loose(path: &BezPath) -> BezPath {
    let mut out = BezPath::new();
    for segment in path.segments() {
        if let kurbo::PathSeg::Line(line) = segment {
            out.move_to(line.p0);
            out.line_to(line.p1);
        }
    }
    out
}

fn on_sheet(region: &CutRegion, on: OnSheet) -> Vec<Vec<Point>> {
    region.rings.iter().map(|ring| ring.iter().map(|p| on.point(*p)).collect()).collect()
}

/// What is cut of one part.
struct Region<'a> {
    /// Which part.
    index: usize,
    rings: &'a Rings,
    /// The area shown.
    area: &'a Rings,
    /// What is let in.
    taken: &'a Rings,
    /// Outlines of like parts drawn before.
    before: &'a Rings,
}

/// One cut part inside the area shown, clear of what is let into it. Gives a
/// point in it for its number.
fn cut_part(
    plate: &mut Plate,
    shot: &Shot<'_>,
    part: &WorkedPart,
    region: &Region<'_>,
    drawn: &mut Vec<(Rect, Hatch)>,
) -> Option<Point> {
    let Region { index, rings, area, taken, before } = *region;
    let around = hatch::bounds(rings).intersect(hatch::bounds(area));
    if around.width() <= 0.0 || around.height() <= 0.0 {
        return None;
    }
    let shows = shot.shows(part.mark());
    let outline = alone(rings, area, before);
    if around.width().min(around.height()) < THIN {
        plate.stroke_of(outline, pen(plate.wide), Role::Hatch, shows);
        return Some(around.center());
    }
    let stock = shot.job.stock.get(part.stock.0);
    let of = Of { part, index, stock, leans: shot.leans };
    let hatch = hatch::of(of, shot.shown.camera, shot.on.factor, around, drawn);
    drawn.push((around, hatch));
    let lines = lines_inside(&hatch::lines(rings, hatch), area);
    // What is let in is not hatched.
    let lines = if taken.is_empty() { lines } else { outside(&lines, taken) };
    let inner = ground(&lines, taken);
    plate.stroke_of(lines, pen(plate.narrow * Plate::FINE), Role::Hatch, shows.clone());
    let (outline, solid) = hatch::lips(&outline, rings).unwrap_or((outline, BezPath::new()));
    if !solid.elements().is_empty() {
        plate.fill(solid, 0.0, Role::Hatch);
    }
    plate.stroke_of(outline, pen(plate.wide * Plate::CUT), Role::CutOutline, shows.clone());
    let broken = edges_inside(area, rings);
    plate.stroke_of(broken, pen(plate.narrow), Role::Outline, shows);
    Some(inner.unwrap_or(around.center()))
}

/// The outline of `rings` inside the area shown, but for what lies along the
/// outlines drawn `before`.
fn alone(rings: &Rings, area: &Rings, before: &Rings) -> BezPath {
    if before.is_empty() {
        return edges_inside(rings, area);
    }
    let mut path = BezPath::new();
    for ring in rings {
        for (i, &a) in ring.iter().enumerate() {
            for (from, to) in apart(a, ring[(i + 1) % ring.len()], before) {
                inside(area, from, to, &mut path);
            }
        }
    }
    path
}

/// The straight lines of a path outside some rings.
fn outside(lines: &BezPath, rings: &[Vec<Point>]) -> BezPath {
    let far = hatch::bounds(rings).union(kurbo::Shape::bounding_box(lines)).inflate(BEYOND, BEYOND);
    let mut all = rings.to_vec();
    all.push(vec![
        Point::new(far.x0, far.y0),
        Point::new(far.x1, far.y0),
        Point::new(far.x1, far.y1),
        Point::new(far.x0, far.y1),
    ]);
    lines_inside(lines, &all)
}

/// A point well inside hatched ground for a leader that comes from the right:
/// the middle of the line farthest to the right among the longer ones, where
/// the leader clears what is let in.
fn ground(lines: &BezPath, taken: &[Vec<Point>]) -> Option<Point> {
    let lines = || {
        lines.segments().filter_map(|segment| match segment {
            kurbo::PathSeg::Line(line) => Some(line),
            kurbo::PathSeg::Quad(_) | kurbo::PathSeg::Cubic(_) => None,
        })
    };
    let longest = lines().map(kurbo::Line::length).reduce(f64::max)?;
    let clear = |p: Point| {
        !taken.iter().any(|ring| {
            let (low, high) = ring.iter().fold((f64::MAX, f64::MIN), |(l, h), q| (l.min(q.y), h.max(q.y)));
            low - 1.0 < p.y && p.y < high + 1.0 && ring.iter().any(|q| q.x > p.x)
        })
    };
    let rank = |line: &kurbo::Line| {
        let at = line.midpoint();
        (clear(at), line.length() > LONG * longest, at.x)
    };
    let better = |a: kurbo::Line, b: kurbo::Line| {
        let (ra, rb) = (rank(&a), rank(&b));
        let ahead = (rb.0, rb.1).cmp(&(ra.0, ra.1)).then(rb.2.total_cmp(&(ra.2 + HAIR)));
        if ahead.is_gt() { b } else { a }
    };
    lines().reduce(better).map(|line| line.midpoint())
}

/// What is let in and cut here, and its rings on the sheet.
fn insert_rings(worked: &WorkedJob, shown: &Place, on: OnSheet) -> Vec<(joinery::Item, Vec<Vec<Point>>)> {
    let mut list = Vec::new();
    let heads = heads(worked, shown, on);
    for insert in shown.joints.iter().filter_map(|j| worked.joints.get(*j)).flat_map(|j| &j.inserts) {
        let Some(solid) = insert.body.clone().and_then(|body| carve(&Body::Prism(body), &[]).ok()) else {
            continue;
        };
        for at in &insert.at {
            let head = of_screw(&heads, at.origin);
            // Under its head begins what is seen of the shank.
            let shank =
                insert.body.clone().zip(head).and_then(|(body, head)| {
                    carve(&Body::Prism(Prism { from: head.deep, ..body }), &[]).ok()
                });
            let item = Viewed { solid: shank.as_ref().unwrap_or(&solid), at: *at, tag: INSERTS };
            let cut = cut_regions(&[item], shown.point, shown.camera);
            let mut rings: Vec<Vec<Point>> = cut.iter().flat_map(|r| on_sheet(r, on)).collect();
            rings.extend(head.map(|head| head.ring.clone()));
            if !rings.is_empty() {
                list.push((insert.item.clone(), rings));
            }
        }
    }
    list
}

/// Notes on leaders that say what is let in.
fn note_inserts(
    plate: &mut Plate,
    let_in: &[(String, Point)],
    rect: Rect,
    manner: &Manner,
    number: &mut u32,
) {
    if let_in.is_empty() {
        return;
    }
    let drawn = around(&plate.marks, rect);
    let mut white = White::new(drawn.inflate(REACH.0, REACH.1));
    white.ink(&plate.marks);
    white.fill(rect);
    white.sum();
    let notes: Vec<Callout> = let_in
        .iter()
        .map(|(name, at)| Callout {
            at: vec![*at],
            lines: vec![stacked(&unmarked(name))],
            value: None,
            fixes: Fixes::Nothing,
            spare: false,
        })
        .collect();
    callouts(&notes, &mut white, drawn, manner, number, &mut plate.marks);
}

/// Sizes as rows round the window: across above or below, up at the left.
fn rows(list: &[Size], window: &Window, on: OnSheet, look: &Look) -> Vec<Sizes> {
    let middle = (window.low + window.high) * 0.5;
    let mut rows = Vec::new();
    for side in [Beside::Above, Beside::Below, Beside::Left] {
        let here = |s: &&Size| match side {
            Beside::Above => s.axis == 0 && s.across.middle() >= middle.y - HAIR,
            Beside::Below => s.axis == 0 && s.across.middle() < middle.y - HAIR,
            Beside::Left | Beside::Right => s.axis == 1,
        };
        let mut left: Vec<&Size> = list.iter().filter(here).collect();
        left.sort_by(|a, b| a.from.total_cmp(&b.from).then(a.to.total_cmp(&b.to)));
        while !left.is_empty() {
            let mut chain: Vec<&Size> = Vec::new();
            left.retain(|size| {
                let goes_on = chain.last().is_none_or(|last| (last.to - size.from).abs() < SAME);
                if goes_on {
                    chain.push(size);
                }
                !goes_on
            });
            rows.push(row(side, &chain, on, look));
        }
    }
    rows
}

/// One row of sizes that go on from one another.
fn row(side: Beside, chain: &[&Size], on: OnSheet, look: &Look) -> Sizes {
    let across = side.across();
    let at = |v: f64| if across { on.point(DVec2::new(v, 0.0)).x } else { on.point(DVec2::new(0.0, v)).y };
    let foot = |size: &Size| {
        let v = if matches!(side, Beside::Above | Beside::Right) { size.across.to } else { size.across.from };
        if across { on.point(DVec2::new(0.0, v)).y } else { on.point(DVec2::new(v, 0.0)).x }
    };
    let mut stops: Vec<Stop> = Vec::new();
    let mut figures = Vec::new();
    for (i, size) in chain.iter().enumerate() {
        if i == 0 {
            stops.push(Stop { at: at(size.from), foot: foot(size) });
        }
        stops.push(Stop { at: at(size.to), foot: foot(size) });
        let mm = size.to - size.from;
        let cutter = size.by_cutter && look.words().is_metric_bit(mm);
        let figure = if cutter { Figure::cutter(look, mm) } else { Figure::length(look, mm, Fixes::Nothing) };
        figures.push(Some(figure));
    }
    if !across {
        stops.reverse();
        figures.reverse();
    }
    Sizes { side, stops, figures, form: Form::Chain, outermost: false }
}

/// Title, what the joint is, where it is found, how the machine is set.
fn words(plate: &mut Plate, shot: &Shot<'_>, title: &str, lines: Lines, picture: Rect) {
    let rect = shot.rect;
    let middle = rect.center().x;
    let mut y = picture.y1 + OVER_TITLE + TITLE;
    let how = Lettering::title(TITLE).anchored(Anchor::Middle);
    plate.runs((middle, y), stacked(title), how);
    let wide = picture.width().clamp(WORDS_WIDE.0, WORDS_WIDE.1);
    let mut set: Vec<(Vec<Run>, Weight)> = Vec::new();
    for (text, weight) in lines.into_iter().filter(|(text, _)| !text.is_empty()) {
        set.extend(wrap(&unmarked(&text), WORDS, weight, wide).iter().map(|line| (stacked(line), weight)));
    }
    y += UNDER_WORDS + 2.0 * WORDS;
    let runs: Vec<Vec<Run>> = set.iter().map(|(line, _)| line.clone()).collect();
    for ((line, weight), below) in set.into_iter().zip(base_lines(&runs)) {
        let how = Lettering { weight, ..Lettering::note(WORDS) }.anchored(Anchor::Middle);
        plate.runs((middle, y + WORDS * below), line, how);
    }
}

/// Lines under a detail, not yet wrapped, each as heavy as it is set.
type Lines = [(String, Weight); 3];

/// What the joints are, where they are found, how the machine is set.
fn lines(worked: &WorkedJob, detail: &Detail, shown: &Place, words: Words) -> Lines {
    let joints = shown.joints.iter().filter_map(|j| worked.joints.get(*j));
    let called = once(joints.map(|joint| words.called(worked, joint)));
    [
        (called.join("; "), Weight::SemiBold),
        (found_at(worked, detail, shown), Weight::Regular),
        (settings(worked, detail, shown, words).join("; "), Weight::Regular),
    ]
}

/// The same text is told once.
fn once(texts: impl Iterator<Item = String>) -> Vec<String> {
    texts.fold(Vec::new(), |mut told, text| {
        if !told.contains(&text) {
            told.push(text);
        }
        told
    })
}

/// The settings of the joints of the place drawn; where others are told with it and
/// all agree, by the first and the second of the parts they name.
fn settings(worked: &WorkedJob, detail: &Detail, shown: &Place, words: Words) -> Vec<String> {
    let of = |place: &Place, naming: Naming| -> Vec<String> {
        let joints = place.joints.iter().filter_map(|j| worked.joints.get(*j));
        let settings = joints.map(|joint| words.setting_of(worked, joint, naming));
        once(settings.filter(|setting| !setting.is_empty()))
    };
    let ordered = |place: &Place| {
        let joints = place.joints.iter().filter_map(|j| worked.joints.get(*j));
        joints.into_iter().all(|joint| joint.parts == place.parts)
    };
    let turned = of(shown, Naming::InTurn);
    let agree = detail.places.iter().all(|place| ordered(place) && of(place, Naming::InTurn) == turned);
    if detail.places.len() > 1 && agree { turned } else { of(shown, Naming::ByName) }
}

/// The part numbers of every place, the one drawn first.
fn found_at(worked: &WorkedJob, detail: &Detail, shown: &Place) -> String {
    let marks = |place: &Place| -> String {
        let marks = place.parts.iter().filter_map(|p| worked.parts.get(*p)).map(WorkedPart::mark);
        marks.collect::<Vec<_>>().join(" + ")
    };
    let mut counted: Vec<(String, usize)> = vec![(marks(shown), 0)];
    for place in &detail.places {
        let text = marks(place);
        match counted.iter_mut().find(|c| c.0 == text) {
            Some(known) => known.1 += 1,
            None => counted.push((text, 1)),
        }
    }
    let list: Vec<String> =
        counted.into_iter().map(|(text, n)| if n > 1 { format!("{text} ({n}×)") } else { text }).collect();
    match detail.places.len() {
        1 if shown.parts.len() == 1 => format!("Part {}", list.join(", ")),
        1 => format!("Parts {}", list.join(", ")),
        n => format!("{n} places: parts {}", list.join(", ")),
    }
}

/// The ink of a drawn detail, moved.
pub(super) fn at(drawn: &Drawn, by: Vec2) -> Vec<Mark> {
    let mut marks = drawn.marks.clone();
    for mark in &mut marks {
        mark.shift(by);
    }
    marks
}
