//! Closed heat balances of the mash tun: strike, steps by hot liquor or decoction, and the strength
//! and volume of the finished mash. It deliberately integrates nothing: a plan starts from these
//! and the simulator corrects them.
//!
//! Dry matter counts at 0.38 of water and all water at 4186 J/(kg K), constant: the closed forms'
//! own convention, good to 0.3 % of the heat.

use numerics::math::exp;

/// Heat capacity of water in the closed forms, J/(kg K) (handbook value).
pub const WATER_J_KG_K: f64 = 4186.0;

/// Heat capacity of dry malt over that of water. Source: Brewing Room Book 1984/85, appendix.
pub const DRY_SHARE: f64 = 0.38;

/// Volume of dissolved extract, m³/kg: our fit to sucrose densities, 10 to 20 °P.
pub const EXTRACT_M3_KG: f64 = 0.61e-3;

/// Density of undissolved malt matter, kg/m³ (from memory).
pub const SOLIDS_KG_M3: f64 = 1450.0;

/// Heat capacity of malt as weighed.
///
/// ```text
/// c_g = [(1 - M) 0.38 + M] c_w
/// ```
///
/// | symbol | argument   | unit  | holds for |
/// |--------|------------|-------|-----------|
/// | `M`    | `moisture` | kg/kg | 0 to 0.12 |
///
/// Returns J/(kg K).
///
/// # Source
/// Brewing Room Book 1984/85, appendix: 0.38 to 0.42 of water from 0 to 8 % moisture, met to 0.01.
///
/// # Example
/// ```
/// let ratio = process::strike::malt_heat_j_kg_k(0.04) / 4186.0;
/// assert!((ratio - 0.4048).abs() < 1e-4);
/// ```
pub fn malt_heat_j_kg_k(moisture: f64) -> f64 {
    ((1.0 - moisture) * DRY_SHARE + moisture) * WATER_J_KG_K
}

/// Heat that malt gives off when it is first wetted.
///
/// ```text
/// q = 39 exp(-13.5 M)   kJ per kg as weighed
/// ```
///
/// | symbol | argument   | unit  | holds for |
/// |--------|------------|-------|-----------|
/// | `M`    | `moisture` | kg/kg | 0 to 0.12 |
///
/// Returns J/kg. Within 1.5 kJ/kg of the table it was fitted to; varies by a quarter in use.
///
/// # Source
/// Our fit to the table of temperature rise in Brewing Room Book 1984/85, appendix, turned into
/// heat at that table's 2.68 kg/kg.
///
/// # Example
/// ```
/// assert!((process::strike::wetting_heat_j_kg(0.04) - 22_727.0).abs() < 1.0);
/// ```
pub fn wetting_heat_j_kg(moisture: f64) -> f64 {
    39e3 * exp(-13.5 * moisture)
}

/// A dough-in: what meets in the tun and what goes astray.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DoughIn {
    /// Grist as weighed, kg.
    pub grist_kg: f64,
    /// Its moisture, kg/kg.
    pub moisture: f64,
    /// Its temperature, °C.
    pub grain_c: f64,
    /// Liquor, kg.
    pub liquor_kg: f64,
    /// Heat capacity of the vessel's metal that comes to mash temperature, J/K.
    pub vessel_j_k: f64,
    /// Temperature of the vessel before, °C.
    pub vessel_c: f64,
    /// Heat of wetting, J per kg as weighed; see [`wetting_heat_j_kg`].
    pub wetting_j_kg: f64,
    /// Heat lost while filling and stirring, J.
    pub lost_j: f64,
}

impl DoughIn {
    fn demand_j(&self, mash_c: f64) -> f64 {
        let grain = self.grist_kg * malt_heat_j_kg_k(self.moisture) * (mash_c - self.grain_c);
        grain - self.grist_kg * self.wetting_j_kg + self.lost_j
    }
}

/// Temperature of liquor that is run hot onto cold grist in a vessel of its own temperature.
///
/// ```text
/// W c_w (T_w - T_m) = m c_g (T_m - T_g) + C_v (T_m - T_v) - m q + Q_loss
/// ```
///
/// | symbol | argument  | unit | holds for   |
/// |--------|-----------|------|-------------|
/// | all    | `dough`   | see [`DoughIn`] | `liquor_kg > 0` |
/// | `T_m`  | `mash_c`  | °C   | 0 to 100    |
///
/// Returns °C; more than the boiling point means that it cannot be done this way.
///
/// # Source
/// Heat balance.
///
/// # Example
/// ```
/// use process::strike::{DoughIn, strike_c};
/// let dough = DoughIn {
///     grist_kg: 5.0, moisture: 0.04, grain_c: 20.0, liquor_kg: 15.0,
///     vessel_j_k: 0.0, vessel_c: 20.0, wetting_j_kg: 0.0, lost_j: 0.0,
/// };
/// assert!((strike_c(&dough, 66.0) - 72.207).abs() < 0.01);
/// ```
pub fn strike_c(dough: &DoughIn, mash_c: f64) -> f64 {
    let vessel = dough.vessel_j_k * (mash_c - dough.vessel_c);
    mash_c + (dough.demand_j(mash_c) + vessel) / (dough.liquor_kg * WATER_J_KG_K)
}

/// Temperature of liquor heated in the tun itself, so that liquor and vessel start alike.
///
/// ```text
/// (W c_w + C_v)(T_w - T_m) = m c_g (T_m - T_g) - m q + Q_loss
/// ```
///
/// | symbol | argument  | unit | holds for   |
/// |--------|-----------|------|-------------|
/// | all    | `dough`   | see [`DoughIn`] | `liquor_kg > 0` |
/// | `T_m`  | `mash_c`  | °C   | 0 to 100    |
///
/// Returns °C; `vessel_c` is not used.
///
/// # Source
/// Heat balance.
///
/// # Example
/// ```
/// use process::strike::{DoughIn, strike_in_tun_c};
/// let dough = DoughIn {
///     grist_kg: 5.0, moisture: 0.04, grain_c: 20.0, liquor_kg: 15.0,
///     vessel_j_k: 2500.0, vessel_c: 20.0, wetting_j_kg: 22e3, lost_j: 0.0,
/// };
/// assert!((strike_in_tun_c(&dough, 66.0) - 70.28).abs() < 0.01);
/// ```
pub fn strike_in_tun_c(dough: &DoughIn, mash_c: f64) -> f64 {
    let capacity = dough.liquor_kg * WATER_J_KG_K + dough.vessel_j_k;
    mash_c + dough.demand_j(mash_c) / capacity
}

/// Mash temperature that a dough-in with liquor at `liquor_c` comes to; inverse of [`strike_c`].
///
/// ```text
/// T_m = [W c_w T_w + m c_g T_g + C_v T_v + m q - Q_loss]/(W c_w + m c_g + C_v)
/// ```
///
/// | symbol | argument   | unit | holds for |
/// |--------|------------|------|-----------|
/// | all    | `dough`    | see [`DoughIn`] | a positive sum of capacities |
/// | `T_w`  | `liquor_c` | °C   | 0 to 100  |
///
/// Returns °C. With `vessel_c` equal to `liquor_c` it is the inverse of [`strike_in_tun_c`].
///
/// # Source
/// Heat balance.
///
/// # Example
/// ```
/// use process::strike::{DoughIn, mash_c, strike_c};
/// let dough = DoughIn {
///     grist_kg: 5.0, moisture: 0.04, grain_c: 20.0, liquor_kg: 15.0,
///     vessel_j_k: 2500.0, vessel_c: 20.0, wetting_j_kg: 22e3, lost_j: 40e3,
/// };
/// assert!((mash_c(&dough, strike_c(&dough, 66.0)) - 66.0).abs() < 1e-9);
/// ```
pub fn mash_c(dough: &DoughIn, liquor_c: f64) -> f64 {
    let liquor = dough.liquor_kg * WATER_J_KG_K;
    let grain = dough.grist_kg * malt_heat_j_kg_k(dough.moisture);
    let heat = liquor * liquor_c
        + grain * dough.grain_c
        + dough.vessel_j_k * dough.vessel_c
        + dough.grist_kg * dough.wetting_j_kg
        - dough.lost_j;
    heat / (liquor + grain + dough.vessel_j_k)
}

/// Hot liquor that lifts a mash from one rest to the next.
///
/// ```text
/// dW = C (T_2 - T_1)/[c_w (T_h - T_2)]      C = m c_g + W c_w + C_v
/// ```
///
/// | symbol | argument        | unit | holds for     |
/// |--------|-----------------|------|---------------|
/// | `C`    | `capacity_j_k`  | J/K  | positive      |
/// | `T_1`  | `from_c`        | °C   | below `to_c`  |
/// | `T_2`  | `to_c`          | °C   | below `liquor_c` |
/// | `T_h`  | `liquor_c`      | °C   | to the boil   |
///
/// Returns kg; infinite when the liquor is not hotter than the wanted rest.
///
/// # Source
/// Heat balance.
///
/// # Example
/// ```
/// let c = 5.0 * process::strike::malt_heat_j_kg_k(0.04) + 12.5 * 4186.0 + 2500.0;
/// assert!((process::strike::step_liquor_kg(c, 52.0, 64.0, 98.0) - 5.337).abs() < 0.001);
/// ```
pub fn step_liquor_kg(capacity_j_k: f64, from_c: f64, to_c: f64, liquor_c: f64) -> f64 {
    if liquor_c <= to_c {
        return f64::INFINITY;
    }
    capacity_j_k * (to_c - from_c) / (WATER_J_KG_K * (liquor_c - to_c))
}

/// Heat capacity to draw off for a decoction.
///
/// ```text
/// C_dec = (C_mash + C_v)(T_2 - T_1)/(T_ret - T_1)
/// ```
///
/// Shape: the rest of the mash stays at `T_1`; in small pots it loses 5 to 10 K meanwhile and the
/// draw comes back at 85 to 90 °C (common practice, no source).
///
/// | symbol         | argument       | unit | holds for          |
/// |----------------|----------------|------|--------------------|
/// | `C_mash + C_v` | `capacity_j_k` | J/K  | positive           |
/// | `T_1`          | `from_c`       | °C   | below `to_c`       |
/// | `T_2`          | `to_c`         | °C   | below `return_c`   |
/// | `T_ret`        | `return_c`     | °C   | to the boil        |
///
/// Returns J/K (or litres, when capacity is given in litres of equal mash).
///
/// # Source
/// Heat balance.
///
/// # Example
/// ```
/// assert_eq!(process::strike::decoction_j_k(20.0, 52.0, 64.0, 100.0), 5.0);
/// ```
pub fn decoction_j_k(capacity_j_k: f64, from_c: f64, to_c: f64, return_c: f64) -> f64 {
    if return_c <= from_c {
        return f64::INFINITY;
    }
    capacity_j_k * (to_c - from_c) / (return_c - from_c)
}

/// A mash per kilogram of grist as weighed, for the closed forms of strength and volume.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MashMix {
    /// Extract of the grist as weighed, kg/kg (laboratory fine grind).
    pub extract: f64,
    /// Moisture of the grist, kg/kg.
    pub moisture: f64,
    /// Liquor per grist as weighed, kg/kg, vapour taken off.
    pub liquor_kg_kg: f64,
}

/// Strength of the mixed mash at a conversion.
///
/// ```text
/// P_1 = 100 y_a X/(y_a X + r + M)
/// ```
///
/// | symbol | argument     | unit  | holds for |
/// |--------|--------------|-------|-----------|
/// | `y_a, M, r` | `mix`   | kg/kg | positive  |
/// | `X`    | `conversion` | 1     | 0 to 1    |
///
/// Returns °P.
///
/// # Source
/// Mass balance; the water that splitting binds (4 % of the starch) is left out, so the simulated
/// mash is 0.1 to 0.2 °P stronger.
///
/// # Example
/// ```
/// use process::strike::{MashMix, first_wort_plato};
/// let mix = MashMix { extract: 0.75, moisture: 0.0, liquor_kg_kg: 3.0 };
/// assert!((first_wort_plato(&mix, 1.0) - 20.0).abs() < 1e-12);
/// ```
pub fn first_wort_plato(mix: &MashMix, conversion: f64) -> f64 {
    let extract = mix.extract * conversion;
    100.0 * extract / (extract + mix.liquor_kg_kg + mix.moisture)
}

/// Conversion told by a reading of the mixed mash; inverse of [`first_wort_plato`].
///
/// ```text
/// X = P_1 (r + M)/[y_a (100 - P_1)]
/// ```
///
/// | symbol | argument | unit  | holds for     |
/// |--------|----------|-------|---------------|
/// | `y_a, M, r` | `mix` | kg/kg | positive     |
/// | `P_1`  | `plato`  | °P    | 0 to below 100 |
///
/// # Source
/// As [`first_wort_plato`].
///
/// # Example
/// ```
/// use process::strike::{MashMix, conversion_from_first_wort};
/// let mix = MashMix { extract: 0.7776, moisture: 0.04, liquor_kg_kg: 3.0 };
/// assert!((conversion_from_first_wort(&mix, 18.0) - 0.8582).abs() < 1e-3);
/// ```
pub fn conversion_from_first_wort(mix: &MashMix, plato: f64) -> f64 {
    plato * (mix.liquor_kg_kg + mix.moisture) / (mix.extract * (100.0 - plato))
}

/// Liquor per grist that makes a wanted first wort; the other inverse of [`first_wort_plato`].
///
/// ```text
/// r = y_a X (100 - P_1)/P_1 - M
/// ```
///
/// | symbol | argument     | unit  | holds for |
/// |--------|--------------|-------|-----------|
/// | `y_a, M` | `mix`      | kg/kg | positive; its `liquor_kg_kg` is not used |
/// | `X`    | `conversion` | 1     | 0 to 1    |
/// | `P_1`  | `plato`      | °P    | above 0   |
///
/// Returns kg/kg.
///
/// # Source
/// As [`first_wort_plato`].
///
/// # Example
/// ```
/// use process::strike::{MashMix, liquor_for_first_wort_kg_kg};
/// let mix = MashMix { extract: 0.70, moisture: 0.0, liquor_kg_kg: 0.0 };
/// assert!((4.0 * liquor_for_first_wort_kg_kg(&mix, 1.0, 16.0) - 14.70).abs() < 1e-9);
/// ```
pub fn liquor_for_first_wort_kg_kg(mix: &MashMix, conversion: f64, plato: f64) -> f64 {
    mix.extract * conversion * (100.0 - plato) / plato - mix.moisture
}

/// Volume of a converted mash, near 20 °C.
///
/// ```text
/// V = (W + m M)/1000 + m (0.61e-3 y_a + u/1450)      u = 1 - M - y_a
/// ```
///
/// | symbol | argument    | unit  | holds for |
/// |--------|-------------|-------|-----------|
/// | `m`    | `grist_kg`  | kg    | 0 or more |
/// | `y_a, M, W/m` | `mix` | kg/kg | positive |
///
/// Returns m³, counting water at 1000 kg/m³. Shape: everything that can dissolve has dissolved.
///
/// # Source
/// Volumes add; 0.64 L per kg of malt against 0.65 measured by Palmer 1995 in a kitchen.
///
/// # Example
/// ```
/// use process::strike::{MashMix, mash_volume_m3};
/// let mix = MashMix { extract: 0.7776, moisture: 0.04, liquor_kg_kg: 3.0 };
/// assert!((1e3 * mash_volume_m3(5.0, &mix) - 18.2).abs() < 0.02);
/// ```
pub fn mash_volume_m3(grist_kg: f64, mix: &MashMix) -> f64 {
    let water = (mix.liquor_kg_kg + mix.moisture) / 1000.0;
    let undissolved = (1.0 - mix.moisture - mix.extract) / SOLIDS_KG_M3;
    grist_kg * (water + mix.extract * EXTRACT_M3_KG + undissolved)
}
