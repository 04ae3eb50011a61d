//! Times and temperatures.

use crate::answer::TimeEstimate;
use crate::error::{Error, ErrorKind};
use crate::roast::{Oven, RoastMethod, RoastQuery, roast_time};
use crate::rules::{Comparison, Requirement, Rulebook, Topic};
use crate::thaw::{ThawMethod, ThawQuery, thaw_time};
use crate::units::{Duration, Mass, Temperature};

use super::Subject;

/// The minimum inside a cooked bird.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MinimumTemperature {
    /// The temperature, in the unit that binds.
    pub temperature: Temperature,
    /// How a reading is compared with it.
    pub is: Comparison,
    /// How long it must hold; none where it counts at once.
    pub hold: Option<Duration>,
}

impl Subject {
    /// How long a bird of this mass takes to thaw: the printed range, and the likely time between.
    ///
    /// Errors: no published row for the mass, species or method, and a method that the standard forbids or gives no
    /// time for; the error then says why.
    #[inline]
    pub fn thaw_time(self, method: ThawMethod, mass: Mass) -> Result<TimeEstimate, Error> {
        let shelf = self.shelf();
        let found = match method {
            ThawMethod::Refrigerator => {
                shelf.refrigerator.as_ref().and_then(|table| table.at(mass))
            }
            ThawMethod::ColdWater => shelf.cold_water.as_ref().and_then(|table| table.at(mass)),
            ThawMethod::RunningWater => shelf.running_water.and_then(|limit| {
                let time = shelf.cold_water.as_ref()?.at(mass)?;
                limit.is.holds(&time.high, &limit.duration).then_some(time)
            }),
            _ => None,
        };
        found.map_or_else(|| self.thaw_time_at_the_door(method, mass), Ok)
    }

    #[cold]
    pub(super) fn thaw_time_at_the_door(
        self,
        method: ThawMethod,
        mass: Mass,
    ) -> Result<TimeEstimate, Error> {
        let query = ThawQuery {
            mass,
            method,
            standard: self.standard.name().to_owned(),
            species: self.species,
            cut: self.cut,
            on: None,
        };
        let answer = thaw_time(Rulebook::builtin(), &query)?.answer;
        answer.time.filter(|_| answer.allowed).ok_or_else(|| {
            let why = answer.refusal.or_else(|| answer.to_do.first().cloned());
            let why = why.unwrap_or_else(|| "no time is published".to_owned());
            refusal(method.words(), why, "method", answer.rules)
        })
    }

    /// How long a thawed bird of this mass roasts in a steady oven at sea level.
    ///
    /// The printed range of the row, and the likely time on the line between its ends. The thermometer decides, never
    /// the time.
    ///
    /// Errors: no published row for the mass, species or cut.
    #[inline]
    pub fn roast_time(self, mass: Mass, stuffed: bool) -> Result<TimeEstimate, Error> {
        let shelf = self.shelf();
        let table = if stuffed {
            &shelf.stuffed
        } else {
            &shelf.unstuffed
        };
        match table.as_ref().and_then(|table| table.at(mass)) {
            Some(row) => {
                let likely = row.likely.max(row.low);
                Ok(TimeEstimate {
                    low: row.low,
                    likely,
                    high: row.high.max(likely),
                })
            }
            None => self.roast_time_at_the_door(mass, stuffed),
        }
    }

    #[cold]
    pub(super) fn roast_time_at_the_door(
        self,
        mass: Mass,
        stuffed: bool,
    ) -> Result<TimeEstimate, Error> {
        let query = RoastQuery {
            mass,
            stuffed,
            method: RoastMethod::Steady,
            from_frozen: false,
            oven: Oven::default(),
            altitude: None,
            standard: self.standard.name().to_owned(),
            species: self.species,
            cut: self.cut,
            on: None,
        };
        let answer = roast_time(Rulebook::builtin(), &query)?.answer;
        answer.time.filter(|_| answer.allowed).ok_or_else(|| {
            let why = answer.refusal.unwrap_or_default();
            refusal("roasting", why, "mass", answer.rules)
        })
    }

    /// The minimum temperature inside, at every place that the standard names; of the stuffing where asked.
    ///
    /// It is a number to show and to set an alarm by. For a verdict ask `check_cooking`, which compares exactly, knows
    /// the places and takes the pairs of temperature and time that count as the same.
    ///
    /// Errors: no published row for the species and cut, or a rule that names no temperature.
    ///
    /// ```
    /// use poulter::bird::{Cut, Species};
    /// use poulter::direct::{BuiltinStandard, Subject};
    /// let bird = Subject { standard: BuiltinStandard::UsConsumer, species: Species::Turkey, cut: Cut::Whole };
    /// assert_eq!(bird.minimum_temperature(false)?.temperature.as_fahrenheit(), 165.0);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    #[inline]
    pub fn minimum_temperature(self, stuffing: bool) -> Result<MinimumTemperature, Error> {
        let shelf = self.shelf();
        let found = if stuffing {
            shelf.minimum_stuffing
        } else {
            shelf.minimum
        };
        match found {
            Some(Requirement::MinimumTemperature { limit, hold, .. }) => Ok(MinimumTemperature {
                temperature: limit.temperature,
                is: limit.is,
                hold: hold.map(|hold| hold.duration),
            }),
            _ => Err(self.no_minimum(stuffing)),
        }
    }

    #[cold]
    fn no_minimum(self, stuffing: bool) -> Error {
        let topic = if stuffing {
            Topic::DonenessStuffing
        } else {
            self.doneness()
        };
        match Rulebook::builtin().require(topic, &self.case()) {
            Err(error) => error,
            Ok(rule) => Error::new(
                ErrorKind::NoPublishedRow,
                self.standard.name(),
                "no rule names a temperature here; follow its words",
            )
            .citing(&rule.id),
        }
    }
}

fn refusal(given: &str, why: String, field: &str, rules: Vec<String>) -> Error {
    let error = Error::new(ErrorKind::NoPublishedRow, given, why).at(field);
    rules.into_iter().take(1).fold(error, Error::citing)
}
