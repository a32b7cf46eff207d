//! A continuous sparge at constant level, for the rows that ask what comes out of the valve.
//!
//! Knows no vessel: flow and cover are given, the rates are those of `process::bed`.

use numerics::dopri::{Options, Stepper, System};
use process::bed::{self, BED_STATES, Bed, Flows, Settled};
use process::lauter::bed_liquid_m3;
use process::strike::EXTRACT_M3_KG;

/// Water counts as one kilogram a litre in the rows.
const WATER_KG_M3: f64 = 1000.0;

/// What a row says of the bed beside its grist and strike.
#[derive(Debug, Clone, Copy)]
pub struct Sparge {
    /// Flow at the valve, L/min.
    pub flow_l_min: f64,
    /// Free liquid kept over the bed, L.
    pub cover_l: f64,
    /// Liquid under the plate, L.
    pub under_l: f64,
    /// Strength under the plate over that of the rest.
    pub under_strength: f64,
    /// Share of the flow past the bed.
    pub channel: f64,
    /// Exchange time between mobile and held liquid, s.
    pub exchange_s: f64,
    /// Share of the laboratory extract that dissolves late.
    pub late: f64,
    /// Over how much free liquid the sparge opens, L.
    pub opening_l: f64,
}

impl Default for Sparge {
    fn default() -> Self {
        Sparge {
            flow_l_min: 0.95,
            cover_l: 1.0,
            under_l: 1.5,
            under_strength: 0.9,
            channel: 0.15,
            exchange_s: 300.0,
            late: 0.015,
            opening_l: 0.02,
        }
    }
}

/// A mash that is being sparged, with what has been drawn so far behind the bed's states.
pub struct Run {
    bed: Bed,
    sparge: Sparge,
    state: [f64; BED_STATES + 1],
    start_extract_kg: f64,
    /// Free liquid at the start, m³.
    pub free_m3: f64,
    /// Liquid of the bed, m³.
    pub bed_m3: f64,
}

/// The grist and strike of the rows: 5 kg, 0.7776 of extract as weighed, 0.95 of it dissolved.
const GRIST_KG: f64 = 5.0;
const EXTRACT: f64 = 0.7776;
const CONVERSION: f64 = 0.95;
const MOISTURE: f64 = 0.04;
const STRIKE_KG: f64 = 15.0;

impl Run {
    /// The mash of the rows, settled; `None` where it does not fill its bed.
    pub fn new(sparge: Sparge) -> Option<Run> {
        let extract_kg = GRIST_KG * EXTRACT * CONVERSION;
        let undissolved_kg = GRIST_KG * (1.0 - MOISTURE) - extract_kg;
        let bed_m3 = bed_liquid_m3(GRIST_KG, 1.8e-3, undissolved_kg);
        let under_m3 = sparge.under_l / 1e3;
        let water_kg = STRIKE_KG + GRIST_KG * MOISTURE;
        let liquid_m3 = water_kg / WATER_KG_M3 + extract_kg * EXTRACT_M3_KG;
        let bed = Bed {
            mobile_m3: 0.55 * bed_m3,
            held_m3: 0.45 * bed_m3,
            under_m3,
            dead_m3: 0.0,
            exchange_s: sparge.exchange_s,
            channel: sparge.channel,
            late_s: 3600.0,
            water_density_kg_m3: WATER_KG_M3,
            extract_volume_m3_kg: EXTRACT_M3_KG,
            solids_heat_j_k: 1500.0,
            drain_s: 240.0,
            retained_m3: 5e-3,
        };
        // the rows take the liquid under the plate as weaker without giving the rest more
        let missing_kg = extract_kg / liquid_m3 * under_m3 * (1.0 - sparge.under_strength);
        let rest_kg = sparge.late * GRIST_KG * EXTRACT;
        let settled = Settled {
            extract_kg: extract_kg - missing_kg,
            water_kg: (liquid_m3 - EXTRACT_M3_KG * (extract_kg - missing_kg + rest_kg))
                * WATER_KG_M3,
            heat_j: 0.0,
            rest_kg,
            under_strength: sparge.under_strength,
            under_warmer_k: 0.0,
        };
        let settled = bed::settle(&bed, &settled).ok()?;
        let mut state = [0.0; BED_STATES + 1];
        state[..BED_STATES].copy_from_slice(&settled);
        let free_m3 = bed::free_m3(&bed, &settled);
        let start_extract_kg = bed::total_extract_kg(&settled);
        Some(Run { bed, sparge, state, start_extract_kg, free_m3, bed_m3 })
    }

    /// Draws until so many litres have come; `None` if the integrator gives up.
    pub fn draw(mut self, litres: f64) -> Option<Run> {
        let mut scales = [1.0; BED_STATES + 1];
        for at in [bed::FREE_HEAT, bed::UNDER_HEAT] {
            scales[at] = 1e5;
        }
        scales[bed::CELL_HEAT..bed::CELL_HEAT + bed::CELLS].fill(1e5);
        let options = Options {
            relative: 1e-8,
            first_step_s: 0.1,
            max_step_s: 10.0,
            ..Options::new(&scales)
        };
        let end_s = litres / (self.sparge.flow_l_min / 60.0);
        let (mut time_s, mut state) = (0.0, self.state);
        let mut stepper = Stepper::new(BED_STATES + 1);
        stepper.integrate(&mut self, &mut time_s, &mut state, end_s, &options, |_| {}).ok()?;
        self.state = state;
        Some(self)
    }

    fn bed_state(&self) -> &[f64] {
        &self.state[..BED_STATES]
    }

    /// Strength at the valve, °P.
    pub fn plato(&self) -> f64 {
        let (_, _, under) = bed::extract_kg_m3(&self.bed, self.bed_state());
        100.0 * under / (under + WATER_KG_M3 * (1.0 - EXTRACT_M3_KG * under))
    }

    /// Extract per volume at the valve, kg/m³.
    pub fn extract_kg_m3(&self) -> f64 {
        bed::extract_kg_m3(&self.bed, self.bed_state()).2
    }

    /// Share of the extract that has been drawn.
    pub fn drawn_share(&self) -> f64 {
        self.state[BED_STATES] / self.start_extract_kg
    }

    /// What is missing of the extract, relative.
    pub fn closure(&self) -> f64 {
        let held_kg = bed::total_extract_kg(self.bed_state());
        (held_kg + self.state[BED_STATES]) / self.start_extract_kg - 1.0
    }
}

impl System for Run {
    fn rates(&mut self, _t: f64, y: &[f64], dy: &mut [f64]) {
        dy.fill(0.0);
        let flow_m3_s = self.sparge.flow_l_min / 6e4;
        let free_l = bed::free_m3(&self.bed, y) * 1e3;
        // the rows open the sparge smoothly as the cover is reached
        let open =
            1.0 / (1.0 + ((free_l - self.sparge.cover_l) / self.sparge.opening_l).min(500.0).exp());
        let flows = Flows {
            outflow_m3_s: flow_m3_s,
            sparge_kg_s: flow_m3_s * WATER_KG_M3 * open,
            ..Flows::default()
        };
        let out = bed::bed_rates(&self.bed, &flows, y, dy);
        dy[BED_STATES] = out.outflow_extract_kg_s;
    }
}
