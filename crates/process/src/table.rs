//! Laws laid out in advance on a uniform grid and read by cubic Hermite pieces: one call costs a
//! dozen multiplications and no exponential. It deliberately knows no physics and never refines
//! itself: whoever makes a table chooses a step for which the law is smooth.

/// One law of one variable, once continuously differentiable, straight beyond its ends.
///
/// ```text
/// y(x) = h00 y_i + h10 h s_i + h01 y_(i+1) + h11 h s_(i+1)      inside cell i of width h
/// ```
///
/// kept as `y_i + t (d_i + t (c + t d))` with `t` from 0 to 1 in the cell. The slopes `s` are
/// fourth-order central differences of the knots (third order at the ends), so the error falls
/// with the fourth power of the step. Beyond either end the table goes on along
/// the end's tangent: a stepper that probes a little outside gets a finite, smooth answer.
#[derive(Debug, Clone, PartialEq)]
pub struct UniformTable {
    start: f64,
    step: f64,
    per_step: f64,
    cells: Vec<[f64; 4]>, // the piece's coefficients, rising; at least 4
}

impl UniformTable {
    /// Lays out `law` at `knots` equally spaced points from `start` to `end`, both included.
    ///
    /// Fewer than five knots are taken as five; an empty or reversed range as one of width 1.
    pub fn new(start: f64, end: f64, knots: usize, law: impl FnMut(f64) -> f64) -> Self {
        let knots = knots.max(5);
        let width = if end > start { end - start } else { 1.0 };
        let step = width / (knots - 1) as f64;
        let mut law = law;
        let values: Vec<f64> = (0..knots).map(|i| law(start + step * i as f64)).collect();
        let cells = (0..knots - 1).map(|i| piece(&values, i)).collect();
        Self { start, step, per_step: 1.0 / step, cells }
    }

    /// The law at `x`.
    #[inline]
    pub fn at(&self, x: f64) -> f64 {
        let (i, t) = self.place(x);
        let piece = &self.cells[i];
        if t > 0.0 && t < 1.0 { cubic(piece, t) } else { beyond(piece, t) }
    }

    /// The slope of the law at `x`, in units of the law per unit of `x`.
    #[inline]
    pub fn slope(&self, x: f64) -> f64 {
        let (i, t) = self.place(x);
        let t = t.clamp(0.0, 1.0);
        slope(&self.cells[i], t) * self.per_step
    }

    /// First and last point of the grid.
    pub fn range(&self) -> (f64, f64) {
        (self.start, self.start + self.step * self.cells.len() as f64)
    }

    #[inline]
    fn place(&self, x: f64) -> (usize, f64) {
        place(x, self.start, self.per_step, self.cells.len())
    }
}

/// `N` laws of the same variable on one grid: the place in the grid is found once for all.
#[derive(Debug, Clone, PartialEq)]
pub struct UniformTables<const N: usize> {
    start: f64,
    per_step: f64,
    cells: Vec<[[f64; N]; 4]>, // coefficients of all laws, rising
}

impl<const N: usize> UniformTables<N> {
    /// Lays out `laws` at `knots` equally spaced points from `start` to `end`, both included, and
    /// asks for them once each in that order.
    ///
    /// Fewer than five knots are taken as five; an empty or reversed range as one of width 1.
    pub fn new(start: f64, end: f64, knots: usize, laws: impl FnMut(f64) -> [f64; N]) -> Self {
        let knots = knots.max(5);
        let width = if end > start { end - start } else { 1.0 };
        let step = width / (knots - 1) as f64;
        let mut laws = laws;
        let values: Vec<[f64; N]> = (0..knots).map(|i| laws(start + step * i as f64)).collect();
        let mut column = vec![0.0; knots];
        let mut cells = vec![[[0.0; N]; 4]; knots - 1];
        for n in 0..N {
            for (value, row) in column.iter_mut().zip(&values) {
                *value = row[n];
            }
            for (i, cell) in cells.iter_mut().enumerate() {
                for (power, coefficient) in cell.iter_mut().zip(piece(&column, i)) {
                    power[n] = coefficient;
                }
            }
        }
        Self { start, per_step: 1.0 / step, cells }
    }

    /// All laws at `x`; outside the grid each is held at its end value.
    #[inline]
    pub fn at(&self, x: f64) -> [f64; N] {
        let (i, t) = place(x, self.start, self.per_step, self.cells.len());
        let t = t.clamp(0.0, 1.0);
        let [y, d, c, e] = &self.cells[i];
        let mut out = [0.0; N];
        for n in 0..N {
            out[n] = y[n] + t * (d[n] + t * (c[n] + t * e[n]));
        }
        out
    }
}

#[inline]
fn place(x: f64, start: f64, per_step: f64, cells: usize) -> (usize, f64) {
    let position = (x - start) * per_step;
    // A cast saturates and turns NaN into 0, so this never leaves the table; t keeps the NaN. One
    // to 32 bits takes three instructions, one to 64 bits ten.
    let i = position as u32;
    let i = i.min(cells as u32 - 1);
    (i as usize, position - f64::from(i))
}

/// Coefficients of the piece from knot `i` to the next.
fn piece(values: &[f64], i: usize) -> [f64; 4] {
    let (y0, y1) = (values[i], values[i + 1]);
    let (d0, d1) = (difference(values, i), difference(values, i + 1));
    let rise = y1 - y0;
    [y0, d0, 3.0 * rise - 2.0 * d0 - d1, d0 + d1 - 2.0 * rise]
}

#[inline]
fn cubic([y, d, c, e]: &[f64; 4], t: f64) -> f64 {
    y + t * (d + t * (c + t * e))
}

#[inline]
fn slope([_, d, c, e]: &[f64; 4], t: f64) -> f64 {
    d + t * (2.0 * c + 3.0 * t * e)
}

/// Along the tangent before the piece or behind it; not a number stays so.
#[cold]
fn beyond(piece: &[f64; 4], t: f64) -> f64 {
    let end = t.clamp(0.0, 1.0);
    cubic(piece, end) + slope(piece, end) * (t - end)
}

/// Slope times step at knot `i`: fourth order inside, third order in the two knots at each end.
fn difference(y: &[f64], i: usize) -> f64 {
    let last = y.len() - 1;
    match i {
        0 => (-11.0 * y[0] + 18.0 * y[1] - 9.0 * y[2] + 2.0 * y[3]) / 6.0,
        1 => (-2.0 * y[0] - 3.0 * y[1] + 6.0 * y[2] - y[3]) / 6.0,
        _ if i == last => (11.0 * y[i] - 18.0 * y[i - 1] + 9.0 * y[i - 2] - 2.0 * y[i - 3]) / 6.0,
        _ if i == last - 1 => (2.0 * y[i + 1] + 3.0 * y[i] - 6.0 * y[i - 1] + y[i - 2]) / 6.0,
        _ => (8.0 * (y[i + 1] - y[i - 1]) - (y[i + 2] - y[i - 2])) / 12.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cubic_is_reproduced_exactly() {
        let law = |x: f64| 1.0 - 2.0 * x + 0.5 * x * x - 0.1 * x * x * x;
        let table = UniformTable::new(-1.0, 4.0, 11, law);
        for i in 0..100 {
            let x = -1.0 + 0.05 * i as f64;
            assert!((table.at(x) - law(x)).abs() < 1e-12, "{x}");
        }
    }

    #[test]
    fn the_error_falls_with_the_fourth_power_of_the_step() {
        let worst = |knots: usize| {
            let table = UniformTable::new(0.0, 3.0, knots, f64::exp);
            (0..200)
                .map(|i| 0.3 + 0.012 * i as f64) // away from the third-order ends
                .map(|x| (table.at(x) - x.exp()).abs())
                .fold(0.0, f64::max)
        };
        let ratio = worst(31) / worst(61);
        assert!((12.0..20.0).contains(&ratio), "{ratio}");
    }

    #[test]
    fn beyond_the_ends_it_goes_on_straight_and_without_a_jump() {
        let table = UniformTable::new(0.0, 1.0, 9, |x| x * x * x);
        let beyond = table.at(1.25) - table.at(1.0);
        assert!((beyond - 0.25 * table.slope(1.0)).abs() < 1e-12);
        assert!((table.at(-1.0) + table.slope(0.0)).abs() < 1e-12);
        assert!(table.at(f64::NAN).is_nan());
    }

    #[test]
    fn many_laws_on_one_grid_equal_the_single_tables() {
        let many = UniformTables::new(0.0, 2.0, 21, |x: f64| [x.sin(), x.exp()]);
        let one = UniformTable::new(0.0, 2.0, 21, f64::exp);
        for i in 0..=40 {
            let x = 0.05 * i as f64;
            assert_eq!(many.at(x)[1], one.at(x));
        }
    }
}
