//! Properties of wort from its extract and temperature, and what two instruments show of it;
//! it deliberately knows no malt and holds no spread of any constant.
//!
//! Extract is a mass fraction `w` (kg/kg) here; degrees Plato are `100 w`.

mod attenuation;
mod heat;
mod reading;

pub use attenuation::{
    ETHANOL_SG, alcohol_percent_mass, alcohol_percent_volume, apparent_extract_plato,
    fermentability_from_fermentable_share, fermentable_share_from_fermentability,
    original_extract_plato, real_extract_plato,
};
pub use heat::{
    BOILING_RISE_FACTOR, boiling_point_c, boiling_rise_k, extract_enthalpy_j_kg,
    heat_capacity_j_kg_k, mixture_enthalpy_j, solid_enthalpy_j_kg, solid_heat_capacity_j_kg_k,
    temperature_c,
};
pub use reading::{
    Hydrometer, Refractometer, brix_from_refractive_index, refractive_index_from_brix,
};

use numerics::math::exp;
use quantity::{SUCROSE_DENSITY_20C, WATER_DENSITY_20C_KG_M3};

use crate::water;

/// Excess density of sucrose solution over water away from 20 °C, kg/m³ for w, w², …: rows for
/// the powers 1 to 4 of x = (T − 20)/100; a missing power of w is zero.
const EXCESS_X1: [f64; 5] = [-46.2720, -7.1720, 1.1597, 5.1126, 17.5254];
const EXCESS_X2: [f64; 4] = [59.7712, 7.2491, 12.3630, -35.4791];
const EXCESS_X3: [f64; 3] = [-47.2207, -21.6977, 27.6301];
const EXCESS_X4: [f64; 2] = [18.3184, 12.3081];

/// Density of wort, taken as that of sucrose solution of the same extract.
///
/// ```text
/// ρ(w, T) = ρ_w(T) + Σ_j x^j Σ_i k[j][i] w^(i+1)        x = (T − 20)/100
/// k[0] = 385.1761, 135.3705, 40.9299, −3.9643, 13.4853, −17.2890
/// k[1] = −46.2720, −7.1720, 1.1597, 5.1126, 17.5254
/// k[2] = 59.7712, 7.2491, 12.3630, −35.4791
/// k[3] = −47.2207, −21.6977, 27.6301
/// k[4] = 18.3184, 12.3081
/// ```
///
/// Shape: exact by definition of the Plato scale at 20 °C; hot wort may expand a little otherwise
/// than sucrose, at most 0.07 % of volume at 12 °P.
///
/// | symbol | argument           | unit  | holds for    |
/// |--------|--------------------|-------|--------------|
/// | `w`    | `extract_fraction` | kg/kg | 0 ≤ w ≤ 0.30 |
/// | `T`    | `temp_c`           | °C    | 0 ≤ T ≤ 100  |
///
/// # Errors
/// None; outside the range the polynomial extrapolates.
///
/// # Source
/// ICUMSA sucrose density, as in Bubnik et al., *Sugar Technologists Manual*, Bartens 1995.
/// Checked in `reference/checks`, also against a handbook's gravity table.
///
/// # Example
/// ```
/// assert!((matter::wort::density_kg_m3(0.12, 20.0) - 1046.444).abs() < 0.01);
/// ```
#[inline]
pub fn density_kg_m3(extract_fraction: f64, temp_c: f64) -> f64 {
    let w = extract_fraction;
    if w == 0.0 {
        return water::density_kg_m3(temp_c);
    }
    let x = (temp_c - 20.0) * 0.01;
    let (a, b) = (rising(&EXCESS_X1, w), rising(&EXCESS_X2, w));
    let (c, d) = (rising(&EXCESS_X3, w), rising(&EXCESS_X4, w));
    water::density_kg_m3(temp_c)
        + w * (rising(&SUCROSE_DENSITY_20C, w) + x * (a + x * (b + x * (c + x * d))))
}

#[inline]
fn rising<const N: usize>(k: &[f64; N], w: f64) -> f64 {
    k.iter().rev().fold(0.0, |sum, k| sum * w + k)
}

/// Volume of a mass of water with dissolved extract.
///
/// ```text
/// V = (m_w + m_e)/ρ(w, T)        w = m_e/(m_w + m_e)
/// ```
///
/// Shape: mixing adds masses, never volumes. No mass gives no volume.
///
/// | symbol | argument     | unit | holds for        |
/// |--------|--------------|------|------------------|
/// | `m_w`  | `water_kg`   | kg   | 0 ≤ m_w          |
/// | `m_e`  | `extract_kg` | kg   | 0 ≤ m_e, w ≤ 0.3 |
/// | `T`    | `temp_c`     | °C   | 0 ≤ T ≤ 100      |
///
/// # Errors
/// None; 0 if there is no mass.
///
/// # Source
/// Mass balance with [`density_kg_m3`].
///
/// # Example
/// ```
/// let hot_m3 = matter::wort::volume_m3(30.0, 0.0, 72.0);
/// assert!((hot_m3 - 30.7e-3).abs() < 0.05e-3);
/// ```
#[inline]
pub fn volume_m3(water_kg: f64, extract_kg: f64, temp_c: f64) -> f64 {
    let mass_kg = water_kg + extract_kg;
    if mass_kg <= 0.0 {
        return 0.0;
    }
    mass_kg / density_kg_m3(extract_kg / mass_kg, temp_c)
}

/// Extract of wort from its density at 20 °C.
///
/// ```text
/// ρ(w, 20) = ρ_20
/// ```
///
/// Shape: the inverse of [`density_kg_m3`](fn@density_kg_m3) at 20 °C. Lighter than water gives
/// w < 0; the result is held to −0.1 … 1.
///
/// | symbol | argument        | unit  | holds for          |
/// |--------|-----------------|-------|--------------------|
/// | `ρ_20` | `density_kg_m3` | kg/m³ | 994 ≤ ρ_20 ≤ 1130  |
///
/// # Errors
/// None.
///
/// # Source
/// As [`density_kg_m3`](fn@density_kg_m3).
///
/// # Example
/// ```
/// let w = matter::wort::extract_from_density_20(1046.444);
/// assert!((w - 0.12).abs() < 1e-5);
/// ```
pub fn extract_from_density_20(density_kg_m3: f64) -> f64 {
    quantity::extract_from_specific_gravity(density_kg_m3 / WATER_DENSITY_20C_KG_M3)
}

/// Specific gravity 20/20 (ratio of true densities) from degrees Plato.
///
/// ```text
/// S = ρ(P/100, 20)/ρ_w(20)
/// ```
///
/// Shape: not weights in air; the difference is at most 0.02 °P below 20 °P.
///
/// | symbol | argument | unit | holds for    |
/// |--------|----------|------|--------------|
/// | `P`    | `plato`  | °P   | −1 ≤ P ≤ 30  |
///
/// # Errors
/// None.
///
/// # Source
/// As [`density_kg_m3`].
///
/// # Example
/// ```
/// assert!((matter::wort::sg_from_plato(12.0) - 1.04833).abs() < 1e-5);
/// ```
pub fn sg_from_plato(plato: f64) -> f64 {
    quantity::specific_gravity_from_extract(plato * 0.01)
}

/// Degrees Plato from specific gravity 20/20 (ratio of true densities).
///
/// ```text
/// ρ(P/100, 20) = S ρ_w(20)
/// ```
///
/// Shape: the inverse of [`sg_from_plato`].
///
/// | symbol | argument | unit | holds for         |
/// |--------|----------|------|-------------------|
/// | `S`    | `sg`     | 1    | 0.996 ≤ S ≤ 1.130 |
///
/// # Errors
/// None.
///
/// # Source
/// As [`density_kg_m3`].
///
/// # Example
/// ```
/// assert!((matter::wort::plato_from_sg(1.048) - 11.922).abs() < 0.002);
/// ```
pub fn plato_from_sg(sg: f64) -> f64 {
    100.0 * quantity::extract_from_specific_gravity(sg)
}

/// Viscosity of wort.
///
/// ```text
/// μ = μ_w(T) exp(κ c(T) P/(100 − P))        c = 2.70 exp(−505 (1/293.15 − 1/T))      T in K
/// ```
///
/// Shape: clear liquid, no particles. `κ` is 1 for sucrose, 1.65 for barley wort, 2.3 for wheat,
/// 2.8 to 3.2 for oats and rye. Within 3 % of handbook sucrose values at 20 to 40 °P and 20 to
/// 60 °C; above 60 °C extrapolated.
///
/// | symbol | argument | unit | holds for   |
/// |--------|----------|------|-------------|
/// | `P`    | `plato`  | °P   | 0 ≤ P ≤ 40  |
/// | `T`    | `temp_c` | °C   | 0 ≤ T ≤ 100 |
/// | `κ`    | `kappa`  | 1    | 1 ≤ κ ≤ 3.5 |
///
/// # Errors
/// None.
///
/// # Source
/// Our form, fitted to handbook viscosities of sucrose solutions; 24 over 16 °P at 75 °C agrees
/// with Hansen 2008, talk to the MBAA on lauter tun theory. Wheat, oat and rye: common practice.
///
/// # Example
/// ```
/// let mu_pa_s = matter::wort::viscosity_pa_s(12.0, 75.0, 1.65);
/// assert!((mu_pa_s - 0.59e-3).abs() < 0.01e-3);
/// ```
#[inline]
pub fn viscosity_pa_s(plato: f64, temp_c: f64, kappa: f64) -> f64 {
    let temp_k = temp_c + water::ZERO_C_K;
    let c = 2.70 * exp(-505.0 * (1.0 / 293.15 - 1.0 / temp_k));
    water::VISCOSITY_SCALE_PA_S
        * exp(water::ln_viscosity_ratio(temp_c) + kappa * c * plato / (100.0 - plato))
}

/// Thermal conductivity of wort.
///
/// ```text
/// k = k_w(T) (1 − 0.54 w)
/// ```
///
/// Shape: still wort; no error stated.
///
/// | symbol | argument           | unit  | holds for   |
/// |--------|--------------------|-------|-------------|
/// | `w`    | `extract_fraction` | kg/kg | 0 ≤ w ≤ 0.3 |
/// | `T`    | `temp_c`           | °C    | 0 ≤ T ≤ 100 |
///
/// # Errors
/// None.
///
/// # Source
/// Factor after Riedel 1949 for sugar solutions, from memory; water as
/// [`water::conductivity_w_m_k`].
///
/// # Example
/// ```
/// assert!((matter::wort::conductivity_w_m_k(0.2, 20.0) - 0.534).abs() < 0.01);
/// ```
pub fn conductivity_w_m_k(extract_fraction: f64, temp_c: f64) -> f64 {
    water::conductivity_w_m_k(temp_c) * (1.0 - 0.54 * extract_fraction)
}
