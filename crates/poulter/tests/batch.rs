//! Many logs at once: each is judged as it would be alone, in whatever layout and on however many cores.

use poulter::batch::{LogRows, LogTable, LogVerdicts, LogsQuestion, TableReadings};
use poulter::log::{ColumnSlice, Place};
use poulter::records::RecordVerdict;
use poulter::rules::{Margin, Verdict};
use poulter::units::TemperatureUnit;
use poulter::{Request, Response, evaluate};
use proptest::prelude::*;
use serde_json::{Value, json};

/// One log: seconds, and the readings of each place.
#[derive(Clone, Debug)]
struct Log {
    elapsed_s: Vec<f64>,
    places: Vec<(&'static str, Vec<f64>)>,
}

const NAMES: [&str; 3] = ["breast", "thigh", "wing"];

/// A log that goes straight from point to point, `rows` rows between each two.
fn through(points: &[(f64, f64)], rows: u32, offset: f64) -> (Vec<f64>, Vec<f64>) {
    let mut log = (vec![points[0].0], vec![points[0].1 + offset]);
    for pair in points.windows(2) {
        for row in 1..=rows {
            let share = f64::from(row) / f64::from(rows);
            log.0
                .push((pair[0].0 + share * (pair[1].0 - pair[0].0)).round());
            log.1
                .push(pair[0].1 + share * (pair[1].1 - pair[0].1) + offset);
        }
    }
    log
}

/// Roasts and coolings, some of them at fault, all of three places.
fn logs() -> Vec<Log> {
    (0..60_u32)
        .map(|number| {
            let offset = f64::from(number % 7) * 0.4 - 1.2;
            let roast = [(0.0, 4.0), (6000.0, 60.0), (9000.0, 74.0), (9600.0, 75.0)];
            let cool = [(0.0, 65.0), (6000.0, 22.0), (20_000.0, 4.5)];
            let points: &[(f64, f64)] = if number % 3 == 0 { &cool } else { &roast };
            let mut elapsed_s = Vec::new();
            let mut places = Vec::new();
            for (at, name) in NAMES.iter().enumerate() {
                let (t, mut x) = through(points, 40, offset + 0.3 * at as f64);
                match number % 10 {
                    4 if at == 1 => x[50] = f64::NAN,
                    5 if at == 0 => x[30] += 40.0,
                    _ => {}
                }
                elapsed_s = t;
                places.push((*name, x));
            }
            match number % 10 {
                6 => elapsed_s[60] = elapsed_s[59],
                7 => elapsed_s[20] = f64::NAN,
                8 => {
                    for t in elapsed_s.iter_mut().skip(40) {
                        *t += 2000.0;
                    }
                }
                _ => {}
            }
            Log { elapsed_s, places }
        })
        .collect()
}

fn judge(question: &Value, logs: &[Log]) -> LogVerdicts {
    let mut offsets = vec![0];
    let mut elapsed_s = Vec::new();
    let mut columns = [const { Vec::new() }; 3];
    for log in logs {
        elapsed_s.extend(&log.elapsed_s);
        for (column, (_, readings)) in columns.iter_mut().zip(&log.places) {
            column.extend(readings);
        }
        offsets.push(elapsed_s.len());
    }
    let columns: Vec<ColumnSlice<'_>> = NAMES
        .iter()
        .zip(&columns)
        .map(|(name, temperatures)| ColumnSlice {
            place: Place::named(name).unwrap(),
            unit: TemperatureUnit::Celsius,
            temperatures,
        })
        .collect();
    let table = LogTable {
        rows: LogRows::EndToEnd(&offsets),
        elapsed_s: &elapsed_s,
        readings: TableReadings::Columns(&columns),
    };
    LogsQuestion::from_value(question.clone())
        .unwrap()
        .judge(&table)
        .unwrap()
}

fn alone(kind: &str, question: &Value, log: &Log) -> Response {
    let optional = |values: &[f64]| -> Vec<Option<f64>> {
        values.iter().map(|v| v.is_finite().then_some(*v)).collect()
    };
    let places: Vec<Value> = log
        .places
        .iter()
        .map(|(name, x)| json!({"place": name, "unit": "degC", "temperatures": optional(x)}))
        .collect();
    let mut request = question.clone();
    let fields = request.as_object_mut().unwrap();
    fields.remove("check");
    fields.insert("kind".into(), json!(kind));
    fields.insert("log".into(), json!({"elapsed_s": [], "places": places}));
    let mut request = Request::from_value(request).unwrap();
    // JSON has no NaN for a time.
    request.log_mut().unwrap().elapsed_s = Some(log.elapsed_s.clone());
    evaluate(&request).unwrap()
}

fn record(response: Response) -> RecordVerdict {
    match response {
        Response::CheckCookingLog(answer)
        | Response::CheckCoolingLog(answer)
        | Response::CheckHoldingLog(answer)
        | Response::CheckReheatingLog(answer)
        | Response::CheckThawingLog(answer) => answer.answer,
        other => panic!("{other:?}"),
    }
}

fn questions() -> Vec<Value> {
    vec![
        json!({"check": "cooking"}),
        json!({"check": "cooking", "standard": "uk", "accuracy": "0.5 delta_degC"}),
        json!({"check": "cooling", "standard": "us-food-code-2022"}),
        json!({"check": "holding", "holding": "hot", "standard": "us-food-code-2022"}),
        json!({"check": "holding", "holding": "out"}),
        json!({"check": "reheating"}),
        json!({"check": "thawing", "method": "refrigerator"}),
    ]
}

#[test]
fn every_log_of_a_batch_is_judged_as_it_is_alone() {
    let logs = logs();
    let mut seen = Vec::new();
    for question in questions() {
        let answer = judge(&question, &logs);
        let kind = format!("check_{}_log", question["check"].as_str().unwrap());
        for (at, log) in logs.iter().enumerate() {
            let single = record(alone(&kind, &question, log));
            assert_eq!(answer.verdict[at], single.verdict, "{question} {at}");
            seen.push(single.verdict);
            let deciding = single
                .findings
                .iter()
                .find(|f| f.finding.text == answer.reason[at] && f.place == answer.place[at])
                .unwrap();
            assert_eq!(deciding.finding.verdict, Some(single.verdict));
            assert_eq!(deciding.finding.rule, answer.rule[at]);
            let (kelvin, seconds) = match deciding.finding.margin {
                Some(Margin::Temperature(m)) => (m.as_kelvin(), f64::NAN),
                Some(Margin::Duration(m)) => (f64::NAN, m.as_seconds()),
                None => (f64::NAN, f64::NAN),
            };
            assert_eq!(answer.margin_K[at].to_bits(), kelvin.to_bits());
            assert_eq!(answer.margin_s[at].to_bits(), seconds.to_bits());
            if let Some(kill) = &single.lethality {
                let least = kill
                    .places
                    .iter()
                    .find(|p| p.place == kill.governing)
                    .unwrap();
                assert_eq!(
                    answer.reduction_log10[at],
                    least.estimate_less_uncertainty.as_log10()
                );
                let reached = kill
                    .places
                    .iter()
                    .map(|p| p.target_reached_less_uncertainty);
                let latest = reached
                    .collect::<Option<Vec<_>>>()
                    .and_then(|all| all.into_iter().max());
                let latest = latest.map_or(f64::NAN, poulter::units::Duration::as_seconds);
                assert_eq!(answer.target_reached_s[at].to_bits(), latest.to_bits());
            } else if kind == "check_cooking_log" {
                assert!(answer.reduction_log10[at].is_nan() && answer.fault[at].is_some());
            }
        }
    }
    for verdict in [Verdict::Meets, Verdict::Fails, Verdict::CannotTell] {
        assert!(seen.contains(&verdict), "{verdict:?}");
    }
}

#[test]
fn growth_beside_a_verdict_is_the_growth_asked_for_alone() {
    let logs = logs();
    let answer = judge(
        &json!({"check": "cooling", "standard": "us-food-code-2022"}),
        &logs,
    );
    let question = json!({"model": {"model": "perfringens-roasted-chicken"}});
    let mut compared = 0;
    for (at, log) in logs.iter().enumerate() {
        let Response::Growth(single) = alone("growth", &question, log) else {
            panic!()
        };
        match single.answer.growth {
            Some(growth) => {
                let most = growth.places.iter().map(|p| p.without_lag.as_log10());
                assert_eq!(answer.growth_log10[at], most.fold(0.0, f64::max));
                compared += 1;
            }
            None => assert!(answer.growth_log10[at].is_nan()),
        }
    }
    assert!(compared > 20);
}

fn bytes(answer: &LogVerdicts) -> String {
    serde_json::to_string(answer).unwrap()
}

#[test]
fn the_number_of_cores_and_the_layout_change_nothing() {
    let logs = logs();
    for question in questions() {
        let one = rayon::ThreadPoolBuilder::new()
            .num_threads(1)
            .build()
            .unwrap();
        let five = rayon::ThreadPoolBuilder::new()
            .num_threads(5)
            .build()
            .unwrap();
        let expected = bytes(&judge(&question, &logs));
        assert_eq!(one.install(|| bytes(&judge(&question, &logs))), expected);
        assert_eq!(five.install(|| bytes(&judge(&question, &logs))), expected);
        // Long, with the rows of all logs mixed: row by row, place by place.
        let (mut log, mut place, mut elapsed_s, mut temperatures) =
            (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        for row in 0..logs[1].elapsed_s.len() {
            for (number, one) in logs.iter().enumerate() {
                for (at, (_, readings)) in one.places.iter().enumerate() {
                    if let (Some(t), Some(x)) = (one.elapsed_s.get(row), readings.get(row)) {
                        log.push(u32::try_from(number).unwrap());
                        place.push(u32::try_from(at).unwrap());
                        elapsed_s.push(*t);
                        temperatures.push(*x);
                    }
                }
            }
        }
        let names: Vec<Place> = NAMES.iter().map(|n| Place::named(n).unwrap()).collect();
        let table = LogTable {
            rows: LogRows::Numbered {
                log: &log,
                logs: logs.len(),
            },
            elapsed_s: &elapsed_s,
            readings: TableReadings::Long {
                place: &place,
                names: &names,
                temperatures: &temperatures,
                unit: TemperatureUnit::Celsius,
            },
        };
        let long = LogsQuestion::from_value(question.clone()).unwrap();
        assert_eq!(bytes(&long.judge(&table).unwrap()), expected, "{question}");
    }
}

#[test]
fn a_place_without_a_row_of_its_own_cannot_be_told() {
    let names = [Place::named("core").unwrap(), Place::named("left").unwrap()];
    let judge = |place: &[u32], elapsed_s: &[f64]| {
        let temperatures = vec![80.0; place.len()];
        let table = LogTable {
            rows: LogRows::EndToEnd(&[0, place.len()]),
            elapsed_s,
            readings: TableReadings::Long {
                place,
                names: &names,
                temperatures: &temperatures,
                unit: TemperatureUnit::Celsius,
            },
        };
        let question = json!({"check": "cooking", "cut": "boneless-breast"});
        LogsQuestion::from_value(question)
            .unwrap()
            .judge(&table)
            .unwrap()
    };
    let whole = judge(&[0, 1, 0, 1], &[0.0, 0.0, 60.0, 60.0]);
    assert_eq!(whole.verdict, [Verdict::Meets]);
    let lacking = judge(&[0, 1, 0, 1, 0], &[0.0, 0.0, 60.0, 60.0, 120.0]);
    assert_eq!(
        (lacking.verdict[0], lacking.fault[0]),
        (Verdict::CannotTell, Some("no-reading"))
    );
    for uneven in [
        &[0.0, 0.0, 60.0, 50.0],
        &[0.0, 0.0, 60.0, 0.0],
        &[60.0, 0.0, 0.0, 60.0],
    ] {
        assert_eq!(
            judge(&[0, 1, 0, 1], uneven).verdict,
            [Verdict::CannotTell],
            "{uneven:?}"
        );
    }
}

#[test]
fn what_no_log_can_answer_is_refused_and_no_logs_give_no_rows() {
    let error = |question: Value| LogsQuestion::from_value(question).unwrap_err();
    assert_eq!(error(json!({})).field(), "check");
    assert_eq!(error(json!({"check": "cooking", "log": {}})).given(), "log");
    assert_eq!(
        error(json!({"check": "cooking", "standard": "mars"})).code(),
        302
    );
    assert_eq!(
        error(json!({"check": "cooking", "scheme": "poultry"})).field(),
        "scheme"
    );
    assert_eq!(
        error(json!({"check": "cooking", "model": "salmonella"})).field(),
        "model"
    );
    assert!(
        error(json!({"check": "holding"}))
            .to_string()
            .contains("holding")
    );
    assert!(judge(&json!({"check": "cooking"}), &[]).is_empty());
    let table = LogTable {
        rows: LogRows::EndToEnd(&[0, 2]),
        elapsed_s: &[0.0, 1.0],
        readings: TableReadings::Columns(&[ColumnSlice {
            place: Place::CORE,
            unit: TemperatureUnit::Celsius,
            temperatures: &[60.0, 60.0],
        }]),
    };
    // Homes in the United States have no cooling stages.
    let question = LogsQuestion::from_value(json!({"check": "cooling"})).unwrap();
    assert_eq!(question.judge(&table).unwrap_err().field(), "standard");
}

proptest! {
    #[test]
    fn less_data_never_turns_into_a_pass(
        rows in proptest::collection::vec((1_u32..300, 0_u32..9000), 2..40),
        lost in proptest::collection::vec(any::<prop::sample::Index>(), 1..4),
        hot in any::<bool>(),
    ) {
        let mut now = 0.0;
        let (mut t, mut x) = (Vec::new(), Vec::new());
        for (step, reading) in rows {
            now += f64::from(step);
            t.push(now);
            x.push(f64::from(reading) / 100.0);
        }
        let log = |x: &[f64]| Log {
            elapsed_s: t.clone(),
            places: NAMES.iter().map(|name| (*name, x.to_vec())).collect(),
        };
        let mut less = x.clone();
        for index in lost {
            less[index.index(x.len())] = f64::NAN;
        }
        let question = if hot {
            json!({"check": "cooking"})
        } else {
            json!({"check": "cooling", "standard": "us-food-code-2022"})
        };
        let answer = judge(&question, &[log(&x), log(&less)]);
        prop_assert!(answer.verdict[1] != Verdict::Meets, "{:?}", answer.reason);
    }
}
