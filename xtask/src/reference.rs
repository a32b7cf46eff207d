//! `cargo xtask reference`: makes the library-made tables anew and compares them with those kept;
//! integrates the frozen days anew and compares them to seven digits.
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
    let (days, off) = compare_days(&python.to_string_lossy(), &fresh)?;
    failed += off.0;
    differing += off.1;
    let run = scripts.len() + days;
    println!("{run} scripts run, {failed} failed, {differing} lines differ");
    Ok(failed == 0 && differing == 0)
}

/// Digits to which a frozen day must come out again: other builds of the linear algebra round
/// otherwise.
const DAY_SHARE: f64 = 1e-7;

/// Integrates every frozen day anew; how many there are, and how many failed and how many lines
/// differ.
fn compare_days(python: &str, fresh: &Path) -> Result<(usize, (usize, usize))> {
    let script = root().join("reference/scripts/day_twin.py");
    let (mut days, mut failed, mut differing) = (0, 0, 0);
    for kept in list(&root().join("reference/days"))? {
        if kept.extension().is_none_or(|e| e != "csv") {
            continue;
        }
        days += 1;
        let day = kept.file_stem().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
        println!("day_twin.py {day}");
        let args = ["-B", &script.to_string_lossy(), &day];
        let run = show(command(python, &args).env("REFERENCE_OUT", fresh))?;
        if !run.success {
            println!("day_twin.py {day}: ended badly");
            failed += 1;
            continue;
        }
        differing += day_differences(&kept, &fresh.join("days").join(name(&kept)))?;
    }
    Ok((days, (failed, differing)))
}

/// Rows of a day whose expected value differs in the seventh digit or by a thousandth of the row's
/// own tolerance, or that differ in words.
fn day_differences(kept: &Path, fresh: &Path) -> Result<usize> {
    let (old, new) = (fs::read_to_string(kept)?, fs::read_to_string(fresh)?);
    let (old, new): (Vec<&str>, Vec<&str>) = (old.lines().collect(), new.lines().collect());
    let mut differing = old.len().abs_diff(new.len());
    for (kept_line, fresh_line) in old.iter().zip(&new) {
        if kept_line != fresh_line && !same_row(kept_line, fresh_line) {
            differing += 1;
            println!("{}\n  kept  {kept_line}\n  fresh {fresh_line}", name(kept));
        }
    }
    Ok(differing)
}

/// Whether two lines `id,quantity,expected,unit,tolerance,source` say the same. Commas stand only
/// in the first two and the last of them, so the numbers are found from the unit's side.
fn same_row(kept: &str, fresh: &str) -> bool {
    let (kept, fresh): (Vec<&str>, Vec<&str>) =
        (kept.split(',').collect(), fresh.split(',').collect());
    if kept.len() != fresh.len() {
        return false;
    }
    let tolerance = |cells: &[&str]| cells.iter().rev().find_map(|c| c.parse::<f64>().ok());
    let small = 1e-3 * tolerance(&kept).unwrap_or(0.0);
    kept.iter().zip(&fresh).all(|(a, b)| match (a.parse::<f64>(), b.parse::<f64>()) {
        (Ok(a), Ok(b)) => (a - b).abs() <= small.max(DAY_SHARE * a.abs()),
        _ => a == b,
    })
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

#[cfg(test)]
mod tests {
    use super::same_row;

    #[test]
    fn the_eighth_digit_of_a_day_may_differ_and_the_sixth_may_not() {
        let row = |value: &str| format!("\"a, b\",at the end,{value},kg,0.0001,SciPy, rtol 1e-09");
        assert!(same_row(&row("1.2345678"), &row("1.2345679")));
        assert!(!same_row(&row("1.2345678"), &row("1.2345978")));
        assert!(!same_row(&row("1.2345678"), &row("1.2345678,1")));
        assert!(!same_row(&row("1.2"), &row("1.2").replace("kg", "g")));
    }
}
