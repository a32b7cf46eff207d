//! Lists and tables of a plan, as every page, sheet and the terminal show them.
//! It decides the order and the words, never a number.

use crate::UnitSystem;
use crate::output::{Aim, Balance, Limit, Nearest, OtherAmount, Plan, Targets};
use crate::respell::{in_units, spoons};
use crate::show::{self, Figure, Wish};
use brewhouse::{Brewhouse, Inside, Part, Screen, Vessel};
use quantity::{Quantity, Stated};

/// The wishes that are wanted, in the order of the pages.
#[must_use]
pub fn aims(targets: &Targets) -> Vec<(Wish, Aim)> {
    let aim = |wish| match wish {
        Wish::Volume => targets.volume_l,
        Wish::Gravity => targets.extract_plato,
        Wish::Bitterness => targets.bitterness_ibu,
        Wish::Fermentability => targets.fermentability_percent,
        Wish::Colour => targets.colour_ebc,
    };
    Wish::ALL.into_iter().filter_map(|wish| Some((wish, aim(wish)?))).collect()
}

/// The expected value lies within the tolerance.
#[must_use]
pub fn lands(aim: &Aim) -> bool {
    // A hair is left for rounding: the planner promises 1e-3 of a value, not the last bit.
    (aim.expected - aim.wanted).abs() <= aim.tolerance * (1.0 + 1e-9) + 1e-9
}

/// What the plan does not fulfil, each as a sentence; empty when it fits.
#[must_use]
pub fn misses(plan: &Plan, units: UnitSystem) -> Vec<String> {
    let wishes =
        aims(&plan.targets).into_iter().filter(|(_, aim)| !lands(aim)).map(|(wish, aim)| {
            format!(
                "{}: {} expected, {} wanted.",
                wish.name(units),
                wish.figure(aim.expected, units),
                wish.figure(aim.wanted, units)
            )
        });
    let limits =
        plan.limits.iter().filter(|limit| !limit.kept).map(|limit| limit_words(limit, units));
    wishes.chain(limits).collect()
}

/// A limit in the reader's units.
#[must_use]
pub fn limit_words(limit: &Limit, units: UnitSystem) -> String {
    in_units(if units == UnitSystem::Us { &limit.words_us } else { &limit.words }, units)
}

/// A nearest plan in the reader's units.
#[must_use]
pub fn near_words(near: &Nearest, units: UnitSystem) -> String {
    in_units(if units == UnitSystem::Us { &near.words_us } else { &near.words }, units)
}

/// Sentences of a plan in the reader's units.
#[must_use]
pub fn in_all(sentences: &[String], units: UnitSystem) -> Vec<String> {
    sentences.iter().map(|words| in_units(words, units)).collect()
}

/// A salt, an acid or another addition, in the reader's unit where it is a mass or a volume.
#[must_use]
pub fn other_amount(other: &OtherAmount, units: UnitSystem) -> Figure {
    match other.unit.as_str() {
        "g" => show::hops(other.amount, units),
        "kg" => show::malt(other.amount, units),
        "L" => show::volume(other.amount, units),
        "mL" if units == UnitSystem::Us => Figure::split(&spoons(other.amount * 1e-6)),
        unit => Figure::plain(other.amount, 1, unit),
    }
}

/// A balance as rows: what came in, what went where, and both sums.
#[derive(Debug, Clone, PartialEq)]
pub struct BalanceRows {
    /// What is balanced: "Extract".
    pub name: &'static str,
    /// The class of its colour: `malt`, `water`, `heat`.
    pub substance: &'static str,
    /// What came in.
    pub came_in: Vec<(String, Figure)>,
    /// Its sum.
    pub came_in_sum: Figure,
    /// Where it went, and its part of all, %.
    pub went: Vec<(String, Figure, f64)>,
    /// Its sum.
    pub went_sum: Figure,
    /// Difference of both over what came in.
    pub closure_relative: f64,
}

/// The three balances of a plan: extract, water, heat.
#[must_use]
pub fn balances(plan: &Plan, units: UnitSystem) -> [BalanceRows; 3] {
    let ledger = &plan.ledger;
    [
        balance("Extract", "malt", &ledger.extract_kg, units, |kg| show::malt(kg, units)),
        balance("Water", "water", &ledger.water_kg, units, |kg| water(kg, units)),
        balance("Heat", "heat", &ledger.energy_j, units, |j| show::heat(j, units)),
    ]
}

/// Water by mass: to 0.1 kg or lb.
fn water(kg: f64, units: UnitSystem) -> Figure {
    match units {
        UnitSystem::Metric => Figure::plain(kg, 1, "kg"),
        UnitSystem::Us => Figure::plain(quantity::Mass::from_kilograms(kg).pounds(), 1, "lb"),
    }
}

fn balance(
    name: &'static str,
    substance: &'static str,
    balance: &Balance,
    units: UnitSystem,
    figure: impl Fn(f64) -> Figure,
) -> BalanceRows {
    let came_in: f64 = balance.came_in.iter().map(|entry| entry.amount).sum();
    let went: f64 = balance.went.iter().map(|entry| entry.amount).sum();
    let part = |amount: f64| if came_in > 0.0 { 100.0 * amount / came_in } else { 0.0 };
    BalanceRows {
        name,
        substance,
        came_in: balance
            .came_in
            .iter()
            .map(|entry| (in_units(&entry.what, units), figure(entry.amount)))
            .collect(),
        came_in_sum: figure(came_in),
        went: balance
            .went
            .iter()
            .map(|entry| (in_units(&entry.what, units), figure(entry.amount), part(entry.amount)))
            .collect(),
        went_sum: figure(went),
        closure_relative: balance.closure_relative,
    }
}

/// What is burnt and drawn from the mains, as label and figure; nothing that is not used.
#[must_use]
pub fn fuel(plan: &Plan, units: UnitSystem) -> Vec<(&'static str, Figure)> {
    let fuel = &plan.fuel;
    let mut rows = Vec::new();
    if fuel.gas_kg > 0.0 {
        rows.push(("Gas", show::mass(fuel.gas_kg, units)));
        rows.push(("Heat of that gas", show::heat(fuel.gas_j, units)));
    }
    if fuel.electricity_kwh > 0.0 {
        rows.push(("Electricity", Figure::plain(fuel.electricity_kwh, 1, "kWh")));
    }
    rows
}

/// The day in a few figures a brewer asks for by name, as label and text.
#[must_use]
pub fn day_it_makes(plan: &Plan, units: UnitSystem) -> Vec<(&'static str, String)> {
    let stones = &plan.milestones;
    let clock = |min| crate::when::clock_in(units, stones.start_clock_min, min);
    let at = |litres, plato| {
        format!("{} at {}", show::volume(litres, units), show::gravity(plato, units))
    };
    let boil_off = show::boil_off(stones.boil_off_kg_h, units);
    let mut rows = vec![
        ("Set up", clock(0.0)),
        ("Dough-in", clock(stones.dough_in_min)),
        ("Mash after dough-in", show::temperature(stones.dough_in_c, units).text()),
        ("Mash pH, cooled", Figure::plain(stones.mash_ph, 2, "").text()),
        ("Conversion", show::percent(stones.conversion_percent).text()),
    ];
    if let Some(min) = stones.iodine_normal_min {
        rows.push(("Iodine normal after", crate::when::duration(min)));
    }
    rows.extend([
        ("First runnings", show::gravity(stones.first_runnings_plato, units).text()),
        ("Last runnings", show::gravity(stones.last_runnings_plato, units).text()),
        ("Bed", show::length(stones.bed_mm, units).text()),
        ("Run-off", show::flow(stones.run_off_l_min, units).text()),
        ("Pre-boil", at(stones.pre_boil_l, stones.pre_boil_plato)),
        ("Boil starts", clock(stones.boil_starts_min)),
        (
            "Boil",
            format!(
                "{} at {}, {} of steam",
                crate::when::duration(stones.boil_min),
                show::temperature(stones.boil_c, units),
                boil_off
            ),
        ),
        ("Knock-out", at(stones.knock_out_l, stones.knock_out_plato)),
        ("Yeast in", clock(stones.pitch_min)),
        ("Cleaned and packed up", clock(stones.end_min)),
        ("The whole day", crate::when::duration(stones.end_min)),
        (
            "Ends near",
            format!(
                "{}, {}",
                show::gravity(stones.final_limit_plato, units),
                Figure::plain(stones.alcohol_limit_percent, 1, "% vol")
            ),
        ),
    ]);
    if stones.chill_water_l > 0.0 {
        rows.push(("Chilling water", show::volume(stones.chill_water_l, units).text()));
    }
    rows
}

/// The inside of a vessel: `Ø 400 × 450 mm`.
#[must_use]
pub fn inside(vessel: &Vessel, units: UnitSystem) -> String {
    let height_mm = 1000.0 * vessel.section.brim_height_m();
    match &vessel.inside {
        Inside::Straight { diameter, .. } => format!(
            "Ø\u{202f}{} × {}",
            show::length(diameter.value.millimetres(), units).number,
            show::length(height_mm, units)
        ),
        Inside::Table { .. } => format!("measured, {} high", show::length(height_mm, units)),
    }
}

/// A vessel as a row of the parts list.
#[derive(Debug, Clone, PartialEq)]
pub struct VesselRow {
    /// Its key, for addresses.
    pub key: String,
    /// Its name.
    pub name: String,
    /// The parts it plays.
    pub plays: String,
    /// Its inside.
    pub inside: String,
    /// Volume to the brim.
    pub brim: Figure,
    /// Wall and base, in words.
    pub wall: String,
    /// What heats it, in words.
    pub heated_by: String,
    /// Height of its stand.
    pub stands_at: Figure,
    /// What was proved, each with its date.
    pub proved: Vec<String>,
}

/// The vessels of a brewhouse, from left to right.
#[must_use]
pub fn vessels(brewhouse: &Brewhouse, units: UnitSystem) -> Vec<VesselRow> {
    crate::picture::in_order(brewhouse)
        .into_iter()
        .map(|vessel| VesselRow {
            key: vessel.key.clone(),
            name: vessel.name.clone(),
            plays: crate::picture::plays(vessel),
            inside: inside(vessel, units),
            brim: show::volume(1000.0 * vessel.section.brim_m3(), units),
            wall: wall(vessel, units),
            heated_by: heated_by(vessel, units),
            stands_at: show::length(vessel.stand.value.millimetres(), units),
            proved: vessel
                .proved
                .iter()
                .map(|proved| format!("{}, {}", proved.what, proved.date))
                .collect(),
        })
        .collect()
}

fn wall(vessel: &Vessel, units: UnitSystem) -> String {
    let layer = |layer: &brewhouse::Layer| {
        let thickness = show::length(layer.thickness.millimetres(), units);
        format!("{} {thickness}", layer.material.name)
    };
    let mut words = layer(&vessel.wall);
    let base: Vec<String> = vessel.base.iter().map(layer).collect();
    if !base.is_empty() {
        words.push_str(&format!("; base {}", base.join(", ")));
    }
    if let Some(insulation) = &vessel.insulation {
        words.push_str(&format!("; wrapped in {}", layer(insulation)));
    }
    words
}

fn heated_by(vessel: &Vessel, units: UnitSystem) -> String {
    vessel.heater.as_ref().map_or_else(
        || "the room".to_owned(),
        |heater| {
            let power = in_units(&quantity::write_stated(&heater.power, units), units);
            match heater.fuel {
                Some(fuel) => format!("{}, {}, {power}", heater.kind.word(), fuel.word()),
                None => format!("{}, {power}", heater.kind.word()),
            }
        },
    )
}

/// One number that is known of a brewhouse.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownRow {
    /// What it is.
    pub what: String,
    /// Value and doubt, as stated, or as assumed.
    pub value: String,
    /// It was stated by the person; otherwise it is assumed.
    pub stated: bool,
    /// Where it comes from, in words.
    pub from: String,
}

/// The numbers of a brewhouse that a tape measure doesn't give, stated and assumed.
#[must_use]
pub fn known(brewhouse: &Brewhouse, units: UnitSystem) -> Vec<KnownRow> {
    let mut rows = Vec::new();
    known_of_place(&mut rows, brewhouse, units);
    for vessel in crate::picture::in_order(brewhouse) {
        known_of_vessel(&mut rows, vessel, units);
    }
    rows
}

fn stated<Q: Quantity>(
    rows: &mut Vec<KnownRow>,
    what: String,
    value: Option<&Stated<Q>>,
    units: UnitSystem,
    assumed: &str,
) {
    rows.push(match value {
        Some(value) => KnownRow {
            what,
            value: in_units(&quantity::write_stated(value, units), units),
            stated: true,
            from: "stated in the document".to_owned(),
        },
        None => {
            KnownRow { what, value: assumed.to_owned(), stated: false, from: "assumed".to_owned() }
        }
    });
}

fn known_of_place(rows: &mut Vec<KnownRow>, brewhouse: &Brewhouse, units: UnitSystem) {
    let air = quantity::write(brewhouse.air(), units);
    stated(rows, "Air round the pots".to_owned(), brewhouse.air.as_ref(), units, &air);
    let humidity = show::percent(100.0 * brewhouse.humidity()).text();
    stated(rows, "Humidity".to_owned(), brewhouse.humidity.as_ref(), units, &humidity);
    let liquor = quantity::write(brewhouse.liquor_comes_at(), units);
    let comes = brewhouse.liquor_comes_at.as_ref();
    stated(rows, "Liquor as it comes".to_owned(), comes, units, &liquor);
    let reserve = quantity::write(brewhouse.reserve(), units);
    stated(rows, "Reserve kept back".to_owned(), brewhouse.reserve.as_ref(), units, &reserve);
}

fn known_of_vessel(rows: &mut Vec<KnownRow>, vessel: &Vessel, units: UnitSystem) {
    let named = |what: &str| format!("{}, {what}", vessel.name);
    let geometry = "from geometry";
    if let Some(Screen::FalseBottom { under, .. }) = &vessel.screen {
        let what = named("under the false bottom");
        stated(rows, what, under.as_ref(), units, geometry);
    }
    if let Some(heater) = &vessel.heater {
        let share = show::percent(100.0 * heater.share()).text();
        let what = named("heat that reaches the pot");
        stated(rows, what, heater.reaches_pot.as_ref(), units, &share);
    }
    if let Some(valve) = vessel.outlet() {
        stated(rows, named("valve flow, wide open"), valve.flow.as_ref(), units, geometry);
        let left = vessel.left_behind.as_ref();
        stated(rows, named("left behind when drained"), left, units, geometry);
    }
    if vessel.plays(Part::Mash) {
        stated(rows, named("heat through the walls"), vessel.walls.as_ref(), units, geometry);
        stated(rows, named("heat held by the metal"), vessel.metal.as_ref(), units, geometry);
    }
    if vessel.plays(Part::Kettle) {
        let trub = vessel.trub_and_hops.as_ref();
        stated(rows, named("left in trub and hops"), trub, units, "from the hops");
    }
    if let Some(dial) = &vessel.thermometer {
        let what = named("thermometer shows more by");
        stated(rows, what, dial.bias.as_ref(), units, "nothing");
    }
}
