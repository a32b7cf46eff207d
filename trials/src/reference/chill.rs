//! Answers to the rows of `reference/checks/chill.csv`.
//!
//! Holds no physics: it hands the inputs of a row to the code and its number back.

use super::Inputs;
use super::hop_run::{Hopped, plain};
use process::boil::precursor_rate_per_s;
use process::chill::{
    CoilInputs, CoolDown, Stream, coil_effectiveness, coil_heat_w, coil_outside_m2, coil_ua_w_k,
    cool_down_time_s, cooled_c, counterflow, counterflow_effectiveness, ice_heat_j, ice_kg,
    inside_w_m2_k, outside_still_w_m2_k, outside_stirred_w_m2_k,
};

/// Heat capacities that the rows take for wort and water (J/(kg K)).
const WORT_J_KG_K: f64 = 3980.0;
const WATER_J_KG_K: f64 = 4184.0;

/// The code's number for one row, in the unit of the row.
pub fn answer(quantity: &str, inputs: &Inputs, _id: &str) -> Option<f64> {
    of_coils(quantity, inputs)
        .or_else(|| of_films(quantity, inputs))
        .or_else(|| of_counterflow(quantity, inputs))
        .or_else(|| of_baths(quantity, inputs))
}

/// Heat capacity of the kettle (J/K), capacity rate of the coolant (W/K), what the coil draws (W/K).
fn coil(inputs: &Inputs) -> Option<(f64, f64, f64)> {
    let coolant_w_k = inputs.get("mc_kg_s")? * WATER_J_KG_K;
    let draw_w_k = coolant_w_k * coil_effectiveness(inputs.get("ua_w_k")?, coolant_w_k);
    Some((inputs.get_or("m_kg", 20.9) * WORT_J_KG_K, coolant_w_k, draw_w_k))
}

fn of_coils(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let time_s = || {
        let (capacity_j_k, _, draw_w_k) = coil(inputs)?;
        let path = CoolDown {
            from_c: inputs.get("t0_c")?,
            to_c: inputs.get("t1_c")?,
            inlet_c: inputs.get("tc_c")?,
        };
        Some(cool_down_time_s(capacity_j_k, draw_w_k, &path))
    };
    Some(match quantity {
        "coil chilling time" => time_s()?,
        "coil chilling water" => time_s()? * inputs.get("mc_kg_s")?,
        "coil effectiveness" => {
            coil_effectiveness(inputs.get("ua_w_k")?, inputs.get("mc_kg_s")? * WATER_J_KG_K)
        }
        "wort temperature in a coil-chilled kettle" => {
            let (capacity_j_k, _, draw_w_k) = coil(inputs)?;
            let (from_c, inlet_c) = (inputs.get("t0_c")?, inputs.get("tc_c")?);
            cooled_c(capacity_j_k / draw_w_k, from_c, inlet_c, inputs.get("t_s")?)
        }
        "water leaving the coil" => {
            let (_, coolant_w_k, _) = coil(inputs)?;
            let (from_c, inlet_c) = (inputs.get("t0_c")?, inputs.get("tc_c")?);
            let heat_w = coil_heat_w(inputs.get("ua_w_k")?, coolant_w_k, from_c, inlet_c);
            inlet_c + heat_w / coolant_w_k
        }
        _ => return None,
    })
}

fn of_films(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let temp_c = inputs.get("t_c");
    let outer_m = inputs.get("do_mm").map(|mm| mm / 1e3);
    let bore_m = inputs.get("di_mm").map(|mm| mm / 1e3);
    Some(match quantity {
        "film inside a coil tube, water" => inside_w_m2_k(inputs.get("mc_kg_s")?, bore_m?, temp_c?),
        "outer area of a coil" => coil_outside_m2(outer_m?, inputs.get("length_m")?),
        "film outside a coil tube, still water" => {
            outside_still_w_m2_k(temp_c?, inputs.get("twall_c")?, outer_m?)
        }
        "film outside a coil tube, stirred" => {
            outside_stirred_w_m2_k(inputs.get("u_m_s")?, temp_c?, outer_m?)
        }
        "coil U stirred at 0.1 m/s, copper" => {
            let coil = CoilInputs {
                outer_m: outer_m?,
                bore_m: bore_m?,
                length_m: 1.0,
                flow_kg_s: inputs.get("mc_kg_s")?,
                speed_m_s: inputs.get("u_m_s")?,
                share: 1.0,
            };
            coil_ua_w_k(&coil) / (std::f64::consts::PI * coil.outer_m * coil.length_m)
        }
        _ => return None,
    })
}

fn of_counterflow(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let both = || {
        let wort = Stream {
            capacity_w_k: inputs.get("m_wort_kg_s")? * inputs.get_or("cp_wort", WORT_J_KG_K),
            inlet_c: inputs.get("t_wort_in_c")?,
        };
        let water = Stream {
            capacity_w_k: inputs.get("m_water_kg_s")? * inputs.get_or("cp_water", WATER_J_KG_K),
            inlet_c: inputs.get("t_water_in_c")?,
        };
        Some(counterflow(inputs.get("ua_w_k")?, &wort, &water))
    };
    Some(match quantity {
        "counterflow chiller, wort out" => both()?.wort_c,
        "counterflow chiller, water out" => both()?.coolant_c,
        "counterflow chiller returning to a mixed kettle, 100 to 25 C" => {
            let wort_w_k = inputs.get("m_wort_kg_s")? * WORT_J_KG_K;
            let water_w_k = inputs.get("m_water_kg_s")? * WATER_J_KG_K;
            let share = counterflow_effectiveness(inputs.get("ua_w_k")?, wort_w_k, water_w_k);
            let path = CoolDown { from_c: 100.0, to_c: 25.0, inlet_c: inputs.get("tc_c")? };
            let capacity_j_k = inputs.get("m_kg")? * WORT_J_KG_K;
            cool_down_time_s(capacity_j_k, share * wort_w_k.min(water_w_k), &path)
        }
        _ => return None,
    })
}

fn of_baths(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let can = || Some(inputs.get("c_j_k")? / inputs.get("ua_w_k")?);
    let can_c = |minutes: f64| {
        Some(cooled_c(can()?, inputs.get("t0_c")?, inputs.get("tair_c")?, minutes * 60.0))
    };
    Some(match quantity {
        "clean ice put into wort" => {
            let capacity_j_k = inputs.get("m_kg")? * WORT_J_KG_K;
            ice_kg(capacity_j_k, inputs.get("from_c")?, inputs.get("to_c")?)
        }
        "heat taken by 5 kg ice in a bath ending at 5 C" => ice_heat_j(5.0, 5.0) / 1e3,
        "sealed 20 L can cooling in air, time to 30 C" => {
            let path = CoolDown {
                from_c: inputs.get("t0_c")?,
                to_c: 30.0,
                inlet_c: inputs.get("tair_c")?,
            };
            let (capacity_j_k, loss_w_k) = (inputs.get("c_j_k")?, inputs.get("ua_w_k")?);
            cool_down_time_s(capacity_j_k, loss_w_k, &path) / 3600.0
        }
        "iso-alpha from hops carried into that can, share of alpha" => {
            can_c(0.0)?;
            let cooling = |minutes: f64| can_c(minutes).unwrap_or(f64::NAN);
            plain(Hopped::dissolved(), inputs.get("t_min")?, cooling)?.iso
        }
        "DMS precursor turned into DMS in that can" => {
            let ph = inputs.get("ph")?;
            let steps = 24_000_u32;
            let step_min = inputs.get("t_min")? / f64::from(steps);
            let mut turned = 0.0;
            for step in 0..steps {
                let middle_min = (f64::from(step) + 0.5) * step_min;
                turned += precursor_rate_per_s(can_c(middle_min)?, ph) * step_min * 60.0;
            }
            1.0 - (-turned).exp()
        }
        _ => return None,
    })
}
