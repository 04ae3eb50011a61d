//! The strictest of a chosen set of standards: each one judges for itself, and the worst verdict counts.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Finding, general_cautions};
use crate::doneness::{CookingCheck, check_cooking};
use crate::error::{Error, ErrorKind};
use crate::leftovers::{CoolingCheck, check_cooling};
use crate::rules::{Rulebook, Verdict};
use crate::serve::{HoldingCheck, check_holding};

use super::{DEFAULT_STANDARD, NO_ROW, known};

/// A check to make under each of several standards.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Strictest<T> {
    /// The standards; at least one.
    pub standards: Vec<String>,
    /// What is to be judged. It names no standard of its own.
    pub check: T,
}

/// One standard's judgement.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Member {
    /// The standard.
    pub standard: String,
    /// Its verdict; `cannot-tell` where it publishes no row.
    pub verdict: Verdict,
    /// What it judged.
    pub findings: Vec<Finding>,
    /// Why it did not judge.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub silent: Option<String>,
}

/// The judgement of the whole set.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct StrictestVerdict {
    /// The worst of the members.
    pub verdict: Verdict,
    /// The standards that gave it.
    pub decided_by: Vec<String>,
    /// Every standard's own judgement.
    pub members: Vec<Member>,
}

/// Judges cooking by each of several standards; the worst verdict counts.
///
/// Errors: an empty set, an unknown standard, a standard named inside the check, or what
/// [`check_cooking`] refuses.
///
/// ```
/// use poulter::compare::{Strictest, strictest_cooking};
/// use poulter::doneness::CookingCheck;
/// use poulter::rules::{Rulebook, Verdict};
/// let query: Strictest<CookingCheck> = serde_json::from_str(
///     r#"{"standards": ["us-consumer", "canada"],
///         "check": {"readings": {"breast": "170 °F", "thigh": "172 °F", "wing": "171 °F"}}}"#,
/// )?;
/// let answer = strictest_cooking(Rulebook::builtin(), &query)?.answer;
/// assert_eq!(answer.members[0].verdict, Verdict::Meets);
/// assert_eq!((answer.verdict, answer.decided_by[0].as_str()), (Verdict::Fails, "canada"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn strictest_cooking(
    book: &Rulebook,
    query: &Strictest<CookingCheck>,
) -> Result<Answer<StrictestVerdict>, Error> {
    strictest(book, query)
}

/// Judges cooling by each of several standards; the worst verdict counts.
///
/// Errors: as [`strictest_cooking`], or what [`check_cooling`] refuses.
pub fn strictest_cooling(
    book: &Rulebook,
    query: &Strictest<CoolingCheck>,
) -> Result<Answer<StrictestVerdict>, Error> {
    strictest(book, query)
}

/// Judges hot or cold holding by each of several standards; the worst verdict counts.
///
/// Errors: as [`strictest_cooking`], or what [`check_holding`] refuses.
pub fn strictest_holding(
    book: &Rulebook,
    query: &Strictest<HoldingCheck>,
) -> Result<Answer<StrictestVerdict>, Error> {
    strictest(book, query)
}

/// A check that one standard can make.
trait Check: Clone {
    fn standard(&mut self) -> &mut String;
    fn judge(&self, book: &Rulebook) -> Result<Answer<(Verdict, Vec<Finding>)>, Error>;
}

macro_rules! check {
    ($($check:ty = $call:path),+ $(,)?) => {
        $(
            impl Check for $check {
                fn standard(&mut self) -> &mut String {
                    &mut self.standard
                }

                fn judge(&self, book: &Rulebook) -> Result<Answer<(Verdict, Vec<Finding>)>, Error> {
                    $call(book, self).map(|answer| answer.map(|value| (value.verdict, value.findings)))
                }
            }
        )+
    };
}

check! {
    CookingCheck = check_cooking,
    CoolingCheck = check_cooling,
    HoldingCheck = check_holding,
}

fn strictest<T: Check>(
    book: &Rulebook,
    query: &Strictest<T>,
) -> Result<Answer<StrictestVerdict>, Error> {
    if query.standards.is_empty() {
        let expected = "at least one standard is needed";
        return Err(Error::new(ErrorKind::OutOfRange, "[]", expected).at("standards"));
    }
    let mut check = query.check.clone();
    let inside = check.standard().clone();
    if inside != DEFAULT_STANDARD && !query.standards.contains(&inside) {
        let expected = "a standard of the set, or none, is needed";
        return Err(Error::new(ErrorKind::Conflict, inside, expected).at("check.standard"));
    }
    let mut whole = Answer {
        answer: Vec::new(),
        assumed: Vec::new(),
        cautions: Vec::new(),
        citations: Vec::new(),
    };
    for (place, standard) in query.standards.iter().enumerate() {
        known(book, standard, place)?;
        standard.clone_into(check.standard());
        whole.answer.push(match check.judge(book) {
            Ok(part) => {
                add(&mut whole.assumed, part.assumed);
                add(&mut whole.cautions, part.cautions);
                add(&mut whole.citations, part.citations);
                let (verdict, findings) = part.answer;
                Member {
                    standard: standard.clone(),
                    verdict,
                    findings,
                    silent: None,
                }
            }
            // A silent standard cannot vouch for the food.
            Err(error) if error.kind() == ErrorKind::NoPublishedRow => Member {
                standard: standard.clone(),
                verdict: Verdict::CannotTell,
                findings: Vec::new(),
                silent: Some(NO_ROW.to_owned()),
            },
            Err(error) => return Err(error.at("check")),
        });
    }
    add(&mut whole.cautions, general_cautions());
    Ok(whole.map(meet))
}

/// The worst verdict, and who gave it.
fn meet(members: Vec<Member>) -> StrictestVerdict {
    let verdict = Verdict::worst(members.iter().map(|member| member.verdict));
    let decided_by = members
        .iter()
        .filter(|member| member.verdict == verdict)
        .map(|member| member.standard.clone())
        .collect();
    StrictestVerdict {
        verdict,
        decided_by,
        members,
    }
}

fn add<T: PartialEq>(list: &mut Vec<T>, more: Vec<T>) {
    for item in more {
        if !list.contains(&item) {
            list.push(item);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use serde_json::json;

    fn standards() -> Vec<String> {
        let known = Rulebook::builtin().standards();
        known.iter().map(|standard| standard.id.clone()).collect()
    }

    /// The overall verdict is the minimum of the members, and each member is what its standard says alone.
    fn holds<T: Check>(check: &T, set: &[String]) {
        let book = Rulebook::builtin();
        let query = Strictest {
            standards: set.to_vec(),
            check: check.clone(),
        };
        let found = strictest(book, &query).unwrap().answer;
        let lowest = found.members.iter().map(|member| member.verdict).min();
        assert_eq!(Some(found.verdict), lowest);
        assert_eq!(found.members.len(), set.len());
        for member in &found.members {
            let mut alone = check.clone();
            member.standard.clone_into(alone.standard());
            let verdict = alone
                .judge(book)
                .map_or(Verdict::CannotTell, |answer| answer.answer.0);
            assert_eq!(member.verdict, verdict, "{}", member.standard);
            let decides = found.decided_by.contains(&member.standard);
            assert_eq!(decides, member.verdict == found.verdict);
        }
    }

    proptest! {
        #[test]
        fn the_whole_is_the_worst_of_its_members(
            set in proptest::sample::subsequence(standards(), 1..=standards().len()),
            breast in 60_000_u32..90_000,
            thigh in proptest::option::of(60_000_u32..90_000),
            held in proptest::option::of(0_u32..2_000),
            minutes in 1_u32..480,
        ) {
            let degrees = |milli: u32| format!("{} °C", f64::from(milli) / 1000.0);
            let held = held.map(|seconds| format!("{seconds} s"));
            let cooking: CookingCheck = serde_json::from_value(json!({
                "readings": {"breast": degrees(breast), "thigh": thigh.map(degrees), "wing": degrees(breast)},
                "held": held,
            })).unwrap();
            holds(&cooking, &set);
            let holding: HoldingCheck = serde_json::from_value(json!({
                "side": "hot", "temperatures": [degrees(breast), thigh.map(degrees)],
                "display": {"out_for": format!("{minutes} min"), "before": false},
            })).unwrap();
            holds(&holding, &set);
            let cooling: CoolingCheck = serde_json::from_value(json!({"readings": [
                {"elapsed": "0 min", "temperature": "60 °C"},
                {"elapsed": format!("{minutes} min"), "temperature": "20 °C"},
                {"elapsed": format!("{} min", minutes * 2), "temperature": "4 °C"},
            ]})).unwrap();
            holds(&cooling, &set);
        }
    }

    #[test]
    fn an_empty_set_and_a_standard_outside_it_are_refused() {
        let ask = |query| {
            let query: Strictest<HoldingCheck> = serde_json::from_value(query).unwrap();
            strictest_holding(Rulebook::builtin(), &query).map(|answer| answer.answer.verdict)
        };
        let check = json!({"side": "hot", "temperatures": ["70 °C"]});
        let error = ask(json!({"standards": [], "check": check})).unwrap_err();
        assert_eq!(
            (error.kind(), error.field()),
            (ErrorKind::OutOfRange, "standards")
        );
        let error = ask(json!({"standards": ["uk", "mars"], "check": check})).unwrap_err();
        assert_eq!(
            (error.kind(), error.field()),
            (ErrorKind::RuleUnknown, "standards[1]")
        );
        let mut named = check.clone();
        named["standard"] = json!("canada");
        let error = ask(json!({"standards": ["uk"], "check": named})).unwrap_err();
        assert_eq!(
            (error.kind(), error.field()),
            (ErrorKind::Conflict, "check.standard")
        );
        assert_eq!(
            ask(json!({"standards": ["uk", "us-processor"], "check": check})),
            Ok(Verdict::CannotTell)
        );
    }
}
