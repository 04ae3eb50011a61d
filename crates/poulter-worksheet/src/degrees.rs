//! Temperatures in a reader's own unit first, with the printed one beside it.
//!
//! A standard prints its limit in one unit or in two that differ. The printed numbers stay; only their order follows the
//! reader. Where one unit alone is printed, the other is worked out and rounded to a tenth on the safe side.

use poulter::rules::{Comparison, TemperatureLimit};
use poulter::units::{Temperature, TemperatureUnit, UnitSystem};

use crate::words::fill;

pub(crate) const fn unit(units: UnitSystem) -> TemperatureUnit {
    match units {
        UnitSystem::UsCustomary => TemperatureUnit::Fahrenheit,
        UnitSystem::Metric => TemperatureUnit::Celsius,
    }
}

/// "at least 74 °C (165 °F)" for a reader of metric units, whichever way the source prints it.
pub(crate) fn limit(limit: &TemperatureLimit, units: UnitSystem) -> String {
    let wanted = unit(units);
    let (printed, other) = (limit.temperature, limit.also_printed);
    let words = limit.is.words();
    if printed.unit() == wanted {
        return limit.shown();
    }
    match other.filter(|other| other.unit() == wanted) {
        Some(other) => format!("{words} {other} ({printed})"),
        None => format!("{words} {} ({printed})", rounded(printed, limit.is, wanted)),
    }
}

/// A temperature in another unit, to a tenth that is never on the wrong side of it.
fn rounded(printed: Temperature, is: Comparison, unit: TemperatureUnit) -> String {
    let value = match unit {
        TemperatureUnit::Celsius => printed.as_celsius(),
        TemperatureUnit::Fahrenheit => printed.as_fahrenheit(),
        TemperatureUnit::Kelvin => printed.as_kelvin(),
    };
    // A value that is whole but for the last bits must not move by a tenth.
    let tenths = (value * 10.0 * 1e6).round() / 1e6;
    let tenths = match is {
        Comparison::AtLeast | Comparison::Above => tenths.ceil(),
        Comparison::AtMost | Comparison::Below => tenths.floor(),
    };
    let text = format!("{:.1}", tenths / 10.0);
    format!("{} {}", text.trim_end_matches(".0"), unit.sign())
}

/// A sentence in which printed temperatures stand in the reader's unit first.
///
/// A pair such as "165 °F (74 °C)" changes places. A lone one is worked out only after a word that makes it a limit;
/// anything else may be a difference, which converts otherwise.
pub(crate) fn sentence(text: &str, units: UnitSystem) -> String {
    let wanted = unit(units);
    let other = match wanted {
        TemperatureUnit::Celsius => TemperatureUnit::Fahrenheit,
        _ => TemperatureUnit::Celsius,
    };
    let sign = format!(" {}", other.sign());
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(&sign) {
        let (before, after) = (&rest[..at], &rest[at + sign.len()..]);
        let start = before
            .rfind(|c: char| !(c.is_ascii_digit() || c == '.'))
            .map_or(0, |index| {
                index + before[index..].chars().next().map_or(1, char::len_utf8)
            });
        let (lead, number) = before.split_at(start);
        let printed = format!("{number}{sign}");
        out.push_str(lead);
        match (beside(after, wanted), judged(lead, number, other)) {
            (Some((pair, tail)), _) if !number.is_empty() => {
                out.extend([pair, " (", &printed, ")"]);
                rest = tail;
            }
            (None, Some((is, temperature))) => {
                let own = rounded(temperature, is, wanted);
                out.extend([own.as_str(), " (", &printed, ")"]);
                rest = after;
            }
            _ => {
                let (own, tail) =
                    span(lead, number, after, other, units).unwrap_or((printed, after));
                out.push_str(&own);
                rest = tail;
            }
        }
    }
    out + rest
}

/// "180 °F to 203 °F" for a range that is no limit, in whole degrees of the reader's unit.
pub(crate) fn range(low: Temperature, high: Temperature, units: UnitSystem) -> String {
    let wanted = unit(units);
    let whole = |temperature: Temperature| {
        let value = match wanted {
            TemperatureUnit::Celsius => temperature.as_celsius(),
            _ => temperature.as_fahrenheit(),
        };
        format!("{value:.0} {}", wanted.sign())
    };
    fill(
        "card-range",
        &[("low", &whole(low)), ("high", &whole(high))],
    )
}

/// The range "at 82 °C to 95 °C" by its first number and what follows it, in the reader's unit and as printed.
fn span<'t>(
    lead: &str,
    number: &str,
    after: &'t str,
    other: TemperatureUnit,
    units: UnitSystem,
) -> Option<(String, &'t str)> {
    let sign = other.sign();
    let (high, tail) = after.strip_prefix(" to ")?.split_once(sign)?;
    let high = high.trim_end();
    if !lead.trim_end().ends_with("at") {
        return None;
    }
    let read = |number: &str| Temperature::parse(&format!("{number} {sign}")).ok();
    let own = range(read(number)?, read(high)?, units);
    Some((format!("{own} ({number} {sign} to {high} {sign})"), tail))
}

/// The other printed value in brackets right after the first, and what follows it.
fn beside(after: &str, wanted: TemperatureUnit) -> Option<(&str, &str)> {
    let (inside, tail) = after.strip_prefix(" (")?.split_once(')')?;
    let number = inside.strip_suffix(wanted.sign())?.trim_end();
    number.parse::<f64>().is_ok().then_some((inside, tail))
}

/// The limit that a lone temperature is, by the words before it.
fn judged(lead: &str, number: &str, unit: TemperatureUnit) -> Option<(Comparison, Temperature)> {
    let is = [
        Comparison::AtLeast,
        Comparison::AtMost,
        Comparison::Above,
        Comparison::Below,
    ]
    .into_iter()
    .find(|is| lead.trim_end().ends_with(is.words()))?;
    let temperature = Temperature::parse(&format!("{number} {}", unit.sign())).ok()?;
    Some((is, temperature))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_readers_unit_comes_first() {
        // 40 °F is 4.444… °C, 135 °F is 57.222… °C and 140 °F is 60 °C; 74, 4.4 and 163 °C are printed.
        for (given, metric) in [
            ("at least 165 °F (74 °C)", "at least 74 °C (165 °F)"),
            ("at most 40 °F (4.4 °C)", "at most 4.4 °C (40 °F)"),
            (
                "Hot food: at least 140 °F",
                "Hot food: at least 60 °C (140 °F)",
            ),
            ("at least 135 °F", "at least 57.3 °C (135 °F)"),
            ("at most 40 °F", "at most 4.4 °C (40 °F)"),
            (
                "from 135 °F to at most 70 °F (21 °C) in 2 h",
                "from 135 °F to at most 21 °C (70 °F) in 2 h",
            ),
            ("set it 25 °F lower", "set it 25 °F lower"),
            ("past 40 °F and °F", "past 40 °F and °F"),
        ] {
            assert_eq!(sentence(given, UnitSystem::Metric), metric);
            assert_eq!(sentence(given, UnitSystem::UsCustomary), given);
        }
        // 82 °C is 179.6 °F, 95 °C is 203 °F.
        assert_eq!(
            sentence("3 h, at 82 °C to 95 °C.", UnitSystem::UsCustomary),
            "3 h, at 180 °F to 203 °F (82 °C to 95 °C)."
        );
        assert_eq!(
            sentence("at 82 °C to 95 K", UnitSystem::UsCustomary),
            "at 82 °C to 95 K"
        );
        assert_eq!(
            sentence("at least 75 °C", UnitSystem::UsCustomary),
            "at least 167 °F (75 °C)"
        );
    }

    #[test]
    fn a_lone_limit_is_rounded_to_the_safe_side() {
        let shown = |is, text: &str| {
            limit(
                &TemperatureLimit {
                    is,
                    temperature: Temperature::parse(text).unwrap(),
                    also_printed: None,
                },
                UnitSystem::Metric,
            )
        };
        assert_eq!(
            shown(Comparison::AtLeast, "135 °F"),
            "at least 57.3 °C (135 °F)"
        );
        assert_eq!(
            shown(Comparison::AtMost, "135 °F"),
            "at most 57.2 °C (135 °F)"
        );
        assert_eq!(
            shown(Comparison::AtLeast, "140 °F"),
            "at least 60 °C (140 °F)"
        );
    }
}
