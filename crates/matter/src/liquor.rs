//! Brewing liquor: ions, carbonate, salts, acids, its pH and that of a mash; it deliberately knows
//! no vessel and no time.
//!
//! Strong ions and total carbonate are conserved when liquors mix; pH and alkalinity are computed
//! from them and never mixed. Amounts are mol per kg of water; 1 L of cold liquor counts as 1 kg
//! here (0.2 % at 20 °C, far below what any water report knows).

mod acids;
mod carbonate;
mod chalk;
mod mash_acidity;
mod report;
mod salts;

pub use acids::{Acid, AcidKind, acid, acids, charge_per_mol};
pub use carbonate::{CarbonateConstants, Gas};
pub use chalk::{CARBON_DIOXIDE_LOSS, CHALK_AFTER_BOIL, CHALK_AFTER_HEATING, LossRates};
pub use mash_acidity::{acid_for_mash_mol, mash_ph, ph_at_temperature};
pub use report::Report;
pub use salts::{CHALK_ACTIVE_SHARE, Salt, salt, salts, salts_for_ions};

/// Molar masses, kg/mol (standard atomic masses).
pub(crate) const CA_KG_MOL: f64 = 40.078e-3;
pub(crate) const MG_KG_MOL: f64 = 24.305e-3;
pub(crate) const NA_KG_MOL: f64 = 22.989_77e-3;
pub(crate) const K_KG_MOL: f64 = 39.0983e-3;
pub(crate) const CL_KG_MOL: f64 = 35.453e-3;
pub(crate) const SO4_KG_MOL: f64 = 96.056e-3;
pub(crate) const NO3_KG_MOL: f64 = 62.004e-3;
pub(crate) const HCO3_KG_MOL: f64 = 61.016e-3;

/// Room temperature, at which pH is quoted and a mash balanced, °C.
pub const ROOM_C: f64 = 25.0;

/// What is dissolved in liquor, mol per kg of water.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Liquor {
    /// Calcium, free and in pairs.
    pub calcium_mol_kg: f64,
    /// Magnesium.
    pub magnesium_mol_kg: f64,
    /// Sodium.
    pub sodium_mol_kg: f64,
    /// Potassium.
    pub potassium_mol_kg: f64,
    /// Chloride.
    pub chloride_mol_kg: f64,
    /// Sulfate.
    pub sulfate_mol_kg: f64,
    /// Nitrate.
    pub nitrate_mol_kg: f64,
    /// Total carbonate: carbon dioxide, bicarbonate, carbonate and their pairs.
    pub carbonate_mol_kg: f64,
    /// Lactic acid and lactate.
    pub lactate_mol_kg: f64,
    /// Phosphoric acid and phosphate.
    pub phosphate_mol_kg: f64,
    /// Citric acid and citrate.
    pub citrate_mol_kg: f64,
}

/// Why a liquor or a mash has no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum LiquorError {
    /// Charges cannot balance within the range of pH.
    #[error(
        "no pH between {low} and {high} balances a strong ion difference of \
         {strong_ions_mol_kg:.4} mol/kg: check the ions, or add less acid or lime"
    )]
    NoPh {
        /// Lowest pH tried.
        low: f64,
        /// Highest pH tried.
        high: f64,
        /// Strong cations less strong anions.
        strong_ions_mol_kg: f64,
    },
    /// A reported value is not one.
    #[error("{field} is {value}: expected {expected}; read it again from the water report")]
    Report {
        /// Which value.
        field: &'static str,
        /// What was given.
        value: f64,
        /// What would do.
        expected: &'static str,
    },
    /// The wanted pH is above what the liquor has: acid cannot raise it.
    #[error("acid cannot raise pH {from:.2} to {wanted:.2}: choose a lower target or use soda")]
    AcidRaises {
        /// pH without acid.
        from: f64,
        /// Wanted pH.
        wanted: f64,
    },
}

impl Liquor {
    /// Strong cations less strong anions.
    ///
    /// ```text
    /// SID = 2 Ca + 2 Mg + Na + K − Cl − 2 SO4 − NO3
    /// ```
    ///
    /// Shape: equals the alkalinity of a liquor without added weak acid.
    ///
    /// | symbol       | argument | unit   | holds for |
    /// |--------------|----------|--------|-----------|
    /// | `Ca`, …      | `self`   | mol/kg | 0 ≤ each  |
    ///
    /// # Errors
    /// None.
    ///
    /// # Source
    /// Electroneutrality.
    pub fn strong_ions_mol_kg(&self) -> f64 {
        2.0 * (self.calcium_mol_kg + self.magnesium_mol_kg - self.sulfate_mol_kg)
            + self.sodium_mol_kg
            + self.potassium_mol_kg
            - self.chloride_mol_kg
            - self.nitrate_mol_kg
    }

    /// Mixes two liquors: every amount is conserved.
    ///
    /// ```text
    /// c = (m_1 c_1 + m_2 c_2)/(m_1 + m_2)        for every ion and for total carbonate
    /// ```
    ///
    /// Shape: masses of water; nothing falls out and no gas leaves.
    ///
    /// | symbol | argument       | unit   | holds for |
    /// |--------|----------------|--------|-----------|
    /// | `c_1`  | `self`         | mol/kg | 0 ≤ c     |
    /// | `m_1`  | `kg`           | kg     | 0 ≤ m     |
    /// | `c_2`  | `other`        | mol/kg | 0 ≤ c     |
    /// | `m_2`  | `other_kg`     | kg     | 0 ≤ m     |
    ///
    /// # Errors
    /// None; without mass, `self` comes back.
    ///
    /// # Source
    /// Mass balance.
    pub fn mixed(&self, kg: f64, other: &Self, other_kg: f64) -> Self {
        let total_kg = kg + other_kg;
        if total_kg <= 0.0 {
            return *self;
        }
        let part = other_kg / total_kg;
        let mix = |a: f64, b: f64| a + part * (b - a);
        Self {
            calcium_mol_kg: mix(self.calcium_mol_kg, other.calcium_mol_kg),
            magnesium_mol_kg: mix(self.magnesium_mol_kg, other.magnesium_mol_kg),
            sodium_mol_kg: mix(self.sodium_mol_kg, other.sodium_mol_kg),
            potassium_mol_kg: mix(self.potassium_mol_kg, other.potassium_mol_kg),
            chloride_mol_kg: mix(self.chloride_mol_kg, other.chloride_mol_kg),
            sulfate_mol_kg: mix(self.sulfate_mol_kg, other.sulfate_mol_kg),
            nitrate_mol_kg: mix(self.nitrate_mol_kg, other.nitrate_mol_kg),
            carbonate_mol_kg: mix(self.carbonate_mol_kg, other.carbonate_mol_kg),
            lactate_mol_kg: mix(self.lactate_mol_kg, other.lactate_mol_kg),
            phosphate_mol_kg: mix(self.phosphate_mol_kg, other.phosphate_mol_kg),
            citrate_mol_kg: mix(self.citrate_mol_kg, other.citrate_mol_kg),
        }
    }

    /// Residual alkalinity, for display only.
    ///
    /// ```text
    /// RA = alk − Ca/3.5 − Mg/7        in equivalents: Ca and Mg count twice their mol
    /// ```
    ///
    /// Shape: Kolbach's rule was for cast wort of 12 °P; a mash is solved by [`mash_ph`].
    ///
    /// | symbol | argument            | unit   | holds for |
    /// |--------|---------------------|--------|-----------|
    /// | `alk`  | `alkalinity_mol_kg` | mol/kg | any       |
    /// | `Ca`   | `self`              | mol/kg | 0 ≤ Ca    |
    ///
    /// # Errors
    /// None.
    ///
    /// # Source
    /// Kolbach 1953, as widely quoted.
    ///
    /// # Example
    /// ```
    /// use matter::liquor::Liquor;
    /// let water =
    ///     Liquor { calcium_mol_kg: 2.0e-3, magnesium_mol_kg: 0.4e-3, ..Liquor::default() };
    /// assert!((water.residual_alkalinity_mol_kg(2.5e-3) - 1.2429e-3).abs() < 1e-6);
    /// ```
    pub fn residual_alkalinity_mol_kg(&self, alkalinity_mol_kg: f64) -> f64 {
        alkalinity_mol_kg - 2.0 * self.calcium_mol_kg / 3.5 - 2.0 * self.magnesium_mol_kg / 7.0
    }

    /// Calcium and magnesium together, mol/kg.
    pub fn hardness_mol_kg(&self) -> f64 {
        self.calcium_mol_kg + self.magnesium_mol_kg
    }
}
