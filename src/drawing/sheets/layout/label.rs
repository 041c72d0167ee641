//! The label of a part or offcut in the picture of a layout: the ways it can be
//! broken, and setting the first that goes in.

use kurbo::{Point, Rect, Vec2};

use super::arrow::double_arrow;
use crate::cutting::sheets::Axis;
use crate::drawing::kit::words::{runs_width, stacked};
use crate::drawing::page::plate::{Lettering, Plate};
use crate::paper::{Anchor, Ink, Mark, Role, Run, Shows, Text, Weight};

/// Height of labels, mm: the least that is read on a drawing.
const LABEL: f64 = Lettering::SMALL;
/// Height of part numbers, mm.
const NUMBER: f64 = Lettering::MIDDLE;

/// What the arrow of the grain needs under a label, mm.
struct Arrow {
    /// The least height left for it.
    least: f64,
    /// How far the label makes way for it.
    lift: f64,
    /// From the label to its middle.
    down: f64,
}
/// Along the lines it needs little height, across them its whole length.
const ALONG: Arrow = Arrow { least: 6.0, lift: 2.0, down: 1.5 };
const ACROSS: Arrow = Arrow { least: 13.0, lift: 6.0, down: 0.5 };
/// The least width it needs, and half its length, mm.
const ARROW_WIDE: f64 = 16.0;
const ARROW_HALF: f64 = 5.0;
/// Base line to base line in text heights, and where a stacked fraction, which is half
/// as high again, stands in the lower line.
const PITCH: f64 = 1.5;
const PITCH_FRACTION: f64 = 2.2;
/// The height that a line alone needs, and how far the base line lies above the foot of
/// its line, in text heights.
const ALONE: f64 = 1.1;
const OVER_FOOT: f64 = 0.25;

/// The ways a part's label can be broken, the best first. Where even the name
/// on one line does not go in, the number stands with the size: the name stands
/// beside the number in the cuts.
pub(in crate::drawing) fn part_ways(mark: &str, name: &str, size: &str, room: Rect) -> Vec<Vec<Line>> {
    let number = |text: &str| Line { text: text.to_owned(), height: NUMBER, item: true };
    let bare = [vec![note(mark.to_owned()), note(size.to_owned())], vec![note(format!("{mark}, {size}"))]];
    if is_hopeless(name, room.width().max(room.height())) {
        return bare.into();
    }
    let mut ways = vec![
        vec![number(mark), note(name.to_owned()), note(size.to_owned())],
        vec![note(format!("{mark} {name}")), note(size.to_owned())],
        vec![note(format!("{mark} {name}, {size}"))],
    ];
    if let Some((first, last)) = halves(name) {
        ways.push(vec![note(format!("{mark} {first}")), note(last), note(size.to_owned())]);
    }
    ways.push(vec![note(format!("{mark} {name}"))]);
    ways.extend(bare);
    ways
}

/// Bytes of a name whose width is looked at, for each millimetre of the room: more than
/// stand in twice its length, since letters are hardly narrower than a millimetre.
const LOOKED_AT: f64 = 4.0;

/// Whether a name cannot go into a room so long even in halves, seen from its beginning
/// alone. Names of hundreds of parts put together are not measured for each of these.
fn is_hopeless(name: &str, longest: f64) -> bool {
    let enough = LOOKED_AT * longest.max(1.0);
    let Some((end, _)) = name.char_indices().find(|(at, c)| *at as f64 > enough && *c == ' ') else {
        return false;
    };
    // A line loses no more than one space where it is broken.
    let doubled = || name.as_bytes().windows(2).any(|two| two.iter().all(u8::is_ascii_whitespace));
    let halves = 2.0 * (longest + LABEL);
    runs_width(&stacked(&name[..end]), LABEL, Weight::Regular) > halves && !doubled()
}

/// The ways an offcut's label can be broken.
pub(in crate::drawing) fn offcut_ways(size: &str) -> Vec<Vec<Line>> {
    vec![vec![note("offcut".into()), note(size.to_owned())], vec![note(format!("offcut {size}"))]]
}

fn note(text: String) -> Line {
    Line { text, height: LABEL, item: false }
}

/// A name broken at the space nearest to its middle.
fn halves(name: &str) -> Option<(String, String)> {
    let spaces = name.match_indices(' ').map(|(at, _)| at);
    let at = spaces.min_by_key(|at| at.abs_diff(name.len() / 2))?;
    let (first, last) = name.split_at(at);
    Some((first.to_owned(), last.trim_start().to_owned()))
}

/// Writes the first way that goes in, level or upright; nothing where none does.
pub(in crate::drawing) fn write_offcut(plate: &mut Plate, room: Rect, size: &str) {
    for lines in &offcut_ways(size) {
        for upright in [false, true] {
            let (wide, high) = sides(room, upright);
            if lines.iter().all(|line| line.width() <= wide) && tall(lines) <= high {
                set_lines(plate, &Block { room, upright, lift: 0.0 }, lines, "");
                return;
            }
        }
    }
}

/// Width and height of a room as the lines in it see it.
fn sides(room: Rect, upright: bool) -> (f64, f64) {
    if upright { (room.height(), room.width()) } else { (room.width(), room.height()) }
}

/// Writes the first way of a label that goes into `room`, level or
/// upright, with a grain arrow under it where there is room; where none
/// goes in, the mark alone and false.
pub(in crate::drawing) fn write(
    plate: &mut Plate,
    room: Rect,
    ways: &[Vec<Line>],
    grain: Option<Axis>,
    mark: &str,
) -> bool {
    for lines in ways {
        for upright in [false, true] {
            let (wide, high) = sides(room, upright);
            let need = lines.iter().map(Line::width).fold(0.0, f64::max);
            let tall = tall(lines);
            if need > wide || tall > high {
                continue;
            }
            let across = grain.is_some_and(|axis| (axis == Axis::Y) != upright);
            let Arrow { least, lift, down } = if across { ACROSS } else { ALONG };
            let arrow = grain.filter(|_| high - tall >= least && wide >= ARROW_WIDE);
            let block = Block { room, upright, lift: arrow.map_or(0.0, |_| lift) };
            set_lines(plate, &block, lines, mark);
            if let Some(axis) = arrow {
                let drop = Vec2::new(0.0, tall / 2.0 + down);
                let drop = if upright { Vec2::new(drop.y, 0.0) } else { drop };
                double_arrow(plate, room.center() + drop, ARROW_HALF, axis);
            }
            return true;
        }
    }
    let alone = [Line { text: mark.to_owned(), height: LABEL, item: true }];
    for upright in [false, true] {
        let (wide, high) = sides(room, upright);
        if alone[0].width() <= wide && LABEL <= high {
            set_lines(plate, &Block { room, upright, lift: 0.0 }, &alone, mark);
            break;
        }
    }
    false
}

/// One line of a label.
pub(in crate::drawing) struct Line {
    text: String,
    height: f64,
    item: bool,
}

impl Line {
    fn weight(&self) -> Weight {
        if self.item { Weight::SemiBold } else { Weight::Regular }
    }

    fn runs(&self) -> Vec<Run> {
        if self.item { vec![Run::Plain(self.text.clone())] } else { stacked(&self.text) }
    }

    fn width(&self) -> f64 {
        runs_width(&self.runs(), self.height, self.weight())
    }

    /// From base line to the base line above, mm.
    fn pitch(&self) -> f64 {
        let fraction = self.runs().iter().any(|run| matches!(run, Run::Fraction { .. }));
        self.height * if fraction { PITCH_FRACTION } else { PITCH }
    }
}

/// Height of lines one under the other, mm; a line alone needs no more than its
/// letters.
fn tall(lines: &[Line]) -> f64 {
    match lines {
        [one] if one.pitch() < 2.0 * one.height => ALONE * one.height,
        _ => lines.iter().map(Line::pitch).sum(),
    }
}

/// Where lines are set: in the middle of a room, or above it where an arrow comes below.
struct Block {
    room: Rect,
    upright: bool,
    /// How far above the middle, mm.
    lift: f64,
}

/// Sets the lines of a label.
fn set_lines(plate: &mut Plate, block: &Block, lines: &[Line], part: &str) {
    let Block { room, upright, lift } = *block;
    let mut down = -lines.iter().map(Line::pitch).sum::<f64>() / 2.0 - lift;
    for line in lines {
        down += line.pitch();
        // The base line lies a little above the foot of its line.
        let off = down - OVER_FOOT * line.height;
        let middle = room.center();
        let (at, turn) = if upright {
            (Point::new(middle.x + off, middle.y), Text::UPRIGHT)
        } else {
            (Point::new(middle.x, middle.y + off), 0.0)
        };
        let text = Text {
            at,
            runs: line.runs(),
            height: line.height,
            anchor: Anchor::Middle,
            turn,
            weight: line.weight(),
        };
        let role = if line.item { Role::ItemNumber } else { Role::Note };
        let shows = Shows { part: part.to_owned(), ..Shows::default() };
        plate.marks.push(Mark { ink: Ink::Text(text), role, shows });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_that_is_not_measured_would_go_into_no_line() {
        let room = |wide: f64| Rect::new(0.0, 0.0, wide, 40.0);
        let names: Vec<String> = (0..60).map(|n| format!("Peg {n}")).collect();
        let long = names.join(", ");
        for wide in [5.0, 40.0, 80.0, 200.0, 400.0, 2000.0] {
            let ways = part_ways("7", &long, "60 × 80", room(wide));
            let longest = wide.max(40.0);
            let goes = |way: &Vec<Line>| way.iter().all(|line| line.width() <= longest);
            let (first, last) = halves(&long).unwrap();
            let in_halves = goes(&vec![note(format!("7 {first}")), note(last)]);
            assert!(ways.len() == 7 || !in_halves, "{wide}: only {} ways", ways.len());
            assert!([2, 7].contains(&ways.len()));
            assert_eq!(ways.len(), if wide < 100.0 { 2 } else { 7 }, "{wide}");
        }
        assert_eq!(part_ways("7", "Shelf", "60 × 80", room(1.0)).len(), 6);
    }
}
