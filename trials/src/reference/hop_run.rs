//! Alpha acid through a temperature course, for the rows that ask for a whole boil and stand.
//!
//! Knows no kettle: the temperature is given, the rates are those of `matter::hop`.

use matter::hop;
use numerics::dopri::{Options, Stepper, System};

/// What becomes of the alpha added, as shares of it (or masses per volume).
#[derive(Debug, Clone, Copy)]
pub struct Hopped {
    /// Still in the hop matter.
    pub unextracted: f64,
    /// Alpha acid in the wort.
    pub alpha: f64,
    /// Iso-alpha acid.
    pub iso: f64,
}

impl Hopped {
    /// All of it dissolved at once.
    pub fn dissolved() -> Hopped {
        Hopped { unextracted: 0.0, alpha: 1.0, iso: 0.0 }
    }

    /// All of it still in the hops.
    pub fn in_the_hops(amount: f64) -> Hopped {
        Hopped { unextracted: amount, alpha: 0.0, iso: 0.0 }
    }
}

/// Course of temperature (°C over minutes) and how alpha leaves the hops and isomerises.
pub struct Course<T: Fn(f64) -> f64, S: Fn(f64) -> f64> {
    /// Temperature at a minute, °C.
    pub temp_c: T,
    /// Extraction, 1/s.
    pub extraction_per_s: f64,
    /// Share of the alpha in the wort that reacts.
    pub reacting: S,
}

impl<T: Fn(f64) -> f64, S: Fn(f64) -> f64> Course<T, S> {
    /// Runs it for some minutes; `None` if the integrator gives up.
    pub fn run(mut self, from: Hopped, minutes: f64) -> Option<Hopped> {
        let scale = (from.unextracted + from.alpha + from.iso).max(1e-12);
        let scales = [scale; 3];
        let options = Options { relative: 1e-9, first_step_s: 0.01, ..Options::new(&scales) };
        let mut y = [from.unextracted, from.alpha, from.iso];
        let mut time_s = 0.0;
        let end_s = minutes * 60.0;
        Stepper::new(3).integrate(&mut self, &mut time_s, &mut y, end_s, &options, |_| {}).ok()?;
        Some(Hopped { unextracted: y[0], alpha: y[1], iso: y[2] })
    }
}

impl<T: Fn(f64) -> f64, S: Fn(f64) -> f64> System for Course<T, S> {
    fn rates(&mut self, t: f64, y: &[f64], dy: &mut [f64]) {
        let temp_k = (self.temp_c)(t / 60.0) + 273.15;
        let extracted = self.extraction_per_s * y[0];
        let turned = hop::isomerisation_rate_per_s(temp_k) * y[1] * (self.reacting)(y[1]);
        dy[0] = -extracted;
        dy[1] = extracted - turned;
        dy[2] = turned - hop::iso_loss_rate_per_s(temp_k) * y[2];
    }
}

/// Everything dissolved and reacting, on a course.
pub fn plain(from: Hopped, minutes: f64, temp_c: impl Fn(f64) -> f64) -> Option<Hopped> {
    Course { temp_c, extraction_per_s: 0.0, reacting: |_| 1.0 }.run(from, minutes)
}
