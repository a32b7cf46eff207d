//! Answers to the rows of `reference/checks/wort.csv`.
//!
//! Holds no physics: it hands the inputs of a row to the code and its number back.

use super::Inputs;
use matter::water;
use matter::wort::{self, Hydrometer, Refractometer};

/// Density of the air that buoys a weighed sample (kg/m³), as the handbook table assumes.
const AIR_KG_M3: f64 = 1.2;
/// Density of the brass weights on the other side of the balance (kg/m³).
const BRASS_KG_M3: f64 = 8000.0;
/// 1 lb/US gal (NIST SP 811).
const LB_PER_GALLON_KG_M3: f64 = 119.826_427;

/// The code's number for one row, in the unit of the row.
pub fn answer(quantity: &str, inputs: &Inputs, _id: &str) -> Option<f64> {
    of_water(quantity, inputs)
        .or_else(|| of_wort(quantity, inputs))
        .or_else(|| of_instruments(quantity, inputs))
        .or_else(|| of_beer(quantity, inputs))
}

fn of_water(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let temp_c = inputs.get("t_c");
    Some(match quantity {
        "water density" => water::density_kg_m3(temp_c?),
        "water heat capacity" | "heat capacity of water at 2 bar" => {
            water::heat_capacity_j_kg_k(temp_c?)
        }
        "water viscosity" => water::viscosity_pa_s(temp_c?) * 1e6,
        "water conductivity" => water::conductivity_w_m_k(temp_c?),
        "air pressure, standard atmosphere" => water::air_pressure_pa(inputs.get("z_m")?) / 1e3,
        "boiling point of water" => water::saturation_temperature_c(inputs.get("p_kpa")? * 1e3),
        "saturation pressure of water" => water::saturation_pressure_pa(temp_c?) / 1e3,
        "heat of evaporation of water" => water::evaporation_heat_j_kg(temp_c?) / 1e3,
        _ => return None,
    })
}

fn of_wort(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let temp_c = inputs.get("t_c");
    let share = inputs.get("p").map(|plato| plato / 100.0);
    let rho = wort::density_kg_m3;
    Some(match quantity {
        "wort density" => rho(share?, temp_c?),
        "specific gravity 20/20, weights in air" => {
            in_air(rho(share?, 20.0)) / in_air(rho(0.0, 20.0))
        }
        "sucrose solution weight in air at 20 C" => {
            let density = rho(share?, 20.0);
            (density - AIR_KG_M3 * (1.0 - density / BRASS_KG_M3)) / LB_PER_GALLON_KG_M3
        }
        "extract from SG 20/20, ASBC cubic" => {
            let density = in_air(rho(0.0, 20.0)) * inputs.get("sg")? + AIR_KG_M3;
            100.0 * wort::extract_from_density_20(density)
        }
        "extract from true SG 20/20" => wort::plato_from_sg(inputs.get("sg")?),
        "SG 20/20 from extract, NBS cubic" => in_air(rho(share?, 20.0)) / in_air(rho(0.0, 20.0)),
        "thermal shrinkage of wort" => {
            1.0 - rho(share?, inputs.get("from_c")?) / rho(share?, inputs.get("to_c")?)
        }
        "mixing: extract of 10 L of 18 P and 10 L of water, both at 66 C" => {
            let (water_kg, extract_kg) = mixed(inputs)?;
            100.0 * extract_kg / (water_kg + extract_kg)
        }
        "mixing: volume at 66 C" => {
            let (water_kg, extract_kg) = mixed(inputs)?;
            wort::volume_m3(water_kg, extract_kg, temp_c?) * 1e3
        }
        "wort heat capacity" => wort::heat_capacity_j_kg_k(share?, temp_c?),
        "wort thermal conductivity" => wort::conductivity_w_m_k(share?, temp_c?),
        "boiling point rise, sucrose, dilute" => wort::boiling_rise_k(share?),
        _ => return None,
    })
}

fn in_air(density_kg_m3: f64) -> f64 {
    density_kg_m3 - AIR_KG_M3
}

/// Water and extract (kg) of a volume of wort and a volume of water at one temperature.
fn mixed(inputs: &Inputs) -> Option<(f64, f64)> {
    let (share, temp_c) = (inputs.get("p1")? / 100.0, inputs.get("t_c")?);
    let wort_kg = inputs.get("v1_l")? / 1e3 * wort::density_kg_m3(share, temp_c);
    let water_kg = inputs.get("v2_l")? / 1e3 * water::density_kg_m3(temp_c);
    Some((water_kg + wort_kg * (1.0 - share), wort_kg * share))
}

fn of_instruments(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let hydrometer = Hydrometer {
        calibration_c: inputs.get_or("tcal_c", 20.0),
        glass_per_k: inputs.get_or("beta_per_k", 25e-6),
        ..Hydrometer::default()
    };
    Some(match quantity {
        "hydrometer reading" | "hydrometer reading in pure water" => {
            hydrometer.reading_sg(inputs.get("p")?, inputs.get("t_c")?)
        }
        "extract from hydrometer" => hydrometer.plato(inputs.get("reading")?, inputs.get("t_c")?),
        "refractive index of sucrose, 20 C, 589.3 nm" => {
            wort::refractive_index_from_brix(inputs.get("bx")?)
        }
        "refractometer reading of beer, additive model" => {
            let meter = Refractometer { factor: inputs.get("k")?, ..Refractometer::default() };
            meter.reading_bx(inputs.get("oe")?, inputs.get("ae")?, 20.0)
        }
        "final gravity from refractometer, published fit 1" => {
            // the row states the reading divided by the factor of the instrument
            let meter = Refractometer::default();
            let reading_bx = inputs.get("rf")? * meter.factor;
            wort::sg_from_plato(meter.apparent_plato(reading_bx, inputs.get("ri")?, 20.0))
        }
        _ => return None,
    })
}

fn of_beer(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let from_gravities = || {
        let plato = |key| Some(wort::plato_from_sg(inputs.get(key)?));
        let original = plato("og")?;
        Some((original, wort::real_extract_plato(original, plato("fg")?)))
    };
    Some(match quantity {
        "real extract" => from_gravities()?.1,
        "density of pure ethanol" => {
            let temp_c = inputs.get("t_c").filter(|&temp_c| temp_c == 20.0)?;
            wort::ETHANOL_SG * water::density_kg_m3(temp_c)
        }
        "alcohol by mass" => {
            let (original, real) = from_gravities()?;
            wort::alcohol_percent_mass(original, real)
        }
        "alcohol by volume" => {
            let (original, real) = from_gravities()?;
            let by_mass = wort::alcohol_percent_mass(original, real);
            wort::alcohol_percent_volume(by_mass, inputs.get("fg")?)
        }
        "original extract from A and RE"
        | "mean original extract of a measured data set, from its A and RE" => {
            wort::original_extract_plato(inputs.get("a")?, inputs.get("re")?)
        }
        "mean real extract of a measured data set, from its OE and AE" => {
            wort::real_extract_plato(inputs.get("oe")?, inputs.get("ae")?)
        }
        "fermentability (apparent limit) from the fermentable share of the extract mass" => {
            wort::fermentability_from_fermentable_share(inputs.get("f")?, inputs.get("oe")?)
        }
        _ => return None,
    })
}
