//! The steps of the chosen chain: when, how long, what to do and what to write down.

use crate::answer::{Basis, TimeEstimate};
use crate::bird::{Place, State};
use crate::brine::{Brine, BrineMethod};
use crate::messages::{fill, say};
use crate::rules::{Requirement, Stage, Topic};
use crate::serve;
use crate::thaw::ThawMethod;
use crate::units::{Duration, DurationUnit, UnitSystem};

use super::chain::{Span, Timing};
use super::findings;
use super::hours::Hours;
use super::model;
use super::moment::Moment;
use super::order::Order;
use super::raw::fresh_window;
use super::setup::Setup;
use super::step::Draft;
use super::stretch::roast_query;
use super::types::{Plan, Record, Repeat, Resource, Step, Window};

pub(super) const fn minutes(count: i64) -> Duration {
    Duration::from_steps(count * 60_000, DurationUnit::Minute)
}

/// What every step is written with.
pub(super) struct Sheet<'p, 'b> {
    pub(super) plan: &'p mut Plan,
    pub(super) order: &'p Order,
    pub(super) setup: &'p Setup<'b>,
    pub(super) basis: Basis<'b>,
}

impl<'b> Sheet<'_, 'b> {
    pub(super) fn units(&self) -> UnitSystem {
        self.plan.units
    }

    pub(super) fn fixed(at: &Moment) -> Window {
        Window {
            earliest: at.clone(),
            planned: at.clone(),
            latest: at.clone(),
        }
    }

    /// The limit of a temperature rule in words, with the rule's id.
    pub(super) fn limit_of(&mut self, topic: Topic) -> (String, Option<String>) {
        match self.basis.find(topic) {
            Some(rule) => {
                let words = match &rule.requirement {
                    Requirement::MinimumTemperature {
                        limit,
                        hold: Some(hold),
                        ..
                    } => fill(
                        "limit-held-for",
                        &[("limit", &limit.shown()), ("hold", &hold.shown())],
                    ),
                    Requirement::Temperature { limit }
                    | Requirement::MinimumTemperature { limit, .. } => limit.shown(),
                    Requirement::Time { limit, .. } => limit.shown(),
                    _ => rule.said().unwrap_or_default(),
                };
                (words, Some(rule.id.clone()))
            }
            None => (say("no-row").to_owned(), None),
        }
    }

    pub(super) fn record(
        &mut self,
        what: &str,
        place: Option<Place>,
        topic: Topic,
        otherwise: &str,
    ) -> Record {
        let (limit, rule) = self.limit_of(topic);
        Record {
            what: what.to_owned(),
            place,
            limit,
            otherwise: otherwise.to_owned(),
            rule,
        }
    }

    fn refrigerator_check(&mut self) -> Record {
        self.record(
            say("record-refrigerator"),
            None,
            Topic::StorageRefrigerator,
            say("mend-refrigerator"),
        )
    }

    /// Only a standard that sets a temperature for the water gets a blank for it.
    fn water_check(&mut self) -> Option<Record> {
        let rule = self.basis.find(Topic::ThawWaterTemperature)?;
        matches!(rule.requirement, Requirement::Temperature { .. }).then(|| {
            self.record(
                say("record-water"),
                None,
                Topic::ThawWaterTemperature,
                say("mend-water"),
            )
        })
    }

    pub(super) fn buy(&mut self, timing: &Timing<'b>) -> Option<Step> {
        let standing = &self.setup.standing;
        if !self.setup.to_buy || standing.bought.is_some() || standing.has_begun() {
            return None;
        }
        let next = timing
            .brine_start
            .as_ref()
            .map_or(&timing.prepare_start, |brine| &brine.planned);
        let latest = match timing.combination.state {
            State::Frozen | State::PartFrozen => timing.thaw_start.planned.clone(),
            State::Fresh | State::Thawed => next.clone(),
        };
        let (window, fresh) = fresh_window(&mut self.basis);
        let earliest = match timing.combination.state {
            State::Frozen | State::PartFrozen => latest.days_later(-7),
            State::Fresh | State::Thawed => timing.oven_in.planned.before(fresh),
        };
        let earliest = match &self.order.now {
            Some(now) if *now > earliest => now.in_zone_of(&earliest),
            _ => earliest,
        };
        let earliest = earliest.min(latest.clone());
        let planned = Hours::of(self.order)
            .before(&latest.before(minutes(120)))
            .max(earliest.clone());
        let birds = self.plan.bird.in_words(self.units());
        let title = fill("step-buy", &[("birds", &birds)]);
        let mut draft = Draft::new(
            "buy",
            Stage::Purchase,
            title,
            Window {
                earliest,
                planned,
                latest,
            },
            TimeEstimate::exactly(minutes(60)),
        );
        draft.occupies(&[Resource::Cook]);
        draft.say(say("do-buy-last"));
        draft.follow(
            &mut self.basis,
            &[window, Topic::PurchaseStuffedBird, Topic::StorageSenses],
        );
        Some(draft.done())
    }

    /// A meal kit is taken in when it comes; nothing where it came before now.
    pub(super) fn take_in(&mut self) -> Option<Step> {
        let kit = self.order.kit.as_ref()?;
        let standing = &self.setup.standing;
        let came = self
            .order
            .now
            .as_ref()
            .is_some_and(|now| *now > kit.delivered);
        if came || standing.bought.is_some() || standing.has_begun() {
            return None;
        }
        let at = kit.delivered.in_zone_of(&self.order.serve_at);
        let mut draft = Draft::new(
            "take-in",
            Stage::Storage,
            say("step-take-in").to_owned(),
            Self::fixed(&at),
            TimeEstimate::exactly(minutes(10)),
        );
        draft.occupies(&[Resource::Cook, Resource::Refrigerator]);
        draft.say(say("do-open-kit"));
        draft.say(say("do-shelve-kit"));
        draft.say(&fill(
            "do-date-kit",
            &[("date", &kit.use_by.strftime("%a %-d %b %Y"))],
        ));
        let check = self.record(
            say("record-kit"),
            None,
            Topic::StorageRefrigerator,
            say("mend-kit"),
        );
        draft.check(check);
        draft.follow(&mut self.basis, &[Topic::StorageSenses]);
        Some(draft.done())
    }

    pub(super) fn thaw(&mut self, timing: &Timing<'b>) -> Option<Step> {
        let thaw = timing.thaw.as_ref()?;
        if thaw.method == ThawMethod::FromFrozen {
            return None;
        }
        let mut draft = Draft::new(
            "thaw",
            Stage::Thaw,
            fill("step-thaw", &[("method", &thaw.method.words())]),
            window(&timing.thaw_start),
            timing.thaw_time,
        );
        draft.rules(&thaw.rules);
        draft.model(timing.thaw_model);
        let begins_later = |now: &Moment| *now < timing.thaw_start.planned;
        if self.setup.is_thawing(timing.combination)
            && self.setup.not_before().is_none_or(begins_later)
        {
            draft.say(say("do-stay-thawing"));
        }
        for text in &thaw.to_do {
            draft.say(text);
        }
        match thaw.method {
            ThawMethod::Refrigerator => {
                draft.occupies(&[Resource::Refrigerator]);
                draft.say(say("do-shelve-bird"));
                draft.say(say("do-tell-thawed"));
                let check = self.refrigerator_check();
                draft.check(check);
            }
            ThawMethod::ColdWater | ThawMethod::RunningWater => {
                draft.occupies(&[Resource::Sink, Resource::Cook]);
                if let Some(every) = thaw.water_change_every {
                    draft.repeat(Repeat {
                        every,
                        what: say("do-change-water").to_owned(),
                    });
                }
                if let Some(water) = self.water_check() {
                    draft.check(water);
                }
            }
            _ => draft.occupies(&[Resource::Cook]),
        }
        if thaw.method == ThawMethod::Refrigerator {
            draft.follow(&mut self.basis, &[Topic::ThawKeepAfterRefrigerator]);
        }
        draft.follow(
            &mut self.basis,
            &[Topic::ThawRefreeze, Topic::ThawForbidden],
        );
        Some(draft.done())
    }

    pub(super) fn brine(&mut self, timing: &Timing<'b>, brine: Option<&Brine>) -> Option<Step> {
        let span = timing.brine_start.as_ref()?;
        let wet = timing.combination.brine == BrineMethod::Wet;
        let end = if wet {
            &timing.prepare_start
        } else {
            &timing.oven_in.planned
        };
        let duration = TimeEstimate {
            low: end.since(&span.latest),
            likely: end.since(&span.planned),
            // Once started it stays until the end, which is fixed.
            high: end.since(&span.planned),
        };
        let title = if wet {
            say("step-brine-wet")
        } else {
            say("step-brine-dry")
        };
        let mut draft = Draft::new(
            "brine",
            Stage::Brine,
            title.to_owned(),
            window(span),
            duration,
        );
        draft.occupies(&[Resource::Refrigerator, Resource::Cook]);
        if self.setup.cut.is_bird() {
            draft.say(say("do-take-out-giblets"));
        }
        if let Some(brine) = brine {
            self.say_brine(&mut draft, brine);
        }
        let topics: &[Topic] = if wet {
            &[
                Topic::BrineVessel,
                Topic::BrineTemperature,
                Topic::BrineWetLimit,
                Topic::BrineReuse,
            ]
        } else {
            &[Topic::BrineDryLimit]
        };
        draft.follow(&mut self.basis, topics);
        let check = if wet {
            self.record(
                say("record-brine"),
                None,
                Topic::BrineTemperature,
                say("mend-brine"),
            )
        } else {
            self.refrigerator_check()
        };
        draft.check(check);
        Some(draft.done())
    }

    pub(super) fn prepare(&mut self, timing: &Timing<'b>) -> Step {
        let start = &timing.prepare_start;
        let mut draft = Draft::new(
            "prepare",
            Stage::Prepare,
            say("step-prepare").to_owned(),
            Window {
                earliest: start.before(minutes(30)),
                planned: start.clone(),
                latest: start.clone(),
            },
            TimeEstimate {
                low: minutes(20).min(self.setup.prepare(timing.combination)),
                likely: minutes(30).min(self.setup.prepare(timing.combination)),
                high: self.setup.prepare(timing.combination),
            },
        );
        draft.occupies(&[Resource::Cook]);
        draft.follow(
            &mut self.basis,
            &[
                Topic::PrepareHands,
                Topic::PrepareWash,
                Topic::PrepareGiblets,
                Topic::PrepareSeparate,
            ],
        );
        if timing.combination.brine != BrineMethod::None {
            draft.follow(&mut self.basis, &[Topic::BrineRinse]);
            draft.say(say("do-add-no-salt"));
        }
        draft.follow(&mut self.basis, &[Topic::PrepareDrySkin, Topic::PrepareFat]);
        if self.setup.stuffed {
            draft.follow(
                &mut self.basis,
                &[Topic::PrepareStuffing, Topic::PrepareStuffingAmount],
            );
        }
        draft.follow(&mut self.basis, &[Topic::PrepareSanitiser]);
        draft.done()
    }

    pub(super) fn roast(&mut self, timing: &Timing<'b>) -> Step {
        let mut draft = Draft::new(
            "roast",
            Stage::Roast,
            say("step-roast").to_owned(),
            window(&timing.oven_in),
            timing.roast_time,
        );
        draft.occupies(&[Resource::Oven]);
        draft.rules(&timing.roast.rules);
        draft.model(timing.roast_model);
        let units = self.units();
        for phase in &timing.roast.oven {
            let dial = if phase.dial == phase.air {
                fill("set-oven", &[("oven", &units.oven_setting(phase.dial))])
            } else {
                fill(
                    "set-dial",
                    &[
                        ("dial", &units.oven_setting(phase.dial)),
                        ("oven", &units.oven_setting(phase.air)),
                    ],
                )
            };
            draft.say(&match phase.time {
                Some(time) => fill(
                    "do-set-at-first",
                    &[("dial", &dial), ("time", &time.shown())],
                ),
                None => fill("do-set-until-done", &[("dial", &dial)]),
            });
        }
        for text in timing.roast.to_do.iter().chain(&timing.roast.notes) {
            draft.say(text);
        }
        draft.say(self.setup.oven.position(self.setup.cut));
        if timing.combination.thaw == Some(ThawMethod::FromFrozen) {
            draft.say(say("do-take-out-packs"));
        }
        // A standard without a lowest oven has no limit to measure against.
        if self.basis.find(Topic::RoastOven).is_some() {
            let oven = self.record(say("record-oven"), None, Topic::RoastOven, say("mend-oven"));
            draft.check(oven);
        }
        draft.follow(&mut self.basis, &[Topic::PreparePartCook]);
        draft.done()
    }

    pub(super) fn measure(&mut self, timing: &Timing<'b>) -> Step {
        let into = &timing.oven_in;
        let start = into.planned.after(timing.roast_time.low);
        let until_done = timing.roast_time.high.minus(timing.roast_time.low);
        let mut draft = Draft::new(
            "measure",
            Stage::Doneness,
            say("step-measure").to_owned(),
            Window {
                earliest: into.earliest.after(timing.roast_time.low),
                planned: start,
                latest: into.latest.after(timing.roast_time.low),
            },
            TimeEstimate {
                low: Duration::ZERO,
                likely: timing.roast_time.likely.minus(timing.roast_time.low),
                high: until_done,
            },
        );
        draft.occupies(&[Resource::Cook]);
        draft.repeat(Repeat {
            every: minutes(20),
            what: say("do-measure-again").to_owned(),
        });
        draft.follow(
            &mut self.basis,
            &[Topic::DonenessProbe, Topic::DonenessSigns],
        );
        let topic = findings::doneness_topic(self.setup.cut);
        let places = match self.basis.find(topic).map(|rule| &rule.requirement) {
            Some(Requirement::MinimumTemperature { places, .. }) if !places.is_empty() => {
                places.clone()
            }
            _ => vec![Place::Thickest],
        };
        for place in places {
            let record = self.record(place.says(), Some(place), topic, say("mend-not-done"));
            draft.check(record);
        }
        if self.setup.stuffed {
            let record = self.record(
                Place::Stuffing.says(),
                Some(Place::Stuffing),
                Topic::DonenessStuffing,
                say("mend-stuffing"),
            );
            draft.check(record);
        }
        draft.done()
    }

    pub(super) fn rest(&mut self, timing: &Timing<'b>) -> Step {
        let into = &timing.oven_in;
        let latest = timing.carve_start.before(timing.rest.low);
        let planned = into
            .planned
            .after(timing.roast_time.likely)
            .min(latest.clone());
        let mut draft = Draft::new(
            "rest",
            Stage::Serve,
            say("step-rest").to_owned(),
            Window {
                earliest: into
                    .planned
                    .after(timing.roast_time.low)
                    .min(planned.clone()),
                planned,
                latest,
            },
            timing.rest,
        );
        serve::resting(&mut self.basis, self.setup.mass, |basis| {
            draft.follow(basis, &[Topic::ServeRest]);
        });
        draft.say(say("do-only-when-done"));
        let query = roast_query(self.setup, timing.combination);
        if let Some(pull) = model::pull(self.setup, &query, &timing.roast.oven, timing.rest.likely)
        {
            let at = |time| into.planned.after(time).clock(self.plan.clock);
            draft.say(&fill(
                "do-pull",
                &[
                    ("reading", &self.units().temperature(pull.reading)),
                    ("likely", &at(timing.roast_time.likely)),
                    ("low", &at(timing.roast_time.low)),
                    ("high", &at(timing.roast_time.high)),
                    ("least", &pull.rise.low.shown()),
                    ("most", &pull.rise.high.shown()),
                ],
            ));
        }
        if timing.criteria.longest_hold > Duration::ZERO {
            draft.say(&fill(
                "do-hold-hot",
                &[("hold", &timing.criteria.longest_hold.shown())],
            ));
        }
        let place = if self.setup.cut.is_bird() {
            Place::Breast
        } else {
            Place::Thickest
        };
        let hold = self.record(
            say("record-held"),
            Some(place),
            Topic::HoldHot,
            say("mend-held"),
        );
        draft.check(hold);
        draft.follow(&mut self.basis, &[Topic::HoldHot, Topic::HoldHotTime]);
        draft.done()
    }

    pub(super) fn carve(&mut self, timing: &Timing<'b>) -> Step {
        let mut draft = Draft::new(
            "carve",
            Stage::Serve,
            say("step-carve").to_owned(),
            Window {
                earliest: timing.carve_start.before(minutes(15)),
                planned: timing.carve_start.clone(),
                latest: timing.carve_start.clone(),
            },
            timing.carve,
        );
        draft.occupies(&[Resource::Cook]);
        draft.say(say("do-carve-clean"));
        let bird = &self.plan.bird;
        if bird.count > 1 && bird.cut.is_bird() && self.order.class.is_none() {
            let all = |time: Duration| time.times_ratio(i64::from(bird.count), 1).shown();
            draft.say(&fill(
                "do-carve-several",
                &[
                    ("count", &bird.count),
                    ("low", &all(timing.carve.low)),
                    ("high", &all(timing.carve.high)),
                ],
            ));
        }
        if self.setup.stuffed {
            draft.follow(&mut self.basis, &[Topic::ServeStuffingOut]);
        }
        draft.done()
    }

    pub(super) fn serve(&mut self) -> Step {
        let mut draft = Draft::new(
            "serve",
            Stage::Serve,
            say("step-serve").to_owned(),
            Self::fixed(&self.order.serve_at),
            TimeEstimate::exactly(minutes(60)),
        );
        draft.follow(&mut self.basis, &[Topic::HoldOut, Topic::HoldOutHotDay]);
        draft.done()
    }
}

pub(super) fn window(span: &Span) -> Window {
    Window {
        earliest: span.earliest.clone(),
        planned: span.planned.clone(),
        latest: span.latest.clone(),
    }
}
