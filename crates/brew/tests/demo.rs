//! Every demo brew is read, keeps its numbers, and satisfies the JSON Schema.

use std::path::{Path, PathBuf};

use brew::{
    Brew, GristAmount, HopAmount, Limit, Reach, RestName, SpargeHow, When, read_file, schema,
};

const DEMOS: [&str; 5] =
    ["windfall-amber", "cellar-lamp", "morning-slate", "sill-pale", "threshing-gold"];

fn path(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo").join(format!("{name}.toml"))
}

fn demo(name: &str) -> Brew {
    match read_file(&path(name)) {
        Ok(read) => {
            assert!(read.notes.is_empty(), "{}", read.notes);
            read.brew
        }
        Err(findings) => panic!("{findings}"),
    }
}

#[test]
fn every_demo_is_read_and_wants_all_five() {
    for name in DEMOS {
        let brew = demo(name);
        assert!(brew.wanted.bitterness.is_some(), "{name}");
        assert!(brew.wanted.limit.is_some() && brew.wanted.colour.is_some(), "{name}");
    }
}

#[test]
fn every_demo_satisfies_the_schema() {
    let validator = jsonschema::validator_for(&schema()).unwrap();
    for name in DEMOS {
        let text = std::fs::read_to_string(path(name)).unwrap();
        let toml: toml::Value = toml::from_str(&text).unwrap();
        let value = serde_json::to_value(toml).unwrap();
        let errors: Vec<_> =
            validator.iter_errors(&value).map(|e| format!("{}: {e}", e.instance_path())).collect();
        assert!(errors.is_empty(), "{name}: {errors:#?}");
    }
}

#[test]
fn windfall_amber_is_what_was_drawn() {
    let brew = demo("windfall-amber");
    let wanted = &brew.wanted;
    assert!((wanted.volume.value.litres() - 21.0).abs() < 1e-9);
    assert!((wanted.volume.tolerance - 1e-3).abs() < 1e-12);
    assert!((wanted.gravity.value.plato() - 12.6).abs() < 1e-9);
    assert!((wanted.gravity.tolerance - 0.005).abs() < 1e-9);
    assert!((wanted.bitterness.unwrap().value.ibu() - 32.0).abs() < 1e-9);
    assert!(matches!(wanted.limit, Some(Limit::Fermentability(t)) if t.tolerance == 0.05));
    assert!((wanted.colour.unwrap().value.ebc() - 19.0).abs() < 1e-9);
    let shares: Vec<_> = brew
        .grist
        .iter()
        .map(|item| match &item.amount {
            GristAmount::Share(share) => share.value.percent().round(),
            other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(shares, [83.0, 8.0, 5.0, 4.0]);
    let rests: Vec<_> = brew
        .rests
        .iter()
        .map(|r| (r.at.value.celsius().round(), r.length.value.minutes().round(), r.at.about))
        .collect();
    assert_eq!(rests, [(63.0, 35.0, true), (72.0, 25.0, true), (77.0, 5.0, true)]);
    assert_eq!(brew.rests[0].by, Reach::Strike);
    assert_eq!(brew.rests[2].by, Reach::Fire);
    assert_eq!(brew.rests[2].name, Some(RestName::MashOut));
    assert_eq!(brew.sparge.how, SpargeHow::Continuous);
    let gives: f64 = brew
        .hops
        .iter()
        .map(|h| if let HopAmount::Gives(g) = &h.amount { g.value.ibu() } else { 0.0 })
        .sum();
    assert!((gives - 32.0).abs() < 1e-9);
    assert!(matches!(brew.hops[2].add, When::Stand { at, .. } if at.celsius().round() == 84.0));
}

/// Wishes in US units and the finish as a final gravity.
#[test]
fn other_ways_to_wish() {
    let slate = demo("morning-slate");
    assert!((slate.wanted.gravity.value.specific_gravity() - 1.044).abs() < 1e-9);
    assert_eq!(slate.sparge.how, SpargeHow::Drains(1));
    assert_eq!(slate.rests[1].by, Reach::HotLiquor);
    let thickness = slate.mash.thickness.unwrap();
    assert!(thickness.about && (thickness.m3_kg * 1e3 - 2.504).abs() < 0.001);
    let lamp = demo("cellar-lamp");
    assert!(matches!(lamp.wanted.limit, Some(Limit::FinalGravity(_))));
    assert_eq!(lamp.grist[0].amount, GristAmount::Rest);
    assert_eq!(lamp.hops[1].amount, HopAmount::Rest);
    assert_eq!(lamp.additions[0].what, "invert sugar syrup");
}
