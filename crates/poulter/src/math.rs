//! The one door to transcendental functions.
//!
//! Rust's `f64` methods call the platform's library, whose last bits differ between machines. These call
//! [`libm`], which is the same code everywhere, so the same input gives the same bytes out.

/// e to the power `x`.
#[must_use]
pub(crate) fn exp(x: f64) -> f64 {
    libm::exp(x)
}

/// `x` to the power `y`.
#[must_use]
#[cfg(test)]
pub(crate) fn pow(x: f64, y: f64) -> f64 {
    libm::pow(x, y)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn known_values_are_reproduced() {
        assert_eq!(exp(0.0), 1.0);
        assert_eq!(pow(2.0, 10.0), 1024.0);
    }
}
