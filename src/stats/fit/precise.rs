//! Sums of products as if computed with twice the digits.

/// The sum of `start` and all products, rounded once at the end in all but freak cases.
///
/// Ogita, Rump and Oishi (2005), SIAM Journal on Scientific Computing 26, 1955-1988, algorithm Dot2.
pub(super) fn dot(start: f64, products: impl Iterator<Item = (f64, f64)>) -> f64 {
    let (mut sum, mut rest) = (start, 0.0);
    for (a, b) in products {
        let product = a * b;
        let product_error = a.mul_add(b, -product);
        let next = sum + product;
        let shadow = next - sum;
        rest += (sum - (next - shadow)) + (product - shadow) + product_error;
        sum = next;
    }
    sum + rest
}

#[cfg(test)]
mod tests {
    use super::dot;

    #[test]
    fn digits_that_cancel_are_kept() {
        let products = [(1e16, 1.0), (3.0, 1.0), (-1e8, 1e8), (1e-3, 1.0)];
        assert!((dot(0.0, products.into_iter()) - 3.001).abs() < 1e-15);
        let third = 1.0 / 3.0;
        let error = dot(-1.0, [(third, 3.0)].into_iter());
        assert!((error + 2.0_f64.powi(-54)).abs() < 1e-30, "{error:e}");
    }
}
