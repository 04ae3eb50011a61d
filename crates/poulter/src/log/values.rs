//! Columns of a log. A long one lies in large pages where the system has them: to get and to clear small ones, one fault
//! each, takes longer than all the work on what is in them.

use std::fmt;
use std::ops::{Deref, DerefMut};

use memmap2::MmapMut;

/// From here on, 32 MiB, a column lies in pages of its own; shorter ones are used again by the usual allocator.
const MANY: usize = 1 << 22;

/// The values of a column in order of its rows.
pub(super) struct Values(Memory);

enum Memory {
    Few(Vec<f64>),
    Many { pages: MmapMut, held: usize },
}

impl Values {
    pub(super) const fn new() -> Self {
        Self(Memory::Few(Vec::new()))
    }

    /// As many noughts, to be written over.
    pub(super) fn noughts(values: usize) -> Self {
        let few = || Memory::Few(vec![0.0; values]);
        Self(if values < MANY {
            few()
        } else {
            pages(values).map_or_else(few, |pages| Memory::Many {
                pages,
                held: values,
            })
        })
    }

    /// Makes room for so many values in place of those before, to be written over.
    pub(super) fn resize(&mut self, values: usize) {
        match &mut self.0 {
            Memory::Few(few) if values < MANY => few.resize(values, 0.0),
            _ => *self = Self::noughts(values),
        }
    }

    pub(super) fn push(&mut self, value: f64) {
        if let Memory::Many { .. } = self.0 {
            self.0 = Memory::Few(self.to_vec());
        }
        if let Memory::Few(few) = &mut self.0 {
            few.push(value);
        }
    }
}

/// Cleared memory for so many values; nothing where the system gives none.
fn pages(values: usize) -> Option<MmapMut> {
    let pages = MmapMut::map_anon(values.checked_mul(size_of::<f64>())?).ok()?;
    // Without large pages the memory is as good, only slower to get.
    #[cfg(target_os = "linux")]
    let _ = pages.advise(memmap2::Advice::HugePage);
    Some(pages)
}

impl Deref for Values {
    type Target = [f64];

    #[inline]
    fn deref(&self) -> &[f64] {
        match &self.0 {
            Memory::Few(few) => few,
            Memory::Many { pages, held } => {
                let room: &[f64] = bytemuck::cast_slice(pages);
                room.get(..*held).unwrap_or(room)
            }
        }
    }
}

impl DerefMut for Values {
    #[inline]
    fn deref_mut(&mut self) -> &mut [f64] {
        match &mut self.0 {
            Memory::Few(few) => few,
            Memory::Many { pages, held } => {
                let held = *held;
                let room: &mut [f64] = bytemuck::cast_slice_mut(pages);
                room.get_mut(..held).unwrap_or_default()
            }
        }
    }
}

impl From<Vec<f64>> for Values {
    fn from(values: Vec<f64>) -> Self {
        Self(Memory::Few(values))
    }
}

impl Clone for Values {
    fn clone(&self) -> Self {
        let mut copy = Self::noughts(self.len());
        copy.copy_from_slice(self);
        copy
    }
}

impl PartialEq for Values {
    fn eq(&self, other: &Self) -> bool {
        **self == **other
    }
}

impl fmt::Debug for Values {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_list().entries(self.iter()).finish()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn few_and_many_values_are_the_same_column() {
        for length in [MANY - 1, MANY, MANY + 1] {
            let mut column = Values::noughts(length);
            assert_eq!(matches!(column.0, Memory::Many { .. }), length >= MANY);
            let values: Vec<f64> = (0..length).map(|at| at as f64).collect();
            column.copy_from_slice(&values);
            assert_eq!(&*column, &*values);
            assert_eq!(column.clone(), column);
            // A row more than was asked for.
            column.push(-1.0);
            assert_eq!(column.len(), length + 1);
            assert_eq!(column.last(), Some(&-1.0));
            assert_eq!(column.first(), Some(&0.0));
        }
    }
}
