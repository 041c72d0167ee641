//! The part graph: the job as the script states it.
//!
//! Comes in: nothing but plain data. Goes out: [`Job`]. Knows nothing of rhai
//! and nothing of drawings. Lengths mm. Piece coordinates: x to the right, y to
//! the back, z up, seen standing before the piece. Part coordinates: x along
//! the length (the grain), y across the width, z through the thickness, origin
//! at the reference corner: the face mark on z = 0, the edge mark on y = 0.

mod cutting;
mod job;
mod order;
mod side;
mod site;
mod sold;
mod stock;
mod together;
mod turn;
mod usual;
mod word;

pub use cutting::Cutting;
pub use job::{
    FLOATS, Finish, Form, GrainRun, Job, JobHead, Load, Note, Part, PartId, Piece, PieceId, SizeDecl,
    SizeKind, SizeValue, Work,
};
pub use order::{Before, Glue, OrderAsked, UnitAsked};
pub use side::{Face, Side};
pub use site::{Obstacle, Scribe, Site, Truth};
pub use sold::{Per, Sold, Told};
pub use stock::{
    BOARD_LENGTH, BoardPrice, BoardSize, Grain, SheetSize, Staves, Stock, StockId, StockKind, board_length,
};
pub use together::together;
pub use turn::{RunEnd, Runs, Turn, TurnAxis, TurnPoint};
pub use usual::{REQUIRED, Usual};
pub use word::{Arg, OptionKind, OptionSpec, OptionValue, Options, Revision, Takes, Word};
