//! The pages of a quotation: head, pictures, blocks in two columns, foot.

use kurbo::{Point, Rect};

use super::blocks::{Block, blocks};
use super::offer::QuoteSheet;
use super::pictures::Pictures;
use crate::drawing::kit::words::{elide, shrink, text_width, wrap};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate};
use crate::paper::{Anchor, Role, Weight};
use crate::wording::quote::whom;

/// Cap heights, mm: running text, headings, the shop, the word at the top.
const TEXT: f64 = 2.5;
const HEADING: f64 = 3.5;
const SHOP: &[f64] = &[5.0, 3.5];
const GREAT: f64 = 6.0;
const TITLE: &[f64] = &[5.0, 3.5, 2.5];
/// Base line to base line of running text, mm.
const PITCH: f64 = 4.2;
/// From a heading to its text, and from block to block, mm.
const UNDER_HEADING: f64 = 5.6;
const BETWEEN: f64 = 3.6;
/// From amount to amount, mm.
const AMOUNT: f64 = 5.0;
/// From the rule over a total to the total, mm.
const UNDER_RULE: f64 = 1.8;
/// White between the columns, mm.
const GUTTER: f64 = 10.0;
/// Height of the foot, mm.
const FOOT: f64 = 8.0;
/// Indent of a point behind its dash, mm.
const INDENT: f64 = 3.6;
/// Height of a line to sign on, mm.
const LINE: f64 = 9.5;
/// Where lines to sign on begin, mm from the column's edge.
const SIGN: f64 = 20.0;
/// Shares of the height below the head that pictures take: over both columns of an upright
/// page and of a lying one, and of the left column of a lying one.
const UPRIGHT: f64 = 0.36;
const ACROSS: f64 = 0.5;
const LYING: f64 = 0.6;
/// What pictures may be brought down to, in shares of that height, before a further page
/// is begun: nobody is glad of a second page that holds a line to sign on and no more.
const SMALLER: [f64; 5] = [1.0, 0.9, 0.8, 0.65, 0.5];
/// From this many on short lines stand two abreast.
const ABREAST: usize = 4;
/// A block up to this height is not torn over two columns, mm.
const WHOLE: f64 = 45.0;
/// Shares of the width that the shop's name and the title at the foot may take.
const NAME: f64 = 0.6;
const TITLED: f64 = 0.7;
/// White under the great words at the head, mm.
const AIR: f64 = 1.0;
/// From line to line of a title, in cap heights.
const LINES: f64 = 1.5;

/// The pages, each with its head and foot.
pub(super) fn pages(quote: &QuoteSheet<'_>, look: &Look, space: Rect) -> Vec<Plate> {
    let pictures = Pictures::of(&quote.offers);
    let blocks = blocks(quote, look);
    let flowed = |ways: Ways| {
        let mut flow = Flow::new((quote, look, space), ways.across, |area| {
            pictures.height(Rect { y1: area.y0 + ways.share * area.height(), ..area })
        });
        flow.put_all(&blocks, ways.apart);
        flow
    };
    let mut tried: Vec<Flow<'_>> = Vec::new();
    for ways in Ways::all(quote.offers.len() > 1) {
        tried.push(flowed(ways));
        if tried.last().is_some_and(|flow| flow.plates.len() == 1) {
            break;
        }
    }
    // Of as many pages, those with the largest pictures.
    let Some(best) = tried.into_iter().min_by_key(|flow| flow.plates.len()) else { return Vec::new() };
    let of = best.plates.len();
    let mut plates = best.plates;
    if let Some(first) = plates.first_mut() {
        pictures.draw(first, best.shown);
    }
    for (at, plate) in plates.iter_mut().enumerate() {
        foot(plate, quote, space, (at + 1, of));
    }
    plates
}

/// A way to lay out the first page.
#[derive(Clone, Copy)]
struct Ways {
    /// The share of its height that the pictures may take of what they take at most.
    share: f64,
    /// What it is stands in one column and what it costs in the other.
    apart: bool,
    /// The pictures stand over both columns.
    across: bool,
}

impl Ways {
    /// All ways, the best first: what it is beside what it costs, and several pictures
    /// over the whole width, where they are seen best.
    fn all(several: bool) -> impl Iterator<Item = Self> {
        let over = if several { [true, false].as_slice() } else { &[false] };
        over.iter().flat_map(|across| {
            [true, false].into_iter().flat_map(move |apart| {
                SMALLER.map(move |share| Self { share, apart, across: *across }).into_iter()
            })
        })
    }
}

/// The blocks on their way over columns and pages.
struct Flow<'a> {
    quote: &'a QuoteSheet<'a>,
    look: &'a Look,
    space: Rect,
    plates: Vec<Plate>,
    /// Where the pictures go, on the first.
    shown: Rect,
    /// Columns of the page that are still free, the one written in first.
    columns: Vec<Rect>,
    /// Where the next block begins.
    y: f64,
}

impl<'a> Flow<'a> {
    /// The first page under its head, with as much of the area for pictures as `height`
    /// takes.
    fn new(
        (quote, look, space): (&'a QuoteSheet<'a>, &'a Look, Rect),
        across: bool,
        height: impl FnOnce(Rect) -> f64,
    ) -> Self {
        let mut plate = Plate::new(look);
        let top = head(&mut plate, quote, look, space);
        let body = Rect { y0: top, y1: space.y1 - FOOT, ..space };
        let [left, right] = columns(body);
        let upright = space.height() > space.width();
        let over = across || upright;
        let area = if over {
            let share = if upright { UPRIGHT } else { ACROSS };
            Rect { y1: body.y0 + share * body.height(), ..body }
        } else {
            Rect { y1: left.y0 + LYING * left.height(), ..left }
        };
        let shown = Rect { y1: area.y0 + height(area), ..area };
        let below = shown.y1 + BETWEEN;
        let columns = if over {
            vec![Rect { y0: below, ..left }, Rect { y0: below, ..right }]
        } else {
            vec![Rect { y0: below, ..left }, right]
        };
        Self { quote, look, space, plates: vec![plate], shown, y: below, columns }
    }

    /// The column written in.
    fn column(&self) -> Rect {
        self.columns.first().copied().unwrap_or(self.space)
    }

    /// Goes on at the head of the next column, of a new page if need be.
    fn next(&mut self) {
        if self.columns.len() > 1 {
            self.columns.remove(0);
        } else {
            let mut plate = Plate::new(self.look);
            let y0 = small_head(&mut plate, self.quote, self.space);
            self.columns = columns(Rect { y0, y1: self.space.y1 - FOOT, ..self.space }).to_vec();
            self.plates.push(plate);
        }
        self.y = self.column().y0;
    }

    /// Makes sure of `height` mm in one column, if any column has as much.
    fn room(&mut self, height: f64) {
        if self.y + height > self.column().y1 && self.y > self.column().y0 {
            self.next();
        }
        if self.y + height > self.column().y1 {
            self.next();
        }
    }

    /// Puts all blocks; the price and what follows into a column of its own where that is
    /// asked for and one is free on the page.
    fn put_all(&mut self, blocks: &[Block], apart: bool) {
        for (at, block) in blocks.iter().enumerate() {
            let price = matches!(block, Block::Table(..) | Block::Sum(_, _, true));
            if price && apart && self.columns.len() > 1 {
                self.next();
            }
            // What has no heading belongs to what stands over it.
            let after = blocks.get(at + 1).filter(|next| matches!(next, Block::Text("", _)));
            let height = self.height(block) + after.map_or(0.0, |next| BETWEEN + self.height(next));
            if height < WHOLE {
                self.room(height);
            }
            self.put(block);
        }
    }

    /// Height of a block in the column written in, mm.
    fn height(&self, block: &Block) -> f64 {
        let wide = self.column().width();
        let set = |words: &str, indent: f64| wrap(words, TEXT, Weight::Regular, wide - indent).len() as f64;
        let lines = |heading: &str, lines: &[String], indent: f64| {
            let said = lines.iter().filter(|line| !line.is_empty());
            self.heading_height(heading) + said.map(|line| set(line, indent) * PITCH).sum::<f64>()
        };
        match block {
            Block::Text(heading, text) => lines(heading, text, 0.0),
            Block::Pairs(heading, text) => {
                let rows = if self.abreast(text) { text.len().div_ceil(2) } else { text.len() };
                self.heading_height(heading) + rows as f64 * PITCH
            }
            Block::Points(heading, text) => lines(heading, text, INDENT),
            Block::Sum(heading, rows, _) => {
                self.heading_height(heading) + rows.len() as f64 * AMOUNT + UNDER_RULE + HEADING
            }
            Block::Table(heading, table) => {
                self.heading_height(heading) + table.set(TEXT, wide).full_height()
            }
            Block::Sign(lines) => {
                let what = lines.first().map_or(0.0, |what| set(what, 0.0) * PITCH);
                UNDER_HEADING + what + lines.len().saturating_sub(1) as f64 * LINE
            }
        }
    }

    /// Height of a heading with the white under it, mm.
    fn heading_height(&self, words: &str) -> f64 {
        if words.is_empty() {
            return 0.0;
        }
        let more = self.heading_lines(words).len().saturating_sub(1) as f64;
        UNDER_HEADING + more * HEADING * LINES
    }

    /// A heading as it is broken into lines.
    fn heading_lines(&self, words: &str) -> Vec<String> {
        wrap(words, HEADING, Weight::SemiBold, self.column().width())
    }

    fn put(&mut self, block: &Block) {
        match block {
            Block::Pairs(heading, lines) if self.abreast(lines) => self.pairs(heading, lines),
            Block::Text(heading, lines) | Block::Pairs(heading, lines) => {
                self.paragraphs(heading, lines, 0.0);
            }
            Block::Points(heading, lines) => self.paragraphs(heading, lines, INDENT),
            Block::Sum(heading, rows, total) => self.sum(heading, rows, *total),
            Block::Table(heading, table) => {
                self.room(self.height(block));
                self.heading(heading);
                let column = self.column();
                let set = table.set(TEXT, column.width());
                if let Some(plate) = self.plates.last_mut() {
                    let drawn = set.draw(plate, Point::new(column.x0, self.y), 0, f64::MAX);
                    self.y = drawn.bottom;
                }
            }
            Block::Sign(lines) => self.sign(lines),
        }
        self.y += BETWEEN;
    }

    /// Paragraphs under a heading, which never stands alone at the foot.
    fn paragraphs(&mut self, heading: &str, lines: &[String], indent: f64) {
        if !heading.is_empty() {
            self.room(UNDER_HEADING + 2.0 * PITCH);
            self.heading(heading);
        }
        for line in lines.iter().filter(|line| !line.is_empty()) {
            let set = wrap(line, TEXT, Weight::Regular, self.column().width() - indent);
            // A sentence is not torn over two columns.
            self.room(set.len() as f64 * PITCH);
            for (at, words) in set.iter().enumerate() {
                self.room(PITCH);
                if at == 0 && indent > 0.0 {
                    self.text_at("–", 0.0, Lettering::note(TEXT), 0.0);
                }
                self.text(words, indent, Lettering::note(TEXT));
            }
        }
    }

    /// Whether lines are many and short enough to stand two abreast.
    fn abreast(&self, lines: &[String]) -> bool {
        let half = self.column().width() / 2.0 - INDENT;
        lines.len() >= ABREAST && lines.iter().all(|line| text_width(line, TEXT, Weight::Regular) < half)
    }

    /// Short lines under a heading, down the left half and then the right.
    fn pairs(&mut self, heading: &str, lines: &[String]) {
        let rows = lines.len().div_ceil(2);
        self.room(self.heading_height(heading) + rows as f64 * PITCH);
        self.heading(heading);
        let half = self.column().width() / 2.0;
        for (at, line) in lines.iter().enumerate() {
            let place =
                (self.column().x0 + (at / rows) as f64 * half, self.y + (at % rows) as f64 * PITCH + TEXT);
            if let Some(plate) = self.plates.last_mut() {
                plate.text(place, line.clone(), Lettering::note(TEXT));
            }
        }
        self.y += rows as f64 * PITCH;
    }

    /// A heading, and down to its text.
    fn heading(&mut self, words: &str) {
        let x = self.column().x0;
        for (at, line) in self.heading_lines(words).into_iter().enumerate() {
            let y = self.y + HEADING + at as f64 * HEADING * LINES;
            if let Some(plate) = self.plates.last_mut() {
                plate.text((x, y), line, Lettering::title(HEADING));
            }
        }
        self.y += self.heading_height(words);
    }

    /// Amounts under a heading; a total stands out under a rule.
    fn sum(&mut self, heading: &str, rows: &[(String, String)], total: bool) {
        self.room(self.heading_height(heading) + rows.len() as f64 * AMOUNT + UNDER_RULE + HEADING);
        self.heading(heading);
        let column = self.column();
        for (at, (name, amount)) in rows.iter().enumerate() {
            let stands_out = total && at + 1 == rows.len();
            let how = if stands_out { Lettering::title(HEADING) } else { Lettering::note(TEXT) };
            let Some(plate) = self.plates.last_mut() else { continue };
            if stands_out && at > 0 {
                let narrow = plate.narrow;
                plate.line((column.x0, self.y), (column.x1, self.y), narrow, Role::Table);
                self.y += UNDER_RULE;
            }
            let room = column.width() - text_width(amount, how.height, how.weight) - INDENT;
            let y = self.y + how.height;
            plate.text((column.x0, y), elide(name, how.height, how.weight, room), how);
            plate.text((column.x1, y), amount.clone(), how.anchored(Anchor::End));
            self.y += if stands_out { UNDER_HEADING } else { AMOUNT };
        }
    }

    /// A line of text, and down to the next.
    fn text(&mut self, words: &str, indent: f64, how: Lettering) {
        self.text_at(words, indent, how, PITCH);
    }

    fn text_at(&mut self, words: &str, indent: f64, how: Lettering, down: f64) {
        let at = (self.column().x0 + indent, self.y + TEXT);
        if let Some(plate) = self.plates.last_mut() {
            plate.text(at, words, how);
        }
        self.y += down;
    }

    /// Lines to sign on under what is signed.
    fn sign(&mut self, lines: &[String]) {
        let width = self.column().width();
        let Some((what, rest)) = lines.split_first() else { return };
        let set = wrap(what, TEXT, Weight::Regular, width);
        self.room(UNDER_HEADING + set.len() as f64 * PITCH + rest.len() as f64 * LINE);
        self.heading("Acceptance");
        for words in &set {
            self.text(words, 0.0, Lettering::note(TEXT));
        }
        let column = self.column();
        for name in rest {
            self.y += LINE;
            if let Some(plate) = self.plates.last_mut() {
                plate.text((column.x0, self.y), name.clone(), Lettering::note(TEXT));
                let narrow = plate.narrow;
                plate.line((column.x0 + SIGN, self.y), (column.x1, self.y), narrow, Role::Table);
            }
        }
    }
}

/// The two columns of a page.
fn columns(body: Rect) -> [Rect; 2] {
    let wide = (body.width() - GUTTER) / 2.0;
    [Rect { x1: body.x0 + wide, ..body }, Rect { x0: body.x1 - wide, ..body }]
}

/// Shop at the left, what the paper is at the right, then what it is for; gives the y
/// below it.
fn head(plate: &mut Plate, quote: &QuoteSheet<'_>, look: &Look, space: Rect) -> f64 {
    let half = NAME * space.width();
    let (height, name) = shrink(&shop(quote), Weight::SemiBold, SHOP, 1, half);
    let mut left = space.y0 + GREAT;
    for line in &name {
        plate.text((space.x0, left), line.clone(), Lettering::title(height));
    }
    left += AIR;
    for line in &quote.rates.shop.lines {
        left += PITCH;
        plate.text((space.x0, left), elide(line, TEXT, Weight::Regular, half), Lettering::note(TEXT));
    }
    let mut right = space.y0 + GREAT;
    plate.text((space.x1, right), "Quotation", Lettering::title(GREAT).anchored(Anchor::End));
    right += AIR;
    for line in reference(quote, look) {
        right += PITCH;
        plate.text((space.x1, right), line, Lettering::note(TEXT).anchored(Anchor::End));
    }
    let mut y = left.max(right) + BETWEEN;
    let wide = plate.wide * Plate::LIGHT;
    plate.line((space.x0, y), (space.x1, y), wide, Role::Table);
    let (height, lines) = shrink(&quote.head.title, Weight::SemiBold, TITLE, 2, space.width());
    y += BETWEEN + height;
    for line in &lines {
        plate.text((space.x0, y), line.clone(), Lettering::title(height));
        y += height * LINES;
    }
    let whom = whom(quote.head);
    if !whom.is_empty() {
        plate.text((space.x0, y), whom, Lettering::note(TEXT));
        y += PITCH;
    }
    y
}

/// The head of a further page.
fn small_head(plate: &mut Plate, quote: &QuoteSheet<'_>, space: Rect) -> f64 {
    let y = space.y0 + HEADING;
    let room = NAME * space.width();
    plate.text(
        (space.x0, y),
        elide(&shop(quote), HEADING, Weight::SemiBold, room),
        Lettering::title(HEADING),
    );
    plate.text((space.x1, y), "Quotation", Lettering::title(HEADING).anchored(Anchor::End));
    let rule = y + HEADING;
    let wide = plate.wide * Plate::LIGHT;
    plate.line((space.x0, rule), (space.x1, rule), wide, Role::Table);
    rule + BETWEEN
}

/// The shop's name.
fn shop(quote: &QuoteSheet<'_>) -> String {
    quote.rates.shop.name.clone().or_else(|| quote.head.owner.clone()).unwrap_or_default()
}

/// Number, revision and date, a line each.
fn reference(quote: &QuoteSheet<'_>, look: &Look) -> Vec<String> {
    let said = [("Number", &quote.head.number), ("Revision", &quote.head.revision), ("Date", &look.date)];
    let mut lines: Vec<String> =
        said.iter().filter_map(|(name, what)| Some(format!("{name} {}", what.as_ref()?))).collect();
    if look.date.is_none() {
        lines.push("Date ____________".into());
    }
    lines
}

/// What the page belongs to, and its number.
fn foot(plate: &mut Plate, quote: &QuoteSheet<'_>, space: Rect, (page, of): (usize, usize)) {
    let y = space.y1;
    let mut words = vec![quote.head.title.clone()];
    words.extend(quote.head.number.iter().map(|number| format!("number {number}")));
    words.extend(quote.head.revision.iter().map(|revision| format!("revision {revision}")));
    let text = elide(&words.join(", "), TEXT, Weight::Regular, TITLED * space.width());
    plate.text((space.x0, y), text, Lettering::note(TEXT));
    let at = (space.x1, y);
    plate.text(at, format!("Quotation, page {page} of {of}"), Lettering::note(TEXT).anchored(Anchor::End));
}
