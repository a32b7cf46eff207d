//! A good file gives its values with their places; bad ones give findings, all at once.

mod pots;

use document::{Document, Findings, LARGEST_BYTES, Span, read_file};
use pots::{GOOD, KITCHEN};
use quantity::{Duration, Extract, Length, Mass, Power, Share, Temperature, Volume};

/// The findings about a text, rendered plain.
fn said(text: &str) -> String {
    match Document::read("pots.toml", text, &KITCHEN) {
        Ok((_, findings)) | Err(findings) => findings.to_text(false),
    }
}

fn refused(text: &str) -> Findings {
    match Document::read("pots.toml", text, &KITCHEN) {
        Ok((document, findings)) => findings.unless_errors(Some(document)).expect_err(text),
        Err(findings) => findings,
    }
}

#[test]
fn a_good_file_gives_its_values_and_places() {
    let (document, findings) = Document::read("pots.toml", GOOD, &KITCHEN).unwrap();
    assert!(findings.is_empty(), "{findings}");
    let root = document.root();
    assert_eq!(root.text("name").unwrap().value, "Tiled");
    assert_eq!(root.text("add").unwrap().value, "start of boil");
    assert!(root.quantity::<Duration>("add").is_none());
    assert_eq!(root.number("factor").unwrap().value, 1.0);
    let strength = root.quantity::<Extract>("strength").unwrap();
    assert_eq!(document.source().slice(strength.span), "1.048");
    assert!((strength.value.value.specific_gravity() - 1.048).abs() < 1e-12);

    let names: Vec<_> = root.named("pot").map(|(name, _)| name.value).collect();
    assert_eq!(names, ["small", "large"], "in the order of the file");
    let large = document.table("pot.large").unwrap();
    assert_eq!(document.source().slice(large.span), "[pot.large]");
    assert_eq!(document.source().line_column(large.place("count")), (15, 9));
    assert_eq!(large.integer("count").unwrap().value, 2);
    assert!(large.bool("lid").unwrap().value);
    let marks = large.quantities::<Volume>("marks");
    assert_eq!(document.source().slice(marks[1].span), "\"2 gal ± 2 %\"");
    assert!((marks[1].value.half_width.unwrap() - 0.04 * 3.785_411_784e-3).abs() < 1e-15);
    let heater = document.table("pot.large.heater").unwrap();
    assert_eq!(heater.quantity::<Power>("burner").unwrap().value.value.kilowatts(), 9.5);
    assert!(heater.quantity::<Share>("reaches-pot").unwrap().value.about);
    assert_eq!(heater.date("proved").unwrap().value.to_string(), "2026-09-14");
    let inside = document.table("pot.small.inside").unwrap();
    assert!(
        (inside.quantity::<Length>("height").unwrap().value.value.inches() - 11.75).abs() < 1e-12
    );
    assert!(inside.quantity::<Mass>("height").is_none());
    let warm = root.tables("step")[0].quantity::<Temperature>("at").unwrap().value;
    assert!((warm.half_width.unwrap() - 2.0 / 1.8).abs() < 1e-12);
    assert_eq!(root.tables("step").len(), 2);
    assert_eq!(root.place("no-such-key"), root.span);
}

#[test]
fn several_mistakes_are_told_at_once() {
    let text = r#"nam = "Tiled"
strength = 12.6
[pot.large]
inside = { diameter = "400 mL", height = "4 m" }
marks = ["5 L", "ten"]
[pot.large.heater]
reaches_pot = "45 %"
"#;
    insta::assert_snapshot!(said(text), @r#"
    error: the key "nam" is not known here
     --> pots.toml:1:1
      |
    1 | nam = "Tiled"
      | ^^^
      |
      = expected: one of "name", "strength", "add", "factor", "pot", "step"
      = perhaps: "name"

    error: the number 12.6 without a unit
     --> pots.toml:2:12
      |
    2 | strength = 12.6
      |            ^^^^
      |
      = expected: a gravity in °P, SG, points, as "12.6 °P"
      = perhaps: "12.6 °P" or "12.6 points"

    error: "400 mL" is a volume
     --> pots.toml:4:28
      |
    4 | inside = { diameter = "400 mL", height = "4 m" }
      |                            ^^
      |
      = expected: a length in mm, cm, m, in, as "400 mm"

    error: "height" is too great here
     --> pots.toml:4:42
      |
    4 | inside = { diameter = "400 mL", height = "4 m" }
      |                                          ^^^^^
      |
      = expected: 0.05 m to 2 m

    error: "ten" where a number should be
     --> pots.toml:5:18
      |
    5 | marks = ["5 L", "ten"]
      |                  ^^^
      |
      = expected: a volume in L, gal, qt, mL, as "21 L"

    error: the key "burner" is missing
     --> pots.toml:6:1
      |
    6 | [pot.large.heater]
      | ^^^^^^^^^^^^^^^^^^
      |
      = expected: burner: a power, as "9.5 kW"

    error: the key "reaches_pot" is not known here
     --> pots.toml:7:1
      |
    7 | reaches_pot = "45 %"
      | ^^^^^^^^^^^
      |
      = expected: one of "burner", "reaches-pot", "proved"
      = perhaps: "reaches-pot"
    "#);
}

#[test]
fn a_wrong_word_gets_a_suggestion() {
    let step = "[[step]]\nat = '63 °C'\nby = 'Fire'\n";
    let text = format!("name = 'x'\nadd = 'start of bol'\npot = {{}}\n{step}");
    insta::assert_snapshot!(said(&text), @r#"
    error: "start of bol" is not known here
     --> pots.toml:2:7
      |
    2 | add = 'start of bol'
      |       ^^^^^^^^^^^^^^
      |
      = expected: a time, as "60 min"; or one of "start of boil", "end of boil"
      = perhaps: "start of boil"

    error: the word "Fire" is not known here
     --> pots.toml:6:6
      |
    6 | by = 'Fire'
      |      ^^^^^^
      |
      = expected: one of "fire", "hot water"
      = perhaps: "fire"
    "#);
}

#[test]
fn a_wrong_type_says_what_stands_there() {
    let text = "name = 4\npot = 'x'\nfactor = 3\nstep = [1]\nadd = [\"5 min\"]\n";
    insta::assert_snapshot!(said(text), @r#"
    error: the number 4 can't stand here
     --> pots.toml:1:8
      |
    1 | name = 4
      |        ^
      |
      = expected: a text in quotes

    error: the text "x" can't stand here
     --> pots.toml:2:7
      |
    2 | pot = 'x'
      |       ^^^
      |
      = expected: tables, each under a name, with "inside", "heater", "marks", "count", "lid"

    error: "factor" is too great here
     --> pots.toml:3:10
      |
    3 | factor = 3
      |          ^
      |
      = expected: 0.5 to 2

    error: a list can't stand here
     --> pots.toml:4:8
      |
    4 | step = [1]
      |        ^^^
      |
      = expected: one or more tables in [[ ]] with "at", "by"

    error: a list can't stand here
     --> pots.toml:5:7
      |
    5 | add = ["5 min"]
      |       ^^^^^^^^^
      |
      = expected: a time, as "60 min"; or one of "start of boil", "end of boil"
    "#);
}

#[test]
fn a_value_without_quotes_is_understood() {
    insta::assert_snapshot!(said("name = \"x\"\nstrength = 12.6 °P\nname = \"y\"\n[pot\n"), @r#"
    error: string values must be quoted, expected literal string
     --> pots.toml:2:12
      |
    2 | strength = 12.6 °P
      |            ^^^^^^^
      |
      = expected: TOML: key = "value"
      = perhaps: strength = "12.6 °P"

    error: the key "name" stands twice
     --> pots.toml:3:1
      |
    3 | name = "y"
      | ^^^^
      |
      = expected: each key once

    error: unclosed table, expected `]`
     --> pots.toml:4:5
      |
    4 | [pot
      |     ^
      |
      = expected: TOML: key = "value"
    "#);
}

#[test]
fn an_empty_file_and_a_binary_one_are_refused() {
    insta::assert_snapshot!(said(" \n\n"), @r#"
    error: the file is empty
     --> pots.toml:1:1
      |
    1 |  
      | ^
      |
      = expected: at least "name", "pot"
    "#);
    assert!(said("\u{feff}").contains("the file is empty"));
    insta::assert_snapshot!(said("name\0"), @r#"
    error: the file is binary, not text
     --> pots.toml:1:1
      |
    1 | name␀
      | ^
      |
      = expected: text in UTF-8
    "#);
}

#[test]
fn numbers_nobody_can_mean_are_refused() {
    for strength in ["nan", "inf", "1e300", "-5", "'NaN °P'", "'1e300 °P'", "'-40 °P'"] {
        let text = format!("name = 'x'\npot = {{}}\nstrength = {strength}\n");
        let findings = refused(&text);
        assert_eq!(findings.len(), 1, "{findings}");
        assert_eq!(findings.source().line_column(findings.iter().next().unwrap().span).0, 3);
    }
    for factor in ["nan", "inf", "1e300", "'1'", "0.4"] {
        assert_eq!(refused(&format!("name = 'x'\npot = {{}}\nfactor = {factor}\n")).len(), 1);
    }
}

#[test]
fn a_broken_value_is_not_a_missing_one() {
    let text = "name = 'x'\npot = {}\nstrength = '12'\n";
    let (document, findings) = Document::read("pots.toml", text, &KITCHEN).unwrap();
    assert_eq!(findings.len(), 1);
    assert!(document.root().has("strength"));
    assert!(document.root().quantity::<Extract>("strength").is_none());
}

#[test]
fn a_caller_adds_findings_at_two_places() {
    let (document, mut findings) = Document::read("pots.toml", GOOD, &KITCHEN).unwrap();
    let small = document.table("pot.small.inside").unwrap().place("height");
    let large = document.table("pot.large.inside").unwrap().place("height");
    findings
        .error(large, "the large pot is taller than the shelf")
        .expected("at most 300 mm")
        .perhaps("put it on the floor")
        .also(small, "this one fits");
    findings.note(document.root().key_place("name"), "no place is given");
    insta::assert_snapshot!(findings.clone().unless_errors(Some(())).unwrap_err(), @r#"
    note: no place is given
     --> pots.toml:2:1
      |
    2 | name = "Tiled"
      | ^^^^

    error: the large pot is taller than the shelf
      --> pots.toml:12:46
       |
     8 | inside = { diameter = "30 cm ± 1 mm", height = "11 3/4 in" }
       |                                                ----------- this one fits
    ...
    12 | inside = { diameter = "400 ± 1 mm", height = "400 mm" }
       |                                              ^^^^^^^^
       |
       = expected: at most 300 mm
       = perhaps: put it on the floor
    "#);
    insta::assert_snapshot!(format!("{:#}", findings.to_json()[0]), @r#"
    {
      "column": 46,
      "expected": "at most 300 mm",
      "file": "pots.toml",
      "line": 12,
      "message": "the large pot is taller than the shelf",
      "severity": "error",
      "suggestion": "put it on the floor",
      "text": "\"400 mm\""
    }
    "#);
}

#[test]
fn notes_alone_do_not_refuse() {
    let (document, mut findings) = Document::read("pots.toml", GOOD, &KITCHEN).unwrap();
    findings.note(Span::default(), "just so");
    let (_, findings) = findings.unless_errors(Some(document)).unwrap();
    assert_eq!(findings.len(), 1);
}

#[test]
fn two_files_are_told_apart() {
    let mut first = refused("name = 1\npot = {}\n");
    let (_, mut second) = Document::read("other.toml", GOOD, &KITCHEN).unwrap();
    let here = first.iter().next().unwrap().clone();
    second.error(Span { start: 0, end: 1 }, "clashes").also_in(
        &here.source,
        here.span,
        "with this",
    );
    first.merge(second);
    let text = first.to_text(false);
    assert!(text.contains("pots.toml:1:8") && text.contains("other.toml:1:1"), "{text}");
    assert!(text.contains("with this"));
    assert_eq!(first.to_json().as_array().map(Vec::len), Some(2));
}

#[test]
fn colour_is_for_terminals_only() {
    let findings = refused("name = 1\npot = {}\n");
    assert!(!findings.to_text(false).contains('\u{1b}'));
    assert!(findings.to_text(true).contains('\u{1b}'));
}

#[test]
fn files_that_cannot_be_read_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    let said = |name: &str, make: &dyn Fn(&std::path::Path)| {
        let path = folder.path().join(name);
        make(&path);
        let text = read_file(&path).expect_err(name).to_text(false);
        assert!(text.contains(name), "{text}");
        text
    };
    let write =
        |bytes: &'static [u8]| move |path: &std::path::Path| std::fs::write(path, bytes).unwrap();
    assert!(said("none.toml", &|_| ()).contains("can't be opened"));
    assert!(said("folder.toml", &|p| std::fs::create_dir(p).unwrap()).contains("not a plain file"));
    assert!(said("zero.toml", &write(b"name = 'x'\0")).contains("binary"));
    assert!(said("latin.toml", &write(b"a = 1\nname = '\xe9'")).contains("line 2"));
    let huge = said("huge.toml", &|path| {
        std::fs::File::create(path).unwrap().set_len(100 * 1024 * 1024).unwrap();
    });
    // Had it been read, its zeros would have been called binary.
    assert!(huge.contains("too large (104857600 bytes)"), "{huge}");
    let path = folder.path().join("good.toml");
    std::fs::write(&path, GOOD).unwrap();
    assert_eq!(read_file(&path).unwrap(), GOOD);
}

#[test]
fn a_text_too_large_is_refused_unread() {
    let text = "x".repeat(LARGEST_BYTES as usize + 1);
    assert!(said(&text).contains("too large"));
}
