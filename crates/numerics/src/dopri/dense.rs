//! The curve through one accepted step: any state at any time in it, to order 4.
//!
//! Knows no system and calls no rates; it interpolates what the step already has.

/// One step: from `t0`, of full length `h`; `t1` is where it ends or is cut by an event.
#[derive(Debug, Clone, Copy)]
pub(super) struct Span {
    pub(super) t0: f64,
    pub(super) t1: f64,
    pub(super) h: f64,
}

/// Weights of the stages in the highest term of the dense output (Hairer, Nørsett, Wanner, II.6;
/// the second stage has none).
const D1: f64 = -12_715_105_075.0 / 11_282_082_432.0;
const D3: f64 = 87_487_479_700.0 / 32_700_410_799.0;
const D4: f64 = -10_690_763_975.0 / 1_880_347_072.0;
const D5: f64 = 701_980_252_875.0 / 199_316_789_632.0;
const D6: f64 = -1_453_857_185.0 / 822_651_844.0;
const D7: f64 = 69_997_945.0 / 29_380_423.0;

/// A curve through an accepted step, for sampling it: between [`Dense::t0`] and [`Dense::t1`]
/// any state at any time, to order 4. Times outside are continued by the same polynomial.
#[derive(Debug, Clone, Copy)]
pub struct Dense<'a> {
    pub(super) span: Span,
    pub(super) y0: &'a [f64],
    pub(super) y1: &'a [f64],
    /// Rates of stages 1, 3, 4, 5, 6 and 7.
    pub(super) k: [&'a [f64]; 6],
}

impl Dense<'_> {
    /// Where the step starts, s.
    pub fn t0(&self) -> f64 {
        self.span.t0
    }

    /// Where the step ends, s; at the event if one cut it short.
    pub fn t1(&self) -> f64 {
        self.span.t1
    }

    /// State `index` at time `t`.
    ///
    /// # Panics
    /// If there is no such state.
    pub fn state(&self, index: usize, t: f64) -> f64 {
        let theta = (t - self.span.t0) / self.span.h;
        let k = self.k.map(|stage| stage[index]);
        curve(theta, self.span.h, self.y0[index], self.y1[index], k)
    }

    /// All states at time `t`, into `out` (as many as it has room for).
    pub fn at(&self, t: f64, out: &mut [f64]) {
        let (theta, h) = ((t - self.span.t0) / self.span.h, self.span.h);
        let n = out.len().min(self.y0.len());
        let (out, y0, y1) = (&mut out[..n], &self.y0[..n], &self.y1[..n]);
        let [k1, k3, k4, k5, k6, k7] = self.k.map(|stage| &stage[..n]);
        for i in 0..n {
            out[i] = curve(theta, h, y0[i], y1[i], [k1[i], k3[i], k4[i], k5[i], k6[i], k7[i]]);
        }
    }
}

/// One state at the share `theta` of a step.
///
/// ```text
/// y(θ) = y0 + θ·(Δ + (1−θ)·(a + θ·(b + (1−θ)·c)))
/// Δ = y1 − y0    a = h·k1 − Δ    b = Δ − h·k7 − a    c = h·Σ dᵢ·kᵢ
/// ```
#[inline]
fn curve(theta: f64, h: f64, y0: f64, y1: f64, [k1, k3, k4, k5, k6, k7]: [f64; 6]) -> f64 {
    let rest = 1.0 - theta;
    let delta = y1 - y0;
    let a = h * k1 - delta;
    let b = delta - h * k7 - a;
    let c = h * (D1 * k1 + D3 * k3 + D4 * k4 + D5 * k5 + D6 * k6 + D7 * k7);
    y0 + theta * (delta + rest * (a + theta * (b + rest * c)))
}
