//! The project's own chores: `cargo xtask test`, `reference`, `screenshots`, `bench`.
//!
//! Links no floor of the program: it starts `cargo`, `trials` and a browser, and counts what they
//! say.
#![allow(clippy::print_stdout, reason = "a chore talks to the person who started it")]

mod bench;
mod browser;
mod command;
mod parts;
mod reference;
mod tally;
mod tools;

use anyhow::{Result, bail};
use std::process::ExitCode;

const USAGE: &str = "\
usage: cargo xtask <chore>

  test [--long]    everything that must hold; ends with one line of counts
  reference        make the tables of reference/checks anew and compare
  screenshots      the plan page at 390 and 1440 px, light and dark, under target/screenshots
  bench [--json]   the benchmarks, in release

example: cargo xtask test";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    match run(&words) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("xtask: {error:#}");
            ExitCode::from(2)
        }
    }
}

/// Runs the chore that was asked for; `false` means it ran and something did not hold.
fn run(words: &[String]) -> Result<bool> {
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match words.as_slice() {
        ["test"] => parts::test(parts::Depth::Short),
        ["test", "--long"] => parts::test(parts::Depth::Long),
        ["reference"] => reference::compare(),
        ["screenshots"] => browser::screenshots(),
        ["bench"] => bench::run(bench::Output::Table),
        ["bench", "--json"] => bench::run(bench::Output::Json),
        [] | ["--help" | "-h" | "help"] => {
            println!("{USAGE}");
            Ok(true)
        }
        other => bail!("no chore `{}`\n{USAGE}", other.join(" ")),
    }
}
