//! Curved least squares with bounds: a damped Gauss-Newton method for under ten unknowns.
//!
//! Derivatives are difference quotients, so the residuals must be smooth on the scale of the
//! difference step. Deliberately absent: a search for the best of several minima; it goes downhill
//! from the start.

use super::dense::least_squares;
use super::{LeastSquaresError, Matrix};

/// One number to be found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unknown {
    /// Where to begin; moved to the nearer bound if outside.
    pub start: f64,
    /// Least value; may be −∞.
    pub lower: f64,
    /// Greatest value; may be ∞.
    pub upper: f64,
    /// A natural size of a change, positive; steps are judged in it.
    pub scale: f64,
}

/// How to search.
#[derive(Debug, Clone, PartialEq)]
pub struct GaussNewton {
    /// The targets are met when no residual is larger than this.
    pub residual: f64,
    /// The search is over when no unknown moves by more than this share of its scale.
    pub step: f64,
    /// The search is over when a step with fresh derivatives promises to take off no more than this
    /// share of the sum of squares; 0 for going to the last bit.
    pub gain: f64,
    /// The difference quotient's step, as a share of each scale.
    pub difference: f64,
    /// Steps tried at most.
    pub iterations_max: u32,
    /// Whether derivatives are brought forward by Broyden's rank-one update instead of new
    /// differences while the steps go well: fewer evaluations, if each is dear.
    pub broyden: bool,
}

impl Default for GaussNewton {
    fn default() -> GaussNewton {
        GaussNewton {
            residual: 1e-9,
            step: 1e-8,
            gain: 0.0,
            difference: 1e-4,
            iterations_max: 60,
            broyden: false,
        }
    }
}

/// Why a search ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// Every residual is within the tolerance.
    Met,
    /// No step makes the sum of squares smaller: the best there is near here, within the bounds.
    Least,
    /// The allowed number of steps was used up.
    Iterations,
}

/// Where a search ended.
#[derive(Debug, Clone, PartialEq)]
pub struct Solved {
    /// The unknowns, all within their bounds.
    pub x: Vec<f64>,
    /// The residuals there.
    pub residuals: Vec<f64>,
    /// Derivatives there or one step before: a row per residual, a column per unknown, in the
    /// unknowns' own units.
    pub jacobian: Matrix,
    /// Why it ended.
    pub ended: Ended,
    /// How often the residuals were worked out.
    pub evaluations: u32,
}

impl GaussNewton {
    /// The unknowns that make the sum of the squares of `count` residuals least.
    ///
    /// `residuals(x, r)` writes them into `r`; one that is not finite means "not possible here",
    /// and the search keeps away from it.
    ///
    /// Method: Levenberg's damping in units of the scales; an unknown at a bound that would leave
    /// it is held, and the others are solved again (J. Nocedal, S. J. Wright, *Numerical
    /// Optimization*, 2nd ed., chapters 10 and 16.7; Broyden's update, chapter 11).
    ///
    /// # Errors
    /// [`LeastSquaresError`] for impossible bounds, or if the start itself is not possible.
    ///
    /// ```
    /// use numerics::least_squares::{Ended, GaussNewton, Unknown};
    /// let unknown = |start| Unknown { start, lower: 0.0, upper: 10.0, scale: 1.0 };
    /// // A rectangle of area 12 and half perimeter 7.
    /// let solved = GaussNewton::default().solve(&[unknown(1.0), unknown(5.0)], 2, |x, r| {
    ///     r[0] = x[0] * x[1] - 12.0;
    ///     r[1] = x[0] + x[1] - 7.0;
    /// })?;
    /// assert_eq!(solved.ended, Ended::Met);
    /// assert!((solved.x[0] - 3.0).abs() < 1e-8 && (solved.x[1] - 4.0).abs() < 1e-8);
    /// # Ok::<(), numerics::least_squares::LeastSquaresError>(())
    /// ```
    pub fn solve(
        &self,
        unknowns: &[Unknown],
        count: usize,
        residuals: impl FnMut(&[f64], &mut [f64]),
    ) -> Result<Solved, LeastSquaresError> {
        for (index, unknown) in unknowns.iter().enumerate() {
            let Unknown { start, lower, upper, scale } = *unknown;
            if !start.is_finite() {
                return Err(LeastSquaresError::NotFinite { what: "start", index, value: start });
            }
            let ordered = lower <= upper; // false for NaN
            if !(ordered && scale.is_finite() && scale > 0.0) {
                return Err(LeastSquaresError::Bounds { index, lower, upper, scale });
            }
        }
        let mut search = Search {
            options: self,
            unknowns,
            residuals,
            x: unknowns.iter().map(|u| u.start.max(u.lower).min(u.upper)).collect(),
            r: vec![0.0; count],
            jacobian: Matrix::zeros(count, unknowns.len()),
            fresh: false,
            damping: 1e-3,
            evaluations: 0,
        };
        search.run()
    }
}

/// A search under way. The Jacobian is kept per scale of each unknown.
struct Search<'a, F> {
    options: &'a GaussNewton,
    unknowns: &'a [Unknown],
    residuals: F,
    x: Vec<f64>,
    r: Vec<f64>,
    jacobian: Matrix,
    /// Whether the Jacobian was made by differences at `x`.
    fresh: bool,
    damping: f64,
    evaluations: u32,
}

impl<F: FnMut(&[f64], &mut [f64])> Search<'_, F> {
    fn run(&mut self) -> Result<Solved, LeastSquaresError> {
        let start = self.x.clone();
        self.r = self.evaluate(&start).ok_or(LeastSquaresError::Start)?;
        if !self.met() {
            self.differentiate();
        }
        for _ in 0..self.options.iterations_max {
            if self.met() {
                return Ok(self.solved(Ended::Met));
            }
            let step = self.step();
            let small = step.iter().all(|share| share.abs() <= self.options.step)
                || square(&self.r) - self.promised(&step) <= self.options.gain * square(&self.r);
            if small && self.fresh {
                self.attempt(&step); // the last bit may still be what meets the targets
                if self.met() {
                    return Ok(self.solved(Ended::Met));
                }
                return Ok(self.solved(Ended::Least));
            }
            if small || !self.attempt(&step) {
                // A stale Jacobian gets a second chance before the damping rises.
                if self.fresh {
                    self.damping *= 8.0;
                } else {
                    self.differentiate();
                }
            }
        }
        let ended = if self.met() { Ended::Met } else { Ended::Iterations };
        Ok(self.solved(ended))
    }

    /// Whether every residual is within the tolerance.
    fn met(&self) -> bool {
        self.r.iter().all(|r| r.abs() <= self.options.residual)
    }

    /// The residuals at `x`; `None` if one is not finite.
    fn evaluate(&mut self, x: &[f64]) -> Option<Vec<f64>> {
        let mut r = vec![f64::NAN; self.r.len()];
        (self.residuals)(x, &mut r);
        self.evaluations += 1;
        r.iter().all(|r| r.is_finite()).then_some(r)
    }

    /// Derivatives by differences, towards the inside; the other way where that is not possible.
    fn differentiate(&mut self) {
        for (column, unknown) in self.unknowns.iter().enumerate() {
            let wanted = self.options.difference * unknown.scale;
            let towards = if self.x[column] + wanted <= unknown.upper { 1.0 } else { -1.0 };
            for sign in [towards, -towards] {
                let mut beside = self.x.clone();
                beside[column] =
                    (self.x[column] + sign * wanted).max(unknown.lower).min(unknown.upper);
                let share = (beside[column] - self.x[column]) / unknown.scale;
                let found = if share == 0.0 { None } else { self.evaluate(&beside) };
                for row in 0..self.r.len() {
                    let slope = found.as_ref().map_or(0.0, |r| (r[row] - self.r[row]) / share);
                    self.jacobian.set(row, column, slope);
                }
                if found.is_some() {
                    break;
                }
            }
        }
        self.fresh = true;
    }

    /// The damped step in shares of the scales, within the bounds.
    fn step(&self) -> Vec<f64> {
        let n = self.x.len();
        let room = |i: usize| {
            let Unknown { lower, upper, scale, .. } = self.unknowns[i];
            ((lower - self.x[i]) / scale, (upper - self.x[i]) / scale)
        };
        let mut step = vec![0.0; n];
        // Held at a bound that the steepest way down would leave.
        let mut free: Vec<usize> = (0..n)
            .filter(|&i| {
                let uphill = self.jacobian.column_dot(i, &self.r);
                let (down, up) = room(i);
                (uphill > 0.0 && down < 0.0) || (uphill < 0.0 && up > 0.0)
            })
            .collect();
        while !free.is_empty() {
            let part = self.free_step(&free, &step);
            let leaves = |&(i, share): &(usize, f64)| share < room(i).0 || share > room(i).1;
            let held: Vec<(usize, f64)> =
                free.iter().copied().zip(part.iter().copied()).filter(leaves).collect();
            if held.is_empty() {
                for (&i, share) in free.iter().zip(part) {
                    step[i] = share;
                }
                break;
            }
            for (i, share) in held {
                step[i] = share.max(room(i).0).min(room(i).1);
                free.retain(|&other| other != i);
            }
        }
        step
    }

    /// The damped step of the free unknowns while the others take theirs.
    fn free_step(&self, free: &[usize], step: &[f64]) -> Vec<f64> {
        let (m, n) = (self.r.len(), free.len());
        let largest = (0..self.x.len()).map(|i| self.jacobian.column_norm(i)).fold(0.0, f64::max);
        let damping = (self.damping.sqrt() * largest).max(1e-9 * largest).max(f64::MIN_POSITIVE);
        let mut a = Matrix::zeros(m + n, n);
        let mut b = vec![0.0; m + n];
        for (row, b) in b.iter_mut().enumerate().take(m) {
            *b = -(self.r[row] + self.jacobian.row_dot(row, step));
        }
        for (place, &i) in free.iter().enumerate() {
            for row in 0..m {
                a.set(row, place, self.jacobian.get(row, i));
            }
            a.set(m + place, place, damping);
        }
        least_squares(a, b).unwrap_or_else(|| vec![0.0; n])
    }

    /// The sum of squares that a step leaves if the derivatives hold.
    fn promised(&self, step: &[f64]) -> f64 {
        let left = |row: usize| self.r[row] + self.jacobian.row_dot(row, step);
        (0..self.r.len()).map(left).map(|x| x * x).sum()
    }

    /// Goes the step if that makes the sum of squares smaller.
    fn attempt(&mut self, step: &[f64]) -> bool {
        let moved: Vec<f64> = (self.unknowns.iter().zip(&self.x).zip(step))
            .map(|((u, x), share)| (x + share * u.scale).max(u.lower).min(u.upper))
            .collect();
        let before = square(&self.r);
        let Some(r) = self.evaluate(&moved) else { return false };
        let after = square(&r);
        if after >= before {
            return false;
        }
        let kept = (before - after) / (before - self.promised(step));
        let went: Vec<f64> = (self.unknowns.iter().zip(&moved).zip(&self.x))
            .map(|((u, to), from)| (to - from) / u.scale)
            .collect();
        let before = std::mem::replace(&mut self.r, r);
        self.x = moved;
        if kept > 0.75 {
            self.damping /= 16.0;
        } else if kept < 0.25 {
            self.damping *= 4.0;
        }
        if self.options.broyden && kept > 0.25 {
            self.bring_forward(&before, &went);
        } else if !self.met() {
            self.differentiate();
        }
        true
    }

    /// Broyden's update: the least change of the Jacobian that explains the last step.
    fn bring_forward(&mut self, before: &[f64], went: &[f64]) {
        let length = square(went);
        for (row, before) in before.iter().enumerate() {
            let surprise = self.r[row] - before - self.jacobian.row_dot(row, went);
            for (column, share) in went.iter().enumerate() {
                let value = self.jacobian.get(row, column) + surprise * share / length;
                self.jacobian.set(row, column, value);
            }
        }
        self.fresh = false;
    }

    /// The answer, with derivatives in the unknowns' own units.
    fn solved(&self, ended: Ended) -> Solved {
        let mut jacobian = self.jacobian.clone();
        for row in 0..jacobian.rows() {
            for (column, unknown) in self.unknowns.iter().enumerate() {
                jacobian.set(row, column, self.jacobian.get(row, column) / unknown.scale);
            }
        }
        let (x, residuals) = (self.x.clone(), self.r.clone());
        Solved { x, residuals, jacobian, ended, evaluations: self.evaluations }
    }
}

fn square(values: &[f64]) -> f64 {
    values.iter().map(|value| value * value).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn unknown(start: f64, lower: f64, upper: f64) -> Unknown {
        Unknown { start, lower, upper, scale: 1.0 }
    }

    /// Rosenbrock's valley: the least is 0 at (1, 1).
    fn valley(x: &[f64], r: &mut [f64]) {
        r[0] = 10.0 * (x[1] - x[0] * x[0]);
        r[1] = 1.0 - x[0];
    }

    #[test]
    fn rosenbrocks_valley_is_followed_to_its_end() {
        for broyden in [false, true] {
            let method = GaussNewton { broyden, iterations_max: 200, ..GaussNewton::default() };
            let free = [unknown(-1.2, -9.0, 9.0), unknown(1.0, -9.0, 9.0)];
            let solved = method.solve(&free, 2, valley).unwrap();
            assert_eq!(solved.ended, Ended::Met, "{solved:?}");
            assert!((solved.x[0] - 1.0).abs() < 1e-8 && (solved.x[1] - 1.0).abs() < 1e-8);
        }
    }

    #[test]
    fn a_bound_in_the_way_is_kept_and_the_rest_still_least() {
        // With x0 held at 0.5 the valley's floor is x1 = 0.25, the residual 1 − x0 stays.
        let bounded = [unknown(-1.0, -9.0, 0.5), unknown(1.0, -9.0, 9.0)];
        let method = GaussNewton { iterations_max: 200, ..GaussNewton::default() };
        let solved = method.solve(&bounded, 2, valley).unwrap();
        assert_eq!(solved.ended, Ended::Least, "{solved:?}");
        assert_eq!(solved.x[0], 0.5);
        assert!((solved.x[1] - 0.25).abs() < 1e-7, "{:?}", solved.x);
        assert!((solved.residuals[1] - 0.5).abs() < 1e-12);
    }

    #[test]
    fn wishes_that_contradict_meet_in_the_middle() {
        let solved = GaussNewton::default()
            .solve(&[unknown(0.0, -10.0, 10.0)], 2, |x, r| {
                r[0] = x[0] - 1.0;
                r[1] = x[0] - 3.0;
            })
            .unwrap();
        assert_eq!(solved.ended, Ended::Least);
        assert!((solved.x[0] - 2.0).abs() < 1e-7, "{solved:?}");
    }

    #[test]
    fn an_unknown_without_effect_stays_where_it_was() {
        let unknowns = [unknown(0.5, 0.0, 1.0), unknown(0.3, 0.0, 1.0)];
        let solved = GaussNewton::default().solve(&unknowns, 1, |x, r| r[0] = x[0] - 0.7).unwrap();
        assert_eq!(solved.ended, Ended::Met);
        assert!((solved.x[1] - 0.3).abs() < 1e-12, "{solved:?}");
    }

    #[test]
    fn impossible_places_are_gone_round() {
        // The logarithm is not possible below zero; a full first step would land there.
        let free = [unknown(8.0, -10.0, 10.0)];
        let log = |x: &[f64], r: &mut [f64]| r[0] = x[0].ln();
        let solved = GaussNewton::default().solve(&free, 1, log).unwrap();
        assert_eq!(solved.ended, Ended::Met);
        assert!((solved.x[0] - 1.0).abs() < 1e-8, "{solved:?}");
        let start = [unknown(-1.0, -10.0, 10.0)];
        assert_eq!(GaussNewton::default().solve(&start, 1, log), Err(LeastSquaresError::Start));
    }

    #[test]
    fn derivatives_come_back_in_the_unknowns_own_units() {
        let unknown = Unknown { start: 0.0, lower: -1e6, upper: 1e6, scale: 1e3 };
        let solved =
            GaussNewton::default().solve(&[unknown], 1, |x, r| r[0] = 4.0 * x[0] - 2e3).unwrap();
        assert!((solved.x[0] - 500.0).abs() < 1e-6);
        assert!((solved.jacobian.get(0, 0) - 4.0).abs() < 1e-9);
    }

    #[test]
    fn broyden_needs_fewer_evaluations() {
        let count = |broyden| {
            let method = GaussNewton { broyden, ..GaussNewton::default() };
            let unknowns = [unknown(1.0, 0.0, 10.0); 4];
            let solved = method.solve(&unknowns, 4, |x, r| {
                for i in 0..4 {
                    r[i] = x[i] + 0.1 * x[(i + 1) % 4].powi(2) - 2.0;
                }
            });
            let solved = solved.unwrap();
            assert_eq!(solved.ended, Ended::Met);
            solved.evaluations
        };
        assert!(count(true) < count(false), "{} {}", count(true), count(false));
    }

    #[test]
    fn a_search_that_gains_little_is_over() {
        // two curved wishes that contradict: x² is to be 1 and 3 at once, so x is √2
        let count = |gain| {
            let method = GaussNewton { gain, iterations_max: 200, ..GaussNewton::default() };
            let wishes = |x: &[f64], r: &mut [f64]| {
                r[0] = x[0] * x[0] - 1.0;
                r[1] = x[0] * x[0] - 3.0;
            };
            let solved = method.solve(&[unknown(4.0, 0.0, 9.0)], 2, wishes).unwrap();
            assert_eq!(solved.ended, Ended::Least);
            assert!((solved.x[0] - 2.0f64.sqrt()).abs() < 0.05, "{solved:?}");
            solved.evaluations
        };
        assert!(count(0.02) < count(0.0), "{} {}", count(0.02), count(0.0));
    }

    #[test]
    fn impossible_bounds_are_refused() {
        let refused = |u: Unknown| GaussNewton::default().solve(&[u], 1, |x, r| r[0] = x[0]);
        assert!(refused(unknown(0.0, 1.0, -1.0)).is_err());
        assert!(refused(unknown(f64::NAN, -1.0, 1.0)).is_err());
        assert!(refused(unknown(0.0, f64::NAN, 1.0)).is_err());
        assert!(refused(Unknown { scale: 0.0, ..unknown(0.0, -1.0, 1.0) }).is_err());
    }
}
