//! A plan as a sheet.

use poulter::{Error, ErrorKind, Request, Response};
use poulter_worksheet::{Format, render};

/// Plans an order and writes the sheet.
pub(crate) fn write(order: &str, form: &str) -> Result<String, Error> {
    let format = Format::from_name(form).ok_or_else(|| {
        let names = Format::ALL.map(Format::name).join(", ");
        Error::new(
            ErrorKind::UnknownValue,
            form,
            format!("one of {names} is needed"),
        )
        .at("form")
    })?;
    let mut order: serde_json::Value = serde_json::from_str(order).map_err(|error| {
        Error::new(
            ErrorKind::Malformed,
            order,
            format!("JSON is needed: {error}"),
        )
    })?;
    if let Some(fields) = order.as_object_mut() {
        fields.insert("kind".to_owned(), "plan".into());
    }
    match poulter::evaluate(&Request::from_value(order)?)? {
        Response::Plan(plan) => Ok(render(&plan, format)),
        _ => Err(Error::new(ErrorKind::Internal, "", "a plan is needed")),
    }
}
