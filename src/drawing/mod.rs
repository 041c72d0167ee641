//! drawing.
