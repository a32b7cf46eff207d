//! The charge balance of liquor: carbonate, its two pairs with calcium, weak acids, activities;
//! it deliberately forms no solid (see the module on chalk).

use numerics::math::{log10, pow10};
use numerics::root::find_root;

use super::acids::{CITRIC_PK, LACTIC_PK, PHOSPHORIC_PK, charge_with};
use super::{Liquor, LiquorError};
use crate::water::ZERO_C_K;

/// Lowest and highest pH that is looked for.
const PH_LOW: f64 = 1.0;
const PH_HIGH: f64 = 13.0;

/// Whether carbon dioxide can leave.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Gas {
    /// Closed: total carbonate stays.
    Closed,
    /// Open to gas of this partial pressure of carbon dioxide, atm; total carbonate follows.
    Open(f64),
}

/// Constants of the carbonate system at one temperature, log10 (mol/kg, atm).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CarbonateConstants {
    /// CO2 + H2O = H+ + HCO3−.
    pub log_k1: f64,
    /// HCO3− = H+ + CO3−−.
    pub log_k2: f64,
    /// Carbon dioxide in water per pressure, mol/(kg atm).
    pub log_kh: f64,
    /// Calcite.
    pub log_calcite: f64,
    /// Ca++ + HCO3− = CaHCO3+.
    pub log_bicarbonate_pair: f64,
    /// Ca++ + CO3−− = CaCO3 in solution.
    pub log_carbonate_pair: f64,
    /// Water.
    pub log_kw: f64,
    /// Factor `A` of the activity law.
    pub activity_a: f64,
}

impl CarbonateConstants {
    /// Constants at a temperature.
    ///
    /// ```text
    /// log K1 = −356.3094 − 0.06091964 T + 21834.37/T + 126.8339 log T − 1684915/T²
    /// log K2 = −107.8871 − 0.03252849 T + 5151.79/T + 38.92561 log T − 563713.9/T²
    /// log KH = 108.3865 + 0.01985076 T − 6919.53/T − 40.45154 log T + 669365/T²
    /// log Ks = −171.9065 − 0.077993 T + 2839.319/T + 71.595 log T
    /// log Kb = 1209.120 + 0.31294 T − 34765.05/T − 478.782 log T
    /// log Kc = −1228.732 − 0.299444 T + 35512.75/T + 485.818 log T
    /// pKw = 4470.99/T − 6.0875 + 0.01706 T
    /// A = 1.82483e6/(e T)^1.5      e = 87.740 − 0.40008 t + 9.398e-4 t² − 1.410e-6 t³
    /// ```
    ///
    /// Shape: `T` in K, `t` in °C. Equal to PHREEQC's to 0.0003; pKw is 0.02 high at 95 °C.
    ///
    /// | symbol | argument | unit | holds for   |
    /// |--------|----------|------|-------------|
    /// | `t`    | `temp_c` | °C   | 0 ≤ t ≤ 100 |
    ///
    /// # Errors
    /// None.
    ///
    /// # Source
    /// Plummer & Busenberg, Geochim. Cosmochim. Acta 46 (1982) 1011; pKw in the form of Harned and
    /// Hamer; dielectric constant of Malmberg & Maryott 1956. Checked in `reference/checks`.
    ///
    /// # Example
    /// ```
    /// let k = matter::liquor::CarbonateConstants::at(25.0);
    /// assert!((k.log_k1 + 6.3519).abs() < 0.001);
    /// ```
    pub fn at(temp_c: f64) -> Self {
        let t = temp_c + ZERO_C_K;
        let lg = log10(t);
        let dielectric = 87.740 + temp_c * (-0.400_08 + temp_c * (9.398e-4 - temp_c * 1.410e-6));
        let et = dielectric * t;
        Self {
            log_k1: -356.3094 - 0.060_919_64 * t + 21_834.37 / t + 126.8339 * lg
                - 1_684_915.0 / (t * t),
            log_k2: -107.8871 - 0.032_528_49 * t + 5151.79 / t + 38.925_61 * lg
                - 563_713.9 / (t * t),
            log_kh: 108.3865 + 0.019_850_76 * t - 6919.53 / t - 40.451_54 * lg
                + 669_365.0 / (t * t),
            log_calcite: -171.9065 - 0.077_993 * t + 2839.319 / t + 71.595 * lg,
            log_bicarbonate_pair: 1209.120 + 0.312_94 * t - 34_765.05 / t - 478.782 * lg,
            log_carbonate_pair: -1228.732 - 0.299_444 * t + 35_512.75 / t + 485.818 * lg,
            log_kw: -(4470.99 / t - 6.0875 + 0.017_06 * t),
            activity_a: 1.824_83e6 / (et * et.sqrt()),
        }
    }

    /// Activity coefficient of an ion of one charge; that of `z` charges is its power `z²`.
    ///
    /// ```text
    /// log g = −A (√I/(1 + √I) − 0.3 I)
    /// ```
    ///
    /// Shape: trusted to `I` = 0.5; held there beyond.
    ///
    /// | symbol | argument         | unit   | holds for    |
    /// |--------|------------------|--------|--------------|
    /// | `I`    | `ionic_strength` | mol/kg | 0 ≤ I ≤ 0.5  |
    ///
    /// # Errors
    /// None.
    ///
    /// # Source
    /// Davies.
    pub fn activity(&self, ionic_strength: f64) -> f64 {
        let i = ionic_strength.clamp(0.0, 0.5);
        let root = i.sqrt();
        pow10(-self.activity_a * (root / (1.0 + root) - 0.3 * i))
    }
}

/// What the carbonate and the water of a liquor are at one pH, mol/kg (concentrations).
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Species {
    pub(crate) hydrogen: f64,
    pub(crate) hydroxide: f64,
    pub(crate) carbon_dioxide: f64,
    /// With the pair of calcium.
    pub(crate) bicarbonate: f64,
    /// With the pair of calcium.
    pub(crate) carbonate: f64,
    pub(crate) free_calcium: f64,
    pub(crate) free_carbonate: f64,
    /// Negative charge of weak acids.
    pub(crate) acid_charge: f64,
    pub(crate) ionic_strength: f64,
}

impl Species {
    pub(crate) fn total_carbonate(&self) -> f64 {
        self.carbon_dioxide + self.bicarbonate + self.carbonate
    }

    pub(crate) fn alkalinity(&self) -> f64 {
        self.bicarbonate + 2.0 * self.carbonate + self.hydroxide - self.hydrogen
    }
}

impl Liquor {
    /// Species at a pH; the ionic strength is found by repetition.
    pub(crate) fn species(&self, k: &CarbonateConstants, ph: f64, gas: Gas) -> Species {
        let mut species = Species { ionic_strength: 0.01, ..Species::default() };
        for _ in 0..20 {
            let before = species.ionic_strength;
            species = self.species_at(k, ph, gas, before);
            if (species.ionic_strength - before).abs() < 1e-13 {
                break;
            }
        }
        species
    }

    fn species_at(&self, k: &CarbonateConstants, ph: f64, gas: Gas, ionic: f64) -> Species {
        let g1 = k.activity(ionic);
        let g2 = g1 * g1 * g1 * g1;
        let h = pow10(-ph);
        let k1 = pow10(k.log_k1) / g1;
        let k2 = pow10(k.log_k2) * g1 / g2;
        let pair_b = pow10(k.log_bicarbonate_pair) * g2;
        let pair_c = pow10(k.log_carbonate_pair) * g2 * g2;
        let (c0, c1, c2) = (h * h, h * k1, k1 * k2); // shares of free carbonate, not yet scaled
        let ca = self.calcium_mol_kg;
        let bound = c1 * pair_b + c2 * pair_c;
        let (scale, free) = match gas {
            Gas::Closed => {
                let free = free_calcium(ca, self.carbonate_mol_kg, c0 + c1 + c2, bound);
                (self.carbonate_mol_kg / (c0 + c1 + c2 + bound * free), free)
            }
            Gas::Open(pressure_atm) => {
                let scale = pow10(k.log_kh) * pressure_atm / c0;
                (scale, ca / (1.0 + scale * bound))
            }
        };
        let bicarbonate = scale * c1 * (1.0 + pair_b * free);
        let carbonate = scale * c2 * (1.0 + pair_c * free);
        let (hydrogen, hydroxide) = (h / g1, pow10(k.log_kw) / h / g1);
        let (acid_charge, acid_strength) = self.weak_acids(h, g1);
        let ionic_strength = 0.5
            * (4.0 * (ca + self.magnesium_mol_kg + self.sulfate_mol_kg + carbonate)
                + self.sodium_mol_kg
                + self.potassium_mol_kg
                + self.chloride_mol_kg
                + self.nitrate_mol_kg
                + hydrogen
                + hydroxide
                + bicarbonate
                + acid_strength);
        Species {
            hydrogen,
            hydroxide,
            carbon_dioxide: scale * c0,
            bicarbonate,
            carbonate,
            free_calcium: free,
            free_carbonate: scale * c2,
            acid_charge,
            ionic_strength,
        }
    }

    /// Negative charge of the weak acids and their part `Σ c z²` of twice the ionic strength.
    fn weak_acids(&self, h: f64, g1: f64) -> (f64, f64) {
        let parts = [
            (self.lactate_mol_kg, &LACTIC_PK[..]),
            (self.phosphate_mol_kg, &PHOSPHORIC_PK[..]),
            (self.citrate_mol_kg, &CITRIC_PK[..]),
        ];
        parts.iter().filter(|(c, _)| *c != 0.0).fold((0.0, 0.0), |sum, (c, pk)| {
            let (charge, square) = charge_with(pk, h, g1);
            (sum.0 + c * charge, sum.1 + c * square)
        })
    }

    /// Charge left over at a pH, mol/kg: falls steadily as the pH rises; zero at the liquor's own.
    ///
    /// ```text
    /// SID + [H] − [OH] − [HCO3] − 2 [CO3] − pairs − Σ c_a n_a(pH)
    /// ```
    ///
    /// Shape: equals the base a kg must take up on the way to that pH.
    ///
    /// | symbol | argument | unit   | holds for    |
    /// |--------|----------|--------|--------------|
    /// | `pH`   | `ph`     | pH     | 1 ≤ pH ≤ 13  |
    /// | `t`    | `temp_c` | °C     | 0 ≤ t ≤ 100  |
    /// | `gas`  | `gas`    | atm    | 0 ≤ p        |
    /// | `SID`  | `self`   | mol/kg | any          |
    ///
    /// # Errors
    /// None.
    ///
    /// # Source
    /// Electroneutrality with the constants of [`CarbonateConstants`].
    pub fn charge_mol_kg(&self, ph: f64, temp_c: f64, gas: Gas) -> f64 {
        self.charge(&CarbonateConstants::at(temp_c), ph, gas)
    }

    pub(crate) fn charge(&self, k: &CarbonateConstants, ph: f64, gas: Gas) -> f64 {
        let s = self.species(k, ph, gas);
        self.strong_ions_mol_kg() - s.alkalinity() - s.acid_charge
    }

    /// pH of the liquor.
    ///
    /// ```text
    /// charge(pH) = 0
    /// ```
    ///
    /// Shape: within 0.005 of PHREEQC in the rows of `reference/checks`; nothing falls out.
    ///
    /// | symbol | argument | unit   | holds for    |
    /// |--------|----------|--------|--------------|
    /// | `t`    | `temp_c` | °C     | 0 ≤ t ≤ 100  |
    /// | `gas`  | `gas`    | atm    | 0 ≤ p        |
    /// | `SID`  | `self`   | mol/kg | I ≤ 0.5      |
    ///
    /// # Errors
    /// [`LiquorError::NoPh`] if no pH from 1 to 13 balances the charges.
    ///
    /// # Source
    /// [`Self::charge_mol_kg`]. Checked against PHREEQC in `reference/checks`.
    ///
    /// # Example
    /// ```
    /// use matter::liquor::{Gas, Liquor};
    /// let soda = Liquor { sodium_mol_kg: 2e-3, carbonate_mol_kg: 2e-3, ..Liquor::default() };
    /// assert!((soda.ph(25.0, Gas::Closed)? - 8.27).abs() < 0.02);
    /// # Ok::<(), matter::liquor::LiquorError>(())
    /// ```
    pub fn ph(&self, temp_c: f64, gas: Gas) -> Result<f64, LiquorError> {
        let k = CarbonateConstants::at(temp_c);
        self.ph_with(&k, gas)
    }

    pub(crate) fn ph_with(&self, k: &CarbonateConstants, gas: Gas) -> Result<f64, LiquorError> {
        find_root(|ph| self.charge(k, ph, gas), PH_LOW, PH_HIGH, 1e-11).map_err(|_| {
            LiquorError::NoPh {
                low: PH_LOW,
                high: PH_HIGH,
                strong_ions_mol_kg: self.strong_ions_mol_kg(),
            }
        })
    }

    /// The liquor once its carbon dioxide is in balance with a gas.
    ///
    /// ```text
    /// [CO2] = KH p        strong ions unchanged, so alkalinity is unchanged and pH rises
    /// ```
    ///
    /// Shape: the end of standing or stirring in the open; nothing falls out.
    ///
    /// | symbol | argument       | unit | holds for        |
    /// |--------|----------------|------|------------------|
    /// | `t`    | `temp_c`       | °C   | 0 ≤ t ≤ 100      |
    /// | `p`    | `pressure_atm` | atm  | 10^−3.4 outdoors, 10^−3.0 in a used room |
    ///
    /// # Errors
    /// As [`Self::ph`].
    ///
    /// # Source
    /// Henry's law with `KH` of [`CarbonateConstants`].
    pub fn degassed(&self, temp_c: f64, pressure_atm: f64) -> Result<Self, LiquorError> {
        let (k, gas) = (CarbonateConstants::at(temp_c), Gas::Open(pressure_atm));
        let ph = self.ph_with(&k, gas)?;
        let carbonate_mol_kg = self.species(&k, ph, gas).total_carbonate();
        Ok(Self { carbonate_mol_kg, ..*self })
    }

    /// Alkalinity at a pH: what a titration with strong acid finds of the carbonate.
    ///
    /// ```text
    /// alk = [HCO3] + 2 [CO3] + pairs + [OH] − [H]
    /// ```
    ///
    /// Shape: weak acids not counted.
    ///
    /// | symbol | argument | unit | holds for    |
    /// |--------|----------|------|--------------|
    /// | `pH`   | `ph`     | pH   | 1 ≤ pH ≤ 13  |
    /// | `t`    | `temp_c` | °C   | 0 ≤ t ≤ 100  |
    ///
    /// # Errors
    /// None.
    ///
    /// # Source
    /// Definition.
    pub fn alkalinity_mol_kg(&self, ph: f64, temp_c: f64) -> f64 {
        self.species(&CarbonateConstants::at(temp_c), ph, Gas::Closed).alkalinity()
    }

    /// Ionic strength at a pH.
    ///
    /// ```text
    /// I = ½ Σ c z²
    /// ```
    ///
    /// Shape: the two pairs of calcium are counted as if free.
    ///
    /// | symbol | argument | unit | holds for    |
    /// |--------|----------|------|--------------|
    /// | `pH`   | `ph`     | pH   | 1 ≤ pH ≤ 13  |
    /// | `t`    | `temp_c` | °C   | 0 ≤ t ≤ 100  |
    ///
    /// # Errors
    /// None.
    ///
    /// # Source
    /// Definition.
    pub fn ionic_strength_mol_kg(&self, ph: f64, temp_c: f64) -> f64 {
        self.species(&CarbonateConstants::at(temp_c), ph, Gas::Closed).ionic_strength
    }

    /// Strong acid that brings the liquor to a pH; negative where it needs base.
    ///
    /// ```text
    /// a = charge(pH) with a added to the anions
    /// ```
    ///
    /// Shape: closed, as dosed at once. Water acidified so reads higher once its gas has left.
    ///
    /// | symbol | argument | unit | holds for    |
    /// |--------|----------|------|--------------|
    /// | `pH`   | `ph`     | pH   | 3 ≤ pH ≤ 9   |
    /// | `t`    | `temp_c` | °C   | 0 ≤ t ≤ 100  |
    ///
    /// # Errors
    /// None.
    ///
    /// # Source
    /// [`Self::charge_mol_kg`].
    pub fn strong_acid_for_ph_mol_kg(&self, ph: f64, temp_c: f64) -> f64 {
        let k = CarbonateConstants::at(temp_c);
        let mut acid = 0.0;
        for _ in 0..8 {
            let acidified = Self { chloride_mol_kg: self.chloride_mol_kg + acid, ..*self };
            acid += acidified.charge(&k, ph, Gas::Closed);
        }
        acid
    }
}

/// Free calcium from the total: the positive root of
/// `bound f² + (d + bound (CT − Ca)) f − Ca d = 0`, which is
/// `Ca = f + CT bound f/(d + bound f)`.
fn free_calcium(calcium: f64, total_carbonate: f64, d: f64, bound: f64) -> f64 {
    let b = d + bound * (total_carbonate - calcium);
    let root = (b * b + 4.0 * bound * calcium * d).sqrt();
    if b >= 0.0 { 2.0 * calcium * d / (b + root) } else { (root - b) / (2.0 * bound) }
}
