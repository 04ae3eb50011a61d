use super::*;
use crate::heat::ensemble::Truth;
use crate::heat::prior::{Member, draw};

fn query(members: u32) -> ForecastQuery {
    serde_json::from_value(serde_json::json!({
        "roast": {
            "species": "turkey", "mass": "12 lb", "start": "40 °F", "target": "73.9 °C",
            "oven": [{"temperature": "325 °F"}]
        },
        "probes": [{"place": "breast"}], "seed": 7, "members": members
    }))
    .unwrap()
}

/// Feeds a roast drawn from the same spreads, minute by minute with an error of 0.5 K that alternates, until this
/// share of it is over. Gives the forecast and the true time in minutes.
fn watch(forecast: &Forecast, truth: &Member, share: f64) -> Option<(TimeForecast, f64)> {
    let truth = Truth::new(&query(200).roast, Zone::Breast, truth);
    if truth.done_s.is_infinite() {
        return None;
    }
    let mut forecast = forecast.clone();
    let mut minute = 1.0;
    while minute * 60.0 <= share * truth.done_s {
        let error = if minute % 2.0 < 1.0 { 0.5 } else { -0.5 };
        let reading = truth.probe_at(minute * 60.0) + error;
        forecast
            .push(
                ProbePlace::Breast,
                Duration::from_minutes(minute).unwrap(),
                Temperature::from_celsius((reading * 1e3).round() / 1e3).unwrap(),
            )
            .unwrap();
        minute += 1.0;
    }
    Some((forecast.time_to_target().unwrap(), truth.done_s / 60.0))
}

/// Reference study with 80 synthetic roasts: after 55 % the median error was 6.0 min, after 85 % 3.0 min, with 81
/// and 91 % of the true times inside the 80 % band before widening. Fewer roasts and members here, so looser.
#[test]
fn the_band_covers_and_the_error_shrinks() {
    let forecast = Forecast::new(&query(1500)).unwrap();
    let truths = draw(99, 40);
    for (share, largest_median) in [(0.55, 9.0), (0.85, 5.0)] {
        let mut errors = Vec::new();
        let mut inside = 0.0;
        for truth in &truths {
            let Some((seen, minutes)) = watch(&forecast, truth, share) else {
                continue;
            };
            let band = seen.time_to_target.unwrap();
            errors.push((band.likely.as_minutes() - minutes).abs());
            if band.low.as_minutes() <= minutes && minutes <= band.high.as_minutes() {
                inside += 1.0;
            }
        }
        errors.sort_by(f64::total_cmp);
        let median = errors[errors.len() / 2];
        let covered = inside / errors.len() as f64;
        assert!(median < largest_median, "{share}: {median} min");
        assert!(covered >= 0.78, "{share}: {covered}");
    }
}

#[test]
fn weights_even_out_to_sixty() {
    let forecast = Forecast::new(&query(600)).unwrap();
    let (seen, _) = watch(&forecast, &draw(5, 1)[0], 0.8).unwrap();
    assert!(seen.tempered);
    assert!(
        (60..75).contains(&seen.effective_members),
        "{}",
        seen.effective_members
    );
    let before = forecast.time_to_target().unwrap();
    assert_eq!((before.tempered, before.effective_members), (false, 600));
}

#[test]
fn the_same_seed_gives_the_same_answer() {
    let [a, b] = [0, 1].map(|_| Forecast::new(&query(200)).unwrap());
    let truth = draw(3, 1)[0];
    assert_eq!(watch(&a, &truth, 0.6), watch(&b, &truth, 0.6));
}

#[test]
fn readings_that_fit_nothing_show_in_the_misfit() {
    let mut forecast = Forecast::new(&query(300)).unwrap();
    for minute in 1..=60 {
        let time = Duration::from_minutes(f64::from(minute)).unwrap();
        forecast
            .push(
                ProbePlace::Breast,
                time,
                Temperature::parse("0 °C").unwrap(),
            )
            .unwrap();
    }
    let misfit = forecast.time_to_target().unwrap().misfit;
    assert!(misfit.as_delta_celsius() > 3.0);
}

#[test]
fn pushes_are_refused_backwards_and_out_of_range() {
    let mut forecast = Forecast::new(&query(200)).unwrap();
    let minutes = |minutes| Duration::from_minutes(minutes).unwrap();
    let cool = Temperature::parse("10 °C").unwrap();
    forecast
        .push(ProbePlace::Breast, minutes(10.0), cool)
        .unwrap();
    for (time, fine) in [(9.999, false), (10.0, false), (10.001, true)] {
        assert_eq!(
            forecast
                .clone()
                .push(ProbePlace::Breast, minutes(time), cool)
                .is_ok(),
            fine,
            "{time}"
        );
    }
    for (reading, fine) in [
        ("-30.001 °C", false),
        ("-30 °C", true),
        ("350 °C", true),
        ("350.001 °C", false),
    ] {
        let pushed = forecast.clone().push(
            ProbePlace::Breast,
            minutes(20.0),
            Temperature::parse(reading).unwrap(),
        );
        assert_eq!(pushed.is_ok(), fine, "{reading}");
    }
    let end = forecast.ensemble.horizon_s / 60.0;
    for (time, fine) in [(end - 0.001, true), (end, true), (end + 0.001, false)] {
        assert_eq!(
            forecast
                .clone()
                .push(ProbePlace::Breast, minutes(time), cool)
                .is_ok(),
            fine,
            "{time}"
        );
    }
}

#[test]
fn ensembles_are_refused_out_of_range() {
    for (members, fine) in [(199, false), (200, true), (10_001, false)] {
        assert_eq!(Forecast::new(&query(members)).is_ok(), fine, "{members}");
    }
    let mut frozen = query(200);
    frozen.roast.start = Temperature::parse("-2.801 °C").unwrap();
    let error = Forecast::new(&frozen).unwrap_err();
    assert_eq!(
        (error.kind(), error.field()),
        (ErrorKind::ModelRange, "roast.start")
    );
    let mut elsewhere = query(200);
    elsewhere.probes[0].place = ProbePlace::Stuffing;
    let error = Forecast::new(&elsewhere).unwrap_err();
    assert_eq!(
        (error.kind(), error.field()),
        (ErrorKind::UnknownValue, "probes[0].place")
    );
}

/// A roast of twelve pounds, minute by minute with no error; `change` alters what is read.
fn read(forecast: &Forecast, until_min: u32, change: impl Fn(u32, f64) -> Option<f64>) -> Forecast {
    let truth = Truth::new(&query(200).roast, Zone::Breast, &draw(21, 1)[0]);
    let mut forecast = forecast.clone();
    for minute in 1..=until_min {
        let elapsed = Duration::from_minutes(f64::from(minute)).unwrap();
        if let Some(celsius) = change(minute, truth.probe_at(f64::from(minute) * 60.0)) {
            let reading = Temperature::from_celsius((celsius * 10.0).round() / 10.0).unwrap();
            forecast.push(ProbePlace::Breast, elapsed, reading).unwrap();
        }
    }
    forecast
}

fn troubles(forecast: &Forecast) -> Vec<(ProbeTrouble, f64, Option<f64>)> {
    let found = forecast.time_to_target().unwrap().findings;
    found
        .iter()
        .map(|f| {
            (
                f.trouble,
                f.at.as_minutes(),
                f.until.map(Duration::as_minutes),
            )
        })
        .collect()
}

/// Thirty truths read without trouble raise none.
#[test]
fn a_sound_roast_raises_no_finding() {
    let forecast = Forecast::new(&query(1000)).unwrap();
    let mut raised = 0;
    for truth in draw(77, 30) {
        if let Some((seen, _)) = watch(&forecast, &truth, 0.9) {
            let own = |f: &ProbeFinding| f.trouble != ProbeTrouble::UnlikeAny;
            raised += usize::from(seen.findings.iter().any(own));
        }
    }
    assert!(raised <= 1, "{raised} of 30");
}

#[test]
fn a_probe_that_was_pulled_out_is_kept_out_until_it_is_back() {
    let forecast = Forecast::new(&query(600)).unwrap();
    let sound = read(&forecast, 90, |_, t| Some(t))
        .time_to_target()
        .unwrap();
    let out = |minute: u32, t: f64| {
        Some(if (60..65).contains(&minute) {
            25.0_f64.min(t - 10.0)
        } else {
            t
        })
    };
    for (change, name) in [
        (
            Box::new(out) as Box<dyn Fn(u32, f64) -> Option<f64>>,
            "room",
        ),
        (
            Box::new(|m, t| Some(if (60..65).contains(&m) { 160.0 } else { t })),
            "oven",
        ),
    ] {
        let now = read(&forecast, 62, &change);
        assert_eq!(
            troubles(&now),
            [(ProbeTrouble::PulledOut, 60.0, None)],
            "{name}"
        );
        let before = read(&forecast, 59, |_, t| Some(t))
            .time_to_target()
            .unwrap();
        let (now, before) = (
            now.time_to_target().unwrap().time_to_target.unwrap(),
            before.time_to_target.unwrap(),
        );
        assert!(
            now.high >= before.high && now.low.as_minutes() <= before.low.as_minutes().max(62.0),
            "{name}"
        );
        let back = read(&forecast, 90, &change);
        assert_eq!(
            troubles(&back),
            [(ProbeTrouble::PulledOut, 60.0, Some(65.0))],
            "{name}"
        );
        let again = back.time_to_target().unwrap().time_to_target.unwrap();
        let sound = sound.time_to_target.unwrap();
        assert!(
            (again.likely.as_minutes() - sound.likely.as_minutes()).abs() <= 5.0,
            "{name}"
        );
    }
}

#[test]
fn a_probe_on_bone_never_shortens_the_forecast() {
    let forecast = Forecast::new(&query(600)).unwrap();
    let sound = read(&forecast, 40, |_, t| Some(t));
    let bone = read(&forecast, 40, |minute, _| {
        Some(4.4 + 2.5 * f64::from(minute))
    });
    let found = bone.time_to_target().unwrap();
    assert_eq!(found.findings[0].trouble, ProbeTrouble::TouchesBone);
    assert_eq!(found.findings[0].until, None);
    let (bone, sound) = (
        found.time_to_target.unwrap(),
        sound.time_to_target().unwrap().time_to_target.unwrap(),
    );
    assert!(bone.high >= sound.high, "{bone:?} {sound:?}");
    assert!(found.places[0].ahead.is_empty());
}

#[test]
fn a_core_that_stops_rising_has_no_time_until_it_rises_again() {
    let forecast = Forecast::new(&query(600)).unwrap();
    let truth = Truth::new(&query(200).roast, Zone::Breast, &draw(21, 1)[0]);
    let held = truth.probe_at(70.0 * 60.0);
    let off = read(&forecast, 110, |minute, t| {
        Some(if minute > 70 { held } else { t })
    });
    let found = off.time_to_target().unwrap();
    assert_eq!(found.cannot_tell, Some(NoForecast::OvenOff));
    assert_eq!(found.time_to_target, None);
    assert!(troubles(&off).iter().any(|f| f.0 == ProbeTrouble::OvenOff));
    let on = read(&forecast, 150, |minute, t| {
        let late = truth.probe_at(f64::from(minute.saturating_sub(40)) * 60.0);
        Some(if minute > 110 {
            late
        } else if minute > 70 {
            held
        } else {
            t
        })
    });
    let later = on.time_to_target().unwrap().time_to_target.unwrap();
    let sound = read(&forecast, 110, |_, t| Some(t))
        .time_to_target()
        .unwrap();
    assert!(later.high > sound.time_to_target.unwrap().high);
}

/// An oven at 325 °F is 162.8 °C: open from 122.8 °C down, and itself again from 142.8 °C up.
#[test]
fn a_door_is_open_just_under_and_not_at_its_limit() {
    let mut with_air = query(300);
    with_air.probes.push(ProbeTrace {
        place: ProbePlace::Oven,
        readings: Vec::new(),
    });
    let forecast = Forecast::new(&with_air).unwrap();
    let minutes = |minutes| Duration::from_minutes(minutes).unwrap();
    let setting = Temperature::parse("325 °F").unwrap().as_celsius();
    for (minute, below, opened) in [
        (25.0, 40.001, true),
        (25.0, 39.999, false),
        (19.999, 100.0, false),
        (20.0, 100.0, true),
    ] {
        let mut forecast = forecast.clone();
        let air = Temperature::from_celsius(((setting - below) * 1e4).round() / 1e4).unwrap();
        forecast
            .push(ProbePlace::Oven, minutes(minute), air)
            .unwrap();
        assert_eq!(
            troubles(&forecast).len(),
            usize::from(opened),
            "{minute} {below}"
        );
    }
    let shut = |forecast: &Forecast, minute: f64, celsius: f64| {
        let mut forecast = forecast.clone();
        forecast
            .push(
                ProbePlace::Oven,
                minutes(minute),
                Temperature::from_celsius(celsius).unwrap(),
            )
            .unwrap();
        forecast
    };
    let before = forecast.time_to_target().unwrap().time_to_target.unwrap();
    let open = shut(&forecast, 30.0, 90.0);
    let closed = shut(&open, 34.0, 150.0);
    assert_eq!(
        troubles(&closed),
        [(ProbeTrouble::DoorOpened, 30.0, Some(34.0))]
    );
    let after = closed.time_to_target().unwrap().time_to_target.unwrap();
    assert!((after.high.as_minutes() - before.high.as_minutes() - 4.0).abs() <= 1.0);
    assert_eq!(after.low, before.low.max(minutes(34.0)));
    for (minute, trouble) in [
        (44.9, ProbeTrouble::DoorOpened),
        (45.0, ProbeTrouble::OvenOff),
        (45.1, ProbeTrouble::OvenOff),
    ] {
        let off = shut(&open, minute, 80.0);
        assert_eq!(troubles(&off)[0].0, trouble, "{minute}");
        let tells = off.time_to_target().unwrap().time_to_target.is_some();
        assert_eq!(tells, trouble == ProbeTrouble::DoorOpened);
    }
}

/// Two probes know more than one; all places together are never done before one of them.
#[test]
fn several_places_are_done_when_the_last_is() {
    let mut two = query(600);
    two.probes.push(ProbeTrace {
        place: ProbePlace::Thigh,
        readings: Vec::new(),
    });
    let seen = Forecast::new(&two).unwrap().time_to_target().unwrap();
    let all = seen.time_to_target.unwrap();
    assert_eq!(seen.places.len(), 2);
    for place in &seen.places {
        let own = place.time_to_target.unwrap();
        assert!(
            all.likely >= own.likely && all.high >= own.high,
            "{:?}",
            place.place
        );
    }
    two.probes.push(ProbeTrace {
        place: ProbePlace::Thigh,
        readings: Vec::new(),
    });
    let error = Forecast::new(&two).unwrap_err();
    assert_eq!(
        (error.kind(), error.field()),
        (ErrorKind::Conflict, "probes[2].place")
    );
}

#[test]
fn readings_ahead_hold_what_comes() {
    let forecast = Forecast::new(&query(1000)).unwrap();
    let truth = Truth::new(&query(200).roast, Zone::Breast, &draw(21, 1)[0]);
    let seen = read(&forecast, 75, |_, t| Some(t))
        .time_to_target()
        .unwrap();
    assert!(seen.places[0].ahead.len() >= 2);
    for ahead in &seen.places[0].ahead {
        let celsius = truth.probe_at(ahead.elapsed.as_seconds());
        assert!(
            ahead.low.as_celsius() - 0.1 <= celsius && celsius <= ahead.high.as_celsius() + 0.1,
            "{ahead:?} {celsius}"
        );
    }
}

/// The study behind [`coverage`] with 60 roasts of its 200 and a third of the members, so looser. A reference study of 80
/// roasts with the same spreads had 80, 81 and 88 % inside its bands before they were widened by 1.3.
#[test]
fn the_bands_cover_about_as_often_as_they_say() {
    let forecast = Forecast::new(&query(1000)).unwrap();
    let truths = draw(4321, 60);
    for share in [0.25, 0.55, 0.70] {
        let (mut count, mut inside) = (0.0, 0.0);
        for truth in &truths {
            let Some((seen, minutes)) = watch(&forecast, truth, share) else {
                continue;
            };
            count += 1.0;
            let band = seen.time_to_target;
            if band.is_some_and(|band| {
                band.low.as_minutes() <= minutes && minutes <= band.high.as_minutes()
            }) {
                inside += 1.0;
            }
        }
        let covered = 100.0 * inside / count;
        let said = coverage::at(share).covered.as_percent();
        assert!(covered >= 80.0, "{share}: {covered} %");
        assert!(
            (covered - said).abs() <= 10.0,
            "{share}: {covered} %, {said} % said"
        );
    }
}
