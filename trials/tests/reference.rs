//! Every row of `reference/checks/*.csv` against the code, one test a sheet.
//!
//! Says nothing about how a number is found; the answers stand in `trials::reference`.

#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use trials::reference::{Reasons, SHEETS, folder, judge_sheet, rows_of};

/// Judges one sheet and tells every row that does not stand.
fn check(name: &str) {
    let (sheet, answer) = SHEETS.iter().find(|(sheet, _)| *sheet == name).unwrap();
    let judged = judge_sheet(sheet, *answer).unwrap();
    assert!(!judged.is_empty(), "{sheet} has no rows");
    let bad: Vec<String> = judged
        .iter()
        .filter(|(_, verdict)| !verdict.is_fine())
        .map(|(row, verdict)| {
            let (expected, tolerance) = (row.expected, row.tolerance);
            format!("{}: expected {expected:?} {tolerance:?}; {verdict}", row.name(sheet))
        })
        .collect();
    assert!(bad.is_empty(), "{} of {} rows:\n{}", bad.len(), judged.len(), bad.join("\n"));
}

macro_rules! sheets {
    ($($test:ident: $sheet:literal,)*) => {
        $(#[test] fn $test() { check($sheet); })*

        #[test]
        fn every_table_has_a_test_and_an_answer() {
            let mut tested = vec![$($sheet),*];
            tested.sort_unstable();
            let mut files: Vec<String> = std::fs::read_dir(folder().join("checks"))
                .unwrap()
                .filter_map(|entry| entry.unwrap().path().file_stem()?.to_str().map(str::to_owned))
                .collect();
            files.sort();
            assert_eq!(tested, files);
            assert_eq!(tested, SHEETS.iter().map(|(sheet, _)| *sheet).collect::<Vec<_>>());
        }
    };
}

sheets! {
    rows_of_the_boil: "boil",
    rows_of_chilling: "chill",
    rows_of_the_fermentation: "ferment",
    rows_of_pots_and_fittings: "fitout",
    rows_of_hops: "hops",
    rows_of_instruments: "instruments",
    rows_of_the_run_off: "lauter",
    rows_of_the_liquor: "liquor",
    rows_of_malt: "malt",
    rows_of_the_mash: "mash",
    rows_of_packaging: "package",
    rows_of_safety: "safety",
    rows_of_wort: "wort",
}

#[test]
fn ids_are_unique_within_a_table() {
    for (sheet, _) in SHEETS {
        let mut ids: Vec<String> = rows_of(sheet).unwrap().into_iter().map(|r| r.id).collect();
        ids.sort();
        let all = ids.len();
        ids.dedup();
        assert_eq!(ids.len(), all, "{sheet}");
    }
}

#[test]
fn no_entry_of_the_two_lists_is_idle() {
    let names: Vec<String> = SHEETS
        .iter()
        .flat_map(|(sheet, _)| rows_of(sheet).unwrap().into_iter().map(|row| row.name(sheet)))
        .collect();
    for list in ["no-code-yet.csv", "departures.csv"] {
        let reasons = Reasons::read(&folder().join(list)).unwrap();
        assert_eq!(reasons.idle(&names), Vec::<&str>::new(), "{list}");
    }
}
