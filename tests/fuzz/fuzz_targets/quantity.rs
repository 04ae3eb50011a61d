//! The quantity parser: what it reads, it shows as text that reads back as the same amount. An order is read likewise.
#![no_main]

use libfuzzer_sys::fuzz_target;
use poulter::plan::{Moment, Order};
use poulter::units::AnyQuantity;

fuzz_target!(|text: &str| {
    if let Ok(quantity) = AnyQuantity::parse(text) {
        assert!(!quantity.shown().is_empty());
        let json = serde_json::to_string(&quantity).expect("a quantity is JSON");
        assert!(json.contains(quantity.unit()));
        let again = AnyQuantity::new(quantity.value(), quantity.unit()).expect("what was read can be held");
        assert_eq!(again.unit(), quantity.unit());
    }
    if let Ok(moment) = Moment::parse(text) {
        assert_eq!(Moment::parse(&moment.to_string()), Ok(moment));
    }
    let _ = Order::from_text(text);
});
