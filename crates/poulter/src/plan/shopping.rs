//! The shopping list.

use crate::messages::{fill, say};
use crate::thaw::ThawMethod;
use crate::units::{Mass, Volume};

use super::amounts::Amounts;
use super::chain::Timing;
use super::setup::Setup;
use super::types::{Amount, Plan, PlannedBird, ShoppingItem};

impl Plan {
    /// A line of its own.
    fn buy(&mut self, item: &str, amount: Amount, pieces: Option<u32>, note: &str) {
        self.shopping.push(ShoppingItem {
            item: item.to_owned(),
            amount: Some(amount),
            note: note.to_owned(),
            pieces,
            ingredient: None,
        });
    }

    /// What is eaten, with the words by which the rules for allergens know it.
    fn add_food(&mut self, ingredient: &'static str, item: &str, amount: Amount, note: &str) {
        self.add(item, amount, note);
        for line in self.shopping.iter_mut().filter(|line| line.item == item) {
            line.ingredient = Some(ingredient);
        }
    }

    /// More of something that may be on the list already.
    fn add(&mut self, item: &str, amount: Amount, note: &str) {
        let mut list = self.shopping.iter_mut();
        let same = list.find(|line| line.item == item && line.note == note);
        match (same.and_then(|line| line.amount.as_mut()), &amount) {
            (Some(Amount::Mass(sum)), Amount::Mass(more)) => *sum = sum.plus(*more),
            (Some(Amount::Count { count: sum }), Amount::Count { count: more }) => {
                *sum = sum.saturating_add(*more);
            }
            _ => self.buy(item, amount, None, note),
        }
    }
}

/// Adds what the birds of a line need, all of them, each with a brine of its own.
pub(super) fn of_birds(
    plan: &mut Plan,
    bird: &PlannedBird,
    timing: &Timing<'_>,
    setup: &Setup<'_>,
    amounts: &Amounts,
) {
    let each = |mass: Mass| Amount::Mass(mass.times_ratio(i64::from(bird.count), 1));
    let (count, several) = (bird.count, bird.count > 1);
    if setup.to_buy {
        let item = format!(
            "{} ({}, {})",
            bird.species.name(),
            bird.cut.name(),
            bird.state.name()
        );
        let note = if several {
            fill("buy-count", &[("count", &count)])
        } else {
            String::new()
        };
        plan.buy(&item, Amount::Mass(bird.mass), Some(count), &note);
    }
    if let Some(brine) = &amounts.brine {
        if let Some(salt) = &brine.salt {
            plan.add(salt.kind.words(), each(salt.mass), say("buy-weigh-salt"));
        }
        if let Some(wet) = &brine.wet {
            if let Some(chilling) = &wet.chilling {
                plan.add(say("buy-ice"), each(chilling.ice), say("buy-ice-why"));
            }
            let note = if several {
                fill("buy-vessels", &[("count", &count)])
            } else {
                say("buy-vessel-size").to_owned()
            };
            plan.buy(
                say("buy-vessel"),
                Amount::Volume(wet.vessel),
                Some(count),
                &note,
            );
        }
    }
    if let Some(fat) = amounts.fat {
        if setup.order.guests.avoids(&["milk", "butter", "dairy"]) {
            plan.add_food("oil", say("buy-oil"), each(fat), "");
        } else {
            plan.add_food(
                "butter or oil",
                say("buy-butter"),
                each(fat),
                say("buy-butter-holds"),
            );
        }
    }
    if let Some(ThawMethod::ColdWater | ThawMethod::RunningWater) = timing.combination.thaw {
        plan.add(say("buy-bag"), Amount::Count { count }, say("buy-bag-why"));
    }
}

/// Adds what the meal needs once, however many birds there are.
pub(super) fn of_meal(plan: &mut Plan, amounts: &Amounts) {
    if let Some(gravy) = &amounts.gravy {
        let (ingredient, item, note) = match gravy.fat {
            Some(_) => ("flour", say("buy-flour"), say("buy-flour-holds")),
            None => ("maize starch", say("buy-starch"), ""),
        };
        plan.add_food(ingredient, item, Amount::Mass(gravy.thickener), note);
        if gravy.stock_to_have > Volume::ZERO {
            plan.add_food(
                "stock",
                say("buy-gravy-stock"),
                Amount::Volume(gravy.stock_to_have),
                say("buy-gravy-stock-why"),
            );
        }
    }
    if let Some(stock) = &amounts.stock
        && stock.vegetables > Mass::ZERO
    {
        plan.add_food(
            "onion, carrot and celery",
            say("buy-vegetables"),
            Amount::Mass(stock.vegetables),
            say("buy-vegetables-holds"),
        );
    }
    plan.add(
        say("buy-thermometers"),
        Amount::Count { count: 2 },
        say("buy-thermometers-why"),
    );
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::*;
    use crate::plan::{Order, plan};
    use crate::rules::Rulebook;

    fn list(birds: &Value) -> Vec<ShoppingItem> {
        let order: Order = serde_json::from_value(json!({
            "serve_at": "2026-12-19T18:30[Europe/Lisbon]",
            "now": "2026-12-18T09:00[Europe/Lisbon]",
            "guests": {"adults": 12},
            "birds": birds,
            "methods": {"brine": "wet"},
            "kitchen": {"ovens": [{"birds_at_once": 1}, {"birds_at_once": 1}]},
        }))
        .unwrap();
        let plan = plan(Rulebook::builtin(), &order).unwrap().answer;
        assert!(plan.feasible, "{:?}", plan.chains);
        plan.shopping
    }

    fn mass(list: &[ShoppingItem], item: &str) -> Mass {
        let lines: Vec<_> = list.iter().filter(|line| line.item == item).collect();
        let [
            ShoppingItem {
                amount: Some(Amount::Mass(mass)),
                ..
            },
        ] = lines[..]
        else {
            panic!("one line of {item}: {lines:?}");
        };
        *mass
    }

    fn chicken(pounds: &str, count: u32) -> Value {
        json!({"species": "chicken", "mass": pounds, "state": "thawed", "count": count})
    }

    #[test]
    fn every_bird_has_its_brine_and_the_meal_one_gravy() {
        let one = list(&json!([chicken("4 lb", 1)]));
        let two = list(&json!([chicken("4 lb", 2)]));
        let apart = list(&json!([chicken("4 lb", 1), chicken("4 lb", 1)]));
        for item in ["table salt", "ice", "butter or oil for the skin"] {
            let single = mass(&one, item);
            assert_eq!(mass(&two, item), single.plus(single), "{item}");
            assert_eq!(mass(&apart, item), single.plus(single), "{item}");
        }
        let flour = "flour for the gravy";
        assert_eq!(mass(&two, flour), mass(&one, flour));
        assert_eq!(mass(&apart, flour), mass(&one, flour));
        let bones = "onion, carrot and celery for the stock";
        assert_eq!(mass(&two, bones), mass(&apart, bones));
        assert!(mass(&two, bones) > mass(&one, bones));
    }

    #[test]
    fn a_vessel_of_each_size_is_named_with_how_many() {
        let vessels = |birds: &Value| -> Vec<String> {
            let list = list(birds).into_iter();
            let vessels = list.filter(|line| line.item.contains("vessel"));
            vessels.map(|line| line.note).collect()
        };
        let two = vessels(&json!([chicken("4 lb", 2)]));
        assert_eq!(two, ["at least this large, 2 of them"]);
        let sizes = vessels(&json!([chicken("4 lb", 1), chicken("6 lb", 1)]));
        assert_eq!(sizes, ["at least this large", "at least this large"]);
    }
}
