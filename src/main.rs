//! The program: the commands are here, and everything that they do is in the library.

mod cli;

use std::process::ExitCode;

fn main() -> ExitCode {
    cli::run().into()
}
