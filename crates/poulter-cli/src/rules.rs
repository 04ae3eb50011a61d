//! `poulter rules`.

use clap::{Args, ValueEnum};
use poulter::rules::{Comparison, Rule, Rulebook, RulesQuery};
use serde::Deserialize;
use serde_json::{Map, Value, json};

use crate::house::House;
use crate::stream::{self, Refusal};
use crate::{Outcome, compare};

const EXAMPLE: &str = "\
Examples:
  poulter rules --topic thaw
  poulter rules us-consumer.doneness.bird
  poulter rules --standard uk --stage serve --status memory
  poulter rules --standard us-consumer --topic doneness.bird --on 2006-04-05
  poulter rules --compare --topic doneness.bird --reading 74degC --standard us-consumer --standard canada";

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
    /// Explain this rule, and name those that answer the same question
    #[arg(value_name = "ID")]
    id: Option<String>,
    /// Only the rules of this standard; of several where they are compared
    #[arg(long)]
    standard: Vec<String>,
    /// Only this topic, or the topics that begin with it, such as thaw
    #[arg(long)]
    topic: Option<String>,
    /// Only this stage of the job, such as storage
    #[arg(long)]
    stage: Option<String>,
    /// Only rules that apply to this species
    #[arg(long)]
    species: Option<String>,
    /// Only rules that apply to this cut
    #[arg(long)]
    cut: Option<String>,
    /// Only requirement, guidance, common-practice or model
    #[arg(long)]
    kind: Option<String>,
    /// Only numbers that were read this way: read, copy, derived, memory or common-practice
    #[arg(long)]
    status: Option<String>,
    /// Only rules that held on this day, such as 2006-04-05
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    /// Set the standards side by side for one topic
    #[arg(long, requires = "topic", conflicts_with_all = ["id", "stage", "kind", "status"])]
    compare: bool,
    /// With --compare: a temperature to judge under each, such as 74degC
    #[arg(long, value_name = "TEMPERATURE", requires = "compare")]
    reading: Option<String>,
    /// With --compare: a time to judge under each; beside a reading, how long it held
    #[arg(long, value_name = "TIME", requires = "compare")]
    duration: Option<String>,
    /// With --compare: a process word of the rules, such as cold-display
    #[arg(long, requires = "compare")]
    process: Option<String>,
    /// How to show the rules
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    #[command(flatten)]
    house: House,
}

impl Arguments {
    pub(crate) fn run(self) -> Result<Outcome, Refusal> {
        let book = self.house.book()?;
        if self.compare {
            return compare::run(&book, self.comparison(), self.format == Format::Json);
        }
        let query = self.query()?;
        if let Some(standard) = &query.standard {
            book.standard(standard)?;
        }
        if let Some(id) = &query.id {
            book.rule(id).map_err(|error| error.at("id"))?;
        }
        let rules: Vec<&Rule> = book
            .rules()
            .iter()
            .filter(|rule| query.selects(rule) && self.is_within_topic(rule))
            .collect();
        if rules.is_empty() {
            return Err(Refusal::File(
                "no rule is selected; leave --topic or another filter out to see more".to_owned(),
            ));
        }
        let text = match self.format {
            Format::Text => rules
                .iter()
                .map(|rule| words(&book, rule, self.id.is_some()))
                .collect::<Vec<_>>()
                .join("\n"),
            Format::Json => {
                let rules: Vec<Value> = rules.iter().map(|rule| entry(&book, rule)).collect();
                stream::json(&Value::Array(rules))
            }
        };
        stream::print(&text)?;
        Ok(Outcome::Fine)
    }

    /// The filters as the library's own question; without a day the rules that no longer hold are listed too.
    fn query(&self) -> Result<RulesQuery, Refusal> {
        if self.standard.len() > 1 {
            return Err(Refusal::File(
                "--standard: several standards are for --compare; one is needed here".to_owned(),
            ));
        }
        let mut fields = given(&[
            ("id", &self.id),
            ("stage", &self.stage),
            ("species", &self.species),
            ("cut", &self.cut),
            ("rule_kind", &self.kind),
            ("status", &self.status),
            ("on", &self.on),
        ]);
        if let Some(standard) = self.standard.first() {
            fields.insert("standard".to_owned(), json!(standard));
        }
        fields.insert("superseded".to_owned(), json!(self.on.is_none()));
        serde_json::from_value(Value::Object(fields))
            .map_err(|error| Refusal::File(format!("rules: {error}")))
    }

    fn comparison(&self) -> Map<String, Value> {
        let mut fields = given(&[
            ("topic", &self.topic),
            ("species", &self.species),
            ("cut", &self.cut),
            ("reading", &self.reading),
            ("duration", &self.duration),
            ("process", &self.process),
            ("on", &self.on),
        ]);
        fields.insert("standards".to_owned(), json!(self.standard));
        fields
    }

    fn is_within_topic(&self, rule: &Rule) -> bool {
        let name = rule.topic.name();
        self.topic.as_deref().is_none_or(|wanted| {
            name.strip_prefix(wanted)
                .is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
        })
    }
}

fn given(fields: &[(&str, &Option<String>)]) -> Map<String, Value> {
    fields
        .iter()
        .filter_map(|(name, value)| Some(((*name).to_owned(), json!(value.as_ref()?))))
        .collect()
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

fn words(book: &Rulebook, rule: &Rule, in_full: bool) -> String {
    let cited = book.cite(rule);
    let mut lines = vec![rule.id.clone(), format!("  {}", rule.title)];
    if in_full {
        lines.push(format!("  question: {}", rule.topic.question()));
        if let Value::Object(applies_to) = json!(rule.applies_to) {
            let only = parts(&applies_to).into_iter();
            lines.extend(only.map(|part| format!("  only for {part}")));
        }
        lines.push(format!("  in words: {}", rule.requirement.words()));
    }
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
    if in_full {
        let others = book.rules().iter().filter(|other| {
            (other.topic, other.standard()) == (rule.topic, rule.standard()) && other.id != rule.id
        });
        lines.extend(others.map(|other| format!("  beside it: {}", other.id)));
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
