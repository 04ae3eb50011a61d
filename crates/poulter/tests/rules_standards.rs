//! How the standards differ from one another, at the very line.

use poulter::bird::Place;
use poulter::rules::{
    Case, CountedFrom, Counting, HoldPoint, Requirement, Rule, Rulebook, Topic, Verdict,
};
use poulter::units::{Duration, Mass, Temperature};

fn rule(id: &str) -> &'static Rule {
    Rulebook::builtin()
        .rule(id)
        .unwrap_or_else(|error| panic!("{error}"))
}

fn mass(text: &str) -> Mass {
    Mass::parse(text).unwrap()
}

fn time(text: &str) -> Duration {
    Duration::parse(text).unwrap()
}

fn degrees(text: &str) -> Temperature {
    Temperature::parse(text).unwrap()
}

fn found(standard: &'static str, topic: Topic) -> &'static Rule {
    let found = Rulebook::builtin().require(topic, &Case::whole_turkey(standard));
    found.unwrap_or_else(|error| panic!("{error}"))
}

fn equivalents(id: &str) -> &'static [HoldPoint] {
    match &rule(id).requirement {
        Requirement::MinimumTemperature { equivalents, .. } => equivalents,
        _ => panic!("{id} sets no temperature"),
    }
}

#[test]
fn a_home_kitchen_never_meets_a_processor_table() {
    for standard in ["us-consumer", "us-food-code-2022"] {
        for topic in [
            Topic::DonenessBird,
            Topic::DonenessParts,
            Topic::DonenessGround,
        ] {
            let rule = found(standard, topic);
            let Requirement::MinimumTemperature {
                limit, equivalents, ..
            } = &rule.requirement
            else {
                panic!("{} sets no temperature", rule.id);
            };
            assert_eq!(
                limit.judge(degrees("164.999 °F")).0,
                Verdict::Fails,
                "{}",
                rule.id
            );
            assert!(equivalents.is_empty(), "{}", rule.id);
        }
    }
}

#[test]
fn holds_elsewhere_are_those_of_their_authorities() {
    // Food Standards Agency list; SA Health; MPI Food Control Plan of 2017 on and template of 2015.
    let uk = [
        ("60 °C", "45 min"),
        ("65 °C", "10 min"),
        ("70 °C", "2 min"),
        ("75 °C", "30 s"),
        ("80 °C", "6 s"),
    ];
    let new_zealand = [("65 °C", "15 min"), ("70 °C", "3 min"), ("75 °C", "30 s")];
    let older = [("65 °C", "10 min"), ("70 °C", "2 min"), ("75 °C", "0 s")];
    for (id, pairs) in [
        ("uk.doneness.bird", &uk[..]),
        ("uk.reheat.temperature", &uk),
        ("australia.doneness.bird", &[("68 °C", "10 min")]),
        ("new-zealand.doneness.bird", &new_zealand),
        ("new-zealand.doneness.bird.2015", &older),
    ] {
        let wanted: Vec<_> = (pairs.iter())
            .map(|&(temperature, hold)| HoldPoint {
                temperature: degrees(temperature),
                hold: time(hold),
            })
            .collect();
        assert_eq!(equivalents(id), wanted, "{id}");
    }
}

#[test]
fn the_same_temperature_passes_here_and_fails_there() {
    // 63 °C exactly: England says not below, Scotland says above (SI 2013/2996 and SSI 2006/3, Schedule 4).
    // 82 °C exactly for a whole bird in Canada is 179.6 °F.
    for (standard, topic, reading, wanted) in [
        ("uk", Topic::HoldHot, "63 °C", Verdict::Meets),
        ("scotland", Topic::HoldHot, "63 °C", Verdict::Fails),
        ("scotland", Topic::HoldHot, "63.001 °C", Verdict::Meets),
        (
            "us-food-code-2022",
            Topic::HoldHot,
            "135 °F",
            Verdict::Meets,
        ),
        ("us-consumer", Topic::HoldHot, "135 °F", Verdict::Fails),
        ("uk", Topic::HoldCold, "8 °C", Verdict::Meets),
        ("us-food-code-2022", Topic::HoldCold, "5 °C", Verdict::Meets),
        ("us-consumer", Topic::HoldCold, "5 °C", Verdict::Fails),
        ("canada", Topic::HoldCold, "4.4 °C", Verdict::Fails),
        ("canada", Topic::DonenessBird, "81.9 °C", Verdict::Fails),
        ("canada", Topic::DonenessBird, "179.6 °F", Verdict::Meets),
        ("scotland", Topic::Reheat, "81.999 °C", Verdict::Fails),
        ("australia", Topic::Reheat, "60 °C", Verdict::Meets),
    ] {
        let rule = found(standard, topic);
        let (Requirement::Temperature { limit } | Requirement::MinimumTemperature { limit, .. }) =
            &rule.requirement
        else {
            panic!("{} sets no temperature", rule.id);
        };
        assert_eq!(
            limit.judge(degrees(reading)).0,
            wanted,
            "{standard}, {reading}"
        );
    }
}

#[test]
fn periods_out_of_control_are_counted_as_each_text_says() {
    // SI 2013/2996: one period of less than 2 h. FSANZ: less than 4 h in all. FSIS: not over 2 h.
    for (standard, counting, taken, wanted) in [
        ("uk", Counting::Once, "1 h 59 min", Verdict::Meets),
        ("uk", Counting::Once, "2 h", Verdict::Fails),
        (
            "australia",
            Counting::Cumulative,
            "2 h 15 min",
            Verdict::Meets,
        ),
        ("australia", Counting::Cumulative, "4 h", Verdict::Fails),
        ("us-consumer", Counting::Cumulative, "2 h", Verdict::Meets),
        ("canada", Counting::Cumulative, "2 h", Verdict::Meets),
    ] {
        let rule = found(standard, Topic::HoldOut);
        let Requirement::Time {
            limit,
            counting: counted,
            ..
        } = &rule.requirement
        else {
            panic!("{} sets no time", rule.id);
        };
        assert_eq!(*counted, counting, "{}", rule.id);
        assert_eq!(limit.judge(time(taken)).0, wanted, "{standard}, {taken}");
    }
}

#[test]
fn cooling_stages_carry_time_over_only_where_the_text_does() {
    // Food Code 3-501.14(A): a total of 6 h. Standard 3.2.2 clause 7(3): a further 4 h. Appendix B, options 1 to 3.
    let first = CountedFrom::FirstStage;
    let this = CountedFrom::ThisStage;
    for (id, stages) in [
        (
            "us-food-code-2022.cool.stages",
            [
                ("135 °F", "70 °F", "2 h", first),
                ("70 °F", "41 °F", "6 h", first),
            ],
        ),
        (
            "australia.cool.stages",
            [
                ("60 °C", "21 °C", "2 h", this),
                ("21 °C", "5 °C", "4 h", this),
            ],
        ),
        (
            "canada.cool.stages",
            [
                ("60 °C", "20 °C", "2 h", this),
                ("20 °C", "4 °C", "4 h", this),
            ],
        ),
        (
            "us-processor.cool.stages",
            [
                ("130 °F", "80 °F", "90 min", this),
                ("80 °F", "40 °F", "5 h", this),
            ],
        ),
        (
            "us-processor.cool.stages.option-2",
            [
                ("120 °F", "80 °F", "1 h", first),
                ("80 °F", "55 °F", "6 h", first),
            ],
        ),
        (
            "us-processor.cool.stages.cured-45",
            [
                ("130 °F", "80 °F", "5 h", this),
                ("80 °F", "45 °F", "10 h", this),
            ],
        ),
    ] {
        let Requirement::StagedCooling { stages: found } = &rule(id).requirement else {
            panic!("{id} has no stages");
        };
        assert_eq!(found.len(), stages.len(), "{id}");
        for (stage, (from, to, within, counted)) in found.iter().zip(stages) {
            assert_eq!(stage.from, degrees(from), "{id}");
            assert_eq!(stage.to.temperature, degrees(to), "{id}");
            assert_eq!(stage.within.duration, time(within), "{id}");
            assert_eq!(stage.counted_from, counted, "{id}");
        }
    }
}

#[test]
fn the_older_british_rule_gives_its_own_examples() {
    // A guide adapted from FSA and NHS advice prints 4 kg 3 h 20, 6 kg 4 h, 10 kg 5 h 50 at 180 °C. The rule is not
    // monotone: 4.5 kg of the second row is quicker than 4.49 kg of the first.
    let at = |row: &str, weight: &str| {
        let id = format!("uk.roast.time-unstuffed.legacy-{row}");
        let Requirement::TimePerMass {
            time: each,
            per,
            plus,
            from,
            to,
            ..
        } = rule(&id).requirement
        else {
            panic!("{id} is no rate");
        };
        let weight = mass(weight);
        assert!(
            from.is_none_or(|from| from <= weight) && to.is_none_or(|to| weight <= to),
            "{id}"
        );
        each.times_ratio(weight.steps(), per.steps())
            .plus(plus.unwrap_or(Duration::ZERO))
    };
    assert_eq!(at("small", "4 kg"), time("3 h 20 min"));
    assert_eq!(at("medium", "6 kg"), time("4 h"));
    assert_eq!(at("large", "10 kg"), time("5 h 50 min"));
    assert!(at("small", "4.49 kg") > at("medium", "4.5 kg"));
    let now = found("uk", Topic::RoastTimeUnstuffed);
    assert!(
        matches!(now.requirement, Requirement::Do { .. }),
        "{}",
        now.id
    );
}

#[test]
fn a_whole_bird_is_measured_in_three_places() {
    // FSIS, Turkey Basics: Safe Cooking: innermost thigh, innermost wing, thickest breast.
    let Requirement::MinimumTemperature { places, .. } =
        &rule("us-consumer.doneness.bird").requirement
    else {
        panic!("the bird has no end point");
    };
    assert_eq!(places, &[Place::Thigh, Place::Wing, Place::Breast]);
}
