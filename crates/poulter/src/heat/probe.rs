//! The probes in a roast, reading by reading: verdict, kill and forecast at any time.

use schemars::JsonSchema;
use serde::Serialize;

use crate::answer::Answer;
use crate::bird::Cut;
use crate::error::Error;
use crate::lethality::PlaceLethality;
use crate::log::{LogChecks, Place, PlaceColumn};
use crate::records::{CookingLogCheck, GivenLog, NOT_IN_THE_LOG, RecordFinding, check_cooking_log};
use crate::rules::{Rulebook, Verdict};
use crate::units::{Duration, Temperature, TemperatureUnit};

use super::answers;
use super::forecast::{Forecast, ForecastQuery, TimeForecast, in_order_of_time};
use super::roast::{RoastCut, RoastSimulationQuery};
use super::watch::{ProbePlace, Trust};

/// What the readings say up to now.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ProbeState {
    /// Whether the bird is done by what was measured: the standard's minimum in every place that it names. A reading that
    /// was kept out is a missing one.
    pub verdict: Verdict,
    /// What the verdict rests on, place by place.
    pub judged: Vec<RecordFinding>,
    /// The kill up to now in each place whose readings have no fault; it explains and never decides.
    pub lethality: Vec<PlaceLethality>,
    /// When the places with a probe will be at the target.
    #[serde(flatten)]
    pub forecast: TimeForecast,
}

/// The probes in one roast.
///
/// Readings are pushed as they come; [`state`](Self::state) may be asked at any time and does not change anything. The
/// verdict is that of [`check_cooking_log`] over the readings that count, and owes nothing to the forecast.
///
/// ```
/// use poulter::heat::{ForecastQuery, Probe, ProbePlace};
/// use poulter::rules::{Rulebook, Verdict};
/// use poulter::units::{Duration, Temperature};
/// let query: ForecastQuery = serde_json::from_str(
///     r#"{"roast": {"mass": "12 lb", "start": "40 °F", "target": "165 °F", "oven": [{"temperature": "325 °F"}]},
///         "probes": [{"place": "breast"}, {"place": "thigh"}], "members": 200}"#,
/// )?;
/// let mut probe = Probe::new(&query)?;
/// probe.push(ProbePlace::Breast, Duration::parse("1 h 55 min")?, Temperature::parse("116 °F")?)?;
/// probe.push(ProbePlace::Breast, Duration::parse("2 h")?, Temperature::parse("120 °F")?)?;
/// let state = probe.state(Rulebook::builtin())?.answer;
/// assert_eq!(state.verdict, Verdict::Fails);
/// assert!(state.forecast.time_to_target.is_some());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug)]
pub struct Probe {
    roast: RoastSimulationQuery,
    forecast: Forecast,
    seen: Vec<SeenAt>,
}

/// What one probe in the bird has shown; nothing where the reading was kept out.
#[derive(Clone, Debug)]
struct SeenAt {
    place: ProbePlace,
    rows: Vec<(Duration, Option<Temperature>)>,
}

impl Probe {
    /// Draws the ensemble and adds the readings of the query.
    ///
    /// # Errors
    /// Those of [`Forecast::new`].
    pub fn new(query: &ForecastQuery) -> Result<Self, Error> {
        let mut empty = query.clone();
        for probe in &mut empty.probes {
            probe.readings.clear();
        }
        let in_bird = query
            .probes
            .iter()
            .filter(|probe| probe.place != ProbePlace::Oven);
        let mut made = Self {
            roast: query.roast.clone(),
            forecast: Forecast::new(&empty)?,
            seen: in_bird
                .map(|probe| SeenAt {
                    place: probe.place,
                    rows: Vec::new(),
                })
                .collect(),
        };
        for (row, at, place) in in_order_of_time(&query.probes) {
            let reading = query.probes[at].readings[row];
            made.push(place, reading.elapsed, reading.temperature)
                .map_err(|error| error.at(&format!("probes[{at}].readings[{row}]")))?;
        }
        Ok(made)
    }

    /// Adds a reading.
    ///
    /// # Errors
    /// Those of [`Forecast::push`]; nothing has changed then.
    pub fn push(
        &mut self,
        place: ProbePlace,
        elapsed: Duration,
        reading: Temperature,
    ) -> Result<(), Error> {
        let trust = self.forecast.take(place, elapsed, reading)?;
        if let Some(seen) = self.seen.iter_mut().find(|seen| seen.place == place) {
            if trust == Trust::StartsAnew {
                seen.rows.clear();
            }
            let counts = (trust != Trust::KeptOut).then_some(reading);
            seen.rows.push((elapsed, counts));
        }
        Ok(())
    }

    /// The forecast alone, without a standard.
    #[must_use]
    pub const fn forecast(&self) -> &Forecast {
        &self.forecast
    }

    /// Verdict, kill and forecast from the readings so far, by the standard of the roast.
    ///
    /// # Errors
    /// An unknown standard, or one without a minimum for the bird.
    pub fn state(&self, book: &Rulebook) -> Result<Answer<ProbeState>, Error> {
        let forecast = self.forecast.time_to_target()?;
        let mut basis = answers::forecast_basis(book, &self.roast)?;
        let mut judged: Vec<RecordFinding> = Vec::new();
        let mut lethality = Vec::new();
        let logs: Vec<_> = self
            .seen
            .iter()
            .filter(|seen| !seen.rows.is_empty())
            .collect();
        for seen in &logs {
            let answer = check_cooking_log(book, &self.check_of(seen)?)?.answer;
            lethality.extend(
                answer
                    .lethality
                    .map(|known| known.places)
                    .into_iter()
                    .flatten(),
            );
            // A place is judged on its own log; one that a log lacks may stand in another.
            let others = |finding: &RecordFinding| {
                let place = finding.finding.text.strip_suffix(NOT_IN_THE_LOG);
                logs.iter().any(|log| Some(log.place.name()) == place)
            };
            for finding in answer.findings {
                if finding.finding.verdict.is_some()
                    && !others(&finding)
                    && !judged.contains(&finding)
                {
                    judged.push(finding);
                }
            }
        }
        let verdicts = judged.iter().filter_map(|finding| finding.finding.verdict);
        let verdict = Verdict::worst(verdicts);
        answers::beside_the_minimum(&mut basis, &self.roast);
        Ok(basis.finish(ProbeState {
            verdict,
            judged,
            lethality,
            forecast,
        }))
    }

    fn check_of(&self, seen: &SeenAt) -> Result<CookingLogCheck, Error> {
        let unit =
            seen.rows
                .iter()
                .find_map(|row| row.1)
                .map_or(TemperatureUnit::Celsius, |reading| match reading.unit() {
                    TemperatureUnit::Fahrenheit => TemperatureUnit::Fahrenheit,
                    _ => TemperatureUnit::Celsius,
                });
        let value = |reading: Temperature| match unit {
            TemperatureUnit::Fahrenheit => reading.as_fahrenheit(),
            _ => reading.as_celsius(),
        };
        let column = PlaceColumn {
            place: Place::named(seen.place.name())?,
            unit,
            temperatures: seen.rows.iter().map(|row| row.1.map(value)).collect(),
        };
        Ok(CookingLogCheck {
            log: GivenLog {
                elapsed_s: Some(seen.rows.iter().map(|row| row.0.as_seconds()).collect()),
                places: Some(vec![column]),
                ..GivenLog::default()
            },
            stuffed: self.roast.stuffed,
            scheme: None,
            checks: LogChecks::default(),
            accuracy: None,
            standard: self.roast.standard.clone(),
            species: self.roast.species,
            cut: match self.roast.cut {
                RoastCut::Whole => Cut::Whole,
                RoastCut::BoneInBreast => Cut::Breast,
            },
            process: None,
            on: None,
        })
    }
}
