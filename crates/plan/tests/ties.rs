//! The steps of a plan as a script takes them: begun by their ties alone, ended by what is named.
#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use plan::output::{EndKind, Operation, Plan};

/// Pairs of the demo that fit, of every kind of brewhouse.
const PAIRS: [(&str, &str); 5] = [
    ("orchard-shed", "windfall-amber"),
    ("three-step", "cellar-lamp"),
    ("tiled-kitchen", "morning-slate"),
    ("window-bench", "sill-pale"),
    ("club-barn", "threshing-gold"),
];
/// Pours that no other one follows at once, so that samples two minutes apart show their end.
const POURS: [&str; 3] = ["strike", "sparge", "to-fermenter"];
/// Times are rounded to hundredths of a minute.
const SAME_MIN: f64 = 0.05;

fn demo(name: &str) -> String {
    let path = format!("{}/../../demo/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

fn plan_of((house, beer): (&str, &str)) -> Plan {
    let house = brewhouse::read(house, &demo(house)).unwrap();
    let beer = brew::read(beer, &demo(beer)).unwrap();
    plan::solve(&house, &beer).unwrap()
}

#[test]
fn what_comes_before_is_over_and_what_is_under_way_has_begun() {
    let mut seen = [0, 0];
    for pair in PAIRS {
        let plan = plan_of(pair);
        let step = |id: &String| plan.steps.iter().find(|step| step.id == *id).unwrap();
        for later in &plan.steps {
            for id in &later.after {
                let before = step(id);
                let over = before.ends_min <= later.starts_min + SAME_MIN;
                assert!(over, "{pair:?}: {id} is not over when {} begins", later.id);
                seen[0] += 1;
            }
            for during in &later.during {
                let under_way = step(&during.id);
                let starts_min = under_way.starts_min + during.min;
                assert!((starts_min - later.starts_min).abs() < SAME_MIN, "{pair:?} {}", later.id);
                assert!(under_way.ends_min > later.starts_min, "{pair:?} {}", later.id);
                seen[1] += 1;
            }
        }
        let hops = plan.steps.iter().filter(|step| step.id.starts_with("hop-"));
        for hop in hops {
            assert!(!hop.after.contains(&"boil".to_owned()) || hop.during.is_empty());
        }
    }
    assert!(seen[0] > 60 && seen[1] > 10, "{seen:?}");
}

/// Every brewhouse of the demo with every brew, whether it fits or not.
fn all_pairs() -> Vec<(&'static str, &'static str)> {
    let houses = ["orchard-shed", "three-step", "tiled-kitchen", "club-barn", "window-bench"];
    let beers = ["windfall-amber", "cellar-lamp", "morning-slate", "sill-pale", "threshing-gold"];
    houses.iter().flat_map(|house| beers.map(|beer| (*house, beer))).collect()
}

/// A script that knows no clock begins each step when its ties say so.
#[test]
fn ties_alone_give_every_start() {
    let mut waits = Vec::new();
    for pair in all_pairs() {
        let plan = plan_of(pair);
        let mut begun: Vec<(&str, f64, f64)> = Vec::new();
        for step in &plan.steps {
            let (id, starts_min) = (step.id.as_str(), step.starts_min);
            let of = |id: &String| {
                let found = begun.iter().find(|other| other.0 == id);
                *found.unwrap_or_else(|| panic!("{pair:?} {}: {id} has not begun", step.id))
            };
            let over = step.after.iter().map(|id| of(id).2);
            let within = step.during.iter().map(|during| of(&during.id).1 + during.min);
            let tied_min = over.chain(within).fold(0.0, f64::max) + step.wait_min;
            let off_min = tied_min - starts_min;
            assert!(off_min.abs() < SAME_MIN, "{pair:?} {id}: {off_min} min off {starts_min}");
            if step.wait_min > 0.0 {
                waits.push(id.to_owned());
            }
            begun.push((id, tied_min, tied_min + step.ends_min - starts_min));
        }
        assert!(begun.len() > 25, "{pair:?}: {} steps", begun.len());
    }
    // a burner is moved when it is cold; the kettle may be lit some time after all is run off
    assert!(waits.iter().all(|id| id == "move-burner" || id == "light-kettle"), "{waits:?}");
}

#[test]
fn an_end_that_is_measured_names_its_vessel() {
    for pair in PAIRS {
        let plan = plan_of(pair);
        for step in &plan.steps {
            let ends = &step.ends_when;
            let measured = !matches!(ends.kind, EndKind::Time | EndKind::Word);
            assert_eq!(ends.vessel.is_some(), measured, "{pair:?} {}", step.id);
            if POURS.contains(&step.id.as_str()) {
                // the curve of that vessel passes the value when the step ends
                let vessel = ends.vessel.as_ref().unwrap();
                let curve = plan.curves.iter().find(|curve| curve.vessel == *vessel).unwrap();
                let near = curve.points.iter().filter(|p| (p.min - step.ends_min).abs() <= 4.0);
                let (low, high) = near.fold((f64::INFINITY, 0.0f64), |(low, high), point| {
                    (low.min(point.volume_l), high.max(point.volume_l))
                });
                let value = ends.value.unwrap();
                let within = (low - 0.3..=high + 0.3).contains(&value);
                assert!(within, "{pair:?} {}: {value} L, {vessel} {low} to {high} L", step.id);
            }
        }
    }
}

/// What the dial is to show some minutes after a flame was lit lies on the plan's own curve.
#[test]
fn a_look_at_the_dial_lies_on_the_curve() {
    let mut looks = 0;
    for pair in PAIRS {
        let plan = plan_of(pair);
        for step in plan.steps.iter().filter(|step| step.operation == Operation::Fire) {
            let set = |key: &str| step.set[key].as_f64().unwrap();
            let (look_min, look_c) = (set("look_min"), set("look_c"));
            let curve = plan.curves.iter().find(|curve| curve.vessel == step.vessel).unwrap();
            let temp = |p: &plan::output::Point| p.temperature_c.unwrap();
            let at = |min: f64| {
                let after = curve.points.iter().position(|p| p.min >= min).unwrap();
                let (a, b) = (&curve.points[after - 1], &curve.points[after]);
                temp(a) + (temp(b) - temp(a)) * (min - a.min) / (b.min - a.min)
            };
            // points are two minutes apart, the dial rises by a degree or so in each
            let off_k = at(step.starts_min + look_min) - look_c;
            assert!(off_k.abs() < 0.4, "{pair:?} {}: {off_k} K", step.id);
            let minutes = step.ends_min - step.starts_min;
            assert!(look_min < minutes, "{pair:?} {}", step.id);
            let then_c = look_c + set("rise_k_min") * (minutes - look_min);
            let out_c = step.ends_when.value.unwrap();
            assert!((then_c - out_c).abs() < 0.3, "{pair:?} {}: {then_c} not {out_c}", step.id);
            let risen_k = look_c - at(step.starts_min);
            if minutes > 6.0 {
                assert!(risen_k > 0.7, "{pair:?} {}: {risen_k} K in {look_min} min", step.id);
            }
            looks += 1;
        }
    }
    assert!(looks >= 4, "{looks}");
}
