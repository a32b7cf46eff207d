//! Chilling: a coil in the kettle, a counterflow or plate chiller, ice, a sealed can, and the
//! litres that stay behind. It deliberately knows no tap, no hose and no clock.

mod coil;

pub use coil::{
    CoilInputs, StirredCoil, coil_outside_m2, coil_ua_w_k, inside_w_m2_k, outside_still_w_m2_k,
    outside_stirred_w_m2_k,
};

use numerics::math::{exp, ln};

/// Heat capacity of coolant water in the closed forms, J/(kg K) (handbook value).
pub const COOLANT_J_KG_K: f64 = 4184.0;

/// Effectiveness of a coil in a stirred vessel: `1 - exp(-UA/C)`.
///
/// ```text
/// ε = 1 - exp(-UA/C)
/// ```
///
/// | symbol | argument      | unit | holds for |
/// |--------|---------------|------|-----------|
/// | `UA`   | `ua_w_k`      | W/K  | 0 or more |
/// | `C`    | `coolant_w_k` | W/K  | positive; 0 gives 1 |
///
/// # Source
/// Incropera et al., *Fundamentals of Heat and Mass Transfer*, chapter 11, with `C_r = 0`.
///
/// # Example
/// ```
/// assert!((process::chill::coil_effectiveness(300.0, 418.4) - 0.511794).abs() < 1e-6);
/// ```
#[inline]
pub fn coil_effectiveness(ua_w_k: f64, coolant_w_k: f64) -> f64 {
    if coolant_w_k <= 0.0 {
        return 1.0;
    }
    1.0 - exp(-ua_w_k / coolant_w_k)
}

/// Heat that a cold coil draws from a stirred vessel.
///
/// ```text
/// Q = ε C (T - T_in)
/// ```
///
/// Shape: coolant in plug flow. Positive when the vessel loses heat.
///
/// | symbol | argument      | unit | holds for |
/// |--------|---------------|------|-----------|
/// | `UA`   | `ua_w_k`      | W/K  | 0 or more |
/// | `C`    | `coolant_w_k` | W/K  | 0 or more |
/// | `T`    | `temp_c`      | °C   | 0 to 105  |
/// | `T_in` | `inlet_c`     | °C   | 0 to 100  |
///
/// Returns W.
///
/// # Source
/// As [`coil_effectiveness`].
///
/// # Example
/// ```
/// let heat = process::chill::coil_heat_w(500.0, 500.0, 80.0, 20.0);
/// assert!((heat - 18_963.6).abs() < 0.1);
/// ```
#[inline]
pub fn coil_heat_w(ua_w_k: f64, coolant_w_k: f64, temp_c: f64, inlet_c: f64) -> f64 {
    coil_effectiveness(ua_w_k, coolant_w_k) * coolant_w_k.max(0.0) * (temp_c - inlet_c)
}

/// Time in which a device that takes `draw_w_k` per kelvin of lift over its inlet cools a vessel.
///
/// ```text
/// t = (C_vessel/draw) ln[(T_0 - T_in)/(T_1 - T_in)]
/// ```
///
/// Shape: no loss to the air; `draw` is `ε C` of a coil, `ε C_min` of a chiller that returns to the
/// mixed vessel, or the `UA` of a can standing in air of `T_in`.
///
/// | symbol     | argument       | unit | holds for |
/// |------------|----------------|------|-----------|
/// | `C_vessel` | `capacity_j_k` | J/K  | positive  |
/// | `draw`     | `draw_w_k`     | W/K  | positive  |
/// | temperatures | `path`       | °C   | inlet below both, else infinite |
///
/// Returns s.
///
/// # Source
/// First-order heat balance, integrated.
///
/// # Example
/// ```
/// use process::chill::{CoolDown, coil_effectiveness, cool_down_time_s};
/// let draw = coil_effectiveness(300.0, 418.4) * 418.4;
/// let path = CoolDown { from_c: 100.0, to_c: 20.0, inlet_c: 15.0 };
/// assert!((cool_down_time_s(20.9 * 3980.0, draw, &path) - 1100.6).abs() < 0.1);
/// ```
pub fn cool_down_time_s(capacity_j_k: f64, draw_w_k: f64, path: &CoolDown) -> f64 {
    let ratio = (path.from_c - path.inlet_c) / (path.to_c - path.inlet_c);
    if !(ratio.is_finite() && ratio > 0.0 && draw_w_k > 0.0 && path.to_c > path.inlet_c) {
        return f64::INFINITY;
    }
    capacity_j_k / draw_w_k * ln(ratio)
}

/// From where to where, against what.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoolDown {
    /// Temperature at the start, °C.
    pub from_c: f64,
    /// Temperature wanted, °C.
    pub to_c: f64,
    /// Temperature of the coolant as it comes, °C.
    pub inlet_c: f64,
}

/// Temperature after a time of the same cooling.
///
/// ```text
/// T = T_in + (T_0 - T_in) exp(-draw t/C_vessel)
/// ```
///
/// | symbol     | argument       | unit | holds for |
/// |------------|----------------|------|-----------|
/// | `C_vessel/draw` | `time_constant_s` | s | positive |
/// | `T_0`      | `from_c`       | °C   | all       |
/// | `T_in`     | `inlet_c`      | °C   | all       |
/// | `t`        | `time_s`       | s    | 0 or more |
///
/// Returns °C. With the UA of a wall and the air for the inlet this is a sealed can overnight.
///
/// # Source
/// Newton cooling.
///
/// # Example
/// ```
/// let t_c = process::chill::cooled_c(388.45, 100.0, 15.0, 600.0);
/// assert!((t_c - 33.14).abs() < 0.01);
/// ```
pub fn cooled_c(time_constant_s: f64, from_c: f64, inlet_c: f64, time_s: f64) -> f64 {
    inlet_c + (from_c - inlet_c) * exp(-time_s / time_constant_s)
}

/// Effectiveness of a counterflow or plate chiller, single pass.
///
/// ```text
/// NTU = UA/C_min   C_r = C_min/C_max   ε = (1 - e^(-NTU(1 - C_r)))/(1 - C_r e^(-NTU(1 - C_r)))
/// ε = NTU/(1 + NTU)   at C_r = 1
/// ```
///
/// | symbol | argument      | unit | holds for |
/// |--------|---------------|------|-----------|
/// | `UA`   | `ua_w_k`      | W/K  | 0 or more |
/// | `C`    | `wort_w_k`    | W/K  | positive  |
/// | `C`    | `coolant_w_k` | W/K  | positive  |
///
/// The heat moved is `ε C_min (T_wort,in - T_coolant,in)`.
///
/// # Source
/// Incropera et al., chapter 11; Kays and London, *Compact Heat Exchangers*.
///
/// # Example
/// ```
/// let e = process::chill::counterflow_effectiveness(600.0, 418.4, 418.4);
/// assert!((e - 600.0 / 1018.4).abs() < 1e-9);
/// ```
pub fn counterflow_effectiveness(ua_w_k: f64, wort_w_k: f64, coolant_w_k: f64) -> f64 {
    let (least, most) = (wort_w_k.min(coolant_w_k), wort_w_k.max(coolant_w_k));
    if least <= 0.0 {
        return 0.0;
    }
    let (units, ratio) = (ua_w_k / least, least / most);
    let gap = units * (1.0 - ratio);
    if gap < 1e-6 {
        // The limit, with its first correction cancelling to order gap².
        return units / (1.0 + units);
    }
    let decay = exp(-gap);
    (1.0 - decay) / (1.0 - ratio * decay)
}

/// What leaves a counterflow chiller.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Counterflow {
    /// Wort out, °C.
    pub wort_c: f64,
    /// Coolant out, °C.
    pub coolant_c: f64,
    /// Heat moved, W.
    pub heat_w: f64,
}

/// Both outlets of a counterflow or plate chiller.
///
/// ```text
/// Q = ε C_min (T_wort - T_cool)     each outlet: inlet ∓ Q/C
/// ```
///
/// | symbol | argument      | unit | holds for |
/// |--------|---------------|------|-----------|
/// | `UA`   | `ua_w_k`      | W/K  | 0 or more |
/// | `C`, inlet of the wort    | `wort` | W/K, °C | positive |
/// | `C`, inlet of the coolant | `coolant` | W/K, °C | positive |
///
/// # Source
/// As [`counterflow_effectiveness`].
///
/// # Example
/// ```
/// use process::chill::{Stream, counterflow};
/// let wort = Stream { capacity_w_k: 0.05 * 3980.0, inlet_c: 95.0 };
/// let water = Stream { capacity_w_k: 0.10 * 4184.0, inlet_c: 15.0 };
/// let out = counterflow(400.0, &wort, &water);
/// assert!((out.wort_c - 32.526).abs() < 0.01 && (out.coolant_c - 44.714).abs() < 0.01);
/// ```
pub fn counterflow(ua_w_k: f64, wort: &Stream, coolant: &Stream) -> Counterflow {
    let (hot, cold) = (wort.capacity_w_k, coolant.capacity_w_k);
    let heat_w = counterflow_effectiveness(ua_w_k, hot, cold)
        * hot.min(cold).max(0.0)
        * (wort.inlet_c - coolant.inlet_c);
    let change = |capacity: f64| if capacity > 0.0 { heat_w / capacity } else { 0.0 };
    Counterflow {
        wort_c: wort.inlet_c - change(hot),
        coolant_c: coolant.inlet_c + change(cold),
        heat_w,
    }
}

/// A stream through a chiller.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stream {
    /// Mass flow times heat capacity, W/K.
    pub capacity_w_k: f64,
    /// Temperature at the inlet, °C.
    pub inlet_c: f64,
}

/// Heat of melting of ice, J/kg (CRC Handbook).
pub const ICE_J_KG: f64 = 333.55e3;

/// Heat capacity of melted ice, J/(kg K).
const MELT_J_KG_K: f64 = 4200.0;

/// Heat that ice of 0 °C takes until it has melted and warmed.
///
/// ```text
/// Q = m (333.55e3 + 4200 T)
/// ```
///
/// | symbol | argument | unit | holds for |
/// |--------|----------|------|-----------|
/// | `m`    | `ice_kg` | kg   | 0 or more |
/// | `T`    | `end_c`  | °C   | 0 to 100  |
///
/// Returns J.
///
/// # Source
/// CRC Handbook of Chemistry and Physics (heat of melting).
///
/// # Example
/// ```
/// assert!((process::chill::ice_heat_j(5.0, 5.0) - 1.77275e6).abs() < 1.0);
/// ```
pub fn ice_heat_j(ice_kg: f64, end_c: f64) -> f64 {
    ice_kg * (ICE_J_KG + MELT_J_KG_K * end_c)
}

/// Clean ice that cools a vessel when put straight in (it dilutes).
///
/// ```text
/// m = C (T_0 - T_1)/(333.55e3 + 4200 T_1)
/// ```
///
/// | symbol | argument       | unit | holds for |
/// |--------|----------------|------|-----------|
/// | `C`    | `capacity_j_k` | J/K  | positive  |
/// | `T_0`  | `from_c`       | °C   | above `to_c` |
/// | `T_1`  | `to_c`         | °C   | 0 or more |
///
/// Returns kg.
///
/// # Source
/// Heat balance, as [`ice_heat_j`].
///
/// # Example
/// ```
/// assert!((process::chill::ice_kg(20.9 * 3980.0, 35.0, 20.0) - 2.988).abs() < 0.001);
/// ```
pub fn ice_kg(capacity_j_k: f64, from_c: f64, to_c: f64) -> f64 {
    (capacity_j_k * (from_c - to_c) / ice_heat_j(1.0, to_c)).max(0.0)
}

/// Hot trub per volume of wort of 12 °P, hops kept out (common practice; times 1.5 either way;
/// wheat 1.5 times more).
pub const HOT_TRUB_SHARE: f64 = 0.02;

/// Cold break per volume, if it settles in the kettle (common practice; times 1.6 either way).
pub const COLD_TRUB_SHARE: f64 = 0.01;

/// Wet trub that holds wort back.
///
/// ```text
/// V_trub = t_b V (P/12)^0.5 + t_c V
/// ```
///
/// | symbol | argument    | unit | holds for |
/// |--------|-------------|------|-----------|
/// | `V`    | `volume_m3` | m³   | wort in the kettle, 20 °C |
/// | `P`    | `plato`     | °P   | 0 to 30   |
/// | `t_b, t_c` | `shares` | 1   | [`HOT_TRUB_SHARE`], [`COLD_TRUB_SHARE`] or 0 |
///
/// Returns m³.
///
/// # Source
/// Common practice, no source; the root of strength is our choice.
///
/// # Example
/// ```
/// let v = process::chill::trub_m3(23e-3, 12.0, [0.02, 0.01]);
/// assert!((v - 0.69e-3).abs() < 1e-12);
/// ```
pub fn trub_m3(volume_m3: f64, plato: f64, shares: [f64; 2]) -> f64 {
    volume_m3 * (shares[0] * (plato.max(0.0) / 12.0).sqrt() + shares[1])
}

/// Liquid in a hose left full: `π/4 d² l`, m³.
pub fn hose_m3(bore_m: f64, length_m: f64) -> f64 {
    std::f64::consts::FRAC_PI_4 * bore_m * bore_m * length_m
}
