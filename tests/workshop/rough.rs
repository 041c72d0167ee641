//! Rough pieces against the cutting list: as many as it asks for, of its rough sizes.

use super::papers::{BUYING, Kind, Papers, Row, same, text};
use super::saw::Sawn;

/// Everything that is not as the list has it.
pub(crate) fn faults(papers: &Papers, sawn: &[Sawn]) -> Vec<String> {
    let mut faults = Vec::new();
    let mut left: Vec<&Sawn> = sawn.iter().collect();
    let rows = papers.rows();
    // Blanks, glass and bought parts come ready to size.
    let groups = ["sheets", "boards", "from-the-shop"];
    let lines = papers.list(BUYING, "lines").into_iter();
    let cut: Vec<String> = lines
        .filter(|line| groups.contains(&text(&line["group"]).as_str()))
        .map(|line| text(&line["what"]))
        .collect();
    for row in &rows {
        // What is bought finished or comes out of a folded panel is not sawn.
        let Some(rough) = row.rough else { continue };
        let (mine, rest): (Vec<&Sawn>, Vec<&Sawn>) =
            left.into_iter().partition(|piece| piece.mark == row.mark && piece.stock == row.stock);
        left = rest;
        if mine.is_empty() && !cut.contains(&row.stock) {
            continue;
        }
        let folded = usize::from(row.kind == Kind::Part) * folded_away(row, &rows);
        let wanted = (row.quantity - folded) * row.staves;
        if mine.len() != wanted {
            faults.push(format!(
                "{} {}: {} pieces are sawn, {wanted} are wanted",
                row.mark,
                row.name,
                mine.len()
            ));
        }
        faults.extend(rack(row, rough, &mine));
        for piece in &mine {
            if let Some(why) = wrong(row, rough, piece) {
                faults.push(format!("{} {}: {why}", row.mark, row.name));
                break;
            }
        }
    }
    faults.extend(left.iter().map(|piece| format!("{} is sawn and not on the list", piece.mark)));
    faults
}

/// Whether the list names a board that is not the thickest any of the row is sawn from: then
/// the wrong one is fetched from the rack.
fn rack(row: &Row, rough: [f64; 3], mine: &[&Sawn]) -> Option<String> {
    let thick = mine.iter().filter(|piece| piece.board).map(|piece| piece.thick).reduce(f64::max)?;
    let named = same(thick, rough[2]) || row.kind == Kind::Lipping && same(thick, rough[1]);
    (!named).then(|| format!("{} {}: it is sawn from {thick}; the list says {rough:?}", row.mark, row.name))
}

/// How many parts of a row come out of folded panels, whose mark is that of all of them.
fn folded_away(row: &Row, rows: &[Row]) -> usize {
    let panels = rows.iter().filter(|other| other.kind == Kind::Folded);
    panels
        .filter(|panel| panel.mark.split(" + ").any(|mark| mark == row.mark))
        .map(|panel| panel.quantity)
        .sum()
}

/// What is wrong with a piece.
fn wrong(row: &Row, rough: [f64; 3], piece: &Sawn) -> Option<String> {
    let [long, wide] = piece.size;
    if !piece.board {
        let lies =
            same(long, rough[0]) && same(wide, rough[1]) || same(long, rough[1]) && same(wide, rough[0]);
        return (!lies || !same(piece.thick, row.size[2]))
            .then(|| format!("{long} × {wide}, {} thick is sawn; its rough size is {rough:?}", piece.thick));
    }
    // Of a board the grain runs along; a lipping may be ripped off a board as thick as
    // it is wide.
    let flat = piece.thick <= rough[2] + 0.01 && same(wide, width(row, rough));
    let on_edge = piece.thick <= rough[1] + 0.01 && same(wide, rough[2]);
    let thick_enough = piece.thick > row.size[2].min(row.size[1]);
    let lies = flat || (row.kind == Kind::Lipping && on_edge);
    (!same(long, rough[0]) || !lies || !thick_enough)
        .then(|| format!("{long} × {wide} of {} is sawn; its rough size is {rough:?}", piece.thick))
}

/// How wide each stave must be: what is left on for jointing is on every one of them.
fn width(row: &Row, rough: [f64; 3]) -> f64 {
    // Together staves are no less than the panel, and are sawn to it when they are glued.
    let wide = row.stave_width.filter(|wide| wide * row.staves as f64 > row.size[1] - 0.11);
    if row.staves == 1 { rough[1] } else { wide.unwrap_or(0.0) + rough[1] - row.size[1] }
}
