//! A brewhouse, a brew and a plan built by hand, for the tests of the faces. Nothing of it ships.

#![allow(missing_docs, clippy::unwrap_used)]

use crate::output::*;
use crate::planning::Planned;
use ::brewhouse::Brewhouse;
use brew::Brew;
use serde_json::json;

pub fn brewhouse() -> Brewhouse {
    brewhouse::read("orchard-shed.toml", crate::demo_brewhouses()[0].text).unwrap()
}

pub fn brew() -> Brew {
    brew::read("windfall-amber.toml", crate::demo_brews()[0].text).unwrap()
}

fn step(
    id: &str,
    vessel: &str,
    operation: Operation,
    part: DayPart,
    span_min: (f64, f64),
    words: &str,
) -> Step {
    Step {
        id: id.to_owned(),
        vessel: vessel.to_owned(),
        operation,
        part,
        starts_min: span_min.0,
        after: Vec::new(),
        set: serde_json::Map::new(),
        ends_when: EndsWhen {
            kind: EndKind::Time,
            value: Some(span_min.1 - span_min.0),
            unit: Some("min".into()),
        },
        ends_min: span_min.1,
        expected: Vec::new(),
        cautions: Vec::new(),
        words: words.to_owned(),
        words_us: format!("{words} (US)"),
    }
}

fn expect(step: &mut Step, instrument: &str, quantity: &str, value: f64, unit: &str) {
    step.expected.push(Expected {
        instrument: instrument.into(),
        quantity: quantity.into(),
        value,
        unit: unit.into(),
    });
}

fn steps() -> Vec<Step> {
    use DayPart as D;
    use Operation as O;
    let mut list = vec![
        step(
            "set-up",
            "brewhouse",
            O::SetUp,
            D::BeforeHeating,
            (0.0, 40.0),
            "Set up outdoors, pots level, hoses clamped, valves shut.",
        ),
        step(
            "fill",
            "tank",
            O::Fill,
            D::BeforeHeating,
            (40.0, 42.0),
            "Fill the tank cold: 32.0\u{202f}L. Keep 4.0\u{202f}L back.",
        ),
        step(
            "heat",
            "tank",
            O::Heat,
            D::BeforeHeating,
            (42.0, 91.0),
            "Lid on. Element on: it stands 42\u{202f}mm up and must never be bare.",
        ),
        step(
            "strike",
            "tank",
            O::Transfer,
            D::Mash,
            (91.0, 95.0),
            "At 72.5\u{202f}°C open the valve slowly: 15.0\u{202f}L into the tun.",
        ),
        step(
            "dough-in",
            "tun",
            O::DoughIn,
            D::Mash,
            (95.0, 97.0),
            "Stir in 4.90\u{202f}kg, two minutes, no dry lumps. Lid on.",
        ),
        step("rest-1", "tun", O::Rest, D::Mash, (97.0, 132.0), "Leave it at 63.0\u{202f}°C."),
        step(
            "fire-1",
            "tun",
            O::Fire,
            D::Mash,
            (132.0, 146.0),
            "Lid off. Flame to the mash line, stir. Out at 71.4\u{202f}°C.",
        ),
        step("rest-2", "tun", O::Rest, D::Mash, (146.0, 170.0), "Leave it at 72.0\u{202f}°C."),
        step(
            "vorlauf",
            "tun",
            O::Recirculate,
            D::RunOff,
            (170.0, 181.0),
            "Recirculate (vorlauf) 11\u{202f}min at 0.80\u{202f}L/min until clear.",
        ),
        step(
            "run-off",
            "tun",
            O::RunOff,
            D::RunOff,
            (181.0, 226.0),
            "Hose end into the kettle. Run off at 0.62\u{202f}L/min.",
        ),
        step(
            "sparge",
            "tank",
            O::Sparge,
            D::RunOff,
            (182.0, 209.0),
            "Open the liquor valve slowly: 16.5\u{202f}L at 78.5\u{202f}°C.",
        ),
        step(
            "boil",
            "kettle",
            O::Boil,
            D::Boil,
            (240.0, 300.0),
            "Lid off, and off for the whole boil. Kettle burner full.",
        ),
        step(
            "hop-1",
            "kettle",
            O::Hop,
            D::Boil,
            (240.0, 240.0),
            "22\u{202f}g bittering hop into the boil.",
        ),
        step("hop-2", "kettle", O::Hop, D::Boil, (285.0, 285.0), "28\u{202f}g spicy hop."),
        step(
            "chill",
            "kettle",
            O::Chill,
            D::ChillAndPitch,
            (315.0, 340.0),
            "Chilling water on. Drain hose fixed: it scalds.",
        ),
        step(
            "settle",
            "kettle",
            O::Settle,
            D::ChillAndPitch,
            (332.0, 340.0),
            "Stop moving the wort: let the trub settle.",
        ),
        step(
            "pitch",
            "fermenter",
            O::Pitch,
            D::ChillAndPitch,
            (357.0, 357.0),
            "Yeast in. Lid, airlock.",
        ),
        step(
            "clean",
            "brewhouse",
            O::Clean,
            D::Close,
            (370.0, 435.0),
            "Grain out. Rinse, wash and drain everything. Gas bottle shut.",
        ),
    ];
    expect(&mut list[1], "tank dip", "dip", 314.0, "mm");
    expect(&mut list[3], "tank dial", "temperature", 72.5, "°C");
    expect(&mut list[3], "tank dip", "dip", 167.0, "mm");
    expect(&mut list[5], "tun dial", "temperature", 63.5, "°C");
    expect(&mut list[9], "kettle dip", "dip", 222.0, "mm");
    expect(&mut list[9], "hydrometer", "gravity", 10.3, "°P");
    for (index, celsius) in [(5, 63.0), (7, 72.0)] {
        list[index].set.insert("temperature_c".into(), json!(celsius));
    }
    list[12].set.insert("hop_g".into(), json!(22.0));
    list[13].set.insert("hop_g".into(), json!(28.0));
    list[4].cautions.push(CautionText {
        id: "weight".into(),
        strength: "caution".into(),
        words: "The tank holds 32\u{202f}kg at 72.5\u{202f}°C, 1.1\u{202f}m up. Do not shift it."
            .into(),
        words_us: "The tank holds 70\u{202f}lb at 162\u{202f}°F, 43\u{202f}in up. Do not shift it."
            .into(),
    });
    list
}

fn points(rows: &[(f64, f64, Option<f64>, f64)]) -> Vec<Point> {
    rows.iter()
        .map(|(min, volume_l, temperature_c, level_mm)| Point {
            min: *min,
            volume_l: *volume_l,
            temperature_c: *temperature_c,
            level_mm: *level_mm,
        })
        .collect()
}

fn aim(wanted: f64, tolerance: f64, expected: f64) -> Option<Aim> {
    Some(Aim { wanted, tolerance, expected })
}

fn entries(rows: &[(&str, f64)]) -> Vec<Entry> {
    rows.iter().map(|(what, amount)| Entry { what: (*what).into(), amount: *amount }).collect()
}

fn balance(came_in: &[(&str, f64)], went: &[(&str, f64)]) -> Balance {
    Balance { came_in: entries(came_in), went: entries(went), closure_relative: 1e-12 }
}

fn curves() -> Vec<Curve> {
    let curve = |vessel: &str, rows| Curve { vessel: vessel.into(), points: points(rows) };
    vec![
        curve(
            "tank",
            &[
                (0.0, 0.0, None, 0.0),
                (40.0, 0.0, None, 0.0),
                (42.0, 32.0, Some(12.0), 314.0),
                (91.0, 32.6, Some(72.5), 320.0),
                (95.0, 17.6, Some(72.0), 167.0),
                (182.0, 17.6, Some(78.5), 167.0),
                (209.0, 1.0, Some(78.0), 10.0),
                (435.0, 1.0, None, 10.0),
            ],
        ),
        curve(
            "tun",
            &[
                (0.0, 0.0, None, 0.0),
                (91.0, 0.0, None, 0.0),
                (95.0, 15.0, Some(71.0), 119.0),
                (97.0, 18.3, Some(63.0), 146.0),
                (132.0, 18.3, Some(62.5), 146.0),
                (146.0, 18.2, Some(72.0), 145.0),
                (181.0, 18.0, Some(71.5), 143.0),
                (209.0, 17.0, Some(74.0), 135.0),
                (226.0, 9.0, Some(74.0), 72.0),
                (435.0, 9.0, None, 72.0),
            ],
        ),
        curve(
            "kettle",
            &[
                (0.0, 0.0, None, 0.0),
                (181.0, 0.0, None, 0.0),
                (226.0, 27.9, Some(71.0), 222.0),
                (240.0, 27.8, Some(98.6), 221.0),
                (300.0, 23.5, Some(98.6), 187.0),
                (315.0, 23.3, Some(84.0), 185.0),
                (340.0, 22.5, Some(19.2), 179.0),
                (357.0, 1.5, Some(19.2), 12.0),
                (435.0, 1.5, None, 12.0),
            ],
        ),
        curve(
            "fermenter",
            &[
                (0.0, 0.0, None, 0.0),
                (342.0, 0.0, None, 0.0),
                (357.0, 21.0, Some(19.2), 297.0),
                (435.0, 21.0, Some(19.0), 297.0),
            ],
        ),
    ]
}

fn pour(from: &str, to: &str, span_min: (f64, f64), litres: f64, substance: &str) -> Pour {
    Pour {
        from: from.into(),
        to: to.into(),
        from_min: span_min.0,
        to_min: span_min.1,
        litres,
        substance: substance.into(),
    }
}

fn limit(id: &str, vessel: &str, words: &str, kept: bool, care: bool) -> crate::output::Limit {
    crate::output::Limit {
        id: id.into(),
        vessel: vessel.into(),
        words: words.into(),
        words_us: words.into(),
        value: 1.0,
        bound: 2.0,
        unit: "mm".into(),
        kept,
        care,
    }
}

fn amounts() -> Amounts {
    let malt = |malt: &str, kg: f64, share: f64, colour: f64| crate::output::GristAmount {
        malt: malt.into(),
        kg,
        share_percent: share,
        extract_percent: 81.0,
        colour_ebc: colour,
    };
    let hop = |hop: &str, g: f64, alpha: f64, when: &str, ibu: f64| crate::output::HopAmount {
        hop: hop.into(),
        g,
        alpha_percent: alpha,
        when: when.into(),
        gives_ibu: ibu,
    };
    Amounts {
        grist: vec![
            malt("pale ale malt", 4.05, 83.0, 5.0),
            malt("caramel malt", 0.40, 8.0, 150.0),
            malt("amber malt", 0.25, 5.0, 60.0),
            malt("wheat malt", 0.20, 4.0, 4.0),
        ],
        grist_kg: 4.90,
        strike_l: 15.0,
        strike_c: 72.5,
        sparge_l: 16.5,
        sparge_c: 78.5,
        fill_l: 32.0,
        reserve_l: 4.0,
        hops: vec![
            hop("bittering hop", 22.0, 7.8, "start of boil", 17.0),
            hop("spicy hop", 28.0, 7.0, "15 min before the end", 10.0),
        ],
        others: Vec::new(),
    }
}

fn milestones() -> Milestones {
    Milestones {
        start_clock_min: 510.0,
        dough_in_min: 95.0,
        dough_in_c: 63.5,
        first_runnings_plato: 19.6,
        last_runnings_plato: 3.1,
        conversion_percent: 97.0,
        iodine_normal_min: Some(40.0),
        mash_ph: 5.4,
        pre_boil_l: 27.9,
        pre_boil_plato: 10.3,
        pre_boil_c: 72.0,
        boil_starts_min: 240.0,
        boil_min: 60.0,
        boil_c: 98.6,
        boil_off_kg_h: 4.2,
        knock_out_l: 23.5,
        knock_out_plato: 12.4,
        run_off_l_min: 0.62,
        bed_mm: 80.0,
        pitch_c: 19.2,
        pitch_min: 357.0,
        end_min: 435.0,
        final_limit_plato: 3.0,
        alcohol_limit_percent: 5.0,
        chill_water_l: 140.0,
        head_space_mm: 218.0,
        foam_mm: 60.0,
    }
}

pub fn plan() -> Plan {
    Plan {
        brewhouse: "Orchard Shed".into(),
        brew: "Windfall Amber".into(),
        targets: Targets {
            volume_l: aim(21.0, 1.0, 21.0),
            extract_plato: aim(12.6, 0.5, 12.6),
            bitterness_ibu: aim(32.0, 8.0, 32.0),
            colour_ebc: aim(19.0, 3.0, 20.4),
            fermentability_percent: aim(76.0, 5.0, 74.6),
        },
        steps: steps(),
        fits: true,
        limits: vec![
            limit(
                "tank_brim",
                "tank",
                "The tank brims at 38.0 L; this brew fills it to 32.0 L.",
                true,
                false,
            ),
            limit("bed", "tun", "The bed is 80 mm deep: shallow.", true, true),
        ],
        conflict: None,
        unmoved: Vec::new(),
        amounts: amounts(),
        milestones: milestones(),
        ledger: Ledger {
            water_kg: balance(
                &[("liquor", 32.0), ("malt", 0.2)],
                &[("steam", 4.7), ("grain", 5.1), ("fermenter", 19.4), ("left behind", 3.0)],
            ),
            extract_kg: balance(
                &[("malt", 3.96)],
                &[("grain", 0.95), ("left behind", 0.23), ("fermenter", 2.78)],
            ),
            energy_j: balance(
                &[("gas", 4.0e7), ("electricity", 0.9e7)],
                &[("past the pots", 2.3e7), ("steam", 1.2e7), ("wort", 1.4e7)],
            ),
        },
        fuel: crate::output::Fuel { gas_kg: 0.92, gas_j: 4.2e7, electricity_kwh: 2.5 },
        curves: curves(),
        pours: vec![
            pour("tank", "tun", (91.0, 95.0), 15.0, "water"),
            pour("tank", "tun", (182.0, 209.0), 16.5, "water"),
            pour("tun", "kettle", (181.0, 226.0), 27.9, "wort"),
            pour("kettle", "fermenter", (342.0, 357.0), 21.0, "wort"),
        ],
        assumed: vec!["Air of 20\u{202f}°C.".into()],
        caveats: Vec::new(),
    }
}

/// The whole of it.
pub fn planned() -> Planned {
    Planned { brewhouse: brewhouse(), brew: brew(), plan: plan() }
}
