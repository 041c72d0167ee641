//! What can be said on the command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

/// Sets out furniture from a short script: shop drawings, lists, assembly order.
#[derive(Debug, Parser)]
#[command(name = "rodwright", version, about, disable_help_subcommand = true)]
pub(super) struct Line {
    /// What to do.
    #[command(subcommand)]
    pub(super) command: Command,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Look for problems in a script and its job, and write nothing
    Check(Check),
    /// List what can be changed in a script
    Sizes(Sizes),
}

/// The script a command works on.
#[derive(Args, Debug)]
pub(super) struct Script {
    /// The script
    #[arg(value_name = "SCRIPT")]
    pub(super) script: PathBuf,
    /// Change a size or choice of the script; may be said many times
    #[arg(long, value_name = "NAME=VALUE", value_parser = setting)]
    pub(super) set: Vec<(String, String)>,
}

/// `check`.
#[derive(Args, Debug)]
pub(super) struct Check {
    /// The script.
    #[command(flatten)]
    pub(super) script: Script,
    /// Print the problems as JSON
    #[arg(long)]
    pub(super) json: bool,
}

/// `sizes`.
#[derive(Args, Debug)]
pub(super) struct Sizes {
    /// The script
    #[arg(value_name = "SCRIPT")]
    pub(super) script: PathBuf,
    /// Print the sizes as JSON
    #[arg(long)]
    pub(super) json: bool,
}

/// Splits `width=1200`.
fn setting(text: &str) -> Result<(String, String), String> {
    match text.split_once('=') {
        Some((name, value)) if !name.trim().is_empty() => {
            Ok((name.trim().to_owned(), value.trim().to_owned()))
        }
        _ => Err("a value is set with a name, `=` and the value: `--set width=1200`".into()),
    }
}
