//! Answers to the rows of `reference/checks/boil.csv`.
//!
//! Holds no physics: it hands the inputs of a row to the code and its number back.

use super::Inputs;
use matter::{colour, water, wort};
use numerics::root::find_root;
use process::boil;
use process::heat::{self, FlameInputs, HeatUp, SideLoss, SideLossInputs, heat_up_time_s};
use std::f64::consts::PI;

const SEA_LEVEL_PA: f64 = 101_325.0;
/// EBC units per SRM unit (EBC = 25 A430, SRM = 12.7 A430, rounded as in use).
const EBC_PER_SRM: f64 = 1.97;

/// The code's number for one row, in the unit of the row.
pub fn answer(quantity: &str, inputs: &Inputs, _id: &str) -> Option<f64> {
    of_losses(quantity, inputs)
        .or_else(|| of_surface(quantity, inputs))
        .or_else(|| of_fire(quantity, inputs))
        .or_else(|| of_the_boil(quantity, inputs))
        .or_else(|| of_sulphide(quantity, inputs))
        .or_else(|| of_colour(quantity, inputs))
}

fn of_losses(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let (wall_c, air_c) = (inputs.get("twall_c"), inputs.get("tair_c"));
    Some(match quantity {
        "still-air coefficient on a vertical wall" => {
            heat::still_air_w_m2_k(wall_c?, air_c?, inputs.get("l_m")?)
        }
        "radiation coefficient" => heat::radiation_w_m2_k(wall_c?, air_c?, inputs.get("eps")?),
        "side loss of a bare kettle, still air" => {
            let (diameter_m, height_m) = (inputs.get("d_m")?, inputs.get("wet_height_m")?);
            let loss = SideLoss::new(&SideLossInputs {
                wetted_height_m: height_m,
                diameter_m,
                emissivity: inputs.get("eps")?,
                insulation_m2_k_w: 0.0,
                air_c: air_c?,
                wind_m_s: 0.0,
                multiplier: 1.0,
            });
            loss.flux_w_m2(inputs.get("t_c")?) * PI * diameter_m * height_m
        }
        "heat loss of a bare painted steel tank wall, still air" => {
            let (wall_c, air_c) = (wall_c?, air_c?);
            let film = heat::still_air_w_m2_k(wall_c, air_c, 1.0)
                + heat::radiation_w_m2_k(wall_c, air_c, 0.9);
            film * (wall_c - air_c)
        }
        "wind on an upright cylinder" => {
            heat::wind_w_m2_k(inputs.get("u_m_s")?, inputs.get("d_m")?, wall_c?, air_c?)
        }
        _ => return None,
    })
}

fn of_surface(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let (water_c, air_c) = (inputs.get("twater_c"), inputs.get("tair_c"));
    Some(match quantity {
        "heat of evaporation of water" => water::evaporation_heat_j_kg(inputs.get("t_c")?) / 1e3,
        "evaporation from a still open surface" => {
            heat::shah_kg_m2_h(water_c?, air_c?, inputs.get("rh")?, SEA_LEVEL_PA)
        }
        "evaporation heat from an open tank, still air" => {
            // the table does not state the humidity: half, as usual
            let hourly = heat::shah_kg_m2_h(water_c?, air_c?, 0.5, SEA_LEVEL_PA);
            hourly / 3600.0 * water::evaporation_heat_j_kg(water_c?) / 1e3
        }
        _ => return None,
    })
}

fn of_fire(quantity: &str, inputs: &Inputs) -> Option<f64> {
    Some(match quantity {
        "share of a turned-down burner that reaches the pot"
        | "share of a burner that reaches a boiling pot" => {
            let flame = FlameInputs {
                fuel_power_w: 10e3,
                setting: inputs.get("share_of_full_flame")?,
                share_full: inputs.get("eta_full")?,
                turn_down_exponent: inputs.get_or("n", 0.2),
                flame_c: 1300.0,
                wind_m_s: 0.0,
                wind_sensitivity: 0.15,
            };
            heat::flame_share(&flame, inputs.get("tbase_c")?)
        }
        "time to heat 28 kg from 66 to 100 C" => {
            let body = HeatUp {
                capacity_j_k: 28.0 * inputs.get("cp_j_kg_k")?,
                ua_w_k: inputs.get("ua_w_k")?,
                power_w: inputs.get("p_into_liquid_w")?,
                air_c: inputs.get("tair_c")?,
            };
            heat_up_time_s(&body, 66.0, 100.0)
        }
        "kettle with lid, 60 min from 67 C" => {
            let air_c = inputs.get("tair_c")?;
            let body = HeatUp {
                capacity_j_k: inputs.get("c_j_k")?,
                ua_w_k: inputs.get("ua_w_k")?,
                power_w: 0.0,
                air_c,
            };
            let short_s = |to_c: f64| heat_up_time_s(&body, 67.0, to_c) - 3600.0;
            find_root(short_s, air_c + 1.0, 66.9, 1e-6).ok()?
        }
        "base superheat in a rolling boil, water" => {
            heat::boil_superheat_k(inputs.get("q_kw_m2")? * 1e3, inputs.get("csf")?)
        }
        _ => return None,
    })
}

fn of_the_boil(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let after = |read_at_c: f64| {
        let share = inputs.get("p")? / 100.0;
        let volume_m3 = inputs.get("v")? / 1e3;
        let mass_kg = volume_m3 * wort::density_kg_m3(share, read_at_c);
        let extract_kg = mass_kg * share;
        Some((mass_kg - extract_kg - inputs.get("boil_off_kg")?, extract_kg))
    };
    let plato = |(water_kg, extract_kg): (f64, f64)| 100.0 * extract_kg / (water_kg + extract_kg);
    let litres = |(water_kg, extract_kg): (f64, f64), temp_c: f64| {
        wort::volume_m3(water_kg, extract_kg, temp_c) * 1e3
    };
    Some(match quantity {
        "vapour velocity through the surface" => vapour_speed(inputs)?,
        "foam height at foam life 4 s" => {
            boil::foam_m(inputs.get("foam_life_s")?, vapour_speed(inputs)?) * 1e3
        }
        "boil-off" => {
            let power_w = inputs.get("p_into_liquid_kw")? * 1e3 - inputs.get("dry_losses_w")?;
            boil::boil_off_kg_s(power_w, 100.0) * 3600.0
        }
        "concentration in the boil" => plato(after(20.0)?),
        "volume after, at 20 C" => litres(after(20.0)?, 20.0),
        "volume after, at 99 C" => litres(after(20.0)?, 99.0),
        "same, 28.0 L read at 99 C instead: extract after" => plato(after(99.0)?),
        _ => return None,
    })
}

fn vapour_speed(inputs: &Inputs) -> Option<f64> {
    let diameter_m = inputs.get("d_m")?;
    let boil_off_kg_s = inputs.get("boil_off_kg_h")? / 3600.0;
    Some(boil::vapour_speed_m_s(boil_off_kg_s, PI / 4.0 * diameter_m * diameter_m))
}

/// The sulphide that smells of cooked corn, and what it is made from.
fn of_sulphide(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let half_life_min = |temp_c: f64, ph: f64| {
        std::f64::consts::LN_2 / boil::precursor_rate_per_s(temp_c, ph) / 60.0
    };
    Some(match quantity {
        "share of DMS precursor left" => {
            let rate = boil::precursor_rate_per_s(inputs.get("t_c")?, inputs.get("ph")?);
            (-rate * inputs.get("t_min")? * 60.0).exp()
        }
        "rate constant of DMS precursor in boiling wort" => {
            boil::precursor_rate_per_s(inputs.get("t_c")?, 5.4) * 60.0
        }
        "half-life of DMS precursor, pH 5.2" => half_life_min(inputs.get("t_c")?, 5.2),
        "half-life of DMS precursor, pH 5.5" => half_life_min(inputs.get("t_c")?, 5.5),
        _ => return None,
    })
}

fn of_colour(quantity: &str, inputs: &Inputs) -> Option<f64> {
    Some(match quantity {
        "beer colour from grist" => {
            colour::ebc_from_malt_colour_units(inputs.get("mcu")?) / EBC_PER_SRM
        }
        "grist colour units" => {
            // the row writes its malt as "4.5 kg at 2 degL"
            colour::malt_colour_units(4.5 * 2.0, inputs.get("v_l")? / 1e3)
        }
        _ => return None,
    })
}
