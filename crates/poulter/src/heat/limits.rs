//! What the model covers, and what it leaves out.

use std::fmt::Display;

use crate::bird::Species;
use crate::error::{Error, ErrorKind};
use crate::units::{Mass, MassUnit};

use super::material::Material;

/// The flesh whose thermal properties the model holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Flesh {
    /// Turkey, by [`Composition::TURKEY`](crate::bird::Composition::TURKEY).
    Turkey,
    /// Chicken, by [`Composition::CHICKEN`](crate::bird::Composition::CHICKEN).
    Chicken,
}

impl Flesh {
    /// The flesh of a species; a species whose composition the model does not hold is refused.
    pub(super) fn of(species: Species) -> Result<Self, Error> {
        match species {
            Species::Turkey => Ok(Self::Turkey),
            Species::Chicken => Ok(Self::Chicken),
            _ => Err(Error::new(
                ErrorKind::ModelRange,
                species.name(),
                "the heat model covers turkey and chicken; no other bird was compared with it",
            )
            .at("species")),
        }
    }

    pub(super) fn material(self) -> &'static Material {
        match self {
            Self::Turkey => Material::turkey(),
            Self::Chicken => Material::chicken(),
        }
    }
}

/// Smallest and largest bird that the model was compared with: a chicken of 1.5 kg (UK guidance), a turkey of 24 lb
/// (USDA table).
pub(super) const SMALLEST: Mass = Mass::from_steps(1_500_000_000_000, MassUnit::Kilogram);
/// See [`SMALLEST`].
pub(super) const LARGEST: Mass = Mass::from_steps(24 * 453_592_370_000, MassUnit::Pound);

/// What every answer of the model leaves out.
const ALWAYS: [&str; 3] = [
    "bone, the cavity and the true shape: the bird is one depth whose area changes as that of a cylinder",
    "dripping, shrinking and the drying of the skin; only evaporation through the skin is counted",
    "no measured temperature curve of a whole bird was available to check the model; times come from published tables",
];

pub(super) const ROAST_LEAVES_OUT: [&str; 6] = [
    ALWAYS[0],
    "dripping, shrinking and the drying of the skin; only evaporation through the skin is counted, where the whole loss of 128 turkeys roasted to 82.2 °C had a median of 23 % (Chang, Carpenter and Toledo 1998)",
    ALWAYS[2],
    "bags, lids, basting, shading by the pan and an oven that swings; its lag, its door and foil only as far as they were given, by judged and not measured coefficients",
    "which place is last: the model makes it the breast, measurements of one study the joints (15 to 20 % sooner)",
    "safety: a thermometer in every place decides, never this time",
];

pub(super) const THAW_LEAVES_OUT: [&str; 5] = [
    ALWAYS[0],
    ALWAYS[1],
    ALWAYS[2],
    "the air in the wrap and the packing on the shelf, which change the time by a factor of two",
    "safety: the rule for the method decides temperature and time limits, never this time",
];

pub(super) const REST_LEAVES_OUT: [&str; 5] = [
    ALWAYS[0],
    ALWAYS[1],
    ALWAYS[2],
    "no measured series of carry-over was available; the model lies above the usual figures and is scaled down",
    "safety: carry-over never counts toward a minimum temperature",
];

pub(super) const COOLING_LEAVES_OUT: [&str; 5] = [
    ALWAYS[0],
    ALWAYS[1],
    "what a refrigerator does when warm food is put into it, and the food beside it",
    "the container, its lid and, in liquids that are not stirred, their own motion",
    "safety: measured temperatures decide against the cooling rule, never this time",
];

pub(super) const COOLING_LIQUID_LEAVES_OUT: [&str; 6] = [
    "the sides of the container: heat leaves a wide layer through its faces alone",
    "evaporation: the liquid is taken as covered",
    COOLING_LEAVES_OUT[2],
    COOLING_LEAVES_OUT[3],
    "growth: the published parameters are those of roasted chicken, not of stock or gravy, and no figure is given",
    COOLING_LEAVES_OUT[4],
];

/// Where the properties come from, in every answer of the model.
const PROPERTIES: [&str; 3] = [
    "Choi and Okos 1986: thermal properties of the components of food",
    "Chen 1985: ice below the freezing point (from memory)",
    "ASHRAE Handbook, Refrigeration, thermal properties of foods: composition of turkey and chicken (from memory)",
];

pub(super) const ROAST_SOURCES: [&str; 5] = [
    PROPERTIES[0],
    PROPERTIES[1],
    PROPERTIES[2],
    "USDA timetables for turkey at 325 °F: the lengths of the zones were fitted to them",
    "Chang, Carpenter and Toledo 1998, J Food Sci 63(2) 257 and 262: surface coefficient and cooking loss compared (abstract)",
];

pub(super) const THAW_SOURCES: [&str; 4] = [
    PROPERTIES[0],
    PROPERTIES[1],
    PROPERTIES[2],
    "surface coefficients set by hand so that 12 lb meets the usual rules for refrigerator and water",
];

pub(super) const COOLING_SOURCES: [&str; 4] = [
    PROPERTIES[0],
    PROPERTIES[1],
    PROPERTIES[2],
    "J Food Prot 69(1), 2006: cooling of turkey roasts, compared in magnitude (abstract)",
];

/// Refuses a value outside the range in which the model was checked.
pub(super) fn within<T: PartialOrd + Display>(
    field: &str,
    value: &T,
    low: &T,
    high: &T,
) -> Result<(), Error> {
    if value >= low && value <= high {
        return Ok(());
    }
    Err(Error::new(
        ErrorKind::ModelRange,
        value,
        format!("the heat model was checked from {low} to {high}"),
    )
    .at(field))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_mass_is_tested_under_at_and_over() {
        for (text, fine) in [
            ("1.499999 kg", false),
            ("1.5 kg", true),
            ("1.500001 kg", true),
            ("23.9999 lb", true),
            ("24 lb", true),
            ("24.0001 lb", false),
        ] {
            let mass = Mass::parse(text).unwrap();
            let checked = within("mass", &mass, &SMALLEST, &LARGEST);
            assert_eq!(checked.is_ok(), fine, "{text}");
        }
    }

    #[test]
    fn a_species_without_a_composition_is_refused() {
        for &species in Species::ALL {
            let covered = matches!(species, Species::Turkey | Species::Chicken);
            match Flesh::of(species) {
                Ok(_) => assert!(covered, "{species:?}"),
                Err(error) => {
                    assert!(!covered, "{species:?}");
                    assert_eq!((error.code(), error.field()), (401, "species"));
                    assert!(error.expected().contains("turkey and chicken"), "{error}");
                }
            }
        }
    }

    #[test]
    fn a_refusal_names_field_and_range() {
        let mass = Mass::parse("30 lb").unwrap();
        let error = within("mass", &mass, &SMALLEST, &LARGEST).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::ModelRange);
        assert_eq!(error.field(), "mass");
        assert!(error.expected().contains("24 lb"), "{error}");
    }
}
