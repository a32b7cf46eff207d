//! A curve through points that rises where the points rise and never overshoots.
//!
//! Deliberately absent: smoothing, integrals, and more than one dimension.

/// Why points make no curve.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum CurveError {
    /// A curve needs two points, each with both numbers.
    #[error("{xs} places and {ys} values: expected the same number, two at least")]
    Length {
        /// Places given.
        xs: usize,
        /// Values given.
        ys: usize,
    },
    /// The places must rise.
    #[error("place {index} is {x}: expected a number above {before}, the place before it")]
    NotRising {
        /// Which place.
        index: usize,
        /// Its number.
        x: f64,
        /// The one before it.
        before: f64,
    },
    /// A place or value is infinite or not a number.
    #[error("point {index} is ({x}, {y}): expected finite numbers")]
    NotFinite {
        /// Which point.
        index: usize,
        /// Its place.
        x: f64,
        /// Its value.
        y: f64,
    },
}

/// A monotone cubic through points, continued as a straight line beyond both ends.
///
/// Between two points the curve stays between their values; where neighbouring stretches rise and
/// fall it is flat at the point. It has a continuous slope.
///
/// # Source
/// F. N. Fritsch, R. E. Carlson, "Monotone piecewise cubic interpolation", *SIAM J. Numer. Anal.*
/// 17 (1980) 238-246. Inner slopes: the weighted harmonic mean of F. N. Fritsch, J. Butland,
/// *SIAM J. Sci. Stat. Comput.* 5 (1984) 300-304; end slopes: the three-point formula limited to
/// keep the shape (C. Moler, *Numerical Computing with MATLAB*, 2004, section 3.6). The library
/// SciPy makes the same choices in `PchipInterpolator`.
///
/// ```
/// use numerics::interpolate::Curve;
/// let curve = Curve::new(&[0.0, 1.0, 2.0], &[0.0, 2.0, 4.0])?;
/// assert_eq!(curve.value(0.5), 1.0);
/// assert_eq!(curve.value(3.0), 6.0);
/// # Ok::<(), numerics::interpolate::CurveError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// Rising; as many as `ys` and `slopes`, two at least.
    xs: Vec<f64>,
    ys: Vec<f64>,
    slopes: Vec<f64>,
}

impl Curve {
    /// A curve through `(xs[i], ys[i])`; two points make a straight line.
    ///
    /// # Errors
    /// [`CurveError`] if the numbers differ in count, are fewer than two, are not finite, or the
    /// places do not rise.
    pub fn new(xs: &[f64], ys: &[f64]) -> Result<Curve, CurveError> {
        if xs.len() != ys.len() || xs.len() < 2 {
            return Err(CurveError::Length { xs: xs.len(), ys: ys.len() });
        }
        for (index, (&x, &y)) in xs.iter().zip(ys).enumerate() {
            if !x.is_finite() || !y.is_finite() {
                return Err(CurveError::NotFinite { index, x, y });
            }
            if index > 0 && x <= xs[index - 1] {
                return Err(CurveError::NotRising { index, x, before: xs[index - 1] });
            }
        }
        Ok(Curve { xs: xs.to_vec(), ys: ys.to_vec(), slopes: slopes(xs, ys) })
    }

    /// The first and the last place.
    pub fn range(&self) -> (f64, f64) {
        (self.xs[0], self.xs[self.xs.len() - 1])
    }

    /// The curve's value at `x`.
    pub fn value(&self, x: f64) -> f64 {
        self.both(x).0
    }

    /// The curve's slope at `x`; at and beyond the ends that of the straight continuation.
    pub fn slope(&self, x: f64) -> f64 {
        self.both(x).1
    }

    /// Value and slope at `x`. `NaN` gives `NaN`.
    pub fn both(&self, x: f64) -> (f64, f64) {
        let last = self.xs.len() - 1;
        if x <= self.xs[0] || last == 0 {
            return (self.ys[0] + self.slopes[0] * (x - self.xs[0]), self.slopes[0]);
        }
        if x >= self.xs[last] {
            return (self.ys[last] + self.slopes[last] * (x - self.xs[last]), self.slopes[last]);
        }
        let right = self.xs.partition_point(|&place| place <= x).clamp(1, last);
        let left = right - 1;
        let h = self.xs[right] - self.xs[left];
        let (s0, s1) = (self.slopes[left], self.slopes[right]);
        let chord = (self.ys[right] - self.ys[left]) / h;
        let square = (3.0 * chord - 2.0 * s0 - s1) / h;
        let cube = (s0 + s1 - 2.0 * chord) / (h * h);
        let u = x - self.xs[left];
        let value = self.ys[left] + u * (s0 + u * (square + u * cube));
        (value, s0 + u * (2.0 * square + u * 3.0 * cube))
    }
}

/// Slopes at the points, such that no stretch overshoots.
fn slopes(xs: &[f64], ys: &[f64]) -> Vec<f64> {
    let widths: Vec<f64> = xs.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let chords: Vec<f64> =
        ys.windows(2).zip(&widths).map(|(pair, width)| (pair[1] - pair[0]) / width).collect();
    let last = chords.len() - 1;
    if last == 0 {
        return vec![chords[0]; 2];
    }
    let mut slopes = Vec::with_capacity(xs.len());
    slopes.push(end_slope(widths[0], widths[1], chords[0], chords[1]));
    for i in 1..=last {
        slopes.push(inner_slope(widths[i - 1], widths[i], chords[i - 1], chords[i]));
    }
    slopes.push(end_slope(widths[last], widths[last - 1], chords[last], chords[last - 1]));
    slopes
}

/// Weighted harmonic mean of the chords beside a point; flat at a peak, a dip or a level stretch.
fn inner_slope(width_before: f64, width_after: f64, before: f64, after: f64) -> f64 {
    if before == 0.0 || after == 0.0 || before.signum() != after.signum() {
        return 0.0;
    }
    let weight_before = 2.0 * width_after + width_before;
    let weight_after = width_after + 2.0 * width_before;
    (weight_before + weight_after) / (weight_before / before + weight_after / after)
}

/// Three-point slope at an end, kept to the first chord's sign and to three times its size where
/// the next one turns.
fn end_slope(width: f64, next_width: f64, chord: f64, next_chord: f64) -> f64 {
    let slope = ((2.0 * width + next_width) * chord - width * next_chord) / (width + next_width);
    if slope == 0.0 || chord == 0.0 || slope.signum() != chord.signum() {
        0.0
    } else if chord.signum() != next_chord.signum() && slope.abs() > 3.0 * chord.abs() {
        3.0 * chord
    } else {
        slope
    }
}

#[cfg(test)]
mod tests;
