//! The one door: a [`Request`] in, a [`Response`] out, and the same as JSON text.

use std::borrow::Cow;

use schemars::JsonSchema;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::answer::Answer;
use crate::error::{Error, ErrorKind};
use crate::reader;
use crate::rules::Rulebook;
use crate::schema::{description_of, with_house_rules};

/// Largest request that the door accepts, in bytes.
pub const LARGEST_REQUEST: usize = 1 << 20;

/// The JSON Schema of a [`Request`], draft 2020-12.
///
/// It is the text that is checked in: writing it afresh would take a function for every type.
pub const REQUEST_SCHEMA: &str = include_str!("../schema/request.json");

/// The JSON Schema of a [`Response`], draft 2020-12.
pub const RESPONSE_SCHEMA: &str = include_str!("../schema/response.json");

macro_rules! door {
    ($( $kind:literal $variant:ident ( $query:ty ) -> $value:ty = $call:path ; )+) => {
        /// A question for [`evaluate`]. On the wire it is one object with `kind` beside the question's own fields.
        #[expect(clippy::large_enum_variant, reason = "made once for each question and read at once")]
        #[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
        #[serde(tag = "kind")]
        #[schemars(transform = with_house_rules)]
        pub enum Request {
            $(
                #[doc = concat!("`", $kind, "`, see [`", stringify!($call), "`].")]
                #[serde(rename = $kind)]
                #[schemars(description = description_of::<$query>())]
                $variant($query),
            )+
        }

        /// An answer of [`evaluate`].
        #[derive(Clone, Debug, Serialize, JsonSchema)]
        #[serde(tag = "kind")]
        pub enum Response {
            $(
                #[doc = concat!("To `", $kind, "`.")]
                #[serde(rename = $kind)]
                #[schemars(description = description_of::<$value>())]
                $variant(Answer<$value>),
            )+
        }

        /// The kinds of question, as named on the wire.
        pub const KINDS: &[&str] = &[$($kind),+];

        /// Answers a question from the given rulebook.
        ///
        /// Errors: whatever the question's own function refuses.
        pub fn evaluate_with(book: &Rulebook, request: &Request) -> Result<Response, Error> {
            match request {
                $( Request::$variant(query) => $call(book, query).map(Response::$variant), )+
            }
        }

        impl Request {
            /// Reads a request from a JSON object; an unknown field is refused with its path.
            pub fn from_value(value: Value) -> Result<Self, Error> {
                let (kind, fields) = split_kind(value)?;
                match kind.as_str() {
                    $( $kind => read(fields).map(Self::$variant), )+
                    _ => Err(Error::new(ErrorKind::UnknownValue, kind, format!("one of {} is needed", KINDS.join(", ")))
                        .at("kind")),
                }
            }
        }
    };
}

door! {
    "rules" Rules(crate::rules::RulesQuery) -> crate::rules::RuleList = crate::rules::list;
    "compare" Compare(crate::compare::CompareQuery) -> crate::compare::SideBySide = crate::compare::compare;
    "strictest_cooking" StrictestCooking(crate::compare::Strictest<crate::doneness::CookingCheck>)
        -> crate::compare::StrictestVerdict = crate::compare::strictest_cooking;
    "strictest_cooling" StrictestCooling(crate::compare::Strictest<crate::leftovers::CoolingCheck>)
        -> crate::compare::StrictestVerdict = crate::compare::strictest_cooling;
    "strictest_holding" StrictestHolding(crate::compare::Strictest<crate::serve::HoldingCheck>)
        -> crate::compare::StrictestVerdict = crate::compare::strictest_holding;
    "altitude" Altitude(crate::altitude::AltitudeQuery) -> crate::altitude::Altitude = crate::altitude::altitude;
    "storage" Storage(crate::storage::StorageQuery) -> crate::storage::Storage = crate::storage::storage;
    "space" Space(crate::storage::SpaceQuery) -> crate::storage::Space = crate::storage::space;
    "purchase" Purchase(crate::purchase::PurchaseQuery) -> crate::purchase::Purchase = crate::purchase::purchase;
    "plan" Plan(crate::plan::Order) -> crate::plan::Plan = crate::plan::plan;
    "thaw_time" ThawTime(crate::thaw::ThawQuery) -> crate::thaw::ThawTime = crate::thaw::thaw_time;
    "check_thawing" CheckThawing(crate::thaw::ThawingCheck) -> crate::thaw::ThawingVerdict
        = crate::thaw::check_thawing;
    "roast_time" RoastTime(crate::roast::RoastQuery) -> crate::roast::RoastTime = crate::roast::roast_time;
    "cook_time" CookTime(crate::roast::CookQuery) -> crate::roast::CookTime = crate::roast::cook_time;
    "brine" Brine(crate::brine::BrineQuery) -> crate::brine::Brine = crate::brine::brine;
    "oven_energy" OvenEnergy(crate::roast::OvenEnergyQuery) -> crate::roast::OvenEnergy
        = crate::roast::oven_energy;
    "check_cooking" CheckCooking(crate::doneness::CookingCheck) -> crate::doneness::CookingVerdict
        = crate::doneness::check_cooking;
    "prepare" Prepare(crate::prepare::PrepareQuery) -> crate::prepare::Prepare = crate::prepare::prepare;
    "allergens" Allergens(crate::prepare::AllergenQuery) -> crate::prepare::Allergens
        = crate::prepare::allergens;
    "rest_and_carve" RestAndCarve(crate::serve::ServeQuery) -> crate::serve::RestAndCarve
        = crate::serve::rest_and_carve;
    "gravy" Gravy(crate::gravy::GravyQuery) -> crate::gravy::Gravy = crate::gravy::gravy;
    "stock" Stock(crate::stock::StockQuery) -> crate::stock::Stock = crate::stock::stock;
    "leftovers" Leftovers(crate::leftovers::LeftoversQuery) -> crate::leftovers::Leftovers
        = crate::leftovers::leftovers;
    "check_cooling" CheckCooling(crate::leftovers::CoolingCheck) -> crate::leftovers::CoolingVerdict
        = crate::leftovers::check_cooling;
    "simulate_thaw" SimulateThaw(crate::heat::ThawSimulationQuery) -> crate::heat::ThawSimulation
        = crate::heat::answers::simulate_thaw;
    "simulate_roast" SimulateRoast(crate::heat::RoastSimulationQuery) -> crate::heat::RoastSimulation
        = crate::heat::answers::simulate_roast;
    "simulate_rest" SimulateRest(crate::heat::RestSimulationQuery) -> crate::heat::RestSimulation
        = crate::heat::answers::simulate_rest;
    "pull_from_oven" PullFromOven(crate::heat::RestSimulationQuery) -> crate::heat::Pull
        = crate::heat::answers::pull_from_oven;
    "simulate_cooling" SimulateCooling(crate::heat::CoolingSimulationQuery) -> crate::heat::CoolingSimulation
        = crate::heat::answers::simulate_cooling;
    "forecast" Forecast(crate::heat::ForecastQuery) -> crate::heat::ProbeState
        = crate::heat::answers::forecast;
    "check_holding" CheckHolding(crate::serve::HoldingCheck) -> crate::serve::HoldingVerdict
        = crate::serve::check_holding;
    "check_time_out" CheckTimeOut(crate::serve::TimeOutCheck) -> crate::serve::TimeOutVerdict
        = crate::serve::check_time_out;
    "check_time_control" CheckTimeControl(crate::serve::TimeControlCheck) -> crate::serve::TimeControlVerdict
        = crate::serve::check_time_control;
    "check_reheating" CheckReheating(crate::leftovers::ReheatingCheck) -> crate::leftovers::ReheatingVerdict
        = crate::leftovers::check_reheating;
    "date_mark" DateMark(crate::storage::DateMarkQuery) -> crate::storage::DateMark = crate::storage::date_mark;
    "power_failure" PowerFailure(crate::storage::PowerFailureQuery) -> crate::storage::PowerFailure
        = crate::storage::power_failure;
    "label_state" LabelState(crate::storage::LabelQuery) -> crate::storage::LabelState
        = crate::storage::label_state;
    "check_cooking_log" CheckCookingLog(crate::records::CookingLogCheck) -> crate::records::RecordVerdict
        = crate::records::check_cooking_log;
    "check_cooling_log" CheckCoolingLog(crate::records::CoolingLogCheck) -> crate::records::RecordVerdict
        = crate::records::check_cooling_log;
    "check_holding_log" CheckHoldingLog(crate::records::HoldingLogCheck) -> crate::records::RecordVerdict
        = crate::records::check_holding_log;
    "check_reheating_log" CheckReheatingLog(crate::records::ReheatingLogCheck) -> crate::records::RecordVerdict
        = crate::records::check_reheating_log;
    "check_thawing_log" CheckThawingLog(crate::records::ThawingLogCheck) -> crate::records::RecordVerdict
        = crate::records::check_thawing_log;
    "lethality" Lethality(crate::records::LethalityQuery) -> crate::records::KillEstimate
        = crate::records::lethality_of_log;
    "growth" Growth(crate::records::GrowthQuery) -> crate::records::GrowthEstimate
        = crate::records::growth_of_log;
}

impl Request {
    /// The log of a question about a log, to be replaced or filled; nothing for every other question.
    ///
    /// ```
    /// let request = serde_json::json!({"kind": "check_cooling_log", "log": {"csv": ""}});
    /// let mut request = poulter::Request::from_value(request)?;
    /// assert!(request.log_mut().is_some_and(|log| log.csv.take().is_some()));
    /// # Ok::<(), poulter::Error>(())
    /// ```
    pub const fn log_mut(&mut self) -> Option<&mut crate::records::GivenLog> {
        match self {
            Self::CheckCookingLog(check) => Some(&mut check.log),
            Self::CheckCoolingLog(check) => Some(&mut check.log),
            Self::CheckHoldingLog(check) => Some(&mut check.log),
            Self::CheckReheatingLog(check) => Some(&mut check.log),
            Self::CheckThawingLog(check) => Some(&mut check.log),
            Self::Lethality(query) => Some(&mut query.log),
            Self::Growth(query) => Some(&mut query.log),
            _ => None,
        }
    }
}

/// Answers a question from the rules that come with the library.
///
/// The same request gives the same response, byte for byte, in every language and on every machine.
///
/// ```
/// use poulter::{Request, evaluate};
/// let request = serde_json::json!({"kind": "thaw_time", "mass": "12 lb", "method": "cold-water"});
/// let response = evaluate(&Request::from_value(request)?)?;
/// assert!(serde_json::to_string(&response)?.contains("us-consumer.thaw.cold-water"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn evaluate(request: &Request) -> Result<Response, Error> {
    evaluate_with(Rulebook::builtin(), request)
}

/// [`evaluate`] with JSON text on both sides.
///
/// Errors: text that is too large or not JSON, a field that does not fit, and whatever the question refuses.
///
/// ```
/// let error = poulter::evaluate_json(r#"{"kind": "thaw_time", "mass": "400", "method": "cold-water"}"#).unwrap_err();
/// assert_eq!((error.code(), error.field()), (201, "mass"));
/// ```
pub fn evaluate_json(text: &str) -> Result<String, Error> {
    evaluate_json_with(Rulebook::builtin(), text)
}

/// [`evaluate_json`] from the given rulebook; `house_rules` in the text come beside its own.
///
/// ```
/// use poulter::rules::Rulebook;
/// let text = r#"{"kind": "thaw_time", "mass": "12 lb", "method": "cold-water"}"#;
/// assert_eq!(poulter::evaluate_json_with(Rulebook::builtin(), text), poulter::evaluate_json(text));
/// ```
pub fn evaluate_json_with(book: &Rulebook, text: &str) -> Result<String, Error> {
    if text.len() > LARGEST_REQUEST {
        let given = format!("{} bytes", text.len());
        return Err(Error::new(
            ErrorKind::TooLarge,
            given,
            format!("at most {LARGEST_REQUEST} bytes are read"),
        ));
    }
    let value: Value = serde_json::from_str(text).map_err(|error| {
        Error::new(
            ErrorKind::Malformed,
            text,
            format!("JSON is needed: {error}"),
        )
    })?;
    evaluate_value_with(book, value)?.to_json()
}

impl Response {
    /// The answer as JSON text: the bytes that [`evaluate_json`] gives.
    pub fn to_json(&self) -> Result<String, Error> {
        serde_json::to_string(self)
            .map_err(|error| Error::new(ErrorKind::Internal, "", error.to_string()))
    }
}

/// [`evaluate`] of a JSON object, which may carry `house_rules` beside the fields of its kind.
///
/// `house_rules` is TOML text in the schema of the rule files. The rules in it are marked as the caller's in every
/// citation; a looser one than the standard's is told as a caution and never decides.
///
/// ```
/// let house = r#"
/// [[rule]]
/// id = "us-consumer.hold.hot.house"
/// topic = "hold.hot"
/// title = "Hot cabinet of this kitchen"
/// kind = "requirement"
/// status = "common-practice"
/// last_checked = "2026-11-25"
/// requirement = { type = "temperature", limit = { is = ">=", temperature = "150 °F" } }
/// "#;
/// let request = serde_json::json!({"kind": "check_holding", "side": "hot", "temperatures": ["145 °F"],
///     "house_rules": house});
/// let answer = serde_json::to_value(poulter::evaluate_value(request)?).expect("an answer is JSON");
/// assert_eq!(answer["answer"]["verdict"], "fails");
/// assert_eq!(answer["citations"][0]["added_by_caller"], true);
/// # Ok::<(), poulter::Error>(())
/// ```
pub fn evaluate_value(value: Value) -> Result<Response, Error> {
    evaluate_value_with(Rulebook::builtin(), value)
}

fn evaluate_value_with(book: &Rulebook, mut value: Value) -> Result<Response, Error> {
    let book = take_house_rules(book, &mut value)?;
    evaluate_with(&book, &Request::from_value(value)?)
}

/// Takes `house_rules` out of a question's object, and gives the book with them.
///
/// For a caller that reads the question itself, such as one that fills in the columns of a log.
///
/// Errors: `house_rules` that are no text, or that cannot be read as rules.
///
/// ```
/// use poulter::{Request, rules::Rulebook, take_house_rules};
/// let mut question = serde_json::json!({"kind": "gravy", "guests": 12, "house_rules": null});
/// let book = take_house_rules(Rulebook::builtin(), &mut question)?;
/// assert!(poulter::evaluate_with(&book, &Request::from_value(question)?).is_ok());
/// # Ok::<(), poulter::Error>(())
/// ```
pub fn take_house_rules<'b>(
    book: &'b Rulebook,
    question: &mut Value,
) -> Result<Cow<'b, Rulebook>, Error> {
    match question
        .as_object_mut()
        .and_then(|fields| fields.remove("house_rules"))
    {
        None | Some(Value::Null) => Ok(Cow::Borrowed(book)),
        Some(Value::String(toml)) => book
            .with_rules(&toml)
            .map(Cow::Owned)
            .map_err(|error| error.at("house_rules")),
        Some(other) => {
            let expected = "rules as TOML text are needed";
            Err(Error::new(ErrorKind::WrongType, other, expected).at("house_rules"))
        }
    }
}

fn split_kind(value: Value) -> Result<(String, Map<String, Value>), Error> {
    let Value::Object(mut fields) = value else {
        return Err(Error::new(
            ErrorKind::WrongType,
            value,
            "a JSON object is needed",
        ));
    };
    match fields.remove("kind") {
        Some(Value::String(kind)) => Ok((kind, fields)),
        Some(other) => {
            Err(Error::new(ErrorKind::WrongType, other, "the kind as text is needed").at("kind"))
        }
        None => Err(Error::new(
            ErrorKind::MissingField,
            "",
            format!("one of {} is needed", KINDS.join(", ")),
        )
        .at("kind")),
    }
}

/// Reads one question's fields and says where they do not fit.
pub(crate) fn read<T: DeserializeOwned>(fields: Map<String, Value>) -> Result<T, Error> {
    reader::read(&Value::Object(fields))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_misfit_names_its_field() {
        for (text, kind, field) in [
            ("[]", ErrorKind::WrongType, ""),
            ("{", ErrorKind::Malformed, ""),
            (r#"{"kind": "x"}"#, ErrorKind::UnknownValue, "kind"),
            (
                r#"{"kind": "thaw_time", "method": "cold-water"}"#,
                ErrorKind::MissingField,
                "mass",
            ),
            (
                r#"{"kind": "thaw_time", "mass": "9 lb", "method": "sun"}"#,
                ErrorKind::UnknownValue,
                "method",
            ),
            (
                r#"{"kind": "thaw_time", "mass": "9 lb", "method": "cold-water", "colour": 1}"#,
                ErrorKind::UnknownField,
                "colour",
            ),
            (
                r#"{"kind": "thaw_time", "mass": {"value": 9, "unit": "stone"}, "method": "cold-water"}"#,
                ErrorKind::UnitUnknown,
                "mass",
            ),
            (
                r#"{"kind": "thaw_time", "mass": "9 lb", "method": "refrigerator", "standard": 4}"#,
                ErrorKind::WrongType,
                "standard",
            ),
            (
                r#"{"kind": "thaw_time", "mass": "9 lb", "method": "refrigerator", "standard": "mars"}"#,
                ErrorKind::RuleUnknown,
                "standard",
            ),
            (
                r#"{"kind": "thaw_time", "mass": "60 lb", "method": "refrigerator"}"#,
                ErrorKind::NoPublishedRow,
                "mass",
            ),
            (
                r#"{"kind": "check_cooking", "readings": {"breast": "NaN °F"}}"#,
                ErrorKind::OutOfRange,
                "readings.breast",
            ),
        ] {
            let error = evaluate_json(text).unwrap_err();
            assert_eq!(
                (error.kind(), error.field()),
                (kind, field),
                "{text}: {error}"
            );
        }
    }

    #[test]
    fn a_value_of_another_type_is_refused_without_a_type_of_this_language() {
        for (fields, expected) in [
            (r#""adults": -1"#, "a whole number of 0 or more is needed"),
            (
                r#""adults": "ten""#,
                "a whole number of 0 or more is needed",
            ),
            (r#""adults": 3.5"#, "a whole number of 0 or more is needed"),
            (
                r#""adults": 3, "second_main": "yes""#,
                "true or false is needed",
            ),
            (r#""adults": 3, "standard": 4"#, "text is needed"),
        ] {
            let error = evaluate_json(&format!(r#"{{"kind": "purchase", {fields}}}"#)).unwrap_err();
            assert_eq!(error.kind(), ErrorKind::WrongType, "{fields}");
            assert_eq!(error.expected(), expected, "{fields}");
        }
        let lists = r#"{"kind": "check_cooking", "readings": [1]}"#;
        let error = evaluate_json(lists).unwrap_err();
        assert_eq!(error.expected(), "an object of named values is needed");
    }

    #[test]
    fn a_value_of_another_type_is_shown_as_it_was_given() {
        for (oven, told) in [
            (
                r#""325 degF""#,
                r#"oven: "325 degF" given, a list is needed"#,
            ),
            (
                r#"[{"temperature": "325 degF", "fan": 7}]"#,
                "oven[0].fan: 7 given, true or false is needed",
            ),
        ] {
            let text = format!(r#"{{"kind": "simulate_roast", "mass": "12 lb", "oven": {oven}}}"#);
            let error = evaluate_json(&text).unwrap_err();
            assert!(error.to_string().starts_with(told), "{error}");
        }
    }

    #[test]
    fn the_schema_of_every_kind_names_house_rules() {
        let schema = Value::from(schemars::schema_for!(Request));
        let kinds = schema["oneOf"].as_array().unwrap();
        assert_eq!(kinds.len(), KINDS.len());
        for kind in kinds {
            let pointer = "/properties/house_rules/type/0";
            assert_eq!(kind.pointer(pointer), Some(&Value::from("string")));
        }
    }

    #[test]
    fn junk_is_refused_by_size_under_at_and_over() {
        for (length, kind) in [
            (LARGEST_REQUEST - 1, ErrorKind::Malformed),
            (LARGEST_REQUEST, ErrorKind::Malformed),
            (LARGEST_REQUEST + 1, ErrorKind::TooLarge),
        ] {
            assert_eq!(
                evaluate_json(&"[".repeat(length)).unwrap_err().kind(),
                kind,
                "{length}"
            );
        }
    }
}
