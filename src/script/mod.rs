//! script.
