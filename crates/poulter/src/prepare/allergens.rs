//! Allergens of ingredients named in plain words.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, default};
use crate::error::{Error, ErrorKind};
use crate::rules::{Case, Rulebook, Topic};

use super::ingredients::{Known, look_up};

/// An allergen of either list.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Allergen {
    /// Milk.
    Milk,
    /// Egg.
    Egg,
    /// Fish.
    Fish,
    /// Crustacean shellfish.
    Crustaceans,
    /// Tree nuts.
    TreeNuts,
    /// Peanut.
    Peanut,
    /// Wheat.
    Wheat,
    /// Soy.
    Soy,
    /// Sesame.
    Sesame,
    /// Cereals with gluten; the European list has them as one group, wheat among them.
    Gluten,
    /// Celery.
    Celery,
    /// Mustard.
    Mustard,
    /// Lupin.
    Lupin,
    /// Molluscs.
    Molluscs,
    /// Sulphur dioxide and sulphites.
    Sulphites,
}

impl Allergen {
    /// The word a reader sees.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Milk => "milk",
            Self::Egg => "egg",
            Self::Fish => "fish",
            Self::Crustaceans => "crustacean shellfish",
            Self::TreeNuts => "tree nuts",
            Self::Peanut => "peanut",
            Self::Wheat => "wheat",
            Self::Soy => "soy",
            Self::Sesame => "sesame",
            Self::Gluten => "gluten",
            Self::Celery => "celery",
            Self::Mustard => "mustard",
            Self::Lupin => "lupin",
            Self::Molluscs => "molluscs",
            Self::Sulphites => "sulphites",
        }
    }
}

/// A list of allergens that must be named.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum AllergenList {
    /// The nine of the United States (FDA, with sesame since 1 January 2023; read).
    #[default]
    UsNine,
    /// The fourteen of the European Union and the United Kingdom (from memory).
    EuUkFourteen,
}

impl AllergenList {
    /// Whether the list has the allergen. Wheat and gluten stand for the same food on different lists.
    #[must_use]
    pub const fn has(self, allergen: Allergen) -> bool {
        use Allergen::{Celery, Gluten, Lupin, Molluscs, Mustard, Sulphites, Wheat};
        match self {
            Self::UsNine => !matches!(
                allergen,
                Gluten | Celery | Mustard | Lupin | Molluscs | Sulphites
            ),
            Self::EuUkFourteen => !matches!(allergen, Wheat),
        }
    }
}

/// "Which allergens are in these ingredients?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AllergenQuery {
    /// The ingredients in plain words, at most 200 of at most 200 bytes.
    pub ingredients: Vec<String>,
    /// The list; the nine of the United States when left out.
    #[serde(default)]
    pub list: AllergenList,
    /// Allergens that a guest avoids.
    #[serde(default)]
    pub avoid: Vec<Allergen>,
    /// The standard; `us-consumer` when left out.
    #[serde(default = "default::standard")]
    pub standard: String,
}

/// The allergens of one ingredient.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct IngredientAllergens {
    /// The ingredient as given.
    pub ingredient: String,
    /// Allergens it holds.
    pub contains: Vec<Allergen>,
    /// Allergens a bought one may hold: read its label.
    pub may_contain: Vec<Allergen>,
    /// What else to know.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// The allergens of several ingredients.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Allergens {
    /// The list used.
    pub list: AllergenList,
    /// Allergens in any ingredient.
    pub contains: Vec<Allergen>,
    /// Allergens that labels must be read for.
    pub may_contain: Vec<Allergen>,
    /// Each ingredient that was recognised.
    pub ingredients: Vec<IngredientAllergens>,
    /// Ingredients with a word that is not in the table, which may bring more than is listed.
    pub unknown: Vec<String>,
    /// Ingredients a guest must not eat, or may not.
    pub findings: Vec<Finding>,
}

/// Most ingredients, and longest text of one.
const MOST: usize = 200;

/// The allergens of ingredients named in plain words.
///
/// Words are matched whole, the longest phrase first, so that "peanut butter" holds no milk. An ingredient outside the
/// table, or a further word beside a known one, is listed as unknown, never as free of allergens.
///
/// Limits: a table of words, not of products; the label of what is bought decides.
///
/// Errors: more than 200 ingredients, one longer than 200 bytes, or an unknown standard.
///
/// ```
/// use poulter::prepare::{Allergen, AllergenQuery, allergens};
/// use poulter::rules::Rulebook;
/// let query: AllergenQuery = serde_json::from_str(r#"{"ingredients": ["plain flour", "butter"]}"#)?;
/// let answer = allergens(Rulebook::builtin(), &query)?.answer;
/// assert_eq!(answer.contains, [Allergen::Milk, Allergen::Wheat]);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn allergens(book: &Rulebook, query: &AllergenQuery) -> Result<Answer<Allergens>, Error> {
    let mut basis = Basis::new(book, Case::whole_turkey(&query.standard))?;
    let value = work_out(&mut basis, query)?;
    Ok(basis.finish(value))
}

/// Allergens inside a larger answer.
pub(super) fn work_out(basis: &mut Basis<'_>, query: &AllergenQuery) -> Result<Allergens, Error> {
    if query.ingredients.len() > MOST {
        let given = query.ingredients.len();
        let expected = format!("at most {MOST} ingredients are read");
        return Err(Error::new(ErrorKind::TooLarge, given, expected).at("ingredients"));
    }
    basis.find(Topic::PeopleAllergens);
    let mut value = Allergens {
        list: query.list,
        contains: Vec::new(),
        may_contain: Vec::new(),
        ingredients: Vec::new(),
        unknown: Vec::new(),
        findings: Vec::new(),
    };
    for ingredient in &query.ingredients {
        if ingredient.len() > MOST {
            let expected = format!("at most {MOST} bytes for an ingredient are read");
            return Err(Error::new(ErrorKind::TooLarge, ingredient, expected).at("ingredients"));
        }
        let (found, more) = look_up(ingredient);
        if found.is_empty() || more {
            value.unknown.push(ingredient.clone());
        }
        if found.is_empty() {
            continue;
        }
        let one = gather(ingredient, &found, query.list);
        warn(&one, query, &mut value.findings);
        value.contains.extend(&one.contains);
        value.may_contain.extend(&one.may_contain);
        value.ingredients.push(one);
    }
    for list in [&mut value.contains, &mut value.may_contain] {
        list.sort_unstable();
        list.dedup();
    }
    if !value.unknown.is_empty() {
        let text = format!(
            "Not all is known of {}: read the label.",
            value.unknown.join(", ")
        );
        value.findings.push(Finding::caution(text, None));
    }
    Ok(value)
}

fn gather(ingredient: &str, found: &[&Known], list: AllergenList) -> IngredientAllergens {
    let on_list = |allergens: Vec<Allergen>| {
        let mut kept: Vec<_> = allergens
            .into_iter()
            // Wheat is one of the gluten cereals: on the European list it counts as that group.
            .map(|allergen| match allergen {
                Allergen::Wheat if !list.has(Allergen::Wheat) => Allergen::Gluten,
                other => other,
            })
            .filter(|&allergen| list.has(allergen))
            .collect();
        kept.sort_unstable();
        kept.dedup();
        kept
    };
    let contains = on_list(
        found
            .iter()
            .flat_map(|known| known.contains)
            .copied()
            .collect(),
    );
    let mut may_contain = on_list(found.iter().flat_map(|known| known.may).copied().collect());
    may_contain.retain(|allergen| !contains.contains(allergen));
    let notes: Vec<_> = found
        .iter()
        .map(|known| known.note)
        .filter(|note| !note.is_empty())
        .collect();
    IngredientAllergens {
        ingredient: ingredient.to_owned(),
        contains,
        may_contain,
        note: notes.join(" "),
    }
}

fn warn(one: &IngredientAllergens, query: &AllergenQuery, findings: &mut Vec<Finding>) {
    let avoided = |allergen: &Allergen| {
        query.avoid.contains(allergen)
            || (*allergen == Allergen::Gluten && query.avoid.contains(&Allergen::Wheat))
            || (*allergen == Allergen::Wheat && query.avoid.contains(&Allergen::Gluten))
    };
    for (allergens, verb) in [(&one.contains, "holds"), (&one.may_contain, "may hold")] {
        for allergen in allergens.iter().filter(|allergen| avoided(allergen)) {
            let text = format!(
                "{} {verb} {}, which a guest avoids.",
                one.ingredient,
                allergen.words()
            );
            findings.push(Finding::caution(text, None));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Allergen::{
        Celery, Egg, Fish, Gluten, Milk, Molluscs, Peanut, Sesame, Soy, Sulphites, TreeNuts, Wheat,
    };
    use super::*;

    fn ask(ingredients: &[&str], list: AllergenList, avoid: &[Allergen]) -> Allergens {
        let query = AllergenQuery {
            ingredients: ingredients.iter().map(|&text| text.to_owned()).collect(),
            list,
            avoid: avoid.to_vec(),
            standard: default::standard(),
        };
        allergens(Rulebook::builtin(), &query).unwrap().answer
    }

    #[test]
    fn the_longest_phrase_decides() {
        for (ingredient, expected) in [
            ("butter", &[Milk][..]),
            ("2 tbsp peanut butter", &[Peanut]),
            ("coconut milk", &[]),
            ("almond milk", &[TreeNuts]),
            ("soy sauce", &[Wheat, Soy]),
            ("Eggs, beaten", &[Egg]),
            ("3 anchovies", &[Fish]),
            ("egg noodles", &[Egg, Wheat]),
            ("rice flour", &[]),
            ("flour and tahini", &[Wheat, Sesame]),
            ("eggplant", &[]),
            ("oyster mushrooms", &[]),
            ("salt", &[]),
        ] {
            let found = ask(&[ingredient], AllergenList::UsNine, &[]);
            assert_eq!(found.contains, expected, "{ingredient}");
        }
    }

    #[test]
    fn the_lists_differ_as_published() {
        // FDA: nine, molluscs and celery not among them. EU and UK: fourteen, wheat within the gluten cereals.
        let dish = ["oysters", "celery", "bread flour", "white wine"];
        assert_eq!(ask(&dish, AllergenList::UsNine, &[]).contains, [Wheat]);
        let european = ask(&dish, AllergenList::EuUkFourteen, &[]);
        assert_eq!(european.contains, [Gluten, Celery, Molluscs, Sulphites]);
        let count = |list: AllergenList| {
            use Allergen::{Crustaceans, Lupin, Mustard};
            [
                Milk,
                Egg,
                Fish,
                Crustaceans,
                TreeNuts,
                Peanut,
                Wheat,
                Soy,
                Sesame,
                Gluten,
                Celery,
                Mustard,
                Lupin,
                Molluscs,
                Sulphites,
            ]
            .into_iter()
            .filter(|&allergen| list.has(allergen))
            .count()
        };
        assert_eq!(
            (
                count(AllergenList::UsNine),
                count(AllergenList::EuUkFourteen)
            ),
            (9, 14)
        );
    }

    #[test]
    fn what_is_not_known_is_never_called_free() {
        let dish = [
            "dragon fruit",
            "sea salt",
            "chicken pie",
            "pecan tart",
            "2 fresh bay leaves",
        ];
        let found = ask(&dish, AllergenList::UsNine, &[]);
        assert_eq!(found.unknown, ["dragon fruit", "chicken pie", "pecan tart"]);
        assert_eq!(found.contains, [TreeNuts]);
        assert!(found.findings[0].text.contains("dragon fruit"));
    }

    #[test]
    fn a_guest_who_avoids_is_warned_of_both_sorts() {
        let found = ask(
            &["stock cube", "flour"],
            AllergenList::UsNine,
            &[Wheat, Milk],
        );
        let texts: Vec<_> = found
            .findings
            .iter()
            .map(|finding| finding.text.as_str())
            .collect();
        assert_eq!(
            texts,
            [
                "stock cube may hold milk, which a guest avoids.",
                "stock cube may hold wheat, which a guest avoids.",
                "flour holds wheat, which a guest avoids.",
            ]
        );
        let european = ask(&["flour"], AllergenList::EuUkFourteen, &[Wheat]);
        assert_eq!(european.findings.len(), 1);
    }

    #[test]
    fn lists_are_limited_under_at_and_over() {
        for (count, fits) in [(199, true), (200, true), (201, false)] {
            let query = AllergenQuery {
                ingredients: vec!["salt".to_owned(); count],
                list: AllergenList::UsNine,
                avoid: Vec::new(),
                standard: default::standard(),
            };
            assert_eq!(
                allergens(Rulebook::builtin(), &query).is_ok(),
                fits,
                "{count}"
            );
            let query = AllergenQuery {
                ingredients: vec!["x".repeat(count)],
                ..query
            };
            assert_eq!(
                allergens(Rulebook::builtin(), &query).is_ok(),
                fits,
                "{count}"
            );
        }
    }
}
