//! All lists of the shop.

use super::buying::buying_list;
use super::settings::settings;
use super::{BuyingList, CuttingList, Layouts, Settings, blanks, cutting_list, layouts};
use crate::machining::Machined;
use crate::problem::Problem;

/// Every list of the shop, all read from one cutting list.
#[derive(Clone, Debug, Default)]
pub struct ShopLists {
    /// The cutting list.
    pub list: CuttingList,
    /// Sheet and stick layouts.
    pub layouts: Layouts,
    /// What to buy.
    pub buying: BuyingList,
    /// Machine settings.
    pub settings: Settings,
}

/// The lists of a job; problems are about what has no place on any layout.
pub fn shop_lists(machined: &Machined<'_>) -> (ShopLists, Vec<Problem>) {
    let Machined { job, worked, .. } = *machined;
    let list = cutting_list(job, worked);
    // Neither waits for the other.
    let (settings, (layouts, mut problems)) =
        rayon::join(|| settings(machined, &list), || layouts(job, worked, &list));
    problems.extend(blanks::too_small(job, worked, &list));
    let buying = buying_list(job, worked, &list, &layouts);
    (ShopLists { list, layouts, buying, settings }, problems)
}
