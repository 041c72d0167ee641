//! checks.
