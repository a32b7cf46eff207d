//! The commands and their arguments. What each does stands in its file.

mod check;
mod dipstick;
mod plan;
mod schema;
mod serve;
mod sheet;

use clap::{Parser, Subcommand, ValueEnum};
use std::process::ExitCode;

/// Plan an all-grain brew day on your own pots.
///
/// Without a command, `serve` starts.
#[derive(Debug, Parser)]
#[command(name = "underback", version, arg_required_else_help = false)]
#[command(
    after_help = "Example:\n  underback plan demo/orchard-shed.toml demo/windfall-amber.toml"
)]
#[command(args_conflicts_with_subcommands = true)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    command: Option<Command>,
    #[command(flatten)]
    serve: serve::Serve,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Start the pages on this machine and say where to look.
    Serve(serve::Serve),
    /// Plan a brew on a brewhouse: the day as text.
    Plan(plan::PlanArguments),
    /// Write the sheet of the day to print: A4 and US Letter, two pages.
    Sheet(sheet::SheetArguments),
    /// Write the dipstick of one vessel to print at full size.
    Dipstick(dipstick::DipstickArguments),
    /// Check brewhouse and brew files; says nothing where all is well.
    Check(check::CheckArguments),
    /// Print the JSON Schema of a document, or of the plan.
    Schema(schema::SchemaArguments),
}

/// Units to read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Units {
    /// Litres, °C, kg.
    Metric,
    /// Gallons, °F, lb.
    Us,
}

impl Units {
    /// The asked units, or those the owner of the brewhouse thinks in.
    fn or_of(asked: Option<Self>, brewhouse: &app::Brewhouse) -> app::UnitSystem {
        match asked {
            Some(Self::Metric) => app::UnitSystem::Metric,
            Some(Self::Us) => app::UnitSystem::Us,
            None => brewhouse.units,
        }
    }
}

/// Runs what was asked for.
pub(crate) fn run(arguments: Arguments) -> anyhow::Result<ExitCode> {
    match arguments.command {
        None => serve::run(&arguments.serve),
        Some(Command::Serve(asked)) => serve::run(&asked),
        Some(Command::Plan(asked)) => plan::run(&asked),
        Some(Command::Sheet(asked)) => sheet::run(&asked),
        Some(Command::Dipstick(asked)) => dipstick::run(&asked),
        Some(Command::Check(asked)) => check::run(&asked),
        Some(Command::Schema(asked)) => schema::run(&asked),
    }
}

/// Reads a brewhouse and a brew and plans them.
fn planned(brewhouse: &std::path::Path, brew: &std::path::Path) -> anyhow::Result<app::Planned> {
    let pots = crate::files::read(brewhouse);
    let beer = crate::files::read(brew);
    let (pots, beer) = match (pots, beer) {
        (Ok(pots), Ok(beer)) => (pots, beer),
        // Both are said at once, so that both can be mended at once.
        (Err(pots), Err(beer)) => {
            match (pots.downcast::<app::Findings>(), beer.downcast::<app::Findings>()) {
                (Ok(mut all), Ok(more)) => {
                    all.merge(more);
                    return Err(all.into());
                }
                (Err(error), _) | (_, Err(error)) => return Err(error),
            }
        }
        (Err(error), _) | (_, Err(error)) => return Err(error),
    };
    Ok(app::plan(pots.as_text(), beer.as_text())?)
}
