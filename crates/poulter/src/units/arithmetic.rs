//! Sums, differences, multiples and ratios of quantities whose sort is known only from their unit.

use crate::error::{Error, ErrorKind};

use super::Temperature;
use super::any::AnyQuantity;
use super::decimal::Decimal;

use AnyQuantity as Any;

impl AnyQuantity {
    /// The sum, in this quantity's unit.
    ///
    /// A temperature and a difference give a temperature; two temperatures have no sum.
    ///
    /// Errors: quantities of different sorts, two temperatures, or more than can be held.
    ///
    /// ```
    /// use poulter::units::AnyQuantity;
    /// let sum = AnyQuantity::parse("4 lb")?.plus(AnyQuantity::parse("8 oz")?)?;
    /// assert_eq!(sum, AnyQuantity::parse("4.5 lb")?);
    /// let warmer = AnyQuantity::parse("40 °F")?.plus(AnyQuantity::parse("5 delta_degC")?)?;
    /// assert_eq!(warmer, AnyQuantity::parse("49 °F")?);
    /// assert!(warmer.plus(warmer).is_err());
    /// # Ok::<(), poulter::Error>(())
    /// ```
    pub fn plus(self, other: Self) -> Result<Self, Error> {
        match (self, other) {
            (Any::Temperature(warm), Any::TemperatureDifference(by))
            | (Any::TemperatureDifference(by), Any::Temperature(warm)) => {
                moved(warm, by.steps()).ok_or_else(|| too_much(self))
            }
            _ => self
                .with(other, i64::checked_add)
                .unwrap_or_else(|| Err(no_sum("added", self, other))),
        }
    }

    /// The difference, in this quantity's unit; negative where `other` is more.
    ///
    /// Two temperatures give a difference of temperatures, and a temperature less a difference is a temperature.
    ///
    /// Errors: quantities of different sorts, a temperature taken from a difference, or more than can be held.
    ///
    /// ```
    /// use poulter::units::AnyQuantity;
    /// let margin = AnyQuantity::parse("160 °F")?.minus(AnyQuantity::parse("165 °F")?)?;
    /// assert_eq!(margin, AnyQuantity::parse("-5 delta_degF")?);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    pub fn minus(self, other: Self) -> Result<Self, Error> {
        match (self, other) {
            (Any::Temperature(one), Any::Temperature(other)) => {
                Ok(Any::TemperatureDifference(one.above(other)))
            }
            (Any::Temperature(warm), Any::TemperatureDifference(by)) => by
                .steps()
                .checked_neg()
                .and_then(|steps| moved(warm, steps))
                .ok_or_else(|| too_much(self)),
            _ => self
                .with(other, i64::checked_sub)
                .unwrap_or_else(|| Err(no_sum("subtracted", self, other))),
        }
    }

    /// A multiple, rounded to the nearest step.
    ///
    /// Errors: a temperature, of which there is no multiple, a factor that is not finite, or more than can be held.
    ///
    /// ```
    /// use poulter::units::AnyQuantity;
    /// assert_eq!(AnyQuantity::parse("20 min")?.times(13.0)?, AnyQuantity::parse("4 h 20 min")?);
    /// assert!(AnyQuantity::parse("20 °C")?.times(2.0).is_err());
    /// # Ok::<(), poulter::Error>(())
    /// ```
    pub fn times(self, factor: f64) -> Result<Self, Error> {
        let factor = Decimal::from_f64(factor)?;
        self.each(|steps| factor.times(steps))
    }

    /// An equal part, rounded to the nearest step.
    ///
    /// Errors: as for [`times`](Self::times), and a divisor of zero.
    pub fn divided_by(self, divisor: f64) -> Result<Self, Error> {
        let part = Decimal::from_f64(divisor)?.inverse().ok_or_else(|| {
            Error::new(
                ErrorKind::OutOfRange,
                divisor,
                "a divisor other than 0 is needed",
            )
        })?;
        self.each(|steps| part.times(steps))
    }

    /// How many times `other` this quantity is.
    ///
    /// Errors: quantities of different sorts, temperatures, or a divisor of nothing.
    ///
    /// ```
    /// use poulter::units::AnyQuantity;
    /// assert_eq!(AnyQuantity::parse("3 lb")?.ratio(AnyQuantity::parse("8 oz")?)?.value, 6.0);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    pub fn ratio(self, other: Self) -> Result<uom::si::f64::Ratio, Error> {
        let (Some(above), Some(below), true) = (self.amount(), other.amount(), self.like(other))
        else {
            return Err(no_sum("divided", self, other));
        };
        if below == 0 {
            let expected = "a divisor other than nothing is needed";
            return Err(Error::new(ErrorKind::OutOfRange, other, expected));
        }
        Ok(uom::si::f64::Ratio::new::<uom::si::ratio::ratio>(
            above as f64 / below as f64,
        ))
    }

    fn like(self, other: Self) -> bool {
        std::mem::discriminant(&self) == std::mem::discriminant(&other)
    }

    /// The steps of an amount; a temperature is a point on a scale and no amount.
    fn amount(self) -> Option<i64> {
        (!matches!(self, Any::Temperature(_))).then(|| self.steps())
    }

    /// `None` where the two have no sum.
    fn with(
        self,
        other: Self,
        act: impl Fn(i64, i64) -> Option<i64>,
    ) -> Option<Result<Self, Error>> {
        let by = other.amount().filter(|_| self.like(other))?;
        Some(self.each(|steps| act(steps, by)))
    }

    fn each(self, act: impl Fn(i64) -> Option<i64>) -> Result<Self, Error> {
        let Some(steps) = self.amount() else {
            let expected = "an amount is needed; take the difference of two temperatures first";
            return Err(Error::new(ErrorKind::UnitUnknown, self, expected));
        };
        Self::from_steps(act(steps).ok_or_else(|| too_much(self))?, self.unit())
    }
}

fn moved(temperature: Temperature, steps: i64) -> Option<AnyQuantity> {
    temperature.moved_by(steps).map(Any::Temperature)
}

fn too_much(given: AnyQuantity) -> Error {
    let expected = "a result that can be held is needed";
    Error::new(ErrorKind::OutOfRange, given, expected)
}

fn no_sum(act: &str, one: AnyQuantity, other: AnyQuantity) -> Error {
    let expected = if matches!(
        (one, other),
        (Any::Temperature(_), _) | (_, Any::Temperature(_))
    ) {
        "a temperature goes with a difference such as delta_degC or delta_degF"
    } else {
        "two quantities of the same sort are needed"
    };
    let given = format!("{one} and {other}, to be {act}");
    Error::new(ErrorKind::UnitUnknown, given, expected)
}

#[cfg(test)]
mod tests {
    use super::super::{TemperatureDifference, TemperatureDifferenceUnit};
    use super::*;

    fn read(text: &str) -> AnyQuantity {
        AnyQuantity::parse(text).unwrap()
    }

    #[test]
    fn every_sort_adds_up_and_comes_apart_again() {
        for (one, other, sum) in [
            ("4 lb", "8 oz", "4.5 lb"),
            ("1 h", "30 min", "90 min"),
            ("1 gal", "4 cup", "5 qt"),
            ("1 ft", "-1 in", "11 in"),
            ("8 %", "2 %", "10 %"),
            ("9 delta_degF", "5 delta_degC", "10 delta_degC"),
            ("40 °F", "5 delta_degC", "49 °F"),
        ] {
            let (one, other, sum) = (read(one), read(other), read(sum));
            assert_eq!(one.plus(other).unwrap(), sum);
            assert_eq!(other.plus(one).unwrap(), sum);
            assert_eq!(sum.minus(other).unwrap(), one);
        }
    }

    #[test]
    fn what_has_no_sum_is_refused_by_name() {
        for (one, other) in [("1 lb", "1 h"), ("20 °C", "20 °C"), ("20 °C", "1 h")] {
            let error = read(one).plus(read(other)).unwrap_err();
            assert_eq!(error.kind(), ErrorKind::UnitUnknown, "{one} {other}");
        }
        assert!(read("1 lb").minus(read("1 h")).is_err());
        assert!(read("1 delta_degC").minus(read("1 °C")).is_err());
        assert!(read("1 °C").times(2.0).is_err());
        assert!(read("1 °C").divided_by(2.0).is_err());
        assert!(read("2 °C").ratio(read("1 °C")).is_err());
        assert!(read("2 lb").ratio(read("1 h")).is_err());
    }

    #[test]
    fn a_temperature_stays_on_its_grid_and_in_its_range() {
        // A ninth of a millikelvin is too little to move a temperature kept to a thousandth of a degree.
        let least = AnyQuantity::TemperatureDifference(TemperatureDifference::from_steps(
            1,
            TemperatureDifferenceUnit::DeltaCelsius,
        ));
        assert_eq!(read("5 °C").plus(least).unwrap(), read("5 °C"));
        let hottest = read("600 °C");
        assert!(hottest.plus(read("0.001 delta_degC")).is_err());
        assert_eq!(
            hottest.minus(read("0.001 delta_degC")).unwrap(),
            read("599.999 °C")
        );
    }

    #[test]
    fn multiples_and_parts_are_of_the_number_as_written() {
        assert_eq!(read("3 lb").times(0.1).unwrap(), read("0.3 lb"));
        assert_eq!(read("1 h").divided_by(7.0).unwrap(), read("514.286 s"));
        assert_eq!(
            read("-9 delta_degF").divided_by(-3.0).unwrap(),
            read("3 delta_degF")
        );
        assert_eq!(
            read("3 lb").divided_by(0.0).unwrap_err().kind(),
            ErrorKind::OutOfRange
        );
        assert_eq!(
            read("3 lb").times(f64::NAN).unwrap_err().kind(),
            ErrorKind::OutOfRange
        );
        assert!(read("900 kg").times(1e9).is_err());
        assert_eq!(
            read("1 h").ratio(read("0 s")).unwrap_err().kind(),
            ErrorKind::OutOfRange
        );
    }

    #[test]
    fn kelvin_is_a_temperature_and_never_a_difference() {
        let margin = read("300 kelvin").minus(read("310 kelvin")).unwrap();
        assert_eq!((margin.value(), margin.unit()), (-10.0, "delta_degC"));
        let error = margin.in_unit("K").unwrap_err();
        assert_eq!(
            error.expected(),
            "one of the units delta_degC, delta_degF is needed"
        );
    }
}
