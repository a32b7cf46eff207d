//! pH of a mash: the liquor's charge balance with the acid that the malts take up; it deliberately
//! knows no temperature history.

use numerics::root::find_root;

use super::acids::solve_amount;
use super::{AcidKind, CarbonateConstants, Gas, Liquor, LiquorError, ROOM_C};
use crate::malt::AcidCurve;

/// Factor on Kolbach's calcium term in a mash (geometric sd 1.5; Taylor's series in Briggs et al.).
const CALCIUM_FACTOR: f64 = 1.0;
/// Calcium at which the effect of more of it is halved, mol/kg (from memory, geometric sd 1.6).
const CALCIUM_HALF_MOL_KG: f64 = 8e-3;
/// Calcium at which Kolbach's term counts in full, mol/kg.
const CALCIUM_NORMAL_MOL_KG: f64 = 2e-3;
/// Fall of the pH of mash and wort per K (Briggs et al. 2004; sd 0.0015).
const PH_PER_K: f64 = 0.0078;

/// pH between which a mash is looked for.
const PH_LOW: f64 = 3.0;
const PH_HIGH: f64 = 9.0;

/// pH of a mash, cooled sample.
///
/// ```text
/// Σ m_i [b_i (pH_i − pH) − c_i (pH_i − pH)²] + W charge(pH) − W k (2 Ca/3.5 + 2 Mg/7) s = 0   meq
/// s = (1 + 2/8)/(1 + Ca/8)        Ca in mmol/kg        k = 1
/// ```
///
/// Shape: every term is acid taken up (+) or given off (−) on the way to `pH`. `charge` is the
/// liquor's own balance, so acids and salts added to it count by themselves. In the mash most
/// carbon dioxide leaves within minutes; at pH 5.4 that matters less than 0.01. Spread of a grist
/// beside all this: sd 0.08.
///
/// | symbol | argument   | unit   | holds for |
/// |--------|------------|--------|-----------|
/// | malts  | `malts`    | meq    | the sum over the grist |
/// | `Ca`, …| `liquor`   | mol/kg | 0 ≤ Ca    |
/// | `W`    | `water_kg` | kg     | 0 ≤ W     |
///
/// # Errors
/// [`LiquorError::NoPh`] if nothing between 3 and 9 balances, as without malt and water.
///
/// # Source
/// Charge balance with expanded malt titrations after deLange, MBAA TQ 52(1) 2015; calcium term of
/// Kolbach 1953, flattened after the series of Taylor in Briggs et al., *Brewing: Science and
/// Practice*, 2004. Malt buffers are the weak part: few titrations are published.
pub fn mash_ph(malts: &AcidCurve, liquor: &Liquor, water_kg: f64) -> Result<f64, LiquorError> {
    let k = CarbonateConstants::at(ROOM_C);
    let left = |ph: f64| acid_wanted_mol(malts, liquor, water_kg, &k, ph);
    find_root(left, PH_LOW, PH_HIGH, 1e-10).map_err(|_| LiquorError::NoPh {
        low: PH_LOW,
        high: PH_HIGH,
        strong_ions_mol_kg: liquor.strong_ions_mol_kg(),
    })
}

/// Acid that malts and liquor take up on the way to a pH, mol; falls as the pH rises.
fn acid_wanted_mol(
    malts: &AcidCurve,
    liquor: &Liquor,
    water_kg: f64,
    k: &CarbonateConstants,
    ph: f64,
) -> f64 {
    let (ca, mg) = (liquor.calcium_mol_kg, liquor.magnesium_mol_kg);
    let flattened =
        (1.0 + CALCIUM_NORMAL_MOL_KG / CALCIUM_HALF_MOL_KG) / (1.0 + ca / CALCIUM_HALF_MOL_KG);
    let from_calcium = CALCIUM_FACTOR * (2.0 * ca / 3.5 + 2.0 * mg / 7.0) * flattened;
    1e-3 * malts.acid_meq(ph) + water_kg * (liquor.charge(k, ph, Gas::Closed) - from_calcium)
}

/// Amount of an acid that brings a mash to a pH.
///
/// ```text
/// the balance of [`mash_ph`] with the acid in the liquor = 0 at the wanted pH
/// ```
///
/// Shape: linear but for activities.
///
/// | symbol | argument   | unit   | holds for |
/// |--------|------------|--------|-----------|
/// | malts  | `malts`    | meq    | the sum over the grist |
/// | `Ca`, …| `liquor`   | mol/kg | 0 ≤ Ca    |
/// | `W`    | `water_kg` | kg     | 0 < W     |
/// | kind   | `kind`     | 1      | five      |
/// | `pH`   | `ph`       | pH     | 4 ≤ pH ≤ 7 |
///
/// # Errors
/// [`LiquorError::AcidRaises`] if the mash lies below that pH already; [`LiquorError::NoPh`] if it
/// has none, or no water.
///
/// # Source
/// As [`mash_ph`].
pub fn acid_for_mash_mol(
    malts: &AcidCurve,
    liquor: &Liquor,
    water_kg: f64,
    kind: AcidKind,
    ph: f64,
) -> Result<f64, LiquorError> {
    let from = mash_ph(malts, liquor, water_kg)?;
    if from < ph {
        return Err(LiquorError::AcidRaises { from, wanted: ph });
    }
    let k = CarbonateConstants::at(ROOM_C);
    Ok(solve_amount(|mol| {
        let dosed = liquor.with_acid(kind, mol / water_kg.max(f64::MIN_POSITIVE));
        acid_wanted_mol(malts, &dosed, water_kg, &k, ph)
    }))
}

/// pH of mash or wort at a temperature from that of a sample at 20 °C.
///
/// ```text
/// pH(T) = pH(20) − 0.0078 (T − 20)
/// ```
///
/// Shape: 0.35 lower at 65 °C, 0.45 lower at 78 °C.
///
/// | symbol   | argument | unit | holds for    |
/// |----------|----------|------|--------------|
/// | `pH(20)` | `ph_20`  | pH   | 4 ≤ pH ≤ 7   |
/// | `T`      | `temp_c` | °C   | 0 ≤ T ≤ 100  |
///
/// # Errors
/// None.
///
/// # Source
/// Briggs, Boulton, Brookes, Stevens, *Brewing: Science and Practice*, 2004; sd 0.0015 per K.
///
/// # Example
/// ```
/// assert!((matter::liquor::ph_at_temperature(5.4, 65.0) - 5.05).abs() < 0.01);
/// ```
pub fn ph_at_temperature(ph_20: f64, temp_c: f64) -> f64 {
    ph_20 - PH_PER_K * (temp_c - 20.0)
}
