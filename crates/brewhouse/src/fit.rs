//! What geometry and material give where nothing was proved: metal, what stays behind, least
//! level, foam limit, sizes.
//!
//! Each method says what it takes when a number was left out. Knows no brew and no clock.

use crate::flow;
use crate::material::{HANDLES_C_J_KGK, handles_kg, sheet_heat_j_k, sheet_mass_kg};
use crate::vessel::{Screen, Vessel};

/// Film that clings to a drained pot, m³ for each m² of wetted wall: 20 g in a 50 L pot, common
/// practice.
const FILM_M: f64 = 4e-5;

/// Least level while heated, m: 60 mm, common practice.
const LEAST_LEVEL_M: f64 = 0.06;

/// Cover over an element before it is switched on, m: 50 mm, common practice.
const ELEMENT_COVER_M: f64 = 0.05;

/// Share of a kettle kept free for the first foam, common practice (0.20 to 0.25).
const HEAD_SPACE: f64 = 0.20;

/// Thickness of a lid, m: 0.8 mm, common practice; its rim adds a twentieth.
const LID_M: f64 = 8e-4;

impl Vessel {
    /// Area of the wall from base to brim, m².
    pub fn wall_m2(&self) -> f64 {
        self.section.wetted_side_m2(self.section.brim_height_m())
    }

    /// Heat held by the wall, J/K, half of the handles with it.
    pub fn wall_heat_j_k(&self) -> f64 {
        let wall = &self.wall;
        let metal = wall.material.group == "metal";
        let handles = if metal { 0.5 * self.handles_mass_kg() * HANDLES_C_J_KGK } else { 0.0 };
        handles
            + sheet_heat_j_k(
                self.wall_m2(),
                wall.thickness.metres(),
                wall.material.rho_kg_m3,
                wall.material.c_j_kgk,
            )
    }

    /// Heat held by the base, J/K, all its layers.
    pub fn base_heat_j_k(&self) -> f64 {
        let heat = |layer: &crate::vessel::Layer| {
            let m = layer.material;
            let thickness_m = layer.thickness.metres();
            sheet_heat_j_k(self.section.base_m2(), thickness_m, m.rho_kg_m3, m.c_j_kgk)
        };
        self.base.iter().map(heat).sum()
    }

    /// Heat held by wall and base together, J/K: as proved, or from geometry and material (good
    /// to 20 % until it is proved).
    pub fn metal_j_k(&self) -> f64 {
        let computed = self.wall_heat_j_k() + self.base_heat_j_k();
        self.metal.as_ref().map_or(computed, |m| m.value.joules_per_kelvin())
    }

    fn handles_mass_kg(&self) -> f64 {
        handles_kg(self.section.brim_m3())
    }

    /// Mass of the empty pot without its lid, kg.
    pub fn pot_kg(&self) -> f64 {
        let wall = &self.wall;
        let rho = wall.material.rho_kg_m3;
        let base = |layer: &crate::vessel::Layer| {
            let thickness_m = layer.thickness.metres();
            sheet_mass_kg(self.section.base_m2(), thickness_m, layer.material.rho_kg_m3)
        };
        sheet_mass_kg(self.wall_m2(), wall.thickness.metres(), rho)
            + self.base.iter().map(base).sum::<f64>()
            + self.handles_mass_kg()
    }

    /// Mass of the lid, kg; 0 without one.
    pub fn lid_kg(&self) -> f64 {
        let Some(lid) = &self.lid else { return 0.0 };
        let sheet_m2 = 1.05 * self.section.mouth_m2();
        let usual = sheet_mass_kg(sheet_m2, LID_M, self.wall.material.rho_kg_m3);
        lid.mass.as_ref().map_or(usual, |m| m.value.kilograms())
    }

    /// Liquid under the false bottom, the slots of a manifold or a raised bag, m³: as proved, or
    /// from the section.
    pub fn under_screen_m3(&self) -> f64 {
        let Some(screen) = &self.screen else { return 0.0 };
        match screen {
            Screen::FalseBottom { under: Some(under), .. } => under.value.cubic_metres(),
            other => self.section.volume_m3(other.height().metres()),
        }
    }

    /// Left behind when drained, m³: as proved, or what lies under the outlet's reach with the
    /// film on the wall; a pot without a valve is tipped and keeps its film.
    pub fn left_behind_m3(&self) -> f64 {
        if let Some(stated) = &self.left_behind {
            return stated.value.cubic_metres();
        }
        let under_m3 =
            self.outlet().map_or(0.0, |valve| self.section.volume_m3(valve.draws_from_m()));
        under_m3 + FILM_M * self.wall_m2()
    }

    /// Least level over the lowest point while it is heated, m: as stated, or 60 mm, or 50 mm over
    /// an element.
    pub fn least_level_m(&self) -> f64 {
        if let Some(stated) = &self.least_level {
            return stated.value.metres();
        }
        let element = self.heater.as_ref().and_then(|h| h.height.as_ref());
        let covered_m = element.map_or(0.0, |h| h.value.metres() + ELEMENT_COVER_M);
        covered_m.max(LEAST_LEVEL_M).min(0.5 * self.section.brim_height_m())
    }

    /// Volume at the least level, m³; 0 for a vessel that is not heated.
    pub fn least_heated_m3(&self) -> f64 {
        if self.heater.is_some() { self.section.volume_m3(self.least_level_m()) } else { 0.0 }
    }

    /// Most a kettle may hold as the boil starts, m³: the brim less the head space.
    pub fn foam_limit_m3(&self) -> f64 {
        let free = self.head_space.as_ref().map_or(HEAD_SPACE, |s| s.value.fraction());
        self.section.brim_m3() * (1.0 - free)
    }

    /// Effective area `Cd·A` of its lowest outlet with its hose, m²: from a timed flow at half a
    /// full pot, or from the bore with the usual coefficient; none without a valve.
    pub fn outlet_area_m2(&self, with_hose: bool) -> Option<f64> {
        let valve = self.outlet()?;
        if let Some(flow) = &valve.flow {
            let head_m = 0.5 * self.section.brim_height_m();
            return Some(flow::outlet_area_m2(flow.value.cubic_metres_per_second(), head_m));
        }
        let cd = match (with_hose, valve.dip_tube.is_some()) {
            (true, _) => flow::HOSE_CD,
            (false, true) => flow::DIP_TUBE_CD,
            (false, false) => flow::BARE_VALVE_CD,
        };
        let bore_m = valve.bore.value.metres();
        Some(cd * std::f64::consts::PI * bore_m * bore_m / 4.0)
    }

    /// Mass of the pot with so much liquid in it, kg, lid on.
    pub fn full_kg(&self, liquid_kg: f64) -> f64 {
        self.pot_kg() + self.lid_kg() + liquid_kg
    }

    /// Outside width, m.
    pub fn outside_m(&self) -> f64 {
        let jacket_m = self.insulation.as_ref().map_or(0.0, |l| l.thickness.metres());
        self.section.mean_diameter_m() + 2.0 * (self.wall.thickness.metres() + jacket_m)
    }
}

/// What a kettle must hold for a wanted volume.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KettleNeed {
    /// Wanted in the fermenter, cold, m³.
    pub fermenter_m3: f64,
    /// Cold over boiling volume (about 0.96).
    pub shrink: f64,
    /// Left in trub and hops, hot, m³.
    pub left_m3: f64,
    /// Boiled off, hot, m³.
    pub boiled_off_m3: f64,
    /// Share of the kettle kept free for foam.
    pub head_space: f64,
}

/// Volume to the brim a kettle needs, m³.
///
/// ```text
/// brim ≥ (V_f/s + left + boiled off)/(1 − head space)
/// ```
pub fn kettle_brim_needed_m3(need: &KettleNeed) -> f64 {
    (need.fermenter_m3 / need.shrink + need.left_m3 + need.boiled_off_m3) / (1.0 - need.head_space)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 21 L, 1.65 L left, 4.3 L boiled off: 34.8 L at a fifth of head space, 37.1 at a quarter.
    #[test]
    fn a_forty_litre_kettle_is_right() {
        for (head_space, litres) in [(0.20, 34.78), (0.25, 37.1)] {
            let need = KettleNeed {
                fermenter_m3: 0.021,
                shrink: 0.96,
                left_m3: 1.65e-3,
                boiled_off_m3: 4.3e-3,
                head_space,
            };
            assert!((kettle_brim_needed_m3(&need) * 1e3 - litres).abs() < 0.01);
        }
    }
}
