//! Linear systems in which each unknown meets only its neighbours.

/// Rows `−lower_i x_(i−1) + diagonal_i x_i − upper_i x_(i+1) = right_i`.
///
/// `lower` of the first row and `upper` of the last are nothing. The solver's rows have a diagonal larger than what
/// stands beside it in the same column, so that no pivoting is needed.
#[derive(Clone, Debug)]
pub(super) struct Tridiagonal {
    pub(super) lower: Vec<f64>,
    pub(super) diagonal: Vec<f64>,
    pub(super) upper: Vec<f64>,
    /// The right-hand side, and the solution once solved.
    pub(super) right: Vec<f64>,
}

impl Tridiagonal {
    pub(super) fn new(rows: usize) -> Self {
        Self {
            lower: vec![0.0; rows],
            diagonal: vec![0.0; rows],
            upper: vec![0.0; rows],
            right: vec![0.0; rows],
        }
    }

    /// Eliminates from both ends at once and substitutes back from the middle: the two chains of divisions do not wait
    /// for each other, which halves the time.
    pub(super) fn solve(&mut self) {
        let rows = self.right.len();
        let (lower, diagonal) = (&mut self.lower[..rows], &self.diagonal[..rows]);
        let (upper, right) = (&mut self.upper[..rows], &mut self.right[..rows]);
        let middle = rows / 2;
        let (mut above, mut first) = (0.0, 0.0);
        let (mut below, mut second) = (0.0, 0.0);
        for top in 0..middle {
            let inverse = 1.0 / (diagonal[top] - lower[top] * above);
            above = upper[top] * inverse;
            first = (right[top] + lower[top] * first) * inverse;
            upper[top] = above;
            right[top] = first;
            let bottom = rows - 1 - top;
            if bottom > middle {
                let inverse = 1.0 / (diagonal[bottom] - upper[bottom] * below);
                below = lower[bottom] * inverse;
                second = (right[bottom] + upper[bottom] * second) * inverse;
                lower[bottom] = below;
                right[bottom] = second;
            }
        }
        let rest = diagonal[middle] - lower[middle] * above - upper[middle] * below;
        let joint = (right[middle] + lower[middle] * first + upper[middle] * second) / rest;
        right[middle] = joint;
        let (mut inward, mut outward) = (joint, joint);
        for away in 1..=middle {
            let top = middle - away;
            inward = right[top] + upper[top] * inward;
            right[top] = inward;
            let bottom = middle + away;
            if bottom < rows {
                outward = right[bottom] + lower[bottom] * outward;
                right[bottom] = outward;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The solution put back into the rows gives the right-hand side, for odd and even numbers of rows.
    #[test]
    fn solutions_satisfy_their_rows() {
        for rows in [3, 4, 5, 30, 31] {
            let mut system = Tridiagonal::new(rows);
            for row in 0..rows {
                let x = row as f64;
                system.lower[row] = if row > 0 { 1.0 + 0.1 * x } else { 0.0 };
                system.upper[row] = if row + 1 < rows { 2.0 - 0.05 * x } else { 0.0 };
                system.diagonal[row] = 5.0 + 0.2 * x;
                system.right[row] = 1.0 - 0.3 * x * x;
            }
            let given = system.clone();
            system.solve();
            let x = |row: usize| system.right.get(row).copied().unwrap_or(0.0);
            for row in 0..rows {
                let left = given.diagonal[row] * x(row)
                    - given.lower[row] * x(row.wrapping_sub(1))
                    - given.upper[row] * x(row + 1);
                assert!((left - given.right[row]).abs() < 1e-9, "{rows} {row}");
            }
        }
    }
}
