//! All lists of the shop.

use super::buying::buying_list;
use super::settings::{compound_ends, settings};
use super::{
    BuyingList, CutRow, CuttingList, Layouts, Settings, SheetCutting, SheetRow, blanks, cutting_list, layouts,
};
use crate::machining::Machined;
use crate::machining::ends::tidy;
use crate::problem::Problem;

/// Every list of the shop, all read from one cutting list.
#[derive(Clone, Debug, Default)]
pub struct ShopLists {
    /// The cutting list.
    pub list: CuttingList,
    /// Sheet and board layouts.
    pub layouts: Layouts,
    /// What to buy.
    pub buying: BuyingList,
    /// Machine settings.
    pub settings: Settings,
}

/// Puts the thickness of the boards that parts are laid out on into their rough sizes: a
/// board in the shop may be of another than those to be had. Of several the thickest.
fn as_laid_out(list: &mut CuttingList, layouts: &Layouts) {
    let of_cutting = |cutting: &SheetCutting| -> Vec<(SheetRow, f64)> {
        let cut = cutting.rows.iter().zip(&cutting.job.parts).filter(|(_, part)| part.quantity > 0);
        cut.map(|(row, _)| (*row, cutting.thick)).collect()
    };
    let mut laid: Vec<(SheetRow, f64)> = Vec::new();
    for (row, thick) in layouts.boards.iter().flat_map(of_cutting) {
        match laid.iter_mut().find(|(known, _)| *known == row) {
            Some((_, known)) => *known = thick.max(*known),
            None => laid.push((row, thick)),
        }
    }
    for (row, thick) in laid {
        let row = match row {
            SheetRow::Part(at) => list.parts.get_mut(at),
            SheetRow::Lipping(at) => list.lippings.get_mut(at),
            SheetRow::Folded(_) => None,
        };
        let Some(CutRow { rough: Some(rough), sawn: Some(axis), .. }) = row else { continue };
        if let Some(size) = rough.get_mut(*axis) {
            *size = tidy(thick);
        }
    }
}

/// The lists of a job; problems are about what has no place on any layout.
pub fn shop_lists(machined: &Machined<'_>) -> (ShopLists, Vec<Problem>) {
    let Machined { job, worked, .. } = *machined;
    let mut list = cutting_list(job, worked);
    // Neither waits for the other.
    let (settings, (layouts, mut problems)) =
        rayon::join(|| settings(machined, &list), || layouts(job, worked, &list));
    as_laid_out(&mut list, &layouts);
    // Works are the rows in order: parts, folded panels, lippings.
    let lippings = list.parts.len() + list.folded.len();
    for (work, row) in list.parts.iter_mut().enumerate() {
        row.compound = compound_ends(&settings, work);
    }
    for (work, row) in list.lippings.iter_mut().enumerate() {
        row.compound = compound_ends(&settings, lippings + work);
    }
    problems.extend(blanks::too_small(job, worked, &list));
    let buying = buying_list(job, worked, &list, &layouts);
    (ShopLists { list, layouts, buying, settings }, problems)
}
