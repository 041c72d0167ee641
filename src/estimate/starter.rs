//! A rates file to start from.

use std::fmt::Write as _;

use super::minutes::MINUTES;

/// What stands before the minutes.
const HEAD: &str = include_str!("starter_head.toml");
/// What stands after them.
const TAIL: &str = include_str!("starter_tail.toml");

/// What each table of minutes is about.
const TABLES: [(&str, &str); 7] = [
    ("job", "for the whole job"),
    ("part", "for each part made ready"),
    ("set_up", "for each set-up, a row of the settings sheet: once, however many parts it serves"),
    ("cut", "for each cut"),
    ("assembly", "at the bench"),
    ("finish", "for each square metre"),
    ("install", "at the client's; all 0 where pieces are fetched"),
];

/// A commented rates file with every key that can be said.
pub fn starter() -> String {
    let mut text = HEAD.to_owned();
    for (table, about) in TABLES {
        let _ = write!(text, "\n[minutes.{table}]  # {about}\n");
        let rows = || MINUTES.iter().filter(|row| row.table == table);
        let wide = rows().map(|row| row.key.len() + row.usual.len()).max().unwrap_or(0);
        for row in rows() {
            let gap = wide - row.key.len() - row.usual.len();
            let _ = writeln!(text, "{} = {}{:gap$}  # {}", row.key, row.usual, "", row.says);
        }
    }
    text + TAIL
}
