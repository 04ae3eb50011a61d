//! What could be true of a roast before a probe is read.

use crate::math;

use super::curve::Zone;
use super::parameters as p;

/// A source of numbers that look random and are the same on every machine: `SplitMix64` (Steele, Lea and Flood 2014).
#[derive(Clone, Debug)]
struct Numbers {
    state: u64,
}

impl Numbers {
    fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From 0 to just below 1.
    fn uniform(&mut self) -> f64 {
        (self.next() >> 11) as f64 / 9_007_199_254_740_992.0
    }

    /// Mean 0, standard deviation 1 (polar method of Marsaglia).
    fn normal(&mut self) -> f64 {
        loop {
            let (x, y) = (2.0 * self.uniform() - 1.0, 2.0 * self.uniform() - 1.0);
            let square = x * x + y * y;
            if square > 0.0 && square < 1.0 {
                return x * (-2.0 * math::ln(square) / square).sqrt();
            }
        }
    }
}

/// Spreads of the prior, all by judgement: a probe is read because the oven, the bird and the place are not known.
///
/// The length of a place has σ 0.12 in all: what the places of one bird share, and what each has for itself, so that
/// thigh over breast varies by the ± 9 % in which published rules for the two differ.
const LN_LENGTH: f64 = 0.10;
const LN_OWN_LENGTH: f64 = 0.066;
const LN_CONVECTION: f64 = 0.25;
const LN_SKIN: f64 = 0.4;
const OVEN_K: f64 = 8.0;
const DEPTH: f64 = 0.15;
const DIMENSION: (f64, f64) = (1.5, 3.0);

/// A probe no further out than this share of the radius.
const OUTERMOST: f64 = 0.9;

/// One roast that could be the true one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Member {
    /// Factor on the radius.
    pub(super) length: f64,
    /// Factor on the convection.
    pub(super) convection: f64,
    /// Vapour conductance of the skin, W/(m²·K).
    pub(super) skin: f64,
    /// Difference of the oven from its setting, K.
    pub(super) oven_k: f64,
    /// Dimension E of the shape.
    pub(super) dimension: f64,
    /// Breast, thigh and stuffing.
    pub(super) spots: [Spot; 3],
}

/// What one place of a bird has for itself.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spot {
    /// Factor on the radius.
    pub(super) length: f64,
    /// Where the probe sits, r/R.
    pub(super) depth: f64,
}

impl Spot {
    /// A probe in the very centre.
    pub(super) const CENTRE: Self = Self {
        length: 1.0,
        depth: 0.0,
    };
}

impl Member {
    pub(super) fn spot(&self, zone: Zone) -> Spot {
        match zone {
            Zone::Thigh => self.spots[1],
            Zone::Stuffing => self.spots[2],
            Zone::Breast | Zone::Centre | Zone::Surface => self.spots[0],
        }
    }
}

/// `count` roasts; the same for the same seed.
pub(super) fn draw(seed: u64, count: usize) -> Vec<Member> {
    let mut numbers = Numbers { state: seed };
    (0..count)
        .map(|_| Member {
            length: math::exp(LN_LENGTH * numbers.normal()),
            convection: math::exp(LN_CONVECTION * numbers.normal()),
            skin: p::SKIN_W_M2_K * math::exp(LN_SKIN * numbers.normal()),
            oven_k: OVEN_K * numbers.normal(),
            dimension: DIMENSION.0 + (DIMENSION.1 - DIMENSION.0) * numbers.uniform(),
            spots: std::array::from_fn(|_| Spot {
                length: math::exp(LN_OWN_LENGTH * numbers.normal()),
                depth: (DEPTH * numbers.normal()).abs().min(OUTERMOST),
            }),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// First outputs of `SplitMix64` from state 1234567, as published with the reference code in C.
    #[test]
    fn the_generator_is_splitmix() {
        let mut numbers = Numbers { state: 1_234_567 };
        assert_eq!(numbers.next(), 6_457_827_717_110_365_317);
        assert_eq!(numbers.next(), 3_203_168_211_198_807_973);
    }

    #[test]
    fn the_spreads_come_out() {
        let members = draw(1, 20_000);
        let moments = |of: fn(&Member) -> f64| {
            let mean = members.iter().map(of).sum::<f64>() / 20_000.0;
            let square = members
                .iter()
                .map(|m| (of(m) - mean) * (of(m) - mean))
                .sum::<f64>();
            (mean, (square / 20_000.0).sqrt())
        };
        let (mean, sigma) = moments(|m| math::ln(m.length));
        assert!(mean.abs() < 0.003 && (sigma / LN_LENGTH - 1.0).abs() < 0.03);
        // The length of one place: (0.10² + 0.066²)^½ = 0.12.
        let (_, sigma) = moments(|m| math::ln(m.length * m.spots[1].length));
        assert!((sigma / 0.12 - 1.0).abs() < 0.03);
        let (mean, sigma) = moments(|m| m.oven_k);
        assert!(mean.abs() < 0.2 && (sigma / OVEN_K - 1.0).abs() < 0.03);
        // A uniform spread of width 1.5 has mean 2.25 and σ 1.5/√12 = 0.433.
        let (mean, sigma) = moments(|m| m.dimension);
        assert!((mean - 2.25).abs() < 0.02 && (sigma - 0.433).abs() < 0.01);
    }
}
