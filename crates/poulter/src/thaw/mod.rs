//! Thawing: how long, what to do meanwhile, what may follow, and what is never allowed.

mod check;

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, TimeEstimate, default};
use crate::bird::{Cut, Species, State};
use crate::error::Error;
use crate::rules::{Case, Requirement, Rule, Rulebook, Topic};
use crate::units::{Duration, Mass};

pub use check::{ThawingCheck, ThawingVerdict, check_thawing};
pub(crate) use check::{forbidden, no_limit_above_cold, nothing_to_measure, strictest_cold};

/// How a bird is thawed.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum ThawMethod {
    /// In the refrigerator.
    Refrigerator,
    /// In a leak-proof bag under cold water that is changed.
    ColdWater,
    /// Under running water, as in food service.
    RunningWater,
    /// In a microwave oven.
    Microwave,
    /// In the cold brine.
    InBrine,
    /// Not at all: cooked from frozen.
    FromFrozen,
    /// On the counter or anywhere at room temperature: never allowed.
    RoomTemperature,
    /// In warm or hot water: never allowed.
    HotWater,
}

impl ThawMethod {
    /// The word a reader sees.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Refrigerator => "thawed in the refrigerator",
            Self::ColdWater => "thawed in cold water",
            Self::RunningWater => "thawed under running water",
            Self::Microwave => "thawed in a microwave oven",
            Self::InBrine => "thawed in its brine",
            Self::FromFrozen => "cooked from frozen",
            Self::RoomTemperature => "thawed at room temperature",
            Self::HotWater => "thawed in hot water",
        }
    }

    pub(crate) const fn topic(self) -> Topic {
        match self {
            Self::Refrigerator => Topic::ThawRefrigerator,
            Self::ColdWater => Topic::ThawColdWater,
            Self::RunningWater => Topic::ThawRunningWater,
            Self::Microwave => Topic::ThawMicrowave,
            Self::InBrine => Topic::ThawInBrine,
            Self::FromFrozen => Topic::ThawFromFrozen,
            Self::RoomTemperature | Self::HotWater => Topic::ThawForbidden,
        }
    }
}

/// "How long does this bird take to thaw?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ThawQuery {
    /// Mass of the packaged bird.
    pub mass: Mass,
    /// How it is thawed.
    pub method: ThawMethod,
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

/// The answer about thawing.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ThawTime {
    /// How the bird is thawed.
    pub method: ThawMethod,
    /// False where the standard forbids the method; `refusal` says why.
    pub allowed: bool,
    /// Why the method is refused.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub refusal: Option<String>,
    /// The time, where one is published.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time: Option<TimeEstimate>,
    /// How often the water is changed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub water_change_every: Option<Duration>,
    /// How long the thawed bird may wait in the refrigerator; zero means cook at once.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub may_wait: Option<TimeEstimate>,
    /// What to do.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
    /// Ids of the rules.
    pub rules: Vec<String>,
}

/// How long a bird takes to thaw, what to do and what may follow.
///
/// The printed row of the standard's table gives `low` and `high`; `likely` lies on the line between them.
///
/// Errors: an unknown standard, or no published row for the mass, species or method.
///
/// ```
/// use poulter::rules::Rulebook;
/// use poulter::thaw::{ThawQuery, thaw_time};
/// let query: ThawQuery = serde_json::from_str(r#"{"mass": "15 lb", "method": "refrigerator"}"#)?;
/// let answer = thaw_time(Rulebook::builtin(), &query)?;
/// assert_eq!(answer.answer.time.map(|time| time.shown()).as_deref(), Some("3 d to 4 d"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn thaw_time(book: &Rulebook, query: &ThawQuery) -> Result<Answer<ThawTime>, Error> {
    let case = Case {
        standard: &query.standard,
        species: query.species,
        cut: query.cut,
        state: Some(State::Frozen),
        process: None,
        on: query.on,
    };
    let mut basis = Basis::new(book, case)?;
    let value = work_out(&mut basis, query.method, query.mass)?;
    Ok(basis.finish(value))
}

/// The same, inside a larger answer.
pub(crate) fn work_out(
    basis: &mut Basis<'_>,
    method: ThawMethod,
    mass: Mass,
) -> Result<ThawTime, Error> {
    work_out_or(basis, method, mass, None)
}

/// The same, with a time that stands in where no row is published.
pub(crate) fn work_out_or(
    basis: &mut Basis<'_>,
    method: ThawMethod,
    mass: Mass,
    stand_in: Option<TimeEstimate>,
) -> Result<ThawTime, Error> {
    let rule = basis.require(method.topic())?;
    let mut value = ThawTime {
        method,
        allowed: true,
        refusal: None,
        time: None,
        water_change_every: None,
        may_wait: None,
        to_do: Vec::new(),
        rules: vec![rule.id.clone()],
    };
    if let Requirement::Never { text, why } = &rule.requirement {
        value.allowed = false;
        value.refusal = Some(format!("{text}: {why}"));
        return Ok(value);
    }
    match method {
        ThawMethod::Refrigerator | ThawMethod::ColdWater => {
            value.time = Some(time_or_no_row(rule, mass).or_else(|error| stand_in.ok_or(error))?);
        }
        ThawMethod::RunningWater => running_water(basis, rule, mass, &mut value),
        ThawMethod::Microwave => value
            .to_do
            .push("Follow the oven maker's table for size, time and power.".to_owned()),
        ThawMethod::FromFrozen => value.time = Some(TimeEstimate::exactly(Duration::ZERO)),
        // Only a rule that gives a time could allow these.
        ThawMethod::InBrine | ThawMethod::RoomTemperature | ThawMethod::HotWater => {
            value.allowed = false;
            value.refusal = rule.said();
            return Ok(value);
        }
    }
    if method == ThawMethod::ColdWater
        && let Some(change) = follow(basis, Topic::ThawWaterChange, &mut value)
        && let Requirement::Time { limit, .. } = &change.requirement
    {
        value.water_change_every = Some(limit.duration);
    }
    let after = match method {
        ThawMethod::Refrigerator => Some(Topic::ThawKeepAfterRefrigerator),
        ThawMethod::ColdWater | ThawMethod::RunningWater | ThawMethod::Microwave => {
            Some(Topic::ThawKeepAfterWater)
        }
        _ => None,
    };
    if let Some(topic) = after
        && let Some(wait) = follow(basis, topic, &mut value)
    {
        value.may_wait = match &wait.requirement {
            Requirement::Keep { low, high, .. } | Requirement::TimeRange { low, high, .. } => {
                Some(TimeEstimate {
                    low: *low,
                    likely: *low,
                    high: *high,
                })
            }
            _ => Some(TimeEstimate::exactly(Duration::ZERO)),
        };
    }
    if matches!(method, ThawMethod::Refrigerator | ThawMethod::ColdWater) {
        follow(basis, Topic::ThawContainer, &mut value);
    }
    if method == ThawMethod::ColdWater {
        follow(basis, Topic::ThawWaterTemperature, &mut value);
    }
    Ok(value)
}

/// Notes a rule that goes with the method and takes over its instruction.
fn follow<'b>(basis: &mut Basis<'b>, topic: Topic, value: &mut ThawTime) -> Option<&'b Rule> {
    let rule = basis.find(topic)?;
    value.rules.push(rule.id.clone());
    if let Requirement::Do { text } = &rule.requirement {
        value.to_do.push(text.clone());
    }
    Some(rule)
}

fn time_or_no_row(rule: &Rule, mass: Mass) -> Result<TimeEstimate, Error> {
    rule.requirement.time_for(mass).ok_or_else(|| {
        let reach = match &rule.requirement {
            Requirement::TimeByMass { rows, .. } => match (rows.first(), rows.last()) {
                (Some(first), Some(last)) => {
                    format!("the table runs from {} to {}", first.from, last.to)
                }
                _ => "the table is empty".to_owned(),
            },
            _ => "the rule gives no time".to_owned(),
        };
        Error::new(crate::ErrorKind::NoPublishedRow, mass, reach)
            .at("mass")
            .citing(&rule.id)
    })
}

/// Running water has a limit on the time above the cold limit but no published rate. The still-water rate stands in,
/// and the whole of it is counted against the limit, since nobody measures the surface.
fn running_water(basis: &mut Basis<'_>, rule: &Rule, mass: Mass, value: &mut ThawTime) {
    follow(basis, Topic::ThawWaterTemperature, value);
    let Some(estimate) = basis.find(Topic::ThawColdWater).and_then(|rate| {
        value.rules.push(rate.id.clone());
        rate.requirement.time_for(mass)
    }) else {
        return;
    };
    basis.assume("Running water thaws no faster than still water that is changed; no rate is published for it.");
    if let Requirement::Time { limit, then, .. } = &rule.requirement
        && !limit.is.holds(&estimate.high, &limit.duration)
    {
        value.allowed = false;
        value.refusal = Some(format!(
            "about {} in running water would be more than the {} that raw food may spend above the cold limit: {then}",
            estimate.high.shown(),
            limit.duration.shown()
        ));
        return;
    }
    value.time = Some(estimate);
}
