//! Hops: kinds, ageing, isomerisation, losses, bitterness units and the liquid they hold; it
//! deliberately follows no addition through a day, that is the process's work.
//!
//! Concentrations are kg/m³ (1 mg/L is 0.001 kg/m³). Iso-alpha is chemistry; bitterness units are
//! what a laboratory would read (absorbance), so the two are kept apart.

mod bitterness;

use std::sync::OnceLock;

use serde::Deserialize;

use crate::table::{self, percent};
use numerics::math::{exp, ln, pow};

pub use bitterness::{
    ALPHA_LABEL_SD, IN_FERMENTATION, MASH_HOP_SHARE, bitterness_bu, creep_plato, dry_hop_bu,
    dry_hop_held_m3, dry_hop_iso_share, dry_hop_ph_rise, held_volume_m3, kettle_share,
    package_share,
};

/// A generic type or a public cultivar: analysis ranges of dried hops at harvest.
///
/// Source: memory of growers' and breeding institutes' public descriptions.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[non_exhaustive]
pub struct HopType {
    /// Name of the type or cultivar.
    #[serde(rename = "hop")]
    pub name: String,
    /// Whether it is a generic type or a cultivar.
    pub kind: HopKind,
    /// Alpha acids, low end, kg/kg.
    #[serde(deserialize_with = "percent")]
    pub alpha_low: f64,
    /// Alpha acids, high end, kg/kg.
    #[serde(deserialize_with = "percent")]
    pub alpha_high: f64,
    /// Beta acids, low end, kg/kg.
    #[serde(deserialize_with = "percent")]
    pub beta_low: f64,
    /// Beta acids, high end, kg/kg.
    #[serde(deserialize_with = "percent")]
    pub beta_high: f64,
    /// Cohumulone share of the alpha acids, low end.
    #[serde(deserialize_with = "percent")]
    pub cohumulone_low: f64,
    /// Cohumulone share of the alpha acids, high end.
    #[serde(deserialize_with = "percent")]
    pub cohumulone_high: f64,
    /// Oil, low end, mL per 100 g.
    #[serde(rename = "oil_low")]
    pub oil_low_ml_100g: f64,
    /// Oil, high end, mL per 100 g.
    #[serde(rename = "oil_high")]
    pub oil_high_ml_100g: f64,
    /// Share of alpha lost in six months at 20 °C, packed in air (sd 0.10).
    #[serde(rename = "loss_6mo_20c")]
    pub loss_6_months: f64,
    /// Country of a cultivar, two letters; empty for a type.
    pub origin: String,
}

/// Whether a row of the hop table is a generic type or a cultivar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum HopKind {
    /// A generic type.
    Type,
    /// A public cultivar.
    Cultivar,
}

impl HopType {
    /// Middle of the alpha range, kg/kg: what to expect of a lot without a label.
    pub fn alpha_mid(&self) -> f64 {
        0.5 * (self.alpha_low + self.alpha_high)
    }
}

/// All types and cultivars, types first.
pub fn hop_types() -> &'static [HopType] {
    static ROWS: OnceLock<Vec<HopType>> = OnceLock::new();
    ROWS.get_or_init(|| table::rows(include_str!("../data/hop.csv")))
}

/// The type or cultivar of a name, spelt as in the table (capitals do not matter).
pub fn hop_type(name: &str) -> Option<&'static HopType> {
    hop_types().iter().find(|hop| hop.name.eq_ignore_ascii_case(name.trim()))
}

/// The names of all types and cultivars, for suggestions.
pub fn hop_names() -> impl Iterator<Item = &'static str> {
    hop_types().iter().map(|hop| hop.name.as_str())
}

/// How hops are packed in store.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Packing {
    /// Open to air.
    Open,
    /// Sealed with air.
    Sealed,
    /// Vacuum or inert gas.
    Vacuum,
}

/// Share of alpha left after storage.
///
/// ```text
/// r = exp(−k 2^((T_s − 20)/15) f_pack d)      k = −ln(1 − loss6)/180 per day
/// f_pack = 1 open, 0.75 sealed, 0.5 vacuum
/// ```
///
/// Shape: first order; the rate halves per 15 K.
///
/// | symbol   | argument        | unit | holds for          |
/// |----------|-----------------|------|--------------------|
/// | `loss6`  | `loss_6_months` | 1    | 0 ≤ loss6 < 1      |
/// | `T_s`    | `store_c`       | °C   | −25 ≤ T_s ≤ 30     |
/// | `f_pack` | `packing`       | 1    | three kinds        |
/// | `d`      | `days`          | d    | 0 ≤ d ≤ 1500       |
///
/// # Errors
/// None; 0 if everything is said to be lost.
///
/// # Source
/// Garetz, BrewingTechniques 2(1) 1994.
///
/// # Example
/// ```
/// use matter::hop::{Packing, alpha_left};
/// assert!((alpha_left(0.35, 4.0, Packing::Vacuum, 365.0) - 0.8118).abs() < 0.001);
/// ```
pub fn alpha_left(loss_6_months: f64, store_c: f64, packing: Packing, days: f64) -> f64 {
    let pack = match packing {
        Packing::Open => 1.0,
        Packing::Sealed => 0.75,
        Packing::Vacuum => 0.5,
    };
    let per_day = -ln((1.0 - loss_6_months).max(1e-12)) / 180.0;
    exp(-per_day * pow(2.0, (store_c - 20.0) / 15.0) * pack * days.max(0.0))
}

/// Share of alpha and beta acids lost, from the hop storage index.
///
/// ```text
/// loss = 1.10 log10(HSI/0.25)
/// ```
///
/// Shape: fresh hops have an index of 0.25; the slope was 1.02 to 1.15 by crop year.
///
/// | symbol | argument | unit | holds for         |
/// |--------|----------|------|-------------------|
/// | `HSI`  | `index`  | 1    | 0.2 ≤ HSI ≤ 1.5   |
///
/// # Errors
/// None; held to 0 … 1.
///
/// # Source
/// Nickerson & Likens, J. ASBC 37 (1979) 184.
///
/// # Example
/// ```
/// assert!((matter::hop::lost_from_storage_index(0.4) - 0.2245).abs() < 1e-4);
/// ```
pub fn lost_from_storage_index(index: f64) -> f64 {
    (1.10 * ln(index / 0.25) / std::f64::consts::LN_10).clamp(0.0, 1.0)
}

/// Rate at which dissolved alpha acids turn into iso-alpha acids.
///
/// ```text
/// k1 = 7.9e11 exp(−11858/T) per minute        T in K
/// ```
///
/// Shape: first order in pH 5.2 buffer, measured from 90 to 130 °C; 80 to 100 °C agrees with a
/// second study; below 80 °C extrapolated. In wort times 1, geometric sd 1.12.
///
/// | symbol | argument | unit | holds for       |
/// |--------|----------|------|-----------------|
/// | `T`    | `temp_k` | K    | 353 ≤ T ≤ 403   |
///
/// # Errors
/// None.
///
/// # Source
/// Malowicki & Shellhammer, J. Agric. Food Chem. 53 (2005) 4434; Jaskula et al., J. Agric. Food
/// Chem. 56 (2008) 6408.
///
/// # Example
/// ```
/// let per_min = 60.0 * matter::hop::isomerisation_rate_per_s(373.15);
/// assert!((per_min - 0.01249).abs() < 2e-5);
/// ```
#[inline]
pub fn isomerisation_rate_per_s(temp_k: f64) -> f64 {
    (7.9e11 / 60.0) * exp(-11_858.0 / temp_k)
}

/// Rate at which iso-alpha acids turn into other matter, in buffer.
///
/// ```text
/// k2 = 4.1e12 exp(−12994/T) per minute        T in K
/// ```
///
/// Shape: as [`isomerisation_rate_per_s`]. In wort times [`LOSS_RATE_IN_WORT`].
///
/// | symbol | argument | unit | holds for       |
/// |--------|----------|------|-----------------|
/// | `T`    | `temp_k` | K    | 353 ≤ T ≤ 403   |
///
/// # Errors
/// None.
///
/// # Source
/// Malowicki & Shellhammer, J. Agric. Food Chem. 53 (2005) 4434.
///
/// # Example
/// ```
/// let per_min = 60.0 * matter::hop::iso_loss_rate_per_s(373.15);
/// assert!((per_min - 0.0030873).abs() < 1e-5);
/// ```
#[inline]
pub fn iso_loss_rate_per_s(temp_k: f64) -> f64 {
    (4.1e12 / 60.0) * exp(-12_994.0 / temp_k)
}

/// Factor on [`iso_loss_rate_per_s`] in wort (Kappler et al., J. Inst. Brew. 116 (2010) 332;
/// geometric sd 1.35).
pub const LOSS_RATE_IN_WORT: f64 = 0.9;

/// Iso-alpha per alpha after a time at one temperature, all extracted at the start.
///
/// ```text
/// x/a = k1/(k2 − k1) (e^(−k1 t) − e^(−k2 t))
/// ```
///
/// Shape: closed form in buffer; no solubility limit, no losses to solids.
///
/// | symbol | argument | unit | holds for      |
/// |--------|----------|------|----------------|
/// | `T`    | `temp_k` | K    | 343 ≤ T ≤ 403  |
/// | `t`    | `time_s` | s    | 0 ≤ t          |
///
/// # Errors
/// None.
///
/// # Source
/// Two first-order reactions in a row, rates of [`isomerisation_rate_per_s`].
///
/// # Example
/// ```
/// assert!((matter::hop::iso_share(373.15, 3600.0) - 0.47589).abs() < 1e-4);
/// ```
pub fn iso_share(temp_k: f64, time_s: f64) -> f64 {
    let (k1, k2) = (isomerisation_rate_per_s(temp_k), iso_loss_rate_per_s(temp_k));
    k1 / (k2 - k1) * (exp(-k1 * time_s) - exp(-k2 * time_s))
}

/// Form in which hops go into the kettle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HopForm {
    /// Pellets, loose.
    Pellets,
    /// Pellets in a bag.
    PelletsInBag,
    /// Whole cones, loose.
    Cones,
    /// Whole cones in a bag.
    ConesInBag,
}

impl HopForm {
    /// Rate at which alpha leaves the hop matter, 1/s.
    ///
    /// ```text
    /// k_e = 0.5, 0.25, 0.15, 0.08 per minute
    /// ```
    ///
    /// Shape: pellets loose and in a bag, cones loose and in a bag.
    ///
    /// | symbol | argument | unit | holds for  |
    /// |--------|----------|------|------------|
    /// | `k_e`  | `self`   | 1/s  | boiling    |
    ///
    /// # Errors
    /// None.
    ///
    /// # Source
    /// From memory, a prior; geometric sd 1.5 to 1.6.
    pub fn extraction_rate_per_s(self) -> f64 {
        let per_min = match self {
            Self::Pellets => 0.5,
            Self::PelletsInBag => 0.25,
            Self::Cones => 0.15,
            Self::ConesInBag => 0.08,
        };
        per_min / 60.0
    }

    /// Share of the alpha that ever leaves the hop matter (from memory, a prior).
    pub fn extractable(self) -> f64 {
        match self {
            Self::Pellets | Self::PelletsInBag => 0.98,
            Self::Cones | Self::ConesInBag => 0.92,
        }
    }
}

/// Most alpha acid that wort keeps truly dissolved.
///
/// ```text
/// L = L_0 (1 + 10^(pH − 5.5))/(1 + 10^(5.2 − 5.5))        L_0 = 90 mg/L at pH 5.2
/// ```
///
/// Shape: all additions together; geometric sd 1.25.
///
/// | symbol | argument | unit | holds for      |
/// |--------|----------|------|----------------|
/// | `pH`   | `ph`     | pH   | 4.8 ≤ pH ≤ 6   |
///
/// # Errors
/// None.
///
/// # Source
/// Malowicki & Shellhammer, J. Agric. Food Chem. 53 (2005) 4434, for `L_0`; an acid of pKa 5.5.
///
/// # Example
/// ```
/// assert!((matter::hop::alpha_solubility_kg_m3(5.2) - 0.090).abs() < 1e-12);
/// ```
pub fn alpha_solubility_kg_m3(ph: f64) -> f64 {
    0.090 * (1.0 + pow(10.0, ph - 5.5)) / (1.0 + pow(10.0, 5.2 - 5.5))
}

/// Share at which alpha beyond its solubility reacts (our fit to Justus, MBAA TQ 55(3) 2018, 67;
/// sd 0.12).
pub const BEYOND_SOLUBILITY: f64 = 0.5;

/// Factor on the isomerisation rate because alpha beyond its solubility reacts less.
///
/// ```text
/// φ = [min(a, L) + q max(a − L, 0)]/a        q = 0.5
/// ```
///
/// Shape: 1 up to the solubility. With it, the yield falls as the hop rate rises.
///
/// | symbol | argument           | unit  | holds for |
/// |--------|--------------------|-------|-----------|
/// | `a`    | `alpha_kg_m3`      | kg/m³ | 0 ≤ a     |
/// | `L`    | `solubility_kg_m3` | kg/m³ | 0 < L     |
///
/// # Errors
/// None; 1 without alpha.
///
/// # Source
/// Our law, `q` fitted to the two hop rates of Justus, MBAA TQ 55(3) 2018, 67.
///
/// # Example
/// ```
/// assert_eq!(matter::hop::soluble_share(0.05, 0.09), 1.0);
/// assert!((matter::hop::soluble_share(0.18, 0.09) - 0.75).abs() < 1e-12);
/// ```
#[inline]
pub fn soluble_share(alpha_kg_m3: f64, solubility_kg_m3: f64) -> f64 {
    if alpha_kg_m3 <= solubility_kg_m3 {
        return 1.0;
    }
    clouded_share(alpha_kg_m3, solubility_kg_m3)
}

/// The law of [`soluble_share`] beyond the solubility, continued below it.
#[inline]
pub fn clouded_share(alpha_kg_m3: f64, solubility_kg_m3: f64) -> f64 {
    let beyond = alpha_kg_m3 - solubility_kg_m3;
    (solubility_kg_m3 + BEYOND_SOLUBILITY * beyond) / alpha_kg_m3
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_hop_has_ordered_ranges() {
        assert!(hop_types().len() >= 30);
        for h in hop_types() {
            assert!(0.0 < h.alpha_low && h.alpha_low < h.alpha_high, "{}", h.name);
            assert!(h.alpha_high < 0.25 && h.beta_low < h.beta_high, "{}", h.name);
            assert!((0.05..0.7).contains(&h.loss_6_months), "{}", h.name);
            assert_eq!(h.kind == HopKind::Type, h.origin.is_empty(), "{}", h.name);
        }
        assert!(hop_type("noble TYPE").is_some_and(|h| (h.alpha_mid() - 0.04).abs() < 1e-12));
    }

    #[test]
    fn more_alpha_never_reacts_more_slowly_in_sum() {
        let mut last = 0.0;
        for mg_l in 0..600 {
            let a = f64::from(mg_l) * 1e-3;
            let reacting = a * soluble_share(a, alpha_solubility_kg_m3(5.3));
            assert!(reacting >= last, "{mg_l} mg/L");
            last = reacting;
        }
    }
}
