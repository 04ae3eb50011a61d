//! Exact decimal and fraction reading: "4.5", "4½", "4 1/2", "-3".

use crate::error::{Error, ErrorKind};

/// A number as written, kept as a ratio of integers until it meets its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Decimal {
    numerator: i128,
    denominator: i128,
}

/// No quantity in this trade needs more digits; more would overflow the exact arithmetic.
const MOST_DIGITS: usize = 15;

impl Decimal {
    /// A float at or above this is refused.
    pub(super) const MOST: f64 = 1e12;

    pub(super) fn from_f64(value: f64) -> Result<Self, Error> {
        if !value.is_finite() {
            return Err(Error::new(
                ErrorKind::OutOfRange,
                value,
                "a finite number is needed",
            ));
        }
        if value.abs() >= Self::MOST {
            return Err(Error::new(
                ErrorKind::OutOfRange,
                value,
                "a number below a million million is needed",
            ));
        }
        if let Some(short) = Self::thousandths(value) {
            return Ok(short);
        }
        // The shortest decimal text that reads back as the same f64 is what the caller wrote.
        let text = format!("{value}");
        Self::parse_plain(&text)
            .ok_or_else(|| Error::new(ErrorKind::OutOfRange, value, "too many digits"))
    }

    /// A number of at most three decimals and fifteen digits, found without going through text.
    ///
    /// No two decimals of at most fifteen digits share an f64, so one that divides back to `value` is the shortest.
    fn thousandths(value: f64) -> Option<Self> {
        const MOST: f64 = 1e15;
        [(1.0, 1), (1e3, 1000)]
            .into_iter()
            .find_map(|(scale, denominator)| {
                let scaled = (value * scale).round();
                #[expect(clippy::cast_possible_truncation, reason = "below 1e15 in size")]
                (scaled.abs() < MOST && scaled / scale == value).then_some(Self {
                    numerator: i128::from(scaled as i64),
                    denominator,
                })
            })
    }

    /// One divided by the number; `None` for zero.
    pub(super) fn inverse(self) -> Option<Self> {
        (self.numerator != 0).then_some(Self {
            numerator: self.denominator * self.numerator.signum(),
            denominator: self.numerator.abs(),
        })
    }

    /// Reads the number at the start of `text` and returns it with the rest.
    pub(super) fn read(text: &str) -> Option<(Self, &str)> {
        let text = text.trim_start();
        let end = text
            .char_indices()
            .find(|&(at, c)| {
                !(c.is_ascii_digit() || c == '.' || (at == 0 && (c == '-' || c == '+')))
            })
            .map_or(text.len(), |(at, _)| at);
        let (whole, mut rest) = text.split_at(end);
        let mut value = if whole.is_empty() {
            None
        } else {
            Some(Self::parse_plain(whole)?)
        };
        // "4 1/2" and "1/2".
        if value.is_some() && rest.starts_with('/') {
            let (below, after) = Self::read_digits(&rest[1..])?;
            let above = value?;
            return Some((above.over(below)?, after));
        }
        let after_space = rest.trim_start();
        if let Some((above, tail)) = Self::read_digits(after_space)
            && let Some(tail) = tail.strip_prefix('/')
            && let Some((below, tail)) = Self::read_digits(tail)
        {
            let part = Self {
                numerator: above,
                denominator: 1,
            }
            .over(below)?;
            value = Some(match value {
                Some(whole) => whole.plus_fraction(part)?,
                None => part,
            });
            rest = tail;
        } else if let Some((part, tail)) = vulgar(after_space) {
            value = Some(match value {
                Some(whole) => whole.plus_fraction(part)?,
                None => part,
            });
            rest = tail;
        }
        value.map(|value| (value, rest))
    }

    fn read_digits(text: &str) -> Option<(i128, &str)> {
        let end = text
            .find(|c: char| !c.is_ascii_digit())
            .unwrap_or(text.len());
        if end == 0 || end > MOST_DIGITS {
            return None;
        }
        Some((text[..end].parse().ok()?, &text[end..]))
    }

    fn parse_plain(text: &str) -> Option<Self> {
        let (negative, digits) = match text.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, text.strip_prefix('+').unwrap_or(text)),
        };
        let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
        let all_digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
        if whole.is_empty() && part.is_empty() || !all_digits(whole) || !all_digits(part) {
            return None;
        }
        if whole.trim_start_matches('0').len() > MOST_DIGITS {
            return None;
        }
        let part = &part[..part.len().min(MOST_DIGITS)];
        let mut numerator: i128 = 0;
        for digit in whole.bytes().chain(part.bytes()) {
            numerator = numerator * 10 + i128::from(digit - b'0');
        }
        let denominator = 10_i128.pow(u32::try_from(part.len()).ok()?);
        Some(Self {
            numerator: if negative { -numerator } else { numerator },
            denominator,
        })
    }

    fn over(self, below: i128) -> Option<Self> {
        (below != 0).then_some(Self {
            numerator: self.numerator,
            denominator: self.denominator * below,
        })
    }

    /// "4 ½": the fraction goes away from zero, so "-4½" is minus four and a half.
    fn plus_fraction(self, part: Self) -> Option<Self> {
        if self.denominator != 1 {
            return None;
        }
        let sign = if self.numerator < 0 { -1 } else { 1 };
        Some(Self {
            numerator: self.numerator * part.denominator + sign * part.numerator,
            denominator: part.denominator,
        })
    }

    /// `self × scale`, rounded to the nearest whole step, ties away from zero.
    pub(super) fn times(self, scale: i64) -> Option<i64> {
        if self.denominator == 1
            && let Ok(whole) = i64::try_from(self.numerator)
        {
            return whole.checked_mul(scale);
        }
        let product = self.numerator.checked_mul(i128::from(scale))?;
        let half = self.denominator / 2;
        let rounded = if product >= 0 {
            (product + half) / self.denominator
        } else {
            (product - half) / self.denominator
        };
        i64::try_from(rounded).ok()
    }

    /// The nearest f64, for messages only.
    pub(super) fn approximate(self) -> f64 {
        self.numerator as f64 / self.denominator as f64
    }
}

fn vulgar(text: &str) -> Option<(Decimal, &str)> {
    let mut chars = text.chars();
    let (numerator, denominator) = match chars.next()? {
        '½' => (1, 2),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    };
    Some((
        Decimal {
            numerator,
            denominator,
        },
        chars.as_str(),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn thousandths(text: &str) -> Option<i64> {
        let (value, rest) = Decimal::read(text)?;
        rest.trim().is_empty().then_some(())?;
        value.times(1000)
    }

    #[test]
    fn numbers_are_read_exactly() {
        for (text, expected) in [
            ("4.5", 4500),
            ("4½", 4500),
            ("4 ½", 4500),
            ("4 1/2", 4500),
            ("1/2", 500),
            ("½", 500),
            ("-3", -3000),
            ("0.0005", 1),
            ("⅔", 667),
        ] {
            assert_eq!(thousandths(text), Some(expected), "{text}");
        }
        for text in [
            "",
            "lb",
            "1/0",
            "4.5.6",
            "--3",
            "4.5 1/2",
            "9999999999999999",
        ] {
            assert_eq!(thousandths(text), None, "{text}");
        }
    }

    #[test]
    fn a_float_reads_as_it_was_written() {
        assert_eq!(
            Decimal::from_f64(0.1).unwrap().times(1_000_000_000_000),
            Some(100_000_000_000)
        );
        assert_eq!(Decimal::from_f64(-12.7).unwrap().times(10), Some(-127));
        for value in [
            -0.0,
            73.5,
            164.999,
            -12.7,
            453.592_37,
            1e-9,
            999_999_999_999.999,
            0.0625,
        ] {
            let text = Decimal::parse_plain(&format!("{value}")).unwrap();
            let read = Decimal::from_f64(value).unwrap();
            let cross = |a: Decimal, b: Decimal| a.numerator * b.denominator;
            assert_eq!(cross(read, text), cross(text, read), "{value}");
        }
        assert!(Decimal::from_f64(f64::NAN).is_err());
        assert!(Decimal::from_f64(1e300).is_err());
    }
}
