//! The arguments of the command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

use crate::drawing::{Also, LabelGrid, Look, Paper, PaperSeries, Profile, SheetKind};
use crate::measure::Unit;
use crate::problem::{nearest, wording};

/// Sets out furniture from a short script: shop drawings, lists, assembly order.
#[derive(Debug, Parser)]
#[command(name = "rodwright", version, about, disable_help_subcommand = true)]
#[command(arg_required_else_help = true, args_conflicts_with_subcommands = true)]
pub(super) struct Line {
    /// What to do; `None` where the licences are asked for.
    #[command(subcommand)]
    pub(super) command: Option<Command>,
    /// Print under what licences the program and its lettering stand
    #[arg(long)]
    pub(super) licences: bool,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Write the whole drawing set of a script
    Setout(Setout),
    /// Write a quotation for the client, with drawings if asked, from a script and the shop's rates
    Quote(Quote),
    /// Write a set for each row of a table of sizes, with its price where rates are given
    Table(Table),
    /// Say what a change does to every part, above all to those cut already
    Compare(Compare),
    /// Look for problems in a script, its job and its sheets, and write nothing
    Check(Check),
    /// List what can be changed in a script
    Sizes(Sizes),
    /// Write a script to start from, for a furniture type of the library
    Start(Start),
    /// Say what words a script is written in, and what each takes
    Words(Words),
}

/// The script a command works on.
#[derive(Args, Debug)]
#[allow(clippy::struct_field_names, reason = "its name is what the help calls it")]
pub(super) struct Script {
    /// The script
    #[arg(value_name = "SCRIPT")]
    pub(super) script: PathBuf,
    /// Change a size or choice of the script; may be said many times
    #[arg(long, value_name = "NAME=VALUE", value_parser = setting)]
    pub(super) set: Vec<(String, String)>,
    /// Take the nearest size that can be made where one that is set cannot
    #[arg(long)]
    pub(super) nearest: bool,
}

/// `setout`.
#[derive(Args, Debug)]
pub(super) struct Setout {
    /// The script.
    #[command(flatten)]
    pub(super) script: Script,
    /// What is cut already.
    #[command(flatten)]
    pub(super) known: Known,
    /// More scripts, with `--together`
    #[arg(value_name = "SCRIPT", requires = "together")]
    pub(super) more: Vec<PathBuf>,
    /// Set several scripts out as one job: one buying list, layouts cut together
    #[arg(long, requires = "more", conflicts_with_all = ["near", "since", "cut"])]
    pub(super) together: bool,
    /// The folder the set is written to; made if it is not there [default: named after the script]
    #[arg(long, value_name = "DIR")]
    pub(super) out: Option<PathBuf>,
    /// Write for other programs too: dxf (flat parts for a cutting machine), gltf (the piece in 3D)
    #[arg(long, value_name = "KINDS", value_delimiter = ',', value_parser = also)]
    pub(super) also: Vec<Also>,
    /// Open the set with a sheet for the client: the piece in perspective, and what it is in words
    #[arg(long)]
    pub(super) client: bool,
    /// How the set is to look.
    #[command(flatten)]
    pub(super) look: Appearance,
}

/// What is known of a set before this one.
#[derive(Args, Debug)]
pub(super) struct Known {
    /// Parts that are cut already: a list of their names, or a cutting list with a column `cut`
    #[arg(long, value_name = "FILE")]
    pub(super) cut: Option<PathBuf>,
    /// The job file of the set they were cut from [default: the one in the folder written to]
    #[arg(long, value_name = "NAME-job.json")]
    pub(super) since: Option<PathBuf>,
}

/// `compare`.
#[derive(Args, Debug)]
pub(super) struct Compare {
    /// The job as it was: the `NAME-job.json` of its set, or a script
    #[arg(value_name = "BEFORE")]
    pub(super) before: PathBuf,
    /// The job as it is.
    #[command(flatten)]
    pub(super) script: Script,
    /// A size or choice as it was, where BEFORE is a script; may be said many times
    #[arg(long, value_name = "NAME=VALUE", value_parser = setting)]
    pub(super) was: Vec<(String, String)>,
    /// Parts that are cut already: a list of their names, or a cutting list with a column `cut`
    #[arg(long, value_name = "FILE")]
    pub(super) cut: Option<PathBuf>,
    /// The shop's rates; hours and prices are then told
    #[arg(long, value_name = "FILE")]
    pub(super) rates: Option<PathBuf>,
    /// The folder the change sheets are written to [default: nothing is written]
    #[arg(long, value_name = "DIR")]
    pub(super) out: Option<PathBuf>,
    /// How its sheets are to look.
    #[command(flatten)]
    pub(super) look: Appearance,
}

/// `quote`.
#[derive(Args, Debug)]
pub(super) struct Quote {
    /// The script.
    #[command(flatten)]
    pub(super) script: Script,
    /// The shop's rates; `start --rates` writes a file to start from
    #[arg(long, value_name = "FILE", default_value = "rates.toml")]
    pub(super) rates: PathBuf,
    /// How many are made of each piece
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=999))]
    pub(super) count: u32,
    /// Offer one more beside it: a title, then what changes; may be said five times
    #[arg(long, value_name = "TITLE NAME=VALUE", num_args = 2.., action = clap::ArgAction::Append)]
    pub(super) option: Vec<String>,
    /// Drawings to go with it, such as general,details
    #[arg(long, value_name = "KINDS", value_delimiter = ',', value_parser = kind)]
    pub(super) with: Vec<SheetKind>,
    /// Write the shop's own estimate too, to a file of its own
    #[arg(long)]
    pub(super) inside: bool,
    /// A warning that need not be settled with the client, by its code; may be said many times
    #[arg(long, value_name = "CODE")]
    pub(super) accept: Vec<String>,
    /// The folder it is written to; made if it is not there [default: named after the script]
    #[arg(long, value_name = "DIR")]
    pub(super) out: Option<PathBuf>,
    /// How its sheets are to look.
    #[command(flatten)]
    pub(super) look: Appearance,
}

/// `table`.
#[derive(Args, Debug)]
#[allow(clippy::struct_field_names, reason = "the table of the command `table`")]
pub(super) struct Table {
    /// The script.
    #[command(flatten)]
    pub(super) script: Script,
    /// The table: CSV or the first sheet of a workbook (.xlsx), with the names of sizes as heads, and `name` for that of a row
    #[arg(value_name = "SIZES")]
    pub(super) table: PathBuf,
    /// The shop's rates; a price for each row is then in the summary
    #[arg(long, value_name = "FILE")]
    pub(super) rates: Option<PathBuf>,
    /// What is written for each row: all, lists, none
    #[arg(long, value_name = "FILES", value_enum, default_value_t = Files::All)]
    pub(super) files: Files,
    /// The folder it is all written to; made if it is not there [default: named after the script]
    #[arg(long, value_name = "DIR")]
    pub(super) out: Option<PathBuf>,
    /// How the sets are to look.
    #[command(flatten)]
    pub(super) look: Appearance,
}

/// What is written for each row of a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub(super) enum Files {
    /// The whole set.
    All,
    /// The lists.
    Lists,
    /// Nothing: the summary alone.
    None,
}

/// Drawings that may go with a quotation, by the names they are asked for. Lists and
/// layouts may not: what the shop pays stands on them.
pub(super) const WITH: [(&str, SheetKind); 8] = [
    ("general", SheetKind::GeneralArrangement),
    ("notes", SheetKind::Notes),
    ("section", SheetKind::Section),
    ("details", SheetKind::Detail),
    ("apart", SheetKind::Exploded),
    ("parts", SheetKind::Part),
    ("assembly", SheetKind::Assembly),
    ("wall", SheetKind::Site),
];

/// A kind of drawing.
fn kind(text: &str) -> Result<SheetKind, String> {
    let found = WITH.iter().find(|(name, _)| *name == text.trim()).map(|(_, kind)| *kind);
    named(text, found, &WITH.map(|(name, _)| name))
}

/// How a set is to look.
#[derive(Args, Debug)]
pub(super) struct Appearance {
    /// Paper: a4 to a0, letter, tabloid, c, d, e [default: a3, for inches tabloid]
    #[arg(long, value_name = "PAPER", value_parser = paper)]
    pub(super) paper: Option<Paper>,
    /// Unit of the figures: mm, in [default: the script's]
    #[arg(long, value_name = "UNIT", value_parser = unit)]
    pub(super) units: Option<Unit>,
    /// Drawing practice: iso, asme, uk [default: iso, for inches asme]
    #[arg(long, value_name = "PROFILE", value_parser = profile)]
    pub(super) profile: Option<Profile>,
    /// Date of issue on the drawings [default: none]
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = crate::measure::date)]
    pub(super) date: Option<String>,
    /// Finest fraction of an inch: 4, 8, 16, 32, 64 [default: 32]
    #[arg(long, value_name = "N", value_parser = finest)]
    pub(super) finest: Option<u32>,
    /// Show overall sizes in feet and inches
    #[arg(long)]
    pub(super) feet: bool,
    /// Put a blank sheet in, to measure the room by
    #[arg(long)]
    pub(super) survey: bool,
    /// Columns and rows of the label paper [default: 3x8 on A4, 2x5 on letter]
    #[arg(long, value_name = "CxR", value_parser = labels)]
    pub(super) labels: Option<(usize, usize)>,
    /// A label for each lipping too
    #[arg(long)]
    pub(super) label_lippings: bool,
    /// Packs and prices of what is bought, as `sold` tells them, in a TOML file [default: none]
    #[arg(long, value_name = "FILE")]
    pub(super) prices: Option<PathBuf>,
    /// Search layouts so many times as long as usual, for a cheaper one: 1 to 1000
    #[arg(long, value_name = "TIMES", value_parser = clap::value_parser!(u32).range(1..=1000))]
    pub(super) effort: Option<u32>,
    /// Look for sizes near by that save a sheet or a board, within so many per cent [3 if not said]
    #[arg(long, value_name = "PERCENT", num_args = 0..=1, default_missing_value = "3", value_parser = percent)]
    pub(super) near: Option<f64>,
}

/// How far sizes may be from what they are: more than a tenth is another piece.
const FARTHEST: f64 = 10.0;

/// A share of a size, such as `3` or `2.5 %`.
fn percent(text: &str) -> Result<f64, String> {
    let number = text.trim_end_matches('%').trim().parse::<f64>().ok();
    let good = number.filter(|number| *number > 0.0 && *number <= FARTHEST);
    good.ok_or_else(|| format!("say how near in per cent, up to {FARTHEST}, such as `--near=3`"))
}

/// Columns and rows of a label paper, such as `3x8`.
fn labels(text: &str) -> Result<(usize, usize), String> {
    let read = |text: &str| text.trim().parse::<usize>().ok();
    let found = text.split_once(['x', 'X', '×']).and_then(|(c, r)| Some((read(c)?, read(r)?)));
    let (columns, rows) = found.ok_or("say columns and rows, such as 3x8")?;
    let good = [PaperSeries::Iso, PaperSeries::Asme].map(|s| LabelGrid::new(s, columns, rows));
    if good.contains(&None) {
        return Err("labels must be at least 50 x 25 mm to be read: take fewer columns or rows".into());
    }
    Ok((columns, rows))
}

/// A kind of file for other programs.
fn also(text: &str) -> Result<Also, String> {
    let kinds = [("dxf", Also::Dxf), ("gltf", Also::Gltf)];
    let found = kinds.iter().find(|(name, _)| name.eq_ignore_ascii_case(text.trim())).map(|(_, kind)| *kind);
    named(text.trim(), found, &kinds.map(|(name, _)| name))
}

/// One of some names, any case, or which there are.
fn named<T>(text: &str, found: Option<T>, names: &[&str]) -> Result<T, String> {
    let names = || names.iter().copied();
    let can_be = || format!("it can be {}", wording::one_of(names()));
    found.ok_or_else(|| match nearest(text, names()) {
        Some(near) => format!("did you mean `{near}`? {}", can_be()),
        None => can_be(),
    })
}

/// A paper.
fn paper(text: &str) -> Result<Paper, String> {
    named(text, Paper::from_name(text), &Paper::ALL.map(Paper::name))
}

/// A unit.
fn unit(text: &str) -> Result<Unit, String> {
    let units = [Unit::Mm, Unit::Inch];
    named(text, units.into_iter().find(|u| u.name().eq_ignore_ascii_case(text)), &units.map(Unit::name))
}

/// A drawing practice.
fn profile(text: &str) -> Result<Profile, String> {
    named(text, Profile::from_name(text), &Profile::ALL.map(Profile::name))
}

/// The denominator of an inch rule's finest mark; `1/32` is understood too.
fn finest(text: &str) -> Result<u32, String> {
    let number = text.strip_prefix("1/").unwrap_or(text);
    let found = Look::FINEST.into_iter().find(|n| n.to_string() == number);
    named(number, found, &["4", "8", "16", "32", "64"])
}

/// `check`.
#[derive(Args, Debug)]
pub(super) struct Check {
    /// The script.
    #[command(flatten)]
    pub(super) script: Script,
    /// How the set that is looked over is to look.
    #[command(flatten)]
    pub(super) look: Appearance,
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

/// `start`.
#[derive(Args, Debug)]
pub(super) struct Start {
    /// The furniture type, such as bookcase
    #[arg(value_name = "TYPE", required_unless_present_any = ["list", "rates", "example"])]
    pub(super) name: Option<String>,
    /// Name the types there are, with a line about each
    #[arg(long, conflicts_with_all = ["name", "out", "units", "overwrite", "rates"])]
    pub(super) list: bool,
    /// Write a file of the shop's rates to start from, for `quote`
    #[arg(long, conflicts_with_all = ["name", "units"])]
    pub(super) rates: bool,
    /// Write an example to copy and alter: `hall_cabinet`, or that of a lesson of `words --guide`
    #[arg(long, value_name = "NAME", conflicts_with_all = ["name", "list", "rates", "job"])]
    pub(super) example: Option<String>,
    /// Write a folder for a whole job: script, wall, rates and price list
    #[arg(long, value_name = "NAME", requires = "name", conflicts_with_all = ["out", "list", "rates", "overwrite"])]
    pub(super) job: Option<PathBuf>,
    /// The file it is written to [default: it is printed]
    #[arg(long, value_name = "FILE")]
    pub(super) out: Option<PathBuf>,
    /// Unit the script is written in: mm, in [default: mm]
    #[arg(long, value_name = "UNIT", value_parser = unit)]
    pub(super) units: Option<Unit>,
    /// Write it though a file of that name is there
    #[arg(long, requires = "out")]
    pub(super) overwrite: bool,
}

/// `words`.
#[derive(Args, Debug)]
pub(super) struct Words {
    /// A word to be told about, what makers call it, or a text to look for in all of them
    #[arg(value_name = "WORD")]
    pub(super) asked: Vec<String>,
    /// Write all words to one page: HTML with a search where the name ends in .html, else Markdown
    #[arg(long, value_name = "FILE.md", conflicts_with = "asked")]
    pub(super) page: Option<PathBuf>,
    /// Print ten lessons for whoever never wrote a script; with `--page` they are written
    #[arg(long, conflicts_with_all = ["asked", "units", "schema"])]
    pub(super) guide: bool,
    /// Unit that lengths are told in: mm, in [default: mm]
    #[arg(long, value_name = "UNIT", value_parser = unit)]
    pub(super) units: Option<Unit>,
    /// Print what the JSON files of a set hold, as JSON Schema
    #[arg(long, conflicts_with_all = ["asked", "page", "units"])]
    pub(super) schema: bool,
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
