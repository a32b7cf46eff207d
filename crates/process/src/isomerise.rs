//! One addition of hops from hop matter to iso-alpha and beyond. It deliberately holds no rate
//! constant (they are in `matter::hop`) and no loss of the kettle or the cellar.

/// Pools of one addition, kg of alpha or what came of it.
pub const HOP: usize = 4;

/// Alpha still in the hop matter, kg.
pub const IN_HOP: usize = 0;
/// Alpha in the wort, kg.
pub const ALPHA: usize = 1;
/// Iso-alpha, kg.
pub const ISO: usize = 2;
/// What iso-alpha degrades to, kg.
pub const DEGRADED: usize = 3;

/// Extraction, isomerisation and loss of one addition: adds d/dt of its pools to `out`.
///
/// ```text
/// du/dt = -k_e u      da/dt = k_e u - k1 φ a      dx/dt = k1 φ a - k2 x      dy/dt = k2 x
/// ```
///
/// Shape: first order throughout; the sum of the pools never changes. `φ` is the same for all
/// additions and comes from their alpha together.
///
/// | symbol | argument           | unit | holds for |
/// |--------|--------------------|------|-----------|
/// | `k1`   | `k1_per_s`         | 1/s  | `matter::hop::isomerisation_rate_per_s` |
/// | `k2`   | `k2_per_s`         | 1/s  | `matter::hop::iso_loss_rate_per_s` |
/// | `φ`    | `phi`              | 1    | [`solubility_share`] |
/// | `k_e`  | `extraction_per_s` | 1/s  | by form and bag, `matter::hop` |
/// | pools  | `pools`            | kg   | 0 or more |
/// | rates  | `out`              | kg/s | added to  |
///
/// # Source
/// Malowicki and Shellhammer 2005, J. Agric. Food Chem. 53:4434 (first order in both steps).
///
/// # Example
/// ```
/// let mut out = [0.0; 4];
/// process::isomerise::hop_rates(2e-4, 5e-5, 1.0, 8e-3, &[1e-3, 2e-3, 1e-3, 0.0], &mut out);
/// assert!(out.iter().sum::<f64>().abs() < 1e-18);
/// ```
#[inline]
pub fn hop_rates(
    k1_per_s: f64,
    k2_per_s: f64,
    phi: f64,
    extraction_per_s: f64,
    pools: &[f64; HOP],
    out: &mut [f64; HOP],
) {
    let extracted = extraction_per_s * pools[IN_HOP];
    let turned = k1_per_s * phi * pools[ALPHA];
    let lost = k2_per_s * pools[ISO];
    out[IN_HOP] -= extracted;
    out[ALPHA] += extracted - turned;
    out[ISO] += turned - lost;
    out[DEGRADED] += lost;
}

/// Factor on the isomerisation rate for alpha beyond its solubility.
///
/// ```text
/// φ = [min(a, L) + q max(a - L, 0)]/a        L(pH) and q: `matter::hop`
/// ```
///
/// | symbol | argument       | unit | holds for   |
/// |--------|----------------|------|-------------|
/// | `a`    | `a_total_mg_l` | mg/L | 0 or more; alpha of all additions in the wort |
/// | `pH`   | `ph`           | pH   | 4.8 to 6    |
///
/// # Source
/// As `matter::hop::soluble_share`.
///
/// # Example
/// ```
/// assert!((process::isomerise::solubility_share(180.0, 5.2) - 0.75).abs() < 1e-12);
/// ```
#[inline]
pub fn solubility_share(a_total_mg_l: f64, ph: f64) -> f64 {
    let limit_kg_m3 = matter::hop::alpha_solubility_kg_m3(ph);
    matter::hop::soluble_share(1e-3 * a_total_mg_l, limit_kg_m3)
}
