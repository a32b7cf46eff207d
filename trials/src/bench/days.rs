//! Simulated days and solved plans: how fast, and how much memory a crowd of days takes.

use super::memory;
use anyhow::{Context, Result, anyhow};
use day::procedure::Procedure;
use day::setting::Setting;
use day::simulate::{Options, simulate};
use std::path::{Path, PathBuf};
use std::time::Instant;

/// Days of one ensemble.
const ENSEMBLE: usize = 2_000;
/// Days timed one by one.
const TIMED: usize = 600;
/// Plans timed one by one.
const PLANS: usize = 15;

/// The pair of documents that is measured.
const BREWHOUSE: &str = "orchard-shed.toml";
const BREW: &str = "windfall-amber.toml";

/// What a day and a plan cost.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cost {
    /// Time of one demo day, µs: 10th percentile.
    pub(super) day_us: f64,
    /// Calls of the rates in it.
    pub(super) rate_calls: u64,
    /// Time of one plan, ms: median.
    pub(super) plan_ms: f64,
}

fn demo(file: &str) -> Result<(PathBuf, String)> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo").join(file);
    let text = std::fs::read_to_string(&path).with_context(|| path.display().to_string())?;
    Ok((path, text))
}

fn documents() -> Result<(brewhouse::Brewhouse, brew::Brew)> {
    let (house, brew) = (demo(BREWHOUSE)?, demo(BREW)?);
    let house = brewhouse::read(BREWHOUSE, &house.1).map_err(|e| anyhow!("{BREWHOUSE}: {e}"))?;
    let brew = brew::read(BREW, &brew.1).map_err(|e| anyhow!("{BREW}: {e}"))?;
    Ok((house, brew))
}

/// The demo day as the simulator sees it.
fn demo_day() -> Result<(Setting, Procedure)> {
    let (house, brew) = documents()?;
    Ok(plan::day_of(&house, &brew)?)
}

#[allow(clippy::disallowed_methods, reason = "a benchmark measures time")]
fn timed<T>(work: impl FnOnce() -> T) -> (T, f64) {
    let start = Instant::now();
    let done = work();
    (done, start.elapsed().as_secs_f64())
}

/// Times the demo day and its plan on one core.
///
/// # Errors
/// If the demo pair cannot be read, solved or simulated.
pub(super) fn cost() -> Result<Cost> {
    let (setting, procedure) = demo_day()?;
    let options = Options::default();
    let rate_calls = simulate(&setting, &procedure, &options)?.work.rate_calls;
    let mut days_s = Vec::with_capacity(TIMED);
    for _ in 0..TIMED {
        let (trace, took_s) = timed(|| simulate(&setting, &procedure, &options));
        std::hint::black_box(trace?);
        days_s.push(took_s);
    }
    let (house, brew) = documents()?;
    let mut plans_s = Vec::with_capacity(PLANS);
    for _ in 0..PLANS {
        let (solved, took_s) = timed(|| plan::solve(&house, &brew));
        std::hint::black_box(solved?);
        plans_s.push(took_s);
    }
    Ok(Cost {
        day_us: 1e6 * super::quantile(&mut days_s, 0.1),
        rate_calls,
        plan_ms: 1e3 * super::quantile(&mut plans_s, 0.5),
    })
}

/// Simulates an ensemble, each day in other air, and keeps what reached the fermenter; the peak
/// memory of this process, MB, where the system tells it.
///
/// # Errors
/// If the demo pair cannot be read, solved or simulated.
pub fn ensemble() -> Result<Option<f64>> {
    let (mut setting, procedure) = demo_day()?;
    let (air_c, fermenter) = (setting.air_c, setting.parts.fermenter);
    let mut kept = Vec::with_capacity(ENSEMBLE);
    for member in 0..ENSEMBLE {
        setting.air_c = air_c + 4.0 * (member as f64 / ENSEMBLE as f64 - 0.5);
        let end = simulate(&setting, &procedure, &Options::default())?.end;
        let held = end.pots[fermenter];
        kept.push([held.water_kg, held.extract_kg, held.heat_j, end.t_s]);
    }
    std::hint::black_box(&kept);
    Ok(memory::peak_mb(std::process::id()))
}
