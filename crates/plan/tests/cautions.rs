//! Cautions that need the whole day stand in the step they belong to, and fall silent without their
//! cause.
#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use brewhouse::Brewhouse;
use brewhouse::caution::when;
use plan::output::{Plan, Step};
use quantity::{Length, Mass, Stated};

fn demo(name: &str) -> String {
    let path = format!("{}/../../demo/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

fn shed() -> Brewhouse {
    brewhouse::read("shed", &demo("orchard-shed")).unwrap()
}

fn solved(shed: &Brewhouse) -> Plan {
    plan::solve(shed, &brew::read("amber", &demo("windfall-amber")).unwrap()).unwrap()
}

/// The steps in which a caution stands.
fn steps<'a>(plan: &'a Plan, id: &str) -> Vec<&'a Step> {
    plan.steps.iter().filter(|s| s.cautions.iter().any(|c| c.id == id)).collect()
}

fn only<'a>(plan: &'a Plan, id: &str) -> &'a Step {
    let found = steps(plan, id);
    assert_eq!(found.len(), 1, "{id} stands in {} steps", found.len());
    found[0]
}

#[test]
fn a_day_with_its_causes_and_one_without() {
    let mut careless = shed();
    let burned_kg = 0.5;
    careless.gas_left = Some(Stated::exactly(Mass::from_kilograms(burned_kg)));
    careless.breaker_tested = None;
    for vessel in &mut careless.vessels {
        vessel.stand = Stated::exactly(Length::from_metres(1.2));
        if vessel.key == "kettle" {
            vessel.valves.clear();
        }
    }
    careless.pump = None;
    let plan = solved(&careless);
    assert_eq!(only(&plan, "H6").id, "heat-strike");
    assert!(plan.fuel.gas_kg > burned_kg, "the day burns {} kg", plan.fuel.gas_kg);
    let low = only(&plan, "G11").cautions.iter().find(|c| c.id == "G11").unwrap();
    assert!(low.words.starts_with("0.5"), "{}", low.words);
    assert_eq!(steps(&plan, "E1").len(), 1, "an element and no test written down");
    assert!(!steps(&plan, "W3").is_empty(), "pots of 400 mm stand 1.2 m high");
    // chilled wort is no danger in a siphon
    assert!(steps(&plan, "H8").is_empty());

    let mut careful = shed();
    careful.gas_left = Some(Stated::exactly(Mass::from_kilograms(50.0)));
    careful.breaker_tested = Some("2026-01-01".into());
    for vessel in &mut careful.vessels {
        vessel.stand = Stated::exactly(Length::from_metres(0.0));
    }
    let plan = solved(&careful);
    for id in ["G11", "E1", "W3", "H8", "H9", "H11"] {
        assert!(steps(&plan, id).is_empty(), "{id}");
    }
    assert_eq!(only(&plan, "H6").id, "heat-strike", "every day has hot metal, told once");
}

/// Liquor over 40 °C out of a tank without a valve, and a tank that must be covered higher than the
/// day leaves it.
#[test]
fn a_tank_without_a_valve_and_one_that_runs_low() {
    let mut bare = shed();
    bare.pump = None;
    for vessel in bare.vessels.iter_mut().filter(|v| v.key == "tank") {
        vessel.valves.clear();
        vessel.least_level = Some(Stated::exactly(Length::from_metres(0.4)));
    }
    let plan = solved(&bare);
    assert_eq!(only(&plan, "H8").id, "strike");
    let limit = plan.limits.iter().find(|l| l.id == "tank_least_level").unwrap();
    assert_eq!(limit.kept, steps(&plan, "H11").is_empty(), "{} {}", limit.value, limit.bound);
    assert!(!limit.kept && when::dry_fire(1e-3 * limit.value, 1e-3 * limit.bound).is_some());
}

/// A pot that cools shut over night pulls at its lid: near one atmosphere on its mouth, less the
/// vapour of the room.
#[test]
fn a_pot_that_cools_shut_is_told_of_its_lid() {
    let mut slow = shed();
    if let Some(chiller) = &mut slow.chiller {
        chiller.kind = brewhouse::ChillerKind::Air;
    }
    let plan = solved(&slow);
    let found = steps(&plan, "H9");
    assert!(!found.is_empty(), "no step of {:?}", plan.steps.iter().map(|s| &s.id));
    let told = found[0].cautions.iter().find(|c| c.id == "H9").unwrap();
    let kettle = slow.vessels.iter().find(|v| v.key == "kettle").unwrap();
    let air_pa = matter::water::air_pressure_pa(slow.elevation_m());
    let most_kn = 1e-3 * air_pa * kettle.section.mouth_m2();
    let kn = told.words.split("up to ").nth(1).and_then(|w| w.split(quantity::NARROW).next());
    let kn: f64 = kn.unwrap().parse().unwrap();
    assert!(kn <= most_kn.ceil() && kn >= 0.95 * most_kn - 0.5, "{kn} {most_kn}");
}
