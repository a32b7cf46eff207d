//! Heat held by wort, by undissolved malt and by metal in one temperature, and the boiling point;
//! it deliberately knows no heat flow.

use crate::water::{self, REFERENCE_C};

/// Heat capacity of dissolved extract over that of water: `−2511 + 7.5 T` J/(kg K).
const EXTRACT_C0_J_KG_K: f64 = -2511.0;
const EXTRACT_C1_J_KG_K2: f64 = 7.5;
/// Dry malt against water of 4186 J/(kg K) (common practice).
const SOLID_C_J_KG_K: f64 = 0.38 * 4186.0;

/// Heat capacity of wort.
///
/// ```text
/// c_p = c_w(T) + w (−2511 + 7.5 T)
/// ```
///
/// Shape: the sugar industry's rule `4184 − 2971 w + 460 w + 7.5 w T` with water's own `c_w`, so
/// that both meet at w = 0. No measured wort was seen; we take sd 1 % (from memory).
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
/// Sugar-industry formula as printed in Llano, dissertation 2005. Checked in `reference/checks`.
///
/// # Example
/// ```
/// assert!((matter::wort::heat_capacity_j_kg_k(0.12, 66.0) - 3942.0).abs() < 5.0);
/// ```
pub fn heat_capacity_j_kg_k(extract_fraction: f64, temp_c: f64) -> f64 {
    water::heat_capacity_j_kg_k(temp_c)
        + extract_fraction * (EXTRACT_C0_J_KG_K + EXTRACT_C1_J_KG_K2 * temp_c)
}

/// Enthalpy of dissolved extract, counted from 65 °C.
///
/// ```text
/// h_e = ∫ (c_w − 2511 + 7.5 T) dT  from 65 °C to T
/// ```
///
/// Shape: per kg of extract, so that `m_w h_w + m_e h_e` is the enthalpy of wort.
///
/// | symbol | argument | unit | holds for   |
/// |--------|----------|------|-------------|
/// | `T`    | `temp_c` | °C   | 0 ≤ T ≤ 105 |
///
/// # Errors
/// None.
///
/// # Source
/// Integral of [`heat_capacity_j_kg_k`].
///
/// # Example
/// ```
/// assert_eq!(matter::wort::extract_enthalpy_j_kg(65.0), 0.0);
/// ```
#[inline]
pub fn extract_enthalpy_j_kg(temp_c: f64) -> f64 {
    water::enthalpy_j_kg(temp_c) + extract_excess_j_kg(temp_c)
}

#[inline]
fn extract_excess_j_kg(temp_c: f64) -> f64 {
    let mean = EXTRACT_C0_J_KG_K + 0.5 * EXTRACT_C1_J_KG_K2 * (temp_c + REFERENCE_C);
    mean * (temp_c - REFERENCE_C)
}

/// Heat capacity of undissolved malt, dry.
///
/// ```text
/// c_s = 0.38 · 4186
/// ```
///
/// Shape: the malt's own moisture counts as water, not here.
///
/// | symbol | argument | unit     | holds for    |
/// |--------|----------|----------|--------------|
/// | `c_s`  | (result) | J/(kg K) | 10 to 100 °C |
///
/// # Errors
/// None.
///
/// # Source
/// Common practice in mash heat balances, no source.
pub const fn solid_heat_capacity_j_kg_k() -> f64 {
    SOLID_C_J_KG_K
}

/// Enthalpy of undissolved malt, dry, counted from 65 °C.
///
/// ```text
/// h_s = 0.38 · 4186 (T − 65)
/// ```
///
/// Shape: heat of wetting is not in it.
///
/// | symbol | argument | unit | holds for   |
/// |--------|----------|------|-------------|
/// | `T`    | `temp_c` | °C   | 0 ≤ T ≤ 105 |
///
/// # Errors
/// None.
///
/// # Source
/// As [`solid_heat_capacity_j_kg_k`].
///
/// # Example
/// ```
/// assert!((matter::wort::solid_enthalpy_j_kg(75.0) - 15_906.8).abs() < 0.1);
/// ```
#[inline]
pub fn solid_enthalpy_j_kg(temp_c: f64) -> f64 {
    SOLID_C_J_KG_K * (temp_c - REFERENCE_C)
}

/// Enthalpy of water, extract, undissolved malt and metal at one temperature, from 65 °C.
///
/// ```text
/// H = m_w h_w(T) + m_e h_e(T) + m_s h_s(T) + C_m (T − 65)
/// ```
///
/// Shape: all at one temperature.
///
/// | symbol | argument     | unit | holds for   |
/// |--------|--------------|------|-------------|
/// | `T`    | `temp_c`     | °C   | 0 ≤ T ≤ 105 |
/// | `m_w`  | `water_kg`   | kg   | 0 ≤ m_w     |
/// | `m_e`  | `extract_kg` | kg   | 0 ≤ m_e     |
/// | `m_s`  | `solids_kg`  | kg   | 0 ≤ m_s     |
/// | `C_m`  | `metal_j_k`  | J/K  | 0 ≤ C_m     |
///
/// # Errors
/// None.
///
/// # Source
/// Sum of the parts above.
///
/// # Example
/// ```
/// assert_eq!(matter::wort::mixture_enthalpy_j(65.0, 10.0, 1.0, 0.5, 2000.0), 0.0);
/// ```
#[inline]
pub fn mixture_enthalpy_j(
    temp_c: f64,
    water_kg: f64,
    extract_kg: f64,
    solids_kg: f64,
    metal_j_k: f64,
) -> f64 {
    (water_kg + extract_kg) * water::enthalpy_j_kg(temp_c)
        + extract_kg * extract_excess_j_kg(temp_c)
        + (solids_kg * SOLID_C_J_KG_K + metal_j_k) * (temp_c - REFERENCE_C)
}

/// Lowest and highest temperature that [`temperature_c`] returns, °C: the span in which the heat
/// capacity of water stays positive with room to spare.
const SPAN_C: [f64; 2] = [-50.0, 200.0];
/// A step of the inversion after which no further one is needed, K.
const CLOSE_K: f64 = 0.1;

/// Temperature of water, extract, undissolved malt and metal from their common enthalpy.
///
/// ```text
/// m_w h_w(T) + m_e h_e(T) + m_s h_s(T) + C_m (T − 65) = H
/// step = d (1 − C' d/2C)      d = (H − H(T))/C      from T_0, until d < 0.1 K
/// ```
///
/// Shape: the inverse of [`mixture_enthalpy_j`], to 1e-8 K; one step from a guess within 0.1 K,
/// two within some kelvin. Held to −50 … 200 °C.
///
/// | symbol | argument     | unit | holds for        |
/// |--------|--------------|------|------------------|
/// | `H`    | `enthalpy_j` | J    | finite           |
/// | `m_w`  | `water_kg`   | kg   | 0 ≤ m_w          |
/// | `m_e`  | `extract_kg` | kg   | 0 ≤ m_e          |
/// | `m_s`  | `solids_kg`  | kg   | 0 ≤ m_s          |
/// | `C_m`  | `metal_j_k`  | J/K  | 0 ≤ C_m          |
/// | `T_0`  | `guess_c`    | °C   | −50 ≤ T_0 ≤ 200  |
///
/// # Errors
/// None; without any heat capacity the guess comes back.
///
/// # Source
/// Inverse of [`mixture_enthalpy_j`].
///
/// # Example
/// ```
/// use matter::wort::{mixture_enthalpy_j, temperature_c};
/// let h_j = mixture_enthalpy_j(72.5, 10.0, 1.0, 0.5, 2000.0);
/// assert!((temperature_c(h_j, 10.0, 1.0, 0.5, 2000.0, 20.0) - 72.5).abs() < 1e-8);
/// ```
#[inline]
pub fn temperature_c(
    enthalpy_j: f64,
    water_kg: f64,
    extract_kg: f64,
    solids_kg: f64,
    metal_j_k: f64,
    guess_c: f64,
) -> f64 {
    let liquid_kg = water_kg + extract_kg;
    let dry_j_k = solids_kg * SOLID_C_J_KG_K + metal_j_k;
    let mut temp_c = guess_c.clamp(SPAN_C[0], SPAN_C[1]);
    for _ in 0..12 {
        let excess_j_kg_k = EXTRACT_C0_J_KG_K + EXTRACT_C1_J_KG_K2 * temp_c;
        let capacity_j_k =
            liquid_kg * water::heat_capacity_j_kg_k(temp_c) + extract_kg * excess_j_kg_k + dry_j_k;
        if capacity_j_k <= 0.0 {
            return guess_c;
        }
        let held_j = mixture_enthalpy_j(temp_c, water_kg, extract_kg, solids_kg, metal_j_k);
        let bend_j_k2 = liquid_kg * water::heat_capacity_slope_j_kg_k2(temp_c)
            + extract_kg * EXTRACT_C1_J_KG_K2;
        let per_j_k = 1.0 / capacity_j_k;
        let straight_k = (enthalpy_j - held_j) * per_j_k;
        // Newton's step, bent along with the capacity; what remains is of the order of 1e-7 step³
        let bend = (0.5 * bend_j_k2 * per_j_k * straight_k).clamp(-0.1, 0.1);
        temp_c = (temp_c + straight_k * (1.0 - bend)).clamp(SPAN_C[0], SPAN_C[1]);
        if straight_k.abs() < CLOSE_K {
            break;
        }
    }
    temp_c
}

/// Factor on the ideal rise of the boiling point for wort (from memory, geometric sd 1.4); see
/// [`boiling_point_c`].
pub const BOILING_RISE_FACTOR: f64 = 1.1;

/// Rise of the boiling point by dissolved sucrose at infinite dilution.
///
/// ```text
/// ΔT_b = 0.5128 · 1000 w/((1 − w) 342.3)
/// ```
///
/// Shape: ebullioscopic constant of water 0.5128 K kg/mol, sucrose 342.3 g/mol.
///
/// | symbol | argument           | unit  | holds for   |
/// |--------|--------------------|-------|-------------|
/// | `w`    | `extract_fraction` | kg/kg | 0 ≤ w ≤ 0.3 |
///
/// # Errors
/// None.
///
/// # Source
/// Ebullioscopic constant of water, handbook. Checked in `reference/checks`.
///
/// # Example
/// ```
/// assert!((matter::wort::boiling_rise_k(0.12) - 0.2043).abs() < 0.001);
/// ```
pub fn boiling_rise_k(extract_fraction: f64) -> f64 {
    0.5128 * 1000.0 * extract_fraction / ((1.0 - extract_fraction) * 342.3)
}

/// Boiling point of wort.
///
/// ```text
/// T_b = T_sat(p) + f_b ΔT_b        f_b = 1.1
/// ```
///
/// Shape: at the surface; `f_b` is for wort's smaller molecules (geometric sd 1.4).
///
/// | symbol | argument           | unit  | holds for           |
/// |--------|--------------------|-------|---------------------|
/// | `p`    | `pressure_pa`      | Pa    | 611 ≤ p ≤ 1 000 000 |
/// | `w`    | `extract_fraction` | kg/kg | 0 ≤ w ≤ 0.3         |
///
/// # Errors
/// None; `NaN` for a pressure that is not positive.
///
/// # Source
/// [`water::saturation_temperature_c`] and [`boiling_rise_k`]; `f_b` from memory, a prior.
///
/// # Example
/// ```
/// let boils_c = matter::wort::boiling_point_c(101_325.0, 0.12);
/// assert!((boils_c - 100.20).abs() < 0.02);
/// ```
pub fn boiling_point_c(pressure_pa: f64, extract_fraction: f64) -> f64 {
    water::saturation_temperature_c(pressure_pa)
        + BOILING_RISE_FACTOR * boiling_rise_k(extract_fraction)
}
