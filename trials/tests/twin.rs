//! A whole demo day against an independent integration of the same equations by SciPy: every time,
//! every mass, every temperature and every balance to 1e-4.
//!
//! Knows no equation; `reference/scripts/day_twin.py` writes them again.

#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use day::ledger::{Balance, ledger};
use day::setting::Setting;
use day::simulate::{Options, simulate};
use day::state::{Mash, State, total};
use day::trace::Trace;
use process::bed::{self, CELLS};
use std::collections::BTreeMap;
use trials::frozen;

/// What the program says for each row, by the row's id.
type Said = BTreeMap<String, f64>;

fn say_operations(said: &mut Said, ids: &[String], trace: &Trace) {
    for (id, times) in ids.iter().zip(&trace.operations) {
        said.insert(format!("start {id}"), times.start_s);
        said.insert(format!("end {id}"), times.end_s);
    }
}

fn say_pots(said: &mut Said, setting: &Setting, state: &State) {
    for (i, (pot, held)) in setting.pots.iter().zip(&state.pots).enumerate() {
        let mut say = |what: &str, value: f64| said.insert(format!("{} {what}", pot.key), value);
        if i != setting.parts.mash {
            say("temperature", held.temperature_c(pot.lumped_j_k()));
        }
        say("water", held.water_kg);
        say("extract", held.extract_kg);
        if pot.has_own_base() {
            say("base", held.base_j);
        }
    }
}

fn say_mash(said: &mut Said, trace: &Trace) {
    let end = trace.mash_end.unwrap();
    let mut say = |what: &str, value: f64| said.insert(what.to_owned(), value);
    say("mash conversion", end.conversion);
    say("mash fermentable", end.fermentable);
    say("mash temperature", end.temp_c);
    say("mash strength", end.plato);
    say("iodine normal", trace.iodine_normal_s.unwrap());
    let Mash::Bed(held) = &trace.end.mash else { panic!("the day leaves no bed") };
    let y = &held.y;
    say("bed free extract", y[bed::FREE_EXTRACT]);
    say("bed free water", y[bed::FREE_WATER]);
    say("bed free heat", y[bed::FREE_HEAT]);
    for i in 0..CELLS {
        say(&format!("bed mobile extract {}", i + 1), y[bed::MOBILE + i]);
        say(&format!("bed held extract {}", i + 1), y[bed::HELD + i]);
        say(&format!("bed cell heat {}", i + 1), y[bed::CELL_HEAT + i]);
    }
    say("bed mobile share", y[bed::MOBILE_SHARE]);
    say("bed under extract", y[bed::UNDER_EXTRACT]);
    say("bed under heat", y[bed::UNDER_HEAT]);
    say("bed under share", y[bed::UNDER_SHARE]);
    say("bed late extract", y[bed::REST]);
}

fn say_totals(said: &mut Said, state: &State) {
    for (k, pools) in state.hops.iter().enumerate() {
        let names = ["alpha in the hops", "alpha", "iso-alpha", "degraded"];
        for (name, kg) in names.iter().zip(pools) {
            said.insert(format!("hop {} {name}", k + 1), *kg);
        }
    }
    for (name, at) in [
        ("vapour_kg", total::VAPOUR_KG),
        ("vapour_j", total::VAPOUR_J),
        ("wall_j", total::WALL_J),
        ("surface_j", total::SURFACE_J),
        ("flame_j", total::FLAME_J),
        ("fuel_j", total::FUEL_J),
        ("electric_j", total::ELECTRIC_J),
        ("drawn_j", total::DRAWN_J),
        ("chill_j", total::CHILL_J),
        ("chill_kg", total::CHILL_KG),
        ("browned_ebc_m3", total::BROWNED_EBC_M3),
        ("bound_kg", total::BOUND_KG),
        ("tap_kg", total::TAP_KG),
        ("tap_j", total::TAP_J),
    ] {
        said.insert(format!("total {name}"), state.totals[at]);
    }
}

fn say_balance(said: &mut Said, name: &str, balance: &Balance) {
    for (side, entries) in [("in", &balance.came_in), ("out", &balance.went)] {
        for (what, value) in entries {
            said.insert(format!("ledger {name} {side}: {what}"), *value);
        }
    }
}

/// Everything the program says of a frozen day.
fn says(name: &str, options: &Options) -> Said {
    let text = std::fs::read_to_string(frozen::folder().join(format!("{name}.json"))).unwrap();
    let (setting, procedure) = frozen::read(&serde_json::from_str(&text).unwrap()).unwrap();
    let trace = simulate(&setting, &procedure, options).unwrap();
    assert!(trace.caveats.is_empty(), "{:?}", trace.caveats);
    let ids: Vec<String> = procedure.operations.iter().map(|o| o.id.clone()).collect();
    let mut said = Said::new();
    say_operations(&mut said, &ids, &trace);
    say_pots(&mut said, &setting, &trace.end);
    say_mash(&mut said, &trace);
    say_totals(&mut said, &trace.end);
    let balances = ledger(&setting, &trace);
    say_balance(&mut said, "water", &balances.water);
    say_balance(&mut said, "extract", &balances.extract);
    say_balance(&mut said, "energy", &balances.energy);
    said
}

/// Holds every row of a twin's table against what the program says, and the other way round.
fn check(name: &str, options: &Options) {
    let mut said = says(name, options);
    let mut table = csv::Reader::from_path(frozen::folder().join(format!("{name}.csv"))).unwrap();
    let (mut rows, mut bad) = (0, Vec::new());
    for row in table.records() {
        let row = row.unwrap();
        let number = |column: usize| row[column].parse::<f64>().unwrap();
        let (id, expected, tolerance) = (&row[0], number(2), number(4));
        let got = said.remove(id).unwrap_or_else(|| panic!("nothing answers `{id}`"));
        rows += 1;
        let off = (got - expected).abs() / tolerance;
        if off.is_nan() || off > 1.0 {
            bad.push((off, format!("{id}: {got:.9e}, twin {expected:.8e} {}: {off:.2}", &row[3])));
        }
    }
    bad.sort_by(|a, b| b.0.total_cmp(&a.0));
    let bad: Vec<String> = bad.into_iter().map(|(_, words)| words).collect();
    assert!(bad.is_empty(), "{} of {rows} rows off:\n{}", bad.len(), bad.join("\n"));
    assert!(said.is_empty(), "the twin says nothing of {:?}", said.keys());
    assert!(rows > 150, "only {rows} rows");
}

#[test]
fn the_demo_day_agrees_with_its_twin() {
    check("windfall-amber", &Options::default());
}

/// A tenth of the tolerance of the step: what is left is the tables and the bases' short cut.
#[test]
fn finer_steps_agree_as_well() {
    check("windfall-amber", &Options { relative: 1e-8, ..Options::default() });
}
