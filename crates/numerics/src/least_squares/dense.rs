//! A small dense matrix and the least-squares solution by Householder reflections.
//!
//! Knows no bounds; those are its callers' work.

use super::LeastSquaresError;

/// A dense matrix, stored row by row.
#[derive(Debug, Clone, PartialEq)]
pub struct Matrix {
    rows: usize,
    columns: usize,
    /// `rows · columns` numbers.
    values: Vec<f64>,
}

impl Matrix {
    /// A matrix of zeros.
    pub fn zeros(rows: usize, columns: usize) -> Matrix {
        Matrix { rows, columns, values: vec![0.0; rows * columns] }
    }

    /// A matrix from its numbers, row by row.
    ///
    /// # Errors
    /// [`LeastSquaresError`] if there are not `rows · columns` numbers or one is not finite.
    pub fn from_rows(
        rows: usize,
        columns: usize,
        values: &[f64],
    ) -> Result<Matrix, LeastSquaresError> {
        let expected = rows * columns;
        if values.len() != expected {
            let given = values.len();
            return Err(LeastSquaresError::Length { what: "matrix numbers", given, expected });
        }
        check_finite("matrix number", values)?;
        Ok(Matrix { rows, columns, values: values.to_vec() })
    }

    /// Number of rows.
    pub fn rows(&self) -> usize {
        self.rows
    }

    /// Number of columns.
    pub fn columns(&self) -> usize {
        self.columns
    }

    /// The number in a row and a column, both from 0.
    ///
    /// # Panics
    /// If there is no such place.
    pub fn get(&self, row: usize, column: usize) -> f64 {
        assert!(column < self.columns, "column {column} of {}", self.columns);
        self.values[row * self.columns + column]
    }

    /// Sets the number in a row and a column.
    ///
    /// # Panics
    /// If there is no such place.
    pub fn set(&mut self, row: usize, column: usize, value: f64) {
        assert!(column < self.columns, "column {column} of {}", self.columns);
        self.values[row * self.columns + column] = value;
    }

    /// Length of a column.
    pub(super) fn column_norm(&self, column: usize) -> f64 {
        (0..self.rows).map(|row| self.get(row, column)).map(|x| x * x).sum::<f64>().sqrt()
    }

    /// Row `row` times `x`.
    pub(super) fn row_dot(&self, row: usize, x: &[f64]) -> f64 {
        let start = row * self.columns;
        self.values[start..start + self.columns].iter().zip(x).map(|(a, x)| a * x).sum()
    }

    /// Column `column` times `y`.
    pub(super) fn column_dot(&self, column: usize, y: &[f64]) -> f64 {
        (0..self.rows).map(|row| self.get(row, column) * y[row]).sum()
    }
}

/// Refuses a list with a number that is not finite.
pub(super) fn check_finite(what: &'static str, values: &[f64]) -> Result<(), LeastSquaresError> {
    match values.iter().position(|value| !value.is_finite()) {
        Some(index) => Err(LeastSquaresError::NotFinite { what, index, value: values[index] }),
        None => Ok(()),
    }
}

/// `x` that makes `|A·x − b|` least; `None` if the columns of `A` are not independent, to
/// rounding, or there are fewer rows than columns. Both arguments are used up.
///
/// Householder reflections, as in G. H. Golub, C. F. Van Loan, *Matrix Computations*, section 5.3.
pub(super) fn least_squares(mut a: Matrix, mut b: Vec<f64>) -> Option<Vec<f64>> {
    let (rows, columns) = (a.rows, a.columns);
    if rows < columns {
        return None;
    }
    let smallest = 1e-13;
    for column in 0..columns {
        let whole = a.column_norm(column);
        let below = (column..rows).map(|row| a.get(row, column)).map(|x| x * x).sum::<f64>().sqrt();
        if below <= smallest * whole || below == 0.0 {
            return None;
        }
        let head = a.get(column, column);
        let diagonal = -below.copysign(head);
        // v = (head − diagonal, rest); reflecting by it puts `diagonal` on the diagonal.
        a.set(column, column, head - diagonal);
        let half_square = below * (below + head.abs());
        for other in column + 1..columns {
            let dot: f64 = (column..rows).map(|row| a.get(row, column) * a.get(row, other)).sum();
            for row in column..rows {
                let value = a.get(row, other) - dot / half_square * a.get(row, column);
                a.set(row, other, value);
            }
        }
        let dot: f64 = (column..rows).map(|row| a.get(row, column) * b[row]).sum();
        for (row, b) in b.iter_mut().enumerate().skip(column) {
            *b -= dot / half_square * a.get(row, column);
        }
        a.set(column, column, diagonal);
    }
    let mut x = vec![0.0; columns];
    for column in (0..columns).rev() {
        let known: f64 = (column + 1..columns).map(|other| a.get(column, other) * x[other]).sum();
        x[column] = (b[column] - known) / a.get(column, column);
    }
    Some(x)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_through_four_points_is_the_one_worked_out_by_hand() {
        // Points (0, 1), (1, 3), (2, 4), (3, 4): slope 1, intercept 1.5 from the normal equations
        // 4a + 6b = 12, 6a + 14b = 23.
        let a = Matrix::from_rows(4, 2, &[1.0, 0.0, 1.0, 1.0, 1.0, 2.0, 1.0, 3.0]).unwrap();
        let x = least_squares(a, vec![1.0, 3.0, 4.0, 4.0]).unwrap();
        assert!((x[0] - 1.5).abs() < 1e-14 && (x[1] - 1.0).abs() < 1e-14, "{x:?}");
    }

    #[test]
    fn dependent_columns_have_no_solution() {
        let a = Matrix::from_rows(3, 2, &[1.0, 2.0, 2.0, 4.0, 3.0, 6.0]).unwrap();
        assert_eq!(least_squares(a, vec![1.0, 2.0, 4.0]), None);
        assert_eq!(least_squares(Matrix::zeros(2, 1), vec![1.0, 2.0]), None);
        assert_eq!(least_squares(Matrix::zeros(1, 2), vec![1.0]), None);
    }

    #[test]
    fn wrong_counts_and_infinite_numbers_are_refused() {
        assert!(Matrix::from_rows(2, 2, &[1.0; 3]).is_err());
        assert!(Matrix::from_rows(1, 2, &[1.0, f64::INFINITY]).is_err());
    }
}
