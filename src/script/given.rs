//! The stocks that furniture types of the library were given, so that one of which no part
//! came to be made is told.

use crate::model::StockId;
use crate::source::Origin;

/// A stock that a script gave a type of the library.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::script) struct Given {
    /// The option it was given for.
    pub(in crate::script) key: String,
    /// What the type says that option is for.
    pub(in crate::script) says: String,
    /// Which stock.
    pub(in crate::script) stock: Which,
    /// The call of the type.
    pub(in crate::script) call: Origin,
    /// Where it was written.
    pub(in crate::script) place: Origin,
    /// Whether it stands in a map of stocks that serves several types.
    pub(in crate::script) shared: bool,
}

/// How a stock was named.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::script) enum Which {
    /// One of the script's own.
    Own(StockId),
    /// One the library knows, by its name there.
    Known(String),
}
