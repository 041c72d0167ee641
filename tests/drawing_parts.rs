//! Part sheets: what a maker reads off them is the part.

mod fixtures;
