//! Simulated days and solved plans: how fast, and how much memory a crowd of days takes.

use super::memory;
use anyhow::{Context, Result, anyhow};
use day::procedure::Procedure;
use day::setting::Setting;
use day::simulate::{Options, simulate};
use numerics::dopri::Work;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::time::Instant;

/// Days of one ensemble.
const ENSEMBLE: usize = 2_000;
/// Days timed one by one.
const TIMED: usize = 600;
/// Plans timed one by one.
const PLANS: usize = 15;

/// The pair of documents that is measured.
const DEMO: [&str; 2] = ["orchard-shed.toml", "windfall-amber.toml"];
/// Pairs whose days are looked at together: flame and element, bag, steps, bed and drains.
const PAIRS: [[&str; 2]; 6] = [
    DEMO,
    ["orchard-shed.toml", "cellar-lamp.toml"],
    ["three-step.toml", "windfall-amber.toml"],
    ["tiled-kitchen.toml", "morning-slate.toml"],
    ["window-bench.toml", "sill-pale.toml"],
    ["club-barn.toml", "threshing-gold.toml"],
];
/// Relative tolerance of the day that the others are compared with.
const FINE: f64 = 1e-9;

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

fn documents([house, brew]: [&str; 2]) -> Result<(brewhouse::Brewhouse, brew::Brew)> {
    let texts = (demo(house)?, demo(brew)?);
    let house = brewhouse::read(house, &texts.0.1).map_err(|e| anyhow!("{house}: {e}"))?;
    let brew = brew::read(brew, &texts.1.1).map_err(|e| anyhow!("{brew}: {e}"))?;
    Ok((house, brew))
}

/// A pair's day as the simulator sees it.
fn day_of(pair: [&str; 2]) -> Result<(Setting, Procedure)> {
    let (house, brew) = documents(pair)?;
    Ok(plan::day_of(&house, &brew)?)
}

#[allow(clippy::disallowed_methods, reason = "a benchmark measures time")]
fn timed<T>(work: impl FnOnce() -> T) -> (T, f64) {
    let start = Instant::now();
    let done = work();
    (done, start.elapsed().as_secs_f64())
}

/// Time of one day, µs: 10th percentile, and the work in it.
fn day(setting: &Setting, procedure: &Procedure) -> Result<(f64, Work)> {
    let options = Options::default();
    let work = simulate(setting, procedure, &options)?.work;
    let mut days_s = Vec::with_capacity(TIMED);
    for _ in 0..TIMED {
        let (trace, took_s) = timed(|| simulate(setting, procedure, &options));
        std::hint::black_box(trace?);
        days_s.push(took_s);
    }
    Ok((1e6 * super::quantile(&mut days_s, 0.1), work))
}

/// What a brewer compares of two days: in the fermenter water, extract, temperature and bitter
/// matter; what the mash gave; when the day ends.
fn results(setting: &Setting, procedure: &Procedure, relative: f64) -> Result<[f64; 7]> {
    let trace = simulate(setting, procedure, &Options { relative, ..Options::default() })?;
    let fermenter = setting.parts.fermenter;
    let held = trace.end.pots[fermenter];
    let iso_kg: f64 = trace.end.hops.iter().map(|hop| hop[process::isomerise::ISO]).sum();
    let mash = trace.mash_end.unwrap_or_default();
    let temp_c = held.temperature_c(setting.pots[fermenter].lumped_j_k());
    let end_s = trace.end.t_s;
    Ok([held.water_kg, held.extract_kg, temp_c, iso_kg, mash.conversion, mash.fermentable, end_s])
}

/// Times one day of each of several pairs on one core and compares it with a day of fine steps: a
/// group of figures for each.
///
/// # Errors
/// If a pair cannot be read, solved or simulated.
pub fn pairs() -> Result<Value> {
    let mut figures = serde_json::Map::new();
    for pair in PAIRS {
        let (setting, procedure) = day_of(pair)?;
        let (day_us, work) = day(&setting, &procedure)?;
        let coarse = results(&setting, &procedure, Options::default().relative)?;
        let fine = results(&setting, &procedure, FINE)?;
        let gaps = coarse.iter().zip(fine).map(|(a, b)| (a - b).abs() / b.abs().max(1e-4));
        let row = json!({
            "day_us": day_us,
            "rate_calls": work.rate_calls,
            "steps": work.accepted,
            "rejected": work.rejected,
            "error": gaps.fold(0.0, f64::max),
        });
        figures.insert(pair.map(|file| file.trim_end_matches(".toml")).join("+"), row);
    }
    Ok(Value::Object(figures))
}

/// Times the demo day and its plan on one core.
///
/// # Errors
/// If the demo pair cannot be read, solved or simulated.
pub(super) fn cost() -> Result<Cost> {
    let (setting, procedure) = day_of(DEMO)?;
    let (day_us, work) = day(&setting, &procedure)?;
    let (house, brew) = documents(DEMO)?;
    let mut plans_s = Vec::with_capacity(PLANS);
    for _ in 0..PLANS {
        let (solved, took_s) = timed(|| plan::solve(&house, &brew));
        std::hint::black_box(solved?);
        plans_s.push(took_s);
    }
    Ok(Cost {
        day_us,
        rate_calls: work.rate_calls,
        plan_ms: 1e3 * super::quantile(&mut plans_s, 0.5),
    })
}

/// Simulates an ensemble, each day in other air, and keeps what reached the fermenter; the peak
/// memory of this process, MB, where the system tells it.
///
/// # Errors
/// If the demo pair cannot be read, solved or simulated.
pub fn ensemble() -> Result<Option<f64>> {
    let (mut setting, procedure) = day_of(DEMO)?;
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
