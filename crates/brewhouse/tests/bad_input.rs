//! What a person is told about a brewhouse document that can't be meant.
//!
//! Each case is a good document with one thing changed, or a text of its own; the answer is each
//! finding with line, column, what is wrong, what was expected.

use std::fmt::Write as _;
use std::path::Path;

use brewhouse::read;
use proptest::prelude::*;

fn good(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/good");
    std::fs::read_to_string(path.join(format!("{name}.toml"))).expect("the file is there")
}

/// All findings, one a line.
fn told(text: &str) -> String {
    let mut told = String::new();
    match read("pots.toml", text) {
        Ok(_) => told.push_str("nothing wrong\n"),
        Err(findings) => {
            for f in findings.iter() {
                let (line, column) = f.source.line_column(f.span);
                let marked = f.source.slice(f.span).lines().next().unwrap_or_default();
                let _ = write!(told, "{line}:{column} [{marked}] {}", f.message);
                if let Some(expected) = &f.expected {
                    let _ = write!(told, "; expected {expected}");
                }
                if let Some(suggestion) = &f.suggestion {
                    let _ = write!(told, "; perhaps {suggestion}");
                }
                told.push('\n');
            }
        }
    }
    told.replace('\u{202f}', " ")
}

/// What is told about the Orchard Shed with one text replaced.
fn changed(from: &str, to: &str) -> String {
    let text = good("orchard-shed");
    assert!(text.contains(from), "{from}");
    told(&text.replacen(from, to, 1))
}

const TUN_PLATE: &str = "false-bottom = { height = \"42 mm\"";

#[test]
fn empty_and_binary_files() {
    insta::assert_snapshot!(told(""), @r#"1:1 [] the file is empty; expected at least "name", "vessel""#);
    insta::assert_snapshot!(told("  \n\n"), @r#"1:1 [] the file is empty; expected at least "name", "vessel""#);
    insta::assert_snapshot!(told("name = \"x\"\0\u{1}\u{2}"), @"1:1 [] the file is binary, not text; expected text in UTF-8");
}

#[test]
fn a_hundred_megabytes() {
    let text = "# nothing\n".repeat(10_000_000);
    insta::assert_snapshot!(told(&text), @"1:1 [] the file is too large (100000000 bytes); expected at most 1 MiB, written by hand");
}

#[test]
fn wrong_and_missing_units() {
    insta::assert_snapshot!(changed("\"374 mm ± 1 mm\"", "\"374 L\""), @r#"21:54 [L] "374 L" is a volume; expected a length in mm, cm, m, in, as "400 mm""#);
    insta::assert_snapshot!(changed("\"374 mm ± 1 mm\"", "\"374\""), @r#"21:50 [374] the number 374 without a unit; expected a length in mm, cm, m, in, as "400 mm"; perhaps "374 mm" or "374 cm""#);
    insta::assert_snapshot!(changed("\"374 mm ± 1 mm\"", "374"), @r#"21:49 [374] the number 374 without a unit; expected a length in mm, cm, m, in, as "400 mm"; perhaps "374 mm" or "374 cm""#);
    insta::assert_snapshot!(changed("\"450 m\"", "\"450 °\""), @r#"7:18 [°] the unit "°", which is not clear; expected a height over the sea in m, ft, as "450 m"; perhaps "°C" or "°F""#);
}

#[test]
fn numbers_that_can_not_be() {
    insta::assert_snapshot!(changed("\"374 mm ± 1 mm\"", "\"-374 mm\""), @"21:50 [-374 mm] a length below nothing; expected a length between 0 and 10000000 mm");
    insta::assert_snapshot!(changed("\"374 mm ± 1 mm\"", "\"0 mm\""), @r#"21:49 ["0 mm"] "height" is too small here; expected 30 mm to 5000 mm"#);
    insta::assert_snapshot!(changed("\"374 mm ± 1 mm\"", "\"NaN mm\""), @r#"21:50 [NaN mm] "NaN mm" where a number should be; expected a length in mm, cm, m, in, as "400 mm""#);
    insta::assert_snapshot!(changed("\"374 mm ± 1 mm\"", "nan"), @r#"21:49 [nan] "nan" where a number should be; expected a length in mm, cm, m, in, as "400 mm""#);
    insta::assert_snapshot!(changed("\"374 mm ± 1 mm\"", "\"1e300 mm\""), @"21:50 [1e300 mm] a length that can't be; expected a length between 0 and 10000000 mm");
}

#[test]
fn unknown_keys_and_words() {
    insta::assert_snapshot!(changed("elevation =", "elevatoin ="), @r#"7:1 [elevatoin] the key "elevatoin" is not known here; expected one of "name", "units", "place", "elevation", "air", "humidity", "liquor-comes-at", "grain-holds", "people", "recirculate", "jug", "reserve", "mill-gap", "gas-left", "breaker-tested", "vessel", "pump", "chiller", "hose", "circuit", "hydrometer", "refractometer", "ph-meter"; perhaps "elevation""#);
    insta::assert_snapshot!(changed("\"felt\"", "\"flet\""), @r#"42:27 ["flet"] the word "flet" is not known here; expected one of "stainless", "stainless steel", "304", "stainless 304", "316", "stainless 316", "430", "stainless 430", "aluminium", "aluminum", "enamel", "foam", "closed-cell foam", "PUR foam", "PIR foam", "felt", "mineral wool", "wood", "glass", "silicone", "stainless 304 (1.4301)", "stainless 316 (1.4401)", "stainless 430 (1.4016)", "aluminium 1050 or 3003", …; perhaps "felt""#);
    insta::assert_snapshot!(changed("\"outdoors\"", "\"outside\""), @r#"6:9 ["outside"] the word "outside" is not known here; expected one of "outdoors", "open shed", "porch", "garage", "cellar", "indoors""#);
}

#[test]
fn heights_above_the_brim() {
    insta::assert_snapshot!(changed(TUN_PLATE, "false-bottom = { height = \"420 mm\""), @r#"
        46:27 ["420 mm"] the false bottom is above the brim; expected under the brim, 400 mm
        46:45 ["5.28 L ± 0.08 L"] so much does not fit under this false bottom; expected about 52.8 L, by diameter and height
        "#);
    insta::assert_snapshot!(changed("height = \"110 mm\"", "height = \"410 mm\""), @r#"47:41 ["410 mm"] the thermometer is above the brim; expected under the brim, 400 mm"#);
    insta::assert_snapshot!(changed("\"2.8 kW\", height = \"42 mm\"", "\"2.8 kW\", height = \"42 cm\""), @r#"29:41 ["42 cm"] the element is above the brim; expected under the brim, 374 mm"#);
}

#[test]
fn two_valves_at_one_height_above_the_brim() {
    let two = "valve = [{ height = \"450 mm\", bore = \"15 mm\" }, \
               { height = \"450 mm\", bore = \"15 mm\" }]";
    insta::assert_snapshot!(
        changed("valve = { height = \"25 mm\", bore = \"15 mm\" }", two),
        @r#"
            26:21 ["450 mm"] this valve is above the brim; expected under the brim, 374 mm
            26:60 ["450 mm"] this valve is above the brim; expected under the brim, 374 mm
            26:60 ["450 mm"] two valves of this vessel are at one height; expected each valve at its own height, measured from the lowest point inside
            "#
    );
}

#[test]
fn parts_missing_and_played_twice() {
    insta::assert_snapshot!(changed("plays = [\"liquor\"]", "plays = [\"kettle\"]"), @r#"
        18:2 [vessel] there is no hot liquor tank; expected a vessel with plays = ["liquor"]; one pot may play several parts
        68:9 [kettle] two vessels play "kettle"; expected each part played by one vessel
        "#);
    insta::assert_snapshot!(changed("[vessel.tun]", "[vessel.grant]").lines().count().to_string(), @"1");
    insta::assert_snapshot!(told("name = \"Nothing\"\n[vessel]\n"), @r#"
        2:2 [vessel] there is no hot liquor tank; expected a vessel with plays = ["liquor"]; one pot may play several parts
        2:2 [vessel] there is no mash tun; expected a vessel with plays = ["mash"]; one pot may play several parts
        2:2 [vessel] there is no kettle; expected a vessel with plays = ["kettle"]; one pot may play several parts
        2:2 [vessel] there is no fermenter; expected a vessel with plays = ["fermenter"]; one pot may play several parts
        "#);
    insta::assert_snapshot!(told("name = \"Nothing\"\n"), @r#"
        1:1 [] the key "vessel" is missing; expected vessel: tables, each under a name, with "name", "plays", "inside", "wall", "base", "lid", "insulation", "stand", "stand-bears", "valve", "false-bottom", "manifold", "bag", "thermometer", "marks", "heater", "least-level", "left-behind", "trub-and-hops", "boil-off", "walls", "metal", "coast", "head-space", …
        1:1 [] there is no hot liquor tank; expected a vessel with plays = ["liquor"]; one pot may play several parts
        1:1 [] there is no mash tun; expected a vessel with plays = ["mash"]; one pot may play several parts
        1:1 [] there is no kettle; expected a vessel with plays = ["kettle"]; one pot may play several parts
        1:1 [] there is no fermenter; expected a vessel with plays = ["fermenter"]; one pot may play several parts
        "#);
    insta::assert_snapshot!(
        changed("false-bottom = { height = \"42 mm\", under = \"5.28 L ± 0.08 L\" }", ""),
        @r#"35:1 [[vessel.tun]] nothing holds the grain back in "tun"; expected a false-bottom, a manifold or a bag, with its height"#
    );
}

#[test]
fn tables_that_do_not_rise() {
    let club = good("club-barn");
    insta::assert_snapshot!(told(&club.replace("\"25.1 L\"", "\"9.1 L\"")), @r#"55:3 [["100 mm", "9.1 L"]] the table does not rise here; expected each height and each volume greater than the one before"#);
    let start = club.find("  [\"50 mm\"").expect("a row");
    let end = club.find("  [\"500 mm\"").expect("a row");
    insta::assert_snapshot!(told(&format!("{}{}", &club[..start], &club[end..])), @"51:39 [[] the table has 3 rows; expected at least 6, closer together near the base");
}

#[test]
fn heaters_hoses_circuits() {
    insta::assert_snapshot!(changed("burner = \"9.5 kW\"", "burner = \"8.5 kW\""), @r#"86:8 ["ring burner"] two heaters of one name differ; expected the same power and fuel for one heater, or two names"#);
    insta::assert_snapshot!(changed("element = \"2.8 kW\"", "element = \"2.8 kW\", fuel = \"propane\""), @"29:32 [fuel] electric heat burns nothing: element; expected no fuel here");
    insta::assert_snapshot!(changed("from = \"tank\"", "from = \"tnak\""), @r#"125:8 ["tnak"] there is no vessel "tnak"; expected one of "tank", "tun", "kettle", "fermenter""#);
    insta::assert_snapshot!(changed("circuit = \"shed\" }", "circuit = \"barn\" }"), @r#"29:60 ["barn"] there is no circuit "barn"; expected one of "shed""#);
    insta::assert_snapshot!(changed("grain-holds = \"0.95 L/kg ± 0.05 L/kg\"", "grain-holds = \"0.95 L\""), @r#"10:15 ["0.95 L"] "0.95 L" is not a volume for each mass; expected a volume for each kilogram or pound, as "0.95 L/kg" or "0.45 qt/lb""#);
}

/// Several mistakes are told at once.
#[test]
fn several_at_once() {
    let text = good("orchard-shed")
        .replacen("elevation =", "elevatoin =", 1)
        .replacen("\"374 mm ± 1 mm\"", "\"374 L\"", 1)
        .replacen("reaches-pot = \"45 % ± 3 %\"", "reaches-pot = \"145 %\"", 1);
    assert_eq!(told(&text).lines().count(), 3, "{}", told(&text));
}

proptest! {
    /// No text, and no change to a good document, ever panics.
    #[test]
    fn no_text_panics(text in "\\PC*") {
        let _ = read("any", &text);
    }

    #[test]
    fn no_change_panics(at in 0usize..6000, cut in 0usize..40, put in "[\\[\\]{}=\"0-9a-z.\\-± \\n]{0,12}") {
        let text = good("club-barn");
        let floor = |mut i: usize| {
            i = i.min(text.len());
            while !text.is_char_boundary(i) {
                i -= 1;
            }
            i
        };
        let (start, end) = (floor(at), floor(at + cut));
        let _ = read("any", &format!("{}{put}{}", &text[..start], &text[end..]));
    }

    /// Whatever numbers stand in a vessel, reading ends and a good one has a section that rises.
    #[test]
    fn no_number_panics(
        diameter in -10.0f64..8000.0, height in -10.0f64..8000.0, rise in -5.0f64..4000.0,
        base in 0usize..5, angle in -10.0f64..200.0,
    ) {
        let shape = ["flat", "domed up", "domed down", "dished", "cone"][base];
        let text = format!(
            "name = \"x\"\n[vessel.pot]\nplays = [\"liquor\", \"mash\", \"kettle\", \"fermenter\"]\n\
             bag = {{ height = \"0 mm\" }}\n[vessel.pot.inside]\ndiameter = \"{diameter:.3} mm\"\n\
             height = \"{height:.3} mm\"\nbase = \"{shape}\"\nrise = \"{rise:.3} mm\"\nangle = {angle:.3}\n"
        );
        if let Ok(house) = read("any", &text) {
            let section = &house.vessels[0].section;
            let brim_m = section.brim_height_m();
            let mut last = 0.0;
            for i in 1..=50 {
                let volume = section.volume_m3(brim_m * f64::from(i) / 50.0);
                prop_assert!(volume > last, "{text}");
                last = volume;
            }
        }
    }
}
