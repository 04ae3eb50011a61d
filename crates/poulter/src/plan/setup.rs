//! What all combinations of methods for a bird share.

use crate::bird::{Cut, Species, State};
use crate::roast::Oven;
use crate::rules::{Case, Rulebook};
use crate::thaw::ThawMethod;
use crate::units::{Duration, DurationUnit, Mass};

use super::chain::PREPARE;
use super::combination::Combination;
use super::model::ModelTimes;
use super::moment::Moment;
use super::order::{Bird, Order};
use super::slack;
use super::standing::Standing;

/// Time to unwrap a bird that goes in frozen. Common practice, no source.
const UNWRAP: Duration = Duration::from_steps(15 * 60_000, DurationUnit::Minute);

/// What all combinations of an order share.
#[derive(Clone)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a fact of its own about the bird"
)]
pub(super) struct Setup<'b> {
    pub(super) book: &'b Rulebook,
    pub(super) order: &'b Order,
    pub(super) bird: &'b Bird,
    pub(super) species: Species,
    pub(super) cut: Cut,
    /// Mass of one bird.
    pub(super) mass: Mass,
    pub(super) stuffed: bool,
    pub(super) to_buy: bool,
    pub(super) refrigerator_is_cold: bool,
    pub(super) model: ModelTimes,
    /// The oven the bird goes into.
    pub(super) oven: Oven,
    /// When the bird must be in the oven because something else wants it later.
    pub(super) oven_by: Option<Moment>,
    /// Whether a bird that is done too early to be held hot is carved, chilled and heated again.
    pub(super) early_is_reheated: bool,
    pub(super) standing: Standing,
}

impl<'b> Setup<'b> {
    /// The moment from which the windows were first reckoned.
    pub(super) fn first_now(&self) -> Option<&'b Moment> {
        self.order.first_now().max(self.delivered())
    }

    /// Since when a bird that was never frozen has been in hand; nothing before it is bought.
    pub(super) fn raw_since(&self) -> Option<&'_ Moment> {
        if self.to_buy {
            self.standing.bought.as_ref()
        } else {
            self.first_now()
        }
    }

    /// Whether the bird lies thawing in the refrigerator until this combination's own thaw begins: it was begun there, or
    /// is in hand with some ice left.
    pub(super) fn is_thawing(&self, combination: Combination) -> bool {
        if self.standing.thaw.is_some() {
            return self.standing.switches(combination)
                && self.standing.thaws_by(Some(ThawMethod::Refrigerator));
        }
        combination.state == State::PartFrozen && !self.to_buy && !self.standing.is_raw_and_begun()
    }

    /// The moment before which nothing can begin: now, or when the bird arrives.
    pub(super) fn not_before(&self) -> Option<&'b Moment> {
        self.order.now.as_ref().max(self.delivered())
    }

    fn delivered(&self) -> Option<&'b Moment> {
        self.order.kit.as_ref().map(|kit| &kit.delivered)
    }

    /// Time to make the bird ready.
    pub(super) fn prepare(&self, combination: Combination) -> Duration {
        if combination.thaw == Some(ThawMethod::FromFrozen) {
            return UNWRAP;
        }
        self.hands_on("prepare").unwrap_or(PREPARE)
    }

    /// The cook's own time for a step.
    pub(super) fn hands_on(&self, step: &str) -> Option<Duration> {
        self.order.cook.hands_on.get(step).copied()
    }

    /// How long a step keeps hands busy: the cook's own time, else the usual one.
    pub(super) fn busy(&self, step: &str) -> Duration {
        self.hands_on(step)
            .or_else(|| slack::usual(step))
            .unwrap_or(Duration::ZERO)
    }

    pub(super) fn case(&self, state: Option<State>) -> Case<'b> {
        Case {
            standard: &self.order.standard,
            species: self.species,
            cut: self.cut,
            state,
            process: None,
            on: Some(self.order.serve_at.zoned().date()),
        }
    }
}
