//! Rules of the caller's own: told in every answer, and never kinder than the standard's.

use std::fs;
use std::path::Path;

use poulter::rules::{
    Case, Comparison, Requirement, Rule, Rulebook, TemperatureLimit, TimeLimit, Topic, Verdict,
};
use poulter::units::TemperatureDifference;
use poulter::{Request, evaluate_with};
use serde_json::{Value, json};

/// Moves every limit of a rule: to the kind side, or to the strict one.
fn moved(rule: &Rule, kinder: bool) -> Option<Requirement> {
    let temperature = |limit: &mut TemperatureLimit| {
        let up = matches!(limit.is, Comparison::AtMost | Comparison::Below) == kinder;
        let by = if up { 20.0 } else { -20.0 };
        let by = TemperatureDifference::from_delta_celsius(by).expect("in range");
        limit.temperature = limit.temperature.raised_by(by);
        limit.also_printed = None;
    };
    let time = |limit: &mut TimeLimit| {
        let longer = matches!(limit.is, Comparison::AtMost | Comparison::Below) == kinder;
        let (above, below) = if longer { (3, 1) } else { (1, 3) };
        limit.duration = limit.duration.times_ratio(above, below);
    };
    let mut requirement = rule.requirement.clone();
    match &mut requirement {
        Requirement::MinimumTemperature { limit, hold, .. } => {
            temperature(limit);
            hold.iter_mut().for_each(time);
        }
        Requirement::Temperature { limit } => temperature(limit),
        Requirement::Time { limit, .. } => time(limit),
        Requirement::TimeAsControl {
            start,
            ceiling,
            limit,
        } => {
            temperature(start);
            ceiling.iter_mut().for_each(temperature);
            time(limit);
        }
        Requirement::StagedCooling { stages } => {
            for stage in stages {
                time(&mut stage.within);
            }
        }
        Requirement::Keep { low, high, .. } => {
            let (above, below) = if kinder { (3, 1) } else { (1, 3) };
            *low = low.times_ratio(above, below);
            *high = high.times_ratio(above, below);
        }
        _ => return None,
    }
    Some(requirement)
}

/// A house rule beside every limit of the built-in book.
fn beside_every_limit(kinder: bool) -> String {
    let rules: Vec<Value> = Rulebook::builtin()
        .rules()
        .iter()
        .filter(|rule| rule.effective_to.is_none())
        .filter_map(|rule| {
            let requirement = moved(rule, kinder)?;
            Some(json!({
                "id": format!("{}.house", rule.id),
                "topic": rule.topic,
                "title": "House rule",
                "kind": "requirement",
                "status": "common-practice",
                "last_checked": "2026-11-25",
                "applies_to": rule.applies_to,
                "requirement": requirement,
            }))
        })
        .collect();
    assert!(rules.len() > 100, "only {} limits were found", rules.len());
    toml::to_string(&json!({"rule": rules})).expect("rules are TOML")
}

fn vectors() -> Vec<Value> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/vectors");
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("the vectors are there") {
        let path = entry.expect("a directory entry").path();
        if path.extension().is_some_and(|end| end == "json") {
            let text = fs::read_to_string(path).expect("a readable file");
            let list: Vec<Value> = serde_json::from_str(&text).expect("a list of vectors");
            found.extend(list);
        }
    }
    found
}

fn answer(request: &Value) -> Option<Value> {
    let text = poulter::evaluate_json(&request.to_string()).ok()?;
    serde_json::from_str(&text).ok()
}

fn verdict(answer: &Value) -> Option<Verdict> {
    serde_json::from_value(answer.pointer("/answer/verdict")?.clone()).ok()
}

/// How kind an answer is that has words for it; the higher the kinder.
fn kindness(answer: &Value) -> Option<usize> {
    let order = [
        "discarded",
        "discard",
        "not-known",
        "used-now",
        "use-now",
        "used-or-held-again",
        "freeze-again",
        "keep",
    ];
    let word = ["/answer/may_be", "/answer/outcome"]
        .iter()
        .find_map(|pointer| answer.pointer(pointer)?.as_str())?;
    order.iter().position(|known| *known == word)
}

#[test]
fn no_house_rule_makes_any_verdict_kinder() {
    let builtin = Rulebook::builtin();
    let ask = |book: &Rulebook, request: &Value| {
        let request = Request::from_value(request.clone())?;
        let response = evaluate_with(book, &request)?;
        Ok::<_, poulter::Error>(serde_json::to_value(response).expect("an answer is JSON"))
    };
    for kinder in [true, false] {
        let house = builtin
            .with_rules(&beside_every_limit(kinder))
            .expect("house rules");
        let (mut judged, mut stricter) = (0, 0);
        for vector in vectors() {
            let Ok(alone) = ask(builtin, &vector["request"]) else {
                continue;
            };
            let with = match ask(&house, &vector["request"]) {
                Ok(with) => with,
                // No row is printed for these, and the model does not start from a refrigerator below freezing.
                Err(error)
                    if error.kind() == poulter::ErrorKind::NoPublishedRow
                        && vector["id"]
                            .as_str()
                            .is_some_and(|id| id.starts_with("plan.model.alone")) =>
                {
                    continue;
                }
                // The model does not go as hot as the house wants the bird.
                Err(error)
                    if error.kind() == poulter::ErrorKind::ModelRange
                        && vector["request"]["kind"] == "pull_from_oven" =>
                {
                    continue;
                }
                Err(error) => panic!("{}: with house rules: {error}", vector["id"]),
            };
            if let (Some(alone), Some(with)) = (verdict(&alone), verdict(&with)) {
                judged += 1;
                stricter += usize::from(with < alone);
                assert!(with <= alone, "{}: {with:?} after {alone:?}", vector["id"]);
            }
            if let (Some(alone), Some(with)) = (kindness(&alone), kindness(&with)) {
                assert!(with <= alone, "{}", vector["id"]);
            }
        }
        assert!(judged > 100, "only {judged} verdicts");
        assert!(
            kinder || stricter > 20,
            "only {stricter} verdicts became stricter"
        );
    }
}

const LOOSER: &str = r#"
[[rule]]
id = "us-consumer.doneness.bird.house"
topic = "doneness.bird"
title = "Whole bird in this kitchen"
kind = "requirement"
status = "common-practice"
last_checked = "2026-11-25"
[rule.requirement]
type = "minimum-temperature"
places = ["breast", "thigh", "wing"]
limit = { is = ">=", temperature = "TEMPERATURE" }
"#;

#[test]
fn a_looser_rule_is_named_beside_the_one_it_would_loosen() {
    // FSIS: 165 °F, so 164.999 °F is looser, 165 °F is not, and 165.001 °F is stricter.
    for (temperature, looser) in [
        ("164.999 °F", true),
        ("165 °F", false),
        ("165.001 °F", false),
    ] {
        let house = LOOSER.replace("TEMPERATURE", temperature);
        for request in [
            json!({"kind": "check_cooking", "readings": {"breast": "170 °F", "thigh": "170 °F", "wing": "170 °F"}}),
            json!({"kind": "compare", "topic": "doneness.bird", "standards": ["us-consumer"]}),
            json!({"kind": "altitude", "altitude": "100 m"}),
        ] {
            let mut request = request;
            request["house_rules"] = json!(house);
            let answer = answer(&request).expect("an answer");
            let cautions = answer["cautions"].to_string();
            let named = cautions.contains("us-consumer.doneness.bird.house")
                && cautions.contains("us-consumer.doneness.bird (");
            assert_eq!(named, looser, "{request}: {cautions}");
            let cited = answer["citations"].as_array().is_some_and(|list| {
                list.iter().any(|cite| {
                    cite["rule"] == "us-consumer.doneness.bird.house"
                        && cite["added_by_caller"] == true
                })
            });
            assert!(cited, "{request}");
        }
    }
}

#[test]
fn a_looser_rule_never_becomes_the_limit_of_an_answer() {
    let house = LOOSER.replace("TEMPERATURE", "150 °F");
    let altitude = |house: &str| {
        let request = json!({"kind": "altitude", "altitude": "100 m", "house_rules": house});
        answer(&request).expect("an answer")["answer"]["minimum"]["temperature"]["value"].clone()
    };
    assert_eq!(altitude(&house), 165.0);
    assert_eq!(altitude(&LOOSER.replace("TEMPERATURE", "170 °F")), 170.0);
}

#[test]
fn house_rules_that_cannot_be_read_are_refused_where_they_fail() {
    let ask = |house: Value| {
        let request = json!({"kind": "rules", "standard": "uk", "house_rules": house});
        poulter::evaluate_json(&request.to_string()).unwrap_err()
    };
    assert_eq!(ask(json!(4)).field(), "house_rules");
    assert!(ask(json!("[[rule]")).field().starts_with("house_rules"));
    let stranger = LOOSER.replace("id = \"us-consumer", "id = \"mars");
    assert!(
        ask(json!(stranger.replace("TEMPERATURE", "165 °F")))
            .to_string()
            .contains("known standard")
    );
    let taken = LOOSER
        .replace("bird.house", "bird")
        .replace("TEMPERATURE", "165 °F");
    assert!(ask(json!(taken)).to_string().contains("not yet taken"));
}

#[test]
fn a_prohibition_cannot_be_lifted_and_an_amount_may_be_replaced() {
    let find = |topic: Topic, requirement: &str| {
        let text = format!(
            "[[rule]]\nid = \"us-consumer.{0}.house\"\ntopic = \"{0}\"\ntitle = \"House rule\"\n\
             kind = \"requirement\"\nstatus = \"common-practice\"\nlast_checked = \"2026-11-25\"\n\
             requirement = {requirement}\n",
            topic.name()
        );
        let book = Rulebook::builtin().with_rules(&text).expect("a rule");
        let case = Case::whole_turkey("us-consumer");
        book.find(topic, &case).map(|rule| rule.id.clone())
    };
    let wash = "{ type = \"do\", text = \"Wash the bird.\" }";
    let plenty = "{ type = \"mass-per-person\", low = \"2 lb\", high = \"2 lb\" }";
    assert_eq!(
        find(Topic::PrepareWash, wash).as_deref(),
        Some("us-consumer.prepare.wash")
    );
    assert_eq!(
        find(Topic::PurchaseMass, plenty).as_deref(),
        Some("us-consumer.purchase.mass.house")
    );
}

/// The limit of every check of a log, moved by a house rule: under, at and over what the log shows.
#[test]
fn every_check_of_a_log_judges_by_the_house_rule_too() {
    let csv = |text: &str| json!({ "csv": text });
    let minimum = |temperature: &str| {
        format!(
            r#"{{ type = "minimum-temperature", limit = {{ is = ">=", temperature = "{temperature}" }} }}"#
        )
    };
    let hold = |is: &str, temperature: &str| {
        format!(
            r#"{{ type = "temperature", limit = {{ is = "{is}", temperature = "{temperature}" }} }}"#
        )
    };
    let cooling = |within: &str| {
        format!(
            r#"{{ type = "staged-cooling", stages = [{{ from = "135 °F", to = {{ is = "<=", temperature = "41 °F" }}, within = {{ is = "<=", duration = "{within}" }}, counted_from = "this-stage" }}] }}"#
        )
    };
    let control = |within: &str| {
        format!(
            r#"{{ type = "time-as-control", start = {{ is = ">=", temperature = "135 °F" }}, limit = {{ is = "<=", duration = "{within}" }} }}"#
        )
    };
    let done = csv(
        "elapsed_min,breast_temp_degF,thigh_temp_degF,wing_temp_degF\n0,170,170,170\n1,170,170,170\n",
    );
    let hot = csv("elapsed_min,core_temp_degF\n0,150\n10,150\n");
    let cold = csv("elapsed_min,core_temp_degF\n0,38\n10,38\n");
    let cooled = csv("elapsed_h,core_temp_degF\n0,135\n1,70\n3,41\n");
    let again = csv("elapsed_min,core_temp_degF\n0,38\n10,100\n20,170\n");
    let code = "us-food-code-2022";
    let home = "us-consumer";
    let checks = json!({"longest_gap": "4 h"});
    for (topic, standard, request, limits) in [
        (
            Topic::DonenessBird,
            home,
            json!({"kind": "check_cooking_log", "log": done}),
            ["169.999 °F", "170 °F", "170.001 °F"].map(minimum),
        ),
        (
            Topic::HoldHot,
            home,
            json!({"kind": "check_holding_log", "holding": "hot", "log": hot}),
            ["149.999 °F", "150 °F", "150.001 °F"].map(|limit| hold(">=", limit)),
        ),
        (
            Topic::HoldCold,
            home,
            json!({"kind": "check_holding_log", "holding": "cold", "log": cold}),
            ["38.001 °F", "38 °F", "37.999 °F"].map(|limit| hold("<=", limit)),
        ),
        (
            Topic::HoldCold,
            home,
            json!({"kind": "check_thawing_log", "method": "refrigerator", "log": cold}),
            ["38.001 °F", "38 °F", "37.999 °F"].map(|limit| hold("<=", limit)),
        ),
        (
            Topic::HoldTimeControl,
            code,
            json!({"kind": "check_holding_log", "holding": "time-control", "log": hot}),
            ["601 s", "600 s", "599 s"].map(control),
        ),
        (
            Topic::CoolStages,
            code,
            json!({"kind": "check_cooling_log", "checks": checks, "log": cooled}),
            ["10801 s", "10800 s", "10799 s"].map(cooling),
        ),
        (
            Topic::Reheat,
            home,
            json!({"kind": "check_reheating_log", "log": again}),
            ["169.999 °F", "170 °F", "170.001 °F"].map(minimum),
        ),
    ] {
        for (requirement, expected) in limits.into_iter().zip(["meets", "meets", "fails"]) {
            let mut request = request.clone();
            request["standard"] = json!(standard);
            request["house_rules"] = json!(format!(
                "[[rule]]\nid = \"{standard}.{0}.house\"\ntopic = \"{0}\"\ntitle = \"House rule\"\n\
                 kind = \"requirement\"\nstatus = \"common-practice\"\nlast_checked = \"2026-11-25\"\n\
                 requirement = {requirement}\n",
                topic.name()
            ));
            let answer = answer(&request).unwrap_or_else(|| panic!("no answer to {request}"));
            assert_eq!(answer["answer"]["verdict"], expected, "{request}: {answer}");
            let cited = answer["citations"].to_string();
            assert!(
                cited.contains(".house") && cited.contains("added_by_caller"),
                "{request}"
            );
        }
    }
}

/// A log that fails by the standard, and a house rule by which it would meet.
#[test]
fn a_looser_rule_of_a_log_is_named_and_does_not_decide() {
    let csv = |text: &str| json!({ "csv": text });
    let short = csv(
        "elapsed_min,breast_temp_degF,thigh_temp_degF,wing_temp_degF\n0,160,160,160\n1,160,160,160\n",
    );
    let warm = csv("elapsed_min,core_temp_degF\n0,50\n10,50\n");
    let tepid = csv("elapsed_min,core_temp_degF\n0,130\n10,130\n");
    let slow = csv("elapsed_h,core_temp_degF\n0,135\n4,70\n8,41\n");
    let again = csv("elapsed_min,core_temp_degF\n0,38\n10,100\n20,150\n21,150\n");
    let stages = r#"{ type = "staged-cooling", stages = [
        { from = "135 °F", to = { is = "<=", temperature = "70 °F" }, within = { is = "<=", duration = "8 h" }, counted_from = "first-stage" },
        { from = "70 °F", to = { is = "<=", temperature = "41 °F" }, within = { is = "<=", duration = "24 h" }, counted_from = "first-stage" },
    ] }"#;
    let minimum =
        r#"{ type = "minimum-temperature", limit = { is = ">=", temperature = "140 °F" } }"#;
    let cold = r#"{ type = "temperature", limit = { is = "<=", temperature = "60 °F" } }"#;
    let hot = r#"{ type = "temperature", limit = { is = ">=", temperature = "120 °F" } }"#;
    let (home, code) = ("us-consumer", "us-food-code-2022");
    let checks = json!({"longest_gap": "5 h"});
    for (standard, topic, requirement, request) in [
        (
            home,
            Topic::DonenessBird,
            minimum,
            json!({"kind": "check_cooking_log", "log": short}),
        ),
        (
            home,
            Topic::HoldHot,
            hot,
            json!({"kind": "check_holding_log", "holding": "hot", "log": tepid}),
        ),
        (
            home,
            Topic::HoldCold,
            cold,
            json!({"kind": "check_holding_log", "holding": "cold", "log": warm}),
        ),
        (
            home,
            Topic::HoldCold,
            cold,
            json!({"kind": "check_thawing_log", "method": "refrigerator", "log": warm}),
        ),
        (
            code,
            Topic::CoolStages,
            stages,
            json!({"kind": "check_cooling_log", "checks": checks, "log": slow}),
        ),
        (
            home,
            Topic::Reheat,
            minimum,
            json!({"kind": "check_reheating_log", "log": again}),
        ),
    ] {
        let mut request = request;
        let id = format!("{standard}.{}", topic.name());
        request["standard"] = json!(standard);
        request["house_rules"] = json!(format!(
            "[[rule]]\nid = \"{id}.house\"\ntopic = \"{}\"\ntitle = \"House rule\"\nkind = \"requirement\"\n\
             status = \"common-practice\"\nlast_checked = \"2026-11-25\"\nrequirement = {requirement}\n",
            topic.name()
        ));
        let answer = answer(&request).unwrap_or_else(|| panic!("no answer to {request}"));
        assert_eq!(answer["answer"]["verdict"], "fails", "{request}: {answer}");
        let cautions = answer["cautions"].to_string();
        assert!(
            cautions.contains(&format!("{id}.house"))
                && cautions.contains(&format!("is looser than {id}")),
            "{request}: {cautions}"
        );
    }
}
