//! Cooling against measurements and exact limits.

use poulter::ErrorKind;
use poulter::bird::Species;
use poulter::heat::{
    CooledFrom, CoolingFood, CoolingSimulation, CoolingSimulationQuery, CoolingStay, Surroundings,
    simulate_cooling,
};
use poulter::units::{Duration, Length, Mass, Temperature};

fn degrees(text: &str) -> Temperature {
    Temperature::parse(text).unwrap()
}

fn refrigerator(wrapped: bool) -> Surroundings {
    Surroundings::Refrigerator {
        temperature: degrees("3.3 °C"),
        wrapped,
    }
}

fn query(food: CoolingFood, start: &str, surroundings: Surroundings) -> CoolingSimulationQuery {
    CoolingSimulationQuery {
        food,
        start: degrees(start),
        stages: vec![CoolingStay {
            surroundings,
            duration: Duration::parse("48 h").unwrap(),
        }],
        thresholds: vec![degrees("57 °C"), degrees("21 °C"), degrees("5 °C")],
        standard: "us-consumer".to_owned(),
    }
}

fn whole() -> CoolingFood {
    CoolingFood::Whole {
        species: Species::Turkey,
        mass: Mass::from_pounds(12.0).unwrap(),
    }
}

fn liquid(depth: &str, stirred: bool) -> CoolingFood {
    CoolingFood::Liquid {
        depth: Length::parse(depth).unwrap(),
        cooled_from: CooledFrom::BothFaces,
        stirred,
    }
}

fn hours(simulation: &CoolingSimulation, threshold: usize) -> f64 {
    simulation.passings[threshold]
        .after
        .unwrap()
        .likely
        .as_hours()
}

/// Measured turkey roasts, 57 to 21 °C in a refrigerator: 6.22 h loosely wrapped, 8.71 h three to a bag; 21 to 5 °C
/// 6.3 to 19.5 h across methods (Journal of Food Protection 69(1), 2006). Their mass is not given, so that this is a
/// check of magnitude only: a factor of 1.5. The model says 10.2 h for 12 lb: nothing dries under its wrap; if it did as
/// on a bare bird, 7.7 h. Bare it says 4.9 h, and a loose wrap lies between.
#[test]
fn a_whole_bird_cools_as_slowly_as_measured_roasts() {
    let cooled = simulate_cooling(&query(whole(), "74 °C", refrigerator(true))).unwrap();
    let first = hours(&cooled, 1) - hours(&cooled, 0);
    assert!((6.22 / 1.5..8.71 * 1.5).contains(&first), "{first}");
    assert!((first - 10.2).abs() < 0.2, "{first}");
    let bare = simulate_cooling(&query(whole(), "74 °C", refrigerator(false))).unwrap();
    assert!((hours(&bare, 1) - hours(&bare, 0)..first).contains(&6.22));
    let second = hours(&cooled, 2) - hours(&cooled, 1);
    assert!((6.3..19.5 * 1.5).contains(&second), "{second}");
}

/// Reference calculation for bare birds from 74 °C, 57 to 21 °C: 4.9 h for 12 lb, 3.1 h for 4 lb. A regression, not
/// evidence.
#[test]
fn bare_birds_match_the_reference_calculation() {
    for (pounds, expected) in [(12.0, 4.9), (4.0, 3.1)] {
        let bird = CoolingFood::Whole {
            species: Species::Turkey,
            mass: Mass::from_pounds(pounds).unwrap(),
        };
        let cooled = simulate_cooling(&query(bird, "74 °C", refrigerator(false))).unwrap();
        let first = hours(&cooled, 1) - hours(&cooled, 0);
        assert!(
            (first / expected - 1.0).abs() < 0.03,
            "{pounds} lb: {first}"
        );
    }
}

/// What follows from it: a whole bird misses two hours from 57 to 21 °C even bare, and carved meat in a layer of 5 cm
/// makes it.
#[test]
fn carving_makes_the_first_stage() {
    let whole = simulate_cooling(&query(whole(), "74 °C", refrigerator(false))).unwrap();
    assert!(hours(&whole, 1) - hours(&whole, 0) > 2.0);
    let carved = CoolingFood::Carved {
        species: Species::Turkey,
        depth: Length::parse("3 cm").unwrap(),
        cooled_from: CooledFrom::BothFaces,
    };
    let carved = simulate_cooling(&query(carved, "57 °C", refrigerator(false))).unwrap();
    assert!(hours(&carved, 1) < 2.0, "{}", hours(&carved, 1));
}

/// Stirred stock has one temperature, so that Newton's law of cooling is exact: `t = ρ c V/(h A) ln(ΔT_0/ΔT)`. Depth
/// 10 cm in an ice bath with h 120 W/(m²·K), ρ c of water with 3 % solids about 4.12e6 J/(m³·K) (steam tables and the
/// solids' share; 2 %). ln(57/21) = 0.998529.
#[test]
fn stirred_stock_follows_newtons_law() {
    let cooled = simulate_cooling(&query(
        liquid("10 cm", true),
        "57.001 °C",
        Surroundings::IceBath,
    ))
    .unwrap();
    let seconds = 4.12e6 * 0.05 / 120.0 * 0.998_529;
    let got = cooled.passings[1].after.unwrap().likely.as_seconds();
    assert!((got / seconds - 1.0).abs() < 0.03, "{got} {seconds}");
}

/// Doubling the depth of still stock cannot take less than double nor, with conduction alone, more than four times.
#[test]
fn depth_slows_still_stock_between_its_limits() {
    let time = |depth: &str| {
        let simulation = simulate_cooling(&query(
            liquid(depth, false),
            "57.001 °C",
            refrigerator(true),
        ));
        hours(&simulation.unwrap(), 1)
    };
    let ratio = time("10 cm") / time("5 cm");
    assert!((2.0..4.0).contains(&ratio), "{ratio}");
    // One face is as good as half the depth from both.
    let one_face = CoolingFood::Liquid {
        depth: Length::parse("5 cm").unwrap(),
        cooled_from: CooledFrom::OneFace,
        stirred: false,
    };
    let simulation = simulate_cooling(&query(one_face, "57.001 °C", refrigerator(true))).unwrap();
    assert!((hours(&simulation, 1) - time("10 cm")).abs() < 1e-9);
}

/// A first stage on the counter, then the refrigerator: what the stages do not reach has no time.
#[test]
fn stages_follow_each_other() {
    let mut two = query(whole(), "74 °C", refrigerator(false));
    two.stages.insert(
        0,
        CoolingStay {
            surroundings: Surroundings::Room {
                temperature: degrees("22 °C"),
            },
            duration: Duration::parse("1 h").unwrap(),
        },
    );
    let slower = simulate_cooling(&two).unwrap();
    let direct = simulate_cooling(&query(whole(), "74 °C", refrigerator(false))).unwrap();
    assert!(hours(&slower, 1) > hours(&direct, 1));

    two.stages.truncate(1);
    let room = simulate_cooling(&two).unwrap();
    assert_eq!(room.passings[2].after, None);
    assert!(room.centre_at_end > degrees("57 °C"));
    assert!(room.evaporated.as_percent() > 0.0);
}

#[test]
fn queries_refuse_what_the_model_does_not_cover() {
    let base = query(whole(), "74 °C", refrigerator(false));
    let refused = |query: &CoolingSimulationQuery| {
        let error = simulate_cooling(query).unwrap_err();
        (error.kind(), error.field().to_owned())
    };
    let mut oven = base.clone();
    oven.stages[0].surroundings = Surroundings::Oven {
        temperature: degrees("100 °C"),
        fan: false,
    };
    let kind = "stages[0].surroundings.kind".to_owned();
    assert_eq!(refused(&oven), (ErrorKind::UnknownValue, kind));

    let mut long = base.clone();
    for (hours, fine) in [(119.999, true), (120.0, true), (120.001, false)] {
        long.stages[0].duration = Duration::from_hours(hours).unwrap();
        assert_eq!(simulate_cooling(&long).is_ok(), fine, "{hours}");
    }
    let mut none = base.clone();
    none.thresholds.clear();
    assert_eq!(
        refused(&none),
        (ErrorKind::OutOfRange, "thresholds".to_owned())
    );
    for (start, fine) in [
        ("29.9 °C", false),
        ("30 °C", true),
        ("100 °C", true),
        ("100.1 °C", false),
    ] {
        let query = query(whole(), start, refrigerator(true));
        assert_eq!(simulate_cooling(&query).is_ok(), fine, "{start}");
    }
    for (depth, fine) in [
        ("4.999 mm", false),
        ("5 mm", true),
        ("15 cm", true),
        ("15.001 cm", false),
    ] {
        let query = query(liquid(depth, false), "74 °C", refrigerator(true));
        let result = simulate_cooling(&query);
        assert_eq!(result.is_ok(), fine, "{depth}");
        if let Err(error) = result {
            assert_eq!(error.field(), "food.depth");
        }
    }
}

fn carved(depth: &str) -> CoolingFood {
    CoolingFood::Carved {
        species: Species::Chicken,
        depth: Length::parse(depth).unwrap(),
        cooled_from: CooledFrom::OneFace,
    }
}

/// A thin layer at one temperature takes that of the room: the rate at 35 °C by the published parameters (Tmin 8.8, Topt
/// 46.4, Tmax 51.5 °C, 6.06 an hour) is 3.621074 an hour, worked out in Python from the cardinal form, or 1.572612
/// log10 an hour. Half a day adds twelve times as much.
#[test]
fn growth_at_a_steady_temperature_is_the_published_rate() {
    let mut steady = query(carved("5 mm"), "35 °C", refrigerator(true));
    steady.stages = vec![CoolingStay {
        surroundings: Surroundings::Water {
            temperature: degrees("35 °C"),
            running: false,
        },
        duration: Duration::parse("12 h").unwrap(),
    }];
    let growth = simulate_cooling(&steady).unwrap().growth.unwrap();
    let expected = 12.0 * 1.572_612;
    let found = growth.without_lag.as_log10();
    assert!((found - expected).abs() <= 1e-3, "{found} {expected}");
    assert!((growth.without_lag_slow.as_log10() - 1.5 * expected).abs() <= 2e-3);
}

/// The longer food is warm the more can grow; no place exceeds the most, and the rows never fall.
#[test]
fn growth_is_most_where_it_is_longest_warm() {
    let of = |depth| {
        let cooled = simulate_cooling(&query(carved(depth), "74 °C", refrigerator(false)));
        cooled.unwrap().growth.unwrap()
    };
    let mut before = 0.0;
    for depth in ["1 cm", "2 cm", "5 cm", "10 cm"] {
        let growth = of(depth);
        assert!(growth.is_experimental && growth.note.contains("no verdict"));
        assert!(growth.without_lag.as_log10() > before, "{depth}");
        before = growth.without_lag.as_log10();
        for zone in &growth.zones {
            assert!(zone.growth_log10.windows(2).all(|pair| pair[0] <= pair[1]));
            assert!(*zone.growth_log10.last().unwrap() <= before);
        }
        // Cooled through to the end, the middle is the last to leave the warm range.
        assert_eq!(growth.most_at.as_percent(), 0.0, "{depth}");
    }
}

/// A layer that is taken away while its middle is still too hot to grow in: what grows is further out.
#[test]
fn growth_is_counted_where_it_is_when_the_middle_is_still_hot() {
    let mut early = query(carved("10 cm"), "74 °C", refrigerator(false));
    early.stages[0].duration = Duration::parse("2 h").unwrap();
    let cooled = simulate_cooling(&early).unwrap();
    assert!(cooled.centre_at_end > degrees("51.5 °C"));
    let growth = cooled.growth.unwrap();
    assert!(growth.without_lag.as_log10() > 0.0 && growth.most_at.as_percent() > 50.0);
    assert_eq!(growth.zones[0].growth_log10.last(), Some(&0.0));
}

/// The parameters are those of roasted chicken: none for what is no meat, and the answer says so.
#[test]
fn stock_has_no_growth_figure() {
    let cooled = simulate_cooling(&query(liquid("5 cm", true), "74 °C", refrigerator(false)));
    let cooled = cooled.unwrap();
    assert_eq!(cooled.growth, None);
    assert!(
        cooled
            .leaves_out
            .iter()
            .any(|text| text.contains("not of stock or gravy"))
    );
}
