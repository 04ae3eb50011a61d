//! One question for many logs.

use std::borrow::Cow;

use serde_json::{Map, Value, json};

use crate::Request;
use crate::answer::Basis;
use crate::error::{Error, ErrorKind};
use crate::growth::GrowthModel;
use crate::lethality::Scheme;
use crate::reader;
use crate::records::{
    Given, Judge, judge_cooking, judge_cooling, judge_holding, judge_reheating, judge_thawing,
    usual_scheme,
};
use crate::rules::Rulebook;

/// A check of logs without its log.
#[derive(Clone, Debug)]
pub struct LogsQuestion {
    book: Cow<'static, Rulebook>,
    pub(super) check: Request,
    pub(super) scheme: Scheme,
    pub(super) model: GrowthModel,
}

const CHECKS: &str = "one of cooking, cooling, holding, reheating, thawing is needed";

impl LogsQuestion {
    /// Reads a question: `check` names it as `cooking`, `cooling`, `holding`, `reheating` or `thawing`, and beside
    /// it stand the fields of that check of [`crate::records`] without `log`.
    ///
    /// `scheme` names the scheme of the kill (that of the standard and species when left out), `model` that of the
    /// growth, and `house_rules` holds rules of the caller's own, as for [`crate::evaluate_value`].
    ///
    /// ```
    /// use poulter::batch::LogsQuestion;
    /// let error = LogsQuestion::from_value(serde_json::json!({"check": "frying"})).unwrap_err();
    /// assert_eq!((error.code(), error.field()), (105, "check"));
    /// ```
    ///
    /// # Errors
    ///
    /// A field that is missing, unknown or does not fit, an unknown standard, or house rules that cannot be read.
    pub fn from_value(value: Value) -> Result<Self, Error> {
        let Value::Object(mut fields) = value else {
            return Err(Error::new(
                ErrorKind::WrongType,
                value,
                "a JSON object is needed",
            ));
        };
        let check = match fields.remove("check") {
            Some(Value::String(check)) => check,
            Some(other) => return Err(Error::new(ErrorKind::WrongType, other, CHECKS).at("check")),
            None => return Err(Error::new(ErrorKind::MissingField, "", CHECKS).at("check")),
        };
        if !["cooking", "cooling", "holding", "reheating", "thawing"].contains(&check.as_str()) {
            return Err(Error::new(ErrorKind::UnknownValue, check, CHECKS).at("check"));
        }
        let book = match fields.remove("house_rules") {
            None | Some(Value::Null) => Cow::Borrowed(Rulebook::builtin()),
            Some(Value::String(toml)) => {
                let book = Rulebook::builtin().with_rules(&toml);
                Cow::Owned(book.map_err(|error| error.at("house_rules"))?)
            }
            Some(other) => {
                let expected = "rules as TOML text are needed";
                return Err(Error::new(ErrorKind::WrongType, other, expected).at("house_rules"));
            }
        };
        if fields.contains_key("log") {
            let expected = "no log beside a table of logs is needed";
            return Err(Error::new(ErrorKind::UnknownField, "log", expected));
        }
        let scheme: Option<Scheme> = part(&mut fields, "scheme")?;
        let model: Option<GrowthModel> = part(&mut fields, "model")?;
        fields.insert("log".to_owned(), json!({}));
        fields.insert("kind".to_owned(), json!(format!("check_{check}_log")));
        let check = Request::from_value(Value::Object(fields))?;
        let mut question = Self {
            book,
            check,
            scheme: Scheme::Poultry7Log,
            model: model.unwrap_or(GrowthModel::PerfringensRoastedChicken),
        };
        question.model.check().map_err(|error| error.at("model"))?;
        let (case, on) = {
            let given = question.given()?;
            (
                (given.case.standard.to_owned(), given.case.species),
                given.case,
            )
        };
        Basis::new(&question.book, on)?;
        question.scheme = scheme.unwrap_or_else(|| usual_scheme(&case.0, case.1));
        Ok(question)
    }

    /// [`LogsQuestion::from_value`] of JSON text.
    ///
    /// # Errors
    ///
    /// Text that is no JSON, and those of [`LogsQuestion::from_value`].
    pub fn from_json(text: &str) -> Result<Self, Error> {
        let value = serde_json::from_str(text).map_err(|error| {
            Error::new(
                ErrorKind::Malformed,
                text,
                format!("JSON is needed: {error}"),
            )
        })?;
        Self::from_value(value)
    }

    pub(super) fn given(&self) -> Result<Given<'_>, Error> {
        match &self.check {
            Request::CheckCookingLog(check) => check.given_without_log(),
            Request::CheckCoolingLog(check) => check.given_without_log(),
            Request::CheckHoldingLog(check) => check.given_without_log(),
            Request::CheckReheatingLog(check) => check.given_without_log(),
            Request::CheckThawingLog(check) => check.given_without_log(),
            _ => Err(Error::new(ErrorKind::Internal, "", CHECKS)),
        }
    }

    /// The check with its rules looked up.
    pub(super) fn looked_up(&self) -> Result<Judge<'_>, Error> {
        let book = &*self.book;
        let mut given = self.given()?;
        given.explains = false;
        match &self.check {
            Request::CheckCookingLog(check) => judge_cooking(book, check, &given).map(|(_, j)| j),
            Request::CheckCoolingLog(check) => judge_cooling(book, check, &given).map(|(_, j)| j),
            Request::CheckHoldingLog(check) => judge_holding(book, check, &given).map(|(_, j)| j),
            Request::CheckReheatingLog(check) => {
                judge_reheating(book, check, &given).map(|(_, j)| j)
            }
            Request::CheckThawingLog(check) => judge_thawing(book, check, &given).map(|(_, j)| j),
            _ => Err(Error::new(ErrorKind::Internal, "", CHECKS)),
        }
    }
}

/// A field that is read apart; a name alone stands for an object that holds it.
fn part<T: serde::de::DeserializeOwned>(
    fields: &mut Map<String, Value>,
    name: &str,
) -> Result<Option<T>, Error> {
    match fields.remove(name) {
        None | Some(Value::Null) => Ok(None),
        Some(Value::String(word)) => reader::read(&json!({ name: word })).map(Some),
        Some(other) => reader::read(&other)
            .map(Some)
            .map_err(|error| error.at(name)),
    }
}
