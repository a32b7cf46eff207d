//! A grist turned into the pools it starts the mash with. It deliberately knows no malt class:
//! the means over several malts are made in `matter` and arrive as plain numbers.

use super::{
    ALPHA, BETA, DEBRANCH, DRY_OTHER, DRY_STARCH, Kinetics, LIQUID, OTHER, PASTE, RAW_LARGE,
    RAW_SMALL, Release, SOLID,
};
use matter::malt::{Grist, grit_time_factor};

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
/// grit share of starch and other: dry     the rest: raw (the cooked share: paste) and dissolved
/// τ = τ_grit exp(0.25 (FCD - 1.5 %))
/// ```
///
/// Shape: flour and small grits are wet at once, enzymes come with the other extract. So full
/// conversion gives the laboratory extract `y`, and hydration is not counted twice (the end value
/// may pass `y` by 0.1 %).
///
/// | symbol | argument | unit | holds for |
/// |--------|----------|------|-----------|
/// | `y, other, FCD`, mass | `grist` | kg, kg/kg | `other <= y` |
/// | grit, shut, `τ_grit` | `k` | 1, s | 0 to 1, positive |
///
/// # Source
/// Definition; hydration and the effect of the fine-coarse difference are our choice.
///
/// # Example
/// ```
/// use matter::malt::{GristItem, grist};
/// use process::mash::{Kinetics, start};
/// let items: Vec<_> = GristItem::of("pale malt", 5.0).into_iter().collect();
/// let grist = grist(&items);
/// let begin = start(&grist, &Kinetics::default());
/// assert!((begin.dry_matter_kg() - grist.dry_kg).abs() < 1e-12);
/// ```
pub fn start(grist: &Grist, k: &Kinetics) -> Start {
    let dry_kg = grist.dry_kg;
    let cooked = grist.gelatinised;
    let other_kg = dry_kg * grist.other_dry;
    let starch_kg = dry_kg * grist.starch_dry;
    let open_kg = starch_kg * (1.0 - k.shut.clamp(0.0, 1.0));
    let grit = (k.grit + k.dough_loss).clamp(0.0, 1.0);
    let wet = 1.0 - grit;
    let raw_kg = wet * (1.0 - cooked) * open_kg;

    let mut solids = [0.0; SOLID];
    solids[DRY_STARCH] = grit * open_kg;
    solids[DRY_OTHER] = grit * other_kg;
    solids[RAW_LARGE] = (1.0 - k.small) * raw_kg;
    solids[RAW_SMALL] = k.small * raw_kg;

    let enzyme = [grist.alpha * k.alpha_factor, grist.beta * k.beta_factor, 1.0];
    let mut liquid = [0.0; LIQUID];
    liquid[PASTE] = wet * cooked * open_kg;
    liquid[OTHER] = wet * other_kg;
    liquid[ALPHA] = wet * enzyme[0];
    liquid[BETA] = wet * enzyme[1];
    liquid[DEBRANCH] = wet * enzyme[2];

    let grit_s = (k.grit_s * grit_time_factor(grist.fine_coarse_dry)).max(1e-3);
    let per_other = 1.0 / other_kg.max(1e-12);
    Start {
        solids,
        liquid,
        inert_kg: dry_kg - other_kg - open_kg,
        moisture_kg: grist.mass_kg * grist.moisture,
        starch_kg,
        potential_kg: dry_kg * grist.extract_fine_dry,
        other_sugar_share: grist.other_sugar_dry / grist.other_dry.max(1e-12),
        release: Release {
            wetting_per_s: 1.0 / grit_s,
            cooked,
            small: k.small,
            gel_shift_k: grist.gel_shift_k,
            alpha_per_kg: enzyme[0] * per_other,
            beta_per_kg: enzyme[1] * per_other,
            debranch_per_kg: enzyme[2] * per_other,
        },
        kinetics: Kinetics { limit: k.limit + grist.limit_shift, ..*k },
    }
}
