//! What a plan takes from the stages that reckon amounts: brine, gravy and stock.

use crate::brine::{self, Brine, BrineMethod, BrinePlace, BrineQuery};
use crate::error::Error;
use crate::gravy::{self, Body, Gravy, GravyQuery, RouxFat};
use crate::messages::{fill, say};
use crate::prepare;
use crate::purchase::Service;
use crate::stock::{self, Stock, StockQuery};
use crate::units::{Fraction, Mass};

use super::chain::Timing;
use super::setup::Setup;
use super::step::Draft;
use super::steps::Sheet;

pub(super) fn brine_query(setup: &Setup<'_>, method: BrineMethod) -> BrineQuery {
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
        solution_added: setup.bird.solution_added.unwrap_or(Fraction::ZERO),
        kosher: setup.bird.kosher,
        override_salted: false,
        standard: setup.order.standard.clone(),
        species: setup.species,
        cut: setup.cut,
        on: Some(setup.order.serve_at.zoned().date()),
    }
}

/// The amounts of the chosen chain; none where a stage has no published row for the bird.
pub(super) struct Amounts {
    pub(super) brine: Option<Brine>,
    /// Butter or oil for the skin of one bird.
    pub(super) fat: Option<Mass>,
    pub(super) gravy: Option<Gravy>,
    pub(super) stock: Option<Stock>,
    /// Whether anything is left to make stock from.
    pub(super) bones: bool,
}

impl<'b> Sheet<'_, 'b> {
    /// Brine for each bird of a load; gravy for all guests, from `all_birds`, and stock from the bones of those `with_bones`.
    pub(super) fn amounts(
        &mut self,
        timing: &Timing<'b>,
        all_birds: Mass,
        with_bones: Mass,
    ) -> Result<Amounts, Error> {
        let standard = &self.setup.order.standard;
        let on = Some(self.setup.order.serve_at.zoned().date());
        let (species, cut) = (self.setup.species, self.setup.cut);
        let guests = &self.setup.order.guests;
        let gravy = GravyQuery {
            guests: guests.adults + guests.children,
            volume: None,
            bird_mass: Some(all_birds),
            generous: guests.service == Service::Buffet,
            body: Body::default(),
            thickener: guests.thickener(),
            fat: RouxFat::Drippings,
            standard: standard.clone(),
            species,
            cut,
            on,
        };
        let bones = with_bones > Mass::ZERO;
        let stock = StockQuery {
            bird_mass: Some(with_bones),
            bones: None,
            standard: standard.clone(),
            species,
            cut,
            on,
        };
        Ok(Amounts {
            brine: self.brine_of(timing)?,
            fat: prepare::skin_fat(&mut self.basis, self.setup.mass).map(|(_, _, fat)| fat),
            gravy: gravy::work_out(&mut self.basis, &gravy).ok(),
            stock: (bones.then(|| stock::work_out(&mut self.basis, &stock))).and_then(Result::ok),
            bones,
        })
    }

    /// Says what goes into the gravy.
    pub(super) fn say_gravy(&self, draft: &mut Draft, gravy: &Gravy) {
        let units = self.units();
        draft.rules(&gravy.rules);
        let thickener = format!(
            "{} ({})",
            units.mass(gravy.thickener),
            units.volume(gravy.thickener_volume)
        );
        draft.say(&match gravy.fat {
            Some(fat) => fill(
                "do-gravy-flour",
                &[
                    ("gravy", &units.volume(gravy.liquid)),
                    ("thickener", &thickener),
                    ("fat", &units.mass(fat)),
                ],
            ),
            None => fill(
                "do-gravy-starch",
                &[
                    ("gravy", &units.volume(gravy.liquid)),
                    ("thickener", &thickener),
                ],
            ),
        });
        for text in &gravy.to_do {
            draft.say(text);
        }
        for finding in &gravy.findings {
            draft.say(&finding.text);
        }
        if !gravy.allergens.is_empty() {
            draft.say(&fill(
                "do-allergens",
                &[("allergens", &gravy.allergens.join("; "))],
            ));
        }
    }

    /// Says what goes into the stock.
    pub(super) fn say_stock(&self, draft: &mut Draft, stock: &Stock) {
        let units = self.units();
        draft.rules(&stock.rules);
        draft.say(&fill(
            "do-stock",
            &[
                ("bones", &units.mass(stock.bones)),
                ("water", &units.volume(stock.water)),
                ("vegetables", &units.mass(stock.vegetables)),
                ("stock", &units.volume(stock.stock)),
            ],
        ));
        for text in &stock.to_do {
            draft.say(text);
        }
    }

    /// The brine of the chosen chain; none where the bird is not brined.
    pub(super) fn brine_of(&mut self, timing: &Timing<'b>) -> Result<Option<Brine>, Error> {
        match timing.combination.brine {
            BrineMethod::None => Ok(None),
            method => {
                let query = brine_query(self.setup, method);
                brine::work_out(&mut self.basis, &query).map(Some)
            }
        }
    }

    /// Says how the brine is made, by mass first; several birds have a brine each.
    pub(super) fn say_brine(&self, draft: &mut Draft, brine: &Brine) {
        let units = self.units();
        draft.rules(&brine.rules);
        let Some(salt) = &brine.salt else {
            return;
        };
        let count = i64::from(self.plan.bird.count);
        // Pieces are salted in one bowl; every bird has a brine or a weighed heap of its own.
        let in_one_bowl = brine.wet.is_none() && !self.setup.cut.is_bird();
        let (weigh, times) = match (count > 1, in_one_bowl) {
            (true, true) => (say("weigh-for-pieces"), count),
            (true, false) => (say("weigh-for-each"), 1),
            (false, _) => (say("weigh"), 1),
        };
        let amount = fill(
            "weigh-salt",
            &[
                ("weigh", &weigh),
                ("amount", &units.mass(salt.mass.times_ratio(times, 1))),
                ("salt", &salt.kind.words()),
                ("low", &units.volume(salt.volume_low.times_ratio(times, 1))),
                (
                    "high",
                    &units.volume(salt.volume_high.times_ratio(times, 1)),
                ),
            ],
        );
        let rub = if self.setup.cut.is_bird() {
            "do-rub-salt"
        } else {
            "do-rub-salt-pieces"
        };
        match &brine.wet {
            None => draft.say(&fill(rub, &[("amount", &amount)])),
            Some(wet) => {
                match &wet.chilling {
                    Some(chilling) => draft.say(&fill(
                        "do-dissolve-salt-hot",
                        &[
                            ("amount", &amount),
                            ("hot", &units.volume(chilling.hot_water)),
                            ("ice", &units.mass(chilling.ice)),
                            ("cold", &units.volume(chilling.cold_water)),
                        ],
                    )),
                    None => draft.say(&fill(
                        "do-dissolve-salt",
                        &[("amount", &amount), ("water", &units.volume(wet.water))],
                    )),
                }
                draft.say(&fill(
                    "do-use-vessel",
                    &[("volume", &units.volume(wet.vessel))],
                ));
            }
        }
    }
}
