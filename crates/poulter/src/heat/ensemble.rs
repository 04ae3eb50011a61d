//! Many roasts that could be the true one, each computed once.

use rayon::prelude::*;

use crate::error::Error;

use super::body::Mesh;
use super::curve::{Stretch, Zone};
use super::limits::Flesh;
use super::oven::stretches_of;
use super::parameters as p;
use super::prior::{Member, Spot, draw};
use super::roast::RoastSimulationQuery;
use super::solver::Body;
use super::weights::Weights;

const NODES: usize = 21;
const STEP_S: f64 = 150.0;

/// Spacing of the members' curves, and length of the stretch over which readings are averaged.
pub(super) const EVERY_S: f64 = 300.0;

/// Members are followed for this many times the usual roast's time.
const HORIZON: f64 = 3.0;

/// A member is followed no further once its probe is this far above the target.
const BEYOND_K: f64 = 10.0;

/// Width of a class when temperatures are counted, K.
const CLASS_K: f64 = 0.1;

/// The members' curves at one place.
#[derive(Clone, Debug)]
pub(super) struct PlaceRuns {
    members: usize,
    /// Probe temperatures, °C, all members at one time after those at the time before.
    probe: Vec<f32>,
    /// When each member's centre is at the target, s; infinite when never.
    pub(super) done: Finish,
}

/// Times of all members with the order in which they come.
#[derive(Clone, Debug)]
pub(super) struct Finish {
    pub(super) seconds: Vec<f64>,
    rising: Vec<u32>,
}

impl Finish {
    fn new(seconds: Vec<f64>) -> Self {
        let mut rising: Vec<u32> = (0..).take(seconds.len()).collect();
        rising.sort_by(|&a, &b| seconds[a as usize].total_cmp(&seconds[b as usize]));
        Self { seconds, rising }
    }

    /// The later of the two for every member.
    pub(super) fn later(&self, other: &Self) -> Self {
        let pairs = self.seconds.iter().zip(&other.seconds);
        Self::new(pairs.map(|(a, b)| a.max(*b)).collect())
    }

    /// The 10th, 50th and 90th percentile.
    pub(super) fn quantiles(&self, weights: &Weights) -> [f64; 3] {
        [0.1, 0.5, 0.9].map(|share| weights.quantile(&self.rising, &self.seconds, share))
    }
}

/// The ensemble at the places with a probe.
#[derive(Clone, Debug)]
pub(super) struct Ensemble {
    pub(super) members: usize,
    pub(super) horizon_s: f64,
    pub(super) places: Vec<PlaceRuns>,
}

impl Ensemble {
    /// Draws and follows `members` roasts at places of these lengths.
    pub(super) fn new(
        roast: &RoastSimulationQuery,
        places: &[(Zone, f64)],
        seed: u64,
        members: usize,
    ) -> Result<Self, Error> {
        let stretches = stretches_of(roast)?;
        let whole: f64 = stretches.iter().map(|stretch| stretch.seconds).sum();
        let mut horizon_s: f64 = 0.0;
        for &(_, length) in places {
            let usual = follow(roast, length, &stretches, &USUAL, Spot::CENTRE, whole)?.done_s;
            horizon_s = horizon_s.max(HORIZON * usual);
        }
        // Whole rows, so that every row of the curves is five minutes after the one before.
        let horizon_s = EVERY_S * (horizon_s.min(whole) / EVERY_S).floor().max(1.0);
        let drawn = draw(seed, members);
        let places = places
            .iter()
            .map(|&(zone, length)| {
                let runs = drawn
                    .par_iter()
                    .map(|member| {
                        let spot = member.spot(zone);
                        follow(roast, length, &stretches, member, spot, horizon_s)
                    })
                    .collect::<Result<Vec<_>, _>>()?;
                Ok(PlaceRuns::new(&runs))
            })
            .collect::<Result<Vec<_>, Error>>()?;
        Ok(Self {
            members,
            horizon_s,
            places,
        })
    }
}

impl PlaceRuns {
    fn new(runs: &[Run]) -> Self {
        let rows = runs.iter().map(|run| run.probe.len()).max().unwrap_or(0);
        let mut probe = Vec::with_capacity(rows * runs.len());
        for row in 0..rows {
            probe.extend(
                runs.iter()
                    .map(|run| run.probe[row.min(run.probe.len() - 1)]),
            );
        }
        Self {
            members: runs.len(),
            probe,
            done: Finish::new(runs.iter().map(|run| run.done_s).collect()),
        }
    }

    /// All members at a time, °C, on straight lines between rows.
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "the row is a small whole number and is clamped to those there are"
    )]
    pub(super) fn at(&self, elapsed_s: f64) -> impl Iterator<Item = f64> + '_ {
        let last = self.probe.len() / self.members - 1;
        let row = ((elapsed_s / EVERY_S) as usize).min(last);
        let part = (elapsed_s / EVERY_S - row as f64).min(1.0);
        let before = &self.probe[row * self.members..][..self.members];
        let after = &self.probe[(row + 1).min(last) * self.members..][..self.members];
        before.iter().zip(after).map(move |(&before, &after)| {
            let (before, after) = (f64::from(before), f64::from(after));
            before + part * (after - before)
        })
    }

    /// Adds the squared distance of every member from a reading.
    pub(super) fn add_misfit(&self, elapsed_s: f64, celsius: f64, misfit: &mut [f64]) {
        for (sum, member) in misfit.iter_mut().zip(self.at(elapsed_s)) {
            let distance = member - celsius;
            *sum += distance * distance;
        }
    }

    /// The hottest member at a time.
    pub(super) fn hottest(&self, elapsed_s: f64) -> f64 {
        self.at(elapsed_s).fold(f64::NEG_INFINITY, f64::max)
    }

    /// How far any member rises from one time to the other.
    pub(super) fn steepest_rise(&self, from_s: f64, to_s: f64) -> f64 {
        let pairs = self.at(from_s).zip(self.at(to_s));
        pairs.fold(0.0, |most, (before, after)| most.max(after - before))
    }

    /// How far one member rises from one time to the other.
    pub(super) fn rise_of(&self, member: usize, from_s: f64, to_s: f64) -> f64 {
        let at = |elapsed_s| self.at(elapsed_s).nth(member).unwrap_or(f64::NAN);
        at(to_s) - at(from_s)
    }

    /// The 10th, 50th and 90th percentile of the temperature at a time, to a tenth of a degree.
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "the class is a small whole number and is clamped to those there are"
    )]
    pub(super) fn quantiles_at(&self, elapsed_s: f64, weights: &Weights) -> [f64; 3] {
        const LOWEST: f64 = -40.0;
        let mut classes = vec![0.0; 2400];
        let last = classes.len() - 1;
        for (weight, celsius) in weights.each().iter().zip(self.at(elapsed_s)) {
            classes[(((celsius - LOWEST) / CLASS_K) as usize).min(last)] += weight;
        }
        [0.1, 0.5, 0.9].map(|share| {
            let mut left = share * weights.sum();
            let class = classes.iter().position(|weight| {
                left -= weight;
                left <= 0.0
            });
            LOWEST + CLASS_K * (class.unwrap_or(last) as f64 + 0.5)
        })
    }

    /// Above this the curves are cut off.
    pub(super) fn end_of_curves(target_degc: f64) -> f64 {
        target_degc + BEYOND_K
    }
}

/// The roast as the parameters have it.
const USUAL: Member = Member {
    length: 1.0,
    convection: 1.0,
    skin: p::SKIN_W_M2_K,
    oven_k: 0.0,
    dimension: p::DIMENSION,
    spots: [Spot::CENTRE; 3],
};

/// One member's roast at one place.
struct Run {
    probe: Vec<f32>,
    done_s: f64,
}

#[allow(
    clippy::cast_possible_truncation,
    reason = "a temperature keeps seven digits in 32 bits, which halves the memory an update reads"
)]
fn follow(
    roast: &RoastSimulationQuery,
    length: f64,
    stretches: &[Stretch],
    member: &Member,
    spot: Spot,
    horizon_s: f64,
) -> Result<Run, Error> {
    let target = roast.target.as_celsius();
    let radius = member.length * spot.length * Mesh::radius_m(roast.mass.as_kilograms(), length);
    let mesh = Mesh::new(NODES, radius, member.dimension);
    let mut body = Body::new(
        Flesh::of(roast.species)?.material(),
        mesh,
        roast.start.as_celsius(),
    );
    let mut run = Run {
        probe: vec![body.at_degc(spot.depth) as f32],
        done_s: f64::INFINITY,
    };
    let (mut stretch, mut left_in_stretch) = (0, stretches[0].seconds);
    let mut elapsed = 0.0;
    let mut before = body.core_degc();
    while elapsed < horizon_s {
        let mut left = EVERY_S.min(horizon_s - elapsed);
        let row_s = left;
        while left > 0.0 {
            while left_in_stretch <= 0.0 && stretch + 1 < stretches.len() {
                stretch += 1;
                left_in_stretch = stretches[stretch].seconds;
                body.enter(stretches[stretch].jump);
            }
            let step = if left_in_stretch > 0.0 {
                left.min(left_in_stretch).min(STEP_S)
            } else {
                left.min(STEP_S)
            };
            let mut around = stretches[stretch].around;
            around.air_degc += member.oven_k;
            around.walls_degc += member.oven_k;
            around.convection *= member.convection;
            around.skin *= member.skin / p::SKIN_W_M2_K;
            body.advance(&around, step)?;
            left -= step;
            left_in_stretch -= step;
        }
        let core = body.core_degc();
        if before < target && core >= target {
            run.done_s = elapsed + row_s * (target - before) / (core - before);
        }
        before = core;
        elapsed += row_s;
        let probe = body.at_degc(spot.depth);
        run.probe.push(probe as f32);
        if run.done_s.is_finite() && probe >= target + BEYOND_K {
            break;
        }
    }
    Ok(run)
}

/// A roast of the ensemble's kind that is not in it, as a truth to be forecast.
#[cfg(test)]
pub(super) struct Truth {
    pub(super) done_s: f64,
    probe: Vec<f32>,
}

#[cfg(test)]
impl Truth {
    pub(super) fn new(roast: &RoastSimulationQuery, zone: Zone, member: &Member) -> Self {
        let length = super::roast::zones_of(roast)
            .iter()
            .find(|(known, _)| *known == zone)
            .unwrap()
            .1;
        let stretches = stretches_of(roast).unwrap();
        let spot = member.spot(zone);
        let run = follow(roast, length, &stretches, member, spot, 12.0 * 3600.0).unwrap();
        Self {
            done_s: run.done_s,
            probe: run.probe,
        }
    }

    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "rows are small whole numbers"
    )]
    pub(super) fn probe_at(&self, elapsed_s: f64) -> f64 {
        let row = (elapsed_s / EVERY_S).floor();
        let last = self.probe.len() - 1;
        let [low, high] =
            [row, row + 1.0].map(|row| f64::from(self.probe[(row as usize).min(last)]));
        low + (elapsed_s / EVERY_S - row) * (high - low)
    }
}
