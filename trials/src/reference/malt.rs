//! Answers to the rows of `reference/checks/malt.csv`.
//!
//! Holds no physics: it hands the inputs of a row to the code and its number back.

use super::Inputs;
use matter::colour::{ebc_from_lovibond, lovibond_from_ebc};
use matter::malt::{
    AcidCurve, Certificate, GristItem, grist, lintner_from_windisch_kolbach, malt_class,
};
use numerics::root::find_root;
use process::strike::{MashMix, first_wort_plato, liquor_for_first_wort_kg_kg};

/// EBC units per SRM unit (EBC = 25 A430, SRM = 12.7 A430, rounded as in use).
const EBC_PER_SRM: f64 = 1.97;

/// The code's number for one row, in the unit of the row.
pub fn answer(quantity: &str, inputs: &Inputs, id: &str) -> Option<f64> {
    if let Some(field) = quantity.strip_suffix(" inside the printed range") {
        return of_class(field, inputs);
    }
    of_analysis(quantity, inputs).or_else(|| of_acid(quantity, inputs, id))
}

fn of_analysis(quantity: &str, inputs: &Inputs) -> Option<f64> {
    Some(match quantity {
        "coarse extract as-is" => of_certificate(inputs)?.0 * 100.0,
        "fine extract as-is" => of_certificate(inputs)?.1 * 100.0,
        "Windisch-Kolbach to Lintner" => lintner_from_windisch_kolbach(inputs.get("wk")?),
        "malt colour, Lovibond to SRM" => ebc_from_lovibond(inputs.get("lovibond")?) / EBC_PER_SRM,
        "malt colour, EBC to Lovibond, older pair" => lovibond_from_ebc(inputs.get("ebc")?),
        "disagreement of the two colour routes" => {
            let lovibond = inputs.get("lovibond")?;
            (2.65 * lovibond - 1.2) / ebc_from_lovibond(lovibond) - 1.0
        }
        "hot-water extract to share of sucrose" => {
            matter::malt::extract_from_hot_water_extract(inputs.get("litre_degrees_per_kg")?)
        }
        "effect of 2 % more moisture on a 12 P wort" => {
            let at = |moisture: f64, liquor_kg_kg| MashMix {
                extract: 0.81 * (1.0 - moisture),
                moisture,
                liquor_kg_kg,
            };
            let liquor_kg_kg = liquor_for_first_wort_kg_kg(&at(0.04, 0.0), 1.0, 12.0);
            first_wort_plato(&at(0.06, liquor_kg_kg), 1.0)
        }
        "grist diastatic power" => {
            let sum = grist(&items(&[("pale malt", 3.0), ("flaked maize", 1.0)])?);
            lintner_from_windisch_kolbach(sum.diastatic_wk)
        }
        "fermentable share of the class extract" => {
            malt_class(inputs.text("class")?)?.fermentable_share()
        }
        _ => return None,
    })
}

/// Coarse and fine extract as weighed of a lot with this certificate.
fn of_certificate(inputs: &Inputs) -> Option<(f64, f64)> {
    let share = |key: &str| inputs.get(key).map(|percent| percent / 100.0);
    let certificate = Certificate {
        moisture: share("moisture_pct"),
        extract_fine_dry: share("fine_db_pct"),
        fine_coarse_dry: share("fine_coarse_pct"),
        ..Certificate::default()
    };
    let class = malt_class("pale malt")?;
    let sum = grist(&[GristItem { class, mass_kg: 1.0, certificate }]);
    Some((sum.extract_coarse, sum.extract_fine))
}

fn items(malts: &[(&str, f64)]) -> Option<Vec<GristItem<'static>>> {
    malts.iter().map(|(name, kg)| GristItem::of(name, *kg)).collect()
}

fn of_acid(quantity: &str, inputs: &Inputs, id: &str) -> Option<f64> {
    let to_ph = inputs.get("to_ph");
    Some(match (id, quantity) {
        (_, "acid for 5 kg pale malt, single slope") => {
            let mut curve = AcidCurve::default();
            curve.add(inputs.get("kg")?, inputs.get("ph_dw")?, -inputs.get("slope")?, 0.0);
            curve.acid_meq(to_ph?)
        }
        (_, "acid for 1 kg of one wheat malt lot") => {
            let mut curve = AcidCurve::default();
            curve.add(1.0, inputs.get("ph_dw")?, -inputs.get("a1")?, -inputs.get("a2")?);
            curve.acid_meq(to_ph?)
        }
        ("M11", _) => own_ph(M11)?,
        ("M12", _) => grist(&items(M11)?).acid.buffer_meq(own_ph(M11)?),
        ("M13", _) => grist(&items(M11)?).acid.acid_meq(5.40),
        ("M14", _) => {
            let with = own_ph(&[("pilsner malt", 99.0), ("acidulated malt", 1.0)])?;
            own_ph(&[("pilsner malt", 100.0)])? - with
        }
        ("M15", _) => {
            let with = own_ph(&[("pale malt", 80.0), ("caramel malt dark", 20.0)])?;
            own_ph(&[("pale malt", 100.0)])? - with
        }
        _ => return None,
    })
}

/// The grist that the rows M11 to M13 name.
const M11: &[(&str, f64)] = &[
    ("pilsner malt", 4.0),
    ("munich malt", 0.5),
    ("caramel malt medium", 0.3),
    ("chocolate malt", 0.1),
];

/// pH of a grist in distilled water.
fn own_ph(malts: &[(&str, f64)]) -> Option<f64> {
    let acid = grist(&items(malts)?).acid;
    find_root(|ph| acid.acid_meq(ph), 3.0, 8.0, 1e-9).ok()
}

fn of_class(field: &str, inputs: &Inputs) -> Option<f64> {
    let class = malt_class(inputs.text("class")?)?;
    Some(match field {
        "extract_fine_db_pct" => class.extract_fine_dry * 100.0,
        "dp_wk" => class.diastatic_wk,
        "colour_ebc" => class.colour_ebc,
        "moisture_pct" => class.moisture * 100.0,
        "ph_dw" => class.ph_distilled,
        _ => return None,
    })
}
