//! The deletion filter: which of many wishes and limits exclude each other. It knows only their
//! names and which days kept what.

/// A day that was solved: the wishes it gave up, and what it did not keep.
#[derive(Debug, Clone, Default)]
pub(super) struct Candidate {
    pub(super) dropped: Vec<String>,
    pub(super) broken: Vec<String>,
}

impl Candidate {
    fn keeps(&self, id: &str) -> bool {
        !self.dropped.iter().chain(&self.broken).any(|gone| gone == id)
    }

    fn keeps_all(&self, ids: &[&String]) -> bool {
        ids.iter().all(|id| self.keeps(id))
    }
}

/// A day was solved that gives up nothing but one wish, or breaks nothing but one limit.
pub(super) fn fits_without(id: &str, days: &[Candidate]) -> bool {
    still_without(id, days).is_some_and(|still| still.is_empty())
}

/// What the best day that leaves out one wish or limit alone still does not keep; none where no day
/// leaves out it alone.
pub(super) fn still_without(id: &str, days: &[Candidate]) -> Option<Vec<String>> {
    let alone = days.iter().filter(|day| day.dropped.iter().all(|gone| gone == id));
    let still = alone
        .map(|day| -> Vec<String> { day.broken.iter().filter(|b| *b != id).cloned().collect() });
    still.min_by_key(Vec::len)
}

/// The smallest set of constraints that no day keeps together: leave any one out and one does.
///
/// Constraints are left out in the order given, so the first go most easily. Empty where a day
/// keeps them all, or where there is no day.
pub(super) fn smallest(constraints: &[String], days: &[Candidate]) -> Vec<String> {
    let possible = |ids: &[&String]| days.iter().any(|day| day.keeps_all(ids));
    let mut set: Vec<&String> = constraints.iter().collect();
    if days.is_empty() || possible(&set) {
        return Vec::new();
    }
    for id in constraints {
        let without: Vec<&String> = set.iter().copied().filter(|kept| *kept != id).collect();
        if !possible(&without) {
            set = without;
        }
    }
    set.into_iter().rev().cloned().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn day(dropped: &[&str], broken: &[&str]) -> Candidate {
        let own = |ids: &[&str]| ids.iter().map(|id| (*id).to_string()).collect();
        Candidate { dropped: own(dropped), broken: own(broken) }
    }

    fn ids(all: &[&str]) -> Vec<String> {
        all.iter().map(|id| (*id).to_string()).collect()
    }

    #[test]
    fn a_tank_too_small_excludes_the_volume_and_the_one_filling() {
        let all = ids(&["colour", "volume", "one_filling", "tun_brim", "tank_brim"]);
        let days = [
            day(&[], &["tank_brim"]),
            day(&["volume"], &[]),
            day(&["one_filling"], &[]),
            day(&["colour"], &["tank_brim"]),
        ];
        let mut found = smallest(&all, &days);
        found.sort();
        assert_eq!(found, ids(&["one_filling", "tank_brim", "volume"]));
    }

    #[test]
    fn what_fits_excludes_nothing() {
        assert!(smallest(&ids(&["volume"]), &[day(&[], &[])]).is_empty());
        assert!(smallest(&ids(&["volume"]), &[]).is_empty());
    }

    /// Up to three of eight constraints.
    fn some() -> impl Strategy<Value = Vec<usize>> {
        prop::collection::vec(0..8_usize, 0..4)
    }

    proptest! {
        /// No day keeps the set; without any one of it some day does.
        #[test]
        fn the_set_is_irreducible(days in prop::collection::vec((some(), some()), 1..12)) {
            let name = |i: &usize| format!("c{i}");
            let all: Vec<String> = (0..8).map(|i| format!("c{i}")).collect();
            let days: Vec<Candidate> = days
                .iter()
                .map(|(d, b)| Candidate {
                    dropped: d.iter().map(name).collect(),
                    broken: b.iter().map(name).collect(),
                })
                .collect();
            let kept_by_a_day = |set: &[&String]| days.iter().any(|d| d.keeps_all(set));
            let found = smallest(&all, &days);
            if found.is_empty() {
                prop_assert!(kept_by_a_day(&all.iter().collect::<Vec<_>>()));
            } else {
                prop_assert!(!kept_by_a_day(&found.iter().collect::<Vec<_>>()));
                for id in &found {
                    let without: Vec<&String> = found.iter().filter(|f| *f != id).collect();
                    prop_assert!(kept_by_a_day(&without));
                }
            }
        }
    }
}
