//! Vapour and heat from an open liquid surface below the boil. It deliberately stops at the boil:
//! there the heat that is left over makes the vapour, see `boil`.

use super::{AIR_GAS_J_KG_K, radiation_w_m2_k};
use crate::table::UniformTable;
use matter::water::saturation_pressure_pa;
use numerics::math::cbrt;

/// Share of the evaporation that a lid lets through below the boil. From memory; a loose lid 0.2.
pub const LID_SHARE: f64 = 0.10;

/// Free convection over an open liquid surface, W/(m² K): the middle of the usual 5 to 7 (common
/// practice, no source).
pub const SURFACE_W_M2_K: f64 = 6.0;

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
    inputs: SurfaceInputs,
}

impl OpenSurface {
    /// Lays the law out for one room.
    pub fn new(inputs: &SurfaceInputs) -> Self {
        // A kelvin a knot: near the room's temperature the law starts like a cube root.
        let vapour_kg_m2_s = UniformTable::new(0.0, 112.0, 113, |temp_c| {
            let hourly = shah_kg_m2_h(temp_c, inputs.air_c, inputs.humidity, inputs.pressure_pa);
            hourly * inputs.wind_factor * inputs.multiplier / 3600.0
        });
        Self {
            vapour_kg_m2_s,
            air_c: inputs.air_c,
            convection_w_m2_k: SURFACE_W_M2_K * inputs.wind_factor,
            inputs: *inputs,
        }
    }

    /// What it was laid out from.
    pub fn inputs(&self) -> &SurfaceInputs {
        &self.inputs
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
    (35.0 * buoyancy * (vapour_film - dry_film.max(0.0) * vapour_room / dry_room)).max(0.0)
}
