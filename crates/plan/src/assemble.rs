//! A solved day put together as a plan. It adds nothing that the day does not hold.

use crate::output::{
    Aim, Amounts, Balance, Curve, Entry, Fuel, GristAmount, HopAmount, Ledger, Milestones,
    OtherAmount, Plan, Point, Pour, Targets,
};
use crate::readings::round;
use crate::setting::Place;
use crate::solve::{Solved, wanted_fermentability};
use crate::{START_CLOCK_MIN, limits, steps};
use brew::{Brew, When};
use day::procedure::Action;
use day::state::total;
use matter::malt::malt_class;
use matter::wort;

/// Heat of propane as sold, J/kg (lower value).
const PROPANE_J_KG: f64 = 46.1e6;
/// Heat of butane, pure, J/kg (lower value).
const BUTANE_J_KG: f64 = 45.72e6;
/// Heat of natural gas of the grid, J/kg (lower value).
const GRID_J_KG: f64 = 48.0e6;
/// First foam lives this long, s (from memory).
const FOAM_LIFE_S: f64 = 4.0;

/// Targets of a solved day beside the wishes.
pub(crate) fn targets(brew: &Brew, solved: &Solved) -> Targets {
    let o = &solved.outcome;
    let w = &brew.wanted;
    let volume = Some(Aim {
        wanted: w.volume.value.litres(),
        tolerance: 1e3 * w.volume.tolerance,
        expected: round(o.volume_l, 4),
    });
    let plato = w.gravity.value.plato();
    // a tolerance in mass fraction is one in °P times a hundred
    let extract = Some(Aim {
        wanted: round(plato, 4),
        tolerance: round(100.0 * w.gravity.tolerance, 4),
        expected: round(o.plato, 4),
    });
    let fermentability = wanted_fermentability(brew).map(|f| {
        let tolerance = match &w.limit {
            Some(brew::Limit::Fermentability(t)) => 100.0 * t.tolerance,
            Some(brew::Limit::FinalGravity(t)) => 100.0 * t.tolerance / (plato / 100.0),
            None => 0.0,
        };
        Aim {
            wanted: round(100.0 * f, 4),
            tolerance: round(tolerance, 4),
            expected: round(100.0 * o.fermentability, 4),
        }
    });
    Targets {
        volume_l: volume,
        extract_plato: extract,
        bitterness_ibu: w.bitterness.as_ref().map(|b| Aim {
            wanted: b.value.ibu(),
            tolerance: b.tolerance,
            expected: round(o.bitterness, 4),
        }),
        colour_ebc: w.colour.as_ref().map(|c| Aim {
            wanted: round(c.value.ebc(), 4),
            tolerance: round(c.tolerance, 4),
            expected: round(o.colour, 4),
        }),
        fermentability_percent: fermentability,
    }
}

/// The plan of a solved day.
pub(crate) fn plan(place: &Place<'_>, brew: &Brew, solved: &Solved) -> Plan {
    let limits = limits::limits(place, brew, solved);
    let fits = limits.iter().all(|l| l.kept);
    Plan {
        brewhouse: place.brewhouse.name.clone(),
        brew: brew.name.clone(),
        targets: targets(brew, solved),
        steps: steps::steps(place, brew, solved),
        fits,
        limits,
        conflict: None,
        unmoved: unmoved(brew, solved),
        amounts: amounts(place, brew, solved),
        milestones: milestones(place, solved),
        ledger: ledger(solved),
        fuel: fuel(place, solved),
        curves: curves(place, solved),
        pours: pours(place, solved),
        assumed: assumed(place, solved),
        caveats: solved.trace.caveats.clone(),
    }
}

/// Share of a wish by which it may be missed without being named.
const MISSED: f64 = 1e-3;
/// Said where something is free to move a wish and yet it is missed.
const STOPPED_SHORT: &str = "what may be moved was moved, and the search came no nearer";

/// Wishes that do not come out to a thousandth, each with the reason.
fn unmoved(brew: &Brew, solved: &Solved) -> Vec<String> {
    let free = crate::solve::Free::of(brew);
    let mut all = Vec::new();
    let mut say = |name: &str, off: f64, why: &str| {
        if off.abs() > MISSED {
            all.push(format!("{name}: {why}"));
        }
    };
    let o = &solved.outcome;
    let w = &brew.wanted;
    say("volume", o.volume_l / w.volume.value.litres() - 1.0, STOPPED_SHORT);
    let off = o.plato / w.gravity.value.plato() - 1.0;
    let given = "the grist is given as masses; give shares, and the mass is found";
    say("gravity", off, if free.grist { STOPPED_SHORT } else { given });
    if let Some(b) = &w.bitterness {
        let off = o.bitterness / b.value.ibu().max(1e-9) - 1.0;
        let given = "every hop addition has its mass; leave one out or say what it gives";
        say("bitterness", off, if free.hops { STOPPED_SHORT } else { given });
    }
    if let Some(f) = wanted_fermentability(brew) {
        let why = if free.rests.is_empty() {
            "no rest between 57 and 74 °C is marked `about`"
        } else if crate::solve::bounded(solved) {
            "the rests marked `about` were moved as far as they may be"
        } else {
            STOPPED_SHORT
        };
        say("fermentability", o.fermentability / f - 1.0, why);
    }
    if let Some(c) = &w.colour {
        let why = match free.share {
            None => "no share of a dark malt and of a pale one is marked `about`",
            Some(share) if crate::solve::share_at_bound(brew, solved, share) => {
                "the shares marked `about` were moved as far as they may be"
            }
            Some(_) => STOPPED_SHORT,
        };
        say("colour", o.colour / c.value.ebc().max(1e-9) - 1.0, why);
    }
    all
}

fn amounts(place: &Place<'_>, brew: &Brew, solved: &Solved) -> Amounts {
    let choice = &solved.choice;
    let grist = brew.grist.iter().zip(&choice.shares).map(|(item, share)| {
        let class = malt_class(&item.malt);
        let extract = item
            .certificate
            .extract
            .as_ref()
            .map_or_else(|| class.map_or(0.0, |c| c.extract_fine_dry), |e| e.value.fraction());
        let colour = item
            .certificate
            .colour
            .as_ref()
            .map_or_else(|| class.map_or(0.0, |c| c.colour_ebc), |c| c.value.ebc());
        GristAmount {
            malt: item.name.clone().unwrap_or_else(|| item.malt.clone()),
            kg: round(share * choice.grist_kg, 4),
            share_percent: round(100.0 * share, 2),
            extract_percent: round(100.0 * extract, 2),
            colour_ebc: round(colour, 2),
        }
    });
    let hops = brew.hops.iter().enumerate().map(|(k, hop)| HopAmount {
        hop: hop.kind.clone(),
        g: round(1e3 * choice.hops_kg[k], 2),
        alpha_percent: hop.alpha.as_ref().map_or_else(
            || matter::hop::hop_type(&hop.class).map_or(0.0, |c| 100.0 * c.alpha_mid()),
            |a| a.value.percent(),
        ),
        when: when(&hop.add),
        gives_ibu: round(solved.outcome.gives[k], 3),
    });
    let doses = solved.liquor.doses.iter().map(|d| OtherAmount {
        what: d.what.clone(),
        amount: round(d.amount, 3),
        unit: d.unit.into(),
        when: match d.to {
            brew::LiquorUse::All => "into all liquor".into(),
            brew::LiquorUse::Strike => "into the strike".into(),
            brew::LiquorUse::Sparge => "into the sparge".into(),
        },
    });
    let additions = brew.additions.iter().map(|a| OtherAmount {
        what: a.what.clone(),
        amount: round(a.amount.value.grams(), 3),
        unit: "g".into(),
        when: when(&a.add),
    });
    let marks = &solved.built.marks;
    let p = &place.parts;
    let poured = |op: Option<usize>| {
        op.map_or(0.0, |op| {
            let (before, after) =
                (solved.trace.before(op, p.liquor), solved.trace.after(op, p.liquor));
            1e3 * (before.volume_m3 - after.volume_m3)
        })
    };
    let strike_l = match marks.strike {
        Some(_) => poured(marks.strike),
        None => 1e3 * solved.trace.before(marks.dough_in, p.mash).volume_m3,
    };
    let sparge_l = if marks.refills.is_empty() {
        poured(marks.sparge)
    } else {
        choice.sparge_kg / matter::water::density_kg_m3(choice.sparge_c) * 1e3
    };
    Amounts {
        grist: grist.collect(),
        grist_kg: round(choice.grist_kg, 4),
        strike_l: round(strike_l, 3),
        strike_c: round(choice.strike_c, 2),
        sparge_l: round(sparge_l, 3),
        sparge_c: round(choice.sparge_c, 2),
        fill_l: round(1e3 * solved.trace.after(marks.fill, p.liquor).volume_m3, 3),
        reserve_l: round(choice.reserve_kg / 0.97, 2),
        hops: hops.collect(),
        others: doses.chain(additions).collect(),
    }
}

/// When something is added, in words.
pub(crate) fn when(add: &When) -> String {
    match add {
        When::Mash => "with the grist".into(),
        When::FirstWort => "into the first wort".into(),
        When::StartOfBoil => "start of boil".into(),
        When::BeforeEnd(t) => format!("{:.0} min before the end", t.seconds() / 60.0),
        When::FlameOut => "flame out".into(),
        When::Stand { at, length } => {
            format!("stand at {:.0} °C, {:.0} min", at.celsius(), length.seconds() / 60.0)
        }
        When::Pitch => "with the yeast".into(),
        When::Dry => "dry, into the fermenter".into(),
    }
}

fn milestones(place: &Place<'_>, solved: &Solved) -> Milestones {
    let marks = &solved.built.marks;
    let trace = &solved.trace;
    let p = &place.parts;
    let min = |s: f64| round(s / 60.0, 2);
    let collected =
        marks.to_kettle.or(marks.run_offs.last().copied()).or(marks.lift).unwrap_or(marks.dough_in);
    let pre_boil = trace.after(collected, p.kettle);
    let boil_start = trace.before(marks.boil, p.kettle);
    let knock_out = trace.after(marks.boil, p.kettle);
    let boil = trace.of(marks.boil);
    let hours = (boil.end_s - boil.start_s) / 3600.0;
    let kg_h = (boil_start.mass_kg - knock_out.mass_kg) / hours.max(1e-6);
    let kettle = place.vessels[p.kettle];
    let level_m = kettle.section.height_m(boil_start.volume_m3);
    let last = marks.run_offs.last().map(|&op| trace.of(op).at_end.valve_plato);
    let first = marks.first_runnings.map(|op| trace.of(op).at_start.valve_plato);
    let mash_end = trace.mash_end.unwrap_or_default();
    let plato = solved.outcome.plato;
    let limit_plato = plato * (1.0 - solved.outcome.fermentability);
    let alcohol = wort::alcohol_percent_mass(plato, wort::real_extract_plato(plato, limit_plato));
    let alcohol = wort::alcohol_percent_volume(alcohol, wort::sg_from_plato(limit_plato));
    let open_m2 = kettle.section.area_m2(level_m);
    let foam_m = FOAM_LIFE_S * (kg_h / 3600.0) / (0.598 * open_m2.max(1e-6));
    Milestones {
        start_clock_min: START_CLOCK_MIN,
        dough_in_min: min(trace.of(marks.dough_in).start_s),
        dough_in_c: round(trace.after(marks.read_dough, p.mash).temp_c, 2),
        first_runnings_plato: round(first.unwrap_or(mash_end.plato), 3),
        last_runnings_plato: round(last.unwrap_or(mash_end.plato), 3),
        conversion_percent: round(100.0 * mash_end.conversion, 2),
        iodine_normal_min: trace.iodine_normal_s.map(min),
        mash_ph: round(solved.liquor.mash_ph, 3),
        pre_boil_l: round(1e3 * pre_boil.volume_m3, 3),
        pre_boil_plato: round(pre_boil.plato, 3),
        pre_boil_c: round(pre_boil.temp_c, 2),
        boil_starts_min: min(boil.start_s),
        boil_min: min(boil.end_s - boil.start_s),
        boil_c: round(boil_start.temp_c, 2),
        boil_off_kg_h: round(kg_h, 3),
        knock_out_l: round(1e3 * knock_out.volume_m3, 3),
        knock_out_plato: round(knock_out.plato, 3),
        run_off_l_min: round(6e4 * solved.choice.run_off_m3_s, 4),
        bed_mm: round(1e3 * mash_end.bed_m, 1),
        pitch_c: round(trace.after(marks.to_fermenter, p.fermenter).temp_c, 2),
        pitch_min: min(trace.of(marks.pitch).start_s),
        end_min: min(trace.of(marks.clean).end_s),
        final_limit_plato: round(limit_plato, 3),
        alcohol_limit_percent: round(alcohol, 2),
        chill_water_l: round(trace.end.totals[total::CHILL_KG], 1),
        head_space_mm: round(1e3 * (kettle.section.brim_height_m() - level_m), 1),
        foam_mm: round(1e3 * foam_m, 1),
    }
}

fn ledger(solved: &Solved) -> Ledger {
    let seen = day::ledger::ledger(&solved.setting, &solved.trace);
    let balance = |b: &day::ledger::Balance| {
        let entries = |side: &[(&'static str, f64)]| {
            side.iter()
                .filter(|e| e.1.abs() > 0.0)
                .map(|&(what, amount)| Entry { what: what.into(), amount })
                .collect()
        };
        Balance {
            came_in: entries(&b.came_in),
            went: entries(&b.went),
            closure_relative: b.closure(),
        }
    };
    Ledger {
        water_kg: balance(&seen.water),
        extract_kg: balance(&seen.extract),
        energy_j: balance(&seen.energy),
    }
}

fn fuel(place: &Place<'_>, solved: &Solved) -> Fuel {
    let totals = &solved.trace.end.totals;
    let gas_j = totals[total::FUEL_J];
    let fuel = place
        .vessels
        .iter()
        .filter_map(|v| v.heater.as_ref())
        .find(|h| h.kind.is_flame())
        .and_then(|h| h.fuel);
    let per_kg = match fuel {
        Some(brewhouse::Fuel::NaturalGas) => GRID_J_KG,
        Some(brewhouse::Fuel::Butane) => BUTANE_J_KG,
        _ => PROPANE_J_KG,
    };
    Fuel {
        gas_kg: round(gas_j / per_kg, 4),
        gas_j: round(gas_j, 0),
        electricity_kwh: round(totals[total::DRAWN_J] / 3.6e6, 4),
    }
}

fn curves(place: &Place<'_>, solved: &Solved) -> Vec<Curve> {
    place
        .vessels
        .iter()
        .enumerate()
        .map(|(i, vessel)| Curve {
            vessel: vessel.key.clone(),
            points: solved
                .trace
                .samples
                .iter()
                .map(|sample| {
                    let seen = sample.pots[i];
                    let empty = seen.mass_kg < 0.05;
                    Point {
                        min: round(sample.t_s / 60.0, 2),
                        volume_l: round(1e3 * seen.volume_m3, 3),
                        temperature_c: (!empty).then(|| round(seen.temp_c, 2)),
                        level_mm: round(1e3 * vessel.section.height_m(seen.volume_m3), 1),
                    }
                })
                .collect(),
        })
        .collect()
}

fn pours(place: &Place<'_>, solved: &Solved) -> Vec<Pour> {
    let key = |i: usize| place.vessels[i].key.clone();
    let p = &place.parts;
    let mut all = Vec::new();
    for (op, times) in solved.built.procedure.operations.iter().zip(&solved.trace.operations) {
        let gone = |i: usize| {
            1e3 * (times.at_start.pots[i].volume_m3 - times.at_end.pots[i].volume_m3).abs()
        };
        let pour = match &op.action {
            Action::Pour { from, to, .. } => Some((*from, *to, gone(*from), "water")),
            Action::Infuse { .. } | Action::Sparge { .. } | Action::Refill { .. } => {
                Some((p.liquor, p.mash, gone(p.liquor), "water"))
            }
            Action::RunOff { .. } => Some((p.mash, p.kettle, gone(p.kettle), "wort")),
            Action::DrawDecoction { .. } => Some((p.mash, p.kettle, gone(p.kettle), "wort")),
            Action::ToFermenter { .. } => Some((p.kettle, p.fermenter, gone(p.kettle), "wort")),
            _ => None,
        };
        let Some((from, to, litres, substance)) = pour else { continue };
        if litres > 0.01 && from != to {
            let wort = matches!(&op.action, Action::Pour { from, .. } if *from == p.mash);
            all.push(Pour {
                from: key(from),
                to: key(to),
                from_min: round(times.start_s / 60.0, 2),
                to_min: round(times.end_s / 60.0, 2),
                litres: round(litres, 3),
                substance: if wort { "wort" } else { substance }.into(),
            });
        }
    }
    all
}

/// What was not stated and is assumed.
fn assumed(place: &Place<'_>, solved: &Solved) -> Vec<String> {
    let b = place.brewhouse;
    let mut all = solved.liquor.assumed.clone();
    let mut note = |known: bool, words: String| {
        if !known {
            all.push(words);
        }
    };
    note(b.air.is_some(), "air 20 °C".into());
    note(b.humidity.is_some(), "humidity of the air 50 %".into());
    note(b.liquor_comes_at.is_some(), "liquor comes at 12 °C".into());
    note(b.elevation.is_some(), "elevation 0 m".into());
    note(b.grain_holds_m3_kg.is_some(), "drained grain keeps 1.0 L/kg".into());
    for vessel in &b.vessels {
        if let Some(heater) = &vessel.heater {
            note(
                heater.reaches_pot.is_some(),
                format!(
                    "{}: {:.0} % of its heat reaches the pot",
                    vessel.name,
                    100. * heater.share()
                ),
            );
        }
    }
    all.push("crush: home mill, half of the grist as grits".into());
    all.sort();
    all.dedup();
    all
}
