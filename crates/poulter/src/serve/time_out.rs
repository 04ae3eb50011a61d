//! Periods of food out of temperature control, added up and judged.

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, default};
use crate::bird::{Cut, Species};
use crate::error::Error;
use crate::rules::{
    Case, Counting, Requirement, Rule, Rulebook, TemperatureLimit, TimeLimit, Topic, Verdict,
};
use crate::units::{Duration, DurationUnit, Temperature};

use super::holding::Side;

/// One period out of control.
#[derive(Clone, Copy, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PeriodOut {
    /// How long; none where it was not timed.
    #[serde(default)]
    pub duration: Option<Duration>,
    /// The air round the food; none where it was not measured.
    #[serde(default)]
    pub surroundings: Option<Temperature>,
}

/// "May this food that stood out still be eaten?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TimeOutCheck {
    /// Every period since the food left control, in any order.
    pub periods: Vec<PeriodOut>,
    /// Whether it is hot or cold food, for standards that tell them apart; the stricter one when left out.
    #[serde(default)]
    pub side: Option<Side>,
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

/// What may become of the food.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum MayBe {
    /// Used now, or chilled or heated again.
    UsedOrHeldAgain,
    /// Used now, but not chilled again.
    UsedNow,
    /// Discarded.
    Discarded,
    /// Not known; treated as to be discarded.
    NotKnown,
}

/// The judgement of time out of control.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct TimeOutVerdict {
    /// Whether the food may still be used.
    pub verdict: Verdict,
    /// What may become of it.
    pub may_be: MayBe,
    /// All periods that were timed, together.
    pub total: Duration,
    /// What was judged.
    pub findings: Vec<Finding>,
    /// What to do next.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
}

/// Adds up the periods that food was out of control and judges them.
///
/// Cumulative rules add every period; a rule that allows one period fails a second one. Where a shorter limit holds in
/// hot surroundings, the time there is judged by it and the total by the usual limit; a mixture that meets both but is
/// longer in all than the shorter limit is `CannotTell`, since no source says how such periods add up. So is a period
/// that was not timed, or whose surroundings could decide and are not known.
///
/// Errors: an unknown standard, or one without a rule for food that stands out.
///
/// ```
/// use poulter::rules::Rulebook;
/// use poulter::serve::{MayBe, TimeOutCheck, check_time_out};
/// let check: TimeOutCheck = serde_json::from_str(
///     r#"{"standard": "australia", "periods": [{"duration": "90 min"}, {"duration": "45 min"}]}"#,
/// )?;
/// assert_eq!(check_time_out(Rulebook::builtin(), &check)?.answer.may_be, MayBe::UsedNow);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn check_time_out(
    book: &Rulebook,
    check: &TimeOutCheck,
) -> Result<Answer<TimeOutVerdict>, Error> {
    let case = Case {
        standard: &check.standard,
        species: check.species,
        cut: check.cut,
        state: None,
        process: (check.side == Some(Side::Cold)).then_some("cold-display"),
        on: check.on,
    };
    let mut basis = Basis::new(book, case)?;
    let usual: Vec<_> = basis
        .must_judge(Topic::HoldOut)?
        .into_iter()
        .filter_map(Limit::of)
        .collect();
    let hot_day: Vec<_> = basis
        .judging(Topic::HoldOutHotDay)
        .into_iter()
        .filter_map(Limit::of)
        .collect();
    if check.side.is_none() && usual.iter().any(|limit| limit.counting == Counting::Once) {
        basis.assume("The food was hot; its limit is the shorter one.");
    }
    let mut findings: Vec<_> = usual
        .iter()
        .map(|limit| limit.judge(&check.periods, &hot_day))
        .collect();
    findings.extend(
        hot_day
            .iter()
            .filter_map(|limit| limit.judge_hot(&check.periods)),
    );
    let verdict = Verdict::worst(findings.iter().filter_map(|finding| finding.verdict));
    let total = sum(&check.periods, |_| true);
    let may_be = match verdict {
        Verdict::Fails => MayBe::Discarded,
        Verdict::CannotTell => MayBe::NotKnown,
        Verdict::Meets => chilled_again(&mut basis, total, &mut findings),
    };
    let to_do = next_steps(may_be, &usual);
    Ok(basis.finish(TimeOutVerdict {
        verdict,
        may_be,
        total,
        findings,
        to_do,
    }))
}

struct Limit<'b> {
    rule: &'b Rule,
    at_most: TimeLimit,
    air: Option<TemperatureLimit>,
    counting: Counting,
    then: &'b str,
}

impl<'b> Limit<'b> {
    fn of(rule: &'b Rule) -> Option<Self> {
        match &rule.requirement {
            Requirement::Time {
                limit,
                surroundings,
                counting,
                then,
            } => Some(Self {
                rule,
                at_most: *limit,
                air: *surroundings,
                counting: *counting,
                then,
            }),
            _ => None,
        }
    }

    /// Judges all periods by the usual limit, and says where the limit of a hot day leaves a doubt.
    fn judge(&self, periods: &[PeriodOut], hot_day: &[Self]) -> Finding {
        let taken = match self.counting {
            Counting::Cumulative | Counting::Once => sum(periods, |_| true),
            Counting::Single => longest(periods),
        };
        let (mut verdict, margin) = self.at_most.judge(taken);
        let mut text = format!(
            "Out for {}; {} is allowed.",
            taken.shown(),
            self.at_most.shown()
        );
        if self.counting == Counting::Once && periods.len() > 1 {
            verdict = Verdict::Fails;
            text += " Only one period is allowed.";
        }
        if verdict == Verdict::Meets {
            let doubt = if periods.is_empty() {
                Some("No period is given.")
            } else if periods.iter().any(|period| period.duration.is_none()) {
                Some("A period was not timed.")
            } else if hot_day.iter().any(|hot| hot.in_doubt(periods)) {
                Some(
                    "Part of it was, or may have been, in hot surroundings, where the limit is shorter.",
                )
            } else {
                None
            };
            if let Some(doubt) = doubt {
                verdict = Verdict::CannotTell;
                text = format!("{text} {doubt}");
            }
        }
        Finding::verdict(verdict, text, self.rule, Some(margin))
    }

    fn is_hot(&self, period: &PeriodOut) -> Option<bool> {
        let air = self.air?;
        Some(air.judge(period.surroundings?).0 == Verdict::Meets)
    }

    /// More time in all than the shorter limit, and some of it hot or perhaps hot.
    fn in_doubt(&self, periods: &[PeriodOut]) -> bool {
        periods
            .iter()
            .any(|period| self.is_hot(period) != Some(false))
            && self.at_most.judge(sum(periods, |_| true)).0 == Verdict::Fails
    }

    /// The time in hot surroundings by their own limit; `None` where there was none.
    fn judge_hot(&self, periods: &[PeriodOut]) -> Option<Finding> {
        let hot = |period: &PeriodOut| self.is_hot(period) == Some(true);
        if !periods.iter().any(hot) {
            return None;
        }
        let taken = sum(periods, hot);
        let (mut verdict, margin) = self.at_most.judge(taken);
        if periods
            .iter()
            .any(|period| hot(period) && period.duration.is_none())
        {
            verdict = verdict.min(Verdict::CannotTell);
        }
        let air = self.air.map_or(String::new(), |air| air.shown());
        let text = format!(
            "Out for {} in surroundings {air}; {} is allowed there.",
            taken.shown(),
            self.at_most.shown()
        );
        Some(Finding::verdict(verdict, text, self.rule, Some(margin)))
    }
}

fn sum(periods: &[PeriodOut], counts: impl Fn(&PeriodOut) -> bool) -> Duration {
    periods
        .iter()
        .filter(|period| counts(period))
        .filter_map(|period| period.duration)
        .fold(Duration::ZERO.in_unit(DurationUnit::Minute), Duration::plus)
}

fn longest(periods: &[PeriodOut]) -> Duration {
    periods
        .iter()
        .filter_map(|period| period.duration)
        .fold(Duration::ZERO.in_unit(DurationUnit::Minute), Duration::max)
}

/// Whether food that may be used may also go back into the refrigerator.
fn chilled_again(basis: &mut Basis<'_>, total: Duration, findings: &mut Vec<Finding>) -> MayBe {
    let mut may_be = MayBe::UsedOrHeldAgain;
    for limit in basis
        .judging(Topic::CoolStart)
        .into_iter()
        .filter_map(Limit::of)
        .filter(|limit| limit.air.is_none())
    {
        if limit.at_most.judge(total).0 == Verdict::Fails {
            may_be = MayBe::UsedNow;
            let text = format!(
                "Chilled again only when out {}. {}",
                limit.at_most.shown(),
                limit.then
            );
            findings.push(Finding::advice(text, Some(limit.rule)));
        }
    }
    may_be
}

fn next_steps(may_be: MayBe, usual: &[Limit<'_>]) -> Vec<String> {
    let text = match may_be {
        MayBe::UsedOrHeldAgain => {
            "Use the food now, or put it back under control; the time it was out still counts."
        }
        MayBe::UsedNow => "Use the food before its time is up; do not chill it again.",
        MayBe::Discarded => return usual.iter().map(|limit| limit.then.to_owned()).collect(),
        MayBe::NotKnown => "Discard the food if nobody can say how long it was out and where.",
    };
    vec![text.to_owned()]
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn ask(standard: &str, periods: &Value) -> TimeOutVerdict {
        let check = json!({"standard": standard, "periods": periods});
        let check = serde_json::from_value(check).unwrap();
        check_time_out(Rulebook::builtin(), &check).unwrap().answer
    }

    #[test]
    fn two_hours_or_one_on_a_hot_day() {
        use Verdict::{CannotTell, Fails, Meets};
        // FSIS Danger Zone: discarded when out over 2 h, over 1 h above 90 °F.
        for (time, air, expected) in [
            ("1 h 59 min", json!("70 °F"), Meets),
            ("2 h", json!("70 °F"), Meets),
            ("2 h 1 s", json!("70 °F"), Fails),
            ("59 min", json!("95 °F"), Meets),
            ("1 h", json!("95 °F"), Meets),
            ("1 h 1 s", json!("95 °F"), Fails),
            ("1 h 10 min", json!("89.999 °F"), Meets),
            ("1 h 10 min", json!("90 °F"), Meets),
            ("1 h 10 min", json!("90.001 °F"), Fails),
            ("1 h", Value::Null, Meets),
            ("1 h 10 min", Value::Null, CannotTell),
            ("2 h 1 s", Value::Null, Fails),
        ] {
            let periods = json!([{"duration": time, "surroundings": air}]);
            assert_eq!(ask("us-consumer", &periods).verdict, expected, "{periods}");
        }
    }

    #[test]
    fn periods_add_up() {
        use MayBe::{Discarded, NotKnown, UsedNow, UsedOrHeldAgain};
        // FSANZ 2-hour/4-hour rule: under 2 h, 2 to 4 h, 4 h or more.
        for (minutes, expected) in [
            ([60, 59], UsedOrHeldAgain),
            ([60, 60], UsedNow),
            ([90, 45], UsedNow),
            ([200, 39], UsedNow),
            ([200, 40], Discarded),
            ([200, 41], Discarded),
        ] {
            let periods: Vec<_> = minutes
                .iter()
                .map(|minutes| json!({"duration": format!("{minutes} min")}))
                .collect();
            for standard in ["australia", "new-zealand"] {
                let found = ask(standard, &json!(periods)).may_be;
                assert_eq!(found, expected, "{standard} {minutes:?}");
            }
        }
        let cool_and_hot = |cool: &str, hot: &str| json!([{"duration": cool, "surroundings": "70 °F"}, {"duration": hot, "surroundings": "95 °F"}]);
        assert_eq!(
            ask("us-consumer", &cool_and_hot("40 min", "20 min")).may_be,
            UsedOrHeldAgain
        );
        assert_eq!(
            ask("us-consumer", &cool_and_hot("41 min", "20 min")).may_be,
            NotKnown
        );
        assert_eq!(
            ask("us-consumer", &cool_and_hot("101 min", "20 min")).may_be,
            Discarded
        );
        assert_eq!(
            ask("us-consumer", &cool_and_hot("1 min", "61 min")).may_be,
            Discarded
        );
    }

    #[test]
    fn what_is_missing_is_never_safe() {
        for (periods, expected) in [
            (json!([]), MayBe::NotKnown),
            (json!([{}]), MayBe::NotKnown),
            (
                json!([{"duration": "1 min", "surroundings": "60 °F"}, {"surroundings": "60 °F"}]),
                MayBe::NotKnown,
            ),
            (
                json!([{"duration": "3 h", "surroundings": "60 °F"}, {}]),
                MayBe::Discarded,
            ),
        ] {
            assert_eq!(ask("us-consumer", &periods).may_be, expected, "{periods}");
        }
        // Schedule 4, paragraph 7: one period, and less than two hours.
        let one = json!([{"duration": "1 h 59 min"}]);
        let full = json!([{"duration": "2 h"}]);
        let two = json!([{"duration": "10 min"}, {"duration": "10 min"}]);
        assert_eq!(ask("uk", &one).verdict, Verdict::Meets);
        assert_eq!(ask("uk", &full).verdict, Verdict::Fails);
        assert_eq!(ask("uk", &two).verdict, Verdict::Fails);
    }
}
