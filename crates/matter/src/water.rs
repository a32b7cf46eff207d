//! Properties of pure water and air pressure; it deliberately knows nothing of what is dissolved.

use crate::nature::ATMOSPHERE_PA;
use numerics::math::{exp, ln, pow};

/// Zero of the Celsius scale, K (by definition).
pub const ZERO_C_K: f64 = 273.15;

/// Temperature from which every enthalpy of this crate is counted, °C (our choice).
pub const REFERENCE_C: f64 = 65.0;

/// Density of liquid water at 101.325 kPa.
///
/// ```text
/// ρ = (999.83952 + 16.952577 T − 7.9905127e-3 T² − 46.241757e-6 T³
///      + 105.84601e-9 T⁴ − 281.03006e-12 T⁵) / (1 + 16.887236e-3 T)
/// ```
///
/// Shape: air-free water at sea-level pressure. Within 0.006 kg/m³ of IAPWS-95.
///
/// | symbol | argument | unit | holds for   |
/// |--------|----------|------|-------------|
/// | `T`    | `temp_c` | °C   | 0 ≤ T ≤ 100 |
///
/// # Errors
/// None; outside the range the polynomial extrapolates.
///
/// # Source
/// Form of Kell, J. Chem. Eng. Data 20 (1975) 97. Checked against IAPWS-95 in `reference/checks`.
///
/// # Example
/// ```
/// assert!((matter::water::density_kg_m3(20.0) - 998.207).abs() < 0.01);
/// ```
#[inline]
pub fn density_kg_m3(temp_c: f64) -> f64 {
    let t = temp_c;
    let top = 999.839_52
        + t * (16.952_577
            + t * (-7.990_512_7e-3
                + t * (-46.241_757e-6 + t * (105.846_01e-9 - t * 281.030_06e-12))));
    top / (1.0 + 16.887_236e-3 * t)
}

/// Density of the weights that a scale is adjusted with, kg/m³ (conventional value, ISO 4787).
const WEIGHTS_KG_M3: f64 = 8000.0;

/// Litres of water for each kilogram that a scale in air shows.
///
/// ```text
/// V / m = 1000 (1 − ρ_a/8000) / (ρ_w − ρ_a)
/// ```
///
/// Shape: air lifts the water more than the steel weights that the scale was adjusted with, so a
/// kilogram on the dial is a little more than a kilogram of water.
///
/// | symbol | argument    | unit  | holds for     |
/// |--------|-------------|-------|---------------|
/// | `ρ_w`  | of `temp_c` | kg/m³ | 0 ≤ T ≤ 100   |
/// | `ρ_a`  | `air_kg_m3` | kg/m³ | 0.8 ≤ ρ ≤ 1.3 |
///
/// # Errors
/// None; as [`density_kg_m3`].
///
/// # Source
/// Buoyancy after ISO 4787, which gives about 1.0029 L/kg at 20 °C.
///
/// # Example
/// ```
/// assert!((matter::water::litres_per_scale_kg(20.0, 1.2) - 1.0029).abs() < 1e-4);
/// ```
#[inline]
pub fn litres_per_scale_kg(temp_c: f64, air_kg_m3: f64) -> f64 {
    1e3 * (1.0 - air_kg_m3 / WEIGHTS_KG_M3) / (density_kg_m3(temp_c) - air_kg_m3)
}

/// Coefficients of the heat capacity of water, J/(kg K), by rising power of °C.
const C_W: [f64; 6] =
    [4218.367, -3.150_391, 9.375_255e-2, -1.343_762_2e-3, 1.009_209_7e-5, -2.907_845e-8];

/// The same polynomial integrated from 0 °C without the factor `T`.
const H_W: [f64; 6] =
    [C_W[0], C_W[1] / 2.0, C_W[2] / 3.0, C_W[3] / 4.0, C_W[4] / 5.0, C_W[5] / 6.0];

const H_W_AT_REFERENCE: f64 = horner(&H_W, REFERENCE_C) * REFERENCE_C;

/// Polynomial by rising power.
#[inline]
pub(crate) const fn horner(c: &[f64; 6], x: f64) -> f64 {
    // in pairs, so that the products run side by side
    let x2 = x * x;
    (c[0] + x * c[1]) + x2 * ((c[2] + x * c[3]) + x2 * (c[4] + x * c[5]))
}

/// Heat capacity of liquid water.
///
/// ```text
/// c_w = 4218.367 − 3.150391 T + 9.375255e-2 T² − 1.3437622e-3 T³
///       + 1.0092097e-5 T⁴ − 2.907845e-8 T⁵
/// ```
///
/// Shape: a fit at 2 bar, within 0.6 J/(kg K) of IAPWS-95.
///
/// | symbol | argument | unit | holds for   |
/// |--------|----------|------|-------------|
/// | `T`    | `temp_c` | °C   | 0 ≤ T ≤ 105 |
///
/// # Errors
/// None; outside the range the polynomial extrapolates and means nothing above 200 °C.
///
/// # Source
/// Our fit to CoolProp 8.0.0 (IAPWS-95). Checked in `reference/checks`.
///
/// # Example
/// ```
/// assert!((matter::water::heat_capacity_j_kg_k(20.0) - 4184.0).abs() < 1.0);
/// ```
#[inline]
pub fn heat_capacity_j_kg_k(temp_c: f64) -> f64 {
    horner(&C_W, temp_c)
}

/// Slope of [`heat_capacity_j_kg_k`], J/(kg K²).
#[inline]
pub(crate) fn heat_capacity_slope_j_kg_k2(temp_c: f64) -> f64 {
    let t2 = temp_c * temp_c;
    (C_W[1] + 2.0 * C_W[2] * temp_c)
        + t2 * ((3.0 * C_W[3] + 4.0 * C_W[4] * temp_c) + t2 * (5.0 * C_W[5]))
}

/// Enthalpy of liquid water, counted from 65 °C.
///
/// ```text
/// h_w = ∫ c_w dT  from 65 °C to T       (exact integral of the heat capacity's polynomial)
/// ```
///
/// Shape: zero at 65 °C, negative below. Vapour has this plus [`evaporation_heat_j_kg`].
///
/// | symbol | argument | unit | holds for   |
/// |--------|----------|------|-------------|
/// | `T`    | `temp_c` | °C   | 0 ≤ T ≤ 105 |
///
/// # Errors
/// None; as [`heat_capacity_j_kg_k`].
///
/// # Source
/// Integral of [`heat_capacity_j_kg_k`]; the zero is our choice.
///
/// # Example
/// ```
/// let rise = matter::water::enthalpy_j_kg(66.0) - matter::water::enthalpy_j_kg(65.0);
/// assert!((rise - 4187.0).abs() < 2.0);
/// ```
#[inline]
pub fn enthalpy_j_kg(temp_c: f64) -> f64 {
    horner(&H_W, temp_c) * temp_c - H_W_AT_REFERENCE
}

/// Heat that turns water into vapour of the same temperature.
///
/// ```text
/// h_fg = 2500909 − 2375.061 T + 0.532988 T² − 1.232857e-2 T³
/// ```
///
/// Shape: a fit along saturation, within 30 J/kg of IAPWS-95.
///
/// | symbol | argument | unit | holds for   |
/// |--------|----------|------|-------------|
/// | `T`    | `temp_c` | °C   | 0 ≤ T ≤ 105 |
///
/// # Errors
/// None; outside the range the polynomial extrapolates.
///
/// # Source
/// Our fit to CoolProp 8.0.0 (IAPWS-95). Checked in `reference/checks`.
///
/// # Example
/// ```
/// assert!((matter::water::evaporation_heat_j_kg(100.0) - 2_256_404.0).abs() < 100.0);
/// ```
#[inline]
pub fn evaporation_heat_j_kg(temp_c: f64) -> f64 {
    2_500_909.0 + temp_c * (-2375.061 + temp_c * (0.532_988 - temp_c * 1.232_857e-2))
}

const T_CRITICAL_K: f64 = 647.096;
const P_CRITICAL_PA: f64 = 22.064e6;
/// Coefficients of the saturation line for `t`, `t^1.5`, `t^3`, `t^3.5`, `t^4`, `t^7.5`.
const SAT: [f64; 6] =
    [-7.859_517_83, 1.844_082_59, -11.786_649_7, 22.680_741_1, -15.961_871_9, 1.801_225_02];

/// Vapour pressure of water.
///
/// ```text
/// ln(p/22.064e6) = (647.096/T)(−7.85951783 t + 1.84408259 t^1.5 − 11.7866497 t³
///                   + 22.6807411 t^3.5 − 15.9618719 t⁴ + 1.80122502 t^7.5)
/// t = 1 − T/647.096        T in K
/// ```
///
/// Shape: over a flat surface of pure water. Within 7e-5 of CoolProp from 0 to 105 °C.
///
/// | symbol | argument | unit | holds for   |
/// |--------|----------|------|-------------|
/// | `T`    | `temp_c` | °C   | 0 ≤ T ≤ 373 |
///
/// # Errors
/// None; `NaN` above the critical temperature.
///
/// # Source
/// Wagner & Pruss, J. Phys. Chem. Ref. Data 22 (1993) 783. Checked in `reference/checks`.
///
/// # Example
/// ```
/// assert!((matter::water::saturation_pressure_pa(100.0) - 101_418.0).abs() < 20.0);
/// ```
#[inline]
pub fn saturation_pressure_pa(temp_c: f64) -> f64 {
    let temp_k = temp_c + ZERO_C_K;
    let t = 1.0 - temp_k * (1.0 / T_CRITICAL_K);
    let s = t.sqrt();
    let t2 = t * t;
    let t3 = t2 * t;
    let t3s = t3 * s;
    let t4 = t2 * t2;
    let sum =
        SAT[0] * t + SAT[1] * t * s + SAT[2] * t3 + SAT[3] * t3s + SAT[4] * t4 + SAT[5] * t4 * t3s;
    P_CRITICAL_PA * exp(T_CRITICAL_K / temp_k * sum)
}

/// Relative slope of the saturation line, `d ln p / dT`, 1/K.
fn saturation_slope_per_k(temp_k: f64) -> f64 {
    let t = 1.0 - temp_k / T_CRITICAL_K;
    let s = t.sqrt();
    let (t2, t3, t4) = (t * t, t * t * t, t * t * t * t);
    let sum = SAT[0] * t
        + SAT[1] * t * s
        + SAT[2] * t3
        + SAT[3] * t3 * s
        + SAT[4] * t4
        + SAT[5] * t4 * t3 * s;
    let slope = SAT[0]
        + 1.5 * SAT[1] * s
        + 3.0 * SAT[2] * t2
        + 3.5 * SAT[3] * t2 * s
        + 4.0 * SAT[4] * t3
        + 7.5 * SAT[5] * t3 * t3 * s;
    -(T_CRITICAL_K / temp_k * sum + slope) / temp_k
}

/// Temperature at which pure water boils under a pressure.
///
/// ```text
/// saturation_pressure(T_sat) = p        by Newton on ln p
/// ```
///
/// Shape: the inverse of [`saturation_pressure_pa`], to 1e-9 K. One degree per 3.6 kPa near 1 bar.
///
/// | symbol | argument      | unit | holds for          |
/// |--------|---------------|------|--------------------|
/// | `p`    | `pressure_pa` | Pa   | 611 ≤ p ≤ 1 000 000 |
///
/// # Errors
/// None; `NaN` for a pressure that is not positive.
///
/// # Source
/// As [`saturation_pressure_pa`].
///
/// # Example
/// ```
/// let boils_c = matter::water::saturation_temperature_c(101_325.0);
/// assert!((boils_c - 99.974).abs() < 0.01);
/// ```
pub fn saturation_temperature_c(pressure_pa: f64) -> f64 {
    // Clausius and Clapeyron with constant heat as the first guess: 4890 K is h_fg M/R at 100 °C.
    let mut temp_k = 1.0 / (1.0 / 373.124 - ln(pressure_pa / ATMOSPHERE_PA) / 4890.0);
    for _ in 0..6 {
        let error = ln(pressure_pa / saturation_pressure_pa(temp_k - ZERO_C_K));
        let step_k = error / saturation_slope_per_k(temp_k);
        temp_k += step_k;
        if step_k.abs() < 1e-6 {
            break; // the next step would be of the order of its square
        }
    }
    temp_k - ZERO_C_K
}

/// Air pressure at a height above the sea.
///
/// ```text
/// p = 101325 (1 − 2.25577e-5 z)^5.25588
/// ```
///
/// Shape: standard atmosphere, no weather; weather moves it by about 0.9 kPa (from memory).
///
/// | symbol | argument      | unit | holds for          |
/// |--------|---------------|------|--------------------|
/// | `z`    | `elevation_m` | m    | −500 ≤ z ≤ 11 000  |
///
/// # Errors
/// None; 0 above 44 331 m.
///
/// # Source
/// ISO 2533:1975, standard atmosphere. Checked in `reference/checks`.
///
/// # Example
/// ```
/// assert!((matter::water::air_pressure_pa(1000.0) - 89_875.0).abs() < 1.0);
/// ```
pub fn air_pressure_pa(elevation_m: f64) -> f64 {
    ATMOSPHERE_PA * air_pressure_share(elevation_m)
}

/// Share of the pressure at the sea that is left at a height: `(1 − 2.25577e-5 z)^5.25588`.
///
/// None is left above 44 331 m. Source as [`air_pressure_pa`].
pub fn air_pressure_share(elevation_m: f64) -> f64 {
    pow((1.0 - 2.255_77e-5 * elevation_m).max(0.0), 5.255_88)
}

/// Natural logarithm of the viscosity of water over 2.414e-5 Pa s; see [`viscosity_pa_s`].
#[inline]
pub(crate) fn ln_viscosity_ratio(temp_c: f64) -> f64 {
    std::f64::consts::LN_10 * 247.8 / (temp_c + (ZERO_C_K - 140.0))
}

/// Scale of [`ln_viscosity_ratio`], Pa s.
pub(crate) const VISCOSITY_SCALE_PA_S: f64 = 2.414e-5;

/// Viscosity of liquid water.
///
/// ```text
/// μ_w = 2.414e-5 · 10^(247.8/(T − 140))        T in K
/// ```
///
/// Shape: three constants; within 1 % of IAPWS at 20, 66 and 95 °C and 2.5 % from 0 to 100 °C.
///
/// | symbol | argument | unit | holds for   |
/// |--------|----------|------|-------------|
/// | `T`    | `temp_c` | °C   | 0 ≤ T ≤ 100 |
///
/// # Errors
/// None.
///
/// # Source
/// Constants from memory (a widely printed power law); the error is measured against IAPWS in
/// `reference/checks`.
///
/// # Example
/// ```
/// assert!((matter::water::viscosity_pa_s(20.0) - 1.002e-3).abs() < 0.01e-3);
/// ```
pub fn viscosity_pa_s(temp_c: f64) -> f64 {
    VISCOSITY_SCALE_PA_S * exp(ln_viscosity_ratio(temp_c))
}

/// Thermal conductivity of liquid water at 0.1 MPa.
///
/// ```text
/// k = 0.80201 θ^−0.32 − 0.25992 θ^−5.7 + 0.10024 θ^−12 − 0.032005 θ^−15      θ = T/300 K
/// ```
///
/// Shape: still water; stated for −20 to 110 °C within 2 %.
///
/// | symbol | argument | unit | holds for   |
/// |--------|----------|------|-------------|
/// | `T`    | `temp_c` | °C   | 0 ≤ T ≤ 110 |
///
/// # Errors
/// None.
///
/// # Source
/// Pátek et al., J. Phys. Chem. Ref. Data 38 (2009) 21 (coefficients from memory, checked against
/// IAPWS in `reference/checks`).
///
/// # Example
/// ```
/// assert!((matter::water::conductivity_w_m_k(20.0) - 0.598).abs() < 0.002);
/// ```
pub fn conductivity_w_m_k(temp_c: f64) -> f64 {
    let ln_theta = ln((temp_c + ZERO_C_K) / 300.0);
    0.802_01 * exp(-0.32 * ln_theta) - 0.259_92 * exp(-5.7 * ln_theta)
        + 0.100_24 * exp(-12.0 * ln_theta)
        - 0.032_005 * exp(-15.0 * ln_theta)
}
