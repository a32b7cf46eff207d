//! Answers to the rows of `reference/checks/hops.csv`.
//!
//! Holds no physics: it hands the inputs of a row to the code and its number back.

use super::Inputs;
use super::hop_run::{Course, Hopped, plain};
use matter::hop::{self, HopForm, Packing};
use matter::wort;

/// The code's number for one row, in the unit of the row.
pub fn answer(quantity: &str, inputs: &Inputs, _id: &str) -> Option<f64> {
    of_rates(quantity, inputs)
        .or_else(|| of_courses(quantity, inputs))
        .or_else(|| of_extraction(quantity, inputs))
        .or_else(|| of_storage(quantity, inputs))
}

fn of_rates(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let temp_k = inputs.get("t_c").map(|t| t + 273.15);
    Some(match quantity {
        "isomerisation rate constant" => hop::isomerisation_rate_per_s(temp_k?) * 60.0,
        "iso-alpha loss rate constant" => hop::iso_loss_rate_per_s(temp_k?) * 60.0,
        "share of alpha turned to iso-alpha" => {
            hop::iso_share(temp_k?, inputs.get("t_min")? * 60.0)
        }
        "share of alpha turned to iso-alpha, 60 min at altitude" => hop::iso_share(temp_k?, 3600.0),
        "time of the most iso-alpha" => most_iso(temp_k?).0 / 60.0,
        "the most iso-alpha" => most_iso(temp_k?).1,
        "iso-alpha lost in 90 min boiling (trend)" => {
            1.0 - (-hop::iso_loss_rate_per_s(temp_k?) * inputs.get("t_min")? * 60.0).exp()
        }
        _ => return None,
    })
}

/// Time (s) and share at which iso-alpha is highest, by looking every second.
fn most_iso(temp_k: f64) -> (f64, f64) {
    let mut best = (0.0, 0.0);
    for second in 0..20_000 {
        let time_s = f64::from(second);
        let share = hop::iso_share(temp_k, time_s);
        if share > best.1 {
            best = (time_s, share);
        }
    }
    best
}

fn of_courses(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let boil_then_stand = || {
        let (from_c, to_c) = (inputs.get("stand_from_c")?, inputs.get("stand_to_c")?);
        let stand_min = inputs.get("t_stand_min")?;
        let boil_c = inputs.get_or("t_c", 100.0);
        let boiled = plain(Hopped::dissolved(), inputs.get("t_boil_min")?, |_| boil_c)?;
        plain(boiled, stand_min, |min| from_c + (to_c - from_c) * min / stand_min)
    };
    Some(match quantity {
        "alpha left after boil and linear stand" => boil_then_stand()?.alpha,
        "iso-alpha after boil and linear stand"
        | "iso-alpha from hops added at flame-out, linear stand" => boil_then_stand()?.iso,
        "iso-alpha from hops added at flame-out, exponential cooling" => {
            let (start_c, end_c) = (inputs.get("t0_c")?, inputs.get("t_end_c")?);
            let tau_min = inputs.get("tau_min")?;
            let cooling = |min: f64| end_c + (start_c - end_c) * (-min / tau_min).exp();
            plain(Hopped::dissolved(), inputs.get("t_min")?, cooling)?.iso
        }
        "iso-alpha from first-wort hops" => {
            let hold_c = inputs.get("hold_c")?;
            let ramp_min = inputs.get("t_ramp_to_100_c_min")?;
            let held = plain(Hopped::dissolved(), inputs.get("t_hold_min")?, |_| hold_c)?;
            let ramp = |min: f64| hold_c + (100.0 - hold_c) * min / ramp_min;
            let hot = plain(held, ramp_min, ramp)?;
            plain(hot, inputs.get("t_boil_min")?, |_| 100.0)?.iso
        }
        _ => return None,
    })
}

fn of_extraction(quantity: &str, inputs: &Inputs) -> Option<f64> {
    Some(match quantity {
        "iso-alpha with slow extraction" => {
            let temp_c = inputs.get("t_c")?;
            let course = Course {
                temp_c: |_| temp_c,
                extraction_per_s: inputs.get("k_e_per_min")? / 60.0,
                reacting: |_| 1.0,
            };
            course.run(Hopped::in_the_hops(1.0), inputs.get("t_min")?)?.iso
        }
        "iso-alpha yield with the solubility limit" => {
            let added = inputs.get("alpha_added_mg_l")? / 1e3;
            let limit = inputs.get("l_mg_l")? / 1e3;
            let temp_c = inputs.get("t_c")?;
            let course = Course {
                temp_c: |_| temp_c,
                extraction_per_s: inputs.get("k_e_per_min")? / 60.0,
                reacting: |alpha| hop::soluble_share(alpha, limit),
            };
            course.run(Hopped::in_the_hops(added), inputs.get("t_min")?)?.iso / added
        }
        "bitterness yield in beer, practice table" => {
            let (minutes, sg) = (inputs.get("t_min")?, inputs.get("sg")?);
            let left_hops = 1.0 - boiled_and_coiled(minutes)?.unextracted;
            hop::bitterness_bu(in_beer(minutes, sg)?, left_hops) / 1e3
        }
        "ratio of kettle yields, high to low hop rate" => {
            kettle_yield(inputs.get("high_lb_bbl")?)? / kettle_yield(inputs.get("low_lb_bbl")?)?
        }
        "bitterness lost from knock-out wort to beer" => 1.0 - hop::IN_FERMENTATION,
        "beer yield of 60 min hops" => inputs.get("kettle")? * hop::IN_FERMENTATION,
        q if q.starts_with("beer iso-alpha yield of the whole hop chain") => in_beer(60.0, 1.050)?,
        _ => return None,
    })
}

/// Share of iso-alpha that fermentation leaves in the beer (the rows' own middle value over the
/// kettle's: 0.50/0.76).
const FERMENTER_SHARE: f64 = 0.50 / 0.76;

/// Iso-alpha in the beer per alpha added, for pellets boiled some minutes in wort of a gravity.
fn in_beer(minutes: f64, sg: f64) -> Option<f64> {
    let kept = hop::kettle_share(wort::plato_from_sg(sg), 5.3, 0.0) * FERMENTER_SHARE;
    Some(boiled_and_coiled(minutes)?.iso * kept)
}

/// Pellets boiled for some minutes and chilled with a coil.
fn boiled_and_coiled(minutes: f64) -> Option<Hopped> {
    let extraction_per_s = HopForm::Pellets.extraction_rate_per_s();
    let boil = Course { temp_c: |_| 100.0, extraction_per_s, reacting: |_| 1.0 };
    let boiled = boil.run(Hopped::in_the_hops(1.0), minutes)?;
    let coil = |min: f64| 15.0 + 85.0 * (-min / 6.5).exp();
    let chill = Course { temp_c: coil, extraction_per_s, reacting: |_| 1.0 };
    chill.run(boiled, 40.0)
}

/// 1 lb per US beer barrel of 31 gallons, kg/m³.
const LB_PER_BARREL_KG_M3: f64 = 0.453_592_37 / (31.0 * 3.785_411_784e-3);

/// Iso-alpha per alpha added that a kettle of 13 °P gives in 60 min at some lb per barrel of a
/// hop of 12 %.
fn kettle_yield(hops_lb_bbl: f64) -> Option<f64> {
    let hops_kg_m3 = hops_lb_bbl * LB_PER_BARREL_KG_M3;
    let (added, limit) = (0.12 * hops_kg_m3, hop::alpha_solubility_kg_m3(5.2));
    let course = Course {
        temp_c: |_| 100.0,
        extraction_per_s: HopForm::Pellets.extraction_rate_per_s(),
        reacting: |alpha| hop::soluble_share(alpha, limit),
    };
    let iso = course.run(Hopped::in_the_hops(added), 60.0)?.iso;
    Some(iso / added * hop::kettle_share(13.0, 5.3, hops_kg_m3))
}

/// Alcohol by volume from so many degrees of extract in beer of a density (kg/L).
fn alcohol_from(plato: f64, beer_kg_l: f64) -> f64 {
    wort::alcohol_percent_volume(wort::alcohol_percent_mass(plato, 0.0), beer_kg_l)
}

fn of_storage(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let loss = inputs.get("loss_in_6_months_at_20_c");
    Some(match quantity {
        "alpha and beta lost, from the storage index" => {
            hop::lost_from_storage_index(inputs.get("hsi")?) * 100.0
        }
        "alpha left after 365 d at 4 C, vacuum" => {
            hop::alpha_left(loss?, 4.0, Packing::Vacuum, 365.0)
        }
        "alpha left after 180 d at 20 C, open" => {
            hop::alpha_left(loss?, 20.0, Packing::Open, 180.0)
        }
        "real extract lost after dry hopping, 5 d" => {
            hop::creep_plato(inputs.get("rate_g_l")?, 5.0, inputs.get("t_c")?)
        }
        "real extract lost after dry hopping, 40 d" => {
            hop::creep_plato(inputs.get("rate_g_l")?, 40.0, inputs.get("t_c")?)
        }
        "alcohol gained after dry hopping, 40 d" => {
            let plato = hop::creep_plato(inputs.get("rate_g_l")?, 40.0, inputs.get("t_c")?);
            alcohol_from(plato, 1.008)
        }
        "alcohol from 2.0 degP of real extract" => {
            alcohol_from(2.0, inputs.get("beer_density_kg_l")?)
        }
        "beer lost to dry hops" => {
            // of one cubic metre of beer, at so many kg of hops per cubic metre
            hop::dry_hop_held_m3(inputs.get("rate_g_l")?) * 100.0
        }
        _ => return None,
    })
}
