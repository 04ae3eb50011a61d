//! What the heat model says of a thaw or a roast, beside the printed time.

use std::cell::RefCell;
use std::rc::Rc;

use schemars::JsonSchema;
use serde::Serialize;

use crate::answer::TimeEstimate;
use crate::bird::Cut;
use crate::heat::{
    Band, Forecast, ForecastQuery, OvenStage, Pull, RemainingThawQuery, RestSimulationQuery,
    RoastCut, RoastSimulationQuery, Surroundings, ThawSimulationQuery, pull_from_oven,
    remaining_thaw, simulate_roast, simulate_thaw,
};
use crate::messages::fill;
use crate::roast::{self, OvenPhase, RoastMethod, RoastQuery};
use crate::rules::{Requirement, RuleKind, Topic};
use crate::thaw::ThawMethod;
use crate::units::{Duration, ExactTemperature, Temperature, TemperatureUnit};

use super::findings::doneness_topic;
use super::setup::Setup;

/// Cold tap water where the standard sets no limit: 13 °C, set by hand with the coefficients of the heat model so that
/// 12 lb meets the usual rule.
const TAP_WATER: Temperature = Temperature::from_exact(
    ExactTemperature::from_millicelsius(13_000),
    TemperatureUnit::Celsius,
);

/// A time of the heat model beside the printed one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ModelTime {
    /// Always `model`: computed, not published.
    pub kind: RuleKind,
    /// The model's 10th percentile, median and 90th percentile.
    pub time: TimeEstimate,
    /// The time by the rule; nothing where no row is published.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub printed: Option<TimeEstimate>,
}

impl ModelTime {
    pub(super) const fn beside(time: TimeEstimate, printed: Option<TimeEstimate>) -> Self {
        Self {
            kind: RuleKind::Model,
            time,
            printed,
        }
    }

    /// The model's band with the printed time beside it, in words.
    pub(super) fn words(&self) -> String {
        let model = fill(
            "model-time",
            &[
                ("range", &self.time.shown()),
                ("likely", &self.time.likely.shown()),
            ],
        );
        match self.printed {
            Some(printed) => fill(
                "model-and-rule",
                &[("model", &model), ("printed", &printed.shown())],
            ),
            None => fill("model-alone", &[("model", &model)]),
        }
    }
}

/// The model's times for an order, each computed once.
#[derive(Clone, Default)]
pub(super) struct ModelTimes(Rc<RefCell<Vec<Asked>>>);

struct Asked {
    question: Question,
    answer: Option<TimeEstimate>,
}

#[derive(Clone, PartialEq)]
enum Question {
    Roast(RoastSimulationQuery),
    Thaw(ThawSimulationQuery),
    ThawLeft(RemainingThawQuery),
    Forecast(ForecastQuery),
}

impl Question {
    /// Nothing outside the model's range, and nothing for a roast that never gets there.
    fn answer(&self) -> Option<TimeEstimate> {
        let Band { low, likely, high } = match self {
            Self::Roast(query) => simulate_roast(query).ok()?.time_to_target?,
            Self::Thaw(query) => simulate_thaw(query).ok()?.thawed,
            Self::ThawLeft(query) => remaining_thaw(query).ok()?.remaining,
            Self::Forecast(query) => {
                let forecast = Forecast::new(query).ok()?;
                forecast.time_to_target().ok()?.time_to_target?
            }
        };
        Some(TimeEstimate { low, likely, high })
    }
}

impl ModelTimes {
    fn ask(&self, question: Question) -> Option<TimeEstimate> {
        let known = self
            .0
            .borrow()
            .iter()
            .find(|asked| asked.question == question)
            .map(|asked| asked.answer);
        if let Some(answer) = known {
            return answer;
        }
        let answer = question.answer();
        self.0.borrow_mut().push(Asked { question, answer });
        answer
    }
}

/// The model's time in an oven that is run like this.
///
/// Nothing when the order does not ask for the model beside the printed times, and where there is none.
pub(super) fn roast_time(
    setup: &Setup<'_>,
    query: &RoastQuery,
    oven: &[OvenPhase],
) -> Option<TimeEstimate> {
    if setup.order.use_model {
        roast_time_alone(setup, query, oven)
    } else {
        None
    }
}

/// The model's time where no row is printed, whether the order asks for the model or not.
///
/// Nothing for cuts and species it does not cover, high above the sea, and outside its range of mass.
pub(super) fn roast_time_alone(
    setup: &Setup<'_>,
    query: &RoastQuery,
    oven: &[OvenPhase],
) -> Option<TimeEstimate> {
    if roast::is_high(setup.book, &setup.case(None), query.altitude) {
        return None;
    }
    let asked = question(setup, query, oven)?;
    setup.model.ask(Question::Roast(asked))
}

/// The time in the oven as the readings so far make it, for a bird that was not frozen when it went in.
pub(super) fn forecast(
    setup: &Setup<'_>,
    query: &RoastQuery,
    oven: &[OvenPhase],
) -> Option<TimeEstimate> {
    setup.standing.oven_reading()?;
    if query.from_frozen || roast::is_high(setup.book, &setup.case(None), query.altitude) {
        return None;
    }
    let roasting = question(setup, query, oven)?;
    let asked = setup.standing.forecast_query(roasting)?;
    setup.model.ask(Question::Forecast(asked))
}

/// A warm kitchen, as in the reference calculation of the rest.
const ROOM: Temperature = Temperature::from_exact(
    ExactTemperature::from_millicelsius(22_000),
    TemperatureUnit::Celsius,
);

/// How far the bird goes on rising once it is out, by the model; nothing where [`roast_time`] has nothing.
pub(super) fn pull(
    setup: &Setup<'_>,
    query: &RoastQuery,
    oven: &[OvenPhase],
    rest: Duration,
) -> Option<Pull> {
    if !setup.order.use_model || roast::is_high(setup.book, &setup.case(None), query.altitude) {
        return None;
    }
    let roast = question(setup, query, oven)?;
    let minimum = roast.target;
    let rest = RestSimulationQuery {
        roast,
        room: ROOM,
        duration: rest,
    };
    pull_from_oven(&rest, minimum).ok()
}

fn question(
    setup: &Setup<'_>,
    query: &RoastQuery,
    oven: &[OvenPhase],
) -> Option<RoastSimulationQuery> {
    let cut = match query.cut {
        Cut::Whole => RoastCut::Whole,
        Cut::Breast => RoastCut::BoneInBreast,
        _ => return None,
    };
    let start = if query.from_frozen {
        limit(setup, Topic::StorageFreezer)
    } else {
        refrigerator(setup)
    };
    let mut target = minimum(setup, doneness_topic(query.cut))?;
    if query.stuffed {
        target = target.max(minimum(setup, Topic::DonenessStuffing)?);
    }
    Some(RoastSimulationQuery {
        species: query.species,
        cut,
        mass: query.mass,
        start: start?,
        stuffed: query.stuffed,
        oven: oven
            .iter()
            .map(|phase| OvenStage {
                temperature: phase.air,
                fan: query.oven.fan,
                duration: phase.time,
            })
            .collect(),
        oven_lag: None,
        door_openings: Vec::new(),
        tent: None,
        target,
        standard: query.standard.clone(),
    })
}

/// Whether the model has a time for the bird in a steady oven, be there a row or not.
pub(super) fn covers(setup: &Setup<'_>) -> bool {
    let Some(air) = limit(setup, Topic::RoastOven) else {
        return false;
    };
    let query = RoastQuery {
        mass: setup.mass,
        stuffed: setup.stuffed,
        method: RoastMethod::Steady,
        from_frozen: false,
        oven: setup.oven,
        altitude: setup.order.kitchen.altitude,
        standard: setup.order.standard.clone(),
        species: setup.species,
        cut: setup.cut,
        on: setup.case(None).on,
    };
    let steady = OvenPhase {
        air,
        dial: air,
        time: None,
    };
    roast_time_alone(setup, &query, &[steady]).is_some()
}

/// The model's time for a thaw of a whole, hard frozen bird in its wrap.
///
/// Nothing when the order does not ask for the model, for other ways than refrigerator and still water, and outside
/// the model's range.
pub(super) fn thaw_time(setup: &Setup<'_>, method: ThawMethod) -> Option<TimeEstimate> {
    if !setup.order.use_model || setup.cut != Cut::Whole {
        return None;
    }
    setup.model.ask(Question::Thaw(ThawSimulationQuery {
        species: setup.species,
        mass: setup.mass,
        start: limit(setup, Topic::StorageFreezer)?,
        surroundings: surroundings(setup, method)?,
        standard: setup.order.standard.clone(),
    }))
}

/// What is left of a thaw of a whole bird whose core shows this temperature; nothing where the model does not cover it.
///
/// A reading in the bird is news that no table answers, so it needs no asking for the model.
pub(super) fn thaw_left(
    setup: &Setup<'_>,
    method: ThawMethod,
    centre: Temperature,
) -> Option<TimeEstimate> {
    if setup.cut != Cut::Whole {
        return None;
    }
    setup.model.ask(Question::ThawLeft(RemainingThawQuery {
        species: setup.species,
        mass: setup.mass,
        centre,
        surroundings: surroundings(setup, method)?,
    }))
}

fn surroundings(setup: &Setup<'_>, method: ThawMethod) -> Option<Surroundings> {
    match method {
        ThawMethod::Refrigerator => Some(Surroundings::Refrigerator {
            temperature: refrigerator(setup)?,
            wrapped: true,
        }),
        ThawMethod::ColdWater => Some(Surroundings::Water {
            temperature: limit(setup, Topic::ThawWaterTemperature).unwrap_or(TAP_WATER),
            running: false,
        }),
        _ => None,
    }
}

/// As measured, or as warm as the standard allows.
fn refrigerator(setup: &Setup<'_>) -> Option<Temperature> {
    setup
        .order
        .kitchen
        .refrigerator
        .or_else(|| limit(setup, Topic::StorageRefrigerator))
}

fn limit(setup: &Setup<'_>, topic: Topic) -> Option<Temperature> {
    match &setup.book.find(topic, &setup.case(None))?.requirement {
        Requirement::Temperature { limit } => Some(limit.temperature),
        _ => None,
    }
}

fn minimum(setup: &Setup<'_>, topic: Topic) -> Option<Temperature> {
    match &setup.book.find(topic, &setup.case(None))?.requirement {
        Requirement::MinimumTemperature { limit, .. } => Some(limit.temperature),
        _ => None,
    }
}
