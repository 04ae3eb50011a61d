//! The model's answers beside the rules that decide.
//!
//! A simulation knows no rules. Here each one is set beside the standard's own time or limit, with a caution wherever
//! the two part ways, and with the rules cited.

use crate::answer::{Answer, Basis};
use crate::bird::{Cut, Species, State};
use crate::error::{Error, ErrorKind};
use crate::rules::{Case, Requirement, Rulebook, Topic, Verdict};
use crate::units::Temperature;

use super::cooling::{CoolingFood, CoolingSimulation, CoolingSimulationQuery};
use super::forecast::ForecastQuery;
use super::probe::{Probe, ProbeState};
use super::pull::Pull;
use super::rest::{RestSimulation, RestSimulationQuery};
use super::roast::{RoastCut, RoastSimulation, RoastSimulationQuery, is_frozen};
use super::surroundings::Surroundings;
use super::thaw::{ThawSimulation, ThawSimulationQuery};

const EXPLAINS: &str =
    "A model explains, the standard decides: no time here makes food safe or done.";
const CARRY_OVER: &str = "Carry-over never counts toward a minimum temperature: measure every place before the rest is over.";

/// [`simulate_roast`](super::simulate_roast) beside the table and the minimum temperature of the standard.
///
/// # Errors
/// Those of the simulation, and an unknown standard.
///
/// ```
/// use poulter::heat::{RoastSimulationQuery, answers};
/// use poulter::rules::Rulebook;
/// let query: RoastSimulationQuery = serde_json::from_str(
///     r#"{"mass": "13 lb", "start": "40 °F", "target": "160 °F", "oven": [{"temperature": "325 °F"}]}"#,
/// )?;
/// let answer = answers::simulate_roast(Rulebook::builtin(), &query)?;
/// assert!(answer.cautions.iter().any(|text| text.contains("not done at 160 °F")));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn simulate_roast(
    book: &Rulebook,
    query: &RoastSimulationQuery,
) -> Result<Answer<RoastSimulation>, Error> {
    let mut basis = roast_basis(book, query)?;
    beside_the_table(&mut basis, query);
    beside_the_minimum(&mut basis, query);
    let simulation = super::simulate_roast(query)?;
    if is_frozen(query) {
        beside_the_frozen_rule(&mut basis, query, simulation.frozen_minimum_used);
    }
    Ok(basis.finish(simulation))
}

/// [`simulate_rest`](super::simulate_rest) beside the minimum temperature and the rest of the standard.
///
/// # Errors
/// Those of the simulation, and an unknown standard.
pub fn simulate_rest(
    book: &Rulebook,
    query: &RestSimulationQuery,
) -> Result<Answer<RestSimulation>, Error> {
    let mut basis = roast_basis(book, &query.roast).map_err(|error| error.at("roast"))?;
    basis.caution(CARRY_OVER);
    beside_the_minimum(&mut basis, &query.roast);
    basis.find(Topic::ServeRest);
    Ok(basis.finish(super::simulate_rest(query)?))
}

/// [`pull_from_oven`](super::pull_from_oven) with the minimum of the standard: its own for the bird, and where stuffing is
/// in it the one for stuffing if that is higher.
///
/// # Errors
/// Those of the simulation, and an unknown standard; `rule-unknown` where the standard has no minimum for the bird.
///
/// ```
/// use poulter::heat::{RestSimulationQuery, answers};
/// use poulter::rules::Rulebook;
/// let query: RestSimulationQuery = serde_json::from_str(
///     r#"{"roast": {"mass": "12 lb", "start": "40 °F", "target": "160 °F", "oven": [{"temperature": "325 °F"}]},
///         "room": "72 °F", "duration": "30 min"}"#,
/// )?;
/// let pull = answers::pull_from_oven(Rulebook::builtin(), &query)?.answer;
/// assert_eq!(pull.reading.to_string(), "165 °F");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn pull_from_oven(book: &Rulebook, query: &RestSimulationQuery) -> Result<Answer<Pull>, Error> {
    let mut basis = roast_basis(book, &query.roast).map_err(|error| error.at("roast"))?;
    basis.caution(CARRY_OVER);
    let stuffing = query.roast.stuffed.then_some(Topic::DonenessStuffing);
    let topics = [Some(doneness_topic(query.roast.cut)), stuffing];
    let mut minimum: Option<Temperature> = None;
    for topic in topics.into_iter().flatten() {
        if let Some(rule) = basis.find(topic)
            && let Requirement::MinimumTemperature { limit, hold, .. } = &rule.requirement
        {
            minimum = minimum.max(Some(limit.temperature));
            if let Some(hold) = hold {
                basis.caution(format!(
                    "{} asks for {} held {}: leave it in until then.",
                    rule.id,
                    limit.shown(),
                    hold.shown()
                ));
            }
        }
    }
    let minimum = minimum.ok_or_else(|| {
        Error::new(
            ErrorKind::RuleUnknown,
            &query.roast.standard,
            "a standard with a minimum temperature for the bird is needed",
        )
        .at("standard")
        .at("roast")
    })?;
    Ok(basis.finish(super::pull_from_oven(query, minimum)?))
}

fn doneness_topic(cut: RoastCut) -> Topic {
    match cut {
        RoastCut::Whole => Topic::DonenessBird,
        RoastCut::BoneInBreast => Topic::DonenessParts,
    }
}

/// The [`Probe`]'s state after the readings in the query: verdict, kill and forecast beside the minimum of the standard.
///
/// # Errors
/// Those of the forecast, and an unknown standard.
///
/// ```
/// use poulter::heat::{ForecastQuery, answers};
/// use poulter::rules::Rulebook;
/// let query: ForecastQuery = serde_json::from_str(
///     r#"{"roast": {"mass": "12 lb", "start": "40 °F", "target": "165 °F", "oven": [{"temperature": "325 °F"}]},
///         "members": 200,
///         "probes": [{"place": "breast", "readings": [
///             {"elapsed": "60 min", "temperature": "66 °F"}, {"elapsed": "90 min", "temperature": "98 °F"}]}]}"#,
/// )?;
/// let answer = answers::forecast(Rulebook::builtin(), &query)?;
/// assert_eq!(answer.answer.forecast.seen.as_hours(), 1.5);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn forecast(book: &Rulebook, query: &ForecastQuery) -> Result<Answer<ProbeState>, Error> {
    book.standard(&query.roast.standard)
        .map_err(|error| error.at("roast"))?;
    Probe::new(query)?.state(book)
}

/// The basis of a forecast.
pub(super) fn forecast_basis<'b>(
    book: &'b Rulebook,
    roast: &'b RoastSimulationQuery,
) -> Result<Basis<'b>, Error> {
    let mut basis = roast_basis(book, roast).map_err(|error| error.at("roast"))?;
    basis.caution(
        "The forecast is for the places with a probe; every place that the standard names must be measured.",
    );
    Ok(basis)
}

/// [`simulate_thaw`](super::simulate_thaw) beside the time and the temperature limit of the standard.
///
/// # Errors
/// Those of the simulation, and an unknown standard.
pub fn simulate_thaw(
    book: &Rulebook,
    query: &ThawSimulationQuery,
) -> Result<Answer<ThawSimulation>, Error> {
    let simulation = super::simulate_thaw(query)?;
    let mut basis = Basis::new(
        book,
        case(
            &query.standard,
            query.species,
            Cut::Whole,
            Some(State::Frozen),
        ),
    )?;
    basis.caution(EXPLAINS);
    let (time, limit, temperature) = match query.surroundings {
        Surroundings::Water { temperature, .. } => (
            Topic::ThawColdWater,
            Topic::ThawWaterTemperature,
            Some(temperature),
        ),
        Surroundings::Refrigerator { temperature, .. } => (
            Topic::ThawRefrigerator,
            Topic::StorageRefrigerator,
            Some(temperature),
        ),
        _ => (Topic::ThawForbidden, Topic::ThawForbidden, None),
    };
    if let Some(rule) = basis.find(time) {
        basis.caution(match rule.requirement.time_for(query.mass) {
            Some(time) => format!(
                "The rule {} gives {} for this mass; plan with the longer of the two.",
                rule.id,
                time.shown()
            ),
            None => format!(
                "The rule {} prints no time for this mass; only the model speaks.",
                rule.id
            ),
        });
    }
    if let Some(temperature) = temperature {
        warn_above(&mut basis, limit, temperature);
    }
    Ok(basis.finish(simulation))
}

/// [`simulate_cooling`](super::simulate_cooling) beside the cooling rule of the standard.
///
/// # Errors
/// Those of the simulation, and an unknown standard.
pub fn simulate_cooling(
    book: &Rulebook,
    query: &CoolingSimulationQuery,
) -> Result<Answer<CoolingSimulation>, Error> {
    let simulation = super::simulate_cooling(query)?;
    let (species, cut) = match query.food {
        CoolingFood::Whole { species, .. } => (species, Cut::Whole),
        CoolingFood::Carved { species, .. } => (species, Cut::Parts),
        CoolingFood::Liquid { .. } => (Species::Turkey, Cut::Parts),
    };
    let mut basis = Basis::new(book, case(&query.standard, species, cut, None))?;
    basis.caution(EXPLAINS);
    basis.caution("Measure while food cools: only measured temperatures meet a cooling rule.");
    let mut topics = vec![Topic::CoolStages, Topic::CoolStart];
    if matches!(query.food, CoolingFood::Whole { .. }) {
        topics.push(Topic::CoolWhole);
    }
    for topic in topics {
        if let Some(text) = basis.find(topic).and_then(crate::rules::Rule::said) {
            basis.caution(text);
        }
    }
    Ok(basis.finish(simulation))
}

fn case(standard: &str, species: Species, cut: Cut, state: Option<State>) -> Case<'_> {
    Case {
        standard,
        species,
        cut,
        state,
        process: None,
        on: None,
    }
}

fn roast_basis<'b>(
    book: &'b Rulebook,
    query: &'b RoastSimulationQuery,
) -> Result<Basis<'b>, Error> {
    let cut = match query.cut {
        RoastCut::Whole => Cut::Whole,
        RoastCut::BoneInBreast => Cut::Breast,
    };
    let mut basis = Basis::new(book, case(&query.standard, query.species, cut, None))?;
    basis.caution(EXPLAINS);
    Ok(basis)
}

/// Names the printed time for a steady oven and a thawed bird.
fn beside_the_table(basis: &mut Basis<'_>, query: &RoastSimulationQuery) {
    let topic = if query.stuffed {
        Topic::RoastTimeStuffed
    } else {
        Topic::RoastTimeUnstuffed
    };
    let Some(rule) = basis.find(topic) else {
        basis.caution("No printed table covers this bird; only the model speaks.");
        return;
    };
    let setting = match &rule.requirement {
        Requirement::TimeByMass {
            setting: Some(setting),
            ..
        } => format!(" in an oven at {setting}"),
        _ => String::new(),
    };
    basis.caution(match rule.requirement.time_for(query.mass) {
        Some(time) => format!(
            "The table {} gives {} for a thawed bird of this mass{setting}; plan with the longer of the two.",
            rule.id,
            time.shown()
        ),
        None => format!("The table {} has no row for this mass; only the model speaks.", rule.id),
    });
}

/// Names the rule for a bird roasted from frozen, and where it has lengthened the time.
fn beside_the_frozen_rule(basis: &mut Basis<'_>, query: &RoastSimulationQuery, used: bool) {
    let thawed = basis
        .find(Topic::RoastTimeUnstuffed)
        .and_then(|rule| rule.requirement.time_for(query.mass));
    if let Some(rule) = basis.find(Topic::ThawFromFrozen)
        && let Some((above, below)) = rule.requirement.at_least_times()
    {
        let least = thawed.map_or_else(String::new, |time| {
            format!(", {}", time.times_ratio(above, below).shown())
        });
        basis.caution(format!(
            "From frozen {} asks for at least {} times the thawed time{least}; plan with the longer of the two.",
            rule.id,
            above as f64 / below as f64
        ));
    }
    if used {
        basis.caution(
            "The model alone is known to be short from frozen and gave less than one and a half times its thawed time; \
             that is the time shown. The times of the places are the model's own.",
        );
    }
}

/// Warns of a target that would not be done by the standard.
pub(super) fn beside_the_minimum(basis: &mut Basis<'_>, query: &RoastSimulationQuery) {
    if let Some(rule) = basis.find(doneness_topic(query.cut))
        && let Requirement::MinimumTemperature { limit, .. } = &rule.requirement
        && limit.judge(query.target).0 != Verdict::Meets
    {
        basis.caution(format!(
            "The bird is not done at {}: {} asks for {} in every place it names.",
            query.target,
            rule.id,
            limit.shown()
        ));
    }
}

/// Warns of surroundings that the standard finds too warm.
fn warn_above(basis: &mut Basis<'_>, topic: Topic, temperature: Temperature) {
    if let Some(rule) = basis.find(topic)
        && let Requirement::Temperature { limit } = &rule.requirement
        && limit.judge(temperature).0 != Verdict::Meets
    {
        basis.caution(format!(
            "{temperature} is too warm to thaw in: {} asks for {}.",
            rule.id,
            limit.shown()
        ));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cautions(kind: &str, fields: serde_json::Value) -> Vec<String> {
        let mut request = fields;
        request["kind"] = kind.into();
        let answer = crate::evaluate_json(&request.to_string()).unwrap();
        let answer: serde_json::Value = serde_json::from_str(&answer).unwrap();
        serde_json::from_value(answer["cautions"].clone()).unwrap()
    }

    /// USDA minimum, 165 °F (FSIS); °C to the nearest thousandth on both sides of 73.889.
    #[test]
    fn a_target_is_set_beside_the_minimum_under_at_and_over() {
        for (target, warned) in [
            ("164.999 °F", true),
            ("165 °F", false),
            ("165.001 °F", false),
            ("73.888 °C", true),
            ("73.889 °C", false),
            ("73.89 °C", false),
        ] {
            let texts = cautions(
                "simulate_roast",
                serde_json::json!({"mass": "8 lb", "start": "40 °F", "target": target,
                    "oven": [{"temperature": "325 °F"}]}),
            );
            let found = texts.iter().any(|text| text.contains("not done at"));
            assert_eq!(found, warned, "{target}: {texts:?}");
        }
    }

    /// FSIS, Let's Talk Turkey: from frozen at least 50 % longer; 3 to 3¾ h for 12 lb thawed are 4½ h to 5 h 37½ min. The
    /// model melts below −2.8 °C (ASHRAE).
    #[test]
    fn a_frozen_start_is_set_beside_its_rule_under_at_and_over() {
        for (start, warned) in [
            ("-2.801 °C", true),
            ("-2.8 °C", false),
            ("-2.799 °C", false),
            ("0 °F", true),
        ] {
            let texts = cautions(
                "simulate_roast",
                serde_json::json!({"mass": "12 lb", "start": start, "target": "165 °F",
                    "oven": [{"temperature": "325 °F"}]}),
            );
            let rule = "us-consumer.thaw.from-frozen asks for at least 1.5 times the thawed time, 4 h 30 min to 5 h 38 min";
            let found = texts.iter().any(|text| text.contains(rule));
            assert_eq!(found, warned, "{start}: {texts:?}");
            let lengthened = texts.iter().any(|text| text.contains("The model alone"));
            assert_eq!(lengthened, warned, "{start}: {texts:?}");
        }
    }

    /// FSIS: a refrigerator at 40 °F or below.
    #[test]
    fn a_refrigerator_is_set_beside_its_limit_under_at_and_over() {
        for (temperature, warned) in [("39.9 °F", false), ("40 °F", false), ("40.1 °F", true)] {
            let texts = cautions(
                "simulate_thaw",
                serde_json::json!({"mass": "4 lb", "start": "0 °F",
                    "surroundings": {"kind": "refrigerator", "temperature": temperature}}),
            );
            let found = texts.iter().any(|text| text.contains("too warm"));
            assert_eq!(found, warned, "{temperature}: {texts:?}");
        }
    }

    /// FSIS 165 °F, also for stuffing; FSA 70 °C held for 2 minutes. No wish brings the reading below, and a higher one is
    /// met from below by the likely rise.
    #[test]
    fn a_roast_is_pulled_no_earlier_than_the_minimum() {
        let pull = |standard: &str, target: &str, stuffed: bool| {
            let request = serde_json::json!({"kind": "pull_from_oven", "room": "22 °C", "duration": "30 min",
                "roast": {"mass": "12 lb", "start": "4 °C", "target": target, "standard": standard,
                    "stuffed": stuffed, "oven": [{"temperature": "325 °F"}]}});
            let answer = crate::evaluate_json(&request.to_string()).unwrap();
            let answer: serde_json::Value = serde_json::from_str(&answer).unwrap();
            let reading = &answer["answer"]["reading"];
            let text = format!("{} {}", reading["value"], reading["unit"].as_str().unwrap());
            let cautions = answer["cautions"].to_string();
            (Temperature::parse(&text).unwrap(), cautions)
        };
        let least = Temperature::parse("165 °F").unwrap();
        for stuffed in [false, true] {
            for target in ["164.999 °F", "165 °F", "165.001 °F"] {
                assert_eq!(pull("us-consumer", target, stuffed).0, least, "{target}");
            }
            let later = pull("us-consumer", "180 °F", stuffed).0;
            assert!(least < later && later < Temperature::parse("180 °F").unwrap());
        }
        assert!(
            pull("us-consumer", "165 °F", false)
                .1
                .contains("Carry-over never")
        );
    }

    #[test]
    fn carry_over_is_said_not_to_count() {
        let texts = cautions(
            "simulate_rest",
            serde_json::json!({"roast": {"mass": "8 lb", "start": "40 °F", "target": "165 °F",
                "oven": [{"temperature": "325 °F"}]}, "room": "72 °F", "duration": "30 min"}),
        );
        assert!(texts.iter().any(|text| text == CARRY_OVER));
        assert!(texts.iter().any(|text| text == EXPLAINS));
    }
}
