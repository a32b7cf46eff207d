//! A solved day as plain numbers in JSON, and back: what an integration in another language reads.
//!
//! Deliberately absent: any physics. Laws that the program keeps as tables are written as the
//! inputs they are laid out from; a pot must be a plain round one.

mod action;
mod numbers;

use anyhow::{Context, Result, anyhow, bail};
use brewhouse::section::{BaseShape, Section};
use day::procedure::{After, Edge, Operation, OperationIndex, Procedure, Start};
use day::setting::{Chiller, Heater, Pot, Setting};
use process::heat::{OpenSurface, SideLoss};
use serde::de::DeserializeOwned;
use serde_json::{Map, Value, json};
use std::path::{Path, PathBuf};

/// Where frozen days and what another integration makes of them are kept.
pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../reference/days")
}

/// Solves the demo day anew and writes it to `reference/days`; tells the file.
///
/// # Errors
/// When the demo cannot be read or solved, or the file not be written.
pub fn freeze_demo_day() -> Result<String> {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo");
    let text =
        |name: &str| std::fs::read_to_string(demo.join(name)).with_context(|| name.to_owned());
    let brewhouse = brewhouse::read("orchard-shed", &text("orchard-shed.toml")?)
        .map_err(|_| anyhow!("demo/orchard-shed.toml has findings"))?;
    let brew = brew::read("windfall-amber", &text("windfall-amber.toml")?)
        .map_err(|_| anyhow!("demo/windfall-amber.toml has findings"))?;
    let (setting, procedure) = plan::day_of(&brewhouse, &brew)?;
    let path = folder().join("windfall-amber.json");
    std::fs::create_dir_all(folder())?;
    std::fs::write(&path, serde_json::to_string_pretty(&write(&setting, &procedure)?)? + "\n")?;
    Ok(path.display().to_string())
}

/// A day as JSON; masses, powers and all else in SI, temperatures in °C.
///
/// # Errors
/// When a pot is not a plain round one.
pub fn write(setting: &Setting, procedure: &Procedure) -> Result<Value> {
    let pots = setting.pots.iter().map(write_pot).collect::<Result<Vec<Value>>>()?;
    let operations: Vec<Value> = procedure.operations.iter().map(write_operation).collect();
    let s = setting;
    let mut day = json!({
        "pots": pots,
        "parts": numbers::write_parts(&s.parts),
        "grist": numbers::write_grist(&s.grist),
        "kinetics": numbers::write_all_kinetics(&s.kinetics),
        "bed": numbers::write_bed(&s.bed),
        "hops": s.hops.iter().map(numbers::write_hop).collect::<Vec<_>>(),
        "bitterness": numbers::write_bitterness(&s.bitterness),
        "chiller": write_chiller(&s.chiller),
        "losses": {
            "trub": s.losses.trub,
            "cold_break": s.losses.cold_break,
            "trub_and_hops_m3": s.losses.trub_and_hops_m3,
            "hoses_m3": s.losses.hoses_m3,
        },
        "operations": operations,
    });
    join(&mut day, numbers::write_air(s));
    Ok(day)
}

/// A day from the JSON of [`write()`].
///
/// # Errors
/// When something is missing, or of the wrong kind.
pub fn read(day: &Value) -> Result<(Setting, Procedure)> {
    let list = |key: &str| -> Result<&Vec<Value>> {
        day[key].as_array().with_context(|| format!("`{key}` is not a list"))
    };
    let mut setting = Setting {
        pots: list("pots")?.iter().map(read_pot).collect::<Result<_>>()?,
        parts: numbers::read_parts(&day["parts"])?,
        grist: numbers::read_grist(&day["grist"])?,
        kinetics: numbers::read_all_kinetics(&day["kinetics"])?,
        bed: numbers::read_bed(&day["bed"])?,
        hops: list("hops")?.iter().map(numbers::read_hop).collect::<Result<_>>()?,
        bitterness: numbers::read_bitterness(&day["bitterness"])?,
        chiller: read_chiller(&day["chiller"])?,
        losses: day::setting::LossSetting {
            trub: get(&day["losses"], "trub")?,
            cold_break: get(&day["losses"], "cold_break")?,
            trub_and_hops_m3: get(&day["losses"], "trub_and_hops_m3")?,
            hoses_m3: get(&day["losses"], "hoses_m3")?,
        },
        air_c: 0.0,
        pressure_pa: 0.0,
        source_c: 0.0,
        grist_c: 0.0,
        wetting_factor: 0.0,
        mash_ph: 0.0,
        wort_ph: 0.0,
    };
    numbers::read_air(&mut setting, day)?;
    let operations = list("operations")?.iter().map(read_operation).collect::<Result<_>>()?;
    Ok((setting, Procedure { operations }))
}

/// One entry of an object.
fn get<T: DeserializeOwned>(of: &Value, key: &str) -> Result<T> {
    serde_json::from_value(of[key].clone()).with_context(|| format!("`{key}` is missing or wrong"))
}

fn join(into: &mut Value, more: Value) {
    let empty = Map::new();
    let more = more.as_object().unwrap_or(&empty).clone();
    if let Some(object) = into.as_object_mut() {
        object.extend(more);
    }
}

fn write_pot(pot: &Pot) -> Result<Value> {
    let section = &pot.section;
    let (height_m, area_m2) = (section.brim_height_m(), section.base_m2());
    let diameter_m = section.mean_diameter_m();
    let plain = Section::round(diameter_m, height_m, BaseShape::Flat { corner_m: 0.0 });
    let alike = |of: &Section| [of.brim_m3(), of.volume_m3(0.02), of.wetted_side_m2(height_m)];
    let same = alike(section).iter().zip(alike(&plain)).all(|(a, b)| (a / b - 1.0).abs() < 1e-12);
    if !same {
        bail!("pot {}: only a plain round pot can be frozen", pot.key);
    }
    let mut value = json!({
        "key": pot.key,
        "diameter_m": diameter_m,
        "height_m": height_m,
        "bottom_m2": area_m2,
        "base_w_k": pot.base_w_k.is_finite().then_some(pot.base_w_k),
        "side": numbers::write_side(pot.side.inputs()),
        "surface": numbers::write_surface(pot.surface.inputs()),
        "heater": write_heater(&pot.heater),
    });
    join(&mut value, numbers::write_pot(pot));
    Ok(value)
}

fn read_pot(v: &Value) -> Result<Pot> {
    let flat = BaseShape::Flat { corner_m: 0.0 };
    let mut pot = Pot {
        key: get(v, "key")?,
        section: Section::round(get(v, "diameter_m")?, get(v, "height_m")?, flat),
        base_w_k: get::<Option<f64>>(v, "base_w_k")?.unwrap_or(f64::INFINITY),
        side: SideLoss::new(&numbers::read_side(&v["side"])?),
        surface: OpenSurface::new(&numbers::read_surface(&v["surface"])?),
        heater: read_heater(&v["heater"])?,
        wall_j_k: 0.0,
        base_j_k: 0.0,
        base_loss_w_k: 0.0,
        side_fired: 0.0,
        lid_share: 0.0,
        lid_w_m2_k: 0.0,
        least_level_m: 0.0,
        left_m3: 0.0,
        under_m3: 0.0,
        screen_m: 0.0,
        valve_m3_s: 0.0,
        side_m2: 0.0,
        area_m2: 0.0,
    };
    numbers::read_pot(&mut pot, v)?;
    Ok(pot)
}

fn write_heater(heater: &Heater) -> Value {
    let electric = |kind: &str, power_w: &f64, share: &f64| -> Value {
        json!({ "kind": kind, "power_w": power_w, "share": share })
    };
    match heater {
        Heater::None => json!({ "kind": "none" }),
        Heater::Flame(inputs) => {
            let mut value = json!({ "kind": "flame" });
            join(&mut value, numbers::write_flame(inputs));
            value
        }
        Heater::Element { power_w, share } => electric("element", power_w, share),
        Heater::Plate { power_w, share } => electric("plate", power_w, share),
    }
}

fn read_heater(v: &Value) -> Result<Heater> {
    Ok(match get::<String>(v, "kind")?.as_str() {
        "none" => Heater::None,
        "flame" => Heater::Flame(numbers::read_flame(v)?),
        "element" => Heater::Element { power_w: get(v, "power_w")?, share: get(v, "share")? },
        "plate" => Heater::Plate { power_w: get(v, "power_w")?, share: get(v, "share")? },
        other => bail!("no heater `{other}`"),
    })
}

fn write_chiller(chiller: &Chiller) -> Value {
    match *chiller {
        Chiller::None => json!({ "kind": "none" }),
        Chiller::Coil { ua_w_k, coolant_kg_s, inlet_c } => json!({
            "kind": "coil", "ua_w_k": ua_w_k, "coolant_kg_s": coolant_kg_s, "inlet_c": inlet_c,
        }),
        Chiller::Bath { ua_w_k, coolant_kg_s, inlet_c } => json!({
            "kind": "bath", "ua_w_k": ua_w_k, "coolant_kg_s": coolant_kg_s, "inlet_c": inlet_c,
        }),
        Chiller::Counterflow { ua_w_k, coolant_kg_s, inlet_c, wort_kg_s } => json!({
            "kind": "counterflow", "ua_w_k": ua_w_k, "coolant_kg_s": coolant_kg_s,
            "inlet_c": inlet_c, "wort_kg_s": wort_kg_s,
        }),
    }
}

fn read_chiller(v: &Value) -> Result<Chiller> {
    let kind = get::<String>(v, "kind")?;
    if kind == "none" {
        return Ok(Chiller::None);
    }
    let ua_w_k = get(v, "ua_w_k")?;
    let (coolant_kg_s, inlet_c) = (get(v, "coolant_kg_s")?, get(v, "inlet_c")?);
    Ok(match kind.as_str() {
        "coil" => Chiller::Coil { ua_w_k, coolant_kg_s, inlet_c },
        "bath" => Chiller::Bath { ua_w_k, inlet_c, coolant_kg_s },
        "counterflow" => {
            Chiller::Counterflow { ua_w_k, coolant_kg_s, inlet_c, wort_kg_s: get(v, "wort_kg_s")? }
        }
        other => bail!("no chiller `{other}`"),
    })
}

fn write_operation(operation: &Operation) -> Value {
    let after: Vec<Value> = operation
        .starts
        .after
        .iter()
        .map(|tie| {
            let from = if tie.from == Edge::Start { "start" } else { "end" };
            json!({ "operation": tie.operation, "from": from, "delay_s": tie.delay_s })
        })
        .collect();
    json!({
        "id": operation.id,
        "not_before_s": operation.starts.not_before_s,
        "after": after,
        "action": action::write(&operation.action),
    })
}

fn read_operation(v: &Value) -> Result<Operation> {
    let tie = |tie: &Value| -> Result<After> {
        Ok(After {
            operation: get::<OperationIndex>(tie, "operation")?,
            from: if get::<String>(tie, "from")? == "start" { Edge::Start } else { Edge::End },
            delay_s: get(tie, "delay_s")?,
        })
    };
    let after = v["after"].as_array().context("`after` is not a list")?;
    Ok(Operation {
        id: get(v, "id")?,
        starts: Start {
            not_before_s: get(v, "not_before_s")?,
            after: after.iter().map(tie).collect::<Result<_>>()?,
        },
        action: action::read(&v["action"])?,
    })
}
