//! Readings that were recorded in one unit and named in another.

use crate::units::TemperatureUnit;

use super::build::Readings;
use super::check::Findings;
use super::survey::{Range, Survey};
use super::{Fault, STEPS_PER_KELVIN};

/// Inside food the water boils near 100 °C; hotter readings belong to another unit.
const HOTTEST_INSIDE: f64 = 9.0 * (105_000.0 + 273_150.0);
/// A Celsius column that begins from 28 to 50 °C and is heated to 55 °C or more reads like a Fahrenheit column of a bird
/// out of the refrigerator, whose roast is not over.
const CHILLED_C: (f64, f64) = (9.0 * (28_000.0 + 273_150.0), 9.0 * (50_000.0 + 273_150.0));
const HEATED_C: f64 = 9.0 * (55_000.0 + 273_150.0);
/// A Fahrenheit column from −1 °F to below 28 °F reads like a Celsius column of food in a refrigerator or a warm room.
const CHILLED_F: f64 = 5.0 * (-1_000.0 + 459_670.0);
/// A Fahrenheit column that never leaves 100 °F, starts or ends below 28 °F and passes 50 °F reads like a
/// Celsius column of a bird roasted or cooled.
const FROZEN_F: f64 = 5.0 * (28_000.0 + 459_670.0);
const MILD_F: f64 = 5.0 * (50_000.0 + 459_670.0);
const WARM_F: f64 = 5.0 * (100_000.0 + 459_670.0);

impl Survey {
    /// True only where [`check_unit`] would find nothing.
    pub(super) fn clears_unit(&self, unit: TemperatureUnit, first: Option<f64>) -> bool {
        let range = self.range;
        self.is_whole()
            && range.lowest >= FROZEN_F
            && range.highest <= HOTTEST_INSIDE
            && !begins_chilled(unit, first, range)
    }
}

/// The unit a recorder seems to have changed from or to between two readings: the number before and the number after are
/// the same temperature on the other scale, within a degree, less than two minutes apart.
pub(super) fn changed_unit(
    from: f64,
    to: f64,
    dt_ms: f64,
    unit: TemperatureUnit,
) -> Option<&'static str> {
    const SOON_MS: f64 = 120_000.0;
    const SMALLEST: f64 = 20.0 * STEPS_PER_KELVIN;
    if dt_ms > SOON_MS || (to - from).abs() < SMALLEST {
        return None;
    }
    let shown = |steps: f64| match unit {
        TemperatureUnit::Celsius => steps / 9e3 - 273.15,
        TemperatureUnit::Fahrenheit => steps / 5e3 - 459.67,
        TemperatureUnit::Kelvin => steps / 9e3,
    };
    let (from, to) = (shown(from), shown(to));
    let fahrenheit = |celsius: f64| celsius * 1.8 + 32.0;
    let is_same = (to - fahrenheit(from)).abs() <= 1.0 || (from - fahrenheit(to)).abs() <= 1.0;
    match unit {
        TemperatureUnit::Celsius if is_same => Some(TemperatureUnit::Fahrenheit.name()),
        TemperatureUnit::Fahrenheit if is_same => Some(TemperatureUnit::Celsius.name()),
        _ => None,
    }
}

pub(super) fn check_unit(column: &Readings, found: &mut Findings) {
    let suspected = match column.unit {
        TemperatureUnit::Celsius => TemperatureUnit::Fahrenheit,
        TemperatureUnit::Fahrenheit | TemperatureUnit::Kelvin => TemperatureUnit::Kelvin,
    };
    let stored = column.unit.name();
    let (mut lowest, mut highest) = (f64::MAX, f64::MIN);
    for (row, &x) in column.steps.iter().enumerate() {
        if !x.is_finite() {
            continue;
        }
        lowest = lowest.min(x);
        highest = highest.max(x);
        if x > HOTTEST_INSIDE {
            let fault = if column.unit == TemperatureUnit::Kelvin {
                Fault::OutOfRange
            } else {
                Fault::UnitMixUp {
                    stored,
                    suspected: suspected.name(),
                }
            };
            found.add(Some(&column.place), row, fault);
        }
    }
    let range = Range { lowest, highest };
    let possible = match column.unit {
        TemperatureUnit::Celsius
            if highest <= HOTTEST_INSIDE && begins_chilled(column.unit, column.first(), range) =>
        {
            Some(TemperatureUnit::Fahrenheit)
        }
        TemperatureUnit::Fahrenheit if lowest >= CHILLED_F && highest < FROZEN_F => {
            Some(TemperatureUnit::Celsius)
        }
        _ => None,
    };
    if let Some(possible) = possible {
        let possible = possible.name();
        found.add_all(column, Fault::UnitDoubtful { stored, possible });
    }
    let like_celsius = lowest < FROZEN_F && highest > MILD_F && highest <= WARM_F;
    if column.unit == TemperatureUnit::Fahrenheit && like_celsius {
        let suspected = TemperatureUnit::Celsius.name();
        found.add_all(column, Fault::UnitMixUp { stored, suspected });
    }
}

impl Readings {
    /// The first reading that there is.
    pub(super) fn first(&self) -> Option<f64> {
        self.steps.iter().copied().find(|x| x.is_finite())
    }
}

/// Whether a Celsius column begins as a chilled bird would in Fahrenheit, and then is heated.
fn begins_chilled(unit: TemperatureUnit, first: Option<f64>, range: Range) -> bool {
    unit == TemperatureUnit::Celsius
        && range.highest >= HEATED_C
        && first.is_some_and(|x| x >= CHILLED_C.0 && x <= CHILLED_C.1)
}

/// No refrigerator stays below 28 °F; one that seems to was recorded in Celsius.
pub(super) fn check_refrigerator(column: &Readings, range: Range, found: &mut Findings) {
    if column.unit == TemperatureUnit::Fahrenheit && range.highest < FROZEN_F {
        let (stored, suspected) = (column.unit.name(), TemperatureUnit::Celsius.name());
        found.add_all(column, Fault::UnitMixUp { stored, suspected });
    }
}

#[cfg(test)]
mod tests {
    use super::super::{LogChecks, LogFault, TemperatureLog};
    use super::*;

    fn faults(text: &str) -> Vec<LogFault> {
        TemperatureLog::from_csv(text)
            .unwrap()
            .faults(&LogChecks::default())
    }

    fn celsius(rows: &[(&str, &str)]) -> Vec<LogFault> {
        let rows: Vec<String> = rows.iter().map(|(t, x)| format!("{t},{x}\n")).collect();
        faults(&format!("elapsed_s,core_temp_degC\n{}", rows.concat()))
    }

    #[test]
    fn units_taken_for_one_another_are_found() {
        // 105 °C inside a bird is under, at and over what food can reach.
        for (reading, fine) in [("104.999", true), ("105", true), ("105.001", false)] {
            let found = celsius(&[("0", reading), ("60", reading)]);
            assert_eq!(found.is_empty(), fine, "{reading}");
        }
        let changed = celsius(&[("0", "60"), ("60", "140.2")]);
        let blocked = changed.iter().any(|f| {
            f.fault
                == Fault::UnitMixUp {
                    stored: "degC",
                    suspected: "degF",
                }
                && f.first_row == 2
        });
        assert!(blocked, "{changed:?}");
        // The other way round it is the earlier readings that were in the other unit.
        let back = celsius(&[("0", "46.2"), ("60", "7.9")]);
        let suspected = back.iter().any(|f| {
            f.fault
                == Fault::UnitMixUp {
                    stored: "degC",
                    suspected: "degF",
                }
        });
        assert!(suspected, "{back:?}");
        let roasted = "elapsed_min,breast_temp_degF\n0,3\n10,20\n20,40\n30,60\n40,74\n";
        assert_eq!(
            faults(roasted)[0].fault,
            Fault::UnitMixUp {
                stored: "degF",
                suspected: "degC"
            }
        );
        // Oven air may be that hot.
        assert_eq!(faults("elapsed_s,oven_temp_degC\n0,160\n1,161\n"), []);
    }

    #[test]
    fn readings_that_fit_both_units_caution_and_do_not_block() {
        // 28 to 50 degrees at first, then 55 or more: a chilled bird part-way through its roast in Fahrenheit.
        for (first, last, is_doubtful) in [
            ("27.999", "74", false),
            ("28", "74", true),
            ("28.001", "74", true),
            ("49.999", "74", true),
            ("50", "74", true),
            ("50.001", "74", false),
            ("40", "54.999", false),
            ("40", "55", true),
            ("40", "55.001", true),
        ] {
            let found = celsius(&[("0", first), ("600", last)]);
            let doubt = Fault::UnitDoubtful {
                stored: "degC",
                possible: "degF",
            };
            let told = found.iter().any(|f| f.fault == doubt);
            assert_eq!(told, is_doubtful, "{first} {last}");
            assert!(!found.iter().any(|f| f.fault.blocks()));
        }
        let fahrenheit =
            |x, y| !faults(&format!("elapsed_s,core_temp_degF\n0,{x}\n60,{y}\n")).is_empty();
        assert!(!fahrenheit("-1.001", "5") && fahrenheit("-1", "5") && fahrenheit("-0.999", "5"));
        assert!(fahrenheit("5", "27.999") && !fahrenheit("5", "28") && !fahrenheit("5", "28.001"));
    }

    #[test]
    fn a_refrigerator_that_is_always_frozen_was_recorded_in_celsius() {
        for (warmest, is_blocked) in [("27.999", true), ("28", false), ("28.001", false)] {
            let text = format!("elapsed_s,refrigerator_temp_degF\n0,8\n60,{warmest}\n");
            let blocked = faults(&text).iter().any(|f| f.fault.blocks());
            assert_eq!(blocked, is_blocked, "{warmest}");
            assert_eq!(faults(&text.replace("refrigerator", "freezer")), []);
            assert_eq!(faults(&text.replace("degF", "degC")), []);
        }
    }
}
