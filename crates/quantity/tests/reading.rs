//! What is read, what is refused, and what the refusal says.

use quantity::{
    Acidity, ChargeConcentration, Colour, Dimension, Duration, Extract, Length, Mass, Power,
    Quantity, Reason, Share, Temperature, TemperatureDifference, UnitSystem, Volume, read,
    read_any, write_stated,
};

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-12 * a.abs().max(b.abs()).max(1e-6)
}

#[track_caller]
fn reads<Q: Quantity>(text: &str, value: f64, half_width: Option<f64>) {
    let stated = read::<Q>(text).unwrap_or_else(|e| panic!("{text}: {e}"));
    assert!(close(stated.value.si(), value), "{text}: {} is not {value}", stated.value.si());
    match (stated.half_width, half_width) {
        (None, None) => {}
        (Some(a), Some(b)) if (a - b).abs() < 1e-9 => {}
        (a, b) => panic!("{text}: doubt {a:?} is not {b:?}"),
    }
}

#[track_caller]
fn refused<Q: Quantity>(text: &str, reason: Reason, suggestion: Option<&str>) {
    let error = read::<Q>(text).expect_err(text);
    assert_eq!(error.reason, reason, "{text}: {error}");
    assert_eq!(error.suggestion.as_deref(), suggestion, "{text}");
    assert!(text.get(error.range.clone()).is_some(), "{text}: {:?}", error.range);
    assert!(!error.expected.is_empty() && !error.found.is_empty(), "{text}");
}

#[test]
fn numbers_are_read_as_people_type_them() {
    reads::<Extract>("12,6 °P", 0.126, None);
    reads::<Volume>(" 21 L ", 0.021, None);
    reads::<Volume>(".5 L", 0.0005, None);
    reads::<Volume>("0,500 L", 0.0005, None);
    reads::<Volume>("2e1 L", 0.02, None);
    reads::<Volume>("1\u{202f}200 mL", 0.0012, None);
    reads::<Volume>("1\u{2009}200\u{a0}mL", 0.0012, None);
    reads::<Temperature>("\u{2212}2 °C", 271.15, None);
    reads::<Temperature>("65 º C", 338.15, None);
    reads::<Length>("15 3/4 in", 0.40005, None);
    reads::<Length>("15-3/4 in", 0.40005, None);
    reads::<Length>("15¾ in", 0.40005, None);
    reads::<Length>("3/4\"", 0.01905, None);
    reads::<Length>("½ in", 0.0127, None);
    reads::<Acidity>("5.4", 5.4, None);
}

#[test]
fn parts_of_one_quantity_add_up() {
    reads::<Duration>("2 h 31 min", 9060.0, None);
    reads::<Duration>("2 h 31", 9060.0, None);
    reads::<Duration>("1h30min", 5400.0, None);
    reads::<Length>("5 ft 3 1/2 in", 1.6129, None);
    reads::<Mass>("4 lb 8 oz", 4.5 * 0.453_592_37, None);
}

#[test]
fn doubts_are_half_widths_in_si() {
    reads::<Length>("400 mm ± 1 mm", 0.4, Some(0.001));
    reads::<Length>("400 ± 1 mm", 0.4, Some(0.001));
    reads::<Length>("400 mm +- 0.1 cm", 0.4, Some(0.001));
    reads::<Length>("400 mm +/- 2 %", 0.4, Some(0.008));
    reads::<Share>("76 % ± 5 %", 0.76, Some(0.05));
    reads::<Temperature>("145 °F ± 2 °F", (145.0 + 459.67) / 1.8, Some(2.0 / 1.8));
    reads::<Temperature>("63 ± 0.5 °C", 336.15, Some(0.5));
    reads::<Temperature>("63 °C ± 1 K", 336.15, Some(1.0));
    reads::<TemperatureDifference>("9 °F ± 1.8 °F", 5.0, Some(1.0));
    reads::<Acidity>("5.4 ± 0.1", 5.4, Some(0.1));
    // 10 °L ± 1 °L: the slope is 1.3546 · 1.97 EBC.
    reads::<Colour>("10 °L ± 1 °L", 25.18842, Some(2.668_562));
}

#[test]
fn a_doubt_in_gravity_is_a_slope_and_not_an_offset() {
    let sg = read::<Extract>("1.048 ± 0.002").unwrap();
    let points = read::<Extract>("48 points ± 2 points").unwrap();
    let slope = (Extract::from_specific_gravity(1.05).si()
        - Extract::from_specific_gravity(1.046).si())
        / 2.0;
    assert!(close(sg.half_width.unwrap(), slope));
    assert!((points.half_width.unwrap() - slope).abs() < 1e-9);
}

#[test]
fn about_marks_what_may_move() {
    assert!(read::<Volume>("about 21 L").unwrap().about);
    assert!(read::<Temperature>("About 63 °C ± 1 °C").unwrap().about);
    assert!(!read::<Volume>("21 L").unwrap().about);
    refused::<Volume>("about", Reason::NoNumber, None);
}

#[test]
fn a_missing_unit_is_asked_for() {
    refused::<Volume>("21", Reason::MissingUnit, Some("\"21 L\" or \"21 gal\""));
    refused::<Temperature>("145", Reason::MissingUnit, Some("\"145 °C\" or \"145 °F\""));
    refused::<Extract>("48", Reason::MissingUnit, Some("\"48 °P\" or \"48 points\""));
    refused::<Extract>("1048", Reason::MissingUnit, Some("\"1.048\""));
    refused::<Share>("75", Reason::MissingUnit, Some("\"75 %\""));
    refused::<Length>("400 mm ± 1", Reason::BadDoubt, Some("\"400 mm ± 1 mm\""));
    assert!(read::<Extract>("1.048").is_ok());
    assert!(read::<Extract>("1.048 SG").is_ok());
}

#[test]
fn an_ambiguous_text_is_refused_with_what_was_meant() {
    refused::<Temperature>("65 °", Reason::AmbiguousUnit, Some("\"°C\" or \"°F\""));
    let pint = "the volume in \"qt\" or \"L\" (pints differ between countries)";
    refused::<Volume>("4 pt", Reason::AmbiguousUnit, Some(pint));
    let or = "\"1500 mL\" or \"1.500 mL\"";
    refused::<Volume>("1,500 mL", Reason::AmbiguousNumber, Some(or));
    let plain = "write thousands without a separator: \"1200.5\"";
    refused::<Volume>("1,200.5 mL", Reason::AmbiguousNumber, Some(plain));
    refused::<Volume>("1 200 mL", Reason::AmbiguousNumber, Some("\"1200 mL\""));
    refused::<Volume>("21 L 5 kg", Reason::Leftover, None);
    refused::<Duration>("5 min 2 h", Reason::Leftover, None);
    assert!(read::<Extract>("1,048").is_ok(), "a gravity can't be a thousand");
}

#[test]
fn a_wrong_unit_is_named() {
    refused::<Length>("400 mL", Reason::WrongKind, None);
    refused::<Power>("9.5 kw", Reason::UnknownUnit, Some("\"9.5 kW\""));
    refused::<Volume>("21 blobs", Reason::UnknownUnit, None);
    refused::<Volume>("21 °L", Reason::WrongKind, None);
    refused::<Extract>("12.6 %", Reason::WrongKind, None);
    let error = read::<Length>("400 mL").unwrap_err();
    assert_eq!(error.found, "\"400 mL\" is a volume");
    assert_eq!(&"400 mL"[error.range], "mL");
}

#[test]
fn impossible_numbers_are_refused() {
    for text in ["nan L", "NaN", "inf L", "-inf L", "ten L", "L", "--5 L"] {
        refused::<Volume>(text, Reason::NoNumber, None);
    }
    refused::<Volume>("", Reason::Empty, None);
    refused::<Volume>("  ", Reason::Empty, None);
    for text in ["1e300 L", "1e999 L", "-1 L", "−0.1 gal"] {
        refused::<Volume>(text, Reason::OutOfRange, None);
    }
    refused::<Temperature>("-500 °F", Reason::OutOfRange, None);
    refused::<Temperature>("-1 K", Reason::OutOfRange, None);
    refused::<Share>("120 %", Reason::OutOfRange, None);
    refused::<Share>("-5 %", Reason::OutOfRange, None);
    refused::<Extract>("90 °P", Reason::OutOfRange, None);
    refused::<Acidity>("15", Reason::OutOfRange, None);
    let error = read::<Volume>("-1 L").unwrap_err();
    assert_eq!(error.found, "a volume below nothing");
}

#[test]
fn doubts_that_cannot_be_meant_are_refused() {
    for text in ["21 L ±", "21 L ± -1 L", "21 L ± 1e300 L", "21 L ± 1 kg", "21 L ± 1,500 L"] {
        assert_eq!(read::<Volume>(text).expect_err(text).reason, Reason::BadDoubt, "{text}");
    }
    assert_eq!(read::<Volume>("21 L ± x").unwrap_err().reason, Reason::NoNumber);
    let error = read::<Temperature>("65 °C ± 2 %").unwrap_err();
    assert_eq!(error.suggestion.as_deref(), Some("\"65 ± 1 °C\""));
    assert_eq!(read::<Extract>("1.048 ± 2 %").unwrap_err().reason, Reason::BadDoubt);
}

#[test]
fn the_unit_decides_between_kinds() {
    let kinds = [Dimension::Mass, Dimension::Volume, Dimension::Share];
    assert_eq!(read_any("5 kg", &kinds).map(|s| s.dimension), Ok(Dimension::Mass));
    assert_eq!(read_any("5 mL", &kinds).map(|s| s.dimension), Ok(Dimension::Volume));
    assert_eq!(read_any("5 %", &kinds).map(|s| s.dimension), Ok(Dimension::Share));
    assert!(read_any("5 °C", &kinds).is_err());
    assert!(read::<ChargeConcentration>("100 ppm CaCO3").is_ok());
}

#[test]
fn what_was_stated_is_written_back() {
    let stated = read::<Volume>("about 21 L ± 1 L").unwrap();
    let text = write_stated(&stated, UnitSystem::Metric);
    assert_eq!(text, "about 21.0\u{202f}±1.0\u{202f}L");
    let again = read::<Volume>(&text).unwrap();
    assert!(again.about && close(again.half_width.unwrap(), 0.001));
}

#[test]
fn a_minus_before_nothing_is_still_a_minus() {
    refused::<Volume>("\u{2212}0 L", Reason::OutOfRange, None);
    refused::<Mass>("-0.0 kg", Reason::OutOfRange, None);
    refused::<Volume>("2 L ± -0 L", Reason::BadDoubt, None);
    reads::<Volume>("+0 L", 0.0, None);
    reads::<Temperature>("-0 °C", 273.15, None);
    reads::<TemperatureDifference>("-0 K", 0.0, None);
}
