//! Brining, against the published ratio and balances worked by hand.

use poulter::brine::{Brine, BrineQuery, brine};
use poulter::rules::{Rulebook, Verdict};
use poulter::{Answer, Error, ErrorKind};
use serde_json::{Value, json};

fn ask(query: Value) -> Result<Answer<Brine>, Error> {
    let query: BrineQuery = serde_json::from_value(query).unwrap();
    brine(Rulebook::builtin(), &query)
}

fn near(value: f64, expected: f64, tolerance: f64) {
    assert!(
        (value - expected).abs() <= tolerance,
        "{value} is not {expected}"
    );
}

#[test]
fn the_government_ratio_gives_its_strength() {
    // FSIS brining video: 3/4 cup of table salt a gallon; 292 g a cup (USDA SR26), 3.785 kg a gallon: 5.47 %.
    let answer = ask(json!({"method": "wet", "mass": "12 lb", "water": "1 gal"}))
        .unwrap()
        .answer;
    near(answer.strength.unwrap().as_percent(), 5.47, 0.03);
    let salt = answer.salt.unwrap();
    near(salt.mass.as_grams(), 219.0, 0.1);
    near(salt.volume_low.as_cups(), 0.75, 0.001);
}

#[test]
fn a_cup_of_salt_depends_on_its_kind() {
    // Conversion tables: 1 cup a gallon is 3.69 % with flakes (145 g), 5.96 % dense (240 g), 7.16 % table (292 g).
    for (kind, percent) in [
        ("kosher-flake", 3.69),
        ("kosher-dense", 5.96),
        ("table", 7.16),
    ] {
        let query = json!({
            "method": "wet", "mass": "12 lb", "water": "1 gal", "salt": {"volume": "1 cup", "kind": kind}
        });
        near(
            ask(query).unwrap().answer.strength.unwrap().as_percent(),
            percent,
            0.05,
        );
    }
    let error = ask(json!({
        "method": "wet", "mass": "12 lb", "water": "1 gal", "salt": {"volume": "1 cup"}
    }))
    .unwrap_err();
    assert_eq!(
        (error.kind(), error.field()),
        (ErrorKind::SaltKindMissing, "salt.kind")
    );
}

#[test]
fn properties_of_a_five_per_cent_brine_agree_with_coolprop() {
    // CoolProp 8.0.0, INCOMP::MNA[0.05]: freezes at -3.055 °C; 1037.55 kg/m3 at 4 °C.
    let query = json!({"method": "wet", "mass": "12 lb", "water": "2 gal", "strength": "5 %"});
    let wet = ask(query).unwrap().answer.wet.unwrap();
    near(wet.freezes_at.as_celsius(), -3.055, 0.05);
    let density = wet.brine_mass.as_kilograms() / wet.brine_volume.as_litres() * 1000.0;
    near(density, 1037.55, 2.0);
}

#[test]
fn two_gallons_for_twelve_pounds_by_hand() {
    // f = 0.74 × 0.438 / (7.571 + 0.74 × 5.443) = 2.79 %; vessel (5.443/1.05 + 7.7) × 1.15 = 14.8 L.
    let answer = ask(json!({"method": "wet", "mass": "12 lb", "water": "2 gal", "time": "24 h"}))
        .unwrap()
        .answer;
    let wet = answer.wet.unwrap();
    near(wet.at_equilibrium.as_percent(), 2.79, 0.03);
    near(wet.vessel.as_litres(), 14.8, 0.1);
    // 2 √(2e-10 × 86400) = 8.3 mm.
    near(answer.depth_high.unwrap().as_millimetres(), 8.31, 0.05);
    // Water in all is what the three parts add up to, ice counted.
    let chilling = wet.chilling.unwrap();
    let parts = chilling.hot_water.as_litres()
        + chilling.cold_water.as_litres()
        + chilling.ice.as_kilograms();
    near(parts, wet.water.as_litres(), 0.02);
    // By hand with 3.9 kJ/(kg K): (1.893 + 0.438) × 3.9 × 86 / 387.7 = 2.02 kg.
    near(chilling.ice.as_kilograms(), 2.02, 0.01);
    // 5.47 % × 0.75 × F: F is 0.135 at 1.5e-10 and 0.248 at 5e-10 m2/s, by 2/√π √(D t)/L with L = 30 mm.
    near(
        wet.uptake_low.as_percent(),
        0.0547 * 0.75 * 0.1354 * 100.0,
        0.01,
    );
    near(
        wet.uptake_high.as_percent(),
        0.0547 * 0.75 * 0.2472 * 100.0,
        0.01,
    );
}

#[test]
fn the_limit_is_judged_under_at_and_over() {
    // FSIS brining video: up to 2 days, wet and dry.
    for method in ["wet", "dry"] {
        for (time, expected) in [
            ("47 h 59 min", Verdict::Meets),
            ("2 d", Verdict::Meets),
            ("48 h 1 s", Verdict::Fails),
        ] {
            let answer = ask(json!({"method": method, "mass": "12 lb", "time": time}))
                .unwrap()
                .answer;
            let verdict = answer.findings.iter().find_map(|finding| finding.verdict);
            assert_eq!(verdict, Some(expected), "{method} {time}");
        }
    }
    let dry = ask(json!({"method": "dry", "mass": "12 lb"}))
        .unwrap()
        .answer;
    assert_eq!(dry.time.unwrap().high, dry.limit.unwrap());
}

#[test]
fn a_dry_brine_takes_a_spoon_for_five_pounds() {
    // FSIS brining video: 1 tbsp of kosher salt for 5 lb; 145 or 240 g a cup make 9.06 or 15 g.
    for (kind, grams) in [
        ("kosher-flake", 9.06),
        ("kosher-dense", 15.0),
        ("table", 15.0),
    ] {
        let answer = ask(json!({"method": "dry", "mass": "5 lb", "salt_kind": kind}))
            .unwrap()
            .answer;
        near(answer.salt.unwrap().mass.as_grams(), grams, 0.05);
    }
    // Custom for other birds: 1 % of the meat, 0.71 of the bird.
    let duck = ask(json!({"method": "dry", "mass": "2 kg", "species": "duck"}))
        .unwrap()
        .answer;
    near(duck.salt.unwrap().mass.as_grams(), 14.2, 0.1);
}

#[test]
fn birds_that_hold_salt_are_refused_unless_the_caller_insists() {
    for (field, value, rule) in [
        (
            "solution_added",
            json!("0.1 %"),
            "us-consumer.brine.salted-bird",
        ),
        ("kosher", json!(true), "kitchen-practice.brine.salted-bird"),
    ] {
        for method in ["wet", "dry"] {
            let mut query = json!({"method": method, "mass": "12 lb"});
            query[field] = value.clone();
            let refused = ask(query.clone()).unwrap().answer;
            assert!(!refused.allowed && refused.salt.is_none());
            assert_eq!(refused.rules, [rule]);
            query["override_salted"] = json!(true);
            let insisted = ask(query).unwrap();
            assert!(insisted.answer.allowed && insisted.answer.salt.is_some());
            assert!(insisted.cautions[0].contains("against the rule"));
        }
    }
    assert!(
        ask(json!({"method": "wet", "mass": "12 lb", "solution_added": "0 %"}))
            .unwrap()
            .answer
            .allowed
    );
    assert!(
        ask(json!({"method": "none", "mass": "12 lb", "kosher": true}))
            .unwrap()
            .answer
            .allowed
    );
}

#[test]
fn a_cooler_needs_its_ice() {
    // 1.238 W/K × 19 K × 24 h / 334 kJ/kg = 6.08 kg.
    let query = json!({"method": "wet", "mass": "12 lb", "place": "cooler", "room": "23 °C"});
    let wet = ask(query).unwrap().answer.wet.unwrap();
    near(wet.cooler_ice_low.unwrap().as_kilograms(), 6.08, 0.06);
    near(wet.cooler_ice_high.unwrap().as_kilograms(), 12.16, 0.12);
}

#[test]
fn sources_that_disagree_on_rinsing_are_all_shown() {
    let answer = ask(json!({"method": "wet", "mass": "12 lb"}))
        .unwrap()
        .answer;
    let voices: Vec<_> = answer
        .findings
        .iter()
        .filter(|finding| {
            finding
                .rule
                .as_deref()
                .is_some_and(|rule| rule.contains("brine.rinse"))
        })
        .collect();
    assert_eq!(voices.len(), 2);
    assert!(
        answer
            .to_do
            .iter()
            .any(|text| text.contains("do not rinse"))
    );
}

#[test]
fn strengths_are_refused_outside_their_range() {
    for (method, strength, fits) in [
        ("wet", "0 %", false),
        ("wet", "0.1 %", true),
        ("wet", "22.9 %", true),
        ("wet", "23 %", true),
        ("wet", "23.1 %", false),
        ("dry", "5 %", true),
        ("dry", "5.1 %", false),
    ] {
        let result = ask(json!({"method": method, "mass": "12 lb", "strength": strength}));
        assert_eq!(
            result.is_ok(),
            fits,
            "{method} {strength}: {:?}",
            result.err()
        );
    }
    let both =
        json!({"method": "wet", "mass": "12 lb", "strength": "5 %", "salt": {"mass": "200 g"}});
    assert_eq!(ask(both).unwrap_err().kind(), ErrorKind::Conflict);
    assert_eq!(
        ask(json!({"method": "wet", "mass": "0 lb"}))
            .unwrap_err()
            .field(),
        "mass"
    );
}
