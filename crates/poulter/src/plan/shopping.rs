//! The shopping list.

use crate::thaw::ThawMethod;
use crate::units::{Mass, MassUnit};

use super::amounts::{Amounts, avoids};
use super::chain::Timing;
use super::setup::Setup;
use super::types::{Amount, Plan, ShoppingItem};

/// Fat for the skin: about 1 % of the bird. Common practice, no source.
const FAT_SHARE: (i64, i64) = (1, 100);

/// Adds what has to be bought for the chosen chain.
pub(super) fn add(plan: &mut Plan, timing: &Timing<'_>, setup: &Setup<'_>, amounts: &Amounts) {
    let list = &mut plan.shopping;
    let mut buy = |item: &str, amount: Option<Amount>, note: &str| {
        list.push(ShoppingItem {
            item: item.to_owned(),
            amount,
            note: note.to_owned(),
        });
    };
    let bird = &plan.bird;
    if setup.to_buy {
        let item = format!(
            "{} ({}, {})",
            bird.species.name(),
            bird.cut.name(),
            bird.state.name()
        );
        let note = if bird.count > 1 {
            format!("{} of this mass", bird.count)
        } else {
            String::new()
        };
        buy(&item, Some(Amount::Mass(bird.mass)), &note);
    }
    if let Some(brine) = &amounts.brine {
        if let Some(salt) = &brine.salt {
            buy(
                salt.kind.words(),
                Some(Amount::Mass(salt.mass)),
                "weigh it: a spoon of another kind holds another mass",
            );
        }
        if let Some(wet) = &brine.wet {
            if let Some(chilling) = &wet.chilling {
                buy(
                    "ice",
                    Some(Amount::Mass(chilling.ice)),
                    "to chill the brine; it counts as water",
                );
            }
            buy(
                "food-grade vessel or bag",
                Some(Amount::Volume(wet.vessel)),
                "at least this large",
            );
        }
    }
    let fat = bird
        .mass
        .times_ratio(FAT_SHARE.0 * i64::from(bird.count), FAT_SHARE.1)
        .in_unit(MassUnit::Gram);
    let kind = if avoids(setup, &["milk", "butter", "dairy"]) {
        "oil for the skin"
    } else {
        "butter or oil for the skin"
    };
    buy(kind, Some(Amount::Mass(fat)), "butter holds milk");
    if let Some(gravy) = &amounts.gravy {
        let (item, note) = match gravy.fat {
            Some(_) => ("flour for the gravy", "holds wheat"),
            None => ("maize starch for the gravy", ""),
        };
        buy(item, Some(Amount::Mass(gravy.thickener)), note);
        if gravy.stock_to_have > crate::units::Volume::ZERO {
            buy(
                "stock for the gravy",
                Some(Amount::Volume(gravy.stock_to_have)),
                "if the bird gives few drippings; read its label for allergens",
            );
        }
    }
    if let Some(stock) = &amounts.stock
        && stock.vegetables > Mass::ZERO
    {
        buy(
            "onion, carrot and celery for the stock",
            Some(Amount::Mass(stock.vegetables)),
            "celery is an allergen in the EU and the UK",
        );
    }
    if let Some(ThawMethod::ColdWater | ThawMethod::RunningWater) = timing.combination.thaw {
        buy(
            "leak-proof bag for the bird",
            Some(Amount::Count { count: bird.count }),
            "for thawing in water",
        );
    }
    buy(
        "thermometers",
        Some(Amount::Count { count: 2 }),
        "one for the bird, one for the refrigerator",
    );
}
