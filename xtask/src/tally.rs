//! Counting: what other programs print about passed and failed, added up over all parts.
//!
//! Runs nothing. A part whose counts cannot be read counts as failed, never as passed.

use std::fmt;
use std::iter::Sum;

/// Passed, failed, skipped.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Tally {
    /// Checks that hold.
    pub(crate) passed: u32,
    /// Checks that do not hold or could not be run.
    pub(crate) failed: u32,
    /// Checks left out for a stated reason.
    pub(crate) skipped: u32,
}

impl Tally {
    /// One check.
    pub(crate) fn one(holds: bool) -> Tally {
        Tally { passed: u32::from(holds), failed: u32::from(!holds), skipped: 0 }
    }

    /// The counts of a test run, and one failure more when the run failed without naming any.
    pub(crate) fn of_run(counts: Option<Tally>, success: bool) -> Tally {
        match counts {
            Some(tally) if success == (tally.failed == 0) => tally,
            Some(tally) => Tally { failed: tally.failed + 1, ..tally },
            None => Tally::one(false),
        }
    }
}

impl Sum for Tally {
    fn sum<I: Iterator<Item = Tally>>(all: I) -> Tally {
        all.fold(Tally::default(), |a, b| Tally {
            passed: a.passed + b.passed,
            failed: a.failed + b.failed,
            skipped: a.skipped + b.skipped,
        })
    }
}

impl fmt::Display for Tally {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} passed, {} failed", self.passed, self.failed)?;
        if self.skipped > 0 {
            write!(f, ", {} skipped", self.skipped)?;
        }
        Ok(())
    }
}

/// Counts of `cargo nextest`: its `Summary` line.
///
/// A run that ends early says `3/10 tests run`; the rest counts as failed.
pub(crate) fn nextest(text: &str) -> Option<Tally> {
    let line = text.lines().rfind(|line| line.trim_start().starts_with("Summary"))?;
    let (head, tail) = line.split_once("run:")?;
    let run = head.split(']').nth(1)?.split_whitespace().next()?;
    let not_run = match run.split_once('/') {
        Some((done, all)) => all.parse::<u32>().ok()?.checked_sub(done.parse().ok()?)?,
        None => 0,
    };
    let failed =
        ["failed", "timed out", "exec failed"].iter().filter_map(|w| before(tail, w)).sum();
    let passed = before(tail, "passed").unwrap_or(0);
    let skipped = before(tail, "skipped").unwrap_or(0);
    Some(Tally { passed, failed: u32::saturating_add(failed, not_run), skipped })
}

/// Counts of `cargo test`: the sum of its `test result` lines.
pub(crate) fn cargo_test(text: &str) -> Option<Tally> {
    let lines: Vec<Tally> = text
        .lines()
        .filter(|line| line.starts_with("test result:"))
        .map(|line| Tally {
            passed: before(line, "passed").unwrap_or(0),
            failed: before(line, "failed").unwrap_or(0),
            skipped: before(line, "ignored").unwrap_or(0),
        })
        .collect();
    (!lines.is_empty()).then(|| lines.into_iter().sum())
}

/// Counts of `node --test --test-reporter=tap`: its closing comments.
pub(crate) fn node(text: &str) -> Option<Tally> {
    let after = |word: &str| {
        text.lines().rev().find_map(|l| l.strip_prefix(word)?.trim().parse::<u32>().ok())
    };
    let failed = after("# fail")? + after("# cancelled").unwrap_or(0);
    let skipped = after("# skipped").unwrap_or(0) + after("# todo").unwrap_or(0);
    Some(Tally { passed: after("# pass")?, failed, skipped })
}

/// The number that stands before a word: `before("3 passed, 1 failed", "failed")` is 1.
fn before(text: &str, word: &str) -> Option<u32> {
    text.split([',', ';', '.', ':', '('])
        .filter_map(|piece| piece.trim().strip_suffix(word))
        .find_map(|number| number.trim().parse().ok())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_nextest_summary_is_read() {
        let text = "   Summary [   0.412s] 12 tests run: 11 passed (1 slow), 1 failed, 2 skipped\n";
        assert_eq!(nextest(text), Some(Tally { passed: 11, failed: 1, skipped: 2 }));
    }

    #[test]
    fn tests_that_nextest_never_reached_count_as_failed() {
        let text = "     Summary [   0.412s] 3/10 tests run: 2 passed, 1 failed, 0 skipped\n";
        assert_eq!(nextest(text), Some(Tally { passed: 2, failed: 8, skipped: 0 }));
    }

    #[test]
    fn several_cargo_test_results_are_added() {
        let text = "test result: ok. 3 passed; 0 failed; 1 ignored; 0 measured\n\
                    test result: FAILED. 1 passed; 2 failed; 0 ignored; 0 measured\n";
        assert_eq!(cargo_test(text), Some(Tally { passed: 4, failed: 2, skipped: 1 }));
    }

    #[test]
    fn closing_comments_of_node_are_read() {
        let text = "TAP version 13\n# tests 5\n# suites 0\n# pass 4\n# fail 1\n# cancelled 0\n";
        assert_eq!(node(text), Some(Tally { passed: 4, failed: 1, skipped: 0 }));
    }

    #[test]
    fn a_run_without_counts_or_with_a_hidden_failure_is_a_failure() {
        assert_eq!(Tally::of_run(None, true), Tally::one(false));
        let clean = Tally { passed: 3, failed: 0, skipped: 0 };
        assert_eq!(Tally::of_run(Some(clean), false).failed, 1);
        assert_eq!(Tally::of_run(Some(clean), true), clean);
    }

    #[test]
    fn the_closing_line_is_plain() {
        let tally = Tally { passed: 7, failed: 0, skipped: 0 };
        assert_eq!(tally.to_string(), "7 passed, 0 failed");
        assert_eq!(Tally { skipped: 2, ..tally }.to_string(), "7 passed, 0 failed, 2 skipped");
    }
}
