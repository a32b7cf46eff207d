//! Brews that belong to other pots: another size is offered, and fits when it is asked for anew;
//! and the gas in the bottle.
#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use brew::Brew;
use brewhouse::Brewhouse;
use plan::output::{Limit, Plan};
use quantity::{Duration, Mass, Stated, Temperature, Volume};

fn demo(name: &str) -> String {
    let path = format!("{}/../../demo/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

fn house(name: &str) -> Brewhouse {
    brewhouse::read(name, &demo(name)).unwrap()
}

fn wanted(name: &str) -> Brew {
    brew::read(name, &demo(name)).unwrap()
}

/// The brew with another volume, and everything weighed for it scaled.
fn sized(brew: &Brew, litres: f64) -> Brew {
    let mut b = brew.clone();
    let share = litres / b.wanted.volume.value.litres();
    b.wanted.volume.value = Volume::from_litres(litres);
    b.additions.iter_mut().for_each(|a| a.amount.value = a.amount.value * share);
    b.liquor.salts.iter_mut().for_each(|s| s.mass.value = s.mass.value * share);
    for volume in b.liquor.acids.iter_mut().filter_map(|a| a.volume.as_mut()) {
        volume.value = volume.value * share;
    }
    b
}

fn one_rest(mut brew: Brew) -> Brew {
    brew.rests.truncate(1);
    brew.rests[0].at.value = Temperature::from_celsius(66.0);
    brew.rests[0].at.about = true;
    brew.rests[0].length.value = Duration::from_minutes(60.0);
    brew.rests[0].length.about = true;
    brew
}

/// The volume of the one offer of this name, L.
fn offered_l(plan: &Plan, id: &str) -> f64 {
    let conflict = plan.conflict.as_ref().unwrap();
    let offer = conflict.nearest.iter().find(|n| n.id == id);
    let all: Vec<_> = conflict.nearest.iter().map(|n| &n.id).collect();
    let offer = offer.unwrap_or_else(|| panic!("{id} is not among the offers {all:?}"));
    assert!(!offer.words.is_empty() && offer.words != offer.words_us);
    // volumes are spoken of in tenths of a litre
    (10.0 * offer.targets.volume_l.unwrap().expected).round() / 10.0
}

fn fits(brewhouse: &Brewhouse, brew: &Brew) -> bool {
    plan::solve(brewhouse, brew).unwrap().fits
}

/// Fits as offered; an eighth more does not, so that it is about the largest.
fn is_largest(brewhouse: &Brewhouse, brew: &Brew, litres: f64) {
    assert!(litres < brew.wanted.volume.value.litres());
    assert!(fits(brewhouse, &sized(brew, litres)), "{litres} L were offered, and do not fit");
    assert!(!fits(brewhouse, &sized(brew, 1.125 * litres)), "more than {litres} L fit");
}

#[test]
fn a_brew_of_eighty_litres_is_offered_as_large_as_smaller_pots_hold() {
    let brew = wanted("threshing-gold");
    for name in ["orchard-shed", "three-step", "tiled-kitchen"] {
        let house = house(name);
        let plan = plan::solve(&house, &brew).unwrap();
        assert!(!plan.fits);
        is_largest(&house, &brew, offered_l(&plan, "smaller_brew"));
    }
}

#[test]
fn a_tun_without_fire_that_is_too_small_too_takes_one_rest_and_less() {
    let (house, brew) = (house("tiled-kitchen"), wanted("windfall-amber"));
    let plan = plan::solve(&house, &brew).unwrap();
    assert!(!plan.fits);
    is_largest(&house, &one_rest(brew), offered_l(&plan, "smaller_brew_and_one_rest"));
}

#[test]
fn a_kettle_that_would_scorch_its_wort_takes_more_and_not_less() {
    let (house, brew) = (house("orchard-shed"), wanted("sill-pale"));
    let plan = plan::solve(&house, &brew).unwrap();
    assert!(plan.limits.iter().any(|l| l.id == "kettle_least_level" && !l.kept));
    let litres = offered_l(&plan, "larger_brew");
    assert!(litres > brew.wanted.volume.value.litres());
    assert!(fits(&house, &sized(&brew, litres)), "{litres} L were offered, and do not fit");
}

fn gas(plan: &Plan) -> &Limit {
    plan.limits.iter().find(|l| l.id == "gas_left").unwrap()
}

#[test]
fn a_bottle_that_runs_low_is_told_and_refuses_no_plan() {
    let mut house = house("three-step");
    let brew = wanted("windfall-amber");
    let plan = plan::solve(&house, &brew).unwrap();
    assert!(gas(&plan).kept && !gas(&plan).care);
    // half as much again as the day burns
    let burned_kg = plan.fuel.gas_kg;
    assert!((gas(&plan).bound / (1.5 * burned_kg) - 1.0).abs() < 1e-2);
    for (share, word) in [(1.2, "little is left"), (0.5, "runs dry")] {
        house.gas_left = Some(Stated::exactly(Mass::from_kilograms(share * burned_kg)));
        let plan = plan::solve(&house, &brew).unwrap();
        assert!(plan.fits && gas(&plan).care);
        assert!(gas(&plan).words.contains(word), "{}", gas(&plan).words);
    }
    house.gas_left = None;
    let plan = plan::solve(&house, &brew).unwrap();
    assert!(plan.limits.iter().all(|l| l.id != "gas_left"));
}
