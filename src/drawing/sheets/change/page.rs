//! The first page: what was, what is, in words for the client.

use kurbo::{Point, Rect};

use crate::drawing::kit::words::{elide, shrink, text_width, wrap};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate};
use crate::drawing::sheets::client::draw_picture;
use crate::joinery::WorkedJob;
use crate::model::{Job, JobHead};
use crate::paper::{Anchor, Role, Sheet, Weight};

/// White round the page, mm; more at the left, where it is filed.
const MARGIN: f64 = 16.0;
const FILING: f64 = 22.0;
/// Cap heights, mm.
const TEXT: f64 = 2.5;
const HEADING: f64 = 3.5;
const TITLE: &[f64] = &[5.0, 3.5, 2.5];
/// Base line to base line of text, from a heading to its text, between blocks, mm.
const PITCH: f64 = 4.2;
const UNDER_HEADING: f64 = 5.6;
const BETWEEN: f64 = 4.0;
/// Share of the height that the pictures take.
const PICTURES: f64 = 0.42;
/// Lines longer than this are hard to read, mm.
const WIDEST: f64 = 150.0;
/// Indent of a point behind its dash, mm.
const INDENT: f64 = 3.6;
/// Height of a caption, mm.
const CAPTION: f64 = 6.0;
/// Share of the width that the title may take.
const TITLED: f64 = 0.7;

/// What the first page shows.
#[derive(Debug)]
pub struct ChangeSheet<'a> {
    /// The head of the job, with the revision of the change.
    pub head: &'a JobHead,
    /// The job as it was.
    pub old: (&'a Job, &'a WorkedJob),
    /// The job as it is.
    pub new: (&'a Job, &'a WorkedJob),
    /// Headings with their points.
    pub says: Vec<(String, Vec<String>)>,
}

/// The page, and further ones where it is full.
pub fn change_sheets(change: &ChangeSheet<'_>, look: &Look) -> Vec<Sheet> {
    let (wide, high) = look.paper.size();
    let space = Rect::new(FILING, MARGIN, wide - MARGIN, high - MARGIN);
    let mut plates = vec![Plate::new(look)];
    let mut y = head(&mut plates[0], change, look, space);
    y = pictures(&mut plates[0], change, Rect { y0: y, y1: y + PICTURES * space.height(), ..space });
    let room = space.width().min(WIDEST);
    for (heading, points) in change.says.iter().filter(|(_, points)| !points.is_empty()) {
        y = turn(&mut plates, look, space, (y, UNDER_HEADING + PITCH));
        line(&mut plates, (space.x0, y + HEADING), heading, Lettering::title(HEADING));
        y += UNDER_HEADING;
        for point in points {
            for (at, words) in wrap(point, TEXT, Weight::Regular, room - INDENT).iter().enumerate() {
                y = turn(&mut plates, look, space, (y, PITCH));
                if at == 0 {
                    line(&mut plates, (space.x0, y + TEXT), "–", Lettering::note(TEXT));
                }
                line(&mut plates, (space.x0 + INDENT, y + TEXT), words, Lettering::note(TEXT));
                y += PITCH;
            }
        }
        y += BETWEEN;
    }
    let sheet = |(at, plate): (usize, Plate)| Sheet {
        number: (at + 1).to_string(),
        title: if at == 0 { "Change".into() } else { format!("Change, page {}", at + 1) },
        bookmarks: Vec::new(),
        width: wide,
        height: high,
        space,
        paper: look.paper.name(),
        marks: plate.marks,
        full_size: false,
    };
    plates.into_iter().enumerate().map(sheet).collect()
}

/// Makes sure of some height on the page, else begins another; gives where to go on.
fn turn(plates: &mut Vec<Plate>, look: &Look, space: Rect, (y, height): (f64, f64)) -> f64 {
    if y + height <= space.y1 {
        return y;
    }
    plates.push(Plate::new(look));
    space.y0
}

/// A line on the last page.
fn line(plates: &mut [Plate], at: (f64, f64), words: &str, how: Lettering) {
    if let Some(plate) = plates.last_mut() {
        plate.text(at, words, how);
    }
}

/// Title at the left, number, revision and date at the right; gives the y below it.
fn head(plate: &mut Plate, change: &ChangeSheet<'_>, look: &Look, space: Rect) -> f64 {
    let head = change.head;
    let (height, lines) = shrink(&head.title, Weight::SemiBold, TITLE, 2, TITLED * space.width());
    let mut y = space.y0;
    for words in &lines {
        y += height + TEXT;
        plate.text((space.x0, y), words.clone(), Lettering::title(height));
    }
    let said = [("Number", &head.number), ("Revision", &head.revision), ("Date", &look.date)];
    let said: Vec<String> =
        said.iter().filter_map(|(name, what)| Some(format!("{name} {}", what.as_ref()?))).collect();
    let mut right = space.y0 + HEADING + TEXT;
    plate.text((space.x1, right), "Change", Lettering::title(HEADING).anchored(Anchor::End));
    for words in said {
        right += PITCH;
        plate.text((space.x1, right), words, Lettering::note(TEXT).anchored(Anchor::End));
    }
    let whom = [("For", &head.client), ("At", &head.place)];
    let whom: Vec<String> =
        whom.iter().filter_map(|(of, who)| Some(format!("{of} {}", who.as_ref()?))).collect();
    if !whom.is_empty() {
        y += PITCH;
        plate.text(
            (space.x0, y),
            elide(&whom.join(". "), TEXT, Weight::Regular, TITLED * space.width()),
            Lettering::note(TEXT),
        );
    }
    let rule = y.max(right) + BETWEEN;
    let wide = plate.wide * Plate::LIGHT;
    plate.line((space.x0, rule), (space.x1, rule), wide, Role::Table);
    rule + BETWEEN
}

/// Both pictures side by side; gives the y below them.
fn pictures(plate: &mut Plate, change: &ChangeSheet<'_>, area: Rect) -> f64 {
    let half = (area.width() - BETWEEN) / 2.0;
    for (at, (caption, (job, worked))) in
        [("As it was", change.old), ("As it is now", change.new)].into_iter().enumerate()
    {
        let corner = Point::new(area.x0 + at as f64 * (half + BETWEEN), area.y0);
        let cell = Rect::from_origin_size(corner, (half, area.height() - CAPTION));
        draw_picture(plate, job, worked, cell);
        let x = cell.center().x - text_width(caption, TEXT, Weight::SemiBold) / 2.0;
        plate.text((x, area.y1 - TEXT), caption, Lettering::title(TEXT));
    }
    area.y1 + BETWEEN
}
