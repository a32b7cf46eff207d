//! No text panics the reader or the renderer, and every place lies in the text.

mod pots;

use document::Document;
use pots::{GOOD, KITCHEN};
use proptest::prelude::*;

fn survive(text: &str) -> Result<(), TestCaseError> {
    let findings = match Document::read("f.toml", text, &KITCHEN) {
        Ok((_, findings)) | Err(findings) => findings,
    };
    for finding in findings.iter() {
        let source = &finding.source;
        prop_assert!(source.text.get(finding.span.start..finding.span.end).is_some());
        prop_assert!(!finding.message.is_empty());
    }
    prop_assert!(findings.is_empty() || !findings.to_text(true).is_empty());
    prop_assert_eq!(findings.to_json().as_array().map(Vec::len), Some(findings.len()));
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]

    #[test]
    fn any_text(text in any::<String>()) {
        survive(&text)?;
    }

    #[test]
    fn any_bytes_made_text(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        survive(&String::from_utf8_lossy(&bytes))?;
    }

    #[test]
    fn lines_that_look_like_toml(
        text in "((name|pot|step|strength|add|factor|inside|ä)(\\.[a-zä]{1,4})? ?= ?\
            ('.{0,9}'|\".{0,9}\"|[0-9.e-]{1,6}|\\[.{0,9}\\]|\\{.{0,9}\\}\
            |true|[0-9]{4}-[01][0-9]-11)\
            \r?\n|\\[\\[?[a-z.]{1,7}\\]\\]?\n|\t#.{0,9}\n){0,12}",
    ) {
        survive(&text)?;
    }

    /// A good file with one piece cut out and another put in.
    #[test]
    fn a_good_file_spoilt(at in 0..GOOD.len(), cut in 0..20_usize, put in "\\PC{0,6}") {
        let floor = |mut i: usize| { while !GOOD.is_char_boundary(i) { i -= 1; } i };
        let (from, to) = (floor(at), floor((at + cut).min(GOOD.len())));
        survive(&format!("{}{put}{}", &GOOD[..from], &GOOD[to.max(from)..]))?;
    }
}

#[test]
fn deep_nests_and_long_lines() {
    for open in ["[", "{a=", "[[", "a.", "'''", "\"\\u"] {
        survive(&format!("name = {}", open.repeat(20_000))).unwrap();
        survive(&open.repeat(20_000)).unwrap();
    }
    survive(&format!("name = '{}'", "ä".repeat(200_000))).unwrap();
    survive(&format!("strength = '{}'\nadd = '{}'", "9".repeat(9000), "±".repeat(9000))).unwrap();
    survive(&"x = 1\n".repeat(20_000)).unwrap();
    let unknown: String = (0..20_000).map(|i| format!("x{i} = {i}\n")).collect();
    survive(&unknown).unwrap();
    let inline: String = (0..20_000).map(|i| format!("x{i} = {i}, ")).collect();
    survive(&format!("pot = {{ small = {{ {inline} }} }}")).unwrap();
}
