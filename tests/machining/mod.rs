//! Machining: operations, set-ups and what is worked from which face.

mod settings;
