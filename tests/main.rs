//! All integration tests in one binary, so that it links once. One module per
//! subject, each in a file beside this one.

mod cli;
mod drawing_parts;
mod problems;
mod script;
mod solids;
mod support;
