//! The table of ingredients and their allergens.
//!
//! Sources: the nine major allergens of the FDA (key `fda-allergens`, read in copies) with its notes on wheat, bread,
//! milk, molluscs and nuts; the fourteen of the European Union and the United Kingdom (Regulation (EU) 1169/2011,
//! Annex II, from memory); what bought stock, sauces and basted birds may hold is common knowledge of labels. Chestnut
//! and coconut left the FDA's list of tree nuts in January 2025 (from memory).

use std::collections::HashMap;
use std::sync::LazyLock;

use super::Allergen::{
    self, Celery, Crustaceans, Egg, Fish, Gluten, Lupin, Milk, Molluscs, Mustard, Peanut, Sesame,
    Soy, Sulphites, TreeNuts, Wheat,
};

/// What is known of an ingredient.
#[derive(Debug)]
pub(super) struct Known {
    /// The words, in the singular and lower case; a plural in s, es or ies is matched too.
    words: &'static [&'static str],
    /// Allergens it holds.
    pub(super) contains: &'static [Allergen],
    /// Allergens a bought one may hold.
    pub(super) may: &'static [Allergen],
    /// What else to know.
    pub(super) note: &'static str,
}

const fn known(
    words: &'static [&'static str],
    contains: &'static [Allergen],
    may: &'static [Allergen],
    note: &'static str,
) -> Known {
    Known {
        words,
        contains,
        may,
        note,
    }
}

const WHEAT_AND_GLUTEN: &[Allergen] = &[Wheat, Gluten];

#[rustfmt::skip]
static TABLE: &[Known] = &[
    known(&["bread", "breadcrumb", "bread crumb", "stuffing mix", "bread stuffing", "cracker", "crouton",
        "panko", "sourdough", "baguette", "pastry", "biscuit"],
        WHEAT_AND_GLUTEN, &[Milk, Egg, Soy, Sesame], "Bread may hold milk, egg, soy or sesame."),
    known(&["flour", "roux", "seitan", "spelt", "semolina", "couscous", "bulgur", "wheat", "pasta", "bread flour"],
        WHEAT_AND_GLUTEN, &[], ""),
    known(&["egg noodle"], &[Wheat, Gluten, Egg], &[], ""),
    known(&["noodle"], WHEAT_AND_GLUTEN, &[Egg], ""),
    known(&["cornbread"], &[], &[Wheat, Gluten, Milk, Egg], "Corn bread usually holds wheat flour."),
    known(&["barley", "rye", "beer"], &[Gluten], &[Wheat], ""),
    known(&["stuffing", "dressing"], &[], &[Wheat, Gluten, Milk, Egg, Soy, Sesame, Celery], "Most stuffing is made of bread."),
    known(&["oat", "oatmeal"], &[Gluten], &[Wheat], "Oats are often milled beside wheat."),
    known(&["rice flour", "corn flour", "cornflour", "cornstarch", "corn starch", "potato starch", "chickpea flour",
        "cornmeal", "rice", "wild rice"], &[], &[], ""),
    known(&["almond flour", "almond milk"], &[TreeNuts], &[], ""),
    known(&["oat milk"], &[Gluten], &[Wheat], ""),
    known(&["soy milk", "soya milk", "tofu", "soy", "soya", "soybean", "miso", "edamame"], &[Soy], &[Wheat, Gluten], ""),
    known(&["butter", "milk", "cream", "cheese", "ghee", "buttermilk", "yogurt", "yoghurt", "creme fraiche", "parmesan"],
        &[Milk], &[], ""),
    known(&["margarine"], &[], &[Milk, Soy], ""),
    known(&["egg", "mayonnaise", "egg wash"], &[Egg], &[Mustard], ""),
    known(&["peanut", "peanut butter", "groundnut"], &[Peanut], &[], ""),
    known(&["peanut oil", "groundnut oil"], &[Peanut], &[], "Highly refined peanut oil is exempt on US labels; tell the guest all the same."),
    known(&["walnut", "pecan", "almond", "hazelnut", "cashew", "pistachio", "macadamia", "brazil nut", "nut", "praline",
        "marzipan"], &[TreeNuts], &[], ""),
    known(&["chestnut", "coconut", "coconut milk", "coconut cream"], &[], &[],
        "Off the FDA's list of tree nuts since January 2025 and not on the European one; some guests react all the same."),
    known(&["butternut squash", "eggplant", "cream of tartar", "oyster mushroom", "water chestnut", "nutmeg", "cocoa butter",
        "crab apple", "butter bean", "butter lettuce"], &[], &[], ""),
    known(&["nut butter", "almond butter"], &[TreeNuts], &[], ""),
    known(&["oyster", "mussel", "clam", "scallop", "squid"], &[Molluscs], &[],
        "Molluscs are on the European list, not on the FDA's."),
    known(&["oyster sauce"], &[Molluscs], &[Wheat, Gluten, Soy], ""),
    known(&["shrimp", "prawn", "crab", "lobster", "crayfish", "crawfish"], &[Crustaceans], &[], ""),
    known(&["fish", "anchovy", "salmon", "tuna", "fish sauce"], &[Fish], &[], ""),
    known(&["worcestershire", "worcestershire sauce"], &[Fish], &[Wheat, Gluten, Soy], ""),
    known(&["soy sauce", "soya sauce", "teriyaki sauce"], &[Soy, Wheat, Gluten], &[], ""),
    known(&["sesame", "tahini", "sesame oil", "sesame seed"], &[Sesame], &[], ""),
    known(&["celery", "celeriac", "celery seed", "celery salt"], &[Celery], &[], ""),
    known(&["mirepoix"], &[Celery], &[], "Onion, carrot and celery."),
    known(&["mustard", "mustard seed"], &[Mustard], &[], ""),
    known(&["lupin", "lupin flour"], &[Lupin], &[], ""),
    known(&["wine", "cider", "port", "sherry", "brandy", "vinegar"], &[], &[Sulphites], ""),
    known(&["white wine", "red wine", "sparkling wine"], &[Sulphites], &[], "Nearly every wine holds sulphites."),
    known(&["raisin", "sultana", "apricot", "prune", "cranberry", "dried fruit", "currant"], &[], &[Sulphites], ""),
    known(&["stock", "broth", "bouillon", "stock cube", "gravy mix", "gravy granule"], &[],
        &[Wheat, Gluten, Soy, Milk, Celery], "Bought stock may hold wheat, soy, milk or celery."),
    known(&["sausage", "sausage meat", "bacon", "ham"], &[], &[Wheat, Gluten, Soy, Milk, Mustard, Sulphites], ""),
    known(&["basted turkey", "self-basted turkey", "basted bird", "enhanced turkey", "injection", "marinade"], &[],
        &[Milk, Soy, Wheat, Gluten], "A solution may hold broth, milk or soy."),
    known(&["chocolate"], &[], &[Milk, Soy, TreeNuts, Peanut], ""),
    known(&["salt", "pepper", "black pepper", "water", "onion", "garlic", "sage", "thyme", "rosemary", "parsley", "bay leaf",
        "bay", "lemon", "orange", "apple", "carrot", "potato", "olive oil", "rapeseed oil", "canola oil",
        "sunflower oil", "sugar", "honey", "turkey", "chicken", "duck", "goose", "giblet", "drippings", "dripping",
        "poultry fat", "duck fat", "goose fat", "leek", "shallot", "mushroom", "ice"], &[], &[], ""),
];

/// Words that bring no allergen of their own: numbers aside, sizes, states and measures.
#[rustfmt::skip]
const PLAIN_WORDS: &[&str] = &[
    "a", "an", "and", "of", "or", "with", "for", "the", "fresh", "freshly", "dried", "dry", "chopped", "ground", "large",
    "small", "medium", "plain", "white", "brown", "whole", "wholemeal", "all-purpose", "self-raising", "strong", "fine",
    "coarse", "kosher", "sea", "table", "soft", "softened", "melted", "cold", "hot", "warm", "unsalted", "salted", "salt",
    "sliced", "diced", "crushed", "grated", "toasted", "stale", "cubed", "beaten", "raw", "cooked", "roasted", "roast",
    "smoked", "heavy", "double", "single", "sour", "thick", "thin", "red", "green", "yellow", "black", "sweet", "leaf",
    "leaves", "sprig", "sprigs", "stick", "sticks", "stalk", "stalks", "clove", "cloves", "cup", "cups", "tbsp", "tsp",
    "tablespoon", "tablespoons", "teaspoon", "teaspoons", "g", "kg", "oz", "lb", "ml", "l", "pinch", "bunch", "extra",
    "virgin", "good", "organic", "peeled", "minced", "finely", "roughly", "juice", "zest", "peel",
];

/// Everything that is known of the words in a text, the longest phrases first; and whether a word is left of which
/// nothing is known.
pub(super) fn look_up(text: &str) -> (Vec<&'static Known>, bool) {
    let mut words: Vec<String> = text
        .to_lowercase()
        .split(|c: char| !(c.is_alphanumeric() || c == '-'))
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect();
    let mut found = Vec::new();
    for length in (1..=LONGEST_PHRASE).rev() {
        let mut at = 0;
        while at + length <= words.len() {
            let phrase = words[at..at + length].join(" ");
            if let Some(known) = hit(&phrase) {
                // The words are used up: "butter" in "peanut butter" must not count again.
                for word in &mut words[at..at + length] {
                    word.clear();
                }
                found.push(known);
            }
            at += 1;
        }
    }
    let unknown = words.iter().any(|word| {
        let plain = word.is_empty() || word.starts_with(|c: char| c.is_ascii_digit());
        !plain && !PLAIN_WORDS.contains(&word.as_str())
    });
    (found, unknown)
}

/// Words in the longest phrase of the table.
const LONGEST_PHRASE: usize = 3;

/// The places in the table of every word.
static PLACES: LazyLock<HashMap<&str, usize>> = LazyLock::new(|| {
    let words = TABLE.iter().enumerate();
    words
        .flat_map(|(place, known)| known.words.iter().map(move |word| (*word, place)))
        .collect()
});

/// The first entry that has a phrase or the word that it is the plural of.
fn hit(phrase: &str) -> Option<&'static Known> {
    let place = |word: &str| PLACES.get(word).copied();
    let endings = ["", "s", "es"].iter();
    let singular = endings.filter_map(|ending| place(phrase.strip_suffix(ending)?));
    let in_y = phrase
        .strip_suffix("ies")
        .and_then(|stem| place(&format!("{stem}y")));
    TABLE.get(singular.chain(in_y).min()?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_word_stands_twice_and_none_is_too_long() {
        let mut words: Vec<_> = TABLE.iter().flat_map(|known| known.words).collect();
        let count = words.len();
        words.sort_unstable();
        words.dedup();
        assert_eq!(words.len(), count);
        assert!(
            words
                .iter()
                .all(|word| word.split(' ').count() <= LONGEST_PHRASE)
        );
    }

    #[test]
    fn wheat_is_always_gluten_too() {
        for known in TABLE {
            for list in [known.contains, known.may] {
                if list.contains(&Wheat) {
                    let gluten = known.contains.contains(&Gluten) || known.may.contains(&Gluten);
                    assert!(gluten, "{:?}", known.words);
                }
            }
        }
    }
}
