//! Templates on paper: one tile to a sheet, with check bars, crosses, a key and
//! what it is.

use kurbo::{Affine, BezPath, Point, Rect, Shape, Size, Vec2};

use super::ink::Template;
use super::label::arrow;
use super::shape::templates;
use super::tile::{Grid, clip};
use crate::drawing::kit::dimension::Manner;
use crate::drawing::kit::dimension::callout::{Callout, callouts};
use crate::drawing::kit::dimension::ink::pen;
use crate::drawing::kit::dimension::white::White;
use crate::drawing::kit::words::{elide, wrap};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate};
use crate::drawing::page::scale::{Scale, series};
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::geometry::tolerance::NOISE;
use crate::machining::Machined;
use crate::measure::{INCH, Unit};
use crate::paper::{Anchor, Ink, Mark, Role, Text, Weight};
use crate::problem::Problem;

/// A check bar, to be held against the rule that the shop has.
#[derive(Clone, Copy, Debug)]
struct Gauge {
    /// Its length, mm.
    long: f64,
    /// Stretches of it, and after how many of them a stroke is long.
    parts: (u8, u8),
    /// Its length in words.
    words: &'static str,
}

impl Gauge {
    /// That of a unit: 100 mm by tens, or 4 inches by quarters.
    fn of(unit: Unit) -> Self {
        match unit {
            Unit::Mm => Self { long: 100.0, parts: (10, 5), words: "100 mm" },
            Unit::Inch => Self { long: 4.0 * INCH, parts: (16, 4), words: "4 in" },
        }
    }
}

/// Width of the strip beside the window in which the upright bar stands, mm.
const STRIP: f64 = 11.0;
/// Half length of the arms of the crosses, mm.
const ARM: f64 = 5.0;
/// Height of the panel with words, key and level bar, mm.
const PANEL: f64 = 37.0;
/// Width and height of the key with the grain arrow, mm.
const KEY: Size = Size::new(32.0, 27.0);
/// From base line to base line of the words, mm.
const LINE: f64 = 4.0;
/// White between the drawing, the panel and its key, mm.
const BETWEEN: f64 = 4.0;
/// From the left end of the strip to the upright bar, and from there back to its
/// words, mm.
const IN_STRIP: f64 = 7.0;
const BAR_WORDS: f64 = 3.0;
/// Length of the strokes of a bar: at its ends and middle, and between, mm.
const STROKES: (f64, f64) = (2.0, 1.0);
/// What the words beside a bar need, mm.
const WORDS_WIDE: f64 = 14.0;
/// From the level bar up to its words where they have no room beside it, mm.
const OVER_BAR: f64 = 3.2;
/// White kept above the level bar, mm.
const KEEP_BAR: f64 = 6.0;
/// From the lower edge of the panel to the level bar, mm.
const BAR_FOOT: f64 = 2.5;
/// The words of the panel are no wider than is read at a glance, mm.
const WIDEST: f64 = 110.0;
/// What the grain arrow takes at the foot of the key, mm.
const KEY_FOOT: f64 = 8.0;
/// The middle of the grain arrow from the lower right corner of the key, and half its
/// length upright and level, mm.
const KEY_ARROW: (f64, f64) = (7.0, 3.0);
const KEY_HALF: (f64, f64) = (3.2, 7.0);
/// White between what a leader points at and other leaders, mm.
const CLEAR: f64 = 4.0;
/// Smaller than this nothing is seen in the key, mm.
const SEEN: f64 = 0.8;

/// More tiles than this nobody joins true.
const MOST: usize = 60;

/// Height of the words, and of number and name, mm.
const TEXT: f64 = Lettering::SMALL;
const NAME: f64 = Lettering::MIDDLE;

/// Where things stand on a template sheet.
#[derive(Clone, Copy, Debug)]
struct Layout {
    /// The drawing.
    window: Rect,
    /// Words, key and level bar.
    panel: Rect,
    /// Left end of the strip of the upright bar.
    strip: f64,
    /// The bars.
    gauge: Gauge,
}

/// The panel goes beside the title block where a bar fits there, else above it.
fn layout(look: &Look) -> Layout {
    let room = look.room();
    let (above, beside) = (room.above(), room.beside());
    let x0 = above.x0 + STRIP;
    let gauge = Gauge::of(look.unit);
    if beside.width() >= gauge.long + 2.0 {
        let panel = Rect::new(beside.x0, beside.y1 - PANEL, beside.x1, beside.y1);
        return Layout { window: Rect { x0, ..above }, panel, strip: above.x0, gauge };
    }
    let panel = Rect { y0: above.y1 - PANEL, ..above };
    Layout { window: Rect::new(x0, above.y0, above.x1, panel.y0 - BETWEEN), panel, strip: above.x0, gauge }
}

/// The template sheets of a job, and which parts would need more tiles than can
/// be joined.
pub(in crate::drawing) fn template_sheets(
    machined: &Machined<'_>,
    look: &Look,
) -> (Vec<SheetBody>, Vec<Problem>) {
    let layout = layout(look);
    let grid = |content: Rect| Grid::over(content, layout.window.size());
    let (mut sheets, mut problems) = (Vec::new(), Vec::new());
    for template in templates(machined, look, grid) {
        let grid = grid(template.content);
        if grid.count() > MOST {
            problems.push(too_many(&template, &grid, look));
            continue;
        }
        // Where nothing is drawn, nothing is printed.
        let tiles: Vec<(usize, Vec<Mark>)> = (0..grid.count())
            .map(|i| (i, tile(&template, grid.window(i))))
            .filter(|(_, m)| inked(m))
            .collect();
        let used: Vec<usize> = tiles.iter().map(|(i, _)| *i).collect();
        for (number, (i, marks)) in tiles.into_iter().enumerate() {
            let tile = Tile { template: &template, grid: &grid, used: &used, index: i, number: number + 1 };
            sheets.push(sheet(&tile, marks, &layout, look));
        }
    }
    (sheets, problems)
}

/// The problem that a template takes too many sheets.
fn too_many(template: &Template, grid: &Grid, look: &Look) -> Problem {
    let (name, paper) = (&template.name, look.paper.name());
    let message = format!(
        "the full-size template of `{name}` would take {} sheets of {paper} paper and is left out",
        grid.count()
    );
    Problem::warning("template-too-large", message)
        .help("choose a larger paper with `--paper`, or set the part out from the sizes of its drawing")
}

/// Whether any outline is seen.
fn inked(marks: &[Mark]) -> bool {
    marks.iter().any(|mark| mark.role == Role::Outline)
}

/// The ink of a template inside a window.
fn tile(template: &Template, window: Rect) -> Vec<Mark> {
    let mut marks = Vec::new();
    for mark in &template.marks {
        let Ink::Stroke { path, pen } = &mark.ink else { continue };
        if mark.bounds().intersect(window).area() < 0.0 {
            continue;
        }
        let path = clip(path, window);
        if !path.elements().is_empty() {
            marks.push(Mark { ink: Ink::Stroke { path, pen: *pen }, ..mark.clone() });
        }
    }
    marks
}

/// One tile of a template.
struct Tile<'a> {
    template: &'a Template,
    grid: &'a Grid,
    /// The places of the grid that are printed.
    used: &'a [usize],
    /// The place of this one.
    index: usize,
    /// Its number among those printed, from 1.
    number: usize,
}

/// One sheet with one tile.
fn sheet(tile: &Tile<'_>, marks: Vec<Mark>, layout: &Layout, look: &Look) -> SheetBody {
    let Tile { template, grid, used, index, number } = *tile;
    let by = layout.window.origin() - grid.window(index).origin();
    let mut plate = Plate::new(look);
    plate.marks.extend(marks);
    plate.marks.iter_mut().for_each(|mark| mark.shift(by));
    crosses(&mut plate, grid.cell(index) + by);
    upright_bar(&mut plate, layout);
    let title = format!("{} {}", template.mark, template.name);
    if let Some(label) = &template.label {
        label.draw(&mut plate, &title, template.grain_up, (layout.window, by));
    }
    named(&mut plate, tile, (layout.window, by), look);
    panel(&mut plate, tile, layout, look);
    let of = used.len();
    let which = if of > 1 { format!(", tile {number} of {of}") } else { String::new() };
    // Tiles of two templates under one title would be joined to one another.
    let face = if template.several { format!(", {}", template.seen) } else { String::new() };
    SheetBody {
        scale: full(look),
        marks: plate.marks,
        full_size: true,
        ..SheetBody::new(SheetKind::Template, format!("Template of {title}{face}{which}"))
    }
}

/// The names of what lies on a tile, each on a leader where the paper is white; one that
/// finds no place near is left out, as the part's own drawing has it too.
fn named(plate: &mut Plate, tile: &Tile<'_>, (window, by): (Rect, Vec2), look: &Look) {
    let manner = Manner::of(look);
    let mut white = White::new(window);
    white.ink(&plate.marks);
    let cell = tile.grid.cell(tile.index);
    let mut number = 0;
    for name in &tile.template.names {
        let at: Vec<Point> = name.at.iter().filter(|p| cell.contains(**p)).map(|p| *p + by).collect();
        // Where another leader runs already, a head would be taken for its end.
        let leaders = || plate.marks.iter().filter(|mark| mark.role == Role::Leader);
        let clear = |p: &Point| !leaders().any(|mark| mark.bounds().inflate(CLEAR, CLEAR).contains(*p));
        let at: Vec<Point> = at.into_iter().filter(clear).collect();
        if at.is_empty() {
            continue;
        }
        let note = Callout { at, ..name.clone() };
        let mut drawn = Vec::new();
        if callouts(&[note], &mut white, window, &manner, &mut number, &mut drawn) {
            plate.marks.extend(drawn);
        }
    }
}

/// Full size in the series of `look`.
fn full(look: &Look) -> Option<Scale> {
    series(look).iter().copied().find(|s| (s.factor - 1.0).abs() < NOISE)
}

/// Crosses at the corners of a cell: those of neighbouring tiles lie on one
/// another when the tiles are joined.
fn crosses(plate: &mut Plate, cell: Rect) {
    for x in [cell.x0, cell.x1] {
        for y in [cell.y0, cell.y1] {
            let mut path = BezPath::new();
            path.move_to((x - ARM, y));
            path.line_to((x + ARM, y));
            path.move_to((x, y - ARM));
            path.line_to((x, y + ARM));
            plate.stroke(path, pen(plate.narrow), Role::Symbol);
        }
    }
}

/// A check bar with strokes every 10 mm, the outer ones and the middle longer;
/// `at` turns a length along the bar and one aside into a place.
fn bar(plate: &mut Plate, gauge: Gauge, at: impl Fn(f64, f64) -> Point) {
    let mut path = BezPath::new();
    path.move_to(at(0.0, 0.0));
    path.line_to(at(gauge.long, 0.0));
    let (parts, each) = gauge.parts;
    for k in 0..=parts {
        let aside = if k.is_multiple_of(each) { STROKES.0 } else { STROKES.1 };
        let along = gauge.long * f64::from(k) / f64::from(parts);
        path.move_to(at(along, -aside));
        path.line_to(at(along, if k.is_multiple_of(parts) { aside } else { 0.0 }));
    }
    plate.stroke(path, pen(plate.narrow), Role::Symbol);
}

/// The upright bar in its strip, its words read from the right.
fn upright_bar(plate: &mut Plate, layout: &Layout) {
    let x = layout.strip + IN_STRIP;
    let gauge = layout.gauge;
    let y = layout.window.center().y + gauge.long / 2.0;
    bar(plate, gauge, |along, aside| Point::new(x + aside, y - along));
    let text = Text::plain(Point::new(x - BAR_WORDS, y - gauge.long / 2.0), gauge.words, TEXT)
        .anchored(Anchor::Middle)
        .turned(Text::UPRIGHT);
    plate.marks.push(Mark::text(text, Role::Note));
}

/// The panel: what it is, how to print and join it, the level bar, and at its
/// right the key with the grain.
fn panel(plate: &mut Plate, tile: &Tile<'_>, layout: &Layout, look: &Look) {
    let Tile { template, used, number, .. } = *tile;
    let area = layout.panel;
    let foot = area.y1 - BAR_FOOT;
    let gauge = layout.gauge;
    bar(plate, gauge, |along, aside| Point::new(area.x0 + along, foot + aside));
    let after = Point::new(area.x0 + gauge.long + 2.0, foot + 1.0);
    if after.x + WORDS_WIDE < area.x1 {
        plate.text(after, gauge.words, Lettering::note(TEXT));
    } else {
        plate.text(
            (area.x0 + gauge.long / 2.0, foot - OVER_BAR),
            gauge.words,
            Lettering::note(TEXT).anchored(Anchor::Middle),
        );
    }
    let key = Rect::new(area.x1 - KEY.width, area.y0, area.x1, area.y0 + KEY.height);
    draw_key(plate, tile, key, look);
    let width = (key.x0 - BETWEEN - area.x0).min(WIDEST);
    let title = elide(&format!("{} {}", template.mark, template.name), NAME, Weight::SemiBold, width);
    plate.text((area.x0, area.y0 + NAME), title, Lettering::title(NAME));
    let mut y = area.y0 + NAME;
    for line in words(template, used.len(), number).iter().flat_map(|w| wrap(w, TEXT, Weight::Regular, width))
    {
        y += LINE;
        // A panel that is full keeps the bar clear.
        if y > foot - KEEP_BAR {
            break;
        }
        plate.text((area.x0, y), line, Lettering::note(TEXT));
    }
}

/// The words of a tile.
fn words(template: &Template, of: usize, number: usize) -> Vec<String> {
    let mut message = vec!["1 : 1, print at 100 %, measure the bars".to_owned()];
    message.push(template.says.join("; "));
    if of > 1 {
        message.push(format!("tile {number} of {of}; tiles overlap: lay cross on cross"));
    }
    message
}

/// The whole template small, with the tiles that are printed, this one framed
/// heavily, and the grain.
fn draw_key(plate: &mut Plate, tile: &Tile<'_>, area: Rect, look: &Look) {
    let Tile { template, grid, used, index, .. } = *tile;
    let picture = Rect { y1: area.y1 - KEY_FOOT, ..area };
    let whole = used.iter().map(|t| grid.cell(*t)).reduce(|a, b| a.union(b)).unwrap_or_default();
    let factor = (picture.width() / whole.width()).min(picture.height() / whole.height());
    let corner = picture.center() - whole.size().to_vec2() * factor / 2.0;
    let to_key = Affine::translate(corner.to_vec2())
        * Affine::scale(factor)
        * Affine::translate(-whole.origin().to_vec2());
    for other in used.iter().filter(|t| **t != index) {
        plate.rect(to_key.transform_rect_bbox(grid.cell(*other)), plate.narrow, Role::Symbol);
    }
    plate.rect(to_key.transform_rect_bbox(grid.cell(index)), plate.wide, Role::Symbol);
    for mark in template.marks.iter().filter(|m| m.role == Role::Outline) {
        let Ink::Stroke { path, .. } = &mark.ink else { continue };
        plate.stroke(coarse(&(to_key * path)), pen(plate.narrow), Role::Symbol);
    }
    if let Some(up) = template.grain_up {
        let at = Point::new(area.x1 - KEY_ARROW.0, area.y1 - KEY_ARROW.1);
        plate.text((area.x0, at.y + TEXT / 2.0), "grain", Lettering::note(TEXT));
        let half = if up { KEY_HALF.0 } else { KEY_HALF.1 };
        plate.marks.push(arrow(at, half, up, look.narrow()));
    }
}

/// A small picture's path without what is too small to be seen in it.
fn coarse(path: &BezPath) -> BezPath {
    let mut kept = BezPath::new();
    for piece in crate::paper::dashes::pieces(path) {
        let size = piece.bounding_box().size();
        if size.max_side() > SEEN {
            kept.extend(piece.elements().iter().copied());
        }
    }
    kept
}
