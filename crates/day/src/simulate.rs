//! The simulator: it owns the clock, starts and ends operations, and integrates the whole
//! brewhouse from event to event. Pure: the same setting and procedure give the same trace.

mod states;

use crate::changes;
use crate::plant::{DayLaws, Drive, Flow, Plant};
use crate::procedure::{Action, Edge, OperationIndex, Procedure};
use crate::setting::Setting;
use crate::snapshot;
use crate::state::{Mash, State};
use crate::trace::{MashEnd, Sample, Snapshot, Times, Trace};
use crate::watch::Watch;
use numerics::dopri::{Options as StepOptions, StepError, Stepper, Stop};
use process::mash::IODINE_LIMIT;
use std::sync::Arc;

/// Longest time an operation may wait for its end, s; then it is given up with a caveat.
pub const LONGEST_S: f64 = 6.0 * 3600.0;
/// Time in which stirring above a screen renews the liquid below it, s (our choice: a paddle drives
/// liquid through the holes, and warmer liquid below rises by itself).
const STIRRED_THROUGH_S: f64 = 120.0;
/// Largest step of the integrator, s; half of the shortest planned operation bounds it too.
const STEP_S: f64 = 600.0;
/// First step after a change, s.
const FIRST_STEP_S: f64 = 16.0;
/// Longest first step after an operation began or ended: flows and heat may be others, s.
const CHANGED_STEP_S: f64 = 40.0;
/// Share of the last step that is tried first when nothing has jumped.
const GOES_ON: f64 = 1.0;
/// Events one after another at one moment that are too many for a day that goes on.
const STILL_MOST: usize = 500;

/// How to simulate.
#[derive(Debug, Clone, Copy)]
pub struct Options {
    /// Relative tolerance.
    pub relative: f64,
    /// Keep a sample this often, s; not finite for none.
    pub sample_s: f64,
}

impl Default for Options {
    fn default() -> Options {
        Options { relative: 1e-5, sample_s: f64::INFINITY }
    }
}

/// Why a simulation stopped before its end.
#[derive(Debug, Clone, thiserror::Error)]
pub enum SimulateError {
    /// The integrator gave up.
    #[error("operations {operations} at {t_min:.1} min: {source}")]
    Step {
        /// Operations under way.
        operations: String,
        /// Time, min.
        t_min: f64,
        /// Why.
        source: StepError,
    },
    /// An operation waits for one that never runs.
    #[error("operation {operation} waits for an operation that never ends")]
    NeverStarts {
        /// Which.
        operation: String,
    },
    /// An operation cannot be done in this state.
    #[error("operation {operation}: {why}")]
    NotPossible {
        /// Which.
        operation: String,
        /// Why.
        why: String,
    },
}

/// An operation under way.
#[derive(Debug, Clone, Copy)]
struct Active {
    index: OperationIndex,
    start_s: f64,
    /// A number noted at the start, such as the mass at which a pour ends.
    note: f64,
    /// For those that first wait for the boil: when it came.
    boiled_s: Option<f64>,
}

/// Simulates a day from its start.
///
/// # Errors
/// [`SimulateError`] if an operation cannot be done, never starts or never ends, or if the
/// integrator fails.
pub fn simulate(
    setting: &Setting,
    procedure: &Procedure,
    options: &Options,
) -> Result<Trace, SimulateError> {
    Simulation::new(setting, procedure, options).run()
}

struct Simulation<'a> {
    setting: &'a Setting,
    procedure: &'a Procedure,
    options: &'a Options,
    state: State,
    started: Vec<Option<(f64, Snapshot)>>,
    ended: Vec<Option<(f64, Snapshot)>>,
    active: Vec<Active>,
    samples: Vec<Sample>,
    next_sample_s: f64,
    mash_end: Option<MashEnd>,
    iodine_s: Option<f64>,
    caveats: Vec<String>,
    stepper: Stepper,
    y: Vec<f64>,
    scales: Vec<f64>,
    g: Vec<f64>,
    /// Which pots each operation needs.
    needs: Vec<u64>,
    /// First step of the next segment, s.
    first_step_s: f64,
    /// Until when each base is being wetted and has a temperature of its own, s.
    adjusts_s: Vec<f64>,
    /// Whether the wort is clouded from now on, if an event just said so.
    clouded: Option<bool>,
    /// Laws that hold all day, made once.
    day: Arc<DayLaws>,
}

/// Who waits for an event.
#[derive(Debug, Clone, Copy)]
enum Waits {
    /// An operation, by its place in the list of active ones.
    Ends(usize),
    /// An operation that reached the boil and goes on.
    Boils(usize),
    /// A pot begins to boil.
    PotBoils(usize),
    /// A pot stops boiling.
    PotRests(usize),
    /// A bend in the rates that no step may pass unseen: a pot stops boiling, a draining bed
    /// gives less.
    Bend,
    /// The wort clouds or clears: a kink that needs no shorter step behind it.
    Clouds,
    /// Browning begins or stops: the same.
    Browns,
    /// No free liquid is left.
    FreeGone,
    /// See [`Watch::FreeBack`].
    FreeBack,
    /// Iodine is normal from here on.
    Iodine,
}

impl<'a> Simulation<'a> {
    fn new(setting: &'a Setting, procedure: &'a Procedure, options: &'a Options) -> Self {
        let n = procedure.operations.len();
        Simulation {
            setting,
            procedure,
            options,
            state: State::start(setting),
            started: vec![None; n],
            ended: vec![None; n],
            active: Vec::with_capacity(8),
            samples: Vec::new(),
            next_sample_s: 0.0,
            mash_end: None,
            iodine_s: None,
            caveats: Vec::new(),
            stepper: Stepper::new(96),
            y: Vec::with_capacity(96),
            scales: Vec::with_capacity(96),
            g: Vec::with_capacity(16),
            first_step_s: FIRST_STEP_S,
            adjusts_s: vec![0.0; setting.pots.len()],
            needs: procedure.operations.iter().map(|o| o.action.needs(&setting.parts)).collect(),
            clouded: None,
            day: Arc::new(DayLaws::new(setting)),
        }
    }

    fn run(mut self) -> Result<Trace, SimulateError> {
        let mut still = 0;
        loop {
            self.start_due()?;
            if self.ended.iter().all(Option::is_some) {
                break;
            }
            let before_s = self.state.t_s;
            self.stretch()?;
            still = if self.state.t_s > before_s { 0 } else { still + 1 };
            if still > STILL_MOST {
                self.give_up();
                still = 0;
            }
        }
        self.sample_now();
        let times = self.started.into_iter().zip(self.ended).map(|(start, end)| {
            let (start_s, at_start) = start.unwrap_or_default();
            let (end_s, at_end) = end.unwrap_or_default();
            Times { start_s, end_s, at_start, at_end }
        });
        Ok(Trace {
            operations: times.collect(),
            samples: self.samples,
            end: self.state,
            mash_end: self.mash_end,
            iodine_normal_s: self.iodine_s,
            caveats: self.caveats,
            work: self.stepper.work(),
        })
    }

    /// Time at which an operation may start, if all it waits for is known.
    fn due_s(&self, index: OperationIndex) -> Option<f64> {
        let starts = &self.procedure.operations[index].starts;
        let mut due = starts.not_before_s;
        for tie in &starts.after {
            let edge = match tie.from {
                Edge::Start => &self.started[tie.operation],
                Edge::End => &self.ended[tie.operation],
            };
            due = due.max(edge.as_ref()?.0 + tie.delay_s);
        }
        Some(due)
    }

    fn start_due(&mut self) -> Result<(), SimulateError> {
        // an instantaneous operation may let the next one start at the same moment
        let mut again = true;
        while again {
            again = false;
            for index in 0..self.procedure.operations.len() {
                if self.started[index].is_some() {
                    continue;
                }
                if self.due_s(index).is_some_and(|due| due <= self.state.t_s + 1e-6) {
                    self.begin(index)?;
                    again = true;
                }
            }
        }
        Ok(())
    }

    fn fail(&self, index: OperationIndex, why: &str) -> SimulateError {
        let operation = self.procedure.operations[index].id.clone();
        SimulateError::NotPossible { operation, why: why.to_string() }
    }

    fn begin(&mut self, index: OperationIndex) -> Result<(), SimulateError> {
        let now = self.state.t_s;
        self.end_keeps(index);
        let setting = self.setting;
        let state = &mut self.state;
        let mut note = 0.0;
        let mut done = false;
        match &self.procedure.operations[index].action {
            Action::Fill { pot, mass_kg, .. } => {
                note = state.pots[*pot].mass_kg() + mass_kg;
            }
            Action::Pour { from, mass_kg, .. } => {
                note = self.pour_down_to(index, *from, *mass_kg);
            }
            Action::Infuse { mass_kg, .. } | Action::Sparge { mass_kg, .. } => {
                note = self.pour_down_to(index, setting.parts.liquor, *mass_kg);
                if let Mash::Bed(held) = &mut self.state.mash {
                    held.drains = false;
                }
            }
            Action::DoughIn { grist_kg, .. } => {
                changes::dough_in(setting, state, *grist_kg).map_err(|e| self.fail(index, &e))?;
                self.disturb();
            }
            Action::DrawDecoction { solids, liquid, .. } => {
                changes::draw(setting, state, *solids, *liquid)
                    .map_err(|e| self.fail(index, &e))?;
                self.disturb();
            }
            Action::ReturnDecoction { loss_k, .. } => {
                changes::give_back(setting, state, *loss_k).map_err(|e| self.fail(index, &e))?;
                self.disturb();
            }
            Action::RunOff { .. } => {
                if let Some(end) =
                    changes::settle(setting, state).map_err(|e| self.fail(index, &e))?
                {
                    self.mash_end = Some(end);
                }
            }
            Action::Refill { mass_kg, .. } => {
                let kg = self.available(index, setting.parts.liquor, *mass_kg);
                changes::refill(setting, &mut self.state, kg).map_err(|e| self.fail(index, &e))?;
                self.disturb();
            }
            Action::LiftBag { .. } => {
                let end = changes::lift(setting, state).map_err(|e| self.fail(index, &e))?;
                self.mash_end = Some(end);
            }
            Action::Hop { addition } => {
                changes::hop(setting, state, *addition);
                done = true;
            }
            Action::Sugar { extract_kg, water_kg, fermentable, colour_ebc_m3 } => {
                let sugar = [*extract_kg, *water_kg, *fermentable, *colour_ebc_m3];
                changes::sugar(setting, state, sugar);
                done = true;
            }
            Action::ToFermenter { .. } => note = changes::kettle_keeps_m3(setting, state),
            // a mark in the day, such as a look at an instrument
            Action::Wait { for_s } if *for_s <= 0.0 => done = true,
            _ => {}
        }
        let seen = snapshot::of(setting, &self.state);
        self.started[index] = Some((now, seen.clone()));
        if done {
            self.ended[index] = Some((now, seen));
        } else {
            self.active.push(Active { index, start_s: now, note, boiled_s: None });
            self.first_step_s = self.first_step_s.min(CHANGED_STEP_S);
        }
        Ok(())
    }

    /// What a pot can give of a wanted mass; says so when it falls short.
    fn available(&mut self, index: OperationIndex, from: usize, wanted_kg: f64) -> f64 {
        let left_kg = self.setting.pots[from].left_m3 * 970.0;
        let can_kg = (self.state.pots[from].mass_kg() - left_kg).max(0.0);
        if wanted_kg > can_kg + 1e-6 {
            let id = &self.procedure.operations[index].id;
            self.caveats.push(format!(
                "{id}: {wanted_kg:.2} kg asked for, the vessel can give {can_kg:.2} kg"
            ));
        }
        wanted_kg.min(can_kg)
    }

    fn pour_down_to(&mut self, index: OperationIndex, from: usize, wanted_kg: f64) -> f64 {
        self.state.pots[from].mass_kg() - self.available(index, from, wanted_kg)
    }

    fn end_keeps(&mut self, starting: OperationIndex) {
        let ends: Vec<usize> = (0..self.active.len())
            .filter(|&k| {
                let action = &self.procedure.operations[self.active[k].index].action;
                matches!(action, Action::Keep { until, .. } if *until == starting)
            })
            .collect();
        for k in ends.into_iter().rev() {
            self.end(k);
        }
    }

    fn end(&mut self, k: usize) {
        let ended = self.active.remove(k);
        self.first_step_s = self.first_step_s.min(CHANGED_STEP_S);
        match &self.procedure.operations[ended.index].action {
            Action::Infuse { .. } => changes::restate(&mut self.state),
            Action::BoilDecoction { .. } => changes::boiled(&mut self.state),
            Action::ToFermenter { .. } => changes::spill(self.setting, &mut self.state),
            Action::Sparge { .. } => changes::flood(&mut self.state),
            _ => {}
        }
        let seen = snapshot::of(self.setting, &self.state);
        self.ended[ended.index] = Some((self.state.t_s, seen));
    }

    /// Integrates to the next event or time at which something starts or ends.
    fn stretch(&mut self) -> Result<(), SimulateError> {
        let now = self.state.t_s;
        let pending = (0..self.procedure.operations.len())
            .filter(|&i| self.started[i].is_none())
            .filter_map(|i| self.due_s(i));
        let mut t_end = pending.fold(f64::INFINITY, f64::min).max(now);
        if self.active.is_empty() && !t_end.is_finite() {
            return Err(self.stuck());
        }
        let mut timed = None;
        for (k, active) in self.active.iter().enumerate() {
            let Some(at) = self.ends_at(active) else { continue };
            if at < t_end || (at <= t_end && timed.is_none()) {
                t_end = at;
                timed = Some(k);
            }
        }
        if let Some(k) = timed.filter(|_| t_end <= now) {
            self.end(k);
            return Ok(());
        }
        let (mut plant, waits) = self.plant();
        let adjusted_s = self.let_bases_follow(&mut plant);
        if let Some(k) = self.already(&mut plant, &waits) {
            self.happened(waits[k]);
            return Ok(());
        }
        let limit = self.waiting().map(|a| a.start_s + LONGEST_S).fold(f64::INFINITY, f64::min);
        let given_up_s = limit.max(now);
        let stop_at = t_end.min(given_up_s).min(adjusted_s);
        let stop = self.integrate(&mut plant, stop_at)?;
        if matches!(stop, Stop::Event { index } if matches!(waits[index], Waits::Clouds)) {
            self.clouded = Some(!plant.clouded);
        }
        match stop {
            Stop::Event { index } => self.happened(waits[index]),
            Stop::EndTime => {
                if let Some(k) = timed.filter(|_| stop_at >= t_end) {
                    self.end(k);
                } else if stop_at < t_end && stop_at >= given_up_s {
                    self.give_up();
                }
            }
        }
        Ok(())
    }

    fn stuck(&self) -> SimulateError {
        let index = self.started.iter().position(Option::is_none).unwrap_or(0);
        SimulateError::NeverStarts { operation: self.procedure.operations[index].id.clone() }
    }

    /// Operations that wait for an event that may never come.
    fn waiting(&self) -> impl Iterator<Item = &Active> {
        self.active.iter().filter(|a| {
            let action = &self.procedure.operations[a.index].action;
            !matches!(action, Action::Keep { .. } | Action::Wait { .. })
        })
    }

    /// Ends the operation that has waited longest, and says so: a day that cannot be as asked is
    /// still a day to look at.
    fn give_up(&mut self) {
        let oldest = self.waiting().min_by(|a, b| a.start_s.total_cmp(&b.start_s)).copied();
        let Some(oldest) = oldest else { return };
        let id = &self.procedure.operations[oldest.index].id;
        self.caveats.push(format!(
            "{id}: not reached, at latest after {:.0} h; given up",
            LONGEST_S / 3600.0
        ));
        if let Some(k) = self.active.iter().position(|a| a.index == oldest.index) {
            self.end(k);
        }
    }

    /// When an operation that ends by time ends.
    fn ends_at(&self, active: &Active) -> Option<f64> {
        let start = active.start_s;
        match &self.procedure.operations[active.index].action {
            Action::Wait { for_s }
            | Action::DoughIn { for_s, .. }
            | Action::Rest { for_s }
            | Action::Circulate { for_s, .. }
            | Action::DrawDecoction { for_s, .. }
            | Action::ReturnDecoction { for_s, .. }
            | Action::Refill { for_s, .. }
            | Action::LiftBag { for_s }
            | Action::Boil { for_s, .. }
            | Action::Stand { for_s, .. } => Some(start + for_s.max(0.0)),
            Action::BoilDecoction { for_s, .. } => active.boiled_s.map(|t| t + for_s),
            _ => None,
        }
    }

    /// The plant as the operations under way make it, and who waits for which of its watches.
    fn plant(&self) -> (Plant<'a>, Vec<Waits>) {
        let mut plant = Plant::new(self.setting, &self.state, Arc::clone(&self.day));
        let mut waits = Vec::new();
        for k in 0..self.active.len() {
            self.take_effect(k, &mut plant, &mut waits);
        }
        plant.lay_out(&self.state, self.needed());
        plant.link_bases();
        for i in 0..self.state.pots.len() {
            if plant.layout.pots[i].is_none() {
                continue;
            }
            if self.state.pots[i].boils {
                let held = &self.state.pots[i];
                let boil_c = plant.boiling_c(held.extract_kg / held.mass_kg().max(1e-9));
                plant.watches.push(Watch::Cold { pot: i, c: boil_c - 0.3 });
                waits.push(Waits::PotRests(i));
                if matches!(plant.pots[i].drive, Drive::Off) {
                    plant.watches.push(Watch::Simmers { pot: i });
                    waits.push(Waits::Bend);
                }
            } else if !matches!(plant.pots[i].drive, Drive::Off)
                && !plant.watches.iter().any(|w| matches!(w, Watch::Boils { pot } if *pot == i))
            {
                plant.watches.push(Watch::Boils { pot: i });
                waits.push(Waits::PotBoils(i));
            }
        }
        if plant.hops_react() {
            plant.watches.push(Watch::Clouds);
            waits.push(Waits::Clouds);
        }
        let kettle = self.setting.parts.kettle;
        if plant.layout.pots[kettle].is_some() && self.state.pots[kettle].extract_kg > 0.0 {
            plant.watches.push(Watch::Browns);
            waits.push(Waits::Browns);
        }
        self.watch_mash(&mut plant, &mut waits);
        (plant, waits)
    }

    /// Pots that some operation not yet ended needs: the others are left as they are.
    fn needed(&self) -> u64 {
        let open = (0..self.needs.len()).filter(|&i| self.ended[i].is_none());
        open.fold(0, |all, i| all | self.needs[i])
    }

    fn sparges(&self) -> bool {
        let is_sparge = |active: &Active| {
            matches!(self.procedure.operations[active.index].action, Action::Sparge { .. })
        };
        self.active.iter().any(is_sparge)
    }

    fn watch_mash(&self, plant: &mut Plant<'_>, waits: &mut Vec<Waits>) {
        match &self.state.mash {
            Mash::Nodes(nodes) => {
                let starch_kg = nodes.start.starch_kg;
                plant.watches.push(Watch::IodineNormal { starch_kg, limit: IODINE_LIMIT });
                waits.push(Waits::Iodine);
            }
            Mash::Bed(held) if !held.drains => {
                plant.watches.push(Watch::FreeGone);
                waits.push(Waits::FreeGone);
            }
            Mash::Bed(_) if self.sparges() => {
                plant.watches.extend([Watch::FreeBack, Watch::BedSlows, Watch::ValveSlows]);
                waits.extend([Waits::FreeBack, Waits::Bend, Waits::Bend]);
            }
            Mash::Bed(_) if plant.run_off_m3_s > 0.0 => {
                plant.watches.extend([Watch::BedSlows, Watch::ValveSlows]);
                waits.extend([Waits::Bend; 2]);
            }
            _ => {}
        }
    }

    fn take_effect(&self, k: usize, plant: &mut Plant<'_>, waits: &mut Vec<Waits>) {
        let active = &self.active[k];
        let parts = plant.parts();
        let mut wait = |plant: &mut Plant<'_>, watch: Watch| {
            plant.watches.push(watch);
            waits.push(Waits::Ends(k));
        };
        let pots = &self.setting.pots;
        match &self.procedure.operations[active.index].action {
            Action::Fill { pot, flow_kg_s, .. } => {
                plant.flows.push(Flow {
                    from: None,
                    to: Some(*pot),
                    rate: *flow_kg_s,
                    chill: false,
                });
                plant.pots[*pot].lid = false;
                wait(plant, Watch::MassUp { pot: *pot, kg: active.note });
            }
            Action::Heat { pot, setting, to_c, lid } => {
                plant.pots[*pot].drive = Drive::at(&pots[*pot].heater, *setting);
                plant.pots[*pot].lid = *lid;
                wait(plant, Watch::Warm { pot: *pot, c: *to_c });
            }
            Action::Keep { pot, at_c, .. } => {
                plant.pots[*pot].drive = Drive::keep(&pots[*pot].heater, *at_c);
            }
            Action::Pour { from, to, flow_m3_s, .. } => {
                let flow =
                    Flow { from: Some(*from), to: Some(*to), rate: *flow_m3_s, chill: false };
                plant.flows.push(flow);
                plant.pots[*to].lid = false;
                wait(plant, Watch::MassDown { pot: *from, kg: active.note });
            }
            Action::DoughIn { .. } | Action::ReturnDecoction { .. } => {
                plant.pots[parts.mash].lid = false;
                plant.exchange_m3_s += pots[parts.mash].under_m3 / STIRRED_THROUGH_S;
            }
            Action::Circulate { flow_m3_s, .. } => plant.exchange_m3_s += flow_m3_s,
            Action::FireMash { setting, to_c, flow_m3_s } => {
                plant.pots[parts.mash].drive = Drive::at(&pots[parts.mash].heater, *setting);
                plant.exchange_m3_s += flow_m3_s;
                plant.pots[parts.mash].lid = false;
                wait(plant, Watch::MashWarm { c: *to_c });
            }
            Action::Infuse { flow_m3_s, .. } | Action::Sparge { flow_m3_s, .. } => {
                let from = Some(parts.liquor);
                plant.flows.push(Flow { from, to: None, rate: *flow_m3_s, chill: false });
                plant.pots[parts.mash].lid = false;
                // onto a mash it is stirred in, onto a bed it is not
                plant.exchange_m3_s += pots[parts.mash].under_m3 / STIRRED_THROUGH_S;
                wait(plant, Watch::MassDown { pot: parts.liquor, kg: active.note });
            }
            Action::RunOff { flow_m3_s, until_m3 } => {
                plant.run_off_m3_s = *flow_m3_s;
                plant.pots[parts.mash].lid = false;
                wait(plant, Watch::Up { pot: parts.kettle, m3: *until_m3 });
                if matches!(&self.state.mash, Mash::Bed(held) if held.drains) {
                    wait(plant, Watch::Drained);
                }
            }
            Action::ToFermenter { flow_m3_s, chill } => {
                let (from, to) = (Some(parts.kettle), Some(parts.fermenter));
                plant.flows.push(Flow { from, to, rate: *flow_m3_s, chill: *chill });
                let start = self.started[active.index].as_ref();
                plant.emptied_from_m3 = start.map(|(_, seen)| seen.pots[parts.kettle].volume_m3);
                wait(plant, Watch::Down { pot: parts.kettle, m3: active.note });
            }
            _ => self.take_heat_effect(k, plant, waits),
        }
    }

    fn take_heat_effect(&self, k: usize, plant: &mut Plant<'_>, waits: &mut Vec<Waits>) {
        let active = &self.active[k];
        let kettle = plant.parts().kettle;
        let heater = &self.setting.pots[kettle].heater;
        match &self.procedure.operations[active.index].action {
            Action::BoilDecoction { setting, .. } => {
                plant.pots[kettle].drive = Drive::at(heater, *setting);
                plant.pots[kettle].lid = false;
                if active.boiled_s.is_none() {
                    plant.watches.push(Watch::Boils { pot: kettle });
                    waits.push(Waits::Boils(k));
                }
            }
            Action::BringToBoil { setting } => {
                plant.pots[kettle].drive = Drive::at(heater, *setting);
                plant.pots[kettle].lid = false;
                plant.watches.push(Watch::Boils { pot: kettle });
                waits.push(Waits::Ends(k));
            }
            Action::Boil { setting, .. } => {
                plant.pots[kettle].drive = Drive::at(heater, *setting);
                plant.pots[kettle].lid = false;
            }
            Action::Stand { to_c, lid, chill, .. } => {
                plant.pots[kettle].lid = *lid;
                plant.coil = *chill;
                if *to_c > -273.0 {
                    plant.watches.push(Watch::Cold { pot: kettle, c: *to_c });
                    waits.push(Waits::Ends(k));
                }
            }
            Action::Chill { to_c } => {
                plant.coil = true;
                plant.watches.push(Watch::Cold { pot: kettle, c: *to_c });
                waits.push(Waits::Ends(k));
            }
            _ => {}
        }
    }

    /// The first event that has already come, if any.
    fn already(&mut self, plant: &mut Plant<'_>, waits: &[Waits]) -> Option<usize> {
        plant.layout.pack(&self.state, self.setting.parts.mash, &mut self.y);
        plant.settle_bases(&self.state, &self.y);
        plant.look_into_kettle(self.state.t_s, &self.y, self.clouded.take());
        self.g.clear();
        self.g.resize(plant.watches.len(), 0.0);
        numerics::dopri::System::events(plant, self.state.t_s, &self.y, &mut self.g);
        let g = &self.g;
        (0..g.len()).find(|&k| {
            g[k] >= 0.0
                && !matches!(waits[k], Waits::Iodine | Waits::Bend | Waits::Clouds | Waits::Browns)
        })
    }

    fn happened(&mut self, waits: Waits) {
        match waits {
            Waits::Ends(k) => {
                let index = self.active[k].index;
                let action = &self.procedure.operations[index].action;
                if matches!(action, Action::BringToBoil { .. }) {
                    self.turn_boil(self.setting.parts.kettle, true);
                }
                self.end(k);
            }
            Waits::Boils(k) => {
                self.active[k].boiled_s = Some(self.state.t_s);
                self.turn_boil(self.setting.parts.kettle, true);
            }
            Waits::PotBoils(i) => self.turn_boil(i, true),
            Waits::PotRests(i) => self.turn_boil(i, false),
            Waits::Clouds | Waits::Browns => {}
            Waits::Bend => self.first_step_s = FIRST_STEP_S,
            Waits::FreeGone => {
                if let Mash::Bed(held) = &mut self.state.mash {
                    held.drains = true;
                }
            }
            Waits::FreeBack => {
                if let Mash::Bed(held) = &mut self.state.mash {
                    held.drains = false;
                }
            }
            Waits::Iodine => {
                if let Mash::Nodes(nodes) = &self.state.mash {
                    self.iodine_s = Some(self.state.t_s - nodes.doughed_s);
                }
            }
        }
    }

    fn integrate(&mut self, plant: &mut Plant<'_>, t_end: f64) -> Result<Stop, SimulateError> {
        if plant.rests() && t_end.is_finite() {
            self.pass_time(t_end);
            return Ok(Stop::EndTime);
        }
        self.fill_scales(plant);
        let mut options = StepOptions::new(&self.scales);
        options.relative = self.options.relative;
        options.max_step_s = STEP_S;
        options.first_step_s = self.first_step_s;
        let mut t = self.state.t_s;
        let (samples, next) = (&mut self.samples, &mut self.next_sample_s);
        let every = self.options.sample_s;
        let len = plant.layout.len;
        let mut moments: Vec<(f64, Vec<f64>)> = Vec::new();
        let stop = self.stepper.integrate(plant, &mut t, &mut self.y, t_end, &options, |dense| {
            while every.is_finite() && *next <= dense.t1() {
                let at = next.max(dense.t0());
                let mut y = vec![0.0; len];
                dense.at(at, &mut y);
                moments.push((at, y));
                *next += every;
            }
        });
        for (at, y) in moments {
            samples.push(Sample { t_s: at, pots: snapshot::of_vector(plant, &self.state, at, &y) });
        }
        let stop = stop.map_err(|source| {
            let ids = self.active.iter().map(|a| self.procedure.operations[a.index].id.as_str());
            let operations = ids.collect::<Vec<_>>().join(", ");
            SimulateError::Step { operations, t_min: t / 60.0, source }
        })?;
        plant.unpack(t, &self.y, &mut self.state);
        self.first_step_s = (GOES_ON * self.stepper.last_step_s()).max(FIRST_STEP_S);
        // a root found to the millisecond leaves the time just behind it
        self.state.t_s = t;
        Ok(stop)
    }

    /// Goes on to a time in which nothing changes.
    fn pass_time(&mut self, t_end: f64) {
        let every = self.options.sample_s;
        if every.is_finite() && self.next_sample_s <= t_end {
            let pots = snapshot::of(self.setting, &self.state).pots;
            while self.next_sample_s <= t_end {
                let t_s = self.next_sample_s.max(self.state.t_s);
                self.samples.push(Sample { t_s, pots: pots.clone() });
                self.next_sample_s += every;
            }
        }
        self.state.t_s = t_end;
    }

    fn sample_now(&mut self) {
        if self.options.sample_s.is_finite() {
            let seen = snapshot::of(self.setting, &self.state);
            self.samples.push(Sample { t_s: self.state.t_s, pots: seen.pots });
        }
    }
}
