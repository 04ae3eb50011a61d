//! Every kind of sheet in every format, for every order beside the tests.

use std::fs;
use std::path::Path;

use poulter::ErrorKind;
use poulter::plan::{Order, plan};
use poulter::rules::Rulebook;
use poulter_worksheet::{Format, Kind, render, worksheet};

/// The orders of the tests by name, with their text.
fn orders() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/orders");
    let mut orders: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .map(|path| {
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            (name, fs::read_to_string(path).unwrap())
        })
        .collect();
    orders.sort();
    assert!(orders.len() >= 2);
    orders
}

#[test]
fn every_order_renders_to_every_kind_and_format_with_the_same_bytes() {
    let book = Rulebook::builtin();
    for (name, text) in orders() {
        let order = Order::from_toml(&text).unwrap();
        let answer = plan(book, &order).unwrap_or_else(|error| panic!("{name}: {error}"));
        for kind in Kind::ALL {
            for format in kind.formats() {
                let write = || render(book, &order, &answer, kind, format).unwrap();
                let bytes = write();
                let at = format!("{name}: {} as {}", kind.name(), format.name());
                assert_eq!(bytes, write(), "{at}");
                assert!(bytes.len() > 100, "{at}");
                if !format.is_text() {
                    assert!(bytes.starts_with(b"PK"), "{at}");
                    continue;
                }
                let written = String::from_utf8(bytes).unwrap();
                if format != Format::Icalendar || kind != Kind::Labels {
                    let no = ["not possible as asked", "no safe plan"];
                    let lower = written.to_lowercase();
                    let refused = no.iter().any(|no| lower.contains(no));
                    assert_eq!(refused, !answer.answer.feasible, "{at}");
                }
                for word in ["{ $", "{$", "undefined", "NaN"] {
                    assert!(!written.contains(word), "{at}: {word}");
                }
            }
        }
    }
}

#[test]
fn a_kind_without_dates_is_no_calendar() {
    let order = r#"{"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "guests": {"adults": 8},
        "bird": {"species": "turkey", "mass": "12 lb", "state": "thawed"}}"#;
    for kind in Kind::ALL {
        let dated = matches!(kind, Kind::Host | Kind::Class | Kind::Labels);
        let answer = worksheet(order, kind.name(), "ics");
        assert_eq!(answer.is_ok(), dated, "{}", kind.name());
        if let Err(error) = answer {
            assert_eq!(
                (error.kind(), error.field()),
                (ErrorKind::UnknownValue, "format")
            );
            assert!(error.expected().contains("csv"), "{error}");
        }
    }
}

#[test]
fn an_unknown_word_is_refused_with_those_there_are() {
    for (kind, format, field, known) in [
        ("poster", "text", "kind", "labels"),
        ("host", "pdf", "format", "xlsx"),
        ("", "", "kind", "host"),
    ] {
        let error = worksheet("{}", kind, format).unwrap_err();
        assert_eq!(
            (error.kind(), error.field()),
            (ErrorKind::UnknownValue, field)
        );
        assert!(error.expected().contains(known), "{error}");
    }
}

#[test]
fn house_rules_reach_the_sheet() {
    let house = r#"
[[rule]]
id = "us-consumer.hold.hot.house"
topic = "hold.hot"
title = "Hot cabinet of this kitchen"
kind = "requirement"
status = "common-practice"
last_checked = "2026-11-25"
requirement = { type = "temperature", limit = { is = ">=", temperature = "150 °F" } }
"#;
    let mut order = serde_json::json!({
        "serve_at": "2026-12-19T18:30[Europe/Lisbon]", "guests": {"adults": 8},
        "bird": {"species": "turkey", "mass": "12 lb", "state": "thawed"}, "house_rules": house,
    });
    let text = |order: &serde_json::Value| {
        String::from_utf8(worksheet(&order.to_string(), "host", "text").unwrap()).unwrap()
    };
    assert!(text(&order).contains("added by the user"));
    assert!(text(&order).contains("at least 150 °F"));
    order["house_rules"] = 4.into();
    let error = worksheet(&order.to_string(), "host", "text").unwrap_err();
    assert_eq!(
        (error.kind(), error.field()),
        (ErrorKind::WrongType, "house_rules")
    );
}

#[test]
fn a_class_has_a_blank_for_each_check_at_each_station() {
    let order = Order::from_toml(
        r#"
        serve_at = "2026-11-20T14:00[America/Denver]"
        guests = { adults = 12 }
        bird = { species = "turkey", mass = "12 lb", state = "thawed" }
        [class]
        students = 12
        stations = 3
        lessons = [{ from = "2026-11-20T07:00[America/Denver]", to = "2026-11-20T17:00[America/Denver]" }]
        "#,
    )
    .unwrap();
    let book = Rulebook::builtin();
    let mut answer = plan(book, &order).unwrap();
    // The sheet is made from any plan; one of a single bird stands in where the kitchen is too small for the class.
    if !answer.answer.feasible {
        let mut single = order.clone();
        single.class = None;
        answer = plan(book, &single).unwrap();
        answer.answer.bird.count = 3;
    }
    assert!(answer.answer.feasible);
    let page = render(book, &order, &answer, Kind::Class, Format::Html).unwrap();
    let page = String::from_utf8(page).unwrap();
    let checks: usize = answer
        .answer
        .steps
        .iter()
        .map(|step| step.record.len())
        .sum();
    assert!(checks > 4);
    assert_eq!(
        page.matches("□\u{a0}meets □\u{a0}fails").count(),
        checks * 3
    );
    for step in &answer.answer.steps {
        for record in &step.record {
            assert!(
                page.contains(&record.otherwise.replace('\'', "&#39;")),
                "{}",
                record.otherwise
            );
        }
    }
}

#[test]
fn names_lead_back_to_kinds_and_formats() {
    for kind in Kind::ALL {
        assert_eq!(Kind::from_name(kind.name()).unwrap(), kind);
    }
    for format in Format::ALL {
        assert_eq!(Format::from_name(format.name()).unwrap(), format);
    }
}

/// One kind of sheet as text for an order of the tests.
fn text_of(name: &str, kind: Kind) -> String {
    let (_, text) = orders().into_iter().find(|it| it.0 == name).unwrap();
    written(&text, kind)
}

fn written(order: &str, kind: Kind) -> String {
    let order = Order::from_toml(order).unwrap();
    let book = Rulebook::builtin();
    let answer = plan(book, &order).unwrap();
    let bytes = render(book, &order, &answer, kind, Format::Text).unwrap();
    String::from_utf8(bytes).unwrap()
}

#[test]
fn where_a_group_avoids_wheat_every_sheet_has_the_same_gravy_without_it() {
    // Three of the class of 24 avoid wheat.
    for kind in [Kind::Host, Kind::Class, Kind::Cards, Kind::Shopping] {
        let text = text_of("class-of-24", kind).to_lowercase();
        assert!(text.contains("maize starch"), "{}", kind.name());
        for word in ["of flour", "flour for the gravy", "wheat (flour)"] {
            assert!(!text.contains(word), "{}: {word}", kind.name());
        }
    }
}

#[test]
fn a_ducks_skin_is_pricked_and_no_butter_is_bought_for_it() {
    // Common practice, no source.
    assert!(text_of("two-ducks", Kind::Host).contains("Prick or score"));
    assert!(!text_of("two-ducks", Kind::Shopping).contains("butter"));
    assert!(text_of("lakeside-supper", Kind::Shopping).contains("butter or oil"));
}

#[test]
fn stuffing_has_a_label_only_where_a_bird_was_stuffed() {
    let (_, plain) = orders()
        .into_iter()
        .find(|it| it.0 == "high-lodge")
        .unwrap();
    let stuffed = plain.replace("state = \"thawed\"", "state = \"thawed\"\nstuffed = true");
    for kind in [Kind::Host, Kind::Labels] {
        assert!(written(&stuffed, kind).contains("Cooked stuffing in the refrigerator"));
        assert!(!written(&plain, kind).contains("Cooked stuffing in the refrigerator"));
    }
}

#[test]
fn each_station_has_a_whole_vessel_for_each_of_its_birds() {
    let text = text_of("class-of-24", Kind::Class).replace("\n    ", " ");
    assert!(
        text.contains("vessel or bag | each station: 1.69 gal | all stations: 6 × 1.69 gal"),
        "{text}"
    );
}

#[test]
fn a_stock_that_outlasts_the_lesson_is_given_to_the_teacher() {
    // It starts at 2:20 pm and simmers for 4 h at most.
    let (_, order) = orders()
        .into_iter()
        .find(|it| it.0 == "class-of-24")
        .unwrap();
    for (end, outlasts) in [("18:19", true), ("18:20", false), ("18:21", false)] {
        let order = order.replace("14:00", end);
        let text = written(&order, Kind::Class);
        assert!(text.contains("2:20 pm   10. Start the stock"), "{end}");
        let told = text.contains("before the stock is done: the teacher");
        assert_eq!(told, outlasts, "{end}");
    }
}
