//! Compiles and runs the C side of the benchmark day, if compiler and library are there.
//!
//! Installs nothing; it says what is missing.

use std::path::{Path, PathBuf};
use std::process::Command;

use super::{Run, VALUES, error};

/// What to do when the library is missing.
const REMEDY: &str = "on Debian: apt install gcc libsundials-dev";

/// CVODE at each tolerance, by both its methods.
pub(super) fn runs(
    folder: &Path,
    scratch: &Path,
    relative: &[f64],
    truth: &[f64; VALUES],
) -> Result<Vec<Run>, String> {
    let program = compile(&folder.join("cvode_day.c"), scratch)?;
    let mut runs = Vec::new();
    for (solver, method) in [("CVODE in C, BDF", "bdf"), ("CVODE in C, Adams", "adams")] {
        for &relative in relative {
            runs.push(run(&program, solver, method, relative, truth)?);
        }
    }
    Ok(runs)
}

/// Compiles the program; the reason if that is not possible.
fn compile(source: &Path, scratch: &Path) -> Result<PathBuf, String> {
    std::fs::create_dir_all(scratch).map_err(|error| format!("{}: {error}", scratch.display()))?;
    let program = scratch.join("cvode_day");
    let output = Command::new("cc")
        .args(["-O3", "-march=native"])
        .arg(source)
        .arg("-o")
        .arg(&program)
        .args(["-lsundials_cvode", "-lsundials_nvecserial", "-lm"])
        .output()
        .map_err(|error| format!("no C compiler: cc: {error}; {REMEDY}"))?;
    if output.status.success() {
        return Ok(program);
    }
    let said = String::from_utf8_lossy(&output.stderr);
    let first = said.lines().find(|line| line.contains("error")).unwrap_or("unknown error");
    Err(format!("SUNDIALS CVODE cannot be compiled against: {}; {REMEDY}", first.trim()))
}

/// One run of the program: time, calls and the final values, a number a line.
fn run(
    program: &Path,
    solver: &'static str,
    method: &str,
    relative: f64,
    truth: &[f64; VALUES],
) -> Result<Run, String> {
    let output = Command::new(program)
        .args([&format!("{relative:e}"), method])
        .output()
        .map_err(|error| format!("{}: {error}", program.display()))?;
    let text = String::from_utf8_lossy(&output.stdout);
    let numbers: Vec<f64> = text.lines().filter_map(|line| line.parse().ok()).collect();
    let [day_us, rate_calls, values @ ..] = numbers.as_slice() else {
        let said = String::from_utf8_lossy(&output.stderr);
        return Err(format!("the CVODE program printed nothing: {}", said.trim()));
    };
    let values: &[f64; VALUES] = values
        .try_into()
        .map_err(|_| format!("the CVODE program printed {} values", values.len()))?;
    let (day_us, rate_calls) = (*day_us, *rate_calls as u64);
    Ok(Run { solver, relative, error: error(values, truth), day_us, rate_calls })
}
