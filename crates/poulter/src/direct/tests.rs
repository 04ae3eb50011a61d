//! A direct call gives what the door gives, for every standard, species, cut and method.

use super::line::{SaltLine, TimeTable};
use super::*;
use crate::answer::TimeEstimate;
use crate::bird::{Cut, Species};
use crate::brine::{self, BrineMethod, SaltKind};
use crate::purchase::Leftovers;
use crate::rules::Rulebook;
use crate::thaw::ThawMethod;
use crate::units::{Duration, Mass, Volume};

fn subjects() -> impl Iterator<Item = Subject> {
    BuiltinStandard::ALL.iter().flat_map(|&standard| {
        Species::ALL.iter().flat_map(move |&species| {
            Cut::ALL.iter().map(move |&cut| Subject {
                standard,
                species,
                cut,
            })
        })
    })
}

/// At, just under and just over the edges of the printed rows, and between.
const MASSES_LB: [f64; 15] = [
    0.0, 0.5, 1.0, 3.999, 4.0, 4.001, 7.999, 8.0, 12.0, 12.001, 14.0, 15.3, 20.0, 24.0, 24.001,
];

#[test]
fn the_standards_are_those_of_the_book() {
    let book = Rulebook::builtin().standards();
    let book: Vec<_> = book.iter().map(|standard| standard.id.as_str()).collect();
    let here: Vec<_> = BuiltinStandard::ALL
        .iter()
        .map(|known| known.name())
        .collect();
    assert_eq!(here, book);
}

#[test]
fn times_are_those_of_the_door() {
    const METHODS: [ThawMethod; 8] = [
        ThawMethod::Refrigerator,
        ThawMethod::ColdWater,
        ThawMethod::RunningWater,
        ThawMethod::Microwave,
        ThawMethod::InBrine,
        ThawMethod::FromFrozen,
        ThawMethod::RoomTemperature,
        ThawMethod::HotWater,
    ];
    for subject in subjects() {
        for mass in MASSES_LB.map(|pounds| Mass::from_pounds(pounds).unwrap()) {
            for method in METHODS {
                assert_eq!(
                    subject.thaw_time(method, mass),
                    subject.thaw_time_at_the_door(method, mass),
                    "{subject:?} {method:?} {mass}"
                );
            }
            for stuffed in [false, true] {
                assert_eq!(
                    subject.roast_time(mass, stuffed),
                    subject.roast_time_at_the_door(mass, stuffed),
                    "{subject:?} {mass}"
                );
            }
        }
    }
}

#[test]
fn amounts_are_those_of_the_door() {
    for subject in subjects() {
        for (adults, children) in [
            (0, 0),
            (0, 1),
            (1, 0),
            (11, 3),
            (1000, 1000),
            (1001, 0),
            (1, 1001),
        ] {
            for leftovers in [Leftovers::None, Leftovers::Some, Leftovers::Plenty] {
                assert_eq!(
                    subject.purchase_mass(adults, children, leftovers),
                    subject.purchase_mass_at_the_door(adults, children, leftovers),
                    "{subject:?} {adults} {children} {leftovers:?}"
                );
            }
        }
        for litres in [0.0, 0.01, 3.785, 7.57, 100.0] {
            let water = Volume::from_litres(litres).unwrap();
            assert_eq!(
                subject.wet_brine_salt(water),
                subject.brine_salt_at_the_door(BrineMethod::Wet, None, Some(water), None),
            );
        }
        for mass in MASSES_LB.map(|pounds| Mass::from_pounds(pounds).unwrap()) {
            for kind in [SaltKind::Table, SaltKind::KosherFlake] {
                let door =
                    subject.brine_salt_at_the_door(BrineMethod::Dry, Some(mass), None, Some(kind));
                assert_eq!(
                    subject.dry_brine_salt(mass, kind),
                    door,
                    "{subject:?} {mass}"
                );
            }
        }
    }
}

/// Masses everywhere in and beyond the tables, and every nanogram round the edges of a row and round a whole minute.
fn many_masses() -> Vec<Mass> {
    let pound = Mass::from_pounds(1.0).unwrap();
    let spread = (0..1200).map(|at| Mass::from_kilograms(f64::from(at) * 0.0137).unwrap());
    let edges = (0..60).flat_map(|half_pounds| {
        let edge = pound.steps() / 2 * half_pounds;
        (-2..=2).map(move |off| Mass::from_steps((edge + off).max(0), pound.unit()))
    });
    let heavy = [300.0, 999.999, 1000.0].map(|kilograms| Mass::from_kilograms(kilograms).unwrap());
    spread.chain(edges).chain(heavy).collect()
}

#[test]
fn a_line_of_times_is_the_rule() {
    let mut seen = 0;
    for rule in Rulebook::builtin().rules() {
        let Some(table) = TimeTable::of(&rule.requirement) else {
            continue;
        };
        seen += 1;
        for mass in many_masses() {
            let (here, there) = (table.at(mass), rule.requirement.time_for(mass));
            assert_eq!(here, there, "{} {mass}", rule.id);
            let units = |time: TimeEstimate| [time.low, time.likely, time.high].map(Duration::unit);
            assert_eq!(here.map(units), there.map(units), "{} {mass}", rule.id);
        }
    }
    assert!(seen > 10, "{seen} tables");
}

#[test]
fn a_line_of_salt_is_the_rule() {
    let mut answered = 0;
    for rule in Rulebook::builtin().rules() {
        for &kind in SaltKind::ALL {
            for cut in [Cut::Whole, Cut::Leg] {
                let Some(rate) = brine::dry_rate(&rule.requirement, kind, cut) else {
                    continue;
                };
                let line = SaltLine::new(rate);
                for mass in many_masses() {
                    if let Some(salt) = line.at(mass.steps()) {
                        let exact = brine::dry_salt_of(&rule.requirement, mass, kind, cut);
                        assert_eq!(exact.unwrap().unwrap(), salt, "{} {mass}", rule.id);
                        assert!(!brine::is_too_strong(salt, mass), "{} {mass}", rule.id);
                        answered += 1;
                    }
                }
            }
        }
    }
    assert!(answered > 5000, "{answered}");
}

#[test]
fn printed_numbers_come_out() {
    let bird = |standard| Subject {
        standard,
        species: Species::Turkey,
        cut: Cut::Whole,
    };
    // FSIS: 165 °F; FSIS, Turkey Basics: 12 to 14 lb unstuffed 3 to 3¾ h; in the refrigerator 12 to 16 lb 3 to 4 days.
    let home = bird(BuiltinStandard::UsConsumer);
    assert_eq!(
        home.minimum_temperature(false)
            .unwrap()
            .temperature
            .as_fahrenheit(),
        165.0
    );
    let mass = Mass::from_pounds(13.0).unwrap();
    let roast = home.roast_time(mass, false).unwrap();
    assert_eq!(roast.high, Duration::parse("3 h 45 min").unwrap());
    let thaw = home.thaw_time(ThawMethod::Refrigerator, mass).unwrap();
    assert_eq!(thaw.low, Duration::parse("3 d").unwrap());
    // FSA: 70 °C for 2 minutes.
    let uk = bird(BuiltinStandard::Uk)
        .minimum_temperature(false)
        .unwrap();
    assert_eq!(uk.temperature.as_celsius(), 70.0);
    assert_eq!(uk.hold, Some(Duration::parse("2 min").unwrap()));
}
