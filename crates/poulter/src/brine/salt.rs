//! Kinds of salt: what a cup weighs, and why a volume without a kind says nothing.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::{Error, ErrorKind};
use crate::units::{Mass, MassUnit, Volume};

/// A kind of salt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum SaltKind {
    /// Fine table salt.
    Table,
    /// Coarse kosher salt of the dense, rolled sort.
    KosherDense,
    /// Coarse kosher salt of the light, flaked sort.
    KosherFlake,
    /// Fine sea salt.
    FineSea,
}

impl SaltKind {
    /// Every one.
    pub const ALL: &'static [Self] = &[
        Self::Table,
        Self::KosherDense,
        Self::KosherFlake,
        Self::FineSea,
    ];

    /// The words a reader sees.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Table => "table salt",
            Self::KosherDense => "dense kosher salt",
            Self::KosherFlake => "flaked kosher salt",
            Self::FineSea => "fine sea salt",
        }
    }

    /// Grams in a US cup: lightest, nominal, heaviest.
    ///
    /// Table salt: 292 g by USDA SR26 item 02047 (read), 288 g from its tablespoon. The others: two conversion tables
    /// (read, no authority); makers differ by about 10 %. The nominal values of the kosher kinds are the ones the
    /// tables print for "1 cup a gallon"; fine sea salt takes the middle.
    const fn grams_per_cup(self) -> [i64; 3] {
        match self {
            Self::Table => [288, 292, 292],
            Self::KosherDense => [230, 240, 256],
            Self::KosherFlake => [135, 145, 160],
            Self::FineSea => [240, 248, 256],
        }
    }

    /// The mass of a volume of this kind: lightest, nominal, heaviest.
    pub(crate) fn weigh(self, volume: Volume) -> [Mass; 3] {
        self.grams_per_cup().map(|grams| by_cup(volume, grams))
    }

    /// The nominal mass of a volume of this kind.
    #[inline]
    pub(crate) fn weigh_nominal(self, volume: Volume) -> Mass {
        by_cup(volume, self.grams_per_cup()[1])
    }

    /// Grams in one step of volume, of the nominal mass before it is rounded.
    pub(crate) fn grams_per_step(self) -> f64 {
        self.grams_per_cup()[1] as f64 / CUP.steps() as f64
    }

    /// The volume that a mass of this kind fills: smallest to largest.
    pub(crate) fn fill(self, mass: Mass) -> (Volume, Volume) {
        let [light, _, heavy] = self.grams_per_cup();
        let spoons = |grams: i64| {
            CUP.times_ratio(mass.steps() / MILLIGRAM_STEPS, grams * 1000)
                .in_unit(crate::units::VolumeUnit::Tablespoon)
        };
        (spoons(heavy), spoons(light))
    }
}

/// The mass of a volume at so many grams a cup.
#[inline]
fn by_cup(volume: Volume, grams: i64) -> Mass {
    Mass::from_steps(MILLIGRAM_STEPS * 1000 * grams, MassUnit::Gram)
        .times_ratio(volume.steps() / 1000, CUP.steps() / 1000)
}

const CUP: Volume = Volume::from_steps(23_658_823_650_000, crate::units::VolumeUnit::Cup);
const MILLIGRAM_STEPS: i64 = 1_000_000;

/// An amount of salt as a recipe prints it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SaltGiven {
    /// Its mass.
    #[serde(default)]
    pub mass: Option<Mass>,
    /// Its volume; then the kind must be named.
    #[serde(default)]
    pub volume: Option<Volume>,
    /// Its kind.
    #[serde(default)]
    pub kind: Option<SaltKind>,
}

impl SaltGiven {
    /// The mass: lightest, nominal, heaviest.
    pub(crate) fn masses(&self) -> Result<[Mass; 3], Error> {
        match (self.mass, self.volume, self.kind) {
            (Some(mass), None, _) => Ok([mass; 3]),
            (None, Some(volume), Some(kind)) => Ok(kind.weigh(volume)),
            (None, Some(volume), None) => Err(Error::new(
                ErrorKind::SaltKindMissing,
                volume,
                "one of table, kosher-dense, kosher-flake, fine-sea is needed: a cup weighs from 135 g to 292 g",
            )
            .at("kind")),
            (Some(mass), Some(_), _) => {
                Err(Error::new(ErrorKind::Conflict, mass, "either a mass or a volume is needed").at("mass"))
            }
            (None, None, _) => {
                Err(Error::new(ErrorKind::MissingField, "", "a mass or a volume of salt is needed").at("mass"))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_spoon_for_five_pounds_weighs_what_the_tables_print() {
        // Two conversion tables: 10 g of flakes, 16 g dense, 18 g table salt a tablespoon; 5 lb are 2267.96 g.
        let spoon = Volume::parse("1 tbsp").unwrap();
        for (kind, percent) in [
            (SaltKind::KosherFlake, 0.44),
            (SaltKind::KosherDense, 0.71),
            (SaltKind::Table, 0.80),
        ] {
            let heaviest = kind.weigh(spoon)[2].as_grams();
            assert!(
                (heaviest / 2267.96 * 100.0 - percent).abs() < 0.01,
                "{kind:?}: {heaviest}"
            );
        }
    }

    #[test]
    fn filling_and_weighing_are_inverse() {
        let mass = Mass::parse("219 g").unwrap();
        let (small, large) = SaltKind::Table.fill(mass);
        assert!((small.as_cups() - 0.75).abs() < 1e-6);
        assert!(large > small);
    }

    #[test]
    fn a_volume_needs_its_kind() {
        let given = |text: &str| serde_json::from_str::<SaltGiven>(text).unwrap();
        let kind = |text: &str| given(text).masses().unwrap_err().kind();
        assert_eq!(kind(r#"{"volume": "1 cup"}"#), ErrorKind::SaltKindMissing);
        assert_eq!(kind("{}"), ErrorKind::MissingField);
        assert_eq!(
            kind(r#"{"volume": "1 cup", "mass": "1 g"}"#),
            ErrorKind::Conflict
        );
        assert!(given(r#"{"mass": "219 g"}"#).masses().is_ok());
    }
}
