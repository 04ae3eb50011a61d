//! Spells inside a band of temperatures: exact crossings of straight lines with limits.

use std::ops::{Bound, RangeBounds};

use crate::units::Temperature;

use super::build::whole;
use super::{Range, Room, Trace};

#[derive(Clone, Copy)]
pub(crate) enum Rounding {
    /// Begins late and ends early.
    Short,
    /// Begins early and ends late.
    Long,
}

#[derive(Clone, Copy)]
pub(super) struct Spell {
    pub(super) began: i64,
    pub(super) ended: i64,
}

/// A range in whole steps; the ends are limits with their own inclusion.
#[derive(Clone, Copy)]
pub(super) struct Band {
    pub(super) lower: Bound<i64>,
    pub(super) upper: Bound<i64>,
}

impl Band {
    pub(super) fn of(range: &impl RangeBounds<Temperature>) -> Self {
        let steps = |bound: Bound<&Temperature>| bound.map(|t| t.exact().ninths_of_millikelvin());
        Self {
            lower: steps(range.start_bound()),
            upper: steps(range.end_bound()),
        }
    }

    pub(super) fn holds(self, x: i64) -> bool {
        self.is_above_lower(x) && self.is_below_upper(x)
    }

    /// The lowest and the highest whole step inside the band.
    fn ends(self) -> (f64, f64) {
        let lower = match self.lower {
            Bound::Included(limit) => limit as f64,
            Bound::Excluded(limit) => limit as f64 + 1.0,
            Bound::Unbounded => f64::NEG_INFINITY,
        };
        let upper = match self.upper {
            Bound::Included(limit) => limit as f64,
            Bound::Excluded(limit) => limit as f64 - 1.0,
            Bound::Unbounded => f64::INFINITY,
        };
        (lower, upper)
    }

    fn is_above_lower(self, x: i64) -> bool {
        match self.lower {
            Bound::Included(limit) => x >= limit,
            Bound::Excluded(limit) => x > limit,
            Bound::Unbounded => true,
        }
    }

    fn is_below_upper(self, x: i64) -> bool {
        match self.upper {
            Bound::Included(limit) => x <= limit,
            Bound::Excluded(limit) => x < limit,
            Bound::Unbounded => true,
        }
    }
}

/// Where the line from `(t1, x1)` to `(t2, x2)` meets `limit`, rounded down or up to the millisecond.
fn crossing(t: (i64, i64), x: (i64, i64), limit: i64, up: bool) -> i64 {
    let run = i128::from(t.1 - t.0) * i128::from(limit - x.0);
    let rise = i128::from(x.1 - x.0);
    let (run, rise) = if rise < 0 { (-run, -rise) } else { (run, rise) };
    let down = run.div_euclid(rise);
    let rounded = if up && run.rem_euclid(rise) != 0 {
        down + 1
    } else {
        down
    };
    t.0 + i64::try_from(rounded).unwrap_or(t.1 - t.0)
}

/// The part of one segment inside the band, or nothing.
fn part(t: (i64, i64), x: (i64, i64), band: Band, rounding: Rounding) -> Option<Spell> {
    let (low, high) = (x.0.min(x.1), x.0.max(x.1));
    if !band.is_above_lower(high) || !band.is_below_upper(low) {
        return None;
    }
    let up = matches!(rounding, Rounding::Short);
    let limit_of = |bound: Bound<i64>| match bound {
        Bound::Included(limit) | Bound::Excluded(limit) => Some(limit),
        Bound::Unbounded => None,
    };
    // Rising, the line enters through the lower limit and leaves through the upper; falling, the other way.
    let (entry, exit) = if x.1 >= x.0 {
        (band.lower, band.upper)
    } else {
        (band.upper, band.lower)
    };
    let began = match limit_of(entry) {
        Some(limit) if (limit - x.0) * (x.1 - x.0).signum() > 0 => crossing(t, x, limit, up),
        _ => t.0,
    };
    let ended = match limit_of(exit) {
        Some(limit) if (x.1 - limit) * (x.1 - x.0).signum() > 0 => crossing(t, x, limit, !up),
        _ => t.1,
    };
    Some(Spell {
        began,
        ended: ended.max(began),
    })
}

/// Segments that are looked at together before they are looked at one by one.
const TOGETHER: usize = 8;

/// Spells under way. Whole steps compare exactly as f64; most runs and most segments lie wholly on one side of a limit
/// and need no crossing.
struct Walk {
    band: Band,
    /// The lowest and the highest reading inside the band.
    lowest: f64,
    highest: f64,
    rounding: Rounding,
    found: Vec<Spell>,
    /// True when the last spell reaches up to the reading the next segment starts from.
    unbroken: bool,
}

impl Walk {
    fn add(&mut self, next: Spell) {
        match self.found.last_mut() {
            Some(last) if self.unbroken => last.ended = next.ended,
            _ => self.found.push(next),
        }
    }

    /// Takes in segments that lie wholly inside the band or wholly on one side of it; false where they do not.
    fn takes_whole(&mut self, t: (f64, f64), range: Range) -> bool {
        if range.highest < self.lowest || range.lowest > self.highest {
            self.unbroken = false;
            return true;
        }
        let is_inside = range.lowest >= self.lowest && range.highest <= self.highest;
        if is_inside {
            self.add(Spell {
                began: whole(t.0),
                ended: whole(t.1),
            });
            self.unbroken = true;
        }
        is_inside
    }

    fn take(&mut self, t: (f64, f64), x: (f64, f64)) {
        let range = Range::of(&[x.0, x.1]);
        if self.takes_whole(t, range) {
            return;
        }
        let t = (whole(t.0), whole(t.1));
        let x = (whole(x.0), whole(x.1));
        if let Some(next) = part(t, x, self.band, self.rounding) {
            self.add(next);
        }
        self.unbroken = self.band.holds(x.1);
    }
}

/// The spells of a trace inside a band.
pub(super) fn spells(trace: Trace<'_>, band: Band, rounding: Rounding) -> Vec<Spell> {
    let (lowest, highest) = band.ends();
    let mut walk = Walk {
        band,
        lowest,
        highest,
        rounding,
        found: Vec::new(),
        unbroken: false,
    };
    let mut room = Room::EMPTY;
    for run in trace.runs() {
        let span = run.span;
        if walk.takes_whole((span.began_ms, span.ended_ms), span.range) {
            continue;
        }
        let (clock, steps) = run.read(&mut room);
        let segments = clock.len().min(steps.len()).saturating_sub(1);
        for from in (0..segments).step_by(TOGETHER) {
            let rows = from..=(from + TOGETHER).min(segments);
            let (Some(t), Some(x)) = (clock.get(rows.clone()), steps.get(rows)) else {
                continue;
            };
            let ends = (t.first().copied(), t.last().copied());
            if let (Some(began), Some(ended)) = ends
                && walk.takes_whole((began, ended), Range::of(x))
            {
                continue;
            }
            for (t, x) in t.windows(2).zip(x.windows(2)) {
                walk.take((t[0], t[1]), (x[0], x[1]));
            }
        }
    }
    walk.found
}

#[cfg(test)]
mod tests {
    use super::super::survey::spans_of;
    use super::*;

    #[test]
    fn many_segments_at_once_are_one_after_another() {
        for rows in [2_usize, 9, 10, 64, 65, 66, 200, 1000] {
            for (stretch, height) in [(1, 40), (7, 40), (40, 3)] {
                let clock: Vec<f64> = (0..rows).map(|i| (i * 1_000 + i % 3) as f64).collect();
                // Level stretches and steps, some of them on the limits.
                let of = |i: usize| ((i / stretch) * 31 % height) as f64;
                let steps: Vec<f64> = (0..rows).map(of).collect();
                let spans = spans_of(&clock, &steps);
                for (lower, upper) in [
                    (Bound::Included(1), Bound::Unbounded),
                    (Bound::Excluded(1), Bound::Unbounded),
                    (Bound::Included(10), Bound::Included(20)),
                    (Bound::Excluded(2), Bound::Excluded(31)),
                    (Bound::Unbounded, Bound::Included(0)),
                ] {
                    let band = Band { lower, upper };
                    for rounding in [Rounding::Short, Rounding::Long] {
                        let trace = Trace::snapped(&clock, &steps, &spans);
                        let found = spells(trace, band, rounding);
                        let (mut plain, mut unbroken) = (Vec::<Spell>::new(), false);
                        for (t, x) in clock.windows(2).zip(steps.windows(2)) {
                            let (t, x) = ((whole(t[0]), whole(t[1])), (whole(x[0]), whole(x[1])));
                            match (part(t, x, band, rounding), plain.last_mut()) {
                                (Some(next), Some(last)) if unbroken => last.ended = next.ended,
                                (Some(next), _) => plain.push(next),
                                (None, _) => {}
                            }
                            unbroken = band.holds(x.1);
                        }
                        let ends = |all: &[Spell]| -> Vec<(i64, i64)> {
                            all.iter().map(|s| (s.began, s.ended)).collect()
                        };
                        assert_eq!(ends(&found), ends(&plain), "{rows} {stretch} {height}");
                    }
                }
            }
        }
    }
}
