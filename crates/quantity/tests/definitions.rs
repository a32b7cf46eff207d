//! Every unit against its definition, and the extract scale against published values.
//!
//! Digits are copied from the named tables, none comes from the code.

use quantity::{Dimension, Extract, Quantity, read, read_any, units_of};

/// Unit, kind, its value in the SI unit of the kind. Factors of NIST SP 811 (2008), appendix B.8,
/// with all printed digits, or exact decimal multiples (ISO 80000-1).
const FACTORS: &[(&str, Dimension, f64)] = &[
    ("L", Dimension::Volume, 1e-3),
    ("mL", Dimension::Volume, 1e-6),
    ("hL", Dimension::Volume, 0.1),
    ("m³", Dimension::Volume, 1.0),
    ("gal", Dimension::Volume, 3.785_412e-3), // gallon (US)
    ("qt", Dimension::Volume, 9.463_529e-4),  // quart (US liquid)
    ("kg", Dimension::Mass, 1.0),
    ("g", Dimension::Mass, 1e-3),
    ("mg", Dimension::Mass, 1e-6),
    ("lb", Dimension::Mass, 4.535_924e-1), // pound (avoirdupois)
    ("oz", Dimension::Mass, 2.834_952e-2), // ounce (avoirdupois)
    ("mm", Dimension::Length, 1e-3),
    ("cm", Dimension::Length, 1e-2),
    ("m", Dimension::Length, 1.0),
    ("in", Dimension::Length, 2.54e-2),
    ("ft", Dimension::Length, 3.048e-1),
    ("m", Dimension::Altitude, 1.0),
    ("ft", Dimension::Altitude, 3.048e-1),
    ("cm²", Dimension::Area, 1e-4),
    ("mm²", Dimension::Area, 1e-6),
    ("m²", Dimension::Area, 1.0),
    ("in²", Dimension::Area, 6.4516e-4),
    ("ft²", Dimension::Area, 9.290_304e-2),
    ("s", Dimension::Duration, 1.0),
    ("min", Dimension::Duration, 60.0),
    ("h", Dimension::Duration, 3600.0),
    ("d", Dimension::Duration, 86400.0),
    ("W", Dimension::Power, 1.0),
    ("kW", Dimension::Power, 1e3),
    ("Btu/h", Dimension::Power, 2.930_711e-1), // Btu(IT) per hour
    ("kBtu/h", Dimension::Power, 2.930_711e2),
    ("J", Dimension::Energy, 1.0),
    ("kJ", Dimension::Energy, 1e3),
    ("MJ", Dimension::Energy, 1e6),
    ("kWh", Dimension::Energy, 3.6e6),
    ("Btu", Dimension::Energy, 1.055_056e3), // Btu(IT)
    ("kBtu", Dimension::Energy, 1.055_056e6),
    ("L/min", Dimension::VolumeFlow, 1.666_667e-5),
    ("L/h", Dimension::VolumeFlow, 2.777_778e-7),
    ("L/s", Dimension::VolumeFlow, 1e-3),
    ("mL/min", Dimension::VolumeFlow, 1.666_667e-8),
    ("gal/min", Dimension::VolumeFlow, 6.309_020e-5), // gallon (US) per minute
    ("gal/h", Dimension::VolumeFlow, 1.051_503e-6),   // that over 60
    ("qt/min", Dimension::VolumeFlow, 1.577_255e-5),  // that over 4
    ("kg/h", Dimension::MassFlow, 2.777_778e-4),
    ("kg/min", Dimension::MassFlow, 1.666_667e-2),
    ("kg/s", Dimension::MassFlow, 1.0),
    ("g/h", Dimension::MassFlow, 2.777_778e-7),
    ("lb/h", Dimension::MassFlow, 1.259_979e-4), // pound per hour
    ("Pa", Dimension::Pressure, 1.0),
    ("kPa", Dimension::Pressure, 1e3),
    ("hPa", Dimension::Pressure, 1e2),
    ("bar", Dimension::Pressure, 1e5),
    ("mbar", Dimension::Pressure, 1e2),
    ("psi", Dimension::Pressure, 6.894_757e3),
    ("kg/m³", Dimension::Density, 1.0),
    ("kg/L", Dimension::Density, 1e3),
    ("J/K", Dimension::HeatCapacity, 1.0),
    ("kJ/K", Dimension::HeatCapacity, 1e3),
    ("W/K", Dimension::Conductance, 1.0),
    ("kW/K", Dimension::Conductance, 1e3),
    ("%", Dimension::Share, 1e-2),
    ("K", Dimension::Temperature, 1.0),
    ("K", Dimension::TemperatureDifference, 1.0),
    ("°C", Dimension::TemperatureDifference, 1.0),
    ("°F", Dimension::TemperatureDifference, 5.555_556e-1),
    ("°P", Dimension::Extract, 1e-2),
    ("°Bx", Dimension::Refraction, 1e-2),
    ("EBC", Dimension::Colour, 1.0),
    ("SRM", Dimension::Colour, 1.97),
    ("IBU", Dimension::Bitterness, 1.0),
    ("mg/L", Dimension::MassConcentration, 1e-3),
    ("ppm", Dimension::MassConcentration, 1e-3), // one litre of water taken as one kilogram
    ("g/L", Dimension::MassConcentration, 1.0),
    ("meq/L", Dimension::ChargeConcentration, 1.0),
    ("mg/L CaCO3", Dimension::ChargeConcentration, 1.998_262e-2), // half of 100.087 g/mol
    ("°dH", Dimension::ChargeConcentration, 3.566_499e-1),        // 10 mg CaO, 56.0774 g/mol
    ("°dH", Dimension::Hardness, 1.783_249e-1),
    ("mg/L CaCO3", Dimension::Hardness, 9.991_308e-3),
    ("mmol/L", Dimension::Hardness, 1.0),
    ("mmol/L", Dimension::MolarConcentration, 1.0),
    ("vol", Dimension::CarbonDioxide, 1.0),
    ("g/L", Dimension::CarbonDioxide, 5.058_169e-1), // 1 / 1.977, Span and Wagner 1996
    ("", Dimension::Acidity, 1.0),
];

/// Units that are no factor; checked below, one by one.
const CURVED: &[&str] = &["°C", "°F", "SG", "points", "°L"];

fn si(text: &str, kind: Dimension) -> f64 {
    read_any(text, &[kind]).unwrap_or_else(|e| panic!("{text}: {e}")).value
}

#[test]
fn every_factor_is_its_definition() {
    for (unit, kind, factor) in FACTORS {
        let number = if *kind == Dimension::Temperature { 300.0 } else { 0.5 };
        let got = si(&format!("{number} {unit}"), *kind);
        let error = (got / (number * factor) - 1.0).abs();
        assert!(error < 6e-7, "{unit} of {kind:?}: {got} is not {}", number * factor);
    }
}

#[test]
fn no_unit_is_left_unchecked() {
    for kind in Dimension::ALL {
        for unit in units_of(kind) {
            let listed = FACTORS.iter().any(|(u, k, _)| *u == unit.symbol && *k == kind);
            assert!(listed || CURVED.contains(&unit.symbol), "{} of {kind:?}", unit.symbol);
        }
    }
}

#[test]
fn every_spelling_reads_as_its_unit() {
    for kind in Dimension::ALL {
        for unit in units_of(kind) {
            let number = match unit.symbol {
                "SG" => "1.05",
                "°L" => "2.5",
                _ => "0.5",
            };
            let expected = si(&format!("{number} {}", unit.symbol), kind);
            for spelling in unit.spellings() {
                assert_eq!(si(&format!("{number} {spelling}"), kind), expected, "{spelling}");
                assert_eq!(si(&format!("{number}{spelling}"), kind), expected, "{spelling}");
            }
        }
    }
}

/// Fixed points of NIST SP 811 B.8 and ISO 80000-5.
#[test]
fn temperatures_have_their_fixed_points() {
    for (text, kelvin) in [
        ("0 °C", 273.15),
        ("100 °C", 373.15),
        ("32 °F", 273.15),
        ("212 °F", 373.15),
        ("−40 °F", 233.15),
        ("-40 °C", 233.15),
        ("−459.67 °F", 0.0),
        ("145 degF", 335.927_777_777_8),
    ] {
        let got = si(text, Dimension::Temperature);
        assert!((got - kelvin).abs() < 1e-9, "{text}: {got}");
    }
}

/// Density of sucrose solutions (ICUMSA, Bubnik et al., Sugar Technologists Manual, 1995), printed
/// to 1e-5; extract from gravity by the same coefficients; the NBS cubic within its own spread.
#[test]
fn extract_follows_the_sucrose_table() {
    for (plato, gravity) in [
        (0.0, 1.0),
        (5.0, 1.01964),
        (8.0, 1.03176),
        (10.0, 1.03998),
        (12.0, 1.04833),
        (15.0, 1.06107),
        (18.0, 1.07409),
        (20.0, 1.08292),
        (25.0, 1.10558),
    ] {
        let got = Extract::from_plato(plato).specific_gravity();
        assert!((got - gravity).abs() < 6e-6, "{plato} °P: {got}");
    }
    for (gravity, plato) in [(1.03, 7.568_737), (1.048, 11.922_04), (1.08, 19.341_49)] {
        let got = Extract::from_specific_gravity(gravity).plato();
        assert!((got - plato).abs() < 1e-5, "{gravity}: {got}");
    }
    for (plato, nbs) in [(8.0, 1.0318), (12.0, 1.048_372), (20.0, 1.082_97)] {
        let got = Extract::from_plato(plato).specific_gravity();
        assert!((got - nbs).abs() < 5e-5, "{plato} °P: {got}");
    }
}

/// Water at 20 °C by the printed coefficients of Kell (1975).
#[test]
fn water_at_20_c_is_kells() {
    let t = 20.0_f64;
    let above =
        999.839_52 + 16.952_577 * t - 7.990_512_7e-3 * t.powi(2) - 46.241_757e-6 * t.powi(3)
            + 105.846_01e-9 * t.powi(4)
            - 281.030_06e-12 * t.powi(5);
    let kell = above / (1.0 + 16.887_236e-3 * t);
    assert!((quantity::WATER_DENSITY_20C_KG_M3 - kell).abs() < 1e-9);
}

#[test]
fn gravity_points_and_lovibond_are_their_formulas() {
    let from_points = si("48 points", Dimension::Extract);
    assert!((from_points - si("1.048", Dimension::Extract)).abs() < 1e-12);
    assert!((si("1,048 SG", Dimension::Extract) - from_points).abs() < 1e-12);
    // SRM = 1.3546 L − 0.76 and EBC = 1.97 SRM, by hand for 10 °L: 12.786 SRM, 25.188 EBC.
    assert!((si("10 °L", Dimension::Colour) - 25.18842).abs() < 1e-9);
}

#[test]
fn each_kind_reads_its_own_example() {
    for kind in Dimension::ALL {
        assert_eq!(read_any(kind.example(), &[kind]).map(|s| s.dimension), Ok(kind));
    }
}

/// 1 meq/L of alkalinity is 50.04 mg/L as CaCO3 and 2.804 °dH (common tables of water analysis).
#[test]
fn alkalinity_scales_agree() {
    let one = read::<quantity::ChargeConcentration>("1 meq/L").unwrap().value;
    assert!((one.milligrams_caco3_per_litre() - 50.04).abs() < 0.01);
    assert!((one.german_degrees() - 2.804).abs() < 0.0005);
    assert_eq!(one.si(), 1.0);
}
