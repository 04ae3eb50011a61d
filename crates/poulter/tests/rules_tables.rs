//! Tables of other birds, of processors and of the kitchen, cell by cell.

use poulter::bird::{Cut, Species};
use poulter::rules::{Case, HoldPoint, Requirement, Rule, Rulebook, Topic};
use poulter::units::{Duration, Fraction, Mass, Temperature, TemperatureDifference, Volume};

fn rule(id: &str) -> &'static Rule {
    Rulebook::builtin()
        .rule(id)
        .unwrap_or_else(|error| panic!("{error}"))
}

fn find(standard: &'static str, species: Species, cut: Cut, topic: Topic) -> Option<&'static Rule> {
    let case = Case {
        species,
        cut,
        ..Case::whole_turkey(standard)
    };
    Rulebook::builtin().find(topic, &case)
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

/// Cut, from and to in ounces, and the times in minutes for roasting at 350 °F, simmering and grilling.
type ChickenRow = (Cut, [f64; 2], [f64; 2], [f64; 2], [f64; 2]);

#[test]
fn chicken_parts_are_those_of_the_agency() {
    // FSIS, Chicken from Farm to Table, approximate cooking times; grilling is printed a side and doubled here.
    let rows: [ChickenRow; 6] = [
        (
            Cut::Breast,
            [6.0, 8.0],
            [30.0, 40.0],
            [35.0, 45.0],
            [20.0, 30.0],
        ),
        (
            Cut::BonelessBreast,
            [4.0, 4.0],
            [20.0, 30.0],
            [25.0, 30.0],
            [12.0, 16.0],
        ),
        (
            Cut::Leg,
            [8.0, 8.0],
            [40.0, 50.0],
            [40.0, 50.0],
            [20.0, 30.0],
        ),
        (
            Cut::Thigh,
            [4.0, 4.0],
            [40.0, 50.0],
            [40.0, 50.0],
            [20.0, 30.0],
        ),
        (
            Cut::Drumstick,
            [4.0, 4.0],
            [35.0, 45.0],
            [40.0, 50.0],
            [16.0, 24.0],
        ),
        (
            Cut::Wing,
            [2.0, 3.0],
            [30.0, 40.0],
            [35.0, 45.0],
            [16.0, 24.0],
        ),
    ];
    for (cut, ounces, roast, simmer, grill) in rows {
        for (topic, minutes) in [
            (Topic::RoastTimeUnstuffed, roast),
            (Topic::SimmerTime, simmer),
            (Topic::GrillTime, grill),
        ] {
            let found = find("us-consumer", Species::Chicken, cut, topic).unwrap();
            let Requirement::TimeByMass { rows, .. } = &found.requirement else {
                panic!("{} is no table", found.id);
            };
            assert_eq!(rows.len(), 1, "{}", found.id);
            assert_eq!(
                [rows[0].from, rows[0].to],
                ounces.map(|value| Mass::from_ounces(value).unwrap()),
                "{}",
                found.id
            );
            assert_eq!(
                [rows[0].low, rows[0].high],
                minutes.map(|value| Duration::from_minutes(value).unwrap()),
                "{}",
                found.id
            );
        }
    }
}

#[test]
fn whole_birds_other_than_turkey_are_those_of_the_agencies() {
    // FSIS, Chicken from Farm to Table, and FoodSafety.gov, Meat and Poultry Roasting Charts (2023).
    for (id, setting, cells) in [
        (
            "us-consumer.roast.time-unstuffed.chicken",
            "350 °F",
            &[
                ("3 lb", "4 lb", "75 min", "90 min"),
                ("5 lb", "7 lb", "120 min", "135 min"),
            ][..],
        ),
        (
            "us-consumer.roast.time-unstuffed.capon",
            "350 °F",
            &[("4 lb", "8 lb", "2 h", "3 h")],
        ),
        (
            "us-consumer.roast.time-unstuffed.small-hen",
            "350 °F",
            &[("18 oz", "24 oz", "50 min", "60 min")],
        ),
        (
            "us-consumer.roast.time-unstuffed.goose",
            "325 °F",
            &[("8 lb", "12 lb", "150 min", "3 h")],
        ),
        // 15 to 30 min on top where stuffed.
        (
            "us-consumer.roast.time-stuffed.chicken",
            "350 °F",
            &[
                ("3 lb", "4 lb", "90 min", "120 min"),
                ("5 lb", "7 lb", "135 min", "165 min"),
            ],
        ),
    ] {
        let Requirement::TimeByMass {
            setting: oven,
            rows,
        } = &rule(id).requirement
        else {
            panic!("{id} is no table");
        };
        assert_eq!(*oven, Some(degrees(setting)), "{id}");
        assert_eq!(rows.len(), cells.len(), "{id}");
        for (row, &(from, to, low, high)) in rows.iter().zip(cells) {
            assert_eq!((row.from, row.to), (mass(from), mass(to)), "{id}");
            assert_eq!((row.low, row.high), (time(low), time(high)), "{id}");
        }
    }
}

#[test]
fn rates_by_the_pound_keep_their_birds() {
    // FSIS, Turkey: Alternate Routes to the Table; Chicken from Farm to Table; FoodSafety.gov charts.
    for (id, low, high, from, to) in [
        (
            "us-consumer.grill.time",
            15.0,
            18.0,
            Some("8 lb"),
            Some("16 lb"),
        ),
        (
            "us-consumer.smoke.time",
            20.0,
            30.0,
            Some("8 lb"),
            Some("12 lb"),
        ),
        ("us-consumer.fry.time", 3.0, 5.0, None, Some("12 lb")),
        (
            "us-consumer.microwave.time",
            9.0,
            10.0,
            Some("8 lb"),
            Some("14 lb"),
        ),
        (
            "us-consumer.grill.time.roaster",
            18.0,
            25.0,
            Some("5 lb"),
            Some("7 lb"),
        ),
        (
            "us-consumer.grill.time.capon",
            15.0,
            20.0,
            Some("4 lb"),
            Some("8 lb"),
        ),
        (
            "us-consumer.roast.time-unstuffed.duck",
            30.0,
            35.0,
            Some("4 lb"),
            Some("6 lb"),
        ),
    ] {
        let Requirement::TimePerMass {
            time,
            time_high,
            per,
            from: least,
            to: most,
            ..
        } = rule(id).requirement
        else {
            panic!("{id} is no rate");
        };
        assert_eq!(per, mass("1 lb"), "{id}");
        assert_eq!(time, Duration::from_minutes(low).unwrap(), "{id}");
        assert_eq!(
            time_high,
            Some(Duration::from_minutes(high).unwrap()),
            "{id}"
        );
        assert_eq!((least, most), (from.map(mass), to.map(mass)), "{id}");
    }
}

#[test]
fn a_gap_stays_a_gap() {
    // Nothing is published for these: turkey drumsticks, a whole guinea fowl, a stuffed duck, a chicken smoked whole.
    for (species, cut, topic) in [
        (Species::Turkey, Cut::Drumstick, Topic::RoastTimeUnstuffed),
        (Species::Turkey, Cut::Wing, Topic::RoastTimeUnstuffed),
        (Species::GuineaFowl, Cut::Whole, Topic::RoastTimeUnstuffed),
        (Species::Duck, Cut::Whole, Topic::RoastTimeStuffed),
        (Species::Chicken, Cut::Whole, Topic::SmokeTime),
        (Species::Quail, Cut::Whole, Topic::ThawRefrigerator),
    ] {
        let found = find("us-consumer", species, cut, topic).map(|found| &found.id);
        assert_eq!(found, None);
    }
}

fn processor_table(id: &str) -> &'static [HoldPoint] {
    match &rule(id).requirement {
        Requirement::MinimumTemperature { equivalents, .. } => equivalents,
        _ => panic!("{id} sets no temperature"),
    }
}

#[test]
fn processor_holds_are_those_of_the_agency() {
    // FSIS, Time-Temperature Tables for Cooking Ready-to-Eat Poultry Products, 12 % fat: °F, chicken, turkey.
    let minutes = [
        (136, 81.4, 70.8),
        (140, 35.0, 33.7),
        (141, 28.7, 28.2),
        (142, 23.5, 23.7),
        (145, 13.0, 13.8),
        (150, 4.2, 4.9),
        (154, 1.1, 1.6),
    ];
    let seconds = [
        (156, 43.0, 60.0),
        (160, 16.9, 26.9),
        (162, 10.5, 17.7),
        (165, 0.0, 0.0),
    ];
    let cells = (minutes.into_iter())
        .map(|(at, chicken, turkey)| (at, chicken * 60.0, turkey * 60.0))
        .chain(seconds);
    let chicken = processor_table("us-processor.doneness.bird.chicken");
    let turkey = processor_table("us-processor.doneness.bird");
    for (at, chicken_s, turkey_s) in cells {
        for (table, wanted) in [(chicken, chicken_s), (turkey, turkey_s)] {
            let point = (table.iter())
                .find(|point| point.temperature == degrees(&format!("{at} °F")))
                .unwrap();
            let apart = (point.hold.as_seconds() - wanted).abs();
            assert!(apart < 1e-9, "{at} °F: {}", point.hold);
        }
    }
}

#[test]
fn processor_tables_step_by_one_degree_and_the_mixed_one_takes_the_longer_hold() {
    let chicken = processor_table("us-processor.doneness.bird.chicken");
    let turkey = processor_table("us-processor.doneness.bird");
    let mixed = processor_table("us-processor.doneness.bird.poultry");
    for topic in ["parts", "ground"] {
        let id = format!("us-processor.doneness.{topic}");
        assert_eq!(processor_table(&id), turkey, "{id}");
        assert_eq!(processor_table(&format!("{id}.chicken")), chicken, "{id}");
    }
    assert_eq!((chicken.len(), turkey.len(), mixed.len()), (30, 30, 30));
    for (index, ((one, other), both)) in chicken.iter().zip(turkey).zip(mixed).enumerate() {
        let at = degrees(&format!("{} °F", 136 + index));
        assert_eq!(
            (one.temperature, other.temperature, both.temperature),
            (at, at, at)
        );
        assert_eq!(both.hold, one.hold.max(other.hold));
        // The species cross over between 141 and 142 °F.
        assert_eq!(one.hold > other.hold, index < 6, "{at}");
    }
}

#[test]
fn customs_of_the_kitchen_stand_as_customs() {
    let custom = |topic| find("kitchen-practice", Species::Turkey, Cut::Whole, topic).unwrap();
    let range = |low: &str, high: &str| (time(low), time(high));
    for (topic, wanted) in [
        (Topic::BrineWetTime, range("8 h", "24 h")),
        (Topic::BrineDryTime, range("1 d", "3 d")),
        (Topic::ServeRest, range("20 min", "30 min")),
        (Topic::RoastHighStart, range("20 min", "30 min")),
        (Topic::RoastHighStartRest, range("2 h", "2.5 h")),
    ] {
        let found = custom(topic);
        let Requirement::TimeRange { low, high, .. } = found.requirement else {
            panic!("{} is no range", found.id);
        };
        assert_eq!((low, high), wanted, "{}", found.id);
    }
    let lower = TemperatureDifference::parse("-25 delta_degF").unwrap();
    assert_eq!(
        custom(Topic::RoastFan).requirement,
        Requirement::SettingChange { by: lower }
    );
    let equal = Fraction::parse("100 %").unwrap();
    assert_eq!(
        custom(Topic::GravyRoux).requirement,
        Requirement::Share {
            low: equal,
            high: equal
        }
    );
    let pounds = |topic, low: &str, high: &str| {
        let wanted = Requirement::MassPerPerson {
            low: mass(low),
            high: mass(high),
        };
        assert_eq!(custom(topic).requirement, wanted);
    };
    pounds(Topic::PurchaseMass, "1 lb", "1 lb");
    pounds(Topic::PurchaseMassPlentyLeft, "1.5 lb", "2 lb");
}

#[test]
fn salt_and_stuffing_are_measured_as_the_agency_prints_them() {
    // FSIS video: 3/4 cup of table salt a gallon, also printed as 3 tbsp a quart; 1 tbsp of kosher salt for 5 lb.
    let volume = |text: &str| Volume::parse(text).unwrap();
    let Requirement::VolumePerVolume { volume: salt, per } =
        rule("us-consumer.brine.wet-strength").requirement
    else {
        panic!("the brine has no strength");
    };
    assert_eq!((salt, per), (volume("12 tbsp"), volume("4 qt")));
    for (id, amount, weight) in [
        ("us-consumer.brine.dry-amount", "1 tbsp", "5 lb"),
        ("us-consumer.prepare.stuffing-amount", "3/4 cup", "1 lb"),
    ] {
        let Requirement::VolumePerMass { volume: found, per } = rule(id).requirement else {
            panic!("{id} is no measure");
        };
        assert_eq!((found, per), (volume(amount), mass(weight)), "{id}");
    }
}
