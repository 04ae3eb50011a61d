//! The one door to transcendental functions.
//!
//! Rust's `f64` methods call the platform's library, whose last bits differ between machines. These call
//! [`libm`], which is the same code everywhere, so the same input gives the same bytes out.

mod exp;
mod wide;

pub(crate) use exp::{NEAR, exp_near, exp_within};
pub(crate) use wide::{Numbers, Table, Wide};

/// e to the power `x`.
#[must_use]
pub(crate) fn exp(x: f64) -> f64 {
    libm::exp(x)
}

/// Natural logarithm of `x`.
#[must_use]
pub(crate) fn ln(x: f64) -> f64 {
    libm::log(x)
}

/// Cube root of `x`.
#[must_use]
pub(crate) fn cbrt(x: f64) -> f64 {
    libm::cbrt(x)
}

/// `x` to the power `y`.
#[must_use]
pub(crate) fn pow(x: f64, y: f64) -> f64 {
    libm::pow(x, y)
}

/// ln(1 + `x`), exact for small `x`.
#[must_use]
pub(crate) fn ln_1p(x: f64) -> f64 {
    libm::log1p(x)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn known_values_are_reproduced() {
        assert_eq!(exp(0.0), 1.0);
        assert_eq!(pow(2.0, 10.0), 1024.0);
        assert_eq!(ln(1.0), 0.0);
        assert_eq!(ln_1p(0.0), 0.0);
        assert_eq!(cbrt(27.0), 3.0);
    }
}
