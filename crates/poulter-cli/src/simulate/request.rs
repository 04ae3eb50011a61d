//! Arguments to a request.

use serde_json::{Map, Value, json};

use crate::stream::Refusal;

use super::{Bird, Cooling, Roast, Thaw};

/// Puts in the fields that were given; the library has its own word for the others.
fn with(mut fields: Value, given: &[(&str, Option<&String>)]) -> Value {
    for (name, value) in given {
        if let Some(value) = value {
            fields[*name] = json!(value);
        }
    }
    fields
}

impl Bird {
    fn fields(&self) -> [(&str, Option<&String>); 2] {
        [
            ("species", self.species.as_ref()),
            ("standard", self.standard.as_ref()),
        ]
    }
}

impl Roast {
    pub(super) fn request(&self, kind: &str) -> Result<Value, Refusal> {
        let mut request = self.roast()?;
        request["kind"] = json!(kind);
        Ok(request)
    }

    pub(super) fn rest_request(&self, room: &str, rest: &str) -> Result<Value, Refusal> {
        Ok(json!({"kind": "simulate_rest", "roast": self.roast()?, "room": room, "duration": rest}))
    }

    /// The same roast with what its probes have shown.
    pub(crate) fn forecast_request(&self, probes: &Value) -> Result<Value, Refusal> {
        Ok(json!({"kind": "forecast", "roast": self.roast()?, "probes": probes}))
    }

    fn roast(&self) -> Result<Value, Refusal> {
        let mut oven = Vec::new();
        for text in &self.ovens {
            let mut stage = Map::from_iter([("fan".to_owned(), json!(self.fan))]);
            let temperature = match text.split_once(':') {
                None => text.as_str(),
                Some((_, "")) => {
                    return Err(Refusal::File(format!(
                        "--oven: {text:?} has no time after the colon; write it as in 475degF:30min"
                    )));
                }
                Some((temperature, time)) => {
                    stage.insert("duration".to_owned(), json!(time));
                    temperature
                }
            };
            stage.insert("temperature".to_owned(), json!(temperature));
            oven.push(Value::Object(stage));
        }
        let fields = json!({
            "mass": self.mass, "start": self.start, "target": self.target, "stuffed": self.stuffed, "oven": oven
        });
        let [species, standard] = self.bird.fields();
        let mut fields = with(fields, &[species, standard, ("cut", self.cut.as_ref())]);
        if let Some(lag) = &self.oven_lag {
            let lag = json!({"time_constant": lag});
            fields["oven_lag"] = with(lag, &[("start", self.oven_start.as_ref())]);
        }
        let doors = self.doors.iter().map(|text| match text.split_once(':') {
            Some((at, open)) => Ok(json!({"at": at, "duration": open})),
            None => Err(Refusal::File(format!(
                "--door: {text:?} has no colon; write when it is opened and for how long, as in 90min:2min"
            ))),
        });
        fields["door_openings"] = doors.collect::<Result<_, _>>()?;
        if let Some(tent) = &self.tent {
            fields["tent"] = match tent.split_once(':') {
                Some((from, until)) => json!({"from": from, "until": until}),
                None => json!({"from": tent}),
            };
        }
        Ok(fields)
    }
}

impl Thaw {
    pub(super) fn request(&self) -> Value {
        let surroundings = match (&self.refrigerator, &self.water) {
            (Some(temperature), _) => {
                json!({"kind": "refrigerator", "temperature": temperature, "wrapped": self.wrapped})
            }
            (None, temperature) => {
                json!({"kind": "water", "temperature": temperature, "running": self.running})
            }
        };
        let fields = json!({
            "kind": "simulate_thaw", "mass": self.mass, "start": self.start, "surroundings": surroundings
        });
        with(fields, &self.bird.fields())
    }
}

impl Cooling {
    pub(super) fn request(&self) -> Result<Value, Refusal> {
        let layer = [
            ("cooled_from", self.cooled_from.as_ref()),
            ("species", self.bird.species.as_ref()),
        ];
        let food = if let Some(mass) = &self.food.whole {
            with(json!({"kind": "whole", "mass": mass}), &layer[1..])
        } else if let Some(depth) = &self.food.carved {
            with(json!({"kind": "carved", "depth": depth}), &layer)
        } else {
            let depth = &self.food.liquid;
            with(
                json!({"kind": "liquid", "depth": depth, "stirred": self.stirred}),
                &layer[..1],
            )
        };
        let stages = self
            .stages
            .iter()
            .map(|text| stage(text))
            .collect::<Result<Vec<_>, _>>()?;
        let fields = json!({
            "kind": "simulate_cooling", "food": food, "start": self.start, "stages": stages,
            "thresholds": self.thresholds
        });
        Ok(with(fields, &[("standard", self.bird.standard.as_ref())]))
    }
}

/// "refrigerator=38degF:6h" or "ice-bath:30min".
fn stage(text: &str) -> Result<Value, Refusal> {
    let Some((place, time)) = text.rsplit_once(':') else {
        return Err(Refusal::File(format!(
            "--stage: {text:?} has no time; write it as in refrigerator=38degF:6h"
        )));
    };
    let (kind, temperature) = match place.split_once('=') {
        Some((kind, temperature)) => (kind, Some(temperature)),
        None => (place, None),
    };
    let mut surroundings = match kind {
        "wrapped-refrigerator" => json!({"kind": "refrigerator", "wrapped": true}),
        "running-water" => json!({"kind": "water", "running": true}),
        kind => json!({"kind": kind}),
    };
    if let Some(temperature) = temperature {
        surroundings["temperature"] = json!(temperature);
    }
    Ok(json!({"surroundings": surroundings, "duration": time}))
}
