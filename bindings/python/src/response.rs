//! A response to Python objects.

use std::fmt;

use poulter::{Error, ErrorKind};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList};
use serde::Serialize;
use serde::de::{DeserializeSeed, Deserializer, MapAccess, SeqAccess, Visitor};

/// The response as the JSON text of every language.
pub(crate) fn to_json<T: Serialize>(response: &T) -> Result<String, Error> {
    serde_json::to_string(response)
        .map_err(|error| Error::new(ErrorKind::Internal, "", error.to_string()))
}

/// JSON text as dicts and lists, with the order of the fields kept.
pub(crate) fn to_python<'py>(py: Python<'py>, text: &str) -> PyResult<Bound<'py, PyAny>> {
    Build(py)
        .deserialize(&mut serde_json::Deserializer::from_str(text))
        .map_err(|error| {
            let error = Error::new(ErrorKind::Internal, "", error.to_string());
            crate::refusal::refused(py, &error)
        })
}

#[derive(Clone, Copy)]
struct Build<'py>(Python<'py>);

impl<'de, 'py> DeserializeSeed<'de> for Build<'py> {
    type Value = Bound<'py, PyAny>;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Self::Value, D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'py> Build<'py> {
    fn object<T: IntoPyObject<'py>, E: serde::de::Error>(
        self,
        value: T,
    ) -> Result<Bound<'py, PyAny>, E> {
        value
            .into_bound_py_any(self.0)
            .map_err(|error| E::custom(error))
    }
}

impl<'de, 'py> Visitor<'de> for Build<'py> {
    type Value = Bound<'py, PyAny>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("JSON")
    }

    fn visit_unit<E: serde::de::Error>(self) -> Result<Self::Value, E> {
        Ok(self.0.None().into_bound(self.0))
    }

    fn visit_bool<E: serde::de::Error>(self, value: bool) -> Result<Self::Value, E> {
        self.object(value)
    }

    fn visit_i64<E: serde::de::Error>(self, value: i64) -> Result<Self::Value, E> {
        self.object(value)
    }

    fn visit_u64<E: serde::de::Error>(self, value: u64) -> Result<Self::Value, E> {
        self.object(value)
    }

    fn visit_f64<E: serde::de::Error>(self, value: f64) -> Result<Self::Value, E> {
        self.object(value)
    }

    fn visit_str<E: serde::de::Error>(self, value: &str) -> Result<Self::Value, E> {
        self.object(value)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Self::Value, A::Error> {
        let list = PyList::empty(self.0);
        while let Some(item) = items.next_element_seed(self)? {
            list.append(item).map_err(serde::de::Error::custom)?;
        }
        Ok(list.into_any())
    }

    fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<Self::Value, A::Error> {
        let dict = PyDict::new(self.0);
        while let Some(key) = fields.next_key::<String>()? {
            let value = fields.next_value_seed(self)?;
            dict.set_item(key, value)
                .map_err(serde::de::Error::custom)?;
        }
        Ok(dict.into_any())
    }
}
