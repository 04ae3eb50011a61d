//! The shopping list.

use crate::answer::Basis;
use crate::error::Error;

use super::chain::{Setup, Timing};
use super::order::Order;
use super::types::{Amount, Plan, ShoppingItem};

/// Adds what has to be bought for the chosen chain.
pub(super) fn add(
    _basis: &mut Basis<'_>,
    plan: &mut Plan,
    _timing: &Timing<'_>,
    setup: &Setup<'_>,
    _order: &Order,
) -> Result<(), Error> {
    if setup.to_buy {
        let bird = &plan.bird;
        plan.shopping.push(ShoppingItem {
            item: format!(
                "{} ({}, {})",
                bird.species.name(),
                bird.cut.name(),
                bird.state.name()
            ),
            amount: Some(Amount::Mass(bird.mass)),
            note: format!("{} of this mass", bird.count),
        });
    }
    Ok(())
}
