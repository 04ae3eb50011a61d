//! Text as it may stand on a sheet.

use poulter::Finding;
use poulter::plan::Amount;
use poulter::rules::{Citation, Margin};
use poulter::units::{Duration, TemperatureDifference, UnitSystem};

use crate::degrees;
use crate::measures;
use crate::sources::marks;
use crate::words::{self, fill};

/// Text that cannot move a terminal's cursor, break a line of the sheet or turn the reading direction.
pub(crate) fn clean(text: &str) -> String {
    let turns = |c: char| matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let spaced: String = text
        .chars()
        .filter(|c| !turns(*c))
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Text from a plan, with temperatures and measures in the reader's own unit first.
pub(crate) fn told(text: &str, units: UnitSystem) -> String {
    measures::sentence(&degrees::sentence(&clean(text), units), units)
}

/// A finding with its label ("Meets", "Advice" …).
pub(crate) struct Remark {
    pub(crate) label: String,
    pub(crate) text: String,
}

impl Remark {
    pub(crate) fn copy(&self) -> Self {
        Self {
            label: self.label.clone(),
            text: self.text.clone(),
        }
    }
}

pub(crate) fn remark(finding: &Finding, units: UnitSystem, citations: &[Citation]) -> Remark {
    let mut text = told(&finding.text, units);
    if let Some(margin) = finding.margin {
        text = format!("{text} ({})", margin_words(margin, units));
    }
    let marks = marks(finding.rule.as_deref().into_iter(), citations);
    if !marks.is_empty() {
        text = format!("{text} {marks}");
    }
    Remark {
        label: words::label(finding),
        text,
    }
}

fn margin_words(margin: Margin, units: UnitSystem) -> String {
    match margin {
        Margin::Temperature(margin) if margin < TemperatureDifference::ZERO => {
            let short = TemperatureDifference::ZERO.minus(margin);
            fill("short-by", &[("amount", &difference(short, units))])
        }
        Margin::Temperature(margin) => fill("margin", &[("amount", &difference(margin, units))]),
        Margin::Duration(margin) if margin < Duration::ZERO => fill(
            "short-by",
            &[("amount", &Duration::ZERO.minus(margin).shown())],
        ),
        Margin::Duration(margin) => fill("margin", &[("amount", &margin.shown())]),
    }
}

/// A difference of temperature to a tenth; one that would round to nothing is not shown as nothing.
fn difference(amount: TemperatureDifference, units: UnitSystem) -> String {
    let (value, sign) = match units {
        UnitSystem::UsCustomary => (amount.as_delta_fahrenheit(), "°F"),
        UnitSystem::Metric => (amount.as_delta_celsius(), "°C"),
    };
    if value > 0.0 && value < 0.1 {
        return fill("less-than", &[("amount", &format!("0.1 {sign}"))]);
    }
    let text = format!("{value:.1}");
    format!("{} {sign}", text.trim_end_matches(".0"))
}

pub(crate) fn shown(amount: &Amount, units: UnitSystem) -> String {
    match amount {
        Amount::Mass(mass) => units.mass(*mass),
        Amount::Volume(volume) => units.volume(*volume),
        Amount::Count { count } => count.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_from_outside_cannot_steer_a_terminal() {
        assert_eq!(clean("a\u{1b}[2Jb\r\nc\u{202e}d"), "a [2Jb cd");
    }
}
