//! How much each member of an ensemble counts.

use crate::math;

/// Error of model and probe together, as the standard deviation of an averaged reading.
const SIGMA_K: f64 = 0.8;

/// The weights are evened out until this many members count.
const FEWEST_EFFECTIVE: f64 = 60.0;

/// Weights of the members.
#[derive(Clone, Debug)]
pub(super) struct Weights {
    each: Vec<f64>,
    sum: f64,
    squares: f64,
    tempered: bool,
}

impl Weights {
    /// From the sum of squared distances of each member, K².
    pub(super) fn of(misfit: &[f64]) -> Self {
        let least = misfit.iter().copied().fold(f64::INFINITY, f64::min);
        let at = |exponent: f64| {
            let each: Vec<f64> = misfit
                .iter()
                .map(|&sum| math::exp(-exponent * (sum - least) / (2.0 * SIGMA_K * SIGMA_K)))
                .collect();
            let sum = each.iter().sum();
            let squares = each.iter().map(|weight| weight * weight).sum();
            Self {
                each,
                sum,
                squares,
                tempered: exponent < 1.0,
            }
        };
        let full = at(1.0);
        if full.effective() >= FEWEST_EFFECTIVE {
            return full;
        }
        // Halve the exponent until enough members count, then close in on the largest exponent that does.
        let (mut enough, mut too_much) = (0.5, 1.0);
        let mut best = at(enough);
        while best.effective() < FEWEST_EFFECTIVE && enough > f64::MIN_POSITIVE {
            too_much = enough;
            enough *= 0.5;
            best = at(enough);
        }
        for _ in 0..5 {
            let middle = 0.5 * (enough + too_much);
            let tried = at(middle);
            if tried.effective() >= FEWEST_EFFECTIVE {
                enough = middle;
                best = tried;
            } else {
                too_much = middle;
            }
        }
        best
    }

    fn effective(&self) -> f64 {
        self.sum * self.sum / self.squares
    }

    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "between 1 and the number of members"
    )]
    pub(super) fn effective_members(&self) -> u32 {
        self.effective().round() as u32
    }

    /// Whether the exponents were scaled down.
    pub(super) fn tempered(&self) -> bool {
        self.tempered
    }

    /// Every member alike.
    pub(super) fn even(members: usize) -> Self {
        Self::of(&vec![0.0; members])
    }

    pub(super) fn each(&self) -> &[f64] {
        &self.each
    }

    pub(super) fn sum(&self) -> f64 {
        self.sum
    }

    /// The value below which this share of the weight lies; `rising` is the order of the values.
    pub(super) fn quantile(&self, rising: &[u32], values: &[f64], share: f64) -> f64 {
        let mut left = share * self.sum;
        for &member in rising {
            left -= self.each[member as usize];
            if left <= 0.0 {
                return values[member as usize];
            }
        }
        f64::INFINITY
    }

    /// The weighted mean.
    pub(super) fn mean_of(&self, values: &[f64]) -> f64 {
        let sum: f64 = self.each.iter().zip(values).map(|(w, v)| w * v).sum();
        sum / self.sum
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Equal distances count alike; the quantiles of 1 to 100 are then 10, 50 and 90.
    #[test]
    fn equal_members_count_alike() {
        let weights = Weights::of(&[2.5; 100]);
        assert_eq!(weights.effective_members(), 100);
        assert!(!weights.tempered());
        let rising: Vec<u32> = (0..100).collect();
        let values: Vec<f64> = (1..=100).map(f64::from).collect();
        for (share, expected) in [(0.1, 10.0), (0.5, 50.0), (0.9, 90.0)] {
            let got = weights.quantile(&rising, &values, share);
            assert!((got - expected).abs() <= 1.0, "{share}: {got}");
        }
        assert!((weights.mean_of(&values) - 50.5).abs() < 1e-9);
    }

    /// Two groups, 1.6 K apart: exp(−1.6²/(2·0.8²)) = e⁻² = 0.135335.
    #[test]
    fn distance_lowers_the_weight() {
        let mut misfit = vec![0.0; 100];
        misfit.extend([1.6 * 1.6; 100]);
        let weights = Weights::of(&misfit);
        let far: f64 = weights.each[100..].iter().sum::<f64>() / 100.0;
        assert!((far - 0.135_335).abs() < 1e-6);
        assert!(!weights.tempered());
    }

    /// A lone best member cannot have it all.
    #[test]
    fn sixty_members_count_at_least() {
        let misfit: Vec<f64> = (0..1000).map(|n| f64::from(n * n)).collect();
        let weights = Weights::of(&misfit);
        assert!(weights.tempered());
        assert!((60..=70).contains(&weights.effective_members()));
        let apart: Vec<f64> = (0..200).map(|n| f64::from(n) * 1e6).collect();
        assert!(Weights::of(&apart).effective_members() >= 60);
    }
}
