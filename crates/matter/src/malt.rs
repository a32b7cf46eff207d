//! Malts, flakes and filter aid by generic class, what a certificate overrides, and the sum of a
//! grist; it deliberately knows no mash kinetics and no maker.

mod grist;

use std::sync::OnceLock;

use serde::Deserialize;

use crate::table::{self, percent};
use numerics::math::exp;

pub use grist::{AcidCurve, Certificate, Grist, GristItem, grist};

/// What sort of grist a class is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum MaltKind {
    /// Kilned malt with enzymes.
    Malt,
    /// Malt or barley roasted dry.
    Roast,
    /// Malt stewed wet, its starch already turned.
    Caramel,
    /// Unmalted grain, flaked or raw.
    Adjunct,
    /// Hulls: no extract.
    #[serde(rename = "filter aid")]
    FilterAid,
}

/// Which husk a class brings to the bed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum Husk {
    /// None, as wheat and rye.
    #[serde(rename = "0")]
    None,
    /// Barley husk.
    #[serde(rename = "1")]
    Barley,
    /// Oat husk, coarser.
    #[serde(rename = "2")]
    Oat,
    /// Nothing but hulls.
    #[serde(rename = "3")]
    Hulls,
}

/// A class of malt or other grist: typical values, and their spread between lots of the class.
///
/// Shares are of 1, dry basis where the name says `dry`. Source: standards, books, ranges printed
/// in several maltsters' specification sheets, and memory; `mark` tells which for each group.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[non_exhaustive]
pub struct MaltClass {
    /// Name of the class.
    #[serde(rename = "class")]
    pub name: String,
    /// Sort of grist.
    pub kind: MaltKind,
    /// Water per mass as weighed, kg/kg.
    #[serde(rename = "moisture_pct", deserialize_with = "percent")]
    pub moisture: f64,
    /// Standard deviation of the moisture, kg/kg.
    #[serde(rename = "moisture_sd", deserialize_with = "percent")]
    pub moisture_sd: f64,
    /// Fine-grind extract of dry matter, kg/kg.
    #[serde(rename = "extract_fine_db_pct", deserialize_with = "percent")]
    pub extract_fine_dry: f64,
    /// Standard deviation of the extract, kg/kg.
    #[serde(rename = "extract_fine_sd", deserialize_with = "percent")]
    pub extract_fine_sd: f64,
    /// Fine less coarse extract of dry matter, kg/kg.
    #[serde(rename = "fine_coarse_diff_pct", deserialize_with = "percent")]
    pub fine_coarse_dry: f64,
    /// Standard deviation of that difference, kg/kg.
    #[serde(rename = "fine_coarse_sd", deserialize_with = "percent")]
    pub fine_coarse_sd: f64,
    /// Colour of the laboratory wort, EBC.
    pub colour_ebc: f64,
    /// Standard deviation of the logarithm of the colour.
    pub colour_ln_sd: f64,
    /// Diastatic power, Windisch-Kolbach.
    #[serde(rename = "dp_wk")]
    pub diastatic_wk: f64,
    /// Standard deviation of its logarithm.
    #[serde(rename = "dp_ln_sd")]
    pub diastatic_ln_sd: f64,
    /// Alpha-amylase, dextrinising units per g dry.
    pub alpha_du: f64,
    /// Standard deviation of its logarithm.
    pub alpha_ln_sd: f64,
    /// Protein (6.25 N) of dry matter, kg/kg.
    #[serde(rename = "protein_db_pct", deserialize_with = "percent")]
    pub protein_dry: f64,
    /// Standard deviation of the protein, kg/kg.
    #[serde(deserialize_with = "percent")]
    pub protein_sd: f64,
    /// Soluble share of the nitrogen.
    #[serde(rename = "soluble_n_ratio_pct", deserialize_with = "percent")]
    pub soluble_nitrogen: f64,
    /// Standard deviation of that share.
    #[serde(rename = "snr_sd", deserialize_with = "percent")]
    pub soluble_nitrogen_sd: f64,
    /// pH of its mash in distilled water, cooled sample.
    #[serde(rename = "ph_dw")]
    pub ph_distilled: f64,
    /// Standard deviation of that pH.
    pub ph_sd: f64,
    /// Acid it takes up per pH below that, meq/kg.
    #[serde(rename = "buffer_meq_per_kg_ph")]
    pub buffer_meq_kg: f64,
    /// Standard deviation of the buffer's logarithm.
    pub buffer_ln_sd: f64,
    /// Curvature of the buffer, meq/kg per pH² (zero where unknown).
    #[serde(rename = "buffer2")]
    pub buffer_bend_meq_kg: f64,
    /// Solubles of dry matter that need no amylase, kg/kg.
    #[serde(rename = "other_solubles_db_pct", deserialize_with = "percent")]
    pub other_dry: f64,
    /// Part of them that ferments, of dry matter, kg/kg.
    #[serde(rename = "preformed_sugar_db_pct", deserialize_with = "percent")]
    pub preformed_sugar_dry: f64,
    /// Added to the share of starch locked at branch points.
    #[serde(rename = "limit_share_shift")]
    pub limit_shift: f64,
    /// Husk.
    pub husk: Husk,
    /// Share of the starch that needs no gelatinisation.
    pub gelatinised: f64,
    /// Temperature at which half gelatinises in 10 min in a thin mash, °C; 0 where nothing is raw.
    pub gel_temp_c: f64,
    /// Standard deviation of that temperature, K.
    pub gel_temp_sd: f64,
    /// Exponent `κ` of the viscosity of its wort; 0 where it gives no extract.
    pub viscosity_exponent: f64,
    /// Where the values come from, one letter per group of columns.
    pub mark: String,
}

/// kg of extract per kg of starch in a laboratory mash (our fit).
pub const LAB_HYDRATION: f64 = 1.042;
/// Share of starch locked at branch points (our fit to published attenuation).
pub const LIMIT_SHARE: f64 = 0.336;
/// Starch turned to sugar at 65 °C with enough enzyme, and the water that splitting binds.
const SUGAR_SHARE_65: f64 = 0.728;
const SUGAR_HYDRATION: f64 = 1.056;

impl MaltClass {
    /// Fine extract as weighed.
    ///
    /// ```text
    /// fine = FG (1 − M)
    /// ```
    ///
    /// Shape: ceiling of what any mash can win; a coarse crush wins less, later and never more.
    ///
    /// | symbol | argument                | unit  | holds for |
    /// |--------|-------------------------|-------|-----------|
    /// | `FG`   | `self.extract_fine_dry` | kg/kg | 0 to 1    |
    /// | `M`    | `self.moisture`         | kg/kg | 0 to 1    |
    ///
    /// # Errors
    /// None.
    ///
    /// # Source
    /// Definition of the two bases.
    pub fn extract_fine(&self) -> f64 {
        self.extract_fine_dry * (1.0 - self.moisture)
    }

    /// Coarse extract as weighed, the laboratory's.
    ///
    /// ```text
    /// coarse = (FG − FCD)(1 − M)
    /// ```
    ///
    /// Shape: for showing beside a certificate; the mash starts from the fine extract.
    ///
    /// | symbol | argument                | unit  | holds for |
    /// |--------|-------------------------|-------|-----------|
    /// | `FG`   | `self.extract_fine_dry` | kg/kg | 0 to 1    |
    /// | `FCD`  | `self.fine_coarse_dry`  | kg/kg | 0 to 0.05 |
    /// | `M`    | `self.moisture`         | kg/kg | 0 to 1    |
    ///
    /// # Errors
    /// None.
    ///
    /// # Source
    /// Definition of the two grinds.
    pub fn extract_coarse(&self) -> f64 {
        coarse_extract(self.extract_fine_dry, self.fine_coarse_dry, self.moisture)
    }

    /// Starch of dry matter.
    ///
    /// ```text
    /// starch = (FG − other)/1.042
    /// ```
    ///
    /// Shape: so that full conversion gives `FG` again with the water that splitting binds.
    ///
    /// | symbol  | argument                | unit  | holds for |
    /// |---------|-------------------------|-------|-----------|
    /// | `FG`    | `self.extract_fine_dry` | kg/kg | 0 to 1    |
    /// | `other` | `self.other_dry`        | kg/kg | 0 to `FG` |
    ///
    /// # Errors
    /// None; never negative.
    ///
    /// # Source
    /// Our balance; 1.042 is the hydration in a laboratory mash (our fit).
    pub fn starch_dry(&self) -> f64 {
        starch_dry(self.extract_fine_dry, self.other_dry)
    }

    /// Fermentable share of this class's extract when mashed at 65 °C with enough enzyme.
    ///
    /// ```text
    /// f = [sugar + (FG − other)/1.042 · 0.728 · 1.056 (1 − limit − shift)/(1 − limit)]/FG
    /// limit = 0.336
    /// ```
    ///
    /// Shape: sd 0.03 for base malt and flakes, 0.06 caramel, 0.10 roast.
    ///
    /// | symbol  | argument                   | unit  | holds for   |
    /// |---------|----------------------------|-------|-------------|
    /// | `sugar` | `self.preformed_sugar_dry` | kg/kg | 0 to other  |
    /// | `FG`    | `self.extract_fine_dry`    | kg/kg | 0 to 1      |
    /// | `other` | `self.other_dry`           | kg/kg | 0 to `FG`   |
    /// | `shift` | `self.limit_shift`         | 1     | 0 to 0.2    |
    ///
    /// # Errors
    /// None; 0 for a class without extract.
    ///
    /// # Source
    /// Our mash model at 65 °C; the columns behind caramel and roast are from memory.
    pub fn fermentable_share(&self) -> f64 {
        if self.extract_fine_dry <= 0.0 {
            return 0.0;
        }
        let open = (1.0 - LIMIT_SHARE - self.limit_shift) / (1.0 - LIMIT_SHARE);
        let sugar = self.starch_dry() * SUGAR_SHARE_65 * SUGAR_HYDRATION * open;
        (self.preformed_sugar_dry + sugar) / self.extract_fine_dry
    }

    /// Acid that one kg takes up on the way from its distilled-water pH to `ph`.
    ///
    /// ```text
    /// b (pH_dw − pH) − c (pH_dw − pH)²
    /// ```
    ///
    /// Shape: positive below its own pH; quoted for a cooled sample.
    ///
    /// | symbol  | argument                   | unit           | holds for    |
    /// |---------|----------------------------|----------------|--------------|
    /// | `pH`    | `ph`                       | pH             | 4 ≤ pH ≤ 7   |
    /// | `pH_dw` | `self.ph_distilled`        | pH             | 3.5 to 6.1   |
    /// | `b`     | `self.buffer_meq_kg`       | meq/(kg pH)    | 0 to 200     |
    /// | `c`     | `self.buffer_bend_meq_kg`  | meq/(kg pH²)   | 0 to 10      |
    ///
    /// # Errors
    /// None.
    ///
    /// # Source
    /// Method of deLange, MBAA TQ 52(1) 2015; values as marked in the table.
    pub fn acid_meq_kg(&self, ph: f64) -> f64 {
        let below = self.ph_distilled - ph;
        below * (self.buffer_meq_kg - self.buffer_bend_meq_kg * below)
    }
}

/// Coarse-grind extract as weighed; see [`MaltClass::extract_coarse`].
pub(crate) fn coarse_extract(fine_dry: f64, fine_coarse_dry: f64, moisture: f64) -> f64 {
    (fine_dry - fine_coarse_dry) * (1.0 - moisture)
}

/// Starch of dry matter; see [`MaltClass::starch_dry`].
pub(crate) fn starch_dry(extract_fine_dry: f64, other_dry: f64) -> f64 {
    (extract_fine_dry - other_dry).max(0.0) / LAB_HYDRATION
}

/// All classes, in the order of the table.
pub fn malt_classes() -> &'static [MaltClass] {
    static ROWS: OnceLock<Vec<MaltClass>> = OnceLock::new();
    ROWS.get_or_init(|| table::rows(include_str!("../data/malt.csv")))
}

/// The class of a name, spelt as in the table (capitals do not matter).
pub fn malt_class(name: &str) -> Option<&'static MaltClass> {
    malt_classes().iter().find(|class| class.name.eq_ignore_ascii_case(name.trim()))
}

/// The names of all classes, for suggestions.
pub fn malt_names() -> impl Iterator<Item = &'static str> {
    malt_classes().iter().map(|class| class.name.as_str())
}

/// Hot-water extract as a share of sucrose.
///
/// ```text
/// share = E/386
/// ```
///
/// Shape: the older infusion method and as-is weighing make it read 1.5 to 2 % below the dry-basis
/// fine extract.
///
/// | symbol | argument               | unit          | holds for   |
/// |--------|------------------------|---------------|-------------|
/// | `E`    | `litre_degrees_per_kg` | litre deg./kg | 0 to 386    |
///
/// # Errors
/// None.
///
/// # Source
/// Sucrose gives 386 litre degrees per kg (common practice).
pub fn extract_from_hot_water_extract(litre_degrees_per_kg: f64) -> f64 {
    litre_degrees_per_kg / 386.0
}

/// Diastatic power in degrees Lintner from Windisch-Kolbach.
///
/// ```text
/// L = (WK + 16)/3.5
/// ```
///
/// Shape: a grist that is to convert itself wants 30 to 40 on average.
///
/// | symbol | argument       | unit | holds for  |
/// |--------|----------------|------|------------|
/// | `WK`   | `diastatic_wk` | WK   | 0 to 500   |
///
/// # Errors
/// None.
///
/// # Source
/// *Oxford Companion to Beer*, entry Lintner.
///
/// # Example
/// ```
/// assert!((matter::malt::lintner_from_windisch_kolbach(334.0) - 100.0).abs() < 1e-9);
/// ```
pub fn lintner_from_windisch_kolbach(diastatic_wk: f64) -> f64 {
    (diastatic_wk + 16.0) / 3.5
}

/// Factor on the time in which coarse grits get wet, from the certificate's fine-coarse difference.
///
/// ```text
/// τ/τ_0 = exp(0.25 (FCD − 1.5 %))
/// ```
///
/// Shape: 1 at a difference of 1.5 %.
///
/// | symbol | argument          | unit  | holds for |
/// |--------|-------------------|-------|-----------|
/// | `FCD`  | `fine_coarse_dry` | kg/kg | 0 to 0.05 |
///
/// # Errors
/// None.
///
/// # Source
/// From memory, a prior.
pub fn grit_time_factor(fine_coarse_dry: f64) -> f64 {
    exp(0.25 * (100.0 * fine_coarse_dry - 1.5))
}
