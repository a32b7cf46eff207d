//! The search: each wish has its lever, each lever is corrected by what the simulated day gave,
//! until every wish that can be met is met. It knows no words.

use crate::choice::{Choice, GRAIN_AS_WATER, REST_SPAN_K, SHIFT, bitterness_shares};
use crate::error::PlanError;
use crate::liquor::{self, LiquorChoice};
use crate::outcome::{self, Outcome};
use crate::procedure::{self, Built};
use crate::setting::{self, Place};
use brew::{Brew, GristAmount, HopAmount, Reach};
use day::setting::Setting;
use day::simulate::{Options, simulate};
use day::trace::Trace;
use matter::wort;
use numerics::least_squares::{GaussNewton, Unknown};

/// A day that was solved.
pub(crate) struct Solved {
    pub(crate) choice: Choice,
    pub(crate) setting: Setting,
    pub(crate) liquor: LiquorChoice,
    pub(crate) built: Built,
    pub(crate) trace: Trace,
    pub(crate) outcome: Outcome,
    /// How far the search came: largest relative miss of what has a lever.
    pub(crate) miss: f64,
    pub(crate) rounds: usize,
}

/// Most rounds in which each lever corrects its own wish.
const APPROACHES: usize = 4;
/// Most rounds in which all levers are moved together.
const ROUNDS: usize = 10;
/// A rest is reached as well as a wish is met when it is missed by this times the relative miss, K.
const REACHED_K: f64 = 150.0;
/// A colour is met as well as a wish is when it is missed by five times the relative miss.
const COLOUR_WEIGHT: f64 = 0.2;
/// So near the stated rests the summit of fermentability may mislead the search, K (our choice).
const SUMMIT_K: f64 = 1.0;
/// A search that came this near is over.
const NEAR: f64 = 2e-4;
/// How far a share marked `about` may be moved, as a factor.
const SHARE_SPAN: f64 = 2.5;
/// Wort that may be left to drip when the kettle is full, m³ (our choice).
const LEFT_TO_DRIP_M3: f64 = 2e-4;

/// Which wishes have something free to move them.
#[derive(Debug, Clone, Default)]
pub(crate) struct Free {
    /// Rests marked `about` that decide fermentability.
    pub(crate) rests: Vec<usize>,
    /// Share of a dark malt marked `about`, and the malt that makes room for it.
    pub(crate) share: Option<(usize, usize)>,
    pub(crate) grist: bool,
    pub(crate) hops: bool,
}

impl Free {
    pub(crate) fn of(brew: &Brew) -> Free {
        let rests = (0..brew.rests.len())
            .filter(|&i| {
                let rest = &brew.rests[i];
                rest.at.about && (57.0..=74.5).contains(&rest.at.value.celsius())
            })
            .collect();
        Free {
            rests,
            share: free_share(brew),
            grist: !brew.grist.iter().any(|g| matches!(g.amount, GristAmount::Mass(_))),
            hops: brew.hops.iter().any(|h| !matches!(h.amount, HopAmount::Mass(_))),
        }
    }
}

/// The darkest malt whose share may move, and the palest that may make room.
fn free_share(brew: &Brew) -> Option<(usize, usize)> {
    let ebc = |i: usize| {
        let item = &brew.grist[i];
        item.certificate.colour.as_ref().map_or_else(
            || matter::malt::malt_class(&item.malt).map_or(0.0, |c| c.colour_ebc),
            |c| c.value.ebc(),
        )
    };
    let moves = |i: &usize| match &brew.grist[*i].amount {
        GristAmount::Share(s) => s.about,
        GristAmount::Rest => true,
        GristAmount::Mass(_) => false,
    };
    let free: Vec<usize> = (0..brew.grist.len()).filter(moves).collect();
    let dark = free.iter().copied().max_by(|&a, &b| ebc(a).total_cmp(&ebc(b)))?;
    let pale = free.iter().copied().min_by(|&a, &b| ebc(a).total_cmp(&ebc(b)))?;
    (dark != pale && ebc(dark) > 3.0 * ebc(pale)).then_some((dark, pale))
}

/// Solves a choice to the wishes of a brew.
///
/// A few rounds in which every lever corrects its own wish bring the search near; then a damped
/// Gauss-Newton method moves all levers together. When the flames are lit and how much of each hop
/// is taken follow from the day and are brought forward between its runs.
pub(crate) fn solve(
    place: &Place<'_>,
    brew: &Brew,
    choice: Choice,
    options: &Options,
) -> Result<Solved, PlanError> {
    let free = Free::of(brew);
    let stated = choice.shares.clone();
    let mut search = Search {
        place,
        brew,
        free,
        options,
        stated,
        shift: side(choice.shift_k),
        turned: false,
        drips: false,
        tries: 2,
        runs: 0,
    };
    let first = search.judge(run(place, brew, choice, options)?);
    let mut best = search.approach(first)?;
    search.choose_side(&best);
    best = search.approach(best)?;
    for _ in 0..ROUNDS {
        if best.miss < NEAR {
            break;
        }
        let found = search.together(&best)?;
        let found = search.settle(found)?;
        let eased = search.ease(&found);
        let done = found.miss > 0.7 * best.miss;
        if found.miss < best.miss || eased {
            best = search.judge(found);
        }
        if done && !eased {
            break;
        }
    }
    if best.miss > NEAR {
        best = search.without_pull(best);
    }
    best.rounds = search.runs;
    Ok(best)
}

/// Between which values the share of a dark malt may move.
pub(crate) fn share_bounds(stated: &[f64], dark: usize, pale: usize) -> (f64, f64) {
    let most = (stated[dark] * SHARE_SPAN).min(stated[dark] + 0.9 * stated[pale]);
    (stated[dark] / SHARE_SPAN, most)
}

/// Between which values rests that were shifted before may be shifted on; nowhere from the stated.
fn side(shift_k: f64) -> (f64, f64) {
    if shift_k < 0.0 {
        (-2.0 * REST_SPAN_K, 0.0)
    } else if shift_k > 0.0 {
        (0.0, REST_SPAN_K)
    } else {
        (0.0, 0.0)
    }
}

/// A search for one brew.
struct Search<'a> {
    place: &'a Place<'a>,
    brew: &'a Brew,
    free: Free,
    options: &'a Options,
    stated: Vec<f64>,
    /// Between which values the rests may be shifted, K.
    shift: (f64, f64),
    /// The side of the summit was changed once.
    turned: bool,
    /// Wort may be left to drip.
    drips: bool,
    /// How often a search that stopped short is tried again.
    tries: i32,
    runs: usize,
}

impl Search<'_> {
    fn judge(&mut self, mut solved: Solved) -> Solved {
        self.runs += 1;
        let gap_m3 = self.run_off_gap_m3(&solved);
        solved.miss = miss(self.brew, &self.free, self.place, &solved, gap_m3);
        solved
    }

    /// Corrects every lever by its own wish, until that no longer halves the miss.
    fn approach(&mut self, mut best: Solved) -> Result<Solved, PlanError> {
        for _ in 0..APPROACHES {
            let next = self.own_levers(&best);
            let tried = self.judge(run(self.place, self.brew, next, self.options)?);
            let done = tried.miss > 0.5 * best.miss;
            if tried.miss < best.miss {
                best = tried;
            }
            if done {
                break;
            }
        }
        Ok(best)
    }

    /// Fermentability has a summit over the rests' temperature: which side of it to look on is
    /// decided once, from the rests as stated.
    fn choose_side(&mut self, solved: &Solved) {
        let Some(wanted) = wanted_fermentability(self.brew) else { return };
        // a start that was solved before keeps its side
        if self.free.rests.is_empty() || self.shift != (0.0, 0.0) {
            return;
        }
        self.shift = if solved.outcome.fermentability > wanted {
            (0.0, REST_SPAN_K)
        } else {
            (-2.0 * REST_SPAN_K, 0.0)
        };
    }

    /// A wish whose lever stands at its bound is let go, so that it does not pull at the others;
    /// rests that stand at their stated values and should go the other way may do so once. Tells
    /// whether anything was let go.
    fn ease(&mut self, solved: &Solved) -> bool {
        let mut eased = false;
        if let Some((dark, pale)) = self.free.share {
            let (low, high) = share_bounds(&self.stated, dark, pale);
            let share = solved.choice.shares[dark];
            if share < low + 1e-6 || share > high - 1e-6 {
                self.free.share = None;
                self.stated.clone_from(&solved.choice.shares);
                eased = true;
            }
        }
        let gap = wanted_fermentability(self.brew).map(|f| f - solved.outcome.fermentability);
        if let Some(gap) = gap.filter(|g| g.abs() > NEAR && !self.free.rests.is_empty()) {
            let shift = solved.choice.shift_k;
            let (low, high) = self.shift;
            let room = if gap < 0.0 { high - shift } else { shift - low };
            if room > 1e-6 && self.tries > 0 {
                // the search stopped short: it is tried again from the middle of its side
                self.tries -= 1;
                eased = true;
            } else if shift.abs() < 1e-6 && !self.turned {
                // the summit lies on this side: the wish is sought on the other one
                self.turned = true;
                self.shift =
                    if high > 0.0 { (-2.0 * REST_SPAN_K, 0.0) } else { (0.0, REST_SPAN_K) };
                eased = true;
            } else {
                self.free.rests.clear();
                eased = true;
            }
        }
        eased
    }

    /// Meets what can still be met: rests stay where they are and wort may be left in the bed, so
    /// that neither pulls at volume and gravity any more.
    fn without_pull(&mut self, from: Solved) -> Solved {
        self.free.rests.clear();
        self.drips = true;
        let mut best = self.judge(from);
        for _ in 0..APPROACHES {
            if best.miss < NEAR {
                break;
            }
            let next = self.own_levers(&best);
            // a day that cannot be simulated is no better than the one at hand
            let Ok(corrected) = run(self.place, self.brew, next, self.options) else { break };
            let corrected = self.judge(corrected);
            let start = if corrected.miss < best.miss { &corrected } else { &best };
            let found = self.together(start).and_then(|found| self.settle(found));
            let Ok(found) = found else { break };
            let tried = if found.miss < corrected.miss { found } else { corrected };
            if tried.miss >= best.miss {
                break;
            }
            best = tried;
        }
        best
    }

    /// The choice in which every lever has corrected its own wish.
    fn own_levers(&self, solved: &Solved) -> Choice {
        let mut next = correct(self.place, self.brew, &self.free, solved, &self.stated);
        next.shift_k = next.shift_k.clamp(self.shift.0, self.shift.1);
        next.keep_within(self.brew, &self.free.rests, &self.stated, self.free.share);
        next
    }

    /// Hops and the times of lighting brought forward, with all else as it is.
    fn settle(&mut self, mut solved: Solved) -> Result<Solved, PlanError> {
        for _ in 0..2 {
            let mut next = solved.choice.clone();
            correct_hops(self.brew, &solved, &mut next);
            timing(self.place, &solved, &mut next);
            let tried = run(self.place, self.brew, next, self.options)?;
            solved = self.judge(tried);
        }
        Ok(solved)
    }

    /// All levers moved together from a choice.
    fn together(&mut self, from: &Solved) -> Result<Solved, PlanError> {
        let start = from.choice.clone();
        let numbers = start.numbers(self.free.share);
        let mut numbers = numbers;
        // a start well down the side, where the summit's flatness misleads nobody
        if numbers[SHIFT].abs() < SUMMIT_K && !self.free.rests.is_empty() {
            numbers[SHIFT] =
                if self.shift.1 > 0.0 { 0.6 * self.shift.1 } else { 0.25 * self.shift.0 };
        }
        let moves: Vec<bool> = start.moves(&self.free);
        let unknowns: Vec<Unknown> = numbers
            .iter()
            .zip(start.scales())
            .zip(start.bounds(&self.stated, self.free.share, self.shift))
            .zip(&moves)
            .map(|(((&start, scale), (lower, upper)), &moves)| {
                let (lower, upper) = if moves { (lower, upper) } else { (start, start) };
                Unknown { start, lower, upper, scale }
            })
            .collect();
        let count = 5 + start.rest_c.len();
        let method = GaussNewton {
            residual: 0.4 * NEAR,
            step: 1e-5,
            gain: 0.05,
            difference: 0.1,
            iterations_max: 24,
            broyden: true,
        };
        let choice_at = |row: &[f64]| {
            let mut choice = start.clone();
            choice.take(row, self.brew, &self.free.rests, self.free.share);
            choice.keep_within(self.brew, &self.free.rests, &self.stated, self.free.share);
            choice
        };
        let mut runs = 0;
        let found = method.solve(&unknowns, count, |row, residuals| {
            runs += 1;
            match run(self.place, self.brew, choice_at(row), self.options) {
                Ok(solved) => self.residuals(&solved, residuals),
                Err(_) => residuals.fill(f64::NAN),
            }
        });
        let Ok(found) = found else {
            return run(self.place, self.brew, start.clone(), self.options)
                .map(|solved| self.judge(solved));
        };
        let choice = choice_at(&found.x);
        self.runs += runs;
        run(self.place, self.brew, choice, self.options).map(|solved| self.judge(solved))
    }

    /// What the liquor should grow by, m³; see [`run_off_gap_m3`].
    fn run_off_gap_m3(&self, solved: &Solved) -> f64 {
        let gap_m3 = run_off_gap_m3(self.place, solved);
        if self.drips { gap_m3.max(0.0) } else { gap_m3 }
    }

    /// What is missed, each in the measure in which [`NEAR`] is near.
    fn residuals(&self, solved: &Solved, r: &mut [f64]) {
        let o = &solved.outcome;
        let wanted = &self.brew.wanted;
        r[0] = o.volume_l / wanted.volume.value.litres() - 1.0;
        r[1] = if self.free.grist { o.plato / wanted.gravity.value.plato() - 1.0 } else { 0.0 };
        let limit = wanted_fermentability(self.brew).filter(|_| !self.free.rests.is_empty());
        r[2] = limit.map_or(0.0, |f| 0.8 * (o.fermentability - f));
        // a colour that cannot be reached must not pull at the other wishes
        let colour = wanted.colour.as_ref().filter(|_| self.free.share.is_some());
        r[3] = colour.map_or(0.0, |c| COLOUR_WEIGHT * (o.colour / c.value.ebc().max(0.1) - 1.0));
        let volume_m3 = wanted.volume.value.cubic_metres();
        r[4] = 0.2 * self.run_off_gap_m3(solved) / volume_m3;
        for i in 0..solved.choice.rest_c.len() {
            r[5 + i] = (reached_c(self.place, solved, i) - solved.choice.rest_c[i]) / REACHED_K;
        }
    }
}

/// Simulates a choice once.
pub(crate) fn run(
    place: &Place<'_>,
    brew: &Brew,
    choice: Choice,
    options: &Options,
) -> Result<Solved, PlanError> {
    let grist = setting::grist_of(brew, &choice.shares);
    let all_kg = choice.strike_kg + choice.sparge_kg;
    let liquor = liquor::choose(brew, &grist, choice.grist_kg, choice.strike_kg, all_kg)?;
    let mut setting = setting::setting(place, brew, &grist, &liquor);
    for (hop, &kg) in setting.hops.iter_mut().zip(&choice.hops_kg) {
        hop.mass_kg = kg;
    }
    let tun = &setting.pots[place.parts.mash];
    let bed_m = setting.bed.per_kg_m3 * choice.grist_kg / tun.area_m2;
    setting.bed.channel = setting::channel(bed_m);
    setting::prove_boil_off(place, brew, &mut setting);
    let built = procedure::build(place, brew, &choice, &setting);
    let trace = simulate(&setting, &built.procedure, options)?;
    let outcome =
        outcome::outcome(place, brew, &setting, &grist, choice.grist_kg, &built.marks, &trace);
    Ok(Solved { choice, setting, liquor, built, trace, outcome, miss: 0.0, rounds: 0 })
}

/// Temperature of the mash once rest `i` has been reached, °C.
fn reached_c(place: &Place<'_>, solved: &Solved, i: usize) -> f64 {
    let read = solved.built.marks.rests[i].read;
    solved.trace.after(read, place.parts.mash).temp_c
}

/// Wort that could still be drawn when the run-off ended, and wort the kettle still lacked, m³.
fn run_off_balance(place: &Place<'_>, solved: &Solved) -> (f64, f64) {
    let lacks = |at: usize| {
        let got = solved.trace.after(at, place.parts.kettle).volume_m3;
        (solved.choice.pre_boil_m3 - got).max(0.0)
    };
    let marks = &solved.built.marks;
    let left = match &solved.trace.end.mash {
        day::state::Mash::Bed(held) => process::bed::drainable_m3(&held.bed, &held.y),
        _ => 0.0,
    };
    match marks.run_offs.last() {
        Some(&last) => (left, lacks(last)),
        None => {
            let at = marks.to_kettle.or(marks.lift).unwrap_or(marks.dough_in);
            let got = solved.trace.after(at, place.parts.kettle).volume_m3;
            let over = got - solved.choice.pre_boil_m3;
            (over.max(0.0), (-over).max(0.0))
        }
    }
}

/// What the liquor should grow by so that the bed has drained when the kettle is full, m³.
fn run_off_gap_m3(place: &Place<'_>, solved: &Solved) -> f64 {
    let (left, lacks) = run_off_balance(place, solved);
    // nothing to take away when no liquor is run over the grain at all
    if !solved.choice.no_sparge() && solved.choice.sparge_kg <= 0.0 && lacks <= 0.0 {
        return 0.0;
    }
    lacks - (left - LEFT_TO_DRIP_M3)
}

fn miss(brew: &Brew, free: &Free, place: &Place<'_>, solved: &Solved, gap_m3: f64) -> f64 {
    let o = &solved.outcome;
    let wanted = &brew.wanted;
    let mut worst: f64 = (o.volume_l / wanted.volume.value.litres() - 1.0).abs();
    let mut see = |relative: f64| worst = worst.max(relative.abs());
    if free.grist {
        see(o.plato / wanted.gravity.value.plato() - 1.0);
    }
    if let Some(b) = wanted.bitterness.as_ref().filter(|b| free.hops && b.value.ibu() > 0.0) {
        see(o.bitterness / b.value.ibu() - 1.0);
    }
    if let Some(f) = wanted_fermentability(brew).filter(|_| !free.rests.is_empty()) {
        let at_bound = bounded(solved);
        if !at_bound {
            see((o.fermentability - f) * 0.8);
        }
    }
    if let Some(c) = wanted.colour.as_ref().filter(|_| free.share.is_some()) {
        see(COLOUR_WEIGHT * (o.colour / c.value.ebc().max(0.1) - 1.0));
    }
    for i in 0..solved.choice.rest_c.len() {
        see((reached_c(place, solved, i) - solved.choice.rest_c[i]) / REACHED_K);
    }
    let volume_m3 = wanted.volume.value.cubic_metres();
    see(0.2 * gap_m3 / volume_m3);
    worst
}

/// Whether the share of a dark malt stands as far from the stated one as it may.
pub(crate) fn share_at_bound(brew: &Brew, solved: &Solved, (dark, pale): (usize, usize)) -> bool {
    let stated = setting::stated_shares(brew);
    let (low, high) = share_bounds(&stated, dark, pale);
    let share = solved.choice.shares[dark];
    share < low + 1e-4 || share > high - 1e-4
}

/// Whether the rests stand as far from the stated ones as they may, or at the summit of
/// fermentability.
pub(crate) fn bounded(solved: &Solved) -> bool {
    let shift = solved.choice.shift_k;
    !(-2.0 * REST_SPAN_K + 1e-6..=REST_SPAN_K - 1e-6).contains(&shift)
}

/// The wanted limit of apparent attenuation, if any.
pub(crate) fn wanted_fermentability(brew: &Brew) -> Option<f64> {
    match brew.wanted.limit.as_ref()? {
        brew::Limit::Fermentability(t) => Some(t.value.fraction()),
        brew::Limit::FinalGravity(t) => {
            let original = brew.wanted.gravity.value.plato();
            Some((original - t.value.plato()) / original)
        }
    }
}

/// What each lever proposes by itself.
fn correct(
    place: &Place<'_>,
    brew: &Brew,
    free: &Free,
    solved: &Solved,
    stated_shares: &[f64],
) -> Choice {
    let mut next = solved.choice.clone();
    correct_mash(place, solved, &mut next);
    correct_volumes(place, brew, free, solved, &mut next);
    correct_beer(brew, free, solved, stated_shares, &mut next);
    correct_hops(brew, solved, &mut next);
    timing(place, solved, &mut next);
    next
}

fn correct_mash(place: &Place<'_>, solved: &Solved, next: &mut Choice) {
    let gap = |i: usize| solved.choice.rest_c[i] - reached_c(place, solved, i);
    next.strike_c = (next.strike_c + 1.2 * gap(0)).clamp(15.0, 100.0);
    let mut warmed_kg = solved.choice.strike_kg + GRAIN_AS_WATER * solved.choice.grist_kg;
    for i in 1..solved.choice.rest_c.len() {
        let slope = match next.ways.reach[i] {
            Reach::HotLiquor => {
                warmed_kg += solved.choice.reach[i];
                let poured = solved.built.marks.rests[i].reach;
                let hot_c =
                    poured.map_or(0.0, |op| solved.trace.before(op, place.parts.liquor).temp_c);
                (hot_c - reached_c(place, solved, i)).max(3.0) / warmed_kg
            }
            Reach::Decoction { .. } => 30.0,
            _ => 1.0,
        };
        next.reach[i] += gap(i) / slope;
        if matches!(next.ways.reach[i], Reach::HotLiquor) {
            // liquor poured on for heat is no longer there to sparge with
            let more_kg = next.reach[i].max(0.0) - solved.choice.reach[i];
            next.sparge_kg = (next.sparge_kg - more_kg).max(0.0);
        }
    }
}

fn correct_volumes(
    place: &Place<'_>,
    brew: &Brew,
    free: &Free,
    solved: &Solved,
    next: &mut Choice,
) {
    let o = &solved.outcome;
    let volume_l = brew.wanted.volume.value.litres();
    let fraction = brew.wanted.gravity.value.mass_fraction();
    let shift_m3 = 1.05e-3 * (volume_l - o.volume_l);
    next.pre_boil_m3 = (next.pre_boil_m3 + shift_m3).max(1e-4);
    let more_kg = 975.0 * (run_off_gap_m3(place, solved) + shift_m3);
    if next.no_sparge() {
        next.strike_kg = (next.strike_kg + more_kg).max(1.2 * next.grist_kg);
    } else {
        next.sparge_kg = (next.sparge_kg + more_kg).max(0.0);
    }
    if !free.grist {
        return;
    }
    let extract_kg = |litres: f64, w: f64| 1e-3 * litres * wort::density_kg_m3(w, 20.0) * w;
    let wanted_kg = extract_kg(volume_l, fraction);
    let got_kg = extract_kg(o.volume_l, o.plato / 100.0).max(1e-6);
    let old_kg = next.grist_kg;
    next.grist_kg *= (wanted_kg / got_kg).clamp(0.5, 2.0);
    if !next.no_sparge() {
        let added_kg = next.grist_kg - old_kg;
        // more grain takes its strike liquor from the sparge and keeps a litre of each kilogram
        next.sparge_kg = (next.sparge_kg - (next.thickness - 0.975) * added_kg).max(0.0);
        next.strike_kg = next.thickness * next.grist_kg;
    }
}

fn correct_beer(
    brew: &Brew,
    free: &Free,
    solved: &Solved,
    stated_shares: &[f64],
    next: &mut Choice,
) {
    let o = &solved.outcome;
    let wanted = &brew.wanted;
    // fermentability by the rests that may move
    if let Some(f) = wanted_fermentability(brew).filter(|_| !free.rests.is_empty()) {
        // about three points of attenuation for each kelvin; the curve is flatter when cooler
        let gap = f - o.fermentability;
        let slope = if next.shift_k < 0.0 { -0.02 } else { -0.03 };
        next.shift_k =
            (next.shift_k + (gap / slope).clamp(-3.0, 3.0)).clamp(-2.0 * REST_SPAN_K, REST_SPAN_K);
    }
    // colour by the share that may move
    if let (Some(c), Some((dark, pale))) = (&wanted.colour, free.share) {
        let ratio = (c.value.ebc() / o.colour.max(0.1)).clamp(0.5, 2.0);
        let now = next.shares[dark];
        // colour grows a little slower than the share: a power of about 0.6
        let sought = now * ratio.powf(1.2);
        let (low, high) = share_bounds(stated_shares, dark, pale);
        let sought = sought.clamp(low, high);
        let moved = (sought - now).min(0.9 * next.shares[pale]);
        next.shares[dark] += moved;
        next.shares[pale] -= moved;
    }
}

fn correct_hops(brew: &Brew, solved: &Solved, next: &mut Choice) {
    let o = &solved.outcome;
    let Some(b) = &brew.wanted.bitterness else { return };
    let shares = bitterness_shares(brew);
    let fixed: f64 = (0..brew.hops.len())
        .filter(|&k| matches!(brew.hops[k].amount, HopAmount::Mass(_)))
        .map(|k| o.gives[k])
        .sum();
    let sum: f64 = shares.iter().sum::<f64>().max(1e-9);
    let to_give = (b.value.ibu() - fixed).max(0.0);
    for ((kg, share), gives) in next.hops_kg.iter_mut().zip(&shares).zip(&o.gives) {
        if *share > 0.0 && *gives > 1e-9 {
            *kg *= (to_give * share / sum / gives).clamp(0.2, 5.0);
        }
    }
}

/// When tank and kettle are lit so that neither waits.
fn timing(place: &Place<'_>, solved: &Solved, next: &mut Choice) {
    let marks = &solved.built.marks;
    let times = |op: usize| solved.trace.of(op);
    let Some(&run_off) = marks.run_offs.first() else { return };
    let ready_s = marks
        .recirculate
        .map_or_else(|| times(marks.rests[marks.rests.len() - 1].rest).end_s, |r| times(r).end_s);
    if let Some(heat) = marks.heat_sparge {
        let needs_s = times(heat).end_s - times(heat).start_s;
        next.tank_light_s = (ready_s - needs_s - 180.0).max(0.0);
    }
    let last = marks.run_offs[marks.run_offs.len() - 1];
    let filled_s = times(last).end_s;
    let kettle = &solved.setting.pots[place.parts.kettle];
    // lit when the flame-washed side is wet, and not so early that it boils before it is full
    let least_m3 = kettle.section.volume_m3(kettle.least_level_m);
    let start_s = times(run_off).start_s;
    let covered_s = start_s + least_m3 / next.run_off_m3_s + 120.0;
    let heating_s = times(marks.bring).end_s - times(marks.bring).start_s;
    next.kettle_light_s = covered_s.max(filled_s - 0.5 * heating_s.min(1800.0));
}
