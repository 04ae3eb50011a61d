//! Python objects to a request.

use poulter::{Error, ErrorKind, LARGEST_REQUEST};
use pyo3::prelude::*;
use pyo3::types::{PyBool, PyDict, PyFloat, PyInt, PyList, PyString};
use serde_json::{Map, Number, Value};

use crate::refusal::refused;

/// How deep lists and dicts may nest: as deep as the reader of JSON text goes. Stops a list that holds itself.
const DEEPEST: usize = 128;

/// Reads a request; whatever JSON has no form for goes through `default` first.
pub(crate) fn read(
    request: &Bound<'_, PyAny>,
    default: Option<&Bound<'_, PyAny>>,
) -> PyResult<Value> {
    let mut reader = Reader {
        default,
        path: Vec::new(),
        room: LARGEST_REQUEST,
    };
    reader.value(request)
}

struct Reader<'a, 'py> {
    default: Option<&'a Bound<'py, PyAny>>,
    path: Vec<String>,
    room: usize,
}

impl<'py> Reader<'_, 'py> {
    fn value(&mut self, value: &Bound<'py, PyAny>) -> PyResult<Value> {
        // Every value costs at least a byte as text, so a request of dicts is bounded like one of text.
        self.spend(value, 1)?;
        if value.is_none() {
            return Ok(Value::Null);
        }
        if let Ok(text) = value.cast::<PyString>() {
            return self.text(text).map(Value::String);
        }
        if let Ok(flag) = value.cast::<PyBool>() {
            return Ok(Value::Bool(flag.is_true()));
        }
        if value.is_instance_of::<PyInt>() {
            return self.integer(value);
        }
        if let Ok(number) = value.cast::<PyFloat>() {
            return self.float(value, number.value());
        }
        if self.path.len() >= DEEPEST {
            return Err(self.refuse(
                value.py(),
                ErrorKind::TooLarge,
                "",
                "lists and dicts nested less deeply are needed",
            ));
        }
        if let Ok(dict) = value.cast::<PyDict>() {
            return self.dict(dict);
        }
        if let Ok(list) = value.cast::<PyList>() {
            return self.list(list);
        }
        self.other(value)
    }

    fn text(&mut self, text: &Bound<'py, PyString>) -> PyResult<String> {
        let read = utf8(text).map_err(|error| refused(text.py(), &error.at(&self.field())))?;
        self.spend(text, read.len())?;
        Ok(read.to_owned())
    }

    fn integer(&self, value: &Bound<'py, PyAny>) -> PyResult<Value> {
        value.extract::<i64>().map(Value::from).map_err(|_| {
            self.refuse(
                value.py(),
                ErrorKind::OutOfRange,
                "",
                "a whole number of 64 bits is needed",
            )
        })
    }

    fn float(&self, value: &Bound<'py, PyAny>, number: f64) -> PyResult<Value> {
        Number::from_f64(number).map(Value::Number).ok_or_else(|| {
            self.refuse(
                value.py(),
                ErrorKind::OutOfRange,
                &number.to_string(),
                "a finite number is needed",
            )
        })
    }

    fn dict(&mut self, dict: &Bound<'py, PyDict>) -> PyResult<Value> {
        let mut map = Map::new();
        for (key, value) in dict {
            let Ok(key) = key.cast::<PyString>() else {
                let given = type_name(&key);
                return Err(self.refuse(
                    dict.py(),
                    ErrorKind::WrongType,
                    &given,
                    "field names of type str are needed",
                ));
            };
            let key = self.text(key)?;
            self.path.push(key.clone());
            let value = self.value(&value)?;
            self.path.pop();
            map.insert(key, value);
        }
        Ok(Value::Object(map))
    }

    fn list(&mut self, list: &Bound<'py, PyList>) -> PyResult<Value> {
        let mut values = Vec::new();
        for (index, value) in list.iter().enumerate() {
            self.path.push(format!("[{index}]"));
            values.push(self.value(&value)?);
            self.path.pop();
        }
        Ok(Value::Array(values))
    }

    fn other(&mut self, value: &Bound<'py, PyAny>) -> PyResult<Value> {
        let Some(default) = self.default else {
            let given = type_name(value);
            let expected = "str, int, float, bool, None, list or dict is needed";
            return Err(self.refuse(value.py(), ErrorKind::WrongType, &given, expected));
        };
        let field = self.field();
        let plain = default.call1((value, &field))?;
        // The stand-in counts as one level deeper, so a `default` that hands back its input comes to an end.
        self.path.push(String::new());
        let read = self.value(&plain);
        self.path.pop();
        read
    }

    fn spend(&mut self, value: &Bound<'py, PyAny>, bytes: usize) -> PyResult<()> {
        if let Some(left) = self.room.checked_sub(bytes) {
            self.room = left;
            return Ok(());
        }
        let expected = format!("at most {LARGEST_REQUEST} bytes are read");
        Err(self.refuse(value.py(), ErrorKind::TooLarge, "", &expected))
    }

    fn field(&self) -> String {
        let named: Vec<_> = self.path.iter().filter(|part| !part.is_empty()).collect();
        named.iter().fold(String::new(), |mut path, part| {
            if !path.is_empty() && !part.starts_with('[') {
                path.push('.');
            }
            path.push_str(part);
            path
        })
    }

    fn refuse(&self, py: Python<'py>, kind: ErrorKind, given: &str, expected: &str) -> PyErr {
        refused(py, &Error::new(kind, given, expected).at(&self.field()))
    }
}

/// The text of a `str`; one with a lone surrogate has no UTF-8 form.
pub(crate) fn utf8<'a>(text: &'a Bound<'_, PyString>) -> Result<&'a str, Error> {
    text.to_str().map_err(|_| {
        let expected = "text without lone surrogates is needed";
        Error::new(ErrorKind::Malformed, text.to_string_lossy(), expected)
    })
}

fn type_name(value: &Bound<'_, PyAny>) -> String {
    value
        .get_type()
        .name()
        .map_or_else(|_| String::new(), |name| name.to_string())
}
