//! Bad input through the real binary: what a user is told, where it is printed, and the exit code.
//! The numbers of a day that fits are not checked here.
#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo");
const TUN_VALVE: &str = r#"valve = { height = "35 mm", bore = "12.7 mm", dip-tube = "8 mm" }"#;
const TUN_INSIDE: &str = r#"inside = { diameter = "400 mm ± 1 mm", height = "400 mm ± 1 mm" }"#;
const KETTLE_INSIDE: &str = r#"inside = { diameter = "400 mm ± 1 mm", height = "450 mm ± 1 mm" }"#;
const FALSE_BOTTOM: &str = r#"false-bottom = { height = "42 mm", under = "5.28 L ± 0.08 L" }"#;
const VOLUME: &str = r#"volume = "21 L ± 1 L""#;

fn pots() -> String {
    fs::read_to_string(format!("{DEMO}/orchard-shed.toml")).unwrap()
}

fn beer() -> String {
    fs::read_to_string(format!("{DEMO}/windfall-amber.toml")).unwrap()
}

/// The text with one thing changed; it must be there.
fn with(text: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "{from}");
    text.replacen(from, to, 1)
}

/// The text without what stands from one mark up to the next.
fn without(text: &str, from: &str, to: &str) -> String {
    let start = text.find(from).unwrap();
    let end = start + text[start..].find(to).unwrap();
    format!("{}{}", &text[..start], &text[end..])
}

fn run(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_underback"))
        .current_dir(folder)
        .env_clear()
        .args(arguments)
        .output()
        .unwrap()
}

fn err(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).replace(['\u{202f}', '\u{a0}'], " ")
}

/// Line, counted from one, on which a part first stands.
fn line(text: &str, part: &str) -> usize {
    text.lines().position(|line| line.contains(part)).unwrap() + 1
}

/// Plans and writes a sheet: both are refused with these words, and nothing else comes of it.
fn refused(pots: &str, beer: &str, words: &[&str]) {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("pots.toml"), pots).unwrap();
    fs::write(folder.path().join("beer.toml"), beer).unwrap();
    for arguments in [
        &["plan", "pots.toml", "beer.toml", "--json"][..],
        &["sheet", "pots.toml", "beer.toml", "-o", "sheet.html", "--json"],
    ] {
        let output = run(folder.path(), arguments);
        let said = err(&output);
        assert_eq!(output.status.code(), Some(2), "{said}");
        assert!(output.stdout.is_empty(), "{arguments:?}");
        for word in words {
            assert!(said.contains(word), "{word}\n{said}");
        }
        assert!(said.contains("expected: ") && !said.contains("panicked"), "{said}");
    }
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2, "nothing is written");
}

/// Plans as JSON: well asked, not possible; these limits are broken, with numbers in their words.
fn does_not_fit(pots: &str, limits: &[(&str, &str)]) {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("pots.toml"), pots).unwrap();
    fs::write(folder.path().join("beer.toml"), beer()).unwrap();
    let output = run(folder.path(), &["plan", "pots.toml", "beer.toml", "--json"]);
    assert_eq!(output.status.code(), Some(1), "{}", err(&output));
    assert!(output.stderr.is_empty(), "{}", err(&output));
    let plan: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let schema = run(folder.path(), &["schema", "plan"]);
    let schema: serde_json::Value = serde_json::from_slice(&schema.stdout).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    assert!(validator.is_valid(&plan));
    assert_eq!(plan["fits"], false);
    for (id, words) in limits {
        let broken = plan["limits"].as_array().unwrap().iter().any(|limit| {
            limit["id"] == *id
                && limit["kept"] == false
                && limit["words"].as_str().unwrap().replace('\u{202f}', " ").contains(words)
        });
        assert!(broken, "{id} {words}: {}", plan["limits"]);
    }
}

#[test]
fn a_value_that_can_not_be_is_shown_at_its_place() {
    let beer = beer();
    let at = format!("beer.toml:{}:11", line(&beer, VOLUME));
    for (value, words) in [
        ("-21 L", &["a volume below nothing", "between 0 and"][..]),
        ("NaN L", &["\"NaN L\" where a number should be", "as \"21 L\""]),
        ("1e300 L", &["a volume that can't be", "between 0 and"]),
    ] {
        let wrong = with(&beer, VOLUME, &format!("volume = {value:?}"));
        refused(&pots(), &wrong, &[&[at.as_str(), value], words].concat());
    }
    let wrong = with(&beer, VOLUME, r#"volume = "21 kg""#);
    let at = format!("beer.toml:{}:14", line(&beer, VOLUME));
    refused(&pots(), &wrong, &[&at, "\"21 kg\" is a mass", "a volume in L, gal"]);
    let wrong = with(&pots(), "wort-factor = 1.04", "wort-factor = nan");
    refused(&wrong, &beer, &["pots.toml:", "wort-factor", "nan can't stand here"]);
}

#[test]
fn what_a_brew_can_not_want_is_refused() {
    let beer = beer();
    let strong = with(&beer, "12.6 °P ± 0.5 °P", "40 °P");
    refused(&pots(), &strong, &["beer.toml:8:11", "40 °P", "at most 30.0 °P"]);
    let hot = with(&beer, r#"at = "about 72 °C""#, r#"at = "130 °C""#);
    refused(&pots(), &hot, &["beer.toml:", "above boiling", "130 °C", "below 100.0 °C"]);
    let mild = with(&beer, r#"alpha = "7.8 %""#, r#"alpha = "0 %""#);
    refused(&pots(), &mild, &["beer.toml:", "alpha = \"0 %\"", "above 0 %, or an amount in grams"]);
}

#[test]
fn pots_that_can_not_be_are_refused() {
    let (pots, beer) = (pots(), beer());
    let typo = with(&pots, "false-bottom = ", "false-botom = ");
    let at = format!("pots.toml:{}:1", line(&pots, FALSE_BOTTOM));
    refused(&typo, &beer, &[&at, "\"false-botom\"", "perhaps: \"false-bottom\""]);
    let high = with(&pots, FALSE_BOTTOM, r#"false-bottom = { height = "442 mm" }"#);
    refused(&high, &beer, &["false bottom is above the brim", "442 mm", "under the brim, 400 mm"]);
    let above = r#"valve = { height = "600 mm", bore = "12.7 mm" }"#;
    let both = with(&pots, TUN_VALVE, above).replacen(
        r#"valve = { height = "35 mm", bore = "12.7 mm", dip-tube = "10 mm" }"#,
        above,
        1,
    );
    refused(&both, &beer, &["under the brim, 400 mm", "under the brim, 450 mm", "600 mm"]);
}

#[test]
fn a_missing_vessel_is_named_with_the_line_to_write() {
    for (part, name, other) in [
        ("liquor", "hot liquor tank", "kettle"),
        ("mash", "mash tun", "liquor"),
        ("kettle", "kettle", "liquor"),
        ("fermenter", "fermenter", "liquor"),
    ] {
        let line = format!("plays = [\"{part}\"]");
        let wrong = with(&pots(), &line, &format!("plays = [\"{other}\"]"));
        let words = format!("there is no {name}");
        refused(&wrong, &beer(), &["pots.toml:", &words, &line, "one pot may play several parts"]);
    }
}

#[test]
fn mistakes_in_both_files_are_told_together() {
    let pots = with(&pots(), "false-bottom = ", "false-botom = ");
    let beer = with(&beer(), VOLUME, r#"volume = "-21 L""#);
    let beer = with(&beer, "12.6 °P ± 0.5 °P", "12.6 kg");
    refused(&pots, &beer, &["false-botom", "-21 L", "12.6 kg", "pots.toml:", "beer.toml:7:"]);
}

#[test]
fn files_that_are_no_documents_say_what_they_are() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("empty.toml"), "").unwrap();
    fs::write(folder.path().join("binary.toml"), [0xFF, 0xFE, 0x00, 0x80]).unwrap();
    fs::File::create(folder.path().join("huge.toml")).unwrap().set_len(100 << 20).unwrap();
    for (name, words) in [
        ("empty.toml", "the file is empty"),
        ("binary.toml", "binary, not text"),
        ("huge.toml", "at most 1 MiB"),
    ] {
        let beer = format!("{DEMO}/windfall-amber.toml");
        let output = run(folder.path(), &["plan", name, &beer, "--json"]);
        assert_eq!(output.status.code(), Some(2));
        assert!(output.stdout.is_empty());
        let said = err(&output);
        assert!(said.contains(name) && said.contains(words), "{said}");
        assert!(said.contains("expected: "), "{said}");
    }
}

#[test]
fn pots_too_small_or_cold_are_well_asked_but_do_not_fit() {
    let pots = pots();
    let tun = with(&pots, TUN_INSIDE, r#"inside = { diameter = "200 mm", height = "150 mm" }"#)
        .replacen(r#", under = "5.28 L ± 0.08 L""#, "", 1)
        .replacen(r#"left-behind = "1.15 L ± 0.10 L""#, "", 1);
    does_not_fit(&tun, &[("tun_brim", "its brim is at 150 mm")]);
    let low = r#"inside = { diameter = "400 mm", height = "215 mm" }"#;
    let foam = with(&pots, KETTLE_INSIDE, low);
    does_not_fit(&foam, &[("kettle_head_space", "the rim is at 215 mm")]);
    let cold = without(&pots, "[vessel.kettle.heater]", "# -----");
    does_not_fit(&cold, &[("kettle_heater", "must be heated for the boil, but has no heater")]);
    let cold = without(&pots, "[vessel.tun.heater]", "# -----");
    does_not_fit(&cold, &[("mash_heater", "must be heated for a rest")]);
}

#[test]
fn a_place_that_can_not_be_written_is_told_with_a_way_out() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("file"), "").unwrap();
    let pots = format!("{DEMO}/orchard-shed.toml");
    for target in ["nowhere/stick.html", "file/stick.html"] {
        let output = run(folder.path(), &["dipstick", &pots, "kettle", "-o", target]);
        let said = err(&output);
        assert_eq!(output.status.code(), Some(2), "{said}");
        assert!(said.contains(target) && said.contains("is no folder; make it first"), "{said}");
        assert!(!said.contains(".underback-"), "the file beside is no business of a user: {said}");
    }
    let output = run(folder.path(), &["serve", "--port", "0", "--data", "file"]);
    let said = err(&output);
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(said.contains("file is a file; name a folder with --data"), "{said}");
}

#[test]
fn files_that_are_missing_or_swapped_are_told_in_one_go() {
    let folder = tempfile::tempdir().unwrap();
    let output = run(folder.path(), &["plan", "nope.toml", "none.toml"]);
    let said = err(&output);
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(said.contains("nope.toml") && said.contains("none.toml"), "{said}");
    assert!(!said.contains("error: error"), "{said}");
    let (pots, beer) = (format!("{DEMO}/orchard-shed.toml"), format!("{DEMO}/windfall-amber.toml"));
    let output = run(folder.path(), &["plan", &beer, &pots, "--json"]);
    let said = err(&output);
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(output.stdout.is_empty());
    assert!(said.contains("the brewhouse comes first"), "{said}");
    assert_eq!(said.lines().count(), 1, "one mistake, one line: {said}");
}
