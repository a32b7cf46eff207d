//! Rates of a bed being run off and washed.

use super::base::bed_capacity_j_k;
use super::mash::part;
use super::{Plant, SOLIDS_KG_M3};
use crate::state::total;
use matter::water;
use process::bed::{self, Bed};

/// Volume of a bed with all that is in it, m³.
pub(crate) fn bed_volume_m3(bed: &Bed, y: &[f64], solids_kg: f64) -> f64 {
    bed::free_m3(bed, y).max(0.0)
        + y[bed::MOBILE_SHARE] * bed.mobile_m3
        + bed.held_m3
        + bed::under_m3(bed, y)
        + solids_kg / SOLIDS_KG_M3
}

/// Mean temperature of a bed, °C.
pub(crate) fn bed_mean_c(bed: &Bed, y: &[f64]) -> f64 {
    let capacity = bed::WATER_J_KG_K * bed::total_water_kg(bed, y)
        + bed::EXTRACT_J_KG_K * (bed::total_extract_kg(y) - y[bed::REST])
        + bed.solids_heat_j_k;
    bed::REFERENCE_C + bed::total_heat_j(y) / capacity
}

/// Heat capacity of the liquid under the plate, J/K.
pub(super) fn bed_under_j_k(bed: &Bed, y: &[f64]) -> f64 {
    let volume = bed::under_m3(bed, y);
    let extract_kg = y[bed::UNDER_EXTRACT];
    let water_kg = bed.water_density_kg_m3 * (volume - bed.extract_volume_m3_kg * extract_kg);
    (bed::WATER_J_KG_K * water_kg + bed::EXTRACT_J_KG_K * extract_kg).max(1e-3)
}

/// Temperature of the liquid under the plate, °C.
pub(crate) fn bed_under_c(bed: &Bed, y: &[f64]) -> f64 {
    bed::REFERENCE_C + y[bed::UNDER_HEAT] / bed_under_j_k(bed, y)
}

/// Strength of what the valve gives, °P.
pub(crate) fn bed_valve_plato(bed: &Bed, y: &[f64]) -> f64 {
    let volume = bed::under_m3(bed, y);
    let extract_kg = y[bed::UNDER_EXTRACT];
    let water_kg = bed.water_density_kg_m3 * (volume - bed.extract_volume_m3_kg * extract_kg);
    100.0 * extract_kg / (extract_kg + water_kg).max(1e-9)
}

impl Plant<'_> {
    /// Flow that the valve would take from a bed that gives it.
    pub(super) fn outflow_m3_s(&self) -> f64 {
        self.run_off_m3_s.min(self.setting.bed.flow_limit_m3_s)
    }

    /// Where the flow from a draining bed bends: see [`bed::drain_shortfalls`].
    pub(crate) fn drain_shortfalls(&self, y: &[f64]) -> [f64; 2] {
        let Some(bed) = &self.mash.bed else { return [-1.0; 2] };
        bed::drain_shortfalls(bed, self.outflow_m3_s(), &y[self.layout.mash..])
    }

    pub(super) fn bed_rates(&self, y: &[f64], dy: &mut [f64]) {
        let Some(bed) = &self.mash.bed else { return };
        let m = self.layout.mash;
        let tun = self.setting.parts.mash;
        let mut seen = *part::<{ bed::BED_STATES }>(y, m);
        let (under_j, under_c) = self.bed_split(bed, &seen);
        seen[bed::UNDER_HEAT] = under_j;
        let seen = &seen;
        let volume = bed_volume_m3(bed, seen, self.mash.solids_kg);
        let mean_c = bed_mean_c(bed, seen);
        let lost = self.losses(tun, volume, mean_c);
        let latent = water::evaporation_heat_j_kg(mean_c);
        let vapour_kg_s = if self.mash.drains { 0.0 } else { lost.vapour_kg_s };
        let vapour_w = vapour_kg_s * (water::enthalpy_j_kg(mean_c) + latent);
        let flows = bed::Flows {
            outflow_m3_s: self.outflow_m3_s(),
            bed_loss_w: lost.wall_w,
            surface_loss_w: lost.surface_w + vapour_w,
            vapour_kg_s,
            draining: self.mash.drains,
            // sparge liquor is added as a flow from its pot
            ..bed::Flows::default()
        };
        let out = bed::bed_rates(bed, &flows, seen, &mut dy[m..m + bed::BED_STATES]);
        let t = self.layout.totals;
        dy[t + total::WALL_J] += flows.bed_loss_w;
        dy[t + total::SURFACE_J] += lost.surface_w;
        dy[t + total::VAPOUR_KG] += vapour_kg_s;
        dy[t + total::VAPOUR_J] += vapour_w;
        if let Some(at) = self.layout.pots[self.setting.parts.kettle] {
            Self::add(dy, at, out.outflow_water_kg_s, out.outflow_extract_kg_s, out.outflow_heat_w);
        }
        let capacity = bed_capacity_j_k(bed);
        self.tun_base_rates(y, dy, m + bed::UNDER_HEAT, under_c, 0.0, capacity);
    }
}
