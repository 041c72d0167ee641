//! `--licences`: under what terms the program and what is built into it may be
//! passed on.

/// The notice of the lettering, which its licence wants with every copy.
const LETTERING: &str = include_str!("../paper/fonts/OFL.txt");

/// The whole text.
pub(super) fn text() -> String {
    format!(
        "rodwright is licensed under the MIT License or the Apache License, Version 2.0\n\
         (SPDX: {}), as you like. Their texts come with its source, in LICENSE-MIT and\n\
         LICENSE-APACHE.\n\n\
         The lettering is built into the program, and the letters used into the drawings\n\
         it makes, under this notice:\n\n{LETTERING}",
        env!("CARGO_PKG_LICENSE")
    )
}
