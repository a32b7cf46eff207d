//! What a person is told about a brew document that can't be meant.
//!
//! Each case is a good document with one thing changed, or a text of its own; the answer is each
//! finding with line, column, what is wrong, what was expected.

use std::fmt::Write as _;
use std::path::Path;

use brew::read;
use proptest::prelude::*;

fn good(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/good");
    std::fs::read_to_string(path.join(format!("{name}.toml"))).expect("the file is there")
}

/// All findings, one a line.
fn told(text: &str) -> String {
    let mut told = String::new();
    match read("brew.toml", text) {
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

/// What is told about the Windfall Amber with one text replaced.
fn changed(from: &str, to: &str) -> String {
    let text = good("windfall-amber");
    assert!(text.contains(from), "{from}");
    told(&text.replacen(from, to, 1))
}

#[test]
fn empty_binary_and_huge_files() {
    insta::assert_snapshot!(told(""), @r#"1:1 [] the file is empty; expected at least "name", "wanted", "grist", "rest""#);
    insta::assert_snapshot!(told("name = \"x\"\0"), @"1:1 [] the file is binary, not text; expected text in UTF-8");
    insta::assert_snapshot!(told(&"# nothing\n".repeat(10_000_000)), @"1:1 [] the file is too large (100000000 bytes); expected at most 1 MiB, written by hand");
}

#[test]
fn a_gravity_of_forty_plato() {
    insta::assert_snapshot!(changed("\"12.6 °P ± 0.5 °P\"", "\"40 °P\""), @r#"8:11 ["40 °P"] no wort is as strong as this; expected at most 30.0 °P: wort is computed that far"#);
    insta::assert_snapshot!(changed("\"12.6 °P ± 0.5 °P\"", "\"12.6\""), @r#"8:12 [12.6] the number 12.6 without a unit; expected a gravity in °P, SG, points, as "12.6 °P"; perhaps "12.6 °P" or "12.6 points""#);
    insta::assert_snapshot!(changed("\"12.6 °P ± 0.5 °P\"", "\"0 °P\""), @r#"8:11 ["0 °P"] this is water, not wort; expected at least 1 °P"#);
}

#[test]
fn a_rest_above_boiling() {
    insta::assert_snapshot!(changed("\"about 77 °C\"", "\"105 °C\""), @r#"58:6 ["105 °C"] this rest is above boiling; expected below 100.0 °C, where water boils at the sea"#);
    insta::assert_snapshot!(changed("\"about 77 °C\"", "\"about 70 °C\""), @r#"58:6 ["about 70 °C"] this rest is not warmer than the one before it; expected rests that rise: a mash is not cooled"#);
    insta::assert_snapshot!(changed("by = \"fire\"", ""), @r#"52:6 ["about 72 °C"] how is this rest reached?; expected by = "fire", "hot liquor", "decoction" or "thin decoction""#);
    insta::assert_snapshot!(changed("\"about 77 °C\"", "\"77 C\""), @"nothing wrong");
}

#[test]
fn hops_without_alpha() {
    insta::assert_snapshot!(changed("alpha = \"7.8 %\"", "alpha = \"0 %\""), @r#"76:9 ["0 %"] hops without alpha acids give no bitterness; expected alpha above 0 %, or an amount in grams"#);
    insta::assert_snapshot!(changed("gives = \"17 IBU\"", "gives = \"40 IBU\""), @r#"9:14 ["32 IBU ± 8 IBU"] the hops are to give 55 IBU together; expected the same sum as the wish, or one hop without amount, gives and share"#);
    insta::assert_snapshot!(changed("gives = \"17 IBU\"", "amount = \"0 g\""), @r#"78:10 ["0 g"] no hops at all; expected more than 0 g"#);
    insta::assert_snapshot!(changed("\"15 min before the end\"", "\"90 min before the end\""), @r#"84:7 ["90 min before the end"] this is longer than the boil; expected at most 1 h 00, or "start of boil""#);
    insta::assert_snapshot!(changed("\"15 min before the end\"", "\"15 min\""), @r#"84:7 ["15 min"] when is "15 min"?; expected "mash", "first wort", "start of boil", "15 min before the end", "flame out", "stand at 84 °C", "pitch" or "dry"; perhaps "15 min before the end""#);
    insta::assert_snapshot!(changed("\"start of boil\"", "\"dry\""), @r#"
        9:14 ["32 IBU ± 8 IBU"] the hops are to give 15 IBU together; expected the same sum as the wish, or one hop without amount, gives and share
        77:7 ["dry"] hops in the fermenter give no counted bitterness; expected amount = "30 g" beside it
        "#);
    insta::assert_snapshot!(changed("for = \"10 min\"\n", ""), @r#"91:7 ["stand at 84 °C"] how long is this stand?; expected for = "20 min" beside it"#);
}

#[test]
fn shares_that_do_not_come_to_a_hundred() {
    insta::assert_snapshot!(changed("\"about 83 %\"", "\"80 %\""), @r#"32:9 ["4 %"] the shares come to 97.0000 %, not 100 %; expected shares that come to 100 %, or one malt without a share"#);
    insta::assert_snapshot!(changed("share = \"about 83 %\"", "mass = \"4 kg\""), @"17:1 [mass] masses and shares in one grist; expected all malts by mass, or all by share");
    insta::assert_snapshot!(changed("share = \"about 83 %\"", "mass = \"0 kg\""), @r#"17:8 ["0 kg"] no malt at all; expected more than 0 kg, or leave the malt out"#);
    insta::assert_snapshot!(changed("\"pale malt\"", "\"pail malt\""), @r#"16:8 ["pail malt"] the word "pail malt" is not known here; expected one of "pilsner malt", "pale malt", "vienna malt", "munich malt", "munich malt dark", "wheat malt", "rye malt", "oat malt", "smoked malt", "six-row pale malt", "melanoidin malt", "amber malt", "brown malt", "caramel malt pale", "caramel malt medium", "caramel malt dark", "dextrin malt", "chocolate malt", "black malt", "roasted barley", "flaked barley", "flaked oats", "flaked wheat", "flaked maize", …; perhaps "pale malt""#);
}

#[test]
fn nothing_to_mash() {
    insta::assert_snapshot!(told("name = \"x\"\n[wanted]\nvolume = \"20 L\"\ngravity = 1.050\n"), @r#"
        1:1 [] the key "grist" is missing; expected grist: one or more tables in [[ ]] with "malt", "name", "share", "mass", "certificate"
        1:1 [] the key "rest" is missing; expected rest: one or more tables in [[ ]] with "name", "at", "for", "by", "boil"
        1:1 [] there is no rest; expected at least one table [[rest]] with at and for
        "#);
    insta::assert_snapshot!(
        told("name = \"x\"\ngrist = []\nrest = []\n[wanted]\nvolume = \"-20 L\"\ngravity = 1.050\n"),
        @"5:11 [-20 L] a volume below nothing; expected a volume between 0 and 10000000 L"
    );
}

#[test]
fn unknown_keys_and_double_wishes() {
    insta::assert_snapshot!(changed("bitterness =", "bitternes ="), @r#"9:1 [bitternes] the key "bitternes" is not known here; expected one of "volume", "gravity", "bitterness", "fermentability", "final-gravity", "colour"; perhaps "bitterness""#);
    insta::assert_snapshot!(changed("colour = \"19", "final-gravity = \"3 °P\"\ncolour = \"19"), @"11:1 [final-gravity] the same wish stands twice; expected one of fermentability, final-gravity");
    insta::assert_snapshot!(changed("\"19 EBC ± 3 EBC\"", "\"1e300 EBC\""), @"11:11 [1e300 EBC] a colour that can't be; expected a colour between 0 and 10000 EBC");
    insta::assert_snapshot!(changed("\"21 L ± 1 L\"", "nan"), @r#"7:10 [nan] "nan" where a number should be; expected a volume in L, gal, qt, mL, as "21 L""#);
}

proptest! {
    /// No text, and no change to a good document, ever panics.
    #[test]
    fn no_text_panics(text in "\\PC*") {
        let _ = read("any", &text);
    }

    #[test]
    fn no_change_panics(at in 0usize..3000, cut in 0usize..40, put in "[\\[\\]{}=\"0-9a-z.\\-± \\n]{0,12}") {
        let text = good("windfall-amber");
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
}
