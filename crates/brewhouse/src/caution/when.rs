//! When each caution speaks, from plain numbers.
//!
//! Raising temperature, mass, pressure, concentration or power never silences one or makes it
//! weaker. Thresholds are common practice unless a source stands beside them.

use super::Caution;
use crate::brewhouse::Place;
use crate::danger::{Burn, Lift, lift_limit_kg, scald_time_s, tip_angle_rad, tip_push_n};
use crate::heater::{Heater, HeaterKind};

/// Hot enough to burn deep within seconds, °C.
const HOT_C: f64 = 60.0;

/// H1: a vessel moved by hand with liquid hotter than 45 °C.
pub fn carry(mass_kg: f64, temp_c: f64) -> Option<Caution> {
    (temp_c > 45.0).then_some(Caution::Carry { mass_kg, temp_c })
}

/// H2: liquid hotter than 60 °C flows in the open.
pub fn transfer(temp_c: f64) -> Option<Caution> {
    let burn_s = scald_time_s(temp_c, Burn::FullThickness)?;
    (temp_c > HOT_C).then_some(Caution::Transfer { temp_c, burn_s })
}

/// A kettle as its boil starts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoilStart {
    /// Wort in it, hot, m³.
    pub wort_m3: f64,
    /// Volume to the brim, m³.
    pub brim_m3: f64,
    /// Free height over the wort, m.
    pub head_m: f64,
    /// Boiling temperature of the wort, °C.
    pub boiling_c: f64,
    /// Share of wheat in the grist.
    pub wheat_share: f64,
}

/// H3: more than 80 % full as the boil starts, or 75 % with more than 30 % of wheat.
pub fn boil_over(start: &BoilStart) -> Option<Caution> {
    let limit = if start.wheat_share > 0.3 { 0.75 } else { 0.80 };
    (start.wort_m3 > limit * start.brim_m3)
        .then_some(Caution::BoilOver { head_m: start.head_m, boiling_c: start.boiling_c })
}

/// H4: hops, sugar, salts or finings into wort within 3 K of boiling.
pub fn flash(temp_c: f64, boiling_c: f64) -> Option<Caution> {
    (temp_c > boiling_c - 3.0).then_some(Caution::Flash)
}

/// H5: a lid on a pot hotter than 90 °C is about to be opened.
pub fn lid(temp_c: f64) -> Option<Caution> {
    (temp_c > 90.0).then_some(Caution::Lid)
}

/// H6: metal hotter than 60 °C.
pub fn hot_metal(wall_c: f64) -> Option<Caution> {
    (wall_c > HOT_C).then_some(Caution::HotMetal)
}

/// H7: solids into liquor hotter than 60 °C, or stirring above chest height (rim over 1.2 m).
pub fn dough_in(temp_c: f64, rim_m: f64) -> Option<Caution> {
    (temp_c > HOT_C || rim_m > 1.2).then_some(Caution::DoughIn)
}

/// H8: a siphon with liquid hotter than 40 °C.
pub fn siphon(temp_c: f64) -> Option<Caution> {
    (temp_c > 40.0).then_some(Caution::Siphon)
}

/// H9: a vessel shut tight while hotter than 60 °C; `force_n` pulls at its lid once it is cold.
pub fn shut_hot(temp_c: f64, force_n: f64) -> Option<Caution> {
    (temp_c > HOT_C).then_some(Caution::ShutHot { force_n })
}

/// H10: a pump on liquid hotter than 60 °C.
pub fn pump(temp_c: f64) -> Option<Caution> {
    (temp_c > HOT_C).then_some(Caution::Pump { temp_c })
}

/// H11: heat on while the level is under the vessel's least.
pub fn dry_fire(level_m: f64, least_m: f64) -> Option<Caution> {
    (level_m < least_m).then_some(Caution::DryFire { least_m })
}

/// H12: a sample hotter than 60 °C.
pub fn sample(temp_c: f64) -> Option<Caution> {
    (temp_c > HOT_C).then_some(Caution::Sample)
}

/// H14: more than 10 L hotter than 60 °C above knee height (0.5 m).
pub fn spillage(volume_m3: f64, temp_c: f64, height_m: f64) -> Option<Caution> {
    (volume_m3 > 0.010 && temp_c > HOT_C && height_m > 0.5).then_some(Caution::Spillage)
}

/// W1 and W2: a load over what one person should lift there, and one nobody lifts alone (over
/// twice that, or over 25 kg).
pub fn lift(mass_kg: f64, way: &Lift) -> Option<Caution> {
    let limit_kg = lift_limit_kg(way);
    if mass_kg > 25.0 || mass_kg > 2.0 * limit_kg {
        return Some(Caution::LiftAlone { mass_kg });
    }
    let (from_m, to_m) = (way.from_m, way.to_m);
    (mass_kg > limit_kg).then_some(Caution::Lift { mass_kg, from_m, to_m, limit_kg })
}

/// W3: a stand that tips under 15 degrees, or, where the rim is that high, by less than 100 N at
/// 1.2 m.
pub fn tip(mass_kg: f64, half_base_m: f64, centre_m: f64, rim_m: f64) -> Option<Caution> {
    let angle_deg = tip_angle_rad(half_base_m, centre_m).to_degrees();
    let force_n = tip_push_n(mass_kg, half_base_m, 1.2);
    let pushed = rim_m >= 1.2 && force_n < 100.0;
    (angle_deg < 15.0 || pushed).then_some(Caution::Tip { angle_deg, force_n })
}

/// W4: more than half of what a stand bears, or more than 30 kg where that is not known.
pub fn stand(mass_kg: f64, bears_kg: Option<f64>) -> Option<Caution> {
    let limit_kg = bears_kg.map_or(30.0, |kg| 0.5 * kg);
    (mass_kg > limit_kg).then_some(Caution::Stand { mass_kg })
}

/// W5: more than 5 kg of wet grain lifted out.
pub fn hoist(wet_kg: f64) -> Option<Caution> {
    (wet_kg > 5.0).then_some(Caution::Hoist { mass_kg: wet_kg })
}

/// G1 and G2: what a flame at a place asks for.
///
/// A free-standing burner where fumes stay is stopped; a fixed hob over 3 kW for more than
/// 20 min asks for its hood.
pub fn flame(heater: &Heater, place: Place, minutes: f64) -> Option<Caution> {
    if !place.is_closed() {
        return None;
    }
    match heater.kind {
        HeaterKind::Burner => Some(Caution::FlameIndoors),
        HeaterKind::Hob if heater.power.value.watts() > 3000.0 && minutes > 20.0 => {
            Some(Caution::Hob)
        }
        _ => None,
    }
}

/// G11: less gas left than one and a half times what is planned.
pub fn bottle_low(left_kg: f64, planned_kg: f64) -> Option<Caution> {
    (left_kg < 1.5 * planned_kg).then_some(Caution::BottleLow { left_kg, planned_kg })
}

/// E1: mains in the plan, and no breaker tested within three months (92 days).
pub fn breaker(days_since_test: Option<f64>) -> Option<Caution> {
    days_since_test.is_none_or(|days| !(0.0..=92.0).contains(&days)).then_some(Caution::Breaker)
}

/// E2: more load on a circuit than it carries.
pub fn circuit(load_w: f64, limit_w: f64) -> Option<Caution> {
    (load_w > limit_w).then_some(Caution::Circuit { load_w, limit_w })
}

/// C5: an acid of 10 % or more.
pub fn acid(strength: f64) -> Option<Caution> {
    (strength >= 0.10).then_some(Caution::Acid)
}

/// F2: wort between 60 and 25 °C for more than two hours, or more than twelve before the yeast.
pub fn slow_cooling(warm_h: f64, before_yeast_h: f64) -> Option<Caution> {
    (warm_h > 2.0 || before_yeast_h > 12.0).then_some(Caution::SlowCooling)
}

/// F6: a day over eight hours, or one that ends after 22:00.
pub fn long_day(hours: f64, ends_at_hour: f64) -> Option<Caution> {
    (hours > 8.0 || ends_at_hour > 22.0).then_some(Caution::LongDay)
}
