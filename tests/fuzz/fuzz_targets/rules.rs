//! The rule loader: any text is a set of house rules or refused with the rule's place.
#![no_main]

use libfuzzer_sys::fuzz_target;
use poulter::rules::Rulebook;

fuzz_target!(|text: &str| {
    if let Ok(book) = Rulebook::builtin().with_rules(text) {
        for rule in book.rules() {
            if rule.added_by_caller {
                assert_eq!(book.cite(rule).rule, rule.id);
            }
        }
    }
});
