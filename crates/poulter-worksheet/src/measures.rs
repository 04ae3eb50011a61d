//! Lengths, masses and volumes of a rule's own words, in a reader's own unit first, with the printed one beside it.
//!
//! Spoons and cups stay: kitchens of either system have them.

use poulter::rules::Comparison;
use poulter::units::UnitSystem;

/// A printed unit, its size in the unit that takes its place, and that unit.
type Exchange = (&'static str, f64, &'static str);

/// By definition: 1 in = 2.54 cm, 1 lb = 0.453 592 37 kg, 1 US gal = 231 in³.
const TO_METRIC: [Exchange; 4] = [
    ("in", 2.54, "cm"),
    ("ft", 0.3048, "m"),
    ("lb", 0.453_592_37, "kg"),
    ("gal", 3.785_411_784, "L"),
];
const TO_US: [Exchange; 3] = [
    ("cm", 1.0 / 2.54, "in"),
    ("m", 1.0 / 0.3048, "ft"),
    ("kg", 1.0 / 0.453_592_37, "lb"),
];

/// A sentence in which measures of the other system stand in the reader's own first.
pub(crate) fn sentence(text: &str, units: UnitSystem) -> String {
    let exchanges = match units {
        UnitSystem::Metric => &TO_METRIC[..],
        UnitSystem::UsCustomary => &TO_US[..],
    };
    let mut out = String::new();
    let mut rest = text;
    while let Some((start, end, own)) = first(rest, exchanges) {
        out.push_str(&rest[..start]);
        out.extend([&own, " (", &rest[start..end], ")"]);
        rest = &rest[end..];
    }
    out + rest
}

/// The first measure to exchange: where it starts and ends, and what takes its place.
fn first(text: &str, exchanges: &[Exchange]) -> Option<(usize, usize, String)> {
    let mut found: Option<(usize, usize, String)> = None;
    for &(unit, size, own) in exchanges {
        let word = format!(" {unit}");
        for (at, _) in text.match_indices(&word) {
            let end = at + word.len();
            if found.as_ref().is_some_and(|it| it.1 <= end) {
                break;
            }
            if !ends_there(&text[end..], unit) {
                continue;
            }
            if let Some((start, shown)) = measure(&text[..at], size) {
                found = Some((start, end, format!("{shown} {own}")));
                break;
            }
        }
    }
    found
}

/// Whether the unit is a word of its own. "in" is a preposition unless it ends the phrase or tells a depth, and a
/// measure that is printed in both systems stays.
fn ends_there(after: &str, unit: &str) -> bool {
    let ends = after.is_empty() || after.starts_with([',', '.', ';', ':', ')']);
    match unit {
        "in" => ends || after.starts_with(" deep") || after.starts_with(" thick"),
        _ => ends || (after.starts_with(' ') && !after.starts_with(" (")),
    }
}

/// The number or range that a text ends with, where it starts, and what it is in the other unit.
fn measure(before: &str, size: f64) -> Option<(usize, String)> {
    let (start, high) = number(before)?;
    let lead = &before[..start];
    let range = lead
        .strip_suffix(" to ")
        .and_then(number)
        .filter(|(_, low)| *low < high);
    let start = range.map_or(start, |range| range.0);
    let lead = before[..start].trim_end();
    // In brackets it stands beside the measure that was printed first.
    if lead.ends_with('(') {
        return None;
    }
    let round = |value: f64| {
        let grain = if value < 10.0 { 10.0 } else { 1.0 };
        // A value that is whole but for the last bits must not move by a step.
        let steps = (value * grain * 1e6).round() / 1e6;
        let steps = if lead.ends_with(Comparison::AtMost.words()) {
            steps.floor()
        } else if lead.ends_with(Comparison::AtLeast.words()) {
            steps.ceil()
        } else {
            steps.round()
        };
        format!("{}", steps / grain)
    };
    let high = round(high * size);
    let shown = match range {
        Some((_, low)) => format!("{} to {high}", round(low * size)),
        None => high,
    };
    Some((start, shown))
}

/// The number that a text ends with, such as "2", "0.5" or "2½", and where it starts.
fn number(text: &str) -> Option<(usize, f64)> {
    let (body, part) = [('½', 0.5), ('¼', 0.25), ('¾', 0.75)]
        .into_iter()
        .find_map(|(sign, part)| Some((text.strip_suffix(sign)?, part)))
        .unwrap_or((text, 0.0));
    let digits = body.trim_end_matches(|c: char| c.is_ascii_digit() || c == '.');
    let whole = &body[digits.len()..];
    // "1/2 in" and "-2 in" are no plain numbers.
    if digits.ends_with(['/', '-']) {
        return None;
    }
    let value = match whole.parse::<f64>() {
        Ok(value) => value,
        Err(_) if whole.is_empty() && part > 0.0 => 0.0,
        Err(_) => return None,
    };
    Some((digits.len(), value + part))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_metric_reader_has_metric_measures_first() {
        // 2 in is 5.08 cm, 2½ in 6.35 cm, 3 ft 0.914 m, 3 lb 1.361 kg, 1 gal 3.785 L.
        for (given, metric) in [
            ("at most 2 in deep", "at most 5 cm (2 in) deep"),
            ("at least 2 in", "at least 5.1 cm (2 in)"),
            (
                "a pan 2 to 2½ in deep, wing",
                "a pan 5.1 to 6.4 cm (2 to 2½ in) deep, wing",
            ),
            ("up to about 3 ft over", "up to about 0.9 m (3 ft) over"),
            ("1 tbsp for each 3 lb", "1 tbsp for each 1.4 kg (3 lb)"),
            ("1 tbsp for each 1 gal", "1 tbsp for each 3.8 L (1 gal)"),
            ("a bird of 24 lb or more", "a bird of 11 kg (24 lb) or more"),
            ("2 in the oven", "2 in the oven"),
            ("12 lb (5.4 kg)", "12 lb (5.4 kg)"),
            ("1/2 in deep", "1/2 in deep"),
            (
                "3 d to 4 d in the refrigerator",
                "3 d to 4 d in the refrigerator",
            ),
            ("", ""),
        ] {
            assert_eq!(sentence(given, UnitSystem::Metric), metric);
            assert_eq!(sentence(given, UnitSystem::UsCustomary), given);
        }
        assert_eq!(
            sentence("at most 5 cm deep", UnitSystem::UsCustomary),
            "at most 1.9 in (5 cm) deep"
        );
    }
}
