//! Answers to the rows of `reference/checks/mash.csv`.
//!
//! Holds no physics: it hands the inputs of a row to the code and its number back.

use super::Inputs;
use super::mash_run::{Mash, pale};
use matter::malt::{Grist, LAB_HYDRATION};
use matter::wort;
use numerics::root::find_root;
use process::heat::{HeatUp, heat_up_time_s};
use process::mash::{BOUND_WATER, DEXTRIN, GLUCOSE, Kinetics, MALTOSE, MALTOTRIOSE};
use process::strike::{
    self, DRY_SHARE, DoughIn, MashMix, WATER_J_KG_K, malt_heat_j_kg_k, wetting_heat_j_kg,
};

/// 1 lb, exact.
const POUND_KG: f64 = 0.453_592_37;
/// The rule of thumb counts a quart of liquor as two pounds.
const RULE_POUNDS_PER_QUART: f64 = 2.0;
/// It counts malt as 0.4 of water: 0.2 per pound against a quart of two pounds.
const RULE_MALT_SHARE: f64 = 0.4;

/// The code's number for one row, in the unit of the row.
pub fn answer(quantity: &str, inputs: &Inputs, id: &str) -> Option<f64> {
    of_strike(quantity, inputs)
        .or_else(|| of_steps(quantity, inputs))
        .or_else(|| of_first_wort(quantity, inputs))
        .or_else(|| of_enzymes(quantity, inputs))
        .or_else(|| of_whole_mashes(quantity, inputs, id))
}

fn celsius(fahrenheit: f64) -> f64 {
    (fahrenheit - 32.0) / 1.8
}

fn fahrenheit(celsius: f64) -> f64 {
    celsius * 1.8 + 32.0
}

/// The moisture at which malt has this share of water's heat capacity.
fn moisture_of(share: f64) -> f64 {
    (share - DRY_SHARE) / (1.0 - DRY_SHARE)
}

/// A dough-in of 1 kg without a vessel.
fn bare(moisture: f64, grain_c: f64, liquor_kg: f64) -> DoughIn {
    DoughIn {
        grist_kg: 1.0,
        moisture,
        grain_c,
        liquor_kg,
        vessel_j_k: 0.0,
        vessel_c: grain_c,
        wetting_j_kg: 0.0,
        lost_j: 0.0,
    }
}

/// The dough-in that the rows H9 to H12 share: 5 kg of malt, 15 kg of liquor, both at 20 °C before.
fn shared(inputs: &Inputs) -> DoughIn {
    DoughIn {
        grist_kg: inputs.get_or("grist_kg", 5.0),
        moisture: inputs.get_or("moisture_pct", 4.0) / 100.0,
        grain_c: inputs.get_or("grain_c", 20.0),
        liquor_kg: inputs.get_or("liquor_kg", 15.0),
        vessel_j_k: inputs.get_or("vessel_kj_per_k", 0.0) * 1e3,
        vessel_c: inputs.get_or("vessel_c", 20.0),
        wetting_j_kg: inputs.get_or("wetting_kj_per_kg", 0.0) * 1e3,
        lost_j: 0.0,
    }
}

fn of_strike(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let moisture = inputs.get("moisture_pct").map(|percent| percent / 100.0);
    let ratio = |grain_c: f64, liquor_c: f64, rise_k: f64| {
        let share = inputs.get("S")?;
        let mut dough = bare(moisture_of(share), grain_c, inputs.get("liquor_kg_per_kg")?);
        dough.wetting_j_kg = rise_k * (dough.liquor_kg + share) * WATER_J_KG_K;
        Some(strike::mash_c(&dough, liquor_c))
    };
    let mash_c = inputs.get_or("mash_c", 66.0);
    Some(match quantity {
        "specific heat of malt / that of water" => malt_heat_j_kg_k(moisture?) / WATER_J_KG_K,
        "strike balance, handbook ratio form with slaking rise" | "strike balance, ratio form" => {
            let rise_k = inputs.get("slaking_rise_c")?;
            ratio(inputs.get("grain_c")?, inputs.get("liquor_c")?, rise_k)?
        }
        "same in Fahrenheit" => {
            let (grain_c, liquor_c) = (inputs.get("grain_f")?, inputs.get("liquor_f")?);
            let rise_k = inputs.get("slaking_rise_f")? / 1.8;
            fahrenheit(ratio(celsius(grain_c), celsius(liquor_c), rise_k)?)
        }
        "heat of wetting per kg malt" => wetting_heat_j_kg(moisture?) / 1e3,
        "strike temperature, 0.2 rule" => {
            let liquor_lb = RULE_POUNDS_PER_QUART * inputs.get("water_qt")?;
            let ratio = liquor_lb / inputs.get("grain_lb")?;
            let dough = bare(moisture_of(RULE_MALT_SHARE), celsius(inputs.get("grain_f")?), ratio);
            fahrenheit(strike::strike_c(&dough, celsius(inputs.get("target_f")?)))
        }
        "strike temperature, no vessel, no wetting heat"
        | "same, cold vessel"
        | "same, cold vessel and wetting heat" => strike::strike_c(&shared(inputs), mash_c),
        "same, liquor heated in that vessel" => strike::strike_in_tun_c(&shared(inputs), mash_c),
        _ => return None,
    })
}

fn of_steps(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let mash_j_k = |water_kg: f64| {
        let grist = inputs.get_or("grist_kg", 5.0);
        let malt = malt_heat_j_kg_k(inputs.get_or("moisture_pct", 4.0) / 100.0);
        grist * malt + water_kg * WATER_J_KG_K + inputs.get_or("vessel_kj_per_k", 0.0) * 1e3
    };
    Some(match quantity {
        "boiling-hot liquor for the next rest, 0.2 rule" | "and for the rest after it" => {
            let water_lb = RULE_POUNDS_PER_QUART * inputs.get("water_qt")?;
            let grain_lb = RULE_MALT_SHARE * inputs.get("grain_lb")?;
            let capacity = (grain_lb + water_lb) * POUND_KG * WATER_J_KG_K;
            let at = |key| inputs.get(key).map(celsius);
            let (from, to, liquor) = (at("from_f")?, at("to_f")?, at("liquor_f")?);
            let kg = strike::step_liquor_kg(capacity, from, to, liquor);
            kg / POUND_KG / RULE_POUNDS_PER_QUART
        }
        "hot liquor for a step" | "same without vessel" => {
            let capacity = mash_j_k(inputs.get_or("water_kg", 12.5));
            let at = |key, usual| inputs.get_or(key, usual);
            let (from, to) = (at("from_c", 52.0), at("to_c", 64.0));
            strike::step_liquor_kg(capacity, from, to, at("liquor_c", 98.0))
        }
        "decoction volume, equal heat capacity per litre"
        | "decoction volume, arriving cooler"
        | "decoction volume" => strike::decoction_j_k(
            inputs.get("mash_l")?,
            inputs.get("from_c")?,
            inputs.get("to_c")?,
            inputs.get("return_c")?,
        ),
        "time to heat" => {
            let body = HeatUp {
                capacity_j_k: mash_j_k(inputs.get("water_kg")?),
                ua_w_k: 0.0,
                power_w: inputs.get("net_kw")? * 1e3,
                air_c: 20.0,
            };
            heat_up_time_s(&body, inputs.get("from_c")?, inputs.get("to_c")?) / 60.0
        }
        _ => return None,
    })
}

fn of_first_wort(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let mix = MashMix {
        extract: inputs.get_or("extract_as_is", 0.7776),
        moisture: inputs.get_or("moisture", 0.04),
        liquor_kg_kg: inputs.get_or("liquor_kg_per_kg", 0.0),
    };
    // the textbook form counts the malt's own water nowhere
    let us = MashMix { extract: 0.81 * 0.96, moisture: 0.0, liquor_kg_kg: 8.5 * 8.3304 / 11.0 };
    Some(match quantity {
        "first wort" => strike::first_wort_plato(&mix, 1.0),
        "first wort, US units" => {
            let dry = 1.0 - inputs.get("moisture")?;
            let liquor_lb = inputs.get("water_gal")? * inputs.get("lb_per_gal")?;
            let mix = MashMix {
                extract: inputs.get("extract_db")? * dry,
                moisture: 0.0,
                liquor_kg_kg: liquor_lb / inputs.get("grist_lb")?,
            };
            strike::first_wort_plato(&mix, 1.0)
        }
        "conversion from a first-wort reading" => {
            let mix = if inputs.has("other") { us } else { mix };
            strike::conversion_from_first_wort(&mix, inputs.get("reading_p")?)
        }
        "main liquor for a wanted first wort" => {
            let extract = inputs.get("yield_pct")? / 100.0;
            let mix = MashMix { extract, moisture: 0.0, liquor_kg_kg: 0.0 };
            let plato = inputs.get("first_wort_p")?;
            let per_kg = strike::liquor_for_first_wort_kg_kg(&mix, 1.0, plato);
            inputs.get("grist_kg")? * per_kg
        }
        "specific gravity 20/20, rational form" => wort::sg_from_plato(inputs.get("plato")?),
        "mash volume after conversion" => {
            let grist_kg = inputs.get("grist_kg")?;
            let mix = MashMix { liquor_kg_kg: inputs.get("liquor_kg")? / grist_kg, ..mix };
            strike::mash_volume_m3(grist_kg, &mix) * 1e3
        }
        "volume taken by 1 kg malt in a converted mash" => strike::mash_volume_m3(1.0, &mix) * 1e3,
        "mash volume" => {
            let mix = MashMix { liquor_kg_kg: inputs.get("liquor_l_per_kg")?, ..mix };
            strike::mash_volume_m3(inputs.get("grist_kg")?, &mix) * 1e3
        }
        _ => return None,
    })
}

fn of_enzymes(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let k = Kinetics::default();
    let temp_k = inputs.get("t_c").map(|t| t + 273.15);
    let plato = inputs.get("plato");
    let bound = |pool: usize| 1.0 + BOUND_WATER[pool];
    Some(match quantity {
        "alpha-amylase activity relative to 65 C"
        | "alpha-amylase activity relative to 65 C (ours, above the range kept)" => {
            k.alpha.activity(temp_k?)
        }
        "beta-amylase activity relative to 60 C" => {
            k.beta.activity(temp_k?) / k.beta.activity(333.15)
        }
        "beta-amylase activity relative to 65 C" => k.beta.activity(temp_k?),
        "pH factor alpha" => Kinetics::ph_factor(k.alpha_pk, inputs.get("ph_cooled")?),
        "pH factor beta" => Kinetics::ph_factor(k.beta_pk, inputs.get("ph_cooled")?),
        "alpha loss constant, water" | "alpha loss constant in a thin wort" => {
            k.alpha_loss.rate_per_s(temp_k?, plato?)
        }
        "beta loss constant, water" | "beta loss constant in a thin wort" => {
            k.beta_loss.rate_per_s(temp_k?, plato?)
        }
        "kg glucose per kg starch" => bound(GLUCOSE),
        "kg maltose per kg starch" => bound(MALTOSE),
        "kg maltotriose per kg starch" => bound(MALTOTRIOSE),
        "kg dextrin per kg starch" => bound(DEXTRIN),
        "gelatinisation rate, large granules" => {
            k.prepare(5.5).gelatinisation_per_s(temp_k?, plato?, 0.0)[0]
        }
        "temperature at which half the large granules gelatinise in 10 min" => {
            let prepared = k.prepare(5.5);
            let half = std::f64::consts::LN_2 / 600.0;
            let short = |t: f64| prepared.gelatinisation_per_s(t + 273.15, 8.0, 0.0)[0] - half;
            find_root(short, 50.0, 65.0, 1e-9).ok()?
        }
        _ => return None,
    })
}

/// Grists of the rows: laboratory mash, laboratory fine grind, home crush.
fn laboratory() -> Kinetics {
    Kinetics::laboratory()
}

fn fine() -> Kinetics {
    Kinetics { grit: 0.02, grit_s: 300.0, ..laboratory() }
}

/// A pale-malt mash held at one temperature.
fn held(k: &Kinetics, liquor_kg_kg: f64, temp_c: f64, minutes: f64) -> Option<Mash> {
    Mash::new(&pale(), k, liquor_kg_kg, &[(0.0, temp_c), (1e4, temp_c)]).until(minutes)
}

const STEPS: &[(f64, f64)] =
    &[(0.0, 63.0), (40.0, 63.0), (49.0, 72.0), (69.0, 72.0), (75.0, 78.0), (85.0, 78.0)];
const CONGRESS: &[(f64, f64)] = &[(0.0, 45.0), (30.0, 45.0), (55.0, 70.0), (300.0, 70.0)];

fn of_whole_mashes(quantity: &str, inputs: &Inputs, id: &str) -> Option<f64> {
    if id.starts_with("V-") {
        return of_vectors(quantity, inputs);
    }
    let lab = laboratory();
    let temp_c = inputs.get("t_c");
    let minutes = inputs.get_or("minutes", 60.0);
    let ratio = inputs.get_or("liquor_kg_per_kg", 3.0);
    let lab_at = |temp_c: f64| held(&lab, 3.0, temp_c, minutes);
    Some(match quantity {
        "apparent attenuation, 90 % lager malt and 10 % dextrin malt" => {
            let course = [(0.0, temp_c?), (1e4, temp_c?)];
            Mash::new(&with_dextrin_malt(), &lab, ratio, &course).until(minutes)?.attenuation()
        }
        "temperature of most fermentable extract per kg malt, 60 min" => most_fermentable_c(&lab)?,
        "attenuation 60 C minus attenuation 65 C" => {
            lab_at(60.0)?.attenuation() - lab_at(65.0)?.attenuation()
        }
        "dextrin share of starch products" => lab_at(temp_c?)?.dextrin_share(),
        "extract at 70 C / extract at 65 C" => {
            lab_at(70.0)?.conversion() / lab_at(65.0)?.conversion()
        }
        "share of starch dissolved" => held(&lab, ratio, temp_c?, minutes)?.starch_dissolved(),
        "sugar after 10 min / sugar after 60 min at 65 C, fine grist" => {
            let whole = held(&fine(), ratio, 65.0, 60.0)?.fermentable_yield();
            held(&fine(), ratio, temp_c?, 10.0)?.fermentable_yield() / whole
        }
        "sugar yield at 2.5 kg/kg / at 6 kg/kg" => {
            let of = |ratio| Some(held(&lab, ratio, temp_c?, minutes)?.sugar_yield());
            of(2.5)? / of(6.0)?
        }
        "beta-amylase left" => held(&lab, ratio, temp_c?, minutes)?.beta(),
        "alpha-amylase left" => held(&lab, ratio, temp_c?, minutes)?.alpha(),
        "congress mash: attenuation limit" => {
            Mash::new(&pale(), &fine(), ratio, CONGRESS).until(115.0)?.attenuation()
        }
        "congress mash: minutes at 70 C to iodine normal" => congress_iodine_min()?,
        "alpha rest at 72 C completes conversion, laboratory grist" => {
            Mash::new(&pale(), &lab, 3.0, STEPS).until(69.0)?.conversion()
        }
        "and leaves no paste, home grist" => {
            Mash::new(&pale(), &Kinetics::default(), 3.0, STEPS).until(69.0)?.paste()
        }
        "conversion of a coarse crush" => {
            let (grit, grit_s) = (inputs.get("grit")?, inputs.get("tau_grit_s")?);
            let coarse = Kinetics { grit, grit_s, ..lab };
            held(&coarse, ratio, temp_c?, minutes)?.conversion()
        }
        _ => return None,
    })
}

/// Nine parts of the pale malt and one of a malt whose starch is turned, as the row mixes them.
fn with_dextrin_malt() -> Grist {
    let turned = 0.041 / 0.622; // starch of that malt in the starch of the grist
    let mut grist = pale();
    grist.extract_fine_dry = 0.9 * 0.81 + 0.1 * 0.76;
    grist.other_dry = 0.9 * 0.165 + 0.1 * 0.35;
    grist.other_sugar_dry = 0.9 * 0.085 + 0.1 * 0.10;
    grist.starch_dry = (grist.extract_fine_dry - grist.other_dry) / LAB_HYDRATION;
    grist.limit_shift = 0.15 * turned;
    grist.gelatinised = turned;
    grist.alpha = 0.91;
    grist.beta = 0.91;
    grist
}

fn most_fermentable_c(k: &Kinetics) -> Option<f64> {
    let temps_c = [60.0, 62.0, 63.0, 64.0, 65.0, 66.0, 68.0, 70.0, 72.0];
    let mut best = (0.0, f64::NEG_INFINITY);
    for temp_c in temps_c {
        let won = held(k, 3.0, temp_c, 60.0)?.fermentable_yield();
        if won > best.1 {
            best = (temp_c, won);
        }
    }
    Some(best.0)
}

/// Minutes after reaching 70 °C until paste stays below what iodine shows.
fn congress_iodine_min() -> Option<f64> {
    let mut mash = Mash::new(&pale(), &fine(), 4.5, CONGRESS);
    let (mut last_over, mut minute) = (0.0, 0.0);
    while minute < 115.0 {
        minute += 0.5;
        mash = mash.until(minute)?;
        if mash.paste() > process::mash::IODINE_LIMIT {
            last_over = minute;
        }
    }
    Some(last_over + 0.5 - 55.0)
}

fn of_vectors(quantity: &str, inputs: &Inputs) -> Option<f64> {
    if quantity == "mass closure of every mash above" {
        return Some(Mash::new(&pale(), &Kinetics::default(), 3.0, STEPS).until(85.0)?.closure());
    }
    let (what, grist) = quantity.split_once(", ")?;
    let kinetics = if grist.starts_with("laboratory") { laboratory() } else { Kinetics::default() };
    let minutes = inputs.get("minutes")?;
    let mash = if grist.ends_with("step mash") {
        Mash::new(&pale(), &kinetics, 3.0, STEPS).until(minutes)?
    } else {
        held(&kinetics, inputs.get("liquor_kg_per_kg")?, inputs.get("t_c")?, minutes)?
    };
    Some(match what {
        "conversion" => mash.conversion(),
        "attenuation" => mash.attenuation(),
        "paste" => mash.paste(),
        "alpha" => mash.alpha(),
        "beta" => mash.beta(),
        "plato" => mash.plato(),
        _ => return None,
    })
}
