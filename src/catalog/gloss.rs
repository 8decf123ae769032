//! Gloss of a smooth surface from its index of refraction.

/// Gloss in GU, at an angle from the normal, of a smooth surface that lets no light out again: 100 times the share of
/// unpolarised light that it throws back, over that of black glass.
///
/// By the equations of Fresnel; black glass of index 1.567 has 100 GU at every angle (ISO 2813:2014, 3.3).
pub fn gloss_of_index(n: f64, angle_deg: f64) -> f64 {
    const BLACK_GLASS: f64 = 1.567;
    100.0 * thrown_back(n, angle_deg) / thrown_back(BLACK_GLASS, angle_deg)
}

/// The share of unpolarised light that is thrown back: the mean of both directions of polarisation.
fn thrown_back(n: f64, angle_deg: f64) -> f64 {
    let (sine, cosine) = angle_deg.to_radians().sin_cos();
    let inside = (n * n - sine * sine).sqrt();
    let across = (cosine - inside) / (cosine + inside);
    let along = (n * n * cosine - inside) / (n * n * cosine + inside);
    across.mul_add(across, along * along) / 2.0
}

#[cfg(test)]
mod tests {
    use super::thrown_back;

    #[test]
    fn straight_from_above_the_share_is_that_of_the_two_indices() {
        // ((n - 1) / (n + 1))^2, and 0.048788 for black glass.
        for n in [1.333, 1.5, 1.567, 1.8_f64] {
            let share = ((n - 1.0) / (n + 1.0)).powi(2);
            assert!((thrown_back(n, 0.0) - share).abs() < 1e-12, "{n}");
        }
        assert!((thrown_back(1.567, 0.0) - 0.048_788).abs() < 5e-7);
    }
}
