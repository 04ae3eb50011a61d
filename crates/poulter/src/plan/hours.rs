//! The hours in which the cook is up and free.

use jiff::civil::Time;

use crate::units::{Duration, DurationUnit};

use super::chain::Span;
use super::kitchen::{Block, Sleep};
use super::moment::Moment;
use super::order::Order;

const HALF_HOUR: i64 = 30 * 60_000;

/// The hours of a cook: awake by the clock and, where the order names them, free.
pub(super) struct Hours<'o> {
    asleep: Sleep,
    free: &'o [Block],
    lessons: &'o [Block],
}

impl<'o> Hours<'o> {
    pub(super) fn of(order: &'o Order) -> Self {
        Self {
            asleep: order.cook.asleep.unwrap_or(Sleep {
                from: Time::constant(22, 0, 0, 0),
                to: Time::constant(7, 0, 0, 0),
            }),
            free: &order.cook.free,
            lessons: order.class.as_ref().map_or(&[], |class| &class.lessons),
        }
    }

    /// Whether the cook can begin something then.
    pub(super) fn holds(&self, at: &Moment) -> bool {
        at.is_awake(self.asleep)
            && (self.free.is_empty()
                || self
                    .free
                    .iter()
                    .any(|block| block.from <= *at && *at <= block.to))
    }

    fn lesson_holds(&self, at: &Moment, busy: Duration) -> bool {
        let end = at.after(busy);
        self.lessons
            .iter()
            .any(|lesson| lesson.from <= *at && end <= lesson.to)
    }

    /// How many of these starts, each with the time that it keeps hands busy, lie in no lesson; nothing where no class
    /// cooks.
    pub(super) fn outside_lessons(&self, starts: &[(&Moment, Duration)]) -> Option<u32> {
        if self.lessons.is_empty() {
            return None;
        }
        let outside = starts
            .iter()
            .filter(|(at, busy)| !self.lesson_holds(at, *busy))
            .count();
        u32::try_from(outside).ok()
    }

    /// The moment in a lesson at or before the one wished, or else the last that the window holds; nothing where the
    /// window holds none or no class cooks.
    pub(super) fn in_class(&self, window: &Span, busy: Duration) -> Option<Moment> {
        let last = |latest: &Moment| {
            self.lessons
                .iter()
                .map(|lesson| {
                    let at = lesson.to.before(busy).min(latest.clone());
                    let quarter = at.quarter_before();
                    if quarter >= lesson.from && quarter >= window.earliest {
                        quarter
                    } else {
                        at
                    }
                })
                .filter(|at| *at >= window.earliest && self.lesson_holds(at, busy))
                .max()
                .map(|at| at.in_zone_of(latest))
        };
        last(&window.planned).or_else(|| last(&window.latest))
    }

    /// Whether work that wants looking after every half hour reaches into hours that are not the cook's, its start apart.
    pub(super) fn breaks(&self, from: &Moment, time: Duration) -> bool {
        let half_hours = time.steps() / HALF_HOUR;
        (1..=half_hours).any(|count| {
            !self.holds(&from.after(Duration::from_steps(
                count * HALF_HOUR,
                DurationUnit::Minute,
            )))
        })
    }

    /// The latest moment at or before this one in which the cook can begin something; the moment itself where there is
    /// none.
    pub(super) fn before(&self, at: &Moment) -> Moment {
        if self.free.is_empty() {
            return at.awake_before(self.asleep);
        }
        self.free
            .iter()
            .filter(|block| block.from <= *at)
            .filter_map(|block| {
                let awake = block.to.clone().min(at.clone()).awake_before(self.asleep);
                (block.from <= awake).then(|| awake.in_zone_of(at))
            })
            .max()
            .unwrap_or_else(|| at.clone())
    }
}
