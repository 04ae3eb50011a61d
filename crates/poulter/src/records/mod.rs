//! Verdicts over temperature logs: was it cooked, cooled, held, reheated or thawed by the rules of a standard?
//!
//! The rule decides from what was recorded, place by place: the place that did worst counts, never the mean. What
//! the thermometer may be wrong by is always taken on the unsafe side. A place whose log has a fault gives
//! [`Verdict::CannotTell`] with the rows at fault, or [`Verdict::Fails`] where its sound stretches already show
//! it. Estimates of kill and growth stand beside a verdict and never change it.
//!
//! ```
//! use poulter::records::{CoolingLogCheck, check_cooling_log};
//! use poulter::rules::{Rulebook, Verdict};
//! let check: CoolingLogCheck = serde_json::from_str(
//!     r#"{"standard": "us-food-code-2022", "checks": {"longest_gap": "4 h"},
//!         "log": {"csv": "elapsed_h,core_temp_degF\n0,135\n2,70\n6,41\n"}}"#,
//! )?;
//! assert_eq!(check_cooling_log(Rulebook::builtin(), &check)?.answer.verdict, Verdict::Meets);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod cooking;
mod cooling;
mod estimate;
mod given;
mod holding;
mod minimum;
mod plot;
mod reheating;
mod thawing;

use schemars::JsonSchema;
use serde::Serialize;

use crate::answer::{Finding, FindingKind};
use crate::lethality::Lethality;
use crate::log::{LogFault, Place, SoundLog};
use crate::rules::{Margin, Rule, Verdict};
use crate::units::Duration;

pub(crate) use cooking::judge_cooking;
pub use cooking::{CookingLogCheck, check_cooking_log, usual_scheme};
pub(crate) use cooling::judge_cooling;
pub use cooling::{CoolingLogCheck, check_cooling_log};
pub use estimate::{
    GrowthEstimate, GrowthQuery, KillEstimate, LethalityQuery, growth_of_log, lethality_of_columns,
    lethality_of_log,
};
pub use given::GivenLog;
pub(crate) use given::{Given, record_check};
pub(crate) use holding::judge_holding;
pub use holding::{Holding, HoldingLogCheck, check_holding_log};
pub use plot::PlotTable;
pub(crate) use reheating::judge_reheating;
pub use reheating::{ReheatingLogCheck, check_reheating_log};
pub(crate) use thawing::judge_thawing;
pub use thawing::{ThawingLogCheck, check_thawing_log};

/// Stands after the name of a place that a rule asks for and a log lacks.
pub(crate) const NOT_IN_THE_LOG: &str = ": not in the log";

/// One remark on a log: a [`Finding`] with the place, the time and the rows it is about.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct RecordFinding {
    /// The remark, with its verdict, its margin and its rule.
    #[serde(flatten)]
    pub finding: Finding,
    /// The place it is about.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<Place>,
    /// When on the log's clock.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<Duration>,
    /// The first row at fault, counted from 1 below the heading.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub first_row: Option<usize>,
    /// The last row of the same fault.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub last_row: Option<usize>,
}

/// The judgement of a log.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RecordVerdict {
    /// The worst of the findings.
    pub verdict: Verdict,
    /// What was found, place by place.
    pub findings: Vec<RecordFinding>,
    /// What to do next.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
    /// What the log of a cooking says of kill: for information, never part of the verdict.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lethality: Option<Lethality>,
}

impl From<Finding> for RecordFinding {
    fn from(finding: Finding) -> Self {
        Self {
            finding,
            place: None,
            at: None,
            first_row: None,
            last_row: None,
        }
    }
}

impl RecordFinding {
    fn verdict(
        verdict: Verdict,
        text: impl Into<String>,
        rule: &Rule,
        margin: Option<Margin>,
    ) -> Self {
        Finding::verdict(verdict, text, rule, margin).into()
    }

    fn of(self, place: &Place, at: Option<Duration>) -> Self {
        Self {
            place: Some(place.clone()),
            at,
            ..self
        }
    }

    fn missing(place: &str, rule: &Rule) -> Self {
        let text = format!("{place}{NOT_IN_THE_LOG}");
        Self::verdict(Verdict::CannotTell, text, rule, None)
    }

    fn fault(fault: &LogFault, rule: &Rule) -> Self {
        let finding = if fault.fault.blocks() {
            Finding::verdict(Verdict::CannotTell, fault.to_string(), rule, None)
        } else {
            Finding::caution(fault.to_string(), None)
        };
        Self {
            place: fault.place.clone(),
            first_row: Some(fault.first_row),
            last_row: Some(fault.last_row),
            ..finding.into()
        }
    }
}

/// A check whose rules are looked up, ready for any number of logs.
pub(crate) type Judge<'b> =
    Box<dyn Fn(&Given<'_>) -> Result<RecordVerdict, crate::Error> + Send + Sync + 'b>;

/// What the sound stretches of a faulty place are good for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Stretches {
    /// A limit broken in one of them is broken, whatever happened elsewhere.
    ShowFailure,
    /// Nothing: the missing part may hold what the rule asks for.
    ShowNothing,
}

impl Given<'_> {
    /// Judges each place by itself; a place with a fault cannot meet anything.
    fn each_place(
        &self,
        places: &[Place],
        rule: &Rule,
        stretches: Stretches,
        judge: impl Fn(&Place, &SoundLog<'_>) -> Vec<RecordFinding>,
    ) -> Result<Vec<RecordFinding>, crate::Error> {
        let mut findings = Vec::new();
        for place in places {
            let faults = match self
                .log
                .sound_at(std::slice::from_ref(place), &self.checks)?
            {
                Ok(sound) => {
                    findings.extend(judge(place, &sound));
                    sound.cautions().to_vec()
                }
                Err(faults) => {
                    if stretches == Stretches::ShowFailure {
                        for stretch in self.log.stretches(place, &faults) {
                            let Ok(sound) = stretch.sound(&self.checks) else {
                                continue;
                            };
                            let found = judge(place, &sound).into_iter();
                            findings.extend(
                                found.filter(|f| f.finding.verdict == Some(Verdict::Fails)),
                            );
                        }
                    }
                    faults.0
                }
            };
            findings.extend(faults.iter().map(|fault| RecordFinding::fault(fault, rule)));
        }
        Ok(findings)
    }
}

impl RecordVerdict {
    fn of(found: Vec<RecordFinding>, fails: &str) -> Self {
        // A place judged by two rules brings its cautions twice.
        let mut findings: Vec<RecordFinding> = Vec::new();
        for finding in found {
            if !findings.contains(&finding) {
                findings.push(finding);
            }
        }
        let judged = findings
            .iter()
            .filter(|found| found.finding.kind == FindingKind::Verdict);
        let verdict = Verdict::worst(judged.filter_map(|found| found.finding.verdict));
        let to_do = match verdict {
            Verdict::Meets => vec!["Keep the log with the batch.".to_owned()],
            Verdict::Fails => vec![fails.to_owned()],
            Verdict::CannotTell => vec![
                "Mend the log or go on measuring; until it is complete, treat the food as if it failed.".to_owned(),
            ],
        };
        Self {
            verdict,
            findings,
            to_do,
            lethality: None,
        }
    }
}
