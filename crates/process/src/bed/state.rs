//! The bed's state made from a mixed mash, and read back. It deliberately changes nothing by
//! itself: settling and mixing are what the brewer does at one moment.

use super::{
    BED_STATES, Bed, CELL_HEAT, CELLS, EXTRACT_J_KG_K, FREE_EXTRACT, FREE_HEAT, FREE_WATER, HELD,
    MOBILE, MOBILE_SHARE, REST, UNDER_EXTRACT, UNDER_HEAT, UNDER_SHARE, WATER_J_KG_K,
};
use crate::error::DomainError;

/// A mash at the moment its bed has formed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settled {
    /// Dissolved extract, kg.
    pub extract_kg: f64,
    /// Water, kg.
    pub water_kg: f64,
    /// Heat of liquid and undissolved matter over 65 °C, J.
    pub heat_j: f64,
    /// Extract that dissolves late, kg; not in `extract_kg`.
    pub rest_kg: f64,
    /// Strength under the plate over that of the rest: 0.9 after 10 min of recirculation, 0.3
    /// without (from memory).
    pub under_strength: f64,
    /// How much warmer the liquid under the plate is, K.
    pub under_warmer_k: f64,
}

/// State of a bed that has just settled from a mixed mash.
///
/// ```text
/// V_free = W/ρ_w + v_e (X + rest) - V_mobile - V_held - V_under
/// c (V_free + V_mobile + V_held + s V_under) = X        s: strength under the plate
/// ```
///
/// Shape: one concentration everywhere but under the plate; nothing is created. When the liquid
/// does not cover the bed, the mobile share starts below 1.
///
/// | symbol  | argument | unit | holds for |
/// |---------|----------|------|-----------|
/// | volumes | `bed`    | m³   | positive  |
/// | `X, W, H, rest, s` | `mash` | kg, J, 1 | 0 or more |
///
/// # Errors
/// [`DomainError`] when the liquid fills less than what the drained bed and the space under the
/// plate keep.
///
/// # Source
/// Volumes and masses add.
pub fn settle(bed: &Bed, mash: &Settled) -> Result<[f64; BED_STATES], DomainError> {
    let v_e = bed.extract_volume_m3_kg;
    let liquid_m3 =
        mash.water_kg / bed.water_density_kg_m3 + v_e * (mash.extract_kg + mash.rest_kg);
    let spare_m3 = liquid_m3 - bed.mobile_m3 - bed.held_m3 - bed.under_m3;
    let free = spare_m3.max(0.0);
    let mobile = bed.mobile_m3 + spare_m3.min(0.0);
    let enough = mobile >= 0.999 * bed.mobile_left_m3();
    if !(liquid_m3.is_finite() && enough && mash.extract_kg >= 0.0) {
        return Err(DomainError {
            field: "liquid in the mash",
            value: 1e3 * liquid_m3,
            unit: "L",
            expected: "enough to fill the drained bed and the space under the plate",
            remedy: "use more strike liquor or less grist",
        });
    }
    let under = bed.under_m3;
    let c = mash.extract_kg / (free + mobile + bed.held_m3 + mash.under_strength * under);
    let n = CELLS as f64;
    let rho = bed.water_density_kg_m3;

    let mut y = [0.0; BED_STATES];
    y[FREE_EXTRACT] = c * free;
    y[FREE_WATER] = rho * (free - v_e * c * free);
    for i in 0..CELLS {
        y[MOBILE + i] = c * mobile / n;
        y[HELD + i] = c * bed.held_m3 / n;
    }
    y[MOBILE_SHARE] = mobile / bed.mobile_m3;
    y[UNDER_EXTRACT] = c * mash.under_strength * under;
    y[UNDER_SHARE] = 1.0;
    y[REST] = mash.rest_kg;
    spread_heat(bed, mash, &mut y);
    Ok(y)
}

/// The whole tun stirred until it is uniform and settled again, as between two drains.
///
/// Extract, water and heat are kept; the late extract stays late. Liquor that was added to the
/// free liquid is mixed in with the rest.
///
/// # Errors
/// As [`settle`]: only when less liquid is there than the drained bed keeps.
pub fn mix(bed: &Bed, y: &[f64]) -> Result<[f64; BED_STATES], DomainError> {
    settle(
        bed,
        &Settled {
            extract_kg: total_extract_kg(y) - y[REST],
            water_kg: total_water_kg(bed, y),
            heat_j: total_heat_j(y),
            rest_kg: y[REST],
            under_strength: 1.0,
            under_warmer_k: 0.0,
        },
    )
}

/// Shares the heat so that all is at one temperature, the liquid under the plate warmer by what
/// was asked.
fn spread_heat(bed: &Bed, mash: &Settled, y: &mut [f64; BED_STATES]) {
    let capacity = capacities(bed, y);
    let total = capacity.free + capacity.under + capacity.cells.iter().sum::<f64>();
    let lift_k = (mash.heat_j - capacity.under * mash.under_warmer_k) / total;
    y[FREE_HEAT] = capacity.free * lift_k;
    for i in 0..CELLS {
        y[CELL_HEAT + i] = capacity.cells[i] * lift_k;
    }
    y[UNDER_HEAT] = capacity.under * (lift_k + mash.under_warmer_k);
}

struct Capacities {
    free: f64,
    cells: [f64; CELLS],
    under: f64,
}

fn capacities(bed: &Bed, y: &[f64]) -> Capacities {
    let (rho, v_e) = (bed.water_density_kg_m3, bed.extract_volume_m3_kg);
    let n = CELLS as f64;
    let liquid = |volume_m3: f64, extract_kg: f64, own_m3: f64| {
        WATER_J_KG_K * rho * (volume_m3 - v_e * extract_kg - own_m3) + EXTRACT_J_KG_K * extract_kg
    };
    let mobile_m3 = y[MOBILE_SHARE] * bed.mobile_m3;
    let cell_m3 = (mobile_m3 + bed.held_m3) / n;
    Capacities {
        free: WATER_J_KG_K * y[FREE_WATER] + EXTRACT_J_KG_K * y[FREE_EXTRACT],
        cells: std::array::from_fn(|i| {
            liquid(cell_m3, y[MOBILE + i] + y[HELD + i], v_e * y[REST] / n)
                + bed.solids_heat_j_k / n
        }),
        under: liquid(under_m3(bed, y), y[UNDER_EXTRACT], 0.0),
    }
}

/// Volume of the free liquid above the bed, m³.
#[inline]
pub fn free_m3(bed: &Bed, y: &[f64]) -> f64 {
    y[FREE_WATER] / bed.water_density_kg_m3 + bed.extract_volume_m3_kg * y[FREE_EXTRACT]
}

/// Volume of the liquid under the plate, m³.
#[inline]
pub fn under_m3(bed: &Bed, y: &[f64]) -> f64 {
    y[UNDER_SHARE] * bed.under_m3
}

/// Volume that can still be drawn, m³: free, mobile down to what the bed keeps, under the plate
/// down to what the outlet cannot reach.
pub fn drainable_m3(bed: &Bed, y: &[f64]) -> f64 {
    let mobile = (y[MOBILE_SHARE] * bed.mobile_m3 - bed.mobile_left_m3()).max(0.0);
    let under = (under_m3(bed, y) - bed.under_left_m3()).max(0.0);
    free_m3(bed, y).max(0.0) + mobile + under
}

/// Extract in the tun, late extract included, kg.
pub fn total_extract_kg(y: &[f64]) -> f64 {
    let cells: f64 = y[MOBILE..HELD + CELLS].iter().sum();
    y[FREE_EXTRACT] + cells + y[UNDER_EXTRACT] + y[REST]
}

/// Water in the tun, kg.
pub fn total_water_kg(bed: &Bed, y: &[f64]) -> f64 {
    let cells: f64 = y[MOBILE..HELD + CELLS].iter().sum();
    let volume = y[MOBILE_SHARE] * bed.mobile_m3 + bed.held_m3 + under_m3(bed, y);
    let dissolved = cells + y[UNDER_EXTRACT] + y[REST];
    y[FREE_WATER] + bed.water_density_kg_m3 * (volume - bed.extract_volume_m3_kg * dissolved)
}

/// Heat of all liquid and solids in the tun over 65 °C, J.
pub fn total_heat_j(y: &[f64]) -> f64 {
    y[FREE_HEAT] + y[CELL_HEAT..CELL_HEAT + CELLS].iter().sum::<f64>() + y[UNDER_HEAT]
}

/// Extract per volume: free liquid, mobile liquid of each cell, under the plate, kg/m³.
pub fn extract_kg_m3(bed: &Bed, y: &[f64]) -> (f64, [f64; CELLS], f64) {
    let cell_m3 = y[MOBILE_SHARE].max(1e-6) * bed.mobile_m3 / CELLS as f64;
    (
        y[FREE_EXTRACT] / free_m3(bed, y).max(1e-9),
        std::array::from_fn(|i| y[MOBILE + i] / cell_m3),
        y[UNDER_EXTRACT] / under_m3(bed, y).max(1e-9),
    )
}

/// Temperature over 65 °C: free liquid, each cell, under the plate, K.
pub fn lift_k(bed: &Bed, y: &[f64]) -> (f64, [f64; CELLS], f64) {
    let capacity = capacities(bed, y);
    (
        y[FREE_HEAT] / capacity.free.max(1e-9),
        std::array::from_fn(|i| y[CELL_HEAT + i] / capacity.cells[i]),
        y[UNDER_HEAT] / capacity.under.max(1e-9),
    )
}
