//! Answers to the rows of `reference/checks/liquor.csv`.
//!
//! Holds no physics: it hands the inputs of a row to the code and its number back.

use super::Inputs;
use matter::liquor::{
    Acid, AcidKind, CarbonateConstants, Gas, Liquor, Report, acid, acid_for_mash_mol, mash_ph,
    ph_at_temperature, salt,
};
use matter::malt::{AcidCurve, GristItem, grist, malt_class};
use quantity::ChargeConcentration;

/// The code's number for one row, in the unit of the row.
pub fn answer(quantity: &str, inputs: &Inputs, _id: &str) -> Option<f64> {
    of_constants(quantity, inputs)
        .or_else(|| of_water(quantity, inputs))
        .or_else(|| of_lime_and_chalk(quantity, inputs))
        .or_else(|| of_salts_and_acids(quantity, inputs))
        .or_else(|| of_mash(quantity, inputs))
}

fn of_constants(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let k = || Some(CarbonateConstants::at(inputs.get("t_c")?));
    Some(match quantity {
        "pK1 carbonic acid" => -k()?.log_k1,
        "pK2 carbonic acid" => -k()?.log_k2,
        "log KH of CO2, mol/(kg atm)" => k()?.log_kh,
        "pKsp calcite" => -k()?.log_calcite,
        "1 meq/L as calcium carbonate" => {
            ChargeConcentration::from_milliequivalents_per_litre(1.0).milligrams_caco3_per_litre()
        }
        "1 meq/L in German degrees" => {
            ChargeConcentration::from_milliequivalents_per_litre(1.0).german_degrees()
        }
        _ => return None,
    })
}

/// The water W1 of the rows: alkalinity 2.5 meq/L at pH 7.5, 25 °C.
fn w1() -> Option<Liquor> {
    let report = Report {
        calcium_mg_l: 2.0 * 40.078,
        magnesium_mg_l: 0.4 * 24.305,
        sodium_mg_l: 22.989_77,
        chloride_mg_l: 1.3 * 35.453,
        sulfate_mg_l: 96.056,
        alkalinity_meq_l: 2.5,
        ph: 7.5,
        ..Report::default()
    };
    report.liquor().ok()
}

/// W1 with the strong acid of the row.
fn w1_acidified(inputs: &Inputs) -> Option<Liquor> {
    let mol_kg = 1e-3 * inputs.get_or("acid_mmol_kg", 0.0);
    Some(w1()?.with_acid(AcidKind::Hydrochloric, mol_kg))
}

fn gas(inputs: &Inputs) -> Option<Gas> {
    Some(Gas::Open(10f64.powf(inputs.get("log10_pco2_atm")?)))
}

fn of_water(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let temp_c = inputs.get("t_c");
    let ph = |liquor: Liquor, gas: Gas| liquor.ph(temp_c?, gas).ok();
    Some(match quantity {
        "W1 total carbonate" => 1e3 * w1()?.carbonate_mol_kg,
        "W1 ionic strength" => w1()?.ionic_strength_mol_kg(7.5, 25.0),
        "W1 calcite saturation index" => w1()?.calcite_index(25.0, Gas::Closed).ok()?,
        "pH of W1 heated in a closed vessel" => ph(w1()?, Gas::Closed)?,
        "pH of W1 with strong acid, closed" => ph(w1_acidified(inputs)?, Gas::Closed)?,
        "strong acid to bring W1 to a pH, closed" => {
            1e3 * w1()?.strong_acid_for_ph_mol_kg(inputs.get("ph")?, temp_c?)
        }
        "pH of W1 open to CO2, nothing precipitates" => ph(w1()?, gas(inputs)?)?,
        "pH of W1 acidified to 5.50, then open to CO2" => ph(w1_acidified(inputs)?, gas(inputs)?)?,
        "pure water under CO2" => ph(Liquor::default(), Gas::Open(inputs.get("pco2")?))?,
        "baking soda in pure water, closed" => {
            let mol_kg = 1e-3 * inputs.get("nahco3_mmol_kg")?;
            let soda = salt("baking soda")?;
            let kg_kg = mol_kg * soda.molar_mass_g_mol * 1e-3;
            ph(Liquor::default().with_salt(soda, kg_kg), Gas::Closed)?
        }
        "phosphoric acid in pure water" => {
            let mol_kg = 1e-3 * inputs.get("h3po4_mmol_kg")?;
            ph(Liquor::default().with_acid(AcidKind::Phosphoric, mol_kg), Gas::Closed)?
        }
        "residual alkalinity of W1" => 1e3 * residual(inputs)?,
        "residual alkalinity of W1 as CaCO3" => {
            ChargeConcentration::from_milliequivalents_per_litre(1e3 * residual(inputs)?)
                .milligrams_caco3_per_litre()
        }
        _ => return None,
    })
}

fn residual(inputs: &Inputs) -> Option<f64> {
    let liquor = Liquor {
        calcium_mol_kg: 1e-3 * inputs.get("ca_mmol_l")?,
        magnesium_mol_kg: 1e-3 * inputs.get("mg_mmol_l")?,
        ..Liquor::default()
    };
    Some(liquor.residual_alkalinity_mol_kg(1e-3 * inputs.get("alk_meq_l")?))
}

fn of_lime_and_chalk(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let temp_c = inputs.get("t_c");
    let degassed = || w1()?.settled(temp_c?, gas(inputs)?).ok();
    let limed = || {
        let lime = salt("slaked lime")?;
        let kg_kg = 1e-6 * inputs.get("lime_mmol_kg")? * lime.molar_mass_g_mol;
        w1()?.with_salt(lime, kg_kg).settled(temp_c?, Gas::Closed).ok()
    };
    let chalked = || {
        let kg_kg = 0.5e-3; // more than dissolves
        let start = Liquor::default().with_salt(salt("chalk")?, kg_kg);
        start.settled(temp_c?, gas(inputs)?).ok()
    };
    let ph = |liquor: Liquor| liquor.ph(temp_c?, Gas::Closed).ok();
    Some(match quantity {
        "pH of W1 after CO2 loss and full calcite precipitation" => ph(degassed()?)?,
        "calcium of W1 after CO2 loss and full calcite precipitation" => {
            1e3 * degassed()?.calcium_mol_kg
        }
        "pH of W1 with slaked lime, chalk settled" => ph(limed()?)?,
        "calcium of W1 with slaked lime, chalk settled" => 1e3 * limed()?.calcium_mol_kg,
        "calcite in pure water, open" => ph(chalked()?)?,
        "calcium from calcite in pure water, open" => 1e3 * chalked()?.calcium_mol_kg,
        _ => return None,
    })
}

fn of_salts_and_acids(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let dissolved = || {
        let volume_l = inputs.get("v_l")?;
        let gypsum_kg_kg = 1e-3 * inputs.get("gypsum_g")? / volume_l;
        let chloride_kg_kg = 1e-3 * inputs.get("cacl2_2h2o_g")? / volume_l;
        let with_gypsum = Liquor::default().with_salt(salt("gypsum")?, gypsum_kg_kg);
        Some(with_gypsum.with_salt(salt("calcium chloride dihydrate")?, chloride_kg_kg))
    };
    let lactic = || acid("lactic 88 %");
    let charge = |acid: &Acid| Some(acid.mol_l? * acid.charge(inputs.get("ph")?));
    Some(match quantity {
        "calcium from 2 g gypsum and 2 g calcium chloride dihydrate in 10 L of pure water" => {
            dissolved()?.calcium_mol_kg * 40.078e3
        }
        "sulfate, same" => dissolved()?.sulfate_mol_kg * 96.056e3,
        "chloride, same" => dissolved()?.chloride_mol_kg * 35.453e3,
        "lactic acid 88 % w/w, concentration" => lactic()?.mol_kg() * inputs.get("density_g_ml")?,
        "acid charge of lactic 88 %" => charge(lactic()?)?,
        "acid charge of phosphoric 10 %" => charge(acid("phosphoric 10 %")?)?,
        "lactic 88 % for 20 L of W1 to pH 5.5" => {
            let charge_mol = 1e-3 * inputs.get("acid_meq_l")? * inputs.get("v_l")?;
            1e6 * lactic()?.volume_m3(charge_mol / lactic()?.charge(5.5))?
        }
        _ => return None,
    })
}

/// The made-up malts of a row, `kg:pH:buffer|…`.
fn malts(inputs: &Inputs) -> Option<AcidCurve> {
    let mut curve = AcidCurve::default();
    for malt in inputs.text("malts_kg_phdi_b")?.split('|') {
        let mut numbers = malt.split(':').map(|n| n.parse::<f64>().ok());
        curve.add(numbers.next()??, numbers.next()??, numbers.next()??, 0.0);
    }
    Some(curve)
}

fn of_mash(quantity: &str, inputs: &Inputs) -> Option<f64> {
    let litres = inputs.get("v_l");
    let lactic = || acid("lactic 88 %");
    let mash = |liquor: Liquor| mash_ph(&malts(inputs)?, &liquor, litres?).ok();
    Some(match quantity {
        "grist alone in distilled water" => {
            mash_ph(&malts(inputs)?, &Liquor::default(), 0.0).ok()?
        }
        "mash pH of the test grist with 14 L of W1, no Ca, Mg term" => {
            // the same charge in sodium
            let w1 = w1()?;
            let sodium_mol_kg = w1.sodium_mol_kg + 2.0 * w1.hardness_mol_kg();
            mash(Liquor { calcium_mol_kg: 0.0, magnesium_mol_kg: 0.0, sodium_mol_kg, ..w1 })?
        }
        "mash pH of the test grist with 14 L of W1, with Ca, Mg term" => mash(w1()?)?,
        "mash pH of the test grist with 14 L of W1, 2 mL lactic 88 %" => {
            let mol_kg = 2e-3 * lactic()?.mol_l? / litres?;
            mash(w1()?.with_acid(AcidKind::Lactic, mol_kg))?
        }
        "lactic 88 % to bring that mash to pH 5.40" => {
            let mol =
                acid_for_mash_mol(&malts(inputs)?, &w1()?, litres?, AcidKind::Lactic, 5.40).ok()?;
            1e6 * lactic()?.volume_m3(mol)?
        }
        "mash pH as calcium rises (trend only)" => {
            // thickness and malt are not told: 6 L per kg, and a malt that gives the first row
            let calcium_mol_kg = inputs.get("ca_mg_l")? * 1e-6 / 40.078e-3;
            let liquor = Liquor {
                calcium_mol_kg,
                chloride_mol_kg: 2.0 * calcium_mol_kg,
                ..Liquor::default()
            };
            let mut malt = AcidCurve::default();
            malt.add(1.0, 5.74, 40.0, 0.0);
            mash_ph(&malt, &liquor, 6.0).ok()?
        }
        "fall of mash pH from room temperature to 65 C"
        | "fall of mash pH from room temperature to 78 C" => {
            5.4 - ph_at_temperature(5.4, inputs.get("t_c")?)
        }
        "malt in distilled water" => match inputs.text("malt")? {
            "base" => malt_class("pilsner malt")?.ph_distilled,
            _ => malt_class("caramel malt medium")?.ph_distilled,
        },
        "change of mash pH by dark malt" => {
            let share = inputs.get("share")?;
            let ph = |dark: f64| {
                let items = [
                    GristItem::of("pale malt", 1.0 - dark)?,
                    GristItem::of("caramel malt dark", dark)?,
                ];
                mash_ph(&grist(&items).acid, &Liquor::default(), 3.0).ok()
            };
            ph(share)? - ph(0.0)?
        }
        _ => return None,
    })
}
