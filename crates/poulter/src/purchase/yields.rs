//! What share of a raw bird ends as cooked meat.
//!
//! These are measurements, not rules. Most come from the USDA National Nutrient Database for Standard Reference,
//! Release 26 (key `usda-sr26`), as arithmetic on its fields; the turkey cuts come from the Food Buying Guide
//! (key `usda-pa-1331`), read in a reprint, with end points of 170 °F and 180 °F that make them a little low.

use crate::bird::{Cut, Species};
use crate::units::{Fraction, FractionUnit};

/// Cooked meat as a share of the raw mass as bought.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct CookedYield {
    /// Meat without skin.
    pub(crate) meat: Fraction,
    /// Meat with skin.
    pub(crate) with_skin: Fraction,
    /// Where the numbers stand.
    pub(crate) source: &'static str,
    /// What the raw mass includes.
    pub(crate) of: &'static str,
}

const fn thousandths(value: i64) -> Fraction {
    Fraction::from_steps(value * 1_000_000, FractionUnit::Percent)
}

const fn row(meat: i64, with_skin: i64, source: &'static str, of: &'static str) -> CookedYield {
    CookedYield {
        meat: thousandths(meat),
        with_skin: thousandths(with_skin),
        source,
        of,
    }
}

const EMPTY: &str = "the bird without neck and giblets";
const WITH_PACK: &str = "the bird with neck and giblets";
const PART: &str = "the part as bought";
const GUIDE: &str = "USDA Food Buying Guide PA-1331, read in a reprint";

/// The yield of a species and cut; none where nothing was measured.
///
/// A bird with added solution loses more: its yield is lower, and nothing further is taken off for the solution.
pub(crate) const fn cooked_yield(
    species: Species,
    cut: Cut,
    solution_added: bool,
) -> Option<CookedYield> {
    let found = match (species, cut) {
        (Species::Turkey, Cut::Whole | Cut::Flattened) if solution_added => row(
            399,
            464,
            "USDA SR26: roasted 4147 g, 36 % bone, 9 % skin, of 5717 g raw with solution",
            EMPTY,
        ),
        (Species::Turkey, Cut::Whole | Cut::Flattened) => row(
            472,
            530,
            "with skin: USDA Food Buying Guide PA-1331, read in a reprint; without: USDA SR26, roasted 3812 g, \
             31 % bone, 7 % skin, of 5002 g raw",
            EMPTY,
        ),
        (Species::Turkey, Cut::Breast) => row(620, 620, GUIDE, PART),
        (Species::Turkey, Cut::BonelessBreast) => {
            row(750, 750, "a food-service purchasing manual", PART)
        }
        (Species::Turkey, Cut::Leg) => row(490, 490, GUIDE, PART),
        (Species::Turkey, Cut::Thigh) => row(530, 530, GUIDE, PART),
        (Species::Turkey, Cut::Drumstick) => row(470, 470, GUIDE, PART),
        (Species::Turkey, Cut::Wing) => row(430, 430, GUIDE, PART),
        (Species::Chicken, Cut::Whole | Cut::Flattened) => {
            row(322, 392, "USDA SR26, items 05013 and 05009", WITH_PACK)
        }
        (Species::Capon, Cut::Whole | Cut::Flattened) => {
            row(432, 432, "USDA SR26, item 05136", WITH_PACK)
        }
        (Species::Duck, Cut::Whole | Cut::Flattened) => {
            row(220, 381, "USDA SR26, items 05142 and 05140", WITH_PACK)
        }
        (Species::Goose, Cut::Whole | Cut::Flattened) => {
            row(315, 414, "USDA SR26, items 05149 and 05147", WITH_PACK)
        }
        _ => return None,
    };
    Some(found)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Mass;

    fn cooked(species: Species, raw: &str, solution: bool) -> (f64, f64) {
        let kilograms = Mass::parse(raw).unwrap().as_kilograms();
        let shares = cooked_yield(species, Cut::Whole, solution).unwrap();
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
