//! output.
