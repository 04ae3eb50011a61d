//! Every way to cook a bird: the printed time, a refusal with its rule, or a gap that is told as a gap.

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, TimeEstimate, default};
use crate::bird::{Cut, Species};
use crate::error::{Error, ErrorKind};
use crate::rules::{Case, Requirement, Rule, Rulebook, Topic};
use crate::units::{Mass, Temperature};

use super::{Oven, RoastMethod, RoastQuery};

/// A way to cook a bird.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum CookMethod {
    /// In the oven.
    Roast,
    /// On a covered grill.
    Grill,
    /// In a smoker.
    Smoke,
    /// In hot oil.
    Fry,
    /// In an infrared fryer without oil.
    OilLessFry,
    /// In water or stock below the boil.
    Simmer,
    /// In a microwave oven.
    Microwave,
    /// In an electric roaster oven.
    RoasterOven,
    /// In a slow cooker.
    SlowCooker,
    /// In a pressure cooker.
    PressureCooker,
}

impl CookMethod {
    /// Every method.
    pub const ALL: [Self; 10] = [
        Self::Roast,
        Self::Grill,
        Self::Smoke,
        Self::Fry,
        Self::OilLessFry,
        Self::Simmer,
        Self::Microwave,
        Self::RoasterOven,
        Self::SlowCooker,
        Self::PressureCooker,
    ];

    /// The word on the wire, and the process word of the rules that refuse a method.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Roast => "roast",
            Self::Grill => "grill",
            Self::Smoke => "smoke",
            Self::Fry => "fry",
            Self::OilLessFry => "oil-less-fry",
            Self::Simmer => "simmer",
            Self::Microwave => "microwave",
            Self::RoasterOven => "roaster-oven",
            Self::SlowCooker => "slow-cooker",
            Self::PressureCooker => "pressure-cooker",
        }
    }

    /// Where the time or the instruction stands, and the process word under which it stands there.
    const fn table(self) -> (Topic, Option<&'static str>) {
        match self {
            Self::Roast => (Topic::RoastTimeUnstuffed, None),
            Self::Grill => (Topic::GrillTime, None),
            Self::Smoke => (Topic::SmokeTime, None),
            Self::Fry => (Topic::FryTime, None),
            Self::OilLessFry => (Topic::FryTime, Some("oil-less")),
            Self::Simmer => (Topic::SimmerTime, None),
            Self::Microwave => (Topic::MicrowaveTime, None),
            Self::RoasterOven => (Topic::RoasterOvenTime, None),
            Self::SlowCooker => (Topic::SlowCooker, None),
            Self::PressureCooker => (Topic::SimmerTime, Some("pressure-cooker")),
        }
    }
}

/// "How long does this bird cook this way?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CookQuery {
    /// How it is cooked.
    pub method: CookMethod,
    /// Mass of the bird; of parts, of one piece, and in a microwave oven of all pieces together.
    pub mass: Mass,
    /// Whether stuffing is in the bird.
    #[serde(default)]
    pub stuffed: bool,
    /// Whether the bird is hard frozen when it starts.
    #[serde(default)]
    pub from_frozen: bool,
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

/// The answer about one way of cooking.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CookTime {
    /// How it is cooked.
    pub method: CookMethod,
    /// False where a rule forbids it; `refusal` says why.
    pub allowed: bool,
    /// Why it is refused.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub refusal: Option<String>,
    /// The printed time; none where the standard has instructions but no time.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time: Option<TimeEstimate>,
    /// Oven, chamber or oil it is for; the lower end where the source prints a range.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub setting: Option<Temperature>,
    /// The upper end of that range.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub setting_high: Option<Temperature>,
    /// What other sources print for the same question, and the dangers of the method.
    pub findings: Vec<Finding>,
    /// What to do.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
    /// What the printed time holds for.
    pub notes: Vec<String>,
    /// Ids of the rules; the first one decides.
    pub rules: Vec<String>,
}

/// How long a bird or cut takes by any method: from the standard's own table, never across a gap in it.
///
/// Refused, with the rule: stuffing where no method is slow enough for it, a frozen start where ice or time forbids
/// it, a whole bird where only parts are allowed, and a bird too heavy to fry. Of two printed limits on the mass the
/// stricter decides, and the other one is told. The thermometer decides, never the time.
///
/// Errors: an unknown standard, or no published row for the method, species, cut or mass.
///
/// ```
/// use poulter::roast::{CookQuery, cook_time};
/// use poulter::rules::Rulebook;
/// let ask = |json: &str| -> Result<_, Box<dyn std::error::Error>> {
///     Ok(cook_time(Rulebook::builtin(), &serde_json::from_str(json)?)?.answer)
/// };
/// let grilled = ask(r#"{"method": "grill", "mass": "12 lb"}"#)?;
/// assert_eq!(grilled.time.map(|time| time.shown()).as_deref(), Some("3 h to 3 h 36 min"));
/// assert!(!ask(r#"{"method": "fry", "mass": "13 lb"}"#)?.allowed);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn cook_time(book: &Rulebook, query: &CookQuery) -> Result<Answer<CookTime>, Error> {
    let case = Case::of(&query.standard, query.species, query.cut, query.on);
    let mut basis = Basis::new(book, case)?;
    let value = work_out(&mut basis, query)?;
    Ok(basis.finish(value))
}

fn work_out(basis: &mut Basis<'_>, query: &CookQuery) -> Result<CookTime, Error> {
    let mut value = CookTime {
        method: query.method,
        allowed: true,
        refusal: None,
        time: None,
        setting: None,
        setting_high: None,
        findings: Vec::new(),
        to_do: Vec::new(),
        notes: Vec::new(),
        rules: Vec::new(),
    };
    dangers(basis, query, &mut value);
    if is_refused(basis, query, &mut value) {
        return Ok(value);
    }
    basis.caution(
        "The time only says when to start measuring; the thermometer says when the bird is done.",
    );
    if query.method == CookMethod::Roast {
        return roasted(basis, query, value);
    }
    let (topic, mut process) = query.method.table();
    if query.stuffed {
        process = Some("stuffed");
    }
    basis.case.process = process;
    let rules: Vec<&Rule> = (basis.every(topic).into_iter())
        .filter(|rule| process.is_none() || !rule.applies_to.process.is_empty())
        .collect();
    for (unanswered, field) in [
        (query.stuffed && rules.is_empty(), "stuffed"),
        (query.from_frozen, "from_frozen"),
    ] {
        if unanswered {
            let expected = "no time is published for this method with it; false is needed";
            return Err(Error::new(ErrorKind::NoPublishedRow, true, expected).at(field));
        }
    }
    let printed = |rule: &&Rule| rule.requirement.time_for(query.mass).is_some();
    let first = match rules.first() {
        None => basis.require(topic)?,
        // A row for the mass comes first, then what is said of the method as such.
        Some(&first) => {
            let said = |rule: &&Rule| {
                matches!(
                    rule.requirement,
                    Requirement::Do { .. } | Requirement::Never { .. }
                )
            };
            let row = rules.iter().copied().find(printed);
            row.or(rules.iter().copied().find(said)).unwrap_or(first)
        }
    };
    match &first.requirement {
        Requirement::Never { .. } => refuse(basis, first, &mut value),
        Requirement::Do { text } => {
            note(basis, first, &mut value);
            value.to_do.push(text.clone());
        }
        requirement => {
            let time = requirement.time_for(query.mass);
            value.time = Some(time.ok_or_else(|| gap(&rules, query.mass))?);
            [value.setting, value.setting_high] = settings(requirement);
            note(basis, first, &mut value);
        }
    }
    for rule in rules.into_iter().filter(|rule| rule.id != first.id) {
        let is_table = matches!(
            rule.requirement,
            Requirement::TimeByMass { .. } | Requirement::TimePerMass { .. }
        );
        if rule.requirement != first.requirement && (printed(&rule) || !is_table) {
            also(basis, rule, &mut value);
        }
    }
    Ok(value)
}

/// The time in the oven is the roasting question's own.
fn roasted(
    basis: &mut Basis<'_>,
    query: &CookQuery,
    mut value: CookTime,
) -> Result<CookTime, Error> {
    let ask = RoastQuery {
        mass: query.mass,
        stuffed: query.stuffed,
        method: RoastMethod::Steady,
        from_frozen: query.from_frozen,
        oven: Oven::default(),
        altitude: None,
        standard: query.standard.clone(),
        species: query.species,
        cut: query.cut,
        on: query.on,
    };
    let roast = super::work_out(basis, &ask)?;
    value.allowed = roast.allowed;
    value.refusal = roast.refusal;
    value.time = roast.time;
    value.setting = roast.oven.first().map(|phase| phase.air);
    value.to_do.extend(roast.to_do);
    value.notes.extend(roast.notes);
    value.rules.extend(roast.rules);
    Ok(value)
}

/// Whether a rule forbids the method for this bird; the first one found says so.
fn is_refused(basis: &mut Basis<'_>, query: &CookQuery, value: &mut CookTime) -> bool {
    let mut topics = vec![Topic::CookCut];
    if query.stuffed {
        topics.extend([Topic::CookStuffed, Topic::PrepareStuffing]);
    }
    if query.from_frozen {
        topics.push(Topic::CookFrozen);
    }
    let found = basis.under(query.method.name(), |basis| {
        (topics.into_iter())
            .flat_map(|topic| basis.every(topic).into_iter().take(1))
            .find(|rule| matches!(rule.requirement, Requirement::Never { .. }))
    });
    if let Some(rule) = found {
        refuse(basis, rule, value);
        return true;
    }
    match query.method {
        CookMethod::Fry | CookMethod::OilLessFry => is_too_heavy(basis, query, value),
        _ => false,
    }
}

/// Every limit on the mass is told; those that judge decide, and the worst counts.
fn is_too_heavy(basis: &mut Basis<'_>, query: &CookQuery, value: &mut CookTime) -> bool {
    basis.case.process = query.method.table().1;
    let judging = basis.judging(Topic::FryMass);
    for rule in basis.every(Topic::FryMass) {
        if !judging.iter().any(|known| known.id == rule.id)
            && rule.applies_to.process.is_empty() == basis.case.process.is_none()
        {
            also(basis, rule, value);
        }
    }
    basis.case.process = None;
    for rule in judging {
        let Requirement::MassLimit { from, to } = &rule.requirement else {
            continue;
        };
        if query.mass > *to || from.is_some_and(|from| query.mass < from) {
            refuse(basis, rule, value);
            return true;
        }
        note(basis, rule, value);
    }
    false
}

fn dangers(basis: &mut Basis<'_>, query: &CookQuery, value: &mut CookTime) {
    if query.method == CookMethod::Fry {
        for rule in basis.every(Topic::FryHazard) {
            basis.note(rule);
            if let Some(text) = rule.said() {
                value.findings.push(Finding::caution(text, Some(rule)));
            }
        }
    }
}

fn refuse<'b>(basis: &mut Basis<'b>, rule: &'b Rule, value: &mut CookTime) {
    value.allowed = false;
    value.refusal = rule.said();
    note(basis, rule, value);
}

fn note<'b>(basis: &mut Basis<'b>, rule: &'b Rule, value: &mut CookTime) {
    basis.note(rule);
    value.rules.push(rule.id.clone());
    if !rule.note.is_empty() {
        value.notes.push(rule.note.clone());
    }
}

fn also<'b>(basis: &mut Basis<'b>, rule: &'b Rule, value: &mut CookTime) {
    basis.note(rule);
    let text = rule.said().unwrap_or_else(|| rule.title.clone());
    value.findings.push(Finding::advice(text, Some(rule)));
}

/// The lower and upper end of what the oven, chamber or oil is set to.
pub(super) fn settings(requirement: &Requirement) -> [Option<Temperature>; 2] {
    match requirement {
        Requirement::TimePerMass {
            setting,
            setting_high,
            ..
        }
        | Requirement::TimeRange {
            setting,
            setting_high,
            ..
        } => [*setting, *setting_high],
        Requirement::TimeByMass { setting, .. } => [*setting, None],
        _ => [None; 2],
    }
}

/// Says for which masses there are rows.
fn gap(rules: &[&Rule], mass: Mass) -> Error {
    let mut reach = Vec::new();
    for rule in rules {
        match &rule.requirement {
            Requirement::TimeByMass { rows, .. } => {
                reach.extend(rows.iter().map(|row| format!("{} to {}", row.from, row.to)));
            }
            Requirement::TimePerMass { from, to, .. } => {
                reach.extend(match (from, to) {
                    (Some(from), Some(to)) => Some(format!("{from} to {to}")),
                    (None, Some(to)) => Some(format!("up to {to}")),
                    (Some(from), None) => Some(format!("{from} and more")),
                    (None, None) => None,
                });
            }
            _ => {}
        }
    }
    reach.dedup();
    let expected = format!("rows are published for {}", reach.join(", "));
    let error = Error::new(ErrorKind::NoPublishedRow, mass, expected).at("mass");
    match rules.first() {
        Some(rule) => error.citing(&rule.id),
        None => error,
    }
}
