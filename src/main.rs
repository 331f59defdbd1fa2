//! Reads the arguments, runs one command, and turns its outcome into an exit code.

use hardlid::command;
use hardlid::system::Machine;
use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(command::run(std::env::args_os(), &Machine).code())
}
