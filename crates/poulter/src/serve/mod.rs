//! Rest, carving, hot holding and the buffet clock.

mod holding;
mod out;
mod time_control;
mod time_out;

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, TimeEstimate, default};
use crate::bird::{Cut, Species};
use crate::error::{Error, ErrorKind};
use crate::purchase::cooked_yield;
use crate::rules::{Case, Requirement, Rulebook, TemperatureLimit, TimeLimit, Topic};
use crate::units::{Duration, Fraction, Mass, MassUnit, Temperature};

pub(crate) use holding::judge_worst;
pub use holding::{Display, HoldingCheck, HoldingVerdict, Side, check_holding};
pub(crate) use out::TimeOut;
pub(crate) use time_control::food_code;
pub use time_control::{
    TimeControlCheck, TimeControlOption, TimeControlVerdict, check_time_control,
};
pub use time_out::{MayBe, PeriodOut, TimeOutCheck, TimeOutVerdict, check_time_out};

/// "How do I rest, carve and hold this bird?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ServeQuery {
    /// Raw mass of the bird.
    pub mass: Mass,
    /// Whether stuffing is in the bird.
    #[serde(default)]
    pub stuffed: bool,
    /// Solution added by the packer, from the label; none when left out.
    #[serde(default = "no_solution")]
    pub solution_added: Fraction,
    /// Air where the food stands; the limit on a hot day hangs on it.
    #[serde(default)]
    pub surroundings: Option<Temperature>,
    /// How long the food has stood out; then it is judged.
    #[serde(default)]
    pub out_for: Option<Duration>,
    /// The coldest reading of food held hot; then it is judged.
    #[serde(default)]
    pub held_at: Option<Temperature>,
    /// How long it has been held hot; then it is judged.
    #[serde(default)]
    pub held_for: Option<Duration>,
    /// The standard; `us-consumer` when left out.
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

const fn no_solution() -> Fraction {
    Fraction::ZERO
}

/// The answer about serving.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct RestAndCarve {
    /// Rest before carving; heat that goes on rising meanwhile is never counted as safety.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rest: Option<TimeEstimate>,
    /// Time to carve.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub carve: Option<TimeEstimate>,
    /// How hot food must be held.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hold_hot: Option<TemperatureLimit>,
    /// How long food may be held hot.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hold_hot_for: Option<TimeLimit>,
    /// How long food may stand out in these surroundings.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stand_out_for: Option<TimeLimit>,
    /// Neat slices, the smaller amount.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub slices_low: Option<Mass>,
    /// Neat slices, the larger amount; the rest of the meat is for leftovers and soup.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub slices_high: Option<Mass>,
    /// Judgements and remarks.
    pub findings: Vec<Finding>,
    /// What to do.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
    /// Ids of the rules.
    pub rules: Vec<String>,
}

/// Neat slices as a share of the cooked meat, in per cent (common practice).
const SLICES: [i64; 2] = [70, 80];

/// Above this a bird rests longer, 18 lb (common practice).
const LARGE: Mass = Mass::from_steps(8_164_662_660_000, MassUnit::Pound);

/// How long the bird rests, how long carving takes, how hot and how long food is held, and how long it may stand out.
///
/// Neat slices are 70 to 80 % of the cooked meat. Time out is judged by the limit for a hot day where the surroundings
/// are above the rule's temperature; with no surroundings given, time between the two limits is `CannotTell`.
///
/// Limits: rest and carving are common practice for birds of 12 to 16 lb; above 18 lb the rest is longer.
///
/// Errors: a mass of nothing, or an unknown standard.
///
/// ```
/// use poulter::rules::Rulebook;
/// use poulter::serve::{ServeQuery, rest_and_carve};
/// let query: ServeQuery = serde_json::from_str(r#"{"mass": "14 lb", "surroundings": "91 °F"}"#)?;
/// let answer = rest_and_carve(Rulebook::builtin(), &query)?.answer;
/// assert_eq!(answer.stand_out_for.map(|limit| limit.shown()).as_deref(), Some("at most 1 h"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn rest_and_carve(book: &Rulebook, query: &ServeQuery) -> Result<Answer<RestAndCarve>, Error> {
    let case = Case::of(&query.standard, query.species, query.cut, query.on);
    let mut basis = Basis::new(book, case)?;
    let value = work_out(&mut basis, query)?;
    Ok(basis.finish(value))
}

/// Serving inside a larger answer.
pub(crate) fn work_out(basis: &mut Basis<'_>, query: &ServeQuery) -> Result<RestAndCarve, Error> {
    if query.mass == Mass::ZERO {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            query.mass,
            "a mass above 0 is needed",
        )
        .at("mass"));
    }
    let mut value = RestAndCarve {
        rest: None,
        carve: None,
        hold_hot: None,
        hold_hot_for: None,
        stand_out_for: None,
        slices_low: None,
        slices_high: None,
        findings: Vec::new(),
        to_do: Vec::new(),
        rules: Vec::new(),
    };
    value.rest = if query.mass > LARGE {
        basis.under("above-18-lb", |basis| {
            time(basis, Topic::ServeRest, query.mass, &mut value.rules)
        })
    } else {
        time(basis, Topic::ServeRest, query.mass, &mut value.rules)
    };
    value.carve = time(basis, Topic::ServeCarve, query.mass, &mut value.rules);
    let solution = query.solution_added > Fraction::ZERO;
    if let Some(shares) = cooked_yield(basis, query.species, query.cut, solution) {
        let meat = query.mass.times_ratio(shares.meat.steps(), 1_000_000_000);
        let [low, high] = SLICES.map(|share| meat.times_ratio(share, 100));
        (value.slices_low, value.slices_high) = (Some(low), Some(high));
    }
    if query.stuffed
        && let Some(rule) = basis.find(Topic::ServeStuffingOut)
    {
        value.rules.push(rule.id.clone());
        value.to_do.extend(rule.said());
    }
    hold_hot(basis, query, &mut value);
    stand_out(basis, query, &mut value);
    time_as_control(basis, &mut value);
    value.to_do.push(
        "Serve on small platters and replace them; never top up food that stood out.".to_owned(),
    );
    Ok(value)
}

fn time(
    basis: &mut Basis<'_>,
    topic: Topic,
    mass: Mass,
    rules: &mut Vec<String>,
) -> Option<TimeEstimate> {
    let rule = basis.find(topic)?;
    rules.push(rule.id.clone());
    rule.requirement.time_for(mass)
}

fn hold_hot(basis: &mut Basis<'_>, query: &ServeQuery, value: &mut RestAndCarve) {
    if let Some(rule) = basis.find(Topic::HoldHot) {
        value.rules.push(rule.id.clone());
        if let Requirement::Temperature { limit } = rule.requirement {
            value.hold_hot = Some(limit);
            if let Some(reading) = query.held_at {
                let (verdict, margin) = limit.judge(reading);
                let text = format!("Held at {reading}; {} is needed.", limit.shown());
                let finding = Finding::verdict(verdict, text, rule, Some(margin));
                value.findings.push(finding);
            }
        }
    }
    if let Some(rule) = basis.find(Topic::HoldHotTime) {
        value.rules.push(rule.id.clone());
        if let Requirement::Time { limit, then, .. } = &rule.requirement {
            value.hold_hot_for = Some(*limit);
            if let Some(held) = query.held_for {
                let (verdict, margin) = limit.judge(held);
                let text = format!(
                    "Held hot for {}; {} is allowed. {then}",
                    held.shown(),
                    limit.shown()
                );
                let finding = Finding::verdict(verdict, text, rule, Some(margin));
                value.findings.push(finding);
            }
        }
    }
}

fn stand_out(basis: &mut Basis<'_>, query: &ServeQuery, value: &mut RestAndCarve) {
    let topics = [Topic::HoldOut, Topic::HoldOutHotDay];
    let Some(limits) = TimeOut::find(basis, &topics, &mut value.rules) else {
        return;
    };
    value.stand_out_for = Some(limits.chosen(basis, query.surroundings));
    if let Some(taken) = query.out_for {
        value.findings.push(limits.judge(taken, query.surroundings));
    }
}

/// Food service may let time stand in for temperature, under a written procedure.
fn time_as_control(basis: &mut Basis<'_>, value: &mut RestAndCarve) {
    let Some(rule) = basis.find(Topic::HoldTimeControl) else {
        return;
    };
    value.rules.push(rule.id.clone());
    if let Requirement::TimeAsControl { start, limit, .. } = &rule.requirement {
        let text = format!(
            "{}: from {}, {}. {}",
            rule.title,
            start.shown(),
            limit.shown(),
            rule.note
        );
        value.findings.push(Finding::advice(text, Some(rule)));
    }
}
