//! Every demo brewhouse is read, keeps its numbers, and satisfies the JSON Schema.

use std::path::{Path, PathBuf};

use brewhouse::{Brewhouse, Part, Recirculate, Screen, read, read_file, schema};

const DEMOS: [&str; 5] =
    ["orchard-shed", "tiled-kitchen", "window-bench", "club-barn", "three-step"];

fn path(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo").join(format!("{name}.toml"))
}

fn demo(name: &str) -> Brewhouse {
    match read_file(&path(name)) {
        Ok(read) => read.brewhouse,
        Err(findings) => panic!("{findings}"),
    }
}

/// The value of a TOML file as JSON, a day written as it stands there.
fn json(value: toml::Value) -> serde_json::Value {
    match value {
        toml::Value::Datetime(day) => day.to_string().into(),
        toml::Value::Array(list) => list.into_iter().map(json).collect(),
        toml::Value::Table(table) => {
            table.into_iter().map(|(key, value)| (key, json(value))).collect()
        }
        other => serde_json::to_value(other).expect("plain TOML values are JSON values"),
    }
}

#[test]
fn every_demo_is_read_without_a_note() {
    for name in DEMOS {
        match read_file(&path(name)) {
            Ok(read) => assert!(read.notes.is_empty(), "{}", read.notes),
            Err(findings) => panic!("{findings}"),
        }
    }
}

#[test]
fn every_demo_satisfies_the_schema() {
    let validator = jsonschema::validator_for(&schema()).unwrap();
    for name in DEMOS {
        let text = std::fs::read_to_string(path(name)).unwrap();
        let value = json(toml::from_str(&text).unwrap());
        let errors: Vec<_> =
            validator.iter_errors(&value).map(|e| format!("{}: {e}", e.instance_path())).collect();
        assert!(errors.is_empty(), "{name}: {errors:#?}");
    }
}

#[test]
fn the_schema_refuses_an_unknown_key_and_a_missing_unit() {
    let validator = jsonschema::validator_for(&schema()).unwrap();
    let text = std::fs::read_to_string(path("orchard-shed")).unwrap();
    for (from, to) in [("elevation =", "elevatoin ="), ("\"450 m\"", "\"450\"")] {
        let value = json(toml::from_str(&text.replacen(from, to, 1)).unwrap());
        assert!(!validator.is_valid(&value), "{to}");
    }
}

/// Volumes to the brim as drawn: 38.0 (a plain cylinder holds 38.07), 50.3, 56.5 and 30.0 L.
#[test]
fn orchard_shed_holds_what_the_drawing_says() {
    let house = demo("orchard-shed");
    for (part, litres) in
        [(Part::Liquor, 38.0), (Part::Mash, 50.3), (Part::Kettle, 56.5), (Part::Fermenter, 30.0)]
    {
        let brim_l = house.playing(part).unwrap().section.brim_m3() * 1e3;
        assert!((brim_l - litres).abs() < 0.1, "{part:?} {brim_l}");
    }
    let tun = house.playing(Part::Mash).unwrap();
    let kettle = house.playing(Part::Kettle).unwrap();
    assert!(house.share_a_heater(tun, kettle));
    assert_eq!(tun.thermometer.as_ref().unwrap().bias.unwrap().value.kelvin(), -0.3);
    let Some(Screen::FalseBottom { under: Some(under), .. }) = &tun.screen else { panic!() };
    assert!((under.half_width.unwrap() - 8e-5).abs() < 1e-12);
    assert_eq!(house.recirculate, Recirculate::Pump);
    let silent = Brewhouse { reserve: None, ..house.clone() };
    assert!((silent.reserve().litres() - 4.0).abs() < 1e-12);
    assert!((house.grain_holds_m3_kg.unwrap() - 9.5e-4).abs() < 1e-12);
}

/// Three steps: each outlet stands above the brim of the next vessel, so that all runs downhill.
#[test]
fn three_step_runs_downhill() {
    let house = demo("three-step");
    let way = [Part::Liquor, Part::Mash, Part::Kettle, Part::Fermenter];
    for pair in way.windows(2) {
        let (from, to) = (house.playing(pair[0]).unwrap(), house.playing(pair[1]).unwrap());
        let outlet_m = from.stand.value.metres() + from.outlet().unwrap().height.value.metres();
        let brim_m = to.stand.value.metres() + to.section.brim_height_m();
        assert!(outlet_m > brim_m, "{} to {}: {outlet_m} {brim_m}", from.key, to.key);
    }
    assert!(house.pump.is_none());
    assert!(matches!(house.recirculate, Recirculate::Jug { .. }));
    assert!((house.reserve().gallons() - 1.0).abs() < 1e-12);
}

/// One pot may play three parts.
#[test]
fn window_bench_is_one_pot() {
    let house = demo("window-bench");
    let pot = house.vessel("pot").unwrap();
    assert_eq!(pot.plays, [Part::Liquor, Part::Mash, Part::Kettle]);
    assert_eq!(pot.base.len(), 3);
    assert!((pot.section.brim_m3() * 1e3 - 10.0).abs() < 0.3);
}

/// A file that is read is read the same from its text.
#[test]
fn text_and_file_are_the_same() {
    let text = std::fs::read_to_string(path("club-barn")).unwrap();
    assert_eq!(read("club", &text).unwrap(), demo("club-barn"));
}

/// Metal of the tun: that of a generic clad pot of 50 L, 4.0 kJ/K ± 20 %; what is left out has
/// its usual value.
#[test]
fn what_was_not_proved_comes_from_geometry() {
    let house = demo("orchard-shed");
    let tun = house.playing(Part::Mash).unwrap();
    assert!((tun.metal_j_k() / 4005.0 - 1.0).abs() < 0.2, "{}", tun.metal_j_k());
    assert!((tun.left_behind_m3() * 1e3 - 1.15).abs() < 1e-9);
    assert!((tun.under_screen_m3() * 1e3 - 5.28).abs() < 1e-9);
    let tank = house.playing(Part::Liquor).unwrap();
    assert!((tank.least_level_m() - 0.06).abs() < 1e-12);
    // The lower edge of a 15 mm bore at 25 mm: 17.5 mm of a 360 mm pot, and a little film.
    let left_l = tank.left_behind_m3() * 1e3;
    assert!(left_l > 1.78 && left_l < 1.82, "{left_l}");
    let kettle = house.playing(Part::Kettle).unwrap();
    assert!((kettle.foam_limit_m3() / kettle.section.brim_m3() - 0.8).abs() < 1e-12);
    // 6 kg or so of steel: a generic clad pot of 50 L weighs 7.2 kg ± 20 %.
    assert!(tun.pot_kg() > 5.8 && tun.pot_kg() < 9.5, "{}", tun.pot_kg());
    assert!(kettle.lid_kg() > 0.5 && kettle.lid_kg() < 1.2, "{}", kettle.lid_kg());
}
