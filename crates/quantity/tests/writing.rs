//! Digits, units and signs of what is written; what is written is read back as the same.

use proptest::prelude::*;
use quantity::*;

fn shown<Q: Quantity>(value: Q) -> [String; 2] {
    [write(value, UnitSystem::Metric), write(value, UnitSystem::Us)]
        .map(|text| text.replace(NARROW, "_"))
}

#[test]
fn each_kind_has_its_unit_and_step() {
    assert_eq!(shown(Volume::from_litres(21.04)), ["21.0_L", "5.55_gal"]);
    assert_eq!(shown(Volume::from_millilitres(5.26)), ["5.3_mL", "5.3_mL"]);
    assert_eq!(shown(Temperature::from_celsius(66.16)), ["66.2_°C", "151.0_°F"]);
    assert_eq!(shown(Temperature::from_celsius(-2.0)), ["−2.0_°C", "28.4_°F"]);
    assert_eq!(shown(TemperatureDifference::from_kelvin(1.0)), ["1.0_K", "1.8_°F"]);
    assert_eq!(shown(Extract::from_plato(12.0)), ["12.0_°P", "1.0485"]);
    assert_eq!(shown(Mass::from_kilograms(4.536)), ["4.54_kg", "10_lb"]);
    assert_eq!(shown(Mass::from_kilograms(4.75)), ["4.75_kg", "10_lb 7.5_oz"]);
    assert_eq!(shown(Mass::from_grams(250.0)), ["250_g", "8.80_oz"]);
    assert_eq!(shown(Colour::from_ebc(19.2)), ["19_EBC", "9.5_SRM"]);
    assert_eq!(shown(Bitterness::from_ibu(31.6)), ["32_IBU", "32_IBU"]);
    assert_eq!(shown(VolumeFlow::from_litres_per_minute(1.234)), ["1.23_L/min", "1.30_qt/min"]);
    assert_eq!(shown(Pressure::from_bar(0.83)), ["0.8_bar", "12_psi"]);
    assert_eq!(shown(CarbonDioxide::from_volumes(2.44)), ["2.4_vol", "2.4_vol"]);
    assert_eq!(shown(Length::from_millimetres(400.2)), ["400_mm", "15_3/4_in"]);
    assert_eq!(shown(Length::from_millimetres(0.8)), ["0.8_mm", "0.03_in"]);
    assert_eq!(shown(Length::from_inches(0.625)), ["16_mm", "5/8_in"]);
    assert_eq!(shown(Altitude::from_metres(1500.0)), ["1_500_m", "4_921_ft"]);
    assert_eq!(shown(Power::from_kilowatts(9.5)), ["9.5_kW", "32.4_kBtu/h"]);
    assert_eq!(shown(Energy::from_megajoules(1.0)), ["1.0_MJ", "950_Btu"]);
    assert_eq!(shown(Share::from_percent(83.2)), ["83_%", "83_%"]);
    assert_eq!(shown(Share::from_percent(7.8)), ["7.8_%", "7.8_%"]);
    assert_eq!(shown(Acidity::from_ph(5.4)), ["5.40", "5.40"]);
}

#[test]
fn durations_and_clocks() {
    let time = |minutes: f64| shown(Duration::from_minutes(minutes))[0].clone();
    assert_eq!(time(0.5), "30_s");
    assert_eq!(time(35.2), "35_min");
    assert_eq!(time(151.0), "2_h_31");
    assert_eq!(time(59.9), "1_h_00");
    assert_eq!(time(65.0), "1_h_05");
    assert_eq!(time(14.0 * 1440.0), "14.0_d");
    let at = |minutes: f64, clock| write_clock(Duration::from_minutes(minutes), clock);
    assert_eq!(at(867.0, Clock::Hours24), "14:27");
    assert_eq!(at(867.0, Clock::Hours12), "2:27\u{202f}PM");
    assert_eq!(at(0.0, Clock::Hours12), "12:00\u{202f}AM");
    assert_eq!(at(1445.0, Clock::Hours24), "00:05");
    assert_eq!(write_countdown(Duration::from_seconds(520.0)), "8:40");
}

#[test]
fn hops_and_slow_flows_have_finer_steps() {
    let hops = Mass::from_grams(28.3);
    assert_eq!(write_hops(hops, UnitSystem::Metric), "28\u{202f}g");
    assert_eq!(write_hops(hops, UnitSystem::Us), "1.00\u{202f}oz");
    let flow = VolumeFlow::from_litres_per_hour(4.3);
    assert_eq!(write_flow_per_hour(flow, UnitSystem::Metric), "4.3\u{202f}L/h");
    assert_eq!(write_flow_per_hour(flow, UnitSystem::Us), "1.15\u{202f}gal/h");
}

/// One figure of doubt, two when it begins with 1, the value to the same place.
#[test]
fn digits_are_honest() {
    let litres = |value: f64, half: f64| {
        let half = half * 1e-3;
        write_within(Volume::from_litres(value), half, UnitSystem::Metric).replace(NARROW, "_")
    };
    assert_eq!(litres(21.04, 0.42), "21.0_±0.4_L");
    assert_eq!(litres(21.04, 0.13), "21.04_±0.13_L");
    assert_eq!(litres(21.04, 1.96), "21.0_±2.0_L");
    assert_eq!(litres(21.04, 5.0), "21_±5_L");
    assert_eq!(litres(214.0, 40.0), "210_±40_L");
    assert_eq!(litres(21.04, 0.04), "21.0_L", "under half a step no doubt is shown");
    let fahrenheit = write_within(Temperature::from_celsius(65.0), 0.5, UnitSystem::Us);
    assert_eq!(fahrenheit.replace(NARROW, "_"), "149.0_±0.9_°F");
    let gravity = write_within(Extract::from_plato(12.0), 0.005, UnitSystem::Us);
    assert_eq!(gravity.replace(NARROW, "_"), "1.048_±0.002");
    let time = write_within(Duration::from_minutes(151.0), 300.0, UnitSystem::Metric);
    assert_eq!(time.replace(NARROW, "_"), "2_h_31_±5_min");
}

fn kinds() -> impl Strategy<Value = Dimension> {
    proptest::sample::select(Dimension::ALL.to_vec())
}

/// A sensible number of each kind, a share of the way through its limits on a stretched scale.
fn sensible(kind: Dimension, share: f64) -> f64 {
    let (least, greatest) = kind.limits();
    match kind {
        Dimension::Temperature => 250.0 + 150.0 * share,
        Dimension::Extract | Dimension::Refraction => 0.4 * share,
        Dimension::Duration => 10f64.powf(7.0 * share),
        _ if least < 0.0 => share * 100.0,
        _ => (greatest * 10f64.powf(-9.0 * share)).min(greatest * 0.999),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]
    /// Any unit, any number: to SI and back.
    #[test]
    fn units_round_trip(kind in kinds(), unit in 0..8_usize, share in 0.0..1.0_f64) {
        let unit = units_of(kind)[unit % units_of(kind).len()];
        let si = sensible(kind, share);
        let back = unit.to_si(unit.number_of(si));
        prop_assert!((back - si).abs() <= 1e-11 * si.abs().max(1e-3), "{si} {back} {unit:?}");
    }

    /// What is written is read back within the step it was written in.
    #[test]
    fn text_round_trips(kind in kinds(), share in 0.0..1.0_f64, us in any::<bool>()) {
        let system = if us { UnitSystem::Us } else { UnitSystem::Metric };
        let si = sensible(kind, share);
        let text = write_si(kind, si, None, system);
        let again = read_any(&text, &[kind]);
        let again = again.map_err(|e| TestCaseError::fail(format!("{text}: {e}")))?;
        if again.value == 0.0 {
            return Ok(()); // below the smallest step
        }
        let same = write_si(kind, again.value, None, system) == text;
        // At the border between two units the coarser step may show: half a step in ten is 5 %.
        let near = (again.value - si).abs() <= 0.06 * si.abs();
        prop_assert!(same || near, "{} {}", text, again.value);
    }

    /// A number typed with all its digits loses none.
    #[test]
    fn full_digits_are_kept(litres in 0.0..1e6_f64) {
        let stated = read::<Volume>(&format!("{litres} L")).unwrap();
        prop_assert!((stated.value.litres() - litres).abs() <= 1e-9 * litres);
        let comma = format!("{litres:.4} L").replace('.', ",");
        prop_assert!((read::<Volume>(&comma).unwrap().value.litres() - litres).abs() <= 5.1e-5);
    }

    /// Extract and gravity are inverse over the whole scale.
    #[test]
    fn gravity_inverts(plato in -2.0..60.0_f64) {
        let back = Extract::from_specific_gravity(Extract::from_plato(plato).specific_gravity());
        prop_assert!((back.plato() - plato).abs() < 1e-9);
    }

    /// No text panics, and an error's place is inside the text.
    #[test]
    fn nothing_panics(text in "\\PC{0,40}", kind in kinds()) {
        if let Err(error) = read_any(&text, &[kind]) {
            prop_assert!(text.get(error.range.clone()).is_some(), "{:?}", error);
        }
    }

    /// The same with texts that are nearly right.
    #[test]
    fn nearly_right_texts_do_not_panic(
        text in "(about )?[-−+]?[0-9.,/eE ½\u{202f}]{0,8} ?\
            (L|gal|°F|°P|%|in|h|lb|±|\\+-|SG|°){0,2} ?\
            [0-9½,.]{0,4} ?(min|oz|mm|°)?",
        kind in kinds(),
    ) {
        match read_any(&text, &[kind]) {
            Ok(stated) => {
                let (least, greatest) = kind.limits();
                prop_assert!(stated.value.is_finite());
                prop_assert!((least..=greatest).contains(&stated.value));
            }
            Err(error) => prop_assert!(text.get(error.range.clone()).is_some()),
        }
    }

    /// Writing never panics either.
    #[test]
    fn any_number_is_written(kind in kinds(), si in any::<f64>(), half in any::<f64>()) {
        for system in [UnitSystem::Metric, UnitSystem::Us] {
            prop_assert!(!write_si(kind, si, Some(half), system).is_empty());
        }
    }
}
