//! `underback dipstick`: the scale of one vessel as a file to print at full size.

use super::Units;
use crate::{files, out};
use clap::Args;
use std::path::PathBuf;
use std::process::ExitCode;

/// Write the dipstick of one vessel to print at full size.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  underback dipstick demo/orchard-shed.toml kettle -o stick.html"
)]
pub(crate) struct DipstickArguments {
    /// The brewhouse, as TOML.
    #[arg(value_name = "BREWHOUSE.toml")]
    brewhouse: PathBuf,
    /// The vessel, by its key: `[vessel.kettle]` is kettle.
    #[arg(value_name = "VESSEL")]
    vessel: String,
    /// The file to write.
    #[arg(short, long, value_name = "FILE")]
    output: PathBuf,
    /// Units to print; by default those of the brewhouse.
    #[arg(long, value_enum)]
    units: Option<Units>,
    /// Print one JSON object about what was written.
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(asked: &DipstickArguments) -> anyhow::Result<ExitCode> {
    let input = files::read(&asked.brewhouse)?;
    let brewhouse = app::read_brewhouse(input.as_text())?;
    let units = Units::or_of(asked.units, &brewhouse);
    let stick = app::dipstick_of(&brewhouse, &asked.vessel, None, units)?;
    files::write(&asked.output, &web::stick_file(&stick))?;
    if asked.json {
        out::print_json(&serde_json::json!({
            "written": asked.output.display().to_string(),
            "vessel": asked.vessel,
        }))?;
    }
    out::say(&format!("Written: {}", asked.output.display()));
    Ok(ExitCode::SUCCESS)
}
