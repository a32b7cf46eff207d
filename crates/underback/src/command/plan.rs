//! `underback plan`: the day as text, or as one JSON object.

use super::{Units, planned};
use crate::out;
use clap::Args;
use std::path::PathBuf;
use std::process::ExitCode;

/// Plan a brew on a brewhouse: the day as text.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  underback plan demo/orchard-shed.toml \
    demo/windfall-amber.toml --units us\n\nExit code 0: it fits. 1: it does not fit, and the plan \
    says why. 2: a file is wrong.")]
pub(crate) struct PlanArguments {
    /// The brewhouse, as TOML.
    #[arg(value_name = "BREWHOUSE.toml")]
    brewhouse: PathBuf,
    /// The brew, as TOML.
    #[arg(value_name = "BREW.toml")]
    brew: PathBuf,
    /// Print one JSON object, as `underback schema plan` describes it.
    #[arg(long)]
    json: bool,
    /// Units to read; by default those of the brewhouse.
    #[arg(long, value_enum)]
    units: Option<Units>,
}

pub(crate) fn run(asked: &PlanArguments) -> anyhow::Result<ExitCode> {
    let planned = planned(&asked.brewhouse, &asked.brew)?;
    if asked.json {
        out::print_json(&planned.plan)?;
    } else {
        let units = Units::or_of(asked.units, &planned.brewhouse);
        out::print(&app::text::plan(&planned.plan, units, out::width()))?;
    }
    let code = if planned.plan.fits { 0 } else { out::NOT_POSSIBLE };
    Ok(ExitCode::from(code))
}
