//! An integrator for ordinary differential equations: Dormand-Prince 5(4) with dense output and
//! events.
//!
//! One [`Stepper`] owns the work space and is used again for every segment of a run; no step
//! allocates. Each step keeps linear balances of the rates to rounding: a sum of states whose
//! rates add up to zero stays, at any tolerance, through events. Deliberately absent: an implicit
//! method. A state with a time constant far below the wanted step makes this one slow (the step
//! count tells, see [`Work`]); write such a state as an algebraic relation.
//!
//! # Source
//! Coefficients: J. R. Dormand, P. J. Prince, "A family of embedded Runge-Kutta formulae",
//! *J. Comput. Appl. Math.* 6 (1980) 19-26. Step control and dense output of order 4: E. Hairer,
//! S. P. Nørsett, G. Wanner, *Solving Ordinary Differential Equations I*, 2nd ed., II.4 to II.6.

mod dense;
mod options;
mod stages;

pub use dense::Dense;
pub use options::{Options, StepError, Stop, Work};

use crate::math::{exp, ln};
use dense::Span;
use stages::Stages;

/// What is integrated: `dy/dt = f(t, y)`, and the functions of the state that end a segment.
pub trait System {
    /// Writes `dy/dt` at time `t` (s) and state `y` into every place of `dy`.
    fn rates(&mut self, t: f64, y: &[f64], dy: &mut [f64]);

    /// How many event functions there are.
    fn event_count(&self) -> usize {
        0
    }

    /// Writes the event functions into `g`. Event `i` fires when `g[i]` crosses zero upwards: it
    /// was below zero and is zero or above. One that is not below zero when a segment starts does
    /// not fire until it has been; the caller looks at the start itself.
    fn events(&mut self, t: f64, y: &[f64], g: &mut [f64]) {
        let _ = (t, y, g);
    }

    /// Whether the step that this event cuts short is made anew, up to the event: the state there
    /// is then as exact as after any step, and not only as exact as the curve through a longer one.
    /// Its function may then be a trifle below zero there.
    fn lands(&self, _index: usize) -> bool {
        false
    }
}

/// The integrator and its work space.
///
/// ```
/// use numerics::dopri::{Options, Stepper, Stop, System};
///
/// /// A cooling pot, and the event "down to 40".
/// struct Cooling;
/// impl System for Cooling {
///     fn rates(&mut self, _t: f64, y: &[f64], dy: &mut [f64]) {
///         dy[0] = -(y[0] - 20.0) / 1000.0;
///     }
///     fn event_count(&self) -> usize {
///         1
///     }
///     fn events(&mut self, _t: f64, y: &[f64], g: &mut [f64]) {
///         g[0] = 40.0 - y[0];
///     }
/// }
///
/// let mut stepper = Stepper::new(1);
/// let (mut t, mut y) = (0.0, [100.0]);
/// let options = Options::new(&[100.0]);
/// let stop = stepper.integrate(&mut Cooling, &mut t, &mut y, 7200.0, &options, |_| {})?;
/// assert_eq!(stop, Stop::Event { index: 0 });
/// assert!((t - 1000.0 * 4.0_f64.ln()).abs() < 0.05); // 80 above the air has become 20
/// # Ok::<(), numerics::dopri::StepError>(())
/// ```
#[derive(Debug, Default)]
pub struct Stepper {
    stages: Stages,
    /// Event functions at the start of the stretch looked at, at its end, and in between.
    g_before: Vec<f64>,
    g_after: Vec<f64>,
    g_trial: Vec<f64>,
    fired: Vec<usize>,
    work: Work,
    last_step_s: f64,
}

impl Stepper {
    /// A stepper with room for `states` states; it grows when given more.
    pub fn new(states: usize) -> Stepper {
        let mut stepper = Stepper::default();
        stepper.stages.resize(states);
        stepper
    }

    /// Work done since this was made or since [`Stepper::reset_work`].
    pub fn work(&self) -> Work {
        self.work
    }

    /// Sets the work counters to zero.
    pub fn reset_work(&mut self) {
        self.work = Work::default();
    }

    /// Every event that crossed in the step that ended the last segment, up to its end: the one
    /// named by [`Stop::Event`] and those that crossed within the event tolerance of it.
    pub fn fired(&self) -> &[usize] {
        &self.fired
    }

    /// The step the control would have taken next, s: a first step for a segment that goes on
    /// without a jump.
    pub fn last_step_s(&self) -> f64 {
        self.last_step_s
    }

    /// Integrates from `*t` to `t_end` or to the first event, whichever comes first, and leaves
    /// time and state there.
    ///
    /// `each_step` is called after every accepted step with a curve through it; in the step that
    /// an event cuts short the curve ends at the event. At an event the time is within
    /// `options.event_tolerance_s` after the crossing, so its function is zero or above.
    ///
    /// Nothing is integrated, and no event fires, if `t_end ≤ *t`.
    ///
    /// # Errors
    /// [`StepError`] if a rate is not finite however short the step, if the step shrinks to
    /// nothing, after `options.steps_max` steps, or if a slice has the wrong length. Time and
    /// state are those of the last accepted step.
    pub fn integrate(
        &mut self,
        system: &mut impl System,
        t: &mut f64,
        y: &mut [f64],
        t_end: f64,
        options: &Options,
        mut each_step: impl FnMut(&Dense),
    ) -> Result<Stop, StepError> {
        options.check(*t, t_end, y.len())?;
        self.start(system, *t, y, options)?;
        let mut control = Control::new(options);
        while *t < t_end {
            let (h, t_next) = control.next_step(*t, t_end)?;
            let span = Span { t0: *t, t1: t_next, h };
            self.stages.step(system, *t, h, y);
            self.work.rate_calls += 6;
            let error = self.stages.error(h, y, options);
            match control.judge(error, *t) {
                Verdict::Stands => self.work.accepted += 1,
                Verdict::Again => {
                    self.work.rejected += 1;
                    continue;
                }
                Verdict::Stuck => return Err(self.stuck(error, *t)),
            }
            let cut = t_next >= t_end; // a step cut by the end says nothing of the next
            self.last_step_s = if cut { self.last_step_s.max(control.h) } else { control.h };
            let t_stop = self.first_crossing(system, span, y, options);
            let mut span = Span { t1: t_stop.unwrap_or(t_next), ..span };
            if t_stop.is_some_and(|t| t > span.t0 && t < t_next && system.lands(self.fired[0])) {
                span.h = span.t1 - span.t0;
                self.stages.step(system, span.t0, span.h, y);
                self.work.rate_calls += 6;
            }
            each_step(&self.stages.dense(span, y));
            if let Some(t_stop) = t_stop {
                self.stages.settle(Span { t1: span.t0 + span.h, ..span }, t_stop, y);
                *t = t_stop;
                return Ok(Stop::Event { index: self.fired[0] });
            }
            self.stages.advance(y);
            *t = t_next;
            std::mem::swap(&mut self.g_before, &mut self.g_after);
        }
        Ok(Stop::EndTime)
    }

    /// Why no step from `t` stands.
    fn stuck(&self, error: f64, t: f64) -> StepError {
        if error.is_finite() {
            StepError::StepTooShort { t_s: t }
        } else {
            StepError::NotFinite { t_s: t, state: self.stages.not_finite() }
        }
    }

    /// Makes room, and evaluates rates and events at the start.
    fn start(
        &mut self,
        system: &mut impl System,
        t: f64,
        y: &[f64],
        options: &Options,
    ) -> Result<(), StepError> {
        let count = system.event_count();
        for g in [&mut self.g_before, &mut self.g_after, &mut self.g_trial] {
            g.clear();
            g.resize(count, 0.0);
        }
        self.fired.clear();
        self.last_step_s = options.first_step_s;
        self.stages.resize(y.len());
        self.stages.first(system, t, y);
        self.work.rate_calls += 1;
        if !self.stages.starts_finite() {
            return Err(StepError::NotFinite { t_s: t, state: self.stages.not_finite() });
        }
        if count > 0 {
            system.events(t, y, &mut self.g_before);
        }
        Ok(())
    }

    /// The time of the earliest upward crossing in a step, if any; fills `fired`.
    ///
    /// The step is looked at in `options.event_probes + 1` equal stretches. `g_after` is left at
    /// the end of the step if nothing fired.
    fn first_crossing(
        &mut self,
        system: &mut impl System,
        span: Span,
        y: &[f64],
        options: &Options,
    ) -> Option<f64> {
        if self.g_before.is_empty() {
            return None;
        }
        let stretches = options.event_probes + 1;
        let mut lo = span.t0;
        for stretch in 1..=stretches {
            let hi = if stretch == stretches {
                system.events(span.t1, self.stages.end(), &mut self.g_after);
                span.t1
            } else {
                let hi = span.t0 + span.h * (stretch as f64 / stretches as f64);
                system.events(hi, self.stages.at(span, hi, y), &mut self.g_after);
                hi
            };
            if let Some(t) = self.crossing_between(system, span, y, (lo, hi), options) {
                return Some(t);
            }
            if stretch < stretches {
                std::mem::swap(&mut self.g_before, &mut self.g_after);
            }
            lo = hi;
        }
        None
    }

    /// The earliest crossing among the events whose sign differs between two times in a step.
    fn crossing_between(
        &mut self,
        system: &mut impl System,
        span: Span,
        y: &[f64],
        (lo, hi): (f64, f64),
        options: &Options,
    ) -> Option<f64> {
        let crossed = |before: f64, after: f64| before < 0.0 && after >= 0.0;
        let mut stop: Option<(f64, usize)> = None;
        for index in 0..self.g_before.len() {
            let (before, after) = (self.g_before[index], self.g_after[index]);
            // Only up to the earliest found so far: a later one does not count.
            if !crossed(before, after) {
                continue;
            }
            let (stages, trial) = (&mut self.stages, &mut self.g_trial);
            let (_, t) = crate::root::shrink(
                |t| {
                    system.events(t, stages.at(span, t, y), trial);
                    trial[index]
                },
                (lo, before),
                (hi, after),
                options.event_tolerance_s,
            );
            if stop.is_none_or(|(earliest, _)| t < earliest) {
                stop = Some((t, index));
            }
        }
        let (t, first) = stop?;
        self.fired.push(first);
        if t < span.t1 {
            system.events(t, self.stages.at(span, t, y), &mut self.g_after);
        }
        for index in 0..self.g_before.len() {
            if index != first && crossed(self.g_before[index], self.g_after[index]) {
                self.fired.push(index);
            }
        }
        Some(t)
    }
}

/// What becomes of a step that was tried.
enum Verdict {
    /// It is good enough.
    Stands,
    /// It is tried again, shorter.
    Again,
    /// It cannot be made shorter.
    Stuck,
}

/// Chooses the length of the next step from the error of the last one (Hairer, Nørsett, Wanner,
/// II.4, with the stabilising factor of their program DOPRI5, β = 0.04).
struct Control {
    h: f64,
    h_max: f64,
    /// Logarithm of the error of the last accepted step, for the stabilising factor.
    ln_last_error: f64,
    rejected_before: bool,
    steps_left: u64,
}

/// Exponents and limits of the step control, as in DOPRI5.
const BETA: f64 = 0.04;
const EXPONENT: f64 = 0.2 - 0.75 * BETA;
const SAFETY: f64 = 0.9;
const SHRINK_MOST: f64 = 0.2;
const GROW_MOST: f64 = 10.0;
/// ln 1e-4: an error below that counts as that.
const LN_ERROR_LEAST: f64 = -9.210_340_371_976_182;

impl Control {
    fn new(options: &Options) -> Control {
        Control {
            h: options.first_step_s.min(options.max_step_s),
            h_max: options.max_step_s,
            ln_last_error: LN_ERROR_LEAST,
            rejected_before: false,
            steps_left: options.steps_max,
        }
    }

    /// The next step and where it ends; the last one is stretched by up to 1 % to hit the end.
    fn next_step(&mut self, t: f64, t_end: f64) -> Result<(f64, f64), StepError> {
        let left = self.steps_left.checked_sub(1);
        self.steps_left = left.ok_or(StepError::TooManySteps { t_s: t })?;
        if t + 1.01 * self.h >= t_end {
            self.h = t_end - t;
            return Ok((self.h, t_end));
        }
        Ok((self.h, t + self.h))
    }

    /// Whether a step with this error norm stands; sets the next step's length either way.
    fn judge(&mut self, error: f64, t: f64) -> Verdict {
        let ln_error = ln(error);
        if error <= 1.0 {
            // h·0.9·(last error)^β / error^(0.2 − 0.75 β)
            let factor = SAFETY * exp(BETA * self.ln_last_error - EXPONENT * ln_error);
            let most = if self.rejected_before { 1.0 } else { GROW_MOST };
            self.h = (self.h * factor.clamp(SHRINK_MOST, most)).min(self.h_max);
            self.ln_last_error = ln_error.max(LN_ERROR_LEAST);
            self.rejected_before = false;
            return Verdict::Stands;
        }
        let factor = if error.is_finite() { SAFETY * exp(-EXPONENT * ln_error) } else { 0.0 };
        self.h *= factor.max(SHRINK_MOST);
        self.rejected_before = true;
        let smallest = 16.0 * f64::EPSILON * t.abs().max(1e-3);
        if self.h < smallest { Verdict::Stuck } else { Verdict::Again }
    }
}
