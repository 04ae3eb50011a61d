//! The cardinal rate added up along many readings, in blocks that the compiler vectorises.
//!
//! The rate is a cubic over a straight line, so its mean along a segment has a closed form. With s = T − T₀, T₀ the
//! pole of the rate, µ = k [s² − (h + 2l) s + (l² + 2hl) − h l²/s], where h and l are Tmax and Tmin less T₀. Over a
//! segment with middle m and half width d the mean of s² is m² + d²/3 and that of 1/s is atanh(w)/(w m), w = d/m.
//! Nothing cancels, however short the segment.

use pulp::{Arch, Simd, WithSimd};

use super::rate::{CardinalRate, celsius, celsius_of_steps};

/// Segments in a block.
const BLOCK: usize = 64;
const LANES: usize = 8;

/// Largest |w| for which [`atanh_over`] may be used.
const SMALL_W: f64 = 0.1;

/// The mean of a cardinal rate along a short segment between Tmin and Tmax.
#[derive(Clone, Copy)]
struct MeanRate {
    lowest: f64,
    highest: f64,
    pole: f64,
    scale: f64,
    linear: f64,
    constant: f64,
    inverse: f64,
}

/// atanh(w)/w for |w| ≤ 0.1 from its series; what is left out is below 10⁻¹⁷.
#[inline(always)]
#[allow(clippy::inline_always)] // the caller's loop is only vectorised when this is inside it
fn atanh_over(w: f64) -> f64 {
    let w2 = w * w;
    let w4 = w2 * w2;
    let low = (1.0 + w2 * (1.0 / 3.0)) + (1.0 / 5.0 + w2 * (1.0 / 7.0)) * w4;
    let high = (1.0 / 9.0 + w2 * (1.0 / 11.0)) + (1.0 / 13.0 + w2 * (1.0 / 15.0)) * w4;
    low + high * (w4 * w4)
}

impl MeanRate {
    /// Nothing where the pole lies so far off that the terms would cancel.
    fn of(rate: &CardinalRate) -> Option<Self> {
        let (low, best, high) = (
            celsius(rate.lowest),
            celsius(rate.best),
            celsius(rate.highest),
        );
        let (above, below) = (best - low, best - high);
        let gradient = above + 2.0 * below;
        if gradient.abs() < 0.25 * above {
            return None;
        }
        let pole = (above * best + below * (best + low)) / gradient;
        let (h, l) = (high - pole, low - pole);
        Some(Self {
            lowest: low,
            highest: high,
            pole,
            scale: rate.best_rate_per_h / (above * gradient),
            linear: h + 2.0 * l,
            constant: l * l + 2.0 * h * l,
            inverse: h * l * l,
        })
    }

    #[inline(always)]
    #[allow(clippy::inline_always)] // the caller's loop is only vectorised when this is inside it
    fn mean(&self, from: f64, to: f64) -> (f64, f64) {
        let m = 0.5 * (from + to) - self.pole;
        let d = 0.5 * (to - from);
        let one_over = 1.0 / m;
        let w = d * one_over;
        let squares = m * m + d * d * (1.0 / 3.0);
        let sum = squares - self.linear * m + self.constant;
        let mean = self.scale * (sum - self.inverse * (one_over * atanh_over(w)));
        // Rounding may leave a rate just inside the ends below nought.
        (if mean > 0.0 { mean } else { 0.0 }, w)
    }
}

struct Pass<'a> {
    rate: &'a CardinalRate,
    mean: MeanRate,
    clock: &'a [f64],
    steps: &'a [f64],
}

impl WithSimd for Pass<'_> {
    type Output = f64;

    #[inline(always)]
    #[allow(clippy::inline_always)] // compiled once for each instruction set
    fn with_simd<S: Simd>(self, _: S) -> f64 {
        let count = self.clock.len().min(self.steps.len());
        let (mut t, mut x) = ([0.0; BLOCK + 1], [0.0; BLOCK + 1]);
        let mut lanes = [0.0; LANES];
        let mut next = 0;
        while next + 1 < count {
            let held = BLOCK.min(count - 1 - next);
            t[..=held].copy_from_slice(&self.clock[next..=next + held]);
            x[..=held].copy_from_slice(&self.steps[next..=next + held]);
            // A short last block is filled up with its last reading, which adds nothing.
            for i in held + 1..=BLOCK {
                t[i] = t[held];
                x[i] = x[held];
            }
            self.block(&t, &mut x, &mut lanes);
            next += held;
        }
        let [a, b, c, d, e, f, g, h] = lanes;
        ((a + b) + (c + d)) + ((e + f) + (g + h))
    }
}

impl Pass<'_> {
    /// Adds rate times milliseconds of one block.
    #[inline(always)]
    #[allow(clippy::inline_always)] // compiled once for each instruction set
    fn block(&self, t: &[f64; BLOCK + 1], x: &mut [f64; BLOCK + 1], lanes: &mut [f64; LANES]) {
        for value in x.iter_mut() {
            *value = celsius_of_steps(*value);
        }
        let ([t0 @ .., _], [_, t1 @ ..]) = (t, t);
        let [x0 @ .., _] = &*x;
        let [_, x1 @ ..] = &*x;
        let mut part = [0.0; BLOCK];
        let mut rough = 0_u64;
        let mut grows = 0_u64;
        for i in 0..BLOCK {
            let (mean, w) = self.mean.mean(x0[i], x1[i]);
            part[i] = mean * (t1[i] - t0[i]);
            let inside = x0[i] >= self.mean.lowest
                && x1[i] >= self.mean.lowest
                && x0[i] <= self.mean.highest
                && x1[i] <= self.mean.highest;
            let outside = (x0[i] <= self.mean.lowest && x1[i] <= self.mean.lowest)
                || (x0[i] >= self.mean.highest && x1[i] >= self.mean.highest);
            rough |= u64::from(!inside) | u64::from(w.abs() > SMALL_W);
            grows |= u64::from(!outside);
        }
        if grows == 0 {
            return;
        }
        if rough != 0 {
            for i in 0..BLOCK {
                part[i] = self.rate.integral(t1[i] - t0[i], x0[i], x1[i]);
            }
        }
        for part in part.chunks_exact(LANES) {
            for (lane, value) in lanes.iter_mut().zip(part) {
                *lane += *value;
            }
        }
    }
}

/// ∫ µ dt along readings in whole steps, in rate times milliseconds.
pub(super) fn integrate(rate: &CardinalRate, clock: &[f64], steps: &[f64]) -> f64 {
    if let Some(mean) = MeanRate::of(rate) {
        return Arch::new().dispatch(Pass {
            rate,
            mean,
            clock,
            steps,
        });
    }
    let segments = clock.windows(2).zip(steps.windows(2));
    segments
        .map(|(t, x)| rate.integral(t[1] - t[0], celsius_of_steps(x[0]), celsius_of_steps(x[1])))
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Temperature;

    fn rate(best: &str) -> CardinalRate {
        CardinalRate {
            lowest: Temperature::parse("8.8 °C").unwrap(),
            best: Temperature::parse(best).unwrap(),
            highest: Temperature::parse("51.5 °C").unwrap(),
            best_rate_per_h: 6.06,
        }
    }

    /// From 55 °C down to 5 °C in `rows` steps, and back.
    fn log(rows: u32) -> (Vec<f64>, Vec<f64>) {
        (0..=2 * rows)
            .map(|i| {
                let down = f64::from(i.min(2 * rows - i)) / f64::from(rows);
                let steps = ((55.0 - 50.0 * down + 273.15) * 9e3).round();
                (f64::from(i) * 10_000.0, steps)
            })
            .unzip()
    }

    #[test]
    fn the_closed_form_agrees_with_eight_gauss_points() {
        for best in ["46.4 °C", "40 °C", "37 °C", "32 °C"] {
            let rate = rate(best);
            for rows in [7, 64, 1000] {
                let (clock, steps) = log(rows);
                let gauss: f64 = clock
                    .windows(2)
                    .zip(steps.windows(2))
                    .map(|(t, x)| {
                        rate.integral(t[1] - t[0], celsius_of_steps(x[0]), celsius_of_steps(x[1]))
                    })
                    .sum();
                let ours = integrate(&rate, &clock, &steps);
                assert!(
                    (ours / gauss - 1.0).abs() < 1e-9,
                    "{best} {rows}: {ours} {gauss}"
                );
            }
        }
    }

    #[test]
    fn every_instruction_set_gives_the_same_bits() {
        let rate = rate("46.4 °C");
        let (clock, steps) = log(500);
        let pass = Pass {
            rate: &rate,
            mean: MeanRate::of(&rate).unwrap(),
            clock: &clock,
            steps: &steps,
        };
        let plain = pass.with_simd(pulp::Scalar::new());
        assert_eq!(plain.to_bits(), integrate(&rate, &clock, &steps).to_bits());
    }
}
