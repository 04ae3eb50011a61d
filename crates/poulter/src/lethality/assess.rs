//! What a log says under a scheme, place by place.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::{Error, ErrorKind};
use crate::log::{
    ClearColumn, ColumnSlice, ElapsedSlice, LogChecks, LogFault, LogFaults, Place, SoundLog,
    TemperatureLog, Trace, check_columns, longest_at_or_above, time_between,
};
use crate::units::{
    Duration, DurationUnit, ExactTemperature, Fraction, FractionUnit, Temperature,
    TemperatureDifference, TemperatureDifferenceUnit, TemperatureUnit,
};

use super::kernel::{Integral, Integrator, integrate};
use super::scheme::Row;
use super::{LogReduction, NumberSource, Prepared, Scheme};

/// 50 °F and 130 °F: the band of the come-up time (FSIS Revised Appendix A, December 2021; read in a copy).
const COME_UP_FROM: i64 = ExactTemperature::from_millifahrenheit(50_000).ninths_of_millikelvin();
const COME_UP_TO: i64 = ExactTemperature::from_millifahrenheit(130_000).ninths_of_millikelvin();

/// Shorter logs are taken in first: the dwell reads some of their runs once for every row of a table.
const MANY: usize = 4_096;

/// What to work out.
///
/// ```
/// use poulter::lethality::LethalityRequest;
/// let request: LethalityRequest = serde_json::from_str(
///     r#"{"scheme": {"scheme": "poultry-7log-turkey"}, "sensor_uncertainty": "1 delta_degF"}"#,
/// ).unwrap();
/// assert_eq!(request.sensor_uncertainty.as_delta_fahrenheit(), 1.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LethalityRequest {
    /// The scheme.
    pub scheme: Scheme,
    /// How far the probes may read too high; from 0 to 10 kelvin, 0 when absent.
    #[serde(default = "no_difference")]
    pub sensor_uncertainty: TemperatureDifference,
}

const fn no_difference() -> TemperatureDifference {
    TemperatureDifference::from_steps(0, TemperatureDifferenceUnit::DeltaCelsius)
}

/// A row of a table with the time it was held.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct RowHold {
    /// The temperature of the row.
    pub temperature: Temperature,
    /// The printed hold; nought where the table counts the target as reached at once.
    pub required: Duration,
    /// The longest unbroken time at or above the temperature, the sensor uncertainty added to it.
    pub held: Duration,
}

/// Whether a row of the table was held for its printed time.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(tag = "outcome", rename_all = "kebab-case")]
pub enum DwellOutcome {
    /// It was; the row with the lowest temperature that was.
    Met {
        /// The row.
        row: RowHold,
    },
    /// No row was held; the row that came closest, or nothing when the first row was never reached.
    NotMet {
        /// The row with the largest share of its time.
        closest: Option<RowHold>,
    },
    /// The scheme has no rows: it is a D-value and a z-value.
    NoRows,
}

/// What the log says of one place.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PlaceLethality {
    /// The place.
    pub place: Place,
    /// The estimate, uncapped: beyond the target it says nothing about survivors.
    pub estimate: LogReduction,
    /// The estimate with every reading lowered by the sensor uncertainty.
    pub estimate_less_uncertainty: LogReduction,
    /// The lowered estimate for a reader: capped at the target, cut to a tenth below it.
    pub shown: String,
    /// The lowered estimate by the strict staircase: each row's rate up to the next row. A
    /// scheme without a row at each degree repeats the lowered estimate.
    pub strict: LogReduction,
    /// When the estimate came to the target, rounded up to the millisecond of the log's clock.
    pub target_reached: Option<Duration>,
    /// The same with every reading lowered.
    pub target_reached_less_uncertainty: Option<Duration>,
    /// The literal reading of the table, with the sensor uncertainty added to its temperatures.
    pub dwell: DwellOutcome,
    /// Time from 50 °F to 130 °F inclusive until the lowered estimate came to the target, or to the end.
    pub come_up: Duration,
    /// How far the mean-of-ends sum of the estimate lies from the exact integral, as a share of the integral: above
    /// 2 % the readings are too far apart. Nothing without kill, or above 10000 %.
    pub sampling_gap: Option<Fraction>,
}

/// What the log says under a scheme.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Lethality {
    /// The scheme.
    pub scheme: Scheme,
    /// Its target.
    pub target: LogReduction,
    /// Where its numbers come from.
    pub citation: NumberSource,
    /// Every place inside the food.
    pub places: Vec<PlaceLethality>,
    /// The place with the least kill: the one that decides.
    pub governing: Place,
    /// What must stand beside the figures.
    pub cautions: Vec<LogFault>,
}

impl LethalityRequest {
    /// A request without sensor uncertainty.
    #[must_use]
    pub const fn new(scheme: Scheme) -> Self {
        Self {
            scheme,
            sensor_uncertainty: no_difference(),
        }
    }

    /// Works the log out, place by place. Places on or round the food are passed over.
    ///
    /// # Errors
    ///
    /// A log without a place inside the food, an uncertainty outside 0 to 10 kelvin, or a D-value, z-value or
    /// target of the caller's out of range.
    pub fn assess(&self, log: &SoundLog<'_>) -> Result<Lethality, Error> {
        let judge = Judge::of(self)?;
        let places = log.inside();
        let places = places.map(|(place, trace)| judge.assess(place, trace, judge.plain(trace)));
        self.answer(places.collect(), log.cautions().to_vec())
    }

    /// Works columns of the caller's out, long ones where they lie: without a copy of them where the log has no fault.
    /// The answer is that of [`LethalityRequest::assess`] for a [`TemperatureLog`] of the same columns.
    ///
    /// ```
    /// use poulter::lethality::{LethalityRequest, Scheme};
    /// use poulter::log::{ColumnSlice, ElapsedSlice, LogChecks, Place};
    /// use poulter::units::TemperatureUnit;
    /// let clock = ElapsedSlice { elapsed_s: &[0.0, 294.0] };
    /// let core = ColumnSlice {
    ///     place: Place::CORE,
    ///     unit: TemperatureUnit::Fahrenheit,
    ///     temperatures: &[150.0, 150.0],
    /// };
    /// let request = LethalityRequest::new(Scheme::Poultry7LogTurkey);
    /// let kill = request.assess_columns(clock, &[core], &LogChecks::default())?.expect("no fault");
    /// assert_eq!(kill.places[0].shown, "at least 7 log10");
    /// # Ok::<(), poulter::Error>(())
    /// ```
    ///
    /// # Errors
    ///
    /// Those of [`TemperatureLog::from_slices`] and of [`LethalityRequest::assess`]. The faults that hide the kill are
    /// the inner result.
    pub fn assess_columns(
        &self,
        clock: ElapsedSlice<'_>,
        columns: &[ColumnSlice<'_>],
        checks: &LogChecks,
    ) -> Result<Result<Lethality, LogFaults>, Error> {
        check_columns(clock, columns)?;
        let judge = Judge::of(self)?;
        if clock.elapsed_s.len() >= MANY
            && let Some(places) = judge.in_place(clock, columns, checks)
        {
            return self.answer(places, Vec::new()).map(Ok);
        }
        let log = TemperatureLog::from_slices(clock, columns)?;
        match log.sound(checks) {
            Ok(sound) => self.assess(&sound).map(Ok),
            Err(faults) => Ok(Err(faults)),
        }
    }

    fn answer(
        &self,
        places: Vec<PlaceLethality>,
        cautions: Vec<LogFault>,
    ) -> Result<Lethality, Error> {
        let least = places.iter().min_by(|a, b| {
            let order = |p: &PlaceLethality| p.estimate_less_uncertainty.as_log10();
            order(a).total_cmp(&order(b))
        });
        let Some(governing) = least.map(|place| place.place.clone()) else {
            return Err(Error::new(
                ErrorKind::MissingField,
                "",
                "a place inside the food is needed, such as breast, thigh or core",
            )
            .at("places"));
        };
        Ok(Lethality {
            scheme: self.scheme,
            target: self.scheme.target(),
            citation: self.scheme.citation(),
            places,
            governing,
            cautions,
        })
    }

    pub(super) fn lowered_by(&self) -> Result<i64, Error> {
        let steps = self.sensor_uncertainty.steps();
        if (0..=10 * 9_000).contains(&steps) {
            return Ok(steps);
        }
        Err(Error::new(
            ErrorKind::OutOfRange,
            self.sensor_uncertainty,
            "a sensor uncertainty from 0 to 10 kelvin (18 delta_degF) is needed",
        )
        .at("sensor_uncertainty"))
    }
}

/// A scheme made ready for places.
struct Judge {
    ready: Prepared,
    rows: Vec<Row>,
    by: i64,
}

impl Judge {
    fn of(request: &LethalityRequest) -> Result<Self, Error> {
        Ok(Self {
            ready: request.prepared()?,
            rows: request.scheme.rows(),
            by: request.lowered_by()?,
        })
    }

    /// Every place; nothing where a check might find something.
    fn in_place(
        &self,
        clock: ElapsedSlice<'_>,
        columns: &[ColumnSlice<'_>],
        checks: &LogChecks,
    ) -> Option<Vec<PlaceLethality>> {
        let of_place = |column: &ColumnSlice<'_>| {
            let mut sum = Integrator::new(&self.ready.curve, self.ready.target);
            let clear = ClearColumn::of(clock, column, checks, &mut sum)?;
            Some(self.assess(&column.place, clear.trace(), sum.answer()))
        };
        columns.iter().map(of_place).collect()
    }

    /// The integral of the readings as they are.
    fn plain(&self, trace: Trace<'_>) -> Integral {
        integrate(&self.ready.curve, trace, 0.0, self.ready.target)
    }

    fn assess(&self, place: &Place, trace: Trace<'_>, plain: Integral) -> PlaceLethality {
        let lowered = if self.by == 0 {
            plain
        } else {
            self.ready.integral(trace)
        };
        let less = LogReduction::of(lowered.exact);
        PlaceLethality {
            place: place.clone(),
            estimate: LogReduction::of(plain.exact),
            estimate_less_uncertainty: less,
            shown: less.shown_against(LogReduction::of(self.ready.target)),
            strict: LogReduction::of(lowered.strict),
            target_reached: plain.reached_ms.map(milliseconds),
            target_reached_less_uncertainty: lowered.reached_ms.map(milliseconds),
            dwell: dwell(&self.rows, trace, self.by),
            come_up: come_up(trace, lowered.reached_ms),
            sampling_gap: sampling_gap(&plain),
        }
    }
}

fn dwell(rows: &[Row], trace: Trace<'_>, by: i64) -> DwellOutcome {
    if rows.is_empty() {
        return DwellOutcome::NoRows;
    }
    let mut closest: Option<(Row, i64)> = None;
    for row in rows {
        let limit = row.steps.saturating_add(by);
        let Some((_, held)) = longest_at_or_above(trace, limit) else {
            break;
        };
        if held >= row.hold_ms {
            return DwellOutcome::Met {
                row: row_hold(*row, held),
            };
        }
        // Shares as whole numbers: held/hold against held/hold.
        let nearer = closest.is_none_or(|(best, best_held)| {
            i128::from(held) * i128::from(best.hold_ms)
                > i128::from(best_held) * i128::from(row.hold_ms)
        });
        if nearer {
            closest = Some((*row, held));
        }
    }
    DwellOutcome::NotMet {
        closest: closest.map(|(row, held)| row_hold(row, held)),
    }
}

fn come_up(trace: Trace<'_>, reached_ms: Option<f64>) -> Duration {
    // Up to the reading by which the target was reached: a whole reading long rather than short.
    let trace = reached_ms.map_or(trace, |reached| trace.until(reached));
    let ms = time_between(trace, COME_UP_FROM, COME_UP_TO);
    Duration::from_steps(ms, DurationUnit::Minute)
}

fn row_hold(row: Row, held_ms: i64) -> RowHold {
    let unit = if row.fahrenheit {
        TemperatureUnit::Fahrenheit
    } else {
        TemperatureUnit::Celsius
    };
    let zero = Temperature::from_exact(ExactTemperature::from_millikelvin(0), unit);
    let above_zero =
        TemperatureDifference::from_steps(row.steps, TemperatureDifferenceUnit::Kelvin);
    RowHold {
        temperature: zero.raised_by(above_zero),
        required: Duration::from_steps(row.hold_ms, DurationUnit::Second),
        held: Duration::from_steps(held_ms, DurationUnit::Second),
    }
}

fn milliseconds(ms: f64) -> Duration {
    #[allow(clippy::cast_possible_truncation)] // whole milliseconds below 2⁴⁰
    Duration::from_steps(ms as i64, DurationUnit::Second)
}

fn sampling_gap(integral: &Integral) -> Option<Fraction> {
    if integral.exact <= 0.0 {
        return None;
    }
    let share = (integral.trapezoid - integral.exact).abs() / integral.exact;
    let exact = Fraction::from_ratio((share * 1e9).round() / 1e9).ok()?;
    Some(exact.in_unit(FractionUnit::Percent))
}
