//! What is told of each log.

use serde::Serialize;

use crate::error::{Error, ErrorKind};
use crate::log::Place;
use crate::records::{RecordFinding, RecordVerdict};
use crate::rules::{Margin, Verdict};
use crate::units::Duration;

/// The verdict over one log with what decided it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LogVerdict {
    /// The worst of the findings.
    pub verdict: Verdict,
    /// The finding that decided, in words: of those with this verdict the one with the least margin.
    pub reason: String,
    /// The rule that it rests on.
    pub rule: Option<String>,
    /// The place that it is about.
    pub place: Option<Place>,
    /// How far that place lies from the limit; negative on the unsafe side.
    pub margin: Option<Margin>,
    /// When every place had what the rule asks for, on the log's clock; nothing unless the rule is met.
    pub reached: Option<Duration>,
    /// The name of the first fault that blocks a conclusion.
    pub fault: Option<&'static str>,
    /// The row of that fault, counted from 1 within the log.
    pub fault_row: Option<usize>,
    /// Kill of the place with the least, in powers of ten, with every reading lowered by the accuracy; NaN where a
    /// fault hides it or no place is inside the food.
    pub reduction_log10: f64,
    /// When that kill came to the target of its scheme in every place, in seconds; NaN when it did not.
    pub target_reached_s: f64,
    /// Growth without lag of the place with the most, in powers of ten; NaN as for the kill.
    pub growth_log10: f64,
}

/// One row a log, column by column.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[allow(non_snake_case)] // units keep their spelling
pub struct LogVerdicts {
    /// See [`LogVerdict::verdict`].
    pub verdict: Vec<Verdict>,
    /// See [`LogVerdict::reason`].
    pub reason: Vec<String>,
    /// See [`LogVerdict::rule`].
    pub rule: Vec<Option<String>>,
    /// See [`LogVerdict::place`].
    pub place: Vec<Option<Place>>,
    /// The margin where it is a temperature, in kelvin; else NaN.
    pub margin_K: Vec<f64>,
    /// The margin where it is a time, in seconds; else NaN.
    pub margin_s: Vec<f64>,
    /// See [`LogVerdict::reached`]; NaN for nothing.
    pub reached_s: Vec<f64>,
    /// See [`LogVerdict::fault`].
    pub fault: Vec<Option<&'static str>>,
    /// See [`LogVerdict::fault_row`].
    pub fault_row: Vec<Option<usize>>,
    /// See [`LogVerdict::reduction_log10`].
    pub reduction_log10: Vec<f64>,
    /// See [`LogVerdict::target_reached_s`].
    pub target_reached_s: Vec<f64>,
    /// See [`LogVerdict::growth_log10`].
    pub growth_log10: Vec<f64>,
}

impl LogVerdict {
    /// What decided a verdict; estimates and fault are left open.
    pub(super) fn of(record: RecordVerdict) -> Self {
        let verdict = record.verdict;
        let reached = (verdict == Verdict::Meets)
            .then(|| {
                let judged = record.findings.iter();
                judged
                    .filter(|f| f.finding.verdict.is_some())
                    .filter_map(|f| f.at)
                    .max()
            })
            .flatten();
        let mut deciding: Option<RecordFinding> = None;
        for found in record.findings {
            let is_nearer = deciding
                .as_ref()
                .is_none_or(|before| is_less(found.finding.margin, before.finding.margin));
            if found.finding.verdict == Some(verdict) && is_nearer {
                deciding = Some(found);
            }
        }
        let mut row = Self::cannot_tell(String::new());
        row.verdict = verdict;
        row.reached = reached;
        if let Some(found) = deciding {
            row.reason = found.finding.text;
            row.rule = found.finding.rule;
            row.margin = found.finding.margin;
            row.place = found.place;
        }
        row
    }

    pub(super) const fn cannot_tell(reason: String) -> Self {
        Self {
            verdict: Verdict::CannotTell,
            reason,
            rule: None,
            place: None,
            margin: None,
            reached: None,
            fault: None,
            fault_row: None,
            reduction_log10: f64::NAN,
            target_reached_s: f64::NAN,
            growth_log10: f64::NAN,
        }
    }
}

/// Margins of one kind are compared; what comes first stands otherwise.
fn is_less(margin: Option<Margin>, before: Option<Margin>) -> bool {
    match (margin, before) {
        (Some(Margin::Temperature(a)), Some(Margin::Temperature(b))) => a.steps() < b.steps(),
        (Some(Margin::Duration(a)), Some(Margin::Duration(b))) => a < b,
        _ => false,
    }
}

impl LogVerdicts {
    /// The number of logs.
    #[must_use]
    pub fn len(&self) -> usize {
        self.verdict.len()
    }

    /// The columns as one JSON object, in the same bytes in every language; NaN is null.
    ///
    /// # Errors
    ///
    /// None that a caller can bring about.
    pub fn to_json(&self) -> Result<String, Error> {
        serde_json::to_string(self)
            .map_err(|error| Error::new(ErrorKind::Internal, "", error.to_string()))
    }

    /// True without logs.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.verdict.is_empty()
    }
}

impl FromIterator<LogVerdict> for LogVerdicts {
    fn from_iter<I: IntoIterator<Item = LogVerdict>>(rows: I) -> Self {
        let mut columns = Self::default();
        for row in rows {
            let (kelvin, seconds) = match row.margin {
                Some(Margin::Temperature(margin)) => (margin.as_kelvin(), f64::NAN),
                Some(Margin::Duration(margin)) => (f64::NAN, margin.as_seconds()),
                None => (f64::NAN, f64::NAN),
            };
            columns.verdict.push(row.verdict);
            columns.reason.push(row.reason);
            columns.rule.push(row.rule);
            columns.place.push(row.place);
            columns.margin_K.push(kelvin);
            columns.margin_s.push(seconds);
            columns
                .reached_s
                .push(row.reached.map_or(f64::NAN, Duration::as_seconds));
            columns.fault.push(row.fault);
            columns.fault_row.push(row.fault_row);
            columns.reduction_log10.push(row.reduction_log10);
            columns.target_reached_s.push(row.target_reached_s);
            columns.growth_log10.push(row.growth_log10);
        }
        columns
    }
}
