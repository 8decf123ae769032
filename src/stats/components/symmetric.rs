//! Small symmetric matrices by rows: products, and the axes of an ellipsoid.

/// A square matrix by rows.
pub(super) type Matrix = Vec<Vec<f64>>;

/// A square matrix of zeros.
pub(super) fn zeros(size: usize) -> Matrix {
    vec![vec![0.0; size]; size]
}

/// Adds `weight` times the product of a vector with itself.
pub(super) fn add_square(sum: &mut [Vec<f64>], weight: f64, vector: &[f64]) {
    for (row, one) in sum.iter_mut().zip(vector) {
        row.iter_mut().zip(vector).for_each(|(entry, other)| *entry += weight * one * other);
    }
}

/// The product of two matrices.
pub(super) fn product(one: &Matrix, other: &Matrix) -> Matrix {
    let entry = |row: &Vec<f64>, at: usize| row.iter().zip(other).map(|(value, row)| value * row[at]).sum();
    one.iter().map(|row| (0..other.len()).map(|at| entry(row, at)).collect()).collect()
}

/// The sum over the diagonal of the product of two symmetric matrices.
pub(super) fn trace_of_product(one: &[Vec<f64>], other: &[Vec<f64>]) -> f64 {
    one.iter().flatten().zip(other.iter().flatten()).map(|(a, b)| a * b).sum()
}

/// `one`' M `other`.
pub(super) fn between(one: &[f64], matrix: &[Vec<f64>], other: &[f64]) -> f64 {
    let along = |row: &Vec<f64>| row.iter().zip(other).map(|(a, b)| a * b).sum::<f64>();
    one.iter().zip(matrix).map(|(value, row)| value * along(row)).sum()
}

/// Eigenvalues of a symmetric matrix with their vectors, by Jacobi's rotations (Golub and Van Loan
/// 2013, Matrix Computations, 8.5).
pub(super) fn axes(matrix: &Matrix) -> Vec<(f64, Vec<f64>)> {
    const SWEEPS: usize = 60;
    let size = matrix.len();
    let mut turned = matrix.clone();
    let mut vectors = zeros(size);
    (0..size).for_each(|at| vectors[at][at] = 1.0);
    for _ in 0..SWEEPS {
        for (p, q) in (0..size).flat_map(|p| (p + 1..size).map(move |q| (p, q))) {
            if turned[p][q] != 0.0 {
                rotate(&mut turned, &mut vectors, p, q);
            }
        }
    }
    (0..size).map(|at| (turned[at][at], vectors[at].clone())).collect()
}

/// One rotation that clears the entry at `p` and `q`; `vectors` are kept as rows.
fn rotate(matrix: &mut Matrix, vectors: &mut Matrix, p: usize, q: usize) {
    let half = (matrix[q][q] - matrix[p][p]) / (2.0 * matrix[p][q]);
    let tangent = half.signum() / (half.abs() + half.hypot(1.0));
    let cosine = 1.0 / tangent.hypot(1.0);
    let sine = tangent * cosine;
    let turn = |one: f64, other: f64| (cosine * one - sine * other, sine * one + cosine * other);
    for row in matrix.iter_mut() {
        (row[p], row[q]) = turn(row[p], row[q]);
    }
    for rows in [matrix, vectors] {
        let (upper, lower) = rows.split_at_mut(q);
        for (one, other) in upper[p].iter_mut().zip(&mut lower[0]) {
            (*one, *other) = turn(*one, *other);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_axes_put_the_matrix_together_again() {
        let matrix = vec![vec![4.0, 1.0, 0.5], vec![1.0, 3.0, -1.0], vec![0.5, -1.0, 2.0]];
        let mut again = zeros(3);
        for (value, vector) in axes(&matrix) {
            add_square(&mut again, value, &vector);
            assert!((vector.iter().map(|v| v * v).sum::<f64>() - 1.0).abs() < 1e-14);
        }
        for (found, expected) in again.iter().flatten().zip(matrix.iter().flatten()) {
            assert!((found - expected).abs() < 1e-14, "{found} and not {expected}");
        }
        assert_eq!(trace_of_product(&matrix, &again).to_bits(), trace_of_product(&again, &matrix).to_bits());
    }

    #[test]
    fn products_of_matrices_and_vectors() {
        let matrix = vec![vec![1.0, 2.0], vec![2.0, 5.0]];
        assert_eq!(product(&matrix, &matrix), [[5.0, 12.0], [12.0, 29.0]]);
        let along = between(&[1.0, 0.0], &matrix, &[3.0, 1.0]);
        assert_eq!((trace_of_product(&matrix, &matrix), along), (34.0, 5.0));
    }
}
