//! Sizes on a view: bands of dimension lines outside it, notes on leaders.
//!
//! Choosing and placing are apart. Whoever chooses says which sizes a view
//! carries, as [`Sizes`] and [`Callout`](callout::Callout)s in sheet millimetres with the words
//! for what each fixes; [`place()`] gives every row of sizes a band, mends its
//! figures and draws; [`callouts`](callout::callouts()) then finds white paper for the notes.
//! Rules: ISO 129-1 and ASME Y14.5 as given in public tables (first line 10 mm
//! off, the next 7; shorter inside; arrows outside under 10 mm).

mod banded;
pub(in crate::drawing) mod callout;
pub(in crate::drawing) mod figure;
pub(in crate::drawing) mod ink;
mod lifted;
pub(in crate::drawing) mod place;
pub(in crate::drawing) mod row;
mod sizes;
pub(in crate::drawing) mod slide;
pub(in crate::drawing) mod white;

pub(in crate::drawing) use place::place;
pub(in crate::drawing) use sizes::{Beside, Form, Manner, Sizes, Stop};
