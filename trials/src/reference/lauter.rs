//! Answers to the rows of `reference/checks/lauter.csv`.
//!
//! Holds no physics: it hands the inputs of a row to the code and its number back.

use super::Inputs;
use super::bed_run::{Run, Sparge};
use matter::wort;
use process::lauter::{
    self, BedInputs, Layer, Level, RunningsAcidity, SettledFlow, bed_depth_m, drained_share,
    drained_share_limit, settled_flow,
};
use process::strike::{MashMix, first_wort_plato};
use std::f64::consts::FRAC_PI_4;

/// L/min in a m³/s.
const L_MIN: f64 = 6e4;
/// Density of water at 70 °C that the rows take (kg/m³).
const RHO_70: f64 = 977.76;
/// Exponent of barley wort.
const BARLEY: f64 = 1.65;

/// The code's number for one row, in the unit of the row.
pub fn answer(quantity: &str, inputs: &Inputs, id: &str) -> Option<f64> {
    of_viscosity(quantity, inputs)
        .or_else(|| of_flow(quantity, inputs, id))
        .or_else(|| of_levels(quantity, inputs))
        .or_else(|| of_washing(quantity, inputs))
        .or_else(|| of_drains(quantity, inputs))
        .or_else(|| of_acidity(quantity, inputs))
}

fn disc_m2(diameter_m: f64) -> f64 {
    FRAC_PI_4 * diameter_m * diameter_m
}

fn of_viscosity(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let temp_c = inputs.get("t_c");
    let barley = |plato: f64, temp_c: f64| wort::viscosity_pa_s(plato, temp_c, BARLEY);
    Some(match quantity {
        "sucrose solution viscosity" | "wort viscosity" => {
            let kappa = inputs.get("kappa")?;
            wort::viscosity_pa_s(inputs.get("plato")?, temp_c?, kappa) * 1e3
        }
        "water viscosity" => wort::viscosity_pa_s(0.0, temp_c?, BARLEY) * 1e3,
        "congress wort of barley malt" => barley(inputs.get("plato")?, temp_c?) * 1e3,
        "wort 24 P against 16 P" => barley(24.0, temp_c?) / barley(16.0, temp_c?),
        "flow of 20 P wort against 15 P" => barley(15.0, temp_c?) / barley(20.0, temp_c?),
        "cooler sparge: viscosity 65 C / 78 C" => {
            let plato = inputs.get("plato")?;
            barley(plato, 65.0) / barley(plato, 78.0)
        }
        _ => return None,
    })
}

/// The bed of the rows D8, D9 and D13: 9 L of bed, wort of 18 °P and 70 °C, a 12.7 mm opening.
fn pressed(diameter_m: f64, depth_m: f64, head_m: f64) -> SettledFlow {
    let bed = BedInputs {
        area_m2: disc_m2(diameter_m),
        depth_m,
        viscosity_pa_s: wort::viscosity_pa_s(18.0, 70.0, BARLEY),
        density_kg_m3: RHO_70,
        permeability_m2: 5e-11,
        pressing_pa: 2500.0,
        pressing_exponent: 2.0,
        screen_per_m: 5e8,
        opening_m2: disc_m2(0.0127),
        discharge: 0.6,
    };
    settled_flow(&bed, head_m)
}

fn of_flow(quantity: &str, inputs: &Inputs, id: &str) -> Option<f64> {
    let layer = |area_m2: f64| {
        Some(Layer {
            permeability_m2: inputs.get("k_m2")?,
            area_m2,
            depth_m: inputs.get("depth_m")?,
            viscosity_pa_s: inputs.get("mu_pa_s")?,
        })
    };
    let (from_m, to_m) = (inputs.get("from_head_m"), inputs.get("to_head_m"));
    Some(match quantity {
        "Darcy flow" => lauter::darcy_m3_s(&layer(1.0)?, inputs.get("dp_pa")?) * L_MIN,
        "pressure for the same flow at viscosity x1.5 and depth x2" => {
            let plain = Layer {
                permeability_m2: 2.7e-11,
                area_m2: 1.0,
                depth_m: 0.2,
                viscosity_pa_s: 0.7e-3,
            };
            let slow = Layer {
                depth_m: plain.depth_m * inputs.get("depth_factor")?,
                viscosity_pa_s: plain.viscosity_pa_s * inputs.get("mu_factor")?,
                ..plain
            };
            lauter::darcy_m3_s(&plain, 1000.0) / lauter::darcy_m3_s(&slow, 1000.0)
        }
        "superficial flow in a kettle" => {
            inputs.get("l_per_min")? / disc_m2(inputs.get("diameter_m")?)
        }
        "settled flow, valve fully open" => {
            let (diameter_m, depth_m) = (inputs.get("diameter_m")?, inputs.get("depth_m")?);
            pressed(diameter_m, depth_m, inputs.get("head_m")?).flow_m3_s * L_MIN
        }
        "bed pressure then" => {
            let head_cm: f64 = id.strip_prefix("D9-")?.parse().ok()?;
            pressed(0.40, 0.20, head_cm / 100.0).bed_pa
        }
        "settled bed depth" => {
            let per_kg = inputs.get("bed_l_per_kg")? / 1e3;
            bed_depth_m(inputs.get("grist_kg")?, per_kg, disc_m2(inputs.get("diameter_m")?))
        }
        "settled flow of that bed, valve open" => {
            let diameter_m = inputs.get("diameter_m")?;
            let depth_m = bed_depth_m(5.0, 1.8e-3, disc_m2(diameter_m));
            pressed(diameter_m, depth_m, inputs.get("head_m")?).flow_m3_s * L_MIN
        }
        "falling level through a bed, laminar" => {
            lauter::bed_time_s(&layer(1.0)?, RHO_70, from_m?, to_m?) / 60.0
        }
        "falling level, valve only" => {
            let opening_m2 = inputs.get("cd")? * disc_m2(inputs.get("bore_mm")? / 1e3);
            let ratio = disc_m2(inputs.get("diameter_m")?) / opening_m2;
            lauter::orifice_time_s(ratio, from_m?, to_m?)
        }
        "bed pressure difference of greatest flow" => greatest_flow_pa(),
        _ => return None,
    })
}

/// Pressure over the bed at which more head no longer gives more flow.
fn greatest_flow_pa() -> f64 {
    let heads = (1..2000).map(|mm| pressed(0.40, 0.20, f64::from(mm) / 1e3));
    heads
        .fold(
            (0.0, 0.0),
            |best: (f64, f64), now| {
                if now.flow_m3_s > best.0 { (now.flow_m3_s, now.bed_pa) } else { best }
            },
        )
        .1
}

fn of_levels(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let level = || Level {
        area_m2: disc_m2(inputs.get_or("diameter_m", 0.40)),
        head_m: inputs.get_or("head_m", 0.35),
        flow_m3_s: inputs.get_or("l_per_min", 0.95) / L_MIN,
    };
    let mismatch = inputs.get("mismatch");
    Some(match quantity {
        "time to uncover the bed" => {
            let drop_mm = inputs.get("cover_from_mm")? - inputs.get("cover_to_mm")?;
            level().drift_time_s(drop_mm / 1e3, mismatch?) / 60.0
        }
        "flow of a sinking liquor tank against its start" => {
            let flow = |key| Some(lauter::orifice_flow_m3_s(1e-4, 0.6, inputs.get(key)?));
            flow("head_to_m")? / flow("head_from_m")?
        }
        "time constant of self-levelling, turbulent valve" => level().self_levelling_s() / 60.0,
        "level at rest after a 10 % mismatch" => level().resting_rise_m(mismatch?) * 1e3,
        _ => return None,
    })
}

fn of_washing(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let drawn_l = inputs.get("drawn_l");
    Some(match quantity {
        "strength at the valve, continuous sparge" => {
            Run::new(Sparge::default())?.draw(drawn_l?)?.plato()
        }
        "share of extract drawn" => Run::new(Sparge::default())?.draw(drawn_l?)?.drawn_share(),
        "extract balance over the whole run" => Run::new(Sparge::default())?.draw(30.0)?.closure(),
        "run-off per kg when the runnings reach 2-2.5 P" => {
            let tenths = (100..320).map(|tenth| f64::from(tenth) / 10.0);
            let weak = |litres: &f64| {
                let run = Run::new(Sparge::default()).and_then(|run| run.draw(*litres));
                run.is_some_and(|run| run.plato() < 2.25)
            };
            tenths.into_iter().find(weak)? / 5.0
        }
        "bed model in its limit of N tanks (no bypass, fast exchange, no free volumes)" => {
            let limit = Sparge {
                cover_l: 0.03,
                under_l: 0.03,
                under_strength: 1.0,
                channel: 0.0,
                exchange_s: 0.5,
                late: 0.0,
                opening_l: 0.002,
                ..Sparge::default()
            };
            let start = Run::new(limit)?;
            let first = Run::new(limit)?.extract_kg_m3();
            let pores = inputs.get("pore_volumes")?;
            let litres = (start.free_m3 + pores * start.bed_m3) * 1e3 - 0.03;
            start.draw(litres)?.extract_kg_m3() / first
        }
        _ => return None,
    })
}

fn of_drains(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let retained_m3 = |grist_kg: f64| grist_kg * 1e-3;
    let grist_kg = inputs.get("grist_kg");
    let run_off_m3 = inputs.get_or("run_off_l", 27.0) / 1e3;
    Some(match quantity {
        "equal drains, share recovered" | "with 1 L under the plate" => {
            let drains = inputs.get("drains")?;
            let kept_m3 = retained_m3(grist_kg?) + inputs.get_or("dead_l", 0.0) / 1e3;
            let each = vec![run_off_m3 / drains; drains as usize];
            100.0 * drained_share(&each, kept_m3)
        }
        "two unequal drains" => {
            let first = inputs.get("first_share")?;
            let drains = [run_off_m3 * first, run_off_m3 * (1.0 - first)];
            100.0 * drained_share(&drains, retained_m3(grist_kg?))
        }
        "limit of many drains" => 100.0 * drained_share_limit(run_off_m3, retained_m3(grist_kg?)),
        "worked example: first wort" => example_plato(),
        "wort volume at 20 C" => example_m3() * 1e3,
        "one drain, 5 L retained" => 100.0 * drained_share(&[example_m3() - 5e-3], 5e-3),
        "refilled with as much as was drained, drained again" => {
            let drain_m3 = example_m3() - 5e-3;
            100.0 * drained_share(&[drain_m3, drain_m3], 5e-3)
        }
        _ => return None,
    })
}

/// Strength of the worked example: 5 kg of malt in 15 kg of liquor, all of it dissolved.
fn example_plato() -> f64 {
    first_wort_plato(&MashMix { extract: 0.7776, moisture: 0.04, liquor_kg_kg: 3.0 }, 1.0)
}

/// Its volume at 20 °C, m³.
fn example_m3() -> f64 {
    wort::volume_m3(15.0 + 5.0 * 0.04, 5.0 * 0.7776, 20.0)
}

fn of_acidity(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let alkalinity = inputs.get("alkalinity_left_meq_l");
    let runnings = |mash_ph: f64| {
        let acidity = RunningsAcidity::new(mash_ph, 200.0, alkalinity?);
        Some(acidity.ph(inputs.get("kg_per_l")? * 1e3))
    };
    Some(match quantity {
        "pH of runnings at 2 P" => runnings(inputs.get("mash_ph")?)?,
        "rise of last-running pH" => runnings(5.5)? - 5.5,
        _ => return None,
    })
}
