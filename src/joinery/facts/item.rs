//! What joints need besides the parts, by its sizes: bought, turned or cut in the
//! shop.

/// A loose thing that a joint needs.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// As the script names it.
    Named(String),
    // Tenons, dowels, tongues: cut from wood.
    // Screws and other fixings.
    // Fittings of doors and drawers.
    // Fittings that hang or hold.
}
