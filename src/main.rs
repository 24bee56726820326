//! The program: see the library, `steadyleaf::cli`, for what it does.

use std::process::ExitCode;

fn main() -> ExitCode {
    steadyleaf::cli::run()
}
