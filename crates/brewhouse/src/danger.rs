//! How hot, heavy and shaky things get before they hurt: the numbers behind the cautions.
//!
//! Judges no step and writes no text. The numbers are for adults; children burn in a quarter of
//! the time (common practice).

use crate::flow::GRAVITY_M_S2;
use numerics::math::{atan, exp, ln};

/// Times to a burn of adult skin under flowing water: °C, s to second degree, s to full thickness
/// (Moritz and Henriques, Am. J. Pathol. 23 (1947) 695, as tabled by the anti-scald industry).
const SCALD: [(f64, f64, f64); 7] = [
    (45.0, 7200.0, 10800.0),
    (47.0, 1200.0, 2700.0),
    (48.0, 900.0, 1200.0),
    (49.0, 480.0, 600.0),
    (51.0, 120.0, 252.0),
    (55.0, 17.0, 30.0),
    (60.0, 3.0, 5.0),
];

/// How deep a burn is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Burn {
    /// Second degree.
    SecondDegree,
    /// Through the whole skin.
    FullThickness,
}

/// Time of full-thickness injury fitted by Feldman to Moritz and Henriques, s.
///
/// ```text
/// t = exp(34.58·(ln T)² − 294.8·ln T + 629.2)        T in °C
/// ```
pub fn scald_fit_s(temp_c: f64) -> f64 {
    let ln_c = ln(temp_c);
    exp(34.58 * ln_c * ln_c - 294.8 * ln_c + 629.2)
}

/// Time to a burn at a temperature, s; none under 45 °C.
///
/// Between the rows of the table log-linear, at a row the row itself; above 60 °C the fit of
/// [`scald_fit_s`], never longer than at 60 °C. Falls with the temperature throughout.
pub fn scald_time_s(temp_c: f64, burn: Burn) -> Option<f64> {
    if temp_c.is_nan() || temp_c < SCALD[0].0 {
        return None;
    }
    let pick = |row: &(f64, f64, f64)| match burn {
        Burn::SecondDegree => row.1,
        Burn::FullThickness => row.2,
    };
    if let Some(pair) = SCALD.windows(2).find(|pair| temp_c <= pair[1].0) {
        let part = (temp_c - pair[0].0) / (pair[1].0 - pair[0].0);
        let (low, high) = (ln(pick(&pair[0])), ln(pick(&pair[1])));
        return Some(exp(low + part * (high - low)));
    }
    // The fit has its least value at exp(294.8/(2·34.58)) = 71 °C and would rise again above it.
    let least_c = exp(294.8 / (2.0 * 34.58));
    let fitted_s = scald_fit_s(temp_c.min(least_c));
    Some(fitted_s.min(pick(&SCALD[SCALD.len() - 1])))
}

/// One lift by hand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lift {
    /// Reach of the hands from the ankles, m.
    pub reach_m: f64,
    /// Height of the hands at the start, m.
    pub from_m: f64,
    /// Height of the hands at the end, m.
    pub to_m: f64,
    /// How well it is gripped, 0.9 to 1.
    pub grip: f64,
}

impl Lift {
    /// A pot lifted close to the body: reach 20 cm and half its width, 25 cm and half when the
    /// hands are under 25 cm high (from memory).
    pub fn of_pot(width_m: f64, from_m: f64, to_m: f64) -> Lift {
        let clear_m = if from_m < 0.25 { 0.25 } else { 0.20 };
        Lift { reach_m: clear_m + 0.5 * width_m, from_m, to_m, grip: 0.95 }
    }
}

/// Mass one person should lift at most, now and then, without twisting, kg.
///
/// ```text
/// 23 kg · (25/H) · (1 − 0.003·|V − 75|) · (0.82 + 4.5/D) · grip        cm, each factor at most 1
/// ```
///
/// # Source
/// Revised NIOSH lifting equation, DHHS (NIOSH) 94-110, revised 2021.
pub fn lift_limit_kg(lift: &Lift) -> f64 {
    let reach = (0.25 / lift.reach_m).clamp(0.0, 1.0);
    let height = (1.0 - 0.3 * (lift.from_m - 0.75).abs()).clamp(0.0, 1.0);
    let way_m = (lift.to_m - lift.from_m).abs();
    let way = if way_m > 0.0 { (0.82 + 0.045 / way_m).min(1.0) } else { 1.0 };
    23.0 * reach * height * way * lift.grip
}

/// Angle at which a stand tips with a rigid load, rad: `atan(half base/height of centre)`.
pub fn tip_angle_rad(half_base_m: f64, centre_m: f64) -> f64 {
    atan(half_base_m / centre_m)
}

/// Push at a height that begins to lift a foot of a stand, N: `m·g·b/h`.
pub fn tip_push_n(mass_kg: f64, half_base_m: f64, push_height_m: f64) -> f64 {
    mass_kg * GRAVITY_M_S2 * half_base_m / push_height_m
}

/// Force on the lid of a vessel shut tight full of steam and cooled, N: `(p_air − p_vapour)·A`.
pub fn pull_in_n(air_pa: f64, vapour_pa: f64, lid_m2: f64) -> f64 {
    ((air_pa - vapour_pa) * lid_m2).max(0.0)
}

/// Power a circuit carries for long, W: volt times ampere, times 0.8 where the code says so
/// (North America; from memory).
pub fn circuit_power_w(volt: f64, ampere: f64, continuous_share: f64) -> f64 {
    volt * ampere * continuous_share
}

/// Power of an element on another voltage than its rated one, W: `P ~ V²`.
pub fn power_at_volt_w(rated_w: f64, rated_volt: f64, volt: f64) -> f64 {
    rated_w * (volt / rated_volt) * (volt / rated_volt)
}

/// Heat flux on an element's sheath, W/m²: `P/(π·d·L)`.
pub fn watt_density_w_m2(power_w: f64, rod_m: f64, heated_m: f64) -> f64 {
    power_w / (std::f64::consts::PI * rod_m * heated_m)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn burns_come_faster_the_hotter() {
        for burn in [Burn::SecondDegree, Burn::FullThickness] {
            let mut last_s = f64::INFINITY;
            for tenth in 450..1000 {
                let t_s = scald_time_s(f64::from(tenth) * 0.1, burn).unwrap();
                assert!(t_s <= last_s * (1.0 + 1e-12) && t_s > 0.0, "{tenth} {t_s} {last_s}");
                last_s = t_s;
            }
        }
        assert_eq!(scald_time_s(44.9, Burn::SecondDegree), None);
        assert_eq!(scald_time_s(f64::NAN, Burn::SecondDegree), None);
    }

    /// 60 °C: 3 s and 5 s; 53 °C: about 45 s and 87 s.
    #[test]
    fn burn_times_of_the_table() {
        let time = |c, burn| scald_time_s(c, burn).unwrap();
        assert!((time(60.0, Burn::SecondDegree) - 3.0).abs() < 1e-9);
        assert!((time(60.0, Burn::FullThickness) - 5.0).abs() < 1e-9);
        assert!((time(53.0, Burn::SecondDegree) - 45.2).abs() < 0.1);
        assert!((time(53.0, Burn::FullThickness) - 87.0).abs() < 0.5);
    }

    /// A 400 mm kettle, hands from 35 to 105 cm: 10.6 kg; the best lift 23 kg.
    #[test]
    fn lifting_limits() {
        let kettle = Lift::of_pot(0.4, 0.35, 1.05);
        assert!((lift_limit_kg(&kettle) - 10.63).abs() < 0.01);
        let best = Lift { reach_m: 0.25, from_m: 0.75, to_m: 1.0, grip: 1.0 };
        assert!((lift_limit_kg(&best) - 23.0).abs() < 1e-9);
    }

    /// Half base 150 mm, centre 950 mm up, 45 kg: 9.0 degrees, 55 N at 1.2 m.
    #[test]
    fn a_high_narrow_stand_tips_early() {
        assert!((tip_angle_rad(0.15, 0.95).to_degrees() - 8.973).abs() < 0.01);
        assert!((tip_push_n(45.0, 0.15, 1.2) - 55.16).abs() < 0.01);
    }
}
