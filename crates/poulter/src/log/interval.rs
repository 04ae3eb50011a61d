//! How long a log stayed where: exact crossings of a straight line with a limit.
//!
//! Readings, limits and times are whole numbers, so a crossing is a ratio of whole numbers and is rounded only
//! once, to the millisecond, towards the careful side: a dwell that gives credit is rounded short, an exposure
//! that counts against the food is rounded long.

use std::ops::{Bound, RangeBounds};

use schemars::JsonSchema;
use serde::Serialize;

use crate::units::{Duration, Temperature};

use super::build::duration_of;
use super::spell::{Band, Rounding, Spell, spells};
use super::{Place, SoundLog, Trace};

/// The longest unbroken time a place stayed inside a range of temperatures.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Dwell {
    /// The place.
    pub place: Place,
    /// When it began.
    pub began: Duration,
    /// How long it lasted; nought when the range was only touched.
    pub lasted: Duration,
}

/// The whole time a place spent inside a range of temperatures.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Exposure {
    /// The place.
    pub place: Place,
    /// The sum of all the times.
    pub lasted: Duration,
}

/// A stage of cooling, from leaving a hot limit to reaching a cold one for good.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CoolingStage {
    /// When the first place fell below the hot limit; nothing when some place was never seen to leave it.
    pub left: Option<Duration>,
    /// When the last place came down to the cold limit and stayed; nothing when some place did not.
    pub reached: Option<Duration>,
    /// The time between; nothing when either end is missing.
    pub lasted: Option<Duration>,
    /// The place that decided the end, or the place that is missing an end.
    pub place: Place,
}

impl SoundLog<'_> {
    /// The longest dwell of each place inside `range`; a place that never was there is left out.
    pub fn dwells(&self, range: impl RangeBounds<Temperature>) -> Vec<Dwell> {
        let band = Band::of(&range);
        let longest = |(place, trace): (&Place, Trace<'_>)| {
            let spells = spells(trace, band, Rounding::Short);
            // The earliest of equals.
            let spell = spells.iter().rev().max_by_key(|s| s.ended - s.began)?;
            Some(Dwell {
                place: place.clone(),
                began: duration_of(spell.began),
                lasted: duration_of(spell.ended - spell.began),
            })
        };
        self.timed().filter_map(longest).collect()
    }

    /// The shortest of the places' longest dwells inside `range`: the place that decides. Nothing when some
    /// place never was there.
    ///
    /// ```
    /// use poulter::log::{LogChecks, TemperatureLog};
    /// use poulter::units::Temperature;
    /// let log = TemperatureLog::from_csv(
    ///     "elapsed_min,breast_temp_degC,thigh_temp_degC\n0,69,71\n10,71,73\n20,69,71\n",
    /// )?;
    /// let sound = log.sound(&LogChecks::default()).expect("no fault");
    /// let dwell = sound.longest_dwell(Temperature::parse("70 °C")?..).expect("both were there");
    /// assert_eq!((dwell.place.name(), dwell.lasted.as_minutes()), ("breast", 10.0));
    /// # Ok::<(), poulter::Error>(())
    /// ```
    pub fn longest_dwell(&self, range: impl RangeBounds<Temperature>) -> Option<Dwell> {
        let dwells = self.dwells(range);
        if dwells.len() < self.timed().count() {
            return None;
        }
        dwells.into_iter().min_by_key(|dwell| dwell.lasted)
    }

    /// Every period inside `range`, place by place and in order of time.
    pub(crate) fn periods(
        &self,
        range: impl RangeBounds<Temperature>,
        rounding: Rounding,
    ) -> impl Iterator<Item = Dwell> {
        let band = Band::of(&range);
        self.timed().flat_map(move |(place, trace)| {
            let dwell = move |spell: Spell| Dwell {
                place: place.clone(),
                began: duration_of(spell.began),
                lasted: duration_of(spell.ended - spell.began),
            };
            spells(trace, band, rounding).into_iter().map(dwell)
        })
    }

    /// The whole time each place spent inside `range`.
    pub fn exposures(&self, range: impl RangeBounds<Temperature>) -> Vec<Exposure> {
        let band = Band::of(&range);
        self.timed()
            .map(|(place, trace)| Exposure {
                place: place.clone(),
                lasted: duration_of(total(trace, band)),
            })
            .collect()
    }

    /// The longest of the places' whole times inside `range`: the place that decides when time counts against
    /// the food.
    pub fn longest_exposure(&self, range: impl RangeBounds<Temperature>) -> Option<Exposure> {
        let exposures = self.exposures(range).into_iter();
        exposures.max_by_key(|exposure| exposure.lasted)
    }

    /// The time to cool from `hot` to `cold`, at or after `since`, over all places together.
    ///
    /// The clock starts when the first place falls below `hot`; it stops when the last place is at or below `cold`
    /// and stays so to the end of the log. A place that comes above `cold` again has not reached it.
    pub fn cooling(
        &self,
        hot: Temperature,
        cold: Temperature,
        since: Duration,
    ) -> Option<CoolingStage> {
        let mut stage: Option<CoolingStage> = None;
        for (place, trace) in self.timed() {
            let left = left_for_good(trace, hot, since);
            let reached = reached_for_good(trace, cold);
            let here = CoolingStage {
                left: left.map(duration_of),
                reached: reached.map(duration_of),
                lasted: None,
                place: place.clone(),
            };
            stage = Some(match stage {
                None => here,
                Some(so_far) => worse(so_far, here),
            });
        }
        let mut stage = stage?;
        if let (Some(left), Some(reached)) = (stage.left, stage.reached) {
            stage.lasted = Some(reached.minus(left));
        }
        Some(stage)
    }
}

/// Both places taken together: the earliest start, the latest end, and no end that either of them lacks.
fn worse(a: CoolingStage, b: CoolingStage) -> CoolingStage {
    let both = |x: Option<Duration>, y: Option<Duration>| Some((x?, y?));
    let left = both(a.left, b.left).map(|(x, y)| x.min(y));
    let reached = both(a.reached, b.reached).map(|(x, y)| x.max(y));
    let is_complete = |s: &CoolingStage| s.left.is_some() && s.reached.is_some();
    let second_decides = is_complete(&a) && (!is_complete(&b) || b.reached > a.reached);
    CoolingStage {
        left,
        reached,
        lasted: None,
        place: if second_decides { b.place } else { a.place },
    }
}

/// When the place first falls below `hot` after `since`, rounded down.
fn left_for_good(trace: Trace<'_>, hot: Temperature, since: Duration) -> Option<i64> {
    let band = Band::of(&(hot..));
    let (_, end) = trace.ends_ms()?;
    spells(trace, band, Rounding::Short)
        .iter()
        .map(|spell| spell.ended)
        .find(|&ended| ended >= since.steps())
        .filter(|&ended| ended < end)
}

/// When the place comes down to `cold` for the last time, rounded up; nothing when it ends above.
fn reached_for_good(trace: Trace<'_>, cold: Temperature) -> Option<i64> {
    let above = Band::of(&(Bound::Excluded(cold), Bound::Unbounded));
    if above.holds(trace.last_steps()?) {
        return None;
    }
    let spells = spells(trace, above, Rounding::Long);
    match spells.last() {
        Some(last) => Some(last.ended),
        None => trace.ends_ms().map(|(first, _)| first),
    }
}

fn total(trace: Trace<'_>, band: Band) -> i64 {
    let all = spells(trace, band, Rounding::Long);
    all.iter().map(|spell| spell.ended - spell.began).sum()
}

/// The longest dwell at or above `limit` steps in milliseconds, with its beginning; nothing when never there.
pub(crate) fn longest_at_or_above(trace: Trace<'_>, limit: i64) -> Option<(i64, i64)> {
    let band = Band {
        lower: Bound::Included(limit),
        upper: Bound::Unbounded,
    };
    let spells = spells(trace, band, Rounding::Short);
    let longest = spells.iter().rev().max_by_key(|s| s.ended - s.began)?;
    Some((longest.began, longest.ended - longest.began))
}

/// The whole time from `lower` to `upper` steps inclusive, in milliseconds.
pub(crate) fn time_between(trace: Trace<'_>, lower: i64, upper: i64) -> i64 {
    let band = Band {
        lower: Bound::Included(lower),
        upper: Bound::Included(upper),
    };
    total(trace, band)
}

#[cfg(test)]
mod tests {
    use super::super::{LogChecks, TemperatureLog};
    use super::*;

    fn with<T>(text: &str, ask: impl FnOnce(&SoundLog<'_>) -> T) -> T {
        let log = TemperatureLog::from_csv(text).unwrap();
        let checks = LogChecks {
            longest_gap: Duration::parse("12 h").unwrap(),
            flat_line: Duration::parse("24 h").unwrap(),
            ..LogChecks::default()
        };
        ask(&log.sound(&checks).unwrap())
    }

    fn t(text: &str) -> Temperature {
        Temperature::parse(text).unwrap()
    }

    #[test]
    fn a_dwell_is_tested_under_at_and_over_its_limit_in_both_units() {
        // 41 °F and 5 °C are the same temperature, and a reading of either touches a limit in the other.
        for (heading, under, at, over) in [
            ("degC", "4.999", "5", "5.001"),
            ("degF", "40.999", "41", "41.001"),
        ] {
            let held = |reading: &str, limit: &str| {
                let text = format!("elapsed_s,core_temp_{heading}\n0,{reading}\n60,{reading}\n");
                with(&text, |log| {
                    log.longest_dwell(t(limit)..).map(|d| d.lasted.as_seconds())
                })
            };
            for limit in ["5 °C", "41 °F"] {
                assert_eq!(held(under, limit), None);
                assert_eq!(held(at, limit), Some(60.0));
                assert_eq!(held(over, limit), Some(60.0));
            }
        }
    }

    #[test]
    fn crossings_are_rounded_to_the_careful_side() {
        // Rising 3 °C in 10 s the line meets 61 °C after 3333.3 ms and leaves it 3333.3 ms before the end.
        let text = "elapsed_s,core_temp_degC\n0,60\n10,63\n20,60\n";
        let dwell = with(text, |log| log.longest_dwell(t("61 °C")..).unwrap());
        assert_eq!((dwell.began.steps(), dwell.lasted.steps()), (3334, 13_332));
        let exposure = with(text, |log| log.longest_exposure(t("61 °C")..).unwrap());
        assert_eq!(exposure.lasted.steps(), 13_334);
    }

    #[test]
    fn a_peak_touches_a_closed_limit_and_not_an_open_one() {
        let text = "elapsed_s,core_temp_degC\n0,60\n10,65\n20,60\n";
        with(text, |log| {
            let dwell = log.longest_dwell(t("65 °C")..).unwrap();
            assert_eq!((dwell.began.steps(), dwell.lasted.steps()), (10_000, 0));
            let open = (Bound::Excluded(t("65 °C")), Bound::Unbounded);
            assert_eq!(log.longest_dwell(open), None);
            assert_eq!(log.longest_dwell(t("65.001 °C")..), None);
        });
    }

    #[test]
    fn a_plateau_on_the_limit_counts_only_when_the_limit_is_closed() {
        let text = "elapsed_s,core_temp_degC\n0,5\n60,5\n";
        with(text, |log| {
            let open = (Bound::Excluded(t("5 °C")), Bound::Unbounded);
            assert_eq!(log.longest_exposure(open).unwrap().lasted.steps(), 0);
            assert_eq!(
                log.longest_exposure(t("5 °C")..).unwrap().lasted.steps(),
                60_000
            );
        });
    }

    #[test]
    fn time_in_a_band_adds_up_over_visits() {
        // 5 -> 65 -> 5 °C at 1 °C a second: 10 °C to 54 °C is passed twice, 44 s each.
        let text = "elapsed_s,core_temp_degC\n0,5\n60,65\n120,5\n";
        with(text, |log| {
            let band = log.longest_exposure(t("10 °C")..=t("54 °C")).unwrap();
            assert_eq!(band.lasted.as_seconds(), 88.0);
            let below = log.longest_exposure(..t("10 °C")).unwrap();
            assert_eq!(below.lasted.as_seconds(), 10.0);
        });
    }

    #[test]
    fn a_dip_breaks_a_dwell() {
        let text = "elapsed_s,core_temp_degC\n0,61\n100,61\n101,59.9\n102,61\n140,61\n";
        let dwell = with(text, |log| log.longest_dwell(t("60 °C")..).unwrap());
        assert_eq!(dwell.began.steps(), 0);
        assert_eq!(dwell.lasted.steps(), 100_909);
    }

    #[test]
    fn the_lowest_place_decides_and_never_the_mean() {
        let text = "elapsed_s,breast_temp_degC,thigh_temp_degC\n0,74,68\n60,74,68\n";
        with(text, |log| {
            assert_eq!(log.longest_dwell(t("70 °C")..), None);
            assert_eq!(
                log.longest_dwell(t("68 °C")..).unwrap().lasted.as_seconds(),
                60.0
            );
        });
    }

    #[test]
    fn the_air_round_the_food_is_timed_only_when_nothing_else_is() {
        let both = "elapsed_h,core_temp_degC,refrigerator_temp_degC\n0,70,3\n1,60,3\n2,4,3\n";
        with(both, |log| {
            assert_eq!(log.exposures(..).len(), 1);
            let stage = log.cooling(t("65 °C"), t("5 °C"), Duration::ZERO).unwrap();
            assert!(stage.lasted.is_some());
        });
        let air = "elapsed_h,refrigerator_temp_degC\n0,3\n1,6\n2,3\n";
        with(air, |log| {
            let above = log.longest_exposure(t("5 °C")..).unwrap();
            assert_eq!(above.lasted.as_minutes(), 40.0);
        });
    }

    #[test]
    fn cooling_stages_are_timed_over_all_places() {
        // Food Code 3-501.14(A) limits: 135 °F to 70 °F in 2 h, 41 °F in 6 h in all; straight lines at the limit.
        let text = "elapsed_h,core_temp_degF\n0,140\n1,135\n3,70\n7,41\n8,40\n";
        with(text, |log| {
            let first = log
                .cooling(t("135 °F"), t("70 °F"), Duration::ZERO)
                .unwrap();
            assert_eq!(first.lasted.unwrap().as_hours(), 2.0);
            assert_eq!(first.left.unwrap().as_hours(), 1.0);
            let whole = log
                .cooling(t("135 °F"), t("41 °F"), Duration::ZERO)
                .unwrap();
            assert_eq!(whole.lasted.unwrap().as_hours(), 6.0);
        });
        let two =
            "elapsed_h,breast_temp_degF,thigh_temp_degF\n0,140,140\n1,130,140\n2,60,100\n3,40,70\n";
        with(two, |log| {
            let stage = log
                .cooling(t("135 °F"), t("70 °F"), Duration::ZERO)
                .unwrap();
            assert_eq!(stage.place, Place::THIGH);
            assert_eq!(
                (
                    stage.left.unwrap().as_hours(),
                    stage.reached.unwrap().as_hours()
                ),
                (0.5, 3.0)
            );
            let cold = log
                .cooling(t("135 °F"), t("41 °F"), Duration::ZERO)
                .unwrap();
            assert_eq!((cold.lasted, cold.place), (None, Place::THIGH));
        });
        let again = "elapsed_h,core_temp_degF\n0,140\n1,69\n2,71\n3,71\n";
        with(again, |log| {
            let stage = log
                .cooling(t("135 °F"), t("70 °F"), Duration::ZERO)
                .unwrap();
            assert_eq!(stage.reached, None);
        });
    }

    #[test]
    fn cooling_that_was_not_seen_to_begin_has_no_start() {
        let text = "elapsed_h,core_temp_degF\n0,130\n1,60\n";
        with(text, |log| {
            let stage = log
                .cooling(t("135 °F"), t("70 °F"), Duration::ZERO)
                .unwrap();
            assert_eq!((stage.left, stage.lasted), (None, None));
        });
    }
}
