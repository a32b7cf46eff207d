//! A mash in one node on a given temperature course, for the rows that ask for a whole mash.
//!
//! Knows no vessel and no heat: the temperature is given, the rates are those of `process::mash`.

use matter::malt::{Grist, LAB_HYDRATION};
use matter::wort;
use numerics::dopri::{Options, Stepper, System};
use process::mash::{self, Kinetics, LIQUID, MashNode, Prepared, SOLID, Start};

const STATES: usize = SOLID + LIQUID;

/// The grist of the rows: pale malt, one kilogram as weighed.
pub fn pale() -> Grist {
    let mut grist = Grist::default();
    grist.mass_kg = 1.0;
    grist.moisture = 0.04;
    grist.dry_kg = 0.96;
    grist.extract_fine_dry = 0.81;
    grist.fine_coarse_dry = 0.015; // grits wet in the time that the row states
    grist.other_dry = 0.165;
    grist.other_sugar_dry = 0.085;
    grist.starch_dry = (0.81 - 0.165) / LAB_HYDRATION;
    grist.alpha = 1.0;
    grist.beta = 1.0;
    grist
}

/// A mash with what is needed to tell its state.
pub struct Mash {
    start: Start,
    prepared: Prepared,
    liquor_kg: f64,
    /// Corners of the temperature course: minute and °C, joined by straight lines.
    course: Vec<(f64, f64)>,
    state: [f64; STATES],
    time_s: f64,
}

impl Mash {
    /// A mash at dough-in.
    pub fn new(
        grist: &Grist,
        kinetics: &Kinetics,
        liquor_kg_kg: f64,
        course: &[(f64, f64)],
    ) -> Mash {
        let start = mash::start(grist, kinetics);
        let mut state = [0.0; STATES];
        state[..SOLID].copy_from_slice(&start.solids);
        state[SOLID..].copy_from_slice(&start.liquid);
        let prepared = start.kinetics.prepare(5.5);
        let liquor_kg = liquor_kg_kg * grist.mass_kg;
        Mash { start, prepared, liquor_kg, course: course.to_vec(), state, time_s: 0.0 }
    }

    /// Goes on to a minute after dough-in; `None` if the integrator gives up.
    pub fn until(mut self, minute: f64) -> Option<Mash> {
        let corners: Vec<f64> = self.course.iter().map(|(at, _)| at * 60.0).collect();
        let end_s = minute * 60.0;
        let mut stops: Vec<f64> =
            corners.into_iter().filter(|at| *at > self.time_s && *at < end_s).collect();
        stops.push(end_s);
        let scales = [0.1; STATES];
        let options = Options { relative: 1e-8, first_step_s: 0.1, ..Options::new(&scales) };
        let (mut time_s, mut state) = (self.time_s, self.state);
        for stop in stops {
            let mut stepper = Stepper::new(STATES);
            stepper.integrate(&mut self, &mut time_s, &mut state, stop, &options, |_| {}).ok()?;
        }
        self.time_s = time_s;
        self.state = state;
        Some(self)
    }

    fn temp_k(&self, time_s: f64) -> f64 {
        let minute = time_s / 60.0;
        let mut last = self.course[0];
        for &(at, celsius) in &self.course {
            if minute <= at {
                let span = (at - last.0).max(1e-9);
                return last.1 + (celsius - last.1) * (minute - last.0) / span + 273.15;
            }
            last = (at, celsius);
        }
        last.1 + 273.15
    }

    fn liquid(&self) -> [f64; LIQUID] {
        split(&self.state).1
    }

    fn water_kg(&self, liquid: &[f64; LIQUID]) -> f64 {
        self.liquor_kg + self.start.moisture_kg - mash::bound_water_kg(liquid)
    }

    fn node(&self, time_s: f64, liquid: &[f64; LIQUID]) -> MashNode {
        let brought_kg = self.liquor_kg + self.start.moisture_kg;
        MashNode {
            temp_k: self.temp_k(time_s),
            water_kg: self.water_kg(liquid),
            dilution: 1.0,
            final_plato: self.start.final_plato(brought_kg),
        }
    }

    /// Share of the laboratory extract that is dissolved.
    pub fn conversion(&self) -> f64 {
        mash::conversion(&self.liquid(), self.start.potential_kg)
    }

    fn fermentable_kg(&self) -> f64 {
        mash::fermentable_kg(&self.liquid(), self.start.other_sugar_share)
    }

    /// Fermentable extract per laboratory extract.
    pub fn fermentable_yield(&self) -> f64 {
        self.fermentable_kg() / self.start.potential_kg
    }

    /// Apparent limit of attenuation of a 12 °P wort made of it.
    pub fn attenuation(&self) -> f64 {
        let share = self.fermentable_kg() / mash::dissolved_kg(&self.liquid());
        wort::fermentability_from_fermentable_share(share, 12.0)
    }

    /// Uncut paste per starch of the grist.
    pub fn paste(&self) -> f64 {
        mash::paste_share(&self.liquid(), self.start.starch_kg)
    }

    /// Alpha-amylase left.
    pub fn alpha(&self) -> f64 {
        self.liquid()[mash::ALPHA]
    }

    /// Beta-amylase left.
    pub fn beta(&self) -> f64 {
        self.liquid()[mash::BETA]
    }

    /// Strength of the wort, °P.
    pub fn plato(&self) -> f64 {
        let extract_kg = mash::dissolved_kg(&self.liquid());
        100.0 * extract_kg / (extract_kg + self.water_kg(&self.liquid()))
    }

    fn sugar_kg(&self) -> f64 {
        let pools = self.liquid();
        pools[mash::GLUCOSE] + pools[mash::MALTOSE] + pools[mash::MALTOTRIOSE]
    }

    fn dissolved_starch_kg(&self) -> f64 {
        let pools = self.liquid();
        self.sugar_kg() + pools[mash::DEXTRIN] + pools[mash::LIMIT] + pools[mash::PASTE]
    }

    /// Share of the starch that is dissolved.
    pub fn starch_dissolved(&self) -> f64 {
        self.dissolved_starch_kg() / self.start.starch_kg
    }

    /// Share of the starch that is sugar.
    pub fn sugar_yield(&self) -> f64 {
        self.sugar_kg() / self.start.starch_kg
    }

    /// Share of the dissolved starch that is not sugar.
    pub fn dextrin_share(&self) -> f64 {
        1.0 - self.sugar_kg() / self.dissolved_starch_kg()
    }

    /// What is missing of the mass that was brought in, relative.
    pub fn closure(&self) -> f64 {
        let (solids, liquid) = split(&self.state);
        let held: f64 = solids.iter().sum::<f64>() + self.start.inert_kg;
        let wort = mash::dissolved_kg(&liquid) + self.water_kg(&liquid);
        let dry_kg = self.start.dry_matter_kg();
        (held + wort) / (dry_kg + self.start.moisture_kg + self.liquor_kg) - 1.0
    }
}

impl System for Mash {
    fn rates(&mut self, t: f64, y: &[f64], dy: &mut [f64]) {
        let Ok(state) = <[f64; STATES]>::try_from(y) else { return };
        let (solids, liquid) = split(&state);
        let node = self.node(t, &liquid);
        let (mut d_solids, mut d_liquid) = ([0.0; SOLID], [0.0; LIQUID]);
        let extract_kg = mash::dissolved_kg(&liquid);
        let plato = 100.0 * extract_kg / (extract_kg + node.water_kg);
        mash::liquid_rates(&self.prepared, &node, &liquid, &mut d_liquid);
        mash::solid_rates(
            &self.prepared,
            &node,
            plato,
            &self.start.release,
            &solids,
            &mut d_solids,
            &mut d_liquid,
        );
        dy[..SOLID].copy_from_slice(&d_solids);
        dy[SOLID..].copy_from_slice(&d_liquid);
    }
}

fn split(state: &[f64; STATES]) -> ([f64; SOLID], [f64; LIQUID]) {
    let (mut solids, mut liquid) = ([0.0; SOLID], [0.0; LIQUID]);
    solids.copy_from_slice(&state[..SOLID]);
    liquid.copy_from_slice(&state[SOLID..]);
    (solids, liquid)
}
