//! Cooling judged from a few readings. Nothing is interpolated: food counts as cooled at the first reading that shows it.

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, default};
use crate::bird::{Cut, Species};
use crate::error::{Error, ErrorKind};
use crate::rules::{
    Case, Comparison, CoolingStage, CountedFrom, Requirement, Rule, Rulebook, Topic, Verdict,
};
use crate::units::{Duration, DurationUnit, Temperature};

/// One reading of cooling food.
#[derive(Clone, Copy, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoolingReading {
    /// Time since any fixed moment, such as the first reading.
    pub elapsed: Duration,
    /// The warmest part; none where the reading was missed.
    #[serde(default)]
    pub temperature: Option<Temperature>,
}

/// "Did this food cool fast enough?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoolingCheck {
    /// The readings in order of time.
    pub readings: Vec<CoolingReading>,
    /// A process of the standard, such as `cured` or `option-2` in a plant.
    #[serde(default)]
    pub process: Option<String>,
    /// The standard; `us-consumer` when left out, which has no staged rule of its own.
    #[serde(default = "default::standard")]
    pub standard: String,
    /// The species; turkey when left out.
    #[serde(default = "default::species")]
    pub species: Species,
    /// The cut; whole when left out.
    #[serde(default = "default::cut")]
    pub cut: Cut,
    /// The day whose rules are wanted; the rules that hold now when left out.
    #[serde(default)]
    #[schemars(with = "Option<String>")]
    pub on: Option<Date>,
}

/// The judgement of cooling.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CoolingVerdict {
    /// The worst of the stages.
    pub verdict: Verdict,
    /// One finding for each stage.
    pub findings: Vec<Finding>,
    /// What to do next.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
}

/// Judges cooling by the stages of a standard.
///
/// The clock of a stage starts at the last reading at or above its starting temperature and stops at the first reading
/// that meets its end; both make the time longer rather than shorter. Food that warms again past the end of a stage, a
/// missed reading, or readings that begin below the start can give only `CannotTell` or `Fails`.
///
/// Errors: an unknown standard, or one without a rule of cooling stages.
///
/// ```
/// use poulter::leftovers::{CoolingCheck, check_cooling};
/// use poulter::rules::{Rulebook, Verdict};
/// let check: CoolingCheck = serde_json::from_str(
///     r#"{"standard": "us-food-code-2022", "readings": [
///         {"elapsed": "0 h", "temperature": "135 °F"},
///         {"elapsed": "1 h 50 min", "temperature": "69 °F"},
///         {"elapsed": "5 h 30 min", "temperature": "40 °F"}
///     ]}"#,
/// )?;
/// assert_eq!(check_cooling(Rulebook::builtin(), &check)?.answer.verdict, Verdict::Meets);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn check_cooling(
    book: &Rulebook,
    check: &CoolingCheck,
) -> Result<Answer<CoolingVerdict>, Error> {
    let case = Case {
        process: check.process.as_deref(),
        ..Case::of(&check.standard, check.species, check.cut, check.on)
    };
    let mut basis = Basis::new(book, case)?;
    let mut own = false;
    let mut findings = Vec::new();
    // The caller's rules and the first of the standard's are judged alike, and the worst counts.
    for rule in basis.every(Topic::CoolStages) {
        if let Requirement::StagedCooling { stages } = &rule.requirement
            && (rule.added_by_caller || !own)
        {
            own |= !rule.added_by_caller;
            basis.note(rule);
            findings.extend(judge(rule, stages, &check.readings));
        }
    }
    if findings.is_empty() {
        return Err(Error::new(
            ErrorKind::NoPublishedRow,
            &check.standard,
            "a standard with cooling stages is needed, such as us-food-code-2022",
        )
        .at("standard"));
    }
    let verdict = Verdict::worst(findings.iter().filter_map(|finding| finding.verdict));
    let mut to_do = Vec::new();
    match verdict {
        Verdict::Meets => {}
        Verdict::Fails => to_do.push("Discard the food.".to_owned()),
        Verdict::CannotTell => to_do.push(
            "Go on measuring, note every time, and treat the food as unsafe if the record stays incomplete.".to_owned(),
        ),
    }
    if verdict != Verdict::Meets {
        for other in basis.every(Topic::CoolStages) {
            if let Requirement::Do { text } = &other.requirement {
                basis.note(other);
                to_do.push(text.clone());
            }
        }
    }
    Ok(basis.finish(CoolingVerdict {
        verdict,
        findings,
        to_do,
    }))
}

type Reading = (Duration, Temperature);

fn judge(rule: &Rule, stages: &[CoolingStage], readings: &[CoolingReading]) -> Vec<Finding> {
    let cannot = |text: &str| vec![Finding::verdict(Verdict::CannotTell, text, rule, None)];
    let backward = |pair: &[CoolingReading]| pair[1].elapsed <= pair[0].elapsed;
    if readings.windows(2).any(backward) {
        return cannot("The readings do not run forward in time.");
    }
    let known: Vec<Reading> = readings
        .iter()
        .filter_map(|reading| Some((reading.elapsed, reading.temperature?)))
        .collect();
    if known.is_empty() {
        return cannot("There is no reading.");
    }
    let missed = known.len() < readings.len();
    let Some(first) = stages.first() else {
        return cannot("The rule has no stages.");
    };
    stages
        .iter()
        .map(|stage| {
            let from = match stage.counted_from {
                CountedFrom::FirstStage => first.from,
                CountedFrom::ThisStage => stage.from,
            };
            judge_stage(rule, stage, from, &known, missed)
        })
        .collect()
}

fn judge_stage(
    rule: &Rule,
    stage: &CoolingStage,
    from: Temperature,
    readings: &[Reading],
    missed: bool,
) -> Finding {
    let name = format!("From {from} to {}", stage.to.shown());
    let cannot =
        |why: &str| Finding::verdict(Verdict::CannotTell, format!("{name}: {why}"), rule, None);
    let Some(below) = readings
        .iter()
        .position(|(_, t)| !Comparison::AtLeast.holds(t, &from))
    else {
        return cannot("the food is not yet below the start.");
    };
    // Readings that begin below the start leave the true start unknown: it lies before the first one.
    let started_before = below == 0;
    let start = readings[below.saturating_sub(1)].0;
    let end = readings
        .iter()
        .position(|(_, t)| stage.to.is.holds(t, &stage.to.temperature));
    let last = readings.last().map_or(start, |(elapsed, _)| *elapsed);
    let stop = end.map_or(last, |end| readings[end].0);
    let taken = stop.minus(start).in_unit(DurationUnit::Hour);
    let (by_time, margin) = stage.within.judge(taken);
    let warmed = end.is_some_and(|end| {
        readings[end..]
            .iter()
            .any(|(_, t)| !stage.to.is.holds(t, &stage.to.temperature))
    });
    let (verdict, why) = match by_time {
        Verdict::Fails if end.is_some() => (Verdict::Fails, "too slow"),
        Verdict::Fails => (Verdict::Fails, "not there yet, and the time is up"),
        _ if end.is_none() => (Verdict::CannotTell, "not there yet"),
        _ if started_before => (
            Verdict::CannotTell,
            "the readings begin below the start, so the time before them is not known",
        ),
        _ if warmed => (Verdict::CannotTell, "the food warmed again afterwards"),
        _ if missed => (Verdict::CannotTell, "a reading was missed"),
        verdict => (verdict, "in time"),
    };
    let text = format!(
        "{name}: {} by the readings, {} is allowed; {why}.",
        taken.shown(),
        stage.within.shown()
    );
    Finding::verdict(verdict, text, rule, Some(margin))
}
