//! Rules in words, for the lists of things to do and for the book itself.

use crate::units::{Duration, Temperature, TemperatureDifference};

use super::requirement::{CountedFrom, Counting, HoldPoint, Keeping, Requirement};
use super::rule::Rule;
use super::verdict::{TemperatureLimit, TimeLimit};

impl Rule {
    /// The rule as a sentence: what to do, what never to do, or its title with [`Requirement::words`]. `None` only for
    /// an instruction whose text is empty.
    ///
    /// ```
    /// use poulter::rules::{Case, Rulebook, Topic};
    /// let mine = r#"
    /// [[rule]]
    /// id = "us-consumer.serve.carve"
    /// topic = "serve.carve"
    /// title = "Carving"
    /// kind = "common-practice"
    /// status = "common-practice"
    /// last_checked = "2026-11-25"
    /// requirement = { type = "do", text = "Carve across the grain." }
    /// "#;
    /// let book = Rulebook::builtin().with_rules(mine)?;
    /// let rule = book.require(Topic::ServeCarve, &Case::whole_turkey("us-consumer"))?;
    /// assert_eq!(rule.said().as_deref(), Some("Carve across the grain."));
    /// # Ok::<(), poulter::Error>(())
    /// ```
    #[must_use]
    pub fn said(&self) -> Option<String> {
        let words = match &self.requirement {
            Requirement::Do { .. } | Requirement::Never { .. } => self.requirement.words(),
            limit => format!("{}: {}", self.title, limit.words()),
        };
        (!words.is_empty()).then_some(words)
    }
}

impl Requirement {
    /// What is asked, in words: the limit, the table, the rate or the instruction.
    ///
    /// ```
    /// use poulter::rules::Rulebook;
    /// let rule = Rulebook::builtin().rule("us-food-code-2022.cool.stages")?;
    /// assert_eq!(
    ///     rule.requirement.words(),
    ///     "from 135 °F to at most 70 °F (21 °C) in at most 2 h, then from 70 °F to at most 41 °F in at most 6 h \
    ///      counted from the start"
    /// );
    /// # Ok::<(), poulter::Error>(())
    /// ```
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Do { text } => text.clone(),
            Self::Never { text, why } if why.is_empty() => text.clone(),
            Self::Never { text, why } => {
                let joint = if text.ends_with('.') { "" } else { ":" };
                format!("{text}{joint} {why}")
            }
            Self::Temperature { limit } => limit.shown(),
            Self::MinimumTemperature {
                limit,
                hold,
                equivalents,
                ..
            } => minimum(limit, hold.as_ref(), equivalents),
            Self::Time {
                limit,
                surroundings,
                counting,
                then,
            } => time(limit, surroundings.as_ref(), *counting, then),
            Self::TimeAsControl {
                start,
                ceiling,
                limit,
            } => {
                let above = ceiling.map_or(String::new(), |ceiling| {
                    format!(", the warmest part {} all along", ceiling.shown())
                });
                format!("from {}, {}{above}", start.shown(), limit.shown())
            }
            Self::StagedCooling { stages } => stages
                .iter()
                .enumerate()
                .map(|(place, stage)| {
                    let total = match stage.counted_from {
                        CountedFrom::FirstStage if place > 0 => " counted from the start",
                        _ => "",
                    };
                    format!(
                        "from {} to {} in {}{total}",
                        stage.from,
                        stage.to.shown(),
                        stage.within.shown()
                    )
                })
                .collect::<Vec<_>>()
                .join(", then "),
            Self::Keep {
                keeping,
                low,
                high,
                quality_only,
            } => {
                let place = match keeping {
                    Keeping::Refrigerator => "in the refrigerator",
                    Keeping::Freezer => "in the freezer",
                };
                let quality = if *quality_only {
                    ", for quality only"
                } else {
                    ""
                };
                format!("{} {place}{quality}", times(*low, *high))
            }
            other => other.amount(),
        }
    }

    /// The words of tables, rates and amounts.
    fn amount(&self) -> String {
        match self {
            Self::SettingChange { by } => change(*by),
            Self::TimePerMass {
                time,
                per,
                time_high,
                plus,
                from,
                to,
                setting,
                setting_high,
            } => {
                let mut text = format!(
                    "{} for each {per}",
                    times(*time, time_high.unwrap_or(*time))
                );
                if let Some(plus) = plus {
                    text = format!("{text}, plus {}", plus.shown());
                }
                let masses = match (from, to) {
                    (Some(from), Some(to)) => format!(", from {from} to {to}"),
                    (Some(from), None) => format!(", from {from}"),
                    (None, Some(to)) => format!(", up to {to}"),
                    (None, None) => String::new(),
                };
                text + &masses + &at_setting(*setting, *setting_high)
            }
            Self::TimeByMass { setting, rows } => {
                let rows = rows.iter().map(|row| {
                    let time = times(row.low, row.high);
                    format!("{} to {}: {time}", row.from, row.to)
                });
                rows.collect::<Vec<_>>().join("; ") + &at_setting(*setting, None)
            }
            Self::TimeRange {
                low,
                high,
                setting,
                setting_high,
            } => times(*low, *high) + &at_setting(*setting, *setting_high),
            Self::AtLeastTimes {
                factor,
                from_altitude,
            } => {
                let from = from_altitude
                    .map_or(String::new(), |from| format!(" from {from} above the sea"));
                format!("at least {factor} of the time{from}")
            }
            Self::MassPerPerson { low, high } => format!("{} for each person", range(low, high)),
            Self::VolumePerPerson { low, high } => format!("{} for each person", range(low, high)),
            Self::Share { low, high } => range(low, high),
            Self::VolumePerMass { volume, per } => format!("{volume} for each {per}"),
            Self::VolumePerVolume { volume, per } => format!("{volume} for each {per}"),
            Self::DepthLimit { to } => format!("at most {to} deep"),
            Self::MassLimit {
                from: Some(from),
                to,
            } => format!("from {from} to {to}"),
            Self::MassLimit { from: None, to } => format!("at most {to}"),
            limit => limit.words(),
        }
    }
}

fn minimum(
    limit: &TemperatureLimit,
    hold: Option<&TimeLimit>,
    equivalents: &[HoldPoint],
) -> String {
    let mut text = limit.shown();
    if let Some(hold) = hold {
        text = format!("{text} for {}", hold.shown());
    }
    // A processing table has a row for each degree; its ends tell a reader what it spans.
    let pair = |point: &HoldPoint| {
        if point.hold == Duration::ZERO {
            format!("{} at once", point.temperature)
        } else {
            format!("{} for {}", point.temperature, point.hold.shown())
        }
    };
    match equivalents {
        [] => text,
        few if few.len() <= 6 => {
            let list: Vec<_> = few.iter().map(pair).collect();
            format!("{text}, or {}", list.join(", "))
        }
        [first, .., last] => format!(
            "{text}, or a pair of the table of {} from {} to {}",
            equivalents.len(),
            pair(first),
            pair(last)
        ),
        [only] => format!("{text}, or {}", pair(only)),
    }
}

fn time(
    limit: &TimeLimit,
    surroundings: Option<&TemperatureLimit>,
    counting: Counting,
    then: &str,
) -> String {
    let mut text = limit.shown();
    if let Some(air) = surroundings {
        text = format!("{text} where the surroundings are {}", air.shown());
    }
    if counting == Counting::Once {
        text += ", once";
    }
    if then.is_empty() {
        text
    } else {
        format!("{text}. If not: {then}")
    }
}

fn range<T: PartialEq + std::fmt::Display>(low: &T, high: &T) -> String {
    if low == high {
        low.to_string()
    } else {
        format!("{low} to {high}")
    }
}

fn times(low: Duration, high: Duration) -> String {
    range(&low.shown(), &high.shown())
}

fn at_setting(setting: Option<Temperature>, high: Option<Temperature>) -> String {
    match (setting, high) {
        (Some(low), Some(high)) => format!(", at {}", range(&low, &high)),
        (Some(only), None) | (None, Some(only)) => format!(", at {only}"),
        (None, None) => String::new(),
    }
}

/// "25 °F lower".
fn change(by: TemperatureDifference) -> String {
    if by < TemperatureDifference::ZERO {
        let size = TemperatureDifference::ZERO.minus(by).in_unit(by.unit());
        format!("{} lower", size.shown())
    } else {
        format!("{} higher", by.shown())
    }
}

#[cfg(test)]
mod tests {
    use crate::rules::Rulebook;

    #[test]
    fn no_rule_prints_empty() {
        for rule in Rulebook::builtin().rules() {
            let words = rule.requirement.words();
            assert!(
                words.len() > 2 && !words.contains("delta"),
                "{}: {words:?}",
                rule.id
            );
            assert!(
                rule.said().is_some_and(|said| !said.ends_with(' ')),
                "{}",
                rule.id
            );
        }
    }

    #[test]
    fn tables_and_rates_read_as_their_source_prints_them() {
        // FSIS Safe Thawing, FSIS Alternate Routes, FSA list, 9 CFR 381.129 and FoodSafety.gov, in that order.
        for (id, begins) in [
            ("us-consumer.thaw.cold-water", "4 lb to 12 lb: 2 h to 6 h"),
            (
                "us-consumer.fry.time",
                "3 min to 5 min for each 1 lb, up to 12 lb, at 350 °F",
            ),
            (
                "uk.reheat.temperature",
                "at least 70 °C for at least 2 min, or 60 °C for 45 min",
            ),
            (
                "us-consumer.storage.label-fresh",
                "at least 26 °F (-3.3 °C)",
            ),
            (
                "us-consumer.roast.altitude",
                "at least 125 % of the time from 3000 ft above the sea",
            ),
        ] {
            let words = Rulebook::builtin().rule(id).unwrap().requirement.words();
            assert!(words.starts_with(begins), "{id}: {words}");
        }
    }
}
