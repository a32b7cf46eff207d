//! Loss through a wall, a lid or a base, laid out over the liquid's temperature. It deliberately
//! holds no area: how much wall is wet is the level's business.

use super::{plate_down_w_m2_k, plate_up_w_m2_k, radiation_w_m2_k, still_air_w_m2_k, wind_w_m2_k};
use crate::table::UniformTable;
use numerics::math::cbrt;

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
    flux: UniformTable, // over the root of the lift above the air, in which it is smooth
    air_c: f64,
    inputs: SideLossInputs,
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

    /// What it was laid out from.
    pub fn inputs(&self) -> &SideLossInputs {
        &self.inputs
    }

    /// Loss per wetted area at liquid temperature `temp_c`, W/m²; negative below air temperature.
    ///
    /// Below the air it is taken as the mirror image: good to the change of air with temperature.
    #[inline]
    pub fn flux_w_m2(&self, temp_c: f64) -> f64 {
        let lift_k = temp_c - self.air_c;
        self.flux.at(lift_k.abs().sqrt()).copysign(lift_k)
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

    /// Both: what leaves wet wall at [`SideLoss::flux_w_m2`] and dry wall at
    /// [`SideLoss::dry_flux_w_m2`], with one square root.
    #[inline]
    pub fn fluxes_w_m2(&self, temp_c: f64) -> (f64, f64) {
        let lift_k = temp_c - self.air_c;
        let root = lift_k.abs().sqrt();
        let wet = self.flux.at(root);
        let dry = 0.5 * self.flux.at(root * std::f64::consts::FRAC_1_SQRT_2);
        (wet.copysign(lift_k), dry.copysign(lift_k))
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
        let top = (112.0 - inputs.air_c).max(10.0).sqrt();
        let flux = UniformTable::new(0.0, top, 17, |root| {
            let lift_k = root * root;
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
        Self { flux, air_c: inputs.air_c, inputs: *inputs }
    }
}
