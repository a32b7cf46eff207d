//! Heat in and heat lost of one vessel: walls in still air and in wind, the open surface, a lid,
//! a flame under the base. It deliberately holds no state: how warm things become is the business
//! of whoever adds the rates up.
//!
//! Sign: a loss is positive when the vessel gives heat away; a flame's heat is positive into it.

use crate::table::UniformTable;
use matter::water::saturation_pressure_pa;
use numerics::math::{cbrt, exp, ln, pow};

/// Stefan-Boltzmann constant, W/(m² K⁴). Source: CODATA 2018 (exact since the SI of 2019).
pub const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;

/// Standard gravity, m/s². Source: CGPM 1901 (exact).
pub const GRAVITY: f64 = 9.806_65;

/// Pressure at which air is taken for convection, Pa. Convection falls with the square root to the
/// two thirds power of it: 8 % lower at 1000 m, inside the spread of the wall multiplier.
const AIR_PRESSURE_PA: f64 = 101_325.0;

/// Specific gas constant of dry air, J/(kg K). Source: US Standard Atmosphere 1976.
const AIR_GAS_J_KG_K: f64 = 287.05;

/// Share of the evaporation that a lid lets through below the boil. From memory; a loose lid 0.2.
pub const LID_SHARE: f64 = 0.10;

/// Heat transfer from a base into convecting liquid, W/(m² K): our choice inside the 500 to 1500
/// remembered for a heated base under water.
pub const BASE_W_M2_K: f64 = 1000.0;

/// Free convection over an open liquid surface, W/(m² K): the middle of the usual 5 to 7 (common
/// practice, no source).
pub const SURFACE_W_M2_K: f64 = 6.0;

/// Dry air at one temperature: conductivity, kinematic viscosity, Prandtl number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// Thermal conductivity, W/(m K).
    pub conductivity_w_m_k: f64,
    /// Kinematic viscosity, m²/s.
    pub viscosity_m2_s: f64,
    /// Prandtl number.
    pub prandtl: f64,
}

/// Dry air at standard pressure, as an ideal gas with Sutherland's viscosity.
///
/// ```text
/// μ = 1.458e-6 T^1.5/(T + 110.4)      k = 2.64638e-3 T^1.5/(T + 245.4·10^(-12/T))
/// ν = μ R T/p      Pr = c_p μ/k       c_p = 1006.5 J/(kg K)
/// ```
///
/// | symbol | argument | unit | holds for    |
/// |--------|----------|------|--------------|
/// | `T`    | `temp_k` | K    | 250 to 420 K |
///
/// # Source
/// US Standard Atmosphere 1976, equations 51 and 53. Within 1 % of CoolProp from 0 to 100 °C.
///
/// # Example
/// ```
/// let air = process::heat::air(293.15);
/// assert!((air.conductivity_w_m_k - 0.0257).abs() < 2e-4);
/// ```
pub fn air(temp_k: f64) -> Air {
    let t15 = temp_k * temp_k.sqrt();
    let viscosity_pa_s = 1.458e-6 * t15 / (temp_k + 110.4);
    let tens = exp(-12.0 / temp_k * std::f64::consts::LN_10);
    let conductivity = 2.646_38e-3 * t15 / (temp_k + 245.4 * tens);
    Air {
        conductivity_w_m_k: conductivity,
        viscosity_m2_s: viscosity_pa_s * AIR_GAS_J_KG_K * temp_k / AIR_PRESSURE_PA,
        prandtl: 1006.5 * viscosity_pa_s / conductivity,
    }
}

/// Film coefficient of an upright wall in still air.
///
/// ```text
/// Nu = {0.825 + 0.387 Ra^(1/6)/[1 + (0.492/Pr)^(9/16)]^(8/27)}²      h = Nu k/L
/// Ra = g |T_w - T_a| L³ Pr/(T_f ν²)                                   T_f film temperature, K
/// ```
///
/// Shape: a plane wall as high as it is wet; a pot is wide enough for that.
///
/// | symbol | argument   | unit | holds for     |
/// |--------|------------|------|---------------|
/// | `T_w`  | `wall_c`   | °C   | -20 to 140    |
/// | `T_a`  | `air_c`    | °C   | -20 to 45     |
/// | `L`    | `height_m` | m    | 0.02 and more |
///
/// Returns W/(m² K). No error stated; 10 % is usual for such correlations.
///
/// # Source
/// Churchill and Chu 1975, Int. J. Heat Mass Transfer 18:1323.
///
/// # Example
/// ```
/// let h = process::heat::still_air_w_m2_k(66.0, 20.0, 0.4);
/// assert!((h / 5.2948 - 1.0).abs() < 0.02);
/// ```
pub fn still_air_w_m2_k(wall_c: f64, air_c: f64, height_m: f64) -> f64 {
    let film = Film::new(wall_c, air_c);
    let shape = pow(1.0 + pow(0.492 / film.air.prandtl, 9.0 / 16.0), 8.0 / 27.0);
    let root = 0.825 + 0.387 * pow(film.rayleigh(height_m), 1.0 / 6.0) / shape;
    root * root * film.air.conductivity_w_m_k / height_m
}

/// Film coefficient of a hot plate facing down, such as a base with the fire out.
///
/// ```text
/// Nu = 0.52 Ra^(1/5)      h = Nu k/L      L = D/4 (area over perimeter)
/// ```
///
/// | symbol | argument     | unit | holds for           |
/// |--------|--------------|------|---------------------|
/// | `T_w`  | `wall_c`     | °C   | warmer than the air |
/// | `T_a`  | `air_c`      | °C   | -20 to 45           |
/// | `D`    | `diameter_m` | m    | 0.1 to 1            |
///
/// Returns W/(m² K); 4 to 6 is what is remembered for a pot base over still air, radiation within.
///
/// # Source
/// Plate facing down as printed in Incropera et al., *Fundamentals of Heat and Mass Transfer*,
/// chapter 9, after Radziemska and Lewandowski 2001 (from memory).
///
/// # Example
/// ```
/// let h = process::heat::plate_down_w_m2_k(66.0, 20.0, 0.36);
/// assert!(h > 3.0 && h < 6.0);
/// ```
pub fn plate_down_w_m2_k(wall_c: f64, air_c: f64, diameter_m: f64) -> f64 {
    let film = Film::new(wall_c, air_c);
    let length_m = 0.25 * diameter_m;
    0.52 * pow(film.rayleigh(length_m), 0.2) * film.air.conductivity_w_m_k / length_m
}

/// Film coefficient of a hot plate facing up, such as a lid.
///
/// ```text
/// Nu = 0.54 Ra^(1/4)  below Ra = 1e7,  0.15 Ra^(1/3) above      L = D/4
/// ```
///
/// | symbol | argument     | unit | holds for           |
/// |--------|--------------|------|---------------------|
/// | `T_w`  | `wall_c`     | °C   | warmer than the air |
/// | `T_a`  | `air_c`      | °C   | -20 to 45           |
/// | `D`    | `diameter_m` | m    | 0.1 to 1            |
///
/// Returns W/(m² K). No error stated.
///
/// # Source
/// McAdams 1954, *Heat Transmission*, with the length of Goldstein, Sparrow and Jones 1973 (both
/// as printed in Incropera et al., chapter 9).
///
/// # Example
/// ```
/// let h = process::heat::plate_up_w_m2_k(60.0, 20.0, 0.40);
/// assert!(h > 4.0 && h < 9.0);
/// ```
pub fn plate_up_w_m2_k(wall_c: f64, air_c: f64, diameter_m: f64) -> f64 {
    let film = Film::new(wall_c, air_c);
    let length_m = 0.25 * diameter_m;
    let ra = film.rayleigh(length_m);
    // The two branches cross at Ra = 4.7e6; the larger of them is continuous, the rule is not.
    let nu = (0.54 * pow(ra, 0.25)).max(0.15 * pow(ra, 1.0 / 3.0));
    nu * film.air.conductivity_w_m_k / length_m
}

/// Film coefficient of wind across an upright cylinder.
///
/// ```text
/// Nu = 0.3 + 0.62 Re^(1/2) Pr^(1/3)/[1 + (0.4/Pr)^(2/3)]^(1/4) [1 + (Re/282000)^(5/8)]^(4/5)
/// ```
///
/// | symbol      | argument     | unit | holds for   |
/// |-------------|--------------|------|-------------|
/// | `Re = vD/ν` | `speed_m_s`  | m/s  | 0 to 15     |
/// | `D`         | `diameter_m` | m    | 0.1 to 1    |
/// | `T_w`       | `wall_c`     | °C   | -20 to 140  |
/// | `T_a`       | `air_c`      | °C   | -20 to 45   |
///
/// Returns W/(m² K), zero without wind (the still-air law then holds alone).
///
/// # Source
/// Churchill and Bernstein 1977, J. Heat Transfer 99:300; ±20 % stated.
///
/// # Example
/// ```
/// let h = process::heat::wind_w_m2_k(1.0, 0.36, 100.0, 20.0);
/// assert!((h / 6.134 - 1.0).abs() < 0.03);
/// ```
pub fn wind_w_m2_k(speed_m_s: f64, diameter_m: f64, wall_c: f64, air_c: f64) -> f64 {
    if speed_m_s <= 0.0 {
        return 0.0;
    }
    let film = Film::new(wall_c, air_c);
    let re = speed_m_s * diameter_m / film.air.viscosity_m2_s;
    cross_flow_nusselt(re, film.air.prandtl) * film.air.conductivity_w_m_k / diameter_m
}

/// Nusselt number of a cylinder in cross flow (Churchill and Bernstein 1977), any fluid.
pub(crate) fn cross_flow_nusselt(re: f64, prandtl: f64) -> f64 {
    let shape = pow(1.0 + pow(0.4 / prandtl, 2.0 / 3.0), 0.25);
    let rough = pow(1.0 + pow(re / 282_000.0, 0.625), 0.8);
    0.3 + 0.62 * re.sqrt() * cbrt(prandtl) / shape * rough
}

/// Radiation of a grey wall to a room at air temperature, as a film coefficient.
///
/// ```text
/// h_r = ε σ (T_w² + T_a²)(T_w + T_a)      kelvin
/// ```
///
/// | symbol | argument     | unit | holds for |
/// |--------|--------------|------|-----------|
/// | `T_w`  | `wall_c`     | °C   | all       |
/// | `T_a`  | `air_c`      | °C   | all       |
/// | `ε`    | `emissivity` | 1    | 0 to 1    |
///
/// Returns W/(m² K).
///
/// # Source
/// Stefan-Boltzmann law; the room is black and at the air's temperature.
///
/// # Example
/// ```
/// let h = process::heat::radiation_w_m2_k(80.0, 20.0, 0.2);
/// assert!((h - 1.544).abs() < 0.002);
/// ```
#[inline]
pub fn radiation_w_m2_k(wall_c: f64, air_c: f64, emissivity: f64) -> f64 {
    let (w, a) = (wall_c + 273.15, air_c + 273.15);
    emissivity * STEFAN_BOLTZMANN * (w * w + a * a) * (w + a)
}

/// What a side wall is and stands in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SideLossInputs {
    /// Height of the wall that is wet, m.
    pub wetted_height_m: f64,
    /// Outer diameter, m.
    pub diameter_m: f64,
    /// Emissivity of the outer face: bright stainless 0.15, dull 0.35, enamel or paint 0.9.
    pub emissivity: f64,
    /// Thickness over conductivity of the insulation, m² K/W; 0 without.
    pub insulation_m2_k_w: f64,
    /// Temperature of the air, °C.
    pub air_c: f64,
    /// Wind at the pot, m/s.
    pub wind_m_s: f64,
    /// What this wall was found to lose over what the law says; 1 when nothing was measured.
    pub multiplier: f64,
}

/// Loss through a wetted side wall, per area, as a table over the liquid's temperature.
///
/// ```text
/// q = (h_c + h_r)(T_o - T_a) m      h_c = (h_still³ + h_wind³)^(1/3)
/// q = (T - T_o)/(t/k) m             outer face T_o of an insulated wall, else T_o = T
/// ```
///
/// Shape: the wall itself has no resistance and the liquid's film none: both are small against
/// the air's.
#[derive(Debug, Clone, PartialEq)]
pub struct SideLoss {
    flux: UniformTable, // over the lift above the air
    air_c: f64,
}

impl SideLoss {
    /// Lays the law out for one wall, one air and one wind.
    pub fn new(inputs: &SideLossInputs) -> Self {
        let height_m = inputs.wetted_height_m.max(0.02);
        Self::lay_out(inputs, |outer_c| still_air_w_m2_k(outer_c, inputs.air_c, height_m))
    }

    /// The same law for a lid: a level plate facing up, warmed by the vapour under it.
    ///
    /// `wetted_height_m` is not used.
    pub fn lid(inputs: &SideLossInputs) -> Self {
        Self::lay_out(inputs, |outer_c| plate_up_w_m2_k(outer_c, inputs.air_c, inputs.diameter_m))
    }

    /// The same law for a base with the fire out: a level plate facing down.
    ///
    /// `wetted_height_m` is not used.
    pub fn base(inputs: &SideLossInputs) -> Self {
        Self::lay_out(inputs, |outer_c| plate_down_w_m2_k(outer_c, inputs.air_c, inputs.diameter_m))
    }

    /// Loss per wetted area at liquid temperature `temp_c`, W/m²; negative below air temperature.
    ///
    /// Below the air it is taken as the mirror image: good to the change of air with temperature.
    #[inline]
    pub fn flux_w_m2(&self, temp_c: f64) -> f64 {
        let lift_k = temp_c - self.air_c;
        self.flux.at(lift_k.abs()).copysign(lift_k)
    }

    /// Loss per area of the dry wall above the liquid, a fin, W/m².
    ///
    /// ```text
    /// q_dry = 0.5 q((T + T_a)/2)
    /// ```
    ///
    /// Shape: its face is half way to the air, with half the weight (our choice).
    #[inline]
    pub fn dry_flux_w_m2(&self, temp_c: f64) -> f64 {
        0.5 * self.flux_w_m2(0.5 * (temp_c + self.air_c))
    }

    fn lay_out(inputs: &SideLossInputs, still: impl Fn(f64) -> f64) -> Self {
        let film = |outer_c: f64| {
            let wind = wind_w_m2_k(inputs.wind_m_s, inputs.diameter_m, outer_c, inputs.air_c);
            let still = still(outer_c);
            let convection = cbrt(still * still * still + wind * wind * wind);
            convection + radiation_w_m2_k(outer_c, inputs.air_c, inputs.emissivity)
        };
        let resistance = inputs.insulation_m2_k_w.max(0.0);
        // Share of the lift that the outer face has; carried from knot to knot as a first guess.
        let mut share = if resistance == 0.0 { 1.0 } else { 0.3 };
        let top_k = (112.0 - inputs.air_c).max(10.0);
        let flux = UniformTable::new(0.0, top_k, 17, |lift_k| {
            let mut flux = film(inputs.air_c + share * lift_k) * lift_k;
            if resistance > 0.0 && lift_k > 0.0 {
                // The film varies slowly with the outer face: each round gains about a digit.
                for _ in 0..3 {
                    let film = film(inputs.air_c + share * lift_k);
                    share = 1.0 / (1.0 + resistance * film);
                    flux = share * film * lift_k;
                }
            }
            inputs.multiplier * flux
        });
        Self { flux, air_c: inputs.air_c }
    }
}

/// What lies over an open surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SurfaceInputs {
    /// Temperature of the room, °C.
    pub air_c: f64,
    /// Relative humidity of the room, 0 to 1.
    pub humidity: f64,
    /// Air pressure, Pa.
    pub pressure_pa: f64,
    /// Factor of the wind over the rim: 1 in still air, about 1 + 0.3 per m/s (from memory).
    pub wind_factor: f64,
    /// What this surface was found to evaporate over what the law says; 1 when not measured.
    pub multiplier: f64,
}

/// An open liquid surface below the boil: vapour and sensible heat.
///
/// ```text
/// E = 35 d_w (ρ_r - ρ_w)^(1/3) (W_w - W_r) f_v                        kg/(m² h)
/// W = 0.62198 p_v/(p - p_v)   d = (p - p_v)/(287.05 T)   ρ = (p - 0.378 p_v)/(287.05 T)
/// q = (h_c f_v + 0.95 h_r,black)(T - T_a)                             W/m²
/// ```
///
/// `w` is air saturated at the liquid's temperature, `r` the room's air, `T` kelvin. Written with
/// the product `d_w W_w` (the vapour's density), E stays finite up to the boil and beyond. It is
/// never negative: dew from the room is left out.
///
/// # Source
/// Shah 2002, HVAC&R Research 8(1):125 (relation from memory, checked against a handbook table of
/// open tanks); mean deviation 18 % stated, 7 to 94 °C.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenSurface {
    vapour_kg_m2_s: UniformTable,
    air_c: f64,
    convection_w_m2_k: f64,
}

impl OpenSurface {
    /// Lays the law out for one room.
    pub fn new(inputs: &SurfaceInputs) -> Self {
        let vapour_kg_m2_s = UniformTable::new(0.0, 112.0, 57, |temp_c| {
            let hourly = shah_kg_m2_h(temp_c, inputs.air_c, inputs.humidity, inputs.pressure_pa);
            hourly * inputs.wind_factor * inputs.multiplier / 3600.0
        });
        Self {
            vapour_kg_m2_s,
            air_c: inputs.air_c,
            convection_w_m2_k: SURFACE_W_M2_K * inputs.wind_factor,
        }
    }

    /// Vapour leaving an open surface of `temp_c`, kg/(m² s). With a lid on, times [`LID_SHARE`].
    #[inline]
    pub fn evaporation_kg_m2_s(&self, temp_c: f64) -> f64 {
        self.vapour_kg_m2_s.at(temp_c).max(0.0)
    }

    /// Sensible heat leaving an open surface of `temp_c`, W/m².
    #[inline]
    pub fn sensible_w_m2(&self, temp_c: f64) -> f64 {
        let film = self.convection_w_m2_k + radiation_w_m2_k(temp_c, self.air_c, 0.95);
        film * (temp_c - self.air_c)
    }
}

/// Evaporation of a still open surface, kg/(m² h), never negative; see [`OpenSurface`].
///
/// | symbol | argument      | unit | holds for        |
/// |--------|---------------|------|------------------|
/// | `T_w`  | `temp_c`      | °C   | 0 to the boil    |
/// | `T_r`  | `air_c`       | °C   | -20 to 45        |
/// | `RH`   | `humidity`    | 1    | 0 to 1           |
/// | `p`    | `pressure_pa` | Pa   | 60 000 to 105 000 |
///
/// # Source
/// As [`OpenSurface`].
///
/// # Example
/// ```
/// let e = process::heat::shah_kg_m2_h(66.0, 20.0, 0.5, 101_325.0);
/// assert!((e / 3.636 - 1.0).abs() < 0.02);
/// ```
pub fn shah_kg_m2_h(temp_c: f64, air_c: f64, humidity: f64, pressure_pa: f64) -> f64 {
    let moist = |t_c: f64, vapour_pa: f64| {
        let gas = AIR_GAS_J_KG_K * (t_c + 273.15);
        let density = (pressure_pa - 0.378 * vapour_pa) / gas;
        (density, (pressure_pa - vapour_pa) / gas, 0.621_98 * vapour_pa / gas)
    };
    let vapour_room_pa = humidity * saturation_pressure_pa(air_c);
    let (room, dry_room, vapour_room) = moist(air_c, vapour_room_pa);
    let (film, dry_film, vapour_film) = moist(temp_c, saturation_pressure_pa(temp_c));
    let buoyancy = cbrt((room - film).max(0.0));
    (35.0 * buoyancy * (vapour_film - dry_film * vapour_room / dry_room)).max(0.0)
}

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

/// Heat transfer from a base into liquid that convects, W/(m² K); see [`BASE_W_M2_K`].
pub fn base_conductance_w_m2_k() -> f64 {
    BASE_W_M2_K
}

/// How much hotter than the boiling liquid a base must be to pass a flux.
///
/// ```text
/// q = μ h_fg [g (ρ_l - ρ_v)/σ]^(1/2) [c_p ΔT/(C_sf h_fg Pr)]³      solved for ΔT
/// ```
///
/// Shape: pool boiling of water at 100 °C, clean surface.
///
/// | symbol | argument       | unit | holds for        |
/// |--------|----------------|------|------------------|
/// | `q`    | `flux_w_m2`    | W/m² | 0 to 300 000     |
/// | `C_sf` | `surface_factor` | 1  | 0.006 to 0.015; 0.013 for stainless |
///
/// Returns K. The relation is good to 30 % in `ΔT`, as its author says.
///
/// # Source
/// Rohsenow 1952, Trans. ASME 74:969; water properties at 100 °C from IAPWS-95.
///
/// # Example
/// ```
/// let rise_k = process::heat::boil_superheat_k(20e3, 0.013);
/// assert!((rise_k / 5.23 - 1.0).abs() < 0.02);
/// ```
pub fn boil_superheat_k(flux_w_m2: f64, surface_factor: f64) -> f64 {
    const VISCOSITY_PA_S: f64 = 2.818e-4;
    const LATENT_J_KG: f64 = 2.2564e6;
    const BUOYANCY_PER_M: f64 = 399.3; // sqrt(g (958.35 - 0.598)/0.05892)
    const HEAT_J_KG_K: f64 = 4216.0;
    const PRANDTL: f64 = 1.753;
    let root = cbrt(flux_w_m2.max(0.0) / (VISCOSITY_PA_S * LATENT_J_KG * BUOYANCY_PER_M));
    root * surface_factor * LATENT_J_KG * PRANDTL / HEAT_J_KG_K
}

/// A body that is heated at constant power and loses in proportion to its lift over the air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatUp {
    /// Heat capacity, J/K.
    pub capacity_j_k: f64,
    /// Loss per kelvin over the air, W/K.
    pub ua_w_k: f64,
    /// Power that reaches it, W.
    pub power_w: f64,
    /// Air temperature, °C.
    pub air_c: f64,
}

/// Time from `from_c` to `to_c` for a [`HeatUp`], in closed form.
///
/// ```text
/// t = -(C/UA) ln[(P - UA(T2 - T_a))/(P - UA(T1 - T_a))]      C (T2 - T1)/P without loss
/// ```
///
/// | symbol | argument | unit | holds for |
/// |--------|----------|------|-----------|
/// | `C, UA, P, T_a` | `body` | J/K, W/K, W, °C | `C > 0` |
/// | `T1`   | `from_c` | °C   | all       |
/// | `T2`   | `to_c`   | °C   | all       |
///
/// Returns seconds; infinite when the power never gets there. With no power this is Newton cooling.
///
/// # Source
/// First-order heat balance, integrated.
///
/// # Example
/// ```
/// use process::heat::{HeatUp, heat_up_time_s};
/// let kettle = HeatUp { capacity_j_k: 28.0 * 4000.0, ua_w_k: 8.0, power_w: 3500.0, air_c: 20.0 };
/// assert!((heat_up_time_s(&kettle, 66.0, 100.0) - 1271.9).abs() < 0.5);
/// ```
pub fn heat_up_time_s(body: &HeatUp, from_c: f64, to_c: f64) -> f64 {
    if body.ua_w_k <= 0.0 {
        let time_s = body.capacity_j_k * (to_c - from_c) / body.power_w;
        return if time_s >= 0.0 { time_s } else { f64::INFINITY };
    }
    let net = |temp_c: f64| body.power_w - body.ua_w_k * (temp_c - body.air_c);
    let ratio = net(to_c) / net(from_c);
    if ratio > 0.0 && ratio <= 1.0 {
        -body.capacity_j_k / body.ua_w_k * ln(ratio)
    } else {
        f64::INFINITY
    }
}

struct Film {
    air: Air,
    film_k: f64,
    lift_k: f64,
}

impl Film {
    fn new(wall_c: f64, air_c: f64) -> Self {
        let film_k = 0.5 * (wall_c + air_c) + 273.15;
        Self { air: air(film_k), film_k, lift_k: (wall_c - air_c).abs() }
    }

    fn rayleigh(&self, length_m: f64) -> f64 {
        let viscosity = self.air.viscosity_m2_s;
        let cube = length_m * length_m * length_m;
        GRAVITY * self.lift_k * cube * self.air.prandtl / (self.film_k * viscosity * viscosity)
    }
}
