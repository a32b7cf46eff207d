//! Files in and out: read whole and checked, written beside and then put in place.

use anyhow::{Context, Result};
use std::io::Write;
use std::path::Path;

/// A file that was read.
#[derive(Debug)]
pub(crate) struct Input {
    name: String,
    text: String,
}

impl Input {
    /// As a use case takes it.
    pub(crate) fn as_text(&self) -> app::Text<'_> {
        app::Text { name: &self.name, text: &self.text }
    }
}

/// Reads a file; one that is too large, is no text or is a folder is refused with words.
pub(crate) fn read(path: &Path) -> Result<Input> {
    let text = app::read_file(path)?;
    Ok(Input { name: path.display().to_string(), text })
}

/// Writes a file beside its place and moves it there: nothing half-written is ever seen.
pub(crate) fn write(path: &Path, text: &str) -> Result<()> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    anyhow::ensure!(!path.is_dir(), "{} is a folder; name a file", path.display());
    anyhow::ensure!(
        folder.is_dir(),
        "{} cannot be written: {} is no folder; make it first, or name another",
        path.display(),
        folder.display()
    );
    let failed = || format!("{} cannot be written", path.display());
    let mut beside =
        tempfile::Builder::new().prefix(".underback-").tempfile_in(folder).with_context(failed)?;
    beside.write_all(text.as_bytes()).with_context(failed)?;
    beside.as_file().sync_all().with_context(failed)?;
    let file = beside.persist(path).with_context(failed)?;
    // A temporary file is for its owner alone; a sheet may be read like any other file.
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        file.set_permissions(std::fs::Permissions::from_mode(0o644)).with_context(failed)?;
    }
    drop(file);
    Ok(())
}
