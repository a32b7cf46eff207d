//! The commands as a person or a script meets them: what is printed where, and the exit code.
#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo");

fn demo(name: &str) -> PathBuf {
    Path::new(DEMO).join(name)
}

fn command(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_underback"));
    command.current_dir(folder).env_clear().env("UNDERBACK_DATA", folder.join("data"));
    command
}

fn run(folder: &Path, arguments: &[&str]) -> Output {
    command(folder).args(arguments).output().unwrap()
}

fn folder() -> tempfile::TempDir {
    tempfile::tempdir().unwrap()
}

fn out(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn err(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn path(path: &Path) -> &str {
    path.to_str().unwrap()
}

#[test]
fn every_help_shows_an_example() {
    let folder = folder();
    for command in ["", "serve", "plan", "sheet", "dipstick", "check", "schema"] {
        let arguments: Vec<&str> =
            [command, "--help"].into_iter().filter(|a| !a.is_empty()).collect();
        let output = run(folder.path(), &arguments);
        assert_eq!(output.status.code(), Some(0), "{command}");
        assert!(out(&output).contains("Example:\n  underback "), "{command}: {}", out(&output));
        assert!(output.stderr.is_empty(), "{command}");
    }
}

#[test]
fn arguments_that_make_no_sense_are_bad_input() {
    let folder = folder();
    for arguments in [
        &["brew"][..],
        &["plan"],
        &["plan", "a.toml", "b.toml", "--units", "stone"],
        &["check"],
        &["schema", "beer"],
        &["sheet", "a", "b", "-o", "c", "--start", "25:00"],
        &["serve", "--port", "70000"],
    ] {
        let output = run(folder.path(), arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(output.stdout.is_empty() && !output.stderr.is_empty(), "{arguments:?}");
    }
}

#[test]
fn a_plan_as_text_names_the_targets_the_steps_and_the_balances() {
    let folder = folder();
    let pots = demo("orchard-shed.toml");
    let beer = demo("windfall-amber.toml");
    let output = run(folder.path(), &["plan", path(&pots), path(&beer)]);
    let text = out(&output);
    assert_eq!(output.status.code(), Some(0), "{text}{}", err(&output));
    assert!(output.stderr.is_empty(), "{}", err(&output));
    for part in ["Windfall Amber on Orchard Shed", "Volume", "Colour", "Mash\n----", "Boil\n----"] {
        assert!(text.contains(part), "{part}: {text}");
    }
    assert!(text.contains("Where the extract goes") && text.contains("°C"));
    let us = out(&run(folder.path(), &["plan", path(&pots), path(&beer), "--units", "us"]));
    assert!(us.contains("°F") && us.contains("Color"), "{us}");
}

#[test]
fn a_plan_as_json_is_one_object_that_its_schema_knows() {
    let folder = folder();
    let schema: serde_json::Value =
        serde_json::from_slice(&run(folder.path(), &["schema", "plan"]).stdout).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    for (pots, beer) in [
        ("orchard-shed.toml", "windfall-amber.toml"),
        ("orchard-shed.toml", "cellar-lamp.toml"),
        ("three-step.toml", "windfall-amber.toml"),
        ("tiled-kitchen.toml", "morning-slate.toml"),
        ("window-bench.toml", "sill-pale.toml"),
        ("club-barn.toml", "threshing-gold.toml"),
    ] {
        let (pots, beer) = (demo(pots), demo(beer));
        let output = run(folder.path(), &["plan", path(&pots), path(&beer), "--json"]);
        assert!(output.stderr.is_empty(), "{}", err(&output));
        let plan: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
        let wrong: Vec<String> =
            validator.iter_errors(&plan).map(|error| error.to_string()).collect();
        assert!(wrong.is_empty(), "{}: {wrong:?}", pots.display());
        let code = if plan["fits"].as_bool().unwrap() { 0 } else { 1 };
        assert_eq!(output.status.code(), Some(code));
    }
}

#[test]
fn the_demo_files_satisfy_the_printed_schemas() {
    let folder = folder();
    for (kind, key) in [("brewhouse", "vessel"), ("brew", "wanted")] {
        let schema = run(folder.path(), &["schema", kind]);
        assert_eq!(schema.status.code(), Some(0));
        let schema: serde_json::Value = serde_json::from_slice(&schema.stdout).unwrap();
        let validator = jsonschema::validator_for(&schema).unwrap();
        let mut seen = 0;
        for file in fs::read_dir(DEMO).unwrap() {
            let text = fs::read_to_string(file.unwrap().path()).unwrap();
            let table: toml::Table = text.parse().unwrap();
            if !table.contains_key(key) {
                continue;
            }
            let value = json_of(toml::Value::Table(table));
            let wrong: Vec<String> =
                validator.iter_errors(&value).map(|error| error.to_string()).collect();
            assert!(wrong.is_empty(), "{kind}: {wrong:?}");
            seen += 1;
        }
        assert!(seen >= 5, "{kind}: {seen}");
    }
}

/// TOML as the JSON a validator sees: a date is a text.
fn json_of(value: toml::Value) -> serde_json::Value {
    match value {
        toml::Value::Datetime(date) => date.to_string().into(),
        toml::Value::Array(list) => list.into_iter().map(json_of).collect(),
        toml::Value::Table(table) => {
            table.into_iter().map(|(key, value)| (key, json_of(value))).collect()
        }
        other => serde_json::to_value(other).unwrap(),
    }
}

#[test]
fn all_is_well_with_the_demo_and_nothing_is_said() {
    let folder = folder();
    let files: Vec<PathBuf> =
        fs::read_dir(DEMO).unwrap().map(|file| file.unwrap().path()).collect();
    let mut arguments = vec!["check"];
    arguments.extend(files.iter().map(|file| path(file)));
    let output = run(folder.path(), &arguments);
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    assert!(output.stdout.is_empty(), "{}", out(&output));
}

#[test]
fn mistakes_are_shown_at_their_places_several_at_once() {
    let folder = folder();
    let text = fs::read_to_string(demo("windfall-amber.toml")).unwrap();
    let wrong = text.replacen("volume = \"21 L", "volume = \"21 kg", 1).replacen(
        "[[grist]]\nmalt",
        "[[grist]]\nmallt",
        1,
    );
    assert_ne!(wrong, text);
    let file = folder.path().join("wrong.toml");
    fs::write(&file, &wrong).unwrap();
    let output = run(folder.path(), &["check", "wrong.toml"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
    let said = err(&output);
    let line = wrong.lines().position(|line| line.starts_with("volume")).unwrap() + 1;
    assert!(said.contains(&format!("wrong.toml:{line}:")), "{said}");
    assert!(said.contains("mallt") && said.contains("21 kg"), "{said}");

    let output = run(folder.path(), &["check", "wrong.toml", "--json"]);
    assert_eq!(output.status.code(), Some(2));
    let list: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let list = list.as_array().unwrap();
    assert!(list.len() >= 2);
    for finding in list {
        for key in ["file", "line", "column", "text", "message", "expected", "suggestion"] {
            assert!(finding.get(key).is_some(), "{key}: {finding}");
        }
    }
    let pots = demo("orchard-shed.toml");
    for arguments in [
        &["plan", path(&pots), "wrong.toml", "--json"][..],
        &["sheet", path(&pots), "wrong.toml", "-o", "sheet.html"],
    ] {
        let output = run(folder.path(), arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(output.stdout.is_empty() && err(&output).contains("wrong.toml:"));
    }
    assert!(!folder.path().join("sheet.html").exists(), "nothing is written");
}

#[test]
fn files_that_are_none_are_refused_with_words() {
    let folder = folder();
    fs::write(folder.path().join("empty.toml"), "").unwrap();
    fs::write(folder.path().join("binary.toml"), [0xFF, 0xFE, 0x00, 0x80]).unwrap();
    let huge = fs::File::create(folder.path().join("huge.toml")).unwrap();
    huge.set_len(100 << 20).unwrap();
    fs::create_dir(folder.path().join("folder.toml")).unwrap();
    let beer = demo("windfall-amber.toml");
    for name in ["empty.toml", "binary.toml", "huge.toml", "folder.toml", "missing.toml"] {
        for arguments in [&["check", name][..], &["plan", name, path(&beer)]] {
            let output = run(folder.path(), arguments);
            assert_eq!(output.status.code(), Some(2), "{arguments:?}: {}", err(&output));
            assert!(err(&output).contains(name), "{arguments:?}: {}", err(&output));
            assert!(!err(&output).contains("panicked"), "{}", err(&output));
        }
    }
}

#[test]
fn a_sheet_and_a_dipstick_are_whole_files_or_none() {
    let folder = folder();
    let (pots, beer) = (demo("orchard-shed.toml"), demo("windfall-amber.toml"));
    let sheet = ["sheet", path(&pots), path(&beer), "-o", "sheet.html", "--start", "07:15"];
    let output = run(folder.path(), &sheet);
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    assert!(output.stdout.is_empty() && output.stderr.is_empty());
    let page = fs::read_to_string(folder.path().join("sheet.html")).unwrap();
    assert!(page.ends_with("</html>") && page.contains("07:15"));
    let output = run(folder.path(), &["dipstick", path(&pots), "kettle", "-o", "stick.html"]);
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    assert!(fs::read_to_string(folder.path().join("stick.html")).unwrap().contains("<svg"));

    let output = run(folder.path(), &["dipstick", path(&pots), "bucket", "-o", "no.html"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(err(&output).contains("kettle"), "the keys there are: {}", err(&output));
    for target in ["nowhere/sheet.html", "data", "."] {
        fs::create_dir_all(folder.path().join("data")).unwrap();
        let output = run(folder.path(), &["sheet", path(&pots), path(&beer), "-o", target]);
        assert_eq!(output.status.code(), Some(2), "{target}");
        assert!(!err(&output).contains("panicked"));
    }
    let left: Vec<String> = fs::read_dir(folder.path())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .filter(|name| name.starts_with(".underback"))
        .collect();
    assert!(left.is_empty(), "{left:?}");
}

/// A reader that closes its end, such as `head`, is no mistake of anybody.
#[test]
fn a_closed_pipe_ends_quietly() {
    let folder = folder();
    let (pots, beer) = (demo("orchard-shed.toml"), demo("windfall-amber.toml"));
    let mut child = command(folder.path())
        .args(["plan", path(&pots), path(&beer), "--json"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    assert!(output.stderr.is_empty(), "{}", err(&output));
}
