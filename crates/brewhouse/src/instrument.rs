//! What an instrument shows for a given truth: bias as proved, lag, step of its scale.
//!
//! Forwards only, and without chance: what a person will most likely read. How readings teach is
//! the business of others.

use std::sync::LazyLock;

use crate::rows::Rows;
use numerics::math::{cosh, exp, sinh};

/// Prior of one kind of instrument; the numbers stand in `data/instrument.csv` with their source.
#[derive(Debug, Clone, PartialEq)]
pub struct Instrument {
    /// Its kind: "dip stick, calm level pot".
    pub kind: String,
    /// What it shows: temperature, volume, gravity …
    pub quantity: String,
    /// Unit of the numbers below.
    pub unit: String,
    /// Step of its scale.
    pub step: f64,
    /// Middle of its bias.
    pub bias_mean: f64,
    /// Spread of its bias.
    pub bias_spread: f64,
    /// Standard deviation of one reading.
    pub random_sd: f64,
    /// Lag in water, s.
    pub lag_water_s: f64,
    /// Lag in mash, s.
    pub lag_mash_s: f64,
}

static INSTRUMENTS: LazyLock<Vec<Instrument>> = LazyLock::new(|| {
    Rows::parse(include_str!("../data/instrument.csv")).map(|row| Instrument {
        kind: row.text("kind"),
        quantity: row.text("quantity"),
        unit: row.text("unit"),
        step: row.number("step"),
        bias_mean: row.number("bias_mean"),
        bias_spread: row.number("bias_spread"),
        random_sd: row.number("random_sd"),
        lag_water_s: row.number("lag_water_s"),
        lag_mash_s: row.number("lag_mash_s"),
    })
});

impl Instrument {
    /// All kinds.
    pub fn all() -> &'static [Instrument] {
        &INSTRUMENTS
    }

    /// The kind of a name.
    pub fn named(kind: &str) -> Option<&'static Instrument> {
        INSTRUMENTS.iter().find(|i| i.kind == kind)
    }
}

/// A number rounded to the step of a scale; as it is when the step is not above 0.
pub fn to_step(number: f64, step: f64) -> f64 {
    if step > 0.0 { (number / step).round() * step } else { number }
}

/// What a thermometer shows, K: truth and bias, rounded to its step on the scale it is marked in.
///
/// `zero_k` is a point where the scale shows a whole number: 273.15 K for °C, 255.372 K for °F.
pub fn thermometer_shows_k(truth_k: f64, bias_k: f64, step_k: f64, zero_k: f64) -> f64 {
    zero_k + to_step(truth_k + bias_k - zero_k, step_k)
}

/// What a thermometer shows on a steady ramp, K above the same thermometer without lag:
/// `−rate·τ`.
pub fn ramp_error_k(rate_k_s: f64, lag_s: f64) -> f64 {
    -rate_k_s * lag_s
}

/// Share of a step still missing after a time: `exp(−t/τ)`.
pub fn step_missing(time_s: f64, lag_s: f64) -> f64 {
    exp(-time_s / lag_s)
}

/// Time constant of a thin stem, s: `ρc·d/(4·h)`, lumped.
pub fn stem_lag_s(h_w_m2k: f64, diameter_m: f64, rho_c_j_m3k: f64) -> f64 {
    rho_c_j_m3k * diameter_m / (4.0 * h_w_m2k)
}

/// A thermometer's stem through a wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stem {
    /// Length in the liquid, m.
    pub length_m: f64,
    /// Outside diameter, m.
    pub diameter_m: f64,
    /// Wall of the tube, m.
    pub wall_m: f64,
    /// Conductivity of the tube, W/(m K).
    pub k_w_mk: f64,
    /// Length at the tip that senses, m.
    pub active_m: f64,
}

/// Mean error of a stem whose root is at another temperature than the liquid, K.
///
/// ```text
/// e = (T_root − T)·sinh(m·a)/(m·a·cosh(m·L))        m = √(h·π·d/(k·A))
/// ```
///
/// Fin from the fitting to the tip, averaged over the active length `a`, at most the whole stem.
pub fn stem_error_k(stem: &Stem, h_w_m2k: f64, temp_k: f64, root_k: f64) -> f64 {
    let pi = std::f64::consts::PI;
    let bore_m = stem.diameter_m - 2.0 * stem.wall_m;
    let metal_m2 = pi / 4.0 * (stem.diameter_m * stem.diameter_m - bore_m * bore_m);
    let m_1_m = (h_w_m2k * pi * stem.diameter_m / (stem.k_w_mk * metal_m2)).sqrt();
    let active_m = stem.active_m.min(stem.length_m);
    (root_k - temp_k) * sinh(m_1_m * active_m) / (m_1_m * active_m * cosh(m_1_m * stem.length_m))
}

/// Two-point correction of a thermometer by ice and boiling water, K or °C above the ice point.
///
/// ```text
/// T = (y − y_ice)·T_boil/(y_boil − y_ice)
/// ```
pub fn corrected_by_ice_and_boil_c(shown_c: f64, ice_c: f64, boil_c: f64, true_boil_c: f64) -> f64 {
    (shown_c - ice_c) * true_boil_c / (boil_c - ice_c)
}

/// Volume uncertainty of one dip, m³: `A·u(h)`.
pub fn dip_spread_m3(area_m2: f64, dip_m: f64) -> f64 {
    area_m2 * dip_m
}

/// What a mark on the wall shows, m³: the cold volume of the mark at the hot liquid's level.
///
/// The wall grew by `(1 + α·ΔT)³`, so the same level reads less; rounded to the step people read.
pub fn mark_shows_m3(hot_m3: f64, growth: f64, step_m3: f64) -> f64 {
    to_step(hot_m3 / growth, step_m3)
}

/// What a hydrometer shows, points: the truth at its own temperature, bias and step.
pub fn hydrometer_shows_points(points: f64, bias_points: f64, step_points: f64) -> f64 {
    to_step(points + bias_points, step_points)
}

/// What a refractometer shows for wort without alcohol, °Bx: extract times its wort factor.
pub fn refractometer_shows_brix(plato: f64, wort_factor: f64, step_brix: f64) -> f64 {
    to_step(plato * wort_factor, step_brix)
}

/// What a pH meter shows, to 0.01, or strips to 0.2.
pub fn ph_meter_shows(ph: f64, bias: f64, step: f64) -> f64 {
    to_step(ph + bias, step)
}

/// Slope of an ideal glass electrode, V for each pH: `R·T·ln 10/F` (CODATA 2018).
pub fn electrode_slope_v(temp_k: f64) -> f64 {
    matter::nature::GAS_J_MOL_K * temp_k * std::f64::consts::LN_10 / 96_485.332_12
}

/// Litres for each kilogram a scale shows, water weighed in air, m³/kg.
///
/// ```text
/// (1 − ρ_air/ρ_weights)/(ρ − ρ_air)        ρ_weights = 8000 kg/m³
/// ```
///
/// # Source
/// Buoyancy as in ISO 4787.
pub fn volume_per_shown_kg(density_kg_m3: f64, air_kg_m3: f64) -> f64 {
    (1.0 - air_kg_m3 / 8000.0) / (density_kg_m3 - air_kg_m3)
}

/// Pressure of the air at a height, from the pressure at the sea, Pa.
///
/// The share that is left at a height is that of [`matter::water::air_pressure_pa`].
pub fn station_pressure_pa(sea_pa: f64, height_m: f64) -> f64 {
    sea_pa * matter::water::air_pressure_share(height_m)
}

/// Height of the meniscus on a hydrometer's stem, m.
///
/// ```text
/// h = σ/(ρ·g·d)·(√(1 + 2·ρ·g·d²/σ) − 1)
/// ```
///
/// # Source
/// Langberg's form as in BS 718, appendix B, and ISO 649-2 (from memory).
pub fn meniscus_m(tension_n_m: f64, density_kg_m3: f64, stem_m: f64) -> f64 {
    let g = crate::flow::GRAVITY_M_S2;
    let capillary_m2 = tension_n_m / (density_kg_m3 * g);
    capillary_m2 / stem_m * ((1.0 + 2.0 * stem_m * stem_m / capillary_m2).sqrt() - 1.0)
}

/// Metres of a hydrometer's stem for each kg/m³: `V/(A·ρ)`.
pub fn hydrometer_scale_m(bulb_m3: f64, stem_m: f64, density_kg_m3: f64) -> f64 {
    bulb_m3 / (std::f64::consts::PI * stem_m * stem_m / 4.0 * density_kg_m3)
}

/// Tolerance of a platinum thermometer, K (IEC 60751), for class AA, A or B; none for another.
pub fn platinum_tolerance_k(class: &str, temp_c: f64) -> Option<f64> {
    let (fixed_k, slope) = match class {
        "AA" => (0.1, 0.0017),
        "A" => (0.15, 0.002),
        "B" => (0.30, 0.005),
        _ => return None,
    };
    Some(fixed_k + slope * temp_c.abs())
}

/// Standard uncertainty of rounding to a step: `step/√12` (JCGM 100, F.2.2.1).
pub fn rounding_spread(step: f64) -> f64 {
    step / 12.0_f64.sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dial_that_reads_low_shows_whole_degrees() {
        let shown_k = thermometer_shows_k(273.15 + 66.0, -0.3, 1.0, 273.15);
        assert!((shown_k - 273.15 - 66.0).abs() < 1e-9);
        let shown_k = thermometer_shows_k(273.15 + 66.1, -0.7, 1.0, 273.15);
        assert!((shown_k - 273.15 - 65.0).abs() < 1e-9);
    }

    /// Ice 1.2, boiling 98.4 at a true 98.9, shown 66.0: 65.93 °C.
    #[test]
    fn ice_and_boil_by_hand() {
        let c = corrected_by_ice_and_boil_c(66.0, 1.2, 98.4, 98.9);
        assert!((c - 65.93).abs() < 0.005, "{c}");
    }

    #[test]
    fn every_kind_has_a_quantity_and_a_spread() {
        assert_eq!(Instrument::all().len(), 30);
        assert!(Instrument::all().iter().all(|i| !i.quantity.is_empty() && i.random_sd >= 0.0));
        assert!(Instrument::named("jug, weighed once").is_some());
    }

    #[test]
    fn rounding_without_a_step_keeps_the_number() {
        assert_eq!(to_step(1.234, 0.0), 1.234);
        assert_eq!(to_step(1.26, 0.5), 1.5);
    }
}
