//! What the numbers of a brewhouse mean together: heights against brims, parts against vessels.
//!
//! Finds what can't be, at the text that says so; whether a brew fits is the planner's to say.

use document::{Findings, Span, Table};
use quantity::{Length, UnitSystem, Volume, write};

use crate::brewhouse::Brewhouse;
use crate::heater::HeaterKind;
use crate::read::valve_tables;
use crate::vessel::{Part, Screen, Vessel};

/// Judges a whole brewhouse.
pub(crate) fn brewhouse(brewhouse: &Brewhouse, root: &Table, findings: &mut Findings) {
    let tables: Vec<_> = root.named("vessel").map(|(key, table)| (key.span, table)).collect();
    for (vessel, (_, table)) in brewhouse.vessels.iter().zip(&tables) {
        heights(vessel, table, brewhouse.units, findings);
        screens(vessel, table, brewhouse.units, findings);
    }
    parts(brewhouse, root, &tables, findings);
    heaters(brewhouse, root, &tables, findings);
    hoses(brewhouse, root, findings);
    if brewhouse.place.is_windy() && !root.has("place") {
        let flame = brewhouse
            .vessels
            .iter()
            .any(|v| v.heater.as_ref().is_some_and(|h| h.kind == HeaterKind::Burner));
        if flame {
            findings
                .note(root.key_place("name"), "place is left out: taken as outdoors")
                .expected("place = \"outdoors\"; a burner is never lit indoors");
        }
    }
}

/// Nothing may stand above the brim, and no two valves at one height.
fn heights(vessel: &Vessel, table: &Table, units: UnitSystem, findings: &mut Findings) {
    let brim = Length::from_metres(vessel.section.brim_height_m());
    let below_brim = format!("under the brim, {}", write(brim, units));
    let mut check = |table: &Table, key: &str, what: &str| {
        if let Some(height) = table.quantity::<Length>(key)
            && height.value.value >= brim
        {
            findings
                .error(height.span, format!("{what} is above the brim"))
                .expected(below_brim.clone());
        }
    };
    let valves = valve_tables(table);
    for valve in &valves {
        check(valve, "height", "this valve");
        check(valve, "dip-tube", "the end of this dip tube");
    }
    let inner = [
        ("false-bottom", "height", "the false bottom"),
        ("manifold", "height", "the manifold"),
        ("bag", "height", "the bag"),
        ("thermometer", "height", "the thermometer"),
        ("heater", "height", "the element"),
    ];
    for (group, key, what) in inner {
        if let Some(inner) = table.table(group) {
            check(inner, key, what);
        }
    }
    check(table, "least-level", "the least level");
    for (i, valve) in valves.iter().enumerate() {
        let height = |t: &Table| t.quantity::<Length>("height");
        let Some(mine) = height(valve) else { continue };
        let same = valves[..i]
            .iter()
            .filter_map(|t| height(t))
            .find(|other| (other.value.value.metres() - mine.value.value.metres()).abs() < 1e-4);
        if let Some(other) = same {
            findings
                .error(mine.span, "two valves of this vessel are at one height")
                .expected("each valve at its own height, measured from the lowest point inside")
                .also(other.span, "the other one");
        }
    }
}

/// What holds the grain must fit the inside; a tun needs one.
fn screens(vessel: &Vessel, table: &Table, units: UnitSystem, findings: &mut Findings) {
    if vessel.plays(Part::Mash) && vessel.screen.is_none() {
        let broken = ["false-bottom", "manifold", "bag"].into_iter().any(|k| table.has(k));
        if !broken {
            findings
                .error(table.span, format!("nothing holds the grain back in \"{}\"", vessel.key))
                .expected("a false-bottom, a manifold or a bag, with its height");
        }
    }
    let Some(Screen::FalseBottom { height, under: Some(under) }) = &vessel.screen else { return };
    let geometry_m3 = vessel.section.volume_m3(height.value.metres());
    let stated_m3 = under.value.cubic_metres();
    if stated_m3 > 1.5 * geometry_m3 || stated_m3 < 0.5 * geometry_m3 {
        let place = table.table("false-bottom").map_or(table.span, |t| t.place("under"));
        let room = write(Volume::from_cubic_metres(geometry_m3), units);
        findings
            .error(place, "so much does not fit under this false bottom")
            .expected(format!("about {room}, by diameter and height"));
    }
}

/// Each part is played once.
fn parts(brewhouse: &Brewhouse, root: &Table, tables: &[(Span, &Table)], findings: &mut Findings) {
    for part in Part::ALL {
        let playing: Vec<usize> =
            (0..brewhouse.vessels.len()).filter(|&i| brewhouse.vessels[i].plays(part)).collect();
        let name = part.vessel_name().to_lowercase();
        match playing[..] {
            [] => {
                findings.error(root.key_place("vessel"), format!("there is no {name}")).expected(
                    format!(
                        "a vessel with plays = [\"{}\"]; one pot may play several parts",
                        part.key()
                    ),
                );
            }
            [first, second, ..] => {
                findings
                    .error(tables[second].0, format!("two vessels play \"{}\"", part.key()))
                    .expected("each part played by one vessel")
                    .also(tables[first].0, "the other one");
            }
            [_] => {}
        }
    }
}

/// Shared heaters agree, elements lie in the pot, circuits are known.
fn heaters(
    brewhouse: &Brewhouse,
    root: &Table,
    tables: &[(Span, &Table)],
    findings: &mut Findings,
) {
    for (i, vessel) in brewhouse.vessels.iter().enumerate() {
        let (Some(heater), Some(table)) = (&vessel.heater, tables[i].1.table("heater")) else {
            continue;
        };
        if heater.kind == HeaterKind::Element && !table.has("height") {
            findings
                .error(table.span, "how high does the element lie?")
                .expected("height = \"42 mm\": it must be covered before it is switched on");
        }
        for (other, (key, other_table)) in brewhouse.vessels.iter().zip(tables).take(i) {
            let Some(first) = &other.heater else { continue };
            if !brewhouse.share_a_heater(vessel, other) {
                continue;
            }
            if first.kind != heater.kind || first.power != heater.power || first.fuel != heater.fuel
            {
                let also = other_table.table("heater").map_or(*key, |t| t.span);
                findings
                    .error(table.place("name"), "two heaters of one name differ")
                    .expected("the same power and fuel for one heater, or two names")
                    .also(also, "the other one");
            }
        }
        if let Some(circuit) = table.text("circuit") {
            known_circuit(brewhouse, circuit.value, circuit.span, findings);
        }
    }
    if let Some(circuit) = root.table("pump").and_then(|t| t.text("circuit")) {
        known_circuit(brewhouse, circuit.value, circuit.span, findings);
    }
}

fn known_circuit(brewhouse: &Brewhouse, name: &str, span: Span, findings: &mut Findings) {
    let known: Vec<_> = brewhouse.circuits.iter().map(|c| c.name.as_str()).collect();
    if !known.contains(&name) {
        findings
            .error(span, format!("there is no circuit \"{name}\""))
            .expected(one_of(&known, "a table [[circuit]] with its name and what it carries"));
    }
}

/// Hoses lead from vessel to vessel.
fn hoses(brewhouse: &Brewhouse, root: &Table, findings: &mut Findings) {
    let known: Vec<_> = brewhouse.vessels.iter().map(|v| v.key.as_str()).collect();
    for hose in root.tables("hose") {
        for key in ["from", "to"] {
            if let Some(end) = hose.text(key)
                && !known.contains(&end.value)
            {
                findings
                    .error(end.span, format!("there is no vessel \"{}\"", end.value))
                    .expected(one_of(&known, "the key of a vessel"));
            }
        }
    }
}

fn one_of(known: &[&str], none: &str) -> String {
    if known.is_empty() {
        return none.to_owned();
    }
    let list: Vec<_> = known.iter().map(|k| format!("\"{k}\"")).collect();
    format!("one of {}", list.join(", "))
}
