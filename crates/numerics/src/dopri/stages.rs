//! The seven stages of one Dormand-Prince step, as plain loops over slices of equal length.
//!
//! Decides nothing: step lengths and events are the stepper's. The loops have no branches, and
//! the slices are cut to one length first, so that they turn into vector code.

use super::dense::{Dense, Span};
use super::{Options, System};

/// Nodes of the stages (Dormand and Prince 1980, as all coefficients here).
const C2: f64 = 1.0 / 5.0;
const C3: f64 = 3.0 / 10.0;
const C4: f64 = 4.0 / 5.0;
const C5: f64 = 8.0 / 9.0;

const A21: f64 = 1.0 / 5.0;
const A3: [f64; 2] = [3.0 / 40.0, 9.0 / 40.0];
const A4: [f64; 3] = [44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0];
const A5: [f64; 4] = [19_372.0 / 6_561.0, -25_360.0 / 2_187.0, 64_448.0 / 6_561.0, -212.0 / 729.0];
const A6: [f64; 5] =
    [9_017.0 / 3_168.0, -355.0 / 33.0, 46_732.0 / 5_247.0, 49.0 / 176.0, -5_103.0 / 18_656.0];

/// Weights of stages 1, 3, 4, 5, 6 in the solution of order 5; also the seventh stage's row.
const B: [f64; 5] = [35.0 / 384.0, 500.0 / 1_113.0, 125.0 / 192.0, -2_187.0 / 6_784.0, 11.0 / 84.0];

/// Order 5 minus order 4, stages 1, 3, 4, 5, 6, 7.
const E: [f64; 6] = [
    71.0 / 57_600.0,
    -71.0 / 16_695.0,
    71.0 / 1_920.0,
    -17_253.0 / 339_200.0,
    22.0 / 525.0,
    -1.0 / 40.0,
];

/// Rates of the stages and two trial states. All vectors have one length.
#[derive(Debug, Default)]
pub(super) struct Stages {
    k1: Vec<f64>,
    k2: Vec<f64>,
    k3: Vec<f64>,
    k4: Vec<f64>,
    k5: Vec<f64>,
    k6: Vec<f64>,
    k7: Vec<f64>,
    /// State of the stage in work; after the step, room for a state inside it.
    trial: Vec<f64>,
    /// State at the end of the step.
    end: Vec<f64>,
}

impl Stages {
    /// Sets the number of states; allocates only when it grows beyond what was there before.
    pub(super) fn resize(&mut self, states: usize) {
        let stages = [
            &mut self.k1,
            &mut self.k2,
            &mut self.k3,
            &mut self.k4,
            &mut self.k5,
            &mut self.k6,
            &mut self.k7,
            &mut self.trial,
            &mut self.end,
        ];
        for stage in stages {
            stage.clear();
            stage.resize(states, 0.0);
        }
    }

    /// Rates at the start of a segment.
    pub(super) fn first(&mut self, system: &mut impl System, t: f64, y: &[f64]) {
        system.rates(t, y, &mut self.k1);
    }

    /// Whether every rate at the start of a segment is finite.
    pub(super) fn starts_finite(&self) -> bool {
        self.k1.iter().all(|rate| rate.is_finite())
    }

    /// The first state whose rate is not finite, in the earliest stage that has one.
    pub(super) fn not_finite(&self) -> Option<usize> {
        [&self.k1, &self.k2, &self.k3, &self.k4, &self.k5, &self.k6, &self.k7]
            .into_iter()
            .find_map(|stage| stage.iter().position(|rate| !rate.is_finite()))
    }

    /// All stages of a step of length `h` from `y`; leaves the state reached in `end`.
    pub(super) fn step(&mut self, system: &mut impl System, t: f64, h: f64, y: &[f64]) {
        let n = y.len();
        let Stages { k1, k2, k3, k4, k5, k6, k7, trial, end } = self;
        let (k1, k2, k3, k4) = (&k1[..n], &mut k2[..n], &mut k3[..n], &mut k4[..n]);
        let (k5, k6, k7) = (&mut k5[..n], &mut k6[..n], &mut k7[..n]);
        let (trial, end) = (&mut trial[..n], &mut end[..n]);

        combine(trial, y, [h * A21], [k1]);
        system.rates(t + C2 * h, trial, k2);
        combine(trial, y, A3.map(|a| h * a), [k1, k2]);
        system.rates(t + C3 * h, trial, k3);
        combine(trial, y, A4.map(|a| h * a), [k1, k2, k3]);
        system.rates(t + C4 * h, trial, k4);
        combine(trial, y, A5.map(|a| h * a), [k1, k2, k3, k4]);
        system.rates(t + C5 * h, trial, k5);
        combine(trial, y, A6.map(|a| h * a), [k1, k2, k3, k4, k5]);
        system.rates(t + h, trial, k6);
        combine(end, y, B.map(|b| h * b), [k1, k3, k4, k5, k6]);
        system.rates(t + h, end, k7);
    }

    /// Error of the step over its tolerance, root mean square over the states: 1 just passes.
    /// Not finite if any rate is not.
    pub(super) fn error(&mut self, h: f64, y: &[f64], options: &Options) -> f64 {
        let n = y.len();
        let (k1, k2, k3) = (&self.k1[..n], &self.k2[..n], &self.k3[..n]);
        let (k4, k5) = (&self.k4[..n], &self.k5[..n]);
        let (k6, k7, end) = (&self.k6[..n], &self.k7[..n], &self.end[..n]);
        let (scales, squares) = (&options.scales[..n], &mut self.trial[..n]);
        let k = [k1, k2, k3, k4, k5, k6, k7];
        square(squares, k, [y, end, scales], E.map(|e| h * e), options.relative);
        (sum(squares) / n.max(1) as f64).sqrt()
    }

    /// The curve through the step just made from `y`.
    pub(super) fn dense<'a>(&'a self, span: Span, y: &'a [f64]) -> Dense<'a> {
        let k = [&self.k1, &self.k3, &self.k4, &self.k5, &self.k6, &self.k7];
        Dense { span, y0: y, y1: &self.end, k: k.map(Vec::as_slice) }
    }

    /// State at the end of the step.
    pub(super) fn end(&self) -> &[f64] {
        &self.end
    }

    /// State at time `t` inside the step.
    pub(super) fn at(&mut self, span: Span, t: f64, y: &[f64]) -> &[f64] {
        let mut trial = std::mem::take(&mut self.trial);
        self.dense(span, y).at(t, &mut trial);
        self.trial = trial;
        &self.trial
    }

    /// Moves `y` to time `t` inside the step, where the segment ends.
    pub(super) fn settle(&mut self, span: Span, t: f64, y: &mut [f64]) {
        if t < span.t1 {
            self.at(span, t, y);
            y.copy_from_slice(&self.trial);
        } else {
            y.copy_from_slice(&self.end);
        }
    }

    /// Moves `y` to the end of the step; its last rates are the next step's first.
    pub(super) fn advance(&mut self, y: &mut [f64]) {
        y.copy_from_slice(&self.end);
        std::mem::swap(&mut self.k1, &mut self.k7);
    }
}

/// `out = y + Σ a k`, each sum in the same order at every width.
fn combine<const N: usize>(out: &mut [f64], y: &[f64], a: [f64; N], k: [&[f64]; N]) {
    #[cfg(target_arch = "x86_64")]
    if std::arch::is_x86_feature_detected!("avx2") {
        #[allow(unsafe_code, reason = "the processor has just been asked")]
        // SAFETY: `combine_wide` needs AVX2 and nothing else; the line above found it.
        unsafe {
            combine_wide(out, y, a, k)
        };
        return;
    }
    combine_plain(out, y, a, k);
}

/// [`combine_plain`] four numbers at a time. No product is fused with a sum, so that the result is
/// the same to the bit.
#[cfg(target_arch = "x86_64")]
#[target_feature(enable = "avx2")]
fn combine_wide<const N: usize>(out: &mut [f64], y: &[f64], a: [f64; N], k: [&[f64]; N]) {
    combine_plain(out, y, a, k);
}

#[inline(always)]
fn combine_plain<const N: usize>(out: &mut [f64], y: &[f64], a: [f64; N], k: [&[f64]; N]) {
    let n = out.len();
    let y = &y[..n];
    let k = k.map(|k| &k[..n]);
    for i in 0..n {
        // in pairs, so that the products run side by side
        let mut sum = 0.0;
        let mut j = 0;
        while j + 1 < N {
            sum += a[j] * k[j][i] + a[j + 1] * k[j + 1][i];
            j += 2;
        }
        if j < N {
            sum += a[j] * k[j][i];
        }
        out[i] = y[i] + sum;
    }
}

/// `(Σ e k / tolerance)²` of each state; `sizes` are the states before and after and their scales.
fn square(out: &mut [f64], k: [&[f64]; 7], sizes: [&[f64]; 3], e: [f64; 6], relative: f64) {
    #[cfg(target_arch = "x86_64")]
    if std::arch::is_x86_feature_detected!("avx2") {
        #[allow(unsafe_code, reason = "the processor has just been asked")]
        // SAFETY: `square_wide` needs AVX2 and nothing else; the line above found it.
        unsafe {
            square_wide(out, k, sizes, e, relative)
        };
        return;
    }
    square_plain(out, k, sizes, e, relative);
}

/// [`square_plain`] four numbers at a time, the same to the bit.
#[cfg(target_arch = "x86_64")]
#[target_feature(enable = "avx2")]
fn square_wide(out: &mut [f64], k: [&[f64]; 7], sizes: [&[f64]; 3], e: [f64; 6], relative: f64) {
    square_plain(out, k, sizes, e, relative);
}

#[inline(always)]
fn square_plain(out: &mut [f64], k: [&[f64]; 7], sizes: [&[f64]; 3], e: [f64; 6], relative: f64) {
    let n = out.len();
    let [k1, k2, k3, k4, k5, k6, k7] = k.map(|k| &k[..n]);
    let [y, end, scales] = sizes.map(|size| &size[..n]);
    let absolute = 0.1 * relative;
    for i in 0..n {
        // The second stage has no weight, but a rate that is not finite must show.
        let early = e[0] * k1[i] + 0.0 * k2[i] + e[1] * k3[i];
        let error = early + (e[2] * k4[i] + e[3] * k5[i]) + (e[4] * k6[i] + e[5] * k7[i]);
        let (before, after) = (y[i].abs(), end[i].abs());
        let size = if before > after { before } else { after };
        let ratio = error / (absolute * scales[i] + relative * size);
        out[i] = ratio * ratio;
    }
}

/// A sum in four rows side by side, always in the same order.
fn sum(values: &[f64]) -> f64 {
    let fours = values.chunks_exact(4);
    let mut rows = [0.0; 4];
    for (row, value) in rows.iter_mut().zip(fours.remainder()) {
        *row = *value;
    }
    for four in fours {
        for (row, value) in rows.iter_mut().zip(four) {
            *row += value;
        }
    }
    (rows[0] + rows[1]) + (rows[2] + rows[3])
}
