//! Words as fixed numbers. A number keeps its meaning for ever; a new word gets the next one.

use poulter_core::bird::{Cut as CoreCut, Species as CoreSpecies};
use poulter_core::brine::SaltKind as CoreSalt;
use poulter_core::direct::{BuiltinStandard, Subject};
use poulter_core::purchase::Leftovers as CoreLeftovers;
use poulter_core::rules::Comparison as CoreComparison;
use poulter_core::thaw::ThawMethod as CoreThaw;
use poulter_core::units::Unit as CoreUnit;
use poulter_core::{Error, ErrorKind};

use crate::error::CallError;

#[cold]
fn unknown(number: u32, argument: &str, prefix: &str) -> CallError {
    let expected = format!("one of {prefix}_* is needed");
    Error::new(ErrorKind::UnknownValue, number, expected)
        .at(argument)
        .into()
}

/// The word of a list that stands at a number, counted from 1.
#[inline]
fn word<T: Copy>(all: &[T], number: u32, argument: &str, prefix: &str) -> Result<T, CallError> {
    match all.get((number as usize).wrapping_sub(1)) {
        Some(&word) => Ok(word),
        None => Err(unknown(number, argument, prefix)),
    }
}

/// A standard that comes with the library; the door takes its name as text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u32)]
pub enum Standard {
    /// `us-consumer`
    UsConsumer = 1,
    /// `us-food-code-2022`
    UsFoodCode2022 = 2,
    /// `us-processor`
    UsProcessor = 3,
    /// `uk`
    Uk = 4,
    /// `scotland`
    Scotland = 5,
    /// `canada`
    Canada = 6,
    /// `australia`
    Australia = 7,
    /// `new-zealand`
    NewZealand = 8,
    /// `kitchen-practice`: customs that no authority sets
    KitchenPractice = 9,
}

/// A kind of bird.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u32)]
pub enum Species {
    /// Turkey.
    Turkey = 1,
    /// Chicken: broiler, fryer or roaster.
    Chicken = 2,
    /// Capon.
    Capon = 3,
    /// A hen of up to 2 lb, one to a person.
    SmallHen = 4,
    /// Duck or duckling.
    Duck = 5,
    /// Goose.
    Goose = 6,
    /// Guinea fowl.
    GuineaFowl = 7,
    /// Pheasant.
    Pheasant = 8,
    /// Quail.
    Quail = 9,
}

/// How the bird is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u32)]
pub enum Cut {
    /// A whole bird.
    Whole = 1,
    /// A whole bird with the backbone out, pressed flat.
    Flattened = 2,
    /// A breast or crown, on the bone.
    Breast = 3,
    /// A breast without bone.
    BonelessBreast = 4,
    /// A leg: thigh and drumstick.
    Leg = 5,
    /// A thigh.
    Thigh = 6,
    /// A drumstick.
    Drumstick = 7,
    /// A wing.
    Wing = 8,
    /// Mixed parts.
    Parts = 9,
    /// Ground meat.
    Ground = 10,
}

/// How a bird is thawed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u32)]
pub enum ThawMethod {
    /// In the refrigerator.
    Refrigerator = 1,
    /// In a leak-proof bag under cold water that is changed.
    ColdWater = 2,
    /// Under running water, as in food service.
    RunningWater = 3,
    /// In a microwave oven.
    Microwave = 4,
    /// In the cold brine.
    InBrine = 5,
    /// Not at all: cooked from frozen.
    FromFrozen = 6,
    /// At room temperature: never allowed.
    RoomTemperature = 7,
    /// In warm or hot water: never allowed.
    HotWater = 8,
}

/// How much is to be left over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u32)]
pub enum Leftovers {
    /// Nothing planned.
    None = 1,
    /// A second meal.
    Some = 2,
    /// Several meals, or for the freezer.
    Plenty = 3,
}

/// A kind of salt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u32)]
pub enum SaltKind {
    /// Fine table salt.
    Table = 1,
    /// Coarse kosher salt of the dense, rolled sort.
    KosherDense = 2,
    /// Coarse kosher salt of the light, flaked sort.
    KosherFlake = 3,
    /// Fine sea salt.
    FineSea = 4,
}

/// How a value is compared with its limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u32)]
pub enum Comparison {
    /// Below the limit.
    Below = 1,
    /// At the limit or below.
    AtMost = 2,
    /// At the limit or above.
    AtLeast = 3,
    /// Above the limit.
    Above = 4,
}

/// A unit of measure; cups, spoons, quarts and gallons are the US customary ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u32)]
pub enum Unit {
    /// `degC`, a temperature
    Celsius = 1,
    /// `degF`, a temperature
    Fahrenheit = 2,
    /// `K`, a temperature
    Kelvin = 3,
    /// `delta_degC`, a difference of temperatures
    DeltaCelsius = 4,
    /// `delta_degF`, a difference of temperatures
    DeltaFahrenheit = 5,
    /// `kg`
    Kilogram = 6,
    /// `g`
    Gram = 7,
    /// `mg`
    Milligram = 8,
    /// `lb`
    Pound = 9,
    /// `oz`
    Ounce = 10,
    /// `s`
    Second = 11,
    /// `min`
    Minute = 12,
    /// `h`
    Hour = 13,
    /// `d`
    Day = 14,
    /// `L`
    Litre = 15,
    /// `mL`
    Millilitre = 16,
    /// `gal`
    Gallon = 17,
    /// `qt`
    Quart = 18,
    /// `cup`
    Cup = 19,
    /// `floz`
    FluidOunce = 20,
    /// `tbsp`
    Tablespoon = 21,
    /// `tsp`
    Teaspoon = 22,
    /// `m`
    Metre = 23,
    /// `cm`
    Centimetre = 24,
    /// `mm`
    Millimetre = 25,
    /// `ft`
    Foot = 26,
    /// `in`
    Inch = 27,
    /// `%`
    Percent = 28,
    /// `1`, a share of a whole
    Ratio = 29,
}

const THAW_METHODS: &[CoreThaw] = &[
    CoreThaw::Refrigerator,
    CoreThaw::ColdWater,
    CoreThaw::RunningWater,
    CoreThaw::Microwave,
    CoreThaw::InBrine,
    CoreThaw::FromFrozen,
    CoreThaw::RoomTemperature,
    CoreThaw::HotWater,
];

const LEFTOVERS: &[CoreLeftovers] = &[
    CoreLeftovers::None,
    CoreLeftovers::Some,
    CoreLeftovers::Plenty,
];

/// The bird that three numbers name.
#[inline]
pub(crate) fn subject(standard: u32, species: u32, cut: u32) -> Result<Subject, CallError> {
    Ok(Subject {
        standard: word(
            BuiltinStandard::ALL,
            standard,
            "standard",
            "POULTER_STANDARD",
        )?,
        species: word(CoreSpecies::ALL, species, "species", "POULTER_SPECIES")?,
        cut: word(CoreCut::ALL, cut, "cut", "POULTER_CUT")?,
    })
}

#[inline]
pub(crate) fn thaw_method(number: u32) -> Result<CoreThaw, CallError> {
    word(THAW_METHODS, number, "method", "POULTER_THAW_METHOD")
}

#[inline]
pub(crate) fn leftovers(number: u32) -> Result<CoreLeftovers, CallError> {
    word(LEFTOVERS, number, "leftovers", "POULTER_LEFTOVERS")
}

#[inline]
pub(crate) fn salt_kind(number: u32) -> Result<CoreSalt, CallError> {
    word(CoreSalt::ALL, number, "kind", "POULTER_SALT_KIND")
}

#[inline]
pub(crate) fn unit(number: u32, argument: &str) -> Result<CoreUnit, CallError> {
    word(CoreUnit::ALL, number, argument, "POULTER_UNIT")
}

pub(crate) const fn comparison(is: CoreComparison) -> Comparison {
    match is {
        CoreComparison::Below => Comparison::Below,
        CoreComparison::AtMost => Comparison::AtMost,
        CoreComparison::AtLeast => Comparison::AtLeast,
        CoreComparison::Above => Comparison::Above,
    }
}

#[cfg(test)]
mod tests {
    use std::fmt::Debug;

    use super::*;

    /// The names of both lists are the same, and the numbers run from 1.
    fn same<T: Debug, U: Debug>(here: &[(T, u32)], core: &[U]) {
        assert_eq!(here.len(), core.len());
        for (place, ((word, number), core)) in here.iter().zip(core).enumerate() {
            assert_eq!(*number as usize, place + 1);
            assert_eq!(format!("{word:?}"), format!("{core:?}"));
        }
    }

    #[test]
    #[allow(clippy::too_many_lines)] // one line for each word
    fn every_number_stands_for_the_cores_word() {
        same(
            &[
                (Standard::UsConsumer, Standard::UsConsumer as u32),
                (Standard::UsFoodCode2022, Standard::UsFoodCode2022 as u32),
                (Standard::UsProcessor, Standard::UsProcessor as u32),
                (Standard::Uk, Standard::Uk as u32),
                (Standard::Scotland, Standard::Scotland as u32),
                (Standard::Canada, Standard::Canada as u32),
                (Standard::Australia, Standard::Australia as u32),
                (Standard::NewZealand, Standard::NewZealand as u32),
                (Standard::KitchenPractice, Standard::KitchenPractice as u32),
            ],
            BuiltinStandard::ALL,
        );
        same(
            &[
                (Species::Turkey, Species::Turkey as u32),
                (Species::Chicken, Species::Chicken as u32),
                (Species::Capon, Species::Capon as u32),
                (Species::SmallHen, Species::SmallHen as u32),
                (Species::Duck, Species::Duck as u32),
                (Species::Goose, Species::Goose as u32),
                (Species::GuineaFowl, Species::GuineaFowl as u32),
                (Species::Pheasant, Species::Pheasant as u32),
                (Species::Quail, Species::Quail as u32),
            ],
            CoreSpecies::ALL,
        );
        same(
            &[
                (Cut::Whole, Cut::Whole as u32),
                (Cut::Flattened, Cut::Flattened as u32),
                (Cut::Breast, Cut::Breast as u32),
                (Cut::BonelessBreast, Cut::BonelessBreast as u32),
                (Cut::Leg, Cut::Leg as u32),
                (Cut::Thigh, Cut::Thigh as u32),
                (Cut::Drumstick, Cut::Drumstick as u32),
                (Cut::Wing, Cut::Wing as u32),
                (Cut::Parts, Cut::Parts as u32),
                (Cut::Ground, Cut::Ground as u32),
            ],
            CoreCut::ALL,
        );
        same(
            &[
                (ThawMethod::Refrigerator, ThawMethod::Refrigerator as u32),
                (ThawMethod::ColdWater, ThawMethod::ColdWater as u32),
                (ThawMethod::RunningWater, ThawMethod::RunningWater as u32),
                (ThawMethod::Microwave, ThawMethod::Microwave as u32),
                (ThawMethod::InBrine, ThawMethod::InBrine as u32),
                (ThawMethod::FromFrozen, ThawMethod::FromFrozen as u32),
                (
                    ThawMethod::RoomTemperature,
                    ThawMethod::RoomTemperature as u32,
                ),
                (ThawMethod::HotWater, ThawMethod::HotWater as u32),
            ],
            THAW_METHODS,
        );
        same(
            &[
                (Leftovers::None, Leftovers::None as u32),
                (Leftovers::Some, Leftovers::Some as u32),
                (Leftovers::Plenty, Leftovers::Plenty as u32),
            ],
            LEFTOVERS,
        );
        same(
            &[
                (SaltKind::Table, SaltKind::Table as u32),
                (SaltKind::KosherDense, SaltKind::KosherDense as u32),
                (SaltKind::KosherFlake, SaltKind::KosherFlake as u32),
                (SaltKind::FineSea, SaltKind::FineSea as u32),
            ],
            CoreSalt::ALL,
        );
        same(
            &[
                (Unit::Celsius, Unit::Celsius as u32),
                (Unit::Fahrenheit, Unit::Fahrenheit as u32),
                (Unit::Kelvin, Unit::Kelvin as u32),
                (Unit::DeltaCelsius, Unit::DeltaCelsius as u32),
                (Unit::DeltaFahrenheit, Unit::DeltaFahrenheit as u32),
                (Unit::Kilogram, Unit::Kilogram as u32),
                (Unit::Gram, Unit::Gram as u32),
                (Unit::Milligram, Unit::Milligram as u32),
                (Unit::Pound, Unit::Pound as u32),
                (Unit::Ounce, Unit::Ounce as u32),
                (Unit::Second, Unit::Second as u32),
                (Unit::Minute, Unit::Minute as u32),
                (Unit::Hour, Unit::Hour as u32),
                (Unit::Day, Unit::Day as u32),
                (Unit::Litre, Unit::Litre as u32),
                (Unit::Millilitre, Unit::Millilitre as u32),
                (Unit::Gallon, Unit::Gallon as u32),
                (Unit::Quart, Unit::Quart as u32),
                (Unit::Cup, Unit::Cup as u32),
                (Unit::FluidOunce, Unit::FluidOunce as u32),
                (Unit::Tablespoon, Unit::Tablespoon as u32),
                (Unit::Teaspoon, Unit::Teaspoon as u32),
                (Unit::Metre, Unit::Metre as u32),
                (Unit::Centimetre, Unit::Centimetre as u32),
                (Unit::Millimetre, Unit::Millimetre as u32),
                (Unit::Foot, Unit::Foot as u32),
                (Unit::Inch, Unit::Inch as u32),
                (Unit::Percent, Unit::Percent as u32),
                (Unit::Ratio, Unit::Ratio as u32),
            ],
            CoreUnit::ALL,
        );
    }

    #[test]
    fn numbers_outside_the_list_are_refused_under_at_and_over() {
        for (number, fine) in [
            (0, false),
            (1, true),
            (10, true),
            (11, false),
            (u32::MAX, false),
        ] {
            let found = subject(1, 1, number);
            assert_eq!(found.is_ok(), fine, "{number}");
            assert!(found.is_ok() || found.is_err_and(|error| error.status() == 105));
        }
    }
}
