//! Questions and answers of the heat model on the wire.

use poulter::heat::{
    CoolingSimulation, CoolingSimulationQuery, ForecastQuery, RestSimulation, RestSimulationQuery,
    RoastSimulation, RoastSimulationQuery, ThawSimulation, ThawSimulationQuery, TimeForecast,
    simulate_cooling, simulate_rest, simulate_roast, simulate_thaw,
};
use schemars::{JsonSchema, schema_for};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Value, json};

fn roast() -> Value {
    json!({
        "species": "turkey", "cut": "whole", "mass": "12 lb", "start": "40 °F", "stuffed": false,
        "oven": [
            {"temperature": "475 °F", "duration": "30 min"},
            {"temperature": "325 °F", "fan": true}
        ],
        "oven_lag": {"time_constant": "6 min", "start": "300 °F"},
        "door_openings": [{"at": "1 h", "duration": "2 min"}],
        "tent": {"from": "90 min", "until": "3 h"},
        "target": "165 °F"
    })
}

fn rest() -> Value {
    json!({"roast": roast(), "room": "72 °F", "duration": "30 min"})
}

fn thaw() -> Value {
    json!({
        "species": "chicken", "mass": "5 lb", "start": "0 °F",
        "surroundings": {"kind": "water", "temperature": "50 °F", "running": true}
    })
}

fn cooling() -> Value {
    json!({
        "food": {"kind": "liquid", "depth": "2 in", "cooled_from": "both-faces", "stirred": true},
        "start": "180 °F",
        "stages": [{"surroundings": {"kind": "ice-bath"}, "duration": "2 h"}],
        "thresholds": ["135 °F", "70 °F", "41 °F"]
    })
}

fn forecast() -> Value {
    json!({"roast": roast(), "probes": [{"place": "breast"}, {"place": "oven"}], "seed": 1, "members": 300})
}

/// Reads, writes, reads again; and refuses a field that it does not know, at every level.
fn survives<Q: DeserializeOwned + Serialize + PartialEq + std::fmt::Debug>(value: &Value) {
    let query: Q = serde_json::from_value(value.clone()).unwrap();
    let written = serde_json::to_value(&query).unwrap();
    assert_eq!(serde_json::from_value::<Q>(written).unwrap(), query);

    let mut more = value.clone();
    more["colour"] = json!("golden");
    assert!(serde_json::from_value::<Q>(more).is_err());
    for (name, inner) in value.as_object().unwrap() {
        if inner.is_object() {
            let mut more = value.clone();
            more[name]["colour"] = json!("golden");
            assert!(serde_json::from_value::<Q>(more).is_err(), "{name}");
        }
    }
}

#[test]
fn queries_survive_and_refuse_unknown_fields() {
    survives::<RoastSimulationQuery>(&roast());
    survives::<RestSimulationQuery>(&rest());
    survives::<ThawSimulationQuery>(&thaw());
    survives::<CoolingSimulationQuery>(&cooling());
    survives::<ForecastQuery>(&forecast());
}

#[test]
fn answers_carry_units_limits_and_sources() {
    let read = |value: Value| serde_json::from_value(value).unwrap();
    let answers = [
        serde_json::to_value(simulate_roast(&read(roast())).unwrap()).unwrap(),
        serde_json::to_value(simulate_thaw(&serde_json::from_value(thaw()).unwrap()).unwrap())
            .unwrap(),
        serde_json::to_value(simulate_rest(&serde_json::from_value(rest()).unwrap()).unwrap())
            .unwrap(),
        serde_json::to_value(
            simulate_cooling(&serde_json::from_value(cooling()).unwrap()).unwrap(),
        )
        .unwrap(),
    ];
    for answer in &answers {
        assert!(
            answer["leaves_out"].as_array().unwrap().len() >= 5,
            "{answer}"
        );
        assert!(answer["sources"].as_array().unwrap().len() >= 4, "{answer}");
    }
    let [roast, thaw, rest, cooling] = answers;
    assert_eq!(roast["time_to_target"]["likely"]["unit"], "min");
    assert_eq!(roast["slowest"], "breast");
    let curve = &roast["zones"][0]["curve"];
    assert_eq!(curve["elapsed_s"][1], 300.0);
    assert_eq!(
        curve["elapsed_s"].as_array().unwrap().len(),
        curve["temp_degC"].as_array().unwrap().len()
    );
    assert_eq!(thaw["thawed"]["low"]["unit"], "min");
    assert_eq!(rest["counts_toward_safety"], false);
    assert_eq!(rest["zones"][0]["rise"]["likely"]["unit"], "delta_degF");
    assert_eq!(cooling["passings"][2]["threshold"]["unit"], "degF");
}

/// A schema names every field and lets no other in.
fn is_closed<T: JsonSchema>(fields: &[&str]) {
    let schema = schema_for!(T).to_value();
    let named = schema["properties"].as_object().unwrap();
    for field in fields {
        assert!(named.contains_key(*field), "{field}: {schema}");
    }
    assert_eq!(named.len(), fields.len(), "{schema}");
}

#[test]
fn schemas_name_every_field() {
    is_closed::<RoastSimulationQuery>(&[
        "species",
        "cut",
        "mass",
        "start",
        "stuffed",
        "oven",
        "oven_lag",
        "door_openings",
        "tent",
        "target",
        "standard",
    ]);
    is_closed::<RestSimulationQuery>(&["roast", "room", "duration"]);
    is_closed::<ThawSimulationQuery>(&["species", "mass", "start", "surroundings", "standard"]);
    is_closed::<CoolingSimulationQuery>(&["food", "start", "stages", "thresholds", "standard"]);
    is_closed::<ForecastQuery>(&["roast", "probes", "seed", "members"]);
    is_closed::<RoastSimulation>(&[
        "time_to_target",
        "slowest",
        "zones",
        "evaporated",
        "frozen_minimum_used",
        "kill",
        "leaves_out",
        "sources",
    ]);
    is_closed::<RestSimulation>(&[
        "zones",
        "counts_toward_safety",
        "kill",
        "leaves_out",
        "sources",
    ]);
    is_closed::<ThawSimulation>(&["thawed", "curves", "leaves_out", "sources"]);
    is_closed::<CoolingSimulation>(&[
        "passings",
        "centre_at_end",
        "evaporated",
        "curves",
        "growth",
        "leaves_out",
        "sources",
    ]);
    is_closed::<TimeForecast>(&[
        "time_to_target",
        "cannot_tell",
        "places",
        "findings",
        "coverage",
        "seen",
        "effective_members",
        "tempered",
        "misfit",
        "leaves_out",
        "sources",
    ]);
}

#[test]
fn the_same_question_gives_the_same_bytes() {
    let [a, b] = [0, 1].map(|_| {
        let query: RestSimulationQuery = serde_json::from_value(rest()).unwrap();
        serde_json::to_string(&simulate_rest(&query).unwrap()).unwrap()
    });
    assert_eq!(a, b);
}
