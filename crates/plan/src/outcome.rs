//! What a simulated day gives in the fermenter and in the glass. It reads a trace and plans
//! nothing.

use crate::procedure::Marks;
use crate::setting::Place;
use brew::{Brew, When};
use day::setting::Setting;
use day::state::total;
use day::trace::Trace;
use matter::malt::Grist;
use matter::{colour, hop, wort};

/// The beer a day gives.
#[derive(Debug, Clone, Default)]
pub(crate) struct Outcome {
    /// In the fermenter at 20 °C, L.
    pub(crate) volume_l: f64,
    /// There, °P.
    pub(crate) plato: f64,
    /// Of the finished beer, IBU.
    pub(crate) bitterness: f64,
    /// What each addition gives of it.
    pub(crate) gives: Vec<f64>,
    /// Of the finished beer, EBC.
    pub(crate) colour: f64,
    /// Limit of apparent attenuation of the wort, share.
    pub(crate) fermentability: f64,
}

/// Reads the outcome of a trace.
pub(crate) fn outcome(
    place: &Place<'_>,
    brew: &Brew,
    setting: &Setting,
    grist: &Grist,
    grist_kg: f64,
    marks: &Marks,
    trace: &Trace,
) -> Outcome {
    let p = &place.parts;
    let end = &trace.end;
    let fermenter = &end.pots[p.fermenter];
    let mass_kg = fermenter.water_kg + fermenter.extract_kg;
    let plato = 100.0 * fermenter.extract_kg / mass_kg.max(1e-9);
    let volume_m3 = wort::volume_m3(fermenter.water_kg, fermenter.extract_kg, 20.0);
    let out = trace.before(marks.to_fermenter, p.kettle);
    let (water, extract) =
        (out.mass_kg * (1.0 - out.plato / 100.0), out.mass_kg * out.plato / 100.);
    let kettle_m3 = wort::volume_m3(water, extract, 20.0).max(1e-9);
    let gives = bitterness(brew, setting, trace, out.plato, kettle_m3);
    let from_mash = (extract - end.sugar_kg).max(0.0);
    let share = (from_mash * end.fermentable_share + end.sugar_fermentable_kg)
        / (from_mash + end.sugar_kg).max(1e-9);
    let could_kg = grist_kg * grist.extract_fine / grist.mass_kg.max(1e-9);
    let lovibond = grist.colour_kg_lovibond * grist_kg / grist.mass_kg.max(1e-9);
    let won = (from_mash / could_kg.max(1e-9)).min(1.1);
    let amount = colour::grist_colour_ebc_m3(lovibond, could_kg) * won
        + end.totals[total::BROWNED_EBC_M3]
        + end.sugar_colour_ebc_m3;
    Outcome {
        volume_l: 1e3 * volume_m3,
        plato,
        bitterness: gives.iter().sum(),
        gives,
        colour: colour::beer_colour_ebc(amount / kettle_m3),
        fermentability: wort::fermentability_from_fermentable_share(share, plato),
    }
}

/// What each hop addition gives, IBU; dry hops give none here.
fn bitterness(
    brew: &Brew,
    setting: &Setting,
    trace: &Trace,
    plato: f64,
    kettle_m3: f64,
) -> Vec<f64> {
    let in_kettle = |k: usize| !matches!(brew.hops[k].add, When::Dry | When::Pitch);
    let hops_kg: f64 =
        (0..setting.hops.len()).filter(|&k| in_kettle(k)).map(|k| setting.hops[k].mass_kg).sum();
    let share =
        hop::kettle_share(plato, setting.wort_ph, hops_kg / kettle_m3) * hop::IN_FERMENTATION;
    (0..setting.hops.len())
        .map(|k| {
            let [_, dissolved, iso, degraded] = trace.end.hops[k];
            let extracted = (dissolved + iso + degraded) / kettle_m3;
            hop::bitterness_bu(iso * share / kettle_m3, extracted)
        })
        .collect()
}
