//! The benchmarks as one JSON object and as a table.
//!
//! Each figure is measured where its subject is; here they are only put together. What cannot be
//! measured on a machine is null, with the reason beside it.

mod days;
mod memory;
mod served;

pub use days::{ensemble, pairs as days};

use crate::baseline;
use anyhow::{Context, Result, bail};
use serde_json::{Value, json};
use std::path::Path;
use std::process::Command;

/// Runs every benchmark; one object with a key for each figure.
///
/// # Errors
/// When a benchmark cannot be run.
pub fn run() -> Result<Value> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let scratch = std::env::temp_dir().join(format!("underback-bench-{}", std::process::id()));
    std::fs::create_dir_all(&scratch)?;
    let figures = measure(&root, &scratch);
    std::fs::remove_dir_all(&scratch)?;
    figures
}

fn measure(root: &Path, scratch: &Path) -> Result<Value> {
    let cost = days::cost()?;
    let comparison = baseline::compare(root, scratch)?.json();
    let here = std::env::current_exe()?;
    let served = served::measure(&here.with_file_name("underback"), scratch)
        .context("build the program first: cargo build --release")?;
    let mut figures = json!({
        "days_per_s_core": 1e6 / cost.day_us,
        "day_us": cost.day_us,
        "day_rate_calls": cost.rate_calls,
        "plan_ms": cost.plan_ms,
        "page_ms": served.page_ms,
        "startup_ms": served.startup_ms,
        "peak_rss_mb": served.peak_mb,
        "ensemble_rss_mb": ensemble_mb(&here)?,
    });
    if let (Some(all), Value::Object(baseline)) = (figures.as_object_mut(), comparison) {
        all.extend(baseline);
    }
    Ok(figures)
}

/// Peak memory of the ensemble, in a process of its own.
fn ensemble_mb(here: &Path) -> Result<Option<f64>> {
    let run = Command::new(here).args(["bench", "ensemble"]).output()?;
    if !run.status.success() {
        bail!("the ensemble failed: {}", String::from_utf8_lossy(&run.stderr));
    }
    Ok(String::from_utf8_lossy(&run.stdout).trim().parse().ok())
}

/// The value below which a share of them lies; not a number for none.
fn quantile(values: &mut [f64], share: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    let last = values.len().saturating_sub(1);
    let at = (share * last as f64).round() as usize;
    values.get(at).copied().unwrap_or(f64::NAN)
}

/// The figures one under another, those of a group behind its name.
pub fn table(figures: &Value) -> String {
    let mut text = String::new();
    rows(&mut text, "", figures);
    text
}

fn rows(text: &mut String, group: &str, figures: &Value) {
    let Some(figures) = figures.as_object() else { return };
    for (key, figure) in figures {
        let name = if group.is_empty() { key.clone() } else { format!("{group}.{key}") };
        match figure {
            Value::Object(_) => rows(text, &name, figure),
            Value::String(words) => text.push_str(&format!("{name:<28} {words}\n")),
            other => text.push_str(&format!("{name:<28} {other}\n")),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quantile_is_one_of_the_values() {
        let mut values = [4.0, 1.0, 3.0, 2.0, 5.0];
        assert_eq!(quantile(&mut values, 0.5), 3.0);
        assert_eq!(quantile(&mut values, 0.99), 5.0);
        assert!(quantile(&mut [], 0.5).is_nan());
    }

    #[test]
    fn a_group_stands_behind_its_name() {
        let figures = serde_json::json!({ "plan_ms": 41.5, "own": { "solver": "ours" } });
        let text = table(&figures);
        assert!(text.contains("plan_ms                      41.5"), "{text}");
        assert!(text.contains("own.solver                   ours"), "{text}");
    }
}
