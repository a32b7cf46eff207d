//! Mash: wetting, gelatinisation, enzymes, extract, on absolute kilograms in as many liquid nodes
//! as the vessel has. It deliberately knows no temperature history, no flow between nodes and no
//! heat: the caller moves liquid and heat, and adds the rates given here.
//!
//! The scheme (gelatinised starch cut by two amylases into sugars, dextrins and limit dextrins) is
//! that of Brandam, Meyer, Proth, Strehaiano and Pingaud 2003, Biochem. Eng. J. 13:43. Its
//! activity polynomial (negative at 74 °C) and its two gelatinisation branches (they do not meet)
//! are replaced by smooth laws of our own, fitted to published behaviour.

mod kinetics;
mod start;

pub use kinetics::{Gelatinisation, Kinetics, Loss, Prepared, Turnover};
pub use start::{Start, start};

/// Number of pools that move with the liquid.
pub const LIQUID: usize = 10;
/// Number of pools that stay with the solids.
pub const SOLID: usize = 4;

/// Gelatinised starch not yet cut, kg anhydroglucose.
pub const PASTE: usize = 0;
/// Dextrins that can still be cut, kg anhydroglucose.
pub const DEXTRIN: usize = 1;
/// Limit dextrins, kg anhydroglucose.
pub const LIMIT: usize = 2;
/// Glucose, kg anhydroglucose.
pub const GLUCOSE: usize = 3;
/// Maltose, kg anhydroglucose.
pub const MALTOSE: usize = 4;
/// Maltotriose, kg anhydroglucose.
pub const MALTOTRIOSE: usize = 5;
/// Dissolved extract that is not starch: sugars of the malt, protein, minerals, gums, kg.
pub const OTHER: usize = 6;
/// Alpha-amylase; the whole mash holds 1 at the reference malt, all wet and none lost.
pub const ALPHA: usize = 7;
/// Beta-amylase; as [`ALPHA`].
pub const BETA: usize = 8;
/// Free debranching enzyme; as [`ALPHA`].
pub const DEBRANCH: usize = 9;

/// Starch inside grits that are still dry, kg.
pub const DRY_STARCH: usize = 0;
/// Other extract inside grits that are still dry, kg.
pub const DRY_OTHER: usize = 1;
/// Wet starch in large granules, not gelatinised, kg.
pub const RAW_LARGE: usize = 2;
/// Wet starch in small granules, not gelatinised, kg.
pub const RAW_SMALL: usize = 3;

const WATER_G_MOL: f64 = 18.015;
const ANHYDROGLUCOSE_G_MOL: f64 = 162.141;

/// Water bound per kg of anhydroglucose when it leaves as a product, kg/kg, in the order of the
/// pools; from the molar masses 18.015 (water) and 162.141 (anhydroglucose), dextrins taken as ten
/// units. Paste is starch still.
pub const BOUND_WATER: [f64; LIQUID] = [
    0.0,
    WATER_G_MOL / (10.0 * ANHYDROGLUCOSE_G_MOL),
    WATER_G_MOL / (10.0 * ANHYDROGLUCOSE_G_MOL),
    WATER_G_MOL / ANHYDROGLUCOSE_G_MOL,
    WATER_G_MOL / (2.0 * ANHYDROGLUCOSE_G_MOL),
    WATER_G_MOL / (3.0 * ANHYDROGLUCOSE_G_MOL),
    0.0,
    0.0,
    0.0,
    0.0,
];

/// What one liquid node looks like to the enzymes in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MashNode {
    /// Temperature, K.
    pub temp_k: f64,
    /// Water of this node that is not bound, kg.
    pub water_kg: f64,
    /// Water of the whole mash over water of this node; 1 for a mash in one node.
    pub dilution: f64,
    /// Strength that the whole mash would reach with all its extract dissolved, °P.
    pub final_plato: f64,
}

/// What the grits let go as they are wetted; made by [`start`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Release {
    /// First-order rate of wetting, 1/s.
    pub wetting_per_s: f64,
    /// Share of the starch that needs no gelatinising (flakes, caramel malts).
    pub cooked: f64,
    /// Share of the raw starch in small granules.
    pub small: f64,
    /// How much warmer this grist gelatinises than the reference malt, K.
    pub gel_shift_k: f64,
    /// Alpha-amylase per kg of other extract.
    pub alpha_per_kg: f64,
    /// Beta-amylase per kg of other extract.
    pub beta_per_kg: f64,
    /// Debranching enzyme per kg of other extract.
    pub debranch_per_kg: f64,
}

/// Reactions in the liquid of one node: adds d/dt of its pools to `out`.
///
/// ```text
/// A = E_a a_a f_a   B = E_b a_b f_b/(1 + c_maltose/k_maltose)   L = E_d a_d     E per water
/// v1 = k1 A paste   v2 = k2 B paste   v3 = k3 B dextrin   v4 = k4 A dextrin   v5 = k5 L limit
/// d paste   = -v1 - v2
/// d dextrin = (1 - φ)(1 - λ) v1 - v3 - v4 + v5
/// d limit   = (1 - φ) λ v1 + λ v2 - v5
/// d maltose = (1 - λ) v2 + v3 + 0.50 s   d glucose = 0.08 s   d maltotriose = 0.42 s
/// s = φ v1 + v4           λ = limit + limit_per_plato (P_end - 20), kept in 0.05 to 0.60
/// dE/dt = -k E                                                     k: see `Loss::rate_per_s`
/// ```
///
/// Shape: one well mixed node. An enzyme is saturated with starch, so its rate goes with enzyme
/// per starch and not per litre; splitting a node in two changes nothing.
///
/// | symbol    | argument | unit | holds for |
/// |-----------|----------|------|-----------|
/// | constants | `k`      | 1/s, g/kg | 0 to 110 °C, the pH it was prepared for |
/// | `T, P_end`, water | `node` | K, °P, kg | water above 0 |
/// | pools     | `pools`  | kg, 1 | 0 or more |
/// | rates     | `out`    | kg/s, 1/s | added to |
///
/// Returns the water that splitting binds, kg/s; the caller takes it from the node's water.
///
/// # Source
/// Scheme: Brandam et al. 2003. Constants: our fit; see [`Kinetics`]. A published model fitted to
/// one malt missed other malts by -1 to -10 % of fermentable sugar (Koljonen et al. 1995, J. Food
/// Eng. 26:329).
#[inline]
pub fn liquid_rates(
    k: &Prepared,
    node: &MashNode,
    pools: &[f64; LIQUID],
    out: &mut [f64; LIQUID],
) -> f64 {
    let c = &k.constants;
    let water_kg = node.water_kg.max(1e-9);
    let extract_kg = dissolved_kg(pools);
    let plato = 100.0 * extract_kg / (extract_kg + water_kg);
    let law = k.at_temperature(node.temp_k);
    let shelter = k.at_plato(plato);

    let maltose_g_kg = 1e3 * pools[MALTOSE] * (1.0 + BOUND_WATER[MALTOSE]) / water_kg;
    let a = pools[ALPHA] * node.dilution * law.alpha;
    let b = pools[BETA] * node.dilution * law.beta / (1.0 + maltose_g_kg / c.maltose_g_kg);
    let l = pools[DEBRANCH] * node.dilution * law.debranch;
    let lim = (c.limit + c.limit_per_plato * (node.final_plato - c.limit_plato)).clamp(0.05, 0.6);

    let v1 = c.paste_alpha_per_s * a * pools[PASTE];
    let v2 = c.paste_beta_per_s * b * pools[PASTE];
    let v3 = c.dextrin_beta_per_s * b * pools[DEXTRIN];
    let v4 = c.dextrin_alpha_per_s * a * pools[DEXTRIN];
    let v5 = c.limit_per_s * l * pools[LIMIT];
    let s = c.direct_sugar * v1 + v4;

    let d_dextrin = (1.0 - c.direct_sugar) * (1.0 - lim) * v1 - v3 - v4 + v5;
    let d_limit = (1.0 - c.direct_sugar) * lim * v1 + lim * v2 - v5;
    let d_glucose = c.sugar_split[0] * s;
    let d_maltose = (1.0 - lim) * v2 + v3 + c.sugar_split[1] * s;
    let d_maltotriose = c.sugar_split[2] * s;

    out[PASTE] -= v1 + v2;
    out[DEXTRIN] += d_dextrin;
    out[LIMIT] += d_limit;
    out[GLUCOSE] += d_glucose;
    out[MALTOSE] += d_maltose;
    out[MALTOTRIOSE] += d_maltotriose;
    out[ALPHA] -= law.alpha_loss_per_s * shelter.alpha * pools[ALPHA];
    out[BETA] -= law.beta_loss_per_s * shelter.beta * pools[BETA];
    out[DEBRANCH] -= law.debranch_loss_per_s * pools[DEBRANCH];

    BOUND_WATER[DEXTRIN] * (d_dextrin + d_limit)
        + BOUND_WATER[GLUCOSE] * d_glucose
        + BOUND_WATER[MALTOSE] * d_maltose
        + BOUND_WATER[MALTOTRIOSE] * d_maltotriose
}

/// Wetting, gelatinisation and release from the solids of one node: adds to both pools' rates.
///
/// ```text
/// d dry/dt = -dry/τ            wetted starch: cooked share to paste, the rest to the raw pools
/// 1/g = 1/{k exp[-E/R (1/T_g - 1/333.15)]} + 1/k_swell      d raw/dt = -g raw   d paste/dt = g raw
/// T_g = T - shift - gel_per_plato (P - 8)
/// ```
///
/// Shape: wetting is diffusion of water and does not hurry with heat; enzyme inside a dry grit is
/// neither active nor lost. A grist of several cereals gelatinises at its starch-weighted
/// temperature.
///
/// | symbol | argument  | unit | holds for |
/// |--------|-----------|------|-----------|
/// | constants | `k`    | 1/s  | 0 to 110 °C |
/// | `T`    | `node`    | K    | 0 to 110 °C |
/// | `P`    | `plato`   | °P   | 0 to 40 |
/// | `τ`, shares | `release` | 1/s, 1 | from [`start`] |
/// | pools  | `solids`  | kg   | 0 or more |
/// | rates  | `out_solids`, `out_liquid` | kg/s, 1/s | added to |
///
/// # Source
/// Wetting: Meddings and Potter 1974, Cereal Chem. 51 (diffusion of water in malt, activation near
/// zero). Gelatinisation: our fit to Rittenauer, Gladis, Gastl and Becker 2021, Foods 10:1733, and
/// Harris and MacWilliam 1961, J. Inst. Brew.
#[inline]
pub fn solid_rates(
    k: &Prepared,
    node: &MashNode,
    plato: f64,
    release: &Release,
    solids: &[f64; SOLID],
    out_solids: &mut [f64; SOLID],
    out_liquid: &mut [f64; LIQUID],
) {
    let wet_starch = release.wetting_per_s * solids[DRY_STARCH];
    let wet_other = release.wetting_per_s * solids[DRY_OTHER];
    let [g_large, g_small] = k.gelatinisation_per_s(node.temp_k, plato, release.gel_shift_k);
    let large = g_large * solids[RAW_LARGE];
    let small = g_small * solids[RAW_SMALL];
    let raw = (1.0 - release.cooked) * wet_starch;

    out_solids[DRY_STARCH] -= wet_starch;
    out_solids[DRY_OTHER] -= wet_other;
    out_solids[RAW_LARGE] += (1.0 - release.small) * raw - large;
    out_solids[RAW_SMALL] += release.small * raw - small;
    out_liquid[PASTE] += large + small + release.cooked * wet_starch;
    out_liquid[OTHER] += wet_other;
    out_liquid[ALPHA] += wet_other * release.alpha_per_kg;
    out_liquid[BETA] += wet_other * release.beta_per_kg;
    out_liquid[DEBRANCH] += wet_other * release.debranch_per_kg;
}

/// Dissolved extract with the water that splitting has bound, kg.
///
/// ```text
/// x = Σ pool (1 + bound water)      over paste, dextrins, sugars, other
/// ```
///
/// | symbol | argument | unit | holds for |
/// |--------|----------|------|-----------|
/// | pools  | `pools`  | kg   | 0 or more |
///
/// # Source
/// Molar masses; see [`BOUND_WATER`].
///
/// # Example
/// ```
/// let mut pools = [0.0; process::mash::LIQUID];
/// pools[process::mash::MALTOSE] = 1.0;
/// assert!((process::mash::dissolved_kg(&pools) - 1.05555).abs() < 1e-5);
/// ```
#[inline]
pub fn dissolved_kg(pools: &[f64; LIQUID]) -> f64 {
    let mut sum = 0.0;
    for i in 0..=OTHER {
        sum += pools[i] * (1.0 + BOUND_WATER[i]);
    }
    sum
}

/// Water that splitting has bound in these pools so far, kg.
#[inline]
pub fn bound_water_kg(pools: &[f64; LIQUID]) -> f64 {
    let mut sum = 0.0;
    for i in DEXTRIN..=MALTOTRIOSE {
        sum += pools[i] * BOUND_WATER[i];
    }
    sum
}

/// Part of the dissolved extract that a yeast which takes every sugar would ferment, kg.
///
/// ```text
/// F = sugars with hydration + s_other other
/// ```
///
/// | symbol    | argument            | unit  | holds for |
/// |-----------|---------------------|-------|-----------|
/// | pools     | `pools`             | kg    | 0 or more |
/// | `s_other` | `other_sugar_share` | kg/kg | 0 to 1; 0.085/0.165 for pale malt |
///
/// # Source
/// Definition: a share of extract mass; the attenuation limit follows from it by Balling.
///
/// # Example
/// ```
/// let mut pools = [0.0; process::mash::LIQUID];
/// pools[process::mash::OTHER] = 0.2;
/// assert_eq!(process::mash::fermentable_kg(&pools, 0.5), 0.1);
/// ```
#[inline]
pub fn fermentable_kg(pools: &[f64; LIQUID], other_sugar_share: f64) -> f64 {
    let mut sum = other_sugar_share * pools[OTHER];
    for i in GLUCOSE..=MALTOTRIOSE {
        sum += pools[i] * (1.0 + BOUND_WATER[i]);
    }
    sum
}

/// Gelatinised, uncut starch per starch of the grist: iodine turns normal when this stays below
/// [`IODINE_LIMIT`] in the liquid.
#[inline]
pub fn paste_share(pools: &[f64; LIQUID], starch_kg: f64) -> f64 {
    pools[PASTE] / starch_kg.max(1e-12)
}

/// Share of the laboratory extract that is dissolved: `X = x/(m_dry y)`.
#[inline]
pub fn conversion(pools: &[f64; LIQUID], potential_kg: f64) -> f64 {
    dissolved_kg(pools) / potential_kg.max(1e-12)
}

/// Paste per starch at which a drop of iodine still looks normal (our fit; half to twice it by
/// person).
pub const IODINE_LIMIT: f64 = 0.02;

#[cfg(test)]
mod tests;
