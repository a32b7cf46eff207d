//! The tools the chores need: found, or installed where that is possible, or named with the way to
//! get them.
//!
//! Nothing is installed outside `target/tools` and `e2e/node_modules`, except by the machine's own
//! package manager, and by that only when the chore runs as root.

use crate::command::{cargo, command, quiet, root, show, target_dir};
use anyhow::{Context, Result, bail};
use std::path::{Path, PathBuf};

/// A tool of the Rust world, built from its published source at one version.
pub(crate) struct CargoTool {
    /// Name of the package and of its program.
    pub(crate) name: &'static str,
    /// The exact version used.
    pub(crate) version: &'static str,
    /// Features beyond the plain command, or none.
    pub(crate) features: &'static [&'static str],
}

/// Checks licences, bans, sources, advisories.
pub(crate) const CARGO_DENY: CargoTool =
    CargoTool { name: "cargo-deny", version: "0.20.2", features: &[] };
/// Builds the manual.
pub(crate) const MDBOOK: CargoTool = CargoTool {
    name: "mdbook",
    version: "0.5.4",
    features: &["--no-default-features", "--features", "search"],
};

/// Where installed tools live.
fn tools_dir() -> PathBuf {
    target_dir().join("tools")
}

/// Path of a Cargo tool at its version, installed under `target/tools` when it is not there yet.
///
/// Built without optimisation: it runs for seconds, so minutes of compiling would not be won back.
///
/// # Errors
/// When it cannot be built; the message says how to install it by hand.
pub(crate) fn cargo_tool(tool: &CargoTool) -> Result<PathBuf> {
    let installed = tools_dir().join("bin").join(tool.name);
    for candidate in [installed.clone(), PathBuf::from(tool.name)] {
        let said =
            quiet(command(&candidate.to_string_lossy(), &["--version"]).env("CARGO", "cargo"));
        if said.is_some_and(|s| s.success && s.text.contains(tool.version)) {
            return Ok(candidate);
        }
    }
    println!("installing {} {} into target/tools", tool.name, tool.version);
    let root = tools_dir();
    let root = root.to_string_lossy();
    let args = ["install", "--quiet", "--locked", "--debug", "--root", &root, tool.name];
    let built = show(
        cargo(&args)
            .args(["--version", tool.version])
            .args(tool.features)
            .env("CARGO_TARGET_DIR", target_dir().join("tools-build"))
            .env("CARGO_PROFILE_DEV_DEBUG", "0")
            .env_remove("RUSTFLAGS"),
    )?;
    if !built.success {
        bail!(
            "{0} {1} is missing and could not be built; get it with \
             `cargo install --locked {0} --version {1}`",
            tool.name,
            tool.version
        );
    }
    Ok(installed)
}

/// Path of a headless Chromium: `CHROMIUM`, or one of the usual names, or installed with `apt-get`.
///
/// # Errors
/// When there is none and none can be installed; the message says how to get it.
pub(crate) fn chromium() -> Result<PathBuf> {
    if let Some(path) = std::env::var_os("CHROMIUM") {
        return Ok(PathBuf::from(path));
    }
    if let Some(path) = on_path(&["chromium", "chromium-browser", "google-chrome"]) {
        return Ok(path);
    }
    apt_get(&["chromium"])?;
    on_path(&["chromium", "chromium-browser"]).context("chromium was installed but is not found")
}

/// Makes sure that `node` and `npm` are there, and the packages of `e2e/` at their locked versions.
///
/// # Errors
/// When they are missing and cannot be installed; the message says how to get them.
pub(crate) fn browser_packages() -> Result<()> {
    if on_path(&["node"]).is_none() || on_path(&["npm"]).is_none() {
        apt_get(&["nodejs", "npm"])?;
    }
    let installed =
        show(command("npm", &["ci", "--no-audit", "--no-fund"]).current_dir(root().join("e2e")))?;
    if !installed.success {
        bail!("the packages of e2e/ are missing; get them with `npm ci` in e2e/");
    }
    Ok(())
}

/// Installs with the machine's package manager, which needs root.
///
/// # Errors
/// Without root, without `apt-get`, or when the packages cannot be had.
pub(crate) fn apt_get(packages: &[&str]) -> Result<()> {
    let wanted = packages.join(" ");
    let by_hand = format!("get it with `apt-get install {wanted}` as root");
    let root = quiet(&mut command("id", &["-u"])).is_some_and(|o| o.text.trim() == "0");
    if !root || on_path(&["apt-get"]).is_none() {
        bail!("missing: {wanted}; {by_hand}");
    }
    println!("installing {wanted} with apt-get");
    let mut update = command("apt-get", &["update", "-qq"]);
    let mut install = command("apt-get", &["install", "-y", "-qq", "--no-install-recommends"]);
    let updated = show(update.env("DEBIAN_FRONTEND", "noninteractive"))?;
    let installed = show(install.args(packages).env("DEBIAN_FRONTEND", "noninteractive"))?;
    if !installed.success {
        let list = if updated.success { "" } else { " (the package lists could not be read)" };
        bail!("missing: {wanted}{list}; {by_hand}");
    }
    Ok(())
}

/// The first of several programs that is on the search path.
pub(crate) fn on_path(names: &[&str]) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    let folders: Vec<PathBuf> = std::env::split_paths(&path).collect();
    names.iter().find_map(|name| {
        folders.iter().map(|folder| folder.join(name)).find(|file| Path::is_file(file))
    })
}
