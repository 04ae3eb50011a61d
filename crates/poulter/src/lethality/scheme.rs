//! Schemes: a target with the rates that belong to it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::{Error, ErrorKind};
use crate::math;
use crate::units::{Duration, ExactTemperature, Temperature, TemperatureDifference};

use super::LogReduction;
use super::curve::{Curve, FirstOrder, TableCurve};
use super::tables::{
    CHICKEN_12_FAT, HoldColumn, LONGER_OF_BOTH, MEAT, NumberSource, ReadingStatus, TURKEY_12_FAT,
    UK_70_2, UK_ROWS, UK_TARGET, UK_Z,
};

/// A published lethality scheme, or one of the caller's.
///
/// The poultry and meat tables are processor guidance: they do not lower the consumer minimum of 165 °F.
///
/// ```
/// use poulter::lethality::Scheme;
/// let scheme: Scheme = serde_json::from_str(r#"{"scheme": "poultry-7log"}"#).unwrap();
/// assert_eq!(scheme.target().as_log10(), 7.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "scheme", deny_unknown_fields)]
#[non_exhaustive]
pub enum Scheme {
    /// Chicken, 7-log10 Salmonella, 12 % fat column: for chicken of any fat.
    #[serde(rename = "poultry-7log-chicken")]
    Poultry7LogChicken,
    /// Turkey, 7-log10 Salmonella, 12 % fat column: for turkey of any fat.
    #[serde(rename = "poultry-7log-turkey")]
    Poultry7LogTurkey,
    /// The longer of the two: for every other bird and for mixtures.
    #[serde(rename = "poultry-7log")]
    Poultry7Log,
    /// Meat without poultry, 6.5-log10 Salmonella. Never for poultry.
    #[serde(rename = "meat-6.5log")]
    Meat65Log,
    /// 70 °C for 2 min or its equivalent with z 7.5 °C, from 60 °C to 80 °C; six powers of ten of Listeria.
    #[serde(rename = "uk-70-2")]
    Uk702,
    /// The caller's own D-value and z-value.
    #[serde(rename = "own")]
    Own(DecimalReduction),
}

/// A first-order model of the caller's: D(T) = D · 10^((T_ref − T)/z).
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DecimalReduction {
    /// The temperature at which D was measured.
    pub reference: Temperature,
    /// D, the time for one power of ten at the reference; from 1 ms to 7 d.
    pub d_value: Duration,
    /// z, the rise in temperature that shortens D to a tenth; from 3 to 30 kelvin.
    pub z_value: TemperatureDifference,
    /// The reduction asked for; above 0, to 30 log10.
    pub target: LogReduction,
    /// No kill is counted below this temperature; none is left out when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lowest: Option<Temperature>,
    /// The rate stops rising at this temperature; it never stops when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub highest: Option<Temperature>,
}

/// One row of a scheme: a temperature in steps and its hold; an instant row holds for nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Row {
    pub(super) steps: i64,
    pub(super) hold_ms: i64,
    pub(super) fahrenheit: bool,
}

impl Scheme {
    /// The reduction the scheme asks for.
    #[must_use]
    pub fn target(&self) -> LogReduction {
        match self {
            Self::Poultry7LogChicken => LogReduction::of(CHICKEN_12_FAT.target),
            Self::Poultry7LogTurkey | Self::Poultry7Log => LogReduction::of(TURKEY_12_FAT.target),
            Self::Meat65Log => LogReduction::of(MEAT.target),
            Self::Uk702 => LogReduction::of(UK_TARGET),
            Self::Own(own) => own.target,
        }
    }

    /// Where the scheme comes from.
    #[must_use]
    pub fn citation(&self) -> NumberSource {
        match self {
            Self::Poultry7LogChicken => CHICKEN_12_FAT.citation,
            Self::Poultry7LogTurkey => TURKEY_12_FAT.citation,
            Self::Poultry7Log => LONGER_OF_BOTH,
            Self::Meat65Log => MEAT.citation,
            Self::Uk702 => UK_70_2,
            Self::Own(_) => NumberSource {
                document: "given by the caller",
                section: "",
                status: ReadingStatus::Caller,
            },
        }
    }

    pub(crate) fn curve(&self) -> Result<Curve, Error> {
        Ok(match self {
            Self::Poultry7LogChicken => Curve::Table(Box::new(TableCurve::of(&CHICKEN_12_FAT))),
            Self::Poultry7LogTurkey => Curve::Table(Box::new(TableCurve::of(&TURKEY_12_FAT))),
            Self::Poultry7Log => Curve::Table(Box::new(TableCurve::new(
                TURKEY_12_FAT.first_f,
                &longer_holds(),
                TURKEY_12_FAT.target,
            ))),
            Self::Meat65Log => Curve::Table(Box::new(TableCurve::of(&MEAT))),
            Self::Uk702 => {
                let (base_c, base_ms) = UK_ROWS[2];
                Curve::FirstOrder(FirstOrder::new(
                    base_ms as f64 / UK_TARGET,
                    UK_Z,
                    celsius_steps(base_c) as f64,
                    celsius_steps(UK_ROWS[0].0) as f64,
                    celsius_steps(UK_ROWS[4].0) as f64,
                ))
            }
            Self::Own(own) => Curve::FirstOrder(own.line()?),
        })
    }

    /// The printed rows, shortest temperature first; a scheme given by D and z has none.
    pub(super) fn rows(&self) -> Vec<Row> {
        match self {
            Self::Poultry7LogChicken => rows_of(&CHICKEN_12_FAT, CHICKEN_12_FAT.holds_ms),
            Self::Poultry7LogTurkey => rows_of(&TURKEY_12_FAT, TURKEY_12_FAT.holds_ms),
            Self::Poultry7Log => rows_of(&TURKEY_12_FAT, &longer_holds()),
            Self::Meat65Log => rows_of(&MEAT, MEAT.holds_ms),
            Self::Uk702 => UK_ROWS
                .iter()
                .map(|&(celsius, hold_ms)| Row {
                    steps: celsius_steps(celsius),
                    hold_ms,
                    fahrenheit: false,
                })
                .collect(),
            Self::Own(_) => Vec::new(),
        }
    }
}

impl DecimalReduction {
    /// A model from measured D-values or equivalent hold times: least squares of log10 time on temperature.
    ///
    /// `points` are times at temperatures that each give `per_point`; D is taken at `reference`. z is rounded to
    /// a millikelvin and D up to a millisecond.
    ///
    /// ```
    /// use poulter::lethality::{DecimalReduction, LogReduction};
    /// use poulter::units::{Duration, Temperature};
    /// let point = |t: &str, hold: &str| Ok((Temperature::parse(t)?, Duration::parse(hold)?));
    /// let points = [point("60 °C", "667 min")?, point("65 °C", "75 min")?, point("70 °C", "7 min")?,
    ///     point("75 °C", "0.8 min")?, point("80 °C", "0.1 min")?];
    /// let five = LogReduction::from_log10(5.0)?;
    /// let model = DecimalReduction::fit(&points, five, Temperature::parse("70 °C")?, five)?;
    /// assert!((model.z_value.as_kelvin() - 5.197).abs() < 0.001);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    ///
    /// # Errors
    ///
    /// Fewer than two different temperatures, a time of nought, or a D-value, z-value or reduction out of range.
    pub fn fit(
        points: &[(Temperature, Duration)],
        per_point: LogReduction,
        reference: Temperature,
        target: LogReduction,
    ) -> Result<Self, Error> {
        let refuse = |expected: &str| {
            Err(Error::new(ErrorKind::OutOfRange, points.len(), expected).at("points"))
        };
        if points.iter().any(|(_, time)| time.steps() <= 0) {
            return refuse("times above nought are needed");
        }
        let log10 = |time: &Duration| math::ln(time.as_seconds()) / std::f64::consts::LN_10;
        let count = points.len() as f64;
        let mean_t = points.iter().map(|(t, _)| t.as_celsius()).sum::<f64>() / count;
        let mean_y = points.iter().map(|(_, time)| log10(time)).sum::<f64>() / count;
        let (mut across, mut along) = (0.0, 0.0);
        for (t, time) in points {
            let dt = t.as_celsius() - mean_t;
            across += dt * (log10(time) - mean_y);
            along += dt * dt;
        }
        // Also false without points, and when every temperature is the same.
        if !(along > 0.0 && across < 0.0) {
            return refuse(
                "two or more temperatures, with shorter times at the higher ones, are needed",
            );
        }
        let slope = across / along;
        let at_reference = mean_y + slope * (reference.as_celsius() - mean_t);
        let d_seconds = math::pow(10.0, at_reference) / per_point.as_log10();
        let model = Self {
            reference,
            d_value: Duration::from_seconds((d_seconds * 1e3).ceil() / 1e3)
                .map_err(|e| e.at("d_value"))?,
            z_value: TemperatureDifference::from_kelvin((-1e3 / slope).round() / 1e3)
                .map_err(|e| e.at("z_value"))?,
            target,
            lowest: None,
            highest: None,
        };
        model.line()?;
        Ok(model)
    }

    fn line(&self) -> Result<FirstOrder, Error> {
        let refuse = |field: &str, given: &dyn std::fmt::Display, expected: &str| {
            Err(Error::new(ErrorKind::OutOfRange, given, expected).at(field))
        };
        let d_ms = self.d_value.steps();
        if !(1..=604_800_000).contains(&d_ms) {
            return refuse(
                "d_value",
                &self.d_value,
                "a D-value from 1 ms to 7 d is needed",
            );
        }
        if !(3 * 9_000..=30 * 9_000).contains(&self.z_value.steps()) {
            return refuse(
                "z_value",
                &self.z_value,
                "a z-value from 3 to 30 kelvin (5.4 to 54 delta_degF) is needed",
            );
        }
        let target = self.target.as_log10();
        if !(target > 0.0 && target <= 30.0) {
            return refuse(
                "target",
                &self.target,
                "a target above 0 and up to 30 log10 is needed",
            );
        }
        let steps = |t: Temperature| t.exact().ninths_of_millikelvin() as f64;
        let floor = self.lowest.map_or(f64::NEG_INFINITY, steps);
        let cap = self.highest.map_or(f64::INFINITY, steps);
        if floor >= cap {
            return Err(Error::new(
                ErrorKind::Conflict,
                self.highest.map_or_else(String::new, |t| t.to_string()),
                "a highest temperature above the lowest is needed",
            )
            .at("highest"));
        }
        let z = self.z_value.as_kelvin();
        Ok(FirstOrder::new(
            d_ms as f64,
            z,
            steps(self.reference),
            floor,
            cap,
        ))
    }
}

const fn celsius_steps(celsius: i64) -> i64 {
    ExactTemperature::from_millicelsius(celsius * 1000).ninths_of_millikelvin()
}

const fn fahrenheit_steps(fahrenheit: i64) -> i64 {
    ExactTemperature::from_millifahrenheit(fahrenheit * 1000).ninths_of_millikelvin()
}

/// The longer of the two holds at each degree that either column prints.
fn longer_holds() -> Vec<i64> {
    let chicken = CHICKEN_12_FAT.holds_ms.iter().copied();
    let chicken = chicken.chain(std::iter::repeat(0));
    let turkey = TURKEY_12_FAT.holds_ms.iter();
    turkey.zip(chicken).map(|(&t, c)| t.max(c)).collect()
}

fn rows_of(column: &HoldColumn, holds_ms: &[i64]) -> Vec<Row> {
    let degrees = column.first_f..=column.instant_f;
    let holds = holds_ms.iter().copied().chain(std::iter::once(0));
    degrees
        .zip(holds)
        .map(|(fahrenheit, hold_ms)| Row {
            steps: fahrenheit_steps(fahrenheit),
            hold_ms,
            fahrenheit: true,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn other_birds_take_the_longer_time_where_the_species_cross_over() {
        let rows = Scheme::Poultry7Log.rows();
        let hold = |f: i64| {
            let row = rows
                .iter()
                .find(|row| row.steps == fahrenheit_steps(f))
                .unwrap();
            row.hold_ms
        };
        // FSIS 12 % fat columns: chicken is longer up to 141 °F (28.7 min), turkey from 142 °F (23.7 min).
        assert_eq!(hold(141), 28 * 60_000 + 42_000);
        assert_eq!(hold(142), 23 * 60_000 + 42_000);
        assert_eq!(hold(164), 11_700);
        assert_eq!(hold(165), 0);
    }

    #[test]
    fn own_values_are_tested_under_at_and_over_their_limits() {
        let own = |d: &str, z: &str, target: f64| {
            Scheme::Own(DecimalReduction {
                reference: Temperature::parse("60 °C").unwrap(),
                d_value: Duration::parse(d).unwrap(),
                z_value: TemperatureDifference::parse(z).unwrap(),
                target: LogReduction::of(target),
                lowest: None,
                highest: None,
            })
            .curve()
            .is_ok()
        };
        assert!(
            !own("0 s", "5 K", 7.0) && own("0.001 s", "5 K", 7.0) && own("0.002 s", "5 K", 7.0)
        );
        assert!(
            own("167.9 h", "5 K", 7.0) && own("7 d", "5 K", 7.0) && !own("168.1 h", "5 K", 7.0)
        );
        assert!(
            !own("1 s", "2.999 K", 7.0) && own("1 s", "3 K", 7.0) && own("1 s", "3.001 K", 7.0)
        );
        assert!(
            own("1 s", "29.999 K", 7.0) && own("1 s", "30 K", 7.0) && !own("1 s", "30.001 K", 7.0)
        );
        assert!(!own("1 s", "5 K", 0.0) && own("1 s", "5 K", 0.01) && !own("1 s", "5 K", -1.0));
        assert!(own("1 s", "5 K", 29.9) && own("1 s", "5 K", 30.0) && !own("1 s", "5 K", 30.1));
    }

    #[test]
    fn the_wire_refuses_what_it_does_not_know() {
        let text = r#"{"scheme":"own","reference":"70 °C","d_value":"20 s","z_value":"7.5 delta_degC",
                       "target":{"value":6,"unit":"log10"}}"#;
        assert!(serde_json::from_str::<Scheme>(text).is_ok());
        for bad in [
            r#"{"scheme":"poultry"}"#,
            r#"{"scheme":"own"}"#,
            &text.replace("\"target\"", "\"x\":1,\"target\""),
        ] {
            assert!(serde_json::from_str::<Scheme>(bad).is_err(), "{bad}");
        }
    }
}
