//! timber.
