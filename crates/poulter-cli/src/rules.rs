//! `poulter rules`.

use clap::{Args, ValueEnum};
use poulter::rules::{Comparison, Rule, Rulebook};
use serde::Deserialize;
use serde_json::{Map, Value, json};

use crate::Outcome;
use crate::stream::{self, Refusal};

const EXAMPLE: &str = "\
Examples:
  poulter rules --topic thaw
  poulter rules --standard us-consumer --topic doneness.bird --format json";

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For people
    Text,
    /// For programs
    Json,
}

#[derive(Args)]
#[command(after_help = EXAMPLE)]
pub(crate) struct Arguments {
    /// Only the rules of this standard
    #[arg(long)]
    standard: Option<String>,
    /// Only this topic, or the topics that begin with it, such as thaw
    #[arg(long)]
    topic: Option<String>,
    /// How to show the rules
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

impl Arguments {
    pub(crate) fn run(self) -> Result<Outcome, Refusal> {
        let book = Rulebook::builtin();
        if let Some(standard) = &self.standard {
            book.standard(standard)?;
        }
        let rules: Vec<&Rule> = book
            .rules()
            .iter()
            .filter(|rule| self.wants(rule))
            .collect();
        if rules.is_empty() {
            return Err(Refusal::File(
                "no rule has this topic; leave --topic out to see every rule".to_owned(),
            ));
        }
        let text = match self.format {
            Format::Text => rules
                .iter()
                .map(|rule| words(book, rule))
                .collect::<Vec<_>>()
                .join("\n"),
            Format::Json => {
                let rules: Vec<Value> = rules.iter().map(|rule| entry(book, rule)).collect();
                stream::json(&Value::Array(rules))
            }
        };
        stream::print(&text)?;
        Ok(Outcome::Fine)
    }

    fn wants(&self, rule: &Rule) -> bool {
        let name = rule.topic.name();
        self.standard
            .as_deref()
            .is_none_or(|wanted| wanted == rule.standard())
            && self.topic.as_deref().is_none_or(|wanted| {
                name.strip_prefix(wanted)
                    .is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
            })
    }
}

/// A rule with its sources in words.
fn entry(book: &Rulebook, rule: &Rule) -> Value {
    json!({
        "id": rule.id,
        "question": rule.topic.question(),
        "applies_to": rule.applies_to,
        "requirement": rule.requirement,
        "citation": book.cite(rule),
        "effective_from": rule.effective_from,
        "effective_to": rule.effective_to,
    })
}

fn words(book: &Rulebook, rule: &Rule) -> String {
    let cited = book.cite(rule);
    let mut lines = vec![rule.id.clone(), format!("  {}", rule.title)];
    if let Value::Object(mut requirement) = json!(rule.requirement) {
        requirement.remove("type");
        lines.extend(parts(&requirement).iter().map(|part| format!("  {part}")));
    }
    if let Some(from) = rule.effective_from {
        lines.push(format!("  in force from: {from}"));
    }
    if let Some(to) = rule.effective_to {
        lines.push(format!("  NO LONGER IN FORCE after: {to}"));
    }
    lines.push(format!(
        "  status: {}; {}; checked {}",
        shown(&json!(rule.kind)),
        rule.status.words(),
        rule.last_checked
    ));
    lines.extend(
        cited
            .sources
            .iter()
            .map(|source| format!("  source: {source}")),
    );
    if !rule.note.is_empty() {
        lines.push(format!("  note: {}", rule.note));
    }
    lines.push(String::new());
    lines.join("\n")
}

fn is_nothing(value: &Value) -> bool {
    value.is_null() || value.as_array().is_some_and(Vec::is_empty)
}

/// The parts of a requirement, ranges first: "4 lb to 12 lb", "2 h to 6 h", then the rest name by name.
///
/// It goes by the shape of the data and knows no rule, so a new kind of rule loses nothing here.
fn parts(fields: &Map<String, Value>) -> Vec<String> {
    let mut parts = Vec::new();
    let mut in_range = Vec::new();
    for (lower, upper) in [("from", "to"), ("low", "high")] {
        let ends = [lower, upper].map(|name| fields.get(name).and_then(quantity));
        if let [Some(low), Some(high)] = ends {
            parts.push(if low == high {
                low
            } else {
                format!("{low} to {high}")
            });
            in_range.extend([lower, upper]);
        }
    }
    for (name, value) in fields {
        if !is_nothing(value) && !in_range.contains(&name.as_str()) {
            parts.push(format!("{}: {}", name.replace('_', " "), shown(value)));
        }
    }
    parts
}

fn shown(value: &Value) -> String {
    match value {
        Value::String(text) => text.clone(),
        Value::Array(items) => items.iter().map(shown).collect::<Vec<_>>().join("; "),
        Value::Object(fields) => quantity(value)
            .or_else(|| limit(fields))
            .unwrap_or_else(|| parts(fields).join(", ")),
        other => other.to_string(),
    }
}

fn quantity(value: &Value) -> Option<String> {
    let number = value.get("value")?.as_f64()?;
    let unit = value.get("unit")?.as_str()?;
    let unit = unit.trim_start_matches("delta_").replace("deg", "°");
    Some(if unit == "1" {
        number.to_string()
    } else {
        format!("{number} {unit}")
    })
}

/// A limit as "at least 165 °F (74 °C)".
fn limit(fields: &Map<String, Value>) -> Option<String> {
    let words = Comparison::deserialize(fields.get("is")?).ok()?.words();
    let of = fields
        .get("temperature")
        .or_else(|| fields.get("duration"))?;
    let text = format!("{words} {}", quantity(of)?);
    Some(match fields.get("also_printed").and_then(quantity) {
        Some(other) => format!("{text} ({other})"),
        None => text,
    })
}
