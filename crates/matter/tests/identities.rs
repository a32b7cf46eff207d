//! Laws that every property keeps over its range: limits, signs, round trips, balances.
//! No digit of any source is here; those stand in `reference/checks`.

use matter::malt::{Certificate, GristItem, MaltKind, grist, malt_class, malt_classes, malt_names};
use matter::wort::{Hydrometer, Refractometer};
use matter::{colour, hop, water, wort};
use proptest::prelude::*;

/// Whole degrees from 0 to 105.
fn degrees() -> impl Iterator<Item = f64> {
    (0..=105).map(f64::from)
}

fn close(a: f64, b: f64, relative: f64) -> bool {
    (a - b).abs() <= relative * a.abs().max(b.abs()).max(1e-300)
}

#[test]
fn enthalpy_has_the_heat_capacity_as_its_slope() {
    let h = 1e-3;
    for t in degrees() {
        let slope = |f: fn(f64) -> f64| (f(t + h) - f(t - h)) / (2.0 * h);
        let of_water = slope(water::enthalpy_j_kg);
        assert!(close(of_water, water::heat_capacity_j_kg_k(t), 1e-7), "water at {t}");
        let of_extract = slope(wort::extract_enthalpy_j_kg);
        let extract = wort::heat_capacity_j_kg_k(1.0, t);
        assert!(close(of_extract, extract, 1e-7), "extract at {t}: {of_extract} {extract}");
        let of_solid = slope(wort::solid_enthalpy_j_kg);
        assert!(close(of_solid, wort::solid_heat_capacity_j_kg_k(), 1e-7), "malt at {t}");
    }
}

#[test]
fn every_enthalpy_is_zero_at_the_reference() {
    let t = water::REFERENCE_C;
    assert_eq!(water::enthalpy_j_kg(t), 0.0);
    assert_eq!(wort::extract_enthalpy_j_kg(t), 0.0);
    assert_eq!(wort::solid_enthalpy_j_kg(t), 0.0);
}

#[test]
fn latent_heat_agrees_with_the_saturation_line() {
    // Clausius and Clapeyron with vapour as an ideal gas, h = R T² d(ln p)/dT: real vapour departs
    // from it by under 2.5 % up to 100 °C.
    for t in (1..=100).map(f64::from) {
        let rise =
            water::saturation_pressure_pa(t + 0.01) / water::saturation_pressure_pa(t - 0.01);
        let ideal = 461.5 * (t + 273.15) * (t + 273.15) * rise.ln() / 0.02;
        assert!(close(ideal, water::evaporation_heat_j_kg(t), 0.025), "{t}: {ideal}");
    }
}

#[test]
fn water_and_wort_change_one_way_with_temperature_and_extract() {
    let viscosity = |w: f64, t| wort::viscosity_pa_s(100.0 * w, t, 1.65);
    for t in degrees().take(105) {
        let (next, rho) = (t + 1.0, water::density_kg_m3(t));
        assert!(t < 4.0 || water::density_kg_m3(next) < rho, "density at {t}");
        assert!(water::viscosity_pa_s(next) < water::viscosity_pa_s(t), "viscosity at {t}");
        assert!(water::saturation_pressure_pa(next) > water::saturation_pressure_pa(t));
        assert!(water::evaporation_heat_j_kg(next) < water::evaporation_heat_j_kg(t));
        for p in 0..30 {
            let (w, more) = (f64::from(p) / 100.0, f64::from(p + 1) / 100.0);
            assert!(wort::density_kg_m3(more, t) > wort::density_kg_m3(w, t), "{p} °P {t} °C");
            assert!(viscosity(more, t) > viscosity(w, t), "{p} °P {t} °C");
            assert!(wort::heat_capacity_j_kg_k(more, t) < wort::heat_capacity_j_kg_k(w, t));
        }
    }
}

#[test]
fn wort_without_extract_is_water() {
    for t in degrees() {
        assert_eq!(wort::density_kg_m3(0.0, t), water::density_kg_m3(t));
        assert_eq!(wort::heat_capacity_j_kg_k(0.0, t), water::heat_capacity_j_kg_k(t));
        assert_eq!(wort::conductivity_w_m_k(0.0, t), water::conductivity_w_m_k(t));
        assert!(close(wort::viscosity_pa_s(0.0, t, 1.65), water::viscosity_pa_s(t), 1e-14));
    }
    let p_pa = water::air_pressure_pa(450.0);
    assert_eq!(wort::boiling_point_c(p_pa, 0.0), water::saturation_temperature_c(p_pa));
}

#[test]
fn density_at_20_degrees_is_the_one_scale_of_the_program() {
    assert!(close(water::density_kg_m3(20.0), quantity::WATER_DENSITY_20C_KG_M3, 1e-14));
    for p in 0..=30 {
        let w = f64::from(p) / 100.0;
        let scale = quantity::density_20c_from_extract(w);
        assert!(close(wort::density_kg_m3(w, 20.0), scale, 1e-14), "{p} °P");
    }
}

#[test]
fn height_lowers_the_boil_and_extract_raises_it() {
    let mut last = f64::INFINITY;
    for z in (0..=40).map(|i| 100.0 * f64::from(i)) {
        let p_pa = water::air_pressure_pa(z);
        let boils_c = wort::boiling_point_c(p_pa, 0.12);
        assert!(boils_c < last && boils_c > wort::boiling_point_c(p_pa, 0.05), "{z} m");
        last = boils_c;
    }
}

#[test]
fn a_lone_metal_has_the_temperature_of_its_heat() {
    for (metal_j_k, t) in [(2500.0, 20.0), (1e-3, 99.0), (1e6, -10.0)] {
        let heat_j = metal_j_k * (t - water::REFERENCE_C);
        assert!((wort::temperature_c(heat_j, 0.0, 0.0, 0.0, metal_j_k, 65.0) - t).abs() < 1e-9);
    }
    assert_eq!(wort::temperature_c(0.0, 0.0, 0.0, 0.0, 0.0, 42.0), 42.0);
}

#[test]
fn browning_is_faster_hot_strong_and_less_sour() {
    let rate = |p, t, ph| colour::browning_ebc_per_s(p, t, ph, 1.0);
    assert!(rate(12.0, 100.0, 5.2) > rate(12.0, 95.0, 5.2));
    assert!(rate(15.0, 100.0, 5.2) > rate(12.0, 100.0, 5.2));
    assert!(rate(12.0, 100.0, 5.6) > rate(12.0, 100.0, 5.2));
    assert!(rate(12.0, 100.0, 1.0) >= 0.0);
}

#[test]
fn strength_alone_does_not_change_what_a_grist_colours() {
    let one = colour::grist_colour_ebc_m3(15.0, 4.0);
    assert!(one > 0.0);
    assert!(close(colour::grist_colour_ebc_m3(30.0, 8.0), 2.0 * one, 1e-12));
    assert_eq!(colour::grist_colour_ebc_m3(0.0, 4.0), 0.0);
    assert_eq!(colour::grist_colour_ebc_m3(15.0, 0.0), 0.0);
}

#[test]
fn every_malt_is_possible() {
    assert_eq!(malt_classes().len(), 29);
    for m in malt_classes() {
        assert!(m.extract_coarse() <= m.extract_fine(), "{}", m.name);
        assert!(m.preformed_sugar_dry <= m.other_dry, "{}", m.name);
        assert!(m.other_dry <= m.extract_fine_dry, "{}", m.name);
        assert!((0.0..=1.0).contains(&m.fermentable_share()), "{}", m.name);
        assert!((0.0..0.2).contains(&m.moisture) && (0.0..=1.0).contains(&m.gelatinised));
        assert!(m.acid_meq_kg(m.ph_distilled).abs() < 1e-12, "{}", m.name);
        assert_eq!(m.kind == MaltKind::FilterAid, m.extract_fine_dry == 0.0, "{}", m.name);
    }
    assert!(malt_names().any(|name| name == "pilsner malt"));
    assert!(malt_class("  Pilsner MALT ").is_some() && malt_class("gravel").is_none());
}

#[test]
fn the_malt_table_of_the_scripts_is_the_one_built_in() {
    let read = |path: &str| {
        std::fs::read_to_string(format!("{}/{path}", env!("CARGO_MANIFEST_DIR"))).unwrap()
    };
    assert_eq!(read("data/malt.csv"), read("../../reference/data/malt.csv"));
}

#[test]
fn a_certificate_replaces_and_nothing_else_moves() {
    let plain = GristItem::of("pale malt", 4.0).unwrap();
    let certificate = Certificate { extract_fine_dry: Some(0.80), ..Certificate::default() };
    let (before, after) = (grist(&[plain]), grist(&[GristItem { certificate, ..plain }]));
    assert!((after.extract_fine_dry - 0.80).abs() < 1e-15);
    assert_eq!((before.moisture, before.colour_kg_ebc), (after.moisture, after.colour_kg_ebc));
    assert_eq!(before.acid, after.acid);
}

#[test]
fn no_malt_gives_nothing_and_no_nan() {
    assert_eq!(grist(&[]), matter::malt::Grist::default());
    let hulls = grist(&[GristItem::of("rice hulls", 1.0).unwrap()]);
    assert_eq!((hulls.hulls, hulls.extract_fine, hulls.alpha, hulls.kappa), (1.0, 0.0, 0.0, 0.0));
}

#[test]
fn flakes_thin_the_enzymes_and_hulls_only_the_bed() {
    let item = |name, kg| GristItem::of(name, kg).unwrap();
    let malt = grist(&[item("pilsner malt", 4.0)]);
    let flakes = grist(&[item("pilsner malt", 3.0), item("flaked maize", 1.0)]);
    let hulls = grist(&[item("pilsner malt", 4.0), item("rice hulls", 0.2)]);
    assert!(flakes.beta < malt.beta && flakes.alpha < malt.alpha);
    assert!(flakes.gelatinised > malt.gelatinised && flakes.gel_shift_k > malt.gel_shift_k);
    assert!(close(hulls.beta, malt.beta, 1e-12) && close(hulls.kappa, malt.kappa, 1e-12));
    assert!(hulls.extract_fine < malt.extract_fine && hulls.hulls > 0.04);
}

#[test]
fn yield_of_hops_rises_with_time_up_to_its_most_and_falls_with_height() {
    let boil_k = 373.15;
    for minute in 1..149 {
        let at = |m: i32| hop::iso_share(boil_k, 60.0 * f64::from(m));
        assert!(at(minute) > at(minute - 1), "{minute} min");
    }
    assert!(hop::iso_share(369.8, 3600.0) < hop::iso_share(boil_k, 3600.0));
}

proptest! {
    #[test]
    fn plato_comes_back_from_gravity(plato in -1.0..30.0f64) {
        prop_assert!((wort::plato_from_sg(wort::sg_from_plato(plato)) - plato).abs() < 1e-9);
        let rho = wort::density_kg_m3(plato / 100.0, 20.0);
        prop_assert!((100.0 * wort::extract_from_density_20(rho) - plato).abs() < 1e-9);
    }

    #[test]
    fn boiling_point_comes_back_from_pressure(temp_c in 5.0..120.0f64) {
        let back = water::saturation_temperature_c(water::saturation_pressure_pa(temp_c));
        prop_assert!((back - temp_c).abs() < 1e-9);
    }

    #[test]
    fn temperature_comes_back_from_heat(
        temp_c in 0.0..105.0f64, guess_c in 0.0..105.0f64, water_kg in 0.0..80.0f64,
        extract_kg in 0.0..12.0f64, solids_kg in 0.0..20.0f64, metal_j_k in 10.0..20e3f64,
    ) {
        let heat_j =
            wort::mixture_enthalpy_j(temp_c, water_kg, extract_kg, solids_kg, metal_j_k);
        let back =
            wort::temperature_c(heat_j, water_kg, extract_kg, solids_kg, metal_j_k, guess_c);
        prop_assert!((back - temp_c).abs() < 1e-8, "{back} for {temp_c}");
    }

    #[test]
    fn mixing_keeps_mass_extract_and_heat(
        w1 in 0.0..0.25f64, w2 in 0.0..0.25f64, t1 in 5.0..100.0f64, t2 in 5.0..100.0f64,
        m1 in 0.1..40.0f64, m2 in 0.1..40.0f64,
    ) {
        let heat = |m: f64, w: f64, t| wort::mixture_enthalpy_j(t, m * (1.0 - w), m * w, 0.0, 0.0);
        let (extract_kg, mass_kg) = (m1 * w1 + m2 * w2, m1 + m2);
        let sum_j = heat(m1, w1, t1) + heat(m2, w2, t2);
        let mixed_c = wort::temperature_c(sum_j, mass_kg - extract_kg, extract_kg, 0.0, 0.0, t1);
        prop_assert!(mixed_c > t1.min(t2) - 1e-6 && mixed_c < t1.max(t2) + 1e-6);
        let after_j = heat(mass_kg, extract_kg / mass_kg, mixed_c);
        prop_assert!((after_j - sum_j).abs() < 1e-6 * mass_kg * 4e5);
        // Volumes nearly add at one temperature; the program never adds them.
        let volume = |m: f64, w: f64| wort::volume_m3(m * (1.0 - w), m * w, t1);
        let mixed_m3 = volume(mass_kg, extract_kg / mass_kg);
        prop_assert!((mixed_m3 / (volume(m1, w1) + volume(m2, w2)) - 1.0).abs() < 2e-3);
    }

    #[test]
    fn instruments_give_back_what_they_read(
        plato in 0.0..28.0f64, temp_c in 5.0..90.0f64, bias_sg in -0.01..0.01f64,
        apparent in -2.0..10.0f64, factor in 0.95..1.1f64,
    ) {
        let float = Hydrometer { bias_sg, ..Hydrometer::default() };
        prop_assert!((float.plato(float.reading_sg(plato, temp_c), temp_c) - plato).abs() < 1e-7);
        let meter = Refractometer { factor, bias_bx: 0.3, ..Refractometer::default() };
        let wort_bx = meter.reading_bx(plato, plato, 25.0);
        prop_assert!((meter.plato(wort_bx, 25.0) - plato).abs() < 1e-9);
        let original = 12.0 + 0.5 * plato;
        let beer_bx = meter.reading_bx(original, apparent, 25.0);
        prop_assert!((meter.apparent_plato(beer_bx, original, 25.0) - apparent).abs() < 1e-7);
        let n = wort::refractive_index_from_brix(plato);
        prop_assert!((wort::brix_from_refractive_index(n) - plato).abs() < 1e-7);
    }

    #[test]
    fn attenuation_balances(share in 0.0..1.0f64, plato in 0.5..30.0f64) {
        let limit = wort::fermentability_from_fermentable_share(share, plato);
        let back = wort::fermentable_share_from_fermentability(limit, plato);
        prop_assert!((back - share).abs() < 1e-12);
        // The same beer by Balling: what is left and the alcohol give the original extract back.
        let apparent = plato * (1.0 - limit);
        let real = wort::real_extract_plato(plato, apparent);
        prop_assert!((wort::apparent_extract_plato(plato, real) - apparent).abs() < 1e-9);
        let alcohol = wort::alcohol_percent_mass(plato, real);
        prop_assert!((wort::original_extract_plato(alcohol, real) - plato).abs() < 1e-9);
        // Extract fermented per 100 g of wort is 2.0665 g per g of alcohol.
        let beer_per_wort = 100.0 / (100.0 + 1.0665 * alcohol);
        prop_assert!((2.0665 * alcohol * beer_per_wort - share * plato).abs() < 1e-9);
    }

    #[test]
    fn two_bags_of_one_malt_are_one_bag(
        kg in 0.1..10.0f64, part in 0.0..1.0f64, at in 0usize..29,
    ) {
        let class = &malt_classes()[at];
        let bag = |mass_kg| GristItem { class, mass_kg, certificate: Certificate::default() };
        let (one, two) = (grist(&[bag(kg)]), grist(&[bag(kg * part), bag(kg * (1.0 - part))]));
        prop_assert!(close(one.extract_fine, two.extract_fine, 1e-12));
        prop_assert!(close(one.starch_dry, two.starch_dry, 1e-12));
        prop_assert!(close(one.colour_kg_ebc, two.colour_kg_ebc, 1e-12));
        let acid_meq = one.acid.acid_meq(5.4);
        prop_assert!((acid_meq - two.acid.acid_meq(5.4)).abs() < 1e-9 * kg);
        prop_assert!((acid_meq - kg * class.acid_meq_kg(5.4)).abs() < 1e-9 * kg);
    }

    #[test]
    fn no_input_makes_a_property_panic(a in any::<f64>(), b in any::<f64>(), c in any::<f64>()) {
        let _ = (water::saturation_temperature_c(a), water::air_pressure_pa(b));
        let _ = (wort::density_kg_m3(a, b), wort::volume_m3(a, b, c), wort::plato_from_sg(a));
        let _ = (wort::temperature_c(a, b, c, a, b, c), wort::boiling_point_c(a, b));
        let _ = Hydrometer { calibration_c: a, glass_per_k: b, bias_sg: c }.plato(b, a);
        let _ = (wort::refractive_index_from_brix(a), hop::soluble_share(a, b));
        for wild in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300] {
            let _ = wort::temperature_c(wild, a, b, 0.0, c, wild);
            let _ = (water::saturation_temperature_c(wild), wort::plato_from_sg(wild));
        }
    }
}
