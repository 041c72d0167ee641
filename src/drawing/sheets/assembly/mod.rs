//! Assembly order: what to lay out, then one picture and a few lines for each step,
//! several to a sheet (one diagram for each major step, the way of attachment seen: Heiser
//! et al. 2004).

mod apart;
mod bench;
mod by_then;
mod closed;
mod pages;
mod picture;
mod ready;
mod wedges;

pub(in crate::drawing) use pages::assembly_sheets;
