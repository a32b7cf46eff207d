//! What a solved day is held against: brims and least levels, heat, hot liquor, the bed, and the
//! wishes. Each verdict has its numbers and its words. It changes no day and looks for no other.

mod bed;
mod fall;
mod gas;
mod heat;
mod levels;
mod wishes;

use crate::output::Limit;
use crate::readings::round;
use crate::say::{Say, lower};
use crate::setting::Place;
use crate::solve::Solved;
use brew::Brew;
use brewhouse::vessel::Vessel;
use day::procedure::{Action, OperationIndex};
use day::setting::PotIndex;
use day::trace::{Seen, Times};
use quantity::UnitSystem;

/// Every limit of the pots and every wish, with what the day makes of it.
pub(crate) fn limits(place: &Place<'_>, brew: &Brew, solved: &Solved) -> Vec<Limit> {
    let mut day = Day { place, brew, solved, all: Vec::new() };
    day.levels();
    day.heat();
    day.gas();
    day.bed();
    day.falls();
    day.wishes();
    day.all
}

/// A day under judgement.
struct Day<'a> {
    place: &'a Place<'a>,
    brew: &'a Brew,
    solved: &'a Solved,
    all: Vec<Limit>,
}

/// What a limit says beside its words.
struct Held<'a> {
    id: &'a str,
    vessel: &'a str,
    value: f64,
    bound: f64,
    unit: &'a str,
    verdict: Verdict,
}

/// How a limit is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Verdict {
    Kept,
    /// Kept with little to spare, or only advised.
    Care,
    Broken,
}

impl Verdict {
    /// Not over a bound; care from a lower value on.
    fn at_most(value: f64, bound: f64, care_from: f64) -> Verdict {
        if value > bound {
            Verdict::Broken
        } else if value > care_from {
            Verdict::Care
        } else {
            Verdict::Kept
        }
    }

    /// Not under a bound; care up to a higher value.
    fn at_least(value: f64, bound: f64, care_to: f64) -> Verdict {
        Verdict::at_most(-value, -bound, -care_to)
    }

    /// Advice that no plan is refused for.
    fn advice(broken: bool) -> Verdict {
        if broken { Verdict::Care } else { Verdict::Kept }
    }
}

impl Day<'_> {
    fn hold(&mut self, held: &Held<'_>, words: impl Fn(Say) -> String) {
        self.all.push(Limit {
            id: held.id.into(),
            vessel: held.vessel.into(),
            words: sentence(&words(Say(UnitSystem::Metric))),
            words_us: sentence(&words(Say(UnitSystem::Us))),
            value: round(held.value, 3),
            bound: round(held.bound, 3),
            unit: held.unit.into(),
            kept: held.verdict != Verdict::Broken,
            care: held.verdict == Verdict::Care,
        });
    }

    fn vessel(&self, pot: PotIndex) -> &Vessel {
        self.place.vessels[pot]
    }

    fn level_m(&self, pot: PotIndex, seen: Seen) -> f64 {
        self.vessel(pot).section.height_m(seen.volume_m3)
    }

    /// What a pot held at the edges of all operations between two times, s.
    fn seen(&self, pot: PotIndex, from_s: f64, to_s: f64) -> impl Iterator<Item = Seen> {
        let edges = self.solved.trace.operations.iter().flat_map(move |t| {
            [(t.start_s, t.at_start.pots.get(pot)), (t.end_s, t.at_end.pots.get(pot))]
        });
        edges
            .filter(move |(t_s, _)| (from_s..=to_s).contains(t_s))
            .filter_map(|(_, seen)| seen.copied())
    }

    /// Highest level of a pot between two times, m.
    fn highest_m(&self, pot: PotIndex, from_s: f64, to_s: f64) -> f64 {
        let most = self.seen(pot, from_s, to_s).map(|s| s.volume_m3).fold(0.0, f64::max);
        self.vessel(pot).section.height_m(most)
    }

    /// All operations of a kind with the times they ran.
    fn operations(&self) -> impl Iterator<Item = (OperationIndex, &Action, &Times)> {
        let operations = self.solved.built.procedure.operations.iter();
        operations
            .zip(&self.solved.trace.operations)
            .enumerate()
            .map(|(i, (operation, times))| (i, &operation.action, times))
    }

    /// When the mash is stirred in, and when it has been run off or lifted out, s.
    fn mash_times_s(&self) -> (f64, f64) {
        let marks = &self.solved.built.marks;
        let trace = &self.solved.trace;
        let from_s = trace.of(marks.dough_in).end_s;
        let to_s = match (marks.lift, marks.run_offs.last()) {
            (Some(lift), _) => trace.of(lift).start_s,
            (None, Some(&last)) => trace.of(last).end_s,
            (None, None) => trace.of(marks.boil).start_s,
        };
        (from_s, to_s)
    }
}

/// Words as a sentence: a capital first, a full stop last.
fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(|c| c.to_uppercase().collect::<String>()).unwrap_or_default();
    format!("{first}{}.", letters.as_str())
}
