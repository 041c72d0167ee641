//! The command line: the only place that reads and writes files, knows the
//! clock and prints.
//!
//! Comes in: arguments. Goes out: files, text on the terminal, and an exit
//! code: 0 done, 1 problems in the script or job, 2 wrong use of the command
//! line, 3 files could not be read or written.

mod args;
mod check;
mod compare;
mod csv;
mod cut_list;
mod ended;
mod files;
mod licences;
mod loader;
mod quote;
mod request;
mod run;
mod setout;
mod sizes;
mod start;
mod table;
mod terminal;
mod words;

pub use ended::Ended;
pub use files::{WriteError, write_all};
pub use loader::Folder;
pub use run::run;
pub use terminal::Terminal;
