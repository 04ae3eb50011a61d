//! One place of a log, run by run.

use crate::units::TemperatureUnit;

use super::build::whole;
use super::snap::{Scale, elapsed_ms, snap};
use super::survey::{RUN, Span};

/// One place of a log on its clock.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Trace<'a> {
    rows: Rows<'a>,
    /// Its runs of [`RUN`] segments.
    spans: &'a [Span],
}

#[derive(Clone, Copy, Debug)]
enum Rows<'a> {
    Snapped {
        /// Whole milliseconds.
        clock: &'a [f64],
        /// Whole steps.
        steps: &'a [f64],
    },
    Raw(RawColumn<'a>),
}

/// The readings of one place as the caller holds them, without missing ones; they are snapped where they are read.
#[derive(Clone, Copy, Debug)]
pub(crate) struct RawColumn<'a> {
    pub(crate) elapsed_s: &'a [f64],
    pub(crate) temperatures: &'a [f64],
    pub(crate) unit: TemperatureUnit,
}

/// Room for the readings of a run.
#[derive(Clone, Copy)]
pub(crate) struct Room {
    t: [f64; RUN + 1],
    x: [f64; RUN + 1],
}

impl Room {
    pub(crate) const EMPTY: Self = Self {
        t: [0.0; RUN + 1],
        x: [0.0; RUN + 1],
    };

    /// The readings of a whole run where they lie, or those of a short one in this room, filled up with its last
    /// reading, which adds nothing.
    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    pub(crate) fn whole<'b>(
        &'b mut self,
        t: &'b [f64],
        x: &'b [f64],
    ) -> (&'b [f64; RUN + 1], &'b [f64; RUN + 1]) {
        if let (Ok(t), Ok(x)) = (t.try_into(), x.try_into()) {
            return (t, x);
        }
        fill_up(&mut self.t, t);
        fill_up(&mut self.x, x);
        (&self.t, &self.x)
    }
}

fn fill_up(block: &mut [f64; RUN + 1], run: &[f64]) {
    let (held, rest) = block.split_at_mut(run.len().min(RUN + 1));
    held.copy_from_slice(run);
    rest.fill(run.last().copied().unwrap_or(f64::NAN));
}

/// Some segments that follow one another.
#[derive(Clone, Copy)]
pub(crate) struct Run<'a> {
    rows: Rows<'a>,
    pub(crate) span: Span,
}

impl<'a> Run<'a> {
    /// Milliseconds and steps, in `room` where they have to be snapped first.
    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    pub(crate) fn read<'b>(&self, room: &'b mut Room) -> (&'b [f64], &'b [f64])
    where
        'a: 'b,
    {
        match self.rows {
            Rows::Snapped { clock, steps } => (clock, steps),
            Rows::Raw(raw) => {
                snap(raw.elapsed_s, &mut room.t, elapsed_ms);
                let scale = Scale::of(raw.unit);
                snap(raw.temperatures, &mut room.x, |value| scale.steps(value));
                let held = raw.elapsed_s.len().min(RUN + 1);
                (&room.t[..held], &room.x[..held])
            }
        }
    }
}

impl Rows<'_> {
    fn ends_ms(self) -> Option<(f64, f64)> {
        let (clock, whole): (_, fn(f64) -> f64) = match self {
            Self::Snapped { clock, .. } => (clock, |ms| ms),
            Self::Raw(raw) => (raw.elapsed_s, elapsed_ms),
        };
        Some((whole(*clock.first()?), whole(*clock.last()?)))
    }

    fn count(self) -> usize {
        match self {
            Self::Snapped { clock, steps } => clock.len().min(steps.len()),
            Self::Raw(raw) => raw.elapsed_s.len().min(raw.temperatures.len()),
        }
    }

    fn part(self, rows: std::ops::Range<usize>) -> Option<Self> {
        Some(match self {
            Self::Snapped { clock, steps } => Self::Snapped {
                clock: clock.get(rows.clone())?,
                steps: steps.get(rows)?,
            },
            Self::Raw(raw) => Self::Raw(RawColumn {
                elapsed_s: raw.elapsed_s.get(rows.clone())?,
                temperatures: raw.temperatures.get(rows)?,
                ..raw
            }),
        })
    }
}

impl<'a> Trace<'a> {
    pub(crate) fn snapped(clock: &'a [f64], steps: &'a [f64], spans: &'a [Span]) -> Self {
        let rows = Rows::Snapped { clock, steps };
        Self { rows, spans }
    }

    pub(super) fn raw(raw: RawColumn<'a>, spans: &'a [Span]) -> Self {
        let rows = Rows::Raw(raw);
        Self { rows, spans }
    }

    /// The rows up to the first at or after a time, and that row.
    pub(crate) fn until(self, ms: f64) -> Self {
        let before = match self.rows {
            Rows::Snapped { clock, .. } => clock.partition_point(|&t| t < ms),
            Rows::Raw(raw) => raw.elapsed_s.partition_point(|&s| elapsed_ms(s) < ms),
        };
        let rows = self.rows.part(0..before + 1).unwrap_or(self.rows);
        Self { rows, ..self }
    }

    /// The segments run by run.
    pub(crate) fn runs(self) -> impl Iterator<Item = Run<'a>> {
        let count = self.rows.count();
        let runs = self.spans.iter().enumerate();
        runs.filter_map(move |(run, &span)| {
            let (from, to) = (run * RUN, ((run + 1) * RUN + 1).min(count));
            let rows = (from + 1 < to).then(|| self.rows.part(from..to))??;
            Some(Run { rows, span })
        })
    }

    /// The first time and the last of the clock.
    pub(super) fn ends_ms(self) -> Option<(i64, i64)> {
        let (first, last) = self.rows.ends_ms()?;
        Some((whole(first), whole(last)))
    }

    /// The last reading.
    pub(super) fn last_steps(self) -> Option<i64> {
        let last = match self.rows {
            Rows::Snapped { steps, .. } => *steps.last()?,
            Rows::Raw(raw) => Scale::of(raw.unit).steps(*raw.temperatures.last()?),
        };
        Some(whole(last))
    }
}
