//! The inside of a vessel: height to volume and back, free surface, wetted side.
//!
//! Knows no wall thickness, no temperature and no document: plain SI numbers in, plain SI
//! numbers out. Heights are counted from the lowest point inside. Above the brim the section
//! goes on straight, so that a simulation that overfills a pot still has a number; whether it
//! fits is judged elsewhere.

mod base;
mod table;

pub use base::{BaseShape, corner_loss_m3};
pub use table::{TableError, VolumeTable};

use numerics::math::{cbrt, tan};
use std::f64::consts::PI;

/// Something that stands in the liquid and takes its place: a coil, a plate, a probe.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Displacer {
    /// Height of its lowest point over the lowest point inside, m.
    pub from_m: f64,
    /// Height of its highest point, m; above `from_m`.
    pub to_m: f64,
    /// Its volume, spread evenly over its height, m³.
    pub volume_m3: f64,
}

impl Displacer {
    fn below_m3(&self, height_m: f64) -> f64 {
        let part = ((height_m - self.from_m) / (self.to_m - self.from_m)).clamp(0.0, 1.0);
        self.volume_m3 * part
    }

    fn area_m2(&self, height_m: f64) -> f64 {
        if self.from_m < height_m && height_m < self.to_m {
            self.volume_m3 / (self.to_m - self.from_m)
        } else {
            0.0
        }
    }
}

/// What a pot's bare inside is made of.
#[derive(Debug, Clone, PartialEq)]
enum Inside {
    /// A straight wall on a base.
    Straight { area_m2: f64, perimeter_m: f64, base: BaseShape, radius_m: f64, side_from_m: f64 },
    /// A measured table.
    Measured(VolumeTable),
}

/// The section of one vessel.
///
/// # Example
/// ```
/// use brewhouse::section::{BaseShape, Section};
/// // A 400 mm pot, 400 mm high: 50.3 L to the brim.
/// let pot = Section::round(0.4, 0.4, BaseShape::Flat { corner_m: 0.0 });
/// assert!((pot.brim_m3() - 0.050265).abs() < 1e-6);
/// assert!((pot.height_m(0.025) - 0.198944).abs() < 1e-6);
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    inside: Inside,
    brim_height_m: f64,
    displacers: Vec<Displacer>,
    /// Above this height the wall is straight and nothing stands in the liquid.
    plain_from_m: f64,
    plain_from_m3: f64,
    plain_area_m2: f64,
    /// Heights at equal steps of volume up to there: where to start looking.
    starts_m: Vec<f64>,
}

/// Steps of volume in [`Section::starts_m`].
const STARTS: usize = 32;
/// A Newton step after which the next would be below 1e-12 m, m.
const CLOSE_M: f64 = 1e-7;

impl Section {
    /// A round pot: inside diameter, inside height from the lowest point to the brim, base.
    pub fn round(diameter_m: f64, height_m: f64, base: BaseShape) -> Section {
        Section::oval(diameter_m, diameter_m, height_m, base)
    }

    /// A pot measured across twice at right angles.
    ///
    /// ```text
    /// D = √(Da·Db)        area = π·D²/4        perimeter ≈ π·√((Da² + Db²)/2)
    /// ```
    ///
    /// The area is exact for an ellipse, the perimeter is good to 0.1 % while the two differ by
    /// less than 10 %. The base is that of the round pot of diameter `D`.
    pub fn oval(across_m: f64, along_m: f64, height_m: f64, base: BaseShape) -> Section {
        let radius_m = 0.5 * (across_m * along_m).sqrt();
        let inside = Inside::Straight {
            area_m2: PI * radius_m * radius_m,
            perimeter_m: PI * (0.5 * (across_m * across_m + along_m * along_m)).sqrt(),
            base,
            radius_m,
            side_from_m: base.side_from_m(radius_m),
        };
        Section::finish(inside, height_m)
    }

    /// A pot known by a measured height-volume table; the brim is the height given.
    pub fn measured(table: VolumeTable, brim_height_m: f64) -> Section {
        Section::finish(Inside::Measured(table), brim_height_m)
    }

    fn finish(inside: Inside, brim_height_m: f64) -> Section {
        let mut section = Section {
            inside,
            brim_height_m,
            displacers: Vec::new(),
            plain_from_m: 0.0,
            plain_from_m3: 0.0,
            plain_area_m2: 0.0,
            starts_m: Vec::new(),
        };
        section.find_plain_part();
        section
    }

    /// The same pot with something standing in it.
    ///
    /// A displacer without height or volume, or one that would leave no room beside it, changes
    /// nothing: the document refuses those before they come here.
    #[must_use]
    pub fn with(mut self, displacer: Displacer) -> Section {
        let height_m = displacer.to_m - displacer.from_m;
        let sane = height_m > 0.0 && displacer.volume_m3 > 0.0 && displacer.volume_m3.is_finite();
        let room = sane
            && (0..=20).all(|i| {
                let z = displacer.from_m + height_m * (f64::from(i) + 0.5) / 21.0;
                self.area_m2(z) > displacer.volume_m3 / height_m
            });
        if room {
            self.displacers.push(displacer);
            self.find_plain_part();
        }
        self
    }

    fn find_plain_part(&mut self) {
        let base_top_m = match &self.inside {
            Inside::Straight { base, radius_m, .. } => base.top_m(*radius_m),
            Inside::Measured(table) => table.last_height_m(),
        };
        let top_m = self.displacers.iter().fold(base_top_m, |top, d| top.max(d.to_m));
        self.plain_from_m = top_m;
        self.plain_from_m3 = self.slow_volume_m3(top_m);
        self.plain_area_m2 = match &self.inside {
            Inside::Straight { area_m2, .. } => *area_m2,
            Inside::Measured(table) => table.area_m2(top_m),
        };
        self.starts_m.clear();
        if self.plain_from_m3 > 0.0 {
            let volume_m3 = |i: usize| self.plain_from_m3 * i as f64 / STARTS as f64;
            let starts: Vec<f64> = (0..=STARTS).map(|i| self.slow_height_m(volume_m3(i))).collect();
            self.starts_m = starts;
        }
    }

    fn slow_volume_m3(&self, height_m: f64) -> f64 {
        let gross_m3 = match &self.inside {
            Inside::Straight { base, radius_m, .. } => base.volume_m3(*radius_m, height_m),
            Inside::Measured(table) => table.volume_m3(height_m),
        };
        self.displacers.iter().fold(gross_m3, |v, d| v - d.below_m3(height_m))
    }

    /// Volume below a height, m³; nothing below the lowest point.
    #[inline]
    pub fn volume_m3(&self, height_m: f64) -> f64 {
        if height_m >= self.plain_from_m {
            self.plain_from_m3 + self.plain_area_m2 * (height_m - self.plain_from_m)
        } else if height_m <= 0.0 {
            0.0
        } else {
            self.slow_volume_m3(height_m)
        }
    }

    /// Height of the surface over the lowest point when the vessel holds this volume, m.
    ///
    /// Exact on the straight part; below it Newton steps kept inside a bracket, to 1e-12 m.
    #[inline]
    pub fn height_m(&self, volume_m3: f64) -> f64 {
        if volume_m3 >= self.plain_from_m3 {
            self.plain_from_m + (volume_m3 - self.plain_from_m3) / self.plain_area_m2
        } else if volume_m3 <= 0.0 {
            0.0
        } else {
            self.slow_height_m(volume_m3)
        }
    }

    /// Volume below a height and its slope, in one look at a table.
    fn slow_both(&self, height_m: f64) -> (f64, f64) {
        match &self.inside {
            Inside::Measured(table) if height_m < self.plain_from_m => {
                let (gross_m3, gross_m2) = table.both(height_m);
                self.displacers.iter().fold((gross_m3, gross_m2), |(v, a), d| {
                    (v - d.below_m3(height_m), a - d.area_m2(height_m))
                })
            }
            _ => (self.slow_volume_m3(height_m), self.area_m2(height_m)),
        }
    }

    /// Where to start looking for the height of a share of the volume below the plain part.
    fn start_m(&self, share: f64) -> f64 {
        let place = share * STARTS as f64;
        let i = (place as usize).min(STARTS - 1);
        match self.starts_m.get(i..i + 2) {
            Some([low_m, high_m]) => low_m + (high_m - low_m) * (place - i as f64),
            _ => self.plain_from_m * share,
        }
    }

    fn slow_height_m(&self, volume_m3: f64) -> f64 {
        let (mut low_m, mut high_m) = (0.0, self.plain_from_m);
        let mut height_m = self.start_m((volume_m3 / self.plain_from_m3).clamp(0.0, 1.0));
        for _ in 0..100 {
            let (held_m3, area_m2) = self.slow_both(height_m);
            let over_m3 = held_m3 - volume_m3;
            if over_m3 > 0.0 {
                high_m = height_m;
            } else {
                low_m = height_m;
            }
            let step_m = height_m - over_m3 / area_m2;
            let next_m =
                if low_m < step_m && step_m < high_m { step_m } else { 0.5 * (low_m + high_m) };
            if (next_m - height_m).abs() < CLOSE_M && next_m == step_m || high_m - low_m < 1e-13 {
                return next_m;
            }
            height_m = next_m;
        }
        height_m
    }

    /// Free surface at a height, m²: the slope of volume over height.
    #[inline]
    pub fn area_m2(&self, height_m: f64) -> f64 {
        if height_m >= self.plain_from_m {
            return self.plain_area_m2;
        }
        let gross_m2 = match &self.inside {
            Inside::Straight { base, radius_m, .. } => base.area_m2(*radius_m, height_m),
            Inside::Measured(table) => table.area_m2(height_m),
        };
        self.displacers.iter().fold(gross_m2, |a, d| a - d.area_m2(height_m))
    }

    /// Wetted side wall up to a height, m²: the straight wall above the base.
    ///
    /// The base itself, with a dome, dish or cone, is not side. A measured table counts all its
    /// wall as side: `∫ 2·√(π·A) dh`.
    #[inline]
    pub fn wetted_side_m2(&self, height_m: f64) -> f64 {
        match &self.inside {
            Inside::Straight { perimeter_m, side_from_m, .. } => {
                perimeter_m * (height_m - side_from_m).max(0.0)
            }
            Inside::Measured(table) => table.side_m2(height_m),
        }
    }

    /// Volume to the brim, m³.
    pub fn brim_m3(&self) -> f64 {
        self.volume_m3(self.brim_height_m)
    }

    /// Height of the brim over the lowest point inside, m.
    pub fn brim_height_m(&self) -> f64 {
        self.brim_height_m
    }

    /// Area of the mouth, m².
    pub fn mouth_m2(&self) -> f64 {
        self.area_m2(self.brim_height_m)
    }

    /// Diameter of the round pot with the same mouth, m.
    pub fn mean_diameter_m(&self) -> f64 {
        (4.0 * self.mouth_m2() / PI).sqrt()
    }

    /// Area of the base as seen from below, m²: what a flame or a plate can touch.
    pub fn base_m2(&self) -> f64 {
        match &self.inside {
            Inside::Straight { area_m2, .. } => *area_m2,
            Inside::Measured(table) => table.area_m2(0.5 * table.first_step_m()),
        }
    }

    /// Height of the base itself at the middle (or the edge, where it bulges up), m.
    pub fn base_top_m(&self) -> f64 {
        match &self.inside {
            Inside::Straight { base, radius_m, .. } => base.top_m(*radius_m),
            Inside::Measured(_) => 0.0,
        }
    }
}

/// Diameter of a round pot as high as wide: `D = (4V/π)^(1/3)`, m.
pub fn square_pot_diameter_m(volume_m3: f64) -> f64 {
    cbrt(4.0 * volume_m3 / PI)
}

/// Volume at a mark on a hot wall over the volume at the same mark cold.
///
/// ```text
/// V_hot/V_cold = (1 + α·ΔT)³
/// ```
///
/// Geometry of a wall that grows alike in all directions; 304 from 20 to 99 °C gives 1.0041.
pub fn mark_growth(alpha_per_k: f64, rise_k: f64) -> f64 {
    let linear = 1.0 + alpha_per_k * rise_k;
    linear * linear * linear
}

/// Height shown by a sight tube over the true height: `ρ_pot/ρ_tube`, hydrostatic balance.
pub fn sight_tube_share(density_pot_kg_m3: f64, density_tube_kg_m3: f64) -> f64 {
    density_pot_kg_m3 / density_tube_kg_m3
}

/// Largest error of a reading at the wall of a leaning pot: `(D/2)·tan(angle)`, m.
pub fn tilt_error_m(diameter_m: f64, angle_rad: f64) -> f64 {
    0.5 * diameter_m * tan(angle_rad)
}

/// Volume a coil of tube takes from the pot: `L·π·d²/4`, m³ (outside diameter).
pub fn coil_m3(length_m: f64, outside_m: f64) -> f64 {
    length_m * PI * outside_m * outside_m / 4.0
}

#[cfg(test)]
mod tests;
