//! The rules of the house that a compiler does not see: edges between floors, heads, words, paths.
//!
//! Tests no physics. A rule is changed here and in ARCHITECTURE.md together.
#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Each floor and the floors it may use, from the ground up.
const FLOORS: &[(&str, &[&str])] = &[
    ("quantity", &[]),
    ("document", &["quantity"]),
    ("numerics", &[]),
    ("matter", &["quantity", "numerics"]),
    ("brewhouse", &["quantity", "document", "numerics", "matter"]),
    ("process", &["quantity", "numerics", "matter", "brewhouse"]),
    ("brew", &["quantity", "document", "matter"]),
    ("day", &["quantity", "document", "numerics", "matter", "brewhouse", "process", "brew"]),
    ("inference", &["numerics"]),
    (
        "foresight",
        &[
            "quantity",
            "document",
            "numerics",
            "matter",
            "brewhouse",
            "process",
            "brew",
            "day",
            "inference",
        ],
    ),
    (
        "plan",
        &[
            "quantity",
            "document",
            "numerics",
            "matter",
            "brewhouse",
            "process",
            "brew",
            "day",
            "inference",
            "foresight",
        ],
    ),
    (
        "cellar",
        &[
            "quantity",
            "document",
            "numerics",
            "matter",
            "brewhouse",
            "process",
            "brew",
            "day",
            "inference",
            "foresight",
        ],
    ),
    ("drawing", &["quantity"]),
    ("store", &[]),
    (
        "app",
        &[
            "quantity",
            "document",
            "numerics",
            "matter",
            "brewhouse",
            "process",
            "brew",
            "day",
            "inference",
            "foresight",
            "plan",
            "cellar",
            "drawing",
            "store",
        ],
    ),
    ("web", &["app", "drawing", "quantity"]),
    ("underback", &["app", "web", "quantity"]),
    ("xtask", &[]),
];

/// Words that this project does not use, so that every thing has one name of its own.
const UNUSED_WORDS: &[&str] = &[
    "batch",
    "session",
    "recipe",
    "profile",
    "efficiency",
    "dead space",
    "absorption",
    "inventory",
    "fermentables",
];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..").canonicalize().unwrap()
}

/// Every file that git keeps, or would keep, with its path from the root.
fn files() -> Vec<String> {
    let args = ["ls-files", "--cached", "--others", "--exclude-standard"];
    let listed = Command::new("git").args(args).current_dir(root()).output().unwrap();
    assert!(listed.status.success(), "git ls-files: {}", String::from_utf8_lossy(&listed.stderr));
    let text = String::from_utf8(listed.stdout).unwrap();
    text.lines().filter(|file| root().join(file).is_file()).map(str::to_owned).collect()
}

fn read(file: &str) -> String {
    std::fs::read_to_string(root().join(file)).unwrap_or_default()
}

fn rust_files() -> Vec<(String, String)> {
    let rust = files().into_iter().filter(|file| file.ends_with(".rs"));
    rust.map(|file| (file.clone(), read(&file))).collect()
}

/// Fails with the list of what breaks a rule.
fn none(rule: &str, broken: &[String]) {
    assert!(broken.is_empty(), "{rule}:\n{}", broken.join("\n"));
}

#[test]
fn no_floor_uses_one_that_is_not_named_for_it() {
    let args = ["metadata", "--no-deps", "--format-version", "1", "--offline"];
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    let output = Command::new(cargo).args(args).current_dir(root()).output().unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let metadata: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let packages = metadata["packages"].as_array().unwrap();
    let ours: Vec<&str> = packages.iter().map(|p| p["name"].as_str().unwrap()).collect();
    let allowed: BTreeMap<&str, &[&str]> = FLOORS.iter().copied().collect();
    let mut broken = Vec::new();
    for package in packages {
        let name = package["name"].as_str().unwrap();
        if name == "trials" {
            continue; // may use every floor
        }
        let Some(may_use) = allowed.get(name) else {
            broken.push(format!("{name} is no floor of the house"));
            continue;
        };
        for dependency in package["dependencies"].as_array().unwrap() {
            let used = dependency["name"].as_str().unwrap();
            let in_tests_only = dependency["kind"].as_str() == Some("dev");
            if ours.contains(&used) && !in_tests_only && !may_use.contains(&used) {
                broken.push(format!("{name} uses {used}"));
            }
        }
    }
    none("edges between floors that the table does not allow", &broken);
}

#[test]
fn every_rust_file_says_what_it_is() {
    let broken: Vec<String> = rust_files()
        .iter()
        .filter(|(_, text)| !text.starts_with("//! "))
        .map(|(file, _)| file.clone())
        .collect();
    none("files without a `//!` head on line one", &broken);
}

#[test]
fn no_file_is_longer_than_800_lines_without_a_reason() {
    let head = |text: &str| {
        let lines = text.lines().take_while(|line| line.starts_with("//!"));
        lines.collect::<Vec<_>>().join(" ")
    };
    let broken: Vec<String> = rust_files()
        .iter()
        .filter(|(_, text)| text.lines().count() > 800 && !head(text).contains("Long because"))
        .map(|(file, text)| format!("{file}: {} lines", text.lines().count()))
        .collect();
    none("files past 800 lines whose head does not say `Long because …`", &broken);
}

/// Product code keeps to 100 characters a line; `rustfmt` leaves comments and text alone. Tables in
/// comments and addresses may be longer.
#[test]
fn no_line_is_longer_than_100_characters() {
    let mut broken = Vec::new();
    for (file, text) in rust_files().iter().filter(|(file, _)| is_product(file)) {
        for (at, line) in text.lines().enumerate() {
            let table = line.trim_start().starts_with("/// |") || line.starts_with("//! |");
            if line.chars().count() > 100 && !table && !line.contains("://") {
                broken.push(format!("{file}:{}: {}", at + 1, line.trim()));
            }
        }
    }
    none("lines past 100 characters", &broken);
}

/// Floors on which a day is reckoned.
const SAME_BITS: &[&str] = &["numerics", "matter", "brewhouse", "process", "day"];

/// Functions that the standard library takes from the system, which picks a variant by processor,
/// or whose rounding it leaves open. `sqrt` is rounded correctly everywhere and may be used.
const NOT_THE_SAME_BITS: &[&str] = &[
    "sin", "cos", "tan", "sin_cos", "asin", "acos", "atan", "atan2", "sinh", "cosh", "tanh",
    "asinh", "acosh", "atanh", "exp", "exp2", "exp_m1", "ln", "ln_1p", "log", "log2", "log10",
    "powf", "powi", "cbrt", "hypot", "mul_add",
];

/// The system's elementary function in a line of code, as a method or as a path.
fn system_function(line: &str) -> Option<&'static str> {
    let code = if line.trim_start().starts_with("//") { "" } else { line };
    let ends = |rest: &str| !rest.starts_with(|c: char| c.is_alphanumeric() || c == '_');
    NOT_THE_SAME_BITS.iter().copied().find(|name| {
        let method = code.contains(&format!(".{name}("));
        let path = format!("f64::{name}");
        method || code.match_indices(&path).any(|(at, _)| ends(&code[at + path.len()..]))
    })
}

/// A day has the same bits on any machine: its floors use `numerics::math` alone. Tests may hold it
/// against the standard library; nothing else is excepted.
#[test]
fn a_day_asks_no_system_for_an_elementary_function() {
    let mut broken = Vec::new();
    for (file, text) in rust_files().iter().filter(|(file, _)| is_product(file)) {
        let floor = file.split('/').nth(1).unwrap_or_default();
        if !SAME_BITS.contains(&floor) || file.ends_with("tests.rs") {
            continue;
        }
        for (at, line) in text.lines().enumerate() {
            if line.starts_with("#[cfg(test)]")
                && !text.lines().nth(at + 1).unwrap_or_default().ends_with(';')
            {
                break; // the tests of a file stand at its end
            }
            if let Some(name) = system_function(line) {
                broken.push(format!("{file}:{}: {name}: {}", at + 1, line.trim()));
            }
        }
    }
    none("the system's elementary functions in a day's floors; use numerics::math", &broken);
}

#[test]
fn the_systems_functions_are_told_from_our_own() {
    for line in ["let y = x.exp();", "fold(0.0, f64::ln)", "2.0_f64.powi(3)", "(a / b).atan2(c)"] {
        assert!(system_function(line).is_some(), "{line}");
    }
    for line in ["let y = exp(x);", "x.sqrt()", "/// x.exp()", "math::ln(x)", "value.expand(2)"] {
        assert_eq!(system_function(line), None, "{line}");
    }
}

#[test]
fn nothing_is_left_open() {
    // written in two halves so that this file does not name them
    let marks = [["TO", "DO"], ["FIX", "ME"], ["XX", "X"], ["todo", "!("], ["unimplemented", "!("]];
    let marks: Vec<String> = marks.iter().map(|halves| halves.concat()).collect();
    let off = ["#[ig", "nore"].concat();
    let mut broken = Vec::new();
    for (file, text) in rust_files() {
        for (at, line) in text.lines().enumerate() {
            let open = marks.iter().any(|mark| has_word(line, mark));
            if open || line.contains(&off) {
                broken.push(format!("{file}:{}: {}", at + 1, line.trim()));
            }
        }
    }
    none("left open, or tests switched off", &broken);
}

#[test]
fn each_thing_has_one_name() {
    let mut broken = Vec::new();
    for file in files() {
        if !is_our_text(&file) || file.ends_with("tests/house.rs") {
            continue;
        }
        for (at, line) in read(&file).lines().enumerate() {
            let lower = line.to_lowercase();
            for word in UNUSED_WORDS.iter().filter(|word| has_word(&lower, word)) {
                if !is_foreign(&file, &lower, word) {
                    broken.push(format!("{file}:{}: `{word}`: {}", at + 1, line.trim()));
                }
            }
        }
    }
    none("words this project does not use", &broken);
}

#[test]
fn no_path_of_one_machine_is_written_down() {
    // split, so that this file does not hold what it looks for
    let homes = ["wo_rk", "ro_ot", "ho_me", "Us_ers", "tm_p", "fa_rm"].map(|h| h.replace('_', ""));
    let mut broken = Vec::new();
    for file in files().iter().filter(|file| is_our_text(file)) {
        for (at, line) in read(file).lines().enumerate() {
            let found = homes.iter().any(|home| {
                line.match_indices(&format!("/{home}/")).any(|(start, path)| {
                    let before = line[..start].chars().next_back();
                    let after = line[start + path.len()..].chars().next();
                    before.is_none_or(|c| !c.is_alphanumeric() && !"._-*)}".contains(c))
                        && after.is_some_and(|c| c.is_ascii_alphabetic() || c == '.')
                })
            });
            if found {
                broken.push(format!("{file}:{}: {}", at + 1, line.trim()));
            }
        }
    }
    none("paths of one machine", &broken);
}

#[test]
fn the_manual_names_every_key_of_the_documents() {
    let mut missing = Vec::new();
    for document in ["brewhouse", "brew"] {
        let shape = read(&format!("crates/{document}/src/shape.rs"));
        let page = read(&format!("docs/src/documents/{document}.md"));
        assert!(shape.contains("Field::required("), "the shape of {document} has moved");
        for maker in ["required(", "optional(", "length(", "volume(", "day("] {
            for (start, _) in shape.match_indices(maker) {
                let rest = shape[start + maker.len()..].trim_start();
                let Some(rest) = rest.strip_prefix('"') else { continue };
                let key = rest.split('"').next().unwrap_or_default();
                if !page.contains(&format!("| `{key}` |")) {
                    missing.push(format!("{document}.md: `{key}`"));
                }
            }
        }
    }
    none("keys that the manual does not name", &missing);
}

/// A listing is a piece of a demo file; a piece that has slipped begins in the middle of a table.
#[test]
fn listings_of_the_manual_begin_at_a_table() {
    let mut slipped = Vec::new();
    for file in files().iter().filter(|file| file.starts_with("docs/") && file.ends_with(".md")) {
        for piece in read(file).split("{{#include ").skip(1) {
            let path = piece.split('}').next().unwrap_or_default();
            let (path, lines) = path.split_once(':').unwrap_or((path, ""));
            let folder = Path::new(file).parent().unwrap();
            let text = std::fs::read_to_string(root().join(folder).join(path)).unwrap_or_default();
            let first = lines.split(':').next().and_then(|n| n.parse::<usize>().ok()).unwrap_or(1);
            let line = text.lines().nth(first - 1).unwrap_or_default();
            if !(line.starts_with('[') || first == 1 && line.starts_with('#')) {
                slipped.push(format!("{file}: {path}:{lines} begins with `{line}`"));
            }
        }
    }
    none("listings that have slipped", &slipped);
}

/// Code that is handed out or makes what is: crates without their tests folders, and the chores.
fn is_product(file: &str) -> bool {
    (file.starts_with("crates/") || file.starts_with("xtask/")) && file.contains("/src/")
}

/// Text written here, as against lock files, pictures and licences.
fn is_our_text(file: &str) -> bool {
    let ours =
        ["rs", "md", "toml", "csv", "py", "mjs", "js", "css", "html", "json", "sql", "c", "sh"];
    let ending = file.rsplit('.').next().unwrap_or_default();
    ours.contains(&ending) && !file.ends_with("package-lock.json") && !file.starts_with("LICENSE")
}

/// Names that are not ours to choose: Cargo's own key, a function of a library.
fn is_foreign(file: &str, line: &str, word: &str) -> bool {
    let about_cargo =
        line.contains("[profile.") || line.contains("--profile") || line.contains("cargo_profile");
    let library = word == "batch" && line.contains("execute_batch"); // a name of rusqlite
    library || word == "profile" && (file.ends_with("Cargo.toml") || about_cargo)
}

/// Whether a word stands in a line, not as a part of a longer one.
fn has_word(line: &str, word: &str) -> bool {
    line.match_indices(word).any(|(start, found)| {
        let before = line[..start].chars().next_back();
        let after = line[start + found.len()..].chars().next();
        let inside = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
        !inside(before) && (!inside(after) || !word.ends_with(char::is_alphanumeric))
    })
}
