//! `underback sheet`: the sheet of the day as a file to print.

use super::{Units, planned};
use crate::{files, out};
use clap::Args;
use std::path::PathBuf;
use std::process::ExitCode;

/// Write the sheet of the day to print: A4 and US Letter, two pages.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  underback sheet demo/orchard-shed.toml \
    demo/windfall-amber.toml -o sheet.html --start 08:30")]
pub(crate) struct SheetArguments {
    /// The brewhouse, as TOML.
    #[arg(value_name = "BREWHOUSE.toml")]
    brewhouse: PathBuf,
    /// The brew, as TOML.
    #[arg(value_name = "BREW.toml")]
    brew: PathBuf,
    /// The file to write.
    #[arg(short, long, value_name = "FILE")]
    output: PathBuf,
    /// When the day begins, such as 08:30; by default as the plan has it.
    #[arg(long, value_name = "HH:MM", value_parser = clock)]
    start: Option<f64>,
    /// Units to print; by default those of the brewhouse.
    #[arg(long, value_enum)]
    units: Option<Units>,
    /// Print one JSON object about what was written.
    #[arg(long)]
    json: bool,
}

fn clock(text: &str) -> Result<f64, String> {
    app::when::read_clock(text)
        .ok_or_else(|| "expected a time of day such as 08:30, from 00:00 to 23:59".to_owned())
}

pub(crate) fn run(asked: &SheetArguments) -> anyhow::Result<ExitCode> {
    let planned = planned(&asked.brewhouse, &asked.brew)?;
    let units = Units::or_of(asked.units, &planned.brewhouse);
    let start = asked.start.unwrap_or(planned.plan.milestones.start_clock_min);
    let sheet = app::sheet_of(&planned, start, units);
    files::write(&asked.output, &web::sheet_file(&sheet))?;
    let fits = planned.plan.fits;
    if asked.json {
        out::print_json(&serde_json::json!({
            "written": asked.output.display().to_string(),
            "fits": fits,
        }))?;
    }
    if !fits {
        out::complain("It does not come out as wanted; the sheet says so:");
        for miss in &sheet.misses {
            out::complain(&format!("  {miss}"));
        }
        return Ok(ExitCode::from(out::NOT_POSSIBLE));
    }
    out::say(&format!("Written: {}", asked.output.display()));
    Ok(ExitCode::SUCCESS)
}
