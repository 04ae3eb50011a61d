//! Food in a refrigerator or freezer that lost its power.

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, default};
use crate::bird::{Cut, Species};
use crate::error::{Error, ErrorKind};
use crate::rules::{
    Case, Requirement, Rule, Rulebook, TemperatureLimit, TimeLimit, Topic, Verdict,
};
use crate::units::{Duration, Temperature};

/// What lost its power.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Appliance {
    /// A refrigerator.
    Refrigerator,
    /// A full freezer.
    FreezerFull,
    /// A half-full freezer.
    FreezerHalf,
}

impl Appliance {
    /// The part of a rule's id that names the appliance; the plain id is the refrigerator's.
    fn of(rule: &Rule) -> Self {
        match rule.id.split('.').nth(3) {
            Some("freezer-full") => Self::FreezerFull,
            Some("freezer-half") => Self::FreezerHalf,
            _ => Self::Refrigerator,
        }
    }
}

/// "Is the food still safe after a power failure?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PowerFailureQuery {
    /// What lost its power.
    pub appliance: Appliance,
    /// For how long.
    #[serde(default)]
    pub off_for: Option<Duration>,
    /// Whether the door stayed shut.
    #[serde(default)]
    pub door_shut: Option<bool>,
    /// The warmest reading of the food.
    #[serde(default)]
    pub warmest: Option<Temperature>,
    /// How long the food has been above the cold limit, where that is known.
    #[serde(default)]
    pub above_for: Option<Duration>,
    /// Whether the food still holds ice crystals.
    #[serde(default)]
    pub ice_crystals: Option<bool>,
    /// The standard; `us-consumer` when left out.
    #[serde(default = "default::standard")]
    pub standard: String,
    /// The day whose rules are wanted; the rules that hold now when left out.
    #[serde(default)]
    #[schemars(with = "Option<String>")]
    pub on: Option<Date>,
}

/// What may become of the food.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PowerOutcome {
    /// Kept as before.
    Keep,
    /// Frozen again.
    FreezeAgain,
    /// Cooked or eaten at once.
    UseNow,
    /// Discarded.
    Discard,
    /// Not known; treated as to be discarded.
    NotKnown,
}

/// The answer about a power failure.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PowerFailure {
    /// Whether the food may still be used.
    pub verdict: Verdict,
    /// What may become of it.
    pub outcome: PowerOutcome,
    /// What was judged.
    pub findings: Vec<Finding>,
    /// What to do next.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
}

/// Judges food after a power failure.
///
/// In a refrigerator, behind a shut door, food keeps for the rule's time and is discarded after it. In a freezer the
/// same time means that nothing has thawed; past it, food that holds ice crystals or is at the cold limit or below may
/// be frozen again. Food measured above the cold limit is discarded once it was there for longer than food may stand
/// out. A reading decides over the clock only towards the worse, except for frozen food; what is not known is
/// `CannotTell`.
///
/// Errors: an unknown standard, or one without rules for a power failure.
///
/// ```
/// use poulter::rules::{Rulebook, Verdict};
/// use poulter::storage::{PowerFailureQuery, power_failure};
/// let query: PowerFailureQuery =
///     serde_json::from_str(r#"{"appliance": "refrigerator", "off_for": "4 h 1 min", "door_shut": true}"#)?;
/// assert_eq!(power_failure(Rulebook::builtin(), &query)?.answer.verdict, Verdict::Fails);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn power_failure(
    book: &Rulebook,
    query: &PowerFailureQuery,
) -> Result<Answer<PowerFailure>, Error> {
    let case = Case {
        standard: &query.standard,
        species: Species::Turkey,
        cut: Cut::Whole,
        state: None,
        process: None,
        on: query.on,
    };
    let mut basis = Basis::new(book, case)?;
    let by_time = time_limits(&mut basis, query)?;
    let mut findings: Vec<_> = by_time
        .iter()
        .map(|(rule, limit)| by_clock(rule, limit, query))
        .collect();
    let clock = Verdict::worst(findings.iter().filter_map(|finding| finding.verdict));
    let cold = by_reading(&mut basis, query, &mut findings)?;
    let frozen = query.appliance != Appliance::Refrigerator;
    let crystals = query.ice_crystals == Some(true);
    if frozen
        && crystals
        && let Some((rule, _)) = by_time.first()
    {
        let text = "It still holds ice crystals, so it may be frozen again.";
        findings.push(Finding::verdict(Verdict::Meets, text, rule, None));
    }
    let outcome = match (clock, cold) {
        (_, Some(Warmth::Spoilt)) => PowerOutcome::Discard,
        (_, Some(Warmth::Warm)) if clock == Verdict::Fails && !frozen => PowerOutcome::Discard,
        (_, Some(Warmth::Warm)) => PowerOutcome::UseNow,
        (_, Some(Warmth::WarmUnknown)) => PowerOutcome::NotKnown,
        (Verdict::Meets, Some(Warmth::Cold) | None)
            if query.ice_crystals != Some(false) || !frozen =>
        {
            PowerOutcome::Keep
        }
        // Within its time and measured cold: an opened door no longer matters.
        (Verdict::CannotTell, Some(Warmth::Cold)) if !frozen && query.off_for.is_some() => {
            PowerOutcome::Keep
        }
        (_, Some(Warmth::Cold)) if frozen => PowerOutcome::FreezeAgain,
        (_, None) if frozen && crystals => PowerOutcome::FreezeAgain,
        (Verdict::Fails, _) if !frozen => PowerOutcome::Discard,
        _ => PowerOutcome::NotKnown,
    };
    let verdict = match outcome {
        PowerOutcome::Keep | PowerOutcome::FreezeAgain | PowerOutcome::UseNow => Verdict::Meets,
        PowerOutcome::Discard => Verdict::Fails,
        PowerOutcome::NotKnown => Verdict::CannotTell,
    };
    let mut to_do = vec![next_step(outcome).to_owned()];
    for rule in basis.every(Topic::StorageSenses) {
        basis.note(rule);
        to_do.extend(rule.said());
    }
    Ok(basis.finish(PowerFailure {
        verdict,
        outcome,
        findings,
        to_do,
    }))
}

/// The rows for this appliance: the caller's, and the first of the standard's.
fn time_limits<'b>(
    basis: &mut Basis<'b>,
    query: &PowerFailureQuery,
) -> Result<Vec<(&'b Rule, TimeLimit)>, Error> {
    basis.must_judge(Topic::StoragePowerFailure)?;
    let mut own = false;
    let mut found = Vec::new();
    for rule in basis.every(Topic::StoragePowerFailure) {
        if let Requirement::Time { limit, .. } = rule.requirement
            && Appliance::of(rule) == query.appliance
            && (rule.added_by_caller || !own)
        {
            own |= !rule.added_by_caller;
            basis.note(rule);
            found.push((rule, limit));
        }
    }
    if found.is_empty() {
        let expected = "a standard with a row for this appliance is needed, such as us-consumer";
        return Err(
            Error::new(ErrorKind::NoPublishedRow, &query.standard, expected).at("standard"),
        );
    }
    Ok(found)
}

fn by_clock(rule: &Rule, limit: &TimeLimit, query: &PowerFailureQuery) -> Finding {
    let Some(off) = query.off_for else {
        let text = format!(
            "How long the power was off is not known; {} is allowed.",
            limit.shown()
        );
        return Finding::verdict(Verdict::CannotTell, text, rule, None);
    };
    let (mut verdict, margin) = limit.judge(off);
    let mut text = format!(
        "Off for {}; {} with the door shut.",
        off.shown(),
        limit.shown()
    );
    if verdict == Verdict::Fails && query.appliance != Appliance::Refrigerator {
        // Frozen food is not lost with the hour: the food itself tells.
        verdict = Verdict::CannotTell;
        text += " Past this time look for ice crystals, or measure.";
    }
    let (verdict, text) = match query.door_shut {
        Some(true) => (verdict, text),
        Some(false) => (
            verdict.min(Verdict::CannotTell),
            text + " The door was opened, so the time may be shorter.",
        ),
        None => (
            verdict.min(Verdict::CannotTell),
            text + " Whether the door stayed shut is not known.",
        ),
    };
    Finding::verdict(verdict, text, rule, Some(margin))
}

/// What a reading of the food says.
#[derive(Clone, Copy)]
enum Warmth {
    Cold,
    /// Above the cold limit, but not for too long.
    Warm,
    /// Above it, for how long is not known.
    WarmUnknown,
    Spoilt,
}

fn by_reading(
    basis: &mut Basis<'_>,
    query: &PowerFailureQuery,
    findings: &mut Vec<Finding>,
) -> Result<Option<Warmth>, Error> {
    let Some(reading) = query.warmest else {
        return Ok(None);
    };
    let mut warm = false;
    for rule in basis.must_judge(Topic::HoldCold)? {
        if let Requirement::Temperature { limit } = &rule.requirement {
            let finding = cold_enough(rule, limit, reading);
            warm |= finding.verdict == Some(Verdict::Fails);
            // Food above the limit for a short time is not lost; the clock below decides.
            findings.push(Finding::advice(finding.text, Some(rule)));
        }
    }
    if !warm {
        return Ok(Some(Warmth::Cold));
    }
    // It cannot have been warm for longer than the power was off.
    let at_most = match (query.above_for, query.off_for) {
        (Some(above), _) => Some(above),
        (None, off) => off,
    };
    let mut worst = Warmth::Warm;
    for rule in basis.must_judge(Topic::HoldOut)? {
        let Requirement::Time { limit, .. } = &rule.requirement else {
            continue;
        };
        let judged = at_most.map(|time| (time, limit.judge(time)));
        let (verdict, text, margin) = match judged {
            Some((time, (Verdict::Meets, margin))) => (
                Verdict::Meets,
                format!(
                    "Warm for at most {}; {} is allowed.",
                    time.shown(),
                    limit.shown()
                ),
                Some(margin),
            ),
            Some((time, (_, margin))) if query.above_for.is_some() => {
                worst = Warmth::Spoilt;
                let text = format!("Warm for {}; {} is allowed.", time.shown(), limit.shown());
                (Verdict::Fails, text, Some(margin))
            }
            _ => {
                if !matches!(worst, Warmth::Spoilt) {
                    worst = Warmth::WarmUnknown;
                }
                let text = format!(
                    "How long it was warm is not known; {} is allowed.",
                    limit.shown()
                );
                (Verdict::CannotTell, text, None)
            }
        };
        findings.push(Finding::verdict(verdict, text, rule, margin));
    }
    Ok(Some(worst))
}

fn cold_enough(rule: &Rule, limit: &TemperatureLimit, reading: Temperature) -> Finding {
    let (verdict, margin) = limit.judge(reading);
    let text = format!(
        "The warmest reading is {reading}; the cold limit is {}.",
        limit.shown()
    );
    Finding::verdict(verdict, text, rule, Some(margin))
}

const fn next_step(outcome: PowerOutcome) -> &'static str {
    match outcome {
        PowerOutcome::Keep => {
            "Keep the food as before, and keep the door shut until the power is back."
        }
        PowerOutcome::FreezeAgain => "Freeze it again at once; it loses quality only.",
        PowerOutcome::UseNow => "Cook or eat it at once; do not freeze it again.",
        PowerOutcome::Discard => {
            "Discard poultry, gravy, stock, stuffing and dishes that hold them."
        }
        PowerOutcome::NotKnown => {
            "Measure the food and look for ice crystals; discard what nobody can vouch for."
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn ask(query: &Value) -> PowerOutcome {
        let query = serde_json::from_value(query.clone()).unwrap();
        let answer = power_failure(Rulebook::builtin(), &query).unwrap();
        answer.answer.outcome
    }

    #[test]
    fn the_clock_is_judged_under_at_and_over() {
        use PowerOutcome::{Discard, Keep, NotKnown};
        // FoodSafety.gov: a refrigerator 4 h, a full freezer 48 h, a half-full one 24 h, with the door shut.
        for (appliance, off, expected) in [
            ("refrigerator", "3 h 59 min", Keep),
            ("refrigerator", "4 h", Keep),
            ("refrigerator", "4 h 1 s", Discard),
            ("freezer-full", "47 h 59 min", Keep),
            ("freezer-full", "48 h", Keep),
            ("freezer-full", "48 h 1 s", NotKnown),
            ("freezer-half", "23 h 59 min", Keep),
            ("freezer-half", "24 h", Keep),
            ("freezer-half", "24 h 1 s", NotKnown),
        ] {
            let query = json!({"appliance": appliance, "off_for": off, "door_shut": true});
            assert_eq!(ask(&query), expected, "{query}");
            let opened = json!({"appliance": appliance, "off_for": off, "door_shut": false});
            let expected = if expected == Keep { NotKnown } else { expected };
            assert_eq!(ask(&opened), expected, "{opened}");
        }
        assert_eq!(
            ask(&json!({"appliance": "refrigerator", "door_shut": true})),
            NotKnown
        );
    }

    #[test]
    fn a_reading_is_judged_under_at_and_over() {
        use PowerOutcome::{Discard, FreezeAgain, NotKnown, UseNow};
        // FSIS: freeze again with ice crystals or at 40 °F or below; discard above 40 °F for over 2 h.
        let thawed = |changes: Value| {
            let mut query =
                json!({"appliance": "freezer-full", "off_for": "60 h", "door_shut": true});
            for (key, value) in changes.as_object().unwrap() {
                query[key] = value.clone();
            }
            ask(&query)
        };
        for (changes, expected) in [
            (json!({"warmest": "39.999 °F"}), FreezeAgain),
            (json!({"warmest": "40 °F"}), FreezeAgain),
            (json!({"warmest": "40.001 °F"}), NotKnown),
            (
                json!({"warmest": "50 °F", "above_for": "1 h 59 min"}),
                UseNow,
            ),
            (json!({"warmest": "50 °F", "above_for": "2 h"}), UseNow),
            (json!({"warmest": "50 °F", "above_for": "2 h 1 s"}), Discard),
            (json!({"ice_crystals": true}), FreezeAgain),
            (json!({"ice_crystals": false}), NotKnown),
            (json!({}), NotKnown),
        ] {
            assert_eq!(thawed(changes.clone()), expected, "{changes}");
        }
        let refrigerator = |off: &str, warmest: &str| {
            ask(&json!({"appliance": "refrigerator", "off_for": off, "warmest": warmest}))
        };
        assert_eq!(refrigerator("3 h", "38 °F"), PowerOutcome::Keep);
        assert_eq!(refrigerator("5 h", "38 °F"), Discard);
        assert_eq!(refrigerator("1 h", "45 °F"), UseNow);
        assert_eq!(refrigerator("3 h", "45 °F"), NotKnown);
    }
}
