//! Where a probe sat.

use std::borrow::Cow;
use std::fmt;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::error::{Error, ErrorKind};
use crate::units::encode_error;

/// What a reading at a place can be used for.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
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
pub struct Place {
    name: Cow<'static, str>,
    /// What the words of the name say.
    role: PlaceRole,
}

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
    pub const BREAST: Self = Self::known("breast", PlaceRole::Inside);
    /// The innermost part of the thigh.
    pub const THIGH: Self = Self::known("thigh", PlaceRole::Inside);
    /// The innermost part of the wing.
    pub const WING: Self = Self::known("wing", PlaceRole::Inside);
    /// The centre of the stuffing.
    pub const STUFFING: Self = Self::known("stuffing", PlaceRole::Inside);
    /// The coldest place inside, where no part is named.
    pub const CORE: Self = Self::known("core", PlaceRole::Inside);
    /// The surface of the food.
    pub const SURFACE: Self = Self::known("surface", PlaceRole::Surface);
    /// The air round the food.
    pub const AIR: Self = Self::known("air", PlaceRole::Medium);
    /// The water round the food.
    pub const WATER: Self = Self::known("water", PlaceRole::Medium);

    const fn known(name: &'static str, role: PlaceRole) -> Self {
        let name = Cow::Borrowed(name);
        Self { name, role }
    }

    /// A place of this name.
    pub fn named(name: &str) -> Result<Self, Error> {
        let fine = (1..=LONGEST_NAME).contains(&name.len())
            && name
                .bytes()
                .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-');
        if fine {
            Ok(Self {
                role: role_of(name),
                name: Cow::Owned(name.to_owned()),
            })
        } else {
            Err(Error::new(ErrorKind::UnknownValue, name, EXPECTED))
        }
    }

    /// The name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// What a reading here can be used for.
    #[must_use]
    pub const fn role(&self) -> PlaceRole {
        self.role
    }

    pub(super) fn is_refrigerator(&self) -> bool {
        self.words()
            .any(|word| matches!(word, "refrigerator" | "fridge" | "chiller"))
    }

    /// The words of the name.
    pub(crate) fn words(&self) -> impl Iterator<Item = &str> {
        words_of(self.name())
    }
}

/// The words between hyphens, without the numbers that tell places of one kind apart.
fn words_of(name: &str) -> impl Iterator<Item = &str> {
    let words = name.split('-');
    words.map(|word| word.trim_end_matches(|c: char| c.is_ascii_digit()))
}

fn role_of(name: &str) -> PlaceRole {
    let any = |known: &[&str]| words_of(name).any(|word| known.contains(&word));
    if any(&["surface", "skin"]) {
        PlaceRole::Surface
    } else if any(MEDIA) {
        PlaceRole::Medium
    } else {
        PlaceRole::Inside
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
    fn the_known_places_are_what_their_names_say() {
        use Place as P;
        for known in [
            P::BREAST,
            P::THIGH,
            P::WING,
            P::STUFFING,
            P::CORE,
            P::SURFACE,
            P::AIR,
            P::WATER,
        ] {
            assert_eq!(Place::named(known.name()).unwrap(), known);
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
