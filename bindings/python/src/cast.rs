//! Arrow columns of any sort as the few that are read: float64, int64, text and lists.
//!
//! A general cast knows hundreds of pairs of types, which would be most of the wheel.

use arrow_array::cast::AsArray;
use arrow_array::types::{
    ArrowPrimitiveType, Decimal128Type, Float16Type, Float32Type, Float64Type, Int8Type, Int16Type,
    Int32Type, Int64Type, UInt8Type, UInt16Type, UInt32Type, UInt64Type,
};
use arrow_array::{
    Array, ArrayRef, Float64Array, Int64Array, LargeListArray, LargeStringArray, PrimitiveArray,
    make_array,
};
use arrow_buffer::OffsetBuffer;
use arrow_schema::{ArrowError, DataType};

use crate::rows::spread;

/// Numbers of any sort; whole numbers beyond 2⁵³ are rounded, and text that is no number is a missing one.
pub(crate) fn float64(values: &ArrayRef) -> Result<Float64Array, ArrowError> {
    fn each<T: ArrowPrimitiveType>(
        values: &ArrayRef,
        as_f64: fn(T::Native) -> f64,
    ) -> Float64Array {
        values.as_primitive::<T>().unary::<_, Float64Type>(as_f64)
    }
    Ok(match values.data_type() {
        DataType::Float64 => values.as_primitive::<Float64Type>().clone(),
        DataType::Float32 => each::<Float32Type>(values, f64::from),
        DataType::Float16 => each::<Float16Type>(values, f64::from),
        DataType::UInt64 => each::<UInt64Type>(values, |whole| whole as f64),
        DataType::Decimal128(_, scale) => {
            let tens = |places: i8| (0..places).fold(1.0, |ten, _| ten * 10.0);
            let (above, below) = (tens(scale.saturating_neg()), tens(*scale));
            let numbers = values.as_primitive::<Decimal128Type>();
            numbers.unary::<_, Float64Type>(|digits| digits as f64 * above / below)
        }
        DataType::Utf8 | DataType::LargeUtf8 | DataType::Utf8View => {
            let words = text(values)?;
            let read = |word: &str| word.trim().parse().ok();
            words.iter().map(|word| word.and_then(read)).collect()
        }
        DataType::Null => Float64Array::new_null(values.len()),
        DataType::Dictionary(..) => float64(&spread(values)?)?,
        kind if kind.is_integer() => int64(values)?.unary::<_, Float64Type>(|whole| whole as f64),
        other => return Err(unread(other)),
    })
}

/// Whole numbers of any sort, and the ticks of times and durations.
pub(crate) fn int64(values: &ArrayRef) -> Result<Int64Array, ArrowError> {
    fn each<T: ArrowPrimitiveType<Native: Into<i64>>>(values: &ArrayRef) -> Int64Array {
        values.as_primitive::<T>().unary::<_, Int64Type>(Into::into)
    }
    Ok(match values.data_type() {
        DataType::Int8 => each::<Int8Type>(values),
        DataType::Int16 => each::<Int16Type>(values),
        DataType::Int32 => each::<Int32Type>(values),
        DataType::Int64 => values.as_primitive::<Int64Type>().clone(),
        DataType::UInt8 => each::<UInt8Type>(values),
        DataType::UInt16 => each::<UInt16Type>(values),
        DataType::UInt32 => each::<UInt32Type>(values),
        DataType::UInt64 => {
            let whole: &PrimitiveArray<UInt64Type> = values.as_primitive();
            whole.try_unary(|whole| {
                i64::try_from(whole).map_err(|_| {
                    ArrowError::CastError(format!("{whole}, beyond 64 bits with a sign"))
                })
            })?
        }
        DataType::Date32 | DataType::Time32(_) => {
            each::<Int32Type>(&laid_out(values, DataType::Int32)?)
        }
        DataType::Date64
        | DataType::Time64(_)
        | DataType::Timestamp(..)
        | DataType::Duration(_) => laid_out(values, DataType::Int64)?
            .as_primitive::<Int64Type>()
            .clone(),
        DataType::Dictionary(..) => int64(&spread(values)?)?,
        other => return Err(unread(other)),
    })
}

/// Text of any sort; numbers and moments are told apart by their digits.
pub(crate) fn text(values: &ArrayRef) -> Result<LargeStringArray, ArrowError> {
    Ok(match values.data_type() {
        DataType::LargeUtf8 => values.as_string::<i64>().clone(),
        DataType::Utf8 => values.as_string::<i32>().iter().collect(),
        DataType::Utf8View => values.as_string_view().iter().collect(),
        DataType::Boolean => {
            let words = values.as_boolean().iter();
            words
                .map(|word| word.map(|word| word.to_string()))
                .collect()
        }
        DataType::Float16 | DataType::Float32 | DataType::Float64 => {
            let numbers = float64(values)?;
            let words = numbers.iter();
            words
                .map(|word| word.map(|word| format!("{word:?}")))
                .collect()
        }
        DataType::Null => LargeStringArray::new_null(values.len()),
        DataType::Dictionary(..) => text(&spread(values)?)?,
        _ => {
            let whole = int64(values)?;
            let words = whole.iter();
            words
                .map(|word| word.map(|word| word.to_string()))
                .collect()
        }
    })
}

/// Lists with offsets of 64 bits.
pub(crate) fn lists(values: &ArrayRef) -> Result<LargeListArray, ArrowError> {
    match values.data_type() {
        DataType::LargeList(_) => Ok(values.as_list::<i64>().clone()),
        DataType::List(field) => {
            let short = values.as_list::<i32>();
            let offsets = short.offsets().iter().map(|&end| i64::from(end)).collect();
            LargeListArray::try_new(
                field.clone(),
                OffsetBuffer::new(offsets),
                short.values().clone(),
                short.nulls().cloned(),
            )
        }
        DataType::FixedSizeList(field, _) => {
            let even = values.as_fixed_size_list();
            let length = usize::try_from(even.value_length()).unwrap_or_default();
            let lengths = std::iter::repeat_n(length, even.len());
            LargeListArray::try_new(
                field.clone(),
                OffsetBuffer::from_lengths(lengths),
                even.values().clone(),
                even.nulls().cloned(),
            )
        }
        other => Err(unread(other)),
    }
}

/// The same bytes under another type as wide.
fn laid_out(values: &ArrayRef, kind: DataType) -> Result<ArrayRef, ArrowError> {
    let data = values.to_data().into_builder().data_type(kind).build()?;
    Ok(make_array(data))
}

fn unread(kind: &DataType) -> ArrowError {
    ArrowError::CastError(format!("a column of {kind}"))
}
