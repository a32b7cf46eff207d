//! Days that do not fit: what excludes what, and whether what is offered instead really fits.
#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use brew::Brew;
use brewhouse::Brewhouse;
use plan::output::{Limit, Nearest, Plan};

fn demo(name: &str) -> String {
    let path = format!("{}/../../demo/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

/// The Orchard Shed with one place of its text changed.
fn shed(from: &str, to: &str) -> Brewhouse {
    let text = demo("orchard-shed");
    assert!(text.contains(from), "the demo no longer says {from}");
    brewhouse::read("shed", &text.replacen(from, to, 1)).unwrap()
}

fn amber() -> Brew {
    brew::read("amber", &demo("windfall-amber")).unwrap()
}

fn without_tun_burner() -> Brewhouse {
    let mut shed = shed("name", "name");
    shed.vessels.iter_mut().filter(|v| v.key == "tun").for_each(|v| v.heater = None);
    shed
}

fn limit<'a>(plan: &'a Plan, id: &str) -> &'a Limit {
    plan.limits.iter().find(|l| l.id == id).unwrap_or_else(|| panic!("no limit {id}"))
}

fn set(plan: &Plan) -> Vec<&str> {
    let mut set: Vec<&str> =
        plan.conflict.iter().flat_map(|c| &c.set).map(String::as_str).collect();
    set.sort_unstable();
    set
}

fn offered<'a>(plan: &'a Plan, id: &str) -> &'a Nearest {
    let nearest = &plan.conflict.as_ref().unwrap().nearest;
    nearest.iter().find(|n| n.id == id).unwrap_or_else(|| panic!("{id} is not offered"))
}

/// What a smaller brew promises is asked for anew, and fits.
fn smaller_fits(brewhouse: &Brewhouse, plan: &Plan, id: &str) -> f64 {
    let litres = (10.0 * offered(plan, id).targets.volume_l.unwrap().expected).round() / 10.0;
    let mut brew = amber();
    brew.wanted.volume.value = quantity::Volume::from_litres(litres);
    // what is weighed grows with the brew
    let share = litres / 21.0;
    for addition in &mut brew.additions {
        addition.amount.value = addition.amount.value * share;
    }
    let again = plan::solve(brewhouse, &brew).unwrap();
    let missed: Vec<_> = again.limits.iter().filter(|l| !l.kept).map(|l| &l.words).collect();
    assert!(again.fits, "{litres} L were offered, and do not fit: {missed:?}");
    litres
}

#[test]
fn the_demo_day_keeps_every_limit_and_excludes_nothing() {
    let plan = plan::solve(&shed("name", "name"), &amber()).unwrap();
    assert!(plan.fits && plan.conflict.is_none());
    for id in ["tank_brim", "tun_brim", "kettle_head_space", "fermenter_brim", "tank_least_level"] {
        assert!(limit(&plan, id).kept, "{id}");
    }
    // 5 kg make 72 mm in this tun: under the 100 mm that are advised
    assert!(limit(&plan, "bed_depth").care);
}

#[test]
fn a_tank_too_small_is_filled_twice_or_the_brew_is_smaller() {
    let small = shed("height = \"374 mm ± 1 mm\"", "height = \"300 mm ± 1 mm\"");
    let plan = plan::solve(&small, &amber()).unwrap();
    assert!(!plan.fits);
    assert_eq!(set(&plan), ["one_filling", "tank_brim", "volume"]);
    // the liquor of the whole day stood in it, whatever its height
    assert!(limit(&plan, "tank_brim").value > 300.0);
    let second = offered(&plan, "second_fill");
    let volume = second.targets.volume_l.unwrap();
    assert!((volume.expected - 21.0).abs() < 0.1);
    let litres = smaller_fits(&small, &plan, "smaller_brew");
    // and it is nearly the largest: a litre more does not fit
    let mut more = amber();
    more.wanted.volume.value = quantity::Volume::from_litres(litres + 1.0);
    assert!(!plan::solve(&small, &more).unwrap().fits);
}

#[test]
fn a_kettle_without_room_for_the_first_foam_is_refused() {
    let low = shed("height = \"450 mm ± 1 mm\"", "height = \"255 mm ± 1 mm\"");
    let plan = plan::solve(&low, &amber()).unwrap();
    assert!(!plan.fits && !limit(&plan, "kettle_head_space").kept);
    let set = set(&plan);
    assert!(set.contains(&"kettle_head_space") && set.contains(&"volume"), "{set:?}");
    smaller_fits(&low, &plan, "smaller_brew");
}

#[test]
fn a_tun_smaller_than_the_mash_is_refused() {
    let inside = "inside = { diameter = \"400 mm ± 1 mm\", height = \"400 mm ± 1 mm\" }";
    let low = shed(inside, &inside.replace("height = \"400", "height = \"120"));
    let low = {
        let mut low = low;
        let tun = low.vessels.iter_mut().find(|v| v.key == "tun").unwrap();
        tun.thermometer = None;
        low
    };
    let plan = plan::solve(&low, &amber()).unwrap();
    assert!(!plan.fits && !limit(&plan, "tun_brim").kept);
    let set = set(&plan);
    assert!(set.contains(&"tun_brim") && set.contains(&"volume"), "{set:?}");
    smaller_fits(&low, &plan, "smaller_brew");
}

#[test]
fn rests_by_fire_exclude_a_tun_without_a_heater() {
    let plan = plan::solve(&without_tun_burner(), &amber()).unwrap();
    assert!(!plan.fits && !limit(&plan, "mash_heater").kept);
    assert_eq!(set(&plan), ["fire", "mash_heater"]);
    // one rest by the strike asked for anew fits
    offered(&plan, "one_rest");
    let mut single = amber();
    single.rests.truncate(1);
    single.rests[0].at.value = quantity::Temperature::from_celsius(66.0);
    single.rests[0].length.value = quantity::Duration::from_minutes(60.0);
    assert!(plan::solve(&without_tun_burner(), &single).unwrap().fits);
}

#[test]
fn an_element_too_weak_is_what_is_named() {
    let weak = shed("element = \"2.8 kW\"", "element = \"600 W\"");
    let plan = plan::solve(&weak, &amber()).unwrap();
    assert!(!plan.fits && !limit(&plan, "tank_power").kept);
    assert!(set(&plan).contains(&"tank_power"));
}

#[test]
fn a_fermenter_too_small_takes_a_smaller_brew() {
    let small = shed("height = \"425 mm ± 1 mm\"", "height = \"320 mm ± 1 mm\"");
    let plan = plan::solve(&small, &amber()).unwrap();
    assert_eq!(set(&plan), ["fermenter_brim", "volume"]);
    // 300 mm across and 320 high are 22.62 L; with 15 % of foam over it 19.67 L of wort fit
    let litres = smaller_fits(&small, &plan, "smaller_brew");
    assert!((19.3..=19.67).contains(&litres), "{litres}");
}

#[test]
fn a_colour_that_no_share_reaches_is_named_and_given_up() {
    let text = demo("windfall-amber").replace("19 EBC ± 3", "80 EBC ± 3");
    let brew = brew::read("dark", &text).unwrap();
    let plan = plan::solve(&shed("name", "name"), &brew).unwrap();
    assert_eq!(set(&plan), ["colour"]);
    let colour = offered(&plan, "as_it_comes").targets.colour_ebc.unwrap();
    assert!(colour.expected < 77.0 && colour.wanted > 79.0);
}

#[test]
fn yeast_colder_than_the_cooling_water_is_pitched_warmer() {
    let text = demo("windfall-amber").replace("at = \"19 °C\"", "at = \"9 °C\"");
    let brew = brew::read("cold", &text).unwrap();
    let plan = plan::solve(&shed("name", "name"), &brew).unwrap();
    assert_eq!(set(&plan), ["pitch", "pitch_temperature"]);
    offered(&plan, "warmer_pitch");
}

#[test]
fn every_limit_speaks_in_both_systems_of_units() {
    let plan = plan::solve(&shed("name", "name"), &amber()).unwrap();
    for limit in &plan.limits {
        assert!(limit.words.ends_with('.') && limit.words_us.ends_with('.'), "{}", limit.words);
        assert!(!limit.words_us.contains("°C") && !limit.words_us.contains("mm"), "{limit:?}");
        assert!(limit.kept || !limit.care);
    }
}
