//! The `rodwright` program; see `cli/`.

use std::process::ExitCode;

use rodwright::cli;

fn main() -> ExitCode {
    let (mut out, mut err) = (std::io::stdout().lock(), std::io::stderr().lock());
    let mut terminal = cli::Terminal::new(&mut out, &mut err);
    cli::run(std::env::args_os(), rodwright::words(), &mut terminal).code().into()
}
