//! Tables in ink: heads repeated over sheets, columns as wide as their content
//! asks, wrapped cells.

use std::borrow::Cow;

use kurbo::{Point, Rect};

use super::words::{elide, read, runs_width, stacked, text_width, tokens, wrap};
use crate::drawing::page::plate::{Lettering, Plate, base_lines, has_fraction};
use crate::geometry::tolerance::{HAIR, NOISE};
use crate::paper::{Anchor, Role, Run, Shows, Weight};

/// White on both sides of a cell's text, in cap heights.
const PAD: f64 = 0.6;
/// By how much width is shifted at a time from one column to another, mm.
const BALANCE: f64 = 2.0;
/// Most rows of a table whose columns are weighed against one another.
const BALANCED: usize = 60;

/// Where the text of a column stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::drawing) enum Align {
    /// Words.
    Left,
    /// Figures, so that units stand under units.
    Right,
    /// Marks and counts.
    Middle,
}

/// One column.
#[derive(Clone, Debug)]
pub(in crate::drawing) struct Column {
    /// Its head.
    pub(in crate::drawing) head: String,
    /// Where its text stands.
    pub(in crate::drawing) align: Align,
    /// Whether its text may wrap when the table is too wide.
    pub(in crate::drawing) wraps: bool,
    /// Whether its cells are numbers of parts.
    pub(in crate::drawing) items: bool,
}

impl Column {
    /// A column of words that may wrap.
    pub(in crate::drawing) fn words(head: &str) -> Self {
        Self { head: head.into(), align: Align::Left, wraps: true, items: false }
    }
    /// A column of figures.
    pub(in crate::drawing) fn figures(head: &str) -> Self {
        Self { head: head.into(), align: Align::Right, wraps: false, items: false }
    }
    /// A column of part numbers.
    pub(in crate::drawing) fn items(head: &str) -> Self {
        Self { items: true, ..Self::marks(head) }
    }
    /// A column of marks or counts.
    pub(in crate::drawing) fn marks(head: &str) -> Self {
        Self { head: head.into(), align: Align::Middle, wraps: false, items: false }
    }
}

/// One row.
#[derive(Clone, Debug)]
pub(in crate::drawing) enum Row {
    /// One cell for each column.
    Cells(Vec<Vec<Run>>),
    /// A heading over the rows that follow, across the whole table.
    Heading(String),
}

/// A table.
#[derive(Clone, Debug)]
pub(in crate::drawing) struct Table {
    /// What stands above it.
    pub(in crate::drawing) title: String,
    /// The columns.
    pub(in crate::drawing) columns: Vec<Column>,
    /// The rows, first to last.
    pub(in crate::drawing) rows: Vec<Row>,
    /// How many of the first columns are left empty in a row that says there what
    /// the row above says: said again at the head of a further sheet.
    pub(in crate::drawing) repeats: usize,
    /// What it is of, said where it goes on away from what it stood beside; empty where its
    /// title says all.
    pub(in crate::drawing) of: String,
}

/// A table with its columns and lines set.
#[derive(Debug)]
pub(in crate::drawing) struct SetTable<'t> {
    table: &'t Table,
    height: f64,
    widths: Vec<f64>,
    rows: Vec<SetRow>,
    /// Whether some column is narrower than its longest word.
    squeezed: bool,
}

/// A row broken into lines.
#[derive(Clone, Debug)]
enum SetRow {
    Cells(Vec<Vec<Vec<Run>>>),
    Heading(String),
}

/// A cell with its widths taken once, so that columns can be weighed against
/// one another without setting a letter again.
struct Measured<'t> {
    cell: &'t [Run],
    /// Width on one line, mm.
    whole: f64,
    /// Widths of its words, mm.
    words: Vec<f64>,
}

/// The cells of a table measured, row by row; a heading has none.
struct MeasuredTable<'t> {
    height: f64,
    /// Width of a space, mm.
    gap: f64,
    rows: Vec<Vec<Measured<'t>>>,
}

impl<'t> MeasuredTable<'t> {
    /// Measures every cell of `table` at text height `height`.
    fn of(table: &'t Table, height: f64) -> Self {
        let width = |text: &str| text_width(text, height, Weight::Regular);
        let measured = |cell: &'t Vec<Run>| Measured {
            cell,
            whole: runs_width(cell, height, Weight::Regular),
            words: tokens(&read(cell)).iter().map(|word| width(word)).collect(),
        };
        let cells = |row: &'t Row| match row {
            Row::Heading(_) => Vec::new(),
            Row::Cells(cells) => cells.iter().map(measured).collect(),
        };
        Self { height, gap: width(" "), rows: table.rows.iter().map(cells).collect() }
    }

    /// The cells of column `c`.
    fn column(&self, c: usize) -> impl Iterator<Item = &Measured<'t>> {
        self.rows.iter().filter_map(move |row| row.get(c))
    }

    /// Room for text in a column `width` wide, mm.
    fn room(&self, width: f64) -> f64 {
        width - 2.0 * PAD * self.height + HAIR
    }

    /// Lines of a cell in a column `width` wide: as many as [`wrap`] makes.
    fn lines(&self, cell: &Measured<'_>, width: f64) -> usize {
        let room = self.room(width);
        if cell.whole <= room {
            return 1;
        }
        if cell.words.iter().any(|word| *word > room) {
            return wrap(&read(cell.cell), self.height, Weight::Regular, room).len();
        }
        let (mut lines, mut long) = (1, None);
        for word in &cell.words {
            long = match long {
                None => Some(*word),
                Some(long) if long + self.gap + word <= room => Some(long + self.gap + word),
                Some(_) => {
                    lines += 1;
                    Some(*word)
                }
            };
        }
        lines
    }

    /// Lines of all rows with columns `widths` wide.
    fn all_lines(&self, widths: &[f64]) -> usize {
        let row = |row: &Vec<Measured<'_>>| {
            row.iter().zip(widths).map(|(cell, width)| self.lines(cell, *width)).max().unwrap_or(0)
        };
        self.rows.iter().map(row).sum()
    }
}

/// Widths of columns that are wished `natural` wide, at least `least`, together
/// at most `most`: the widest are cut to one common width.
fn level(natural: &[f64], least: &[f64], most: f64) -> Vec<f64> {
    let at = |level: f64| -> Vec<f64> {
        natural.iter().zip(least).map(|(natural, least)| natural.min(level).max(*least)).collect()
    };
    let (mut low, mut high) = (0.0, natural.iter().copied().fold(0.0, f64::max));
    if natural.iter().sum::<f64>() <= most {
        return natural.to_vec();
    }
    // Halving forty times settles the common width far below a line's width.
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if at(middle).iter().sum::<f64>() <= most { low = middle } else { high = middle }
    }
    at(low)
}

/// First base line of a row below its upper rule, in cap heights: of plain words, and
/// where a stacked fraction stands in them.
const FIRST: (f64, f64) = (1.5, 1.8);
/// The same of a heading between rows, and how tall its row is.
const HEADING_FIRST: (f64, f64) = (1.7, 2.0);
const HEADING_ROW: (f64, f64) = (2.4, 2.8);
/// Cap height of the title, and from the top of the table to its head, in those of the
/// rows.
const TITLE: f64 = 1.4;
const TITLE_ROW: f64 = 2.6;
/// Height of the head, and its base line, in cap heights.
const HEAD: f64 = 2.2;
const HEAD_LINE: f64 = 1.6;

/// First base line of a row below its upper rule, in cap heights: lower where a
/// stacked fraction stands in it.
fn first_line(cells: &[Vec<Vec<Run>>]) -> f64 {
    let high = cells.iter().filter_map(|cell| cell.first()).any(|line| has_fraction(line));
    if high { FIRST.1 } else { FIRST.0 }
}

/// How far a table was drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::drawing) struct Drawn {
    /// The first row not drawn; the number of rows when all are.
    pub(in crate::drawing) next: usize,
    /// Bottom edge, sheet mm.
    pub(in crate::drawing) bottom: f64,
}

impl Table {
    /// An empty table.
    pub(in crate::drawing) fn new(title: impl Into<String>, columns: Vec<Column>) -> Self {
        Self { title: title.into(), columns, rows: Vec::new(), repeats: 0, of: String::new() }
    }

    /// Sets the table at text height `height` in at most `most` mm of width:
    /// columns as wide as their widest cell; if that is too much, wrapping
    /// columns give way, widest first, and then share the width so that the
    /// table is as low as can be.
    pub(in crate::drawing) fn set(&self, height: f64, most: f64) -> SetTable<'_> {
        let pad = 2.0 * PAD * height;
        let measured = MeasuredTable::of(self, height);
        let natural: Vec<f64> = (0..self.columns.len()).map(|c| self.natural(c, &measured) + pad).collect();
        let least: Vec<f64> = (0..self.columns.len())
            .map(|c| if self.columns[c].wraps { self.longest_word(c, &measured) + pad } else { natural[c] })
            .collect();
        let mut widths = level(&natural, &least, most);
        balance(&measured, &mut widths, &natural, &least);
        let squeeze = most / widths.iter().sum::<f64>();
        if squeeze < 1.0 {
            for w in &mut widths {
                *w *= squeeze;
            }
        }
        let set = |(row, cells): (&Row, &Vec<Measured<'_>>)| set_row(row, cells, &measured, &widths);
        let rows = self.rows.iter().zip(&measured.rows).map(set).collect();
        SetTable { table: self, height, widths, rows, squeezed: squeeze < 1.0 - NOISE }
    }

    /// Widest content of column `c`, mm.
    fn natural(&self, c: usize, measured: &MeasuredTable<'_>) -> f64 {
        let head = text_width(&self.columns[c].head, measured.height, Weight::SemiBold);
        measured.column(c).map(|cell| cell.whole).fold(head, f64::max)
    }

    /// Widest single word of column `c`, mm.
    fn longest_word(&self, c: usize, measured: &MeasuredTable<'_>) -> f64 {
        let head = text_width(&self.columns[c].head, measured.height, Weight::SemiBold);
        measured.column(c).flat_map(|cell| cell.words.iter().copied()).fold(head, f64::max)
    }
}

/// Shifts width between the wrapping columns as long as that takes lines off
/// the table.
fn balance(table: &MeasuredTable<'_>, widths: &mut [f64], natural: &[f64], least: &[f64]) {
    let gives = |widths: &[f64], c: usize| widths[c] > least[c] + BALANCE;
    let takes = |widths: &[f64], c: usize| widths[c] < natural[c] - HAIR;
    // Long tables run over sheets anyway.
    if table.rows.len() > BALANCED || !(0..widths.len()).any(|c| takes(widths, c)) {
        return;
    }
    let mut best = table.all_lines(widths);
    // Each round takes at least one line off, so the rounds end.
    loop {
        let mut found = None;
        for (from, to) in (0..widths.len()).flat_map(|f| (0..widths.len()).map(move |t| (f, t))) {
            let mut trial = widths.to_vec();
            while from != to && gives(&trial, from) && takes(&trial, to) {
                trial[from] -= BALANCE;
                trial[to] += BALANCE;
                let now = table.all_lines(&trial);
                if now < best {
                    best = now;
                    found = Some(trial.clone());
                }
            }
        }
        let Some(better) = found else { return };
        widths.copy_from_slice(&better);
    }
}

/// A row broken into lines in columns `widths` wide.
fn set_row(row: &Row, cells: &[Measured<'_>], table: &MeasuredTable<'_>, widths: &[f64]) -> SetRow {
    if let Row::Heading(text) = row {
        return SetRow::Heading(text.clone());
    }
    let lines = |(cell, width): (&Measured<'_>, &f64)| {
        let room = table.room(*width);
        if cell.whole <= room {
            return vec![cell.cell.to_vec()];
        }
        let lines = wrap(&read(cell.cell), table.height, Weight::Regular, room);
        lines.iter().map(|line| stacked(line)).collect()
    };
    SetRow::Cells(cells.iter().zip(widths).map(lines).collect())
}

impl SetTable<'_> {
    /// Whether a column is narrower than its longest word.
    pub(in crate::drawing) fn squeezed(&self) -> bool {
        self.squeezed
    }

    /// The table that is set.
    pub(in crate::drawing) fn table(&self) -> &Table {
        self.table
    }

    /// Width, mm.
    pub(in crate::drawing) fn width(&self) -> f64 {
        self.widths.iter().sum()
    }

    /// Width with the title, mm.
    pub(in crate::drawing) fn full_width(&self) -> f64 {
        let title = text_width(&self.table.title, TITLE * self.height, Weight::SemiBold);
        self.width().max(title)
    }

    /// Height of the whole table with title and head, mm.
    pub(in crate::drawing) fn full_height(&self) -> f64 {
        self.head_height() + self.rows.iter().map(|row| self.row_height(row)).sum::<f64>()
    }

    /// Height of title and head, mm.
    fn head_height(&self) -> f64 {
        let title = if self.table.title.is_empty() { 0.0 } else { TITLE_ROW * self.height };
        title + self.height * HEAD
    }

    /// Height of a row, mm.
    fn row_height(&self, row: &SetRow) -> f64 {
        match row {
            SetRow::Heading(text) => {
                self.height * if has_fraction(&stacked(text)) { HEADING_ROW.1 } else { HEADING_ROW.0 }
            }
            SetRow::Cells(cells) => {
                let last = cells.iter().filter_map(|cell| base_lines(cell).last().copied());
                self.height * (first_line(cells) + last.fold(0.0, f64::max) + 0.5)
            }
        }
    }

    /// Draws rows from `first` on with the head above them, top left corner at
    /// `at`, no lower than `floor`. A heading is never left alone at the foot.
    pub(in crate::drawing) fn draw(&self, plate: &mut Plate, at: Point, first: usize, floor: f64) -> Drawn {
        let mut last = first;
        let mut page = self.carried(first);
        let mut bottom = at.y + self.head_height() + page.iter().map(|row| self.row_height(row)).sum::<f64>();
        while last < self.rows.len() {
            let row = if last == first { self.resumed(first) } else { Cow::Borrowed(&self.rows[last]) };
            let high = self.row_height(&row);
            let mut need = high;
            if matches!(self.rows[last], SetRow::Heading(_)) && last + 1 < self.rows.len() {
                need += self.row_height(&self.rows[last + 1]);
            }
            if bottom + need > floor + HAIR {
                break;
            }
            page.push(row);
            bottom += high;
            last += 1;
        }
        if last == first && first < self.rows.len() {
            return Drawn { next: first, bottom: at.y };
        }
        let top = self.draw_head(plate, at, first > 0);
        let mut y = top;
        for (i, row) in page.iter().enumerate() {
            if i > 0 {
                plate.line((at.x, y), (at.x + self.width(), y), plate.narrow, Role::Table);
            }
            self.draw_row(plate, Point::new(at.x, y), row);
            y += self.row_height(row);
        }
        self.draw_rules(plate, at.x, top, &page);
        Drawn { next: last, bottom }
    }

    /// The heading that row `first` stands under, said again where the table goes
    /// on with it.
    fn carried(&self, first: usize) -> Vec<Cow<'_, SetRow>> {
        if first == 0 || matches!(self.rows.get(first), Some(SetRow::Heading(_)) | None) {
            return Vec::new();
        }
        let heading = self.rows[..first].iter().rev().find_map(|row| match row {
            SetRow::Heading(text) => Some(SetRow::Heading(format!("{text} (continued)"))),
            SetRow::Cells(_) => None,
        });
        heading.into_iter().map(Cow::Owned).collect()
    }

    /// Row `first` as it begins what is drawn: cells left empty as a repetition of
    /// those above them hold the words again where the table goes on.
    fn resumed(&self, first: usize) -> Cow<'_, SetRow> {
        let row = Cow::Borrowed(&self.rows[first]);
        let SetRow::Cells(cells) = &self.rows[first] else { return row };
        let blank = |cell: &Vec<Vec<Run>>| cell.iter().all(|line| read(line).is_empty());
        let repeats = self.table.repeats;
        if first == 0 || repeats == 0 || !cells.iter().take(repeats).all(blank) {
            return row;
        }
        let above = self.rows[..first].iter().rev().find_map(|row| match row {
            SetRow::Cells(above) if !above.iter().take(repeats).all(blank) => Some(above),
            _ => None,
        });
        let Some(above) = above else { return row };
        Cow::Owned(SetRow::Cells(
            above.iter().take(repeats).chain(cells.iter().skip(repeats)).cloned().collect(),
        ))
    }

    /// Title and head; gives the y below them.
    fn draw_head(&self, plate: &mut Plate, at: Point, goes_on: bool) -> f64 {
        let h = self.height;
        let mut y = at.y;
        if !self.table.title.is_empty() {
            let more = match (goes_on, self.table.of.as_str()) {
                (false, _) => String::new(),
                (true, "") => " (continued)".into(),
                (true, of) => format!(" (continued): {of}"),
            };
            plate.text(
                (at.x, y + TITLE * h),
                format!("{}{more}", self.table.title),
                Lettering::title(TITLE * h),
            );
            y += TITLE_ROW * h;
        }
        let mut x = at.x;
        for (column, width) in self.table.columns.iter().zip(&self.widths) {
            let how = Lettering { weight: Weight::SemiBold, ..Lettering::note(h) };
            let (x_at, anchor) = place(column.align, x, *width, h);
            plate.text((x_at, y + HEAD_LINE * h), column.head.clone(), how.anchored(anchor));
            x += width;
        }
        y + h * HEAD
    }

    fn draw_row(&self, plate: &mut Plate, at: Point, row: &SetRow) {
        let h = self.height;
        match row {
            SetRow::Heading(text) => {
                let how = Lettering { weight: Weight::SemiBold, ..Lettering::note(h) };
                let down = if has_fraction(&stacked(text)) { HEADING_FIRST.1 } else { HEADING_FIRST.0 };
                // A name of any length stays over its columns.
                let room = self.widths.iter().sum::<f64>() - 2.0 * PAD * h;
                let text = elide(text, h, Weight::SemiBold, room);
                plate.text((at.x + PAD * h, at.y + down * h), text, how);
            }
            SetRow::Cells(cells) => {
                let mut x = at.x;
                for ((lines, width), column) in cells.iter().zip(&self.widths).zip(&self.table.columns) {
                    let (x_at, anchor) = place(column.align, x, *width, h);
                    for (line, below) in lines.iter().zip(base_lines(lines)) {
                        let y = at.y + h * (first_line(cells) + below);
                        let part = if column.items { read(line) } else { String::new() };
                        let shows = Shows { part, ..Shows::default() };
                        plate.runs_of((x_at, y), line.clone(), Lettering::note(h).anchored(anchor), shows);
                    }
                    x += width;
                }
            }
        }
    }

    /// Frame, head rule and column rules; column rules stop at headings.
    fn draw_rules(&self, plate: &mut Plate, x: f64, top: f64, page: &[Cow<'_, SetRow>]) {
        let width = self.width();
        let head = top - self.height * HEAD;
        let bottom = top + page.iter().map(|row| self.row_height(row)).sum::<f64>();
        plate.rect(Rect::new(x, head, x + width, bottom), plate.wide * Plate::LIGHT, Role::Table);
        plate.line((x, top), (x + width, top), plate.wide * Plate::LIGHT, Role::Table);
        // Stretches of ordinary rows, head included, between headings.
        let mut stretches = vec![(head, top)];
        let mut y = top;
        for row in page {
            let next = y + self.row_height(row);
            match (row.as_ref(), stretches.last_mut()) {
                (SetRow::Cells(_), Some(stretch)) if (stretch.1 - y).abs() < NOISE => stretch.1 = next,
                (SetRow::Cells(_), _) => stretches.push((y, next)),
                (SetRow::Heading(_), _) => {}
            }
            y = next;
        }
        let mut at = x;
        for w in &self.widths[..self.widths.len().saturating_sub(1)] {
            at += w;
            for (from, to) in &stretches {
                plate.line((at, *from), (at, *to), plate.narrow, Role::Table);
            }
        }
    }
}

/// Where the text of a cell stands.
fn place(align: Align, x: f64, width: f64, height: f64) -> (f64, Anchor) {
    match align {
        Align::Left => (x + PAD * height, Anchor::Start),
        Align::Right => (x + width - PAD * height, Anchor::End),
        Align::Middle => (x + width / 2.0, Anchor::Middle),
    }
}
