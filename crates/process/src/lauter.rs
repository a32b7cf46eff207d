//! Run-off: how fast a bed lets wort through, how deep it lies, how washing with drains works out,
//! how acid the runnings are and when to stop. It deliberately holds no state of the bed (that is
//! [`bed`](crate::bed)) and no valve's handle: an opening arrives as an area.

mod flow;

pub use flow::{BedFlow, BedInputs, SettledFlow, flow_m3_s, settled_flow};

use crate::strike::SOLIDS_KG_M3;
use matter::nature::GRAVITY_M_S2;
use numerics::math::{exp, ln};

/// Depth of a settled bed.
///
/// ```text
/// L = b m/A
/// ```
///
/// | symbol | argument         | unit  | holds for |
/// |--------|------------------|-------|-----------|
/// | `m`    | `grist_kg`       | kg    | 0 or more |
/// | `b`    | `bed_m3_kg`      | m³/kg | 1.4e-3 to 2.3e-3; 1.8e-3 (common practice) |
/// | `A`    | `area_m2`        | m²    | positive  |
///
/// Returns m.
///
/// # Source
/// Geometry; settled volume per kg is common practice, no source.
///
/// # Example
/// ```
/// let area = std::f64::consts::FRAC_PI_4 * 0.40 * 0.40;
/// assert!((process::lauter::bed_depth_m(5.0, 1.8e-3, area) - 0.07162).abs() < 1e-5);
/// ```
pub fn bed_depth_m(grist_kg: f64, bed_m3_kg: f64, area_m2: f64) -> f64 {
    bed_m3_kg * grist_kg / area_m2
}

/// Liquid in a settled bed: everything but the undissolved matter.
///
/// ```text
/// V = b m - u/1450
/// ```
///
/// | symbol | argument         | unit  | holds for |
/// |--------|------------------|-------|-----------|
/// | `m`    | `grist_kg`       | kg    | 0 or more |
/// | `b`    | `bed_m3_kg`      | m³/kg | as [`bed_depth_m`] |
/// | `u`    | `undissolved_kg` | kg    | 0 or more |
///
/// Returns m³.
///
/// # Source
/// Volumes add; density of undissolved matter from memory.
///
/// # Example
/// ```
/// let v = process::lauter::bed_liquid_m3(5.0, 1.8e-3, 0.912);
/// assert!((v - 8.371e-3).abs() < 1e-6);
/// ```
pub fn bed_liquid_m3(grist_kg: f64, bed_m3_kg: f64, undissolved_kg: f64) -> f64 {
    (bed_m3_kg * grist_kg - undissolved_kg / SOLIDS_KG_M3).max(0.0)
}

/// Darcy's law through one layer: `Q = k A Δp/(μ L)`, m³/s.
pub fn darcy_m3_s(bed: &Layer, pressure_pa: f64) -> f64 {
    bed.permeability_m2 * bed.area_m2 * pressure_pa / (bed.viscosity_pa_s * bed.depth_m)
}

/// A layer that liquid is pressed through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layer {
    /// Permeability, m².
    pub permeability_m2: f64,
    /// Cross-section, m².
    pub area_m2: f64,
    /// Depth, m.
    pub depth_m: f64,
    /// Viscosity of the liquid, Pa s.
    pub viscosity_pa_s: f64,
}

/// Flow out of an opening alone, a bed offering nothing.
///
/// ```text
/// Q = C_d A_v √(2 g h)
/// ```
///
/// | symbol | argument     | unit | holds for |
/// |--------|--------------|------|-----------|
/// | `A_v`  | `opening_m2` | m²   | 0 or more |
/// | `C_d`  | `discharge`  | 1    | 0.3 to 0.9; 0.60 for a sharp opening |
/// | `h`    | `head_m`     | m    | zero flow below 0 |
///
/// Returns m³/s.
///
/// # Source
/// Torricelli's law; discharge coefficient of a sharp opening from hydraulics handbooks.
///
/// # Example
/// ```
/// let area = std::f64::consts::FRAC_PI_4 * 0.0127 * 0.0127;
/// let q = process::lauter::orifice_flow_m3_s(area, 0.6, 0.40);
/// assert!((6e4 * q - 12.77).abs() < 0.01); // L/min
/// ```
#[inline]
pub fn orifice_flow_m3_s(opening_m2: f64, discharge: f64, head_m: f64) -> f64 {
    discharge * opening_m2 * (2.0 * GRAVITY_M_S2 * head_m.max(0.0)).sqrt()
}

/// Time in which a level sinks through an opening alone.
///
/// ```text
/// t = A/(C_d A_v) √(2/g) (√h1 - √h2)
/// ```
///
/// | symbol | argument     | unit | holds for |
/// |--------|--------------|------|-----------|
/// | `A/(C_d A_v)` | `area_ratio` | 1 | positive |
/// | `h1`   | `from_m`     | m    | above `to_m` |
/// | `h2`   | `to_m`       | m    | 0 or more |
///
/// Returns s.
///
/// # Source
/// Torricelli's law, integrated.
///
/// # Example
/// ```
/// let ratio = 0.40 * 0.40 / (0.6 * 0.0127 * 0.0127);
/// assert!((process::lauter::orifice_time_s(ratio, 0.40, 0.05) - 305.27).abs() < 0.01);
/// ```
pub fn orifice_time_s(area_ratio: f64, from_m: f64, to_m: f64) -> f64 {
    area_ratio * (2.0 / GRAVITY_M_S2).sqrt() * (from_m.max(0.0).sqrt() - to_m.max(0.0).sqrt())
}

/// Time in which a level sinks through a bed alone.
///
/// ```text
/// t = μ L/(k ρ g) ln(h1/h2)
/// ```
///
/// | symbol | argument  | unit  | holds for |
/// |--------|-----------|-------|-----------|
/// | `k, L, μ` | `bed`  | m², m, Pa s | positive |
/// | `ρ`    | `density_kg_m3` | kg/m³ | positive |
/// | `h1`   | `from_m`  | m     | above `to_m` |
/// | `h2`   | `to_m`    | m     | positive  |
///
/// Returns s.
///
/// # Source
/// Darcy's law, integrated; the level sinks in the bed's own cross-section.
///
/// # Example
/// ```
/// use process::lauter::{Layer, bed_time_s};
/// let bed = Layer {
///     permeability_m2: 2.7e-11, area_m2: 0.1257, depth_m: 0.20, viscosity_pa_s: 0.7e-3,
/// };
/// assert!((bed_time_s(&bed, 977.76, 0.40, 0.25) / 60.0 - 4.236).abs() < 0.001);
/// ```
pub fn bed_time_s(bed: &Layer, density_kg_m3: f64, from_m: f64, to_m: f64) -> f64 {
    let rate =
        bed.permeability_m2 * density_kg_m3 * GRAVITY_M_S2 / (bed.viscosity_pa_s * bed.depth_m);
    ln(from_m / to_m) / rate
}

/// Permeability of a bed whose grist has malts without husk.
///
/// ```text
/// k0 exp(-k_husk x)
/// ```
///
/// | symbol   | argument          | unit | holds for |
/// |----------|-------------------|------|-----------|
/// | `k0`     | `permeability_m2` | m²   | positive  |
/// | `x`      | `huskless`        | 1    | 0 to 1    |
/// | `k_husk` | `sensitivity`     | 1    | 2.0 ± 0.7 (from memory) |
///
/// Returns m².
///
/// # Source
/// Our choice.
///
/// # Example
/// ```
/// let k = process::lauter::huskless_permeability_m2(5e-11, 0.5, 2.0);
/// assert!((k - 1.839e-11).abs() < 1e-14);
/// ```
pub fn huskless_permeability_m2(permeability_m2: f64, huskless: f64, sensitivity: f64) -> f64 {
    permeability_m2 * exp(-sensitivity * huskless)
}

/// Share that equal or unequal drains recover, mixed fully each time.
///
/// ```text
/// 1 - Π R/(v_i + R)
/// ```
///
/// Shape: each drain leaves the same liquid behind; nothing dissolves in between.
///
/// | symbol | argument      | unit | holds for |
/// |--------|---------------|------|-----------|
/// | `v_i`  | `drains_m3`   | m³   | 0 or more |
/// | `R`    | `retained_m3` | m³   | positive: 1.0 L per kg grist, and the unreachable |
///
/// # Source
/// Mass balance.
///
/// # Example
/// ```
/// let share = process::lauter::drained_share(&[13.5e-3, 13.5e-3], 5e-3);
/// assert!((share - 0.9270).abs() < 1e-4);
/// ```
pub fn drained_share(drains_m3: &[f64], retained_m3: f64) -> f64 {
    1.0 - drains_m3.iter().map(|v| retained_m3 / (v + retained_m3)).product::<f64>()
}

/// The most that any number of drains can recover: `1 - exp(-V/R)`.
pub fn drained_share_limit(run_off_m3: f64, retained_m3: f64) -> f64 {
    1.0 - exp(-run_off_m3 / retained_m3)
}

/// How the level over a bed behaves when two valves are set by hand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Level {
    /// Free cross-section of the tun, m².
    pub area_m2: f64,
    /// Head from the surface to the outlet, m.
    pub head_m: f64,
    /// Flow, m³/s.
    pub flow_m3_s: f64,
}

impl Level {
    /// Time in which a relative mismatch `e` of the two flows costs `drop_m` of level, s:
    /// `A dz/(Q e)`.
    pub fn drift_time_s(&self, drop_m: f64, mismatch: f64) -> f64 {
        self.area_m2 * drop_m / (self.flow_m3_s * mismatch)
    }

    /// Time constant with which the level finds its own rest behind a turbulent valve, s:
    /// `2 A h/Q`.
    pub fn self_levelling_s(&self) -> f64 {
        2.0 * self.area_m2 * self.head_m / self.flow_m3_s
    }

    /// Rise at rest after a relative mismatch, m: `h ((1 + e)² - 1)`.
    pub fn resting_rise_m(&self, mismatch: f64) -> f64 {
        self.head_m * ((1.0 + mismatch) * (1.0 + mismatch) - 1.0)
    }
}

/// What makes late runnings less acid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RunningsAcidity {
    /// pH of the mash, cooled sample.
    pub mash_ph: f64,
    /// Extract of the first wort, kg/m³.
    pub first_kg_m3: f64,
    /// Alkalinity that the sparge liquor still has at mash pH, eq/m³ (meq/L).
    pub alkalinity_eq_m3: f64,
    /// Rise by what malt alone releases, pH; 0.15 ± 0.08 (from memory).
    pub release_ph: f64,
    /// Buffer of the extract, eq/(kg pH); 0.026.
    pub extract_eq_kg_ph: f64,
    /// Buffer of the bed, eq/(m³ pH); 1.5.
    pub bed_eq_m3_ph: f64,
}

impl RunningsAcidity {
    /// A mash and a sparge liquor with the centres of everything else.
    pub fn new(mash_ph: f64, first_kg_m3: f64, alkalinity_eq_m3: f64) -> Self {
        Self {
            mash_ph,
            first_kg_m3,
            alkalinity_eq_m3,
            release_ph: 0.15,
            extract_eq_kg_ph: 0.026,
            bed_eq_m3_ph: 1.5,
        }
    }

    /// pH of runnings, cooled sample.
    ///
    /// ```text
    /// pH = pH_mash + r (1 - c/c_first) + A_left/(b_x c + b_bed)
    /// ```
    ///
    /// | symbol | argument        | unit  | holds for |
    /// |--------|-----------------|-------|-----------|
    /// | `c`    | `extract_kg_m3` | kg/m³ | 0 to `c_first` |
    ///
    /// # Source
    /// Our law; checked only against the range of 0.2 to 0.7 that a supplier's leaflet gives for
    /// last runnings.
    ///
    /// # Example
    /// ```
    /// let runnings = process::lauter::RunningsAcidity::new(5.5, 200.0, 0.5);
    /// assert!((runnings.ph(20.0) - 5.883).abs() < 0.001);
    /// ```
    #[inline]
    pub fn ph(&self, extract_kg_m3: f64) -> f64 {
        let buffer = self.extract_eq_kg_ph * extract_kg_m3 + self.bed_eq_m3_ph;
        self.mash_ph
            + self.release_ph * (1.0 - extract_kg_m3 / self.first_kg_m3)
            + self.alkalinity_eq_m3 / buffer
    }
}

/// Strength of runnings below which collecting stops paying, °P (written practice: SG 1.008).
pub const LAST_RUNNINGS_PLATO: f64 = 2.0;

/// pH of runnings, cooled sample, at which husk begins to give (common practice; at most 6.0).
pub const LAST_RUNNINGS_PH: f64 = 5.8;

/// Why a run-off ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stop {
    /// The kettle holds what was to be collected.
    Volume,
    /// The runnings are too weak to pay.
    Strength,
    /// The runnings are no longer acid enough.
    Acidity,
}

/// Where a run-off stands against its limits; negative means passed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Margins {
    /// Volume still to collect, m³.
    pub volume_m3: f64,
    /// Strength of the runnings above the limit, °P.
    pub plato: f64,
    /// pH of the runnings below the limit.
    pub ph: f64,
}

impl Margins {
    /// The first limit that is reached, in the order volume, strength, acidity.
    pub fn stop(&self) -> Option<Stop> {
        if self.volume_m3 <= 0.0 {
            Some(Stop::Volume)
        } else if self.plato <= 0.0 {
            Some(Stop::Strength)
        } else if self.ph <= 0.0 {
            Some(Stop::Acidity)
        } else {
            None
        }
    }
}
