//! Standard output, standard error and exit codes. A reader that closes its end is no mistake.

use std::io::{ErrorKind, IsTerminal, Write};
use std::process::ExitCode;

/// It could be asked, but it can't be done.
pub(crate) const NOT_POSSIBLE: u8 = 1;

/// What was asked or given is wrong.
pub(crate) const BAD_INPUT: u8 = 2;

/// Prints text; a closed pipe ends the printing quietly.
pub(crate) fn print(text: &str) -> anyhow::Result<()> {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(()),
        result => Ok(result?),
    }
}

/// Prints one JSON value and nothing else.
pub(crate) fn print_json(value: &impl serde::Serialize) -> anyhow::Result<()> {
    print(&(serde_json::to_string_pretty(value)? + "\n"))
}

/// Says on standard error what is going on, to a person only.
pub(crate) fn say(words: &str) {
    let error = std::io::stderr();
    if error.is_terminal() {
        // Who closes standard error does not want to know.
        let _ = writeln!(error.lock(), "{words}");
    }
}

/// Says on standard error what is wrong, to anybody.
pub(crate) fn complain(words: &str) {
    let _ = writeln!(std::io::stderr().lock(), "{}", words.trim_end());
}

/// A command that failed on what it was given.
pub(crate) fn failed(error: &anyhow::Error) -> ExitCode {
    let colour = std::io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none();
    let findings = match error.downcast_ref::<app::AppError>() {
        Some(app::AppError::Findings(findings)) => Some(findings.as_ref()),
        _ => error.downcast_ref::<app::Findings>(),
    };
    match findings {
        Some(findings) => complain(&findings.to_text(colour)),
        None => complain(&format!("error: {error:#}")),
    }
    match error.downcast_ref::<app::AppError>() {
        Some(app::AppError::NoPlan(_)) => ExitCode::from(NOT_POSSIBLE),
        _ => ExitCode::from(BAD_INPUT),
    }
}

/// Help, version, or arguments that make no sense.
pub(crate) fn usage(error: &clap::Error) -> ExitCode {
    if error.use_stderr() {
        let _ = error.print();
        return ExitCode::from(BAD_INPUT);
    }
    match print(&error.render().to_string()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(_) => ExitCode::from(BAD_INPUT),
    }
}

/// Columns of the terminal, as the shell says; 96 where it doesn't.
pub(crate) fn width() -> usize {
    std::env::var("COLUMNS").ok().and_then(|text| text.parse().ok()).unwrap_or(96)
}
