//! The `rodwright` program; see `cli/`.

use std::process::ExitCode;

use rodwright::cli;

fn main() -> ExitCode {
    let (mut out, mut err) = (std::io::stdout().lock(), std::io::stderr());
    // Nothing is told of a stream that is no terminal.
    let columns = terminal_size::terminal_size_of(std::io::stderr()).map(|(width, _)| usize::from(width.0));
    let mut terminal = cli::Terminal::new(&mut out, &mut err).folding(columns);
    cli::run(std::env::args_os(), rodwright::words(), &mut terminal).code().into()
}
