//! A combination of methods, and all of them that an order leaves open.

use crate::bird::State;
use crate::brine::BrineMethod;
use crate::messages::say;
use crate::roast::RoastMethod;
use crate::thaw::ThawMethod;

use super::order::Order;

/// How a bird is thawed, brined and roasted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Combination {
    pub(super) state: State,
    pub(super) thaw: Option<ThawMethod>,
    pub(super) brine: BrineMethod,
    pub(super) roast: RoastMethod,
}

/// Every combination that the order leaves open, in the order of preference where all else is equal.
pub(super) fn combinations(order: &Order, states: &[State]) -> Vec<Combination> {
    let thaws = match order.methods.thaw {
        Some(thaw) => vec![thaw],
        None => vec![
            ThawMethod::Refrigerator,
            ThawMethod::ColdWater,
            ThawMethod::RunningWater,
            ThawMethod::Microwave,
            ThawMethod::InBrine,
            ThawMethod::FromFrozen,
        ],
    };
    let brines = match order.methods.brine {
        Some(brine) => vec![brine],
        None => vec![BrineMethod::Dry, BrineMethod::Wet, BrineMethod::None],
    };
    let roasts = match order.methods.roast {
        Some(roast) => vec![roast],
        None => vec![RoastMethod::Steady, RoastMethod::HighStart],
    };
    let mut all = Vec::new();
    for &state in states {
        let thaws: Vec<Option<ThawMethod>> = match state {
            State::Frozen | State::PartFrozen => thaws.iter().copied().map(Some).collect(),
            State::Fresh | State::Thawed => vec![None],
        };
        for &thaw in &thaws {
            for &brine in &brines {
                all.extend(roasts.iter().map(|&roast| Combination {
                    state,
                    thaw,
                    brine,
                    roast,
                }));
            }
        }
    }
    all
}

impl Combination {
    /// The combination in words.
    pub(super) fn words(self) -> String {
        let start = match (self.thaw, self.state) {
            (Some(thaw), _) => thaw.words(),
            (None, State::Fresh) => "fresh",
            (None, _) => "thawed",
        };
        let brine = match self.brine {
            BrineMethod::Wet => say("way-wet"),
            BrineMethod::Dry => say("way-dry"),
            BrineMethod::None => say("way-unbrined"),
        };
        format!("{start}, {brine}, {}", self.roast.words())
    }

    pub(super) const fn simplest(state: State, thaw: Option<ThawMethod>) -> Self {
        Self {
            state,
            thaw,
            brine: BrineMethod::None,
            roast: RoastMethod::Steady,
        }
    }
}
