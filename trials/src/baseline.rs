//! The fixed yardstick for the integrator's speed: one benchmark day on our own solver and, in the
//! same run, on SUNDIALS CVODE in C, compared at equal error.
//!
//! The day and its numbers are invented for timing (`reference/baseline/`); it is no model of
//! anybody's pots and shares no code with the simulator.

mod cvode;
mod day;

use std::path::Path;
use std::time::Instant;

use serde_json::{Value, json};

/// Final values of one benchmark day.
pub const VALUES: usize = 42;

/// The tolerance our solver uses by default; the comparison is made at the error it gives.
const OUR_RELATIVE: f64 = 1e-5;

/// Tolerances tried with CVODE, coarse to fine, close enough that the next one costs little more.
const CVODE_RELATIVE: [f64; 8] = [1e-4, 5e-5, 2e-5, 1e-5, 5e-6, 2e-6, 1e-6, 5e-7];

/// How a solver did on the benchmark day.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Which solver.
    pub solver: &'static str,
    /// Its relative tolerance.
    pub relative: f64,
    /// Largest relative difference from the truth over the final values.
    pub error: f64,
    /// Time for one day: 10th percentile of many, µs.
    pub day_us: f64,
    /// Calls of the rates for one day.
    pub rate_calls: u64,
}

/// Both solvers beside each other.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// Our solver at its default tolerance.
    pub own: Run,
    /// The fastest CVODE run that is at least as exact, by either of its methods.
    pub cvode: Result<Run, String>,
}

impl Comparison {
    /// How many times faster ours is at equal error; none if CVODE could not be run.
    pub fn ratio(&self) -> Option<f64> {
        self.cvode.as_ref().ok().map(|cvode| cvode.day_us / self.own.day_us)
    }

    /// For the table of all benchmarks: `cvode_ratio` is null with `cvode_reason` said if there is
    /// nothing to compare with.
    pub fn json(&self) -> Value {
        let run = |run: &Run| {
            json!({
                "solver": run.solver,
                "relative_tolerance": run.relative,
                "error": run.error,
                "day_us": run.day_us,
                "rate_calls": run.rate_calls,
            })
        };
        json!({
            "cvode_ratio": self.ratio(),
            "cvode_reason": self.cvode.as_ref().err(),
            "own": run(&self.own),
            "cvode": self.cvode.as_ref().ok().map(run),
        })
    }
}

/// Runs the comparison. `root` is the workspace's folder; the C program is compiled into
/// `scratch`.
///
/// # Errors
/// If our own solver fails or the truth cannot be read. A missing compiler or library is no error:
/// [`Comparison::cvode`] says what is missing.
pub fn compare(root: &Path, scratch: &Path) -> anyhow::Result<Comparison> {
    let folder = root.join("reference").join("baseline");
    let truth = truth(&folder.join("truth.csv"))?;
    let own = own(OUR_RELATIVE, &truth)?;
    let cvode = cvode::runs(&folder, scratch, &CVODE_RELATIVE, &truth).and_then(|runs| {
        let exact_enough = runs.into_iter().filter(|run| run.error <= own.error);
        exact_enough
            .min_by(|one, other| one.day_us.total_cmp(&other.day_us))
            .ok_or_else(|| "no CVODE run was as exact as ours".to_owned())
    });
    Ok(Comparison { own, cvode })
}

/// The benchmark day on our solver: final values and the work it took.
///
/// # Errors
/// If the solver gives up.
pub fn baseline_day(relative: f64) -> anyhow::Result<([f64; VALUES], u64)> {
    let mut bench = day::Bench::new(relative);
    let values = bench.day()?;
    Ok((values, bench.rate_calls()))
}

/// Times our solver.
fn own(relative: f64, truth: &[f64; VALUES]) -> anyhow::Result<Run> {
    let (values, rate_calls) = baseline_day(relative)?;
    let mut bench = day::Bench::new(relative);
    let mut samples = Vec::with_capacity(2_000);
    for _ in 0..samples.capacity() {
        #[allow(clippy::disallowed_methods, reason = "a benchmark measures time")]
        let start = Instant::now();
        std::hint::black_box(bench.day()?);
        samples.push(start.elapsed().as_secs_f64() * 1e6);
    }
    samples.sort_by(f64::total_cmp);
    let day_us = samples[samples.len() / 10];
    let solver = "own Dormand-Prince 5(4)";
    Ok(Run { solver, relative, error: error(&values, truth), day_us, rate_calls })
}

/// Largest relative difference; values below 0.1 are judged as if they were 0.1.
fn error(values: &[f64; VALUES], truth: &[f64; VALUES]) -> f64 {
    let share = |(value, truth): (&f64, &f64)| (value - truth).abs() / truth.abs().max(0.1);
    values.iter().zip(truth).map(share).fold(0.0, f64::max)
}

/// The final values worked out far more exactly, from the reference folder.
fn truth(path: &Path) -> anyhow::Result<[f64; VALUES]> {
    let text = std::fs::read_to_string(path)
        .map_err(|error| anyhow::anyhow!("{}: {error}", path.display()))?;
    let numbers: Vec<f64> = text.lines().filter_map(|line| line.parse().ok()).collect();
    let count = numbers.len();
    numbers
        .try_into()
        .map_err(|_| anyhow::anyhow!("{}: {count} numbers, expected {VALUES}", path.display()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn root() -> std::path::PathBuf {
        Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
    }

    /// The truth comes from SciPy's Radau method; see `reference/baseline/truth.py`.
    #[test]
    fn our_solver_agrees_with_an_independent_integration() {
        let truth = truth(&root().join("reference/baseline/truth.csv")).unwrap();
        // at the tightest the events set the floor: found to 1 ms, at rates of some 1e-3 per second
        for (relative, allowed) in [(1e-5, 1e-4), (1e-7, 2e-6), (1e-9, 1e-6)] {
            let (values, calls) = baseline_day(relative).unwrap();
            let error = error(&values, &truth);
            assert!(error < allowed, "tolerance {relative:e}: error {error:e} in {calls} calls");
        }
    }

    #[test]
    fn without_cvode_the_ratio_is_null_and_the_reason_is_said() {
        let own =
            Run { solver: "own", relative: 1e-5, error: 1e-5, day_us: 60.0, rate_calls: 1_200 };
        let alone = Comparison { own: own.clone(), cvode: Err("no compiler".to_owned()) };
        assert_eq!(alone.ratio(), None);
        assert!(alone.json()["cvode_ratio"].is_null());
        assert_eq!(alone.json()["cvode_reason"], "no compiler");
        let beside = Comparison { cvode: Ok(Run { day_us: 1_500.0, ..own.clone() }), own };
        assert_eq!(beside.ratio(), Some(25.0));
        assert!(beside.json()["cvode_reason"].is_null());
    }
}
