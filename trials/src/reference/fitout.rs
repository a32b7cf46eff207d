//! Answers to the rows of `reference/checks/fitout.csv`.
//!
//! Holds no physics: it hands the inputs of a row to the code and its number back.

use super::Inputs;
use brewhouse::flow::{self, Drain, Line};
use brewhouse::material::{self, Material};
use brewhouse::section::{self, BaseShape, Section};
use matter::water;
use process::heat::{HeatUp, SideLoss, SideLossInputs, heat_up_time_s};

/// Litres in a cubic metre, millimetres in a metre.
const THOUSAND: f64 = 1e3;
/// L/min in a m³/s.
const L_MIN: f64 = 6e4;
const SEA_LEVEL_PA: f64 = 101_325.0;

/// The code's number for one row, in the unit of the row.
pub fn answer(quantity: &str, inputs: &Inputs, _id: &str) -> Option<f64> {
    of_shape(quantity, inputs)
        .or_else(|| of_marks(quantity, inputs))
        .or_else(|| of_walls(quantity, inputs))
        .or_else(|| of_flow(quantity, inputs))
        .or_else(|| of_heating(quantity, inputs))
}

fn metres(inputs: &Inputs, key: &str) -> Option<f64> {
    Some(inputs.get(key)? / THOUSAND)
}

/// A pot with a plain flat base, tall enough for any row.
fn straight(diameter_m: f64) -> Section {
    Section::round(diameter_m, 1.0, BaseShape::Flat { corner_m: 0.0 })
}

fn of_shape(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let diameter_m = metres(inputs, "diameter_mm");
    let pot = |base: BaseShape| Some(Section::round(diameter_m?, 1.0, base));
    let volume_m3 = inputs.get("volume_l").map(|litres| litres / THOUSAND);
    Some(match quantity {
        "height of one litre in a cylinder" => straight(diameter_m?).height_m(1e-3) * THOUSAND,
        "diameter of a pot as high as wide" => {
            section::square_pot_diameter_m(volume_m3?) * THOUSAND
        }
        "volume lost to a radiused base corner" => {
            section::corner_loss_m3(diameter_m?, metres(inputs, "radius_mm")?) * THOUSAND
        }
        "volume below a height, radiused base" => {
            let corner_m = metres(inputs, "radius_mm")?;
            let height_m = metres(inputs, "height_mm")?;
            pot(BaseShape::Flat { corner_m })?.volume_m3(height_m) * THOUSAND
        }
        "volume of a domed (spherical cap) base" => {
            let rise_m = metres(inputs, "dome_mm")?;
            pot(BaseShape::DomedDown { rise_m })?.volume_m3(rise_m) * THOUSAND
        }
        "height of a torispherical base, crown f=1, knuckle k=0.1" => {
            pot(BaseShape::Dished { crown: 1.0, knuckle: 0.1 })?.base_top_m() * THOUSAND
        }
        "volume below height from the lowest point" => {
            let (crown, knuckle) = (inputs.get("crown_f")?, inputs.get("knuckle_k")?);
            let height_m = metres(inputs, "height_mm")?;
            pot(BaseShape::Dished { crown, knuckle })?.volume_m3(height_m) * THOUSAND
        }
        "volume of a 120 degree cone base" => {
            let half_angle_rad = (inputs.get("included_angle_deg")? / 2.0).to_radians();
            let cone = pot(BaseShape::Cone { half_angle_rad })?;
            cone.volume_m3(cone.base_top_m()) * THOUSAND
        }
        "height of a 45 L pot" => straight(diameter_m?).height_m(volume_m3?) * THOUSAND,
        "bed depth of 5 kg malt at 1.8 L/kg settled" => {
            let bed_m3 = inputs.get("grist_kg")? * inputs.get("bed_l_per_kg")? / THOUSAND;
            straight(diameter_m?).height_m(bed_m3) * THOUSAND
        }
        "free surface over wetted side, 35 L in the pot" => {
            let pot = straight(diameter_m?);
            let height_m = pot.height_m(volume_m3?);
            pot.area_m2(height_m) / pot.wetted_side_m2(height_m)
        }
        "liquid below a false bottom 42 mm up, square base" => {
            straight(diameter_m?).volume_m3(metres(inputs, "height_mm")?) * THOUSAND
        }
        "liquid displaced by a coil" => {
            section::coil_m3(inputs.get("length_m")?, metres(inputs, "tube_mm")?) * THOUSAND
        }
        "centre of mass of liquid above the base" => {
            straight(diameter_m?).height_m(volume_m3?) / 2.0 * THOUSAND
        }
        _ => return None,
    })
}

fn of_marks(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let rho = |key: &str| inputs.get(key).map(water::density_kg_m3);
    Some(match quantity {
        "volume at a wall mark, hot over cold" => {
            let rise_k = inputs.get("t_hot_c")? - inputs.get("t_cold_c")?;
            section::mark_growth(inputs.get("alpha_per_k")?, rise_k)
        }
        "volume of the same water, hot over cold" => rho("t_cold_c")? / rho("t_hot_c")?,
        "litres at 20 C in a 304 pot filled to its 30 L mark at 99 C" => {
            let growth = section::mark_growth(inputs.get("alpha_per_k")?, 79.0);
            let shrink = water::density_kg_m3(99.0) / water::density_kg_m3(20.0);
            inputs.get("mark_l")? * growth * shrink
        }
        "height in a cool sight tube over true height" => {
            section::sight_tube_share(rho("t_pot_c")?, rho("t_tube_c")?)
        }
        "wall reading error of a leaning pot, at the worst side" => {
            let angle_rad = inputs.get("tilt_deg")?.to_radians();
            section::tilt_error_m(metres(inputs, "diameter_mm")?, angle_rad) * THOUSAND
        }
        "mass of 35 L at 97 C and a 6.0 kg pot (water)" => {
            inputs.get("volume_l")? / THOUSAND * rho("t_c")? + inputs.get("pot_kg")?
        }
        _ => return None,
    })
}

fn of_walls(quantity: &str, inputs: &Inputs) -> Option<f64> {
    Some(match quantity {
        "spreading length of a base under liquid at 1000 W/m2K" => {
            let thickness_m = metres(inputs, "thickness_mm")?;
            let (k, h) = (inputs.get("k_w_mk")?, inputs.get("h_w_m2k")?);
            material::spreading_length_m(k, thickness_m, h) * THOUSAND
        }
        "temperature drop through the base at that flux" => {
            let layers = layers(inputs.text("base")?)?;
            material::base_drop_k(inputs.get("flux_kw_m2")? * THOUSAND, &layers)
        }
        "heat capacity of a generic pot" => generic_pot_j_k(inputs)? / THOUSAND,
        "side loss at 66 C into 20 C still air" => {
            let insulation = metres(inputs, "thickness_mm")? / inputs.get("k_w_mk")?;
            let loss = SideLoss::new(&SideLossInputs {
                wetted_height_m: inputs.get("height_m")?,
                diameter_m: 0.4,
                emissivity: inputs.get("emissivity")?,
                insulation_m2_k_w: insulation,
                air_c: 20.0,
                wind_m_s: 0.0,
                multiplier: 1.0,
            });
            loss.flux_w_m2(66.0)
        }
        _ => return None,
    })
}

/// Thickness (m) and conductivity (W/(m K)) of the layers of the bases that the rows name.
fn layers(base: &str) -> Option<Vec<(f64, f64)>> {
    Some(match base {
        "304 1.0 mm" => vec![(1e-3, 16.2)],
        "304 0.8 mm" => vec![(0.8e-3, 16.2)],
        "aluminium 4 mm" => vec![(4e-3, 237.0)],
        "clad 0.5 430 + 5 Al + 0.8 304" => vec![(0.5e-3, 24.0), (5e-3, 237.0), (0.8e-3, 16.2)],
        "enamelled steel 1.5 mm + 0.3 mm enamel" => vec![(1.5e-3, 50.0), (0.3e-3, 1.0)],
        _ => return None,
    })
}

/// Wall, base and half the handles of a generic pot, as the rows count them.
fn generic_pot_j_k(inputs: &Inputs) -> Option<f64> {
    let steel = Material::named("stainless 304 (1.4301)")?;
    let plate = Material::named("stainless 430 (1.4016)")?;
    let aluminium = Material::named("aluminium 1050 or 3003")?;
    let (wall, base): (&Material, Vec<(f64, &Material)>) = match inputs.text("build")? {
        "single 304" => (steel, vec![(1e-3, steel)]),
        "clad 304" => (steel, vec![(0.8e-3, steel), (5e-3, aluminium), (0.5e-3, plate)]),
        "aluminium" => (aluminium, vec![(3e-3, aluminium)]),
        _ => return None,
    };
    let (diameter_m, height_m) = (metres(inputs, "diameter_mm")?, metres(inputs, "height_mm")?);
    let pot = Section::round(diameter_m, height_m, BaseShape::Flat { corner_m: 0.0 });
    let sheet = |area_m2: f64, thickness_m: f64, of: &Material| {
        material::sheet_heat_j_k(area_m2, thickness_m, of.rho_kg_m3, of.c_j_kgk)
    };
    let side = sheet(pot.wetted_side_m2(height_m), metres(inputs, "wall_mm")?, wall);
    let floor: f64 = base.iter().map(|(t, of)| sheet(pot.base_m2(), *t, of)).sum();
    let handles = 0.5 * material::handles_kg(pot.brim_m3()) * material::HANDLES_C_J_KGK;
    Some(side + floor + handles)
}

fn of_flow(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let bore_m = metres(inputs, "bore_mm");
    let (rho_66, mu_66) = (water::density_kg_m3(66.0), water::viscosity_pa_s(66.0));
    let line = |length_m: f64| {
        let line =
            Line { bore_m: bore_m?, length_m, roughness_m: 1e-6, loss_sum: inputs.get("k_sum")? };
        Some(flow::line_flow_m3_s(&line, inputs.get("head_m")?, rho_66, mu_66) * L_MIN)
    };
    Some(match quantity {
        "flow from a 12.7 mm sharp hole under 0.30 m" => {
            flow::outlet_flow_m3_s(inputs.get("cd")?, bore_m?, inputs.get("head_m")?) * L_MIN
        }
        "loss coefficient of a full-bore ball valve" => {
            flow::loss_from_kv(inputs.get("kv_m3_h")?, bore_m?)
        }
        "loss coefficient of a DN50 full-bore valve, Kv 175"
        | "same by library"
        | "its loss coefficient on a 12.7 mm port" => {
            flow::loss_from_kv(inputs.get("kv")?, bore_m?)
        }
        "gravity flow, dip tube 0.4 m, one full-bore valve, two bends, water 66 C" => {
            line(inputs.get("length_m")?)?
        }
        "same with a 12.7 mm hose, 0.60 m head" => line(0.4 + inputs.get("hose_m")?)?,
        q if q.starts_with("time to drain 0.30 m of a 400 mm pot") => {
            let pot = straight(metres(inputs, "diameter_mm")?);
            let drain = Drain {
                surface_m2: pot.area_m2(0.1),
                outlet_m2: inputs.get("cd")? * straight(bore_m?).area_m2(0.1),
                drop_m: inputs.get("drop_m")?,
            };
            flow::drain_time_s(&drain, inputs.get("h1_m")?, inputs.get("h2_m")?)
        }
        q if q.starts_with("highest crest of a siphon") => {
            let temp_c = inputs.get("t_c")?;
            let air_pa = inputs.get("pressure_kpa")? * THOUSAND;
            let vapour_pa = water::saturation_pressure_pa(temp_c);
            let margin_m = inputs.get("margin_m")?;
            flow::siphon_crest_m(air_pa, vapour_pa, water::density_kg_m3(temp_c), margin_m)
        }
        q if q.starts_with("suction head available, 0.40 m of liquid") => {
            let temp_c = inputs.get("t_c")?;
            let vapour_pa = water::saturation_pressure_pa(temp_c);
            let lift_m = inputs.get("static_m")? - inputs.get("loss_m")?;
            let rho = water::density_kg_m3(temp_c);
            flow::suction_head_m(SEA_LEVEL_PA, vapour_pa, rho, lift_m)
        }
        "suction head available from a boiling kettle" => {
            let lift_m = inputs.get("static_m")? - inputs.get("loss_m")?;
            flow::suction_head_m(SEA_LEVEL_PA, SEA_LEVEL_PA, water::density_kg_m3(99.97), lift_m)
        }
        "open area, round holes at 60 degrees" => {
            flow::open_share(metres(inputs, "hole_mm")?, metres(inputs, "pitch_mm")?)
        }
        q if q.starts_with("open area at pitch/hole")
            || q.starts_with("erratum: table prints 28 %") =>
        {
            flow::open_share(1.0, inputs.get("ratio")?)
        }
        "cover over a pick-up that keeps air out" => {
            flow::pick_up_cover_m(bore_m?, inputs.get("flow_l_min")? / L_MIN) * THOUSAND
        }
        _ => return None,
    })
}

fn of_heating(quantity: &str, inputs: &Inputs) -> Option<f64> {
    Some(match quantity {
        "time to heat water" => {
            let from_c = inputs.get("t1_c")?;
            let water_kg = inputs.get("volume_l")? / THOUSAND * water::density_kg_m3(from_c);
            let body = HeatUp {
                capacity_j_k: (water_kg * inputs.get("cp_kj_kgk")? + inputs.get("pot_kj_k")?)
                    * THOUSAND,
                ua_w_k: inputs.get("ua_w_k")?,
                power_w: inputs.get("net_kw")? * THOUSAND,
                air_c: inputs.get("air_c")?,
            };
            heat_up_time_s(&body, from_c, inputs.get("t2_c")?) / 60.0
        }
        "net energy to bring 1 L from 15 to 100 C" => {
            let (from_c, to_c) = (inputs.get("t1_c")?, inputs.get("t2_c")?);
            let water_kg = water::density_kg_m3(from_c) / THOUSAND;
            water_kg * (water::enthalpy_j_kg(to_c) - water::enthalpy_j_kg(from_c)) / 3.6e6
        }
        _ => return None,
    })
}
