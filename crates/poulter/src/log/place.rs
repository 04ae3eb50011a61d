//! Where a probe sat.

use std::borrow::Cow;
use std::fmt;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::error::{Error, ErrorKind};
use crate::units::encode_error;

/// What a reading at a place can be used for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PlaceRole {
    /// Inside the food: counts towards an end point.
    Inside,
    /// On the food: never counts towards an end point.
    Surface,
    /// Round the food: oven air, refrigerator air, water.
    Medium,
}

/// The name of a place: lower-case letters, digits and hyphens.
///
/// `surface` and `skin` are on the food. `air`, `ambient`, `bath`, `brine`, `cabinet`, `chamber`, `chiller`, `cooler`,
/// `freezer`, `fridge`, `fryer`, `grate`, `grill`, `ice`, `oil`, `oven`, `pit`, `refrigerator`, `room`, `smoker` and
/// `water` are round it. So is every name with one of these words between its hyphens, with a number after it or
/// not, such as `oven-air` or `fridge2`. All others are inside the food.
///
/// ```
/// use poulter::log::{Place, PlaceRole};
/// assert_eq!(Place::named("breast")?, Place::BREAST);
/// assert_eq!(Place::AIR.role(), PlaceRole::Medium);
/// assert_eq!(Place::named("left-oven-2")?.role(), PlaceRole::Medium);
/// assert!(Place::named("left thigh").is_err());
/// # Ok::<(), poulter::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Place(Cow<'static, str>);

const MEDIA: &[&str] = &[
    "air",
    "ambient",
    "bath",
    "brine",
    "cabinet",
    "chamber",
    "chiller",
    "cooler",
    "freezer",
    "fridge",
    "fryer",
    "grate",
    "grill",
    "ice",
    "oil",
    "oven",
    "pit",
    "refrigerator",
    "room",
    "smoker",
    "water",
];
const LONGEST_NAME: usize = 40;
const EXPECTED: &str = "a place of 1 to 40 lower-case letters, digits and hyphens is needed, such as breast, thigh, wing, \
                        stuffing, core, surface, oven or water";

impl Place {
    /// The thickest part of the breast.
    pub const BREAST: Self = Self(Cow::Borrowed("breast"));
    /// The innermost part of the thigh.
    pub const THIGH: Self = Self(Cow::Borrowed("thigh"));
    /// The innermost part of the wing.
    pub const WING: Self = Self(Cow::Borrowed("wing"));
    /// The centre of the stuffing.
    pub const STUFFING: Self = Self(Cow::Borrowed("stuffing"));
    /// The coldest place inside, where no part is named.
    pub const CORE: Self = Self(Cow::Borrowed("core"));
    /// The surface of the food.
    pub const SURFACE: Self = Self(Cow::Borrowed("surface"));
    /// The air round the food.
    pub const AIR: Self = Self(Cow::Borrowed("air"));
    /// The water round the food.
    pub const WATER: Self = Self(Cow::Borrowed("water"));

    /// A place of this name.
    pub fn named(name: &str) -> Result<Self, Error> {
        let fine = (1..=LONGEST_NAME).contains(&name.len())
            && name
                .bytes()
                .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-');
        if fine {
            Ok(Self(Cow::Owned(name.to_owned())))
        } else {
            Err(Error::new(ErrorKind::UnknownValue, name, EXPECTED))
        }
    }

    /// The name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.0
    }

    /// What a reading here can be used for.
    #[must_use]
    pub fn role(&self) -> PlaceRole {
        let any = |words: &[&str]| self.words().any(|word| words.contains(&word));
        if any(&["surface", "skin"]) {
            PlaceRole::Surface
        } else if any(MEDIA) {
            PlaceRole::Medium
        } else {
            PlaceRole::Inside
        }
    }

    pub(super) fn is_refrigerator(&self) -> bool {
        self.words()
            .any(|word| matches!(word, "refrigerator" | "fridge" | "chiller"))
    }

    /// The words between hyphens, without the numbers that tell places of one kind apart.
    pub(crate) fn words(&self) -> impl Iterator<Item = &str> {
        let words = self.name().split('-');
        words.map(|word| word.trim_end_matches(|c: char| c.is_ascii_digit()))
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl Serialize for Place {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.name())
    }
}

impl<'de> Deserialize<'de> for Place {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let name = String::deserialize(deserializer)?;
        Self::named(&name).map_err(|error| encode_error(&error))
    }
}

impl JsonSchema for Place {
    fn schema_name() -> Cow<'static, str> {
        "LogPlace".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "pattern": "^[a-z0-9-]{1,40}$", "description": EXPECTED })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_checked_at_both_ends_of_their_length() {
        for (length, fine) in [(0, false), (1, true), (40, true), (41, false)] {
            assert_eq!(Place::named(&"a".repeat(length)).is_ok(), fine, "{length}");
        }
        assert!(Place::named("Breast").is_err());
    }

    #[test]
    fn what_is_round_the_food_is_never_taken_for_its_inside() {
        for (name, role) in [
            ("oven", PlaceRole::Medium),
            ("oven2", PlaceRole::Medium),
            ("left-oven", PlaceRole::Medium),
            ("oven-2", PlaceRole::Medium),
            ("pit", PlaceRole::Medium),
            ("fridge-top", PlaceRole::Medium),
            ("ice-water", PlaceRole::Medium),
            ("skin", PlaceRole::Surface),
            ("breast-surface", PlaceRole::Surface),
            ("surface-air", PlaceRole::Surface),
            ("left-thigh-2", PlaceRole::Inside),
            ("core2", PlaceRole::Inside),
            // A word within another is not that word.
            ("slice", PlaceRole::Inside),
            ("hair", PlaceRole::Inside),
            ("2", PlaceRole::Inside),
        ] {
            assert_eq!(Place::named(name).unwrap().role(), role, "{name}");
        }
    }

    #[test]
    fn the_wire_carries_the_name() {
        let place: Place = serde_json::from_str("\"left-thigh\"").unwrap();
        assert_eq!(place.role(), PlaceRole::Inside);
        assert_eq!(serde_json::to_string(&place).unwrap(), "\"left-thigh\"");
        assert!(serde_json::from_str::<Place>("\"\"").is_err());
    }
}
