//! Salt, ice and water for the brine of a plan, and how they are said.

use crate::brine::{self, Brine, BrineMethod, BrinePlace, BrineQuery};
use crate::error::Error;
use crate::units::Fraction;

use super::chain::{Setup, Timing};
use super::step::Draft;
use super::steps::Sheet;

fn query(setup: &Setup<'_>, method: BrineMethod) -> BrineQuery {
    BrineQuery {
        method,
        mass: setup.mass,
        salt_kind: None,
        strength: None,
        salt: None,
        water: None,
        time: None,
        place: BrinePlace::Refrigerator,
        room: None,
        solution_added: setup.order.bird.solution_added.unwrap_or(Fraction::ZERO),
        kosher: setup.order.bird.kosher,
        override_salted: false,
        standard: setup.order.standard.clone(),
        species: setup.species,
        cut: setup.cut,
        on: Some(setup.order.serve_at.zoned().date()),
    }
}

impl<'b> Sheet<'_, 'b> {
    /// The brine of the chosen chain; none where the bird is not brined.
    pub(super) fn brine_of(&mut self, timing: &Timing<'b>) -> Result<Option<Brine>, Error> {
        match timing.combination.brine {
            BrineMethod::None => Ok(None),
            method => {
                let query = query(self.setup, method);
                brine::work_out(&mut self.basis, &query).map(Some)
            }
        }
    }

    /// Says how the brine is made, by mass first.
    pub(super) fn say_brine(&self, draft: &mut Draft, brine: &Brine) {
        let units = self.units();
        draft.rules(&brine.rules);
        let Some(salt) = &brine.salt else {
            return;
        };
        let amount = format!(
            "{} of {} ({} to {})",
            units.mass(salt.mass),
            salt.kind.words(),
            units.volume(salt.volume_low),
            units.volume(salt.volume_high)
        );
        match &brine.wet {
            None => draft.say(&format!(
                "Weigh {amount} and rub it all over the bird and into the cavity."
            )),
            Some(wet) => {
                match &wet.chilling {
                    Some(chilling) => draft.say(&format!(
                        "Weigh {amount}. Dissolve it in {} of hot water, stir in {} of ice until it melts, then add {} \
                         of cold water.",
                        units.volume(chilling.hot_water),
                        units.mass(chilling.ice),
                        units.volume(chilling.cold_water)
                    )),
                    None => draft.say(&format!("Weigh {amount} and dissolve it in {} of water.", units.volume(wet.water))),
                }
                draft.say(&format!(
                    "Use a vessel of at least {}; measure the brine before the bird goes in.",
                    units.volume(wet.vessel)
                ));
            }
        }
    }
}
