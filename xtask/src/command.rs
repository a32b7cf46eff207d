//! Starting other programs from the root of the project, with their output shown and kept.
//!
//! Judges nothing: whether an exit status is good is for the caller to say.

use anyhow::{Context, Result};
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread;

/// What a program said and how it ended.
pub(crate) struct Outcome {
    /// It ended with status 0.
    pub(crate) success: bool,
    /// Standard output and standard error, each in its own order.
    pub(crate) text: String,
}

/// The folder that holds the workspace.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().map(Path::to_path_buf).unwrap_or_default()
}

/// The folder Cargo builds into, which the environment may have moved.
pub(crate) fn target_dir() -> PathBuf {
    match std::env::var_os("CARGO_TARGET_DIR") {
        Some(dir) if Path::new(&dir).is_absolute() => PathBuf::from(dir),
        Some(dir) => root().join(dir),
        None => root().join("target"),
    }
}

/// A command that runs in the root of the project.
pub(crate) fn command(program: &str, args: &[&str]) -> Command {
    let mut command = Command::new(program);
    command.current_dir(root()).args(args).stdin(Stdio::null());
    command
}

/// The `cargo` that started this chore.
pub(crate) fn cargo(args: &[&str]) -> Command {
    command(&std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned()), args)
}

/// Runs a command to its end, passing its output on and keeping it.
///
/// # Errors
/// When the program cannot be started.
pub(crate) fn show(command: &mut Command) -> Result<Outcome> {
    let name = command.get_program().to_string_lossy().into_owned();
    let mut child = command
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .with_context(|| format!("cannot start `{name}`"))?;
    let out = child.stdout.take();
    let err = child.stderr.take();
    let errors = thread::spawn(move || err.map(|e| pass_on(e, Stream::Error)).unwrap_or_default());
    let mut text = out.map(|o| pass_on(o, Stream::Output)).unwrap_or_default();
    text.push_str(&errors.join().unwrap_or_default());
    let status = child.wait().with_context(|| format!("lost `{name}`"))?;
    Ok(Outcome { success: status.success(), text })
}

/// Runs a command in silence; `None` when it cannot be started.
pub(crate) fn quiet(command: &mut Command) -> Option<Outcome> {
    let output = command.output().ok()?;
    let mut text = String::from_utf8_lossy(&output.stdout).into_owned();
    text.push_str(&String::from_utf8_lossy(&output.stderr));
    Some(Outcome { success: output.status.success(), text })
}

#[derive(Clone, Copy)]
enum Stream {
    Output,
    Error,
}

fn pass_on(source: impl std::io::Read, stream: Stream) -> String {
    let mut kept = String::new();
    let mut reader = BufReader::new(source);
    let mut line = Vec::new();
    while reader.read_until(b'\n', &mut line).is_ok_and(|n| n > 0) {
        let text = String::from_utf8_lossy(&line);
        match stream {
            Stream::Output => print!("{text}"),
            Stream::Error => eprint!("{text}"),
        }
        kept.push_str(&text);
        line.clear();
    }
    kept
}
