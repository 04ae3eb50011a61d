//! `poulter rules`.

use clap::Args;
use poulter::rules::{Rule, Rulebook};
use serde_json::{Value, json};

use crate::Outcome;
use crate::check::Format;
use crate::stream::{self, Refusal};

const EXAMPLE: &str = "\
Examples:
  poulter rules --topic thaw
  poulter rules --standard us-consumer --topic doneness.bird --format json";

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
    let mut text = format!("{}\n  {}\n", rule.id, rule.title);
    let requirement = json!(rule.requirement);
    for (name, value) in requirement.as_object().into_iter().flatten() {
        if name != "type" && !is_nothing(value) {
            text += &format!("  {}: {}\n", name.replace('_', " "), shown(value));
        }
    }
    let kind = json!(rule.kind);
    let status = rule.status.words();
    text += &format!(
        "  status: {}; {status}; checked {}\n",
        shown(&kind),
        rule.last_checked
    );
    for source in cited.sources {
        text += &format!("  source: {source}\n");
    }
    if !rule.note.is_empty() {
        text += &format!("  note: {}\n", rule.note);
    }
    text
}

fn is_nothing(value: &Value) -> bool {
    value.is_null() || value.as_array().is_some_and(Vec::is_empty)
}

/// Any part of a requirement in a line: quantities as "165 °F", lists with commas, the rest name by name.
fn shown(value: &Value) -> String {
    match value {
        Value::String(text) => text.replace("<=", "at most").replace(">=", "at least"),
        Value::Array(items) => items.iter().map(shown).collect::<Vec<_>>().join(", "),
        Value::Object(fields) => match (fields.get("value"), fields.get("unit")) {
            (Some(number), Some(Value::String(unit))) => {
                let unit = unit.replace("degF", "°F").replace("degC", "°C");
                format!("{number} {unit}")
            }
            _ => fields
                .iter()
                .filter(|(_, value)| !is_nothing(value))
                .map(|(name, value)| format!("{} {}", name.replace('_', " "), shown(value)))
                .collect::<Vec<_>>()
                .join(" "),
        },
        other => other.to_string(),
    }
}
