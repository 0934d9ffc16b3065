//! Systems of linear equations, small and dense.

/// The solution of a square system given as rows with the right side behind them; `None` where there is no single one.
///
/// Source: Gauss elimination with partial pivoting.
pub(super) fn solved(mut rows: Vec<Vec<f64>>) -> Option<Vec<f64>> {
    let n = rows.len();
    for column in 0..n {
        let pivot = (column..n).max_by(|one, other| {
            rows[*one][column]
                .abs()
                .total_cmp(&rows[*other][column].abs())
        })?;
        rows.swap(column, pivot);
        let size = rows[column][column];
        if !size.is_finite() || size.abs() < 1e-12 {
            return None;
        }
        for row in column + 1..n {
            let part = rows[row][column] / size;
            if part != 0.0 {
                let (above, below) = rows.split_at_mut(row);
                let pairs = below[0].iter_mut().zip(&above[column]).skip(column);
                pairs.for_each(|(value, above)| *value -= part * above);
            }
        }
    }
    let mut x = vec![0.0; n];
    for row in (0..n).rev() {
        let known: f64 = (row + 1..n)
            .map(|column| rows[row][column] * x[column])
            .sum();
        x[row] = (rows[row][n] - known) / rows[row][row];
    }
    x.iter().all(|value| value.is_finite()).then_some(x)
}

/// Equations of least squares, gathered one by one.
pub(super) struct LeastSquares {
    rows: Vec<Vec<f64>>,
}

impl LeastSquares {
    pub(super) fn of(unknowns: usize) -> LeastSquares {
        let rows = vec![vec![0.0; unknowns + 1]; unknowns];
        LeastSquares { rows }
    }

    /// An equation: factors times unknowns is the value.
    pub(super) fn add(&mut self, factors: &[f64], value: f64) {
        let n = factors.len();
        for (row, factor) in self
            .rows
            .iter_mut()
            .zip(factors)
            .filter(|(_, factor)| **factor != 0.0)
        {
            row.iter_mut()
                .zip(factors)
                .for_each(|(sum, other)| *sum += factor * other);
            row[n] += factor * value;
        }
    }

    /// The inverse of the matrix of the equations: times the variance of a value, the covariance of the unknowns.
    pub(super) fn inverse(&self) -> Option<Vec<Vec<f64>>> {
        let columns = (0..self.rows.len()).map(|column| {
            let mut rows = self.rows.clone();
            for (n, row) in rows.iter_mut().enumerate() {
                if let Some(value) = row.last_mut() {
                    *value = f64::from(u8::from(n == column));
                }
            }
            solved(rows)
        });
        columns.collect()
    }

    pub(super) fn solved(self) -> Option<Vec<f64>> {
        solved(self.rows)
    }
}
