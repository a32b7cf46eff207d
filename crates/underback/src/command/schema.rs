//! `underback schema`: the JSON Schema of what is read and of what is printed.

use crate::out;
use clap::{Args, ValueEnum};
use std::process::ExitCode;

/// Print the JSON Schema of a document, or of the plan.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  underback schema brew > brew.schema.json")]
pub(crate) struct SchemaArguments {
    /// Which one.
    #[arg(value_enum)]
    of: Of,
    /// Accepted for the sake of the other commands: a schema is JSON anyhow.
    #[arg(long)]
    json: bool,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum Of {
    /// The brewhouse document.
    Brewhouse,
    /// The brew document.
    Brew,
    /// What `underback plan --json` prints.
    Plan,
}

pub(crate) fn run(asked: &SchemaArguments) -> anyhow::Result<ExitCode> {
    let _ = asked.json;
    let kind = match asked.of {
        Of::Brewhouse => app::SchemaKind::Brewhouse,
        Of::Brew => app::SchemaKind::Brew,
        Of::Plan => app::SchemaKind::Plan,
    };
    out::print_json(&app::schema(kind))?;
    Ok(ExitCode::SUCCESS)
}
