//! Kill and growth along a log, as questions of their own.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, DEFAULT_STANDARD};
use crate::error::Error;
use crate::growth::{Growth, GrowthModel, GrowthRequest, Lag};
use crate::lethality::{Lethality, LethalityRequest, Scheme};
use crate::log::{
    ColumnSlice, ElapsedSlice, LogChecks, LogFault, SoundLog, TemperatureLog, check_columns,
};
use crate::rules::{Case, Rulebook};
use crate::units::TemperatureDifference;

use super::{Given, GivenLog};

/// "How much kill does this log stand for?"
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LethalityQuery {
    /// The log.
    pub log: GivenLog,
    /// The scheme.
    pub scheme: Scheme,
    /// How far the probes may read too high; from 0 to 10 kelvin.
    #[serde(default)]
    pub accuracy: Option<TemperatureDifference>,
    /// The limits beyond which the log is at fault.
    #[serde(default)]
    pub checks: LogChecks,
}

/// "How much growth does this log stand for?"
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GrowthQuery {
    /// The log.
    pub log: GivenLog,
    /// The organism and food.
    pub model: GrowthModel,
    /// The initial state, for a figure with lag beside the one without.
    #[serde(default)]
    pub lag: Option<Lag>,
    /// The limits beyond which the log is at fault.
    #[serde(default)]
    pub checks: LogChecks,
}

/// The kill of a log, or the faults that hide it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct KillEstimate {
    /// The kill, place by place; nothing when the log is at fault.
    pub lethality: Option<Lethality>,
    /// The faults and cautions of the log.
    pub faults: Vec<LogFault>,
}

/// The growth of a log, or the faults that hide it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct GrowthEstimate {
    /// The growth, place by place; nothing when the log is at fault.
    pub growth: Option<Growth>,
    /// The faults and cautions of the log.
    pub faults: Vec<LogFault>,
}

/// The kill along a log under a scheme. It explains; it is not a verdict.
///
/// A log at fault has no kill; its faults are named instead.
///
/// # Errors
///
/// A log that cannot be read or has no place inside the food, or numbers of the caller's out of range.
///
/// ```
/// use poulter::records::{LethalityQuery, lethality_of_log};
/// use poulter::rules::Rulebook;
/// let query: LethalityQuery = serde_json::from_str(
///     r#"{"scheme": {"scheme": "poultry-7log-turkey"}, "log": {"csv": "elapsed_s,core_temp_degF\n0,150\n294,150\n"}}"#,
/// )?;
/// let kill = lethality_of_log(Rulebook::builtin(), &query)?.answer.lethality.expect("no fault");
/// assert_eq!(kill.places[0].shown, "at least 7 log10");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn lethality_of_log(
    book: &Rulebook,
    query: &LethalityQuery,
) -> Result<Answer<KillEstimate>, Error> {
    let case = Case::whole_turkey(DEFAULT_STANDARD);
    let given = Given::new(&query.log, query.checks, query.accuracy, case)?;
    let request = query.request(&given);
    let (lethality, faults) = inside(&given.log, &given.checks, |log| request.assess(log))?;
    let basis = Basis::new(book, case)?;
    Ok(basis.finish(KillEstimate { lethality, faults }))
}

/// The same along columns of the caller's, in place of the query's log. They are not copied where no fault is found.
///
/// # Errors
///
/// As [`lethality_of_log`].
///
/// ```
/// use poulter::log::{ColumnSlice, ElapsedSlice, Place};
/// use poulter::records::{LethalityQuery, lethality_of_columns};
/// use poulter::rules::Rulebook;
/// use poulter::units::TemperatureUnit;
/// let query: LethalityQuery =
///     serde_json::from_str(r#"{"scheme": {"scheme": "poultry-7log-turkey"}, "log": {}}"#)?;
/// let clock = ElapsedSlice { elapsed_s: &[0.0, 294.0] };
/// let core = ColumnSlice {
///     place: Place::CORE,
///     unit: TemperatureUnit::Fahrenheit,
///     temperatures: &[150.0, 150.0],
/// };
/// let kill = lethality_of_columns(Rulebook::builtin(), &query, clock, &[core])?.answer;
/// assert_eq!(kill.lethality.expect("no fault").places[0].shown, "at least 7 log10");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn lethality_of_columns(
    book: &Rulebook,
    query: &LethalityQuery,
    clock: ElapsedSlice<'_>,
    columns: &[ColumnSlice<'_>],
) -> Result<Answer<KillEstimate>, Error> {
    check_columns(clock, columns).map_err(|error| error.at("log"))?;
    let case = Case::whole_turkey(DEFAULT_STANDARD);
    let given = Given::without_log(query.checks, query.accuracy, case)?;
    let request = query.request(&given);
    let found = request.assess_columns(clock, columns, &given.checks)?;
    let (lethality, faults) = match found {
        Ok(lethality) => {
            let cautions = lethality.cautions.clone();
            (Some(lethality), cautions)
        }
        Err(faults) => (None, faults.0),
    };
    let basis = Basis::new(book, case)?;
    Ok(basis.finish(KillEstimate { lethality, faults }))
}

impl LethalityQuery {
    const fn request(&self, given: &Given<'_>) -> LethalityRequest {
        LethalityRequest {
            scheme: self.scheme,
            sensor_uncertainty: given.accuracy,
        }
    }
}

/// Growth along a log. It explains; it is not a verdict, and every model is experimental.
///
/// A log at fault has no growth; its faults are named instead.
///
/// # Errors
///
/// A log that cannot be read or has no place inside the food, or numbers of the caller's out of range.
///
/// ```
/// use poulter::records::{GrowthQuery, growth_of_log};
/// use poulter::rules::Rulebook;
/// let query: GrowthQuery = serde_json::from_str(
///     r#"{"model": {"model": "perfringens-roasted-chicken"}, "log": {"csv": "elapsed_min,core_temp_degC\n0,4\n5,\n"}}"#,
/// )?;
/// let answer = growth_of_log(Rulebook::builtin(), &query)?.answer;
/// assert_eq!((answer.growth, answer.faults[0].first_row), (None, 2));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn growth_of_log(
    book: &Rulebook,
    query: &GrowthQuery,
) -> Result<Answer<GrowthEstimate>, Error> {
    let case = Case::whole_turkey(DEFAULT_STANDARD);
    let given = Given::new(&query.log, query.checks, None, case)?;
    let request = GrowthRequest {
        model: query.model,
        lag: query.lag,
    };
    let (growth, faults) = inside(&given.log, &given.checks, |log| request.assess(log))?;
    let basis = Basis::new(book, case)?;
    Ok(basis.finish(GrowthEstimate { growth, faults }))
}

fn inside<T>(
    log: &TemperatureLog,
    checks: &LogChecks,
    assess: impl FnOnce(&SoundLog<'_>) -> Result<T, Error>,
) -> Result<(Option<T>, Vec<LogFault>), Error> {
    match log.sound(checks) {
        Ok(sound) => Ok((Some(assess(&sound)?), sound.cautions().to_vec())),
        Err(faults) => Ok((None, faults.0)),
    }
}
