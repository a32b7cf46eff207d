//! What a step expects, held against the instruments that the brewhouse states and against the
//! plan's own curves.
#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use plan::output::{Operation, Plan, Step};

fn plan_of(house: &str, beer: &str) -> Plan {
    let demo = |name: &str| {
        let path = format!("{}/../../demo/{name}.toml", env!("CARGO_MANIFEST_DIR"));
        std::fs::read_to_string(path).unwrap()
    };
    let house = brewhouse::read(house, &demo(house)).unwrap();
    let beer = brew::read(beer, &demo(beer)).unwrap();
    plan::solve(&house, &beer).unwrap()
}

fn step<'a>(plan: &'a Plan, id: &str) -> &'a Step {
    plan.steps.iter().find(|step| step.id == id).unwrap()
}

/// The reading of a quantity at a step's end, if it is expected.
fn shows(step: &Step, quantity: &str) -> Option<f64> {
    step.expected.iter().find(|e| e.quantity == quantity).map(|e| e.value)
}

#[test]
fn strength_is_read_with_what_there_is() {
    // a refractometer alone, of the stated factor 1.04
    let bench = plan_of("window-bench", "sill-pale");
    let read = step(&bench, "read-pre-boil");
    assert_eq!(shows(read, "gravity"), None);
    assert!(shows(read, "refraction").is_some());
    // a hydrometer read to half a point beside a refractometer of 1.04 read to 0.1 °Bx
    let shed = plan_of("orchard-shed", "windfall-amber");
    let read = step(&shed, "read-pre-boil");
    let (plato, brix) = (shows(read, "gravity").unwrap(), shows(read, "refraction").unwrap());
    assert!((brix - 1.04 * plato).abs() < 0.05 + 1.04 * 0.07, "{plato} °P, {brix} °Bx");
    // a hydrometer alone, made for 60 °F
    let steps = plan_of("three-step", "windfall-amber");
    let read = step(&steps, "read-pre-boil");
    assert!(shows(read, "gravity").is_some() && shows(read, "refraction").is_none());
    assert!(read.words_us.contains("60.0\u{202f}°F"), "{}", read.words_us);
}

#[test]
fn strips_are_read_to_two_tenths() {
    let shown = |plan: &Plan| shows(step(plan, "read-ph"), "ph").unwrap();
    let fifths = 5.0 * shown(&plan_of("window-bench", "sill-pale"));
    assert!((fifths - fifths.round()).abs() < 1e-9, "{fifths}");
    // the shed has a meter
    let shed = plan_of("orchard-shed", "windfall-amber");
    assert!(step(&shed, "read-ph").expected[0].instrument.starts_with("pH meter"));
}

/// Temperature of a vessel at the first point of its curve from a time on, °C.
fn soon_after_c(plan: &Plan, vessel: &str, at_min: f64) -> f64 {
    let curve = plan.curves.iter().find(|curve| curve.vessel == vessel).unwrap();
    let point = curve.points.iter().find(|p| p.min >= at_min).unwrap();
    point.temperature_c.unwrap()
}

/// A tank is told to be held at the temperature that it has then, also where it was near the boil
/// for infusions before.
#[test]
fn a_tank_is_held_when_it_stands_at_what_it_is_held_at() {
    let mut held = 0;
    for (house, beer) in [
        ("orchard-shed", "windfall-amber"),
        ("orchard-shed", "morning-slate"),
        ("three-step", "cellar-lamp"),
        ("three-step", "morning-slate"),
        ("club-barn", "threshing-gold"),
    ] {
        let plan = plan_of(house, beer);
        for step in plan.steps.iter().filter(|step| step.operation == Operation::Hold) {
            let wanted_c = step.set["temperature_c"].as_f64().unwrap();
            // points are two minutes apart, and the tank is kept from then on
            let has_c = soon_after_c(&plan, &step.vessel, step.starts_min);
            assert!((has_c - wanted_c).abs() < 1.0, "{house} {beer}: {has_c} for {wanted_c} °C");
            held += 1;
        }
    }
    assert!(held >= 4, "{held}");
}
