//! `underback check`: what is wrong in files, all of it at once.

use crate::out;
use app::AppError;
use clap::Args;
use std::path::PathBuf;
use std::process::ExitCode;

/// Check brewhouse and brew files; says nothing where all is well.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  underback check demo/*.toml\n\nExit code 0: all is well. 2: \
    something is wrong, and is shown with file, line and column.")]
pub(crate) struct CheckArguments {
    /// The files.
    #[arg(value_name = "FILE", required = true)]
    files: Vec<PathBuf>,
    /// Print one JSON list of what was found; empty when all is well.
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(asked: &CheckArguments) -> anyhow::Result<ExitCode> {
    let mut found: Vec<serde_json::Value> = Vec::new();
    let mut wrong = false;
    for path in &asked.files {
        let name = path.display().to_string();
        let checked = app::read_file(path)
            .and_then(|text| app::check(app::Text { name: &name, text: &text }));
        match checked {
            Ok(notes) if notes.is_empty() => out::say(&format!("{name}: all is well")),
            Ok(notes) => tell(&mut found, &notes, asked.json),
            Err(findings) => {
                wrong = true;
                tell(&mut found, &findings, asked.json);
            }
        }
    }
    if asked.json {
        out::print_json(&found)?;
    }
    Ok(if wrong { ExitCode::from(out::BAD_INPUT) } else { ExitCode::SUCCESS })
}

/// Adds findings to the list, or says them as they are.
fn tell(found: &mut Vec<serde_json::Value>, findings: &app::Findings, json: bool) {
    match findings.to_json() {
        serde_json::Value::Array(list) if json => found.extend(list),
        _ => {
            let error = anyhow::Error::new(AppError::from(findings.clone()));
            let _ = out::failed(&error);
        }
    }
}
