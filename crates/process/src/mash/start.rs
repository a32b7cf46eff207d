//! A grist turned into the pools it starts the mash with. It deliberately knows no malt class:
//! the mix of several malts is made in `matter` and arrives as plain numbers.

use super::{
    ALPHA, BETA, DEBRANCH, DRY_OTHER, DRY_STARCH, Kinetics, LIQUID, OTHER, PASTE, RAW_LARGE,
    RAW_SMALL, Release, SOLID,
};

/// A grist as the kinetics see it: what one kilogram as weighed brings, mixed over its malts.
///
/// `extract`, `other`, `other_sugar` are weighted by dry mass, `limit_shift`, `cooked` and
/// `gel_shift_k` by starch; the enzymes are per starch, over the reference malt's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mix {
    /// Mass as weighed, kg.
    pub mass_kg: f64,
    /// Moisture, kg/kg as weighed.
    pub moisture: f64,
    /// Fine-grind extract, kg/kg dry.
    pub extract: f64,
    /// Dissolved extract that is not starch, kg/kg dry.
    pub other: f64,
    /// Fermentable part of it, kg/kg dry.
    pub other_sugar: f64,
    /// What the malts add to the limit-dextrin share.
    pub limit_shift: f64,
    /// Share of the starch that needs no gelatinising.
    pub cooked: f64,
    /// How much warmer the grist gelatinises than the reference malt, K.
    pub gel_shift_k: f64,
    /// Alpha-amylase per starch, 1 for the reference malt.
    pub alpha: f64,
    /// Beta-amylase per starch, 1 for the reference malt.
    pub beta: f64,
}

/// What a mash starts with, before any of it has reacted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Start {
    /// Pools of the solids, kg.
    pub solids: [f64; SOLID],
    /// Pools of the liquid, kg and enzyme units.
    pub liquid: [f64; LIQUID],
    /// Husk, and starch that is never reached: dry matter that never dissolves, kg.
    pub inert_kg: f64,
    /// Water that the grist brings, kg.
    pub moisture_kg: f64,
    /// Starch of the grist, kg.
    pub starch_kg: f64,
    /// Extract that a laboratory mash would win, kg.
    pub potential_kg: f64,
    /// Fermentable part of the other extract, kg/kg.
    pub other_sugar_share: f64,
    /// What the grits let go as they are wetted.
    pub release: Release,
    /// Constants of this mash: those given, with the grist's limit-dextrin share.
    pub kinetics: Kinetics,
}

impl Start {
    /// Strength of the mash with all extract dissolved in `water_kg`, moisture included, °P.
    ///
    /// ```text
    /// P_end = 100 y/(y + water per kg dry grist)
    /// ```
    pub fn final_plato(&self, water_kg: f64) -> f64 {
        100.0 * self.potential_kg / (self.potential_kg + water_kg)
    }

    /// Dry matter in all pools, kg: equals the dry grist until water is bound.
    pub fn dry_matter_kg(&self) -> f64 {
        let solids: f64 = self.solids.iter().sum();
        solids + self.liquid[PASTE] + self.liquid[OTHER] + self.inert_kg
    }
}

/// Pools of a grist at the moment it is wetted.
///
/// ```text
/// starch = (y - other)/1.042 per dry kg              1.042: hydration of a laboratory mash
/// grit share of starch and other: dry; the rest at once raw (or paste, the cooked share) and dissolved
/// ```
///
/// Shape: flour and small grits are wet at once, enzymes come with the other extract. So full
/// conversion gives the laboratory extract `y`, and hydration is not counted twice (the end value
/// may pass `y` by 0.1 %).
///
/// | symbol | argument | unit | holds for |
/// |--------|----------|------|-----------|
/// | `y, other`, mass | `mix` | kg, kg/kg | `other <= y` |
/// | grit, shut | `k`  | 1    | 0 to 1    |
///
/// # Source
/// Definition; laboratory hydration is our fit.
///
/// # Example
/// ```
/// use process::mash::{Kinetics, Mix, start};
/// let mix = Mix {
///     mass_kg: 5.0, moisture: 0.04, extract: 0.81, other: 0.165, other_sugar: 0.085,
///     limit_shift: 0.0, cooked: 0.0, gel_shift_k: 0.0, alpha: 1.0, beta: 1.0,
/// };
/// let begin = start(&mix, &Kinetics::default());
/// assert!((begin.dry_matter_kg() - 4.8).abs() < 1e-12);
/// ```
pub fn start(mix: &Mix, k: &Kinetics) -> Start {
    let dry_kg = mix.mass_kg * (1.0 - mix.moisture);
    let other_kg = dry_kg * mix.other;
    let starch_kg = dry_kg * (mix.extract - mix.other).max(0.0) / k.lab_hydration;
    let open_kg = starch_kg * (1.0 - k.shut.clamp(0.0, 1.0));
    let grit = (k.grit + k.dough_loss).clamp(0.0, 1.0);
    let wet = 1.0 - grit;
    let raw_kg = wet * (1.0 - mix.cooked) * open_kg;

    let mut solids = [0.0; SOLID];
    solids[DRY_STARCH] = grit * open_kg;
    solids[DRY_OTHER] = grit * other_kg;
    solids[RAW_LARGE] = (1.0 - k.small) * raw_kg;
    solids[RAW_SMALL] = k.small * raw_kg;

    let enzyme = [mix.alpha * k.alpha_factor, mix.beta * k.beta_factor, 1.0];
    let mut liquid = [0.0; LIQUID];
    liquid[PASTE] = wet * mix.cooked * open_kg;
    liquid[OTHER] = wet * other_kg;
    liquid[ALPHA] = wet * enzyme[0];
    liquid[BETA] = wet * enzyme[1];
    liquid[DEBRANCH] = wet * enzyme[2];

    let per_other = 1.0 / other_kg.max(1e-12);
    Start {
        solids,
        liquid,
        inert_kg: dry_kg - other_kg - open_kg,
        moisture_kg: mix.mass_kg * mix.moisture,
        starch_kg,
        potential_kg: dry_kg * mix.extract,
        other_sugar_share: mix.other_sugar / mix.other.max(1e-12),
        release: Release {
            wetting_per_s: 1.0 / k.grit_s.max(1e-3),
            cooked: mix.cooked,
            small: k.small,
            gel_shift_k: mix.gel_shift_k,
            alpha_per_kg: enzyme[0] * per_other,
            beta_per_kg: enzyme[1] * per_other,
            debranch_per_kg: enzyme[2] * per_other,
        },
        kinetics: Kinetics { limit: k.limit + mix.limit_shift, ..*k },
    }
}
