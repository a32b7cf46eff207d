//! `trials reference` prints the comparison with numbers from outside; `trials bench` measures;
//! `trials bench days` measures the simulated days of several pairs alone;
//! `trials freeze-day` writes a solved day down as plain numbers.
//!
//! Holds no check and no benchmark itself: they stand in the library beside it.
#![allow(clippy::print_stdout, reason = "a chore talks to the person who started it")]

use anyhow::{Result, bail};
use std::process::ExitCode;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    match run(&words) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("trials: {error:#}");
            ExitCode::from(2)
        }
    }
}

/// Runs what was asked for; `false` means that something does not hold.
fn run(words: &[String]) -> Result<bool> {
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match words.as_slice() {
        ["reference"] => {
            let (text, fine) = trials::reference::report()?;
            println!("{text}");
            Ok(fine)
        }
        ["bench"] => {
            print!("{}", trials::bench::table(&trials::bench::run()?));
            Ok(true)
        }
        ["bench", "--json"] => {
            println!("{}", trials::bench::run()?);
            Ok(true)
        }
        ["bench", "ensemble"] => {
            if let Some(peak_mb) = trials::bench::ensemble()? {
                println!("{peak_mb}");
            }
            Ok(true)
        }
        ["bench", "days"] => {
            print!("{}", trials::bench::table(&trials::bench::days()?));
            Ok(true)
        }
        ["freeze-day"] => {
            println!("{}", trials::frozen::freeze_demo_day()?);
            Ok(true)
        }
        other => {
            let asked = other.join(" ");
            bail!("no trial `{asked}`; there is: reference, bench [--json], bench days, freeze-day")
        }
    }
}
