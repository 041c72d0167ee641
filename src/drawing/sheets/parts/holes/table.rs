//! The table of a part's numbered holes.

use kurbo::Rect;

use crate::drawing::kit::dimension::figure::length_runs;
use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::plain;
use crate::drawing::page::plate::Plate;
use crate::drawing::sheets::parts::chosen::NumberedHole;
use crate::drawing::sheets::parts::notes::wording::noun;
use crate::drawing::sheets::parts::room::blocks::{BESIDE, corner, fewest};
use crate::drawing::sheets::parts::subject::{Prepared, text_height};
use crate::machining::feature::{Feature, Form, axis_side};
use crate::model::Face;
use crate::paper::fixes::{Axis, BoxSide, Fact, Fixes, NotedCut, PlaceId};
use crate::paper::{Ink, Mark, Role, Run, Shows};

/// Where a place is not to be given: across the face that is bored.
const NONE: &str = "–";

/// A cell before it is set: what stands there, and as what.
struct Entry {
    runs: Vec<Run>,
    role: Role,
    shows: Shows,
}

/// The table of the holes numbered in the views of a part, under `above`; nothing where
/// none is. `number` counts the dimensions on.
pub(in crate::drawing::sheets::parts) fn table(
    prepared: &Prepared<'_>,
    above: Rect,
    number: &mut u32,
) -> Vec<Mark> {
    let holes: Vec<&NumberedHole> = prepared.chosen.iter().flat_map(|view| &view.numbered).collect();
    let bored = |hole: &NumberedHole| prepared.features.iter().find(|f| f.cut == hole.cut);
    let known: Vec<(&NumberedHole, &Feature)> =
        holes.into_iter().filter_map(|hole| Some((hole, bored(hole)?))).collect();
    if known.is_empty() {
        return Vec::new();
    }
    let columns = Columns::of(&known);
    let rows: Vec<Vec<Entry>> =
        known.iter().map(|(hole, feature)| columns.row(prepared, (hole, feature), number)).collect();
    draw(prepared, &columns, &rows, above)
}

/// Which columns the table has.
struct Columns {
    /// Whether it names the face that is bored.
    faces: bool,
    /// Along which axes it gives places.
    axes: Vec<usize>,
}

impl Columns {
    /// Those that some hole needs.
    fn of(holes: &[(&NumberedHole, &Feature)]) -> Self {
        let faces: Vec<Face> = holes.iter().filter_map(|(_, f)| Some(hole(f)?.entry)).collect();
        let placed = |axis: &usize| faces.iter().any(|face| axis_side(*face).0 != *axis);
        Self {
            faces: faces.iter().any(|face| Some(face) != faces.first()),
            axes: (0..3).filter(placed).collect(),
        }
    }

    /// Their heads.
    fn heads(&self) -> Vec<Column> {
        let mut columns = vec![Column::marks("Hole")];
        columns.extend(self.faces.then(|| Column::marks("In")));
        let from = ["From near end", "From face edge", "From face side"];
        columns.extend(self.axes.iter().filter_map(|axis| Some(Column::figures(from.get(*axis)?))));
        columns.extend([Column::figures("Diameter"), Column::figures("Deep"), Column::marks("What")]);
        columns
    }

    /// The cells of a hole.
    fn row(
        &self,
        prepared: &Prepared<'_>,
        (numbered, feature): (&NumberedHole, &Feature),
        number: &mut u32,
    ) -> Vec<Entry> {
        let look = prepared.subject.look;
        let Some(bored) = hole(feature) else { return Vec::new() };
        let words = |text: String, role| Entry { runs: plain(text), role, shows: Shows::default() };
        let shows = Shows { fixes: super::numbers::shown(numbered), ..Shows::default() };
        let mut cells = vec![Entry { shows, ..words(numbered.number.to_string(), Role::Symbol) }];
        cells.extend(self.faces.then(|| words(bored.entry.name().into(), Role::Note)));
        for axis in &self.axes {
            if axis_side(bored.entry).0 == *axis {
                cells.push(words(NONE.into(), Role::Note));
                continue;
            }
            *number += 1;
            let fixes = Fixes::from_datum(Axis::of(*axis), vec![PlaceId::Centre(feature.cut)]);
            let value = numbered.at[*axis];
            cells.push(size(length_runs(look, value), (*number, value), fixes));
        }
        *number += 1;
        let mut facts = vec![Fact::Diameter];
        facts.extend((!bored.through).then_some(Fact::Depth));
        let (axis, far) = axis_side(bored.entry);
        let from = BoxSide { axis: Axis::of(axis), far };
        let cut = NotedCut { cut: feature.cut, from, bore: None, against: Vec::new() };
        let mut across = vec![Run::Plain("Ø".into())];
        across.extend(length_runs(look, bored.diameter));
        cells.push(size(across, (*number, bored.diameter), Fixes::facts(facts).of(&[cut])));
        cells.push(if bored.through {
            words("through".into(), Role::Note)
        } else {
            size(length_runs(look, bored.depth), (*number, bored.depth), Fixes::Nothing)
        });
        let later = if feature.stage.waits() { ", cut after glue-up" } else { "" };
        cells.push(words(format!("{}{later}", noun(feature.kind, false)), Role::Note));
        cells
    }
}

/// What a hole is, mm.
struct Bored {
    entry: Face,
    diameter: f64,
    depth: f64,
    through: bool,
}

/// A cut as a hole.
fn hole(feature: &Feature) -> Option<Bored> {
    match feature.form {
        Form::Hole { entry, diameter, depth, through, .. } => Some(Bored { entry, diameter, depth, through }),
        _ => None,
    }
}

/// A figure of dimension `number`.
fn size(runs: Vec<Run>, (dimension, value): (u32, f64), fixes: Fixes) -> Entry {
    let shows = Shows { dimension, value: Some(value), fixes, ..Shows::default() };
    Entry { runs, role: Role::DimensionText, shows }
}

/// The rows in as many blocks as the paper under `above` needs.
fn draw(prepared: &Prepared<'_>, columns: &Columns, rows: &[Vec<Entry>], above: Rect) -> Vec<Mark> {
    let look = prepared.subject.look;
    let height = text_height(look);
    let blocks = |count: usize| -> Vec<Table> {
        let each = rows.len().div_ceil(count).max(1);
        let block = |(i, rows): (usize, &[Vec<Entry>])| {
            let title = if i == 0 { "Holes" } else { "Holes, continued" };
            let mut table = Table::new(title, columns.heads());
            let cells = |row: &Vec<Entry>| Row::Cells(row.iter().map(|entry| entry.runs.clone()).collect());
            table.rows.extend(rows.iter().map(cells));
            table
        };
        rows.chunks(each).enumerate().map(block).collect()
    };
    let count = fewest(&blocks, above, look).unwrap_or(1);
    let mut entries = rows.iter().flatten();
    let mut marks = Vec::new();
    let mut at = corner(above);
    for table in blocks(count) {
        let mut plate = Plate::new(look);
        let set = table.set(height, f64::MAX);
        set.draw(&mut plate, at, 0, f64::MAX);
        at.x += set.width() + BESIDE;
        // Set to any width nothing wraps: after title and heads each text is one cell.
        let heads = 1 + table.columns.len();
        let texts = plate.marks.iter_mut().filter(|mark| matches!(mark.ink, Ink::Text(_)));
        for (mark, entry) in texts.skip(heads).zip(&mut entries) {
            mark.role = entry.role;
            mark.shows = entry.shows.clone();
        }
        marks.append(&mut plate.marks);
    }
    marks
}
