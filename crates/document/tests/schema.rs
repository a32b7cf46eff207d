//! The schema agrees with the reader, judged by an independent validator.

mod pots;

use document::{Document, Field, Kind, Shape, as_json};
use jsonschema::Validator;
use pots::{GOOD, KITCHEN};
use proptest::prelude::*;
use quantity::{Dimension, pattern, read_any, units_of};
use serde_json::{Value, json};

fn validator() -> Validator {
    let schema = KITCHEN.json_schema("Kitchen");
    assert!(jsonschema::draft202012::meta::is_valid(&schema));
    jsonschema::validator_for(&schema).expect("a valid schema")
}

/// A validator of texts that state a quantity of one kind.
fn validator_of(kind: Dimension) -> Validator {
    let schema = json!({ "pattern": pattern(&[kind]) });
    jsonschema::validator_for(&schema).expect("a valid pattern")
}

#[test]
fn the_good_file_satisfies_its_schema() {
    let good = as_json(GOOD).unwrap();
    let errors: Vec<_> = validator().iter_errors(&good).map(|e| e.to_string()).collect();
    assert_eq!(errors, Vec::<String>::new());
    assert_eq!(good["pot"]["large"]["heater"]["proved"], "2026-09-14");
}

/// What the reader refuses by kind, word, key or unit, the schema refuses too.
#[test]
fn spoilt_files_fail_in_both() {
    for (from, to) in [
        ("name =", "nam ="),
        ("\"Tiled\"", "4"),
        ("\"Tiled\"", "' '"),
        ("1.048", "12.6"),
        ("\"start of boil\"", "\"start\""),
        ("\"30 cm ± 1 mm\"", "\"30 L\""),
        ("\"30 cm ± 1 mm\"", "\"30\""),
        ("\"30 cm ± 1 mm\"", "\"30 cm ± 1\""),
        ("\"30 cm ± 1 mm\"", "\"-30 cm\""),
        ("\"30 cm ± 1 mm\"", "\"nan cm\""),
        ("\"9.5 kW\"", "\"9.5 kw\""),
        ("\"glass\"", "\"wood\""),
        ("lid = true", "lid = 1"),
        ("count = 2", "count = 2.5"),
        ("count = 2", "count = 20"),
        ("\"145 °F ± 2 °F\"", "\"145 °\""),
        ("by = \"fire\"", "by = \"ice\""),
        ("proved = 2026-09-14", "proved = \"yesterday\""),
        ("burner = \"9.5 kW\"\n", ""),
    ] {
        let text = GOOD.replacen(from, to, 1);
        assert_ne!(text, GOOD, "{from}");
        let (_, findings) = Document::read("f.toml", &text, &KITCHEN).unwrap();
        assert!(findings.has_errors(), "the reader takes {to}");
        assert!(!validator().is_valid(&as_json(&text).unwrap()), "the schema takes {to}");
    }
}

/// Each kind alone takes its own units and no other's.
#[test]
fn patterns_know_their_units() {
    for kind in Dimension::ALL {
        let validator = validator_of(kind);
        assert!(validator.is_valid(&json!(kind.example())), "{kind:?} {}", pattern(&[kind]));
        for other in Dimension::ALL {
            for unit in units_of(other) {
                let number = if unit.symbol == "SG" { "1.05" } else { "2" };
                let text = format!("{number} {} ± 0.1 {}", unit.symbol, unit.symbol);
                let reads = read_any(&text, &[kind]).is_ok();
                assert_eq!(validator.is_valid(&Value::from(&*text)), reads, "{kind:?} {text}");
            }
        }
    }
}

#[test]
fn the_schema_tells_what_keys_are_for() {
    let schema = KITCHEN.json_schema("Kitchen");
    assert_eq!(schema["title"], "Kitchen");
    assert_eq!(schema["properties"]["name"]["description"], "What it is called.");
    assert_eq!(schema["required"], json!(["name", "pot"]));
    assert_eq!(schema["additionalProperties"], false);
    const MADE: Shape = Shape {
        doc: "",
        fields: &[Field::optional("of", Kind::WordFrom(|| vec!["a", "b"]), "From a table.")],
    };
    assert_eq!(MADE.json_schema("")["properties"]["of"]["enum"], json!(["a", "b"]));
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]
    /// Whatever the reader takes, the schema's pattern takes.
    #[test]
    fn what_reads_matches(
        text in "(about )?[-−+]?[0-9]{1,3}([.,][0-9]{1,3}|[ -][1-3]/[4-9]|½)?( |\u{202f})?\
            (L|gal|°F|° C|°P|SG|%|in|h|lb|ppm|points|)( ?[0-9½]{1,2} ?(min|oz|))?\
            ( ?(±|\\+-|\\+/-) ?[0-9.]{1,3} ?(°F|%|L|SG|in|lb|h|points|))?",
        kind in 0..Dimension::ALL.len(),
    ) {
        let kind = Dimension::ALL[kind];
        if read_any(&text, &[kind]).is_ok() {
            let validator = validator_of(kind);
            prop_assert!(validator.is_valid(&Value::from(&*text)), "{} {}", text, pattern(&[kind]));
        }
    }
}
