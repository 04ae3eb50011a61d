//! What share of a raw bird ends as cooked meat.
//!
//! A whole turkey's yield stands in the rules. The rest are measurements, kept here. Most come from the USDA National Nutrient Database for Standard Reference,
//! Release 26 (key `usda-sr26`), as arithmetic on its fields; the turkey cuts come from the Food Buying Guide
//! (key `usda-pa-1331`), read in a reprint, with end points of 170 °F and 180 °F that make them a little low.

use crate::answer::Basis;
use crate::bird::{Cut, Species};
use crate::rules::{Requirement, Topic};
use crate::units::{Fraction, FractionUnit};

/// Cooked meat as a share of the raw mass as bought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct CookedYield {
    /// Meat without skin.
    pub(crate) meat: Fraction,
    /// Meat with skin.
    pub(crate) with_skin: Fraction,
    /// Where the numbers stand.
    pub(crate) source: String,
    /// What the raw mass includes.
    pub(crate) of: &'static str,
}

const EMPTY: &str = "the bird without neck and giblets";
const WITH_PACK: &str = "the bird with neck and giblets";
const PART: &str = "the part as bought";
const GUIDE: &str = "USDA Food Buying Guide PA-1331, read in a reprint";

/// The yield of a species and cut: the standard's rule where there is one, else a measurement; none where neither is.
///
/// A bird with added solution loses more: its yield is lower, and nothing further is taken off for the solution.
pub(crate) fn cooked_yield(
    basis: &mut Basis<'_>,
    species: Species,
    cut: Cut,
    solution_added: bool,
) -> Option<CookedYield> {
    let before = basis.case.process;
    basis.case.process = solution_added.then_some("solution-added");
    let rule = basis.find(Topic::PurchaseYield);
    basis.case.process = before;
    if let Some(rule) = rule
        && let Requirement::Share { low, high } = rule.requirement
    {
        return Some(CookedYield {
            meat: low,
            with_skin: high,
            source: rule.id.clone(),
            of: sold_as(species, cut),
        });
    }
    let (meat, with_skin, source) = measured(species, cut)?;
    Some(CookedYield {
        meat: Fraction::from_steps(meat * 1_000_000, FractionUnit::Percent),
        with_skin: Fraction::from_steps(with_skin * 1_000_000, FractionUnit::Percent),
        source: source.to_owned(),
        of: sold_as(species, cut),
    })
}

/// What a yield's raw mass includes: the nutrient database has its turkey without the pack and every other bird with it.
const fn sold_as(species: Species, cut: Cut) -> &'static str {
    match (species, cut) {
        (Species::Turkey, Cut::Whole | Cut::Flattened) => EMPTY,
        (_, Cut::Whole | Cut::Flattened) => WITH_PACK,
        _ => PART,
    }
}

/// Thousandths of the raw mass without and with skin, and the source.
const fn measured(species: Species, cut: Cut) -> Option<(i64, i64, &'static str)> {
    use Cut::{BonelessBreast, Breast, Drumstick, Flattened, Leg, Thigh, Whole, Wing};
    use Species::{Capon, Chicken, Duck, Goose, Turkey};
    Some(match (species, cut) {
        (Turkey, Breast) => (620, 620, GUIDE),
        (Turkey, BonelessBreast) => (750, 750, "a food-service purchasing manual"),
        (Turkey, Leg) => (490, 490, GUIDE),
        (Turkey, Thigh) => (530, 530, GUIDE),
        (Turkey, Drumstick) => (470, 470, GUIDE),
        (Turkey, Wing) => (430, 430, GUIDE),
        (Chicken, Whole | Flattened) => (322, 392, "USDA SR26, items 05013 and 05009"),
        (Capon, Whole | Flattened) => (432, 432, "USDA SR26, item 05136, with skin"),
        (Duck, Whole | Flattened) => (220, 381, "USDA SR26, items 05142 and 05140"),
        (Goose, Whole | Flattened) => (315, 414, "USDA SR26, items 05149 and 05147"),
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::{Case, Rulebook};
    use crate::units::Mass;

    fn cooked(species: Species, raw: &str, solution: bool) -> (f64, f64) {
        let kilograms = Mass::parse(raw).unwrap().as_kilograms();
        let case = Case {
            species,
            ..Case::whole_turkey("us-consumer")
        };
        let mut basis = Basis::new(Rulebook::builtin(), case).unwrap();
        let shares = cooked_yield(&mut basis, species, Cut::Whole, solution).unwrap();
        (
            kilograms * shares.meat.as_ratio(),
            kilograms * shares.with_skin.as_ratio(),
        )
    }

    #[test]
    fn birds_of_the_nutrient_database_come_out() {
        // USDA SR26: 5002 g raw gives 3812 g roasted with 31 % refuse (2.630 kg) and 38 % without skin (2.363 kg).
        let (meat, with_skin) = cooked(Species::Turkey, "5.002 kg", false);
        assert!((meat / 2.363 - 1.0).abs() < 0.01 && (with_skin / 2.630 - 1.0).abs() < 0.01);
        // The bird with solution: 5717 g raw, 4147 g roasted, 36 % refuse, 45 % without skin.
        let (meat, with_skin) = cooked(Species::Turkey, "5.717 kg", true);
        assert!((meat / (4.147 * 0.55) - 1.0).abs() < 0.005);
        assert!((with_skin / (4.147 * 0.64) - 1.0).abs() < 0.005);
        // Broiler 05009: 178 g for each pound; a bird of 1.512 kg gives 0.593 kg with skin.
        assert!((cooked(Species::Chicken, "1.512 kg", false).1 / 0.593 - 1.0).abs() < 0.02);
        // Duck 05142: 100 g of meat for each pound; a bird of 2.0 kg gives 0.440 kg.
        assert!((cooked(Species::Duck, "2 kg", false).0 / 0.440 - 1.0).abs() < 0.02);
    }
}
