//! The `rodwright` program; see `cli/`.

fn main() {}
