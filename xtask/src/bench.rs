//! `cargo xtask bench`: starts the benchmarks of `trials` in release.
//!
//! Measures nothing itself.

use crate::command::{cargo, command};
use anyhow::{Context, Result};

/// How the figures are printed.
#[derive(Clone, Copy)]
pub(crate) enum Output {
    /// A table for people.
    Table,
    /// One JSON object on standard output and nothing else.
    Json,
}

/// Builds the program and `trials` in release, then runs the benchmarks.
pub(crate) fn run(output: Output) -> Result<bool> {
    let build = ["build", "--release", "--quiet", "--package", "underback", "--package", "trials"];
    let built = cargo(&build).status().context("cannot start cargo")?;
    if !built.success() {
        return Ok(false);
    }
    let trials = crate::command::target_dir().join("release").join("trials");
    let mut args = vec!["bench"];
    if matches!(output, Output::Json) {
        args.push("--json");
    }
    let run = command(&trials.to_string_lossy(), &args).status().context("cannot start trials")?;
    Ok(run.success())
}
