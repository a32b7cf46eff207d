//! The liquor of the day: what salts and acids make of the mash, and how much acid a wanted pH
//! asks for. It knows no vessel.

use crate::error::PlanError;
use brew::{Brew, LiquorUse};
use matter::liquor::{self, Liquor, Report};
use matter::malt::{AcidCurve, Grist};

/// Fall of pH from the mash to the boiled wort: 0.15 over an hour's boil, standard deviation 0.07
/// from lot to lot (common practice, no source).
pub(crate) const FALL_TO_WORT: f64 = 0.15;

/// What was chosen for the liquor.
#[derive(Debug, Clone)]
pub(crate) struct LiquorChoice {
    /// pH of the mash, cooled sample.
    pub(crate) mash_ph: f64,
    /// What goes in: what, amount, unit, into what.
    pub(crate) doses: Vec<Dose>,
    /// What was not stated.
    pub(crate) assumed: Vec<String>,
}

/// A salt or an acid to be weighed or measured.
#[derive(Debug, Clone)]
pub(crate) struct Dose {
    pub(crate) what: String,
    pub(crate) amount: f64,
    pub(crate) unit: &'static str,
    pub(crate) to: LiquorUse,
    pub(crate) is_acid: bool,
}

impl Dose {
    /// An acid, by its volume.
    fn acid(what: &str, ml: f64, to: LiquorUse) -> Dose {
        Dose { what: what.into(), amount: ml, unit: "mL", to, is_acid: true }
    }
}

/// Assumed where no analysis was given, meq/L and mmol/L (our choice).
const ALKALINITY_MEQ_L: f64 = 2.0;
const CALCIUM_MMOL_L: f64 = 1.5;

fn report(brew: &Brew, assumed: &mut Vec<String>) -> Report {
    let a = &brew.liquor.analysis;
    let mg_l = |v: &Option<quantity::Stated<quantity::MassConcentration>>| {
        v.as_ref().map(|s| s.value.milligrams_per_litre())
    };
    let alkalinity_meq_l = a.alkalinity.as_ref().map_or_else(
        || {
            assumed.push(format!("alkalinity of the liquor {ALKALINITY_MEQ_L} meq/L"));
            ALKALINITY_MEQ_L
        },
        |s| s.value.milliequivalents_per_litre(),
    );
    let calcium_mg_l = mg_l(&a.calcium).unwrap_or_else(|| {
        assumed.push(format!("calcium of the liquor {:.0} mg/L", CALCIUM_MMOL_L * 40.078));
        CALCIUM_MMOL_L * 40.078
    });
    Report {
        calcium_mg_l,
        magnesium_mg_l: mg_l(&a.magnesium).unwrap_or(0.0),
        sodium_mg_l: mg_l(&a.sodium).unwrap_or(0.0),
        chloride_mg_l: mg_l(&a.chloride).unwrap_or(0.0),
        sulfate_mg_l: mg_l(&a.sulphate).unwrap_or(0.0),
        alkalinity_meq_l,
        ph: a.ph.unwrap_or(7.5),
        ..Report::default()
    }
}

/// The grist's acid curve for a mass of it.
fn scaled(curve: &AcidCurve, factor: f64) -> AcidCurve {
    AcidCurve {
        constant_meq: factor * curve.constant_meq,
        linear_meq: factor * curve.linear_meq,
        square_meq: factor * curve.square_meq,
    }
}

/// The liquor with what a report leaves open in charge counted as sodium or chloride.
fn closed(liquor: Liquor, alkalinity_meq_l: f64) -> Liquor {
    let open_mol_kg = 1e-3 * alkalinity_meq_l - liquor.strong_ions_mol_kg();
    Liquor {
        sodium_mol_kg: liquor.sodium_mol_kg + open_mol_kg.max(0.0),
        chloride_mol_kg: liquor.chloride_mol_kg + (-open_mol_kg).max(0.0),
        ..liquor
    }
}

/// Liquor that a dose is stirred into, kg; what goes into the sparge does not reach the mash.
fn into_kg(to: LiquorUse, strike_kg: f64, all_kg: f64) -> f64 {
    match to {
        LiquorUse::All => all_kg,
        LiquorUse::Strike => strike_kg,
        LiquorUse::Sparge => f64::INFINITY,
    }
}

/// Salts and acids as stated, the acid found where the brew asks for a pH.
pub(crate) fn choose(
    brew: &Brew,
    grist: &Grist,
    grist_kg: f64,
    strike_kg: f64,
    all_kg: f64,
) -> Result<LiquorChoice, PlanError> {
    let mut assumed = Vec::new();
    let mut doses = Vec::new();
    let no = |e: liquor::LiquorError| {
        PlanError::not_possible(format!("the liquor: {e}"), "check its analysis and its acids")
    };
    let seen = report(brew, &mut assumed);
    let mut strike = closed(seen.liquor().map_err(no)?, seen.alkalinity_meq_l);
    for salt in &brew.liquor.salts {
        let Some(known) = liquor::salt(&salt.salt) else { continue };
        let kg = salt.mass.value.kilograms();
        let into_kg = into_kg(salt.to, strike_kg, all_kg);
        strike = strike.with_salt(known, kg * known.purity_mean / into_kg);
        doses.push(Dose {
            what: salt.salt.clone(),
            amount: 1e3 * kg,
            unit: "g",
            to: salt.to,
            is_acid: false,
        });
    }
    let curve = scaled(&grist.acid, grist_kg / grist.mass_kg.max(1e-9));
    let mut to_find = None;
    for acid in &brew.liquor.acids {
        let Some(known) = liquor::acid(&acid.acid) else { continue };
        let Some(volume) = &acid.volume else {
            to_find = Some((acid, known));
            continue;
        };
        let litres = volume.value.litres();
        let mol = known.mol_l.unwrap_or(0.0) * litres;
        let into_kg = into_kg(acid.to, strike_kg, all_kg);
        strike = strike.with_acid(known.kind(), mol / into_kg);
        doses.push(Dose::acid(&acid.acid, 1e3 * litres, acid.to));
    }
    if brew.liquor.find || to_find.is_some() {
        let wanted = brew.liquor.mash_ph.unwrap_or(5.4);
        let known = to_find.map(|(_, k)| k).or_else(|| liquor::acid("lactic 80 %"));
        if let Some(known) = known {
            let found = liquor::acid_for_mash_mol(&curve, &strike, strike_kg, known.kind(), wanted);
            match found {
                Ok(mol) => {
                    strike = strike.with_acid(known.kind(), mol / strike_kg);
                    let ml = known.mol_l.map_or(0.0, |m| 1e3 * mol / m);
                    doses.push(Dose::acid(&known.name, ml, LiquorUse::Strike));
                }
                Err(liquor::LiquorError::AcidRaises { .. }) => {}
                Err(e) => return Err(no(e)),
            }
        }
    }
    let mash_ph = liquor::mash_ph(&curve, &strike, strike_kg).map_err(no)?;
    Ok(LiquorChoice { mash_ph, doses, assumed })
}
