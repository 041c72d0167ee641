//! The notes sheet: general notes, cautions, tolerances, fittings, finishing
//! and revisions, and the sheet index where the first sheet has no room for it.

use super::cautions::cautions;
use crate::checks::shelf_load;
use crate::cutting::CuttingList;
use crate::drawing::kit::table::{Column, Row, Table};
use crate::drawing::kit::words::{length_text, on_sheet, plain};
use crate::drawing::page::look::Look;
use crate::drawing::page::profile::Profile;
use crate::drawing::page::sheet_body::{SheetBody, SheetKind};
use crate::drawing::sheets::lists::cutting_list::flow;
use crate::joinery::{Hand, WorkedJob, WorkedPart};
use crate::measure::{Unit, number};
use crate::model::{Job, Note, StockKind};

/// The notes of a job, each table a block by itself. `noted` says that the job's own
/// notes stand on the general arrangement.
pub(in crate::drawing) fn notes(
    job: &Job,
    worked: &WorkedJob,
    list: &CuttingList,
    look: &Look,
    noted: bool,
) -> Vec<SheetBody> {
    let mut tables: Vec<Table> = revisions(job).into_iter().collect();
    tables.push(general(job, worked, look, noted));
    tables.push(numbered("Cautions", "Caution", cautions(job, worked, list, look)));
    tables.extend(tolerances(list, look));
    tables.extend(fittings(job, worked, list, look));
    tables
        .iter()
        .flat_map(|table| flow(std::slice::from_ref(table), SheetKind::Notes, "Notes", look))
        .collect()
}

/// Pounds to the square foot in a kilogram to the square metre: 0.453 592 37 kg and
/// 0.092 903 04 m² by definition.
const POUNDS_PER_FOOT: f64 = 0.092_903_04 / 0.453_592_37;

/// A table of numbered sentences.
fn numbered(title: &str, head: &str, message: Vec<String>) -> Table {
    let mut table = Table::new(title, vec![Column::marks("No."), Column::words(head)]);
    for (i, text) in message.into_iter().enumerate() {
        table.rows.push(Row::Cells(vec![plain((i + 1).to_string()), on_sheet(&text)]));
    }
    table
}

/// What holds for every sheet, then the job's own notes. What is said of
/// scaling off, of grain and of marks is common practice, no source.
fn general(job: &Job, worked: &WorkedJob, look: &Look, noted: bool) -> Table {
    let unit = match look.unit {
        Unit::Mm => "Sizes are in millimetres",
        Unit::Inch => "Sizes are in inches",
    };
    let mut message = vec![
        format!(
            "{unit} and finished; written sizes govern. Do not measure from the drawings, except from \
             templates whose check bars are true."
        ),
        "Length runs along the grain. The loop marks the face side, the V the face edge; sizes are set out from them."
            .into(),
        "Check the sizes of the site, of materials in hand and of fittings before cutting.".into(),
    ];
    if look.unit == Unit::Inch {
        message.push(format!("Inch sizes are rounded to the nearest 1/{}.", look.finest));
    }
    if worked.parts.iter().any(|part| part.hand != Hand::None) {
        message.push(
            "L and R are mirror images: the left is drawn, the right is made to its mirror image, with its marks."
                .into(),
        );
    }
    let boards =
        job.stock.iter().any(|s| matches!(s.kind, StockKind::Board { .. } | StockKind::Blank { .. }));
    if boards {
        message.push(
            "Solid timber is cut when it has settled to the moisture it will have in use; sizes hold at that \
             moisture."
                .into(),
        );
    }
    let staved = |part: &WorkedPart| {
        job.stock
            .get(part.stock.0)
            .is_some_and(|stock| stock.staves(job.unit, part.size.y, job.cutting.width).is_some())
    };
    if worked.parts.iter().any(staved) {
        message.push(
            "A part wider than its boards is glued up edge to edge of the staves on the layouts: heart sides up and \
             down by turns, the grain rising one way on all, marked across before they are parted."
                .into(),
        );
    }
    message.extend(shelf_load(job, worked).map(|bears| {
        let load = match look.unit {
            Unit::Mm => format!("{} kg/m²", number(bears.square, 0)),
            Unit::Inch => format!("{} lb/ft²", number(bears.square * POUNDS_PER_FOOT, 0)),
        };
        let one = bears.one.map_or(String::new(), |kg| format!(", {} on one at most", look.words().mass(kg)));
        format!("Shelves and tops are reckoned for {load}{one} ({}).", bears.class)
    }));
    message.extend(job.head.departs.iter().map(|what| format!("Departs from the brief: {what}")));
    message.push(if by_iso(look) {
        "Sizes without a tolerance follow ISO 2768-1 class c, made for metal and holding for wood by this note."
            .into()
    } else {
        "Sizes without a tolerance hold to ±1/32″, angles to ±0.5°.".into()
    });
    if !noted {
        message.extend(job.notes.iter().map(|note| of_pieces(job, note)));
    }
    numbered("General notes", "Note", message)
}

/// A note of the job; in a job of several pieces with the names of those it is
/// about.
fn of_pieces(job: &Job, note: &Note) -> String {
    let names: Vec<&str> = note
        .pieces
        .iter()
        .filter_map(|piece| job.pieces.get(piece.0))
        .map(|piece| piece.name.as_str())
        .collect();
    if names.is_empty() || job.pieces.len() < 2 {
        return note.text.clone();
    }
    format!("{}: {}", names.join(", "), note.text)
}

/// ISO 2768-1, linear sizes, class c: over, up to, ± in mm (as given in public
/// tables).
const LINEAR: [(f64, f64, f64); 8] = [
    (0.5, 3.0, 0.2),
    (3.0, 6.0, 0.3),
    (6.0, 30.0, 0.5),
    (30.0, 120.0, 0.8),
    (120.0, 400.0, 1.2),
    (400.0, 1000.0, 2.0),
    (1000.0, 2000.0, 3.0),
    (2000.0, 4000.0, 4.0),
];

/// ISO 2768-1, angles, class c: shorter leg over, up to, ± (from memory).
const ANGULAR: [(f64, f64, &str); 5] = [
    (0.0, 10.0, "1° 30′"),
    (10.0, 50.0, "1°"),
    (50.0, 120.0, "0° 30′"),
    (120.0, 400.0, "0° 15′"),
    (400.0, f64::INFINITY, "0° 10′"),
];

/// Whether the general tolerances are those of ISO 2768-1; inch drawings by
/// ASME practice state theirs in inches.
pub(in crate::drawing) fn by_iso(look: &Look) -> bool {
    look.profile != Profile::Asme || look.unit == Unit::Mm
}

/// The general tolerances where they go by ISO 2768-1: the ranges up to the
/// longest size of the job, and angles where a part has a sloping end. The
/// standard was made for metal; for wood it holds by this note.
fn tolerances(list: &CuttingList, look: &Look) -> Vec<Table> {
    if !by_iso(look) {
        return Vec::new();
    }
    let rows = || list.parts.iter().chain(&list.lippings);
    let longest = rows().map(|r| r.length.max(r.width)).fold(0.0, f64::max);
    let show = |mm: f64| number(mm, 1);
    let title = "General tolerances: ISO 2768-1 c";
    let mut linear = Table::new(
        title,
        vec![Column::figures("Over, mm"), Column::figures("Up to, mm"), Column::figures("±, mm")],
    );
    for (over, to, by) in LINEAR.iter().filter(|r| r.0 < longest) {
        linear.rows.push(Row::Cells(vec![plain(show(*over)), plain(show(*to)), plain(show(*by))]));
    }
    let mut tables = vec![linear];
    if rows().any(|r| r.ends.is_some()) {
        let heads = vec![
            Column::figures("Shorter leg over, mm"),
            Column::figures("Up to, mm"),
            Column::figures("± angle"),
        ];
        let mut angular = Table::new("Angles: ISO 2768-1 c", heads);
        for (over, to, by) in ANGULAR.iter().filter(|r| r.0 < longest) {
            let to = if to.is_finite() { show(*to) } else { "–".into() };
            angular.rows.push(Row::Cells(vec![plain(show(*over)), plain(to), plain(*by)]));
        }
        tables.push(angular);
    }
    tables
}

/// Everything that is bought to be fitted: inserts and screws, glass, hardware.
fn fittings(job: &Job, worked: &WorkedJob, list: &CuttingList, look: &Look) -> Option<Table> {
    let columns =
        vec![Column::words("Fitting"), Column::figures(look.words().of_each()), Column::words("Where")];
    let mut table = Table::new("Fittings", columns);
    let mut row = |what: String, off: usize, place: String| {
        table.rows.push(Row::Cells(vec![on_sheet(&what), plain(off.to_string()), plain(place)]));
    };
    let words = look.words();
    for need in &list.needs {
        row(words.item(&need.item), need.quantity, need.places.join(", "));
    }
    for cut in &list.parts {
        let part = cut.which.first().and_then(|p| worked.parts.get(*p));
        let stock = part.and_then(|p| job.stock.get(p.stock.0));
        let Some((part, stock)) = part.zip(stock) else { continue };
        let place = format!("part {}, {}", part.mark(), cut.name);
        match stock.kind {
            StockKind::Glass { .. } => {
                let [l, w, t] = [cut.length, cut.width, cut.thickness].map(|mm| length_text(look, mm));
                row(format!("{}, {l} × {w} × {t}", stock.name), cut.quantity, place);
            }
            StockKind::Bought => row(stock.name.clone(), cut.quantity, place),
            StockKind::Sheet { .. } | StockKind::Board { .. } | StockKind::Blank { .. } => {}
        }
    }
    (!table.rows.is_empty()).then_some(table)
}

/// The revision block (ISO 7200, revision index), newest first.
fn revisions(job: &Job) -> Option<Table> {
    let columns = vec![Column::marks("Rev."), Column::marks("Date"), Column::words("What was changed")];
    let mut table = Table::new("Revisions", columns);
    for revision in job.head.revisions.iter().rev() {
        let date = revision.date.clone().unwrap_or_default();
        let cells = [revision.rev.clone(), date, revision.says.clone()];
        table.rows.push(Row::Cells(cells.map(plain).to_vec()));
    }
    (!table.rows.is_empty()).then_some(table)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO 2768-1 class c, as given in public tables: ± 0.5 from 6 to 30 mm,
    /// ± 1.2 from 120 to 400, ± 3 from 1000 to 2000.
    #[test]
    fn ranges_join_and_widen() {
        assert!(LINEAR.windows(2).all(|w| (w[0].1 - w[1].0).abs() < 1e-9 && w[0].2 < w[1].2));
        for (size, by) in [(18.0, 0.5), (400.0, 1.2), (1200.0, 3.0)] {
            let row = LINEAR.iter().find(|r| size > r.0 && size <= r.1).unwrap();
            assert!((row.2 - by).abs() < 1e-9, "{size}");
        }
    }
}
