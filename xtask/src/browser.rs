//! The program in a real browser: the tests of `e2e/`, and pictures of its page.
//!
//! Knows no page: what must stand on it is written in `e2e/plan.test.mjs`.

use crate::command::{Outcome, cargo, command, show, target_dir};
use crate::tally::{self, Tally};
use crate::tools::{browser_packages, chromium};
use anyhow::{Result, bail};

/// Runs the browser tests against the program as built for tests.
pub(crate) fn test() -> Result<Tally> {
    let args = ["--test", "--test-reporter=tap", "plan.test.mjs"];
    let run = in_browser(&args, "dev", "debug")?;
    Ok(Tally::of_run(tally::node(&run.text), run.success))
}

/// Takes pictures of the plan page at two widths in both colour schemes.
pub(crate) fn screenshots() -> Result<bool> {
    let folder = target_dir().join("screenshots");
    std::fs::create_dir_all(&folder)?;
    let args = ["screenshots.mjs", &folder.to_string_lossy()];
    Ok(in_browser(&args, "release", "release")?.success)
}

/// Builds the program and starts `node` in `e2e/`, telling it where program and browser are.
fn in_browser(args: &[&str], build: &str, folder: &str) -> Result<Outcome> {
    let browser = chromium()?;
    browser_packages()?;
    let built = show(&mut cargo(&[
        "build",
        "--quiet",
        "--locked",
        "--package",
        "underback",
        "--profile",
        build,
    ]))?;
    if !built.success {
        bail!("the program does not build");
    }
    let program = target_dir().join(folder).join("underback");
    show(
        command("node", args)
            .current_dir(crate::command::root().join("e2e"))
            .env("UNDERBACK", program)
            .env("CHROMIUM", browser),
    )
}
