//! Stick layouts: boards ripped to a section and what is cut from each in
//! order.

use kurbo::{BezPath, Point};

use super::heights::{TEXT, above, pitch};
use crate::cutting::sticks::{StickLayout, StickPiece};
use crate::cutting::{Alike, CuttingList, Proof, StickCutting};
use crate::drawing::kit::words::{length_text, runs_width, stacked, text_width, wrap};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate};
use crate::drawing::page::scale::Scale;
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::geometry::tolerance::TENTHS;
use crate::paper::{Anchor, Pen, Role, Shows, Weight, dash};

/// Height of a bar, mm: the sections are not to scale.
const BAR: f64 = 6.0;
/// Height of headings, mm.
const HEADING: f64 = Lettering::MIDDLE;
/// White below a heading, and between sections, mm.
const UNDER_HEADING: f64 = 3.0;
const BETWEEN: f64 = 4.0;
/// The largest scale of a stick.
const MOST: f64 = 0.5;
/// White below a bar, mm.
const BELOW: f64 = 4.0;

/// The sheets of all stick layouts.
pub(in crate::drawing) fn stick_sheets(
    list: &CuttingList,
    sticks: &[StickCutting],
    look: &Look,
) -> Vec<SheetBody> {
    let longest = sticks.iter().flat_map(|cutting| &cutting.job.sticks).map(|stick| stick.length).max();
    let Some(longest) = longest.filter(|_| sticks.iter().any(|cutting| !cutting.layouts.is_empty())) else {
        return Vec::new();
    };
    let area = look.room().above();
    let fits = |scale: Scale| longest as f64 / TENTHS * scale.factor <= area.width();
    let Some(scale) = Scale::largest(look, MOST, fits) else { return Vec::new() };
    let mut pages = Pages { look, scale, plates: vec![Plate::new(look)], y: area.y0 };
    // Before the rest, so that it never stands alone on a sheet.
    pages.proof(sticks);
    for cutting in sticks.iter().filter(|cutting| !cutting.layouts.is_empty()) {
        pages.section(list, cutting);
    }
    let body = |plate: Plate| SheetBody {
        scale: Some(scale),
        marks: plate.marks,
        ..SheetBody::new(SheetKind::Layout, "Boards and lippings: stick layouts")
    };
    pages.plates.into_iter().filter(|plate| !plate.marks.is_empty()).map(body).collect()
}

/// Sheets filled from the top down.
struct Pages<'a> {
    look: &'a Look,
    scale: Scale,
    plates: Vec<Plate>,
    y: f64,
}

impl Pages<'_> {
    /// The plate with room for `high` mm more, a new one if need be.
    fn room(&mut self, high: f64) -> Option<&mut Plate> {
        let area = self.look.room().above();
        if self.y + high > area.y1 && self.y > area.y0 {
            self.plates.push(Plate::new(self.look));
            self.y = area.y0;
        }
        self.plates.last_mut()
    }

    /// What is bought in all, and whether it is proven the least.
    fn proof(&mut self, sticks: &[StickCutting]) {
        let proofs: Vec<Proof> = sticks.iter().filter_map(StickCutting::proof).collect();
        let sum = |of: fn(&Proof) -> f64| length_text(self.look, proofs.iter().map(of).sum());
        let proven = if proofs.iter().all(|proof| proof.proven) { "proven" } else { "not proven" };
        let message = format!(
            "Lengths {}, widths not to scale. Found: {} of length to buy; bound: {}; {proven} the least.",
            self.scale.name,
            sum(|proof| proof.found),
            sum(|proof| proof.bound)
        );
        if proofs.is_empty() {
            return;
        }
        let base = self.y + pitch(self.look);
        if let Some(plate) = self.plates.last_mut() {
            plate.runs((self.look.room().above().x0, base), stacked(&message), Lettering::note(TEXT));
        }
        self.y = base + BELOW;
    }

    /// One section with its sticks.
    fn section(&mut self, list: &CuttingList, cutting: &StickCutting) {
        let left = self.look.room().above().x0;
        let words = heading(cutting, self.look);
        // The heading is not left alone at the foot.
        let first = cutting.layouts.first().map_or(0.0, |one| self.high(list, cutting, one));
        let _ = self.room(above(self.look) + UNDER_HEADING + first);
        let base = self.y + above(self.look);
        if let Some(plate) = self.plates.last_mut() {
            plate.runs((left, base), stacked(&words), Lettering::title(HEADING));
        }
        self.y = base + UNDER_HEADING;
        for one in &cutting.layouts {
            self.stick(list, cutting, one);
        }
        self.y += BETWEEN;
    }

    /// The caption of a layout, broken to the width of the sheet.
    fn caption(&self, list: &CuttingList, cutting: &StickCutting, one: &Alike<StickLayout>) -> Vec<String> {
        let width = self.look.room().above().width();
        wrap(&caption(list, cutting, one, self.look), TEXT, Weight::Regular, width)
    }

    /// What a layout takes, mm.
    fn high(&self, list: &CuttingList, cutting: &StickCutting, one: &Alike<StickLayout>) -> f64 {
        self.caption(list, cutting, one).len() as f64 * pitch(self.look) + ABOVE_BAR + BAR + BELOW
    }

    /// One layout: its caption and its bar.
    fn stick(&mut self, list: &CuttingList, cutting: &StickCutting, one: &Alike<StickLayout>) {
        let lines = self.caption(list, cutting, one);
        let need = self.high(list, cutting, one);
        let left = self.look.room().above().x0;
        let _ = self.room(need);
        let mut y = self.y;
        let (look, scale) = (self.look, self.scale.factor);
        let Some(plate) = self.plates.last_mut() else { return };
        for line in lines {
            plate.runs((left, y + TEXT), stacked(&line), Lettering::note(TEXT));
            y += pitch(look);
        }
        let at = Point::new(left, y + ABOVE_BAR);
        bar(plate, &Bar { list, cutting, at, scale, look }, &one.layout);
        self.y = y + ABOVE_BAR + BAR + BELOW;
    }
}

/// What a section is ripped from.
fn heading(cutting: &StickCutting, look: &Look) -> String {
    let (thick, wide) = (length_text(look, cutting.thick), length_text(look, cutting.width));
    let count: usize = cutting.layouts.iter().map(|one| one.count).sum();
    let plural = if count == 1 { "strip" } else { "strips" };
    format!("{}, {thick} sawn: {count} {plural}, ripped {wide} wide", cutting.name)
}

/// `2 of 2400: 8 Top lipping 920, 10 Bottom lipping 884; offcut 480`.
fn caption(list: &CuttingList, cutting: &StickCutting, one: &Alike<StickLayout>, look: &Look) -> String {
    let show = |tenths: i64| length_text(look, tenths as f64 / TENTHS);
    let whole = cutting.job.sticks.get(one.layout.stick).map_or(0, |stick| stick.length);
    let mut groups: Vec<(usize, usize)> = Vec::new();
    for piece in &one.layout.pieces {
        match groups.last_mut() {
            Some(last) if last.0 == piece.part => last.1 += 1,
            _ => groups.push((piece.part, 1)),
        }
    }
    let named: Vec<String> = groups
        .iter()
        .map(|(part, times)| {
            let length = cutting.job.parts.get(*part).map_or(0, |part| part.length);
            let times = if *times > 1 { format!(", {times} off") } else { String::new() };
            format!("{} {}{times}", name(list, cutting, *part), show(length))
        })
        .collect();
    let left = match one.layout.offcut {
        // Nothing is left that the shop could see.
        ..=9 => String::new(),
        offcut => format!("; offcut {}", show(offcut)),
    };
    format!("{} of {}: {}{left}", one.count, show(whole), named.join("; "))
}

/// Number and name of what is cut as one length.
fn name(list: &CuttingList, cutting: &StickCutting, part: usize) -> String {
    let Some(member) = cutting.members.get(part) else { return String::new() };
    let rows = member.rows.iter().filter_map(|row| row.of(list));
    let names: Vec<String> = rows.map(|row| format!("{} {}", row.mark, row.name)).collect();
    let joined = names.join(" + ");
    if member.staves > 1 { format!("{joined} (stave of {})", member.staves) } else { joined }
}

/// White above the picture of a stick, mm.
const ABOVE_BAR: f64 = 1.5;
/// Lightness of what is left over of a stick.
const LEFT_OVER: f32 = 0.88;
/// White at both ends of the words in a part, mm together.
const ROUND_WORDS: f64 = 1.6;

/// Where a stick is drawn, and from what.
struct Bar<'a> {
    list: &'a CuttingList,
    cutting: &'a StickCutting,
    /// Its upper left corner.
    at: Point,
    /// Paper mm for each mm of the stick.
    scale: f64,
    look: &'a Look,
}

impl Bar<'_> {
    /// Tenths of a millimetre along the stick as paper mm.
    fn long(&self, tenths: i64) -> f64 {
        tenths as f64 / TENTHS * self.scale
    }
}

/// A stick to scale along its length, with its parts.
fn bar(plate: &mut Plate, bar: &Bar<'_>, layout: &StickLayout) {
    let (cutting, at) = (bar.cutting, bar.at);
    let whole = bar.long(cutting.job.sticks.get(layout.stick).map_or(0, |stick| stick.length));
    let mut outline = BezPath::new();
    outline.move_to(at);
    for to in [(whole, 0.0), (whole, BAR), (0.0, BAR)] {
        outline.line_to(at + kurbo::Vec2::from(to));
    }
    outline.close_path();
    plate.fill(outline.clone(), LEFT_OVER, Role::Hatch);
    let shapes: Vec<(BezPath, &StickPiece)> =
        layout.pieces.iter().map(|piece| (shape(bar, piece), piece)).collect();
    for (path, _) in &shapes {
        plate.fill(path.clone(), 1.0, Role::Hatch);
    }
    // The ends of a part are its own; its sides lie on the sides of the stick.
    for (path, piece) in &shapes {
        let points: Vec<Point> = path.elements().iter().filter_map(kurbo::PathEl::end_point).collect();
        if let [a, b, c, d, ..] = points[..] {
            for (from, to) in [(d, a), (b, c)] {
                plate.line(from, to, plate.narrow, Role::Pictorial);
            }
        }
        label(plate, bar, piece);
    }
    plate.stroke_of(
        outline,
        Pen { width: plate.wide * Plate::LIGHT, dash: dash::SOLID },
        Role::Outline,
        Shows::default(),
    );
}

/// The outline of a part on its bar: its long edge below, or above when it is
/// turned over.
fn shape(bar: &Bar<'_>, piece: &StickPiece) -> BezPath {
    let at = bar.at;
    let part = bar.cutting.job.parts.get(piece.part);
    let (length, [first, second]) = part.map_or((0, [0, 0]), |part| (part.length, part.mitres));
    let x = |tenths: i64| at.x + bar.long(tenths);
    let long = (x(piece.at), x(piece.at + length));
    let short = (x(piece.at + first), x(piece.at + length - second));
    let (top, foot) = if piece.turned_over { (long, short) } else { (short, long) };
    let mut path = BezPath::new();
    path.move_to((top.0, at.y));
    path.line_to((top.1, at.y));
    path.line_to((foot.1, at.y + BAR));
    path.line_to((foot.0, at.y + BAR));
    path.close_path();
    path
}

/// The number of a part in its picture, with its length where it goes in.
fn label(plate: &mut Plate, bar: &Bar<'_>, piece: &StickPiece) {
    let Bar { list, cutting, at, look, .. } = *bar;
    let Some(part) = cutting.job.parts.get(piece.part) else { return };
    let marks: Vec<&str> = cutting.members[piece.part]
        .rows
        .iter()
        .filter_map(|row| row.of(list))
        .map(|row| row.mark.as_str())
        .collect();
    let marks = marks.join("+");
    let (low, high) = (piece.at + part.mitres[0], piece.at + part.length - part.mitres[1]);
    let room = bar.long(high - low) - ROUND_WORDS;
    let middle = at.x + (low + high) as f64 / (2.0 * TENTHS) * bar.scale;
    let long = stacked(&format!("{marks}: {}", length_text(look, part.length as f64 / TENTHS)));
    let base = Point::new(middle, at.y + BAR / 2.0 + TEXT / 2.0);
    let how = Lettering::note(TEXT).anchored(Anchor::Middle).role(Role::ItemNumber);
    if runs_width(&long, TEXT, Weight::Regular) <= room {
        plate.runs(base, long, how);
    } else if text_width(&marks, TEXT, Weight::Regular) <= room {
        plate.text(base, marks, how);
    }
}
