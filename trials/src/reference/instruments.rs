//! Answers to the rows of `reference/checks/instruments.csv`.
//!
//! Holds no physics: it hands the inputs of a row to the code and its number back.

use super::Inputs;
use brewhouse::flow::{GRAVITY_M_S2, outlet_area_m2};
use brewhouse::section::{BaseShape, Section};
use matter::water;
use matter::wort;
use process::strike::{DoughIn, mash_c};

/// The code's number for one row, in the unit of the row.
pub fn answer(quantity: &str, inputs: &Inputs, _id: &str) -> Option<f64> {
    of_the_boiling_point(quantity, inputs).or_else(|| of_dips(quantity, inputs))
}

fn of_the_boiling_point(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let boils_c = water::saturation_temperature_c;
    let elevation_m = inputs.get("z_m");
    let sea_level_pa = water::air_pressure_pa(0.0);
    Some(match quantity {
        "boiling point of water, standard air" => boils_c(water::air_pressure_pa(elevation_m?)),
        "boiling point of water" => boils_c(inputs.get("station_hpa")? * 100.0),
        "change of the boiling point with pressure near 1 atm" => {
            (boils_c(sea_level_pa + 50.0) - boils_c(sea_level_pa - 50.0)) / 1.0
        }
        "boiling point at 450 m when the forecast says 1008 hPa at sea level" => {
            let share = water::air_pressure_pa(elevation_m?) / sea_level_pa;
            boils_c(inputs.get("qnh_hpa")? * 100.0 * share)
        }
        "error if sea-level pressure is taken for the pressure here, 450 m" => {
            boils_c(sea_level_pa) - boils_c(water::air_pressure_pa(elevation_m?))
        }
        "boiling point 0.20 m under the surface, above the surface value" => {
            let depth_pa = water::density_kg_m3(boils_c(sea_level_pa))
                * GRAVITY_M_S2
                * inputs.get("depth_m")?;
            boils_c(sea_level_pa + depth_pa) - boils_c(sea_level_pa)
        }
        _ => return None,
    })
}

fn of_dips(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let pot = |diameter_mm: f64| {
        Section::round(diameter_mm / 1e3, 1.0, BaseShape::Flat { corner_m: 0.0 })
    };
    Some(match quantity {
        "volume uncertainty of one dip" => {
            let pot = pot(inputs.get("diameter_mm")?);
            (pot.volume_m3(0.1 + inputs.get("u_mm")? / 1e3) - pot.volume_m3(0.1)) * 1e3
        }
        "litres per kilogram shown by a scale, water" => {
            water::litres_per_scale_kg(inputs.get("t_c")?, inputs.get("air_kg_m3")?)
        }
        "hot water into a cold pot: mixed temperature" => {
            let dough = DoughIn {
                grist_kg: 0.0,
                moisture: 0.0,
                grain_c: inputs.get("t_pot")?,
                liquor_kg: inputs.get("water_kg")?,
                vessel_j_k: inputs.get("pot_j_k")?,
                vessel_c: inputs.get("t_pot")?,
                wetting_j_kg: 0.0,
                lost_j: 0.0,
            };
            mash_c(&dough, inputs.get("t_hot")?)
        }
        "points of gravity per degree Plato at 12" => {
            (wort::sg_from_plato(12.5) - wort::sg_from_plato(11.5)) * 1e3
        }
        q if q.starts_with("effective CdA from the run of the design") => {
            let head_m = inputs.get("h_m")? + inputs.get("drop_m")?;
            outlet_area_m2(inputs.get("q_l_min")? / 6e4, head_m) * 1e6
        }
        _ => return None,
    })
}
