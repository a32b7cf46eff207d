//! The search: each wish has its lever, each lever is corrected by what the simulated day gave,
//! until every wish that can be met is met. It knows no words.

use crate::choice::{Choice, REST_SPAN_K, bitterness_shares};
use crate::error::PlanError;
use crate::liquor::{self, LiquorChoice};
use crate::outcome::{self, Outcome};
use crate::procedure::{self, Built};
use crate::setting::{self, Place};
use brew::{Brew, GristAmount, HopAmount, Reach};
use day::setting::Setting;
use day::simulate::{Options, simulate};
use day::trace::Trace;
use matter::malt::Grist;
use matter::wort;

/// A day that was solved.
pub(crate) struct Solved {
    pub(crate) choice: Choice,
    pub(crate) setting: Setting,
    pub(crate) grist: Grist,
    pub(crate) liquor: LiquorChoice,
    pub(crate) built: Built,
    pub(crate) trace: Trace,
    pub(crate) outcome: Outcome,
    /// How far the search came: largest relative miss of what has a lever.
    pub(crate) miss: f64,
    pub(crate) rounds: usize,
}

/// Most rounds of the search.
const ROUNDS: usize = 40;
/// A search that came this near is over.
const NEAR: f64 = 2e-4;
/// How far a share marked `about` may be moved, as a factor.
const SHARE_SPAN: f64 = 2.5;
/// Wort that may be left to drip when the kettle is full, m³ (our choice).
const LEFT_TO_DRIP_M3: f64 = 2e-4;

/// One number and its correction: a secant whose slope starts from a guess and stays near it.
#[derive(Debug, Clone, Copy)]
struct Lever {
    slope: f64,
    last: Option<(f64, f64)>,
}

impl Lever {
    fn new(slope: f64) -> Lever {
        Lever { slope, last: None }
    }

    /// The next value after `miss = wanted - got` at `value`; `slope` is d got / d value.
    fn next(&mut self, value: f64, miss: f64, low: f64, high: f64) -> f64 {
        let mut slope = self.slope;
        if let Some((old_value, old_miss)) = self.last {
            let moved = value - old_value;
            if moved.abs() > 1e-9 * value.abs().max(1e-9) {
                let seen = -(miss - old_miss) / moved;
                // the other levers move too: trust the secant only within bounds
                let (a, b) = (0.4 * self.slope, 2.5 * self.slope);
                slope = seen.clamp(a.min(b), a.max(b));
            }
        }
        self.last = Some((value, miss));
        (value + miss / slope).clamp(low, high)
    }
}

struct Levers {
    strike: Lever,
    reach: Vec<Lever>,
    pre_boil: Lever,
    rest: Lever,
    stalled: usize,
}

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
pub(crate) fn solve(
    place: &Place<'_>,
    brew: &Brew,
    mut choice: Choice,
    options: &Options,
) -> Result<Solved, PlanError> {
    let free = Free::of(brew);
    let mut levers = levers(brew, &choice);
    let stated_shares = choice.shares.clone();
    let mut best: Option<Solved> = None;
    for round in 0..ROUNDS {
        let mut solved = run(place, brew, choice.clone(), options)?;
        solved.rounds = round + 1;
        solved.miss = miss(brew, &free, place, &solved);
        let near = solved.miss < NEAR;
        let better = best.as_ref().is_none_or(|b| solved.miss < 0.98 * b.miss);
        if !near {
            choice = correct(place, brew, &free, &mut levers, &solved, &stated_shares);
        }
        if better {
            levers.stalled = 0;
            best = Some(solved);
        } else {
            levers.stalled += 1;
        }
        if near || levers.stalled > 6 {
            break;
        }
    }
    best.ok_or_else(|| PlanError::not_possible("nothing was tried", "report this"))
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
    Ok(Solved { choice, setting, grist, liquor, built, trace, outcome, miss: 0.0, rounds: 0 })
}

fn levers(brew: &Brew, choice: &Choice) -> Levers {
    let reach = brew
        .rests
        .iter()
        .enumerate()
        .map(|(i, _)| {
            Lever::new(match choice.ways.reach[i] {
                Reach::HotLiquor => 1.2 / choice.grist_kg,
                Reach::Decoction { .. } => 30.0,
                _ => 1.0,
            })
        })
        .collect();
    Levers {
        strike: Lever::new(0.85),
        reach,
        pre_boil: Lever::new(0.95),
        rest: Lever::new(-0.025),
        stalled: 0,
    }
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

fn miss(brew: &Brew, free: &Free, place: &Place<'_>, solved: &Solved) -> f64 {
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
    for i in 0..solved.choice.rest_c.len() {
        see((reached_c(place, solved, i) - solved.choice.rest_c[i]) / 250.0);
    }
    let (left, lacks) = run_off_balance(place, solved);
    see((left - LEFT_TO_DRIP_M3).abs().min(left) / 0.25 * 0.02 + lacks / 0.25);
    worst
}

fn bounded(solved: &Solved) -> bool {
    let shift = solved.choice.shift_k;
    shift > REST_SPAN_K - 1e-6 || shift < -2.0 * REST_SPAN_K + 1e-6
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

#[allow(clippy::too_many_lines, reason = "one lever after the other, each three lines")]
fn correct(
    place: &Place<'_>,
    brew: &Brew,
    free: &Free,
    levers: &mut Levers,
    solved: &Solved,
    stated_shares: &[f64],
) -> Choice {
    let mut next = solved.choice.clone();
    let o = &solved.outcome;
    let wanted = &brew.wanted;
    let volume_l = wanted.volume.value.litres();
    let fraction = wanted.gravity.value.mass_fraction();
    // strike and steps
    let gap = solved.choice.rest_c[0] - reached_c(place, solved, 0);
    next.strike_c = levers.strike.next(next.strike_c, gap, 20.0, 99.0);
    for i in 1..solved.choice.rest_c.len() {
        let gap = solved.choice.rest_c[i] - reached_c(place, solved, i);
        let (low, high) = match next.ways.reach[i] {
            Reach::HotLiquor => (0.0, 20.0 * next.grist_kg),
            Reach::Decoction { .. } => (0.02, 0.9),
            _ => (20.0, 105.0),
        };
        next.reach[i] = levers.reach[i].next(next.reach[i], gap, low, high);
    }
    // volume
    let gap_m3 = 1e-3 * (volume_l - o.volume_l);
    next.pre_boil_m3 = levers.pre_boil.next(next.pre_boil_m3, gap_m3, 1e-4, 10.0);
    let shift_m3 = next.pre_boil_m3 - solved.choice.pre_boil_m3;
    // liquor so that the bed has drained when the kettle is full
    let (left, lacks) = run_off_balance(place, solved);
    let more_kg = 975.0 * (lacks - 0.95 * (left - LEFT_TO_DRIP_M3).max(0.0) + shift_m3);
    let pour_more = if left > LEFT_TO_DRIP_M3 || lacks > 0.0 { more_kg } else { 975.0 * shift_m3 };
    if next.no_sparge() {
        next.strike_kg = (next.strike_kg + pour_more).max(1.2 * next.grist_kg);
    } else {
        next.sparge_kg = (next.sparge_kg + pour_more).max(0.0);
    }
    // grist
    if free.grist {
        let wanted_kg = 1e-3 * volume_l * wort::density_kg_m3(fraction, 20.0) * fraction;
        let got_fraction = o.plato / 100.0;
        let got_kg = 1e-3 * o.volume_l * wort::density_kg_m3(got_fraction, 20.0) * got_fraction;
        let ratio = (wanted_kg / got_kg.max(1e-6)).clamp(0.5, 2.0);
        let thickness = next.strike_kg / next.grist_kg;
        let old = next.grist_kg;
        next.grist_kg *= ratio;
        if !next.no_sparge() {
            next.strike_kg = thickness * next.grist_kg;
            let held = 1.0e-3 * 975.0 * (next.grist_kg - old);
            next.sparge_kg = (next.sparge_kg - (thickness * (next.grist_kg - old)) + held).max(0.0);
        }
    }
    // hops
    if let Some(b) = &wanted.bitterness {
        let shares = bitterness_shares(brew);
        let fixed: f64 = (0..brew.hops.len())
            .filter(|&k| matches!(brew.hops[k].amount, HopAmount::Mass(_)))
            .map(|k| o.gives[k])
            .sum();
        let sum: f64 = shares.iter().sum::<f64>().max(1e-9);
        let to_give = (b.value.ibu() - fixed).max(0.0);
        for k in 0..brew.hops.len() {
            if shares[k] > 0.0 && o.gives[k] > 1e-9 {
                let ratio = to_give * shares[k] / sum / o.gives[k];
                next.hops_kg[k] *= ratio.clamp(0.2, 5.0);
            }
        }
    }
    // fermentability by the rests that may move
    if let Some(f) = wanted_fermentability(brew) {
        if !free.rests.is_empty() {
            let gap = f - o.fermentability;
            let shift =
                levers.rest.next(solved.choice.shift_k, gap, -2.0 * REST_SPAN_K, REST_SPAN_K);
            next.move_rests(brew, &free.rests, shift);
        }
    }
    // colour by the share that may move
    if let (Some(c), Some((dark, pale))) = (&wanted.colour, free.share) {
        let ratio = (c.value.ebc() / o.colour.max(0.1)).clamp(0.5, 2.0);
        let stated = stated_shares[dark];
        let now = next.shares[dark];
        // colour grows a little slower than the share: a power of about 0.6
        let sought = now * ratio.powf(1.2);
        let sought = sought.clamp(stated / SHARE_SPAN, stated * SHARE_SPAN);
        let moved = (sought - now).min(0.9 * next.shares[pale]);
        next.shares[dark] += moved;
        next.shares[pale] -= moved;
    }
    timing(place, solved, &mut next);
    next
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
