//! Rows of Arrow columns, joined and picked by copying spans of them.
//!
//! The general kernels have code for every pair of types, half of a megabyte.

use std::sync::Arc;

use arrow_array::cast::AsArray;
use arrow_array::{Array, ArrayRef, LargeStringArray, make_array, new_empty_array};
use arrow_data::ArrayData;
use arrow_data::transform::MutableArrayData;
use arrow_schema::{ArrowError, DataType};

use crate::cast;

/// The pieces of a column as one; a dictionary in several pieces is spread, since each piece may have its own.
pub(crate) fn joined(pieces: &[ArrayRef], kind: &DataType) -> Result<ArrayRef, ArrowError> {
    match pieces {
        [] => return Ok(new_empty_array(kind)),
        [only] => return Ok(only.clone()),
        _ => {}
    }
    let pieces = pieces.iter().map(|piece| match piece.data_type() {
        DataType::Dictionary(..) => spread(piece),
        _ => Ok(piece.clone()),
    });
    let pieces = pieces.collect::<Result<Vec<_>, _>>()?;
    let data: Vec<_> = pieces.iter().map(Array::to_data).collect();
    let rows = data.iter().map(ArrayData::len).sum();
    let mut whole = MutableArrayData::new(data.iter().collect(), false, rows);
    for (at, piece) in data.iter().enumerate() {
        whole.try_extend(at, 0, piece.len())?;
    }
    Ok(make_array(whole.freeze()))
}

/// Some rows of a column; nothing in a row that is named by nothing.
pub(crate) fn picked(
    values: &dyn Array,
    rows: impl ExactSizeIterator<Item = Option<usize>>,
) -> Result<ArrayRef, ArrowError> {
    let data = values.to_data();
    let mut picked = MutableArrayData::new(vec![&data], true, rows.len());
    for row in rows {
        match row {
            Some(row) => picked.try_extend(0, row, row + 1)?,
            None => picked.try_extend_nulls(1)?,
        }
    }
    Ok(make_array(picked.freeze()))
}

/// The values that a dictionary stands for.
pub(crate) fn spread(values: &ArrayRef) -> Result<ArrayRef, ArrowError> {
    let dictionary = values.as_any_dictionary();
    let (words, keys) = (dictionary.values(), dictionary.keys());
    if words.is_empty() {
        return picked(words, (0..keys.len()).map(|_| None));
    }
    let named = dictionary.normalized_keys();
    let rows = named
        .into_iter()
        .enumerate()
        .map(|(row, key)| keys.is_valid(row).then_some(key));
    match words.data_type() {
        // Text is the usual case, and many rows of it.
        DataType::Utf8 | DataType::LargeUtf8 | DataType::Utf8View => {
            let words = cast::text(words)?;
            let word = |key: usize| words.is_valid(key).then(|| words.value(key));
            let spread: LargeStringArray = rows.map(|key| key.and_then(word)).collect();
            Ok(Arc::new(spread))
        }
        _ => picked(words, rows),
    }
}
