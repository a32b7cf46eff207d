//! Where a day does not come out: the smallest set of wishes and limits that exclude each other,
//! and the nearest plans that fit. Every statement rests on days that were really solved; nothing
//! is estimated. It decides nothing for the brewer.

mod change;
mod explore;
mod set;
mod words;

use crate::choice::{Choice, Ways};
use crate::error::PlanError;
use crate::limits;
use crate::output::{Conflict, Limit, Nearest, Without};
use crate::say::Say;
use crate::setting::{self, Place};
use crate::solve::{self, Solved};
use brew::Brew;
use brewhouse::vessel::Part;
use change::Change;
use day::simulate::Options;
use quantity::UnitSystem;
use set::Candidate;

/// Most calls of the day's rates in one search, about; then what was found is what is said (our
/// choice: under two seconds on one core).
const CALLS: u64 = 2_600_000;
/// Calls of the rates in one day, of which an ordinary one takes some thousands.
const RESTLESS: u64 = 40_000;
/// Most plans that are offered.
const OFFERS: usize = 6;

/// A search that missed by less found a day to start the next from.
const SOLVED: f64 = 2e-3;

/// A search that missed by less shows what excludes what.
const SHOWS: f64 = 1e-2;

/// Nothing is changed.
static NOTHING: Change = Change::NONE;

/// A changed day that was solved.
struct Tried {
    change: Change,
    candidate: Candidate,
    limits: Vec<Limit>,
    solved: Solved,
}

impl Tried {
    fn fits(&self) -> bool {
        self.candidate.broken.is_empty()
    }
}

/// The search for one brew.
struct Search<'a> {
    place: &'a Place<'a>,
    brew: &'a Brew,
    options: &'a Options,
    /// The day as asked, where it could be simulated at all.
    asked: Option<Candidate>,
    /// What the day as asked held.
    asked_limits: Vec<Limit>,
    /// The choice of the day as asked, where it was solved well.
    asked_choice: Option<Choice>,
    tried: Vec<Tried>,
    /// Those that fit and are to be offered.
    offers: Vec<usize>,
    /// Calls of the rates so far.
    calls: u64,
}

/// Ids of the limits that are not kept.
fn broken(limits: &[Limit]) -> Vec<String> {
    let mut all: Vec<String> = limits.iter().filter(|l| !l.kept).map(|l| l.id.clone()).collect();
    all.sort();
    all.dedup();
    all
}

/// Solves a change; none where not even that can be simulated.
fn attempt(
    place: &Place<'_>,
    brew: &Brew,
    change: &Change,
    from: Option<(&Change, &Choice)>,
    options: &Options,
) -> Result<(Solved, Vec<Limit>), PlanError> {
    let changed = change.brew(brew);
    let mut ways = Ways::of(place, &changed);
    ways.second_fill = change.second_fill;
    let grist = setting::grist_of(&changed, &setting::stated_shares(&changed));
    let mut choice = Choice::start(place, &changed, &grist, ways);
    if let Some((before, solved)) = from {
        change.start_from(&mut choice, before, solved, place, &changed);
    }
    choice.reserve_kg += change.reserve_kg;
    if let Some(flow_m3_s) = change.flow_m3_s {
        choice.run_off_m3_s = flow_m3_s;
    }
    if let Some(boil_s) = change.boil_s {
        choice.boil_s = boil_s;
    }
    // a first day that takes this much work is one that never settles: it is not searched from
    let first = solve::run(place, &changed, choice.clone(), options)?;
    if first.trace.work.rate_calls > RESTLESS {
        return Err(PlanError::not_possible("the changed day never settles", "change less"));
    }
    let solved = solve::solve(place, &changed, choice, options)?;
    let limits = limits::limits(place, &changed, &solved);
    Ok((solved, limits))
}

impl<'a> Search<'a> {
    fn new(place: &'a Place<'a>, brew: &'a Brew, options: &'a Options) -> Search<'a> {
        Search {
            place,
            brew,
            options,
            asked: None,
            asked_limits: Vec::new(),
            asked_choice: None,
            tried: Vec::new(),
            offers: Vec::new(),
            calls: 0,
        }
    }

    /// Solves a change once and keeps it; its place among those tried.
    fn attempt(&mut self, change: &Change) -> Option<usize> {
        if let Some(known) = self.tried.iter().position(|t| t.change == *change) {
            return Some(known);
        }
        if self.calls > CALLS {
            return None;
        }
        let (solved, limits) = if change.lent.is_empty() {
            self.solve_near(change)?
        } else {
            let lent = change.brewhouse(self.place.brewhouse);
            let place = Place::of(&lent).ok()?;
            attempt(&place, self.brew, change, None, self.options).ok()?
        };
        self.calls += solved.rounds as u64 * solved.trace.work.rate_calls;
        let mut dropped = change.drops(self.place, self.brew);
        // what is lent gives up only what was not kept
        dropped.retain(|id| !change::of_a_heater(id) || self.is_broken(id));
        let candidate = Candidate { dropped, broken: broken(&limits) };
        self.tried.push(Tried { change: change.clone(), candidate, limits, solved });
        Some(self.tried.len() - 1)
    }

    /// A change solved from the nearest day known; afresh where that search loses its way.
    fn solve_near(&mut self, change: &Change) -> Option<(Solved, Vec<Limit>)> {
        let (place, brew, options) = (self.place, self.brew, self.options);
        let start = self.start(change);
        let started = start.is_some();
        let near = attempt(place, brew, change, start, options).ok();
        let lost = near.as_ref().is_none_or(|(solved, _)| solved.miss > SOLVED);
        if !(started && lost) {
            return near;
        }
        if let Some((solved, _)) = &near {
            self.calls += solved.rounds as u64 * solved.trace.work.rate_calls;
        }
        let afresh = attempt(place, brew, change, None, options).ok();
        let miss = |found: &Option<(Solved, Vec<Limit>)>| {
            found.as_ref().map_or(f64::INFINITY, |(solved, _)| solved.miss)
        };
        if miss(&afresh) < miss(&near) { afresh } else { near }
    }

    /// A start for the search: the solved day that is nearest to a change and done in the same
    /// ways.
    fn start(&self, change: &Change) -> Option<(&Change, &Choice)> {
        // another way alone starts afresh
        change.volume.or(change.gravity).or(change.thickness)?;
        let asked = self.asked_choice.as_ref().map(|choice| (&NOTHING, choice));
        let solved = self.tried.iter().filter(|t| t.solved.miss < SOLVED);
        let all = asked.into_iter().chain(solved.map(|t| (&t.change, &t.solved.choice)));
        let ways = |c: &Change| (c.sparge, c.hot_liquor, c.one_rest, c.rests);
        all.filter(|(c, _)| ways(c) == ways(change) && !c.lent.contains(&Part::Mash))
            .min_by(|a, b| change.apart(a.0).total_cmp(&change.apart(b.0)))
    }

    fn fits(&mut self, change: &Change) -> bool {
        self.attempt(change).is_some_and(|i| self.tried[i].fits())
    }

    fn offer(&mut self, change: &Change) {
        if let Some(i) = self.attempt(change)
            && self.tried[i].fits()
            && !self.offers.contains(&i)
        {
            self.offers.push(i);
        }
    }

    fn asked_breaks(&self, id: &str) -> bool {
        self.asked_limits.iter().any(|l| l.id == id && !l.kept)
    }

    fn is_broken(&self, id: &str) -> bool {
        self.asked.as_ref().is_none_or(|a| a.broken.iter().any(|b| b == id))
    }

    /// Days that show what excludes what; a search that lost its way shows nothing.
    fn pool(&self) -> Vec<Candidate> {
        let solved = self.tried.iter().filter(|t| t.fits() || t.solved.miss < SHOWS);
        solved.map(|t| t.candidate.clone()).chain(self.asked.clone()).collect()
    }

    /// The smallest set, from everything that was tried: of several the one whose members were most
    /// often solved without.
    fn smallest(&self) -> Vec<String> {
        let pool = self.pool();
        let usual = self.constraints();
        let last = |id: &String| {
            let mut order: Vec<String> = usual.iter().filter(|c| *c != id).cloned().collect();
            order.push(id.clone());
            order
        };
        let broken = self.asked.iter().flat_map(|a| &a.broken);
        let orders = std::iter::once(usual.clone()).chain(broken.map(last));
        let sets = orders.map(|order| set::smallest(&order, &pool));
        let open = |set: &Vec<String>| {
            let open = set.iter().filter(|id| !set::fits_without(id, &pool)).count();
            (set.is_empty(), open, set.len())
        };
        sets.min_by_key(open).unwrap_or_default()
    }

    /// What leaving a member of the set out alone leads to.
    fn without(&self, id: &str) -> Without {
        let still = set::still_without(id, &self.pool());
        let say = |units| words::without_words(&self.words(id, Say(units)), still.as_deref());
        Without {
            id: id.into(),
            solves: still.as_ref().is_some_and(Vec::is_empty),
            words: say(UnitSystem::Metric),
            words_us: say(UnitSystem::Us),
            still: still.unwrap_or_default(),
        }
    }

    /// The search's findings.
    fn found(&self, error: Option<&PlanError>) -> Conflict {
        let mut set = self.smallest();
        // a fire that nothing makes stands against the heater that is not there
        let has = |set: &[String], id: &str| set.iter().any(|s| s == id);
        if has(&set, "fire") && !has(&set, "mash_heater") && self.asked_breaks("mash_heater") {
            set.push("mash_heater".into());
        }
        let without: Vec<Without> = set.iter().map(|id| self.without(id)).collect();
        let smallest = !set.is_empty() && without.iter().all(|w| w.solves);
        let say = |units| -> Vec<String> {
            let told: Vec<String> = set.iter().map(|id| self.words(id, Say(units))).collect();
            match error {
                Some(error) if told.is_empty() => vec![error.to_string()],
                _ => told,
            }
        };
        let (words, words_us) = (say(UnitSystem::Metric), say(UnitSystem::Us));
        let mut claim = words::claim(smallest, !set.is_empty()).to_string();
        let nearest = self.nearest();
        if nearest.is_empty() {
            claim.push_str(" No nearby plan that fits was found among those tried.");
        }
        Conflict { set, smallest, claim, words, words_us, without, nearest }
    }

    /// All wishes and limits, those that are least to be named first.
    fn constraints(&self) -> Vec<String> {
        let mut all: Vec<String> = Vec::new();
        let mut add = |id: &str| {
            if !all.iter().any(|a| a == id) {
                all.push(id.to_string());
            }
        };
        let every = || {
            let tried = self.tried.iter().flat_map(|t| &t.limits);
            self.asked_limits.iter().chain(tried).map(|l| l.id.as_str())
        };
        let follows = |id: &str| id.starts_with("rest_") || id == "not_reached";
        every().filter(|id| follows(id)).for_each(&mut add);
        let wish = ["fermentability", "colour", "bitterness", "gravity", "volume"];
        wish.into_iter().for_each(&mut add);
        for tried in &self.tried {
            tried.candidate.dropped.iter().for_each(|id| add(id));
        }
        // limits as they are listed, the last first: brims stay longest
        let mut limits: Vec<&str> = every().collect();
        limits.reverse();
        limits.into_iter().for_each(&mut add);
        all
    }

    fn words(&self, id: &str, say: Say) -> String {
        let listed = self.asked_limits.iter().filter(|l| l.id == id);
        let limit = listed.clone().find(|l| !l.kept).or_else(|| listed.clone().next());
        let tried = || self.tried.iter().flat_map(|t| &t.limits).find(|l| l.id == id);
        if let Some(words) = words::wish_words(id, self.brew, say) {
            return words;
        }
        limit.or_else(tried).map_or_else(
            || id.replace('_', " "),
            |l| if say.us() { l.words_us.clone() } else { l.words.clone() },
        )
    }

    fn nearest(&self) -> Vec<Nearest> {
        let mut offers: Vec<&Tried> = self.offers.iter().map(|&i| &self.tried[i]).collect();
        let distance = |t: &Tried| t.change.distance(self.brew);
        offers.sort_by(|a, b| distance(a).total_cmp(&distance(b)));
        offers.truncate(OFFERS);
        let told = offers.into_iter().map(|tried| Nearest {
            id: tried.change.id(self.brew),
            words: tried.change.words(self.brew, &tried.solved, Say(UnitSystem::Metric)),
            words_us: tried.change.words(self.brew, &tried.solved, Say(UnitSystem::Us)),
            targets: crate::assemble::targets(self.brew, &tried.solved),
        });
        told.collect()
    }
}

/// What excludes what, and what would fit; none where everything holds.
///
/// The set is found by a deletion filter over all wishes and limits: each is left out in turn, and
/// stays out as long as the rest still excludes itself. A limit left out is not looked at; a wish
/// left out is moved by its lever and the day solved anew.
pub(crate) fn conflict(
    place: &Place<'_>,
    brew: &Brew,
    asked: Result<&Solved, &PlanError>,
    limits: &[Limit],
    options: &Options,
) -> Option<Conflict> {
    let not_kept = broken(limits);
    if asked.is_ok() && not_kept.is_empty() {
        return None;
    }
    let mut search = Search::new(place, brew, options);
    search.asked_limits = limits.to_vec();
    if asked.is_ok() {
        let dropped = change::already_dropped(place, brew);
        search.asked = Some(Candidate { dropped, broken: not_kept });
    }
    search.asked_choice = asked.ok().filter(|s| s.miss < SOLVED).map(|s| s.choice.clone());
    search.explore(asked.ok());
    Some(search.found(asked.err()))
}

/// A day that does not fit, brought to fit by what the brew leaves open: a thicker mash, a little
/// more or less boiling, more liquor kept over the element, a slower run-off. As it was where that
/// does not help, or where nothing is wrong.
pub(crate) fn ease(
    place: &Place<'_>,
    brew: &Brew,
    solved: Solved,
    options: &Options,
) -> Result<Solved, PlanError> {
    let limits = limits::limits(place, brew, &solved);
    let not_kept = broken(&limits);
    // from a search that lost its way nothing open leads back
    if not_kept.is_empty() || solved.miss > SHOWS {
        return Ok(solved);
    }
    let mut search = Search::new(place, brew, options);
    search.asked_limits = limits;
    search.asked = Some(Candidate { dropped: Vec::new(), broken: not_kept });
    search.asked_choice = Some(&solved).filter(|s| s.miss < SOLVED).map(|s| s.choice.clone());
    for change in search.open_changes(&solved) {
        if search.fits(&change)
            && let Some(i) = search.attempt(&change)
        {
            return Ok(search.tried.swap_remove(i).solved);
        }
    }
    Ok(solved)
}
