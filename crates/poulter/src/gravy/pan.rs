//! What the roasting pan gives: drippings and rendered fat, as ranges.

use crate::answer::{Basis, Finding};
use crate::bird::{Cut, Species};
use crate::rules::{Requirement, Topic};
use crate::units::{Fraction, Mass, Volume, VolumeUnit};

use super::GravyQuery;

/// Liquid from a roast turkey with its fat, 2 to 3 cups (home-economics page, common practice).
const TURKEY_DRIPPINGS: (Volume, Volume) = (
    Volume::from_steps(47_317_647_300_000, VolumeUnit::Cup),
    Volume::from_steps(70_976_470_950_000, VolumeUnit::Cup),
);

/// The least and the most of what the birds leave in their pans.
pub(super) struct Pan {
    /// Liquid with its fat; none where nothing is published.
    pub(super) drippings: Option<(Volume, Volume)>,
    /// Fat alone; none without a mass or a rule.
    pub(super) fat: Option<(Mass, Mass)>,
}

impl Pan {
    pub(super) fn of(basis: &mut Basis<'_>, query: &GravyQuery, rules: &mut Vec<String>) -> Self {
        let turkey =
            query.species == Species::Turkey && matches!(query.cut, Cut::Whole | Cut::Flattened);
        let by_mass = query.bird_mass.and_then(|mass| {
            let (low, high) = share(basis, Topic::GravyDrippings, rules)?;
            Some((water(of(mass, low)), water(of(mass, high))))
        });
        let (least, most) = TURKEY_DRIPPINGS;
        Self {
            drippings: turkey.then(|| match by_mass {
                // Two sources, neither of them sure: the range takes in both.
                Some((low, high)) => (low.min(least), high.max(most)),
                None => (least, most),
            }),
            fat: query.bird_mass.and_then(|mass| {
                let (low, high) = share(basis, Topic::GravyRenderedFat, rules)?;
                Some((of(mass, low), of(mass, high)))
            }),
        }
    }

    /// What to have at hand where the pan may give less fat than the roux takes.
    pub(super) fn short_of_fat(&self, basis: &Basis<'_>, roux: Mass) -> Option<Finding> {
        let (low, high) = self.fat?;
        let units = basis.units;
        let renders = if low == high {
            format!("about {}", units.mass(high))
        } else if low == Mass::ZERO {
            format!("at most {}", units.mass(high))
        } else {
            format!("{} to {}", units.mass(low), units.mass(high))
        };
        let roux_takes = format!(
            "The roux takes {} of fat and {renders} renders",
            units.mass(roux)
        );
        (low < roux).then(|| {
            // A fat bird gives plenty, but no source says how little it can be.
            let text = if low == Mass::ZERO && high >= roux {
                format!("{roux_takes}; no source says how little that can be.")
            } else {
                format!("{roux_takes}: have other fat at hand, and mind that butter holds milk.")
            };
            Finding::advice(text, None)
        })
    }
}

fn share(
    basis: &mut Basis<'_>,
    topic: Topic,
    rules: &mut Vec<String>,
) -> Option<(Fraction, Fraction)> {
    let rule = basis.find(topic)?;
    rules.push(rule.id.clone());
    match rule.requirement {
        Requirement::Share { low, high } => Some((low, high)),
        _ => None,
    }
}

fn of(mass: Mass, share: Fraction) -> Mass {
    mass.times_ratio(share.steps(), 1_000_000_000)
}

/// Drippings are nearly all water: a millilitre for a gram.
fn water(mass: Mass) -> Volume {
    Volume::parse("1 mL")
        .unwrap_or(Volume::ZERO)
        .times_ratio(mass.steps(), 1_000_000_000)
        .in_unit(VolumeUnit::Cup)
}

#[cfg(test)]
mod tests {
    use crate::gravy::{Gravy, GravyQuery, gravy};
    use crate::rules::Rulebook;
    use crate::units::{Mass, Volume};

    fn ask(text: &str) -> Gravy {
        let query: GravyQuery = serde_json::from_str(text).unwrap();
        gravy(Rulebook::builtin(), &query).unwrap().answer
    }

    fn says_short(gravy: &Gravy) -> bool {
        let mut texts = gravy.findings.iter().map(|finding| &finding.text);
        texts.any(|text| text.contains("have other fat at hand"))
    }

    #[test]
    fn waterfowl_render_up_to_the_balance_of_the_nutrient_database() {
        // USDA SR26, fat of the raw bird less fat of the roast one: duck 0.28 kg of 2.0 kg, goose 0.55 kg of 3.74 kg,
        // broiler about 57 g of 1.5 kg.
        for (species, mass, least, most) in [
            ("duck", "2 kg", 0.0, 0.28),
            ("goose", "3.74 kg", 0.0, 0.55),
            ("chicken", "1.5 kg", 0.057, 0.057),
        ] {
            let gravy = ask(&format!(
                r#"{{"guests": 4, "species": "{species}", "bird_mass": "{mass}"}}"#
            ));
            let low = gravy.rendered_fat_low.unwrap().as_kilograms();
            let high = gravy.rendered_fat_high.unwrap().as_kilograms();
            assert!((low - least).abs() < 0.012, "{species}: {low}");
            assert!((high - most).abs() < 0.012, "{species}: {high}");
            assert_eq!(gravy.drippings_low, None, "{species}");
        }
    }

    #[test]
    fn a_turkey_gives_two_to_three_cups_widened_by_its_mass() {
        // Home-economics page: 2 to 3 cups. Loss of 23 to 24 % with a quarter to a third of it dripping (from memory):
        // 5.75 % to 8 % of the raw mass, 0.2875 to 0.4 L of 5 kg and 0.575 to 0.8 L of 10 kg.
        let cups = |volume: Option<Volume>| volume.unwrap().as_cups();
        for (mass, low, high) in [("5 kg", 0.2875 / 0.2366, 3.0), ("10 kg", 2.0, 0.8 / 0.2366)] {
            let gravy = ask(&format!(r#"{{"guests": 12, "bird_mass": "{mass}"}}"#));
            assert!((cups(gravy.drippings_low) - low).abs() < 0.01, "{mass}");
            assert!((cups(gravy.drippings_high) - high).abs() < 0.01, "{mass}");
            assert!((gravy.stock_to_have.as_cups() - (4.0 - low)).abs() < 0.01);
        }
        let unweighed = ask(r#"{"guests": 12}"#);
        assert_eq!(cups(unweighed.drippings_low), 2.0);
        assert_eq!(cups(unweighed.drippings_high), 3.0);
        assert_eq!(unweighed.rendered_fat_low, None);
    }

    #[test]
    fn fat_at_hand_is_asked_for_under_at_and_over() {
        // 62.5 g of fat for twelve; the least that renders is 1 % of the mass.
        for (mass, short) in [("6.249 kg", true), ("6.25 kg", false), ("6.251 kg", false)] {
            let gravy = ask(&format!(r#"{{"guests": 12, "bird_mass": "{mass}"}}"#));
            assert_eq!(gravy.fat, Some(Mass::parse("62.5 g").unwrap()));
            assert_eq!(says_short(&gravy), short, "{mass}");
        }
        let butter = ask(r#"{"guests": 12, "bird_mass": "1 kg", "fat": "butter"}"#);
        assert!(!says_short(&butter));
    }
}
