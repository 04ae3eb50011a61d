//! Plans for the tests: those of the orders beside the code, and one written by hand to hold every kind of line.

use poulter::Answer;
use poulter::plan::{Order, Plan, plan};
use poulter::rules::Rulebook;
use poulter_worksheet::{Format, Kind, render};

pub(crate) fn planned(order: &str) -> Answer<Plan> {
    plan(Rulebook::builtin(), &Order::from_toml(order).unwrap()).unwrap()
}

/// The host's sheet as text.
pub(crate) fn sheet(plan: &Answer<Plan>, format: Format) -> String {
    let order = Order::from_toml(SUPPER).unwrap();
    let bytes = render(Rulebook::builtin(), &order, plan, Kind::Host, format).unwrap();
    String::from_utf8(bytes).unwrap()
}

pub(crate) const SUPPER: &str = include_str!("../../../../tests/orders/lakeside-supper.toml");
pub(crate) const TOO_LATE: &str = include_str!("../../../../tests/orders/late-thaw.toml");

/// A plan with one step, small enough to read in a test and with text that means trouble.
pub(crate) fn small() -> Answer<Plan> {
    use poulter::TimeEstimate;
    use poulter::bird::{Cut, Place, Species, State};
    use poulter::plan::{
        Moment, PlannedBird, Record, Repeat, Resource, ShoppingItem, Step, Window,
    };
    use poulter::rules::Stage;
    use poulter::units::{Duration, HourClock, Mass, UnitSystem};

    let at = |text: &str| Moment::parse(text).unwrap();
    let time = |text: &str| Duration::parse(text).unwrap();
    let step = Step {
        id: "thaw".to_owned(),
        stage: Stage::Thaw,
        title: "Thaw <script>alert(1)</script> in cold water, covered; then\ncheck".to_owned(),
        window: Window {
            earliest: at("2026-03-28T20:00[Europe/Lisbon]"),
            planned: at("2026-03-28T22:00[Europe/Lisbon]"),
            latest: at("2026-03-29T00:30[Europe/Lisbon]"),
        },
        duration: TimeEstimate {
            low: time("3 h"),
            likely: time("4 h"),
            high: time("5 h"),
        },
        bird: None,
        by: None,
        model: None,
        hands_on: None,
        slack: None,
        governs: false,
        uses: vec![],
        occupies: vec![Resource::Sink, Resource::Cook],
        to_do: vec!["Keep the bird | under *water*.".to_owned()],
        repeat: Some(Repeat {
            every: time("30 min"),
            what: "change the water".to_owned(),
        }),
        record: vec![Record {
            what: "Water".to_owned(),
            place: Some(Place::Core),
            limit: "at most 70 °F".to_owned(),
            otherwise: "add ice".to_owned(),
            rule: None,
        }],
        rules: vec!["house.thaw".to_owned()],
    };
    Answer {
        answer: Plan {
            feasible: true,
            serve_at: at("2026-03-29T18:30[Europe/Lisbon]"),
            standard: "us-consumer".to_owned(),
            title: "Supper for \"two\" & <b>more</b>".to_owned(),
            bird: PlannedBird {
                name: None,
                species: Species::Duck,
                cut: Cut::Whole,
                mass: Mass::parse("5 lb").unwrap(),
                count: 1,
                state: State::Frozen,
                to_buy: true,
                stuffed: false,
            },
            units: UnitSystem::UsCustomary,
            clock: HourClock::Twelve,
            steps: vec![step],
            shopping: vec![ShoppingItem {
                item: "Salt, coarse; \\kosher\\".to_owned(),
                amount: None,
                note: "by mass".to_owned(),
                pieces: None,
                ingredient: None,
            }],
            findings: vec![],
            chains: vec![],
            changes: vec![],
            birds: vec![],
            on_time: None,
            news: vec![],
            abandoned: vec![],
        },
        assumed: vec![],
        cautions: vec!["A thermometer decides.".to_owned()],
        citations: vec![],
    }
}
