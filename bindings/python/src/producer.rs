//! A table that any library reads through the Arrow C interface.

use arrow_array::ffi::{FFI_ArrowArray, FFI_ArrowSchema};
use arrow_array::{Array, RecordBatch, StructArray};
use arrow_schema::ArrowError;
use poulter::{Error, ErrorKind};
use pyo3::prelude::*;
use pyo3::types::PyCapsule;

use crate::refusal::refused;

/// A table of verdicts; `pyarrow.record_batch` or another reader of Arrow arrays takes it.
#[pyclass(frozen, name = "Verdicts", module = "poulter._core")]
pub(crate) struct PyVerdicts(StructArray);

impl From<RecordBatch> for PyVerdicts {
    fn from(table: RecordBatch) -> Self {
        Self(table.into())
    }
}

#[pymethods]
impl PyVerdicts {
    fn __len__(&self) -> usize {
        self.0.len()
    }

    fn __repr__(&self) -> String {
        format!("<Verdicts of {} logs>", self.0.len())
    }

    fn __arrow_c_schema__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyCapsule>> {
        let schema = FFI_ArrowSchema::try_from(self.0.data_type());
        let schema = schema.map_err(|error| failed(py, &error))?;
        PyCapsule::new_with_value(py, schema, c"arrow_schema")
    }

    /// The reader casts where it asked for another schema: the interface leaves that to it.
    #[pyo3(signature = (requested_schema = None))]
    fn __arrow_c_array__<'py>(
        &self,
        py: Python<'py>,
        requested_schema: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<(Bound<'py, PyCapsule>, Bound<'py, PyCapsule>)> {
        let _ = requested_schema;
        let array = FFI_ArrowArray::new(&self.0.to_data());
        let array = PyCapsule::new_with_value(py, array, c"arrow_array")?;
        Ok((self.__arrow_c_schema__(py)?, array))
    }
}

fn failed(py: Python<'_>, error: &ArrowError) -> PyErr {
    refused(py, &Error::new(ErrorKind::Internal, "", error.to_string()))
}
