//! Columns worked out where they lie against the same columns taken into a log first.

use poulter::lethality::{LethalityRequest, Scheme};
use poulter::log::{ColumnSlice, ElapsedSlice, LogChecks, Place, TemperatureLog};
use poulter::units::{TemperatureDifference, TemperatureUnit};
use proptest::prelude::*;

/// What may happen to a reading.
#[derive(Clone, Copy, Debug)]
enum Mishap {
    Missing,
    OutOfRange,
    Jump,
    SameTime,
    Backward,
    Gap,
    Endless,
    /// The clock begins before nought.
    Early,
    /// The clock ends after more than 20 years.
    Late,
}

fn mishap() -> impl Strategy<Value = Mishap> {
    prop_oneof![
        Just(Mishap::Missing),
        Just(Mishap::OutOfRange),
        Just(Mishap::Jump),
        Just(Mishap::SameTime),
        Just(Mishap::Backward),
        Just(Mishap::Gap),
        Just(Mishap::Endless),
        Just(Mishap::Early),
        Just(Mishap::Late),
    ]
}

/// Seconds and degrees of a roast, with mishaps.
fn columns() -> impl Strategy<Value = (Vec<f64>, Vec<f64>)> {
    // Columns from 4,096 rows on are worked out where they lie.
    let rows = prop_oneof![0_usize..300, 4_095_usize..4_098, 4_000_usize..4_500];
    let shape = (rows, 1_u32..40, 20.0..100.0_f64, 0.0..0.6_f64);
    let mishaps = prop::collection::vec((mishap(), any::<prop::sample::Index>()), 0..3);
    (shape, mishaps).prop_map(|((rows, every_s, hottest, ripple), mishaps)| {
        let mut times: Vec<f64> = (0..rows).map(|i| i as f64 * f64::from(every_s)).collect();
        let mut temps: Vec<f64> = (0..rows)
            .map(|i| {
                let left = 1.0 - i as f64 / rows as f64;
                hottest * (1.0 - left * left) + (i % 3) as f64 * ripple
            })
            .collect();
        for (mishap, at) in mishaps.iter().filter(|_| rows > 0) {
            let at = at.index(rows);
            match mishap {
                Mishap::Missing => temps[at] = f64::NAN,
                Mishap::OutOfRange => temps[at] = if at % 2 == 0 { 700.0 } else { -300.0 },
                Mishap::Jump => temps[at] += 60.0,
                Mishap::SameTime => times[at] = times[at.saturating_sub(1)],
                Mishap::Backward => times[at] -= 100.0,
                Mishap::Gap => times[at..].iter_mut().for_each(|t| *t += 1000.0),
                Mishap::Endless => times[at] = f64::INFINITY,
                Mishap::Early => times.iter_mut().for_each(|t| *t -= 0.001),
                Mishap::Late => times.iter_mut().for_each(|t| *t += 631_152_000.0),
            }
        }
        (times, temps)
    })
}

proptest! {
    #[test]
    fn the_answer_is_that_of_the_log(
        (times, temps) in columns(),
        unit in prop_oneof![Just(TemperatureUnit::Celsius), Just(TemperatureUnit::Fahrenheit)],
        scheme in prop_oneof![
            Just(Scheme::Poultry7LogTurkey),
            Just(Scheme::Uk702),
            Just(Scheme::Meat65Log),
        ],
        places in prop_oneof![
            Just(&["core"][..]),
            Just(&["breast", "thigh"][..]),
            Just(&["breast", "oven"][..]),
            Just(&["oven"][..]),
            Just(&["breast", "breast"][..]),
        ],
        accuracy in prop_oneof![Just("0 K"), Just("0.5 K"), Just("11 K")],
    ) {
        let clock = ElapsedSlice { elapsed_s: &times };
        let columns: Vec<ColumnSlice<'_>> = places
            .iter()
            .map(|place| ColumnSlice {
                place: Place::named(place).unwrap(),
                unit,
                temperatures: &temps,
            })
            .collect();
        let checks = LogChecks::default();
        let request = LethalityRequest {
            scheme,
            sensor_uncertainty: TemperatureDifference::parse(accuracy).unwrap(),
        };
        let taken_in = TemperatureLog::from_slices(clock, &columns).and_then(|log| {
            match log.sound(&checks) {
                Ok(sound) => request.assess(&sound).map(Ok),
                Err(faults) => Ok(Err(faults)),
            }
        });
        let where_they_lie = request.assess_columns(clock, &columns, &checks);
        if accuracy == "11 K" {
            prop_assert!(where_they_lie.is_err());
        } else {
            // As text: every bit of a number shows, and errors have no other equality.
            prop_assert_eq!(format!("{where_they_lie:?}"), format!("{taken_in:?}"));
        }
    }
}

/// A value that no reading or time can have, in any row of a hot log, ends in the answer of the log.
#[test]
fn values_out_of_range_are_found_wherever_they_stand() {
    const ROWS: usize = 5_000;
    let times: Vec<f64> = (0..ROWS).map(|i| i as f64).collect();
    let temps: Vec<f64> = (0..ROWS).map(|i| 60.0 + (i % 90) as f64 * 0.1).collect();
    let odd = [
        f64::INFINITY,
        f64::NEG_INFINITY,
        f64::NAN,
        1e300,
        -1e300,
        1e12,
        700.0,
        -300.0,
    ];
    for row in [0, 1, 63, 64, 65, 2_500, ROWS - 2, ROWS - 1] {
        for value in odd {
            for is_time in [true, false] {
                let (mut times, mut temps) = (times.clone(), temps.clone());
                if is_time {
                    times[row] = value;
                } else {
                    temps[row] = value;
                }
                let clock = ElapsedSlice { elapsed_s: &times };
                let column = ColumnSlice {
                    place: Place::CORE,
                    unit: TemperatureUnit::Celsius,
                    temperatures: &temps,
                };
                let checks = LogChecks::default();
                for scheme in [Scheme::Poultry7LogTurkey, Scheme::Uk702] {
                    let request = LethalityRequest::new(scheme);
                    let answer =
                        request.assess_columns(clock, std::slice::from_ref(&column), &checks);
                    let log =
                        TemperatureLog::from_slices(clock, std::slice::from_ref(&column)).unwrap();
                    let logged = log
                        .sound(&checks)
                        .map(|sound| request.assess(&sound).unwrap());
                    assert_eq!(answer.unwrap(), logged, "{row} {value} {is_time}");
                }
            }
        }
    }
}
