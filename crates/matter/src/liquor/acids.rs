//! Acids as sold and the charge they give at a pH; it deliberately knows no mash.

use std::sync::OnceLock;

use numerics::math::pow10;
use serde::Deserialize;

use super::{Gas, Liquor, LiquorError, ROOM_C};
use crate::table;

/// pKa of lactic acid, 25 °C (CRC handbook, from memory).
pub(crate) const LACTIC_PK: [f64; 1] = [3.86];
/// pKa of phosphoric acid, 25 °C (CRC handbook, from memory).
pub(crate) const PHOSPHORIC_PK: [f64; 3] = [2.148, 7.198, 12.35];
/// pKa of citric acid, 25 °C (CRC handbook, from memory).
pub(crate) const CITRIC_PK: [f64; 3] = [3.13, 4.76, 6.40];

/// Which acid it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AcidKind {
    /// Lactic.
    Lactic,
    /// Phosphoric.
    Phosphoric,
    /// Citric.
    Citric,
    /// Hydrochloric: counts as chloride.
    Hydrochloric,
    /// Sulfuric: counts as sulfate.
    Sulfuric,
}

impl AcidKind {
    fn of(name: &str) -> Self {
        let starts = |word| name.starts_with(word);
        match () {
            () if starts("phosphoric") => Self::Phosphoric,
            () if starts("citric") => Self::Citric,
            () if starts("hydrochloric") => Self::Hydrochloric,
            () if starts("sulfuric") => Self::Sulfuric,
            () => Self::Lactic,
        }
    }
}

/// An acid as sold.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[non_exhaustive]
pub struct Acid {
    /// Name with its strength.
    #[serde(rename = "acid")]
    pub name: String,
    /// Mass of acid per mass as sold (a lot differs by 2 %, from memory).
    pub strength: f64,
    /// Density, g/mL at 20 °C; none for crystals.
    pub density_g_ml: Option<f64>,
    /// Molar mass, g/mol.
    pub molar_mass_g_mol: f64,
    /// Amount per volume, mol/L; none for crystals.
    pub mol_l: Option<f64>,
    /// First acid constant.
    pub pka1: f64,
    /// Second acid constant.
    pub pka2: Option<f64>,
    /// Third acid constant.
    pub pka3: Option<f64>,
    /// What it leaves in the beer.
    pub anion: String,
    /// What to beware of; a reminder, not a classification.
    pub care: String,
}

impl Acid {
    /// Which acid it is.
    pub fn kind(&self) -> AcidKind {
        AcidKind::of(&self.name)
    }

    /// Amount per mass as sold, mol/kg.
    pub fn mol_kg(&self) -> f64 {
        1000.0 * self.strength / self.molar_mass_g_mol
    }

    /// Volume that holds an amount, m³; `None` for crystals.
    pub fn volume_m3(&self, amount_mol: f64) -> Option<f64> {
        Some(amount_mol / self.mol_kg() / (1000.0 * self.density_g_ml?))
    }

    /// Charge that a mol gives at a pH, by the printed constants; see [`charge_per_mol`].
    pub fn charge(&self, ph: f64) -> f64 {
        let pk = [Some(self.pka1), self.pka2, self.pka3];
        let known: Vec<f64> = pk.into_iter().flatten().collect();
        charge_per_mol(&known, ph)
    }
}

/// All acids of the table.
pub fn acids() -> &'static [Acid] {
    static ROWS: OnceLock<Vec<Acid>> = OnceLock::new();
    ROWS.get_or_init(|| table::rows(include_str!("../../data/acid.csv")))
}

/// The acid of a name, spelt as in the table (capitals do not matter).
pub fn acid(name: &str) -> Option<&'static Acid> {
    acids().iter().find(|acid| acid.name.eq_ignore_ascii_case(name.trim()))
}

/// Charge that a mol of acid gives at a pH, without activities.
///
/// ```text
/// n = (K1 h² + 2 K1 K2 h + 3 K1 K2 K3)/(h³ + K1 h² + K1 K2 h + K1 K2 K3)      h = 10^−pH
/// ```
///
/// Shape: for one or two constants the later terms are missing.
///
/// | symbol | argument | unit | holds for         |
/// |--------|----------|------|-------------------|
/// | `pKa`  | `pk`     | 1    | one to three      |
/// | `pH`   | `ph`     | pH   | 0 ≤ pH ≤ 14       |
///
/// # Errors
/// None.
///
/// # Source
/// Mass action.
///
/// # Example
/// ```
/// let n = matter::liquor::charge_per_mol(&[3.86], 5.4);
/// assert!((n - 0.972).abs() < 0.001);
/// ```
pub fn charge_per_mol(pk: &[f64], ph: f64) -> f64 {
    charge_with(pk, pow10(-ph), 1.0).0
}

/// Mean charge and mean square charge of a mol, with the activity coefficient of one charge.
pub(crate) fn charge_with(pk: &[f64], h: f64, g1: f64) -> (f64, f64) {
    // Constant in concentrations: K g_(z−1)/g_z with g_z = g1^(z²), h an activity.
    let mut term = 1.0;
    let mut sums = (1.0, 0.0, 0.0);
    let mut g_step = g1; // g_z/g_(z−1) = g1^(2z − 1)
    for (z, k) in (1..).zip(pk) {
        term *= pow10(-k) / (g_step * h);
        g_step *= g1 * g1;
        let z = f64::from(z);
        sums = (sums.0 + term, sums.1 + z * term, sums.2 + z * z * term);
    }
    (sums.1 / sums.0, sums.2 / sums.0)
}

impl Liquor {
    /// Adds an acid: an amount per kg of water.
    ///
    /// ```text
    /// c ← c + a        hydrochloric adds chloride, sulfuric sulfate
    /// ```
    ///
    /// Shape: nothing else of the bottle is counted.
    ///
    /// | symbol | argument        | unit   | holds for |
    /// |--------|-----------------|--------|-----------|
    /// | `a`    | `amount_mol_kg` | mol/kg | 0 ≤ a     |
    /// | kind   | `kind`          | 1      | five      |
    ///
    /// # Errors
    /// None.
    ///
    /// # Source
    /// Mass balance.
    #[must_use]
    pub fn with_acid(mut self, kind: AcidKind, amount_mol_kg: f64) -> Self {
        let amount = match kind {
            AcidKind::Lactic => &mut self.lactate_mol_kg,
            AcidKind::Phosphoric => &mut self.phosphate_mol_kg,
            AcidKind::Citric => &mut self.citrate_mol_kg,
            AcidKind::Hydrochloric => &mut self.chloride_mol_kg,
            AcidKind::Sulfuric => &mut self.sulfate_mol_kg,
        };
        *amount += amount_mol_kg;
        self
    }

    /// Amount of an acid per kg of water that brings the liquor to a pH.
    ///
    /// ```text
    /// charge(pH) of the liquor with the acid = 0        linear in the acid but for activities
    /// ```
    ///
    /// Shape: closed. Dose by this, not by a meter: gas that leaves later raises the reading.
    ///
    /// | symbol | argument | unit | holds for    |
    /// |--------|----------|------|--------------|
    /// | kind   | `kind`   | 1    | five         |
    /// | `pH`   | `ph`     | pH   | 3 ≤ pH ≤ 9   |
    /// | `t`    | `temp_c` | °C   | 0 ≤ t ≤ 100  |
    ///
    /// # Errors
    /// [`LiquorError::AcidRaises`] if the liquor lies below that pH already;
    /// [`LiquorError::NoPh`] if it has no pH.
    ///
    /// # Source
    /// [`Self::charge_mol_kg`].
    pub fn acid_for_ph_mol_kg(
        &self,
        kind: AcidKind,
        ph: f64,
        temp_c: f64,
    ) -> Result<f64, LiquorError> {
        let left = |amount| self.with_acid(kind, amount).charge_mol_kg(ph, temp_c, Gas::Closed);
        if left(0.0) < 0.0 {
            let from = self.ph(temp_c, Gas::Closed)?;
            return Err(LiquorError::AcidRaises { from, wanted: ph });
        }
        Ok(solve_amount(left))
    }

    /// pH at room temperature, closed: what a report or a cooled sample shows.
    ///
    /// # Errors
    /// As [`Self::ph`].
    pub fn ph_at_room(&self) -> Result<f64, LiquorError> {
        self.ph(ROOM_C, Gas::Closed)
    }
}

/// Amount at which a falling, nearly straight function is zero, by the secant rule from 0.
pub(crate) fn solve_amount(left: impl Fn(f64) -> f64) -> f64 {
    let (mut old, mut f_old) = (0.0, left(0.0));
    let mut new = f_old.max(1e-9);
    for _ in 0..20 {
        let f_new = left(new);
        if f_new == f_old || (new - old).abs() < 1e-15 {
            break;
        }
        let next = new - f_new * (new - old) / (f_new - f_old);
        (old, f_old, new) = (new, f_new, next);
    }
    new
}
