//! What a coil is good for, from its tube, its flow and how the wort moves past it. It
//! deliberately ignores the metal's resistance (3 to 6 % for stainless) and any fouling.

use crate::heat::cross_flow_nusselt;
use matter::nature::GRAVITY_M_S2;
use matter::water;
use numerics::math::{ln, pow};

/// Water at one temperature, for the film laws.
#[derive(Clone, Copy)]
struct Film {
    density_kg_m3: f64,
    viscosity_pa_s: f64,
    conductivity_w_m_k: f64,
    prandtl: f64,
    expansion_per_k: f64,
}

impl Film {
    fn at(temp_c: f64) -> Self {
        let density_kg_m3 = water::density_kg_m3(temp_c);
        let viscosity_pa_s = water::viscosity_pa_s(temp_c);
        let conductivity_w_m_k = water::conductivity_w_m_k(temp_c);
        let slope = water::density_kg_m3(temp_c + 0.5) - water::density_kg_m3(temp_c - 0.5);
        Self {
            density_kg_m3,
            viscosity_pa_s,
            conductivity_w_m_k,
            prandtl: water::heat_capacity_j_kg_k(temp_c) * viscosity_pa_s / conductivity_w_m_k,
            expansion_per_k: -slope / density_kg_m3,
        }
    }
}

/// Film coefficient of water in a straight smooth tube.
///
/// ```text
/// Nu = (f/8)(Re - 1000) Pr/[1 + 12.7 (f/8)^(1/2) (Pr^(2/3) - 1)]     f = (0.79 ln Re - 1.64)^-2
/// Nu = 4.36 laminar (Re < 2300); between 2300 and 4000 the two are joined linearly in Re
/// ```
///
/// | symbol | argument    | unit | holds for |
/// |--------|-------------|------|-----------|
/// | `Re = 4 m/(π d μ)` | `flow_kg_s` | kg/s | Re to 5e6 |
/// | `d`    | `bore_m`    | m    | positive  |
/// | `T`    | `temp_c`    | °C   | 0 to 100  |
///
/// Returns W/(m² K). ±10 % usual; a coiled tube gives more.
///
/// # Source
/// Gnielinski 1976, Int. Chem. Eng. 16:359; friction by Petukhov 1970.
///
/// # Example
/// ```
/// let h = process::chill::inside_w_m2_k(0.10, 8.0e-3, 30.0);
/// assert!((h / 10_270.0 - 1.0).abs() < 0.10);
/// ```
pub fn inside_w_m2_k(flow_kg_s: f64, bore_m: f64, temp_c: f64) -> f64 {
    let film = Film::at(temp_c);
    let re = 4.0 * flow_kg_s / (std::f64::consts::PI * bore_m * film.viscosity_pa_s);
    let turbulent = |re: f64| {
        let friction = 0.79 * ln(re) - 1.64;
        let f8 = 0.125 / (friction * friction);
        let prandtl = pow(film.prandtl, 2.0 / 3.0) - 1.0;
        f8 * (re - 1000.0) * film.prandtl / (1.0 + 12.7 * f8.sqrt() * prandtl)
    };
    let nu = if re < 2300.0 {
        4.36
    } else if re < 4000.0 {
        4.36 + (turbulent(4000.0) - 4.36) * (re - 2300.0) / 1700.0
    } else {
        turbulent(re)
    };
    nu * film.conductivity_w_m_k / bore_m
}

/// Film coefficient of still hot water around a level tube.
///
/// ```text
/// Nu = {0.60 + 0.387 Ra^(1/6)/[1 + (0.559/Pr)^(9/16)]^(8/27)}²     film temperature
/// ```
///
/// | symbol | argument     | unit | holds for |
/// |--------|--------------|------|-----------|
/// | `T`    | `temp_c`     | °C   | 0 to 100  |
/// | `T_w`  | `wall_c`     | °C   | 0 to 100  |
/// | `d`    | `diameter_m` | m    | positive  |
///
/// Returns W/(m² K), one free turn; neighbours and cold layers take most of it away.
///
/// # Source
/// Churchill and Chu 1975, Int. J. Heat Mass Transfer 18:1049.
///
/// # Example
/// ```
/// let h = process::chill::outside_still_w_m2_k(60.0, 30.0, 9.53e-3);
/// assert!((h / 1201.0 - 1.0).abs() < 0.10);
/// ```
pub fn outside_still_w_m2_k(temp_c: f64, wall_c: f64, diameter_m: f64) -> f64 {
    let film = Film::at(0.5 * (temp_c + wall_c));
    let kinematic = film.viscosity_pa_s / film.density_kg_m3;
    let cube = diameter_m * diameter_m * diameter_m;
    let lift_k = (temp_c - wall_c).abs();
    let drive = GRAVITY_M_S2 * film.expansion_per_k.abs() * lift_k * cube;
    let ra = drive * film.prandtl / (kinematic * kinematic);
    let shape = pow(1.0 + pow(0.559 / film.prandtl, 9.0 / 16.0), 8.0 / 27.0);
    let root = 0.60 + 0.387 * pow(ra, 1.0 / 6.0) / shape;
    root * root * film.conductivity_w_m_k / diameter_m
}

/// Film coefficient of hot water that moves past a tube.
///
/// ```text
/// Churchill and Bernstein, as `heat::wind_w_m2_k`, for water of the vessel's temperature
/// ```
///
/// | symbol | argument     | unit | holds for |
/// |--------|--------------|------|-----------|
/// | `v`    | `speed_m_s`  | m/s  | 0.01 to 2; 0.1 stirred by hand (from memory) |
/// | `T`    | `temp_c`     | °C   | 0 to 100  |
/// | `d`    | `diameter_m` | m    | positive  |
///
/// Returns W/(m² K).
///
/// # Source
/// Churchill and Bernstein 1977, J. Heat Transfer 99:300; ±20 % stated.
///
/// # Example
/// ```
/// let h = process::chill::outside_stirred_w_m2_k(0.1, 60.0, 9.53e-3);
/// assert!((h / 2697.0 - 1.0).abs() < 0.10);
/// ```
pub fn outside_stirred_w_m2_k(speed_m_s: f64, temp_c: f64, diameter_m: f64) -> f64 {
    let film = Film::at(temp_c);
    let re = speed_m_s.max(0.0) * diameter_m * film.density_kg_m3 / film.viscosity_pa_s;
    cross_flow_nusselt(re, film.prandtl) * film.conductivity_w_m_k / diameter_m
}

/// How much of the film theory a real coil delivers: turns shade each other, cold wort sinks, part
/// stands out of the wort (from memory; sd 0.10). Stirring acts on the film and on this.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StirredCoil {
    /// Stirred all the time.
    Always,
    /// Stirred now and then.
    Sometimes,
    /// Not stirred.
    Never,
    /// Wort pumped past the coil.
    Pumped,
}

impl StirredCoil {
    /// The share `s`.
    pub fn share(self) -> f64 {
        match self {
            Self::Always => 0.75,
            Self::Sometimes => 0.55,
            Self::Never => 0.35,
            Self::Pumped => 0.80,
        }
    }
}

/// A coil, its coolant and the wort around it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoilInputs {
    /// Outer diameter of the tube, m.
    pub outer_m: f64,
    /// Bore, m.
    pub bore_m: f64,
    /// Length of tube in the wort, m.
    pub length_m: f64,
    /// Coolant, kg/s.
    pub flow_kg_s: f64,
    /// Speed of the wort past the tube, m/s; 0 is still.
    pub speed_m_s: f64,
    /// Share of the film theory, see [`StirredCoil`].
    pub share: f64,
}

/// Surface that a coil offers to the wort around it.
///
/// ```text
/// A_o = π d_o L
/// ```
///
/// Shape: the tube taken as straight; turns that touch offer less.
///
/// | symbol | argument   | unit | holds for |
/// |--------|------------|------|-----------|
/// | `d_o`  | `outer_m`  | m    | > 0       |
/// | `L`    | `length_m` | m    | > 0       |
///
/// Returns m².
///
/// # Source
/// Geometry.
///
/// # Example
/// ```
/// assert!((process::chill::coil_outside_m2(0.01, 10.0) - 0.314_16).abs() < 1e-5);
/// ```
pub fn coil_outside_m2(outer_m: f64, length_m: f64) -> f64 {
    std::f64::consts::PI * outer_m * length_m
}

/// Conductance of a coil.
///
/// ```text
/// UA = s A_o/(1/h_o + d_o/(d_i h_i))      A_o = π d_o L
/// ```
///
/// Shape: coolant films at 30 °C, wort at 60 °C (still: wall 30 K colder), the middle of a chill;
/// the still law holds as a floor under slow stirring.
///
/// | symbol | argument | unit | holds for |
/// |--------|----------|------|-----------|
/// | tube, flow, stirring, `s` | `coil` | SI | positive lengths |
///
/// Returns W/K.
///
/// # Source
/// Films in series: [`inside_w_m2_k`], [`outside_still_w_m2_k`], [`outside_stirred_w_m2_k`].
///
/// # Example
/// ```
/// use process::chill::{CoilInputs, coil_ua_w_k};
/// let coil = CoilInputs {
///     outer_m: 9.53e-3, bore_m: 8.0e-3, length_m: 15.2, flow_kg_s: 0.10, speed_m_s: 0.1,
///     share: 1.0,
/// };
/// assert!((coil_ua_w_k(&coil) / (2055.0 * 0.4551) - 1.0).abs() < 0.12);
/// ```
pub fn coil_ua_w_k(coil: &CoilInputs) -> f64 {
    let inside = inside_w_m2_k(coil.flow_kg_s, coil.bore_m, 30.0);
    let still = outside_still_w_m2_k(60.0, 30.0, coil.outer_m);
    let outside = if coil.speed_m_s > 0.0 {
        outside_stirred_w_m2_k(coil.speed_m_s, 60.0, coil.outer_m).max(still)
    } else {
        still
    };
    let area_m2 = coil_outside_m2(coil.outer_m, coil.length_m);
    coil.share * area_m2 / (1.0 / outside + coil.outer_m / (coil.bore_m * inside))
}
