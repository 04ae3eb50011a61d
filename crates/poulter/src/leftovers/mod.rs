//! Leftovers: when they must be cold, how they are cooled, how long they keep, and how they are warmed again.

mod cooling;
mod reheating;

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, TimeEstimate, default};
use crate::bird::{Cut, Species};
use crate::error::{Error, ErrorKind};
use crate::plan::Moment;
use crate::rules::{Case, Keeping, Requirement, Rulebook, TemperatureLimit, TimeLimit, Topic};
use crate::serve::TimeOut;
use crate::storage::{self, StorageQuery, StoredFood};
use crate::units::{Duration, Length, Mass, Temperature};

pub use cooling::{CoolingCheck, CoolingReading, CoolingVerdict, check_cooling};
pub use reheating::{ReheatingCheck, ReheatingVerdict, check_reheating};

/// "What do I do with the leftovers?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LeftoversQuery {
    /// Mass of cooked meat left.
    #[serde(default)]
    pub mass: Option<Mass>,
    /// When it came from the heat, with its zone, such as `2026-12-19T18:30[Europe/Lisbon]`.
    #[serde(default)]
    pub cooked_at: Option<Moment>,
    /// How long it took until it was in the refrigerator; then it is judged.
    #[serde(default)]
    pub chilled_after: Option<Duration>,
    /// Air where the food stands; the limit on a hot day hangs on it.
    #[serde(default)]
    pub surroundings: Option<Temperature>,
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

/// How long one kind of leftover keeps in one place.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct LeftoverKeeps {
    /// What.
    pub food: StoredFood,
    /// Where.
    pub place: Keeping,
    /// How long.
    pub keeps: TimeEstimate,
    /// True where the time is about quality only.
    pub quality_only: bool,
    /// The day by which it is best used.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<String>")]
    pub use_by: Option<Date>,
    /// The last day of the rule.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<String>")]
    pub last_day: Option<Date>,
    /// The rule.
    pub rule: String,
}

/// The answer about leftovers.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Leftovers {
    /// In what time they must be in the refrigerator.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chill_within: Option<TimeLimit>,
    /// The moment by which they must be there, with its zone.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chill_by: Option<Moment>,
    /// The greatest depth in a container.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub depth: Option<Length>,
    /// Whole servings of 3 oz in the mass.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub servings: Option<u32>,
    /// How long meat, stuffing, gravy and soup keep.
    pub keeps: Vec<LeftoverKeeps>,
    /// How hot they are reheated.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reheat: Option<TemperatureLimit>,
    /// How long that must hold.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reheat_hold: Option<TimeLimit>,
    /// Judgements and remarks.
    pub findings: Vec<Finding>,
    /// What to do.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
    /// Ids of the rules.
    pub rules: Vec<String>,
}

/// When leftovers must be cold, in what depth, how long each kind keeps, and how hot they are reheated.
///
/// Time is counted from the heat: `chill_by = cooked_at + limit`, on the clock of the zone, so a change of clock in
/// between does not lengthen it. Dates count whole days from the day of cooking.
///
/// Errors: a moment without date, time and zone, an unknown standard, or one that says nothing of leftovers.
///
/// ```
/// use poulter::leftovers::{LeftoversQuery, leftovers};
/// use poulter::rules::Rulebook;
/// let query: LeftoversQuery =
///     serde_json::from_str(r#"{"cooked_at": "2026-12-19T18:30[Europe/Lisbon]"}"#)?;
/// let answer = leftovers(Rulebook::builtin(), &query)?.answer;
/// assert_eq!(answer.chill_by.map(|at| at.to_string()).as_deref(), Some("2026-12-19T20:30:00+00:00[Europe/Lisbon]"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn leftovers(book: &Rulebook, query: &LeftoversQuery) -> Result<Answer<Leftovers>, Error> {
    let case = Case::of(&query.standard, query.species, query.cut, query.on);
    let mut basis = Basis::new(book, case)?;
    let value = work_out(&mut basis, query)?;
    Ok(basis.finish(value))
}

/// Leftovers inside a larger answer.
pub(crate) fn work_out(basis: &mut Basis<'_>, query: &LeftoversQuery) -> Result<Leftovers, Error> {
    let mut value = Leftovers {
        chill_within: None,
        chill_by: None,
        depth: None,
        servings: query.mass.map(|mass| {
            let serving = Mass::from_steps(85_048_569_375, crate::units::MassUnit::Ounce);
            u32::try_from(mass.steps() / serving.steps()).unwrap_or(u32::MAX)
        }),
        keeps: Vec::new(),
        reheat: None,
        reheat_hold: None,
        findings: Vec::new(),
        to_do: Vec::new(),
        rules: Vec::new(),
    };
    if let Some(limits) = TimeOut::find(basis, &[Topic::CoolStart], &mut value.rules) {
        let limit = limits.chosen(basis, query.surroundings);
        value.chill_within = Some(limit);
        value.chill_by = query.cooked_at.as_ref().map(|at| at.after(limit.duration));
        if let Some(taken) = query.chilled_after {
            value.findings.push(limits.judge(taken, query.surroundings));
        }
    }
    if let Some(rule) = basis.find(Topic::CoolDepth) {
        value.rules.push(rule.id.clone());
        if let Requirement::DepthLimit { to } = rule.requirement {
            value.depth = Some(to);
        }
    }
    let since = query.cooked_at.as_ref().map(|at| at.zoned().date());
    keep(basis, query, since, &mut value)?;
    instructions(basis, &mut value);
    if value.rules.is_empty() {
        let expected = "a standard that speaks of leftovers is needed";
        return Err(
            Error::new(ErrorKind::NoPublishedRow, &query.standard, expected).at("standard"),
        );
    }
    Ok(value)
}

fn keep(
    basis: &mut Basis<'_>,
    query: &LeftoversQuery,
    since: Option<Date>,
    value: &mut Leftovers,
) -> Result<(), Error> {
    use Keeping::{Freezer, Refrigerator};
    use StoredFood::{Cooked, Gravy, Soup, Stuffing};
    for (food, place) in [
        (Cooked, Refrigerator),
        (Cooked, Freezer),
        (Stuffing, Refrigerator),
        (Stuffing, Freezer),
        (Gravy, Refrigerator),
        (Gravy, Freezer),
        (Soup, Refrigerator),
        (Soup, Freezer),
    ] {
        let ask = StorageQuery {
            food,
            place,
            since,
            standard: query.standard.clone(),
            species: query.species,
            cut: query.cut,
            on: query.on,
        };
        let stored = match storage::work_out(basis, &ask) {
            Ok(stored) => stored,
            // A standard may be silent on one kind of leftover; the others are still told.
            Err(error) if error.kind() == ErrorKind::NoPublishedRow => continue,
            Err(error) => return Err(error.at("cooked_at")),
        };
        value.keeps.push(LeftoverKeeps {
            food,
            place,
            keeps: stored.keeps,
            quality_only: stored.quality_only,
            use_by: stored.use_by,
            last_day: stored.last_day,
            rule: stored.rules.first().cloned().unwrap_or_default(),
        });
        value.findings.extend(stored.findings);
        for id in stored.rules {
            if !value.rules.contains(&id) {
                value.rules.push(id);
            }
        }
    }
    Ok(())
}

fn instructions(basis: &mut Basis<'_>, value: &mut Leftovers) {
    if let Some(rule) = basis.find(Topic::Reheat) {
        value.rules.push(rule.id.clone());
        if let Requirement::MinimumTemperature { limit, hold, .. } = &rule.requirement {
            value.reheat = Some(*limit);
            value.reheat_hold = *hold;
        }
    }
    let topics = [
        Topic::StorageSenses,
        Topic::CoolWhole,
        Topic::Reheat,
        Topic::ReheatTime,
        Topic::ReheatWhole,
        Topic::ReheatGravy,
    ];
    for topic in topics {
        if let Some(rule) = basis.find(topic) {
            if !value.rules.contains(&rule.id) {
                value.rules.push(rule.id.clone());
            }
            value.to_do.extend(rule.said());
        }
    }
}
