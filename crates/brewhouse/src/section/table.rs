//! A measured height-volume table as the inside of a vessel.
//!
//! Refuses a table that is too short or does not rise; judges nothing else about it.

use std::f64::consts::PI;

use numerics::interpolate::Curve;

/// Why a table can't be the inside of a vessel.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum TableError {
    /// Too few points.
    #[error("{found} points, at least {least} are needed")]
    TooFew {
        /// How many there are.
        found: usize,
        /// How many are needed.
        least: usize,
    },
    /// A point that is not higher and fuller than the one before it.
    #[error("point {index} is not higher and fuller than the one before it")]
    NotRising {
        /// Which one, counted from 0.
        index: usize,
    },
}

/// A height-volume table with a monotone curve through it.
///
/// Between the points a monotone cubic (Fritsch and Carlson, SIAM J. Numer. Anal. 17 (1980) 238),
/// above the last a straight line with the slope of the last step, below the first a straight
/// line to nothing at height 0.
#[derive(Debug, Clone, PartialEq)]
pub struct VolumeTable {
    heights_m: Vec<f64>,
    curve: Curve,
    side_m2: Vec<f64>,
    last_m3: f64,
    last_slope_m2: f64,
}

impl VolumeTable {
    /// Fewest points.
    pub const LEAST: usize = 6;

    /// From points of height (m) and volume (m³), lowest first.
    ///
    /// # Errors
    /// [`TableError::TooFew`] under six points, [`TableError::NotRising`] where a height or a
    /// volume does not exceed the one before it (or the first is negative or not a number).
    pub fn new(points: &[(f64, f64)]) -> Result<VolumeTable, TableError> {
        if points.len() < VolumeTable::LEAST {
            return Err(TableError::TooFew { found: points.len(), least: VolumeTable::LEAST });
        }
        let mut whole = Vec::with_capacity(points.len() + 1);
        if points[0].0 > 0.0 && points[0].1 > 0.0 {
            whole.push((0.0, 0.0));
        }
        for (index, &(h, v)) in points.iter().enumerate() {
            let first_sound = h.is_finite() && v.is_finite() && h >= 0.0 && v >= 0.0;
            let rises = whole.last().is_none_or(|&(h0, v0)| h > h0 && v > v0);
            if !first_sound || !rises {
                return Err(TableError::NotRising { index });
            }
            whole.push((h, v));
        }
        let heights_m: Vec<f64> = whole.iter().map(|p| p.0).collect();
        let volumes_m3: Vec<f64> = whole.iter().map(|p| p.1).collect();
        let n = heights_m.len();
        let last_slope_m2 =
            (volumes_m3[n - 1] - volumes_m3[n - 2]) / (heights_m[n - 1] - heights_m[n - 2]);
        let Ok(curve) = Curve::new(&heights_m, &volumes_m3) else {
            return Err(TableError::NotRising { index: 0 });
        };
        let mut table =
            VolumeTable { heights_m, curve, side_m2: Vec::new(), last_m3: 0.0, last_slope_m2 };
        table.last_m3 = volumes_m3[n - 1];
        table.side_m2 = table.sides();
        Ok(table)
    }

    /// Side wall from the lowest point to each point: `∫ 2·√(π·A) dh`, by the midpoint of ten
    /// slices a step.
    fn sides(&self) -> Vec<f64> {
        let mut side_m2 = vec![0.0];
        for pair in self.heights_m.windows(2) {
            let slice_m = (pair[1] - pair[0]) / 10.0;
            let step: f64 = (0..10)
                .map(|i| self.area_m2(pair[0] + slice_m * (f64::from(i) + 0.5)))
                .map(|area_m2| 2.0 * (PI * area_m2.max(0.0)).sqrt() * slice_m)
                .sum();
            side_m2.push(side_m2[side_m2.len() - 1] + step);
        }
        side_m2
    }

    /// Volume below a height, m³.
    pub fn volume_m3(&self, height_m: f64) -> f64 {
        let last_m = self.last_height_m();
        if height_m >= last_m {
            self.last_m3 + self.last_slope_m2 * (height_m - last_m)
        } else {
            self.curve.value(height_m.max(0.0)).max(0.0)
        }
    }

    /// Volume below a height and its slope, m³ and m².
    pub(crate) fn both(&self, height_m: f64) -> (f64, f64) {
        if height_m >= self.last_height_m() {
            (self.volume_m3(height_m), self.last_slope_m2)
        } else {
            let (volume_m3, area_m2) = self.curve.both(height_m.max(0.0));
            (volume_m3.max(0.0), area_m2)
        }
    }

    /// Free surface at a height, m².
    pub fn area_m2(&self, height_m: f64) -> f64 {
        if height_m >= self.last_height_m() {
            self.last_slope_m2
        } else {
            self.curve.slope(height_m.max(0.0))
        }
    }

    /// Side wall up to a height, m².
    pub fn side_m2(&self, height_m: f64) -> f64 {
        let h = height_m.max(0.0);
        let above = self.heights_m.partition_point(|&point_m| point_m <= h);
        let below = above.clamp(1, self.heights_m.len()) - 1;
        let girth_m = 2.0 * (PI * self.area_m2(0.5 * (h + self.heights_m[below])).max(0.0)).sqrt();
        self.side_m2[below] + girth_m * (h - self.heights_m[below])
    }

    /// Height of the last point, m.
    pub fn last_height_m(&self) -> f64 {
        self.heights_m[self.heights_m.len() - 1]
    }

    /// Height of the first step, m.
    pub fn first_step_m(&self) -> f64 {
        self.heights_m[1] - self.heights_m[0]
    }
}
