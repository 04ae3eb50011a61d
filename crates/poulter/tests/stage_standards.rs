//! Every stage under every standard and species: an answer that cites a rule, or a refusal that says no row is published.

use poulter::bird::Species;
use poulter::rules::Rulebook;
use poulter::{ErrorKind, Request, evaluate};
use serde_json::json;

#[test]
fn every_stage_answers_or_says_that_no_row_is_published() {
    let stages = [
        json!({"kind": "purchase", "adults": 6}),
        json!({"kind": "storage", "food": "raw-whole", "place": "refrigerator"}),
        json!({"kind": "storage", "food": "cooked", "place": "freezer", "since": "2026-12-19"}),
        json!({"kind": "brine", "method": "wet", "mass": "5 lb"}),
        json!({"kind": "brine", "method": "dry", "mass": "5 lb", "time": "1 d"}),
        json!({"kind": "prepare", "mass": "5 lb", "stuffed": true}),
        json!({"kind": "rest_and_carve", "mass": "5 lb", "out_for": "90 min"}),
        json!({"kind": "gravy", "guests": 6}),
        json!({"kind": "stock", "bird_mass": "5 lb"}),
        json!({"kind": "leftovers", "cooked_at": "2026-12-19T18:30[Europe/Lisbon]"}),
        json!({"kind": "check_cooling", "readings": []}),
    ];
    let mut answered = 0;
    for standard in Rulebook::builtin().standards() {
        for species in Species::ALL {
            for stage in &stages {
                let mut request = stage.clone();
                request["standard"] = json!(standard.id);
                request["species"] = json!(species.name());
                let result = evaluate(&Request::from_value(request.clone()).unwrap());
                match result {
                    Ok(response) => {
                        answered += 1;
                        let value = serde_json::to_value(response).unwrap();
                        assert!(
                            !value["citations"].as_array().unwrap().is_empty(),
                            "{request}"
                        );
                    }
                    Err(error) => {
                        assert_eq!(
                            error.kind(),
                            ErrorKind::NoPublishedRow,
                            "{request}: {error}"
                        );
                    }
                }
            }
        }
    }
    assert!(answered > 0);
}
