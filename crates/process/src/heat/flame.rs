//! A flame under a base: how much of its heat reaches the pot. It deliberately knows no gas bottle
//! and no price.

use numerics::math::{exp, ln, pow};

/// A burner, how it is set and what blows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FlameInputs {
    /// Fuel power with the valve fully open, W (lower heating value).
    pub fuel_power_w: f64,
    /// Setting `u`, share of the full fuel power, 0 to 1; 0 is out.
    pub setting: f64,
    /// Share of the full flame's power that reaches a base of 60 °C.
    pub share_full: f64,
    /// Exponent `n` of turning down; 0.2 ± 0.1 (from memory).
    pub turn_down_exponent: f64,
    /// Effective flame temperature, °C; 1300 ± 150 (from memory).
    pub flame_c: f64,
    /// Wind at the burner, m/s.
    pub wind_m_s: f64,
    /// Loss per m/s of wind: 0.15 bare, 0.03 screened (from memory).
    pub wind_sensitivity: f64,
}

/// A flame under a base: less gas passes the same surface when turned down, so more of it sticks.
///
/// ```text
/// Q = u P η(u, T_B)
/// η = [1 - exp(-N u^-n)] (T_f - T_B)/(T_f - 60)/(1 + c_v v)      N = -ln(1 - η_full)
/// ```
///
/// Shape: the flue gas as an exchanger with one side at the base's temperature. Linear in the
/// base's temperature, so that a call costs two operations.
///
/// # Source
/// Effectiveness relation of a one-sided exchanger (Incropera et al., chapter 11); the exponent and
/// the flame temperature are from memory.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flame {
    fuel_w: f64,
    heat_w_k: f64, // per kelvin of flame over base
    flame_c: f64,
}

impl Flame {
    /// The flame of one burner at one setting.
    pub fn new(inputs: &FlameInputs) -> Self {
        let setting = inputs.setting.clamp(0.0, 1.0);
        if setting == 0.0 {
            return Self::off();
        }
        let fuel_w = setting * inputs.fuel_power_w;
        let share = flame_share(inputs, 60.0);
        Self { fuel_w, heat_w_k: fuel_w * share / (inputs.flame_c - 60.0), flame_c: inputs.flame_c }
    }

    /// No flame.
    pub fn off() -> Self {
        Self { fuel_w: 0.0, heat_w_k: 0.0, flame_c: 60.0 }
    }

    /// Fuel power that burns, W.
    #[inline]
    pub fn fuel_w(&self) -> f64 {
        self.fuel_w
    }

    /// Heat that reaches the pot with its base at `base_c`, W.
    #[inline]
    pub fn heat_w(&self, base_c: f64) -> f64 {
        self.heat_w_k * (self.flame_c - base_c)
    }
}

/// Share of the fuel power that reaches the pot, `η(u, T_B)` of [`Flame`].
///
/// | symbol | argument | unit | holds for               |
/// |--------|----------|------|-------------------------|
/// | `u`    | `inputs` | 1    | turn-down limit to 1    |
/// | `T_B`  | `base_c` | °C   | below the flame         |
///
/// # Source
/// As [`Flame`].
///
/// # Example
/// ```
/// use process::heat::{FlameInputs, flame_share};
/// let flame = FlameInputs {
///     fuel_power_w: 10e3, setting: 0.5, share_full: 0.4, turn_down_exponent: 0.2,
///     flame_c: 1300.0, wind_m_s: 0.0, wind_sensitivity: 0.15,
/// };
/// assert!((flame_share(&flame, 60.0) - 0.4439).abs() < 1e-4);
/// ```
pub fn flame_share(inputs: &FlameInputs, base_c: f64) -> f64 {
    let setting = inputs.setting.clamp(1e-6, 1.0);
    let units = -ln(1.0 - inputs.share_full.clamp(0.0, 0.999_999));
    let stuck = 1.0 - exp(-units * pow(setting, -inputs.turn_down_exponent));
    let gap = (inputs.flame_c - base_c) / (inputs.flame_c - 60.0);
    stuck * gap / (1.0 + inputs.wind_sensitivity * inputs.wind_m_s.max(0.0))
}
