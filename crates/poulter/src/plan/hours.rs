//! The hours in which the cook is up and free.

use jiff::civil::Time;

use super::kitchen::{Block, Sleep};
use super::moment::Moment;
use super::order::Order;

/// The hours of a cook: awake by the clock and, where the order names them, free.
pub(super) struct Hours<'o> {
    asleep: Sleep,
    free: &'o [Block],
}

impl<'o> Hours<'o> {
    pub(super) fn of(order: &'o Order) -> Self {
        Self {
            asleep: order.cook.asleep.unwrap_or(Sleep {
                from: Time::constant(22, 0, 0, 0),
                to: Time::constant(7, 0, 0, 0),
            }),
            free: &order.cook.free,
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
