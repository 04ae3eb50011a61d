//! `poulter rules --compare`: one question under several standards.

use poulter::rules::Rulebook;
use poulter::{Request, evaluate_with};
use serde_json::{Map, Value, json};

use crate::Outcome;
use crate::stream::{self, Refusal};
use crate::verdict::{list, section, sources, text};

pub(crate) fn run(
    book: &Rulebook,
    mut fields: Map<String, Value>,
    as_json: bool,
) -> Result<Outcome, Refusal> {
    fields.insert("kind".to_owned(), json!("compare"));
    let response = evaluate_with(book, &Request::from_value(Value::Object(fields))?)?;
    let value =
        serde_json::to_value(&response).map_err(|error| Refusal::File(error.to_string()))?;
    stream::print(&if as_json {
        stream::json(&value)
    } else {
        words(&value)
    })?;
    Ok(Outcome::Fine)
}

fn words(response: &Value) -> String {
    let mut lines = vec![text(&response["answer"]["question"])];
    for row in list(&response["answer"]["rows"]) {
        lines.push(String::new());
        let verdict = text(&row["verdict"]).replace('-', " ").to_uppercase();
        let verdict = if verdict.is_empty() {
            verdict
        } else {
            format!("{verdict}: ")
        };
        lines.push(format!(
            "{}: {verdict}{}",
            text(&row["standard"]),
            text(&row["says"])
        ));
        let also = list(&row["also"]);
        for rule in std::iter::once(&row["rule"]).chain(also) {
            if rule.is_object() {
                lines.push(format!(
                    "  {} [{}, {}]: {}",
                    text(&rule["id"]),
                    text(&rule["kind"]),
                    text(&rule["status"]),
                    text(&rule["limit"])
                ));
            }
        }
    }
    section(
        &mut lines,
        "Cautions",
        list(&response["cautions"]).map(text),
    );
    section(
        &mut lines,
        "Rules",
        list(&response["citations"]).map(sources),
    );
    lines.push(String::new());
    lines.join("\n")
}
