//! Heat in and heat lost of one vessel: walls in still air and in wind, the open surface, a lid,
//! a flame under the base. It deliberately holds no state: how warm things become is the business
//! of whoever adds the rates up.
//!
//! Sign: a loss is positive when the vessel gives heat away; a flame's heat is positive into it.

mod base;
mod flame;
mod surface;
mod wall;

pub use base::{BASE_W_M2_K, HeatUp, base_conductance_w_m2_k, boil_superheat_k, heat_up_time_s};
pub use flame::{Flame, FlameInputs, flame_share};
pub use surface::{LID_SHARE, OpenSurface, SURFACE_W_M2_K, SurfaceInputs, shah_kg_m2_h};
pub use wall::{SideLoss, SideLossInputs};

use matter::nature::{ATMOSPHERE_PA, GRAVITY_M_S2};
use numerics::math::{cbrt, exp, pow};

/// Stefan-Boltzmann constant, W/(m² K⁴). Source: CODATA 2018 (exact since the SI of 2019).
pub const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;

/// Pressure at which air is taken for convection, Pa. Convection falls with the square root to the
/// two thirds power of it: 8 % lower at 1000 m, inside the spread of the wall multiplier.
const AIR_PRESSURE_PA: f64 = ATMOSPHERE_PA;

/// Specific gas constant of dry air, J/(kg K). Source: US Standard Atmosphere 1976.
const AIR_GAS_J_KG_K: f64 = 287.05;

/// Dry air at one temperature: conductivity, kinematic viscosity, Prandtl number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// Thermal conductivity, W/(m K).
    pub conductivity_w_m_k: f64,
    /// Kinematic viscosity, m²/s.
    pub viscosity_m2_s: f64,
    /// Prandtl number.
    pub prandtl: f64,
}

/// Dry air at standard pressure, as an ideal gas with Sutherland's viscosity.
///
/// ```text
/// μ = 1.458e-6 T^1.5/(T + 110.4)      k = 2.64638e-3 T^1.5/(T + 245.4·10^(-12/T))
/// ν = μ R T/p      Pr = c_p μ/k       c_p = 1006.5 J/(kg K)
/// ```
///
/// | symbol | argument | unit | holds for    |
/// |--------|----------|------|--------------|
/// | `T`    | `temp_k` | K    | 250 to 420 K |
///
/// # Source
/// US Standard Atmosphere 1976, equations 51 and 53. Within 1 % of CoolProp from 0 to 100 °C.
///
/// # Example
/// ```
/// let air = process::heat::air(293.15);
/// assert!((air.conductivity_w_m_k - 0.0257).abs() < 2e-4);
/// ```
pub fn air(temp_k: f64) -> Air {
    let t15 = temp_k * temp_k.sqrt();
    let viscosity_pa_s = 1.458e-6 * t15 / (temp_k + 110.4);
    let tens = exp(-12.0 / temp_k * std::f64::consts::LN_10);
    let conductivity = 2.646_38e-3 * t15 / (temp_k + 245.4 * tens);
    Air {
        conductivity_w_m_k: conductivity,
        viscosity_m2_s: viscosity_pa_s * AIR_GAS_J_KG_K * temp_k / AIR_PRESSURE_PA,
        prandtl: 1006.5 * viscosity_pa_s / conductivity,
    }
}

/// Film coefficient of an upright wall in still air.
///
/// ```text
/// Nu = {0.825 + 0.387 Ra^(1/6)/[1 + (0.492/Pr)^(9/16)]^(8/27)}²      h = Nu k/L
/// Ra = g |T_w - T_a| L³ Pr/(T_f ν²)                                   T_f film temperature, K
/// ```
///
/// Shape: a plane wall as high as it is wet; a pot is wide enough for that.
///
/// | symbol | argument   | unit | holds for     |
/// |--------|------------|------|---------------|
/// | `T_w`  | `wall_c`   | °C   | -20 to 140    |
/// | `T_a`  | `air_c`    | °C   | -20 to 45     |
/// | `L`    | `height_m` | m    | 0.02 and more |
///
/// Returns W/(m² K). No error stated; 10 % is usual for such correlations.
///
/// # Source
/// Churchill and Chu 1975, Int. J. Heat Mass Transfer 18:1323.
///
/// # Example
/// ```
/// let h = process::heat::still_air_w_m2_k(66.0, 20.0, 0.4);
/// assert!((h / 5.2948 - 1.0).abs() < 0.02);
/// ```
pub fn still_air_w_m2_k(wall_c: f64, air_c: f64, height_m: f64) -> f64 {
    let film = Film::new(wall_c, air_c);
    let shape = pow(1.0 + pow(0.492 / film.air.prandtl, 9.0 / 16.0), 8.0 / 27.0);
    let root = 0.825 + 0.387 * pow(film.rayleigh(height_m), 1.0 / 6.0) / shape;
    root * root * film.air.conductivity_w_m_k / height_m
}

/// Film coefficient of a hot plate facing down, such as a base with the fire out.
///
/// ```text
/// Nu = 0.52 Ra^(1/5)      h = Nu k/L      L = D/4 (area over perimeter)
/// ```
///
/// | symbol | argument     | unit | holds for           |
/// |--------|--------------|------|---------------------|
/// | `T_w`  | `wall_c`     | °C   | warmer than the air |
/// | `T_a`  | `air_c`      | °C   | -20 to 45           |
/// | `D`    | `diameter_m` | m    | 0.1 to 1            |
///
/// Returns W/(m² K); 4 to 6 is what is remembered for a pot base over still air, radiation within.
///
/// # Source
/// Plate facing down as printed in Incropera et al., *Fundamentals of Heat and Mass Transfer*,
/// chapter 9, after Radziemska and Lewandowski 2001 (from memory).
///
/// # Example
/// ```
/// let h = process::heat::plate_down_w_m2_k(66.0, 20.0, 0.36);
/// assert!(h > 3.0 && h < 6.0);
/// ```
pub fn plate_down_w_m2_k(wall_c: f64, air_c: f64, diameter_m: f64) -> f64 {
    let film = Film::new(wall_c, air_c);
    let length_m = 0.25 * diameter_m;
    0.52 * pow(film.rayleigh(length_m), 0.2) * film.air.conductivity_w_m_k / length_m
}

/// Film coefficient of a hot plate facing up, such as a lid.
///
/// ```text
/// Nu = 0.54 Ra^(1/4)  below Ra = 1e7,  0.15 Ra^(1/3) above      L = D/4
/// ```
///
/// | symbol | argument     | unit | holds for           |
/// |--------|--------------|------|---------------------|
/// | `T_w`  | `wall_c`     | °C   | warmer than the air |
/// | `T_a`  | `air_c`      | °C   | -20 to 45           |
/// | `D`    | `diameter_m` | m    | 0.1 to 1            |
///
/// Returns W/(m² K). No error stated.
///
/// # Source
/// McAdams 1954, *Heat Transmission*, with the length of Goldstein, Sparrow and Jones 1973 (both
/// as printed in Incropera et al., chapter 9).
///
/// # Example
/// ```
/// let h = process::heat::plate_up_w_m2_k(60.0, 20.0, 0.40);
/// assert!(h > 4.0 && h < 9.0);
/// ```
pub fn plate_up_w_m2_k(wall_c: f64, air_c: f64, diameter_m: f64) -> f64 {
    let film = Film::new(wall_c, air_c);
    let length_m = 0.25 * diameter_m;
    let ra = film.rayleigh(length_m);
    // The two branches cross at Ra = 4.7e6; the larger of them is continuous, the rule is not.
    let nu = (0.54 * pow(ra, 0.25)).max(0.15 * pow(ra, 1.0 / 3.0));
    nu * film.air.conductivity_w_m_k / length_m
}

/// Film coefficient of wind across an upright cylinder.
///
/// ```text
/// Nu = 0.3 + 0.62 Re^(1/2) Pr^(1/3)/[1 + (0.4/Pr)^(2/3)]^(1/4) [1 + (Re/282000)^(5/8)]^(4/5)
/// ```
///
/// | symbol      | argument     | unit | holds for   |
/// |-------------|--------------|------|-------------|
/// | `Re = vD/ν` | `speed_m_s`  | m/s  | 0 to 15     |
/// | `D`         | `diameter_m` | m    | 0.1 to 1    |
/// | `T_w`       | `wall_c`     | °C   | -20 to 140  |
/// | `T_a`       | `air_c`      | °C   | -20 to 45   |
///
/// Returns W/(m² K), zero without wind (the still-air law then holds alone).
///
/// # Source
/// Churchill and Bernstein 1977, J. Heat Transfer 99:300; ±20 % stated.
///
/// # Example
/// ```
/// let h = process::heat::wind_w_m2_k(1.0, 0.36, 100.0, 20.0);
/// assert!((h / 6.134 - 1.0).abs() < 0.03);
/// ```
pub fn wind_w_m2_k(speed_m_s: f64, diameter_m: f64, wall_c: f64, air_c: f64) -> f64 {
    if speed_m_s <= 0.0 {
        return 0.0;
    }
    let film = Film::new(wall_c, air_c);
    let re = speed_m_s * diameter_m / film.air.viscosity_m2_s;
    cross_flow_nusselt(re, film.air.prandtl) * film.air.conductivity_w_m_k / diameter_m
}

/// Nusselt number of a cylinder in cross flow (Churchill and Bernstein 1977), any fluid.
pub(crate) fn cross_flow_nusselt(re: f64, prandtl: f64) -> f64 {
    let shape = pow(1.0 + pow(0.4 / prandtl, 2.0 / 3.0), 0.25);
    let rough = pow(1.0 + pow(re / 282_000.0, 0.625), 0.8);
    0.3 + 0.62 * re.sqrt() * cbrt(prandtl) / shape * rough
}

/// Radiation of a grey wall to a room at air temperature, as a film coefficient.
///
/// ```text
/// h_r = ε σ (T_w² + T_a²)(T_w + T_a)      kelvin
/// ```
///
/// | symbol | argument     | unit | holds for |
/// |--------|--------------|------|-----------|
/// | `T_w`  | `wall_c`     | °C   | all       |
/// | `T_a`  | `air_c`      | °C   | all       |
/// | `ε`    | `emissivity` | 1    | 0 to 1    |
///
/// Returns W/(m² K).
///
/// # Source
/// Stefan-Boltzmann law; the room is black and at the air's temperature.
///
/// # Example
/// ```
/// let h = process::heat::radiation_w_m2_k(80.0, 20.0, 0.2);
/// assert!((h - 1.544).abs() < 0.002);
/// ```
#[inline]
pub fn radiation_w_m2_k(wall_c: f64, air_c: f64, emissivity: f64) -> f64 {
    let (w, a) = (wall_c + 273.15, air_c + 273.15);
    emissivity * STEFAN_BOLTZMANN * (w * w + a * a) * (w + a)
}

struct Film {
    air: Air,
    film_k: f64,
    lift_k: f64,
}

impl Film {
    fn new(wall_c: f64, air_c: f64) -> Self {
        let film_k = 0.5 * (wall_c + air_c) + 273.15;
        Self { air: air(film_k), film_k, lift_k: (wall_c - air_c).abs() }
    }

    fn rayleigh(&self, length_m: f64) -> f64 {
        let viscosity = self.air.viscosity_m2_s;
        let cube = length_m * length_m * length_m;
        GRAVITY_M_S2 * self.lift_k * cube * self.air.prandtl / (self.film_k * viscosity * viscosity)
    }
}
