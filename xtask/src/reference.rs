//! `cargo xtask reference`: makes the library-made tables anew and compares them with those kept.
//!
//! Knows no equation; the scripts in `reference/scripts` do. Needs Python 3.11 or newer.

use crate::command::{command, root, show, target_dir};
use crate::tools::{apt_get, on_path};
use anyhow::{Context, Result, bail};
use std::fs;
use std::path::{Path, PathBuf};

/// Tables that a script writes beside the check tables.
const MADE_DATA: &[&str] = &["kettle.csv"];

/// Runs every script in a throw-away environment; `true` when nothing differs.
pub(crate) fn compare() -> Result<bool> {
    let python = environment()?;
    let fresh = target_dir().join("reference");
    for folder in ["checks", "data"] {
        fs::create_dir_all(fresh.join(folder))?;
    }
    let mut scripts: Vec<PathBuf> = list(&root().join("reference/scripts"))?;
    scripts.retain(|script| name(script).starts_with("make_"));
    let mut failed = 0;
    for script in &scripts {
        println!("{}", name(script));
        let run = show(
            command(&python.to_string_lossy(), &["-B", &script.to_string_lossy()])
                .env("REFERENCE_OUT", &fresh),
        )?;
        let misses = run.text.lines().filter(|line| line.starts_with("MISS")).count();
        if !run.success || misses > 0 {
            println!("{}: ended badly or {misses} rows outside their tolerance", name(script));
            failed += 1;
        }
    }
    let mut differing = 0;
    for kept in list(&root().join("reference/checks"))? {
        differing += differences(&kept, &fresh.join("checks").join(name(&kept)))?;
    }
    for table in MADE_DATA {
        let kept = root().join("reference/data").join(table);
        differing += differences(&kept, &fresh.join("data").join(table))?;
    }
    println!("{} scripts run, {failed} failed, {differing} lines differ", scripts.len());
    Ok(failed == 0 && differing == 0)
}

/// A fresh environment under the target folder with the pinned libraries; its `python`.
fn environment() -> Result<PathBuf> {
    if on_path(&["python3"]).is_none() {
        apt_get(&["python3", "python3-venv"])?;
    }
    let place = target_dir().join("reference-venv");
    if place.exists() {
        fs::remove_dir_all(&place).context("cannot empty the old environment")?;
    }
    let made = show(&mut command("python3", &["-m", "venv", &place.to_string_lossy()]))?;
    if !made.success {
        bail!("python3 has no venv; get it with `apt-get install python3-venv` as root");
    }
    let python = place.join("bin/python");
    let args = ["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "-r"];
    let pins = root().join("reference/requirements.txt");
    let installed = show(command(&python.to_string_lossy(), &args).arg(pins))?;
    if !installed.success {
        bail!("the libraries of reference/requirements.txt could not be installed");
    }
    Ok(python)
}

/// Lines that differ between a kept table and the fresh one, told one by one.
fn differences(kept: &Path, fresh: &Path) -> Result<usize> {
    let old = fs::read_to_string(kept)?;
    let Ok(new) = fs::read_to_string(fresh) else {
        println!("{}: no script made it", name(kept));
        return Ok(1);
    };
    let (old, new): (Vec<&str>, Vec<&str>) = (old.lines().collect(), new.lines().collect());
    let mut differing = 0;
    for at in 0..old.len().max(new.len()) {
        let (kept_line, fresh_line) = (old.get(at), new.get(at));
        if kept_line != fresh_line {
            differing += 1;
            println!("{}:{}", name(kept), at + 1);
            println!("  kept  {}", kept_line.unwrap_or(&""));
            println!("  fresh {}", fresh_line.unwrap_or(&""));
        }
    }
    Ok(differing)
}

/// The files of a folder in the order of their names.
fn list(folder: &Path) -> Result<Vec<PathBuf>> {
    let entries = fs::read_dir(folder).with_context(|| format!("cannot read {folder:?}"))?;
    let mut files: Vec<PathBuf> =
        entries.filter_map(|e| Some(e.ok()?.path())).filter(|p| p.is_file()).collect();
    files.sort();
    Ok(files)
}

fn name(path: &Path) -> String {
    path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default()
}
