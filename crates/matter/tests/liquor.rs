//! Laws of liquor: what is conserved, which way acid, soda, gas and chalk move it, and refusals.

use matter::liquor::{
    AcidKind, Gas, Liquor, LiquorError, Report, acid_for_mash_mol, mash_ph, salt, salts,
    salts_for_ions,
};
use matter::malt::{GristItem, grist};
use proptest::prelude::*;

/// What makes a report impossible.
type Spoil = fn(&mut Report);

fn tap() -> Liquor {
    let report = Report {
        calcium_mg_l: 80.0,
        magnesium_mg_l: 10.0,
        sodium_mg_l: 23.0,
        chloride_mg_l: 46.0,
        sulfate_mg_l: 96.0,
        alkalinity_meq_l: 2.5,
        ph: 7.5,
        ..Report::default()
    };
    report.liquor().expect("a plain report")
}

const ACIDS: [AcidKind; 5] = [
    AcidKind::Lactic,
    AcidKind::Phosphoric,
    AcidKind::Citric,
    AcidKind::Hydrochloric,
    AcidKind::Sulfuric,
];

#[test]
fn a_report_gives_its_own_ph_and_alkalinity_back() {
    let water = tap();
    let ph = water.ph_at_room().unwrap();
    assert!((ph - 7.5).abs() < 1e-6, "{ph}");
    assert!((water.alkalinity_mol_kg(ph, 25.0) - 2.5e-3).abs() < 1e-9);
    assert!(water.charge_mol_kg(ph, 25.0, Gas::Closed).abs() < 1e-12);
}

#[test]
fn a_report_that_cannot_be_names_its_value() {
    let cases: [(Spoil, &str); 5] = [
        (|r| r.calcium_mg_l = -1.0, "calcium_mg_l is -1"),
        (|r| r.sulfate_mg_l = f64::NAN, "sulfate_mg_l is NaN"),
        (|r| r.chloride_mg_l = 1e300, "chloride_mg_l is 1"),
        (|r| r.ph = 14.0, "ph is 14"),
        (|r| r.alkalinity_meq_l = f64::INFINITY, "alkalinity_meq_l is inf"),
    ];
    for (spoil, told) in cases {
        let mut report = Report { ph: 7.0, alkalinity_meq_l: 1.0, ..Report::default() };
        spoil(&mut report);
        let error = report.liquor().unwrap_err().to_string();
        assert!(error.contains(told) && error.contains("expected"), "{error}");
    }
}

#[test]
fn salts_carry_no_charge_but_their_alkalinity() {
    assert!(salts().len() > 10);
    for salt in salts() {
        let one_g_kg = Liquor::default().with_salt(salt, 1e-3);
        let charge_meq = 1e3 * one_g_kg.strong_ions_mol_kg();
        // Printed yields have one decimal: 0.05 mg of the lightest ion is 0.004 meq.
        assert!((charge_meq - salt.alkalinity_meq_g).abs() < 0.01, "{}: {charge_meq}", salt.name);
    }
}

#[test]
fn degassing_leaves_alkalinity_and_chalk_takes_it_in_pairs() {
    let water = tap();
    let open = water.degassed(25.0, 10f64.powf(-3.4)).unwrap();
    assert_eq!(open.strong_ions_mol_kg(), water.strong_ions_mol_kg());
    assert!(open.ph_at_room().unwrap() > water.ph_at_room().unwrap());
    let boiled = water.settled(99.0, Gas::Open(1e-3)).unwrap();
    let chalk = water.calcium_mol_kg - boiled.calcium_mol_kg;
    assert!(chalk > 0.0);
    let lost = water.strong_ions_mol_kg() - boiled.strong_ions_mol_kg();
    assert!((lost - 2.0 * chalk).abs() < 1e-15);
    assert!(boiled.calcite_index(99.0, Gas::Closed).unwrap().abs() < 1e-6);
}

#[test]
fn water_without_chalk_to_lose_loses_none() {
    let soft = Liquor { sodium_mol_kg: 1e-3, carbonate_mol_kg: 1e-3, ..Liquor::default() };
    assert_eq!(soft.settled(99.0, Gas::Closed).unwrap(), soft);
}

#[test]
fn acid_never_raises_ph_and_its_dose_hits() {
    let water = tap();
    for kind in ACIDS {
        let mut last = f64::INFINITY;
        for dose in 0..20 {
            let dosed = water.with_acid(kind, 2e-4 * f64::from(dose));
            let ph = dosed.ph_at_room().unwrap();
            assert!(ph < last, "{kind:?}, dose {dose}: {ph}");
            last = ph;
        }
        let dose = water.acid_for_ph_mol_kg(kind, 5.5, 25.0).unwrap();
        let ph = water.with_acid(kind, dose).ph_at_room().unwrap();
        assert!((ph - 5.5).abs() < 1e-6, "{kind:?}: {ph}");
        let up = water.acid_for_ph_mol_kg(kind, 9.0, 25.0);
        assert!(matches!(up, Err(LiquorError::AcidRaises { wanted: 9.0, .. })), "{kind:?}");
    }
}

#[test]
fn soda_raises_the_ph_of_sour_water() {
    let sour = tap().with_acid(AcidKind::Hydrochloric, 2e-3);
    let sweeter = sour.with_salt(salt("baking soda").unwrap(), 1e-4);
    assert!(sweeter.ph_at_room().unwrap() > sour.ph_at_room().unwrap());
}

#[test]
fn too_much_acid_is_refused_in_words() {
    let flooded = tap().with_acid(AcidKind::Hydrochloric, 2.0);
    let error = flooded.ph_at_room().unwrap_err().to_string();
    assert!(error.contains("less acid"), "{error}");
}

#[test]
fn a_mash_follows_its_malts_its_water_and_its_acid() {
    let item = |name, kg| GristItem::of(name, kg).unwrap();
    let malts = grist(&[item("pale malt", 4.0), item("caramel malt medium", 0.3)]).acid;
    let plain = mash_ph(&malts, &Liquor::default(), 14.0).unwrap();
    let hard = mash_ph(&malts, &tap(), 14.0).unwrap();
    assert!(hard > plain, "alkalinity raises: {hard} {plain}");
    let gypsum = tap().with_salt(salt("gypsum").unwrap(), 5e-4);
    assert!(mash_ph(&malts, &gypsum, 14.0).unwrap() < hard);
    let darker = grist(&[item("pale malt", 4.0), item("chocolate malt", 0.3)]).acid;
    assert!(mash_ph(&darker, &tap(), 14.0).unwrap() < hard);
    for kind in ACIDS {
        let mol = acid_for_mash_mol(&malts, &tap(), 14.0, kind, 5.3).unwrap();
        let ph = mash_ph(&malts, &tap().with_acid(kind, mol / 14.0), 14.0).unwrap();
        // Sulfate and chloride change no calcium term: the dose is exact for all.
        assert!((ph - 5.3).abs() < 1e-6, "{kind:?}: {ph}");
    }
    assert!(acid_for_mash_mol(&malts, &tap(), 14.0, AcidKind::Lactic, 6.5).is_err());
}

#[test]
fn a_malt_alone_gives_its_own_ph() {
    for name in ["pilsner malt", "wheat malt", "acidulated malt", "black malt"] {
        let item = GristItem::of(name, 2.0).unwrap();
        let ph = mash_ph(&grist(&[item]).acid, &Liquor::default(), 0.0).unwrap();
        assert!((ph - item.class.ph_distilled).abs() < 1e-8, "{name}: {ph}");
    }
}

#[test]
fn salts_reach_the_ions_they_can_and_never_go_below_nothing() {
    let kit = ["gypsum", "calcium chloride dihydrate", "magnesium sulfate", "table salt"];
    let kit: Vec<_> = kit.iter().map(|name| salt(name).unwrap()).collect();
    let given = [3e-4, 2e-4, 1e-4, 5e-5];
    let wanted =
        kit.iter().zip(given).fold(Liquor::default(), |sum, (salt, kg)| sum.with_salt(salt, kg));
    let found = salts_for_ions(&Liquor::default(), &wanted, &kit);
    for (found, given) in found.iter().zip(given) {
        assert!((found - given).abs() < 1e-9, "{found} for {given}");
    }
    let none = salts_for_ions(&wanted, &Liquor::default(), &kit);
    assert!(none.iter().all(|kg| *kg == 0.0), "{none:?}");
}

proptest! {
    #[test]
    fn mixing_conserves_each_ion(a in 0.0..50.0f64, b in 0.01..50.0f64) {
        let soft = Liquor { sodium_mol_kg: 3e-4, carbonate_mol_kg: 4e-4, ..Liquor::default() };
        let (hard, mixed) = (tap(), tap().mixed(a, &soft, b));
        let kept = |get: fn(&Liquor) -> f64| {
            (get(&mixed) * (a + b) - get(&hard) * a - get(&soft) * b).abs() < 1e-15 * (a + b)
        };
        prop_assert!(kept(|l| l.calcium_mol_kg) && kept(|l| l.sodium_mol_kg));
        prop_assert!(kept(|l| l.carbonate_mol_kg) && kept(|l| l.strong_ions_mol_kg()));
        prop_assert!(mixed.ph_at_room().is_ok());
    }

    #[test]
    fn charge_falls_as_ph_rises(ph in 2.0..11.5f64, temp_c in 0.0..100.0f64) {
        let water = tap().with_acid(AcidKind::Phosphoric, 1e-3);
        let at = |ph| water.charge_mol_kg(ph, temp_c, Gas::Closed);
        prop_assert!(at(ph + 0.01) < at(ph));
    }

    #[test]
    fn no_input_makes_liquor_panic(a in any::<f64>(), b in any::<f64>(), c in any::<f64>()) {
        for (a, b, c) in [(a, b, c), (f64::NAN, b, c), (f64::INFINITY, 1e-3, 25.0)] {
            let liquor = Liquor { calcium_mol_kg: a, carbonate_mol_kg: b, ..Liquor::default() };
            let _ = (liquor.ph(c, Gas::Open(a)), liquor.settled(b, Gas::Closed));
            let _ = liquor.acid_for_ph_mol_kg(AcidKind::Lactic, c, 25.0);
            let _ = mash_ph(&grist(&[]).acid, &liquor, b);
            let _ = Report { calcium_mg_l: a, ph: b, alkalinity_meq_l: c, ..Report::default() }
                .liquor();
        }
    }
}
