//! Linear least squares whose unknowns may not be negative.
//!
//! Deliberately absent: upper bounds and equality constraints (give such a row a large weight).

use super::dense::{check_finite, least_squares};
use super::{LeastSquaresError, Matrix};

/// An answer of [`non_negative`].
#[derive(Debug, Clone, PartialEq)]
pub struct NonNegative {
    /// The unknowns, none below zero.
    pub x: Vec<f64>,
    /// `|A·x − b|`.
    pub residual_norm: f64,
}

/// `x ≥ 0` that makes `|A·x − b|` least.
///
/// # Source
/// C. L. Lawson, R. J. Hanson, *Solving Least Squares Problems*, 1974, algorithm NNLS (23.10).
///
/// # Errors
/// [`LeastSquaresError`] if `b` has not one number per row, or one is not finite.
///
/// ```
/// use numerics::least_squares::{Matrix, non_negative};
/// // The free solution is (2, −1); with the second held at zero the first is the mean of 2 and 1.
/// let a = Matrix::from_rows(2, 2, &[1.0, 0.0, 1.0, 1.0])?;
/// let answer = non_negative(&a, &[2.0, 1.0])?;
/// assert!((answer.x[0] - 1.5).abs() < 1e-15 && answer.x[1] == 0.0);
/// # Ok::<(), numerics::least_squares::LeastSquaresError>(())
/// ```
pub fn non_negative(a: &Matrix, b: &[f64]) -> Result<NonNegative, LeastSquaresError> {
    if b.len() != a.rows() {
        let (given, expected) = (b.len(), a.rows());
        return Err(LeastSquaresError::Length { what: "right-hand side", given, expected });
    }
    check_finite("right-hand side", b)?;
    let n = a.columns();
    let mut x = vec![0.0; n];
    let mut passive: Vec<usize> = Vec::new(); // columns that may be above zero
    let iterations = 30 * n.max(1);
    for _ in 0..iterations {
        let residual = residual(a, &x, b);
        let Some((set, z)) = enter(a, b, &residual, &passive) else {
            let residual_norm = norm(&residual);
            return Ok(NonNegative { x, residual_norm });
        };
        passive = set;
        retreat(a, b, &mut x, &mut passive, z);
    }
    Err(LeastSquaresError::Cycling { iterations })
}

/// Lets in the column along which the residual falls fastest, if any makes it fall; gives the
/// enlarged set and its free solution.
fn enter(
    a: &Matrix,
    b: &[f64],
    residual: &[f64],
    passive: &[usize],
) -> Option<(Vec<usize>, Vec<f64>)> {
    let size = norm(b).max(norm(residual));
    let tolerance = 10.0 * f64::EPSILON * a.rows().max(a.columns()) as f64;
    // Fall per unit length of a column, steepest first.
    let mut candidates: Vec<(f64, usize)> = (0..a.columns())
        .filter(|column| !passive.contains(column))
        .map(|column| (a.column_dot(column, residual) / a.column_norm(column), column))
        .filter(|(fall, _)| *fall > tolerance * size)
        .collect();
    candidates.sort_by(|one, other| other.0.total_cmp(&one.0).then(one.1.cmp(&other.1)));
    candidates.into_iter().find_map(|(_, column)| {
        let mut set = passive.to_vec();
        set.push(column);
        let z = free_solution(a, b, &set)?;
        (z[set.len() - 1] > 0.0).then_some((set, z)) // otherwise the fall was rounding
    })
}

/// Moves `x` towards the free solution `z` until none is negative, dropping columns on the way.
fn retreat(a: &Matrix, b: &[f64], x: &mut [f64], passive: &mut Vec<usize>, mut z: Vec<f64>) {
    while z.iter().any(|&z| z <= 0.0) {
        let share = passive
            .iter()
            .zip(&z)
            .filter(|(_, z)| **z <= 0.0)
            .map(|(&column, z)| x[column] / (x[column] - z))
            .fold(1.0, f64::min);
        for (&column, &z) in passive.iter().zip(&z) {
            let moved = x[column] + share * (z - x[column]);
            let blocks = z <= 0.0 && x[column] / (x[column] - z) <= share;
            x[column] = if blocks { 0.0 } else { moved.max(0.0) };
        }
        passive.retain(|&column| x[column] > 0.0);
        match free_solution(a, b, passive) {
            Some(free) => z = free,
            None => return,
        }
    }
    for (&column, &z) in passive.iter().zip(&z) {
        x[column] = z;
    }
}

/// The least-squares solution with only the columns of `set`, in its order.
fn free_solution(a: &Matrix, b: &[f64], set: &[usize]) -> Option<Vec<f64>> {
    let mut part = Matrix::zeros(a.rows(), set.len());
    for (place, &column) in set.iter().enumerate() {
        for row in 0..a.rows() {
            part.set(row, place, a.get(row, column));
        }
    }
    least_squares(part, b.to_vec())
}

fn residual(a: &Matrix, x: &[f64], b: &[f64]) -> Vec<f64> {
    b.iter().enumerate().map(|(row, b)| b - a.row_dot(row, x)).collect()
}

fn norm(values: &[f64]) -> f64 {
    values.iter().map(|value| value * value).sum::<f64>().sqrt()
}

#[cfg(test)]
mod tests;
