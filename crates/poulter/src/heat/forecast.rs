//! When a roast will be done, by what its probes have shown so far.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::bird::Composition;
use crate::error::{Error, ErrorKind};
use crate::units::{Duration, DurationUnit, Fraction, Temperature, TemperatureDifference};

use super::band::Band;
use super::coverage;
use super::curve::{Zone, to_duration};
use super::ensemble::{Ensemble, Finish, PlaceRuns};
use super::limits::{ROAST_LEAVES_OUT, ROAST_SOURCES, within};
use super::oven::stretches_of;
use super::roast::{RoastSimulationQuery, celsius, check, zones_of};
use super::watch::{OvenWatch, PlaceWatch, ProbeFinding, ProbePlace, ProbeTrouble, Trust};
use super::weights::Weights;

/// What a probe showed at one time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ProbeReading {
    /// Time since the roast went in.
    pub elapsed: Duration,
    /// The reading, −30 °C to 350 °C.
    pub temperature: Temperature,
}

impl ProbeReading {
    /// Reads a reading from a JSON object with `elapsed` and `temperature`.
    ///
    /// # Errors
    /// A field that is missing, unknown or of the wrong type, with its name.
    ///
    /// ```
    /// use poulter::heat::ProbeReading;
    /// let reading = ProbeReading::from_value(serde_json::json!({"elapsed": "90 min", "temperature": "98 °F"}))?;
    /// assert_eq!(reading.elapsed.as_hours(), 1.5);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    pub fn from_value(value: serde_json::Value) -> Result<Self, Error> {
        match value {
            serde_json::Value::Object(fields) => crate::evaluate::read(fields),
            other => Err(Error::new(
                ErrorKind::WrongType,
                other,
                "an object is needed",
            )),
        }
    }
}

/// A probe and what it has shown so far.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ProbeTrace {
    /// Where the probe is: a place that the roast has, the wing, or the oven.
    pub place: ProbePlace,
    /// Its readings in order of time.
    #[serde(default)]
    pub readings: Vec<ProbeReading>,
}

/// A roast to be forecast from its probes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ForecastQuery {
    /// The roast, thawed; its target is the temperature waited for.
    pub roast: RoastSimulationQuery,
    /// The probes, each place once, at least one of them in breast, thigh or stuffing.
    pub probes: Vec<ProbeTrace>,
    /// Chooses the ensemble; the same seed gives the same answers.
    #[serde(default)]
    pub seed: u64,
    /// Size of the ensemble, 200 to 10 000.
    #[serde(default = "usual_members")]
    pub members: u32,
}

const fn usual_members() -> u32 {
    3000
}

/// Why there is no time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum NoForecast {
    /// The oven seems to be off.
    OvenOff,
    /// One in ten of the likely roasts never gets there.
    NeverReached,
}

/// What a probe will show at one time ahead.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ReadingAhead {
    /// Time since the roast went in.
    pub elapsed: Duration,
    /// 10th percentile.
    pub low: Temperature,
    /// Median.
    pub likely: Temperature,
    /// 90th percentile.
    pub high: Temperature,
}

/// The forecast for one probe in the bird.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlaceForecast {
    /// The place.
    pub place: ProbePlace,
    /// Time from the start until its centre is at the target.
    pub time_to_target: Option<Band>,
    /// The last reading that counts.
    pub last_counted: Option<ProbeReading>,
    /// What the probe will show every quarter of an hour for the next two hours; none while readings are in doubt or
    /// the oven seems to be off, and none beyond the end of the members' curves.
    pub ahead: Vec<ReadingAhead>,
}

/// How often bands made at this point of a roast held the true time, of those that were made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BandCoverage {
    /// Share of the roast that was seen then.
    pub seen: Fraction,
    /// Share of the bands that held the true time.
    pub covered: Fraction,
    /// Number of synthetic roasts. Truth and ensemble share the model, so real roasts will be covered less often.
    pub roasts: u32,
}

/// When a roast will be done.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct TimeForecast {
    /// Time from the start until the centre of every place with a probe is at the target.
    pub time_to_target: Option<Band>,
    /// Why there is no time.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cannot_tell: Option<NoForecast>,
    /// Each place with a probe, in the order of the query.
    pub places: Vec<PlaceForecast>,
    /// What is wrong with the readings, in the order in which it was found.
    pub findings: Vec<ProbeFinding>,
    /// Time from the start to the last reading.
    pub seen: Duration,
    /// How many members still count, (Σw)²/Σw².
    pub effective_members: u32,
    /// True when the readings alone would leave fewer than 60 members, so that their weights were evened out.
    pub tempered: bool,
    /// How far the likely members lie from the readings, root mean square. Above 3 K the roast is unlike all of them, and
    /// the band is at least that of a roast without a probe.
    pub misfit: TemperatureDifference,
    /// How often such a band held the truth in a study; measured, not assumed.
    pub coverage: BandCoverage,
    /// What the model leaves out.
    pub leaves_out: &'static [&'static str],
    /// Where its numbers come from.
    pub sources: &'static [&'static str],
}

/// The band is this much wider than the ensemble's: truth and estimate shared one model when its coverage was counted.
const WIDENING: f64 = 1.3;

/// A misfit above this fits no member.
const UNLIKE_K: f64 = 3.0;

/// Times ahead at which readings are foretold.
const AHEAD_S: f64 = 900.0;
const MOST_AHEAD: u32 = 8;

const COLDEST_READING: Temperature = celsius(-30_000);
const HOTTEST_READING: Temperature = celsius(350_000);

/// An ensemble of roasts that is weighted by the readings of the probes.
///
/// Before the first reading, radius, convection, skin, oven, shape and the depth of each probe are drawn from wide
/// spreads, and each roast is computed once. Readings are averaged over five minutes; a member that lies `d` from an
/// average has its weight multiplied by `exp(−d²/(2σ²))`, σ = 0.8 K. When fewer than 60 members would count, all
/// exponents are scaled down until 60 do. The band runs from the 10th to the 90th percentile, widened by 1.3 about the
/// median.
///
/// A reading that leaps, falls in a hot oven, or is hotter than the hottest member is kept out with a [`ProbeFinding`];
/// until the probe is itself again the band is at least that of a roast without readings. A door that was open adds its
/// time to the slow end (it is seen with a probe in the oven only). Without heat there is no time at all. No finding
/// makes a forecast shorter.
///
/// How often the band held the truth stands in [`TimeForecast::coverage`]. No real probe trace was available.
///
/// ```
/// use poulter::heat::{Forecast, ForecastQuery, ProbePlace};
/// use poulter::units::{Duration, Temperature};
/// let query: ForecastQuery = serde_json::from_str(
///     r#"{"roast": {"species": "turkey", "mass": "12 lb", "start": "40 °F", "target": "165 °F",
///                   "oven": [{"temperature": "325 °F"}]},
///         "probes": [{"place": "breast"}], "members": 200}"#,
/// )?;
/// let mut forecast = Forecast::new(&query)?;
/// let before = forecast.time_to_target()?.time_to_target.unwrap();
/// forecast.push(ProbePlace::Breast, Duration::parse("60 min")?, Temperature::parse("66 °F")?)?;
/// forecast.push(ProbePlace::Breast, Duration::parse("90 min")?, Temperature::parse("98 °F")?)?;
/// let after = forecast.time_to_target()?.time_to_target.unwrap();
/// assert!(after.high.minus(after.low) < before.high.minus(before.low));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug)]
pub struct Forecast {
    ensemble: Ensemble,
    /// All places together.
    done: Finish,
    target_degc: f64,
    places: Vec<PlaceWatch>,
    oven: Option<OvenWatch>,
    findings: Vec<ProbeFinding>,
    /// Time without heat, which the slow end is later by.
    lost_s: f64,
    last_s: Option<f64>,
    /// Each probe with its last time; before every other time when there was none.
    last_of: Vec<(ProbePlace, f64)>,
}

impl Forecast {
    /// Draws and computes the ensemble, and adds the readings of the query.
    ///
    /// # Errors
    /// Those of [`simulate_roast`](super::simulate_roast), at `roast`; `unknown-value` for a place that the roast does
    /// not have; `conflict` for a place given twice or no probe in the bird; `model-range` for a frozen roast or a size
    /// out of range; those of [`push`](Self::push), at the reading.
    pub fn new(query: &ForecastQuery) -> Result<Self, Error> {
        check(&query.roast).map_err(|error| error.at("roast"))?;
        within("members", &query.members, &200, &10_000)?;
        let freezing = Composition::TURKEY.freezing_point();
        within("start", &query.roast.start, &freezing, &celsius(150_000))
            .map_err(|error| error.at("roast"))?;
        let stretches = stretches_of(&query.roast).map_err(|error| error.at("roast"))?;
        let zones = zones_with_probe(query)?;
        let members = query.members as usize;
        let ensemble = Ensemble::new(&query.roast, &zones, query.seed, members)?;
        let mut done = ensemble.places[0].done.clone();
        for place in &ensemble.places[1..] {
            done = done.later(&place.done);
        }
        let in_food = query
            .probes
            .iter()
            .filter(|probe| probe.place.zone().is_some());
        let oven = query
            .probes
            .iter()
            .any(|probe| probe.place == ProbePlace::Oven);
        let mut forecast = Self {
            done,
            target_degc: query.roast.target.as_celsius(),
            places: in_food
                .map(|probe| PlaceWatch::new(probe.place, members))
                .collect(),
            oven: oven.then(|| OvenWatch::new(&stretches)),
            findings: Vec::new(),
            lost_s: 0.0,
            last_s: None,
            last_of: query
                .probes
                .iter()
                .map(|probe| (probe.place, f64::NEG_INFINITY))
                .collect(),
            ensemble,
        };
        for (row, at, place) in in_order_of_time(&query.probes) {
            let reading = query.probes[at].readings[row];
            forecast
                .push(place, reading.elapsed, reading.temperature)
                .map_err(|error| error.at(&format!("probes[{at}].readings[{row}]")))?;
        }
        Ok(forecast)
    }

    /// Adds a reading of one probe.
    ///
    /// # Errors
    /// `unknown-value` for a place without a probe; `out-of-range` for a time that is not after the last one of the same
    /// probe; `model-range` for a reading outside −30 °C to 350 °C or a time beyond three times the usual length of the
    /// roast. The forecast is unchanged then.
    pub fn push(
        &mut self,
        place: ProbePlace,
        elapsed: Duration,
        reading: Temperature,
    ) -> Result<(), Error> {
        self.take(place, elapsed, reading).map(|_| ())
    }

    /// As [`push`](Self::push), and says what became of the reading.
    pub(super) fn take(
        &mut self,
        place: ProbePlace,
        elapsed: Duration,
        reading: Temperature,
    ) -> Result<Trust, Error> {
        within("temperature", &reading, &COLDEST_READING, &HOTTEST_READING)?;
        let elapsed_s = elapsed.as_seconds();
        let horizon = to_duration(self.ensemble.horizon_s)?;
        within("elapsed", &elapsed, &Duration::ZERO, &horizon)?;
        let Some(last) = self.last_of.iter().position(|(known, _)| *known == place) else {
            let expected = "a place that was given a probe is needed";
            return Err(Error::new(ErrorKind::UnknownValue, place.name(), expected).at("place"));
        };
        if elapsed_s <= self.last_of[last].1 {
            let expected = "a time after that of the last reading is needed";
            return Err(Error::new(ErrorKind::OutOfRange, elapsed, expected).at("elapsed"));
        }
        let at = self.places.iter().position(|known| known.place == place);
        let (trust, lost_s) = match (at, &mut self.oven) {
            (Some(at), _) => self.places[at].push(
                &self.ensemble.places[at],
                elapsed_s,
                reading,
                &mut self.findings,
            )?,
            (None, Some(oven)) if place == ProbePlace::Oven => (
                Trust::Counts,
                oven.push(elapsed_s, reading, &mut self.findings)?,
            ),
            (None, _) => (Trust::Counts, 0.0),
        };
        self.lost_s += lost_s;
        self.last_of[last].1 = elapsed_s;
        self.last_s = Some(self.last_s.map_or(elapsed_s, |last| last.max(elapsed_s)));
        Ok(trust)
    }

    /// The forecast from the readings so far.
    pub fn time_to_target(&self) -> Result<TimeForecast, Error> {
        let mut misfit = vec![0.0; self.ensemble.members];
        let mut averages = 0.0;
        for (watch, runs) in self.places.iter().zip(&self.ensemble.places) {
            averages += watch.add_misfit(runs, &mut misfit);
        }
        let weights = Weights::of(&misfit);
        let seen_s = self.last_s.unwrap_or(0.0);
        let rms = (weights.mean_of(&misfit) / f64::max(averages, 1.0)).sqrt();
        let unlike = rms > UNLIKE_K;
        let off = self.places.iter().any(PlaceWatch::without_heat)
            || self
                .oven
                .as_ref()
                .is_some_and(|oven| oven.without_heat(&self.findings));
        let in_doubt = unlike || self.places.iter().any(PlaceWatch::in_doubt);
        let lost_s = self.lost_s
            + self
                .oven
                .as_ref()
                .map_or(0.0, |oven| oven.open_for(seen_s, &self.findings));
        let band = |done: &Finish| {
            let mut ends = widened(done.quantiles(&weights));
            if in_doubt {
                let without = widened(done.quantiles(&Weights::even(misfit.len())));
                ends[0] = ends[0].min(without[0]);
                ends[2] = ends[2].max(without[2]);
            }
            ends[2] += lost_s;
            let [low, likely, high] = ends.map(|end| end.max(seen_s));
            high.is_finite().then(|| Band::spanning(low, likely, high))
        };
        let time_to_target = band(&self.done).filter(|_| !off);
        let cannot_tell = match time_to_target {
            Some(_) => None,
            None if off => Some(NoForecast::OvenOff),
            None => Some(NoForecast::NeverReached),
        };
        let places = self
            .places
            .iter()
            .zip(&self.ensemble.places)
            .map(|(watch, runs)| {
                Ok(PlaceForecast {
                    place: watch.place,
                    time_to_target: band(&runs.done).filter(|_| !off),
                    last_counted: watch.last_counted().map(reading_of).transpose()?,
                    ahead: if off || in_doubt {
                        Vec::new()
                    } else {
                        self.ahead(runs, &weights, seen_s)?
                    },
                })
            })
            .collect::<Result<Vec<_>, Error>>()?;
        let mut findings = self.findings.clone();
        if unlike && let Some(first) = self.places.first() {
            findings.push(ProbeFinding {
                trouble: ProbeTrouble::UnlikeAny,
                place: first.place,
                at: to_duration(seen_s)?,
                until: None,
                evidence: format!(
                    "the likely roasts lie {rms:.1} K from the readings, root mean square; {UNLIKE_K} K is the most that fits"
                ),
            });
        }
        let likely_s = time_to_target.map_or(f64::INFINITY, |time| time.likely.as_seconds());
        Ok(TimeForecast {
            time_to_target,
            cannot_tell,
            places,
            findings,
            seen: to_duration(seen_s)?,
            effective_members: weights.effective_members(),
            tempered: weights.tempered(),
            misfit: TemperatureDifference::from_delta_celsius((rms * 1e3).round() / 1e3)?,
            coverage: coverage::at(seen_s / likely_s),
            leaves_out: &ROAST_LEAVES_OUT,
            sources: &ROAST_SOURCES,
        })
    }

    fn ahead(
        &self,
        runs: &PlaceRuns,
        weights: &Weights,
        seen_s: f64,
    ) -> Result<Vec<ReadingAhead>, Error> {
        let first_s = (seen_s / AHEAD_S).floor() * AHEAD_S;
        let mut ahead = Vec::new();
        for step in 1..=MOST_AHEAD {
            let elapsed_s = first_s + f64::from(step) * AHEAD_S;
            let [low, likely, high] = runs.quantiles_at(elapsed_s, weights);
            if high >= PlaceRuns::end_of_curves(self.target_degc) {
                break;
            }
            let shown = |celsius: f64| Temperature::from_celsius((celsius * 1e2).round() / 1e2);
            ahead.push(ReadingAhead {
                elapsed: to_duration(elapsed_s)?.in_unit(DurationUnit::Minute),
                low: shown(likely + WIDENING * (low - likely))?,
                likely: shown(likely)?,
                high: shown(likely + WIDENING * (high - likely))?,
            });
        }
        Ok(ahead)
    }
}

/// The ends moved out from the median.
fn widened([low, median, high]: [f64; 3]) -> [f64; 3] {
    let widened = |end: f64| {
        if median.is_finite() {
            median + WIDENING * (end - median)
        } else {
            end
        }
    };
    [widened(low), median, widened(high)]
}

fn reading_of((elapsed_s, celsius): (f64, f64)) -> Result<ProbeReading, Error> {
    Ok(ProbeReading {
        elapsed: to_duration(elapsed_s)?,
        temperature: Temperature::from_celsius((celsius * 1e3).round() / 1e3)?,
    })
}

/// Places in the food with their c, in the order of the query.
fn zones_with_probe(query: &ForecastQuery) -> Result<Vec<(Zone, f64)>, Error> {
    let mut zones = Vec::new();
    for (at, probe) in query.probes.iter().enumerate() {
        let field = format!("probes[{at}].place");
        if query.probes[..at]
            .iter()
            .any(|other| other.place == probe.place)
        {
            let expected = "each place may be given once";
            return Err(Error::new(ErrorKind::Conflict, probe.place.name(), expected).at(&field));
        }
        let Some(wanted) = probe.place.zone() else {
            continue;
        };
        let found = zones_of(&query.roast)
            .iter()
            .find(|(zone, _)| *zone == wanted);
        zones.push(*found.ok_or_else(|| {
            let expected = "a place that the roast has is needed";
            Error::new(ErrorKind::UnknownValue, probe.place.name(), expected).at(&field)
        })?);
    }
    if zones.is_empty() {
        let expected = "at least one probe in breast, thigh or stuffing is needed";
        return Err(Error::new(ErrorKind::Conflict, query.probes.len(), expected).at("probes"));
    }
    Ok(zones)
}

/// Row, probe and place of every reading, all probes in order of time; each probe keeps its own order.
pub(super) fn in_order_of_time(probes: &[ProbeTrace]) -> Vec<(usize, usize, ProbePlace)> {
    let mut order = Vec::new();
    for (at, probe) in probes.iter().enumerate() {
        let mut latest = Duration::ZERO;
        for (row, reading) in probe.readings.iter().enumerate() {
            latest = latest.max(reading.elapsed);
            order.push((latest, row, at, probe.place));
        }
    }
    order.sort_by_key(|&(latest, row, at, _)| (latest, at, row));
    order
        .into_iter()
        .map(|(_, row, at, place)| (row, at, place))
        .collect()
}

#[cfg(test)]
#[path = "forecast_tests.rs"]
mod tests;
