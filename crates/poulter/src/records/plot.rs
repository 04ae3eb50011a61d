//! A log as a table to plot.

use std::fmt::Write as _;

use crate::error::Error;
use crate::lethality::Scheme;
use crate::log::{LogChecks, Place, Room, TemperatureLog};
use crate::units::TemperatureUnit;

const MS_PER_S: f64 = 1e3;
const MS_PER_MIN: f64 = 6e4;

/// Elapsed time, temperature and rate of change by place, and cumulated kill of every sound place inside the food.
///
/// Nothing is filled in: a cell without a value stays empty.
#[derive(Clone, Debug, PartialEq)]
pub struct PlotTable {
    columns: Vec<(String, Vec<Option<f64>>)>,
}

impl PlotTable {
    /// The table of a log, with kill under `scheme`.
    ///
    /// # Errors
    ///
    /// A D-value, z-value or target of the caller's out of range.
    ///
    /// ```
    /// use poulter::lethality::Scheme;
    /// use poulter::log::TemperatureLog;
    /// use poulter::records::PlotTable;
    /// let log = TemperatureLog::from_csv("elapsed_min,core_temp_degC\n0,20\n2,21\n")?;
    /// let table = PlotTable::of(&log, &Scheme::Poultry7Log, &Default::default())?;
    /// assert_eq!(
    ///     table.to_csv(),
    ///     "elapsed_s,core_temp_degC,core_rate_degC_per_min,core_log10_reduction\n0,20,,0\n120,21,0.5,0\n",
    /// );
    /// # Ok::<(), poulter::Error>(())
    /// ```
    pub fn of(log: &TemperatureLog, scheme: &Scheme, checks: &LogChecks) -> Result<Self, Error> {
        let curve = scheme.curve().map_err(|error| error.at("scheme"))?;
        let elapsed = (0..log.len()).map(|row| log.elapsed(row).map(|at| at.steps() as f64));
        let elapsed: Vec<Option<f64>> = elapsed.collect();
        let seconds = elapsed.iter().map(|ms| ms.map(|ms| ms / MS_PER_S));
        let mut columns = vec![("elapsed_s".to_owned(), seconds.collect())];
        let places: Vec<Place> = log.places().cloned().collect();
        for place in &places {
            let shown = shown(log, place);
            let unit = log.unit(place).map_or("degC", TemperatureUnit::name);
            let rates = rates(&elapsed, &shown);
            columns.push((format!("{place}_temp_{unit}"), shown));
            columns.push((format!("{place}_rate_{unit}_per_min"), rates));
            let Ok(sound) = log.sound_at(std::slice::from_ref(place), checks)? else {
                continue;
            };
            for (_, trace) in sound.inside() {
                let mut sum = 0.0;
                let mut kill = vec![Some(0.0)];
                let mut room = Room::EMPTY;
                for run in trace.runs() {
                    let (clock, steps) = run.read(&mut room);
                    for (t, x) in clock.windows(2).zip(steps.windows(2)) {
                        sum += curve.segment((t[0], t[1]), (x[0], x[1]));
                        kill.push(Some(sum));
                    }
                }
                columns.push((format!("{place}_log10_reduction"), kill));
            }
        }
        Ok(Self { columns })
    }

    /// The table as comma separated text.
    #[must_use]
    pub fn to_csv(&self) -> String {
        let names: Vec<&str> = self.columns.iter().map(|(name, _)| name.as_str()).collect();
        let mut text = names.join(",");
        text.push('\n');
        let rows = self.columns.first().map_or(0, |(_, values)| values.len());
        for row in 0..rows {
            for (at, (_, values)) in self.columns.iter().enumerate() {
                if at > 0 {
                    text.push(',');
                }
                if let Some(value) = values.get(row).copied().flatten() {
                    // Writing to a String cannot fail.
                    let _ = write!(text, "{value}");
                }
            }
            text.push('\n');
        }
        text
    }
}

fn shown(log: &TemperatureLog, place: &Place) -> Vec<Option<f64>> {
    let readings = (0..log.len()).map(|row| log.temperature(place, row));
    let number = |reading: crate::units::Temperature| match reading.unit() {
        TemperatureUnit::Celsius => reading.as_celsius(),
        TemperatureUnit::Fahrenheit => reading.as_fahrenheit(),
        TemperatureUnit::Kelvin => reading.as_kelvin(),
    };
    readings.map(|reading| reading.map(number)).collect()
}

/// The change since the row before, for each minute; empty where either row lacks a value or time stands still.
fn rates(elapsed: &[Option<f64>], shown: &[Option<f64>]) -> Vec<Option<f64>> {
    let rate = |row: usize| {
        let before = row.checked_sub(1)?;
        let dt = elapsed.get(row).copied()?? - elapsed.get(before).copied()??;
        let dx = shown.get(row).copied()?? - shown.get(before).copied()??;
        (dt > 0.0).then(|| dx / (dt / MS_PER_MIN))
    };
    (0..shown.len()).map(rate).collect()
}
