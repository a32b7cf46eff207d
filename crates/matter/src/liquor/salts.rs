//! Salts that are dissolved in liquor; it deliberately weighs nothing.

use std::sync::OnceLock;

use numerics::least_squares::{Matrix, non_negative};
use serde::Deserialize;

use super::{
    CA_KG_MOL, CL_KG_MOL, HCO3_KG_MOL, K_KG_MOL, Liquor, MG_KG_MOL, NA_KG_MOL, SO4_KG_MOL,
};
use crate::table;

/// Share of undissolved chalk that acts in a mash (sd 0.15; Troester 2009 saw it lose most effect
/// above 400 to 500 mg/L).
pub const CHALK_ACTIVE_SHARE: f64 = 0.4;

/// A salt: what one gram of it, pure, brings to a litre.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[non_exhaustive]
pub struct Salt {
    /// Name.
    #[serde(rename = "salt")]
    pub name: String,
    /// Formula.
    pub formula: String,
    /// Molar mass, g/mol.
    pub molar_mass_g_mol: f64,
    /// Calcium, mg per g.
    pub ca_mg: f64,
    /// Magnesium, mg per g.
    pub mg_mg: f64,
    /// Sodium, mg per g.
    pub na_mg: f64,
    /// Potassium, mg per g.
    pub k_mg: f64,
    /// Chloride, mg per g.
    pub cl_mg: f64,
    /// Sulfate, mg per g.
    pub so4_mg: f64,
    /// Bicarbonate, mg per g.
    pub hco3_mg: f64,
    /// Alkalinity, meq per g.
    pub alkalinity_meq_g: f64,
    /// Mass of the pure salt per mass as sold (from memory).
    pub purity_mean: f64,
    /// Standard deviation of the purity between lots (from memory).
    pub purity_sd: f64,
    /// Solubility at 20 °C, g/kg; 0 where it sets no limit.
    pub solubility_g_kg: f64,
    /// What a person should know.
    pub note: String,
}

/// All salts of the table.
pub fn salts() -> &'static [Salt] {
    static ROWS: OnceLock<Vec<Salt>> = OnceLock::new();
    ROWS.get_or_init(|| table::rows(include_str!("../../data/salt.csv")))
}

/// The salt of a name, spelt as in the table (capitals do not matter).
pub fn salt(name: &str) -> Option<&'static Salt> {
    salts().iter().find(|salt| salt.name.eq_ignore_ascii_case(name.trim()))
}

impl Liquor {
    /// Dissolves a salt.
    ///
    /// ```text
    /// c_ion ← c_ion + s y_ion/M_ion        y: mass of the ion per mass of salt
    /// ```
    ///
    /// Shape: `pure_kg_kg` is the pure salt (mass as sold times purity) per kg of water. All of it
    /// dissolves; chalk brings as much carbonate as calcium, and in a mash only
    /// [`CHALK_ACTIVE_SHARE`] of it acts.
    ///
    /// | symbol | argument     | unit  | holds for |
    /// |--------|--------------|-------|-----------|
    /// | `s`    | `pure_kg_kg` | kg/kg | 0 ≤ s     |
    /// | `y`    | `salt`       | kg/kg | table     |
    ///
    /// # Errors
    /// None.
    ///
    /// # Source
    /// Standard atomic masses.
    ///
    /// # Example
    /// ```
    /// use matter::liquor::{Liquor, salt};
    /// let gypsum = salt("gypsum").ok_or("no gypsum")?;
    /// let liquor = Liquor::default().with_salt(gypsum, 0.2e-3); // 0.2 g/L
    /// assert!((liquor.calcium_mol_kg - 1.1617e-3).abs() < 1e-6);
    /// # Ok::<(), &str>(())
    /// ```
    #[must_use]
    pub fn with_salt(mut self, salt: &Salt, pure_kg_kg: f64) -> Self {
        let mol = |mg_per_g: f64, kg_mol: f64| 1e-3 * mg_per_g * pure_kg_kg / kg_mol;
        let calcium = mol(salt.ca_mg, CA_KG_MOL);
        self.calcium_mol_kg += calcium;
        self.magnesium_mol_kg += mol(salt.mg_mg, MG_KG_MOL);
        self.sodium_mol_kg += mol(salt.na_mg, NA_KG_MOL);
        self.potassium_mol_kg += mol(salt.k_mg, K_KG_MOL);
        self.chloride_mol_kg += mol(salt.cl_mg, CL_KG_MOL);
        self.sulfate_mol_kg += mol(salt.so4_mg, SO4_KG_MOL);
        self.carbonate_mol_kg += mol(salt.hco3_mg, HCO3_KG_MOL);
        if salt.formula == "CaCO3" {
            self.carbonate_mol_kg += calcium;
        }
        self
    }
}

/// Amounts of salts that bring a liquor nearest to wanted ions.
///
/// ```text
/// minimise Σ_ion (c + Σ_s y_s x_s − wanted)²        x ≥ 0, ions in mg/kg
/// ```
///
/// Shape: calcium, magnesium, sodium, chloride, sulfate; pure kg of each salt per kg of water.
/// Never a negative amount; whether the result is wise (not above 2 g/kg of gypsum) is for the
/// caller to say.
///
/// | symbol   | argument | unit   | holds for |
/// |----------|----------|--------|-----------|
/// | `c`      | `liquor` | mol/kg | 0 ≤ c     |
/// | `wanted` | `wanted` | mol/kg | 0 ≤ c     |
/// | `y_s`    | `salts`  | kg/kg  | table     |
///
/// # Errors
/// None; no amounts if there is nothing to solve.
///
/// # Source
/// Non-negative least squares.
pub fn salts_for_ions(liquor: &Liquor, wanted: &Liquor, salts: &[&Salt]) -> Vec<f64> {
    let ions_of = |l: &Liquor| {
        [
            l.calcium_mol_kg * CA_KG_MOL,
            l.magnesium_mol_kg * MG_KG_MOL,
            l.sodium_mol_kg * NA_KG_MOL,
            l.chloride_mol_kg * CL_KG_MOL,
            l.sulfate_mol_kg * SO4_KG_MOL,
        ]
    };
    let (now, aim) = (ions_of(liquor), ions_of(wanted));
    let missing: Vec<f64> = now.iter().zip(aim).map(|(now, aim)| 1e6 * (aim - now)).collect();
    let mut a = Matrix::zeros(missing.len(), salts.len());
    for (column, salt) in salts.iter().enumerate() {
        let yields = ions_of(&Liquor::default().with_salt(salt, 1.0));
        for (row, kg_kg) in yields.iter().enumerate() {
            a.set(row, column, 1e3 * kg_kg); // mg/kg of ion per g/kg of salt
        }
    }
    match non_negative(&a, &missing) {
        Ok(found) => found.x.iter().map(|g_kg| 1e-3 * g_kg).collect(),
        Err(_) => vec![0.0; salts.len()],
    }
}
