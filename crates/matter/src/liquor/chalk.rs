//! Chalk that falls out of hot or degassed liquor, and the rates at which gas leaves; it
//! deliberately integrates nothing.

use numerics::math::log10;
use numerics::root::find_root;

use super::{CarbonateConstants, Gas, Liquor, LiquorError};

/// Rates at which carbon dioxide leaves, 1/s: `dC_T/dt = −k_c ([CO2] − KH p)`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LossRates {
    /// Still, under a lid.
    pub still_covered_per_s: f64,
    /// Still, open, 0.3 m deep.
    pub still_open_per_s: f64,
    /// Heated or stirred.
    pub heated_per_s: f64,
    /// Boiling.
    pub boiling_per_s: f64,
}

/// Rates from memory, priors (geometric sd 2; boiling 1.5).
pub const CARBON_DIOXIDE_LOSS: LossRates = LossRates {
    still_covered_per_s: 2e-5,
    still_open_per_s: 7e-5,
    heated_per_s: 5e-4,
    boiling_per_s: 1e-2,
};

/// Share of the way to equilibrium after 15 min boil, settled (from memory, sd 0.08).
pub const CHALK_AFTER_BOIL: f64 = 0.85;
/// Share of the way after heating to 80 °C without boil (from memory, sd 0.10).
pub const CHALK_AFTER_HEATING: f64 = 0.15;

impl Liquor {
    /// Saturation index of calcite.
    ///
    /// ```text
    /// SI = log10(a_Ca a_CO3/Ks)
    /// ```
    ///
    /// Shape: above 0 chalk can fall out.
    ///
    /// | symbol | argument | unit | holds for    |
    /// |--------|----------|------|--------------|
    /// | `t`    | `temp_c` | °C   | 0 ≤ t ≤ 100  |
    /// | `gas`  | `gas`    | atm  | 0 ≤ p        |
    ///
    /// # Errors
    /// [`LiquorError::NoPh`].
    ///
    /// # Source
    /// Constants of [`CarbonateConstants`]. Checked against PHREEQC in `reference/checks`.
    pub fn calcite_index(&self, temp_c: f64, gas: Gas) -> Result<f64, LiquorError> {
        self.index_with(&CarbonateConstants::at(temp_c), gas)
    }

    fn index_with(&self, k: &CarbonateConstants, gas: Gas) -> Result<f64, LiquorError> {
        let ph = self.ph_with(k, gas)?;
        let s = self.species(k, ph, gas);
        let g1 = k.activity(s.ionic_strength);
        let product = (s.free_calcium * s.free_carbonate).max(1e-300);
        Ok(log10(product) + 8.0 * log10(g1) - k.log_calcite)
    }

    /// The liquor once all chalk that can has fallen out.
    ///
    /// ```text
    /// Ca − x, C_T − x        with x so that SI = 0, x ≥ 0; C_T then follows the gas if open
    /// ```
    ///
    /// Shape: the end state. [`CHALK_AFTER_BOIL`] and [`CHALK_AFTER_HEATING`] say how far a home
    /// kettle gets. One mol of chalk takes two equivalents of alkalinity with it.
    ///
    /// | symbol | argument | unit | holds for    |
    /// |--------|----------|------|--------------|
    /// | `t`    | `temp_c` | °C   | 0 ≤ t ≤ 100  |
    /// | `gas`  | `gas`    | atm  | 0 ≤ p        |
    ///
    /// # Errors
    /// [`LiquorError::NoPh`].
    ///
    /// # Source
    /// Constants of [`CarbonateConstants`]. Checked against PHREEQC in `reference/checks`.
    pub fn settled(&self, temp_c: f64, gas: Gas) -> Result<Self, LiquorError> {
        let k = CarbonateConstants::at(temp_c);
        let without = |x: f64| Self {
            calcium_mol_kg: self.calcium_mol_kg - x,
            carbonate_mol_kg: self.carbonate_mol_kg - x,
            ..*self
        };
        let index = |x: f64| without(x).index_with(&k, gas).unwrap_or(f64::NAN);
        let mut fallen = 0.0;
        if self.index_with(&k, gas)? > 0.0 {
            let most = match gas {
                Gas::Closed => self.calcium_mol_kg.min(self.carbonate_mol_kg),
                Gas::Open(_) => self.calcium_mol_kg,
            };
            // At most a hair less than all: then the index is far below zero.
            fallen = find_root(index, 0.0, most * (1.0 - 1e-9), 1e-12).map_err(|_| {
                LiquorError::NoPh {
                    low: 1.0,
                    high: 13.0,
                    strong_ions_mol_kg: self.strong_ions_mol_kg(),
                }
            })?;
        }
        let settled = without(fallen);
        match gas {
            Gas::Closed => Ok(settled),
            Gas::Open(pressure_atm) => settled.degassed(temp_c, pressure_atm),
        }
    }
}
