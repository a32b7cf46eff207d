//! The binary: arguments, and which command they ask for. Every command has a file of its own; no
//! rule of the process stands here.

mod command;
mod files;
mod out;

use clap::Parser;
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments = match command::Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(error) => return out::usage(&error),
    };
    match command::run(arguments) {
        Ok(code) => code,
        Err(error) => out::failed(&error),
    }
}
