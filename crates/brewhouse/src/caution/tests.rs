//! Each stop has a day that triggers it and a day just under that does not; texts carry numbers.

use quantity::{Power, Stated, UnitSystem};

use super::{Caution, Strength, when};
use crate::brewhouse::Place;
use crate::danger::Lift;
use crate::heater::{Fuel, Heater, HeaterKind};

fn all() -> Vec<Caution> {
    vec![
        Caution::Carry { mass_kg: 39.6, temp_c: 97.0 },
        Caution::Transfer { temp_c: 76.0, burn_s: 2.4 },
        Caution::BoilOver { head_m: 0.1, boiling_c: 98.6 },
        Caution::Flash,
        Caution::Lid,
        Caution::HotMetal,
        Caution::DoughIn,
        Caution::Siphon,
        Caution::ShutHot { force_n: 10_200.0 },
        Caution::Pump { temp_c: 76.0 },
        Caution::DryFire { least_m: 0.06 },
        Caution::Sample,
        Caution::SkinBurn,
        Caution::Spillage,
        Caution::Lift { mass_kg: 20.0, from_m: 0.35, to_m: 1.05, limit_kg: 10.6 },
        Caution::LiftAlone { mass_kg: 40.0 },
        Caution::Tip { angle_deg: 9.0, force_n: 55.0 },
        Caution::Stand { mass_kg: 46.0 },
        Caution::Hoist { mass_kg: 10.0 },
        Caution::WetFloor,
        Caution::HeavyGoods,
        Caution::FlameIndoors,
        Caution::Hob,
        Caution::FumeSigns,
        Caution::HookUp,
        Caution::GasSmell,
        Caution::Lighting,
        Caution::Unwatched,
        Caution::Wind,
        Caution::GroundAndCover,
        Caution::Clothes,
        Caution::BottleLow { left_kg: 1.0, planned_kg: 0.9 },
        Caution::Breaker,
        Caution::Circuit { load_w: 6000.0, limit_w: 3680.0 },
        Caution::Element,
        Caution::Leads,
        Caution::Earth,
        Caution::Tingle,
        Caution::Acid,
        Caution::Caustic,
        Caution::CausticOnAluminium,
        Caution::Peracetic,
        Caution::Powder,
        Caution::Mill,
        Caution::SlowCooling,
        Caution::Dogs,
        Caution::LongDay,
        Caution::FirstBeer,
        Caution::GlassOverWort,
        Caution::Sealed,
    ]
}

#[test]
fn every_text_is_a_sentence_without_an_empty_place() {
    let mut ids: Vec<_> = all().iter().map(Caution::id).collect();
    for caution in all() {
        for units in [UnitSystem::Metric, UnitSystem::Us] {
            let text = caution.text(units);
            assert!(text.len() > 20 && text.ends_with('.'), "{} {text}", caution.id());
            assert!(!text.contains(['{', '}']) && !text.contains("  "), "{text}");
            assert!(!text.contains("NaN"), "{text}");
        }
    }
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), all().len());
}

/// 35 L at 97 °C in a pot of 6 kg: 39.6 kg.
#[test]
fn a_full_hot_kettle_is_never_carried() {
    let caution = when::carry(39.6, 97.0).unwrap();
    assert_eq!(caution.strength(), Strength::Stop);
    let text = caution.text(UnitSystem::Metric).replace(quantity::NARROW, " ");
    assert!(text.contains("39.6 kg at 97 °C"), "{text}");
    let us = caution.text(UnitSystem::Us).replace(quantity::NARROW, " ");
    assert!(us.contains("87 lb at 207 °F") && us.contains("below 113 °F"), "{us}");
    assert_eq!(when::carry(39.6, 45.0), None);
}

#[test]
fn us_words_go_with_us_units() {
    assert!(Caution::Breaker.text(UnitSystem::Us).contains("GFCI"));
    assert!(!Caution::Breaker.text(UnitSystem::Metric).contains("GFCI"));
    assert!(Caution::HookUp.text(UnitSystem::Us).contains("Propane tank"));
    assert!(Caution::HookUp.text(UnitSystem::Metric).contains("Bottle"));
}

fn burner(kind: HeaterKind, kw: f64) -> Heater {
    Heater {
        kind,
        name: None,
        power: Stated::exactly(Power::from_kilowatts(kw)),
        fuel: kind.is_flame().then_some(Fuel::Propane),
        reaches_pot: None,
        height: None,
        least: None,
        marks: Vec::new(),
        circuit: None,
        proved: None,
    }
}

#[test]
fn a_burner_is_stopped_in_a_garage_and_not_outdoors() {
    let ring = burner(HeaterKind::Burner, 9.5);
    for place in [Place::Garage, Place::Cellar, Place::Indoors, Place::Porch] {
        assert_eq!(when::flame(&ring, place, 60.0), Some(Caution::FlameIndoors), "{place:?}");
    }
    for place in [Place::Outdoors, Place::OpenShed] {
        assert_eq!(when::flame(&ring, place, 60.0), None);
    }
    assert_eq!(
        when::flame(&burner(HeaterKind::Hob, 4.0), Place::Indoors, 60.0),
        Some(Caution::Hob)
    );
    assert_eq!(when::flame(&burner(HeaterKind::Induction, 4.0), Place::Indoors, 60.0), None);
}

/// Two elements of 3 kW on 16 A at 230 V are too much, one is not.
#[test]
fn two_elements_on_one_circuit_are_too_much() {
    let limit_w = crate::danger::circuit_power_w(230.0, 16.0, 1.0);
    assert!(when::circuit(6000.0, limit_w).is_some());
    assert_eq!(when::circuit(3000.0, limit_w), None);
}

/// Each stop that depends on a number: just over it speaks, just under it does not.
#[test]
fn stops_speak_just_over_their_limit() {
    assert!(when::siphon(40.1).is_some() && when::siphon(39.9).is_none());
    assert!(when::shut_hot(60.1, 1e4).is_some() && when::shut_hot(59.9, 1e4).is_none());
    assert!(when::dry_fire(0.059, 0.06).is_some() && when::dry_fire(0.061, 0.06).is_none());
    assert!(when::stand(30.1, None).is_some() && when::stand(29.9, None).is_none());
    assert!(when::stand(60.1, Some(120.0)).is_some() && when::stand(59.9, Some(120.0)).is_none());
    // 80 kg, feet 150 mm out, 15 degrees at 0.56 m: 98 N at 1.2 m
    assert!(
        when::tip(80.0, 0.15, 0.57, 1.0).is_some() && when::tip(80.0, 0.15, 0.55, 1.0).is_none()
    );
    assert!(
        when::tip(80.0, 0.15, 0.55, 1.2).is_some() && when::tip(85.0, 0.15, 0.55, 1.2).is_none()
    );
    assert!(when::bottle_low(1.49, 1.0).is_some() && when::bottle_low(1.51, 1.0).is_none());
    assert!(when::hot_metal(60.1).is_some() && when::hot_metal(59.9).is_none());
    assert!(when::breaker(None).is_some() && when::breaker(Some(93.0)).is_some());
    assert!(when::breaker(Some(30.0)).is_none());
    let way = Lift::of_pot(0.4, 0.35, 1.05);
    assert_eq!(when::lift(10.0, &way), None);
    assert!(matches!(when::lift(15.0, &way), Some(Caution::Lift { .. })));
    assert!(matches!(when::lift(21.4, &way), Some(Caution::LiftAlone { .. })));
}

/// More heat or mass never makes a caution weaker.
#[test]
fn cautions_grow_with_the_danger() {
    let strength = |c: Option<Caution>| c.map(|c| c.strength());
    let rising = |f: &dyn Fn(f64) -> Option<Caution>| {
        let mut last = None;
        for i in 0..200 {
            let now = strength(f(f64::from(i)));
            assert!(now >= last, "{i}: {now:?} after {last:?}");
            last = now;
        }
    };
    rising(&|t| when::carry(30.0, t));
    rising(&|t| when::transfer(t));
    rising(&|t| when::siphon(t));
    rising(&|t| when::pump(t));
    rising(&|t| when::dough_in(t, 0.8));
    rising(&|kg| when::lift(kg, &Lift::of_pot(0.4, 0.35, 1.05)));
    rising(&|kg| when::stand(kg, Some(100.0)));
    rising(&|kg| when::hoist(kg));
    rising(&|w| when::circuit(w * 100.0, 3680.0));
    rising(&|s| when::acid(s / 200.0));
}
