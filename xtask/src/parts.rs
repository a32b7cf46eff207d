//! `cargo xtask test`: every part in order, each with its own counts, and one closing line.
//!
//! A part that cannot be run counts as failed. Only the advisories may be left out, and the last
//! line then says so.

use crate::browser;
use crate::command::{Outcome, cargo, command, quiet, root, show, target_dir};
use crate::tally::{self, Tally};
use crate::tools::{CARGO_DENY, MDBOOK, cargo_tool, on_path};
use anyhow::Result;
use std::path::Path;
use std::time::Duration;

/// What the closing line says besides where the database of advisories cannot be reached.
const ADVISORIES_LEFT_OUT: &str = "; advisories not checked: the database cannot be reached";

/// How much is tried.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Depth {
    /// What must hold at every change, in minutes.
    Short,
    /// The same code with more cases: long properties, fuzzers.
    Long,
}

/// One part that was run: its name, its counts, how long it took.
struct Part {
    name: &'static str,
    tally: Tally,
    took: Duration,
}

/// Runs everything that must hold; the last line printed holds the counts.
pub(crate) fn test(depth: Depth) -> Result<bool> {
    let mut parts = vec![
        part("format", || checked(&mut cargo(&["fmt", "--all", "--check"]))),
        part("lints", lints),
        part("tests", || tests(depth)),
        part("doc tests", || doc_tests(depth)),
        part("docs", || {
            let docs = &["doc", "--workspace", "--no-deps", "--locked", "--quiet"];
            checked(cargo(docs).env("RUSTDOCFLAGS", "-D warnings"))
        }),
        part("manual", manual),
        part("outside references", || {
            let list = &["run", "--quiet", "--locked", "--package", "trials", "--", "reference"];
            checked(&mut cargo(list))
        }),
        part("licences, bans, sources", licences),
    ];
    let mut advisories_read = false;
    parts.push(part("advisories", || advisories(&mut advisories_read)));
    parts.push(part("browser", browser::test));

    println!();
    for Part { name, tally, took } in &parts {
        println!("{name:<24} {:>5.0} s  {tally}", took.as_secs_f64());
    }
    let all: Tally = parts.iter().map(|part| part.tally).sum();
    println!("{all}{}", if advisories_read { "" } else { ADVISORIES_LEFT_OUT });
    Ok(all.failed == 0)
}

/// Runs one part; an error is told and counts as a failure.
fn part(name: &'static str, run: impl FnOnce() -> Result<Tally>) -> Part {
    println!("\n== {name}");
    #[allow(clippy::disallowed_methods, reason = "a chore tells how long it took")]
    let start = std::time::Instant::now();
    let tally = run().unwrap_or_else(|error| {
        println!("{name}: {error:#}");
        Tally::one(false)
    });
    Part { name, tally, took: start.elapsed() }
}

/// One check: the command ends well or it does not.
fn checked(command: &mut std::process::Command) -> Result<Tally> {
    Ok(Tally::one(show(command)?.success))
}

fn lints() -> Result<Tally> {
    let args = ["clippy", "--workspace", "--all-targets", "--locked", "--quiet"];
    checked(cargo(&args).args(["--", "-D", "warnings"]))
}

fn tests(depth: Depth) -> Result<Tally> {
    let long = if depth == Depth::Long { "1" } else { "0" };
    let nextest = on_path(&["cargo-nextest"]).is_some();
    let args: &[&str] = if nextest {
        &["nextest", "run", "--workspace", "--locked", "--no-fail-fast", "--status-level", "slow"]
    } else {
        &["test", "--workspace", "--locked", "--no-fail-fast", "--lib", "--bins", "--tests"]
    };
    let mut run = cargo(args);
    run.env("UNDERBACK_LONG", long).env("INSTA_UPDATE", "no").env("RUST_BACKTRACE", "0");
    let run = show(&mut run)?;
    let counts = if nextest { tally::nextest(&run.text) } else { tally::cargo_test(&run.text) };
    Ok(Tally::of_run(counts, run.success))
}

fn doc_tests(depth: Depth) -> Result<Tally> {
    let long = if depth == Depth::Long { "1" } else { "0" };
    let args = ["test", "--workspace", "--locked", "--no-fail-fast", "--doc", "--quiet"];
    let run = show(cargo(&args).env("UNDERBACK_LONG", long))?;
    Ok(Tally::of_run(tally::cargo_test(&run.text), run.success))
}

fn manual() -> Result<Tally> {
    let mdbook = cargo_tool(&MDBOOK)?;
    let place = target_dir().join("manual");
    let place = place.to_string_lossy();
    let run = show(&mut command(&mdbook.to_string_lossy(), &["build", "docs", "-d", &place]))?;
    let clean = !run.text.lines().any(|l| l.contains("WARN") || l.contains("ERROR"));
    Ok(Tally::one(run.success && clean && Path::new(&*place).join("index.html").is_file()))
}

/// `cargo deny` on the given checks.
fn deny(checks: &[&str]) -> Result<Outcome> {
    let deny = cargo_tool(&CARGO_DENY)?;
    let mut args = vec!["--all-features", "check", "--hide-inclusion-graph"];
    args.extend(checks);
    show(command(&deny.to_string_lossy(), &args).current_dir(root()))
}

fn licences() -> Result<Tally> {
    Ok(Tally::one(deny(&["licenses", "bans", "sources"])?.success))
}

/// Known faults of the libraries; left out where their database cannot be reached.
fn advisories(read: &mut bool) -> Result<Tally> {
    let deny_path = cargo_tool(&CARGO_DENY)?;
    let mut fetch = command("timeout", &["120", &deny_path.to_string_lossy(), "fetch", "db"]);
    *read = quiet(&mut fetch).is_some_and(|fetched| fetched.success);
    if *read {
        return Ok(Tally::one(deny(&["advisories"])?.success));
    }
    println!("the database cannot be reached");
    Ok(Tally { skipped: 1, ..Tally::default() })
}
