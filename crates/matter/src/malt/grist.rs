//! The sum of several malts, each weighed; it deliberately knows no liquor.

use super::{Husk, MaltClass, coarse_extract, malt_class, starch_dry};
use crate::colour::lovibond_from_ebc;

/// Gelatinisation temperature of the barley that the mash model was fitted to, °C.
const GEL_REFERENCE_C: f64 = 58.2;
/// Starch of the reference malt, kg per kg dry, and its enzymes (what activity 1 means).
const REFERENCE_STARCH: f64 = 0.62;
const REFERENCE_WK: f64 = 250.0;
const REFERENCE_DU: f64 = 48.0;

/// What a maltster's certificate, or a measurement, says of this lot; `None` takes the class value.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Certificate {
    /// Water per mass as weighed, kg/kg.
    pub moisture: Option<f64>,
    /// Fine-grind extract of dry matter, kg/kg.
    pub extract_fine_dry: Option<f64>,
    /// Fine less coarse extract of dry matter, kg/kg.
    pub fine_coarse_dry: Option<f64>,
    /// Colour of the laboratory wort, EBC.
    pub colour_ebc: Option<f64>,
    /// Diastatic power, Windisch-Kolbach.
    pub diastatic_wk: Option<f64>,
    /// Alpha-amylase, dextrinising units per g dry.
    pub alpha_du: Option<f64>,
    /// Protein of dry matter, kg/kg.
    pub protein_dry: Option<f64>,
    /// pH of its mash in distilled water.
    pub ph_distilled: Option<f64>,
}

/// One malt of a grist: how much of which class, and what its certificate overrides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GristItem<'a> {
    /// The class.
    pub class: &'a MaltClass,
    /// Mass as weighed, kg.
    pub mass_kg: f64,
    /// What is known of this lot.
    pub certificate: Certificate,
}

impl GristItem<'static> {
    /// An item of a named class with no certificate; `None` if the class is unknown.
    pub fn of(name: &str, mass_kg: f64) -> Option<Self> {
        let class = malt_class(name)?;
        Some(Self { class, mass_kg, certificate: Certificate::default() })
    }
}

/// Acid that a grist takes up on the way to a pH: a parabola, the sum of its malts'.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct AcidCurve {
    /// Value at pH 0, meq.
    pub constant_meq: f64,
    /// Coefficient of pH, meq.
    pub linear_meq: f64,
    /// Coefficient of pH², meq.
    pub square_meq: f64,
}

impl AcidCurve {
    /// Adds a malt: `m [b (pH_i − pH) − c (pH_i − pH)²]`.
    pub fn add(&mut self, mass_kg: f64, ph_distilled: f64, buffer_meq_kg: f64, bend_meq_kg: f64) {
        let (m, p, b, c) = (mass_kg, ph_distilled, buffer_meq_kg, bend_meq_kg);
        self.constant_meq += m * p * (b - c * p);
        self.linear_meq += m * (2.0 * c * p - b);
        self.square_meq -= m * c;
    }

    /// Acid taken up on the way to this pH, meq; negative above the grist's own pH.
    pub fn acid_meq(&self, ph: f64) -> f64 {
        self.constant_meq + ph * (self.linear_meq + ph * self.square_meq)
    }

    /// Acid per fall of one pH at this pH, meq.
    pub fn buffer_meq(&self, ph: f64) -> f64 {
        -(self.linear_meq + 2.0 * ph * self.square_meq)
    }
}

/// Several malts taken together. Without malt, everything is zero.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
#[non_exhaustive]
pub struct Grist {
    /// Mass as weighed, kg.
    pub mass_kg: f64,
    /// Dry mass, kg.
    pub dry_kg: f64,
    /// Water per mass as weighed, kg/kg.
    pub moisture: f64,
    /// Fine extract per mass as weighed, kg/kg (`y_a`).
    pub extract_fine: f64,
    /// Coarse extract per mass as weighed, the laboratories', kg/kg.
    pub extract_coarse: f64,
    /// Fine extract of dry matter, kg/kg (`y`).
    pub extract_fine_dry: f64,
    /// Fine less coarse extract of dry matter, kg/kg.
    pub fine_coarse_dry: f64,
    /// Solubles of dry matter that need no amylase, kg/kg.
    pub other_dry: f64,
    /// Part of them that ferments, kg/kg.
    pub other_sugar_dry: f64,
    /// Starch of dry matter, kg/kg.
    pub starch_dry: f64,
    /// Share of the starch that needs no gelatinisation.
    pub gelatinised: f64,
    /// Added to the share of starch locked at branch points (mean over the starch).
    pub limit_shift: f64,
    /// Added to the gelatinisation temperature of barley malt, K (mean over the raw starch).
    pub gel_shift_k: f64,
    /// Alpha-amylase per starch; 1 is the reference malt.
    pub alpha: f64,
    /// Beta-amylase per starch; 1 is the reference malt.
    pub beta: f64,
    /// Diastatic power, mean over the mass as weighed, Windisch-Kolbach.
    pub diastatic_wk: f64,
    /// Protein of dry matter, kg/kg.
    pub protein_dry: f64,
    /// Mass times colour, kg EBC.
    pub colour_kg_ebc: f64,
    /// Mass times colour in Lovibond degrees, kg °L.
    pub colour_kg_lovibond: f64,
    /// Share of the mass without husk.
    pub huskless: f64,
    /// Share of the mass with oat husk.
    pub oat_husk: f64,
    /// Share of the mass that is hulls.
    pub hulls: f64,
    /// Exponent `κ` of the wort's viscosity (mean over the mass that gives extract).
    pub kappa: f64,
    /// Acid it takes up.
    pub acid: AcidCurve,
}

/// Sums the malts of a grist.
///
/// ```text
/// M, y_a, husk shares, DP: mean over the mass as weighed
/// y, other, other_sugar, FCD, protein: mean over the dry mass
/// starch_i = (y_i − other_i)/1.042        limit shift, gelatinised: mean over the starch
/// gel shift: mean of (T_gel,i − 58.2 °C) over the starch that is still raw
/// E_beta  = (Σ m_dry DP/Σ starch)/(250 WK/0.62)
/// E_alpha = (Σ m_dry DU/Σ starch)/(48 DU/0.62)
/// κ: mean over the mass of the malts that give extract
/// ```
///
/// Shape: enzymes are counted per starch, not per litre; enzymes of a lot are per dry mass.
///
/// | symbol | argument                | unit | holds for  |
/// |--------|-------------------------|------|------------|
/// | `m_i`  | `items[i].mass_kg`      | kg   | 0 ≤ m_i    |
/// | `y_i`, … | `items[i].class`, `.certificate` | kg/kg | see [`MaltClass`] |
///
/// # Errors
/// None; without mass every mean is 0.
///
/// # Source
/// Balances; the reference malt is that of our fit of the mash model.
///
/// # Example
/// ```
/// use matter::malt::{GristItem, grist};
/// let items: Vec<_> = [("pale malt", 3.0), ("flaked maize", 1.0)]
///     .iter()
///     .filter_map(|&(name, kg)| GristItem::of(name, kg))
///     .collect();
/// let sum = grist(&items);
/// assert!((sum.diastatic_wk - 0.75 * 170.0).abs() < 1e-9);
/// ```
pub fn grist(items: &[GristItem<'_>]) -> Grist {
    let mut sums = Grist::default();
    let mut weights = Weights::default();
    for item in items {
        sums.add(item, &mut weights);
    }
    sums.means(&weights)
}

/// What the means of a grist are taken over, besides its mass and dry mass.
#[derive(Default)]
struct Weights {
    water_kg: f64,
    starch_kg: f64,
    raw_kg: f64,
    kappa_kg: f64,
}

impl Grist {
    /// Adds an item; until [`Self::means`] the fields that are means hold sums.
    fn add(&mut self, item: &GristItem<'_>, weights: &mut Weights) {
        let (class, lot, m) = (item.class, &item.certificate, item.mass_kg);
        let moisture = lot.moisture.unwrap_or(class.moisture);
        let fine = lot.extract_fine_dry.unwrap_or(class.extract_fine_dry);
        let fcd = lot.fine_coarse_dry.unwrap_or(class.fine_coarse_dry);
        let wk = lot.diastatic_wk.unwrap_or(class.diastatic_wk);
        let ebc = lot.colour_ebc.unwrap_or(class.colour_ebc);
        let dry = m * (1.0 - moisture);
        let starch = dry * starch_dry(fine, class.other_dry);
        let raw = starch * (1.0 - class.gelatinised);
        self.mass_kg += m;
        self.dry_kg += dry;
        self.extract_fine += dry * fine;
        self.extract_coarse += m * coarse_extract(fine, fcd, moisture);
        self.fine_coarse_dry += dry * fcd;
        self.other_dry += dry * class.other_dry.min(fine);
        self.other_sugar_dry += dry * class.preformed_sugar_dry.min(fine);
        self.gelatinised += starch * class.gelatinised;
        self.limit_shift += starch * class.limit_shift;
        self.gel_shift_k += raw * (class.gel_temp_c - GEL_REFERENCE_C);
        self.alpha += dry * lot.alpha_du.unwrap_or(class.alpha_du);
        self.beta += dry * wk;
        self.diastatic_wk += m * wk;
        self.protein_dry += dry * lot.protein_dry.unwrap_or(class.protein_dry);
        self.colour_kg_ebc += m * ebc;
        self.colour_kg_lovibond += m * lovibond_from_ebc(ebc);
        match class.husk {
            Husk::None => self.huskless += m,
            Husk::Barley => {}
            Husk::Oat => self.oat_husk += m,
            Husk::Hulls => self.hulls += m,
        }
        if class.viscosity_exponent > 0.0 {
            weights.kappa_kg += m;
            self.kappa += m * class.viscosity_exponent;
        }
        weights.water_kg += m * moisture;
        weights.starch_kg += starch;
        weights.raw_kg += raw;
        let ph = lot.ph_distilled.unwrap_or(class.ph_distilled);
        self.acid.add(m, ph, class.buffer_meq_kg, class.buffer_bend_meq_kg);
    }

    /// Turns the sums into means.
    fn means(self, weights: &Weights) -> Self {
        let by_mass = |sum| mean(sum, self.mass_kg);
        let by_dry = |sum| mean(sum, self.dry_kg);
        let by_starch = |sum| mean(sum, weights.starch_kg);
        Self {
            moisture: by_mass(weights.water_kg),
            extract_fine: by_mass(self.extract_fine),
            extract_coarse: by_mass(self.extract_coarse),
            extract_fine_dry: by_dry(self.extract_fine),
            fine_coarse_dry: by_dry(self.fine_coarse_dry),
            other_dry: by_dry(self.other_dry),
            other_sugar_dry: by_dry(self.other_sugar_dry),
            starch_dry: by_dry(weights.starch_kg),
            gelatinised: by_starch(self.gelatinised),
            limit_shift: by_starch(self.limit_shift),
            gel_shift_k: mean(self.gel_shift_k, weights.raw_kg),
            alpha: by_starch(self.alpha) / (REFERENCE_DU / REFERENCE_STARCH),
            beta: by_starch(self.beta) / (REFERENCE_WK / REFERENCE_STARCH),
            diastatic_wk: by_mass(self.diastatic_wk),
            protein_dry: by_dry(self.protein_dry),
            huskless: by_mass(self.huskless),
            oat_husk: by_mass(self.oat_husk),
            hulls: by_mass(self.hulls),
            kappa: mean(self.kappa, weights.kappa_kg),
            ..self
        }
    }
}

fn mean(sum: f64, weight: f64) -> f64 {
    if weight > 0.0 { sum / weight } else { 0.0 }
}
