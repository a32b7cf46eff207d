//! The boil beyond its heat: how much vapour a surplus of heat makes, how high the foam stands,
//! what becomes of dimethyl sulphide. It deliberately leaves the heat itself to
//! [`heat`](crate::heat), colour and bitterness losses to `matter`.

use numerics::math::exp;

/// Density of vapour at the boil, kg/m³: saturated steam at 101 kPa (IAPWS).
pub const VAPOUR_KG_M3: f64 = 0.598;

/// Foam life of the first foam, before the protein has broken, s (from memory; times 1.6 either
/// way; wheat 1.4 times more).
pub const FIRST_FOAM_S: f64 = 4.0;

/// Foam life after the break, s (from memory; times 1.5 either way).
pub const LATER_FOAM_S: f64 = 1.0;

/// Surge at the first roll or at a hop charge, m (from memory; stirring halves it).
pub const SURGE_M: f64 = 0.030;

/// Vapour that leaves a boiling kettle.
///
/// ```text
/// m_e = max(Q_net, 0)/h_fg(T)
/// ```
///
/// Shape: the liquid is at its boiling point, so all heat that is left over makes vapour; surface
/// evaporation is not added to it.
///
/// | symbol  | argument | unit | holds for |
/// |---------|----------|------|-----------|
/// | `Q_net` | `net_w`  | W    | heat in less side and sensible loss; below 0 the boil stops |
/// | `T`     | `temp_c` | °C   | 80 to 105 |
///
/// Returns kg/s.
///
/// # Source
/// Heat balance.
///
/// # Example
/// ```
/// let hourly = 3600.0 * process::boil::boil_off_kg_s(2900.0, 100.0);
/// assert!((hourly - 4.627).abs() < 0.002);
/// ```
#[inline]
pub fn boil_off_kg_s(net_w: f64, temp_c: f64) -> f64 {
    net_w.max(0.0) / matter::water::evaporation_heat_j_kg(temp_c)
}

/// Speed with which vapour rises through the open surface.
///
/// ```text
/// j = m_e/(ρ_v A)
/// ```
///
/// | symbol | argument        | unit | holds for |
/// |--------|-----------------|------|-----------|
/// | `m_e`  | `boil_off_kg_s` | kg/s | 0 or more |
/// | `A`    | `surface_m2`    | m²   | positive  |
///
/// Returns m/s.
///
/// # Source
/// Continuity.
///
/// # Example
/// ```
/// let area = std::f64::consts::FRAC_PI_4 * 0.36 * 0.36;
/// assert!((process::boil::vapour_speed_m_s(4.627 / 3600.0, area) - 0.02113).abs() < 2e-5);
/// ```
pub fn vapour_speed_m_s(boil_off_kg_s: f64, surface_m2: f64) -> f64 {
    boil_off_kg_s / (VAPOUR_KG_M3 * surface_m2)
}

/// Height of the foam on a boiling wort.
///
/// ```text
/// h = Σ j
/// ```
///
/// | symbol | argument           | unit | holds for |
/// |--------|--------------------|------|-----------|
/// | `Σ`    | `foam_life_s`      | s    | [`FIRST_FOAM_S`], [`LATER_FOAM_S`] |
/// | `j`    | `vapour_speed_m_s` | m/s  | 0 or more |
///
/// Returns m.
///
/// # Source
/// Bikerman's unit of foaminess: J. J. Bikerman, *Foams*, 1973 (from memory).
///
/// # Example
/// ```
/// assert!((process::boil::foam_m(4.0, 0.02113) - 0.0845).abs() < 1e-4);
/// ```
pub fn foam_m(foam_life_s: f64, vapour_speed_m_s: f64) -> f64 {
    foam_life_s * vapour_speed_m_s
}

/// Free height that a kettle needs above its cold filling.
///
/// ```text
/// h = depth (ρ_cold/ρ_hot - 1) + foam + surge
/// ```
///
/// | symbol | argument  | unit | holds for |
/// |--------|-----------|------|-----------|
/// | depth  | `depth_m` | m    | of the liquid as filled |
/// | `ρ_cold/ρ_hot` | `expansion` | 1 | 1.04 from 20 °C, 1.019 from 66 °C |
/// | foam   | `foam_m`  | m    | 0 or more |
/// | surge  | `surge_m` | m    | [`SURGE_M`], half when stirred |
///
/// Returns m; the kettle boils over when this passes the rim.
///
/// # Source
/// Geometry; practice fills at most 75 to 80 % before the break (common practice).
///
/// # Example
/// ```
/// assert!((process::boil::headroom_m(0.30, 1.04, 0.084, 0.030) - 0.126).abs() < 1e-12);
/// ```
pub fn headroom_m(depth_m: f64, expansion: f64, foam_m: f64, surge_m: f64) -> f64 {
    depth_m * (expansion - 1.0) + foam_m + surge_m
}

/// Rate at which the precursor of dimethyl sulphide splits.
///
/// ```text
/// k_s = (ln 2/35 min) 2^((T - 100)/6) exp(0.521 (pH - 5.4))
/// ```
///
/// | symbol | argument | unit | holds for  |
/// |--------|----------|------|------------|
/// | `T`    | `temp_c` | °C   | 75 to 105; practically stops below 80 |
/// | `pH`   | `ph`     | pH   | 5.0 to 5.8 |
///
/// Returns 1/s.
///
/// # Source
/// Wilson and Booer 1979, J. Inst. Brew. 85:144 (0.02 per min); Dickenson 1979, J. Inst. Brew.
/// 85:235 (38 min at pH 5.2, 32.5 at 5.5); Anness and Bamforth 1982, J. Inst. Brew. 88:244
/// (doubling per 6 K).
///
/// # Example
/// ```
/// let k = process::boil::precursor_rate_per_s(100.0, 5.4);
/// assert!(((-3600.0 * k).exp() - 0.3048).abs() < 1e-4);
/// ```
pub fn precursor_rate_per_s(temp_c: f64, ph: f64) -> f64 {
    const AT_BOIL_PER_S: f64 = std::f64::consts::LN_2 / (35.0 * 60.0);
    AT_BOIL_PER_S * exp(std::f64::consts::LN_2 * (temp_c - 100.0) / 6.0 + 0.521 * (ph - 5.4))
}

/// Rate at which a boil strips free dimethyl sulphide.
///
/// ```text
/// k_v = ε K m_e/m          K = 63.5
/// ```
///
/// | symbol | argument        | unit | holds for |
/// |--------|-----------------|------|-----------|
/// | `m_e`  | `boil_off_kg_s` | kg/s | 0 or more |
/// | `m`    | `mass_kg`       | kg   | positive  |
/// | `ε`    | `mixing`        | 1    | 0.7 ± 0.15 (from memory) |
///
/// Returns 1/s.
///
/// # Source
/// `K` from Wilson and Booer 1979: 0.18 per min at 17 %/h. Mixing: the idea of Kloos and Scheuren
/// 2016, MBAA TQ 53(3), value from memory.
///
/// # Example
/// ```
/// let per_min = 60.0 * process::boil::stripping_rate_per_s(0.17 / 3600.0, 1.0, 1.0);
/// assert!((per_min - 0.18).abs() < 0.001);
/// ```
pub fn stripping_rate_per_s(boil_off_kg_s: f64, mass_kg: f64, mixing: f64) -> f64 {
    const PARTITION: f64 = 63.5;
    mixing * PARTITION * boil_off_kg_s / mass_kg
}

/// Rate at which an open stand loses free dimethyl sulphide, 1/s (from memory; times 2 either way);
/// a covered one loses none.
pub const OPEN_STAND_PER_S: f64 = 0.005 / 60.0;

/// Precursor and free dimethyl sulphide, as amounts: adds d/dt to `out`.
///
/// ```text
/// dS/dt = -k_s S        dD/dt = k_s S - k_v D
/// ```
///
/// Shape: amounts (µg or any other), so that concentrating changes nothing. What leaves is
/// `k_v D`.
///
/// | symbol | argument          | unit | holds for |
/// |--------|-------------------|------|-----------|
/// | `k_s`  | `splitting_per_s` | 1/s  | from [`precursor_rate_per_s`] |
/// | `k_v`  | `leaving_per_s`   | 1/s  | from [`stripping_rate_per_s`], or a stand |
/// | `S, D` | `amounts`         | any  | 0 or more |
/// | rates  | `out`             | any/s | added to |
///
/// # Source
/// First order, as [`precursor_rate_per_s`].
///
/// # Example
/// ```
/// let mut out = [0.0; 2];
/// process::boil::sulphide_rates(1e-3, 2e-3, &[100.0, 10.0], &mut out);
/// assert_eq!(out, [-0.1, 0.08]);
/// ```
#[inline]
pub fn sulphide_rates(
    splitting_per_s: f64,
    leaving_per_s: f64,
    amounts: &[f64; 2],
    out: &mut [f64; 2],
) {
    let split = splitting_per_s * amounts[0];
    out[0] -= split;
    out[1] += split - leaving_per_s * amounts[1];
}
