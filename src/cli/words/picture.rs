//! The picture beside a word: its example run in a frame of its own, the parts drawn
//! apart along the ways they go in, as lines that scale with the page.

use std::fmt::Write as _;
use std::sync::Arc;

use crate::assembly::assembly_orders;
use crate::drawing::{Apart, taken_apart};
use crate::geometry::{DVec2, DVec3};
use crate::joinery::WorkedJob;
use crate::model::Word;
use crate::script::{Limits, NoModules, Request};
use crate::solid::{Camera, HiddenLines, ViewLine, Viewed, view};

/// The lines round each word's example that make what it speaks of.
const FRAMES: &str = include_str!("frames.txt");
/// Where in a frame the example goes.
const HERE: &str = "EXAMPLE";
/// Greatest width and height of a picture, in the page's pixels.
const ROOM: DVec2 = DVec2::new(300.0, 200.0);
/// White round it, in pixels: half of a line's width and a little more.
const ROUND: f64 = 2.0;
/// Steps to a pixel that places are rounded to.
const STEPS: f64 = 10.0;

/// The example of a word in its frame, as a whole script; `None` if it has no frame.
pub(super) fn framed(word: &str, example: &str) -> Option<String> {
    let blocks = FRAMES.split("\n--- ").skip(1).filter_map(|block| block.split_once('\n'));
    let mut mine = blocks.filter(|(names, _)| names.split(' ').any(|name| name == word));
    mine.next().map(|(_, frame)| frame.replace(HERE, example))
}

/// The picture of a word's example as SVG; `None` where it makes no parts.
pub(super) fn picture(word: &str, example: &str, words: &'static [&'static Word]) -> Option<String> {
    let request = Request {
        name: word.to_owned(),
        text: framed(word, example)?,
        settings: Vec::new(),
        loader: Arc::new(NoModules),
        words,
        limits: Limits::default(),
    };
    let (job, worked) = crate::examine(&request).worked?;
    let (orders, _) = assembly_orders(&job, &worked);
    let apart: Vec<Apart> = orders.iter().flat_map(|order| taken_apart(&worked, order).0).collect();
    let items = items(&worked, &apart);
    drawn(&view(&items, Camera::isometric(), HiddenLines::Drop))
}

/// The parts where they are drawn: apart, or as they stand where nothing says how.
fn items<'a>(worked: &'a WorkedJob, apart: &[Apart]) -> Vec<Viewed<'a>> {
    let moved = |tag: usize| apart.iter().find(|a| a.part == tag).map_or(DVec3::ZERO, |a| a.by);
    let parts = worked.parts.iter().enumerate();
    parts.map(|(tag, part)| Viewed { solid: &part.solid, at: part.at.moved(moved(tag)), tag }).collect()
}

/// Lines as one path, as large as there is room for.
fn drawn(lines: &[ViewLine]) -> Option<String> {
    let ends = || lines.iter().flat_map(|line| [line.a, line.b]);
    let (low, high) = ends().fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(l, h), p| (l.min(p), h.max(p)));
    let size = high - low;
    if !(size.x > 0.0 && size.y > 0.0) {
        return None;
    }
    let factor = (ROOM.x / size.x).min(ROOM.y / size.y);
    // Up is up on the page, where it is down in its figures.
    let place = |p: DVec2| {
        let at = DVec2::new(p.x - low.x, high.y - p.y) * factor + ROUND;
        (at * STEPS).round() / STEPS
    };
    let mut path = String::new();
    for line in lines {
        let (a, b) = (place(line.a), place(line.b));
        if a != b {
            // Writing to a text in memory cannot fail.
            let _always_fits = write!(path, "M{} {}L{} {}", a.x, a.y, b.x, b.y);
        }
    }
    let (wide, high) = ((size.x * factor + 2.0 * ROUND).ceil(), (size.y * factor + 2.0 * ROUND).ceil());
    Some(format!(
        "<svg viewBox=\"0 0 {wide} {high}\" width=\"{wide}\" height=\"{high}\" role=\"img\"><path d=\"{path}\" fill=\"none\" \
         stroke=\"#000\"/></svg>\n"
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_example_is_drawn_in_its_frame() {
        let drawn = picture("butt", "butt(plinth, bottom);", crate::words()).unwrap_or_default();
        assert!(drawn.starts_with("<svg viewBox=\"0 0 "), "{drawn}");
        // Two boxes side by side show nine edges each, less what one hides of the other.
        assert!((9..=18).contains(&drawn.matches('M').count()), "{drawn}");
        assert!(framed("no such word", "").is_none());
    }
}
