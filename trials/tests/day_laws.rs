//! Every demo pair: its simulated day closes, is right to what its tolerance promises, and comes
//! out the same to the last bit.
#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use day::ledger::ledger;
use day::procedure::Procedure;
use day::setting::Setting;
use day::simulate::{Options, simulate};
use day::trace::Trace;
use std::path::PathBuf;

fn demo() -> PathBuf {
    PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/../demo"))
}

/// The demo documents, told apart by what can be read from them.
fn pairs() -> Vec<(String, Setting, Procedure)> {
    let mut files: Vec<PathBuf> =
        std::fs::read_dir(demo()).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    let texts: Vec<(String, String)> = files
        .iter()
        .filter(|path| path.extension().is_some_and(|end| end == "toml"))
        .map(|path| {
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            (name, std::fs::read_to_string(path).unwrap())
        })
        .collect();
    let houses: Vec<_> = texts
        .iter()
        .filter_map(|(name, text)| brewhouse::read(name, text).ok().map(|house| (name, house)))
        .collect();
    let brews: Vec<_> = texts
        .iter()
        .filter_map(|(name, text)| brew::read(name, text).ok().map(|brew| (name, brew)))
        .collect();
    assert!(houses.len() >= 5 && brews.len() >= 3, "{} {}", houses.len(), brews.len());
    let mut all = Vec::new();
    for (house_name, house) in &houses {
        for (brew_name, brew) in &brews {
            // a brew that a brewhouse cannot lay out at all has no day
            if let Ok((setting, procedure)) = plan::day_of(house, brew) {
                all.push((format!("{house_name} + {brew_name}"), setting, procedure));
            }
        }
    }
    assert!(all.len() >= 15, "only {} pairs have a day", all.len());
    all
}

/// Place of the temperature among the results.
const TEMPERATURE: usize = 2;

fn run(setting: &Setting, procedure: &Procedure, relative: f64) -> Trace {
    simulate(setting, procedure, &Options { relative, ..Options::default() }).unwrap()
}

/// What the brewer would compare: in the fermenter volume, extract, heat over cold, bitter matter;
/// the mash's two results; when the day ends.
fn results(setting: &Setting, trace: &Trace) -> [f64; 7] {
    let held = trace.end.pots[setting.parts.fermenter];
    let iso_kg: f64 = trace.end.hops.iter().map(|hop| hop[process::isomerise::ISO]).sum();
    let mash = trace.mash_end.unwrap_or_default();
    let temp_c = held.temperature_c(setting.pots[setting.parts.fermenter].lumped_j_k());
    let (conversion, fermentable) = (mash.conversion, mash.fermentable);
    let t_s = trace.end.t_s;
    [held.water_kg, held.extract_kg, temp_c, iso_kg, conversion, fermentable, t_s]
}

#[test]
fn every_demo_day_closes_is_right_and_repeats() {
    for (pair, setting, procedure) in pairs() {
        let coarse = run(&setting, &procedure, Options::default().relative);
        let ledger = ledger(&setting, &coarse);
        for gap in [ledger.water.closure(), ledger.extract.closure(), ledger.energy.closure()] {
            assert!(gap.abs() < 1e-9, "{pair}: {gap:e}");
        }
        let again = results(&setting, &run(&setting, &procedure, Options::default().relative));
        let now = results(&setting, &coarse);
        assert_eq!(now.map(f64::to_bits), again.map(f64::to_bits), "{pair}");
        let fine = results(&setting, &run(&setting, &procedure, 1e-9));
        for (k, (a, b)) in now.iter().zip(&fine).enumerate() {
            // a temperature is sized by the span from freezing to the boil, as the step control does
            let size = if k == TEMPERATURE { 100.0 } else { b.abs().max(1e-4) };
            let error = (a - b).abs() / size;
            assert!(error < 1e-4, "{pair}: number {k} is {a}, with fine steps {b}");
        }
    }
}
