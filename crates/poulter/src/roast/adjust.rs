//! What a frozen start, a fan, a high-heat start and altitude do to the table's time.

use crate::answer::{Basis, TimeEstimate};
use crate::error::Error;
use crate::rules::{Case, Requirement, Rule, Rulebook, Topic};
use crate::units::{Length, Temperature, TemperatureDifference};

use super::{OvenPhase, RoastMethod, RoastQuery, RoastTime};

/// How much longer than the rule's floor a frozen bird may take: the upper end of the model's 80 % band for a frozen
/// start. The rule itself says only "at least". Derived from the reference heat calculation.
const FROZEN_SLOW_CASE: (i64, i64) = (27, 20);

/// Share of the table's time that a 12 lb bird needs after half an hour at 475 °F: 2.33 h against 2.72 h in the
/// reference heat calculation. Used for the quick case only. Derived.
const HIGH_START_QUICK_CASE: (i64, i64) = (6, 7);

/// Share of the time that a fan may save at the same setting: up to a quarter. Common practice, no source.
const FAN_QUICK_CASE: (i64, i64) = (3, 4);

/// The table's time as it is changed by how the bird is roasted.
pub(super) fn time(
    basis: &mut Basis<'_>,
    query: &RoastQuery,
    row: TimeEstimate,
    value: &mut RoastTime,
) -> Result<TimeEstimate, Error> {
    let mut time = row;
    if query.from_frozen {
        let rule = basis.require(Topic::ThawFromFrozen)?;
        value.rules.push(rule.id.clone());
        let (above, below) = factor(rule);
        time = time.times_ratio(above, below);
        time.high = time
            .high
            .times_ratio(FROZEN_SLOW_CASE.0, FROZEN_SLOW_CASE.1);
        value.notes.push(format!(
            "From frozen at least {} times the thawed time; the slow case adds a third for what the rule leaves open.",
            above as f64 / below as f64
        ));
    }
    if query.oven.fan {
        time.low = time.low.times_ratio(FAN_QUICK_CASE.0, FAN_QUICK_CASE.1);
        note(basis, Topic::RoastFan, value);
        value.notes.push(
            "A fan may save up to a quarter of the time at the same setting. The setting is not lowered as well, since \
             that would go below the oven minimum."
                .to_owned(),
        );
    }
    if query.method == RoastMethod::HighStart {
        time.low = time
            .low
            .times_ratio(HIGH_START_QUICK_CASE.0, HIGH_START_QUICK_CASE.1);
        note(basis, Topic::RoastHighStart, value);
        note(basis, Topic::RoastHighStartRest, value);
        value.notes.push(
            "A high-heat start may finish sooner than the table; the slow case keeps the table's time.".to_owned(),
        );
    }
    if let Some(rule) = basis.book.find(Topic::RoastAltitude, &basis.case)
        && is_above(rule, query.altitude)
    {
        note(basis, Topic::RoastAltitude, value);
        let (above, below) = factor(rule);
        time.likely = time.likely.times_ratio(above, below);
        time.high = time.high.times_ratio(above, below);
        value.notes.push(
            "High altitude: the likely and the slow case are longer; the minimum inside is the same."
                .to_owned(),
        );
    }
    // The quick case may have overtaken the likely one; keep the three in order.
    time.likely = time.likely.max(time.low);
    time.high = time.high.max(time.likely);
    Ok(time)
}

/// The oven settings, with the dial corrected for an oven that runs hot or cold.
pub(super) fn oven(
    basis: &mut Basis<'_>,
    query: &RoastQuery,
    steady: Option<Temperature>,
    value: &mut RoastTime,
) {
    let floor = basis.find(Topic::RoastOven).and_then(|rule| {
        value.rules.push(rule.id.clone());
        match &rule.requirement {
            Requirement::Temperature { limit } => Some(limit.temperature),
            _ => None,
        }
    });
    let Some(steady) = steady.or(floor) else {
        return;
    };
    let offset = query.oven.offset.unwrap_or(TemperatureDifference::ZERO);
    let phase = |air: Temperature, time| OvenPhase {
        air,
        dial: air.raised_by(TemperatureDifference::ZERO.minus(offset)),
        time,
    };
    if query.method == RoastMethod::HighStart {
        let start = basis.book.find(Topic::RoastHighStart, &basis.case);
        if let Some(Requirement::TimeRange {
            high,
            setting: Some(hot),
            ..
        }) = start.map(|rule| &rule.requirement)
        {
            value.oven.push(phase(*hot, Some(*high)));
        }
    }
    value.oven.push(phase(steady, None));
    if query.oven.offset.is_none() {
        basis.assume("The oven is as hot as its dial says; check it with an oven thermometer.");
    }
}

/// Whether the kitchen stands so high that the standard lengthens the time.
pub(crate) fn is_high(book: &Rulebook, case: &Case<'_>, altitude: Option<Length>) -> bool {
    book.find(Topic::RoastAltitude, case)
        .is_some_and(|rule| is_above(rule, altitude))
}

/// Whether the kitchen stands as high as the rule's own threshold.
fn is_above(rule: &Rule, altitude: Option<Length>) -> bool {
    match (&rule.requirement, altitude) {
        (
            Requirement::AtLeastTimes {
                from_altitude: Some(from),
                ..
            },
            Some(altitude),
        ) => altitude >= *from,
        _ => false,
    }
}

fn factor(rule: &Rule) -> (i64, i64) {
    rule.requirement.at_least_times().unwrap_or((1, 1))
}

fn note<'b>(basis: &mut Basis<'b>, topic: Topic, value: &mut RoastTime) -> Option<&'b Rule> {
    let rule = basis.find(topic)?;
    value.rules.push(rule.id.clone());
    Some(rule)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn high_altitude_starts_at_three_thousand_feet() {
        // USDA FSIS calls 3,000 ft and more high altitude.
        let rule = crate::rules::Rulebook::builtin()
            .rule("us-consumer.roast.altitude")
            .unwrap();
        for (feet, high) in [
            ("2999.999 ft", false),
            ("3000 ft", true),
            ("3000.001 ft", true),
        ] {
            assert_eq!(
                is_above(rule, Some(Length::parse(feet).unwrap())),
                high,
                "{feet}"
            );
        }
        assert!(!is_above(rule, None));
    }
}
