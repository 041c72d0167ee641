//! cutting.
