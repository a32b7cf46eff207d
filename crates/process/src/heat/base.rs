//! From the base into the liquid, and the closed form of heating up. It deliberately treats the
//! liquid as one temperature.

use numerics::math::{cbrt, ln};

/// Heat transfer from a base into convecting liquid, W/(m² K): our choice inside the 500 to 1500
/// remembered for a heated base under water.
pub const BASE_W_M2_K: f64 = 1000.0;

/// Heat transfer from a base into liquid that convects, W/(m² K); see [`BASE_W_M2_K`].
pub fn base_conductance_w_m2_k() -> f64 {
    BASE_W_M2_K
}

/// How much hotter than the boiling liquid a base must be to pass a flux.
///
/// ```text
/// q = μ h_fg [g (ρ_l - ρ_v)/σ]^(1/2) [c_p ΔT/(C_sf h_fg Pr)]³      solved for ΔT
/// ```
///
/// Shape: pool boiling of water at 100 °C, clean surface.
///
/// | symbol | argument       | unit | holds for        |
/// |--------|----------------|------|------------------|
/// | `q`    | `flux_w_m2`    | W/m² | 0 to 300 000     |
/// | `C_sf` | `surface_factor` | 1  | 0.006 to 0.015; 0.013 for stainless |
///
/// Returns K. The relation is good to 30 % in `ΔT`, as its author says.
///
/// # Source
/// Rohsenow 1952, Trans. ASME 74:969; water properties at 100 °C from IAPWS-95.
///
/// # Example
/// ```
/// let rise_k = process::heat::boil_superheat_k(20e3, 0.013);
/// assert!((rise_k / 5.23 - 1.0).abs() < 0.02);
/// ```
pub fn boil_superheat_k(flux_w_m2: f64, surface_factor: f64) -> f64 {
    const VISCOSITY_PA_S: f64 = 2.818e-4;
    const LATENT_J_KG: f64 = 2.2564e6;
    const BUOYANCY_PER_M: f64 = 399.3; // sqrt(g (958.35 - 0.598)/0.05892)
    const HEAT_J_KG_K: f64 = 4216.0;
    const PRANDTL: f64 = 1.753;
    let root = cbrt(flux_w_m2.max(0.0) / (VISCOSITY_PA_S * LATENT_J_KG * BUOYANCY_PER_M));
    root * surface_factor * LATENT_J_KG * PRANDTL / HEAT_J_KG_K
}

/// A body that is heated at constant power and loses in proportion to its lift over the air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatUp {
    /// Heat capacity, J/K.
    pub capacity_j_k: f64,
    /// Loss per kelvin over the air, W/K.
    pub ua_w_k: f64,
    /// Power that reaches it, W.
    pub power_w: f64,
    /// Air temperature, °C.
    pub air_c: f64,
}

/// Time from `from_c` to `to_c` for a [`HeatUp`], in closed form.
///
/// ```text
/// t = -(C/UA) ln[(P - UA(T2 - T_a))/(P - UA(T1 - T_a))]      C (T2 - T1)/P without loss
/// ```
///
/// | symbol | argument | unit | holds for |
/// |--------|----------|------|-----------|
/// | `C, UA, P, T_a` | `body` | J/K, W/K, W, °C | `C > 0` |
/// | `T1`   | `from_c` | °C   | all       |
/// | `T2`   | `to_c`   | °C   | all       |
///
/// Returns seconds; infinite when the power never gets there. With no power this is Newton cooling.
///
/// # Source
/// First-order heat balance, integrated.
///
/// # Example
/// ```
/// use process::heat::{HeatUp, heat_up_time_s};
/// let kettle = HeatUp { capacity_j_k: 28.0 * 4000.0, ua_w_k: 8.0, power_w: 3500.0, air_c: 20.0 };
/// assert!((heat_up_time_s(&kettle, 66.0, 100.0) - 1271.9).abs() < 0.5);
/// ```
pub fn heat_up_time_s(body: &HeatUp, from_c: f64, to_c: f64) -> f64 {
    if body.ua_w_k <= 0.0 {
        let time_s = body.capacity_j_k * (to_c - from_c) / body.power_w;
        return if time_s >= 0.0 { time_s } else { f64::INFINITY };
    }
    let net = |temp_c: f64| body.power_w - body.ua_w_k * (temp_c - body.air_c);
    let ratio = net(to_c) / net(from_c);
    if ratio > 0.0 && ratio <= 1.0 {
        -body.capacity_j_k / body.ua_w_k * ln(ratio)
    } else {
        f64::INFINITY
    }
}
