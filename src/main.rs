//! The program: hands the words of the command line to `cli` and returns its exit code.

use std::process::ExitCode;

fn main() -> ExitCode {
    asfound::cli::run(std::env::args_os()).into()
}
