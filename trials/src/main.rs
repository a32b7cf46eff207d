//! Benchmarks and validation; not shipped.
//!
//! `trials baseline` prints the integrator's speed beside that of a fixed yardstick, as JSON.

#![allow(clippy::print_stdout, reason = "a program whose output is its purpose")]

mod baseline;

use std::path::Path;

fn main() -> anyhow::Result<()> {
    let wanted = std::env::args().nth(1).unwrap_or_default();
    match wanted.as_str() {
        "baseline" => {
            let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
            let comparison = baseline::compare(&root, &root.join("target").join("baseline"))?;
            println!("{:#}", comparison.json());
            Ok(())
        }
        other => anyhow::bail!("no trial `{other}`: expected `baseline`"),
    }
}
