//! A verdict in plain lines.

use serde_json::Value;

use crate::Outcome;

/// Whether an answer's verdict says that all is well.
pub(crate) fn outcome(response: &Value) -> Outcome {
    Outcome::of(response["answer"]["verdict"] == "meets")
}

/// An answer with a verdict, its findings, what to do, the cautions and the sources.
pub(crate) fn words(response: &Value) -> String {
    let answer = &response["answer"];
    let mut lines = vec![format!("VERDICT: {}", word(&answer["verdict"]))];
    for finding in list(&answer["findings"]) {
        lines.push(format!("- {}", text(&finding["text"])));
    }
    section(&mut lines, "Do", list(&answer["do"]).map(text));
    section(&mut lines, "Assumed", list(&response["assumed"]).map(text));
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

pub(crate) fn section(lines: &mut Vec<String>, name: &str, texts: impl Iterator<Item = String>) {
    let texts: Vec<String> = texts.map(|text| format!("- {text}")).collect();
    if !texts.is_empty() {
        lines.extend([String::new(), name.to_owned()]);
        lines.extend(texts);
    }
}

pub(crate) fn list(value: &Value) -> impl Iterator<Item = &Value> {
    value.as_array().into_iter().flatten()
}

pub(crate) fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}

/// A rule with its sources, or how it is known without one.
pub(crate) fn sources(citation: &Value) -> String {
    let sources: Vec<_> = list(&citation["sources"]).map(text).collect();
    let said = if sources.is_empty() {
        format!("{}, no source", text(&citation["status"]).replace('-', " "))
    } else {
        sources.join("; ")
    };
    format!("{}: {said}", text(&citation["rule"]))
}

fn word(verdict: &Value) -> String {
    text(verdict).replace('-', " ").to_uppercase()
}
