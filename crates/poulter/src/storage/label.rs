//! The words "fresh" and "frozen" on a label, by the coldest the bird ever was.

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, default};
use crate::bird::{Cut, Species};
use crate::error::{Error, ErrorKind};
use crate::rules::{Case, Requirement, Rule, Rulebook, TemperatureLimit, Topic, Verdict};
use crate::units::Temperature;

/// What a label may say.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum LabelWord {
    /// Fresh.
    Fresh,
    /// Neither word is required, and "fresh" is not allowed.
    NoWord,
    /// Frozen or previously frozen.
    Frozen,
    /// Not known.
    NotKnown,
}

/// "What may this label say?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LabelQuery {
    /// Every reading of the bird inside; none where one was missed. The coldest one counts.
    pub temperatures: Vec<Option<Temperature>>,
    /// The word on the label, where it is to be judged: `fresh` or `frozen`.
    #[serde(default)]
    pub says: Option<LabelWord>,
    /// The standard; `us-consumer` when left out.
    #[serde(default = "default::standard")]
    pub standard: String,
    /// The species; turkey when left out.
    #[serde(default = "default::species")]
    pub species: Species,
    /// The day whose rules are wanted; the rules that hold now when left out.
    #[serde(default)]
    #[schemars(with = "Option<String>")]
    pub on: Option<Date>,
}

/// The answer about a label.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct LabelState {
    /// The word that the readings ask for.
    pub word: LabelWord,
    /// The judgement of the word on the label, where one was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub verdict: Option<Verdict>,
    /// What was judged.
    pub findings: Vec<Finding>,
}

/// Which word a label carries, and whether the one it carries is right.
///
/// Never below the upper limit: fresh. Ever at or below the lower one: frozen. Between them no word is required. A
/// missed reading can hide a colder one, so it leaves "fresh" and "no word" unknown.
///
/// Errors: an unknown standard, one without label rules, or `says` other than `fresh` or `frozen`.
///
/// Source: 9 CFR 381.129(b)(6).
///
/// ```
/// use poulter::rules::Rulebook;
/// use poulter::storage::{LabelQuery, LabelWord, label_state};
/// let query: LabelQuery = serde_json::from_str(r#"{"temperatures": ["30 °F", "25 °F"]}"#)?;
/// assert_eq!(label_state(Rulebook::builtin(), &query)?.answer.word, LabelWord::NoWord);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn label_state(book: &Rulebook, query: &LabelQuery) -> Result<Answer<LabelState>, Error> {
    if let Some(LabelWord::NoWord | LabelWord::NotKnown) = query.says {
        let expected = "fresh or frozen is needed";
        return Err(Error::new(ErrorKind::UnknownValue, "", expected).at("says"));
    }
    let case = Case {
        standard: &query.standard,
        species: query.species,
        cut: Cut::Whole,
        state: None,
        process: None,
        on: query.on,
    };
    let mut basis = Basis::new(book, case)?;
    let fresh = limits(&basis.must_judge(Topic::StorageLabelFresh)?);
    let frozen = limits(&basis.must_judge(Topic::StorageLabelFrozen)?);
    let coldest = query.temperatures.iter().flatten().min().copied();
    let complete = !query.temperatures.is_empty() && !query.temperatures.contains(&None);
    let meets = |limits: &[(&Rule, TemperatureLimit)], reading: Temperature| {
        limits
            .iter()
            .all(|(_, limit)| limit.judge(reading).0 == Verdict::Meets)
    };
    let word = match coldest {
        None => LabelWord::NotKnown,
        Some(coldest) if meets(&frozen, coldest) => LabelWord::Frozen,
        Some(_) if !complete => LabelWord::NotKnown,
        Some(coldest) if meets(&fresh, coldest) => LabelWord::Fresh,
        Some(_) => LabelWord::NoWord,
    };
    let asked = match query.says {
        Some(LabelWord::Fresh) => fresh,
        Some(LabelWord::Frozen) => frozen,
        _ => Vec::new(),
    };
    let findings: Vec<_> = asked
        .iter()
        .map(|(rule, limit)| judge(rule, limit, coldest, complete))
        .collect();
    let verdict = query
        .says
        .map(|_| Verdict::worst(findings.iter().filter_map(|finding| finding.verdict)));
    Ok(basis.finish(LabelState {
        word,
        verdict,
        findings,
    }))
}

fn limits<'b>(rules: &[&'b Rule]) -> Vec<(&'b Rule, TemperatureLimit)> {
    let limit = |rule: &&'b Rule| match rule.requirement {
        Requirement::Temperature { limit } => Some((*rule, limit)),
        _ => None,
    };
    rules.iter().filter_map(limit).collect()
}

fn judge(
    rule: &Rule,
    limit: &TemperatureLimit,
    coldest: Option<Temperature>,
    complete: bool,
) -> Finding {
    let Some(coldest) = coldest else {
        let text = format!("No reading; {} is needed.", limit.shown());
        return Finding::verdict(Verdict::CannotTell, text, rule, None);
    };
    let (mut verdict, margin) = limit.judge(coldest);
    let mut text = format!(
        "The coldest reading is {coldest}; {} is needed.",
        limit.shown()
    );
    if !complete {
        verdict = verdict.min(Verdict::CannotTell);
        text += " A reading was missed.";
    }
    Finding::verdict(verdict, text, rule, Some(margin))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn ask(temperatures: &Value, says: &Value) -> (LabelWord, Option<Verdict>) {
        let query = json!({"temperatures": temperatures, "says": says});
        let query = serde_json::from_value(query).unwrap();
        let answer = label_state(Rulebook::builtin(), &query).unwrap().answer;
        (answer.word, answer.verdict)
    }

    #[test]
    fn both_limits_are_judged_under_at_and_over() {
        use LabelWord::{Fresh, Frozen, NoWord};
        // 9 CFR 381.129(b)(6): 26 °F and 0 °F. In Celsius 26 °F is -3.3333 and 0 °F is -17.7778.
        for (reading, word) in [
            ("26.001 °F", Fresh),
            ("26 °F", Fresh),
            ("25.999 °F", NoWord),
            ("-3.333 °C", Fresh),
            ("-3.334 °C", NoWord),
            ("0.001 °F", NoWord),
            ("0 °F", Frozen),
            ("-0.001 °F", Frozen),
            ("-17.777 °C", NoWord),
            ("-17.778 °C", Frozen),
        ] {
            let pass = |right| {
                if right {
                    Verdict::Meets
                } else {
                    Verdict::Fails
                }
            };
            let readings = json!(["35 °F", reading]);
            assert_eq!(
                ask(&readings, &json!("fresh")),
                (word, Some(pass(word == Fresh))),
                "{reading}"
            );
            assert_eq!(
                ask(&readings, &json!("frozen")),
                (word, Some(pass(word == Frozen))),
                "{reading}"
            );
            assert_eq!(ask(&readings, &Value::Null), (word, None), "{reading}");
        }
    }

    #[test]
    fn a_missed_reading_is_never_fresh() {
        use LabelWord::{Frozen, NotKnown};
        for (readings, word, verdict) in [
            (json!([]), NotKnown, Verdict::CannotTell),
            (json!([null]), NotKnown, Verdict::CannotTell),
            (json!(["30 °F", null]), NotKnown, Verdict::CannotTell),
            (json!(["20 °F", null]), NotKnown, Verdict::Fails),
            (json!(["0 °F", null]), Frozen, Verdict::Fails),
        ] {
            assert_eq!(
                ask(&readings, &json!("fresh")),
                (word, Some(verdict)),
                "{readings}"
            );
        }
        let query = serde_json::from_value(json!({"temperatures": [], "says": "no-word"})).unwrap();
        assert_eq!(
            label_state(Rulebook::builtin(), &query)
                .unwrap_err()
                .field(),
            "says"
        );
    }
}
