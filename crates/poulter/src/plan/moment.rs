//! A moment with its time zone.

use std::borrow::Cow;
use std::fmt;

use jiff::civil::Date;
use jiff::fmt::temporal::Pieces;
use jiff::tz::{OffsetConflict, TimeZone};
use jiff::{RoundMode, SignedDuration, ToSpan, Unit, ZonedDateTime, ZonedDateTimeRound};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::error::{Error, ErrorKind};
use crate::units::{Duration, HourClock};

use super::kitchen::Sleep;

/// A moment with its time zone, written as RFC 9557 has it: `2026-12-19T18:30[Europe/Lisbon]`.
///
/// A clock time that a change of the clocks skips or repeats is refused unless the offset is written too. Days are
/// counted on the clock and hours in real time, so a plan across a clock change is right.
///
/// ```
/// use poulter::plan::Moment;
/// let dinner = Moment::parse("2026-12-19T18:30[Europe/Lisbon]")?;
/// assert_eq!(dinner.to_string(), "2026-12-19T18:30:00+00:00[Europe/Lisbon]");
/// assert!(Moment::parse("2026-12-19T18:30").is_err());
/// assert!(Moment::parse("2027-03-28T01:30[Europe/Lisbon]").is_err());
/// # Ok::<(), poulter::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Moment(ZonedDateTime);

/// Longest text a moment may have.
const LONGEST_TEXT: usize = 80;

impl Moment {
    /// Reads a moment with its zone.
    pub fn parse(text: &str) -> Result<Self, Error> {
        let bad = |why: &str| Error::new(ErrorKind::BadMoment, text, why);
        if text.len() > LONGEST_TEXT {
            return Err(bad("a date, a time and a zone are needed"));
        }
        let pieces =
            Pieces::parse(text.trim()).map_err(|_| bad("a date, a time and a zone are needed"))?;
        let time = pieces
            .time()
            .ok_or_else(|| bad("a time of day is needed"))?;
        let zone = pieces
            .to_time_zone()
            .map_err(|_| {
                bad("a zone of the IANA time zone database is needed, such as America/Chicago")
            })?
            .ok_or_else(|| bad("a time zone in brackets is needed, such as [America/Chicago]"))?;
        let clock = pieces.date().to_datetime(time);
        if pieces.to_numeric_offset().is_none() && zone.to_ambiguous_timestamp(clock).is_ambiguous()
        {
            return Err(bad(
                "the clocks change then, so this time is skipped or comes twice: write the offset as well",
            ));
        }
        let zoned = match pieces.to_numeric_offset() {
            None => zone.to_zoned_datetime(clock),
            Some(offset) => OffsetConflict::Reject
                .resolve(clock, offset, zone)
                .and_then(jiff::tz::AmbiguousZonedDateTime::unambiguous),
        }
        .map_err(|_| bad("the offset is not one that the zone has then"))?;
        if !(1990..=2199).contains(&zoned.year()) {
            return Err(bad("a year from 1990 to 2199 is needed"));
        }
        Ok(Self(zoned))
    }

    /// The moment as jiff has it.
    #[must_use]
    pub const fn zoned(&self) -> &ZonedDateTime {
        &self.0
    }

    /// This moment less a duration in real time.
    #[must_use]
    pub fn before(&self, duration: Duration) -> Self {
        Self(
            self.0
                .saturating_sub(SignedDuration::from_millis(duration.steps())),
        )
    }

    /// This moment plus a duration in real time.
    #[must_use]
    pub fn after(&self, duration: Duration) -> Self {
        Self(
            self.0
                .saturating_add(SignedDuration::from_millis(duration.steps())),
        )
    }

    /// The time from `earlier` to this moment; zero when it is not later.
    #[must_use]
    pub fn since(&self, earlier: &Self) -> Duration {
        let millis = self.0.timestamp().as_millisecond() - earlier.0.timestamp().as_millisecond();
        Duration::from_steps(millis.max(0), crate::units::DurationUnit::Minute)
    }

    /// The same clock time some days later.
    #[must_use]
    pub fn days_later(&self, days: i64) -> Self {
        Self(self.0.saturating_add(days.days()))
    }

    /// The last moment of a day, to the minute, in this moment's zone.
    #[must_use]
    pub(super) fn end_of(&self, day: Date) -> Self {
        day.at(23, 59, 0, 0)
            .to_zoned_datetime(self.0.time_zone().clone())
            .map_or_else(|_| self.clone(), Self)
    }

    /// The first moment of a day, in this moment's zone.
    #[must_use]
    pub(super) fn start_of(&self, day: Date) -> Self {
        day.to_zoned_datetime(self.0.time_zone().clone())
            .map_or_else(|_| self.clone(), Self)
    }

    /// The last quarter of an hour at or before this moment, by the clock.
    #[must_use]
    pub fn quarter_before(&self) -> Self {
        let rounding = ZonedDateTimeRound::new()
            .smallest(Unit::Minute)
            .increment(15)
            .mode(RoundMode::Floor);
        Self(self.0.round(rounding).unwrap_or_else(|_| self.0.clone()))
    }

    /// The latest moment at or before this one at which a cook with these hours of sleep is up.
    #[must_use]
    pub(super) fn awake_before(&self, asleep: Sleep) -> Self {
        if self.is_awake(asleep) {
            return self.clone();
        }
        let date = if self.0.time() >= asleep.from {
            self.0.date()
        } else {
            self.0.date().saturating_sub(1.day())
        };
        // Where the clocks change just then, the moment itself serves.
        date.to_datetime(asleep.from)
            .to_zoned_datetime(self.0.time_zone().clone())
            .map_or_else(|_| self.clone(), Self)
    }

    /// Whether a cook with these hours of sleep is up; at both ends the cook is.
    pub(super) fn is_awake(&self, asleep: Sleep) -> bool {
        let time = self.0.time();
        if asleep.from <= asleep.to {
            time <= asleep.from || asleep.to <= time
        } else {
            asleep.to <= time && time <= asleep.from
        }
    }

    /// The clock time as a reader sees it: "6:30 pm" or "18:30".
    #[must_use]
    pub fn clock(&self, style: HourClock) -> String {
        match style {
            HourClock::Twelve => self.0.strftime("%-I:%M %P").to_string(),
            HourClock::TwentyFour => self.0.strftime("%H:%M").to_string(),
        }
    }

    /// The day as a reader sees it: "Sat 19 Dec 2026".
    #[must_use]
    pub fn day(&self) -> String {
        self.0.strftime("%a %-d %b %Y").to_string()
    }

    /// Day and clock time as a reader sees them.
    #[must_use]
    pub fn shown(&self, style: HourClock) -> String {
        format!("{}, {}", self.day(), self.clock(style))
    }

    /// The moment in another zone.
    #[must_use]
    pub fn in_zone_of(&self, other: &Self) -> Self {
        Self(self.0.with_time_zone(other.zone()))
    }

    fn zone(&self) -> TimeZone {
        self.0.time_zone().clone()
    }
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl std::str::FromStr for Moment {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self, Error> {
        Self::parse(text)
    }
}

impl Serialize for Moment {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Moment {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Self::parse(&text).map_err(|error| crate::units::encode_error(&error))
    }
}

impl JsonSchema for Moment {
    fn schema_name() -> Cow<'static, str> {
        "Moment".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "Date, time and zone as RFC 9557 has it, such as 2026-12-19T18:30[Europe/Lisbon]"
        })
    }
}

#[cfg(test)]
mod tests {
    use jiff::civil::Time;

    use super::*;

    fn moment(text: &str) -> Moment {
        Moment::parse(text).unwrap()
    }

    #[test]
    fn hours_are_real_and_days_are_the_calendars() {
        // Clocks in Chicago went back at 2:00 on 1 November 2026 (US Energy Policy Act of 2005).
        let noon = moment("2026-11-01T12:00[America/Chicago]");
        assert_eq!(
            noon.before(Duration::parse("24 h").unwrap())
                .clock(HourClock::TwentyFour),
            "13:00"
        );
        assert_eq!(
            moment("2026-10-31T12:00[America/Chicago]").days_later(1),
            noon
        );
    }

    #[test]
    fn a_repeated_hour_needs_its_offset() {
        assert!(Moment::parse("2026-11-01T01:30[America/Chicago]").is_err());
        assert!(Moment::parse("2026-11-01T01:30-06:00[America/Chicago]").is_ok());
        assert!(Moment::parse("2026-11-01T01:30-09:00[America/Chicago]").is_err());
    }

    #[test]
    fn what_is_not_a_moment_is_refused() {
        for text in [
            "",
            "tomorrow",
            "2026-12-19",
            "2026-12-19[Europe/Lisbon]",
            "2026-12-19T18:30[Mars/Base]",
            "2026-13-19T18:30[Europe/Lisbon]",
            "1066-10-14T09:00[Europe/London]",
        ] {
            assert_eq!(
                Moment::parse(text).unwrap_err().kind(),
                ErrorKind::BadMoment,
                "{text}"
            );
        }
    }

    #[test]
    fn a_cook_is_up_from_seven_to_ten() {
        for (given, expected) in [
            ("06:59", "22:00"),
            ("07:00", "07:00"),
            ("22:00", "22:00"),
            ("22:01", "22:00"),
        ] {
            let at = moment(&format!("2026-12-19T{given}[Europe/Lisbon]"));
            let asleep = Sleep {
                from: Time::constant(22, 0, 0, 0),
                to: Time::constant(7, 0, 0, 0),
            };
            assert_eq!(
                at.awake_before(asleep).clock(HourClock::TwentyFour),
                expected,
                "{given}"
            );
        }
    }
}
