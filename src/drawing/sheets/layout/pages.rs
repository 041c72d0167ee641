//! Layout sheets: each distinct sheet layout once, to scale, with the sequence
//! of its cuts.

use kurbo::{Point, Rect};

use super::cuts::{self, cuts, unlabelled};
use super::heights::{HEADING, TEXT, above, pitch};
use super::picture::{Picture, picture};
use super::stack::stacked_boards;
use crate::cutting::sheets::{CutSequence, SheetLayout, What};
use crate::cutting::{Alike, CuttingList, Layouts, SheetCutting, SheetRow};
use crate::drawing::kit::table::{SetTable, Table};
use crate::drawing::kit::words::{elide, length_text, runs_width, stacked, wrap};
use crate::drawing::page::look::Look;
use crate::drawing::page::plate::{Lettering, Plate};
use crate::drawing::page::scale::{Scale, smallest};
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::drawing::sheets::notes::cautions::{NARROW, SHORT};
use crate::geometry::tolerance::NOISE;
use crate::paper::Weight;

/// White between a picture and what stands beside or below it, mm.
pub(super) const BESIDE: f64 = 7.0;
/// The largest scale of a layout.
pub(super) const MOST: f64 = 0.2;
/// A table below a picture has at least this much room there, else it stands
/// on the next sheet, mm.
const LEAST_TABLE: f64 = 35.0;
/// A table whose words are broken stays at least this wide, mm.
const LEAST_WIDTH: f64 = 105.0;

/// A picture narrower than this has its cuts below it, mm.
const LEAST_BESIDE: f64 = 95.0;

/// What the word and the arrow of the grain take beside the notes, mm.
pub(super) const BESIDE_GRAIN: f64 = 34.0;
/// White under the heading and over the notes, and all that the notes take beyond their
/// lines, mm.
pub(super) const UNDER_HEADING: f64 = 4.0;
pub(super) const OVER_NOTES: f64 = 4.0;
const NOTES_ROOM: f64 = 6.0;
/// Room for the scale beside the heading, and the white before it, mm.
const SCALE: f64 = 18.0;
const BESIDE_HEADING: f64 = 3.0;
/// Notes narrower than this read badly, mm.
pub(super) const LEAST_NOTES: f64 = 60.0;
/// A little less than half, so that a scale of just a half still counts.
const HALF: f64 = 0.49;
/// Per cent in a whole.
const PER_CENT: f64 = 100.0;

/// One layout with what it belongs to.
pub(super) struct Subject<'a> {
    pub(super) list: &'a CuttingList,
    pub(super) cutting: &'a SheetCutting,
    pub(super) one: &'a Alike<SheetLayout>,
    pub(super) sequence: &'a CutSequence,
    pub(super) look: &'a Look,
}

/// How a layout stands on its sheet.
struct Arranged {
    scale: Scale,
    /// The picture, trims included.
    at: Rect,
    /// Where the table of cuts begins; on the next sheet where there is no room.
    table: Option<Place>,
}

/// Room for a table.
#[derive(Clone, Copy, Debug)]
struct Place {
    /// Its upper left corner.
    at: Point,
    width: f64,
    /// How far down it may go.
    floor: f64,
}

/// The layout sheets of a job: sheets first, then boards.
pub(in crate::drawing) fn layout_sheets(
    list: &CuttingList,
    layouts: &Layouts,
    look: &Look,
) -> Vec<SheetBody> {
    let mut bodies = Vec::new();
    for cutting in layouts.sheets.iter().chain(&layouts.boards) {
        let subject = |(one, sequence)| Subject { list, cutting, one, sequence, look };
        let subjects: Vec<Subject<'_>> =
            cutting.layouts.iter().map(|(one, cuts)| subject((one, cuts))).collect();
        let stacked = if cutting.boards { stacked_boards(&subjects) } else { None };
        match stacked {
            Some(stacked) => bodies.extend(stacked),
            None => bodies.extend(subjects.iter().flat_map(sheets_of)),
        }
    }
    bodies
}

/// The sheets of one layout: the picture and its cuts, which run on to further
/// sheets if they must.
fn sheets_of(subject: &Subject<'_>) -> Vec<SheetBody> {
    let look = subject.look;
    let size = bare(subject);
    let notes = notes(subject);
    let table = cuts(subject.list, subject.cutting, subject.sequence, look);
    let indent = if subject.cutting.grained { BESIDE_GRAIN } else { 0.0 };
    let heading = runs_width(&stacked(&heading(subject)), HEADING, Weight::SemiBold) + SCALE;
    let natural = table.set(TEXT, f64::MAX);
    let words = Words { notes: &notes, indent, table: &table, natural: &natural, heading };
    let arranged = arrange(look, size, &words);
    let mut bodies = laid(subject, &words, &arranged);
    // A low board with its cuts beside it goes where one with them below does not.
    if let ([only], Some(other)) = (bodies.as_mut_slice(), cuts_beside(look, &words, &arranged)) {
        let mut other = laid(subject, &words, &other);
        if other.len() == 1 {
            only.narrower.append(&mut other);
        }
    }
    bodies
}

/// The same with the cuts beside the picture, where they stand below it and would have room.
fn cuts_beside(look: &Look, words: &Words<'_>, arranged: &Arranged) -> Option<Arranged> {
    let (at, area) = (arranged.at, look.room().above());
    arranged.table.filter(|place| place.at.y > at.y1)?;
    let left = (at.x0 + words.heading).max(at.x1) + BESIDE;
    let place = Place { at: Point::new(left, area.y0), width: area.x1 - left, floor: area.y1 };
    let holds = place.width >= LEAST_WIDTH && at.width() >= LEAST_BESIDE;
    let whole = || words.table.set(TEXT, place.width).full_height() <= area.height();
    (holds && whole()).then_some(Arranged { table: Some(place), ..*arranged })
}

/// The sheets of one layout, as arranged.
fn laid(subject: &Subject<'_>, words: &Words<'_>, arranged: &Arranged) -> Vec<SheetBody> {
    let look = subject.look;
    let title = title(subject);
    let mut plate = Plate::new(look);
    let at = arranged.at;
    plate.runs((at.x0, at.y0 - UNDER_HEADING), stacked(&heading(subject)), Lettering::title(HEADING));
    let beside = Point::new(at.x0 + words.heading - SCALE + BESIDE_HEADING, at.y0 - UNDER_HEADING);
    plate.text(beside, arranged.scale.name, Lettering::note(TEXT));
    let drawn = picture(
        &mut plate,
        &Picture {
            list: subject.list,
            cutting: subject.cutting,
            layout: &subject.one.layout,
            look,
            at,
            scale: arranged.scale,
        },
    );
    let mut y = at.y1 + OVER_NOTES + TEXT;
    super::picture::grain(&mut plate, subject.cutting.grained, Point::new(at.x0, y - TEXT / 2.0));
    for line in broken(words.notes, at.width(), words.indent) {
        plate.runs((at.x0 + words.indent, y), stacked(&line), Lettering::note(TEXT));
        y += pitch(look);
    }
    let mut bodies =
        vec![SheetBody { scale: Some(arranged.scale), ..SheetBody::new(SheetKind::Layout, title.clone()) }];
    let mut plates = vec![plate];
    let small = unlabelled(subject.list, subject.cutting, &drawn, look);
    set_tables(&mut plates, look, arranged, y, Tables { cuts: words.natural, small });
    while bodies.len() < plates.len() {
        bodies.push(SheetBody { runs_on: true, ..SheetBody::new(SheetKind::Layout, title.clone()) });
    }
    for (body, plate) in bodies.iter_mut().zip(plates) {
        body.marks = plate.marks;
    }
    bodies
}

/// What stands round the picture of a layout.
struct Words<'a> {
    /// The notes under it.
    notes: &'a [String],
    /// How far they stand in, for the arrow of the grain, mm.
    indent: f64,
    /// The cuts.
    table: &'a Table,
    /// The same with no word broken, which nothing makes lower.
    natural: &'a SetTable<'a>,
    /// Width of the line over the picture, mm.
    heading: f64,
}

/// The tables of a layout.
struct Tables<'t> {
    /// The cuts, with no word broken.
    cuts: &'t SetTable<'t>,
    /// What is too small for its label.
    small: Option<Table>,
}

/// Sets the cuts, and the table of what is too small for its label: under the
/// picture where the cuts stand beside it, else after them. `y` is the foot of
/// the notes.
fn set_tables(plates: &mut Vec<Plate>, look: &Look, arranged: &Arranged, y: f64, tables: Tables<'_>) {
    let Tables { cuts, small } = tables;
    let small = small.as_ref().map(|table| table.set(TEXT, f64::MAX));
    let (at, left) = (arranged.at, look.room().above());
    let width = left.width().min(at.width());
    let beneath = Place { at: Point::new(at.x0, y + BESIDE), width, floor: left.y1 };
    let goes = |set: &SetTable<'_>| {
        let beside = arranged.table.is_some_and(|place| place.at.x > at.x1);
        beside && set.width() <= width && set.full_height() <= beneath.floor - beneath.at.y
    };
    match (small, plates.first_mut()) {
        (Some(small), Some(plate)) if goes(&small) => {
            small.draw(plate, beneath.at, 0, beneath.floor);
            run_on(plates, &[cuts], arranged.table, look);
        }
        (Some(small), _) => {
            // Where it would come to stand alone on a sheet it goes before the
            // cuts, which run on.
            let sheets = |tables: &[&SetTable<'_>]| {
                let mut tried = vec![Plate::new(look)];
                run_on(&mut tried, tables, arranged.table, look);
                tried.len()
            };
            if sheets(&[cuts, &small]) > sheets(&[cuts]) {
                run_on(plates, &[&small, cuts], arranged.table, look);
            } else {
                run_on(plates, &[cuts, &small], arranged.table, look);
            }
        }
        (None, _) => run_on(plates, &[cuts], arranged.table, look),
    }
}

/// Sets tables one under the other from `first` on, then beside them where there is
/// white, then on further sheets.
fn run_on(plates: &mut Vec<Plate>, tables: &[&SetTable<'_>], first: Option<Place>, look: &Look) {
    let area = look.room().above();
    let fresh = Place { at: area.origin(), width: area.width(), floor: area.y1 };
    let mut place = first.unwrap_or(fresh);
    if first.is_none() {
        plates.push(Plate::new(look));
    }
    let (mut top, mut right) = (place.at.y, place.at.x);
    for (i, natural) in tables.iter().enumerate() {
        let table = natural.table();
        // The white beside all that stands, if the table goes into it.
        let column = |place: Place, top: f64, right: f64| {
            let x = right + BESIDE;
            let width = area.x1 - x;
            (width >= natural.width()).then_some(Place { at: Point::new(x, top), width, ..place })
        };
        let whole = |place: Place| natural.full_height() <= place.floor - place.at.y;
        // A further table beside the first makes the block no higher.
        if !whole(place) || i > 0 {
            place = column(place, top, right).filter(|beside| whole(*beside)).unwrap_or(place);
        }
        let mut next = 0;
        let mut tries = 0;
        // A table of thousands of rows is not set anew for each sheet and column: with room
        // for its widest words it is the same in any width.
        let mut narrowed: Option<(f64, SetTable<'_>)> = None;
        while next < table.rows.len() && tries < 2 {
            let set = if natural.width() <= place.width {
                *natural
            } else {
                let kept = narrowed.take().filter(|(width, _)| (width - place.width).abs() < NOISE);
                &narrowed.insert(kept.unwrap_or_else(|| (place.width, table.set(TEXT, place.width)))).1
            };
            let Some(plate) = plates.last_mut() else { return };
            let drawn = set.draw(plate, place.at, next, place.floor);
            tries = if drawn.next == next { tries + 1 } else { 0 };
            next = drawn.next;
            place.at.y = drawn.bottom + BESIDE;
            right = right.max(place.at.x + set.width());
            if next == table.rows.len() {
                break;
            }
            // What goes on is followed more easily beside its beginning than on another
            // sheet.
            if let Some(beside) = column(place, top, right) {
                place = beside;
            } else {
                plates.push(Plate::new(look));
                (place, top, right) = (fresh, fresh.at.y, fresh.at.x);
            }
        }
    }
}

/// `Ash plywood 18: layout`.
pub(super) fn title(subject: &Subject<'_>) -> String {
    let what = if subject.cutting.boards { "board" } else { "sheet" };
    format!("{}: {what} layout", cuts::what(subject.look, subject.cutting))
}

/// Share of the width of the paper that the name of a stock takes over its layout.
const NAMED: f64 = 0.4;

/// The line over the picture.
pub(super) fn heading(subject: &Subject<'_>) -> String {
    let look = subject.look;
    let room = NAMED * look.room().above().width();
    let name = elide(&subject.cutting.name, look.text(), Weight::SemiBold, room);
    let size = subject.cutting.sizes.get(subject.one.layout.sheet);
    let (long, wide) = size.map_or((0.0, 0.0), |size| (size.length, size.width));
    let hand = if size.is_some_and(|size| size.on_hand) { " from the shop" } else { "" };
    let count = u32::try_from(subject.one.count).unwrap_or(u32::MAX);
    let shown = length_text(look, subject.cutting.thick);
    let thick = if subject.cutting.boards {
        look.words().sawn(subject.cutting.thick, &shown)
    } else {
        let sold = subject.cutting.called.map(|called| format!(", {}", look.words().sold_as(called)));
        format!("{shown} thick{}", sold.unwrap_or_default())
    };
    format!(
        "{}: {}, {thick}, {} × {}{hand}",
        look.words().many(count),
        name,
        length_text(look, long),
        length_text(look, wide),
    )
}

/// Bare size of the sheet, mm.
pub(super) fn bare(subject: &Subject<'_>) -> [f64; 2] {
    let sheet = subject.cutting.job.sheets.get(subject.one.layout.sheet);
    sheet.map_or([1.0, 1.0], |sheet| sheet.size.map(|side| subject.cutting.grid.mm(side)))
}

/// What stands under the picture: kerf and trim, and the runs.
pub(super) fn notes(subject: &Subject<'_>) -> Vec<String> {
    let look = subject.look;
    let job = &subject.cutting.job;
    let show = |steps: i64| length_text(look, subject.cutting.grid.mm(steps));
    let [trim, _, edge, _] = job.sheets.get(subject.one.layout.sheet).map_or([0; 4], |sheet| sheet.trim);
    let trimmed = match (trim > 0, subject.cutting.boards) {
        (_, true) if edge > 0 => {
            let ends = if trim > 0 { format!("{} off each end, ", show(trim)) } else { String::new() };
            format!("{ends}{} off each long edge first: sapwood or wane, hatched", show(edge))
        }
        (true, true) => format!("{} off each end first", show(trim)),
        (true, false) => format!("{} off each edge first", show(trim)),
        (false, _) => "no edge trimmed".into(),
    };
    let mut lines =
        vec![format!("Saw cut {}; {trimmed}. Sizes are rough: see the cutting list.", show(job.kerf))];
    lines.extend(proof_line(subject.cutting, if subject.cutting.boards { "board" } else { "sheet" }));
    let mut folded = false;
    super::picture::each_leaf(&subject.one.layout.usable, &mut |piece| {
        if let What::Part { part, .. } = piece.what {
            folded |= matches!(subject.cutting.rows.get(part), Some(SheetRow::Folded(_)));
        }
    });
    if folded {
        lines.push("Dashed: points of the V grooves, cut once the panel is at its finished size.".into());
    }
    lines.extend(run_notes(subject));
    lines.extend(careful(subject));
    lines
}

/// What of a board is too narrow or too short to be sawn and planed as it comes.
fn careful(subject: &Subject<'_>) -> Option<String> {
    if !subject.cutting.boards {
        return None;
    }
    let mut marks: [Vec<&str>; 2] = Default::default();
    super::picture::each_leaf(&subject.one.layout.usable, &mut |piece| {
        let What::Part { part, .. } = piece.what else { return };
        let Some(row) = subject.cutting.row(part, subject.list) else { return };
        for (marks, risky) in marks.iter_mut().zip([row.width < NARROW, row.length < SHORT]) {
            if risky && !marks.contains(&row.mark.as_str()) {
                marks.push(&row.mark);
            }
        }
    });
    for marks in &mut marks {
        marks.sort_by_key(|mark| (mark.len(), *mark));
    }
    let said = ["narrow, with a push block", "short, planed while they are long"];
    let said: Vec<String> = marks
        .iter()
        .zip(said)
        .filter(|(marks, _)| !marks.is_empty())
        .map(|(marks, said)| format!("{} {said}", marks.join(", ")))
        .collect();
    (!said.is_empty()).then(|| format!("Take care: {}.", said.join("; ")))
}

/// What the runs on a layout ask of the saw, each once.
fn run_notes(subject: &Subject<'_>) -> Vec<String> {
    let mut lines = Vec::new();
    let mut said: Vec<&[usize]> = Vec::new();
    let runs = &subject.cutting.job.runs;
    for run in runs_on(&subject.one.layout) {
        let Some(run) = runs.get(run).filter(|run| !said.contains(&run.parts.as_slice())) else {
            continue;
        };
        said.push(&run.parts);
        let row = |part: &usize| subject.cutting.row(*part, subject.list);
        let marks: Vec<&str> = run.parts.iter().filter_map(row).map(|row| row.mark.as_str()).collect();
        lines.push(format!(
            "The grain runs on through {} ({}): cut from one strip in this order, same face up.",
            run.id,
            marks.join(", ")
        ));
    }
    lines
}

/// What was found for a whole stock, how much of it becomes parts, and what is proven:
/// `Found: 3 boards, 71 % of them parts; at most 12 % over the least possible.`
fn proof_line(cutting: &SheetCutting, what: &str) -> Option<String> {
    let proof = cutting.proof()?;
    let (plural, of) = if proof.count == 1 { ("", "it") } else { ("s", "them") };
    let (whole, parts) = cutting.areas();
    let yielded = PER_CENT * parts / whole;
    let proven = if proof.proven {
        "proven the least".to_owned()
    } else {
        format!("at most {:.0} % over the least possible", libm::ceil(proof.over()))
    };
    Some(format!("Found: {} {what}{plural}, {yielded:.0} % of {of} parts; {proven}.", proof.count))
}

/// Runs on a layout in the order their first parts are met.
fn runs_on(layout: &SheetLayout) -> Vec<usize> {
    let mut runs = Vec::new();
    super::picture::each_leaf(&layout.usable, &mut |piece| {
        if let What::Part { run: Some(place), .. } = &piece.what
            && !runs.contains(&place.run)
        {
            runs.push(place.run);
        }
    });
    runs
}

/// Finds the largest scale at which the picture stands on the sheet with its
/// whole table, beside it or below it; else with the beginning of it.
fn arrange(look: &Look, size: [f64; 2], words: &Words<'_>) -> Arranged {
    let area = look.room().above();
    let place = |scale: Scale| {
        let origin = (area.x0, area.y0 + above(look) + UNDER_HEADING);
        let at = Rect::from_origin_size(origin, (size[0] * scale.factor, size[1] * scale.factor));
        let lines = broken(words.notes, at.width(), words.indent).len() as f64;
        let foot = at.y1 + NOTES_ROOM + pitch(look) * lines;
        (at, foot)
    };
    let stands = |scale: Scale| {
        let (at, foot) = place(scale);
        at.x1 <= area.x1 && foot <= area.y1
    };
    let most = Scale::largest(look, MOST, stands);
    // For the sake of its table a picture becomes half as large at the least.
    let large = |scale: Scale| most.is_some_and(|most| scale.factor > HALF * most.factor);
    let table_place = |scale: Scale, whole: bool| table_place(look, words, place(scale), whole);
    let with =
        |scale: Scale, whole: bool| stands(scale) && large(scale) && table_place(scale, whole).is_some();
    // A table torn over two sheets is harder to follow than a smaller picture.
    let scale = Scale::largest(look, MOST, |scale| with(scale, true))
        .or_else(|| Scale::largest(look, MOST, |scale| with(scale, false)))
        .or(most)
        .unwrap_or_else(|| smallest(look));
    let table = table_place(scale, true).or_else(|| table_place(scale, false));
    Arranged { scale, at: place(scale).0, table }
}

/// Where the table of cuts stands: beside the picture, below it, or beside it
/// with its words broken, whichever first takes all of it, or at least its
/// beginning where not the whole is asked for.
fn table_place(look: &Look, words: &Words<'_>, (at, foot): (Rect, f64), whole: bool) -> Option<Place> {
    let Words { table, heading, natural, .. } = *words;
    let area = look.room().above();
    let least = natural.full_height();
    // A heading longer than its picture is wide is left its line.
    let clear = at.x0 + heading + 2.0 <= at.x1 + BESIDE;
    let top = if clear { area.y0 } else { at.y0 };
    let right =
        Place { at: Point::new(at.x1 + BESIDE, top), width: area.x1 - at.x1 - BESIDE, floor: area.y1 };
    let (width, floor) = (area.width(), area.y1);
    let below = Place { at: Point::new(area.x0, foot + BESIDE), width, floor };
    // The notes under a small picture need the width beside it.
    let beside = at.width() >= LEAST_BESIDE;
    // A table of thousands of rows is not set anew only to find that it is too high.
    let narrowed = |width: f64| table.set(TEXT, width).full_height();
    let goes = |place: Place, most: f64| {
        let need = |least: f64| if place.width < most { narrowed(place.width) } else { least };
        let room = place.floor - place.at.y;
        if whole { least <= room && need(least) <= room } else { LEAST_TABLE <= room || need(least) <= room }
    };
    let wide = natural.width();
    if beside && right.width >= wide && goes(right, wide) {
        return Some(right);
    }
    let narrow = right.width >= LEAST_WIDTH.min(wide);
    // No lower than the picture it makes no block higher.
    let under = foot - right.at.y;
    if beside && narrow && least <= under && narrowed(right.width) <= under {
        return Some(right);
    }
    if below.width >= wide && goes(below, wide) {
        return Some(below);
    }
    if beside && narrow && goes(right, wide) {
        return Some(right);
    }
    goes(below, wide).then_some(below)
}

/// Notes broken to the width of a picture, but no narrower than reads well.
pub(super) fn broken(notes: &[String], width: f64, indent: f64) -> Vec<String> {
    let width = (width - indent).max(LEAST_NOTES);
    notes.iter().flat_map(|note| wrap(note, TEXT, Weight::Regular, width)).collect()
}
