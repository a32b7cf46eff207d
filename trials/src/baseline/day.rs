//! The benchmark day on our integrator: the equations of `reference/baseline/cvode_day.c`.
//!
//! Invented for timing; it knows nothing of the simulator.

use numerics::dopri::{Options, StepError, Stepper, Stop, System};
use numerics::math::exp;

use super::VALUES;

const GAS_CONSTANT: f64 = 8.314462618;
const CELLS: usize = 20;
const MASH: usize = 10;
const WASH: usize = CELLS + 2;
const BOIL: usize = 8;

/// The day's numbers. Kept in a value, as a program reads them from a document.
#[derive(Debug, Clone)]
struct Numbers {
    burner_w: f64,
    base_w_k: f64,
    loss_w_k: f64,
    content_j_k: f64,
    base_j_k: f64,
    air_c: f64,
    opening: f64,
    opening_e: f64,
    cut_a: f64,
    cut_b: f64,
    limit_b: f64,
    limit_a: f64,
    act_e: f64,
    lose_a: f64,
    lose_a_e: f64,
    lose_b: f64,
    lose_b_e: f64,
    wash_flow: f64,
    wash_held: f64,
}

const NUMBERS: Numbers = Numbers {
    burner_w: 3200.0,
    base_w_k: 180.0,
    loss_w_k: 8.0,
    content_j_k: 118e3,
    base_j_k: 8e3,
    air_c: 20.0,
    opening: 1.0 / 300.0,
    opening_e: 108e3,
    cut_a: 0.004,
    cut_b: 0.002,
    limit_b: 0.0008,
    limit_a: 0.0004,
    act_e: 60e3,
    lose_a: 1.0 / 3600.0,
    lose_a_e: 224e3,
    lose_b: 1.0 / 1200.0,
    lose_b_e: 410e3,
    wash_flow: 25.0 / 2700.0,
    wash_held: 0.5,
};

/// A threshold of one state.
#[derive(Debug, Clone, Copy)]
enum Crossing {
    Rising(usize, f64),
    Falling(usize, f64),
}

impl Crossing {
    fn function(self, y: &[f64]) -> f64 {
        match self {
            Crossing::Rising(state, at) => y[state] - at,
            Crossing::Falling(state, at) => at - y[state],
        }
    }
}

/// Starch, two enzymes and the sugars they make, and two thermal masses.
struct Mash<'a> {
    numbers: &'a Numbers,
    power_w: f64,
    crossing: Crossing,
}

impl System for Mash<'_> {
    fn rates(&mut self, _t: f64, y: &[f64], dy: &mut [f64]) {
        let (Ok(y), Ok(dy)) = (<&[f64; MASH]>::try_from(y), <&mut [f64; MASH]>::try_from(dy))
        else {
            return;
        };
        let n = self.numbers;
        let inverse = 1.0 / (y[8] + 273.15);
        let x65 = -(inverse - 1.0 / 338.15) / GAS_CONSTANT;
        let x68 = -(inverse - 1.0 / 341.15) / GAS_CONSTANT;
        let act = exp(x65 * n.act_e);
        let open = exp(x65 * n.opening_e) * n.opening * y[0];
        let (a, b) = (y[2] * act, y[3] * act);
        let (by_a, by_b) = (a * y[1] * n.cut_a, b * y[1] * n.cut_b);
        let (from_limit_b, from_limit_a) = (b * y[7] * n.limit_b, a * y[7] * n.limit_a);
        let heat = (y[9] - y[8]) * n.base_w_k;
        *dy = [
            -open,
            open - by_a - by_b,
            -exp(x68 * n.lose_a_e) * n.lose_a * y[2],
            -exp(x65 * n.lose_b_e) * n.lose_b * y[3],
            0.05 * by_a + 0.1 * from_limit_a,
            by_b + from_limit_b,
            0.15 * by_a + 0.9 * from_limit_a,
            0.8 * by_a - from_limit_b - from_limit_a,
            (heat - (y[8] - n.air_c) * n.loss_w_k) / n.content_j_k,
            (self.power_w - heat - (y[9] - n.air_c)) / n.base_j_k,
        ];
    }

    fn event_count(&self) -> usize {
        1
    }

    fn events(&mut self, _t: f64, y: &[f64], g: &mut [f64]) {
        g[0] = self.crossing.function(y);
    }
}

/// A bed of cells washed from the top; volume and extract run off below.
struct Wash<'a> {
    numbers: &'a Numbers,
}

impl System for Wash<'_> {
    fn rates(&mut self, _t: f64, y: &[f64], dy: &mut [f64]) {
        let (Ok(y), Ok(dy)) = (<&[f64; WASH]>::try_from(y), <&mut [f64; WASH]>::try_from(dy))
        else {
            return;
        };
        let k = self.numbers.wash_flow / self.numbers.wash_held;
        dy[0] = -k * y[0];
        for i in 1..CELLS {
            dy[i] = k * (y[i - 1] - y[i]);
        }
        dy[CELLS] = self.numbers.wash_flow;
        dy[CELLS + 1] = y[CELLS - 1] * self.numbers.wash_flow;
    }
}

/// A kettle heated up or boiling, with bitter acids turning.
struct Boil<'a> {
    numbers: &'a Numbers,
    boiling: bool,
    crossing: Option<Crossing>,
}

impl System for Boil<'_> {
    fn rates(&mut self, _t: f64, y: &[f64], dy: &mut [f64]) {
        let (Ok(y), Ok(dy)) = (<&[f64; BOIL]>::try_from(y), <&mut [f64; BOIL]>::try_from(dy))
        else {
            return;
        };
        let n = self.numbers;
        let inverse = 1.0 / (y[2] + 273.15);
        let k1 = exp(27.395 - 11858.0 * inverse) / 60.0;
        let k2 = exp(29.042 - 12994.0 * inverse) / 60.0;
        let k3 = exp((inverse - 1.0 / 373.15) * (-180e3 / GAS_CONSTANT)) * 3.1e-4;
        let heat = (y[3] - y[2]) * n.base_w_k;
        let net = heat - (y[2] - n.air_c) * n.loss_w_k;
        *dy = [
            if self.boiling { -net / 2.26e6 } else { 0.0 },
            0.0,
            if self.boiling { 0.0 } else { net / (y[0] * 4180.0) },
            (n.burner_w - heat) / n.base_j_k,
            -k1 * y[4],
            k1 * y[4] - k2 * y[5],
            k2 * y[5],
            -k3 * y[7],
        ];
    }

    fn event_count(&self) -> usize {
        usize::from(self.crossing.is_some())
    }

    fn events(&mut self, _t: f64, y: &[f64], g: &mut [f64]) {
        if let (Some(crossing), Some(g)) = (self.crossing, g.first_mut()) {
            *g = crossing.function(y);
        }
    }
}

/// The solver, made once, and the numbers.
pub(super) struct Bench {
    numbers: Numbers,
    stepper: Stepper,
    relative: f64,
}

impl Bench {
    pub(super) fn new(relative: f64) -> Bench {
        Bench { numbers: std::hint::black_box(NUMBERS), stepper: Stepper::new(WASH), relative }
    }

    /// Calls of the rates so far.
    pub(super) fn rate_calls(&self) -> u64 {
        self.stepper.work().rate_calls
    }

    /// Runs the day; final values in the order of the C program.
    pub(super) fn day(&mut self) -> Result<[f64; VALUES], StepError> {
        let numbers = self.numbers.clone();
        let n = &numbers;
        let mut y = [1.0, 0.0, 1.0, 1.0, 0.0, 0.0, 0.0, 0.0, 50.0, 50.0];
        let heating =
            |at| Mash { numbers: n, power_w: n.burner_w, crossing: Crossing::Rising(8, at) };
        let (first, _) = self.run(&mut heating(63.0), &mut y, 7200.0)?;
        self.hold(n, &mut y, 63.0, 1800.0)?;
        let (second, _) = self.run(&mut heating(72.0), &mut y, 7200.0)?;
        self.hold(n, &mut y, 72.0, 1200.0)?;
        let extract = y[1] + y[4] + y[5] + y[6] + y[7];
        let mut bed = [extract; WASH];
        bed[CELLS] = 5.0;
        bed[CELLS + 1] = 5.0 * extract;
        self.run(&mut Wash { numbers: n }, &mut bed, 2700.0)?;
        let mut kettle = [bed[CELLS], bed[CELLS + 1], 70.0, 70.0, 1.0, 0.0, 0.0, 1.0];
        let crossing = Some(Crossing::Rising(2, 99.0));
        let mut heat_up = Boil { numbers: n, boiling: false, crossing };
        let (third, _) = self.run(&mut heat_up, &mut kettle, 14_400.0)?;
        let mut boil = Boil { numbers: n, boiling: true, crossing: None };
        self.run(&mut boil, &mut kettle, 3600.0)?;
        let mut out = [0.0; VALUES];
        out[..10].copy_from_slice(&y);
        out[10] = first + second;
        out[11..33].copy_from_slice(&bed);
        out[33..41].copy_from_slice(&kettle);
        out[41] = third;
        Ok(out)
    }

    /// A burner switched on 0.5 K below the target and off at it.
    fn hold(
        &mut self,
        n: &Numbers,
        y: &mut [f64],
        target: f64,
        seconds: f64,
    ) -> Result<(), StepError> {
        let (mut left, mut burning) = (seconds, false);
        while left > 1e-6 {
            let (power_w, crossing) = if burning {
                (n.burner_w, Crossing::Rising(8, target))
            } else {
                (0.0, Crossing::Falling(8, target - 0.5))
            };
            let (elapsed, hit) = self.run(&mut Mash { numbers: n, power_w, crossing }, y, left)?;
            left -= elapsed;
            if !hit {
                break;
            }
            burning = !burning;
        }
        Ok(())
    }

    /// One segment: time elapsed, and whether its event fired.
    fn run(
        &mut self,
        system: &mut impl System,
        y: &mut [f64],
        seconds: f64,
    ) -> Result<(f64, bool), StepError> {
        // The absolute tolerance of all states is a tenth of the relative one, as in the C program.
        const SCALES: [f64; WASH] = [1.0; WASH];
        let mut options = Options::new(&SCALES[..y.len()]);
        options.relative = self.relative;
        options.max_step_s = f64::INFINITY;
        let mut t = 0.0;
        let stop = self.stepper.integrate(system, &mut t, y, seconds, &options, |_| {})?;
        Ok((t, matches!(stop, Stop::Event { .. })))
    }
}
