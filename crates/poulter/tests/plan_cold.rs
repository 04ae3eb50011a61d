//! Ovens and room in the cold together, beside an oracle that tries every hour of every bird.

use poulter::brine::{BrineQuery, brine};
use poulter::plan::{Moment, Order, Plan, plan};
use poulter::rules::Rulebook;
use poulter::units::{Duration, Volume};
use proptest::prelude::*;
use serde_json::{Value, json};

fn planned(value: &Value) -> Plan {
    let order: Order = serde_json::from_value(value.clone()).unwrap();
    plan(Rulebook::builtin(), &order).unwrap().answer
}

/// Room kept in the cold: from, to (minutes before serving) and hundredths of a litre.
type Kept = (i64, i64, i64);

/// What a bird keeps in refrigerator and cooler with some choice of its hours.
struct Way {
    refrigerator: Vec<Kept>,
    cooler: Vec<Kept>,
}

/// A kitchen with its room on the serving day, the day before and so on, and every day before those; hundredths of a litre.
#[derive(Debug)]
struct Cold {
    days: Vec<i64>,
    usual: i64,
    cooler: i64,
    /// Minutes from the midnight that the serving day begins with to serving.
    into_the_day: i64,
}

impl Cold {
    /// The room of the day in which a moment lies.
    fn room(&self, before: i64) -> i64 {
        let days = (before - self.into_the_day + 1440 - 1)
            .div_euclid(1440)
            .max(0);
        let day = usize::try_from(days).unwrap();
        self.days.get(day).copied().unwrap_or(self.usual)
    }

    /// Whether all uses have room at every start and every midnight.
    fn holds(&self, ways: &[&Way]) -> bool {
        let of = |cooler: bool| -> Vec<Kept> {
            let kept = |way: &&Way| {
                if cooler {
                    way.cooler.clone()
                } else {
                    way.refrigerator.clone()
                }
            };
            ways.iter().flat_map(kept).collect()
        };
        let wanted = |kept: &[Kept], at: i64| -> i64 {
            let there = kept.iter().filter(|(from, to, _)| *from >= at && at > *to);
            there.map(|(.., litres)| litres).sum()
        };
        let (cold, cooler) = (of(false), of(true));
        let midnights = (0..12).map(|day| self.into_the_day + day * 1440);
        let mut times: Vec<i64> = cold.iter().map(|(from, ..)| *from).collect();
        times.extend(midnights);
        times.iter().all(|&at| wanted(&cold, at) <= self.room(at))
            && cooler
                .iter()
                .all(|(from, ..)| wanted(&cooler, *from) <= self.cooler)
    }
}

/// Every way to bring one turkey of 13 lb from the freezer into the oven, with brines begun each `grid` minutes.
///
/// USDA FSIS: thaw 3 to 4 d in the refrigerator, then raw for 2 d at most; roast 3 h to 3 h 45 min; held hot for 2 h at
/// most. Common practice, no source: rest 20 to 30 min, carve 20 min, make ready 45 min, brine 8 to 24 h wet or 1 to 3 d
/// dry. The oven is begun on a quarter of an hour, up to a quarter before the bird must be in.
fn ways(brine: &str, own: i64, vessel: i64, grid: i64, thaws: bool) -> Vec<Way> {
    let mut all = Vec::new();
    for oven in (270..=360).step_by(15) {
        let ready = oven + 45;
        let next: Vec<i64> = match brine {
            "none" => vec![ready],
            "wet" => {
                let on_the_grid = (ready + 480..=ready + 1440).filter(|at| at % grid == 0);
                std::iter::once(ready + 480).chain(on_the_grid).collect()
            }
            _ => (oven + 1440..=oven + 3 * 1440)
                .step_by(usize::try_from(grid).unwrap())
                .collect(),
        };
        for start in next {
            let slow = start + 4 * 1440;
            let last = oven + 5 * 1440;
            let thaw_starts = if thaws {
                (slow..=last.max(slow)).step_by(60).collect()
            } else {
                vec![slow]
            };
            for thaw in thaw_starts {
                if thaw > last {
                    continue;
                }
                for cooler in [false, true] {
                    let (end, room) = if brine == "wet" {
                        (ready, vessel)
                    } else {
                        (oven, own)
                    };
                    let brined = if brine == "none" {
                        Vec::new()
                    } else {
                        vec![(start, end, room)]
                    };
                    let mut refrigerator = vec![(thaw, start, own)];
                    if !cooler {
                        refrigerator.extend(&brined);
                    }
                    let cooler = if cooler { brined } else { Vec::new() };
                    all.push(Way {
                        refrigerator,
                        cooler,
                    });
                }
            }
        }
    }
    all
}

fn litres(hundredths: i64) -> String {
    format!("{}.{:02} L", hundredths / 100, hundredths % 100)
}

/// The vessel of a wet brine for 13 lb, by the question about brines.
fn vessel() -> i64 {
    let query: BrineQuery =
        serde_json::from_value(json!({"method": "wet", "mass": "13 lb"})).unwrap();
    let vessel = brine(Rulebook::builtin(), &query)
        .unwrap()
        .answer
        .wet
        .unwrap()
        .vessel;
    (0..10_000)
        .find(|&hundredths| Volume::parse(&litres(hundredths)).unwrap() >= vessel)
        .unwrap()
}

/// 13 lb is 5.897 kg: at 1.05 kg/L with 15 % of head room 6.459 L, rounded up (hand).
const OWN: i64 = 646;

fn order(birds: usize, hour: &str, brine: &str, cold: &Cold) -> Value {
    let serve: Moment = format!("2026-12-19T{hour}[Europe/Lisbon]").parse().unwrap();
    let day = |ago: usize| format!("2026-12-{:02}", 19 - ago);
    let days: Vec<Value> = (0..cold.days.len())
        .map(|ago| json!({"day": day(ago), "room": litres(cold.days[ago])}))
        .collect();
    let mut kitchen = json!({"ovens": [{}, {}], "refrigerator_room": litres(cold.usual), "refrigerator_days": days});
    if cold.cooler > 0 {
        kitchen["cooler"] = json!({"room": litres(cold.cooler)});
    }
    let bird = |at: usize| json!({"name": format!("bird {at}"), "species": "turkey", "mass": "13 lb", "state": "frozen"});
    json!({
        "serve_at": serve, "guests": {"adults": 8}, "birds": (0..birds).map(bird).collect::<Vec<_>>(),
        "methods": {"thaw": "refrigerator", "brine": brine, "roast": "steady"}, "kitchen": kitchen,
    })
}

fn colds() -> impl Strategy<Value = (&'static str, Cold)> {
    let room = || prop_oneof![Just(0), Just(OWN - 1), Just(OWN), Just(2 * OWN), Just(6000)];
    let hour = prop_oneof![
        Just(("18:30", 1110)),
        Just(("04:00", 240)),
        Just(("04:45", 285)),
        Just(("05:15", 315)),
        Just(("06:00", 360))
    ];
    let cooler = prop_oneof![Just(0), Just(OWN), Just(2 * OWN), Just(6000)];
    let usual = prop_oneof![Just(OWN), Just(2 * OWN), Just(6000)];
    (hour, prop::collection::vec(room(), 0..=3), usual, cooler).prop_map(
        |((hour, into_the_day), days, usual, cooler)| {
            (
                hour,
                Cold {
                    days,
                    usual,
                    cooler,
                    into_the_day,
                },
            )
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn one_bird_has_room_where_trying_every_hour_finds_some(
        (hour, cold) in colds(), brine in prop_oneof![Just("none"), Just("wet"), Just("dry")],
    ) {
        let ways = ways(brine, OWN, vessel(), 15, false);
        let found = ways.iter().any(|way| cold.holds(&[way]));
        let plan = planned(&order(1, hour, brine, &cold));
        prop_assert_eq!(plan.feasible, found, "{} {:?} {:?}", hour, cold.days, plan.chains[0].reason);
    }

    #[test]
    fn two_birds_have_room_where_trying_every_hour_finds_some(
        (hour, cold) in colds(), brine in prop_oneof![Just("none"), Just("wet"), Just("dry")],
    ) {
        let ways = ways(brine, OWN, vessel(), 60, false);
        let alone: Vec<&Way> = ways.iter().filter(|way| cold.holds(&[way])).collect();
        let found = alone.iter().any(|one| alone.iter().any(|other| cold.holds(&[one, other])));
        let plan = planned(&order(2, hour, brine, &cold));
        prop_assert_eq!(plan.feasible, found, "{} {:?} {:?}", hour, cold.days, plan.chains[0].reason);
    }
}

/// An earlier thaw helps none of them: trying every hour of that too finds nothing more.
#[test]
fn an_earlier_thaw_never_makes_room() {
    for (days, cooler) in [
        (vec![0], 6000),
        (vec![OWN, 0], 6000),
        (vec![0, 0], OWN),
        (vec![0, 6000, 0], 0),
    ] {
        for into_the_day in [240, 315, 1110] {
            let cold = Cold {
                days: days.clone(),
                usual: OWN,
                cooler,
                into_the_day,
            };
            let find = |thaws| {
                ways("wet", OWN, vessel(), 60, thaws)
                    .iter()
                    .any(|way| cold.holds(&[way]))
            };
            assert_eq!(find(false), find(true), "{days:?} {cooler} {into_the_day}");
        }
    }
}

/// At 4:45 a bird that is in by 11:15 in the evening serves on time; there is no room from midnight on. With a dry brine
/// the bird lies in the cold until the oven, so one quarter of an hour decides.
#[test]
fn a_bird_goes_in_before_midnight_where_the_room_ends_then() {
    let plan_at = |hour: &str, into_the_day: i64| {
        let cold = Cold {
            days: vec![0],
            usual: OWN,
            cooler: 0,
            into_the_day,
        };
        planned(&order(1, hour, "dry", &cold))
    };
    // The last quarter to go in is 4 h 30 min before serving; held hot for 2 h in the quick case, the first is 6 h before.
    for (hour, into_the_day, feasible) in [
        ("04:30", 270, true),
        ("05:45", 345, true),
        ("06:00", 360, true),
        ("06:15", 375, false),
    ] {
        let plan = plan_at(hour, into_the_day);
        assert_eq!(plan.feasible, feasible, "{hour}: {}", plan.chains[0].reason);
        if feasible {
            let roast = plan.steps.iter().find(|step| step.id == "roast").unwrap();
            assert!(
                roast
                    .window
                    .planned
                    .to_string()
                    .starts_with("2026-12-19T00:00")
                    || roast.window.planned.to_string().starts_with("2026-12-18")
            );
        }
    }
}

/// A brine that begins earlier in the cooler empties the refrigerator in time.
#[test]
fn a_brine_begins_earlier_in_the_cooler_where_the_refrigerator_is_wanted() {
    let cold = Cold {
        days: vec![0],
        usual: OWN,
        cooler: 6000,
        into_the_day: 1110,
    };
    let plan = planned(&order(1, "18:30", "wet", &cold));
    assert!(plan.feasible, "{}", plan.chains[0].reason);
    let brine = plan.steps.iter().find(|step| step.id == "brine").unwrap();
    let midnight: Moment = "2026-12-19T00:00[Europe/Lisbon]".parse().unwrap();
    assert!(brine.window.planned <= midnight);
    let thaw = plan.steps.iter().find(|step| step.id == "thaw").unwrap();
    assert!(thaw.uses.iter().all(|kept| kept.to <= midnight));
    assert_eq!(
        thaw.window.planned.after(Duration::parse("4 d").unwrap()),
        brine.window.planned
    );
    let most = Volume::parse("60 L").unwrap();
    assert!(brine.uses.iter().all(|kept| kept.room.unwrap() <= most));
}
