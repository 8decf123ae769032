//! The `tapeline` command: parses arguments, calls the command line module, returns the exit code.

use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(tapeline::cli::main(std::env::args_os()))
}
